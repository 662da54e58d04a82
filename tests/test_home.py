"""The home page: its panel says what the cards work, before a script runs and after, and leads to the card so set."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from typing import Any

import pytest
from test_browser import served

from conftest import KEPT
from generator.check import load_checked
from generator.errors import Faults
from generator.model.library import Library
from generator.pages.asked import length_text
from generator.pages.chosen import chosen
from generator.pages.home import WAYS, HomePage
from generator.pages.options import SiteOptions
from generator.reckoning import reckon

SIZE = {"thread": "M10", "T": "100 mm", "n_h": "4", "a_b": "120 mm", "b_b": "70 mm", "T_a": "12 °C"}


@pytest.fixture(scope="module")
def home(library: Library) -> HomePage:
    assert library.home
    return HomePage(library, library.home, chosen(library, SiteOptions()), SiteOptions())


@pytest.fixture(scope="module")
def address(site: Any) -> Iterator[str]:
    with served(site) as address:
        yield address


def test_the_panel_tells_what_each_card_works(library: Library, home: HomePage) -> None:
    for one in home.cards:
        told = home.rows(one)
        assert [entry.value for entry in told["Time"]] == ["{t_w}", "{t_h}", "{t_f}"]
        assert "hardener" in [entry.what for entry in told["Epoxy"]]
        assert told["Drills"]
        for way in WAYS:
            said = unescape(re.sub(r"<[^>]*>", "", home.carries(one, way)))
            assert re.match(r"[\d.]+\u00a0kN or [\d,]+\u00a0lbf", said), said


def test_without_a_script_the_page_has_the_numbers_of_its_cards(library: Library, home: HomePage, site: Any) -> None:
    page = unescape((site / "index.html").read_text(encoding="utf-8"))
    for one in home.cards:
        reckoning = home.reckoning(one, "metric")
        assert re.search(f'data-s="m_h">(<span data-shop="metric">)?{reckoning.said("m_h")}<', page), one.card
    assert '<meta name="description"' in page
    assert 'href="assets/favicon.svg"' in page


def test_a_size_is_worked_in_the_page_and_goes_along_to_the_card(
    library: Library, home: HomePage, address: str, browser: Any
) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address)
    assert not [url for url in asked if "/live.js" in url]
    # Other sizes first: one short bolt in the heat, and many deep ones.
    for size in (
        {"thread": "M5", "T": "47 mm", "n_h": "1", "a_b": "60 mm", "b_b": "40 mm", "T_a": "33 °C"},
        {"thread": "M12", "T": "140 mm", "n_h": "6", "a_b": "200 mm", "b_b": "150 mm", "T_a": "18 °C"},
        SIZE,
    ):
        for name, text in size.items():
            field = page.locator(f"#panel-{name}")
            (field.select_option if name == "thread" else field.fill)(text)
        for one in home.cards:
            inputs = {"shop": "metric"} | {name: size[own] for name, own in one.given.items() if own in size}
            for name, depth in one.deep.items():  # what the hole goes deeper than the wood is taken off
                first = reckon(library, library.cards[one.card], inputs).working.values
                inputs[name] = length_text(2 * first[name] - first[depth], "metric")
            if one.from_:
                stepped = next(other for other in home.cards if other.card == "bonded-stepped-hole")
                own = {name: size[own] for name, own in stepped.given.items() if own in size}
                room = reckon(library, library.cards[stepped.card], own).working.values["s_ba"]
                inputs["s_ba"] = length_text(room, "metric")
            reckoning = reckon(library, library.cards[one.card], inputs)
            for name, depth in one.deep.items():
                assert reckoning.working.values[depth] * 1000 <= float(size[one.given[name]].split()[0]) + 1e-6
            cells = f".bw-beside [data-card='{one.card}']"
            page.wait_for_function(
                "([cells, said]) => [...document.querySelectorAll(cells + ' [data-s=m_h]')].some(a => a.innerText === said)",
                arg=[cells, reckoning.said("m_h")],
            )
            for symbol in ("m_r", "t_f", "t_w"):
                assert page.locator(f"{cells} [data-s='{symbol}']").first.inner_text() == reckoning.said(symbol)
            shown = page.locator(f"{cells} [data-s]:visible").evaluate_all(
                "all => all.map(a => [a.dataset.s, a.innerText])"
            )
            assert len(shown) > 4
            assert [
                one for one in shown if one[1] not in (reckoning.said(one[0]), reckoning.titles.get(one[0]))
            ] == [], one.card
    page.fill("#panel-T", "-5")
    page.wait_for_selector("#panel-T[aria-invalid]")
    # Where a condition names no bound, a number however far below nothing is one.
    last = max(one.card for one in home.cards)
    far = f".bw-beside [data-card='{last}'] p[data-when]"
    page.locator(far).first.evaluate("node => { delete node.dataset.over; bondwright.say = () => '-1000 mm'; }")
    page.fill("#panel-T", "100")
    page.wait_for_selector(f"{far}:not([data-over], [hidden])", state="attached")
    page.locator(".bw-go").nth(1).click()
    page.wait_for_selector(".bw-live-set:has-text('M10')")
    assert "96.9" in page.inner_text(".bw-live-set")  # the point of the drill goes 3.1 mm ahead
    page.go_back()
    page.wait_for_selector("#panel-thread")
    assert page.input_value("#panel-thread") == "M10"
    page.close()


@pytest.mark.parametrize("width", [360, 390, 1200])
def test_a_reason_for_no_number_has_the_width_of_all_columns(address: str, browser: Any, width: int) -> None:
    page = browser.new_page(viewport={"width": width, "height": 844})
    page.goto(address)
    page.locator("label[for='bw-shop-inch']:visible, #bw-shop-inch:visible").first.click()
    page.select_option("#panel-thread", "5/16-18 UNC")
    page.fill("#panel-T", "1 1/4 in")
    page.wait_for_function("[...document.querySelectorAll('.bw-why-none')].some(one => one.innerText.length > 30)")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    over = page.locator(".bw-beside :is([data-way], .bw-why-none)").evaluate_all(
        "all => all.filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.innerText)"
    )
    assert over == []
    for place in page.locator(".bw-why-none:visible").all():
        assert place.bounding_box()["width"] > 0.8 * min(width, 480)  # a line of reading
    page.close()


def test_what_is_set_goes_along_to_the_questions_and_what_has_no_number_says_why(address: str, browser: Any) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto(address)
    page.fill("#panel-n_h", "0")
    page.wait_for_selector("#panel-n_h[aria-invalid]")
    assert page.locator(".bw-why-none:visible").count()
    for name, text in {"T": "32 mm", "n_h": "4", "T_a": "33 °C"}.items():
        page.fill(f"#panel-{name}", text)
    page.select_option("#panel-wood", "white-oak")
    page.wait_for_function("!document.querySelector('#panel-n_h[aria-invalid]')")
    for row in page.locator(".bw-beside:has(.bw-why-none)").all():
        told, missing = row.locator(".bw-why-none").inner_text(), 0
        for cell in row.locator("[data-card]").all():
            if "no number" in [one.strip() for one in cell.locator("b:visible").all_inner_texts()]:
                assert cell.locator(".bw-said").text_content() in told
                missing += 1
        assert told.count("no number: ") <= missing  # what holds for several cards is told once
        assert bool(told) == bool(missing)
    assert "flag at" in page.inner_text(".bw-beside [data-card='bonded-stepped-hole'] p:has([data-s='M_o'])")
    assert "flat bit" in page.inner_text(".bw-beside [data-card='bonded-stepped-hole'] p:has([data-s='M_o'])")
    page.click(".bw-choice-door")
    page.wait_for_selector(".bw-choose-set:has-text('32 mm deep, white oak')")
    assert page.input_value("#choose-n_h") == "4"
    page.fill("#choose-T", "60 mm")
    page.go_back()
    page.wait_for_function("document.querySelector('#panel-T').value === '60 mm'")
    page.close()


def test_what_the_home_page_names_must_be_there(house: Any) -> None:
    path = house / "procedures/home.yaml"
    text = (
        path.read_text(encoding="utf-8").replace("table: cure}", "table: curing}").replace("T: T, n_h", "T: D, n_h", 1)
    )
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Faults) as raised:
        load_checked(house / "procedures", KEPT)
    said = str(raised.value)
    assert re.search(r"home\.yaml:\d+:\d+: no table 'curing'; like it: cure", said)
    assert re.search(r"home\.yaml:\d+:\d+: 'D' is not among the home page's givens", said)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (r"T: T, n_h", "T: wood, n_h", "'wood' is not the kind of thing that 'T' is"),
        (r"T: T, n_h", "T: n_h, n_h", "'n_h' is not the kind of thing that 'T' is"),
        (r"(?m)^(  a_b: \{)", r"\1min: 3 m, ", "a_b: '60 mm' lies outside the range that stands beside it"),
    ],
)
def test_what_the_home_page_asks_fits_what_it_is_taken_for(house: Any, old: str, new: str, words: str) -> None:
    path = house / "procedures/home.yaml"
    text, changed = re.subn(old, new, path.read_text(encoding="utf-8"), count=1)
    assert changed
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Faults) as raised:
        load_checked(house / "procedures", KEPT)
    assert words in str(raised.value)
