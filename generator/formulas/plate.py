"""Washers and backing plates: what the wood under them holds, how large a plate must be, and how thick.

A through-bolted fitting presses its washer or plate on the wood behind. That is a way of its own to carry a load and is
never added to a bond.
"""

from __future__ import annotations

from math import pi, sqrt

from ..formula import formula, mm, rule
from ..units import N, Pa, Shown, m, m2, one
from .define import HUNDREDTH, TENTH, area, force, measured, ruled, sized, stress

# Washer
measured("d_h", "hole of the washer")
sized("D_p", "diameter of the washer", Shown("mm", TENTH, trim=True), Shown("in", HUNDREDTH))
sized("t_s", "thickness of the washer", Shown("mm", TENTH, trim=True), Shown("in", HUNDREDTH))
sized("D_e", "diameter of the washer that is counted", Shown("mm", TENTH, "down"), Shown("in", HUNDREDTH, "down"))
area("A_p", "wood that the washer presses on")
force("R_p", "what the wood under the washer holds")
force("F_p", "working load of the wood under the washer")

# Plate
ruled("b_p", "side of a square backing plate", "up")
ruled("c_p", "overhang of the plate beyond the washer", "up")
stress("f_yp", "yield strength of the plate")
sized("h_q", "thickness of the plate", Shown("mm", TENTH * 5, "up", trim=True), Shown("in", HUNDREDTH, "up"))


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


@formula("c_p", source="solid-geometry")
def plate_overhang(b_p: m, D_p: m) -> m:
    """From the washer's edge to that of the plate; none where the washer covers the plate."""
    return max(0 * mm, (b_p - D_p) / 2)


@formula("h_q", source="en-1993-1-8-plate")
def plate_thickness(c_p: m, f_ck: Pa, f_yp: Pa) -> m:
    """Thick enough that the wood crushes before the overhang bends."""
    return c_p * sqrt(3 * f_ck / f_yp)


@rule(
    "the washer must be wider than the hole for the thread: take a larger D_p or a thicker washer",
    source="solid-geometry",
)
def washer_covers_its_hole(A_p: m2) -> bool:
    """Otherwise it presses on nothing."""
    return A_p > 0


@rule(
    "the washer alone is not enough for this load: put a backing plate under it",
    source="own-judgement",
    refuses=False,
)
def washer_is_enough(F_n: N, F_p: N) -> bool:
    """The wood under it would crush."""
    return F_n <= F_p
