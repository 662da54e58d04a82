"""How a job is parted into mixes: what one fitting takes of a mix, how many fittings one serves, how many there are.

No cup holds more than the most for one, as it is weighed, and none is in use for longer than it lasts. A mix serves
whole fittings where it can; a fitting too large for one cup gets several. All mixes of a job are alike, so one set of
weights does for each. Where a job is filled in lifts, this is for one lift of it, and of a seat for the last.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from ..formula import formula, kilogram, mm, rule
from ..units import Shown, kg, kg_per_m3, m3, one, s
from .define import HUNDREDTH, count, define, mass, minutes, number, volume
from .epoxy import NO_BED

# What is spread with a stick or dipped, so that the same symbols reach it without a syringe.
NO_SYRINGES = ("V_rs", "C_sc")

mass("m_pl", "mix kept plain, out of each mix")
mass("m_sa", "thickened epoxy spread thin as the sample, out of each mix")
minutes("t_pt", "shortest time of filling that a mix is worth making for", "down")
minutes("t_1", "time to fill and set one of what is filled one after another", "up")
minutes("t_ls", "time left to fill and set a fitting when the last of its cups is thickened", "down")
volume("V_u", "thickened epoxy to mix for one fitting, with its waste and what its syringes keep")
count("N_h", "holes of the job, a fastener for each")
mass("m_ro", "most that one cup has for fittings, beside the sample and what is kept plain", "down")
number("r_c", "cups that one fitting takes by weight", HUNDREDTH)
number("r_m", "mixes that one fitting takes", HUNDREDTH)
define("K_m", "fittings that one mix can serve", "dimensionless", Shown("dimensionless", HUNDREDTH, "down", trim=True))
count("n_q", "cups of mix that one fitting takes")
count("n_m", "mixes, one after another")
define(
    "N_w",
    "whole fittings that share a mix at most, 0 where there is one mix or none is shared",
    "dimensionless",
    Shown("dimensionless", HUNDREDTH, "down", trim=True),
)
for name, meaning in {
    "t_bh": "time that hands are busy in all",
    "t_bn": "time that hands are busy with one fitting",
    "t_bf": "time that hands are busy with one fitting, mixing and filling apart",
    "t_bm": "time that hands are busy with one mix and all its lifts",
    "t_bl": "time that hands are busy with one lift of a bore",
    "t_bp": "time that hands are busy with one mix of a seat",
}.items():
    define(name, meaning, "s", Shown("min", Fraction(5), "up"))
define("N_m", "fittings that each mix is for", "dimensionless", Shown("dimensionless", HUNDREDTH, "up", trim=True))


@formula("t_u", source="own-judgement")
def time_for_the_holes_of_a_fitting(n_h: one, t_1: s) -> s:
    """One hole after another."""
    return n_h * t_1


@formula("N_h", source="solid-geometry")
def holes_of_the_job(N: one, n_h: one) -> one:
    """What is bought for each hole is counted by it."""
    return N * n_h


@formula("V_u", source="common-practice")
def syringed_and_spread_for_one_fitting(V_1: m3, V_b: m3, w_a: one, V_s: m3, u_s: one) -> m3:
    """The bed is spread, so that no syringe keeps back anything of it."""
    return V_1 * (1 + w_a) + ceil((V_1 - V_b) * (1 + w_a) / (V_s * u_s)) * V_s * (1 - u_s)


@formula("V_u", source="common-practice", beside=NO_BED)
def syringed_for_one_fitting(V_1: m3, w_a: one, V_s: m3, u_s: one) -> m3:
    """As if each fitting had syringes of its own; fittings that share them take less."""
    return V_1 * (1 + w_a) + ceil(V_1 / (V_s * u_s)) * V_s * (1 - u_s)


@formula("m_e", source="mass-balance")
def mix_for_one_fitting(V_u: m3, rho_p: kg_per_m3, x_f: one, m_w: kg, w_a: one) -> kg:
    """What is thickened, and the wet-out coat with its waste."""
    return V_u * rho_p * (1 - x_f) + m_w * (1 + w_a)


@formula("m_ro", source="common-practice")
def room_of_a_cup(m_c: kg, m_pl: kg, m_sa: kg, x_f: one) -> kg:
    """What is set aside out of each mix takes room in the cup, and so does the tenth of a gram that weighing rounds."""
    return m_c - m_pl - m_sa * (1 - x_f) - 0.0001 * kilogram


@formula("r_c", source="common-practice")
def cups_by_weight(m_e: kg, m_ro: kg, V_s: m3, u_s: one, rho_p: kg_per_m3, x_f: one) -> one:
    """A fitting in several cups may leave one syringe of each half full, and that keeps back as much as a full one."""
    return m_e / (m_ro - V_s * (1 - u_s) * rho_p * (1 - x_f) * min(1, ceil(m_e / m_ro) - 1))


@formula("r_c", source="solid-geometry", beside=NO_SYRINGES)
def cups_by_weight_of_what_is_spread(m_e: kg, m_ro: kg) -> one:
    """No syringe keeps anything back."""
    return m_e / m_ro


@formula("r_m", source="common-practice")
def mixes_for_one_fitting(r_c: one, t_u: s, t_w: s, t_x: s, t_pt: s) -> one:
    """By weight and by the clock."""
    return max(r_c, t_u / max(t_w - t_x, min(t_u, t_pt)))


@formula("K_m", source="solid-geometry")
def fittings_that_one_mix_can_serve(r_m: one) -> one:
    """Whole fittings; or one fitting in whole mixes."""
    return max(floor(1 / r_m), 1 / ceil(r_m))


@formula("n_q", source="solid-geometry")
def cups_of_a_fitting(r_m: one) -> one:
    """Nobody mixes for a part of a fitting: a large one takes whole cups, one after another."""
    return ceil(r_m)


@formula("t_ls", source="own-judgement")
def time_left_for_a_fitting_of_several_cups(t_w: s, n_q: one, t_x: s, t_o: s) -> s:
    """Thin in its tray the first has used up a part of its life; what is left of it then goes as fast as in a cup."""
    return t_w * (1 - min(n_q * t_x / t_o, 1))


@formula("n_m", source="solid-geometry")
def mixes_of_the_job(N: one, K_m: one) -> one:
    """Each is mixed when the one before is used up."""
    return ceil(N / K_m)


@formula("N_m", source="solid-geometry")
def fittings_of_each_mix(N: one, K_m: one, n_m: one) -> one:
    """Shared out evenly, so that none is larger than it need be; the last may be for fewer."""
    return min(K_m, ceil(N / n_m))


@formula("N_w", source="solid-geometry")
def whole_fittings_of_a_mix(N_m: one, n_m: one) -> one:
    """Said only where there are several mixes and each is for whole fittings."""
    return floor(N_m) * min(1, n_m - 1)


@formula("t_bm", source="own-judgement")
def hands_busy_with_the_lifts_of_a_bore(n_l: one, t_bl: s) -> s:
    """Each lift is a mix of its own."""
    return n_l * t_bl


@formula("t_bm", source="own-judgement")
def hands_busy_with_the_lifts_of_a_seat(n_pl: one, n_m: one, t_bp: s) -> s:
    """The mixes of the lower lifts are shared out among those of the last, so that all are counted by these."""
    return (1 + n_pl / n_m) * t_bp


@formula("t_bh", source="own-judgement")
def hands_busy_where_nothing_is_mixed(N: one, t_bn: s) -> s:
    """One fitting after another."""
    return N * t_bn


@formula("t_bh", source="own-judgement")
def hands_busy_fittings_and_mixes(N: one, t_bf: s, n_m: one, t_bm: s) -> s:
    """The time plan goes by fittings, but by mixes where it mixes and fills."""
    return N * t_bf + n_m * t_bm


@rule(
    "a mix lasts {t_w} in the cup, and it takes {t_x} to the first fitting: take a slower "
    "hardener, work cooler, or give the time your own hands take, on a job sheet as 'prepare'",
    source="own-judgement",
    limits=("r_m", "m_r", "m_h", "m_bl"),
)
def a_mix_outlasts_its_making(t_w: s, t_x: s) -> bool:
    """Epoxy that has begun to go off is not used, so nothing is weighed out for it."""
    return t_w > t_x * (1 + 1e-9)


@rule(
    "a mix goes off before what it is for is filled and set: work cooler, take a slower hardener, or fill with two "
    "people",
    source="own-judgement",
    refuses=False,
)
def a_mix_outlasts_a_fitting(t_x: s, t_u: s, K_m: one, t_w: s) -> bool:
    """Of a fitting in several mixes each fills its part."""
    return t_x + t_u * min(1, K_m) <= t_w * (1 + 1e-9)


@rule(
    "one fitting takes {n_q} cups, and the first goes off in the tray before the last is in place: take a slower "
    "hardener, work cooler, give the time that two people take, or, where no bed of epoxy joins its holes, "
    "count each hole as a fitting of its own",
    source="own-judgement",
    limits=("K_m",),
)
def the_first_cup_of_a_fitting_outlasts_its_last(r_c: one, n_q: one, t_x: s, t_o: s, t_u: s, t_w: s) -> bool:
    """All has to be wet at once: the first uses a part of its life in the tray, the rest in syringe, hole or heap."""
    return (r_c <= 1) | (n_q * t_x * t_w + t_u * t_o <= t_w * t_o * (1 + 1e-9))


@rule(
    "a mix lasts {t_w} in the cup, and {t_x} of it go by before the first of a fitting is filled in, so that it goes "
    "off before the last is: take a slower hardener, work cooler, give the time that your own hands or two people "
    "take, on a job sheet as 'prepare' and 'fill', or, where no bed of epoxy joins its holes, "
    "count each hole as a fitting of its own",
    source="own-judgement",
    limits=("K_m",),
)
def a_cup_outlasts_the_fitting_that_it_would_do_for(r_c: one, n_q: one, t_x: s, t_o: s, t_u: s, t_w: s) -> bool:
    """By weight one cup does. By the clock several would do no better, for the first of them is gone as soon."""
    return (r_c > 1) | (n_q <= 1) | (n_q * t_x * t_w + t_u * t_o <= t_w * t_o * (1 + 1e-9))


@rule(
    "{n_s} syringes of {V_s} are many to load from one mix before it goes off: take larger ones and work the card "
    "with them, or with fewer fittings, and mix anew for the rest",
    source="own-judgement",
    refuses=False,
)
def a_mix_goes_into_few_syringes(n_s: one, V_s: m3) -> bool:
    """Each costs time, and nobody needs one that is larger than 60 mL."""
    return (n_s <= 4) | (V_s >= 60000 * mm**3)


@rule(
    "of so much epoxy less than {w_a} is wasted, for cup, tray and sticks keep no more of a large mix than of a small "
    "one: allow 20 %",
    source="own-judgement",
    refuses=False,
)
def a_large_mix_wastes_no_more_than_a_small_one(w_a: one, N_m: one, V_1: m3) -> bool:
    """What clings to cup, tray and sticks is some 20 mL at the most: 20 % of 100 mL."""
    return (w_a <= 0.25) | (N_m * V_1 < 100000 * mm**3)


@rule(
    "while one mix is set, the time to turn the last one's screws loose runs out: let a second person watch the "
    "samples, take a slower hardener, or work cooler",
    source="own-judgement",
    refuses=False,
)
def a_mix_is_set_while_the_last_can_be_loosened(n_m: one, t_x: s, t_u: s, N_m: one, t_y1: s, t_y2: s) -> bool:
    """Between two mixes there must be a moment for it."""
    return (n_m <= 1) | (t_x + t_u * N_m <= t_y2 - t_y1)
