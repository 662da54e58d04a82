"""A drawing's words, from YAML, with the values that the working says."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ..model.schema import DrawingWords
from .parts import Measure

Values = Mapping[str, float]
Options = Mapping[str, str]
Say = Callable[[str], str]


@dataclass(frozen=True)
class Words:
    """The words, how a symbol's value is said, and which case of each part of a text holds here."""

    written: DrawingWords
    say: Say
    chosen: Mapping[str, str]

    def filled(self, text: str) -> str:
        """A text with what stands in braces put in."""
        first, *rest = text.split("{")
        pieces = [piece.partition("}") for piece in rest]
        return (first + "".join([self.put(name) + after for name, _, after in pieces])).strip()

    def put(self, name: str) -> str:
        """What stands for a name in braces: the case that holds, or a symbol's value."""
        if name in self.written.cases:
            return self.filled(self.written.cases[name][self.chosen[name]])
        return self.say(name)

    def plain(self, name: str) -> list[str]:
        """A label's words alone."""
        return [self.filled(line) for line in self.written.labels[name].words]

    def lines(self, name: str) -> list[str | Measure]:
        """A label's lines: its words, then its values."""
        return [*self.plain(name), *[Measure(symbol, self.say(symbol)) for symbol in self.written.labels[name].value]]

    def value(self, name: str) -> Measure:
        """The one value of a label."""
        return Measure(self.written.labels[name].value[0], self.say(self.written.labels[name].value[0]))

    def side(self, name: str) -> int:
        """In which column a label stands: -1 left, 1 right."""
        return -1 if self.written.labels[name].side == "left" else 1
