"""Reference tables: rows, columns, across, twins, reasons where there is no number, and bad table files."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from conftest import Run
from generator.job import do_job
from generator.model.library import Library
from generator.units import plain


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
    job = do_job(library, library.reference["epoxy-by-depth"], {"thread": "M16", "T": "110 mm"})
    assert float(rows["M16"]["V_1 110 mm (mL)"]) == float(job.number("V_1"))
    by_depth = [float(cell) for cell in list(rows["M16"].values())[1:]]
    assert by_depth == sorted(by_depth)


def test_hardener_by_hand(files: Mapping[str, str]) -> None:
    """30 g at 2:1 by volume and densities 1.15 and 0.98: 30 / (1 + 2 x 1.15 / 0.98) = 8.96 g."""
    rows = {next(iter(row.values())): row for row in rows_of(files["tables/mix/table-metric.csv"])}
    assert float(rows["30 g"]["m_h 2:1 by volume (g)"]) == pytest.approx(8.963, abs=0.05)


def test_where_there_is_no_number_the_reason_stands_below(house: Path, generator: Run) -> None:
    path = house / "procedures/tables/epoxy-by-depth.yaml"
    text = path.read_text(encoding="utf-8").replace("  large_drill:", "  large_drill: {default: twist}", 1)
    path.write_text(text, encoding="utf-8")
    assert generator("write", "out").returncode == 0
    page = plain((house / "out/tables/epoxy-by-depth.md").read_text(encoding="utf-8"))
    assert '<th scope="row">M24</th>' + "<td>—</td>" * 8 in page
    # 28 mm and 30 mm are wanted, in the coarse and in the fine series.
    assert len(re.findall(r"metric twist drills, from [^;]*, have no size near the", page)) == 4
    csv_text = (house / "out/tables/epoxy-by-depth/table-metric-metric-coarse.csv").read_text(encoding="utf-8")
    assert "\nM24,,,,,,,,\n" in csv_text


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
            "  thread: {ask: thread}",
            "  thread: {ask: thread, metric: M8.5, inch: 1/4-20 UNC}",
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
