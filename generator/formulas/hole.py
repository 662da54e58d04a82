"""The stepped hole: two stock drills, two depths, and the marks to set on the drills."""

from __future__ import annotations

from math import cos, pi, sin

from ..formula import formula, lookup, rule
from ..units import Shown, m, one, rad
from .define import HUNDREDTH, TENTH, THOUSANDTH, angle, drill, number, ruled, share, sized

ruled("s_o", "step from guide hole to oversized hole")
drill("s_t", "furthest a stock drill may be from the step wanted")
drill("s_d", "depth step of the shop")
drill("D_g", "guide hole")
drill("D_t", "oversized hole wanted")
drill("D_o", "oversized hole")
sized("t_b", "bond line: epoxy between thread and wood", Shown("mm", TENTH), Shown("in", THOUSANDTH))
ruled("a_m", "least distance from the axis to an edge of the wood", "up")
ruled("a_n", "least distance from the axis to an end of the wood", "up")
ruled("T", "hole depth")
number("f_o", "oversized depth as a part of the hole depth", HUNDREDTH)
sized("L_t", "oversized depth wanted", Shown("mm", TENTH), Shown("in", HUNDREDTH))
ruled("L_o", "oversized depth")
ruled("L_g", "guide-hole depth beyond the oversized hole")
angle("alpha_o", "point angle of the large drill")
angle("alpha_g", "point angle of the guide drill")
ruled("e_o", "spur of the large drill")
ruled("e_ox", "longest spur of the large drill that the hole has room for", "down")
ruled("e_g", "spur of the guide drill")
sized("h_o", "height of the large drill's cone", Shown("mm", TENTH), Shown("in", HUNDREDTH))
sized("h_g", "height of the guide drill's cone", Shown("mm", TENTH), Shown("in", HUNDREDTH))
ruled("M_o", "mark on the large drill, from its tip")
ruled("e_x", "point of the large drill that stands out behind the wood", "up")
ruled("M_g", "mark on the guide drill, from its tip", "up")
ruled("c_e", "gap left under the end of the fastener")
share("x_bd", "most moisture of the wood that epoxy is bonded to")
share("x_ld", "most moisture of the wood that the loads hold for")

lookup(
    "D_g",
    "at least",
    "d",
    stock="guide_drills",
    source="common-practice",
    meaning="The drill that fits the thread: the smallest in the set that is not under its diameter.",
)


@formula("D_t", source="common-practice")
def oversized_hole_wanted(D_g: m, s_o: m) -> m:
    """The guide hole plus the shop's step."""
    return D_g + s_o


lookup(
    "D_o",
    "nearest",
    "D_t",
    stock="large_drills",
    within="s_t",
    source="common-practice",
    meaning="The nearest drill in the set; of two equally near, the larger.",
)


@formula("a_m", source="common-practice")
def least_edge_distance(d: m) -> m:
    """Four thread diameters; nearer, wood splits before the bond fails. More where the load pulls towards the edge."""
    return 4 * d


@formula("a_n", source="lvl-handbook")
def least_end_distance(d: m) -> m:
    """Ten diameters, as for screws that pull along their axis; towards its end wood splits soonest."""
    return 10 * d


@formula("t_b", source="solid-geometry")
def bond_line(D_o: m, d: m) -> m:
    """Epoxy between the thread's crests and the wood, fastener centred."""
    return (D_o - d) / 2


@formula("L_t", source="common-practice")
def oversized_depth_wanted(f_o: one, T: m) -> m:
    """Two thirds to three quarters of the hole."""
    return f_o * T


lookup(
    "L_o",
    "nearest step",
    "L_t",
    step="s_d",
    source="common-practice",
    meaning="The nearest depth that the shop's rule shows.",
)


@formula("L_g", source="solid-geometry")
def guide_depth(T: m, L_o: m) -> m:
    """What is left of the hole at the guide drill's size."""
    return T - L_o


@formula("h_o", source="solid-geometry")
def large_drill_cone(D_o: m, alpha_o: rad) -> m:
    """Tip to full diameter; a flat-bottomed drill counts as 180 degrees."""
    return D_o * cos(alpha_o / 2) / (2 * sin(alpha_o / 2))


@formula("h_g", source="solid-geometry")
def guide_drill_cone(D_g: m, alpha_g: rad) -> m:
    """Tip to full diameter; a flat-bottomed drill counts as 180 degrees."""
    return D_g * cos(alpha_g / 2) / (2 * sin(alpha_g / 2))


@formula("M_o", source="solid-geometry")
def mark_on_large_drill(L_o: m, h_o: m, e_o: m) -> m:
    """Full-diameter depth plus the cone or spur that goes ahead of it."""
    return L_o + h_o + e_o


@formula("e_ox", source="solid-geometry")
def longest_spur_of_the_large_drill(T: m, L_o: m, h_o: m) -> m:
    """It ends where the guide hole does."""
    return T - L_o - h_o


@formula("e_x", source="solid-geometry")
def point_comes_out_behind(M_o: m, T: m) -> m:
    """Of a through hole, as deep as the wood is thick: in thin wood the point is out before the bore is deep."""
    return max(M_o, T) - T


@formula("M_g", source="solid-geometry")
def mark_on_guide_drill(T: m, h_g: m, e_g: m) -> m:
    """Full-diameter depth plus the cone or spur that goes ahead of it."""
    return T + h_g + e_g


@rule(
    "a thread takes up less room than its nominal diameter, {d}: take a smaller diameter for the room that it takes up",
    source="solid-geometry",
    limits=("d_v",),
)
def thread_is_inside_its_diameter(d_v: m, d: m) -> bool:
    """Otherwise voids would come out negative."""
    return d_v <= d


@rule(
    "a drill's point angle lies above 0 and reaches 180 deg for a flat floor: correct that of the large drill",
    source="solid-geometry",
)
def large_point_angle(alpha_o: rad) -> bool:
    """Beyond it cone and spur mean nothing."""
    return (alpha_o > 0) & (alpha_o <= pi)


@rule(
    "a drill's point angle lies above 0 and reaches 180 deg for a flat floor: correct that of the guide drill",
    source="solid-geometry",
)
def guide_point_angle(alpha_g: rad) -> bool:
    """Beyond it cone and spur mean nothing."""
    return (alpha_g > 0) & (alpha_g <= pi)


@rule("the hole needs a depth: give more than 0", source="solid-geometry")
def hole_has_depth(T: m) -> bool:
    """A hole of no depth holds nothing."""
    return T > 0


@rule(
    "the guide hole must not be smaller than the thread: take a guide hole of {d} or more",
    source="solid-geometry",
    limits=("D_g",),
)
def guide_passes_thread(D_g: m, d: m) -> bool:
    """The fastener must go in without cutting or jamming."""
    return D_g >= d


@rule(
    "the oversized hole must be larger than the guide hole, {D_g}: take a larger one, or a smaller guide hole",
    source="solid-geometry",
)
def oversized_is_larger(D_o: m, D_g: m) -> bool:
    """Otherwise there is no step and no ring of epoxy."""
    return D_o > D_g


@rule(
    "the oversized hole must stop short of the hole's end, at {T}: take less oversized depth, or a deeper hole",
    source="solid-geometry",
    limits=("L_o",),
)
def guide_hole_is_left(L_o: m, T: m) -> bool:
    """The guide hole centres the fastener; some of it must be left."""
    return L_o < T


@rule("the oversized hole needs a depth: give more than 0", source="solid-geometry")
def oversized_has_depth(L_o: m) -> bool:
    """A hole of no depth holds nothing."""
    return L_o > 0


@rule(
    "the fastener must reach into the guide hole: leave a smaller gap under its end than {c_e}, or take a deeper hole",
    source="solid-geometry",
)
def fastener_reaches_guide_hole(c_e: m, L_g: m) -> bool:
    """Otherwise nothing centres its end."""
    return c_e < L_g


@rule(
    "the point of the large drill goes deeper than the hole, and breaks out behind or leaves a pit: take a shorter "
    "point, or file the spur down",
    source="solid-geometry",
    refuses=False,
)
def large_point_stays_inside(M_o: m, T: m) -> bool:
    """Cone and spur should end inside the guide hole."""
    return M_o <= T
