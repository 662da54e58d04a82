"""A reference table's page: one grid a shop, or one for each value of a further input."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from markupsafe import Markup, escape

from ..bench import NOTHING
from ..figures.curves import Curve, curves_plot
from ..formula import FORMULARY
from ..language import tr
from ..model.library import Library
from ..model.schema import NOTE, Across, Plot
from ..reckoning import Reckoning, reckon
from ..units import label
from .options import SiteOptions
from .sheet import Column, Grid, GridRow, Lack, SheetPage, cell, decimal, header_cell, meaning, safe_way, symbol_column
from .words import symbol_html


class TablePage(SheetPage):
    """What the table template reads."""

    folder = "tables"

    def __init__(self, library: Library, name: str, options: SiteOptions):
        self.table = library.reference[name]
        super().__init__(library, name, self.table, options)

    def _grids(self) -> Sequence[Grid]:
        """One grid a shop, and where the table says so one a value of a further input."""
        return [
            self._grid(shop, text, series)
            for shop in self.reckonings
            for series in self._series(shop)
            for text in (self.run_values(self.table.each, shop) if self.table.each else [""])
        ]

    @property
    def legend(self) -> list[tuple[Markup, str]]:
        """What the cells hold and what runs across, or what the columns mean."""
        across = self.table.across
        if across is None:
            said = {column.words for grid in self.grids for column in grid.columns}
            return [(head, told) for head, told in super().legend if told not in said]
        named = [(symbol_html(across.symbol), tr("{meaning}, in the cells", meaning=meaning(across.symbol)))]
        if across.input in FORMULARY.symbols:
            named.append(
                (symbol_html(across.input), tr("{meaning}, across the columns", meaning=meaning(across.input)))
            )
        return named

    @cached_property
    def plots(self) -> dict[str, Markup]:
        """The table drawn as curves, once a shop, where the table says of what."""
        return {shop: self._plot(self.table.plot, shop) for shop in self.reckonings} if self.table.plot else {}

    def _plot(self, plot: Plot, shop: str) -> Markup:
        reckoning = self.reckonings[shop]
        runs = self.table.runs[plot.curves]
        curves = [
            curve
            for text in self.run_values(runs, shop)
            if (curve := self._curve(plot, shop, self.run_name(runs, text), {plot.curves: text, "shop": shop})).dots
        ]
        along = meaning(plot.along).partition(":")[0]
        title = tr("{title}: {what} by {along}", title=self.table.title, what=meaning(plot.symbol), along=along)
        words = {
            "title": title,
            "description": tr(
                "A curve each for {curves}. Every sign is a number of the table on this page.",
                curves=", ".join(curve.name for curve in curves),
            ),
            "across": with_unit_after(along, reckoning.unit(plot.along)),
            "up": with_unit_after(meaning(plot.symbol).partition(",")[0], unit_of(reckoning, plot.symbol)),
        }
        return Markup(curves_plot(curves, words, f"plot-{shop}"))

    def _curve(self, plot: Plot, shop: str, name: str, inputs: dict[str, str]) -> Curve:
        """The table's own numbers as dots; between each two of them the formula, not rounded."""

        def worked(text: str) -> Reckoning:
            return reckon(self.library, self.table, {**inputs, plot.along: text}, extra=[plot.symbol])

        values = self.run_values(self.table.runs[plot.along], shop)
        rows = [reckoning for text in values if (reckoning := worked(text)).has(plot.symbol)]
        dots = [(reckoning.amount(plot.along), float(decimal(reckoning, plot.symbol))) for reckoning in rows]
        unit = self.reckonings[shop].unit(plot.along)
        pieces = []
        for (low, _), (high, _) in pairwise(dots):
            between = [worked(f"{low + (high - low) * part / BETWEEN:.6g} {unit}") for part in range(BETWEEN + 1)]
            drawn = [reckoning for reckoning in between if reckoning.has(plot.symbol)]
            pieces.append([(reckoning.amount(plot.along), reckoning.amount(plot.symbol)) for reckoning in drawn])
        return Curve(name, dots, pieces)

    def _series(self, shop: str) -> list[str]:
        """A table over all threads is made series by series; any other is made once."""
        if self.table.over.input != "thread" or self.table.over.texts(self.systems[shop]) is not None:
            return [""]
        shown = self.options.threads
        return [key for key in self.library.series_in(shop) if not shown or key in shown]

    def _grid(self, shop: str, each: str, series: str) -> Grid:
        over = self.table.over
        fixed = {"shop": shop} | ({self.table.each.input: each} if self.table.each else {})
        threads = [thread.size for thread in self.library.series[series].rows] if series else None
        values = threads or self.run_values(over, shop)
        columns = self._columns(shop)
        rows = [self._row(shop, {**fixed, over.input: text}) for text in values]
        parts = [
            self.library.series[series].title if series else "",
            self.run_name(self.table.each, each) if each else "",
        ]
        title = ", ".join(part for part in parts if part) or self.table.title
        name = "-".join(part for part in ("table", shop, series, slug(each)) if part)
        return Grid(name, title, shop, self.run_corner(over), columns, rows, series=series)

    def _columns(self, shop: str) -> list[Column]:
        default = self.reckonings[shop]
        across = self.table.across
        if across is None:
            return [
                Column(Markup("note"), "note", "", "note", text=True)
                if symbol == NOTE
                else replace(
                    symbol_column(symbol, unit_of(default, symbol), symbol_html(symbol), self._words(symbol)),
                    zero=self.table.zeros.get(symbol, ""),
                )
                for symbol in self.table.columns
            ]
        unit = unit_of(default, across.symbol)
        return [
            Column(
                escape(self.run_name(across, text)),
                meaning(across.symbol),
                unit,
                header_cell(f"{across.symbol} {text}", unit),
                words=self._kind(across),
                safe=safe_way(across.symbol),
            )
            for text in self.run_values(across, shop)
        ]

    def _kind(self, across: Across) -> str:
        """What the heads of columns are names of, where they are names."""
        return self.run_corner(across) if across.input in self.library.choices else ""

    def _lacks(self, reckonings: Sequence[Reckoning], symbols: Sequence[str], shop: str) -> list[Lack]:
        """Why cells of a row have no number, by the heads of their columns where these differ in it."""
        across = self.table.across
        found = [reckoning.working.reasons([symbol]) for reckoning, symbol in zip(reckonings, symbols, strict=True)]
        if across is None:
            return [Lack(reason) for reasons in found for reason in reasons]
        heads: dict[str, list[str]] = {}
        for text, reasons in zip(self.run_values(across, shop), found, strict=True):
            for reason in reasons:
                heads.setdefault(reason, []).append(self.run_name(across, text))
        return [
            Lack(reason, "" if len(names) == len(reckonings) else f"{', '.join(names)} {self._kind(across)}".strip())
            for reason, names in heads.items()
        ]

    def _words(self, symbol: str) -> str:
        """A column's head in words: the table's own, else what the symbol means as far as its first colon."""
        return self.table.heads.get(symbol) or meaning(symbol).partition(":")[0]

    def _row(self, shop: str, inputs: dict[str, str]) -> GridRow:
        over, across = self.table.over, self.table.across
        text = inputs[over.input]
        if across is None:
            reckoning = reckon(
                self.library, self.table, inputs, extra=[symbol for symbol in self.table.columns if symbol != NOTE]
            )
            reckonings, symbols = [reckoning] * len(self.table.columns), self.table.columns
        else:
            values = self.run_values(across, shop)
            reckonings = [
                reckon(self.library, self.table, {**inputs, across.input: value}, extra=[across.symbol])
                for value in values
            ]
            symbols = [across.symbol] * len(reckonings)
        cells = [self._cell(reckoning, symbol, text) for reckoning, symbol in zip(reckonings, symbols, strict=True)]
        texts = {**self.reckonings[shop].texts, "shop": shop}
        default = all(texts.get(name) == value for name, value in inputs.items())
        lacks = self._lacks(reckonings, symbols, shop)
        return GridRow(
            self.run_name(over, text), [cell for cell, _ in cells], [number for _, number in cells], default, lacks
        )

    def _cell(self, reckoning: Reckoning, symbol: str, text: str) -> tuple[str, str]:
        """What is printed, and the decimal for a spreadsheet."""
        if symbol != NOTE:
            told, number = cell(reckoning, symbol)
            zero = self.table.zeros.get(symbol, "") if number and not float(number) else ""
            return (zero, "") if zero else (told, number)
        note = reckoning.reads(self.library.chosen(self.table.over.input, text).note or NOTHING)
        return note, note


# Into how many straight pieces a curve is drawn from one number of the table to the next.
BETWEEN = 12


def with_unit_after(words: str, unit: str) -> str:
    """What an axis shows."""
    return f"{words}, {label(unit)}" if label(unit) else words


def unit_of(reckoning: Reckoning, symbol: str) -> str:
    """The unit a symbol is shown in, whether the default reckoning has it or not."""
    return reckoning.working.shown(symbol, reckoning.system).unit


def slug(text: str) -> str:
    """A part of a file name out of an input's text."""
    return "-".join("".join(letter if letter.isalnum() else " " for letter in text.lower()).split())
