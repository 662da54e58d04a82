"""What the YAML of the search means: the words that people type, and the pages that these lead to."""

from __future__ import annotations

from pydantic import Field

from .kinds import Identifier, Line, Text
from .schema import InputName, Strict

# A page by the folder and the name of its file, as cards/mixing.
PagePath = str
# A unit in small letters, as °c.
Unit = str


class OtherPage(Strict):
    """A page that is neither card, table nor job sheet: how a hit names it, what it is for, and what people type.
    `takes` is what a query can set on it, by the page's own names; `length` is a length typed without a name."""

    title: Line
    says: Text
    words: list[Line] = Field(min_length=1)
    takes: dict[InputName, InputName] = Field(default_factory=dict)


class SearchWords(Strict):
    """search.yaml. `idle` are small words that say nothing, `spoken` words with the number or the sign that each stands
    for, `units` what a unit is called, `slanted` words beside which degrees are an angle, `same` words that mean one
    thing here, `pages` what people type for a page, `lengths` which input of a card a length means that is typed
    without a name, `along` what is chosen along with an input of a card, without which that has no number."""

    idle: Text = ""
    spoken: Text = ""
    units: dict[Unit, Line] = Field(default_factory=dict)
    slanted: Line = ""
    same: list[list[Line]]
    pages: dict[PagePath, list[Line]]
    lengths: dict[Identifier, InputName]
    along: dict[Identifier, dict[InputName, dict[InputName, Identifier]]] = Field(default_factory=dict)
    others: dict[PagePath, OtherPage]
