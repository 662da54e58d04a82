"""Cast seats at the bench: pads, faces, paste to heap, and when to break a seat loose.

A seat needs more paste than stays in it, because only squeeze-out all round shows that no air is left.

The formulas of a seat take `s_rs` or `n_rs`, which exist only where a seat is cast.
"""

from __future__ import annotations

from math import ceil, sqrt

from ..formula import formula, rule
from ..units import kg, kg_per_m2, kg_per_m3, m, m2, m3, one, s
from .define import FEELER_IN, PAD_MM, count, ruled, share, sized, surface, volume

# Cast seat
ruled("y_rs", "distance of a side pad's middle from the ridge of the crown")
sized("h_rs", "thickness of the two side pads under a fitting on a crown", PAD_MM, FEELER_IN)
surface("A_rs", "one face of a cast seat")
count("n_rs", "faces that are wetted out under one seat")
share("s_rs", "paste that is pressed out and wiped away, as a part of the seat")
volume("V_rs", "paste to heap on for one seat")


@formula("y_rs", source="own-judgement")
def side_pad_place(b_b: m) -> m:
    """A third of the width out: far enough not to rock, and clear of the edge."""
    return b_b / 3


@formula("h_rs", source="solid-geometry")
def side_pad_thickness(t_0: m, y_rs: m, R_c: m) -> m:
    """The bed at the ridge, and what the crown has dropped out there."""
    return t_0 + R_c - sqrt(R_c**2 - y_rs**2)


@formula("n_p", source="solid-geometry")
def lifts_of_a_seat(t_e: m, s_e: m, h_p: m) -> one:
    """What is too thick at the edge takes the bed over the high point as the last lift, and the gap alone below it."""
    return 1 + ceil(s_e / h_p) * min(1, ceil(t_e / h_p) - 1)


@rule(
    "the bed at its thinnest, {t_0}, is more than the {h_p} that may be cast at once: take a thinner pad, a slower "
    "hardener or a cooler day",
    source="solid-geometry",
    limits=("n_p",),
)
def bed_is_one_lift(t_0: m, h_p: m) -> bool:
    """The last lift has it everywhere, so no number of lifts makes it thinner."""
    return t_0 <= h_p * (1 + 1e-9)


@formula("A_rs", source="solid-geometry")
def face_under_a_base(A_b: m2) -> m2:
    """The seat is as large as the base."""
    return A_b


@formula("A_rs", source="solid-geometry")
def face_under_a_plate(b_rs: m) -> m2:
    """A square plate, its corners and its hole not taken off."""
    return b_rs**2


@formula("V_1", source="solid-geometry")
def seat_in_one_lift(V_b: m3, n_p: one, A_b: m2, s_m: m) -> m3:
    """In lifts, all but the last share what lies under the high point's bed, and the last has that bed and the fillet.
    All are mixed alike, so each is the larger of the two."""
    return max(V_b * max(0, 2 - n_p), V_b - A_b * s_m, A_b * s_m / max(1, n_p - 1))


@formula("V_1", source="solid-geometry")
def seat_under_a_plate(b_rs: m, t_m: m) -> m3:
    """Between plate and wood, never so thick that it takes lifts."""
    return b_rs**2 * t_m


@formula("V_rs", source="common-practice")
def paste_for_a_seat(V_1: m3, s_rs: one) -> m3:
    """The seat, and what must come out all round."""
    return V_1 * (1 + s_rs)


@formula("V_u", source="common-practice")
def paste_for_one_fitting(V_rs: m3, w_a: one) -> m3:
    """Spread with a stick, so no syringe keeps anything back."""
    return V_rs * (1 + w_a)


@formula("V", source="common-practice")
def paste_in_a_mix(N_m: one, V_rs: m3, w_a: one, m_sa: kg, rho_p: kg_per_m3) -> m3:
    """The seats, the waste and the sample."""
    return N_m * V_rs * (1 + w_a) + m_sa / rho_p


@formula("m_w", source="common-practice")
def wet_out_of_a_seat(n_rs: one, A_rs: m2, w_b: kg_per_m2) -> kg:
    """Each face that the seat is to hold to. Metal drinks nothing, so its coat is counted full."""
    return n_rs * A_rs * w_b


# What is refused. A billionth forgives binary noise.


@rule("a side pad would stand beyond the crown: take a narrower base", source="solid-geometry", limits=("h_rs",))
def side_pad_stands_on_the_crown(y_rs: m, R_c: m) -> bool:
    """Beyond the half circle there is nothing to stand on."""
    return y_rs <= R_c * (1 + 1e-9)


@rule(
    "this wood is oily, and how well epoxy holds differs from board to board: trust the bolts alone, and bed them in "
    "compound to keep water out",
    source="common-practice",
    refuses=False,
)
def wood_holds_a_seat(o_w: one, n_rs: one) -> bool:
    """Asked only where a seat is cast."""
    return (o_w < 0.5) | (n_rs < 0)


@rule(
    "a seat that must come off needs a release agent: choose one, or cast a seat that stays",
    source="common-practice",
    limits=("V_rs", "t_y1", "t_f"),
)
def release_is_chosen(n_k: one, t_y1: s, h_rs: m) -> bool:
    """Epoxy holds to bare metal. Asked only where a seat is cast and turned loose."""
    return (t_y1 < 0) | (h_rs < 0) | (n_k >= 1)


@rule(
    "this release agent is for the base alone: wax the bolts, nuts and washers besides, or they are bonded in",
    source="common-practice",
    refuses=False,
)
def release_is_for_the_bolts_too(k_th: one, n_k: one, n_rs: one) -> bool:
    """Asked only where a seat lets go; of no agent at all another rule tells."""
    return (k_th >= 1) | (n_k < 1) | (n_rs < 0)
