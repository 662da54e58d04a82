"""Seats at the bench: every formula worked by hand, what always holds, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, for_each, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import seat
from generator.reckoning import Reckoning, reckon

CARDS = ("cast-seat", "released-seat", "backing-plate")

modest = settings(max_examples=40, deadline=None, derandomize=True, database=None)


def card(name: str, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.cards[name], inputs)


# Worked with a pocket calculator, in SI units; the name of the formula's function tells apart two of a symbol.
BY_HAND = [
    ("side_pad_place", "y_rs", {"b_b": 0.09}, 0.03),
    # 3-4-5: the crown drops 50 - 40 mm at 30 mm out; 2 mm and that
    ("drop_at_the_side_pads", "s_pd", {"y_rs": 0.03, "R_c": 0.05}, 0.01),
    ("side_pad_thickness", "h_rs", {"t_0": 0.002, "s_pd": 0.01}, 0.012),
    # 3 mm at the ridge; 7 mm of gap go in with them, 7.1 mm do not, and below them 16 mm are two of 8, 21 mm three of 7
    ("lifts_of_a_seat", "n_p", {"t_eo": 0.01, "t_0": 0.003, "h_p": 0.01}, 1.0),
    ("lifts_of_a_seat", "n_p", {"t_eo": 0.0101, "t_0": 0.003, "h_p": 0.01}, 2.0),
    ("lifts_of_a_seat", "n_p", {"t_eo": 0.019, "t_0": 0.003, "h_p": 0.01}, 3.0),
    ("lifts_of_a_seat", "n_p", {"t_eo": 0.024, "t_0": 0.003, "h_p": 0.01}, 4.0),
    ("lifts_of_a_seat", "n_p", {"t_eo": 0.003, "t_0": 0.003, "h_p": 0.01}, 1.0),
    ("width_with_the_edge", "b_o", {"b_b": 0.08, "r_o": 0.004}, 0.088),
    # the half circle of 100 mm: its square less a quarter of the circle, 1 - pi/4
    ("mean_gap_of_a_seat", "s_mo", {"R_c": 0.1, "b_o": 0.2}, 0.02146018),
    # sqrt(150^2 - 44^2) = 143.401534, arcsin(44 / 150) = 0.297711695: 150 - 71.700767 - 22500 / 88 x 0.297711695
    ("mean_gap_of_a_seat", "s_mo", {"R_c": 0.15, "b_o": 0.088}, 0.002179766),
    # 3-4-5: 40 mm out on 50 mm the crown has dropped by 20 mm
    ("thickness_of_the_edge", "t_eo", {"t_0": 0.003, "R_c": 0.05, "b_o": 0.08}, 0.023),
    ("width_without_an_edge", "b_o", {"b_b": 0.08}, 0.08),
    # 128 x 88 mm
    ("face_with_the_edge", "A_rs", {"a_b": 0.12, "b_o": 0.088, "r_o": 0.004}, 0.011264),
    # 11264 mm2 x 5.18 mm
    ("seat_with_its_edge", "V_b", {"A_rs": 0.011264, "t_0": 0.003, "s_mo": 0.00218}, 58.34752e-6),
    ("face_under_a_base", "A_rs", {"A_b": 0.0096}, 0.0096),
    # 60 x 60 mm
    ("face_under_a_plate", "A_rs", {"b_rs": 0.06}, 0.0036),
    # 96 cm2 of 37 mL in all: 0.5 mm below the bed are 4.8 mL, which the last lift has not; 3 mm are 28.8 mL
    ("last_lift_of_a_seat", "V_1", {"V_b": 37e-6, "n_p": 1.0, "A_rs": 0.0096, "s_mo": 0.0005}, 37e-6),
    ("last_lift_of_a_seat", "V_1", {"V_b": 37e-6, "n_p": 2.0, "A_rs": 0.0096, "s_mo": 0.0005}, 32.2e-6),
    ("last_lift_of_a_seat", "V_1", {"V_b": 37e-6, "n_p": 4.0, "A_rs": 0.0096, "s_mo": 0.003}, 8.2e-6),
    ("lower_lift_of_a_seat", "V_pl", {"A_rs": 0.0096, "s_mo": 0.0005, "n_p": 1.0}, 0.0),
    ("lower_lift_of_a_seat", "V_pl", {"A_rs": 0.0096, "s_mo": 0.0005, "n_p": 2.0}, 4.8e-6),
    ("lower_lift_of_a_seat", "V_pl", {"A_rs": 0.0096, "s_mo": 0.003, "n_p": 4.0}, 9.6e-6),
    # 96 cm2 with 120 g/m2
    ("wet_out_under_a_lower_lift", "m_wl", {"A_rs": 0.0096, "w_b": 0.12}, 0.001152),
    # 9.6 mL at 1.5 g/mL, half of it filler: 7.2 g; with 1.152 g and three tenths of both
    (
        "mix_for_a_lower_lift",
        "m_el",
        {"V_pl": 9.6e-6, "m_wl": 0.001152, "w_a": 0.3, "rho_p": 1500.0, "x_f": 0.5},
        0.0108576,
    ),
    ("cups_of_a_lower_lift", "n_ql", {"m_el": 0.0108576, "m_ro": 0.0924}, 1.0),
    ("cups_of_a_lower_lift", "n_ql", {"m_el": 0.19, "m_ro": 0.0924}, 3.0),
    # three seats, three lifts below the last, two cups each
    ("mixes_of_the_lower_lifts", "n_pl", {"N": 3.0, "n_p": 4.0, "n_ql": 2.0}, 18.0),
    ("mixes_of_the_lower_lifts", "n_pl", {"N": 3.0, "n_p": 1.0, "n_ql": 1.0}, 0.0),
    # 60 g in each of two cups, 5 g plain and half of 6 g as the sample; and 10.9 g are not mixed alone
    (
        "batch_of_a_lower_lift",
        "m_bl",
        {"m_el": 0.12, "n_ql": 2.0, "m_pl": 0.005, "m_sa": 0.006, "x_f": 0.5, "m_min": 0.015},
        0.068,
    ),
    (
        "batch_of_a_lower_lift",
        "m_bl",
        {"m_el": 0.0109, "n_ql": 1.0, "m_pl": 0.005, "m_sa": 0.006, "x_f": 0.5, "m_min": 0.02},
        0.02,
    ),
    ("resin_of_a_lower_lift", "m_rl", {"m_bl": 0.068, "n_w": 2.4}, 0.048),
    ("hardener_of_a_lower_lift", "m_hl", {"m_bl": 0.068, "n_w": 2.4}, 0.02),
    ("resin_volume_of_a_lower_lift", "v_rl", {"m_rl": 0.048, "rho_r": 1200.0}, 40e-6),
    ("hardener_volume_of_a_lower_lift", "v_hl", {"m_hl": 0.02, "rho_h": 1000.0}, 20e-6),
    # 68 g less half of 10 g with three tenths more, less 5 g: 56.5 g; with a third of filler half as much filler
    (
        "filler_of_a_lower_lift",
        "m_yl",
        {"m_bl": 0.068, "m_wl": 0.01, "n_ql": 2.0, "w_a": 0.3, "m_pl": 0.005, "x_f": 1 / 3},
        0.02825,
    ),
    # 3600 mm2 x 3 mm
    ("seat_under_a_plate", "V_1", {"b_rs": 0.06, "t_m": 0.003}, 10.8e-6),
    # 10.8 mL and a fifth
    ("paste_for_a_seat", "V_rs", {"V_1": 10.8e-6, "s_rs": 0.2}, 12.96e-6),
    # 12.96 mL at 1.5 g/mL
    ("weight_of_the_paste_for_a_seat", "m_rs", {"V_rs": 12.96e-6, "rho_p": 1500.0}, 0.01944),
    ("paste_for_one_fitting", "V_u", {"V_rs": 12.96e-6, "w_a": 0.3}, 16.848e-6),
    # 2 x 12.96 x 1.3, and 6 g at 1.5 g/mL
    ("paste_in_a_mix", "V", {"N_m": 2.0, "V_rs": 12.96e-6, "w_a": 0.3, "m_sa": 0.006, "rho_p": 1500.0}, 37.696e-6),
    # two faces of 96 cm2 with 120 g/m2: 2 x 1.152 g
    ("wet_out_of_a_seat", "m_w", {"n_rs": 2.0, "A_rs": 0.0096, "w_b": 0.12}, 0.002304),
]


@for_each(BY_HAND)
def test_by_hand(name: str, symbol: str, values: Mapping[str, float], answer: float) -> None:
    (formula,) = (code for code in FORMULARY.formulas if code.function.__name__ == name)
    assert formula.symbol == symbol
    assert formula.call(values) == pytest.approx(answer, rel=2e-6)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {code.function.__name__ for code in FORMULARY.formulas if code.function.__module__ == seat.__name__}
    assert own == {name for name, _, _, _ in BY_HAND}


# What always holds.


@modest
@given(st.integers(200, 20000), st.integers(20, 390))
def test_side_pads_and_ridge_pad_hold_a_base_level(radius: int, width: int) -> None:
    """A flat base on the ridge pad touches both side pads where they stand: they are tangents apart."""
    R, b = radius / 1e4, min(width / 1e3, 2 * radius / 1e4)
    values = whole_working(["h_rs", "t_e"], {"R_c": R, "b_b": b, "t_0": 0.003}).values
    drop = R - math.sqrt(R**2 - (b / 3) ** 2)
    assert values["h_rs"] == pytest.approx(0.003 + drop, rel=1e-9)
    assert 0.003 <= values["h_rs"] <= values["t_e"]


@modest
@given(
    st.integers(1, 70),
    st.sampled_from(sorted(LIBRARY.tables["woods"])),
    st.sampled_from(["M8", "M10", "M12", "M16", "M20"]),
)
def test_the_plate_as_cut_bears_the_load_it_is_cut_for(load_: int, wood: str, thread: str) -> None:
    """Its rounded corners and its hole taken off, by an area that is summed up strip by strip."""
    values = card("backing-plate", F_n=f"{load_ / 10} kN", wood=wood, thread=thread).working.values
    assert values["F_rs"] >= values["F_n"]
    half, r, strips = values["b_rs"] / 2, values["r_rs"], 4000
    area = 0.0
    for place in range(strips):
        y = -half + (place + 0.5) * 2 * half / strips
        into = max(0.0, abs(y) - (half - r))
        area += 2 * (half - r + math.sqrt(r**2 - into**2)) * 2 * half / strips
    area -= math.pi / 4 * (values["d"] + 0.001) ** 2
    # Never less than the washer on it would carry by itself.
    assert values["F_rs"] == pytest.approx(max(values["f_ck"] * area / 2.5, values["F_p"]), rel=1e-4)


@modest
@given(st.integers(1, 70), st.sampled_from(sorted(LIBRARY.tables["plates"])))
def test_the_plate_as_cut_is_one_that_is_sold_and_no_thinner_than_the_load_asks(load_: int, plate: str) -> None:
    values = card("backing-plate", F_n=f"{load_ / 10} kN", plate=plate).working.values
    thick = [size for size in LIBRARY.sold("metric")["plate"].sizes if size >= values["h_q"] - 1e-9]
    assert values["h_rsp"] == thick[0]
    assert values["b_rs"] >= values["b_p"]


@pytest.mark.parametrize("name", CARDS)
@pytest.mark.parametrize("shop", ["metric", "inch"])
def test_rounding_is_to_the_safe_side(name: str, shop: str) -> None:
    reckoning = card(name, shop=shop)
    up = {"V_rs", "m_t", "b_rs", "c_rs", "h_rsp", "L_sk", "t_y1", "t_f"}
    down = {"F_rs", "F_s", "h_p", "t_w", "t_y2"}
    for symbol in up & set(reckoning.working.values):
        assert _read(reckoning, symbol) >= reckoning.amount(symbol) - 1e-9, symbol
    for symbol in down & set(reckoning.working.values):
        assert _read(reckoning, symbol) <= reckoning.amount(symbol) + 1e-9, symbol


def _read(reckoning: Reckoning, symbol: str) -> float:
    """The rounded number, a mixed fraction too."""
    parts = reckoning.number(symbol).split()
    return sum(float(one.split("/")[0]) / float(one.split("/")[1]) if "/" in one else float(one) for one in parts)


@pytest.mark.parametrize(("hardener", "hours"), [("fast", (1, 2.3)), ("medium", (2, 4)), ("slow", (4, 8))])
def test_the_window_to_break_loose_is_the_trades(hardener: str, hours: tuple[float, float]) -> None:
    """As the trade gives it at 20 °C for each speed, within a fifth; the fastest casts none, and has its window."""
    values = reckon(LIBRARY, LIBRARY.cards["released-seat"], {"hardener": hardener, "T_a": "20 °C"}).working.values
    assert values["t_y1"] / 3600 == pytest.approx(hours[0], rel=0.2)
    assert values["t_y2"] / 3600 == pytest.approx(hours[1], rel=0.2)


def cast_within(values: Mapping[str, float], over: float) -> float:
    """A seat with its edge, summed up in small columns from the crown to `over` the ridge, by where each one stands."""
    a, b, radius, wide, steps = values["a_b"], values["b_b"], values["R_c"], values["r_o"], 2000
    across = (b + 2 * wide) / steps
    places = ((step + 0.5) * across - b / 2 - wide for step in range(steps))
    return sum((over + radius - math.sqrt(radius**2 - y**2)) * across * (a + 2 * wide) for y in places)


@modest
@given(st.integers(60, 5000), st.integers(60, 400), st.integers(30, 100), st.integers(1, 10), st.integers(3, 20))
def test_a_seat_that_lets_go_is_reckoned_with_its_whole_edge(
    radius: int, long: int, width: int, thick: int, edge: int
) -> None:
    """Up to the dam and level with the base: in one lift or in many, as much as is there, and its edge is no bevel."""
    texts = {"R_c": radius, "a_b": long, "b_b": width, "t_0": thick, "r_o": edge}
    values = card(
        "released-seat", hardener="slow", **{name: f"{size} mm" for name, size in texts.items()}
    ).working.values
    if "t_eo" not in values or values["t_0"] > values["h_p"]:
        return
    whole = cast_within(values, values["t_0"])
    assert values["V_1"] + (values["n_p"] - 1) * values["V_pl"] == pytest.approx(whole, rel=1e-4)
    out = edge / 1e3 + width / 2e3
    assert values["t_eo"] == pytest.approx(values["t_0"] + values["R_c"] - math.sqrt(values["R_c"] ** 2 - out**2))
    assert (values["n_p"] > 1) is (values["t_eo"] > values["h_p"] * (1 + 1e-9))
    assert values["V_rs"] - values["V_1"] == pytest.approx(values["s_rs"] * values["V_1"])


def test_an_edge_wider_than_the_crown_is_refused() -> None:
    with pytest.raises(OutOfRange, match="the seat is wider than the crown"):
        card("released-seat", R_c="42 mm", b_b="80 mm")


def test_the_dam_is_never_told_higher_than_the_underside() -> None:
    """20 in crown, 1 21/32 in out: 20 - sqrt(400 - 1.65625 ** 2) = 0.0687 in, and 1/8 in: 0.1937 in, told 3/16 in."""
    reckoning = card("released-seat", shop="inch", R_c="20 in", b_b="3 in", t_0="1/8 in", r_o="5/32 in")
    assert reckoning.working.values["t_eo"] == pytest.approx(0.1937 * 0.0254, abs=2e-6)
    assert reckoning.said("t_eo").replace("\N{NO-BREAK SPACE}", " ") == "3/16 in"


# What is refused.


def test_a_seat_that_must_come_off_needs_a_release_agent() -> None:
    with pytest.raises(OutOfRange, match="needs a release agent"):
        card("released-seat", release="none")


def test_a_compound_that_holds_like_glue_is_warned_of_where_a_fitting_must_come_off() -> None:
    told = [card("released-seat", compound=name).working.warnings for name in ("polyurethane", "polysulfide")]
    assert [any("holds like glue" in text for text in texts) for texts in told] == [True, False]


def test_a_bonded_seat_needs_none() -> None:
    assert "n_k" not in card("cast-seat").working.values


def test_a_washer_as_large_as_the_plate_is_refused() -> None:
    with pytest.raises(OutOfRange, match="the washer is as large as the plate"):
        card("backing-plate", F_n="0.5 kN", D_p="40 mm")


def test_a_bolt_too_weak_for_the_load_is_refused() -> None:
    with pytest.raises(OutOfRange, match="the fastener itself is too weak"):
        card("backing-plate", F_n="20 kN")


def test_a_base_wider_than_the_crown_is_refused() -> None:
    with pytest.raises(OutOfRange, match="base is wider than the crown"):
        card("cast-seat", R_c="30 mm", b_b="80 mm")


def test_a_deep_edge_is_cast_in_lifts_and_warned_of() -> None:
    shallow, deep = card("cast-seat").working, card("cast-seat", R_c="50 mm").working
    assert shallow.values["n_p"] == 1
    assert deep.values["n_p"] >= 2
    assert any("in lifts" in text for text in deep.warnings)


@pytest.mark.parametrize("name", ["cast-seat", "released-seat"])
def test_on_a_deck_that_is_nearly_flat_three_pads_are_alike(name: str) -> None:
    """On 5 m the deck drops 12^2 / 10000 = 0.014 mm at 12 mm out, which no file makes: three pads of 2 mm. On 200 mm it
    drops 200 - sqrt(200^2 - 12^2) = 0.36 mm, and the side pads are thicker."""
    card = LIBRARY.cards[name]
    for crown, told in (("5 m", "all of 2 mm"), ("200 mm", "one of 2 mm, two of 2.4 mm")):
        reckoning = reckon(LIBRARY, card, {"R_c": crown, "b_b": "36 mm", "a_b": "60 mm", "t_0": "2 mm"})
        make, fit = (" ".join(reckoning.reads(step.do).split()) for step in card.steps[:2])
        assert told in make
        assert ("bevelled to the slope" in fit) == (crown == "200 mm")
