"""How much epoxy: what fills the hole and the bed, and what wets out the wood."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, cos, pi, sin

from ..formula import formula, mm, rule
from ..units import kg, kg_per_m2, kg_per_m3, m, m2, m3, one, rad
from .define import (
    PAD_IN,
    PAD_MM,
    count,
    coverage,
    mass,
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
sized("t_cb", "epoxy counted under the base", PAD_MM, PAD_IN)
sized("r_f", "leg of the fillet round the base", PAD_MM, PAD_IN)
volume("H_o", "stepped hole, empty")
volume("E_o", "thickened epoxy to put into one stepped hole")
volume("V_b", "cast bed under the base, with its fillet or edge")
count("n_h", "holes in one fitting")
volume("V_1", "thickened epoxy in one fitting")
count("N", "number of fittings")
share("w_a", "allowance for waste")
volume("V_s", "syringe size", Fraction(1))
share("u_s", "part of a syringe that can be pushed out")
count("n_s", "syringes to load from each mix")
count("n_sy", "syringes that one hole may take, one after another")
volume("V", "thickened epoxy in each mix")

# Epoxy that wets out
surface("A_e", "end wall of a blind hole")
surface("A_h", "wood in one hole to wet out")
coverage("w_h", "wet-out coat in a bored hole")
coverage("w_b", "wet-out coat on the surface under the base")
mass("m_w", "wet-out coat for one fitting")

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


@formula("H_o", source="solid-geometry")
def stepped_hole_volume(D_o: m, L_o: m, D_g: m, L_g: m, V_f: m3) -> m3:
    """Two cylinders and the cone between them; the cone at the end of a blind hole is not counted."""
    return pi / 4 * (D_o**2 * L_o + D_g**2 * L_g) + V_f


@formula("E_o", source="common-practice")
def epoxy_into_a_stepped_hole(V_r: m3, V_f: m3, V_g: m3, H_o: m3) -> m3:
    """A fifth over what stands round the metal, to come up all round; never past midway from that to a full hole."""
    return min(1.2 * (V_r + V_f + V_g), (V_r + V_f + V_g + H_o) / 2)


@formula("A_b", source="solid-geometry")
def base_area(a_b: m, b_b: m) -> m2:
    """A rectangular base, its holes not taken off."""
    return a_b * b_b


@formula("p_b", source="solid-geometry")
def base_perimeter(a_b: m, b_b: m) -> m:
    """A rectangular base."""
    return 2 * (a_b + b_b)


@formula("t_cb", source="own-judgement")
def epoxy_under_the_base(t_m: m) -> m:
    """The bed; without one, a coat of half a millimetre that fills what the wood is short of flat."""
    return max(t_m, 0.5 * mm)


@formula("V_b", source="solid-geometry")
def bed_volume(A_b: m2, t_cb: m, p_b: m, r_f: m) -> m3:
    """Bed of mean thickness, and a straight 45 degree fillet round it, corners rounded."""
    return A_b * t_cb + r_f**2 / 2 * p_b + pi / 3 * r_f**3


@formula("V_1", source="solid-geometry")
def volume_per_fitting(n_h: one, V_r: m3, V_f: m3, V_g: m3, V_b: m3) -> m3:
    """All that one fitting takes, nothing lost."""
    return n_h * (V_r + V_f + V_g) + V_b


# What is filled through syringes alone, without a bed.
NO_BED = ("B_bu", "L_ct", "n_l")


@formula("n_s", source="common-practice")
def syringes_to_load_for_the_holes(N_m: one, V_1: m3, V_b: m3, w_a: one, V_s: m3, u_s: one) -> one:
    """Whole syringes for what goes into the holes; the bed is spread out of the tray."""
    return ceil(N_m * (V_1 - V_b) * (1 + w_a) / (V_s * u_s))


@formula("n_s", source="common-practice", beside=NO_BED)
def syringes_to_load(N_m: one, V_1: m3, V_s: m3, u_s: one) -> one:
    """Whole syringes for what the holes hold: the waste stays in cup and tray."""
    return ceil(N_m * V_1 / (V_s * u_s))


# A hole is filled out of several syringes where it holds more than one gives, and where one runs empty within it.


@formula("n_sy", source="common-practice")
def syringes_of_a_stepped_hole(E_o: m3, V_s: m3, u_s: one, n_s: one) -> one:
    """Air is shut in between two of them, unless the next tube goes down into the epoxy."""
    return max(min(2, n_s), ceil(E_o / (V_s * u_s)))


@formula("n_sy", source="common-practice")
def syringes_of_a_bush(E_bu: m3, V_s: m3, u_s: one, n_s: one) -> one:
    """As in a stepped hole."""
    return max(min(2, n_s), ceil(E_bu / (V_s * u_s)))


@formula("n_sy", source="common-practice")
def syringes_of_a_cast_thread(E_ct: m3, V_s: m3, u_s: one, n_s: one) -> one:
    """As in a stepped hole."""
    return max(min(2, n_s), ceil(E_ct / (V_s * u_s)))


@formula("n_sy", source="common-practice")
def syringes_of_a_lift(V_l: m3, V_s: m3, u_s: one, n_s: one) -> one:
    """As in a stepped hole."""
    return max(min(2, n_s), ceil(V_l / (V_s * u_s)))


@formula("V", source="common-practice")
def volume_of_a_mix(N_m: one, V_1: m3, w_a: one, n_s: one, V_s: m3, u_s: one, m_sa: kg, rho_p: kg_per_m3) -> m3:
    """The fittings, the waste, what stays in the syringes, and the sample."""
    return N_m * V_1 * (1 + w_a) + n_s * V_s * (1 - u_s) + m_sa / rho_p


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
