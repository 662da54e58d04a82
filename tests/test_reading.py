"""The pull in a rod by a scale's reading, and its error, against a simulation of readings that are out."""

from __future__ import annotations

import numpy as np
import pytest

from generator.model.library import Library
from generator.reckoning import reckon

GIVEN = {"m_rd": "100 kg", "m_lv": "6 kg", "u_rd": "1 kg", "u_ar": "1 mm", "a_tr": "100 mm", "b_tr": "1000 mm"}


def test_the_error_is_that_of_a_simulation(library: Library) -> None:
    values = reckon(library, library.reference["lever-readings"], {"shop": "metric", **GIVEN}).working.values
    chance = np.random.default_rng(18)
    read, short, long = (chance.normal(middle, error, 400_000) for middle, error in ((94, 1), (0.1, 0.001), (1, 0.001)))
    assert values["F_rd"] == pytest.approx(94 * 9.80665 * 10)
    assert values["u_F"] == pytest.approx(float(np.std(read * 9.80665 * long / short)), rel=0.01)


def test_it_says_when_the_steel_may_go_first(library: Library) -> None:
    table = library.reference["lever-readings"]
    assert reckon(library, table, {"shop": "metric", **GIVEN}).working.warnings == []
    (mind,) = reckon(library, table, {"shop": "metric", **GIVEN, "m_rd": "240 kg"}).working.warnings
    assert "the rod itself may break" in mind
    assert "nothing is pulled yet" in str(reckon(library, table, {"shop": "metric", **GIVEN, "m_rd": "5 kg"}).reasons)


def test_the_trial_card_says_plus_or_minus_and_when_the_steel_goes(library: Library) -> None:
    """80 kg, of which 5 is the lever, 8 cm and 120 cm, out by 0.5 kg and 1 mm: 75 x 9.80665 x 15 = 11.0325 kN; the errors
    are 1/150, 1/80 and 1/1200, together 0.014191, which is 156.6 N. An M8 of A4-70 breaks at 0.9 x 700 x 36.61 = 23.06 kN."""
    card = library.cards["trial-joint"]
    set_to = {"shop": "metric", "m_rd": "80 kg", "m_lv": "5 kg", "u_rd": "0.5 kg", "a_tr": "80 mm", "b_tr": "1200 mm"}
    reckoning = reckon(library, card, set_to)
    assert reckoning.working.values["F_rd"] == pytest.approx(11032.5, abs=0.5)
    assert reckoning.working.values["u_F"] == pytest.approx(156.6, abs=0.1)
    assert not any("steel" in mind for mind in reckoning.working.warnings)
    set_to["q_tr"] = "300 kg"
    for reading, first in (("158 kg", False), ("162 kg", True)):  # 22.51 and 23.09 kN, with 0.29 kN of error
        warned = reckon(library, card, {**set_to, "m_rd": reading}).working.warnings
        assert any("the steel may go first" in mind for mind in warned) is first, reading
