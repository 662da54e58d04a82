"""A bolt through a deck: its layers, where to stop the plug drill, the epoxy in the plugs, and how long the bolt is.

A cored deck is two skins and what lies between; a solid one is given by its thickness alone.
"""

from __future__ import annotations

from math import pi

from ..formula import formula, rule
from ..units import kg, kg_per_m2, m, m3, one
from .define import drill, ruled
from .mix import STRONG_FILLERS

ruled("o_sk", "thickness of the outer skin")
ruled("c_sk", "thickness of the core")
ruled("i_sk", "thickness of the inner skin")
ruled("T_sk", "thickness of the deck where the bolt goes through")
drill("p_sk", "pilot hole")
ruled("M_sk", "mark on the plug drill, from its tip", "down")
ruled("b_sk", "thickness of the fitting's base at the bolt")
ruled("q_sk", "thickness of the backing plate that is fitted")
ruled("L_sk", "shortest bolt that will do, under its head", "up")


@formula("h_c", source="solid-geometry")
def plug_depth(o_sk: m, c_sk: m) -> m:
    """Down to the inner skin, which is left whole."""
    return o_sk + c_sk


@formula("T_sk", source="solid-geometry")
def cored_deck(h_c: m, i_sk: m) -> m:
    """All three layers."""
    return h_c + i_sk


@formula("M_sk", source="solid-geometry")
def mark_on_the_plug_drill(h_c: m, e_o: m) -> m:
    """A spur runs ahead, through the pilot hole; a twist drill's point may only touch the inner skin."""
    return h_c + e_o


@formula("e_x", source="solid-geometry")
def point_comes_out_below(M_sk: m, T_sk: m) -> m:
    """Where the inner skin is thinner than the spur is long."""
    return max(M_sk, T_sk) - T_sk


@formula("D_l", source="solid-geometry")
def plug_to_fill(D_c: m) -> m:
    """The hole through skin and core."""
    return D_c


@formula("h_w", source="solid-geometry")
def plug_to_fill_up(h_c: m) -> m:
    """From the inner skin to the deck's face."""
    return h_c


@formula("m_w", source="common-practice")
def wet_out_of_the_plugs(n_h: one, D_c: m, h_c: m, w_h: kg_per_m2, n_l: one) -> kg:
    """The wall of each hole and its floor, as far up as one lift goes; the floor is shared out."""
    return n_h * (pi * D_c * h_c + pi / 4 * D_c**2) * w_h / n_l


@formula("L_sk", source="own-judgement")
def deck_bolt_length(b_sk: m, h_b: m, T_sk: m, q_sk: m, t_s: m, d: m, P: m) -> m:
    """Base, bed, deck, plate and washer, two nuts as high as the thread is wide, and two threads out of them."""
    return b_sk + h_b + T_sk + q_sk + t_s + 2 * d + 2 * P


@formula("L_sk", source="own-judgement")
def bolt_length_through_a_seated_plate(b_sk: m, h_b: m, T: m, t_m: m, h_rsp: m, t_s: m, d: m, P: m) -> m:
    """Base and its bed, wood, seat, plate and washer, two nuts, two threads out of them."""
    return b_sk + h_b + T + t_m + h_rsp + t_s + 2 * d + 2 * P


@rule(
    f"this filler is too weak for a plug that a bolt squeezes. {STRONG_FILLERS}",
    source="common-practice",
    limits=("x_f",),
)
def filler_suits_a_plug(k_u: one, V_c: m3) -> bool:
    """Asked only where a plug is filled."""
    return (V_c < 0) | (k_u >= 0.5)


@rule(
    "the countersink is wider than the plug and would cut into the skin: make it shallower, or the plug wider",
    source="solid-geometry",
    refuses=False,
)
def countersink_stays_in_the_plug(h_k: m, w_p: m, w_d: m) -> bool:
    """At 90 degrees it widens the hole all round by its depth; the hole may be beside the middle."""
    return h_k + w_d <= w_p * (1 + 1e-9)
