"""The form of a live card as its template reads it, and the results in groups. Without scripts both stay hidden."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from ..formula import FORMULARY
from ..language import later, tr
from ..live.fields import Field, card_fields
from ..model.library import Library
from ..model.schema import Card
from ..units import System
from .words import for_each_shop

# Under which heading the results of a module of formulas stand.
HEADINGS = {
    later("Holes and sizes"): (
        "thread",
        "drill",
        "hole",
        "blind",
        "worn",
        "bush",
        "cast_thread",
        "bonded_screw",
        "deck",
        "bolt",
        "tools",
    ),
    later("Seat, bed and plate"): ("bed", "seat", "plate"),
    later("Epoxy and batches"): ("epoxy", "batch", "mix", "syringe", "pour", "lifts"),
    later("Time"): ("time",),
    later("Load"): ("load", "strength", "lateral", "trial", "reading"),
    later("Heat"): ("heat", "removal"),
}
# What is set most often, first: the size, how deep, how many, the load, the wood, the weather, the epoxy. All else
# follows in the card's order. Common practice, no source.
OFTEN = ("thread", "screw", "T", "T_sk", "L_k", "N", "n_h", "F_n", "wood", "T_a", "hardener", "ratio", "filler")
HEADING = {module: heading for heading, modules in HEADINGS.items() for module in modules}


@dataclass(frozen=True)
class LiveForm:
    """The form of one card."""

    library: Library
    card: Card
    systems: Mapping[str, System]

    @property
    def fields(self) -> list[Field]:
        """The fields, those that are set most often first; where only one row is left to choose there is nothing to
        ask."""
        asked = [field for field in card_fields(self.library, self.card) if self._asks(field)]
        return sorted(asked, key=lambda field: OFTEN.index(field.name) if field.name in OFTEN else len(OFTEN))

    def _asks(self, field: Field) -> bool:
        return field.kind != "choice" or len(self.options(field)[0][1]) > 1

    @property
    def groups(self) -> list[tuple[str, list[Field]]]:
        """The fields that most readers set, and those that few do, under a heading."""
        groups = [("", [field for field in self.fields if not field.rare])]
        rare = [field for field in self.fields if field.rare]
        return [*groups, (tr("Finer settings"), rare)] if rare else groups

    def options(self, field: Field) -> list[tuple[str, list[tuple[str, str]]]]:
        """What can be chosen, value and words, by heading; one group without a heading for a data table."""
        if field.kind == "thread":
            series = self.library.series_of(self.systems)
            return [(one.title, [(row.size, row.size) for row in one.rows]) for one in series]
        rows = self.library.choices[field.name].rows
        return [("", [(key, row.title) for key, row in rows.items() if key not in field.given.elsewhere])]

    def each_shop(self, words: Callable[[System], str]) -> Markup:
        """Words about a field, of which those in the units of the reader's own shop are shown."""
        return for_each_shop({shop: words(system) for shop, system in self.systems.items()})

    @property
    def shop(self) -> Markup:
        """The shop that a card is worked for."""
        return for_each_shop({shop: self.library.shops[shop].title for shop in self.systems})

    @property
    def results(self) -> list[tuple[str, list[str]]]:
        """The symbols that the card works, by heading; what is given is left out."""
        grouped: dict[str, list[str]] = {heading: [] for heading in HEADINGS}
        for symbol in self.card.outputs:
            steps = FORMULARY.yielding(symbol)
            if steps and symbol not in self.card.givens:
                heading = "Load" if symbol in self.card.loads else HEADING[steps[0].module]
                grouped[heading].append(symbol)
        return [(tr(heading), symbols) for heading, symbols in grouped.items() if symbols]
