"""A class: which pair makes what, with a mix of its own, and what each pair does from minute to minute.

Every fitting is one pair's from the first line to the last, and a trial joint is made by a pair that makes what it
stands for. Of what there are as many for every pair, each makes its own. All else is dealt out so that the hands of all
pairs are about equally busy and every pair mixes, and then moved and exchanged between pairs for as long as that ends
the work on an earlier day, takes fewer days, leaves less time with nothing to do, or has the fittings finished sooner;
and for as long as that helps, days are left out or ended where nobody has more to do for a while. A pair's mixes are as
few as can be; what waits for a cure is in none with what does not.

A class day begins for all with the setting up and the demonstration, and ends for each pair with the cleaning up behind
its last work. No break parts any of these: what comes before the work is over when a break begins, and the cleaning up
begins when it is over. Between these a pair that has nothing to do for longer than it should does what the lesson says
for that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import groupby
from math import ceil
from typing import Literal

from ..model.jobsheet import Conditions
from ..model.library import Library
from ..schedule.mixes import BUDGET as MIXES
from ..schedule.mixes import Exchange, Kind, Mixes, fewest_mixes
from ..schedule.timetable import BUDGET, DAY, Hours, Slot, looks_in, looks_taken
from .fittings import Worked
from .plan import JobPlan, Memory, NoWay, Planner, by_content, pair_name

What = Literal["set-up", "demonstration", "work", "break", "meanwhile", "clean-up"]
# How many of the plans that may be tried are kept for leaving out days and hours.
_PAUSES = 15
# How many of each fitting each pair makes, by the fitting's name.
Dealing = dict[str, tuple[int, ...]]


@dataclass(frozen=True)
class Stint:
    """What a pair does for a while; of work, the slot of the clock."""

    start: int
    end: int
    what: What
    slot: Slot | None = None


@dataclass(frozen=True)
class Lesson:
    """What a class day begins and ends with (s), for how long a pair may have nothing to do, and what it does else.
    `pairs` holds the days of each."""

    set_up: int
    demonstration: int
    clean_up: int
    idle: int
    meanwhile: str
    pairs: Sequence[Sequence[Stint]] = ()

    @property
    def ahead(self) -> Sequence[int]:
        """What comes on a day before the work, one after another (s)."""
        return self.set_up, self.demonstration

    def without_a_mix(self, plan: JobPlan) -> list[int]:
        """The pairs that mix nothing, counted from 0."""
        mixing = {share.worked.pair for batch in plan.batches for share in batch.shares}
        return [pair for pair in range(len(self.pairs)) if pair not in mixing]


# What a plan costs, the most important first, and the plan.
_Tried = tuple[tuple[int, ...], JobPlan, Lesson]


def lesson_of(library: Library, conditions: Conditions) -> Lesson:
    """The lesson as the sheet has it, and else as the data say."""
    assert library.shop_sizes
    own, usual = conditions.lesson, library.shop_sizes.lesson
    times = {
        name: ceil(((own and getattr(own, name)) or getattr(usual, name)).value)
        for name in ("set_up", "demonstration", "clean_up", "idle")
    }
    return Lesson(**times, meanwhile=(own and own.meanwhile) or usual.meanwhile)


def plan_class(library: Library, conditions: Conditions, fittings: Sequence[Worked]) -> tuple[JobPlan, Lesson]:
    """The plan for a class. Raises NoWay."""
    return _Class(library, conditions, sorted(fittings, key=by_content)).best()


class _Pairs(Planner):
    """The plan for fittings that are dealt out to pairs."""

    def __init__(self, library: Library, conditions: Conditions, fittings: Mapping[str, Worked], memory: Memory):
        self.lesson = lesson_of(library, conditions)
        super().__init__(library, conditions, fittings, memory)

    def _hours(self) -> tuple[Hours, int]:
        hours, begins = super()._hours()
        if begins > hours.opens:
            begins = _ends(begins, self.lesson.ahead, hours.breaks)
        opens = _ends(hours.opens, self.lesson.ahead, hours.breaks)
        closes = _latest(hours.closes, self.lesson.clean_up, hours.breaks)
        rests = tuple((max(start, opens), end) for start, end in hours.breaks if opens < end and start < closes)
        rests = tuple((start, min(end, closes)) for start, end in rests)
        if opens >= closes - sum(end - start for start, end in rests):
            key = "lesson" if self.conditions.lesson else "hours"
            raise NoWay(key, "the lesson leaves no time to work: give longer hours, or a shorter 'lesson'")
        return replace(hours, opens=opens, closes=closes, breaks=rests), begins

    def _fill_at_once(self) -> int:
        return 1

    def fillers(self, worked: Worked) -> int:
        """A pair fills by itself; who helps it is held by the mix."""
        return 1

    def planned(self, *, budget: int) -> JobPlan:
        """The mixes of each pair, then the clock."""
        kinds = {name: self._kind(worked, layer) for name, (worked, layer) in self.layers.items()}
        groups: dict[tuple[int, int, int], list[Kind]] = {}
        for name, kind in kinds.items():
            level, soonest = _place(kind, kinds)
            key = (level, soonest // DAY, self.layers[name][0].pair or 0)
            groups.setdefault(key, []).append(replace(kind, after=frozenset(), lags={}, soonest=0))
        found = [self._fewest(groups[key], MIXES // len(groups)) for key in sorted(groups)]
        mixes = [mix for one in found for mix in one.mixes]
        plan, _ = self.with_room(mixes, Exchange(kinds, self.limits), budget=budget)
        plan.at_least = sum(one.at_least for one in found)
        return plan

    def _fewest(self, kinds: Sequence[Kind], budget: int) -> Mixes:
        """The fewest mixes of a pair's, the same whichever pair's they are."""
        sheets = {kind.name: self._on_the_sheet(kind) for kind in kinds}
        key = tuple((sheets[kind.name], kind.count) for kind in kinds)
        if key not in self.memory.mixes:
            alike = [replace(kind, name=sheets[kind.name]) for kind in kinds]
            self.memory.mixes[key] = fewest_mixes(alike, self.limits, budget=budget)
        found = self.memory.mixes[key]
        own = {name: kind for kind, name in sheets.items()}
        return replace(found, mixes=[{own[name]: taken for name, taken in mix.items()} for mix in found.mixes])

    def _on_the_sheet(self, kind: Kind) -> str:
        """A layer's name without the pair's."""
        worked, layer = self.layers[kind.name]
        return f"{layer} {worked.sheets_name or worked.name}"


def _place(kind: Kind, kinds: Mapping[str, Kind]) -> tuple[int, int]:
    """How many mixes a kind waits for, one after another, and when it can be mixed at the earliest (s)."""
    found = [(_place(kinds[name], kinds), kind.lags.get(name, 0)) for name in kind.after]
    level = max((level + 1 for (level, _), _ in found), default=0)
    return level, max([kind.soonest, *(soonest + lag for (_, soonest), lag in found)])


@dataclass
class _Class:
    """Ways to deal the fittings out, each tried on the clock."""

    library: Library
    conditions: Conditions
    fittings: Sequence[Worked]
    # For other dealings of the same fittings.
    memory: Memory = field(default_factory=Memory)
    # How many more plans may be tried.
    looks: float = 0

    def best(self) -> tuple[JobPlan, Lesson]:
        """The best of a few dealings."""
        dealing = self._dealt()
        planner = self._planner(dealing)
        planner.check()
        found = self._tried(planner, budget=0)
        self.looks, better = looks_in(BUDGET / 3, self.parts), True
        seen = {_alike(dealing)}
        while better:
            better = False
            for changed in self._changes(dealing):
                if self.looks <= _PAUSES:
                    break
                if _alike(changed) in seen:
                    continue
                seen.add(_alike(changed))
                tried = self._tried(self._planner(changed), budget=0)
                self.looks -= looks_taken(tried[1].clock.placings, self.parts)
                if tried[0] < found[0]:
                    dealing, found, better = changed, tried, True
                    break
        planner = self._planner(dealing)
        if looks_in(BUDGET // 4, self.parts) > 0:  # else it would find the same once more
            found = min(found, self._tried(planner, budget=BUDGET // 4), key=lambda one: one[0])
        _, plan, lesson = self._with_fewer_hours(planner, found)
        plan = planner.numbered(plan)
        return plan, self._with_days(lesson, plan)

    @cached_property
    def parts(self) -> int:
        """About how many parts of work each plan has."""
        return 1 + sum(len(one.card.plan) * one.fitting.pieces for one in self.fittings)

    def _with_fewer_hours(self, planner: _Pairs, found: _Tried) -> _Tried:
        """Days left out, or ended where nobody has anything to do for a while, for as long as that helps."""
        better = True
        while better:
            better, shut = False, planner.shut
            for day, ends in _pauses(found[1], planner.lesson.idle):
                if self.looks <= 0:
                    break
                planner.shut = {**shut, day: ends}
                tried = self._tried(planner, budget=0)
                self.looks -= looks_taken(tried[1].clock.placings, self.parts)
                if tried[0] < found[0]:
                    found, better = tried, True
                    break
                planner.shut = shut
        return found

    def _tried(self, planner: _Pairs, *, budget: int) -> _Tried:
        plan = planner.planned(budget=budget)
        lesson = self._with_days(planner.lesson, plan)
        # What a pair has nothing to do, and what it has less to make than the busiest one; squared, so that it is not
        # all one pair's.
        work, idle = ([_spent(own, what) for own in lesson.pairs] for what in ("work", "meanwhile"))
        spare = sum((max(work) - own + without) ** 2 for own, without in zip(work, idle, strict=True))
        days = {slot.start // DAY for slot in plan.clock.slots}
        rank = len(lesson.without_a_mix(plan)), max(days, default=0), len(days), plan.clock.rank[0], spare
        return (*rank, plan.clock.cost), plan, lesson

    # Who makes what

    def _dealt(self) -> Dealing:
        """The longest work first, each piece to the pair with least to do, and at first to one that mixes nothing."""
        busy, mixing = [0.0] * self.conditions.teams, [0] * self.conditions.teams
        trials = {one.tries[0].name: one for one in self.fittings if one.tries}
        dealing: Dealing = {}
        for one in sorted((one for one in self.fittings if not one.tries), key=lambda one: -_hands(one)):
            counts = [0] * self.conditions.teams
            for piece in range(one.fitting.pieces):
                rank = [(mixing[pair] > 0 and bool(one.mix_line), busy[pair]) for pair in range(len(busy))]
                pair = piece % len(busy) if self._for_each(one) else min(self._pairs, key=rank.__getitem__)
                counts[pair] += 1
                busy[pair] += _hands(one)
                mixing[pair] += bool(one.mix_line)
                if trial := trials.get(one.name):
                    dealing[trial.name] = _alone(pair, trial.fitting.pieces, len(busy))
                    busy[pair] += _hands(trial) * trial.fitting.pieces
                    trials.pop(one.name)
            dealing[one.name] = tuple(counts)
        return dealing

    def _changes(self, dealing: Dealing) -> Iterator[Dealing]:
        """One piece made by another pair, or two exchanged, first from those with the most work to those with the
        least; a trial goes with one that it stands for."""
        busy = [sum(_hands(one) * dealing[one.name][pair] for one in self.fittings) for pair in self._pairs]
        having = [
            (one, pair)
            for one in self.fittings
            if not one.tries and not self._for_each(one)
            for pair in _makers(dealing[one.name])
        ]
        having.sort(key=lambda made: -busy[made[1]])
        for one, here in having:
            for there in sorted(self._pairs, key=busy.__getitem__):
                if there != here:
                    yield self._with_trials(_moved(dealing, one.name, here, there))
        for number, (one, here) in enumerate(having):
            for other, there in having[number + 1 :]:
                if here != there and one is not other:
                    changed = _moved(dealing, one.name, here, there)
                    yield self._with_trials(_moved(changed, other.name, there, here))

    def _for_each(self, one: Worked) -> bool:
        """Whether there are as many of a fitting for every pair, so that each makes its own."""
        return not one.fitting.pieces % self.conditions.teams

    @property
    def _pairs(self) -> range:
        return range(self.conditions.teams)

    def _with_trials(self, dealing: Dealing) -> Dealing:
        for trial in (one for one in self.fittings if one.tries):
            (own,), makers = _makers(dealing[trial.name]), _makers(dealing[trial.tries[0].name])
            if own not in makers:
                dealing[trial.name] = _alone(makers[0], trial.fitting.pieces, self.conditions.teams)
        return dealing

    def _planner(self, dealing: Dealing) -> _Pairs:
        """The fittings parted as they are dealt out; what waits for one waits for all its parts."""
        parts = {one.name: self._parted(one, dealing[one.name]) for one in self.fittings}
        dealt: dict[str, Worked] = {}
        for own in parts.values():
            for one in own:
                one.before = [(part.name, line) for name, line in one.before for part in parts[name]]
                dealt[one.name] = one
        return _Pairs(self.library, self.conditions, dealt, self.memory)

    def _parted(self, one: Worked, counts: Sequence[int]) -> list[Worked]:
        makers = _makers(counts)
        if len(makers) == 1:
            return [replace(one, pair=makers[0])]
        return [
            replace(
                one,
                pair=pair,
                sheets_name=one.name,
                fitting=one.fitting.model_copy(
                    update={"count": counts[pair], "name": f"{one.name}, {pair_name(self.conditions, pair)}"}
                ),
            )
            for pair in makers
        ]

    # What each pair does

    def _with_days(self, lesson: Lesson, plan: JobPlan) -> Lesson:
        """The lesson with the days of each pair, all that it does and what it does else."""
        own: list[list[Slot]] = [[] for _ in range(self.conditions.teams)]
        for slot in plan.clock.slots:
            for pair in plan.pairs_of(slot, len(own)):
                own[pair].append(slot)
        begins = {slot.start // DAY: slot.start for slot in reversed(plan.clock.slots)}
        return replace(lesson, pairs=[[*self._stints(lesson, begins, slots)] for slots in own])

    def _stints(self, lesson: Lesson, begins: Mapping[int, int], slots: Sequence[Slot]) -> Iterator[Stint]:
        """A pair's days one after another. A day begins, for all who come, with what comes before the first work of
        all, and ends for each pair when it has cleaned up behind its last; what is left over between is filled where it
        is too long."""
        for day, on_day in groupby(sorted(slots, key=lambda slot: slot.start), key=lambda slot: slot.start // DAY):
            work = [Stint(slot.start, slot.end, "work", slot) for slot in on_day]
            rests = [(day * DAY + start, day * DAY + end) for start, end in self.conditions.rests]
            shown = _latest(begins[day], lesson.demonstration, rests)
            opens = _latest(shown, lesson.set_up, rests)
            cleans = _ends(work[-1].end, [lesson.clean_up], rests) - lesson.clean_up
            stints = [
                Stint(opens, opens + lesson.set_up, "set-up"),
                Stint(shown, shown + lesson.demonstration, "demonstration"),
                *work,
                Stint(cleans, cleans + lesson.clean_up, "clean-up"),
                *(Stint(start, end, "break") for start, end in rests if opens < start < cleans),
            ]
            stints.sort(key=lambda one: one.start)
            at = opens
            for one in (one for one in stints if one.start < one.end):
                if one.start - at > lesson.idle:
                    yield Stint(at, one.start, "meanwhile")
                yield one
                at = max(at, one.end)


def _ends(begins: int, each: Sequence[int], rests: Sequence[tuple[int, int]]) -> int:
    """When what begins then has been done, one after another, each as soon as no break parts it (s)."""
    at = begins
    for takes in each:
        for start, end in rests:
            if takes and start < at + takes and at < end:
                at = end
        at += takes
    return at


def _latest(until: int, takes: int, rests: Sequence[tuple[int, int]]) -> int:
    """When something begins at the latest, so that it has been done by then and no break parts it (s)."""
    at = until - takes
    for start, end in reversed(rests):
        if takes and start < at + takes and at < end:
            at = start - takes
    return at


def _spent(stints: Sequence[Stint], what: What) -> int:
    """How long a pair spends with this, of all its days (s)."""
    return sum(one.end - one.start for one in stints if one.what == what)


def _pauses(plan: JobPlan, idle: int) -> Iterator[tuple[int, int]]:
    """The days, and when on each of them it could end (s after midnight): before its work, or where nobody has anything
    to do for longer than they should."""
    slots = sorted(plan.clock.slots, key=lambda slot: slot.start)
    for day, on_day in groupby(slots, key=lambda slot: slot.start // DAY):
        yield day, 0
        ends = 0
        for slot in on_day:
            if ends and slot.start > ends + idle:
                yield day, ends - day * DAY
            ends = max(ends, slot.end)


def _makers(counts: Sequence[int]) -> list[int]:
    return [pair for pair, count in enumerate(counts) if count]


def _alike(dealing: Dealing) -> Sequence[tuple[int, ...]]:
    """The same for two dealings that differ only in which pair is called which."""
    return tuple(sorted(zip(*dealing.values(), strict=True)))


def _alone(pair: int, pieces: int, pairs: int) -> tuple[int, ...]:
    return tuple(pieces if one == pair else 0 for one in range(pairs))


def _moved(dealing: Dealing, name: str, here: int, there: int) -> Dealing:
    counts = [*dealing[name]]
    counts[here] -= 1
    counts[there] += 1
    return {**dealing, name: tuple(counts)}


def _hands(worked: Worked) -> float:
    """How long one of them keeps hands busy (s)."""
    return sum(line.active.value * worked.alike for line in worked.card.plan if line.active)
