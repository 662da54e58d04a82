"""The proof of a formula's units: its own code object run with quantities.

It is made where `check` asks for it, and by the tests. A build trusts the formulas that it came with, and does without
pint.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
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


def prove(formula: Formula) -> None:
    """Call it with quantities and with numbers. Raises UnitFault when the units do not close."""
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


def unit_faults(formulary: Formulary) -> Iterator[UnitFault]:
    """Formulas whose units do not close."""
    for formula in formulary.formulas:
        try:
            prove(formula)
        except UnitFault as fault:
            yield fault
