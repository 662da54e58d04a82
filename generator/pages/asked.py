"""What pages share that ask for a few numbers and work several cards with them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from markupsafe import Markup

from ..language import later, tr
from ..live.fields import Field, fields_of
from ..model.library import Library
from ..model.schema import Act, Card, Given
from ..reckoning import InputError, Reckoning, reckon
from .options import SiteOptions
from .words import for_each_shop

NO_LOAD = later("no number: this card gives no load")


@dataclass(frozen=True)
class Carries:
    """What a card carries one way in one shop: in words, and for ranking (N); 0 where there is no number."""

    words: str
    newtons: float


class AskingPage:
    """The numbers that a page asks for, as they come. Built from a checked library."""

    def __init__(self, library: Library, givens: Mapping[str, Given], options: SiteOptions):
        self.library, self.givens, self.options = library, givens, options
        self.given = {
            shop: {name: given.text(system) for name, given in givens.items()}
            for shop, system in options.systems.items()
        }

    def reckoning(self, card: str, given: Mapping[str, str], shop: str) -> Reckoning:
        """A card worked with the page's numbers: `given` says which of them each of its inputs takes."""
        inputs = {name: self.given[shop][own] for name, own in given.items()}
        return reckon(self.library, self.library.cards[card], {"shop": shop, **inputs})

    def carried(self, card: str, given: Mapping[str, str], way: Act, shop: str) -> Carries:
        """What a card carries one way with the page's numbers."""
        symbols = load_symbols(self.library.cards[card], way)
        if not symbols:
            return Carries(tr(NO_LOAD), 0)
        try:
            reckoning = self.reckoning(card, given, shop)
        except InputError as error:  # one card's range is not another's
            return Carries(tr("no number: {why}", why=error), 0)
        if reasons := reckoning.working.reasons(symbols):
            return Carries(tr("no number: {why}", why="; ".join(reasons)), 0)
        least = min(symbols, key=reckoning.working.values.__getitem__)
        return Carries(reckoning.shop(least), reckoning.working.values[least])

    def set_words(self, shop: str) -> str:
        """What the numbers are worked for before a script asks."""
        given, woods = self.given[shop], self.library.tables["woods"]
        return tr("{thread}, {T} deep, {wood}", thread=given["thread"], T=given["T"], wood=woods[given["wood"]].title)

    @property
    def as_came(self) -> Markup:
        """The same in each shop's words."""
        return for_each_shop({shop: self.set_words(shop) for shop in self.options.systems})

    @cached_property
    def fields(self) -> list[Field]:
        """The numbers that the reader may set, where a script runs."""
        return fields_of(self.library, self.givens)

    def options_of(self, field: Field) -> list[tuple[str, list[tuple[str, str]]]]:
        """What can be chosen, value and words, by heading; nothing where a number is asked for."""
        if field.kind == "number":
            return []
        if field.kind == "thread":
            return [
                (one.title, [(row.size, row.size) for row in one.rows])
                for one in self.library.series_of(self.options.systems)
            ]
        rows = self.library.choices[field.name].rows
        return [("", [(key, row.title) for key, row in rows.items()])]

    def loads(self, cards: Sequence[str], ways: Sequence[Act]) -> dict[str, dict[str, list[str]]]:
        """By card and way the symbols of the loads that count."""
        return {card: {way: load_symbols(self.library.cards[card], way) for way in ways} for card in cards}


def load_symbols(card: Card, way: Act) -> list[str]:
    """The working loads of a card that count for a load that acts so; the least decides."""
    return list(card.job.carries.get(way, [])) if card.job else []
