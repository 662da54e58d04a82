"""What a fitting is bedded in: a cast seat of epoxy, a film of flexible compound, an epoxy plug in a cored deck.

A cast seat is as thick as its high point needs, and thicker by the gap that the surface leaves under a flat base. A
crown or a vee runs along the base, so the gap depends on the base's width alone. The radius of a crown and the
deadrise of a vee never stand in one sheet: each yields the same two gaps.
"""

from __future__ import annotations

from fractions import Fraction
from math import asin, ceil, pi, sqrt, tan

from ..formula import formula, lookup, rule
from ..language import later
from ..units import Shown, dK, m, m2, m3, m_per_s, one, per_K, rad, s
from .define import (
    FEELER_IN,
    FEELER_MM,
    HUNDREDTH,
    PAD_IN,
    PAD_MM,
    TENTH,
    THOUSANDTH,
    angle,
    count,
    define,
    drill,
    mark,
    ruled,
    share,
    sized,
    stress,
    volume,
    warmth,
)

# Cast seat
ROUGH_MM, ROUGH_IN = Shown("mm", TENTH, "up", trim=True), Shown("in", Fraction(1, 32), "up", fraction=True)
sized("t_0", "thickness of the cast bed at the high point of the surface", PAD_MM, FEELER_IN)
sized(
    "R_c", "radius of the crown", Shown("mm", Fraction(1), "down"), Shown("in", TENTH, "down", trim=True), positive=True
)
ruled("l_s", "length of the straightedge laid across the crown")
sized("g_c", "gap under each end of the straightedge", PAD_MM, PAD_IN, positive=True)
angle("beta_d", "deadrise: slope of the surface on each side")
sized("s_e", "thickness of the bed at the edge beyond that at the high point", FEELER_MM, FEELER_IN)
sized("s_m", "mean thickness of the bed beyond that at the high point", PAD_MM, PAD_IN)
sized("t_e", "thickness of the cast bed at the edge", ROUGH_MM, Shown("in", THOUSANDTH, "up", trim=True))
count("n_k", "coats of release agent")
count("n_kw", "coats of hard paste wax under or beside the release agent")
mark(
    "n_kb",
    "2 where a coat of release agent hazes and is buffed, 1 where it is left as it dries, 0 where it is no coat",
    most=2,
)
mark("k_wt", "mark of a release agent that never dries, so that it is wiped to a thin film")
mark("k_th", "mark that a release agent goes into the roots of a thread")
mark("n_tu", "2 where a compound comes in tubes, 1 where in a tin, 0 where as a tape", most=2)
mark("k_ow", "mark of a compound that does not hold on oily wood")
mark("k_is", "mark of a compound that gives off isocyanates until it has cured")
mark("k_gl", "mark of a compound that holds like glue")

# Flexible compound: the bed
CUBIC = Shown("mm**3", Fraction(1), "up")
sized("h_kb", "bed that this compound is best left with", PAD_MM, Shown("in", THOUSANDTH), positive=True)
sized("s_kb", "step that a bed of compound is laid in", PAD_MM, PAD_IN, positive=True)
sized("h_b", "thickness of the bed of compound", PAD_MM, PAD_IN, positive=True)
sized("t_g", "least bed that this compound seals with", PAD_MM, PAD_IN)
volume("V_k", "film of compound under the base")
drill("D_j", "clearance hole wanted for the bolt")
drill("s_k", "slack of the bolt in its clearance hole")
drill("D_k", "clearance hole for the bolt")
sized("h_k", "depth of the 90 degree countersink", PAD_MM, PAD_IN)
ruled("l_k", "length of the clearance hole that is filled with compound")
ruled("l_w", "length of the bolt that is smeared with compound", "down")
define("V_q", "ring of compound in the countersink of one hole", "m**3", CUBIC)
define("V_w", "compound in the clearance round one bolt", "m**3", CUBIC)
BY_TUBE = Shown("mL", TENTH, "up"), Shown("fluid_ounce", HUNDREDTH, "up")
define("V_x", "compound for one fitting, with what is squeezed out", "m**3", *BY_TUBE)
define("V_j", "compound for one fitting", "m**3", *BY_TUBE)
define(
    "V_t",
    "content of a cartridge or a tube",
    "m**3",
    Shown("mL", TENTH, trim=True),
    Shown("fluid_ounce", TENTH, trim=True),
    positive=True,
)
# Bead or tape to lay.
LAID = Shown("m", HUNDREDTH, "up"), Shown("in", Fraction(1), "up")
sized("L_bx", "butyl tape under one base, with waste, 0 where the compound is no tape", *LAID)
ruled("b_bt", "width of butyl tape as it is counted with")
sized("t_bt", "thickness of butyl tape as it is counted with", PAD_MM, PAD_IN)
sized("L_bt", "butyl tape for one fitting, 0 where the compound is no tape", *LAID)
count("n_t", "cartridges or tubes to buy")
sized("d_k", "diameter of the bead", PAD_MM, Shown("in", Fraction(1, 16), fraction=True), positive=True)
sized("L_d", "bead that a cartridge lays", Shown("m", TENTH, "down"), Shown("ft", Fraction(1), "down"))
sized("L_kb", "bead for one fitting, rings counted", *LAID)
sized(
    "b_k",
    "width of the bead pressed out to the bed",
    Shown("mm", Fraction(1), "down"),
    Shown("in", Fraction(1, 16), "down", fraction=True),
)

# Flexible compound: movement
share("M_k", "movement that the compound takes again and again, each way, as a part of the bed's thickness")
stress("sigma_w", "most that a low-modulus compound pulls back with, at room temperature")
stress("sigma_c", "most that a low-modulus compound pulls back with, at -20 °C")
EXPANSION = Shown("mm/(m*delta_degC)", THOUSANDTH)
define("alpha_1", "expansion of the fitting with warmth", "1/K", EXPANSION)
define("alpha_2", "expansion of the surface under the fitting with warmth", "1/K", EXPANSION)
ruled("l_x", "length of the fitting that may move, from where it is held")
warmth("dT_x", "swing of temperature")
MOVE_MM, MOVE_IN = Shown("mm", HUNDREDTH, "up"), Shown("in", THOUSANDTH, "up")
sized("x_d", "difference in expansion over the whole swing", MOVE_MM, MOVE_IN)
sized("x_s", "sliding of the two faces, each way", MOVE_MM, MOVE_IN)
sized("x_o", "opening and closing of the joint, each way", MOVE_MM, MOVE_IN)
sized("h_sl", "least bed for the sliding", ROUGH_MM, ROUGH_IN)
sized("h_op", "least bed for the opening", ROUGH_MM, ROUGH_IN)

# Flexible compound: cure
define("v_c", "depth that cures in a day", "m/s", Shown("mm/day", TENTH, "down"), positive=True)
sized("h_v", "depth of compound to cure, from where the air gets in", PAD_MM, PAD_IN)
sized(
    "h_m",
    "deepest cure that a time is given for",
    Shown("mm", TENTH, "down", trim=True),
    Shown("in", HUNDREDTH, "down"),
)
define("t_cu", "time to cure to the depth wanted", "s", Shown("day", Fraction(1), "up"))

define(
    "t_rb",
    "time until squeezed-out compound is rubber right through",
    "s",
    Shown("day", Fraction(1), "up"),
    absent=later(
        "this compound never turns to rubber, so no time to tighten again is told: tighten in small turns over days"
    ),
)

# Cored deck
drill("w_c", "wall of epoxy wanted round the bolt's hole")
drill("w_l", "least wall of epoxy round the bolt's hole")
drill("w_d", "wander of the bolt's hole from the plug's middle")
drill("D_u", "hole through skin and core wanted, for the plug")
drill("D_c", "hole through skin and core, filled as a plug")
sized("w_p", "wall of epoxy left round the bolt's hole", Shown("mm", TENTH, "down"), Shown("in", HUNDREDTH, "down"))
ruled("h_c", "depth of the plug: outer skin and core, the inner skin left")
volume("V_c", "thickened epoxy in one plug")


# Cast seat


@formula("R_c", source="solid-geometry")
def radius_of_the_crown(l_s: m, g_c: m) -> m:
    """From a straightedge that touches the crown at its middle, with the same gap under both ends."""
    return l_s**2 / (8 * g_c) + g_c / 2


@formula("s_e", source="solid-geometry")
def edge_gap_on_a_crown(R_c: m, b_b: m) -> m:
    """How far a circle has dropped at half the width of the base."""
    return R_c - sqrt(R_c**2 - (b_b / 2) ** 2)


@formula("s_m", source="solid-geometry")
def mean_gap_on_a_crown(R_c: m, b_b: m) -> m:
    """The area between a straight base and the circle, over the width of the base."""
    return R_c - sqrt(R_c**2 - (b_b / 2) ** 2) / 2 - R_c**2 / b_b * asin(b_b / (2 * R_c))


@formula("s_e", source="solid-geometry")
def edge_gap_on_a_vee(beta_d: rad, b_b: m) -> m:
    """How far the slope has dropped at half the width of the base, its middle over the ridge."""
    return b_b / 2 * tan(beta_d)


@formula("s_m", source="solid-geometry")
def mean_gap_on_a_vee(beta_d: rad, b_b: m) -> m:
    """Half of the gap at the edge."""
    return b_b / 4 * tan(beta_d)


@formula("t_m", source="solid-geometry")
def mean_thickness(t_0: m, s_m: m) -> m:
    """What the volume goes by; a flat surface has no gap."""
    return t_0 + s_m


@formula("t_e", source="solid-geometry")
def edge_thickness(t_0: m, s_e: m) -> m:
    """The thickest place, which heats itself most."""
    return t_0 + s_e


# Flexible compound: the bed


lookup(
    "h_b",
    "nearest step",
    "h_kb",
    step="s_kb",
    source="common-practice",
    meaning="As thick as a spacer is told, so that beads, film and bolt are worked for the bed that is laid.",
)


@formula("V_k", source="solid-geometry")
def film_volume(A_b: m2, h_b: m) -> m3:
    """The whole base, its holes not taken off."""
    return A_b * h_b


@formula("V_x", source="common-practice")
def film_and_squeeze_out(V_k: m3, w_a: one) -> m3:
    """What comes out all round, and what stays in the nozzle, counted as waste."""
    return V_k * (1 + w_a)


@formula("D_j", source="common-practice")
def clearance_hole_wanted(d: m, s_k: m) -> m:
    """A bolt that is bedded must not bind in its hole."""
    return d + s_k


lookup(
    "D_k",
    "at least",
    "D_j",
    stock="guide_drills",
    source="common-practice",
    meaning="The smallest drill in the set that is not under it.",
)


@formula("V_q", source="solid-geometry")
def countersink_ring(h_k: m, D_k: m) -> m3:
    """Compound round the bolt in a 90 degree countersink, which is as much wider all round as it is deep."""
    return pi * h_k * (D_k / 2 * h_k + h_k**2 / 3)


@formula("l_w", source="solid-geometry")
def smeared_length(l_k: m, T_sk: m) -> m:
    """As far down as is wanted, and no further than half the wood: below that it stays dry, so that a leak shows."""
    return min(l_k, T_sk / 2)


@formula("V_w", source="solid-geometry")
def clearance_ring(D_k: m, d: m, l_w: m) -> m3:
    """Compound between a plain bolt and its hole."""
    return pi / 4 * (D_k**2 - d**2) * l_w


@formula("V_j", source="solid-geometry")
def compound_for_one_fitting(V_k: m3, n_h: one, V_q: m3, V_w: m3) -> m3:
    """Film, countersinks and clearances, nothing lost."""
    return V_k + n_h * (V_q + V_w)


@formula("L_bt", source="solid-geometry")
def tape_for_one_fitting(n_tu: one, A_b: m2, h_b: m, n_h: one, V_q: m3, V_w: m3, b_bt: m, t_bt: m) -> m:
    """Strips side by side over the whole base, as thick as sold or as the bed; what is rolled for the holes."""
    return max(0, 1 - n_tu) * (A_b * max(t_bt, h_b) + n_h * (V_q + V_w)) / (b_bt * t_bt)


@formula("L_bx", source="common-practice")
def tape_under_one_base(n_tu: one, A_b: m2, h_b: m, b_bt: m, t_bt: m, w_a: one) -> m:
    """Strips over the whole base; what is rolled for rings and heads is counted as waste."""
    return max(0, 1 - n_tu) * A_b * max(t_bt, h_b) / (b_bt * t_bt) * (1 + w_a)


@formula("n_t", source="common-practice")
def cartridges_to_buy(N: one, V_j: m3, w_a: one, V_t: m3) -> one:
    """Whole ones, the squeeze-out and what stays in the nozzle counted as waste."""
    return ceil(N * V_j * (1 + w_a) / V_t)


@formula("L_d", source="solid-geometry")
def bead_of_a_cartridge(V_t: m3, w_a: one, d_k: m) -> m:
    """A round bead, the waste taken off."""
    return V_t / ((1 + w_a) * pi / 4 * d_k**2)


@formula("L_kb", source="solid-geometry")
def bead_for_one_fitting(V_k: m3, d_k: m) -> m:
    """As much round bead as the film is pressed out of; countersinks and holes are filled besides."""
    return V_k / (pi / 4 * d_k**2)


@formula("b_k", source="solid-geometry")
def width_of_the_pressed_bead(d_k: m, h_b: m) -> m:
    """A round bead pressed out to a flat strip as thick as the bed."""
    return pi / 4 * d_k**2 / h_b


# Flexible compound: movement


@formula("x_d", source="linear-expansion")
def difference_in_expansion(alpha_1: per_K, alpha_2: per_K, l_x: m, dT_x: dK) -> m:
    """How much further one of the two grows; wood that swells with damp moves far more than this."""
    return (max(alpha_1, alpha_2) - min(alpha_1, alpha_2)) * l_x * dT_x


@formula("x_s", source="own-judgement")
def sliding_each_way(x_d: m) -> m:
    """Bedded on the hottest or the coldest day, all of it goes one way; so all of it is counted."""
    return x_d


@formula("h_sl", source="solid-geometry")
def bed_for_sliding(x_s: m, M_k: one) -> m:
    """The slanted bed is a hypotenuse; it may be longer than the bed is thick by the movement class."""
    return x_s / sqrt((1 + M_k) ** 2 - 1)


@formula("h_op", source="iso-11600")
def bed_for_opening(x_o: m, M_k: one) -> m:
    """The class is a part of the thickness, each way."""
    return x_o / M_k


# Flexible compound: cure


@formula("t_cu", source="common-practice")
def time_to_cure_through(h_v: m, v_c: m_per_s) -> s:
    """For the first few millimetres; the air's moisture gets in from the outside."""
    return h_v / v_c


# Cored deck


@formula("D_u", source="solid-geometry")
def plug_hole_wanted(D_k: m, w_c: m, w_d: m) -> m:
    """The bolt's hole, and a wall of epoxy all round it, even where the drill comes beside the middle."""
    return D_k + 2 * (w_c + w_d)


lookup(
    "D_c",
    "at least",
    "D_u",
    stock="large_drills",
    source="common-practice",
    meaning="The smallest drill in the set that leaves the wall wanted.",
)


@formula("w_p", source="solid-geometry")
def wall_left(D_c: m, D_k: m) -> m:
    """Between the bolt's hole and the core, the hole drilled in the middle of the plug."""
    return (D_c - D_k) / 2


@formula("V_c", source="solid-geometry")
def plug_volume(D_c: m, h_c: m) -> m3:
    """The whole hole; what is drilled out again is chips."""
    return pi / 4 * D_c**2 * h_c


# What is refused. A billionth forgives binary noise.


@rule(
    "the base is wider than the crown itself: take a smaller base, or measure the radius anew",
    source="solid-geometry",
    limits=("s_e", "s_m"),
)
def base_sits_on_the_crown(R_c: m, b_b: m) -> bool:
    """Beyond half a circle nothing is under the edge."""
    return b_b <= 2 * R_c * (1 + 1e-9)


@rule(
    "the gap is more than half the straightedge, which no crown has: measure again",
    source="solid-geometry",
    limits=("R_c",),
)
def gap_is_that_of_a_crown(g_c: m, l_s: m) -> bool:
    """At half the length the crown is a half circle."""
    return g_c <= l_s / 2 * (1 + 1e-9)


@rule("a deadrise of 90 deg is a wall: give less", source="solid-geometry", limits=("s_e", "s_m"))
def deadrise_is_a_slope(beta_d: rad) -> bool:
    """Nothing can sit on a wall."""
    return beta_d < pi / 2


@rule(
    "so thick an edge heats itself when it is cast at once: fill it in lifts, or fit a wooden pad",
    source="common-practice",
    refuses=False,
)
def edge_is_cast_at_once(t_e: m, h_1: m) -> bool:
    """The shop's rule for a layer; a fast hardener or a warm day bears less."""
    return t_e <= h_1 * (1 + 1e-9)


@rule(
    "this compound does not hold on oily wood: take polysulfide, with the primer that its tube names for such wood",
    source="common-practice",
    limits=("h_b",),
)
def compound_holds_on_the_wood(k_ow: one, o_w: one) -> bool:
    """Said where both are marked."""
    return k_ow * o_w < 1


@rule(
    "this bed is thinner than its compound seals with, so it would be squeezed dry: take {t_g} or more, on spacers",
    source="common-practice",
    limits=("h_b",),
)
def bed_is_not_squeezed_dry(h_b: m, t_g: m) -> bool:
    """A film that thin tears at the first movement."""
    return h_b * (1 + 1e-9) >= t_g


@rule(
    "the bed is thinner than the sliding asks for: take a bed of {h_sl} or more, or a compound of a higher class",
    source="own-judgement",
    refuses=False,
)
def bed_bears_the_sliding(h_b: m, h_sl: m) -> bool:
    """Otherwise it tears loose at the ends of the fitting."""
    return h_b * (1 + 1e-9) >= h_sl


@rule(
    "the bed is thinner than the opening asks for: take a bed of {h_op} or more, or a compound of a higher class",
    source="own-judgement",
    refuses=False,
)
def bed_bears_the_opening(h_b: m, h_op: m) -> bool:
    """Otherwise it tears, or lets go of one face."""
    return h_b * (1 + 1e-9) >= h_op


@rule("a movement class lies above 0 and under 100 %: correct it", source="own-judgement", limits=("h_sl", "h_op"))
def movement_is_a_part(M_k: one) -> bool:
    """No compound is laid down for more."""
    return (M_k > 0) & (M_k < 1)


@rule(
    "no time is given for a cure deeper than {h_m}, because it grows with the square of the depth: take less depth",
    source="own-judgement",
    limits=("t_cu",),
)
def cure_is_shallow(h_v: m, h_m: m) -> bool:
    """What has cured holds the moisture up."""
    return h_v <= h_m * (1 + 1e-9)


@rule("the bolt does not go through its hole: take a hole of {d} or more", source="solid-geometry", limits=("D_k",))
def bolt_goes_through(D_k: m, d: m) -> bool:
    """Otherwise the ring round it would come out negative."""
    return D_k >= d


@rule(
    "less than {w_l} of epoxy is left round the bolt's hole: ask for a thicker wall",
    source="common-practice",
    limits=("D_c",),
)
def wall_is_thick_enough(w_p: m, w_d: m, w_l: m) -> bool:
    """A thin wall cracks, and the core gets wet."""
    return w_p * (1 + 1e-9) >= w_l + w_d


@rule(
    "so wide a plug heats itself when it is cast at once: fill it in two lifts, the second when the first is cool",
    source="own-judgement",
    refuses=False,
)
def plug_stays_cool(D_c: m, d_1: m) -> bool:
    """The shop's rule for a plug; the core round it keeps the heat in."""
    return D_c <= d_1 * (1 + 1e-9)
