"""Sheets that are made to be printed: the table on the shop's wall, and the drilling aids at true size."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from markupsafe import Markup

from ..errors import WorkingError
from ..figures.drilling_aid import drilling_aid
from ..live.card_script import number_data
from ..live.fields import fields_of
from ..model.schema import Card, Series
from ..reckoning import Reckoning, reckon
from ..units import to_base
from .sheet import Grid
from .table import TablePage, slug

# What a drilling aid is drawn from: what a card works, and the spacing, which no card asks for.
WORKED = ("D_o", "D_g", "M_o", "M_g")
SPACING = "a_h"
AID_SYMBOLS = (*WORKED, SPACING)
# How many letters stand on a line below a table on the wall, rather less than more.
LINE = 100


@dataclass(frozen=True)
class Aid:
    """The drilling aid of one thread, or the reason why there is none."""

    thread: str
    anchor: str
    svg: Markup
    warnings: Sequence[str]
    reason: str = ""


def wall_grids(page: TablePage) -> list[Grid]:
    """The grids to pin up, each on a side of its own: of every shop its first series, and whatever is of none."""
    first: dict[str, str] = {}
    return [grid for grid in page.grids if grid.series == first.setdefault(grid.shop, grid.series)]


def wall_sides(page: TablePage) -> list[tuple[Grid, int]]:
    """The grids to pin up, each with how many lines stand above and below it: its table's title, on the first of a
    shop what the table is for, on the last the key and the cautions."""
    grids = wall_grids(page)
    first = {grid.shop: grid for grid in reversed(grids)}
    last = {grid.shop: grid for grid in grids}
    ahead = [page.table.title, page.table.purpose]
    after = [*(told for _, told in page.legend), *(one.text for one in page.cautions.values() if not one.defer)]
    return [
        (
            grid,
            _lines(f"{heads}: {reason}" for heads, reason in grid.reasons)
            + _lines(ahead if grid is first[grid.shop] else ahead[:1])
            + (_lines(after) if grid is last[grid.shop] else 0),
        )
        for grid in grids
    ]


def _lines(texts: Iterable[str]) -> int:
    return sum(ceil(len(text) / LINE) for text in texts)


def aids(page: TablePage) -> dict[str, list[tuple[str, list[Aid]]]]:
    """For each shop its series of threads, each with its title and its aids."""
    return {
        shop: [(series.title, list(_aids(page, shop, series))) for series in _series(page, shop)]
        for shop in page.reckonings
    }


def has_aid(card: Card) -> bool:
    """Whether a card works all that its own drilling aid is drawn from."""
    return {*WORKED} <= {*card.outputs}


def own_aid(page: TablePage) -> Markup:
    """What the script of an aid for a card as set must know: what the card works, and how the spacing is read."""
    (field,) = fields_of(page.library, {SPACING: page.table.givens[SPACING]})
    came = {shop: field.given.text(system) for shop, system in page.systems.items()}
    data = {"worked": WORKED, "spacing": {"came": came, **number_data(field, page.systems)}, "systems": page.systems}
    return Markup(json.dumps(data, ensure_ascii=False, sort_keys=True).replace("<", "\\u003c"))


def _series(page: TablePage, shop: str) -> Iterator[Series]:
    shown = page.options.threads
    return (series for key, series in page.library.series_in(shop).items() if not shown or key in shown)


def _aids(page: TablePage, shop: str, series: Series) -> Iterator[Aid]:
    for thread in series.rows:
        try:
            yield _aid(page, shop, thread.size)
        except (WorkingError, ValueError) as error:
            yield Aid(thread.size, _anchor(page, shop, thread.size), Markup(""), (), str(error))


def _aid(page: TablePage, shop: str, thread: str) -> Aid:
    reckoning = reckon(page.library, page.table, {"thread": thread, "shop": shop})
    texts = {symbol: reckoning.shop(symbol) for symbol in AID_SYMBOLS}
    lengths = {symbol: rounded_length(reckoning, symbol) for symbol in AID_SYMBOLS}
    anchor = _anchor(page, shop, thread)
    figure = drilling_aid(lengths, texts, thread, reckoning.system, f"aid-{anchor}")
    return Aid(thread, anchor, Markup(figure.svg), reckoning.working.warnings)


def _anchor(page: TablePage, shop: str, thread: str) -> str:
    """Where the aid of a thread stands; a shop that works with another's threads has its own beside that one's."""
    own = page.library.shops[shop].threads == shop
    return slug(thread) if own else f"{shop}-{slug(thread)}"


def rounded_length(reckoning: Reckoning, symbol: str) -> float:
    """A length in metres as the shop rounds it, so that a mark stands where its label says."""
    rounded = reckoning.working.shown(symbol, reckoning.system).rounded(reckoning.amount(symbol))
    return to_base(float(rounded), reckoning.unit(symbol), "m")
