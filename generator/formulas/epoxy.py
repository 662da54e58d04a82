"""How much epoxy: what fills the hole and the bed, what wets out the wood, and what to weigh out."""

from __future__ import annotations

from math import ceil, cos, pi, sin

from ..formula import formula, rule
from ..units import kg, kg_per_m2, kg_per_m3, m, m2, m3, one, rad

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
def end_wall_area(D_g: m) -> m2:
    """Blind hole only; the small cone counts as flat."""
    return pi / 4 * D_g**2


@formula("A_h", source="solid-geometry")
def hole_wall_area(D_o: m, L_o: m, D_g: m, L_g: m, A_e: m2) -> m2:
    """Both walls, the step between them, and the end of a blind hole."""
    return pi * D_o * L_o + pi * D_g * L_g + pi / 4 * (D_o**2 - D_g**2) + A_e


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
