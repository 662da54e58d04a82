"""Rounding goes to the safe side, by one law over all symbols: what a symbol means says which side that is."""

from __future__ import annotations

import re

from generator import formulas  # noqa: F401  defines the symbols
from generator.formula import FORMULARY, Symbol

# The first of these that a meaning holds decides: what is enough is rounded up, what is allowed or relied on down.
LAW = (
    (
        r"^least\b|shortest|\bearliest|needed|needs|at least|asks for|wanted|must|that will do|to buy|(?<!longest screw )to use|to cut",
        "up",
    ),
    (r"strength|working load(?!.* at anchor)|mean load|counted|95 in 100|bears$", "down"),
    (
        r"\bmost\b|longest|thickest|deepest|widest gap|working time|open time|pot life|look again|lays|serves?\b|share a mix",
        "down",
    ),
    (r"wall of epoxy|ring of epoxy|nearest e|to the edge that|down to the epoxy", "down"),
    (r"to cut away|expansion|sliding|opening|to heat|height of|gap, packing|softens the epoxy|wall of the hole", "up"),
)
# Where the meaning does not say it, the kind does: more to mix, to wet out, to heat, to wait and to carry.
MORE = ("N", "N*m", "m**3", "m**2", "kg", "s", "J", "J/kg", "W", "W/m**3", "delta_degC", "dimensionless")
# Those that the words above put on the other side or on none, each with its reason.
OWN_WAY = {
    "M_g": ("up", "a guide hole that is a little deeper comes through"),
    "M_sc": ("up", "a hole that is too short for the plain shank splits the wood"),
    "M_sk": ("down", "its point may only touch the inner skin"),
    "D_wo": ("up", "what is taken for worn, so that the new bore reaches sound wood"),
    "V_px": ("down", "what goes into a syringe that must not overflow"),
    "V_mx": ("down", "what the syringes give is relied on"),
    "V_wx": ("down", "what the syringes give is relied on"),
    "L_kb": ("up", "bead to be laid"),
    "L_bt": ("up", "tape to be cut"),
    "L_bx": ("up", "tape to be cut"),
    "g_pk": ("down", "packers laid as told are never called too near"),
    "E_sc": ("down", "room: more than it has nowhere to go"),
    "V_bw": ("down", "what shares a dab: less of it asks for a weaker tool"),
    "I_sc": ("down", "what is more than the room comes out on the wood"),
    "t_y2": ("down", "the latest moment to cut, before the mix is too hard"),
    "t_wu": ("down", "the latest moment to wet out, so that time is left to fill"),
    "t_d": ("down", "the latest moment without sanding"),
    "T_s": ("up", "the surface must be warmer than this"),
    "T_end": ("down", "heat that is relied on to soften the epoxy"),
    "T_k": ("down", "it stays as far below what the wood bears as is asked"),
    "m_1": ("down", "a boat that is heavier has more load than the one named"),
    "v_hull": ("down", "the speed from which the drag climbs, warned of sooner"),
    "v_c": ("down", "slower cure, longer wait"),
    "c_tr": ("down", "thinner bars are reckoned higher"),
    "w_tr": ("down", "a wide block would flatter the joint"),
    "l_tr": ("up", "wood to break out stays long enough"),
    "l_bl": ("up", "wood to break out stays long enough"),
    "R_c": ("down", "a rounder crown has the wider gap"),
    "t_e": ("up", "bed to be cast"),
    "t_eo": ("down", "a dam above the underside locks the fitting"),
    "l_w": ("down", "below it the bolt stays dry, so that a leak shows"),
    "b_k": ("down", "a bead that is relied on"),
    "L_k": ("down", "what is bonded is relied on"),
    "L_h": ("down", "how far the heat reaches is relied on"),
    "L_x": ("down", "how deep the epoxy softens is relied on"),
    "t_ba": ("down", "from then on the base may be hot"),
    "t_fb": ("down", "a faster fall asks for the next dab sooner, and for a stronger tool at the least"),
    "t_fc": ("down", "a faster fall asks for the next dab sooner, and for a stronger tool at the least"),
    "P_hx": ("down", "a stronger tool may have the head near its limit in one dab"),
    "t_ls": ("down", "past it the first cup is setting"),
    "s_wb": ("down", "room between fasteners is relied on"),
    "s_ba": ("down", "room between fasteners is relied on"),
    "t_pt": ("down", "a limit of the plan, never shown as more than it is"),
    "R_tg": ("down", "what the joints held"),
    "n_sx": ("up", "a whole number as it is"),
    "s_tr": ("up", "wood to break out stays long enough"),
    "m_ul": ("up", "a reading that must not surprise"),
    "m_st": ("down", "less on bars that bend"),
    "t_dif": ("up", "waiting longer is safe"),
    "T_sc": ("up", "a pilot that is too short splits the wood"),
    "e_x": ("up", "a point that comes further out than told hurts"),
    "L_ct": ("up", "thread to be cast"),
    "l_ct": ("down", "a screw that stands too deep bottoms when it is used"),
}


def said(symbol: Symbol) -> str:
    """Which way the words or the kind of a symbol alone have it rounded."""
    return next(
        (way for words, way in LAW if re.search(words, symbol.meaning)), "up" if symbol.unit in MORE else "nearest"
    )


# What is worked and yet told to the nearest, each group with its reason.
EXACT = {
    "a size of drill that is sold, or the one that such a size is chosen for": "D_hw D_hd D_m D_n D_g D_t D_o B_wo K_wo"
    " y_wo Y_wo D_l D_j D_k D_u D_c d_sc P_sc D_sc S_sc D_bu W_bu B_bu dD_n",
    "to be met, with a fault either way": "t_b L_t L_o L_g h_o h_g M_o h_c h_l h_w L_bu T_bu h_bu M_bu h_b h_rsp r_rs y_rs"
    " h_rs p_b T_sk s_ln F_rd",
    "a proportion, wrong either way": "n_v n_w q_f x_f m_r m_h m_rc m_hc m_rl m_hl v_r v_h v_rc v_hc v_rl v_hl n_o rho_m rho_p rho_wood",
    "a step of the working that nobody sets or relies on": "H d_2 D_1 d_3 A_s d_v t_m t_cb e_v e_h E_2 k_T k_2 k_A k_D k_c k_f"
    " dT_a gamma_d dT_d T_dew dT_e r_c r_m s_r c_r k_pl q_h L_C f_b chi_e k_L f_h0 k_90 f_h d_n d_r d_y chi_y chi_s N_y q_n A_p"
    " q_lv s_e s_m s_mo s_pd b_o k_wood k_g c_0 c_wood A_k D_far D_w g_h q_x q_wall m_k",
}  # fmt: skip
# What is given stands as it was given, but for these, which are told as what is worked from them would be.
GIVEN = (
    "D_wo a_wo n_h N V_s m_min s_c V_o t_c0 t_d0 t_h0 t_l0 t_f0 h_1 d_1 m_c t_x m_pl m_sa t_pt t_1 t_bn t_bf t_bl t_bp m_B"
    " A_air A_sea F_30 m_P h_s b_s a_e F_n a_z t_tr q_tr c_tr R_tg n_k n_kw x_o v_c h_m t_rb n_rs n_sx n_st P_hm L_sc"
)


def side(symbol: Symbol) -> str:
    """Which way a symbol is to be rounded."""
    if symbol.marks:  # whole numbers as they are
        return "nearest"
    if symbol.name in GIVEN.split() if not FORMULARY.yielding(symbol.name) else symbol.name not in TO_THE_NEAREST:
        return OWN_WAY[symbol.name][0] if symbol.name in OWN_WAY else said(symbol)
    return "nearest"


TO_THE_NEAREST = " ".join(EXACT.values()).split()


def test_each_symbol_is_rounded_to_the_safe_side_in_either_shop() -> None:
    wrong = {
        name: (symbol.metric.direction, symbol.inch.direction, side(symbol), symbol.meaning)
        for name, symbol in FORMULARY.symbols.items()
        if {symbol.metric.direction, symbol.inch.direction} != {side(symbol)}
    }
    assert not wrong


def test_no_exception_is_left_that_the_law_makes_itself() -> None:
    for name, (way, _) in OWN_WAY.items():
        assert said(FORMULARY.symbols[name]) != way, name
    for name in TO_THE_NEAREST:
        assert FORMULARY.yielding(name), name
    assert len(TO_THE_NEAREST) == len({*TO_THE_NEAREST})
    for name in GIVEN.split():
        assert not FORMULARY.yielding(name), name


# Kinds that hold, cost or last: to the nearest, one in two of them would stand on the wrong side.
ONE_WAY = ("N", "N*m", "J", "J/kg", "W", "W/m**3")
NEAREST = {
    "F_rd": "a reading off the scale, as it was read",
    "P_k": "a tool's own power, as it is stamped",
    "s_sn": "a shop's own step",
    "M_lo": "a bound that decides and is not set on anything",
}


def test_loads_and_heat_are_never_rounded_to_the_nearest() -> None:
    for name, symbol in FORMULARY.symbols.items():
        if symbol.unit in ONE_WAY and name not in NEAREST:
            assert "nearest" not in (symbol.metric.direction, symbol.inch.direction), name
