"""Plans of random job sheets against a constraint solver, which proves the best there is. More by `judge_plans.py`."""

from __future__ import annotations

import os
import random

import pytest

from generator.errors import Faults
from generator.jobs.fittings import work_fittings
from generator.jobs.sheet import plan_job
from generator.model.library import Library

try:
    from judge_plans import Judge, judged, random_sheet, rightly_refused, with_sheet
except ImportError:
    if os.environ.get("CI"):
        raise
    pytest.skip("no constraint solver here", allow_module_level=True)


# Sheets whose best plan differs from a good one by several changes at once, of which the first alone make it worse; and
# one that takes a mix more so that no layer is washed. One whose mix finds its day only if what takes longest is made
# ready first, and one whose last mix goes before the loosening of another one. One whose best sharing is shown only by
# other orders of its work, while few sharings, each in many orders of its mixes, look better before that.
# The solver finds the best of two of them in no time that a test has; that there is none much better it says soon.
WASHES = 5_700_242
FAR = [(5_700_076, 12, 4.0), (5_700_262, 12, 4.0), (WASHES, 12, 0.2)]
FAR += [(8_800_218, 12, 1.0), (8_800_111, 12, 0.2), (8_900_218, 12, 1.0)]


@pytest.mark.parametrize(("seed", "most", "seconds"), [*((seed, 3, 4.0) for seed in range(12)), *FAR])
def test_a_plan_is_near_the_best_that_there_is(library: Library, seed: int, most: int, seconds: float) -> None:
    sheet = random_sheet(random.Random(seed), most)
    try:
        found = judged(library, sheet, seconds)
    except Faults:
        assert rightly_refused(library, sheet, 4.0)
        return
    assert found.near
    assert found.bound - 1 <= found.ours
    assert found.least_mixes
    if seed == WASHES:  # else it would show nothing of the mix that saves a wash
        assert (found.mixes, found.fewest, found.washed) == (5, 4, 0)


# One in which other work goes into the wait between two parts, one whose best sharing looks worse where what goes into its
# last mix is begun first, one whose best sharing is near another only where the second layer of a fitting goes behind
# its first, one whose mix has room on the first day only if what is made ready for it goes before what dries until
# then, one whose best sharing shows only in the order that is best for another, and one whose first layer waits for a day
# that has room for the looks after the last, and one where a piece is made ready for the mix before others are over;
# with the fewest mixes, and the cost for a fitting under which the solver once proved that no plan is.
@pytest.mark.parametrize(
    ("seed", "mixes", "bound"),
    [
        (9_700_036, 3, 1_484_511),
        (10_100_133, 2, 871_846),
        (10_400_017, 5, 1_906_427),
        (10_400_171, 1, 793_600),
        (10_500_105, 4, 3_080_922),
        (10_600_204, 3, 2_570_050),
        (10_800_266, 2, 2_040_161),
    ],
)
def test_a_plan_is_near_what_was_proved(library: Library, seed: int, mixes: int, bound: int) -> None:
    sheet = random_sheet(random.Random(seed), 12)
    own = with_sheet(library, sheet)
    fittings = work_fittings(own, "random")
    plan, _ = plan_job(own, "random", fittings)
    each = plan.clock.cost / sum(2 * one.fitting.pieces for one in fittings) - sheet.conditions.begins
    assert bound - 1 <= each <= 1.01 * bound
    assert plan.mixes == mixes


@pytest.mark.parametrize("seed", range(3))
def test_no_plan_has_a_mix_less(library: Library, seed: int) -> None:
    sheets = (random_sheet(random.Random(100 * seed + number), 6) for number in range(100))
    for sheet in sheets:
        own = with_sheet(library, sheet)
        fittings = work_fittings(own, "random")
        plan, _ = plan_job(own, "random", fittings)
        if len(plan.batches) > 1:
            assert Judge(own, sheet, fittings, plan.clock.end).solve(len(plan.batches) - 1, 4.0)[0] == "INFEASIBLE"
            return
    raise AssertionError("no sheet of several mixes")
