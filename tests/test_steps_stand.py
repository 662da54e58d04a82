"""Steps that can be carried out: no number is missing in one, nothing is counted none times, all are bought."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from generator.bench import MOST_WORDS, clock, line_of, numbers, standing, word_count
from generator.cli import as_answer
from generator.errors import WorkingError
from generator.figures import figure
from generator.formula import FORMULARY
from generator.model.library import Library
from generator.model.prose import Prose, Value
from generator.model.quantity import read_symbol
from generator.model.schema import Card
from generator.reckoning import NO_NUMBER, InputError, Reckoning, reckon
from generator.wording import read_prose

# Small and large, cold and hot, inch, thin and thick, many and one.
UNUSUAL: list[dict[str, str]] = [
    {"shop": "inch"},
    {"shop": "inch", "thread": "1/4-20 UNC", "N": "3", "T_a": "50 °F"},
    {"T_a": "10 °C", "hardener": "slow", "N": "4"},
    {"T_a": "8 °C", "hardener": "medium"},
    {"T_a": "30 °C", "hardener": "fast", "N": "4"},
    {"thread": "M5", "T": "50 mm"},
    {"thread": "M8", "N": "4", "n_h": "2"},
    {"thread": "M16", "T": "140 mm", "N": "4", "n_h": "2", "hardener": "slow"},
    {"thread": "M16", "T_wo": "140 mm", "D_wo": "22 mm"},
    {"a_b": "300 mm", "b_b": "200 mm", "R_c": "600 mm", "N": "3"},
    {"t_m": "0 mm", "r_f": "0 mm", "u_mx": "0 %"},
    {"D_wo": "8 mm", "a_wo": "3 mm", "T_wo": "15 mm"},
    {"shop": "inch", "thread": "1/4-20 UNC", "L_k": "2 in", "metal": "brass"},
    {"shop": "inch", "thread": "1/2-13 UNC", "L_k": "2 in", "metal": "stainless-316"},
]


def reckonings_of(library: Library, card: Card) -> Iterator[Reckoning]:
    """The card worked for each of the jobs that it takes."""
    for inputs in UNUSUAL:
        try:
            yield reckon(library, card, {k: v for k, v in inputs.items() if k in card.givens or k == "shop"})
        except (InputError, WorkingError):
            continue


def printed(text: str, reckoning: Reckoning) -> Iterator[tuple[str, bool]]:
    """What a text prints: words, and values with whether there is one."""
    for part in Prose(text).chosen(reckoning.holds):
        if isinstance(part, Value):
            known = part.name in reckoning.titles or reckoning.has(part.name)
            yield (reckoning.titles.get(part.name) or reckoning.said(part.name), known)
        else:
            yield part, True


@pytest.fixture(params=[
    "backing-plate", "bedded-cored", "bedded-solid", "blind-stud", "bonded-bush", "bonded-screw", "bonded-stepped-hole",
    "cast-seat", "cast-thread", "heat-removal", "mixing", "released-seat", "trial-joint", "worn-hole",
])  # fmt: skip
def card(request: pytest.FixtureRequest, library: Library) -> Card:
    """Every card."""
    return library.cards[request.param]


def test_all_cards_are_here(library: Library) -> None:
    assert len(library.cards) == 14


def test_a_step_that_stands_has_all_its_numbers(library: Library, card: Card) -> None:
    """Where one is missing, the card stops in one sentence before the first step instead."""
    worked = 0
    for reckoning in reckonings_of(library, card):
        if not reckoning.holds(card.steps_stand):
            assert reckoning.reasons, "a card that stops says why"
            continue
        worked += 1
        for step in card.steps:
            if not reckoning.holds(step.when):
                continue
            for text in step.texts:
                said = list(printed(text, reckoning))
                missing = [one for one, known in said if not known]
                assert not missing, (card.title, step.title, reckoning.texts, text)
                told = "".join(one for one, _ in said)
                lifts = [
                    reckoning.amount(symbol)
                    for symbol in ("n_l", "n_p")
                    if symbol in card.outputs and reckoning.has(symbol)
                ]
                assert max(lifts, default=2) > 1 or not re.search(
                    r"\b(next|last|this|each) lift\b|\blifts here\b", told, re.IGNORECASE
                )
                assert not re.search(r"\b0\s×|×\s0\b", told)
                assert not re.search(r"[,;:]\s*[.,;:]|\blifts\b[^.]*: 1\b", told, re.IGNORECASE), (card.title, told)
    assert worked >= 3


def test_the_bench_side_of_a_job_is_as_short_as_that_of_the_card(library: Library, card: Card) -> None:
    """Several mixes, lifts and syringes say more, and are to be read from as far."""
    told = {
        str(reckoning.texts): word_count(card, library.cautions, reckoning)
        for reckoning in reckonings_of(library, card)
        if reckoning.holds(card.steps_stand)
    }
    assert told
    assert {reckoning: words for reckoning, words in told.items() if words > MOST_WORDS} == {}


# Out of a range, one at a time: too cold, no drill, no washer, too weak, too oily, no filler for it, nothing to load.
REFUSED: list[dict[str, str]] = [
    *UNUSUAL,
    {"T_a": "0 °C"},
    {"T_a": "0 °C", "hardener": "slow", "N": "4", "n_h": "2", "thread": "M16"},
    {"thread": "M24"},
    {"thread": "M4"},
    {"thread": "#6-32 UNC"},
    {"thread": "1-8 UNC"},
    {"washer": "iso-7094", "thread": "M4"},
    {"wood": "teak"},
    {"a_e": "1 mm", "a_z": "1 mm"},
    {"filler": "glass-spheres"},
    {"V_s": "100 mL", "u_mx": "90 %"},
    {"F_n": "40 kN"},
    {"large_drill": "twist", "thread": "M24"},
    {"metal": "stainless-304", "thread": "M24", "L_k": "200 mm"},
]


def test_no_sentence_and_no_row_has_a_number_that_there_is_none_of(library: Library, card: Card) -> None:
    """On the page, on the bench side and in `work`. Only a load is told as none, with its reason beside it."""
    refused = 0
    for inputs in REFUSED:
        try:
            reckoning = reckon(library, card, {k: v for k, v in inputs.items() if k in card.givens or k == "shop"})
        except InputError:
            continue
        refused += bool(reckoning.reasons)
        told = [text for entry in standing(card, [*numbers(card), *clock(card)], reckoning) for text in entry]
        for path, parts in read_prose(card, reckoning):
            if path[0] in ("use_when", "not_when") or (path[0] == "steps" and reckoning.holds(card.steps_stand)):
                names = [one.name for one in parts if isinstance(one, Value)]
                told += [reckoning.said(name) for name in names if name not in {*reckoning.titles, *library.cards}]
        assert NO_NUMBER not in told, (reckoning.texts, told)
        loads = {reckoning.said(symbol) for symbol in card.loads}
        answer = as_answer(card, reckoning)
        rows = [line for line in answer.splitlines() if NO_NUMBER in line and not line.startswith("No number: ")]
        assert len(rows) <= len(card.loads)
        assert not rows or NO_NUMBER in loads
        assert not reckoning.reasons or "No number: " in answer
    assert refused >= 1


@pytest.mark.parametrize("compound", ["polysulfide", "butyl-tape"])
@pytest.mark.parametrize("shop", ["metric", "inch"])
def test_who_beds_by_the_bench_side_waits_tightens_no_harder_and_loads_nothing_before(
    library: Library, card: Card, shop: str, compound: str
) -> None:
    """A nut that is locked on wet compound squeezes the bed dry, or is never tightened; a load does the same."""
    if "compound" not in card.givens:
        return
    for thread in ("M5", "M10") if shop == "metric" else ("#10-24 UNC", "3/8-16 UNC"):
        reckoning = reckon(library, card, {"shop": shop, "compound": compound, "thread": thread})
        rows = [" ".join(entry) for entry in standing(card, [*numbers(card), *clock(card)], reckoning)]
        lines = [reckoning.reads(line_of(step)) for step in card.steps if reckoning.holds(step.when)]
        told = "; ".join([*rows, *lines])
        wait, bears = reckoning.has("t_rb"), reckoning.amount("m_sn")
        assert re.search(rf"tighten(, cured)? {reckoning.said('t_rb')}" if wait else "over days", told)
        assert ("rubber" in told.lower()) is wait
        assert f"nut, at most {reckoning.said('M_sn') if bears else 'two fingers'}" in told
        assert re.search("[Ll]oad nothing", told)


def test_too_cold_an_epoxy_stops_the_steps_and_says_the_least_temperature(library: Library, card: Card) -> None:
    if "hardener" not in card.givens:
        return
    for hardener in ("fast", "medium", "slow"):
        reckoning = reckon(library, card, {"hardener": hardener, "T_a": "0 °C"})
        assert not reckoning.holds(card.steps_stand)
        assert any(re.search(r"to \d+\N{NO-BREAK SPACE}°C or more", why) for why in reckoning.reasons), (
            reckoning.reasons
        )


def test_what_is_bought_for_each_hole_is_counted_by_fittings_and_holes(library: Library, card: Card) -> None:
    """Four fittings with two holes want eight bolts: what a job sheet buys a hole, the card lists a hole."""
    each_hole = [one for one in (card.job.buy if card.job else []) if one.count == "n_h"]
    if not each_hole:
        return
    reckoning = reckon(library, card, {"N": "4", "n_h": "2"})
    counts = ["".join(one for one, _ in printed(need.amount or "", reckoning)) for need in card.needs.materials]
    assert any(re.match(r"8\b", count) for count in counts), counts


def test_a_mix_is_for_whole_fittings_or_a_fitting_takes_whole_cups(library: Library, card: Card) -> None:
    """Nobody mixes for a third of a fitting."""
    if "N_m" not in card.outputs:
        return
    for reckoning in reckonings_of(library, card):
        if not reckoning.has("n_m"):
            continue
        values = reckoning.working.values
        assert values["N_w"] == int(values["N_w"])
        assert values["n_q"] == int(values["n_q"])
        assert values["n_q"] == 1 or values["n_m"] == pytest.approx(values["n_q"] * values["N"])
        text = " ".join(one for step in card.steps for one, _ in printed(step.do, reckoning))
        assert not re.search(r"for 0\.\d+ of", text)
        assert ("its part of the coat" in text) == (values["n_q"] > 1 and values["n_m"] > 1)


NOTHING = re.compile(r"(?<![\d./])\b0(\.0+)?\N{NO-BREAK SPACE}(mm|in|mL|g)\b")


def test_no_drawing_tells_of_what_is_not_there(library: Library, card: Card) -> None:
    """No bed, no fillet, no countersink, no plain shank: neither words nor a label say 0 mm of it. The texts' own law
    is `check`'s."""
    lengths = [name for name, given in card.givens.items() if name in FORMULARY.symbols and given.min]
    none = {name: str(card.givens[name].min) for name in lengths if not read_symbol(name, str(card.givens[name].min))}
    for shop in ("metric", "inch"):
        for inputs in [*({name: text} for name, text in none.items() if not text.endswith("%")), none]:
            reckoning = reckon(library, card, {**inputs, "shop": shop})
            drawn = [step.drawing for step in card.steps if step.drawing and reckoning.holds(step.when)]
            for name in [*([card.figure] if card.figure else []), *drawn]:
                one = figure(library, name, reckoning, "x")
                told = re.sub("<[^>]*>", " ", f"{one.svg} {one.caption}")
                assert not NOTHING.search(told), (name, inputs, NOTHING.search(told))
