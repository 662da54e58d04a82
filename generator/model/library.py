"""Everything under `procedures/`, read once: data tables, cautions, sources and cards."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches
from functools import cached_property, reduce
from pathlib import Path
from typing import Any, TypeVar

from ..errors import Fault, Faults
from ..formula import FORMULARY, Stock
from ..language import ENGLISH, Language, read_language, speaking, speaks, tr
from ..shipped import PROCEDURES
from ..units import LENGTH_UNIT, SYSTEMS, QuantityError, System, clip, read_quantity
from .chooser import Chooser
from .home import Home
from .jobsheet import JobSheet, ShopSizes
from .kinds import RESERVED
from .own_shop import OwnShop
from .quantity import Gift
from .schema import (
    DEFAULTS,
    DRILL_CHOICES,
    SHARED_IN,
    Alike,
    Card,
    Caution,
    Cautions,
    Decided,
    Designers,
    Drawings,
    DrawingWords,
    Drills,
    DrillStock,
    Given,
    Groups,
    Inputs,
    Row,
    Rows,
    Series,
    Shared,
    Sheet,
    Shop,
    Shops,
    Source,
    Sources,
    Strict,
    Table,
    Thread,
    Threads,
    overlaid,
    parse,
    said_of,
)
from .search import SearchWords
from .series import TestSeries
from .yaml_text import Document, Path_, laid_over, read_document, texts_in

M = TypeVar("M", bound=Strict)


@dataclass(frozen=True)
class Choice:
    """An input that is chosen from a data table instead of being typed as a number: the table, and its rows as this
    input takes them. `stock` is the list of sizes that a row brings along."""

    table: str
    rows: dict[str, Row]
    stock: str = ""

    @cached_property
    def gives_the_size(self) -> bool:
        """Whether a row of it gives the thread's diameter."""
        return any("d" in row.gives for row in self.rows.values())


# The data tables that have a form of their own.
FORMS = ("threads", "drills", "shops", "shop_sizes")
# Inputs that are neither a symbol nor a row of a table.
SPECIAL = ("thread", "shop", "ratio")


@dataclass(repr=False)  # it would run to millions of signs where a check fails that holds one
class Library:
    """The typed content of `procedures/`, with the documents it was read from for messages.

    `layers` are the folders it was read from, the later over the earlier.
    """

    layers: tuple[Path, ...]
    # The units that the site's own settings choose for all of it, where they choose one.
    site_units: System | None = None
    shop_file: OwnShop | None = None
    dated: date = date.min
    sources: dict[str, Source] = field(default_factory=dict)
    cautions: dict[str, Caution] = field(default_factory=dict)
    designers: dict[str, Decided] = field(default_factory=dict)
    groups: Groups = field(default_factory=Groups)
    alike: Alike | None = None
    tables: dict[str, dict[str, Row]] = field(default_factory=dict)
    choices: dict[str, Choice] = field(default_factory=dict)
    constants: list[str] = field(default_factory=list)
    shops: dict[str, Shop] = field(default_factory=dict)
    series: dict[str, Series] = field(default_factory=dict)
    stock: list[DrillStock] = field(default_factory=list)
    drawings: dict[str, DrawingWords] = field(default_factory=dict)
    inputs: dict[str, Given] = field(default_factory=dict)
    shared: Shared = field(default_factory=Shared)
    cards: dict[str, Card] = field(default_factory=dict)
    reference: dict[str, Table] = field(default_factory=dict)
    job_sheets: dict[str, JobSheet] = field(default_factory=dict)
    # Job sheets that cannot be read or planned, with the reasons: nothing else waits for them.
    spoilt: dict[str, list[Fault]] = field(default_factory=dict)
    shop_sizes: ShopSizes | None = None
    chooser: Chooser | None = None
    search: SearchWords | None = None
    home: Home | None = None
    series_pulled: dict[str, TestSeries] = field(default_factory=dict)
    # What a later room worked out of all this, kept so that it is done once.
    kept: dict[str, dict[str, Any]] = field(default_factory=dict, repr=False, compare=False)
    documents: dict[str, Document] = field(default_factory=dict)
    # Every text of the folders that lie over the first.
    own_texts: set[str] = field(default_factory=set)
    # What does not stop a build; and files that ship but have no place in one's own shop.
    minded: list[Fault] = field(default_factory=list)
    left_out: set[str] = field(default_factory=set)
    # Sheets that come set as they ship, for their shop has defaults that they cannot be worked with.
    as_shipped: set[str] = field(default_factory=set)

    @property
    def root(self) -> Path:
        """The folder that is edited: the last one."""
        return self.layers[-1]

    @cached_property
    def book(self) -> Library:
        """The same with what ships over what is one's own. Published values are compared with this: they hold for the
        data that were published, whatever hangs on one's own wall."""
        laid = len(self.layers) > 1 or self.shop_file
        return load(self.layers, self.site_units, by_the_book=True) if laid else self

    def in_the_book(self, sheet: Sheet) -> Sheet:
        """The sheet as it is worked by the book."""
        if self.book is self:
            return sheet
        name = next((name for name, one in self.sheets() if one is sheet), "")
        return dict(self.book.sheets()).get(name, sheet)

    def set_back(self, name: str, sheet: Sheet) -> None:
        """Put another sheet in the place of one, by the name of its file."""
        sheets: dict[str, Any] = self.cards if name.startswith("cards/") else self.reference
        sheets[Path(name).stem] = sheet
        self.as_shipped.add(name)
        self.kept.clear()

    def ships(self, name: str) -> bool:
        """Whether a page's file is not one's own to mend, but of a folder below."""
        return len(self.layers) > 1 and not self.documents[name].file.startswith(f"{self.root.name}/")

    def mind(self, name: str, message: str) -> None:
        """Something to be told that does not stop a build."""
        self.minded.append(self.documents[name].fault((), message))

    def leave_out(self, name: str, why: Fault) -> None:
        """Keep a file from becoming a page."""
        if name not in self.left_out:
            self.left_out.add(name)
            self.spoilt.pop(name.removeprefix("jobs/").removesuffix(".yaml"), None)
            self.mind(name, f"is left out, because it cannot be worked in this shop: {why}")

    def sheets(self) -> Iterator[tuple[str, Sheet]]:
        """Every card and reference table with the name of its file."""
        for folder, sheets in (("cards", self.cards), ("tables", self.reference)):
            for name, sheet in sheets.items():
                yield f"{folder}/{name}.yaml", sheet

    def threads(self) -> Iterator[tuple[str, Series, Thread]]:
        """Every thread with its series."""
        for name, series in self.series.items():
            for thread in series.rows:
                yield name, series, thread

    @cached_property
    def always_given(self) -> list[Gift]:
        """What the tables without an input give to every job."""
        return [row.always for table in self.constants for row in self.tables[table].values()]

    @cached_property
    def constants_given(self) -> Gift:
        """All of that together."""
        together = Gift({}, {})
        for one in self.always_given:
            together.values.update(one.values)
            together.sources.update(one.sources)
        return together

    def constant(self, symbol: str) -> float:
        """The value of a constant (SI). Raises KeyError where no table without an input gives it."""
        return self.constants_given.values[symbol]

    @cached_property
    def thread_names(self) -> dict[str, tuple[Series, Thread]]:
        """Every thread with its series, by each of its names."""
        names: dict[str, tuple[Series, Thread]] = {}
        for _, series, thread in self.threads():
            for spelling in (thread.size, *thread.also):
                names.setdefault(thread_key(spelling), (series, thread))
        return names

    def thread(self, text: str) -> tuple[Series, Thread]:
        """The thread that a designation names. Raises QuantityError with near spellings."""
        found = self.thread_names.get(thread_key(text))
        if found:
            return found
        sizes = [thread.size for _, _, thread in self.threads()]
        close = get_close_matches(text, sizes, n=4, cutoff=0.4) or sizes[:4]
        raise QuantityError(f"thread '{clip(text)}' is not in the data; near it: {', '.join(close)}")

    def row(self, table: str, name: str) -> Row:
        """A row of a table. Raises QuantityError that lists what there is."""
        return _row_of(self.tables[table], table, name)

    def chosen(self, name: str, text: str) -> Row:
        """The row that an input chooses. Raises QuantityError that lists what there is."""
        return _row_of(self.choices[name].rows, self.choices[name].table, text)

    def gift(self, name: str, row: Row, d: float | None) -> Gift:
        """What a row of a choice gives for the thread's diameter. Raises QuantityError, which names what has that size
        where this row has not."""
        if row.by_d and not row.has_size(d):
            others = [one.title for one in self.choices[name].rows.values() if one.has_size(d)]
            if others:
                told = {"title": row.title, "titles": f" {tr('or')} ".join(others)}
                raise QuantityError(tr("{title} has none for this thread; choose {titles}", **told))
        return row.gift(d)

    def shop(self, name: str) -> Shop:
        """The shop of a name. Raises QuantityError that lists them."""
        if name not in self.shops:
            raise QuantityError(f"'{clip(name)}' is no shop; write {' or '.join(self.shops)}")
        return self.shops[name]

    @property
    def own_shop(self) -> str | None:
        """The shop that a site has alone, by its own file or its settings; nothing where they leave it open."""
        return (self.shop_file and self.shop_file.units) or self.site_units

    def at_home(self, series: TestSeries, name: str) -> TestSeries:
        """A series of one's own, as it was made in one's own shop where it says no other."""
        if not self.own_shop or self.ships(name):
            return series
        return series.model_copy(update={"given": {"shop": self.own_shop} | series.given})

    @property
    def systems(self) -> dict[str, System]:
        """Every shop with the units that it measures in."""
        return {name: shop.units for name, shop in self.shops.items()}

    def series_in(self, shop: str) -> dict[str, Series]:
        """The series of threads that a shop works with."""
        return {name: series for name, series in self.series.items() if series.shop == self.shops[shop].threads}

    def series_of(self, shops: Iterable[str]) -> list[Series]:
        """The series of threads that any of these shops works with, in the order of their file."""
        threads = {self.shops[shop].threads for shop in shops}
        return [series for series in self.series.values() if series.shop in threads]

    def stock_in(self, shop: str) -> list[DrillStock]:
        """The drills that a shop works with."""
        return [stock for stock in self.stock if stock.shop == self.shops[shop].drills]

    def stock_of(self, kind: str, shop: str) -> Stock:
        """The sizes of one kind of drill in one shop. Raises QuantityError when it stocks none."""
        stocks: dict[str, Stock] = self.kept.setdefault("stocks", {})
        key = f"{shop} {kind} {speaks()}"  # the title is told in words
        if key not in stocks:
            stocks[key] = self._stock_of(kind, shop)
        return stocks[key]

    def _stock_of(self, kind: str, shop: str) -> Stock:
        for stock in self.stock_in(shop):
            if stock.kind == kind:
                drill = self.tables["drills"][kind].title
                title = stock.title or tr("{drill} sizes of {shop}", drill=drill, shop=stock.of)
                return Stock(title, stock.lengths, stock.source, stock.unit, self._beyond(stock))
        raise QuantityError(f"a {shop} shop's list of drills has no kind '{clip(kind)}'")

    def _beyond(self, stock: DrillStock) -> str:
        """What to bore with where more than the largest of these drills is wanted: only a kind that has larger ones."""
        larger = [one for one in self.stock_in(stock.shop) if one.lengths[-1] > stock.lengths[-1]]
        saw = tr("bore with a hole saw, no deeper than it reaches, break out the core, and give the hole's width")
        if not larger:
            return saw
        kind, most = self.tables["drills"][larger[0].kind].title, f"{larger[0].sizes[-1]} {larger[0].unit}"
        return tr("choose the {kind}, sold up to {most}, or {instead}", kind=kind, most=most, instead=saw)

    def sold(self, shop: str) -> dict[str, Stock]:
        """What is sold by one size, as plate is by its thickness, by its name in `data/shop_sizes.yaml`."""
        return self._sold[self.shops[shop].units]

    @cached_property
    def _sold(self) -> dict[System, dict[str, Stock]]:
        rows = self.shop_sizes.sold if self.shop_sizes else {}
        return {
            system: {
                name: Stock(
                    row.title,
                    [read_quantity(f"{size} {LENGTH_UNIT[system]}", "m") for size in row.sizes(system)],
                    row.source,
                    LENGTH_UNIT[system],
                )
                for name, row in rows.items()
                if row.unit == "mm"
            }
            for system in SYSTEMS
        }


def thread_key(text: str) -> str:
    """A designation without what people write differently: case, spaces, the multiplication sign."""
    return "".join(text.upper().replace("×", "X").split())


def _row_of(rows: Mapping[str, Row], table: str, name: str) -> Row:
    if name not in rows:
        raise QuantityError(f"'{clip(name)}' is not one of the {table}: {', '.join(rows)}")
    return rows[name]


def load(root: Path | Sequence[Path], site_units: System | None = None, *, by_the_book: bool = False) -> Library:
    """Read the folder `root`, or several, of which the later lay their entries over those of the earlier. `site_units`
    are those that the site's settings choose for all of it. `by_the_book` has the earlier lie over the later, and
    leaves the inputs as they come. Raises Faults with everything wrong in every file."""
    library = Library((root,) if isinstance(root, Path) else tuple(root), site_units)
    faults: list[Fault] = []
    reader = Reader(library, faults, by_the_book)
    if missing := [layer for layer in library.layers if not layer.is_dir()]:
        message = "no such folder; run this where it is, or name it"
        raise Faults(Fault(str(layer), 1, 1, message) for layer in missing)
    if reader.there("shop.yaml"):
        library.shop_file = reader.read("shop.yaml", OwnShop)
        faults += reader.unit_faults()
    if sources := reader.read("sources.yaml", Sources):
        library.dated, library.sources = sources.dated, sources.sources
    if cautions := reader.read("cautions.yaml", Cautions):
        library.cautions = cautions.cautions
    if designers := reader.read("designers.yaml", Designers):
        library.designers = designers.decided
    if reader.there("groups.yaml") and (groups := reader.read("groups.yaml", Groups)):
        library.groups = groups
    if reader.there("steps.yaml"):
        library.alike = reader.read("steps.yaml", Alike)
    if threads := reader.read("data/threads.yaml", Threads):
        library.series = threads.series
    if reader.there("data/shops.yaml") and (shops := reader.read("data/shops.yaml", Shops)):
        reader.add_shops(shops)
    if drills := reader.read("data/drills.yaml", Drills):
        reader.add_drills(drills)
    for name in reader.files("data"):
        if name not in FORMS and (rows := reader.read(f"data/{name}.yaml", Rows)):
            reader.add_rows(name, rows)
    for name in reader.files("drawings"):
        if drawings := reader.read(f"drawings/{name}.yaml", Drawings):
            reader.add_drawings(f"{name}.yaml", drawings)
    reader.read_inputs()
    reader.read_shared()
    for name in reader.pages("cards"):
        if card := reader.read(f"cards/{name}.yaml", Card):
            library.cards[name] = card
    for name in reader.pages("tables"):
        if table := reader.read(f"tables/{name}.yaml", Table):
            library.reference[name] = table
    reader.put_in_constants()
    for name in reader.pages("jobs"):
        reader.read_job_sheet(name)
    for name in reader.pages("tests"):
        if series := reader.read(f"tests/{name}.yaml", TestSeries):
            library.series_pulled[name] = library.at_home(series, f"tests/{name}.yaml")
    if reader.there("data/shop_sizes.yaml") or library.job_sheets or library.spoilt:
        library.shop_sizes = reader.read("data/shop_sizes.yaml", ShopSizes)
    if reader.there("chooser.yaml"):
        library.chooser = reader.read("chooser.yaml", Chooser)
    if reader.there("home.yaml"):
        library.home = reader.read("home.yaml", Home)
    if reader.there("search.yaml"):
        library.search = reader.read("search.yaml", SearchWords)
    faults += reader.ending_faults()
    missing_rows = [system for system in SYSTEMS if system not in library.shops]
    if missing_rows and not faults:
        message = f"no row for the {missing_rows[0]} shop; every card is worked for both"
        faults.append(Fault(f"{library.root.name}/data/shops.yaml", 1, 1, message))
    faults += [] if faults else reader.shop_faults()
    if not library.cards and not faults:
        faults.append(Fault(f"{library.root.name}/cards", 1, 1, "no card here; add a YAML file"))
    if faults:
        raise Faults(faults)
    return library


def library_in(library: Library, name: str, names: Sequence[str] = ()) -> tuple[Language | None, Library]:
    """A language, and the library with its texts in it. `names` are the languages of the site. Raises BondwrightError
    where it cannot be read."""
    if name == ENGLISH:
        return None, library
    language = read_language(name, dict.fromkeys([PROCEDURES, *library.layers]))
    if len(names) == 1:  # then what is one's own is written in it
        language = replace(language, own=library.own_texts)
    return language, in_language(library, language)


def in_language(library: Library, language: Language) -> Library:
    """A checked library with its texts in another language."""
    with speaking(language):
        other = load(library.layers, library.site_units)
        for name in library.as_shipped:
            sheet = dict(other.sheets())[name]
            other.set_back(name, sheet.model_copy(update={"givens": other.in_the_book(sheet).givens}))
    for name in other.job_sheets.keys() - library.job_sheets.keys():
        del other.job_sheets[name]
    for name in other.spoilt.keys() - library.job_sheets.keys():
        del other.spoilt[name]
    other.spoilt |= library.spoilt
    other.left_out = {*library.left_out}
    return other


def _over_rows(table: Any, inputs: Mapping[str, Any]) -> dict[str, Any]:
    """What a card's table runs over, where that is an input that is named alone, with the rows that stand with it."""
    name = table.get("over") if isinstance(table, dict) else None
    shared = inputs.get(name) if isinstance(name, str) else None
    return {"input": name, **shared["rows"]} if shared and "rows" in shared else {}


def _asks_nothing(name: str, inputs: Iterable[str]) -> str:
    """What is wrong with an input that is named alone and stands in no other place."""
    parts, name = name.split(), clip(name)
    if len(parts) > 1 and {*parts} <= {*inputs}:
        return f"a comma is missing between {' and '.join(parts)}"
    close = get_close_matches(name, inputs, n=1)
    remedy = f"did you mean '{close[0]}'?" if close else f"say what it asks for: {name}: {{ask: ..., default: ...}}"
    return f"'{name}' is no input of inputs.yaml, so its name alone asks nothing; {remedy}"


def _at(part: Any, path: Path_) -> Any:
    """What stands at a path, if anything does."""
    for key in path:
        part = part.get(key) if isinstance(part, dict) else None
    return part


def _with(part: Any, path: Path_, whole: Any) -> Any:
    """The same with something else at a path."""
    return {**part, path[0]: _with(part[path[0]], path[1:], whole)} if path else whole


def _nothing_shared(name: Any, kind: str, there: Iterable[str]) -> str:
    """What is wrong with a name that shared.yaml has not."""
    if not isinstance(name, str):
        return f"give the name of what stands under '{kind}' in shared.yaml, or a list of them"
    close = get_close_matches(name, there, n=1)
    remedy = f"did you mean '{close[0]}'?" if close else f"it has {', '.join(there) or 'none'}"
    return f"no '{clip(name)}' under '{kind}' in shared.yaml; {remedy}"


_PAGE_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


# Files that are taken whole from the last folder that has them.
_WHOLE = ("cards/", "tables/", "jobs/", "tests/", "chooser.yaml", "groups.yaml", "home.yaml", "shop.yaml")


def yaml_files(folder: Path) -> list[Path]:
    """The YAML files of a folder, in the order of their names."""
    return sorted(folder.glob("*.yaml"))


@dataclass
class Reader:
    """Reads files into a library and collects their faults, so that one pass finds them all."""

    library: Library
    faults: list[Fault]
    by_the_book: bool = False
    inputs: dict[str, Any] | None = field(default_factory=dict)  # none where they cannot be read
    parts: dict[str, Any] | None = field(default_factory=dict)  # what sheets have alike besides; likewise
    constants: dict[str, tuple[str, str]] = field(default_factory=dict)  # the data table and the row that give each

    def there(self, name: str) -> list[Path]:
        """The folders that have a file of this name, the one that lies on top last."""
        found = [layer for layer in self.library.layers if (layer / name).exists()]
        return found[::-1] if self.by_the_book and not name.startswith(_WHOLE) else found

    def files(self, folder: str) -> list[str]:
        """The names of a folder's YAML files, in their order."""
        return sorted({path.stem for layer in self.library.layers for path in yaml_files(layer / folder)})

    def ending_faults(self) -> Iterator[Fault]:
        """Files that would not be read for the end of their names."""
        for layer in self.library.layers:
            for path in sorted(layer.rglob("*.yml")):
                name = f"{layer.name}/{path.relative_to(layer).as_posix()}"
                yield Fault(name, 1, 1, "the name ends in .yml; end it in .yaml")

    def read_inputs(self) -> None:
        """The inputs that several sheets ask for alike; a folder may do without."""
        if self.there("inputs.yaml"):
            shared = self.read("inputs.yaml", Inputs)
            self.library.inputs = shared.givens if shared else {}
            self.inputs = self.library.documents["inputs.yaml"].data["givens"] if shared else None

    def read_shared(self) -> None:
        """What several sheets have alike besides; a folder may do without."""
        if self.there("shared.yaml"):
            shared = self.read("shared.yaml", Shared)
            self.library.shared = shared or Shared()
            self.parts = self.library.documents["shared.yaml"].data if shared else None

    def _with_shared_parts(self, document: Document) -> Document:
        """The sheet with what stands for all in the place of each name that it takes. What is wrong with that in this
        sheet is told where the name stands: what is wrong everywhere is told in shared.yaml. Raises Faults without
        a new one where none of a list's names is there."""
        data = document.data
        for path in SHARED_IN:
            own = _at(data, path)
            if isinstance(own, list) and any(isinstance(one, dict) and "like" in one for one in own):
                told = len(self.faults)
                taken = [*self._taken(document, path, own)]
                if not taken and len(self.faults) > told:
                    raise Faults([])
                places = {(*path, place): (document, there) for place, (there, _) in enumerate(taken)}
                data = _with(data, path, [part for _, part in taken])
                document = replace(document, data=data, origins={**document.origins, **places})
        return document

    def _taken(self, document: Document, path: Path_, own: list[Any]) -> Iterator[tuple[Path_, Any]]:
        """What stands in a list of the sheet, and where, with what its names stand for."""
        there = (self.parts or {}).get(path[0]) or {}
        for place, one in enumerate(own):
            if not (isinstance(one, dict) and [*one] == ["like"]):
                yield (*path, place), one
                continue
            names, several = one["like"], isinstance(one["like"], list)
            for number, name in enumerate(names if several else [names]):
                here = (*path, place, "like", *([number] if several else []))
                if isinstance(name, str) and name in there:
                    yield here, there[name]
                else:
                    self.faults.append(document.fault(here, _nothing_shared(name, path[0], there)))

    def _with_shared_inputs(self, document: Document) -> Document:
        """The sheet with what stands for all under each of its givens, before the whole is judged."""
        own = document.data.get("givens") if isinstance(document.data, dict) else None
        if not isinstance(own, dict):
            return document
        inputs = self.inputs or {}
        alone = [name for name, given in own.items() if not given and name not in inputs]
        self.faults += (document.fault(("givens", name), _asks_nothing(name, inputs), at_key=True) for name in alone)
        own = {name: said_of(given) for name, given in own.items() if name not in alone}
        givens = {name: overlaid(inputs.get(name, {}), given) for name, given in own.items()}
        shared = self.library.documents.get("inputs.yaml", document)
        came = [
            ("givens", name, key)
            for name, given in own.items()
            for key in DEFAULTS
            if not (isinstance(given, dict) and key in given)
        ]
        said = {path: shared.origin(path) for path in came}
        shop = {here: there for here, there in said.items() if there[0] is self.library.documents.get("shop.yaml")}
        data = {**document.data, "givens": givens}
        if over := _over_rows(document.data.get("table"), inputs):
            data["table"] = {**document.data["table"], "over": over}
            shop |= {
                ("table", "over", key): (shared, ("givens", over["input"], "rows", key))
                for key in over
                if key != "input"
            }
        return replace(document, data=data, origins={**document.origins, **shop})

    def pages(self, folder: str) -> list[str]:
        """The names of a folder's files that become pages; a file's name becomes the page's address."""
        for layer in self.library.layers:
            for path in yaml_files(layer / folder):
                if _PAGE_NAME.fullmatch(path.stem) and path.stem not in {"index", *RESERVED} and len(path.stem) <= 60:
                    continue
                message = (
                    "the name becomes the page's address; use small letters, digits and single hyphens, not 'index'"
                    " and no name that computers keep for themselves, as 'con'"
                )
                self.faults.append(Fault(f"{layer.name}/{folder}/{path.name}", 1, 1, message))
        return self.files(folder)

    def add_rows(self, name: str, rows: Rows) -> None:
        """Take in a data table, under the input it names or, without one, as constants."""
        library = self.library
        library.tables[name] = rows.rows
        if rows.input is None:
            library.constants.append(name)
            self.faults += self.twice_faults(name, rows)
        elif any(rows.input in taken for taken in (DRILL_CHOICES, library.choices, SPECIAL, FORMULARY.symbols)):
            document = library.documents[f"data/{name}.yaml"]
            self.faults.append(document.fault(("input",), f"the input '{rows.input}' is taken; choose another name"))
        else:
            library.choices[rows.input] = Choice(name, rows.rows)

    def twice_faults(self, name: str, rows: Rows) -> Iterator[Fault]:
        """Constants that another row gives too: which one counts would go by the order of the files."""
        document = self.library.documents[f"data/{name}.yaml"]
        for key, row in rows.rows.items():
            given = {symbol: self.constants.setdefault(symbol, (name, key)) for symbol in row.gives}
            if twice := next((symbol for symbol, first in given.items() if first != (name, key)), None):
                where = "data/{}.yaml, row '{}'".format(*given[twice])
                message = f"'{twice}' is given already in {where}; keep one, or name the `input` that chooses a row"
                yield document.fault(("rows", key, "gives", twice), message, at_key=True)

    def add_shops(self, shops: Shops) -> None:
        """Take in the shops; threads and drills are a shop's own where it names no other's."""
        library = self.library
        library.tables["shops"] = {**shops.rows}
        library.shops = {
            key: shop.model_copy(update={"threads": shop.threads or key, "drills": shop.drills or key})
            for key, shop in shops.rows.items()
        }

    def shop_faults(self) -> Iterator[Fault]:
        """Shops that are named and not there, and shops that have no threads or no drills."""
        library = self.library
        places: list[tuple[str, Path_, str]] = [
            *(("data/threads.yaml", ("series", key, "shop"), one.shop) for key, one in library.series.items()),
            *(("data/drills.yaml", ("stock", place, "shop"), one.shop) for place, one in enumerate(library.stock)),
        ]
        for file, path, name in places:
            if name not in library.shops:
                message = f"'{clip(name)}' is no shop; shops: {', '.join(library.shops)}"
                yield library.documents[file].fault(path, message)
        document = library.documents["data/shops.yaml"]
        for key, shop in library.shops.items():
            if key in SYSTEMS and shop.units != key:
                yield document.fault(("rows", key, "units"), f"the {key} shop measures in {key} units; write {key}")
            for what, whose, there in (
                ("threads", shop.threads, [one.shop for one in library.series.values()]),
                ("drills", shop.drills, [one.shop for one in library.stock]),
            ):
                if whose not in there:
                    others = ", ".join(dict.fromkeys(there))
                    message = f"the shop '{whose}' has no {what}; name under '{what}' whose it works with: {others}"
                    yield document.fault(("rows", key, what), message)
            stocked = {one.kind for one in library.stock_in(key)}
            if lacks := {one.kind for one in library.stock} - stocked if stocked else ():
                message = (
                    f"the {key} shop has no drills of the kind '{min(lacks)}', which another shop has; list its sizes"
                )
                yield library.documents["data/drills.yaml"].fault(("stock",), message)

    def unit_faults(self) -> Iterator[Fault]:
        """The shop's own file names units that no page of the site is made for."""
        shop, chosen = self.library.shop_file, self.library.site_units
        if shop and chosen and shop.units not in (None, chosen):
            message = f"the site's settings have all pages in {chosen} units, none of them this shop's; choose the same"
            yield self.library.documents["shop.yaml"].fault(("units",), message)

    def add_drills(self, drills: Drills) -> None:
        """Take in the drills, in each of their roles."""
        library = self.library
        library.tables["drills"], library.stock = {**drills.rows}, drills.stock
        for name, role in DRILL_CHOICES.items():
            rows = {key: drill.in_role(role) for key, drill in drills.rows.items()}
            library.choices[name] = Choice("drills", rows, stock=f"{name}s")

    def add_drawings(self, name: str, read: Drawings) -> None:
        """Take in the words of drawings; those of one drawing stand in one file."""
        document = self.library.documents[f"drawings/{name}"]
        for drawing, words in read.drawings.items():
            if drawing in self.library.drawings:
                message = f"the drawing '{drawing}' has its words in another file already; keep one"
                self.faults.append(document.fault(("drawings", drawing), message, at_key=True))
            self.library.drawings[drawing] = words

    def put_in_constants(self) -> None:
        """Where a default or a bound of an input names a constant, put in its value, so that it stands in one place,
        and a thread's size where it is called by another name."""
        library = self.library
        texts = {
            symbol: text
            for table in library.constants
            for row in library.tables[table].values()
            for symbol, text in row.gives.items()
        }
        for givens in (library.inputs, *(sheet.givens for _, sheet in library.sheets())):
            for name, given in givens.items():
                written = {key: getattr(given, key) for key in (*DEFAULTS, "min", "max")}
                named: dict[str, str] = {key: texts[text] for key, text in written.items() if text in texts}
                if name == "thread":
                    found = {key: library.thread_names.get(thread_key(text)) for key, text in written.items() if text}
                    named = {key: one[1].size for key, one in found.items() if one}
                if named:
                    givens[name] = given.model_copy(update=named)

    def read_job_sheet(self, name: str) -> None:
        """One job sheet, or what is wrong in it."""
        library, own, file = self.library, Reader(self.library, [], self.by_the_book), f"jobs/{name}.yaml"
        sheet = own.read(file, JobSheet)
        if sheet and library.shops and sheet.conditions.shop not in library.shops:
            message = f"'{clip(sheet.conditions.shop)}' is no shop; shops: {', '.join(library.shops)}"
            own.faults.append(library.documents[file].fault(("conditions", "shop"), message))
        if sheet and not own.faults:
            library.job_sheets[name] = sheet
        else:
            library.spoilt[name] = own.faults

    def read(self, name: str, model: type[M]) -> M | None:
        """One file as `model`, or None when it has faults, or lies over inputs that have."""
        over_inputs = issubclass(model, (Sheet, Home, Chooser))
        if over_inputs and (self.inputs is None or self.parts is None):
            return None
        try:
            document = self.document(name)
            if over_inputs:
                document = self._with_shared_inputs(self._with_shared_parts(document))
            self.library.documents[name] = document
            return parse(model, document)
        except Faults as error:
            self.faults += error.faults
            return None

    def document(self, name: str) -> Document:
        """A file out of all layers that have it: of pages the last one, of data all of them laid over each other, and
        what the shop's own file says over that. Raises Faults."""
        layers = self.there(name) or [self.library.root]
        if name.startswith(_WHOLE):
            layers = layers[-1:]
        read = {layer: read_document(layer / name, f"{layer.name}/{name}") for layer in layers}
        for layer, one in read.items():
            self.library.own_texts.update(texts_in(one.data) if layer != self.library.layers[0] else ())
        document = reduce(laid_over, read.values())
        shop, said = self.library.shop_file, self.library.documents.get("shop.yaml")
        if shop and said and isinstance(document.data, dict):
            below = document.data.get("givens" if name == "inputs.yaml" else "rows")
            self.faults += shop.faults(name, below if isinstance(below, dict) else {}, said)
            upper = shop.over(name, document.data, said)
            if upper:
                document = laid_over(upper, document) if self.by_the_book else laid_over(document, upper)
        return document
