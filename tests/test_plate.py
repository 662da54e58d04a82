"""Washers, backing plates and drills: hand-worked cases, limits, and a plate bent in another way."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import drill, plate
from generator.reckoning import Reckoning, reckon

modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def table(name: str, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference[name], inputs)


BY_HAND = [
    ("D_e", {"D_p": 0.024, "t_s": 0.002, "d": 0.008}, 0.024),
    ("D_e", {"D_p": 0.050, "t_s": 0.002, "d": 0.008}, 0.024),
    ("D_e", {"D_p": 0.050, "t_s": 0.005, "d": 0.008}, 0.032),
    # pi/4 x (24^2 - 9^2) mm2
    ("A_p", {"D_e": 0.024, "d": 0.008}, 388.772e-6),
    ("R_p", {"f_ck": 2.5e6, "A_p": 388.772e-6}, 2915.8),
    ("F_p", {"R_p": 2915.8, "gamma_p": 2.5}, 1166.32),
    # 2.5 x 3000 / 3 = 2500 mm2, and pi/4 x 9^2 = 63.617 mm2; root of 2563.617
    ("b_p", {"gamma_p": 2.5, "F_n": 3000.0, "f_ck": 3e6, "d": 0.008}, 0.0506322),
    # 20 x root of (3 x 7.5 / 235) = 20 x 0.309427
    ("b_rs", {"b_p": 0.05, "d": 0.008}, 0.0505),
    ("b_rs", {"b_p": 0.03, "d": 0.008}, 0.032),
    ("c_rs", {"b_rs": 0.06, "D_p": 0.024}, 0.018),
    # 20 x root of (3 x 7.5 / 235) = 20 x 0.309427
    ("h_q", {"c_rs": 0.020, "f_ck": 7.5e6, "f_yp": 235e6, "d": 0.008}, 6.18853e-3),
    ("h_q", {"c_rs": 0.001, "f_ck": 7.5e6, "f_yp": 235e6, "d": 0.008}, 2e-3),
    ("r_rs", {"b_rs": 0.06}, 0.0075),
    ("g_rs", {"t_m": 0.003}, 0.006),
    # 3600 - 0.858407 x 56.25 - 0.785398 x 81 = 3600 - 48.28541 - 63.61725 = 3488.097 mm2; x 3 N/mm2 / 2.5
    (
        "F_rs",
        {"f_ck": 3e6, "b_rs": 0.06, "r_rs": 0.0075, "d": 0.008, "gamma_p": 2.5, "F_p": 1400.0},
        4185.717,
    ),
    # 32 mm a side is 945.4 mm2 and bears 1134 N; its washer by itself, three times the strength, more
    ("F_rs", {"f_ck": 3e6, "b_rs": 0.032, "r_rs": 0.004, "d": 0.008, "gamma_p": 2.5, "F_p": 1400.0}, 1400.0),
    # 9 mm less 13 thousandths of a millimetre
    ("D_hw", {"D_h": 0.009}, 8.987e-3),
    ("D_m", {"D_i": 0.00635}, 0.00635),
    ("dD_n", {"D_n": 0.0064, "D_m": 0.00635}, 0.00005),
]


@pytest.mark.parametrize(
    ("symbol", "values", "result"), BY_HAND, ids=lambda value: value if isinstance(value, str) else ""
)
def test_by_hand(symbol: str, values: dict[str, float], result: float) -> None:
    (formula,) = [step for step in FORMULARY.formulas if step.symbol == symbol]
    assert formula.call(values) == pytest.approx(result, rel=1e-5, abs=1e-12)


def test_every_formula_of_the_subjects_is_worked_by_hand() -> None:
    rooms = (plate.__name__, drill.__name__)
    own = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ in rooms}
    assert own == {symbol for symbol, _, _ in BY_HAND}


def test_a_washer_must_cover_more_than_its_hole() -> None:
    with pytest.raises(OutOfRange, match="washer must be wider"):
        table("woods", thread="M8", D_p="9 mm")


def test_a_washer_that_is_enough_asks_for_no_plate() -> None:
    light, heavy = (table("backing-plates", F_n=load).working.warnings for load in ("0.5 kN", "6 kN"))
    assert [any("no plate is needed" in text for text in warnings) for warnings in (light, heavy)] == [True, False]


@modest
@given(st.integers(1, 500), st.sampled_from(list(LIBRARY.tables["woods"])), st.sampled_from(["M6", "M10", "M16"]))
def test_a_plate_keeps_the_wood_under_its_strength(load: int, wood: str, thread: str) -> None:
    """Whether or not plate is sold so thick, and however strong the bolt is."""
    own = {"F_n": f"{load / 10} kN", "F_s": "100 kN", "wood": wood, "thread": thread}
    values = reckon(LIBRARY, LIBRARY.reference["backing-plates"], own).working.values
    pressed = values["b_p"] ** 2 - 3.14159265 / 4 * (values["d"] + 0.001) ** 2
    assert values["F_n"] / pressed == pytest.approx(values["f_ck"] / 2.5, rel=1e-6)


def test_the_overhang_reaches_its_yield_as_a_cantilever_does() -> None:
    """Cut into thin slices, the pressure's moment at the washer's edge over the section modulus is the yield strength."""
    c, q, f = 0.035, 3e6, 205e6
    t = whole_working(["h_q"], {"c_rs": c, "f_ck": q, "f_yp": f, "d": 0.008}).values["h_q"]
    slices = 10_000
    moment = sum(q * (c / slices) * (place + 0.5) * c / slices for place in range(slices))
    assert moment / (t**2 / 6) == pytest.approx(f, rel=1e-6)


def test_rounding_is_to_the_safe_side() -> None:
    for shop in ("metric", "inch"):
        reckoning = table("backing-plates", shop=shop)
        assert reckoning.working.values["h_rsp"] >= reckoning.working.values["h_q"]
        washer = table("washers", shop=shop)
        assert float(washer.number("F_p")) <= washer.amount("F_p")


@pytest.mark.parametrize(
    ("name", "nearest"),
    [("frac-1-4", 6.4), ("letter-z", 10.5), ("number-40", 2.5), ("inch-1", 25.5), ("frac-9-16", 14.25)],
)
def test_the_nearest_metric_drill(name: str, nearest: float) -> None:
    """1/4 in is 6.35 mm, half way: the larger. An inch is 25.4 mm; the series goes by quarters there."""
    assert table("inch-drills", inch_drill=name).working.values["D_n"] * 1000 == pytest.approx(nearest)
