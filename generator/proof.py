"""The proof of a formula's units, and of a rule's: its own code object run with quantities.

It is made where `check` asks for it, and by the tests. A build trusts the formulas and rules that it came with, and
does without pint.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any

import pint

from .errors import UnitFault
from .expr import UNIT_WORDS
from .formula import NUMBER_WORDS, Code, Formula, Formulary

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


def prove(code: Code) -> None:
    """Call it with quantities and with numbers. Raises UnitFault when the units do not close: a formula's with its
    symbol's, those that a rule compares with each other."""
    quantities = [registry.Quantity(1.5 + 0.1 * place, code.units[name]) for place, name in enumerate(code.parameters)]
    told = code.symbol if isinstance(code, Formula) else code.function.__name__
    try:
        result = code.run(QUANTITY_WORDS, quantities)
    except Exception as error:  # whatever the arithmetic objects to, the unit proof has failed
        raise UnitFault(code.where, f"{told}: {error}") from error
    number = code.run(NUMBER_WORDS, (quantity.magnitude for quantity in quantities))
    if isinstance(code, Formula):
        result = _in_its_unit(code, registry.Quantity(result))
    if not math.isclose(result, number, rel_tol=1e-9):
        raise UnitFault(code.where, f"{told}: {number} with floats, {result} with units: not coherent")


def _in_its_unit(formula: Formula, result: Any) -> float:
    if not result.is_compatible_with(formula.unit):
        found = result.to_base_units().units
        raise UnitFault(formula.where, f"{formula.symbol} comes out in {found}, declared as {formula.unit}")
    return float(result.to(formula.unit).magnitude)


def unit_faults(formulary: Formulary) -> Iterator[UnitFault]:
    """Formulas and rules whose units do not close."""
    for code in (*formulary.formulas, *formulary.rules):
        try:
            prove(code)
        except UnitFault as fault:
            yield fault
