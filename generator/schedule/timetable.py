"""When each part of the work is done: working hours, as many teams as there are, cures that pass day and night.

A lot is some fittings alike that go through the same parts together; those that need epoxy share one mix. Times are
whole seconds from midnight before the first day. A part that no wait precedes may be broken off and taken up again; a
mix is used in one go, and what belongs to it (the second look, the moment when it is firm as leather) has its place
in working hours as well, or the mix is made later. Everything is put at the earliest time that is left for it, first
what comes first in the list of lots.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

DAY = 86_400
# A job that finds no place for a part within two years finds none at all.
_LONGEST = 730


class NoPlace(Exception):
    """No working day has room for something; the message says for what."""


@dataclass(frozen=True)
class Hours:
    """From when to when hands work (s after midnight), and on which days of the week; `first` is the weekday of day
    0."""

    opens: int
    closes: int
    first: int = 0
    days: frozenset[int] = frozenset(range(7))

    def windows(self, ready: int) -> Iterator[tuple[int, int]]:
        """What is left of each working day from `ready` on."""
        for day in range(ready // DAY, ready // DAY + _LONGEST):
            if (self.first + day) % 7 in self.days:
                start, end = max(ready, day * DAY + self.opens), day * DAY + self.closes
                if start < end:
                    yield start, end


@dataclass(frozen=True)
class Part:
    """One part of the work on a lot.

    `hands` is one team's time for one fitting. `wait` passes before the next part, or before this one when
    `waits_first`; `cures` counts it from the mix instead. `by` is the latest end, counted from the start of the mix.
    `mixes` marks the part that uses the mix.
    """

    hands: int
    wait: int = 0
    waits_first: bool = False
    cures: bool = False
    by: int | None = None
    mixes: bool = False


@dataclass(frozen=True)
class Lot:
    """Some fittings alike. `after` names lots, and how many of their parts (with the waits behind them) must be
    over."""

    name: str
    pieces: int
    parts: Sequence[Part]
    after: Sequence[tuple[str, int]] = ()


@dataclass(frozen=True)
class Mix:
    """One mix: the lots that share it, how long all its work takes, and how many teams that keeps busy."""

    lots: Sequence[str]
    takes: int
    teams: int


@dataclass(frozen=True)
class Slot:
    """One stretch of work: the part of a lot (None for a mix, whose lots are worked together), and how many teams."""

    start: int
    end: int
    teams: int
    lot: str = ""
    part: int = -1
    mix: int = -1


@dataclass
class Timetable:
    """All stretches in order of time, and from when each lot may be loaded."""

    slots: list[Slot] = field(default_factory=list)
    ready: dict[str, int] = field(default_factory=dict)


@dataclass
class _Crew:
    """Who is busy when: for each day the moments at which the number of busy teams changes, and by how much."""

    teams: int
    hours: Hours
    days: dict[int, dict[int, int]] = field(default_factory=dict)
    _spans: dict[int, list[tuple[int, int, int]]] = field(default_factory=dict)

    def take(self, slot: Slot, sign: int = 1) -> None:
        """Give out a stretch, or take it back with a sign of -1."""
        day = slot.start // DAY
        changes = self.days.setdefault(day, {})
        for moment, change in ((slot.start, sign * slot.teams), (slot.end, -sign * slot.teams)):
            changes[moment] = changes.get(moment, 0) + change
        self._spans.pop(day, None)

    def _of_day(self, day: int) -> list[tuple[int, int, int]]:
        """The day from its opening to its end in spans: from, to, teams that are free."""
        if day not in self._spans:
            opens, closes = day * DAY + self.hours.opens, day * DAY + self.hours.closes
            busy, at, spans = 0, opens, []
            for moment, change in sorted(self.days.get(day, {}).items()):
                if change and moment > at:
                    spans.append((at, moment, self.teams - busy))
                    at = moment
                busy += change
            self._spans[day] = [*spans, (at, closes, self.teams - busy)]
        return self._spans[day]

    def free(self, ready: int, takes: int, teams: int, latest: int | None = None) -> Iterator[int]:
        """Every moment from `ready` on at which something changes, and from which so many teams are free so long."""
        for opens, closes in self.hours.windows(ready):
            if latest is not None and opens + takes > latest:
                return
            yield from self._free_on(opens, min(closes, latest or closes), takes, teams)

    def _free_on(self, opens: int, closes: int, takes: int, teams: int) -> Iterator[int]:
        starts: list[int] = []
        for start, end, free in self._of_day(opens // DAY):
            if free < teams:
                starts = []
            elif end > opens:
                starts.append(max(start, opens))
                while starts and starts[0] + takes <= min(end, closes):
                    yield starts.pop(0)


def timetable(lots: Sequence[Lot], mixes: Sequence[Mix], teams: int, hours: Hours, begins: int = 0) -> Timetable:
    """Place every part, none before `begins`. The mixes are made in their order. Raises NoPlace.

    Before a mix, all lots that wait for nothing any more are made ready for theirs, so that drills are changed once for
    all of them. What needs no epoxy fills the time that is left.
    """
    planner = _Planner({lot.name: lot for lot in lots}, mixes, _Crew(teams, hours), begins)
    mixed = {name for mix in mixes for name in mix.lots}
    for number, mix in enumerate(mixes):
        for lot in lots:
            if lot.name in mixed:
                planner.start_if_free(lot)
        for name in mix.lots:
            planner.start(name)
        planner.make(number)
    for lot in lots:
        planner.start(lot.name)
    done = Timetable(sorted(planner.slots, key=lambda slot: (slot.start, slot.end, slot.mix, slot.lot, slot.part)))
    done.ready = {name: planner.over[name][-1] for name in planner.lots}
    return done


@dataclass
class _Planner:
    lots: dict[str, Lot]
    mixes: Sequence[Mix]
    crew: _Crew
    begins: int
    slots: list[Slot] = field(default_factory=list)
    # For each lot, when each of its parts is over, the wait behind it included.
    over: dict[str, list[int]] = field(default_factory=dict)

    def _ready(self, lot: Lot) -> int:
        own = self.over.setdefault(lot.name, [])
        return max([self.begins, *own[-1:], *(self.over[name][parts - 1] for name, parts in lot.after)])

    def start_if_free(self, lot: Lot) -> None:
        """Take the lot up to its mix if nothing that it waits for is still to be placed."""
        if lot.name not in self.over and all(len(self.over.get(name, ())) >= parts for name, parts in lot.after):
            self.go_on(lot, 0)

    def start(self, name: str) -> None:
        """Take the lot up to its mix, what it waits for first."""
        if name not in self.over:
            for before, _ in self.lots[name].after:
                self.start(before)
            self.go_on(self.lots[name], 0)

    def _take(self, slot: Slot) -> None:
        self.crew.take(slot)
        self.slots.append(slot)

    def go_on(self, lot: Lot, first: int, mixed: tuple[int, int] | None = None) -> None:
        """Place the lot's parts from `first` up to its mix, or to the end. `mixed` is when its mix began and ended."""
        for place in range(first, len(lot.parts)):
            part = lot.parts[place]
            if part.mixes:
                return
            ready = self._ready(lot)
            if part.waits_first:
                ready = max(ready, mixed[1] + part.wait) if part.cures and mixed else ready + part.wait
            end = self._work(lot, place, ready)
            if part.wait and not part.waits_first:
                end = max(end, mixed[1] + part.wait) if part.cures and mixed else end + part.wait
            self.over[lot.name].append(end)

    def _work(self, lot: Lot, place: int, ready: int) -> int:
        """Give out the part's work in stretches; returns when the last one ends."""
        left, at = lot.pieces, ready
        longest = self.crew.hours.closes - self.crew.hours.opens
        while left:
            teams = min(left, self.crew.teams)
            piece = lot.parts[place].hands
            while piece:
                takes = min(piece, longest)
                start = self._first(self.crew.free(at, takes, teams), lot.name)
                self._take(Slot(start, start + takes, teams, lot.name, place))
                at, piece = start + takes, piece - takes
            left -= teams
        return at

    def make(self, number: int) -> None:
        """Place the mix with all that hangs on it, and what comes after."""
        mix = self.mixes[number]
        lots = [self.lots[name] for name in mix.lots]
        ready = max(self._ready(lot) for lot in lots)
        for start in self.crew.free(ready, mix.takes, mix.teams):
            kept, block = len(self.slots), Slot(start, start + mix.takes, mix.teams, mix=number)
            self._take(block)
            ends = [self._at_once(lot, block) for lot in lots]
            if all(end is not None for end in ends):
                break
            for slot in self.slots[kept:]:
                self.crew.take(slot, -1)
            del self.slots[kept:]
        else:
            raise NoPlace(", ".join(mix.lots))
        for lot, end in zip(lots, ends, strict=True):
            self.over[lot.name] += end or []
            self.go_on(lot, len(self.over[lot.name]), (block.start, block.end))

    def _at_once(self, lot: Lot, block: Slot) -> list[int] | None:
        """Place the mix and what belongs to it; returns when each of these parts is over, or None without room."""
        first = next(place for place, part in enumerate(lot.parts) if part.mixes)
        mixing = lot.parts[first]
        over = [block.end + (0 if mixing.waits_first else mixing.wait)]
        waited = bool(mixing.wait)
        for place in range(first + 1, len(lot.parts)):
            part = lot.parts[place]
            if waited and part.by is None:
                break
            if part.waits_first and part.by is None:
                break
            day_ends = block.start // DAY * DAY + self.crew.hours.closes
            latest = day_ends if part.by is None else block.start + part.by
            at = max(over[-1], block.end + part.wait) if part.waits_first else over[-1]
            left = lot.pieces if part.hands else 0
            while left:
                teams = min(left, self.crew.teams)
                start = next(self.crew.free(at, part.hands, teams, latest), None)
                if start is None:
                    return None
                self._take(Slot(start, start + part.hands, teams, lot.name, place))
                at, left = start + part.hands, left - teams
            if part.wait and not part.waits_first:
                at = max(at, block.end + part.wait) if part.cures else at + part.wait
                waited = True
            over.append(at)
        return over

    def _first(self, starts: Iterator[int], name: str) -> int:
        start = next(starts, None)
        if start is None:
            raise NoPlace(name)
        return start
