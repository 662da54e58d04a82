"""The Python that drawings are written in means the same in the page: each piece run here and in Node."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from conftest import node
from generator.figures import FIGURES, draw
from generator.figures.parts import number
from generator.live.figure_script import CannotTranslate, Code
from generator.units import System, by_system

RUN = """
const { readFileSync } = require("fs");
const run = require(process.argv[1]);
const answer = given => { try { return [run(...given)]; } catch { return "refused"; } };
process.stdout.write(JSON.stringify(JSON.parse(readFileSync(0, "utf8")).map(answer)));
"""


def largest(places: Any) -> Any:
    return max(places)


def smallest_of_two(one: Any, other: Any) -> Any:
    return min(one, other)


def in_order(places: Any) -> Any:
    return sorted(places)


def by_second(places: Any) -> Any:
    return sorted(places, key=lambda place: place[1])


def truth(thing: Any) -> Any:
    return "yes" if thing else "no"


def either(thing: Any) -> Any:
    return thing or "nothing"


def alike(one: Any, other: Any) -> Any:
    return [one == other, one != other]


def before(one: Any, other: Any) -> Any:
    return [one < other, one <= other, one > other, one >= other]


def among(one: Any, things: Any) -> Any:
    return [one in things, one not in things]


def backwards(things: Any) -> Any:
    return [list(reversed(things)), list(things), things[::-1], things[-1]]


def together(one: Any, other: Any) -> Any:
    return [[a, b] for a, b in zip(one, other, strict=False)]


PAIRS = [[3, 1], [3, 2], [1, 9], [1, 9, 0]]
CASES: list[tuple[Callable[..., Any], list[list[Any]]]] = [
    (
        largest,
        [[PAIRS], [[2, 10, 9]], [["b", "a"]], [[[]]], [[[1, [2, 3]], [1, [2, 4]]]], [[]], [[1, "a"]], [[1, [2]]]],
    ),
    (smallest_of_two, [[2, 10], [[1, 2], [1, 1]], ["b", "a"], [1, "a"], [{}, {}]]),
    (in_order, [[PAIRS], [[10, 9, 1]], [["b", "a", "C"]], [["a", 1]], ["text"]]),
    (by_second, [[[[1, 3], [2, 1], [3, 1]]]]),
    (truth, [[0], [0.5], [""], ["0"], [[]], [[0]], [{}], [{"a": 0}], [None], [True], [False]]),
    (either, [[0], [0.5], [""], [[]], [[0]], [{}]]),
    (alike, [[1, 1.0], [[1, 2], [1, 2]], [[1, [2]], [1, [3]]], ["a", "a"], [None, 0], [[], None]]),
    (before, [[1, 2], [2, 2], [[1, 2], [1, 3]], [[1], [1, 0]], [[2], [10]], ["a", "b"], [1, "a"]]),
    (among, [[[1, 2], PAIRS], [[3, 1], PAIRS], ["a", "cat"], ["a", {"a": 1}], [1, [1, 2]]]),
    (backwards, [[[1, 2, 3]], [["a"]]]),
    (together, [[[1, 2, 3], [4, 5]], [[1], [2, 3]]]),
    (number, [[1.0], [0.005], [-0.001], [2.675], [-12.345]]),
]


def translated(function: Callable[..., Any], folder: Path) -> Path:
    code = Code()
    path = folder / "function.js"
    path.write_text(f"module.exports={code.script(function)}", encoding="utf-8")
    return path


@pytest.mark.parametrize(("function", "given"), CASES, ids=[function.__name__ for function, _ in CASES])
def test_means_the_same_in_the_page(function: Callable[..., Any], given: list[list[Any]], tmp_path: Path) -> None:
    def answer(arguments: list[Any]) -> Any:
        try:
            return [function(*arguments)]
        except (TypeError, ValueError):
            return "refused"

    assert node(RUN, [translated(function, tmp_path)], given) == [answer(arguments) for arguments in given]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_no_coordinate(value: float, tmp_path: Path) -> None:
    with pytest.raises(ArithmeticError, match="no number"):
        number(value)
    text = {"nan": "NaN", "inf": "Infinity", "-inf": "-Infinity"}[str(value)]
    script = (
        f"try {{ require(process.argv[1])({text}) }} catch (error) {{ console.log(JSON.stringify(error.message)) }}"
    )
    assert "no number" in node(script, [translated(number, tmp_path)], None)


def repeated(text: str) -> str:
    return "-" * len(text)


def put_in(text: str) -> str:
    return "%s" % text  # noqa: UP031


def rounded(value: float) -> float:
    return round(value, 2)


def total(values: list[float]) -> float:
    return sum(values, 1.0)


def every_second(count: int) -> list[int]:
    return list(range(0, count, 2))


def greatest_by(places: list[tuple[float, float]]) -> tuple[float, float]:
    return max(places, key=lambda place: place[1])


def counted(text: str) -> int:
    return text.count("a")


def tried(value: float) -> float:
    try:
        return 1 / value
    except ZeroDivisionError:
        return 0.0


@pytest.mark.parametrize(
    "function", [repeated, put_in, rounded, total, every_second, greatest_by, counted, tried], ids=lambda f: f.__name__
)
def test_what_the_page_would_do_otherwise_stops_the_build(function: Callable[..., Any]) -> None:
    place = function.__code__.co_firstlineno
    with pytest.raises(CannotTranslate, match=rf"^test_figure_script\.py:{place + 1}: "):
        Code().script(function)


def ruled(system: System) -> float:
    return by_system(system, 1.0, 25.4)


def test_a_function_from_outside_the_drawings_is_refused_by_name() -> None:
    with pytest.raises(CannotTranslate, match=r"test_figure_script: by_system of generator\.units has no JavaScript"):
        Code().script(ruled)


def test_no_script_tells_what_was_translated_before_it() -> None:
    def scripts(names: list[str]) -> dict[str, str]:
        code = Code()
        return {name: code.script(draw, FIGURES[name].place) for name in names}

    names = sorted(FIGURES)
    assert scripts(names) == scripts(names[::-1])
