"""Cast seats at the bench: pads, faces, paste to heap, when to break a seat loose; and the plate to cut behind a bolt.

A seat needs more paste than stays in it, because only squeeze-out all round shows that no air is left. A plate is cut a
little larger than the load asks, and never smaller or thinner than the trade cuts one.

The formulas of a seat take `s_rs` or `n_rs`, which exist only where a seat is cast.
"""

from __future__ import annotations

from math import pi, sqrt

from ..formula import formula, mm, rule
from ..units import N, Pa, Shown, kg, kg_per_m2, m, m2, m3, one, s
from .define import (
    HUNDREDTH,
    PAD_IN,
    PAD_MM,
    TENTH,
    count,
    force,
    ruled,
    share,
    sized,
    surface,
    volume,
)

# Cast seat
ruled("y_rs", "distance of a side pad's middle from the ridge of the crown")
sized("h_rs", "thickness of the two side pads under a fitting on a crown", PAD_MM, PAD_IN)
surface("A_rs", "one face of a cast seat")
count("n_rs", "faces that are wetted out under one seat")
share("s_rs", "paste that is pressed out and wiped away, as a part of the seat")
volume("V_rs", "paste to heap on for one seat")

# Released seat

# Backing plate
ruled("b_rs", "side of the plate to cut", "up")
ruled("c_rs", "overhang of the plate to cut beyond the washer", "up")
sized("h_rsp", "thickness of the plate to cut", Shown("mm", TENTH * 5, "up", trim=True), Shown("in", HUNDREDTH, "up"))
ruled("r_rs", "radius that the plate's corners are rounded to")
force("F_rs", "working load of the wood under the plate")
ruled("e_rs", "thickness of the fitting's base where the bolt goes through")
ruled("l_rs", "least length of the bolt under its head", "up")


# Cast seat


@formula("y_rs", source="own-judgement")
def side_pad_place(b_b: m) -> m:
    """A third of the width out: far enough not to rock, and clear of the edge."""
    return b_b / 3


@formula("h_rs", source="solid-geometry")
def side_pad_thickness(t_0: m, y_rs: m, R_c: m) -> m:
    """The bed at the ridge, and what the crown has dropped out there."""
    return t_0 + R_c - sqrt(R_c**2 - y_rs**2)


@formula("h_w", source="solid-geometry")
def seat_at_its_thickest(t_e: m) -> m:
    """The edge is the thickest place of a seat on a crown or a vee, and the one that heats itself."""
    return t_e


@formula("A_rs", source="solid-geometry")
def face_under_a_base(A_b: m2) -> m2:
    """The seat is as large as the base."""
    return A_b


@formula("A_rs", source="solid-geometry")
def face_under_a_plate(b_rs: m) -> m2:
    """A square plate, its corners and its hole not taken off."""
    return b_rs**2


@formula("V_rs", source="common-practice")
def paste_under_a_base(V_b: m3, s_rs: one) -> m3:
    """Bed and fillet, and what must come out all round."""
    return V_b * (1 + s_rs)


@formula("V_rs", source="common-practice")
def paste_under_a_plate(b_rs: m, t_m: m, s_rs: one) -> m3:
    """Between plate and wood, and what must come out all round."""
    return b_rs**2 * t_m * (1 + s_rs)


@formula("V", source="common-practice")
def paste_for_the_job(N: one, V_rs: m3, w_a: one) -> m3:
    """Spread with a stick, so no syringe keeps anything back."""
    return N * V_rs * (1 + w_a)


@formula("m_w", source="common-practice")
def wet_out_of_a_seat(n_rs: one, A_rs: m2, w_b: kg_per_m2) -> kg:
    """Each face that the seat is to hold to. Metal drinks nothing, so its coat is counted full."""
    return n_rs * A_rs * w_b


# Backing plate


@formula("b_rs", source="common-practice")
def side_to_cut(b_p: m, d: m) -> m:
    """A hundredth over what the load asks, for the rounded corners; and never under 4 thread diameters."""
    return max(1.01 * b_p, 4 * d)


@formula("c_rs", source="solid-geometry")
def overhang_to_cut(b_rs: m, D_p: m) -> m:
    """From the washer's edge to that of the plate."""
    return (b_rs - D_p) / 2


@formula("h_rsp", source="own-judgement")
def thickness_to_cut(c_rs: m, f_ck: Pa, f_yp: Pa, d: m) -> m:
    """The wood crushes before the overhang bends, as of any plate; and never under a quarter of the thread."""
    return max(c_rs * sqrt(3 * f_ck / f_yp), d / 4)


@formula("r_rs", source="own-judgement")
def corner_radius(b_rs: m) -> m:
    """An eighth of the side: blunt to a hand and to the wood, and hardly anything off the plate."""
    return b_rs / 8


@formula("F_rs", source="own-judgement")
def plate_working_load(f_ck: Pa, b_rs: m, r_rs: m, d: m, gamma_p: one) -> N:
    """Plain strength of the wood under what is left of the plate, its corners and its hole taken off."""
    return f_ck * (b_rs**2 - (4 - pi) * r_rs**2 - pi / 4 * (d + 1 * mm) ** 2) / gamma_p


@formula("l_rs", source="from-memory")
def bolt_length(e_rs: m, T: m, t_m: m, h_rsp: m, t_s: m, d: m, P: m) -> m:
    """Base, wood, seat, plate and washer; a nut is at most 0.9 diameters high, and two pitches show beyond it."""
    return e_rs + T + t_m + h_rsp + t_s + 0.9 * d + 2 * P


# What is refused. A billionth forgives binary noise.


@rule("a side pad would stand beyond the crown: take a narrower base", source="solid-geometry")
def side_pad_stands_on_the_crown(y_rs: m, R_c: m) -> bool:
    """Beyond the half circle there is nothing to stand on."""
    return y_rs <= R_c * (1 + 1e-9)


@rule(
    "a seat that must come off needs a release agent: choose one, or cast a seat that stays",
    source="common-practice",
)
def release_is_chosen(n_k: one, t_y1: s) -> bool:
    """Epoxy holds to bare metal."""
    return (t_y1 < 0) | (n_k >= 1)


@rule(
    "the washer is as large as the plate would be: it is enough, or take a smaller washer on a plate",
    source="own-judgement",
)
def plate_is_larger_than_its_washer(c_rs: m) -> bool:
    """A plate under a washer of its own size adds nothing."""
    return c_rs > 0
