"""Fasteners to buy: lengths and thread by hand, sold lengths, and the torque against the mechanics of the screw."""

from __future__ import annotations

from fractions import Fraction
from math import atan, cos, pi, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from conftest import LIBRARY
from generator.formulas.bolt import bolt_to_buy, step_of_sold_lengths
from generator.reckoning import reckon
from generator.units import plain, read_number, to_base

# M8, hole 90 mm: base 8, bed 3, wood 90, washer 2, two nuts 16, two threads 2.5, together 121.5; sold as 130, of which all but
# base and bed is thread. 5/16-18, hole 3 1/2 in: 0.3125 + 0.125 + 3.5 + 0.063 + 2 x 0.3125 + 2/18 = 4.7366 in; sold as 5.
# The nut on M8: wood 5.5 MPa x 0.54 = 2.97 MPa; washer 24 mm round a hole of 9 mm presses on 388.8 mm2 and bears
# 3 x 2.97 x 388.8 / 2.5 = 1386 N; 0.12 x 1386 N x 8 mm = 1.33 Nm. On 5/16 in: 12 x 0.063 = 0.756 in of the washer count.
HAND = [
    ("bonded-stepped-hole", "metric", {"L_sk": "122 mm", "L_by": "130 mm", "L_tn": "119 mm", "M_sn": "1.3 N·m"}),
    # 5/16 + 1/8 + 3 1/2 + 0.083 + 5/8 + 1/9 = 4.757 in.
    (
        "bonded-stepped-hole",
        "inch",
        {"L_sk": "4 13/16 in", "L_by": "5 in", "L_tn": "4 9/16 in", "M_sn": "9.7 lbf·in"},
    ),
    # 88 in the wood, bed 3, base 8, block 20, two nuts 16, threads 2.5.
    ("blind-stud", "metric", {"L_st": "138 mm"}),
    # 8 + 1.5 + 40 + 2 + 16 + 2.5 = 70; of 70 all but 49.5 is thread.
    ("bedded-solid", "metric", {"L_sk": "70 mm", "L_by": "70 mm", "L_tp": "21 mm"}),
    # 8 + 4.603 + 40 + 2 + 16 + 2.5 = 73.1; the released seat has its flexible bed on top.
    ("cast-seat", "metric", {"L_sk": "74 mm", "L_by": "80 mm", "L_tp": "28 mm"}),
    # 5/16 + 5/8 + 2 + 5/16 = 3 1/4 in.
    ("bonded-screw", "inch", {"L_us": "3 1/4 in"}),
    ("bonded-screw", "metric", {"L_us": "81 mm"}),
    # 8 + 1 + 8, and 8 + 16 below a chamfer of 1.5, in a hole of 18 + 5 + 5 of play, with 3 under the screw; at most 8 + 1 + 20 less a plug of 4.
    # To set it: bush, ring, strip 5, nut 8, threads 2.5. To cast with: in the hole, packing and strip 30, nut and threads.
    ("bonded-bush", "metric", {"L_us": "17 mm", "L_bu": "20 mm", "s_bu": "1 mm", "L_um": "25 mm", "L_ss": "37 mm"}),
    ("cast-thread", "metric", {"L_us": "26 mm", "l_ct": "25 mm", "L_cs": "66 mm"}),
]


@pytest.mark.parametrize(("card", "shop", "said"), HAND)
def test_by_hand(card: str, shop: str, said: dict[str, str]) -> None:
    reckoning = reckon(
        LIBRARY, LIBRARY.cards[card], {"shop": shop} | ({"h_b": "1.5 mm"} if card == "bedded-solid" else {})
    )
    assert {symbol: plain(reckoning.shop(symbol)) for symbol in said} == said


@given(st.floats(0.02, 0.3), st.sampled_from([("metric", 0.01, 0.16), ("inch", 0.0127, 0.1524)]))
def test_a_bolt_to_buy_is_sold_and_long_enough(length: float, shop: tuple[str, float, float]) -> None:
    """It stands in the list of lengths that job sheets buy by, and is less than a step longer than it need be."""
    system, step, long = shop
    worked = bolt_to_buy(length, step_of_sold_lengths(step, length, long))
    assert length - 1e-9 <= worked < length + 2 * step + 1e-9
    assert LIBRARY.shop_sizes
    sold = LIBRARY.shop_sizes.sold["bolt"]
    unit, texts = ("mm", sold.metric) if system == "metric" else ("in", sold.inch)
    sizes = [to_base(float(read_number(text)[0]), unit, "m") for text in texts]
    listed = [abs(size - worked) < 1e-6 for size in sizes]
    # Bolts of 11 in are sold, though the short list leaves them out.
    assert any(listed) or worked == pytest.approx(float(Fraction(11)) * 0.0254) or worked > max(sizes)


@pytest.mark.parametrize(
    ("d", "pitch"), [(5, 0.8), (6, 1), (8, 1.25), (10, 1.5), (12, 1.75), (16, 2), (20, 2.5), (24, 3)]
)
def test_the_torque_is_that_of_a_slippery_screw(d: float, pitch: float) -> None:
    """By the wedge that a thread is, and the rubbing under the nut at 1.3 diameters mean, friction 0.08 as of wax."""
    friction, pitch_diameter = 0.08, d - 0.6495 * pitch
    rise = atan(pitch / (pi * pitch_diameter))
    rub = atan(friction / cos(radians(30)))
    mechanics = pitch_diameter / 2 * tan(rise + rub) + friction * 1.3 * d / 2
    reckoning = reckon(LIBRARY, LIBRARY.cards["bonded-stepped-hole"], {"thread": f"M{d:g}"}, extra=["F_p"])
    values = reckoning.working.values
    assert values["M_sn"] / (values["F_p"] * d / 1000) == pytest.approx(mechanics / d, rel=0.05)


NUTS = ["bonded-stepped-hole", "blind-stud", "bedded-solid", "bedded-cored", "cast-seat", "released-seat"]


@pytest.mark.parametrize("name", [*NUTS, "backing-plate", "worn-hole"])
def test_a_card_with_a_nut_says_how_hard_and_how_long(name: str) -> None:
    card = LIBRARY.cards[name]
    torque = "{M_sb} at most" if "M_sb" in card.outputs else "{M_sn} at most"
    assert torque in " ".join(step.do for step in card.steps)
    needs = " ".join(f"{need.what} {need.amount or ''}" for need in card.needs.materials)
    assert "{L_by}" in needs or "{L_st}" in needs
    assert "thread" in needs


def test_a_nut_on_a_bond_pulls_no_harder_than_the_bond_may_be_pulled_for_good() -> None:
    """By hand: 217.86 lbf for a load that stays, times 0.12 and 3/8 in, is 9.80 lbf·in."""
    given = {"thread": "3/8-16 UNC", "T": "4 in", "wood": "western-redcedar", "washer": "asme-b-wide"}
    reckoning = reckon(LIBRARY, LIBRARY.cards["blind-stud"], given)
    assert (reckoning.shop("F_l"), reckoning.shop("M_sb")) == ("217\u00a0lbf", "9.8\u00a0lbf·in")
    for card in ("blind-stud", "bonded-stepped-hole"):
        for wood in ("western-redcedar", "douglas-fir", "white-oak"):
            values = reckon(LIBRARY, LIBRARY.cards[card], {"thread": "M10", "wood": wood}).working.values
            assert values["M_sb"] <= values["M_sn"]
            assert values["M_sb"] / (values["K_sn"] * values["d"]) <= values["F_l"] * (1 + 1e-12)


@pytest.mark.parametrize("name", ["bonded-screw", "cast-thread", "bonded-bush"])
def test_a_card_with_a_screw_says_how_long(name: str) -> None:
    needs = " ".join(need.what for need in LIBRARY.cards[name].needs.materials)
    assert "{L_us}" in needs
