"""What people ask in the shop, on a phone: each is answered within three taps and one screen of scrolling, in one session.

A tap opens, chooses or goes into a field; typing is none. What answers must stand in sight at the end, and say what the
library says.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from test_browser import served

from conftest import CARD
from generator.model.library import Library
from generator.reckoning import reckon

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

TALL = 844
# How far down the page of an answer it may stand: what is first in sight, and one screen more.
REACH = 2 * TALL


class Thumb:
    """A reader with a phone, who counts the taps."""

    def __init__(self, page: Page, address: str):
        self.page, self.address, self.taps = page, address, 0

    def start(self) -> None:
        """Open the site anew, with nothing remembered."""
        if self.page.url.startswith(self.address):
            self.page.evaluate("() => { localStorage.clear(); sessionStorage.clear(); }")
        self.page.goto(self.address)
        self.page.wait_for_selector(".bw-panel form")
        self.taps = 0

    def set(self, field: str, text: str) -> None:
        """Put a text into a field of the panel."""
        node = self.page.locator(f"#panel-{field}")
        self.taps += 1
        (node.select_option if field in ("thread", "wood") else node.fill)(text)

    def ask(self, words: str) -> None:
        """Open the search and type."""
        self.taps += 1
        self.page.click(".bw-find-open")
        self.page.wait_for_selector(".bw-find[open]")
        self.page.fill(".bw-find input", words)
        self.page.wait_for_selector(".bw-find li")

    def take(self, title: str) -> None:
        """Take one of the first three hits."""
        self.taps += 1
        self.page.locator(".bw-find li:nth-child(-n + 3) a", has_text=title).first.click()
        self.page.wait_for_load_state()

    def sees(self, where: str, text: str) -> None:
        """That some element there says so, within reach."""
        place: Locator = self.page.locator(where).filter(has_text=text).first
        place.wait_for()
        assert self.taps <= 3
        if where.startswith(".bw-keys"):
            top = self.page.evaluate("innerHeight") - 1  # it stays in sight
        else:
            top = place.evaluate("node => node.getBoundingClientRect().bottom + (node.closest('dialog') ? 0 : scrollY)")
        assert top <= REACH, top


@pytest.fixture(scope="module")
def thumb(browser: Any, site: Path) -> Iterator[Thumb]:
    with served(site) as address:
        context = browser.new_context(
            viewport={"width": 390, "height": TALL}, has_touch=True, is_mobile=True, service_workers="block"
        )
        yield Thumb(context.new_page(), address)
        context.close()


def said(library: Library, card: str, symbol: str, **inputs: str) -> str:
    return reckon(library, library.cards[card], {"shop": "metric", **inputs}).said(symbol)


def column(card: str) -> str:
    return f".bw-beside [data-card='{card}'] p"


def test_the_drills_for_m8(library: Library, thumb: Thumb) -> None:
    thumb.start()
    for symbol in ("D_o", "D_g", "M_o"):
        thumb.sees(column(CARD), said(library, CARD, symbol, thread="M8"))
    assert thumb.taps == 0


def test_epoxy_for_four_studs(library: Library, thumb: Thumb) -> None:
    thumb.start()
    thumb.ask("epoxy for 4 x M10 x 100 mm studs")
    thumb.take("Bonded blind stud")
    for symbol in ("m_r", "m_h"):
        thumb.sees(".bw-keys dd", said(library, "blind-stud", symbol, thread="M10", T="100 mm", N="4"))


def test_full_load_in_the_cold(library: Library, thumb: Thumb) -> None:
    thumb.start()
    thumb.set("T_a", "12")
    thumb.sees(column(CARD), said(library, CARD, "t_f", T_a="12 °C"))


def test_what_a_bolt_in_spruce_carries(library: Library, thumb: Thumb) -> None:
    """In 90 mm of wood: its flag would stand at 93 mm for a stud as deep, so it is 3 mm less."""
    thumb.start()
    thumb.set("wood", "sitka-spruce")
    thumb.sees(column("blind-stud"), said(library, "blind-stud", "F_w", thread="M8", T="87 mm", wood="sitka-spruce"))


def test_hardener_for_a_batch(library: Library, thumb: Thumb) -> None:
    thumb.start()
    thumb.ask("hardener for 150 g at 2:1")
    # No more than 100 g goes into a cup.
    thumb.sees(".bw-find li", "one of 2 cups, 75 g")
    thumb.take("Mixing")
    thumb.sees(".bw-keys dd", said(library, "mixing", "m_h", m_b="75 g", ratio="2:1 by volume"))


def test_pot_life_in_the_heat(library: Library, thumb: Thumb) -> None:
    thumb.start()
    thumb.set("T_a", "28")
    thumb.sees(column(CARD), said(library, CARD, "t_w", T_a="28 °C"))
    thumb.ask("pot life at 28 deg C")
    thumb.take("Working time in the pot")
    thumb.sees("tr:target th", "28")


def test_clearance_for_an_inch_thread(library: Library, thumb: Thumb) -> None:
    thumb.start()
    thumb.ask("clearance for 3/8-16")
    reckoning = reckon(library, library.reference["clearance-holes"], {"shop": "inch", "thread": "3/8-16 UNC"})
    thumb.sees(".bw-find li:nth-child(1) .bw-find-cells", reckoning.said("D_k"))


def test_a_plate_for_a_load(library: Library, thumb: Thumb) -> None:
    thumb.start()
    thumb.ask("backing plate for 2 kN")
    thumb.take("Backing plate behind")
    thumb.page.wait_for_selector(".bw-keys dd")
    for symbol in ("b_rs", "h_rsp"):
        thumb.sees(".bw-keys dd", said(library, "backing-plate", symbol, F_n="2 kN"))


# Others of their kind, by the search: what is taken of the first three hits, the card, what it is set to, and its answers.
OTHERS = [
    ("drills for 5/16-18 in a blind stud", "blind-stud", {"shop": "inch", "thread": "5/16-18 UNC"}, ("D_o", "D_g")),
    (
        "epoxy for 6 x 1/4-20 x 2 in",
        "blind-stud",
        {"shop": "inch", "thread": "1/4-20 UNC", "N": "6", "T": "2 in"},
        ("m_r", "m_h"),
    ),
    ("how much filler for 60 g", "mixing", {"m_b": "60 g"}, ("m_y",)),
    ("coach screw 10 mm pilot", "bonded-screw", {"thread": "M10"}, ("D_sc",)),
]


@pytest.mark.parametrize(("ask", "card", "given", "symbols"), OTHERS, ids=[other[0] for other in OTHERS])
def test_others_lead_to_the_card_so_set(
    library: Library, thumb: Thumb, ask: str, card: str, given: dict[str, str], symbols: tuple[str, ...]
) -> None:
    thumb.start()
    thumb.ask(ask)
    thumb.take(library.cards[card].title)
    for symbol in symbols:
        thumb.sees(".bw-keys dd", said(library, card, symbol, **given))


@pytest.mark.parametrize(
    ("ask", "title", "at"),
    [
        ("bolt length for 40 mm deck", "Bolts through a deck", ".bw-grid:target th"),
        ("dew point at 18 °C and 70 %", "How warm a surface must be", "tr:target th"),
        ("washer for M6", "Washers on wood", "tr:target th"),
    ],
)
def test_others_lead_to_the_row_or_the_table(thumb: Thumb, ask: str, title: str, at: str) -> None:
    """Where it stands is scrolled to, whichever tab it is behind."""
    thumb.start()
    thumb.ask(ask)
    thumb.take(title)
    place = thumb.page.locator(at).first
    place.wait_for(state="visible")
    assert 0 <= place.evaluate("node => node.getBoundingClientRect().top") < TALL
    assert thumb.taps <= 3
