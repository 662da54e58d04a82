"""What a page says shorter of a drawing is the same drawing."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st

from generator.figures import figure
from generator.figures.parts import polyline
from generator.model.library import Library
from generator.pages.drawings import lightened
from generator.reckoning import reckon

NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)")
# Two colours that have a short name.
LONG = {"#000": "#000000", "#fff": "#ffffff"}
places = st.integers(-99_999, 99_999).map(lambda hundredths: hundredths / 100)


def points(data: str) -> list[tuple[float, float]]:
    """The points of a path as the SVG standard reads it: numbers part at a sign, a blank or a second decimal point."""
    found: list[tuple[float, float]] = []
    for command, text in re.findall("([MLl])([^MLlZ]*)", data):
        numbers = [float(one) for one in NUMBER.findall(text)]
        for x, y in zip(numbers[::2], numbers[1::2], strict=True):
            last = found[-1] if command == "l" else (0.0, 0.0)
            found.append((round(last[0] + x, 2), round(last[1] + y, 2)))
    return found


@given(st.lists(st.tuples(places, places), min_size=2, max_size=12))
def test_a_line_told_by_its_steps_has_the_same_points(line: list[tuple[float, float]]) -> None:
    written = polyline(line, close=True)
    page = lightened(f'<svg viewBox="0 0 1 1" class="bw-figure"><path d="{written}" fill="none"/></svg>')
    told = re.findall(' d="([^"]*)"', page)[0]
    assert points(told) == points(written) == line
    assert told.endswith("Z")


def marks(element: ET.Element, inherited: dict[str, str] | None = None) -> Iterator[tuple[object, ...]]:
    """What a drawing puts on the paper, however it is grouped: its areas, each stroke of a line, dots and words."""
    given = (inherited or {}) | {name: LONG.get(text, text) for name, text in element.attrib.items()}
    kind = element.tag.rpartition("}")[2]
    if kind == "path":
        data = given["d"]
        if (fill := given.get("fill", "none")) != "none":
            yield "area", shape(data), re.sub(r"#.*-", "#", fill)
        if given.get("stroke", "none") != "none":
            for line in re.findall("M[^M]*", data):
                yield "line", shape(line), given["stroke-width"], given.get("stroke-dasharray")
    elif kind == "circle":
        yield "dot", *(float(given[name]) for name in ("cx", "cy", "r")), given["fill"]
    elif kind == "text":
        words = "".join(element.itertext())
        yield "words", words, float(given["x"]), float(given["y"]), given.get("text-anchor", "start"), given["fill"]
    elif kind != "defs":
        for child in element:
            yield from marks(child, given)


def shape(data: str) -> tuple[object, ...]:
    if re.search("[^MLlZ0-9 .-]", data):
        return tuple(NUMBER.sub(lambda number: f" {float(number[0])} ", data).split())
    return (*points(data), data.endswith("Z"))


def test_a_drawing_said_shorter_puts_the_same_on_the_paper(library: Library) -> None:
    seen = 0
    for name, card in library.cards.items():
        reckoning = reckon(library, card, {"shop": "metric"})
        for drawing in dict.fromkeys([card.figure, *(step.drawing for step in card.steps)]):
            if not drawing:
                continue
            svg = figure(library, drawing, reckoning, "x").svg
            before = set(marks(ET.fromstring(svg)))
            for named in (False, True):
                short = lightened(svg, named=named)
                assert set(marks(ET.fromstring(short))) == before, (name, drawing)
            seen += len(before)
    assert seen > 3000
