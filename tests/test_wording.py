"""Texts that go by a condition: read, printed, asked alike on the page and in the live card."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from conftest import CARD, for_each
from generator.model.library import Library
from generator.model.prose import Condition, Degrees, Prose, StrayBrace, Turn, Value, parts, typed_degrees
from generator.model.schema import Card, Caution
from generator.pages.words import prose, when_html
from generator.reckoning import reckon
from generator.wording import read_prose


def test_a_text_is_cut_into_values_and_turns() -> None:
    assert parts("pads of {t_m}") == ["pads of ", Value("t_m")]
    assert parts("a [t_m > 0: pads of {t_m} | bare] b") == [
        "a ",
        Turn(Condition("t_m", 0), ["pads of ", Value("t_m")], ["bare"]),
        " b",
    ]
    # Without a second text a blank at the end of the first belongs to it; how many stands on one line with of what.
    times = "\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}"
    assert parts("[n_b > 1: {n_b} × ]{m_r}")[0] == Turn(Condition("n_b", 1), [Value("n_b"), times], [])
    assert parts("{n_s} × {V_s}") == [Value("n_s"), times, Value("V_s")]


@pytest.mark.parametrize("text", ["[t_m: x]", "[t_m > 0 x]", "[t_m = 0: x]", "[a > 0: x | y | z]", "{a"])
def test_half_a_condition_is_refused(text: str) -> None:
    with pytest.raises(StrayBrace):
        parts(text)


def asked_of(card: Card) -> set[Condition]:
    """Every condition of a card."""
    return {*(asked for _, text in card.prose for asked in text.conditions), *(asked for _, asked in card.whens)}


def number_at_the_front(text: str) -> float:
    """What a browser reads of a text as a number."""
    front = ""
    for sign in text:
        if not (sign.isdigit() or sign == "."):
            break
        front += sign
    return float(front or "nan")


@for_each(
    [
        ("soft above 40 °C, at -20 °C", "40 °C", "{40 °C}"),
        ("soft above 40°C", "40°C", "{40 °C}"),
        ("soft above 40 ° C", "40 ° C", "{40 °C}"),
        ("a room of 104 °F", "104 °F", "{40 °C}"),
        ("a room of 68°F", "68°F", "{20 °C}"),
        ("soft from 37.5 °C on", "37.5 °C", "{38 °C}"),
        ("soft from 99,5 °F on", "99,5 °F", "{38 °C}"),
        ("a frost of −5 °C", "−5 °C", "{-5 °C}"),
        ("a frost of -4 °F", "-4 °F", "{-20 °C}"),
        ("between 20 to 25 °C", "20 to 25 °C", "{20 °C} to {25 °C}"),
        ("between 20–25 °C", "20–25 °C", "{20 °C}–{25 °C}"),
        ("between 20-25 °C", "20-25 °C", "{20 °C}-{25 °C}"),
        ("between -5 and −1 °C", "-5 and −1 °C", "{-5 °C} and {-1 °C}"),
        ("between 68 to 77 °F", "68 to 77 °F", "{20 °C} to {25 °C}"),
        ("to within ±9 °F", "±9 °F", "{±5 °C}"),
        ("within ±5 °C", "±5 °C", "{±5 °C}"),
        ("within ±0.4 °C", "±0.4 °C", "{±1 °C}"),
        ("within ±0.5 °F", "±0.5 °F", "{±1 °C}"),
        ("heat as in step 3 and 40 °C will do", "40 °C", "{40 °C}"),
        ("in step 3 or 40 °C below", "40 °C", "{40 °C}"),
        ("between 20 and 25 °C", "20 and 25 °C", "{20 °C} and {25 °C}"),
    ]
)
def test_a_typed_temperature_is_told_as_it_is_to_be_written(text: str, typed: str, braced: str) -> None:
    found = typed_degrees(text)
    assert found is not None
    assert (found.typed, found.braced) == (typed, braced)
    # What is told can be written: it is read as temperatures, and is found no more.
    assert all(isinstance(part, Degrees | str) for part in parts(braced))
    assert sum(isinstance(part, Degrees) for part in parts(braced)) == braced.count("{")
    assert typed_degrees(text.replace(typed, braced)) is None or "-20" in text


def test_a_temperature_in_a_text_is_written_so_that_each_shop_reads_its_own_degrees() -> None:
    assert typed_degrees("above {40 °C}, {±5 °C}, {-5 °C}, {20 °C} to {25 °C}; a cut of 40°, 8 °Celsius") is None
    assert [*Prose("above {40 °C} at {T_use}").values] == [Value("T_use")]
    for text in ("weak above 40 °C", "weak above {T_use}"):
        with pytest.raises(ValidationError, match="40 °C"):
            Caution(text=Prose(text), source="verdet-2016")


def test_a_condition_asks_what_the_live_card_reads_off_the_printed_value(library: Library) -> None:
    asked = 0
    for card in library.cards.values():
        for system in ("metric", "inch"):
            reckoning = reckon(library, card, {"shop": system})
            for one in asked_of(card):
                said = reckoning.shop(one.symbol) if reckoning.has(one.symbol) else "—"
                assert reckoning.holds(one) == (number_at_the_front(said) > one.over), (one, said)
                asked += 1
    assert asked > 20


def test_what_is_printed_as_0_is_not_above_it(library: Library) -> None:
    card = library.cards["bedded-solid"]
    reckoning = reckon(library, card, {"l_k": "1 mm"})
    assert reckoning.shop("l_w") == "1\N{NO-BREAK SPACE}mm"
    reckoning = reckon(library, card, {"l_k": "0.5 mm"})
    assert reckoning.shop("l_w") == "0\N{NO-BREAK SPACE}mm"
    assert not reckoning.holds(Condition("l_w", 0))
    assert reckoning.holds(Condition("l_k", 0))  # what was set is told as it was set
    assert reckoning.shop("l_k") == "0.5\N{NO-BREAK SPACE}mm"
    assert not reckoning.holds(Condition("no_such", 0))


def test_both_texts_stand_in_the_page_and_one_is_hidden(library: Library) -> None:
    card = library.cards[CARD]
    with_bed, without = (reckon(library, card, {"t_m": bed}) for bed in ("3 mm", "0 mm"))
    text = Prose("[t_m > 0: on {t_m} | bare]")
    assert prose(text, {"metric": with_bed}) == (
        '<span data-when="t_m" data-over="0">on <a data-s="t_m">3\N{NO-BREAK SPACE}mm</a></span>'
        '<span data-when="t_m" data-over="0" hidden data-not="1">bare</span>'
    )
    assert '<span data-when="t_m" data-over="0" data-not="1">bare</span>' in prose(text, {"metric": without})
    # Where the shops differ, each has both texts of its own, so that the live card can turn either.
    split = prose(text, {"metric": with_bed, "inch": without})
    assert split.count("data-shop") == 2
    assert split.count("<i> or </i>") == 1
    assert split.count("data-when") == 4
    assert split.count("hidden") == 2
    assert when_html(Condition("t_m", 0), {"metric": without}) == ' data-when="t_m" data-over="0" hidden'
    assert when_html(None, {"metric": without}) == ""


def test_a_fitting_without_bed_plate_or_countersink_says_nothing_of_them(library: Library) -> None:
    card = library.cards["bedded-solid"]
    reckoning = reckon(library, card, {"h_k": "0 mm", "l_k": "0 mm", "q_sk": "0 mm"})
    titles = [found for path, found in read_prose(card, reckoning) if path[0] == "steps" and path[-1] == "title"]
    assert len(titles) == len(card.steps) - 1
    words = " ".join(part for _, found in read_prose(card, reckoning) for part in found if isinstance(part, str))
    assert "ountersink" not in words.replace("For a countersunk head", "")
    stepped = library.cards[CARD]
    none = reckon(library, stepped, {"t_m": "0 mm", "r_f": "0 mm"})
    told = " ".join(part for step in stepped.steps for part in step.do.chosen(none.holds) if isinstance(part, str))
    assert "fillet" not in told
    assert "pads" not in told
