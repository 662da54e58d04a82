"""What holds of every drawing, over both shops and all sizes: laws, each stated once."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from drawings import (
    CARDS_OF,
    LIBRARY,
    SVG,
    Drawn,
    all_drawn,
    drawings_of,
    drawn,
    drawn_by,
    overlap,
    points,
    reckonings_of,
    shop_texts,
)

from conftest import all_hold
from generator.figures import FIGURES, figure, parts
from generator.reckoning import reckon
from generator.units import mixed

CSS = Path(__file__).parent.parent / "docs" / "assets" / "figures.css"
# Coordinates have two decimals: a hundredth is no fault.
SLACK = 0.02


# Each holds of one drawing for every job of the cards that show it.
Law = Callable[[list[Drawn]], None]
LAWS: list[Law] = []


def law(holds: Law) -> Law:
    """One of the laws that every drawing is held to."""
    LAWS.append(holds)
    return holds


def faults(found: list[str]) -> None:
    """Fail with what was found."""
    assert not found, f"{len(found)} faults, such as\n" + "\n".join(found[:12])


@law
def it_is_one_picture_with_a_name_and_a_description(every: list[Drawn]) -> None:
    for one in every:
        root = one.root
        assert "\n" not in one.figure.svg
        assert (root.tag, root.get("role"), root[0].tag) == (f"{SVG}svg", "img", f"{SVG}title")
        named = {element.get("id"): element.text for element in root.iter() if element.get("id")}
        told = [named[name] for name in root.get("aria-labelledby", "").split()]
        assert told == [one.figure.title, one.figure.description]
        assert len(one.figure.description) > 40


@law
def its_ids_are_its_own(every: list[Drawn]) -> None:
    """Several drawings stand on a page: every id begins with the drawing's, and nothing refers to another's."""
    for one in every:
        ids = re.findall(r' id="([^"]+)"', one.figure.svg)
        assert len(ids) == len(set(ids)) > 2
        assert all(name.startswith("fig-") for name in ids)
        assert set(re.findall(r"url\(#([^)]+)\)", one.figure.svg)) <= set(ids)


@law
def its_words_lie_on_the_paper_and_apart(every: list[Drawn]) -> None:
    found = []
    for one in every:
        for words, (left, top, right, bottom) in one.words:
            if min(left, top) < -SLACK or right > one.width + SLACK or bottom > one.height + SLACK:
                found.append(f"'{words}' is off the paper: {one.reckoning.texts}")
        for (words, box), (other, beside) in itertools.combinations(one.words, 2):
            if overlap(box, beside, -SLACK):
                found.append(f"'{words}' meets '{other}': {one.reckoning.texts}")
    faults(found)


@law
def its_shapes_lie_on_the_paper(every: list[Drawn]) -> None:
    found = []
    for one in every:
        assert one.width == parts.WIDTH
        assert one.height <= 95
        for group in one.root.iter(f"{SVG}g"):
            for x, y in points(group):
                if not (-SLACK <= x <= one.width + SLACK and -SLACK <= y <= one.height + SLACK):
                    found.append(
                        f"{group.get('data-part')} at {x}, {y} of {one.width}, {one.height}: {one.reckoning.texts}"
                    )
    faults(found)


@law
def its_words_are_readable_at_print_size(every: list[Drawn]) -> None:
    """At its nominal width of 120 mm: words at 9 pt, indices at 7; on a phone 358 pixels wide 12 pixels."""
    for one in every:
        size = float(one.root.get("font-size", ""))
        assert size * 120 / one.width / 25.4 * 72 >= 9
        assert size * 358 / one.width >= 12
        for span in one.root.iter(f"{SVG}tspan"):
            assert float(span.get("font-size", size)) * 120 / one.width / 25.4 * 72 >= 7
        assert all(text.get("font-size") is None for text in one.root.iter(f"{SVG}text"))


@law
def it_has_no_number_that_no_value_gave(every: list[Drawn]) -> None:
    for one in every:
        asked: set[str] = set()

        def say(symbol: str, asked: set[str] = asked) -> str:
            asked.add(symbol)
            return "<value>&"

        figure = drawn_by(one.name, one.values, say, one.reckoning.texts)
        texts = [part for text in ET.fromstring(figure.svg).iter(f"{SVG}text") for part in (text, *text)]
        # An index may be a digit, and the scale bar names its own length.
        said = [part.text or "" for part in texts if part.get("font-style") != "italic"]
        said = [text for text in said if text not in ("10 mm", "1/2 in")]
        assert not re.search(r"\d|—", "".join([*said, figure.title, figure.description, figure.caption]))
        assert asked <= set(one.values)
        assert figure.caption.endswith((".", "<value>&"))


@cache
def by_the_rule(said: str) -> str:
    """A decimal of an inch as a fraction, where a rule has it: 0.3125 in is 5/16 in."""
    size = re.fullmatch(r"(\d+\.\d+)\N{NO-BREAK SPACE}in", said)
    if not size or 64 % Fraction(size[1]).denominator:
        return said
    return mixed(Fraction(size[1])) + "\N{NO-BREAK SPACE}in"


@law
def its_values_are_those_that_the_shop_reads(every: list[Drawn]) -> None:
    for one in every:
        read = shop_texts(one.reckoning)
        shop = {by_the_rule(read[symbol]) for symbol in one.values}
        texts = [part.text or "" for part in one.root.iter()]
        for decimal in re.findall(r"\d+\.\d+\N{NO-BREAK SPACE}in\b", "\n".join([*texts, one.figure.caption])):
            assert by_the_rule(decimal) == decimal
        for measure in one.root.iter(f"{SVG}text"):
            if len(measure):
                assert "".join(measure.itertext()).partition("\N{NO-BREAK SPACE}")[2] in shop


@law
def it_says_little(every: list[Drawn]) -> None:
    for one in every:
        verdicts = len(one.parts("right")) + len(one.parts("wrong"))
        boards = 4 if one.name == "mix-stiffness" else 0
        dimensions = sum("dimension " in group.get("data-part", "") for group in one.root.iter(f"{SVG}g"))
        assert 1 <= len(one.labels) + dimensions + verdicts + boards <= 9, one.reckoning.texts
        assert len(one.labels) <= 7
        assert all(len([*label.iter(f"{SVG}text")]) <= 4 for label in one.labels)


@law
def right_and_wrong_differ_by_more_than_colour(every: list[Drawn]) -> None:
    for one in every:
        paired = FIGURES[one.name].paired
        assert bool(one.parts("wrong")) is bool(one.parts("right")) is paired
        if paired:
            assert LIBRARY.drawings[one.name].wrong
            assert one.part("wrong").find(f"{SVG}circle") is not None


@law
def its_materials_differ_without_colour(every: list[Drawn]) -> None:
    """Each pattern by its marks; what is painted plain has an edge all round, or lines along it."""
    for one in every:
        marks = {}
        for pattern in one.root.iter(f"{SVG}pattern"):
            drawn_marks = "".join(ET.tostring(mark, encoding="unicode") for mark in list(pattern)[1:])
            marks[pattern.get("id")] = re.sub(r' (fill|stroke|class)="[^"]*"', "", drawn_marks) + pattern.get(
                "patternTransform", ""
            )
        assert len(set(marks.values())) == len(marks) == 9
        inked = {
            frozenset(piece)
            for path in one.root.iter(f"{SVG}path")
            if path.get("fill") == "none" and float(path.get("stroke-width", "0"))
            for data in [path.get("d", "")]
            for piece in itertools.pairwise(re.findall(r"-?\d+\.\d\d -?\d+\.\d\d", data))
        }
        for group in one.root.iter(f"{SVG}g"):
            for path in group.findall(f"{SVG}path"):
                if path.get("fill") in (parts.STEEL, parts.EPOXY):
                    corners = re.findall(r"-?\d+\.\d\d -?\d+\.\d\d", path.get("d", ""))
                    edges = [frozenset(pair) for pair in itertools.pairwise([*corners, corners[0]])]
                    bare = [edge for edge in edges if len(edge) > 1 and edge not in inked]
                    assert len(bare) <= 2, (group.get("data-part"), one.reckoning.texts)


@law
def the_same_values_give_the_same_bytes(every: list[Drawn]) -> None:
    for one in every:
        assert drawn(one.name, one.reckoning).figure == one.figure
        for data in re.findall(r' d="([^"]+)"', one.figure.svg.partition("</defs>")[2]):
            assert re.fullmatch(r"[MLQAZ ]*(?:-?\d+(?:\.\d\d)?[MLQAZ ]*)+", data), data
            assert "A" in data or not re.search(r"(?<![\d.])\d+(?![\d.])", data), data


@law
def the_style_sheet_knows_every_class(every: list[Drawn]) -> None:
    text = CSS.read_text(encoding="utf-8")
    used = {name for one in every for name in re.findall(r'class="([^"]+)"', one.figure.svg)}
    assert used
    assert [name for name in used if f".{name} " not in text and f".{name}," not in text] == []


@law
def every_label_and_case_is_drawn_for_some_job(every: list[Drawn]) -> None:
    name = every[0].name
    drawing, labels = FIGURES[name], {label for one in every for label in one.asked}
    cases = {case: set[str]() for case in drawing.cases}
    for one in every if cases else ():
        chosen = {**one.reckoning.texts, **drawing.place(one.values, one.reckoning.texts).cases}
        for case in cases:
            cases[case].add(chosen[case])
    if CARDS_OF[name] == ["bonded-stepped-hole"] or CARDS_OF[name] == [
        "blind-stud"
    ]:  # a card of the other kind may yet
        cases = {case: seen | drawing.cases[case] for case, seen in cases.items()}
        labels |= {"tape"} & drawing.labels
    assert labels == drawing.labels
    assert cases == drawing.cases


@pytest.mark.parametrize("name", sorted(FIGURES))
def test_every_law_holds_of_a_drawing(name: str) -> None:
    every = all_drawn(name)
    all_hold(lambda holds: holds(every), LAWS, lambda holds: holds.__name__)


# The drawings together


def test_every_drawing_is_on_a_card_and_has_its_words() -> None:
    assert {name for name, cards in CARDS_OF.items() if not cards} == set()
    assert set(LIBRARY.drawings) == set(FIGURES)
    assert len(FIGURES) >= 80


@pytest.mark.parametrize("card", LIBRARY.cards)
def test_a_card_draws_its_steps_and_a_failure(card: str) -> None:
    names = drawings_of(card)
    assert len(set(names) - {LIBRARY.cards[card].figure}) >= 4
    assert any(FIGURES[name].paired for name in names), "no drawing sets right beside wrong"


def test_the_laws_see_what_is_wrong() -> None:
    """A law that cannot be broken is none."""
    one = drawn("worn-redrilled", reckonings_of("worn-hole")[0])

    def spoilt(change: str, to: str) -> list[Drawn]:
        assert change in one.figure.svg
        return [Drawn(one.name, one.reckoning, replace(one.figure, svg=one.figure.svg.replace(change, to, 1)))]

    text = next(one.root.iter(f"{SVG}text"))
    at = f'x="{text.get("x")}" y="{text.get("y")}"'
    for holds, broken in (
        (its_words_lie_on_the_paper_and_apart, spoilt(at, f'x="{text.get("x")}" y="-3.00"')),
        (its_shapes_lie_on_the_paper, spoilt('part="epoxy"><path d="M', 'part="epoxy"><path d="M-3.00 4.00L')),
        (its_ids_are_its_own, spoilt('id="fig-wood"', 'id="wood"')),
        (its_words_are_readable_at_print_size, spoilt('font-size="4.1"', 'font-size="3"')),
        (it_is_one_picture_with_a_name_and_a_description, spoilt('role="img"', 'role="figure"')),
    ):
        with pytest.raises(AssertionError):
            holds(broken)
        holds([one])


@pytest.mark.parametrize(
    ("name", "drawing", "side"),
    [("bonded-stepped-hole", "stepped-hole-section", "wood"), ("bedded-solid", "bed-press", "plank")],
)
def test_the_grain_runs_as_it_was_chosen(name: str, drawing: str, side: str) -> None:
    """Across the fastener in side grain, along it in end grain; an upright drawing is one that lies, turned."""
    for grain, pattern in (("across", side), ("along", side), ("end", "wood" if side == "plank" else "plank")):
        reckoning = reckon(LIBRARY, LIBRARY.cards[name], {"grain": grain})
        svg = figure(LIBRARY, drawing, reckoning, "x").svg
        painted = {one for one in ("wood", "plank") if f'fill="url(#x-{one})"' in svg}
        assert painted == {pattern}, grain
