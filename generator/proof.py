"""The proof of a formula's units: its own code object run with quantities.

It is made by `check` and by the tests. A build trusts the formulas that it came with, and does without pint.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from typing import Any

import pint

from .errors import UnitFault
from .expr import UNIT_WORDS
from .formula import NUMBER_WORDS, Formula, Formulary

registry: pint.UnitRegistry[float] = pint.UnitRegistry()


def _plain(word: str, unit: str) -> Callable[[Any], float]:
    """A function of floats for pint: the argument must be of `unit`, the result is a plain number."""
    function = NUMBER_WORDS[word]

    def of_quantity(value: Any) -> float:
        return float(function(registry.Quantity(value).to(unit).magnitude))

    return of_quantity


# What the words of a formula mean for quantities.
QUANTITY_WORDS: dict[str, Any] = {
    **{word: NUMBER_WORDS[word] for word in ("pi", "min", "max")},
    "sqrt": lambda value: value**0.5,
    **{word: _plain(word, "rad") for word in ("sin", "cos", "tan")},
    **{word: _plain(word, "dimensionless") for word in ("asin", "tanh", "ceil", "floor", "exp", "log")},
    **{name: registry.Quantity(value, unit) for name, (_, value, unit) in UNIT_WORDS.items()},
}


@cache
def proved(formula: Formula) -> bool:
    """Called with quantities, once: True. Raises UnitFault when the units do not close."""
    quantities = [
        registry.Quantity(1.5 + 0.1 * place, formula.units[name]) for place, name in enumerate(formula.parameters)
    ]
    where, symbol = formula.where, formula.symbol
    try:
        result = registry.Quantity(formula.run(QUANTITY_WORDS, quantities))
    except Exception as error:  # whatever the arithmetic objects to, the unit proof has failed
        raise UnitFault(where, f"{symbol}: {error}") from error
    if not result.is_compatible_with(formula.unit):
        raise UnitFault(where, f"{symbol} comes out in {result.to_base_units().units}, declared as {formula.unit}")
    coherent = float(result.to(formula.unit).magnitude)
    number = float(formula.run(NUMBER_WORDS, (quantity.magnitude for quantity in quantities)))
    if not math.isclose(coherent, number, rel_tol=1e-9):
        raise UnitFault(where, f"{symbol}: {number} with floats, {coherent} with units: not coherent")
    return True


def unit_faults(formulary: Formulary) -> list[UnitFault]:
    """Formulas whose units do not close, or do not agree with their symbols' units."""
    faults = [
        UnitFault(rule.where, f"symbol {name} is not defined")
        for rule in formulary.rules
        for name in rule.limits
        if name not in formulary.symbols
    ]
    for formula in formulary.formulas:
        try:
            _agree(formulary, formula)
            proved(formula)
        except UnitFault as fault:
            faults.append(fault)
    return faults


def _agree(formulary: Formulary, formula: Formula) -> None:
    declared = {**{name: formula.units[name] for name in formula.parameters}, formula.symbol: formula.unit}
    for name, unit in declared.items():
        if name not in formulary.symbols:
            raise UnitFault(formula.where, f"symbol {name} is not defined")
        if formulary.symbols[name].unit != unit:
            own = formulary.symbols[name].unit
            raise UnitFault(formula.where, f"{name} is declared in {unit}, but its unit is {own}")
