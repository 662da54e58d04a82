"""Drawings of cast threads, bushes and bonded screws: well formed, in proportion, and no number that was not said."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from functools import cache

import pytest
from drawings import drawn_by

from conftest import HOUSE
from generator.figures import FIGURES, Figure, bonded_screw, bush, cast_thread, parts
from generator.job import Job, do_job
from generator.model.library import load

LIBRARY = load(HOUSE / "procedures")
SVG = "{http://www.w3.org/2000/svg}"
JOBS = {
    "cast-thread": [
        {},
        {"shop": "inch"},
        {"thread": "M6", "large_drill": "flat"},
        {"thread": "M12", "k_ct": "5"},
        {"thread": "M20", "large_drill": "flat", "c_ct": "5 mm"},
        {"thread": "1/4-20 UNC", "c_ct": "5 mm"},
        {"thread": "3/4-10 UNC"},
    ],
    "bonded-bush": [
        {},
        {"shop": "inch"},
        {"thread": "M5", "j_bu": "6"},
        {"thread": "M12", "j_bu": "1"},
        {"thread": "M20", "large_drill": "flat"},
        {"thread": "1/4-20 UNC"},
        {"thread": "3/4-10 UNC", "large_drill": "flat"},
    ],
    "bonded-screw": [
        {},
        {"shop": "inch"},
        {"thread": "M6", "L_sc": "150 mm"},
        {"thread": "M12", "l_sc": "0 mm", "wood": "white-oak", "pilot": "dense"},
        {"thread": "1/4-20 UNC", "L_sc": "1 in"},
        {"thread": "1/2-13 UNC", "L_sc": "5 in", "l_sc": "3 in"},
    ],
}
DRAWINGS = {
    "cast-thread": [name for name, one in FIGURES.items() if one.place.__module__ == cast_thread.__name__],
    "bonded-bush": [name for name, one in FIGURES.items() if one.place.__module__ == bush.__name__],
    "bonded-screw": [name for name, one in FIGURES.items() if one.place.__module__ == bonded_screw.__name__],
}
CASES = [(card, name, place) for card, jobs in JOBS.items() for name in DRAWINGS[card] for place in range(len(jobs))]


@cache
def job_of(card: str, place: int) -> Job:
    return do_job(LIBRARY, LIBRARY.cards[card], JOBS[card][place])


@cache
def drawn(card: str, name: str, place: int) -> Figure:
    job = job_of(card, place)
    return drawn_by(name, job.working.values, job.shop, job.texts, "fig")


def root_of(card: str, name: str, place: int = 0) -> ET.Element:
    return ET.fromstring(drawn(card, name, place).svg)


def points(data: str) -> list[tuple[float, float]]:
    """Of straight pieces; an arc's end is a point like any other."""
    found = []
    for letter, numbers in re.findall(r"([MLA])([^MLAZ]*)", data):
        values = [float(text) for text in numbers.split()]
        pairs = [values[-2:]] if letter == "A" else zip(values[::2], values[1::2], strict=True)
        found += [(x, y) for x, y in pairs]
    return found


def extent(group: ET.Element) -> tuple[float, float, float, float]:
    xs, ys = zip(*(point for path in group.iter(f"{SVG}path") for point in points(path.get("d", ""))), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def part(root: ET.Element, name: str) -> ET.Element:
    return next(group for group in root.iter(f"{SVG}g") if group.get("data-part") == name)


def size(root: ET.Element, name: str) -> tuple[float, float]:
    left, top, right, bottom = extent(part(root, name))
    return right - left, bottom - top


def visible(root: ET.Element) -> list[ET.Element]:
    patterns = {child for pattern in root.iter(f"{SVG}pattern") for child in pattern.iter()}
    return [path for path in root.iter(f"{SVG}path") if path not in patterns]


@pytest.mark.parametrize(("card", "name", "place"), CASES)
def test_well_formed_and_inside_the_paper(card: str, name: str, place: int) -> None:
    figure = drawn(card, name, place)
    root = ET.fromstring(figure.svg)
    assert "\n" not in figure.svg
    assert root.get("role") == "img"
    assert [root[0].text, root[1].text] == [figure.title, figure.description]
    assert figure.caption.endswith(".")
    _, _, width, height = (float(text) for text in root.get("viewBox", "").split())
    assert width == parts.WIDTH
    assert height <= 85
    for path in visible(root):
        for x, y in points(path.get("d", "")):
            assert -1 <= x <= width + 1, (x, y)
            assert -1 <= y <= height + 1, (x, y)
    for text in root.iter(f"{SVG}text"):
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        long = parts.text_width("".join(text.itertext()))
        left = {"start": x, "middle": x - long / 2, "end": x - long}[text.get("text-anchor", "")]
        assert left >= -0.1, "".join(text.itertext())
        assert left + long <= width + 0.1, "".join(text.itertext())
        assert parts.ASCENT * parts.TEXT <= y <= height, "".join(text.itertext())


@pytest.mark.parametrize(("card", "name", "place"), CASES)
def test_no_words_meet(card: str, name: str, place: int) -> None:
    boxes = []
    for text in root_of(card, name, place).iter(f"{SVG}text"):
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        long = parts.text_width("".join(text.itertext()))
        left = {"start": x, "middle": x - long / 2, "end": x - long}[text.get("text-anchor", "")]
        boxes.append((left, y - parts.ASCENT * parts.TEXT, left + long, y))
    for place_, one in enumerate(boxes):
        for other in boxes[place_ + 1 :]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] + 0.1 or other[3] <= one[1] + 0.1
            assert apart, (one, other)


@pytest.mark.parametrize(("card", "name"), [(card, name) for card, names in DRAWINGS.items() for name in names])
def test_every_number_is_said(card: str, name: str) -> None:
    asked: list[str] = []

    def say(symbol: str) -> str:
        asked.append(symbol)
        return "(said)"

    job = job_of(card, 0)
    figure = drawn_by(name, job.working.values, say, job.texts, "fig")
    lettering = ["".join(text.itertext()) for text in ET.fromstring(figure.svg).iter(f"{SVG}text")]
    assert not re.search(r"\d", "".join(lettering) + figure.title + figure.description + figure.caption)
    assert set(asked) <= set(job.working.values)
    labels = [group for group in ET.fromstring(figure.svg).iter(f"{SVG}g") if "label" in group.get("data-part", "")]
    assert 1 <= len(labels) <= 6


@pytest.mark.parametrize("place", range(len(JOBS["cast-thread"])))
def test_a_cast_thread_is_true_to_scale(place: int) -> None:
    values = job_of("cast-thread", place).working.values
    root = root_of("cast-thread", "thread-fill", place)
    (_, across), (deep, _) = size(root, "hole"), size(root, "hole")
    assert deep / across == pytest.approx((values["L_o"] + values["h_o"]) / values["D_o"], rel=0.02)
    filled = size(root, "epoxy")
    assert (deep - filled[0]) / across == pytest.approx(values["g_ct"] / values["D_o"], abs=0.02)
    root = root_of("cast-thread", "cast-thread-section", place)
    screw = extent(part(root, "fastener"))
    hole = extent(part(root, "hole"))
    scale = (hole[3] - hole[1]) / values["D_o"]
    assert (screw[3] - screw[1]) / scale == pytest.approx(values["d"], rel=0.02)
    assert (screw[2] - hole[0]) / scale == pytest.approx(values["L_o"] - values["c_ct"], rel=0.02)


@pytest.mark.parametrize("place", range(len(JOBS["bonded-bush"])))
def test_a_bush_is_true_to_scale(place: int) -> None:
    values = job_of("bonded-bush", place).working.values
    root = root_of("bonded-bush", "bush-section", place)
    hole = extent(part(root, "hole"))
    scale = (hole[3] - hole[1]) / values["B_bu"]
    halves = [extent(group) for group in root.iter(f"{SVG}g") if group.get("data-part") == "bush"]
    assert len(halves) == 2
    assert (max(box[3] for box in halves) - min(box[1] for box in halves)) / scale == pytest.approx(
        values["D_bu"], rel=0.02
    )
    assert (halves[0][2] - halves[0][0]) / scale == pytest.approx(values["L_bu"], rel=0.02)
    assert (halves[0][0] - hole[0]) / scale == pytest.approx(values["s_bu"], rel=0.1)


def test_the_rising_epoxy_is_what_was_put_in() -> None:
    """The bush half in: epoxy round it and under it make up the amount."""
    values = job_of("bonded-bush", 4).working.values
    root = root_of("bonded-bush", "bush-push", 4)
    hole, epoxy = extent(part(root, "hole")), extent(part(root, "epoxy"))
    bushes = [extent(group) for group in root.iter(f"{SVG}g") if group.get("data-part") == "bush"]
    scale = (hole[3] - hole[1]) / values["B_bu"]
    stands = (epoxy[2] - epoxy[0]) / scale
    inside = (bushes[0][2] - epoxy[0]) / scale
    amount = 0.7853982 * (values["B_bu"] ** 2 * stands - values["D_bu"] ** 2 * inside)
    assert amount == pytest.approx(values["E_bu"], rel=0.03)


def test_the_proud_bush_stands_as_far_out_as_the_right_one_stands_in() -> None:
    values = job_of("bonded-bush", 0).working.values
    root = root_of("bonded-bush", "bush-height")
    faces = [extent(group)[0] for group in root.iter(f"{SVG}g") if group.get("data-part") == "hole"]
    bushes = [extent(group) for group in root.iter(f"{SVG}g") if group.get("data-part") == "bush"]
    holes = [size(root, "hole")]
    scale = holes[0][1] / values["B_bu"]
    assert (bushes[0][0] - faces[0]) / scale == pytest.approx(values["s_bu"], rel=0.05)
    assert (faces[1] - bushes[2][0]) / scale == pytest.approx(values["s_bu"], rel=0.05)


@pytest.mark.parametrize("place", range(len(JOBS["bonded-screw"])))
def test_a_pilot_is_true_to_scale(place: int) -> None:
    values = job_of("bonded-screw", place).working.values
    root = root_of("bonded-screw", "screw-wet", place)
    deep, across = size(root, "hole")
    widest = max(values["S_sc"], values["D_sc"])
    assert deep / across == pytest.approx(values["T_sc"] / widest, rel=0.03)
    root = root_of("bonded-screw", "bonded-screw-section", place)
    screw, hole = extent(part(root, "screw")), extent(part(root, "hole"))
    scale = (hole[2] - hole[0]) / values["T_sc"]
    assert (screw[3] - screw[1]) / scale == pytest.approx(values["d_sc"], rel=0.05)
    # The tapered tip is a diameter long, and the pilot goes past it by the room under it.
    assert hole[2] - screw[2] == pytest.approx(values["c_sc"] * scale, abs=0.1)


def test_right_and_wrong_are_marked_by_more_than_colour() -> None:
    for card, name in (("cast-thread", "thread-torn"), ("bonded-bush", "bush-height"), ("bonded-screw", "screw-split")):
        root = root_of(card, name)
        assert part(root, "wrong") is not None
        assert part(root, "right") is not None
        assert "Left," in drawn(card, name, 0).description


def test_every_drawing_is_on_its_card() -> None:
    for card, drawings in DRAWINGS.items():
        sheet = LIBRARY.cards[card]
        named = {sheet.figure, *(step.drawing for step in sheet.steps if step.drawing)}
        assert named == set(drawings)


def test_several_drawings_share_no_id() -> None:
    job = job_of("bonded-bush", 0)
    figures = [drawn_by("bush-push", job.working.values, job.shop, job.texts, prefix) for prefix in ("one", "two")]
    ids = [item.get("id") for figure in figures for item in ET.fromstring(figure.svg).iter() if item.get("id")]
    assert len(ids) == len(set(ids))
