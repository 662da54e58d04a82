"""Drills and the holes that a thread is passed through or cut in, and inch drills beside metric ones."""

from __future__ import annotations

from ..formula import formula, lookup
from ..units import Shown, m
from .define import HUNDREDTH, TEN_THOUSANDTH, measured, sized

measured("D_h", "clearance hole")
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
