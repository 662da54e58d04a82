"""Prose with worked values in it: `Drill with the {D_o} {large_drill}.`

`[t_m > 0: Set it on pads of {t_m}. | Set it on the bare wood.]` prints the first text where the value is above the
number, else the second, which may be left out. So nothing is said of a bed of no thickness, or of several mixes where
there is one.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True)
class Value:
    """A place in a text where the value of a symbol, the title of a choice, or a link to another card is printed."""

    name: str


@dataclass(frozen=True)
class Condition:
    """A symbol's value, as it is printed, is above a whole number; one that is not worked is above none."""

    symbol: str
    over: int


@dataclass(frozen=True)
class Turn:
    """A stretch of text that goes by a condition: what stands there when it holds, and what otherwise."""

    condition: Condition
    then: list[str | Value]
    otherwise: list[str | Value]


Part = str | Value | Turn

_NAME = r"[A-Za-z][A-Za-z0-9_]*"
_CONDITION = rf"(?P<symbol>{_NAME}) > (?P<over>\d+)"
_VALUE = re.compile(rf"\{{(?P<name>{_NAME}(?:-[a-z0-9]+)*)\}}|(?P<stray>[{{}}])")
_TURN = re.compile(
    rf"\[{_CONDITION}: (?P<then>[^][|]*?)(?: \| ?(?P<otherwise>[^][|]*))?\]|(?P<stray>\[(?={_NAME}(?: [<>=]|:)))"
)


class StrayBrace(ValueError):
    """A brace that opens or closes no name, or a bracket that opens half a condition."""


def condition(text: str) -> Condition | None:
    """What `t_m > 0` says; None where it says nothing of the kind."""
    match = re.fullmatch(_CONDITION, text)
    return Condition(match["symbol"], int(match["over"])) if match else None


def parts(text: str) -> list[Part]:
    """The text cut into plain stretches, values and turns. Raises StrayBrace."""
    found: list[Part] = []
    end = 0
    for match in _TURN.finditer(text):
        if match["stray"]:
            raise StrayBrace(match["stray"])
        found += plain_parts(text[end : match.start()])
        asked = Condition(match["symbol"], int(match["over"]))
        found.append(Turn(asked, plain_parts(match["then"]), plain_parts(match["otherwise"] or "")))
        end = match.end()
    return found + plain_parts(text[end:])


def plain_parts(text: str) -> list[str | Value]:
    """A text without conditions, cut into plain stretches and values. Raises StrayBrace."""
    found: list[str | Value] = []
    end = 0
    for match in _VALUE.finditer(text):
        if match["stray"]:
            raise StrayBrace(match["stray"])
        if match.start() > end:
            found.append(text[end : match.start()])
        found.append(Value(match["name"]))
        end = match.end()
    if end < len(text):
        found.append(text[end:])
    return found


def conditions_in(text: str) -> Iterator[Condition]:
    """The conditions in a text."""
    return (part.condition for part in parts(text) if isinstance(part, Turn))


def values_in(text: str) -> Iterator[Value]:
    """Every value that may be printed in a text."""
    for part in parts(text):
        inside = [*part.then, *part.otherwise] if isinstance(part, Turn) else [part]
        yield from (one for one in inside if isinstance(one, Value))


def chosen(text: str, holds: Callable[[Condition], bool]) -> Iterator[str | Value]:
    """The text as it reads where `holds` says which conditions do."""
    for part in parts(text):
        if isinstance(part, Turn):
            yield from part.then if holds(part.condition) else part.otherwise
        else:
            yield part
