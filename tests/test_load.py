"""What a fitting must carry: every formula worked by hand, what holds for any boat, and where there is no number."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
import pytest
import scipy
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, for_each, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import load as subject
from generator.reckoning import InputError, Reckoning, reckon
from generator.working import work

TABLES = ["ramp-pull", "wind-drag", "tow-drag", "loads-by-length", "anchor-loads", "rail-load"]
RAMPS = list(LIBRARY.tables["ramps"])
CATEGORIES = list(LIBRARY.tables["categories"])
KNOT = 1852 / 3600

modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def table(name: str, **inputs: str) -> Reckoning:
    return reckon(LIBRARY, LIBRARY.reference[name], inputs)


def values(name: str, **inputs: str) -> dict[str, float]:
    return table(name, **inputs).working.values


# Worked with a pocket calculator, step by step, the numbers in SI units.
BY_HAND = [
    # 500 x 9.80665
    ("W_B", {"m_B": 500.0, "g_n": 9.80665}, 4903.325),
    # 1 + 0.0225 = 1.0225, its root 1.011187; 0.15 / 1.011187 = 0.148340
    ("s_r", {"i_r": 0.15}, 0.148340),
    # 1 / 1.011187
    ("c_r", {"i_r": 0.15}, 0.988937),
    # 1 + 0.1764 = 1.1764, its root 1.084620; 0.42 / 1.084620 = 0.387233
    ("s_r", {"i_r": 0.42}, 0.387233),
    # 0.3 x 0.988937 = 0.296681; + 0.148340 = 0.445021; x 4903.325 = 2182.08
    ("F_g", {"W_B": 4903.325, "s_r": 0.148340, "mu_r": 0.3, "c_r": 0.988937}, 2182.08),
    # 1.5 x 2182.08
    ("F_r", {"k_st": 1.5, "F_g": 2182.08}, 3273.12),
    # 30 kn = 15.43333 m/s, squared 238.1878; x 1.225 / 2 = 145.8900; x 1.25 x 8 = 1458.90
    ("F_a", {"rho_air": 1.225, "v_air": 15.433333, "C_air": 1.25, "A_air": 8.0}, 1458.90),
    # 1 kn = 0.514444 m/s, squared 0.264653; x 1025 / 2 = 135.635; x 0.5 x 2 = 135.635
    ("F_c", {"rho_sea": 1025.0, "v_sea": 0.5144444, "C_sea": 0.5, "A_sea": 2.0}, 135.635),
    # 1.5 x 1167.12 = 1750.68; + 135.635 = 1886.315; x 2
    ("F_d", {"k_sh": 2.0, "k_gu": 1.5, "F_a": 1167.12, "F_c": 135.635}, 3772.63),
    # 3113.8 / 1167.12
    ("k_pl", {"F_30": 3113.8, "F_a": 1167.12}, 2.66793),
    # 9.80665 x 6 = 58.8399, its root 7.67072; x 0.4
    ("v_hull", {"g_n": 9.80665, "L_WL": 6.0}, 3.06829),
    # 4 kn = 2.057778 m/s over 3.06829
    ("q_h", {"v_tow": 2.057778, "v_hull": 3.06829}, 0.670659),
    # the speed again, squared 4.234450; x 1025 / 2 = 2170.155; x 0.5 x 2
    ("F_tow", {"rho_sea": 1025.0, "q_h": 0.670659, "v_hull": 3.06829, "C_sea": 0.5, "A_sea": 2.0}, 2170.155),
    ("L_C", {"L_H": 7.0, "L_WL": 6.0}, 6.5),
    # 4.3 x 6 = 25.8; - 5.4 = 20.4; x 0.9 = 18.36 kN
    ("P_1", {"f_K": 0.9, "L_C": 6.0}, 18360.0),
    # 3.5 x 6 = 21; - 4.3 = 16.7; x 0.9 = 15.03 kN
    ("P_2", {"f_K": 0.9, "L_C": 6.0}, 15030.0),
    # 3 x 6 = 18; - 3.8 = 14.2; x 0.75 = 10.65 kN
    ("P_3", {"f_K": 0.75, "L_C": 6.0}, 10650.0),
    # 20400 / 9.80665
    ("m_1", {"P_1": 20400.0, "g_n": 9.80665}, 2080.22),
    ("F_15", {"F_30": 3000.0}, 750.0),
    ("F_42", {"F_30": 3000.0}, 6000.0),
    ("F_pm", {"F_42": 6000.0}, 9000.0),
    ("F_sa", {"F_42": 6000.0}, 12000.0),
    ("F_sp", {"F_pm": 9000.0}, 18000.0),
    # 2 x 100 x 9.80665
    ("F_P", {"k_su": 2.0, "m_P": 100.0, "g_n": 9.80665}, 1961.33),
    # 1961.33 x 600 / 60
    ("F_t", {"F_P": 1961.33, "h_s": 0.6, "b_s": 0.06}, 19613.3),
]


@for_each(BY_HAND)
def test_by_hand(symbol: str, inputs: Mapping[str, float], answer: float) -> None:
    assert work([symbol], inputs).values[symbol] == pytest.approx(answer, rel=5e-6)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ == subject.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


# Against something outside


@pytest.mark.parametrize("grade", [0.0, 0.05, 0.15, 0.2, 0.5])
@pytest.mark.parametrize("ramp", RAMPS)
def test_the_pull_does_the_work_of_lifting_and_rubbing(grade: float, ramp: str) -> None:
    """Energy, over ten metres of ramp: what the winch puts in is the height gained and the heat of friction."""
    got = values("ramp-pull", ramp=ramp, m_B="500 kg", i_r=f"{100 * grade} %")
    angle = math.atan(grade)
    height = 10 * math.sin(angle)
    heat, _ = scipy.integrate.quad(lambda _: got["mu_r"] * 500 * 9.80665 * math.cos(angle), 0, 10)
    assert got["F_g"] * 10 == pytest.approx(500 * 9.80665 * height + heat, rel=1e-9)
    assert got["s_r"] ** 2 + got["c_r"] ** 2 == pytest.approx(1, rel=1e-12)


@pytest.mark.parametrize("stiffness", [2e3, 5e4, 1e6])
def test_a_weight_let_go_at_once_pulls_a_spring_twice_as_hard(stiffness: float) -> None:
    """Stepped through time: m x'' = m g - k x, from rest."""
    mass, gravity = 100.0, 9.80665
    swing = math.pi * math.sqrt(mass / stiffness)
    run = scipy.integrate.solve_ivp(
        lambda _, state: [state[1], gravity - stiffness / mass * state[0]],
        (0, 2.2 * swing),
        [0.0, 0.0],
        max_step=swing / 400,
        rtol=1e-9,
        atol=1e-12,
    )
    assert values("rail-load", m_P="100 kg")["F_P"] == pytest.approx(stiffness * run.y[0].max(), rel=1e-4)


@pytest.mark.parametrize(("height", "base"), [(600, 60), (300, 100), (100, 150)])
def test_the_base_stands_still(height: int, base: int) -> None:
    """Three equations of equilibrium for push, pull, edge and shear, solved together."""
    got = values("rail-load", h_s=f"{height} mm", b_s=f"{base} mm")
    # unknown: pull of the fastener (down), press at the edge (up), shear at the edge
    equations = np.array([[-1.0, 1.0, 0.0], [0.0, 0.0, 1.0], [base / 1e3, 0.0, 0.0]])
    push = got["F_P"]
    pull, press, shear = np.linalg.solve(equations, np.array([0.0, push, push * height / 1e3]))
    assert got["F_t"] == pytest.approx(pull, rel=1e-12)
    assert press == pytest.approx(pull)
    assert shear == pytest.approx(push)


@pytest.mark.parametrize("knots", [5, 17, 30, 60])
def test_drag_is_the_momentum_of_the_air_that_is_stopped(knots: int) -> None:
    """A coefficient of 2 is a stream brought wholly to rest, summed strip by strip over the area."""
    speed = knots * KNOT
    stopped, _ = scipy.integrate.quad(lambda _: 1.225 * speed * speed, 0, 8)
    got = values("wind-drag", v_air=f"{knots} kn", A_air="8 m2", C_air="2")
    assert got["F_a"] == pytest.approx(stopped, rel=1e-9)


def test_towing_and_current_are_one_drag() -> None:
    towed = values("tow-drag", v_tow="3 kn", A_sea="0.8 m2")["F_tow"]
    assert towed == pytest.approx(values("wind-drag", v_sea="3 kn", A_sea="0.8 m2")["F_c"], rel=1e-12)


# What holds for any boat

MASSES, GRADES = st.integers(10, 20000), st.integers(0, 50)


@modest
@given(MASSES, MASSES, GRADES, GRADES, st.sampled_from(RAMPS))
def test_heavier_or_steeper_never_pulls_less(mass: int, other: int, grade: int, steeper: int, ramp: str) -> None:
    light, heavy = sorted((mass, other))
    flat, steep = sorted((grade, steeper))
    least = values("ramp-pull", m_B=f"{light} kg", i_r=f"{flat} %", ramp=ramp)
    most = values("ramp-pull", m_B=f"{heavy} kg", i_r=f"{steep} %", ramp=ramp)
    assert least["F_r"] <= most["F_r"] * (1 + 1e-12)
    # Never more than hanging it up and dragging it too.
    assert most["F_g"] <= most["W_B"] * (1 + most["mu_r"]) * (1 + 1e-12)
    assert most["F_g"] >= most["W_B"] * most["s_r"]


@modest
@given(st.integers(0, 640), st.integers(0, 640), st.integers(1, 1000), st.integers(0, 80))
def test_drag_goes_with_the_square_of_the_wind_and_with_the_area(one: int, other: int, area: int, current: int) -> None:
    slow, fast = sorted((one, other))
    common = {"A_air": f"{area / 10} m2", "v_sea": f"{current / 10} kn"}
    calm, windy = (values("wind-drag", v_air=f"{tenths / 10} kn", **common) for tenths in (slow or 1, fast or 1))
    assert windy["F_d"] >= calm["F_d"] * (1 - 1e-12)
    assert windy["F_a"] / calm["F_a"] == pytest.approx(((fast or 1) / (slow or 1)) ** 2, rel=1e-9)
    assert windy["F_d"] >= windy["F_a"] + windy["F_c"]


@modest
@given(st.integers(250, 2400), st.integers(250, 2400), st.sampled_from(CATEGORIES))
def test_a_longer_boat_asks_for_more_and_anchoring_for_most(one: int, other: int, category: str) -> None:
    short, long = (
        values("loads-by-length", L_C=f"{hundredths / 100} m", category=category) for hundredths in sorted((one, other))
    )
    for symbol in ("P_1", "P_2", "P_3"):
        assert 0 < short[symbol] <= long[symbol]
    assert long["P_1"] > long["P_2"] > long["P_3"]
    assert long["P_1"] <= values("loads-by-length", L_C=f"{max(one, other) / 100} m", category="a-b")["P_1"]
    assert long["m_1"] * long["g_n"] == pytest.approx(long["P_1"])


@modest
@given(st.integers(1, 1500), st.integers(1, 1500), st.integers(10, 1000))
def test_a_higher_rail_pulls_harder_and_a_wider_base_less(one: int, other: int, base: int) -> None:
    low, high = sorted((max(one, 10), max(other, 10)))
    pulls = [values("rail-load", h_s=f"{height} mm", b_s=f"{base} mm")["F_t"] for height in (low, high)]
    assert pulls[0] <= pulls[1]
    assert values("rail-load", h_s=f"{high} mm", b_s="1 m")["F_t"] <= pulls[1] * (1 + 1e-12)


@modest
@given(st.integers(1, 10000))
def test_the_loads_at_anchor_ascend(newtons: int) -> None:
    got = values("anchor-loads", F_30=f"{newtons} N")
    assert got["F_15"] < got["F_30"] < got["F_42"] < got["F_pm"] < got["F_sp"]
    assert got["F_42"] < got["F_sa"] < got["F_sp"]


LOADS = {
    "ramp-pull": ["F_g", "F_r", "W_B"],
    "wind-drag": ["F_a", "F_c", "F_d"],
    "tow-drag": ["F_tow", "P_1"],
    "loads-by-length": ["P_1", "P_2", "P_3", "W_B"],
    "anchor-loads": ["F_15", "F_42", "F_pm", "F_sa", "F_sp"],
    "rail-load": ["F_P", "F_t"],
}


@pytest.mark.parametrize("shop", ["metric", "inch"])
@pytest.mark.parametrize("name", TABLES)
def test_loads_to_be_met_are_rounded_up(name: str, shop: str) -> None:
    odd = {
        "ramp-pull": {"m_B": "517.3 kg"},
        "anchor-loads": {"F_30": "3.1234 kN"},
        "loads-by-length": {"L_C": "6.123 m"},
    }
    reckoning = table(name, shop=shop, **odd.get(name, {}))
    for symbol in LOADS[name]:
        assert float(reckoning.number(symbol)) >= reckoning.amount(symbol) * (1 - 1e-9), symbol


def test_what_is_allowed_is_rounded_down() -> None:
    """The mass that may take its weight instead, and the fastest that a boat is towed."""
    length = table("loads-by-length", L_C="6.123 m")
    assert float(length.number("m_1")) <= length.amount("m_1")
    towed = table("tow-drag")
    assert float(towed.number("v_hull")) == 5.9 < towed.amount("v_hull")


# Where there is no number


@pytest.mark.parametrize(
    ("name", "inputs", "words"),
    [
        ("ramp-pull", {"i_r": "15"}, "give the grade in percent"),
        ("ramp-pull", {"i_r": "51 %"}, "so steep a ramp is no boat ramp"),
        ("loads-by-length", {"L_C": "2.4 m"}, "under 2.5\u00a0m, where the standard's straight line means little"),
        ("loads-by-length", {"L_C": "8 ft"}, "take the boat's weight"),
        ("loads-by-length", {"L_C": "24.1 m"}, "the standard ends at a hull of 24\u00a0m"),
        ("tow-drag", {"L_H": "24.5 m", "L_WL": "20 m"}, "the standard ends at a hull of 24\u00a0m"),
        ("tow-drag", {"L_H": "5 m", "L_WL": "6 m"}, "the waterline is longer than the hull"),
        ("tow-drag", {"v_tow": "6 kn"}, "no drag is given for towing over hull speed"),
    ],
)
def test_outside_there_is_no_number(name: str, inputs: Mapping[str, str], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        whole_reckoning(LIBRARY, LIBRARY.reference[name], inputs)


@pytest.mark.parametrize(
    ("name", "inputs"),
    [
        ("ramp-pull", {"i_r": "50 %"}),
        ("ramp-pull", {"i_r": "0 %"}),
        ("loads-by-length", {"L_C": "2.5 m"}),
        ("loads-by-length", {"L_C": "24 m"}),
        ("tow-drag", {"L_H": "24 m", "L_WL": "24 m"}),
        ("tow-drag", {"v_tow": "5.9 kn"}),
    ],
)
def test_the_limits_themselves_are_inside(name: str, inputs: Mapping[str, str]) -> None:
    got = table(name, **inputs)
    assert not got.working.warnings
    assert all(got.working.values[symbol] > 0 for symbol in LOADS[name])


@pytest.mark.parametrize(
    ("name", "inputs"),
    [
        ("wind-drag", {"v_air": "65 kn"}),
        ("wind-drag", {"v_sea": "9 kn"}),
        ("ramp-pull", {"m_B": "21000 kg"}),
        ("rail-load", {"b_s": "5 mm"}),
        ("rail-load", {"h_s": "2 m"}),
        ("rail-load", {"m_P": "300 kg"}),
    ],
)
def test_an_input_outside_the_page_is_refused(name: str, inputs: Mapping[str, str]) -> None:
    with pytest.raises(InputError, match="outside the range"):
        table(name, **inputs)


def test_a_base_without_width_is_refused() -> None:
    with pytest.raises(InputError):
        table("rail-load", b_s="0 mm")
    with pytest.raises(OutOfRange):
        whole_working(["F_t"], {"F_P": 1000.0, "h_s": 0.5, "b_s": 0.0})


@pytest.mark.parametrize("name", TABLES)
def test_every_page_says_who_decides_and_what_it_is_not_for(name: str) -> None:
    sheet = LIBRARY.reference[name]
    text = " ".join(" ".join(note.split()) for note in sheet.notes)
    assert "defer" in sheet.all_cautions
    assert "A strong point belongs to a designer, a surveyor and the local rules." in text
    assert "No load on this page is for lifting" in text
    assert "sole tie-down" in text


def test_the_standards_own_list_is_not_reprinted() -> None:
    """The rows of the page are round loads of our own, and no length stands beside them."""
    sheet = LIBRARY.reference["anchor-loads"]
    assert sheet.over.input == "F_30"
    assert not {"L_H", "L_C", "L_WL"} & {*sheet.givens, *sheet.columns}
