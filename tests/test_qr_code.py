"""The code of a printed card: dot by dot what an independent library draws, and the same in the page."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest
import segno
from segno import encoder

from conftest import node
from generator.figures.qr_code import (
    Grid,
    alignment,
    code_grid,
    code_svg,
    data_words,
    interleaved,
    laid_down,
    marked,
    masked_grid,
    mending,
    patterns,
)
from generator.live.figure_script import code_script

# The bytes that level M holds, by version: ISO/IEC 18004, table 7.
HOLDS = [14, 26, 42, 62, 84, 106, 122, 152, 180, 213, 251, 287, 331, 362, 412, 450, 504, 560, 624, 666]
HOLDS += [711, 779, 857, 911, 997, 1059, 1125, 1190, 1264, 1370, 1452, 1538, 1628, 1722, 1809, 1911, 1989, 2099]
HOLDS += [2213, 2331]


def link(length: int) -> list[int]:
    """Bytes such as stand in a link, the same for the same length."""
    letters = b"abcdefghijklmnopqrstuvwxyz0123456789-/.:?=&%+"
    return random.Random(length).choices(letters, k=length)


@pytest.fixture(autouse=True)
def standard_filling(monkeypatch: pytest.MonkeyPatch) -> None:
    """The library fills up with eight bits where the standard wants none: data that end with a byte are at its end."""

    def fill(buffer: list[int], version: int, length: int) -> None:
        buffer.extend([0] * (-length % 8))

    monkeypatch.setattr(encoder, "write_padding_bits", fill)


def own_grid(data: list[int], version: int, mask: int) -> Grid:
    """What we draw in a version, with a mask."""
    grid = patterns(version)
    laid = laid_down(interleaved(data_words(data, version), version), grid)
    return marked(masked_grid(grid, laid, mask), version, mask)


def library_grid(data: list[int], mask: int | None = None) -> Grid:
    """What the library draws, with the mask asked for or with its own choice."""
    code = segno.make(bytes(data), error="m", mode="byte", mask=mask, boost_error=False, micro=False)
    return [[int(dot) for dot in row] for row in code.matrix]


@pytest.mark.parametrize("version", range(1, 41))
def test_every_version_holds_what_the_standard_says_and_is_the_library_s_dot_by_dot(version: int) -> None:
    full, mask = HOLDS[version - 1], version % 8
    data = link(full - version % 3)  # full, or filled up with one word or two
    assert own_grid(data, version, mask) == library_grid(data, mask)
    assert data_words(link(full), version)
    assert not data_words(link(full + 1), version)


def test_every_mask_is_the_library_s() -> None:
    for length in (14, 84, 152):
        version = HOLDS.index(length) + 1
        for mask in range(8):
            assert own_grid(link(length), version, mask) == library_grid(link(length), mask)


def test_the_smallest_version_and_the_best_mask_are_the_library_s() -> None:
    for length in (1, 14, 15, 27, 41, 42, 43, 55, 62, 63, 84, 99, 107, 122, 151, 213):
        assert code_grid(link(length)) == library_grid(link(length)), length


def test_what_no_version_holds_has_no_code() -> None:
    assert code_svg(link(2332), "x") == ""


def test_the_words_that_mend_a_block_leave_nothing_over() -> None:
    """Worked with logarithms: the block and its words are nought at each root of the divisor."""
    power = [1]
    while len(power) < 255:
        power.append(power[-1] * 2 ^ (285 if power[-1] > 127 else 0))
    block = link(30)
    whole = [*block, *mending(block, 22)]
    for root in range(22):
        left = 0
        for word in whole:
            left = (power[(power.index(left) + root) % 255] if left else 0) ^ word
        assert left == 0
    assert mending([1, 0], 2) == [7, 6]  # by hand: x³ over x² + 3x + 2 leaves 7x + 6


@pytest.mark.parametrize(
    ("version", "middles"), [(1, []), (2, [6, 18]), (7, [6, 22, 38]), (32, [6, 34, 60, 86, 112, 138])]
)
def test_alignment_patterns_stand_where_the_standard_lists_them(version: int, middles: list[int]) -> None:
    """ISO/IEC 18004, annex E."""
    assert alignment(version) == middles


def dots(path: str) -> set[tuple[int, int]]:
    """Column and row of each dark dot of a drawn code."""
    runs = re.findall(r"M(\d+) (\d+)h(\d+)v1H\1z", path)
    assert "".join(f"M{x} {y}h{count}v1H{x}z" for x, y, count in runs) == path
    return {(int(x) + step, int(y)) for x, y, count in runs for step in range(int(count))}


def test_the_drawing_has_the_dots_and_a_light_margin() -> None:
    data = link(60)
    svg = code_svg(data, "Code for <a & b>")
    grid = code_grid(data)
    path = svg.partition('d="')[2].partition('"')[0]
    assert dots(path) == {(x, y) for y, row in enumerate(grid) for x, dot in enumerate(row) if dot}
    assert f'viewBox="-4 -4 {len(grid) + 8} {len(grid) + 8}"' in svg
    assert "<title>Code for &lt;a &amp; b&gt;</title>" in svg


RUN = """
const { readFileSync } = require("fs");
require(process.argv[1]);
process.stdout.write(JSON.stringify(JSON.parse(readFileSync(0, "utf8")).map(data => bondwrightCode(data, "a link"))));
"""


def test_the_page_draws_the_same_code(tmp_path: Path) -> None:
    script = tmp_path / "code.js"
    script.write_text(code_script(), encoding="utf-8")
    links = [link(length) for length in (1, 14, 40, 63, 85, 122, 153, 214, 2332)]
    assert node(RUN, [script], links) == [code_svg(one, "a link") for one in links]
