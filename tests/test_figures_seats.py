"""Drawings of seats and plates: well formed, no number of their own, words inside the sheet, main shapes to scale."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from drawings import drawn_by

from generator.figures import FIGURES, Figure, parts
from generator.job import Job, do_job
from generator.model.library import Library, load

SVG = "{http://www.w3.org/2000/svg}"
LIBRARY: Library = load(Path(__file__).parents[1] / "procedures")
CARDS = ("cast-seat", "released-seat", "backing-plate")
JOBS: dict[str, list[dict[str, str]]] = {
    "seat": [
        {"thread": "M8"},
        {"thread": "M6", "b_b": "200 mm", "t_0": "2 mm"},
        {"thread": "M12", "R_c": "60 mm"},
        {"thread": "M20", "R_c": "8 m", "b_b": "100 mm", "t_0": "10 mm"},
        {"thread": "1/4-20 UNC"},
        {"thread": "3/4-10 UNC", "r_f": "0 in"},
    ],
    "plate": [
        {"thread": "M8"},
        {"thread": "M6", "T": "20 mm", "t_m": "1 mm"},
        {"thread": "M12", "F_n": "10 kN", "plate": "glass-laminate"},
        {"thread": "M20", "T": "1 m", "t_m": "10 mm"},
        {"thread": "1/4-20 UNC", "T": "1 in"},
        {"thread": "3/4-10 UNC", "fastener": "316-cw-large"},
    ],
}
PAIRS = ("seat-bowed", "released-lift", "plate-rocks")


def drawings(name: str) -> list[str]:
    card = LIBRARY.cards[name]
    return sorted({card.figure, *(step.drawing for step in card.steps if step.drawing)})


@cache
def job(name: str, place: int) -> Job:
    return do_job(LIBRARY, LIBRARY.cards[name], JOBS["plate" if name == "backing-plate" else "seat"][place])


CASES = [(name, place, drawing) for name in CARDS for place in range(6) for drawing in drawings(name)]


def draw(name: str, place: int, drawing: str, said: set[str] | None = None) -> Figure:
    one = job(name, place)

    def say(symbol: str) -> str:
        text = one.shop(symbol)
        if said is not None:
            said.add(text)
        return text

    return drawn_by(drawing, one.working.values, say, one.texts, f"t-{drawing}")


def test_every_drawing_of_these_cards_is_used() -> None:
    used = {drawing for name in CARDS for drawing in drawings(name)}
    own = {name for name in FIGURES if name.startswith(("seat-", "released-", "plate-", "cast-seat", "backing-plate"))}
    assert own == used


@pytest.mark.parametrize("name", CARDS)
def test_a_card_has_enough_drawings(name: str) -> None:
    card = LIBRARY.cards[name]
    assert sum(step.drawing is not None for step in card.steps) >= 4
    assert set(drawings(name)) & set(PAIRS)


@pytest.mark.parametrize(("name", "place", "drawing"), CASES)
def test_well_formed_and_only_numbers_that_were_said(name: str, place: int, drawing: str) -> None:
    said: set[str] = set()
    figure = draw(name, place, drawing, said)
    root = ET.fromstring(figure.svg)
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == figure.title
    assert root.findtext(f"{SVG}desc") == figure.description
    assert figure.caption.startswith("Notice")
    written = [figure.title, figure.description, figure.caption, *(words(text) for text in root.iter(f"{SVG}text"))]
    for text in written:
        for one in sorted(said, key=len, reverse=True):
            text = text.replace(one, "")
        assert not re.search(r"\d", re.sub(r"\b[a-zA-Z]\w*\d\b", "", re.sub(r"^t0", "", text))), text


def words(text: ET.Element) -> str:
    return "".join(text.itertext()).replace("\N{NO-BREAK SPACE}", " ", 1).lstrip()


@pytest.mark.parametrize(("name", "place", "drawing"), CASES)
def test_words_stay_on_the_sheet(name: str, place: int, drawing: str) -> None:
    root = ET.fromstring(draw(name, place, drawing).svg)
    _, _, width, height = (float(one) for one in root.get("viewBox", "").split())
    for text in root.iter(f"{SVG}text"):
        wide = parts.text_width("".join(text.itertext()))
        left = float(text.get("x", "")) - {"start": 0.0, "middle": wide / 2, "end": wide}[text.get("text_anchor") or text.get("text-anchor", "")]  # fmt: skip
        assert left >= -0.01, "".join(text.itertext())
        assert left + wide <= width + 0.01, "".join(text.itertext())
        assert parts.TEXT * parts.ASCENT - 0.01 <= float(text.get("y", "")) <= height + 0.01


@pytest.mark.parametrize(("name", "place", "drawing"), CASES)
def test_shapes_stay_on_the_sheet(name: str, place: int, drawing: str) -> None:
    root = ET.fromstring(draw(name, place, drawing).svg)
    _, _, width, height = (float(one) for one in root.get("viewBox", "").split())
    for x, y in points(root):
        assert -0.01 <= x <= width + 0.01
        assert -0.01 <= y <= height + 0.01


def points(group: ET.Element) -> Iterator[tuple[float, float]]:
    """All corners of all shapes, but not of the patterns, nor the sizes of an arc."""
    for one in group:
        if one.tag == f"{SVG}defs":
            continue
        data = one.get("d", "")
        if one.tag == f"{SVG}path" and "A" not in data:
            yield from ((float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", data))
        yield from points(one)


def extent(root: ET.Element, name: str) -> tuple[float, float]:
    """Width and height of the first part of that name."""
    found = next(group for group in root.iter(f"{SVG}g") if group.get("data-part") == name)
    xs, ys = zip(*points(found), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize("place", range(6))
def test_a_cast_seat_is_to_scale(place: int) -> None:
    values = job("cast-seat", place).working.values
    root = ET.fromstring(draw("cast-seat", place, "cast-seat-section").svg)
    base, bed = extent(root, "fitting"), extent(root, "cast seat")
    assert bed[0] == pytest.approx(base[0], abs=0.02)
    assert bed[1] / bed[0] == pytest.approx(values["t_e"] / values["b_b"], abs=0.02 / bed[0])
    assert extent(root, "hole")[0] / bed[0] == pytest.approx(values["D_k"] / values["b_b"], abs=0.02 / bed[0])


@pytest.mark.parametrize("place", range(6))
def test_pads_are_to_scale(place: int) -> None:
    values = job("cast-seat", place).working.values
    root = ET.fromstring(draw("cast-seat", place, "seat-pads").svg)
    wide, pads = extent(root, "fitting")[0], [g for g in root.iter(f"{SVG}g") if g.get("data-part") == "pad"]
    assert len(pads) == 3
    middles = sorted(sum(x for x, _ in set(points(pad))) / len(set(points(pad))) for pad in pads)
    assert (middles[2] - middles[0]) / 2 / wide == pytest.approx(values["y_rs"] / values["b_b"], abs=0.02)


@pytest.mark.parametrize("place", range(6))
def test_the_ridge_holds_what_the_working_says(place: int) -> None:
    """The area of the heap in section, over the length of the base, is the paste to heap on."""
    values = job("cast-seat", place).working.values
    root = ET.fromstring(draw("cast-seat", place, "seat-ridge").svg)
    scale = extent(root, "fitting")[0] / values["b_b"]
    heap = next(group for group in root.iter(f"{SVG}g") if group.get("data-part") == "paste")
    path = list(points(heap))
    ring = path[: len(path) // 2]
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))) / 2 / scale**2
    assert area * values["a_b"] == pytest.approx(values["V_rs"], rel=0.01)


@pytest.mark.parametrize("place", range(6))
def test_a_plate_is_to_scale(place: int) -> None:
    values = job("backing-plate", place).working.values
    root = ET.fromstring(draw("backing-plate", place, "plate-size").svg)
    wide, thick = extent(root, "plate")
    slack = 0.03 / wide
    assert thick / wide == pytest.approx(values["h_rsp"] / values["b_rs"], abs=slack)
    assert extent(root, "washer")[0] / wide == pytest.approx(values["D_p"] / values["b_rs"], abs=slack)


@pytest.mark.parametrize("place", range(6))
def test_a_seat_behind_a_plate_has_its_mean_thickness(place: int) -> None:
    """The uneven wood's gap over the whole plate."""
    from generator.figures.plate_steps import read_backing

    plate = read_backing(job("backing-plate", place).working.values)
    gaps = [plate.gap(plate.b * ((step + 0.5) / 1000 - 0.5)) for step in range(1000)]
    assert sum(gaps) / len(gaps) == pytest.approx(plate.t, rel=1e-6)
    assert min(gaps) > 0


def test_same_values_same_bytes() -> None:
    for name, place, drawing in CASES:
        assert draw(name, place, drawing) == draw(name, place, drawing)
