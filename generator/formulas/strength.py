"""What a bonded joint carries along its axis; how deep it must be; a lag screw to compare.

A starting model and no standard. Published rules for rods bonded into timber agree on its form and differ by half
and more in their answers; it keeps to the lowest that could be read. Only the oversized part of the hole counts, and of
that no more width than published rules cover and no more length than carries its share. The guide hole is not added.

Its ranges limit every load that a bond carries. The fastener's own working load is not among them.
"""

from __future__ import annotations

from math import ceil, pi

from ..formula import formula, mm, newton, rule
from ..units import N, Pa, Shown, m, m2, m3, one
from .define import HUNDREDTH, TENTH, define, force, mark, number, ruled, sized, stress

# Wood
number("G", "specific gravity of the wood: oven-dry mass over volume at 12 % moisture", HUNDREDTH, positive=True)
mark("o_w", "mark of an oily wood")
mark("k_sg", "mark of side grain, which the fastener stands in")
stress("f_v", "mean shear strength of the wood along the grain")
stress("f_c0", "mean compression strength of the wood along the grain")
stress("f_vk", "shear strength of a timber class that 95 in 100 pieces reach")
stress("f_c0k", "compression strength of a timber class along the grain that 95 in 100 pieces reach")
define("rho_c", "density of a timber class that 95 in 100 pieces reach", "kg/m**3", Shown("kg/m**3", TENTH * 10))
number("q_k", "bond strength as a part of a timber class's shear strength", HUNDREDTH)
stress("f_c90", "mean compression strength of the wood across the grain, where it begins to crush")
number("q_v", "bond strength as a part of the wood's mean shear strength", HUNDREDTH)
stress("f_l", "most that is counted as bond strength in any wood")
stress("f_b", "bond strength at the wall of the hole")
number("q_c", "5 % value as a part of the mean, for compression across the grain", HUNDREDTH)
define(
    "f_ck",
    "compression strength of the wood across the grain that 95 in 100 pieces reach",
    "Pa",
    Shown("MPa", TENTH, "down"),
    Shown("psi", TENTH * 100, "down"),
)

# Bond
sized("D_b", "diameter of the hole that is counted", Shown("mm", TENTH, "down"), Shown("in", HUNDREDTH, "down"))
ruled("L_b", "depth of the oversized hole that is counted", "down")
ruled("L_ru", "shortest bond that published rules ask for", "up")
ruled("a_e", "distance from the fastener's axis to the nearest edge of the wood", "down")
number("chi_e", "part of the strength that is left so near to an edge")
number("k_L", "part of the strength that is left on so short a bond", HUNDREDTH)
stress("f_e", "shear strength of the epoxy at the crest of the thread")
force("R_w", "strength of the bond between wood and epoxy")
force("R_e", "strength of the epoxy at the crest of the thread")

# Fastener
stress("f_u", "tensile strength of the fastener")
stress("f_p", "proof strength of the fastener")
mark("k_cx", "mark of wood that may split at so near an edge or end, so that it is clamped across")
mark("k_ss", "mark of a fastener of stainless steel")
mark("k_fe", "mark of a fastener of plain steel")
force("R_s", "strength of the fastener in tension")
force("R_k", "strength of the bonded joint: the least of bond, epoxy and fastener")

# Working loads
number("gamma_b", "safety factor on wood and epoxy, for a load that comes and goes", HUNDREDTH, positive=True)
number("gamma_l", "safety factor on wood and epoxy, for a load that stays", HUNDREDTH, positive=True)
number("gamma_s", "safety factor on the fastener", HUNDREDTH, positive=True)
number("gamma_p", "safety factor on wood that is pressed, for a load that comes and goes", HUNDREDTH, positive=True)
number("q_p", "part of its proof strength that a fastener is loaded to", HUNDREDTH)
force("F_s", "working load of the fastener")
force("F_w", "working load of the bonded joint, for a load that comes and goes")
force("F_l", "working load of the bonded joint, for a load that stays")

# The other way round
force("F_n", "load that the fitting must carry", "up")
ruled("L_n", "oversized depth needed", "up")
ruled("T_n", "hole depth needed", "up")
ruled("a_h", "spacing of the two holes under a fitting with two legs")
ruled("s_b", "least distance between two bonded fasteners", "up")

# A lag screw, to compare
force("R_lag", "mean load that pulls a lag screw of the same diameter and length out of side grain")
number("q_e", "strength of a lag screw in end grain as a part of its strength in side grain", HUNDREDTH)
force("R_end", "mean load that pulls a lag screw out of end grain")
number("gamma_w", "safety factor on the mean strength of a lag screw", HUNDREDTH, positive=True)
force("F_lag", "working load of a lag screw")


# Bond


@formula("D_b", source="env-1995-2")
def counted_diameter(D_o: m, d: m) -> m:
    """A hole wider than 1.25 thread diameters counts as one of 1.25: wider ones were hardly tested."""
    return min(D_o, 1.25 * d)


@formula("L_b", source="own-judgement")
def counted_length(L_o: m, d: m) -> m:
    """Beyond 250 mm, or 20 thread diameters, more depth adds little: the load goes in near the mouth."""
    return min(L_o, 250 * mm, 20 * d)


@formula("f_b", source="own-judgement")
def bond_strength(q_v: one, f_v: Pa, f_l: Pa) -> Pa:
    """Good epoxy is stronger than the wood beside it, so the wood's shear strength decides, up to a cap."""
    return min(f_l, q_v * f_v)


@formula("f_b", source="own-judgement")
def bond_strength_of_a_class(q_k: one, f_vk: Pa, f_l: Pa) -> Pa:
    """For timber with a strength class on it, whose value holds for 95 in 100 pieces already."""
    return min(f_l, q_k * f_vk)


@formula("chi_e", source="lippert-2002")
def edge_factor(a_e: m, d: m) -> one:
    """Nearer than about 2.5 thread diameters to an edge, wood splits early."""
    return min(1, 0.679 + 0.128 * a_e / d)


@formula("k_cx", source="common-practice")
def wood_to_clamp_across(a_e: m, a_m: m, a_z: m, a_n: m, k_sg: one) -> one:
    """An edge or an end nearer than is asked; in end grain there is no end."""
    return max(0, ceil(1 - 1e-9 - a_e / a_m), k_sg * ceil(1 - 1e-9 - a_z / a_n))


@formula("L_ru", source="din-1052")
def shortest_bond_of_the_rules(d: m) -> m:
    """Ten thread diameters."""
    return 10 * d


@formula("k_L", source="own-judgement")
def length_factor(L_ru: m, L_b: m) -> one:
    """1 from a length of 10 thread diameters on, and 0.8 from 5 to 10; a whole-number step up makes the step."""
    return 1.2 - 0.2 * ceil(L_ru / L_b)


@formula("R_w", source="din-1052")
def bond_to_the_wood(D_b: m, L_b: m, f_b: Pa, chi_e: one, k_L: one) -> N:
    """Bond strength on the wall of the hole that is counted."""
    return pi * D_b * L_b * f_b * chi_e * k_L


@formula("R_e", source="iso-68-1")
def epoxy_at_the_thread(d: m, L_b: m, f_e: Pa) -> N:
    """Along its crests the moulded thread is whole on seven eighths of each pitch; rarely the weakest."""
    return 7 / 8 * pi * d * L_b * f_e


# Fastener


@formula("R_s", source="en-1993-1-8")
def fastener_in_tension(f_u: Pa, A_s: m2) -> N:
    """Nine tenths of what the thread breaks at."""
    return 0.9 * f_u * A_s


@formula("R_k", source="own-judgement")
def bonded_joint(R_w: N, R_e: N, R_s: N) -> N:
    """The weakest link."""
    return min(R_w, R_e, R_s)


# Working loads


@formula("F_s", source="own-judgement")
def fastener_working_load(R_s: N, gamma_s: one, q_p: one, f_p: Pa, A_s: m2) -> N:
    """With its safety factor, and well under the load that stretches it for good."""
    return min(R_s / gamma_s, q_p * f_p * A_s)


@formula("F_w", source="own-judgement")
def working_load(R_w: N, R_e: N, gamma_b: one, F_s: N) -> N:
    """Wind, a tug on a line, a trailer winch: the least of wood, epoxy and fastener."""
    return min(R_w / gamma_b, R_e / gamma_b, F_s)


@formula("F_l", source="own-judgement")
def lasting_load(R_w: N, R_e: N, gamma_l: one, F_s: N) -> N:
    """Wood and epoxy give way to a load that never lets go sooner than to one that passes."""
    return min(R_w / gamma_l, R_e / gamma_l, F_s)


# Wood that is pressed


@formula("f_ck", source="own-judgement")
def crushing_strength(q_c: one, f_c90: Pa) -> Pa:
    """Wood scatters: what 95 in 100 pieces reach is about half of the mean."""
    return q_c * f_c90


# The other way round: how deep for a load


@formula("L_n", source="own-judgement")
def length_needed(L_ru: m, d: m, gamma_b: one, F_n: N, D_b: m, f_b: Pa, chi_e: one, f_e: Pa, s_d: m) -> m:
    """Bond enough for the load, never under 10 thread diameters, and up to a depth that the shop's rule shows."""
    return ceil(max(L_ru, gamma_b * F_n / (pi * D_b * f_b * chi_e), gamma_b * F_n / (7 / 8 * pi * d * f_e)) / s_d) * s_d


@formula("T_n", source="solid-geometry")
def hole_depth_needed(L_n: m, f_o: one) -> m:
    """The oversized depth is the greater part of the hole, not the whole of it."""
    return L_n / f_o


@formula("s_b", source="din-1052")
def least_spacing(d: m) -> m:
    """Five thread diameters; nearer, the wood between two bonds shears as one piece."""
    return 5 * d


# A lag screw


@formula("R_lag", source="wood-handbook-8")
def lag_screw(G: one, d: m, L_o: m) -> N:
    """In side grain, with as much thread in the wood as the bonded fastener has bond; in end grain three quarters."""
    return 125.4 * newton * G**1.5 * (d / mm) ** 0.75 * (L_o / mm)  # type: ignore[no-any-return]


@formula("R_end", source="wood-handbook-8")
def lag_screw_in_end_grain(q_e: one, R_lag: N) -> N:
    """Threads cut in end grain break out sooner."""
    return q_e * R_lag


@formula("F_lag", source="nds-2018")
def lag_screw_working_load(R_lag: N, y_sc: one, gamma_w: one) -> N:
    """The American design value is the mean over 4.5, and seven tenths of that in wood that gets wet."""
    return R_lag * y_sc / gamma_w


# Where the model holds. A hair of play keeps binary noise from refusing a round size.
# What the bond's ranges limit: what it carries along its axis, and the depth for a load.
BOND = ("R_w", "L_n")


@rule(
    "no strength is given for threads under {6 mm} or over {20 mm}, between which the model was laid down: take a "
    "thread between them",
    source="own-judgement",
    limits=BOND,
)
def thread_is_in_the_range_of_the_model(d: m) -> bool:
    """It says nothing of others."""
    return (d >= 5.999 * mm) & (d <= 20.001 * mm)


NOT_IN_OILY_WOOD = (
    "no strength is given for a bond in oily wood, because how well epoxy holds differs from board to board: bolt the "
    "fitting through, by the cards for a fitting bedded on solid wood and for backing plates, or ask a designer"
)


@rule(NOT_IN_OILY_WOOD, source="common-practice", limits=BOND)
def wood_is_not_oily(o_w: one) -> bool:
    """The wood is strong, the bond may not be. A wood that is not marked has a mark of 0."""
    return o_w < 1


@rule(NOT_IN_OILY_WOOD, source="common-practice", limits=("d_y",))
def wood_round_the_ring_is_not_oily(o_w: one, L_o: m) -> bool:
    """Sideways a bonded rod presses on its ring, and a ring that lets go of the wood lets the rod work in it."""
    return (o_w < 1) | (L_o < 0)


@rule(NOT_IN_OILY_WOOD, source="common-practice", limits=("m_r", "m_h"))
def a_base_is_bonded_to_wood_that_holds(o_w: one, L_o: m, A_b: m2) -> bool:
    """Nothing is weighed out for a bond that is not to be trusted; a trial joint, which has no base, may tell."""
    return (o_w < 1) | (L_o < 0) | (A_b < 0)


@rule(
    "this wood is oily, and epoxy may let go of it unseen: count on it neither to carry nor to keep water out, and "
    "take a bolt with a plate, bedded in compound",
    source="common-practice",
    refuses=False,
)
def wood_lets_a_bored_hole_hold(o_w: one, V_s: m3) -> bool:
    """Asked where a bored hole is filled by a syringe, and told whatever else has no number."""
    return (o_w < 0.5) | (V_s < 0)


@rule(
    "no strength is given for a bond line under {1 mm}: take an oversized hole at least {2 mm} wider than the thread",
    source="own-judgement",
    limits=BOND,
)
def bond_line_is_thick_enough(D_o: m, d: m) -> bool:
    """A bond line too thin starves."""
    return D_o - d >= 1.999 * mm


@rule(
    "no strength is given for bonded fasteners nearer to each other than five diameters: take a larger base or a "
    "thinner thread, or bond fewer",
    source="din-1052",
    limits=BOND,
)
def bonds_are_far_enough_apart(chi_s: one) -> bool:
    """Published rules have no proportion here, as they have for a side load."""
    return chi_s >= 1 - 1e-9


@rule(
    "no strength is given for a bond shorter than 5 thread diameters: take a deeper hole or a thinner fastener",
    source="own-judgement",
    limits=BOND,
)
def bond_is_long_enough(L_b: m, d: m) -> bool:
    """Nothing published goes so short."""
    return L_b >= 4.999 * d


@rule(
    "no strength is given nearer to an edge than 1.5 thread diameters, because the wood splits: move the fastener in",
    source="own-judgement",
    limits=BOND,
)
def edge_is_far_enough(a_e: m, d: m) -> bool:
    """So near, the wood splits before the bond is loaded."""
    return a_e >= 1.499 * d


@rule(
    "an edge is nearer than {a_m}: clamp the wood across",
    source="common-practice",
    refuses=False,
)
def edge_is_as_far_as_is_asked(a_e: m, a_m: m) -> bool:
    """The reader is told beside whatever load is left there."""
    return a_e >= a_m * (1 - 1e-9)


@rule(
    "an end is nearer than {a_n}: clamp the wood across",
    source="lvl-handbook",
    refuses=False,
)
def end_is_as_far_as_is_asked(a_z: m, a_n: m, k_sg: one) -> bool:
    """Towards its end wood splits soonest. In end grain a fastener goes in at the end itself, edges all round."""
    return (k_sg < 0.5) | (a_z >= a_n * (1 - 1e-9))


@rule(
    "plain steel rusts wherever water gets to it, swells, splits the wood and blackens oak: take stainless steel or "
    "bronze",
    source="from-memory",
    refuses=False,
)
def fastener_does_not_rust(k_fe: one, f_u: Pa) -> bool:
    """Asked wherever what a fastener is made of is chosen."""
    return (k_fe < 0.5) | (f_u < 0)


@rule(
    "no depth of this thread carries the load: more than {250 mm}, or 20 thread diameters, is not counted. Take a "
    "thicker thread, or share the load among several fittings",
    source="own-judgement",
    limits=("L_n",),
)
def some_depth_is_enough(L_n: m, d: m) -> bool:
    """Deeper, the load never reaches the end of the bond."""
    return (L_n <= 250.001 * mm) & (L_n <= 20.001 * d)


@rule(
    "the fastener itself is too weak for the load: take a thicker thread or a stronger material",
    source="own-judgement",
    limits=("L_n", "b_p"),
)
def fastener_is_enough(F_n: N, F_s: N) -> bool:
    """No depth helps a bolt that breaks."""
    return F_n <= F_s * (1 + 1e-9)


@rule(
    "the two holes are nearer than five thread diameters: the wood between two bonds shears as one piece, so count "
    "both legs as one bond",
    source="din-1052",
    refuses=False,
)
def holes_are_far_enough(a_h: m, s_b: m) -> bool:
    """A fitting's legs stand where they stand; the reader is told."""
    return a_h >= s_b * (1 - 1e-9)


@rule(
    "counted as bond is only the wide part of the hole, {L_b}, under the 10 thread diameters, {L_ru}, of published "
    "rules: a fifth is taken off",
    source="own-judgement",
    refuses=False,
)
def bond_is_as_long_as_the_rules_ask(L_b: m, L_ru: m, R_w: N) -> bool:
    """Between 5 and 10 diameters the model stands alone. Told where there is a load to take it off."""
    return (L_b >= 0.9999 * L_ru) | (R_w < 0)


@rule(
    "the hole is over 1.25 thread diameters, where published rules end: no more is counted",
    source="env-1995-2",
    refuses=False,
)
def hole_is_as_narrow_as_the_rules_ask(D_b: m, D_o: m, R_w: N) -> bool:
    """The usual hole in a boat is 1.5 to 2 diameters wide. Told where there is a load that counts it."""
    return (D_o <= D_b * 1.001) | (R_w < 0)
