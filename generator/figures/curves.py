"""A table as curves: a sign for each number that the table prints, and the formula drawn between them.

Below the frame each curve is named beside its sign.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..quoted import escape as svg_text
from .axes import (
    BOTTOM,
    HEIGHT,
    LEFT,
    RIGHT,
    TOP,
    WIDTH,
    by_ratios,
    evenly,
    frame,
    line,
    text,
    ticks_by_ratios,
    ticks_evenly,
)
from .parts import CLEAR, INK, LINE_STEP, TEXT, THICK, THIN, number
from .pulled_plot import SIGN, sign

SIGNS = ("mean", "wall", "thread", "screw-out", "steel", "wood")
# Numbers further apart than this are shown by their ratios.
WIDE = 8.0
Dots = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class Curve:
    """One curve: the numbers that the table prints, and the formula between them in pieces without a gap."""

    name: str
    dots: Dots
    pieces: Sequence[Dots]


def curves_plot(curves: Sequence[Curve], words: dict[str, str], name: str) -> str:
    """The plot as SVG. `words` are the title, the description and the names of both axes; `name` begins its ids."""
    xs, ys = zip(*(dot for curve in curves for dot in curve.dots), strict=True)
    below = ticks_evenly(min(xs), max(xs))
    across = evenly(below[0], below[-1], LEFT, RIGHT)
    if max(ys) > WIDE * min(ys):
        beside = ends(min(ys), max(ys))
        up = by_ratios(beside[0], beside[-1], BOTTOM, TOP)
    else:
        beside = ticks_evenly(0, max(ys))
        up = evenly(0, beside[-1], BOTTOM, TOP)
    parts = [line(LEFT, up(tick), RIGHT, up(tick), THIN / 2) for tick in beside[1:-1]]
    parts += frame(below, beside, across, up, words)
    for place, curve in enumerate(curves):
        drawn = [path([(across(x), up(y)) for x, y in piece]) for piece in curve.pieces]
        drawn += [signed(SIGNS[place % len(SIGNS)], across(x), up(y)) for x, y in curve.dots]
        base = HEIGHT + (place + 1) * LINE_STEP
        parts.append(f'<g data-part="curve">{"".join(drawn)}</g>')
        parts.append(signed(SIGNS[place % len(SIGNS)], LEFT + SIGN, base - TEXT / 3))
        parts.append(text(LEFT + 2 * SIGN + CLEAR, base, curve.name, "start"))
    height = HEIGHT + len(curves) * LINE_STEP + CLEAR
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="bw-figure" viewBox="0 0 {number(WIDTH)} {number(height)}" '
        f'role="img" aria-labelledby="{name}-title {name}-desc">'
        f'<title id="{name}-title">{svg_text(words["title"])}</title>'
        f'<desc id="{name}-desc">{svg_text(words["description"])}</desc>{"".join(parts)}</svg>'
    )


def path(points: Dots) -> str:
    """A line from point to point."""
    return (
        f'<polyline points="{" ".join(f"{number(x)},{number(y)}" for x, y in points)}" fill="none" class="bw-ink" '
        f'stroke="{INK}" stroke-width="{number(THICK)}"/>'
    )


def ends(least: float, most: float) -> list[float]:
    """The ticks by ratios from the last one not above all numbers to the first one not below them."""
    ticks = ticks_by_ratios(least / 10, most * 10)
    first = max(tick for tick in ticks if tick <= least)
    last = min(tick for tick in ticks if tick >= most)
    return [tick for tick in ticks if first <= tick <= last]


def signed(kind: str, x: float, y: float) -> str:
    """A sign at its place, which stands in the drawing as numbers."""
    return f'<g transform="translate({number(x)} {number(y)})">{sign(kind, 0, 0)}</g>'
