"""Pot life, speed of the cure, self-heating and dew point against values worked or printed elsewhere (`time.yaml`).

Each row's inputs are read as a reader would write them, and the resolver works the one symbol from nothing else.
"""

from __future__ import annotations

from typing import Any

import pytest
from scipy import constants

from conftest import LIBRARY, for_each, yaml_beside
from generator.formula import FORMULARY
from generator.model.quantity import read_symbol
from generator.units import from_base, read_quantity
from generator.working import work

CHECKS = yaml_beside("published/time.yaml")


@for_each(CHECKS["rows"])
def test_value(row: dict[str, Any]) -> None:
    assert row["source"] in CHECKS["sources"]
    symbol = row["symbol"]
    givens = {name: read_symbol(name, text) for name, text in row["given"].items()}
    own = from_base(work([symbol], givens).values[symbol], FORMULARY.symbols[symbol].unit, row["unit"])
    assert abs(own - row["value"]) <= row["tolerance"], f"{own} {row['unit']}, published {row['value']}"


def test_ids_are_unique_and_every_source_is_used() -> None:
    ids = [row["id"] for row in CHECKS["rows"]]
    assert len(ids) == len(set(ids))
    assert {row["source"] for row in CHECKS["rows"]} == set(CHECKS["sources"])


def test_the_gas_constant_is_codatas() -> None:
    gives = LIBRARY.tables["time_constants"]["gas"].gives
    assert read_quantity(gives["R_g"], "J/(mol*K)") == pytest.approx(constants.R, rel=1e-10)


# From and to, as the trade reckons: pot life in minutes at 25 °C, then hours to handle and hours to a light load at 20 °C.
RANGES = {
    "fast": ((10, 15), (6, 10), (24, 24)),
    "medium": ((15, 25), (10, 18), (36, 36)),
    "slow": ((25, 45), (18, 36), (48, 48)),
    "extra-slow": ((50, 75), None, None),
}
LOWEST = {"fast": 5, "medium": 10, "slow": 15, "extra-slow": 18}


@pytest.mark.parametrize("name", RANGES)
def test_hardeners_lie_in_the_common_ranges(name: str) -> None:
    row = LIBRARY.tables["hardeners"][name]
    gives = {symbol: read_symbol(symbol, text) for symbol, text in row.gives.items()}
    for symbol, unit, bounds in zip(("t_r", "t_h0", "t_l0"), ("min", "hour", "hour"), RANGES[name], strict=True):
        if bounds is None:
            assert row.sources[symbol] == "own-judgement"
        else:
            low, high = bounds
            assert low <= from_base(gives[symbol], "s", unit) <= high
    assert 4 <= from_base(gives["t_f0"], "s", "day") <= 10
    assert from_base(gives["T_min"], "K", "degC") == pytest.approx(LOWEST[name])
    assert from_base(gives["T_r"], "K", "degC") == pytest.approx(25)
    assert from_base(gives["T_c"], "K", "degC") == pytest.approx(20)
