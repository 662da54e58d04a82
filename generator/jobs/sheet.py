"""The whole of a job sheet, worked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..errors import Faults
from ..language import tr
from ..model.jobsheet import JobSheet
from ..model.library import Library
from .fittings import Worked, work_fittings
from .holes import HoleSchedule, hole_schedule
from .lesson import Lesson, plan_class
from .loads import LoadCheck, check_loads
from .plan import JobPlan, NoWay, Planner
from .shopping import Item, shopping_list, unsold
from .trials import add_trials


@dataclass(frozen=True)
class Held:
    """A fitting that is held out of the plan, and why."""

    worked: Worked
    why: str


@dataclass(frozen=True)
class WorkedSheet:
    """A job sheet with everything that its page prints. `fittings` are those that are planned, with their trials; those
    in `held` are not bored, mixed, bought or timed before what holds them is settled. `lesson` is a class's."""

    name: str
    sheet: JobSheet
    fittings: Sequence[Worked]
    held: Mapping[str, Held]
    loads: Sequence[LoadCheck]
    holes: HoleSchedule
    plan: JobPlan
    shopping: Sequence[Item]
    lesson: Lesson | None = None


def work_sheet(library: Library, name: str) -> WorkedSheet:
    """Work the sheet. Raises Faults with everything that is wrong in it."""
    sheet = library.job_sheets[name]
    fittings = work_fittings(library, name)
    loads = check_loads(library, sheet, fittings)
    held = held_out(library, fittings, loads)
    fittings = add_trials(library, sheet, [one for one in fittings if one.name not in held])
    plan, lesson = plan_job(library, name, fittings)
    holes = hole_schedule(plan)
    bought = shopping_list(library, name, fittings, plan, holes)
    return WorkedSheet(name, sheet, fittings, held, loads, holes, plan, bought, lesson)


def plan_job(library: Library, name: str, fittings: Sequence[Worked]) -> tuple[JobPlan, Lesson | None]:
    """The mixes and the clock, and for a class its lesson. Raises Faults where the conditions leave no way."""
    conditions, document = library.job_sheets[name].conditions, library.documents[f"jobs/{name}.yaml"]
    try:
        if conditions.aim == "class":
            return plan_class(library, conditions, fittings)
        return Planner(library, conditions, {worked.name: worked for worked in fittings}).plan(), None
    except NoWay as error:
        faults = [document.fault(("conditions", one.key), str(one)) for one in (error, *error.others)]
        raise Faults(faults) from None


def held_out(library: Library, fittings: Sequence[Worked], loads: Sequence[LoadCheck]) -> dict[str, Held]:
    """What must not be begun: what is a designer's, what falls short, what has no number, what is made for a size that
    nobody sells, and what waits for these."""
    found, own = dict[str, Held](), {one.name: one for one in fittings}
    for one in fittings:
        if one.fitting.designer:
            found[one.name] = Held(
                one, tr("a designer decides: {who}", who=library.designers[one.fitting.designer].who)
            )
    for check in loads:
        if check.falls_short:
            found[check.worked.name] = Held(own[check.worked.name], tr("it falls short of its load"))
        elif check.carries is None:
            why = tr("its load has no number: {reason}", reason=check.reason)
            found.setdefault(check.worked.name, Held(own[check.worked.name], why))
    for one in fittings:
        if why := unsold(library, one):
            found.setdefault(one.name, Held(one, why))
    waiting = True
    while waiting:
        waiting = False
        for one in fittings:
            held = next((name for name, _ in one.before if name in found), None)
            if held and one.name not in found:
                found[one.name], waiting = (
                    Held(one, tr("it comes after {fitting}, which is held out", fitting=held)),
                    True,
                )
    return found
