"""Heat of the cure: how thick epoxy may stand, how long a big pour lasts, and how many fittings one mix serves.

A mix heats itself as it cures, and warmth speeds the cure. What cannot shed its heat runs away. How thick a body may be
and still shed it is Frank-Kamenetskii's problem of self-heating; the shop's own limits stand beside it, and the smaller
of the two is taken.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, sqrt

from ..formula import formula, rule
from ..units import (
    J_per_kg,
    J_per_kg_K,
    J_per_mol,
    J_per_mol_K,
    K,
    Shown,
    W_per_m3,
    W_per_m_K,
    dK,
    kg,
    kg_per_m3,
    kg_per_mol,
    m,
    one,
    s,
)
from .define import HUNDREDTH, TENTH, THOUSANDTH, count, define, mass, minutes, number, ruled, sized

# Heat
define("H_e", "heat of the cure of a mole of epoxide", "J/mol", Shown("kJ/mol", TENTH, trim=True))
define("M_e", "resin that holds a mole of epoxide", "kg/mol", Shown("g/mol", TENTH, trim=True), positive=True)
define("M_h", "hardener that takes a mole of epoxide", "kg/mol", Shown("g/mol", TENTH, trim=True), positive=True)
define("H_m", "heat of the cure of the mix", "J/kg", Shown("J/g", Fraction(1), "up"))
define(
    "c_m",
    "heat capacity of the mixed resin and hardener",
    "J/(kg*K)",
    Shown("kJ/(kg*delta_degC)", HUNDREDTH),
    positive=True,
)
define("c_f", "heat capacity of the filler", "J/(kg*K)", Shown("kJ/(kg*delta_degC)", HUNDREDTH), positive=True)
define(
    "dT_m",
    "self-heating of the mix if no heat were lost",
    "delta_degC",
    Shown("delta_degC", Fraction(1), "up"),
    Shown("delta_degF", Fraction(1), "up"),
)
define(
    "dT_e",
    "warming that makes the cure 2.72 times as fast",
    "delta_degC",
    Shown("delta_degC", TENTH),
    Shown("delta_degF", TENTH),
)
number("x_g", "part of the cure done when the mix gels", THOUSANDTH)
define("Q_v", "heat that the mix gives off while it goes off", "W/m**3", Shown("W/L", TENTH, "up"))
define("lambda_e", "thermal conductivity of epoxy", "W/(m*K)", Shown("W/(m*delta_degC)", HUNDREDTH), positive=True)

# How thick
number("delta_p", "Frank-Kamenetskii's limit for a layer", THOUSANDTH, positive=True)
number("delta_r", "Frank-Kamenetskii's limit for a round rod", THOUSANDTH, positive=True)
sized("h_1", "thickest layer of the shop's rule", Shown("mm", TENTH, "down", trim=True), Shown("in", HUNDREDTH, "down"))
sized("d_1", "thickest plug of the shop's rule", Shown("mm", TENTH, "down", trim=True), Shown("in", HUNDREDTH, "down"))
ruled("h_p", "thickest layer to pour at once", "down")
ruled("d_p", "thickest plug to fill at once", "down")
ruled("h_w", "thickness wanted")
count("n_p", "layers to pour")
minutes("t_v", "working time in the middle of a big pour", "down")

# One mix
mass("m_e", "resin and hardener for one fitting")
mass("m_c", "most to mix in one cup", "down")
minutes("t_x", "time from mixing to the first fitting", "up")
minutes("t_u", "time to fill and set one fitting", "up")
define("N_b", "fittings that one mix serves", "dimensionless", Shown("dimensionless", Fraction(1), "down"))
count("n_b", "mixes for the job")


@formula("H_m", source="heat-of-mixing")
def heat_of_the_mix(H_e: J_per_mol, M_e: kg_per_mol, M_h: kg_per_mol) -> J_per_kg:
    """Mixed to the full ratio, every epoxide finds its hardener."""
    return H_e / (M_e + M_h)


@formula("dT_m", source="heat-of-mixing")
def self_heating(x_f: one, H_m: J_per_kg, c_m: J_per_kg_K, c_f: J_per_kg_K) -> dK:
    """No heat lost: an upper bound, which the middle of a full cup comes near. Filler takes up heat and gives none."""
    return (1 - x_f) * H_m / ((1 - x_f) * c_m + x_f * c_f)


@formula("dT_e", source="arrhenius")
def warming_that_speeds_the_cure(R_g: J_per_mol_K, T_a: K, E_a: J_per_mol) -> dK:
    """Arrhenius, taken straight at the temperature of the work."""
    return R_g * T_a**2 / E_a


@formula("Q_v", source="heat-of-mixing")
def heat_given_off(rho_m: kg_per_m3, H_m: J_per_kg, x_g: one, t_o: s) -> W_per_m3:
    """Given off until the gel, spread over the open time of a thin film, which stays at the work's temperature."""
    return rho_m * H_m * x_g / t_o


@formula("h_p", source="frank-kamenetskii")
def thickest_layer(h_1: m, delta_p: one, lambda_e: W_per_m_K, dT_e: dK, Q_v: W_per_m3) -> m:
    """Thicker, the middle runs away; and never over the shop's rule."""
    return min(h_1, 2 * sqrt(delta_p * lambda_e * dT_e / Q_v))


@formula("d_p", source="frank-kamenetskii")
def thickest_plug(d_1: m, delta_r: one, lambda_e: W_per_m_K, dT_e: dK, Q_v: W_per_m3) -> m:
    """A long round body sheds its heat better than a layer; and never over the shop's rule."""
    return min(d_1, 2 * sqrt(delta_r * lambda_e * dT_e / Q_v))


@formula("n_p", source="solid-geometry")
def layers_to_pour(h_w: m, h_p: m) -> one:
    """Each when the one before has cooled and is still tacky."""
    return ceil(h_w / h_p)


@formula("t_v", source="self-heating")
def working_time_of_a_big_pour(t_o: s, dT_e: dK, dT_m: dK, x_g: one) -> s:
    """No heat lost: each bit of cure warms the mix and speeds the next. A batch over 100 g comes near it."""
    return t_o * dT_e / (dT_m * x_g)


@formula("N_b", source="solid-geometry")
def fittings_of_one_mix(t_w: s, t_x: s, t_u: s, m_c: kg, m_e: kg) -> one:
    """As many as the working time allows and the cup holds, whichever is fewer."""
    return floor(min((t_w - t_x) / t_u, m_c / m_e))


@formula("n_b", source="solid-geometry")
def mixes_for_the_job(N: one, N_b: one) -> one:
    """One after the other, each mixed when the one before is used up."""
    return ceil(N / N_b)


@rule(
    "one mix does not last for one fitting: cool the work, take a slower hardener, be quicker, or part the fitting's "
    "epoxy in two mixes",
    source="solid-geometry",
)
def a_mix_serves_a_fitting(N_b: one) -> bool:
    """Epoxy that has begun to go off must not be used."""
    return N_b >= 1
