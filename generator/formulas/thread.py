"""The screw thread: ISO 68-1 basic profile, which ASME B1.1 shares. Every length here is basic size."""

from __future__ import annotations

from math import pi, sqrt

from ..formula import formula, rule
from ..units import Shown, m, m2, one
from .define import HUNDREDTH, TEN_THOUSANDTH, TENTH, area, measured, number, sized

sized(
    "d",
    "nominal diameter of the thread",
    Shown("mm", TENTH, trim=True),
    Shown("in", TEN_THOUSANDTH, trim=True),
    positive=True,
)
sized("P", "pitch of the thread", Shown("mm", HUNDREDTH), Shown("in", TEN_THOUSANDTH), positive=True)
measured("H", "height of the sharp thread triangle")
number("k_3", "root depth of the external thread as a part of the sharp triangle's height")
number("k_s", "depth to the stress diameter as a part of the sharp triangle's height")
measured("d_2", "pitch diameter")
measured("D_1", "basic minor diameter")
measured("d_3", "root diameter of the external thread")
area("A_s", "tensile stress area")
measured("d_v", "volume-equivalent diameter: the plain rod that takes up as much room as the thread")


@formula("H", source="iso-68-1")
def sharp_triangle_height(P: m) -> m:
    """Height of the sharp 60 degree triangle on one pitch."""
    return sqrt(3) / 2 * P


@formula("d_2", source="iso-68-1")
def pitch_diameter(d: m, H: m) -> m:
    """The cylinder on which thread and groove are equally wide."""
    return d - 3 / 4 * H


@formula("D_1", source="iso-68-1")
def basic_minor_diameter(d: m, H: m) -> m:
    """Minor diameter of the internal thread, flat roots."""
    return d - 5 / 4 * H


@formula("d_3", source="iso-68-1")
def root_diameter(d: m, H: m, k_3: one) -> m:
    """Minor diameter of the external thread, rounded roots; its depth is the thread standard's."""
    return d - k_3 * H


@formula("A_s", source="solid-geometry")
def tensile_stress_area(d: m, H: m, k_s: one) -> m2:
    """The area a bolt breaks on; the depth to its diameter is the thread standard's, and ISO and Unified differ."""
    return pi / 4 * (d - k_s * H) ** 2


@formula("d_v", source="solid-geometry")
def volume_equivalent_diameter(d: m, D_1: m) -> m:
    """Exact integral of the basic profile (crest flat P/8, root flat P/4) over one pitch."""
    return sqrt((8 * d**2 + 5 * d * D_1 + 11 * D_1**2) / 24)


@rule(
    "the thread is cut deeper than it is thick: take a finer pitch or a thicker thread",
    source="solid-geometry",
    limits=("d_2", "D_1", "d_3", "A_s"),
)
def thread_has_a_core(d_3: m) -> bool:
    """A thread without a core is none."""
    return d_3 > 0
