"""The fastener to buy and how hard its nut is drawn: overall length, the thread that it must have, torque to snug.

A length counts a nut and a second that locks it, each as high as the thread is wide, and two threads out of them. Wood
bears too little under a washer for a bolt to be stretched so far that its nut stays where it is. It is rounded up to a
step in which lengths are sold in every size. Of deck.py it takes the bolt through a flexible bed.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from ..formula import formula
from ..units import N, N_m, Shown, kg, m, m_per_s2, one
from .define import HUNDREDTH, TENTH, define, number, ruled, sized

sized(
    "s_by",
    "step between the lengths that bolts are sold in",
    Shown("mm", Fraction(1)),
    Shown("in", Fraction(1, 16), fraction=True),
    positive=True,
)
sized(
    "h_by",
    "length from which that step is twice as large",
    Shown("mm", Fraction(1)),
    Shown("in", Fraction(1, 16), fraction=True),
    positive=True,
)
ruled("s_ln", "step between the lengths that a bolt as long as this one is sold in")
ruled("L_by", "bolt to buy, its length under the head", "up")
ruled("L_tn", "thread that a bonded bolt needs, from its end", "up")
ruled("L_tp", "thread that a clamping bolt needs, from its end", "up")
ruled("L_us", "screw to use, its length under the head", "up")
ruled("L_um", "longest screw to use, its length under the head", "down")
ruled("L_cs", "screw to cast with, its length under the head, at least", "up")
ruled("h_jg", "packing and strip of the jig for a cast thread")
ruled("L_ss", "screw to set a bush with, its length under the head, at least", "up")
ruled("h_st", "thickness of the strip that a bush hangs from")
ruled("b_bl", "thickness of the block that holds a stud")
ruled("L_st", "shortest stud that will do, from end to end", "up")
number("K_sn", "torque over clamping force and thread diameter, thread waxed", HUNDREDTH)
define(
    "M_sn",
    "most torque that makes a nut snug",
    "N*m",
    Shown("N*m", TENTH, "down"),
    Shown("lbf*in", TENTH, "down"),
)
define(
    "M_sb",
    "most torque that makes the nut of a bonded fastener snug",
    "N*m",
    Shown("N*m", TENTH, "down"),
    Shown("lbf*in", TENTH, "down"),
)
define("s_sn", "step that a torque is told in", "N*m", Shown("N*m", TENTH), Shown("lbf*in", TENTH))
define("M_lo", "torque that two fingers give a nut", "N*m", Shown("N*m", TENTH), Shown("lbf*in", TENTH))
ruled("l_sp", "lever of a spanner, nut to where a spring scale is hooked")
for symbol, of in (("m_sn", "a nut"), ("m_sb", "the nut of a bonded fastener")):
    define(
        symbol,
        f"most that a spring scale on the spanner reads when it makes {of} snug",
        "kg",
        Shown("kg", TENTH, "down"),
        Shown("lb", TENTH, "down"),
    )


@formula("L_sk", source="own-judgement")
def bolt_length_through_a_bonded_hole(b_sk: m, t_m: m, L_o: m, L_g: m, q_sk: m, t_s: m, d: m, P: m) -> m:
    """Base and its bed, both depths of the hole, plate and washer, two nuts, two threads out of them."""
    return b_sk + t_m + L_o + L_g + q_sk + t_s + 2 * d + 2 * P


@formula("L_sk", source="own-judgement")
def bolt_length_through_a_seat(b_sk: m, t_e: m, T_sk: m, q_sk: m, t_s: m, d: m, P: m) -> m:
    """Base, the seat where it is thickest, wood, plate and washer, two nuts, two threads out of them."""
    return b_sk + t_e + T_sk + q_sk + t_s + 2 * d + 2 * P


@formula("L_sk", source="own-judgement")
def bolt_length_through_a_released_seat(b_sk: m, h_b: m, t_e: m, T: m, q_sk: m, t_s: m, d: m, P: m) -> m:
    """Base, flexible bed, the seat where it is thickest, wood, plate and washer, two nuts, two threads out of them."""
    return b_sk + h_b + t_e + T + q_sk + t_s + 2 * d + 2 * P


@formula("L_sk", source="own-judgement")
def bolt_length_through_a_mended_hole(b_sk: m, h_b: m, T_wo: m, q_sk: m, t_s: m, d: m, P: m) -> m:
    """Base and its flexible bed, wood, plate and washer, two nuts, two threads out of them."""
    return b_sk + h_b + T_wo + q_sk + t_s + 2 * d + 2 * P


@formula("s_ln", source="from-memory")
def step_of_sold_lengths(s_by: m, L_sk: m, h_by: m) -> m:
    """Long bolts come in steps twice as large."""
    return s_by * (1 + min(1, floor(L_sk / h_by)))


@formula("L_by", source="from-memory")
def bolt_to_buy(L_sk: m, s_ln: m) -> m:
    """The next longer in steps that every size is sold in."""
    return ceil(L_sk / s_ln) * s_ln


@formula("L_tn", source="solid-geometry")
def thread_of_a_bonded_bolt(L_by: m, L_sk: m, L_o: m, L_g: m, q_sk: m, t_s: m, d: m, P: m) -> m:
    """All of it that is in the wood or behind: a plain shank in the hole would be held by nothing."""
    return L_by - L_sk + L_o + L_g + q_sk + t_s + 2 * d + 2 * P


@formula("L_tp", source="solid-geometry")
def thread_of_a_clamping_bolt(L_by: m, L_sk: m, q_sk: m, t_s: m, d: m, P: m) -> m:
    """From its end to the wood's far face: a nut that meets the plain shank first never comes tight."""
    return L_by - L_sk + q_sk + t_s + 2 * d + 2 * P


@formula("L_tp", source="solid-geometry")
def thread_of_a_bolt_through_a_plate(L_by: m, L_sk: m, h_rsp: m, t_s: m, d: m, P: m) -> m:
    """From its end to the plate's face on the wood's side."""
    return L_by - L_sk + h_rsp + t_s + 2 * d + 2 * P


@formula("L_st", source="own-judgement")
def stud_from_end_to_end(L_k: m, t_m: m, b_sk: m, b_bl: m, d: m, P: m) -> m:
    """In the wood, then bed, base, the block that holds it, two nuts, two threads out of them."""
    return L_k + t_m + b_sk + b_bl + 2 * d + 2 * P


# Screws. They stand in a hole that is made to fit, so they may not be much longer either.


@formula("L_us", source="solid-geometry")
def screw_through_its_base(b_sk: m, g_y: m, l_sc: m, L_sc: m, d_sc: m) -> m:
    """Base, packing, plain shank, thread, and a tapered tip as long as the screw is thick."""
    return b_sk + g_y + l_sc + L_sc + d_sc


@formula("L_us", source="solid-geometry")
def shortest_screw_in_a_cast_thread(b_sk: m, w_ct: m) -> m:
    """Base, chamfer, and the thread that it must reach through."""
    return b_sk + w_ct


@formula("L_um", source="solid-geometry")
def longest_screw_in_a_cast_thread(b_sk: m, e_ct: m) -> m:
    """Base, and down to where the cast thread is no longer whole."""
    return b_sk + e_ct


@formula("L_us", source="solid-geometry")
def shortest_screw_in_a_bush(b_sk: m, s_bu: m, d: m) -> m:
    """Base, the bush's stand below the surface, and a thread diameter in it."""
    return b_sk + s_bu + d


@formula("L_um", source="solid-geometry")
def longest_screw_in_a_bush(b_sk: m, s_bu: m, L_bu: m, h_pg: m) -> m:
    """As far as the plug; one that pushes on it pushes the bush out of its bed."""
    return b_sk + s_bu + L_bu - h_pg


@formula("L_cs", source="own-judgement")
def screw_to_cast_with(h_jg: m, l_ct: m, d: m, P: m) -> m:
    """In the hole, then packing and strip, the nut on the strip, two threads out of it."""
    return l_ct + h_jg + d + 2 * P


@formula("L_ss", source="own-judgement")
def screw_to_set_a_bush_with(L_bu: m, s_bu: m, h_st: m, d: m, P: m) -> m:
    """Through bush, ring and strip, the nut on the strip, two threads out of it."""
    return L_bu + s_bu + h_st + d + 2 * P


@formula("M_sn", source="nut-factor")
def torque_to_snug(K_sn: one, F_p: N, d: m) -> N_m:
    """Clamps as hard as the wood under the washer may be pressed, and eases as it gives; dry, less."""
    return K_sn * F_p * d


@formula("M_sb", source="nut-factor")
def torque_to_snug_on_a_bond(M_sn: N_m, K_sn: one, F_l: N, d: m) -> N_m:
    """What a nut clamps stands on the bond for good, so it is no more than the bond's own lasting load."""
    return min(M_sn, K_sn * F_l * d)


# The scale goes by the torque as it is told, down to the shop's step, so that the two are one. It reads nothing where
# two fingers give as much: nobody can set so little with a spanner, whose own weight turns the nut.


@formula("m_sn", source="mechanics")
def pull_that_makes_snug(M_sn: N_m, M_lo: N_m, s_sn: N_m, l_sp: m, g_n: m_per_s2) -> kg:
    """Square to the spanner: whoever has no torque wrench reads the same from a scale."""
    return min(1, floor(M_sn / M_lo)) * floor(M_sn / s_sn * (1 + 1e-9)) * s_sn / (l_sp * g_n)


@formula("m_sb", source="mechanics")
def pull_that_makes_snug_on_a_bond(M_sb: N_m, M_lo: N_m, s_sn: N_m, l_sp: m, g_n: m_per_s2) -> kg:
    """Square to the spanner: whoever has no torque wrench reads the same from a scale."""
    return min(1, floor(M_sb / M_lo)) * floor(M_sb / s_sn * (1 + 1e-9)) * s_sn / (l_sp * g_n)
