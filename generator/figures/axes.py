"""The frame of a plot: its scales, their numbers, and the few lines and letters that plots are made of.

Lengths are in millimetres at the nominal print width, as in all drawings.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor, log10

from ..quoted import escape as svg_text
from .parts import INK, TEXT, THICK, THIN, number

WIDTH, HEIGHT = 120.0, 96.0
LEFT, RIGHT, TOP, BOTTOM = 16.0, 115.0, 4.0, 84.0
# The ticks of a decade that have a number.
NUMBERED = (1, 2, 5)
# About how many ticks an even scale has.
TICKS = 6

Place = Callable[[float], float]


def by_ratios(low: float, high: float, start: float, end: float) -> Place:
    """A scale on which half and double stand alike from 1."""

    def place(value: float) -> float:
        return start + (end - start) * log10(value / low) / log10(high / low)

    return place


def ticks_by_ratios(low: float, high: float) -> list[float]:
    """Ones, twos and fives of the decades from one number to another."""
    decades = range(floor(log10(low)), ceil(log10(high)) + 1)
    ticks = [digit * 10.0**decade for decade in decades for digit in NUMBERED]
    return [tick for tick in ticks if low * (1 - 1e-9) <= tick <= high * (1 + 1e-9)]


def frame(
    below: Sequence[float], beside: Sequence[float], across: Place, up: Place, words: dict[str, str]
) -> list[str]:
    """The frame of a plot with its numbers, and the names of both axes."""
    parts = [
        f'<rect x="{number(LEFT)}" y="{number(TOP)}" width="{number(RIGHT - LEFT)}" height="{number(BOTTOM - TOP)}" '
        f'fill="none" class="bw-ink" stroke="{INK}" stroke-width="{number(THICK)}"/>'
    ]
    for tick in below:
        x = across(tick)
        parts += [line(x, BOTTOM, x, BOTTOM + 1.5, THIN), text(x, BOTTOM + 1.5 + TEXT, f"{tick:g}")]
    for tick in beside:
        y = up(tick)
        parts += [line(LEFT, y, LEFT - 1.5, y, THIN), text(LEFT - 2.5, y + TEXT / 3, f"{tick:g}", "end")]
    parts.append(text((LEFT + RIGHT) / 2, HEIGHT - 1.0, words["across"]))
    left, middle = number(4.0), number((TOP + BOTTOM) / 2)
    parts.append(
        f'<text x="{left}" y="{middle}" transform="rotate(-90 {left} {middle})" font-size="{number(TEXT)}" '
        f'text-anchor="middle" class="bw-text" fill="{INK}">{svg_text(words["up"])}</text>'
    )
    return parts


def line(x1: float, y1: float, x2: float, y2: float, width: float, *, dashed: bool = False) -> str:
    """A straight line."""
    dash = ' stroke-dasharray="3 1.5"' if dashed else ""
    return (
        f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}" class="bw-ink" '
        f'stroke="{INK}" stroke-width="{number(width)}"{dash}/>'
    )


def text(x: float, y: float, words: str, anchor: str = "middle") -> str:
    """A line of lettering."""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(TEXT)}" text-anchor="{anchor}" class="bw-text" '
        f'fill="{INK}">{svg_text(words)}</text>'
    )


def evenly(low: float, high: float, start: float, end: float) -> Place:
    """A scale on which equal steps stand equally far apart."""

    def place(value: float) -> float:
        return start + (end - start) * (value - low) / (high - low)

    return place


def ticks_evenly(low: float, high: float) -> list[float]:
    """The multiples of 1, 2 or 5 of a decade from just below one number to just above another."""
    about = (high - low) / TICKS
    decade = 10.0 ** floor(log10(about))
    step = next(part * decade for part in (*NUMBERED, 10) if part * decade >= about * (1 - 1e-9))
    return [place * step for place in range(floor(low / step + 1e-9), ceil(high / step - 1e-9) + 1)]
