"""A thread cast in epoxy round a waxed screw: how long, how deep a hole, how much to put in, when to turn it loose.

The hole is straight, without a guide hole in the wood. The jig over it centres the screw, so the drill that fits the
thread bores the jig.
"""

from __future__ import annotations

from math import ceil, pi, sin

from ..formula import formula, rule
from ..units import kg, kg_per_m2, m, m2, m3, one, rad
from .define import HUNDREDTH, PAD_IN, PAD_MM, number, ruled, sized, surface, volume

number("k_ct", "length of the cast thread in thread diameters", HUNDREDTH, positive=True)
ruled("L_ct", "length of the cast thread", "up")
sized("h_ct", "chamfer at the mouth of the cast thread", PAD_MM, PAD_IN)
sized("c_ct", "room under the tip of the screw", PAD_MM, PAD_IN)
ruled("s_us", "step between the lengths that machine screws are sold in")
ruled("w_ct", "least that a screw in use goes into the wood", "up")
ruled("l_ct", "screw from the face of the wood to its tip, while its thread is cast", "down")
ruled("e_ct", "deepest that a screw in use may go into the wood", "down")
ruled("T_ct", "least thickness of the wood for a cast thread", "up")
volume("V_ct", "epoxy under the tip of the screw")
volume("H_ct", "straight hole, empty")
volume("E_ct", "thickened epoxy to put into one hole for a cast thread")
ruled("g_ct", "distance from the face of the wood down to the epoxy, before the screw goes in", "down")
surface("A_ct", "wood in one straight hole to wet out")


@formula("L_ct", source="common-practice")
def cast_length(k_ct: one, d: m) -> m:
    """Epoxy is far weaker than steel, so twice the thread in a nut, and more, from below the chamfer to the tip."""
    return k_ct * d


@formula("L_t", source="solid-geometry")
def straight_depth_wanted(w_ct: m, s_us: m, P: m, c_ct: m, s_d: m) -> m:
    """Chamfer, thread and play, a pitch that the screw's own end does not cast whole, room under it, in whole steps."""
    return (ceil((w_ct + s_us) / s_d) + ceil((P + c_ct) / s_d)) * s_d


@formula("w_ct", source="solid-geometry")
def screw_through_the_cast_thread(h_ct: m, L_ct: m) -> m:
    """No thread is left in the chamfer."""
    return h_ct + L_ct


@formula("l_ct", source="solid-geometry")
def screw_in_the_hole(L_o: m, c_ct: m) -> m:
    """Down to the room under its tip. A longer screw would stand on the floor of its own thread afterwards."""
    return L_o - c_ct


@formula("e_ct", source="own-judgement")
def deepest_screw_in_use(l_ct: m, P: m) -> m:
    """A pitch short of the end of the cast: deeper there is no whole thread, then only its floor to jam on."""
    return l_ct - P


@formula("T_ct", source="common-practice")
def least_thickness_for_a_cast_thread(M_o: m, D_o: m) -> m:
    """As much wood under the drill's point as the hole is wide."""
    return M_o + D_o


@formula("V_ct", source="solid-geometry")
def pocket_under_the_tip(d_v: m, c_ct: m, D_o: m, h_o: m) -> m3:
    """What the ring does not count: the room under the screw, and the cone that a pointed drill leaves."""
    return pi / 4 * (d_v**2 * c_ct + D_o**2 * h_o / 3)


@formula("H_ct", source="solid-geometry")
def straight_hole_volume(D_o: m, L_o: m, h_o: m) -> m3:
    """A cylinder and the cone at its floor."""
    return pi / 4 * D_o**2 * (L_o + h_o / 3)


@formula("E_ct", source="own-judgement")
def epoxy_into_the_hole(H_ct: m3, V_r: m3, V_ct: m3) -> m3:
    """A fifth over what stands round the screw, to come up all round; never past midway from that to a full hole."""
    return min(1.2 * (V_r + V_ct), (V_r + V_ct + H_ct) / 2)


@formula("g_ct", source="solid-geometry")
def fill_mark(H_ct: m3, E_ct: m3, D_o: m) -> m:
    """What is left empty, as a length of the hole."""
    return (H_ct - E_ct) / (pi / 4 * D_o**2)


@formula("V_1", source="solid-geometry")
def volume_per_cast_fitting(n_h: one, E_ct: m3) -> m3:
    """What overflows counts too: it was mixed."""
    return n_h * E_ct


@formula("A_ct", source="solid-geometry")
def straight_wall_area(D_o: m, h_ct: m, L_ct: m, s_us: m, P: m, c_ct: m, alpha_o: rad) -> m2:
    """Wall, and a flat floor or a cone."""
    return pi * D_o * (h_ct + L_ct + s_us + P + c_ct) + pi / 4 * D_o**2 / sin(alpha_o / 2)


@formula("m_w", source="common-practice")
def wet_out_of_straight_holes(n_h: one, A_ct: m2, w_h: kg_per_m2) -> kg:
    """The screw is waxed and takes none."""
    return n_h * A_ct * w_h


@rule(
    "a screw that must come out needs a release agent: choose one for it",
    source="common-practice",
    limits=("E_ct", "E_bu"),
)
def screw_is_waxed(n_k: one) -> bool:
    """Without it the screw is bonded for good."""
    return n_k >= 1


@rule(
    "this release agent lies on flat faces and does not get into the roots of a thread: choose a wax",
    source="common-practice",
    limits=("E_ct", "E_bu"),
)
def release_goes_into_a_thread(k_th: one, n_k: one) -> bool:
    """Of none at all another rule tells."""
    return (k_th >= 1) | (n_k < 1)


@rule("a cast thread under 2 thread diameters is too short: take 2 or more", source="common-practice", limits=("L_ct",))
def cast_thread_is_long_enough(L_ct: m, d: m) -> bool:
    """Steel into steel needs one. Asked of the length, so that it holds for one that is given itself too."""
    return L_ct * (1 + 1e-9) >= 2 * d


@rule(
    "the screw must reach through the cast thread and stay off the floor of the hole: leave its length to the "
    "working, or give the gap below it",
    source="solid-geometry",
    limits=("l_ct",),
)
def screw_ends_in_the_hole(l_ct: m, L_ct: m, L_o: m) -> bool:
    """On the floor it has no epoxy under its tip, and short of the thread it casts too little of it."""
    return (l_ct * (1 + 1e-9) >= L_ct) & (l_ct < L_o)
