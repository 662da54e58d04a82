"""Which fittings share a mix, in as few mixes as can be.

The problem. There are kinds of fittings, and `count` alike of each. One takes `mass` of mixed resin and hardener, and
several of a kind no more than as many alone, because they share what stays in a syringe. One keeps a team busy for
`time` until it is set, or several teams at once. A mix is used by `teams` teams at once. A set of fittings may share a
mix when

- together they take no more than `most` of it, and
- they can be dealt out to the teams so that no team is busy for longer than `lasts`; a fitting is one team's, start
  to end, and what takes several teams comes first, and
- `room` finds that a working day has room for all that goes with the mix.

Mixes are made one after another. A kind that comes `after` others goes into a later mix than the last of those,
because theirs has to cure first. Wanted is the least number of mixes. Without `after` and with one team this is
packing bins by two measures at once, so no quick exact way is to be expected.

The search. Moving a fitting into an earlier mix that has room for it, and that it may share, never costs a mix. So
only full mixes need be looked at: those that nothing waiting could join. What is left over then is all that matters
for the rest, and a depth-first search over it, cut by lower bounds and never entering the same rest twice at no gain,
is exact. It begins with the best of several quick plans. It stops when a lower bound says that nothing less can be,
when it has seen all, or when it has asked `budget` times whether one more fits. Then the plan stands with its lower
bound beside it.

Of plans with equally few mixes, one is wanted that is done soon: a fitting that is ready should not wait in a mix for
one that has to dry, or for another's cure, and fittings alike should stay together. From the plan found, fittings are
moved and exchanged between its mixes for as long as that makes their mixes earlier, by the waits alone, or parts fewer
kinds; a kind that is parted once more counts as a fitting that is a day late.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain, combinations, islice, product
from math import ceil, prod

# How often the search may ask whether one more fits, for ten kinds; for more of them less often, as each takes longer.
# Enough for a dozen kinds, and over within about a second.
BUDGET = 120_000
# From how many mixes on it asks less often.
_MIXES = 10
# How many full mixes a quick plan compares before it takes the fullest.
_LOOKS = 12
# How often dealing out to the teams is tried before a mix counts as too long.
_DEALS = 5_000
# How many kinds may be looked at in exchanges between mixes to be done sooner.
_LOOKS_SOONER = 60_000
# Of how many mixes the plans that differ little from one have, all together.
_OTHERS = 60_000
# In how many ways the fittings of two out of two mixes may be dealt out between them; of more mixes, in fewer.
_WAYS = 2_000
# What a kind that is parted once more counts as (s).
_PART = 86_400

Rest = tuple[int, ...]
# What one fitting asks of a mix besides its mass: for how long (s), of how many teams, and what goes with it.
Task = tuple[int, int, Hashable]


@dataclass(frozen=True)
class Kind:
    """`count` fittings alike: each takes `mass` (whole units) and `time` (s), and is mixed after those in `after`.

    It takes `teams` teams at once, and `brings` names the work that goes with it before and after the mix.
    `together` is what one, two and so on take in one mix, where that is less than so many times `mass`; it goes as far
    as a mix can hold. `soonest` is the earliest that it can be mixed (s), and `lags` how long after the mix of one in
    `after` (s).
    """

    name: str
    count: int
    mass: int
    time: int
    after: frozenset[str] = frozenset()
    soonest: int = 0
    lags: Mapping[str, int] = field(default_factory=dict)
    together: tuple[int, ...] = ()
    teams: int = 1
    brings: Hashable = None

    @property
    def task(self) -> Task:
        """What one of them asks of a mix besides its mass."""
        return self.time, self.teams, self.brings

    def of(self, number: int) -> int:
        """What so many of them take in one mix."""
        if not number:
            return 0
        return self.together[number - 1] if number <= len(self.together) else number * self.mass

    @cached_property
    def least(self) -> float:
        """What one of them takes at the least, however many share a mix."""
        return min((taken / number for number, taken in enumerate(self.together, 1)), default=self.mass)


@dataclass(frozen=True)
class Limits:
    """What one mix can do: `most` (mass, the kinds' units), `lasts` (s), for how many `teams` at once; `room` says
    whether a day has room for what goes with these."""

    most: int
    lasts: int
    teams: int = 1
    room: Callable[[Sequence[Task]], bool] = lambda tasks: True

    def serves(self, tasks: Sequence[Task]) -> bool:
        """Whether one mix serves these, whatever they weigh."""
        return deal([(time, teams) for time, teams, _ in tasks], self) is not None and self.room(tasks)


@dataclass(frozen=True)
class Mixes:
    """The mixes in order, each as the number of fittings by kind, the least that any plan could have, and when each
    can be made at the earliest, by the waits alone (s)."""

    mixes: list[dict[str, int]]
    at_least: int
    starts: list[int] = field(default_factory=list)

    @property
    def proven(self) -> bool:
        """Whether no plan can have fewer."""
        return len(self.mixes) == self.at_least


def fewest_mixes(kinds: Sequence[Kind], limits: Limits, *, budget: int = BUDGET) -> Mixes:
    """Plan the mixes. Raises ValueError for a kind too large for any mix, an unknown one in `after`, or a circle."""
    _check(kinds, limits)
    alike = _alike(kinds)
    budget = min(budget, 10 * budget // len(alike)) if alike else budget
    found = _Search([_joined(group, alike) for group in alike.values()], limits, budget).run()
    plans = [_named(found.plan, list(alike.values()))]
    if _parts(plans[0]) > len(kinds):
        plans += _Search(kinds, limits, budget).together(len(found.plan))
    exchange = Exchange({kind.name: kind for kind in kinds}, limits)
    tries = _LOOKS_SOONER // max(max(len(kinds), len(plans[0])) * len(plans), 1)
    plan = min((sooner(plan, exchange, tries) for plan in plans), key=exchange.cost)
    return Mixes(plan, found.at_least, exchange.starts(plan))


def _check(kinds: Sequence[Kind], limits: Limits) -> None:
    names = {kind.name for kind in kinds}
    for kind in kinds:
        if kind.count < 1 or kind.mass > limits.most or not limits.serves([kind.task]):
            raise ValueError(f"{kind.name} fits into no mix")
        if unknown := kind.after - names:
            raise ValueError(f"{kind.name} comes after {sorted(unknown)[0]}, which is not there")


def _alike(kinds: Sequence[Kind]) -> dict[object, list[Kind]]:
    """Kinds that differ in nothing but their names, together: the same size, after the same and before the same."""
    followers: dict[str, set[str]] = {kind.name: set() for kind in kinds}
    for kind in kinds:
        for name in kind.after:
            followers[name].add(kind.name)
    groups: dict[object, list[Kind]] = {}
    for kind in kinds:
        # Kinds that share syringes among themselves stay kinds of their own.
        own = kind.name if kind.together else ""
        key = (kind.mass, kind.task, kind.after, kind.soonest, frozenset(followers[kind.name]), own)
        groups.setdefault(key, []).append(kind)
    return groups


def _joined(group: Sequence[Kind], alike: Mapping[object, list[Kind]]) -> Kind:
    """One kind for all of a group; it comes after the groups of those that they come after."""
    first = group[0]
    heads = frozenset(other[0].name for other in alike.values() if {kind.name for kind in other} & first.after)
    return replace(first, count=sum(kind.count for kind in group), after=heads)


def _named(plan: Sequence[Rest], groups: Sequence[Sequence[Kind]]) -> list[dict[str, int]]:
    """Deal the fittings of each group out to the mixes, one kind after another."""
    mixes: list[dict[str, int]] = [{} for _ in plan]
    for number, group in enumerate(groups):
        queue = [kind.name for kind in group for _ in range(kind.count)]
        for mix, load in zip(mixes, plan, strict=True):
            for name in queue[: load[number]]:
                mix[name] = mix.get(name, 0) + 1
            del queue[: load[number]]
    return mixes


def deal(works: Sequence[tuple[int, int]], limits: Limits) -> list[tuple[int, ...]] | None:
    """The teams of each fitting, given for how long it keeps how many busy, so that none is busy for longer than a mix
    lasts; None when there is no such way."""
    order = sorted(range(len(works)), key=lambda place: (-works[place][1], -works[place][0]))
    loads = [0] * limits.teams
    teams_of: list[tuple[int, ...]] = [()] * len(works)
    tries = 0

    def place(step: int) -> bool:
        nonlocal tries
        if step == len(order):
            return True
        tries += 1
        tried: set[tuple[int, ...]] = set()
        time, number = works[order[step]]
        idle = sorted(range(limits.teams), key=lambda team: loads[team])
        for first in range(limits.teams - number + 1):
            teams = tuple(idle[first : first + number])
            before = tuple(loads[team] for team in teams)
            if before[-1] + time > limits.lasts or before in tried:
                continue
            if tries > _DEALS:
                return False
            tried.add(before)
            for team in teams:
                loads[team] = before[-1] + time
            teams_of[order[step]] = teams
            if place(step + 1):
                return True
            for team, load in zip(teams, before, strict=True):
                loads[team] = load
        return False

    if sum(time * number for time, number in works) > limits.teams * limits.lasts:
        return None
    return teams_of if place(0) else None


def busiest(works: Sequence[tuple[int, int]], teams_of: Sequence[tuple[int, ...]]) -> int:
    """For how long the busiest team is busy, what takes several teams first (s)."""
    loads: dict[int, int] = {}
    for place in sorted(range(len(works)), key=lambda place: (-works[place][1], -works[place][0])):
        end = max(loads.get(team, 0) for team in teams_of[place]) + works[place][0]
        loads |= dict.fromkeys(teams_of[place], end)
    return max(loads.values(), default=0)


def _parts(plan: Sequence[Mapping[str, int]]) -> int:
    """How many kinds the mixes hold, one that is parted counted in each."""
    return sum(len(mix) for mix in plan)


@dataclass(frozen=True)
class _Found:
    plan: list[Rest]
    at_least: int


class _Filling:
    """A mix that is being filled."""

    def __init__(self, start: Rest):
        self.load, self.mass, self.tasks = [0] * len(start), 0, list[int]()

    def add(self, number: int, taken: int, kind: Kind, task: int) -> None:
        """Put so many of a kind in."""
        self.mass += kind.of(self.load[number] + taken) - kind.of(self.load[number])
        self.load[number] += taken
        self.tasks += [task] * taken


class _Search:
    def __init__(self, kinds: Sequence[Kind], limits: Limits, budget: int):
        self.kinds, self.limits, self.budget = kinds, limits, budget
        self.looked = 0
        self.given_up = False
        self.best: list[Rest] = []
        self.seen: dict[Rest, int] = {}
        self._served: dict[tuple[int, ...], bool] = {}
        place = {kind.name: number for number, kind in enumerate(kinds)}
        self.before = [sorted(place[name] for name in kind.after) for kind in kinds]
        # Every different task once, and the place of each kind's own.
        self.tasks = list(dict.fromkeys(kind.task for kind in kinds))
        self.task_of = [self.tasks.index(kind.task) for kind in kinds]
        self.busy = [time * teams for time, teams, _ in self.tasks]
        self.alone = [self._most_of(number) for number in range(len(kinds))]
        self.tails = self._tails()

    def run(self) -> _Found:
        """The best plan, and the least that any plan could have."""
        start: Rest = tuple(kind.count for kind in self.kinds)
        at_least = self._bound(start)
        for rule in self._rules:
            plan = self._quick(start, rule)
            if not self.best or len(plan) < len(self.best):
                self.best = plan
            if len(self.best) == at_least:
                break
        if len(self.best) > at_least:
            self.looked = 0
            # The more mixes, the less it could see of all in any time.
            self.budget = self.budget * _MIXES // max(_MIXES, len(self.best))
            self._dig(start, [], at_least)
            if not self.given_up:
                at_least = len(self.best)
        return _Found(self.best, at_least)

    # What fits into one mix

    def _most_of(self, number: int) -> int:
        """How many of one kind a mix serves that serves nothing else."""
        kind, limits = self.kinds[number], self.limits
        by_time = limits.teams // kind.teams * (limits.lasts // kind.time) if kind.time else kind.count
        most = min(kind.count, by_time, sum(kind.of(number) <= limits.most for number in range(1, kind.count + 1)))
        while most > 1 and not limits.room([kind.task] * most):
            most -= 1
        return most

    def _serves(self, tasks: tuple[int, ...]) -> bool:
        if tasks not in self._served:
            self._served[tasks] = self.limits.serves([self.tasks[task] for task in tasks])
        return self._served[tasks]

    def _ready(self, rest: Rest) -> list[int]:
        return [
            number
            for number, left in enumerate(rest)
            if left and not any(rest[before] for before in self.before[number])
        ]

    def _full(self, rest: Rest, order: Sequence[int]) -> Iterator[Rest]:
        """The full mixes out of `rest`, those with the most of the first in `order` first."""
        load: dict[int, int] = {}

        def one_more(number: int) -> int:
            taken = load.get(number, 0)
            return self.kinds[number].of(taken + 1) - self.kinds[number].of(taken)

        def fits(number: int, mass: int, tasks: tuple[int, ...]) -> bool:
            self.looked += 1 + len(tasks) // 8  # what stands in a mix is looked at too
            own = self.task_of[number]
            return (
                load.get(number, 0) < rest[number]
                and mass + one_more(number) <= self.limits.most
                and sum(self.busy[task] for task in tasks) + self.busy[own] <= self.limits.teams * self.limits.lasts
                and self._serves(tuple(sorted((*tasks, own))))
            )

        def fill(first: int, mass: int, tasks: tuple[int, ...]) -> Iterator[Rest]:
            full = True
            for step in range(first, len(order)):
                number = order[step]
                loads, longer = mass, tasks
                while fits(number, loads, longer):
                    loads, longer = loads + one_more(number), tuple(sorted((*longer, self.task_of[number])))
                    load[number] = load.get(number, 0) + 1
                while load.get(number):
                    full = False
                    yield from fill(step + 1, loads, longer)
                    load[number] -= 1
                    loads -= one_more(number)
                    shorter = list(longer)
                    shorter.remove(self.task_of[number])
                    longer = tuple(shorter)
            if full and not any(fits(number, mass, tasks) for number in order[:first]):
                yield tuple(load.get(number, 0) for number in range(len(rest)))

        yield from fill(0, 0, ())

    # How few there must be

    def _tails(self) -> list[int]:
        """How many mixes must follow the last one of each kind. Raises ValueError for a circle."""
        after: list[list[int]] = [[] for _ in self.kinds]
        for number, before in enumerate(self.before):
            for one in before:
                after[one].append(number)
        tails: dict[int, int] = {}
        waiting = list(range(len(self.kinds)))
        while waiting:
            ends = [number for number in waiting if all(one in tails for one in after[number])]
            if not ends:
                raise ValueError(f"{self.kinds[waiting[0]].name} comes after itself")
            for number in ends:
                tails[number] = max((tails[one] + self._alone_in(one) for one in after[number]), default=0)
            waiting = [number for number in waiting if number not in tails]
        return [tails[number] for number in range(len(self.kinds))]

    def _alone_in(self, number: int, left: int | None = None) -> int:
        return -(-(self.kinds[number].count if left is None else left) // self.alone[number])

    def _bound(self, rest: Rest) -> int:
        """No plan for `rest` has fewer mixes than this."""
        most = 0
        for tail in {self.tails[number] for number, left in enumerate(rest) if left}:
            among = [(number, left) for number, left in enumerate(rest) if left and self.tails[number] >= tail]
            most = max(most, tail + self._bound_by_load(among))
        chains = (self._alone_in(number, left) + self.tails[number] for number, left in enumerate(rest) if left)
        return max(most, max(chains, default=0))

    def _bound_by_load(self, among: Sequence[tuple[int, int]]) -> int:
        limits = self.limits
        mass = sum(left * self.kinds[number].least for number, left in among)
        time = sum(left * self.busy[self.task_of[number]] for number, left in among)
        heavy = sum(left for number, left in among if 2 * self.kinds[number].least > limits.most)
        kinds = [(left, self.kinds[number]) for number, left in among]
        long = sum(left * kind.teams for left, kind in kinds if 2 * kind.time > limits.lasts)
        by_time = -(-time // (limits.teams * limits.lasts)) if time else 0
        by_mass = ceil(mass / limits.most - 1e-9) if mass else 0
        return max(1, by_mass, by_time, heavy, -(-long // limits.teams))

    # Plans

    @cached_property
    def _rules(self) -> list[list[int]]:
        """Orders in which a quick plan fills a mix: what is followed by most first, then what is heavy or long."""
        mass, time = max(self.limits.most, 1), max(self.limits.lasts * self.limits.teams, 1)
        sizes: list[Mapping[int, float]] = [
            {number: kind.mass for number, kind in enumerate(self.kinds)},
            {number: kind.time for number, kind in enumerate(self.kinds)},
            {number: max(kind.mass / mass, kind.time / time) for number, kind in enumerate(self.kinds)},
        ]
        return [sorted(size, key=lambda number: (-self.tails[number], -size[number], number)) for size in sizes]

    def _fullness(self, load: Rest) -> float:
        mass = sum(kind.of(taken) for taken, kind in zip(load, self.kinds, strict=True)) / max(self.limits.most, 1)
        time = sum(taken * self.busy[task] for taken, task in zip(load, self.task_of, strict=True))
        return mass + time / max(self.limits.lasts * self.limits.teams, 1)

    def _quick(self, rest: Rest, order: Sequence[int]) -> list[Rest]:
        """A plan that takes the fullest of the first few mixes each time."""
        plan: list[Rest] = []
        while any(rest):
            ready = set(self._ready(rest))
            full = self._full(rest, [number for number in order if number in ready])
            load = max((one for one, _ in zip(full, range(_LOOKS), strict=False)), key=self._fullness)
            plan.append(load)
            rest = tuple(left - taken for left, taken in zip(rest, load, strict=True))
        return plan

    def together(self, mixes: int) -> Iterator[list[dict[str, int]]]:
        """Plans of so many mixes that part few kinds: each kind whole into the first mix that takes it."""
        start: Rest = tuple(kind.count for kind in self.kinds)
        for order in self._rules:
            plan = [_Filling(start) for _ in range(mixes)]
            done = all(self._placed(number, start[number], plan) for number in order)
            if done and all(mix.tasks for mix in plan):
                yield [self._by_name(mix.load) for mix in plan]

    def _by_name(self, load: Sequence[int]) -> dict[str, int]:
        return {kind.name: taken for kind, taken in zip(self.kinds, load, strict=True) if taken}

    def _placed(self, number: int, count: int, plan: Sequence[_Filling]) -> bool:
        """Put all of a kind into the plan, into as few mixes as the first look finds; whether all found a place."""
        before = self.before[number]
        first = max((place + 1 for place, mix in enumerate(plan) if any(mix.load[one] for one in before)), default=0)
        rooms = {
            place: self._room(plan[place], number, count) for place in range(first, len(plan) - self.tails[number])
        }
        while count and any(rooms.values()):
            place = max(rooms, key=lambda place: (min(rooms[place], count), -place))
            taken = min(rooms.pop(place), count)
            plan[place].add(number, taken, self.kinds[number], self.task_of[number])
            count -= taken
        return not count

    def _room(self, mix: _Filling, number: int, count: int) -> int:
        """How many of one kind a mix still takes."""
        kind, own, tasks = self.kinds[number], mix.load[number], mix.tasks
        for more in range(1, count + 1):
            if mix.mass - kind.of(own) + kind.of(own + more) > self.limits.most:
                return more - 1
            tasks = [*tasks, self.task_of[number]]
            if not self._serves(tuple(sorted(tasks))):
                return more - 1
        return count

    def _dig(self, rest: Rest, plan: list[Rest], at_least: int) -> None:
        if not any(rest):
            self.best = list(plan)
            return
        if self.given_up or len(plan) + self._bound(rest) >= len(self.best):
            return
        if rest in self.seen and self.seen[rest] <= len(plan):
            return
        self.seen[rest] = len(plan)
        ready = set(self._ready(rest))
        for load in self._full(rest, [number for number in self._rules[2] if number in ready]):
            self.given_up |= self.looked > self.budget
            if self.given_up:
                return
            plan.append(load)
            self._dig(tuple(left - taken for left, taken in zip(rest, load, strict=True)), plan, at_least)
            plan.pop()
            if len(self.best) <= at_least:
                return


# Done soon


Plan = list[dict[str, int]]


def sooner(plan: Plan, exchange: Exchange, tries: int) -> Plan:
    """A plan with as many mixes whose cost is as small as a search by single exchanges finds."""
    best, left = exchange.cost(plan), tries
    better = True
    while better and left > 0:
        better = False
        for changed in exchange.neighbours(plan):
            left -= 1
            if exchange.cost(changed) < best and exchange.allowed(changed):
                plan, best, better = changed, exchange.cost(changed), True
            if better or left <= 0:
                break
    return plan


@dataclass
class Exchange:
    """Plans with as many mixes, that differ in where one or two kinds are."""

    kinds: Mapping[str, Kind]
    limits: Limits
    # What `_possible` said before.
    _known: dict[frozenset[tuple[str, int]], bool] = field(default_factory=dict)

    def cost(self, plan: Plan) -> int:
        """The times of all fittings' mixes, by the waits alone, summed (s), with a day for every part of a kind."""
        starts = self.starts(plan)
        late = sum(start * sum(mix.values()) for start, mix in zip(starts, plan, strict=True))
        return late + _PART * _parts(plan)

    def starts(self, plan: Plan) -> list[int]:
        """When each mix can be made at the earliest, by the waits alone (s)."""
        found, at = list[int](), dict[str, int]()
        for mix in plan:
            found.append(max(self._ready(self.kinds[name], at) for name in mix))
            at |= dict.fromkeys(mix, found[-1])
        return found

    def _ready(self, kind: Kind, at: Mapping[str, int]) -> int:
        return max([kind.soonest, *(at.get(name, 0) + kind.lags.get(name, 0) for name in kind.after)])

    def neighbours(self, plan: Plan, *, every: bool = False) -> Iterator[Plan]:
        """Plans with one kind moved, whole or by one, or two kinds exchanged. None leaves a mix empty. By the waits
        alone only a kind that its mix waits for, or one that is parted, is worth a change."""
        starts, at = self.starts(plan), dict[str, int]()
        for start, mix in zip(starts, plan, strict=True):
            at |= dict.fromkeys(mix, start)
        holders = Counter(name for mix in plan for name in mix)
        places = [
            (number, name)
            for number, mix in enumerate(plan)
            for name in mix
            if every or holders[name] > 1 or self._ready(self.kinds[name], at) == starts[number]
        ]
        for here, name in places:
            for there in range(len(plan)):
                if there == here:
                    continue
                if len(plan[here]) > 1:
                    yield _moved(plan, (here, name, plan[here][name]), there)
                if plan[here][name] > 1:
                    yield _moved(plan, (here, name, 1), there)
                for other in plan[there]:
                    if other != name:
                        changed = _moved(plan, (here, name, plan[here][name]), there)
                        yield _moved(changed, (there, other, plan[there][other]), here)

    def others(self, plan: Plan) -> Iterator[Plan]:
        """Plans within the limits that differ little from one: a kind moved or two exchanged, then two mixes dealt out
        anew; what would then be mixed before what it waits for goes behind that. Of many mixes only some are looked
        at."""
        found = map(self._put_behind, chain(self.neighbours(plan, every=True), self.parted_anew(plan)))
        yield from filter(self.allowed, islice(found, _OTHERS // len(plan) if plan else 0))

    def joined(self, plan: Plan) -> Iterator[Plan]:
        """Plans within the limits with two mixes in one."""
        for here, there in combinations(range(len(plan)), 2):
            both = dict(Counter(plan[here]) + Counter(plan[there]))
            for place in (here, there):
                rest = {here, there} - {place}
                mixes = [both if at == place else mix for at, mix in enumerate(plan) if at not in rest]
                if self.allowed(mixes):
                    yield mixes
                    break

    def parted_anew(self, plan: Plan) -> Iterator[Plan]:
        """Plans with the fittings of two mixes dealt out between them in another way, of each two what is soonest by
        the waits alone first; several may change for one so. Of mixes with very many ways there are none."""
        for here, there in combinations(range(len(plan)), 2):
            both = Counter(plan[here]) + Counter(plan[there])
            if prod(count + 1 for count in both.values()) * len(plan) <= _WAYS:
                yield from sorted(self._dealt_anew(plan, here, there, both), key=self.cost)

    def _dealt_anew(self, plan: Plan, here: int, there: int, both: Counter[str]) -> Iterator[Plan]:
        for taken in product(*(range(count + 1) for count in both.values())):
            one = {name: count for name, count in zip(both, taken, strict=True) if count}
            other = dict(both - Counter(one))
            if one and other and one != plan[here] and self._light(one) and self._light(other):
                yield [one if at == here else other if at == there else mix for at, mix in enumerate(plan)]

    def _light(self, mix: Mapping[str, int]) -> bool:
        return sum(self.kinds[name].of(count) for name, count in mix.items()) <= self.limits.most

    def allowed(self, plan: Plan) -> bool:
        """Whether every mix is within the limits and after the mixes of those that it waits for."""
        last: dict[str, int] = {name: number for number, mix in enumerate(plan) for name in mix}
        for number, mix in enumerate(plan):
            if any(last[before] >= number for name in mix for before in self.kinds[name].after):
                return False
            if not self._possible(mix):
                return False
        return True

    def _put_behind(self, plan: Plan) -> Plan:
        """The plan with each kind that is not after all that it waits for in the next mix after that, where there is
        one."""
        last = {name: number for number, mix in enumerate(plan) for name in mix}
        for number, mix in enumerate(plan):
            for name in mix if len(mix) > 1 else ():
                if name not in self._waiting:
                    continue
                behind = 1 + max(last[before] for before in self.kinds[name].after)
                if number < behind < len(plan):
                    return self._put_behind(_moved(plan, (number, name, mix[name]), behind))
        return plan

    @cached_property
    def _waiting(self) -> set[str]:
        """The kinds that come after others."""
        return {name for name, kind in self.kinds.items() if kind.after}

    def _possible(self, mix: Mapping[str, int]) -> bool:
        """Whether a mix of these is within the limits."""
        if (key := frozenset(mix.items())) not in self._known:
            tasks = [self.kinds[name].task for name, count in mix.items() for _ in range(count)]
            self._known[key] = self._light(mix) and self.limits.serves(tasks)
        return self._known[key]


def _moved(plan: Plan, what: tuple[int, str, int], there: int) -> Plan:
    """A plan with so many of a kind taken out of one mix and put into another."""
    here, name, count = what
    changed = [dict(mix) if number in (here, there) else mix for number, mix in enumerate(plan)]
    changed[here][name] -= count
    if not changed[here][name]:
        del changed[here][name]
    changed[there][name] = changed[there].get(name, 0) + count
    return changed
