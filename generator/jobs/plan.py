"""Mixes and the clock: what each mix holds, and when each part of each fitting is done."""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import groupby
from math import ceil
from statistics import fmean
from typing import cast

from ..formula import FORMULARY
from ..language import later, tr
from ..model.jobsheet import DAYS, Conditions
from ..model.library import Library
from ..model.schema import LOOKS, Bore
from ..schedule.mixes import Exchange, Kind, Limits, Mixes, Task, busiest, deal, fewest_mixes
from ..schedule.timetable import (
    BUDGET,
    DAY,
    Hold,
    Hours,
    Like,
    Lot,
    Mix,
    NoPlace,
    Part,
    Slot,
    Timetable,
    looks_in,
    looks_taken,
    no_sooner,
    room,
    timetable,
)
from ..units import read_quantity
from ..working import work
from .fittings import Drill, Worked, wait_time

# What the names of counted things begin with: a drill, and a pair of a class.
_BIT, _PAIR = "drill ", "pair "
# The thing that every mix is weighed on.
SCALE = "scale"
# Waits that count from the mix: they are times of the cure.
CURES = ("t_c", "t_y1", "t_h", "t_l", "t_f")
# Masses are planned in whole milligrams, a fitting's rounded up.
_MG = 1e6
# For how many of the plans more orders of the work are tried.
_FEW = 8
# One part of so many of all looks goes to a plan that costs less than the best but has more washed.
_LONGER = 4
# How many mixes it is worth that a fitting need not be washed and sanded before its next layer.
_WASHED = 2
# What goes by how many fittings share a mix, on whatever way.
_BY_MIX = FORMULARY.depending_on("N_m")
# What goes by how long a mix lasts and how long one fitting takes.
_BY_TIME = FORMULARY.depending_on("t_u") | FORMULARY.depending_on("t_x")
# What a mix is weighed out and thickened by, and how many syringes it fills.
_AMOUNTS = ("m_n", "m_t", "m_f", "v_f", "n_s")

# What is in each of some mixes.
Content = tuple[tuple[tuple[str, int], ...], ...]


@dataclass(frozen=True)
class Share:
    """Some fittings alike that share their mixes; `name` tells them from the rest of their kind, of which `first` come
    before them. Within a mix `amounts` is what all of them take together of it: symbols of the card's own working for
    so many (SI)."""

    name: str
    worked: Worked
    pieces: int
    amounts: Mapping[str, float] = field(default_factory=dict)
    first: int = 0

    @property
    def own(self) -> range:
        """Which of all that are alike they are, counted from 0."""
        return range(self.first, self.first + self.pieces)

    def some(self, first: int, end: int) -> str:
        """The name of some of them, from `first` to before `end`, counted from 0."""
        every, first, last = self.worked.fitting.pieces, self.first + first + 1, self.first + end
        if last - first + 1 == self.pieces:
            return self.name
        return _numbered(self.worked.name, first, last, every)


@dataclass(frozen=True)
class Cup:
    """What is thickened with one filler to one stiffness, and for which shares: symbols of the card's own working,
    summed (SI). `weighed` says that it is more than they need, so that the filler can be weighed; `too_little` that it
    cannot, for no more goes into the mix."""

    filler: str
    consistency: str
    values: Mapping[str, float]
    shares: Sequence[str]
    weighed: bool = False
    too_little: bool = False

    @property
    def neat(self) -> float:
        """Resin and hardener in it (kg)."""
        return self.values["m_t"] - self.values["m_f"]


@dataclass
class Batch:
    """One mix. `layers` says which layer of each share it is. `values` holds what to weigh out (SI); `cups` counts how
    many cups one after another it is mixed in, `takes` is how long all its work takes (s). `dealt` holds for each team
    that fills how many of each share it fills."""

    shares: list[Share]
    layers: dict[str, int]
    values: dict[str, float]
    thickened: list[Cup]
    syringes: int
    cups: int = 1
    takes: int = 0
    teams: int = 1
    dealt: list[dict[str, int]] = field(default_factory=list)
    start: int = 0

    @property
    def end(self) -> int:
        """When all its work is done."""
        return self.start + self.takes


@dataclass(frozen=True)
class Holes:
    """Holes alike that are bored one after another: of which share, which hole of its card, how many, from when on."""

    at: int
    share: Share
    bore: Bore
    count: int

    @property
    def worked(self) -> Worked:
        """The fitting that they belong to."""
        return self.share.worked

    @property
    def drill(self) -> Drill:
        """What bores them."""
        return self.worked.drill(self.bore)

    @property
    def day(self) -> int:
        """The day on which they are bored, counted from the first."""
        return self.at // DAY


@dataclass
class JobPlan:
    """The batches in order with the least number there could be, the timetable, what is bored in order of time, and
    when the work would end by waits and cures alone (s)."""

    batches: list[Batch]
    at_least: int
    lasts: float
    prepare: float
    shares: dict[str, Share]
    clock: Timetable = field(default_factory=Timetable)
    bored: Sequence[Holes] = ()
    no_sooner: int = 0

    @property
    def mixes(self) -> int:
        """How many mixes in all."""
        return len(self.batches)

    @property
    def cups(self) -> int:
        """In how many cups they are mixed, one after another."""
        return sum(batch.cups for batch in self.batches)

    def shares_of(self, slot: Slot) -> Sequence[Share]:
        """The fittings that a stretch of work is on: of a mix all that share it."""
        return self.batches[slot.mix].shares if slot.mix >= 0 else [self.shares[slot.lot]]

    def takes(self, slot: Slot) -> int:
        """How many people a stretch of work takes for one fitting."""
        lines = [
            (share.worked, share.worked.mixing if slot.mix >= 0 else line_of(share.worked, slot.part) + 1)
            for share in self.shares_of(slot)
            if slot.mix >= 0 or slot.part >= 0
        ]
        return max((worked.people(line) for worked, line in lines), default=1)

    def pairs_of(self, slot: Slot, pairs: int) -> list[int]:
        """The pairs of a class that do a stretch of work, counted from 0; none in a shop."""
        pair = self.shares_of(slot)[0].worked.pair
        return [] if pair is None else [(pair + more) % pairs for more in range(slot.teams)]

    def helped(self, crew: int, stay: float) -> list[tuple[int, int]]:
        """From when to when somebody comes for what takes more than the crew (s); who is needed again before so long
        stays."""
        found: list[tuple[int, int]] = []
        for slot in sorted(self.clock.slots):
            if self.takes(slot) > crew:
                goes_on = bool(found) and slot.start < found[-1][1] + max(1, stay)
                start = found.pop()[0] if goes_on else slot.start
                found.append((start, slot.end))
        return found


class NoWay(Exception):
    """No plan under these conditions: the key of the one that leaves no way, and why; with what is in the `mix` that
    no day has room for, and with all `others` that leave none."""

    def __init__(self, key: str, message: str, mix: Mapping[str, int] | None = None, others: Sequence[NoWay] = ()):
        self.key, self.mix, self.others = key, mix, others
        super().__init__(message)


@dataclass
class Memory:
    """What was worked out before for the same fittings: by their cards' formulas, the parts of their plans, what goes
    with a mix of each kind, once for all that are alike in it, what each asks of a mix, the lots, whether a day has
    room for these, and the mixes."""

    known: dict[object, object] = field(default_factory=dict)
    parts: dict[tuple[str, int | None, int], Part] = field(default_factory=dict)
    brought: list[_Brought] = field(default_factory=list)
    kinds: dict[tuple[str, int | None, int, int], Kind] = field(default_factory=dict)
    lots: dict[tuple[object, ...], Lot] = field(default_factory=dict)
    rooms: dict[tuple[int, tuple[Task, ...]], bool] = field(default_factory=dict)
    mixes: dict[object, Mixes] = field(default_factory=dict)


class Planner:
    """The plan for a shop: the fewest mixes, a fitting that is washed and sanded before its next layer reckoned as two,
    and of these plans the one whose work is done first."""

    def __init__(
        self,
        library: Library,
        conditions: Conditions,
        fittings: Mapping[str, Worked],
        memory: Memory | None = None,
    ):
        assert library.shop_sizes
        self.library, self.conditions, self.sizes = library, conditions, library.shop_sizes
        # In an order that does not hang on the sheet's, so that no order of the fittings by hand has another plan.
        self.fittings = dict(sorted(fittings.items(), key=lambda item: by_content(item[1])))
        own = conditions.prepare
        self.prepare = own.value if own else library.constant("t_x")
        self.cup = library.constant("m_c")
        self.memory = memory or Memory()
        self.cured: dict[str, dict[str, int]] = {}
        # What was found before, for many plans have mixes and shares in common.
        self.shared: dict[tuple[str, int, int], Share] = {}
        self.batched: dict[tuple[tuple[tuple[str, int], ...], int], Batch] = {}
        self.hours, self.begins = self._hours()
        # On which days work ends earlier, and when (s after midnight).
        self.shut: dict[int, int] = {}
        self.mixed = [worked for worked in self.fittings.values() if worked.mix_line]
        self.lasts = min((worked.time("t_w") for worked in self.mixed), default=0.0)
        most, long = round(self.cup * _MG), max(1, int(self.lasts - self.prepare), self._worth_mixing())
        self.limits = Limits(most, long, self._fill_at_once(), self._room)
        self.stock = stock_of(library, conditions)
        # The layers of all fittings by the names that the search for the fewest mixes knows them by.
        self.layers = {
            f"{layer} {worked.name}": (worked, layer) for worked in self.mixed for layer in range(1, worked.layers + 1)
        }

    def _hours(self) -> tuple[Hours, int]:
        """When hands work on the fittings, but for days off, and from when on (s)."""
        opens, closes = self.conditions.widest
        days = frozenset(DAYS.index(day) for day in self.conditions.days)
        first = self.conditions.first_day.weekday()
        shortest = ceil(self.sizes.piece.time.value)
        rests, week = tuple(self.conditions.rests), self.conditions.week
        hours = Hours(opens, closes, first, days, rests, shortest=shortest, week=week)
        return hours, self.conditions.begins

    def _fill_at_once(self) -> int:
        """How many teams fill out of one mix."""
        return self.conditions.teams

    def check(self) -> None:
        """Refuse what has no plan, whatever the order of the work. Raises NoWay."""
        found: dict[str, NoWay] = {}
        for worked in self.fittings.values():
            try:
                self._possible(worked)
            except NoWay as error:
                found.setdefault(str(error), error)
        if found:
            first, *others = found.values()
            raise NoWay(first.key, str(first), others=others)

    def plan(self) -> JobPlan:
        """The mixes, then the clock. Raises NoWay."""
        self.check()
        kinds = {name: self._kind(worked, layer) for name, (worked, layer) in self.layers.items()}
        fewest = fewest_mixes([*kinds.values()], self.limits)
        exchange = Exchange(kinds, self.limits)
        best = self._settled(self._soonest(fewest.mixes, exchange), exchange)
        if (parted := self._washed_less(best, exchange, looks_in(BUDGET, self.parts))) is not best:
            best = min(parted, self._settled(self._soonest(_mixes(parted), exchange), exchange), key=_rank)
        best.at_least = fewest.at_least
        return self.numbered(best)

    def _soonest(self, mixes: list[dict[str, int]], exchange: Exchange) -> JobPlan:
        """Of plans with as few mixes, the one whose work ends first: what differs little is tried, always from the best
        plan that has more to try, so that a way on may lead over a worse one; then more orders of the work for the few
        best, and for the best of these still more. Raises NoWay."""
        looks: float = looks_in(BUDGET, self.parts)
        each = BUDGET // max(1, int(looks))
        best, mixes = self.with_room(mixes, exchange, budget=each)
        tried = {_content(mixes)}
        found = [(_rank(best), 0, mixes)]
        waiting = [(_rank(best), 0, exchange.others(mixes))]
        while waiting and looks > 0:
            *_, others = waiting[0]
            changed = next((one for one in others if _content(one) not in tried), None)
            if changed is None:
                heapq.heappop(waiting)
                continue
            tried.add(_content(changed))
            try:
                plan = self.with_clock(changed, exchange, budget=each)
            except NoWay:
                looks -= 1
                continue
            looks -= looks_taken(plan.clock.placings, self.parts)
            found.append((_rank(plan), len(tried), changed))
            heapq.heappush(waiting, (_rank(plan), len(tried), exchange.others(changed)))
        # Each has a few looks at least.
        many = max(_FEW, min(2 * _FEW, looks_in(BUDGET, self.parts) // _FEW))
        few = self._few(found, many)
        if len(few) > 1 and each < BUDGET // many:
            few.sort(key=lambda one: _rank(self.with_clock(one, exchange, budget=BUDGET // many)))
        return self.with_clock(few[0], exchange)

    def _settled(self, best: JobPlan, exchange: Exchange) -> JobPlan:
        """The plan, or of those that differ little from it a better one, for as long as there is one."""
        looks, better = float(looks_in(BUDGET, self.parts)), True
        while better:
            found, looks = self._better(best, exchange, looks)
            better, best = found is not best, found
        return best

    def _better(self, best: JobPlan, exchange: Exchange, looks: float) -> tuple[JobPlan, float]:
        """The first plan that is better than one and whose mixes differ little from its, tried in its order of work, or
        the same plan; and how many looks are left. What costs less but has more washed is looked at longer."""
        each, own = BUDGET // max(1, looks_in(BUDGET, self.parts)), _mixes(best)
        tried = {_content(own)}
        for mixes in exchange.others(own):
            if _content(mixes) in tried:
                continue
            tried.add(_content(mixes))
            for budget in (each, BUDGET // _LONGER):
                if looks <= 0:
                    return best, looks
                try:
                    plan = self.with_clock(mixes, exchange, budget=budget, like=best)
                except NoWay:
                    looks -= 1
                    break
                looks -= looks_taken(plan.clock.placings, self.parts)
                if _rank(plan) < _rank(best):
                    again = self.with_clock(mixes, exchange, like=plan)
                    looks -= looks_taken(again.clock.placings, self.parts)
                    return min(plan, again, key=_rank), looks
                if plan.clock.cost >= best.clock.cost:
                    break
        return best, looks

    @staticmethod
    def _few(
        found: Iterable[tuple[tuple[int, int], int, list[dict[str, int]]]], many: int
    ) -> list[list[dict[str, int]]]:
        """So many of the best plans that were found, each once in whatever order its mixes are."""
        alike: dict[Content, list[dict[str, int]]] = {}
        for *_, mixes in sorted(found):
            alike.setdefault(tuple(sorted(_content(mixes))), mixes)
        return [*alike.values()][:many]

    @cached_property
    def parts(self) -> int:
        """How many parts of work each plan has."""
        return 1 + sum(len(self.parts_of(worked)) * worked.fitting.pieces for worked in self.fittings.values())

    def _washed_less(self, best: JobPlan, exchange: Exchange, looks: float) -> JobPlan:
        """A plan with mixes of their own for layers that would else be washed and sanded, where that is worth it; the
        same plan where it is not."""
        better = True
        while better:
            better = False
            for mixes in _parted(best):
                tried, looks = self._first_of([mixes], exchange, best.clock.rank[0] - 1, looks)
                found = tried or best
                while tried:
                    found = tried
                    tried, looks = self._first_of(exchange.joined(_mixes(found)), exchange, found.clock.rank[0], looks)
                if better := _effort(found) < _effort(best):
                    best = found
                    break
        return best

    def _first_of(
        self, plans: Iterable[list[dict[str, int]]], exchange: Exchange, washed: int, looks: float
    ) -> tuple[JobPlan | None, float]:
        """The first of these plans, by their mixes, that has no more washed than this; and how many looks are left."""
        for mixes in plans:
            if looks <= 0:
                break
            looks -= 1
            with suppress(NoWay):
                tried = self.with_clock(mixes, exchange, budget=0)
                looks -= looks_taken(tried.clock.placings, self.parts) - 1
                if tried.clock.rank[0] <= washed:
                    return tried, looks
        return None, looks

    def with_room(
        self, mixes: list[dict[str, int]], exchange: Exchange, *, budget: int
    ) -> tuple[JobPlan, list[dict[str, int]]]:
        """The plan with these mixes, and the mixes; one that no day has room for, with all that turns out to go with
        it, is parted. Raises NoWay."""
        while True:
            try:
                return self.with_clock(mixes, exchange, budget=budget), mixes
            except NoWay as error:
                if not error.mix or sum(error.mix.values()) == 1:
                    raise
                alone = [{name: 1} for name, pieces in error.mix.items() for _ in range(pieces)]
                place = mixes.index(dict(error.mix))
                mixes = [*mixes[:place], *alone, *mixes[place + 1 :]]

    def with_clock(
        self,
        mixes: Sequence[Mapping[str, int]],
        exchange: Exchange,
        *,
        budget: int = BUDGET,
        like: JobPlan | None = None,
    ) -> JobPlan:
        """The plan with these mixes, first tried in the order of one that differs little. Raises NoWay."""
        batches = self._in_order(self._batches(mixes), exchange.starts([dict(mix) for mix in mixes]))
        plan = JobPlan(batches, 0, self.lasts, self.prepare, {})
        plain = [worked for worked in self.fittings.values() if not worked.mix_line]
        shares = [share for batch in plan.batches for share in batch.shares]
        shares += [Share(worked.name, worked, worked.fitting.pieces) for worked in plain]
        plan.shares = {share.name: share for share in shares}
        self._clock(plan, budget, like)
        return plan

    # Mixes

    def fill_time(self, worked: Worked) -> int:
        """How long a mix is in use on one fitting, or on one layer of it (s)."""
        mix = worked.card.mix
        assert mix
        assert mix.fill
        own = worked.fitting.fill
        one = read_quantity(own, "s") if own else worked.value(mix.fill)
        return ceil(one * worked.each(mix.each))

    def _worth_mixing(self) -> int:
        """The shortest time of filling that a mix is made for, as on the cards (s)."""
        fills = [self.fill_time(worked) for worked in self.mixed]
        return min([int(self.library.constant("t_pt")), *fills]) if fills else 0

    def fillers(self, worked: Worked) -> int:
        """How many teams fill one of them."""
        return self._teams(worked, worked.mix_line)

    def _teams(self, worked: Worked, line: int | None) -> int:
        """How many teams a line of the plan takes. The helper goes with the last of them."""
        return self.conditions.teams_for(worked.people(line or 1))

    def cups_of(self, worked: Worked, layer: int) -> int:
        """In how many cups one after another a layer of a fitting is mixed: more than one where that is too much for
        one, by the card's own rule and by the mix that goes off first."""
        return max(self._cups(worked, layer), ceil(self.fill_time(worked) / self.limits.lasts))

    def _cups(self, worked: Worked, layer: int) -> int:
        values, number, lower = worked.reckoning.working.values, worked.alike, worked.lower(layer)
        own = {"t_x": self.prepare, "t_u": self.fill_time(worked) / number, "N": float(number), **lower}
        key = (id(worked.reckoning), *own.values())
        if key not in self.memory.known:
            changed = _BY_TIME.union(*(FORMULARY.depending_on(symbol) for symbol in lower))
            given = {symbol: value for symbol, value in values.items() if symbol not in changed}
            self.memory.known[key] = round(work(("n_m",), {**given, **own}).values["n_m"])
        return cast(int, self.memory.known[key])

    def _mg(self, mass: float) -> int:
        return ceil(mass * _MG - 1e-6)

    def _together(self, worked: Worked, layer: int) -> tuple[int, ...]:
        """What one, two and so on take of a mix in one layer (mg), as far as a cup holds them; nothing where it is near
        enough to count each as alone, with a sample of its own."""
        if worked.fitting.pieces == 1 or "n_s" not in worked.reckoning.working.values:
            return ()
        found: list[int] = []
        while len(found) < worked.fitting.pieces and (not found or found[-1] <= self.limits.most):
            found.append(self._mg(self._neat(worked, len(found) + 1, layer)))
        return tuple(found)

    def _neat(self, worked: Worked, pieces: int, layer: int) -> float:
        """Resin and hardener of one mix for so many (kg), in one layer."""
        return self._amounts(worked, pieces, layer, ("m_n",))["m_n"]

    def _kind(self, worked: Worked, layer: int) -> Kind:
        key = (worked.name, worked.pair, worked.fitting.pieces, layer)
        if key not in self.memory.kinds:
            self.memory.kinds[key] = self._new_kind(worked, layer)
        lags = self._after(worked, layer)
        return replace(self.memory.kinds[key], after=frozenset(lags), lags=lags)

    def _new_kind(self, worked: Worked, layer: int) -> Kind:
        """What a layer of a fitting asks of a mix, but for what it waits for."""
        whole = self.cups_of(worked, layer) > 1
        mass = self.limits.most if whole else self._mg(self._neat(worked, 1, layer))
        time = self.limits.lasts if whole else self.fill_time(worked)
        teams = self.limits.teams if whole else self.fillers(worked)
        return Kind(
            _layer(worked, layer),
            worked.fitting.pieces,
            mass,
            time,
            soonest=self._spent(worked, 1, worked.mixing) if layer == 1 else 0,
            together=() if whole else self._together(worked, layer),
            teams=teams,
            brings=self._brings(worked, layer),
        )

    # What goes with a mix

    def _brings(self, worked: Worked, layer: int) -> int:
        """The number of what a piece brings along to the mix of one of its layers, the same for every pair."""
        parts = self.parts_of(worked if worked.pair is None else replace(worked, pair=0))
        place = worked.mixing + layer - 2
        first, end = Lot("", 1, parts).with_mix[place]
        cups = self.cups_of(worked, layer)
        alone = ceil((cups - 1) * self.prepare) + (self.fill_time(worked) - self.limits.lasts if cups > 1 else 0)
        one = _Brought(tuple(parts[first:end]), self._own(worked) + alone, worked.layers > 1, parts[place].holds)
        if one not in self.memory.brought:
            self.memory.brought.append(one)
        return self.memory.brought.index(one)

    def _room(self, tasks: Sequence[Task]) -> bool:
        """Whether an empty day has room for a mix that these share, with all that goes with it."""
        return self._room_for(self.limits, tasks)

    def _room_for(self, limits: Limits, tasks: Sequence[Task]) -> bool:
        """Whether it has room for one that so many teams fill."""
        if (key := (limits.teams, tuple(tasks))) not in self.memory.rooms:
            self.memory.rooms[key] = self._has_room(limits, tasks)
        return self.memory.rooms[key]

    def _has_room(self, limits: Limits, tasks: Sequence[Task]) -> bool:
        works = [(time, teams) for time, teams, _ in tasks]
        teams_of = deal(works, limits)
        if teams_of is None:
            return False
        alike: list[tuple[int, Sequence[Part]]] = []
        for task, pieces in Counter(tasks).items():
            brought = self.memory.brought[int(str(task[2]))]
            # Of a fitting in layers, pieces that share a mix may be parted in the next one.
            alike += [(1, brought.parts)] * pieces if brought.layered else [(pieces, brought.parts)]
        lots = [Lot(f"{number}", *one) for number, one in enumerate(alike)]
        own = max(self.memory.brought[int(str(task[2]))].own for task in tasks)
        takes = ceil(self.prepare) + busiest(works, teams_of) + own
        busy = len({team for teams in teams_of for team in teams})
        held = [hold for task in tasks for hold in self.memory.brought[int(str(task[2]))].holds]
        mix = Mix([lot.name for lot in lots], takes, busy, holds=self._held_by_mix(held, takes, 1))
        return room(lots, mix, self.conditions.teams, self.hours, self.stock)

    def _held_by_mix(self, held: Sequence[Hold], takes: int, cups: int) -> tuple[Hold, ...]:
        """The counted things of all that shares a mix: each as long as the longest needs it, and the scale."""
        last = takes if cups > 1 else min(takes, ceil(self.prepare))
        found = {SCALE: Hold(SCALE, 0, last)}
        for one in held:
            before = found.get(one.thing, Hold(one.thing, 0, takes, 0))
            more, after = before.number + one.number, max(before.after, one.after)
            found[one.thing] = replace(before, end=takes, number=more, after=after)
        return tuple(found.values())

    def _possible(self, worked: Worked) -> None:
        """Refuse what there are not things enough for, and what no day has room for, though nothing else is done."""
        for line in worked.card.plan:
            for one, number in worked.held_at(line):
                if number > (there := self.stock[one.thing]):
                    raise NoWay(
                        "stock", self._too_few(worked, worked.reckoning.reads(line.what), one.thing, number, there)
                    )
        for first, parts in _chains(self.parts_of(worked)):
            longest = sum(part.hands + part.wait for part in parts[:-1]) + parts[-1].hands
            # A mix takes what all that share it do, not the card's time once for each; below it is asked.
            if not (parts[0].stops or parts[0].mixes) and longest > self.hours.longest:
                raise NoWay("hours", self._too_long(worked, first, longest))
        for layer in range(1, worked.layers + 1) if worked.mix_line else ():
            kind = self._kind(worked, layer)
            if not self._room([kind.task]):
                raise NoWay("hours", self._no_room(worked, layer, kind))

    @staticmethod
    def _told(worked: Worked) -> str:
        """A fitting in a sentence, as the sheet has it: whose it would be in a class nobody can see while there is no
        plan, and what all pairs lack is told once."""
        return worked.sheets_name or worked.name

    def _too_few(self, worked: Worked, what: str, thing: str, number: int, there: int) -> str:
        title, are = self.sizes.shared[thing].title, "is" if there == 1 else "are"
        return (
            f"{self._told(worked)} takes {number} of this at once for '{what}': {title}; there {are} {there}. "
            f"If you have more, say so: 'stock: {{{thing}: {number}}}'"
        )

    def _too_long(self, worked: Worked, part: int, longest: int) -> str:
        what = worked.card.plan[line_of(worked, part)].what
        return (
            f"no working day has room for {self._told(worked)}: from '{worked.reckoning.reads(what)}' on it takes "
            f"{_duration(longest)} without a break, and hands work {_duration(self.hours.longest)} at a stretch; "
            "give longer hours"
        )

    def _no_room(self, worked: Worked, layer: int, kind: Kind) -> str:
        """Which limits clash: the hours, or the time within which the epoxy must be worked again."""
        brought = self.memory.brought[int(str(kind.brings))]
        takes = ceil(self.prepare) + kind.time + brought.own
        lot = Lot("", 1, brought.parts)
        always = Hours(0, DAY)
        mix = Mix([""], takes, kind.teams, holds=self._held_by_mix(brought.holds, takes, 1))
        if not room([lot], mix, self.conditions.teams, always, self.stock):
            crew = "one person" if self.conditions.crew == 1 else f"{self.conditions.crew} people"
            return (
                f"what goes with the mix for {self._told(worked)} cannot be done by {crew} in the time "
                "that the epoxy leaves for it: give a larger crew, or another hardener"
            )
        need = _least_day(lot, mix, self.conditions.teams, self.stock)
        mixed = Lot("", 1, self.parts_of(worked)).with_mix
        begun, end = mixed[worked.mixing + layer - 2]
        first, last = (
            worked.reckoning.reads(worked.card.plan[line_of(worked, place)].what) for place in (begun, end - 1)
        )
        sooner = " or, for it waits for the epoxy, a warmer place or a faster hardener" if _waits(brought.parts) else ""
        return (
            f"no working day has room for {self._told(worked)}: from '{first}' to '{last}', which must be done on the "
            f"same day, it takes {_duration(need)}, and hands work {_duration(self.hours.longest)} at a stretch; give "
            f"longer hours{sooner}"
        )

    def _after(self, worked: Worked, layer: int) -> Mapping[str, int]:
        """The layers that are mixed before this one, and how long before (s)."""
        return {_layer(worked, layer - 1): ceil(worked.between)} if layer > 1 else self._cured_before(worked)

    def _cured_before(self, worked: Worked) -> dict[str, int]:
        """The last layers of the fittings whose epoxy has cured before this one is begun, and how long after their mix
        this one can be mixed at the earliest."""
        if worked.name not in self.cured:
            found: dict[str, int] = {}
            own = self._spent(worked, 1, worked.mix_line or 1)
            for name, line in worked.before:
                other = self.fittings[name]
                until = self._spent(other, 1, line + 1)
                lags = {layer: lag + until for layer, lag in self._cured_before(other).items()}
                if other.mix_line and line >= other.mix_line:
                    lags = {_layer(other, other.layers): self._spent(other, other.mix_line, line + 1)}
                found |= {layer: max(found.get(layer, 0), lag + own) for layer, lag in lags.items()}
            self.cured[worked.name] = found
        return self.cured[worked.name]

    def _spent(self, worked: Worked, first: int, end: int) -> int:
        """How long the lines of a plan from `first` to before `end` take without a break, about (s)."""
        parts = [self._part(worked, number) for number in range(first, end)]
        waits = [max(part.since or 0, part.pause + part.wait if part.cures else 0) for part in parts]
        return max([0, *waits]) + sum(part.hands + (0 if part.cures else part.pause + part.wait) for part in parts)

    def _batches(self, mixes: Sequence[Mapping[str, int]]) -> list[Batch]:
        """The mixes with the fittings that share them. Fittings alike whose layers are all in the same mixes stay
        together."""
        contents: list[list[tuple[Share, int]]] = [[] for _ in mixes]
        for worked in self.mixed:
            rows = [
                [number for number, mix in enumerate(mixes) for _ in range(mix.get(_layer(worked, layer), 0))]
                for layer in range(1, worked.layers + 1)
            ]
            first = 0
            for places, alike in groupby(zip(*rows, strict=True)):
                pieces = len(list(alike))
                share = self._share(worked, first, pieces)
                first += pieces
                for layer, number in enumerate(places, 1):
                    contents[number].append((share, layer))
        return [self._batch_of(content) for content in contents]

    def _batch_of(self, content: Sequence[tuple[Share, int]], teams: int | None = None) -> Batch:
        """A mix of its own of these shares, each in so many layers, filled by no more teams than this."""
        most = teams or self.limits.teams
        key = (tuple((share.name, layer) for share, layer in content), most)
        if key not in self.batched:
            self.batched[key] = self._batch(content, most)
        return replace(self.batched[key])

    def _ways(self, batch: Batch) -> list[Batch]:
        """The mix, and the same filled by fewer teams, who take longer and leave hands for other work, down to as few
        as have it used up in time and find room on an empty day. None that is not done sooner than by fewer."""
        ways, content = [batch], [(share, batch.layers[share.name]) for share in batch.shares]
        tasks = [self._kind(share.worked, layer).task for share, layer in content for _ in range(share.pieces)]
        for teams in range(len(batch.dealt) - 1, 0, -1):
            if not self._room_for(replace(self.limits, teams=teams), tasks):
                break
            if (fewer := self._batch_of(content, teams)).teams < ways[-1].teams:
                ways = [one for one in ways if one.takes < fewer.takes] + [fewer]
        return ways

    def _in_order(self, batches: list[Batch], starts: Sequence[int]) -> list[Batch]:
        """The mixes day by day, as early as the waits let them be, and on a day first the one with the longest work
        that must follow on the same day. None goes before a mix that it waits for."""
        left = {
            number: (start // DAY, -max(self._follows(share.worked) for share in batch.shares), number)
            for number, (batch, start) in enumerate(zip(batches, starts, strict=True))
        }
        holds = [{_layer(share.worked, batch.layers[share.name]) for share in batch.shares} for batch in batches]
        needs = [set[str]().union(*(self._after(*self.layers[layer]) for layer in layers)) for layers in holds]
        order: list[int] = []
        while left:
            to_come = set[str]().union(*(holds[number] for number in left))
            order.append(min((number for number in left if not needs[number] & to_come), key=left.__getitem__))
            del left[order[-1]]
        return [batches[number] for number in order]

    def _follows(self, worked: Worked) -> int:
        """How long after the mix work must still be done at the latest, on the same day (s)."""
        parts = [self._part(worked, number) for number in range(1, len(worked.card.plan) + 1)]
        return max(part.by or part.most_pause or 0 for part in parts)

    def _share(self, worked: Worked, first: int, pieces: int) -> Share:
        key = (worked.name, first, pieces)
        if key not in self.shared:
            self.shared[key] = self._new_share(worked, first, pieces)
        return self.shared[key]

    def _new_share(self, worked: Worked, first: int, pieces: int) -> Share:
        name, every = worked.name, worked.fitting.pieces
        if pieces < every:
            name = _numbered(name, first + 1, first + pieces, every)
        return Share(name, worked, pieces, first=first)

    def _amounts(
        self, worked: Worked, pieces: int, layer: int, wanted: Sequence[str] = _AMOUNTS, least: int = 0
    ) -> Mapping[str, float]:
        """What so many fittings alike take of one mix, in one layer, by their card's own formulas, out of no fewer
        syringes than `least`: of a mix in several cups, something is set aside and kept back by syringes out of each.
        """
        values, lower = worked.reckoning.working.values, worked.lower(layer)
        own = tuple(symbol for symbol in wanted if symbol in values)
        number, cups = pieces * worked.alike, self.cups_of(worked, layer)
        key = (id(worked.reckoning), number, cups, own, *lower)
        if key not in self.memory.known:
            given = {symbol: value for symbol, value in values.items() if symbol not in _BY_MIX}
            self.memory.known[key] = work(own, {**given, "N_m": number / cups, **lower}).values
        found = cast(Mapping[str, float], self.memory.known[key])
        if 0 < found.get("n_s", 0) < min(least, pieces):
            given = {symbol: value for symbol, value in values.items() if symbol not in _BY_MIX}
            found = work(own, {**given, "N_m": number / cups, "n_s": float(min(least, pieces)), **lower}).values
        return {symbol: cups * found[symbol] for symbol in own}

    def _batch(self, content: Sequence[tuple[Share, int]], teams: int) -> Batch:
        batch = self._weighed(content, {}, teams)
        # A team fills out of a syringe of its own, which keeps back what stays in its nose and tube.
        own = {share.name: sum(share.name in team for team in batch.dealt) for share, _ in content}
        if len(batch.dealt) > 1 and any(
            1 < least <= share.pieces for share, _ in content for least in [own[share.name]]
        ):
            fuller = self._weighed(content, own, teams)
            batch = (
                fuller if fuller.values["m_b"] <= self.cup * fuller.cups else replace(batch, syringes=fuller.syringes)
            )
        return batch

    def _weighed(self, content: Sequence[tuple[Share, int]], syringes: Mapping[str, int], teams: int) -> Batch:
        """The mix weighed out and timed, with so many `syringes` for a share at the least, and teams at the most."""
        shares = [
            replace(share, amounts=self._amounts(share.worked, share.pieces, layer, least=syringes.get(share.name, 0)))
            for share, layer in content
        ]
        cups = max(self.cups_of(share.worked, layer) for share, layer in content)
        thickened, amounts = weighed_out(self.library, shares, cups)
        filled = sum(ceil(share.amounts.get("n_s", 0.0) - 1e-9) for share in shares)
        layers = {share.name: layer for share, layer in content}
        batch = Batch(shares, layers, amounts, thickened, filled, cups)
        self._time(batch, teams)
        return batch

    def _works(self, shares: Sequence[Share]) -> list[tuple[int, int]]:
        """For how long each of these pieces keeps how many teams busy until it is filled (s)."""
        return [
            (self.fill_time(share.worked), self.fillers(share.worked)) for share in shares for _ in range(share.pieces)
        ]

    def _time(self, batch: Batch, most: int) -> None:
        """How long a mix with all its work takes: its making, the busiest team of so many at the most, and what the
        card adds to both."""
        pieces = [share for share in batch.shares for _ in range(share.pieces)]
        works = self._works(batch.shares)
        own = max(self._own(share.worked) for share in batch.shares)
        if batch.cups > 1:
            batch.teams, busy = works[0][1], sum(time for time, _ in works)
            batch.dealt = [{share.name: share.pieces for share in batch.shares}]
        else:
            teams_of = deal(works, replace(self.limits, teams=most))
            assert teams_of is not None
            dealt = [dict[str, int]() for _ in range(self.limits.teams)]
            for teams, share in zip(teams_of, pieces, strict=True):
                for team in teams:
                    dealt[team][share.name] = dealt[team].get(share.name, 0) + 1
            batch.dealt = [team for team in dealt if team]
            batch.teams, busy = len(batch.dealt), busiest(works, teams_of)
        batch.teams = max(batch.teams, *(self._teams(share.worked, share.worked.mix_line) for share in batch.shares))
        batch.takes = ceil(batch.cups * self.prepare) + busy + own

    def _own(self, worked: Worked) -> int:
        """How long the card's line that mixes takes beyond what the mix itself does (s)."""
        line = worked.card.plan[worked.mixing - 1]
        hands = line.active.value if line.active else 0.0
        return max(0, ceil(hands - self.prepare - self.fill_time(worked)))

    # The clock

    def _like(self, plan: JobPlan, other: JobPlan) -> Like:
        """When the work of a plan is done in another one, and by how many teams each mix."""
        parts, mixes = dict[tuple[str, int, int], int](), dict[tuple[str, int, int], tuple[int, int]]()
        for slot in other.clock.slots:
            for share in other.shares_of(slot) if slot.mix < 0 and slot.part >= 0 else ():
                for piece in share.own:
                    parts.setdefault((share.worked.name, piece, slot.part), slot.start)
        for batch in other.batches:
            for share in batch.shares:
                for piece in share.own:
                    mixes[share.worked.name, piece, batch.layers[share.name]] = (batch.start, batch.teams)
        found = {
            (share.name, place): fmean(known)
            for share in plan.shares.values()
            for place in range(len(self.parts_of(share.worked)))
            if (known := [parts[key] for piece in share.own if (key := (share.worked.name, piece, place)) in parts])
        }
        made = [
            [mixes[share.worked.name, piece, batch.layers[share.name]] for share in batch.shares for piece in share.own]
            for batch in plan.batches
        ]
        times, teams = ([fmean(one[place] for one in own) for own in made] for place in (0, 1))
        return Like(found, times, teams)

    def _clock(self, plan: JobPlan, budget: int, like: JobPlan | None) -> None:
        conditions = self.conditions
        lots = [self._lot(plan, share) for share in plan.shares.values()]
        ways = [self._ways(batch) for batch in plan.batches]
        mixes = [replace(self._mix_of(batch), by_fewer=tuple(map(self._mix_of, fewer))) for batch, *fewer in ways]
        try:
            plan.clock = timetable(
                lots,
                mixes,
                conditions.teams,
                self._open,
                self.begins,
                things=self._things(lots),
                budget=budget,
                like=self._like(plan, like) if like else None,
            )
        except NoPlace as error:
            those = ", ".join(dict.fromkeys(self._told(plan.shares[lot].worked) for lot in error.lots))
            raise NoWay(
                "hours",
                f"no working day has room for {those} with what must follow on the same day: give longer hours, or "
                "another hardener",
                _held(plan.batches[error.mix]) if error.mix >= 0 else None,
            ) from None
        for slot in plan.clock.slots:
            if slot.mix >= 0:
                plan.batches[slot.mix] = next(one for one in ways[slot.mix] if one.teams == slot.teams)
                plan.batches[slot.mix].start = slot.start

    def _mix_of(self, batch: Batch) -> Mix:
        """A mix as the clock knows it."""
        names, holds = [share.name for share in batch.shares], self._mix_holds(batch)
        return Mix(names, batch.takes, batch.teams, self._until_hard(batch), holds)

    @property
    def _open(self) -> Hours:
        """When hands work on the fittings, without days off, and the days and hours that a class leaves out."""
        return replace(self.hours, shut=self.shut, off=self.conditions.off)

    def _things(self, lots: Sequence[Lot]) -> dict[str, int]:
        """How many there are of each counted thing."""
        held = {hold.thing for lot in lots for part in lot.parts for hold in part.holds}
        return {**self.stock, **{thing: self.conditions.drills for thing in sorted(held) if thing.startswith(_BIT)}}

    def _mix_holds(self, batch: Batch) -> tuple[Hold, ...]:
        """The counted things that a mix takes, and in a class the pairs."""
        held = [
            replace(hold, number=hold.number * share.pieces)
            for share in batch.shares
            for hold in self._kept(share.worked, share.worked.mixing, batch.takes)
        ]
        pairs = self._by_pairs(batch.shares[0].worked, batch.teams, batch.takes)
        return (*pairs, *self._held_by_mix(held, batch.takes, batch.cups))

    def _kept(self, worked: Worked, number: int, hands: int, wait: int = 0) -> tuple[Hold, ...]:
        """The counted things that a line of the plan takes for one fitting, from its beginning on."""
        return tuple(
            Hold(one.thing, 0, hands, many, ceil(worked.time(one.until)) if one.until else wait)
            for one, many in worked.held_at(worked.card.plan[number - 1])
        )

    def _by_pairs(self, worked: Worked, teams: int, takes: int) -> tuple[Hold, ...]:
        """In a class, the pair that makes a fitting, and the next ones where its work takes more than a pair."""
        if worked.pair is None:
            return ()
        pairs = [(worked.pair + more) % self.conditions.teams for more in range(teams)]
        return tuple(Hold(f"{_PAIR}{pair}", 0, takes, people=True) for pair in pairs)

    @staticmethod
    def _until_hard(batch: Batch) -> int:
        """How long the epoxy of a mix is kept away from heat (s)."""
        return ceil(batch.shares[0].worked.time("t_h"))  # as long for all of a sheet

    def numbered(self, plan: JobPlan) -> JobPlan:
        """The plan with its mixes and holes, and what of some alike is the first, in the order of the clock."""
        _count_in_turn(plan)
        order = sorted(range(len(plan.batches)), key=lambda number: plan.batches[number].start)
        plan.batches = [plan.batches[number] for number in order]
        plan.clock.slots = [
            slot._replace(mix=order.index(slot.mix)) if slot.mix >= 0 else slot for slot in plan.clock.slots
        ]
        plan.bored = sorted(self._bored(plan), key=lambda holes: (holes.at, holes.share.name))
        plan.no_sooner = self._no_sooner(plan)
        return plan

    def _no_sooner(self, plan: JobPlan) -> int:
        """When the work would end with hands and tools enough, and a mix for each fitting once it is ready (s)."""
        lots = [self._lot(plan, share) for share in plan.shares.values()]
        mixes = [
            Mix([share.name], ceil(self.prepare) + self.fill_time(share.worked) + self._own(share.worked), 1)
            for share in plan.shares.values()
            if share.worked.mix_line
            for _ in range(share.worked.layers)
        ]
        return no_sooner(lots, mixes, replace(self.hours, off=self.conditions.off), self.begins)

    def _bored(self, plan: JobPlan) -> Iterator[Holes]:
        """The holes of each stretch of work."""
        hours = self._open
        for slot in plan.clock.slots:
            if slot.part < 0 or slot.goes_on:
                continue
            share = plan.shares[slot.lot]
            number = line_of(share.worked, slot.part) + 1
            bores = _in_turn(share.worked, number)
            pieces = slot.teams // self.conditions.teams_for(share.worked.staying(number))
            bits = self._bits(share.worked, number, self._part(share.worked, number).hands) if bores else ()
            for bore, hold in zip(bores, bits, strict=True):
                at = hours.later(slot.start, hold.start)
                yield Holes(at, share, bore, share.worked.holes * pieces)

    def _lot(self, plan: JobPlan, share: Share) -> Lot:
        after = [
            (other.name, parts_until(other.worked, line))
            for name, line in share.worked.before
            for other in plan.shares.values()
            if other.worked.name == name
        ]
        key = (share.name, share.worked.pair, share.pieces, *after)
        if key not in self.memory.lots:
            self.memory.lots[key] = self._new_lot(share, after)
        return self.memory.lots[key]

    def _new_lot(self, share: Share, after: Sequence[tuple[str, int]]) -> Lot:
        cures = ceil(share.worked.time("t_f")) if share.worked.mix_line else 0
        layered = share.worked.mix_line and share.worked.layers > 1
        tacky = ceil(share.worked.tacky) if layered else None
        parts, takes = self.parts_of(share.worked), ceil(self.sizes.wash.time.value)
        hard = ceil(share.worked.time("t_h")) if layered else 0
        fresh = ceil(self.sizes.fresh.time.value)
        wash = Part(takes, pause=hard, fresh=fresh, holds=self._by_pairs(share.worked, 1, takes))
        return Lot(share.name, share.pieces, parts, after, cures, tacky, wash)

    def parts_of(self, worked: Worked) -> list[Part]:
        """The card's plan as parts of a lot: a part a line, but a part a layer where it mixes."""
        parts = [self._part(worked, number) for number in range(1, len(worked.card.plan) + 1)]
        if worked.mix_line and worked.layers > 1:
            place = worked.mix_line - 1
            layer = replace(parts[place], wait=ceil(worked.between), cures=True)
            parts[place:place] = [layer] * (worked.layers - 1)
        return parts

    def _part(self, worked: Worked, number: int) -> Part:
        """A line of a card's plan, counted from 1, as a part of a lot."""
        key = (worked.name, worked.pair, number)
        if key not in self.memory.parts:
            self.memory.parts[key] = self._new_part(worked, number)
        return self.memory.parts[key]

    def _new_part(self, worked: Worked, number: int) -> Part:
        line = worked.card.plan[number - 1]
        own = worked.fitting.waits.get(line.id or "")
        since, by = worked.window(number - 1) or (None, None)
        none = "attended" in line.marks or worked.opens(number - 1)
        wait = 0 if none else ceil(wait_time(worked, own or line.wait))
        cures = own is None and line.wait in CURES and worked.mix_line is not None and number >= worked.mix_line
        first, last = self._look(worked, number) if "look" in line.marks else (0, None)
        hands = worked.hands(number - 1)
        teams = self._teams(worked, number)
        after = 0 if "wait_first" in line.marks else wait
        return Part(
            hands=hands,
            wait=after,
            pause=wait if "wait_first" in line.marks else first,
            most_pause=last,
            cures=cures or "look" in line.marks,
            by=by,
            since=since or None,
            mixes=number == worked.mix_line,
            teams=teams,
            stops=self._stops(worked, number),
            unbroken="unbroken" in line.marks,
            fresh=ceil(self.sizes.fresh.time.value) if "fresh" in line.marks else None,
            holds=(
                self._kept(worked, number, hands)
                if number == worked.mix_line
                else (
                    *self._by_pairs(worked, teams, hands),
                    *self._bits(worked, number, hands),
                    *self._kept(worked, number, hands, after),
                )
            ),
            heat="heat" in line.marks,
            fumes=max(after, ceil(self.sizes.air.time.value)) if "fumes" in line.marks else None,
        )

    @staticmethod
    def _look(worked: Worked, number: int) -> tuple[int, int]:
        """How long after the mix a line of the plan, counted from 1, looks again, at the soonest and at the latest: two
        lines do, at the times that the card tells."""
        first, second = (ceil(worked.time(symbol)) for symbol in LOOKS)
        again = any("look" in line.marks for line in worked.card.plan[: number - 1])
        return (second, first + second) if again else (first, second)

    @staticmethod
    def _stops(worked: Worked, number: int) -> int:
        """After how much of it a line, counted from 1, may be broken off, and after how much more (s)."""
        line = worked.card.plan[number - 1]
        if not (line.may_stop and line.active):
            return 0
        return worked.hands(number - 1) // worked.alike if line.may_stop == "between" else 1

    def _bits(self, worked: Worked, number: int, hands: int) -> tuple[Hold, ...]:
        """The drills that a line of the plan takes for one fitting, one after another from its beginning, and up to its
        end what goes into a plate, which is cut first, and what is said to come last."""
        bores = _in_turn(worked, number)
        spans = [self.sizes.plate if bore.plate else self.sizes.bore for bore in bores]
        takes = [ceil(span.time.value) * worked.holes for span in spans]
        if (together := sum(takes)) > hands:
            takes = [hands * own // together for own in takes]
        idle = hands - sum(takes)
        begun, found = 0, list[Hold]()
        for bore, own in zip(bores, takes, strict=True):
            if bore.plate or bore.last:
                begun, idle = begun + idle, 0
            found.append(Hold(bit(worked.drill(bore)), begun, begun + own))
            begun += own
        return tuple(found)


def _in_turn(worked: Worked, number: int) -> list[Bore]:
    """The holes that a line of the plan bores, counted from 1, those at its end last."""
    own = [bore for bore in worked.bores if worked.bored_by(bore) == number]
    return sorted(own, key=lambda bore: bore.plate or bore.last)


def pair_name(conditions: Conditions, pair: int) -> str:
    """Pair 1, or of another number than two people team 1."""
    return tr("pair {number}", number=pair + 1) if conditions.team == 2 else tr("team {number}", number=pair + 1)


def _count_in_turn(plan: JobPlan) -> None:
    """Of some alike call that the first which is begun first: which is which nothing else tells."""
    begun = {
        share.name: slot.start for slot in sorted(plan.clock.slots, reverse=True) for share in plan.shares_of(slot)
    }
    counted, shares = Counter[str](), dict[str, Share]()
    for name in sorted(plan.shares, key=lambda name: (begun[name], name)):
        share = plan.shares[name]
        first, every = counted[share.worked.name], share.worked.fitting.pieces
        counted[share.worked.name] += share.pieces
        turn = (
            share.name
            if share.pieces == every
            else _numbered(share.worked.name, first + 1, first + share.pieces, every)
        )
        shares[name] = replace(share, name=turn, first=first)
    names = {name: share.name for name, share in shares.items()}
    plan.shares = {share.name: share for share in shares.values()}
    for batch in plan.batches:
        batch.shares = [replace(one, name=names[one.name], first=shares[one.name].first) for one in batch.shares]
        batch.layers = {names[name]: layer for name, layer in batch.layers.items()}
        batch.dealt = [{names[name]: pieces for name, pieces in team.items()} for team in batch.dealt]
        batch.thickened = [replace(cup, shares=[names[name] for name in cup.shares]) for cup in batch.thickened]
    clock = plan.clock
    clock.slots = [slot._replace(lot=names.get(slot.lot, slot.lot)) for slot in clock.slots]
    clock.loads = {names[name]: each for name, each in clock.loads.items()}


def _numbered(name: str, first: int, last: int, every: int) -> str:
    """Some of several alike."""
    one, many = later("{name}, {first} of {all}"), later("{name}, {first} to {last} of {all}")
    return tr(one if first == last else many, name=name, first=first, last=last, all=every)


def bit(drill: Drill) -> str:
    """The name of a drill among the counted things."""
    return f"{_BIT}{drill.kind} {drill.size}"


def stock_of(library: Library, conditions: Conditions) -> dict[str, int]:
    """How many there are of each thing that is shared."""
    assert library.shop_sizes
    return {thing: conditions.stock.get(thing, row.there) for thing, row in library.shop_sizes.shared.items()}


@dataclass(frozen=True)
class _Brought:
    """What one piece brings along to its mix: the parts that go with the mix, what its card adds to the time of the mix
    (s), whether it is filled in layers, and the counted things that it takes while the mix is used."""

    parts: tuple[Part, ...]
    own: int
    layered: bool
    holds: tuple[Hold, ...] = ()


def _chains(parts: Sequence[Part]) -> Iterator[tuple[int, Sequence[Part]]]:
    """The parts that follow each other without a break, with the place of the first."""
    first = 0
    for place in range(1, len(parts) + 1):
        if place == len(parts) or not parts[place].unbroken:
            yield first, parts[first:place]
            first = place


def _least_day(lot: Lot, mix: Mix, teams: int, stock: Mapping[str, int]) -> int:
    """How long a working day must be for the mix with all that goes with it (s)."""
    low, high = 0, DAY
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if room([lot], mix, teams, Hours(0, middle), stock) else (middle, high)
    return high


def _waits(parts: Sequence[Part]) -> bool:
    """Whether hands wait for the epoxy between the parts: not only until it is looked at again."""
    before = [part for part in parts if part.since or (part.cures and part.pause and part.most_pause is None)]
    return bool(before) or any(part.cures and part.wait for part in parts[:-1])


def _duration(seconds: float) -> str:
    """3 h 10 min."""
    hours, minutes = divmod(ceil(seconds / 60 - 1e-9), 60)
    return " ".join([*([f"{hours} h"] if hours else []), *([f"{minutes} min"] if minutes or not hours else [])])


def by_content(worked: Worked) -> tuple[object, ...]:
    """An order that does not hang on the sheet's. A trial is named after the first that it stands for, so names come
    last."""
    return worked.fitting.card, sorted(worked.inputs.items()), worked.name


def _rank(plan: JobPlan) -> tuple[int, int]:
    return plan.clock.rank


def _effort(plan: JobPlan) -> int:
    """Its mixes, with what is washed and sanded reckoned as mixes."""
    return plan.mixes + _WASHED * plan.clock.rank[0]


def _parted(plan: JobPlan) -> Iterator[list[dict[str, int]]]:
    """The mixes of a plan, but for the layers of something that is washed and sanded, which have mixes of their own; or
    one of them has."""
    mixes = _mixes(plan)
    for lot in dict.fromkeys(slot.lot for slot in plan.clock.slots if slot.part < 0 and slot.mix < 0):
        share = plan.shares[lot]
        apart: list[list[dict[str, int]]] = []
        for batch, mix in zip(plan.batches, mixes, strict=True):
            own = {_layer(share.worked, batch.layers[lot]): share.pieces} if lot in batch.layers else {}
            apart.append([part for part in (own, dict(Counter(mix) - Counter(own))) if part])
        places = [place for place, parts in enumerate(apart) if len(parts) > 1]
        if len(places) > 1:
            yield [part for parts in apart for part in parts]
        for place in places:
            yield [*mixes[:place], *apart[place], *mixes[place + 1 :]]


def _mixes(plan: JobPlan) -> list[dict[str, int]]:
    """The mixes of a plan, as the search for the fewest knows them."""
    return [_held(batch) for batch in plan.batches]


def _content(mixes: Sequence[Mapping[str, int]]) -> Content:
    """What is in each mix, to be known again."""
    return tuple(tuple(sorted(mix.items())) for mix in mixes)


def _held(batch: Batch) -> dict[str, int]:
    """What is in a batch, as the search for the fewest mixes knows it."""
    held = Counter[str]()
    for share in batch.shares:
        held[_layer(share.worked, batch.layers[share.name])] += share.pieces
    return dict(held)


def _layer(worked: Worked, layer: int) -> str:
    """The name of a layer in the search for the fewest mixes."""
    return f"{layer} {worked.name}"


def parts_until(worked: Worked, line: int) -> int:
    """How many parts of a lot are over with a line of the card's plan."""
    return line if not worked.mix_line or line < worked.mix_line else line + worked.layers - 1


def line_of(worked: Worked, part: int) -> int:
    """The place of the plan's line behind a part of a lot, both counted from 0."""
    mix = (worked.mix_line or 0) - 1
    return part if mix < 0 or part <= mix else max(mix, part - worked.layers + 1)


def neat_of(shares: Sequence[Share]) -> float:
    """Resin and hardener that these take out of one mix (kg). Each share counts what is kept plain and spread as a
    sample out of a mix of its own; of one they share it is once, as on the cards: kept plain of the mix, a sample of
    every filler and stiffness."""
    kept = (len(shares) - 1) * shares[0].worked.value("m_pl") if shares else 0.0
    own = sum(share.amounts["m_n"] - (share.amounts["m_t"] - share.amounts["m_f"]) for share in shares)
    return own - kept + sum(cup.neat for cup in _thickened(shares))


def weighed_out(library: Library, shares: Sequence[Share], cups: int) -> tuple[list[Cup], dict[str, float]]:
    """What each filler takes of a mix for these in so many cups, and what is weighed out (SI)."""
    assert library.shop_sizes
    any_of, neat, most = shares[0].worked, neat_of(shares), library.constant("m_c") * cups
    thickened = list[Cup]()
    for cup in _thickened(shares):
        thickened.append(_weighable(cup, library.shop_sizes.weighed.mass.value, most - neat))
        neat += thickened[-1].neat - cup.neat
    least = max(share.worked.value("m_min") if "m_min" in share.worked.card.givens else 0 for share in shares)
    given = {symbol: any_of.value(symbol) for symbol in ("n_w", "rho_r", "rho_h")}
    given |= {"m_n": neat, "m_min": least * cups}
    return thickened, work(("m_b", "m_r", "m_h", "v_r", "v_h"), given).values


def kept_plain(thickened: Sequence[Cup], amounts: Mapping[str, float]) -> float:
    """What of the resin and hardener that are weighed out no cup takes (kg), all as printed, in both shops in grams:
    the shares of a mix are what was poured, and the last of them finds what it should."""
    printed = {symbol: FORMULARY.symbols[symbol].printed for symbol in ("m_r", "m_h", "m_i")}
    poured = sum(printed[symbol](amounts[symbol], "metric") for symbol in ("m_r", "m_h"))
    return max(0.0, poured - sum(printed["m_i"](cup.neat, "metric") for cup in thickened))


def _weighable(cup: Cup, least: float, room: float) -> Cup:
    """The cup, larger where its filler is too little for the scale and the mix has room for more (kg)."""
    filler = cup.values["m_f"]
    if not 0 < filler < least:
        return cup
    times = least / filler
    if (times - 1) * cup.neat > room:
        return replace(cup, too_little=True)
    return replace(cup, values={symbol: times * value for symbol, value in cup.values.items()}, weighed=True)


def _thickened(shares: Sequence[Share]) -> list[Cup]:
    """What each filler takes of the mix: one mix, then a cup of its own for every filler and stiffness."""
    cups: dict[tuple[str, str], list[Share]] = {}
    for share in shares:
        titles = share.worked.reckoning.titles
        cups.setdefault((titles["filler"], titles["consistency"]), []).append(share)
    return [
        Cup(filler, stiff, _together_in(own), [share.name for share in own]) for (filler, stiff), own in cups.items()
    ]


def _together_in(shares: Sequence[Share]) -> dict[str, float]:
    """What shares of one filler and stiffness take of it, with one sample of it."""
    found = {symbol: sum(share.amounts.get(symbol, 0.0) for share in shares) for symbol in ("m_t", "m_f", "v_f")}
    samples = (len(shares) - 1) * shares[0].worked.value("m_sa")
    rest = 1 - samples / found["m_t"] if found["m_t"] else 1.0
    return {symbol: rest * value for symbol, value in found.items()}
