"""Published values beside a sheet's own."""

from __future__ import annotations

from dataclasses import dataclass

from .formula import FORMULARY
from .model.library import Library
from .model.quantity import read_symbol
from .model.schema import CheckValue, Sheet
from .reckoning import reckon
from .units import SPELLINGS, factor, from_base, plainly, read_number, read_quantity, significant, with_unit


@dataclass(frozen=True)
class CheckResult:
    """A published value beside the card's own."""

    check: CheckValue
    published: str
    tolerance: str
    own: str
    difference: str
    holds: bool


def check_result(library: Library, sheet: Sheet, check: CheckValue) -> CheckResult:
    """Work by the book what the one symbol needs of the card, and compare."""
    reckoning = reckon(library.book, library.in_the_book(sheet), check.given, only=(check.symbol,))
    base = FORMULARY.symbols[check.symbol].unit
    published, tolerance = read_symbol(check.symbol, check.value), read_tolerance(check.symbol, check.tolerance)
    own, unit = reckoning.working.values[check.symbol], reckoning.unit(check.symbol)
    difference = own - published
    return CheckResult(
        check,
        as_printed(check.value, base),
        as_printed(check.tolerance, base_of_tolerance(base)),
        with_unit(significant(from_base(own, base, unit)), unit),
        with_unit(significant(difference / factor(unit, base), 2), unit),
        abs(difference) <= tolerance * (1 + 1e-9),
    )


def read_tolerance(symbol: str, text: str) -> float:
    """How far a value may be off: of a temperature, a difference. Raises QuantityError."""
    return read_quantity(text, base_of_tolerance(FORMULARY.symbols[symbol].unit))


def base_of_tolerance(base: str) -> str:
    """The SI unit of a difference between two values in `base`."""
    return "delta_degC" if base == "K" else base


def as_printed(text: str, base: str) -> str:
    """A published value with its own digits, and its unit as we print units."""
    unit, text = read_number(text)[1], plainly(text)
    return with_unit(text[: len(text) - len(unit)].strip(), SPELLINGS[base][unit])
