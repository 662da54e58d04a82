"""Heat in wood and metal against published values (`heat.yaml`), worked from the project's own data tables."""

from __future__ import annotations

from typing import Any

from conftest import LIBRARY, for_each, yaml_beside
from generator.formula import FORMULARY
from generator.model.quantity import gift, read_symbol
from generator.units import from_base
from generator.working import work

CHECKS = yaml_beside("published/heat.yaml")


def own(row: dict[str, Any]) -> float:
    """The project's own value in the row's unit."""
    values: dict[str, float] = {}
    for constants in LIBRARY.tables["heat_constants"].values():
        values |= gift(constants.gives, constants.sources, constants.source).values
    for name, text in row["given"].items():
        if name in ("wood", "metal"):
            chosen = LIBRARY.tables[f"{name}s"][text]
            values |= gift(chosen.gives, chosen.sources, chosen.source).values
        elif name == "thread":
            series, thread = LIBRARY.thread(text)
            values |= gift({**series.gives, "d": thread.d, "P": thread.P}, {}, "").values
        else:
            values[name] = read_symbol(name, text)
    symbol = row["symbol"]
    return from_base(work([symbol], values).values[symbol], FORMULARY.symbols[symbol].unit, row["unit"])


@for_each(CHECKS["rows"])
def test_value(row: dict[str, Any]) -> None:
    assert row["source"] in CHECKS["sources"]
    low, high = row.get("range") or (row["value"] - row["tolerance"], row["value"] + row["tolerance"])
    assert low - 1e-9 <= own(row) <= high + 1e-9


def test_every_metal_that_is_called_published_is_held_to_its_data_sheet() -> None:
    checked = {(row["given"]["metal"], row["symbol"]) for row in CHECKS["rows"] if row["source"] == "data-sheets" and "metal" in row["given"]}  # fmt: skip
    published = {name for name, row in LIBRARY.tables["metals"].items() if row.source == "metals-heat"}
    assert checked == {(name, symbol) for name in published for symbol in ("k_h", "c_h", "rho_k")}


def test_ids_are_unique_and_every_source_is_used() -> None:
    ids = [row["id"] for row in CHECKS["rows"]]
    assert len(ids) == len(set(ids))
    assert {row["source"] for row in CHECKS["rows"]} == set(CHECKS["sources"])
