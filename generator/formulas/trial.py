"""A trial joint: how hard to pull it, with what lever, and out of what piece of wood to make it."""

from __future__ import annotations

from fractions import Fraction
from math import floor, sqrt

from ..formula import formula, kilogram, rule
from ..units import N, N_m, Pa, Shown, kg, m, m2, m_per_s2, one
from .define import HUNDREDTH, TENTH, define, force, mark, minutes, number, ruled, sized, stress

number("k_tr", "proof load of a trial joint as a multiple of the working load", HUNDREDTH, positive=True)
force("F_tr", "proof load of a trial joint", "up")
minutes("t_tr", "time that the proof load is held", "up")
ruled("a_tr", "distance from the round bar that the lever turns on to the rod")
ruled("b_tr", "distance from the round bar that the lever turns on to the jack")
force("W_tr", "push of the jack that brings the proof load", "up")
define(
    "m_tr",
    "reading of the scale under the jack at the proof load",
    "kg",
    Shown("kg", Fraction(1), "up"),
    Shown("lb", Fraction(1), "up"),
)
define(
    "m_ul",
    "reading of the scale under the jack at the strength reckoned",
    "kg",
    Shown("kg", Fraction(1), "up"),
    Shown("lb", Fraction(1), "up"),
)
force("F_cl", "pull on what holds the trial block's end down, at the proof load", "up")
force("F_cu", "pull on what holds the trial block's end down, where the pull stops", "up")
mark("n_ul", "1 where the scale under the jack reads to the strength reckoned, 0 where it ends before")
mark("n_se", "1 where the scale under the jack ends before bars bend or a rod stretches")
mark("n_sb", "1 where bars twice as high bend first")
mark("n_sr", "1 where the rod stretches first")
number("q_lv", "pull in the rod for each push of the jack", HUNDREDTH)
define(
    "q_tr",
    "most that the scale under the jack reads",
    "kg",
    Shown("kg", Fraction(1), "down"),
    Shown("lb", Fraction(1), "down"),
)
define(
    "m_st",
    "reading of the scale to stop at, with bars twice as high",
    "kg",
    Shown("kg", Fraction(1), "down"),
    Shown("lb", Fraction(1), "down"),
)
define("M_tr", "bending moment in the lever at the rod", "N*m", Shown("N*m", TENTH, "up"))
ruled("c_tr", "thickness of each of the two bars of the lever", "down")
stress("y_tr", "most that the lever is stressed to")
sized(
    "h_tr",
    "height of each of two flat steel bars for the lever",
    Shown("mm", Fraction(1), "up"),
    Shown("in", Fraction(1, 16), "up", fraction=True),
)
sized(
    "h_ul",
    "height of the bars of the lever for a pull until something gives",
    Shown("mm", Fraction(1), "up"),
    Shown("in", Fraction(1, 16), "up", fraction=True),
)
ruled("L_rt", "shortest rod that will do for a trial joint, from end to end", "up")
ruled("h_pk", "height of the packers under the lever", "up")
ruled("g_pk", "bare wood between the rod of a trial joint and the packer beside it", "down")
ruled("h_pm", "least height of the packers under the lever")
ruled("h_jk", "height of jack and scale under the lever, the jack down")
ruled("l_hd", "nut, washer and what else of the rod stands out above the lever")
ruled("l_cp", "wood for a clamp beyond a packer, along the grain")
ruled("l_tr", "length of the wood for one rod of a trial, along the grain", "up")
ruled("s_tr", "distance between two rods of one trial block, along the grain", "up")
ruled("l_bl", "length of the trial block along the grain", "up")
ruled("w_tr", "width of the trial block", "down")


@formula("F_tr", source="own-judgement")
def proof_load(k_tr: one, F_w: N) -> N:
    """Well over what the joint will be asked to bear, well under what it should break at."""
    return k_tr * F_w


@formula("W_tr", source="mechanics")
def push_of_the_jack(F_tr: N, a_tr: m, b_tr: m) -> N:
    """A lever that turns on the round bar on its packer; its own weight is not counted."""
    return F_tr * a_tr / b_tr


@formula("m_tr", source="mechanics")
def reading_of_the_scale(W_tr: N, g_n: m_per_s2, m_lv: kg) -> kg:
    """A scale reads a push as the mass that would weigh as much, on top of what it reads with the lever at rest."""
    return W_tr / g_n + m_lv


@formula("m_ul", source="mechanics")
def reading_at_the_strength(R_k: N, a_tr: m, b_tr: m, g_n: m_per_s2, m_lv: kg) -> kg:
    """Where the joint may give, if it is as strong as reckoned, the lever at rest counted in."""
    return R_k * a_tr / b_tr / g_n + m_lv


@formula("m_st", source="beam-theory")
def reading_to_stop_at(q_tr: kg, W_tr: N, g_n: m_per_s2, m_lv: kg, f_p: Pa, A_s: m2, a_tr: m, b_tr: m) -> kg:
    """The end of the scale, what bars twice as high bear, which is four times as much, or what stretches the rod."""
    return min(q_tr, min(4 * W_tr, f_p * A_s * a_tr / b_tr) / g_n + m_lv)


@formula("n_se", source="mechanics")
def scale_ends_first(q_tr: kg, m_st: kg) -> one:
    """Before the bars bend and before the rod stretches."""
    return min(1, floor(m_st / q_tr))


@formula("n_sb", source="beam-theory")
def bars_bend_first(W_tr: N, g_n: m_per_s2, m_lv: kg, m_st: kg, n_se: one) -> one:
    """Before the rod stretches, and before the scale ends. Where neither is first, it is the rod."""
    return (1 - n_se) * min(1, floor(m_st / (4 * W_tr / g_n + m_lv)))


@formula("n_sr", source="mechanics")
def rod_stretches_first(n_se: one, n_sb: one) -> one:
    """What is left."""
    return 1 - n_se - n_sb


@formula("n_ul", source="mechanics")
def strength_is_on_the_scale(m_st: kg, m_ul: kg) -> one:
    """What is not pulled to is not waited for."""
    return min(1, floor(m_st / m_ul))


@formula("F_cl", source="mechanics")
def pull_on_the_clamps(F_tr: N, g_n: m_per_s2, b_tr: m, a_tr: m) -> N:
    """The lever presses the block down at its own packer alone, so the far end is lifted, over twice the rod's arm.

    A reading is told in whole kilograms or pounds, so the jack may push by one more.
    """
    return (F_tr + kilogram * g_n * b_tr / a_tr) / 2


@formula("F_cu", source="mechanics")
def pull_on_the_strap(m_st: kg, m_lv: kg, g_n: m_per_s2, b_tr: m, a_tr: m) -> N:
    """Half of what pulls at the rod when the scale reads where to stop."""
    return (m_st - m_lv) * g_n * b_tr / a_tr / 2


@formula("q_lv", source="mechanics")
def gain_of_the_lever(b_tr: m, a_tr: m) -> one:
    """How many times the push of the jack pulls at the rod."""
    return b_tr / a_tr


@formula("M_tr", source="mechanics")
def moment_in_the_lever(W_tr: N, b_tr: m, a_tr: m) -> N_m:
    """Greatest where the rod pulls."""
    return W_tr * (b_tr - a_tr)


@formula("h_tr", source="beam-theory")
def height_of_the_bars(M_tr: N_m, y_tr: Pa, c_tr: m) -> m:
    """Two flat bars on edge, one on each side of the rod, share the moment."""
    return sqrt(3 * M_tr / (y_tr * c_tr))


@formula("h_ul", source="beam-theory")
def height_of_the_taller_bars(h_tr: m) -> m:
    """Twice as high bears four times as much."""
    return 2 * h_tr


@formula("h_pk", source="own-judgement")
def height_of_the_packers(h_pm: m, h_jk: m, T: m) -> m:
    """Higher than the clamps, and so high that jack and scale go under the bars beside the block."""
    return max(h_pm, h_jk - T)


@formula("g_pk", source="solid-geometry")
def wood_left_bare(a_tr: m, h_pk: m, d: m) -> m:
    """From the rod to the near side of a packer half as broad as high, the round bar on its middle."""
    return a_tr - h_pk / 4 - d / 2


@formula("L_rt", source="own-judgement")
def rod_of_the_trial(T: m, h_pk: m, h_ul: m, l_hd: m) -> m:
    """In the block, past packers and the bars for a pull until it gives, and a hand more."""
    return T + h_pk + h_ul + l_hd


@formula("l_tr", source="own-judgement")
def length_of_the_block(a_tr: m, d: m, h_pk: m, l_cp: m) -> m:
    """Both packers stand on it, half as broad as high, and beyond each there is wood for its clamp."""
    return 2 * a_tr + max(15 * d, h_pk / 2 + 2 * l_cp)


@formula("s_tr", source="own-judgement")
def distance_of_two_rods(a_tr: m) -> m:
    """Between two of them a packer stands as far from the one as from the other."""
    return 2 * a_tr


@formula("l_bl", source="solid-geometry")
def length_of_a_block_of_rods(l_tr: m, n_h: one, s_tr: m) -> m:
    """The wood of one rod, and as much more as the others stand further on."""
    return l_tr + (n_h - 1) * s_tr


@formula("w_tr", source="own-judgement")
def width_of_the_block(a_e: m) -> m:
    """No further to an edge than on the boat: a wide block would flatter the joint."""
    return 2 * a_e


@rule(
    "a packer half as broad as high leaves only {g_pk} of bare wood beside the rod and holds the wood down: give a "
    "longer arm, so that its near side is 5 thread diameters or more from the rod's axis",
    source="own-judgement",
    limits=("W_tr", "m_ul"),
)
def packer_is_clear_of_the_bond(g_pk: m, d: m) -> bool:
    """What is pressed down beside the bond cannot tear out with it; half a diameter is the rod's own."""
    return g_pk >= 4.499 * d


@rule(
    "the jack must stand further out than the rod: take a longer lever",
    source="mechanics",
    limits=("W_tr", "m_ul", "q_lv"),
)
def lever_is_a_lever(b_tr: m, a_tr: m) -> bool:
    """Otherwise the jack pushes harder than the rod is pulled."""
    return b_tr > a_tr


@rule(
    "the proof load would stretch the rod for good: take a rod of stronger material for the trial",
    source="own-judgement",
    limits=("F_tr",),
)
def rod_bears_the_proof_load(F_tr: N, f_p: Pa, A_s: m2) -> bool:
    """A rod that gives way says nothing about the bond."""
    return F_tr <= f_p * A_s * (1 + 1e-9)


@rule(
    "the scale under the jack ends before the proof load: take a longer lever or another scale",
    source="mechanics",
    limits=("m_tr",),
)
def scale_reads_so_far(m_tr: kg, q_tr: kg) -> bool:
    """A scale past its end reads nothing."""
    return m_tr <= q_tr


@rule(
    "the pull stops before the strength reckoned, {m_ul} on the scale: it shows the proof load and no "
    "more; to see what a joint bears, take a longer lever, another scale or a stronger rod",
    source="mechanics",
    refuses=False,
)
def scale_shows_the_strength(m_ul: kg, m_tr: kg, m_st: kg, q_tr: kg) -> bool:
    """Told only where the scale reaches the proof load, or both would be told."""
    return (m_ul <= m_st) | (m_tr > q_tr)


@rule(
    "the hole would come out at the edge of the wood: give more from its axis to the edge than half of the hole",
    source="solid-geometry",
    limits=("w_tr",),
)
def block_is_wider_than_its_hole(a_e: m, D_o: m) -> bool:
    """A block as narrow as its hole is none."""
    return a_e > D_o / 2
