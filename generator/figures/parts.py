"""What drawings are made of on the paper: lines, patterns, lettering, dimensions, leaders, as SVG text.

Lengths are in units of 1 mm at the nominal print width of 120 mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import isfinite

from ..quoted import escape, quoteattr
from .shapes import Point

# Paper: ISO 128 line widths, lettering, and the clear space kept round it.
WIDTH = 120.0
MARGIN = 1.0
THIN, THICK, CUT, FILM = 0.25, 0.5, 0.7, 0.8
TEXT, SUBSCRIPT, LOWERED, LINE_STEP = 4.1, 3.1, 1.0, 4.8
# Widths of letters in em, on the wide side for a common sans-serif.
NARROW, PLAIN, BROAD = 0.3, 0.56, 0.85
NARROW_LETTERS, BROAD_LETTERS = " \N{NO-BREAK SPACE}/.,-fijlrt", "mwDMW"
ASCENT, DESCENT = 0.75, 0.22
CLEAR = 1.5
ARROW, ARROW_HALF, ARROW_TAIL, DOT = 2.6, 0.6, 4.2, 0.6
OVERSHOOT = 1.0
# A tile of straight hatching, longer than any area.
LONG = 160

# The fitting and the fastener's ends are outlines only, in thread diameters as common hexagon bolts, nuts and
# washers have them; a base is as thick as PLATE, and at least LIP thicker than what the fillet covers of its edge.
HEAD, NUT, CORNERS, WASHER, WASHER_ACROSS, PROJECTION = 0.65, 0.8, 1.75, 0.2, 2.2, 0.35
PLATE, LIP = 0.6, 0.3
# A nut and the one that locks it.
NUTS = 2 * NUT

# Black ink on light tints where no style sheet is at hand; the style sheet's variables go before these.
INK, PAPER, WOOD, GRAIN = "#000000", "#ffffff", "#f4e8cf", "#ad8f5c"
EPOXY, METAL, STEEL, COAT = "#e1eef8", "#e3e6ea", "#f3f4f6", "#8a4a08"
COMPOUND, CORE = "#ece4f3", "#f7f2dc"


@dataclass(frozen=True)
class Figure:
    """A finished drawing and its words."""

    svg: str
    title: str
    description: str
    caption: str


def number(value: float) -> str:
    """A coordinate, two decimals everywhere, so that the same input gives the same bytes."""
    if not isfinite(value):
        raise ArithmeticError(f"a coordinate of the drawing is {value}, which is no number")
    text = f"{value:.2f}"
    return "0.00" if text == "-0.00" else text


def spread(wanted: Sequence[float], widths: Sequence[float], left: float, right: float) -> list[float]:
    """Centres of labels in one row, each as near to where it is wanted as its neighbours let it.

    Halfway between giving way to the right only and giving way to the left only: both keep the
    labels apart, so what lies between them does too.
    """
    steps = [(one + other) / 2 + CLEAR for one, other in pairwise(widths)]
    rightward = push_left(push_right(wanted, steps, left + widths[0] / 2), steps, right - widths[-1] / 2)
    leftward = push_right(push_left(wanted, steps, right - widths[-1] / 2), steps, left + widths[0] / 2)
    return [(one + other) / 2 for one, other in zip(rightward, leftward, strict=True)]


def push_right(wanted: Sequence[float], steps: Sequence[float], first: float) -> list[float]:
    """Each to the right of the one before."""
    centres = [max(wanted[0], first)]
    for want, step in zip(wanted[1:], steps, strict=True):
        centres.append(max(want, centres[-1] + step))
    return centres


def push_left(wanted: Sequence[float], steps: Sequence[float], last: float) -> list[float]:
    """Each to the left of the one behind."""
    centres = [min(wanted[-1], last)]
    for want, step in zip(reversed(wanted[:-1]), reversed(steps), strict=True):
        centres.append(min(want, centres[-1] - step))
    return centres[::-1]


# SVG


def element(name: str, content: str = "", /, **attributes: str) -> str:
    """One element; `_` in an attribute's name stands for `-`. `content` is SVG already, not plain text."""
    written = "".join([f" {key.rstrip('_').replace('_', '-')}={quoteattr(text)}" for key, text in attributes.items()])
    return f"<{name}{written}>{content}</{name}>" if content else f"<{name}{written}/>"


def group(name: str, *content: str) -> str:
    """Elements that belong to one thing, marked so that a page or a test can find it."""
    return element("g", "".join(content), data_part=name)


def polyline(points: Sequence[Point], close: bool = False) -> str:
    """Path data through points."""
    path = "L".join([f"{number(x)} {number(y)}" for x, y in points])
    return f"M{path}Z" if close else f"M{path}"


def stroke(data: str, width: float = THIN, dash: str = "") -> str:
    """An ink line."""
    dashes = {"stroke_dasharray": dash} if dash else {}
    return element("path", d=data, fill="none", stroke=INK, stroke_width=str(width), class_="bw-ink", **dashes)


def line(start: Point, end: Point, width: float = THIN) -> str:
    """A straight ink line."""
    return stroke(polyline([start, end]), width)


def fill(data: str, paint: str, class_: str = "") -> str:
    """An area without an edge: a pattern, or a tint with its class."""
    classes = {"class_": class_} if class_ else {}
    return element("path", d=data, fill=paint, **classes)


def solid(points: Sequence[Point]) -> str:
    """An area of ink."""
    return element("path", d=polyline(points, close=True), fill=INK, class_="bw-solid")


# Patterns: materials differ by these first, by tint second.


def pattern_fill(prefix: str, material: str) -> str:
    """The paint that refers to a material's pattern."""
    return f"url(#{prefix}-{material})"


def _pattern(name: str, size: Point, tint: str, class_: str, marks: str, turn: int = 0) -> str:
    width, height = number(size[0]), number(size[1])
    ground = element("rect", width=width, height=height, fill=tint, class_=class_)
    turned = {"patternTransform": f"rotate({turn})"} if turn else {}
    return element(
        "pattern", ground + marks, id=name, width=width, height=height, patternUnits="userSpaceOnUse", **turned
    )


@lru_cache(maxsize=50)
def patterns(prefix: str) -> str:
    """Wood with its grain up and down, lying or cut across; epoxy dotted, or hatched where it is to be told from soft;
    metal hatched, compound in waves, core in squares.

    Each a tint and one path, relative to its tile, so that a page that prints can lay it tile by tile.
    """
    grain = _grain("m1 0q-.6 7 0 14t0 14m1.9-28q.8 5 0 14t0 14m2.3-28q-.4 9 0 14t0 14m1.9-28q.4 7 0 14t0 14")
    rings = _grain(
        "m0 3c8 0 7-2.7 12-2.7s4 2.7 12 2.7m-24 3.5c8 0 7-2.7 12-2.7s4 2.7 12 2.7m-24 3.5c8 0 7-2.7 12-2.7s4 2.7 12 2.7"
    )
    dots = element(
        "path",
        d="m.45.45h0m.9.9h0",
        fill="none",
        stroke=INK,
        stroke_width="0.4",
        stroke_linecap="round",
        class_="bw-ink",
    )
    hatch = stroke(f"m.8 0v{LONG}", 0.2)
    dense = stroke(f"m.6 0v{LONG}", 0.45)
    waves = stroke("m0 1q1-.8 2 0t2 0", 0.2)
    squares = stroke("m.9.9h1.2v1.2h-1.2z", 0.2)
    return element(
        "defs",
        _pattern(f"{prefix}-wood", (8, 28), WOOD, "bw-wood", grain)
        + _pattern(f"{prefix}-plank", (8, 28), WOOD, "bw-wood", grain, 90)
        + _pattern(f"{prefix}-endgrain", (24, 10.5), WOOD, "bw-wood", rings)
        + _pattern(f"{prefix}-epoxy", (1.8, 1.8), EPOXY, "bw-epoxy", dots)
        + _pattern(f"{prefix}-hard", (1.2, LONG), EPOXY, "bw-epoxy", dense, -45)
        + _pattern(f"{prefix}-metal", (1.6, LONG), METAL, "bw-metal", hatch, 45)
        + _pattern(f"{prefix}-washer", (1.6, LONG), METAL, "bw-metal", hatch, -45)
        + _pattern(f"{prefix}-compound", (4, 2), COMPOUND, "bw-compound", waves)
        + _pattern(f"{prefix}-core", (3, 3), CORE, "bw-core", squares),
    )


def _grain(data: str) -> str:
    return element("path", d=data, fill="none", stroke=GRAIN, stroke_width="0.2", class_="bw-grain")


# Lettering


@dataclass(frozen=True)
class Measure:
    """A symbol and its value as the shop reads it: D_o and 14 mm."""

    symbol: str
    value: str

    @property
    def width(self) -> float:
        """What the lettering takes along the line."""
        letter, _, below = self.symbol.partition("_")
        return text_width(f"{letter} {self.value}") + text_width(below) * SUBSCRIPT / TEXT

    def letters(self) -> str:
        """The symbol in italics with its subscript, then the value."""
        letter, _, below = self.symbol.partition("_")
        value = "\N{NO-BREAK SPACE}" + self.value
        symbol = element("tspan", escape(letter), font_style="italic")
        if not below:
            return symbol + element("tspan", escape(value))
        lowered = element("tspan", escape(below), dy=str(LOWERED), font_size=str(SUBSCRIPT), font_style="italic")
        return symbol + lowered + element("tspan", escape(value), dy=str(-LOWERED))


def shelf(said: Measure) -> float:
    """How far over a dimension's line its text stands, clear of the arrowheads as well."""
    return CLEAR + ARROW_HALF + (LOWERED if "_" in said.symbol else 0.0)


@lru_cache(maxsize=5000)
def text_width(text: str) -> float:
    """What plain lettering takes along the line."""
    return TEXT * sum(
        NARROW if letter in NARROW_LETTERS else BROAD if letter in BROAD_LETTERS else PLAIN for letter in text
    )


def _text(at: Point, letters: str, anchor: str) -> str:
    return element("text", letters, x=number(at[0]), y=number(at[1]), text_anchor=anchor, fill=INK, class_="bw-text")


def words(at: Point, lines: Sequence[str], anchor: str = "middle") -> str:
    """Plain words; the last line stands on the point, the others above it."""
    (x, y), last = at, len(lines) - 1
    return "".join(_text((x, y - (last - i) * LINE_STEP), escape(text), anchor) for i, text in enumerate(lines))


def measure(at: Point, said: Measure, anchor: str = "middle") -> str:
    """A symbol with its value."""
    return _text(at, said.letters(), anchor)


# Dimensions and leaders


def arrowhead(tip: Point, along: float, across: float) -> str:
    """A filled arrowhead; (along, across) is the unit direction it points in."""
    x, y = tip
    back = (x - ARROW * along, y - ARROW * across)
    return solid(
        [
            tip,
            (back[0] - ARROW_HALF * across, back[1] + ARROW_HALF * along),
            (back[0] + ARROW_HALF * across, back[1] - ARROW_HALF * along),
        ]
    )


def fits(length: float, said: Measure) -> bool:
    """Whether a dimension's text fits over its line clear of the extension lines."""
    return length - said.width - 2 * CLEAR > 0


def length_dimension(start: float, end: float, y: float, said: Measure, side: int) -> str:
    """A length along the sheet. Its text stands over its line, or, where that is too short, over a tail on `side`.

    `side` is -1 for a tail that goes left from the start, 1 for one that goes right from the end.
    """
    foot = end if side > 0 else start
    inside = fits(end - start, said)
    tail = foot if inside else foot + side * (said.width + 2 * CLEAR)
    middle = (start + end) / 2 if inside else foot + side * (CLEAR + said.width / 2)
    return group(
        f"dimension {said.symbol}",
        line((min(start, tail), y), (max(end, tail), y)),
        arrowhead((start, y), -1, 0),
        arrowhead((end, y), 1, 0),
        measure((middle, y - shelf(said)), said),
    )


def thin_dimension(start: float, end: float, y: float, said: Measure, name: str) -> str:
    """Something too thin for arrows inside: they point at it from both sides. Name and text on the left."""
    right = start - CLEAR
    left = right - max(said.width, text_width(name))
    return group(
        f"dimension {said.symbol}",
        line((left, y), (end + ARROW_TAIL, y)),
        arrowhead((start, y), 1, 0),
        arrowhead((end, y), -1, 0),
        words((right, y - shelf(said) - LINE_STEP), [name], "end"),
        measure((right, y - shelf(said)), said, "end"),
    )


def elbow(target: Point, turn: float, end: Point) -> str:
    """A thin line that leaves the drawing straight up and then bends to its label."""
    return stroke(polyline([target, (target[0], turn), end]))


def diameter_dimension(along: float, walls: Point, turn: float, end: Point, said: Measure) -> str:
    """A bore's width: arrows on both walls from outside, the upper line led out of the wood to its text."""
    upper, lower = walls
    return group(
        f"dimension {said.symbol}",
        elbow((along, upper), turn, end),
        arrowhead((along, upper), 0, 1),
        line((along, lower), (along, lower + ARROW_TAIL)),
        arrowhead((along, lower), 0, -1),
        measure((end[0], label_foot(end[1])), said),
    )


def leader(name: str, target: Point, turn: float, end: Point, lines: Sequence[str]) -> str:
    """Words over the drawing, a bent line, and a dot on what they name."""
    text = words((end[0], label_foot(end[1])), lines)
    return group(f"label {name}", elbow(target, turn, end), dot(target), text)


def side_leader(name: str, target: Point, label: Point, side: int) -> str:
    """A word beside the drawing, to the left (-1) or right (1) of `label`, with a line to what it names."""
    x, y = label
    foot = (x + side * CLEAR, y + (ASCENT - DESCENT) * TEXT / 2)
    lettering = words(foot, [name], "start" if side > 0 else "end")
    return group(f"label {name}", line(target, label), dot(target), lettering)


def label_foot(end: float) -> float:
    """Where lettering stands that keeps clear of the end of a line below it."""
    return end - CLEAR - LOWERED - DESCENT * SUBSCRIPT


def label_height(lines: int) -> float:
    """From a leader's end up to the top of its label."""
    return -label_foot(0) + (lines - 1) * LINE_STEP + ASCENT * TEXT


def dot(at: Point) -> str:
    """A leader's end inside an area."""
    return element("circle", cx=number(at[0]), cy=number(at[1]), r=str(DOT), fill=INK, class_="bw-solid")


def scale_bar(left: float, y: float, length: float, text: str) -> str:
    """A length to compare with, when the drawing is seen at any size."""
    right = left + length
    half = 0.75
    ticks = [line((x, y - half), (x, y + half), THICK) for x in (left, right)]
    text_foot = y - half - CLEAR
    return group("scale bar", line((left, y), (right, y), THICK), *ticks, words((left, text_foot), [text], "start"))


def drawing(prefix: str, height: float, title: str, description: str, content: str) -> str:
    """The finished SVG on one line, with its name and description for a screen reader."""
    named = element("title", escape(title), id=f"{prefix}-title")
    described = element("desc", escape(description), id=f"{prefix}-desc")
    return element(
        "svg",
        named + described + patterns(prefix) + content,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(WIDTH)} {number(height)}",
        role="img",
        aria_labelledby=f"{prefix}-title {prefix}-desc",
        font_family="system-ui, sans-serif",
        font_size=str(TEXT),
        class_="bw-figure",
    )
