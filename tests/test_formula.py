"""One formula, four uses, and the proof that a wrong unit cannot ship."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Iterator
from fractions import Fraction
from math import asin, ceil, cos, exp, floor, log, pi, sin, sqrt, tan, tanh
from typing import Annotated

import pytest

from conftest import all_hold
from generator import check, cli, formulas
from generator.errors import Fault, Faults
from generator.formula import FORMULARY, Formula, Formulary, Symbol, mm, newton
from generator.notation import formula_line
from generator.proof import prove, unit_faults
from generator.shipped import PROCEDURES
from generator.units import N, Shown, m, m2, m3, one
from mathml_calculator import Quantity, equation

assert formulas  # registers the trade's formulas

millimetres = Annotated[float, "mm"]


def small_formulary() -> Formulary:
    formulary = Formulary()
    shown = Shown("mm", Fraction(1))
    for name, unit in (("a", "m"), ("b", "m"), ("A", "m**2"), ("n", "dimensionless"), ("F", "N")):
        formulary.define(Symbol(name, name, unit, shown, shown))
    return formulary


def test_every_formula_and_rule_proves_its_units() -> None:
    all_hold(prove, [*FORMULARY.formulas, *FORMULARY.rules], lambda code: code.where)


def test_what_leads_to_a_symbol_is_found_over_all_its_formulas() -> None:
    formulary = small_formulary()

    @formulary.formula("A", source="test")
    def area(a: m) -> m2:
        return a**2

    @formulary.formula("a", source="test")
    def side(b: m, n: one) -> m:
        return b * n

    assert formulary.reaching(["A"]) == {"A", "a", "b", "n"}
    assert formulary.reaching(["b"]) == {"b"}


def test_what_depends_on_a_symbol_is_all_that_it_leads_to() -> None:
    """By hand on a chain with a fork and a choice; of the trade's own the other way round, by what reaches each."""
    formulary = small_formulary()

    @formulary.formula("A", source="test")
    def area(a: m) -> m2:
        return a**2

    @formulary.formula("a", source="test")
    def side(b: m) -> m:
        return 2 * b

    formulary.lookup("n", "nearest step", "b", step="a", source="test", meaning="choose")
    assert formulary.using("b") == ["a", "n"]
    assert formulary.depending_on("b") == {"b", "a", "A", "n"}
    assert formulary.depending_on("a") == {"a", "A", "n"}
    assert formulary.depending_on("A") == {"A"}
    for symbol in ("t_u", "N_m"):
        reached = {name for name in FORMULARY.symbols if symbol in FORMULARY.reaching([name])}
        assert FORMULARY.depending_on(symbol) == reached


def test_no_formula_disagrees_with_its_symbols() -> None:
    assert [*FORMULARY.unit_faults()] == []


def test_a_result_of_the_wrong_kind_is_a_fault_with_file_and_line() -> None:
    formulary = small_formulary()

    @formulary.formula("A", source="test")
    def area(a: m, b: m) -> m2:
        return a + b

    (fault,) = unit_faults(formulary)
    assert fault.where == place_of(area)
    assert "A comes out in meter, declared as m**2" in str(fault)


def place_of(function: Callable[..., object]) -> str:
    """The file and the line of a function's name in this file."""
    lines, start = inspect.getsourcelines(function)
    return f"tests/test_formula.py:{start + next(place for place, line in enumerate(lines) if 'def ' in line)}"


def test_a_rule_compares_only_what_is_alike(monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever the comparison stands in it, and whatever the other one says. Nothing is compared with no unit."""
    formulary = small_formulary()
    monkeypatch.setattr("generator.check.FORMULARY", formulary)

    @formulary.rule("no", source="test")
    def sound(F: N, a: m) -> bool:
        return (a >= 0) | (F / newton <= 5)

    @formulary.rule("no", source="test")
    def force_and_length(F: N, a: m) -> bool:
        return (a >= 0) | (a <= F)

    @formulary.rule("no", source="test")
    def length_and_number(a: m) -> bool:
        return a >= 0.005

    @formulary.rule("no", source="test")
    def unit_turned(F: N) -> bool:
        return F * newton >= 5

    refused = (force_and_length, length_and_number, unit_turned)
    found = [*unit_faults(formulary)]
    assert [fault.where for fault in found] == [place_of(rule) for rule in refused]
    assert "force_and_length: Cannot convert from 'meter' ([length]) to 'newton'" in str(found[0])
    file, _, line = found[0].where.rpartition(":")
    first = next(check.unit_faults(prove=True))
    assert str(first).startswith(f"{file}:{line}:")
    assert "the units do not close: force_and_length" in str(first)
    assert [*check.unit_faults(prove=False)] == []


def test_a_rule_says_the_same_of_numbers_and_of_quantities() -> None:
    """A length in millimetres is one to both, but 1.5 mm is under 5 mm, and 1.5 is not under 0.005."""
    formulary = small_formulary()

    @formulary.rule("no", source="test")
    def short(a: millimetres) -> bool:
        return a < 5 * mm

    (fault,) = unit_faults(formulary)
    assert "short: False with floats, True with units: not coherent" in str(fault)


def test_a_sum_of_different_kinds_is_a_fault() -> None:
    formulary = small_formulary()

    @formulary.formula("a", source="test")
    def nonsense(A: m2, b: m) -> m:
        return A + b

    (fault,) = unit_faults(formulary)
    assert "Cannot convert" in str(fault)


def test_an_argument_in_another_unit_than_its_symbol_is_a_fault() -> None:
    formulary = small_formulary()

    @formulary.formula("A", source="test")
    def area(a: m2) -> m2:
        return a

    (fault,) = formulary.unit_faults()
    assert "a is declared in m**2, but its unit is m" in str(fault)


def test_a_rule_names_no_other_symbol_and_takes_them_in_their_units() -> None:
    formulary = small_formulary()

    @formulary.rule("no", source="test", limits=("b", "q"))
    def small(a: m2) -> bool:
        return a < 1

    unknown, other = sorted(str(fault) for fault in formulary.unit_faults())
    assert "a is declared in m**2, but its unit is m" in unknown
    assert "symbol q is not defined" in other


def test_units_are_proved_where_it_is_asked_and_compared_always(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is wanted of job sheets. `check` is the command that asks."""
    formulary = small_formulary()
    monkeypatch.setattr("generator.check.FORMULARY", formulary)

    @formulary.formula("A", source="test")
    def area(a: m, b: m) -> m2:
        return a + b

    assert [*check.unit_faults(prove=False)] == []
    (open_,) = check.unit_faults(prove=True)
    assert "the units do not close: A comes out in meter" in str(open_)
    assert [name for name, command in cli.COMMANDS.items() if command.proves_units] == ["check"]

    @formulary.formula("a", source="test")
    def length(b: m2) -> m:
        return b / b

    for prove_units in (False, True):
        (other,) = check.unit_faults(prove_units)
        assert "the units do not agree: b is declared in m**2" in str(other)


@pytest.mark.parametrize("job_sheets", ["all", "sound", "none"])
def test_a_load_proves_units_as_it_is_told(monkeypatch: pytest.MonkeyPatch, job_sheets: check.JobSheets) -> None:
    told: list[bool] = []

    def stop(prove: bool) -> Iterator[Fault]:
        told.append(prove)
        yield Fault("here", 1, 1, "enough")

    monkeypatch.setattr(check, "unit_faults", stop)
    for prove_units in (False, True):
        with pytest.raises(Faults, match="enough"):
            check.load_checked(PROCEDURES, job_sheets=job_sheets, prove_units=prove_units)
    assert told == [False, True]


def test_a_symbol_has_one_meaning() -> None:
    formulary = small_formulary()
    with pytest.raises(ValueError, match="defined twice"):
        formulary.define(formulary.symbols["a"])


def test_number_and_javascript_come_from_the_same_code() -> None:
    formula = next(step for step in FORMULARY.formulas if step.symbol == "V_r")
    values = {"D_o": 0.014, "d_v": 0.0072568, "L_o": 0.063}
    number = formula.call(values)
    assert number == pytest.approx(pi / 4 * (0.014**2 - 0.0072568**2) * 0.063, rel=1e-12)
    assert formula.javascript() == "Math.PI/4*(D_o**2-d_v**2)*L_o"


def test_every_formula_says_what_it_is() -> None:
    def says(formula: Formula) -> None:
        assert formula.meaning.endswith(".")
        assert formula.where.startswith("generator/formulas/")
        assert formula.source

    all_hold(says, FORMULARY.formulas, lambda formula: formula.symbol)


def test_whole_numbers_forgive_binary_noise() -> None:
    formula = next(step for step in FORMULARY.formulas if step.symbol == "n_s")
    values = {"N": 1, "N_m": 1, "V_1": 2e-5 * (1 + 4e-16), "V_b": 0.0, "w_a": 0.5, "V_s": 2e-5, "u_s": 0.75}
    assert formula.call(values) == 2


def test_m3_is_a_float_to_the_type_checker() -> None:
    assert m3.__origin__ is float  # type: ignore[attr-defined]


def test_every_word_of_a_formula_means_the_same_in_each_arithmetic() -> None:
    """Checked against Python's own mathematics: the number, the quantity and the printed line of each word."""
    formulary = small_formulary()

    @formulary.formula("n", source="test")
    def all_words(n: one) -> one:
        return floor(4 * n) + ceil(5 * n) + tan(n) + asin(n / 4) + tanh(n) + sin(n) * cos(n) + exp(n) / sqrt(n) + log(n)

    (formula,) = formulary.formulas
    prove(formula)
    x = 0.3
    right = (
        math.floor(4 * x)
        + math.ceil(5 * x)
        + math.tan(x)
        + math.asin(x / 4)
        + math.tanh(x)
        + math.sin(x) * math.cos(x)
        + math.exp(x) / math.sqrt(x)
        + math.log(x)
    )
    assert formula.call({"n": x}) == pytest.approx(right, rel=1e-12)
    symbols: dict[str, object] = {"n": Quantity(x)}
    assert equation(formula_line(formula), symbols)[-1].to("").magnitude == pytest.approx(right, rel=1e-12)  # type: ignore[attr-defined]
