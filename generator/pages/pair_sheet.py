"""Each pair's own sheet for a class: what it makes, and its days from minute to minute."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Protocol

from ..jobs.fittings import Drill
from ..jobs.lesson import Lesson, Stint
from ..jobs.plan import Holes, JobPlan, line_of
from ..language import later, lower_first, tr
from ..schedule.timetable import DAY, Slot

_SAID = {
    "set-up": later("Set up: goggles on, lay out what this day's cards need, drill by drill"),
    "break": later("Break: gloves off, hands and face washed"),
    "clean-up": later(
        "Clean up: tools wiped, drills counted, what is left of mixes spread thin, outdoors, where it may get hot. "
        "You are done for the day"
    ),
    "demonstration": later("Demonstration, for all"),
}


class Told(Protocol):
    """The job sheet's page, which tells its plan in words: a pair's sheet says the same."""

    plan: JobPlan

    def day(self, seconds: int) -> str:
        """The day."""

    def hour(self, seconds: int) -> str:
        """The hour."""

    def pair(self, number: int) -> str:
        """What a pair is called."""

    def shown_on(self, day: int) -> list[str]:
        """What is demonstrated on a day."""

    def said(self, slot: Slot) -> tuple[str, str]:
        """What is done in a stretch of work, and on what."""

    def mark(self, holes: Holes) -> str:
        """Where the drill is flagged."""

    def hole(self, holes: Holes) -> str:
        """Which hole of its card."""

    def depth(self, holes: Holes) -> str:
        """How deep the holes are."""

    def drill(self, drill: Drill) -> str:
        """The drill in words."""

    def times_of(self, number: int) -> list[tuple[str, str]]:
        """The times of a mix."""

    def weighed(self, number: int) -> list[tuple[str, str, str]]:
        """What goes into a mix."""


@dataclass(frozen=True)
class StintRow:
    """One line of a pair's day, with what belongs to it below: the holes of a boring, the amounts of a mix."""

    start: str
    end: str
    what: str
    who: str
    below: Sequence[str]
    kind: str

    @property
    def said(self) -> str:
        """The line in one."""
        return f"{self.who}: {self.what}" if self.who else self.what


@dataclass(frozen=True)
class PairSheet:
    """One pair: its name, what it makes, its days, and for how many minutes of them it has nothing to make."""

    name: str
    makes: Sequence[str]
    days: Sequence[tuple[str, Sequence[StintRow]]]
    spare: int


def pair_sheets(page: Told, lesson: Lesson) -> list[PairSheet]:
    """A sheet for each pair."""
    return [_Sheet(page, lesson, pair).whole() for pair in range(len(lesson.pairs))]


@dataclass
class _Sheet:
    page: Told
    lesson: Lesson
    pair: int

    def whole(self) -> PairSheet:
        """The sheet of the pair."""
        shares = [share for share in self.page.plan.shares.values() if share.worked.pair == self.pair]
        makes = dict.fromkeys(
            f"{share.worked.fitting.count} × {name}" if share.worked.fitting.count > 1 else name
            for share in shares
            for name in [self._own(share.worked.name)]
        )
        stints = self.lesson.pairs[self.pair]
        days = [
            (self.page.day(day * DAY), [self._row(one) for one in own])
            for day, own in groupby(stints, key=lambda one: one.start // DAY)
        ]
        spare = sum(one.end - one.start for one in stints if one.what == "meanwhile") // 60
        return PairSheet(self.page.pair(self.pair), list(makes), days, spare)

    def _own(self, name: str) -> str:
        """A fitting's name without that of the pair."""
        return name.replace(f", {self.page.pair(self.pair)}", "")

    def _row(self, one: Stint) -> StintRow:
        start, end = self.page.hour(one.start), self.page.hour(one.end)
        if one.slot is None:
            below = [*self.page.shown_on(one.start // DAY)] if one.what == "demonstration" else []
            said = self.lesson.meanwhile if one.what == "meanwhile" else tr(_SAID[one.what])
            return StintRow(start, end, said, "", below, one.what)
        said, who = self.page.said(one.slot)
        maker = self.page.plan.shares_of(one.slot)[0].worked.pair
        if maker != self.pair:
            said = tr("Help {pair}: {what}", pair=self.page.pair(maker or 0), what=lower_first(said))
        below = [*self._holes(one)] if one.slot.lot else [*self._amounts(one.slot.mix)]
        return StintRow(start, end, said, self._own(who), below, "mix" if one.slot.mix >= 0 else one.what)

    def _holes(self, one: Stint) -> Iterator[str]:
        """What is bored in a stint, and when its drill is free for it."""
        assert one.slot
        (share,) = self.page.plan.shares_of(one.slot)
        line = line_of(share.worked, one.slot.part) + 1
        for holes in self.page.plan.bored:
            if holes.share is share and share.worked.bored_by(holes.bore) == line and one.start <= holes.at < one.end:
                number = f"{holes.count} × " if holes.count > 1 else ""
                mark = self.page.mark(holes)
                deep = self.page.depth(holes) + (tr(", mark {mark} from the tip", mark=mark) if mark else "")
                what = f"{number}{self.page.hole(holes)}, {deep}"
                yield f"{self.page.hour(holes.at)} {self.page.drill(holes.drill)}: {what}"

    def _amounts(self, number: int) -> Iterator[str]:
        """What is weighed out for a mix, and its times."""
        yield "; ".join(f"{what} {when}" for what, when in self.page.times_of(number))
        for what, mass, volume in self.page.weighed(number):
            yield f"{mass} {what}" + (f" ({volume})" if volume else "")
