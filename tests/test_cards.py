"""What every card must have, beside what `check` refuses: drawings, cautions, links, a time plan, and both shops' words."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from drawings import drawn_by

from conftest import HOUSE
from generator.figures import FIGURES
from generator.figures.parts import text_width
from generator.job import do_job
from generator.model.library import load
from generator.pages.card import CardPage
from generator.pages.options import SiteOptions

LIBRARY = load(HOUSE / "procedures")
CARDS = list(LIBRARY.cards)
SVG = "{http://www.w3.org/2000/svg}"


def drawings(name: str) -> list[str]:
    return [step.drawing for step in LIBRARY.cards[name].steps if step.drawing]


def test_there_are_drawings_enough() -> None:
    assert len({drawing for name in CARDS for drawing in drawings(name)}) >= 45
    assert set(FIGURES) == {drawing for name in CARDS for drawing in (*drawings(name), LIBRARY.cards[name].figure)}


@pytest.mark.parametrize("name", CARDS)
def test_a_card_draws_its_steps_and_a_failure(name: str) -> None:
    assert len(set(drawings(name))) >= 4
    page = CardPage(LIBRARY, name, SiteOptions())
    shown = [figure.svg for figures in page.step_figures for figure in figures.values()]
    assert any('data-part="wrong"' in svg for svg in shown), "no drawing sets right beside wrong"


@pytest.mark.parametrize("name", CARDS)
@pytest.mark.parametrize("shop", ["metric", "inch"])
def test_a_drawing_is_whole_and_speaks(name: str, shop: str) -> None:
    """Well-formed, named for a screen reader, its words inside the paper, its numbers those that the shop reads."""
    job = do_job(LIBRARY, LIBRARY.cards[name], {"shop": shop})
    for drawing in {*drawings(name), LIBRARY.cards[name].figure}:
        said: set[str] = set()

        def say(symbol: str) -> str:
            said.add(job.shop(symbol))  # noqa: B023  used up within the loop
            return job.shop(symbol)

        figure = drawn_by(drawing, job.working.values, say, job.texts, "x")
        root = ElementTree.fromstring(figure.svg)
        assert root.get("role") == "img"
        assert root.find(f"{SVG}title") is not None
        assert len(figure.description) > 40, drawing
        assert figure.caption.strip(), drawing
        width, height = (float(part) for part in (root.get("viewBox") or "").split()[2:])
        for text in root.iter(f"{SVG}text"):
            words = "".join(text.itertext())
            x, y, long = float(text.get("x", "0")), float(text.get("y", "0")), text_width(words)
            left = {"start": x, "middle": x - long / 2, "end": x - long}[text.get("text-anchor", "start")]
            assert left >= -0.5, (drawing, words)
            assert left + long <= width + 0.5, (drawing, words)
            assert 2.5 <= y <= height, (drawing, words)
            for number in re.findall(r"(?<![A-Za-z\d])\d[\d./]*", words):
                spoken = " ".join(said) + " 10 mm 1/2 in"
                assert number.strip(".") in spoken, (drawing, words, said)
        ids = re.findall(r' id="([^"]+)"', figure.svg)
        assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", CARDS)
def test_a_card_shows_the_cautions_that_belong_to_its_work(name: str) -> None:
    card = LIBRARY.cards[name]
    words = " ".join([card.purpose, *(f"{step.do} {step.see}" for step in card.steps)]).lower()
    if "epoxy" in words and ("mix" in words or "wet out" in words):
        assert {"skin", "heat-in-the-cup"} & set(card.cautions), "uncured epoxy needs its cautions"
    if "drill" in words or "sand" in words:
        assert {"dust", "drilling", "filler-dust"} & set(card.cautions), "dust needs its caution"
    assert any(LIBRARY.cautions[caution].defer for caution in card.cautions)


BURIED = sorted(name for name in CARDS if name not in ("mixing", "trial-joint", "heat-removal"))


@pytest.mark.parametrize("name", BURIED)
def test_metal_that_stays_in_wood_has_the_caution_about_stainless(name: str) -> None:
    card = LIBRARY.cards[name]
    assert "stainless-needs-air" in card.cautions
    assert any("stainless-needs-air" in step.cautions for step in card.steps)


@pytest.mark.parametrize("name", CARDS)
def test_wood_is_abraded_before_it_is_vacuumed(name: str) -> None:
    """Dust made after the vacuum cleaner lies under the epoxy. (Metal is roughened, away from the boat.)"""
    words = " ".join(step.do for step in LIBRARY.cards[name].steps).lower()
    before, mix, _ = words.partition("stir for two full minutes")
    if mix and "vacuum" in before:
        assert max(before.rfind("abrade"), before.rfind("scrape")) < before.rfind("vacuum")


@pytest.mark.parametrize("name", ["bonded-stepped-hole", "blind-stud"])
def test_a_hole_is_looked_into_before_its_base_is_buttered(name: str) -> None:
    words = " ".join(step.do for step in LIBRARY.cards[name].steps).lower()
    assert 0 < words.index("fill any void") < words.rindex("ridge")


@pytest.mark.parametrize("name", CARDS)
def test_moisture_is_said_with_its_noun_and_its_number(name: str) -> None:
    """Most cards name it by value; none writes a bare number of hundredths."""
    card = LIBRARY.cards[name]
    words = " ".join(f"{step.do} {step.see} {step.wrong or ''}" for step in card.steps)
    assert "in a hundred" not in words
    for part in re.split(r"(?<=[.]) ", words):
        if "{x_bd} or less" in part or "{x_ld} or less" in part:
            assert "moisture" in part.lower(), part


def test_heat_has_its_cautions_beside_the_steps() -> None:
    steps = LIBRARY.cards["heat-removal"].steps
    beside = {caution for step in steps for caution in step.cautions}
    assert {"heat-fumes", "heat-no-flame", "heat-burns"} <= beside


@pytest.mark.parametrize("name", CARDS)
def test_a_card_leads_to_a_better_one(name: str) -> None:
    """When not to use it, it names a card that is."""
    card = LIBRARY.cards[name]
    linked = set(re.findall(r"\{([a-z0-9]+(?:-[a-z0-9]+)+|mixing)\}", " ".join([*card.use_when, *card.not_when])))
    assert linked & set(CARDS) - {name}
    assert linked <= {*CARDS}


@pytest.mark.parametrize("name", CARDS)
def test_a_card_says_how_long_it_takes(name: str) -> None:
    page = CardPage(LIBRARY, name, SiteOptions())
    assert page.hands_on.endswith("min")
    assert any(line.wait for line in page.plan)


@pytest.mark.parametrize("name", CARDS)
def test_a_card_works_over_its_threads(name: str) -> None:
    """The usual threads of a shop have numbers, from four sizes up; the others say why not."""
    page = CardPage(LIBRARY, name, SiteOptions())
    for grid in page.grids:
        if grid.name in ("sizes-metric-coarse", "sizes-unc"):
            worked = [row for row in grid.rows if not row.reasons]
            assert len(worked) >= 4, grid.name
            assert all(reason for row in grid.rows if row not in worked for reason in row.reasons)


@pytest.mark.parametrize("name", CARDS)
def test_words_are_plain(name: str) -> None:
    card = LIBRARY.cards[name]
    text = " ".join(
        [card.purpose, *card.use_when, *card.not_when, *card.notes]
        + [part for step in card.steps for part in (step.title, step.do, step.see, step.wrong or "")]
    )
    for word in ("—", "–", "ensure", "utilize", "utilise", "note that", "please", "in order to"):
        assert word not in text.lower(), word
