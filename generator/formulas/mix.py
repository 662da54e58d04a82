"""Mixing and thickening: ratios by volume and on the scale, what to weigh out, fillers and how stiff a mix is."""

from __future__ import annotations

from math import ceil, floor

from ..formula import formula, rule
from ..units import Shown, kg, kg_per_m3, m, m3, one
from .define import HUNDREDTH, TENTH, define, density, mark, mass, number, share, volume

# The fillers whose row gives k_u as 1, for the rules that refuse the others.
STRONG_FILLERS = "Take dense mineral filler, colloidal silica, cotton or milled glass"

# What to weigh out
number("n_v", "parts of resin to one of hardener by volume", HUNDREDTH, positive=True)
number("n_w", "parts of resin to one of hardener by weight", HUNDREDTH, positive=True)
density("rho_r", "density of the resin")
density("rho_h", "density of the hardener")
density("rho_m", "density of the mixed resin and hardener")
density("rho_b", "loose density of the filler")
density("rho_t", "true density of the filler")
number("q_f", "loose filler to one of mixed resin by volume", HUNDREDTH)
share("x_f", "filler as a part of the thickened mass")
mass("m_t", "thickened epoxy in each mix, by weight")
mass("m_wm", "wet-out coats out of each mix, with their waste")
mass("m_rp", "resin and hardener that is not thickened, out of each mix")
mass("m_n", "resin and hardener needed in each mix")
mass("m_min", "smallest batch worth weighing")
mass("m_b", "resin and hardener to mix at once")
mass("m_r", "resin to weigh out", "nearest")
mass("m_h", "hardener to weigh out", "nearest")
mass("m_po", "mix to pour off for the coats and to keep plain, out of each mix")
mass("m_f", "filler to weigh out")
mass("m_u", "resin and hardener to take out and thicken")
volume("v_r", "resin to measure out", direction="nearest")
volume("v_h", "hardener to measure out", direction="nearest")
volume("v_f", "filler to measure out, loose")

# Scales
share("e_v", "too much hardener when a volume ratio is weighed")
mass("s_c", "step that the scale shows")
mass("m_hc", "hardener to weigh out in whole steps of the scale", "nearest")
mass("m_rc", "resin to weigh out in whole steps of the scale", "nearest")
volume("v_hc", "hardener to measure out, as much as is weighed in whole steps of the scale", direction="nearest")
volume("v_rc", "resin to measure out, as much as is weighed in whole steps of the scale", direction="nearest")
share("e_h", "error of the hardener against the resin, each half a step of the scale off")
share("e_t", "error of the hardener that the epoxy forgives")
mass("m_ok", "smallest batch that the scale keeps in ratio")

# Fillers
number("q_s", "loose filler to one of mixed resin by volume, for a stiff mix", HUNDREDTH)
number("u_q", "filler for the consistency wanted as a part of the filler for a stiff mix", HUNDREDTH)
mark("k_u", "leave for a filler to stand round a loaded fastener, 1 for yes")
mark("k_fa", "mark of a mix with a filler that is for fairing only")
mark("k_jo", "mark of a mix that a joint may take")
mass("m_i", "resin and hardener to thicken")
mass("m_y", "filler for the mix that is thickened")
volume("v_y", "filler for the mix that is thickened, loose")
volume("V_o", "scoop, level")
mass("m_o", "filler in a level scoop")
define("n_o", "level scoops of filler", "dimensionless", Shown("dimensionless", TENTH, trim=True))
density("rho_p", "density of the thickened epoxy")
volume("V_y", "thickened epoxy that the mix makes")

# What to weigh out


@formula("n_w", source="mass-balance")
def ratio_by_weight(n_v: one, rho_r: kg_per_m3, rho_h: kg_per_m3) -> one:
    """A volume ratio is not a weight ratio: the resin is the heavier liquid."""
    return n_v * rho_r / rho_h


@formula("n_v", source="mass-balance")
def ratio_by_volume(n_w: one, rho_r: kg_per_m3, rho_h: kg_per_m3) -> one:
    """The same the other way round, for a can that states weights."""
    return n_w * rho_h / rho_r


@formula("rho_m", source="mass-balance")
def mixed_density(n_v: one, rho_r: kg_per_m3, rho_h: kg_per_m3) -> kg_per_m3:
    """Masses add, and volumes are taken to add."""
    return (n_v * rho_r + rho_h) / (n_v + 1)


@formula("x_f", source="mass-balance")
def filler_share(q_f: one, rho_b: kg_per_m3, rho_m: kg_per_m3) -> one:
    """From loose volumes to a part of the mass."""
    return q_f * rho_b / (q_f * rho_b + rho_m)


@formula("m_t", source="mass-balance")
def thickened_mass(V: m3, x_f: one, rho_m: kg_per_m3, rho_t: kg_per_m3) -> kg:
    """Filler fills only the room its own solid takes: the air between its grains is stirred out."""
    return V / ((1 - x_f) / rho_m + x_f / rho_t)


@formula("m_n", source="mass-balance")
def neat_mass(m_t: kg, x_f: one, N_m: one, m_w: kg, w_a: one, m_pl: kg) -> kg:
    """Resin and hardener in the thickened epoxy, the wet-out coats with their waste, and what is kept plain."""
    return m_t * (1 - x_f) + N_m * m_w * (1 + w_a) + m_pl


@formula("m_wm", source="mass-balance")
def coats_out_of_a_mix(N_m: one, m_w: kg, w_a: one) -> kg:
    """Of a fitting in several mixes each coats its part."""
    return N_m * m_w * (1 + w_a)


@formula("m_po", source="mass-balance")
def poured_off(m_wm: kg, m_pl: kg) -> kg:
    """Before any filler goes in."""
    return m_wm + m_pl


@formula("m_rp", source="mass-balance")
def left_plain(m_b: kg, m_u: kg) -> kg:
    """What is kept plain, what wets the wood, and what the smallest batch has over."""
    return m_b - m_u


@formula("m_b", source="common-practice")
def batch_mass(m_n: kg, m_min: kg) -> kg:
    """Never under the smallest batch that a scale can keep in ratio."""
    return max(m_n, m_min)


@formula("m_r", source="mass-balance")
def resin_mass(m_b: kg, n_w: one) -> kg:
    """The resin's part of the mix."""
    return m_b * n_w / (n_w + 1)


@formula("m_h", source="mass-balance")
def hardener_mass(m_b: kg, n_w: one) -> kg:
    """The hardener's part of the mix."""
    return m_b / (n_w + 1)


@formula("m_f", source="mass-balance")
def filler_mass(m_t: kg, x_f: one) -> kg:
    """The filler's part of the thickened epoxy."""
    return m_t * x_f


@formula("m_u", source="mass-balance")
def mix_to_take_out(m_t: kg, m_f: kg) -> kg:
    """Where most of the mix comes back unthickened, only what is needed is thickened."""
    return m_t - m_f


@formula("v_r", source="mass-balance")
def resin_volume(m_r: kg, rho_r: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_r / rho_r


@formula("v_h", source="mass-balance")
def hardener_volume(m_h: kg, rho_h: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_h / rho_h


@formula("v_f", source="mass-balance")
def filler_volume(m_f: kg, rho_b: kg_per_m3) -> m3:
    """Loose in the cup, not pressed down."""
    return m_f / rho_b


# Scales


@formula("e_v", source="mass-balance")
def overdose(n_w: one, n_v: one) -> one:
    """Two to one by volume, weighed as two to one, has this much hardener over its dose."""
    return n_w / n_v - 1


@formula("m_hc", source="mass-balance")
def hardener_that_the_scale_shows(m_h: kg, s_c: kg) -> kg:
    """The smaller part first, to the nearest step."""
    return floor(m_h / s_c + 1 / 2) * s_c


@formula("m_rc", source="mass-balance")
def resin_that_the_scale_shows(m_hc: kg, n_w: one, s_c: kg) -> kg:
    """To that hardener, so that the two are in ratio as nearly as the scale can show it."""
    return floor(m_hc * n_w / s_c + 1 / 2) * s_c


@formula("v_hc", source="mass-balance")
def volume_of_the_hardener_weighed(m_hc: kg, rho_h: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_hc / rho_h


@formula("v_rc", source="mass-balance")
def volume_of_the_resin_weighed(m_rc: kg, rho_r: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_rc / rho_r


@formula("e_h", source="scale-error")
def scale_error(s_c: kg, m_r: kg, m_h: kg) -> one:
    """Half a step too much of the one and half a step too little of the other: the two parts add up."""
    return s_c / 2 / m_h + s_c / 2 / m_r


@formula("m_ok", source="scale-error")
def smallest_batch_on_the_scale(s_c: kg, e_t: one, n_w: one) -> kg:
    """Where half a step on each of the two is just what the epoxy forgives."""
    return s_c / 2 / e_t * (n_w + 1) ** 2 / n_w


# Fillers


@formula("q_f", source="common-practice")
def loading(u_q: one, q_s: one) -> one:
    """Where to stop by number; the look of the mix decides."""
    return u_q * q_s


@formula("k_fa", source="common-practice")
def mix_is_for_fairing(k_u: one, u_q: one) -> one:
    """Where no filler goes in, no matter which was chosen."""
    return (1 - k_u) * ceil(u_q)


@formula("k_jo", source="common-practice")
def mix_is_for_a_joint(k_fa: one) -> one:
    """Every other mix."""
    return 1 - k_fa


@formula("m_i", source="mass-balance")
def rest_to_thicken(m_b: kg, N_m: one, m_w: kg, w_a: one, m_pl: kg) -> kg:
    """All but the coats and what is kept plain: a batch that had to be larger than is needed takes more filler."""
    return m_b - N_m * m_w * (1 + w_a) - m_pl


@formula("m_y", source="mass-balance")
def filler_for_a_batch(m_i: kg, x_f: one) -> kg:
    """The rest of the thickened mass is the mixed resin and hardener."""
    return m_i * x_f / (1 - x_f)


@formula("v_y", source="mass-balance")
def filler_volume_for_a_batch(m_y: kg, rho_b: kg_per_m3) -> m3:
    """Loose in the cup, not pressed down."""
    return m_y / rho_b


@formula("m_o", source="mass-balance")
def scoop_of_filler(V_o: m3, rho_b: kg_per_m3) -> kg:
    """Level, not pressed down."""
    return V_o * rho_b


@formula("n_o", source="mass-balance")
def scoops_of_filler(m_y: kg, m_o: kg) -> one:
    """For a shop without a scale."""
    return m_y / m_o


@formula("rho_p", source="mass-balance")
def thickened_density(x_f: one, rho_m: kg_per_m3, rho_t: kg_per_m3) -> kg_per_m3:
    """The air between the grains is stirred out."""
    return 1 / ((1 - x_f) / rho_m + x_f / rho_t)


@formula("V_y", source="mass-balance")
def thickened_volume(m_i: kg, m_y: kg, rho_p: kg_per_m3) -> m3:
    """A cup of colloidal silica all but vanishes in the mix; a cup of hollow spheres stays half a cup."""
    return (m_i + m_y) / rho_p


@rule(
    "more mix than {m_c} in one cup can heat itself: mix one batch after another, none larger than you use at once",
    source="common-practice",
    refuses=False,
)
def batch_stays_cool(m_b: kg, m_c: kg) -> bool:
    """The limit for a fast hardener; a slow one bears more."""
    return m_b <= m_c * (1 + 1e-9)


@rule(
    "more hardener than resin: a ratio is written resin first; look at the can again",
    source="common-practice",
    refuses=False,
)
def resin_comes_first(n_v: one) -> bool:
    """No boatbuilding epoxy takes more hardener than resin."""
    return n_v >= 1


@rule(
    "a runny mix drips out of all but a level hole that is tight below, so this joint cannot be filled with it: take "
    "it thicker",
    source="common-practice",
    limits=("x_f",),
)
def a_joint_is_filled_with_thickened_epoxy(u_q: one, w_a: one) -> bool:
    """Asked where a joint is filled, and waste counted; a mix that is only mixed may be runny."""
    return (u_q > 0) | (w_a < 0)


# A mix is taken as stiff from 0.8 of the filler of a stiff one; a soft one has less. That the rows are so, and that the
# rules turn there, is held by tests/test_guards.py.
_SAGS = "a mix that is not stiff sags out of a bed, off a plate and out of a hole that lies: take it stiff"
_STANDS = (
    "so stiff a mix is scraped off at the mouth and does not flow into the thread's roots: take it soft or sagging"
)


@rule(_SAGS, source="common-practice", refuses=False)
def a_bed_stays_where_it_is_put(u_q: one, V_b: m3) -> bool:
    """A trial joint has no bed."""
    return (u_q >= 0.8) | (V_b <= 0)


@rule(_SAGS, source="common-practice", refuses=False)
def a_plate_takes_its_epoxy_up(u_q: one, h_rsp: m) -> bool:
    """It is heaped, and pressed up from below."""
    return (u_q >= 0.8) | (h_rsp <= 0)


@rule(_STANDS, source="common-practice", refuses=False)
def a_screw_takes_its_epoxy_down(u_q: one, E_sc: m3) -> bool:
    """It is dipped and driven."""
    return (u_q < 0.8) | (E_sc < 0)


@rule(_STANDS, source="common-practice", refuses=False)
def a_cast_thread_is_filled(u_q: one, L_ct: m) -> bool:
    """The screw is pressed into it."""
    return (u_q < 0.8) | (L_ct <= 0)


@rule(_STANDS, source="common-practice", refuses=False)
def a_bush_is_wetted_all_round(u_q: one, V_bu: m3) -> bool:
    """The bush is pressed into it."""
    return (u_q < 0.8) | (V_bu <= 0)


@rule("filler is a part of the whole: take less than 100 %", source="mass-balance")
def filler_is_a_part(x_f: one) -> bool:
    """The rest is resin and hardener."""
    return x_f < 1


@rule(
    f"this filler never goes round a loaded fastener: it crushes, or lets the thread pull out. {STRONG_FILLERS}",
    source="common-practice",
    limits=("x_f", "R_w", "R_y", "L_n"),
)
def filler_suits_a_fastener(k_u: one, V_r: m3) -> bool:
    """Asked only where epoxy stands round a thread."""
    return (V_r < 0) | (k_u >= 0.5)


@rule(
    "this filler is for fairing: put it round no fastener, in no bored hole and under no base, and hang nothing on it",
    source="common-practice",
    refuses=False,
)
def filler_is_for_more_than_fairing(k_fa: one, u_mx: one) -> bool:
    """Asked where it is only mixed; a card that puts it round a fastener refuses it."""
    return (k_fa < 0.5) | (u_mx < 0)


@rule(
    "the scale is too coarse for so small a batch: mix {m_ok} or more, or take a finer scale",
    source="scale-error",
    limits=("m_r", "m_h"),
)
def scale_keeps_the_ratio(m_b: kg, m_ok: kg, u_mx: one) -> bool:
    """Half a step off on both parts would be past what a mix bears. Asked where a part is kept plain."""
    return (u_mx < 0) | (m_b * (1 + 1e-9) >= m_ok)
