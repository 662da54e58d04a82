"""The heat of the cure and how much at once: worked by hand, and the limits of self-heating worked again from scratch."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import pour
from generator.model.quantity import read_symbol
from generator.reckoning import InputError, Reckoning

HARDENERS = list(LIBRARY.tables["hardeners"])
MINUTE = 60.0

modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def table(name: str, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference[name], inputs)


# Worked with a pocket calculator, step by step, the numbers in SI units.
BY_HAND = [
    # 105000 / (0.190 + 0.0426) = 451419 J/kg
    ("H_m", {"H_e": 105e3, "M_e": 0.19, "M_h": 0.0426}, 451419.0),
    # 0.7 x 451419 = 315993; 0.7 x 1900 + 0.3 x 850 = 1585; 315993 / 1585 = 199.36
    ("dT_m", {"x_f": 0.3, "H_m": 451419.0, "c_m": 1900.0, "c_f": 850.0}, 199.36),
    # 293.15^2 = 85936.9; x 8.314 = 714479; / 58000 = 12.3186
    ("dT_e", {"R_g": 8.314, "T_a": 293.15, "E_a": 58e3}, 12.3186),
    # 1100 x 450000 = 4.95e8 J/m3; x 0.577 = 2.85615e8; over 4000 s = 71403.75 W/m3
    ("Q_v", {"rho_m": 1100.0, "H_m": 450e3, "x_g": 0.577, "t_o": 4000.0}, 71403.75),
    # 0.878 x 0.2 x 12.5 / 70000 = 3.13571e-5; its root 5.59975e-3; twice, 11.1995 mm, over the shop's 10 mm
    ("h_p", {"h_1": 0.01, "delta_p": 0.878, "lambda_e": 0.2, "dT_e": 12.5, "Q_v": 70e3}, 0.01),
    ("h_p", {"h_1": 0.012, "delta_p": 0.878, "lambda_e": 0.2, "dT_e": 12.5, "Q_v": 70e3}, 0.0111995),
    # 2 x 0.2 x 12.5 / 70000 = 7.14286e-5; its root 8.45154e-3
    ("d_p", {"d_1": 0.025, "delta_r": 2.0, "lambda_e": 0.2, "dT_e": 12.5, "Q_v": 70e3}, 0.0169031),
    ("d_p", {"d_1": 0.016, "delta_r": 2.0, "lambda_e": 0.2, "dT_e": 12.5, "Q_v": 70e3}, 0.016),
    ("n_p", {"h_w": 0.04, "h_p": 0.009}, 5.0),
    ("n_p", {"h_w": 0.04, "h_p": 0.01}, 4.0),
    # 4000 x 12.5 / (240 x 0.577) = 50000 / 138.48 = 361.06 s
    ("t_v", {"t_o": 4000.0, "dT_e": 12.5, "dT_m": 240.0, "x_g": 0.577}, 361.06),
    # (28 - 8) / 4 = 5 by the clock, 100 / 30 = 3.3 by the cup
    ("N_b", {"t_w": 28 * MINUTE, "t_x": 8 * MINUTE, "t_u": 4 * MINUTE, "m_c": 0.1, "m_e": 0.03}, 3.0),
    ("N_b", {"t_w": 28 * MINUTE, "t_x": 8 * MINUTE, "t_u": 4 * MINUTE, "m_c": 0.1, "m_e": 0.01}, 5.0),
    ("n_b", {"N": 7.0, "N_b": 3.0}, 3.0),
]


@pytest.mark.parametrize(
    ("symbol", "values", "answer"), BY_HAND, ids=lambda part: part if isinstance(part, str) else ""
)
def test_by_hand(symbol: str, values: Mapping[str, float], answer: float) -> None:
    (formula,) = (one for one in FORMULARY.yielding(symbol) if {*one.parameters} == {*values})
    assert formula.call(values) == pytest.approx(answer, rel=5e-5)  # type: ignore[union-attr]


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ == pour.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


# The equation of self-heating, theta'' + n / x theta' + delta exp(theta) = 0, worked outwards from the middle.


def delta_of(middle: float, shape: int, steps: int = 4000) -> float:
    """With `middle` for the middle's temperature, the delta for which the edge stays at 0."""

    def slope(x: float, theta: float, gradient: float) -> tuple[float, float]:
        bend = math.exp(theta)
        return gradient, -bend / (1 + shape) if x == 0 else -bend - shape / x * gradient

    x, theta, gradient, step = 0.0, middle, 0.0, 10.0 / steps
    while theta > 0:
        a, b = slope(x, theta, gradient)
        c, e = slope(x + step / 2, theta + step / 2 * a, gradient + step / 2 * b)
        before = theta
        theta, gradient, x = theta + step * c, gradient + step * e, x + step
    edge = x - step * theta / (theta - before)
    return edge**2


@pytest.mark.parametrize(("symbol", "shape"), [("delta_p", 0), ("delta_r", 1)])
def test_the_limits_of_self_heating_are_those_of_the_equation(symbol: str, shape: int) -> None:
    """No steady temperature exists above the greatest delta that any middle temperature reaches."""
    greatest = max(delta_of(middle / 50, shape) for middle in range(10, 150))
    row = LIBRARY.tables["time_constants"]["runaway"]
    assert read_symbol(symbol, row.gives[symbol]) == pytest.approx(greatest, rel=2e-3)


def test_a_big_pour_is_reckoned_as_its_equation_runs() -> None:
    """dx/dt = x_g / t_o exp(dT_m x / dT_e), stepped until the gel, takes no less time than the formula says."""
    values = table("one-pour").working.values
    x, time, step = 0.0, 0.0, 1e-5
    while x < values["x_g"]:
        time += step / (values["x_g"] / values["t_o"] * math.exp(values["dT_m"] * (x + step / 2) / values["dT_e"]))
        x += step
    assert time == pytest.approx(values["t_v"], rel=1e-3)


def test_the_gel_point_is_that_of_four_arms_on_two() -> None:
    (gel,) = [row.gives["x_g"] for row in LIBRARY.tables["time_constants"].values() if "x_g" in row.gives]
    assert float(gel) == pytest.approx(1 / math.sqrt((2 - 1) * (4 - 1)), abs=5e-4)


@modest
@given(st.sampled_from(HARDENERS), st.integers(180, 350), st.integers(180, 350))
def test_warmer_never_lets_pour_thicker_nor_serves_more(hardener: str, one: int, other: int) -> None:
    colder, warmer = (f"{tenths / 10} °C" for tenths in sorted((one, other)))
    cold, warm = (table("one-pour", hardener=hardener, T_a=text).working.values for text in (colder, warmer))
    for symbol in ("t_v", "h_p", "d_p"):
        assert warm[symbol] <= cold[symbol] * (1 + 1e-12), symbol
    quick = {"t_x": "2 min", "t_u": "0.5 min"}
    cold, warm = (table("batches", hardener=hardener, T_a=text, **quick).working.values for text in (colder, warmer))
    assert warm["N_b"] <= cold["N_b"]


@modest
@given(st.sampled_from(HARDENERS), st.integers(180, 350))
def test_no_pour_is_over_the_shops_rule(hardener: str, tenths: int) -> None:
    reckoning = table("one-pour", hardener=hardener, T_a=f"{tenths / 10} °C")
    values = reckoning.working.values
    assert 0 < values["h_p"] <= 0.010
    assert values["h_p"] < values["d_p"] <= 0.025
    assert values["t_v"] < values["t_w"] < values["t_o"]
    assert values["n_p"] * values["h_p"] >= values["h_w"] * (1 - 1e-9)
    for symbol in ("h_p", "d_p", "t_v"):
        assert float(reckoning.number(symbol)) <= reckoning.amount(symbol)


@modest
@given(
    st.integers(1, 60),
    st.floats(0.5, 60),
    st.floats(0.1, 100, allow_subnormal=False),
)
def test_a_mix_is_used_up_in_time(fittings: int, each: float, grams: float) -> None:
    """What one mix serves is done within the working time, and comes out of one cup; and it is not one too few."""
    givens = {"t_u": f"{each:.3f} min", "m_e": f"{grams:.4f} g", "N": str(fittings)}
    if each > 15.284 or grams > 100:  # 28.284 min at 20 °C, less the 13 min before the first fitting
        with pytest.raises(OutOfRange, match="does not last for one fitting"):
            table("batches", **givens)
        return
    values = table("batches", **givens).working.values
    served, close = values["N_b"], 1 + 1e-8
    assert values["t_x"] + served * values["t_u"] <= values["t_w"] * close
    assert served * values["m_e"] <= values["m_c"] * close
    one_more = served + 1
    late = values["t_x"] + one_more * values["t_u"] > values["t_w"] / close
    assert late or one_more * values["m_e"] > values["m_c"] / close
    assert values["n_b"] * served >= fittings


def test_a_mix_that_does_not_last_for_one_fitting_is_refused() -> None:
    with pytest.raises(OutOfRange, match="does not last for one fitting"):
        table("batches", hardener="fast", T_a="30 °C")


def test_a_cup_over_a_hundred_grams_is_refused() -> None:
    with pytest.raises(InputError, match="outside the range of this card"):
        table("batches", m_c="120 g")


def test_rounding_of_what_one_mix_serves_is_down() -> None:
    assert whole_working(["N_b"], {"t_w": 1199.0, "t_x": 0.0, "t_u": 60.0, "m_c": 1.0, "m_e": 0.01}).values["N_b"] == 19
    assert whole_working(["N_b"], {"t_w": 1200.0, "t_x": 0.0, "t_u": 60.0, "m_c": 1.0, "m_e": 0.01}).values["N_b"] == 20
