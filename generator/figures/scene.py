"""A small stage for step drawings: shapes in metres, words in columns beside them, right and wrong side by side.

The stage chooses one scale for both directions, the largest at which the view and its words fit the paper. Words stand
in a column left or right of the view, in the order of what they name, each at the end of a thin line; so nothing is
written on a shape and no two words meet.

A point is (along, across) in metres. A scene lies: along runs to the right, as a fastener in a stem. An upright scene
stands: along runs down, as a fastener in a deck. The bounds are those of the paper: left, right, top, bottom.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from . import parts
from .parts import CLEAR, CUT, LINE_STEP, MARGIN, THICK, THIN, WIDTH, Figure, Measure, Point, number

TALLEST = 78.0
# The tallest drawing whose views say enough when they are small.
LOW = 40.0
# Between the view and the ends of the leaders, and between a leader's end and its word.
COLUMN = 4.0
# Some fonts run wider than reckoned: the broadest words by 17 percent, measured in a browser.
BROADER = 1.2
# The words under a view that is one of two, and the gap between the two.
FOOT = 3 * LINE_STEP
GUTTER = 6.0
RING = 4.2
FLOW_HEAD, FLOW_HALF = 3.0, 1.5

# How each material is painted: a pattern of `parts`, or a tint with its class.
PATTERNS = ("wood", "plank", "endgrain", "epoxy", "hard", "metal", "washer", "compound", "core")
TINTS = {
    "steel": (parts.STEEL, "bw-steel"),
    "paper": (parts.PAPER, "bw-paper"),
    "neat": (parts.EPOXY, "bw-epoxy"),
}


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


@dataclass
class Scene:
    """One view: what it shows in metres, and what is drawn in it. Draw shapes first, then words."""

    prefix: str
    left: float
    right: float
    top: float
    bottom: float
    upright: bool = False
    width: float = WIDTH
    tallest: float = TALLEST
    labels: list[Label] = field(default_factory=list)
    shapes: list[tuple[str, Sequence[Point], str, float]] = field(default_factory=list)
    extras: list[tuple[str, Sequence[Point], str]] = field(default_factory=list)

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
        self.extras.append(("line", points, kind))

    def arrow(self, start: Point, end: Point) -> None:
        """One open arrow: how the work moves."""
        self.extras.append(("arrow", [start, end], ""))

    def turn(self, at: Point, radius: float) -> None:
        """A turning arrow round a point."""
        self.extras.append(("turn", [at, (at[0] + radius, at[1])], ""))

    def span(self, start: Point, end: Point) -> None:
        """A thin line with arrowheads at both ends: a length, whose value stands at a label."""
        self.extras.append(("span", [start, end], ""))

    def label(self, at: Point, *lines: str | Measure, side: int = 1) -> None:
        """Words for a point, in the column on `side`; a Measure is a symbol with its value."""
        self.labels.append(Label(lines, at, side))

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

    def svg(self) -> str:
        """Shapes, lines and words, in that order."""
        scene = self.scene
        drawn = [self._shape(*shape) for shape in scene.shapes]
        drawn += [self._extra(*extra) for extra in scene.extras]
        return "".join([*drawn, *self._words(-1), *self._words(1)])

    def _shape(self, name: str, points: Sequence[Point], material: str, edge: float) -> str:
        data = parts.polyline([self.at(point) for point in points], close=True)
        if material in PATTERNS:
            # Under an upright fastener the grain lies.
            pattern = "plank" if material == "wood" and self.scene.upright else material
            painted = parts.fill(data, parts.pattern_fill(self.scene.prefix, pattern))
        else:
            painted = parts.fill(data, *TINTS[material])
        return parts.group(name, painted, parts.stroke(data, edge) if edge else "")

    def _extra(self, what: str, points: Sequence[Point], kind: str) -> str:
        on_paper = [self.at(point) for point in points]
        if what == "arrow":
            return flow(on_paper[0], on_paper[1])
        if what == "span":
            return spanned(on_paper[0], on_paper[1])
        if what == "turn":
            return turning(on_paper[0], (points[1][0] - points[0][0]) * self.scale)
        return drawn_line(on_paper, kind)

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


def flow(start: Point, end: Point) -> str:
    """An open arrow on the paper."""
    (x1, y1), (x2, y2) = start, end
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ax, ay = (x2 - x1) / length, (y2 - y1) / length
    back = (x2 - FLOW_HEAD * ax, y2 - FLOW_HEAD * ay)
    barbs = [
        (back[0] - FLOW_HALF * ay, back[1] + FLOW_HALF * ax),
        (x2, y2),
        (back[0] + FLOW_HALF * ay, back[1] - FLOW_HALF * ax),
    ]
    return parts.group(
        "arrow", parts.stroke(parts.polyline([start, end]), CUT), parts.stroke(parts.polyline(barbs), CUT)
    )


def spanned(start: Point, end: Point) -> str:
    """A dimension line on the paper, without its value."""
    (x1, y1), (x2, y2) = start, end
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    along, across = (x2 - x1) / length, (y2 - y1) / length
    heads = parts.arrowhead(start, -along, -across) + parts.arrowhead(end, along, across)
    return parts.group("span", parts.line(start, end), heads)


def turning(at: Point, radius: float) -> str:
    """Three quarters of a turn with an open arrowhead, clockwise."""
    x, y = at
    start, end = (x, y - radius), (x - radius, y)
    size = number(radius)
    arc = f"M{number(start[0])} {number(start[1])}A{size} {size} 0 1 1 {number(end[0])} {number(end[1])}"
    barbs = [
        (end[0] - FLOW_HALF, end[1] + FLOW_HALF * 1.2),
        end,
        (end[0] + FLOW_HALF, end[1] + FLOW_HALF * 1.2),
    ]
    return parts.group("turning arrow", parts.stroke(arc, CUT), parts.stroke(parts.polyline(barbs), CUT))


def struck_ring(at: Point) -> str:
    """The mark on what went wrong: a ring with a stroke through it."""
    x, y = at
    half = RING * 0.7071
    ring = parts.element(
        "circle",
        cx=number(x),
        cy=number(y),
        r=number(RING),
        fill="none",
        stroke=parts.INK,
        stroke_width=str(2 * THICK),
        class_="bw-ink",
    )
    bar = parts.stroke(parts.polyline([(x - half, y + half), (x + half, y - half)]), 2 * THICK)
    return parts.group("wrong", ring, bar)


def single(scene: Scene, title: str, description: str, caption: str) -> Figure:
    """A drawing of one view."""
    content = scene.place().svg()
    return Figure(parts.drawing(scene.prefix, scene.height, title, description, content), title, description, caption)


def right_and_wrong(
    right: Scene,
    wrong: Scene,
    said: tuple[str, Sequence[str]],
    title: str,
    description: str,
    caption: str,
    tallest: float = TALLEST,
) -> Figure:
    """Two views at one scale: what is right on the left, what went wrong on the right with its struck ring and reason.

    `said` is a word or two under the right view, and the lines of the reason under the wrong one. The views carry no
    labels of their own but those on the outer sides: left on the right view, right on the wrong one.
    """
    half = (WIDTH - GUTTER) / 2
    for view in (right, wrong):
        view.width, view.tallest = half, tallest - FOOT
    scale = min(right.scale, wrong.scale)
    for view in (right, wrong):
        view.tallest = scale * (view.bottom - view.top)
        view.width = half
    height = max(right.height, wrong.height)
    left_stage, right_stage = right.place(), wrong.place(half + GUTTER)
    middle = WIDTH / 2
    foot = height + LINE_STEP
    ring = (half + GUTTER + RING + MARGIN, height + RING + MARGIN)
    content = "".join(
        (
            left_stage.svg(),
            right_stage.svg(),
            parts.line((middle, MARGIN), (middle, height + FOOT - MARGIN)),
            parts.group("right", parts.words((half / 2, foot + LINE_STEP / 2), [said[0]])),
            struck_ring(ring),
            parts.words((ring[0] + RING + 2 * CLEAR, foot + LINE_STEP / 2 * len(said[1])), said[1], "start"),
        )
    )
    return Figure(parts.drawing(right.prefix, height + FOOT, title, description, content), title, description, caption)
