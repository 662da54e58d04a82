"""Heat: every formula worked by hand, what holds at any length and temperature, and where there is no number."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, for_each, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import heat
from generator.reckoning import Reckoning
from generator.units import from_base

METALS = list(LIBRARY.tables["metals"])
MINUTE = 60.0

modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def removal(**inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference["heat-removal"], inputs)


def by_length(**inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference["heat-by-length"], inputs)


# Worked with a pocket calculator, step by step, the numbers in SI units.
BY_HAND = [
    # 0.004064 x 12 = 0.048768; 0.1941 + 0.048768 = 0.242868; x 0.48 = 0.116577; + 0.01864
    ("k_wood", {"G": 0.48, "x_wood": 0.12}, 0.135217),
    # root of 1.8 = 1.341641; x 0.135217
    ("k_g", {"q_g": 1.8, "k_wood": 0.135217}, 0.181413),
    # 0.003867 x 293.15 = 1.133611; + 0.1031 = 1.236711 kJ/kgK
    ("c_0", {"T_a": 293.15}, 1236.711),
    # (1236.711 + 4180 x 0.12) / 1.12 = 1738.311 / 1.12 = 1552.063; bound water: 2.36e-4 x 293.15 = 0.0691834,
    # - 0.06191 - 1.33e-4 x 12 = 0.0691834 - 0.06191 - 0.001596 = 0.0056774; x 12 = 0.0681288 kJ; 1552.063 + 68.129
    ("c_wood", {"c_0": 1236.711, "x_wood": 0.12, "T_a": 293.15}, 1620.192),
    # 1000 x 0.48 x 1.12
    ("rho_wood", {"G": 0.48, "x_wood": 0.12}, 537.6),
    # 0.785398 x 0.0072568^2 = 0.785398 x 5.26611e-5
    ("A_k", {"d_v": 0.0072568}, 4.13600e-5),
    # 537.6 x 1620.19 = 871014; pi x 0.18141 x 1200 / 871014 = 683.90 / 871014 = 7.8517e-4; root 0.0280210; x 2 + 0.014
    ("D_far", {"D_o": 0.014, "k_g": 0.18141, "t_hold": 1200.0, "rho_wood": 537.6, "c_wood": 1620.19}, 0.070042),
    # 0.014 + 0.056042 / 1.414214 = 0.014 + 0.0396277
    ("D_w", {"D_o": 0.014, "D_far": 0.070042}, 0.0536277),
    # ln(14 / 7) / 0.32 = 0.693147 / 0.32 = 2.166085; ln(56 / 14) / 0.18 = 1.386294 / 0.18 = 7.701636;
    # 6.283185 / 9.867721
    ("g_h", {"D_o": 0.014, "d_v": 0.007, "k_epoxy": 0.32, "D_w": 0.056, "k_g": 0.18}, 0.636741),
    # 36 x 4e-5 / 0.64 = 0.00225; root
    ("L_h", {"k_h": 36.0, "A_k": 4e-5, "g_h": 0.64}, 0.0474342),
    # (115 - 20) / (95 - 20) = 95 / 75
    # 5 degrees of swing under 115 °C
    ("T_m", {"T_k": 388.15, "dT_sw": 5.0}, 385.65),
    ("q_x", {"T_m": 388.15, "T_a": 293.15, "T_x": 368.15}, 1.266667),
    # 50 x ln 1.25 = 50 x 0.223144
    ("L_x", {"L_h": 0.050, "q_x": 1.25}, 0.0111572),
    # root(1.5625 - 1) = 0.75; 1.25 + 0.75 = 2; 50 x ln 2
    ("L_end", {"L_h": 0.050, "q_x": 1.25}, 0.0346574),
    ("L_both", {"L_end": 0.035}, 0.070),
    # L over L_h is ln 2: (2 + 1/2) / 2 = 1.25; 100 / 1.25 = 80 above 293.15
    ("T_end", {"T_a": 293.15, "T_m": 393.15, "L_k": 0.05 * math.log(2), "L_h": 0.05}, 373.15),
    # 75 x 1.25 = 93.75 above 293.15, and 2.5 for half of the swing
    ("T_need", {"T_a": 293.15, "T_x": 368.15, "L_k": 0.05 * math.log(2), "L_h": 0.05, "dT_sw": 5.0}, 389.40),
    # ln 2 = 0.693147; ln(70 / 14) = 1.609438, x 0.32 / 0.18 = 2.861223; 1 - 0.693147 / 3.554370 = 1 - 0.195013
    ("q_wall", {"D_o": 0.014, "d_v": 0.007, "k_epoxy": 0.32, "D_far": 0.070, "k_g": 0.18}, 0.804987),
    # 293.15 + 95 x 0.8 = 293.15 + 76
    ("T_wall", {"T_a": 293.15, "T_k": 388.15, "q_wall": 0.8}, 369.15),
    # 80 / 0.8 = 100 above 293.15, and the metal may have 393.15: the same; with 0.9 it is 88.889 above
    ("T_top", {"T_metal": 393.15, "T_a": 293.15, "T_wood": 373.15, "q_wall": 0.9}, 382.0389),
    ("T_top", {"T_metal": 393.15, "T_a": 293.15, "T_wood": 373.15, "q_wall": 0.7}, 393.15),
    # 7990 x 4.136e-5 x 0.09
    ("m_k", {"rho_k": 7990.0, "A_k": 4.136e-5, "L_k": 0.09}, 0.0297420),
    # 0.0289 x 500 x 75
    ("Q_k", {"m_k": 0.0289, "c_h": 500.0, "T_x": 368.15, "T_a": 293.15}, 1083.75),
    # 36 x 4e-5 / 0.05 = 0.0288; tanh of ln 2 = (2 - 1/2) / (2 + 1/2) = 0.6; x 100
    (
        "P_s",
        {"k_h": 36.0, "A_k": 4e-5, "L_h": 0.05, "L_k": 0.05 * math.log(2), "T_k": 393.15, "T_a": 293.15},
        1.728,
    ),
    # 1083.75 / 60
    ("t_q", {"Q_k": 1083.75, "P_k": 60.0}, 18.0625),
    # 0.0081 x 7990 x 500 / 29.2 = 32359.5 / 29.2 = 1108.202; x (21 / 7)^2
    ("t_dif", {"L_k": 0.09, "rho_k": 7990.0, "c_h": 500.0, "k_h": 14.6, "D_o": 0.021, "d_v": 0.007}, 9973.82),
    # 18 + 1108 x 1/4; a shorter one has all of it
    ("t_k", {"t_q": 18.0, "t_dif": 1108.0, "L_end": 0.030, "L_k": 0.060}, 295.0),
    ("t_k", {"t_q": 18.0, "t_dif": 1108.0, "L_end": 0.030, "L_k": 0.025}, 1126.0),
]


@for_each(BY_HAND)
def test_by_hand(symbol: str, values: Mapping[str, float], answer: float) -> None:
    assert whole_working([symbol], values).values[symbol] == pytest.approx(answer, rel=2e-5)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ == heat.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


# The rod.

# A head that is held without a swing.
ROD = {"k_h": 36.0, "A_k": 4.136e-5, "g_h": 0.66, "T_a": 293.15, "T_x": 368.15, "dT_sw": 0.0}
REACH = whole_working(["L_h"], ROD).values["L_h"]
LENGTHS = st.floats(0.005, 0.5)
HEADS = st.floats(369.0, 393.0)


def inside(x: float, length: float, head: float) -> float:
    """The warmth at depth x of a rod with an end, by the textbook's own words: cosh((L - x) / L_h) / cosh(L / L_h)."""
    return ROD["T_a"] + (head - ROD["T_a"]) * math.cosh((length - x) / REACH) / math.cosh(length / REACH)


@modest
@given(LENGTHS, HEADS)
def test_a_rod_with_an_end_is_at_least_as_warm_where_one_without_end_just_softens(length: float, head: float) -> None:
    depth = whole_working(["L_x"], {**ROD, "T_k": head}).values["L_x"]
    if depth <= length:
        assert inside(depth, length, head) >= ROD["T_x"] - 1e-9
    else:  # then it is soft to its end
        assert whole_working(["T_end"], {**ROD, "T_k": head, "L_k": length}).values["T_end"] >= ROD["T_x"] - 1e-9


@modest
@given(LENGTHS, HEADS)
def test_the_far_end_is_the_rods_own_coldest_spot(length: float, head: float) -> None:
    end = whole_working(["T_end"], {**ROD, "T_k": head, "L_k": length}).values["T_end"]
    assert end == pytest.approx(inside(length, length, head), rel=1e-9)
    assert ROD["T_a"] <= end <= head
    assert all(inside(length * part / 10, length, head) >= end - 1e-9 for part in range(11))


@modest
@given(HEADS)
def test_the_longest_fastener_just_softens_at_its_end_and_the_head_it_needs_is_the_one_it_has(head: float) -> None:
    values = whole_working(["L_x", "L_end", "L_both"], {**ROD, "T_k": head}).values
    own = {**ROD, "T_k": head, "L_k": values["L_end"]}
    assert whole_working(["T_end"], own).values["T_end"] == pytest.approx(ROD["T_x"], rel=1e-9)
    assert whole_working(["T_need"], own).values["T_need"] == pytest.approx(head, rel=1e-9)
    assert values["L_x"] < values["L_end"] < values["L_both"]
    # Both ends of a rod twice as long: its middle, by the two heads' warmth side by side (sinh for each held end).
    whole = values["L_both"] / REACH
    middle = 2 * math.sinh(whole / 2) / math.sinh(whole)
    assert ROD["T_a"] + (head - ROD["T_a"]) * middle == pytest.approx(ROD["T_x"], rel=1e-9)


@modest
@given(LENGTHS)
def test_what_flows_into_the_head_is_what_is_lost_along_the_rod(length: float) -> None:
    """Conservation: the loss summed along the rod, by Simpson's rule."""
    head, parts = 390.0, 400
    flow = whole_working(["P_s"], {**ROD, "T_k": head, "L_k": length}).values["P_s"]
    warmth = [inside(length * i / parts, length, head) - ROD["T_a"] for i in range(parts + 1)]
    summed = sum((1 if i in (0, parts) else 4 if i % 2 else 2) * t for i, t in enumerate(warmth)) * length / parts / 3
    assert flow == pytest.approx(ROD["g_h"] * summed, rel=1e-5)


@modest
@given(st.sampled_from(METALS), st.integers(10, 200), st.integers(10, 200), st.integers(98, 118), st.integers(98, 118))
def test_longer_never_helps_and_hotter_never_hurts(metal: str, one: int, other: int, cool: int, hot: int) -> None:
    short, long_ = (removal(metal=metal, L_k=f"{length} mm").working.values for length in sorted((one, other)))
    assert long_["T_end"] <= short["T_end"] + 1e-9
    assert long_["P_s"] >= short["P_s"] - 1e-9
    assert long_["Q_k"] >= short["Q_k"] - 1e-9
    mild, fierce = (removal(metal=metal, T_k=f"{degrees} °C").working.values for degrees in sorted((cool, hot)))
    for symbol in ("L_x", "L_end", "T_end", "T_wall"):
        assert fierce[symbol] >= mild[symbol] - 1e-9, symbol


@modest
@given(st.sampled_from(list(LIBRARY.tables["woods"])), st.integers(0, 240), st.integers(0, 240))
def test_wetter_wood_conducts_and_holds_more(wood: str, one: int, other: int) -> None:
    dry, wet = (
        removal(wood=wood, x_wood=f"{per_mille / 10} %", T_k="100 °C").working.values
        for per_mille in sorted((one, other))
    )
    for symbol in ("k_wood", "c_wood", "rho_wood"):
        assert wet[symbol] >= dry[symbol] - 1e-9, symbol
    assert wet["L_end"] <= dry["L_end"] + 1e-9


@modest
@given(st.integers(60, 200), st.integers(60, 200))
def test_with_the_epoxy_of_the_wood_only_the_outside_counts(one: int, other: int) -> None:
    """A limit: where epoxy conducts as the wood does, how wide the hole was does not matter."""
    given_ = {"d_v": 0.005, "k_epoxy": 0.2, "D_w": 0.1, "k_g": 0.2}
    losses = [whole_working(["g_h"], {**given_, "D_o": tenths / 1e4}).values["g_h"] for tenths in (one, other)]
    assert losses[0] == pytest.approx(losses[1], rel=1e-9)
    assert losses[0] == pytest.approx(2 * math.pi * 0.2 / math.log(20), rel=1e-9)


def test_a_better_conductor_reaches_further() -> None:
    ranked = sorted(METALS, key=lambda metal: removal(metal=metal).working.values["k_h"])
    reach = [removal(metal=metal).working.values["L_end"] for metal in ranked]
    assert reach == sorted(reach)
    assert ranked[0] == "stainless-316"
    assert ranked[-1] == "aluminium-6061"


def test_a_long_stainless_fastener_does_not_come_free_from_its_head() -> None:
    """The page says so. At the hottest that its head may be, the far end of 90 mm is not even warm enough to weaken."""
    reckoning = removal(metal="stainless-316", T_k="118 °C")
    assert reckoning.working.values["L_end"] < 0.03 < reckoning.working.values["L_k"]
    assert reckoning.working.values["T_end"] < reckoning.working.values["T_use"]
    assert any("far end stays too cool" in warning for warning in reckoning.working.warnings)


def shown(reckoning: Reckoning, symbol: str) -> float:
    return float(reckoning.working.shown(symbol, reckoning.system).rounded(reckoning.amount(symbol)))


def test_rounding_is_to_the_safe_side_in_either_shop() -> None:
    for shop in ("metric", "inch"):
        reckoning, need = removal(shop=shop), by_length(shop=shop)
        for symbol in ("L_h", "L_x", "L_end", "L_both", "T_end", "T_top"):
            assert shown(reckoning, symbol) <= reckoning.amount(symbol), symbol
        for symbol in ("Q_k", "P_s", "t_q", "t_dif", "t_k", "T_wall"):
            assert shown(reckoning, symbol) >= reckoning.amount(symbol), symbol
        assert shown(need, "T_need") >= need.amount("T_need")
        assert shown(need, "T_top") <= need.amount("T_top")


def test_the_limits_stand_in_their_order() -> None:
    values = removal().working.values
    order = ["T_a", "T_use", "T_x", "T_wood", "T_metal", "T_pyr", "T_ign"]
    assert [values[name] for name in order] == sorted(values[name] for name in order)
    assert from_base(values["T_top"], "K", "degC") < 120


# No number, and the reason.


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        ({"G": "0.3"}, "no conductivity is worked for wood as light as this"),
        ({"G": "0.15"}, "no conductivity is worked for wood as light as this"),
        ({"x_wood": "25 %"}, "no conductivity is worked for wood at 25\u00a0% moisture or more"),
        ({"D_o": "7 mm"}, "the hole must be wider than the metal in it"),
        ({"T_x": "18 °C"}, "the work is as hot as what softens the epoxy"),
        ({"T_k": "95 °C"}, "the head is no hotter than what softens the epoxy"),
        ({"T_k": "97.4 °C"}, "the head is no hotter than what softens the epoxy"),
        ({"T_k": "60 °C"}, "the head is no hotter than what softens the epoxy"),
        ({"T_k": "121 °C"}, "the head would be hotter than metal in wood may be"),
        ({"T_k": "300 °C", "T_metal": "400 °C"}, "the head would be hotter than metal in wood may be"),
        ({"T_k": "225 °C", "T_metal": "225 °C"}, "the head would be hotter than metal in wood may be"),
        ({"T_x": "130 °C"}, "the head is no hotter than what softens the epoxy"),
        ({"T_k": "120 °C"}, "the wood at the wall of the hole would be hotter than it bears"),
        ({"D_o": "8 mm"}, "the wood at the wall of the hole would be hotter than it bears"),
        ({"t_hold": "60 min"}, "the wood at the wall of the hole would be hotter than it bears"),
    ],
)
def test_outside_there_is_no_number(inputs: dict[str, str], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        removal(**inputs)


@pytest.mark.parametrize(
    "inputs",
    [
        {"G": "0.31", "T_k": "110 °C"},
        {"x_wood": "24.9 %"},
        {"T_k": "98 °C"},
        {"T_k": "118 °C"},
        {"T_k": "120 °C", "t_hold": "10 min"},
        {"D_o": "10 mm", "T_k": "105 °C"},
    ],
    ids=str,
)
def test_just_inside_there_is_one(inputs: dict[str, str]) -> None:
    assert removal(**inputs).working.values["L_end"] > 0


@pytest.mark.parametrize("metal", METALS)
def test_a_head_temperature_that_must_not_be_used_is_not_given(metal: str) -> None:
    """Just under the longest fastener there is a number, just over it the reason; and never one above what is allowed."""
    top = by_length(L_k="10 mm", metal=metal).working.values["T_top"]
    limit = removal(metal=metal, T_k=f"{math.floor(from_base(top, 'K', 'degC'))} °C").working.values["L_end"] * 1000
    values = by_length(metal=metal, L_k=f"{math.floor(limit)} mm").working.values
    assert values["T_x"] < values["T_need"] <= values["T_top"] < values["T_pyr"]
    with pytest.raises(OutOfRange, match=r"from its head alone this fastener does not come free.*core it out"):
        by_length(metal=metal, L_k=f"{math.ceil(limit * 1.05) + 1} mm")


def test_the_working_of_a_given_limit_cannot_pass_where_wood_chars() -> None:
    with pytest.raises(OutOfRange, match="does not come free"):
        by_length(L_k="90 mm", metal="brass", T_metal="500 °C", T_wood="500 °C", T_x="180 °C")


@pytest.mark.parametrize(
    ("inputs", "words", "quiet"),
    [
        ({"L_k": "90 mm"}, "the far end stays too cool to soften", {"L_k": "30 mm"}),
        ({"P_k": "2 W"}, "the tool is too weak", {"P_k": "4 W"}),
    ],
)
def test_warned_of(inputs: dict[str, str], words: str, quiet: dict[str, str]) -> None:
    assert any(words in warning for warning in removal(**inputs).working.warnings)
    assert not any(words in warning for warning in removal(**quiet).working.warnings)


def test_no_other_page_is_asked_about_heat() -> None:
    """The constants are always given, so a rule that named only them, and limited what others work, would speak there."""
    own = [rule for rule in FORMULARY.rules if rule.function.__module__ == heat.__name__]
    always = {name for table in LIBRARY.constants for row in LIBRARY.tables[table].values() for name in row.gives}
    assert len(own) == 10
    symbols = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ == heat.__name__}
    for rule in own:
        told = rule.limits if rule.refuses else rule.parameters
        assert set(told) & (symbols | {"T_k", "t_hold"}) - always
        assert not set(rule.limits) - (symbols | {"T_k"})


def test_memory_says_that_it_is_memory() -> None:
    for name in ("nickel-copper", "titanium"):
        row = LIBRARY.tables["metals"][name]
        assert row.source == "from-memory"
        assert "from memory" in (row.note or "")
    limits = LIBRARY.tables["heat_constants"]["limits"]
    assert {LIBRARY.sources[source].basis for source in (limits.source, *limits.sources.values())} == {"from memory"}


def test_the_pages_say_what_can_hurt() -> None:
    cautions = {"heat-no-flame", "heat-fumes", "heat-fuel", "heat-near", "heat-burns", "heat-long", "defer"}
    for name in ("heat-removal", "heat-by-length"):
        assert cautions <= set(LIBRARY.reference[name].all_cautions)
