"""A small stage for step drawings: shapes in metres, words in columns beside them, right and wrong side by side.

The stage chooses one scale for both directions, the largest at which the view and its words fit the paper. Words stand
in a column left or right of the view, in the order of what they name, each at the end of a thin line; so nothing is
written on a shape and no two words meet.

A point is (along, across) in metres. A scene lies: along runs to the right, as a fastener in a stem. An upright scene
stands: along runs down, as a fastener in a deck. The bounds are those of the paper: left, right, top, bottom.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from . import parts
from .parts import CLEAR, CUT, LINE_STEP, MARGIN, THICK, THIN, WIDTH, Measure, number
from .shapes import Point, mirrored
from .words import Words

TALLEST = 78.0
# A length with no room for two arrowheads and a line between them.
SHORT = 2 * parts.ARROW + 1.0
# The tallest drawing whose views say enough when they are small.
LOW = 40.0
# Between the view and the ends of the leaders, and between a leader's end and its word.
COLUMN = 4.0
# Some fonts run wider than reckoned: the broadest words by 17 percent, measured in a browser.
BROADER = 1.2
FLOW_HEAD, FLOW_HALF = 3.0, 1.5
# A layer that would be thinner on the paper is drawn so thick, and the drawing says so: nobody would see it between its
# edges. And the room that words on both sides commonly leave a view.
THINNEST, ROOM = 1.4, 50.0

# How each material is painted: a pattern of `parts`, or a tint with its class.
PATTERNS = ("wood", "plank", "endgrain", "epoxy", "hard", "metal", "washer", "compound", "core")
TINTS = {
    "steel": (parts.STEEL, "bw-steel"),
    "paper": (parts.PAPER, "bw-paper"),
    "neat": (parts.EPOXY, "bw-epoxy"),
}


# What draws a line, an arrow or a span from its points on the paper and its kind.
Drawer = Callable[[Sequence[Point], str], str]


@dataclass(frozen=True)
class Label:
    """Words for a point of the view, in the column on `side`: -1 left, 1 right."""

    lines: Sequence[str | Measure]
    at: Point
    side: int

    @property
    def width(self) -> float:
        """Of the widest line on the paper."""
        return max(line.width if isinstance(line, Measure) else parts.text_width(line) for line in self.lines)

    @property
    def name(self) -> str:
        """What it says, in plain words."""
        return " ".join(f"{one.symbol} {one.value}" if isinstance(one, Measure) else one for one in self.lines)

    @property
    def height(self) -> float:
        """Of all lines, with the clear space that keeps the next ones off."""
        return len(self.lines) * LINE_STEP + CLEAR


def seen(thick: float, wide: float, high: float, tallest: float = TALLEST) -> float:
    """How thick a layer is drawn in a view so wide and high."""
    return max(thick, THINNEST * max(wide / ROOM, high / tallest))


def as_it_is(thick: float, drawn: float) -> str:
    """The case of a drawing's words: whether a layer is drawn as thick as it is."""
    return "true" if drawn <= thick else "thicker"


@dataclass
class Scene:
    """One view: what it shows in metres, and what is drawn in it. Draw shapes first, then words."""

    left: float
    right: float
    top: float
    bottom: float
    upright: bool = False
    end_grain: bool = False
    width: float = WIDTH
    tallest: float = TALLEST
    named: list[tuple[str, Point]] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    cases: dict[str, str] = field(default_factory=dict)
    shapes: list[tuple[str, Sequence[Point], str, float]] = field(default_factory=list)
    extras: list[tuple[Drawer, Sequence[Point], str]] = field(default_factory=list)

    # What is drawn

    def area(self, name: str, points: Sequence[Point], material: str, edge: float = THICK) -> None:
        """A closed shape of a material: wood, plank (its grain lying), endgrain, epoxy, hard (epoxy told from soft),
        metal, washer, steel, neat, or paper for what is cut away."""
        self.shapes.append((name, points, material, edge))

    def box(self, name: str, x: Point, y: Point, material: str, edge: float = THICK) -> None:
        """A rectangle, x[0] to x[1] along and y[0] to y[1] across."""
        self.area(name, [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])], material, edge)

    def line(self, points: Sequence[Point], kind: str = "thick") -> None:
        """An open line: thick, thin, extension for a span's ends, cut, dashed, axis, or film for epoxy in the wood."""
        self.extras.append((drawn_line, points, kind))

    # The same on both sides of the axis

    def areas(self, name: str, points: Sequence[Point], material: str, edge: float = THICK) -> None:
        """A closed shape and its mirror image."""
        for half in (mirrored(points), points):
            self.area(name, half, material, edge)

    def boxes(self, name: str, x: Point, y: Point, material: str, edge: float = THICK) -> None:
        """Two rectangles, y[0] to y[1] from the axis."""
        for side in (-1, 1):
            self.box(name, x, (side * y[0], side * y[1]), material, edge)

    def lines(self, points: Sequence[Point], kind: str = "thick") -> None:
        """An open line and its mirror image."""
        for half in (mirrored(points), points):
            self.line(half, kind)

    def arrows(self, start: Point, end: Point) -> None:
        """Two arrows."""
        for half in (mirrored([start, end]), [start, end]):
            self.arrow(half[0], half[1])

    def arrow(self, start: Point, end: Point) -> None:
        """One open arrow: how the work moves."""
        self.extras.append((flow, [start, end], ""))

    def turn(self, at: Point, radius: float) -> None:
        """A turning arrow round a point."""
        self.extras.append((turning, [at, (at[0] + radius, at[1])], ""))

    def span(self, start: Point, end: Point) -> None:
        """A thin line with arrowheads at both ends: a length, whose value stands at a label."""
        self.extras.append((spanned, [start, end], ""))

    def measure(self, start: Point, end: Point, away: Point, reach: Point) -> None:
        """A length between two points, measured `away` from them; its extension lines `reach` a little further."""
        for x, y in (start, end):
            self.line([(x, y), (x + reach[0], y + reach[1])], "extension")
        self.span((start[0] + away[0], start[1] + away[1]), (end[0] + away[0], end[1] + away[1]))

    def label(self, name: str, at: Point) -> None:
        """A point that the label called so belongs to."""
        self.named.append((name, at))

    def take(self, words: Words) -> None:
        """Put its words to every label, and have its wood as they have it."""
        self.end_grain = words.in_end_grain
        self.labels = [Label(words.lines(name), at, words.side(name)) for name, at in self.named]

    def content(self, words: Words, prefix: str) -> tuple[str, float]:
        """The view as SVG, and how high it is."""
        self.take(words)
        return self.place().svg(prefix), self.height

    # Where it lies

    def column(self, side: int) -> float:
        """Paper that the words on one side take."""
        widths = [label.width for label in self.labels if label.side == side]
        return BROADER * max(widths) + COLUMN + 2 * CLEAR if widths else 0.0

    @property
    def scale(self) -> float:
        """Units of paper a metre."""
        room = self.width - self.column(-1) - self.column(1) - 2 * MARGIN
        return min(room / (self.right - self.left), self.tallest / (self.bottom - self.top))

    @property
    def height(self) -> float:
        """Of the view or of its words, whichever is taller."""
        columns = [sum(label.height for label in self.labels if label.side == side) for side in (-1, 1)]
        return max((self.bottom - self.top) * self.scale, *columns) + 2 * MARGIN

    def place(self, dx: float = 0.0, dy: float = 0.0) -> Stage:
        """The view on the paper, moved by (dx, dy)."""
        taken = (self.right - self.left) * self.scale
        spare = self.width - self.column(-1) - self.column(1) - taken
        across = dx + self.column(-1) + spare / 2
        down = dy + (self.height - (self.bottom - self.top) * self.scale) / 2
        return Stage(self, self.scale, across - self.left * self.scale, down - self.top * self.scale, dx, dy)


@dataclass(frozen=True)
class Stage:
    """A scene that has its place on the paper."""

    scene: Scene
    scale: float
    x0: float
    y0: float
    dx: float
    dy: float

    def at(self, point: Point) -> Point:
        """A point of the view on the paper."""
        x, y = reversed(point) if self.scene.upright else point
        return (self.x0 + x * self.scale, self.y0 + y * self.scale)

    def svg(self, prefix: str) -> str:
        """Shapes, lines and words, in that order. `prefix` keeps the ids of several drawings on a page apart."""
        scene = self.scene
        drawn = [self._shape(prefix, *shape) for shape in scene.shapes]
        drawn += [draw([self.at(point) for point in points], kind) for draw, points, kind in scene.extras]
        return "".join([*drawn, *self._words(-1), *self._words(1)])

    def _shape(self, prefix: str, name: str, points: Sequence[Point], material: str, edge: float) -> str:
        data = parts.polyline([self.at(point) for point in points], close=True)
        if material in PATTERNS:
            # Side grain runs across the fastener, so under an upright one it lies; end grain runs along it.
            lies = self.scene.upright != self.scene.end_grain
            pattern = "plank" if material == "wood" and lies else material
            painted = parts.fill(data, parts.pattern_fill(prefix, pattern))
        else:
            painted = parts.fill(data, *TINTS[material])
        return parts.group(name, painted, parts.stroke(data, edge) if edge else "")

    def _words(self, side: int) -> list[str]:
        """The column on one side: labels by height of what they name, kept apart, within the view's height."""
        scene = self.scene
        mine = sorted((label for label in scene.labels if label.side == side), key=lambda label: self.at(label.at)[1])
        if not mine:
            return []
        tops = stack([self.at(label.at)[1] - label.height / 2 for label in mine], [label.height for label in mine])
        floor, roof = self.dy + MARGIN, self.dy + scene.height - MARGIN
        over = max(0.0, tops[-1] + mine[-1].height - roof)
        tops = [max(floor, top - over) for top in tops]
        tops = stack(tops, [label.height for label in mine])
        edge = self.x0 + (scene.left if side < 0 else scene.right) * self.scale + side * COLUMN
        return [self._word(label, top, edge, side) for label, top in zip(mine, tops, strict=True)]

    def _word(self, label: Label, top: float, edge: float, side: int) -> str:
        middle = top + (label.height - CLEAR) / 2
        target = self.at(label.at)
        last = top + LINE_STEP - parts.DESCENT * LINE_STEP + (len(label.lines) - 1) * LINE_STEP
        anchor = "start" if side > 0 else "end"
        rows = range(len(label.lines))
        foot = [(edge + side * CLEAR, last - (len(rows) - 1 - row) * LINE_STEP) for row in rows]
        lettering = "".join(
            parts.measure(at, one, anchor) if isinstance(one, Measure) else parts.words(at, [one], anchor)
            for at, one in zip(foot, label.lines, strict=True)
        )
        bend = (edge - side * COLUMN / 2, middle)
        path = parts.stroke(parts.polyline([target, bend, (edge, middle)]), THIN)
        return parts.group(f"label {label.name}", path, parts.dot(target), lettering)


def stack(tops: Sequence[float], heights: Sequence[float]) -> list[float]:
    """Moved down until none covers the next."""
    placed: list[float] = []
    for place, top in enumerate(tops):
        placed.append(top if not placed else max(top, placed[-1] + heights[place - 1]))
    return placed


def drawn_line(points: Sequence[Point], kind: str) -> str:
    """A line on the paper by its kind."""
    data = parts.polyline(points)
    if kind == "film":
        return parts.element(
            "path", d=data, fill="none", stroke=parts.COAT, stroke_width=str(parts.FILM), class_="bw-coat"
        )
    if kind == "extension":
        return parts.group("extension lines", parts.stroke(data, THIN))
    widths = {"thick": THICK, "thin": THIN, "cut": CUT, "dashed": THICK, "axis": THIN, "release": THICK}
    dashes = {"dashed": "2 1", "axis": "7 1 0.8 1", "release": "3 0.7 0.7 0.7 0.7 0.7"}
    return parts.stroke(data, widths[kind], dashes.get(kind, ""))


def flow(points: Sequence[Point], kind: str) -> str:
    """An open arrow on the paper."""
    (x1, y1), (x2, y2) = points
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ax, ay = (x2 - x1) / length, (y2 - y1) / length
    back = (x2 - FLOW_HEAD * ax, y2 - FLOW_HEAD * ay)
    barbs = [
        (back[0] - FLOW_HALF * ay, back[1] + FLOW_HALF * ax),
        (x2, y2),
        (back[0] + FLOW_HALF * ay, back[1] - FLOW_HALF * ax),
    ]
    return parts.group("arrow", parts.stroke(parts.polyline(points), CUT), parts.stroke(parts.polyline(barbs), CUT))


def spanned(points: Sequence[Point], kind: str) -> str:
    """A dimension line on the paper, without its value."""
    start, end = points
    (x1, y1), (x2, y2) = start, end
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    along, across = (x2 - x1) / length, (y2 - y1) / length
    if length < SHORT:  # the heads would melt into one: they point at it from both sides
        out = (parts.ARROW_TAIL * along, parts.ARROW_TAIL * across)
        heads = parts.arrowhead(start, along, across) + parts.arrowhead(end, -along, -across)
        return parts.group("span", parts.line((x1 - out[0], y1 - out[1]), (x2 + out[0], y2 + out[1])), heads)
    heads = parts.arrowhead(start, -along, -across) + parts.arrowhead(end, along, across)
    return parts.group("span", parts.line(start, end), heads)


def turning(points: Sequence[Point], kind: str) -> str:
    """Three quarters of a turn with an open arrowhead, clockwise round a point, as far from it as the second."""
    (x, y), beside = points
    radius = abs(beside[0] - x) + abs(beside[1] - y)
    start, end = (x, y - radius), (x - radius, y)
    size = number(radius)
    arc = f"M{number(start[0])} {number(start[1])}A{size} {size} 0 1 1 {number(end[0])} {number(end[1])}"
    barbs = [
        (end[0] - FLOW_HALF, end[1] + FLOW_HALF * 1.2),
        end,
        (end[0] + FLOW_HALF, end[1] + FLOW_HALF * 1.2),
    ]
    return parts.group("turning arrow", parts.stroke(arc, CUT), parts.stroke(parts.polyline(barbs), CUT))
