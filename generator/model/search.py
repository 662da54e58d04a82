"""What the YAML of the search means: the words that people type, and the pages that these lead to."""

from __future__ import annotations

from pydantic import Field

from .kinds import Identifier, Line, Text
from .schema import InputName, Strict

# A page by the folder and the name of its file, as cards/mixing.
PagePath = str


class OtherPage(Strict):
    """A page that is neither card, table nor job sheet: how a hit names it, what it is for, and what people type.
    `takes` is what a query can set on it, by the page's own names; `length` is a length typed without a name."""

    title: Line
    says: Text
    words: list[Line] = Field(min_length=1)
    takes: dict[InputName, InputName] = Field(default_factory=dict)


class SearchWords(Strict):
    """search.yaml. `same` are words that mean one thing here, `pages` what people type for a page, `lengths` which
    input of a card a length means that is typed without a name."""

    same: list[list[Line]]
    pages: dict[PagePath, list[Line]]
    lengths: dict[Identifier, InputName]
    others: dict[PagePath, OtherPage]
