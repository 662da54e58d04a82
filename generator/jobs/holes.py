"""The hole schedule: every hole of the job by drill, in rounds between cures, with as few drill changes as can be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..model.schema import Bore
from ..schedule.drills import fewest_changes
from .fittings import Worked


@dataclass(frozen=True)
class Drill:
    """A drill of a size (m), of a kind that the shop names."""

    kind: str
    size: float


@dataclass(frozen=True)
class Holes:
    """Holes alike: which fitting, which hole of it, how many in all."""

    worked: Worked
    bore: Bore
    drill: Drill
    count: int


@dataclass(frozen=True)
class Run:
    """All that is bored while one drill is in the chuck."""

    round: int
    drill: Drill
    holes: Sequence[Holes]

    @property
    def count(self) -> int:
        """How many holes."""
        return sum(holes.count for holes in self.holes)


@dataclass(frozen=True)
class HoleSchedule:
    """Runs in order; `at_least` is the fewest that any order of the rounds could have."""

    runs: list[Run]
    at_least: int

    @property
    def totals(self) -> dict[Drill, int]:
        """How many holes each drill bores, smallest drill of each kind first."""
        found: dict[Drill, int] = {}
        for run in self.runs:
            found[run.drill] = found.get(run.drill, 0) + run.count
        return dict(sorted(found.items(), key=lambda item: (item[0].kind, item[0].size)))


def hole_schedule(fittings: Sequence[Worked]) -> HoleSchedule:
    """Bore round by round. A round is what may be bored before the next cure: what a card bores after its own mix is a
    round later, and so is a fitting that waits for a cure, or for holes, of another."""
    cures = cures_before(fittings)
    by_round: dict[int, list[list[Holes]]] = {}
    for worked in fittings:
        for late in (False, True):
            bores = [bore for bore in worked.bores if is_late(worked, bore) == late]
            holes = [_holes(worked, bore) for bore in bores]
            if holes:
                by_round.setdefault(cures[worked.name] + late, []).append(holes)
    runs: list[Run] = []
    at_least = 0
    for number, key in enumerate(sorted(by_round), 1):
        found, least = _runs(number, by_round[key])
        runs += found
        at_least += least
    return HoleSchedule(runs, at_least)


def cures_before(fittings: Sequence[Worked]) -> dict[str, int]:
    """In which round each fitting is first bored: after how many cures, and after all that it waits for is bored."""
    by_name = {worked.name: worked for worked in fittings}
    found: dict[str, int] = {}

    def of(name: str) -> int:
        if name not in found:
            found[name] = max((after(before, line) for before, line in by_name[name].before), default=0)
        return found[name]

    def after(name: str, line: int) -> int:
        worked = by_name[name]
        bored = [of(name) + is_late(worked, bore) + 1 for bore in worked.bores if worked.bored_by(bore) <= line]
        cured = of(name) + (worked.mix_line is not None and line >= worked.mix_line)
        return max([cured, *bored])

    return {name: of(name) for name in by_name}


def is_late(worked: Worked, bore: Bore) -> bool:
    """Whether the card bores it after its own mix."""
    return worked.mix_line is not None and worked.bored_by(bore) > worked.mix_line


def _holes(worked: Worked, bore: Bore) -> Holes:
    kind = worked.job.titles[bore.kind] if bore.kind else "twist drill"
    return Holes(worked, bore, Drill(kind, round(worked.value(bore.size), 9)), worked.fitting.pieces * worked.holes)


def _runs(number: int, lists: list[list[Holes]]) -> tuple[list[Run], int]:
    """The runs of one round. Larger drills are named first, so that of equal rows the larger drill leads."""
    lists = sorted(lists, key=lambda holes: (-holes[0].drill.size, holes[0].drill.kind))
    row = fewest_changes([[holes.drill for holes in one] for one in lists])
    left = [list(one) for one in lists]
    runs = []
    for drill in row.drills:
        bored = []
        for one in left:
            while one and one[0].drill == drill:
                bored.append(one.pop(0))
        runs.append(Run(number, drill, bored))
    return runs, row.at_least
