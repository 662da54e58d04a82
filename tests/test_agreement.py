"""Two pages never disagree: what two of them print for the same inputs is the same, to the last digit."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from functools import cache
from html import unescape
from itertools import pairwise, product
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from markupsafe import escape

from conftest import LIBRARY, searched
from generator.errors import WorkingError
from generator.formula import FORMULARY
from generator.jobs.fittings import carried, planned_by, work_fittings
from generator.model.quantity import read_symbol
from generator.model.schema import Over, Sheet, Table
from generator.pages.asked import load_symbols
from generator.pages.chooser import ChooserPage
from generator.pages.chosen import chosen
from generator.pages.frame import menu
from generator.pages.home import HomePage
from generator.pages.job_sheet import card_address
from generator.pages.options import SiteOptions
from generator.reckoning import InputError, Reckoning, reckon
from generator.units import SPELLINGS, SYSTEMS, System, from_base, plain

SHEETS = {name.removesuffix(".yaml"): sheet for name, sheet in LIBRARY.sheets()}
TABLES = [name for name, sheet in SHEETS.items() if isinstance(sheet, Table)]


def printed(reckoning: Reckoning, symbol: str) -> str | None:
    """What a page prints for a symbol, None where it has no number."""
    try:
        return plain(reckoning.shop(symbol))
    except (WorkingError, KeyError):
        return None


def tried(sheet: Sheet, inputs: dict[str, str], symbol: str) -> Reckoning | None:
    """The sheet worked with these inputs, None where they do not go together."""
    try:
        return reckon(LIBRARY, sheet, inputs, extra=[symbol])
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


def same_inputs(reckoning: Reckoning, other: Sheet) -> dict[str, str]:
    """The inputs of this sheet for another one, and its own as far as they are worked here."""
    inputs = {"shop": str(reckoning.system)} | {
        name: text for name, text in reckoning.texts.items() if name in FORMULARY.symbols
    }
    for name in other.givens:
        if name in reckoning.texts:
            inputs[name] = reckoning.texts[name]
        elif name in reckoning.working.values:
            inputs[name] = as_text(name, reckoning.working.values[name])
    return inputs


@cache
def gives(name: str) -> set[str]:
    """The symbols that an input may give."""
    if name not in LIBRARY.choices:
        return {name, "d", "P"} if name == "thread" else {"n_v", "n_w"} if name == "ratio" else {name}
    return {symbol for row in LIBRARY.choices[name].rows.values() for symbol in row.symbols}


def needed_for(reckoning: Reckoning, symbol: str) -> set[str]:
    """The symbols that a symbol was worked from, one after another."""
    steps = {step.symbol: step.by.parameters if step.by else () for step in reckoning.working.trail}
    ahead, seen = [symbol], set[str]()
    while ahead:
        name = ahead.pop()
        if name not in seen:
            seen.add(name)
            ahead += steps.get(name, ())
    return seen


def asks_more(reckoning: Reckoning, inputs: dict[str, str], symbol: str) -> bool:
    """Whether a symbol hangs on something that only this sheet's reader chooses. A default with a source is a fact."""
    own = [name for name, given in reckoning.sheet.givens.items() if name not in inputs and given.source is None]
    needed = needed_for(reckoning, symbol)
    return any(gives(name) & needed for name in own)


# What a fitting takes, of whatever joint it is: two pages speak of the same where they work it the same way.
OF_ITS_JOINT = {"V_1", "m_w"}


def way_to(reckoning: Reckoning, symbol: str) -> object:
    """The formula that a symbol was worked by."""
    return next(step.by for step in reckoning.working.trail if step.symbol == symbol)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_agrees_with_every_page_that_works_the_same(name: str) -> None:
    table = SHEETS[name]
    assert isinstance(table, Table)
    faults = []
    for inputs, symbol in cells(table):
        reckoning = tried(table, inputs, symbol)
        here = printed(reckoning, symbol) if reckoning else None
        if reckoning is None or here is None:
            continue
        for other, sheet in SHEETS.items():
            if other == name or symbol not in told_by(other):
                continue
            given = same_inputs(reckoning, sheet)
            there = tried(sheet, given, symbol)
            if there is None or asks_more(there, given, symbol):
                continue
            if symbol in OF_ITS_JOINT and way_to(reckoning, symbol) != way_to(there, symbol):
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
        if name == other or len(own) < 2 or not common or (reckoning := worked(name, tuple(own.items()))) is None:
            continue
        given = same_inputs(reckoning, SHEETS[other]) | {
            key: text for key, text in own.items() if key in SHEETS[other].givens
        }
        try:
            there = reckon(LIBRARY, SHEETS[other], given, extra=common)
        except (InputError, WorkingError):
            continue
        for symbol in common:
            here = printed(reckoning, symbol)
            refused = there.working.refused.get(symbol)
            needs = refused.symbols if isinstance(refused, WorkingError) else [symbol]
            if here is None or any(asks_more(there, given, one) for one in needs):
                continue
            if there.has(symbol) and symbol in OF_ITS_JOINT and way_to(reckoning, symbol) != way_to(there, symbol):
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
def worked(name: str, inputs: tuple[tuple[str, str], ...]) -> Reckoning | None:
    """A sheet with these inputs and all that it tells, once for every page that it is compared with."""
    try:
        return reckon(LIBRARY, SHEETS[name], dict(inputs), extra=sorted(told_by(name) - {"note"}))
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


def capacity(thread: str, wood: str, depth: float) -> Reckoning:
    table = SHEETS["tables/bond-capacity"]
    return reckon(LIBRARY, table, {"thread": thread, "wood": wood, "T": f"{depth * 1000:.6f} mm"}, extra=["F_w"])


@pytest.mark.parametrize("load", ["0.5 kN", "1 kN", "1.5 kN", "2 kN", "3 kN"])
@pytest.mark.parametrize("wood", ["western-redcedar", "douglas-fir", "white-oak"])
@pytest.mark.parametrize("thread", ["M6", "M8", "M10", "M12"])
def test_the_depth_for_a_load_carries_it_and_no_lesser_one_that_the_rules_allow_does(
    thread: str, wood: str, load: str
) -> None:
    """Two tables, each the other's inverse: both as printed, in whole millimetres."""
    reckoning = tried(SHEETS["tables/thread-for-load"], {"thread": thread, "wood": wood, "F_n": load}, "T_n")
    if reckoning is None or printed(reckoning, "T_n") is None:
        return
    depth = int(plain(reckoning.number("T_n"))) / 1000
    assert capacity(thread, wood, depth).working.values["F_w"] >= reckoning.working.values["F_n"] * (1 - 1e-9)
    less = capacity(thread, wood, depth - 0.004).working.values
    assert less["F_w"] < reckoning.working.values["F_n"] or less["L_b"] < less["L_ru"]


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
        assert reckon(LIBRARY, SHEETS["cards/backing-plate"], {"shop": system}).working.values["h_rsp"] in sizes
        assert reckon(LIBRARY, SHEETS["tables/backing-plates"], {"shop": system}).working.values["h_rsp"] in sizes


def test_a_screw_carries_the_same_whether_it_is_called_coach_or_lag() -> None:
    """The same quantity under two symbols: a table works it for the thread, a card for the shank."""
    for wood in LIBRARY.tables["woods"]:
        lag = reckon(LIBRARY, SHEETS["tables/lag-screw"], {"thread": "M8", "L_o": "50 mm", "wood": wood})
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
        card = reckon(LIBRARY, one.card, set_alike)
        for symbol in planned_by(one.card) & {*one.card.outputs}:
            assert printed(one.reckoning, symbol) == printed(card, symbol), (one.name, symbol)
            told += printed(card, symbol) is not None
        for acts, symbols in one.on_the_job.carries.items():
            load = carried(LIBRARY, one.card, one.inputs, acts, None)
            if not isinstance(load, str) and card.has(load[0]):
                assert load[1] == pytest.approx(card.working.values[load[0]]), (one.name, symbols)
    assert told >= 100


# What is shown away from its own page: the handout, the walls, the search, and the two pages that work several cards.

FIGURE = re.compile(r'<a data-s="(\w+)"[^>]*>(.*?)</a>', re.DOTALL)
IN_SHOP = re.compile(r'<span data-shop="(\w+)">(.*?)</span>', re.DOTALL)


def as_read(html: str) -> str:
    """A piece of a page as plain text."""
    return unescape(re.sub(r"<[^>]+>", "", html)).strip()


def test_the_handout_prints_what_each_card_works(files: Mapping[str, str]) -> None:
    """Every value of every card in it, in both shops, where a card has one value for all of it."""
    whole = files["print/handout.md"]
    starts = [(found.start(), found[1]) for found in re.finditer(r'<h2 class="bw-title" id="([\w-]+)"', whole)]
    assert {name for _, name in starts} == set(LIBRARY.cards)
    told, faults = 0, []
    for (start, name), (end, _) in pairwise([*starts, (len(whole), "")]):
        reckonings = {str(system): reckon(LIBRARY, LIBRARY.cards[name], {"shop": str(system)}) for system in SYSTEMS}
        for symbol, said in FIGURE.findall(whole, start, end):
            # What both shops read alike, or what stands in a sentence of one of them, does not name its shop.
            for shops, text in [([shop], text) for shop, text in IN_SHOP.findall(said)] or [(reckonings, said)]:
                there = [reckonings[shop].titles.get(symbol) or reckonings[shop].said(symbol) for shop in shops]
                told += 1
                if plain(as_read(text)) not in map(plain, there):
                    faults.append(f"{name} {symbol}: {as_read(text)}, worked {there}")
    assert not faults, "\n".join(faults)
    assert told > 2000


ROW = re.compile(r"<tr[^>]*>(<th scope=\"row\".*?)</tr>", re.DOTALL)


def rows_of(page: str) -> set[tuple[str, ...]]:
    """The rows of the tables on a page, as texts."""
    return {tuple(as_read(cell) for cell in re.split(r"</t[hd]>", row)[:-1]) for row in ROW.findall(page)}


def test_every_wall_says_what_its_table_says(files: Mapping[str, str]) -> None:
    walls = {path: text for path, text in files.items() if re.match(r"print/wall-[\w-]+\.md", path)}
    assert len(walls) == sum(table.wall for table in LIBRARY.reference.values())
    for path, text in walls.items():
        table = path.removeprefix("print/wall-")
        shown = rows_of(text)
        assert shown, path
        assert shown <= rows_of(files[f"tables/{table}"]), path


# What is asked, the table that answers, the card that works the same, what sets it so: with `head` the head of a cell,
# with `row` that of the row, with `grid` the name of the grid; and the symbol that each cell is compared with, by its
# head, or the one that all of them hold.
ASKED: list[tuple[str, str, str, dict[str, str], dict[str, str] | str]] = [
    ("hardener for 3 oz", "mix", "mixing", {"m_b": "{row}", "ratio": "{head}"}, "m_h"),
    ("5 to 1 for 30 g", "mix", "mixing", {"m_b": "{row}", "ratio": "{head}"}, "m_h"),
    ("hardener for 100 g at 2:1", "mix", "mixing", {"m_b": "{row}", "ratio": "{head}"}, "m_h"),
    ("pot life at 28 deg C", "pot-life", "mixing", {"T_a": "{row}", "hardener": "{head}"}, "t_w"),
    ("pot life at 65 °F", "pot-life", "mixing", {"T_a": "{row}", "hardener": "{head}", "shop": "inch"}, "t_w"),
    *(
        (ask, "cure", "bonded-stepped-hole", {"T_a": "{row}", "shop": shop}, {"full load": "t_f", "handle": "t_h"})
        for ask, shop in (("full load at 12 deg C", "metric"), ("60 °F cure", "inch"))
    ),
    *(
        (f"stepped hole for {size}", "stepped-holes", "bonded-stepped-hole", {"thread": size, "shop": shop},
         {"guide hole": "D_g", "oversized hole": "D_o", "mark on the large": "M_o"})
        for size, shop in (("M5", "metric"), ("M8", "metric"), ("M16", "metric"), ("1/4-20 UNC", "inch"))
    ),
    *(
        (f"pilot hole for a No. {gauge} screw", "wood-screws", "bonded-screw",
         {"gauge": f"gauge-{gauge}", "pilot": "{grid}", "wood": "white-oak"}, {"pilot": "D_sc"})
        for gauge in ("8", "10", "12")
    ),
]  # fmt: skip


def by_title(name: str, text: str) -> str:
    """What a form is given for a choice that a page calls by its title; any other text as it is."""
    rows = LIBRARY.choices[name].rows if name in LIBRARY.choices else {}
    return next((key for key, row in rows.items() if row.title == text), text)


def test_the_search_answers_with_what_the_cards_work(site: Path) -> None:
    """Cell by cell: a hit's numbers are those of a card that is set as the hit's row and heads say."""
    answers = searched(site / "search/index.js", [one[0] for one in ASKED])
    for (ask, table, card, given, symbols), found in zip(ASKED, answers, strict=True):
        hit = next(one for one in found if one["path"] == f"tables/{table}" and one["cells"])
        (row, *grid), told = hit["where"].split(", "), 0
        for head, value in hit["cells"]:
            symbol = symbols if isinstance(symbols, str) else next((s for w, s in symbols.items() if w in head), "")
            if not symbol:
                continue
            inputs = {
                name: by_title(name, text.format(row=row, head=head, grid=", ".join(grid)))
                for name, text in given.items()
            }
            reckoning = reckon(LIBRARY, LIBRARY.cards[card], inputs, extra=[symbol])
            assert plain(value) == plain(reckoning.shop(symbol)), (ask, head, inputs)
            told += 1
        assert told >= (1 if isinstance(symbols, dict) else 3), (ask, hit["cells"])


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: odd["thread"])
def test_home_and_chooser_carry_what_their_cards_print(odd: dict[str, str]) -> None:
    """For the same thread, depth and wood: each load in words, and the order that the chooser ranks by."""
    assert LIBRARY.home
    assert LIBRARY.chooser
    shop = odd["shop"]
    home = HomePage(LIBRARY, LIBRARY.home, chosen(LIBRARY, SiteOptions()), SiteOptions())
    chooser = ChooserPage(LIBRARY, LIBRARY.chooser, SiteOptions())
    for page, cards in ((home, home.home.cards), (chooser, chooser.chooser.choices)):
        page.given = {**page.given, shop: {**page.given[shop], **{k: v for k, v in odd.items() if k in page.givens}}}
        page.given[shop]["n_h"] = "1"
        for one in cards:
            given = {n: page.given[shop][o] for n, o in one.given.items()}
            with suppress(InputError):
                given |= {n: page.reckoning(one, shop).texts[n] for n in (*one.deep, *one.from_)}
            address = card_address(one.card, given | {"shop": shop})
            query = {key: texts[0] for key, texts in parse_qs(urlsplit(address).query).items()}
            for way in ("pull", "side"):
                words = page.carried(one, way, shop).words
                symbols = load_symbols(LIBRARY.cards[one.card], way)
                card = tried(LIBRARY.cards[one.card], query, symbols[0]) if symbols else None
                printed_there = [printed(card, symbol) for symbol in symbols] if card else []
                if card and None not in printed_there:
                    least = min(symbols, key=card.working.values.__getitem__)
                    assert plain(words) == printed(card, least), (one.card, way)
                else:
                    assert words.startswith("no number"), (one.card, way, words)
    ranks = [chooser.carried(one, "pull", shop).newtons for one in chooser.ranked]
    assert shop != next(iter(SYSTEMS)) or ranks == sorted(ranks, reverse=True)
