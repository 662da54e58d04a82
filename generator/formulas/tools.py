"""What to fetch before the work starts: drills that are long enough, the tube down the hole, what wets its wall.

A drill needs flutes as long as the hole, or the chips jam. How long those of a usual twist drill are is taken from two
straight lines below the lengths on suppliers' pages, so that a drill is called too short rather than long enough.
"""

from __future__ import annotations

from fractions import Fraction
from math import cos, floor, sin

from ..formula import formula
from ..units import Shown, m, one, rad
from .define import TENTH, count, number, ruled, sized

for role, which in (("o", "large"), ("g", "guide")):
    number(f"n_f{role}", f"depth that a usual drill of this kind bores, in diameters: {which} drill", TENTH)
    ruled(f"u_f{role}", f"depth that it bores, beside a part of its diameter: {which} drill")
    number(f"k_f{role}", f"that part of its diameter: {which} drill", TENTH)
ruled("c_ch", "room between chuck and work when the mark is reached")
ruled("b_gd", "thickness of the block that guides a drill")
ruled("l_do", "large drill, its length below the chuck, at least", "up")
ruled("l_dg", "guide drill, its length below the chuck, at least", "up")
ruled("l_dk", "drill for the bolt hole, its length below the chuck, at least", "up")
ruled("l_db", "drill for the bore, its length below the chuck, at least", "up")
ruled("l_ds", "drill for the pilot, its length below the chuck, at least", "up")
count("n_do", "large drills of long series needed")
count("n_dg", "guide drills of long series needed")
count("n_dk", "drills of long series needed for the bolt hole")
count("n_db", "drills of long series needed for the bore")
count("n_ds", "drills of long series needed for the pilot")
sized(
    "D_tu",
    "tube that reaches the bottom of the hole, outside, at most",
    Shown("mm", Fraction(1, 2), "down", trim=True),
    Shown("in", Fraction(1, 64), "down", fraction=True),
)
ruled("L_tu", "length of that tube, at least", "up")
ruled("c_tu", "play of a tube in the hole that it goes down")
ruled("c_tl", "tube that stands out of the hole")
ruled("D_pc", "widest hole that a folded pipe cleaner wets")
count("n_br", "round brushes needed, where the hole is too wide for a pipe cleaner")


# How long a drill must be: its mark, and what stands out of the wood


@formula("l_do", source="own-judgement")
def large_drill_below_the_chuck(M_o: m, c_ch: m) -> m:
    """To its mark, and the chuck clear of the work."""
    return M_o + c_ch


@formula("l_dg", source="own-judgement")
def guide_drill_below_the_chuck(M_g: m, c_ch: m) -> m:
    """To its mark, and the chuck clear of the work."""
    return M_g + c_ch


@formula("l_dk", source="own-judgement", beside=("L_sk",))
def bolt_drill_below_the_chuck(T_sk: m, D_k: m, alpha_g: rad, e_g: m, b_gd: m, c_ch: m) -> m:
    """Through wood and guide block, its point out behind, and the chuck clear of the block."""
    return T_sk + D_k * cos(alpha_g / 2) / (2 * sin(alpha_g / 2)) + e_g + b_gd + c_ch


@formula("l_dk", source="own-judgement", beside=("L_sk",))
def drill_through_the_wood_below_the_chuck(T: m, D_k: m, alpha_g: rad, e_g: m, b_gd: m, c_ch: m) -> m:
    """Through wood and guide block, its point out behind, and the chuck clear of the block."""
    return T + D_k * cos(alpha_g / 2) / (2 * sin(alpha_g / 2)) + e_g + b_gd + c_ch


@formula("l_dk", source="own-judgement", beside=("L_sk",))
def drill_through_the_plug_below_the_chuck(T_wo: m, D_k: m, alpha_g: rad, e_g: m, b_gd: m, c_ch: m) -> m:
    """Through plug and guide block, its point out behind, and the chuck clear of the block."""
    return T_wo + D_k * cos(alpha_g / 2) / (2 * sin(alpha_g / 2)) + e_g + b_gd + c_ch


@formula("l_db", source="own-judgement")
def bush_drill_below_the_chuck(M_bu: m, c_ch: m) -> m:
    """To its mark, and the chuck clear of the work."""
    return M_bu + c_ch


@formula("l_db", source="own-judgement")
def worn_hole_drill_below_the_chuck(T_wo: m, K_wo: m, alpha_o: rad, e_o: m, b_gd: m, c_ch: m) -> m:
    """Through wood and guide block, its point out behind, and the chuck clear of the block."""
    return T_wo + K_wo * cos(alpha_o / 2) / (2 * sin(alpha_o / 2)) + e_o + b_gd + c_ch


@formula("l_ds", source="own-judgement")
def pilot_drill_below_the_chuck(T_sc: m, b_gd: m, c_ch: m) -> m:
    """To its mark through the drill guide, and the chuck clear of that."""
    return T_sc + b_gd + c_ch


# Whether one of usual length will do: its flutes must be as long as what it stands in


@formula("n_do", source="own-judgement")
def large_drill_is_too_short(l_do: m, c_ch: m, n_fo: one, u_fo: m, k_fo: one, D_o: m) -> one:
    """The mark against the flutes."""
    return min(1, floor((l_do - c_ch) / min(n_fo * D_o, u_fo + k_fo * D_o)))


@formula("n_dg", source="own-judgement")
def guide_drill_is_too_short(l_dg: m, c_ch: m, n_fg: one, u_fg: m, k_fg: one, D_g: m) -> one:
    """The mark against the flutes."""
    return min(1, floor((l_dg - c_ch) / min(n_fg * D_g, u_fg + k_fg * D_g)))


@formula("n_dk", source="own-judgement")
def bolt_drill_is_too_short(l_dk: m, c_ch: m, n_fg: one, u_fg: m, k_fg: one, D_k: m) -> one:
    """Wood and block against the flutes."""
    return min(1, floor((l_dk - c_ch) / min(n_fg * D_k, u_fg + k_fg * D_k)))


@formula("n_db", source="own-judgement")
def bush_drill_is_too_short(l_db: m, c_ch: m, n_fo: one, u_fo: m, k_fo: one, B_bu: m) -> one:
    """The mark against the flutes."""
    return min(1, floor((l_db - c_ch) / min(n_fo * B_bu, u_fo + k_fo * B_bu)))


@formula("n_db", source="own-judgement")
def worn_hole_drill_is_too_short(l_db: m, c_ch: m, n_fo: one, u_fo: m, k_fo: one, K_wo: m) -> one:
    """Wood and block against the flutes."""
    return min(1, floor((l_db - c_ch) / min(n_fo * K_wo, u_fo + k_fo * K_wo)))


@formula("n_ds", source="own-judgement")
def pilot_drill_is_too_short(l_ds: m, c_ch: m, n_fg: one, u_fg: m, k_fg: one, D_sc: m) -> one:
    """Pilot and guide against the flutes."""
    return min(1, floor((l_ds - c_ch) / min(n_fg * D_sc, u_fg + k_fg * D_sc)))


# The tube, and what wets the wall


@formula("D_tu", source="own-judgement", beside=("L_o",))
def tube_down_the_guide_hole(D_g: m, c_tu: m) -> m:
    """It must pass the narrow part of the hole, and leave the air a way out."""
    return D_g - c_tu


@formula("L_tu", source="own-judgement", beside=("L_o",))
def tube_to_the_bottom(T: m, c_tl: m) -> m:
    """As long as the hole is deep, and what the syringe is held by."""
    return T + c_tl


@formula("D_tu", source="own-judgement")
def tube_down_the_pilot(D_sc: m, c_tu: m) -> m:
    """It must pass the pilot, and leave the air a way out."""
    return D_sc - c_tu


@formula("L_tu", source="own-judgement")
def tube_to_the_bottom_of_the_pilot(T_sc: m, c_tl: m) -> m:
    """As long as the pilot is deep, and what the syringe is held by."""
    return T_sc + c_tl


@formula("n_br", source="common-practice", beside=("L_o",))
def brush_for_the_oversized_hole(D_o: m, D_pc: m) -> one:
    """A pipe cleaner folded once fills a narrow hole; in a wide one it only draws streaks."""
    return min(1, floor(D_o / D_pc))


@formula("n_br", source="common-practice")
def brush_for_the_bush(B_bu: m, D_pc: m) -> one:
    """A pipe cleaner folded once fills a narrow hole; in a wide one it only draws streaks."""
    return min(1, floor(B_bu / D_pc))


@formula("n_br", source="common-practice")
def brush_for_the_worn_hole(K_wo: m, D_pc: m) -> one:
    """A pipe cleaner folded once fills a narrow hole; in a wide one it only draws streaks."""
    return min(1, floor(K_wo / D_pc))
