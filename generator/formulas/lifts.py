"""Filling a bore in lifts, each of a mix of its own: how many, how deep, and what to weigh out and load for one.

A long plug sheds its heat through its wall, a flat layer through its two faces, a short plug through both. A lift is as
deep as it may be and still shed its heat; a bore that is narrow enough is one lift. A lift is filled in all bores of
the job at once, so its mix is for all of them.
"""

from __future__ import annotations

from math import ceil, pi, sqrt

from ..formula import formula, rule
from ..units import kg, kg_per_m3, m, m3, one
from .define import count, drill, mass, ruled, volume

drill("D_l", "bore that is filled with epoxy")
count("n_l", "lifts to fill the bore in")
ruled("h_l", "depth of each lift")
volume("V_l", "thickened epoxy for one lift in one bore")
mass("m_wl", "wet-out coat for one lift in one fitting")
count("n_sl", "syringes to load for one lift")
mass("m_tl", "thickened epoxy for one lift in all bores, by weight")
mass("m_nl", "resin and hardener needed for one lift")
mass("m_bl", "resin and hardener to mix for one lift")
mass("m_rl", "resin to weigh out for one lift", "nearest")
mass("m_hl", "hardener to weigh out for one lift", "nearest")
mass("m_fl", "filler to weigh out for one lift")
volume("v_rl", "resin to measure out for one lift")
volume("v_hl", "hardener to measure out for one lift")
volume("v_fl", "filler to measure out for one lift, loose")


@formula("n_l", source="finite-cylinder")
def lifts_to_fill(h_w: m, h_p: m, D_l: m, d_p: m) -> one:
    """Wall and faces share the heat: the narrower the bore, the deeper a lift may be.

    The sum of both is taken as 1.05, not 1, because it promises up to 5 % more than the equation of self-heating does.
    """
    return max(1, ceil(h_w / h_p * sqrt(max(0, 1.05 - (d_p / D_l) ** 2))))


@formula("h_l", source="solid-geometry")
def depth_of_a_lift(h_w: m, n_l: one) -> m:
    """All alike."""
    return h_w / n_l


@formula("V_l", source="solid-geometry")
def lift_in_one_bore(D_l: m, h_l: m) -> m3:
    """A round bore; what is drilled out again is not taken off."""
    return pi / 4 * D_l**2 * h_l


@formula("m_wl", source="common-practice")
def wet_out_of_a_lift(m_w: kg, n_l: one) -> kg:
    """Only as far up as the lift goes: a coat that has set before it is covered is a coat to sand."""
    return m_w / n_l


@formula("n_sl", source="common-practice")
def syringes_for_a_lift(N: one, n_h: one, V_l: m3, w_a: one, V_s: m3, u_s: one) -> one:
    """Whole syringes; each keeps back what cannot be pushed out of it."""
    return ceil(N * n_h * V_l * (1 + w_a) / (V_s * u_s))


@formula("m_tl", source="common-practice")
def thickened_for_a_lift(N: one, n_h: one, V_l: m3, w_a: one, n_sl: one, V_s: m3, u_s: one, rho_p: kg_per_m3) -> kg:
    """The bores, the waste, and what stays in the syringes."""
    return (N * n_h * V_l * (1 + w_a) + n_sl * V_s * (1 - u_s)) * rho_p


@formula("m_nl", source="mass-balance")
def neat_for_a_lift(m_tl: kg, x_f: one, N: one, m_wl: kg, w_a: one) -> kg:
    """Resin and hardener in the thickened epoxy, and the coats with their waste."""
    return m_tl * (1 - x_f) + N * m_wl * (1 + w_a)


@formula("m_bl", source="common-practice")
def batch_for_a_lift(m_nl: kg, m_min: kg) -> kg:
    """Never under the smallest batch that a scale can keep in ratio."""
    return max(m_nl, m_min)


@formula("m_rl", source="mass-balance")
def resin_for_a_lift(m_bl: kg, n_w: one) -> kg:
    """The resin's part of the mix."""
    return m_bl * n_w / (n_w + 1)


@formula("m_hl", source="mass-balance")
def hardener_for_a_lift(m_bl: kg, n_w: one) -> kg:
    """The hardener's part of the mix."""
    return m_bl / (n_w + 1)


@formula("m_fl", source="mass-balance")
def filler_for_a_lift(m_bl: kg, N: one, m_wl: kg, w_a: one, x_f: one) -> kg:
    """All that is not spent on the coats is thickened, in a smallest batch as well."""
    return (m_bl - N * m_wl * (1 + w_a)) * x_f / (1 - x_f)


@formula("v_rl", source="mass-balance")
def resin_volume_for_a_lift(m_rl: kg, rho_r: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_rl / rho_r


@formula("v_hl", source="mass-balance")
def hardener_volume_for_a_lift(m_hl: kg, rho_h: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_hl / rho_h


@formula("v_fl", source="mass-balance")
def filler_volume_for_a_lift(m_fl: kg, rho_b: kg_per_m3) -> m3:
    """Loose in the cup, not pressed down."""
    return m_fl / rho_b


@rule(
    "the bore is wider than what sheds its own heat: fill it in lifts, each of a mix of its own, when the one before "
    "has cooled and is still tacky",
    source="finite-cylinder",
    refuses=False,
)
def one_lift_fills_the_bore(n_l: one) -> bool:
    """A plug that runs hot cracks and foams."""
    return n_l <= 1
