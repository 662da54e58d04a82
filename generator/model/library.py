"""Everything under `procedures/`, read once: data tables, cautions, sources and cards."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from ..errors import Fault, Faults
from ..formula import FORMULARY, Stock
from ..units import LENGTH_UNIT, SYSTEMS, QuantityError, System, clip, read_quantity
from .chooser import Chooser
from .jobsheet import JobSheet, ShopSizes
from .kinds import RESERVED
from .quantity import Gift
from .schema import (
    CARD_GROUPS,
    DRILL_CHOICES,
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
    Inputs,
    Row,
    Rows,
    Series,
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
)
from .search import SearchWords
from .series import TestSeries
from .yaml_text import Document, Path_, read_document

M = TypeVar("M", bound=Strict)


@dataclass(frozen=True)
class Choice:
    """An input that is chosen from a data table instead of being typed as a number: the table, and its rows as this
    input takes them. `stock` is the list of sizes that a row brings along."""

    table: str
    rows: dict[str, Row]
    stock: str = ""


# The data tables that have a form of their own.
FORMS = ("threads", "drills", "shops", "shop_sizes")
# Inputs that are neither a symbol nor a row of a table.
SPECIAL = ("thread", "shop", "ratio")


@dataclass
class Library:
    """The typed content of `procedures/`, with the documents it was read from for messages."""

    root: Path
    dated: date = date.min
    sources: dict[str, Source] = field(default_factory=dict)
    cautions: dict[str, Caution] = field(default_factory=dict)
    designers: dict[str, Decided] = field(default_factory=dict)
    tables: dict[str, dict[str, Row]] = field(default_factory=dict)
    choices: dict[str, Choice] = field(default_factory=dict)
    constants: list[str] = field(default_factory=list)
    shops: dict[str, Shop] = field(default_factory=dict)
    series: dict[str, Series] = field(default_factory=dict)
    stock: list[DrillStock] = field(default_factory=list)
    drawings: dict[str, DrawingWords] = field(default_factory=dict)
    inputs: dict[str, Given] = field(default_factory=dict)
    cards: dict[str, Card] = field(default_factory=dict)
    reference: dict[str, Table] = field(default_factory=dict)
    job_sheets: dict[str, JobSheet] = field(default_factory=dict)
    # Job sheets that cannot be read or planned, with the reasons: nothing else waits for them.
    spoilt: dict[str, list[Fault]] = field(default_factory=dict)
    shop_sizes: ShopSizes | None = None
    chooser: Chooser | None = None
    search: SearchWords | None = None
    series_pulled: dict[str, TestSeries] = field(default_factory=dict)
    # What a later room worked out of all this, kept so that it is done once.
    kept: dict[str, dict[str, Any]] = field(default_factory=dict, repr=False, compare=False)
    documents: dict[str, Document] = field(default_factory=dict)

    def sheets(self) -> Iterator[tuple[str, Sheet]]:
        """Every card and reference table with the name of its file."""
        for folder, sheets in (("cards", self.cards), ("tables", self.reference)):
            for name, sheet in sheets.items():
                yield f"{folder}/{name}.yaml", sheet

    def cards_by_group(self) -> dict[str, dict[str, Card]]:
        """The cards under the headings of the index, in the order in which they are read."""
        ordered = {group: {n: card for n, card in self.cards.items() if card.group == group} for group in CARD_GROUPS}
        return {group: cards for group, cards in ordered.items() if cards}

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
    def _thread_names(self) -> dict[str, tuple[Series, Thread]]:
        names: dict[str, tuple[Series, Thread]] = {}
        for _, series, thread in self.threads():
            for spelling in (thread.size, *thread.also):
                names.setdefault(thread_key(spelling), (series, thread))
        return names

    def thread(self, text: str) -> tuple[Series, Thread]:
        """The thread that a designation names. Raises QuantityError with near spellings."""
        found = self._thread_names.get(thread_key(text))
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

    def shop(self, name: str) -> Shop:
        """The shop of a name. Raises QuantityError that lists them."""
        if name not in self.shops:
            raise QuantityError(f"'{clip(name)}' is no shop; write {' or '.join(self.shops)}")
        return self.shops[name]

    def series_in(self, shop: str) -> dict[str, Series]:
        """The series of threads that a shop works with."""
        return {name: series for name, series in self.series.items() if series.shop == self.shops[shop].threads}

    def stock_in(self, shop: str) -> list[DrillStock]:
        """The drills that a shop works with."""
        return [stock for stock in self.stock if stock.shop == self.shops[shop].drills]

    def stock_of(self, kind: str, shop: str) -> Stock:
        """The sizes of one kind of drill in one shop. Raises QuantityError when it stocks none."""
        for stock in self.stock_in(shop):
            if stock.kind == kind:
                return Stock(stock.title, stock.lengths, stock.source)
        raise QuantityError(f"a {shop} shop's list of drills has no kind '{clip(kind)}'")

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


def load(root: Path) -> Library:
    """Read the folder `root`. Raises Faults with everything wrong in every file."""
    library = Library(root)
    faults: list[Fault] = []
    reader = Reader(library, faults)
    if not root.is_dir():
        raise Faults([Fault(str(root), 1, 1, "no such folder; run this where the folder procedures is, or name it")])
    if sources := reader.read("sources.yaml", Sources):
        library.dated, library.sources = sources.dated, sources.sources
    if cautions := reader.read("cautions.yaml", Cautions):
        library.cautions = cautions.cautions
    if designers := reader.read("designers.yaml", Designers):
        library.designers = designers.decided
    if threads := reader.read("data/threads.yaml", Threads):
        library.series = threads.series
    if (root / "data/shops.yaml").exists() and (shops := reader.read("data/shops.yaml", Shops)):
        reader.add_shops(shops)
    if drills := reader.read("data/drills.yaml", Drills):
        reader.add_drills(drills)
    for path in yaml_files(root / "data"):
        if path.stem not in FORMS and (rows := reader.read(f"data/{path.name}", Rows)):
            reader.add_rows(path.stem, rows)
    for path in yaml_files(root / "drawings"):
        if drawings := reader.read(f"drawings/{path.name}", Drawings):
            reader.add_drawings(path.name, drawings)
    reader.read_inputs()
    for path in reader.pages("cards"):
        if card := reader.read(f"cards/{path.name}", Card):
            library.cards[path.stem] = card
    for path in reader.pages("tables"):
        if table := reader.read(f"tables/{path.name}", Table):
            library.reference[path.stem] = table
    reader.put_in_constants()
    for path in reader.pages("jobs"):
        reader.read_job_sheet(path)
    for path in reader.pages("tests"):
        if series := reader.read(f"tests/{path.name}", TestSeries):
            library.series_pulled[path.stem] = series
    if (root / "data" / "shop_sizes.yaml").exists() or library.job_sheets or library.spoilt:
        library.shop_sizes = reader.read("data/shop_sizes.yaml", ShopSizes)
    if (root / "chooser.yaml").exists():
        library.chooser = reader.read("chooser.yaml", Chooser)
    if (root / "search.yaml").exists():
        library.search = reader.read("search.yaml", SearchWords)
    for path in sorted(root.rglob("*.yml")):
        name = path.relative_to(root).as_posix()
        faults.append(Fault(f"{root.name}/{name}", 1, 1, "the name ends in .yml; end it in .yaml"))
    missing = [system for system in SYSTEMS if system not in library.shops]
    if missing and not faults:
        message = f"no row for the {missing[0]} shop; every card is worked for both"
        faults.append(Fault(f"{root.name}/data/shops.yaml", 1, 1, message))
    faults += [] if faults else reader.shop_faults()
    if not library.cards and not faults:
        faults.append(Fault(f"{root.name}/cards", 1, 1, "no card here; add a YAML file"))
    if faults:
        raise Faults(faults)
    return library


_PAGE_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def yaml_files(folder: Path) -> list[Path]:
    """The YAML files of a folder, in the order of their names."""
    return sorted(folder.glob("*.yaml"))


@dataclass
class Reader:
    """Reads files into a library and collects their faults, so that one pass finds them all."""

    library: Library
    faults: list[Fault]
    inputs: dict[str, Any] = field(default_factory=dict)

    def read_inputs(self) -> None:
        """The inputs that several sheets ask for alike; a folder may do without."""
        if (self.library.root / "inputs.yaml").exists() and (shared := self.read("inputs.yaml", Inputs)):
            self.library.inputs = shared.givens
            self.inputs = self.library.documents["inputs.yaml"].data["givens"]

    def _with_shared_inputs(self, document: Document) -> Document:
        """The sheet with what stands for all under each of its givens, before the whole is judged."""
        own = document.data.get("givens") if isinstance(document.data, dict) else None
        if not isinstance(own, dict):
            return document
        givens = {name: overlaid(self.inputs.get(name, {}), given) for name, given in own.items()}
        return replace(document, data={**document.data, "givens": givens})

    def pages(self, folder: str) -> list[Path]:
        """The files of a folder that become pages; a file's name becomes the page's address."""
        files = yaml_files(self.library.root / folder)
        for path in files:
            if not _PAGE_NAME.fullmatch(path.stem) or path.stem in {"index", *RESERVED} or len(path.stem) > 60:
                message = (
                    "the name becomes the page's address; use small letters, digits and single hyphens, not 'index'"
                    " and no name that computers keep for themselves, as 'con'"
                )
                self.faults.append(Fault(f"{self.library.root.name}/{folder}/{path.name}", 1, 1, message))
        return files

    def add_rows(self, name: str, rows: Rows) -> None:
        """Take in a data table, under the input it names or, without one, as constants."""
        library = self.library
        library.tables[name] = rows.rows
        if rows.input is None:
            library.constants.append(name)
        elif rows.input in {*DRILL_CHOICES, *library.choices, *SPECIAL, *FORMULARY.symbols}:
            document = library.documents[f"data/{name}.yaml"]
            self.faults.append(document.fault(("input",), f"the input '{rows.input}' is taken; choose another name"))
        else:
            library.choices[rows.input] = Choice(name, rows.rows)

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
        """Where a default or a bound of an input names a constant, put in its value, so that it stands in one place."""
        texts = {
            symbol: text
            for table in self.library.constants
            for row in self.library.tables[table].values()
            for symbol, text in row.gives.items()
        }
        for givens in (self.library.inputs, *(sheet.givens for _, sheet in self.library.sheets())):
            for name, given in givens.items():
                written = {key: getattr(given, key) for key in ("default", "metric", "inch", "min", "max")}
                named = {key: texts[text] for key, text in written.items() if text in texts}
                givens[name] = given.model_copy(update=named)

    def read_job_sheet(self, path: Path) -> None:
        """One job sheet, or what is wrong in it."""
        library, own = self.library, Reader(self.library, [])
        sheet = own.read(f"jobs/{path.name}", JobSheet)
        if sheet and library.shops and sheet.conditions.shop not in library.shops:
            message = f"'{clip(sheet.conditions.shop)}' is no shop; shops: {', '.join(library.shops)}"
            document = library.documents[f"jobs/{path.name}"]
            own.faults.append(document.fault(("conditions", "shop"), message))
        if sheet and not own.faults:
            library.job_sheets[path.stem] = sheet
        else:
            library.spoilt[path.stem] = own.faults

    def read(self, name: str, model: type[M]) -> M | None:
        """One file as `model`, or None when it has faults."""
        try:
            document = read_document(self.library.root / name, f"{self.library.root.name}/{name}")
            if issubclass(model, Sheet):
                document = self._with_shared_inputs(document)
            self.library.documents[name] = document
            return parse(model, document)
        except Faults as error:
            self.faults += error.faults
            return None
