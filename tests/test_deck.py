"""Bolts through a deck: every formula worked by hand, and what is refused."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from conftest import LIBRARY, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import deck

# Worked with a pocket calculator, in SI units.
BY_HAND = [
    ("plug_depth", "h_c", {"o_sk": 0.006, "c_sk": 0.015}, 0.021),
    ("cored_deck", "T_sk", {"h_c": 0.021, "i_sk": 0.004}, 0.025),
    ("mark_on_the_plug_drill", "M_sk", {"h_c": 0.021, "e_o": 0.013}, 0.034),
    # 28 + 13 - 40 = 1 mm; through 45 mm nothing comes out
    ("point_comes_out_below", "e_x", {"h_c": 0.028, "e_o": 0.013, "T_sk": 0.040}, 0.001),
    ("point_comes_out_below", "e_x", {"h_c": 0.028, "e_o": 0.013, "T_sk": 0.045}, 0.0),
    ("plug_to_fill", "D_l", {"D_c": 0.016}, 0.016),
    ("plug_to_fill_up", "h_w", {"h_c": 0.021}, 0.021),
    # 4 x (3.141593 x 16 x 21 + 0.7853982 x 256) = 4 x (1055.575 + 201.062) = 5026.548 mm2; x 0.3 kg/m2 / 2 = 0.753982 g
    ("wet_out_of_the_plugs", "m_w", {"n_h": 4, "D_c": 0.016, "h_c": 0.021, "w_h": 0.3, "n_l": 2}, 0.753982e-3),
    # 8 + 2 + 40 + 6 + 2 + 2 x 8 + 2 x 1.25 = 76.5 mm
    (
        "deck_bolt_length",
        "L_sk",
        {"b_sk": 0.008, "h_b": 0.002, "T_sk": 0.040, "q_sk": 0.006, "t_s": 0.002, "d": 0.008, "P": 0.00125},
        0.0765,
    ),
    # 6 + 2 + 60 + 3 + 4 + 2 + 2 x 8 + 2 x 1.25 mm
    (
        "bolt_length_through_a_seated_plate",
        "L_sk",
        {
            "b_sk": 0.006,
            "h_b": 0.002,
            "T": 0.06,
            "t_m": 0.003,
            "h_rsp": 0.004,
            "t_s": 0.002,
            "d": 0.008,
            "P": 0.00125,
        },
        0.0955,
    ),
]


@pytest.mark.parametrize(
    ("name", "symbol", "values", "answer"), BY_HAND, ids=lambda part: part if isinstance(part, str) else ""
)
def test_by_hand(name: str, symbol: str, values: Mapping[str, float], answer: float) -> None:
    working = whole_working([symbol], values)
    assert working.values[symbol] == pytest.approx(answer, rel=5e-6)
    (formula,) = (code for code in FORMULARY.formulas if code.function.__name__ == name)
    assert working.trail[-1].by is formula


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {code.function.__name__ for code in FORMULARY.formulas if code.function.__module__ == deck.__name__}
    assert own == {name for name, _, _, _ in BY_HAND}


def test_hollow_spheres_are_refused_in_a_plug() -> None:
    given = {"D_c": 0.016, "h_c": 0.021, "q_f": 1.0, "rho_b": 200.0, "rho_m": 1100.0}
    assert whole_working(["V_c", "x_f"], {**given, "k_u": 1.0}).values["x_f"] > 0
    with pytest.raises(OutOfRange, match="too weak for a plug"):
        whole_working(["V_c", "x_f"], {**given, "k_u": 0.0})
    assert whole_working(["V_c"], {**given, "k_u": 0.0}).values["V_c"] > 0  # the hole is none the worse for it


def test_a_countersink_wider_than_its_plug_is_warned_of() -> None:
    given = {"D_c": 0.018, "D_k": 0.0085, "w_d": 0.001}
    assert not whole_working(["w_p"], {**given, "h_k": 0.00375}).warnings
    (warning,) = whole_working(["w_p"], {**given, "h_k": 0.004}).warnings
    assert "wider than the plug" in warning


def test_the_mark_errs_to_the_shallow_side() -> None:
    """A mark set too deep would let the drill into the inner skin."""
    reckoning = whole_reckoning(LIBRARY, LIBRARY.cards["bedded-cored"], {"o_sk": "6.7 mm"})
    assert reckoning.shop("M_sk").replace("\N{NO-BREAK SPACE}", " ") == "34 mm"
