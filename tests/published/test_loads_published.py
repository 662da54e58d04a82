"""Ramps, wind, design loads by length and by working load against published values (`loads.yaml`).

Each row is worked from the project's own data tables and the values given beside them, so it proves the data and the
formulas together.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from scipy import constants

from conftest import LIBRARY, for_each, yaml_beside
from generator.formula import FORMULARY
from generator.model.quantity import gift, read_symbol
from generator.reckoning import reckon
from generator.units import from_base
from generator.working import work

CHECKS = yaml_beside("published/loads.yaml")


def givens(texts: Mapping[str, str]) -> dict[str, float]:
    """What the data tables give for the choices named, and the symbols given, in SI."""
    values: dict[str, float] = {}
    for row in LIBRARY.tables["load_constants"].values():
        values |= gift(row.gives, row.sources, row.source).values
    for name, text in texts.items():
        if name in LIBRARY.choices:
            row = LIBRARY.row(LIBRARY.choices[name].table, text)
            values |= gift(row.gives, row.sources, row.source).values
        else:
            values[name] = read_symbol(name, text)
    return values


def own(row: dict[str, Any]) -> float:
    """The project's own value, as the row is published."""
    symbol = row["symbol"]
    if row.get("sheet"):
        value = reckon(LIBRARY, LIBRARY.reference[row["sheet"]], row["given"]).working.values[symbol]
    else:
        value = work([symbol], givens(row["given"])).values[symbol]
    number = from_base(value, FORMULARY.symbols[symbol].unit, row["unit"] or "dimensionless")
    return float(FORMULARY.symbols[symbol].shown("inch").number(number)) if row.get("shown") else number


@for_each(CHECKS["rows"])
def test_value(row: dict[str, Any]) -> None:
    assert row["source"] in CHECKS["sources"]
    assert abs(own(row) - row["value"]) <= row["tolerance"] + 1e-9


def test_ids_are_unique_and_every_source_is_used() -> None:
    ids = [row["id"] for row in CHECKS["rows"]]
    assert len(ids) == len(set(ids))
    assert {row["source"] for row in CHECKS["rows"]} == set(CHECKS["sources"])


@pytest.mark.parametrize("category", ["a-b", "c", "d"])
def test_three_loads_printed_in_an_owners_manual_fit_the_six_numbers(category: str) -> None:
    """24.9, 20.4 and 17.4 kN; the length is inferred from the first, and whatever the category the others follow."""
    factor = givens({"category": category})["f_K"]
    length = (24.9 / factor + 5.4) / 4.3
    worked = work(["P_1", "P_2", "P_3"], {"f_K": factor, "L_C": length}).values
    assert worked["P_1"] / 1e3 == pytest.approx(24.9, abs=1e-9)
    assert worked["P_2"] / 1e3 == pytest.approx(20.4, abs=0.1)
    assert worked["P_3"] / 1e3 == pytest.approx(17.4, abs=0.1)


def test_standard_gravity_is_that_of_a_scientific_library() -> None:
    assert givens({})["g_n"] == constants.g


# The ranges that are reckoned with; the data must hold the upper end. All but the skids and the tyres are from memory.
RANGES = {
    ("ramps", "mu_r"): {
        "rollers-free": (0.02, 0.05),
        "rollers-stiff": (0.10, 0.15),
        "pads-wet": (0.10, 0.20),
        "bunks-wet": (0.15, 0.25),
        "bunks-dry": (0.3, 0.5),
        "skids-dry": (0.4, 0.65),
        "skids-wet": (0.15, 0.7),
        "beach": (0.5, 0.8),
        "trailer-paved": (0.01, 0.02),
        "trailer-gravel": (0.04, 0.08),
        "trailer-sand": (0.2, 0.4),
    },
    ("windage", "C_air"): {
        "hull": (0.5, 0.9),
        "cabin": (1.0, 1.3),
        "mast": (1.0, 1.2),
        "plate": (1.2, 1.3),
        "side": (1.0, 1.3),
    },
    ("underwater", "C_sea"): {"along": (0.3, 0.5), "across": (1.0, 1.5)},
    ("load_constants", "k_gu"): {"moored": (1.3, 1.5)},
}


@pytest.mark.parametrize(("table", "symbol"), RANGES, ids=lambda part: part)
def test_the_upper_end_of_every_range_is_taken_and_the_note_tells_the_lower(table: str, symbol: str) -> None:
    ranges = RANGES[table, symbol]
    for name, (low, high) in ranges.items():
        row = LIBRARY.tables[table][name]
        assert read_symbol(symbol, row.gives[symbol]) == high
        assert row.note is not None
        assert f"{low:g}" in row.note.replace("0.10", "0.1") or f"{low:.1f}" in row.note
    if table != "load_constants":
        assert set(ranges) == set(LIBRARY.tables[table])


def test_what_was_not_read_says_so() -> None:
    read = {"skids-dry", "skids-wet", "trailer-paved", "trailer-gravel", "trailer-sand"}
    for name, row in LIBRARY.tables["ramps"].items():
        assert (LIBRARY.sources[row.source].basis == "published") == (name in read)
    for table in ("windage", "underwater"):
        assert {row.source for row in LIBRARY.tables[table].values()} == {"from-memory"}
    for symbol in ("P_1", "P_2", "P_3"):
        (formula,) = (step for step in FORMULARY.formulas if step.symbol == symbol)
        assert LIBRARY.sources[formula.source].basis == "from memory"
