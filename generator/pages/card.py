"""A card's page: everything its template prints, worked for each shop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from ..check import CheckResult, check_result
from ..errors import WorkingError
from ..figures import FIGURES, Figure
from ..formula import FORMULARY, Formula, Lookup
from ..job import InputError, Job, do_job
from ..model.library import CHOICES, Library
from ..model.schema import Card, Caution, Row, Series, Source
from ..notation import formula_line, numbers_line, working_number
from ..units import System, from_base, label, plain, with_unit
from ..working import Step
from .csv_table import csv_text
from .options import SiteOptions
from .words import Jobs


@dataclass(frozen=True)
class Column:
    """A column of a size table."""

    symbol: str
    meaning: str
    unit: str


@dataclass(frozen=True)
class SizeRow:
    """One thread's sizes, or the reason why there are none."""

    thread: str
    cells: Sequence[str]
    decimals: Sequence[str]
    default: bool = False
    reason: str = ""


@dataclass(frozen=True)
class SizeTable:
    """The sizes over one series of threads."""

    series: str
    title: str
    system: System
    columns: Sequence[Column]
    rows: Sequence[SizeRow]

    @property
    def csv(self) -> str:
        """The same table with symbol and unit in the header and decimals in the cells."""
        header = ["thread", *(header_cell(column.symbol, column.unit) for column in self.columns)]
        return csv_text(header, [[row.thread, *row.decimals] for row in self.rows])


@dataclass(frozen=True)
class WorkedLine:
    """One step of the worked example: a formula with its lines, or a choice out of a stock list."""

    symbol: str
    meaning: str
    why: str
    lines: Sequence[Markup]
    shop: str
    exact: str
    source: str


@dataclass(frozen=True)
class GivenLine:
    """One given of the worked example."""

    symbol: str
    meaning: str
    value: str
    source: str


class CardPage:
    """What the card template reads. Built from a checked library."""

    def __init__(self, library: Library, name: str, options: SiteOptions):
        self.library = library
        self.name = name
        self.card: Card = library.cards[name]
        self.options = options
        self.jobs: Jobs = {system: do_job(library, self.card, {"shop": system}) for system in options.systems}
        self.tables = [self._table(key, series) for key, series in self._series()]
        self.checks: list[CheckResult] = [check_result(library, self.card, check) for check in self.card.checks]
        self.cautions: dict[str, Caution] = {key: library.cautions[key] for key in self.card.cautions}

    def _series(self) -> Iterator[tuple[str, Series]]:
        for key, series in self.library.series.items():
            if series.shop in self.jobs and (not self.options.threads or key in self.options.threads):
                yield key, series

    @property
    def figures(self) -> dict[System, Figure]:
        """The drawing for each shop's default job."""
        draw = FIGURES[self.card.figure]
        return {
            system: draw(job.working.values, job.shop, job.texts, f"{self.name}-{system}")
            for system, job in self.jobs.items()
        }

    def _table(self, key: str, series: Series) -> SizeTable:
        default = self.jobs[series.shop]
        columns = [Column(symbol, meaning(symbol), default.unit(symbol)) for symbol in self.card.table.columns]
        rows = [self._row(thread.size, series.shop, default) for thread in series.rows]
        return SizeTable(key, series.title, series.shop, columns, rows)

    def _row(self, thread: str, system: System, default: Job) -> SizeRow:
        symbols = self.card.table.columns
        try:
            job = do_job(self.library, self.card, {"thread": thread, "shop": system})
        except (InputError, WorkingError) as error:
            return SizeRow(thread, ["—"] * len(symbols), [""] * len(symbols), reason=str(error))
        cells = [job.number(symbol) for symbol in symbols]
        return SizeRow(thread, cells, [decimal(job, symbol) for symbol in symbols], thread == default.titles["thread"])

    def rows_used(self) -> Iterator[Row]:
        """The rows of the data tables that the default jobs take from."""
        chosen = [
            (CHOICES[name].table, text)
            for job in self.jobs.values()
            for name, text in job.texts.items()
            if name in CHOICES
        ]
        for table, key in dict.fromkeys(chosen):
            yield self.library.tables[table][key]

    def givens(self, system: System) -> list[GivenLine]:
        """What the worked example starts from."""
        job = self.jobs[system]
        return [
            GivenLine(step.symbol, meaning(step.symbol), exact(job, step), step.source)
            for step in job.working.trail
            if step.by is None
        ]

    def worked(self, system: System) -> list[WorkedLine]:
        """The steps of the worked example."""
        job = self.jobs[system]
        return [worked_line(job, step) for step in job.working.trail if step.by is not None]

    @property
    def sources(self) -> dict[str, Source]:
        """Every source that this page leans on, in the order of sources.yaml."""
        used = {step.source for job in self.jobs.values() for step in job.working.trail}
        used |= {caution.source for caution in self.cautions.values()}
        used |= {check.source for check in self.card.checks}
        used |= {stock.source for stock in self.library.stock if stock.shop in self.jobs}
        return {key: source for key, source in self.library.sources.items() if key in used}

    @property
    def files(self) -> dict[str, str]:
        """The CSV twin of each table, by file name."""
        twins = {f"sizes-{table.series}.csv": table.csv for table in self.tables}
        for system, job in self.jobs.items():
            twins[f"working-{system}.csv"] = working_csv(job)
        twins["check-values.csv"] = checks_csv(self.checks)
        return twins


def meaning(symbol: str) -> str:
    """What a symbol means."""
    return FORMULARY.symbols[symbol].meaning


def exact(job: Job, step: Step) -> str:
    """A value as the printed working shows it."""
    return with_unit(*working_number(FORMULARY.symbols[step.symbol], step.value, job.system))


def worked_line(job: Job, step: Step) -> WorkedLine:
    """A step of the trail for the page."""
    values, symbols = job.working.values, FORMULARY.symbols
    lines: list[Markup] = []
    if isinstance(step.by, Formula):
        lines = [Markup(formula_line(step.by)), Markup(numbers_line(step.by, values, symbols, job.system))]
    why = step.by.meaning if isinstance(step.by, (Formula, Lookup)) else ""
    return WorkedLine(
        step.symbol, meaning(step.symbol), why, lines, job.shop(step.symbol), exact(job, step), step.source
    )


def decimal(job: Job, symbol: str) -> str:
    """The shop-rounded value as a plain decimal, for a spreadsheet."""
    shown = job.working.shown(symbol, job.system)
    return f"{float(shown.rounded(job.amount(symbol))):.10g}"


def header_cell(symbol: str, unit: str) -> str:
    """Symbol and unit, as a spreadsheet column's name."""
    return f"{symbol} ({label(unit)})" if label(unit) else symbol


def working_csv(job: Job) -> str:
    """Every value of a worked example."""
    rows = []
    for step in job.working.trail:
        unit = job.unit(step.symbol)
        value = from_base(step.value, FORMULARY.symbols[step.symbol].unit, unit)
        rows.append([step.symbol, meaning(step.symbol), f"{value:.10g}", label(unit), step.source])
    return csv_text(["symbol", "meaning", "value", "unit", "source"], rows)


def checks_csv(checks: Sequence[CheckResult]) -> str:
    """The check values beside the card's own."""
    rows = [
        [one.check.what, one.check.symbol, *map(plain, (one.published, one.own, one.difference)), one.check.source]
        for one in checks
    ]
    return csv_text(["what", "symbol", "published", "this card", "difference", "source"], rows)
