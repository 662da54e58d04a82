"""At the bench with heat: every formula by hand, and that no held head passes its limit."""

from __future__ import annotations

from itertools import product
from math import ceil, floor, log

import pytest

from conftest import LIBRARY, for_each, whole_reckoning
from generator.bench import clock, numbers, signs, standing
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import removal
from generator.reckoning import reckon
from generator.wording import read_prose

CARD = LIBRARY.cards["heat-removal"]
STEEL = {"thread": "M6", "metal": "carbon-steel", "L_k": "45 mm", "T_a": "8 degC", "wood": "sitka-spruce"}

BY_HAND = [
    ("T_k", {"T_top": 391.15, "dT_hx": 3.0}, 388.15),
    # (50 - 33) / 11 = 1.545; up to 2; one more
    ("n_hx", {"L_k": 0.050, "L_end": 0.033, "L_x": 0.011}, 3.0),
    # short enough to come out whole
    ("n_hx", {"L_k": 0.020, "L_end": 0.033, "L_x": 0.011}, 1.0),
    ("n_hx", {"L_k": 0.001, "L_end": 0.033, "L_x": 0.011}, 1.0),
    # two stages of 11 and the last of 33 are 55; both ends do 66
    ("L_hm", {"L_x": 0.011, "n_sx": 3.0, "L_end": 0.033, "L_both": 0.066, "n_tw": 1.0}, 0.066),
    # twenty stages reach further than both ends
    ("L_hm", {"L_x": 0.011, "n_sx": 20.0, "L_end": 0.033, "L_both": 0.066, "n_tw": 1.0}, 0.242),
    # where no tool holds an end without a base, its head is all
    ("L_hm", {"L_x": 0.011, "n_sx": 20.0, "L_end": 0.033, "L_both": 0.066, "n_tw": 0.0}, 0.033),
    # Three stages are worth digging, the fourth makes all of them not worth it.
    ("n_hr", {"n_hx": 1.0, "n_sx": 3.0, "n_tw": 0.0}, 1.0),
    ("n_hr", {"n_hx": 3.0, "n_sx": 3.0, "n_tw": 1.0}, 3.0),
    ("n_hr", {"n_hx": 3.0, "n_sx": 3.0, "n_tw": 0.0}, 0.0),
    ("n_hr", {"n_hx": 4.0, "n_sx": 3.0, "n_tw": 1.0}, 0.0),
    # Both ends: only what the head alone does not free, up to twice its length.
    ("n_hb", {"L_both": 0.066, "L_k": 0.030, "n_hx": 1.0, "n_tw": 1.0}, 0.0),
    ("n_hb", {"L_both": 0.066, "L_k": 0.060, "n_hx": 4.0, "n_tw": 1.0}, 1.0),
    ("n_hb", {"L_both": 0.066, "L_k": 0.030, "n_hx": 2.0, "n_tw": 1.0}, 1.0),
    ("n_hb", {"L_both": 0.066, "L_k": 0.030, "n_hx": 2.0, "n_tw": 0.0}, 0.0),
    ("n_hb", {"L_both": 0.066, "L_k": 0.067, "n_hx": 5.0, "n_tw": 1.0}, 0.0),
    # one that is left cold is cored out
    ("n_hc", {"n_hot": 1.0}, 0.0),
    ("n_hc", {"n_hot": 0.0}, 1.0),
    # Two irons and one who watches; one iron and one who watches; cold, one who cores and one who stands by.
    ("n_pp", {"n_hb": 1.0}, 3.0),
    ("n_pp", {"n_hb": 0.0}, 2.0),
    ("n_ir", {"n_hot": 1.0, "n_hb": 1.0}, 2.0),
    ("n_ir", {"n_hot": 1.0, "n_hb": 0.0}, 1.0),
    ("n_ir", {"n_hot": 0.0, "n_hb": 0.0}, 0.0),
    ("n_hot", {"n_hr": 3.0, "n_hb": 1.0}, 1.0),
    ("n_hot", {"n_hr": 0.0, "n_hb": 1.0}, 1.0),
    ("n_hot", {"n_hr": 2.0, "n_hb": 0.0}, 1.0),
    ("n_hot", {"n_hr": 0.0, "n_hb": 0.0}, 0.0),
    # 8.53 g/mL and 40 mL are 341.2 g; with 0.377 kJ/kgK and 90 degrees 11.58 kJ, which 60 W bring in 193 s
    (
        "Q_ba",
        {"rho_k": 8530.0, "a_b": 0.1, "b_b": 0.05, "b_sk": 0.008, "c_h": 377.0, "T_k": 383.15, "T_a": 293.15},
        11576.916,
    ),
    ("t_ba", {"Q_ba": 11580.0, "P_k": 60.0}, 193.0),
    # Of the bolt's 70 mm2 what is 4 x 30 x 3 / (pi x 3e6) = 38.2e-6 m2, its root 6.18 mm, along: 0.4326 cm3
    (
        "V_bw",
        {"A_k": 70e-6, "L_h": 0.05, "L_k": 0.06, "k_h": 30.0, "t_rs": 3.0, "rho_k": 8000.0, "c_h": 375.0},
        4.326271e-7,
    ),
    # Half of a bolt of 4 mm has but 50 x tanh 0.04 = 1.99893 mm, which is 0.139925 cm3
    (
        "V_bw",
        {"A_k": 70e-6, "L_h": 0.05, "L_k": 0.004, "k_h": 30.0, "t_rs": 3.0, "rho_k": 8000.0, "c_h": 375.0},
        1.399254e-7,
    ),
    # Two nuts of an M10, 2.1 cm3, with 0.4326 cm3 of bolt, by 3 J/cm3K: 2.5326 cm3 and 7.598 J a degree
    ("E_be", {"rho_k": 8000.0, "c_h": 375.0, "q_hd": 2.1, "d": 0.01, "V_bw": 0.4326e-6, "dT_sw": 5.0}, 37.989),
    # A head of it, 1.2 cm3, in place of two nuts: 1.6326 cm3 and 4.898 J a degree
    ("E_hc", {"rho_k": 8000.0, "c_h": 375.0, "q_he": 1.2, "d": 0.01, "V_bw": 0.4326e-6, "dT_sw": 5.0}, 24.489),
    # 12 cm2 at 10 W/m2 and degree and 100 degrees
    ("P_be", {"P_s": 3.0, "k_air": 0.03, "d_air": 0.003, "q_ha": 12.0, "d": 0.01, "T_k": 393.15, "T_a": 293.15}, 4.2),
    ("t_fb", {"E_be": 37.8, "P_be": 4.2}, 9.0),
    ("t_fc", {"E_hc": 25.2, "P_be": 4.2}, 6.0),
    ("P_tc", {"E_be": 38.0, "t_tc": 1.0}, 38.0),
    # of 9 s the reading leaves 6, so 4.2 W take 6.3 W; a dab of 5 s and a reading of 3 s take 1.6 times, less than that twice
    # 1.5 as much, and 1.8 kJ in ten minutes are 3 W more, 4.8 W by such dabs: 4.2 x 1.6 + 4.8
    ("P_tl", {"P_be": 4.2, "t_fb": 9.0, "t_rs": 3.0, "t_tc": 1.0, "t_sp": 5.0, "Q_k": 1800.0, "t_up": 600.0}, 11.52),
    # of 4 s it leaves 1, so 4 W take 16 W
    ("P_tl", {"P_be": 4.0, "t_fb": 4.0, "t_rs": 3.0, "t_tc": 1.0, "t_sp": 5.0, "Q_k": 0.0, "t_up": 600.0}, 16.0),
    # what falls before it can be read takes more than any tool
    ("P_tl", {"P_be": 0.8, "t_fb": 2.5, "t_rs": 3.0, "t_tc": 1.0, "t_sp": 5.0, "Q_k": 0.0, "t_up": 600.0}, 20.0),
    ("P_hl", {"P_be": 4.2, "t_fc": 9.0, "t_rs": 3.0, "t_tc": 1.0, "t_sp": 5.0, "Q_k": 1800.0, "t_up": 600.0}, 11.52),
    ("P_hl", {"P_be": 4.0, "t_fc": 4.0, "t_rs": 3.0, "t_tc": 1.0, "t_sp": 5.0, "Q_k": 0.0, "t_up": 600.0}, 16.0),
    ("P_hl", {"P_be": 0.8, "t_fc": 2.5, "t_rs": 3.0, "t_tc": 1.0, "t_sp": 5.0, "Q_k": 0.0, "t_up": 600.0}, 20.0),
    ("P_hc", {"E_hc": 25.0, "t_tc": 1.0}, 25.0),
    # 10 W and 12 kJ in ten minutes are 30 W, and 1.6 times that
    ("P_kl", {"P_be": 4.0, "P_ba": 6.0, "Q_k": 1800.0, "Q_ba": 10200.0, "t_up": 600.0, "t_rs": 3.0, "t_sp": 5.0}, 48.0),
    # 3 J a degree and 100 degrees are 300 J, half of it in a second
    ("P_hx", {"E_hc": 15.0, "dT_sw": 5.0, "T_k": 393.15, "T_a": 293.15, "t_tc": 1.0}, 150.0),
    # 36 x 4e-5 / 0.05 = 0.0288; half of the length is ln 2 reaches, whose tanh is 0.6; x 100
    ("P_sb", {"k_h": 36.0, "A_k": 4e-5, "L_h": 0.05, "L_k": 0.1 * log(2), "T_k": 393.15, "T_a": 293.15}, 1.728),
    ("n_th", {"P_hl": 4.2, "P_hc": 8.9, "n_hot": 1.0}, 1.0),
    ("n_th", {"P_hl": 4.2, "P_hc": 8.9, "n_hot": 0.0}, 0.0),
    ("n_th", {"P_hl": 7.2, "P_hc": 7.9, "n_hot": 1.0}, 0.0),
    ("n_th", {"P_hl": 7.2, "P_hc": 17.9, "n_hot": 1.0}, 1.0),
    ("n_th", {"P_hl": 7.0, "P_hc": 7.9, "n_hot": 1.0}, 1.0),
    # A far end, or a stub, or both by the same iron; what comes in one stage has no stub, and what stays cold none to heat.
    ("n_if", {"n_hb": 1.0, "n_hr": 0.0}, 1.0),
    ("n_if", {"n_hb": 1.0, "n_hr": 3.0}, 1.0),
    ("n_if", {"n_hb": 0.0, "n_hr": 2.0}, 1.0),
    ("n_if", {"n_hb": 0.0, "n_hr": 1.0}, 0.0),
    ("n_if", {"n_hb": 0.0, "n_hr": 0.0}, 0.0),
    ("n_ih", {"n_hot": 1.0, "n_th": 1.0, "n_if": 1.0}, 3.0),
    ("n_ih", {"n_hot": 1.0, "n_th": 0.0, "n_if": 0.0}, 1.0),
    ("n_ih", {"n_hot": 0.0, "n_th": 0.0, "n_if": 0.0}, 0.0),
    # from 5 W on up to 8 W; from 8 W on up to 7 W there is none, nor from 8 W on of 7.9 W
    ("n_tw", {"P_tl": 4.2, "P_tc": 8.9}, 1.0),
    ("n_tw", {"P_tl": 7.2, "P_tc": 7.9}, 0.0),
    ("n_tw", {"P_tl": 7.0, "P_tc": 7.9}, 1.0),
    # A tenth under 40 mm is 36 mm, and under 80 mm 72 mm: from there on it is close.
    *(
        ("n_cl", {"L_end": 0.040, "L_both": 0.080, "L_k": length, "x_cl": 0.1, "n_tw": 1.0}, close)
        for length, close in (
            (0.015, 0),
            (0.030, 0),
            (0.035, 0),
            (0.037, 1),
            (0.040, 1),
            (0.041, 0),
            (0.071, 0),
            (0.073, 1),
            (0.081, 0),
        )
    ),
    # 100 by 50 mm on top and 300 by 20 mm round it are 11,000 mm2; 10 W/m2 and degree, 109 degrees
    (
        "P_ba",
        {"k_air": 0.03, "d_air": 0.003, "a_b": 0.1, "b_b": 0.05, "b_sk": 0.02, "T_k": 387.15, "T_a": 278.15},
        11.99,
    ),
]


@for_each(BY_HAND)
def test_by_hand(symbol: str, values: dict[str, float], result: float) -> None:
    (formula,) = [step for step in FORMULARY.formulas if step.symbol == symbol]
    assert formula.call(values) == pytest.approx(result, rel=1e-9)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {step.symbol for step in FORMULARY.formulas if step.function.__module__ == removal.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


@pytest.mark.parametrize("metal", LIBRARY.tables["metals"])
@pytest.mark.parametrize("thread", ["M5", "M8", "M12", "M20", "M24", "1/4-20 UNC", "3/4-10 UNC"])
def test_the_head_is_held_below_every_limit(thread: str, metal: str) -> None:
    """No size and no metal is refused, because the head is held where its own hole allows."""
    values = whole_reckoning(LIBRARY, CARD, {"thread": thread, "metal": metal}).working.values
    assert values["T_x"] < values["T_k"] < values["T_top"] <= values["T_metal"]
    assert values["T_wall"] < values["T_wood"] < values["T_pyr"]
    assert 0 < values["L_x"] < values["L_end"] < values["L_both"]


def test_a_long_stainless_fastener_takes_more_stages_than_anybody_digs() -> None:
    values = whole_reckoning(LIBRARY, CARD, {"metal": "stainless-316", "L_k": "90 mm"}).working.values
    assert values["L_end"] < values["L_k"]
    assert values["n_hx"] > 10


def test_an_old_eye_in_oak_is_left_cold_and_cored_out() -> None:
    """Its heat reaches less than half its length, so no step of the card speaks of heating it."""
    reckoning = reckon(LIBRARY, CARD, {"metal": "stainless-316", "wood": "white-oak", "L_k": "90 mm"})
    assert reckoning.working.values["n_hot"] == 0
    assert reckoning.working.values["L_hm"] == pytest.approx(0.038, abs=0.001)
    told = " ".join(
        part if isinstance(part, str) else part.name for _, text in read_prose(CARD, reckoning) for part in text
    )
    assert "leave it cold" in told
    steps = [step.title for step in CARD.steps if not step.when or reckoning.holds(step.when)]
    assert "Core it out cold" in steps
    assert not {"Put the heat on the metal only", "Hold it, and watch"} & {*steps}
    bench = {what for what, _, _ in standing(CARD, [*numbers(CARD), *clock(CARD)], reckoning)}
    assert not {"hold head at", "hot at", "try a turn", "iron off"} & bench


def test_no_warning_tells_to_heat_what_is_left_cold() -> None:
    """What its head does not free is dug out in stages, or cored: holding it longer does nothing for it."""
    cold = reckon(LIBRARY, CARD, {"thread": "M12", "metal": "stainless-316", "L_k": "120 mm"})
    assert cold.amount("n_hot") == 0
    assert cold.working.warnings == []
    row = [said for said in standing(CARD, numbers(CARD), cold) if said[0] == "cutter, inside"]
    assert [[one.replace("\N{NO-BREAK SPACE}", " ") for one in said] for said in row] == [
        ["cutter, inside", "over 12 mm", "outside 18 mm at most, longer than 120 mm + block"]
    ]


@pytest.mark.parametrize("metal", list(LIBRARY.tables["metals"]))
def test_what_its_head_frees_is_hot_along_its_length_in_the_shortest_time(metal: str) -> None:
    """So nothing has to say that the heat needs longer than it is held. The time goes by the square of the length."""
    reckoning = reckon(LIBRARY, CARD, {"metal": metal, "thread": "M24", "t_hold": str(CARD.givens["t_hold"].min)})
    values = reckoning.working.values
    assert values["t_dif"] * (values["L_end"] / values["L_k"]) ** 2 < values["t_hold"]


def test_a_heat_gun_is_no_soldering_iron() -> None:
    """One of 1.5 kW has a base of 0.77 kg past what wood bears within half a minute, so no step is told for it."""
    gun = reckon(LIBRARY, CARD, {"P_k": "1.5 kW"})
    assert not gun.holds(CARD.steps_stand)
    for symbol in ("T_k", "L_x", "L_end"):
        assert "a tool of more than 300\u00a0W" in str(gun.working.refused[symbol])
    assert reckon(LIBRARY, CARD, {"P_k": "300 W"}).holds(CARD.steps_stand)


def test_a_first_dab_is_safe_on_a_seat_that_takes_nothing() -> None:
    """A head of M5, 0.15 cm3, and 2.7 times that of its bolt's first 6.5 mm hold 0.82 J a degree. 300 W for a second have
    them at 366 degrees; from 20 °C to the hold are 97, and half of that 39.8 J."""
    small = {"thread": "M5", "L_k": "20 mm", "a_b": "40 mm", "b_b": "20 mm", "b_sk": "4 mm"}
    strong = reckon(LIBRARY, CARD, {**small, "P_k": "300 W"})
    assert "set this card for one of 39\u00a0W or less" in str(strong.working.refused["n_hot"])
    assert not strong.holds(CARD.steps[4].when)
    assert reckon(LIBRARY, CARD, {**small, "P_k": "39 W"}).working.values["n_hot"] == 1
    assert reckon(LIBRARY, CARD, {**small, "P_k": "39 W"}).amount("P_hx") == pytest.approx(39.8, abs=0.1)


def test_no_iron_heats_a_large_base_and_spares_the_head_of_a_thin_bolt() -> None:
    large = reckon(LIBRARY, CARD, {"thread": "M5", "L_k": "20 mm", "P_k": "39 W"})
    assert "core it out cold" in str(large.working.refused["n_hot"])


def test_the_irons_of_a_long_bolt_by_hand() -> None:
    """M12 of silicon bronze, 62 mm, at 113 °C. The head is 1.2 x 1.728 = 2.07 cm3, and 6.54 mm of the bolt's 94.6 mm2 0.62:
    2.69 cm3 of 3.216 J are 8.65 J a degree, 43 J for 5. Bolt and air take 5.15 W, so it falls in 8.4 s, of which 5.4 are left
    for an iron: 8.2 W, and 1.25 kJ in ten minutes, 1.6 times as much: 3.5 W. Both ends take 2 x 2.2 W."""
    reckoning = reckon(LIBRARY, CARD, {"thread": "M12", "L_k": "62 mm", "P_k": "150 W"})
    values = reckoning.working.values
    assert values["E_hc"] == pytest.approx(43.3, abs=0.3)
    assert values["P_hc"] == pytest.approx(43.3, abs=0.3)
    assert values["P_hl"] == pytest.approx(8.24 + values["Q_k"] / 600 * 1.6, abs=0.1)
    assert values["P_sb"] * 2 > values["P_s"] > values["P_sb"]
    assert (values["n_th"], values["n_if"], values["n_ih"], values["n_ir"]) == (1, 1, 3, 2)


def test_a_bolt_of_80_mm_is_heated_at_both_ends_and_only_just_comes() -> None:
    """82 mm is the most, and a tenth less 74 mm."""
    given = {"thread": "M12", "L_k": "80 mm", "a_b": "150 mm", "b_b": "60 mm", "b_sk": "10 mm", "wood": "white-oak"}
    reckoning = reckon(LIBRARY, CARD, {**given, "T_a": "22 degC", "P_k": "150 W"})
    values = reckoning.working.values
    assert (values["n_hb"], values["n_cl"]) == (1, 1)
    assert values["Q_ba"] == pytest.approx(90 * 8.53 * 0.377 * 95, rel=0.01)
    assert reckon(LIBRARY, CARD, {**given, "L_k": "73 mm"}).working.values["n_cl"] == 0


def test_a_short_bronze_bolt_is_heated() -> None:
    reckoning = reckon(LIBRARY, CARD, {})
    told = " ".join(
        part if isinstance(part, str) else part.name for _, text in read_prose(CARD, reckoning) for part in text
    )
    assert "leave it cold" not in told
    steps = [step.title for step in CARD.steps if not step.when or reckoning.holds(step.when)]
    assert "Put the heat on the metal only" in steps
    assert "Saw it flush and core it out cold" not in steps


def test_a_margin_that_leaves_no_heat_is_refused() -> None:
    with pytest.raises(OutOfRange, match="too cool to soften"):
        whole_reckoning(LIBRARY, CARD, {"thread": "M24", "dT_hx": "20 K"})


def test_a_base_of_bronze_by_hand() -> None:
    """100 by 50 by 8 mm is 40 mL, 341.2 g of silicon bronze; 0.377 kJ/kgK and 90 degrees make 11.58 kJ."""
    given = {"metal": "silicon-bronze", "T_a": "20 degC", "T_k": "110 degC"}
    values = reckon(LIBRARY, CARD, given).working.values
    assert values["Q_ba"] == pytest.approx(11_577, abs=2)
    assert values["t_ba"] == pytest.approx(11_577 / 60, abs=1)


def test_the_tool_for_a_bare_end_by_hand() -> None:
    """An M6 of 45 mm of carbon steel, 109 °C warmer than spruce at 8 °C: it takes up 2.0 W, and two nuts give off 0.47 W.
    The nuts are 0.454 cm3, and 7.2 mm of the bolt's 22.4 mm2 0.16 cm3: 0.615 cm3 and 3.70 J/cm3K are 2.3 J a degree."""
    reckoning = reckon(LIBRARY, CARD, STEEL)
    values = reckoning.working.values
    assert values["P_be"] == pytest.approx(2.0 + 10 * 12 * 36e-6 * 109, abs=0.02)
    assert values["E_be"] == pytest.approx(0.615 * 3.70 * 5, rel=0.02)
    assert values["t_fb"] == pytest.approx(11.5 / 2.47, rel=0.02)
    assert values["P_tl"] == pytest.approx(11.5 / (4.66 - 3) + values["Q_k"] / 600 * 1.6, rel=0.02)
    assert (reckoning.amount("P_tl"), reckoning.amount("P_tc")) == (values["P_tl"], values["P_tc"])
    assert 7 < values["P_tl"] < 8 < 11 < values["P_tc"] < 12
    assert values["n_hb"] == 1


@pytest.mark.parametrize("metal", LIBRARY.tables["metals"])
@pytest.mark.parametrize("thread", ["M4", "M5", "M6", "M8", "M12", "M24", "1/4-20 UNC", "1/2-13 UNC"])
def test_every_tool_that_is_told_can_hold_what_it_heats(thread: str, metal: str) -> None:
    """On and off as told it brings on the average what is lost at the hold: at an end without a base, and under a head."""
    for length, base, cold, margin in product((10, 45, 200), ("5 mm", "40 mm"), ("2", "38"), ("1 °C", "9 °C")):
        given = {"thread": thread, "metal": metal, "L_k": f"{length} mm", "a_b": base, "b_b": base, "T_a": f"{cold} °C"}
        reckoning = reckon(LIBRARY, CARD, {**given, "dT_hx": margin, "P_k": "20 W"})
        if "n_hot" in reckoning.working.refused or not reckoning.working.values["n_hot"]:
            continue
        values = reckoning.working.values
        assert ceil(values["P_kl"]) <= floor(values["P_hx"])
        lost = values["P_be"] + values["P_ba"] + (values["Q_k"] + values["Q_ba"]) / values["t_up"]
        assert values["P_kl"] * values["t_sp"] / (values["t_sp"] + values["t_rs"]) == pytest.approx(lost)
        assert (
            values["P_hx"] * values["t_tc"]
            <= values["E_hc"] / values["dT_sw"] * (values["T_k"] - values["T_a"]) / 2 * 1.001
        )
        tools = []
        if values["n_th"]:
            tools.append((ceil(values["P_hl"]), floor(values["P_hc"]), values["E_hc"], values["P_be"]))
        if values["n_tw"]:
            tools.append((ceil(values["P_tl"]), floor(values["P_tc"]), values["E_be"], values["P_be"]))
        else:
            assert values["n_hb"] == 0
            assert values["n_hx"] == 1, "what its head alone does not free is left cold"
        for least, most, dab, lost in tools:
            assert least <= most
            for power in (least, most):
                assert power * values["t_tc"] <= dab * 1.001, "its shortest dab brings more than may be wanting"
                on = dab / power
                assert dab / (on + values["t_rs"]) >= lost, "it falls back while it is read"


def test_no_dab_is_told_by_the_clock_alone() -> None:
    """The reading says how long the next one is, on the full sheet and on the bench side."""
    heat = next(step for step in CARD.steps if step.title == "Put the heat on the metal only")
    assert "No dab may lift it by more than is still wanting" in heat.do
    assert "Where {t_tc} brings over {dT_sw}" in heat.do
    assert "read highest" in (heat.line or "")
    assert "minute" not in heat.do


def test_both_ways_saw_core_and_watch_by_the_same_steps() -> None:
    """A fastener that stuck and one left cold are cored by the same drill, and what was cut is hot on both ways."""
    always = [step for step in CARD.steps if not step.when]
    saw, core, watch = (next(step for step in always if word in step.title) for word in ("head", "Core", "Watch"))
    assert always.index(saw) < always.index(core) < always.index(watch)
    assert "short of the wood's back" in core.do
    assert "short of the wood's back" in (core.line or "")
    assert "It jams" in (core.wrong or "")
    assert "hole is not {D_o} wide" in core.do
    assert "contact thermometer" in watch.do
    assert {"no gloves", "burns", "goggles", "mask"} <= {*signs(core, LIBRARY.cautions)}


def test_no_glove_is_on_the_hand_at_a_cutter_that_another_sign_asks_gloves_for() -> None:
    """On every card: where a step's signs ask for gloves for what is hot, and a bit turns in it, one says when they are off."""
    for card in LIBRARY.cards.values():
        for step in card.steps:
            told = {*signs(step, LIBRARY.cautions)}
            assert not ({"burns"} <= told and "drilling" in step.cautions) or "no gloves" in told, (
                card.title,
                step.title,
            )
