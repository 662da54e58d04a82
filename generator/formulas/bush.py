"""A threaded bush of metal bonded into the wood: its bore, how deep, how much epoxy, and the ring round it.

The bush is the reader's own: measured, its outside diameter and its length go before the sizes worked here.
"""

from __future__ import annotations

from fractions import Fraction
from math import cos, pi, sin

from ..formula import formula, lookup, rule
from ..units import Shown, kg, kg_per_m2, m, m2, m3, one, rad
from .define import HUNDREDTH, PAD_IN, PAD_MM, TENTH, drill, number, ruled, sized, surface, volume
from .mix import STRONG_FILLERS

number("k_bu", "outside diameter of the bush in thread diameters", HUNDREDTH, positive=True)
number("j_bu", "length of the bush in thread diameters", HUNDREDTH, positive=True)
drill("D_bu", "outside diameter of the bush")
ruled("L_bu", "length of the bush")
drill("c_bu", "width of the bore beyond that of the bush")
drill("W_bu", "bore wanted for the bush")
drill("B_bu", "bore for the bush")
sized(
    "t_bu",
    "ring of epoxy round the bush",
    Shown("mm", TENTH, "down"),
    Shown("in", Fraction(1, 64), "down", fraction=True),
)
sized("u_bu", "least ring of epoxy round the bush", PAD_MM, PAD_IN)
sized("g_bu", "depth of the bore beyond the bush's length", PAD_MM, PAD_IN)
sized("s_bu", "depth of the bush's top below the surface", PAD_MM, PAD_IN)
ruled("h_pg", "most that the plug in the bush may be thick", "down")
ruled("T_bu", "depth of the bore for the bush")
sized("h_bu", "height of the cone at the floor of the bore", Shown("mm", TENTH), Shown("in", HUNDREDTH))
ruled("M_bu", "mark on the drill for the bush, from its tip")
ruled("Z_bu", "least thickness of the wood for a bush", "up")
volume("H_bu", "bore for the bush, empty")
volume("V_bu", "epoxy that stands round and under one bush")
volume("E_bu", "thickened epoxy to put into one bore")
ruled("p_bu", "distance from the face of the wood down to the epoxy, before the bush goes in", "down")
surface("A_bu", "wood in one bore and metal of its bush to wet out")


@formula("D_bu", source="own-judgement")
def usual_bush(k_bu: one, d: m) -> m:
    """To plan with until you have measured your own."""
    return k_bu * d


@formula("L_bu", source="own-judgement")
def usual_length(j_bu: one, d: m) -> m:
    """To plan with until you have measured your own."""
    return j_bu * d


@formula("h_pg", source="own-judgement")
def plug_in_the_far_end(d: m) -> m:
    """Half a thread diameter: enough of a cork to stay in."""
    return d / 2


@formula("W_bu", source="common-practice")
def bush_bore_wanted(D_bu: m, c_bu: m) -> m:
    """A ring of epoxy wide enough to fill without voids."""
    return D_bu + c_bu


lookup(
    "B_bu",
    "at least",
    "W_bu",
    stock="large_drills",
    source="common-practice",
    meaning="The smallest drill in the set that leaves the ring wanted.",
)


@formula("t_bu", source="solid-geometry")
def ring_round_the_bush(B_bu: m, D_bu: m) -> m:
    """The bush in the middle of its bore."""
    return (B_bu - D_bu) / 2


@formula("T_bu", source="common-practice")
def depth_of_the_bore(L_bu: m, g_bu: m) -> m:
    """The bush, its stand below the surface, and a bed of epoxy under it."""
    return L_bu + g_bu


@formula("h_bu", source="solid-geometry")
def cone_of_the_bore(B_bu: m, alpha_o: rad) -> m:
    """Tip to full diameter; a flat-bottomed drill counts as 180 degrees."""
    return B_bu * cos(alpha_o / 2) / (2 * sin(alpha_o / 2))


@formula("M_bu", source="solid-geometry")
def mark_on_the_drill_for_a_bush(T_bu: m, h_bu: m, e_o: m) -> m:
    """Full-diameter depth plus the cone or spur that goes ahead of it."""
    return T_bu + h_bu + e_o


@formula("Z_bu", source="common-practice")
def least_thickness_for_a_bush(M_bu: m, B_bu: m) -> m:
    """As much wood under the drill's point as the bore is wide."""
    return M_bu + B_bu


@formula("H_bu", source="solid-geometry")
def bore_volume(B_bu: m, T_bu: m, h_bu: m) -> m3:
    """A cylinder and the cone at its floor."""
    return pi / 4 * B_bu**2 * (T_bu + h_bu / 3)


@formula("V_bu", source="solid-geometry")
def epoxy_round_the_bush(H_bu: m3, D_bu: m, L_bu: m) -> m3:
    """The bush as a plain plug, its grooves not counted; the shallow room over it is counted full."""
    return H_bu - pi / 4 * D_bu**2 * L_bu


@formula("E_bu", source="own-judgement")
def epoxy_into_the_bore(H_bu: m3, V_bu: m3) -> m3:
    """A fifth over what stands round the bush, to come up all round; never past midway from that to a full bore."""
    return min(1.2 * V_bu, (V_bu + H_bu) / 2)


@formula("p_bu", source="solid-geometry")
def fill_mark_of_the_bore(H_bu: m3, E_bu: m3, B_bu: m) -> m:
    """What is left empty, as a length of the bore."""
    return (H_bu - E_bu) / (pi / 4 * B_bu**2)


@formula("V_1", source="solid-geometry")
def volume_per_bushed_fitting(n_h: one, E_bu: m3) -> m3:
    """What overflows counts too: it was mixed."""
    return n_h * E_bu


@formula("A_bu", source="solid-geometry")
def bore_and_bush_area(B_bu: m, T_bu: m, alpha_o: rad, D_bu: m, L_bu: m) -> m2:
    """Wall and floor of the bore, and the outside of the bush."""
    return pi * B_bu * T_bu + pi / 4 * B_bu**2 / sin(alpha_o / 2) + pi * D_bu * L_bu


@formula("m_w", source="common-practice")
def wet_out_of_bores(n_h: one, A_bu: m2, w_h: kg_per_m2) -> kg:
    """Metal drinks none, so this errs towards more."""
    return n_h * A_bu * w_h


# What is refused. A billionth forgives binary noise.


@rule(
    "the ring of epoxy is thinner than {u_bu}: take a larger bore or a smaller bush",
    source="common-practice",
    limits=("B_bu",),
)
def ring_is_wide_enough(t_bu: m, u_bu: m) -> bool:
    """A thin ring starves and cracks."""
    return t_bu * (1 + 1e-9) >= u_bu


@rule(
    "the bush has no wall left round its thread: give the outside diameter of your bush",
    source="solid-geometry",
    limits=("D_bu",),
)
def bush_has_a_wall(D_bu: m, d: m) -> bool:
    """The thread is inside it."""
    return D_bu > d


@rule(
    "the bush has no room for its plug and a thread diameter of screw, which a full thread needs: take a longer bush",
    source="common-practice",
    limits=("L_bu",),
)
def bush_is_long_enough(L_bu: m, d: m, h_pg: m) -> bool:
    """Less, and the thread strips before the screw breaks."""
    return L_bu * (1 + 1e-9) >= d + h_pg


@rule(
    "no room is left under the bush: bore deeper, or let it stand less than {g_bu} below the surface",
    source="solid-geometry",
    limits=("g_bu",),
)
def bush_has_a_bed(g_bu: m, s_bu: m) -> bool:
    """It would stand on the bare floor."""
    return g_bu > s_bu


@rule(
    f"this filler never goes round a loaded bush: it crushes. {STRONG_FILLERS}",
    source="common-practice",
    limits=("x_f",),
)
def filler_suits_a_bush(k_u: one, V_bu: m3) -> bool:
    """Asked only where a bush is bonded."""
    return (V_bu < 0) | (k_u >= 0.5)
