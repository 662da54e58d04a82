"""Taking a fastener out with heat, at the bench: where to hold its head, and in how many stages a long one comes."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, pi, sqrt, tanh

from ..formula import formula, rule, watt
from ..units import J, J_per_kg_K, K, Shown, W, W_per_m_K, dK, kg_per_m3, m, m2, m3, one, s
from .define import HUNDREDTH, TENTH, count, define, mark, minutes, number, ruled, share, sized, warmth

warmth("dT_hx", "margin of the head below its limit, for a thermometer that errs")
count("n_hx", "stages from the head alone, at the least")
count("n_sx", "most stages that are worth digging")
ruled("L_hm", "longest fastener to come out by heat at all, in stages or from both ends", "down")
count("n_hr", "stages from the head alone that are worth digging, 0 where they are too many")
count("n_hb", "ways to bring out with both ends hot what its head alone does not free, 0 where it is too long")
count("n_hot", "ways to bring this fastener out with heat, 0 where it is too long for any")
mark("n_hc", "1 where the fastener is too long for heat, so that it is cored out cold")
count("n_pp", "people that taking it out needs, one at each hot end and one more, or two where it is left cold")
count("n_ir", "irons on it at once, none where it is left cold")
count("n_if", "irons for an end without a base, a far end or a stub, none where none is heated")
count("n_ih", "irons to have at hand, none where it is left cold")
define("Q_ba", "heat that the fitting's base takes when it is heated along", "J", Shown("kJ", TENTH, "up"))
# A lower bound of a time is rounded down.
SECONDS = Shown("s", Fraction(1), "down")
define("t_ba", "time that the tool needs for the base alone, at the least", "s", SECONDS)
define("t_sp", "longest dab of the tool", "s", Shown("s", Fraction(1)), positive=True)
define("t_tc", "shortest dab of the tool", "s", Shown("s", Fraction(1)), positive=True)
define("t_rs", "time after a dab until the reading stands", "s", Shown("s", Fraction(1)), positive=True)
ENERGY = Shown("J", Fraction(1), "down")
define("V_bw", "metal of the bolt that warms with its end until it is read", "m**3", Shown("mL", HUNDREDTH, "down"))
define("E_be", "most heat of one dab on a bolt's bare end", "J", ENERGY)
define("E_hc", "most heat of one dab on a head that heats alone", "J", ENERGY)
number(
    "q_hd",
    "metal of two nuts locked on a bolt, as a multiple of its diameter cubed",
    HUNDREDTH,
    positive=True,
)
number(
    "q_he", "metal of a hexagon head, as a multiple of its bolt's diameter cubed, at the least", TENTH, positive=True
)
number("q_ha", "surface of two nuts as a multiple of the bolt's diameter squared", HUNDREDTH, positive=True)
define("P_be", "heat flow out of an end without a base and out of all of the bolt", "W", Shown("W", TENTH, "up"))
minutes("t_up", "time in which a tool should bring its end to the heat")
define("t_fb", "time in which a bare end falls by what one dab brings", "s", SECONDS)
define("t_fc", "time in which a head that heats alone falls by what one dab brings", "s", SECONDS)
define("P_sb", "heat flow into each end of a bolt that is hot at both", "W", Shown("W", TENTH, "up"))
define("P_tc", "most power of a tool on an end that no base shares", "W", Shown("W", Fraction(1), "down"))
define("P_tl", "least power of a tool that holds such an end, between its readings", "W", Shown("W", Fraction(1), "up"))
mark("n_tw", "1 where a tool can hold such an end and leave time to read")
define(
    "P_hc", "most power of a tool that holds a head by dabs where it heats alone", "W", Shown("W", Fraction(1), "down")
)
define("P_hl", "least power of a tool that holds such a head, between its readings", "W", Shown("W", Fraction(1), "up"))
count("n_th", "irons for such a head, none where it is left cold or falls faster than it is read")
define(
    "P_kl",
    "least power of a tool that brings head and base to the heat, between its readings",
    "W",
    Shown("W", Fraction(1), "up"),
)
define(
    "P_hx",
    "most power of a tool whose shortest dab takes a head that heats alone half its way",
    "W",
    Shown("W", Fraction(1), "down"),
)
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


@formula("V_bw", source="heat-conduction")
def bolt_that_warms_with_its_end(
    A_k: m2, L_h: m, L_k: m, k_h: W_per_m_K, t_rs: s, rho_k: kg_per_m3, c_h: J_per_kg_K
) -> m3:
    """At most what half of the bolt takes while its end is held."""
    return A_k * min(L_h * tanh(L_k / (2 * L_h)), sqrt(4 * k_h * t_rs / (pi * rho_k * c_h)))


@formula("E_be", source="heat-balance")
def dab_on_a_bare_end(rho_k: kg_per_m3, c_h: J_per_kg_K, q_hd: one, d: m, V_bw: m3, dT_sw: dK) -> J:
    """It lifts two nuts, and what of the bolt warms with them."""
    return rho_k * c_h * (q_hd * d**3 + V_bw) * dT_sw


@formula("E_hc", source="heat-balance")
def dab_on_a_head_alone(rho_k: kg_per_m3, c_h: J_per_kg_K, q_he: one, d: m, V_bw: m3, dT_sw: dK) -> J:
    """The same of a head in place of two nuts. In so short a time a seat without pressure takes next to nothing."""
    return rho_k * c_h * (q_he * d**3 + V_bw) * dT_sw


@formula("P_sb", source="heat-conduction")
def heat_flow_of_each_end(k_h: W_per_m_K, A_k: m2, L_h: m, L_k: m, T_k: K, T_a: K) -> W:
    """No heat crosses the middle, so each half is as a fastener by itself."""
    return k_h * A_k / L_h * tanh(L_k / (2 * L_h)) * (T_k - T_a)


@formula("P_be", source="heat-balance")
def loss_of_a_bare_end(P_s: W, k_air: W_per_m_K, d_air: m, q_ha: one, d: m, T_k: K, T_a: K) -> W:
    """All of the bolt, and what two nuts give off to the air."""
    return P_s + k_air / d_air * q_ha * d**2 * (T_k - T_a)


@formula("t_fb", source="heat-balance")
def fall_of_a_bare_end(E_be: J, P_be: W) -> s:
    """At the loss of the hold, which is its most."""
    return E_be / P_be


@formula("P_tc", source="own-judgement")
def tool_on_a_bare_end(E_be: J, t_tc: s) -> W:
    """Its shortest dab brings no more than may be wanting."""
    return E_be / t_tc


@formula("P_tl", source="heat-balance")
def least_tool_on_a_bare_end(P_be: W, t_fb: s, t_rs: s, t_tc: s, t_sp: s, Q_k: J, t_up: s) -> W:
    """On for what the reading leaves of a fall, no longer than the longest dab. What warms the bolt comes on top."""
    return P_be * max(1 + t_rs / t_sp, t_fb / max(t_fb - t_rs, t_tc / 10)) + Q_k / t_up * (1 + t_rs / t_sp)


@formula("P_hc", source="own-judgement")
def tool_on_a_head_alone(E_hc: J, t_tc: s) -> W:
    """Its shortest dab brings no more than may be wanting, however little the seat takes."""
    return E_hc / t_tc


@formula("t_fc", source="heat-balance")
def fall_of_a_head_alone(E_hc: J, P_be: W) -> s:
    """As of a bare end. A head gives less to the air than the two nuts that are counted."""
    return E_hc / P_be


@formula("P_hl", source="heat-balance")
def least_tool_on_a_head_alone(P_be: W, t_fc: s, t_rs: s, t_tc: s, t_sp: s, Q_k: J, t_up: s) -> W:
    """As on a bare end."""
    return P_be * max(1 + t_rs / t_sp, t_fc / max(t_fc - t_rs, t_tc / 10)) + Q_k / t_up * (1 + t_rs / t_sp)


@formula("P_kl", source="heat-balance")
def least_tool_on_a_head(P_be: W, P_ba: W, Q_k: J, Q_ba: J, t_up: s, t_rs: s, t_sp: s) -> W:
    """What bolt and base give off and what warms them, by the longest dabs with a reading after each."""
    return (P_be + P_ba + (Q_k + Q_ba) / t_up) * (1 + t_rs / t_sp)


@formula("n_tw", source="own-judgement")
def tools_that_hold_a_bare_end(P_tl: W, P_tc: W) -> one:
    """In whole watts, as both are told."""
    return min(1, floor(floor(P_tc / watt) / ceil(P_tl / watt)))


@formula("n_th", source="own-judgement")
def tools_that_hold_a_head_alone(P_hl: W, P_hc: W, n_hot: one) -> one:
    """In whole watts, as both are told. What stays cold needs none."""
    return n_hot * min(1, floor(floor(P_hc / watt) / ceil(P_hl / watt)))


@formula("P_hx", source="heat-balance")
def strongest_tool(E_hc: J, dT_sw: dK, T_k: K, T_a: K, t_tc: s) -> W:
    """The first dab is given before anything is known of the seat, so it has to be safe where that takes nothing."""
    return E_hc * (T_k - T_a) / (2 * dT_sw * t_tc)


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
def stages_worth_digging(n_hx: one, n_sx: one, n_tw: one) -> one:
    """All of them, or none. A stub is heated by the tool for bare ends; a bolt that comes in one keeps its base."""
    return n_hx * min(1, floor(n_sx / n_hx)) * max(n_tw, floor(1 / n_hx))


@formula("n_hb", source="own-judgement")
def ways_with_both_ends(L_both: m, L_k: m, n_hx: one, n_tw: one) -> one:
    """One where the head alone is not enough, heat from both ends reaches, and a tool can hold the far one."""
    return min(1, floor(L_both / L_k)) * min(1, n_hx - 1) * n_tw


@formula("L_hm", source="own-judgement")
def longest_with_heat(L_x: m, n_sx: one, L_end: m, L_both: m, n_tw: one) -> m:
    """Every stage but the last frees what softens round a long fastener; or both ends are heated, where a tool can."""
    return L_end + (max(L_both, (n_sx - 1) * L_x + L_end) - L_end) * n_tw


@formula("n_cl", source="own-judgement")
def close_to_a_limit(L_end: m, L_both: m, L_k: m, x_cl: one, n_tw: one) -> one:
    """It comes free by a limit, from the head or from both ends, and would not by one that much shorter."""
    return (
        min(1, floor(L_end / L_k))
        - min(1, floor(L_end * (1 - x_cl) / L_k))
        + (min(1, floor(L_both / L_k)) - min(1, floor(L_both * (1 - x_cl) / L_k))) * n_tw
    )


@formula("n_hot", source="own-judgement")
def ways_with_heat(n_hr: one, n_hb: one) -> one:
    """In stages or with both ends hot; one, where there is either."""
    return min(1, n_hr + n_hb)


@formula("n_pp", source="own-judgement")
def people_at_the_heat(n_hb: one) -> one:
    """One with the iron and one who watches the far side; with both ends hot one at each, and one who watches."""
    return 2 + n_hb


@formula("n_ir", source="own-judgement")
def irons_at_once(n_hot: one, n_hb: one) -> one:
    """One at the head, and with both ends hot one at the far end too."""
    return n_hot + n_hb


@formula("n_if", source="own-judgement")
def irons_for_a_bare_end(n_hb: one, n_hr: one) -> one:
    """For the far end, and for a stub that is dug out in stages."""
    return min(1, n_hb + max(0, n_hr - 1))


@formula("n_ih", source="own-judgement")
def irons_at_hand(n_hot: one, n_th: one, n_if: one) -> one:
    """One that brings head and base to the heat, a weaker one where it can hold the head, and one for a bare end."""
    return n_hot + n_th + n_if


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
    "between its readings the tool does not bring what bolt and base give off: set this card for one of {P_kl} or more",
    source="heat-balance",
    refuses=False,
)
def tool_heats_the_base_too(P_k: W, P_kl: W, P_s: W, n_hot: one) -> bool:
    """A tool that is too weak for the bolt alone is told of by itself. What stays cold is not asked."""
    return (n_hot < 1) | (P_k < P_s) | (P_k * (1 + 1e-9) >= P_kl)


@rule(
    "a tool that heats so large a base is too strong for the head of so thin a bolt: core it out cold",
    source="own-judgement",
    limits=("n_hot",),
)
def a_tool_can_hold_the_head(P_kl: W, P_hx: W, n_hot: one) -> bool:
    """In whole watts, as both are told. What stays cold is not asked."""
    return (n_hot < 1) | (ceil(P_kl / watt) <= floor(P_hx / watt))


@rule(
    "one dab of this tool may have the head near its limit, where its seat takes no heat: set this card for one of "
    "{P_hx} or less",
    source="own-judgement",
    limits=("n_hot",),
)
def tool_is_weak_enough(P_k: W, P_hx: W, n_hot: one) -> bool:
    """What stays cold is not asked."""
    return (n_hot < 1) | (P_k <= P_hx * (1 + 1e-9))


@rule(
    "a tool of more than {P_hm}, a heat gun or a blowlamp, has head and wood past what they bear before hand and "
    "thermometer follow, and wood burns: take a soldering iron or heating rod of {P_hm} at most",
    source="own-judgement",
    limits=("T_k",),
)
def tool_is_weaker_than_a_heat_gun(P_k: W, P_hm: W) -> bool:
    """So strong a tool is refused, however large the fitting that shares its heat."""
    return P_k <= P_hm * (1 + 1e-9)
