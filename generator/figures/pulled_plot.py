"""Pulled joints in one plot: what they held over what the model reckons, how each failed by its sign.

Both scales go by ratios, so that half and double stand alike from the line at 1. Signs of one series stand side by side
in the order of their loads. Lengths are in millimetres at the nominal print width, as in all drawings.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10
from xml.sax.saxutils import escape as svg_text

from .parts import CLEAR, INK, PAPER, TEXT, THICK, THIN, number

WIDTH, HEIGHT = 120.0, 96.0
LEFT, RIGHT, TOP, BOTTOM = 16.0, 115.0, 4.0, 84.0
# Half the size of a sign, and how far two signs of one series stand apart.
SIGN, APART = 1.5, 3.4
# The ticks of a decade that have a number.
NUMBERED = (1, 2, 5)


@dataclass(frozen=True)
class Mark:
    """One joint, or one published mean: the reckoned and the measured load in kN, and its sign."""

    reckoned: float
    measured: float
    sign: str


@dataclass(frozen=True)
class Group:
    """The marks of one series under its number."""

    name: str
    marks: Sequence[Mark]


def plot(groups: Sequence[Group], factor: float, words: dict[str, str]) -> str:
    """The plot as SVG. `factor` is the model's factor on the bond: its line lies at one over it. `words` are the title,
    the description, the names of both axes and of both lines."""
    marks = [mark for group in groups for mark in group.marks]
    left, right = _ends([mark.reckoned for mark in marks])
    low, high = _ends([1.0, 1 / factor, *(mark.measured / mark.reckoned for mark in marks)])
    across, up = _scale(left, right, LEFT, RIGHT), _scale(low, high, BOTTOM, TOP)
    parts = _frame(_ticks(left, right), _ticks(low, high), across, up, words)
    for ratio, line in ((1.0, words["one"]), (1 / factor, words["working"])):
        parts.append(_line(LEFT, up(ratio), RIGHT, up(ratio), THICK, dashed=ratio != 1))
        parts.append(_text(LEFT + 2.0, up(ratio) + TEXT, line, "start"))
    for group in groups:
        middle = (len(group.marks) - 1) / 2
        for place, mark in enumerate(sorted(group.marks, key=lambda one: one.measured)):
            x, y = across(mark.reckoned) + (place - middle) * APART, up(mark.measured / mark.reckoned)
            parts.append(sign(mark.sign, x, y))
        parts.append(_text(x + SIGN + CLEAR, y + TEXT / 3, group.name, "start"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="bw-figure" viewBox="0 0 {number(WIDTH)} {number(HEIGHT)}" '
        'role="img" aria-labelledby="bw-pulled-title bw-pulled-desc">'
        f'<title id="bw-pulled-title">{svg_text(words["title"])}</title>'
        f'<desc id="bw-pulled-desc">{svg_text(words["description"])}</desc>{"".join(parts)}</svg>'
    )


def sign(kind: str, x: float, y: float) -> str:
    """The sign of a way to fail, told apart by its shape."""
    s = SIGN
    ink = f'class="bw-ink bw-paper" stroke="{INK}" fill="{PAPER}" stroke-width="{number(THICK)}"'
    if kind == "wood":
        return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(s)}" {ink}/>'
    if kind == "mean":
        return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(s)}" class="bw-solid" fill="{INK}"/>'
    shapes = {
        "wall": [(-s, -s), (s, -s), (s, s), (-s, s)],
        "thread": [(0, -s), (s, s), (-s, s)],
        "screw-out": [(0, -1.3 * s), (1.3 * s, 0), (0, 1.3 * s), (-1.3 * s, 0)],
        "steel": [(-s, -s), (s, s), (0, 0), (s, -s), (-s, s), (0, 0)],
        "held": [(0, s), (0, -2 * s), (-0.7 * s, -s), (0, -2 * s), (0.7 * s, -s), (0, -2 * s), (0, s), (-s, s), (s, s)],
    }
    points = " ".join(f"{number(x + dx)},{number(y + dy)}" for dx, dy in shapes[kind])
    return f'<polygon points="{points}" {ink}/>'


def key(kind: str) -> str:
    """A sign by itself, for the list beside the plot."""
    size = number(4 * SIGN)
    return (
        f'<svg class="bw-sign" viewBox="{number(-2 * SIGN)} {number(-2.5 * SIGN)} {size} {size}" aria-hidden="true">'
        f"{sign(kind, 0, 0)}</svg>"
    )


def _ends(values: Sequence[float]) -> tuple[float, float]:
    """The ticks just outside all values."""
    least, most = min(values), max(values)
    ticks = _ticks(10.0 ** floor(log10(least) - 1), 10.0 ** ceil(log10(most) + 1))
    return max(tick for tick in ticks if tick < least), min(tick for tick in ticks if tick > most)


Place = Callable[[float], float]


def _scale(low: float, high: float, start: float, end: float) -> Place:
    def place(value: float) -> float:
        return start + (end - start) * log10(value / low) / log10(high / low)

    return place


def _ticks(low: float, high: float) -> list[float]:
    decades = range(floor(log10(low)), ceil(log10(high)) + 1)
    ticks = [digit * 10.0**decade for decade in decades for digit in NUMBERED]
    return [tick for tick in ticks if low * (1 - 1e-9) <= tick <= high * (1 + 1e-9)]


def _frame(
    below: Sequence[float], beside: Sequence[float], across: Place, up: Place, words: dict[str, str]
) -> list[str]:
    parts = [
        f'<rect x="{number(LEFT)}" y="{number(TOP)}" width="{number(RIGHT - LEFT)}" height="{number(BOTTOM - TOP)}" '
        f'fill="none" class="bw-ink" stroke="{INK}" stroke-width="{number(THICK)}"/>'
    ]
    for tick in below:
        x = across(tick)
        parts += [_line(x, BOTTOM, x, BOTTOM + 1.5, THIN), _text(x, BOTTOM + 1.5 + TEXT, f"{tick:g}")]
    for tick in beside:
        y = up(tick)
        parts += [_line(LEFT, y, LEFT - 1.5, y, THIN), _text(LEFT - 2.5, y + TEXT / 3, f"{tick:g}", "end")]
    parts.append(_text((LEFT + RIGHT) / 2, HEIGHT - 1.0, words["across"]))
    left, middle = number(4.0), number((TOP + BOTTOM) / 2)
    parts.append(
        f'<text x="{left}" y="{middle}" transform="rotate(-90 {left} {middle})" font-size="{number(TEXT)}" '
        f'text-anchor="middle" class="bw-text" fill="{INK}">{svg_text(words["up"])}</text>'
    )
    return parts


def _line(x1: float, y1: float, x2: float, y2: float, width: float, *, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="3 1.5"' if dashed else ""
    return (
        f'<line x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}" class="bw-ink" '
        f'stroke="{INK}" stroke-width="{number(width)}"{dash}/>'
    )


def _text(x: float, y: float, words: str, anchor: str = "middle") -> str:
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(TEXT)}" text-anchor="{anchor}" class="bw-text" '
        f'fill="{INK}">{svg_text(words)}</text>'
    )
