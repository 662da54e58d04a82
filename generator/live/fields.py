"""The fields of a card's form: one a given, with its unit, a sensible step and its range in each shop."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from ..formula import FORMULARY
from ..model.library import Library, read_symbol
from ..model.schema import Card, Given
from ..units import SPELLINGS, System, from_base, mixed, plain, read_number, significant

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
        return float(significant(max(part * place for part in (1, 2, 5) if part * place <= about * (1 + 1e-9)), 1))

    def range_words(self, system: System) -> str:
        """The range in the field's own unit, rounded inwards."""
        unit = self.unit(system)
        low, high = (self._bound(text, unit, up) for text, up in ((self.given.min, True), (self.given.max, False)))
        after = f"\N{NO-BREAK SPACE}{unit}" if unit else ""
        if low and high:
            return f"{low}{after}" if low == high else f"{low} to {high}{after}"
        return f"at least {low}{after}" if low else f"at most {high}{after}" if high else ""

    def _bound(self, text: str | None, unit: str, up: bool) -> str:
        if text is None:
            return ""
        base = FORMULARY.symbols[self.name].unit
        value = from_base(read_symbol(self.name, text), base, SPELLINGS[base][unit])
        place = 10.0 ** (DIGITS - 1 - math.floor(math.log10(value))) if value else 1.0
        steps = value * place
        whole = math.ceil(steps - 1e-6) if up else math.floor(steps + 1e-6)
        return (
            significant(whole / place, DIGITS)
            if value < 1000
            else str(whole * round(1 / place) if place < 1 else whole)
        )


def card_fields(library: Library, card: Card) -> list[Field]:
    """A field for each given of the card, in the card's order."""
    return [Field(name, kind_of(library, name), given) for name, given in card.givens.items()]


def kind_of(library: Library, name: str) -> Kind:
    """How an input is asked for."""
    if name == "thread":
        return "thread"
    if name == "ratio":
        return "ratio"
    return "choice" if name in library.choices else "number"


def default_text(text: str) -> str:
    """A default as it stands in its field: the number without its unit, as the shop writes it."""
    number, unit = read_number(text)
    return plain(mixed(number)) if unit == "in" else text.removesuffix(unit).strip()
