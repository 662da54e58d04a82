"""The tree that a formula's source is read as: what a body may hold, and that it is written as it is worked."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from math import ceil, exp, floor, log, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from conftest import all_hold
from generator.errors import FormulaFault
from generator.expr import ANY_NUMBER, UNIT_WORDS, WORDS, Binary, Call, Letter, Minus, Node, Number, javascript, read
from generator.formula import FORMULARY, Formula, Rule, mm
from generator.notation import PlainText


def tree(function: Callable[..., object], *, relation: bool = False) -> Node:
    return read(function, list(inspect.signature(function).parameters), relation=relation)[0]  # type: ignore[arg-type]


def unknown_name(a: float) -> float:
    return a + depth  # type: ignore[name-defined] # noqa: F821


def two_statements(a: float) -> float:
    b = a
    return b


def by_name(a: float) -> float:
    return max(a, 1, key=abs)


def not_ours(a: float) -> object:
    return open(a)  # type: ignore[arg-type]


def two_roots(a: float) -> float:
    return sqrt(a, a)  # type: ignore[call-arg]


def a_text(a: float) -> object:
    return "a"


def yes(a: float) -> object:
    return True


def a_part(a: float) -> object:
    return a.real


def nothing(a: float) -> None:
    """Only words."""


def chained(a: float) -> bool:
    return 0 < a < 1


def no_relation(a: float) -> float:
    return a


def spelt_and(a: float) -> bool:
    return a > 0 and a < 1


@pytest.mark.parametrize(
    ("function", "line", "words"),
    [
        (unknown_name, 1, "'depth' cannot stand in a formula; name a parameter, pi, or a unit: mm, metre"),
        (two_statements, 1, "'b = a' cannot stand in a formula; write one 'return' of one expression"),
        (by_name, 1, "'max(a, 1, key=abs)' cannot stand in a formula; call only sqrt"),
        (not_ours, 1, "'open(a)' cannot stand in a formula; call only sqrt"),
        (two_roots, 1, "give 'sqrt' one value"),
        (a_text, 1, "write a number of the parameters with + - * / **"),
        (yes, 1, "'True' cannot stand in a formula"),
        (a_part, 1, "'a.real' cannot stand in a formula"),
        (nothing, 1, "write one 'return' of one expression"),
    ],
)
def test_what_a_formula_may_not_hold_is_told_with_its_place(
    function: Callable[..., object], line: int, words: str
) -> None:
    with pytest.raises(FormulaFault) as caught:
        tree(function)
    place = f"tests/test_expr.py:{inspect.getsourcelines(function)[1] + line}: "
    assert str(caught.value).startswith(place)
    assert words in str(caught.value)


@pytest.mark.parametrize("function", [chained, no_relation, spelt_and])
def test_a_rule_is_a_relation_or_two_of_them(function: Callable[..., object]) -> None:
    with pytest.raises(FormulaFault, match="write a relation, as a < b, or two of them in brackets"):
        tree(function, relation=True)


def inside_or_beyond(a: float) -> bool:
    return (a >= 0) & (a < 1) | (a > 5)


def neither(a: float) -> bool:
    return (a <= 0) & ((a < 1) | (a > 5))


def test_a_rule_is_read_as_it_stands() -> None:
    assert tree(inside_or_beyond, relation=True) == Binary(
        "|",
        Binary("&", Binary(">=", Letter("a"), Number(0)), Binary("<", Letter("a"), Number(1))),
        Binary(">", Letter("a"), Number(5)),
    )
    assert javascript(tree(inside_or_beyond, relation=True)) == "a>=0&&a<1||a>5"
    assert javascript(tree(neither, relation=True)) == "a<=0&&(a<1||a>5)"


def test_a_function_without_a_file_is_refused() -> None:
    made: dict[str, Callable[[float], float]] = {}
    exec("def bare(a): return a", made)
    with pytest.raises(FormulaFault, match="no source to read; define it in a file"):
        tree(made["bare"])


def in_python(text: str) -> str:
    """The JavaScript of a formula as Python, which it differs from in names alone."""
    text = text.replace("Math.PI", "math.pi").replace("Math.min", "min").replace("Math.max", "max")
    return text.replace("Math.", "math.").replace("&&", " and ").replace("||", " or ")


def test_every_body_is_written_in_the_order_it_is_worked_in() -> None:
    """To the last bit: the function's own code and the written expression, at values of no special kind."""

    def written(code: Formula | Rule) -> None:
        values = {name: 0.3 + 0.137 * place for place, name in enumerate(code.parameters)}
        try:
            number = code.call(values)
        except (ArithmeticError, ValueError):
            return
        assert eval(in_python(code.javascript()), {"math": math, **values}) == number

    all_hold(written, [*FORMULARY.formulas, *FORMULARY.rules], lambda code: code.where)


NODES = st.recursive(
    st.one_of(
        st.integers(0, 9).map(lambda value: Number(float(value) + 0.5)),
        st.sampled_from("ab").map(Letter),
    ),
    lambda inner: st.one_of(
        inner.map(Minus),
        st.builds(Binary, st.sampled_from(["+", "-", "*", "/", "**"]), inner, inner),
        st.builds(lambda one, other: Call("max", (one, other)), inner, inner),
    ),
    max_leaves=8,
)


def direct(node: Node, values: dict[str, float]) -> float:
    """The tree worked node by node."""
    match node:
        case Number(value):
            return value
        case Letter(name):
            return values[name]
        case Minus(of):
            return -direct(of, values)
        case Call("max", arguments):
            return max(direct(one, values) for one in arguments)
        case Binary(sign, left, right):
            a, b = direct(left, values), direct(right, values)
            result = {"+": a + b, "-": a - b, "*": a * b}.get(sign)
            if result is None:
                result = a / b if sign == "/" else math.pow(a, b)
            return result
    raise AssertionError(node)


@given(NODES)
def test_any_tree_is_written_with_the_brackets_it_needs(node: Node) -> None:
    values = {"a": 1.7, "b": 0.4}
    try:
        number = direct(node, values)
    except (ArithmeticError, ValueError):
        return
    written = eval(javascript(node), {"Math": type("Math", (), {"max": max})}, values)
    assert written == pytest.approx(number, rel=1e-9)
    text = PlainText(lambda name: name, numbers=True).write(node)
    for ours, theirs in (("×", "*"), ("−", "-"), ("^", "**")):
        text = text.replace(ours, theirs)
    assert eval(text, {"max": max}, values) == pytest.approx(number, rel=1e-6)


def test_the_words_are_all_there_is() -> None:
    assert {*ANY_NUMBER} <= {*WORDS}
    assert not {*WORDS} & {*UNIT_WORDS}

    def all_of_them(a: float) -> float:
        return floor(a) + ceil(a) - exp(-a) * log(a) / pi + min(a, 2 * mm, 3)

    assert javascript(tree(all_of_them)) == (
        "Math.floor(a+1e-09)+Math.ceil(a-1e-09)-Math.exp(-a)*Math.log(a)/Math.PI+Math.min(a,2*0.001,3)"
    )
