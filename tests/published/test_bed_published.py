"""Beds, compounds and cartridges against values worked apart from this project (`bed.yaml`).

Each row is worked from the project's own data tables and the values given beside them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from conftest import LIBRARY, for_each, yaml_beside
from generator.formula import FORMULARY
from generator.model.quantity import gift, read_symbol
from generator.units import from_base
from generator.working import work

CHECKS = yaml_beside("published/bed.yaml")


def givens(texts: Mapping[str, str]) -> dict[str, float]:
    """What the data tables give for the choices named, and the symbols given, in SI."""
    # A step too fine to round anything: the thickness itself is what is published.
    values: dict[str, float] = {"s_kb": 1e-9}
    for row in LIBRARY.tables["bed_constants"].values():
        values |= gift(row.gives, row.sources, row.source).values
    for name, text in texts.items():
        if name in LIBRARY.choices:
            row = LIBRARY.row(LIBRARY.choices[name].table, text)
            values |= gift(row.gives, row.sources, row.source).values
        else:
            values[name] = read_symbol(name, text)
    return values


@for_each(CHECKS["rows"])
def test_value(row: dict[str, Any]) -> None:
    assert row["source"] in CHECKS["sources"]
    symbol = row["symbol"]
    value = work([symbol], givens(row["given"])).values[symbol]
    own = from_base(value, FORMULARY.symbols[symbol].unit, row["unit"])
    assert abs(own - row["value"]) <= row["tolerance"] + 1e-9


def test_the_slow_and_the_thick_end_are_taken() -> None:
    """Of a range of common practice: waiting longer, and leaving more compound, err to the safe side."""
    for row in CHECKS["rows"]:
        if row["source"] == "practice":
            value = work([row["symbol"]], givens(row["given"])).values[row["symbol"]]
            own = from_base(value, FORMULARY.symbols[row["symbol"]].unit, row["unit"])
            side = -1 if row["formula"] == "slow end" else 1
            assert own == pytest.approx(row["value"] + side * row["tolerance"])


def test_ids_are_unique_and_every_source_is_used() -> None:
    ids = [row["id"] for row in CHECKS["rows"]]
    assert len(ids) == len(set(ids))
    assert {row["source"] for row in CHECKS["rows"]} == set(CHECKS["sources"])
