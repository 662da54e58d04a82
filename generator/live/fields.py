"""The fields of a card's form: one a given, with its unit, a sensible step and its range in each shop."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from ..formula import FORMULARY
from ..model.library import Library
from ..model.quantity import read_symbol
from ..model.schema import Card, Given
from ..reckoning import from_to
from ..units import SPELLINGS, System, factor, from_base, mixed, offset, plain_decimals, read_number, significant

Kind = Literal["thread", "choice", "ratio", "number"]
# A push on a button moves a value by about a tenth of its default.
PART = Fraction(1, 10)
DIGITS = 3


@dataclass(frozen=True)
class Field:
    """One given of a card as the form asks for it."""

    name: str
    kind: Kind
    given: Given

    @property
    def rare(self) -> bool:
        """Whether most readers leave it as it is: its default has a source of its own."""
        return self.given.source is not None

    def unit(self, system: System) -> str:
        """The unit of the default, which a number without a unit is taken in."""
        return read_number(self.given.text(system))[1]

    def step(self, system: System) -> float:
        """What a push on a button adds, in the field's unit: a halved inch, or 1, 2 or 5 of a decimal place."""
        number, unit = read_number(self.given.text(system))
        if FORMULARY.symbols[self.name].metric.step == 1 and unit == "":
            return 1.0
        about = float(abs(number) * PART) or 1.0
        if unit == "in":
            return float(2.0 ** math.floor(math.log2(max(about, 1 / 64))))
        place = 10.0 ** math.floor(math.log10(about))
        return float(plain_decimals(max(part * place for part in (1, 2, 5) if part * place <= about * (1 + 1e-9)), 1))

    def push(self, system: System) -> list[Any]:
        """What a button needs: the field's unit with factor and offset, the step, and the range's ends in that unit.

        Nothing for a field that is no number.
        """
        if self.kind != "number":
            return []
        unit, symbol = self.unit(system), FORMULARY.symbols[self.name]
        scale, step = SPELLINGS[symbol.unit][unit], self.step(system)
        low, high = self._ends(system)
        first = step if low is None and symbol.positive else low
        return [unit, factor(scale, symbol.unit), offset(scale), step, first, high]

    def range_words(self, system: System) -> str:
        """The range in the field's own unit, rounded inwards."""
        unit = self.unit(system)
        low, high = ("" if end is None else end_text(end, unit) for end in self._ends(system))
        after = f"\N{NO-BREAK SPACE}{unit}" if unit else ""
        both = low and high and low != high
        return from_to(low and low + ("" if both else after), high and high + after)

    def _ends(self, system: System) -> tuple[float | None, float | None]:
        """The ends of the range in the field's unit, rounded inwards to what can be typed."""
        unit, base = self.unit(system), FORMULARY.symbols[self.name].unit

        def end(text: str | None, whole: Callable[[float], int]) -> float | None:
            if text is None:
                return None
            value = from_base(read_symbol(self.name, text), base, SPELLINGS[base][unit])
            steps = parts_of_one(value, unit)
            noise = 1e-6 if whole is math.floor else -1e-6
            return float(whole(value * float(steps) + noise) / steps)

        return end(self.given.min, math.ceil), end(self.given.max, math.floor)


def parts_of_one(value: float, unit: str) -> Fraction:
    """Into how many parts the end of a range is rounded: three digits; of an inch what a rule shows at that length."""
    if unit == "in":
        return Fraction(64 if value < 1 else 16 if value < 12 else 1)
    return Fraction(10) ** (DIGITS - 1 - math.floor(math.log10(value or 1)))


def end_text(end: float, unit: str) -> str:
    """The end of a range as the shop writes it."""
    return mixed(Fraction(end)) if unit == "in" else significant(end, DIGITS)


def card_fields(library: Library, card: Card) -> list[Field]:
    """A field for each given of the card, in the card's order."""
    return fields_of(library, card.givens)


def fields_of(library: Library, givens: Mapping[str, Given]) -> list[Field]:
    """A field for each of these givens, in their order."""
    return [Field(name, kind_of(library, name), given) for name, given in givens.items()]


def kind_of(library: Library, name: str) -> Kind:
    """How an input is asked for."""
    if name == "thread":
        return "thread"
    if name == "ratio":
        return "ratio"
    return "choice" if name in library.choices else "number"
