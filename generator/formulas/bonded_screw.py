"""A coach screw or a wood screw in a pilot hole that epoxy has wetted: drills, epoxy, and what the thread holds.

The thread is cut in the wood. So what it holds is reckoned as that of the plain screw: epoxy is not counted.
"""

from __future__ import annotations

from math import ceil, cos, pi, sin

from ..formula import formula, lookup, mm, newton, rule
from ..units import N, Shown, kg, kg_per_m2, kg_per_m3, m, m2, m3, one, rad
from .define import HUNDREDTH, PAD_IN, PAD_MM, define, drill, force, number, ruled, share, sized, surface, volume
from .mix import STRONG_FILLERS

drill("d_sc", "shank diameter of the screw")
ruled("L_sc", "threaded length in the wood, its tapered tip not counted", "down")
ruled("l_sc", "plain shank in the wood")
share("q_sc", "pilot as a part of the shank diameter")
number("r_sc", "core of the screw as a part of the shank diameter", HUNDREDTH)
drill("P_sc", "pilot wanted for the thread")
drill("D_sc", "pilot for the thread")
drill("S_sc", "hole for the shank")
sized("c_sc", "room under the tip of the screw", PAD_MM, PAD_IN)
ruled("M_sc", "mark on the drill for the shank, from its tip", "up")
ruled("T_sc", "depth of the pilot", "up")
ruled("Z_sc", "least thickness of the wood for a screw", "up")
ruled("s_sc", "least distance between two screws in one line of the grain", "up")
number("G_sc", "least specific gravity that this pilot is for", HUNDREDTH)
number("K_sc", "specific gravity that this pilot is for up to", HUNDREDTH)
volume("H_sc", "pilot and shank hole, empty")
surface("A_sc", "wood in one pilot and shank hole to wet out")
surface("A_fs", "faces to coat under one fitting that is screwed down")
define("E_sc", "room that the screw leaves in its hole", "m**3", Shown("mL", HUNDREDTH, "down"))
sized("z_sc", "coat of thickened epoxy on the dipped thread", PAD_MM, PAD_IN)
define("C_sc", "thickened epoxy on one dipped thread", "m**3", Shown("mL", HUNDREDTH, "up"))
define(
    "I_sc",
    "thickened epoxy to put into one pilot, beside what the thread brings",
    "m**3",
    Shown("mL", HUNDREDTH, "down"),
)
ruled("N_sc", "threaded length that is counted", "down")
number("y_sc", "strength of a screw in wood that gets wet as a part of its strength in dry wood", HUNDREDTH)
ruled("a_sc", "least screw that the equation is laid down for")
force("R_sc", "mean load that pulls the plain screw out of dry side grain")
force("F_sc", "working load along the screw in the grain set, for a load that comes and goes, the epoxy not counted")


@formula("d_sc", source="common-practice")
def screw_of_the_size(d: m) -> m:
    """A coach screw has the diameter of the machine thread of its size; a wood screw's gauge stands for it."""
    return d


@formula("P_sc", source="from-memory")
def pilot_wanted(q_sc: one, d_sc: m) -> m:
    """A part of the shank, more in denser wood."""
    return q_sc * d_sc


lookup(
    "D_sc",
    "nearest",
    "P_sc",
    stock="guide_drills",
    within="s_t",
    source="common-practice",
    meaning="The nearest drill in the set; of two equally near, the larger.",
)
lookup(
    "S_sc",
    "at least",
    "d_sc",
    stock="guide_drills",
    source="common-practice",
    meaning="The drill that fits the shank: the smallest in the set that is not under its diameter.",
)


@formula("M_sc", source="solid-geometry")
def mark_on_the_drill_for_the_shank(l_sc: m, S_sc: m, alpha_g: rad, e_g: m) -> m:
    """Full-diameter depth plus the cone or spur that goes ahead of it; the pilot is drilled on from there."""
    return l_sc + S_sc * cos(alpha_g / 2) / (2 * sin(alpha_g / 2)) + e_g


@formula("T_sc", source="own-judgement")
def depth_of_the_pilot(l_sc: m, L_sc: m, d_sc: m, c_sc: m, e_g: m) -> m:
    """Shank, thread, a diameter for the tapered tip, room for what runs down ahead of it, and a flat bit's spur."""
    return l_sc + L_sc + d_sc + c_sc + e_g


@formula("Z_sc", source="common-practice")
def least_thickness_for_a_screw(T_sc: m, d_sc: m) -> m:
    """As much wood under the pilot as the screw is thick."""
    return T_sc + d_sc


@formula("s_sc", source="lvl-handbook")
def least_spacing_of_screws(d_sc: m) -> m:
    """Seven diameters; nearer in one line of the grain, one split runs through both."""
    return 7 * d_sc


@formula("H_sc", source="solid-geometry")
def pilot_volume(S_sc: m, l_sc: m, D_sc: m, T_sc: m) -> m3:
    """What plain epoxy fills for a while, before it is drawn off into the next."""
    return pi / 4 * (S_sc**2 * l_sc + D_sc**2 * (T_sc - l_sc))


@formula("E_sc", source="solid-geometry")
def room_that_the_screw_leaves(S_sc: m, d_sc: m, l_sc: m, D_sc: m, r_sc: one, L_sc: m, c_sc: m) -> m3:
    """Slack round shank and core, and round and under the tip, a cone; more has nowhere to go."""
    return (
        pi
        / 4
        * (
            (S_sc**2 - d_sc**2) * l_sc
            + (max(D_sc, r_sc * d_sc) ** 2 - (r_sc * d_sc) ** 2) * L_sc
            + D_sc**2 * (2 / 3 * d_sc + c_sc)
        )
    )


@formula("C_sc", source="solid-geometry")
def epoxy_on_the_thread(d_sc: m, L_sc: m, z_sc: m) -> m3:
    """A coat all along the thread."""
    return pi * d_sc * L_sc * z_sc


@formula("I_sc", source="solid-geometry")
def epoxy_into_a_pilot(E_sc: m3, C_sc: m3) -> m3:
    """The dipped thread brings most of what there is room for, often all."""
    return max(E_sc, C_sc) - C_sc


@formula("V_u", source="common-practice")
def thickened_for_screws(n_h: one, I_sc: m3, C_sc: m3, w_a: one) -> m3:
    """What goes into the holes and on to the threads, with its waste."""
    return n_h * (I_sc + C_sc) * (1 + w_a)


@formula("V", source="common-practice")
def volume_for_screws(N_m: one, n_h: one, I_sc: m3, C_sc: m3, w_a: one, m_sa: kg, rho_p: kg_per_m3) -> m3:
    """What goes into the holes and on to the threads, with its waste, and the sample. No syringe is filled with it."""
    return N_m * n_h * (I_sc + C_sc) * (1 + w_a) + m_sa / rho_p


@formula("A_sc", source="solid-geometry")
def wall_of_a_pilot(S_sc: m, l_sc: m, D_sc: m, T_sc: m, alpha_g: rad) -> m2:
    """Both walls; step and floor as steep as the drills' points."""
    return pi * (S_sc * l_sc + D_sc * (T_sc - l_sc)) + pi / 4 * S_sc**2 / sin(alpha_g / 2)


@formula("A_fs", source="solid-geometry")
def faces_under_a_screwed_fitting(A_b: m2, g_y: m) -> m2:
    """Wood and underside, and both faces of a packing."""
    return A_b * (2 + 2 * min(1, ceil(g_y / mm)))


@formula("m_w", source="common-practice")
def wet_out_of_screws(n_h: one, A_sc: m2, w_h: kg_per_m2, A_fs: m2, w_b: kg_per_m2) -> kg:
    """What the wood drinks, and the coats under the fitting. What fills a hole goes on to the next, and is no more."""
    return n_h * A_sc * w_h + A_fs * w_b


# What the screw holds


@formula("N_sc", source="own-judgement")
def counted_thread(L_sc: m, d_sc: m) -> m:
    """From 10 diameters on a screw in lighter wood breaks before it pulls out, so no more is counted."""
    return min(L_sc, 10 * d_sc)


@formula("R_sc", source="wood-handbook-8")
def plain_screw(G: one, d_sc: m, N_sc: m) -> N:
    """The Handbook's equation for lag screws: the average of tests in dry, clear wood."""
    return 125.4 * newton * G**1.5 * (d_sc / mm) ** 0.75 * (N_sc / mm)  # type: ignore[no-any-return]


@formula("F_sc", source="own-judgement")
def screw_working_load(R_sc: N, y_sc: one, gamma_w: one, k_sg: one, q_e: one) -> N:
    """The American design value, for dry timber; of that what wet wood keeps, and in end grain its part."""
    return R_sc * y_sc / gamma_w * max(k_sg, q_e)


# What is refused. A billionth forgives binary noise. Of a pilot that is not for such a screw only that is told.
# Neither a drill nor a load is told of a screw in the wrong pilot.
BY_THE_PILOT = ("P_sc", "R_sc", "R_y", "R_sy", "R_y4")


@rule(
    "this wood is too light for this pilot, and the thread would hold little: choose the pilot for softer wood",
    source="own-judgement",
    limits=BY_THE_PILOT,
)
def pilot_is_small_enough(G: one, G_sc: one, d_sc: m, n_y: one) -> bool:
    """Too large a pilot holds little in soft wood, so no other is told than that for the wood in hand."""
    return (d_sc < 5.999 * mm) & (n_y < 5.5) | (G_sc <= G * (1 + 1e-9))


@rule(
    "this wood is too dense for this pilot, and would split: choose the pilot for denser wood",
    source="own-judgement",
    limits=BY_THE_PILOT,
)
def pilot_is_large_enough(G: one, K_sc: one, d_sc: m, n_y: one) -> bool:
    """Too small a pilot splits dense wood."""
    return (d_sc < 5.999 * mm) & (n_y < 5.5) | (K_sc * (1 + 1e-9) >= G)


@rule(
    "no load along it is given for so thin a screw, for the equation is for coach screws: take one of {a_sc} or more, "
    "or a bolt",
    source="own-judgement",
    limits=("R_sc",),
)
def screw_is_thick_enough(d_sc: m, a_sc: m) -> bool:
    """Wood screws have an equation of their own."""
    return d_sc * (1 + 1e-9) >= a_sc


@rule(
    "no load is given along a screw nearer to an edge or an end than half of what its full side load asks for, because "
    "the wood splits: move the screw in",
    source="own-judgement",
    limits=("F_sc", "F_sct"),
)
def wood_round_the_screw_is_wide_enough(chi_y: one) -> bool:
    """Wood that is too narrow to take a load sideways is not trusted to hold the thread."""
    return chi_y >= 0.4999


@rule(
    "no load is given for so short a thread: take at least 4 screw diameters of thread in the wood",
    source="own-judgement",
    limits=("R_sc",),
)
def thread_is_long_enough(L_sc: m, d_sc: m) -> bool:
    """Near the surface the wood lifts off as one piece."""
    return L_sc * (1 + 1e-9) >= 4 * d_sc


@rule(
    "a screw under {6 mm} is a wood screw: choose the pilot of a wood screw",
    source="common-practice",
    limits=BY_THE_PILOT,
)
def pilot_is_of_such_a_screw(d_sc: m, n_y: one) -> bool:
    """Coach screws begin at 6 mm; the rows that are for them ask for 4 diameters in the wood."""
    return (d_sc >= 5.999 * mm) | (n_y > 5)


@rule("the pilot must be smaller than the screw: take one under {d_sc}", source="solid-geometry", limits=("D_sc",))
def pilot_leaves_wood_to_cut(D_sc: m, d_sc: m) -> bool:
    """Otherwise the thread cuts nothing."""
    return D_sc < d_sc


@rule(
    f"this filler never goes round a loaded screw: the thread pulls out of it. {STRONG_FILLERS}",
    source="common-practice",
    limits=("C_sc", "x_f", "R_sc"),
)
def filler_suits_a_screw(k_u: one, C_sc: m3) -> bool:
    """Asked only where a screw is bonded."""
    return (C_sc < 0) | (k_u >= 0.5)


@rule(
    "this wood is oily, and how well epoxy holds differs from board to board: the load is that of the plain screw, "
    "but count on no seal: lay a ring of bedding compound under every head",
    source="common-practice",
    refuses=False,
)
def wood_lets_epoxy_seal(o_w: one, C_sc: m3) -> bool:
    """Asked only where a screw is bonded."""
    return (o_w < 0.5) | (C_sc < 0)
