"""Time and temperature: how long a mix can be worked, how long it cures, and how warm the wood must be for the dew.

Two rules tell how the speed of the cure goes with temperature: that of the chemist (Arrhenius) and that of the shop
(twice as fast every so many degrees). They part company away from the temperature that a time is stated for. So the
time left to work takes the faster of the two, and the time to wait takes the slower.
"""

from __future__ import annotations

from fractions import Fraction
from math import exp, log

from ..formula import formula, kelvin, rule
from ..units import J_per_mol, J_per_mol_K, K, Shown, dK, m, one, s
from .define import HUNDREDTH, TENTH, define, hours, minutes, number, share, temperature, warmth

# Temperatures
temperature("T_a", "temperature of the work: epoxy, wood and fastener")
temperature("T_min", "lowest temperature that the hardener cures at")
temperature("T_lo", "lowest temperature that times are reckoned for")
temperature("T_hi", "highest temperature that times are reckoned for")
temperature("T_r", "temperature that the pot life is stated for")
temperature("T_c", "temperature that the curing times are stated for")

# Speed
define("R_g", "gas constant", "J/(mol*K)", Shown("J/(mol*K)", Fraction(1, 10**5)), positive=True)
define("E_a", "activation energy of the cure", "J/mol", Shown("kJ/mol", TENTH), positive=True)
warmth("dT_2", "warming that doubles the speed of the cure", positive=True)
define("E_2", "activation energy that the shop's rule of doubling stands for", "J/mol", Shown("kJ/mol", TENTH))
number("k_T", "speed against that of the stated pot life, by Arrhenius", HUNDREDTH)
number("k_2", "speed against that of the stated pot life, by the shop's rule", HUNDREDTH)
number("k_A", "speed against that of the stated curing times, by Arrhenius", HUNDREDTH)
number("k_D", "speed against that of the stated curing times, by the shop's rule", HUNDREDTH)
number("k_c", "speed against that of the stated curing times, the slower of the two", HUNDREDTH)
number("k_f", "speed against that of the stated curing times, the faster of the two", HUNDREDTH)

# Time to work
minutes("t_r", "stated pot life of 100 g in a cup")
minutes("t_p", "pot life by Arrhenius", "down")
minutes("t_2", "pot life by the shop's rule", "down")
minutes("t_w", "working time of 100 g in a cup", "down")
number("q_o", "open time of a thin film as a multiple of the working time in the cup", HUNDREDTH)
number("q_i", "working time in a filled hole as a multiple of the working time in the cup", HUNDREDTH)
minutes("t_o", "open time of what is spread thin, in a tray or as a coat", "down")
minutes("t_i", "working time in a filled hole", "down")
share("q_wu", "part of the working time that is for wetting out")
minutes("t_wu", "time from mixing until which the wood is wetted out", "down")
number("q_y1", "earliest time at which the mix is firm as leather, as a multiple of the working time", HUNDREDTH)
number("q_y2", "latest time at which the mix is firm as leather, as a multiple of the working time", HUNDREDTH)
number("q_z1", "first look again after setting as a part of the working time", HUNDREDTH)
number("q_z2", "second look again after setting as a part of the working time", HUNDREDTH)
minutes("t_z1", "time after setting to look again", "down")
minutes("t_z2", "time after setting to look again for the second time", "down")
minutes("t_y1", "time from mixing until the mix is firm as leather", "up")
minutes("t_y2", "time from mixing until the mix is harder than leather", "down")

# Time to wait
DAYS = Shown("day", Fraction(1), "up")
hours("t_c0", "stated time to the next coat, earliest")
hours("t_d0", "stated time to the next coat, latest")
hours("t_h0", "stated time to handle, clamps off")
hours("t_l0", "stated time to a light load")
define("t_f0", "stated time to full load", "s", DAYS)
hours("t_c", "time to the next coat, earliest")
hours("t_d", "time to the next coat, latest without sanding", "down")
hours("t_h", "time to handle, clamps off")
hours("t_l", "time to a light load")
define("t_f", "time to full load", "s", DAYS)

# Dew
temperature("T_air", "air temperature")
share("R_H", "relative humidity of the air")
warmth("dT_a", "air temperature above 0 °C")
number("gamma_d", "exponent of the Magnus formula")
warmth("dT_d", "dew point above 0 °C")
temperature("T_dew", "dew point")
warmth("dT_s", "least margin of a surface above the dew point")
define(
    "T_s", "lowest temperature of the surface", "K", Shown("degC", Fraction(1), "up"), Shown("degF", Fraction(1), "up")
)


# Speed


@formula("k_T", source="arrhenius")
def speed_by_arrhenius(E_a: J_per_mol, R_g: J_per_mol_K, T_r: K, T_a: K) -> one:
    """Over 1 when the work is warmer than the pot life is stated for."""
    return exp(E_a / R_g * (1 / T_r - 1 / T_a))


@formula("k_2", source="common-practice")
def speed_by_doubling(T_a: K, T_r: K, dT_2: dK) -> one:
    """Twice as fast for every such step of warming; ln(2) makes two out of e."""
    return exp(log(2) * (T_a - T_r) / dT_2)


@formula("E_2", source="arrhenius")
def energy_of_the_doubling_rule(R_g: J_per_mol_K, T_c: K, dT_2: dK) -> J_per_mol:
    """Arrhenius turned round: with this energy, one such step of warming doubles the speed to the very number."""
    return R_g * log(2) / (1 / T_c - 1 / (T_c + dT_2))


# Time to work


@formula("t_p", source="arrhenius")
def pot_life_by_arrhenius(t_r: s, k_T: one) -> s:
    """Twice the speed, half the time."""
    return t_r / k_T


@formula("t_2", source="common-practice")
def pot_life_by_doubling(t_r: s, k_2: one) -> s:
    """Twice the speed, half the time."""
    return t_r / k_2


@formula("t_w", source="own-judgement")
def working_time(t_p: s, t_2: s) -> s:
    """The shorter of the two: a mix counted fresh for too long is used when it has gone off."""
    return min(t_p, t_2)


@formula("t_o", source="common-practice")
def thin_film_open_time(q_o: one, t_w: s) -> s:
    """Spread out, the mix sheds its heat and stays open longer than in the cup."""
    return q_o * t_w


@formula("t_i", source="common-practice")
def filled_hole_time(q_i: one, t_w: s) -> s:
    """Wood keeps the heat in: a filled hole counts as a cup."""
    return q_i * t_w


@formula("t_wu", source="own-judgement")
def wetting_out_until(q_wu: one, t_w: s, t_x: s, n_q: one) -> s:
    """Time is left to thicken, fill and set; of several cups for a fitting each has what is counted for it."""
    return min(q_wu * t_w, t_x + t_w * max(2 - n_q, 0))


@formula("t_y1", source="common-practice")
def leathery_from(q_y1: one, t_w: s) -> s:
    """A thumbnail dents the leftovers and nothing sticks to it: what was waxed comes loose and keeps its shape."""
    return q_y1 * t_w


@formula("t_y2", source="common-practice")
def leathery_until(q_y2: one, t_w: s) -> s:
    """Later it shrinks on to what was waxed and grips it harder."""
    return q_y2 * t_w


@formula("t_z1", source="own-judgement")
def first_look_again(q_z1: one, t_w: s) -> s:
    """While what has sunk can still be topped up."""
    return q_z1 * t_w


@formula("t_z2", source="own-judgement")
def second_look_again(q_z2: one, t_w: s) -> s:
    """Before it sets."""
    return q_z2 * t_w


# Time to wait


@formula("k_A", source="arrhenius")
def curing_speed_by_arrhenius(E_a: J_per_mol, R_g: J_per_mol_K, T_c: K, T_a: K) -> one:
    """Under 1 when the work is colder than the times are stated for."""
    return exp(E_a / R_g * (1 / T_c - 1 / T_a))


@formula("k_D", source="common-practice")
def curing_speed_by_doubling(T_a: K, T_c: K, dT_2: dK) -> one:
    """Half as fast for every such step of cooling."""
    return exp(log(2) * (T_a - T_c) / dT_2)


@formula("k_c", source="own-judgement")
def curing_speed(k_A: one, k_D: one) -> one:
    """The slower of the two: a joint loaded too early is lost, one loaded late is not."""
    return min(k_A, k_D)


@formula("k_f", source="own-judgement")
def curing_speed_for_a_window(k_A: one, k_D: one) -> one:
    """The faster of the two: a window that has closed spoils the bond of the next coat."""
    return max(k_A, k_D)


@formula("t_c", source="common-practice")
def earliest_next_coat(t_c0: s, k_c: one) -> s:
    """A thumb leaves a dull print and takes nothing with it."""
    return t_c0 / k_c


@formula("t_d", source="common-practice")
def latest_next_coat(t_d0: s, k_f: one) -> s:
    """Later, wash with water, dry and sand before the next coat."""
    return t_d0 / k_f


@formula("t_h", source="common-practice")
def time_to_handle(t_h0: s, k_c: one) -> s:
    """Clamps off, and the piece may be moved."""
    return t_h0 / k_c


@formula("t_l", source="common-practice")
def time_to_light_load(t_l0: s, k_c: one) -> s:
    """Not yet the load that the fitting is made for."""
    return t_l0 / k_c


@formula("t_f", source="common-practice")
def time_to_full_load(t_f0: s, k_c: one) -> s:
    """All the while at this temperature: a cold night does not count."""
    return t_f0 / k_c


# Dew


@formula("dT_a", source="magnus")
def air_above_freezing(T_air: K) -> dK:
    """The Magnus formula reckons in degrees Celsius."""
    return T_air - 273.15 * kelvin


@formula("gamma_d", source="magnus")
def magnus_exponent(R_H: one, dT_a: dK) -> one:
    """How much water vapour the air holds, on a scale of logarithms."""
    return log(R_H) + 17.62 * dT_a / (243.12 * kelvin + dT_a)


@formula("dT_d", source="magnus")
def dew_point_above_freezing(gamma_d: one) -> dK:
    """The temperature at which air that is full holds that much."""
    return 243.12 * kelvin * gamma_d / (17.62 - gamma_d)


@formula("T_dew", source="magnus")
def dew_point(dT_d: dK) -> K:
    """Anything colder than this turns wet in this air."""
    return 273.15 * kelvin + dT_d


@formula("T_s", source="iso-8502-4")
def lowest_surface_temperature(T_dew: K, dT_s: dK) -> K:
    """A margin above the dew point, for a thermometer that errs and a cloud that passes."""
    return T_dew + dT_s


# What the temperature limits: the speeds that every time comes from.
# What hangs on epoxy that cures: there is no strength where it does not.
BY_EPOXY = ("R_w", "R_e")
SPEEDS = ("k_T", "k_2", "k_A", "k_D")

# What is refused. A billionth forgives binary noise, so that 50 °F is not under 10 °C.


TOO_COLD = (
    "the work is colder than this hardener cures at: warm epoxy, wood and fastener to {T_min} or more, and keep them "
    "so until it is hard"
)
TOO_COLD_FOR_THIS = (
    "the work is colder than this hardener cures at: warm epoxy, wood and fastener to {T_min} or more, and keep them "
    "so until it is hard, or take a faster hardener"
)


@rule(TOO_COLD_FOR_THIS, source="cold-cure-2012", limits=(*SPEEDS, *BY_EPOXY))
def warm_enough_for_the_hardener(T_a: K, T_min: K, T_lo: K) -> bool:
    """A faster one helps only where a time may be reckoned for it."""
    return (T_a * (1 + 1e-9) >= T_min) | (T_a * (1 + 1e-9) < T_lo)


@rule(TOO_COLD, source="cold-cure-2012", limits=(*SPEEDS, *BY_EPOXY))
def warm_enough_for_any_hardener(T_a: K, T_min: K, T_lo: K) -> bool:
    """Near freezing a cure does not start at all. Of one that cures below what is reckoned at, that is told."""
    return (T_a * (1 + 1e-9) >= T_lo) | (T_min < T_lo)


@rule(TOO_COLD_FOR_THIS, source="cold-cure-2012", limits=("d_y",))
def warm_enough_for_the_ring(T_a: K, T_min: K, T_lo: K, L_o: m) -> bool:
    """Sideways a bonded rod presses on its ring, which has to be hard; a bolt needs none, and has no such length."""
    return (T_a * (1 + 1e-9) >= T_min) | (T_a * (1 + 1e-9) < T_lo) | (L_o < 0)


@rule(TOO_COLD, source="cold-cure-2012", limits=("d_y",))
def warm_enough_for_any_ring(T_a: K, T_min: K, T_lo: K, L_o: m) -> bool:
    """The same where no faster hardener helps."""
    return (T_a * (1 + 1e-9) >= T_lo) | (T_min < T_lo) | (L_o < 0)


TOO_COLD_TO_RECKON = (
    "too cold to reckon a time: cold epoxy cures slower than any rule tells; warm the work to {T_lo} or more, and keep "
    "it so until it is hard"
)


@rule(TOO_COLD_TO_RECKON, source="cold-cure-2011", limits=(*SPEEDS, *BY_EPOXY))
def warm_enough_to_reckon(T_a: K, T_lo: K) -> bool:
    """Below it, both rules promise too short a wait."""
    return T_a * (1 + 1e-9) >= T_lo


@rule(TOO_COLD_TO_RECKON, source="cold-cure-2011", limits=("d_y",))
def ring_is_warm_enough_to_reckon(T_a: K, T_lo: K, L_o: m) -> bool:
    """Nobody can say when that ring is hard."""
    return (T_a * (1 + 1e-9) >= T_lo) | (L_o < 0)


@rule(
    "too warm to reckon a time: the mix heats itself faster than either rule says; cool the work to {T_hi} or less",
    source="own-judgement",
    limits=SPEEDS,
)
def cool_enough_to_reckon(T_a: K, T_hi: K) -> bool:
    """Above it, both rules promise too long a pot life."""
    return T_a <= T_hi * (1 + 1e-9)


@rule("relative humidity lies above 0 and reaches 100 % in fog: correct it", source="magnus")
def humidity_is_a_part(R_H: one) -> bool:
    """Beyond 100 % it rains."""
    return (R_H > 0) & (R_H <= 1)


@rule("the dew point is worked for air above freezing only: give air that is warmer", source="magnus")
def air_above_freezing_only(dT_a: dK) -> bool:
    """Over ice the constants are others."""
    return dT_a >= -1e-9 * kelvin


@rule(
    "the work is so near the dew point that its surface may be wet: warm the work, or dry the air, until the "
    "surface has {T_s} or more",
    source="iso-8502-4",
    refuses=False,
)
def surface_is_dry(T_a: K, T_s: K) -> bool:
    """Damp makes a hardener blush, and the next coat lets go."""
    return T_a * (1 + 1e-9) >= T_s
