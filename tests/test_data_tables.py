"""Data tables that a boatbuilder adds: chosen by the input they name, by thread diameter, or always given."""

from __future__ import annotations

import json
import shutil
from fractions import Fraction
from pathlib import Path

import pytest

from conftest import CARD, Run
from generator.formula import Formulary, Symbol, mm, newton
from generator.notation import formula_text, numbers_line
from generator.proof import unit_faults
from generator.units import K, N, Shown, from_base, m, one, read_quantity, to_base

WASHERS = """
input: bore
rows:
  standard:
    title: standard bore
    source: own-judgement
    d_max: 12 mm
    by_d:
      8 mm: {D_o: 15 mm}
      10 mm: {D_o: 17 mm}
"""


@pytest.fixture
def with_bores(house: Path) -> Path:
    """A table that gives the oversized hole by the thread, asked for by the card."""
    (house / "procedures/data/bores.yaml").write_text(WASHERS, encoding="utf-8")
    card = house / f"procedures/cards/{CARD}.yaml"
    text = card.read_text(encoding="utf-8")
    text = text.replace("  hole: {ask", "  bore: {ask: bore, default: standard},\n  hole: {ask", 1)
    shutil.rmtree(house / "procedures/jobs")  # boats with threads that this table does not hold
    search = house / "procedures/search.yaml"
    lines = search.read_text(encoding="utf-8").splitlines()
    search.write_text("\n".join(line for line in lines if "  jobs/" not in line) + "\n", encoding="utf-8")
    # The check values for other threads would now ask for rows that are not there.
    others = ", stress-area-m16, stress-area-3-8, pitch-diameter-3-8"
    assert text.count(others) == 1
    text = text.replace(others, "")
    for name, own in (("  thread,", "  thread: {metric: M8, inch: M8},"), (" washer, t_m", " washer: iso-7093-1, t_m")):
        assert text.count(name) == 1
        text = text.replace(name, own)
    card.write_text(text, encoding="utf-8")
    return house


def test_values_by_thread_diameter(with_bores: Path, generator: Run) -> None:
    done = generator("work", CARD, "thread=M10x1", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["values"]["D_o"]["value"] == 17.0


@pytest.mark.parametrize(
    ("thread", "words"),
    [
        ("M6", "standard bore has no row for this thread; it has 8 mm, 10 mm"),
        ("M16", "standard bore is laid down for threads of 0 to 12 mm"),
    ],
)
def test_a_thread_the_table_is_not_laid_down_for(with_bores: Path, generator: Run, thread: str, words: str) -> None:
    done = generator("work", CARD, f"thread={thread}")
    assert done.returncode == 0, "what the table does not give has no number, and all else stays"
    assert f"No number: {words}" in done.stdout
    assert "D_o" not in json.loads(generator("work", CARD, f"thread={thread}", "--json").stdout)["values"]


def test_a_table_without_an_input_is_always_given(house: Path, generator: Run) -> None:
    text = "rows:\n  mine:\n    title: my spur\n    source: own-judgement\n    gives: {m_min: 25 g}\n"
    (house / "procedures/data/constants.yaml").write_text(text, encoding="utf-8")
    card = house / f"procedures/cards/{CARD}.yaml"
    text = card.read_text(encoding="utf-8")
    assert text.count(" m_min}") == 1
    card.write_text(text.replace(" m_min}", "}"), encoding="utf-8")
    values = json.loads(generator("work", CARD, "--json").stdout)["values"]
    assert values["m_min"]["value"] == 25.0


@pytest.mark.parametrize(("text", "kelvin"), [("20 degC", 293.15), ("0 °C", 273.15), ("68 degF", 293.15), ("5 K", 5.0)])
def test_a_temperature_has_its_own_zero(text: str, kelvin: float) -> None:
    assert read_quantity(text, "K") == pytest.approx(kelvin, rel=1e-12)


def test_a_temperature_goes_there_and_back() -> None:
    assert from_base(to_base(-40.0, "degC", "K"), "K", "degF") == pytest.approx(-40.0, abs=1e-9)


def empirical() -> Formulary:
    """The lag-screw equation of the Wood Handbook (FPL-GTR-190, chapter 8), with its own constants and units."""
    formulary = Formulary()
    kilonewtons, millimetres, plain = (Shown(unit, Fraction(1)) for unit in ("kN", "mm", "dimensionless"))
    for name, unit, shown in (
        ("G", "dimensionless", plain),
        ("D", "m", millimetres),
        ("L", "m", millimetres),
        ("R", "N", kilonewtons),
    ):
        formulary.define(Symbol(name, name, unit, shown, shown))

    @formulary.formula("R", source="test")
    def lag_screw(G: one, D: m, L: m) -> N:
        return 125.4 * newton * G**1.5 * (D / mm) ** 0.75 * (L / mm)

    return formulary


def test_an_empirical_equation_keeps_the_units_of_its_source() -> None:
    """Published: G 0.48, 12 mm screw, 75 mm of thread hold 20.165 kN on the mean."""
    formulary = empirical()
    assert [*formulary.unit_faults(), *unit_faults(formulary)] == []
    (formula,) = formulary.formulas
    values = {"G": 0.48, "D": 0.012, "L": 0.075}
    assert formula.call(values) == pytest.approx(20165, rel=0.005)
    assert formula_text(formula) == "125.4 × N × G^1.5 × (D / mm)^0.75 × L / mm"
    printed = numbers_line(formula, {**values, "R": formula.call(values)}, formulary.symbols, "metric")
    assert '<mi mathvariant="normal">mm</mi>' in printed
    assert "G**1.5" in formula.javascript()
    assert "unit" not in formula.javascript()


def test_kelvin_is_a_float_to_the_type_checker() -> None:
    assert K.__origin__ is float  # type: ignore[attr-defined]
