"""A worn hole, a blind hole and a trial joint: hand-worked cases, limits, and each taken another way round."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, for_each, whole_reckoning
from generator.bench import clock, standing
from generator.errors import NoStock, OutOfRange
from generator.figures import figure
from generator.formula import FORMULARY
from generator.formulas import blind, trial, worn
from generator.reckoning import InputError, Reckoning, reckon

modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)
ROOMS = (blind.__name__, trial.__name__, worn.__name__)


def card(name: str, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.cards[name], inputs)


PULLED = {"W_tr": 490.3325, "g_n": 9.80665, "m_lv": 5.0, "f_p": 400e6, "a_tr": 0.1, "b_tr": 1.0}

BY_HAND = [
    ("L_k", {"T": 0.090, "c_e": 0.002}, 0.088),
    # 92 mm to the tip and a hole's width beyond it
    ("Z_k", {"M_o": 0.076, "M_g": 0.092, "D_o": 0.014}, 0.106),
    # 12 + 2 x 3, and twice 8 is less; twice 12 is more than 13 + 6
    ("B_wo", {"D_wo": 0.012, "a_wo": 0.003, "d": 0.008}, 0.018),
    ("B_wo", {"D_wo": 0.013, "a_wo": 0.003, "d": 0.012}, 0.024),
    ("b_wo", {"K_wo": 0.020, "D_k": 0.0085}, 0.00575),
    ("c_wo", {"b_wo": 0.00475}, 0.002375),
    # 20 mm, and 2 x 8 mm past it on either side
    ("b_wq", {"K_wo": 0.020, "d": 0.008}, 0.052),
    ("e_wo", {"d": 0.008, "K_wo": 0.020}, 0.032),
    ("e_wo", {"d": 0.008, "K_wo": 0.024}, 0.036),
    # pi/4 x 20^2 x 50 mm3
    ("V_wo", {"K_wo": 0.020, "T_wo": 0.050}, 15.70796e-6),
    ("A_wo", {"K_wo": 0.020, "T_wo": 0.050}, 3.141593e-3),
    ("h_w", {"T_wo": 0.050}, 0.050),
    ("D_l", {"K_wo": 0.020}, 0.020),
    # 2 x 0.00314159 m2 x 0.3 kg/m2, a third of it in each of three lifts
    ("m_w", {"n_h": 2.0, "A_wo": 3.141593e-3, "w_h": 0.3, "n_l": 3.0}, 0.628319e-3),
    ("y_wo", {"q_wo": 0.875, "d": 0.008}, 0.007),
    # 9.5 mm, gauge 24, against a bolt of 8 mm, of 4 mm and of 10 mm
    ("n_ws", {"a_ws": 0.0095, "d": 0.008}, 1.0),
    ("n_ws", {"a_ws": 0.0095, "d": 0.004}, 1.0),
    ("n_ws", {"a_ws": 0.0095, "d": 0.010}, 0.0),
    ("F_tr", {"k_tr": 2.0, "F_w": 2050.0}, 4100.0),
    ("W_tr", {"F_tr": 5000.0, "a_tr": 0.1, "b_tr": 0.8}, 625.0),
    ("m_tr", {"W_tr": 490.3325, "g_n": 9.80665, "m_lv": 5.0}, 55.0),
    # 8000 N / 8 / 9.80665
    ("m_ul", {"R_k": 8000.0, "a_tr": 0.1, "b_tr": 0.8, "g_n": 9.80665, "m_lv": 5.0}, 106.9716),
    ("q_lv", {"a_tr": 0.1, "b_tr": 1.0}, 10.0),
    ("M_tr", {"W_tr": 500.0, "b_tr": 1.0, "a_tr": 0.1}, 450.0),
    # 3 x 450 / (140e6 x 0.012) = 8.03571e-4 m2
    ("h_tr", {"M_tr": 450.0, "y_tr": 140e6, "c_tr": 0.012}, 0.0283473),
    # 2550 N ask for 26.003 kg ten to one, told as 27, which pull with 2647.8 N: the clamps bear more than half of it,
    # (2550 + 98.0665) / 2
    ("F_cl", {"F_tr": 2550.0, "g_n": 9.80665, "b_tr": 1.0, "a_tr": 0.1}, 1324.03325),
    # 205 kg of which 5 are the lever, ten to one: 200 x 9.80665 x 10 = 19613.3 N, half of it
    ("F_cu", {"m_st": 205.0, "m_lv": 5.0, "g_n": 9.80665, "b_tr": 1.0, "a_tr": 0.1}, 9806.65),
    ("h_ul", {"h_tr": 0.028}, 0.056),
    # a jack and scale of 200 mm beside a block of 55 mm, and of 160 mm
    ("h_pk", {"h_pm": 0.06, "h_jk": 0.2, "T": 0.055}, 0.145),
    ("h_pk", {"h_pm": 0.06, "h_jk": 0.2, "T": 0.16}, 0.06),
    # 90 + 50 + 2 x 28 + 100 mm
    ("L_rt", {"T": 0.090, "h_pk": 0.050, "h_ul": 0.056, "l_hd": 0.100}, 0.296),
    # 200 mm, and the more of fifteen threads or a packer's breadth and two clamps of 50 mm: 72.5 + 100; 15 x 12
    ("l_tr", {"a_tr": 0.1, "d": 0.006, "h_pk": 0.145, "l_cp": 0.05}, 0.3725),
    ("l_tr", {"a_tr": 0.1, "d": 0.012, "h_pk": 0.145, "l_cp": 0.05}, 0.380),
    ("s_tr", {"a_tr": 0.12}, 0.24),
    # the bar 100 mm from the rod's axis, on the middle of a packer 72.5 mm broad: 100 - 36.25 - 3
    ("g_pk", {"a_tr": 0.1, "h_pk": 0.145, "d": 0.006}, 0.06075),
    # one rod, and three of them 240 mm apart
    ("l_bl", {"l_tr": 0.32, "n_h": 1.0, "s_tr": 0.24}, 0.32),
    ("l_bl", {"l_tr": 0.32, "n_h": 3.0, "s_tr": 0.24}, 0.8),
    # a scale to 100 kg, and a joint that may give at 99.9, 100 or 100.1
    # bars twice as high bear four times the moment: 4 x 490.3325 N / g are 200 kg, and 5 of the lever
    ("m_st", {"q_tr": 300.0, **PULLED, "A_s": 6e-5}, 205.0),
    ("m_st", {"q_tr": 150.0, **PULLED, "A_s": 6e-5}, 150.0),
    # a rod of 400 MPa that stretches at 14709.975 N, ten to one: 150 kg, and 5 of the lever
    ("m_st", {"q_tr": 300.0, **PULLED, "A_s": 3.67749375e-5}, 155.0),
    ("n_se", {"q_tr": 150.0, "m_st": 150.0}, 1.0),
    ("n_se", {"q_tr": 300.0, "m_st": 205.0}, 0.0),
    # 4 x 490.33 N are 200 kg, and 5 kg at rest
    ("n_sb", {"W_tr": 490.3325, "g_n": 9.80665, "m_lv": 5.0, "m_st": 205.0, "n_se": 0.0}, 1.0),
    ("n_sb", {"W_tr": 490.3325, "g_n": 9.80665, "m_lv": 5.0, "m_st": 155.0, "n_se": 0.0}, 0.0),
    ("n_sb", {"W_tr": 490.3325, "g_n": 9.80665, "m_lv": 5.0, "m_st": 205.0, "n_se": 1.0}, 0.0),
    ("n_sr", {"n_se": 0.0, "n_sb": 0.0}, 1.0),
    ("n_sr", {"n_se": 0.0, "n_sb": 1.0}, 0.0),
    ("n_ul", {"m_st": 100.0, "m_ul": 99.9}, 1.0),
    ("n_ul", {"m_st": 100.0, "m_ul": 100.0}, 1.0),
    ("n_ul", {"m_st": 100.0, "m_ul": 100.1}, 0.0),
    ("n_ul", {"m_st": 300.0, "m_ul": 100.0}, 1.0),
    ("w_tr", {"a_e": 0.05}, 0.1),
]


@for_each(BY_HAND)
def test_by_hand(symbol: str, values: dict[str, float], result: float) -> None:
    (formula,) = [step for step in FORMULARY.formulas if step.symbol == symbol and step.function.__module__ in ROOMS]
    assert formula.call(values) == pytest.approx(result, rel=1e-5)


def test_every_formula_of_the_subjects_is_worked_by_hand() -> None:
    own = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ in ROOMS}
    assert own == {symbol for symbol, _, _ in BY_HAND}


# A worn hole


def test_the_next_drill_that_reaches_sound_wood() -> None:
    """11 + 6 = 17 mm; flat bits come in 16 and 18."""
    assert card("worn-hole", D_wo="11 mm").working.values["K_wo"] == pytest.approx(0.018)


@modest
@given(st.integers(8, 30), st.integers(3, 5), st.sampled_from(["M6", "M8", "M10", "M12"]))
def test_a_bore_takes_all_that_is_worn_and_leaves_a_wall(worn_mm: int, ring: int, thread: str) -> None:
    try:
        values = card("worn-hole", thread=thread, D_wo=f"{worn_mm} mm", a_wo=f"{ring} mm").working.values
    except NoStock:
        return
    assert values["K_wo"] - values["D_wo"] >= 2 * values["a_wo"] - 1e-9
    assert values["K_wo"] >= 2 * values["d"] - 1e-9
    assert values["b_wo"] >= 0.003 - 1e-9


def test_what_no_drill_bores_is_bored_with_what_is_sold() -> None:
    """52 mm: flat bits end at 40 mm and twist drills at 25 mm, so each message names only what goes further."""
    saw = "bore with a hole saw, no deeper than it reaches, break out the core, and give the hole's width"
    for kind, instead in (("flat", f"; {saw}"), ("twist", f"; choose the flat bit, sold up to 40 mm, or {saw}")):
        with pytest.raises(NoStock) as refused:
            card("worn-hole", D_wo="40 mm", a_wo="6 mm", large_drill=kind)
        assert str(refused.value).endswith(f"have no size as large as the 52 mm that is wanted{instead}")


def test_a_compound_that_does_not_hold_stops_the_mend() -> None:
    sheet = LIBRARY.cards["worn-hole"]
    for wood, stands in (("iroko", False), ("white-oak", True)):
        assert reckon(LIBRARY, sheet, {"wood": wood, "compound": "silicone"}).holds(sheet.steps_stand) is stands


def test_no_washer_alone_holds_what_its_bore_is_wider_than() -> None:
    """A washer of 18 mm, the widest for M6, lies in a bore of 18 mm on nothing but the plug: 18 + 4 x 6 is 42 mm."""
    sheet = LIBRARY.cards["worn-hole"]
    with pytest.raises(InputError, match=r"take 1\.5 to 30\smm"):
        reckon(LIBRARY, sheet, {"thread": "M6", "D_wo": "12 mm", "q_sk": "0 mm"})
    reckoning = reckon(LIBRARY, sheet, {"thread": "M6", "D_wo": "12 mm", "q_sk": "2 mm"})
    assert (reckoning.working.values["K_wo"], reckoning.working.values["b_wq"]) == pytest.approx((0.018, 0.042))
    assert "42\u00a0mm across or more" in reckoning.reads(sheet.steps[-1].do)
    assert "backing" in figure(LIBRARY, "worn-section", reckoning, "x").svg


def test_a_thin_wall_is_refused() -> None:
    with pytest.raises(OutOfRange, match="too little epoxy is left"):
        card("worn-hole", K_wo="16 mm", D_wo="9 mm", D_k="11 mm")


def test_a_bore_inside_the_worn_wood_is_refused() -> None:
    with pytest.raises(OutOfRange, match="must reach past the worn wood"):
        card("worn-hole", K_wo="14 mm", D_wo="14 mm")


def test_a_thick_plug_is_warned_of() -> None:
    thin = card("worn-hole", D_wo="8 mm", K_wo="16 mm").working.warnings
    assert not any("sheds its own heat" in text for text in thin)
    assert any("sheds its own heat" in text for text in card("worn-hole", K_wo="30 mm").working.warnings)


def test_the_mix_fills_the_bores_and_coats_them() -> None:
    values = card("worn-hole", n_h="4", N="2").working.values
    assert values["V_1"] * values["n_l"] == pytest.approx(4 * pi / 4 * values["K_wo"] ** 2 * values["T_wo"])
    assert values["V"] > values["N_m"] * values["V_1"]
    one = card("worn-hole").working.values
    assert values["m_w"] == pytest.approx(4 * one["m_w"])


def test_no_load_is_given_for_a_mended_hole() -> None:
    sheet = LIBRARY.cards["worn-hole"]
    assert not sheet.loads
    assert "No load is given" in sheet.notes[0]


# A blind hole


def test_a_blind_stud_stops_short_and_gets_a_pocket() -> None:
    values = card("blind-stud", c_e="3 mm").working.values
    assert values["L_k"] == pytest.approx(values["T"] - 0.003)
    assert values["V_e"] > 0
    assert (
        card("blind-stud").working.values["V_g"]
        > whole_reckoning(LIBRARY, LIBRARY.cards["bonded-stepped-hole"], {}).working.values["V_g"]
    )


# A trial joint


@modest
@given(st.integers(100, 200), st.integers(2, 20), st.sampled_from(["M8", "M10", "M12", "M16"]))
def test_the_lever_is_in_balance_and_its_bars_stay_under_their_stress(arm: int, ratio: int, thread: str) -> None:
    values = card(
        "trial-joint", thread=thread, T="250 mm", a_tr=f"{arm} mm", b_tr=f"{min(arm * ratio, 4000)} mm", q_tr="10000 kg"
    ).working.values
    assert values["W_tr"] * values["b_tr"] == pytest.approx(values["F_tr"] * values["a_tr"])
    section = 2 * values["c_tr"] * values["h_tr"] ** 2 / 6
    assert values["M_tr"] / section == pytest.approx(values["y_tr"], rel=1e-9)


def test_the_proof_load_is_twice_the_working_load_and_half_of_what_it_should_hold() -> None:
    values = card("trial-joint").working.values
    assert values["F_tr"] == pytest.approx(2 * values["F_w"])
    assert values["F_tr"] <= values["R_k"] / 2 * (1 + 1e-9)


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        ({"thread": "M20", "T": "150 mm", "a_tr": "110 mm"}, "of bare wood beside the rod"),
        ({"a_tr": "120 mm", "b_tr": "110 mm"}, "further out than the rod"),
        ({"k_tr": "20"}, "stretch the rod"),
        ({"thread": "M24", "T": "250 mm", "a_tr": "150 mm"}, "no strength is given for threads"),
    ],
)
def test_outside_there_is_no_number(inputs: dict[str, str], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        card("trial-joint", **inputs)


def test_fewer_than_two_joints_say_nothing() -> None:
    with pytest.raises(InputError, match="outside the range"):
        card("trial-joint", N="1")


def test_a_scale_that_ends_before_the_proof_load_gives_none() -> None:
    assert card("trial-joint", b_tr="1000 mm").has("m_tr")
    with pytest.raises(OutOfRange, match="ends before the proof load"):
        card("trial-joint", b_tr="200 mm")


def test_what_is_read_on_the_scale_and_bought_as_a_bar_is_rounded_up() -> None:
    for shop in ("metric", "inch"):
        reckoning = card("trial-joint", shop=shop)
        assert float(reckoning.number("m_tr")) >= reckoning.amount("m_tr")
        assert reckoning.working.values["h_tr"] == pytest.approx(
            sqrt(3 * reckoning.working.values["M_tr"] / (140e6 * reckoning.working.values["c_tr"]))
        )


def test_hard_and_cured_count_from_the_last_lift() -> None:
    """A bore of two inches is filled in lifts, and only the last one's time says when all of it is hard."""
    card = LIBRARY.cards["worn-hole"]
    for depth, words in (("50 mm", {"last hard", "last cured"}), ("10 mm", {"hard", "full cure"})):
        reckoning = reckon(LIBRARY, card, {"T_wo": depth})
        assert (reckoning.amount("n_l") > 1) == ("last hard" in words)
        told = {what for what, _, _ in standing(card, clock(card), reckoning)}
        assert told & {"last hard", "hard", "last cured", "full cure"} == words


def test_the_scale_set_to_nought_ends_sooner() -> None:
    """And the sheet names only what ends the pull: here the scale, with a longer one the bars."""
    card = LIBRARY.cards["trial-joint"]
    (pull,) = [step for step in card.steps if step.title == "Pull one until it gives"]
    assert "its end then comes sooner than at {q_tr}" in pull.do
    for most, governs in (("150 kg", "n_se"), ("2000 kg", "n_sb")):
        values = reckon(LIBRARY, card, {"thread": "M12", "T": "130 mm", "q_tr": most}).working.values
        assert {name for name in ("n_se", "n_sb", "n_sr") if values[name]} == {governs}
