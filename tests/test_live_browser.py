"""The live card in a real browser: typed values, the drawing, keyboard, phone, address, paper, a strict policy."""

from __future__ import annotations

import functools
import gzip
import http.server
import re
import shutil
import subprocess
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect

from conftest import CARD, HOUSE, settled
from generator.figures.qr_code import code_svg
from generator.live.figure_script import code_script
from generator.model.library import Library
from generator.pages.card import CardPage
from generator.pages.options import SiteOptions
from generator.reckoning import reckon

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

RUNTIME = (
    "shop.js",
    "search.js",
    "live.js",
    "paper-code.js",
    "workers.js",
    "chooser.js",
    "home.js",
    "result.js",
    "own.js",
    "card.js",
    "table.js",
)
# A phone's screen, and how many of them a card has before it is unfolded; how tall a page is with all of it laid out.
SCREEN, MOST_SCREENS = 844, 8
TALL = """() => {
    const laid = Object.assign(document.createElement("style"), { textContent: "* { content-visibility: visible !important }" });
    document.head.append(laid);
    const { scrollHeight } = document.documentElement;
    laid.remove();
    return scrollHeight;
}"""


class Strict(http.server.SimpleHTTPRequestHandler):
    """Scripts of the site's own files only. The theme's inline scripts are refused with it; ours must work all the same."""

    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", "script-src 'self'")
        super().end_headers()

    def log_message(self, *_: object) -> None:
        """Say nothing."""


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    handler = functools.partial(Strict, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.fixture
def open_card(browser: Browser, forgetful: Page, address: str) -> Iterator[Any]:
    """Open a card in the page that forgets; in one of its own where it is to remember, or has no scripts."""
    contexts = []

    def open_(
        query: str = "", *, card: str = CARD, width: int = 1280, scripts: bool = True, remembers: bool = False
    ) -> Page:
        page = forgetful
        if remembers or not scripts:
            contexts.append(browser.new_context(java_script_enabled=scripts, service_workers="block"))
            page = contexts[-1].new_page()
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(f"{address}/cards/{card}/{query}")
        if scripts:
            page.locator(".bw-live").wait_for(state="visible")
        return page

    yield open_
    for context in contexts:
        context.close()


def unfold(page: Page) -> None:
    page.locator(".bw-live > details > summary").click()


def shown(page: Page, symbol: str) -> list[str]:
    """Every text that the page has for a symbol, also where it is not in sight."""
    return [text.strip() for text in page.locator(f"[data-s='{symbol}']").all_text_contents()]


def test_typed_values_reach_every_place_and_the_drawing(open_card: Any, library: Library) -> None:
    page, held = open_card(), []
    page.route(f"**/cards/{CARD}/drawings.js", lambda route: held.append(route))
    unfold(page)
    before = page.locator(".bw-joint:visible svg").inner_html()
    came = shown(page, "L_o")
    page.select_option("#live-thread", "M12")
    page.fill("#live-T", "120")
    reckoning = reckon(library, library.cards[CARD], {"thread": "M12", "T": "120 mm"})
    for symbol in ("D_o", "D_g", "L_o", "V", "m_r", "n_s", "t_w"):
        texts = set(shown(page, symbol))
        assert texts == {reckoning.shop(symbol)}, symbol
    assert "M12" in page.locator(".bw-live-job").inner_text()
    # Until its own drawings have come, each says what it is drawn for.
    told = "nodes => nodes.filter(node => getComputedStyle(node).display !== 'none').length"
    assert page.locator(".bw-as-came").evaluate_all(told) > 3  # some of them in parts that are folded away
    assert page.locator(".bw-joint:visible .bw-as-came").is_visible()
    held[0].continue_()
    page.unroute_all()
    drawn = page.locator(".bw-joint:visible svg")
    expect(drawn).to_contain_text(reckoning.shop("D_o"))
    assert drawn.inner_html() != before
    assert page.locator(".bw-joint:visible .bw-as-came").count() == 0
    page.get_by_role("button", name="Back to the card as it came").click()
    assert page.locator(".bw-joint:visible svg").inner_html() == before
    assert shown(page, "L_o") == came
    assert page.locator(".bw-as-came:visible").count() == 0


def test_a_value_out_of_range_is_told_beside_its_field_and_no_number_stays(open_card: Any) -> None:
    page = open_card()
    unfold(page)
    page.fill("#live-T", "2000")
    fault = page.locator("#live-T-fault")
    assert "take 10 to 1000\u00a0mm" in fault.inner_text()
    field = page.locator("#live-T")
    assert field.get_attribute("aria-invalid") == "true"
    assert "live-T-fault" in (field.get_attribute("aria-describedby") or "")
    assert set(shown(page, "D_o")) == {"no number"}
    expect(page.locator(".bw-joint svg:visible")).to_have_count(0)
    # The load in the bar says so once, and why, in sight.
    load = page.locator(".bw-keys [data-none]:visible dd")
    assert load.get_attribute("data-why") == "no number: mend the fields that are marked"
    for width in (390, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        assert load.bounding_box()["width"] > 200
    page.fill("#live-T", "90")
    assert load.count() == 0
    assert fault.inner_text() == ""
    assert set(shown(page, "D_o")) == {"14\u00a0mm"}


def test_a_rule_that_refuses_says_why(open_card: Any) -> None:
    page = open_card()
    unfold(page)
    page.select_option("#live-filler", "glass-spheres")
    assert "never goes round a loaded fastener" in page.locator(".bw-live-why").inner_text()


def test_a_rule_about_a_field_is_told_beside_it(open_card: Any) -> None:
    page = open_card()
    unfold(page)
    page.fill("#live-N", "1.5")
    box = page.locator("[data-field='N']")
    assert "give a whole number of fittings" in page.locator(".bw-live-why").inner_text()
    assert "give a whole number of fittings" in box.locator(".bw-fault").inner_text()
    assert box.locator("input").get_attribute("aria-invalid") == "true"
    page.fill("#live-N", "2")
    assert box.locator(".bw-fault").inner_text() == ""
    assert box.locator("input").get_attribute("aria-invalid") is None


def test_by_keyboard_only(open_card: Any) -> None:
    page = open_card()
    page.locator(".bw-live > details > summary").focus()
    page.keyboard.press("Enter")
    for _ in range(30):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "live-T":
            break
    page.keyboard.press("Control+A")
    page.keyboard.type("100")
    assert set(shown(page, "T")) == {"100\u00a0mm"}
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # the button for more
    assert page.input_value("#live-T") == "105"
    assert set(shown(page, "T")) == {"105\u00a0mm"}


def test_on_a_phone_targets_are_large_and_nothing_scrolls_sideways(open_card: Any) -> None:
    page = open_card(width=390)
    unfold(page)
    page.locator(".bw-rare > summary").click()
    targets = page.locator(".bw-live :is(input, select, button, summary):visible")
    assert targets.count() > 30
    for target in targets.all():
        box = target.bounding_box()
        assert box["height"] >= 44 - 0.5
        assert box["width"] >= 44 - 0.5
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert page.get_attribute("#live-T", "inputmode") == "decimal"


def test_the_address_carries_what_is_set(open_card: Any) -> None:
    page = open_card()
    unfold(page)
    page.get_by_role("radio", name="inch").check()
    page.fill("#live-T", "4 1/2")
    page.select_option("#live-large_drill", "twist")
    page.wait_for_url("**large_drill**")
    query = page.evaluate("location.search")
    set_here = set(shown(page, "L_o"))
    again = open_card(query)
    assert again.locator("#bw-shop-inch").is_checked()
    assert again.input_value("#live-T") == "4 1/2"
    assert again.input_value("#live-large_drill") == "twist"
    assert set(shown(again, "L_o")) == set_here


def test_the_address_is_read_as_numbers_and_known_choices_only(open_card: Any) -> None:
    page = open_card(
        "?T=%3Cimg%20src%3Dx%20onerror%3D%22window.hit%3D1%22%3E&thread=%3Cb%3EM8%3C%2Fb%3E&a_b=70+mm&wood_2=teak&__proto__=1"
    )
    assert page.evaluate("window.hit") is None
    assert page.input_value("#live-T") == "90"
    assert page.input_value("#live-a_b") == "70"
    told = page.locator(".bw-live-said").inner_text()
    assert "Hole depth: for a through hole, the thickness of the wood: write a length" in told
    assert "Thread of the fastener: not one of the choices" in told
    assert "teak, see: " in told
    assert page.locator("img[src=x]").count() == 0


def test_each_input_that_a_card_does_not_take_is_named_with_its_value_and_what_is_near_it(open_card: Any) -> None:
    """The thickness of the wood is asked for under one name here and under another there; whoever sets the wrong one
    is not to believe that the card was worked with it."""
    page = open_card("?T=2in&F_n=2kN", card="bedded-solid")
    told = page.locator(".bw-live-passed").inner_text()
    assert told == ("2in, see: Thickness of the wood where the bolts go through; 2kN, see: form")
    assert shown(page, "T_sk")[0] == "40\N{NO-BREAK SPACE}mm"


def test_a_hole_that_another_card_is_for_is_not_asked_and_not_worked(open_card: Any) -> None:
    page = open_card("?hole=blind")
    assert "the card 'Bonded blind stud or rod'" in page.locator(".bw-live-said").inner_text()
    assert page.locator("[data-field='hole']").count() == 0
    assert page.evaluate("bondwright.work('metric', {}).titles.hole") == "through hole"


def test_the_shop_is_remembered_on_the_whole_site(open_card: Any, address: str) -> None:
    page = open_card(remembers=True)
    page.get_by_role("radio", name="inch").check()
    page.goto(f"{address}/tables/woods/")
    assert page.locator("#bw-shop-inch").is_checked()
    page.goto(f"{address}/cards/blind-stud/")
    assert page.locator("#bw-shop-inch").is_checked()


def test_copied_as_plain_text(open_card: Any) -> None:
    page = open_card("?T=100+mm")
    page.get_by_role("button", name="Copy as plain text").click()
    text = page.input_value(".bw-live-sheet")
    assert re.search(r"Oversized hole\tDo\t14 mm", text)
    assert "Wood: " in text
    assert "100 mm" in text
    assert "T=100+mm" in text


def test_the_card_prints_as_set(open_card: Any, tmp_path: Path) -> None:
    assert shutil.which("pdftotext"), "poppler-utils is not installed"
    page = open_card("?thread=M12&T=120+mm")
    pdf = tmp_path / "card.pdf"
    page.pdf(path=str(pdf), format="A4")
    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    words = " ".join(text.split())
    assert "This card is set for" in words
    assert "120 mm" in words
    # Nothing of the default job is left: neither its hole depth nor its oversized hole.
    assert "14 mm" not in words
    assert not re.search(r"\b90 mm", words)
    assert "Set your own numbers" not in words


def test_a_card_printed_as_set_carries_a_code_that_opens_it_as_set(
    browser: Browser, address: str, library: Library, tmp_path: Path
) -> None:
    query = "?thread=1%2F4-20+UNC&T=100+mm&shop=metric"
    hosted = CardPage(library, CARD, SiteOptions(address="https://example.org/boats"))
    code = (
        f'<div class="bw-code" data-scripts="paper-code.js" data-address="{hosted.address}" data-foot="{hosted.foot}">'
    )
    code += f"{hosted.page_code}</div>"

    def with_code(route: Any) -> None:
        answer = route.fetch()
        route.fulfill(
            response=answer, body=answer.text().replace('<h2 id="sizes-by-thread"', code + '<h2 id="sizes-by-thread"')
        )

    page = browser.new_page(service_workers="block")
    page.route(f"**/cards/{CARD}/*", with_code)
    page.route("**/print/code.js", lambda route: route.fulfill(body=code_script(), content_type="text/javascript"))
    page.goto(f"{address}/cards/{CARD}/?thread=1%2F4-20+UNC&T=100+mm")
    settled(page)
    pdf = tmp_path / "card.pdf"
    page.pdf(path=str(pdf), format="A4")
    link = hosted.address + query
    drawn = page.locator(".bw-code path").get_attribute("d") or ""
    assert f'd="{drawn}"' in code_svg(list(link.encode()), "")
    # The link stands at the foot of the back.
    text = subprocess.run(["pdftotext", "-f", "2", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    assert link in "".join(text.split())
    # As the card came, the generator's own code is back.
    page.get_by_role("button", name="Back to the card as it came").click()
    page.pdf(path=str(pdf), format="A4")
    assert page.locator(".bw-code title").text_content() == f"Code for {hosted.address}"
    page.close()


def test_without_scripts_the_page_is_whole_and_shows_no_dead_form(open_card: Any) -> None:
    page = open_card(scripts=False)
    assert page.locator(".bw-live").is_hidden()
    assert page.locator(".bw-joint:visible svg").count() == 1
    assert "14\u00a0mm" in (page.locator("ol.bw-steps").text_content() or "")


def test_a_memory_stick_has_live_cards(browser: Browser, site: Path) -> None:
    """A file's address has no origin: modules would not load there, plain scripts do."""
    page = browser.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto((site / f"cards/{CARD}/index.html").as_uri())
    page.locator(".bw-live").wait_for(state="visible")
    unfold(page)
    page.fill("#live-T", "100")
    assert set(shown(page, "T")) == {"100\u00a0mm"}
    assert errors == []
    page.close()


def test_every_card_is_live_and_short_on_a_phone_and_reports_no_error(
    open_card: Any, forgetful: Page, library: Library
) -> None:
    errors: list[str] = []

    def hear(error: object) -> None:
        errors.append(str(error))

    forgetful.on("pageerror", hear)
    for card in library.cards:
        page = open_card(card=card, width=390)
        page.locator(".bw-tick").first.wait_for()
        errors.clear()  # of the theme's own scripts, which the policy refuses
        assert 2 * SCREEN < page.evaluate(TALL) <= MOST_SCREENS * SCREEN, card
        unfold(page)
        page.locator(".bw-field button[value='1']").first.click()
        assert page.locator("body[data-bw-set]").count() == 1, card
        assert page.locator(".bw-live-why").inner_text() == "", card
        assert page.locator(".bw-joint:visible svg").count() == 1, card
        assert errors == [], card
    forgetful.remove_listener("pageerror", hear)


def test_on_a_phone_the_next_step_is_open_and_a_tap_opens_another(open_card: Any) -> None:
    page = open_card(width=390, remembers=True)
    steps = page.locator(".bw-steps > li:visible")
    page.locator(".bw-tick").first.wait_for()

    def opened() -> list[int]:
        return [place for place, step in enumerate(steps.all()) if step.locator(".bw-do").is_visible()]

    assert opened() == [0]
    steps.nth(0).locator(".bw-tick input").check()
    assert opened() == [1]
    page.reload()
    page.locator(".bw-tick").first.wait_for()
    assert opened() == [1]
    steps.nth(3).locator(".bw-short").click()
    assert opened() == [1, 3]
    steps.nth(3).get_by_role("button").first.press("Enter")
    assert opened() == [1]
    assert steps.nth(1).get_by_role("button").first.get_attribute("aria-expanded") == "true"
    page.get_by_role("button", name="Steps in short").click()
    assert opened() == [*range(steps.count())]
    # The clock goes on from when the epoxy was mixed, and says on its door what ends next.
    door = page.locator(".bw-timer summary")
    page.evaluate(
        "localStorage.setItem(`bondwright-mixed-${document.querySelector('.bw-keys').dataset.card}`, Date.now() - 9e5)"
    )
    page.reload()
    door.wait_for()
    assert re.fullmatch(r"Clock: holes set by · 1[23]:\d\d left", door.inner_text())
    # A wait of days is told to the hour: a day too few would be loaded too soon.
    assert "9 d 23 h left" in page.locator(".bw-timer").text_content()
    needs = page.locator(".bw-needs")
    assert needs.is_hidden()
    page.get_by_role("button", name="What you need").click()
    assert needs.is_visible()


def test_the_screen_stays_awake_beside_the_steps(open_card: Any) -> None:
    """Also after the page was put away for a while, when the browser has let go of it."""
    page = open_card()
    page.evaluate("""() => {
        Object.assign(window, { held: 0, away: false });
        const one = { release: async () => { held -= 1; } };
        Object.defineProperty(navigator, "wakeLock", { value: { request: async () => { held += 1; return one; } } });
        Object.defineProperty(document, "hidden", { get: () => away });
    }""")
    for does, held in (
        ("document.querySelector('.bw-steps').scrollIntoView()", 1),
        ("away = true", 0),
        ("away = false", 1),
        ("scrollTo(0, 0)", 0),
    ):
        page.evaluate(f"() => {{ {does}; document.dispatchEvent(new Event('visibilitychange')); }}")
        page.wait_for_function("told => held === told", arg=held)


def test_the_form_helps_on_a_phone_and_keeps_what_is_set(open_card: Any, library: Library) -> None:
    page = open_card(width=390, remembers=True)
    unfold(page)
    asked = page.eval_on_selector_all(".bw-live [data-field]", "boxes => boxes.map(box => box.dataset.field)")
    assert asked[:3] == ["thread", "T", "N"]
    # The bar takes two lines of figures, and leads nowhere before it is open.
    bar = page.locator(".bw-keys")
    assert bar.evaluate("bar => bar.offsetHeight") < 135
    assert not bar.locator("small:visible, .bw-timer:visible").count()
    bar.locator("dd a:visible").first.click()
    bar.locator(".bw-timer").wait_for()
    assert bar.locator("small:visible").count()
    bar.get_by_role("button", name="More key figures").click()
    assert bar.locator(".bw-timer").is_hidden()
    # The word in a load's stead leads to the loads at one tap, again after another part was looked at.
    for _ in range(2):
        expect(page.locator(".bw-trust")).to_be_hidden()
        bar.get_by_role("link", name="see loads").click()
        expect(page.locator(".bw-trust")).to_be_in_viewport()
        bar.get_by_role("button", name="Do", exact=True).click()
    # Turned on its side it shows all at once, and a tap changes nothing.
    page.set_viewport_size({"width": 1280, "height": 900})
    bar.locator("dt:visible").first.click()
    assert bar.get_attribute("data-spread") is None
    page.set_viewport_size({"width": 390, "height": 900})
    # The results stand in the bar; all of them are a tap away.
    assert page.locator(".bw-live-results").is_hidden()
    page.get_by_text("All worked values").click()
    assert page.locator(".bw-live-results").is_visible()
    # A fraction has a stroke, which a keyboard for decimals lacks.
    assert page.get_attribute("#live-T_a", "inputmode") == "decimal"
    page.locator("label.bw-key-shop[for='bw-shop-inch']").click()
    assert page.get_attribute("#live-T", "inputmode") == "text"
    assert page.get_attribute("#live-T_a", "inputmode") == "decimal"
    page.fill("#live-T", "3 3/4")
    page.get_by_role("button", name="Copy a link").click()
    assert "T=3+3%2F4+in" in page.input_value(".bw-live-sheet")
    # Left at once and come back to.
    page.fill("#live-T", "4 1/4")
    page.locator(".md-footer__link--next").click()
    page.wait_for_url(lambda url: CARD not in url)
    page.go_back()
    page.locator(".bw-live").wait_for(state="visible")
    assert page.input_value("#live-T") == "4 1/4"
    # A unit that is typed is the one that is shown, until a number without one is.
    for typed, unit in (("90 mm", '"mm"'), ("4 1/4", "none")):
        page.fill("#live-T", typed)
        shown = "node => getComputedStyle(node, '::after').content"
        assert page.locator("#live-T-unit").evaluate(shown) == unit
    # A fault comes in sight.
    page.fill("#live-T", "1/100")
    page.locator("#live-T").press("Tab")
    fault = page.locator("[data-field='T'] .bw-fault").bounding_box()
    assert 0 < fault["y"] < page.locator(".bw-keys").bounding_box()["y"]


def test_our_scripts_use_no_eval_and_no_page_has_handlers_of_ours(site: Path) -> None:
    paths = [HOUSE / "docs/assets" / name for name in RUNTIME] + sorted((site / "cards").glob("*/*.js"))
    scripts = {path.as_posix(): path.read_text("utf-8") for path in paths} | {"code.js": code_script()}
    for name, script in scripts.items():
        assert not re.search(r"\beval\b|new Function|innerHTML|document\.write|javascript:", script), name
    for path in sorted((site / "cards").glob("*/index.html")):
        own = path.read_text("utf-8").split('class="bw-purpose ')[1].split("</article>")[0]
        assert not re.search(r"\son[a-z]+\s*=|<script", own), path


def test_the_scripts_are_small(site: Path, library: Library) -> None:
    # All that a live card runs by; and the switch that every page has.
    assert (HOUSE / "docs/assets/live.js").stat().st_size < 12_000
    assert (HOUSE / "docs/assets/shop.js").stat().st_size < 1_800
    # Fetched when somebody first searches, before its index.
    assert len(gzip.compress((HOUSE / "docs/assets/search.js").read_bytes())) < 8_000
    # What only a card printed as set needs, and what draws its code.
    assert (HOUSE / "docs/assets/paper-code.js").stat().st_size < 1_700
    assert len(code_script()) < 10_500
    assert len(list((site / "cards").glob("*/live.js"))) == len(library.cards)


def test_the_script_of_a_card_is_small(site: Path) -> None:
    for script, most in (("live", 15_000), ("drawings", 25_000)):
        sizes = {path.parent.name: len(gzip.compress(path.read_bytes())) for path in site.glob(f"cards/*/{script}.js")}
        assert sizes
        assert not {name: size for name, size in sizes.items() if size >= most}


def test_the_page_of_a_card_is_small(site: Path, library: Library) -> None:
    pages = {path.parent.name: path.read_bytes() for path in (site / "cards").glob("*/index.html")}
    assert pages.keys() == library.cards.keys()
    for name, page in pages.items():
        assert len(page) <= 150_000, name
        assert len(gzip.compress(page)) <= 30_000, name
        assert len(re.findall(rb"<[a-z]", page)) <= 3_500, name


def test_what_goes_by_a_condition_turns_with_the_numbers(open_card: Any) -> None:
    page = open_card()
    unfold(page)
    page.locator(".bw-rare > summary").click()
    step, pads = page.locator("#bonded-stepped-hole-step-4 ~ .bw-do"), page.locator(".bw-needs tr[data-when='t_m']")
    # What is out of sight has no text.
    step.evaluate("node => { for (; node; node = node.parentElement) node.style.contentVisibility = 'visible'; }")
    expect(step).to_contain_text("three pads", use_inner_text=True)
    assert pads.is_visible()
    page.fill("#live-t_m", "0")
    assert "three pads" not in step.inner_text()
    assert "Put the fastener or both legs through" in step.inner_text()
    assert not pads.is_visible()
    page.fill("#live-t_m", "4")
    assert "three pads of 4" in step.inner_text()
    # A number is one however far below nothing: units turned round and ten thousand times as fine.
    known = page.locator(".bw-keys div:is([data-when='D_o M_o'], [data-when='D_g M_g'])")
    page.evaluate(
        "for (const way of Object.values(bondwrightCard.ways)) for (const one of Object.values(way)) one[1] *= -1e-4"
    )
    page.fill("#live-t_m", "3")
    assert sorted(text.split()[0] for text in known.locator("[data-s^='D_']").all_text_contents()) == [
        "-140000",
        "-80000",
    ]
    assert [one.get_attribute("hidden") for one in known.all()] == [None, None]
    page = open_card("?h_k=0+mm", card="bedded-solid")
    assert page.locator(".bw-steps > li:visible").count() == page.locator(".bw-steps > li").count() - 1
    page = open_card("?T_a=0+%C2%B0C&N=4")
    told = """() => [...document.querySelectorAll(".bw-card [data-s], .bw-timer [data-s]")].filter(one => !one.closest("[hidden], .bw-yours")
        && one.textContent === "no number").map(one => one.closest("tr, li, p, div, figcaption").textContent)"""
    rows = page.evaluate(told)
    assert rows
    assert all("working load" in row for row in rows), rows  # each with its reason, at the head of the page
    stops = page.locator(".bw-stop")
    assert all("°C or more" in stop for stop in stops.all_text_contents())
    assert page.locator(".bw-steps").get_attribute("hidden") is not None
    assert page.locator(".bw-lines").get_attribute("hidden") is not None
