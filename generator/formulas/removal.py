"""Taking a fastener out with heat, at the bench: where to hold its head, and in how many stages a long one comes."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from ..formula import formula, rule
from ..units import J, J_per_kg_K, K, Shown, W, W_per_m_K, dK, kg, kg_per_m3, m, one, s
from .define import HUNDREDTH, TENTH, count, define, mark, ruled, share, sized, warmth
from .heat import DEGREES_DOWN

warmth("dT_hx", "margin of the head below its limit, for a thermometer that errs")
count("n_hx", "stages from the head alone, at the least")
count("n_sx", "most stages that are worth digging")
ruled("L_hm", "longest fastener to come out by heat at all, in stages or from both ends", "down")
count("n_hr", "stages from the head alone that are worth digging, 0 where they are too many")
count("n_hb", "ways to bring out with both ends hot what its head alone does not free, 0 where it is too long")
count("n_hot", "ways to bring this fastener out with heat, 0 where it is too long for any")
mark("n_hc", "1 where the fastener is too long for heat, so that it is cored out cold")
define("Q_ba", "heat that the fitting's base takes when it is heated along", "J", Shown("kJ", TENTH, "up"))
# A lower bound of a time, and the most of another: each is rounded down.
SECONDS = Shown("s", Fraction(1), "down")
define("t_ba", "time that the tool needs for the base alone, at the least", "s", SECONDS)
count("n_st", "steps in which a head is brought to its heat, at the least")
define("t_sp", "time of one step of heat that hand and thermometer follow", "s", Shown("s", Fraction(1)))
define("t_st", "longest that the tool is on the head in one step of heat", "s", SECONDS)
define("T_st", "temperature of the head up to which whole steps of heat are given", "K", *DEGREES_DOWN)
define("t_tc", "time of one dab of the tool", "s", Shown("s", Fraction(1)), positive=True)
define("t_sd", "longest dab of the tool on a head that is nearly as hot as it is held", "s", SECONDS)
define("P_tc", "most power of a tool on an end that no base shares", "W", Shown("W", Fraction(1), "down"))
define("P_hx", "most power of a tool that hand and thermometer follow", "W", Shown("W", Fraction(1), "down"))
define("P_hm", "most power of any tool that a card is worked with", "W", Shown("W", Fraction(1), "down"), positive=True)
share("x_cl", "part by which a fastener must be shorter than its limit to be free of the wood's scatter")
mark("n_cl", "1 where the fastener is nearly as long as heat can free, so that it may stay")
define("k_air", "thermal conductivity of still air", "W/(m*K)", Shown("W/(m*delta_degC)", HUNDREDTH), positive=True)
sized(
    "d_air",
    "still air that counts as all there is between hot metal and the room",
    Shown("mm", TENTH),
    Shown("in", HUNDREDTH),
)
define("P_ba", "heat flow out of the fitting's base into the air, once it is hot", "W", Shown("W", Fraction(1), "up"))


@formula("Q_ba", source="heat-balance")
def heat_in_the_base(rho_k: kg_per_m3, a_b: m, b_b: m, b_sk: m, c_h: J_per_kg_K, T_k: K, T_a: K) -> J:
    """A base of the fastener's own metal, its holes not taken off, as hot as the head."""
    return rho_k * a_b * b_b * b_sk * c_h * (T_k - T_a)


@formula("t_ba", source="heat-balance")
def time_for_the_base(Q_ba: J, P_k: W) -> s:
    """If none were lost: a lower bound."""
    return Q_ba / P_k


@formula("t_st", source="heat-balance")
def longest_step_of_heat(Q_k: J, Q_ba: J, n_st: one, P_k: W) -> s:
    """If none of the tool's heat were lost, so many steps would bring bolt and base to their heat."""
    return (Q_k + Q_ba) / (n_st * P_k)


@formula("T_st", source="heat-balance")
def end_of_whole_steps(T_k: K, T_a: K, n_st: one) -> K:
    """One more step, none of its heat lost, and bolt and base are as hot as they are held."""
    return T_k - (T_k - T_a) / n_st


@formula("t_sd", source="heat-balance")
def longest_dab_on_the_head(t_st: s, T_top: K, T_k: K, T_a: K, n_st: one, t_tc: s) -> s:
    """The part of a step that warms bolt and base by the margin; no hand keeps to less than a dab."""
    return max(t_tc, t_st * min(1, (T_top - T_k) * n_st / (T_k - T_a)))


@formula("P_tc", source="own-judgement")
def tool_on_a_bare_end(m_k: kg, c_h: J_per_kg_K, dT_hx: dK, t_tc: s) -> W:
    """One dab, none of its heat lost, warms half of the bolt, all that an end has beside it, by the margin."""
    return m_k / 2 * c_h * dT_hx / t_tc


@formula("P_hx", source="heat-balance")
def strongest_tool(Q_k: J, Q_ba: J, n_st: one, t_sp: s) -> W:
    """The same turned round: no step is shorter than hand and thermometer follow."""
    return (Q_k + Q_ba) / (n_st * t_sp)


@formula("P_ba", source="heat-balance")
def heat_off_the_base(k_air: W_per_m_K, d_air: m, a_b: m, b_b: m, b_sk: m, T_k: K, T_a: K) -> W:
    """Its top and its four sides, as hot as the head. What goes into the wood under it comes on top."""
    return k_air / d_air * (a_b * b_b + 2 * (a_b + b_b) * b_sk) * (T_k - T_a)


@formula("T_k", source="own-judgement")
def head_with_a_margin(T_top: K, dT_hx: dK) -> K:
    """Short of the limit by what the thermometer and the hand may be off."""
    return T_top - dT_hx


@formula("n_hx", source="own-judgement")
def stages_from_the_head(L_k: m, L_end: m, L_x: m) -> one:
    """Each stage but the last frees what softens round a long fastener; the last frees a short one whole."""
    return max(1, ceil((L_k - L_end) / L_x) + 1)


@formula("n_hr", source="own-judgement")
def stages_worth_digging(n_hx: one, n_sx: one) -> one:
    """All of them, or none."""
    return n_hx * min(1, floor(n_sx / n_hx))


@formula("n_hb", source="own-judgement")
def ways_with_both_ends(L_both: m, L_k: m, n_hx: one) -> one:
    """One where the head alone is not enough and the fastener is no longer than heat from both ends reaches."""
    return min(1, floor(L_both / L_k)) * min(1, n_hx - 1)


@formula("L_hm", source="own-judgement")
def longest_with_heat(L_x: m, n_sx: one, L_end: m, L_both: m) -> m:
    """Every stage but the last frees what softens round a long fastener; or both ends are heated."""
    return max(L_both, (n_sx - 1) * L_x + L_end)


@formula("n_cl", source="own-judgement")
def close_to_a_limit(L_end: m, L_both: m, L_k: m, x_cl: one) -> one:
    """It comes free by a limit, from the head or from both ends, and would not by one that much shorter."""
    return (
        min(1, floor(L_end / L_k))
        - min(1, floor(L_end * (1 - x_cl) / L_k))
        + min(1, floor(L_both / L_k))
        - min(1, floor(L_both * (1 - x_cl) / L_k))
    )


@formula("n_hot", source="own-judgement")
def ways_with_heat(n_hr: one, n_hb: one) -> one:
    """In stages or with both ends hot; one, where there is either."""
    return min(1, n_hr + n_hb)


@formula("n_hc", source="own-judgement")
def cored_out_cold(n_hot: one) -> one:
    """What no heat brings out."""
    return 1 - n_hot


@rule(
    "so large a margin leaves the head too cool to soften the epoxy: take a better thermometer, or a smaller margin",
    source="own-judgement",
    limits=("T_k",),
)
def margin_leaves_some_heat(dT_hx: dK, T_top: K, T_x: K) -> bool:
    """Asked only where a margin is given."""
    return (dT_hx >= 0) & (T_top - dT_hx > T_x)


@rule(
    "the base gives off more heat than the bolt leaves of the tool's: take a stronger tool",
    source="heat-balance",
    refuses=False,
)
def tool_heats_the_base_too(P_k: W, P_s: W, P_ba: W) -> bool:
    """A tool that is too weak for the bolt alone is told of by itself."""
    return (P_k < P_s) | (P_k >= P_s + P_ba)


@rule(
    "this tool heats bolt and base faster than hand and thermometer follow: take one of {P_hx} or less",
    source="own-judgement",
    refuses=False,
)
def tool_is_weak_enough(P_k: W, P_hx: W, n_hot: one) -> bool:
    """Past its limit the head is within a second or two, and wood and epoxy with it. What stays cold is not asked."""
    return (n_hot < 1) | (P_k <= P_hx * (1 + 1e-9))


@rule(
    "a tool of more than {P_hm}, a heat gun or a blowlamp, has head and wood past what they bear before hand and "
    "thermometer follow, and wood burns: take a soldering iron or heating rod of {P_hm} at most",
    source="own-judgement",
    limits=("T_k", "t_st"),
)
def tool_is_weaker_than_a_heat_gun(P_k: W, P_hm: W) -> bool:
    """So strong a tool is refused, however large the fitting that shares its heat."""
    return P_k <= P_hm * (1 + 1e-9)
