"""What must hold across files before a page may be made: names, sources, cautions, units, check values."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence, Set
from contextlib import suppress
from difflib import get_close_matches
from functools import partial
from math import prod
from pathlib import Path
from typing import Literal

from .bench import MOST_WORDS, word_count
from .errors import AmbiguousFormula, BondwrightError, CycleError, Fault, Faults, MissingGiven, WorkingError
from .evidence import series_faults, series_named
from .figures import FIGURES
from .figures.faults import drawing_names, nearest, shown_faults, words_faults
from .formula import FORMULARY
from .jobs.faults import card_faults, job_faults, planned_faults, put_aside
from .kept import Kept, Origins
from .live.card_script import Reach
from .model.home import Taking
from .model.library import SPECIAL, Library, load, thread_key
from .model.quantity import read_sensible, read_symbol
from .model.schema import DEFAULTS, NOTE, SAME_SIZE, Card, Given, Over, Sheet, Table
from .model.yaml_text import Document, Path_
from .pages.print_sheets import AID_SYMBOLS
from .published import check_result, read_tolerance
from .reckoning import InputError, Reckoning, UnknownInput, ends_of, read_input, reckon, within_range
from .units import (
    SYSTEMS,
    QuantityError,
    System,
    plain,
    span_for,
)
from .wording import prose_faults
from .working import arrows

# As many cells as a table has when a page is still made in a moment.
MOST_CELLS = 2000
# As many sets of symbols as the choices on a card may give together: the script in its page holds a way for each.
MOST_WAYS = 128
JobSheets = Literal["all", "sound", "none"]


def load_checked(
    root: Path | Sequence[Path],
    kept: Kept | None = None,
    *,
    site_units: System | None = None,
    job_sheets: JobSheets = "all",
    prove_units: bool = False,
    card: str | None = None,
    jobs: Collection[str] | None = None,
) -> Library:
    """Read `procedures/` and check all of it, but what was sound before and is the same. Raises Faults. A job sheet
    that is spoilt is a fault of `all`; it is put aside where only the `sound` ones are wanted, or `none`, as they are
    not worked then. That the units of formulas and rules are those of their symbols is seen each time; that they close
    is proved where `prove_units` asks for it. Where one `card` is all that is worked, only what it is worked from is
    checked; where a site names the `jobs` that it shows, of the sound ones no other is worked."""
    library, kept = load(root, site_units), kept or Kept()
    if card is not None:
        if faults := _faults_for(library, kept, card):
            raise Faults(faults)
        return library
    faults = _shared_faults(library, kept, prove_units)
    alone = len(library.layers) == 1
    faults = faults or [*sheet_faults(library, kept), *(unused_faults(library) if alone else ())]
    faults = faults or [
        *chooser_faults(library),
        *search_faults(library),
        *home_faults(library),
        *kept.faults("check pulled joints", Origins(library).data, partial(series_faults, library)),
    ]
    if job_sheets == "all":
        # A spoilt sheet hides nothing else, and is hidden by nothing but cards and data that it would be worked with.
        spoilt = [fault for own in library.spoilt.values() for fault in own]
        faults = [*faults, *spoilt] if faults else _mine(library, job_faults(library, kept))
    else:
        faults = faults or _mine(library, planned_faults(library, kept))
    if faults:
        raise Faults(faults)
    if job_sheets == "sound":
        put_aside(library, kept, names=jobs)
        for name in [name for name in library.spoilt if library.ships(f"jobs/{name}.yaml")]:
            library.leave_out(f"jobs/{name}.yaml", library.spoilt[name][0])
    return library


def _shared_faults(library: Library, kept: Kept, prove_units: bool = False, beside: Container[str] = ()) -> list[Fault]:
    """What is wrong in what all cards take from. A card worked with spoilt data would only report the same fault again,
    in the wrong place."""
    faults = [
        *unit_faults(prove_units),
        *name_faults(library),
        *tap_faults(library),
        *input_faults(library),
        *pot_life_faults(library),
        *defer_faults(library),
        *source_faults(library, beside),
        *shared_faults(library),
    ]
    return faults or [*words_faults(library, kept)]


def _faults_for(library: Library, kept: Kept, name: str) -> list[Fault]:
    """What is wrong for one card: in it, in what all cards take from, in the shop's own series that may say something
    of its joints and in the cards that these were made by. None of its numbers comes from another page."""
    card = library.cards.get(name)
    series = series_named(library, card) if card else []
    pages = {name, *(library.series_pulled[one].card for one in series)}
    beside = {file for file, _ in library.sheets()} - {f"cards/{one}.yaml" for one in pages}
    beside |= {f"tests/{one}.yaml" for one in library.series_pulled if one not in series}
    faults = _shared_faults(library, kept, beside=beside) or [*sheet_faults(library, kept, beside)]
    faults = faults or [*series_faults(library, beside)]
    return faults or (_mine(library, card_faults(library, name)) if card else [])


def warnings(library: Library) -> list[Fault]:
    """What does not stop a build: of several folders what nothing uses in the last one, for what ships may well be more
    than is used; and what the shop's own file could not change."""
    own = f"{library.root.name}/"
    unused = (
        [fault for fault in unused_faults(library) if fault.file.startswith(own)] if len(library.layers) > 1 else []
    )
    return [*unused, *library.minded]


def shop_warnings(library: Library) -> Iterator[Fault]:
    """What a card minds as it comes set in one's own shop, and does not as it ships, each once: for what is wrong there
    may well be a slip in its file, as a ratio turned round."""
    shop, told = library.own_shop or SYSTEMS[0], set[str]()
    for card in library.cards.values() if library.shop_file else ():
        try:
            own = reckon(library, card, {"shop": shop}).working.warnings
            ships = reckon(library.book, library.in_the_book(card), {"shop": shop}).working.warnings
        except InputError:
            continue
        for warning in own:
            if warning not in ships and warning not in told:
                told.add(warning)
                yield library.documents["shop.yaml"].fault((), f"in this shop '{card.title}' minds: {warning}")


def unit_faults(prove: bool) -> Iterator[Fault]:
    """Formulas and rules whose units are not those of their symbols, with the function's file and line; where these are
    sound, and it is to be proved, those whose units do not close."""
    found, told = [*FORMULARY.unit_faults()], "the units do not agree"
    if prove and not found:
        from . import proof  # with pint, which only this needs

        found, told = [*proof.unit_faults(FORMULARY)], "the units do not close"
    for fault in found:
        file, _, line = fault.where.rpartition(":")
        yield Fault(file, int(line), 1, f"{told}: {str(fault).removeprefix(fault.where + ': ')}")


def name_faults(library: Library) -> Iterator[Fault]:
    """Names of threads that stand for more than one."""
    document = library.documents["data/threads.yaml"]
    named: dict[str, str] = {}
    for name, series in library.series.items():
        for place, thread in enumerate(series.rows):
            for spelling in (thread.size, *thread.also):
                other = named.setdefault(thread_key(spelling), thread.size)
                if other != thread.size:
                    message = f"'{spelling}' already names {other}; a name belongs to one thread"
                    yield document.fault(("series", name, "rows", place), message)


def tap_faults(library: Library) -> Iterator[Fault]:
    """Tap drills that nobody sells: metric ones come by tenths of a millimetre, inch ones as the inch drills do."""
    document = library.documents["data/threads.yaml"]
    sold = [row.gives["D_i"].value for row in library.tables.get("inch_drills", {}).values() if "D_i" in row.gives]
    for name, series in library.series.items():
        for place, thread in enumerate(series.rows):
            if thread.tap is None:
                continue
            size, inch = thread.tap.value, thread.tap.endswith("in") and sold
            nearest_sold = min(sold, key=lambda one: abs(size - one)) if inch else round(size, 4)
            if abs(size - nearest_sold) >= SAME_SIZE:
                message = f"'{thread.tap}' is no drill that is sold; the lists have none of that size"
                yield document.fault(("series", name, "rows", place, "tap"), message)


def input_faults(library: Library) -> Iterator[Fault]:
    """Inputs that stand once for all, told where they stand and not at every card."""
    if library.inputs:
        yield from _given_faults(library, library.documents["inputs.yaml"], library.inputs, "ratio")


def pot_life_faults(library: Library) -> Iterator[Fault]:
    """Pot lives of the shop's own hardeners, stated at a temperature that no time is reckoned for."""
    shop, constants = library.shop_file, library.constants_given.values
    lowest, highest = (constants.get(symbol) for symbol in ("T_lo", "T_hi"))
    if shop is None or lowest is None or highest is None:
        return
    for key, row in shop.hardeners.items():
        if row.at is not None and not lowest - 1e-6 <= row.at.value <= highest + 1e-6:
            message = f"no pot life is stated for '{row.at}'; give {plain(span_for(row.at, lowest, highest, 'K'))}"
            yield library.documents["shop.yaml"].fault(("hardeners", key, "at"), message)


def _given_faults(library: Library, document: Document, givens: Mapping[str, Given], *more: str) -> Iterator[Fault]:
    """Inputs that no sheet works and that there are not, `more` are there besides; and what one comes as, and the ends
    of its range, where they cannot be read."""
    known = {*library.choices, "thread", *FORMULARY.symbols, *more}
    for name, given in givens.items():
        if name not in known:
            yield document.fault(("givens", name), f"unknown input '{name}'", at_key=True)
            continue
        for key in (*DEFAULTS, *(("min", "max") if name in FORMULARY.symbols else ())):
            if text := getattr(given, key):
                try:
                    read_input(library, name, text) if key in DEFAULTS else read_symbol(name, text)
                except QuantityError as error:
                    yield document.fault(("givens", name, key), f"{name}: {error}")


def _beyond_its_range(document: Document, givens: Mapping[str, Given]) -> Iterator[Fault]:
    """What a page's own input comes as, where that lies outside the range that it has there."""
    for name, given in givens.items():
        for key in DEFAULTS if name in FORMULARY.symbols else ():
            with suppress(QuantityError):  # told by itself
                low, high = ends_of(name, given)
                if not (text := getattr(given, key)):
                    continue
                value = read_symbol(name, text)
                if (low is not None and value < low) or (high is not None and value > high):
                    message = f"{name}: '{text}' lies outside the range that stands beside it"
                    yield document.fault(("givens", name, key), message)


def source_faults(library: Library, beside: Container[str] = ()) -> Iterator[Fault]:
    """Sources that are named, but in files that are `beside`, and not there."""
    if _used_sources(library) <= library.sources.keys():
        return
    for name, path, source in _named_sources(library):
        if source not in library.sources and name not in beside:
            yield library.documents[name].fault(path, f"unknown source '{source}'; add it to sources.yaml")
    for where, source in FORMULARY.sources():
        if source not in library.sources:
            file, _, line = where.rpartition(":")
            yield Fault(file, int(line), 1, f"unknown source '{source}'; add it to sources.yaml")


def defer_faults(library: Library) -> Iterator[Fault]:
    """No caution at all that says who decides, which every card needs."""
    if not any(caution.defer for caution in library.cautions.values()):
        message = "none of these says who decides instead of a card; write `defer: true` at the one that does"
        yield library.documents["cautions.yaml"].fault(("cautions",), message)


def shared_faults(library: Library) -> Iterator[Fault]:
    """What steps that several cards take name and that is not there: told where they stand, and not at every card."""
    for key, step in library.shared.steps.items():
        document, path = library.documents["shared.yaml"], ("steps", key)
        if step.drawing and step.drawing not in FIGURES:
            yield document.fault((*path, "drawing"), _no_drawing(step.drawing))
        for place, caution in enumerate(step.cautions):
            if caution not in library.cautions:
                yield document.fault((*path, "cautions", place), _no_caution(library, caution))


def _no_drawing(name: str) -> str:
    return f"unknown drawing '{name}'; near it: {nearest(name, FIGURES)}"


def _no_caution(library: Library, name: str) -> str:
    return f"unknown caution '{name}'; near it: {nearest(name, library.cautions)}"


def unused_faults(library: Library) -> Iterator[Fault]:
    """Sources and cautions that nothing uses."""
    used = {"your-own", *_used_sources(library)}
    for source in library.sources:
        if source not in used:
            message = f"nothing uses the source '{source}'; remove it"
            yield library.documents["sources.yaml"].fault(("sources", source), message, at_key=True)
    shown = {caution for _, sheet in library.sheets() for caution in sheet.all_cautions}
    for caution in library.cautions:
        if caution not in shown:
            message = f"nothing shows the caution '{caution}'; name it in a card or remove it"
            yield library.documents["cautions.yaml"].fault(("cautions", caution), message, at_key=True)


def _used_sources(library: Library) -> Set[str]:
    """Every source that is named in the files or the formulas."""
    if "sources" not in library.kept:
        named = [source for _, _, source in _named_sources(library)]
        library.kept["sources"] = dict.fromkeys([*named, *(source for _, source in FORMULARY.sources())])
    return library.kept["sources"].keys()


def _named_sources(library: Library) -> Iterator[tuple[str, Path_, str]]:
    """Every place in the files that names a source."""
    for table, rows in library.tables.items():
        for key, row in rows.items():
            yield f"data/{table}.yaml", ("rows", key, "source"), row.source
            for symbol, source in row.sources.items():
                yield f"data/{table}.yaml", ("rows", key, "sources", symbol), source
    for key, series in library.series.items():
        yield "data/threads.yaml", ("series", key, "source"), series.source
        for symbol, source in series.sources.items():
            yield "data/threads.yaml", ("series", key, "sources", symbol), source
    for place, stock in enumerate(library.stock):
        yield "data/drills.yaml", ("stock", place, "source"), stock.source
    for key, caution in library.cautions.items():
        yield "cautions.yaml", ("cautions", key, "source"), caution.source
    for key, decided in library.designers.items():
        yield "designers.yaml", ("decided", key, "source"), decided.source
    if library.shop_sizes is not None:
        for path, source in library.shop_sizes.named_sources():
            yield "data/shop_sizes.yaml", path, source
    for key, pulled in library.series_pulled.items():
        if pulled.published:
            yield f"tests/{key}.yaml", ("published", "source"), pulled.published.source
    for key, given in library.inputs.items():
        if given.source:
            yield "inputs.yaml", ("givens", key, "source"), given.source
    for key, alike in library.shared.checks.items():
        yield "shared.yaml", ("checks", key, "source"), alike.source
    published = {(one.symbol, one.value, one.source) for one in library.shared.checks.values()}
    for name, sheet in library.sheets():
        for key, given in sheet.givens.items():
            shared = library.inputs.get(key)
            if given.source and not (shared and given.source == shared.source):  # that is told where it stands for all
                yield name, ("givens", key, "source"), given.source
        for place, check in enumerate(sheet.checks):
            if (check.symbol, check.value, check.source) not in published:
                yield name, ("checks", place, "source"), check.source


def sheet_faults(library: Library, kept: Kept, beside: Container[str] = ()) -> Iterator[Fault]:
    """Everything that is wrong in the cards and tables, but those that are `beside`, taken with the data."""
    origins = Origins(library)
    for name, sheet in [one for one in library.sheets() if one[0] not in beside]:
        find = partial(_sheet_faults, library, sheet, library.documents[name])
        faults = kept.faults(f"check {name}", origins.sheet(name), find)
        if faults and library.ships(name):
            _bring_along(library, name, sheet, faults[0])
        else:
            yield from faults


def _bring_along(library: Library, name: str, sheet: Sheet, why: Fault) -> None:
    """A sheet that ships and that one's own shop spoils is set back to what it comes set to, or left out."""
    as_shipped = sheet.model_copy(update={"givens": library.in_the_book(sheet).givens})
    if as_shipped.givens != sheet.givens and not [*_sheet_faults(library, as_shipped, library.documents[name])]:
        library.set_back(name, as_shipped)
        library.mind(name, f"cannot be worked with the defaults of the shop, and comes set as it ships: {why}")
    else:
        library.leave_out(name, why)


def _mine(library: Library, faults: Iterable[Fault]) -> list[Fault]:
    """The faults but those of a card or job sheet that ships and cannot be worked in one's own shop: it is left out."""
    names = {document.file: name for name, document in library.documents.items()}
    mine = []
    for fault in [*faults]:
        name = names.get(fault.file, "")
        if name.startswith(("cards/", "jobs/")) and library.ships(name):
            library.leave_out(name, fault)
        else:
            mine.append(fault)
    return mine


def _sheet_faults(library: Library, sheet: Sheet, document: Document) -> Iterator[Fault]:
    faults = [*_name_faults(library, sheet, document), *_caution_faults(library, sheet, document)]
    faults = faults or [*_range_faults(sheet, document)]
    faults = faults or [*_beyond_faults(sheet, document)]
    yield from faults
    if not faults:
        yield from _working_faults(library, sheet, document)


def chooser_faults(library: Library) -> Iterator[Fault]:
    """What the chooser names that is not there."""
    chooser = library.chooser
    if chooser is None:
        return
    document = library.documents["chooser.yaml"]
    asked = {name: list(question.options) for name, question in chooser.questions.items()}
    yield from _given_faults(library, document, chooser.givens)
    yield from _beyond_its_range(document, chooser.givens)
    yield from _takings_faults(library, document, "choices", chooser.choices, chooser.givens, "chooser")
    for place, choice in enumerate(chooser.choices):
        path: Path_ = ("choices", place, "fits")
        for name in asked:
            if not choice.fits.get(name):
                yield document.fault(path, f"say which answers to '{name}' it fits: {', '.join(asked[name])}")
        for name, answers in choice.fits.items():
            for number, answer in enumerate(answers):
                if answer not in asked.get(name, ()):
                    message = f"'{answer}' is no answer to a question '{name}'; questions: {', '.join(asked)}"
                    yield document.fault((*path, name, number), message)


def search_faults(library: Library) -> Iterator[Fault]:
    """Pages and inputs that the words of the search lead to and that are not there."""
    if library.search is None:
        return
    document, search = library.documents["search.yaml"], library.search
    pages = [f"cards/{name}" for name in library.cards] + [f"tables/{name}" for name in library.reference]
    pages += [f"jobs/{name}" for name in (*library.job_sheets, *library.spoilt)]
    for page in search.pages:
        if page not in pages:
            close = ", ".join(get_close_matches(page, pages, n=3) or pages[:3])
            yield document.fault(("pages", page), f"no page '{page}'; like it: {close}", at_key=True)
    for card, name in search.lengths.items():
        inputs = library.cards[card].givens if card in library.cards else {}
        if name not in inputs:
            message = (
                f"'{name}' is no input of a card '{card}'; inputs: {', '.join(inputs) or 'none, there is no such card'}"
            )
            yield document.fault(("lengths", card), message)
    for card, along in search.along.items():
        for name, choices in along.items():
            asked = library.cards[card].givens if card in library.cards else {}
            there = {f"{one}: {key}" for one in asked if one in library.choices for key in library.choices[one].rows}
            gone = [wanted for one, key in choices.items() if (wanted := f"{one}: {key}") not in there]
            if name not in asked or gone:
                message = f"no card '{card}' asks for '{name}' and has {', '.join(gone) or 'what goes along'}"
                yield document.fault(("along", card, name), message)
    for path, other in search.others.items():
        asked = library.home.givens if library.home and path == "index" else {}
        for of, name in other.takes.items():
            if name not in asked:
                message = f"the page '{path}' does not ask for '{name}'; it asks for: {', '.join(asked) or 'nothing'}"
                yield document.fault(("others", path, "takes", of), message)


def home_faults(library: Library) -> Iterator[Fault]:
    """Cards, inputs and tables that the home page names and that are not there."""
    if library.home is None:
        return
    document, home = library.documents["home.yaml"], library.home
    yield from _given_faults(library, document, home.givens)
    yield from _beyond_its_range(document, home.givens)
    yield from _takings_faults(library, document, "cards", home.cards, home.givens, "home page")
    for place, asked in enumerate(home.questions):
        if asked.table not in library.reference:
            close = ", ".join(get_close_matches(asked.table, library.reference, n=3) or [*library.reference][:3])
            yield document.fault(("questions", place, "table"), f"no table '{asked.table}'; like it: {close}")


def _takings_faults(
    library: Library, document: Document, key: str, takings: Sequence[Taking], asked: Collection[str], of: str
) -> Iterator[Fault]:
    """Cards that a page works and that are not there, and what they take that is not asked for or worked."""
    for place, one in enumerate(takings):
        if one.card not in library.cards:
            close = get_close_matches(one.card, library.cards, n=3) or list(library.cards)
            yield document.fault((key, place, "card"), f"no card '{one.card}'; cards: {', '.join(close)}")
            continue
        for name, own in one.given.items():
            if own not in asked:
                yield document.fault((key, place, "given", name), f"'{own}' is not among the {of}'s givens")
            elif _kind(own) != _kind(name):
                message = f"'{own}' is not the kind of thing that '{name}' is"
                yield document.fault((key, place, "given", name), message)
        # What is taken from a card that takes from another in turn could come from itself.
        others = [other.card for other in takings if other.card in library.cards and not other.from_]
        yield from _taken_faults(library, document, (key, place), one, others)


def _taken_faults(
    library: Library, document: Document, path: Path_, one: Taking, others: Sequence[str]
) -> Iterator[Fault]:
    """Inputs that a card does not have, and numbers that none of the other cards works."""
    card = library.cards[one.card]
    for key, names in (("given", one.given), ("from", one.from_), ("deep", one.deep)):
        for name in names:
            if name not in card.givens or (key == "deep" and name not in one.given):
                message = f"'{name}' is no input of this card; inputs: {', '.join(card.givens)}"
                yield document.fault((*path, key, name), message, at_key=True)
    for name, other in one.from_.items():
        if other not in others or not _works(library, other, name):
            able = [card for card in others if _works(library, card, name)]
            message = (
                f"'{other}' is no other card of this page that works '{name}'; it has: {', '.join(able) or 'none'}"
            )
            yield document.fault((*path, "from", name), message)
    for key, names in (("from", one.from_), ("deep", one.deep)):
        for name in names:
            if name in card.givens and not _is_length(name):
                yield document.fault(
                    (*path, key, name), f"'{name}' is no length, and only those are taken so", at_key=True
                )
    for name, depth in one.deep.items():
        if depth not in card.outputs or not _is_length(depth):
            yield document.fault((*path, "deep", name), f"'{depth}' is no depth that this card works")


def _kind(name: str) -> str:
    """The unit of an input that is a number, and of others what is chosen."""
    return FORMULARY.symbols[name].unit if name in FORMULARY.symbols else name


def _is_length(name: str) -> bool:
    return name in FORMULARY.symbols and FORMULARY.symbols[name].unit == "m"


def _works(library: Library, name: str, symbol: str) -> bool:
    """Whether a sound card comes to this symbol, with a number or a reason why it has none."""
    known: dict[str, Collection[str] | None] = library.kept.setdefault("works", {})
    if name not in known:
        try:
            working = reckon(library, library.cards[name], {}).working
            known[name] = {*working.values, *working.refused}
        except InputError:  # its defaults are not for this shop's own sizes
            known[name] = None
    worked = known[name]
    return worked is None or symbol in worked


def _name_faults(library: Library, sheet: Sheet, document: Document) -> Iterator[Fault]:
    for path, drawing in drawing_names(sheet) if isinstance(sheet, Card) else ():
        if drawing not in FIGURES:
            yield document.fault(path, _no_drawing(drawing))
    choices = {*library.choices, *SPECIAL} - {"shop"}
    unknown = sheet.givens.keys() - choices - FORMULARY.symbols.keys()
    for key in sheet.givens:
        if key in unknown:
            near = nearest(key, {*choices, *library.inputs, *FORMULARY.symbols})
            message = f"unknown input '{key}'; an input is a symbol or a choice; near it: {near}"
            yield document.fault(("givens", key), message, at_key=True)
        else:
            yield from _elsewhere_faults(library, key, sheet.givens[key], document)
    for path, run in _runs(sheet):
        yield from _run_faults(library, sheet, document, path, run) if run.input not in unknown else ()
    if isinstance(sheet, Table) and not unknown:
        yield from _table_faults(library, sheet, document)


def _elsewhere_faults(library: Library, name: str, given: Given, document: Document) -> Iterator[Fault]:
    """Rows that are left to another card: they and the card are there, and a row stays for this one."""
    if not given.elsewhere:
        return
    path: Path_ = ("givens", name, "elsewhere")
    if name not in library.choices:
        yield document.fault(path, f"'{name}' is chosen from no table, so it has no rows; leave this out", at_key=True)
        return
    table = library.choices[name].table
    for row, card in given.elsewhere.items():
        if row not in library.tables[table]:
            message = f"'{row}' is not one of the {table}: {', '.join(library.tables[table])}"
            yield document.fault((*path, row), message, at_key=True)
        if card not in library.cards:
            yield document.fault((*path, row), f"no card '{card}'; near it: {nearest(card, library.cards)}")
        for key in DEFAULTS:
            if getattr(given, key) == row:
                yield document.fault(("givens", name, key), f"'{row}' is left to another card; name a row that is not")


def _runs(sheet: Sheet) -> Iterator[tuple[Path_, Over]]:
    """What the rows and columns of a sheet's table run over, and where it stands."""
    if isinstance(sheet, Card) and sheet.table and sheet.table.over:
        yield ("table", "over"), sheet.table.over
    if isinstance(sheet, Table):
        runs = (("over", sheet.over), ("across", sheet.across), ("each", sheet.each))
        yield from (((role,), run) for role, run in runs if run is not None)


def _run_faults(library: Library, sheet: Sheet, document: Document, path: Path_, run: Over) -> Iterator[Fault]:
    """An input that runs is there, with values that can be read."""
    if run.input not in sheet.givens:
        yield document.fault((*path, "input"), f"'{run.input}' is not among the givens; add it there")
        return
    for key in ("values", *SYSTEMS):
        yield from _run_value_faults(library, sheet, run.input, document, (*path, key), getattr(run, key))
    counted = run.input in library.choices or run.input == "thread"
    if not counted and any(run.texts(system) is None for system in SYSTEMS):
        yield document.fault(path, f"give 'values', or 'metric' and 'inch', that '{run.input}' runs through")


def _table_faults(library: Library, table: Table, document: Document) -> Iterator[Fault]:
    """What only a reference table's rows and columns must hold: nothing runs twice, and notes are there to print."""
    seen: set[str] = set()
    for path, run in _runs(table):
        if run.input in seen:
            yield document.fault((*path, "input"), f"'{run.input}' runs already; name another input or leave this out")
        seen.add(run.input)
    for system in SYSTEMS:
        grids = prod(_run_length(library, run, system) for _, run in _runs(table))
        if grids > MOST_CELLS:
            message = (
                f"{grids} combinations in the {system} shop; a table works at most {MOST_CELLS}, so leave some out"
            )
            yield document.fault(("over",), message)
            break
    if table.aids and (missing := [name for name in AID_SYMBOLS if name not in {*table.outputs, *table.givens}]):
        message = f"'aids' are drawn from {', '.join(AID_SYMBOLS)}; add {', '.join(missing)} to 'wanted'"
        yield document.fault(("aids",), message)
    if table.aids and "thread" not in table.givens:
        yield document.fault(("aids",), "drilling aids are drawn thread by thread; add 'thread' to the givens")
    for key, said in (("heads", table.heads), ("zeros", table.zeros)):
        for symbol in said:
            if symbol not in table.columns:
                message = f"'{symbol}' is no column of this table; name one of them"
                yield document.fault((key, symbol), message, at_key=True)
    if NOTE in table.columns and table.over.input not in library.choices:
        path = ("columns", table.columns.index(NOTE))
        yield document.fault(path, f"'{table.over.input}' has no notes to print; a note is that of a data table's row")


def _run_length(library: Library, run: Over, system: System) -> int:
    """Through how many values an input runs."""
    texts = run.texts(system)
    if texts is not None:
        return len(texts)
    if run.input == "thread":
        return sum(len(series.rows) for series in library.series_in(system).values())
    return len(library.choices[run.input].rows) if run.input in library.choices else 1


def _run_value_faults(
    library: Library, sheet: Sheet, name: str, document: Document, path: Path_, texts: list[str] | None
) -> Iterator[Fault]:
    if texts is None:
        return
    if not texts or len(set(texts)) < len(texts):
        yield document.fault(path, "give at least one value, and none twice")
    for place, text in enumerate(texts):
        try:
            read_input(library, name, text)
        except QuantityError as error:
            yield document.fault((*path, place), f"{name}: {error}")
        if text in sheet.givens[name].elsewhere:
            yield document.fault((*path, place), f"'{text}' is left to another card; name a row that is not")


def _caution_faults(library: Library, sheet: Sheet, document: Document) -> Iterator[Fault]:
    named = sheet.all_cautions
    known = [library.cautions[caution] for caution in named if caution in library.cautions]
    if isinstance(sheet, Card) and not any(caution.defer for caution in known):
        yield document.fault(("cautions",), "none of the cautions here says who decides; add 'defer'")
    for caution, path in named.items():
        if caution not in library.cautions:
            yield document.fault(path, _no_caution(library, caution))
            continue
        when = library.cautions[caution].when
        if when and isinstance(sheet, Card) and when.symbol not in {*sheet.named, *sheet.givens}:
            asked = f"goes by '{when.symbol}', which this card does not work; add it to wanted"
            yield document.fault(path, f"the caution '{caution}' {asked}")


def _working_faults(library: Library, sheet: Sheet, document: Document) -> Iterator[Fault]:
    reckonings: dict[str, Reckoning] = {}
    loads = sheet.loads if isinstance(sheet, Card) else ()
    for shop, own in library.shops.items():
        system = own.units
        try:
            reckonings[shop] = reckon(library, sheet, {"shop": shop})
        except InputError as error:
            given = sheet.givens.get(error.name)
            path = ("givens", error.name, given.key(system)) if given else ("givens",)
            yield document.fault(path, str(error))
            continue
        except (AmbiguousFormula, CycleError) as error:
            symbol, more = error.symbols[0], _in_all(library, sheet, shop) if isinstance(error, CycleError) else ""
            message = f"{own.title}: {error}{way_of(error)}{more}"
            yield document.fault_in_text(sheet.named.get(symbol, ()), symbol, message)
            continue
        refused = {
            symbol: why
            for symbol, why in reckonings[shop].working.refused.items()
            if symbol in sheet.named and (symbol not in loads or isinstance(why, MissingGiven))
        }
        reasons = [
            (symbol, why)
            for symbol, why in {str(why): (symbol, why) for symbol, why in reversed(refused.items())}.values()
        ]
        missing = [(symbol, why) for symbol, why in refused.items() if isinstance(why, MissingGiven)]
        missing.sort(key=lambda one: len(one[1].symbols))
        for symbol, why in [*missing[:1], *(one for one in reasons if not isinstance(one[1], MissingGiven))]:
            more = _in_all(library, sheet, shop) if isinstance(why, MissingGiven) else ""
            message = f"{own.title}: {why}{way_of(why)}{more}"
            if path := _given_of(why, sheet, system):
                yield document.fault(path, message)
            else:
                yield document.fault_in_text(sheet.named[symbol], symbol, message)
        if refused:
            del reckonings[shop]
    if len(reckonings) < len(library.shops):
        return
    ways = prod(map(len, Reach(library, sheet, library.systems).ways)) if isinstance(sheet, Card) else 1
    if ways > MOST_WAYS:
        message = (
            f"the rows to choose from give {ways} different sets of symbols; a card in a page can hold {MOST_WAYS}"
        )
        yield document.fault(("givens",), f"{message}, so have the rows of a table give the same symbols")
        return
    yield from prose_faults(library, sheet, document, {system: reckonings[system] for system in SYSTEMS})
    if isinstance(sheet, Card):
        yield from shown_faults(library, document.file.partition("/")[2], sheet, reckonings[SYSTEMS[0]])
        yield from _bench_faults(library, sheet, document, reckonings.values())
    for place, _ in enumerate(sheet.checks):
        yield from _check_faults(library, sheet, document, place)


def _in_all(library: Library, sheet: Sheet, shop: str) -> str:
    """Every input that other sheets ask for and this one lacks, as the end of a message."""
    asked = {**{name: given for _, one in library.sheets() for name, given in one.givens.items()}, **library.inputs}
    often = Counter(name for _, one in library.sheets() for name in one.givens)
    lacks: list[str] = []
    while len(lacks) < len(asked):
        givens = {**sheet.givens, **{name: asked[name] for name in lacks}}
        try:
            refused = reckon(library, sheet.model_copy(update={"givens": givens}), {"shop": shop}).working.refused
            missing = [why.symbols for why in refused.values() if isinstance(why, MissingGiven)]
            lost = [way[-1] for way in sorted(missing, key=len)]  # a long way may be one of several
        except WorkingError as error:  # nothing breaks a circle of symbols, as no ratio that of the mix
            lost = [*error.symbols]
        ways = ({*_that_give(library, symbol)} & asked.keys() - givens.keys() for symbol in lost)
        found = [max(sorted(names), key=often.__getitem__) for names in ways if names]
        if not found:
            break
        lacks.append(found[0])
    return f". Add to the givens: {', '.join(lacks)}" if lacks else ""


def _that_give(library: Library, symbol: str) -> list[str]:
    """The inputs that give a symbol: itself, or the choice of a row that does."""
    choices = [name for name, one in library.choices.items() if any(symbol in row.symbols for row in one.rows.values())]
    first = [symbol] if symbol in library.inputs else []
    return [
        *first,
        *choices,
        symbol,
        *(["thread"] if symbol in ("d", "P") else []),
        *(["ratio"] if symbol == "n_v" else []),
    ]


def way_of(error: WorkingError) -> str:
    """The symbols on the way to what cannot be found, as whoever writes a card knows them."""
    lost = isinstance(error, MissingGiven | AmbiguousFormula | CycleError)
    return f"; needed for {arrows(error.symbols)}" if lost else ""


def _given_of(why: WorkingError, sheet: Sheet, system: System) -> Path_:
    """The given that the reason is about, if one of its symbols is given in the sheet."""
    for symbol in why.symbols:
        if symbol in sheet.givens:
            return ("givens", symbol, sheet.givens[symbol].key(system))
    return ()


def _range_faults(sheet: Sheet, document: Document) -> Iterator[Fault]:
    for name, given in sheet.givens.items():
        limits = []
        for key in ("min", "max"):
            text = getattr(given, key)
            if text is None:
                continue
            try:
                limits.append(read_sensible(name, text))
            except (QuantityError, KeyError) as error:
                yield document.fault(("givens", name, key), f"{name}: {error}")
        if len(limits) == 2 and limits[0] > limits[1]:
            yield document.fault(("givens", name, "min"), "the least is more than the most; swap them")


# Where a table's run has its values, and the units that a fault of them is told in.
_RUN_VALUES: tuple[tuple[str, System], ...] = (("values", "metric"), ("metric", "metric"), ("inch", "inch"))


def _beyond_faults(sheet: Sheet, document: Document) -> Iterator[Fault]:
    """Values that the rows and columns of a table run through and that its own inputs refuse."""
    for path, run in _runs(sheet):
        for key, system in _RUN_VALUES if run.input in FORMULARY.symbols else ():
            for place, text in enumerate(getattr(run, key) or ()):
                try:
                    within_range(sheet, run.input, read_symbol(run.input, text), system)
                except QuantityError as error:
                    yield document.fault((*path, key, place), f"{run.input}: {error}")


def _bench_faults(library: Library, card: Card, document: Document, reckonings: Iterable[Reckoning]) -> Iterator[Fault]:
    """A bench side that is too long to be read from an arm's length."""
    most = max(word_count(card, library.cautions, reckoning) for reckoning in reckonings)
    if most > MOST_WORDS:
        message = f"the bench side has {most} words, {MOST_WORDS} are the most; shorten 'line' and 'seen' of the steps"
        yield document.fault(("steps",), message)


def _check_faults(library: Library, sheet: Sheet, document: Document, place: int) -> Iterator[Fault]:
    check, path = sheet.checks[place], ("checks", place)
    for key, read in (("value", read_sensible), ("tolerance", read_tolerance)):
        try:
            read(check.symbol, getattr(check, key))
        except QuantityError as error:
            yield document.fault((*path, key), str(error))
            return
    try:
        result = check_result(library, sheet, check)
    except InputError as error:
        yield document.fault((*path, "given", error.name), str(error), at_key=isinstance(error, UnknownInput))
        return
    except BondwrightError as error:  # no number to compare
        yield document.fault((*path, "given"), str(error))
        return
    if not result.holds:
        yield document.fault(
            (*path, "value"),
            f"{check.symbol} is published as {check.value} (tolerance {check.tolerance}), this card works "
            f"{plain(result.own)}; mend the formula or the data, or correct the published value",
        )
