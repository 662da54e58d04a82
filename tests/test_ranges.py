"""A number only where it belongs: laws over every card, its threads and both shops."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from conftest import LIBRARY
from generator import bench
from generator.formula import FORMULARY
from generator.live.fields import card_fields
from generator.model.prose import Prose, all_known
from generator.pages.options import SiteOptions
from generator.pages.table import TablePage
from generator.reckoning import InputError, Reckoning, reckon
from generator.units import SYSTEMS, read_number

CARDS = sorted(name for name, card in LIBRARY.cards.items() if "thread" in card.givens)


def reckonings(card: str) -> list[Reckoning]:
    sheet = LIBRARY.cards[card]
    return [
        reckon(LIBRARY, sheet, {"thread": thread.size, "shop": series.shop}) for _, series, thread in LIBRARY.threads()
    ]


def cells(name: str) -> Iterator[Reckoning]:
    """A reference table worked for every row, column and further table that its page prints."""
    table = LIBRARY.reference[name]
    page = TablePage(LIBRARY, name, SiteOptions())
    runs = [run for run in (table.over, table.across, table.each) if run]
    for system in SYSTEMS:
        for texts in product(*(page.run_values(run, system) for run in runs)):
            own = dict(zip((run.input for run in runs), texts, strict=True))
            yield reckon(LIBRARY, table, {**own, "shop": system})


def assert_inside_its_ranges(reckoning: Reckoning) -> None:
    values = reckoning.working.values
    for rule in FORMULARY.rules:
        if all(name in values for name in rule.parameters) and not rule.call(values):
            assert not values.keys() & set(rule.limits), (rule.message, reckoning.titles)


@pytest.mark.parametrize("card", CARDS)
def test_no_symbol_has_a_number_where_a_rule_that_limits_it_fails(card: str) -> None:
    for reckoning in reckonings(card):
        assert_inside_its_ranges(reckoning)


# How a reason tells the way out: what to take, choose, move or bore in its stead, or for which sizes there is a number.
WAY_OUT = re.compile(r"\b(?:take|choose|move|bore|is laid down for threads of)\b")


@pytest.mark.parametrize("card", CARDS)
def test_a_card_as_it_came_works_for_any_thread_or_tells_the_limit_and_the_way_out(card: str) -> None:
    """Only the thread is the reader's own: what then has no number says what to change, and no default is at fault."""
    for reckoning in reckonings(card):
        for why in reckoning.reasons:
            assert WAY_OUT.search(why), (reckoning.titles["thread"], why)


@pytest.mark.parametrize("name", sorted(LIBRARY.reference))
def test_nor_in_any_cell_of_a_reference_table(name: str) -> None:
    for reckoning in cells(name):
        assert_inside_its_ranges(reckoning)


def in_reach(symbol: str) -> set[str]:
    """What a symbol may change: what is worked from it, and what rules limit that ask for it."""
    found, ahead = {symbol}, [symbol]
    while ahead:
        name = ahead.pop()
        limited = {one for rule in FORMULARY.rules_on(name) for one in rule.limits}
        new = (set(FORMULARY.using(name)) | limited) - found
        found |= new
        ahead += new
    return found


@pytest.mark.parametrize("card", CARDS)
def test_what_is_refused_never_changes_what_does_not_depend_on_it(card: str) -> None:
    """One number of the job is changed, often out of a model's range: all that it cannot reach stays to the last digit."""
    sheet = LIBRARY.cards[card]
    numbers = [field for field in card_fields(LIBRARY, sheet) if field.kind == "number"]
    seen = {"refused": 0, "kept": 0}

    @settings(max_examples=60, deadline=None, derandomize=True, database=None)
    @given(st.sampled_from(numbers), st.floats(-1.3, 1.3), st.sampled_from(SYSTEMS))
    def change(field, power, system):  # type: ignore[no-untyped-def]
        number, unit = read_number(field.given.text(system))
        text = f"{float(number or 1) * 10**power:.6f} {unit}".strip()
        try:
            own = reckon(LIBRARY, sheet, {field.name: text, "shop": system}).working
        except InputError:
            assume(False)
        came = reckon(LIBRARY, sheet, {"shop": system}).working
        far = {*came.values, *came.refused} - in_reach(field.name)
        assert {name: own.values[name] for name in far & own.values.keys()} == {
            name: came.values[name] for name in far & came.values.keys()
        }
        seen["refused"] += bool(own.refused.keys() - came.refused.keys())
        seen["kept"] += len(far & own.values.keys())

    change()
    # The inputs of the card for heat are bounded so that hardly anything is left to refuse.
    assert seen["refused"] >= 1 or card == "heat-removal", seen
    assert seen["kept"] >= 1000, seen


@pytest.mark.parametrize("card", CARDS)
def test_a_refusal_blanks_what_needs_it_and_nothing_else(card: str) -> None:
    for reckoning in reckonings(card):
        values, refused = reckoning.working.values, reckoning.working.refused
        for step in reckoning.working.trail:
            assert step.by is None or not refused.keys() & set(step.by.parameters)
        for symbol in LIBRARY.cards[card].outputs:
            assert (symbol in values) != (symbol in refused), symbol


def test_oily_wood_has_no_strength_of_a_bond_but_keeps_its_drills() -> None:
    for wood in ("teak", "iroko"):
        working = reckon(LIBRARY, LIBRARY.cards["bonded-stepped-hole"], {"wood": wood}).working
        assert "oily wood" in str(working.refused["F_w"])
        assert "oily wood" in str(working.refused["F_l"])
        assert working.values["D_o"] > 0
        assert working.values["F_s"] > 0


@pytest.mark.parametrize("wood", ["teak", "iroko"])
@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if {"wood", "ratio"} <= {*card.givens}])
def test_oily_wood_is_told_of_wherever_epoxy_is_put_on_it(name: str, wood: str) -> None:
    """Whatever else has no number: too thin a thread, a cold day. Where a hole is bored, on the bench side as well."""
    card = LIBRARY.cards[name]
    for inputs in ({}, {"thread": "M4"}, {"thread": "M24"}, {"T_a": "5 °C"}, {"T": "20 mm", "L_sc": "12 mm"}):
        reckoning = reckon(LIBRARY, card, {k: v for k, v in {**inputs, "wood": wood}.items() if k in card.givens})
        assert any("wood is oily" in text for text in [*reckoning.working.warnings, *reckoning.reasons]), inputs
        if name.endswith("seat"):  # a heap of paste that lets go is no seat, so none is told
            assert not reckoning.holds(card.steps_stand)
        signs = {sign: when for step in card.steps for sign, when in bench.signs(step, LIBRARY.cautions).items()}
        if "n_rs" not in card.givens:
            assert reckoning.holds(signs["oily wood"])
        else:
            assert "oily wood" not in signs
    reckoning = reckon(LIBRARY, card, {"wood": "white-oak"})
    assert not any("oily" in text for text in [*reckoning.working.warnings, *reckoning.reasons])


NEAR = [name for name, card in LIBRARY.cards.items() if "a_e" in card.givens]


def test_every_card_that_asks_for_the_edge_knows_how_near_it_may_be() -> None:
    assert len(NEAR) >= 6
    assert all("a_m" in LIBRARY.cards[name].outputs for name in NEAR)


@pytest.mark.parametrize("card", NEAR)
def test_a_near_edge_is_warned_of_beside_every_load(card: str) -> None:
    """Four diameters of an M8 or of a screw of 8 mm are 32 mm."""
    for edge, warned in (("33 mm", False), ("32 mm", False), ("31 mm", True), ("14 mm", True)):
        warnings = reckon(LIBRARY, LIBRARY.cards[card], {"a_e": edge}).working.warnings
        assert any("an edge is nearer than 32\u00a0mm" in text for text in warnings) == warned, edge


@pytest.mark.parametrize("card", [name for name in CARDS if "washer" in LIBRARY.cards[name].givens])
def test_what_is_needed_is_told_where_its_size_has_no_number(card: str) -> None:
    """A thread that a washer is not made for leaves sizes out, and no row of tools and materials."""
    sheet = LIBRARY.cards[card]
    needs = [*sheet.needs.tools, *sheet.needs.materials]
    refused = 0
    for washer, thread in product(
        LIBRARY.choices["washer"].rows, ("M4", "M12", "M24", "M12x1.25", "1/4-20 UNC", "1/2-20 UNF")
    ):
        shop = "metric" if thread.startswith("M") else "inch"
        reckoning = reckon(LIBRARY, sheet, {"shop": shop, "thread": thread, "washer": washer})
        refused += not reckoning.has("D_p")
        if reckoning.holds(sheet.steps_stand):
            known = {*sheet.givens, *sheet.loads, "n_v", "n_w"}
            texts = {need.what: [need.what, Prose(need.amount or "")] for need in needs if reckoning.holds(need.when)}
            assert [what for what, told in texts.items() if not reckoning.holds(all_known(told, but=known))] == []
    assert refused
