"""Prose with worked values in it: `Drill with the {D_o} {large_drill}.`"""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Value:
    """A place in a text where the value of a symbol, the title of a choice, or a link to another card is printed."""

    name: str


_PART = re.compile(r"\{(?P<name>[A-Za-z][A-Za-z0-9_]*(?:-[a-z0-9]+)*)\}|(?P<stray>[{}])")


class StrayBrace(ValueError):
    """A brace that opens or closes no name."""


def parts(text: str) -> list[str | Value]:
    """The text cut into plain stretches and values. Raises StrayBrace."""
    found: list[str | Value] = []
    end = 0
    for match in _PART.finditer(text):
        if match["stray"]:
            raise StrayBrace(match["stray"])
        if match.start() > end:
            found.append(text[end : match.start()])
        found.append(Value(match["name"]))
        end = match.end()
    if end < len(text):
        found.append(text[end:])
    return found
