"""The search: what people ask leads to the page, the row and the setting that answer it; its index is small and asked for late."""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest

from conftest import KEPT, all_hold, searched, yaml_beside
from generator.errors import Faults
from generator.language import speaking
from generator.model.library import Library, library_in, load
from generator.pages.card import CardPage
from generator.pages.options import SiteOptions
from generator.pages.search import COMMON, card_entry, further, gathered, index_script, part, table_entry
from generator.pages.table import TablePage

ASKED = yaml_beside("search_queries.yaml")
QUERIES, GERMAN = ([query for query in ASKED if tongue in query] for tongue in ("ask", "de"))
# As much as a phone fetches when somebody first searches.
MOST = 60_000


@pytest.fixture(scope="module")
def index(site: Path) -> Path:
    return site / "search/index.js"


@pytest.fixture(scope="module")
def hits(index: Path) -> list[list[dict[str, Any]]]:
    """The hits of every query, by the page's own script."""
    asked = [query["ask"] for query in QUERIES] + ["", "zzzzzz", "the of and"]
    return searched(index, asked)


@pytest.fixture(scope="module")
def german(library: Library, index: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The index of the same pages in German, made without the pages."""
    there = {f"{page['u']}.md" for page in json.loads(told(index))["pages"]}
    language, library = library_in(library, "de", ["en", "de"])
    options, words = SiteOptions(), library.search
    assert words
    with speaking(language):
        entries = [card_entry(CardPage(library, name, options), words) for name in library.cards]
        entries += [table_entry(TablePage(library, name, options), words) for name in library.reference]
        text = index_script(library, words, entries, options, there)
    path = tmp_path_factory.mktemp("german") / "index.js"
    path.write_text(text, encoding="utf-8")
    return path


def told(index: Path) -> str:
    """What an index holds."""
    return index.read_text(encoding="utf-8").partition(" = ")[2].rstrip(";\n")


def test_german_asks_and_finds_as_english_does(german: Path, index: Path) -> None:
    assert [page["u"] for page in json.loads(told(german))["pages"]] == [
        page["u"] for page in json.loads(told(index))["pages"]
    ]
    assert len(gzip.compress(german.read_bytes(), 9)) < MOST
    asked = [query["de"] for query in GERMAN]
    assert len(asked) >= 25
    for query, found in zip(GERMAN, searched(german, asked), strict=True):
        answered(query, found, query["de"])


def test_the_answer_is_among_the_first_three(hits: list[list[dict[str, Any]]]) -> None:
    all_hold(
        lambda place: answered(QUERIES[place], hits[place], QUERIES[place]["ask"]),
        range(len(QUERIES)),
        lambda place: str(QUERIES[place]["ask"]),
    )


def answered(query: dict[str, Any], found: list[dict[str, Any]], ask: str) -> None:
    """That what is wanted is among the first three hits, at its row and so set."""
    found = found[:3]
    right = [hit for hit in found if hit["path"] in query["wants"]]
    assert right, (ask, [hit["path"] for hit in found])
    if row := query.get("row"):
        assert any(hit["where"].split(",")[0] == row for hit in right), (ask, right)
    assert query.get("text", "") in right[0]["text"].replace("\u00a0", " ")
    cells = [" ".join(cell).replace("\u00a0", " ") for cell in right[0]["cells"]]
    assert cells[: len(query.get("cells", []))] == query.get("cells", []), ask
    if "set" in query:
        asked = parse_qs(urlsplit(right[0]["href"]).query)
        assert {name: texts[0] for name, texts in asked.items()} == query["set"], ask


def test_what_says_nothing_finds_nothing(hits: list[list[dict[str, Any]]]) -> None:
    assert len(QUERIES) >= 40
    assert hits[len(QUERIES) :] == [[], [], []]


def test_the_table_is_shown_that_its_page_opens_with(hits: list[list[dict[str, Any]]]) -> None:
    """A fast hardener's wait read for the usual one would be too short."""
    by_query = {query["ask"]: found for query, found in zip(QUERIES, hits, strict=False)}
    assert by_query["full load at 12 deg C"][0]["where"] == "12 °C, medium"
    assert by_query["how long at 8 degC"][0]["text"].startswith("The row on the safe side of 8\u00a0°C. No number here")


def test_between_two_rows_the_safe_one_is_shown(hits: list[list[dict[str, Any]]]) -> None:
    """What is waited for by the colder row, what lasts by the warmer, what is carried by the weaker: as its numbers are rounded."""
    by_query = {query["ask"]: found for query, found in zip(QUERIES, hits, strict=False)}
    for ask, row, unsafe in (
        ("clamps off at 17 C", "15 °C, medium", "latest"),
        ("pot life at 23 C", "25 °C", ""),
        ("latest recoat at 23 °C", "25 °C, medium", "clamps off"),
        ("cleat load for a boat of 26 ft", "30 ft, design category A or B", "weighs"),
    ):
        hit = by_query[ask][0]
        assert hit["where"] == row
        assert hit["text"].startswith("The row on the safe side of ")
        assert not [head for head, _ in hit["cells"] if unsafe and unsafe in head]
        assert len(hit["cells"]) > 1


def test_a_word_that_pages_are_called_by_opens_no_row(hits: list[list[dict[str, Any]]]) -> None:
    by_query = {query["ask"]: found for query, found in zip(QUERIES, hits, strict=False)}
    for ask in ("how much filler for 60 g", "sealant cure", "release agent for a cast thread"):
        assert not [hit["where"] for hit in by_query[ask][:3] if hit["cells"]], ask


def test_every_hit_leads_to_a_page_and_to_a_place_on_it(site: Path, hits: list[list[dict[str, Any]]]) -> None:
    for hit in {hit["href"]: hit for found in hits for hit in found}.values():
        parts = urlsplit(hit["href"])
        page = (site / parts.path / "index.html").read_text(encoding="utf-8")
        if parts.fragment:
            assert re.search(f'id="?{re.escape(parts.fragment)}["\\s>]', page), hit["href"]


def test_a_row_says_its_numbers_apart_and_with_their_units(hits: list[list[dict[str, Any]]]) -> None:
    pot = hits[next(place for place, query in enumerate(QUERIES) if query["ask"] == "pot life at 28 deg C")][0]
    assert [head for head, _ in pot["cells"]] == ["fast", "medium", "slow", "extra slow"]
    assert all(re.fullmatch(r"\d+\u00a0min", value) for _, value in pot["cells"])


def test_the_index_is_small_and_holds_every_page_but_the_prints(site: Path, index: Path, library: Library) -> None:
    assert len(gzip.compress(index.read_bytes(), 9)) < MOST
    pages = json.loads(told(index))["pages"]
    paths = [page["u"] for page in pages]
    assert len(set(paths)) == len(paths)
    there = {path.relative_to(site).parent.as_posix() for path in site.rglob("index.html")} - {"."}
    unlisted = {path for path in there if path.endswith("/working") or path.startswith("print/")}
    assert {path.removesuffix("/index") for path in paths} - {"index"} >= there - unlisted
    # A page is reached by its own title.
    titles = [page["t"] for page in pages]
    found = searched(index, titles)
    for page, answered in zip(pages, found, strict=True):
        assert page["u"] in [hit["path"] for hit in answered[:3]], page["t"]


def test_further_words_stand_once_with_the_pages_that_say_them() -> None:
    pages: list[dict[str, Any]] = [{"u": "a", "x": "oak the sapele"}, {"u": "b"}, {"u": "c", "x": "oak"}]
    assert gathered(pages, {"the"}) == "oak,0,2 sapele,0"
    assert pages == [{"u": "a"}, {"u": "b"}, {"u": "c"}]
    # One that many pages say tells none from another.
    assert gathered([{"x": "oak drill" if page else "drill"} for page in range(COMMON)], set()).startswith("oak,1,2,")


def test_what_a_part_does_not_show_is_searched_all_the_same() -> None:
    text = "word " * 30 + "sapele"
    shown = part("", "Title", text)
    assert "sapele" not in shown[2]
    assert further([text], [shown]) == "sapele"


def test_what_the_words_lead_to_must_be_there(house: Path) -> None:
    from generator.check import load_checked

    path = house / "procedures/search.yaml"
    text = path.read_text(encoding="utf-8").replace("  tables/cure:", "  tables/curing:")
    path.write_text(text.replace("pilot: wood-screw-soft", "pilot: wood-screw"), encoding="utf-8")
    assert load(house / "procedures").search
    with pytest.raises(Faults, match=r"search\.yaml:\d+:\d+: no page 'tables/curing'; like it: tables/cure") as told:
        load_checked(house / "procedures", KEPT)
    assert "no card 'bonded-screw' asks for 'gauge' and has pilot: wood-screw\n" in f"{told.value}\n"
