"""Taking a bonded fastener out with heat: how far the heat of its head reaches, and what the wood beside it bears.

The fastener is a rod. Its head is held at one temperature, and along its length it loses heat through the epoxy round
it into the wood. A textbook gives the answer for a steady loss. The loss is never steady, because the warm zone in the
wood grows all the while; it is taken as it stands at half the time that the heat is held, and the tests compare that
with a solution step by step in time. They agree to a few degrees; the wood itself scatters by more.
"""

from __future__ import annotations

from fractions import Fraction
from math import exp, log, pi, sqrt, tanh

from ..formula import W_per_m_K, formula, kelvin, kilogram, kJ_per_kg_K, metre, rule
from ..units import J, J_per_kg_K, K, Shown, W, dK, kg, kg_per_m3, m, m2, one, s
from ..units import W_per_m_K as W_per_mK
from .define import (
    HUNDREDTH,
    TENTH,
    THOUSANDTH,
    area,
    define,
    density,
    mass,
    minutes,
    number,
    ruled,
    share,
    sized,
    temperature,
    warmth,
)

CONDUCTIVITY = Shown("W/(m*delta_degC)", TENTH, trim=True)
FINE_CONDUCTIVITY = Shown("W/(m*delta_degC)", THOUSANDTH)
CAPACITY = Shown("kJ/(kg*delta_degC)", THOUSANDTH)
DEGREES_UP, DEGREES_DOWN = (
    (Shown("degC", Fraction(1), way), Shown("degF", Fraction(1), way)) for way in ("up", "down")
)

# Metal
define("k_h", "thermal conductivity of the metal", "W/(m*K)", CONDUCTIVITY, positive=True)
define("c_h", "heat capacity of the metal", "J/(kg*K)", CAPACITY, positive=True)
density("rho_k", "density of the metal")

# Temperatures
temperature("T_x", "temperature at the metal where the epoxy is soft enough to let go")
temperature("T_metal", "most that the metal may be heated to while it stands in wood")
temperature("T_wood", "most that the wood bears for a short while")
temperature("T_pyr", "temperature from which wood chars by its own decay, at the lowest")
temperature("T_ign", "surface temperature at which wood caught fire in tests with little heat")
temperature("T_use", "temperature above which an epoxy bond in service is doubtful")
define("T_k", "temperature that the head of the fastener is held at", "K", *DEGREES_DOWN)
warmth("dT_sw", "most that one dab of the tool brings, and that the reading falls before the next")
temperature("T_m", "mean temperature of the head while it is held")

# Wood and epoxy
share("x_wood", "moisture of the wood: water as a part of the dry wood's mass")
define("k_wood", "thermal conductivity of the wood across the grain", "W/(m*K)", FINE_CONDUCTIVITY)
number("q_g", "heat conducted along the grain as a multiple of the heat conducted across it", HUNDREDTH, positive=True)
define(
    "k_g",
    "thermal conductivity of the wood round a fastener that stands across the grain",
    "W/(m*K)",
    FINE_CONDUCTIVITY,
)
define("c_0", "heat capacity of the wood without its moisture", "J/(kg*K)", CAPACITY)
define("c_wood", "heat capacity of the wood with its moisture", "J/(kg*K)", CAPACITY)
define("rho_wood", "density of the wood with its moisture", "kg/m**3", Shown("g/mL", THOUSANDTH))
define("k_epoxy", "thermal conductivity of the cured epoxy", "W/(m*K)", FINE_CONDUCTIVITY, positive=True)

# The fastener in its hole
ruled("L_k", "length of the fastener in the hole", "down")
area("A_k", "metal in the cross-section of the fastener")
minutes("t_hold", "time for which the head is held hot")
sized("D_far", "diameter of the warmed wood when the time is over", Shown("mm", TENTH), Shown("in", HUNDREDTH))
sized("D_w", "diameter of the warmed wood at half of the time", Shown("mm", TENTH), Shown("in", HUNDREDTH))
define("g_h", "heat lost into the wood for each length and degree", "W/(m*K)", FINE_CONDUCTIVITY)
sized(
    "L_h",
    "reach of the heat: the depth in which the warmth of a long fastener falls to 37 %",
    Shown("mm", TENTH, "down"),
    Shown("in", HUNDREDTH, "down"),
)
number("q_x", "warmth of the head as a multiple of the warmth that softens", HUNDREDTH)
ruled("L_x", "depth to which the epoxy softens round a long fastener", "down")
ruled("L_end", "longest fastener that comes free from its head alone", "down")
ruled("L_both", "longest fastener that comes free when both its ends are heated", "down")
define("T_end", "temperature that the far end reaches", "K", *DEGREES_DOWN)
define("T_need", "temperature of the head that softens the epoxy at the far end", "K", *DEGREES_UP)
number("q_wall", "warmth of the wood at the wall of the hole as a part of the metal's")
define("T_wall", "temperature of the wood at the wall of the hole beside the head", "K", *DEGREES_UP)
define("T_top", "most that the head of this fastener may be held at", "K", *DEGREES_DOWN)

# Heat and time
mass("m_k", "metal in the hole", "nearest")
define("Q_k", "heat that softens the epoxy all along, in the metal alone", "J", Shown("kJ", HUNDREDTH, "up"))
define("P_k", "power of the tool", "W", Shown("W", Fraction(1)), positive=True)
define("P_s", "heat flow into the fastener that keeps its head at temperature", "W", Shown("W", TENTH, "up"))
define(
    "t_q",
    "shortest time in which the tool could bring the heat that softens the epoxy",
    "s",
    Shown("s", Fraction(1), "up"),
)
minutes("t_dif", "time in which most of the heat gets along the metal, about", "up")
minutes("t_k", "time to allow before the first try, about", "up")


# Wood


@formula("k_wood", source="wood-handbook-4-heat")
def conductivity_of_the_wood(G: one, x_wood: one) -> W_per_mK:
    """Across the grain, near 24 °C; the moisture enters in percent."""
    return (G * (0.1941 + 0.004064 * 100 * x_wood) + 0.01864) * W_per_m_K


@formula("k_g", source="solid-geometry")
def conductivity_round_the_fastener(q_g: one, k_wood: W_per_mK) -> W_per_mK:
    """Heat runs off along the grain and across it; their geometric mean acts as one conductivity."""
    return sqrt(q_g) * k_wood


@formula("c_0", source="wood-handbook-4-heat")
def capacity_of_dry_wood(T_a: K) -> J_per_kg_K:
    """The same for all woods; the temperature enters in kelvin."""
    return (0.1031 + 0.003867 * T_a / kelvin) * kJ_per_kg_K


@formula("c_wood", source="wood-handbook-4-heat")
def capacity_of_moist_wood(c_0: J_per_kg_K, x_wood: one, T_a: K) -> J_per_kg_K:
    """Dry wood and water, and a little more because the water is bound; in that term the moisture is in percent."""
    return (c_0 + 4.18 * kJ_per_kg_K * x_wood) / (1 + x_wood) + 100 * x_wood * (
        2.36e-4 * T_a / kelvin - 0.06191 - 1.33e-4 * 100 * x_wood
    ) * kJ_per_kg_K


@formula("rho_wood", source="mass-balance")
def density_of_moist_wood(G: one, x_wood: one) -> kg_per_m3:
    """Dry wood and the water in it; a specific gravity of 1 is 1000 kg in a cubic metre."""
    return 1000 * kilogram / metre**3 * G * (1 + x_wood)


# The fastener in its hole


@formula("A_k", source="solid-geometry")
def cross_section(d_v: m) -> m2:
    """Of the plain rod that holds as much metal as the thread."""
    return pi / 4 * d_v**2


@formula("D_far", source="heat-conduction")
def warmed_wood(D_o: m, k_g: W_per_mK, t_hold: s, rho_wood: kg_per_m3, c_wood: J_per_kg_K) -> m:
    """Spreading heat goes with the square root of time; a textbook's integral for a hot hole agrees to 4 %."""
    return D_o + 2 * sqrt(pi * k_g * t_hold / (rho_wood * c_wood))


@formula("D_w", source="own-judgement")
def wood_that_draws_off(D_o: m, D_far: m) -> m:
    """The metal lags behind, so its loss is taken as it stands at half of the time."""
    return D_o + (D_far - D_o) / sqrt(2)


@formula("g_h", source="heat-conduction")
def heat_loss(D_o: m, d_v: m, k_epoxy: W_per_mK, D_w: m, k_g: W_per_mK) -> W_per_mK:
    """Two sleeves, one in the other: the ring of epoxy, and the wood out to where it is still cold."""
    return 2 * pi / (log(D_o / d_v) / k_epoxy + log(D_w / D_o) / k_g)


@formula("L_h", source="heat-conduction")
def reach_of_the_heat(k_h: W_per_mK, A_k: m2, g_h: W_per_mK) -> m:
    """What the metal carries along against what the wood draws off."""
    return sqrt(k_h * A_k / g_h)


@formula("T_m", source="own-judgement")
def head_between_dabs(T_k: K, dT_sw: dK) -> K:
    """No dab goes above the temperature of the hold, so the reading swings below it."""
    return T_k - dT_sw / 2


@formula("q_x", source="heat-conduction")
def head_over_softening(T_m: K, T_a: K, T_x: K) -> one:
    """Both counted from the temperature of the work."""
    return (T_m - T_a) / (T_x - T_a)


@formula("L_x", source="heat-conduction")
def softened_depth(L_h: m, q_x: one) -> m:
    """In a fastener without an end; in one with an end the heat backs up, and it is warmer there."""
    return L_h * log(q_x)


@formula("L_end", source="heat-conduction")
def longest_from_the_head(L_h: m, q_x: one) -> m:
    """The far end gives off nothing and just softens, so warmth falls as the hyperbolic cosine does; turned round."""
    return L_h * log(q_x + sqrt(q_x**2 - 1))


@formula("L_both", source="heat-conduction")
def longest_from_both_ends(L_end: m) -> m:
    """No heat crosses the middle, so each half is as a fastener by itself."""
    return 2 * L_end


@formula("T_end", source="heat-conduction")
def far_end(T_a: K, T_m: K, L_k: m, L_h: m) -> K:
    """The warmth of the head over the hyperbolic cosine, which is half of the two powers of e."""
    return T_a + (T_m - T_a) / ((exp(L_k / L_h) + exp(-L_k / L_h)) / 2)


@formula("T_need", source="heat-conduction")
def head_that_is_needed(T_a: K, T_x: K, L_k: m, L_h: m, dT_sw: dK) -> K:
    """The same turned round: the far end just softens at the mean of what the head swings between."""
    return T_a + (T_x - T_a) * (exp(L_k / L_h) + exp(-L_k / L_h)) / 2 + dT_sw / 2


@formula("q_wall", source="heat-conduction")
def wall_over_metal(D_o: m, d_v: m, k_epoxy: W_per_mK, D_far: m, k_g: W_per_mK) -> one:
    """What is left behind the ring of epoxy when the time is over and the wood draws off least."""
    return 1 - log(D_o / d_v) / (log(D_o / d_v) + log(D_far / D_o) * k_epoxy / k_g)


@formula("T_wall", source="heat-conduction")
def wall_of_the_hole(T_a: K, T_k: K, q_wall: one) -> K:
    """Beside the head, where it is hottest."""
    return T_a + (T_k - T_a) * q_wall


@formula("T_top", source="own-judgement")
def hottest_head(T_metal: K, T_a: K, T_wood: K, q_wall: one) -> K:
    """The lower of what the metal may have and what makes the wall of the hole as hot as wood bears."""
    return min(T_metal, T_a + (T_wood - T_a) / q_wall)


# Heat and time


@formula("m_k", source="mass-balance")
def metal_in_the_hole(rho_k: kg_per_m3, A_k: m2, L_k: m) -> kg:
    """Head, nut and what stands out of the wood come on top."""
    return rho_k * A_k * L_k


@formula("Q_k", source="heat-balance")
def heat_in_the_metal(m_k: kg, c_h: J_per_kg_K, T_x: K, T_a: K) -> J:
    """Wood and epoxy take more than this."""
    return m_k * c_h * (T_x - T_a)


@formula("P_s", source="heat-conduction")
def heat_flow_of_the_head(k_h: W_per_mK, A_k: m2, L_h: m, L_k: m, T_k: K, T_a: K) -> W:
    """What the whole length loses; a stronger tool makes the head too hot and must be taken off and on."""
    return k_h * A_k / L_h * tanh(L_k / L_h) * (T_k - T_a)


@formula("t_q", source="heat-balance")
def shortest_time(Q_k: J, P_k: W) -> s:
    """If all the tool's heat went into the metal and none was lost: a lower bound."""
    return Q_k / P_k


@formula("t_dif", source="heat-conduction")
def time_along_the_metal(L_k: m, rho_k: kg_per_m3, c_h: J_per_kg_K, k_h: W_per_mK, D_o: m, d_v: m) -> s:
    """By then the far end of a rod that loses nothing has come six tenths of the way, its ring counted as metal."""
    return L_k**2 * rho_k * c_h / (2 * k_h) * (D_o / d_v) ** 2


@formula("t_k", source="own-judgement")
def time_to_allow(t_q: s, t_dif: s, L_end: m, L_k: m) -> s:
    """An estimate: the tool's time and the metal's, one after the other, as far as one end's heat reaches."""
    return t_q + t_dif * min(1, L_end / L_k) ** 2


# What is refused, and what is warned of. A billionth forgives binary noise.


@rule(
    "no conductivity is worked for wood as light as this: the equation holds above a specific gravity of 0.3",
    source="wood-handbook-4-heat",
    limits=("k_wood",),
)
def wood_is_heavy_enough(G: one) -> bool:
    """The equation's own limit."""
    return G > 0.3


@rule(
    "no conductivity is worked for wood at 25 % moisture or more: dry the wood first, and measure it",
    source="wood-handbook-4-heat",
    limits=("k_wood",),
)
def wood_is_dry_enough(x_wood: one) -> bool:
    """Little was measured beyond, and wet wood gives off steam."""
    return x_wood < 0.25


@rule(
    "the hole must be wider than the metal in it: give an oversized hole that has room for epoxy",
    source="solid-geometry",
    limits=("g_h", "D_far"),
)
def epoxy_has_room(D_o: m, d_v: m) -> bool:
    """Without a ring of epoxy there is nothing to soften."""
    return D_o > d_v


@rule(
    "the work is as hot as what softens the epoxy, {T_x}: let it cool, or correct its temperature",
    source="heat-conduction",
    limits=("L_h", "q_x", "T_need", "Q_k"),
)
def work_is_cooler_than_the_epoxy_softens(T_a: K, T_x: K) -> bool:
    """Nothing would have to be heated."""
    return T_a < T_x


@rule(
    "the head is no hotter than what softens the epoxy, so nothing comes free: give a hotter head",
    source="heat-conduction",
)
def head_is_hot_enough(q_x: one) -> bool:
    """At less, not even the epoxy at the mouth of the hole softens."""
    return q_x > 1


@rule(
    "the head would be hotter than metal in wood may be: hold it at {T_metal} or less; if the epoxy stays hard there, "
    "core the fastener out",
    source="own-judgement",
    limits=("T_k",),
)
def head_is_cool_enough(T_k: K, T_metal: K, T_pyr: K) -> bool:
    """Whatever limit is given, it lies below that at which wood chars."""
    return (T_k <= T_metal * (1 + 1e-9)) & (T_k < T_pyr)


@rule(
    "the wood at the wall of the hole would be hotter than it bears: hold the head cooler, or for a shorter time",
    source="own-judgement",
    limits=("T_k", "T_wall"),
)
def wall_is_cool_enough(T_wall: K, T_wood: K) -> bool:
    """The ring of epoxy keeps the wood some degrees cooler than the metal, a thin one less."""
    return T_wall <= T_wood * (1 + 1e-9)


@rule(
    "from its head alone this fastener does not come free: the head would have to be hotter than the wood beside it "
    "bears; heat both ends, or work in stages and dig out what has softened before heating again, or core it out",
    source="own-judgement",
    limits=("T_need",),
)
def head_that_is_needed_is_allowed(T_need: K, T_top: K, T_pyr: K) -> bool:
    """A temperature that must not be used is not printed."""
    return (T_need <= T_top * (1 + 1e-9)) & (T_need < T_pyr)


@rule(
    "the far end stays too cool to soften: heat both ends, or work in stages and dig out what has softened before "
    "heating again, or core the fastener out",
    source="heat-conduction",
    refuses=False,
)
def far_end_softens(T_end: K, T_x: K) -> bool:
    """The fastener is held by what is still hard."""
    return T_end * (1 + 1e-9) >= T_x


@rule(
    "the tool is too weak to hold the head at that temperature: take a stronger one", "heat-conduction", refuses=False
)
def tool_is_strong_enough(P_k: W, P_s: W) -> bool:
    """What it loses to the air comes on top."""
    return P_k >= P_s
