"""Beds: every formula worked by hand, shapes against numeric integration, what always holds, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, for_each, whole_reckoning, whole_working
from generator.errors import AmbiguousFormula, MissingGiven, NoStock, OutOfRange
from generator.formula import FORMULARY
from generator.formulas import bed
from generator.reckoning import InputError, Reckoning
from generator.units import plain, read_quantity, unbroken

DAY = 86400.0

modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def table(name: str, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference[name], inputs)


# Worked with a pocket calculator, the numbers in SI units; the name of the formula's function tells apart two of a symbol.
TAPED = {"A_b": 0.0018, "n_h": 4, "V_q": 22.97e-9, "V_w": 18.56e-9, "b_bt": 0.019, "t_bt": 0.0015}
BY_HAND = [
    # 0.6^2 / (8 x 0.010) + 0.005 = 4.5 + 0.005
    ("radius_of_the_crown", "R_c", {"l_s": 0.6, "g_c": 0.010}, 4.505),
    # 3-4-5: 0.5 - sqrt(0.25 - 0.09) = 0.5 - 0.4
    ("edge_gap_on_a_crown", "s_e", {"R_c": 0.5, "b_b": 0.6}, 0.1),
    # 1 - 0.8 / 2 - 1 / 1.2 x asin 0.6; asin 0.6 = 0.6435011; 0.6 - 0.8333333 x 0.6435011 = 0.6 - 0.5362510
    ("mean_gap_on_a_crown", "s_m", {"R_c": 1.0, "b_b": 1.2}, 0.063749),
    # tan 8 degrees = 0.1405408; 0.03 x 0.1405408
    ("edge_gap_on_a_vee", "s_e", {"beta_d": 0.13962634, "b_b": 0.06}, 0.00421622),
    # 0.015 x 0.1405408
    ("mean_gap_on_a_vee", "s_m", {"beta_d": 0.13962634, "b_b": 0.06}, 0.00210811),
    ("mean_thickness", "t_m", {"t_0": 0.002, "s_m": 0.0021}, 0.0041),
    ("edge_thickness", "t_e", {"t_0": 0.002, "s_e": 0.0042}, 0.0062),
    # 120 x 60 mm, 2 mm: 14.4 mL
    ("film_volume", "V_k", {"A_b": 0.0072, "h_b": 0.002}, 14.4e-6),
    ("film_and_squeeze_out", "V_x", {"V_k": 20e-6, "w_a": 0.3}, 26e-6),
    ("clearance_hole_wanted", "D_j", {"d": 0.008, "s_k": 0.0005}, 0.0085),
    # pi x 2.5 x (3.25 x 2.5 + 6.25 / 3) = 7.853982 x (8.125 + 2.083333) = 80.1761 mm3
    ("countersink_ring", "V_q", {"h_k": 0.0025, "D_k": 0.0065}, 80.1761e-9),
    # wanted 20 mm down, in wood of 15 mm and of 40 mm
    ("smeared_length", "l_w", {"l_k": 0.020, "T_sk": 0.030}, 0.015),
    ("smeared_length", "l_w", {"l_k": 0.020, "T_sk": 0.040}, 0.020),
    # 0.7853982 x (72.25 - 64) x 20 = 129.591 mm3
    ("clearance_ring", "V_w", {"D_k": 0.0085, "d": 0.008, "l_w": 0.020}, 129.591e-9),
    # 14.4 mL + 4 x (0.0998 + 0.1296) mL = 15.3176 mL
    (
        "compound_for_one_fitting",
        "V_j",
        {"V_k": 14.4e-6, "n_h": 4, "V_q": 0.0998e-6, "V_w": 0.1296e-6},
        15.3176e-6,
    ),
    # 60 x 30 mm in strips of 1.5 mm are 2700 mm3, and 4 x (22.97 + 18.56) = 166.12 for the holes: 2866.12 / 28.5 mm2
    ("tape_for_one_fitting", "L_bt", {**TAPED, "n_tu": 0, "h_b": 0.001}, 0.100566),
    # a bed of 3 mm takes the strips twice over: 5400 + 166.12, and a tin takes no tape
    ("tape_for_one_fitting", "L_bt", {**TAPED, "n_tu": 0, "h_b": 0.003}, 0.195302),
    ("tape_for_one_fitting", "L_bt", {**TAPED, "n_tu": 1, "h_b": 0.003}, 0),
    # 2700 / 28.5 = 94.737 mm and 40 % more
    (
        "tape_under_one_base",
        "L_bx",
        {"n_tu": 0, "A_b": 0.0018, "h_b": 0.001, "b_bt": 0.019, "t_bt": 0.0015, "w_a": 0.4},
        0.132632,
    ),
    (
        "tape_under_one_base",
        "L_bx",
        {"n_tu": 2, "A_b": 0.0018, "h_b": 0.001, "b_bt": 0.019, "t_bt": 0.0015, "w_a": 0.4},
        0,
    ),
    # 20 x 15 x 1.2 = 360 of 300 mL: 2; one fitting fewer than 17 still fits in one
    ("cartridges_to_buy", "n_t", {"N": 20, "V_j": 15e-6, "w_a": 0.2, "V_t": 300e-6}, 2),
    ("cartridges_to_buy", "n_t", {"N": 16, "V_j": 15e-6, "w_a": 0.25, "V_t": 300e-6}, 1),
    # 300000 / (1.2 x 0.7853982 x 36) = 300000 / 33.92920 = 8841.94 mm
    ("bead_of_a_cartridge", "L_d", {"V_t": 300e-6, "w_a": 0.2, "d_k": 0.006}, 8.84194),
    # 0.7853982 x 36 / 1.5 = 18.8496 mm
    # a base of 4 x 1 1/4 x 3/32 in is 7.68 mL, and a bead of 1/4 in has 31.67 mm2: 242.55 mm, 9.5 in
    ("bead_for_one_fitting", "L_kb", {"V_k": 7.68145e-6, "d_k": 0.00635}, 0.242553),
    ("width_of_the_pressed_bead", "b_k", {"d_k": 0.006, "h_b": 0.0015}, 0.0188496),
    # (70 - 4) x 1e-6 x 0.6 x 40 = 1.584 mm, whichever of the two moves more
    ("difference_in_expansion", "x_d", {"alpha_1": 70e-6, "alpha_2": 4e-6, "l_x": 0.6, "dT_x": 40.0}, 0.001584),
    ("difference_in_expansion", "x_d", {"alpha_1": 4e-6, "alpha_2": 70e-6, "l_x": 0.6, "dT_x": 40.0}, 0.001584),
    ("sliding_each_way", "x_s", {"x_d": 0.001584}, 0.001584),
    # 1.25^2 - 1 = 0.5625, its root 0.75; 1 / 0.75
    ("bed_for_sliding", "h_sl", {"x_s": 0.001, "M_k": 0.25}, 0.00133333),
    ("bed_for_opening", "h_op", {"x_o": 0.00025, "M_k": 0.25}, 0.001),
    # 3 mm at 0.5 mm a day
    ("time_to_cure_through", "t_cu", {"h_v": 0.003, "v_c": 0.0005 / DAY}, 6 * DAY),
    # 8.5 + 2 x (3 + 1): a hole 1 mm beside the middle still leaves 3 mm
    ("plug_hole_wanted", "D_u", {"D_k": 0.0085, "w_c": 0.003, "w_d": 0.001}, 0.0165),
    ("wall_left", "w_p", {"D_c": 0.016, "D_k": 0.0085}, 0.00375),
    # 0.7853982 x 256 x 20 = 4021.24 mm3
    ("plug_volume", "V_c", {"D_c": 0.016, "h_c": 0.020}, 4.02124e-6),
]


@for_each(BY_HAND)
def test_by_hand(name: str, symbol: str, values: Mapping[str, float], answer: float) -> None:
    working = whole_working([symbol], values)
    assert working.values[symbol] == pytest.approx(answer, rel=5e-6)
    step = working.trail[-1].by
    assert step is not None
    assert step.where.startswith("generator/formulas/bed.py:")
    (formula,) = (code for code in FORMULARY.formulas if code.function.__name__ == name)
    assert step is formula


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {code.function.__name__ for code in FORMULARY.formulas if code.function.__module__ == bed.__name__}
    assert own == {name for name, _, _, _ in BY_HAND}


# Against numeric integration of the shapes themselves.


def simpson(function: Callable[[float], float], low: float, high: float, parts: int = 2000) -> float:
    step = (high - low) / parts
    inner = sum((4 if place % 2 else 2) * function(low + place * step) for place in range(1, parts))
    return (function(low) + inner + function(high)) * step / 3


@pytest.mark.parametrize("radius", [0.035, 0.05, 0.2, 1.0, 8.0, 100.0])
def test_the_mean_gap_on_a_crown_is_the_mean_of_the_gap(radius: float) -> None:
    """The gap under a flat base at a distance x from the ridge, integrated over the width."""
    width = 0.06
    own = whole_working(["s_m", "s_e"], {"R_c": radius, "b_b": width}).values
    mean = simpson(lambda x: radius - math.sqrt(radius**2 - x**2), -width / 2, width / 2) / width
    assert own["s_m"] == pytest.approx(mean, rel=1e-6)
    assert own["s_e"] == pytest.approx(radius - math.sqrt(radius**2 - width**2 / 4), rel=1e-9)


@pytest.mark.parametrize("degrees", [1, 8, 20, 45])
def test_the_mean_gap_on_a_vee_is_the_mean_of_the_gap(degrees: int) -> None:
    slope, width = math.radians(degrees), 0.06
    own = whole_working(["s_m"], {"beta_d": slope, "b_b": width}).values["s_m"]
    assert own == pytest.approx(2 * simpson(lambda x: x * math.tan(slope), 0, width / 2) / width, rel=1e-9)


@pytest.mark.parametrize(("hole", "depth"), [(6.5, 2.5), (8.5, 1.5), (4.5, 3.0)])
def test_the_countersink_ring_is_the_sum_of_its_rings(hole: float, depth: float) -> None:
    """Ring by ring: at a height above the countersink's floor it is as much wider than the hole, all round."""
    own = whole_working(["V_q"], {"D_k": hole / 1e3, "h_k": depth / 1e3}).values["V_q"] * 1e9
    rings = simpson(lambda up: math.pi * ((hole / 2 + up) ** 2 - (hole / 2) ** 2), 0, depth)
    assert own == pytest.approx(rings, rel=1e-9)


def test_the_bed_for_sliding_stretches_by_its_class() -> None:
    """The slanted length of the bed, by Pythagoras, over its thickness."""
    for share in (0.075, 0.125, 0.2, 0.25, 0.5):
        bed_thickness = whole_working(["h_sl"], {"x_s": 0.001, "M_k": share}).values["h_sl"]
        assert math.hypot(bed_thickness, 0.001) / bed_thickness == pytest.approx(1 + share, rel=1e-12)


# What always holds.

TENTHS = st.integers(200, 20000)


@modest
@given(TENTHS, TENTHS, st.integers(100, 390))
def test_a_flatter_crown_never_needs_more_epoxy(one: int, other: int, width: int) -> None:
    tight, flat = (
        whole_working(["t_m", "t_e"], {"R_c": radius / 1e4, "b_b": width / 1e4, "t_0": 0.002}).values
        for radius in sorted((one, other))
    )
    for symbol in ("t_m", "t_e"):
        assert flat[symbol] <= tight[symbol] + 1e-12
    for values in (tight, flat):
        # From a half circle to a parabola, which a wide crown comes near.
        assert (1 - math.pi / 4) * values["s_e"] - 1e-12 <= values["s_m"] <= values["s_e"] / 3 + 1e-12
        assert values["t_0"] <= values["t_m"] <= values["t_e"]


@modest
@given(st.integers(0, 800), st.integers(0, 800), st.integers(50, 5000))
def test_a_steeper_vee_never_needs_less_epoxy(one: int, other: int, width: int) -> None:
    flat, steep = (
        whole_working(["t_m", "t_e"], {"beta_d": math.radians(tenths / 10), "b_b": width / 1e4, "t_0": 0.002}).values
        for tenths in sorted((one, other))
    )
    assert flat["t_m"] <= steep["t_m"] + 1e-12
    assert flat["s_e"] == pytest.approx(2 * flat["s_m"], abs=1e-15)


@modest
@given(st.integers(50, 50000), st.integers(10, 390))
def test_a_straightedge_finds_the_radius_it_was_laid_on(radius: int, length: int) -> None:
    """The gap is that at the edge of a base as wide as the straightedge is long."""
    width = min(length, 2 * radius) / 1e3
    gap = whole_working(["s_e"], {"R_c": radius / 1e3, "b_b": width}).values["s_e"]
    assert whole_working(["R_c"], {"g_c": gap, "l_s": width}).values["R_c"] == pytest.approx(radius / 1e3, rel=1e-4)


@modest
@given(st.integers(5, 600), st.integers(20, 200))
def test_a_bead_holds_what_the_cartridge_held(millilitres: int, tenths: int) -> None:
    """Laid as a round bead, then pressed flat: no compound is made or lost but the waste."""
    values = {"V_t": millilitres / 1e6, "d_k": tenths / 1e4, "w_a": 0.2, "h_b": 0.0015}
    values = whole_working(["L_d", "b_k"], values).values
    assert values["L_d"] * values["b_k"] * values["h_b"] == pytest.approx(values["V_t"] / 1.2, rel=1e-12)


@modest
@given(st.integers(1, 1000), st.integers(1, 500), st.integers(0, 200))
def test_the_cartridges_bought_hold_enough_and_one_fewer_would_not(fittings: int, tenths: int, percent: int) -> None:
    values = {"N": float(fittings), "V_j": tenths / 1e7, "w_a": percent / 100, "V_t": 300e-6}
    bought = whole_working(["n_t"], values).values["n_t"]
    needed = values["N"] * values["V_j"] * (1 + values["w_a"])
    assert (bought - 1) * values["V_t"] < needed * (1 + 1e-6)
    assert needed <= bought * values["V_t"] * (1 + 1e-6)


@modest
@given(st.sampled_from(list(LIBRARY.threads())), st.integers(30, 60))
def test_a_plug_leaves_the_wall_that_was_asked_for(thread: tuple[str, object, object], tenths: int) -> None:
    size = thread[2].size  # type: ignore[attr-defined]
    try:
        values = table("core-plugs", thread=size, w_c=f"{tenths / 10} mm").working.values
    except NoStock:
        assert read_quantity(str(thread[2].d), "m") >= 0.0239  # type: ignore[attr-defined]
        return
    assert values["w_p"] >= tenths / 1e4 + 0.001 - 1e-12
    assert values["D_k"] >= values["d"] + values["s_k"] - 1e-12


def test_plugs_are_6_to_10_mm_wider_than_the_bolt() -> None:
    """Common practice, from M4 to M22, with the wall that is asked for at least, be the hole a little off the middle."""
    for size in ("M4", "M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18", "M20", "M22"):
        values = table("core-plugs", thread=size).working.values
        assert 0.006 <= values["D_c"] - values["d"] <= 0.010 + 1e-9
        assert values["w_p"] - 0.001 >= 0.003 - 1e-9, size


def test_rounding_is_to_the_safe_side_in_either_shop() -> None:
    for system in ("metric", "inch"):
        vee = table("bed-vee", shop=system, beta_d="7 deg")
        coverage = table("compound-coverage", shop=system, d_k="7 mm")
        plugs = table("core-plugs", shop=system)
        for reckoning, symbol in (
            (vee, "t_e"),
            (vee, "V_b"),
            (table("bed-movement", shop=system, l_x="437 mm"), "h_sl"),
            (coverage, "V_j"),
            (plugs, "V_c"),
        ):
            assert shown(reckoning, symbol) >= reckoning.amount(symbol) - 1e-9
        for reckoning, symbol in ((coverage, "L_d"), (coverage, "b_k"), (plugs, "w_p")):
            assert shown(reckoning, symbol) <= reckoning.amount(symbol) + 1e-9


def shown(reckoning: Reckoning, symbol: str) -> float:
    """What is printed, a fraction read as one."""
    return read_quantity(plain(reckoning.number(symbol)), "dimensionless")


def test_a_flat_bed_is_as_thick_as_it_is_given() -> None:
    """No gap on the mean: the mean thickness is that at the high point, and it may be given as it always was."""
    assert whole_working(["t_m"], {"t_0": 0.003, "s_m": 0.0}).values["t_m"] == 0.003
    given_plainly = whole_working(["V_b"], {"a_b": 0.06, "b_b": 0.04, "t_m": 0.003, "r_f": 0.004})
    assert given_plainly.values["t_m"] == 0.003
    assert "t_0" not in given_plainly.values


def test_a_gap_in_place_of_the_radius() -> None:
    """A sheet that asks for the gap instead works the radius from it."""
    sheet = LIBRARY.reference["bed-crowned"]
    trimmed = sheet.model_copy(update={"givens": {key: ask for key, ask in sheet.givens.items() if key != "R_c"}})
    values = whole_reckoning(LIBRARY, trimmed, {"g_c": "10 mm", "l_s": "600 mm"}).working.values
    assert values["R_c"] == pytest.approx(4.505)


# What is refused, and what is only warned of.


REFUSED = [
    ("s_e", {"R_c": 0.05, "b_b": 0.101}, "base is wider than the crown"),
    ("R_c", {"g_c": 0.051, "l_s": 0.1}, "more than half the straightedge"),
    ("s_e", {"beta_d": math.pi / 2, "b_b": 0.06}, "a deadrise of 90\u00a0deg is a wall"),
    ("V_k", {"A_b": 0.01, "h_b": 0.0004, "t_g": 0.0005}, "squeezed dry"),
    ("h_op", {"x_o": 0.001, "M_k": 0.0}, "a movement class lies above 0"),
    ("h_sl", {"x_s": 0.001, "M_k": 1.0}, "a movement class lies above 0"),
    ("t_cu", {"h_v": 0.0031, "h_m": 0.003, "v_c": 1e-8}, "grows with the square of the depth"),
    ("V_w", {"D_k": 0.0079, "d": 0.008, "l_w": 0.02}, "does not go through its hole"),
    ("w_p", {"D_c": 0.0160, "D_k": 0.0085, "w_l": 0.003, "w_d": 0.001}, "of epoxy is left round the bolt"),
    ("V_k", {"A_b": 0.01, "h_b": 0.002, "k_ow": 1.0, "o_w": 1.0}, "does not hold on oily wood"),
]


@pytest.mark.parametrize(("wanted", "givens", "words"), REFUSED)
def test_refused(wanted: str, givens: Mapping[str, float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        whole_working([wanted], givens)


@pytest.mark.parametrize(
    ("wanted", "givens"),
    [
        ("s_m", {"R_c": 0.05, "b_b": 0.1}),
        ("R_c", {"g_c": 0.05, "l_s": 0.1}),
        ("V_k", {"A_b": 0.01, "h_b": 0.0005, "t_g": 0.0005}),
        ("V_k", {"A_b": 0.01, "h_b": 0.002, "k_ow": 1.0, "o_w": 0.0}),
        ("t_cu", {"h_v": 0.003, "h_m": 0.003, "v_c": 1e-8}),
        ("w_p", {"D_c": 0.0165, "D_k": 0.0085, "w_l": 0.003, "w_d": 0.001}),
    ],
)
def test_the_limits_themselves_are_inside(wanted: str, givens: Mapping[str, float]) -> None:
    assert whole_working([wanted], givens).values[wanted] > 0


WARNED = [
    ("t_e", {"t_0": 0.005, "s_e": 0.010, "h_1": 0.015}, {"s_e": 0.0101}, "heats itself when it is cast at once"),
    ("w_p", {"D_c": 0.025, "D_k": 0.0185, "d_1": 0.025}, {"D_c": 0.028}, "so wide a plug heats itself"),
    ("h_sl", {"x_s": 0.0015, "M_k": 0.25, "h_b": 0.002}, {"x_s": 0.0016}, "than the sliding asks for"),
    ("h_op", {"x_o": 0.0005, "M_k": 0.25, "h_b": 0.002}, {"x_o": 0.0006}, "than the opening asks for"),
]


@pytest.mark.parametrize(("wanted", "givens", "over", "words"), WARNED)
def test_warned_of(wanted: str, givens: Mapping[str, float], over: Mapping[str, float], words: str) -> None:
    assert not whole_working([wanted], givens).warnings
    (warning,) = whole_working([wanted], {**givens, **over}).warnings
    assert words in warning


def test_every_rule_of_the_subject_is_broken_above() -> None:
    words = [case[-1] for case in REFUSED] + [case[-1] for case in WARNED]
    own = [rule for rule in FORMULARY.rules if rule.function.__module__ == bed.__name__]
    assert len(own) > 10
    for rule in own:
        assert any(unbroken(part) in unbroken(rule.message) for part in words), rule.message


def test_a_crown_and_a_vee_do_not_stand_in_one_sheet() -> None:
    with pytest.raises(AmbiguousFormula, match="in 2 ways") as error:
        whole_working(["s_e"], {"R_c": 1.0, "beta_d": 0.1, "b_b": 0.06})
    assert error.value.symbols == ("s_e",)


def test_what_never_cures_has_no_time() -> None:
    for compound in ("butyl-tape", "oil-based"):
        with pytest.raises(MissingGiven, match="no depth that cures in a day is given"):
            table("compound-cure", compound=compound)


def test_a_wall_under_three_millimetres_is_refused_in_the_table() -> None:
    with pytest.raises(OutOfRange, match="epoxy is left round"):
        table("core-plugs", thread="M8", D_c="14 mm")
    with pytest.raises(InputError, match="outside the range"):
        table("core-plugs", thread="M8", w_c="0.5 mm")


def test_a_new_unit_reads_as_it_is_written() -> None:
    assert read_quantity("0.07 mm/mK", "1/K") == pytest.approx(70e-6)
    assert read_quantity("0.5 mm/d", "m/s") == pytest.approx(0.0005 / DAY)
    assert read_quantity("10.1 fl oz", "m**3") == pytest.approx(298.7e-6, rel=1e-4)


def test_the_families_say_what_they_must_not_touch() -> None:
    families = LIBRARY.tables["compounds"]
    assert len(families) == 6
    for row in families.values():
        assert row.note is not None
        assert "waterline" in row.note
        assert "M_k" not in row.gives  # a class is stated on a tube, not by a family
