"""The page that takes a result at the bench: what a series of pulled joints asks for, and its rules."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cached_property
from string import Formatter
from typing import Any

from markupsafe import Markup

from ..evidence import (
    ANOTHER_WOOD,
    BONDS,
    CHOSEN,
    NOT_THAT_WOOD,
    SIZES,
    STRONGEST_STEEL,
    TOO_STRONG,
    UNWORKED,
    kind_of,
    pulling_cards,
    trial_card,
)
from ..formula import FORMULARY
from ..language import tr
from ..live.fields import Field, card_fields
from ..model.kinds import LONGEST_LINE, LONGEST_TEXT, out_of_limits
from ..model.library import Library
from ..model.schema import Card
from ..model.series import BROKEN_OR_HELD, FAILURES, LIMITS, Joint, Measured, described
from ..model.yaml_text import NO_TAG
from ..samples import FEWEST
from ..units import SPELLINGS, factor, offset, read_quantity, span, what_to_write
from .live import LiveForm
from .options import SiteOptions

# The unit that a number without one is in, as it stands beside its field.
UNITS = {
    "load": {"metric": "kN", "inch": "lbf"},
    "gravity": {"metric": "", "inch": ""},
    "moisture": {"metric": "%", "inch": "%"},
    "cured": {"metric": "d", "inch": "d"},
}
UNITS["held"] = UNITS["load"]


@dataclass(frozen=True)
class Asked:
    """A key of the file that is no input of the card: its name, what it means, and how it is typed."""

    name: str
    words: str
    kind: str

    @property
    def units(self) -> dict[str, str]:
        """The unit beside it in each shop, for a number."""
        return UNITS.get(self.name, {})


class ResultPage:
    """What the template reads. Built from a checked library."""

    def __init__(self, library: Library, name: str, options: SiteOptions):
        self.library, self.name, self.options = library, name, options
        self.form = LiveForm(library, self.card, options.systems)
        kind = kind_of(self.card)
        assert kind
        self.kind = kind

    @property
    def card(self) -> Card:
        """The card that such joints are made by."""
        return self.library.cards[self.name]

    @property
    def is_bond(self) -> bool:
        """Whether bonds are pulled, and no screws."""
        return self.kind is BONDS

    @property
    def tests_folder(self) -> str:
        """Where a site has the series of its own: only there are they read."""
        return f"{self.library.root.name}/tests"

    @property
    def pulled_by(self) -> str:
        """The card by which such joints are pulled."""
        named = self.card.job.pulled if self.card.job else None
        return named if named in self.library.cards else self.name

    @property
    def others(self) -> dict[str, str]:
        """The pages that take the results of other cards' joints, by the titles of these cards."""
        others = [name for name in pulling_cards(self.library) if name != self.name]
        return {self.library.cards[name].title: result_file(self.library, name) for name in others}

    @cached_property
    def fields(self) -> list[Field]:
        """What decides a joint's strength or whose it is, of the card's inputs, in their order."""
        reach = FORMULARY.reaching(self.kind.worked)
        return [
            field
            for field in card_fields(self.library, self.card)
            if field.name in CHOSEN or self._gives(field.name) & reach
        ]

    def _gives(self, name: str) -> set[str]:
        if name == "thread":
            return {"d"}
        if name not in self.library.choices:
            return {name}
        choice = self.library.choices[name]
        drills = {step.symbol for step in FORMULARY.lookups if step.stock and step.stock == choice.stock}
        return drills.union(*(row.symbols for row in choice.rows.values()))

    @property
    def measured(self) -> list[Asked]:
        """What is measured on the wood, in the order of the file."""
        return [_asked(name, words) for name, words in described(Measured).items()]

    @property
    def joint(self) -> list[Asked]:
        """What is written down of a joint, in the order of the file."""
        return [_asked(name, words) for name, words in described(Joint).items()]

    @property
    def ways(self) -> dict[str, str]:
        """How a joint may fail."""
        return {name: tr(words) for name, words in FAILURES.items()}

    @property
    def longest(self) -> dict[str, int]:
        """The most letters of a line and of a text."""
        return {"line": LONGEST_LINE, "text": LONGEST_TEXT}

    @property
    def data(self) -> Markup:
        """What the page's script checks by: the loader's own limits and words."""
        data = {
            "card": self.name,
            "given": [field.name for field in self.fields],
            "measured": [one.name for one in self.measured],
            "joint": [one.name for one in self.joint],
            "numbers": {name: self.number_rule(name) for name in LIMITS},
            "units": UNITS,
            "set_up": self.kind.set_up,
            "metal": self.kind.metal,
            "sizes": SIZES,
            "untried": {name: [row, f"'{row}' {tr(why)}"] for name, (row, why) in self.kind.untried.items()},
            "gave_way": tr(self.kind.gave_way),
            "unworked": tr(UNWORKED),
            "strongest": STRONGEST_STEEL,
            "another_wood": ANOTHER_WOOD,
            "not_that_wood": _places(tr(NOT_THAT_WOOD)),
            "too_strong": _places(tr(TOO_STRONG)),
            "broken_or_held": tr(BROKEN_OR_HELD, ways=", ".join(FAILURES)),
            "fewest": FEWEST,
            "no_tag": tr(NO_TAG),
        }
        return Markup(json.dumps(data, ensure_ascii=False, sort_keys=True).replace("<", "\\u003c"))

    def number_rule(self, name: str) -> dict[str, Any]:
        """How a number is read: spellings with factor and offset, between which values, and for each shop in its own
        units what is wrong with one that is not."""
        base, least, most = LIMITS[name]
        low, high = read_quantity(least, base), read_quantity(most, base)
        systems = self.options.systems.items()
        right = {shop: span(low, high, base, UNITS[name][system]) for shop, system in systems}
        return {
            "scales": {text: [factor(unit, base), offset(unit)] for text, unit in SPELLINGS[base].items()},
            "write": {shop: f": {what_to_write(base, system)}" for shop, system in systems},
            "least": low,
            "most": high,
            "wrong": {shop: f" {out_of_limits(told)}" for shop, told in right.items()},
        }


def result_file(library: Library, name: str) -> str:
    """The page that takes the results of a card's joints."""
    return "result.md" if name == trial_card(library) else f"result-{name}.md"


def _asked(name: str, words: str) -> Asked:
    kind = "choice" if name == "failed" else "day" if name == "on" else "number" if name in UNITS else "text"
    return Asked(name, words, kind)


def _places(text: str) -> list[list[Any]]:
    """A text with places as its parts: words, the name of a value, and its decimals or nothing."""
    parts: list[list[Any]] = []
    for words, name, form, _ in Formatter().parse(text):
        parts.append([words, name, int(form.strip(".f")) if form else None])
    return parts
