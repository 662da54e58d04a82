"""A number only where it belongs: laws over every card, its threads and both shops."""

from __future__ import annotations

import pytest

from conftest import HOUSE
from generator.formula import FORMULARY
from generator.job import Job, do_job
from generator.model.library import load

LIBRARY = load(HOUSE / "procedures")
CARDS = sorted(name for name, card in LIBRARY.cards.items() if "thread" in card.givens)


def jobs(card: str) -> list[Job]:
    sheet = LIBRARY.cards[card]
    return [
        do_job(LIBRARY, sheet, {"thread": thread.size, "shop": series.shop}) for _, series, thread in LIBRARY.threads()
    ]


@pytest.mark.parametrize("card", CARDS)
def test_no_symbol_has_a_number_where_a_rule_that_limits_it_fails(card: str) -> None:
    for job in jobs(card):
        values = job.working.values
        for rule in FORMULARY.rules:
            if all(name in values for name in rule.parameters) and not rule.call(values):
                assert not values.keys() & set(rule.limits), (rule.message, job.titles)


@pytest.mark.parametrize("card", CARDS)
def test_a_refusal_blanks_what_needs_it_and_nothing_else(card: str) -> None:
    for job in jobs(card):
        values, refused = job.working.values, job.working.refused
        for step in job.working.trail:
            assert step.by is None or not refused.keys() & set(step.by.parameters)
        for symbol in LIBRARY.cards[card].outputs:
            assert (symbol in values) != (symbol in refused), symbol


def test_oily_wood_has_no_strength_of_a_bond_but_keeps_its_drills() -> None:
    for wood in ("teak", "iroko"):
        working = do_job(LIBRARY, LIBRARY.cards["bonded-stepped-hole"], {"wood": wood}).working
        assert "oily wood" in str(working.refused["F_w"])
        assert "oily wood" in str(working.refused["F_l"])
        assert working.values["D_o"] > 0
        assert working.values["F_s"] > 0
