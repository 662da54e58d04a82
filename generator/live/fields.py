"""The fields of a card's form: one a given, with its unit, a sensible step and its range in each shop."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from ..formula import FORMULARY
from ..model.library import Library
from ..model.schema import Card, Given
from ..reckoning import ends_of, given_span, unit_of
from ..units import SPELLINGS, System, end_in, factor, offset, plain_decimals, read_number

Kind = Literal["thread", "choice", "ratio", "number"]
# A push on a button moves a value by about a tenth of its default.
PART = Fraction(1, 10)


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
        return unit_of(self.given, system)

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
        return given_span(self.name, self.given, system)

    def _ends(self, system: System) -> tuple[float | None, float | None]:
        """The ends of the range in the field's unit, rounded inwards to what can be typed."""
        base, unit = FORMULARY.symbols[self.name].unit, self.unit(system)
        low, high = ends_of(self.name, self.given)
        return (
            None if low is None else end_in(low, base, unit, math.ceil),
            None if high is None else end_in(high, base, unit, math.floor),
        )


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
