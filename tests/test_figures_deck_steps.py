"""Drawings of bedded fittings: well formed, to scale, no number that was not said, no word off the paper."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path

import pytest
from drawings import drawn_by

from generator.figures import FIGURES, Figure, deck_steps, parts
from generator.job import Job, do_job
from generator.model.library import load

SVG = "{http://www.w3.org/2000/svg}"
LIBRARY = load(Path(__file__).parents[1] / "procedures")
CORED = ["core-overdrill", "core-fill", "core-wet"]
BOTH = ["bed-bead", "bed-nut", "bed-dry"]
DRAWN = {
    "bedded-cored": [*CORED, "bedded-cored-section", *BOTH],
    "bedded-solid": ["bed-countersink", "bed-press", "bedded-solid-section", *BOTH],
}
THREADS = ["M6", "M8", "M12", "M20", "1/4-20 UNC", "5/16-18 UNC", "3/4-10 UNC"]
# No shop has a twist drill for the plugs of these.
TOO_WIDE_FOR_A_TWIST_DRILL = ("M20", "3/4-10 UNC")
JOBS = {
    "bedded-cored": [{"n_h": "4"}, {"n_h": "1", "c_sk": "30 mm"}, {"c_sk": "8 mm", "large_drill": "twist"}],
    "bedded-solid": [{"n_h": "2", "T_sk": "12 mm"}, {"T_sk": "200 mm", "q_sk": "10 mm"}, {"n_h": "6", "a_b": "300 mm"}],
}


@cache
def job(card: str, thread: str, place: int) -> Job:
    inputs = {"thread": thread, **JOBS[card][place]}
    if thread in TOO_WIDE_FOR_A_TWIST_DRILL:
        inputs.pop("large_drill", None)
    return do_job(LIBRARY, LIBRARY.cards[card], inputs)


def draw(name: str, worked: Job) -> Figure:
    return drawn_by(name, worked.working.values, worked.shop, worked.texts, f"fig-{name}")


def every() -> list[tuple[str, str, str, int]]:
    cases = itertools.product(DRAWN, THREADS, range(3))
    return [(card, name, thread, place) for card, thread, place in cases for name in DRAWN[card]]


def root_of(figure: Figure) -> ET.Element:
    return ET.fromstring(figure.svg)


def lettering(text: ET.Element) -> str:
    return "".join(text.itertext())


def extent(root: ET.Element, name: str) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all shapes of that name."""
    paths = [path.get("d", "") for group in root.iter(f"{SVG}g") if group.get("data-part") == name for path in group]
    numbers = [float(text) for data in paths for text in re.findall(r"-?\d+\.\d+", data)]
    assert numbers, name
    xs, ys = numbers[::2], numbers[1::2]
    return min(xs), min(ys), max(xs), max(ys)


def test_every_drawing_is_registered_and_drawn_here() -> None:
    assert {name for names in DRAWN.values() for name in names} == {
        name for name, one in FIGURES.items() if one.place.__module__ == deck_steps.__name__
    }
    assert True


@pytest.mark.parametrize(("card", "name", "thread", "place"), every())
def test_well_formed_said_and_on_the_paper(card: str, name: str, thread: str, place: int) -> None:
    worked = job(card, thread, place)
    figure = draw(name, worked)
    root = root_of(figure)
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == figure.title
    assert root.findtext(f"{SVG}desc") == figure.description
    _, _, width, height = (float(text) for text in root.get("viewBox", "").split())
    assert height <= 95
    said = {worked.shop(symbol) for symbol in worked.working.values}
    for text in root.iter(f"{SVG}text"):
        words = lettering(text)
        if re.search(r"\d", words):
            assert any(words.endswith(value) for value in said), words
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor", "start")]
        left = x - share * parts.text_width(words)
        assert left >= -0.01, words
        assert left + parts.text_width(words) <= width + 0.01, words
        assert parts.TEXT * parts.ASCENT - 0.01 <= y <= height, words
    for data in re.findall(r' d="([^"]+)"', figure.svg.partition("</defs>")[2]):
        numbers = [float(text) for text in re.findall(r"-?\d+\.\d+", data)]
        assert all(-0.01 <= x <= width + 0.01 for x in numbers[::2]) or "A" in data, data
        assert all(-0.01 <= y <= height + 0.01 for y in numbers[1::2]) or "A" in data, data


@pytest.mark.parametrize(("card", "name", "thread", "place"), every())
def test_no_number_in_the_words_is_typed(card: str, name: str, thread: str, place: int) -> None:
    worked = job(card, thread, place)
    figure = drawn_by(name, worked.working.values, lambda symbol: "<value>", worked.texts, "fig")
    assert not re.search(r"\d", figure.title + figure.description + figure.caption)
    assert "—" not in figure.description + figure.caption
    for text in root_of(figure).iter(f"{SVG}text"):
        assert not re.search(r"\d", lettering(text))


@pytest.mark.parametrize("thread", THREADS)
def test_the_plug_is_true_to_scale(thread: str) -> None:
    worked = job("bedded-cored", thread, 0)
    values = worked.working.values
    root = root_of(draw("bedded-cored-section", worked))
    left, top, right, bottom = extent(root, "plug")
    scale = (right - left) / values["D_c"]
    assert bottom - top == pytest.approx(values["h_c"] * scale, abs=0.03)
    shank = extent(root, "shank")
    assert shank[2] - shank[0] == pytest.approx(values["d"] * scale, abs=0.03)
    for name, symbol in (("outer skin", "o_sk"), ("core", "c_sk"), ("inner skin", "i_sk")):
        layer = extent(root, name)
        assert layer[3] - layer[1] == pytest.approx(values[symbol] * scale, abs=0.03)


@pytest.mark.parametrize("thread", THREADS)
def test_the_plug_drill_stops_at_the_inner_skin_and_its_flag_at_the_deck(thread: str) -> None:
    for place in (0, 1):
        root = root_of(draw("core-overdrill", job("bedded-cored", thread, place)))
        deck, core, tape = (extent(root, name) for name in ("outer skin", "core", "tape"))
        assert tape[3] == pytest.approx(deck[1], abs=0.02)
        values = job("bedded-cored", thread, place).working.values
        bit = extent(root, "flat bit")
        scale = (bit[2] - bit[0]) / values["D_c"]
        assert bit[3] - core[3] == pytest.approx(values["e_o"] * scale, abs=0.05)
    if thread in TOO_WIDE_FOR_A_TWIST_DRILL:
        return
    root = root_of(draw("core-overdrill", job("bedded-cored", thread, 2)))
    assert extent(root, "twist drill")[3] == pytest.approx(extent(root, "core")[3], abs=0.02)


@pytest.mark.parametrize("thread", THREADS)
def test_bed_and_bolt_are_true_to_scale(thread: str) -> None:
    worked = job("bedded-solid", thread, 0)
    values = worked.working.values
    root = root_of(draw("bedded-solid-section", worked))
    shank, fitting, deck, washer = (extent(root, name) for name in ("shank", "fitting", "deck", "washer"))
    scale = (shank[2] - shank[0]) / values["d"]
    assert deck[1] - fitting[3] == pytest.approx(values["h_b"] * scale, abs=0.03)
    assert deck[3] - deck[1] == pytest.approx(min(values["T_sk"], 5 * values["d"]) * scale, abs=0.03)
    assert washer[2] - washer[0] == pytest.approx(values["D_p"] * scale, abs=0.03)


def test_a_deep_deck_is_drawn_broken_and_a_shallow_one_whole() -> None:
    names = [
        {
            group.get("data-part")
            for group in root_of(draw("bedded-solid-section", job("bedded-solid", "M8", place))).iter(f"{SVG}g")
        }
        for place in (0, 1)
    ]
    assert "piece left out" not in names[0]
    assert "piece left out" in names[1]


@pytest.mark.parametrize("thread", THREADS)
def test_beads_keep_clear_of_the_rings_and_of_the_edge(thread: str) -> None:
    for card, place in (("bedded-cored", 0), ("bedded-cored", 1), ("bedded-solid", 0), ("bedded-solid", 2)):
        root = root_of(draw("bed-bead", job(card, thread, place)))
        groups = {
            name: [group for group in root.iter(f"{SVG}g") if group.get("data-part") == name]
            for name in ("bead", "ring")
        }
        boxes = {name: [extent_of(group) for group in found] for name, found in groups.items()}
        base = extent(root, "base from below")
        assert len(boxes["ring"]) == round(job(card, thread, place).working.values["n_h"])
        for box in boxes["bead"] + boxes["ring"]:
            assert base[0] <= box[0]
            assert box[2] <= base[2]
            assert base[1] <= box[1]
            assert box[3] <= base[3]
        for one, other in itertools.combinations(boxes["bead"] + boxes["ring"], 2):
            apart = max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])
            assert apart > -0.02, (thread, card, place)


def extent_of(group: ET.Element) -> tuple[float, float, float, float]:
    numbers = [float(text) for path in group for text in re.findall(r"-?\d+\.\d+", path.get("d", ""))]
    return min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2])
