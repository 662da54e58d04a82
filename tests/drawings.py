"""Every drawing over the whole range of jobs, and what the tests of drawings measure on it."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache, cached_property

from conftest import LIBRARY
from generator.errors import NoStock, OutOfRange, WorkingError
from generator.figures import FIGURES, Figure, draw, parts
from generator.figures.faults import drawing_names
from generator.model.schema import LabelWords
from generator.reckoning import Reckoning, reckon

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[float, float, float, float]
Point = tuple[float, float]

# Both shops as they stand; then sizes, depths, drills and counts to both ends of each card's range.
SHOPS: list[dict[str, str]] = [{}, {"shop": "inch"}]
THREADS = ["M6", "M8", "M12", "M20", "1/4-20 UNC", "5/16-18 UNC", "3/4-10 UNC"]
DRILLS: list[dict[str, str]] = [{}, {"large_drill": "twist", "guide_drill": "flat"}, {"large_drill": "twist"}]


def crossed(*ways: list[dict[str, str]]) -> list[dict[str, str]]:
    """Every combination of some inputs."""
    return [{key: text for way in combined for key, text in way.items()} for combined in itertools.product(*ways)]


def runs(name: str, *values: str) -> list[dict[str, str]]:
    """An input that runs through values."""
    return [{name: value} for value in values]


# The strongest class of fastener where the widest thread is loaded to its end.
BOLTS = [
    *SHOPS,
    *runs("thread", "M6", "M12", "M20", "1/4-20 UNC"),
    {"thread": "3/4-10 UNC", "fastener": "a4-70"},
]
HOLES = [
    *crossed(BOLTS, runs("T", "60 mm", "90 mm", "200 mm"), DRILLS),
    *runs("a_b", "20 mm", "200 mm"),
    *runs("t_m", "0 mm"),
    *runs("q_sk", "6 mm"),
]
SEATS: list[dict[str, str]] = [
    *SHOPS,
    {"thread": "M6", "b_b": "200 mm", "t_0": "2 mm"},
    {"thread": "M12", "R_c": "60 mm"},
    {"thread": "M20", "R_c": "8 m", "b_b": "100 mm", "t_0": "10 mm"},
    {"thread": "1/4-20 UNC"},
    {"thread": "3/4-10 UNC", "r_f": "0 in"},
    {"q_sk": "8 mm"},
    {"thread": "M5", "b_b": "40 mm"},
]
INPUTS: dict[str, list[dict[str, str]]] = {
    "bonded-stepped-hole": HOLES,
    "blind-stud": HOLES,
    "worn-hole": [
        *crossed(BOLTS, runs("T_wo", "30 mm", "50 mm", "180 mm"), DRILLS),
        {"thread": "M5", "D_wo": "7 mm", "T_wo": "20 mm"},
    ],
    "trial-joint": crossed(
        BOLTS,
        [{"T": depth, "a_tr": "150 mm"} for depth in ("90 mm", "150 mm", "200 mm")],
        [*DRILLS, *crossed(runs("hole", "blind"), [{}, {"large_drill": "twist"}])],
    ),
    "cast-seat": SEATS,
    "released-seat": [seat for seat in SEATS if "r_f" not in seat] + [{"thread": "3/4-10 UNC"}],
    "backing-plate": [
        *SHOPS,
        {"thread": "M6", "T": "20 mm", "t_m": "1 mm"},
        {"thread": "M12", "F_n": "10 kN", "plate": "glass-laminate"},
        {"thread": "M20", "T": "1 m", "t_m": "10 mm"},
        {"thread": "1/4-20 UNC", "T": "1 in"},
        {"thread": "3/4-10 UNC", "fastener": "316-cw-large"},
    ],
    "bedded-cored": [
        *SHOPS,
        {"h_k": "0 mm"},
        *crossed(
            runs("thread", *THREADS),
            [{"n_h": "4"}, {"n_h": "1", "c_sk": "30 mm"}, {"c_sk": "8 mm", "large_drill": "twist"}, {"n_h": "7"}],
        ),
    ],
    "bedded-solid": [
        *SHOPS,
        {"h_k": "0 mm"},
        {"thread": "M5", "T_sk": "5 mm", "b_sk": "2 mm"},
        *crossed(
            runs("thread", *THREADS),
            [{"n_h": "2", "T_sk": "12 mm"}, {"T_sk": "200 mm", "q_sk": "10 mm"}, {"n_h": "6", "a_b": "300 mm"}],
        ),
    ],
    "cast-thread": [
        *SHOPS,
        {"thread": "M6", "large_drill": "flat"},
        {"thread": "M12", "k_ct": "5"},
        {"thread": "M20", "large_drill": "flat", "c_ct": "5 mm"},
        {"thread": "1/4-20 UNC", "c_ct": "5 mm"},
        {"thread": "3/4-10 UNC"},
    ],
    "bonded-bush": [
        *SHOPS,
        {"thread": "M5", "j_bu": "6"},
        {"thread": "M12", "j_bu": "1"},
        {"thread": "M20", "large_drill": "flat"},
        {"thread": "1/4-20 UNC"},
        {"thread": "3/4-10 UNC", "large_drill": "flat"},
    ],
    "bonded-screw": [
        *SHOPS,
        {"thread": "M6", "L_sc": "150 mm"},
        {"thread": "M12", "l_sc": "0 mm", "wood": "white-oak", "pilot": "dense", "g_y": "5 mm"},
        {"thread": "1/4-20 UNC", "L_sc": "1 in"},
        {"thread": "1/2-13 UNC", "L_sc": "5 in", "l_sc": "3 in"},
    ],
    "mixing": [
        *SHOPS,
        {"m_b": "15 g", "V_s": "5 mL", "consistency": "runny"},
        {"m_b": "95 g", "filler": "glass-spheres"},
        {"m_b": "100 g", "V_s": "60 mL", "u_s": "50 %", "consistency": "sagging", "ratio": "5:1 by volume"},
        {
            "V_s": "10 mL",
            "u_s": "100 %",
            "consistency": "soft",
            "filler": "colloidal-silica",
            "T_a": "30 °C",
            "hardener": "slow",
        },
    ],
    "heat-removal": [
        *SHOPS,
        *crossed(
            [
                {"thread": thread, "L_k": length}
                for thread, short, long in (
                    ("M6", "20 mm", "90 mm"),
                    ("M12", "10 mm", "150 mm"),
                    ("M20", "40 mm", "200 mm"),
                    ("1/4-20 UNC", "1/2 in", "3 in"),
                    ("3/4-10 UNC", "1 in", "6 in"),
                )
                for length in (short, long)
            ],
            runs("metal", "stainless-316", "silicon-bronze", "aluminium-6061"),
        ),
    ],
}


@cache
def reckonings_of(card: str) -> list[Reckoning]:
    """A card worked with all of its inputs; a size that no shop stocks, or no model covers, is passed over."""
    sheet, found = LIBRARY.cards[card], []
    for inputs in INPUTS[card]:
        try:
            found.append(reckon(LIBRARY, sheet, {k: v for k, v in inputs.items() if k == "shop" or k in sheet.givens}))
        except (NoStock, OutOfRange):
            continue
    assert len(found) >= 5, card
    return found


def drawings_of(card: str) -> list[str]:
    """The drawings that a card names, each once."""
    return list(dict.fromkeys(name for _, name in drawing_names(LIBRARY.cards[card])))


CARDS_OF = {name: [card for card in LIBRARY.cards if name in drawings_of(card)] for name in FIGURES}


class Read(dict[str, str]):
    """The values of a job as its shop reads them, each put into words once for all of its drawings."""

    def __init__(self, reckoning: Reckoning):
        self.reckoning = reckoning

    def __missing__(self, symbol: str) -> str:
        self[symbol] = self.reckoning.shop(symbol)
        return self[symbol]


READ: dict[int, Read] = {}


def shop_texts(reckoning: Reckoning) -> Read:
    """What the shop reads of a job, the same for all who ask."""
    return READ.setdefault(id(reckoning), Read(reckoning))


def drawn_by(
    name: str, values: Mapping[str, float], say: Callable[[str], str], options: Mapping[str, str], prefix: str = "fig"
) -> Figure:
    """A drawing with its own words."""
    return draw(FIGURES[name].place, LIBRARY.drawings[name], values, say, options, prefix)


class Asked(dict[str, LabelWords]):
    """Labels that remember which of them were asked for."""

    def __init__(self, labels: Mapping[str, LabelWords]):
        super().__init__(labels)
        self.names: set[str] = set()

    def __getitem__(self, name: str) -> LabelWords:
        self.names.add(name)
        return super().__getitem__(name)


@dataclass
class Drawn:
    """A drawing of one job, parsed where it is asked about, and the labels that were asked for to draw it."""

    name: str
    reckoning: Reckoning
    figure: Figure
    asked: set[str] = field(default_factory=set)

    @cached_property
    def root(self) -> ET.Element:
        return ET.fromstring(self.figure.svg)

    @property
    def values(self) -> Mapping[str, float]:
        return self.reckoning.working.values

    @cached_property
    def width(self) -> float:
        return float(self.root.get("viewBox", "").split()[2])

    @cached_property
    def height(self) -> float:
        return float(self.root.get("viewBox", "").split()[3])

    def parts(self, name: str) -> list[ET.Element]:
        """All parts of that name."""
        return [group for group in self.root.iter(f"{SVG}g") if group.get("data-part") == name]

    def part(self, name: str) -> ET.Element:
        """The first part of that name."""
        return self.parts(name)[0]

    def box(self, name: str, place: int = 0) -> Box:
        """Where a part lies: left, top, right and bottom."""
        return extent(self.parts(name)[place])

    def around(self, name: str) -> Box:
        """Where all parts of that name lie."""
        boxes = [extent(group) for group in self.parts(name)]
        return (
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )

    def size(self, name: str, place: int = 0) -> Point:
        """Width and height of a part."""
        left, top, right, bottom = self.box(name, place)
        return right - left, bottom - top

    @property
    def labels(self) -> list[ET.Element]:
        """The words with their leaders."""
        return [group for group in self.root.iter(f"{SVG}g") if group.get("data-part", "").startswith("label ")]

    @property
    def words(self) -> list[tuple[str, Box]]:
        """All lettering, with where it may be inked."""
        return [("".join(text.itertext()), text_box(text)) for text in self.root.iter(f"{SVG}text")]


def drawn(name: str, reckoning: Reckoning) -> Drawn:
    """A drawing of a job. Raises WorkingError where it needs a number that there is none of."""
    labels = Asked(LIBRARY.drawings[name].labels)
    words = LIBRARY.drawings[name].model_copy(update={"labels": labels})
    texts = shop_texts(reckoning)
    figure = draw(FIGURES[name].place, words, reckoning.working.values, texts.__getitem__, reckoning.texts, "fig")
    return Drawn(name, reckoning, figure, labels.names)


def all_drawn(name: str, cards: list[str] | None = None) -> list[Drawn]:
    """A drawing of every job of its cards; one that needs a number that there is none of is passed over."""
    found = []
    for reckoning in (reckoning for card in cards or CARDS_OF[name] for reckoning in reckonings_of(card)):
        with suppress(WorkingError):
            found.append(drawn(name, reckoning))
    assert len(found) >= 5, name
    return found


# What is on the paper


def path_points(data: str) -> list[list[Point]]:
    """Every run of a path as points: curves by eighths, of an arc its end."""
    assert re.fullmatch(r"[MLQAZ0-9. -]*", data), data
    found: list[list[Point]] = []
    for letter, numbers in re.findall(r"([MLQAZ])([^MLQAZ]*)", data):
        values = [float(text) for text in numbers.split()]
        points = list(zip(values[::2], values[1::2], strict=True)) if letter != "A" else [(values[-2], values[-1])]
        if letter == "M":
            found.append(points)
        elif letter == "Z":
            found[-1].append(found[-1][0])
        elif letter == "Q":
            found[-1].extend(curve(found[-1][-1], *points))
        else:
            found[-1].extend(points)
    return found


def curve(start: Point, control: Point, end: Point) -> list[Point]:
    """A bent line by eighths."""
    shares = [place / 8 for place in range(1, 9)]
    return [
        (
            (1 - t) ** 2 * start[0] + 2 * t * (1 - t) * control[0] + t**2 * end[0],
            (1 - t) ** 2 * start[1] + 2 * t * (1 - t) * control[1] + t**2 * end[1],
        )
        for t in shares
    ]


def points(group: ET.Element) -> Iterator[Point]:
    """All corners of a part."""
    for path in group.iter(f"{SVG}path"):
        for run in path_points(path.get("d", "")):
            yield from run


def extent(group: ET.Element) -> Box:
    """Left, top, right and bottom of a part."""
    xs, ys = zip(*points(group), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def letter_width(letter: str) -> float:
    """In em, of a common sans-serif: thin letters and spaces, broad letters, all others and digits."""
    return 0.3 if letter in " \N{NO-BREAK SPACE}/.,-fijlrt" else 0.85 if letter in "mwDMW" else 0.56


def text_box(text: ET.Element) -> Box:
    """Where lettering may be inked: letter widths of a common sans-serif, risers and descenders as they come."""
    size, x, y = parts.TEXT, float(text.get("x", "")), float(text.get("y", ""))
    spans = list(text) or [text]
    width, lowest, lowered = 0.0, 0.0, 0.0
    for span in spans:
        letters, own = span.text or "", float(span.get("font-size", size))
        lowered += float(span.get("dy", 0))
        width += own * sum(letter_width(letter) for letter in letters)
        lowest = max(lowest, lowered + (0.22 * own if set(letters) & set("gjpqy,") else 0))
    left = {"start": x, "middle": x - width / 2, "end": x - width}[text.get("text-anchor", "")]
    return left, y - 0.75 * size, left + width, y + lowest


def overlap(one: Box, other: Box, apart: float = 0.0) -> bool:
    """Whether two boxes lie nearer to each other than `apart`."""
    return (
        one[0] < other[2] + apart
        and other[0] < one[2] + apart
        and one[1] < other[3] + apart
        and other[1] < one[3] + apart
    )
