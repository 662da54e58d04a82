"""Two pages never disagree: what two of them print for the same inputs is the same, to the last digit."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import product
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from markupsafe import escape

from conftest import LIBRARY
from generator.errors import WorkingError
from generator.formula import FORMULARY
from generator.job import InputError, Job, do_job
from generator.jobs.fittings import carried, planned_by, work_fittings
from generator.model.quantity import read_symbol
from generator.model.schema import Over, Sheet, Table
from generator.pages.chosen import chosen
from generator.pages.frame import menu
from generator.pages.job_sheet import card_address
from generator.pages.options import SiteOptions
from generator.units import SPELLINGS, SYSTEMS, System, from_base, plain

SHEETS = {name.removesuffix(".yaml"): sheet for name, sheet in LIBRARY.sheets()}
TABLES = [name for name, sheet in SHEETS.items() if isinstance(sheet, Table)]


def printed(job: Job, symbol: str) -> str | None:
    """What a page prints for a symbol, None where it has no number."""
    try:
        return plain(job.shop(symbol))
    except (WorkingError, KeyError):
        return None


def tried(sheet: Sheet, inputs: dict[str, str], symbol: str) -> Job | None:
    """The sheet worked with these inputs, None where they do not go together."""
    try:
        return do_job(LIBRARY, sheet, inputs, extra=[symbol])
    except (InputError, WorkingError):
        return None


def some(run: Over | None, system: System) -> list[dict[str, str]]:
    """The first, the middle and the last of what an input runs through."""
    if run is None:
        return [{}]
    texts = run.texts(system)
    if texts is None:
        if run.input == "thread":
            texts = [thread.size for _, series, thread in LIBRARY.threads() if series.shop == system]
        else:
            texts = list(LIBRARY.tables[LIBRARY.choices[run.input].table])
    return [{run.input: text} for text in dict.fromkeys((texts[0], texts[len(texts) // 2], texts[-1]))]


def cells(table: Table) -> Iterator[tuple[dict[str, str], str]]:
    """Inputs and symbol of cells all over a table."""
    symbols = [table.across.symbol] if table.across else [symbol for symbol in table.columns if symbol != "note"]
    for system in SYSTEMS:
        for parts in product(some(table.over, system), some(table.across, system), some(table.each, system)):
            inputs = {"shop": str(system)} | {name: text for part in parts for name, text in part.items()}
            yield from ((inputs, symbol) for symbol in symbols)


@cache
def told_by(name: str) -> frozenset[str]:
    """What a sheet works for its reader."""
    sheet = SHEETS[name]
    return frozenset(sheet.outputs)


def as_text(symbol: str, value: float) -> str:
    """A value as an input may be written."""
    base = FORMULARY.symbols[symbol].unit
    spelling, unit = next(iter(SPELLINGS[base].items()))
    return f"{from_base(value, base, unit):.12f} {spelling}".strip()


def same_inputs(job: Job, other: Sheet) -> dict[str, str]:
    """The inputs of this sheet for another one, and its own as far as they are worked here."""
    inputs = {"shop": str(job.system)} | {name: text for name, text in job.texts.items() if name in FORMULARY.symbols}
    for name in other.givens:
        if name in job.texts:
            inputs[name] = job.texts[name]
        elif name in job.working.values:
            inputs[name] = as_text(name, job.working.values[name])
    return inputs


def gives(name: str) -> set[str]:
    """The symbols that an input may give."""
    if name not in LIBRARY.choices:
        return {name, "d", "P"} if name == "thread" else {"n_v", "n_w"} if name == "ratio" else {name}
    return {symbol for row in LIBRARY.choices[name].rows.values() for symbol in row.symbols}


def needed_for(job: Job, symbol: str) -> set[str]:
    """The symbols that a symbol was worked from, one after another."""
    steps = {step.symbol: step.by.parameters if step.by else () for step in job.working.trail}
    ahead, seen = [symbol], set[str]()
    while ahead:
        name = ahead.pop()
        if name not in seen:
            seen.add(name)
            ahead += steps.get(name, ())
    return seen


def asks_more(job: Job, inputs: dict[str, str], symbol: str) -> bool:
    """Whether a symbol hangs on something that only this sheet's reader chooses. A default with a source is a fact."""
    own = [name for name, given in job.sheet.givens.items() if name not in inputs and given.source is None]
    return any(gives(name) & needed_for(job, symbol) for name in own)


# What a fitting takes, of whatever joint it is: two pages speak of the same where they work it the same way.
OF_ITS_JOINT = {"V_1", "m_w"}


def way_to(job: Job, symbol: str) -> object:
    """The formula that a symbol was worked by."""
    return next(step.by for step in job.working.trail if step.symbol == symbol)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_agrees_with_every_page_that_works_the_same(name: str) -> None:
    table = SHEETS[name]
    assert isinstance(table, Table)
    faults = []
    for inputs, symbol in cells(table):
        job = tried(table, inputs, symbol)
        here = printed(job, symbol) if job else None
        if job is None or here is None:
            continue
        for other, sheet in SHEETS.items():
            if other == name or symbol not in told_by(other):
                continue
            given = same_inputs(job, sheet)
            there = tried(sheet, given, symbol)
            if there is None or asks_more(there, given, symbol):
                continue
            if symbol in OF_ITS_JOINT and way_to(job, symbol) != way_to(there, symbol):
                continue
            if printed(there, symbol) not in (here, None):
                faults.append(f"{symbol} {inputs}: {here} here, {printed(there, symbol)} in {other}")
    assert not faults, "\n".join(faults)


# Sizes that no example has, woods that are light, oily and dense, cold and heat, many fittings, an edge at the axis.
ODD = [
    {"shop": "metric", "thread": "M4", "T": "31 mm", "wood": "western-redcedar", "T_a": "2 °C"},
    {"shop": "metric", "thread": "M5", "T": "47 mm", "wood": "teak", "T_a": "12 °C", "N": "1"},
    {"shop": "metric", "thread": "M14", "T": "170 mm", "wood": "iroko", "T_a": "33 °C", "N": "12", "a_e": "0 mm"},
    {"shop": "metric", "thread": "M24", "T": "300 mm", "wood": "white-oak", "T_a": "38 °C"},
    {"shop": "inch", "thread": "#6-32 UNC", "T": "1 5/8 in", "wood": "douglas-fir", "T_a": "71 °F"},
    {"shop": "inch", "thread": "7/16-14 UNC", "T": "5 3/16 in", "wood": "teak", "T_a": "52 °F", "a_e": "1 1/4 in"},
    {"shop": "inch", "thread": "1-8 UNC", "T": "11 in", "wood": "white-oak", "T_a": "93 °F", "N": "12"},
]


def compared(name: str, others: Iterable[str], odd: dict[str, str], own_work: Iterable[str] = ()) -> Iterator[str]:
    """Each value that a sheet set to an odd job shares with others set alike: empty, or how the two disagree."""
    sheet = SHEETS[name]
    own = {key: text for key, text in odd.items() if key in sheet.givens or key == "shop"}
    if "D_o" in sheet.givens:
        own.pop("thread", None)  # the hole is asked for by itself, and would stay that of another thread
    for other in others:
        common = sorted((told_by(name) & told_by(other)) - {"note", *own_work})
        if name == other or len(own) < 2 or not common or (job := worked(name, tuple(own.items()))) is None:
            continue
        given = same_inputs(job, SHEETS[other]) | {
            key: text for key, text in own.items() if key in SHEETS[other].givens
        }
        try:
            there = do_job(LIBRARY, SHEETS[other], given, extra=common)
        except (InputError, WorkingError):
            continue
        for symbol in common:
            here = printed(job, symbol)
            refused = there.working.refused.get(symbol)
            needs = refused.symbols if isinstance(refused, WorkingError) else [symbol]
            if here is None or any(asks_more(there, given, one) for one in needs):
                continue
            if there.has(symbol) and symbol in OF_ITS_JOINT and way_to(job, symbol) != way_to(there, symbol):
                continue
            seen = printed(there, symbol)
            yield "" if seen == here else f"{symbol} {own}: {here} in {name}, {seen} in {other}"


def test_every_table_set_to_an_odd_job_agrees_with_every_page_that_is_set_alike() -> None:
    """Where a table has a number, a card that works the same has it too, and the same: none is refused there alone."""
    said = [one for name, odd in product(TABLES, ODD) for one in compared(name, SHEETS, odd)]
    assert not any(said), "\n".join(filter(None, said))
    assert len(said) > 1000


# How long hands are busy is of a card's own work, and how much of a mix stays plain, so how much filler goes into it.
OF_ITS_WORK = {"t_bh", "m_y"}


def test_every_card_set_to_an_odd_job_agrees_with_every_card_that_is_set_alike() -> None:
    cards = [f"cards/{name}" for name in LIBRARY.cards]
    said = [one for name, odd in product(cards, ODD[1::2]) for one in compared(name, cards, odd, OF_ITS_WORK)]
    assert not any(said), "\n".join(filter(None, said))
    assert len(said) > 500


@cache
def worked(name: str, inputs: tuple[tuple[str, str], ...]) -> Job | None:
    """A sheet with these inputs and all that it tells, once for every page that it is compared with."""
    try:
        return do_job(LIBRARY, SHEETS[name], dict(inputs), extra=sorted(told_by(name) - {"note"}))
    except (InputError, WorkingError):
        return None


# Where a fact of the trade differs because the job does.
DIFFERS = {
    # A seat is buttered, and loses less than what goes through a syringe.
    "w_a": {"cards/backing-plate", "cards/cast-seat", "cards/released-seat"},
    # Small holes take a smaller syringe.
    "V_s": {"cards/bonded-bush", "cards/cast-thread"},
    # A seat that lets go is wetted out on one face.
    "n_rs": {"cards/released-seat"},
    # A bore, a bush, a plug and a screw each take their own time to fill.
    "t_1": {
        *("cards/bedded-cored", "cards/bonded-bush", "cards/bonded-screw", "cards/cast-thread", "cards/worn-hole"),
        *("cards/cast-seat", "cards/released-seat", "cards/backing-plate"),
    },
    # A bolt through a worn place presses on a plate, the others on washers.
    "q_sk": {"cards/worn-hole"},
    # A cored deck is thinner than solid wood.
    "l_k": {"cards/bedded-cored"},
}


def test_a_fact_of_the_trade_is_the_same_on_every_page() -> None:
    """A default that has a source is no choice of the reader's. Two pages that ask for it give it alike."""
    facts: dict[str, dict[tuple[str, ...], list[str]]] = defaultdict(lambda: defaultdict(list))
    for name, sheet in SHEETS.items():
        for symbol, given in sheet.givens.items():
            if given.source is not None and name not in DIFFERS.get(symbol, ()):
                facts[symbol][(*(given.text(system) for system in SYSTEMS), given.source)].append(name)
    assert not {symbol: dict(told) for symbol, told in facts.items() if len(told) > 1}


def capacity(thread: str, wood: str, depth: float) -> Job:
    table = SHEETS["tables/bond-capacity"]
    return do_job(LIBRARY, table, {"thread": thread, "wood": wood, "T": f"{depth * 1000:.6f} mm"}, extra=["F_w"])


@pytest.mark.parametrize("load", ["0.5 kN", "1 kN", "1.5 kN", "2 kN", "3 kN"])
@pytest.mark.parametrize("wood", ["western-redcedar", "douglas-fir", "white-oak"])
@pytest.mark.parametrize("thread", ["M6", "M8", "M10", "M12"])
def test_the_depth_for_a_load_carries_it_and_no_lesser_one_that_the_rules_allow_does(
    thread: str, wood: str, load: str
) -> None:
    """Two tables, each the other's inverse: both as printed, in whole millimetres."""
    job = tried(SHEETS["tables/thread-for-load"], {"thread": thread, "wood": wood, "F_n": load}, "T_n")
    if job is None or printed(job, "T_n") is None:
        return
    depth = int(plain(job.number("T_n"))) / 1000
    assert capacity(thread, wood, depth).working.values["F_w"] >= job.working.values["F_n"] * (1 - 1e-9)
    less = capacity(thread, wood, depth - 0.004).working.values
    assert less["F_w"] < job.working.values["F_n"] or less["L_b"] < less["L_ru"]


def test_both_tables_say_from_where_on_a_bond_is_short() -> None:
    for name in ("tables/bond-capacity", "tables/thread-for-load"):
        assert any("{L_ru}" in note for note in SHEETS[name].notes), name


@pytest.mark.parametrize("system", SYSTEMS)
def test_no_table_or_card_goes_beyond_what_is_mixed_in_one_cup(system: System) -> None:
    most = read_most("m_c")
    for name, sheet in SHEETS.items():
        if "m_b" in sheet.givens and name != "tables/scales":
            assert sheet.givens["m_b"].max == "m_c" or read_symbol("m_b", str(sheet.givens["m_b"].max)) <= most, name
        if isinstance(sheet, Table) and sheet.over.input == "m_b":
            assert all(read_symbol("m_b", text) <= most for text in sheet.over.texts(system) or ())


def read_most(symbol: str) -> float:
    return next(one.values[symbol] for one in LIBRARY.always_given if symbol in one.values)


def test_a_plate_is_cut_from_what_a_job_sheet_buys() -> None:
    for system in SYSTEMS:
        sizes = LIBRARY.sold(system)["plate"].sizes
        assert do_job(LIBRARY, SHEETS["cards/backing-plate"], {"shop": system}).working.values["h_rsp"] in sizes
        assert do_job(LIBRARY, SHEETS["tables/backing-plates"], {"shop": system}).working.values["h_rsp"] in sizes


def test_a_screw_carries_the_same_whether_it_is_called_coach_or_lag() -> None:
    """The same quantity under two symbols: a table works it for the thread, a card for the shank."""
    for wood in LIBRARY.tables["woods"]:
        lag = do_job(LIBRARY, SHEETS["tables/lag-screw"], {"thread": "M8", "L_o": "50 mm", "wood": wood})
        own = {"d_sc": "8 mm", "L_sc": "50 mm", "wood": wood}
        screw = tried(SHEETS["cards/bonded-screw"], own, "F_sc")
        assert screw is None or printed(screw, "F_sc") in (printed(lag, "F_lag"), None)


def entries(menu: Iterable[Any]) -> Iterator[tuple[str, str]]:
    """The titles in a menu and the pages that they lead to."""
    for entry in menu:
        for title, below in entry.items() if isinstance(entry, dict) else ():
            if isinstance(below, str):
                yield title, below
            else:
                yield from entries(below)


def test_the_menu_calls_every_page_by_its_title() -> None:
    sheets = {"cards": LIBRARY.cards, "tables": LIBRARY.reference, "jobs": LIBRARY.job_sheets}
    titled = {
        (escape(one.title), f"{folder}/{name}.md") for folder, some in sheets.items() for name, one in some.items()
    }
    shown = [*entries(menu(chosen(LIBRARY, SiteOptions()), [path for _, path in titled]))]
    assert len(shown) == len(set(shown))
    assert set(shown) == titled


@pytest.mark.parametrize("name", sorted(LIBRARY.job_sheets))
def test_a_job_sheet_says_what_the_card_says_that_is_set_alike(name: str) -> None:
    """Holes, flags, times and what is bought, fitting by fitting: the link in the sheet leads to the very same numbers."""
    told = 0
    for one in work_fittings(LIBRARY, name):
        address = urlsplit(card_address(one.fitting.card, one.inputs))
        set_alike = {key: texts[0] for key, texts in parse_qs(address.query, strict_parsing=True).items()}
        card = do_job(LIBRARY, one.card, set_alike)
        for symbol in planned_by(one.card) & {*one.card.outputs}:
            assert printed(one.job, symbol) == printed(card, symbol), (one.name, symbol)
            told += printed(card, symbol) is not None
        for acts, symbols in one.on_the_job.carries.items():
            load = carried(LIBRARY, one.card, one.inputs, acts, None)
            if not isinstance(load, str) and card.has(load[0]):
                assert load[1] == pytest.approx(card.working.values[load[0]]), (one.name, symbols)
    assert told >= 100
