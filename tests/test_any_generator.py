"""The written folder, built by other generators as it is: the same words, tables, formulas and links, and a card that
works. The environments of two of them stand in the folder that BD_GENERATORS names; .ci/run makes them."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from html import unescape
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import unquote

import pytest
from filelock import FileLock
from test_browser import served

from conftest import CARD, HOUSE, STUCK, mkdocs_here, settled, shared_folder
from generator.model.library import Library
from generator.pages.folder import whole_folder
from generator.pages.tongues import tongues
from generator.settings import options_in, settings_in, site_options
from generator.starter import start
from generator.written import write_set

if TYPE_CHECKING:
    from playwright.sync_api import Browser

FEW = (
    f"cards: [{CARD}, mixing]\n      tables: [threads]\n      jobs: []\n      threads: [metric-coarse, unc]\n"
    "      languages: [en, de]"
)
# Some themes ask other hosts for what no page of ours needs.
ELSEWHERE = re.compile(r"https?://(?!127\.0\.0\.1[:/])")
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


# A tag or a comment, and an attribute in it. Python's own parser takes five times as long for these pages.
TAG = re.compile(r"""<!--.*?-->|<(/?)([a-zA-Z][^\s/>]*)((?:"[^"]*"|'[^']*'|[^>"']++)*+)>""", re.DOTALL)
ATTRIBUTE = re.compile(r"""([^\s=/"']+)(?:\s*=\s*("[^"]*"|'[^']*'|[^\s"'>]+))?""")


@lru_cache(10_000)
def attributes(rest: str) -> Mapping[str, str]:
    """What a tag says besides its name; most tags say what others say."""
    return {one: unescape(text.strip("\"'")) for one, text in ATTRIBUTE.findall(rest)}


class Page:
    """What a page says from its first heading to the end of its main part, without blanks: words, cells, formulas; and
    where its links lead."""

    def __init__(self, path: Path, site: Path) -> None:
        self.at, self.site = path, site
        self.depth, self.main, self.begun, self.silent = 0, 0, False, 0
        self.pieces: list[str] = []
        self.links: list[str] = []
        self.ids: set[str] = set()
        self.there: dict[str, str] = {}
        self.read(path.read_text(encoding="utf-8"))
        self.said = "".join(self.pieces)

    def read(self, html: str) -> None:
        """Go through the page, tag by tag."""
        place = 0
        while tag := TAG.search(html, place):
            if self.begun and not self.silent:
                self.pieces += unescape(html[place : tag.start()]).split()
            place, (closes, name, rest) = tag.end(), tag.groups()
            name = (name or "").lower()
            if closes:
                self.end(name)
            elif name:
                self.start(name, rest)
                if rest.endswith("/"):
                    self.end(name)
                elif name in ("script", "style"):
                    place = html.index(f"</{name}", place)

    def start(self, tag: str, rest: str) -> None:
        given = attributes(rest)
        if "id" in given or "name" in given:
            self.ids |= {given[name] for name in ("id", "name") if given.get(name)}
        self.depth += tag not in VOID
        if not self.main and (tag == "article" or given.get("role") == "main"):
            self.main = self.depth
        self.begun = self.begun or bool(self.main and tag == "h1")
        if self.silent or tag in ("style", "script", "nav") or given.get("class", "") in ("headerlink", "md-button"):
            self.silent += tag not in VOID
        elif self.begun and tag in ("td", "th", "math", "mfrac", "msub", "msup", "svg", "path"):
            self.pieces.append(f"<{tag}>")
        if self.begun and tag == "a" and not self.silent:
            self.links.append(self.whither(given.get("href", "")))

    def end(self, tag: str) -> None:
        if tag in VOID:
            return
        if self.main and self.depth == self.main:
            self.main, self.begun = -1, False
        self.depth -= 1
        self.silent -= bool(self.silent)

    def whither(self, link: str) -> str:
        """The file of the site that a link leads to, with its anchor; a link to elsewhere as it is."""
        if re.match(r"[a-z]+:|//", link):
            return link
        target, _, anchor = link.partition("#")
        target = unquote(target.partition("?")[0])
        if target not in self.there:
            there = Path(os.path.normpath(self.at.parent / target)) if target else self.at
            there = there / "index.html" if there.is_dir() else there
            self.there[target] = there.relative_to(self.site).as_posix()
        return f"{self.there[target]}#{unquote(anchor)}"


def pages(site: Path) -> dict[str, Page]:
    """Every page of a site but the one for what is not found."""
    found = {path.relative_to(site).as_posix(): path for path in site.rglob("*.html")}
    return {name: Page(path, site) for name, path in found.items() if name not in ("404.html", "search.html")}


def test_every_link_and_anchor_of_the_site_leads_somewhere(site: Path) -> None:
    site = site.resolve()
    there = pages(site)
    links = [(name, link) for name, page in there.items() for link in page.links if not re.match(r"[a-z]+:|//", link)]
    assert len(links) > 3000
    for name, link in links:
        target, _, anchor = link.partition("#")
        assert (site / target).is_file(), (name, link)
        assert not anchor or target not in there or anchor in there[target].ids, (name, link)


@pytest.fixture(scope="module")
def reference(library: Library, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of a few pages, built by the plugin, and beside it the folder that is written of it; made once a run."""
    folder = shared_folder(tmp_path_factory) / "other"
    with FileLock(f"{folder}.lock"):
        if not folder.exists():
            half = folder.with_suffix(".half")
            make_reference(library, half / "boats")
            half.rename(folder)
    return folder / "boats"


def make_reference(library: Library, house: Path) -> None:
    start("site", str(house))
    settings = house / "mkdocs.yml"
    text = re.sub("# cards: .*", FEW, settings.read_text(encoding="utf-8"))
    settings.write_text(f"{text}use_directory_urls: false\n", encoding="utf-8")
    mkdocs_here(house, "build", "--strict")
    given = options_in(settings)
    made = tongues(library, site_options(given, library, flat=True), given.languages)
    write_set(house / "written", whole_folder(made, settings_in(settings), house))


@pytest.fixture(scope="module")
def told(reference: Path) -> Mapping[str, Page]:
    """What the plugin's own pages say, read once for all that are held beside them."""
    return pages(reference / "site")


@pytest.fixture(scope="module")
def shown(reference: Path, browser: Browser) -> Sequence[str]:
    """What a reader sees of the plugin's own card."""
    return seen_of(reference / "site", browser)


Build = Callable[..., None]


def build(where: Path, command: Build) -> Path:
    """A written folder built by a command, one language after the other."""
    for settings in ("mkdocs.yml", "mkdocs.de.yml"):
        command(where, "-f", settings)
    return where / "site"


def run(where: Path, *command: str) -> None:
    done = subprocess.run(command, cwd=where, capture_output=True, text=True, encoding="utf-8", timeout=STUCK)
    assert done.returncode == 0, done.stdout + done.stderr


def program(environment: str, name: str) -> str:
    """Another generator's command, in an environment of its own."""
    folder = os.environ.get("BD_GENERATORS")
    path = Path(folder or ".") / environment / "bin" / name
    if not folder or not path.is_file():
        if os.environ.get("CI"):
            pytest.fail(f"{name} is missing: .ci/run installs it")
        pytest.skip("set BD_GENERATORS to the folder that .ci/run makes for this test")
    return str(path)


GENERATORS: dict[str, Build] = {
    "mkdocs": lambda where, *more: mkdocs_here(where, "build", "--strict", "--theme", "mkdocs", *more),
    "fork": lambda where, *more: run(
        where, program("fork", "properdocs"), "build", "--strict", "--theme", "readthedocs", *more
    ),
    "successor": lambda where, *more: run(where, program("successor", "zensical"), "build", "--clean", *more),
}


@pytest.mark.parametrize("generator", GENERATORS)
def test_another_generator_says_the_same(
    reference: Path,
    told: Mapping[str, Page],
    shown: Sequence[str],
    generator: str,
    browser: Browser,
    tmp_path: Path,
) -> None:
    # In a folder of its own: another worker may build the same one now.
    other = build(shutil.copytree(reference / "written", tmp_path / "written"), GENERATORS[generator])
    theirs = pages(other)
    assert told.keys() <= theirs.keys()
    for name, page in told.items():
        assert len(page.said) > 100, name
        assert theirs[name].said == page.said, name
        assert theirs[name].links == page.links, name
    assert len(shown) > 500
    assert seen_of(other, browser) == shown


def seen_of(site: Path, browser: Browser) -> list[str]:
    """What a reader sees of a site's card with a size of his own, on the screen and on paper."""
    context = browser.new_context(service_workers="block")
    context.route(ELSEWHERE, lambda route: route.abort())
    with served(site) as address:
        card = context.new_page()
        card.goto(f"{address}/cards/{CARD}.html?thread=M10")
        card.locator("table.bw-numbers td b").filter(has_text="16 mm").first.wait_for(state="attached")
        card.locator(".bw-live-set").filter(has_text="M10").wait_for()
        settled(card)
        found = [*seen(card)]
        card.emulate_media(media="print")
        found += seen(card)
        card.emulate_media(media="null")  # so that the printer lays it out for paper itself
        paper = card.pdf(prefer_css_page_size=True)
        assert paper.count(b"/Type /Page\n") == 2, site
    context.close()
    return found


def test_what_runs_no_plugins_stops_and_says_what_to_do(tmp_path: Path) -> None:
    start("site", str(tmp_path / "boats"))
    (tmp_path / "bondwright").symlink_to(HOUSE / "generator")
    done = subprocess.run(
        [program("successor", "zensical"), "build", "--clean"],
        cwd=tmp_path / "boats",
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        capture_output=True,
        text=True,
        timeout=STUCK,
        check=False,
    )
    assert done.returncode != 0
    assert "`bondwright write DIR` makes a folder that it can build" in done.stdout + done.stderr


def seen(page: object) -> Iterator[str]:
    """The words of a card's parts that are not hidden, on the screen or on paper."""
    yield from page.evaluate(  # type: ignore[attr-defined]
        """() => {
            const all = document.createTreeWalker(document.querySelector("article, [role=main]"), NodeFilter.SHOW_TEXT);
            const seen = [];
            while (all.nextNode()) {
                const around = all.currentNode.parentElement;
                if (around.closest("[class^=bw-]") && !around.closest("style, script") && around.checkVisibility())
                    seen.push(...all.currentNode.data.split(/\\s+/).filter(word => word && word !== "¶"));
            }
            return seen;
        }"""
    )
