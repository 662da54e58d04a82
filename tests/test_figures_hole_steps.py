"""Step drawings of holes, worn holes and trial joints: well formed, to scale, legible, only numbers that were said."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from functools import cache

import pytest
from drawings import drawn_by

from conftest import HOUSE
from generator.errors import NoStock
from generator.figures import FIGURES, Figure, parts
from generator.figures.broken import BrokenScene, kept, wave
from generator.job import Job, do_job
from generator.model.library import load

SVG = "{http://www.w3.org/2000/svg}"
LIBRARY = load(HOUSE / "procedures")
CARDS = ("bonded-stepped-hole", "blind-stud", "worn-hole", "trial-joint")
SIZES = {
    "as it stands": {},
    "inch shop": {"shop": "inch"},
    "M6": {"thread": "M6"},
    "M12": {"thread": "M12"},
    "M20": {"thread": "M20"},
    "1/4": {"thread": "1/4-20 UNC"},
    "3/4": {"thread": "3/4-10 UNC", "fastener": "a4-70"},
}
DEPTHS = {"short": ("60 mm", "30 mm"), "usual": ("90 mm", "50 mm"), "deep": ("200 mm", "180 mm")}
DRILLS: tuple[dict[str, str], ...] = ({}, {"large_drill": "twist", "guide_drill": "flat"})


def drawings_of(card: str) -> list[str]:
    sheet = LIBRARY.cards[card]
    named = [sheet.figure, *(step.drawing for step in sheet.steps if step.drawing)]
    return [name for name in dict.fromkeys(named) if name != "stepped-hole-section"]


def jobs_of(card: str) -> list[Job]:
    deep = 1 if card == "worn-hole" else 0
    sheet = LIBRARY.cards[card]
    name = "T_wo" if card == "worn-hole" else "T"
    found = []
    for size in SIZES.values():
        for depth in DEPTHS.values():
            for drills in DRILLS:
                inputs = {**size, name: depth[deep], **(drills if depth == DEPTHS["usual"] else {})}
                if card == "trial-joint":
                    inputs |= {"a_tr": "150 mm", "T": {"60 mm": "150 mm"}.get(depth[0], depth[0])}
                    if size.get("thread") in ("M20", "3/4-10 UNC"):
                        inputs["T"] = "200 mm"
                    if "twist" in drills.values():
                        inputs["hole"] = "blind"
                try:
                    found.append(
                        do_job(
                            LIBRARY,
                            sheet,
                            {key: text for key, text in inputs.items() if key == "shop" or key in sheet.givens},
                        )
                    )
                except NoStock:
                    continue
    return found


@cache
def drawn() -> list[tuple[str, Job, Figure]]:
    """Every drawing of every card over sizes, depths and drills."""
    found = []
    for card in CARDS:
        jobs = jobs_of(card)
        assert len(jobs) >= 20, card
        for job in jobs:
            for name in drawings_of(card):
                found.append((name, job, drawn_by(name, job.working.values, job.shop, job.texts, "fig")))
    return found


def test_all_drawings_of_the_three_modules_are_used_by_a_card() -> None:
    used = {name for card in CARDS for name in drawings_of(card)}
    own = {name for name in FIGURES if name.split("-")[0] in ("hole", "blind", "worn", "trial")}
    assert own <= used | {"blind-fill"}
    assert len(own) >= 19


def test_every_card_has_right_and_wrong_and_at_least_four_drawings() -> None:
    for card in CARDS:
        names = drawings_of(card)
        job = do_job(LIBRARY, LIBRARY.cards[card], {})
        wrong = [
            name
            for name in names
            if 'data-part="wrong"' in drawn_by(name, job.working.values, job.shop, job.texts, "x").svg
        ]
        assert len(names) >= 4, card
        assert wrong, card


def test_svg_is_named_for_a_screen_reader() -> None:
    for name, _, figure in drawn():
        root = ET.fromstring(figure.svg)
        assert "\n" not in figure.svg, name
        assert root.get("role") == "img"
        title, desc = root[0], root[1]
        assert (title.tag, desc.tag) == (f"{SVG}title", f"{SVG}desc")
        assert title.text == figure.title
        assert desc.text == figure.description
        assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
        assert figure.caption.startswith("Notice")


def lettering(root: ET.Element) -> list[tuple[float, float, str, str]]:
    return [
        (float(text.get("x", "")), float(text.get("y", "")), text.get("text-anchor", ""), "".join(text.itertext()))
        for text in root.iter(f"{SVG}text")
    ]


def test_no_number_but_what_was_said() -> None:
    for name, job, figure in drawn():
        said = " ".join(job.shop(symbol) for symbol in job.working.values)
        known = set(re.findall(r"\d+(?:[./]\d+)?", said))
        for text in (
            figure.title,
            figure.description,
            figure.caption,
            *(one[3] for one in lettering(ET.fromstring(figure.svg))),
        ):
            found = set(re.findall(r"\d+(?:[./]\d+)?", text))
            assert found <= known, (name, text, found - known)


def test_all_lettering_is_inside_the_paper() -> None:
    for name, _, figure in drawn():
        root = ET.fromstring(figure.svg)
        _, _, width, height = (float(value) for value in root.get("viewBox", "").split())
        assert height <= 110, (name, height)
        for x, y, anchor, text in lettering(root):
            taken = parts.text_width(text)
            left = {"start": x, "end": x - taken, "middle": x - taken / 2}[anchor]
            assert -0.3 <= left <= width + 0.3 - taken, (name, text)
            assert parts.ASCENT * parts.TEXT - 0.3 <= y <= height, (name, text)


def test_no_two_words_meet() -> None:
    for name, _, figure in drawn():
        boxes = []
        for x, y, anchor, text in lettering(ET.fromstring(figure.svg)):
            taken = parts.text_width(text)
            left = {"start": x, "end": x - taken, "middle": x - taken / 2}[anchor]
            boxes.append((left, y - parts.ASCENT * parts.TEXT, left + taken, y, text))
        for place, one in enumerate(boxes):
            for other in boxes[place + 1 :]:
                apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
                assert apart, (name, one, other)


def points_of(root: ET.Element) -> list[tuple[float, float]]:
    return [
        (float(x), float(y))
        for path in root.iter(f"{SVG}path")
        if path.get("d") and "rotate" not in str(path.attrib)
        for x, y in re.findall(r"(?:[ML])(-?[\d.]+) (-?[\d.]+)", path.get("d", ""))
    ]


def test_all_shapes_are_inside_the_paper() -> None:
    for name, _, figure in drawn():
        root = ET.fromstring(figure.svg)
        _, _, width, height = (float(value) for value in root.get("viewBox", "").split())
        for group in root.iter(f"{SVG}g"):
            for x, y in points_of(group):
                assert -1.5 <= x <= width + 1.5, (name, group.get("data-part"), x)
                assert -1.5 <= y <= height + 1.5, (name, group.get("data-part"), y)


def test_at_most_five_labels_of_at_most_four_words() -> None:
    for name, _, figure in drawn():
        root = ET.fromstring(figure.svg)
        labels = [group for group in root.iter(f"{SVG}g") if group.get("data-part", "").startswith("label ")]
        assert 0 < len(labels) <= 5, (name, len(labels))
        for label in labels:
            assert len([*label.iter(f"{SVG}text")]) <= 2, name


def extent(root: ET.Element, part: str) -> tuple[float, float]:
    """Width and height of the first part of that name, on the paper."""
    group = next(group for group in root.iter(f"{SVG}g") if group.get("data-part") == part)
    xs, ys = zip(*points_of(group), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def proportion(root: ET.Element, part: str) -> float:
    width, height = extent(root, part)
    return width / height


def whole(root: ET.Element) -> bool:
    return not any(group.get("data-part") == "break" for group in root.iter(f"{SVG}g"))


def test_one_true_scale_both_ways() -> None:
    """Where nothing is left out, a shape's length over its width is that of the working."""
    compared = set()
    for name, job, figure in drawn():
        root, values = ET.fromstring(figure.svg), job.working.values
        if not whole(root):
            continue
        if name == "hole-large-drill":
            assert proportion(root, "hole") == pytest.approx(values["L_o"] / values["D_o"], rel=0.02)
        elif name == "hole-wet-out":
            tip = values["h_g"] if job.texts["hole"] == "blind" and job.texts["guide_drill"] == "twist" else 0.0
            assert proportion(root, "hole") == pytest.approx((values["T"] + tip) / values["D_o"], rel=0.02)
        elif name == "worn-bored":
            assert proportion(root, "bore") == pytest.approx(values["T_wo"] / values["K_wo"], rel=0.02)
        elif name == "worn-redrilled":
            assert extent(root, "epoxy")[1] / extent(root, "twist drill")[1] == pytest.approx(
                values["K_wo"] / values["D_k"], rel=0.02
            )
        elif name == "trial-section" and job.texts["hole"] == "through":
            assert proportion(root, "wood") == pytest.approx(values["w_tr"] / values["T"], rel=0.02)
        elif name == "trial-cut":
            assert extent(root, "epoxy")[0] / extent(root, "rod")[0] == pytest.approx(
                values["D_o"] / values["d"], rel=0.03
            )
        else:
            continue
        compared.add(name)
    assert compared == {
        "hole-large-drill", "hole-wet-out", "worn-bored", "worn-redrilled", "trial-section", "trial-cut"
    }  # fmt: skip


def test_the_hole_can_be_seen_at_every_size() -> None:
    """However deep it is, a hole is drawn wide enough to see: what is too long is broken, not shrunk."""
    for name, _, figure in drawn():
        root = ET.fromstring(figure.svg)
        for part, across in (("hole", 1), ("epoxy", 1), ("bore", 1)):
            if name in ("trial-pull", "trial-section", "trial-block", "trial-judge", "trial-cut"):
                continue
            groups = [group for group in root.iter(f"{SVG}g") if group.get("data-part") == part]
            if groups:
                assert extent(root, part)[across] + 0.1 >= 2.5, (name, part, extent(root, part))


def test_several_drawings_on_a_page_share_no_id() -> None:
    job = do_job(LIBRARY, LIBRARY.cards["blind-stud"], {})
    one, other = (drawn_by("hole-fill", job.working.values, job.shop, job.texts, prefix).svg for prefix in ("a", "b"))
    ids = [set(re.findall(r' id="([^"]+)"', svg)) for svg in (one, other)]
    assert ids[0]
    assert not ids[0] & ids[1]


# A strip left out


def test_a_line_across_the_strip_is_cut_and_shapes_close_up() -> None:
    scene = BrokenScene(0.0, 10.0, -1.0, 1.0, cut=(2.0, 8.0), gap=1.0)
    assert scene.right == pytest.approx(5.0)
    scene.line([(0.0, 0.0), (10.0, 0.0)])
    assert [[round(x, 6) for x, _ in points] for _, points, _ in scene.extras] == [[0.0, 2.0], [3.0, 5.0]]
    scene.box("wood", (1.0, 9.0), (-1.0, 1.0), "wood")
    assert {round(x, 6) for x, _ in scene.shapes[0][1]} == {1.0, 4.0}
    assert scene.shifted(5.0) == pytest.approx(2.5)


def test_an_upright_view_is_shortened_downwards() -> None:
    scene = BrokenScene(-1.0, 1.0, 0.0, 10.0, upright=True, cut=(2.0, 8.0), gap=1.0)
    assert (scene.right, scene.bottom) == pytest.approx((1.0, 5.0))


def test_without_a_cut_nothing_moves() -> None:
    scene = BrokenScene(-3.0, 10.0, -1.0, 1.0)
    assert scene.right == 10.0
    scene.cut_out(1.0)
    scene.line([(-1.0, 0.0), (10.0, 0.0)])
    assert not scene.shapes
    assert scene.extras[0][1] == [(-1.0, 0.0), (10.0, 0.0)]


def test_kept_pieces_end_at_the_edge() -> None:
    runs = list(kept([(0.0, 0.0), (2.0, 2.0), (0.0, 4.0)], lambda along: 1.0 - along))
    assert runs == [[(0.0, 0.0), (1.0, 1.0)], [(1.0, 3.0), (0.0, 4.0)]]


def test_a_wave_begins_and_ends_where_it_is_told() -> None:
    points = wave((0.0, 1.0), (4.0, 1.0), 0.2)
    assert points[0] == pytest.approx((0.0, 1.0))
    assert points[-1] == pytest.approx((4.0, 1.0))
    assert max(abs(y - 1.0) for _, y in points) == pytest.approx(0.2)
