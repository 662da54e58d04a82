"""Outlines as lists of points, in metres: mirrored, turned, rounded, broken off."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import cos, pi, sin

Point = tuple[float, float]

# A freehand break line: bends, and points a bend.
BENDS, STEPS = 2, 4


def mirrored(points: Sequence[Point]) -> list[Point]:
    """The same points on the other side of the axis."""
    return [(along, -across) for along, across in points]


def both(half: Sequence[Point]) -> list[Point]:
    """A half outline and its mirror image as one closed outline; a point on the axis stands in it once."""
    return [*half, *[(along, -across) for along, across in reversed(half) if across]]


def moved(points: Sequence[Point], across: float) -> list[Point]:
    """Points about an axis that lies elsewhere."""
    return [(one, across + other) for one, other in points]


def turned(points: Sequence[Point], about: Point, angle: float) -> list[Point]:
    """Points turned about one, from along towards across."""
    (a, b), c, s = about, cos(angle), sin(angle)
    return [(a + (x - a) * c - (y - b) * s, b + (x - a) * s + (y - b) * c) for x, y in points]


def between(one: Point, other: Point, share: float) -> Point:
    """A point on the way from one to the other."""
    return (one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1]))


def smooth(points: Sequence[Point]) -> list[Point]:
    """The same line with its corners cut off twice, its ends kept."""
    line = list(points)
    for _ in range(2):
        cut = [between(one, other, share) for one, other in pairwise(line) for share in (0.25, 0.75)]
        line = [line[0], *cut[1:-1], line[-1]]
    return line


def circle(at: Point, radius: float, corners: int = 48, turn: float = 0.0) -> list[Point]:
    """A round, or with six corners a hexagon, seen from its end."""
    angles = [turn + 2 * pi * place / corners for place in range(corners)]
    return [(at[0] + radius * cos(angle), at[1] + radius * sin(angle)) for angle in angles]


def spaced(start: float, end: float, steps: int) -> list[float]:
    """Places from start to end, both among them."""
    return [start + (end - start) * step / steps for step in range(steps + 1)]


def wave(start: Point, end: Point, swing: float) -> list[Point]:
    """A freehand break line between two points, swinging across its own direction."""
    (x1, y1), (x2, y2) = start, end
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ax, ay = (x2 - x1) / length, (y2 - y1) / length
    last = 2 * BENDS * STEPS
    places = [(place / last, swing * sin(2 * pi * BENDS * place / last)) for place in range(last + 1)]
    return [(x1 + share * (x2 - x1) - out * ay, y1 + share * (y2 - y1) + out * ax) for share, out in places]
