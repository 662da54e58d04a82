"""Washers and backing plates: what the wood under them holds, how large a plate must be, and how thick.

A through-bolted fitting presses its washer or plate on the wood behind. That is a way of its own to carry a load and is
never added to a bond. The plate to cut is a little larger than the load asks, and never smaller or thinner than the
trade cuts one.
"""

from __future__ import annotations

from fractions import Fraction
from math import pi, sqrt

from ..formula import formula, lookup, mm, rule
from ..units import N, Pa, Shown, m, m2, one
from .define import HUNDREDTH, TENTH, area, drill, force, mark, measured, ruled, sized, stress

# Washer
measured("d_h", "hole of the washer")
sized("D_p", "diameter of the washer", Shown("mm", TENTH, trim=True), Shown("in", Fraction(1, 64), fraction=True))
sized("t_s", "thickness of the washer", Shown("mm", TENTH, trim=True), Shown("in", HUNDREDTH))
sized("D_e", "diameter of the washer that is counted", Shown("mm", TENTH, "down"), Shown("in", HUNDREDTH, "down"))
area("A_p", "wood that the washer presses on")
force("R_p", "strength of the wood under the washer")
force("F_p", "working load of the wood under the washer, that comes and goes")

# Plate
ruled("b_p", "side of a square backing plate that the load asks for", "up")
stress("f_yp", "yield strength of the plate")
mark("k_lm", "mark of a plate of laminate, whose dust is glass")
mark("k_ru", "1 for a plate that is painted, 2 for one that is eaten beside a nobler metal too", most=2)

# Plate to cut
ruled("b_rs", "side of the plate to cut", "up")
ruled("c_rs", "overhang of the plate to cut beyond the washer", "up")
sized("h_q", "thickness of the plate wanted", Shown("mm", TENTH * 5, "up", trim=True), Shown("in", HUNDREDTH, "up"))
drill("h_rsp", "thickness of the plate to cut")
ruled("r_rs", "radius that the plate's corners are rounded to")
force("F_rs", "working load of the wood under the plate, or its washer where that bears more, that comes and goes")
ruled("g_rs", "widest gap between a plate on its pads and the wood", "down")


@formula("D_e", source="en-1995-1-1")
def counted_washer(D_p: m, t_s: m, d: m) -> m:
    """A thin or a very wide washer dishes: no more than 12 thicknesses or 4 thread diameters count."""
    return min(D_p, 12 * t_s, 4 * d)


@formula("A_p", source="en-1995-1-1")
def washer_area(D_e: m, d: m) -> m2:
    """A round washer, the hole in the wood taken a millimetre over the thread."""
    return pi / 4 * (D_e**2 - (d + 1 * mm) ** 2)


@formula("R_p", source="en-1995-1-1")
def washer_bearing(f_ck: Pa, A_p: m2) -> N:
    """Under a small washer the wood beside it helps: three times the plain strength."""
    return 3 * f_ck * A_p


@formula("F_p", source="own-judgement")
def washer_working_load(R_p: N, gamma_p: one) -> N:
    """A washer sinks in before anything breaks, so its factor is smaller than that of a bond."""
    return R_p / gamma_p


@formula("b_p", source="own-judgement")
def plate_side(gamma_p: one, F_n: N, f_ck: Pa, d: m) -> m:
    """Under a plate the wood has its plain strength; the hole in the wood is taken off."""
    return sqrt(gamma_p * F_n / f_ck + pi / 4 * (d + 1 * mm) ** 2)


# Plate to cut


@formula("b_rs", source="common-practice")
def side_to_cut(b_p: m, d: m) -> m:
    """A hundredth over what the load asks, for the rounded corners; and never under 4 thread diameters."""
    return max(1.01 * b_p, 4 * d)


@formula("c_rs", source="solid-geometry")
def overhang_to_cut(b_rs: m, D_p: m) -> m:
    """From the washer's edge to that of the plate."""
    return (b_rs - D_p) / 2


@formula("h_q", source="en-1993-1-8-plate")
def thickness_wanted(c_rs: m, f_ck: Pa, f_yp: Pa, d: m) -> m:
    """The wood crushes before the overhang bends; and never under a quarter of the thread, which is common practice."""
    return max(c_rs * sqrt(3 * f_ck / f_yp), d / 4)


lookup(
    "h_rsp",
    "at least",
    "h_q",
    stock="plate",
    source="common-practice",
    meaning="The thinnest plate that is sold and not under it.",
    instead="take a stronger material, or share the load among more bolts",
)


@formula("r_rs", source="own-judgement")
def corner_radius(b_rs: m) -> m:
    """An eighth of the side: blunt to a hand and to the wood, and hardly anything off the plate."""
    return b_rs / 8


@formula("F_rs", source="own-judgement")
def plate_working_load(f_ck: Pa, b_rs: m, r_rs: m, d: m, gamma_p: one, F_p: N) -> N:
    """The wood's plain strength under the plate without its corners and hole, and no less than under the washer."""
    return max(f_ck * (b_rs**2 - (4 - pi) * r_rs**2 - pi / 4 * (d + 1 * mm) ** 2) / gamma_p, F_p)


@formula("g_rs", source="own-judgement")
def widest_gap(t_m: m) -> m:
    """Twice the pads: more, and the paste for the seat runs short."""
    return 2 * t_m


@rule(
    "the hole of {D_k} leaves the washer much less wood than is counted: give the bolt less slack, or a larger washer",
    source="own-judgement",
    limits=("A_p",),
)
def hole_leaves_the_washer_its_wood(D_e: m, D_k: m, d: m) -> bool:
    """A millimetre round the bolt is counted; of a hole bored wider than that a tenth of the wood may be missing."""
    return D_k**2 <= (0.1 * D_e**2 + 0.9 * (d + 1 * mm) ** 2) * (1 + 1e-9)


@rule(
    "the washer must be wider than the hole for the thread: take a larger or a thicker washer",
    source="solid-geometry",
)
def washer_covers_its_hole(A_p: m2) -> bool:
    """Otherwise it presses on nothing."""
    return A_p > 0


@rule(
    "the washer alone carries {F_p} on this wood: for this load no plate is needed, bed the fitting on solid wood",
    source="own-judgement",
    refuses=False,
)
def plate_is_needed(b_rs: m, F_n: N, F_p: N) -> bool:
    """A plate does no harm; the reader is told. Asked only where a plate is worked."""
    return (b_rs <= 0) | (F_n > F_p)


@rule(
    "the wood is thinner than half of the plate's side, and may bend under it like a skin, which is not reckoned here: "
    "ask a designer",
    source="own-judgement",
    refuses=False,
)
def wood_is_stiff_behind_the_plate(T: m, b_rs: m) -> bool:
    """A plate spreads a load over wood that stays flat."""
    return b_rs <= 2 * T * (1 + 1e-9)


@rule(
    "the washer is as large as the plate would be: it is enough, or take a smaller washer on a plate",
    source="own-judgement",
    limits=("b_rs",),
)
def plate_is_larger_than_its_washer(c_rs: m) -> bool:
    """A plate under a washer of its own size adds nothing."""
    return c_rs > 0
