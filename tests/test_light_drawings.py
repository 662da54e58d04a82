"""What a page says shorter of a drawing is the same drawing."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from generator.figures.parts import polyline
from generator.pages.drawings import lightened

NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)")
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
