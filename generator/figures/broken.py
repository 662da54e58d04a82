"""A scene for holes longer than the paper: a strip is left out between break lines, so nothing is squashed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from . import parts
from .scene import Scene
from .shapes import Point, wave


@dataclass
class BrokenScene(Scene):
    """A scene from which the lengths between cut[0] and cut[1] along are left out; `gap` is what the strip takes.

    Where both ends of the cut are the same, nothing is left out. `right`, or `bottom` of an upright view, is where the
    view ends before the cut.
    """

    cut: Point = (0.0, 0.0)
    gap: float = 0.0

    def __post_init__(self) -> None:
        """Bounds are those of the view as it is drawn."""
        if self.upright:
            self.bottom = self.shifted(self.bottom)
        else:
            self.right = self.shifted(self.right)

    def shifted(self, along: float) -> float:
        """Where a length along stands once the strip is left out."""
        start, end = self.cut
        if along <= start:
            return along
        if along >= end:
            return along - (end - start) + self.gap
        return start + (along - start) / (end - start) * self.gap

    def moved(self, point: Point) -> Point:
        """A point with the strip left out."""
        return (self.shifted(point[0]), point[1])

    def area(self, name: str, points: Sequence[Point], material: str, edge: float = parts.THICK) -> None:
        """A closed shape of a material."""
        super().area(name, [self.moved(point) for point in points], material, edge)

    def line(self, points: Sequence[Point], kind: str = "thick") -> None:
        """An open line, in two pieces where it crosses the strip."""
        for run in self._runs(points):
            super().line([self.moved(point) for point in run], kind)

    def arrow(self, start: Point, end: Point) -> None:
        """One open arrow."""
        super().arrow(self.moved(start), self.moved(end))

    def turn(self, at: Point, radius: float) -> None:
        """A turning arrow."""
        super().turn(self.moved(at), radius)

    def span(self, start: Point, end: Point) -> None:
        """A length between arrowheads."""
        super().span(self.moved(start), self.moved(end))

    def label(self, name: str, at: Point) -> None:
        """A point that has a label."""
        super().label(name, self.moved(at))

    def cut_out(self, half: float, other: float | None = None) -> None:
        """The strip left out, across the view from -half to `other`; draw it after every shape."""
        if self.gap:
            start, end = (self.cut[0], -half), (self.cut[0], half if other is None else other)
            gap(self, start, end, (self.gap, 0.0), self.gap / 4)

    def _runs(self, points: Sequence[Point]) -> Iterator[list[Point]]:
        """The pieces of a line on either side of the strip."""
        if not self.gap:
            yield list(points)
            return
        start, end = self.cut
        yield from kept(points, lambda along: start - along)
        yield from kept(points, lambda along: along - end)


def gap(scene: Scene, start: Point, end: Point, wide: Point, swing: float) -> None:
    """A strip of paper between two break lines, the second moved by `wide`; what lies under it is left out."""
    beside = [(one + wide[0], other + wide[1]) for one, other in (start, end)]
    sides = [wave(start, end, swing), wave(beside[0], beside[1], swing)]
    Scene.area(scene, "break", [*sides[0], *reversed(sides[1])], "paper", 0.0)
    for side in sides:
        Scene.line(scene, side, "thin")


def kept(points: Sequence[Point], inside: Callable[[float], float]) -> Iterator[list[Point]]:
    """The pieces of a line where `inside(along)` is not below 0, cut exactly at 0."""
    run: list[Point] = [points[0]] if inside(points[0][0]) >= 0 else []
    for one, other in pairwise(points):
        was, will = inside(one[0]), inside(other[0])
        if (was >= 0) != (will >= 0):
            share = was / (was - will)
            run.append((one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])))
        if will >= 0:
            run.append(other)
        elif run:
            yield run
            run = []
    if len(run) > 1:
        yield run
