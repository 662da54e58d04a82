"""What the shop's own pulled joints say, live on a card: the same sentences as the command line has, for the same job."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlencode

import pytest
import yaml
from test_evidence import SCREWS

from generator.evidence import own_tests
from generator.live.card_script import card_script
from generator.model.library import Library
from generator.model.series import TestSeries as OwnSeries
from generator.reckoning import reckon
from generator.units import SHIPPED_SHOPS, plain

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

CARD = "bonded-stepped-hole"
LIKE = {"thread": "M8", "T": "110 mm", "wood": "white-oak", "fastener": "a4-70", "a_e": "35 mm"}


def told(page: Page) -> list[str]:
    return [plain(text) for text in page.locator(".bw-own-said p").all_text_contents()]


def worked(library: Library, card: str, inputs: dict[str, str]) -> list[str]:
    reckoning = reckon(library, library.cards[card], {"shop": "metric", **inputs})
    lines = own_tests(library, library.cards[card], {"shop": "metric", **inputs}, reckoning)
    return [plain(line[0].upper() + line[1:]) for line in lines]


@pytest.mark.parametrize(
    ("card", "other", "lines"),
    [
        (CARD, {}, 2),
        (CARD, {"T": "95 mm"}, 2),
        (CARD, {"a_e": "20 mm"}, 2),
        (CARD, {"fastener": "a2-50"}, 2),
        (CARD, {"T": "111 mm"}, 0),
        (CARD, {"thread": "M10"}, 0),
        (CARD, {"wood": "douglas-fir"}, 0),
        (CARD, {"filler": "microballoons"}, 0),
        (CARD, {"large_drill": "forstner"}, 2),
        (CARD, {"T": "40 mm"}, 2),
        ("blind-stud", {"hole": "blind"}, 2),
        ("trial-joint", {}, 1),
    ],
)
def test_it_says_what_the_command_line_says(
    unseen: Page, site: Path, library: Library, card: str, other: dict[str, str], lines: int
) -> None:
    inputs = {**LIKE, **other}
    for name in ("filler", "large_drill"):
        if inputs.get(name, next(iter(library.choices[name].rows))) not in library.choices[name].rows:
            came = reckon(library, library.cards[card], {"thread": "M8"}).texts[name]
            inputs[name] = next(key for key in library.choices[name].rows if key != came)
    page = unseen
    page.goto((site / f"cards/{card}/index.html").as_uri() + "?" + urlencode({**inputs, "shop": "metric"}))
    page.locator(".bw-live").wait_for(state="visible")
    page.wait_for_function("document.querySelector('.bw-live-status').textContent", polling=20)
    expected = worked(library, card, inputs)
    assert told(page) == expected
    if "large_drill" not in other and "hole" not in other:
        assert len(expected) == lines


def on_paper(page: Page) -> bool:
    """Whether what the shop's tests say is printed."""
    page.emulate_media(media="print")
    shown = page.locator(".bw-own-said").evaluate("node => getComputedStyle(node).display !== 'none'")
    page.emulate_media(media="screen")
    return bool(shown)


def test_the_shops_figure_comes_and_goes_with_the_depth(forgetful: Page, site: Path, library: Library) -> None:
    page = forgetful
    page.goto((site / f"cards/{CARD}/index.html").as_uri() + "?" + urlencode(LIKE))
    page.locator(".bw-live").wait_for(state="visible")
    page.locator(".bw-own-said p").first.wait_for(state="attached")
    for depth in ("110", "120", "100", "200", "90"):
        page.fill("#live-T", depth)
        assert told(page) == worked(library, CARD, {**LIKE, "T": f"{depth} mm"}), depth
    assert told(page)
    assert not on_paper(page)  # An invented load is none to take to the bench.
    page.get_by_role("button", name="Back to the card as it came").click()
    assert told(page) == []


def test_the_trial_card_as_set_leads_to_enter_a_result(browser: Browser, site: Path) -> None:
    page = browser.new_page()
    page.goto((site / "cards/trial-joint/index.html").as_uri() + "?thread=M10&T=95+mm")
    page.wait_for_function("document.querySelector('.bw-enter').search.includes('M10')")
    query = page.locator(".bw-enter").evaluate("link => link.search")
    page.goto((site / "result/index.html").as_uri() + query)
    page.wait_for_selector(".bw-result:not([hidden])")
    assert page.input_value("#result-thread") == "M10"
    assert page.input_value("#result-T") == "95 mm"
    page.close()


def test_pulled_screws_speak_live_on_their_card(printer: Browser, site: Path, library: Library) -> None:
    series = OwnSeries.model_validate(yaml.load(SCREWS, yaml.BaseLoader))
    small = series.model_copy(update={"title": "Number ten", "given": {**series.given, "gauge": "gauge-10"}})
    small = small.model_copy(update={"given": {**small.given, "pilot": "wood-screw-soft", "L_sc": "30 mm"}})
    own = replace(library, series_pulled={"ours": series, "small": small}, kept={})
    script = card_script(own, "bonded-screw", SHIPPED_SHOPS)
    page = printer.new_page()
    page.route(
        "**/cards/bonded-screw/live.js", lambda route: route.fulfill(body=script, content_type="text/javascript")
    )
    like = {"shop": "metric", "thread": "M8", "L_sc": "50 mm", "wood": "douglas-fir", "a_e": "40 mm"}
    heard = []
    for other in (
        {},
        {"L_sc": "40 mm"},
        {"wood": "white-oak"},
        {"L_sc": "51 mm"},
        {"gauge": "gauge-10", "pilot": "wood-screw-soft", "L_sc": "30 mm"},
        {"gauge": "gauge-10", "pilot": "wood-screw-soft", "L_sc": "31 mm"},
        {"a_e": "12 mm"},
    ):
        page.goto((site / "cards/bonded-screw/index.html").as_uri() + "?" + urlencode({**like, **other}))
        page.wait_for_function("document.querySelector('.bw-enter').search.includes('M8')", polling=20)
        expected = worked(own, "bonded-screw", {**like, **other})
        assert told(page) == expected, other
        assert on_paper(page) == bool(expected)
        heard.append(len(expected))
    assert heard == [2, 2, 0, 0, 1, 0, 0]
    page.close()
