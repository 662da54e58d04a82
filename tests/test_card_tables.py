"""What a card's table goes by: the thread, another input, or nothing, and then its page does not speak of one."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from pathlib import Path

import pytest
from test_faults import spoil

from conftest import Run
from generator.model.library import Library


def test_no_table_no_heading_no_file(library: Library, files: Mapping[str, str]) -> None:
    assert library.cards["mixing"].table is None
    assert library.cards["mixing"].sizes == []
    page = files["cards/mixing.md"]
    assert "## Sizes by thread" not in page
    assert "bw-sizes" not in page
    assert not [name for name in files if name.startswith("cards/mixing/sizes-")]
    assert "## Worked example" in files["cards/mixing/working.md"]


def test_no_drill_list_is_cited_where_nothing_is_drilled(library: Library, files: Mapping[str, str]) -> None:
    (source,) = {stock.source for stock in library.stock if (stock.kind, stock.shop) == ("twist", "inch")}
    assert f'id="source-{source}"' in files["cards/bonded-stepped-hole/working.md"]
    assert f'id="source-{source}"' not in files["cards/mixing/working.md"]


def test_other_cards_keep_theirs(library: Library, files: Mapping[str, str]) -> None:
    assert library.cards["heat-removal"].sizes[0] == "d"
    assert "## Sizes by thread" in files["cards/heat-removal.md"]
    assert "cards/heat-removal/sizes-unc.csv" in files


def test_a_card_with_no_table_is_checked_and_worked(generator: Run) -> None:
    assert generator("check").returncode == 0
    assert "m_r" in generator("work", "mixing", "m_b=50 g", "--trail").stdout


# By hand, t_0 = 3 mm and a base of 120 by 80 mm with a fillet of 4 mm: on a radius of 500 mm the edge drops by
# 500 - sqrt(500^2 - 40^2) = 1.6026 mm, and a side pad a third of the width out stands 3 + 500 - sqrt(500^2 - 26.667^2)
# = 3.7116 mm. On 2 m the edge drops by 0.4000 mm.
# The edge is told upwards: 3 mm under the ridge and a sagitta of 1.6026 mm, of 0.40004 mm. Of a seat that lets go it
# stands 4 mm further out: 500 - sqrt(500^2 - 44^2) = 1.9398 mm, and 0.4841 mm, and is told downwards.
CROWNS = {"500 mm": (1.6, 3.7, 4.7, 4.9), "2 m": (0.4, 3.2, 3.5, 3.4)}


@pytest.mark.parametrize("card", ["cast-seat", "released-seat"])
def test_a_seat_has_a_table_of_crowns(files: Mapping[str, str], card: str) -> None:
    page = files[f"cards/{card}.md"]
    assert "## Sizes by radius of the crown" in page
    assert page.count('<tr class="bw-default"><th scope="row">500') == 1
    rows = {
        row["radius of the crown"]: row for row in csv.DictReader(io.StringIO(files[f"cards/{card}/sizes-metric.csv"]))
    }
    thick = "t_eo" if card == "released-seat" else "t_e"
    for radius, (gap, pad, bonded, released) in CROWNS.items():
        worked = [float(rows[radius][name]) for name in ("s_e (mm)", "h_rs (mm)", f"{thick} (mm)")]
        assert worked == pytest.approx([gap, pad, released if thick == "t_eo" else bonded], abs=0.051)
    paste = [float(row["V_rs (mL)"]) for row in rows.values()]
    assert paste == sorted(paste, reverse=True)
    assert len(list(csv.DictReader(io.StringIO(files[f"cards/{card}/sizes-inch.csv"])))) == 7


def test_a_table_has_a_row_for_what_the_reader_sets(library: Library, files: Mapping[str, str]) -> None:
    for name, card in library.cards.items():
        own = files[f"cards/{name}.md"].count('<tr class="bw-yours">')
        assert own == (2 if card.table else 0), name
    assert '<th scope="row" data-s="R_c"></th><td data-s="s_e"></td>' in files["cards/cast-seat.md"]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("over: R_c", "over: T_wo", "cast-seat.yaml:{line}:15: 'T_wo' is not among the givens; add it there"),
        ("over: R_c", "over: {input: T_wo}", "cast-seat.yaml:{line}:23: 'T_wo' is not among the givens; add it there"),
        ("over: R_c", "over: {input: R_c, values: [150 mL]}", "R_c: '150 mL' is not a length"),
        ("over: R_c", "over: {input: R_c, metric: [1 m]}", "give 'values', or 'metric' and 'inch'"),
        (
            "over: R_c",
            "over: b_b",
            "cast-seat.yaml:{line}:15: give 'values', or 'metric' and 'inch', that 'b_b' runs through",
        ),
        ("over: R_c", "over: [R_c]", "a mapping is wanted here"),
    ],
)
def test_a_bad_run_of_a_card_is_told(house: Path, generator: Run, old: str, new: str, words: str) -> None:
    path = house / "procedures/cards/cast-seat.yaml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    done = generator("check")
    assert done.returncode == 1
    assert words.format(line=text[: text.index(old)].count("\n") + 1) in done.stdout + done.stderr


def test_a_bad_row_of_a_shared_input_is_told_where_it_stands(house: Path, generator: Run) -> None:
    line, column = spoil(house, "procedures/inputs.yaml", "250 mm, 500 mm, 1 m", "250 mL, 500 mm, 1 m")
    found = generator("check").stderr
    assert f"procedures/inputs.yaml:{line}:{column}: R_c: '250 mL' is not a length" in found
    assert "cards/cast-seat.yaml" not in found
