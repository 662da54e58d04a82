"""Holes, mixes and quantities against values worked by hand and against common shop practice (`materials.yaml`).

Each row is worked as a job on the card, with inputs written as a reader would write them, so it proves the reading of
the inputs, the choice out of the drill lists and the formulas together.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from conftest import LIBRARY, for_each, yaml_beside
from generator.reckoning import Reckoning, reckon
from generator.units import from_base

CARD = LIBRARY.cards["bonded-stepped-hole"]
CHECKS = yaml_beside("published/materials.yaml")

MM, ML, GRAM, DENSITY, PLAIN = (
    ("m", "mm"),
    ("m**3", "mL"),
    ("kg", "g"),
    ("kg/m**3", "g/mL"),
    ("dimensionless", "dimensionless"),
)


def worked(symbol: str, units: tuple[str, str]) -> Callable[[Reckoning], float]:
    """A symbol of the job in the unit that the row is published in."""
    return lambda reckoning: from_base(reckoning.working.values[symbol], *units)


def ratio_of(symbol: str, other: str) -> Callable[[Reckoning], float]:
    """One symbol over another of the same kind."""
    return lambda reckoning: reckoning.working.values[symbol] / reckoning.working.values[other]


# How the project works each quantity, in the row's unit. The parts of a job that no symbol names are put together here.
QUANTITIES: dict[str, tuple[str, Callable[[Reckoning], float]]] = {
    "guide_hole": ("mm", worked("D_g", MM)),
    "oversized_hole": ("mm", worked("D_o", MM)),
    "oversized_hole_wanted": ("mm", worked("D_t", MM)),
    "oversized_depth": ("mm", worked("L_o", MM)),
    "hardener_per_hundred_resin_by_weight": (
        "parts per hundred",
        lambda reckoning: 100 * ratio_of("m_h", "m_r")(reckoning),
    ),
    "overdose_when_a_volume_ratio_is_weighed": ("%", lambda reckoning: 100 * (ratio_of("n_w", "n_v")(reckoning) - 1)),
    "mixed_density": ("g/mL", worked("rho_m", DENSITY)),
    "hardener_in_the_batch": ("g", worked("m_h", GRAM)),
    "paste_in_the_ring": ("mL", worked("V_r", ML)),
    "paste_in_the_whole_hole": (
        "mL",
        lambda reckoning: sum(worked(name, ML)(reckoning) for name in ("V_r", "V_f", "V_g")),
    ),
    "wet_out_coat": ("g", worked("m_w", GRAM)),
    "volume_from_110_g": ("mL", lambda reckoning: 110 * worked("V", ML)(reckoning) / worked("m_t", GRAM)(reckoning)),
    "total_mix": ("g", worked("m_t", GRAM)),
    "filler_by_weight": ("%", lambda reckoning: 100 * reckoning.working.values["x_f"]),
    "syringes_to_load": ("pieces", worked("n_s", PLAIN)),
}


@pytest.mark.parametrize("row", CHECKS["rows"], ids=lambda row: f"{row['id']}-{row['source']}-{row['quantity']}")
def test_value(row: dict[str, Any]) -> None:
    unit, quantity = QUANTITIES[row["quantity"]]
    assert unit == row["unit"]
    assert row["source"] in CHECKS["sources"]
    own = quantity(reckon(LIBRARY, CARD, row["given"]))
    # Binary noise is no disagreement: a tolerance of 0 asks for the very number.
    assert abs(own - row["value"]) <= row["tolerance"] + 1e-9 * row["value"], f"{own} {unit}, published {row['value']}"


def test_the_plain_pitch_diameter_is_a_fair_stand_in_for_the_thread() -> None:
    """Published with O15: taking the thread at its pitch diameter puts under 1 % on the paste, and never takes off."""
    row = next(row for row in CHECKS["rows"] if row["id"] == "O15")
    given = {name: text for name, text in row["given"].items() if name != "d_v"}
    _, paste = QUANTITIES[row["quantity"]]
    exact = paste(reckon(LIBRARY, CARD, given))
    assert exact < row["value"] < 1.01 * exact


SIZED_BY_A_DRILL = [row.size for _, _, row in LIBRARY.threads() if not row.size.startswith("#")]


@for_each(SIZED_BY_A_DRILL)
def test_guide_hole_is_the_threads_own_size(size: str) -> None:
    """Published as O01 for one thread: so for every one that has a drill of its own size, all but the number sizes."""
    row = next(row for row in CHECKS["rows"] if row["id"] == "O01")
    assert row["formula"] == "the thread's own size"
    values = reckon(LIBRARY, CARD, {"thread": size}).working.values
    assert values["D_g"] == pytest.approx(values["d"], abs=1e-9)


def test_ids_are_unique_and_every_quantity_is_published() -> None:
    ids = [row["id"] for row in CHECKS["rows"]]
    assert len(ids) == len(set(ids))
    assert {row["quantity"] for row in CHECKS["rows"]} == set(QUANTITIES)
