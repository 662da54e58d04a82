"""Prose with worked values in it: `Drill with the {D_o} {large_drill}.`

`[t_m > 0: Set it on pads of {t_m}. | Set it on the bare wood.]` prints the first text where the value is above the
number, else the second, which may be left out. So nothing is said of a bed of no thickness, or of several mixes where
there is one. `{40 °C}` prints a temperature that nothing works, in the degrees of each shop.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from pydantic_core import CoreSchema, core_schema

from ..units import BOUND, unbroken


@dataclass(frozen=True)
class Value:
    """A place in a text where the value of a symbol, the title of a choice, or a link to another card is printed; in a
    rule's message also a length that the rule itself has, as `6 mm`."""

    name: str


@dataclass(frozen=True)
class Degrees(Value):
    """A place where a temperature is printed that stands in the text itself: each shop reads its own degrees."""


@dataclass(frozen=True)
class Condition:
    """A symbol's value, as it is printed, is above a whole number; one that is not worked is above none."""

    symbol: str
    over: int

    @classmethod
    def __get_pydantic_core_schema__(cls, *_: object) -> CoreSchema:
        """It is written as a text."""
        return core_schema.no_info_after_validator_function(condition, core_schema.str_schema(strip_whitespace=True))


@dataclass(frozen=True)
class Known:
    """Each of these symbols has a number; and what is asked besides holds, if there is anything."""

    symbols: tuple[str, ...]
    when: Condition | None = None


@dataclass(frozen=True)
class Turn:
    """A stretch of text that goes by a condition: what stands there when it holds, and what otherwise."""

    condition: Condition
    then: list[str | Value]
    otherwise: list[str | Value]


Part = str | Value | Turn

_NAME = r"[A-Za-z][A-Za-z0-9_]*"
_CONDITION = rf"(?P<symbol>{_NAME}) > (?P<over>\d+)"
_VALUE = re.compile(rf"\{{(?:(?P<name>{_NAME}(?:-[a-z0-9]+)*|{BOUND})|(?P<degrees>[-±]?\d+ °C))\}}|(?P<stray>[{{}}])")
_TURN = re.compile(
    rf"\[{_CONDITION}: (?P<then>[^][|]*?)(?: \| ?(?P<otherwise>[^][|]*))?\]|(?P<stray>\[(?={_NAME}(?: [<>=]|:)))"
)
_NUMBER = r"[-−±]?\d+(?:[.,]\d+)?"
# Two numbers are a range by what joins them; "and" joins "between 20 and 25 °C", but not "step 3 and 40 °C".
_TYPED_DEGREES = re.compile(
    rf"(?<![\w{{±−.,-])(?P<between>(?<=between\s))?"
    rf"(?:(?P<low>{_NUMBER})(?P<join>\s?(?:to|[–-]|(?(between)and|to))\s?))?(?P<number>{_NUMBER})\s?°\s?(?P<scale>[CF])\b"
)


class StrayBrace(ValueError):
    """A brace that opens or closes no name, or a bracket that opens half a condition: the `sign` that it is."""

    def __init__(self, sign: str):
        self.sign = sign
        how = "write a symbol as {D_o}" if sign in "{}" else "write a condition as [t_m > 0: so | else so]"
        super().__init__(f"a '{sign}' with no name; {how}")


def all_known(
    texts: Iterable[Prose], but: Container[str] = (), when: Condition | None = None
) -> Known | Condition | None:
    """What must hold for texts to stand: a number for each value in them, those in `but` left out."""
    symbols = dict.fromkeys(name for text in texts for name in text.always if name not in but)
    return Known(tuple(symbols), when) if symbols else when


def condition(text: str) -> Condition:
    """What `t_m > 0` says. Raises ValueError."""
    match = re.fullmatch(_CONDITION, text)
    if not match:
        raise ValueError(f"'{text}' is no condition; write a symbol and a whole number, as h_k > 0")
    return Condition(match["symbol"], int(match["over"]))


class Prose(str):
    """A text with worked values in it, and the parts that it is cut into. Raises StrayBrace."""

    parts: Sequence[Part]

    def __new__(cls, text: str) -> Prose:
        """The text, cut unless it is."""
        if isinstance(text, cls):
            return text
        cut = super().__new__(cls, text)
        cut.parts = _cut(text)
        return cut

    @classmethod
    def as_read(cls, text: str) -> Prose:
        """A text as its field has it: cut where that is cut, and otherwise letters alone, braces too."""
        if isinstance(text, cls):
            return text
        whole = str.__new__(cls, text)
        whole.parts = [str(text)]
        return whole

    @classmethod
    def __get_pydantic_core_schema__(cls, *_: object) -> CoreSchema:
        """Until it is cut it is a text."""
        return core_schema.str_schema()

    @property
    def conditions(self) -> Iterator[Condition]:
        """The conditions in it."""
        return (part.condition for part in self.parts if isinstance(part, Turn))

    @property
    def values(self) -> Iterator[Value]:
        """Every value that may be printed in it."""
        for part in self.parts:
            inside = [*part.then, *part.otherwise] if isinstance(part, Turn) else [part]
            yield from (one for one in inside if isinstance(one, Value) and not isinstance(one, Degrees))

    @property
    def always(self) -> Iterator[str]:
        """The names of the values that it prints whatever the conditions in it are."""
        return (part.name for part in self.parts if isinstance(part, Value) and not isinstance(part, Degrees))

    def chosen(self, holds: Callable[[Condition], bool]) -> Iterator[str | Value]:
        """It as it reads where `holds` says which conditions do."""
        for part in self.parts:
            if isinstance(part, Turn):
                yield from part.then if holds(part.condition) else part.otherwise
            else:
                yield part


@dataclass(frozen=True)
class TypedDegrees:
    """A temperature, or two, that stand in a text as they are: a shop with other degrees would read them too."""

    typed: str
    braced: str

    def __str__(self) -> str:
        return (
            f"write '{self.typed}' as {self.braced}, in whole degrees Celsius, so that every shop reads its own degrees"
        )


def typed_degrees(text: str) -> TypedDegrees | None:
    """The first temperature in a text that stands in no braces, and how it is written in them."""
    typed = _TYPED_DEGREES.search(text)
    if not typed:
        return None
    numbers = [_braced(number, typed["scale"]) for number in (typed["low"], typed["number"]) if number]
    return TypedDegrees(" ".join(typed[0].split()), (typed["join"] or "").join(numbers))


def _braced(number: str, scale: str) -> str:
    """A number of degrees as a text of a card has it."""
    sign = "±" if number.startswith("±") else ""
    read = float(number.removeprefix("±").translate({ord("−"): "-", ord(","): "."}))
    celsius = (read - (0 if sign else 32)) / 1.8 if scale == "F" else read
    return f"{{{sign}{max(round(celsius), 1) if sign else round(celsius)} °C}}"


@lru_cache(maxsize=8192)  # a file is read again whenever another one has changed
def _cut(text: str) -> Sequence[Part]:
    """The parts of a text, cut once. Raises StrayBrace."""
    return tuple(parts(text))


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
            found.append(unbroken(text[end : match.start()]))
        found.append(Degrees(match["degrees"]) if match["degrees"] else Value(match["name"]))
        end = match.end()
    if end < len(text):
        found.append(unbroken(text[end:]))
    return found
