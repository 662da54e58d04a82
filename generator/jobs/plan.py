"""Mixes and the clock: what each mix holds, and when each part of each fitting is done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil

from ..errors import Faults
from ..formula import FORMULARY
from ..model.jobsheet import DAYS, Conditions
from ..model.library import Library, read_symbol
from ..schedule.mixes import Kind, Limits, deal, fewest_mixes
from ..schedule.timetable import Hours, Lot, Mix, NoPlace, Part, Timetable, timetable
from ..units import read_quantity
from ..working import work
from .fittings import Worked

# Waits that count from the mix: they are times of the cure.
CURES = ("t_c", "t_y1", "t_h", "t_l", "t_f")
# Masses are planned in whole milligrams, a fitting's rounded up.
_MG = 1e6


@dataclass(frozen=True)
class Share:
    """Some fittings alike in one mix; `name` tells them from the rest of their kind."""

    name: str
    worked: Worked
    pieces: int


@dataclass(frozen=True)
class Cup:
    """What is thickened with one filler to one stiffness: symbols of the card's own working, summed (SI)."""

    filler: str
    consistency: str
    values: Mapping[str, float]


@dataclass
class Batch:
    """One mix. `values` holds what to weigh out (SI); `cups` counts how many cups one after another it is mixed in."""

    shares: list[Share]
    values: dict[str, float]
    thickened: list[Cup]
    syringes: int
    cups: int = 1
    takes: int = 0
    teams: int = 1
    start: int = 0


@dataclass
class JobPlan:
    """The batches in order with the least number there could be, and the timetable."""

    batches: list[Batch]
    at_least: int
    lasts: float
    prepare: float
    shares: dict[str, Share]
    clock: Timetable = field(default_factory=Timetable)

    @property
    def mixes(self) -> int:
        """How many mixes in all."""
        return sum(batch.cups for batch in self.batches)


def plan_job(library: Library, name: str, fittings: Sequence[Worked]) -> JobPlan:
    """Plan the mixes and the clock. Raises Faults where the conditions leave no way."""
    conditions, document = library.job_sheets[name].conditions, library.documents[f"jobs/{name}.yaml"]
    planner = _Planner(library, conditions, {worked.name: worked for worked in fittings})
    try:
        return planner.plan()
    except _NoWay as error:
        raise Faults([document.fault(("conditions", error.key), str(error))]) from None


class _NoWay(Exception):
    def __init__(self, key: str, message: str):
        self.key = key
        super().__init__(message)


class _Planner:
    def __init__(self, library: Library, conditions: Conditions, fittings: Mapping[str, Worked]):
        assert library.shop_sizes
        self.conditions, self.fittings = conditions, fittings
        self.prepare = read_symbol("t_x", library.shop_sizes.prepare.value)
        self.cup = read_symbol("m_c", library.shop_sizes.cup.value)
        self.cured: dict[str, set[str]] = {}
        self.mixed = [worked for worked in fittings.values() if worked.mix_line]

    def plan(self) -> JobPlan:
        lasts = min((worked.value("t_w") for worked in self.mixed), default=0.0)
        if self.mixed and lasts <= self.prepare:
            raise _NoWay(
                "hardener",
                f"a mix lasts {lasts / 60:.0f} min and it takes {self.prepare / 60:.0f} min to the first fitting, so "
                "none can be used: take a slower hardener, or work where it is cooler",
            )
        self.limits = Limits(int(self.cup * _MG + 0.5), max(1, int(lasts - self.prepare)), self.conditions.teams)
        found = fewest_mixes([self._kind(worked) for worked in self.mixed], self.limits)
        plan = JobPlan([], found.at_least, lasts, self.prepare, {})
        numbers: dict[str, int] = {}
        for load in found.mixes:
            shares = [self._share(name, pieces, numbers) for name, pieces in load.items()]
            plan.batches.append(self._batch(shares))
        plan.at_least += sum(batch.cups - 1 for batch in plan.batches)
        plain = [worked for worked in self.fittings.values() if not worked.mix_line]
        shares = [share for batch in plan.batches for share in batch.shares]
        shares += [Share(worked.name, worked, worked.fitting.pieces) for worked in plain]
        plan.shares = {share.name: share for share in shares}
        self._clock(plan)
        return plan

    # Mixes

    def fill_time(self, worked: Worked) -> int:
        """How long one team uses a mix on one fitting (s)."""
        on = worked.on_the_job
        return ceil(read_quantity(str(on.fill), "s") * worked.each(on.each))

    def cups_of(self, worked: Worked) -> int:
        """In how many cups one after another a fitting's epoxy is mixed: more than one where one would be too much."""
        by_mass = ceil(self._mg(worked) / self.limits.most)
        return max(1, by_mass, ceil(self.fill_time(worked) / self.limits.lasts))

    def _mg(self, worked: Worked) -> int:
        return ceil(worked.value("m_n") * _MG - 1e-6)

    def _kind(self, worked: Worked) -> Kind:
        whole = self.cups_of(worked) > 1
        mass = self.limits.most if whole else self._mg(worked)
        time = self.limits.lasts if whole else self.fill_time(worked)
        return Kind(worked.name, worked.fitting.pieces, mass, time, frozenset(self._cured_before(worked)))

    def _cured_before(self, worked: Worked) -> set[str]:
        """The fittings whose epoxy has cured before this one is begun."""
        if worked.name not in self.cured:
            found: set[str] = set()
            for name, line in worked.before:
                other = self.fittings[name]
                found |= self._cured_before(other)
                if other.mix_line and line >= other.mix_line:
                    found.add(name)
            self.cured[worked.name] = found
        return self.cured[worked.name]

    def _share(self, name: str, pieces: int, numbers: dict[str, int]) -> Share:
        worked = self.fittings[name]
        if pieces == worked.fitting.pieces:
            return Share(name, worked, pieces)
        first = numbers.get(name, 0) + 1
        last = numbers[name] = first + pieces - 1
        which = f"{first}" if first == last else f"{first} to {last}"
        return Share(f"{name}, {which} of {worked.fitting.pieces}", worked, pieces)

    def _batch(self, shares: list[Share]) -> Batch:
        any_of = shares[0].worked
        neat = sum(share.pieces * share.worked.value("m_n") for share in shares)
        cups = max(self.cups_of(share.worked) for share in shares)
        least = max(share.worked.value("m_min") if "m_min" in share.worked.card.givens else 0 for share in shares)
        ratio = {symbol: any_of.value(symbol) for symbol in ("n_w", "rho_r", "rho_h")}
        amounts = work(("m_b", "m_r", "m_h", "v_r", "v_h"), {**ratio, "m_n": neat, "m_min": least * cups}).values
        syringes = sum(
            share.pieces * share.worked.each("n_s") for share in shares if "n_s" in share.worked.job.working.values
        )
        batch = Batch(shares, amounts, _thickened(shares), syringes, cups)
        self._time(batch)
        return batch

    def _time(self, batch: Batch) -> None:
        """How long a mix with all its work takes: its making, the busiest team, and what the card adds to both."""
        times = [self.fill_time(share.worked) for share in batch.shares for _ in range(share.pieces)]
        own = 0
        for share in batch.shares:
            line = share.worked.card.plan[(share.worked.mix_line or 1) - 1]
            hands = read_quantity(line.active, "s") if line.active else 0.0
            own = max(own, ceil(hands - self.prepare - self.fill_time(share.worked)))
        if batch.cups > 1:
            batch.teams, busy = 1, sum(times)
        else:
            team_of = deal(times, self.limits)
            assert team_of is not None
            loads = [0] * self.limits.teams
            for team, time in zip(team_of, times, strict=True):
                loads[team] += time
            batch.teams, busy = sum(1 for load in loads if load), max(loads)
        batch.takes = ceil(batch.cups * self.prepare) + busy + max(0, own)

    # The clock

    def _clock(self, plan: JobPlan) -> None:
        conditions = self.conditions
        opens, closes = conditions.opens_and_closes
        days = frozenset(DAYS.index(day) for day in conditions.days)
        hours = Hours(opens, closes, conditions.first_day.weekday(), days)
        lots = [self._lot(plan, share) for share in plan.shares.values()]
        mixes = [Mix([share.name for share in batch.shares], batch.takes, batch.teams) for batch in plan.batches]
        try:
            plan.clock = timetable(lots, mixes, conditions.teams, hours, conditions.begins)
        except NoPlace as error:
            raise _NoWay(
                "hours",
                f"no working day has room for the mix of {error} with what must follow it on the same day: give longer "
                "hours, or another hardener",
            ) from None
        for slot in plan.clock.slots:
            if slot.mix >= 0:
                plan.batches[slot.mix].start = slot.start
        order = sorted(range(len(mixes)), key=lambda number: plan.batches[number].start)
        plan.batches = [plan.batches[number] for number in order]
        plan.clock.slots = [
            replace(slot, mix=order.index(slot.mix)) if slot.mix >= 0 else slot for slot in plan.clock.slots
        ]

    def _lot(self, plan: JobPlan, share: Share) -> Lot:
        after = [
            (other.name, line)
            for name, line in share.worked.before
            for other in plan.shares.values()
            if other.worked.name == name
        ]
        return Lot(share.name, share.pieces, parts_of(share.worked), after)


def parts_of(worked: Worked) -> list[Part]:
    """The card's plan as parts of a lot."""
    on, parts = worked.on_the_job, []
    for number, line in enumerate(worked.card.plan, 1):
        name = line.id or ""
        own = worked.fitting.waits.get(name)
        cures = own is None and line.wait in CURES and worked.mix_line is not None and number >= worked.mix_line
        by = on.by.get(name)
        parts.append(
            Part(
                hands=ceil(read_quantity(line.active, "s")) if line.active else 0,
                wait=ceil(wait_time(worked, own or line.wait)),
                waits_first=name in on.wait_first,
                cures=cures,
                by=int(worked.value(by)) if by else None,
                mixes=number == worked.mix_line,
            )
        )
    return parts


def wait_time(worked: Worked, wait: str | None) -> float:
    """A wait in seconds: a worked time, or one that is written down."""
    if wait is None:
        return 0.0
    return worked.value(wait) if wait in FORMULARY.symbols else read_quantity(wait, "s")


def _thickened(shares: Sequence[Share]) -> list[Cup]:
    """What each filler takes of the mix: one mix, then a cup of its own for every filler and stiffness."""
    cups: dict[tuple[str, str], dict[str, float]] = {}
    for share in shares:
        titles = share.worked.job.titles
        sums = cups.setdefault((titles["filler"], titles["consistency"]), {"m_t": 0.0, "m_f": 0.0, "v_f": 0.0})
        for symbol in sums:
            sums[symbol] += share.pieces * share.worked.value(symbol)
    return [Cup(filler, stiff, values) for (filler, stiff), values in cups.items()]
