"""Reference tables: rows, columns, across, twins, reasons where there is no number, and bad table files."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from conftest import CARD, Run
from generator.check import _sheet_faults
from generator.figures.parts import TEXT
from generator.model.library import Library, load
from generator.model.schema import Over
from generator.pages.options import SiteOptions
from generator.pages.site import site_files
from generator.pages.table import TablePage
from generator.reckoning import reckon
from generator.units import plain, read_number


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_every_table_has_its_page_its_working_and_its_checks(library: Library, files: Mapping[str, str]) -> None:
    assert {"threads", "epoxy-by-depth", "mix"} <= set(library.reference)
    for name in library.reference:
        page = files[f"tables/{name}.md"]
        headings = re.findall(r"^## (.+)$", page, re.MULTILINE)
        # The working comes last, for it prints only when it is asked for.
        assert headings[-3:] == ["How it was worked", "Check values", "Sources"]
        assert f"]({name}.md)" in files["tables/index.md"]


@pytest.mark.parametrize("series", ["metric-coarse", "metric-fine", "unc", "unf"])
def test_the_thread_table_lists_every_thread_of_its_series(
    library: Library, files: Mapping[str, str], series: str
) -> None:
    system = library.series[series].shop
    rows = rows_of(files[f"tables/threads/table-{system}-{series}.csv"])
    assert [row["thread"] for row in rows] == [thread.size for thread in library.series[series].rows]


def test_a_cell_across_is_the_job_of_its_row_and_column(library: Library, files: Mapping[str, str]) -> None:
    rows = {row["thread"]: row for row in rows_of(files["tables/epoxy-by-depth/table-metric-metric-coarse.csv"])}
    reckoning = reckon(library, library.reference["epoxy-by-depth"], {"thread": "M16", "T": "110 mm"})
    assert float(rows["M16"]["V_1 110 mm (mL)"]) == float(reckoning.number("V_1"))
    by_depth = [float(cell) for cell in list(rows["M16"].values())[1:]]
    assert by_depth == sorted(by_depth)


def test_hardener_by_hand(files: Mapping[str, str]) -> None:
    """30 g at 2:1 by volume and densities 1.15 and 0.98: 30 / (1 + 2 x 1.15 / 0.98) = 8.96 g."""
    rows = {next(iter(row.values())): row for row in rows_of(files["tables/mix/table-metric.csv"])}
    assert float(rows["30 g"]["m_h 2:1 by volume (g)"]) == pytest.approx(8.963, abs=0.05)


def test_where_there_is_no_number_the_reason_stands_below(house: Path) -> None:
    path = house / "procedures/tables/epoxy-by-depth.yaml"
    text = path.read_text(encoding="utf-8").replace(" large_drill,", " large_drill: twist,", 1)
    path.write_text(text, encoding="utf-8")
    alone = SiteOptions(cards=(CARD,), tables=("epoxy-by-depth",), jobs=())
    files = site_files(load(house / "procedures"), alone)
    page = plain(files["tables/epoxy-by-depth.md"])
    assert '<th scope="row">M24</th>' + "<td>—</td>" * 8 in page
    # In the coarse and in the fine series.
    told = "{heads}: metric twist drills, from 1 mm to 25 mm, have no size near the 28 mm, 30 mm that is wanted;"
    assert all(told.format(heads=heads) in page for heads in ("M22, M24", "M22x1.5, M22x2, M24x1.5, M24x2"))
    assert "\nM24,,,,,,,,\n" in files["tables/epoxy-by-depth/table-metric-metric-coarse.csv"]


def test_a_reason_stands_once_below_a_table(library: Library, files: Mapping[str, str]) -> None:
    """Of M6 in white oak 2 kN and more are too much, of M8 6 kN: the dashes say where."""
    for name in library.reference:
        for grid in files[f"tables/{name}.md"].split('<div class="bw-grid"')[1:]:
            told = [text.split(": ", 1)[1] for text in re.findall(r'<p class="bw-reason">(.*?)</p>', grid)]
            assert len(told) == len({*told}), name
    assert plain(files["tables/thread-for-load.md"]).count('<p class="bw-reason">—: no depth of this thread') == 6


def test_a_zero_that_stands_for_a_finger_says_so(files: Mapping[str, str]) -> None:
    """M6 in white oak: 0.12 x 6 mm x what its washer bears is under the 1 N·m of two fingers; M8 is not."""
    page = files["tables/nut-torque.md"]
    assert re.search(r'<th scope="row">M6</th><td>18</td><td>0.7</td><td>by finger</td>', page)
    assert "<td>0.0</td>" not in page
    assert "\nM6,18,0.7,,0.7,\n" in files["tables/nut-torque/table-metric-white-oak.csv"]
    assert "by finger" not in files["search/index.js"]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("over: {input: thread}", "over: {input: T}", "'T' is not among the givens; add it there"),
        ("over: {input: thread}", "ovar: {input: thread}", "unknown key 'ovar'; did you mean 'over'?"),
        ("columns: [d, P,", "columns: [d, Q,", "unknown symbol 'Q'"),
        ("columns: [d, P, d_2, D_1, d_3, A_s, d_v, D_y]\n", "", "give either 'columns' or 'across'"),
        ("value: 9.026 mm", "value: 9.126 mm", "d_2 is published as 9.126 mm"),
        ("over: {input: thread}", "over: {input: thread, values: [M8, M9]}", "thread: thread 'M9' is not in the data"),
        ("over: {input: thread}", "over: {input: thread, values: []}", "give at least one value, and none twice"),
        ("over: {input: thread}", "over: {input: thread, values: [M8, M8]}", "give at least one value, and none twice"),
        ("over: {input: thread}", "over: {input: thread}\neach: {input: thread}", "'thread' runs already"),
        ("columns: [d, P,", "columns: [note, P,", "'thread' has no notes to print"),
        (
            "{thread: {ask: thread}}",
            "{thread: {ask: thread, metric: M8.5, inch: 1/4-20 UNC}}",
            "thread 'M8.5' is not in the data",
        ),
    ],
)
def test_a_fault_in_a_table_file(house: Path, generator: Run, old: str, new: str, words: str) -> None:
    path = house / "procedures/tables/threads.yaml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    done = generator("check")
    assert done.returncode == 1
    assert re.search(r"procedures/tables/threads\.yaml:\d+:\d+: ", done.stderr), done.stderr
    assert words in done.stderr


def test_what_a_table_runs_through_is_what_it_takes(library: Library) -> None:
    """A value outside its own range would stop the page, as would a row that it leaves to another card."""
    table, card = library.reference["compound-coverage"], library.cards[CARD]
    assert table.across
    assert card.table
    across = table.across.model_copy(update={"metric": ["3 mm", "31 mm"]})
    over = Over(input="hole", values=["through", "blind"])
    spoilt = [
        ("tables/compound-coverage.yaml", table.model_copy(update={"across": across})),
        (f"cards/{CARD}.yaml", card.model_copy(update={"table": card.table.model_copy(update={"over": over})})),
    ]
    told = [str(fault) for name, sheet in spoilt for fault in _sheet_faults(library, sheet, library.documents[name])]
    at = [library.documents["tables/compound-coverage.yaml"].places.parts["across", "metric", 1][0]]
    at.append(library.documents[f"cards/{CARD}.yaml"].places.parts["table", "over"][0])
    assert [int(one.split(":")[1]) for one in told] == at
    assert "d_k: outside the range of this card: take 1 to 30 mm" in told[0]
    assert "'blind' is left to another card" in told[1]


def test_a_head_of_no_column_is_told_at_its_name(library: Library) -> None:
    table, document = library.reference["lag-screw"], library.documents["tables/lag-screw.yaml"]
    (fault,) = _sheet_faults(library, table.model_copy(update={"columns": table.columns[1:]}), document)
    assert (fault.line, fault.column) == document.places.keys["heads", "G"]


PLOTTED = [
    ("cure", "t_h", "hardener", ["table-{}-fast", "table-{}-medium", "table-{}-slow", "table-{}-extra-slow"]),
    ("pot-life", "t_w", "hardener", ["table-{}"]),
    ("bond-capacity", "F_w", "wood", ["table-{}-western-redcedar", "table-{}-douglas-fir", "table-{}-white-oak"]),
]
# A coordinate of a drawing has two decimals.
PIXEL = 0.011


def scale(ticks: list[tuple[float, float]]) -> tuple[bool, float, float]:
    """An axis read off its own numbers: whether it goes by ratios, its slope, and where it begins."""
    (first, low), (last, high) = ticks[0], ticks[-1]
    even = [first + (last - first) * (value - low) / (high - low) for _, value in ticks]
    ratios = max(abs(at - own) for at, (own, _) in zip(even, ticks, strict=True)) > 2 * PIXEL
    slope = (last - first) / (math.log(high / low) if ratios else high - low)
    for at, value in ticks:
        assert at == pytest.approx(first + slope * (math.log(value / low) if ratios else value - low), abs=2 * PIXEL)
    return ratios, slope, first - slope * (math.log(low) if ratios else low)


def at(place: float, axis: tuple[bool, float, float]) -> tuple[float, float]:
    """What stands at a place of an axis, at least and at most, with its coordinate's own rounding."""
    ratios, slope, begin = axis
    both = sorted((place + edge - begin) / slope for edge in (-PIXEL, PIXEL))
    low, high = (math.exp(one) for one in both) if ratios else both
    return low, high


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize(("name", "symbol", "curves", "grids"), PLOTTED)
def test_the_signs_of_a_plot_are_the_numbers_of_its_table(
    library: Library, files: Mapping[str, str], name: str, symbol: str, curves: str, grids: list[str], system: str
) -> None:
    """The plot is read as a reader does, by the numbers along its axes, and compared with the table's spreadsheet."""
    table = library.reference[name]
    assert table.plot
    assert (table.plot.symbol, table.plot.curves) == (symbol, curves)
    svg = re.search(rf'<svg[^>]*aria-labelledby="plot-{system}-title.*?</svg>', files[f"tables/{name}.md"], re.DOTALL)
    assert svg
    ticks = [
        (float(x), float(y), anchor, float(value))
        for x, y, anchor, value in re.findall(
            r'<text x="([\d.]+)" y="([\d.]+)"[^>]*text-anchor="(middle|end)"[^>]*>([\d.]+)</text>', svg[0]
        )
    ]
    lowered = TEXT / 3
    across = scale([(x, value) for x, _, anchor, value in ticks if anchor == "middle"])
    up = scale([(y - lowered, value) for _, y, anchor, value in ticks if anchor == "end"])
    drawn = [
        [(float(x), float(y)) for x, y in re.findall(r"translate\(([\d.]+) ([\d.]+)\)", curve)]
        for curve in re.findall(r'<g data-part="curve">(.*?)</g></g>', svg[0], re.DOTALL)
    ]
    rows = [rows_of(files[f"tables/{name}/{grid.format(system)}.csv"]) for grid in grids]
    if name == "bond-capacity":
        own = {"metric": "M8", "inch": "5/16-18 UNC"}[system]
        printed = [
            [(head.split(" (")[0].removeprefix(f"{symbol} "), cell) for head, cell in row.items() if head != "thread"]
            for grid in rows
            for row in grid
            if row["thread"] == own
        ]
    elif name == "pot-life":
        heads = list(rows[0][0])
        printed = [[(row[heads[0]], row[head]) for row in rows[0]] for head in heads[1:]]
    else:
        printed = [
            [
                (next(iter(row.values())), cell)
                for row in grid
                for head, cell in row.items()
                if head.startswith(f"{symbol} (")
            ]
            for grid in rows
        ]
    numbers = [[(text, float(cell)) for text, cell in curve if cell] for curve in printed]
    assert [len(curve) for curve in drawn] == [len(curve) for curve in numbers if curve]
    assert sum(map(len, drawn)) > 12
    for places, curve in zip(drawn, (one for one in numbers if one), strict=True):
        for (x, y), (text, value) in zip(places, curve, strict=True):
            along = float(read_number(text)[0])
            low, high = at(x, across)
            assert low <= along <= high
            low, high = at(y, up)
            assert low <= value <= high, (text, value)


@pytest.mark.parametrize(
    ("plot", "told"),
    [
        ({"symbol": "F_s"}, "'F_s' is not in the table; it prints F_w"),
        ({"along": "a_e"}, "the table does not run over 'a_e'; it does over thread, T, wood"),
        ({"along": "wood", "curves": "T"}, "'wood' is no quantity; a curve runs along one of: T"),
    ],
)
def test_a_plot_is_of_numbers_that_its_table_prints(library: Library, plot: dict[str, str], told: str) -> None:
    table = library.reference["bond-capacity"]
    assert table.plot
    spoilt = table.model_copy(update={"plot": table.plot.model_copy(update=plot)})
    with pytest.raises(ValueError, match=re.escape(told)):
        spoilt.plot_is_of_the_table()


def test_a_curve_goes_by_the_size_of_what_it_runs_along(library: Library) -> None:
    """However a size is written: between 90 mm and 12 cm it is drawn from 90 mm to 120 mm."""
    table = library.reference["bond-capacity"]
    assert table.across
    across = table.across.model_copy(update={"metric": ["90 mm", "12 cm"]})
    written = replace(library, reference={"bond-capacity": table.model_copy(update={"across": across})})
    page = TablePage(written, "bond-capacity", SiteOptions().of(library))
    assert page.table.plot
    curve = page._curve(page.table.plot, "metric", "spruce", {"wood": "sitka-spruce", "shop": "metric"})
    assert [x for x, _ in curve.dots] == [90, 120]
    assert [(piece[0][0], piece[-1][0]) for piece in curve.pieces] == [(90, 120)]
