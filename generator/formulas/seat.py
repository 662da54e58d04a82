"""Cast seats at the bench: pads, faces, paste to heap, and when to break a seat loose.

A seat needs more paste than stays in it, because only squeeze-out all round shows that no air is left.

The formulas of a seat take `s_rs` or `n_rs`, which exist only where a seat is cast.
"""

from __future__ import annotations

from fractions import Fraction
from math import asin, ceil, sqrt

from ..formula import formula, mm, rule
from ..units import Shown, kg, kg_per_m2, kg_per_m3, m, m2, m3, one, s
from .define import FEELER_IN, PAD_IN, PAD_MM, TENTH, count, mass, ruled, share, sized, surface, volume

# Cast seat
ruled("y_rs", "distance of a side pad's middle from the ridge of the crown")
sized("s_pd", "thickness of the side pads beyond that of the pad on the ridge", PAD_MM, FEELER_IN)
# A dam above the underside has paste levelled up the side, which locks the fitting.
LOW = Shown("mm", TENTH, "down", trim=True), Shown("in", Fraction(1, 64), "down", fraction=True)
sized("h_rs", "thickness of the two side pads under a fitting on a crown", PAD_MM, FEELER_IN)
surface("A_rs", "one face of a cast seat")
sized("r_o", "width of the seat's edge that stands out beyond the base", PAD_MM, PAD_IN)
ruled("b_o", "width of the seat across the crown, with its edge where it has one")
sized("s_mo", "mean thickness of the seat beyond that at the high point", PAD_MM, PAD_IN)
sized("t_eo", "thickness of the seat at its outer edge", *LOW)
count("n_rs", "faces that are wetted out under one seat")
share("s_rs", "paste that is pressed out and wiped away, as a part of the seat")
volume("V_rs", "paste to heap on for one seat")
mass("m_rs", "paste to heap on for one seat, by weight")

# The lifts below the last one
volume("V_pl", "paste for a lower lift of one seat, struck off")
mass("m_wl", "wet-out coat of the wood alone, for a lower lift of one seat")
mass("m_el", "resin and hardener for a lower lift of one seat")
count("n_ql", "mixes that a lower lift of one seat takes")
count("n_pl", "mixes for the lower lifts of all seats")
mass("m_bl", "resin and hardener to mix at once for a lower lift")
mass("m_rl", "resin to weigh out for a lower lift", "nearest")
mass("m_hl", "hardener to weigh out for a lower lift", "nearest")
volume("v_rl", "resin to measure out for a lower lift", direction="nearest")
volume("v_hl", "hardener to measure out for a lower lift", direction="nearest")
mass("m_yl", "filler for the mix of a lower lift")


@formula("y_rs", source="own-judgement")
def side_pad_place(b_b: m) -> m:
    """A third of the width out: far enough not to rock, and clear of the edge."""
    return b_b / 3


@formula("s_pd", source="solid-geometry")
def drop_at_the_side_pads(y_rs: m, R_c: m) -> m:
    """What the crown has dropped out there."""
    return R_c - sqrt(R_c**2 - y_rs**2)


@formula("h_rs", source="solid-geometry")
def side_pad_thickness(t_0: m, s_pd: m) -> m:
    """The bed at the ridge, and the drop."""
    return t_0 + s_pd


# An edge that stands out goes down to the surface at its full height: the seat is that of a larger base. A fillet does
# not, so a seat with one is as large as its base.


@formula("b_o", source="solid-geometry", beside=("r_f",))
def width_without_an_edge(b_b: m) -> m:
    """The seat is as wide as the base."""
    return b_b


@formula("b_o", source="solid-geometry")
def width_with_the_edge(b_b: m, r_o: m) -> m:
    """The edge stands out on both sides."""
    return b_b + 2 * r_o


@formula("s_mo", source="solid-geometry")
def mean_gap_of_a_seat(R_c: m, b_o: m) -> m:
    """As under a base of that width on a crown."""
    return R_c - sqrt(R_c**2 - (b_o / 2) ** 2) / 2 - R_c**2 / b_o * asin(b_o / (2 * R_c))


@formula("t_eo", source="solid-geometry")
def thickness_of_the_edge(t_0: m, R_c: m, b_o: m) -> m:
    """What the crown has dropped out there, and the bed at the ridge."""
    return t_0 + R_c - sqrt(R_c**2 - (b_o / 2) ** 2)


@formula("n_p", source="solid-geometry")
def lifts_of_a_seat(t_eo: m, t_0: m, h_p: m) -> one:
    """What is too thick at the edge takes the bed over the high point as the last lift, and the gap alone below it."""
    return 1 + ceil((t_eo - t_0) / h_p) * min(1, ceil(t_eo / h_p) - 1)


@rule(
    "the bed at its thinnest, {t_0}, is more than the {h_p} that may be cast at once: take a thinner pad, a slower "
    "hardener or a cooler day",
    source="solid-geometry",
    limits=("n_p",),
)
def bed_is_one_lift(t_0: m, h_p: m) -> bool:
    """The last lift has it everywhere, so no number of lifts makes it thinner."""
    return t_0 <= h_p * (1 + 1e-9)


@formula("A_rs", source="solid-geometry", beside=("r_f",))
def face_under_a_base(A_b: m2) -> m2:
    """The seat is as large as the base."""
    return A_b


@formula("A_rs", source="solid-geometry")
def face_with_the_edge(a_b: m, b_o: m, r_o: m) -> m2:
    """The base and the edge all round it, its corners square."""
    return (a_b + 2 * r_o) * b_o


@formula("A_rs", source="solid-geometry")
def face_under_a_plate(b_rs: m) -> m2:
    """A square plate, its corners and its hole not taken off."""
    return b_rs**2


@formula("V_b", source="solid-geometry", beside=("r_o",))
def seat_with_its_edge(A_rs: m2, t_0: m, s_mo: m) -> m3:
    """Level on top, so the edge is as high as the bed beside it."""
    return A_rs * (t_0 + s_mo)


@formula("V_1", source="solid-geometry")
def last_lift_of_a_seat(V_b: m3, n_p: one, A_rs: m2, s_mo: m) -> m3:
    """All of it in one lift; in several the bed over the high point and the fillet, for the rest is there already."""
    return V_b - A_rs * s_mo * min(1, n_p - 1)


@formula("V_1", source="solid-geometry")
def seat_under_a_plate(b_rs: m, t_m: m) -> m3:
    """Between plate and wood, never so thick that it takes lifts."""
    return b_rs**2 * t_m


@formula("V_rs", source="common-practice")
def paste_for_a_seat(V_1: m3, s_rs: one) -> m3:
    """The seat, and what must come out all round."""
    return V_1 * (1 + s_rs)


@formula("m_rs", source="mass-balance")
def weight_of_the_paste_for_a_seat(V_rs: m3, rho_p: kg_per_m3) -> kg:
    """No tool measures a stiff heap."""
    return V_rs * rho_p


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


# The lifts below the last one: what lies under the high point's bed, in parts alike. They are struck off, so nothing is
# pressed out, and the base is not wetted yet. Each fitting has mixes of its own.


@formula("V_pl", source="solid-geometry")
def lower_lift_of_a_seat(A_rs: m2, s_mo: m, n_p: one) -> m3:
    """None where all goes in at once."""
    return A_rs * s_mo * min(1, n_p - 1) / max(1, n_p - 1)


@formula("m_wl", source="common-practice")
def wet_out_under_a_lower_lift(A_rs: m2, w_b: kg_per_m2) -> kg:
    """One face, though the high point's bed covers a part of it."""
    return A_rs * w_b


@formula("m_el", source="mass-balance")
def mix_for_a_lower_lift(V_pl: m3, m_wl: kg, w_a: one, rho_p: kg_per_m3, x_f: one) -> kg:
    """What is thickened and what wets out, with their waste."""
    return (V_pl * rho_p * (1 - x_f) + m_wl) * (1 + w_a)


@formula("n_ql", source="common-practice")
def cups_of_a_lower_lift(m_el: kg, m_ro: kg) -> one:
    """Whole cups, as for a whole fitting."""
    return ceil(m_el / m_ro)


@formula("n_pl", source="solid-geometry")
def mixes_of_the_lower_lifts(N: one, n_p: one, n_ql: one) -> one:
    """None where all goes in at once."""
    return N * (n_p - 1) * n_ql


@formula("m_bl", source="common-practice")
def batch_of_a_lower_lift(m_el: kg, n_ql: one, m_pl: kg, m_sa: kg, x_f: one, m_min: kg) -> kg:
    """Something is kept plain and spread as a sample out of each, and none is smaller than a scale keeps in ratio."""
    return max(m_el / n_ql + m_pl + m_sa * (1 - x_f), m_min)


@formula("m_rl", source="mass-balance")
def resin_of_a_lower_lift(m_bl: kg, n_w: one) -> kg:
    """The resin's part of the mix."""
    return m_bl * n_w / (n_w + 1)


@formula("m_hl", source="mass-balance")
def hardener_of_a_lower_lift(m_bl: kg, n_w: one) -> kg:
    """The hardener's part of the mix."""
    return m_bl / (n_w + 1)


@formula("v_rl", source="mass-balance")
def resin_volume_of_a_lower_lift(m_rl: kg, rho_r: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_rl / rho_r


@formula("v_hl", source="mass-balance")
def hardener_volume_of_a_lower_lift(m_hl: kg, rho_h: kg_per_m3) -> m3:
    """For a shop that measures instead of weighing."""
    return m_hl / rho_h


@formula("m_yl", source="mass-balance")
def filler_of_a_lower_lift(m_bl: kg, m_wl: kg, n_ql: one, w_a: one, m_pl: kg, x_f: one) -> kg:
    """All but the coat and what is kept plain is thickened."""
    return (m_bl - m_wl / n_ql * (1 + w_a) - m_pl) * x_f / (1 - x_f)


# What is refused. A billionth forgives binary noise.


@rule(
    "the seat is wider than the crown itself: take a narrower edge or a smaller base",
    source="solid-geometry",
    limits=("s_mo", "t_eo"),
)
def edge_stands_on_the_crown(R_c: m, b_o: m) -> bool:
    """Beyond the half circle nothing is under it."""
    return b_o <= 2 * R_c * (1 + 1e-9)


@rule("a side pad would stand beyond the crown: take a narrower base", source="solid-geometry", limits=("s_pd",))
def side_pad_stands_on_the_crown(y_rs: m, R_c: m) -> bool:
    """Beyond the half circle there is nothing to stand on."""
    return y_rs <= R_c * (1 + 1e-9)


@rule(
    "this wood is oily, and epoxy may let go of it unseen, so no seat is cast on it: bed the fitting in compound by "
    "the card for solid wood, on a wooden pad shaped to the crown",
    source="common-practice",
    limits=("V_rs",),
)
def wood_holds_a_seat(o_w: one, h_rs: m) -> bool:
    """Asked only where a seat is cast: there is nothing to it but what holds to the wood."""
    return (o_w < 0.5) | (h_rs < 0)


@rule(
    "this wood is oily, and how well epoxy holds differs from board to board: trust the bolts alone, and bed them in "
    "compound to keep water out",
    source="common-practice",
    refuses=False,
)
def wood_holds_a_plates_bed(o_w: one, b_rs: m) -> bool:
    """Asked only where a plate is bedded: the bolts hold it."""
    return (o_w < 0.5) | (b_rs < 0)


@rule(
    "so slight a crown, {s_e} at the edge, may be none: bed a flat base by the card for solid wood, in compound",
    source="own-judgement",
    refuses=False,
)
def crown_can_be_measured(s_e: m, h_rs: m) -> bool:
    """Under a straightedge a fifth of a millimetre is not told from none. Asked only where a seat is cast."""
    return (s_e * (1 + 1e-9) >= 0.2 * mm) | (h_rs < 0)


@rule(
    "a seat that must come off needs a release agent: choose one, or cast a seat that stays",
    source="common-practice",
    limits=("V_rs", "t_y1", "t_f"),
)
def release_is_chosen(n_k: one, t_y1: s, h_rs: m) -> bool:
    """Epoxy holds to bare metal. Asked only where a seat is cast and turned loose."""
    return (t_y1 < 0) | (h_rs < 0) | (n_k >= 1)


@rule(
    "this release agent is for the base alone: wax the walls of its bolt holes, bolts, nuts and washers besides, or "
    "they are bonded in",
    source="common-practice",
    refuses=False,
)
def release_is_for_the_bolts_too(k_th: one, n_k: one, n_rs: one) -> bool:
    """Asked only where a seat lets go; of no agent at all another rule tells."""
    return (k_th >= 1) | (n_k < 1) | (n_rs < 0)


@rule(
    "this compound holds like glue, and may take the seat or the wood along when the fitting comes off: choose one "
    "that comes off with a blade",
    source="common-practice",
    refuses=False,
)
def compound_lets_a_fitting_go(k_gl: one, n_k: one, n_rs: one) -> bool:
    """Asked only where a seat is made to let go."""
    return (k_gl < 1) | (n_k < 1) | (n_rs < 0)
