"""The whole of a job sheet, worked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..model.jobsheet import JobSheet
from ..model.library import Library
from .fittings import Worked, work_fittings
from .holes import HoleSchedule, hole_schedule
from .loads import LoadCheck, check_loads
from .plan import JobPlan, plan_job
from .shopping import Item, shopping_list
from .trials import add_trials


@dataclass(frozen=True)
class WorkedSheet:
    """A job sheet with everything that its page prints."""

    name: str
    sheet: JobSheet
    fittings: Sequence[Worked]
    loads: Sequence[LoadCheck]
    holes: HoleSchedule
    plan: JobPlan
    shopping: Sequence[Item]


def work_sheet(library: Library, name: str) -> WorkedSheet:
    """Work the sheet. Raises Faults with everything that is wrong in it."""
    sheet = library.job_sheets[name]
    fittings = work_fittings(library, name)
    loads = check_loads(library, sheet.conditions, fittings)
    first = [check.worked for check in loads if check.falls_short or check.designers]
    fittings = add_trials(library, sheet, fittings, first)
    plan = plan_job(library, name, fittings)
    holes = hole_schedule(fittings)
    return WorkedSheet(name, sheet, fittings, loads, holes, plan, shopping_list(library, name, fittings, plan, holes))
