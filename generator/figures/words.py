"""A drawing's words, from YAML, with the values that the working says."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ..model.schema import DrawingWords
from .parts import Measure

Values = Mapping[str, float]
Options = Mapping[str, str]
Say = Callable[[str], str]


def in_fractions(said: str) -> str:
    """A value as an inch shop's rule has it: a decimal that is whole 64ths of an inch is told as a fraction."""
    written, _, unit = said.replace(",", ".").partition("\u00a0")
    if unit != "in" or "." not in written or float(written) * 64 % 1 != 0:
        return said
    top, under = round(float(written) * 64), 64
    while top % 2 == 0 and under > 1:
        top, under = top // 2, under // 2
    whole, rest = top // under, top % under
    if rest == 0:
        return f"{whole}\u00a0in"
    return f"{whole}\u00a0{rest}/{under}\u00a0in" if whole > 0 else f"{rest}/{under}\u00a0in"


@dataclass(frozen=True)
class Words:
    """The words, how a symbol's value is said, and which case of each part of a text holds here."""

    written: DrawingWords
    say: Say
    chosen: Mapping[str, str]

    @property
    def in_end_grain(self) -> bool:
        """Whether the fastener was chosen to stand in end grain."""
        return self.chosen.get("grain") == "end"

    def filled(self, text: str) -> str:
        """A text with what stands in braces put in."""
        first, *rest = text.split("{")
        pieces = [piece.partition("}") for piece in rest]
        return (first + "".join([self.put(name) + after for name, _, after in pieces])).strip()

    def put(self, name: str) -> str:
        """What stands for a name in braces: the case that holds, or a symbol's value."""
        if name in self.written.cases:
            return self.filled(self.written.cases[name][self.chosen[name]])
        return self.told(name)

    def told(self, symbol: str) -> str:
        """A symbol's value as a drawing tells it."""
        return in_fractions(self.say(symbol))

    def plain(self, name: str) -> list[str]:
        """A label's words alone."""
        return [self.filled(line) for line in self.written.labels[name].words]

    def lines(self, name: str) -> list[str | Measure]:
        """A label's lines: its words, then its values."""
        return [*self.plain(name), *[Measure(symbol, self.told(symbol)) for symbol in self.written.labels[name].value]]

    def value(self, name: str) -> Measure:
        """The one value of a label."""
        return Measure(self.written.labels[name].value[0], self.told(self.written.labels[name].value[0]))

    def side(self, name: str) -> int:
        """In which column a label stands: -1 left, 1 right."""
        return -1 if self.written.labels[name].side == "left" else 1
