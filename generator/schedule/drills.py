"""In which order to bore, with as few drill changes as can be.

The problem. A hole is bored by one drill after another, in an order that stands: the large drill before the guide
drill. Holes with the same list of drills are one case. All holes are open to whichever drill is in the chuck, so a
drill that is put in bores everything that is ready for it; leaving some of it for later never saves a change. Wanted
is the shortest row of drills that holds every hole's list in order, the shortest common supersequence of the lists.

The search. What matters is how far each list has come. A best-first search (A*) over that, with the number of
different drills still needed as the bound, finds a shortest row. Where no two drills stand in opposite orders, each
is put in once, and the bound is met at once. Past `budget` steps it takes the drill that serves most lists, and says
what the bound was.
"""

from __future__ import annotations

import heapq
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

BUDGET = 20_000

D = TypeVar("D", bound=Hashable)
State = tuple[int, ...]


@dataclass(frozen=True)
class DrillRow(Generic[D]):
    """The drills in the order they are put in, and the fewest that any order could have."""

    drills: list[D]
    at_least: int


def fewest_changes(lists: Sequence[Sequence[D]], *, budget: int = BUDGET) -> DrillRow[D]:
    """The shortest row of drills that bores every hole in its order."""
    cases = list(dict.fromkeys(tuple(one) for one in lists if one))
    drills = list(dict.fromkeys(drill for case in cases for drill in case))
    start: State = tuple(0 for _ in cases)
    queue: list[tuple[int, int, tuple[int, ...], State]] = [(len(drills), 0, (), start)]
    seen: dict[State, int] = {}
    least = len(drills)
    for _ in range(budget):
        least, deep, row, state = heapq.heappop(queue)
        used = -deep
        if all(step == len(case) for step, case in zip(state, cases, strict=True)):
            return DrillRow([drills[number] for number in row], used)
        if seen.get(state, 1 << 30) <= used:
            continue
        seen[state] = used
        for number, drill in enumerate(drills):
            further = _bored(drill, cases, state)
            if further != state:
                left = {drill for case, step in zip(cases, further, strict=True) for drill in case[step:]}
                heapq.heappush(queue, (used + 1 + len(left), -used - 1, (*row, number), further))
    return DrillRow(_by_most(cases, drills), least)


def _bored(drill: D, cases: Sequence[tuple[D, ...]], state: State) -> State:
    """How far each list is when the drill has bored all that is ready for it."""
    further = []
    for case, step in zip(cases, state, strict=True):
        while step < len(case) and case[step] == drill:
            step += 1
        further.append(step)
    return tuple(further)


def _by_most(cases: Sequence[tuple[D, ...]], drills: Sequence[D]) -> list[D]:
    """A row that takes the drill that serves most lists each time."""
    row: list[D] = []
    state: State = tuple(0 for _ in cases)
    while any(step < len(case) for step, case in zip(state, cases, strict=True)):
        drill = max(
            drills, key=lambda drill: sum(a != b for a, b in zip(_bored(drill, cases, state), state, strict=True))
        )
        row.append(drill)
        state = _bored(drill, cases, state)
    return row
