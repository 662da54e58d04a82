"""Mutants of the code: a sign, a number, a choice or a step changed in one place, which the tests have to notice.

`PYTHONPATH=.:tests python tests/code_mutants.py AREA 100 7` tries a hundred on seed 7 and prints what lived. Each is tried in a
fork that begins where the tests are collected, and on those alone that run the changed function. The general tools begin a
process of tests for each mutant, or leave out what is decorated, as every rule is. Formulas are not among the areas: that their
tests notice every change is itself a test (`test_by_hand.py`), and so it is of the ways in which symbols are rounded.
"""

from __future__ import annotations

import ast
import gc
import importlib
import os
import pickle
import random
import re
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory
from types import CodeType, FunctionType
from typing import Any

import pytest
from _pytest.runner import runtestprotocol
from hypothesis import settings

import conftest
from generator import expr
from generator.check import load_checked
from generator.formula import FORMULARY

HOUSE = Path(__file__).resolve().parents[1]
AREAS: dict[str, tuple[str, str]] = {
    # what is changed, and the tests that may notice
    "rules": (
        "formulas/*.py samples.py",
        "reading batch bed bolt deck guards heat lateral load mix plate pour ranges removable removal samples seat"
        " stepped_hole strength syringe time tools worn evidence cards inputs published outside/test_properties",
    ),
    "numbers": (
        "units.py expr.py",
        "units expr formula rounding reading notation inputs kinds figure_script by_hand outside/test_properties ranges",
    ),
    "resolver": (
        "working.py formula.py job.py",
        "working formula ranges guards inputs cards job units shops evidence by_hand mix languages result load"
        " outside/test_properties",
    ),
    "planner": ("schedule/*.py jobs/plan.py", "clock_by_hand mixes_by_hand schedule jobs lifts time mix batch outside/test_plans_judged"),
}  # fmt: skip
# A test that works longer than this while it is watched is left to the suite; of plans those that judge them are long.
LONGEST_TEST = {"planner": 300.0}
# A mutant has been noticed that works longer than this, and than its tests when they were watched.
LONGEST = 10
# What tests of whole pages ask for; a site takes too long to be made for each mutant.
PAGES = {"files", "site", "browser", "generator", "mkdocs", "memory_stick", "house", "small_house"}
# What cannot be noticed, by function and change, with the reason.
ALIKE: dict[str, str] = {
    "generator/units.py clip: 4  ->  5": "spares the time of reading a text that is much too long; the cut is after it",
    "generator/working.py at_least: size >= target - _SAME_SIZE  ->  size > target - _SAME_SIZE": "no size stands exactly"
    " a nanometre under another",
    "generator/working.py nearest: abs(size - target) <= away + _SAME_SIZE  ->  abs(size - target) < away + _SAME_SIZE": "the"
    " nearest is nearer than that, and no other is exactly a nanometre farther",
    "generator/expr.py _Reader.refuse: 0  ->  1": "each part that is refused has a line",
    "generator/schedule/timetable.py _Orders.best: 1  ->  2": "how much of the budget a look takes, not what is found",
    "generator/schedule/mixes.py sooner: 1  ->  2": "how many of the tries a look takes, not what is found",
    "generator/schedule/mixes.py sooner: 0  ->  1": "the last of the tries",
    "generator/schedule/timetable.py _Orders._moves: place - 1  ->  place + 1": "ahead of itself, or of the next, it stays",
    "generator/schedule/timetable.py _Orders._moves: 0.75  ->  0.8250000000000001": "between the same two places",
    "generator/schedule/timetable.py Hours.spans: True  ->  False": "the edges are even in number as they are made",
    "generator/schedule/timetable.py _Planner.make: 0  ->  1": "a second sooner, and it waits for who is ready last anyway",
    "generator/schedule/timetable.py _Planner._ready: 1  ->  2": "no part is over sooner than the one before it; the"
    " other one of that line is killed",
    "generator/schedule/timetable.py room: 0  ->  1": "a second later in a week on which nothing else is done",
    "generator/schedule/mixes.py _Search._full: 1 + len(tasks) // 8  ->  1 - len(tasks) // 8": "how much of the budget a"
    " look takes, not what is found",
    "generator/schedule/mixes.py fewest_mixes: _parts(plans[0]) > len(kinds)  ->  _parts(plans[0]) >= len(kinds)": "more"
    " plans are looked at, and the best is taken",
    "generator/schedule/timetable.py _Planner.make: max  ->  min": "only spares tries at which nothing is ready, or what was"
    " made ready is stale again",
    "generator/schedule/mixes.py _Search.run: len(self.best) > at_least  ->  len(self.best) >= at_least": "where no fewer can"
    " be, the search ends at once",
    "generator/schedule/mixes.py _Search._rules: kind.mass / mass  ->  kind.mass * mass": "the same order in another unit",
    "generator/schedule/mixes.py _Search._dig: self.seen.get(rest, 1 << 30) <= len(plan)  ->  self.seen.get(rest, 1 << 30) <"
    " len(plan)": "only spares entering the same rest twice at no gain",
    "generator/schedule/mixes.py _Search._fullness: 1  ->  2": "only a mix that holds nothing is spared a division",
    "generator/schedule/mixes.py _Search.run: 0  ->  1": "one of the budget's looks",
    "generator/schedule/mixes.py _Search._bound_by_load: 0  ->  1": "one mix is the least anyway",
    "generator/schedule/mixes.py deal: 0  ->  1": "one of the tries; a load of a second is killed",
    "generator/schedule/timetable.py _Planner._broken_off: len(pieces) > 1  ->  len(pieces) >= 1": "it begins so late in a"
    " window that it never goes into it whole",
    "generator/schedule/timetable.py _Diary.most: 0  ->  1": "what is held has been taken, so some day is never empty",
}

SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Div, ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.And: ast.Or,
    ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd, ast.Continue: ast.Break,
}  # fmt: skip
WORDS = {"max": "min", "min": "max", "ceil": "floor", "floor": "ceil", "any": "all", "all": "any", "sin": "cos",
    "cos": "sin", "True": "False", "False": "True", "up": "down", "down": "up", "nearest": "up", "exp": "log"}  # fmt: skip


Place = tuple[str, int]  # a function's file and first line


@dataclass
class Mutant:
    """Where it stands, what is changed, and the change itself."""

    place: str
    what: str
    make: Callable[[], None]


def spots(tree: ast.AST, function: ast.FunctionDef) -> Iterator[tuple[ast.AST, Callable[[], str]]]:
    """Every part of a function's statement that may be changed, and what changes it in place and says how."""
    meant = {
        id(part) for node in ast.walk(tree) if isinstance(node, ast.AnnAssign) for part in ast.walk(node.annotation)
    } | {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.keyword) and node.arg == "strict"}
    for node in ast.walk(tree):
        if id(node) in meant:  # says what is meant, and changes nothing where that holds
            continue
        for name, value in ast.iter_fields(node):
            if type(value) in SWAPS:
                yield node, _turned(node, name, SWAPS[type(value)]())
            elif name == "ops" and not noise(node):
                yield node, _turned(node, name, [SWAPS[type(value[0])](), *value[1:]])
        if isinstance(node, ast.Name) and node.id in WORDS:
            yield node, _turned(node, "id", WORDS[node.id])
        elif isinstance(node, ast.Constant) and not isinstance(node.value, str | bytes | type(None) | type(...)):
            value = node.value
            if noise(node):
                continue
            yield node, _turned(node, "value", not value if isinstance(value, bool) else value * 1.1 or 1 if isinstance(value, float) else value + 1)  # fmt: skip
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value in WORDS:
            yield node, _turned(node, "value", WORDS[node.value])
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            yield node, _turned(node, "op", ast.UAdd())
        elif isinstance(node, ast.If | ast.IfExp | ast.While):
            yield node, _turned(node, "test", ast.UnaryOp(ast.Not(), node.test))
        elif isinstance(node, ast.AugAssign) or (isinstance(node, ast.Expr) and isinstance(node.value, ast.Call)):
            yield node, lambda node=node: _gone(function, node)


def noise(node: ast.AST) -> bool:
    """Whether this forgives binary noise: no value that can be written stands exactly there, or so near."""
    return any(
        isinstance(one, ast.Constant) and isinstance(one.value, float) and 0 < one.value <= 1e-6
        for one in ast.walk(node)
    )


def _turned(node: ast.AST, name: str, value: Any) -> Callable[[], str]:
    def turn() -> str:
        before = ast.unparse(node)
        setattr(node, name, value)
        return f"{before}  ->  {ast.unparse(node)}"

    return turn


def _gone(function: ast.FunctionDef, statement: ast.stmt) -> str:
    for node in ast.walk(function):
        for _, part in ast.iter_fields(node):
            if isinstance(part, list) and statement in part:
                part[part.index(statement)] = ast.copy_location(ast.Pass(), statement)
    return f"{ast.unparse(statement)}  ->  pass"


def functions(tree: ast.AST, above: str = "") -> Iterator[tuple[str, ast.FunctionDef]]:
    """The functions and methods of a file with their full names; what is defined inside one belongs to it."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef):
            yield above + node.name, node
        elif isinstance(node, ast.ClassDef):
            yield from functions(node, f"{above}{node.name}.")


# One that is not made yet, for a file's tree is large: the function that it is of, and what makes it.
Waiting = tuple[Place, Callable[[], Mutant]]


def code_mutants(path: Path) -> Iterator[Waiting]:
    """Every mutant of a file's functions, but of its formulas."""
    module = importlib.import_module(".".join(path.relative_to(HOUSE).with_suffix("").parts))
    text = path.read_text(encoding="utf-8")
    formulas = {one.function.__code__ for one in FORMULARY.formulas}
    seen: Counter[str] = Counter()
    for name, node in functions(ast.parse(text)):
        seen[name] += 1
        if seen[name] > 1 or runtime(module, name).__code__ in formulas:  # a getter stands for its setter
            continue
        where = (str(path), runtime(module, name).__code__.co_firstlineno)
        for number in range(sum(1 for statement in node.body for _ in spots(statement, node))):
            yield where, partial(code_mutant, module, path, text, name, number)


def code_mutant(module: Any, path: Path, text: str, name: str, number: int) -> Mutant:
    """The mutant of this number among those of a function."""
    tree = ast.parse(text)
    changed = next(one for other, one in functions(tree) if other == name)
    part, turn = [one for statement in changed.body for one in spots(statement, changed)][number]
    what, line = turn(), getattr(part, "lineno", changed.lineno)
    return Mutant(f"{path.relative_to(HOUSE)}:{line} {name}", what, partial(put_in, module, path, tree, name, changed))


def put_in(module: Any, path: Path, tree: ast.Module, name: str, changed: ast.FunctionDef) -> None:
    """Have the function run, and a rule's script say, what the changed source does."""
    function = runtime(module, name)
    wanted = (name, function.__code__.co_firstlineno)
    ast.fix_missing_locations(tree)
    code = next(one for one in codes(compile(tree, str(path), "exec", dont_inherit=True)) if (one.co_qualname, one.co_firstlineno) == wanted)  # fmt: skip
    function.__code__ = code
    for rule in FORMULARY.rules:
        if rule.function is function:
            object.__setattr__(rule, "body", expr._Reader(str(path), rule.parameters).body(changed, True))
            rule.__dict__.pop("_of_numbers", None)


def runtime(module: Any, name: str) -> FunctionType:
    """The function that is run under a name."""
    found: Any = module
    for part in name.split("."):
        found = vars(found)[part]
    while not isinstance(found, FunctionType) or hasattr(found, "__wrapped__"):
        found = next(
            getattr(found, way) for way in ("__wrapped__", "fget", "func", "__func__") if getattr(found, way, None)
        )
    return found


def codes(code: CodeType) -> Iterator[CodeType]:
    """A code object and all inside it."""
    yield code
    for one in code.co_consts:
        if isinstance(one, CodeType):
            yield from codes(one)


def turned_rules() -> Iterator[Waiting]:
    """Every rule that refuses only warning, and the other way round."""
    for rule in FORMULARY.rules:
        code = rule.function.__code__
        turn = partial(object.__setattr__, rule, "refuses", not rule.refuses)
        what = "refuses  ->  warns" if rule.refuses else "warns  ->  refuses"
        yield (code.co_filename, code.co_firstlineno), partial(Mutant, rule.where, what, turn)


def mutants(area: str) -> list[Waiting]:
    """All of an area."""
    paths = sorted(
        path for one in AREAS[area][0].split() for path in (HOUSE / "generator").glob(one) if path.name != "__init__.py"
    )
    return [one for path in paths for one in code_mutants(path)] + [*(turned_rules() if area == "rules" else ())]


@dataclass
class Sound:
    """A test that holds where nothing is changed: how long it works, and the functions that it runs."""

    seconds: float
    runs: set[Place]


class Trying:
    """In place of running the tests: running them over and over, each time with another mutant."""

    def __init__(self, area: str, count: int, seed: int):
        self.area, self.count, self.seed = area, count, seed
        self.kept: list[Any] = []  # the functions that remember what they answered
        self.longest_call = 0.0  # what a test is cut off after, or nothing

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self) -> Iterator[None]:
        """Cut off a test that is too long anyway; what it shares with others is made before, and stays whole."""
        signal.signal(signal.SIGVTALRM, _too_long)
        signal.setitimer(signal.ITIMER_VIRTUAL, self.longest_call)
        try:
            return (yield)
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        with TemporaryDirectory() as shared:
            conftest.checked_once(Path(shared), HOUSE / "procedures")
        gc.unfreeze()  # what stood when the tests were collected was put away
        self.kept = [
            one
            for one in gc.get_objects()
            if type(one).__name__ == "_lru_cache_wrapper"
            and (getattr(one, "__module__", "") or "").startswith("generator")
        ]
        items = [item for item in session.items if not set(item.fixturenames) & PAGES]  # type: ignore[attr-defined]
        everything = mutants(self.area)
        sound: dict[str, Sound] = in_a_child(lambda: self.sound(items, {function for function, _ in everything}))
        items = sorted((item for item in items if item.nodeid in sound), key=lambda item: sound[item.nodeid].seconds)
        print(f"\n{len(everything)} mutants, {len(items)} tests", flush=True)
        tried = random.Random(self.seed).sample(everything, min(self.count, len(everything)))
        outcomes: Counter[str] = Counter()
        again = Path(os.environ["AGAIN"]).read_text(encoding="utf-8") if "AGAIN" in os.environ else ""
        for function, made in tried:
            mutant = made()
            if again and f"LIVED: {mutant.place}: {mutant.what} (" not in again:
                continue
            if f"{re.sub(r':[0-9]+', '', mutant.place)}: {mutant.what}" in ALIKE:
                outcomes["alike"] += 1
                continue
            begun = time.monotonic()
            told = [item for item in items if function in sound[item.nodeid].runs]
            longest = LONGEST + sum(sound[item.nodeid].seconds for item in told)
            noticed = in_a_child(lambda mutant=mutant, told=told, longest=longest: self.noticed(told, mutant, longest))
            outcomes["noticed" if noticed else "lived"] += 1
            if not noticed or "VERBOSE" in os.environ:
                print(
                    f"{noticed or 'LIVED'}: {mutant.place}: {mutant.what} ({len(told)} tests, {time.monotonic() - begun:.1f} s)",
                    flush=True,
                )
        share = outcomes["noticed"] / max(1, outcomes["noticed"] + outcomes["lived"])
        print(f"{self.area}, seed {self.seed}: {dict(outcomes)}; {share:.1%} noticed")
        return True

    def forget(self) -> None:
        """Empty what functions and the resolver remember."""
        FORMULARY._indexed = None
        for one in self.kept:
            one.cache_clear()

    def sound(self, items: list[pytest.Item], asked: set[Place]) -> dict[str, Sound]:
        """The tests that hold and are short."""
        found = {}
        places: dict[CodeType, Place] = {}
        run: set[CodeType] = set()
        for item, following in pairwise([*items, None]):
            self.forget()
            run.clear()
            begun, longest = time.process_time(), LONGEST_TEST.get(self.area, 1.0)
            self.longest_call = longest
            sys.settrace(lambda frame, *_: run.add(frame.f_code))  # type: ignore[func-returns-value]
            good = not failed(item, following)
            sys.settrace(None)
            seconds = time.process_time() - begun
            if not good and seconds < longest:
                print(f"fails where nothing is changed: {item.nodeid}", flush=True)
            elif seconds < longest:
                for code in run - places.keys():
                    places[code] = (code.co_filename, code.co_firstlineno)
                found[item.nodeid] = Sound(seconds, asked.intersection(map(places.__getitem__, run)))
        return found

    def noticed(self, items: list[pytest.Item], mutant: Mutant, longest: float) -> str:
        """The first test that a mutant fails, or nothing."""
        signal.setitimer(signal.ITIMER_PROF, longest)  # what the process works, however busy the machine is
        try:
            mutant.make()
            if mutant.place.startswith("generator/expr.py"):
                read_anew()
            self.forget()
        except Exception as error:
            return f"refused: {error}"
        for item, following in pairwise([*items, None]):
            if failed(item, following):
                return item.nodeid
        try:
            load_checked(HOUSE / "procedures", job_sheets="none")
        except Exception as error:
            return f"check: {error}"
        return ""


def _too_long(*_: object) -> None:
    raise TimeoutError


def read_anew() -> None:
    """Read every formula and rule once more, as when the program starts."""
    for code in (*FORMULARY.formulas, *FORMULARY.rules):
        body, _ = expr.read(code.function, code.parameters, relation=code in FORMULARY.rules)
        object.__setattr__(code, "body", body)


def failed(item: pytest.Item, following: pytest.Item | None) -> bool:
    return any(report.failed for report in runtestprotocol(item, log=False, nextitem=following))


def in_a_child(work: Callable[[], Any]) -> Any:
    """What some work yields that changes this process."""
    sys.stdout.flush()
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        try:
            os.close(reading)
            answer = work()
            with os.fdopen(writing, "wb") as pipe:
                pickle.dump(answer, pipe)
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        told = pipe.read()
    os.waitpid(child, 0)
    return pickle.loads(told) if told else "no answer in time"


def main() -> None:
    """Try as many of an area as asked for."""
    area, count, seed = (*sys.argv[1:], *("rules", "50", "1")[len(sys.argv) - 1 :])
    # The same examples for every mutant, and none that is too slow only because the machine is busy.
    settings.register_profile("mutants", derandomize=True, deadline=None, database=None)
    settings.load_profile("mutants")
    places = [
        HOUSE / "tests" / place for name in AREAS[area][1].split() for place in (f"{name}.py", f"test_{name}.py", name)
    ]
    files = [str(place) for place in places if place.exists()]
    trying = Trying(area, int(count), int(seed))
    pytest.main(
        ["-n", "0", "-q", "-p", "no:cacheprovider", "-s", "-W", "ignore:Module already imported", *files],
        plugins=[trying],
    )


if __name__ == "__main__":
    main()
