"""What the pages of cards and of reference tables share, worked for each shop."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import count
from typing import NamedTuple

from markupsafe import Markup

from ..formula import FORMULARY, Formula, Lookup
from ..language import day_in_words, point, pointed, tr
from ..model.library import SPECIAL, Library
from ..model.schema import Caution, Over, Row, Sheet, Source
from ..notation import formula_line, numbers_line, working_number
from ..published import CheckResult, check_result
from ..reckoning import Reckoning, reckon, told_ratio
from ..shipped import VERSION
from ..units import SYSTEMS, Direction, from_base, label, plain, with_unit
from ..working import Step
from .csv_table import csv_text
from .options import SiteOptions
from .paper import page_style
from .words import NO_NUMBER, Reckonings

# As many signs as a thread has, or a quantity with its unit.
LONGEST_SIZE = 13
_DECIMAL = re.compile(r"[-−]?\d+([.,]\d+)?")
# A number with what is written behind it, or several of them.
_QUANTITY = re.compile(r"((?:\d[\d.,/]*[ \N{NO-BREAK SPACE}]\S+, )*\d[\d.,/]*[ \N{NO-BREAK SPACE}][^\s,;]+)")


@dataclass(frozen=True)
class Column:
    """A column of a grid: its head as HTML, what it means, its unit, its head in a spreadsheet, and in words.

    `safe` is the way in which its numbers are rounded, `zero` what is said in place of a 0.
    """

    head: Markup
    meaning: str
    unit: str
    csv_head: str
    text: bool = False
    words: str = ""
    safe: Direction = "nearest"
    zero: str = ""


class Lack(NamedTuple):
    """Why a row has no number, and the heads of the columns that it has none in, where it has some."""

    reason: str
    columns: str = ""


@dataclass(frozen=True)
class GridRow:
    """A row of a grid, and why some of its cells hold no number."""

    head: str
    cells: Sequence[str]
    decimals: Sequence[str]
    default: bool = False
    lacks: Sequence[Lack] = ()

    @property
    def empty(self) -> bool:
        """Whether it holds no number at all."""
        return all(cell == NO_NUMBER for cell in self.cells)


@dataclass(frozen=True)
class Grid:
    """A table of worked values for one shop. `name` is the name of its twin for a spreadsheet, `series` that of its
    threads, if it is of one.

    `own` are the names of the row that a live card fills with what the reader has set: its head's, and each column's.
    """

    name: str
    title: str
    shop: str
    corner: str
    columns: Sequence[Column]
    rows: Sequence[GridRow]
    own: Sequence[str] = ()
    series: str = ""

    @property
    def comes(self) -> bool:
        """Whether the size that the page works through stands in it: what a reader meets first."""
        return any(row.default for row in self.rows)

    def is_number(self, place: int, cell: str) -> bool:
        """Whether a cell of a column holds one, and not a dash or words."""
        return cell not in (NO_NUMBER, self.columns[place].zero)

    @cached_property
    def _places(self) -> list[int]:
        """How many decimals the longest number of each column has; none where a cell is a fraction or words."""
        columns = list(zip(*(row.cells for row in self.rows), strict=True))
        numbers = [[cell for cell in column if self.is_number(place, cell)] for place, column in enumerate(columns)]
        return [
            max(len(cell.partition(point())[2]) for cell in column)
            if column and all(map(_DECIMAL.fullmatch, column))
            else 0
            for column in numbers
        ]

    def tail(self, place: int, cell: str) -> str:
        """What a cell is short of its column's longest number. Printed unseen, it aligns the decimal points."""
        if not self._places[place] or not self.is_number(place, cell):
            return ""
        _, sign, decimals = cell.partition(point())
        return ("" if sign else point()) + "0" * (self._places[place] - len(decimals))

    @property
    def signs(self) -> int:
        """How many letters and digits stand side by side in it, words apart: what it needs of the paper's width."""
        widest = max(map(self._longest, self.rows))
        for place, column in enumerate(self.columns):
            if not column.text:
                cells = (len(row.cells[place] + self.tail(place, row.cells[place])) for row in self.rows)
                widest += max(len(column.head.striptags()), *cells)
        return widest

    @staticmethod
    def _longest(row: GridRow) -> int:
        """The longest word of a row's head, which may part between words."""
        return max(map(len, row.head.split(" ")), default=0) if len(row.head) > LONGEST_SIZE else len(row.head)

    @property
    def named(self) -> bool:
        """Whether its rows go by names, longer than any size, which a narrow screen may part."""
        return max(len(row.head) for row in self.rows) > LONGEST_SIZE

    @property
    def noted(self) -> bool:
        """Whether its last column is a note, which a narrow screen has below each row."""
        return self.columns[-1].text

    @property
    def letters(self) -> int:
        """How long its notes are, all together."""
        return sum(len(row.cells[-1]) for row in self.rows) if self.noted else 0

    @property
    def csv(self) -> str:
        """The same table with symbol and unit in the header and decimals in the cells."""
        header = [self.corner, *(column.csv_head for column in self.columns)]
        return csv_text(header, [[row.head, *row.decimals] for row in self.rows])

    @property
    def reasons(self) -> list[tuple[str, str]]:
        """Why cells lack numbers, each reason once with the heads of its rows and columns. One that is the only one, in
        several rows and columns, is that of every dash."""
        told: dict[str, dict[str, list[str]]] = {}
        for row in self.rows:
            for lack in dict.fromkeys(row.lacks):
                told.setdefault(lack.reason, {}).setdefault(lack.columns, []).append(row.head)
        if len(told) == 1 and all(len(where) > 1 for where in told.values()):
            return [(NO_NUMBER, reason) for reason in told]
        return [
            (
                "; ".join(": ".join(filter(None, (", ".join(heads), columns))) for columns, heads in where.items()),
                reason,
            )
            for reason, where in _in_one(told).items()
        ]


def _in_one(told: Mapping[str, dict[str, list[str]]]) -> dict[str, dict[str, list[str]]]:
    """Reasons of whole rows that differ in one number alone, as one that has all these numbers, in their order."""
    found: dict[str, dict[str, list[str]]] = {}
    for reason, where in told.items():
        whole = (one for one in found if {*where, *found[one]} == {""})
        alike, both = next(((one, both) for one in whole if (both := _with_both(one, reason))), ("", ""))
        if both:
            found[both] = {"": [*dict.fromkeys(found.pop(alike)[""] + where[""])]}
        else:
            found[reason] = where
    return found


def _with_both(first: str, second: str) -> str:
    """Two texts that differ in one quantity, as one that has both; nothing where they differ otherwise."""
    ours, others = _QUANTITY.split(first), _QUANTITY.split(second)
    apart = [place for place, pair in enumerate(zip(ours, others, strict=False)) if pair[0] != pair[1]]
    if len(ours) != len(others) or len(apart) != 1 or apart[0] % 2 == 0:
        return ""
    ours[apart[0]] += f", {others[apart[0]]}"
    return "".join(ours)


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


class SheetPage(ABC):
    """A sheet worked for each shop, with what stands behind it. Built from a checked library.

    `folder` is where its page stands; links go by it, because a sheet is printed on other pages too.
    """

    folder: str

    def __init__(self, library: Library, name: str, sheet: Sheet, options: SiteOptions):
        self.library = library
        self.name = name
        self.options = options
        self.sheet = sheet
        self.systems = options.systems
        self.reckonings: Reckonings = {shop: reckon(library, sheet, {"shop": shop}) for shop in options.systems}
        self.checks: list[CheckResult] = [check_result(library, sheet, check) for check in sheet.checks]
        self.cautions: dict[str, Caution] = {key: library.cautions[key] for key in sheet.all_cautions}

    @property
    def corner(self) -> str:
        """What stands at the right of a printed page's head."""
        return tr("Reference table")

    @property
    def page_style(self) -> Markup:
        """The paper, and the lines at its head and foot."""
        return page_style(self.sheet.title, self.corner, self.library.dated, self.options)

    @property
    def standing(self) -> str:
        """When its file was last changed, and the version that made the page."""
        day = self.sheet.changed
        changed = tr("Last changed on {day}.", day=day_in_words(day)) if day else ""
        return f"{changed} Bondwright {VERSION}.".lstrip()

    @cached_property
    def grids(self) -> Sequence[Grid]:
        """The tables of the page, each with a name of its own: that of two may come out alike, of two shops with the
        same threads for one, and the file of one would be lost."""
        made = self._grids()
        return [replace(grid, name=name) for grid, name in zip(made, apart([one.name for one in made]), strict=True)]

    @abstractmethod
    def _grids(self) -> Sequence[Grid]:
        """The tables of the page, named by what they are of."""

    @property
    def legend(self) -> list[tuple[Markup, str]]:
        """What the heads of the columns mean, each once."""
        columns = [column for grid in self.grids for column in grid.columns if not column.text]
        return list(dict.fromkeys((column.head, column.meaning) for column in columns))

    def run_values(self, over: Over, shop: str) -> list[str]:
        """The values an input runs through: those listed, else every row of its table, else every thread."""
        listed = over.texts(self.systems[shop])
        if listed is not None:
            return listed
        if over.input in self.library.choices:
            return list(self.library.choices[over.input].rows)
        return [thread.size for series in self.library.series_in(shop).values() for thread in series.rows]

    def run_corner(self, over: Over) -> str:
        """What stands over the heads of the rows."""
        named = over.input in self.library.choices or over.input in SPECIAL
        return tr(over.input.replace("_", " ")) if named else meaning(over.input)

    def run_name(self, over: Over | None, text: str) -> str:
        """A value of an input as it is printed."""
        if over is not None and over.input in self.library.choices:
            return self.library.chosen(over.input, text).title
        if over is not None and over.input in SPECIAL:
            return told_ratio(text) if over.input == "ratio" else text
        return pointed(text)

    def rows_used(self) -> Iterator[Row]:
        """The rows of the data tables that the default jobs take from."""
        choices = self.library.choices
        texts = {
            (name, text)
            for reckoning in self.reckonings.values()
            for name, text in reckoning.texts.items()
            if name in choices
        }
        for table, key in sorted({(choices[name].table, text) for name, text in texts}):
            yield self.library.tables[table][key]

    def givens(self, shop: str) -> list[GivenLine]:
        """What the worked example starts from."""
        reckoning = self.reckonings[shop]
        return [
            GivenLine(step.symbol, meaning(step.symbol), exact(reckoning, step), step.source)
            for step in reckoning.working.trail
            if step.by is None
        ]

    def worked(self, shop: str) -> list[WorkedLine]:
        """The steps of the worked example."""
        reckoning = self.reckonings[shop]
        return [worked_line(reckoning, step) for step in reckoning.working.trail if step.by is not None]

    def used_sources(self) -> set[str]:
        """The ids of the sources that this page leans on."""
        used = {step.source for reckoning in self.reckonings.values() for step in reckoning.working.trail}
        used |= {caution.source for caution in self.cautions.values()}
        return used | {check.source for check in self.sheet.checks}

    @property
    def sources(self) -> dict[str, Source]:
        """Every source that this page leans on, in the order of sources.yaml."""
        used = self.used_sources()
        return {key: source for key, source in self.library.sources.items() if key in used}

    @property
    def files(self) -> dict[str, str]:
        """The CSV twin of each table, by file name."""
        twins = {f"{grid.name}.csv": grid.csv for grid in self.grids}
        for shop, reckoning in self.reckonings.items():
            twins[f"working-{shop}.csv"] = working_csv(reckoning)
        twins["check-values.csv"] = checks_csv(self.checks)
        return twins


def apart(names: Sequence[str]) -> list[str]:
    """The names, each its own: one that stands earlier in the list already gets the first number that makes it new."""
    found: dict[str, None] = {}
    for name in names:
        others = (f"{name}-{number}" for number in count(2) if f"{name}-{number}" not in names)
        found[name if name not in found else next(other for other in others if other not in found)] = None
    return list(found)


def symbol_column(symbol: str, unit: str, head: Markup, words: str = "") -> Column:
    """A column of one symbol's values."""
    return Column(head, meaning(symbol), unit, header_cell(symbol, unit), words=words, safe=safe_way(symbol))


def safe_way(symbol: str) -> Direction:
    """In which direction a symbol is rounded: a load down, a time to wait up."""
    return FORMULARY.symbols[symbol].shown(SYSTEMS[0]).direction


def cell(reckoning: Reckoning, symbol: str) -> tuple[str, str]:
    """What a table prints of a symbol, and the decimal for a spreadsheet."""
    return (reckoning.number(symbol), decimal(reckoning, symbol)) if reckoning.has(symbol) else (NO_NUMBER, "")


def meaning(symbol: str) -> str:
    """What a symbol means."""
    return FORMULARY.symbols[symbol].meaning


def exact(reckoning: Reckoning, step: Step) -> str:
    """A value as the printed working shows it."""
    return with_unit(*working_number(FORMULARY.symbols[step.symbol], step.value, reckoning.system))


def worked_line(reckoning: Reckoning, step: Step) -> WorkedLine:
    """A step of the trail for the page."""
    values, symbols = reckoning.working.values, FORMULARY.symbols
    lines: list[Markup] = []
    if isinstance(step.by, Formula):
        lines = [Markup(formula_line(step.by)), Markup(numbers_line(step.by, values, symbols, reckoning.system))]
    why = step.by.meaning if isinstance(step.by, (Formula, Lookup)) else ""
    return WorkedLine(
        step.symbol, meaning(step.symbol), why, lines, reckoning.shop(step.symbol), exact(reckoning, step), step.source
    )


def decimal(reckoning: Reckoning, symbol: str) -> str:
    """The shop-rounded value as a plain decimal, for a spreadsheet."""
    shown = reckoning.working.shown(symbol, reckoning.system)
    return f"{float(shown.rounded(reckoning.amount(symbol))):.10g}"


def header_cell(name: str, unit: str) -> str:
    """Name and unit, as a spreadsheet column's head."""
    return f"{name} ({label(unit)})" if label(unit) else name


def working_csv(reckoning: Reckoning) -> str:
    """Every value of a worked example."""
    rows = []
    for step in reckoning.working.trail:
        unit = reckoning.unit(step.symbol)
        value = from_base(step.value, FORMULARY.symbols[step.symbol].unit, unit)
        rows.append([step.symbol, meaning(step.symbol), f"{value:.10g}", label(unit), step.source])
    return csv_text([tr("symbol"), tr("meaning"), tr("value"), tr("unit"), tr("source")], rows)


def in_csv(text: str) -> str:
    """A value with its unit, for a program: with a decimal point in any language."""
    return plain(text).replace(point(), ".")


def checks_csv(checks: Sequence[CheckResult]) -> str:
    """The check values beside the sheet's own."""
    rows = [
        [one.check.what, one.check.symbol, *map(in_csv, (one.published, one.own, one.difference)), one.check.source]
        for one in checks
    ]
    return csv_text(
        [tr("what"), tr("symbol"), tr("published"), tr("worked here"), tr("difference"), tr("source")], rows
    )
