"""The index of the search: what a page is for, its steps, and the rows of its tables with their units. Made from what
the pages are made from, so that a hit says what the page says; `docs/assets/search.js` reads it."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Iterable, Mapping, Sequence, Set
from typing import Any

from ..language import tr
from ..model.library import Library
from ..model.prose import Prose
from ..model.quantity import read_symbol
from ..model.schema import Given, InputName
from ..model.search import OtherPage, SearchWords
from ..reckoning import Reckoning
from ..units import Direction, by_system, label, shortened
from .card import CardPage
from .options import SiteOptions
from .sheet import Column, Grid
from .table import TablePage

INDEX_FILE = "search/index.js"
# Where nobody has written what people type.
NO_WORDS = SearchWords(same=[], pages={}, lengths={}, others={})
# What a query may set on a card that asks for it, besides a length.
MEASURES = ("thread", "gauge", "N", "T_a", "F_n", "m_b", "ratio")
TAKEN = (*MEASURES, "wood", "hardener", "filler", "fastener", "compound", "plate", "pilot")
# As many letters of a text as a hit shows.
SHOWN = 90
# A further word that so many pages say tells none from another.
COMMON = 16
_WORD = re.compile(r"[^\W\d_]{3,}")
_TAG = re.compile(r"<[^>]*>")
_SAFE: dict[Direction, str] = {"nearest": "", "up": "+", "down": "-"}

Entry = dict[str, Any]


def spoken(text: str, reckoning: Reckoning) -> str:
    """A text as it reads for a reckoning, in one line and without markup."""
    return " ".join(reckoning.reads(Prose.as_read(text)).split())


def card_entry(page: CardPage, words: SearchWords) -> Entry:
    """A card: its steps, each under its own address, and what of a query it can be set to."""
    card, reckoning = page.card, next(iter(page.reckonings.values()))
    needs = (*card.needs.tools, *card.needs.materials)
    texts = {
        ("use-it-when", tr("Use it when")): " ".join(spoken(text, reckoning) for text in card.use_when),
        ("what-you-need", tr("What you need")): ", ".join(spoken(need.what, reckoning) for need in needs),
    }
    for number, step in enumerate(card.steps, 1):
        texts[f"{page.name}-step-{number}", spoken(step.title, reckoning)] = spoken(step.do, reckoning)
    parts = [part(*place, text) for place, text in texts.items()]
    takes = {name: name for name in TAKEN if name in card.givens}
    ends: Entry = {}
    if page.name in words.lengths:
        takes["length"] = words.lengths[page.name]
        ends["l"] = ends_of(takes["length"], card.givens)
    if page.name in words.along:
        ends["a"] = words.along[page.name]
    if "m_b" in card.givens:
        ends["b"] = card.givens["m_b"].max
    found = entry(f"cards/{page.name}", card.title, spoken(card.purpose, reckoning), words)
    return found | {"s": parts, "x": further(texts.values(), parts), "k": takes, **ends}


def ends_of(name: InputName, givens: Mapping[str, Given]) -> list[float]:
    """The least and the greatest (SI) that an input takes; without an end, any that is found in a boat."""
    given = givens[name]
    return [read_symbol(name, end) if end else none for end, none in ((given.min, 0.0), (given.max, 1e3))]


def part(anchor: str, title: str, text: str) -> list[str]:
    """A part of a page: where it stands, its title, and as much of its text as a hit shows."""
    return [anchor, title, shortened(text, SHOWN)]


def further(texts: Iterable[str], parts: Sequence[Sequence[str]]) -> str:
    """The words of a page's texts that none of its parts shows, each once, in an order that packs well."""
    shown = set(_WORD.findall(" ".join(text for one in parts for text in one[1:]).lower()))
    return " ".join(sorted(set(_WORD.findall(" ".join(texts).lower())) - shown))


def gathered(pages: Iterable[Entry], idle: Set[str]) -> str:
    """The further words of all pages that tell one from another, taken out of them, each with the pages that say it:
    that packs better."""
    said: dict[str, list[int]] = {}
    for number, page in enumerate(pages):
        for word in page.pop("x", "").split():
            said.setdefault(word, []).append(number)
    telling = sorted(word for word, numbers in said.items() if len(numbers) < COMMON and word not in idle)
    return " ".join(",".join([word, *map(str, said[word])]) for word in telling)


def table_entry(page: TablePage, words: SearchWords) -> Entry:
    """A reference table: what it is for, and its grids."""
    # Of grids that answer alike, the first is shown: the one that the page opens with.
    named = page.table.across is None
    grids = [grid_entry(grid, named) for grid in sorted(page.grids, key=lambda grid: not grid.comes)]
    notes = [plain(note) for note in page.table.notes]
    parts = [part("", tr("Notes"), " ".join(notes))] if notes else []
    found = entry(f"tables/{page.name}", page.table.title, plain(page.table.purpose), words)
    return found | {"s": parts, "x": further(notes, parts), "c": page.grids[0].corner, "g": grids}


def grid_entry(grid: Grid, in_words: bool) -> list[Any]:
    """A grid: its shop, name, title, heads with their units and the way in which their numbers are safe, and columns.

    A column is one text, alike from end to end, so that it packs well. A head that is a name or a size stands as it is.
    """
    heads = [in_one((head_words(column, in_words), label(column.unit), _SAFE[column.safe])) for column in grid.columns]
    rows = [
        [row.head, *(cell if grid.is_number(place, cell) else "" for place, cell in enumerate(row.cells))]
        for row in grid.rows
    ]
    return [grid.shop, grid.name, grid.title, heads, [in_one(column) for column in zip(*rows, strict=True)]]


def in_one(texts: Iterable[str]) -> str:
    """Texts in one, parted by a sign that stands in none of them."""
    return "|".join(text.replace("|", "¦") for text in texts)


def head_words(column: Column, in_words: bool) -> str:
    """A column's head as it is said."""
    return (in_words and column.words) or _TAG.sub("", str(column.head))


def entry(path: str, title: str, says: str, words: SearchWords) -> Entry:
    """A page with what people type for it."""
    return {"u": path, "t": title, "d": says, "w": words.pages.get(path, [])}


def plain(text: str) -> str:
    """A text whose values are left out: a table's page stands for many jobs."""
    return " ".join("".join(part for part in Prose.as_read(text).parts if isinstance(part, str)).split())


def other_entries(library: Library, words: SearchWords) -> list[Entry]:
    """Job sheets, and the pages that are written by hand."""
    reckonings = [
        entry(f"jobs/{name}", sheet.title, sheet.purpose, words)
        | {"s": [part("", tr("Fittings"), ", ".join(fitting.name for fitting in sheet.fittings))]}
        for name, sheet in library.job_sheets.items()
    ]
    return reckonings + [other_entry(library, path, page) for path, page in words.others.items()]


def other_entry(library: Library, path: str, page: OtherPage) -> Entry:
    """A page that is written by hand. What a query can set is the home page's."""
    takes: Entry = {"k": page.takes} if page.takes else {}
    if library.home and "length" in page.takes:
        takes["l"] = ends_of(page.takes["length"], library.home.givens)
    return {"u": path, "t": page.title, "d": page.says, "w": page.words, **takes}


def index_script(
    library: Library, words: SearchWords, entries: Iterable[Entry], options: SiteOptions, there: Collection[str]
) -> str:
    """The index as a script: a browser fetches no data from a memory stick. `there` are the pages that the site has."""
    choices = {
        name: {key: row.title for key, row in library.choices[name].rows.items()}
        for name in TAKEN
        if name in library.choices
    }
    pages = [{**one} for one in (*entries, *other_entries(library, words)) if f"{one['u']}.md" in there]
    index = {
        "x": gathered(pages, {*words.idle.split()}),
        "pages": pages,
        "idle": words.idle,
        "spoken": words.spoken,
        "units": words.units,
        "slanted": words.slanted,
        "same": words.same,
        "hardener": tr("hardener"),
        "by": {"weight": tr("by weight"), "volume": tr("by volume")},
        "choices": choices,
        "threads": [thread.size for series in library.series.values() for thread in series.rows],
        "shops": {shop: by_system(units, "°C", "°F") for shop, units in options.systems.items()},
        "flat": options.flat,
    }
    said = json.dumps(index, ensure_ascii=False, separators=(",", ":"))
    return f"globalThis.bondwrightIndex = {said};\n"
