"""The MkDocs plugin: options, a strict build, and serving while a file is edited."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from click.testing import CliRunner
from mkdocs.__main__ import cli as mkdocs_command
from mkdocs.commands.build import build, get_context
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.nav import get_navigation

from conftest import CARD, HOUSE, STUCK, set_option
from generator.kept import Kept
from generator.model.library import Library
from generator.pages.frame import MOST_LISTED, bare
from generator.plugin import BondwrightPlugin, LongList, dress


@pytest.fixture(scope="session")
def whole_house(small_project: Path) -> Path:
    """A bad option is given to a small project."""
    return small_project


def test_a_strict_build_is_clean(site: Path) -> None:
    html = (site / "cards" / CARD / "index.html").read_text(encoding="utf-8")
    assert html.count("<svg") >= 2
    assert not re.search("md-dialog|md-component=.?announce", html)  # only the theme's own script fills them
    assert "<math" in (site / "cards" / CARD / "working/index.html").read_text(encoding="utf-8")
    assert (site / "cards/cast-thread/sizes-metric-coarse.csv").read_text().startswith("thread,D_g (mm)")


@pytest.mark.parametrize(("page", "count"), [(CARD, 2), (f"{CARD}/working", 3)])
def test_links_to_the_csv_twins_lead_there(site: Path, page: str, count: int) -> None:
    folder = site / "cards" / page
    links = set(re.findall(r'href="([^"]+\.csv)"', (folder / "index.html").read_text(encoding="utf-8")))
    assert len(links) == count
    for link in links:
        assert (folder / link).is_file(), link


def test_every_link_and_anchor_of_a_memory_stick_leads_somewhere(memory_stick: Path) -> None:
    """From the file system no server turns a folder into its page."""
    link = re.compile(r'\b(?:href|src)="([^"#?:]*)(?:\?[^"#]*)?(?:#([^"=:]*))?"')
    pages = {page: page.read_text("utf-8") for page in memory_stick.rglob("*.html")}
    ids = {page: {*re.findall(r'\bid="([^"]+)"', html)} for page, html in pages.items()}
    count = 0
    for page in pages.keys() - {memory_stick / "404.html"}:  # a server shows that one
        for target, anchor in {*link.findall(pages[page])}:
            there = (page.parent / target).resolve() if target else page
            assert there.is_file(), (page, target)
            assert not anchor or anchor.startswith("__") or there not in ids or anchor in ids[there], (
                page,
                target,
                anchor,
            )
            count += 1
    assert count > 5000


@pytest.mark.parametrize(
    ("page", "path", "beside"),
    [
        (f"cards/{CARD}/working", ["../../..", "../../", "../"], "../"),
        ("print/wall-cure", ["../..", "../"], "../"),
        ("result-bonded-screw", ["..", "../trust/", "../result/"], "../result/"),
    ],
)
def test_a_page_that_no_menu_has_stands_behind_the_one_that_leads_to_it(
    site: Path, page: str, path: list[str], beside: str
) -> None:
    html = (site / page / "index.html").read_text(encoding="utf-8")
    assert re.findall(r'<a href="([^"]*)" class="md-path__link', html) == path
    first, *_ = re.findall(r'<a href="([^"]*)" class="md-footer__link md-footer__link--(\w+)', html)
    assert first == (beside, "prev")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("units: both", "units: furlongs", "Expected one of: ('both', 'metric', 'inch')"),
        ("paper: A4", "paper: A7", "Expected one of: ('A4', 'Letter')"),
        ("threads: []", "threads: [whitworth]", "no thread series 'whitworth'; near it: metric-coarse, metric-fine, unc, unf"),
        ("threads: []", "threads: 5", "Expected a list of items"),
        ("threads: []", "colour: red", "Unrecognised configuration name: colour"),
    ],
)  # fmt: skip
def test_a_bad_option_stops_the_build(
    house: Path, monkeypatch: pytest.MonkeyPatch, old: str, new: str, words: str
) -> None:
    set_option(house, old, new)
    monkeypatch.chdir(house)
    done = CliRunner().invoke(mkdocs_command, ["build", "--strict"])
    assert done.exit_code == 1
    assert words in done.output
    assert not (house / "site").exists()


def test_options_reach_the_page(memory_stick: Path) -> None:
    html = (memory_stick / f"cards/{CARD}.html").read_text(encoding="utf-8")
    assert "size: Letter" in html
    threads = (memory_stick / "cards/cast-thread.html").read_text(encoding="utf-8")
    assert "sizes-unc.csv" in threads
    assert "sizes-unf.csv" not in threads
    assert 'data-shop="metric"' not in html


def test_thread_series_shown(library: Library, memory_stick: Path) -> None:
    by_thread = {f"cards/{name}" for name, card in library.cards.items() if card.table and not card.table.over}
    files = [path.relative_to(memory_stick) for path in memory_stick.glob("cards/*/sizes-*.csv")]
    shown = sorted(path.as_posix() for path in files if path.parent.as_posix() in by_thread)
    assert shown == sorted(f"{card}/sizes-unc.csv" for card in by_thread)
    assert Path("cards/cast-seat/sizes-inch.csv") in files


def wait_for(holds: Callable[[], bool], server: subprocess.Popen[bytes]) -> None:
    """Until it holds, as long as the server lives. The limit is that of a stuck build on a machine that is overloaded."""
    end = time.monotonic() + 600
    while not holds():
        assert server.poll() is None, "the server has stopped"
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.2)


def test_serve_rebuilds_and_outlives_a_fault(small_house: Path, tmp_path: Path) -> None:
    """Spoilt at the start, mended, edited, spoilt, mended: the page follows, and a fault stands on top of the last good one."""
    set_option(small_house, "strict: false", "strict: true")
    card = small_house / f"procedures/cards/{CARD}.yaml"
    whole = card.read_text(encoding="utf-8")
    spoilt = whole.replace("title: Mark out", "titel: Mark out")
    card.write_text(spoilt, encoding="utf-8")
    port = 8000 + os.getpid() % 1000
    log = tmp_path / "serve.log"
    with log.open("w") as output:
        server = subprocess.Popen(
            [sys.executable, "-m", "mkdocs", "serve", "-a", f"127.0.0.1:{port}"],
            cwd=small_house,
            stdout=output,
            stderr=subprocess.STDOUT,
        )
    try:
        fault = "did you mean &#39;title&#39;?"

        def page_says(words: str, page: str = f"cards/{CARD}/") -> bool:
            try:
                with urlopen(f"http://127.0.0.1:{port}/{page}", timeout=STUCK) as answer:
                    return words in answer.read().decode()
            except OSError:
                return False

        wait_for(lambda: page_says(fault, ""), server)
        assert page_says("Not yet a site", "")
        assert page_says("There is no site yet.", "")
        with pytest.raises(HTTPError) as missing:
            urlopen(f"http://127.0.0.1:{port}/cards/{CARD}/", timeout=STUCK)
        told = missing.value.read().decode()
        assert fault in told
        assert '<meta http-equiv="refresh"' in told
        set_option(small_house, "strict: true", "strict: false")  # pages that its menu leads to are not here
        card.write_text(whole, encoding="utf-8")
        wait_for(lambda: page_says("Mark out"), server)
        card.write_text(whole.replace("title: Mark out", "title: Mark it out"), encoding="utf-8")
        wait_for(lambda: page_says("Mark it out"), server)
        card.write_text(spoilt, encoding="utf-8")
        wait_for(lambda: page_says(fault), server)
        assert page_says("Mark it out")
        wait_for(lambda: "unknown key 'titel'; did you mean 'title'?" in log.read_text(), server)
        assert re.search(rf"procedures/cards/{CARD}\.yaml:\d+:\d+: ", log.read_text())
        assert server.poll() is None
        card.write_text(whole.replace("title: Mark out", "title: Mark once more"), encoding="utf-8")
        wait_for(lambda: page_says("Mark once more"), server)
        assert not page_says(fault)
    finally:
        server.terminate()
        server.wait(300)


@pytest.mark.parametrize(
    "own",
    [
        {"theme": {"name": "material", "features": ["navigation.instant"]}},
        {"theme": {"name": "material", "palette": {"scheme": "slate"}}},
        {"theme": {"name": "material", "custom_dir": "tests"}},
        {"theme": {"name": "mkdocs"}},
        {"extra_javascript": ["own.js"]},
        {"extra": {"analytics": {"provider": "own"}}},
        {"markdown_extensions": ["pymdownx.tabbed"]},
    ],
)
def test_a_site_that_asks_more_of_the_theme_keeps_its_script(own: dict[str, Any]) -> None:
    config = load_config(str(HOUSE / "mkdocs.yml"))
    dress(config)
    assert bare(config)
    config = load_config(str(HOUSE / "mkdocs.yml"), **own)
    dress(config)
    assert not bare(config)


def built(site: str, kept: Kept) -> dict[Path, bytes]:
    """The site built as `serve` does, with what earlier builds kept: every file."""
    config = load_config("mkdocs.yml", site_dir=site, site_url="")
    plugin = config.plugins["bondwright"]
    assert isinstance(plugin, BasePlugin)
    plugin.kept = kept  # type: ignore[attr-defined]
    plugin.on_startup(command="serve", dirty=False)
    build(config)
    paths = [path for path in Path(site).rglob("*") if path.is_file()]
    return {path.relative_to(site): path.read_bytes() for path in paths}


def test_a_rebuild_makes_only_what_changed_and_the_same_as_a_fresh_build(
    small_house: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its menu too, here one that lists no more than two pages under a heading."""
    monkeypatch.chdir(small_house)
    monkeypatch.setattr("bondwright.plugin.MOST_LISTED", 2)
    monkeypatch.setattr("bondwright.pages.frame.MOST_LISTED", 2)
    kept = Kept()

    def change(file: str, pattern: str, new: str) -> None:
        path = small_house / "procedures" / file
        text, count = re.subn(pattern, new, path.read_text(encoding="utf-8"), count=1)
        assert count == 1
        path.write_text(text, encoding="utf-8")

    first = built("site", kept)
    for page, listed in (
        ("trial-joint", ["../", f"../{CARD}/", "./", "../"]),
        (f"{CARD}/working", ["../../", "../../blind-stud/", "../", "../../"]),
    ):
        html = first[Path("cards", page, "index.html")].decode()
        *_, menu = html.partition('id="__nav_2"')
        assert re.findall(r'<a href="([^"#]+)" class="md-nav__link', menu)[:4] == listed
        assert len(re.findall(r">\s*All 3 on one page\s*<", html)) == 1
    kept.made.clear()
    assert built("site", kept) == first
    assert not kept.made

    change(f"cards/{CARD}.yaml", "title: Mark out", "title: Mark it out")
    second = built("site", kept)
    shown = {f"{done} {page}.md" for done in ("convert", "frame") for page in (f"cards/{CARD}", "print/handout")}
    assert set(kept.made) == {f"check cards/{CARD}.yaml", f"write cards/{CARD}", *shown}
    assert first != second == built("fresh", Kept())

    change("data/drills.yaml", r"total: 511\n    sizes: \[1, 1.5, ", "sizes: [1, ")
    change("cards/blind-stud.yaml", "title: Bonded", "title: Well bonded")
    change("cards/blind-stud.yaml", "group: .*", "group: A group of its own")
    change("tables/threads.yaml", "title: ", "title: All ")
    third = built("site", kept)
    assert second != third == built("fresh", Kept())


@pytest.mark.parametrize(("shown", "listed"), [(0, (0, 30)), (14, (0, 30)), (50, (35, 65)), (99, (70, 100))])
def test_a_long_menu_lists_the_pages_about_the_one_that_is_shown(shown: int, listed: tuple[int, int]) -> None:
    """And a page that stands behind one of them is shown with it."""
    config = MkDocsConfig()
    config.load_dict({"site_name": "boats", "nav": [{"Cards": ["i/index.md", *(f"{n}.md" for n in range(100))]}]})
    config.validate()
    names = ["i/index.md", *(f"{n}.md" for n in range(100)), "working.md"]
    files = Files([File(name, "docs", "site", use_directory_urls=True) for name in names])
    nav = get_navigation(files, config)
    [section] = nav.items
    index, *pages = section.children
    behind = files.get_file_from_path("working.md").page
    behind.parent = pages[shown]
    menu = LongList(section)
    for page in (pages[shown], behind):
        section.children = []
        menu.show(page)
        first, *some, last = section.children
        assert (first, some) == (index, pages[slice(*listed)])
        assert (last.title, last.url) == ("All 100 on one page", index.url)
    menu.show(index)
    assert section.children[1:-1] == pages[:MOST_LISTED]


def test_the_name_of_a_mark_begins_no_attribute() -> None:
    config, plugin = MkDocsConfig(), BondwrightPlugin()
    config.load_dict({"site_name": "boats", "theme": {"name": "material", "logo": 'a"b.svg', "favicon": 'a"b.png'}})
    config.validate()
    dress(config)
    files = Files([])
    env = plugin.on_env(config.theme.get_env(), config=config, files=files)
    told = env.get_template("404.html").render(get_context(get_navigation(files, config), files, config))
    assert len(re.findall(r'"[^"]*a&#34;b\.(?:svg|png)"', told)) >= 2
    assert 'a"b' not in told
