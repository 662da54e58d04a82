"""Drills and threads of the data against the tables of an independent package.

The wheel of `bd-warehouse` (Apache-2.0) carries clearance holes, tap drills and drill sizes as CSV files. It is read
where it lies, never installed: BD_WAREHOUSE_WHEEL names it. It proves that a guide hole lets its thread through with no
more room than a close clearance hole, that the inch list of twist drills has no gap that those tables know of, and that
basic minor diameters and thread designations are those that tap drills are made for.

Rows of the package that are of another edition, or in no standard, are left out below, each with its reason.
"""

from __future__ import annotations

import csv
import io
import os
import zipfile
from pathlib import Path

import pytest

from conftest import LIBRARY
from generator.model.quantity import gift
from generator.reckoning import reckon
from generator.units import read_quantity
from generator.working import work

CARD = LIBRARY.cards["bonded-stepped-hole"]
THREADS = list(LIBRARY.threads())
HOW = "get it with 'pip download --no-deps bd-warehouse' and set BD_WAREHOUSE_WHEEL to the .whl file"

# Clearance rows that are not those of ISO 273 or ASME B18.2.8: M12 to M16 are of BS 4186, an older table; the
# American standard has neither #12 nor 9/16 in.
OTHER_CLEARANCE = {"M12", "M14", "M16", "#12", "9/16"}
# Tap drills that are a shop's own choice or smaller than the thread's hole (M22), or made for another pitch (1-12).
OTHER_TAPS = {"M12-1.75", "M14-2", "M22-2.5", "1-12"}
# Metric pitches for which the package has no tap drill.
NO_TAP = {"M20x1.5", "M20x2", "M22x1.5", "M22x2", "M24", "M24x1.5", "M24x2"}

Table = dict[str, dict[str, str]]


@pytest.fixture(scope="module")
def wheel() -> Path:
    """The wheel, which a build must have; at a desk its tests may be left out."""
    path = os.environ.get("BD_WAREHOUSE_WHEEL")
    if not path:
        if os.environ.get("CI"):
            pytest.fail(f"BD_WAREHOUSE_WHEEL is not set: {HOW}")
        pytest.skip(f"no independent tables here: {HOW}")
    return Path(path)


def read_table(wheel: Path, name: str) -> Table:
    """One CSV table of the wheel by its column Size."""
    with zipfile.ZipFile(wheel) as archive:
        text = archive.read(f"bd_warehouse/data/{name}.csv").decode("utf-8-sig")
    rows = csv.DictReader(io.StringIO(text), skipinitialspace=True)
    table = {row["Size"]: row for row in rows}
    assert len(table) > 20, f"{name}.csv is not the table expected"
    return table


@pytest.fixture(scope="module")
def clearance(wheel: Path) -> Table:
    return read_table(wheel, "clearance_hole_sizes")


@pytest.fixture(scope="module")
def taps(wheel: Path) -> Table:
    return read_table(wheel, "tap_hole_sizes")


@pytest.fixture(scope="module")
def drills(wheel: Path) -> dict[str, float]:
    """Number and letter drills, in metres."""
    return {name: read_quantity(f"{row['Diameter']} in", "m") for name, row in read_table(wheel, "drill_sizes").items()}


def nominal(size: str) -> str:
    """M10x1 is an M10; 1/4-20 UNC is a 1/4."""
    return size.split("x")[0].split("-")[0]


def designation(size: str, pitch: str) -> str:
    """M10x1 as M10-1, M8 as M8-1.25, 1/4-20 UNC as 1/4-20."""
    return f"{nominal(size)}-{pitch.removesuffix(' mm')}" if size.startswith("M") else size.split()[0]


def hole(text: str, drills: dict[str, float], *, metric: bool) -> float:
    """A hole of the tables in metres: millimetres, a fraction of an inch, or the name of a drill."""
    if metric:
        return read_quantity(f"{text} mm", "m")
    return drills[text] if text in drills else read_quantity(f"{text} in", "m")


def thread_values(size: str, *symbols: str) -> dict[str, float]:
    series, row = LIBRARY.thread(size)
    return work(symbols, gift({**series.gives, "d": row.d, "P": row.P}, series.sources, series.source).values).values


@pytest.mark.parametrize("size", [row.size for _, _, row in THREADS])
def test_guide_hole_is_no_wider_than_a_clearance_hole(size: str, clearance: Table, drills: dict[str, float]) -> None:
    values = reckon(LIBRARY, CARD, {"thread": size}).working.values
    assert values["d"] <= values["D_g"]
    if nominal(size) not in OTHER_CLEARANCE:
        row = clearance[nominal(size)]
        close, normal, loose = (hole(row[fit], drills, metric=size[0] == "M") for fit in ("Close", "Normal", "Loose"))
        assert values["D_g"] <= close < normal < loose


def test_rows_left_out_are_those_that_differ(clearance: Table) -> None:
    """ISO 273 has 13.5, 15.5 and 17.5 mm (medium): half a millimetre less. Rows put right need not be left out."""
    assert {size: float(clearance[size]["Normal"]) for size in ("M12", "M14", "M16")} == {
        "M12": 14.0,
        "M14": 16.0,
        "M16": 18.0,
    }


def inch_twist_drills() -> list[float]:
    return list(LIBRARY.stock_of("twist", "inch").sizes)


def is_stocked(size: float) -> bool:
    return any(abs(size - own) < 1e-9 for own in inch_twist_drills())


def test_inch_list_has_the_fractional_drills_of_the_tables(clearance: Table, taps: Table) -> None:
    """From 1/16 in every size that a tap or a clearance hole asks for to 1/2 in, and for the latter on to 1 in."""
    inch_rows = {size for size in clearance if not size.startswith("M")} - OTHER_CLEARANCE
    asked = {clearance[size][fit] for size in inch_rows for fit in ("Close", "Normal")}
    tapped = {row[fit] for size, row in taps.items() if not size.startswith("M") for fit in ("Soft", "Hard")}
    smallest, half, largest = (read_quantity(text, "m") for text in ("1/16 in", "1/2 in", "1 in"))
    wanted = {
        name: limit
        for names, limit in ((tapped, half), (asked, largest))
        for name in names
        if "/" in name and smallest <= read_quantity(f"{name} in", "m") <= limit
    }
    assert len(wanted) > 20
    missing = [name for name in wanted if not is_stocked(read_quantity(f"{name} in", "m"))]
    assert missing == []


def test_the_drill_that_has_both_names(drills: dict[str, float]) -> None:
    """Of all letter and number drills only E is also a fraction, 1/4 in."""
    both = [name for name, size in drills.items() if is_stocked(size)]
    assert both == ["E"]
    assert drills["E"] == pytest.approx(read_quantity("1/4 in", "m"), abs=1e-12)


@pytest.mark.parametrize(("size", "pitch"), [(row.size, row.P) for _, _, row in THREADS])
def test_thread_can_be_tapped(size: str, pitch: str, taps: Table, drills: dict[str, float]) -> None:
    """The designation is a common one, and its tap drill lies between basic minor and nominal diameter.

    A tap drill leaves about 75 % of the thread; the basic minor diameter is 83 %, the nominal diameter none.
    """
    name = designation(size, pitch)
    if size in NO_TAP:
        assert name not in taps
        return
    tap = hole(taps[name]["Soft"], drills, metric=size[0] == "M")
    values = thread_values(size, "d", "D_1", "d_2")
    if name not in OTHER_TAPS:
        assert values["D_1"] <= tap <= values["d_2"]
