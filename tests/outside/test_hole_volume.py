"""Epoxy in the stepped hole and in the bed, and wood to wet out, against numeric integration of the shapes themselves.

The hole is a solid of revolution: the large drill's cylinder and the floor its point leaves, the guide hole on to the
depth T, and in a blind hole the guide drill's point beyond it. The fastener is a plain rod of the volume-equivalent
diameter that ends at T, or in a blind hole c_e short of it. What lies between wall and rod is integrated numerically
from the wall's and the rod's radius at each depth. The bed is sliced in height, each slice of the fillet an outline
of arcs and straight lines. None of the project's own formulas for volumes and areas is used.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise, product

import numpy as np
import pytest
import scipy

from conftest import LIBRARY, all_hold, whole_reckoning, whole_working
from generator.errors import NoStock
from generator.reckoning import Reckoning, reckon

CARD = LIBRARY.cards["bonded-stepped-hole"]
CARDS = {"through": CARD, "blind": LIBRARY.cards["blind-stud"]}
THREADS = [row.size for _, _, row in LIBRARY.threads()]
DRILLS = ("flat", "twist")


class Hole:
    """The wall of the hole and the rod in it, as radii over the depth."""

    def __init__(self, values: Mapping[str, float], *, blind: bool):
        self.large, self.guide, self.rod = values["D_o"] / 2, values["D_g"] / 2, values["d_v"] / 2
        self.large_slope = math.tan(values["alpha_o"] / 2)
        self.guide_slope = math.tan(values["alpha_g"] / 2)
        self.step, self.depth = values["L_o"], values["T"]
        self.blind = blind
        self.cone_end = self.step + (self.large - self.guide) / self.large_slope
        self.tip = self.depth + self.guide / self.guide_slope if blind else self.depth
        self.rod_end = self.depth - values["c_e"] if blind else self.depth

    def wall_radius(self, depth: float) -> float:
        if depth <= self.step:
            return self.large
        if depth <= self.depth:
            return max(self.guide, self.large - (depth - self.step) * self.large_slope)
        return max(0.0, self.guide - (depth - self.depth) * self.guide_slope)

    def rod_radius(self, depth: float) -> float:
        return self.rod if depth <= self.rod_end else 0.0

    def void(self) -> float:
        """Between wall and rod, piece by piece from corner to corner."""
        corners = sorted({0.0, self.step, self.cone_end, self.rod_end, self.depth, self.tip})
        return sum(self._piece(begin, end) for begin, end in pairwise(corners))

    def _piece(self, begin: float, end: float) -> float:
        if end - begin < 1e-12:  # the floor of a flat bit: no height, and no room for a point between
            return 0.0
        piece, _ = scipy.integrate.quad(
            lambda depth: math.pi * (self.wall_radius(depth) ** 2 - self.rod_radius(depth) ** 2),
            begin,
            end,
            epsabs=0,
            epsrel=1e-11,
        )
        return float(piece)

    def wall_area(self) -> float:
        """The wood that the epoxy touches: the wall's outline, from the mouth to the far end, turned round the axis."""
        outline = [
            (0.0, self.large),
            (self.step, self.large),
            (self.cone_end, self.guide),
            (self.depth, self.guide),
            (self.tip, 0.0 if self.blind else self.guide),
        ]
        return sum(turned(begin, end) for begin, end in pairwise(outline))


def turned(begin: tuple[float, float], end: tuple[float, float]) -> float:
    """The area of a straight line, given by depth and radius at its ends, turned round the axis."""
    length = math.dist(begin, end)
    area, _ = scipy.integrate.quad(
        lambda part: 2 * math.pi * (begin[1] + part * (end[1] - begin[1])) * length, 0, 1, epsabs=0
    )
    return float(area)


def bore(hole: str, inputs: Mapping[str, str]) -> Reckoning:
    """The hole's card worked, with a large drill of the reader's own where the list has none so large."""
    reckoning = reckon(LIBRARY, CARDS[hole], inputs)  # thin and thick threads have no strength; their holes are worked
    if not isinstance(reckoning.working.refused.get("D_o"), NoStock):
        return reckoning
    _, row = LIBRARY.thread(inputs["thread"])
    own = "32 mm" if row.d.endswith("mm") else "1 1/4 in"
    return reckon(LIBRARY, CARDS[hole], {**inputs, "D_o": own})


def check_hole(reckoning: Reckoning, *, blind: bool) -> None:
    """The card's volume in all holes of a fitting is the integrated one."""
    values = reckoning.working.values
    hole = Hole(values, blind=blind)
    assert hole.cone_end <= hole.rod_end, "not the shape that this test is about"
    own = values["n_h"] * (values["V_r"] + values["V_f"] + values["V_g"])
    assert own == pytest.approx(values["n_h"] * hole.void(), rel=1e-9, abs=0)
    assert values["V_1"] - values["V_b"] == pytest.approx(own, rel=1e-9, abs=0)


@pytest.mark.parametrize(("large", "guide"), product(DRILLS, DRILLS))
@pytest.mark.parametrize("hole", ["through", "blind"])
def test_hole_of_every_thread(hole: str, large: str, guide: str) -> None:
    drills = {"large_drill": large, "guide_drill": guide, "n_h": "4"}
    all_hold(
        lambda size: check_hole(bore(hole, {"thread": size[0], "T": size[1], **drills}), blind=hole == "blind"),
        product(THREADS, ("60 mm", "3 1/2 in", "210 mm")),
    )


@pytest.mark.parametrize(("alpha_o", "alpha_g"), product(("90 deg", "135 deg", "150 deg"), ("90 deg", "140 deg")))
@pytest.mark.parametrize("hole", ["through", "blind"])
@pytest.mark.parametrize("f_o", ["2/3", "0.7", "3/4"])
def test_hole_by_drills_of_another_point(f_o: str, hole: str, alpha_o: str, alpha_g: str) -> None:
    points = {"alpha_o": alpha_o, "alpha_g": alpha_g, "f_o": f_o}
    for thread, own in (
        ("M6", {}),
        ("M12", {"D_o": "19 mm", "D_g": "13 mm"}),
        ("1/2-13 UNC", {"n_h": "3", "a_b": "12 in"}),
    ):
        reckoning = whole_reckoning(LIBRARY, CARDS[hole], {"thread": thread, "T": "110 mm", **points, **own})
        check_hole(reckoning, blind=hole == "blind")


@pytest.mark.parametrize("gap", ["0 mm", "1 mm", "5 mm", "1/4 in"])
def test_blind_hole_with_another_gap(gap: str) -> None:
    """By the table, which bounds no gap as the card does."""
    table = LIBRARY.reference["epoxy-by-depth"]
    for drill in DRILLS:
        inputs = {"thread": "M10", "hole": "blind", "T": "100 mm", "c_e": gap, "guide_drill": drill, "D_g": "12 mm"}
        check_hole(whole_reckoning(LIBRARY, table, inputs), blind=True)


@pytest.mark.parametrize("hole", ["through", "blind"])
def test_wood_to_wet_out(hole: str) -> None:
    """Flat floors to the last digit; the cones of twist drills count as flat.

    At the step that errs upwards, because the guide hole is counted up to it. At the end of a blind hole it errs
    downwards, by the little that the cone is larger than its circle.
    """

    def counts(case: tuple[str, str, tuple[str, float, float]]) -> None:
        thread, depth, (kind, low, high) = case
        values = bore(hole, {"thread": thread, "large_drill": kind, "guide_drill": kind, "T": depth}).working.values
        wall = Hole(values, blind=hole == "blind").wall_area()
        assert low * (1 - 1e-9) <= values["A_h"] / wall <= high * (1 + 1e-9)

    kinds = [("flat", 1, 1), ("twist", 1 if hole == "through" else 0.98, 1.05)]
    all_hold(counts, product(THREADS, ("60 mm", "3 1/2 in", "210 mm"), kinds))


def outline_area(length: float, width: float, out: float) -> float:
    """The area inside a rectangle's outline moved outwards by `out`, its corners arcs: a polygon's area."""
    quarter = np.linspace(0, np.pi / 2, 1001)
    corners = [
        (sx * length / 2 + out * np.cos(quarter + turn), sy * width / 2 + out * np.sin(quarter + turn))
        for sx, sy, turn in ((1, 1, 0), (-1, 1, np.pi / 2), (-1, -1, np.pi), (1, -1, 3 * np.pi / 2))
    ]
    x, y = (np.concatenate(parts) for parts in zip(*corners, strict=True))
    return float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


@pytest.mark.parametrize(
    ("length", "width", "thickness", "leg"),
    [
        ("60 mm", "40 mm", "3 mm", "4 mm"),
        ("5 mm", "5 mm", "0 mm", "20 mm"),
        ("220 mm", "30 mm", "15 mm", "0 mm"),
        ("120 mm", "120 mm", "6 mm", "6 mm"),
        ("2 1/2 in", "1 1/2 in", "1/8 in", "5/32 in"),
        ("8 in", "3/4 in", "1/4 in", "1/2 in"),
    ],
)
def test_bed_with_its_fillet(length: str, width: str, thickness: str, leg: str) -> None:
    """A plate of epoxy under the base, half a millimetre where it lies flat, and round it a straight bevel that goes in
    as it goes up.

    The polygons lie inside the arcs: hence the wider tolerance.
    """
    values = whole_reckoning(LIBRARY, CARD, {"a_b": length, "b_b": width, "t_m": thickness, "r_f": leg}).working.values
    a, b, t, r = (values[name] for name in ("a_b", "b_b", "t_m", "r_f"))
    under = scipy.integrate.quad(lambda _: outline_area(a, b, 0), 0, max(t, 0.0005))[0]
    fillet = scipy.integrate.quad(lambda z: outline_area(a, b, r - z) - outline_area(a, b, 0), 0, r)[0]
    assert values["V_b"] == pytest.approx(under + fillet, rel=1e-6, abs=0)


@pytest.mark.parametrize(
    ("diameter", "angle", "height"),
    [
        # By hand: half the diameter over the tangent of half the angle. tan 59 deg = 1.6643, tan 70 deg = 2.7475.
        (14.0, 118.0, 7 / 1.6643),
        (8.0, 118.0, 4 / 1.6643),
        (14.0, 140.0, 7 / 2.7475),
        (10.0, 90.0, 5.0),
        (14.0, 180.0, 0.0),
    ],
)
def test_cone_height_by_hand(diameter: float, angle: float, height: float) -> None:
    size, point = diameter / 1000, math.radians(angle)
    large = whole_working(["h_o"], {"D_o": size, "alpha_o": point}).values["h_o"]
    guide = whole_working(["h_g"], {"D_g": size, "alpha_g": point}).values["h_g"]
    assert large * 1000 == pytest.approx(height, abs=2e-4)
    assert guide * 1000 == pytest.approx(height, abs=2e-4)


@pytest.mark.parametrize("kind", DRILLS)
@pytest.mark.parametrize("thread", ["M5", "M16", "5/16-18 UNC", "3/4-10 UNC"])
def test_marks_set_the_full_diameter_at_its_depth(thread: str, kind: str) -> None:
    """With the flag at the surface, what is left behind point and spur is the depth asked for."""
    values = reckon(LIBRARY, CARD, {"thread": thread, "large_drill": kind, "guide_drill": kind}).working.values
    for role, depth, size in (("o", "L_o", "D_o"), ("g", "T", "D_g")):
        point = values[size] / 2 / math.tan(values[f"alpha_{role}"] / 2)
        full = values[f"M_{role}"] - point - values[f"e_{role}"]
        assert full == pytest.approx(values[depth], abs=1e-9)
