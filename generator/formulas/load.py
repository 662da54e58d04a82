"""What a fitting must carry: the pull of a winch, wind and current, published design loads, and a person's weight.

Loads to be met, so they are rounded up. Plain statics and the drag formula give steady loads; surge, and the snatch of
a line that comes taut, are in no formula here. So the published design loads for such a boat stand beside them.

The rules take `i_r`, `L_C` or `q_h`, which exist only where such a load is asked for.
"""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

from ..formula import formula, kilonewton, metre, rule
from ..units import Direction, N, Shown, kg, kg_per_m3, m, m2, m_per_s, m_per_s2, one
from .define import HUNDREDTH, TENTH, THOUSANDTH, define, force, number, ruled, share


def _mass(name: str, meaning: str, direction: Direction = "up") -> None:
    """A mass too large for a kitchen scale."""
    define(name, meaning, "kg", Shown("kg", Fraction(1), direction), Shown("lb", Fraction(1), direction))


def _length(name: str, meaning: str) -> None:
    """A length of a boat; a boat is long or short enough to say so in metres or feet."""
    define(name, meaning, "m", Shown("m", HUNDREDTH, trim=True), Shown("ft", TENTH, trim=True), positive=True)


def _speed(name: str, meaning: str, direction: Direction = "nearest") -> None:
    """A speed in knots, in either shop."""
    define(name, meaning, "m/s", Shown("knot", TENTH, direction, trim=True))


def _side(name: str, meaning: str) -> None:
    """A surface that wind or water meets."""
    define(name, meaning, "m**2", Shown("m**2", HUNDREDTH, "up", trim=True), Shown("ft**2", TENTH, "up", trim=True))


def _fluid(name: str, meaning: str) -> None:
    """A density of air or water."""
    define(name, meaning, "kg/m**3", Shown("kg/m**3", THOUSANDTH, trim=True), positive=True)


# Weight
define("g_n", "standard gravity", "m/s**2", Shown("m/s**2", Fraction(1, 10**5)), positive=True)
_mass("m_B", "mass of the boat with gear and water, and of the trailer where that is pulled too")
force("W_B", "weight of the boat with gear and water", "up")

# Up a ramp
share("i_r", "grade of the ramp: how far it rises in a length on the level")
number("s_r", "sine of the ramp's slope", THOUSANDTH / 10)
number("c_r", "cosine of the ramp's slope", THOUSANDTH / 10)
number("mu_r", "friction or rolling resistance on the ramp, as a part of the load on it")
force("F_g", "pull that keeps the boat going up the ramp", "up")
number("k_st", "pull that starts a boat which has settled, as a multiple of the pull that keeps it going", HUNDREDTH)
force("F_r", "winch pull up the ramp, to start with", "up")

# Wind and current
_fluid("rho_air", "density of the air")
_fluid("rho_sea", "density of sea water")
_speed("v_air", "mean wind speed")
_speed("v_sea", "speed of the current")
_side("A_air", "side or front of the boat that the wind sees")
_side("A_sea", "section of the hull under water that the current meets")
number("C_air", "drag coefficient in the wind", HUNDREDTH)
number("C_sea", "drag coefficient under water", HUNDREDTH)
force("F_a", "steady drag of the wind", "up")
force("F_c", "steady drag of the current", "up")
number("k_gu", "gust factor on the force of a mean wind", HUNDREDTH)
number("k_sh", "factor for a boat that sheers about and shows her side", HUNDREDTH)
force("F_d", "drag of wind and current on a moored boat, with gusts and sheering", "up")
number("k_pl", "published working load as a multiple of the steady drag of the wind", HUNDREDTH)

# Being towed
_length("L_WL", "length of the waterline")
_speed("v_hull", "hull speed", "down")
_speed("v_tow", "towing speed")
number("q_h", "towing speed as a part of the hull speed", HUNDREDTH)
force("F_tow", "steady drag of the boat being towed", "up")

# Published design loads by length
_length("L_H", "length of the hull")
_length("L_C", "calculation length: the mean of hull and waterline")
number("f_K", "factor for the design category", HUNDREDTH)
force("P_1", "design load forward, for anchoring and being towed", "up")
force("P_2", "design load forward, for mooring", "up")
force("P_3", "design load aft, for mooring", "up")
_mass("m_1", "mass of a boat that weighs as much as the design load for anchoring", "down")

# Published loads from the working load of an anchor
force("F_30", "published working load at anchor, in 30 kn of wind", "up")
define(
    "F_15",
    "load of a lunch hook, in 15 kn of wind",
    "N",
    Shown("kN", HUNDREDTH, "up"),
    Shown("lbf", Fraction(5), "up"),
)
force("F_42", "storm load at anchor, in 42 kn of wind", "up")
force("F_pm", "load of a permanent mooring", "up")
force("F_sa", "load that a strong point for the storm anchor must bear", "up")
force("F_sp", "load that a strong point for a permanent mooring must bear", "up")

# A person
_mass("m_P", "mass of a person")
number("k_su", "force of a load let go at once, as a multiple of its weight", HUNDREDTH)
force("F_P", "push of a person who falls against a rail or hangs on a cleat", "up")
ruled("h_s", "height of the push above the base", "up")
define(
    "b_s",
    "distance from the fastener that is pulled to the edge that the base turns over",
    "m",
    Shown("mm", Fraction(1), "down"),
    Shown("in", Fraction(1, 16), "down", fraction=True),
    positive=True,
)
force("F_t", "pull on one fastener of the base", "up")


# Weight


@formula("W_B", source="mechanics")
def weight_of_the_boat(m_B: kg, g_n: m_per_s2) -> N:
    """Buoyancy is left out."""
    return m_B * g_n


# Up a ramp


@formula("s_r", source="mechanics")
def sine_of_the_slope(i_r: one) -> one:
    """How much of the weight pulls down the ramp."""
    return i_r / sqrt(1 + i_r**2)


@formula("c_r", source="mechanics")
def cosine_of_the_slope(i_r: one) -> one:
    """How much of the weight presses on the ramp."""
    return 1 / sqrt(1 + i_r**2)


@formula("F_g", source="mechanics")
def pull_to_keep_going(W_B: N, s_r: one, mu_r: one, c_r: one) -> N:
    """The weight's share down the ramp, and the friction of what presses on it."""
    return W_B * (s_r + mu_r * c_r)


@formula("F_r", source="from-memory")
def winch_pull(k_st: one, F_g: N) -> N:
    """A boat that has sat on its bunks starts harder than it goes."""
    return k_st * F_g


# Wind and current


@formula("F_a", source="drag-formula")
def wind_drag(rho_air: kg_per_m3, v_air: m_per_s, C_air: one, A_air: m2) -> N:
    """Twice the wind, four times the load."""
    return rho_air * v_air**2 / 2 * C_air * A_air


@formula("F_c", source="drag-formula")
def current_drag(rho_sea: kg_per_m3, v_sea: m_per_s, C_sea: one, A_sea: m2) -> N:
    """The same formula under water: a knot of current pulls like nearly thirty of wind."""
    return rho_sea * v_sea**2 / 2 * C_sea * A_sea


@formula("F_d", source="own-judgement")
def moored_drag(k_sh: one, k_gu: one, F_a: N, F_c: N) -> N:
    """Gusts belong to the wind; a boat that sheers shows her side to both. Taken to pull the same way."""
    return k_sh * (k_gu * F_a + F_c)


@formula("k_pl", source="own-judgement")
def published_against_steady(F_30: N, F_a: N) -> one:
    """Over 1, because the published load holds surge as well."""
    return F_30 / F_a


# Being towed


@formula("v_hull", source="hull-speed")
def hull_speed(g_n: m_per_s2, L_WL: m) -> m_per_s:
    """Where a boat begins to climb its own bow wave."""
    return 0.4 * sqrt(g_n * L_WL)


@formula("q_h", source="hull-speed")
def part_of_hull_speed(v_tow: m_per_s, v_hull: m_per_s) -> one:
    """Up to 1 the boat is towed through the water, beyond it up a wave."""
    return v_tow / v_hull


@formula("F_tow", source="drag-formula")
def towing_drag(rho_sea: kg_per_m3, q_h: one, v_hull: m_per_s, C_sea: one, A_sea: m2) -> N:
    """The drag formula at the towing speed, in smooth water; no jerk of the line."""
    return rho_sea * (q_h * v_hull) ** 2 / 2 * C_sea * A_sea


# Published design loads by length


@formula("L_C", source="iso-15084")
def calculation_length(L_H: m, L_WL: m) -> m:
    """Without fittings such as a bowsprit or a bathing platform."""
    return (L_H + L_WL) / 2


@formula("P_1", source="iso-15084-digits")
def anchoring_load(f_K: one, L_C: m) -> N:
    """Forward, for anchoring and being towed."""
    return f_K * (4.3 * L_C / metre - 5.4) * kilonewton


@formula("P_2", source="iso-15084-digits")
def forward_mooring_load(f_K: one, L_C: m) -> N:
    """Forward, for mooring."""
    return f_K * (3.5 * L_C / metre - 4.3) * kilonewton


@formula("P_3", source="iso-15084-digits")
def aft_mooring_load(f_K: one, L_C: m) -> N:
    """Aft, for mooring."""
    return f_K * (3.0 * L_C / metre - 3.8) * kilonewton


@formula("m_1", source="iso-15084")
def mass_that_weighs_as_much(P_1: N, g_n: m_per_s2) -> kg:
    """By the standard a lighter boat need not exceed its own weight."""
    return P_1 / g_n


# Published loads from the working load of an anchor


@formula("F_15", source="abyc-h40")
def lunch_hook_load(F_30: N) -> N:
    """Half the wind, a quarter of the load."""
    return F_30 / 4


@formula("F_42", source="abyc-h40")
def storm_load(F_30: N) -> N:
    """Twice the working load."""
    return 2 * F_30


@formula("F_pm", source="abyc-h40")
def permanent_mooring_load(F_42: N) -> N:
    """Half as much again as the storm load."""
    return 1.5 * F_42


@formula("F_sa", source="abyc-h40-factor")
def strong_point_for_a_storm(F_42: N) -> N:
    """Twice the design load."""
    return 2 * F_42


@formula("F_sp", source="abyc-h40-factor")
def strong_point_for_a_mooring(F_pm: N) -> N:
    """Twice the design load."""
    return 2 * F_pm


# A person


@formula("F_P", source="mechanics")
def push_of_a_person(k_su: one, m_P: kg, g_n: m_per_s2) -> N:
    """The whole weight, at once and from the side."""
    return k_su * m_P * g_n


@formula("F_t", source="mechanics")
def pull_on_the_base(F_P: N, h_s: m, b_s: m) -> N:
    """A lever over the edge of the base; one fastener is counted."""
    return F_P * h_s / b_s


# The design loads by the boat's length.
BY_LENGTH = ("P_1", "P_2", "P_3")

# What is refused. A hair of play keeps binary noise from refusing a round length.


@rule(
    "so steep a ramp is no boat ramp: give the grade in percent, for example 15 %",
    source="own-judgement",
    limits=("s_r", "c_r"),
)
def grade_is_that_of_a_ramp(i_r: one) -> bool:
    """15 without its sign would be a wall."""
    return i_r <= 0.5


@rule(
    "no design load is given for a calculation length under {2.5 m}, where the standard's straight line means little: "
    "take the boat's weight",
    source="own-judgement",
    limits=BY_LENGTH,
)
def long_enough_for_the_standard(L_C: m) -> bool:
    """Near 1.3 m the line crosses zero."""
    return L_C / metre >= 2.499


@rule(
    "the standard ends at a hull of {24 m}, so no design load is given: ask a naval architect",
    source="iso-15084",
    limits=BY_LENGTH,
)
def short_enough_for_the_standard(L_C: m) -> bool:
    """The calculation length is never more than the hull's."""
    return L_C / metre <= 24.001


@rule(
    "the standard ends at a hull of {24 m}, so no design load is given: ask a naval architect",
    source="iso-15084",
    limits=BY_LENGTH,
)
def hull_is_in_the_scope(L_H: m) -> bool:
    """Its scope goes by the length of the hull."""
    return L_H / metre <= 24.001


@rule("the waterline is longer than the hull, {L_H}: correct one of the two", source="iso-15084", limits=("L_C",))
def waterline_is_within_the_hull(L_WL: m, L_H: m) -> bool:
    """Overhangs are never negative."""
    return L_WL <= L_H * (1 + 1e-9)


@rule(
    "no drag is given for towing over hull speed: the boat climbs its own wave and pulls far harder; tow slower",
    source="hull-speed",
    limits=("F_tow",),
)
def towed_under_hull_speed(q_h: one) -> bool:
    """The drag formula knows nothing of waves."""
    return q_h <= 1 + 1e-9
