"""Clearance holes, tap drills and washers against published values (`hardware.yaml`), looked up as a reader would."""

from __future__ import annotations

from typing import Any

import pytest

from conftest import LIBRARY, for_each, yaml_beside
from generator.formula import FORMULARY
from generator.model.quantity import read_symbol
from generator.reckoning import reckon
from generator.units import from_base

CHECKS = yaml_beside("published/hardware.yaml")


@for_each(CHECKS["rows"])
def test_value(row: dict[str, Any]) -> None:
    assert row["source"] in CHECKS["sources"]
    reckoning = reckon(LIBRARY, LIBRARY.reference[row["table"]], row["given"], extra=[row["symbol"]])
    own = from_base(reckoning.working.values[row["symbol"]], FORMULARY.symbols[row["symbol"]].unit, row["unit"])
    assert abs(own - row["value"]) <= row["tolerance"]


def test_ids_are_unique_and_every_source_is_used() -> None:
    ids = [row["id"] for row in CHECKS["rows"]]
    assert len(ids) == len(set(ids))
    assert {row["source"] for row in CHECKS["rows"]} == set(CHECKS["sources"])


def test_every_tap_drill_leaves_most_of_the_thread() -> None:
    """A tap drill lies between the root of the full internal thread and the thread's diameter: from half to 9 tenths of it."""
    for _, _, thread in LIBRARY.threads():
        d, pitch, drill = (read_symbol(symbol, thread.gives[symbol]) for symbol in ("d", "P", "D_y"))
        engaged = (d - drill) / (1.299038 * pitch)
        assert 0.60 < engaged < 0.90, (thread.size, engaged)


@pytest.mark.parametrize("table", ["clearances", "washers"])
def test_sizes_grow_with_the_thread(table: str) -> None:
    """A slip of a row shows as a size that falls."""
    for row in LIBRARY.tables[table].values():
        diameters = [read_symbol("d", size) for size in row.by_d]
        assert diameters == sorted(diameters)
        for symbol in next(iter(row.by_d.values())):
            sizes = [read_symbol(symbol, gives[symbol]) for gives in row.by_d.values()]
            assert sizes == sorted(sizes), (row.title, symbol)
            if symbol in ("D_h", "d_h"):
                assert all(hole > d for hole, d in zip(sizes, diameters, strict=True))


def test_inch_drills_are_in_order_and_true_to_their_names() -> None:
    rows = LIBRARY.tables["inch_drills"]
    sizes = [read_symbol("D_i", row.gives["D_i"]) for row in rows.values()]
    assert sizes == sorted(sizes)
    for name, row in rows.items():
        if name.startswith("frac-"):
            _, over, under = name.split("-")
            assert read_symbol("D_i", row.gives["D_i"]) == pytest.approx(int(over) / int(under) * 0.0254, rel=1e-12)
    letters = [size for name, size in zip(rows, sizes, strict=True) if name.startswith("letter-")]
    assert len(letters) == 26
    numbers = [int(name.removeprefix("number-")) for name in rows if name.startswith("number-")]
    assert numbers == list(range(40, 0, -1))
