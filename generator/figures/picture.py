"""What a drawing is: a function that says where things are, and its words, which stand in YAML.

A drawing function takes the working's values (SI) and the card's choices and gives one view, or a right and a wrong
one. `draw` puts the words to it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Protocol, TypeVar

from ..model.schema import DrawingWords
from . import parts
from .parts import CLEAR, LINE_STEP, MARGIN, THICK, WIDTH, Figure, number
from .scene import TALLEST, Scene
from .shapes import Point
from .words import Options, Say, Values, Words

# The words under a view that is one of two, the gap between the two, and the ring on the wrong one.
FOOT = 3 * LINE_STEP
GUTTER = 6.0
RING = 4.2


class Picture(Protocol):
    """What a drawing function gives: one view or several, and which cases of its texts hold."""

    cases: dict[str, str]

    def content(self, words: Words, prefix: str) -> tuple[str, float]:
        """The view as SVG, and how high it is."""


Place = Callable[[Values, Options], Picture]
F = TypeVar("F", bound=Place)


@dataclass(frozen=True)
class Drawing:
    """A drawing by its name: its function, the labels that it may place, and the cases of its texts."""

    place: Place
    labels: frozenset[str]
    cases: Mapping[str, frozenset[str]]

    @property
    def paired(self) -> bool:
        """Whether it shows what is right beside what went wrong."""
        return str(self.place.__annotations__["return"]) == "Pair"


# By the name a card asks for.
FIGURES: dict[str, Drawing] = {}


def drawing(name: str, labels: str = "", **cases: str) -> Callable[[F], F]:
    """List a function as a drawing. `labels` are the names that it places; a case is named with its alternatives."""

    def register(place: F) -> F:
        FIGURES[name] = Drawing(place, frozenset(labels.split()), {k: frozenset(v.split()) for k, v in cases.items()})
        return place

    return register


def draw(place: Place, written: DrawingWords, values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The finished drawing. `say` gives a symbol's value as the shop reads it; `prefix` keeps ids apart on a page."""
    picture = place(values, options)
    words = Words(written, say, {**options, **picture.cases})
    content, height = picture.content(words, prefix)
    title, description = words.filled(written.title), words.filled(written.description)
    svg = parts.drawing(prefix, height, title, description, content)
    return Figure(svg, title, description, words.filled(written.notice))


@dataclass
class Pair:
    """Two views at one scale: what is right on the left, what went wrong on the right with its struck ring and reason.

    The views carry no labels of their own but those on the outer sides: left on the right view, right on the wrong one.
    """

    right: Scene
    wrong: Scene
    tallest: float = TALLEST
    cases: dict[str, str] = field(default_factory=dict)

    def content(self, words: Words, prefix: str) -> tuple[str, float]:
        """Both views with the words under them, and how high they are."""
        half = (WIDTH - GUTTER) / 2
        views = [self.right, self.wrong]
        for view in views:
            view.take(words)
            view.width, view.tallest = half, self.tallest - FOOT
        scale = min(self.right.scale, self.wrong.scale)
        for view in views:
            view.tallest = scale * (view.bottom - view.top)
        height = max(self.right.height, self.wrong.height)
        foot = height + LINE_STEP
        ring = (half + GUTTER + RING + MARGIN, height + RING + MARGIN)
        reason = [words.filled(line) for line in words.written.wrong]
        drawn = (
            self.right.place().svg(prefix),
            self.wrong.place(half + GUTTER).svg(prefix),
            parts.line((WIDTH / 2, MARGIN), (WIDTH / 2, height + FOOT - MARGIN)),
            parts.group("right", parts.words((half / 2, foot + LINE_STEP / 2), [words.filled(words.written.right)])),
            struck_ring(ring),
            parts.words((ring[0] + RING + 2 * CLEAR, foot + LINE_STEP / 2 * len(reason)), reason, "start"),
        )
        return "".join(drawn), height + FOOT


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
