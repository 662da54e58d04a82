"""The page that leads to a card: its questions, and the cards ranked by what each carries, worked for each shop."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from functools import cached_property
from typing import Any

from markupsafe import Markup

from ..language import lower_first, tr
from ..model.chooser import CardChoice, Chooser
from ..model.library import Library
from ..model.schema import Act, Card
from .asked import AskingPage
from .options import SiteOptions
from .words import for_each_shop


class ChooserPage(AskingPage):
    """What the chooser's template reads. Built from a checked library."""

    def __init__(self, library: Library, chooser: Chooser, options: SiteOptions):
        super().__init__(library, chooser.givens, chooser.choices, options)
        self.chooser = chooser

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
        shop, way = next(iter(self.options.systems)), next(iter(self.chooser.ways))
        return sorted(self.chooser.choices, key=lambda choice: -self.carried(choice, way, shop).newtons)

    def set_words(self, shop: str) -> str:
        """What the numbers are worked for, with what a pull sideways and at an angle goes by."""
        given = self.given[shop]
        more = tr("fasteners pulled together: {n_h}, an angle of {theta_p}", n_h=given["n_h"], theta_p=given["theta_p"])
        return f"{super().set_words(shop)}, {more}"

    def fits(self, choice: CardChoice) -> str:
        """The answers that leave this card in, by the question's number, for one who reads it on paper."""
        asked = enumerate(self.chooser.questions.items(), 1)
        return "; ".join(f"{place} {_among(choice.fits[name], question.options)}" for place, (name, question) in asked)

    def carries(self, choice: CardChoice, way: Act) -> Markup:
        """What it carries that way at the sizes that the page begins with, in each shop's words."""
        return for_each_shop({shop: self.carried(choice, way, shop).words for shop in self.options.systems})

    @property
    def data(self) -> Markup:
        """What the page's script must know: each card's inputs and loads by way."""
        data = self.script_data([choice.card for choice in self.chooser.choices], list(self.chooser.ways))
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


def _among(answers: Collection[str], options: Mapping[str, str]) -> str:
    """Those of a question's options that are among the answers, in words."""
    among = [words for value, words in options.items() if value in answers]
    if len(among) == len(options):
        return tr("any answer")
    return f" {tr('or')} ".join(lower_first(words) for words in among)
