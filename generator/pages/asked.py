"""What pages share that ask for a few numbers and work several cards with them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import floor

from markupsafe import Markup

from ..language import later, tr
from ..live.fields import Field, fields_of
from ..model.home import Taking
from ..model.library import Library
from ..model.schema import Act, Card, Given
from ..reckoning import InputError, Reckoning, reckon
from ..units import System, by_system
from .options import SiteOptions
from .words import for_each_shop

NO_LOAD = later("no number: this card gives no load")
THIN = later("the wood is too thin for it")
# The least distance between fasteners that a card takes (m); no load sideways is given for one so small.
LEAST = 0.001


@dataclass(frozen=True)
class Carries:
    """What a card carries one way in one shop: in words, for ranking (N), and why it is none (0 N)."""

    words: str
    newtons: float
    why: str = ""


def _carries_none(why: str) -> Carries:
    return Carries(tr("no number: {why}", why=why), 0, why)


class AskingPage:
    """The numbers that a page asks for, as they come, and the cards that it works with them. Built from a checked
    library."""

    def __init__(self, library: Library, givens: Mapping[str, Given], takings: Sequence[Taking], options: SiteOptions):
        self.library, self.givens, self.takings, self.options = library, givens, takings, options
        self.given = {
            shop: {name: given.text(system) for name, given in givens.items()}
            for shop, system in options.systems.items()
        }

    def reckoning(self, one: Taking, shop: str) -> Reckoning:
        """A card worked with the page's numbers, no deeper than the wood asked for. `workers.js` works it alike."""
        card, system = self.library.cards[one.card], self.options.systems[shop]
        inputs = {"shop": shop} | {name: self.given[shop][own] for name, own in one.given.items()}
        for name, other in one.from_.items():
            beside = self.reckoning(next(taking for taking in self.takings if taking.card == other), shop)
            inputs[name] = length_text(max(_found(beside, name), LEAST), system)
        for name, depth in one.deep.items():
            first = reckon(self.library, card, inputs)
            asked = first.working.values[name]
            inputs[name] = length_text(2 * asked - _found(first, depth), system)
            try:
                reckon(self.library, card, inputs, only=[name])
            except InputError as error:
                raise InputError(name, tr(THIN)) from error
        return reckon(self.library, card, inputs)

    def carried(self, one: Taking, way: Act, shop: str) -> Carries:
        """What a card carries one way with the page's numbers."""
        symbols = load_symbols(self.library.cards[one.card], way)
        if not symbols:
            return Carries(tr(NO_LOAD), 0)
        try:
            reckoning = self.reckoning(one, shop)
        except InputError as error:  # one card's range is not another's
            return _carries_none(str(error))
        if reasons := reckoning.working.reasons(symbols):
            return _carries_none("; ".join(reasons))
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

    def script_data(self, cards: Sequence[str], ways: Sequence[Act]) -> dict[str, object]:
        """What the page's script must know of these cards: what came, what their inputs take, how a length that one of
        them works is written, and the symbols of the loads that count, by card and way."""
        takings = {one.card: one for one in self.takings}
        return {
            "came": self.given,
            "taken": {card: takings[card].model_dump(by_alias=True, include=_TAKEN) for card in cards},
            "lengths": {shop: length_units(system) for shop, system in self.options.systems.items()},
            "least": LEAST,
            "loads": {card: {way: load_symbols(self.library.cards[card], way) for way in ways} for card in cards},
            "none": NO_LOAD,
            "thin": THIN,
        }


_TAKEN = {"given", "deep", "from_"}


def _found(reckoning: Reckoning, symbol: str) -> float:
    """A length that a card works; where it has none, its reason is the other's too."""
    if reasons := reckoning.working.reasons([symbol]):
        raise InputError(symbol, "; ".join(reasons))
    return reckoning.working.values[symbol]


def length_units(system: System) -> tuple[float, int, str]:
    """How a length is written: its unit in metres, the parts of it that are told, and its name."""
    return by_system(system, metric=(0.001, 10, "mm"), inch=(0.0254, 10000, "in"))


def length_text(length: float, system: System) -> str:
    """A length (m) as a reader writes it, rounded down."""
    size, parts, unit = length_units(system)
    return f"{floor(length / size * parts + 1e-6) / parts:.12g} {unit}"


def load_symbols(card: Card, way: Act) -> list[str]:
    """The working loads of a card that count for a load that acts so; the least decides."""
    return list(card.job.carries.get(way, [])) if card.job else []
