"""Time and temperature: every formula worked by hand, what holds at any temperature, and where there is no number."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, for_each, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import time
from generator.reckoning import Reckoning
from generator.units import from_base

HARDENERS = list(LIBRARY.tables["hardeners"])
MINUTE, HOUR, DAY = 60.0, 3600.0, 86400.0

modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def table(name: str, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference[name], inputs)


# Worked with a pocket calculator, step by step, the numbers in SI units.
BY_HAND = [
    # 58000 / 8.314 = 6976.2; 1/298.15 - 1/288.15 = -1.16399e-4; exp(-0.81202) = 0.44396
    ("k_T", {"E_a": 58e3, "R_g": 8.314, "T_r": 298.15, "T_a": 288.15}, 0.44396),
    # half, 10 K colder
    ("k_2", {"T_a": 288.15, "T_r": 298.15, "dT_2": 10.0}, 0.5),
    # 8.314 x 0.693147 = 5.76283; 1/293.15 - 1/303.15 = 1.12525e-4; 5.76283 / 1.12525e-4 = 51214
    ("E_2", {"R_g": 8.314, "T_c": 293.15, "dT_2": 10.0}, 51214.0),
    # 20 min / 0.44396 = 45.05 min
    ("t_p", {"t_r": 20 * MINUTE, "k_T": 0.44396}, 45.05 * MINUTE),
    # 20 min / 0.5
    ("t_2", {"t_r": 20 * MINUTE, "k_2": 0.5}, 40 * MINUTE),
    ("t_w", {"t_p": 45 * MINUTE, "t_2": 40 * MINUTE}, 40 * MINUTE),
    ("t_w", {"t_p": 13 * MINUTE, "t_2": 14 * MINUTE}, 13 * MINUTE),
    # 2.5 x 40 min
    ("t_o", {"q_o": 2.5, "t_w": 40 * MINUTE}, 100 * MINUTE),
    ("t_i", {"q_i": 1.5, "t_w": 40 * MINUTE}, 60 * MINUTE),
    # 6976.2 x (1/293.15 - 1/283.15) = 6976.2 x -1.20474e-4 = -0.84045; exp = 0.43152
    ("k_A", {"E_a": 58e3, "R_g": 8.314, "T_c": 293.15, "T_a": 283.15}, 0.43152),
    # 5 K warmer: the root of two
    ("k_D", {"T_a": 298.15, "T_c": 293.15, "dT_2": 10.0}, 1.41421),
    ("k_c", {"k_A": 0.43152, "k_D": 0.5}, 0.43152),
    ("k_c", {"k_A": 1.49, "k_D": 1.41}, 1.41),
    # 18 h / 0.43152 = 41.71 h, 36 h / 0.43152 = 83.43 h, 10 d / 0.43152 = 23.17 d
    ("t_h", {"t_h0": 18 * HOUR, "k_c": 0.43152}, 41.713 * HOUR),
    ("t_l", {"t_l0": 36 * HOUR, "k_c": 0.43152}, 83.426 * HOUR),
    ("t_f", {"t_f0": 10 * DAY, "k_c": 0.43152}, 23.174 * DAY),
    ("dT_a", {"T_air": 293.15}, 20.0),
    # ln 0.7 = -0.356675; 17.62 x 20 / 263.12 = 1.339313
    ("gamma_d", {"R_H": 0.7, "dT_a": 20.0}, 0.982638),
    # 243.12 x 0.982638 = 238.8990; 17.62 - 0.982638 = 16.637362; 238.8990 / 16.637362 = 14.3592
    ("dT_d", {"gamma_d": 0.982638}, 14.3592),
    ("T_dew", {"dT_d": 14.3592}, 287.5092),
    ("T_s", {"T_dew": 287.5092, "dT_s": 3.0}, 290.5092),
    # 4 and 8 times 28 min
    ("t_z1", {"q_z1": 1 / 3, "t_w": 30 * MINUTE}, 10 * MINUTE),
    ("t_z2", {"q_z2": 2 / 3, "t_w": 30 * MINUTE}, 20 * MINUTE),
    ("t_wu", {"q_wu": 0.5, "t_w": 28 * MINUTE, "t_x": 10 * MINUTE, "n_q": 1}, 14 * MINUTE),
    ("t_wu", {"q_wu": 0.5, "t_w": 28 * MINUTE, "t_x": 10 * MINUTE, "n_q": 2}, 10 * MINUTE),
    ("t_wu", {"q_wu": 0.5, "t_w": 28 * MINUTE, "t_x": 20 * MINUTE, "n_q": 3}, 14 * MINUTE),
    ("t_y1", {"q_y1": 4.0, "t_w": 28 * MINUTE}, 112 * MINUTE),
    ("t_y2", {"q_y2": 8.0, "t_w": 28 * MINUTE}, 224 * MINUTE),
    ("k_f", {"k_A": 0.43152, "k_D": 0.5}, 0.5),
    # the window of 2 to 8 h, 10 K colder: 2 h / 0.43152 = 4.635 h, 8 h / 0.5 = 16 h
    ("t_c", {"t_c0": 2 * HOUR, "k_c": 0.43152}, 4.6348 * HOUR),
    ("t_d", {"t_d0": 8 * HOUR, "k_f": 0.5}, 16 * HOUR),
]


@for_each(BY_HAND)
def test_by_hand(symbol: str, values: Mapping[str, float], answer: float) -> None:
    assert whole_working([symbol], values).values[symbol] == pytest.approx(answer, rel=5e-5)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ == time.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


# Whole degrees and tenths in either shop's words, over the range that times are reckoned for.
TENTHS = st.integers(180, 350)


def celsius(tenths: int) -> str:
    return f"{tenths / 10} °C"


@modest
@given(st.sampled_from(HARDENERS), TENTHS, TENTHS)
def test_warmer_never_cures_slower_and_never_stays_open_longer(hardener: str, one: int, other: int) -> None:
    colder, warmer = (celsius(tenths) for tenths in sorted((one, other)))
    for name, symbols in (("pot-life", ("t_p", "t_2", "t_w", "t_o", "t_i")), ("cure", ("t_h", "t_l", "t_f"))):
        cold, warm = (table(name, hardener=hardener, T_a=text).working.values for text in (colder, warmer))
        for symbol in symbols:
            assert warm[symbol] <= cold[symbol] * (1 + 1e-12), symbol


@modest
@given(st.sampled_from(HARDENERS), TENTHS)
def test_each_time_errs_to_the_safe_side(hardener: str, tenths: int) -> None:
    pot = table("pot-life", hardener=hardener, T_a=celsius(tenths)).working.values
    assert pot["t_w"] == min(pot["t_p"], pot["t_2"])
    assert pot["t_i"] <= pot["t_o"]
    cure = table("cure", hardener=hardener, T_a=celsius(tenths)).working.values
    assert cure["t_d"] == pytest.approx(cure["t_d0"] / max(cure["k_A"], cure["k_D"]))
    assert cure["t_c"] < cure["t_d"]
    for now, stated in (("t_c", "t_c0"), ("t_h", "t_h0"), ("t_l", "t_l0"), ("t_f", "t_f0")):
        assert cure[now] == pytest.approx(cure[stated] / min(cure["k_A"], cure["k_D"]))
    assert pot["t_w"] < cure["t_h"] < cure["t_l"] < cure["t_f"]


def test_rounding_is_to_the_safe_side_in_either_shop() -> None:
    for system, text in (("metric", "17 °C"), ("inch", "63 °F")):
        pot, cure = (table(name, shop=system, T_a=text) for name in ("pot-life", "cure"))
        for symbol in ("t_w", "t_o", "t_i"):
            assert float(pot.number(symbol)) <= pot.amount(symbol)
        assert float(cure.number("t_d")) <= cure.amount("t_d")
        for symbol in ("t_c", "t_h", "t_l", "t_f"):
            assert float(cure.number(symbol)) >= cure.amount(symbol)
        dew = table("dew-point", shop=system)
        assert float(dew.number("T_s")) >= dew.amount("T_s")


def test_at_the_stated_temperature_the_stated_time() -> None:
    for hardener in HARDENERS:
        pot = table("pot-life", hardener=hardener, T_a="25 °C").working.values
        assert pot["t_w"] == pytest.approx(pot["t_r"], rel=1e-12)
        cure = table("cure", hardener=hardener, T_a="20 °C").working.values
        assert cure["t_f"] == pytest.approx(cure["t_f0"], rel=1e-12)


def test_the_shops_rule_understates_a_cold_shop() -> None:
    values = table("cure", T_a="10 °C").working.values
    assert values["k_c"] == values["k_A"] < values["k_D"]
    values = table("cure", T_a="30 °C").working.values
    assert values["k_c"] == values["k_D"] < values["k_A"]


@modest
@given(st.integers(0, 500), st.integers(1, 1000))
def test_the_dew_point_is_never_above_the_air(tenths: int, per_mille: int) -> None:
    values = table("dew-point", T_air=celsius(tenths), R_H=f"{per_mille / 10} %").working.values
    assert values["T_dew"] <= values["T_air"] + 1e-9
    assert values["T_s"] == pytest.approx(values["T_dew"] + 3, rel=1e-12)


@modest
@given(st.integers(0, 500), st.integers(1, 1000), st.integers(1, 1000))
def test_damper_air_has_a_higher_dew_point(tenths: int, one: int, other: int) -> None:
    drier, damper = (
        table("dew-point", T_air=celsius(tenths), R_H=f"{part / 10} %").working.values["T_dew"]
        for part in sorted((one, other))
    )
    assert drier <= damper + 1e-9


@modest
@given(st.integers(0, 90), st.integers(0, 90))
def test_filler_never_adds_heat(one: int, other: int) -> None:
    lean, rich = (table("pot-life", x_f=f"{percent} %").working.values["dT_m"] for percent in sorted((one, other)))
    assert 0 < rich <= lean * (1 + 1e-12) < 240


# No number, and the reason.


@pytest.mark.parametrize(
    ("hardener", "text", "words"),
    [
        # A faster hardener is told of only where one cures and its times may be reckoned.
        (
            "medium",
            "9 °C",
            r"colder than this hardener cures at: .* to 10.°C or more, and keep them so until it is hard$",
        ),
        (
            "slow",
            "9 °C",
            r"colder than this hardener cures at: .* to 15.°C or more, and keep them so until it is hard$",
        ),
        ("slow", "14 °C", "colder than this hardener cures at: .* or take a faster hardener$"),
        ("extra-slow", "64 °F", "colder than this hardener cures at: .* or take a faster hardener$"),
        ("fast", "4 °C", "too cold to reckon a time"),
        ("fast", "9 °C", "too cold to reckon a time"),
        ("fast", "49 °F", "too cold to reckon a time"),
        ("slow", "36 °C", "too warm to reckon a time"),
        ("slow", "96 °F", "too warm to reckon a time"),
    ],
)
@pytest.mark.parametrize("name", ["pot-life", "cure"])
def test_outside_there_is_no_number(name: str, hardener: str, text: str, words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        table(name, hardener=hardener, T_a=text)


@pytest.mark.parametrize(
    ("hardener", "text"),
    [
        ("fast", "10 °C"),
        ("fast", "50 °F"),
        ("medium", "50 °F"),
        ("slow", "15 °C"),
        ("slow", "59 °F"),
        ("extra-slow", "18 °C"),
        ("fast", "35 °C"),
        ("fast", "95 °F"),
    ],
)
def test_the_limits_themselves_are_inside(hardener: str, text: str) -> None:
    for name, symbol in (("pot-life", "t_w"), ("cure", "t_f")):
        assert table(name, hardener=hardener, T_a=text).working.values[symbol] > 0


def test_the_dew_point_needs_air_above_freezing_and_a_humidity() -> None:
    for givens, words in (
        ({"T_air": 270.0, "R_H": 0.5}, "above freezing"),
        ({"T_air": 290.0, "R_H": 0.0}, "relative humidity"),
        ({"T_air": 290.0, "R_H": 1.01}, "relative humidity"),
    ):
        with pytest.raises(OutOfRange, match=words):
            whole_working(["T_dew"], givens)


def test_work_near_the_dew_point_is_warned_of() -> None:
    givens = {"T_air": 293.15, "R_H": 0.7, "dT_s": 3.0}
    assert "near the dew point" in whole_working(["T_s"], {**givens, "T_a": 290.0}).warnings[0]
    assert not whole_working(["T_s"], {**givens, "T_a": 291.0}).warnings


def test_absurd_inputs_yield_no_number() -> None:
    with pytest.raises(OutOfRange):
        whole_working(["k_T"], {"E_a": 58e3, "R_g": 1e-9, "T_r": 1.0, "T_a": 300.0})


def test_saturated_air_is_at_its_dew_point() -> None:
    values = table("dew-point", T_air="18 °C", R_H="100 %").working.values
    assert math.isclose(values["T_dew"], values["T_air"], abs_tol=1e-9)
    assert from_base(values["T_s"], "K", "degC") == pytest.approx(21)
