"""Every formula is worked by hand, and its cases notice whatever may be wrong with it: a sign, a factor, a power, a choice.

What a case leaves alike would stay alike if it were written wrongly: a given of 0 or 1, or a half angle of 45 degrees. So every
change of a formula in one place has to be told by one of its cases, or by its units.
"""

from __future__ import annotations

import ast
import importlib
import inspect
import textwrap
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from math import isclose, pi
from types import CodeType, FunctionType
from typing import TypeVar

import pytest
from code_mutants import spots

from conftest import HOUSE
from generator import formulas  # noqa: F401  registers them
from generator.errors import UnitFault
from generator.formula import FORMULARY, Code, Formula
from generator.proof import prove

Kind = TypeVar("Kind", bound=Code)
Case = tuple[str, dict[str, float], float]

# What a bolt has beyond the wood, in all formulas of bolts alike: its nut's washer, its nut and two turns.
END = {"t_s": 0.002, "d": 0.008, "P": 0.00125}
# Flutes of 8 diameters, or of 50 mm and 5 diameters: 80 mm of a drill of 10 mm, 150 mm of one of 20 mm.
LARGE = {"n_fo": 8.0, "u_fo": 0.05, "k_fo": 5.0}
GUIDE = {"n_fg": 8.0, "u_fg": 0.05, "k_fg": 5.0}
# Subjects without a table of their own, and at the end what two other tables leave alike.
BY_HAND: list[Case] = [
    # sqrt(3) / 2 x 1.25
    ("H", {"P": 0.00125}, 0.001082532),
    ("d_2", {"d": 0.01, "H": 0.004}, 0.007),
    ("D_1", {"d": 0.01, "H": 0.004}, 0.005),
    ("d_3", {"d": 0.01, "H": 0.002, "k_3": 1.5}, 0.007),
    # pi/4 x 7^2
    ("A_s", {"d": 0.01, "H": 0.002, "k_s": 1.5}, 38.48451e-6),
    # the root of (8 x 144 + 5 x 72 + 11 x 36) / 24 = 79.5
    ("d_v", {"d": 0.012, "D_1": 0.006}, 0.008916277),
    ("D_t", {"D_g": 0.009, "s_o": 0.004}, 0.013),
    ("a_m", {"d": 0.008}, 0.032),
    ("t_b", {"D_o": 0.014, "d": 0.008}, 0.003),
    ("L_t", {"f_o": 0.6, "T": 0.05}, 0.03),
    ("L_g", {"T": 0.05, "L_o": 0.03}, 0.02),
    # half of 14 and half of 8 over the tangent of 60 degrees
    ("h_o", {"D_o": 0.014, "alpha_o": 2 * pi / 3}, 0.004041452),
    ("h_g", {"D_g": 0.008, "alpha_g": 2 * pi / 3}, 0.002309401),
    ("e_ox", {"T": 0.035, "L_o": 0.025, "h_o": 0.004}, 0.006),
    ("M_o", {"L_o": 0.03, "h_o": 0.004, "e_o": 0.001}, 0.035),
    # A spur of 13 mm ahead of 28 mm in wood of 40 mm, and of 21 mm in a deck of 25 mm; where it stays inside, nothing.
    ("e_x", {"M_o": 0.041, "T": 0.04}, 0.001),
    ("e_x", {"M_o": 0.076, "T": 0.09}, 0.0),
    ("e_x", {"M_sk": 0.034, "T_sk": 0.025}, 0.009),
    ("e_x", {"M_sk": 0.034, "T_sk": 0.041}, 0.0),
    ("M_g", {"T": 0.05, "h_g": 0.002, "e_g": 0.0005}, 0.0525),
    # pi/4 x (196 - 64) x 30
    ("V_r", {"D_o": 0.014, "d_v": 0.008, "L_o": 0.03}, 3110.177e-9),
    # pi/24 x 36 x 30 over the tangent of 60 degrees
    ("V_f", {"D_o": 0.014, "D_g": 0.008, "alpha_o": 2 * pi / 3}, 81.62097e-9),
    # pi/4 x (36 x 2 + 64 x 3 / 3)
    ("V_e", {"D_g": 0.008, "h_g": 0.003, "d_v": 0.006, "c_e": 0.002}, 106.8142e-9),
    # pi/4 x 28 x 20 and 100
    ("V_g", {"D_g": 0.008, "d_v": 0.006, "L_g": 0.02, "V_e": 100e-9}, 539.8230e-9),
    ("A_b", {"a_b": 0.1, "b_b": 0.05}, 0.005),
    ("p_b", {"a_b": 0.1, "b_b": 0.05}, 0.3),
    ("t_cb", {"t_m": 0.001}, 0.001),
    ("t_cb", {"t_m": 0.0002}, 0.0005),
    # 5000 + 8 x 300 + pi/3 x 64
    ("V_b", {"A_b": 0.005, "t_cb": 0.001, "p_b": 0.3, "r_f": 0.004}, 7467.0206e-9),
    ("V_1", {"n_h": 4.0, "V_r": 3e-6, "V_f": 0.1e-6, "V_g": 0.5e-6, "V_b": 7e-6}, 21.4e-6),
    # 2 x 20 x 1.5 = 60 out of syringes that give 9.6 each
    ("n_s", {"N_m": 2.0, "V_1": 30e-6, "V_b": 10e-6, "w_a": 0.5, "V_s": 12e-6, "u_s": 0.8}, 7.0),
    # 40 out of syringes that give 9.6 each
    ("n_s", {"N_m": 2.0, "V_1": 20e-6, "V_s": 12e-6, "u_s": 0.8}, 5.0),
    # 24.7 mL out of syringes that give 15 mL; 4 mL, where one of two runs empty within a hole or one does for all
    *(
        ("n_sy", {hole: amount * 1e-6, "V_s": 20e-6, "u_s": 0.75, "n_s": loaded}, answer)
        for hole in ("E_o", "E_bu", "E_ct", "V_l")
        for amount, loaded, answer in (
            (24.7, 4.0, 2.0), (24.7, 1.0, 2.0), (4.0, 3.0, 2.0), (4.0, 1.0, 1.0), (40.0, 3.0, 3.0)
        )
    ),
    # 60, what 7 syringes keep and a sample: 60 + 7 x 2.4 + 4
    (
        "V",
        {"N_m": 2.0, "V_1": 20e-6, "w_a": 0.5, "n_s": 7.0, "V_s": 12e-6, "u_s": 0.8, "m_sa": 0.006, "rho_p": 1500.0},
        80.8e-6,
    ),
    # pi/4 x 64 over the sine of 30 degrees
    ("A_e", {"D_g": 0.008, "alpha_g": pi / 3}, 100.53096e-6),
    # pi x (14 x 30 + 8 x 20) + pi/4 x 132 over the sine of 30 degrees, and 100
    (
        "A_h",
        {"D_o": 0.014, "L_o": 0.03, "D_g": 0.008, "L_g": 0.02, "alpha_o": pi / 3, "A_e": 100e-6},
        2129.4689e-6,
    ),
    ("m_w", {"n_h": 4.0, "A_h": 0.002, "w_h": 0.3, "A_b": 0.005, "w_b": 0.2}, 0.0034),
    # e to the power of -0.5 is 0.6065307
    ("R_t", {"R_tg": 10000.0, "k_tg": 2.0, "s_tg": 0.25}, 6065.307),
    ("F_wt", {"q_t": 0.8, "R_t": 10000.0, "gamma_b": 4.0, "F_s": 3000.0}, 2000.0),
    ("F_wt", {"q_t": 0.8, "R_t": 10000.0, "gamma_b": 4.0, "F_s": 1500.0}, 1500.0),
    ("F_lt", {"q_t": 0.8, "R_t": 10000.0, "gamma_l": 5.0, "F_s": 3000.0}, 1600.0),
    ("F_lt", {"q_t": 0.8, "R_t": 10000.0, "gamma_l": 5.0, "F_s": 1500.0}, 1500.0),
    # 8000 x 0.7 / 2.8
    ("F_sct", {"q_t": 0.8, "R_t": 10000.0, "q_md": 0.7, "gamma_F": 1.4, "gamma_M": 2.0, "k_sg": 1.0, "q_e": 0.75}, 2000.0),
    ("F_sct", {"q_t": 0.8, "R_t": 10000.0, "q_md": 0.7, "gamma_F": 1.4, "gamma_M": 2.0, "k_sg": 0.0, "q_e": 0.75}, 1500.0),
    ("F_rd", {"m_rd": 30.0, "m_lv": 5.0, "g_n": 9.8, "a_tr": 0.1, "b_tr": 0.8}, 1960.0),
    # 1 x 10 x 0.1 / 0.05 = 20 N of the reading, 4 and 2 per cent of 500 N: the root of 400 + 400 + 100
    (
        "u_F",
        {"F_rd": 500.0, "u_rd": 1.0, "g_n": 10.0, "u_ar": 0.002, "a_tr": 0.05, "b_tr": 0.1},
        30.0,
    ),
    ("L_sk", {"b_sk": 0.01, "t_m": 0.001, "L_o": 0.03, "L_g": 0.02, "q_sk": 0.003, **END}, 0.0845),
    ("L_sk", {"b_sk": 0.01, "t_e": 0.004, "T_sk": 0.04, "q_sk": 0.003, **END}, 0.0775),
    ("L_sk", {"b_sk": 0.01, "h_b": 0.005, "t_e": 0.004, "T": 0.04, "q_sk": 0.003, **END}, 0.0825),
    ("L_sk", {"b_sk": 0.01, "h_b": 0.005, "T_wo": 0.04, "q_sk": 0.003, **END}, 0.0785),
    ("s_ln", {"s_by": 0.005, "L_sk": 0.076, "h_by": 0.08}, 0.005),
    ("s_ln", {"s_by": 0.005, "L_sk": 0.17, "h_by": 0.08}, 0.01),
    ("L_by", {"L_sk": 0.0765, "s_ln": 0.005}, 0.08),
    ("L_tn", {"L_by": 0.08, "L_sk": 0.0765, "L_o": 0.03, "L_g": 0.02, "q_sk": 0.003, **END}, 0.077),
    ("L_tp", {"L_by": 0.08, "L_sk": 0.0765, "q_sk": 0.003, **END}, 0.027),
    ("L_tp", {"L_by": 0.08, "L_sk": 0.0765, "h_rsp": 0.006, **END}, 0.030),
    ("L_st", {"L_k": 0.05, "t_m": 0.001, "b_sk": 0.01, "b_bl": 0.004, "d": 0.008, "P": 0.00125}, 0.0835),
    ("L_us", {"b_sk": 0.02, "g_y": 0.005, "l_sc": 0.04, "L_sc": 0.09, "d_sc": 0.012}, 0.167),
    ("L_us", {"b_sk": 0.01, "w_ct": 0.0175}, 0.0275),
    ("L_um", {"b_sk": 0.01, "e_ct": 0.017}, 0.027),
    ("L_us", {"b_sk": 0.01, "s_bu": 0.003, "d": 0.008}, 0.021),
    ("L_um", {"b_sk": 0.01, "s_bu": 0.003, "L_bu": 0.02, "h_pg": 0.004}, 0.029),
    ("L_cs", {"h_jg": 0.006, "l_ct": 0.018, "d": 0.008, "P": 0.00125}, 0.0345),
    ("L_ss", {"L_bu": 0.02, "s_bu": 0.003, "h_st": 0.012, "d": 0.008, "P": 0.00125}, 0.0455),
    ("M_sn", {"K_sn": 0.2, "F_p": 5000.0, "d": 0.008}, 8.0),
    ("M_sb", {"M_sn": 8.0, "K_sn": 0.2, "F_l": 3000.0, "d": 0.008}, 4.8),
    ("M_sb", {"M_sn": 4.0, "K_sn": 0.2, "F_l": 3000.0, "d": 0.008}, 4.0),
    ("m_sn", {"M_sn": 9.8, "M_lo": 1.0, "s_sn": 0.1, "l_sp": 0.2, "g_n": 9.8}, 5.0),
    ("m_sb", {"M_sb": 9.8, "M_lo": 1.0, "s_sn": 0.1, "l_sp": 0.2, "g_n": 9.8}, 5.0),
    # told as 0.7 N·m, so 0.7 / 0.98 and not 0.785 / 0.98
    ("m_sn", {"M_sn": 0.785, "M_lo": 0.5, "s_sn": 0.1, "l_sp": 0.1, "g_n": 9.8}, 0.7 / 0.98),
    ("m_sb", {"M_sb": 0.785, "M_lo": 0.5, "s_sn": 0.1, "l_sp": 0.1, "g_n": 9.8}, 0.7 / 0.98),
    # what two fingers give is not read off a scale
    ("m_sn", {"M_sn": 0.785, "M_lo": 1.0, "s_sn": 0.1, "l_sp": 0.1, "g_n": 9.8}, 0.0),
    ("m_sb", {"M_sb": 0.785, "M_lo": 1.0, "s_sn": 0.1, "l_sp": 0.1, "g_n": 9.8}, 0.0),
    ("m_sn", {"M_sn": 0.98, "M_lo": 0.98, "s_sn": 0.07, "l_sp": 0.1, "g_n": 9.8}, 1.0),
    ("m_sb", {"M_sb": 0.98, "M_lo": 0.98, "s_sn": 0.07, "l_sp": 0.1, "g_n": 9.8}, 1.0),
    ("l_do", {"M_o": 0.035, "c_ch": 0.02}, 0.055),
    ("l_dg", {"M_g": 0.035, "c_ch": 0.02}, 0.055),
    # points of half of 8 and half of 12 over the tangent of 60 degrees: 2.309401 and 3.464102
    ("l_dk", {"T_sk": 0.04, "D_k": 0.008, "alpha_g": 2 * pi / 3, "e_g": 0.001, "b_gd": 0.015, "c_ch": 0.02}, 0.078309401),
    ("l_dk", {"T": 0.04, "D_k": 0.008, "alpha_g": 2 * pi / 3, "e_g": 0.001, "b_gd": 0.015, "c_ch": 0.02}, 0.078309401),
    ("l_dk", {"T_wo": 0.04, "D_k": 0.008, "alpha_g": 2 * pi / 3, "e_g": 0.001, "b_gd": 0.015, "c_ch": 0.02}, 0.078309401),
    ("l_db", {"M_bu": 0.03, "c_ch": 0.02}, 0.05),
    ("l_db", {"T_wo": 0.04, "K_wo": 0.012, "alpha_o": 2 * pi / 3, "e_o": 0.001, "b_gd": 0.015, "c_ch": 0.02}, 0.079464102),
    ("l_ds", {"T_sc": 0.07, "b_gd": 0.015, "c_ch": 0.02}, 0.105),
    *(
        (short, {length: below, wide: drill, "c_ch": 0.02, **flutes}, answer)
        for short, length, wide, flutes in (
            ("n_do", "l_do", "D_o", LARGE), ("n_dg", "l_dg", "D_g", GUIDE), ("n_dk", "l_dk", "D_k", GUIDE),
            ("n_db", "l_db", "B_bu", LARGE), ("n_db", "l_db", "K_wo", LARGE), ("n_ds", "l_ds", "D_sc", GUIDE),
        )
        for drill, below, answer in (
            (0.01, 0.099, 0.0), (0.01, 0.101, 1.0), (0.02, 0.169, 0.0), (0.02, 0.171, 1.0), (0.02, 0.4, 1.0)
        )
    ),
    ("D_tu", {"D_g": 0.008, "c_tu": 0.002}, 0.006),
    ("L_tu", {"T": 0.05, "c_tl": 0.1}, 0.15),
    ("D_tu", {"D_sc": 0.008, "c_tu": 0.002}, 0.006),
    ("L_tu", {"T_sc": 0.05, "c_tl": 0.1}, 0.15),
    *(
        ("n_br", {wide: diameter, "D_pc": 0.012}, answer)
        for wide in ("D_o", "B_bu", "K_wo")
        for diameter, answer in ((0.01, 0.0), (0.014, 1.0), (0.03, 1.0))
    ),
    # from 8 W on up to 17 W, more than twice as much: there is one, and that is all that is asked
    ("n_tw", {"P_tl": 7.2, "P_tc": 17.9}, 1.0),
    # 37 mm is close to 40 mm; 73 mm is close to 80 mm, but no tool heats both ends
    ("n_cl", {"L_end": 0.040, "L_both": 0.080, "L_k": 0.037, "x_cl": 0.1, "n_tw": 0.0}, 1.0),
    ("n_cl", {"L_end": 0.040, "L_both": 0.080, "L_k": 0.073, "x_cl": 0.1, "n_tw": 0.0}, 0.0),
    # A mark is 1 at the most, even for a reading more than twice as far: 310 on a scale to 150, 420 past bars of 205
    ("n_se", {"q_tr": 150.0, "m_st": 310.0}, 1.0),
    ("n_sb", {"W_tr": 490.3325, "g_n": 9.80665, "m_lv": 5.0, "m_st": 420.0, "n_se": 0.0}, 1.0),
    # the bars bend at 4 x 50 + 5 = 205 kg; 200 kg is less, though more than 4 x 50 - 5
    ("n_sb", {"W_tr": 490.3325, "g_n": 9.80665, "m_lv": 5.0, "m_st": 200.0, "n_se": 0.0}, 0.0),
    # the scale ends first, so the rod does not stretch
    ("n_sr", {"n_se": 1.0, "n_sb": 0.0}, 0.0),
]  # fmt: skip


def tables() -> Iterator[Case]:
    """The hand-worked cases of all subjects."""
    for path in sorted((HOUSE / "tests").glob("test_*.py")):
        if "\nBY_HAND" in path.read_text(encoding="utf-8"):
            for *_, symbol, values, answer in importlib.import_module(path.stem).BY_HAND:
                yield symbol, values, answer


@pytest.fixture(scope="module")
def worked() -> Mapping[Formula, list[tuple[Mapping[str, float], float]]]:
    """The cases of each formula."""
    cases: defaultdict[Formula, list[tuple[Mapping[str, float], float]]] = defaultdict(list)
    for symbol, values, answer in tables():
        for one in FORMULARY.formulas:
            if one.symbol == symbol and {*one.parameters} == {*values} and answers(one, values, answer):
                cases[one].append((values, answer))
    return cases


def answers(one: Formula, values: Mapping[str, float], answer: float) -> bool:
    """Whether a formula has this answer, to the figures that a hand writes down."""
    try:
        return isclose(one.call(values), answer, rel_tol=1e-4, abs_tol=1e-14)
    except (ArithmeticError, ValueError, TypeError):
        return False


def changed(one: Kind) -> Iterator[tuple[str, Kind]]:
    """What may be changed in a formula or a rule, each change alone, and it with the change."""
    text = textwrap.dedent(inspect.getsource(one.function))

    def spots_of(tree: ast.Module) -> list[Callable[[], str]]:
        (function,) = tree.body
        assert isinstance(function, ast.FunctionDef)
        return [turn for statement in function.body for _, turn in spots(statement, function)]

    for number in range(len(spots_of(ast.parse(text)))):
        tree = ast.parse(text)
        what = spots_of(tree)[number]()
        module = compile(ast.fix_missing_locations(tree), one.where, "exec", dont_inherit=True)
        (code,) = (
            part for part in module.co_consts if isinstance(part, CodeType) and part.co_name == one.function.__name__
        )
        yield f"{one.function.__name__}: {what}", replace(one, function=FunctionType(code, {}))


def closes(one: Formula) -> bool:
    """Whether a formula's units do."""
    try:
        prove(one)
    except UnitFault:
        return False
    return True


def test_a_case_stands_for_each(worked: Mapping[Formula, list[tuple[Mapping[str, float], float]]]) -> None:
    """Each of the tables here; those of a subject of its own are held there."""
    for symbol, values, answer in BY_HAND:
        assert [one for one in worked if one.symbol == symbol and (values, answer) in worked[one]], (symbol, values)
    assert not [one.where for one in FORMULARY.formulas if one not in worked]


def test_the_cases_notice_every_change_in_one_place(
    worked: Mapping[Formula, list[tuple[Mapping[str, float], float]]],
) -> None:
    made, alike = 0, []
    for one, cases in worked.items():
        for what, other in changed(one):
            made += 1
            if all(answers(other, *case) for case in cases) and closes(other):
                alike.append(what)
    assert made > 1500
    assert not alike, "\n".join(alike)
