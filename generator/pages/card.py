"""A card's page: everything its template prints, worked for each shop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from ..errors import WorkingError
from ..figures import FIGURES, Figure
from ..job import InputError, Job, do_job
from ..model.library import Library
from ..model.schema import Series
from ..units import System
from .options import SiteOptions
from .sheet import Grid, GridRow, SheetPage, decimal, symbol_column
from .words import symbol_html


class CardPage(SheetPage):
    """What the card template reads."""

    def __init__(self, library: Library, name: str, options: SiteOptions):
        self.card = library.cards[name]
        super().__init__(library, name, self.card, options)

    @property
    def figures(self) -> dict[System, Figure]:
        """The drawing for each shop's default job."""
        draw = FIGURES[self.card.figure]
        return {
            system: draw(job.working.values, job.shop, job.texts, f"{self.name}-{system}")
            for system, job in self.jobs.items()
        }

    @cached_property
    def grids(self) -> Sequence[Grid]:
        """The sizes over each series of threads."""
        return [self._sizes(key, series) for key, series in self._series()]

    def _series(self) -> Iterator[tuple[str, Series]]:
        for key, series in self.library.series.items():
            if series.shop in self.jobs and (not self.options.threads or key in self.options.threads):
                yield key, series

    def _sizes(self, key: str, series: Series) -> Grid:
        default = self.jobs[series.shop]
        columns = [
            symbol_column(symbol, default.unit(symbol), symbol_html(symbol)) for symbol in self.card.table.columns
        ]
        rows = [self._row(thread.size, series.shop, default) for thread in series.rows]
        return Grid(f"sizes-{key}", series.title, series.shop, "thread", columns, rows)

    def _row(self, thread: str, system: System, default: Job) -> GridRow:
        symbols = self.card.table.columns
        try:
            job = do_job(self.library, self.card, {"thread": thread, "shop": system})
        except (InputError, WorkingError) as error:
            return GridRow(thread, ["—"] * len(symbols), [""] * len(symbols), reasons=[str(error)])
        cells = [job.number(symbol) for symbol in symbols]
        return GridRow(thread, cells, [decimal(job, symbol) for symbol in symbols], thread == default.titles["thread"])

    def used_sources(self) -> set[str]:
        """Those of the sheet, and those of the stock lists that drills are chosen from."""
        return super().used_sources() | {stock.source for stock in self.library.stock if stock.shop in self.jobs}
