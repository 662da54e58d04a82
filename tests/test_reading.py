"""The pull in a rod by a scale's reading, and its error, against a simulation of readings that are out."""

from __future__ import annotations

import numpy as np
import pytest

from generator.job import do_job
from generator.model.library import Library

GIVEN = {"m_rd": "100 kg", "m_lv": "6 kg", "u_rd": "1 kg", "u_ar": "1 mm", "a_tr": "100 mm", "b_tr": "1000 mm"}


def test_the_error_is_that_of_a_simulation(library: Library) -> None:
    values = do_job(library, library.reference["lever-readings"], {"shop": "metric", **GIVEN}).working.values
    chance = np.random.default_rng(18)
    read, short, long = (chance.normal(middle, error, 400_000) for middle, error in ((94, 1), (0.1, 0.001), (1, 0.001)))
    assert values["F_rd"] == pytest.approx(94 * 9.80665 * 10)
    assert values["u_F"] == pytest.approx(float(np.std(read * 9.80665 * long / short)), rel=0.01)


def test_it_says_when_the_steel_may_go_first(library: Library) -> None:
    table = library.reference["lever-readings"]
    assert do_job(library, table, {"shop": "metric", **GIVEN}).working.warnings == []
    (mind,) = do_job(library, table, {"shop": "metric", **GIVEN, "m_rd": "240 kg"}).working.warnings
    assert "the rod itself may break first" in mind
    assert "nothing is pulled yet" in str(do_job(library, table, {"shop": "metric", **GIVEN, "m_rd": "5 kg"}).reasons)
