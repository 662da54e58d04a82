"""The card in a real browser: what is seen, on a desk, on a phone, in the dark, without scripts, on paper."""

from __future__ import annotations

import functools
import gzip
import http.server
import re
import shutil
import subprocess
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote, urlsplit

import pytest
from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import expect

from conftest import CARD, HOUSE, settled
from generator.model.library import Library
from generator.reckoning import reckon

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page


class Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing."""


@contextmanager
def served(site: Path, kind: type[Quiet] = Quiet) -> Iterator[str]:
    handler = functools.partial(kind, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    with served(site) as address:
        yield address


@pytest.fixture(scope="module")
def guarded(site: Path) -> Iterator[str]:
    """The site from a server that sends the headers that the build wrote."""
    path, *headers = (site / "_headers").read_text(encoding="utf-8").splitlines()
    assert path == "/*"

    class Guarded(Quiet):
        def end_headers(self) -> None:
            for header in headers:
                self.send_header(*header.strip().split(": ", 1))
            super().end_headers()

    with served(site, Guarded) as address:
        yield address


@pytest.fixture
def open_page(browser: Browser, forgetful: Page, address: str) -> Iterator[Any]:
    """Open a page in the one that forgets; in one of its own where it is to remember, or is a reader's with options."""
    contexts = []

    def open_(path: str = f"/cards/{CARD}/", *, width: int = 1280, remembers: bool = False, **options: Any) -> Page:
        page = forgetful
        if remembers or options:
            contexts.append(browser.new_context(service_workers="block", **options))
            page = contexts[-1].new_page()
        page.emulate_media(media="null")
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(address + path)
        return page

    yield open_
    for context in contexts:
        context.close()


PAGES = [
    "/pulled/",
    "/result/",
    "/",
    "/jobs/class-dinghy/",
    "/jobs/launch-refit/",
    "/which-fixing/",
    "/trust/",
    "/cards/",
    f"/cards/{CARD}/",
    f"/cards/{CARD}/working/",
    "/tables/",
    "/tables/stepped-holes/",
    "/jobs/",
    "/reference/symbols/",
    "/reference/sources/",
    "/authoring/",
    "/hosting/",
    "/print/wall-stepped-holes/",
    "/print/drilling-aids/",
]


@dataclass
class Looked:
    """A page of the site as it was loaded, with what it asked for and what the browser reported."""

    page: Page
    asked: list[str]
    errors: list[str]


@pytest.fixture(scope="module", params=PAGES)
def looked(request: pytest.FixtureRequest, forgetful: Page, guarded: str) -> Iterator[Looked]:
    """A page, loaded once for all that is asked of it, from a server with the site's policy, under which the browser
    reports each script that it does not run."""
    one = Looked(forgetful, [], [])
    heard: dict[Any, Callable[[Any], None]] = {
        "request": lambda request: one.asked.append(request.url),
        "pageerror": lambda error: one.errors.append(str(error)),
        "console": lambda message: one.errors.append(message.text) if message.type == "error" else None,
    }
    for event, hear in heard.items():
        forgetful.on(event, hear)
    forgetful.goto(guarded + request.param)
    settled(forgetful)
    yield one
    for event, hear in heard.items():
        forgetful.remove_listener(event, hear)


def test_a_page_asks_no_other_host_and_reports_no_error(looked: Looked, guarded: str) -> None:
    assert looked.asked
    assert [url for url in looked.asked if not url.startswith((guarded, "data:", "blob:"))] == []
    assert looked.errors == []


@functools.cache
def carried(path: Path) -> int:
    """What a file weighs on its way: what is not packed yet is packed by the server."""
    content = path.read_bytes()
    return len(content if path.suffix in {".woff2", ".png"} else gzip.compress(content, 6))


def test_a_first_visit_is_light(looked: Looked, site: Path, library: Library) -> None:
    """150 kB a page, whichever card it is; the worker fetches the rest of the site when the page is there."""
    paths = {unquote(urlsplit(url).path).lstrip("/") for url in looked.asked if not url.startswith(("data:", "blob:"))}
    cards = library.cards if f"cards/{CARD}/" in paths else [CARD]
    for card in cards:
        files = [site / path.replace(f"cards/{CARD}/", f"cards/{card}/") for path in paths]
        weights = {path.name: carried(path / "index.html" if path.is_dir() else path) for path in files}
        assert sum(weights.values()) < 150_000, f"{card}: {weights}"


# Letters a line of the texts that take at least three, the longest text first.
LINES = """() => [...document.querySelectorAll("article :is(p, li, dd, figcaption)")].filter(
    node => node.checkVisibility({ contentVisibilityAuto: true }) && !node.querySelector("p, li, dd, math, svg, button, input")
  ).map(node => {
    const range = document.createRange();
    range.selectNodeContents(node);
    const lines = new Set([...range.getClientRects()].map(line => Math.round(line.bottom / 12))).size;
    return [node.innerText.length / lines, lines, node.innerText];
  }).filter(([, lines]) => lines > 2).sort((one, other) => other[0] - one[0])"""
# Screens of a small phone and a large one, of a tablet and a desk; on the last two a text may run too wide.
WIDTHS = (320, 390, 820, 1440)
WIDE = WIDTHS[2:]


@pytest.fixture(scope="module")
def laid_out(looked: Looked) -> Mapping[int, tuple[int, list[Any]]]:
    """How wide a page is on each screen, and what its texts are like on the wide ones: each laid out once."""
    found = {}
    for width in WIDTHS:
        looked.page.set_viewport_size({"width": width, "height": 900})
        looked.page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        takes = looked.page.evaluate("document.documentElement.scrollWidth")
        found[width] = (takes, looked.page.evaluate(LINES) if width in WIDE else [])
    return found


def test_no_page_scrolls_sideways(laid_out: Mapping[int, tuple[int, list[Any]]]) -> None:
    assert [width for width in WIDTHS if laid_out[width][0] > width] == []


@pytest.mark.parametrize("width", WIDE)
def test_a_line_of_text_is_as_long_as_is_easily_read(laid_out: Mapping[int, tuple[int, list[Any]]], width: int) -> None:
    """Sixty to eighty letters; the last line of a text is shorter, and so are the lines in a box."""
    assert [text for letters, _, text in laid_out[width][1] if letters > 80] == []


# What the checker goes by where only colours are in question; of what is right no more than that is told.
COLOURS = {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}
BUT_COLOURS = {name: {"enabled": False} for name in COLOURS["values"]}


# Of many alike, such as the rows of a long table, the first few show what is wrong with all. Alike are those that the
# sheets of style can't tell apart, from the root down. What holds one of another kind stays, and so does what is kept.
# Told are the kinds that are seen by now, and how many of each; the others are marked.
PUT_ASIDE = """([parts, few, kept, seen]) => {
  const kinds = new Map(), mark = node => node.tagName + [...node.attributes].map(({ name, value }) =>
    name + (/^(class|type|role|aria-[a-z]*ed)$/.test(name) ? value : ""));
  let count = Object.keys(seen).length;
  const kind = node => {
    if (!kinds.has(node)) {
      const key = (node.parentElement ? kind(node.parentElement)[0] : "") + mark(node);
      kinds.set(node, seen[key] ??= [count++, 0]);
    }
    return kinds.get(node);
  };
  const nodes = [...document.querySelectorAll(parts)];
  nodes.forEach(kind);
  for (const node of nodes) {
    if (node.closest("[data-alike]")) continue;
    const all = [node, ...node.querySelectorAll("*")];
    if (all.every(one => kind(one)[1] >= few && !one.matches(kept))) node.dataset.alike = "";
    else kind(node)[1] += 1;
  }
  return seen;
}"""


Seen = dict[str, list[int]]


def put_aside(page: Page, parts: str, seen: Seen, *, kept: str = ":not(*)") -> None:
    """Mark the many of a page that are like a few that are looked at, on it or on those that `seen` is from."""
    seen |= page.evaluate(PUT_ASIDE, [parts, 4, kept, seen])


NAMED = "all => all.flatMap(one => one.getAttribute('aria-labelledby').split(' ')).map(name => `[id='${name}']`)"


def thin_out(page: Page) -> None:
    """Take out of an article what is like what stays; every control stays with its label, and what names another. The
    checker reads no MathML, and takes minutes to say so."""
    page.eval_on_selector_all("math", "all => all.forEach(one => one.replaceChildren('1'))")
    named = page.eval_on_selector_all("[aria-labelledby]", NAMED)
    put_aside(page, "article *", {}, kept=", ".join(["label, input, select, textarea", *named]))
    page.eval_on_selector_all("[data-alike]", "all => all.forEach(one => one.remove())")


def faults(page: Page, **options: Any) -> dict[str, list[str]]:
    """What the checker finds wrong, but in formulas and in what is put aside: by its rules, where, and why."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    but = {"exclude": ["math", "[data-alike]"]}
    found = page.evaluate("given => axe.run(...given)", [but, {"resultTypes": ["violations"], **options}])
    return {
        rule["id"]: [f"{node['html']}: {node['failureSummary']}" for node in rule["nodes"]]
        for rule in found["violations"]
    }


SETTLED = (
    "Promise.allSettled(document.getAnimations().filter(one => one instanceof CSSTransition).map(one => one.finished))"
)


def colour(page: Page, scheme: str) -> None:
    """Show a page light or dark."""
    page.locator(f"input[data-md-color-scheme='{scheme}']").evaluate("choice => choice.click()")
    page.wait_for_selector(f"body[data-md-color-scheme='{scheme}']")
    # A colour on its way from one scheme to the other is neither's.
    page.evaluate(SETTLED)


@pytest.fixture(scope="module")
def seen() -> Seen:
    """Of which kinds how many have been looked at, light and dark, on the pages so far."""
    return {}


def test_a_page_is_open_to_all(looked: Looked, seen: Seen) -> None:
    page = looked.page
    page.set_viewport_size({"width": 1280, "height": 900})
    page.eval_on_selector_all("article details", "parts => parts.forEach(part => { part.open = true })")
    lay_out_all(page)
    thin_out(page)
    wrong = {"at large": faults(page, rules=BUT_COLOURS)}
    # Colours go by the sheets of style, which all pages share.
    put_aside(page, "body *", seen)
    for scheme in ("default", "slate"):
        colour(page, scheme)
        wrong[scheme] = faults(page, runOnly=COLOURS)
    assert not any(wrong.values()), wrong


# One fault of a kind, and the checker's name for it.
FAULTS = {
    "image-alt": "<img src='#'>",
    "button-name": "<button type='button'></button>",
    "link-name": "<a href='#'></a>",
    "label": "<input>",
    "list": "<ul><p>no item</p></ul>",
    "aria-roles": "<span role='nothing'>one</span>",
    "aria-valid-attr-value": "<span role='note' aria-live='loud'>one</span>",
    "color-contrast": "<b class='bw-text' style='color: #888; background: #999'>pale</b>",
}
PLANT = """(cells, html) => { cells.at(-1).innerHTML += html; }"""


def test_one_fault_among_many_alike_is_found(open_page: Any) -> None:
    """In the last cell of a long table, though all other kinds of the page were looked at before."""
    page, seen = open_page("/tables/cure/"), Seen()
    lay_out_all(page)
    for _ in range(2):
        put_aside(page, "body *", seen)
        page.eval_on_selector_all("[data-alike]", "all => all.forEach(one => one.removeAttribute('data-alike'))")
    nodes = page.locator("*").count()
    page.eval_on_selector_all("article td", PLANT, "".join(FAULTS.values()))
    thin_out(page)
    assert page.locator("*").count() < nodes / 2
    put_aside(page, "body *", seen)
    assert faults(page).keys() >= FAULTS.keys()


@pytest.mark.parametrize("path", [f"/cards/{CARD}/", "/tables/cure/"])
def test_in_forced_colours_a_choice_is_seen(open_page: Any, path: str) -> None:
    """There a ground is lost, and with it what tells of a choice."""
    page = open_page(path, width=390, forced_colors="active")
    chosen = page.locator(":is(.bw-keys, .bw-tabs) [aria-pressed='true']:visible").first
    chosen.wait_for()
    ground, other, canvas = page.evaluate(
        "one => [one, one.parentElement.querySelector('[aria-pressed=false]'), document.body]"
        ".map(node => getComputedStyle(node).backgroundColor)",
        chosen.element_handle(),
    )
    assert ground not in {other, canvas}
    thin_out(page)
    assert faults(page, runOnly=COLOURS) == {}


def test_under_its_policy_the_search_works_and_no_other_script_runs(browser: Browser, guarded: str) -> None:
    page = browser.new_page(service_workers="block")
    page.goto(guarded + "/")
    settled(page)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.locator(".bw-find-open").click()
    page.wait_for_selector(".bw-find[open]")
    page.keyboard.type("oversized hole")
    page.wait_for_selector(".bw-find li")
    assert "stepped hole" in page.locator(".bw-find ol").inner_text()
    assert [url for url in asked if url.endswith("/search/index.js")]
    errors: list[str] = []
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.evaluate("""() => {
        const stranger = document.createElement("script");
        stranger.textContent = "document.title = 1";
        document.body.append(stranger);
    }""")
    assert page.title() != "1"
    assert any("Content Security Policy" in error for error in errors)
    page.close()


def lay_out_all(page: Page) -> None:
    """Lay out what is out of sight too, which has no text and no colours until it is scrolled to."""
    page.evaluate(
        """() => {
            const sheet = new CSSStyleSheet();
            sheet.replaceSync("* { content-visibility: visible !important }");
            document.adoptedStyleSheets.push(sheet);
        }"""
    )
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")


def test_one_shop_is_shown_and_the_switch_changes_it(open_page: Any) -> None:
    page = open_page()
    lay_out_all(page)
    step = page.locator("ol.bw-steps > li", has_text="Drill the oversized hole first").locator("p.bw-do")
    assert "Drill with the 14\u00a0mm flat bit" in step.inner_text()
    assert "9/16" not in step.inner_text()
    assert page.locator("figure svg:visible").count() >= 1
    page.get_by_role("radio", name="inch").check()
    assert "Drill with the 9/16\u00a0in flat bit" in step.inner_text()
    assert "14\u00a0mm" not in step.inner_text()
    assert page.locator("figure svg:visible").count() >= 1
    page = open_page("/cards/cast-thread/")
    lay_out_all(page)
    page.get_by_role("radio", name="inch").check()
    assert page.locator("table.bw-sizes:visible").count() == 0
    page.get_by_role("button", name="Numbers").click()
    for series in ("Unified, coarse (UNC)", "Unified, fine (UNF)"):
        page.locator(".bw-tabs:visible").get_by_role("button", name=series).click()
        assert page.locator("table.bw-sizes:visible caption").all_inner_texts() == [series]


def test_the_switch_works_without_scripts_and_by_keyboard(open_page: Any) -> None:
    page = open_page("/cards/cast-thread/", java_script_enabled=False)
    page.locator("#bw-shop-metric").focus()
    page.keyboard.press("ArrowRight")
    assert page.locator("#bw-shop-inch").is_checked()
    assert page.locator("table.bw-sizes caption").nth(2).is_visible()
    assert page.locator("table.bw-sizes caption").nth(0).is_hidden()


def test_formulas_are_drawn_as_mathematics(open_page: Any) -> None:
    page = open_page(f"/cards/{CARD}/working/")
    fraction = page.locator("#metric-V_r math mfrac").first
    box = fraction.bounding_box()
    over, under = (fraction.locator(":scope > *").nth(place).bounding_box() for place in (0, 1))
    assert over["y"] + over["height"] <= under["y"] + 2  # the numerator stands above the denominator
    assert box["height"] > over["height"] + under["height"] - 4


def test_a_value_leads_to_its_working_in_the_readers_shop(open_page: Any) -> None:
    page = open_page(remembers=True)
    page.get_by_role("radio", name="inch").check()
    page.locator("ol.bw-steps a[data-s='L_o']:visible").first.click()
    page.wait_for_url("**/working/#inch-L_o")
    assert page.locator("#inch-L_o").is_visible()
    assert page.locator("#metric-L_o").is_hidden()
    assert page.evaluate("document.querySelector('#inch-L_o').getBoundingClientRect().top") < 900


def test_a_figure_has_a_title_and_a_description(open_page: Any) -> None:
    page = open_page()
    for figure in page.locator("figure svg").all():
        assert figure.get_attribute("role") == "img"
        for identifier in (figure.get_attribute("aria-labelledby") or "").split():
            text = page.locator(f"[id='{identifier}']").text_content()
            assert text
            assert len(text) >= 10
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map(element => element.id)")
    assert len(ids) == len(set(ids))


# The sizes on the screen of all lettering that is drawn in sight.
LETTERING = """() => [...document.querySelectorAll("figure svg")].filter(svg => svg.getClientRects().length).flatMap(svg =>
    [...svg.querySelectorAll("text")].map(text => parseFloat(getComputedStyle(text).fontSize) * svg.getScreenCTM().a))"""


def test_the_lettering_of_a_drawing_is_neither_small_nor_large_at_any_width(open_page: Any) -> None:
    page = open_page(width=390)
    page.get_by_role("button", name="Steps in short").click()
    lay_out_all(page)
    for width in (320, 390, 820, 1440):
        page.set_viewport_size({"width": width, "height": 900})
        sizes = page.evaluate(LETTERING)
        assert len(sizes) > 25
        assert 12 <= min(sizes) <= max(sizes) <= 18, width


@pytest.mark.parametrize("path", [f"/cards/{CARD}/", "/print/handout/"])
def test_what_is_made_for_paper_is_not_on_the_screen(open_page: Any, path: str) -> None:
    page = open_page(path)
    assert page.locator(".bw-on-paper").count() > 4
    assert page.locator(".bw-on-paper:visible").count() == 0


def test_a_long_table_scrolls_in_its_frame_and_keeps_its_first_column(open_page: Any) -> None:
    page = open_page(width=320)
    page.get_by_role("button", name="Numbers").click()
    frame = page.locator(".bw-scroll", has=page.locator("table.bw-sizes")).first
    head = frame.locator("tbody th").first
    before = head.bounding_box()["x"]
    frame.evaluate("frame => { frame.scrollLeft = 200 }")
    assert frame.evaluate("frame => frame.scrollLeft") > 100
    assert head.bounding_box()["x"] == pytest.approx(before, abs=1)


def test_the_contents_of_a_page_are_one_tap_away(open_page: Any) -> None:
    page = open_page(width=390)
    for width in (320, 390, 820):
        page.set_viewport_size({"width": width, "height": 900})
        page.click(".bw-contents-open")
        page.locator(".bw-contents a", has_text="Drill the guide hole").click()
        step = page.locator(f"#{CARD}-step-3")
        expect(step).to_be_in_viewport()
        assert step.evaluate("step => step.getBoundingClientRect().top") > 48, "it hides under the header"
        assert page.locator(".bw-contents").is_hidden()
    page.set_viewport_size({"width": 1440, "height": 900})
    assert page.locator(".bw-contents-open").is_hidden()
    assert page.locator(".md-sidebar--secondary a", has_text="Drill the guide hole").is_visible()


def test_the_themes_frame_works_without_its_script(open_page: Any) -> None:
    """Light and dark, the menu, where the reader is, the way back to the top, and what is folded on paper."""
    page = open_page(remembers=True, width=390, color_scheme="dark")
    body, drawer = page.locator("body"), page.locator("#__drawer")
    expect(body).to_have_attribute("data-md-color-scheme", "slate")
    assert page.locator("script[src*=bundle]").count() == 0
    page.get_by_title("Light").click()
    expect(body).to_have_attribute("data-md-color-scheme", "default")
    page.reload()
    expect(body).to_have_attribute("data-md-color-scheme", "default")
    expect(page.get_by_title("Dark")).to_be_visible()
    page.emulate_media(color_scheme="dark")
    expect(body).to_have_attribute("data-md-color-scheme", "default")  # the reader chose
    page.locator("label.md-header__button[for='__drawer']").click()
    expect(page.locator(".md-sidebar--primary")).to_be_in_viewport()
    page.keyboard.press("Escape")
    expect(drawer).not_to_be_checked()
    expect(page.locator(".md-top")).to_have_attribute("hidden", "")
    page.set_viewport_size({"width": 1440, "height": 900})
    page.evaluate("scrollTo(0, 4000)")
    expect(page.locator(".md-header__title--active")).to_contain_text("stepped hole")
    expect(page.locator(".md-sidebar--secondary .md-nav__link--active")).to_have_count(1)
    page.set_viewport_size({"width": 1440, "height": 420})
    page.evaluate("scrollTo(0, document.body.scrollHeight)")  # its link is brought into sight, and the menu stays
    expect(page.locator(".md-sidebar--secondary .md-nav__link--active")).to_be_in_viewport(ratio=1)
    assert not page.evaluate("document.querySelector('.md-sidebar--primary .md-sidebar__scrollwrap').scrollTop")
    page.set_viewport_size({"width": 1440, "height": 900})
    page.evaluate("scrollBy(0, -300)")
    page.locator(".md-top").click()
    expect(page.locator("h1")).to_be_in_viewport()
    expect(page.locator(".md-header__title--active")).to_have_count(0)
    label = page.locator(".md-nav--primary label[tabindex]").first
    nested = page.locator(f"#{label.get_attribute('for')}")
    before = nested.is_checked()
    label.press("Enter")
    assert nested.is_checked() != before
    folded = "document.querySelectorAll('.md-content details:not([open])').length"
    shut = page.evaluate(folded)
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert shut > page.evaluate(folded) == 0
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert page.evaluate(folded) == shut


# What the keyboard stands on: whether a ring is round it or its label, and what of the page lies over its middle.
STANDS = """() => {
    const node = document.activeElement, shown = [node, ...node.labels ?? []].find(one => one.getClientRects().length && one.offsetWidth);
    if (node === document.body) return null;
    const label = node.closest("form, div, p")?.querySelector("label:not([hidden])");
    const ring = [shown, label].some(one => one && getComputedStyle(one).outlineStyle !== "none");
    const box = (shown ?? label).getBoundingClientRect(), over = document.elementFromPoint(box.x + box.width / 2, box.y + Math.min(box.height / 2, 20));
    const free = over && ((shown ?? label).contains(over) || over.contains(shown ?? label) || over.closest("label")?.control === node);
    return [node.outerHTML.slice(0, 90), ring, !!free];
}"""


def test_the_keyboard_goes_through_a_whole_card_in_sight(open_page: Any) -> None:
    page = open_page(width=390)
    page.wait_for_selector(".bw-live:not([hidden])")
    page.locator(".bw-live details:not(.bw-all)").first.evaluate("one => { one.open = true; }")
    page.add_style_tag(content="* { transition: none !important }")
    stops = []
    while len(stops) < 400:
        page.keyboard.press("Tab")
        if (stop := page.evaluate(STANDS)) is None:
            break
        stops.append(stop)
    assert 60 < len(stops) < 400
    assert [text for text, ring, _ in stops if not ring] == []
    assert [text for text, _, free in stops if not free] == []


# The pages of a folder that a part of the page leads to, in its order.
LEADS = """part => [...new Set([...document.querySelectorAll(`${part} a`)].map(link => link.href.split("#")[0]))]
    .filter(link => link.startsWith(location.href) && link !== location.href)"""


def test_an_index_lists_in_the_order_of_the_menu(open_page: Any, address: str) -> None:
    page = open_page("/", width=1440)
    for folder in ("cards", "tables", "jobs"):
        page.goto(f"{address}/{folder}/")
        menu, index = (page.evaluate(LEADS, part) for part in (".md-nav--primary", "article"))
        assert len(menu) > 1
        # The menu shows of a group that is shut its first page.
        assert menu == [one for one in index if one in menu], folder


# What is moved while a page comes, in parts of the screen. What is kept of that is told together with how the page came,
# which there always is.
MOVED = """new Promise(done => {
    const watch = new PerformanceObserver(list => done(list.getEntriesByType("layout-shift")
        .filter(one => !one.hadRecentInput).reduce((sum, one) => sum + one.value, 0)));
    for (const type of ["layout-shift", "navigation"]) watch.observe({ type, buffered: true });
})"""


@pytest.mark.parametrize("path", ["/", f"/cards/{CARD}/", "/cards/mixing/", "/cards/bonded-bush/", "/tables/cure/"])
def test_nothing_moves_when_the_scripts_come(browser: Browser, address: str, path: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(urlsplit(request.url).path))
    page.goto(address + path)
    settled(page)
    assert page.evaluate(MOVED) < 0.02
    # Its own styles are one file, and its fonts the three that English is set in.
    assert [one for one in asked if one.endswith(".css") and "stylesheets" not in one] == ["/assets/bondwright.css"]
    assert len({one for one in asked if one.endswith(".woff2")}) <= 3
    assert not [one for one in asked if one.endswith("-more.woff2")]
    context.close()


# How many columns of numbers a phone shows of any table before it has to be pushed sideways.
IN_SIGHT = 4
# Every table's frames, put below each other in one page, and how far the last of those columns stands out of its frame.
STAND_OUT = """async ([paths, count]) => {
    const article = document.querySelector("article");
    for (const path of paths) {
        const read = new DOMParser().parseFromString(await (await fetch(path)).text(), "text/html");
        for (const grid of read.querySelectorAll(".bw-grid")) article.append(document.adoptNode(grid));
    }
    return [...article.querySelectorAll(":scope > .bw-grid")].map(grid => {
        const frame = grid.querySelector(".bw-scroll");
        const heads = [...grid.querySelectorAll("thead th:not(.bw-text)")].slice(0, count + 1);
        const cells = heads.map((_, place) => grid.querySelectorAll("tbody tr:not(.bw-yours)")[0].children[place]);
        const edge = Math.max(...[...heads, ...cells].map(cell => cell.getBoundingClientRect().right));
        return [grid.querySelector("caption").textContent, heads.length, edge - frame.getBoundingClientRect().right];
    });
}"""


def test_a_phone_shows_the_main_columns_of_every_table(open_page: Any, library: Library) -> None:
    page = open_page("/tables/", width=390)
    found = page.evaluate(STAND_OUT, [[f"/tables/{name}/" for name in library.reference], IN_SIGHT])
    assert len(found) >= 2 * len(library.reference)
    assert max(columns for _, columns, _ in found) == IN_SIGHT + 1
    assert [(title, out) for title, _, out in found if out > 1] == []


def test_a_table_keeps_the_readers_series_and_size(open_page: Any) -> None:
    page = open_page("/tables/stepped-holes/", width=390, remembers=True)
    shown = page.locator(".bw-grid:visible caption")
    expect(shown).to_have_text(["ISO metric, coarse, flat bit"])
    page.get_by_role("button", name="ISO metric, fine, flat bit").click()
    expect(shown).to_have_text(["ISO metric, fine, flat bit"])
    page.get_by_role("button", name="M10x1", exact=True).click()
    page.reload()
    expect(shown).to_have_text(["ISO metric, fine, flat bit"])
    expect(page.locator("tr[data-own]:visible th")).to_have_text(["M10x1"])
    # Another table opens where that size stands.
    page.goto(page.url.replace("stepped-holes", "threads"))
    own = page.locator("tr[data-own]:visible th")
    expect(own).to_have_text(["M10x1"])
    own.get_by_role("button").click()
    expect(own).to_have_count(0)


def test_a_hit_in_a_table_that_is_put_away_opens_it(open_page: Any) -> None:
    page = open_page("/tables/cure/#table-metric-slow-3", width=390)
    expect(page.locator(".bw-grid:visible caption")).to_have_text(["Slow"], use_inner_text=True)
    assert page.locator("tr:target").is_visible()


@pytest.mark.parametrize("path", ["/tables/cure/", f"/cards/{CARD}/"])
def test_an_address_that_cannot_be_read_stops_nothing(open_page: Any, path: str) -> None:
    page, errors = open_page("/"), list[str]()
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(page.url + f"{path[1:]}#%E0%A4%A")
    settled(page)
    page.evaluate("location.hash = '#%E0%A4%B'")
    assert page.get_by_role("button", name="Numbers" if "cards" in path else "Medium").first.is_visible()
    assert errors == []


def luminance(colour: str) -> float:
    channels = [int(part) / 255 for part in re.findall(r"\d+", colour)[:3]]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_a_card_printed_from_the_dark_is_readable(open_page: Any) -> None:
    page = open_page(color_scheme="dark")
    page.emulate_media(media="print", color_scheme="dark")
    ink, paper = page.evaluate(
        "() => { const ground = document.querySelector('.bw-cautions');"
        " const style = element => getComputedStyle(element);"
        " return [style(ground.querySelector('.bw-caution')).color, style(ground).backgroundColor]; }"
    )
    light, dark = sorted((luminance(ink), luminance(paper)), reverse=True)
    assert luminance(paper) > 0.7
    assert (light + 0.05) / (dark + 0.05) >= 7


def test_the_site_opens_from_the_file_system(browser: Browser, memory_stick: Path) -> None:
    hosting = (HOUSE / "docs/hosting.md").read_text(encoding="utf-8")
    assert "OFFLINE=true bondwright build" in hosting
    page = browser.new_page()
    page.goto((memory_stick / "index.html").as_uri())
    page.locator("a[href$='cards/index.html']:visible").first.click()
    page.wait_for_url("**/cards/index.html")
    page.get_by_role("link", name="Bonded fitting in a stepped hole").last.click()
    page.wait_for_url(f"**/cards/{CARD}.html")
    page.wait_for_selector("figure svg:visible")
    links = page.locator("a[href$='.csv']").all()
    assert links
    for link in links:
        target = link.evaluate("link => link.href").removeprefix("file://")
        assert Path(unquote(target)).is_file()
    page.close()


@pytest.mark.parametrize(("paper", "width"), [("A4", 595), ("Letter", 612)])
def test_the_card_prints_whole(open_page: Any, library: Library, tmp_path: Path, paper: str, width: int) -> None:
    assert shutil.which("pdftotext"), "poppler-utils is not installed"
    page = open_page()
    pdf = tmp_path / "card.pdf"
    page.pdf(path=str(pdf), format=paper, margin=dict.fromkeys(("top", "bottom", "left", "right"), "12mm"))
    text = subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    words = " ".join(text.split())
    card = library.cards[CARD]
    reckoning = reckon(library, card, {"shop": "metric"})
    for step in card.steps:
        assert step.title in words
    for caution in (library.cautions[key] for key in card.all_cautions):
        assert (caution.text[:40] in words) == reckoning.holds(caution.when)  # as it comes it has no oily wood
    assert "9/16 in" not in words
    assert "Search" not in words
    boxes = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    edges = [float(edge) for edge in re.findall(r'xMax="([\d.]+)"', boxes)]
    # A home printer leaves 5 mm white.
    assert max(edges) <= width - 5 / 25.4 * 72


def test_a_memory_stick_has_search_and_asks_no_host(browser: Browser, memory_stick: Path) -> None:
    page = browser.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((memory_stick / "tables/threads.html").as_uri())
    assert not any(url.endswith(("search.js", "search/index.js")) for url in asked)
    page.click(".bw-find-open")
    page.wait_for_selector(".bw-find[open]")
    page.keyboard.type("hardener 100 g")
    page.wait_for_selector(".bw-find li")
    assert "hardener" in page.inner_text(".bw-find ol").lower()
    page.click(".bw-find li a")
    page.wait_for_selector("tr:target")
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:", "about:"))] == []
    page.close()


def test_no_page_of_a_memory_stick_names_another_host(memory_stick: Path) -> None:
    for path in memory_stick.rglob("*.html"):
        addresses = re.findall(r'(?:src|href)="(https?://[^"]*)"', path.read_text(encoding="utf-8"))
        assert addresses == [], path.name


def test_a_job_sheet_prints_with_no_table_clipped(open_page: Any, tmp_path: Path) -> None:
    paper_width = 718  # A4 less two margins of 10 mm, at 96 dots an inch
    page = open_page("/jobs/launch-refit/", width=paper_width)
    page.emulate_media(media="print")
    wide = page.evaluate("Math.max(...[...document.querySelectorAll('.bw-job')].map(table => table.scrollWidth))")
    assert 0 < wide <= paper_width
    page.pdf(path=str(tmp_path / "job.pdf"), prefer_css_page_size=True)
    text = subprocess.run(
        ["pdftotext", "-layout", str(tmp_path / "job.pdf"), "-"], capture_output=True, text=True
    ).stdout
    for words in (
        "What falls short",
        "Held out of this plan",
        "Holes by drill",
        "Mix 5",
        "loaded no earlier than",
        "Fasteners and plates",
    ):
        assert words in text
