"""Pulled joints in one plot: what they held over what the model reckons, how each failed by its sign.

Both scales go by ratios, so that half and double stand alike from the line at 1. Signs of one series stand side by side
in the order of their loads. Lengths are in millimetres at the nominal print width, as in all drawings.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from ..quoted import escape as svg_text
from .axes import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, by_ratios, frame, line, text, ticks_by_ratios
from .parts import CLEAR, INK, PAPER, TEXT, THICK, number

# Half the size of a sign, and how far two signs of one series stand apart.
SIGN, APART = 1.5, 3.4


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


def plot(groups: Sequence[Group], trusted: Mapping[str, float], words: dict[str, str]) -> str:
    """The plot as SVG. `trusted` are the lines of what the model trusts a joint with, by their names, as parts of what
    it reckons. `words` are the title, the description, the names of both axes and of the line at 1."""
    marks = [mark for group in groups for mark in group.marks]
    left, right = _ends([mark.reckoned for mark in marks])
    low, high = _ends([1.0, *trusted.values(), *(mark.measured / mark.reckoned for mark in marks)])
    across, up = by_ratios(left, right, LEFT, RIGHT), by_ratios(low, high, BOTTOM, TOP)
    parts = frame(ticks_by_ratios(left, right), ticks_by_ratios(low, high), across, up, words)
    for name, ratio in {words["one"]: 1.0, **trusted}.items():
        parts.append(line(LEFT, up(ratio), RIGHT, up(ratio), THICK, dashed=ratio != 1))
        parts.append(text(LEFT + 2.0, up(ratio) + TEXT, name, "start"))
    for group in groups:
        middle = (len(group.marks) - 1) / 2
        for place, mark in enumerate(sorted(group.marks, key=lambda one: one.measured)):
            x, y = across(mark.reckoned) + (place - middle) * APART, up(mark.measured / mark.reckoned)
            parts.append(sign(mark.sign, x, y))
        parts.append(text(x + SIGN + CLEAR, y + TEXT / 3, group.name, "start"))
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
    ticks = ticks_by_ratios(10.0 ** floor(log10(least) - 1), 10.0 ** ceil(log10(most) + 1))
    return max(tick for tick in ticks if tick < least), min(tick for tick in ticks if tick > most)
