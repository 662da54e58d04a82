"""Fasteners loaded across their axis, by the American equations, against published values (`lateral.yaml`).

The equations stand in `tests/yield_limits.py`, apart from the project's own, which are compared with them elsewhere.
"""

from __future__ import annotations

from math import sqrt
from typing import Any

import pytest
from yield_limits import Joint, bearing, of_row, reduction

from conftest import yaml_beside
from generator.model.quantity import read_symbol
from generator.working import work

CHECKS = yaml_beside("published/lateral.yaml")
KN = 1e3


def rows(group: str) -> Any:
    """A parameter of a test for each row of a group."""
    return pytest.mark.parametrize("row", CHECKS[group], ids=lambda row: f"{row['id']}-{row['source']}")


def test_every_row_has_a_source_and_an_id_of_its_own() -> None:
    every = [row for group, found in CHECKS.items() if group != "sources" for row in found]
    assert {row["source"] for row in every} == set(CHECKS["sources"])
    assert len({row["id"] for row in every}) == len(every)


@rows("reference")
def test_reference_value(row: dict[str, Any]) -> None:
    assert abs(of_row(row["given"]) - row["value"]) <= row["tolerance"]


@rows("bearing")
def test_bearing(row: dict[str, Any]) -> None:
    assert bearing(**row["given"]) == row["value"]


@rows("modes")
def test_mode(row: dict[str, Any]) -> None:
    joint = Joint(D=0.5, lm=0.25, ls=1.5, Fem=87000, Fes=5600, Fyb=45000)
    for loads in (joint.plain(), joint.gapped()):
        reduced = loads[row["mode"]] / reduction(row["mode"], 0.5, 0.5, 0)
        assert abs(reduced - row["value"]) <= row["tolerance"]


@rows("two_hinges")
def test_two_hinges(row: dict[str, Any]) -> None:
    """The same form in newtons and millimetres: wood at nine tenths of 50 G (1 - 0.01 d), plate at 1005, bolt at 310 MPa."""
    d, G = row["given"]["d"], row["given"]["G"]
    joint = Joint(D=d, lm=105, ls=6, Fem=0.9 * 50 * G * (1 - 0.01 * d), Fes=1005, Fyb=310)
    assert abs(0.8 * joint.gapped()["IV"] / KN - row["value"]) <= row["tolerance"]


@rows("thick_plate")
def test_thick_plate(row: dict[str, Any]) -> None:
    """The European rule for a thick plate with its factor of 1.15, from our own bending of a fastener that is free to turn."""
    given = {name: read_symbol(name, text) for name, text in row["given"].items()}
    bent = work(["R_y3"], {**given, "alpha_y": 0.0, "q_y": 1.0, "g_y": 0.0}).values["R_y3"]
    assert abs(1.15 * sqrt(2) * bent / KN - row["value"]) <= row["tolerance"]
