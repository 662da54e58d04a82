"""The parts of the clock, each on a case that is worked by hand in the line beside it; times are hours of day 0."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import islice

import pytest

from generator.schedule.timetable import (
    DAY,
    Chain,
    Hold,
    Hours,
    Lot,
    Mix,
    NoPlace,
    Part,
    Slot,
    Timetable,
    _after_wait,
    _Apart,
    _Diary,
    _Orders,
    _places_before,
    _Planner,
    _things,
    _Unit,
    _Way,
    looks_in,
    looks_taken,
    no_sooner,
    room,
    timetable,
)

H, MINUTE = 3600, 60
MORNINGS = Hours(8 * H, 12 * H)
# Friday and Monday, with two breaks, the first day shut early.
SOME = Hours(8 * H, 16 * H, 4, frozenset({0, 4}), ((10 * H, 10 * H + 1800), (12 * H, 13 * H)), {0: 14 * H})


def hours(*moments: float) -> list[int]:
    return [round(one * H) for one in moments]


def stretches(windows: Sequence[tuple[int, int]]) -> list[tuple[float, float]]:
    return [(start / H, end / H) for start, end in windows]


def test_working_hours() -> None:
    assert stretches(SOME.spans[0]) == [(8, 10), (10.5, 12), (13, 16)]
    assert SOME.longest == 3 * H
    # Day 0 is a Friday, day 3 the Monday, day 7 the next Friday.
    assert stretches([*islice(SOME.windows(9 * H), 7)]) == [
        (9, 10), (10.5, 12), (13, 14), (80, 82), (82.5, 84), (85, 88), (176, 178)]  # fmt: skip
    assert stretches([*islice(SOME.windows(14 * H), 1)]) == [(80, 82)]
    assert Hours(8 * H, 10 * H, breaks=((8 * H, 9 * H),)).spans[0] == [(9 * H, 10 * H)]
    mondays = Hours(8 * H, 9 * H, days=frozenset({0}))
    assert (
        len([*mondays.windows(0)]) == len([*mondays.windows(8 * DAY)]) + 1 == 105
    )  # from day 8 on that week's is over
    for shut in (10, 10.5):
        assert [*Hours(8 * H, 12 * H, breaks=((10 * H, 10 * H + 1800),), shut={0: round(shut * H)}).windows(0)][:2] == [
            (8 * H, 10 * H), (32 * H, 34 * H)]  # fmt: skip


def test_a_day_of_the_week_may_have_hours_of_its_own() -> None:
    """Evenings on Fridays and Mondays, Saturday from 9 to 17 with an hour off at noon; day 0 is a Friday."""
    week = {0: (19 * H, 21 * H), 4: (19 * H, 21 * H), 5: (9 * H, 17 * H)}
    mixed = Hours(9 * H, 21 * H, 4, frozenset({0, 4, 5}), ((12 * H, 13 * H),), week=week)
    assert stretches([*islice(mixed.windows(0), 4)]) == [
        (19, 21),
        (24 + 9, 24 + 12),
        (24 + 13, 24 + 17),
        (72 + 19, 72 + 21),
    ]
    assert mixed.longest == 4 * H
    assert Hours(9 * H, 21 * H, 4, frozenset({0, 4}), week=week).longest == 2 * H
    assert [mixed.closing(day * DAY + 20 * H) / H for day in (0, 1, 3)] == [21, 24 + 17, 72 + 21]
    # What does not fit an evening waits for the Saturday.
    assert drawn_up(Lot("y", 1, [Part(3 * H)]), on=mixed) == ["33-36 y0"]


def test_how_many_looks_a_budget_has() -> None:
    assert looks_in(16_000, 40) == 300  # 16000 / (40 x 1.3333)
    assert looks_in(100, 300) == 0


def test_how_many_looks_a_dear_look_counts_for() -> None:
    """One, as long as each part is put into the calendar no more than one and a half times."""
    assert [looks_taken(placings, 10) for placings in (0, 15, 30, 60)] == [1, 1, 2, 4]


def test_a_timetable_tells_how_often_a_part_was_put_into_a_calendar(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two fittings of two pieces each with two parts, by as many orders as there are, whole and apart."""
    taken: list[int] = []
    take = _Planner._take
    monkeypatch.setattr(_Planner, "_take", lambda self, *part: (taken.append(self.teams), take(self, *part))[1])
    lots = {name: Lot(name, 2, [Part(2 * H, wait=5 * H), Part(H)]) for name in "xy"}
    made = _Orders(lots, [], 1, MORNINGS, {}, 0)
    found = made.best(1000)
    assert found.placings == taken.count(1) > 50
    assert taken.count(1) < len(taken)  # with hands enough for all it is no look


def test_hours_that_have_been_seen_are_not_tried_again_for_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nine days are alike: what has no room on the first, and in what is left of it, has none on the others."""
    tried: list[int] = []
    whole = _Planner._whole
    monkeypatch.setattr(_Planner, "_whole", lambda self, *where: (tried.append(where[-1]), whole(self, *where))[1])
    lot = Lot("x", 1, [MIXES, Part(600, pause=H, by=6 * H)])
    assert not room([lot], Mix(["x"], 4 * H, 1), 1, MORNINGS)
    assert tried
    assert max(tried) < DAY
    # On the sixth day hands work longer.
    tried.clear()
    longer = replace(MORNINGS, closes=20 * H, week={day: (8 * H, 12 * H) for day in range(7) if day != 5})
    assert room([lot], Mix(["x"], 4 * H, 1), 1, longer)
    assert tried[-1] // DAY == 5


@pytest.mark.parametrize(
    ("hold", "takes", "within"),
    [
        (Hold("x", 0, 30), 20, (0, 20)),
        (Hold("x", 25, 30), 20, (20, 20)),
        (Hold("x", 2, 5, after=7), 20, (2, 12)),
        (Hold("x", 2, 20, after=7), 20, (2, 27)),
        (Hold("x", 2, 21, after=7), 20, (2, 20)),
    ],
)
def test_from_when_to_when_a_thing_is_held(hold: Hold, takes: int, within: tuple[int, int]) -> None:
    assert hold.within(takes) == within


def test_a_part_that_is_taken_up_again_holds_what_is_left() -> None:
    part = Part(100, holds=(Hold("a", 10, 40), Hold("b", 60, 90)))
    assert part.taken_up(0) is part
    assert part.taken_up(40).holds == (Hold("b", 20, 50),)
    assert part.taken_up(70).holds == (Hold("b", 0, 20),)
    assert Part(100).taken_up(50) == Part(100)
    bare = Part(9)
    assert bare.taken_up(5) is bare
    assert (Part(1).bound, Part(1, by=5).bound, Part(1, most_pause=5).bound) == (False, True, True)


def test_parts_without_a_break_between_are_one() -> None:
    one = Part(10, wait=5, teams=2, holds=(Hold("a", 0, 10),))
    two = Part(20, wait=7, heat=True, holds=(Hold("b", 5, 20),))
    whole, lengths = Chain.of([one, two])
    assert lengths == [15, 20]
    assert whole == Part(35, teams=2, heat=True, holds=(Hold("a", 0, 10), Hold("b", 20, 35)))
    assert not Chain.of([one, one]).whole.heat
    assert Chain.of([Part(1, wait=2), Part(4, wait=8), Part(16)]).lengths == [3, 12, 16]
    lot = Lot("x", 1, [Part(1), Part(2), Part(4), Part(8)])
    assert lot.in_one_go(1, 2).whole.hands == 6


MIXES = Part(1, mixes=True)


@pytest.mark.parametrize(
    ("parts", "with_mix"),
    [
        ([Part(1), Part(1, fresh=9), Part(1, fresh=9), MIXES, Part(1, pause=2, most_pause=5), Part(1, pause=3)], {3: (1, 5)}),
        ([Part(1, fresh=3), MIXES], {1: (0, 2)}),
        ([MIXES, Part(1), Part(1, wait=4), Part(1)], {0: (0, 3)}),
        ([MIXES, Part(1), Part(1, wait=4), Part(1, by=9)], {0: (0, 4)}),
        ([Part(1, mixes=True, wait=3), Part(1)], {0: (0, 1)}),
        ([Part(1, mixes=True, wait=3), Part(1, by=5), Part(1)], {0: (0, 2)}),
        ([MIXES, Part(1, pause=1)], {0: (0, 1)}),
        ([MIXES, Part(1), Part(1, unbroken=True)], {0: (0, 1)}),
        ([MIXES, Part(1, by=9), Part(1, unbroken=True)], {0: (0, 3)}),
        ([MIXES, Part(1), Part(1), Part(1, unbroken=True)], {0: (0, 2)}),
        ([MIXES, Part(1)], {0: (0, 2)}),
        ([MIXES, MIXES], {0: (0, 1), 1: (1, 2)}),
    ],
)  # fmt: skip
def test_what_goes_with_a_mix(parts: list[Part], with_mix: dict[int, tuple[int, int]]) -> None:
    assert Lot("x", 1, parts).with_mix == with_mix


def test_what_a_plan_costs() -> None:
    plan = Timetable([Slot(0, 10, 1), Slot(2, 6, 1)], {"a": [20, 17], "b": [5]})
    assert plan.end == 10
    assert plan.ready == {"a": 20, "b": 5}
    assert plan.cost == (10 + 20) + (10 + 17) + (10 + 5)
    assert (Timetable().end, Timetable().cost) == (0, 0)
    # Two layers are washed, which is neither a lot's first part nor a mix.
    layers = [Slot(0, 1, 2, "a", -1), Slot(1, 2, 1, "a", 0), Slot(2, 3, 1, mix=0)]
    assert Timetable(layers).rank == (2, 0)


def busy() -> _Diary:
    """Three on mornings: one free from 8, none from 9, two from 10, all from 11."""
    diary = _Diary(3, MORNINGS)
    diary.take(8 * H, 10 * H, 2)
    diary.take(9 * H, 11 * H, 1)
    return diary


def test_what_is_given_out_and_taken_back() -> None:
    diary = busy()
    assert diary.days == {0: (hours(8, 9, 10, 11, 12), [1, 0, 2, 3])}
    assert diary.most == 3
    diary.take(9 * H, 11 * H, -1)
    assert diary.days == {0: (hours(8, 10, 12), [1, 3])}
    assert diary.most == 2
    diary.take(11 * H, 33 * H, 1)  # over night
    assert diary.days == {0: (hours(8, 10, 11, 12), [1, 3, 2]), 1: (hours(32, 33, 36), [2, 3])}
    assert diary.most == 2
    diary.take(12 * H, 32 * H, 2)  # nobody works then
    assert diary.days[1] == (hours(32, 33, 36), [2, 3])
    assert _Diary(3, MORNINGS).most == 0
    night = _Diary(3, MORNINGS)
    night.take(12 * H, 32 * H, 2)
    assert night.days == {}


@pytest.mark.parametrize(
    ("at", "takes", "number", "clear"),
    [(8, 1, 1, 8), (8, 2, 1, 10), (8, 1, 2, 10), (8, 2, 3, 11), (8, 1, 4, None), (9, 1, 1, 10), (11, 30, 3, 11), (7, 1, 3, 7), (7, 2, 2, 10)],
)  # fmt: skip
def test_when_things_are_free_at_any_time(at: int, takes: int, number: int, clear: int | None) -> None:
    assert busy().clear(at * H, takes * H, number) == (None if clear is None else clear * H)


def test_when_somebody_is_free() -> None:
    assert [*islice(busy().free(round(8.5 * H)), 4)] == hours(8.5, 10, 11, 32)
    assert [*islice(busy().free(9 * H), 2)] == hours(10, 11)
    assert [*islice(busy().free(12 * H), 1)] == hours(32)


@pytest.mark.parametrize(
    ("ready", "takes", "number", "latest", "soonest"),
    [
        (8, 1, 1, None, 8),
        (8, 2, 1, None, 10),  # up to the very end
        (8, 1, 3, None, 11),
        (8, 2, 3, None, 32),
        (8.5, 0.5, 1, None, 8.5),
        (8.5, 1, 1, None, 10),
        (8, 1, 3, 12, 11),
        (8, 1, 3, 11.5, None),
        (32, 1, 1, 33, 32),
        (32, 1, 1, 32.5, None),
        (8, 1, 4, None, None),
        (8, 4, 3, None, 32),
        (8, 5, 1, None, None),
    ],
)
def test_when_so_many_are_free_so_long(
    ready: float, takes: float, number: int, latest: float | None, soonest: float | None
) -> None:
    [begin, long] = hours(ready, takes)
    ends = None if latest is None else round(latest * H)
    assert busy().soonest(begin, long, number, ends) == (None if soonest is None else round(soonest * H))


@pytest.mark.parametrize(
    ("at", "takes", "first"), [(5, 5, 5), (5, 6, 30), (19, 1, 20), (20, 2, 20), (20, 3, 30), (30, 9, 30)]
)
def test_heat_and_fumes_never_meet(at: int, takes: int, first: int) -> None:
    assert _Apart().first([(10, 20), (22, 30)], at, takes) == first
    assert _Apart().first([(22, 30), (10, 20)], at, takes) == first  # in whatever order they were given out


def planner(*lots: Lot, mixes: Sequence[Mix] = (), teams: int = 6, begins: int = 0, **things: int) -> _Planner:
    return _Planner({lot.name: lot for lot in lots}, mixes, teams, MORNINGS, things, begins)


@pytest.mark.parametrize(
    ("part", "at_once"),
    [
        (Part(10, teams=2, holds=(Hold("clamp", 0, 10, 2),)), 2),  # five clamps, two for each
        (Part(10, teams=2, holds=(Hold("clamp", 0, 9, 2),)), 3),  # the clamps go round
        (Part(10, teams=2, holds=(Hold("clamp", 1, 10, 2),)), 3),
        (Part(0, teams=2, holds=(Hold("clamp", 0, 10, 2),)), 3),
        (Part(1, teams=2, holds=(Hold("clamp", 0, 1, 2),)), 2),
        (Part(10, holds=(Hold("gun", 0, 10),)), 1),  # one where nobody says how many
        (Part(10, holds=(Hold("clamp", 0, 10, 9),)), 1),
        (Part(10, teams=4), 1),
    ],
)  # fmt: skip
def test_how_many_can_be_in_a_part_at_once(part: Part, at_once: int) -> None:
    assert planner(clamp=5)._at_once(part) == at_once
    assert planner(clamp=5)._rounds(part, 5) == -(-5 // at_once) * part.hands


def test_the_first_moment_for_a_part() -> None:
    hot = Part(H, heat=True)
    plan = planner(Lot("x", 1, [hot]), clamp=2)
    plan._take(Part(H, holds=(Hold("clamp", 0, H, 2),), fumes=H), Slot(8 * H, 9 * H, 1))
    clamps = Part(H, holds=(Hold("clamp", 1800, H),))
    assert plan._first(clamps, 8 * H, H) == 8 * H + 1800  # so that they are wanted from 9 on
    assert plan._first(Part(H, holds=(Hold("clamp", H, 2 * H),)), 8 * H, H) == 8 * H  # held by none of it
    assert plan._first(Part(1800, holds=(Hold("clamp", H, 2 * H),)), 8 * H, 1800) == 8 * H
    both = (Hold("gun", H, 2 * H), Hold("clamp", 0, 1800))
    assert plan._first(Part(1800, holds=both), 8 * H, 1800) == 9 * H
    assert plan._first(Part(H, holds=(Hold("clamp", 0, H, 3),)), 8 * H, H) is None
    assert plan._first(hot, 8 * H, H) == 10 * H  # an hour after the fumes
    plan._take(hot, Slot(11 * H, 12 * H, 1))
    assert plan._first(Part(H, fumes=0), 11 * H, H) == 32 * H
    assert plan._first(Part(H, fumes=1800), 10 * H, H) == 32 * H  # its fumes would meet the heat
    assert plan._first(Part(H, fumes=0), 10 * H, H) == 10 * H
    plan.back(0)
    assert (plan.slots, plan.apart.heat, plan.apart.fumes, plan.crew.most, plan._thing("clamp").most) == (
        [],
        [],
        [],
        0,
        0,
    )


def test_when_a_part_is_over() -> None:
    assert _after_wait(Part(1, wait=10, cures=True), 5, 3) == 13
    assert _after_wait(Part(1, wait=2, cures=True), 5, 3) == 5
    assert _after_wait(Part(1, wait=10, cures=True), 5, None) == 15
    assert _after_wait(Part(1, wait=10), 5, 3) == 15
    assert _after_wait(Part(1, cures=True), 5, 9) == 5


def test_when_a_lot_may_be_loaded() -> None:
    lot = Lot("x", 2, [Part(1)], cures=30)
    plan = planner(lot)
    plan.each["x"] = [80, 50]
    assert plan.ready_to_load(lot) == [80, 50]
    plan.mixed["x"] = 40
    assert plan.ready_to_load(lot) == [80, 70]
    plan.slots.append(Slot(0, 60, 1))
    assert plan.cost == (60 + 80) + (60 + 70)


@pytest.mark.parametrize(
    ("part", "last"),
    [
        (Part(10, by=7), 9 * H + 7),
        (Part(10, most_pause=60), 10 * H + 60 + 10),  # two pieces at once
        (Part(10, most_pause=3 * H), 12 * H),
        (Part(10, by=H + 50, most_pause=60), 10 * H + 50),
        (Part(10, by=H + 90, most_pause=60), 10 * H + 60 + 10),
        (Part(10), 12 * H),
    ],
)
def test_when_what_belongs_to_a_mix_must_have_ended(part: Part, last: int) -> None:
    lot = Lot("x", 2, [MIXES, part])
    assert planner(lot)._last_end(lot, 1, 9 * H, 10 * H) == last
    assert planner(lot)._last_end(lot, 1, 9 * H + DAY, 10 * H + DAY) == last + DAY


@pytest.mark.parametrize(
    ("since", "by", "last"),
    [
        (2 * H, 3 * H, 11 * H + 30),  # each piece has its turn from then on
        (2 * H, 2 * H + 29, 11 * H + 29),
        (H - 900, 3 * H, 10 * H + 30),  # not while it is mixed
        (3 * H - 10, 4 * H, 12 * H + 20),  # the first of them is begun before work ends
        (3 * H - 9, 30 * H, 32 * H + 30),  # the next morning, as work begins
        (3 * H, 30 * H, 32 * H + 30),
        (3 * H, 4 * H, 13 * H),  # no hands work until then
    ],
)
def test_somebody_is_there_as_soon_as_it_may_be_done(since: int, by: int, last: int) -> None:
    lot = Lot("x", 2, [MIXES, Part(10, since=since, by=by)])
    other = Lot("y", 1, [MIXES, Part(5, most_pause=9), Part(10, since=since, by=by)])
    plan = planner(lot, other, teams=1)
    plan.sharing = [(one.pieces, one.parts) for one in (lot, other)]
    assert plan._last_end(lot, 1, 9 * H, 10 * H) == last


def test_other_work_is_not_put_before_what_may_be_done_from_then_on() -> None:
    """Two hours after the mix is begun, though the other takes an hour and a half from nine on; in a break nobody can."""
    loose = Lot("x", 1, [MIXES, Part(600, since=2 * H, by=6 * H)])
    mix = Mix(["x"], H, 1)
    assert drawn_up(loose, Lot("y", 1, [Part(5400, pause=9 * H)]), mixes=[mix]) == [
        "8-9 mix0", "10-10.1667 x1", "10.1667-11.6667 y0"]  # fmt: skip
    after = drawn_up(loose, mixes=[mix], on=Hours(8 * H, 16 * H, breaks=((9 * H + 1800, 11 * H),)))
    assert after == ["8-9 mix0", "11-11.1667 x1"]
    # So that the next morning has it as work begins.
    assert drawn_up(Lot("z", 1, [MIXES, Part(600, since=21 * H, by=22 * H)]), mixes=[Mix(["z"], H, 1)]) == [
        "11-12 mix0", "32-32.1667 z1"]  # fmt: skip


@pytest.mark.parametrize(
    ("part", "fits"),
    [
        (Part(600, pause=2 * H, by=3 * H), False),  # it would begin as work ends
        (Part(600, pause=H, by=3 * H), True),
        (Part(600, pause=H, by=H + 1800 + 600), True),
        (Part(600, pause=H, by=H + 1800 + 599), False),
        (Part(H, pause=H, by=3 * H), True),  # until work ends
        (Part(H + 1, pause=H, by=3 * H), False),
        (Part(600, since=round(1.5 * H), by=round(1.5 * H) + 600), True),
        (Part(600, since=round(2.5 * H) - 600, by=23 * H), True),
        (Part(600, since=round(2.5 * H) - 599, by=22 * H), False),  # the next morning is too late
        (Part(600, since=600, by=H), True),  # as soon as it is mixed
        (Part(600, pause=2 * H, by=23 * H), True),  # the next morning
        (Part(600, pause=2 * H - 300, by=23 * H), True),  # then too, for of today's five minutes are left
    ],
)
def test_what_belongs_to_a_mix_falls_into_working_hours(part: Part, fits: bool) -> None:
    lot = Lot("x", 1, [MIXES, part])
    assert planner(lot)._in_hours(lot, 0, round(9.5 * H), 10 * H) is fits
    assert planner(lot)._in_hours(Lot("x", 1, [MIXES]), 0, round(9.5 * H), 10 * H)
    # A wait of the mix comes before it, unless it counts from the mix.
    waits = Lot("x", 1, [Part(1, mixes=True, wait=2 * H), Part(600, by=3 * H)])
    cures = Lot("x", 1, [Part(1, mixes=True, wait=2 * H), Part(600, by=3 * H, cures=True)])
    assert [planner(one)._in_hours(one, 0, round(9.5 * H), 10 * H) for one in (waits, cures)] == [False, True]


def test_in_time_and_tacky() -> None:
    plan = planner(Lot("x", 1, [MIXES], tacky=50))
    assert plan._in_time(Part(H), 8 * H, 8 * H) == 8 * H
    assert plan._in_time(Part(H), 8 * H + 1, 8 * H) is None
    assert plan._in_time(Part(H), 8 * H, None) == 8 * H
    assert not plan._dull(plan.lots["x"], 10 * DAY)
    plan.mixed["x"] = 100
    assert [plan._dull(plan.lots["x"], at) for at in (150, 151)] == [False, True]
    assert not plan._dull(Lot("x", 1, [MIXES]), DAY)


def drawn_up(
    *lots: Lot, mixes: Sequence[Mix] = (), teams: int = 1, on: Hours = MORNINGS, begins: int = 0, **things: int
) -> list[str]:
    """A plan in short: from, to, which part of what; with + where it goes on, and with how many teams where not one."""
    plan = timetable(lots, mixes, teams, on, begins, things=things)
    return [
        f"{slot.start / H:g}-{slot.end / H:g} {f'mix{slot.mix}' if slot.mix >= 0 else f'{slot.lot}{slot.part}'}"
        f"{'+' * slot.goes_on}{f' x{slot.teams}' if slot.teams > 1 else ''}"
        for slot in plan.slots
    ]


BROKEN = Hours(8 * H, 16 * H, breaks=((12 * H, 13 * H),))


@pytest.mark.parametrize(
    ("part", "begins", "plan"),
    [
        (Part(6 * H, stops=1), 8, ["8-12 x0", "13-15 x0+"]),
        (Part(3 * H, stops=1), 10, ["10-12 x0", "13-14 x0+"]),
        (Part(3 * H), 10, ["13-16 x0"]),  # not to be broken off
        (Part(3 * H, stops=1), 12, ["13-16 x0"]),
        (Part(3 * H, stops=1), 12 - 899 / H, ["13-16 x0"]),  # too little before the break
        (Part(3 * H, stops=1), 12 - 900 / H, ["11.75-12 x0", "13-15.75 x0+"]),
        (Part(2 * H, stops=1), 10.5, ["10.5-12 x0", "13-13.5 x0+"]),
        (Part(2 * H, stops=1), 10 + 600 / H, ["10.25-12 x0", "13-13.25 x0+"]),  # a quarter of an hour is left for after
        # Ten minutes of it would be left for the next day.
        (Part(4 * H + 2400, stops=1), 10.5, ["10.5833-12 x0", "13-16 x0+", "32-32.25 x0+"]),
        # Begun at 11:45, five minutes would be left for the next day; begun so late that it is more, five before noon.
        (Part(3 * H + 1200, stops=1), 11.75, ["13-16 x0", "32-32.3333 x0+"]),
        # Nine hours leave no afternoon idle, and three begun at two are over sooner than those of tomorrow.
        (Part(9 * H, stops=1), 8, ["8-12 x0", "13-16 x0+", "32-34 x0+"]),
        (Part(3 * H, stops=1), 14, ["14-16 x0", "32-33 x0+"]),
        # Whole hours only: what is left of the morning after one of them is given away.
        (Part(3 * H, stops=H), 10.5, ["10.5-11.5 x0", "13-15 x0+"]),
        (Part(3 * H, stops=3 * H), 10.5, ["13-16 x0"]),
        # One of them is left for after the break.
        (Part(3 * H, stops=H), 9.5, ["10-12 x0", "13-14 x0+"]),
        # What is too little before the break is enough before the night.
        (Part(3 * H + 1200, stops=1), 12 - 899 / H, ["13-16 x0", "32-32.3333 x0+"]),
        # Ten minutes later a quarter of an hour is left for before the break, and for the next day.
        (Part(3 * H + 1800, stops=1), 11.75 - 600 / H, ["11.75-12 x0", "13-16 x0+", "32-32.25 x0+"]),
    ],
)
def test_work_is_broken_off_for_a_break_or_the_night(part: Part, begins: float, plan: list[str]) -> None:
    assert drawn_up(Lot("x", 1, [part]), on=BROKEN, begins=round(begins * H)) == plan


def test_work_goes_on_only_where_hands_and_tools_are_free() -> None:
    # The second of two begins when the first is over, and each goes on in the morning.
    part = Part(5 * H, stops=1)
    assert drawn_up(Lot("x", 2, [part])) == ["8-12 x0", "32-33 x0+", "33-36 x0", "56-58 x0+"]
    # The gun, which the third hour takes, is in other hands from eight to nine of the second day: begun there, not today.
    early = Lot("a", 1, [Part(H, pause=22 * H, holds=(Hold("gun", 0, H),))])
    held = Lot("b", 1, [Part(3 * H, stops=1, holds=(Hold("gun", 2 * H, 3 * H),))])
    for teams, guns, begins in ((2, 1, 32), (2, 2, 10), (1, 2, 33)):
        plan = _Planner({"a": early, "b": held}, [], teams, MORNINGS, {"gun": guns}, 10 * H)
        plan.go_on(early, 1)
        plan.go_on(held, 1)
        assert min(slot.start for slot in plan.slots if slot.lot == "b") == begins * H
    assert drawn_up(Lot("y", 1, [Part(5 * H)]), on=Hours(8 * H, 16 * H)) == ["8-13 y0"]
    with pytest.raises(NoPlace, match=r"\Ax\Z"):
        drawn_up(Lot("x", 1, [Part(5 * H)]))


def test_what_is_broken_off_holds_what_it_still_takes() -> None:
    plan = planner(lot := Lot("b", 1, [Part(3 * H, stops=1, holds=(Hold("gun", 2 * H, 3 * H),))]), begins=10 * H)
    plan.go_on(lot, 1)
    assert [slot.start / H for slot in plan.slots] == [10, 32]
    assert plan.held["gun"].days == {1: (hours(32, 33, 36), [0, 1])}  # the third hour of it


def test_work_is_not_left_half_done_over_days_off() -> None:
    off = Hours(8 * H, 12 * H, off=frozenset({1, 2}))
    assert stretches([*islice(off.windows(0), 2)]) == [(8, 12), (80, 84)]
    assert drawn_up(Lot("x", 1, [Part(3 * H, stops=1)]), on=off, begins=10 * H) == ["80-83 x0"]
    assert drawn_up(Lot("x", 1, [Part(3 * H, stops=1)]), on=MORNINGS, begins=10 * H) == ["10-12 x0", "32-33 x0+"]


def test_work_goes_on_where_days_touch() -> None:
    # Begun at once it is over at two; whole, from midnight on, at three.
    day_and_night = Hours(0, DAY)
    assert drawn_up(Lot("x", 1, [Part(3 * H, stops=1)]), on=day_and_night, begins=23 * H) == ["23-24 x0", "24-26 x0+"]


def test_when_so_much_has_been_done() -> None:
    assert [BROKEN.later(round(at * H), round(by * H)) / H for at, by in ((8, 2), (8, 4), (10, 3), (15, 1), (15, 9))] == [
        10, 13, 14, 32, 57]  # fmt: skip


@pytest.mark.parametrize(
    ("closes", "number", "since"),
    [(12, 1, 10), (12, 2, 10), (12, 3, 11), (9, 1, 0), (9, 2, 9), (10, 1, 10), (12, 4, 12)],
)
def test_from_when_so_many_are_free_until_work_ends(closes: float, number: int, since: float) -> None:
    assert busy().free_since(round(closes * H), number) == since * H
    assert busy().free_since(36 * H, number) == (0 if number < 4 else 36 * H)


def test_work_that_ends_at_midnight_ends_on_its_own_day() -> None:
    diary = _Diary(1, Hours(0, DAY))
    diary.take(20 * H, 23 * H, 1)
    assert diary.free_since(DAY, 1) == 23 * H
    diary.take(DAY, DAY + H, 1)
    assert diary.free_since(DAY, 1) == 23 * H


def test_from_when_a_part_has_what_it_holds_to_its_end() -> None:
    plan = planner(clamp=1, gun=1)
    plan._give(plan._thing("clamp"), 8 * H, round(9.5 * H), 1)
    plan._give(plan.crew, 8 * H, 9 * H, 6)
    whole, some = (Part(4 * H, holds=(Hold("clamp", start * H, 4 * H), Hold("gun", 0, 4 * H))) for start in (0, 2))
    assert [plan._free_since(part, 12 * H) / H for part in (whole, some, Part(H))] == [9.5, 9, 9]
    middle = Part(4 * H, holds=(Hold("clamp", 2 * H, 3 * H),))
    assert plan._free_since(middle, 12 * H) == 9 * H


def test_pieces_and_teams() -> None:
    assert drawn_up(Lot("x", 3, [Part(H)]), teams=2) == ["8-9 x0 x2", "9-10 x0"]
    assert drawn_up(Lot("x", 2, [Part(H, teams=2)]), teams=2) == ["8-9 x0 x2", "9-10 x0 x2"]
    assert drawn_up(Lot("x", 2, [Part(H, holds=(Hold("gun", 0, H),))]), teams=2) == ["8-9 x0", "9-10 x0"]
    assert drawn_up(Lot("x", 2, [Part(H, holds=(Hold("gun", 0, H),))]), teams=2, gun=2) == ["8-9 x0 x2"]
    assert drawn_up(Lot("x", 1, [Part(H, wait=H), Part(H, unbroken=True)]), begins=9 * H) == ["9-11 x0", "11-12 x1"]
    assert drawn_up(Lot("x", 1, [Part(H, wait=H), Part(H, unbroken=True)]), begins=9 * H + 1) == [
        "32-34 x0",
        "34-35 x1",
    ]
    one_go = [Part(H, wait=H), Part(H, unbroken=True), Part(1800)]
    assert drawn_up(Lot("x", 1, one_go), begins=9 * H + 1) == ["32-34 x0", "34-35 x1", "35-35.5 x2"]
    assert drawn_up(Lot("x", 1, [Part(H, wait=H), Part(H, pause=H)])) == ["8-9 x0", "11-12 x1"]
    assert drawn_up(Lot("y", 1, [Part(H)], after=[("x", 1)]), Lot("x", 1, [Part(H, wait=H), Part(H)])) == [
        "8-9 x0", "10-11 x1", "11-12 y0"]  # fmt: skip


def test_a_mix_and_what_goes_with_it() -> None:
    look = Part(600, pause=1200, most_pause=1800, cures=True)
    # Degreased, right before the mix, what stays fresh for two hours, while the other is bored; then mixed once.
    fresh = Lot("a", 1, [Part(H, fresh=2 * H), MIXES, look])
    bored = Lot("b", 1, [Part(3 * H), MIXES])
    shared = [Mix(["a", "b"], 1800, 1)]
    assert drawn_up(fresh, bored, mixes=shared, teams=2, on=BROKEN) == [
        "8-11 b0", "10-11 a0", "11-11.5 mix0", "11.8333-12 a2"]  # fmt: skip
    # The second look, twenty to thirty minutes after the mix, would fall into the break: the mix waits.
    assert drawn_up(Lot("a", 1, [Part(3 * H), MIXES, look]), mixes=[Mix(["a"], 1800, 1)], on=BROKEN, begins=8 * H + 60) == [
        "8.01667-11.0167 a0", "13-13.5 mix0", "13.8333-14 a2"]  # fmt: skip
    # Two coats: the second is sanded first, when the first is hard, where it is tacky no longer.
    coats = Lot("c", 1, [Part(600, mixes=True, wait=5 * H), MIXES], tacky=3 * H, wash=Part(600, pause=4 * H, fresh=H))
    assert drawn_up(coats, mixes=[Mix(["c"], 600, 1), Mix(["c"], 600, 1)], on=Hours(8 * H, 20 * H)) == [
        "8-8.16667 mix0", "13.1667-13.3333 c-1", "13.3333-13.5 mix1"]  # fmt: skip


@pytest.mark.parametrize(
    ("layers", "begins", "closes", "starts"),
    [
        (3, 11, 16, ["11", "13:10", "15:20"]),
        # Begun at noon, only one more could follow before four; in the morning all do, and nothing is washed.
        (3, 12, 16, ["32", "34:10", "36:20"]),
        # No other is mixed on a day of an hour: each is washed the next day, and the first is not kept waiting.
        (4, 8, 9, ["8", "32:10", "56:10", "80:10"]),
        # Three fill a day to the very end, if the first is mixed as it begins.
        (3, 9, 12.5, ["32", "34:10", "36:20"]),
        # Two begun at three would be one today, and one that is washed tomorrow.
        (2, 15, 16, ["32", "34:10"]),
        # No more than three fit on a day: one of four is washed whatever is done, so the first is not kept waiting.
        (4, 12, 14, ["12", "32:10", "34:20", "36:30"]),
        # Two of five follow the wash, so the first waits for a start from which one more follows on its day.
        (5, 12, 14, ["32", "34:10", "36:20", "56:10", "58:20"]),
    ],
)
def test_layers_begin_when_the_others_can_follow(layers: int, begins: int, closes: int, starts: list[str]) -> None:
    """Mixes of ten minutes, two hours between them, tacky for four, washed in ten minutes after ten hours."""
    parts = [*[Part(600, mixes=True, cures=True, wait=2 * H)] * (layers - 1), MIXES]
    lot = Lot("c", 1, parts, tacky=4 * H, wash=Part(600, pause=10 * H, fresh=4 * H))
    plan = timetable([lot], [Mix(["c"], 600, 1)] * layers, 1, Hours(8 * H, round(closes * H)), begins * H)
    found = [divmod(slot.start // MINUTE, 60) for slot in plan.slots if slot.mix >= 0]
    assert [f"{hour}:{minute}" if minute else f"{hour}" for hour, minute in found] == starts


def test_what_finds_no_place() -> None:
    with pytest.raises(NoPlace, match=r"\Ax\Z"):
        timetable([Lot("x", 1, [Part(H, wait=4 * H), Part(H, unbroken=True)])], [], 1, MORNINGS)
    with pytest.raises(NoPlace, match=r"\Ax\Z"):
        timetable([Lot("x", 1, [Part(H, teams=2)])], [], 1, MORNINGS)
    with pytest.raises(NoPlace, match=r"\Ax\Z"):
        timetable([Lot("x", 1, [MIXES])], [Mix(["x"], 5 * H, 1)], 1, MORNINGS)


def test_what_no_week_has_room_for() -> None:
    lot = Lot("x", 1, [Part(9 * H), MIXES, Part(600, pause=H, by=3 * H + 600)])
    assert not room(
        [Lot("x", 1, [*lot.parts[:2], Part(600, pause=H, by=3 * H + 599)])], Mix(["x"], 2 * H, 1), 1, MORNINGS
    )
    assert room([lot], Mix(["x"], 2 * H, 1), 1, MORNINGS)
    assert not room([lot], Mix(["x"], 2 * H, 1), 1, Hours(8 * H, 12 * H, days=frozenset()))  # nobody ever works
    assert not room([lot], Mix(["x"], 4 * H, 1), 1, MORNINGS)
    assert not room([lot], Mix(["x"], 2 * H, 2), 1, MORNINGS)


A1, MIX, A3, B, C = _Unit("a", 1), _Unit(mix=0), _Unit("a", 3), _Unit("b", 1), _Unit("c", 1)


def orders() -> _Orders:
    a = Lot("a", 2, [Part(2 * H, teams=2), Part(H, mixes=True), Part(H, pause=4 * H)])
    b = Lot("b", 1, [Part(6 * H)], after=[("a", 1), ("c", 1)])
    c = Lot("c", 1, [Part(H)])
    return _Orders({"a": a, "b": b, "c": c}, [Mix(["a"], 3 * H, 1)], 3, MORNINGS, {}, 0)


def test_units_and_what_each_waits_for() -> None:
    made = orders()
    assert made.of_lot == {"a": [(A1, 1), (MIX, 2), (A3, 3)], "b": [(B, 1)], "c": [(C, 1)]}
    assert made.before == {A1: set(), MIX: {A1}, A3: {MIX}, B: {A1, C}, C: set()}
    assert made._all_before(A3) == {A1, MIX}
    # Four hands among three teams go twice; the mix with its part; one and its pause.
    assert {unit: made._length(unit) / H for unit in made.units} == {A1: 4, MIX: 4, A3: 5, B: 6, C: 1}


def test_orders_to_begin_with() -> None:
    tail, needed, soon, turn, phase = orders().ranks()
    assert {unit: rank / H for unit, rank in tail.items()} == {A1: -13, MIX: -9, A3: -5, B: -6, C: -7}
    # The only mix waits for one unit; no mix for the others.
    assert {unit: rank - 1e12 * (unit not in (A1, MIX)) for unit, rank in needed.items()} == pytest.approx(
        {A1: -13 * H, MIX: 0, A3: -5 * H, B: -6 * H, C: -7 * H}
    )
    assert {unit: rank / H for unit, rank in soon.items()} == pytest.approx(
        {A1: -1.3, MIX: 3.1, A3: 7.5, B: 3.4, C: -0.7}
    )
    # A first part before what comes after it, and of two the one with more before it.
    assert sorted(turn, key=turn.__getitem__) == [A1, C, MIX, B, A3]
    assert sorted(phase, key=phase.__getitem__) == [A1, C, B, MIX, A3]
    assert phase[A3] - phase[B] == pytest.approx(1e12 + H)
    assert phase[MIX] - phase[B] == pytest.approx(1e9 - 3 * H)
    assert phase[C] == pytest.approx(-1e9 - 7 * H)
    # What comes after a mix and after what is none comes after the mix.
    a, c = Lot("a", 1, [MIXES]), Lot("c", 1, [Part(H)])
    d = Lot("d", 1, [Part(H)], after=[("a", 1), ("c", 1)])
    both = _Orders({"a": a, "c": c, "d": d}, [Mix(["a"], H, 1)], 1, MORNINGS, {}, 0)
    *_, phase = both.ranks()
    assert phase[_Unit("d", 1)] == pytest.approx(1e12 - 1e9 - H)


def test_moves_put_what_ends_last_ahead() -> None:
    lots = {name: Lot(name, 1, [Part(H)]) for name in "xyz"}
    x, y, z = (_Unit(name, 1) for name in "xyz")
    found = Timetable(
        [
            Slot(0, 1, 1, "z", 0),
            Slot(0, 1, 1, "x", 0),
            Slot(1, 2, 1, "y", 0),
            Slot(2, 3, 1, "z", 0),
            Slot(0, 9, 1, mix=0),
        ]
    )
    made = _Orders(lots, [], 1, MORNINGS, {}, 0)
    none = ()
    assert [*made._changes([x, y, z], none, found.slots)] == [([z, x, y], none), ([x, z, y], none), ([y, x, z], none)]
    assert [made._end(unit, found.slots) for unit in (x, z, _Unit(mix=0), _Unit("w", 1))] == [1, 3, 9, 0]
    waits = _Orders({**lots, "z": Lot("z", 1, [Part(H)], after=[("y", 1)])}, [], 1, MORNINGS, {}, 0)
    assert [*waits._changes([x, y, z], none, found.slots)] == [([y, z, x], none), ([y, x, z], none)]


def test_far_moves_come_first_and_each_unit_has_its_turn() -> None:
    assert [*_places_before(5)] == [0, 2, 4, 1, 3]
    assert [*_places_before(0)] == []
    x, y = _Unit("x", 1), _Unit("y", 1)
    slots = [Slot(0, 1, 1, "x", 0), Slot(1, 2, 1, "y", 0), Slot(2, 3, 1, mix=0)]
    lots = {"x": Lot("x", 1, [Part(H)]), "y": Lot("y", 1, [Part(H)]), "m": Lot("m", 1, [MIXES])}
    made = _Orders(lots, [Mix(["m"], H, 1)], 1, MORNINGS, {}, 0)
    mix, none = _Unit(mix=0), (_Way(),)
    begun = made._changes([x, y, mix], none, slots)
    assert [next(begun)[0] for _ in range(3)] == [[mix, x, y], [x, mix, y], [y, x, mix]]
    # The mix has had its turn, and what ends last comes first of the others.
    assert [one for one, _ in made._changes([x, y, mix], none, slots)] == [[y, x, mix], [mix, x, y], [x, mix, y]]


def test_what_mixes_wait_for_goes_in_the_order_of_the_mixes() -> None:
    """Of what has most before it, the short work of the first mix would come last."""
    lots = {"x": Lot("x", 1, [Part(3 * H), MIXES]), "y": Lot("y", 1, [Part(H), MIXES])}
    made = _Orders(lots, [Mix(["y"], H, 1), Mix(["x"], H, 1)], 1, MORNINGS, {}, 0)
    tail, needed, *_ = made.ranks()
    x, y, first, second = _Unit("x", 1), _Unit("y", 1), MIX, _Unit(mix=1)
    assert made._in_order(tail) == [x, y, second, first]
    assert made._in_order(needed) == [y, first, x, second]


def test_what_dried_goes_with_its_mix_where_it_is_done_near_it() -> None:
    begun, dried, mixed = Part(H, wait=2 * H), Part(H // 2), Part(0, mixes=True)
    made_ready = Part(H * 5 // 4, fresh=4 * H)
    for parts, first in (
        ([begun, dried, mixed], 1),
        ([begun, dried, made_ready, mixed], 1),
        ([Part(H), dried, mixed], 2),  # nothing was waited for
        ([begun, Part(H // 2, wait=H), mixed], 2),
        ([begun, dried, Part(0, mixes=True, pause=H)], 2),
        ([begun, mixed], 1),
        ([dried, mixed], 1),
    ):
        [place] = (place for place, part in enumerate(parts) if part.mixes)
        assert Lot("x", 1, parts, near=True).with_mix == {place: (first, place + 1)}
        assert Lot("x", 1, parts).with_mix[place][0] == place - (made_ready in parts)
    # From 8 to 9, dry at 11: two others are made ready from 9 to 11.30, and then it is, and all are mixed from 12 to 13,
    # when work ends. Were it done at 11, the second would be ready at 12.45, too late on that day.
    lots = [Lot("dries", 1, [begun, dried, mixed]), *(Lot(name, 1, [made_ready, mixed]) for name in ("one", "other"))]
    found = timetable(lots, [Mix(["dries", "one", "other"], H, 1)], 1, Hours(8 * H, 13 * H))
    assert [(slot.start / H, slot.end / H) for slot in found.slots] == [
        (8, 9), (9, 10.25), (10.25, 11.5), (11.5, 12), (12, 13)
    ]  # fmt: skip


def test_fine_units_end_at_every_wait() -> None:
    """But for what goes on without a break. Of a lot that is parted so no piece waits for the others."""
    parts = [Part(H, wait=H), Part(H), Part(H, pause=H), Part(H, wait=H), Part(H, unbroken=True)]
    x = Lot("x", 1, parts)
    for fine, ends in ((False, [5]), (True, [1, 2, 5])):
        assert _Orders({"x": x}, [], 1, MORNINGS, {}, 0, fine=fine).units == [_Unit("x", end) for end in ends]
    two = Lot("two", 2, [Part(H, wait=H), Part(H)])
    plan = planner(two, teams=1)
    plan.go_on(two, 1)
    plan.go_on(two, 2)
    assert plan.each["two"] == hours(11, 12)  # 8 to 10 the first part, over at 10 and 11


def test_other_work_goes_between_where_a_lot_waits() -> None:
    """Long work of three hours and a half does not fit after the short one on the first day, nor the end of the short
    one, three hours after its beginning, after the long one. It does between them."""
    short, long = Lot("short", 1, [Part(H, wait=3 * H), Part(2 * H)]), Lot("long", 1, [Part(12_600)])
    assert drawn_up(short, long, on=Hours(8 * H, 16 * H)) == ["8-9 short0", "9-12.5 long0", "12.5-14.5 short1"]


def test_a_mix_is_made_just_in_time_and_what_it_waits_for_ahead() -> None:
    """What the mix M waits for, m, is moved ahead of x, and M ahead of y alone: of fine units only."""
    lots = {name: Lot(name, 1, [Part(H), *([MIXES] if name == "m" else [])]) for name in "mxy"}
    order = [_Unit("x", 1), _Unit("y", 1), _Unit("m", 1), MIX]

    def told(orders: Iterable[list[_Unit]]) -> list[str]:
        return ["".join(unit.lot or "M" for unit in one) for one in orders]

    single = ["mMxy", "xmMy", "yxmM", "mxyM", "xmyM"]
    for fine, changes in ((False, single), (True, [*single, "mxMy"])):
        made = _Orders(lots, [Mix(["m"], H, 1)], 1, MORNINGS, {}, 0, fine=fine)
        assert told(one for one, _ in made._changes(order, (_Way(),), [])) == changes
        assert told(made._moved(order, True, MIX)) == ["mxMy", "mxyM", "mxyM", "xmyM", "xmyM", "xymM"]


@pytest.mark.parametrize(
    ("hands", "begins", "teams", "second", "least"),
    [
        (2, 0, 1, 1, 2 * (12 + 10)),  # four hours of work, and each alone done at ten
        (2, 0, 2, 2, 2 * (11 + 10)),  # six for two teams
        (3, 0, 1, 1, 2 * (34 + 11)),  # until ten the next day
        (3, 9, 1, 1, 2 * (35 + 12)),
        (1, 0, 9, 1, 2 * (9 + 9)),
    ],
)
def test_what_no_plan_is_cheaper_than(hands: int, begins: int, teams: int, second: int, least: int) -> None:
    lots = {"x": Lot("x", 1, [Part(hands * H)]), "y": Lot("y", 1, [Part(hands * H, teams=second)])}
    assert _Orders(lots, [], teams, MORNINGS, {}, begins * H).at_least == least * H


def test_work_on_a_mix_counts_for_what_no_plan_is_cheaper_than() -> None:
    # Three hours of the one and a mix of three are four today and two tomorrow; alone each is done at eleven.
    lots = {"x": Lot("x", 1, [MIXES]), "y": Lot("y", 1, [Part(3 * H)])}
    assert _Orders(lots, [Mix(["x"], 3 * H, 1)], 1, MORNINGS, {}, 0).at_least == 2 * (34 + 11) * H


def test_a_part_is_over_when_its_last_piece_is() -> None:
    lot = Lot("x", 2, [Part(H), Part(H, unbroken=True)])
    plan = planner(lot, teams=1)
    plan.go_on(lot, 2)
    assert plan.over["x"] == hours(11, 12)  # 8 to 10 the first, 10 to 12 the second
    assert plan.each["x"] == hours(10, 12)
    plan.back(0)
    assert (plan.over["x"], plan.each["x"]) == ([], [])


def test_things_are_named_once() -> None:
    parts = [Part(1, holds=(Hold("a", 0, 1), Hold("b", 0, 1))), Part(1, holds=(Hold("a", 0, 1),))]
    assert _things(parts) == ["a", "b"]


def test_heat_counts_only_where_there_is_some() -> None:
    cold = planner(Lot("x", 1, [Part(H)]))
    cold._take(Part(H, fumes=H), Slot(8 * H, 9 * H, 1))
    assert (cold.hot, cold.apart.fumes) == (False, [])
    warm = planner(Lot("x", 1, [Part(H), Part(H, heat=True)]))
    warm._take(Part(H), Slot(8 * H, 9 * H, 1))
    assert (warm.hot, warm.apart.heat, warm.apart.fumes) == (True, [], [])
    # Held for the last half hour only: a thing that is busy until nine is wanted from then on.
    late = planner(clamp=1)
    late._give(late._thing("clamp"), 8 * H, 9 * H, 1)
    late._give(late._thing("clamp"), 10 * H, 11 * H, 1)
    assert late._first(Part(H, holds=(Hold("clamp", 1800, H),)), 8 * H, H) == 8 * H + 1800
    assert late._first(Part(H, holds=(Hold("clamp", 0, 1800),)), 9 * H, H) == 9 * H
    assert late._first(Part(H, holds=(Hold("clamp", 0, H),)), 9 * H, H) == 9 * H  # between the two
    assert late._first(Part(H, holds=(Hold("clamp", 0, H, after=1800),)), 9 * H, H) == 11 * H


def test_nothing_is_held_for_longer_than_its_piece_of_work() -> None:
    plan, part = planner(clamp=1), Part(H, holds=(Hold("clamp", 0, 2 * H),))
    plan._take(part, Slot(8 * H, 9 * H, 1))
    assert plan._thing("clamp").clear(8 * H, H, 1) == 9 * H
    plan._give_back(part, Slot(8 * H, 9 * H, 1))
    assert plan._thing("clamp").most == 0
    late = Part(H, holds=(Hold("clamp", 1800, H),))
    plan._take(late, Slot(8 * H, 9 * H, 1))
    plan._give_back(late, Slot(8 * H, 9 * H, 1))
    assert plan._thing("clamp").days == {0: (hours(8, 12), [1])}


def test_heat_and_fumes_are_given_back_as_they_were_taken() -> None:
    plan = planner(Lot("x", 1, [Part(H, heat=True)]))
    for part in (Part(H, heat=True), Part(H, fumes=1800)):
        for start in (8, 9):
            plan._take(part, Slot(start * H, (start + 1) * H, 1))
        plan._give_back(part, Slot(9 * H, 10 * H, 1))
    assert (plan.apart.heat, plan.apart.fumes) == ([(8 * H, 9 * H)], [(8 * H, 9 * H + 1800)])
    assert [slot.start / H for slot in plan.slots] == [8, 8]


def test_what_is_ready_when() -> None:
    a, b = Lot("a", 1, [Part(1), Part(1), Part(1)]), Lot("b", 1, [Part(1)], after=[("a", 2)])
    plan = planner(a, b, begins=5)
    plan.over["a"] = [10, 20, 40]
    assert plan._ready(a) == 40
    assert plan._ready(b) == 20  # when two parts of the other are over
    plan.over["a"] = [1, 2, 3]
    assert plan._ready(b) == 5


def test_when_the_work_of_a_mix_may_begin() -> None:
    """Besides when somebody is free: so early that what belongs to it begins as work does the next morning."""
    look = Part(600, pause=3 * H, by=30 * H)
    lot = Lot("x", 2, [Part(900, fresh=2 * H), MIXES, look])
    plan = planner(lot, mixes=[Mix(["x"], H, 1)])
    # The mix and the pause, and with what is made ready for two pieces before it.
    assert [*plan._ahead(0)] == [4 * H, 4 * H + 2 * 900]
    timed = planner(Lot("x", 1, [MIXES, Part(600, since=3 * H, by=30 * H)]), mixes=[Mix(["x"], H, 1)])
    assert [*timed._ahead(0)] == [3 * H, 3 * H]
    assert [*islice(plan._before_opening(0, 20 * H), 4)] == hours(27.5, 28, 51.5, 52)
    assert [*islice(plan._starts(0, 20 * H), 4)] == hours(27.5, 28, 32, 51.5)
    plan.over["x"] = [0, 0]  # its mix is made already
    assert [*plan._ahead(0)] == []
    assert [*plan._before_opening(0, 0)] == []
    plan.over["x"] = []
    assert next(plan._before_opening(0, 28 * H)) == 28 * H
    soon = planner(Lot("x", 1, [MIXES, Part(600, pause=1200, most_pause=1800)]), mixes=[Mix(["x"], H, 1)])
    assert [*soon._ahead(0)] == []  # it is over before any break
    both = planner(Lot("x", 1, [MIXES]), mixes=[Mix(["x"], H, 1, holds=(Hold("pair", 0, H, people=True),))])
    both._give(both._thing("pair"), 8 * H, 9 * H, 1)
    assert [*islice(both._starts(0, 8 * H), 2)] == hours(9, 32)  # when that pair is free


def test_pieces_that_share_a_part_go_round_one_after_another() -> None:
    look = Part(600, most_pause=H)
    a, b, c = Lot("a", 2, [MIXES, look]), Lot("b", 3, [MIXES, look]), Lot("c", 4, [MIXES])
    plan = planner(a, b, c)
    assert plan._alike(look, a) == 2
    plan.sharing = [(lot.pieces, lot.parts) for lot in (a, b, c)]
    assert plan._alike(look, a) == plan._alike(look, b) == 5
    assert plan._alike(Part(5), c) == 4


def test_what_belongs_to_the_next_mix_of_a_lot_comes_after_it() -> None:
    look, later = Part(600, most_pause=H), Part(300, by=2 * H)
    lot = Lot("x", 1, [Part(H, fresh=H), MIXES, look, later, Part(H, pause=H), MIXES, later])
    plan = planner(lot)
    assert plan._with_next_mix(lot) == [look, later]
    for over, next_ones in ((1, [look, later]), (2, [later]), (5, [later])):
        plan.over["x"] = [0] * over
        assert plan._with_next_mix(lot) == next_ones


def test_a_run_goes_on_from_where_the_last_one_began_alike() -> None:
    lots = {name: Lot(name, 1, [Part(H)]) for name in "xyz"}
    x, y, z = (_Unit(name, 1) for name in "xyz")
    made = _Orders(lots, [], 1, MORNINGS, {}, 0)
    put: list[_Unit] = []
    place = made.planner.place
    made.planner.place = lambda unit, late: (put.append(unit), place(unit, late))[1]  # type: ignore[method-assign,func-returns-value]
    for order, anew in (([x, y, z], 3), ([x, z, y], 2), ([z, y, x], 3), ([z, y, x], 0)):
        put.clear()
        starts = {slot.lot: slot.start / H for slot in made.run(order).slots}
        assert put == order[3 - anew :]
        assert starts == {unit.lot: 8 + place for place, unit in enumerate(order)}
        assert [unit for unit, *_ in made.placed] == order
    assert [before for *_, before in made.placed] == [
        0,
        4,
        8,
    ]  # a slot, a team, when it is over, and when each piece is


@pytest.mark.parametrize(("hard", "washed"), [(1, 11), (2.5, 11.5)])
def test_a_layer_waits_for_the_wash_though_there_are_hands(hard: float, washed: float) -> None:
    """From eleven on, and the one below, mixed until nine, must be hard."""
    coats = Lot("c", 1, [MIXES, MIXES], tacky=H, wash=Part(600, pause=round(hard * H), fresh=H))
    plan = planner(coats, mixes=[Mix(["c"], 600, 1)] * 2, teams=2)
    plan.mixed["c"], plan.over["c"] = 9 * H, [9 * H]
    assert plan._whole(1, [coats], {"c": 9 * H}, 11 * H)
    assert [(slot.mix, slot.start) for slot in plan.slots] == [(-1, washed * H), (1, washed * H + 600)]


def test_how_many_layers_can_follow() -> None:
    """Ten minutes each, two hours between: from eight on three until twenty to one. After two pieces are washed, twenty
    minutes later, two."""
    layer = Part(600, mixes=True, wait=2 * H)
    lot = Lot("c", 2, [layer, layer, layer, MIXES], tacky=4 * H, wash=Part(600))
    plan = _Planner({"c": lot}, [], 1, Hours(8 * H, 12 * H + 2400), {}, 0)
    plan._let_follow(lot, 0, 8 * H, Mix(["c"], 600, 1), False)
    assert [*plan.runs.values()] == [(3, 2)]


def test_two_lots_that_share_a_mix_find_an_order() -> None:
    """The one whose look may wait goes second; what the first try put down is taken back."""
    early, late = Part(1800, pause=600, by=H + 600 + 1800), Part(1800, pause=600, by=H + 600 + 3600)
    lots = [Lot("late", 1, [MIXES, late]), Lot("early", 1, [MIXES, early])]
    assert drawn_up(*lots, mixes=[Mix(["late", "early"], H, 1)]) == [
        "8-9 mix0",
        "9.16667-9.66667 early1",
        "9.66667-10.1667 late1",
    ]
    tight = Part(1800, pause=600, by=H + 600 + 3599)
    both = [Lot("late", 1, [MIXES, tight]), Lot("early", 1, [MIXES, tight])]
    plan = planner(*both, mixes=[Mix(["late", "early"], H, 1)], teams=1)
    assert not plan._whole(0, both, {"late": 0, "early": 0}, 8 * H)


def test_a_room_is_tried_anew_at_each_start() -> None:
    # At eight the afternoon's look would find nobody; so that it begins as work does, the mix is made late.
    lot = Lot("x", 3, [Part(1800, fresh=4 * H), MIXES, Part(1800, pause=2 * H, by=30 * H, cures=True)])
    assert room([lot], Mix(["x"], H, 1), 1, MORNINGS)
    assert not room(
        [Lot("x", 3, [Part(1800, fresh=H), MIXES, Part(H, pause=2 * H, by=5 * H)])], Mix(["x"], H, 1), 1, MORNINGS
    )


def test_days_that_end_early_and_work_that_never_fits() -> None:
    diary = _Diary(1, Hours(8 * H, 12 * H, shut={0: 10 * H}))
    diary.take(8 * H, 10 * H, 1)
    assert [*islice(diary.free(8 * H), 1)] == [32 * H]  # at ten, when somebody would be free, work is over
    lot = Lot("x", 1, [MIXES, Part(5 * H, by=10_000 * DAY)])
    assert not planner(lot)._in_hours(lot, 0, 8 * H, 9 * H)
    # A second is left for the next day.
    lots = {"x": Lot("x", 1, [Part(2 * H)]), "y": Lot("y", 1, [Part(2 * H + 1)])}
    assert _Orders(lots, [], 1, MORNINGS, {}, 0).at_least == 2 * (32 * H + 1) + 10 * H + 10 * H + 1
    # Three hours and a second for two teams: one of them has an hour and a half and that second.
    lots = {name: Lot(name, 1, [Part(H + (name == "z"))]) for name in "xyz"}
    assert _Orders(lots, [], 2, MORNINGS, {}, 0).at_least == 3 * (9 * H + 1801) + 9 * H + 9 * H + 9 * H + 1


@pytest.mark.parametrize(("budget", "runs"), [(1, 1), (3, 1), (5, 2), (9, 4), (11, 5), (1000, 6)])
def test_how_often_a_budget_looks(budget: int, runs: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two lots for one team, 2.01 of the budget a look: five orders to begin with, and one move, which is no
    better; the best is put down once more."""
    made = _Orders({name: Lot(name, 1, [Part(2 * H)]) for name in "xy"}, [], 1, MORNINGS, {}, 0)
    tried: list[object] = []
    run = made.run
    monkeypatch.setattr(made, "run", lambda *order: (tried.append(order), run(*order))[1])
    found = made.best(budget)
    assert len(tried) == runs + 1
    assert [slot.lot for slot in found.slots] == ["x", "y"]
    assert found.cost == (2 * 12 + 10 + 12) * H > made.at_least
    # Where nothing can be better, as with a team for each, one look is all.
    each = _Orders(made.lots, [], 2, MORNINGS, {}, 0)
    monkeypatch.setattr(each, "run", lambda *order: (tried.append(order), _Orders.run(each, *order))[1])
    tried.clear()
    assert each.best(budget).cost == each.at_least == 2 * (10 + 10) * H
    assert len(tried) == 1 + 1


def test_a_budget_goes_by_all_pieces_in_all_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    parts: list[int] = []
    monkeypatch.setattr("generator.schedule.timetable.looks_in", lambda budget, number: (parts.append(number), 1)[1])
    lots = {"x": Lot("x", 2, [Part(H), Part(H), Part(H)]), "y": Lot("y", 1, [Part(H)])}
    for some in (lots, {}):
        _Orders(some, [], 1, MORNINGS, {}, 0).best(1)
    assert parts == [2 * 3 + 1, 1]


def test_so_many_timetables_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    found: dict[bytes, Timetable] = {}
    monkeypatch.setattr("generator.schedule.timetable._FOUND", found)
    monkeypatch.setattr("generator.schedule.timetable._MOST_FOUND", 2)
    for name, kept in (("x", 1), ("x", 1), ("y", 2), ("z", 1)):
        timetable([Lot(name, 1, [Part(H)])], [], 1, MORNINGS)
        assert len(found) == kept


def test_who_has_hands_and_tools_enough_need_not_mind_heat() -> None:
    assert no_sooner([Lot("x", 1, [Part(H, fumes=H)]), Lot("y", 1, [Part(H, heat=True)])], [], MORNINGS) == 9 * H


def test_a_budget_counts_moves_too(monkeypatch: pytest.MonkeyPatch) -> None:
    made = _Orders({name: Lot(name, 1, [Part(2 * H)]) for name in "xyz"}, [], 1, MORNINGS, {}, 0)
    tried: list[object] = []
    run = made.run
    monkeypatch.setattr(made, "run", lambda *order: (tried.append(order), run(*order))[1])
    made.best(next(budget for budget in range(1000) if looks_in(budget, 3) == 6))
    assert len(tried) == 6 + 1  # five orders to begin with, one move of several, and the best once more


# A mix of an hour, then a look, which may be from an hour to four hours after it.
LOOKED_AT = Lot("x", 2, [MIXES, Part(600, pause=H, by=4 * H)])


def test_what_belongs_to_a_mix_is_put_off_and_brought_sooner() -> None:
    plan = planner(LOOKED_AT, mixes=[Mix(["x"], H, 1)], teams=1)
    plan.place(MIX, _Way(late=True))
    # Two of ten minutes one after another, so that the second is over at noon.
    assert [slot.start for slot in plan.slots] == [8 * H, 12 * H - 1200, 12 * H - 600]
    assert [ready for _, ready in plan.put_off] == hours(10, 10)
    plan._give(plan.crew, 9 * H, 11 * H, 1)  # something else is done meanwhile
    plan.bring_sooner()
    assert sorted(slot.start for slot in plan.slots) == [8 * H, 11 * H, 11 * H + 600]
    assert plan.over["x"] == hours(9, 12)
    early = planner(LOOKED_AT, mixes=[Mix(["x"], H, 1)], teams=1)
    early.place(MIX)
    assert [slot.start for slot in early.slots] == [8 * H, 10 * H, 10 * H + 600]
    assert not early.put_off
    plan = planner(LOOKED_AT, mixes=[Mix(["x"], H, 1)], teams=1)
    plan.place(MIX, _Way(late=True))
    plan.back(0)
    assert (plan.slots, plan.put_off) == ([], [])


def test_what_was_put_off_is_done_when_hands_are_done_with_other_work() -> None:
    """A mix until nine, and two looks from ten on that could be at noon. At ten past ten one of two others is made
    ready, then both looks are done, and the second is made ready after them."""
    made = Lot("y", 2, [Part(4200, fresh=4 * H), MIXES])
    plan = planner(LOOKED_AT, made, mixes=[Mix(["x"], H, 1), Mix(["y"], 600, 1)], teams=1)
    plan.place(MIX, _Way(late=True))
    kept, before, late = len(plan.undo), [*plan.slots], [*plan.put_off]
    assert plan._pieces(made.parts[0], made, 0, [9 * H] * 2) == [9 * H + 4200, 9 * H + 4200 + 1200 + 4200]
    assert [slot.start for slot in plan.slots if slot.lot == "x"] == [9 * H + 4200, 9 * H + 4800]
    assert plan.crew.clear(12 * H - 1200, 1200, 1) == 12 * H - 1200, "what they had is given back"
    plan.back(kept)
    assert (plan.slots, plan.put_off) == (before, late)
    assert plan.crew.clear(9 * H, H, 1) == 9 * H


def test_what_has_no_room_late_is_done_as_soon_as_it_can_be() -> None:
    plan = planner(LOOKED_AT, mixes=[Mix(["x"], H, 1)], teams=1)
    plan._give(plan.crew, 11 * H, 12 * H, 1)
    plan.place(MIX, _Way(late=True))
    assert [slot.start for slot in plan.slots] == [8 * H, 10 * H, 10 * H + 600]


def test_several_that_share_a_mix_are_put_off_one_after_another() -> None:
    other = Lot("y", 1, [MIXES, Part(600, pause=H, wait=H, by=4 * H)])
    plan = planner(LOOKED_AT, other, mixes=[Mix(["x", "y"], H, 1)], teams=1)
    plan.place(MIX, _Way(late=True))
    assert [slot.end for slot in plan.slots] == [9 * H, 12 * H - 1200, 12 * H - 600, 12 * H]


def test_a_mix_finds_its_place_before_what_belongs_to_another_one() -> None:
    """With the looks from ten on, the second mix would be tomorrow; they wait until it is used up."""
    lots = [LOOKED_AT, Lot("y", 1, [Part(2700, fresh=H), Part(1, mixes=True, wait=DAY)])]
    mixes, short = [Mix(["x"], H, 1), Mix(["y"], 1800, 1)], Hours(8 * H, 10 * H + 2400)
    made = _Orders({lot.name: lot for lot in lots}, mixes, 1, short, {}, 0)
    assert made.may_be_late == [0]
    assert made.run(made.sorted).slots[-1].start > DAY
    assert drawn_up(*lots, mixes=mixes, on=short) == [
        "8-9 mix0",
        "9-9.75 y0",
        "9.75-10.25 mix1",
        "10.25-10.4167 x1",
        "10.4167-10.5833 x1",
    ]


def test_a_mix_is_made_by_fewer_where_that_leaves_hands_for_more() -> None:
    """By both at eight, four hours of other work would not end on that day; by one it is done beside them."""
    lots = [Lot("x", 1, [MIXES]), Lot("y", 1, [Part(4 * H)])]
    both, one = Mix(["x"], H, 2), Mix(["x"], 5400, 1)
    assert {slot.start // DAY for slot in timetable(lots, [both], 2, MORNINGS).slots} == {0, 1}
    found = timetable(lots, [replace(both, by_fewer=(one,))], 2, MORNINGS).slots
    assert found == [Slot(8 * H, 8 * H + 5400, 1, mix=0), Slot(8 * H, 12 * H, 1, "y", 0)]
    # Where nothing else is to be done, by all.
    assert timetable(lots[:1], [replace(both, by_fewer=(one,))], 2, MORNINGS).slots == [Slot(8 * H, 9 * H, 2, mix=0)]
    assert (both.least_work, replace(both, by_fewer=(one,)).least_work) == (2 * H, 5400)


def test_where_fewer_find_no_place_for_a_mix_all_make_it() -> None:
    lots, mix = [Lot("x", 1, [MIXES]), Lot("y", 1, [Part(4 * H)])], Mix(["x"], H, 2, by_fewer=(Mix(["x"], 5 * H, 1),))
    assert {slot.mix: slot.teams for slot in timetable(lots, [mix], 2, MORNINGS).slots} == {0: 2, -1: 1}


def test_a_mix_waits_until_others_are_made_ready_too() -> None:
    """Mixed at nine, one would be looked at from ten on, which leaves no hour before it to make the other ready, whose
    own look would be after noon."""
    parts = [Part(H, fresh=4 * H), MIXES, Part(600, pause=1800, most_pause=2400)]
    mixes = [Mix([name], 1800, 1) for name in "xy"]
    assert drawn_up(*(Lot(name, 1, parts) for name in "xy"), mixes=mixes) == [
        "8-9 x0",
        "9-10 y0",
        "10-10.5 mix0",
        "10.5-11 mix1",
        "11-11.1667 x2",
        "11.5-11.6667 y2",
    ]
    # But no longer than what is made ready for it is fresh.
    stale = [replace(parts[0], fresh=1800), *parts[1:]]
    assert drawn_up(*(Lot(name, 1, stale) for name in "xy"), mixes=mixes)[1] == "9-9.5 mix0"


def test_what_no_week_has_room_for_is_not_looked_for_in_two_years(monkeypatch: pytest.MonkeyPatch) -> None:
    lot, tried = Lot("x", 1, [MIXES]), list[int]()
    # Other work is done on the third day; from then on each week is like the next.
    plan = planner(lot, mixes=[Mix(["x"], H, 1)], teams=1)
    plan._give(plan.crew, 2 * DAY + 8 * H, 2 * DAY + 9 * H, 1)
    monkeypatch.setattr(plan, "_whole", lambda number, lots, ready, at: tried.append(at))
    with pytest.raises(NoPlace):
        plan.make(0)
    assert 9 * DAY < tried[-1] < 21 * DAY
    # After a month without work there is work again.
    month = _Planner({"x": lot}, [Mix(["x"], H, 1)], 1, Hours(8 * H, 12 * H, off=frozenset(range(30))), {}, 0)
    month.make(0)
    assert [slot.start for slot in month.slots] == [30 * DAY + 8 * H]


def test_what_takes_longest_is_made_ready_first() -> None:
    """Three of a quarter of an hour and one of half an hour, for three teams: the mix is at half past eight."""
    short, long = (
        Lot(name, count, [Part(hands, fresh=H), MIXES]) for name, count, hands in (("s", 3, 900), ("l", 1, 1800))
    )
    plan = planner(short, long, mixes=[Mix(["s", "l"], H, 1)], teams=3)
    plan.make(0)
    assert [(slot.lot, slot.start / H) for slot in plan.slots] == [("l", 8), ("s", 8), ("s", 8), ("s", 8.25), ("", 8.5)]


def test_moves_go_on_from_the_better_order(monkeypatch: pytest.MonkeyPatch) -> None:
    """From x to y, which is better, and from there to z."""
    made = _Orders({name: Lot(name, 1, [Part(H)]) for name in "xyz"}, [], 1, MORNINGS, {}, 0)
    x, y, z = ([_Unit(name, 1)] for name in "xyz")
    monkeypatch.setattr(made, "ranks", lambda: iter([{}]))
    monkeypatch.setattr(made, "_in_order", lambda rank: x)
    behind = {"x": [x, y], "y": [z], "z": []}
    monkeypatch.setattr(made, "_changes", lambda order, late, _: ((one, late) for one in behind[order[0].lot]))
    cost = {"x": 9 * DAY, "y": 7 * DAY, "z": 5 * DAY}

    class Done(_Planner):
        rank = property(lambda self: (0, cost[self.order[0].lot]))  # type: ignore[assignment]
        order: list[_Unit]

        def bring_nearer(self) -> None:
            pass

        bring_sooner = bring_nearer

    def run(order: list[_Unit], late: object = None) -> Done:
        done = Done(made.lots, [], 1, MORNINGS, {}, 0)
        done.order = order
        return done

    monkeypatch.setattr(made, "run", run)
    monkeypatch.setattr(made, "finished", lambda done: done.order)
    monkeypatch.setattr(made, "_finer", lambda found: (made, found))
    made.at_least = 0
    assert made.best(1000) == z


def test_a_move_that_helps_is_kept() -> None:
    # Long work first would have the short one wait; by what has most before it, it does.
    lots = [Lot("long", 1, [Part(3 * H)]), Lot("short", 3, [Part(1200)])]
    assert drawn_up(*lots)[0] == "8-8.33333 short0"
    assert timetable(lots, [], 1, MORNINGS, budget=1).slots[0].lot == "long"


def test_what_is_made_ready_goes_near_to_its_mix() -> None:
    # Washed at eight for a mix at eleven: at ten, or before the one who is busy from half past ten.
    lot = Lot("x", 1, [Part(H, fresh=6 * H), MIXES])
    # With two there it is ten whoever is busy.
    for busy_from, teams, nearest in ((12, 1, 10), (10.5, 1, 9.5), (10.5, 2, 10)):
        plan = planner(lot, mixes=[Mix(["x"], H, 1)], teams=teams)
        made = Slot(8 * H, 9 * H, 1, "x", 0)
        plan._take(lot.parts[0], made)
        plan._take(Part(H), Slot(11 * H, 12 * H, 1, mix=0))
        if busy_from < 12:
            plan._take(Part(1800), Slot(round(busy_from * H), 11 * H, 1, "y", 0))
        plan.lots = {**plan.lots, "y": Lot("y", 1, [Part(1800)])}
        plan.bring_nearer()
        assert [slot.start / H for slot in plan.slots if slot.lot == "x"] == [nearest]
        assert plan.crew.clear(8 * H, H, 1) == 8 * H, "what it had is given back"


def test_of_what_is_made_ready_the_later_goes_near_first() -> None:
    """Half an hour at eight and an hour after it, for a mix at eleven: the hour goes to ten, the half one before it."""
    a, b = Lot("a", 1, [Part(1800, fresh=6 * H), MIXES]), Lot("b", 1, [Part(H, fresh=6 * H), MIXES])
    plan = planner(a, b, mixes=[Mix(["a", "b"], H, 1)], teams=1)
    plan._take(a.parts[0], Slot(8 * H, round(8.5 * H), 1, "a", 0))
    plan._take(b.parts[0], Slot(round(8.5 * H), round(9.5 * H), 1, "b", 0))
    plan._take(Part(H), Slot(11 * H, 12 * H, 1, mix=0))
    plan.bring_nearer()
    assert {slot.lot: slot.start / H for slot in plan.slots} == {"a": 9.5, "b": 10, "": 11}


def test_what_is_made_ready_is_in_its_mix_while_it_is_fresh() -> None:
    lot = Lot("x", 2, [Part(H, fresh=2 * H), MIXES])
    for busy_until, room_is_there in ((11 * H, True), (11 * H + 1, False)):
        plan = planner(lot, mixes=[Mix(["x"], 1800, 1)], teams=1)
        plan._give(plan.crew, 10 * H, busy_until, 1)
        # The first of two is ready at nine, and fresh until eleven.
        assert plan._whole(0, [lot], {"x": 8 * H}, 8 * H) is room_is_there
        assert plan.over["x"] == (hours(10, 11.5) if room_is_there else [])  # the second at ten
    late = Lot("y", 1, [Part(H, fresh=4 * H), MIXES])
    plan = planner(lot, late, mixes=[Mix(["x", "y"], 1800, 1)], teams=2)
    assert plan._whole(0, [lot, late], {"x": 8 * H, "y": 10 * H}, 8 * H)
    assert [(slot.lot, slot.start / H) for slot in plan.slots] == [("x", 8), ("x", 8), ("y", 10), ("", 11)]
    # What is fresh until eleven does not wait for who is busy then, whichever is looked at first.
    for both in ([lot, late], [late, lot]):
        plan = planner(lot, late, mixes=[Mix(["x", "y"], 1800, 1)], teams=2)
        plan._give(plan.crew, 11 * H, 11 * H + 1800, 2)
        assert not plan._whole(0, both, {"x": 8 * H, "y": 10 * H}, 8 * H)
    pause = Lot("x", 1, [Part(H), Part(1, mixes=True, pause=2 * H)])
    assert drawn_up(pause, mixes=[Mix(["x"], H, 1)]) == ["8-9 x0", "11-12 mix0"]


def test_what_no_day_has_room_for_is_in_no_mix() -> None:
    """What is made ready for it, what is washed for it, the mix itself, and the mix after a wash."""
    long = Lot("x", 1, [Part(5 * H, fresh=9 * H), MIXES])
    assert not planner(long, mixes=[Mix(["x"], H, 1)])._whole(0, [long], {"x": 8 * H}, 8 * H)
    plain = Lot("x", 1, [MIXES])
    assert not planner(plain, mixes=[Mix(["x"], 5 * H, 1)])._whole(0, [plain], {"x": 8 * H}, 8 * H)
    for wash, room_is_there in ((H, True), (5 * H, False)):
        coats = Lot("c", 1, [MIXES, MIXES], tacky=H, wash=Part(wash, pause=H))
        plan = planner(coats, mixes=[Mix(["c"], 600, 1)] * 2)
        plan.mixed["c"], plan.over["c"] = 9 * H, [9 * H]
        assert plan._whole(1, [coats], {"c": 9 * H}, 11 * H) is room_is_there


@pytest.mark.parametrize(("fresh", "begins"), [(4, 8), (1, 9)])
def test_what_is_made_ready_begins_no_sooner_than_the_shortest_lived_lets_it(fresh: int, begins: int) -> None:
    """Of two that share a mix one can be begun at ten, an hour later both go in. By what stays fresh for an hour the other
    is begun at nine; where both do for four hours, as soon as hands work."""
    x = Lot("x", 1, [Part(H, fresh=4 * H), MIXES])
    y = Lot("y", 1, [Part(H, fresh=fresh * H), MIXES], after=[("z", 1)])
    plan = planner(x, y, Lot("z", 1, [Part(H)]), mixes=[Mix(["x", "y"], 1800, 1)], teams=1)
    plan.over["z"] = [10 * H]
    plan.make(0)
    assert [(slot.lot, slot.start / H) for slot in plan.slots] == [("x", begins), ("y", 10), ("", 11)]


def test_a_look_at_several_begins_in_time_with_the_first() -> None:
    lot = Lot("x", 2, [MIXES, Part(600, most_pause=300)])
    plan = planner(lot, mixes=[Mix(["x"], H, 1)], teams=1)
    over = [9 * H]
    assert plan._next_after_mix(lot, over, 8 * H, 9 * H)
    assert over == [9 * H, 9 * H + 1200]
    later = planner(lot, mixes=[Mix(["x"], H, 1)], teams=1)
    later._give(later.crew, 9 * H, 9 * H + 301, 1)
    assert not later._next_after_mix(lot, [9 * H], 8 * H, 9 * H)
    just = planner(lot, mixes=[Mix(["x"], H, 1)], teams=1)
    just._give(just.crew, 9 * H, 9 * H + 300, 1)
    assert just._next_after_mix(lot, [9 * H], 8 * H, 9 * H)


def test_what_belongs_to_a_mix_follows_one_after_another() -> None:
    lot = Lot("x", 1, [MIXES, Part(600, by=2 * H), Part(600, by=3 * H)])
    assert drawn_up(lot, mixes=[Mix(["x"], H, 1)], teams=2) == ["8-9 mix0", "9-9.16667 x1", "9.16667-9.33333 x2"]
    day = Hours(8 * H, 20 * H)
    for pause, starts in ((5, 14), (1, 12 + 600 / H)):  # counted from the mix, and never before the part before is over
        cures = Lot("x", 1, [MIXES, Part(600, pause=3 * H), Part(600, pause=pause * H, cures=True)])
        assert drawn_up(cures, mixes=[Mix(["x"], H, 1)], on=day)[-1].startswith(f"{starts:g}-")


@pytest.mark.parametrize(("pause", "begins"), [(300, 9 * H + 600), (1800, 9 * H + 1800)])
def test_what_cures_counts_from_the_mix_and_begins_after_the_part_before(pause: int, begins: int) -> None:
    lot = Lot("x", 1, [MIXES, Part(600, by=2 * H), Part(600, pause=pause, cures=True, by=3 * H)])
    over, plan = [9 * H], planner(lot, mixes=[Mix(["x"], H, 1)])
    assert plan._next_after_mix(lot, over, 8 * H, 9 * H)
    assert plan._next_after_mix(lot, over, 8 * H, 9 * H)  # hands enough for all of it
    assert over == [9 * H, 9 * H + 600, begins + 600]


def test_a_layer_follows_up_to_the_very_end_of_tacky() -> None:
    for tacky, follow in ((H, 2), (H - 1, 1)):
        lot = Lot("x", 1, [Part(1, mixes=True, wait=H), MIXES], tacky=tacky)
        assert planner(lot)._run(lot, 0, 8 * H, H, 2) == follow  # mixed until nine, and again at ten


def test_a_lot_that_ends_with_its_mix_has_no_unit_behind_it() -> None:
    made = _Orders({"x": Lot("x", 1, [Part(H), MIXES])}, [Mix(["x"], H, 1)], 1, MORNINGS, {}, 0)
    assert made.of_lot == {"x": [(_Unit("x", 1), 1), (MIX, 2)]}


def test_a_try_that_failed_is_taken_back() -> None:
    """Who has the gun for ten minutes goes first, though the other is tried first."""
    p = Lot("p", 1, [MIXES, Part(1800, pause=600, by=H + 3000)])
    q = Lot("q", 1, [MIXES, Part(600, pause=600, by=H + 3000, holds=(Hold("gun", 0, 600),))])
    plan = planner(p, q, mixes=[Mix(["p", "q"], H, 1)], teams=1, gun=1)
    plan._give(plan._thing("gun"), 8 * H, 9 * H + 600, 1)
    plan._give(plan._thing("gun"), 9 * H + 1200, 12 * H, 1)
    kept = len(plan.undo)
    plan.make(0)
    assert [(slot.lot, slot.start) for slot in plan.slots] == [("", 8 * H), ("q", 9 * H + 600), ("p", 9 * H + 1200)]
    assert (plan.mixed, plan.over) == (
        {"p": 9 * H, "q": 9 * H},
        {"p": [9 * H, 9 * H + 3000], "q": [9 * H, 9 * H + 1200]},
    )
    plan.back(kept)
    assert (plan.slots, plan.mixed, plan.over) == ([], {}, {"p": [], "q": []})
    coats = planner(Lot("c", 1, [MIXES, MIXES]), mixes=[Mix(["c"], H, 1), Mix(["c"], H, 1)], teams=1)
    coats.make(0)
    kept = len(coats.undo)
    coats.make(1)
    assert coats.mixed == {"c": 10 * H}
    coats.back(kept)
    assert coats.mixed == {"c": 9 * H}


def test_what_belongs_to_a_mix_goes_between_two_parts_of_another() -> None:
    """Five minutes twice, within 12 and within 25 of the mix, and ten of another between these, within 20."""
    mixed = 9 * H
    looks = [Part(300, pause=300, by=H + 720, cures=True), Part(300, pause=900, by=H + 1500, cures=True)]
    twice, once = Lot("t", 1, [MIXES, *looks]), Lot("o", 1, [MIXES, Part(600, pause=360, by=H + 1200)])
    for both in ([twice, once], [once, twice]):
        plan = planner(*both, mixes=[Mix(["t", "o"], H, 1)], teams=1)
        plan.make(0)
        after = [(slot.lot, slot.start - mixed) for slot in plan.slots if slot.mix < 0]
        assert after == [("t", 300), ("o", 600), ("t", 1200)]
        assert plan.over == {"t": [mixed, mixed + 600, mixed + 1500], "o": [mixed, mixed + 1200]}


def test_pieces_go_apart_where_that_saves_a_day_and_not_for_minutes() -> None:
    """Two pieces are done with what takes both teams while the third is bored, so the mix is made by noon; together they
    would be ready at five past, and a mix of a quarter of an hour on the next day. Where it is over by one anyway, they
    stay together."""
    parts = [Part(4500), Part(900, teams=2), Part(1500, fresh=4 * H), MIXES]
    lot, mix = Lot("x", 3, parts), Mix(["x"], 1200, 1)
    apart = timetable([lot], [mix], 2, MORNINGS)
    assert [slot.start / H for slot in apart.slots if slot.mix >= 0] == [12 - 1200 / H]
    assert {slot.lot for slot in apart.slots} == {"x", ""}
    assert apart.loads == {"x": [12 * H] * 3}
    bored = [(slot.start, slot.end, slot.teams) for slot in apart.slots if slot.part == 0]
    assert bored == [(8 * H, 8 * H + 4500, 2), (8 * H + 6300, 8 * H + 10_800, 1)]
    long = drawn_up(lot, mixes=[mix], teams=2, on=Hours(8 * H, 16 * H))
    assert [one for one in long if " x1" in one] == ["10.5-10.75 x1 x2", "10.75-11 x1 x2", "11-11.25 x1 x2"]


def test_starts_come_in_order() -> None:
    far, near = (
        Lot(name, 1, [MIXES, Part(600, pause=pause * H, by=40 * H)]) for name, pause in (("far", 29), ("near", 3))
    )
    plan = planner(far, near, mixes=[Mix(["far", "near"], H, 1)])
    assert [*islice(plan._before_opening(0, 20 * H), 6)] == hours(26, 28, 50, 52, 74, 76)


def test_how_long_a_unit_takes_with_its_waits() -> None:
    waits = Lot("w", 1, [Part(H, pause=2 * H, wait=4 * H)])
    mixed = Lot(
        "m", 1, [Part(H, pause=2 * H, fresh=9 * H), Part(H, mixes=True, wait=3 * H), Part(H, pause=5 * H, by=9 * H)]
    )
    made = _Orders({"w": waits, "m": mixed}, [Mix(["m"], 2 * H, 1)], 1, MORNINGS, {}, 0)
    assert made._length(_Unit("w", 1)) == 7 * H
    assert made._length(MIX) == (2 + 3 + 4 + 6) * H
    timed = Lot("m", 1, [MIXES, Part(H, since=5 * H, by=9 * H)])
    assert _Orders({"m": timed}, [Mix(["m"], 2 * H, 1)], 1, MORNINGS, {}, 0)._length(MIX) == (2 + 6) * H + 1


def test_what_follows_a_slot() -> None:
    x, y = (
        Lot("x", 1, [Part(H, fresh=6 * H, holds=(Hold("gun", 0, H),)), MIXES]),
        Lot("y", 1, [Part(1800)], after=[("x", 1)]),
    )
    plan = planner(x, y, mixes=[Mix(["x"], H, 1), Mix(["y"], H, 1)], teams=2, gun=1)
    made = Slot(8 * H, 9 * H, 1, "x", 0)
    plan._take(x.parts[0], made)
    plan._take(Part(H), Slot(11 * H, 12 * H, 1, mix=0))
    plan._take(Part(1800), Slot(round(9.5 * H), 10 * H, 1, "y", 0))
    plan._take(Part(600), Slot(9 * H, 9 * H + 600, 1, mix=1))
    assert sorted(plan._followed(made)) == hours(9.5, 11)
    plan.bring_nearer()
    assert [slot.start / H for slot in plan.slots if slot.lot == "x"] == [8.5]
    assert plan.held["gun"].days == {0: (hours(8, 8.5, 9.5, 12), [1, 0, 1])}
    assert no_sooner([x, y], [Mix(["x"], H, 1)], MORNINGS) == 10 * H


def test_windows_until_then() -> None:
    assert [*BROKEN.windows(8 * H, 13 * H)] == [(8 * H, 12 * H)]
    assert [*BROKEN.windows(8 * H, 13 * H + 1)] == [(8 * H, 12 * H), (13 * H, 16 * H)]


def test_a_pause_counts_from_the_mix_only_where_it_cures() -> None:
    dry = Lot("x", 1, [Part(H), Part(H, pause=2 * H, cures=True)])
    assert drawn_up(dry) == ["8-9 x0", "11-12 x1"]  # there is no mix
    plain = Lot("x", 1, [MIXES, Part(600, pause=3 * H), Part(600, pause=H)])
    assert drawn_up(plain, mixes=[Mix(["x"], H, 1)], on=Hours(8 * H, 20 * H))[1:] == [
        "12-12.1667 x1",
        "13.1667-13.3333 x2",
    ]


def test_a_start_that_failed_leaves_nothing() -> None:
    lot = Lot("x", 1, [Part(H, fresh=900), MIXES])
    plan = planner(lot, mixes=[Mix(["x"], H, 1)], teams=1)
    plan._give(plan.crew, 9 * H, round(9.5 * H), 1)  # begun at eight it would not be fresh any more
    plan.make(0)
    assert [(slot.lot, slot.start / H) for slot in plan.slots] == [("x", 9.5), ("", 10.5)]


def test_what_was_sanded_gets_its_layer_while_that_is_fresh() -> None:
    coats = Lot("c", 1, [MIXES, MIXES], tacky=H, wash=Part(600, pause=H, fresh=1800))
    for busy_until, room_is_there in ((2400, True), (2401, False)):  # from 11:10 on, and until 11:40
        plan = planner(coats, mixes=[Mix(["c"], 600, 1), Mix(["c"], 600, 1)], teams=1)
        plan.mixed["c"], plan.over["c"] = 9 * H, [9 * H]
        plan._give(plan.crew, 11 * H + 600, 11 * H + busy_until, 1)
        assert plan._whole(1, [coats], {"c": 9 * H}, 11 * H) is room_is_there
        if room_is_there:
            assert [(slot.lot, slot.part, slot.start) for slot in plan.slots] == [
                ("c", -1, 11 * H),
                ("", -1, 11 * H + 2400),
            ]


@pytest.mark.parametrize(
    ("pieces", "fresh", "until"),
    [
        ([2], [1800], 2400),  # two one after another, of which the first is fresh until 11:40
        ([1, 1], [1800, 900], 2100),  # the second of two lots until 11:35, its layer sanded at 11:20
        ([1, 1], [900, 1800], 1500),  # and the first until 11:25
    ],
)
def test_the_first_of_what_was_sanded_is_still_fresh(pieces: list[int], fresh: list[int], until: int) -> None:
    for busy_until, room_is_there in ((until, True), (until + 1, False)):
        lots = [
            Lot(name, number, [MIXES, MIXES], tacky=H, wash=Part(600, pause=H, fresh=long))
            for name, number, long in zip("cd", pieces, fresh, strict=False)
        ]
        plan = planner(*lots, mixes=[Mix([lot.name for lot in lots], 600, 1)] * 2, teams=1)
        for lot in lots:
            plan.mixed[lot.name], plan.over[lot.name] = 9 * H, [9 * H]
        plan._give(plan.crew, 11 * H + 1200, 11 * H + busy_until, 1)
        assert plan._whole(1, lots, dict.fromkeys(plan.lots, 9 * H), 11 * H) is room_is_there
