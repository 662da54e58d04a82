"""Where a bonded fastener may stand, and how much epoxy goes into its hole before it."""

from __future__ import annotations

from math import pi

import pytest

from conftest import LIBRARY
from generator.formula import FORMULARY
from generator.reckoning import reckon

BY_HAND = [
    ("a_n", {"d": 0.008}, 0.08),
    ("Z_k", {"M_o": 0.076, "M_g": 0.092, "D_o": 0.014}, 0.106),
    # a long spur on the large drill decides
    ("Z_k", {"M_o": 0.1, "M_g": 0.092, "D_o": 0.014}, 0.114),
    # pi / 4 x (14^2 x 63 + 8^2 x 27) = 11055.26 mm3, and the cone
    ("H_o", {"D_o": 0.014, "L_o": 0.063, "D_g": 0.008, "L_g": 0.027, "V_f": 0.5e-6}, 11.5552645e-6),
    # a fifth over 8 mL; of a hole of 8.8 mL no more than midway
    ("E_o", {"V_r": 7e-6, "V_f": 0.5e-6, "V_g": 0.5e-6, "H_o": 12e-6}, 9.6e-6),
    ("E_o", {"V_r": 7e-6, "V_f": 0.5e-6, "V_g": 0.5e-6, "H_o": 8.8e-6}, 8.4e-6),
]


@pytest.mark.parametrize(("symbol", "values", "result"), BY_HAND)
def test_by_hand(symbol: str, values: dict[str, float], result: float) -> None:
    (formula,) = [step for step in FORMULARY.formulas if step.symbol == symbol]
    assert formula.call(values) == pytest.approx(result, rel=1e-9)


@pytest.mark.parametrize("depth", ["60 mm", "90 mm", "200 mm"])
@pytest.mark.parametrize("thread", ["M6", "M8", "M12", "M20"])
@pytest.mark.parametrize("card", ["bonded-stepped-hole", "blind-stud"])
def test_what_goes_in_fits_the_hole_and_rises_out_of_it_when_the_fastener_comes(
    card: str, thread: str, depth: str
) -> None:
    value = reckon(LIBRARY, LIBRARY.cards[card], {"thread": thread, "T": depth}, extra=["h_g"]).working.values
    ring, guide = value["L_o"] * value["D_o"] ** 2, (value["T"] - value["L_o"]) * value["D_g"] ** 2
    empty = pi / 4 * (ring + guide)
    metal = pi / 4 * value["d_v"] ** 2 * (value["T"] - value.get("c_e", 0.0))
    tip = pi / 12 * value["D_g"] ** 2 * value["h_g"] if "c_e" in value else 0.0
    assert value["E_o"] < empty + tip < value["E_o"] + metal
