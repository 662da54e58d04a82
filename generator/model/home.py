"""What the YAML of the home page means: the panel that works a size on several cards, and the tables by question."""

from __future__ import annotations

from pydantic import Field

from .kinds import Identifier, Line
from .schema import Given, InputName, Strict


class PanelCard(Strict):
    """A card that the panel works: its short name, and which of the panel's numbers each of its inputs takes."""

    card: Identifier
    name: Line
    given: dict[InputName, InputName]


class Asked(Strict):
    """A question that a table answers."""

    ask: Line
    table: Identifier


class Home(Strict):
    """home.yaml."""

    givens: dict[InputName, Given]
    cards: list[PanelCard] = Field(min_length=1)
    questions: list[Asked]
