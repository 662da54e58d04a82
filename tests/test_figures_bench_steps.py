"""Drawings of the mixing bench and of heat: named, to scale, no number of their own, words inside the sheet."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

import pytest
from drawings import drawn_by

from conftest import HOUSE
from generator.figures import FIGURES, Figure, bench_steps, parts
from generator.job import Job, do_job
from generator.model.library import load

SVG = "{http://www.w3.org/2000/svg}"
LIBRARY = load(HOUSE / "procedures")
Box = tuple[float, float, float, float]

MIXES: list[dict[str, str]] = [
    {},
    {"shop": "inch"},
    {"m_b": "15 g", "V_s": "5 mL", "consistency": "runny"},
    {"m_b": "100 g", "V_s": "60 mL", "u_s": "50 %", "consistency": "sagging", "ratio": "5:1 by volume"},
    {"V_s": "10 mL", "u_s": "100 %", "consistency": "soft", "filler": "colloidal-silica", "T_a": "30 °C"},
]
REMOVALS: list[dict[str, str]] = [
    {"thread": thread, "metal": metal, "L_k": length}
    for thread, lengths in (
        ("M6", ("20 mm", "90 mm")),
        ("M12", ("10 mm", "150 mm")),
        ("M20", ("40 mm", "200 mm")),
        ("1/4-20 UNC", ("1/2 in", "3 in")),
        ("3/4-10 UNC", ("1 in", "6 in")),
    )
    for length in lengths
    for metal in ("stainless-316", "silicon-bronze", "aluminium-6061")
]
MIX = [name for name in FIGURES if name.startswith("mix-")]
HEAT = [name for name in FIGURES if name.startswith("heat-")]
JOBS: dict[str, list[Job]] = {
    "mixing": [do_job(LIBRARY, LIBRARY.cards["mixing"], inputs) for inputs in MIXES],
    "heat-removal": [do_job(LIBRARY, LIBRARY.cards["heat-removal"], inputs) for inputs in REMOVALS],
}
CASES = [(name, job) for name in MIX for job in JOBS["mixing"]] + [
    (name, job) for name in HEAT for job in JOBS["heat-removal"]
]
IDS = [f"{name}-{'-'.join(job.texts.get(key, '') for key in ('thread', 'L_k', 'm_b', 'V_s'))}" for name, job in CASES]


def draw(name: str, job: Job) -> tuple[Figure, ET.Element, set[str]]:
    """The figure, its tree, and what `say` was asked for."""
    said: set[str] = set()

    def say(symbol: str) -> str:
        said.add(job.shop(symbol))
        return job.shop(symbol)

    figure = drawn_by(name, job.working.values, say, job.texts, "fig")
    return figure, ET.fromstring(figure.svg), said


def named(root: ET.Element, name: str) -> list[ET.Element]:
    return [group for group in root.iter(f"{SVG}g") if group.get("data-part") == name]


def extent(group: ET.Element) -> Box:
    numbers = [float(text) for path in group.iter(f"{SVG}path") for text in re.findall(r"-?[\d.]+", path.get("d", ""))]
    return min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2])


def size(root: ET.Element, name: str, place: int = 0) -> tuple[float, float]:
    """Width and height of a shape on the paper."""
    left, top, right, bottom = extent(named(root, name)[place])
    return right - left, bottom - top


def words(root: ET.Element) -> Iterator[tuple[str, Box]]:
    for text in root.iter(f"{SVG}text"):
        letters = "".join(text.itertext())
        lowered = "".join(span.text or "" for span in text if span.get("dy") == str(parts.LOWERED))
        wide = parts.text_width(letters) - parts.text_width(lowered) * (1 - parts.SUBSCRIPT / parts.TEXT)
        x, y = float(text.get("x", "")), float(text.get("y", ""))
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.get("text-anchor", "")]
        yield letters, (left, y - parts.ASCENT * parts.TEXT, left + wide, y + parts.DESCENT * parts.TEXT)


@pytest.mark.parametrize(("name", "job"), CASES, ids=IDS)
def test_a_drawing_is_named_and_says_no_number_of_its_own(name: str, job: Job) -> None:
    figure, root, said = draw(name, job)
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    labelled = {element.get("id"): element.text for element in root.iter() if element.get("id")}
    assert [labelled[key] for key in root.get("aria-labelledby", "").split()] == [figure.title, figure.description]
    for text in (*(letters for letters, _ in words(root)), figure.title, figure.description, figure.caption):
        rest = text
        for value in sorted(said, key=len, reverse=True):
            rest = rest.replace(value, "")
        assert not re.search(r"\d", rest), text


@pytest.mark.parametrize(("name", "job"), CASES, ids=IDS)
def test_words_lie_on_the_sheet_and_apart(name: str, job: Job) -> None:
    _, root, _ = draw(name, job)
    _, _, width, height = (float(text) for text in root.get("viewBox", "").split())
    boxes = list(words(root))
    for letters, (left, top, right, bottom) in boxes:
        assert left >= -0.02, letters
        assert right <= width + 0.02, letters
        assert top >= -0.02, letters
        assert bottom <= height + 0.02, letters
    for place, (one, (l1, t1, r1, b1)) in enumerate(boxes):
        for other, (l2, t2, r2, b2) in boxes[place + 1 :]:
            assert r1 <= l2 or r2 <= l1 or b1 <= t2 + 0.5 or b2 <= t1 + 0.5, (one, other)


@pytest.mark.parametrize(("name", "job"), CASES, ids=IDS)
def test_shapes_lie_on_the_sheet(name: str, job: Job) -> None:
    _, root, _ = draw(name, job)
    _, _, width, height = (float(text) for text in root.get("viewBox", "").split())
    drawn = [group for group in root.iter(f"{SVG}g") if group.find(f"{SVG}path") is not None]
    for group in drawn:
        if group.get("data-part") == "turning arrow":  # its arc is written by radius and flags, not by points
            continue
        left, top, right, bottom = extent(group)
        assert min(left, top) >= -0.6, group.get("data-part")
        assert right <= width + 0.6, group.get("data-part")
        assert bottom <= height + 0.6, group.get("data-part")


@pytest.mark.parametrize("job", JOBS["mixing"])
def test_cups_hold_what_is_weighed(job: Job) -> None:
    _, root, _ = draw("mix-weigh", job)
    values = job.working.values
    (wide, resin), (_, hardener) = size(root, "resin"), size(root, "hardener")
    assert hardener / resin == pytest.approx(values["v_h"] / values["v_r"], abs=0.02)
    volume = math.pi / 4 * wide**2 * resin
    scale = wide / bench_steps.cup_width(values["v_r"] + values["v_h"])
    assert volume / scale**3 == pytest.approx(values["v_r"], rel=0.01)


@pytest.mark.parametrize("job", JOBS["mixing"])
def test_tray_and_cup_hold_the_same(job: Job) -> None:
    """A square tray and a round cup; and the layer is thinner than may be poured."""
    _, root, _ = draw("mix-tray", job)
    (long, deep), (wide, high) = size(root, "mix", 0), size(root, "mix", 1)
    assert long**2 * deep == pytest.approx(math.pi / 4 * wide**2 * high, rel=0.03)
    values = job.working.values
    scale = ((math.pi / 4 * wide**2 * high) / (values["v_r"] + values["v_h"])) ** (1 / 3)
    assert deep / scale < values["h_p"]


@pytest.mark.parametrize("job", JOBS["mixing"])
def test_what_stays_in_the_syringe_is_to_scale(job: Job) -> None:
    _, root, _ = draw("mix-section", job)
    kept = 1 - job.working.values["u_s"]
    if kept == 0:
        assert not named(root, "stays behind")
        return
    length = size(root, "span")[0]
    assert size(root, "stays behind")[0] / length == pytest.approx(kept, abs=0.01)


def test_the_blobs_stand_in_the_order_of_the_data_and_the_chosen_one_is_marked() -> None:
    assert list(bench_steps.SHAPES) == list(LIBRARY.tables["consistencies"])
    for job in JOBS["mixing"]:
        _, root, _ = draw("mix-stiffness", job)
        left, _, right, _ = extent(named(root, "chosen")[0])
        place = list(bench_steps.SHAPES).index(job.texts["consistency"])
        assert int((left + right) / 2 // (parts.WIDTH / 4)) == place
        hangs = [extent(named(root, name)[0])[3] for name in bench_steps.SHAPES]
        assert hangs == sorted(hangs, reverse=True)


@pytest.mark.parametrize("job", JOBS["heat-removal"])
def test_the_reach_of_the_heat_is_to_scale(job: Job) -> None:
    _, root, _ = draw("heat-reach", job)
    values = job.working.values
    (long, high), (soft, _) = size(root, "hard"), size(root, "softened")
    assert high / long == pytest.approx(values["D_o"] / values["L_k"], rel=0.02)
    wanted = values["L_k"] if values["L_k"] <= values["L_end"] else values["L_x"]
    assert soft / long == pytest.approx(wanted / values["L_k"], abs=0.01)
    letters = [text for text, _ in words(root)]
    free = [values["L_k"] <= values["L_end"], values["L_k"] <= values["L_both"]]
    assert letters.count("comes free") == sum(free)
    assert letters.count("still hard") == 2 - sum(free)


@pytest.mark.parametrize("job", JOBS["heat-removal"])
def test_a_bolt_stands_in_its_hole_at_one_scale(job: Job) -> None:
    _, root, _ = draw("heat-protect", job)
    values = job.working.values
    assert size(root, "fastener")[0] / size(root, "hard")[0] == pytest.approx(values["d"] / values["D_o"], abs=0.01)
    if named(root, "hard") and values["L_k"] < 3 * values["D_o"]:
        wide, deep = size(root, "hard")
        assert deep / wide == pytest.approx(values["L_k"] / values["D_o"], rel=0.02)


@pytest.mark.parametrize("job", JOBS["heat-removal"])
def test_what_is_dug_out_is_what_has_softened(job: Job) -> None:
    _, root, _ = draw("heat-stages", job)
    values = job.working.values
    wide, deep = size(root, "dug out")
    assert deep / wide == pytest.approx(min(values["L_x"], values["L_k"]) / values["D_o"], rel=0.03)
