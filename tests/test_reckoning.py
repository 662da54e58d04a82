"""One card worked with one set of inputs: what a reckoning tells, takes and refuses, each on a case told by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from conftest import LIBRARY
from generator.model.prose import Condition, Degrees, Known, Prose, Value
from generator.reckoning import (
    SPECIAL,
    InputError,
    Reckoning,
    in_words,
    read_input,
    read_ratio,
    reckon,
    told_ratio,
    within_range,
)
from generator.units import QuantityError, plain

CARD = LIBRARY.cards["bonded-stepped-hole"]


def reckoning(**inputs: str) -> Reckoning:
    return reckon(LIBRARY, CARD, inputs)


def test_what_is_set_is_told_as_it_was_set_and_what_is_worked_to_the_shops_steps() -> None:
    """0.7 of 90.04 mm is 63.028 mm, told as 63 mm; what is left is 27.04 mm, told as 27 mm."""
    done = reckoning(T="90.04 mm", f_o="0.7")
    assert [plain(done.shop(one)) for one in ("T", "L_o", "L_g")] == ["90.04 mm", "63 mm", "27 mm"]
    assert [done.number(one) for one in ("T", "L_g")] == ["90.04", "27"]
    assert done.amount("L_g") == pytest.approx(27.04)
    assert [plain(done.said(one)) for one in ("T", "nothing")] == ["90.04 mm", "no number"]
    told = [done.told(one) for one in (Value("T"), Value("wood"), Value("nothing"), Degrees("40 °C"))]
    assert [plain(one) for one in told] == ["90.04 mm", "Douglas fir (coast)", "no number", "40 °C"]
    assert (
        plain(done.reads(Prose("{T} [T > 90: deep | not deep], {thread}[L_g > 27: , more]."))) == "90.04 mm deep, M8."
    )


def test_a_load_that_stands_alone_says_its_angle_and_what_has_none_does_not() -> None:
    done = reckoning(T="90 mm")
    assert plain(done.said_alone("F_z")) == f"{plain(done.said('F_z'))} at 45°"
    assert plain(done.said_alone("T")) == "90 mm"


@pytest.mark.parametrize(
    ("asked", "holds"),
    [
        (None, True),
        (Condition("T", 90), True),  # 90.04 mm, as it was set
        (Condition("T", 91), False),
        (Condition("L_g", 26), True),
        (Condition("L_g", 27), False),  # 27.04 mm, told as 27 mm
        (Condition("nothing", 0), False),
        (Known(("T", "wood")), True),
        (Known(("T", "nothing")), False),
        (Known(("T",), Condition("T", 91)), False),
        (Known(("T",), Condition("T", 90)), True),
        (Known(("nothing",), Condition("T", 90)), False),
    ],
)
def test_a_condition_asks_what_is_told(asked: Condition | Known | None, holds: bool) -> None:
    assert reckoning(T="90.04 mm", f_o="0.7").holds(asked) is holds


def test_which_inputs_are_for_nothing() -> None:
    assert reckoning().unused(["shop", "thread", "T", "P_k", "t_e", "washer", "d"]) == ["P_k", "t_e"]
    assert reckoning().unused(["m_po", "D_p"]) == []  # what the card tells, and what it works with
    assert reckoning(thread="M24", washer="asme-b-wide").unused(["D_p"]) == []  # though it has no number


@pytest.mark.parametrize(
    ("inputs", "shop", "thread"),
    [
        ({}, "metric", "M8"),
        ({"shop": "inch"}, "inch", "5/16-18 UNC"),
        ({"thread": "1/4-20 UNC"}, "inch", "1/4-20 UNC"),
        ({"thread": "1/4-20 UNC", "shop": "metric"}, "metric", "1/4-20 UNC"),
    ],
)
def test_the_shop_is_the_one_asked_for_else_the_threads(inputs: dict[str, str], shop: str, thread: str) -> None:
    done = reckoning(**inputs)
    assert (done.shop_name, done.system, done.titles["thread"], done.texts["thread"]) == (shop, shop, thread, thread)
    assert done.titles["shop"] == f"{shop} shop"
    assert "shop" not in done.texts


@pytest.mark.parametrize(("name", "text"), [("shop", "moon"), ("thread", "M7")])
def test_a_shop_or_thread_that_there_is_not_is_an_input_that_is_wrong(name: str, text: str) -> None:
    with pytest.raises(InputError, match=text) as raised:
        reckoning(**{name: text})
    assert raised.value.name == name


@pytest.mark.parametrize(
    ("name", "first", "count"),
    [("larg_drill", "large_drill", 2), ("wod", "wood", 3), ("f_oo", "f_o", 3), ("thready", "thread", 1)],
)
def test_an_input_that_there_is_not_is_told_with_up_to_three_that_are_near(name: str, first: str, count: int) -> None:
    with pytest.raises(InputError) as raised:
        reckoning(**{name: "1"})
    before, _, near = str(raised.value).partition("did you mean ")
    assert before == f"unknown input '{name}'; "
    assert near.startswith(first)
    assert len({*near.rstrip("?").split(", ")}) == len(near.split(", ")) == count


def test_an_input_that_nothing_is_near_to_is_told_with_all_that_there_are() -> None:
    with pytest.raises(InputError, match="unknown input 'xylophone'; inputs: thread, hole, T, "):
        reckoning(xylophone="1")


def test_a_row_without_the_thread_s_size_names_those_that_have_it_and_they_work() -> None:
    job = {"thread": "7/8-9 UNC", "shop": "inch"}
    assert str(reckoning(**job).working.refused["D_p"]) == (
        "ASME B18.21.1 type A, wide has none for this thread; choose "
        "ASME B18.21.1 type A, narrow or ASME B18.21.1 type B, wide"
    )
    assert plain(reckoning(**job, washer="asme-b-wide").shop("D_p")) == "2 3/4 in"


def test_what_a_row_does_not_give_for_a_thread_has_no_number_unless_it_is_set() -> None:
    washer = {"thread": "M24", "washer": "asme-b-wide"}
    done = reckoning(**washer)
    assert str(done.working.refused["D_p"]).startswith(
        "ASME B18.21.1 type B, wide has none for this thread; choose ISO 7089"
    )
    assert reckoning().working.sources["D_p"] == "iso-7093-1"  # the row says where its numbers are from
    assert done.titles["washer"].startswith("ASME B18.21.1 type B")
    assert plain(reckoning(**washer, D_p="70 mm").shop("D_p")) == "70 mm"
    assert plain(reckoning(washer="iso-7093-1", thread="M24").shop("D_p")) == "72 mm"  # whichever stands first


def test_of_what_only_some_symbols_are_asked_the_rest_is_not_worked() -> None:
    some = reckon(LIBRARY, CARD, {}, only=["L_o"])
    assert some.has("L_o")
    assert not some.has("m_r")
    assert not reckoning().has("k_wood")
    assert reckon(LIBRARY, CARD, {}, extra=["R_w"]).has("R_w")


@pytest.mark.parametrize(
    ("inputs", "title", "by_volume"),
    [
        ({}, "2:1 by volume", 2.0),
        ({"n_v": "3"}, "3:1 by volume", 3.0),
        ({"n_w": "2.5"}, "2.5:1 by weight", None),
        ({"ratio": "100:43 by weight"}, "100:43 by weight", None),
        ({"ratio": "5:2 volume"}, "5:2 by volume", 2.5),
    ],
)
def test_a_mix_ratio_is_told_as_it_was_set(inputs: dict[str, str], title: str, by_volume: float | None) -> None:
    done = reckoning(**inputs)
    assert done.titles["ratio"] == title
    assert ("n_v" in done.working.givens) is (by_volume is not None)
    assert by_volume is None or done.working.givens["n_v"] == by_volume


def test_a_mix_ratio_has_two_parts_above_nothing() -> None:
    assert read_ratio("100:43 by weight") == ("n_w", pytest.approx(100 / 43))
    assert told_ratio("1,5:1 by volume") == "1.5:1 by volume"
    for text in ("0:1 by volume", "1:0 by volume", "-2:1 by volume", "2:-1 by volume"):
        with pytest.raises(QuantityError, match=f"'{text}': both parts are plain numbers above 0; write it like"):
            read_ratio(text)
    for text in ("2:1", "2;1 by volume", "2:1 by moon", "by volume", "2:by volume"):
        with pytest.raises(QuantityError, match=f"'{text}' is no mix ratio; write it like"):
            read_ratio(text)
    with pytest.raises(QuantityError, match="; write it like '2:1 by volume'"):
        read_ratio("9999:1 by volume")


def test_a_range_holds_its_ends() -> None:
    """From 10 mm to 1 m; and where one end is open, whatever lies that way."""
    for inside in (0.01, 0.5, 1.0):
        within_range(CARD, "T", inside, "metric")
    for outside in (0.01 - 1e-7, 1 + 1e-7):
        with pytest.raises(QuantityError, match="take 10 to 1000\u00a0mm"):
            within_range(CARD, "T", outside, "metric")
        with pytest.raises(QuantityError, match="take 13/32 to 39\u00a0in"):
            within_range(CARD, "T", outside, "inch")
    least, most = (
        CARD.model_copy(update={"givens": {"T": CARD.givens["T"].model_copy(update={end: None})}})
        for end in ("max", "min")
    )
    within_range(least, "T", 9.0, "metric")
    within_range(most, "T", 1e-6, "metric")
    with pytest.raises(QuantityError, match="take at least 10\u00a0mm"):
        within_range(least, "T", 0.001, "metric")
    with pytest.raises(QuantityError, match="take at most 1000\u00a0mm"):
        within_range(most, "T", 9.0, "metric")
    within_range(CARD, "R_w", -1.0, "metric")  # no input of the card
    assert {"thread", "shop", "ratio"} == {*SPECIAL}
    for name in {"ratio", "thread"} & {*CARD.givens}:  # no quantity, so no range
        within_range(CARD, name, -1.0, "metric")


def test_what_an_input_takes_in_a_file() -> None:
    for name, text in (("thread", "M8"), ("wood", "white-oak"), ("ratio", "2:1 by volume"), ("T", "90 mm")):
        read_input(LIBRARY, name, text)
    for name, text in (("thread", "M7"), ("wood", "cheese"), ("ratio", "2:1"), ("T", "2:1 by volume")):
        with pytest.raises(QuantityError):
            read_input(LIBRARY, name, text)
    assert (in_words("T"), in_words("guide_drill")) == ("hole depth", "guide drill")


def test_a_row_that_another_card_takes_is_refused_with_that_card() -> None:
    hole = CARD.givens["hole"]
    (name, other), *_ = hole.elsewhere.items()
    with pytest.raises(InputError) as raised:
        reckoning(hole=name)
    assert LIBRARY.cards[other].title in str(raised.value)
    assert raised.value.name == "hole"


def test_how_long_hands_are_busy_is_the_cards_makers_judgement() -> None:
    working = reckoning().working
    assert CARD.always
    for symbol, value in CARD.always.items():
        assert (working.givens[symbol], working.sources[symbol]) == (value, "own-judgement")


def test_drills_are_those_of_the_shops_set() -> None:
    """The flat bits of another shop's set, with all else as it was."""
    mixed = LIBRARY.shops["metric"].model_copy(update={"drills": "inch"})
    done = reckon(replace(LIBRARY, shops={**LIBRARY.shops, "mixed": mixed}), CARD, {"shop": "mixed"})
    assert done.working.values["D_o"] in LIBRARY.stock_of("flat", "inch").sizes
    assert reckoning().working.values["D_o"] in LIBRARY.stock_of("flat", "metric").sizes
