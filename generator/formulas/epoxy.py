"""How much epoxy: what fills the hole and the bed, what wets out the wood, and what to weigh out."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, cos, pi, sin

from ..formula import formula, kilogram, rule
from ..units import kg, kg_per_m2, kg_per_m3, m, m2, m3, one, rad
from .define import (
    HUNDREDTH,
    PAD_IN,
    PAD_MM,
    count,
    coverage,
    density,
    mass,
    number,
    ruled,
    share,
    sized,
    surface,
    volume,
)

# Epoxy that fills
volume("V_r", "ring round the thread in the oversized hole")
volume("V_f", "cone at the floor of the oversized hole")
volume("V_e", "pocket under the end of the fastener")
volume("V_g", "voids of the guide hole")
ruled("a_b", "length of the fitting's base")
ruled("b_b", "width of the fitting's base")
surface("A_b", "area of the fitting's base")
ruled("p_b", "perimeter of the fitting's base")
sized("t_m", "mean thickness of the cast bed", PAD_MM, PAD_IN)
sized("r_f", "leg of the fillet round the base", PAD_MM, PAD_IN)
volume("V_b", "cast bed under the base, with its fillet")
count("n_h", "holes in one fitting")
volume("V_1", "thickened epoxy in one fitting")
count("N", "number of fittings")
share("w_a", "allowance for waste")
volume("V_s", "syringe size", Fraction(1))
share("u_s", "part of a syringe that can be pushed out")
count("n_s", "syringes to load")
volume("V", "thickened epoxy for the job")

# Epoxy that wets out
surface("A_e", "end wall of a blind hole")
surface("A_h", "wood in one hole to wet out")
coverage("w_h", "wet-out coat in a bored hole")
coverage("w_b", "wet-out coat on the surface under the base")
mass("m_w", "wet-out coat for one fitting")

# The mix
number("n_v", "parts of resin to one of hardener by volume", HUNDREDTH, positive=True)
number("n_w", "parts of resin to one of hardener by weight", HUNDREDTH, positive=True)
density("rho_r", "density of the resin")
density("rho_h", "density of the hardener")
density("rho_m", "density of the mixed resin and hardener")
density("rho_b", "loose density of the filler")
density("rho_t", "true density of the filler")
number("q_f", "loose filler to one of mixed resin by volume", HUNDREDTH)
share("x_f", "filler as a part of the thickened mass")
mass("m_t", "thickened epoxy for the job, by weight")
mass("m_n", "resin and hardener needed")
mass("m_min", "smallest batch worth weighing")
mass("m_b", "resin and hardener to mix")
mass("m_r", "resin to weigh out", "nearest")
mass("m_h", "hardener to weigh out", "nearest")
mass("m_f", "filler to weigh out")
volume("v_r", "resin to measure out")
volume("v_h", "hardener to measure out")
volume("v_f", "filler to measure out, loose")

# What fills


@formula("V_r", source="solid-geometry")
def ring_volume(D_o: m, d_v: m, L_o: m) -> m3:
    """Epoxy in the ring between the thread and the oversized hole."""
    return pi / 4 * (D_o**2 - d_v**2) * L_o


@formula("V_f", source="solid-geometry")
def floor_cone_volume(D_o: m, D_g: m, alpha_o: rad) -> m3:
    """The cone a pointed drill leaves at the floor of the oversized hole, outside the guide hole."""
    return pi / 24 * (D_o - D_g) ** 2 * (D_o + 2 * D_g) * cos(alpha_o / 2) / sin(alpha_o / 2)


@formula("V_e", source="solid-geometry")
def end_pocket_volume(D_g: m, h_g: m, d_v: m, c_e: m) -> m3:
    """Blind hole only: the room that the fastener leaves by stopping short, and the cone of the guide drill."""
    return pi / 4 * (d_v**2 * c_e + D_g**2 * h_g / 3)


@formula("V_g", source="solid-geometry")
def guide_hole_voids(D_g: m, d_v: m, L_g: m, V_e: m3) -> m3:
    """Thread grooves and slack in the guide hole, and the pocket under the fastener's end."""
    return pi / 4 * (D_g**2 - d_v**2) * L_g + V_e


@formula("A_b", source="solid-geometry")
def base_area(a_b: m, b_b: m) -> m2:
    """A rectangular base, its holes not taken off."""
    return a_b * b_b


@formula("p_b", source="solid-geometry")
def base_perimeter(a_b: m, b_b: m) -> m:
    """A rectangular base."""
    return 2 * (a_b + b_b)


@formula("V_b", source="solid-geometry")
def bed_volume(A_b: m2, t_m: m, p_b: m, r_f: m) -> m3:
    """Bed of mean thickness, and a straight 45 degree fillet round it, corners rounded."""
    return A_b * t_m + r_f**2 / 2 * p_b + pi / 3 * r_f**3


@formula("V_1", source="solid-geometry")
def volume_per_fitting(n_h: one, V_r: m3, V_f: m3, V_g: m3, V_b: m3) -> m3:
    """All that one fitting takes, nothing lost."""
    return n_h * (V_r + V_f + V_g) + V_b


@formula("n_s", source="common-practice")
def syringes_to_load(N: one, V_1: m3, w_a: one, V_s: m3, u_s: one) -> one:
    """Whole syringes; each keeps back what cannot be pushed out of it."""
    return ceil(N * V_1 * (1 + w_a) / (V_s * u_s))


@formula("V", source="common-practice")
def volume_for_the_job(N: one, V_1: m3, w_a: one, n_s: one, V_s: m3, u_s: one) -> m3:
    """The fittings, the waste, and what stays in the syringes."""
    return N * V_1 * (1 + w_a) + n_s * V_s * (1 - u_s)


# What wets out


@formula("A_e", source="solid-geometry")
def end_wall_area(D_g: m, alpha_g: rad) -> m2:
    """Blind hole only: the cone that the guide drill leaves, or a flat floor at 180 degrees."""
    return pi / 4 * D_g**2 / sin(alpha_g / 2)


@formula("A_h", source="solid-geometry")
def hole_wall_area(D_o: m, L_o: m, D_g: m, L_g: m, alpha_o: rad, A_e: m2) -> m2:
    """Both walls, the step or cone between them, and the end of a blind hole."""
    return pi * D_o * L_o + pi * D_g * L_g + pi / 4 * (D_o**2 - D_g**2) / sin(alpha_o / 2) + A_e


@formula("m_w", source="common-practice")
def wet_out_mass(n_h: one, A_h: m2, w_h: kg_per_m2, A_b: m2, w_b: kg_per_m2) -> kg:
    """Unthickened epoxy that the wood drinks: holes, and the surface under the base."""
    return n_h * A_h * w_h + A_b * w_b


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
def neat_mass(m_t: kg, x_f: one, N: one, m_w: kg, w_a: one) -> kg:
    """Resin and hardener in the thickened epoxy, and the wet-out coats with their waste."""
    return m_t * (1 - x_f) + N * m_w * (1 + w_a)


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


@rule(
    "over 100 g of mix: a cup of it can heat itself. Mix one batch after another, none larger than you use at once",
    source="common-practice",
    refuses=False,
)
def batch_stays_cool(m_b: kg) -> bool:
    """The limit for a fast hardener; a slow one bears more."""
    return m_b <= 0.1 * kilogram


@rule(
    "more hardener than resin: a ratio is written resin first; look at the can again",
    source="common-practice",
    refuses=False,
)
def resin_comes_first(n_v: one) -> bool:
    """No boatbuilding epoxy takes more hardener than resin."""
    return n_v >= 1


@rule("filler is a part of the whole: take x_f under 100 %", source="mass-balance")
def filler_is_a_part(x_f: one) -> bool:
    """The rest is resin and hardener."""
    return x_f < 1


@rule("give a whole number of fittings, at least 1", source="solid-geometry")
def whole_fittings(N: one) -> bool:
    """Half a fitting cannot be bonded."""
    return max(1, ceil(N)) <= N


@rule("give a whole number of holes, at least 1", source="solid-geometry")
def whole_holes(n_h: one) -> bool:
    """Half a hole cannot be bored."""
    return max(1, ceil(n_h)) <= n_h


@rule("part of a syringe that can be pushed out: more than 0, at most 1", source="solid-geometry")
def syringe_gives_something(u_s: one) -> bool:
    """A syringe that gives nothing would need endless refills."""
    return (u_s > 0) & (u_s <= 1)
