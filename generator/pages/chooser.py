"""The page that leads to a card: its questions, and the cards ranked by what each carries, worked for each shop."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from markupsafe import Markup

from ..job import NO_NUMBER, InputError, Job, do_job
from ..live.card_script import number_data
from ..live.fields import Field, fields_of
from ..model.chooser import CardChoice, Chooser
from ..model.library import Library
from ..model.schema import Act, Card
from ..units import System
from .options import SiteOptions
from .words import for_each_shop

NO_LOAD = f"{NO_NUMBER}: this card gives no load"


@dataclass(frozen=True)
class Carries:
    """What a card carries one way in one shop: in words, and for ranking (N); 0 where there is no number."""

    words: str
    newtons: float


class ChooserPage:
    """What the chooser's template reads. Built from a checked library."""

    def __init__(self, library: Library, chooser: Chooser, options: SiteOptions):
        self.library, self.chooser, self.options = library, chooser, options
        self.given = {
            system: {name: given.text(system) for name, given in chooser.givens.items()} for system in options.systems
        }

    @property
    def designers(self) -> Sequence[Any]:
        """What no card is for."""
        return list(self.library.designers.values())

    def card(self, choice: CardChoice) -> Card:
        """The card that may be chosen."""
        return self.library.cards[choice.card]

    @cached_property
    def ranked(self) -> list[CardChoice]:
        """The choices, what carries most straight out in the first shop first. A script ranks them anew."""
        system, way = self.options.systems[0], next(iter(self.chooser.ways))
        return sorted(self.chooser.choices, key=lambda choice: -self._carries(choice, way, system).newtons)

    def carries(self, choice: CardChoice, way: Act) -> Markup:
        """What it carries that way at the sizes that the page begins with, in each shop's words."""
        return for_each_shop({system: self._carries(choice, way, system).words for system in self.options.systems})

    def _carries(self, choice: CardChoice, way: Act, system: System) -> Carries:
        symbols = load_symbols(self.card(choice), way)
        if not symbols:
            return Carries(NO_LOAD, 0)
        try:
            job = self._job(choice, system)
        except InputError as error:  # one card's range is not another's
            return Carries(f"{NO_NUMBER}: {error}", 0)
        if reasons := job.working.reasons(symbols):
            return Carries(f"{NO_NUMBER}: {'; '.join(reasons)}", 0)
        least = min(symbols, key=job.working.values.__getitem__)
        return Carries(job.shop(least), job.working.values[least])

    def _job(self, choice: CardChoice, system: System) -> Job:
        card, given = self.card(choice), self.given[system]
        inputs = {name: given[own] for name, own in choice.given.items()}
        return do_job(self.library, card, {"shop": system, **inputs})

    def set_words(self, system: System) -> str:
        """What the numbers are worked for before a script asks."""
        given, woods = self.given[system], self.library.tables["woods"]
        return f"{given['thread']}, {given['T']} deep, {woods[given['wood']].title}"

    @property
    def as_came(self) -> Markup:
        """The same in each shop's words."""
        return for_each_shop({system: self.set_words(system) for system in self.options.systems})

    @cached_property
    def fields(self) -> list[Field]:
        """The numbers that the reader may set, where a script runs."""
        return fields_of(self.library, self.chooser.givens)

    def options_of(self, field: Field) -> list[tuple[str, list[tuple[str, str]]]]:
        """What can be chosen, value and words, by heading; nothing where a number is asked for."""
        if field.kind == "number":
            return []
        if field.kind == "thread":
            return [(one.title, [(row.size, row.size) for row in one.rows]) for one in self.library.series.values()]
        rows = self.library.choices[field.name].rows
        return [("", [(key, row.title) for key, row in rows.items()])]

    @property
    def data(self) -> Markup:
        """What the page's script must know: how a number is read, and each card's inputs and loads by way."""
        numbers = {field.name: number_data(field) for field in self.fields if field.kind == "number"}
        loads = {
            choice.card: {way: load_symbols(self.card(choice), way) for way in self.chooser.ways}
            for choice in self.chooser.choices
        }
        data = {
            "came": self.given,
            "numbers": numbers,
            "given": {choice.card: choice.given for choice in self.chooser.choices},
            "loads": loads,
            "none": NO_LOAD,
        }
        return Markup(json.dumps(data, ensure_ascii=False, sort_keys=True).replace("<", "\\u003c"))

    @property
    def filters(self) -> Markup:
        """Style rules that leave out a card by an answer, and say so where none is left. No script is needed."""
        rules = [
            f'.bw-choose:has([name="{name}"][value="{answer}"]:checked) '
            f'.bw-choice:not([data-{name}~="{answer}"]) {{ display: none; }}'
            for name, question in self.chooser.questions.items()
            for answer in question.options
        ]
        for answers in self.chooser.without_a_card:
            ticked = "".join(f':has([name="{name}"][value="{answer}"]:checked)' for name, answer in answers.items())
            rules.append(f".bw-choose{ticked} .bw-choice-none {{ display: block; }}")
        return Markup("\n".join(rules))


def load_symbols(card: Card, way: Act) -> list[str]:
    """The working loads of a card that count for a load that acts so; the least decides."""
    return list(card.job.carries.get(way, [])) if card.job else []
