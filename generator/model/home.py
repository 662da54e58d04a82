"""What the YAML of the home page means: the panel that works a size on several cards, and the tables by question."""

from __future__ import annotations

from pydantic import Field

from .kinds import Identifier, Line
from .schema import Given, InputName, Strict


class Taking(Strict):
    """A card that a page works with the numbers that it asks for: which of them each of its inputs takes.

    `deep` names an input that takes the wood asked for, with the depth that the card works from it: what that goes
    deeper is taken off. `from` names an input that another of the page's cards works from the same answers.
    """

    card: Identifier
    given: dict[InputName, InputName]
    deep: dict[InputName, InputName] = Field({})
    from_: dict[InputName, Identifier] = Field({}, alias="from")


class PanelCard(Taking):
    """A card that the panel works, with its short name."""

    name: Line


class Asked(Strict):
    """A question that a table answers."""

    ask: Line
    table: Identifier


class Home(Strict):
    """home.yaml."""

    givens: dict[InputName, Given]
    cards: list[PanelCard] = Field(min_length=1)
    questions: list[Asked]
