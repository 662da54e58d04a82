"""The resolver: from givens and wanted symbols to values and the trail, or a clear error."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from conftest import whole_working
from generator import formulas  # noqa: F401  defines the rules
from generator.errors import AmbiguousFormula, CycleError, MissingGiven, NoStock, OutOfRange
from generator.formula import FORMULARY, Formulary, Stock, Symbol
from generator.units import Shown, m, one
from generator.working import Values, told, work, worst


def formulary_of(*symbols: str) -> Formulary:
    formulary = Formulary()
    shown = Shown("mm", Fraction(1))
    for name in symbols:
        formulary.define(Symbol(name, f"meaning of {name}", "m", shown, shown))
    return formulary


def chain() -> Formulary:
    formulary = formulary_of("a", "b", "c", "e")

    @formulary.formula("b", source="test")
    def second(a: m) -> m:
        return 2 * a

    @formulary.formula("c", source="test")
    def third(b: m, a: m) -> m:
        return a + b

    return formulary


def test_finds_the_way_by_the_parameters_names_in_order() -> None:
    working = work(["c"], {"a": 3.0}, formulary=chain(), sources={"a": "rule"})
    assert working.values == {"a": 3.0, "b": 6.0, "c": 9.0}
    assert [step.symbol for step in working.trail] == ["a", "b", "c"]
    assert [step.source for step in working.trail] == ["rule", "test", "test"]


def test_a_given_stands_above_a_formula() -> None:
    working = work(["c"], {"a": 3.0, "b": 1.0}, formulary=chain())
    assert working.values["c"] == 4.0
    assert [step.symbol for step in working.trail] == ["a", "b", "c"]


def test_two_ways_to_a_symbol_are_told_apart_by_what_can_be_worked_beside_them() -> None:
    formulary = chain()

    @formulary.formula("e", source="test", beside=("c",))
    def with_a(a: m) -> m:
        return 10 * a

    @formulary.formula("e", source="test", beside=("g", "h"))
    def with_g(a: m) -> m:
        return 20 * a

    for name in "gh":
        formulary.define(Symbol(name, name, "m", Shown("mm", Fraction(1)), Shown("mm", Fraction(1))))
    working = work(["e"], {"a": 3.0}, formulary=formulary)
    assert working.values == {"a": 3.0, "e": 30.0}
    with pytest.raises(AmbiguousFormula):
        work(["e"], {"a": 3.0, "h": 1.0}, formulary=formulary)


def test_a_given_that_nothing_uses_is_not_in_the_trail() -> None:
    working = work(["b"], {"a": 3.0, "e": 1.0}, formulary=chain())
    assert [step.symbol for step in working.trail] == ["a", "b"]


def test_a_missing_given_is_named_with_the_symbols_on_the_way() -> None:
    with pytest.raises(MissingGiven) as error:
        whole_working(["c"], {}, formulary=chain())
    assert str(error.value) == "no meaning of a is given here or can be worked"
    assert error.value.symbols == ("c", "b", "a")


def test_two_formulas_that_both_work_are_ambiguous() -> None:
    formulary = chain()

    @formulary.formula("b", source="test")
    def other(a: m) -> m:
        return 3 * a

    with pytest.raises(AmbiguousFormula) as error:
        work(["c"], {"a": 1.0}, formulary=formulary)
    assert "meaning of b can be worked in 2 ways" in str(error.value)
    assert str(error.value).count("tests/test_working.py:") == 2
    assert error.value.symbols == ("c", "b")


def test_of_two_formulas_the_one_that_can_be_worked_is_taken() -> None:
    formulary = chain()

    @formulary.formula("b", source="test")
    def from_e(e: m) -> m:
        return e

    assert work(["b"], {"e": 7.0}, formulary=formulary).values["b"] == 7.0
    assert work(["b"], {"a": 7.0}, formulary=formulary).values["b"] == 14.0


def inverse_pair() -> Formulary:
    formulary = formulary_of("a", "b")

    @formulary.formula("b", source="test")
    def there(a: m) -> m:
        return 2 * a

    @formulary.formula("a", source="test")
    def back(b: m) -> m:
        return b / 2

    return formulary


def test_a_circle_is_named_symbol_by_symbol() -> None:
    with pytest.raises(CycleError) as error:
        work(["a"], {}, formulary=inverse_pair())
    assert str(error.value) == "meaning of a is needed to work out itself"
    assert error.value.symbols == ("a", "b", "a")


def test_an_inverse_pair_works_from_either_side() -> None:
    assert work(["a"], {"b": 8.0}, formulary=inverse_pair()).values["a"] == 4.0
    assert work(["b"], {"a": 4.0}, formulary=inverse_pair()).values["b"] == 8.0


def test_a_long_chain_does_not_blow_up(tmp_path: Path) -> None:
    formulary = formulary_of(*(f"x{place}" for place in range(60)))
    file = tmp_path / "chain.py"  # a formula is read from its file
    steps = [f"def x{place}(x{place - 1}: m) -> m:\n    return x{place - 1} + x{place - 1}" for place in range(1, 60)]
    file.write_text("\n".join(steps), encoding="utf-8")
    namespace: dict[str, Any] = {"m": m}
    exec(compile(file.read_text(encoding="utf-8"), str(file), "exec"), namespace)
    for place in range(1, 60):
        formulary.formula(f"x{place}", source="test")(namespace[f"x{place}"])
    assert work(["x59"], {"x0": 1.0}, formulary=formulary).values["x59"] == 2.0**59


def with_lookup(choice: str) -> Formulary:
    formulary = formulary_of("a", "b", "e")
    near = {"within": "e"} if choice == "nearest" else {}
    formulary.lookup("b", choice, "a", stock="drills", source="test", meaning="choose", **near)  # type: ignore[arg-type]
    return formulary


DRILLS = {"drills": Stock("drills", [0.006, 0.008, 0.010, 0.012], "test")}


def test_a_choice_tells_where_it_stands() -> None:
    (lookup,) = with_lookup("at least").lookups
    line = Path(__file__).read_text(encoding="utf-8").split("\n")[int(lookup.where.rpartition(":")[2]) - 1]
    assert lookup.where.startswith("tests/test_working.py:")
    assert line.lstrip().startswith("formulary.lookup(")


@pytest.mark.parametrize(("target", "size"), [(0.006, 0.006), (0.0061, 0.008), (0.0080000000001, 0.008)])
def test_at_least_takes_the_smallest_not_under(target: float, size: float) -> None:
    assert work(["b"], {"a": target, "e": 0.001}, DRILLS, formulary=with_lookup("at least")).values["b"] == size


@pytest.mark.parametrize(("target", "size"), [(0.0089, 0.008), (0.009, 0.010), (0.0091, 0.010), (0.0125, 0.012)])
def test_nearest_takes_the_larger_of_two_equally_near(target: float, size: float) -> None:
    assert work(["b"], {"a": target, "e": 0.001}, DRILLS, formulary=with_lookup("nearest")).values["b"] == size


@pytest.mark.parametrize(("target", "size"), [(0.0124, 0.010), (0.0125, 0.015), (0.0126, 0.015), (0.010, 0.010)])
def test_nearest_step_takes_the_upper_of_two_equally_near(target: float, size: float) -> None:
    """And the lower where it is nearer, by whatever step is given."""
    formulary = formulary_of("a", "b", "e")
    formulary.lookup("b", "nearest step", "a", step="e", source="test", meaning="choose")
    assert work(["b"], {"a": target, "e": 0.005}, formulary=formulary).values["b"] == pytest.approx(size, rel=1e-12)


@pytest.mark.parametrize(
    ("choice", "instead", "size", "said"),
    [
        ("at least", "", "as large as", "go round it with a file"),  # as the list says
        ("nearest", "", "near", "choose another kind of drill, or give the hole's width"),
        ("at least", "take two", "as large as", "take two"),
        ("nearest", "take two", "near", "take two"),
    ],
)
def test_no_stock_size_is_an_error_that_tells_the_range_and_what_to_do(
    choice: str, instead: str, size: str, said: str
) -> None:
    formulary = with_lookup(choice)
    formulary.lookups = [replace(formulary.lookups[0], instead=instead)]
    stock = {"drills": replace(DRILLS["drills"], beyond="go round it with a file")}
    with pytest.raises(NoStock) as error:
        whole_working(["b"], {"a": 0.0301234, "e": 0.001}, stock, formulary=formulary)
    wanted = f"drills, from 6 mm to 12 mm, have no size {size} the 30.12 mm that is wanted; {said}"
    assert str(error.value) == wanted


def with_rules() -> Formulary:
    formulary = chain()

    @formulary.rule("{b} is too large: take a smaller a", source="test")
    def limit(b: m) -> bool:
        return b < 10

    @formulary.rule("b is rather large", source="test", refuses=False)
    def hint(b: m) -> bool:
        return b < 5

    return formulary


def test_what_is_refused_has_no_number_even_where_one_was_given() -> None:
    values = Values({"a": 1.0, "b": 2.0}, {"a": MissingGiven("no a", ("a",))})
    assert dict(values) == {"b": 2.0}
    with pytest.raises(MissingGiven, match="no a"):
        values["a"]


def test_a_rule_warns_or_refuses() -> None:
    assert work(["c"], {"a": 1.0}, formulary=with_rules()).warnings == []
    assert work(["c"], {"a": 3.0}, formulary=with_rules()).warnings == ["b is rather large"]
    with pytest.raises(OutOfRange, match="12000\u00a0mm is too large: take a smaller a"):
        whole_working(["c"], {"a": 6.0}, formulary=with_rules())


def test_one_thing_refused_hides_no_other() -> None:
    """Each rule whose own symbols have numbers is asked, whatever else has none."""
    formulary = formulary_of("a", "b", "c", "e")

    @formulary.rule("a is too much", source="test")
    def enough_of_a(a: m) -> bool:
        return a <= 1

    @formulary.rule("b is too much", source="test")
    def enough_of_b(b: m) -> bool:
        return b <= 1

    @formulary.rule("c is much", source="test", refuses=False)
    def enough_of_c(c: m) -> bool:
        return c <= 1

    working = work(["a", "b", "c", "e"], {"a": 2.0, "b": 2.0, "c": 2.0, "e": 2.0}, formulary=formulary)
    assert working.values == {"c": 2.0, "e": 2.0}
    assert working.reasons(["a", "b"]) == ["a is too much", "b is too much"]
    assert working.warnings == ["c is much"]


def test_what_is_refused_last_takes_with_it_what_was_found_from_it() -> None:
    """The rule can be asked when the last of its symbols is known; from the other one more was found by then."""
    formulary = chain()

    @formulary.formula("e", source="test")
    def beside(a: m) -> m:
        return a

    @formulary.rule("b and e do not go together", source="test")
    def together(b: m, e: m) -> bool:
        return b + e < 10

    assert work(["c", "e"], {"a": 3.0}, formulary=formulary).values == {"a": 3.0, "b": 6.0, "c": 9.0, "e": 3.0}
    refused = work(["c", "e"], {"a": 4.0}, formulary=formulary)
    assert refused.values == {"a": 4.0}
    assert {symbol: str(why) for symbol, why in refused.refused.items()} == dict.fromkeys(
        "bce", "b and e do not go together"
    )


def test_a_default_stands_for_what_is_not_there_but_not_for_what_is_refused() -> None:
    values = Values({"a": 1.0}, {"b": OutOfRange("b is too large", ("b",))})
    assert (values.get("a"), values.get("c"), values.get("c", 5.0)) == (1.0, 0.0, 5.0)
    with pytest.raises(OutOfRange, match="b is too large"):
        values.get("b")


def test_what_is_missing_tells_more_than_a_circle() -> None:
    missing, circle = MissingGiven("no a"), CycleError("a is needed to work out itself")
    assert worst([circle, missing]) is worst([missing, circle]) is missing


def test_a_failed_calculation_yields_no_number() -> None:
    formulary = formulary_of("a", "b")

    @formulary.formula("b", source="test")
    def inverse(a: one) -> one:
        return 1 / a

    with pytest.raises(OutOfRange, match="no number comes out of these values"):
        whole_working(["b"], {"a": 0.0}, formulary=formulary)
    with pytest.raises(OutOfRange, match="correct one of them"):
        whole_working(["b"], {"a": float("nan")}, formulary=formulary)


def test_a_rule_tells_a_value_of_the_readers_as_it_was_set() -> None:
    """And all others as the shop reads them."""
    (rule,) = (one for one in FORMULARY.rules if "{u_bu}" in one.message)
    values = {"t_bu": 0.001, "u_bu": 0.00123}
    rounded = FORMULARY.symbols["u_bu"].text(0.00123, "metric")
    assert "1.23" not in rounded
    assert f"thinner than {rounded}:" in told(rule, values, FORMULARY, "metric")
    assert "thinner than 1.23\u00a0mm:" in told(rule, values, FORMULARY, "metric", {"u_bu": "1.23 mm"})
