"""The tree of errors.

BondwrightError
├── Faults            what a user wrote is wrong: a list of `Fault`, each with its place
├── FormulaFault      a formula's body holds what it may not: our own mistake, with file and line
│   └── UnitFault         its units do not close
└── WorkingError      a card cannot be worked with these values
    ├── MissingGiven      a symbol that nothing gives and no formula yields
    ├── AmbiguousFormula  two formulas yield the same symbol
    ├── CycleError        a symbol that needs itself
    ├── NoStock           nothing in the stock list fits
    └── OutOfRange        a rule of the trade or a model's range of validity is broken
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

# The exit code of what Ctrl-C ends, as shells have it.
STOPPED = 130
# So many faults are told at once; whoever mends them will ask again.
MOST_TOLD = 20
# How much of a line is shown, and how much of it before the place.
_WIDE, _BEFORE = 100, 70


def seen(text: str) -> str:
    """The text with everything spelt out that cannot be seen, so that none of it reaches a terminal raw."""
    return "".join(one if one.isprintable() or one in "\n\u00a0" else f"\\u{ord(one):04x}" for one in text)


class BondwrightError(Exception):
    """The root of every error this package raises on purpose."""


@dataclass(frozen=True, order=True)
class Fault:
    """One thing that is wrong, where it stands, and what would be right (in the message). `written` is that line."""

    file: str
    line: int
    column: int
    message: str
    written: str = field(default="", compare=False)

    def __str__(self) -> str:
        return seen(f"{self.file}:{self.line}:{self.column}: {self.message}").replace("\N{NO-BREAK SPACE}", " ")

    def shown(self) -> str:
        """The fault, and below it the line with a caret under the place."""
        if not self.written:
            return str(self)
        start = max(0, self.column - 1 - _BEFORE)
        line = seen(self.written[start : start + _WIDE].replace("\t", " "))
        return f"{self}\n    {line}\n    {' ' * (self.column - 1 - start)}^"


class Faults(BondwrightError):
    """Everything that is wrong in what the user wrote, found in one pass."""

    def __init__(self, faults: Iterable[Fault]):
        self.faults = sorted(set(faults))
        super().__init__(self._told(str))

    def shown(self) -> str:
        """The faults, each with its line and a caret."""
        return self._told(Fault.shown)

    def _told(self, tell: Callable[[Fault], str]) -> str:
        lines = [tell(fault) for fault in self.faults[:MOST_TOLD]]
        more = len(self.faults) - len(lines)
        return "\n".join([*lines, *([f"and {more} more"] if more else [])])


class FormulaFault(BondwrightError):
    """A formula whose body holds what it may not. `where` is its file and line."""

    def __init__(self, where: str, message: str):
        self.where = where
        super().__init__(f"{where}: {message}")


class UnitFault(FormulaFault):
    """A formula or a rule whose units do not close."""


class WorkingError(BondwrightError):
    """The working cannot go on; `symbols` are the ones on the way, the one asked for first."""

    def __init__(self, message: str, symbols: Iterable[str] = ()):
        self.symbols = tuple(symbols)
        super().__init__(message)


class MissingGiven(WorkingError):
    """A symbol that is not given and that no formula yields."""


class AmbiguousFormula(WorkingError):
    """More than one formula yields a symbol from what is given."""


class CycleError(WorkingError):
    """A symbol is needed to work out itself."""


class NoStock(WorkingError):
    """No size in the stock list fits."""


class OutOfRange(WorkingError):
    """A rule of the trade, or a model's range of validity, is broken."""
