"""The hole schedule: every hole of the job by day and by drill, at the time at which the clock bores it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from .fittings import Drill
from .plan import Holes, JobPlan


@dataclass(frozen=True)
class Run:
    """All that one drill bores on a day, in order of time."""

    day: int
    drill: Drill
    holes: Sequence[Holes]

    @property
    def count(self) -> int:
        """How many holes."""
        return sum(holes.count for holes in self.holes)


@dataclass(frozen=True)
class HoleSchedule:
    """Day by day, what each drill bores; of a day the drill that is wanted first comes first."""

    runs: list[Run]

    @property
    def totals(self) -> dict[Drill, int]:
        """How many holes each drill bores, smallest drill of each kind first."""
        found: dict[Drill, int] = {}
        for run in self.runs:
            found[run.drill] = found.get(run.drill, 0) + run.count
        return dict(sorted(found.items(), key=lambda item: (item[0].kind, item[0].size)))


def hole_schedule(plan: JobPlan) -> HoleSchedule:
    """The holes as the clock bores them."""
    runs: list[Run] = []
    for day, on_day in groupby(plan.bored, key=lambda holes: holes.day):
        by_drill: dict[Drill, list[Holes]] = {}
        for holes in on_day:
            by_drill.setdefault(holes.drill, []).append(holes)
        runs += [Run(day, drill, own) for drill, own in by_drill.items()]
    return HoleSchedule(runs)
