"""A worn hole: how far to bore it out, what fills it, and what to drill through the plug."""

from __future__ import annotations

from fractions import Fraction
from math import floor, pi

from ..formula import formula, lookup, rule
from ..units import Shown, kg, kg_per_m2, m, m2, m3, one
from .define import HUNDREDTH, TENTH, drill, mark, measured, number, ruled, sized, surface, volume

ruled("D_wo", "worn hole at its widest, soft and stained wood counted in", "up")
ruled("a_wo", "sound wood to cut away all round a worn hole", "up")
ruled("T_wo", "depth of the worn hole")
drill("B_wo", "bore wanted, out to sound wood")
drill("K_wo", "bore, out to sound wood")
sized(
    "b_wo",
    "wall of epoxy left round the new hole",
    Shown("mm", TENTH, "down", trim=True),
    Shown("in", Fraction(1, 64), "down", fraction=True),
)
sized(
    "c_wo",
    "wall of epoxy that must be left where the new hole ran off",
    Shown("mm", Fraction(1, 2), "up", trim=True),
    Shown("in", Fraction(1, 32), "up", fraction=True),
)
ruled("e_wo", "least distance from the axis of the bore to an edge of the wood", "up")
ruled("b_wq", "least side of the plate behind a mended hole", "up")
volume("V_wo", "thickened epoxy in one plug through the bore")
surface("A_wo", "wood in one bore to wet out")
number("q_wo", "pilot for a wood screw in epoxy as a part of the screw's diameter", HUNDREDTH)
drill("y_wo", "pilot wanted for a wood screw in epoxy")
drill("Y_wo", "pilot for a wood screw in epoxy")
measured("a_ws", "largest diameter that wood screws are sold in")
mark("n_ws", "mark of a bolt that a wood screw is as thick as")


@formula("B_wo", source="common-practice")
def bore_wanted(D_wo: m, a_wo: m, d: m) -> m:
    """A ring of sound wood cut away all round, and never under twice the fastener."""
    return max(D_wo + 2 * a_wo, 2 * d)


lookup(
    "K_wo",
    "at least",
    "B_wo",
    stock="large_drills",
    source="common-practice",
    meaning="The smallest drill in the set that reaches sound wood all round.",
)


@formula("b_wo", source="solid-geometry")
def wall_round_the_new_hole(K_wo: m, D_k: m) -> m:
    """Between the new hole and the wood, the new hole in the middle of the plug."""
    return (K_wo - D_k) / 2


@formula("c_wo", source="own-judgement")
def wall_that_must_stay(b_wo: m) -> m:
    """Half of what a hole in the middle leaves all round."""
    return b_wo / 2


@formula("b_wq", source="own-judgement")
def plate_behind_a_plug(K_wo: m, d: m) -> m:
    """It reaches past the plug onto sound wood by two diameters of the bolt all round."""
    return K_wo + 4 * d


@formula("e_wo", source="common-practice")
def edge_of_a_bore(d: m, K_wo: m) -> m:
    """Four diameters of the fastener, and one bore of wood left beside the bore."""
    return max(4 * d, 3 / 2 * K_wo)


@formula("V_wo", source="solid-geometry")
def plug_of_epoxy(K_wo: m, T_wo: m) -> m3:
    """The whole bore; what is drilled out again is not taken off."""
    return pi / 4 * K_wo**2 * T_wo


@formula("A_wo", source="solid-geometry")
def wall_of_the_bore(K_wo: m, T_wo: m) -> m2:
    """Through the wood, so without an end."""
    return pi * K_wo * T_wo


@formula("h_w", source="solid-geometry")
def depth_to_fill(T_wo: m) -> m:
    """From the tape at the far end to the mouth."""
    return T_wo


@formula("D_l", source="solid-geometry")
def bore_to_fill(K_wo: m) -> m:
    """The whole bore."""
    return K_wo


@formula("m_w", source="common-practice")
def wet_out_of_the_bores(n_h: one, A_wo: m2, w_h: kg_per_m2, n_l: one) -> kg:
    """What the walls drink, as far up as one lift goes: a coat that sets before it is covered is one to sand."""
    return n_h * A_wo * w_h / n_l


@formula("y_wo", source="common-practice")
def pilot_in_epoxy(q_wo: one, d: m) -> m:
    """Epoxy does not give way as wood does: a pilot for wood would burst it."""
    return q_wo * d


@formula("n_ws", source="wood-handbook-8")
def wood_screw_is_as_thick(a_ws: m, d: m) -> one:
    """Gauge 24 is the thickest of the Handbook's table."""
    return min(1, floor(a_ws / d))


lookup(
    "Y_wo",
    "at least",
    "y_wo",
    stock="guide_drills",
    source="common-practice",
    meaning="The smallest drill in the set that is not under the pilot wanted.",
)


@rule("the bore must reach past the worn wood: take a larger bore", source="solid-geometry", limits=("K_wo",))
def bore_takes_the_worn_wood(K_wo: m, D_wo: m) -> bool:
    """Otherwise the plug holds on to rot."""
    return K_wo > D_wo


@rule(
    "too little epoxy is left round the new hole: bore wider or drill a smaller hole",
    source="common-practice",
    limits=("K_wo",),
)
def wall_of_the_plug_is_thick_enough(b_wo: m, w_l: m) -> bool:
    """A thin wall cracks when it is drilled."""
    return b_wo * (1 + 1e-9) >= w_l
