"""Threads against printed tables: ISO 724, ISO 898-1 and ASME B1.1 (as reproduced in Machinery's Handbook, 31st ed.).

`threads.yaml` holds single values with their tolerances, `thread_columns.yaml` whole columns for every size in the
project's own list. Both are worked here by the formulas that the cards use, from the nominal diameter and pitch in
procedures/data alone. It proves the thread formulas, the factors of each standard, and every row of the data.

A printed value that its own standard's formula does not give stays, as a test that must fail.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from conftest import LIBRARY, all_hold, yaml_beside
from generator.model.quantity import gift
from generator.proof import registry
from generator.units import from_base, read_quantity
from generator.working import work

CHECKS = yaml_beside("published/threads.yaml")
COLUMNS = yaml_beside("published/thread_columns.yaml")
SYSTEM = {"metric-coarse": "metric", "metric-fine": "metric", "unc": "inch", "unf": "inch"}


def thread(designation: str, symbol: str) -> float:
    """A symbol worked from what the data say of a thread, in SI."""
    series, row = LIBRARY.thread(designation)
    givens = gift({**series.gives, "d": row.d, "P": row.P}, series.sources, series.source).values
    return work([symbol], givens).values[symbol]


def displaced_volume_per_metre(inputs: dict[str, Any]) -> float:
    """Volume of the plain rod that takes up as much room, for one metre of it."""
    return math.pi / 4 * thread(inputs["thread"], "d_v") ** 2


def point_length(inputs: dict[str, Any]) -> float:
    """The cone of a drill, which must be the same in both of its roles."""
    size, angle = inputs["D_mm"] / 1000, math.radians(inputs["point_angle_deg"])
    large = work(["h_o"], {"D_o": size, "alpha_o": angle}).values["h_o"]
    guide = work(["h_g"], {"D_g": size, "alpha_g": angle}).values["h_g"]
    assert large == guide
    return large


# How the project works each published quantity.
QUANTITIES = {
    "tensile_stress_area": lambda inputs: thread(inputs["thread"], "A_s"),
    "pitch_diameter": lambda inputs: thread(inputs["thread"], "d_2"),
    "basic_minor_diameter": lambda inputs: thread(inputs["thread"], "D_1"),
    "root_diameter": lambda inputs: thread(inputs["thread"], "d_3"),
    "volume_equivalent_diameter": lambda inputs: thread(inputs["thread"], "d_v"),
    "displaced_volume_per_metre": displaced_volume_per_metre,
    "twist_drill_point_length": point_length,
    "fraction_to_mm": lambda inputs: read_quantity(f"{inputs['fraction']} in", "m"),
}


def test_every_value() -> None:
    def holds(row: dict[str, Any]) -> None:
        unit = float(registry.Quantity(1, row["unit"]).to_base_units().magnitude)
        own = QUANTITIES[row["quantity"]](row["inputs"]) / unit
        assert row["source"] in CHECKS["sources"]
        assert abs(own - row["value"]) <= row["tolerance"], f"{own} {row['unit']}, published {row['value']}"

    all_hold(holds, CHECKS["rows"], lambda row: f"{row['id']} {row['source']} {row['inputs']} {row['quantity']}")


def test_ids_are_unique() -> None:
    ids = [row["id"] for row in CHECKS["rows"]]
    assert len(ids) == len(set(ids)) > 0


def printed_rows() -> Iterator[tuple[str, dict[str, str]]]:
    """Every printed row with its series."""
    for series, rows in COLUMNS["series"].items():
        for row in rows:
            yield series, row


@dataclass(frozen=True)
class Printed:
    """A printed value of a thread, and why it disagrees with its own formula, where it does."""

    size: str
    column: Mapping[str, Any]
    text: str
    why: str | None

    def __str__(self) -> str:
        return f"{self.size} {self.column['symbol']} {self.column['source']}"


def printed_values() -> Iterator[Printed]:
    """Every printed value."""
    disagreements = {(entry["size"], entry["column"]): entry for entry in COLUMNS["disagreements"]}
    for series, row in printed_rows():
        columns = COLUMNS["columns"][SYSTEM[series]]
        for name in row.keys() - {"size"}:
            assert name in columns, f"{row['size']}: no column {name}"
        for name, column in columns.items():
            if name not in row:
                continue
            entry = disagreements.pop((row["size"], name), None)
            assert not entry or entry["printed"] == row[name]
            why = f"printed {entry['printed']}, formula {entry['formula']}: {entry['why']}" if entry else None
            yield Printed(row["size"], column, row[name], why)
    assert not disagreements, f"nothing printed for {list(disagreements)}"


PRINTED = [*printed_values()]


def agrees(printed: Printed) -> None:
    """Our own value is the printed one."""
    column = printed.column
    own = from_base(thread(printed.size, column["symbol"]), *base_and_unit(column))
    if column.get("reciprocal"):
        own = 1 / own
    allowed_off = allowed(column, printed.text)
    assert abs(own - float(printed.text)) <= allowed_off, f"{own} {column['unit']}, printed {printed.text}"


def test_every_printed_column() -> None:
    all_hold(agrees, [printed for printed in PRINTED if not printed.why])


@pytest.mark.parametrize(
    "printed",
    [
        pytest.param(one, marks=pytest.mark.xfail(strict=True, raises=AssertionError, reason=one.why), id=str(one))
        for one in PRINTED
        if one.why
    ],
)
def test_a_printed_value_that_its_formula_does_not_give(printed: Printed) -> None:
    agrees(printed)


def base_and_unit(column: Mapping[str, Any]) -> tuple[str, str]:
    """The column's SI unit and its own."""
    return ("m**2" if column["unit"].endswith("**2") else "m"), column["unit"]


def allowed(column: Mapping[str, Any], printed: str) -> float:
    """So many units of the last printed digit, and a little for the binary noise of both numbers."""
    digits = len(printed.partition(".")[2])
    return float(column["last_digits"] * 10.0**-digits + 1e-9 * float(printed))


@pytest.mark.parametrize("entry", COLUMNS["disagreements"], ids=lambda entry: entry["size"].replace(" ", "-"))
def test_formula_of_a_disagreement_is_ours(entry: dict[str, str]) -> None:
    """Where a printed number is off, the standard's formula, worked by hand, is what the project must give."""
    column = COLUMNS["columns"]["inch"][entry["column"]]
    own = from_base(thread(entry["size"], column["symbol"]), *base_and_unit(column))
    assert abs(own - float(entry["formula"])) <= allowed({"last_digits": 0.5}, entry["formula"])


def test_every_thread_of_the_data_stands_in_the_tables() -> None:
    own = {(series, row.size) for series, _, row in LIBRARY.threads()}
    printed = {(series, row["size"]) for series, row in printed_rows()}
    assert own == printed


def test_every_printed_column_is_used() -> None:
    for system, columns in COLUMNS["columns"].items():
        rows = [row for series, row in printed_rows() if SYSTEM[series] == system]
        for name, column in columns.items():
            assert column["source"] in COLUMNS["sources"]
            missing = [row["size"] for row in rows if name not in row]
            # ISO 898-1 leaves these four out.
            assert missing == (["M18x2", "M20x2", "M22x2", "M24x1.5"] if name == "As" else []), name
