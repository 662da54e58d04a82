"""Quantities as they stand in YAML: each is read once, where its file is read, and keeps its text for messages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache
from typing import Any

from pydantic import AfterValidator, ValidationError
from pydantic_core import CoreSchema, InitErrorDetails, core_schema

from .. import formulas  # noqa: F401  registers the trade's symbols and formulas
from ..formula import FORMULARY, Symbol
from ..language import tr
from ..units import QuantityError, System, clip, read_quantity
from .sense import refuse_nonsense

Place = tuple[Any, ...]


class Quantity(str):
    """A text that was read as a quantity, and its value in SI units."""

    value: float

    def __new__(cls, text: str, value: float) -> Quantity:
        """The text with what was read from it."""
        read = super().__new__(cls, text)
        read.value = value
        return read

    @classmethod
    def __get_pydantic_core_schema__(cls, *_: object) -> CoreSchema:
        """Until it is read it is a line of text."""
        return core_schema.str_schema(strip_whitespace=True, min_length=1, max_length=200)


@lru_cache(maxsize=4096)
def read_symbol(name: str, text: str, system: System | None = None) -> float:
    """A text as the quantity that the symbol stands for, in SI units. Raises QuantityError, for a shop in its units."""
    if name not in FORMULARY.symbols:
        raise QuantityError(f"'{clip(name)}' is neither a symbol nor the input of a table in data")
    symbol = FORMULARY.symbols[name]
    value = read_quantity(text, symbol.unit, system)
    if value < 0 or (symbol.positive and value == 0):
        raise QuantityError(f"'{clip(text)}' makes no {symbol.meaning}; {least_words(symbol)}")
    return value


def read_sensible(name: str, text: str) -> float:
    """A text of a file as the quantity that the symbol stands for. Raises QuantityError where it cannot be that."""
    value = read_symbol(name, text)
    refuse_nonsense(name, text, value)
    return value


def least_words(symbol: Symbol) -> str:
    """The advice for a value that is too small to be one."""
    return tr("give more than 0") if symbol.positive else tr("give 0 or more")


def faulty(faults: Iterable[tuple[Place, Exception]]) -> ValidationError:
    """Faults at places below what a validator was given, as the one error that it raises."""
    details: list[InitErrorDetails] = [
        {"type": "value_error", "loc": place, "input": "", "ctx": {"error": error}} for place, error in faults
    ]
    return ValidationError.from_exception_data("quantities", details)


def quantity(name: str, symbol: str, text: str) -> Quantity:
    """The symbol's quantity, written under `name` in a file. Raises QuantityError that begins with the name."""
    try:
        return Quantity(text, read_sensible(symbol, text))
    except QuantityError as error:
        raise QuantityError(f"{name}: {error}") from None


def of_symbol(symbol: str, name: str = "") -> AfterValidator:
    """Reads a text as the symbol's quantity; `name` is what the file calls it."""
    return AfterValidator(lambda text: quantity(name or symbol, symbol, text))


def by_symbol(symbol_of: Callable[[str], str]) -> AfterValidator:
    """Reads texts that stand under symbols' names. `symbol_of` tells which symbol a key names, or raises ValueError."""

    def read_all(texts: Mapping[str, str]) -> dict[str, Quantity]:
        read: dict[str, Quantity] = {}
        faults: list[tuple[Place, Exception]] = []
        for key, text in texts.items():
            place: Place = (key, "[key]")
            try:
                symbol = symbol_of(key)
                place = (key,)
                read[key] = quantity(key, symbol, text)
            except ValueError as error:
                faults.append((place, error))
        if faults:
            raise faulty(faults)
        return read

    return AfterValidator(read_all)


def unknown_symbol(key: str) -> ValueError:
    """What is wrong with a key that is no symbol's name, and what is near it."""
    near = get_close_matches(key, FORMULARY.symbols, n=3)
    hint = f"did you mean {' or '.join(near)}?" if near else "the page Symbols lists them"
    return ValueError(f"unknown symbol '{clip(key)}'; {hint}")


def known_symbol(key: str) -> str:
    """A key that is a symbol's name. Raises ValueError."""
    if "*" in key:
        raise ValueError(f"'{key}': a star stands for the role of a drill, only in drills.yaml")
    if key not in FORMULARY.symbols:
        raise unknown_symbol(key)
    return key


@dataclass(frozen=True)
class Gift:
    """What a chosen row gives: values in SI units, and the source of each."""

    values: dict[str, float]
    sources: dict[str, str]


def gift(gives: Mapping[str, Quantity], sources: Mapping[str, str], source: str) -> Gift:
    """What is given by these quantities; each comes from its own source where it has one."""
    return Gift(
        {symbol: quantity.value for symbol, quantity in gives.items()},
        {symbol: sources.get(symbol, source) for symbol in gives},
    )
