"""When each part of the work is done: working hours, as many teams as there are, cures that pass day and night.

A lot is some fittings alike that go through the same parts together; those that need epoxy share one mix, or several
where it is filled in layers. Times are whole seconds from midnight before the first day. A part may be broken off at
the end of the day and taken up again, unless the next must follow it without a break; a mix is used in one go, and what
belongs to it (the second look, the moment when it is firm as leather) has its place in working hours as well, or the
mix is made later. Everything is put at the earliest time that is left for it, first what comes first in the list of
lots.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

DAY = 86_400
# A job that finds no place for a part within two years finds none at all.
_LONGEST = 730


class NoPlace(Exception):
    """No working day has room for something in one go; the message says for what."""


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

    `hands` is the time for one fitting, which keeps `teams` teams busy. `pause` passes before it and `wait` after it;
    `cures` counts both from the end of the mix. It begins before `most_pause` from the end of the mix, and ends at
    `by` from its start at the latest. `unbroken` follows the part before without a break. `mixes` marks a part that
    uses a mix.
    """

    hands: int
    wait: int = 0
    pause: int = 0
    most_pause: int | None = None
    cures: bool = False
    by: int | None = None
    mixes: bool = False
    teams: int = 1
    unbroken: bool = False


@dataclass(frozen=True)
class Lot:
    """Some fittings alike. `after` names lots, and how many of their parts (with the waits behind them) must be
    over. `cures` passes from the end of the last mix until the lot may be loaded."""

    name: str
    pieces: int
    parts: Sequence[Part]
    after: Sequence[tuple[str, int]] = ()
    cures: int = 0


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
    done.ready = {name: planner.ready_to_load(lot) for name, lot in planner.lots.items()}
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
    # When the last mix of each lot was used up.
    mixed: dict[str, int] = field(default_factory=dict)

    def ready_to_load(self, lot: Lot) -> int:
        """When its last part is over and the full cure as well."""
        return max([self.over[lot.name][-1], *([self.mixed[lot.name] + lot.cures] if lot.name in self.mixed else [])])

    def _ready(self, lot: Lot) -> int:
        own = self.over.setdefault(lot.name, [])
        return max([self.begins, *own[-1:], *(self.over[name][parts - 1] for name, parts in lot.after)])

    def start_if_free(self, lot: Lot) -> None:
        """Take the lot up to its mix if nothing that it waits for is still to be placed."""
        if lot.name not in self.over and all(len(self.over.get(name, ())) >= parts for name, parts in lot.after):
            self.go_on(lot)

    def start(self, name: str) -> None:
        """Take the lot up to its mix, what it waits for first."""
        if name not in self.over:
            for before, _ in self.lots[name].after:
                self.start(before)
            self.go_on(self.lots[name])

    def _take(self, slot: Slot) -> None:
        self.crew.take(slot)
        self.slots.append(slot)

    def go_on(self, lot: Lot) -> None:
        """Place the lot's next parts up to its next mix, or to the end."""
        over = self.over.setdefault(lot.name, [])
        mixed = self.mixed.get(lot.name)
        while len(over) < len(lot.parts) and not lot.parts[len(over)].mixes:
            part, ready = lot.parts[len(over)], self._ready(lot)
            ready = max(ready, mixed + part.pause) if part.cures and mixed is not None else ready + part.pause
            if len(over) + 1 < len(lot.parts) and lot.parts[len(over) + 1].unbroken:
                over += self._in_one_go(lot, len(over), ready)
                continue
            end = self._work(lot, len(over), ready)
            over.append(_after_wait(part, end, mixed))

    def _rounds(self, lot: Lot, part: Part) -> Iterator[int]:
        """How many teams are busy with the part at once, until all pieces are done."""
        left, most = lot.pieces, self.crew.teams // part.teams
        while left:
            yield min(left, most) * part.teams
            left -= min(left, most)

    def _work(self, lot: Lot, place: int, ready: int) -> int:
        """Give out the part's work in stretches; returns when the last one ends."""
        part, at = lot.parts[place], ready
        longest = self.crew.hours.closes - self.crew.hours.opens
        for teams in self._rounds(lot, part) if part.hands else ():
            left = part.hands
            while left:
                takes = min(left, longest)
                start = self._first(self.crew.free(at, takes, teams), lot.name)
                self._take(Slot(start, start + takes, teams, lot.name, place))
                at, left = start + takes, left - takes
        return at

    def _in_one_go(self, lot: Lot, first: int, ready: int) -> list[int]:
        """Give out parts that follow each other without a break; who does them stays through the waits between.
        Returns when each of them is over for the last piece."""
        last = first
        while last + 1 < len(lot.parts) and lot.parts[last + 1].unbroken:
            last += 1
        parts = lot.parts[first : last + 1]
        lengths = [part.hands + part.wait for part in parts[:-1]] + [parts[-1].hands]
        most = max(parts, key=lambda part: part.teams)
        ends, at = [ready] * len(parts), ready
        for teams in self._rounds(lot, most):
            at = self._first(self.crew.free(at, sum(lengths), teams), lot.name)
            for number, length in enumerate(lengths):
                self._take(Slot(at, at + length, teams, lot.name, first + number))
                at = ends[number] = at + length
        ends[-1] = _after_wait(parts[-1], ends[-1], self.mixed.get(lot.name))
        return ends

    def make(self, number: int) -> None:
        """Place the mix with all that hangs on it, and what comes after."""
        mix = self.mixes[number]
        lots = [self.lots[name] for name in mix.lots]
        ready = max(self._ready(lot) + lot.parts[len(self.over[lot.name])].pause for lot in lots)
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
            self.mixed[lot.name] = block.end
            self.go_on(lot)

    def _at_once(self, lot: Lot, block: Slot) -> list[int] | None:
        """Place the mix and what belongs to it; returns when each of these parts is over, or None without room."""
        first = len(self.over[lot.name])
        over, waited = [block.end + lot.parts[first].wait], bool(lot.parts[first].wait)
        for place in range(first + 1, len(lot.parts)):
            part = lot.parts[place]
            bound = part.by is not None or part.most_pause is not None
            if part.mixes or ((waited or part.pause) and not bound):
                break
            ready = max(over[-1], block.end + part.pause) if part.cures else over[-1] + part.pause
            end = self._belonging(lot, place, ready, block)
            if end is None:
                return None
            over.append(_after_wait(part, end, block.end))
            waited |= bool(part.wait)
        return over

    def _belonging(self, lot: Lot, place: int, at: int, block: Slot) -> int | None:
        """Give out a part that belongs to a mix; returns when it ends, or None without room in its time."""
        part = lot.parts[place]
        rounds = list(self._rounds(lot, part)) if part.hands else []
        latest = block.start // DAY * DAY + self.crew.hours.closes
        if part.by is not None:
            latest = block.start + part.by
        elif part.most_pause is not None:
            latest = min(latest, block.end + part.most_pause + len(rounds) * part.hands)
        for teams in rounds:
            start = next(self.crew.free(at, part.hands, teams, latest), None)
            if start is None:
                return None
            self._take(Slot(start, start + part.hands, teams, lot.name, place))
            at = start + part.hands
        return at

    def _first(self, starts: Iterator[int], name: str) -> int:
        start = next(starts, None)
        if start is None:
            raise NoPlace(name)
        return start


def _after_wait(part: Part, end: int, mixed: int | None) -> int:
    """When a part that ends then is over, with the wait behind it."""
    if part.wait and part.cures and mixed is not None:
        return max(end, mixed + part.wait)
    return end + part.wait
