"""The chooser: what it names is there, answers leave out cards without a script, numbers rank them as the cards do."""

from __future__ import annotations

import itertools
import re
from pathlib import Path
from typing import Any

import pytest
from test_faults import spoil

from conftest import KEPT
from generator.check import load_checked
from generator.errors import Faults
from generator.model.chooser import CardChoice, Chooser
from generator.model.library import Library
from generator.pages.asked import NO_LOAD, THIN, length_text, load_symbols
from generator.pages.chooser import ChooserPage
from generator.pages.options import SiteOptions
from generator.reckoning import InputError, reckon

FILE = "procedures/chooser.yaml"


@pytest.fixture(scope="module")
def chooser(library: Library) -> Chooser:
    assert library.chooser
    return library.chooser


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("card: blind-stud", "card: blind-studd", "no card 'blind-studd'; cards: blind-stud"),
        ("far: [reach, blind], off: [season]", "far: [reach, dark], off: [season]", "'dark' is no answer to a question 'far'"),
        ("far: [reach, blind], off: [season], wood: [dry]", "off: [season], wood: [dry]", "say which answers to 'far' it fits: reach, blind"),
        ("deep: {L_sc: T_sc}", "deep: {L_sc: T_sx}", "'T_sx' is no depth that this card works"),
        ("deep: {L_sc: T_sc}", "deep: {L_sc: m_r}", "'m_r' is no depth that this card works"),
        ("deep: {L_sc: T_sc}", "deep: {thread: T_sc}", "'thread' is no length"),
        ("from: {s_ba: bonded-stepped-hole}", "from: {T_a: bonded-stepped-hole}", "'T_a' is no length"),
        ("deep: {L_sc: T_sc}", "deep: {l_sc: T_sc}", "'l_sc' is no input of this card"),
        ("from: {s_ba: bonded-stepped-hole}", "from: {s_ba: backing-plate}", "'backing-plate' is no other card of this page"),
        ("from: {s_ba: bonded-stepped-hole}", "from: {s_ba: trial-joint}", "'trial-joint' is no other card of this page that works 's_ba'"),
        ("deep: {T: M_g}", "from: {a_z: backing-plate}\n    deep: {T: M_g}", "'backing-plate' is no other card of this page that works 'a_z'"),
        ("T_sk: T,", "T_sx: T,", "'T_sx' is no input of this card"),
        ("T_sk: T,", "T_sk: Q,", "'Q' is not among the chooser's givens"),
        ("T: {ask", "T_q: {default: 1 mm, ask", "unknown input 'T_q'"),
    ],
)  # fmt: skip
def test_a_fault_names_its_place(house: Path, old: str, new: str, words: str) -> None:
    line, _ = spoil(house, FILE, old, new)
    with pytest.raises(Faults) as caught:
        load_checked(house / "procedures", KEPT)
    assert any(fault.line == line and words in fault.message for fault in caught.value.faults), caught.value.faults


def left(chooser: Chooser, answers: dict[str, str]) -> list[str]:
    """The cards that a set of answers leaves, by the plain meaning of `fits`."""
    return [
        choice.card
        for choice in chooser.choices
        if all(not answer or answer in choice.fits[name] for name, answer in answers.items())
    ]


def all_answers(chooser: Chooser) -> list[dict[str, str]]:
    """Every set of answers, "not sure" among them."""
    names = list(chooser.questions)
    options = [["", *question.options] for question in chooser.questions.values()]
    return [dict(zip(names, one, strict=True)) for one in itertools.product(*options)]


def test_every_card_that_carries_a_load_can_be_chosen(library: Library, chooser: Chooser) -> None:
    chosen = {choice.card for choice in chooser.choices}
    assert {name for name, card in library.cards.items() if card.job and card.job.carries} <= chosen
    assert set(left(chooser, {})) == chosen


def test_a_wet_or_unreachable_place_gets_no_card_that_asks_for_more(library: Library, chooser: Chooser) -> None:
    assert left(chooser, {"deck": "cored", "far": "blind"}) == []
    assert left(chooser, {"wood": "damp"}) == ["bedded-solid"]
    for choice in chooser.choices:
        if "blind" in choice.fits["far"]:
            assert not any("spanner" in text and "both ends" in text for text in library.cards[choice.card].use_when)


def carries(library: Library, choice: CardChoice, way: Any, asked: dict[str, str]) -> tuple[str, float]:
    """What a card carries, worked apart from the page: in words, and in newtons or 0."""
    inputs = {"shop": asked["shop"]} | {name: asked[own] for name, own in choice.given.items()}
    system = library.shops[asked["shop"]].units
    try:
        for name in choice.from_:
            layout = {
                "shop": asked["shop"],
                "thread": asked["thread"],
                "n_h": asked["n_h"],
                "a_b": asked["a_b"],
                "b_b": asked["b_b"],
            }
            room = reckon(library, library.cards["bedded-solid"], layout).working.values[name]
            inputs[name] = length_text(max(room, 0.001), system)
        for name, depth in choice.deep.items():
            first = reckon(library, library.cards[choice.card], inputs).working.values
            inputs[name] = length_text(first[name] - (first[depth] - first[name]), system)
    except InputError:
        return "no number", 0.0
    card = library.cards[choice.card]
    symbols = load_symbols(card, way)
    if not symbols:
        return NO_LOAD, 0.0
    try:
        reckoning = reckon(library, card, inputs, extra=symbols)
    except InputError:
        return "no number", 0.0
    if any(symbol in reckoning.working.refused for symbol in symbols):
        return "no number", 0.0
    least = min(symbols, key=lambda symbol: reckoning.working.values[symbol])
    return reckoning.shop(least), reckoning.working.values[least]


def test_the_page_ranks_by_what_each_card_works(library: Library, chooser: Chooser) -> None:
    page = ChooserPage(library, chooser, SiteOptions())
    loads = []
    for choice in page.ranked:
        words, newtons = carries(library, choice, "pull", {"shop": "metric", **page.given["metric"]})
        assert words in page.carries(choice, "pull")
        loads.append(newtons)
    assert loads == sorted(loads, reverse=True)
    assert loads[0] > 0


def asking(library: Library, chooser: Chooser, **asked: str) -> tuple[ChooserPage, dict[str, CardChoice]]:
    """The page as it is for one who asks this in an inch shop, and its choices by card."""
    page = ChooserPage(library, chooser, SiteOptions())
    page.given["inch"] |= asked
    return page, {choice.card: choice for choice in chooser.choices}


# By hand, 5/16 in: 5/8 in of shank, 5/16 in of tip and 1/8 in of room are 1 1/16 in, so 2 1/2 in of wood leaves 1 7/16 in.
def test_no_hole_is_deeper_than_the_wood_asked_for(library: Library, chooser: Chooser) -> None:
    page, choices = asking(library, chooser, thread="5/16-18 UNC", T="2 1/2 in")
    screw = page.reckoning(choices["bonded-screw"], "inch").working.values
    assert screw["L_sc"] == pytest.approx(1.4375 * 0.0254)
    assert screw["T_sc"] == pytest.approx(2.5 * 0.0254)
    full = reckon(
        library,
        library.cards["bonded-screw"],
        {"thread": "5/16-18 UNC", "L_sc": "2 1/2 in"},
        extra=load_symbols(library.cards["bonded-screw"], "pull"),
    )
    fits = page.carried(choices["bonded-screw"], "pull", "inch").newtons
    over = min(full.working.values[symbol] for symbol in load_symbols(library.cards["bonded-screw"], "pull"))
    assert 0 < fits < over
    for asked in ("2 in", "3 3/16 in", "4 1/2 in"):
        page, choices = asking(library, chooser, thread="5/16-18 UNC", T=asked)
        for choice in chooser.choices:
            for depth in choice.deep.values():
                values = page.reckoning(choices[choice.card], "inch").working.values
                inches = {"2 in": 2, "3 3/16 in": 3.1875, "4 1/2 in": 4.5}[asked]
                assert inches - 0.001 < values[depth] / 0.0254 <= inches + 1e-9, choice.card


# By hand: 1 1/4 in leaves 3/16 in of thread, and the card takes 10 mm or more.
def test_wood_too_thin_for_a_screw_gets_no_number(library: Library, chooser: Chooser) -> None:
    page, choices = asking(library, chooser, thread="5/16-18 UNC", T="1 1/4 in")
    told = page.carried(choices["bonded-screw"], "pull", "inch")
    assert (told.words, told.newtons) == (f"no number: {THIN}", 0)


# By hand, four of 1/2 in: 2 x 1 in leaves (2 - 1) / 3 = 1/3 in, less than three diameters; 12 x 6 in has the full 2 1/2 in.
def test_a_plates_bolts_stand_as_near_as_the_base_has_room(library: Library, chooser: Chooser) -> None:
    asked = {"thread": "1/2-13 UNC", "T": "3 1/2 in", "wood": "white-oak", "n_h": "4", "F_n": "300 lbf"}
    for base, spacing in ((("2 in", "1 in"), 0.3333), (("12 in", "6 in"), 2.5)):
        page, choices = asking(library, chooser, **asked, a_b=base[0], b_b=base[1])
        plate = page.reckoning(choices["backing-plate"], "inch")
        assert plate.working.values["s_ba"] / 0.0254 == pytest.approx(spacing, abs=1e-9)
        assert plate.texts["F_n"] == "300 lbf"
        told = page.carried(choices["backing-plate"], "side", "inch")
        assert (told.newtons > 0) == (spacing == 2.5)
        assert ("three diameters" in told.words) == (spacing < 1.5)


@pytest.fixture(scope="module")
def address(site: Path) -> str:
    return (site / "which-fixing" / "index.html").as_uri()


SHOWN = "[...document.querySelectorAll('.bw-choice')].filter(node => node.offsetParent).map(node => node.dataset.card)"


def test_answers_leave_out_cards_without_a_script(
    library: Library, chooser: Chooser, address: str, browser: Any
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    page.goto(address)
    assert not page.is_visible(".bw-choose-numbers")
    asked = all_answers(chooser)
    for name, answer in asked[-1].items():  # by hand once, as a reader does
        page.check(f'.bw-choose [name="{name}"][value="{answer}"]')
    assert set(page.evaluate(SHOWN)) == set(left(chooser, asked[-1]))
    none = "!!document.querySelector('.bw-choice-none')?.offsetParent"
    shown = page.evaluate(
        f"""asked => asked.map(answers => {{
            for (const [name, answer] of Object.entries(answers))
                document.querySelector(`.bw-choose [name="${{name}}"][value="${{answer}}"]`).checked = true;
            return [{SHOWN}, {none}];
        }})""",
        asked,
    )
    for answers, (cards, nothing) in zip(asked, shown, strict=True):
        assert set(cards) == set(left(chooser, answers)), answers
        if all(answers.values()):
            assert nothing == (not left(chooser, answers)), answers
    context.close()


@pytest.fixture
def page(address: str, forgetful: Any) -> Any:
    forgetful.set_viewport_size({"width": 390, "height": 844})
    forgetful.goto(address)
    forgetful.wait_for_selector(".bw-choose-numbers:not([hidden])")
    return forgetful


def set_number(page: Any, name: str, text: str) -> None:
    field = page.locator(f'[data-field="{name}"] :is(input, select)')
    if field.evaluate("node => node.tagName") == "SELECT":
        field.select_option(text)
    else:
        field.fill(text)


@pytest.mark.parametrize(
    ("shop", "numbers"),
    [
        ("metric", {"thread": "M10", "T": "120", "wood": "white-oak", "F_n": "2,5 kN", "n_h": "4", "theta_p": "30"}),
        ("metric", {"thread": "M4", "T": "40 mm", "wood": "western-redcedar", "F_n": "300 N"}),
        ("inch", {"thread": "3/8-16 UNC", "T": "3 1/4", "wood": "teak", "F_n": "250", "n_h": "2"}),
        ("inch", {"thread": "1/2-13 UNC", "T": "3 1/2", "wood": "white-oak", "n_h": "4", "a_b": "2", "b_b": "1"}),
        ("inch", {"thread": "5/16-18 UNC", "T": "1 1/4 in", "a_b": "2 in"}),
        ("inch", {"thread": "1-8 UNC", "T": "6 in", "wood": "douglas-fir", "F_n": "1000 lbf"}),
    ],
)
@pytest.mark.parametrize("way", ["pull", "side", "angled"])
def test_the_readers_numbers_rank_the_cards(
    library: Library, chooser: Chooser, page: Any, shop: str, numbers: dict[str, str], way: str
) -> None:
    page.check(f"#bw-shop-{shop}")
    for name, text in numbers.items():
        set_number(page, name, text)
    page.check(f'[name="way"][value="{way}"]')
    page.wait_for_function(f"document.querySelector('.bw-choose-set').textContent.includes({numbers['thread']!r})")
    units = {"metric": {"T": " mm", "F_n": " kN"}, "inch": {"T": " in", "a_b": " in", "b_b": " in", "F_n": " lbf"}}[
        shop
    ] | {"theta_p": " deg"}
    full = {name: given.text(shop) for name, given in chooser.givens.items()} | {
        name: text + units[name] if name in units and text[-1].isdigit() else text for name, text in numbers.items()
    }
    expected = []
    for choice in chooser.choices:
        words, newtons = carries(library, choice, way, {"shop": shop, **full})
        expected.append((choice.card, words, newtons))
    # All of them: what one is to say may be what it said before.
    page.wait_for_function(
        """([way, ...all]) => all.every(([card, words]) =>
            document.querySelector(`[data-card='${card}'] [data-way='${way}'] dd`).textContent.includes(words))""",
        arg=[way, *([card, words] for card, words, _ in expected)],
    )
    order = {card: newtons for card, _, newtons in expected}
    shown = [order[card] for card in page.evaluate(SHOWN)]
    assert shown == sorted(shown, reverse=True)


def test_the_link_opens_the_card_so_set_and_a_fault_is_told(page: Any) -> None:
    set_number(page, "thread", "M10")
    page.wait_for_function("document.querySelector('.bw-choose-set').textContent.includes('M10')")
    assert "thread=M10" in page.get_attribute("[data-card='blind-stud'] a", "href") or "thread=M10" in page.evaluate(
        "document.querySelector(\"[data-card='blind-stud'] a\").href"
    )
    set_number(page, "F_n", "a lot")
    page.wait_for_function("document.querySelector('[data-field=F_n] .bw-fault').textContent")
    assert page.get_attribute("[data-field=F_n] input", "aria-invalid") == "true"
    set_number(page, "F_n", "")
    page.wait_for_function("!document.querySelector('[data-field=F_n] .bw-fault').textContent")


def test_it_calls_every_card_by_its_title(library: Library, page: Any) -> None:
    found = page.eval_on_selector_all("article a", "links => links.map(link => [link.href, link.textContent])")
    links = [(name[1], text) for href, text in found if (name := re.search(r"/cards/([^/#?]+)/", href))]
    assert len(links) > len(library.cards)
    assert not [one for one in links if one[1] != library.cards[one[0]].title]
