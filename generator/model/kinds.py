"""The kinds of value that stand in YAML. Each says what may be written, in which unit, what is possible, and how long
it may be, so that a field is safe by its type and nothing that reads it has to look again.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, StringConstraints

from ..formula import FORMULARY
from ..language import tr
from ..units import QuantityError, clip, plain, read_quantity, span_for
from .prose import Prose
from .quantity import Quantity, unknown_symbol
from .sense import sensible


class Words:
    """Marks a text that is printed as it stands: whatever a reader is told."""


def _text(longest: int) -> StringConstraints:
    return StringConstraints(strip_whitespace=True, min_length=1, max_length=longest)


def _plain(text: str) -> str:
    if marks := re.search(r"[{}\[\]|]", text):
        raise ValueError(f"'{marks[0]}' marks a value or a condition, and none is told here; write plain words")
    return text


LONGEST_LINE, LONGEST_TEXT = 200, 2000
# A text is in the language that is spoken from here on.
_told = AfterValidator(tr)
_prose = AfterValidator(lambda text: Prose(tr(text)))
Text = Annotated[str, _text(LONGEST_TEXT), _told, Words()]
Line = Annotated[str, _text(LONGEST_LINE), _told, Words()]
ProseText = Annotated[Prose, _text(LONGEST_TEXT), _prose, Words()]
ProseLine = Annotated[Prose, _text(LONGEST_LINE), _prose, Words()]
# A few words of their own measure.
Part = Annotated[str, StringConstraints(strip_whitespace=True, max_length=300), _told, Words()]
Sign = Annotated[str, _text(12), _told, AfterValidator(_plain), Words()]
# What is put into a turn of another text.
Woven = Annotated[str, _text(LONGEST_LINE), _told, AfterValidator(_plain), Words()]
# What is stamped on a thing, the same in every language.
Stamped = Annotated[str, _text(LONGEST_LINE), Words()]
# What is written for an input: it is read by the input's own rule, where that is known.
Answer = Annotated[str, _text(80)]

# Names that some systems keep for themselves: a page of that name could not be stored there.
RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10))}


def _not_reserved(name: str) -> str:
    if name in RESERVED:
        raise ValueError(f"'{name}' is a name that some computers keep for themselves; choose another one")
    return name


Identifier = Annotated[
    str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60), AfterValidator(_not_reserved)
]
Name = Annotated[str, StringConstraints(pattern=r"^[a-z]+(_[a-z]+)*$", max_length=60)]


def out_of_limits(right: str) -> str:
    """What is wrong with a value that cannot be, and between which it could."""
    return tr("cannot be; give {right}", right=right)


def _reader(base: str, least: str, most: str) -> Callable[[str], Quantity]:
    low, high = read_quantity(least, base), read_quantity(most, base)

    def read(text: str) -> Quantity:
        value = read_quantity(text, base)
        if not sensible(value, low, high):
            raise ValueError(f"'{clip(text)}' {plain(out_of_limits(span_for(text, low, high, base)))}")
        return Quantity(text, value)

    return read


def within(base: str, least: str, most: str) -> AfterValidator:
    """A text as a quantity in the SI unit `base`, between two others."""
    return AfterValidator(_reader(base, least, most))


def number_within(base: str, least: str, most: str) -> BeforeValidator:
    """A text as the number of SI units that its quantity is."""
    read = _reader(base, least, most)

    def number(text: object) -> float:
        if not isinstance(text, str):
            raise ValueError("a text is wanted here, not a list or a mapping")
        return read(text).value

    return BeforeValidator(number)


# A time that passes by itself, and one that hands are busy.
LONGEST_WAIT, LONGEST_WORK = "1000 d", "7 d"
Wait = Annotated[Quantity, within("s", "0 s", LONGEST_WAIT)]
Work = Annotated[Quantity, within("s", "0 s", LONGEST_WORK)]


def symbol_in(*units: str) -> Callable[[str], str]:
    """Reads the name of a symbol, of one of these units where any is named."""

    def read(name: str) -> str:
        if name not in FORMULARY.symbols:
            raise unknown_symbol(name)
        symbol = FORMULARY.symbols[name]
        if units and (symbol.unit not in units or symbol.marks):
            raise ValueError(f"'{name}' is the {symbol.meaning}; name {_KINDS[units[0]]} here")
        return name

    return read


_KINDS = {"s": "a time", "m": "a length", "m**3": "a volume", "N": "a load", "dimensionless": "a count"}
SymbolName = Annotated[str, _text(60), AfterValidator(symbol_in())]
TimeSymbol = Annotated[str, _text(60), AfterValidator(symbol_in("s"))]
LengthSymbol = Annotated[str, _text(60), AfterValidator(symbol_in("m"))]
VolumeSymbol = Annotated[str, _text(60), AfterValidator(symbol_in("m**3"))]
LoadSymbol = Annotated[str, _text(60), AfterValidator(symbol_in("N"))]
CountSymbol = Annotated[str, _text(60), AfterValidator(symbol_in("dimensionless"))]


def _wait_or_symbol(text: str) -> str:
    if text in FORMULARY.symbols:
        return symbol_in("s")(text)
    try:
        value = read_quantity(text, "s")
    except QuantityError as error:
        raise ValueError(f"{error}; or name a time that this card works") from None
    longest = read_quantity(LONGEST_WAIT, "s")
    if not sensible(value, 0.0, longest):
        raise ValueError(f"'{clip(text)}' {plain(out_of_limits(span_for(text, 0.0, longest, 's')))}")
    return Quantity(text, value)


WaitOrSymbol = Annotated[str, _text(60), AfterValidator(_wait_or_symbol)]


def whole(least: int, most: int) -> BeforeValidator:
    """A whole number."""

    def read(text: object) -> int:
        if isinstance(text, int):
            return text
        if not (isinstance(text, str) and text.isascii() and text.isdigit() and least <= int(text[:12]) <= most):
            raise ValueError(f"'{clip(str(text))}' is no number of that; give a whole number from {least} to {most}")
        return int(text)

    return BeforeValidator(read)


def whole_or_counted(least: int, most: int) -> BeforeValidator:
    """A whole number, or the symbol of a count."""
    number = whole(least, most).func

    def read(text: Any) -> Any:
        if isinstance(text, str) and text in FORMULARY.symbols:
            return symbol_in("dimensionless")(text)
        try:
            return number(text)  # type: ignore[call-arg]
        except ValueError as error:
            raise ValueError(f"{error}, or a count that this card works") from None

    return BeforeValidator(read)


FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2099, 12, 31)


def day(text: Any) -> date:
    """A day of this century. Raises ValueError."""
    if isinstance(text, date):
        return text
    wrong = ValueError(f"'{clip(str(text))}' is not a day; write year, month and day, like 2026-11-25")
    if not re.fullmatch(r"\d{4}-\d\d-\d\d", str(text), re.ASCII):
        raise wrong
    try:
        read = date.fromisoformat(str(text))
    except ValueError:
        raise wrong from None
    if not FIRST_DAY <= read <= LAST_DAY:
        raise ValueError(f"'{text}' cannot be; give a day from {FIRST_DAY} to {LAST_DAY}")
    return read


Day = Annotated[date, BeforeValidator(day)]
