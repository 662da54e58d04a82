"""What comes out of the printer, read back from Chromium's PDF: pages, words, letters, margins, true sizes."""

from __future__ import annotations

import math
import re
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, TypeVar

import pytest
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTChar, LTContainer, LTCurve, LTPage

from conftest import CARD, HOUSE, LIBRARY, build_once, copy_house, set_option
from generator.bench import FOOT, MOST_WORDS
from generator.language import day_in_words
from generator.model.schema import Card
from generator.pages.chosen import chosen
from generator.pages.options import PAPERS, SiteOptions
from generator.pages.paper import SIDES, first_sides
from generator.pages.print_sheets import WORKED, rounded_length
from generator.reckoning import InputError, reckon
from generator.shipped import VERSION

if TYPE_CHECKING:
    from playwright.sync_api import Page

POINT = 25.4 / 72
# Millimetres that a home printer leaves white, and the dots on each that are looked at.
WHITE = 5.0
DOTS = 2
# Millimetres of head and foot, a little less than the page's margins.
EDGE = 8.0
HEADING = 10.9
# A box of the site's own font is so much taller than its size.
TALLER = 1.2

Box = tuple[float, float, float, float]
Leaf = TypeVar("Leaf", LTChar, LTCurve)


class Word(NamedTuple):
    """Letters that stand together, in points from the top left corner."""

    left: float
    top: float
    right: float
    bottom: float
    text: str

    @property
    def size(self) -> float:
        return (self.bottom - self.top) / TALLER


class Side(NamedTuple):
    """A printed side, with its words in the order in which they were laid down."""

    width: float
    height: float
    words: list[Word]

    @property
    def body(self) -> list[Word]:
        """What stands between the lines at head and foot."""
        edge = EDGE / POINT
        return [word for word in self.words if edge <= word.top and word.bottom <= self.height - edge]


def sides(pdf: Path) -> list[Side]:
    """What stands on paper, as a reader of PDF that is not ours finds it."""
    found = []
    box = r' xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>'
    told = subprocess.run(["pdftotext", "-raw", "-bbox", str(pdf), "-"], capture_output=True, text=True, check=True)
    for page in told.stdout.split('<page width="')[1:]:
        width, height = (float(text) for text in re.findall(r"[\d.]+", page)[:2])
        boxes = re.findall(box, page)
        found.append(Side(width, height, [Word(*map(float, edges), unescape(text)) for *edges, text in boxes]))
    return found


def leaves(container: LTContainer[Any], kind: type[Leaf]) -> Iterator[Leaf]:
    """All letters, or all lines, that are drawn on a page."""
    for item in container:
        if isinstance(item, LTContainer):
            yield from leaves(item, kind)
        elif isinstance(item, kind):
            yield item


def squashed(text: str) -> str:
    """Without blanks, which a line break or a column may take away or add."""
    return "".join(text.split()).replace("\N{SOFT HYPHEN}", "")


def words(pages: list[Side], *, body_only: bool = False) -> str:
    """All letters of the pages; the body's only, where a text that runs over a page is not to be cut by head and foot."""
    return squashed("".join(word.text for page in pages for word in (page.body if body_only else page.words)))


def stands_in(said: str, text: str) -> bool:
    """Whether it stands in the text, whole or in two parts, as it does where it runs over a column or a page."""
    return said in text or any(said[:cut] in text and said[cut:] in text for cut in range(9, len(said) - 9))


def pictures(pdf: Path) -> Iterator[list[bytes]]:
    """The pages as a printer lays them down: their rows of grey dots, two a millimetre. A line that is thinner than a dot
    greys it."""
    raw = subprocess.run(
        ["pdftoppm", "-r", str(DOTS * 25.4), "-gray", str(pdf)], capture_output=True, check=True
    ).stdout
    while raw:
        kind, size, _, rest = raw.split(b"\n", 3)
        assert kind == b"P5"
        width, height = map(int, size.split())
        yield [rest[row * width : (row + 1) * width] for row in range(height)]
        raw = rest[width * height :]


def inked(picture: list[bytes]) -> bool:
    """Whether there is ink where a home printer leaves the paper white."""
    edge, white = int(WHITE * DOTS), b"\xff" * len(picture[0])
    both = white[: 2 * edge]
    return any(row != white for row in (*picture[:edge], *picture[-edge:])) or any(
        row[:edge] + row[-edge:] != both for row in picture
    )


# The form of a live card, filled in anew.
SET = """own => {
    const live = document.querySelector(".bw-live");
    live?.querySelector("[data-act=reset]").click();
    for (const name in own) {
        const field = live.querySelector(`[data-field=${name}] :is(input, select)`);
        field.value = own[name];
        field.dispatchEvent(new Event("input", { bubbles: true }));
    }
}"""


@dataclass
class Press:
    """A page of the browser that all is printed from, and what comes out of it."""

    page: Page
    site: Path
    pdf: Path

    def open(self, path: str, shop: str = "", inputs: Mapping[str, str] | None = None, *, whole: bool = False) -> Page:
        """A page of the site as it comes or as a reader sets it, a card with its second sheet or without. What stands
        there already is not loaded again."""
        address = (self.site / path / "index.html").as_uri()
        if re.split("[?#]", self.page.url)[0] != address:
            self.page.goto(address)
        show(self.page, "screen")
        own = {name: text for name, text in (inputs or {}).items() if name != "shop"}
        if shop := shop or (inputs or {}).get("shop", ""):
            self.page.locator(f"#bw-shop-{shop}").evaluate("choice => choice.click()")
        self.page.evaluate(SET, own)
        if own:
            self.page.wait_for_function("globalThis.bondwrightDrawings", polling=20)
        self.page.locator("#bw-print-whole").evaluate_all(
            "(boxes, on) => boxes.forEach(box => box.checked = on)", whole
        )
        return self.page

    def print(self, paper: str) -> list[Side]:
        """Print what stands there on a paper, set as the option `paper` sets it."""
        swap = "paper => { for (const style of document.querySelectorAll('style'))"
        swap += " style.textContent = style.textContent.replace(/size: (A4|Letter)/, `size: ${paper}`); }"
        self.page.evaluate(swap, paper)
        self.page.pdf(path=str(self.pdf), prefer_css_page_size=True)
        return sides(self.pdf)


@pytest.fixture
def press(unseen: Page, site: Path, tmp_path: Path) -> Press:
    return Press(unseen, site, tmp_path / "printed.pdf")


@pytest.fixture(scope="module", params=sorted(LIBRARY.cards))
def name(request: pytest.FixtureRequest) -> str:
    """A card. The tests of one follow each other, so that it is loaded once for them."""
    return str(request.param)


def orphans(side: Side) -> list[str]:
    """Headings with nothing of their column below them."""
    middle = side.width / 2
    found = []
    for at, right in {(round(word.bottom), word.left > middle) for word in side.words if word.size > HEADING}:
        column = [word for word in side.words if (word.left > middle) == right]
        if not any(word.size <= HEADING and at < word.bottom < at + 45 for word in column):
            found.append("".join(word.text for word in column if round(word.bottom) == at))
    return found


def show(page: Page, media: Literal["print", "screen"]) -> None:
    """Have the browser show a page as one of them does. To be told so once more would have it lay out all again."""
    if page.evaluate("media => matchMedia(media).matches", media) is False:
        page.emulate_media(media="print" if media == "print" else "null")


# The texts of parts by what chooses them.
SHOWN = """all => all.map(chosen => [...document.querySelectorAll(chosen)]
    .filter(part => part.getClientRects().length).map(part => part.innerText))"""


def shown_in_print(page: Page, selector: str) -> list[str]:
    """The text of every part that the printer shows, without blanks."""
    return each_shown_in_print(page, selector)[0]


def each_shown_in_print(page: Page, *selectors: str) -> list[list[str]]:
    """The same of several kinds of parts, asked for at once."""
    show(page, "print")
    return [[squashed(text).removesuffix("¶") for text in texts] for texts in page.evaluate(SHOWN, selectors)]


# A card as most print it, and jobs that say more than it does as it came: several mixes, long waits; no bed, no pads, no
# fillet.
JOBS = {
    "as it came": {"shop": "metric"},
    "large and cold": {"thread": "M16", "N": "12", "T_a": "10 °C", "shop": "metric"},
    # Of what is warned of, as much at a time as a search of thousands of jobs found.
    "full": {
        "thread": "M22x2",
        "hardener": "fast",
        "m_min": "150 g",
        "n_h": "10",
        "t_1": "4.6 min",
        "w_a": "0 %",
        "shop": "metric",
    },
    "bare": {"thread": "1/2-13 UNC", "t_m": "0 in", "r_f": "0 in", "q_sk": "0 in", "shop": "inch"},
}


def taken(name: str, inputs: Mapping[str, str]) -> dict[str, str]:
    """What a card asks for of a job, and has in its range."""
    card, found = LIBRARY.cards[name], {"shop": inputs["shop"]}
    for key in (key for key in inputs if key in card.givens):
        with suppress(InputError):
            reckon(LIBRARY, card, {"shop": inputs["shop"], key: inputs[key]})
            found[key] = inputs[key]
    return found


@pytest.mark.parametrize("setting", JOBS)
def test_a_card_prints_as_a_bench_side_and_what_explains_it(press: Press, name: str, setting: str) -> None:
    """As it came on the paper of most; as set on the shorter one; bare in the shop with the longer numbers, and with the
    second sheet as well."""
    card, whole = LIBRARY.cards[name], setting == "bare"
    own = taken(name, JOBS[setting])
    page = press.open(f"cards/{name}", inputs=own, whole=whole)
    pages = press.print("A4" if setting == "as it came" else "Letter")
    told = "[data-s=minds], ol.bw-steps :is(h3, .bw-do, .bw-wrong.bw-stays), .bw-cautions .bw-caution"
    told += ", .bw-record.bw-stays p:nth-child(-n + 4), .bw-worked-for > span:not(.bw-told) b"
    if whole or setting == "as it came":
        told += ", ol.bw-steps :is(.bw-see, .bw-wrong), .bw-record p"
    stops, done = each_shown_in_print(page, ".bw-stop", told)
    # All that is told to do it, and not to be hurt, fits on the back; with all the rest it fills more than one side. A
    # card that stops has one side, and says why there once.
    assert len(pages) == (1 if stops else 3 if whole else 2)
    assert [place for place, side in enumerate(pages[:2], 1) if half_empty(side)] == []
    # Whatever gives way, nothing of what is done or can hurt does.
    text = words(pages[-1:] if stops else pages[1:], body_only=True)
    assert [said for said in done if not stands_in(said, text)] == []
    if stops:
        assert len(stops) == 1
        # It tells no times, numbers or steps of work that it refuses.
        assert shown_in_print(page, ".bw-clock p, .bw-numbers tr, .bw-lines li, .bw-steps li") == []
        assert words(pages).count(squashed("No number:")) == stops[0].count(squashed("No number:")) > 0
    else:
        assert bench_faults(page, pages[0]) == []
        explained(page, name, own, whole=whole)
    # Smaller letters are for languages that say it at greater length.
    assert stops or median(word.size for word in pages[1].words) == pytest.approx(9, abs=0.01)
    assert (squashed("This card is set for") in words(pages[:1])) == (len(own) > 1)
    if setting == "as it came":
        says_whose_it_is(card, pages)
    assert squashed(card.title) in words(pages[:1])
    assert squashed("Do not use it when") in text
    assert squashed(card.not_when[0].split("{")[0][:20]) in words(pages[:2])
    for other in (
        "Worked example",
        "All job sheets",
        "Unified, coarse (UNC)" if own["shop"] == "metric" else "ISO metric, coarse",
    ):
        assert squashed(other) not in words(pages, body_only=True)
    assert [place for place, picture in enumerate(pictures(press.pdf), 1) if inked(picture)] == []
    assert [orphans(sheet) for sheet in pages[1:] if orphans(sheet)] == []
    # Every step's drawing is of the job, or was none of the card as it came.
    page.locator("#bw-print-whole").evaluate("box => box.checked = true")
    figures = ".bw-steps > li:not([hidden]) figure"
    drawn_anew = page.eval_on_selector_all(figures, "all => all.filter(one => one.getClientRects().length).length")
    came = page.eval_on_selector_all(figures, f"all => all.filter(one => one.dataset.shop === '{own['shop']}').length")
    assert drawn_anew == (0 if stops else came)
    assert came > 0


@pytest.mark.parametrize(
    ("name", "paper", "own"),
    [
        ("backing-plate", "Letter", {"shop": "inch", "thread": "1/4-20 UNC", "F_n": "300 lbf", "T": "3/4 in", "N": "6", "T_a": "75 degF", "hardener": "slow"}),
        ("bonded-stepped-hole", "A4", {"shop": "metric", "thread": "M12", "T": "150 mm", "n_h": "4", "N": "2", "a_b": "120 mm", "b_b": "80 mm", "T_a": "24 degC", "hardener": "slow"}),
    ],
)  # fmt: skip
def test_what_to_do_where_a_step_went_wrong_gives_way_last_but_the_loads(
    press: Press, name: str, paper: str, own: dict[str, str]
) -> None:
    """A sign to stop is worth more than how a load was reckoned."""
    page = press.open(f"cards/{name}", inputs=own)
    pages = press.print(paper)
    text = words(pages[1:], body_only=True)
    assert len(pages) == 2
    assert [said for said in shown_in_print(page, "ol.bw-steps .bw-wrong") if not stands_in(said, text)] == []
    assert squashed("Went wrong") in text
    assert shown_in_print(page, ".bw-trust tbody tr")


def test_every_card_keeps_to_its_two_sides_in_german(unseen: Page, tmp_path_factory: pytest.TempPathFactory) -> None:
    """As it comes, on the paper of those who read it: all that is told to do it, and not to be hurt, is there."""
    house = copy_house(HOUSE, tmp_path_factory.mktemp("german"))
    for path in [*house.glob("docs/*.md"), *house.glob("docs/assets/*.js")]:
        path.unlink()  # what is said in a language is made
    set_option(house, "units: both", "units: metric\n      languages: [de]")
    press = Press(unseen, build_once(tmp_path_factory, "german-site", house), house / "printed.pdf")
    faults = {}
    for name in sorted(LIBRARY.cards):
        page = press.open(f"cards/{name}")
        pages = press.print("A4")
        text = words(pages[1:], body_only=True)
        told = shown_in_print(page, "ol.bw-steps :is(h3, .bw-do, .bw-wrong.bw-stays), .bw-cautions .bw-caution")
        lost = [said for said in told if not stands_in(said, text)]
        if len(pages) != 2 or lost:
            faults[name] = (len(pages), lost)
        assert median(word.size for word in pages[1].words) > 8.49, name
    assert faults == {}


def test_when_each_of_several_mixes_was_made_has_room(press: Press) -> None:
    widths = {}
    for number in ("1", "12"):
        page = press.open(f"cards/{CARD}", inputs={"shop": "metric", "thread": "M16", "N": number})
        show(page, "print")
        boxes = page.locator(".bw-clock p:not([hidden])")
        widths[boxes.first.inner_text()] = [one.bounding_box()["width"] for one in boxes.all()[:2]]  # type: ignore[index]
    (one, beside), (several, others) = widths["mixed at"], widths["mixes at"]
    assert one == pytest.approx(beside, rel=0.02)
    assert several == pytest.approx(2 * others, rel=0.02)


def test_what_to_do_where_heat_went_wrong_stays(press: Press) -> None:
    """Smoke, fire and a head that shears are told of on the fullest sheet."""
    own = {"shop": "metric", "thread": "M16", "T_a": "10 degC"}
    page = press.open("cards/heat-removal", inputs=own)
    pages = press.print("Letter")
    text = words(pages[1:], body_only=True)
    told = shown_in_print(page, "ol.bw-steps .bw-wrong")
    assert len(pages) == 2
    assert len(told) == page.locator("ol.bw-steps > li:not([hidden]) .bw-wrong").count() > 8
    assert [said for said in told if not stands_in(said, text)] == []


def explained(page: Page, name: str, own: Mapping[str, str], *, whole: bool) -> None:
    """Nothing of what explains a card is left out: each step, what to see after it where it is asked for, each caution that
    holds, and each load or, once for all that have none for it, the reason."""
    card = LIBRARY.cards[name]
    reckoning = reckon(LIBRARY, card, own, extra=card.loads)
    steps = page.locator("ol.bw-steps > li:not([hidden])").count()
    parts = (".bw-see", "ol.bw-steps h3", "ol.bw-steps .bw-do", ".bw-cautions .bw-caution", ".bw-trust tbody tr")
    see, heads, does, warned, trusted = each_shown_in_print(page, *parts)
    assert len([said for said in see if said]) == (steps if whole else 0)
    assert len(heads) == len(does) == steps > 2
    cautions = [key for key in card.all_cautions if reckoning.holds(card.stands_when(key, LIBRARY.cautions[key]))]
    assert len(warned) == len(cautions)
    loads = [symbol for symbol in card.loads if reckoning.has(symbol)]
    assert len(trusted) == len(loads) + len(reckoning.working.reasons(card.loads))


def half_empty(side: Side) -> bool:
    """Whether the lowest word stands far up."""
    return max(word.bottom for word in side.body) < 0.6 * side.height


# Of the numbers that are used, and of all else on a bench side but an index.
LARGE, READABLE = 18, 11


def bench_faults(page: Page, sheet: Side) -> list[str]:
    """What is wrong with a bench side: not all there, too many words, or too small to be read from an arm's length."""
    text = words([sheet])
    texts = ":is(.bw-bench-head, .bw-numbers :is(th, b, td > span), .bw-clock p, .bw-lines li > span)"
    said, lines, steps = each_shown_in_print(page, f".bw-bench {texts}", ".bw-lines > li", ".bw-steps > li")
    faults = [one for one in said if one not in text]
    if len(lines) != len(steps):
        faults.append("a step is not on the bench side")
    if squashed("Use it when") in text:
        faults.append("what explains the card stands on it")
    # The drawing's own words and indices apart.
    parts = page.eval_on_selector_all(
        ".bw-bench :is(.bw-bench-head, .bw-numbers tr, .bw-clock p, .bw-lines li > span)",
        "all => all.filter(one => one.getClientRects().length).map(one => one.innerText)",
    )
    told = [word for part in [*parts, FOOT] for word in re.split(r"[ \n\t]+", part) if re.search(r"\w", word)]
    # What is set, and why there is a number no longer, is told besides.
    if len(told) > MOST_WORDS:
        faults.append(f"{len(told)} words")
    indices = "".join(page.eval_on_selector_all(".bw-bench svg tspan", "all => all.map(one => one.textContent)"))
    small = "".join(word.text for word in sheet.words if word.size < READABLE - 0.01)
    if set(small) - set(indices):
        faults.append(f"letters under {READABLE} pt: {small}")
    numbers = page.eval_on_selector_all(".bw-numbers td > b", "all => all.map(one => getComputedStyle(one).fontSize)")
    if not numbers or min(float(size.removesuffix("px")) * 0.75 for size in numbers) < LARGE - 1e-6:
        faults.append(f"numbers under {LARGE} pt: {numbers}")
    return faults


def test_a_card_with_a_slip_prints_what_is_wrong_on_one_side(press: Press) -> None:
    """A depth that is none, the second sheet asked for or not."""
    for whole in (False, True):
        page = press.open("cards/bonded-stepped-hole", inputs={"shop": "metric", "T": "-5 mm"}, whole=whole)
        assert len(press.print("A4")) == 1
        (said,) = shown_in_print(page, ".bw-stop")
        assert said == squashed("Stop here. Hole depth: for a through hole, the thickness of the wood: give 0 or more")


def test_letters_and_drawings_of_a_printed_card_are_large_enough(press: Press, name: str) -> None:
    page = press.open(f"cards/{name}", "metric", whole=True)
    show(page, "print")
    screen = page.viewport_size
    assert screen
    page.set_viewport_size({"width": 733, "height": 1000})
    body, leading, lettering, widths = page.evaluate(
        """() => {
            const seen = element => element.getClientRects().length > 0;
            const texts = [];
            const walk = document.createTreeWalker(document.querySelector('article'), NodeFilter.SHOW_TEXT);
            while (walk.nextNode()) {
                const parent = walk.currentNode.parentElement;
                if (!walk.currentNode.data.trim() || !seen(parent) || parent.closest('svg, sub, sup, math, style')) continue;
                texts.push([parseFloat(getComputedStyle(parent).fontSize), walk.currentNode.data]);
            }
            const lines = document.querySelectorAll('.bw-why :is(p, li, td):not(.bw-record p, .bw-sizes td)');
            const leading = [...lines].filter(seen).map(line => getComputedStyle(line)).map(
                style => parseFloat(style.lineHeight) / parseFloat(style.fontSize));
            const drawings = [...document.querySelectorAll('figure svg')].filter(seen);
            const letters = drawings.flatMap(svg => [...svg.querySelectorAll('text')].map(
                text => parseFloat(getComputedStyle(text).fontSize) * svg.getScreenCTM().a));
            return [texts, leading, letters, drawings.map(svg => svg.getBoundingClientRect().width)];
        }"""
    )
    page.set_viewport_size(screen)
    assert len(body) > 60
    small = [said for size, said in body if size * 0.75 < 9 - 1e-6]
    assert small == []
    assert len(leading) > 40
    assert min(leading) >= 1.2 - 1e-6
    assert len(widths) >= 5
    assert min(lettering) * 0.75 >= 9
    assert min(widths) * 25.4 / 96 >= 40


@pytest.mark.parametrize(("name", "paper"), [("bonded-stepped-hole", "A4"), ("heat-removal", "Letter")])
def test_the_working_prints_when_it_is_asked_for(press: Press, name: str, paper: str) -> None:
    page, pages = press.open(f"cards/{name}/working"), press.print(paper)
    assert len(pages) > 1
    text = words(pages)
    for heading in ("Worked example", "Check values", "Sources"):
        assert squashed(heading) in text
    lines = shown_in_print(page, ".bw-answer")
    assert len(lines) > 20
    assert [line for line in lines if line not in text] == []
    assert not any(map(inked, pictures(press.pdf)))
    for sheet in pages:
        assert orphans(sheet) == []


def says_whose_it_is(card: Card, pages: list[Side]) -> None:
    """On every side, at its head and its foot."""
    for place, sheet in enumerate(pages, 1):
        text = words([sheet])
        assert squashed(card.title) in text
        # The bench side has only who decides.
        assert (f"Cardrevision{card.revision}" in text) == (place > 1)
        assert (squashed(f"Data of {day_in_words(LIBRARY.dated)}") in text) == (place > 1)
        assert (f"Bondwright{VERSION}" in text) == (place > 1)
        assert "Itcertifiesnothing" in text
        assert f"{place}of{len(pages)}" in text


def told_by(pdf: Path, *how: str) -> list[str]:
    """The text of each page, without blanks and hyphens: a word broken at its hyphen comes back without it."""
    text = subprocess.run(["pdftotext", *how, str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    return [squashed(page).replace("-", "") for page in text.removesuffix("\f").split("\f")]


@pytest.mark.parametrize("paper", PAPERS)
def test_the_way_to_a_card_prints_on_one_sheet_with_the_answers_that_lead_there(press: Press, paper: str) -> None:
    page = press.open("which-fixing", "inch")
    press.print(paper)
    front, back = told_by(press.pdf)
    asked = shown_in_print(page, ".bw-choose fieldset label, .bw-choice :is(h3, p)")
    assert len(asked) > 40
    assert [text for text in asked if not stands_in(text.replace("-", ""), front)] == []
    assert LIBRARY.chooser is not None
    assert sum(text.startswith("Answers.") for text in asked) == len(LIBRARY.chooser.choices)
    cells = shown_in_print(page, "td")
    assert len(cells) > 30
    assert [text for text in cells if not stands_in(text.replace("-", ""), back)] == []
    assert [picture for picture in pictures(press.pdf) if inked(picture)] == []


def test_the_handout_begins_every_card_where_its_contents_say(press: Press) -> None:
    # On the shorter paper, in the shop with the longer numbers.
    page = press.open("print/handout", "inch")
    press.print("Letter")
    marks = page.eval_on_selector_all("[clip-path] > path", "all => all.map(one => one.getAttribute('d'))")
    assert len(marks) > 500
    assert all(marks)
    # Of lines and letters alone, no pictures: to be sent about, and printed at once.
    assert press.pdf.stat().st_size < 5_000_000
    pages = told_by(press.pdf)
    ordered = [name for cards in chosen(LIBRARY, SiteOptions()).cards_by_group.values() for name in cards]
    titles = {name: squashed(LIBRARY.cards[name].title).replace("-", "") for name in ordered}
    # Front and back of the contents' sheet, then two sheets a card, which begin on a right-hand side.
    assert len(pages) == 2 + SIDES * len(LIBRARY.cards)
    assert all(f"{place}of{len(pages)}" in side for place, side in enumerate(pages, 1))
    (contents,) = told_by(press.pdf, "-layout", "-l", "1")
    for name, first in first_sides(ordered).items():
        assert first % 2 == 1
        assert f"{titles[name]}{first}" in contents, name
        assert all(titles[name] in side for side in pages[first - 1 : first - 1 + SIDES]), name
        purpose = squashed(LIBRARY.cards[name].purpose.split("{")[0]).replace("-", "")[:60]
        assert [place for place, side in enumerate(pages, 1) if purpose in side] == [first + 1], name


@pytest.mark.parametrize("name", [name for name, table in LIBRARY.reference.items() if table.wall])
def test_a_sheet_for_the_wall_has_a_side_a_grid_in_large_letters(press: Press, name: str) -> None:
    """On the shorter of the papers, in the shop with the longer numbers."""
    page, pages = press.open(f"print/wall-{name}", "inch"), press.print("Letter")
    assert len(pages) == page.locator("[data-shop='inch'] .bw-grid").count() > 0
    # The indices of symbols are set smaller.
    indices = page.evaluate("[...document.querySelectorAll('sub')].map(sub => sub.textContent).join('')")
    # Its signs are of other fonts, so letter by letter.
    edge = EDGE / POINT
    for sheet in extract_pages(press.pdf, laparams=None):
        letters = [item for item in leaves(sheet, LTChar) if edge <= item.y0 and item.y1 <= sheet.height - edge]
        letters = [item for item in letters if item.get_text().strip()]
        small = "".join(item.get_text() for item in letters if item.size < 11.99)
        assert set(small) <= set(indices), small
        assert min(item.size for item in letters) >= 8
    text = words(pages)
    heads = shown_in_print(page, "tbody th")
    assert heads
    assert [head for head in heads if head not in text] == []
    # Numbers to be read from across the shop, and a sign where there are none.
    numbers = page.eval_on_selector_all(
        "[data-shop='inch'] .bw-sizes:not(:has(td.bw-text)) td",
        "all => all.map(one => parseFloat(getComputedStyle(one).fontSize))",
    )
    assert min(numbers, default=LARGE / 0.75) * 0.75 >= LARGE - 1e-6
    rows = page.eval_on_selector_all(
        "[data-shop='inch'] tbody tr",
        "rows => rows.map(row => [[...row.cells].some(cell => cell.textContent === '—'),"
        " getComputedStyle(row.cells[0], '::after').content.includes('✕')])",
    )
    assert [row for row in rows if row[0] != row[1]] == []


# Those that have as many columns as could be too many for the paper.
WIDE = [name for name, table in LIBRARY.reference.items() if len(table.columns) >= 6 or table.each]


@pytest.mark.parametrize("name", sorted(WIDE))
def test_a_table_prints_whole_with_its_heads_in_words(press: Press, name: str) -> None:
    """On the narrower of the papers, in the shop with the longer numbers; the working only when it is asked for."""
    page, pages = press.open(f"tables/{name}", "inch"), press.print("A4")
    text = words(pages, body_only=True)
    shown = shown_in_print(page, ".bw-sizes :is(caption, tbody th, .bw-words)")
    assert len(shown) > 4
    assert [part for part in shown if not stands_in(part, text)] == []
    rows = page.eval_on_selector_all("[data-shop='inch'] .bw-sizes tbody tr", "rows => rows.length")
    assert len(shown_in_print(page, ".bw-sizes tbody th")) == rows > 0
    assert squashed("How it was worked") not in text
    assert not any(map(inked, pictures(press.pdf)))


def test_a_table_prints_its_working_when_it_is_asked_for(press: Press) -> None:
    asked = press.open("tables/threads").locator("#bw-print-working")
    asked.evaluate("box => box.click()")
    pages = press.print("A4")
    asked.evaluate("box => box.click()")
    text = words(pages, body_only=True)
    assert squashed("How it was worked") in text
    assert squashed("Check values") in text


# True sizes


def span(items: list[LTCurve]) -> Box:
    xs = [x * POINT for item in items for x, _ in item.pts]
    ys = [y * POINT for item in items for _, y in item.pts]
    return min(xs), min(ys), max(xs), max(ys)


AID_THREADS = [("M4", "metric"), ("M8", "metric"), ("M20", "metric"), ("1/4-20 UNC", "inch"), ("3/4-10 UNC", "inch")]


def measure(pdf: Path, values: Mapping[str, float], shop: str) -> None:
    """Bars, holes and marks of an aid on paper, within 0.2 mm."""
    sheet: LTPage
    (sheet,) = extract_pages(pdf, laparams=None)
    curves = [*leaves(sheet, LTCurve)]
    lengths = [(box[2] - box[0], box[3] - box[1]) for box in (span([item]) for item in curves)]

    def drawn_to(width: float, height: float) -> list[LTCurve]:
        return [
            item
            for item, (wide, high) in zip(curves, lengths, strict=True)
            if abs(wide - width) <= 0.2 and abs(high - height) <= 0.2
        ]

    # The bars, and nothing else as long and flat.
    assert len(drawn_to(100, 0)) == 1
    assert len(drawn_to(101.6, 0)) == 1
    # Both rings of both holes, their centres the spacing apart.
    rings = drawn_to(values["D_o"] * 1000, values["D_o"] * 1000)
    assert len(rings) == 2
    assert len(drawn_to(values["D_g"] * 1000, values["D_g"] * 1000)) == 2
    centres = sorted((box[0] + box[2]) / 2 for box in (span([ring]) for ring in rings))
    assert centres[1] - centres[0] == pytest.approx(values["a_h"] * 1000, abs=0.2)
    # The marks on the strip, from the zero that the first ring is drawn at, as the shop rounds them.
    marks = sorted(span([item])[0] for item in drawn_to(0, 13))
    step = 1.0 if shop == "metric" else 25.4 / 16
    # The guide drill's goes up, so that its full width comes through.
    rounded = {"M_o": round, "M_g": math.ceil}
    wanted = sorted(way(round(values[name] * 1000 / step, 6)) * step for name, way in rounded.items())
    assert [mark - centres[0] for mark in marks if mark - centres[0] > 1 and mark - centres[0] < 160] == pytest.approx(
        wanted, abs=0.2
    )


@pytest.mark.parametrize(("thread", "shop"), AID_THREADS)
@pytest.mark.parametrize("paper", PAPERS)
def test_a_drilling_aid_is_true_to_size(press: Press, thread: str, shop: str, paper: str) -> None:
    anchor = "-".join(re.sub(r"[^a-z0-9]", " ", thread.lower()).split())
    press.open("print/drilling-aids", shop).locator(f".bw-threads a[href='#{anchor}']").evaluate("link => link.click()")
    press.print(paper)
    values = reckon(LIBRARY, LIBRARY.reference["stepped-holes"], {"thread": thread, "shop": shop}).working.values
    measure(press.pdf, values, shop)


SET_AIDS = [
    ("bonded-stepped-hole", {"thread": "M10", "T": "60 mm", "shop": "metric"}, "85 mm", 85.0),
    ("blind-stud", {"thread": "1/2-13 UNC", "T": "4 in", "shop": "inch"}, "3 in", 76.2),
]


@pytest.mark.parametrize(("card", "inputs", "spacing", "millimetres"), SET_AIDS)
def test_a_drilling_aid_follows_the_numbers_set_on_a_card(
    press: Press, card: str, inputs: dict[str, str], spacing: str, millimetres: float
) -> None:
    page = press.open(f"cards/{card}", inputs=inputs)
    page.locator(".bw-to-aid a").dispatch_event("pointerdown")
    link = page.locator(".bw-to-aid a").evaluate("link => link.search")
    page.goto(page.url.partition("/cards/")[0] + f"/print/drilling-aids/index.html{link}")
    page.locator(".bw-set-aid svg").wait_for()
    page.locator("#aid-spacing").fill("2 m")
    assert page.locator(".bw-set-aid svg").count() == 0
    assert "No aid: 2 m" in page.locator(".bw-set-aid .bw-fault").inner_text()
    page.locator("#aid-spacing").fill(spacing)
    pages = press.print("Letter")
    worked = reckon(LIBRARY, LIBRARY.cards[card], inputs)
    lengths = {name: rounded_length(worked, name) for name in WORKED}
    measure(press.pdf, {**lengths, "a_h": millimetres / 1000}, inputs["shop"])
    assert squashed(LIBRARY.cards[card].title) in words(pages)


def test_every_thread_has_a_drilling_aid_or_a_reason(site: Path) -> None:
    html = (site / "print/drilling-aids/index.html").read_text(encoding="utf-8")
    threads = [thread.size for _, _, thread in LIBRARY.threads()]
    assert html.count('class="bw-aid-sheet"') == len(threads) > 50
    assert html.count('class="bw-aid"') + html.count("No aid:") == len(threads)
    for size in threads:
        assert f'>{size}<a class="headerlink"' in html
