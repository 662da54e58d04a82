"""*Enter a result* in a browser without a network: what it takes and refuses is what the loader takes and refuses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml
from test_browser import served

from generator.errors import Fault
from generator.evidence import series_faults
from generator.model.library import Library, Reader
from generator.model.series import Joint, Measured
from generator.model.series import TestSeries as Series
from generator.pages.options import SiteOptions
from generator.pages.result import ResultPage

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page


@pytest.fixture(scope="module")
def phone(browser: Browser) -> Iterator[Page]:
    """A phone's page with the network gone. It remembers nothing."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, offline=True)
    page = context.new_page()
    page.add_init_script("localStorage.clear()")
    yield page
    context.close()


@pytest.fixture
def page(site: Path, phone: Page) -> Iterator[Page]:
    """The page on a phone, out of a folder."""
    errors: list[str] = []

    def hear(error: object) -> None:
        errors.append(str(error))

    phone.on("pageerror", hear)
    phone.goto((site / "result/index.html").as_uri())
    phone.wait_for_selector(".bw-result:not([hidden])")
    yield phone
    phone.remove_listener("pageerror", hear)
    assert errors == []


def put(page: Page, key: str, text: str, joint: int | None = None) -> None:
    """Type into a field of the series, or into one of a joint."""
    where = f"#result-joint-{joint}-{key}" if joint else f"#result-{key}"
    field = page.locator(where)
    if field.evaluate("node => node.tagName") == "SELECT":
        field.select_option(text)
    else:
        field.fill(text)


def fault(page: Page, key: str, joint: int | None = None) -> str:
    name = f"#result-joint-{joint}-{key}-fault" if joint else f"#result-{key}-fault"
    return page.text_content(name) or ""


def written(page: Page) -> str:
    """The file that it gives, nothing while it is not whole."""
    return "" if page.locator(".bw-result-file").is_hidden() else page.input_value(".bw-result-file")


def fill(page: Page) -> None:
    put(page, "title", "M8 in white oak")
    put(page, "wood", "white-oak")
    put(page, "T", "110")
    put(page, "a_e", "35 mm")
    put(page, "gravity", "0,66")
    put(page, "moisture", "12")
    put(page, "cured", "7")
    for number, (load, failed) in enumerate([("10.2", "wood"), ("11,4 kN", "wall"), ("2250 lbf", "thread")], 1):
        if number > 1:
            page.get_by_role("button", name="Another joint").click()
        put(page, "load", load, number)
        put(page, "failed", failed, number)


def plain(text: str) -> dict[str, Any]:
    """A file as texts: to YAML at large the key `on` is a truth value."""
    data: dict[str, Any] = yaml.load(text, Loader=yaml.BaseLoader)
    return data


def loaded(library: Library, folder: Path, text: str) -> tuple[Series | None, list[Fault]]:
    """What the loader makes of a file, and what it has to say of it."""
    (folder / "tests").mkdir(exist_ok=True)
    (folder / "tests/ours.yaml").write_text(text, encoding="utf-8")
    own = replace(library, layers=(folder,), documents={}, series_pulled={}, kept={})
    faults: list[Fault] = []
    series = Reader(own, faults).read("tests/ours.yaml", Series)
    if series:
        own.series_pulled["ours"] = series
        faults += series_faults(own)
    return series, faults


def test_the_file_it_gives_is_what_was_typed(page: Page, library: Library, tmp_path: Path) -> None:
    fill(page)
    page.get_by_role("button", name="Another joint").click()
    put(page, "held", "8", 4)
    put(page, "by", 'Ann: "the elder" #2', 4)
    put(page, "on", "2026-11-28", 4)
    put(page, "note", "The scale ended, {so far}; a\ttab and a \u200bjoiner.", 4)
    series, faults = loaded(library, tmp_path, written(page))
    assert faults == []
    assert series
    assert series.title == "M8 in white oak"
    assert series.given == {
        "shop": "metric", "thread": "M8", "hole": "through", "T": "110 mm", "f_o": "0.7", "large_drill": "flat",
        "guide_drill": "twist", "a_e": "35 mm", "wood": "white-oak", "fastener": "a4-70", "resin": "general",
        "filler": "dense-mineral", "T_a": "20 °C",
    }  # fmt: skip
    assert series.measured == Measured.model_validate({"gravity": "0.66", "moisture": "12 %", "cured": "7 d"})
    assert [(one.load, one.failed, one.held) for one in series.joints[:2]] == [
        (10200, "wood", None),
        (11400, "wall", None),
    ]
    assert series.joints[2].load == pytest.approx(2250 * 4.4482216152605)
    last = series.joints[3]
    assert (last.held, last.by, str(last.on)) == (8000, 'Ann: "the elder" #2', "2026-11-28")
    assert last.note == "The scale ended, {so far}; a tab and a joiner."


def test_fields_and_file_stand_in_the_order_of_the_model(page: Page, library: Library) -> None:
    fill(page)
    for key in ("by", "note"):
        put(page, key, "so", 1)
    put(page, "on", "2026-11-28", 1)
    put(page, "note", "All alike.")
    data = plain(written(page))
    assert list(data) == [name for name in Series.model_fields if name in data]
    assert list(data["given"])[1:] == [name for name in library.cards["trial-joint"].givens if name in data["given"]]
    assert list(data["measured"]) == list(Measured.model_fields)
    assert list(data["joints"][0]) == [name for name in Joint.model_fields if name in data["joints"][0]]
    asked = page.eval_on_selector_all("[data-key]", "all => all.map(node => node.dataset.key)")
    joint = [one.name for one in ResultPage(library, "trial-joint", SiteOptions()).joint]
    assert asked == ["title", *Measured.model_fields, *joint * 3, "note"]
    assert joint == [name for name in Joint.model_fields if name != "given"]


# A field, what is typed, and how it goes into a file; whether both take it is asked of the loader.
TYPED = [
    ("note", 1, "a <b"), ("by", 1, "<"), ("load", 1, "0.05 kN"), ("load", 1, "49 N"), ("load", 1, "0 kN"), ("load", 1, "-3 kN"), ("load", 1, "10.2 kg"),
    ("load", 1, "ten"), ("load", 1, "1/2 kN"), ("load", 1, "40 kN"), ("load", 1, "33 kN"), ("load", 1, "600 kN"),
    ("held", 1, "3 kN"), ("gravity", None, "6.6"), ("gravity", None, "0.1"), ("gravity", None, "66 %"),
    ("gravity", None, "0.66 g/mL"), ("moisture", None, "120 %"), ("moisture", None, "2 %"), ("moisture", None, "0.12 %"),
    ("cured", None, "30 min"), ("cured", None, "1 h"), ("cured", None, "7 w"), ("T", None, "2 m"),
    ("T", None, "4 in"), ("T", None, "4 kg"), ("f_o", None, "3"), ("a_e", None, "35"), ("T_a", None, "300 °C"),
]  # fmt: skip


def test_it_refuses_what_the_loader_refuses(page: Page, library: Library, tmp_path: Path) -> None:
    """Each field is spoilt alone: what stood in it is typed again before the next one."""
    fill(page)
    whole = written(page)
    assert whole
    wrong = []
    for key, joint, text in TYPED:
        data = plain(whole)
        (data["joints"][0] if joint else data["given"] if key in data["given"] else data["measured"])[key] = (
            text + " mm" if key == "a_e" else text
        )
        _, faults = loaded(library, tmp_path, yaml.safe_dump(data, allow_unicode=True))
        was = page.input_value(f"#result-joint-{joint}-{key}" if joint else f"#result-{key}")
        put(page, key, text, joint)
        said = fault(page, key, joint)
        # The loader names the quantity first; of units it also lists those that fit, and it tells a range in the unit
        # that was written, the page in the shop's.
        words = said.removeprefix(f"'{text}'").lstrip(": ").partition("; give ")[0]
        alike = not faults or words in faults[0].message or key in data["given"]
        if not (bool(said) == bool(faults) != bool(written(page))) or not alike:
            wrong.append((key, text, said, faults))
        put(page, key, was, joint)
        assert written(page) == whole, (key, text)
    assert not wrong


def test_over_the_fasteners_strength_it_says_so_in_the_loaders_words(
    page: Page, library: Library, tmp_path: Path
) -> None:
    """M8 of A4-70: 700 MPa on 36.6 mm2 are 25.6 kN, and 1.3 times that are 33.3 kN."""
    fill(page)
    put(page, "load", "33.4", 1)
    text = written(page)
    assert text == ""
    put(page, "load", "33.2", 1)
    _, faults = loaded(library, tmp_path, written(page).replace("33.2 kN", "33.4 kN"))
    put(page, "load", "33.4", 1)
    assert [fault(page, "load", 1)] == [one.message for one in faults]
    assert "M8 of stainless steel A4-70 breaks from 25.6 kN on" in faults[0].message


def test_a_set_up_that_cannot_be_worked_is_refused_with_the_reason(
    page: Page, library: Library, tmp_path: Path
) -> None:
    fill(page)
    text = written(page)
    data = plain(text)
    data["given"] |= {"thread": "M24", "large_drill": "twist"}
    _, faults = loaded(library, tmp_path, yaml.safe_dump(data, allow_unicode=True))
    put(page, "thread", "M24")
    put(page, "large_drill", "twist")
    assert written(page) == ""
    assert faults[0].message in (page.text_content(".bw-result-left") or "")


def test_what_was_typed_is_kept(browser: Browser, site: Path) -> None:
    """From a server: to a page out of a folder, Chromium gives after one reload of seventy another memory than its own,
    and after the next one its own again."""
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    with served(site) as address:
        page.goto(f"{address}/result/")
        fill(page)
        before = written(page)
        assert before
        page.reload()
        assert written(page) == before
    context.close()


def test_what_is_left_is_named_and_a_joint_is_taken_out(page: Page) -> None:
    assert "Still to give: Title" in (page.text_content(".bw-result-left") or "")
    assert page.get_by_role("button", name="Save the file").is_disabled()
    fill(page)
    put(page, "load", "", 2)
    assert page.text_content(".bw-result-left") == "Still to give: joint 2."
    assert "Bonds that broke: 2. Fewer than 3" in (page.text_content(".bw-result-count") or "")
    put(page, "load", "9", 2)
    assert "9 kN" in written(page)
    page.locator(".bw-result-joint").nth(1).get_by_role("button", name="Take this joint out").click()
    assert "9 kN" not in written(page)
    assert page.locator(".bw-result-joint legend").all_inner_texts() == ["Joint 1", "Joint 2"]
    page.on("dialog", lambda dialog: dialog.accept())
    page.get_by_role("button", name="Clear everything").click()
    assert page.input_value("#result-title") == ""
    assert page.locator(".bw-result-joint").count() == 1


def test_it_saves_and_copies_the_file(page: Page, tmp_path: Path) -> None:
    fill(page)
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save the file").click()
    assert saving.value.suggested_filename == "pulled-m8-in-white-oak.yaml"
    saving.value.save_as(tmp_path / "saved.yaml")
    assert (tmp_path / "saved.yaml").read_text(encoding="utf-8") == written(page)
    page.get_by_role("button", name="Copy the file").click()
    assert page.text_content(".bw-result-told") in ("Copied.", "Not copied: copy the marked text yourself.")


def test_an_inch_shop_types_inches_and_pounds(page: Page, library: Library, tmp_path: Path) -> None:
    page.get_by_role("radio", name="inch").check()
    fill(page)
    put(page, "T", "4 1/2")
    put(page, "load", "2250", 1)
    put(page, "thread", "5/16-18 UNC")
    series, faults = loaded(library, tmp_path, written(page))
    assert faults == []
    assert series
    assert (series.given["T"], series.given["shop"]) == ("4 1/2 in", "inch")
    assert series.joints[0].load == pytest.approx(2250 * 4.4482216152605)


def test_a_card_as_set_fills_the_fields(page: Page) -> None:
    page.goto(page.url.split("?")[0] + "?thread=M10&T=95+mm&N=7&wood=nonsense")
    page.wait_for_selector(".bw-result:not([hidden])")
    assert page.input_value("#result-thread") == "M10"
    assert page.input_value("#result-T") == "95 mm"


def test_screws_have_a_page_of_their_own_by_the_same_rules(page: Page, library: Library, tmp_path: Path) -> None:
    """M8 of A4-50 has a core of 5.36 mm: 500 MPa on it are 11.3 kN, and 1.3 times that are 14.7 kN; #10 has less."""
    page.goto(page.url.replace("/result/", "/result-bonded-screw/") + "?thread=M8&L_sc=50+mm&grain=end")
    page.wait_for_selector(".bw-result:not([hidden])")
    given = {"title": "Coach screws", "wood": "douglas-fir", "a_e": "40", "gravity": "0.48", "moisture": "12"}
    for key, text in {**given, "cured": "7"}.items():
        put(page, key, text)
    for number, (load, failed) in enumerate([("9", "screw-out"), ("8.1 kN", "screw-out"), ("12", "steel")], 1):
        if number > 1:
            page.get_by_role("button", name="Another joint").click()
        put(page, "load", load, number)
        put(page, "failed", failed, number)
    assert written(page) == ""
    end_grain = fault(page, "grain")
    put(page, "grain", "across")
    assert "Screws that gave way in the wood: 2. Fewer than 3" in (page.text_content(".bw-result-count") or "")
    text = written(page)
    series, faults = loaded(library, tmp_path, text)
    assert faults == []
    assert series
    assert (series.card, series.given["L_sc"], series.joints[0].load) == ("bonded-screw", "50 mm", 9000)
    _, faults = loaded(library, tmp_path, text.replace("grain: across", "grain: end"))
    assert [one.message for one in faults] == [end_grain]
    for size, load in (("none", "14.8"), ("gauge-10", "14.8")):
        put(page, "gauge", size)
        put(page, "load", load, 1)
        changed = plain(text)
        changed["given"]["gauge"] = size
        changed["joints"][0]["load"] = f"{load} kN"
        if size != "none":
            put(page, "pilot", "wood-screw-soft")
            changed["given"]["pilot"] = "wood-screw-soft"
        _, faults = loaded(library, tmp_path, yaml.safe_dump(changed, allow_unicode=True))
        assert faults[0].message == fault(page, "load", 1)
        assert ("M8 of" if size == "none" else "#10 of") in faults[0].message
