"""Drills and the holes that a thread is passed through or cut in, and inch drills beside metric ones."""

from __future__ import annotations

from ..formula import formula, lookup, mm
from ..units import Shown, m
from .define import HUNDREDTH, TEN_THOUSANDTH, drill, measured, sized

measured("D_h", "clearance hole of a standard")
measured("D_hw", "drill wanted for the clearance hole of a standard")
drill("D_hd", "drill for the clearance hole of a standard")
measured("D_y", "usual tap drill")
sized("D_i", "diameter of an inch drill", Shown("in", TEN_THOUSANDTH), Shown("in", TEN_THOUSANDTH), positive=True)
sized("D_m", "diameter of an inch drill in millimetres", Shown("mm", HUNDREDTH), Shown("mm", HUNDREDTH))
sized(
    "s_n",
    "step between metric drills near the size of an inch drill",
    Shown("mm", HUNDREDTH),
    Shown("mm", HUNDREDTH),
    positive=True,
)
sized("D_n", "nearest metric drill", Shown("mm", HUNDREDTH, trim=True), Shown("mm", HUNDREDTH, trim=True))
sized("dD_n", "excess of the nearest metric drill over an inch drill", Shown("mm", HUNDREDTH), Shown("mm", HUNDREDTH))


@formula("D_hw", source="own-judgement")
def clearance_drill_wanted(D_h: m) -> m:
    """A standard prints an inch drill to the thousandth of an inch; half of that is let go."""
    return D_h - 0.013 * mm


lookup(
    "D_hd",
    "at least",
    "D_hw",
    stock="guide_drills",
    source="common-practice",
    meaning="The smallest drill in the set that is not under it.",
)


@formula("D_m", source="inch-definition")
def in_millimetres(D_i: m) -> m:
    """An inch is 25.4 mm."""
    return D_i


lookup(
    "D_n",
    "nearest step",
    "D_m",
    step="s_n",
    source="metric-drill-series",
    meaning="The nearest metric twist drill.",
)


@formula("dD_n", source="solid-geometry")
def larger_by(D_n: m, D_m: m) -> m:
    """Negative where the metric drill is the smaller one."""
    return D_n - D_m
