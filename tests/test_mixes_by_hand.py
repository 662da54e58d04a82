"""Which fittings share a mix: the parts of that search, each on a case that is worked by hand beside it."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from generator.schedule.mixes import (
    Exchange,
    Kind,
    Limits,
    Mixes,
    _alike,
    _Filling,
    _joined,
    _moved,
    _named,
    _parts,
    _Search,
    busiest,
    deal,
    fewest_mixes,
    sooner,
)

DAY = 86_400
TEN = Limits(100, 10, 3)


def test_what_so_many_of_a_kind_take() -> None:
    kind = Kind("a", 4, 10, 1, together=(10, 15, 18))
    assert [kind.of(number) for number in range(5)] == [0, 10, 15, 18, 40]
    assert kind.least == 6
    assert Kind("a", 4, 10, 1).least == 10
    assert kind.task == (1, 1, None)


@pytest.mark.parametrize(
    ("works", "teams_of"),
    [
        ([(6, 1), (5, 1), (4, 1), (5, 1)], [(0,), (1,), (0,), (1,)]),  # 6 + 4 and 5 + 5
        ([(4, 1), (6, 2), (4, 1)], [(0,), (0, 1), (1,)]),  # both for six, then four each
        ([(4, 1), (6, 2)], [(0,), (0, 1)]),  # both for six first, whichever comes first
        ([(7, 2), (4, 1)], None),
        ([(10, 1), (10, 1)], [(0,), (1,)]),
        ([(10, 1), (10, 1), (1, 1)], None),
        ([(11, 1)], None),
        ([(1, 3)], None),
        ([(4, 1), (4, 1), (4, 1), (4, 1), (3, 1)], None),  # 19 of 20, and no way
        ([(4, 1), (4, 1), (3, 1), (3, 1), (3, 1), (2, 1)], [(0,), (1,), (0,), (1,), (0,), (1,)]),
    ],
)
def test_dealing_out_to_two_teams(works: list[tuple[int, int]], teams_of: list[tuple[int, ...]] | None) -> None:
    assert deal(works, Limits(1, 10, 2)) == teams_of


def test_dealing_out_goes_back_where_the_longest_first_do_not_fit() -> None:
    # Three and three for one team, twos for the other: the next to take, one three each, leaves no way.
    assert deal([(3, 1), (3, 1), (2, 1), (2, 1), (2, 1)], Limits(1, 6, 2)) == [(0,), (0,), (1,), (1,), (1,)]
    assert (
        deal([(2, 2), (2, 2), (2, 1), (2, 1), (2, 1)], Limits(1, 6, 3)) is not None
    )  # 2 + 2 + 2, with one pair each way


def test_dealing_out_is_given_up_after_so_many_tries(monkeypatch: pytest.MonkeyPatch) -> None:
    works = [(6, 1), (5, 1), (4, 1), (5, 1)]  # one try each
    for tries, dealt in ((4, True), (3, False)):
        monkeypatch.setattr("generator.schedule.mixes._DEALS", tries)
        assert (deal(works, Limits(1, 10, 2)) is not None) is dealt


def test_how_long_the_busiest_team_is_busy() -> None:
    # What takes both goes first: six, then four more for one and one for the other.
    assert busiest([(4, 1), (6, 2), (1, 1)], [(0,), (0, 1), (1,)]) == 10
    assert busiest([(3, 1), (5, 1)], [(0,), (1,)]) == 5
    assert busiest([], []) == 0
    # Two for both of their teams first, then five more for the first.
    assert busiest([(5, 1), (2, 2), (2, 2)], [(0,), (0, 1), (1, 2)]) == 7
    assert busiest([(2, 2), (2, 2)], [(0, 1), (1, 2)]) == 4  # the second waits for the one that is in both


@pytest.mark.parametrize(
    ("kind", "limits", "most"),
    [
        (Kind("a", 9, 30, 4), TEN, 3),  # three times 30 of 100
        (Kind("a", 9, 25, 4), TEN, 4),  # just full
        (Kind("a", 9, 5, 4), TEN, 6),  # each team does two
        (Kind("a", 9, 5, 5), TEN, 6),
        (Kind("a", 9, 5, 4, teams=2), TEN, 2),
        (Kind("a", 2, 5, 4), TEN, 2),
        (Kind("a", 9, 5, 0), TEN, 9),
        (Kind("a", 9, 5, 4), Limits(100, 10, 3, lambda tasks: len(tasks) <= 4), 4),
        (Kind("a", 9, 40, 4, together=(40, 50, 60, 99)), TEN, 4),
    ],
)
def test_how_many_of_a_kind_a_mix_serves(kind: Kind, limits: Limits, most: int) -> None:
    assert _Search([kind], limits, 1).alone == [most]


@pytest.mark.parametrize(
    ("kind", "least"),
    [
        (Kind("a", 4, 51, 1), 4),  # more than half of a mix each
        (Kind("a", 4, 50, 1), 2),
        (Kind("a", 5, 50, 1), 3),
        (Kind("a", 4, 10, 6), 2),  # longer than half of it, for three teams
        (Kind("a", 4, 10, 5), 1),
        (Kind("a", 7, 0, 10), 3),  # 70 of 30
        (Kind("a", 6, 0, 10), 2),
        (Kind("a", 3, 0, 0), 1),
        (Kind("a", 4, 60, 1, together=(60, 80, 100, 120)), 2),  # at the least 30 each
        (Kind("a", 3, 10, 6, teams=2), 2),
        (Kind("a", 2, 10, 6, teams=2), 2),  # 24 of 30, but two of three teams each for more than half of it
    ],
)
def test_no_plan_has_fewer_than_what_all_of_it_fills(kind: Kind, least: int) -> None:
    assert _Search([kind], TEN, 1)._bound_by_load([(0, kind.count)]) == least


def chain() -> _Search:
    """One after another: c after b after a; a fits into one mix, of b one into each, and d comes after nothing."""
    a, c, d = Kind("a", 2, 10, 1), Kind("c", 1, 10, 1, frozenset("b")), Kind("d", 5, 60, 1)
    return _Search([a, Kind("b", 3, 60, 1, frozenset("a")), c, d], TEN, 1)


def test_what_must_follow_counts_for_the_least() -> None:
    search = chain()
    assert search.before == [[], [0], [1], []]
    assert search.tails == [4, 1, 0, 0]  # after a the three of b and that of c
    assert search._bound((2, 3, 1, 0)) == 5
    assert search._bound((0, 3, 1, 0)) == 4
    assert search._bound((0, 0, 1, 5)) == 5  # the five of d, more than half of a mix each
    assert search._bound((0, 3, 0, 5)) == 8  # and the three of b
    assert search._bound((0, 1, 0, 1)) == 2
    assert search._ready((2, 3, 1, 5)) == [0, 3]
    assert search._ready((0, 3, 1, 0)) == [1]
    with pytest.raises(ValueError, match="a comes after itself"):
        _Search([Kind("a", 1, 1, 1, frozenset("a"))], TEN, 1)


def test_full_mixes_are_those_that_nothing_waiting_could_join() -> None:
    search = _Search([Kind("a", 2, 40, 1), Kind("b", 2, 30, 1)], TEN, 1)
    assert [*search._full((2, 2), [0, 1])] == [(2, 0), (1, 2)]
    assert [*search._full((2, 2), [1, 0])] == [(1, 2), (2, 0)]
    assert [*search._full((1, 1), [0, 1])] == [(1, 1)]
    assert [*search._full((2, 2), [1])] == [(0, 2)]
    shares = _Search([Kind("a", 2, 60, 1, together=(60, 80)), Kind("b", 1, 50, 1)], TEN, 1)
    assert [*shares._full((1, 1), [0, 1])] == [(1, 0), (0, 1)]  # the first of two takes 60, whatever the second does
    long = _Search([Kind("a", 3, 1, 10), Kind("b", 3, 1, 5)], Limits(100, 10, 2), 1)
    assert [*long._full((3, 3), [0, 1])] == [(2, 0), (1, 2), (0, 3)]
    # Nine find room, there is no tenth, and once full it is looked at again: eleven looks. In three of them eight or
    # nine stand in the mix, and each counts for two.
    alike = _Search([Kind("a", 9, 1, 1)], TEN, 1)
    assert next(alike._full((9,), [0])) == (9,)
    assert alike.looked == 11 + 3
    assert search._fullness((1, 2)) == pytest.approx(1 + 3 / 30)
    assert _Search([Kind("a", 2, 40, 4, teams=2)], TEN, 1)._fullness((2,)) == pytest.approx(0.8 + 16 / 30)


def test_orders_to_fill_by() -> None:
    # By what follows, then by weight, by time, and by the larger of the two.
    kinds = [
        Kind("light", 1, 10, 9),
        Kind("heavy", 1, 90, 1),
        Kind("first", 1, 1, 1),
        Kind("last", 1, 1, 1, frozenset({"first"})),
    ]
    assert _Search(kinds, Limits(100, 10, 1), 1)._rules == [[2, 1, 0, 3], [2, 0, 1, 3], [2, 0, 1, 3]]
    assert _Search(kinds, Limits(100, 10, 3), 1)._rules[2] == [2, 1, 0, 3]
    quick = chain()._quick((2, 3, 1, 1), [0, 1, 2, 3])
    assert quick == [(2, 0, 0, 1), (0, 1, 0, 0), (0, 1, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0)]


def test_whole_kinds_stay_together() -> None:
    kinds = [Kind("a", 3, 20, 1), Kind("b", 4, 10, 1), Kind("c", 2, 40, 1)]
    search = _Search(kinds, TEN, 1)
    mix = _Filling((0, 0, 0))
    assert search._room(mix, 0, 3) == 3
    mix.add(2, 2, kinds[2], search.task_of[2])
    assert (mix.mass, mix.load, mix.tasks) == (80, [0, 0, 2], [0, 0])
    assert search._room(mix, 0, 3) == 1  # just full
    assert search._room(mix, 1, 4) == 2
    mix = _Filling((0, 0, 0))
    mix.add(0, 1, kinds[0], 0)
    assert search._room(mix, 0, 9) == 4  # beside the one that is in
    few = _Search([Kind("a", 9, 1, 5)], TEN, 1)
    assert few._room(_Filling((0,)), 0, 9) == 6  # two for each team


def test_kinds_alike_are_planned_as_one_and_dealt_out_again() -> None:
    a, b, c = Kind("a", 2, 10, 1), Kind("b", 1, 10, 1), Kind("c", 1, 10, 1, frozenset({"b"}))
    assert [[kind.name for kind in group] for group in _alike([a, b]).values()] == [["a", "b"]]
    groups = _alike([a, b, c])  # c comes after b alone, so a and b differ
    assert [[kind.name for kind in group] for group in groups.values()] == [["a"], ["b"], ["c"]]
    assert _joined([a, b], groups).count == 3
    assert _joined([c], groups).after == {"b"}
    assert _named([(2,), (1,)], [[a, b]]) == [{"a": 2}, {"b": 1}]
    assert _named([(1,), (2,)], [[a, b]]) == [{"a": 1}, {"a": 1, "b": 1}]
    assert _parts([{"a": 1}, {"a": 1, "b": 1}]) == 3
    shares = Kind("d", 1, 10, 1, together=(10,))
    assert len(_alike([shares, Kind("e", 1, 10, 1, together=(10,))])) == 2
    assert fewest_mixes([], TEN) == Mixes([], 0, [])


def exchange() -> Exchange:
    """What is ready, what dries for five days, and what comes two days after the first."""
    a, b, c = (
        Kind("a", 2, 10, 1),
        Kind("b", 2, 10, 1, soonest=5 * DAY),
        Kind("c", 1, 10, 1, frozenset({"a"}), lags={"a": 2 * DAY}),
    )
    return Exchange({kind.name: kind for kind in (a, b, c)}, Limits(40, 10, 3))


def test_what_waits_cost() -> None:
    late = [{"a": 1, "b": 2}, {"c": 1}]
    assert exchange().starts(late) == [5 * DAY, 7 * DAY]
    assert exchange().cost(late) == (3 * 5 + 7 + 3) * DAY  # a day for each of three kinds in a mix
    assert exchange().starts([{"a": 1}, {"b": 2, "c": 1}]) == [0, 5 * DAY]
    assert exchange().starts([{"a": 1}, {"c": 1}]) == [0, 2 * DAY]
    assert exchange().starts([{"c": 1}, {"a": 1}]) == [2 * DAY, 0]  # what c comes after counts as mixed at once
    assert exchange().cost([]) == 0


def test_plans_that_differ_little() -> None:
    kinds = {name: Kind(name, 2, 10, 1) for name in "abc"}
    plain = Exchange(kinds, Limits(40, 10, 3))
    plan = [{"a": 2, "b": 1}, {"c": 1}]
    assert [*plain.neighbours(plan, every=True)] == [
        [{"b": 1}, {"c": 1, "a": 2}],  # a whole
        [{"a": 1, "b": 1}, {"c": 1, "a": 1}],  # one of it
        [{"b": 1, "c": 1}, {"a": 2}],  # against c
        [{"a": 2}, {"c": 1, "b": 1}],
        [{"a": 2, "c": 1}, {"b": 1}],
        [{"b": 1, "c": 1}, {"a": 2}],  # nobody leaves a mix empty
        [{"a": 2, "c": 1}, {"b": 1}],
    ]
    assert _moved([{"a": 2}, {}], (0, "a", 2), 1) == [{}, {"a": 2}]
    # Only what its mix waits for, or what is parted, is worth a change.
    late = [{"a": 1, "b": 2}, {"c": 1}]
    changed = [*exchange().neighbours(late)]
    assert [{"a": 1}, {"c": 1, "b": 2}] in changed
    assert [{"b": 2}, {"c": 1, "a": 1}] not in changed
    assert [{"b": 2, "c": 1}, {"a": 1}] in changed  # c comes two days after a, which waits for b
    assert [{"b": 2}, {"c": 1, "a": 2}] in [*exchange().neighbours([{"a": 1, "b": 2}, {"c": 1, "a": 1}])]
    assert [{"b": 2}, {"c": 1, "a": 1}] in [*exchange().neighbours(late, every=True)]


def test_two_mixes_dealt_out_anew() -> None:
    kinds = {name: Kind(name, 2, 10, 1) for name in "ab"}
    roomy, tight = (Exchange(kinds, Limits(most, 10, 3)) for most in (40, 19))
    plan = [{"a": 1, "b": 1}, {"a": 1}]
    assert sorted(map(str, roomy.parted_anew(plan))) == sorted(
        map(str, [[{"b": 1}, {"a": 2}], [{"a": 1}, {"a": 1, "b": 1}], [{"a": 2}, {"b": 1}]])
    )
    assert [*tight.parted_anew(plan)] == []
    assert [*roomy._dealt_anew([{"a": 1}, {"b": 1}, {"a": 1}], 0, 1, plan_of("ab"))] == [[{"b": 1}, {"a": 1}, {"a": 1}]]


def test_what_would_be_mixed_too_soon_goes_behind_what_it_waits_for() -> None:
    """c comes after a, and d after c. Behind the last mix there is none, and no mix is left empty."""
    kinds = {
        "a": Kind("a", 2, 10, 1),
        "b": Kind("b", 2, 10, 1),
        "c": Kind("c", 1, 10, 1, frozenset({"a"})),
        "d": Kind("d", 1, 10, 1, frozenset({"c"})),
    }
    made = Exchange(kinds, Limits(40, 10, 3))
    assert made._put_behind([{"b": 1}, {"a": 1, "c": 1}, {"b": 1, "d": 1}, {"b": 1}]) == [
        *({"b": 1}, {"a": 1}),
        *({"b": 1, "c": 1}, {"b": 1, "d": 1}),
    ]
    for plan in ([{"b": 1}, {"a": 1, "c": 1}], [{"c": 1}, {"a": 1}, {"b": 1}], [{"a": 1}, {"c": 1, "b": 1}, {"d": 1}]):
        assert made._put_behind(plan) == plan
    # a one mix later takes c with it, and that d.
    plan = [{"a": 1, "b": 1}, {"b": 1, "c": 1}, {"b": 1, "d": 1}, {"b": 1}]
    moved = [{"b": 1}, {"b": 1, "a": 1}, {"b": 1, "c": 1}, {"b": 1, "d": 1}]
    assert moved in [*made.others(plan)]


def test_which_other_plans_are_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """What differs in a kind or two, then two mixes dealt out anew, as far as it is within the limits; in all so many
    mixes."""
    made = Exchange({name: Kind(name, 3, 10, 1) for name in "ab"}, Limits(30, 10, 3))
    plan = [{"a": 2, "b": 1}, {"b": 1}]
    every = [*made.neighbours(plan, every=True), *made.parted_anew(plan)]
    within = [one for one in every if all(sum(mix.values()) <= 3 for mix in one)]
    assert [*made.others(plan)] == within
    assert len(every) > len([*made.neighbours(plan, every=True)]) > 3
    assert [*made.others([])] == []
    late = Exchange({"a": Kind("a", 1, 10, 1), "b": Kind("b", 2, 10, 1, soonest=5 * DAY)}, Limits(30, 10, 3))
    # Though its mix waits for b, and not for a: hands may be free for it then.
    assert next(late.others([{"a": 1, "b": 1}, {"b": 1}])) == [{"b": 1}, {"b": 1, "a": 1}]
    monkeypatch.setattr("generator.schedule.mixes._OTHERS", 4)
    assert [*made.others(plan)] == within[:2]


def test_two_mixes_in_one() -> None:
    """Of each two that go into one, it is made in the place of the first where what it comes after lets it be."""
    kinds = {name: Kind(name, 9, 10, 1) for name in "abc"} | {"d": Kind("d", 1, 10, 1, frozenset({"b"}))}
    made = Exchange(kinds, Limits(40, 10, 3))
    assert [*made.joined([{"a": 2}, {"a": 1, "b": 1}, {"c": 4}])] == [[{"a": 3, "b": 1}, {"c": 4}]]
    assert [*made.joined([{"a": 1}, {"b": 1}, {"d": 1}])] == [
        [{"a": 1, "b": 1}, {"d": 1}],
        [{"b": 1}, {"a": 1, "d": 1}],  # in place of the first, d would go before what it comes after
    ]
    assert [*made.joined([{"a": 3}, {"b": 2}])] == []


def plan_of(names: str) -> Counter[str]:
    return Counter(names)


def test_what_a_plan_may_hold() -> None:
    made = exchange()
    assert made.allowed([{"a": 2}, {"c": 1, "b": 2}])
    assert not made.allowed([{"a": 2, "c": 1}, {"b": 2}])  # not in one mix with what it comes after
    assert not made.allowed([{"a": 1}, {"c": 1, "b": 2}, {"a": 1}])
    assert made.allowed([{"a": 2, "b": 2}, {"c": 1}])  # just full
    light = Exchange({"a": Kind("a", 9, 10, 5)}, Limits(90, 10, 3))
    assert light.allowed([{"a": 6}])
    assert not light.allowed([{"a": 7}])  # nobody has the time
    assert not Exchange({"a": Kind("a", 9, 10, 1)}, Limits(89, 10, 3)).allowed([{"a": 9}])


def test_sooner_by_one_exchange_after_another() -> None:
    assert sooner([{"a": 2, "b": 2}, {"c": 1}], exchange(), 100) == [{"a": 2}, {"c": 1, "b": 2}]
    assert sooner([{"a": 2, "b": 2}, {"c": 1}], exchange(), 0) == [{"a": 2, "b": 2}, {"c": 1}]
    parted = Exchange({"a": Kind("a", 4, 10, 1), "b": Kind("b", 4, 10, 1)}, Limits(40, 10, 3))
    assert parted.cost(sooner([{"a": 2, "b": 2}, {"a": 2, "b": 2}], parted, 100)) == 2 * DAY


def test_whole_kinds_into_the_first_mix_that_takes_them() -> None:
    kinds = [Kind("a", 3, 20, 1), Kind("b", 4, 10, 1), Kind("c", 2, 40, 1)]
    # By weight: c with 80, then a, of which one still fits beside it and three into the second, then b beside a.
    assert next(_Search(kinds, TEN, 1).together(2)) == [{"c": 2}, {"a": 3, "b": 4}]
    assert [*_Search(kinds, TEN, 1).together(1)] == []
    after = [Kind("a", 1, 20, 1), Kind("b", 1, 20, 1, frozenset({"a"}))]
    assert next(_Search(after, TEN, 1).together(2)) == [{"a": 1}, {"b": 1}]
    search = _Search(after, TEN, 1)
    plan = [_Filling((0, 0)), _Filling((0, 0))]
    assert search._placed(0, 1, plan)
    assert search._placed(1, 1, plan)
    assert [mix.load for mix in plan] == [[1, 0], [0, 1]]
    assert not search._placed(1, 6, plan)  # five at most beside nothing else, and four here


def test_how_many_mixes_a_search_finds() -> None:
    # 60 + 40, 55 + 45 and 50 + 50: the heaviest first would pair 60 with 40 as well; by hand three are enough.
    kinds = [Kind(f"k{mass}", 1, mass, 1) for mass in (60, 55, 50, 49, 45, 40)]
    found = _Search(kinds, Limits(100, 10, 3), 10_000).run()
    assert (len(found.plan), found.at_least) == (3, 3)
    # Thirds of a mix and what fits beside two of them.
    kinds = [Kind("a", 4, 34, 1), Kind("b", 2, 32, 1)]
    assert len(_Search(kinds, Limits(100, 10, 3), 10_000).run().plan) == 2
    cut = _Search(kinds, Limits(100, 10, 3), 0)
    assert cut.run().at_least == 2


def test_a_quick_plan_by_another_order_is_tried_where_the_first_falls_short() -> None:
    # By weight 2 + 2 of time and 4 + 4, then 6 and 5 alone; by time 6 + 4, 5 + 4 and 2 + 2.
    sizes = ((20, 5), (30, 4), (10, 6), (50, 2), (50, 2), (30, 4))
    kinds = [Kind(f"k{number}", 1, mass, time) for number, (mass, time) in enumerate(sizes)]
    search = _Search(kinds, Limits(100, 10, 1), 0)
    assert [len(search._quick((1,) * 6, order)) for order in search._rules] == [4, 3, 3]
    assert len(search.run().plan) == 3


def test_the_search_finds_what_no_quick_plan_does() -> None:
    # 60 + 40, 60 + 25 + 10 and twice 55 + 45. Filled one after another, each as full as can be, they come to five.
    sizes = ((1, 40), (2, 55), (1, 25), (2, 45), (2, 60), (1, 10))
    kinds = [Kind(f"k{mass}", count, mass, 1) for count, mass in sizes]
    search = _Search(kinds, Limits(100, 100, 1), 10_000)
    assert [len(search._quick((1, 2, 1, 2, 2, 1), order)) for order in search._rules] == [5, 5, 5]
    found = search.run()
    assert (len(found.plan), found.at_least) == (4, 4)
    assert search.budget == 10_000  # as it was given, for up to ten mixes
    given_up = _Search(kinds, Limits(100, 100, 1), 0).run()  # 395 of 100 are four at the least
    assert (len(given_up.plan), given_up.at_least) == (5, 4)
    many = _Search([Kind(f"k{number}", 1, 60, 1) for number in range(20)], TEN, 10_000)
    many._bound = lambda rest: 19  # type: ignore[method-assign]
    many.run()
    assert many.budget == 5_000  # for twenty, half of it


def found_by(*sizes: tuple[int, int]) -> tuple[list[int], int, int]:
    """How many mixes quick plans of so many of a mass have, how many the search finds, and the least that it proves."""
    kinds = [Kind(f"k{mass}", count, mass, 1) for count, mass in sizes]
    search = _Search(kinds, Limits(100, 100, 1), 10_000)
    quick = [len(search._quick(tuple(kind.count for kind in kinds), order)) for order in search._rules]
    found = search.run()
    return quick, len(found.plan), found.at_least


def test_the_search_takes_back_a_mix_that_led_nowhere() -> None:
    # Twice 65 + 30 and twice 45 + 40 + 15.
    assert found_by((2, 45), (2, 15), (2, 30), (2, 65), (2, 40)) == ([5, 5, 5], 4, 4)
    # 390 of 100 might go into four; but what is over 50 goes with nothing over 35, and there is none but one of 10.
    assert found_by((2, 50), (1, 10), (2, 65), (2, 75)) == ([5, 5, 5], 5, 5)


def test_a_plan_that_parts_fewer_kinds_is_looked_for() -> None:
    # Three of a, or of c, all but fill a mix; the fourth of c goes with b, and nothing else is parted.
    kinds = [Kind("a", 3, 30, 1), Kind("b", 3, 20, 1), Kind("c", 4, 30, 1)]
    found = fewest_mixes(kinds, Limits(100, 10, 3)).mixes
    assert found == [{"a": 3}, {"c": 3}, {"b": 3, "c": 1}]


def test_a_search_for_more_than_ten_kinds_asks_less_often(monkeypatch: pytest.MonkeyPatch) -> None:
    budgets: list[int] = []

    class Told(_Search):
        def run(self) -> Any:
            budgets.append(self.budget)
            return super().run()

    monkeypatch.setattr("generator.schedule.mixes._Search", Told)
    for number in (1, 10, 11, 20):
        fewest_mixes([Kind(f"k{place}", 1, 1 + place, 1) for place in range(number)], TEN, budget=1000)
    assert budgets == [1000, 1000, 909, 500]


def test_all_plans_have_their_share_of_the_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of sixty thousand kinds to be looked at, three for each try: those of the plan found first and of each other."""
    kinds, limits = [Kind("a", 3, 30, 1), Kind("b", 3, 20, 1), Kind("c", 4, 30, 1)], Limits(100, 10, 3)
    tries: list[int] = []
    monkeypatch.setattr("generator.schedule.mixes.sooner", lambda plan, exchange, left: (tries.append(left), plan)[1])
    fewest_mixes(kinds, limits)
    plans = 1 + len([*_Search(kinds, limits, 1).together(3)])
    assert plans > 1
    assert tries == [60_000 // (3 * plans)] * plans
    for few in ([], [Kind("a", 1, 30, 1)]):
        tries.clear()
        fewest_mixes(few, limits)
        assert tries == [60_000]


def test_one_at_a_time_takes_as_many_mixes_as_there_are() -> None:
    alone = Limits(100, 10, 3, lambda tasks: len(tasks) <= 1)
    search = _Search([Kind("a", 4, 1, 1), Kind("b", 2, 1, 1, frozenset({"a"}))], alone, 1)
    assert search.alone == [1, 1]
    assert search._bound((4, 2)) == 6
    # Nothing weighs anything, and 45 of work go into 30 twice.
    assert _Search([Kind("a", 9, 0, 5)], TEN, 1)._bound_by_load([(0, 9)]) == 2


def test_what_is_put_in_beside_its_kind() -> None:
    kinds = [Kind("a", 4, 40, 1, together=(40, 50, 60, 99)), Kind("c", 3, 45, 1)]
    search, mix = _Search(kinds, TEN, 1), _Filling((0, 0))
    mix.add(0, 1, kinds[0], 0)
    mix.add(0, 2, kinds[0], 0)
    assert mix.mass == 60
    assert search._room(mix, 1, 3) == 0
    # After all of a, which stands in the first two of three.
    after = _Search([Kind("a", 2, 20, 1), Kind("b", 1, 20, 1, frozenset({"a"}))], TEN, 1)
    plan = [_Filling((0, 0)) for _ in range(3)]
    plan[0].add(0, 1, after.kinds[0], 0)
    plan[1].add(0, 1, after.kinds[0], 0)
    assert after._placed(1, 1, plan)
    assert [mix.load for mix in plan] == [[1, 0], [1, 0], [0, 1]]


def test_what_comes_after_without_a_wait_and_how_many_ways_are_looked_at() -> None:
    kinds = {"a": Kind("a", 1, 1, 1), "d": Kind("d", 1, 1, 1, frozenset({"a"}))}
    assert Exchange(kinds, TEN).starts([{"a": 1}, {"d": 1}]) == [0, 0]
    wide = Exchange({name: Kind(name, 40, 1, 0) for name in "ab"}, TEN)
    assert [*wide.parted_anew([{"a": 31}, {"b": 31}])] == []  # 32 x 32 ways for each of two are over 2000
    assert next(wide.parted_anew([{"a": 24}, {"b": 39}]))  # 25 x 40 for each of two are 2000
    for kind in (Kind("a", 0, 1, 1), Kind("a", 1, 101, 1)):
        with pytest.raises(ValueError, match="a fits into no mix"):
            fewest_mixes([kind], TEN)
    assert fewest_mixes([Kind("a", 1, 100, 1)], TEN).mixes == [{"a": 1}]
    with pytest.raises(ValueError, match="a comes after x, which is not there"):
        fewest_mixes([Kind("a", 1, 1, 1, frozenset({"y", "x"}))], TEN)
    assert [Mixes([{"a": 1}] * number, 2).proven for number in (2, 3)] == [True, False]
