"""The parts of a job sheet's plan, each on a case that is worked by hand beside it: what a fitting asks of a mix, what
goes with it, what each line of its card is on the clock, and how a plan is told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil, pi
from typing import cast

import pytest

from generator.jobs.fittings import PLATE_DRILL, work_fittings
from generator.jobs.plan import (
    SCALE,
    Batch,
    Cup,
    Holes,
    JobPlan,
    NoWay,
    Planner,
    _chains,
    _content,
    _duration,
    _effort,
    _least_day,
    _numbered,
    _parted,
    _thickened,
    _together_in,
    _waits,
    _weighable,
    bit,
    line_of,
    pair_name,
    parts_until,
    weighed_out,
)
from generator.model.library import Library, Reader
from generator.schedule.mixes import Exchange
from generator.schedule.timetable import BUDGET, DAY, Hold, Hours, Lot, Mix, NoPlace, Part, Slot, Timetable

H, MINUTE = 3600, 60
Of = Callable[..., Planner]

# Polysulfide, 14 d at 23 °C, and twice as long for ten degrees colder: 14 x 2^0.3 = 17.2 at 20 °C, to the day.
RUBBER = 18 * DAY

SHEET = """\
title: By hand
purpose: A sheet small enough to work by hand.
boat: A block of wood.
conditions:
  {shop: metric, temperature: 20 °C, hardener: medium, ratio: "2:1 by volume", syringe: 20 mL, crew: "CREW", team: "TEAM",
   helper: a neighbour, prepare: PREPARE, start: 2027-06-01 08:00, hours: 08:00 to 17:00MORE}
fittings:
"""


@pytest.fixture(scope="module")
def of(library: Library, tmp_path_factory: pytest.TempPathFactory) -> Of:
    """The planner of a sheet of these fittings alone, nothing else of which is checked."""
    root = tmp_path_factory.mktemp("hand") / "procedures"
    (root / "jobs").mkdir(parents=True)

    def read(*fittings: str, crew: int = 1, team: int = 1, prepare: str = "8 min", more: str = "") -> Planner:
        conditions = {"CREW": f"{crew}", "TEAM": f"{team}", "PREPARE": prepare, "MORE": more}
        text = SHEET + "".join(fittings)
        for name, said in conditions.items():
            text = text.replace(name, said)
        (root / "jobs/own.yaml").write_text(text, encoding="utf-8")
        own = replace(library, layers=(root,), documents={**library.documents}, job_sheets={}, spoilt={})
        faults: list[object] = []
        Reader(own, faults).read_job_sheet("own")  # type: ignore[arg-type]
        assert not faults
        worked = {one.name: one for one in work_fittings(own, "own")}
        return Planner(own, own.job_sheets["own"].conditions, worked)

    return read


def plugs(name: str = "plugs", count: int = 2, holes: int = 3, wide: int = 10, more: str = "") -> str:
    """Worn holes in wood 20 mm thick, of 3 min each. Cut 6 mm wider than what is to clear, of 16 mm one sheds its heat
    and is filled at once, and of 22 mm it is filled in two layers."""
    given = f'thread: M6, T_wo: 20 mm, D_wo: {wide} mm, a_wo: 3 mm, n_h: "{holes}", w_a: 0 %, u_s: 100 %, w_h: 50 g/m2'
    return (
        f'  - {{name: {name}, card: worn-hole, where: a block, count: "{count}", given: {{{given}}}, waits: {{dry: 1 d}}, '
        f"no_load: A test.{more}}}\n"
    )


def stud(name: str = "stud", more: str = "") -> str:
    """A bonded stud that is taken out with heat, from its head."""
    given = "{thread: M8, metal: silicon-bronze, L_k: 10 mm}"
    return f"  - {{name: {name}, card: heat-removal, where: a block, given: {given}, no_load: A test.{more}}}\n"


# What a fitting asks of a mix


def neat(pieces: int, layers: int = 1) -> float:
    """Resin and hardener (g) for so many fittings of three bores of 16 mm, 20 mm deep, or in two layers of 22 mm. Dense
    mineral filler, stiff: 1.4 of loose filler at 0.8 g/mL to 1 of mix; 50 g/m2 on the walls; of each mix 5 g are kept
    plain, and 5 g thickened are spread as a sample."""
    bore = 16 if layers == 1 else 22
    mix, filler = (2 * 1.15 + 0.98) / 3, 1.4 * 0.8
    share = filler / (filler + mix)
    volume = pieces * 3 * pi / 4 * bore**2 * 20 / layers / 1000
    coat = pieces * 3 * pi * bore * 20 / layers * 50e-6
    return (volume / ((1 - share) / mix + share / 2.7) + 5) * (1 - share) + 5 + coat


def test_what_a_mix_can_do(of: Of) -> None:
    plan = of(plugs(), crew=5, team=2)
    assert (plan.lasts, plan.prepare) == (28 * MINUTE, 8 * MINUTE)
    assert (plan.limits.most, plan.limits.lasts, plan.limits.teams) == (100_000, 20 * MINUTE, 2)  # 100 g
    assert plan.hours == Hours(8 * H, 17 * H, 1, shortest=15 * 60)  # a Tuesday
    assert (plan.begins, plan.shut) == (8 * H, {})
    assert of(plugs(), prepare="10 min").limits.lasts == 18 * MINUTE
    # None is made for less than five minutes, but for a shorter filling.
    own = of(plugs(more=", fill: 1 min"))
    assert own.fill_time(own.fittings["plugs"]) == 3 * MINUTE
    assert [plan._worth_mixing(), own._worth_mixing()] == [5 * MINUTE, 3 * MINUTE]
    nothing = of(stud(), crew=2, team=2)
    assert (nothing.lasts, nothing.limits.lasts, nothing._worth_mixing()) == (0, 1, 0)


def test_what_a_fitting_asks_of_a_mix(of: Of) -> None:
    plan = of(plugs())
    one = plan.fittings["plugs"]
    kind = plan._kind(one, 1)
    assert (kind.name, kind.count, kind.time, kind.teams) == ("1 plugs", 2, 9 * MINUTE, 1)  # three bores of 3 min
    # In milligrams, rounded up; the second has no sample and nothing plain of its own.
    assert kind.mass == ceil(neat(1) * 1000)
    assert kind.together == (ceil(neat(1) * 1000), ceil(neat(2) * 1000))
    # 40 min to find out, 20 to bore and 10 to hang it up to dry, for a day; 5 to read the meter.
    assert kind.soonest == 75 * MINUTE + DAY
    assert (kind.after, kind.lags) == (frozenset(), {})
    assert plan.cups_of(one, 1) == 1
    broken = of(plugs(more=", fill: 1.675 min"))  # 100.5 s for each of three
    assert broken.fill_time(broken.fittings["plugs"]) == 302
    # The card's 20 min for its line are 3 more than 8 to the first bore and 9 for all.
    (brought,) = plan.memory.brought
    assert (brought.own, brought.layered, brought.holds) == (3 * MINUTE, False, ())
    assert [part.hands for part in brought.parts] == [
        minutes * MINUTE for minutes in (5, 20, 5, 5)
    ]  # so do meter and looks
    alone = of(plugs(count=1))
    assert alone._kind(alone.fittings["plugs"], 1).together == ()
    # No more than a cup holds, and one that is too much.
    many = of(plugs(count=30))
    together = many._kind(many.fittings["plugs"], 1).together
    assert together[-2] <= 100_000 < together[-1]
    assert len(together) < 30


def test_a_milligram_is_begun_and_noise_is_none(of: Of) -> None:
    plan = of(plugs())
    assert [plan._mg(mass) for mass in (1e-6, 1.00001e-6, 1.5e-6, 1e-6 + 1e-16)] == [1, 2, 2, 1]


def test_a_layer_asks_for_the_one_below(of: Of) -> None:
    plan = of(plugs(wide=16))
    one = plan.fittings["plugs"]
    assert [plan.layers[name][1] for name in ("1 plugs", "2 plugs")] == [1, 2]
    lower, last = plan._kind(one, 1), plan._kind(one, 2)
    assert lower.mass == last.mass == ceil(neat(1, layers=2) * 1000)
    assert (lower.after, lower.soonest) == (frozenset(), 75 * MINUTE + DAY)
    # Two hours at 20 °C with a medium hardener.
    assert (last.after, last.lags, last.soonest) == ({"1 plugs"}, {"1 plugs": 2 * H}, 0)
    # Two are filled and looked at again one after another, and a third would be filled too late.
    assert [plan._room([last.task] * pieces) for pieces in (2, 3)] == [True, False]
    first, second = plan.memory.brought
    assert [len(first.parts), len(second.parts)] == [2, 3]  # the meter comes before the first, two looks after the last
    assert first.layered
    assert [part.wait for part in first.parts] == [0, 2 * H]


def test_a_fitting_in_several_cups_asks_for_a_mix_of_its_own(of: Of) -> None:
    """Twenty-one bores of a minute, and a mix that is in use for twenty."""
    plan = of(plugs(count=1, holes=21, more=", fill: 1 min"), crew=2)
    one = plan.fittings["plugs"]
    assert (plan.fill_time(one), plan.cups_of(one, 1)) == (21 * MINUTE, 2)
    kind = plan._kind(one, 1)
    assert (kind.mass, kind.time, kind.teams, kind.together) == (100_000, 20 * MINUTE, 2, ())
    # The second cup is made in 8 min, and the 21st minute is one more than a mix has.
    assert plan.memory.brought[0].own == (8 + 1) * MINUTE
    (batch,) = plan._batches([{"1 plugs": 1}])
    assert (batch.cups, batch.takes, batch.teams) == (2, (2 * 8 + 21) * MINUTE, 1)
    assert batch.dealt == [{"plugs": 1}]
    # The smallest that is weighed, 15 g, for each cup; and the scale is wanted to the end.
    assert batch.values["m_min"] == pytest.approx(0.03)
    assert plan._mix_holds(batch) == (Hold(SCALE, 0, 37 * MINUTE),)
    # Of each cup 5 g are kept plain and a sample is spread, as of a mix with nothing else.
    assert batch.values["m_b"] * 1000 == pytest.approx(neat(7) + neat(0))
    # By the card a cup holds no more than 100 g, however soon it is filled in.
    heavy = of(plugs(count=1, holes=30, more=", fill: 0.5 min"))
    assert 100 < neat(10) < 110
    assert (heavy.fill_time(heavy.fittings["plugs"]), heavy.cups_of(heavy.fittings["plugs"], 1)) == (15 * MINUTE, 2)
    just = of(plugs(count=1, holes=20, more=", fill: 1 min"))
    assert just.cups_of(just.fittings["plugs"], 1) == 1


def test_what_comes_after_a_cure_is_mixed_so_much_later(of: Of) -> None:
    plan = of(plugs("a"), plugs("b", more=", after: [a]"), plugs("c", more=", after: [{fitting: a, line: bore}]"))
    a, b, c = (plan.fittings[name] for name in "abc")
    # The mix of 20 min and 10 for two looks, of which it is 18 h to be handled; plates in 45 min, refitted in 30, 18 d of
    # the compound, 10 d from the mix for the full cure, of which the longest counts, and 15 min; then 75 min and a day of
    # its own.
    whole = (20 + 10 + 45 + 30 + 15) * MINUTE + RUBBER + 10 * DAY
    assert plan._spent(a, 5, 12) == whole
    assert plan._spent(a, 5, 8) == 20 * MINUTE + 10 * MINUTE + 18 * MINUTE + 18 * H
    assert plan._spent(a, 1, 1) == 0
    assert plan._after(b, 1) == {"1 a": whole + 75 * MINUTE + DAY}
    assert plan._kind(b, 1).after == {"1 a"}
    # What comes after the boring waits for no mix, and what comes after that one waits for the first's.
    assert plan._after(c, 1) == {}
    layered = of(plugs("a", wide=16), plugs("b", more=", after: [{fitting: a, line: fill}]"))
    assert layered._after(layered.fittings["b"], 1) == {"2 a": (20 + 75) * MINUTE + DAY}
    chain = of(plugs("a"), stud("s", more=", after: [a]"), plugs("b", wide=14, more=", after: [s]"), crew=2, team=2)
    out = (30 + 20 + 15 + 20 + 15 + 10 + 60 + 20) * MINUTE
    assert chain._after(chain.fittings["b"], 1) == {"1 a": whole + out + 75 * MINUTE + DAY}


# Which mixes


def test_fittings_alike_whose_layers_are_in_the_same_mixes_stay_together(of: Of) -> None:
    plan = of(plugs(count=4, wide=16), crew=2)
    lots = plan._batches([{"1 plugs": 3}, {"1 plugs": 1}, {"2 plugs": 1}, {"2 plugs": 3}])
    told = [[(share.name, share.pieces, share.first) for share in batch.shares] for batch in lots]
    one, two, last = ("plugs, 1 of 4", 1, 0), ("plugs, 2 to 3 of 4", 2, 1), ("plugs, 4 of 4", 1, 3)
    assert told == [[one, two], [last], [one], [two, last]]
    assert lots[0].layers == {"plugs, 1 of 4": 1, "plugs, 2 to 3 of 4": 1}
    assert lots[3].layers == {"plugs, 2 to 3 of 4": 2, "plugs, 4 of 4": 2}
    share = lots[0].shares[1]
    assert [share.some(0, 2), share.some(0, 1), share.some(1, 2)] == [
        "plugs, 2 to 3 of 4", "plugs, 2 of 4", "plugs, 3 of 4"]  # fmt: skip
    whole = plan._share(plan.fittings["plugs"], 0, 4)
    assert [whole.name, whole.some(0, 4), whole.some(0, 3)] == ["plugs", "plugs", "plugs, 1 to 3 of 4"]
    made = JobPlan(lots, 0, 0.0, 0.0, {})
    assert (made.mixes, made.cups) == (4, 4)


def test_a_mix_is_weighed_and_timed(of: Of) -> None:
    plan = of(plugs(), crew=2)
    (batch,) = plan._batches([{"1 plugs": 2}])
    assert batch.values["m_b"] * 1000 == pytest.approx(neat(2))
    assert batch.values["v_r"] == pytest.approx(2 * batch.values["v_h"])
    assert batch.syringes == 2
    # A team for each, and as on the card 3 min more.
    assert (batch.takes, batch.teams, batch.dealt) == ((8 + 9 + 3) * MINUTE, 2, [{"plugs": 1}, {"plugs": 1}])
    batch.start = 9 * H
    assert batch.end == 9 * H + 20 * MINUTE
    assert plan._mix_holds(batch) == (Hold(SCALE, 0, 8 * MINUTE),)
    assert plan._until_hard(batch) == 18 * H
    assert plan._follows(plan.fittings["plugs"]) == 27 * MINUTE  # the second look
    # Two of one filler and stiffness share a cup, one sample and what is kept plain.
    both = of(plugs("a", count=1), plugs("b", count=1))
    (shared,) = both._batches([{"1 a": 1, "1 b": 1}])
    assert shared.values["m_b"] * 1000 == pytest.approx(neat(2))
    assert [cup.shares for cup in shared.thickened] == [["a", "b"]]
    assert (shared.syringes, shared.takes) == (2, (8 + 9 + 9 + 3) * MINUTE)
    assert shared.thickened[0].neat * 1000 == pytest.approx(neat(2) - 5 - 2 * 3 * pi * 16 * 20 * 50e-6)


def test_no_mix_is_smaller_than_any_of_its_fittings_may_have(of: Of) -> None:
    """Two fittings of which one alone is weighed from 30 g on, and the other from 90 g."""
    few, most = (
        plugs(name, count=1).replace("thread: M6", f"thread: M6, m_min: {least} g")
        for name, least in (("a", 30), ("b", 90))
    )
    plan = of(few, most)
    (batch,) = plan._batches([{"1 a": 1, "1 b": 1}])
    assert neat(2) < 90
    assert batch.values["m_b"] * 1000 == pytest.approx(90)


def test_what_is_thickened_apart(of: Of) -> None:
    plan = of(plugs("a", count=1), plugs("b", count=1), plugs("c", count=1))
    a, b, c = (plan._share(plan.fittings[name], 0, 1) for name in "abc")
    a = replace(a, amounts={"m_t": 0.03, "m_f": 0.01, "v_f": 2e-5})
    b = replace(b, amounts={"m_t": 0.02, "m_f": 0.01, "v_f": 1e-5})
    # 50 g with two samples of 5 g, of which one is left out: nine tenths of each.
    assert _together_in([a, b]) == pytest.approx({"m_t": 0.045, "m_f": 0.018, "v_f": 2.7e-5})
    assert _together_in([a]) == a.amounts
    assert _together_in([replace(c, amounts={})]) == {"m_t": 0, "m_f": 0, "v_f": 0}
    (cup,) = _thickened([a, b])
    assert (cup.shares, cup.neat) == (["a", "b"], pytest.approx(0.027))


def test_a_filler_too_little_for_the_scale_is_made_more_where_there_is_room() -> None:
    """Half a gram is the least that is weighed. Of a quarter with 2 g of mix, twice as much is made, 2 g more."""
    small = {"m_t": 0.00225, "m_f": 0.00025, "v_f": 1e-6}
    cup = Cup("f", "stiff", small, ["a"])
    assert _weighable(cup, 0.0005, 0.002) == Cup(
        "f", "stiff", {"m_t": 0.0045, "m_f": 0.0005, "v_f": 2e-6}, ["a"], weighed=True
    )
    assert _weighable(cup, 0.0005, 0.0019) == replace(cup, too_little=True)
    for filler in (0.0, 0.0005, 0.001):
        enough = replace(cup, values={**small, "m_f": filler})
        assert _weighable(enough, 0.0005, 1.0) is enough


def test_in_two_cups_more_is_made_for_the_scale_than_in_one(of: Of, library: Library) -> None:
    """150 g, of which 2 g with a quarter gram of filler: too much for a cup of 100 g, and in two there is room for 50."""
    plan = of(plugs("a", count=1))
    amounts = {"m_n": 0.15, "m_t": 0.00225, "m_f": 0.00025, "v_f": 1e-6}
    shares = [replace(plan._share(plan.fittings["a"], 0, 1), amounts=amounts)]
    for cups, more in ((1, False), (2, True)):
        ((cup,), weighed) = weighed_out(library, shares, cups)
        assert (cup.weighed, cup.too_little) == (more, not more)
        assert weighed["m_b"] == pytest.approx(0.152 if more else 0.15)


def test_mixes_in_order_of_days_and_of_what_follows(of: Of) -> None:
    plan = of(plugs("a", count=1), plugs("b", count=1), plugs("c", count=1, wide=16, more=", after: [a]"))
    mixes = plan._batches([{"2 c": 1}, {"1 c": 1}, {"1 a": 1}, {"1 b": 1}])
    held = lambda batches: ["".join(batch.layers) + str(max(batch.layers.values())) for batch in batches]  # noqa: E731
    # None before what it waits for, then by the day on which it may begin.
    assert held(plan._in_order(mixes, [0, 0, 2 * DAY, 0])) == ["b1", "a1", "c1", "c2"]
    assert held(plan._in_order(mixes, [0, 0, 0, 2 * DAY - 1])) == ["a1", "c1", "c2", "b1"]
    plan._follows = lambda worked: {"a": 5, "b": 9, "c": 0}[worked.name]  # type: ignore[method-assign]
    # On one day first what has the longest work after it, whatever the hour.
    assert held(plan._in_order(mixes, [0, 0, 0, DAY - 1])) == ["b1", "a1", "c1", "c2"]
    three = of(*(plugs(name, count=1) for name in "abc"), crew=2)
    three._follows = lambda worked: {"a": 5, "b": 9, "c": 7}[worked.name]  # type: ignore[method-assign]
    shared = three._batches([{"1 c": 1}, {"1 a": 1, "1 b": 1}])
    assert held(three._in_order(shared, [0, 0])) == ["ab1", "c1"]
    hot = of(stud(), crew=2, team=2)
    assert hot._follows(hot.fittings["stud"]) == 0


def test_what_a_mix_holds(of: Of) -> None:
    plan = of(plugs())
    clamp, iron = Hold("clamp", 0, 5, 2, after=7), Hold("iron", 3, 4)
    held = plan._held_by_mix([clamp, iron, replace(clamp, number=1, after=2)], 20 * MINUTE, 1)
    assert held == (
        Hold(SCALE, 0, 8 * MINUTE),  # until the first bore
        Hold("clamp", 0, 20 * MINUTE, 3, after=7),
        Hold("iron", 0, 20 * MINUTE, 1),
    )
    assert plan._held_by_mix([], 20 * MINUTE, 2) == (Hold(SCALE, 0, 20 * MINUTE),)
    assert plan._held_by_mix([], 5 * MINUTE, 1) == (Hold(SCALE, 0, 5 * MINUTE),)


def test_in_a_class_a_pair_holds_what_it_makes(of: Of) -> None:
    plan = of(plugs(), crew=6, team=2)
    one = plan.fittings["plugs"]
    assert plan._by_pairs(one, 2, 60) == ()
    paired = replace(one, pair=2)
    assert plan._by_pairs(paired, 1, 60) == (Hold("pair 2", 0, 60, people=True),)
    # Where it takes two pairs, the next one helps, and after the last comes the first.
    assert [hold.thing for hold in plan._by_pairs(paired, 2, 60)] == ["pair 2", "pair 0"]
    # What all pairs lack is told once, by the sheet's name.
    assert plan._told(paired) == "plugs"
    assert plan._told(replace(paired, sheets_name="all plugs")) == "all plugs"
    assert plan._new_lot(plan._share(paired, 0, 2), []).wash.holds == (Hold("pair 2", 0, 15 * MINUTE, people=True),)
    # What it brings to a mix is the same for every pair.
    assert plan._brings(paired, 1) == plan._brings(replace(one, pair=0), 1)


def test_whose_work_it_is(of: Of) -> None:
    plan = of(plugs(), crew=6, team=2)
    share = plan._share(plan.fittings["plugs"], 0, 2)
    paired = replace(share, worked=replace(share.worked, pair=2))
    work = [Slot(0, 60, teams, "plugs", 0) for teams in (1, 2)]
    told = lambda one, slot: JobPlan([], 0, 0, 0, {"plugs": one}).pairs_of(slot, 3)  # noqa: E731
    # Of three pairs the third one's work, with which the first one helps; in a shop it is nobody's own.
    assert [told(paired, slot) for slot in work] == [[2], [2, 0]]
    assert [told(share, slot) for slot in work] == [[], []]


def test_what_is_set_is_looked_at_again(of: Of) -> None:
    given = "{thread: M8, R_c: 400 mm, a_b: 180 mm, b_b: 70 mm}"
    twice = of(f'  - {{name: s, card: released-seat, where: a rail, holes: "4", given: {given}, no_load: A test.}}\n')
    seat = twice.fittings["s"]
    looks = [place for place, line in enumerate(seat.card.plan, 1) if "look" in line.marks]
    # A third of 28 min is 9 min 20 s, and two are 18 min 40 s; the shop's minutes are whole.
    assert [twice._look(seat, number) for number in looks] == [
        (9 * MINUTE, 18 * MINUTE),
        (18 * MINUTE, 27 * MINUTE),
    ]


# What no day has room for


def test_what_has_no_plan_is_told(of: Of) -> None:
    short = of(plugs(), more=', stock: {clamp: "1"}')
    with pytest.raises(NoWay) as error:
        short.check()
    assert error.value.key == "stock"
    assert str(error.value) == (
        "plugs takes 2 of this at once for 'Plug the old hole, bore out': clamp; there is 1. If you have more, say so: "
        "'stock: {clamp: 2}'"
    )
    with pytest.raises(NoWay, match="plugs takes 2 of this at once"):
        short.plan()
    assert "there are 3" in short._too_few(short.fittings["plugs"], "x", "clamp", 5, 3)
    of(plugs(), more=', stock: {clamp: "2"}').check()
    # From the unloading on: 20, then 15, 20, 15, 10 min, an hour and 20 min without a break.
    plan = of(stud(), stud("other"), crew=2, team=2)
    plan.hours = Hours(8 * H, 10 * H + 40 * MINUTE)
    plan.check()
    plan.hours = Hours(8 * H, 10 * H + 39 * MINUTE)
    with pytest.raises(NoWay) as error:
        plan.check()
    two, one = (str(way) for way in (error.value, *error.value.others))
    assert one == (
        "no working day has room for stud: from 'Unload, nuts off, cover the wood' on it takes 2 h 40 min without a "
        "break, and hands work 2 h 39 min at a stretch; give longer hours"
    )
    assert two == one.replace("stud", "other")
    assert error.value.key == "hours"
    # What may be broken off has room on any day.
    plan = of(plugs())
    plan.hours = Hours(8 * H, 8 * H + 30 * MINUTE)
    with pytest.raises(NoWay, match=r"from 'Read the meter: .*' to"):
        plan.check()


def test_the_hours_that_a_mix_wants_are_told(of: Of) -> None:
    """5 min by the meter, the mix of 8 and 9 with 3 more, 18 min until the second look, and 5 min for it: 48 min."""
    plan = of(plugs(count=1))
    one = plan.fittings["plugs"]
    for minutes, room in ((48, True), (47, False)):
        plan.memory.rooms.clear()
        plan.hours = Hours(8 * H, 8 * H + minutes * MINUTE, shortest=900)
        assert plan._room([plan._kind(one, 1).task]) is room
    told = plan._no_room(one, 1, plan._kind(one, 1))
    assert told.startswith(
        "no working day has room for plugs: from 'Read the meter: wood moisture 18\N{NO-BREAK SPACE}% or less, falling no more' "
        "to 'Look once more and top up', which"
    )
    # A look waits for no epoxy, so no warmer place helps; a thread is turned loose when its epoxy is leathery.
    assert told.endswith("it takes 48 min, and hands work 47 min at a stretch; give longer hours")
    assert _waits([Part(1, mixes=True, cures=True, wait=9), Part(1)])
    assert _waits([Part(1, mixes=True), Part(1, cures=True, wait=9), Part(1)])
    assert _waits([Part(1, mixes=True), Part(1, cures=True, pause=9)])
    assert _waits([Part(1, mixes=True), Part(1, since=9, by=19)])
    assert not _waits([Part(1)])
    assert not _waits([Part(1, mixes=True), Part(1, pause=9, most_pause=19, cures=True, wait=9)])
    # Where no day would do, hands or the epoxy are to blame.
    for crew, who in ((1, "one person"), (2, "2 people")):
        few = of(plugs(), crew=crew)
        asked = replace(few._kind(few.fittings["plugs"], 1), teams=crew + 1)
        assert few._no_room(few.fittings["plugs"], 1, asked) == (
            f"what goes with the mix for plugs cannot be done by {who} in the time that the epoxy leaves for it: give a "
            "larger crew, or another hardener"
        )
    lot, mix = Lot("x", 1, [Part(1, mixes=True)]), Mix(["x"], H, 1)
    assert _least_day(lot, mix, 1, {}) == H
    assert [_duration(seconds) for seconds in (0, 59, 60, 61, 3600, 3660, 7199)] == [
        "0 min", "1 min", "1 min", "2 min", "1 h", "1 h 1 min", "2 h"]  # fmt: skip


def test_a_mix_that_two_share_takes_as_long_as_the_longer_adds(of: Of) -> None:
    """5 min by the meter, 8, 9 for the plugs and 6 for the threads, and the 16 that the threads' card has more; within two hours
    of its start the threads are turned loose, in 5."""
    thread = "  - {name: x, card: cast-thread, where: a block, given: {thread: M8, n_h: '2'}, no_load: A test.}\n"
    for first, second in ((plugs(count=1), thread), (thread, plugs(count=1))):
        plan = of(first, second)
        tasks = [plan._kind(*one).task for one in plan.layers.values()]
        loose = round(plan.fittings["x"].time("t_y1"))
        for spare, room in ((0, True), (-1, False)):
            plan.memory.rooms.clear()
            plan.hours = Hours(0, 5 * MINUTE + loose + 5 * MINUTE + spare)
            assert plan._room(tasks) is room
        (batch,) = plan._batches([dict.fromkeys(plan.layers, 1)])
        assert batch.takes == (8 + 9 + 6 + 16) * MINUTE


def test_a_second_begun_is_a_second(of: Of) -> None:
    """Of 480.6 s until the first bore, and so 179.4 s that the card has more."""
    plan = of(plugs(count=1), prepare="8.01 min")
    one = plan.fittings["plugs"]
    (batch,) = plan._batches([{"1 plugs": 1}])
    assert (batch.takes, plan._own(one)) == (481 + 540 + 180, 180)
    assert plan._mix_holds(batch) == (Hold(SCALE, 0, 481),)
    # The meter takes five minutes before it; the second look is 18 minutes after it, and takes five.
    for seconds, room in ((1501 + 23 * MINUTE, True), (1501 + 23 * MINUTE - 1, False)):
        plan.memory.rooms.clear()
        plan.hours = Hours(0, seconds)
        assert plan._room([plan._kind(one, 1).task]) is room
    several = of(plugs(count=1, holes=21, more=", fill: 1 min"), prepare="8.01 min")
    (batch,) = several._batches([{"1 plugs": 1}])
    assert batch.takes == 962 + 21 * MINUTE  # 961.2 s for two cups
    several._kind(several.fittings["plugs"], 1)
    assert several.memory.brought[0].own == 481 + 21 * MINUTE - several.limits.lasts


def test_a_trial_is_worked_for_its_series(of: Of) -> None:
    """Three joints, each with lines of 15, 40, 3, 3, 25 and 15 min; and one hangs under its load for 10, and is watched."""
    plan = of("  - {name: t, card: trial-joint, where: a block, no_load: A test.}\n", crew=2)
    one = plan.fittings["t"]
    parts = plan.parts_of(one)
    assert [part.hands for part in parts] == [3 * minutes * MINUTE for minutes in (15, 40, 3, 3, 25 + 10, 15)]
    # A pull is broken off only between two joints.
    assert [part.stops for part in parts] == [1, 0, 0, 0, 35 * MINUTE, 1]
    (batch,) = plan._batches([{"1 t": 1}])
    assert batch.values["m_b"] == pytest.approx(one.value("m_n"))
    assert plan.cups_of(one, 1) == 1


def test_what_takes_two_people_keeps_two_teams_of_one(of: Of) -> None:
    plan = of(
        "  - {name: x, card: bonded-stepped-hole, where: a block, given: {thread: M8, T: 110 mm}, no_load: A test.}\n",
        crew=2,
    )
    one = plan.fittings["x"]
    (batch,) = plan._batches([{"1 x": 1}])
    assert (plan.fillers(one), batch.teams, batch.dealt) == (2, 2, [{"x": 1}, {"x": 1}])
    assert plan._kind(one, 1).teams == 2
    made = JobPlan([batch], 0, 0.0, 0.0, {share.name: share for share in batch.shares})
    assert made.takes(Slot(0, 1, 2, mix=0)) == 2


def test_a_filler_is_weighed_or_more_is_made_in_a_mix(of: Of, library: Library) -> None:
    """A screw takes 0.28 g of silica: it is thickened with half a gram, and the mix grows by what more of it takes."""
    screw = "  - {name: s, card: bonded-screw, where: a block, no_load: A test.}\n"
    plan = of(screw, crew=2)
    one = plan.fittings["s"]
    (batch,) = plan._batches([{"1 s": 1}])
    (cup,) = batch.thickened
    assert (cup.weighed, cup.values["m_f"]) == (True, pytest.approx(0.0005))
    more = (0.0005 / one.value("m_f") - 1) * (one.value("m_t") - one.value("m_f"))
    assert batch.values["m_b"] == pytest.approx(one.value("m_n") + more)
    assert batch.syringes == 0
    # What the cup still holds beside the mix is the room for more.
    (share,) = plan._batches([{"1 s": 1}])[0].shares
    for room, weighed in ((more + 1e-6, True), (more - 1e-6, False)):
        full = replace(share, amounts={**share.amounts, "m_n": library.constant("m_c") - room})
        ((cup,), _) = weighed_out(library, [full], 1)
        assert (cup.weighed, cup.too_little) == (weighed, not weighed)


def test_parts_without_a_break_stand_together() -> None:
    one, on = Part(1), Part(2, unbroken=True)
    assert [*_chains([one, on, on, one, one, on])] == [(0, [one, on, on]), (3, [one]), (4, [one, on])]
    assert [*_chains([])] == []


# The lines of a card on the clock


def test_lines_are_parts(of: Of) -> None:
    plan = of(plugs())
    find, bore, dry, meter, fill, look, again, plates, refit, cure, tighten = plan.parts_of(plan.fittings["plugs"])
    flat, twist = (Hold(f"drill {name}", 0, 15 * MINUTE) for name in ("flat bit 0.016", "twist drill 0.0065"))
    assert find == Part(40 * MINUTE, stops=1)
    # Three holes of five minutes each; two clamps for as long as it is bored.
    assert bore == Part(20 * MINUTE, stops=1, holds=(flat, Hold("clamp", 0, 20 * MINUTE, 2)))
    assert dry == Part(10 * MINUTE, wait=DAY)
    assert meter == Part(5 * MINUTE, fresh=4 * H)
    assert fill == Part(20 * MINUTE, mixes=True)
    # Three holes of fifteen minutes each, with a drill that bores no wood.
    assert plates == Part(45 * MINUTE, stops=1, holds=(Hold(f"drill {PLATE_DRILL} 0.0065", 0, 45 * MINUTE),))
    assert look == Part(5 * MINUTE, pause=9 * MINUTE, most_pause=18 * MINUTE, cures=True)
    assert again == Part(5 * MINUTE, wait=18 * H, pause=18 * MINUTE, most_pause=27 * MINUTE, cures=True)
    assert refit == Part(30 * MINUTE, wait=RUBBER, holds=(twist,), fumes=RUBBER)  # wet compound all the while
    assert cure == Part(0, wait=10 * DAY, cures=True)
    assert tighten == Part(15 * MINUTE)
    # Two people are two teams of one.
    two = of(plugs(), crew=2)
    assert [part.teams for part in two.parts_of(two.fittings["plugs"])] == [*[1] * 8, 2, 1, 2]
    hot = of(stud(), crew=2, team=2)
    parts = hot.parts_of(hot.fittings["stud"])
    assert [part.unbroken for part in parts] == [False, False, True, True, True, True, True]
    assert [part.heat for part in parts] == [False, False, True, True, True, True, False]
    assert parts[2].holds == (Hold("heating-iron", 0, 15 * MINUTE),)
    assert {part.fumes for part in parts} == {None}


def test_waits_that_come_first_and_clamps_that_stay(of: Of) -> None:
    """A cast thread is turned loose, taken out and fitted after so long from the mix."""
    given = "{thread: M8, n_h: '2'}"
    plan = of(
        f'  - {{name: x, card: cast-thread, where: a block, count: "2", given: {given}, no_load: A test.}}\n', crew=2
    )
    one = plan.fittings["x"]
    wax, bore, fill, look, again, loosen, out, fit = plan.parts_of(one)
    assert (look.pause, look.most_pause, again.pause, again.most_pause, again.wait) == (540, 1080, 1080, 1620, 0)
    assert wax == Part(20 * MINUTE, wait=2 * H, fumes=2 * H)
    assert [(hold.start, hold.end) for hold in bore.holds] == [(0, 10 * MINUTE), (10 * MINUTE, 20 * MINUTE)]
    # Two clamps for each of two holes, until it may be handled.
    assert fill.holds == (Hold("clamp", 0, 30 * MINUTE, 4, after=18 * H),)
    assert loosen == Part(5 * MINUTE, cures=True, since=round(one.time("t_y1")), by=round(one.time("t_y2")))
    assert 0 < (loosen.since or 0) < (loosen.by or 0)
    assert out == Part(20 * MINUTE, pause=18 * H, cures=True)
    assert fit == Part(20 * MINUTE, pause=10 * DAY, cures=True, fumes=H)
    assert plan._spent(one, 6, 9) == 10 * DAY + 45 * MINUTE
    kind = plan._kind(one, 1)
    assert (kind.soonest, kind.time) == (2 * H + 55 * MINUTE, 6 * MINUTE)
    # 30 min are 16 more than 8 to the first thread and 3 for each of two.
    assert (plan.memory.brought[0].own, plan.memory.brought[0].holds) == (16 * MINUTE, fill.holds)
    (batch,) = plan._batches([{"1 x": 2}])
    assert batch.takes == 30 * MINUTE
    assert plan._mix_holds(batch) == (Hold(SCALE, 0, 8 * MINUTE), Hold("clamp", 0, 30 * MINUTE, 8, after=18 * H))
    assert plan._follows(one) == loosen.by
    # Eight clamps are all that there are.
    assert plan._room([kind.task] * 2)
    plan.memory.rooms.clear()
    plan.stock["clamp"] = 7
    assert not plan._room([kind.task] * 2)


def test_a_layer_is_a_part(of: Of) -> None:
    plan = of(plugs(wide=16))
    one = plan.fittings["plugs"]
    parts = plan.parts_of(one)
    layer = Part(20 * MINUTE, mixes=True)
    assert parts[4:6] == [replace(layer, wait=2 * H, cures=True), layer]
    assert [line_of(one, part) for part in range(12)] == [0, 1, 2, 3, 4, 4, 5, 6, 7, 8, 9, 10]
    assert [parts_until(one, line) for line in range(1, 12)] == [1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 12]
    lot = plan._new_lot(plan._share(one, 0, 2), [("x", 1)])
    assert (lot.name, lot.pieces, lot.after, lot.cures, lot.tacky) == ("plugs", 2, [("x", 1)], 10 * DAY, 8 * H)
    assert lot.wash == Part(15 * MINUTE, pause=18 * H, fresh=4 * H)
    plain = of(plugs())
    lot = plain._new_lot(plain._share(plain.fittings["plugs"], 0, 2), [])
    assert (lot.cures, lot.tacky, lot.wash.pause) == (10 * DAY, None, 0)
    hot = of(stud(), crew=2, team=2)
    hot_one = hot.fittings["stud"]
    assert [line_of(hot_one, 3), parts_until(hot_one, 3)] == [3, 3]
    assert hot._new_lot(hot._share(hot_one, 0, 1), []).cures == 0


def test_a_fitting_waits_for_all_of_what_it_comes_after(of: Of) -> None:
    plan = of(plugs("a", wide=16), plugs("b", count=1, more=", after: [{fitting: a, line: fill}]"))
    a, b = plan.fittings["a"], plan.fittings["b"]
    shares = [plan._share(a, 0, 1), plan._share(a, 1, 1), plan._share(b, 0, 1)]
    made = JobPlan([], 0, 0.0, 0.0, {share.name: share for share in shares})
    # Find, bore, dry, meter and two layers, of both pieces.
    assert plan._lot(made, shares[2]).after == [("a, 1 of 2", 6), ("a, 2 of 2", 6)]
    assert plan._lot(made, shares[0]).after == []
    assert plan.parts == 1 + 12 + 12 + 11


def test_the_whole_of_a_small_plan(of: Of) -> None:
    plan = of(plugs()).plan()
    # Both found, bored and hung up one after another in 140 min; a day later the second is read in 5, the first before
    # that, then mixed for both.
    mixed = DAY + 8 * H + (140 + 5) * MINUTE
    assert [(batch.start, batch.takes) for batch in plan.batches] == [(mixed, (8 + 18 + 3) * MINUTE)]
    assert (plan.at_least, plan.mixes, plan.cups) == (1, 1, 1)
    # Bored when both causes are found; when it is hard, the morning after the next, the plates, and then drilled anew.
    plates = 2 * DAY + 8 * H
    refit = plates + 2 * 45 * MINUTE
    assert [(holes.at, holes.count, bit(holes.drill), holes.day) for holes in plan.bored] == [
        (8 * H + 80 * MINUTE, 3, "drill flat bit 0.016", 0),
        (8 * H + 100 * MINUTE, 3, "drill flat bit 0.016", 0),
        (plates, 3, f"drill {PLATE_DRILL} 0.0065", 2),
        (plates + 45 * MINUTE, 3, f"drill {PLATE_DRILL} 0.0065", 2),
        (refit, 3, "drill twist drill 0.0065", 2),
        (refit + 30 * MINUTE, 3, "drill twist drill 0.0065", 2),
    ]
    # With hands enough for both: 70 min and a day, 5 and 20 min, 18 until the second look and 5 for it, 18 h from the mix until
    # the next morning, 45 and 30 min and 18 d; then 15 min.
    assert plan.no_sooner == 2 * DAY + RUBBER + 8 * H + (45 + 30 + 15) * MINUTE
    (slot,) = [slot for slot in plan.clock.slots if slot.mix >= 0]
    assert [share.name for share in plan.shares_of(slot)] == ["plugs"]
    assert plan.takes(slot) == 1
    other = {slot.part: plan.takes(slot) for slot in plan.clock.slots if slot.mix < 0}
    assert other == {0: 1, 1: 1, 2: 1, 3: 1, 5: 1, 6: 1, 7: 1, 8: 2, 10: 2}


def test_a_helper_comes_once_for_what_is_near(of: Of) -> None:
    plan = of(plugs(count=1))
    share = plan._share(plan.fittings["plugs"], 0, 1)
    find, refit = (Slot(0, 1, 1, "plugs", part) for part in (0, 8))

    def at(slot: Slot, start: int, end: int) -> Slot:
        return slot._replace(start=start, end=end)

    slots = [at(refit, 100, 200), at(find, 0, 50), at(refit, 259, 300), at(refit, 400, 500), at(refit, 500, 600)]
    slots += [at(refit, 601, 700)]
    made = JobPlan([], 0, 0.0, 0.0, {"plugs": share}, Timetable(slots))
    assert made.helped(1, 60) == [(100, 300), (400, 700)]
    assert made.helped(1, 59) == [(100, 200), (259, 300), (400, 700)]
    assert made.helped(1, 0) == [(100, 200), (259, 300), (400, 600), (601, 700)]  # what follows at once is one
    assert made.helped(2, 60) == []
    # A wash is one's work.
    assert made.takes(Slot(0, 1, 1, "plugs", -1)) == 1


def test_whoever_shares_a_mix_has_as_many_people_as_any_of_them_takes(of: Of) -> None:
    """A hole is filled by one; a stepped hole by two, and the pilot holes of a cored deck too, which are its first line."""
    studs = (
        "  - {name: x, card: bonded-stepped-hole, where: a block, given: {thread: M8, T: 110 mm}, no_load: A test.}\n"
    )
    deck = "  - {name: d, card: bedded-cored, where: a block, no_load: A test.}\n"
    plan = of(plugs("a", count=1), studs, deck, crew=2)
    batches = plan._batches([{"1 a": 1, "1 x": 1}, {"1 d": 1}])
    made = JobPlan(batches, 0, 0.0, 0.0, {share.name: share for batch in batches for share in batch.shares})
    assert [made.takes(Slot(0, 1, 1, mix=mix)) for mix in (0, 1)] == [2, 1]
    assert [made.takes(Slot(0, 1, 1, "d", part)) for part in (0, 1)] == [2, 1]


# How plans are compared and told


def test_a_layer_that_is_washed_may_have_a_mix_of_its_own(of: Of) -> None:
    plan = of(plugs("a", count=1, wide=16), plugs("b", count=1))
    batches = plan._batches([{"1 a": 1, "1 b": 1}, {"2 a": 1}])
    shares = {share.name: share for batch in batches for share in batch.shares}
    clock = Timetable([Slot(0, 1, 1, "a", -1), Slot(1, 2, 1, "a", 0), Slot(2, 3, 1, mix=0)], {})
    made = JobPlan(batches, 0, 0.0, 0.0, shares, clock)
    assert [*_parted(made)] == [[{"1 a": 1}, {"1 b": 1}, {"2 a": 1}]]
    assert _effort(made) == 2 + 2
    both = plan._batches([{"1 a": 1, "1 b": 1}, {"2 a": 1, "1 b": 0}])
    assert [batch.layers for batch in both] == [{"a": 1, "b": 1}, {"a": 2}]
    more = of(plugs("a", count=1, wide=16), plugs("b", count=2))
    batches = more._batches([{"1 a": 1, "1 b": 1}, {"2 a": 1, "1 b": 1}])
    shares = {share.name: share for batch in batches for share in batch.shares}
    made = JobPlan(batches, 0, 0.0, 0.0, shares, clock)
    one, two, b = {"1 a": 1}, {"2 a": 1}, {"1 b": 1}
    # All of its layers, then one of them.
    apart = [[one, b, two, b], [one, b, {**two, **b}], [{**one, **b}, two, b]]
    assert [*_parted(made)] == apart
    # The first line of a fitting's plan is no washing of it.
    made.clock.slots.append(Slot(0, 1, 1, "b, 1 of 2", 0))
    assert [*_parted(made)] == apart
    assert _content([{"1 a": 1, "1 b": 2}]) == _content([{"1 b": 2, "1 a": 1}]) != _content([{"1 a": 2, "1 b": 1}])


def test_mixes_that_no_day_has_room_for_are_parted(of: Of) -> None:
    plan = of(plugs(count=2))
    kinds = {name: plan._kind(*one) for name, one in plan.layers.items()}
    tried: list[list[dict[str, int]]] = []
    with_clock = plan.with_clock

    def refuse_two(mixes: list[dict[str, int]], exchange: Exchange, *, budget: int) -> JobPlan:
        tried.append(mixes)
        if {"1 plugs": 2} in mixes:
            raise NoWay("hours", "no", {"1 plugs": 2})
        return with_clock(mixes, exchange, budget=budget)

    plan.with_clock = refuse_two  # type: ignore[method-assign,assignment]
    made, mixes = plan.with_room([{"1 plugs": 2}], Exchange(kinds, plan.limits), budget=0)
    assert tried == [[{"1 plugs": 2}], [{"1 plugs": 1}, {"1 plugs": 1}]]
    assert mixes == tried[1]
    assert made.mixes == 2
    for mix in ({"1 plugs": 1}, None):

        def refuse(*_: object, mix: dict[str, int] | None = mix, **__: object) -> JobPlan:
            raise NoWay("hours", "no", mix)

        plan.with_clock = refuse  # type: ignore[method-assign,assignment]
        with pytest.raises(NoWay):
            plan.with_room([{"1 plugs": 1}], Exchange(kinds, plan.limits), budget=0)


def of_rank(rank: int, washed: int = 0, mixes: int = 0) -> JobPlan:
    """A plan of which nothing is known but how good it is."""
    slots = [Slot(0, 0, 1, "x", -1)] * washed
    return JobPlan([cast(Batch, None)] * mixes, 0, 0.0, 0.0, {}, Timetable(slots, {"x": [rank]}))


class Ways:
    """In place of the exchanges between mixes: which plans, each with a letter for its mixes, lead on to which."""

    def __init__(self, others: dict[str, str] | None = None, joined: dict[str, str] | None = None):
        self.of, self.together = others or {}, joined or {}

    def others(self, mixes: list[dict[str, int]]) -> Iterator[list[dict[str, int]]]:
        yield from ([{name: 1}] for name in self.of[letter(mixes)])

    def joined(self, mixes: list[dict[str, int]]) -> Iterator[list[dict[str, int]]]:
        yield from ([{name: 1}] for name in self.together.get(letter(mixes), ""))


def letter(mixes: list[dict[str, int]]) -> str:
    return next(iter(mixes[0]))


def among(plan: Planner, plans: dict[str, JobPlan]) -> list[tuple[str, int]]:
    """Have a planner find these, and none for any other letter; what it asks for, and with which budget."""
    tried: list[tuple[str, int]] = []

    def with_clock(mixes: list[dict[str, int]], exchange: Exchange, *, budget: int = BUDGET) -> JobPlan:
        tried.append((letter(mixes), budget))
        if letter(mixes) not in plans:
            raise NoWay("hours", "no")
        return plans[letter(mixes)]

    plan.with_clock = with_clock  # type: ignore[method-assign,assignment]
    return tried


def test_a_way_to_a_better_plan_may_lead_over_a_worse_one(of: Of, monkeypatch: pytest.MonkeyPatch) -> None:
    """From a to b, which is worse, and from there to d, which is the best; there is no plan for c."""
    plan, ways = of(plugs()), cast(Exchange, Ways({"a": "bbc", "b": "ad", "d": "b"}))
    plans = {"a": of_rank(10), "b": of_rank(12), "d": of_rank(5)}
    plan.parts = 40
    tried = among(plan, plans)
    assert plan._soonest([{"a": 1}], ways) is plans["d"]
    each, few = BUDGET // 450, BUDGET // 16  # 450 looks for forty parts, one for each way, and enough for 16
    assert tried == [
        ("a", each), ("b", each), ("c", each), ("d", each), ("d", few), ("a", few), ("b", few), ("d", BUDGET)
    ]  # fmt: skip
    # Where there are few looks each way has much for it, and none has more before the best has all; the first has its
    # look in any case.
    for looks, found, asked in (
        (0, "a", "aa"),
        (1, "a", "aba"),
        (2, "a", "abca"),
        (3, "d", "abcdd"),
        (8, "d", "abcdd"),
        (9, "d", "abcddabd"),
    ):
        monkeypatch.setattr("generator.jobs.plan.looks_in", lambda budget, parts, looks=looks: looks)
        tried.clear()
        assert plan._soonest([{"a": 1}], ways) is plans[found]
        assert "".join(name for name, _ in tried) == asked


@pytest.mark.parametrize(("parted", "again"), [(3, 5), (5, 3)])
def test_of_parted_layers_and_what_that_leads_on_to_the_better_is_taken(of: Of, parted: int, again: int) -> None:
    plan, soonest = of(plugs()), [of_rank(again), of_rank(9)]
    plan._soonest = lambda *_: soonest.pop()  # type: ignore[method-assign]
    plan.parts = 40
    plan._washed_less = lambda *_: of_rank(parted)  # type: ignore[method-assign]
    plan.numbered = lambda made: made  # type: ignore[method-assign]
    assert plan.plan().clock.rank == of_rank(3).clock.rank


def test_the_best_sharings_of_mixes_are_tried_once_each() -> None:
    """Twenty that were found, and the best of them once more with its mixes in another order, which is worse."""
    found = [((0, number), number, [{f"{number}": 1}, {"x": 1}]) for number in reversed(range(20))]
    found.append(((0, 1), 20, [{"x": 1}, {"0": 1}]))
    assert Planner._few(found, 8) == [[{f"{number}": 1}, {"x": 1}] for number in range(8)]


def test_no_layer_is_washed_for_one_mix_less(of: Of) -> None:
    """Two mixes would do: the first layer and a plug, then the second layer with a plug that comes after that one has
    cured, ten days later, when the layer below has to be washed."""
    plan = of(plugs(count=1, wide=16), plugs("early", count=1), plugs("late", count=1, more=", after: [early]")).plan()
    assert plan.at_least == 2
    assert [batch.layers for batch in plan.batches] == [{"early": 1, "plugs": 1}, {"plugs": 2}, {"late": 1}]
    assert plan.clock.rank[0] == 0
    hot = of(stud(), crew=2, team=2).plan()
    assert (hot.mixes, hot.at_least, [*hot.shares]) == (0, 0, ["stud"])


def test_layers_are_parted_where_that_saves_a_wash(of: Of, monkeypatch: pytest.MonkeyPatch) -> None:
    """A wash counts as two mixes. One of two mixes with a wash is parted, into p, of which none is saved, or into q of
    four; of q two go into one without a wash, into k, but not into j."""
    plans = {
        "a": of_rank(0, washed=1, mixes=2),
        "p": of_rank(0, washed=1, mixes=3),
        "q": of_rank(0, washed=0, mixes=4),
        "j": of_rank(0, washed=1, mixes=3),
        "k": of_rank(0, washed=0, mixes=3),
    }
    names = {id(made): name for name, made in plans.items()}
    parted = {"a": "pq", "k": ""}
    monkeypatch.setattr("generator.jobs.plan._parted", lambda made: ([{name: 1}] for name in parted[names[id(made)]]))
    monkeypatch.setattr("generator.jobs.plan._mixes", lambda made: [{names[id(made)]: 1}])
    plan = of(plugs())
    tried = among(plan, plans)
    assert plan._washed_less(plans["a"], cast(Exchange, Ways(joined={"q": "xjk"})), 99) is plans["k"]
    assert "".join(name for name, _ in tried) == "pqxjk"
    assert {budget for _, budget in tried} == {0}
    # Two mixes more are no gain for one wash, and without looks there is none.
    assert plan._washed_less(plans["a"], cast(Exchange, Ways()), 99) is plans["a"]
    for looks, found in ((1, "a"), (4, "a"), (5, "k")):
        tried.clear()
        assert plan._washed_less(plans["a"], cast(Exchange, Ways(joined={"q": "xjk"})), looks) is plans[found]
        assert len(tried) == looks


def test_what_finds_no_place_is_told_with_its_mix(of: Of, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = of(plugs("a", count=1), plugs("b", count=1))
    exchange = Exchange({name: plan._kind(*one) for name, one in plan.layers.items()}, plan.limits)
    for mix, held in ((0, {"1 a": 1, "1 b": 1}), (-1, None)):

        def refuse(*_: object, mix: int = mix, **__: object) -> Timetable:
            raise NoPlace(["a", "b", "a"], mix)

        monkeypatch.setattr("generator.jobs.plan.timetable", refuse)
        with pytest.raises(NoWay) as error:
            plan.with_clock([{"1 a": 1, "1 b": 1}], exchange)
        assert (error.value.key, error.value.mix) == ("hours", held)
        assert str(error.value).startswith("no working day has room for a, b with what must follow on the same day")


def test_mixes_are_numbered_as_they_are_made(of: Of) -> None:
    plan = of(plugs("a", count=1), plugs("b", count=2), crew=2)
    batches = plan._batches([{"1 a": 1}, {"1 b": 2}])
    shares = {share.name: share for batch in batches for share in batch.shares}
    batches[0].start, batches[1].start = 9 * H, 8 * H
    # The second bore of b is taken up again, and two do one refit at a time.
    slots = [
        Slot(8 * H, 9 * H, 1, mix=1),
        Slot(9 * H, 10 * H, 1, mix=0),
        Slot(10 * H, 10 * H + 600, 2, "b", 1),
        Slot(11 * H, 11 * H + 600, 2, "b", 1, goes_on=True),
        Slot(12 * H, 13 * H, 2, "b", 8),
        Slot(12 * H, 13 * H, 1, "a", -1),
        Slot(10 * H, 10 * H + 600, 1, "a", 1),
    ]
    made = plan.numbered(JobPlan(batches, 0, 0.0, 0.0, shares, Timetable(slots)))
    assert [batch.shares[0].name for batch in made.batches] == ["b", "a"]
    assert [slot.mix for slot in made.clock.slots] == [0, 1, -1, -1, -1, -1, -1]
    assert [(holes.at, holes.share.name, f"{holes.count} holes") for holes in made.bored] == [
        (10 * H, "a", "3 holes"), (10 * H, "b", "6 holes"), (12 * H, "b", "3 holes")]  # fmt: skip


def test_drills_are_held_one_after_another(of: Of) -> None:
    """Two drills of five minutes a hole, and of three holes in 25 min no more than half of it each."""
    for holes, each in ((1, 300), (3, 750)):
        given = f'{{thread: M8, T: 110 mm, n_h: "{holes}"}}'
        plan = of(
            f"  - {{name: x, card: bonded-stepped-hole, where: a block, given: {given}, no_load: A test.}}\n", crew=2
        )
        one = plan.fittings["x"]
        large, guide, clamp = plan._part(one, 1).holds
        assert [(hold.start, hold.end) for hold in (large, guide, clamp)] == [(0, each), (each, 2 * each), (0, 1500)]
        assert plan._things([plan._new_lot(plan._share(one, 0, 1), [])]) == {
            **plan.stock, large.thing: 1, guide.thing: 1}  # fmt: skip
        prepare = plan._part(one, 2)
        # What is degreased may lie for four hours, and gives off solvent for one.
        assert (prepare.fresh, prepare.fumes, prepare.stops) == (4 * H, H, 0)


def test_some_of_several_are_numbered() -> None:
    assert [_numbered("x", 2, 2, 4), _numbered("x", 2, 3, 4)] == ["x, 2 of 4", "x, 2 to 3 of 4"]


def test_two_are_a_pair_and_others_a_team(of: Of) -> None:
    assert [pair_name(of(plugs(), crew=6, team=team).conditions, 1) for team in (2, 3)] == ["pair 2", "team 2"]


def test_when_a_hole_is_bored(of: Of) -> None:
    plan = of(plugs())
    share = plan._share(plan.fittings["plugs"], 0, 2)
    bore = share.worked.bores[0]
    assert [Holes(at, share, bore, 1).day for at in (DAY - 1, DAY)] == [0, 1]
