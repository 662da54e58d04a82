"""When each part of the work is done: working hours, as many teams as there are, cures that pass day and night.

A lot is some fittings alike that go through the same parts together; those that need epoxy share one mix, or several
where it is filled in layers. Times are whole seconds from midnight before the first day. A part that may stop is broken
off for a break or the night where it is over sooner so, and goes on as soon as hands work again; every other part is
done in one go, and so is a mix. With it go the parts that may not lie long before it (what is degreased and abraded
must be bonded soon), and the parts that belong to it afterwards (the second look, the moment when it is firm as
leather): all of these find their places together, or the mix is made later.

A layer goes on while the one below is tacky, or that is washed and sanded first. As little is washed as can be: what is
to be small is first how much is, and then when all is done. So the first layer, or one on a layer that is washed, waits
for a start from which the hours let as many follow on it as leave no washing more than there must be.

The search. The work is cut into units: the parts of a lot up to its next mix, and each mix with all that goes with it.
An order of the units is a plan: one after another, each at the earliest time that is left for it. A few orders are
tried that each begin with what has most before it, or with what the first mix waits for, with mixes made by all the
teams that they take or by the fewest, as soon as they can be or only when other work has had its place; then one of
these is changed for a single mix, single units are moved ahead of others, or what belongs to a mix is put off until
other work has had its place, for as long as that has the work, or single fittings, finished sooner. Then all is tried
again with units that end at every wait, so that other work may go between; with what comes after a wait and right
before a mix done near that, so that what is made ready for the mix may go before it; and with each piece a lot of its
own, which counts where it saves enough. What was put off is done when hands are done with other work after which it is
due, and in the end brought as near to its mix again as is left, and no mix waits longer than it must. No order is
refused by another's work, for days without work are always to come: a unit finds no place only where an empty day has
no room for it, and `room` tells that beforehand.
"""

from __future__ import annotations

import heapq
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property
from hashlib import sha256
from itertools import chain, pairwise, product, takewhile
from typing import NamedTuple

DAY = 86_400
_WEEK = 7
# A job that finds no place for a part within two years finds none at all (weeks).
_LONGEST = 105
# How often a part may be put into the calendar while orders are compared. Over within about a second.
BUDGET = 24_000
# How often each part is put into the calendar at most in a look that counts for one.
_DEAR = 1.5
# More teams and tools than any work takes at once.
_MANY = 10_000
# For how long the first of some layers waits for a time from which the others can follow (s).
_PATIENCE = 8 * DAY
# What it must save for each fitting that its pieces do not go through their parts together (s).
_WORTH = 3_600
# Later than everything (s).
_ALWAYS = 10**9
# At how many moments a mix that waits for other work is tried, the latest first.
_SHARES = 4
# In how many orders the parts that belong to one mix are tried. Of 52,000 that found room one needed more than 20.
_ORDERS = 60


def looks_in(budget: float, parts: int) -> int:
    """How many calendars of so many parts a budget fills; a full one is slower to look through."""
    return int(budget / (parts * (1 + parts / 120)))


def looks_taken(placings: int, parts: int) -> float:
    """How many looks it counts for to put parts so often into a calendar of so many: what belongs to a mix is tried in
    many orders, and a look in which that takes long counts for several."""
    return max(1.0, placings / (_DEAR * parts))


class NoPlace(Exception):
    """No working day has room for something in one go; `lots` names it, and `mix` is its mix, if it is one."""

    def __init__(self, lots: Sequence[str], mix: int = -1):
        self.lots, self.mix = lots, mix
        super().__init__(", ".join(lots))


@dataclass(frozen=True)
class Hours:
    """From when to when hands work (s after midnight), and on which days of the week; `first` is the weekday of day
    0. `breaks` are from and to, within these hours, in order. On the days in `shut` work ends at that time instead, and
    on those in `off` there is none. What is broken off is so in pieces no shorter than `shortest`. `week` has the hours
    of each day of the week where they differ, within these."""

    opens: int
    closes: int
    first: int = 0
    days: frozenset[int] = frozenset(range(7))
    breaks: tuple[tuple[int, int], ...] = ()
    shut: Mapping[int, int] = field(default_factory=dict)
    off: frozenset[int] = frozenset()
    shortest: int = 900
    week: Mapping[int, tuple[int, int]] = field(default_factory=dict)

    @cached_property
    def spans(self) -> list[list[tuple[int, int]]]:
        """The stretches of each day of the week that no break parts."""
        return [self._spans(*self.week.get(weekday, (self.opens, self.closes))) for weekday in range(_WEEK)]

    def _spans(self, opens: int, closes: int) -> list[tuple[int, int]]:
        edges = [opens, *(min(max(edge, opens), closes) for one in self.breaks for edge in one), closes]
        return [(start, end) for start, end in zip(edges[::2], edges[1::2], strict=True) if start < end]

    @cached_property
    def longest(self) -> int:
        """The longest stretch without a break."""
        return max(end - start for weekday in self.days for start, end in self.spans[weekday])

    def closing(self, moment: int) -> int:
        """When the day of a moment closes."""
        day = moment // DAY
        return day * DAY + self.week.get((self.first + day) % _WEEK, (self.opens, self.closes))[1]

    def windows(self, ready: int, until: int | None = None) -> Iterator[tuple[int, int]]:
        """What is left of each stretch of each working day from `ready` on; of those that begin before `until`."""
        first = ready // DAY // _WEEK
        for week in range(first, first + _LONGEST):
            for opens, closes in self._weeks.get(week) or self._of_week(week):
                if until is not None and opens >= until:
                    return
                if ready < closes:
                    yield ready if ready > opens else opens, closes

    @cached_property
    def _weeks(self) -> dict[int, list[tuple[int, int]]]:
        """What `_of_week` found before, for it is asked very often."""
        return {}

    def _of_week(self, week: int) -> list[tuple[int, int]]:
        """The stretches of the working days of seven days, counted from day 0."""
        days = (
            day
            for day in range(week * _WEEK, (week + 1) * _WEEK)
            if (self.first + day) % 7 in self.days and day not in self.off
        )
        found = [
            (day * DAY + opens, day * DAY + min(closes, self.shut.get(day, closes)))
            for day in days
            for opens, closes in self.spans[(self.first + day) % _WEEK]
        ]
        self._weeks[week] = [(opens, closes) for opens, closes in found if opens < closes]
        return self._weeks[week]

    def pieces(self, start: int, takes: int, stops: int = 1) -> list[tuple[int, int]]:
        """The stretches of work that begins then, takes so long, is broken off only after some of its `stops`, and goes
        on as soon as hands work again."""
        found = list[tuple[int, int]]()
        for opens, closes in self.windows(start):
            if piece := min(takes, (closes - opens) // stops * stops):
                found.append((opens, opens + piece))
                takes -= piece
            if not takes:
                break
        return found

    def later(self, start: int, by: int) -> int:
        """When so much has been done of work that begins then, may be broken off at any time, and goes on as soon as
        hands work again."""
        *_, (last, end) = self.pieces(start, by + 1)
        return max(last, end - 1)


@dataclass(frozen=True)
class Hold:
    """So many of a counted thing, or the `people` of one pair, held by a part from `start` to `end` after its
    beginning (s), and for `after` longer where it is then left in use, day and night."""

    thing: str
    start: int
    end: int
    number: int = 1
    after: int = 0
    people: bool = False

    def within(self, takes: int) -> tuple[int, int]:
        """From when to when it is held by so much of the part (s)."""
        if self.end > takes:
            return min(self.start, takes), takes
        return self.start, self.end + self.after


@dataclass(frozen=True)
class Part:
    """One part of the work on a lot.

    `hands` is the time for one fitting, which keeps `teams` teams busy. `pause` passes before it and `wait` after it;
    `cures` counts both from the end of the mix. It begins before `most_pause` from the end of the mix, and ends at
    `by` from its start at the latest; no sooner than `since` from its start, and then as soon as hands work, on one
    piece after another of all that share the mix. For a break or the night it may be broken off after any number
    of its `stops` (s), but for 0. `unbroken` follows the part before without a break. `mixes` marks a part that uses a
    mix. What a part with `fresh` has made ready must be in its mix before that time has passed. `holds` are the counted
    things that it takes. `heat` is kept away from what a part gives off, from its start until `fumes` after its end.
    """

    hands: int
    wait: int = 0
    pause: int = 0
    most_pause: int | None = None
    cures: bool = False
    by: int | None = None
    since: int | None = None
    mixes: bool = False
    teams: int = 1
    stops: int = 0
    unbroken: bool = False
    fresh: int | None = None
    holds: tuple[Hold, ...] = ()
    heat: bool = False
    fumes: int | None = None

    @property
    def bound(self) -> bool:
        """Whether it has its time after the mix."""
        return self.by is not None or self.most_pause is not None

    def taken_up(self, done: int) -> Part:
        """The part as it is when it is taken up again after so much of it (s): with what it still holds."""
        if not done or not self.holds:
            return self
        if done not in self._taken_up:
            left = [
                replace(one, start=max(0, one.start - done), end=one.end - done) for one in self.holds if one.end > done
            ]
            self._taken_up[done] = replace(self, holds=tuple(left))
        return self._taken_up[done]

    @cached_property
    def _taken_up(self) -> dict[int, Part]:
        return {}


class Chain(NamedTuple):
    """Parts of one piece that follow each other without a break, as one; and how long each takes with its wait (s), as
    who does them stays through the waits between."""

    whole: Part
    lengths: Sequence[int]

    @classmethod
    def of(cls, parts: Sequence[Part]) -> Chain:
        """These parts as one."""
        lengths = [part.hands + part.wait for part in parts[:-1]] + [parts[-1].hands]
        begins = [sum(lengths[:number]) for number in range(len(parts))]
        holds = tuple(
            replace(one, start=at + one.start, end=at + one.end)
            for at, part in zip(begins, parts, strict=True)
            for one in part.holds
        )
        teams, heat = max(part.teams for part in parts), any(part.heat for part in parts)
        return cls(Part(sum(lengths), teams=teams, holds=holds, heat=heat), lengths)


@dataclass(frozen=True)
class Lot:
    """Some fittings alike. `after` names lots, and how many of their parts (with the waits behind them) must be
    over. `cures` passes from the end of the last mix until the lot may be loaded. A layer that is mixed later than
    `tacky` after the one before is washed and sanded first, by `wash` for each fitting, whose `pause` is how long the
    one before takes to be hard. Where it is `near`, what comes after a wait and right before a mix, or before
    what is made ready for that, goes with the mix."""

    name: str
    pieces: int
    parts: Sequence[Part]
    after: Sequence[tuple[str, int]] = ()
    cures: int = 0
    tacky: int | None = None
    wash: Part = Part(0)
    near: bool = False

    def in_one_go(self, first: int, last: int) -> Chain:
        """The parts from one to another, that follow each other without a break."""
        if (first, last) not in self._chains:
            self._chains[first, last] = Chain.of(self.parts[first : last + 1])
        return self._chains[first, last]

    @cached_property
    def _chains(self) -> dict[tuple[int, int], Chain]:
        return {}

    @cached_property
    def soon_after(self) -> Mapping[int, Sequence[int]]:
        """From each part that mixes on, how long after each mix hands are done with what must begin soon after it, at
        the soonest (s)."""
        found, later = dict[int, Sequence[int]](), list[int]()
        for place in sorted(self.with_mix, reverse=True):
            done = 0
            for part in takewhile(lambda one: one.most_pause is not None, self.parts[place + 1 :]):
                done = max(done, part.pause) + part.hands
            later = found[place] = [done, *later]
        return found

    @cached_property
    def with_mix(self) -> Mapping[int, tuple[int, int]]:
        """By the place of each part that mixes: the first part that goes with that mix, and the place behind the
        last."""
        return {place: self._with(place) for place, part in enumerate(self.parts) if part.mixes}

    @cached_property
    def next_mix(self) -> Sequence[int]:
        """By how many parts are over, the place of the next one that mixes, up to the last that does."""
        places = list(self.with_mix)
        return [next(place for place in places if place >= done) for done in range(max(places, default=-1) + 1)]

    @cached_property
    def made_ready(self) -> Mapping[int, int]:
        """By the place of the first part that goes with a mix, how long one piece is made ready for it (s)."""
        return {first: sum(part.hands for part in self.parts[first:mix]) for mix, (first, _) in self.with_mix.items()}

    def waits_before(self, place: int) -> bool:
        """Whether something passes before a part in which hands may do other work."""
        return bool(self.parts[place - 1].wait or self.parts[place].pause) and not self.parts[place].unbroken

    def _follows_freely(self, place: int) -> bool:
        """Whether a part follows the one before, which has no time of its own, as soon as hands are free."""
        before, part = self.parts[place - 1], self.parts[place]
        return not (before.wait or before.mixes or before.bound or part.pause or part.unbroken)

    def _with(self, mix: int) -> tuple[int, int]:
        first = mix
        while first and self.parts[first - 1].fresh is not None:
            first -= 1
        if self.near and first > 1 and self.waits_before(first - 1) and self._follows_freely(first):
            first -= 1
        end, waited = mix + 1, bool(self.parts[mix].wait)
        while end < len(self.parts):
            part = self.parts[end]
            if part.mixes or ((waited or part.pause) and not part.bound):
                break
            if end + 1 < len(self.parts) and not part.bound and self.parts[end + 1].unbroken:
                break
            waited |= bool(part.wait)
            end += 1
        return first, end


@dataclass(frozen=True)
class Mix:
    """One mix: the lots that share it, how long all its work takes, how many teams that keeps busy, and what it
    holds. `by_fewer` is the same by fewer teams, who take longer."""

    lots: Sequence[str]
    takes: int
    teams: int
    fumes: int | None = None
    holds: tuple[Hold, ...] = ()
    by_fewer: tuple[Mix, ...] = ()

    @property
    def least_work(self) -> int:
        """How long all its work keeps hands busy at the least (s)."""
        return min(one.takes * one.teams for one in (self, *self.by_fewer))

    @cached_property
    def block(self) -> Part:
        """All its work in one go."""
        return Part(self.takes, teams=self.teams, fumes=self.fumes, holds=self.holds)


class Slot(NamedTuple):
    """One stretch of work: the part of a lot (None for a mix, whose lots are worked together), and how many teams.
    Washing and sanding a layer that is tacky no longer is part -1 of its lot. One that `goes_on` takes up again what
    was broken off."""

    start: int
    end: int
    teams: int
    lot: str = ""
    part: int = -1
    mix: int = -1
    goes_on: bool = False


@dataclass
class Timetable:
    """All stretches in order of time, and from when each piece of a lot may be loaded."""

    slots: list[Slot] = field(default_factory=list)
    loads: dict[str, list[int]] = field(default_factory=dict)
    # How many of each counted thing are held at once.
    held: dict[str, int] = field(default_factory=dict)
    # How often a part was put into a calendar to find this.
    placings: int = 0

    @property
    def end(self) -> int:
        """When the last hands are free."""
        return max((slot.end for slot in self.slots), default=0)

    @property
    def ready(self) -> dict[str, int]:
        """From when all of each lot may be loaded."""
        return {name: max(each) for name, each in self.loads.items()}

    @property
    def cost(self) -> int:
        """When the last hands are free, for every fitting, and when each is finished, summed (s)."""
        end = self.end
        return sum(end + one for each in self.loads.values() for one in each)

    @property
    def rank(self) -> tuple[int, int]:
        """What is to be small: how many layers are washed and sanded, then the cost."""
        return _washed(self.slots), self.cost


def _washed(slots: Iterable[Slot]) -> int:
    """How many layers are washed and sanded."""
    return sum(slot.teams for slot in slots if slot.part < 0 and slot.mix < 0)


# The moments of a day at which it changes how many are free, and how many are from each of them but the last on.
_Day = tuple[list[int], list[int]]


@dataclass
class _Diary:
    """How many of some teams, or tools, are free when. For each day on which some were given out, the moments from its
    opening to its close at which that changes, and how many are free from each of them but the last on."""

    number: int
    hours: Hours
    days: dict[int, _Day] = field(default_factory=dict)

    def take(self, start: int, end: int, number: int) -> list[tuple[int, _Day]]:
        """Give out so many for a stretch, or take them back with a number below 0. Returns the days as they were."""
        opens, closes = self.hours.opens, self.hours.closes
        before = []
        for day in range(start // DAY, -(-end // DAY)):
            begins, ends = day * DAY + opens, day * DAY + closes
            first, last = start if start > begins else begins, end if end < ends else ends
            if first >= last:
                continue
            was = self.days.get(day) or ([begins, ends], [self.number])
            before.append((day, was))
            moments, free = self.days[day] = [*was[0]], [*was[1]]
            here = self._at(moments, free, first)
            there = self._at(moments, free, last)
            for place in range(here, there):
                free[place] -= number
            # What changes nothing any longer is no moment.
            if 0 < there < len(free) and free[there] == free[there - 1]:
                del moments[there], free[there]
            if here and free[here] == free[here - 1]:
                del moments[here], free[here]
        return before

    @staticmethod
    def _at(moments: list[int], free: list[int], moment: int) -> int:
        """The place of a moment among those of its day, put there if it is not."""
        place = bisect_left(moments, moment)
        if moments[place] != moment:
            moments.insert(place, moment)
            free.insert(place, free[place - 1])
        return place

    @property
    def given(self) -> Iterator[int]:
        """The days on which some are given out."""
        return (day for day, (_, free) in self.days.items() if min(free) < self.number)

    @property
    def most(self) -> int:
        """How many of them are busy at once."""
        return max((self.number - min(free) for _, free in self.days.values()), default=0)

    def clear(self, at: int, takes: int, number: int) -> int | None:
        """The first moment from `at` on from which so many are free so long, on other days in working hours."""
        if number > self.number:
            return None
        while (met := self._met(at, at + takes, number)) is not None:
            at = met
        return at

    def _met(self, start: int, end: int, number: int) -> int | None:
        """The end of the first span in which too few are free."""
        for day in range(start // DAY, -(-end // DAY)):
            if day not in self.days:
                continue
            moments, free = self.days[day]
            for place in range(max(0, bisect_right(moments, start) - 1), len(free)):
                if moments[place] >= end:
                    break
                if free[place] < number:
                    return moments[place + 1]
        return None

    def free_since(self, closes: int, number: int) -> int:
        """From when so many are free until work ends then."""
        if number > self.number:
            return closes
        moments, free = self.days.get((closes - 1) // DAY) or ([], [])
        place = bisect_left(moments, closes)
        while place and free[place - 1] >= number:
            place -= 1
        return moments[place] if place else 0

    def free(self, ready: int) -> Iterator[int]:
        """Every moment from `ready` on at which something changes, and from which somebody is free."""
        for opens, closes in self.hours.windows(ready):
            moments, free = self.days.get(opens // DAY) or ([opens, closes], [self.number])
            for place in range(bisect_right(moments, opens) - 1, len(free)):
                start = max(moments[place], opens)
                if free[place] and start < closes:
                    yield start

    def soonest(self, ready: int, takes: int, number: int, latest: int | None = None) -> int | None:
        """The first moment from `ready` on from which so many are free so long in working hours, and until `latest` at
        most."""
        if number > self.number:
            return None
        for opens, closes in self.hours.windows(ready):
            if latest is not None and opens + takes > latest:
                return None
            ends = closes if latest is None else min(closes, latest)
            if opens + takes > ends:
                continue
            if (day := self.days.get(opens // DAY)) is None:
                return opens
            moments, free = day
            start = opens
            for place in range(bisect_right(moments, opens) - 1, len(free)):
                if free[place] < number:
                    start = moments[place + 1]
                    if start + takes > ends:
                        break
                elif start + takes <= moments[place + 1]:
                    return start
        return None


@dataclass
class _Apart:
    """Heat, and what it is kept away from: stretches of either, none of which meets one of the other."""

    heat: list[tuple[int, int]] = field(default_factory=list)
    fumes: list[tuple[int, int]] = field(default_factory=list)

    def first(self, others: list[tuple[int, int]], at: int, takes: int) -> int:
        """The first start from `at` on that meets none of the others."""
        met = True
        while met:
            met = False
            for start, end in others:
                if start < at + takes and at < end:
                    at, met = end, True
        return at


class _Way(NamedTuple):
    """How a mix is made: whether what belongs to it is put off, up to when it waits for other work, as far as it may,
    and by which of the fewer teams it is made, if any."""

    late: bool = False
    until: int = 0
    fewer: int = 0

    def of(self, mix: Mix) -> Mix:
        """The mix as it is made so."""
        return mix.by_fewer[self.fewer - 1] if self.fewer else mix


# By all the teams that it takes, with what belongs to it, as soon as it can be.
_AS_EVER = _Way()


@dataclass
class _Work:
    """What is put into the calendar, who and what there is to do it with, and when it begins."""

    lots: Mapping[str, Lot]
    mixes: Sequence[Mix]
    teams: int
    hours: Hours
    things: Mapping[str, int]
    begins: int


@dataclass
class _Planner(_Work):
    """One order of the units, put into the calendar."""

    slots: list[Slot] = field(default_factory=list)
    # For each lot, when each of its parts is over, the wait behind it included, and when the last of them is for each
    # of its pieces.
    over: dict[str, list[int]] = field(default_factory=dict)
    each: dict[str, list[int]] = field(default_factory=dict)
    # When the last mix of each lot was used up.
    mixed: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.crew = _Diary(self.teams, self.hours)
        # Each mix as it is made, by all the teams that it takes or by fewer.
        self.made = [*self.mixes]
        self.held: dict[str, _Diary] = {}
        self.apart = _Apart()
        # Whether the first of some layers may wait for a better time, and how many could follow then at most.
        self.patient = False
        self.runs: dict[tuple[str, int, int, int], tuple[int, ...]] = {}
        # What belongs to the mix that is placed: the pieces of each lot that shares it, and their parts after it.
        self.sharing: Sequence[tuple[int, Sequence[Part]]] = ()
        # What `_last_end` found for these, for it is asked very often.
        self.last_ends: dict[tuple[str, int, int, int], int] = {}
        # Up to when what is made ready first for it finds the same place, from which it is stale too soon.
        self.in_vain = -1
        # Up to when the mix waits, whether what belongs to it is done as late as it may be, and what was: the slots,
        # and from when on each could be.
        self.late, self.until = False, 0
        self.put_off: list[tuple[Slot, int]] = []
        self.hot = any(part.heat for lot in self.lots.values() for part in lot.parts)
        # How to take back what was given out, the latest last: what is called with what.
        self.undo: list[tuple[Callable[..., object], tuple[object, ...]]] = []
        self.over = {name: [] for name in self.lots}
        self.each = {name: [] for name in self.lots}
        # How often a part was put into this calendar.
        self.placings = 0

    def ready_to_load(self, lot: Lot) -> list[int]:
        """When the last part of each piece is over and the full cure as well."""
        cured = self.mixed[lot.name] + lot.cures if lot.name in self.mixed else 0
        return [max(one, cured) for one in self.each[lot.name]]

    @property
    def end(self) -> int:
        """When the last hands are free."""
        return max((slot.end for slot in self.slots), default=0)

    @property
    def cost(self) -> int:
        """That of the timetable which `finished` makes of it."""
        end = self.end
        return sum(end + one for lot in self.lots.values() for one in self.ready_to_load(lot))

    @property
    def rank(self) -> tuple[int, int]:
        """That of the timetable which `finished` makes of it."""
        return _washed(self.slots), self.cost

    def _may_begin(self, lot: Lot) -> int:
        """When the lots that it comes after let a lot begin."""
        return max([self.begins, *(self.over[name][parts - 1] for name, parts in lot.after)])

    def _ready(self, lot: Lot) -> int:
        return max([self._may_begin(lot), *self.over[lot.name][-1:]])

    def _each_ready(self, lot: Lot) -> list[int]:
        """When the next part may begin on each piece."""
        begins = self._may_begin(lot)
        return [max(begins, one) for one in self.each[lot.name] or [begins] * lot.pieces]

    # Places in the calendar

    def _first(self, part: Part, at: int, takes: int, latest: int | None = None) -> int | None:
        """The first start from `at` on at which teams and tools are free and no heat meets fumes."""
        while True:
            start = self.crew.soonest(at, takes, part.teams, latest)
            if start is None:
                return None
            at = start
            for hold in part.holds:
                first, end = hold.within(takes)
                if first >= end:
                    continue
                free = self._thing(hold.thing).clear(at + first, end - first, hold.number)
                if free is None:
                    return None
                at = max(at, free - first)
            if self.hot and part.heat:
                at = self.apart.first(self.apart.fumes, at, takes)
            if self.hot and part.fumes is not None:
                at = self.apart.first(self.apart.heat, at, takes + part.fumes)
            if at == start:
                return start

    def _thing(self, name: str) -> _Diary:
        if name not in self.held:
            self.held[name] = _Diary(self.things.get(name, 1), self.hours)
        return self.held[name]

    def _at_once(self, part: Part) -> int:
        """How many pieces can be in a part at once."""
        held = [
            self.things.get(one.thing, 1) // one.number for one in part.holds if one.end - one.start >= part.hands > 0
        ]
        return max(1, min([self.teams // part.teams, *held]))

    def _take(self, part: Part, slot: Slot) -> None:
        self.placings += 1
        self.slots.append(slot)
        self.undo.append((self.slots.pop, ()))
        self._give(self.crew, slot.start, slot.end, slot.teams)
        for hold in part.holds:
            first, end = hold.within(slot.end - slot.start)
            self._give(self._thing(hold.thing), slot.start + first, slot.start + end, hold.number)
        if self.hot and part.heat:
            self.apart.heat.append((slot.start, slot.end))
            self.undo.append((self.apart.heat.pop, ()))
        if self.hot and part.fumes is not None:
            self.apart.fumes.append((slot.start, slot.end + part.fumes))
            self.undo.append((self.apart.fumes.pop, ()))

    def _give_back(self, part: Part, slot: Slot) -> None:
        """Take back what a slot was given, for good."""
        self.slots.remove(slot)
        self.crew.take(slot.start, slot.end, -slot.teams)
        for hold in part.holds:
            first, end = hold.within(slot.end - slot.start)
            self._thing(hold.thing).take(slot.start + first, slot.start + end, -hold.number)
        if self.hot and part.heat:
            self.apart.heat.remove((slot.start, slot.end))
        if self.hot and part.fumes is not None:
            self.apart.fumes.remove((slot.start, slot.end + part.fumes))

    def _give(self, diary: _Diary, start: int, end: int, number: int) -> None:
        for day in diary.take(start, end, number):
            self.undo.append((diary.days.__setitem__, day))

    def back(self, kept: int) -> None:
        """Take back all that was done since so much could be taken back."""
        while len(self.undo) > kept:
            take_back, given = self.undo.pop()
            take_back(*given)

    def _is_over(self, lot: Lot, over: list[int], each: list[int], mixed: int | None = None) -> None:
        """Put down when the parts of a lot are over, and the last of each piece, and when its last mix was used up."""
        self.undo.append((self.over.__setitem__, (lot.name, self.over[lot.name])))
        self.undo.append((self.each.__setitem__, (lot.name, self.each[lot.name])))
        self.over[lot.name], self.each[lot.name] = over, each
        if mixed is not None:
            before = self.mixed.get(lot.name)
            self.undo.append(
                (self.mixed.pop, (lot.name,)) if before is None else (self.mixed.__setitem__, (lot.name, before))
            )
            self.mixed[lot.name] = mixed

    # The units

    def place(self, unit: _Unit, way: _Way = _AS_EVER) -> None:
        """Place the unit, a mix in this way. Raises NoPlace."""
        if unit.mix >= 0:
            self.made[unit.mix] = way.of(self.mixes[unit.mix])
            self.make(unit.mix, way)
        else:
            self.go_on(self.lots[unit.lot], unit.end)

    def go_on(self, lot: Lot, end: int) -> None:
        """Place the lot's parts up to `end`; none of its pieces waits for the others."""
        over, mixed, begins = [*self.over[lot.name]], self.mixed.get(lot.name), self._may_begin(lot)
        each = [max(begins, one) for one in self.each[lot.name] or [begins] * lot.pieces]
        while len(over) < end:
            place, last = len(over), len(over)
            while last + 1 < end and lot.parts[last + 1].unbroken:
                last += 1
            part = lot.parts[place]
            if part.cures and mixed is not None:
                ready = [max(one, mixed + part.pause) for one in each]
            else:
                ready = [one + part.pause for one in each]
            ends = [
                self._in_one_go(lot, place, last, one) if last > place else [self._work(lot, place, one)]
                for one in ready
            ]
            each = [_after_wait(lot.parts[last], own[-1], mixed) for own in ends]
            over += [*(max(step) for step in list(zip(*ends, strict=True))[:-1]), max(each)]
        self._is_over(lot, over, each)

    def _work(self, lot: Lot, place: int, ready: int) -> int:
        """Give out the part's work on one piece, broken off where it may be and is over sooner so; returns when it
        ends."""
        part, at, done = lot.parts[place], ready, 0
        if not part.hands:
            return ready
        whole = self._first(part, ready, part.hands)
        pieces = self._broken_off(part, ready, whole) if part.stops else []
        if whole is not None and not pieces:
            pieces = [(whole, whole + part.hands)]
        if not pieces:
            raise NoPlace([lot.name])
        for start, at in pieces:
            self._take(part.taken_up(done), Slot(start, at, part.teams, lot.name, place, goes_on=bool(done)))
            done += at - start
        return at

    def _broken_off(self, part: Part, ready: int, whole: int | None) -> list[tuple[int, int]]:
        """The pieces of a part that is broken off, where it is over sooner so than when it begins at `whole`. No piece
        is short, and none waits until days off are over."""
        hours = self.hours
        for opens, closes in hours.windows(ready):
            if whole is not None and whole < closes:  # begun in this stretch or later, whole is over sooner
                break
            least = max(hours.shortest, part.stops)
            start = max(opens, closes - part.hands + least, self._free_since(part, closes))
            if start + least > closes:
                continue
            pieces = hours.pieces(start, part.hands, part.stops)
            if (left := pieces[-1][1] - pieces[-1][0]) < hours.shortest:
                start += hours.shortest - left
                pieces = hours.pieces(start, part.hands, part.stops)
            if start + least > closes:
                continue
            if not hours.off.isdisjoint(range(start // DAY, pieces[-1][1] // DAY)):
                continue
            if len(pieces) > 1 and self._are_free(part, pieces):
                return pieces
        return []

    def _free_since(self, part: Part, closes: int) -> int:
        """From when teams, and what a part holds from beginning to end, are free until work ends then."""
        held = [one for one in part.holds if one.end - one.start >= part.hands]
        free = [self._thing(one.thing).free_since(closes, one.number) for one in held]
        return max([self.crew.free_since(closes, part.teams), *free])

    def _are_free(self, part: Part, pieces: Sequence[tuple[int, int]]) -> bool:
        """Whether teams and tools are free for each piece of a part at its time."""
        done = 0
        for start, end in pieces:
            if self._first(part.taken_up(done), start, end - start, end) != start:
                return False
            done += end - start
        return True

    def _in_one_go(self, lot: Lot, first: int, last: int, ready: int) -> list[int]:
        """Give out parts of one piece that follow each other without a break. Returns when each of them ends."""
        whole, lengths = lot.in_one_go(first, last)
        at = self._first(whole, ready, whole.hands)
        if at is None:
            raise NoPlace([lot.name])
        ends = []
        for place, length in enumerate(lengths, first):
            own = replace(whole, holds=lot.parts[place].holds)
            self._take(own, Slot(at, at + length, whole.teams, lot.name, place))
            at += length
            ends.append(at)
        return ends

    def make(self, number: int, way: _Way = _AS_EVER) -> None:
        """Place a mix with all that goes with it; what is to be late or to wait, where that has no room, does not."""
        mix = self.made[number]
        lots = [self.lots[name] for name in mix.lots]
        ready = {lot.name: min(self._each_ready(lot)) for lot in lots}
        last = max(self._ready(lot) for lot in lots)
        soon = [part.fresh for lot in lots for part in lot.parts if part.fresh is not None]
        earliest = max(min(ready.values()), last - min(soon, default=0))
        self.in_vain = -1
        # From then on each week is as empty as the one before.
        until = max(earliest, self._quiet()) + 2 * _PATIENCE
        for at in takewhile(lambda start: start < until, self._starts(number, earliest)):
            kept, self.patient = len(self.undo), at < earliest + _PATIENCE
            for self.late, self.until in dict.fromkeys(((way.late, way.until), (False, 0))):
                if self._whole(number, lots, ready, at):
                    return
                self.back(kept)
        raise NoPlace(mix.lots, number)

    def _quiet(self) -> int:
        """From when on nothing is given out and no day differs from that of the next week."""
        given = (day for diary in (self.crew, *self.held.values()) for day in diary.given)
        return (1 + max(chain(given, self.hours.shut, self.hours.off), default=0)) * DAY

    def _starts(self, number: int, earliest: int) -> Iterator[int]:
        """Every moment at which something changes for those who make the mix, and those from which what belongs to it
        begins as hands begin to work."""
        who = [self._thing(hold.thing) for hold in self.made[number].holds if hold.people] or [self.crew]
        free = [diary.free(earliest) for diary in who]
        yield from heapq.merge(*free, self._before_opening(number, earliest))

    def _before_opening(self, number: int, earliest: int) -> Iterator[int]:
        ahead = sorted(set(self._ahead(number)), reverse=True)
        if not ahead:
            return
        waiting: list[int] = []
        for opens, _ in self.hours.windows(earliest):
            for length in ahead:
                if opens - length >= earliest:
                    heapq.heappush(waiting, opens - length)
            while waiting and waiting[0] <= opens - ahead[0]:
                yield heapq.heappop(waiting)
        yield from sorted(waiting)

    def _ahead(self, number: int) -> Iterator[int]:
        """How long before something that belongs to the mix its work begins, where that can be on another day or before
        a break."""
        mix = self.made[number]
        for name in mix.lots:
            lot = self.lots[name]
            place = next((place for place in lot.with_mix if place >= len(self.over[name])), None)
            if place is None:
                continue
            first, end = lot.with_mix[place]
            for part in lot.parts[place + 1 : end]:
                if part.by is not None or (part.bound and self.hours.breaks):
                    before = sum(one.hands * lot.pieces for one in lot.parts[first:place])
                    length = mix.takes + part.pause if part.since is None else part.since
                    yield length
                    yield length + before

    def _whole(self, number: int, lots: Sequence[Lot], ready: Mapping[str, int], at: int) -> bool:
        """Place the mix with what is made ready for it from `at` on, and from when the first piece of each lot is ready
        for that; whether all of it has room."""
        mix, over = self.made[number], dict[str, list[int]]()
        begun, stale = at, None
        # Several teams are done with them soonest when what takes longest is begun first.
        by_length = sorted(lots, key=lambda lot: -lot.made_ready[len(self.over[lot.name])])
        if self._too_soon(mix, by_length, ready, at):
            return False
        self.sharing, self.last_ends = [(lot.pieces, self._with_next_mix(lot)) for lot in lots], {}
        for lot in by_length:
            own = [*self.over[lot.name]]
            each = [max(at, ready[lot.name], one) for one in self.each[lot.name] or [at] * lot.pieces]
            while not lot.parts[len(own)].mixes:
                part = lot.parts[len(own)]
                ends = self._pieces(part, lot, len(own), [one + part.pause for one in each])
                if ends is None:
                    return False
                if part.fresh is not None:
                    stale = min([min(ends) + part.fresh, *([] if stale is None else [stale])])
                each = ends
                own.append(max(ends))
            over[lot.name], begun = own, max(begun, *(one + lot.parts[len(own)].pause for one in each))
        begins = self._in_time(mix.block, begun, stale)
        if begins is None:
            return False
        dull = [lot for lot in lots if self._dull(lot, begins)]
        for lot in dull:
            # It is sanded when it is hard, and the next goes on while that is fresh.
            hard = max(at, self.mixed[lot.name] + lot.wash.pause)
            ends = self._pieces(lot.wash, lot, -1, [hard] * lot.pieces)
            if ends is None:
                return False
            if lot.wash.fresh is not None:
                stale = min([min(ends) + lot.wash.fresh, *([] if stale is None else [stale])])
            begun = max(begun, *ends)
        begins = self._in_time(mix.block, begun, stale) if dull else begins
        if begins is None:
            return False
        if self.until > begins and stale is not None:
            begins = self._waits(mix, lots, begins, stale)
        for lot in lots if self.patient else ():
            new = lot in dull or lot.name not in self.mixed
            if new and not self._let_follow(lot, len(over[lot.name]), begins, mix, lot in dull):
                return False
        end = begins + mix.takes
        if not all(self._in_hours(lot, len(over[lot.name]), begins, end) for lot in lots):
            return False
        self._take(mix.block, Slot(begins, end, mix.teams, mix=number))
        for lot in lots:
            over[lot.name].append(end + lot.parts[len(over[lot.name])].wait)
        if not self._belonging([*lots], over, begins, end):
            return False
        for lot in lots:
            self._is_over(lot, over[lot.name], over[lot.name][-1:] * lot.pieces, end)
        return True

    def _too_soon(self, mix: Mix, lots: Sequence[Lot], ready: Mapping[str, int], at: int) -> bool:
        """Whether what is made ready first, from `at` on, is stale before the mix can begin, or before what belongs to
        it falls into working hours. It is seen before anything is placed, which takes longer."""
        lot = lots[0]
        place = len(self.over[lot.name])
        part, at = lot.parts[place], max(at, ready[lot.name]) + lot.parts[place].pause
        if part.mixes or not part.hands or part.fresh is None:
            return False
        if at <= self.in_vain:
            return True
        first = self._first(part, at, part.hands)
        if first is None:
            return True
        stale = first + part.hands + part.fresh
        begins = self._in_time(mix.block, first + lot.made_ready[place], stale)
        if begins is not None and all(self._in_hours_until(lot, begins, stale, mix.takes) for lot in lots):
            return False
        self.in_vain = first
        return True

    def _in_hours_until(self, lot: Lot, start: int, stale: int, takes: int) -> bool:
        """Whether a mix may begin from `start` on, and before it is stale, with what belongs to it in working hours."""
        mix = self._mix_of(lot)
        if mix + 1 >= lot.with_mix[mix][1]:
            return True
        part, soonest = lot.parts[mix + 1], self._soonest(lot, mix, start, start + takes)
        for opens, closes in self.hours.windows(soonest):
            if opens + part.hands <= closes:
                return (opens // DAY * DAY if part.by is None else opens + part.hands - part.by) <= stale
        return False

    @staticmethod
    def _soonest(lot: Lot, mix: int, start: int, end: int) -> int:
        """From when on a mix that begins and ends then may be followed by what comes first of what belongs to it."""
        part = lot.parts[mix + 1]
        return max(end + part.pause + (0 if part.cures else lot.parts[mix].wait), start + (part.since or 0))

    def _in_time(self, block: Part, begun: int, stale: int | None) -> int | None:
        """When a mix can begin, from `begun` on and no later than `stale`."""
        start = self._first(block, begun, block.hands)
        return None if start is None or (stale is not None and start > stale) else start

    def _waits(self, mix: Mix, lots: Sequence[Lot], begins: int, stale: int) -> int:
        """When a mix that could begin then begins if it waits for other work, for as long as what is made ready for it
        is fresh and what must follow soon is done on the same day. None waits on a layer that is tacky."""
        if any(lot.name in self.mixed for lot in lots):
            return begins
        follows = max(lot.soon_after[self._mix_of(lot)][0] for lot in lots)
        latest = min(self.until, stale, self.hours.closing(begins) - mix.takes - follows)
        ahead = (begins + (latest - begins) * share // _SHARES for share in range(_SHARES, 0, -1))
        return next((at for at in ahead if at > begins and self._first(mix.block, at, mix.takes) == at), begins)

    def _in_hours(self, lot: Lot, mix: int, start: int, end: int) -> bool:
        """Whether what belongs to a mix that begins then falls into working hours at all."""
        place = mix + 1
        if place >= lot.with_mix[mix][1]:
            return True
        part, latest = lot.parts[place], self._last_end(lot, place, start, end)
        soonest = self._soonest(lot, mix, start, end)
        for opens, closes in self.hours.windows(soonest):
            if opens + part.hands <= min(closes, latest):
                return True
            if opens > latest:
                return False
        return False

    def _dull(self, lot: Lot, start: int) -> bool:
        """Whether a layer below is tacky no longer when the next goes on."""
        return lot.tacky is not None and lot.name in self.mixed and start > self.mixed[lot.name] + lot.tacky

    def _let_follow(self, lot: Lot, place: int, begins: int, mix: Mix, dull: bool) -> bool:
        """Whether the hours let so many layers follow on one that is mixed then, each while the one before is tacky,
        that no more need be washed than if it were mixed at any other time of a week."""
        left = sum(part.mixes for part in lot.parts[place:])
        if lot.tacky is None or left == 1:
            return True
        # It is asked very often.
        key = (lot.name, place, mix.takes, begins // DAY)
        if key not in self.runs:
            opened = [opens for opens, _ in self.hours.windows(begins // DAY * DAY, begins + _PATIENCE)]
            self.runs[key] = tuple(
                max([1, *(self._run(lot, place, opens + after, mix.takes, left) for opens in opened)])
                for after in (0, lot.wash.hands * lot.pieces)
            )
        best, washed = self.runs[key][dull:][0], self.runs[key][1]
        follow = self._run(lot, place, begins, mix.takes, left)
        return left - follow <= -(-(left - best) // washed) * washed

    def _run(self, lot: Lot, place: int, begins: int, takes: int, left: int) -> int:
        """How many of the layers that are left can go on one after another from then on without washing, by the hours
        alone, with what must be done soon after them."""
        assert lot.tacky is not None
        end, wait = begins + takes, lot.parts[place].wait
        for number, soon in enumerate(lot.soon_after[place][1:left], 1):
            stays = takes + soon
            at = next((opens for opens, closes in self.hours.windows(end + wait) if opens + stays <= closes), None)
            if at is None or at > end + lot.tacky:
                return number
            end = at + takes
        return left

    def _pieces(
        self, part: Part, lot: Lot, place: int, ready: Sequence[int], latest: int | None = None
    ) -> list[int] | None:
        """Give out the part for each piece; returns the ends, or None without room."""
        ends = list[int]()
        for at in ready:
            start = self._first(part, at, part.hands, latest) if part.hands else at
            if start is None:
                return None
            if part.hands:
                self._take(part, Slot(start, start + part.hands, part.teams, lot.name, place))
            if not part.bound:
                self._take_up(start + part.hands)
            ends.append(start + part.hands)
        return ends

    def _take_up(self, now: int) -> None:
        """What was put off and can be done when hands are done with other work is done then, not later."""
        for number, (slot, ready) in enumerate(self.put_off):
            if not ready <= now < slot.start or now // DAY < slot.start // DAY:
                continue
            part = self.lots[slot.lot].parts[slot.part]
            at = self._first(part, ready, part.hands, slot.end)
            if at is not None and at < slot.start:
                moved = slot._replace(start=at, end=at + part.hands)
                self._move(part, slot, moved)
                self.undo.append((self.put_off.__setitem__, (number, (slot, ready))))
                self.put_off[number] = (moved, ready)

    def _move(self, part: Part, slot: Slot, moved: Slot) -> None:
        """Move work that has no heat or fumes, so that it can be taken back."""
        place = self.slots.index(slot)
        self.undo.append((self.slots.__setitem__, (place, slot)))
        self.slots[place] = moved
        for own, number in ((slot, -1), (moved, 1)):
            self._give(self.crew, own.start, own.end, number * own.teams)
            for hold in part.holds:
                first, end = hold.within(own.end - own.start)
                self._give(self._thing(hold.thing), own.start + first, own.start + end, number * hold.number)

    def _belonging(self, lots: list[Lot], over: dict[str, list[int]], start: int, end: int) -> bool:
        """Place what belongs to a mix after it, in whatever order of the lots there is room."""
        turns = all(self._has_its_turn(lot, start, end) for lot in lots)
        return turns and self._in_some_order(lots, over, start, end, iter(range(_ORDERS)))

    def _has_its_turn(self, lot: Lot, start: int, end: int) -> bool:
        """Whether what is done from a time after the start of the mix on has room then; if not, no order of what comes
        before gives it any."""
        mix = self._mix_of(lot)
        for place, part in enumerate(lot.parts[: lot.with_mix[mix][1]]):
            if place > mix and part.since is not None:
                latest = self._last_end(lot, place, start, end)
                if self._first(part, max(end, start + part.since), part.hands, latest) is None:
                    return False
        return True

    def _mix_of(self, lot: Lot) -> int:
        """The place of the next part of a lot that mixes."""
        return lot.next_mix[len(self.over[lot.name])]

    def _behind(self, lot: Lot) -> int:
        """The place behind all that belongs to the next mix of a lot."""
        return lot.with_mix[self._mix_of(lot)][1]

    def _in_some_order(
        self, left: list[Lot], over: dict[str, list[int]], start: int, end: int, tries: Iterator[int]
    ) -> bool:
        """Place the next part of one of the lots that are left, and then the rest."""
        left = [lot for lot in left if len(over[lot.name]) < self._behind(lot)]
        if not left:
            return True
        tried = list[tuple[object, ...]]()
        left.sort(key=lambda lot: self._last_end(lot, len(over[lot.name]), start, end))
        for lot in left:
            own = over[lot.name]
            like = (lot.pieces, own[-1], lot.parts[len(own) :])
            if like in tried:
                continue
            if next(tries, None) is None:
                return False
            tried.append(like)
            kept = len(self.undo)
            if not self._next_after_mix(lot, own, start, end):
                self.back(kept)
                return False  # it has less room the later its turn is
            if self._in_some_order(left, over, start, end, tries):
                return True
            self.back(kept)
            own.pop()
        return False

    def _last_end(self, lot: Lot, place: int, start: int, end: int) -> int:
        """When the next part of a lot that belongs to a mix must have ended; so it has begun in time too."""
        key = (lot.name, place, start, end)
        if key not in self.last_ends:
            self.last_ends[key] = self._new_last_end(lot, place, start, end)
        return self.last_ends[key]

    def _new_last_end(self, lot: Lot, place: int, start: int, end: int) -> int:
        part = lot.parts[place]
        latest = self.hours.closing(start) if part.by is None else start + part.by
        if part.most_pause is not None:
            latest = min(latest, end + part.most_pause + self._rounds(part, self._alike(part, lot)))
        if part.since is not None:
            opened = self.hours.windows(max(end, start + part.since))
            first = next((opens for opens, closes in opened if opens + part.hands <= closes), latest)
            latest = min(latest, first + max(self._rounds(part, lot.pieces), self._rounds_of_all()))
        return latest

    def _rounds_of_all(self) -> int:
        """How long what is done from a time after the start of a mix on takes on all that share it (s)."""
        timed = ((part, pieces) for pieces, parts in self.sharing for part in parts if part.since is not None)
        return sum(self._rounds(part, pieces) for part, pieces in timed)

    # What is made ready

    def bring_nearer(self) -> None:
        """Move what is made ready for a mix as near to it as hands and tools let it be; nothing else moves."""
        ready = [(slot, self._made_ready(slot)) for slot in self.slots]
        for slot, part in sorted(((slot, part) for slot, part in ready if part), key=lambda one: one[0], reverse=True):
            self._give_back(part, slot)
            self._take(part, slot._replace(start=(at := self._nearest(part, slot)), end=at + part.hands))

    def _made_ready(self, slot: Slot) -> Part | None:
        """The part of a slot whose work must soon be in the mix."""
        if slot.mix >= 0:
            return None
        lot = self.lots[slot.lot]
        part = lot.wash if slot.part < 0 else lot.parts[slot.part]
        return part if part.fresh is not None else None

    def _nearest(self, part: Part, slot: Slot) -> int:
        """The latest start of a slot's work before what follows it; its own where there is no later one."""
        until = min(self._followed(slot))
        edges = [other.start for other in self.slots] + [closes for _, closes in self.hours.windows(slot.start, until)]
        latest = {min(edge, until) - part.hands for edge in edges}
        for at in sorted((at for at in latest if at > slot.start), reverse=True):
            if self._first(part, at, part.hands, until) == at:
                return at
        return slot.start

    def _followed(self, slot: Slot) -> Iterator[int]:
        """When what waits for a slot begins: its lot's next part or mix, and what comes after the lot."""
        mixes = {number for number, mix in enumerate(self.mixes) if slot.lot in mix.lots}
        waiting = {
            name for name, lot in self.lots.items() for earlier, parts in lot.after if (earlier, parts - 1) == slot[3:5]
        }
        for other in self.slots:
            own = other.lot == slot.lot and other.part != slot.part
            if other.start >= slot.end and (own or other.mix in mixes or other.lot in waiting):
                yield other.start

    def _rounds(self, part: Part, pieces: int) -> int:
        """How long a part takes on so many pieces, as many at once as can be (s)."""
        return -(-pieces // self._at_once(part)) * part.hands

    def _alike(self, part: Part, lot: Lot) -> int:
        """The pieces of all that share a mix and have this part after it: one goes round them one after another."""
        return max(lot.pieces, sum(pieces for pieces, parts in self.sharing if part in parts))

    def _with_next_mix(self, lot: Lot) -> Sequence[Part]:
        """The parts of a lot that belong to its next mix, after it."""
        place = self._mix_of(lot)
        return lot.parts[place + 1 : self._behind(lot)]

    def _next_after_mix(self, lot: Lot, over: list[int], start: int, end: int) -> bool:
        """Place the next part of a lot that belongs to a mix after it; whether it has room."""
        place, before = len(over), len(self.slots)
        part, latest = lot.parts[place], self._last_end(lot, place, start, end)
        ready = max(over[-1], end + part.pause) if part.cures else over[-1] + part.pause
        ready = max(ready, start + (part.since or 0))
        begins = self._late(part, ready, latest) if self.late and part.bound else ready
        ends = self._pieces(part, lot, place, [begins] * lot.pieces, latest)
        if ends is None:
            return False
        if begins > ready:
            self.put_off += [(slot, ready) for slot in self.slots[before:]]
            self.undo += [(self.put_off.pop, ())] * (len(self.slots) - before)
        over.append(_after_wait(part, max(ends), end))
        return True

    def _late(self, part: Part, ready: int, latest: int) -> int:
        """From when on all that share a mix can have such a part after it one after another, at the latest, on the day
        on which it is ready."""
        closes = next((closes for _, closes in self.hours.windows(ready)), latest)
        pieces = sum(pieces for pieces, parts in self.sharing if any(one.bound for one in parts))
        return max(ready, min(closes, latest) - self._rounds(part, pieces))

    def bring_sooner(self) -> None:
        """Move what was put off to where hands and tools let it be soonest; nothing else moves."""
        for slot, ready in sorted(self.put_off):
            part = self.lots[slot.lot].parts[slot.part]
            self._give_back(part, slot)
            at = self._first(part, ready, part.hands, slot.end)
            assert at is not None  # where it was is free
            self._take(part, slot._replace(start=at, end=at + part.hands))


def _things(parts: Iterable[Part]) -> list[str]:
    """The counted things that parts take, each once."""
    return list(dict.fromkeys(hold.thing for part in parts for hold in part.holds))


def _after_wait(part: Part, end: int, mixed: int | None) -> int:
    """When a part that ends then is over, with the wait behind it."""
    if part.wait and part.cures and mixed is not None:
        return max(end, mixed + part.wait)
    return end + part.wait


# Orders


class _Unit(NamedTuple):
    """The parts of a lot up to `end`, or a mix."""

    lot: str = ""
    end: int = 0
    mix: int = -1


@dataclass(frozen=True)
class Like:
    """When the parts of lots, by name and place, and the mixes are done in a plan that differs little (s): an order to
    begin with; and about how many teams make each mix there. What is not in it goes last."""

    parts: Mapping[tuple[str, int], float]
    mixes: Sequence[float]
    teams: Sequence[float]


class _Tried(NamedTuple):
    """An order that was tried, with the way of each mix, its slots, and its rank."""

    order: list[_Unit]
    ways: tuple[_Way, ...]
    slots: list[Slot]
    rank: tuple[int, int]


@dataclass
class _Orders(_Work):
    """Orders of the units, each tried in the calendar; so many more `looks` may be taken, and so many `placings` were
    done elsewhere for the same. Where they are `fine`, a unit ends at every wait, for other work may go between."""

    looks: float = 0
    placings: int = 0
    fine: bool = False
    like: Like | None = None

    def __post_init__(self) -> None:
        self.of_lot = {name: self._units(lot) for name, lot in self.lots.items()}
        self.units = list(dict.fromkeys(unit for own in self.of_lot.values() for unit, _ in own))
        self.before: dict[_Unit, set[_Unit]] = {unit: set() for unit in self.units}
        for name, own in self.of_lot.items():
            for (one, _), (unit, _) in pairwise(own):
                self.before[unit].add(one)
            for earlier, parts in self.lots[name].after:
                self.before[own[0][0]].add(next(unit for unit, end in self.of_lot[earlier] if end >= parts))
        self.behind: dict[_Unit, list[_Unit]] = {unit: [] for unit in self.units}
        for unit in self.units:
            for one in self.before[unit]:
                self.behind[one].append(unit)
        self.sorted = self._in_order({unit: number for number, unit in enumerate(self.units)})
        self.planner = _Planner(self.lots, self.mixes, self.teams, self.hours, self.things, self.begins)
        # The units that are in its calendar, in which way, and how much could be taken back before each.
        self.placed: list[tuple[_Unit, _Way, int]] = []
        # How often all changes of each unit were tried, of it with what it waits for or parted from that.
        self.turns = Counter[tuple[bool, _Unit]]()
        self.may_be_late = [number for number, mix in enumerate(self.mixes) if any(map(self._looked_after, mix.lots))]
        several = self.mixes if len(self.mixes) > 1 else ()
        self.may_wait = [number for number, mix in enumerate(several) if any(map(self._made_ready, mix.lots))]

    def _units(self, lot: Lot) -> list[tuple[_Unit, int]]:
        """The units of a lot in their order, with the number of parts that are over with each."""
        own = [number for number, mix in enumerate(self.mixes) if lot.name in mix.lots]
        found, at = list[tuple[_Unit, int]](), 0
        for place, part in enumerate(lot.parts):
            if part.mixes:
                first, end = lot.with_mix[place]
                found += self._parted(lot, at, first)
                found.append((_Unit(mix=own.pop(0)), end))
                at = end
        found += self._parted(lot, at, len(lot.parts))
        return found

    def _parted(self, lot: Lot, first: int, end: int) -> Iterator[tuple[_Unit, int]]:
        """The units of the parts from `first` to before `end`, with the number of parts that are over with each."""
        for place in range(first + 1, end + 1):
            if place == end or (self.fine and lot.waits_before(place)):
                yield _Unit(lot.name, place), place

    def _in_order(self, rank: Mapping[_Unit, float]) -> list[_Unit]:
        """The units by their rank, each behind all that it waits for."""
        left = {unit: len(before) for unit, before in self.before.items()}
        number = {unit: place for place, unit in enumerate(self.units)}
        ready = [(rank[unit], number[unit], unit) for unit in self.units if not left[unit]]
        heapq.heapify(ready)
        order: list[_Unit] = []
        while ready:
            unit = heapq.heappop(ready)[-1]
            order.append(unit)
            for one in self.behind[unit]:
                left[one] -= 1
                if not left[one]:
                    heapq.heappush(ready, (rank[one], number[one], one))
        assert len(order) == len(self.units), "lots wait for each other"
        return order

    def _looked_after(self, name: str) -> bool:
        """Whether there is work on a lot that has its time after a mix."""
        return any(part.bound and part.hands for part in self.lots[name].parts)

    def _made_ready(self, name: str) -> bool:
        """Whether a lot is made ready for a mix, and stays so for a while."""
        return any(part.fresh is not None for part in self.lots[name].parts)

    def run(self, order: Sequence[_Unit], ways: Sequence[_Way] = ()) -> _Planner:
        """The units in the calendar, in this order, with the mixes made in these ways. What the order before this one
        begins with stays as it is, as far as this one begins alike. Raises NoPlace."""
        wanted, alike = [(unit, ways[unit.mix] if ways and unit.mix >= 0 else _AS_EVER) for unit in order], 0
        while alike < min(len(order), len(self.placed)) and self.placed[alike][:2] == wanted[alike]:
            alike += 1
        if alike < len(self.placed):
            self.planner.back(self.placed[alike][2])
            del self.placed[alike:]
        for unit, way in wanted[alike:]:
            before = len(self.planner.undo)
            self.planner.place(unit, way)
            self.placed.append((unit, way, before))
        return self.planner

    def free_run(self) -> _Planner:
        """The units where there are teams, tools and rooms enough for everybody."""
        things = dict.fromkeys(self._all_things, _MANY)
        planner = _Planner(self.lots, self.mixes, _MANY, self.hours, things, self.begins)
        planner.hot = False  # whether heat or fumes come first goes by the order
        for unit in self.sorted:
            planner.place(unit)
        return planner

    @cached_property
    def _all_things(self) -> list[str]:
        parts = [part for lot in self.lots.values() for part in (*lot.parts, lot.wash)]
        return _things([*parts, *(mix.block for mix in self.mixes)])

    def _length(self, unit: _Unit) -> int:
        """How long a unit takes with its waits, about (s)."""
        if unit.mix < 0:
            lot = self.lots[unit.lot]
            own = self.of_lot[unit.lot]
            first = max((end for other, end in own if end < unit.end), default=0)
            parts, pieces = lot.parts[first : unit.end], lot.pieces
            return sum(part.pause + part.wait + part.hands * -(-pieces * part.teams // self.teams) for part in parts)
        mix, longest = self.mixes[unit.mix], 0
        for name in mix.lots:
            lot = self.lots[name]
            own_mixes = [other for other, _ in self.of_lot[name] if other.mix >= 0]
            first, end = [*lot.with_mix.values()][own_mixes.index(unit)]
            parts = lot.parts[first:end]
            longest = max(longest, sum((part.since or part.pause) + part.wait + part.hands for part in parts))
        return mix.takes + longest

    def ranks(self) -> Iterator[dict[_Unit, float]]:
        """Orders to begin with: that of a plan that differs little; what has most before it, by time and waits; what
        each mix waits for; what can begin first; what has least to be done before it; and all that can be begun before
        each mix."""
        if self.like:
            yield {unit: self._time_in(self.like, unit) for unit in self.units}
        length = {unit: self._length(unit) for unit in self.units}
        tail: dict[_Unit, int] = {}
        for unit in reversed(self.sorted):
            tail[unit] = length[unit] + max((tail[one] for one in self.behind[unit]), default=0)
        yield {unit: -tail[unit] for unit in self.units}
        needed: dict[_Unit, int] = {}
        for unit in reversed(self.sorted):
            waiting = (needed[one] for one in self.behind[unit])
            needed[unit] = unit.mix if unit.mix >= 0 else min(waiting, default=len(self.mixes))
        yield {unit: needed[unit] * 1e12 - (tail[unit] if unit.mix < 0 else 0) for unit in self.units}
        soon: dict[_Unit, int] = {}
        for unit in self.sorted:
            soon[unit] = max((soon[one] + length[one] for one in self.before[unit]), default=0)
        yield {unit: soon[unit] - tail[unit] / 10 for unit in self.units}
        turn: dict[_Unit, int] = {}
        for unit in self.sorted:
            turn[unit] = max((turn[one] + 1 for one in self.before[unit]), default=0)
        yield {unit: turn[unit] * 1e12 - tail[unit] for unit in self.units}
        phase: dict[_Unit, int] = {}
        for unit in self.sorted:
            phase[unit] = max((phase[one] + (one.mix >= 0) for one in self.before[unit]), default=0)
        yield {unit: phase[unit] * 1e12 + unit.mix * 1e9 - tail[unit] for unit in self.units}

    def _time_in(self, like: Like, unit: _Unit) -> float:
        """When a unit is begun in a plan."""
        if unit.mix >= 0:
            return like.mixes[unit.mix]
        first = max((end for other, end in self.of_lot[unit.lot] if end < unit.end), default=0)
        return min((like.parts.get((unit.lot, place), float(_ALWAYS)) for place in range(first, unit.end)), default=0)

    @cached_property
    def at_least(self) -> int:
        """No plan costs less: none ends sooner than with a team, a tool and a room for everybody, or with no waits and
        no breaks, and none has a lot finished sooner than if there were nobody else."""
        free = self.free_run()
        work = sum((slot.end - slot.start) * slot.teams for slot in free.slots if slot.part >= 0)
        work += sum(mix.least_work for mix in self.mixes)
        left, end = -(-work // self.teams), self.begins
        for start, stop in self.hours.windows(self.begins) if left else ():
            end = min(stop, start + left)
            left -= end - start
            if left <= 0:
                break
        done = self.finished(free)
        return sum(max(end, done.end) + one for each in done.loads.values() for one in each)

    def finished(self, planner: _Planner) -> Timetable:
        """What a planner found, in order of time."""
        loads = {name: planner.ready_to_load(lot) for name, lot in planner.lots.items()}
        held = {thing: diary.most for thing, diary in planner.held.items()}
        return Timetable(_joined(planner.slots), loads, held, self.done)

    def best(self, budget: int) -> Timetable:
        """The best of a few orders, with single units moved for as long as that helps; then with single pieces moved,
        where that saves enough."""
        pieces = sum(lot.pieces for lot in self.lots.values())
        self.looks = looks_in(budget, self.parts)
        orders, found = self._finer(self.improved(self._begun()))
        whole = orders._ended(found)
        if orders.looks <= 0 or pieces == len(self.lots) or whole.rank <= (0, self.at_least + pieces * _WORTH):
            return whole
        with suppress(NoPlace):
            apart = orders._apart(found)
            washed, cost = apart.rank
            if (washed, cost + pieces * _WORTH) < whole.rank:
                return apart
            whole.placings = apart.placings
        return whole

    @cached_property
    def parts(self) -> int:
        """How many parts a calendar has; one at least."""
        return max(1, sum(lot.pieces * len(lot.parts) for lot in self.lots.values()))

    def _finer(self, found: _Tried) -> tuple[_Orders, _Tried]:
        """What was found, or the better that is with the looks that are left, where a unit ends at every wait; then
        where what comes after a wait is done near its mix."""
        orders, near = self, {name: replace(lot, near=True) for name, lot in self.lots.items()}
        for other in (replace(self, fine=True), replace(self, fine=True, lots=near)):
            if self.looks <= 0 or found.rank <= (0, self.at_least):
                break
            other.looks, other.placings = self.looks, self.done
            with suppress(NoPlace):
                tried = other.improved(other._begun())
                orders, found = (other, tried) if tried.rank < found.rank else (orders, found)
            self.looks, self.placings = other.looks, other.done - self.planner.placings
        orders.looks, orders.placings = self.looks, self.done - orders.planner.placings
        return orders, found

    @property
    def done(self) -> int:
        """How often a part was put into a calendar, here or by others for the same."""
        return self.placings + self.planner.placings

    def _begun(self) -> _Tried:
        """The best of a few orders to begin with."""
        found: _Tried | None = None
        orders = [self._in_order(rank) for rank in self.ranks()]
        for ways, order in product(self._ways_to_begin(), orders):
            tried = self._try(order, ways, found)
            found = min(found or tried, tried, key=lambda one: one.rank)
            if self.looks <= 0 or found.rank <= (0, self.at_least):
                break
        assert found
        return found

    def improved(self, found: _Tried) -> _Tried:
        """What is found from one order on, by changes of which each helps, for as long as there are looks."""
        while self.looks > 0 and found.rank > (0, self.at_least):
            changes = takewhile(lambda _: self.looks > 0, self._changes(found.order, found.ways, found.slots))
            tried = (self._try(*change, found) for change in changes)
            better = next((one for one in tried if one.rank < found.rank), None)
            if better is None:
                break
            found = better
        return found

    def _try(self, order: list[_Unit], ways: tuple[_Way, ...], found: _Tried | None = None) -> _Tried:
        """The order tried so; what was found before where fewer teams find no place for a mix. Raises NoPlace where
        nothing was."""
        before = self.planner.placings
        try:
            done = self.run(order, ways)
        except NoPlace:
            if found is None:
                raise
            self.looks -= 1
            return found
        self.looks -= looks_taken(done.placings - before, self.parts)
        return _Tried(order, ways, [*done.slots], done.rank)

    def _ended(self, found: _Tried) -> Timetable:
        """The plan of an order, with what was put off and what is made ready where it is best."""
        done = self.run(found.order, self._no_longer(found))
        done.bring_sooner()
        done.bring_nearer()
        return self.finished(done)

    def _no_longer(self, found: _Tried) -> tuple[_Way, ...]:
        """The ways of the mixes, each of which waits no longer than it must for the plan to be as good."""
        ways = found.ways
        for number in self.may_wait:
            if not ways[number].until:
                continue
            edges = sorted({0, *(slot.end for slot in found.slots), *(slot.start for slot in found.slots)})
            shorter = (_changed(ways, number, ways[number]._replace(until=edge)) for edge in edges)
            ways = next((other for other in shorter if self.run(found.order, other).rank <= found.rank), ways)
        return ways

    def _apart(self, found: _Tried) -> Timetable:
        """The best plan in which each piece is a lot of its own, from the same order on. Raises NoPlace."""
        names = {name: [f"{name}\n{number}" for number in range(lot.pieces)] for name, lot in self.lots.items()}
        lots = {
            own: replace(lot, name=own, pieces=1, after=[(one, n) for other, n in lot.after for one in names[other]])
            for name, lot in self.lots.items()
            for own in names[name]
        }
        mixes = [_with_lots(mix, [own for name in mix.lots for own in names[name]]) for mix in self.mixes]
        pieces = replace(self, lots=lots, mixes=mixes, placings=self.done)
        order = [unit._replace(lot=own) for unit in found.order for own in names.get(unit.lot, [""])]
        done = pieces._ended(pieces.improved(pieces._try(order, found.ways)))
        slots = [slot._replace(lot=slot.lot.partition("\n")[0]) for slot in done.slots]
        loads = {name: [done.loads[one][0] for one in own] for name, own in names.items()}
        return Timetable(_joined(slots), loads, done.held, done.placings)

    def _changes(
        self, order: list[_Unit], ways: tuple[_Way, ...], found: Sequence[Slot]
    ) -> Iterator[tuple[list[_Unit], tuple[_Way, ...]]]:
        """What differs little: a mix made by fewer or by more teams, one unit moved ahead of another, what belongs to
        one mix put off until other work has had its place, or not, or a mix that waits for other work, or not. Of what
        is moved mixes come first, for most hangs on them, and of both the units that end last; but what had its turn
        comes behind what had none, or few looks would see the same again after every small gain. Of fine units then
        what a mix waits for is done ahead, and the mix itself just in time."""
        ends = {unit: self._end(unit, found) for unit in order}
        yield from ((order, other) for other in self._by_others(ways))
        put_off = ((order, other) for other in self._put_off(ways))
        seen = {tuple(order)}
        turns = [(False, unit) for unit in order]
        turns += [(True, unit) for unit in order if self.fine and unit.mix >= 0]
        for turn in sorted(turns, key=lambda turn: (turn[0], self.turns[turn], turn[1].mix < 0, -ends[turn[1]])):
            if turn[1].mix < 0:
                yield from put_off
            for changed in self._moved(order, *turn):
                if tuple(changed) not in seen:
                    seen.add(tuple(changed))
                    yield changed, ways
            self.turns[turn] += 1
        yield from put_off

    def _ways(self) -> tuple[_Way, ...]:
        """How each mix is made at first: by as many teams as in a plan that differs little, else by all that it
        takes."""
        if self.like is None:
            return (_AS_EVER,) * len(self.mixes)
        return tuple(
            _Way(fewer=min(range(len(mix.by_fewer) + 1), key=lambda own: abs(_Way(fewer=own).of(mix).teams - teams)))
            for mix, teams in zip(self.mixes, self.like.teams, strict=True)
        )

    def _put_off(self, ways: tuple[_Way, ...]) -> Iterator[tuple[_Way, ...]]:
        """The ways with what belongs to one mix put off, or not; or with a mix that waits for other work, or not."""
        for number in self.may_be_late:
            yield _changed(ways, number, ways[number]._replace(late=not ways[number].late))
        for number in self.may_wait:
            yield _changed(ways, number, ways[number]._replace(until=0 if ways[number].until else _ALWAYS))

    def _ways_to_begin(self) -> Iterable[tuple[_Way, ...]]:
        """As at first, or by as few teams as can be; as at first with what belongs to each mix put off; and either of
        the first two with every mix that may wait for other work."""
        few, first = tuple(_Way(fewer=len(mix.by_fewer)) for mix in self.mixes), self._ways()
        return dict.fromkeys((first, few, self._late(first), self._waiting(first), self._waiting(few)))

    def _late(self, ways: tuple[_Way, ...]) -> tuple[_Way, ...]:
        return tuple(way._replace(late=number in self.may_be_late) for number, way in enumerate(ways))

    def _waiting(self, ways: tuple[_Way, ...]) -> tuple[_Way, ...]:
        return tuple(way._replace(until=_ALWAYS * (number in self.may_wait)) for number, way in enumerate(ways))

    def _by_others(self, ways: tuple[_Way, ...]) -> Iterator[tuple[_Way, ...]]:
        """The ways with one mix made by fewer or more teams."""
        for number, mix in enumerate(self.mixes):
            for fewer in range(len(mix.by_fewer) + 1):
                if fewer != ways[number].fewer:
                    yield _changed(ways, number, ways[number]._replace(fewer=fewer))

    def _moved(self, order: list[_Unit], parted: bool, unit: _Unit) -> Iterator[list[_Unit]]:
        """The order with a unit, and all that it waits for, moved ahead of another one; or, parted, with that moved so,
        and the unit ahead of a later one or left where it is."""
        at = order.index(unit)
        places = [*_places_before(at)]
        for to in places:
            for own in (place for place in [*places, at] if place > to) if parted else [to]:
                rank: dict[_Unit, float] = {one: float(number) for number, one in enumerate(order)}
                rank[unit] = own - 0.5
                for one in self._all_before(unit):
                    rank[one] = min(rank[one], to - 0.75 + rank[one] / 1e6)
                yield self._in_order(rank)

    def _all_before(self, unit: _Unit) -> set[_Unit]:
        found, waiting = set[_Unit](), [unit]
        while waiting:
            for one in self.before[waiting.pop()]:
                if one not in found:
                    found.add(one)
                    waiting.append(one)
        return found

    @staticmethod
    def _end(unit: _Unit, found: Sequence[Slot]) -> int:
        return max((slot.end for slot in found if slot.mix == unit.mix and slot.lot == unit.lot), default=0)


def _changed(ways: tuple[_Way, ...], number: int, way: _Way) -> tuple[_Way, ...]:
    """The ways with another for one mix."""
    return (*ways[:number], way, *ways[number + 1 :])


def _with_lots(mix: Mix, lots: Sequence[str]) -> Mix:
    """The mix with its lots under other names."""
    return replace(mix, lots=lots, by_fewer=tuple(_with_lots(one, lots) for one in mix.by_fewer))


def _joined(slots: Iterable[Slot]) -> list[Slot]:
    """Stretches of the same work at the same time as one, in order of time."""
    alike = Counter[tuple[int, int, int, str, int, bool]]()
    for slot in slots:
        alike[slot.start, slot.end, slot.mix, slot.lot, slot.part, slot.goes_on] += slot.teams
    return [Slot(key[0], key[1], teams, key[3], key[4], key[2], key[5]) for key, teams in sorted(alike.items())]


def _places_before(place: int) -> Iterable[int]:
    """The places before one, the first and then the half, the quarters and so on of the way: far ones differ most."""
    steps = (place >> halved for halved in range(place.bit_length()))
    return dict.fromkeys(to for step in steps for to in range(0, place, step))


# What was found before, by all that it was found from: who looks for the best mixes comes to the same ones again, and
# the next build while serving to all of them.
_FOUND: dict[bytes, Timetable] = {}
_MOST_FOUND = 1_000


def timetable(
    lots: Sequence[Lot],
    mixes: Sequence[Mix],
    teams: int,
    hours: Hours,
    begins: int = 0,
    *,
    things: Mapping[str, int] | None = None,
    budget: int = BUDGET,
    like: Like | None = None,
) -> Timetable:
    """Place every part, none before `begins`; of each of `things` there are so many, of others one. Raises NoPlace."""
    key = sha256(repr((lots, mixes, teams, hours, begins, things, budget, like)).encode()).digest()
    if key not in _FOUND:
        if len(_FOUND) >= _MOST_FOUND:
            _FOUND.clear()
        _FOUND[key] = _Orders(
            {lot.name: lot for lot in lots}, mixes, teams, hours, things or {}, begins, like=like
        ).best(budget)
    return replace(_FOUND[key])


def no_sooner(lots: Sequence[Lot], mixes: Sequence[Mix], hours: Hours, begins: int = 0) -> int:
    """When the last hands are free by waits, cures and hours alone, with hands and tools enough for all. Where each lot
    has a mix of its own, no plan ends sooner."""
    return _Orders({lot.name: lot for lot in lots}, mixes, _MANY, hours, {}, begins).free_run().end


def room(lots: Sequence[Lot], mix: Mix, teams: int, hours: Hours, things: Mapping[str, int] | None = None) -> bool:
    """Whether a week on which nothing else is done has room for a mix with all that goes with it."""
    planner = _Planner({lot.name: lot for lot in lots}, [mix], teams, hours, things or {}, 0)
    for lot in lots:
        place = next(number for number, part in enumerate(lot.parts) if part.mixes)
        planner.over[lot.name] = [0] * lot.with_mix[place][0]
    longest = max((part.by or part.most_pause or 0 for lot in lots for part in lot.parts), default=0)
    seen = set[tuple[tuple[int, int], ...]]()
    for at in planner._starts(0, 0):
        if at > 8 * DAY:
            return False
        # Where hours are as they were at another start, for as long as it matters, there is as little room.
        ahead = tuple((opens - at, closes - at) for opens, closes in hours.windows(at, at + 2 * DAY + longest))
        if ahead in seen:
            continue
        seen.add(ahead)
        kept = len(planner.undo)
        if planner._whole(0, lots, dict.fromkeys(mix.lots, 0), at):
            return True
        planner.back(kept)
    return False
