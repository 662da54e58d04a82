"""What a bolt, a bonded rod or a screw carries across its axis, and at an angle.

The yield-limit equations for dowel-type fasteners, steel on wood: the wood gives way all along the fastener, or a stiff
fastener tips, or a thin one bends; the least holds. What lies between base and wood is reckoned as a gap over which the
fastener bends, for a bed that may crack or come loose carries nothing sideways. No friction under the base, no clamping
by the nut and no bond of the bed is counted.

What is counted of a fastener differs between a rod that epoxy fills round, a bolt in a clearance hole and a screw that
cuts its thread. `beside` tells them apart: only a bonded rod has `L_o`, a bolt `D_k`, a screw `r_sc`.
"""

from __future__ import annotations

from math import ceil, cos, pi, sin, sqrt

from ..formula import MPa, formula, kilogram, metre, mm, newton, rule
from ..units import N, N_m, Pa, Shown, kg_per_m3, m, one, rad
from .define import HUNDREDTH, TENTH, angle, define, force, measured, number, ruled, stress

# Wood
define(
    "rho_w",
    "density of the wood, moist as in use, that 95 in 100 pieces reach",
    "kg/m**3",
    Shown("kg/m**3", TENTH * 10, "down"),
)
angle("alpha_y", "angle between the pull sideways and the grain")
number("q_y", "part of the pressure in side grain that this grain bears", HUNDREDTH)
stress("f_h0", "pressure that the wood bears under a round fastener, pushed along the grain")
number("k_90", "ratio of the pressure that the wood bears along the grain to that across it", HUNDREDTH)
stress("f_h", "pressure that the wood bears under this fastener")

# Fastener
measured("d_n", "diameter of the fastener, by which the rules for a pull sideways go")
measured("d_r", "root of its thread")
measured("d_y", "diameter that is counted to press on the wood")
define("M_y", "bending moment that the thread's root bears", "N*m", Shown("N*m", TENTH, "down"))
ruled("l_y", "depth in the wood that is counted against a pull sideways", "down")
number("n_y", "least depth in the wood for a pull sideways, in diameters")

# Bed, edge and end
ruled("g_y", "gap, packing or bed between the fitting's base and the wood", "up")
ruled("a_z", "distance from the fastener's axis to the nearest end of the wood", "down")
number("n_e", "distance to an edge that the full side load asks for, in diameters")
ruled("e_y", "distance to an edge that the full side load asks for", "up")
ruled("e_z", "distance to an end of the wood that the full side load asks for", "up")
ruled("s_y", "distance to the next fastener that the full side load asks for", "up")
number("chi_y", "part of the side load that is left so near to an edge or an end")
ruled("s_wb", "widest spacing of the fasteners that the base has room for", "down")
ruled("s_bg", "least distance from one hole of the fitting to the next")
ruled("s_ba", "distance from one fastener of the fitting to the next", "down")
number("chi_s", "part of the side load that is left where fasteners stand so near to each other")

# What holds
force("R_y1", "strength sideways where the wood gives way all along the fastener")
force("R_y2", "strength sideways where the fastener tips")
force("R_y3", "strength sideways where the fastener bends")
force("R_y4", "strength of the wood against splitting at the edge that a fitting is pulled to")
force("R_ye", "strength sideways so near to an edge or an end")
force("R_y", "strength of the wood against a pull across the fastener")
force("R_sy", "strength of the fastener against shear")

# Working loads
number("gamma_y", "safety factor on a pull sideways, for a load that comes and goes", HUNDREDTH, positive=True)
number("gamma_yl", "safety factor on a pull sideways, for a load that stays", HUNDREDTH, positive=True)
force("F_y", "working load across, that comes and goes")
force("F_yl", "working load across, that stays")
force("F_ys", "most for a whole fitting across the grain, so that the wood does not split")
number("N_y", "fasteners of the fitting that a pull sideways takes all together")
number("q_n", "part of a fastener's side load that is left where so many stand beside each other")
force("F_yn", "working load across of each fastener of the fitting, that comes and goes")
force("F_ynl", "working load across of each fastener of the fitting, that stays")
angle("theta_p", "angle of the pull from the fastener's axis")
force("F_z", "working load of each fastener at the angle set, that comes and goes", at="theta_p")
force("F_zl", "working load of each fastener at the angle set, that stays", at="theta_p")


# Wood


@formula("rho_w", source="wood-handbook-5-6")
def density_nearly_all_reach(G: one) -> kg_per_m3:
    """Oven-dry mass, an eighth of moisture to it, and of that mean what 95 in 100 pieces reach."""
    return 940 * kilogram / metre**3 * G


@formula("f_h0", source="en-1995-1-1-dowels")
def embedding_along_the_grain(d_n: m, rho_w: kg_per_m3) -> Pa:
    """Denser wood bears more, and a thick fastener a little less than a thin one."""
    return 0.082 * MPa * (1 - 0.01 * d_n / mm) * (rho_w * metre**3 / kilogram)


@formula("k_90", source="en-1995-1-1-dowels")
def loss_across_the_grain(d_n: m) -> one:
    """The rule for softwood, taken for every wood: American tables have no more for oak across its grain."""
    return 1.35 + 0.015 * d_n / mm


@formula("f_h", source="en-1995-1-1-dowels")
def embedding_at_the_angle(q_y: one, f_h0: Pa, k_90: one, alpha_y: rad) -> Pa:
    """Between along and across by the angle; in end grain a tenth of across."""
    return q_y * f_h0 / (k_90 * sin(alpha_y) ** 2 + cos(alpha_y) ** 2)


# Fastener


@formula("d_n", source="iso-68-1", beside=("L_o", "D_k"))
def diameter_of_a_machine_thread(d: m) -> m:
    """The thread's own."""
    return d


@formula("d_n", source="common-practice", beside=("r_sc",))
def diameter_of_a_screw(d_sc: m) -> m:
    """The shank's."""
    return d_sc


@formula("d_r", source="iso-68-1", beside=("L_o", "D_k"))
def root_of_a_machine_thread(d_3: m) -> m:
    """The thread is taken to reach through to the base."""
    return d_3


@formula("d_r", source="wood-handbook-8")
def root_of_a_screw(r_sc: one, d_sc: m) -> m:
    """The core; the thicker shank at the mouth is not counted."""
    return r_sc * d_sc


@formula("d_y", source="din-1052", beside=("L_o",))
def bonded_rod_on_its_ring(d: m) -> m:
    """Epoxy fills the thread, so the whole rod presses. Rules for bonded rods give a quarter more; it is not taken."""
    return d


@formula("d_y", source="en-1995-1-1-dowels", beside=("D_k", "r_sc"))
def thread_on_the_wood(d_r: m) -> m:
    """A bare thread presses with its root and a tenth."""
    return 1.1 * d_r


@formula("M_y", source="en-1995-1-1-dowels")
def yield_moment(f_u: Pa, d_r: m) -> N_m:
    """Bent well past its first stretch, as the rule for dowels has it, the root and a tenth counted."""
    return 0.3 * (f_u / MPa) * (1.1 * d_r / mm) ** 2.6 * newton * mm  # type: ignore[no-any-return]


# How deep, and over what


@formula("l_y", source="own-judgement")
def depth_of_a_bonded_rod(L_o: m) -> m:
    """The oversized part, which epoxy fills; the guide hole is not counted."""
    return L_o


@formula("l_y", source="en-1995-1-1-dowels")
def depth_of_a_bolt(T_sk: m) -> m:
    """Right through the wood."""
    return T_sk


@formula("l_y", source="en-1995-1-1-dowels", beside=("h_rsp",))
def depth_of_a_bolt_with_a_plate(T: m) -> m:
    """Right through the wood, the plate not counted."""
    return T


@formula("l_y", source="nds-2018-dowels")
def depth_of_a_screw(l_sc: m, L_sc: m) -> m:
    """Shank and thread, without the tapered tip."""
    return l_sc + L_sc


@formula("g_y", source="tr-12", beside=("L_o",))
def cast_bed_as_a_gap(t_m: m) -> m:
    """A bed that is whole and sticks to the wood would hold the rod; nobody can see that it does."""
    return t_m


@formula("g_y", source="tr-12")
def soft_bed_as_a_gap(h_b: m) -> m:
    """Flexible compound holds nothing sideways."""
    return h_b


# Edge, end and the next fastener


@formula("e_y", source="nds-2018-dowels")
def edge_for_the_full_load(n_e: one, d_n: m) -> m:
    """Four diameters where it is pulled across the grain, three where along it."""
    return n_e * d_n


@formula("e_z", source="nds-2018-dowels")
def end_for_the_full_load(d_n: m) -> m:
    """Seven diameters, as softwood asks where it is pulled along the grain towards its end."""
    return 7 * d_n


@formula("s_y", source="en-1995-1-1-dowels")
def spacing_for_the_full_load(d_n: m) -> m:
    """Five diameters along the grain; across it four would do."""
    return 5 * d_n


@formula("chi_y", source="nds-2018-dowels")
def nearness_to_edge_or_end(a_e: m, e_y: m, a_z: m, e_z: m, k_sg: one) -> one:
    """In proportion, the worse of the two. The nearest edge is the one pulled towards; end grain has no end."""
    return min(1, a_e / e_y, max(a_z / e_z, 1 - k_sg))


@formula("s_wb", source="own-judgement")
def widest_spacing_on_a_base(n_h: one, d_n: m, a_b: m, b_b: m) -> m:
    """In one row along the base or in two, the wider. Each leaves half a diameter of base beside its hole."""
    return max(
        (max(a_b, b_b) - 2 * d_n) / max(n_h - 1, 1),
        min((max(a_b, b_b) - 2 * d_n) / max(ceil(n_h / 2) - 1, 1), min(a_b, b_b) - 2 * d_n),
        0 * d_n,
    )


@formula("s_ba", source="own-judgement")
def spacing_on_a_base(s_wb: m, s_y: m, s_bg: m) -> m:
    """As wide as is asked, where the base has room for it and the fitting's own holes do not stand nearer."""
    return min(s_wb, s_y, s_bg)


@formula("chi_s", source="nds-2018-dowels")
def nearness_to_the_next(s_ba: m, s_y: m, N_y: one) -> one:
    """In proportion; one alone has no next."""
    return min(1, max(s_ba / s_y, 2 - N_y))


# What holds


@formula("R_y1", source="en-1995-1-1-dowels")
def wood_gives_way(f_h: Pa, d_y: m, l_y: m) -> N:
    """Pressed over its whole length."""
    return f_h * d_y * l_y


@formula("R_y2", source="tr-12")
def fastener_tips(f_h: Pa, d_y: m, l_y: m, g_y: m) -> N:
    """A stiff one turns about a point in the wood; the base does not hold it upright. A gap makes the arm longer."""
    return 2 * f_h * d_y * (sqrt((g_y + l_y / 2) ** 2 + l_y**2 / 4) - (g_y + l_y / 2))


@formula("R_y3", source="tr-12")
def fastener_bends(f_h: Pa, d_y: m, g_y: m, M_y: N_m) -> N:
    """A thin one bends in the wood; the base does not hold it upright. A gap makes the arm longer."""
    return f_h * d_y * (sqrt(g_y**2 + 2 * M_y / (f_h * d_y)) - g_y)


@formula("R_y4", source="lvl-handbook-splitting")
def wood_splits(l_y: m, a_e: m) -> N:
    """Wood torn across its grain, the piece taken endlessly wide, which gives the least."""
    return 14 * newton * (l_y / mm) * sqrt(a_e / mm)


@formula("R_ye", source="en-1995-1-1-dowels")
def least_way_to_give(chi_y: one, R_y1: N, R_y2: N, R_y3: N) -> N:
    """The least of the three, and less near an edge or an end."""
    return chi_y * min(R_y1, R_y2, R_y3)


@formula("R_y", source="lvl-handbook-splitting")
def held_across(R_ye: N, R_y4: N, alpha_y: rad) -> N:
    """Across the grain no more than splits the wood; along it nothing splits that way."""
    return R_ye / max(1, R_ye * sin(alpha_y) / R_y4)


@formula("R_sy", source="from-memory")
def fastener_in_shear(f_u: Pa, d_r: m) -> N:
    """Six tenths of its strength in tension, on the root of the thread."""
    return 0.6 * f_u * pi / 4 * d_r**2


# Working loads


@formula("F_y", source="own-judgement")
def side_load(R_y: N, gamma_y: one, R_sy: N, gamma_s: one) -> N:
    """A line, a sheet, a person who leans: the lesser of wood and fastener."""
    return min(R_y / gamma_y, R_sy / gamma_s)


@formula("F_yl", source="own-judgement")
def lasting_side_load(R_y: N, gamma_yl: one, R_sy: N, gamma_s: one) -> N:
    """Wood gives way to a load that never lets go sooner than to one that passes."""
    return min(R_y / gamma_yl, R_sy / gamma_s)


@formula("F_ys", source="own-judgement")
def split_of_a_whole_fitting(R_y4: N, gamma_y: one) -> N:
    """However many fasteners it has."""
    return R_y4 / gamma_y


@formula("N_y", source="own-judgement")
def fasteners_of_the_fitting(n_h: one) -> one:
    """All of them: a pull sideways comes on the whole fitting."""
    return n_h


@formula("q_n", source="en-1995-1-1-dowels")
def share_of_one_of_several(N_y: one, alpha_y: rad, chi_s: one) -> one:
    """All in one line, five diameters apart, nearer in proportion. Across the grain the line costs nothing."""
    return chi_s * (1 - (1 - max(1, N_y**0.9 * (5 / 13) ** 0.25) / N_y) * cos(alpha_y))  # type: ignore[no-any-return]


@formula("F_yn", source="lvl-handbook-splitting")
def side_load_of_each(F_y: N, q_n: one, N_y: one, F_ys: N, alpha_y: rad) -> N:
    """Together no more than splits the wood."""
    return q_n * F_y / max(1, N_y * q_n * F_y * sin(alpha_y) / F_ys)


@formula("F_ynl", source="lvl-handbook-splitting")
def lasting_side_load_of_each(F_yl: N, q_n: one, N_y: one, R_y4: N, gamma_yl: one, alpha_y: rad) -> N:
    """Together no more than splits the wood in time."""
    return q_n * F_yl / max(1, N_y * q_n * F_yl * sin(alpha_y) * gamma_yl / R_y4)


@formula("F_z", source="own-judgement")
def angled_pull(F_w: N, F_yn: N, theta_p: rad) -> N:
    """The shares along and across add up to the whole. Of two legs one is counted, for it may take it all."""
    return 1 / (cos(theta_p) / F_w + sin(theta_p) / F_yn)


@formula("F_zl", source="own-judgement")
def lasting_angled_pull(F_l: N, F_ynl: N, theta_p: rad) -> N:
    """The same shares, of what each bears for good."""
    return 1 / (cos(theta_p) / F_l + sin(theta_p) / F_ynl)


@formula("F_z", source="own-judgement")
def angled_pull_on_a_screw(F_sc: N, F_yn: N, theta_p: rad) -> N:
    """The shares along and across add up to the whole."""
    return 1 / (cos(theta_p) / F_sc + sin(theta_p) / F_yn)


@formula("F_z", source="own-judgement", beside=("T_sk",))
def angled_pull_on_a_washer(F_p: N, F_s: N, F_yn: N, theta_p: rad) -> N:
    """The shares along and across add up to the whole, along it the lesser of washer and bolt."""
    return 1 / (cos(theta_p) / min(F_p, F_s) + sin(theta_p) / F_yn)


@formula("F_z", source="own-judgement")
def angled_pull_on_a_plate(F_rs: N, F_s: N, F_yn: N, theta_p: rad) -> N:
    """The shares along and across add up to the whole, along it the lesser of plate and bolt."""
    return 1 / (cos(theta_p) / min(F_rs, F_s) + sin(theta_p) / F_yn)


@rule(
    "pulled at {theta_p} from its axis each bolt carries {F_z}, not the {F_n} that its plate is cut for: take more "
    "bolts, or pull nearer to their axis",
    source="own-judgement",
    refuses=False,
)
def plate_carries_its_load_at_the_angle(F_z: N, F_n: N, b_rs: m, theta_p: rad) -> bool:
    """A plate is cut for a pull along the bolt, and carries nothing of one across. Asked only where one is worked."""
    return (b_rs <= 0) | (F_z >= F_n) | (theta_p <= 0)


# Where the model holds. A hair of play keeps binary noise from refusing a round size.


@rule(
    "no side load is given for threads under {6 mm} or over {20 mm}, between which the model was laid down: take a "
    "thread between them",
    source="own-judgement",
    limits=("R_y", "R_sy", "R_y4"),
)
def side_load_is_for_such_a_thread(d_n: m, d_3: m) -> bool:
    """As for the bond; a screw's thread, which has no such root, is another matter."""
    return (d_3 > 0) & (d_n >= 5.999 * mm) & (d_n <= 20.001 * mm)


@rule(
    "no side load is given for screws under {3.5 mm} or over {20 mm}: published rules go from about there to there",
    source="nds-2018-dowels",
    limits=("R_y", "R_sy", "R_y4"),
)
def side_load_is_for_such_a_screw(d_n: m, r_sc: one) -> bool:
    """A gauge 6 is 3.505 mm."""
    return (r_sc > 0) & (d_n >= 3.5 * mm) & (d_n <= 20.001 * mm)


@rule(
    "no side load is given for so short a screw: a coach screw needs 4 diameters in the wood, a wood screw 6",
    source="nds-2018-dowels",
    limits=("R_y", "R_y4"),
)
def screw_is_deep_enough_for_a_side_load(l_y: m, n_y: one, d_n: m) -> bool:
    """The tapered tip is not counted."""
    return l_y * (1 + 1e-9) >= n_y * d_n


@rule(
    "no side load is given for a bond shorter than 5 thread diameters: take a deeper hole or a thinner fastener",
    source="own-judgement",
    limits=("R_y", "R_y4"),
)
def rod_is_deep_enough_for_a_side_load(L_o: m, d_n: m) -> bool:
    """As for a pull along it."""
    return L_o >= 4.999 * d_n


@rule(
    "no side load is given for wood thinner than 1.5 diameters of the bolt, where published tables end",
    source="nds-2018-dowels",
    limits=("R_y", "R_y4"),
)
def wood_is_thick_enough_for_a_side_load(l_y: m, d_n: m, D_k: m) -> bool:
    """A one-inch bolt in wood of 1 1/2 in. Asked only of a bolt, which has a hole that it passes."""
    return (l_y * (1 + 1e-9) >= 1.5 * d_n) | (D_k < 0)


@rule(
    "no side load is given for a bond line under {1 mm}: take an oversized hole at least {2 mm} wider than the thread",
    source="own-judgement",
    limits=("R_y", "R_y4"),
)
def ring_presses_on_the_wood(D_o: m, d_n: m) -> bool:
    """A starved ring leaves the rod loose in its hole."""
    return D_o - d_n >= 1.999 * mm


@rule(
    "no side load is given over a bed or gap thicker than the fastener, which it would only bend: make it thinner",
    source="own-judgement",
    limits=("R_y",),
)
def bed_is_thin_enough_for_a_side_load(g_y: m, d_n: m) -> bool:
    """No test or table goes so far."""
    return g_y <= d_n * (1 + 1e-9)


@rule(
    "no side load is given nearer to an edge or an end than half of what the full load asks for, because the wood "
    "splits: move the fastener in",
    source="nds-2018-dowels",
    limits=("R_y", "R_y4"),
)
def edge_is_far_enough_for_a_side_load(chi_y: one) -> bool:
    """Down to a half, in proportion."""
    return chi_y >= 0.4999


@rule(
    "no side load but along the grain is given nearer to an edge than {e_y}, because the wood splits: move the "
    "fastener in",
    source="nds-2018-dowels",
    limits=("R_y", "R_y4"),
)
def loaded_edge_is_far_enough(a_e: m, e_y: m, alpha_y: rad) -> bool:
    """Four diameters, and no proportion. Always pulled along the grain, no edge is pulled to."""
    return (a_e * (1 + 1e-9) >= e_y) | (alpha_y <= 0)


@rule(
    "so near to an edge or an end the side load is less in proportion",
    source="nds-2018-dowels",
    refuses=False,
)
def edge_is_far_enough_for_the_full_side_load(chi_y: one, F_yn: N) -> bool:
    """The reader is told what costs the load, where there is one."""
    return (chi_y >= 1 - 1e-9) | (F_yn < 0)


@rule(
    "no side load is given for wood so light or so heavy: strength classes go from a specific gravity of 0.31 to 0.95",
    source="en-338",
    limits=("R_y",),
)
def wood_is_of_a_usual_density(rho_w: kg_per_m3) -> bool:
    """From 290 to 900 kg/m3, as 95 in 100 pieces reach."""
    return (rho_w * metre**3 / kilogram >= 289) & (rho_w * metre**3 / kilogram <= 901)


@rule(
    "no side load is given for fasteners nearer to each other than three diameters, the least of published rules: "
    "set them wider apart, or fewer",
    source="nds-2018-dowels",
    limits=("q_n",),
)
def fasteners_are_far_enough_apart_for_a_side_load(chi_s: one) -> bool:
    """Three of the five that the full load asks for."""
    return chi_s >= 0.5999


@rule(
    "{s_ba} from each other they carry less sideways, in proportion, than {s_y} apart",
    source="nds-2018-dowels",
    refuses=False,
)
def fasteners_are_far_enough_apart_for_the_full_side_load(N_y: one, s_ba: m, s_y: m, F_yn: N) -> bool:
    """The reader is told what costs the load, where there is one."""
    return (N_y < 2) | (s_ba * (1 + 1e-9) >= s_y) | (F_yn < 0)


@rule(
    "a base of {a_b} by {b_b} has no room for its fasteners {s_y} apart, as a pull along them is reckoned: take a "
    "larger base, or fewer",
    source="own-judgement",
    refuses=False,
)
def base_takes_its_fasteners(n_h: one, s_y: m, s_wb: m, a_b: m, b_b: m) -> bool:
    """Nearer, the wood between them may split. A base has a size."""
    return (n_h < 2) | (s_wb * (1 + 1e-9) >= s_y) | (a_b < 0) | (b_b < 0)
