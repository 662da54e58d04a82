"""The code on a printed card that opens its page: a QR code as ISO/IEC 18004 lays it down, bytes at level M.

The page draws the code of a card printed as set with this Python, translated as the drawings are, so it keeps to the
Python that `live/figure_script.py` knows.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil

from ..quoted import escape

Grid = list[list[int]]

# By version from 1: the codewords that mend each block, and the blocks that the data is cut into.
MENDING = [10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26, 26]
MENDING += [28 for _ in range(19)]
BLOCKS = [1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16]
BLOCKS += [17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49]
FREE = -1
QUIET = 4


def code_svg(data: list[int], title: str) -> str:
    """The code of a text, given as its bytes; nothing for a text that is too long for one."""
    grid, paths = code_grid(data), []
    for y, row in enumerate(grid):
        edges = [x for x, (before, after) in enumerate(zip([0, *row], [*row, 0], strict=True)) if before != after]
        paths += [f"M{x} {y}h{end - x}v1H{x}z" for x, end in zip(edges[::2], edges[1::2], strict=True)]
    size = len(grid) + 2 * QUIET
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{-QUIET} {-QUIET} {size} {size}">'
    return f'{svg}<title>{escape(title)}</title><path d="{"".join(paths)}"/></svg>' if paths else ""


def code_grid(data: list[int]) -> Grid:
    """Rows of dots, 1 for dark, in the smallest version and the best mask; none where no version holds the data."""
    for version in range(1, 41):
        words = data_words(data, version)
        if words:
            grid = patterns(version)
            laid = laid_down(interleaved(words, version), grid)
            masked = [masked_grid(grid, laid, mask) for mask in range(8)]
            best = min([[penalty(one), mask] for mask, one in enumerate(masked)])[1]
            return marked(masked[best], version, best)
    return []


def bits_of(number: int, count: int) -> list[int]:
    """The lowest bits of a number, the highest of them first."""
    return [number >> place & 1 for place in reversed(range(count))]


# What is there before any data


def patterns(version: int) -> Grid:
    """The dots that every code of a version has, with the places of the data free and those of the marks light."""
    size = 17 + 4 * version
    grid = [[FREE for _ in range(size)] for _ in range(size)]
    for place in range(size):
        grid[6][place] = 1 - place % 2
        grid[place][6] = 1 - place % 2
    middles = alignment(version)
    for row in middles:
        for column in middles:
            if [row, column] not in [[6, 6], [6, middles[-1]], [middles[-1], 6]]:
                rings(grid, row, column, [1, 0, 1])
    for row, column in [[3, 3], [3, size - 4], [size - 4, 3]]:
        rings(grid, row, column, [1, 1, 0, 1, 0])
    return written(grid, version, [0 for _ in range(15)], [0 for _ in range(18)], 0)


def alignment(version: int) -> list[int]:
    """Where the middles of the alignment patterns stand, down as across: evenly from the last, in even steps."""
    last, count = 10 + 4 * version, version // 7 + 1
    step = 26 if version == 32 else 2 * ceil((last - 6) / (2 * count))
    return [6, *[last - step * place for place in reversed(range(count))]] if version > 1 else []


def rings(grid: Grid, row: int, column: int, dots: list[int]) -> None:
    """Square rings round a middle, `dots` from the inside out, as far as they lie in the grid."""
    reach = range(1 - len(dots), len(dots))
    for down in reach:
        for across in reach:
            y, x = row + down, column + across
            if 0 <= y < len(grid) and 0 <= x < len(grid):
                grid[y][x] = dots[max(abs(down), abs(across))]


def marked(grid: Grid, version: int, mask: int) -> Grid:
    """The code with its format and its version, which do not count when a mask is chosen."""
    form = with_check(mask, 5, 0x537, 10) ^ 0x5412
    return written(grid, version, bits_of(form, 15), bits_of(with_check(version, 6, 0x1F25, 12), 18), 1)


def written(grid: Grid, version: int, form: list[int], number: list[int], dark: int) -> Grid:
    """The format beside the finders, a dot that is dark in the end, and from version 7 on the version; each twice."""
    size, near = len(grid), [0, 1, 2, 3, 4, 5, 7, 8]
    for place, bit in enumerate(form[::-1]):
        corner, edge = near[min(place, 14 - place)], size - 1 - min(place, 14 - place)
        for row, column in [[corner, 8], [8, edge]] if place < 8 else [[8, corner], [edge, 8]]:
            grid[row][column] = bit
    grid[size - 8][8] = dark
    for place, bit in enumerate(number[::-1] if version > 6 else []):
        row, column = place // 3, size - 11 + place % 3
        grid[row][column] = bit
        grid[column][row] = bit
    return grid


def with_check(number: int, count: int, divisor: int, checks: int) -> int:
    """A number of so many bits with its check bits behind it: what is left after division by the divisor."""
    rest = number << checks
    for place in reversed(range(count)):
        if rest >> place + checks & 1:
            rest = rest ^ divisor << place
    return number << checks | rest


# The data


def data_words(data: list[int], version: int) -> list[int]:
    """The data with its head and what fills it up, a byte a word; nothing where it does not go into the version."""
    holds = room(version) // 8 - MENDING[version - 1] * BLOCKS[version - 1]
    counted = 8 if version < 10 else 16
    if 4 + counted + 8 * len(data) > 8 * holds:
        return []
    bits = [*bits_of(4, 4), *bits_of(len(data), counted)]
    bits += [bit for word in data for bit in bits_of(word, 8)]
    bits += [0 for _ in range(min(4, 8 * holds - len(bits)))]
    whole = [bits[8 * at : 8 * at + 8] for at in range(ceil(len(bits) / 8))]
    words = [sum([bit << 7 - place for place, bit in enumerate(word)]) for word in whole]
    return [*words, *[17 if place % 2 else 236 for place in range(holds - len(words))]]


def room(version: int) -> int:
    """How many places the patterns leave free: three finders with their edges, the two lines of dots between them, and
    what tells the mask. An alignment pattern has 25 dots, of which 5 may lie on those lines."""
    size, middles = 17 + 4 * version, len(alignment(version))
    aligned = 25 * (middles * middles - 3) - 10 * (middles - 2) if version > 1 else 0
    return size * size - 3 * 64 - 2 * (size - 16) - 31 - aligned - (36 if version > 6 else 0)


def interleaved(words: list[int], version: int) -> list[int]:
    """The words in the order in which they are written: the first of each block, the second, then what mends them."""
    count, short = BLOCKS[version - 1], len(words) // BLOCKS[version - 1]
    long = len(words) % count
    ends = [short * place + max(0, place - count + long) for place in range(count + 1)]
    blocks = [words[start:end] for start, end in pairwise(ends)]
    mends = [mending(block, MENDING[version - 1]) for block in blocks]
    return [
        block[place]
        for part in [blocks, mends]
        for place in range(len(part[-1]))
        for block in part
        if place < len(block)
    ]


def mending(block: list[int], count: int) -> list[int]:
    """The Reed-Solomon words of a block: what is left after division by (x - 1)(x - 2)(x - 4)..."""
    divisor, root = [1], 1
    for _ in range(count):
        divisor = [one ^ times(other, root) for one, other in zip([*divisor, 0], [0, *divisor], strict=True)]
        root = times(root, 2)
    rest = [0 for _ in range(count)]
    for word in block:
        lead = word ^ rest[0]
        rest = [one ^ times(lead, other) for one, other in zip([*rest[1:], 0], divisor[1:], strict=True)]
    return rest


def times(one: int, other: int) -> int:
    """A product in the field of 256 numbers whose polynomial is 285."""
    product = 0
    for place in reversed(range(8)):
        product = product << 1 ^ (one if other >> place & 1 else 0)
        product = product ^ (285 if product > 255 else 0)
    return product


# The data in its places


def free_places(grid: Grid) -> list[list[int]]:
    """The free places, row and column, in the order of the data: up and down in lanes of two, from the right."""
    down = list(range(len(grid)))
    lanes = [right if right > 6 else right - 1 for right in down[::-2] if right > 1]
    return [
        [row, column]
        for lane, right in enumerate(lanes)
        for row in (down if lane % 2 else down[::-1])
        for column in [right, right - 1]
        if grid[row][column] == FREE
    ]


def laid_down(words: list[int], grid: Grid) -> list[list[int]]:
    """Row, column and bit of every free place of a grid. The places that are left over hold nothing."""
    bits = [bit for word in words for bit in bits_of(word, 8)]
    return [
        [row, column, bits[place] if place < len(bits) else 0] for place, (row, column) in enumerate(free_places(grid))
    ]


def masked_grid(patterns: Grid, laid: list[list[int]], mask: int) -> Grid:
    """The code with its words, turned where the mask says so: alike in every square of 12 dots."""
    grid = [[*row] for row in patterns]
    square = [[1 if turned(mask, row, column) else 0 for column in range(12)] for row in range(12)]
    for row, column, bit in laid:
        grid[row][column] = bit ^ square[row % 12][column % 12]
    return grid


def turned(mask: int, row: int, column: int) -> bool:
    """Whether a mask turns a place."""
    area = row * column
    rests = [(row + column) % 2, row % 2, column % 3, (row + column) % 3, (row // 2 + column // 3) % 2]
    rests += [area % 2 + area % 3, (area % 2 + area % 3) % 2, ((row + column) % 2 + area % 3) % 2]
    return rests[mask] == 0


def penalty(grid: Grid) -> int:
    """How hard a code is to read: long runs, squares of one kind, what looks like a finder, too much dark or light."""
    size, total = len(grid), 0
    for line in [*grid, *[[row[place] for row in grid] for place in range(size)]]:
        run = 0
        for place, dot in enumerate(line):
            run = run + 1 if place > 0 and line[place - 1] == dot else 1
            total += 3 if run == 5 else 1 if run > 5 else 0
        text = "".join([str(dot) for dot in [0, 0, 0, 0, *line, 0, 0, 0, 0]])
        found = [at for at in range(size + 1) if text[at + 4 : at + 11] == "1011101"]
        total += 40 * len([at for at in found if "0000" in [text[at : at + 4], text[at + 11 : at + 15]]])
    for above, below in pairwise(grid):
        sums = [one + other for one, other in zip(above, below, strict=True)]
        total += 3 * len([place for place in range(1, size) if sums[place - 1] + sums[place] in [0, 4]])
    dark = sum([sum(row) for row in grid])
    return total + 10 * (abs(20 * dark - 10 * size * size) // (size * size))
