"""Mutants of the code: a sign, a number, a choice or a step changed in one place, which the tests have to notice.

`PYTHONPATH=.:tests python tests/code_mutants.py PART,PART 100 7` tries a hundred of each of these parts on seed 7 and prints what
lived. Each is tried in a fork that begins where the tests are collected, and on those alone that run the changed line, the
quickest first, until one fails; in the end the cards are checked. Which lines a test runs is watched once, and kept in the folder
for passing files until that test or the code changes. What no test runs has lived, and so has what is left after `ENOUGH`
seconds of tests; what takes much longer than unchanged has been noticed. The general tools begin a process of tests for each
mutant, or leave out what is decorated, as every formula and rule is.

Of formulas and rules the cases by hand notice every change, 2319 and 693 of them, and the suite holds that (`test_by_hand.py`,
`test_guards.py`). Runs to the end, each on a seed that was new: of formulas and roundings 150 of 150 on seed 91001, of reading and
writing numbers 148 of 148, of rules and samples 149 of 149 on seed 81003, of the planner 140 of 146 on seed 81001; of the resolver
148 of 149 and of job sheets' plans 146 of 150 on seed 92001; on seed 94002 of the plans 73 of 75, of the resolver 74 of 74, of
numbers 75 of 75, of rules and samples 74 of 75. What lived is noticed since, or stands below.
"""

from __future__ import annotations

import ast
import gc
import importlib
import os
import pickle
import random
import re
import resource
import signal
import sys
import time
import traceback
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from tempfile import gettempdir
from types import CodeType, FrameType, FunctionType
from typing import Any

import pytest
from _pytest.runner import runtestprotocol
from hypothesis import settings

import conftest
from generator import expr
from generator.check import load_checked
from generator.formula import FORMULARY, Rule

HOUSE = Path(__file__).resolve().parents[1]
PARTS: dict[str, tuple[str, str]] = {
    # what is changed, and the tests that may notice
    "formulas": (
        "formulas/*.py",
        "by_hand batch bed bolt deck heat lateral load mix plate pour removable removal seat stepped_hole strength syringe"
        " time tools worn gear lifts",
    ),
    "roundings": ("formulas/*.py", "rounding"),
    "rules": (
        "formulas/*.py samples.py",
        "guards samples reading ranges formula batch bed bolt deck heat lateral load mix plate pour removable removal seat"
        " stepped_hole strength syringe time tools worn",
    ),
    "numbers": ("units.py expr.py", "units expr reading"),
    "resolver": ("working.py formula.py reckoning.py", "working reckoning inputs formula"),
    "planner": ("schedule/*.py", "clock_by_hand mixes_by_hand"),
    "plans": ("jobs/plan.py", "plan_by_hand"),
}  # fmt: skip
# A test that works longer than this while it is watched is left to the suite.
LONGEST_TEST = 1.0
# Of a test with more cases than this some stand for all; of formulas and rules each case is one for itself.
CASES = 40
# How long the tests of one mutant may work in all.
ENOUGH = 15.0
# A mutant has been noticed whose test works so much longer than when it was watched.
LONGER, AT_LEAST = 5, 3.0
# And one that takes so much more memory than the tests, in bytes.
MEMORY = 3 << 30
# What tests of whole pages ask for; a site takes too long to be made for each mutant.
PAGES = {"files", "site", "browser", "generator", "mkdocs", "memory_stick", "house", "small_house"}
# What cannot be noticed, by function and change, with the reason.
ALIKE: dict[str, str] = {
    "generator/units.py clip: 4  ->  5": "spares the time of reading a text that is much too long; the cut is after it",
    "generator/working.py at_least: size >= target - _SAME_SIZE  ->  size > target - _SAME_SIZE": "no size stands exactly"
    " a nanometre under another",
    "generator/working.py nearest: abs(size - target) <= away + _SAME_SIZE  ->  abs(size - target) < away + _SAME_SIZE": "the"
    " nearest is nearer than that, and no other is exactly a nanometre farther",
    "generator/working.py nearest: away > within + _SAME_SIZE  ->  away >= within + _SAME_SIZE": "no size stands exactly a"
    " nanometre farther than it may",
    "generator/samples.py tolerance_factor: 20.0  ->  22.0": "from where it is halved; every factor lies far below",
    "generator/samples.py _chi: 12  ->  13": "how far into nothing the sum goes",
    "generator/samples.py _chi: 1  ->  2": "further into nothing, or one step more; the other ones are killed",
    "generator/samples.py _chi: steps + 1  ->  steps - 1": "the last two steps lie twelve deviations out, where nothing is",
    "generator/samples.py Sample.stray: max(far) > grubbs_limit(len(logs))  ->  max(far) >= grubbs_limit(len(logs))": "none"
    " stands exactly where the limit is",
    "generator/expr.py _Reader.refuse: 0  ->  1": "each part that is refused has a line",
    "generator/jobs/plan.py Planner.__init__: min  ->  max": "what a mix lasts goes by the conditions alone, one for all",
    "generator/schedule/timetable.py _Orders.best: 1  ->  2": "how much of the budget a look takes, not what is found",
    "generator/schedule/mixes.py sooner: 1  ->  2": "how many of the tries a look takes, not what is found",
    "generator/schedule/mixes.py sooner: 0  ->  1": "the last of the tries",
    "generator/schedule/timetable.py _Orders.best: done.rank < least  ->  done.rank <= least": "another that is as good",
    "generator/schedule/timetable.py _Orders._moves: place - 1  ->  place + 1": "ahead of itself, or of the next, it stays",
    "generator/schedule/timetable.py _Orders._moves: 1  ->  2": "ahead of the first it stands first; the other ones are"
    " killed",
    "generator/schedule/timetable.py _Orders._moves: 0.75  ->  0.8250000000000001": "between the same two places",
    "generator/schedule/timetable.py _Orders._moves: 1000000.0  ->  1100000.0": "between the same two places, in the same"
    " order",
    "generator/schedule/timetable.py _Planner._broken_off: (left := (pieces[-1][1] - pieces[-1][0])) < hours.shortest  ->"
    "  (left := (pieces[-1][1] - pieces[-1][0])) <= hours.shortest": "what is just long enough is made longer by nothing",
    "generator/schedule/timetable.py _Planner._in_some_order: tried.add(like)  ->  pass": "only spares trying what is alike"
    " once more",
    "generator/schedule/timetable.py Hours.spans: True  ->  False": "the edges are even in number as they are made",
    "generator/schedule/timetable.py _Planner.make: 0  ->  1": "a second sooner, and it waits for who is ready last anyway",
    "generator/schedule/timetable.py _Planner._ready: 1  ->  2": "no part is over sooner than the one before it; the"
    " other one of that line is killed",
    "generator/schedule/timetable.py room: 0  ->  1": "a second later in a week on which nothing else is done",
    "generator/schedule/mixes.py fewest_mixes: _parts(plans[0]) > len(kinds)  ->  _parts(plans[0]) >= len(kinds)": "more"
    " plans are looked at, and the best is taken",
    "generator/schedule/timetable.py _Planner._whole: 0  ->  1": "what is made ready for a mix says how long it stays fresh",
    "generator/schedule/timetable.py _Planner._whole: all  ->  any": "only spares placing what finds no room then",
    "generator/schedule/timetable.py _Planner._before_opening: waiting[0] <= opens - ahead[0]  ->  waiting[0] < opens -"
    " ahead[0]": "looked at one opening later, and in the same order",
    "generator/schedule/timetable.py _Planner._nearest: at > slot.start  ->  at >= slot.start": "where it is, it stays",
    "generator/schedule/timetable.py room: 8  ->  9": "a week holds all that any other one does",
    "generator/schedule/timetable.py room: at > 8 * DAY  ->  at >= 8 * DAY": "a week holds all that any other one does",
    "generator/schedule/timetable.py _Planner.make: max  ->  min": "only spares tries at which nothing is ready, or what was"
    " made ready is stale again",
    "generator/schedule/mixes.py _Search.run: len(self.best) > at_least  ->  len(self.best) >= at_least": "where no fewer can"
    " be, the search ends at once",
    "generator/schedule/mixes.py _Search._rules: 1  ->  2": "only a mix that holds nothing is spared a division",
    "generator/schedule/mixes.py _Search._dig: self.seen[rest] <= len(plan)  ->  self.seen[rest] < len(plan)": "only spares entering the same rest twice at no gain",
    "generator/schedule/mixes.py _Search._fullness: 1  ->  2": "only a mix that holds nothing is spared a division",
    "generator/schedule/mixes.py _Search.run: 0  ->  1": "one of the budget's looks",
    "generator/schedule/mixes.py _Search._bound_by_load: 0  ->  1": "one mix is the least anyway",
    "generator/schedule/mixes.py fewest_mixes: 10 * budget // len(alike)  ->  10 * budget / len(alike)": "a part of a look",
    "generator/schedule/mixes.py deal: time * number  ->  time / number": "only spares trying what is too long for all teams"
    " together",
    "generator/schedule/mixes.py _Search._most_of: 1  ->  2": "no more are served than there are; the other ones are killed",
    "generator/schedule/mixes.py _Search._most_of: most > 1  ->  most >= 1": "for one there is room, or there is no plan",
    "generator/schedule/mixes.py _Search._full: sum((self.busy[task] for task in tasks)) + self.busy[own]  ->"
    "  sum((self.busy[task] for task in tasks)) - self.busy[own]": "only spares dealing out what is too long for all teams"
    " together",
    "generator/schedule/mixes.py _Search._dig: self.looked > self.budget  ->  self.looked >= self.budget": "one of the"
    " budget's looks",
    "generator/schedule/mixes.py _Search._dig: len(self.best) <= at_least  ->  len(self.best) < at_least": "only ends the"
    " search sooner",
    "generator/schedule/mixes.py _Search._room: 1  ->  2": "one more than there are is looked at, and never taken; the other"
    " one of that line is killed",
    "generator/schedule/mixes.py deal: tried.add(before)  ->  pass": "only spares trying teams that are as busy once more",
    "generator/schedule/mixes.py deal: 0  ->  1": "one of the tries; a load of a second is killed",
    "generator/schedule/timetable.py _Planner._broken_off: len(pieces) > 1  ->  len(pieces) >= 1": "it begins so late in a"
    " window that it never goes into it whole",
    "generator/schedule/timetable.py _Diary.most: 0  ->  1": "what is held has been taken, so some day is never empty",
    "generator/jobs/plan.py Planner._no_room: 1  ->  2": "what goes with a mix, and what it holds on an empty day, is the same"
    " for one and for two; the other ones are killed",
    "generator/jobs/plan.py Planner._no_sooner: 1  ->  2": "there are hands enough; the other ones are killed",
    "generator/jobs/plan.py _least_day: (low + high) // 2  ->  (low + high) / 2": "a part of a second of what is told to the"
    " minute",
    "generator/jobs/plan.py _together_in: 1.0  ->  1.1": "so much of nothing",
}

SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Div, ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.And: ast.Or,
    ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd, ast.Continue: ast.Break,
}  # fmt: skip
WORDS = {"max": "min", "min": "max", "ceil": "floor", "floor": "ceil", "any": "all", "all": "any", "sin": "cos",
    "cos": "sin", "True": "False", "False": "True", "up": "down", "down": "up", "nearest": "up", "exp": "log"}  # fmt: skip


Line = tuple[str, int]


@dataclass
class Mutant:
    """Where it stands, what is changed, the change itself, and the lines of which a test runs one that may notice it; what
    is no part of a function is told by the first of the part's tests."""

    place: str
    what: str
    make: Callable[[], None]
    lines: set[Line] = field(default_factory=set)
    plain: bool = False


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


# One that is not made yet, for a file's tree is large.
Waiting = Callable[[], Mutant]


def code_mutants(path: Path, part: str) -> Iterator[Waiting]:
    """Every mutant of a file's functions: of its formulas alone, or of all others. What stands beside formulas and rules
    defines symbols, and has run before a mutant is put in."""
    module = importlib.import_module(".".join(path.relative_to(HOUSE).with_suffix("").parts))
    text = path.read_text(encoding="utf-8")
    formulas, rules = ({one.function.__code__ for one in ones} for ones in (FORMULARY.formulas, FORMULARY.rules))
    seen: Counter[str] = Counter()
    for name, node in functions(ast.parse(text)):
        seen[name] += 1  # a getter stands for its setter
        code = runtime(module, name).__code__
        wanted = code in formulas if part == "formulas" else code in rules or path.parent.name != "formulas"
        if seen[name] == 1 and wanted:
            for number in range(sum(1 for statement in node.body for _ in spots(statement, node))):
                yield partial(code_mutant, module, path, text, name, number)


def code_mutant(module: Any, path: Path, text: str, name: str, number: int) -> Mutant:
    """The mutant of this number among those of a function."""
    tree = ast.parse(text)
    changed = next(one for other, one in functions(tree) if other == name)
    part, turn = [one for statement in changed.body for one in spots(statement, changed)][number]
    line = getattr(part, "lineno", changed.lineno)
    lines = {(str(path), one) for one in around(changed, line)}
    what = turn()
    return Mutant(f"{path.relative_to(HOUSE)}:{line} {name}", what, partial(put_in, module, path, tree, name, changed), lines)  # fmt: skip


def around(function: ast.FunctionDef, line: int) -> range:
    """The lines of the smallest statement that a line is in; of one that holds others its head alone."""
    holding = [one for one in ast.walk(function) if isinstance(one, ast.stmt) and one is not function and one.lineno <= line <= (one.end_lineno or 0)]  # fmt: skip
    if not holding:
        return range(line, line + 1)
    inner = min(holding, key=lambda one: (one.end_lineno or 0) - one.lineno)
    body = getattr(inner, "body", None)
    return range(
        inner.lineno, max(line + 1, body[0].lineno if isinstance(body, list) and body else inner.end_lineno + 1)
    )  # type: ignore[operator]


def put_in(module: Any, path: Path, tree: ast.Module, name: str, changed: ast.FunctionDef) -> None:
    """Have the function run, and a formula's or a rule's script say, what the changed source does."""
    function = runtime(module, name)
    wanted = (name, function.__code__.co_firstlineno)
    ast.fix_missing_locations(tree)
    code = next(one for one in codes(compile(tree, str(path), "exec", dont_inherit=True)) if (one.co_qualname, one.co_firstlineno) == wanted)  # fmt: skip
    function.__code__ = code
    for one in (*FORMULARY.formulas, *FORMULARY.rules):
        if one.function is function:
            body = expr._Reader(str(path), one.parameters).body(changed, isinstance(one, Rule))
            object.__setattr__(one, "body", body)
            one.__dict__.pop("_of_numbers", None)


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
    """Every rule that refuses only warning, and the other way round; and every one with a symbol less that it limits."""
    for rule in FORMULARY.rules:
        code = rule.function.__code__
        lines = {(code.co_filename, line) for _, _, line in code.co_lines() if line}
        turns = [("refuses  ->  warns" if rule.refuses else "warns  ->  refuses", "refuses", not rule.refuses)]
        turns += [(f"without a limit on {one}", "limits", tuple(other for other in rule.limits if other != one)) for one in rule.limits]  # fmt: skip
        for what, name, value in turns:
            turn = partial(object.__setattr__, rule, name, value)
            yield partial(Mutant, f"{rule.where} {rule.function.__name__}", what, turn, lines, True)


def turned_roundings() -> Iterator[Waiting]:
    """Every symbol rounded another way in one of the shops."""
    for symbol in FORMULARY.symbols.values():
        for system in ("metric", "inch"):
            shown = getattr(symbol, system)
            for way in {"nearest", "up", "down"} - {shown.direction}:
                turn = partial(object.__setattr__, symbol, system, replace(shown, direction=way))
                yield partial(Mutant, f"{symbol.name} {system}", f"{shown.direction}  ->  {way}", turn, set(), True)


def mutants(part: str) -> list[Waiting]:
    """All of a part."""
    if part == "roundings":
        return sorted(turned_roundings(), key=lambda one: one.args[:2])
    found = [one for path in changed_files(part) for one in code_mutants(path, part)]
    return [*found, *(turned_rules() if part == "rules" else ())]


def test_files(part: str) -> list[Path]:
    places = (HOUSE / "tests" / place for name in PARTS[part][1].split() for place in (f"test_{name}.py", name))
    return [place for place in places if place.is_file()]


def changed_files(part: str) -> list[Path]:
    paths = (path for one in PARTS[part][0].split() for path in (HOUSE / "generator").glob(one))
    return sorted(path for path in paths if path.name != "__init__.py")


@dataclass
class Sound:
    """A test that holds where nothing is changed: how long it works, and the lines that it runs."""

    seconds: float
    runs: set[Line]


class Watching:
    """Which lines of the files that may be changed are run. Of a function that runs on and on, all are taken for run."""

    def __init__(self) -> None:
        self.files = {str(path) for part in PARTS for path in changed_files(part)}
        self.lines: set[Line] = set()
        self.seen: Counter[CodeType] = Counter()

    def begin(self) -> None:
        self.lines, self.seen = set(), Counter()
        sys.settrace(self.called)

    def called(self, frame: FrameType, *_: object) -> Any:
        code = frame.f_code
        if code.co_filename not in self.files or self.seen[code] > 500:
            return None
        return self.line(frame)

    def line(self, frame: FrameType, *_: object) -> Any:
        code = frame.f_code
        self.lines.add((code.co_filename, frame.f_lineno))
        self.seen[code] += 1
        if self.seen[code] > 500:
            self.lines |= {(code.co_filename, line) for _, _, line in code.co_lines() if line}
            return None
        return self.line


class Trying:
    """In place of running the tests: running them over and over, each time with another mutant."""

    def __init__(self, parts: list[str], count: int, seed: int):
        self.parts, self.count, self.seed = parts, count, seed
        self.part = ""
        self.kept: list[Any] = []  # the functions that remember what they answered
        self.longest_call = 0.0  # what a test is cut off after, or nothing

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self) -> Iterator[None]:
        """Cut off a test that is too long anyway; what it shares with others is made before, and stays whole."""
        if not self.longest_call:
            return (yield)
        signal.signal(signal.SIGVTALRM, _too_long)
        signal.setitimer(signal.ITIMER_VIRTUAL, self.longest_call)
        try:
            return (yield)
        except TimeoutError:  # where it was cut off may have no number of a line, which pytest would show
            raise TimeoutError from None
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        conftest.CHECKED[conftest.digest(HOUSE / "procedures")] = conftest.LIBRARY
        gc.unfreeze()  # what stood when the tests were collected was put away
        self.kept = [
            one
            for one in gc.get_objects()
            if type(one).__name__ == "_lru_cache_wrapper"
            and (getattr(one, "__module__", "") or "").startswith("generator")
        ]
        gc.freeze()
        for part in self.parts:
            self.part = part
            self.try_part(session.items)
        return True

    def try_part(self, items: list[pytest.Item]) -> None:
        """Try as many mutants as asked for, and tell how many were noticed."""
        files = {path.name for path in test_files(self.part)}
        items = [item for item in items if item.path.name in files and not set(item.fixturenames) & PAGES]  # type: ignore[attr-defined]
        if self.part not in ("formulas", "rules"):
            items = some(items)
        everything = mutants(self.part)
        sound = self.watched(items)
        items = sorted((item for item in items if item.nodeid in sound), key=lambda item: sound[item.nodeid].seconds)
        works = sum(one.seconds for one in sound.values())
        print(f"\n{self.part}: {len(everything)} mutants, {len(items)} tests of {works:.0f} s", flush=True)
        tried = random.Random(self.seed).sample(everything, min(self.count, len(everything)))
        outcomes: Counter[str] = Counter()
        again = Path(os.environ["AGAIN"]).read_text(encoding="utf-8") if "AGAIN" in os.environ else ""
        for made in tried:
            mutant = made()
            if again and f"LIVED: {mutant.place}: {mutant.what} (" not in again:
                continue
            if f"{re.sub(r':[0-9]+', '', mutant.place)}: {mutant.what}" in ALIKE:
                outcomes["alike"] += 1
                continue
            begun = time.monotonic()
            told = [
                (item, sound[item.nodeid].seconds)
                for item in items
                if self.may_notice(item, sound[item.nodeid], mutant)
            ]
            noticed = in_a_child(lambda mutant=mutant, told=told: self.noticed(told, mutant))
            outcomes["noticed" if noticed else "lived"] += 1
            if not sum(outcomes.values()) % 25:
                print(dict(outcomes), flush=True)
            if not noticed or "VERBOSE" in os.environ:
                print(
                    f"{noticed or 'LIVED'}: {mutant.place}: {mutant.what} ({len(told)} tests, {time.monotonic() - begun:.1f} s)",
                    flush=True,
                )
        share = outcomes["noticed"] / max(1, outcomes["noticed"] + outcomes["lived"])
        used = sum(resource.getrusage(who).ru_utime for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
        print(f"{self.part}, seed {self.seed}: {dict(outcomes)}; {share:.1%} noticed; {used:.0f} s of work")

    def may_notice(self, item: pytest.Item, sound: Sound, mutant: Mutant) -> bool:
        first = f"test_{PARTS[self.part][1].split()[0]}.py"
        return not sound.runs.isdisjoint(mutant.lines) or (mutant.plain and item.path.name == first)

    def forget(self) -> None:
        """Empty what functions and the resolver remember."""
        FORMULARY._indexed = None
        for one in self.kept:
            one.cache_clear()

    def watched(self, items: list[pytest.Item]) -> dict[str, Sound]:
        """The tests that hold and are short, of which those are watched that have changed since, or the code."""
        code = b"".join(path.read_bytes() for part in PARTS for path in changed_files(part))
        kept = Path(gettempdir()) / f"bondwright-watched-{sha256(code).hexdigest()[:16]}"
        known: dict[tuple[str, str], Sound | None] = pickle.loads(kept.read_bytes()) if kept.exists() else {}
        digests = {path: sha256(path.read_bytes()).hexdigest() for path in {item.path for item in items}}
        keys = {item.nodeid: (item.nodeid, digests[item.path]) for item in items}
        if new := [item for item in items if keys[item.nodeid] not in known]:
            found: dict[str, Sound] = in_a_child(lambda: self.sound(new))
            known |= {keys[item.nodeid]: found.get(item.nodeid) for item in new}
            kept.write_bytes(pickle.dumps(known))
        return {item.nodeid: one for item in items if (one := known[keys[item.nodeid]])}

    def sound(self, items: list[pytest.Item]) -> dict[str, Sound]:
        """The tests that hold and are short."""
        found, watching = {}, Watching()
        for item, following in pairwise([*items, None]):
            assert item is not None
            self.forget()
            self.longest_call = LONGEST_TEST
            begun = time.process_time()
            watching.begin()
            good = not failed(item, following)
            sys.settrace(None)
            seconds = time.process_time() - begun
            if not good and seconds < LONGEST_TEST:
                print(f"fails where nothing is changed: {item.nodeid}", flush=True)
            elif good:
                found[item.nodeid] = Sound(seconds, watching.lines)
        return found

    def noticed(self, told: list[tuple[pytest.Item, float]], mutant: Mutant) -> str:
        """The first test that a mutant fails, or nothing."""
        resource.setrlimit(resource.RLIMIT_DATA, (MEMORY, MEMORY))
        signal.setitimer(signal.ITIMER_PROF, AT_LEAST)  # what the process works, however busy the machine is
        try:
            mutant.make()
            if mutant.place.startswith("generator/expr.py"):
                read_anew()
            self.forget()
        except Exception as error:
            return f"refused: {error}"
        begun = time.process_time()
        for (item, seconds), following in pairwise([*told, None]):  # type: ignore[misc]
            signal.setitimer(signal.ITIMER_PROF, AT_LEAST + LONGER * seconds)
            if failed(item, following[0] if following else None):
                return str(item.nodeid)
            if time.process_time() - begun > ENOUGH:
                break
        if self.part in ("planner", "plans"):  # which no card asks
            return ""
        signal.setitimer(signal.ITIMER_PROF, 10 * AT_LEAST)
        try:
            load_checked(HOUSE / "procedures", job_sheets="none", prove_units=self.part in ("formulas", "rules"))
        except Exception as error:
            return f"check: {error}"
        return ""


def some(items: list[pytest.Item]) -> list[pytest.Item]:
    """The tests, of one with many cases some that stand as far from each other as can be."""
    found: defaultdict[str, list[pytest.Item]] = defaultdict(list)
    for item in items:
        found[item.nodeid.partition("[")[0]].append(item)
    return [one for alike in found.values() for one in alike[:: -(-len(alike) // CASES)]]


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
            os._exit(0)
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(1)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        told = pipe.read()
    _, state = os.waitpid(child, 0)
    if os.WIFSIGNALED(state):
        return f"ended by {signal.Signals(os.WTERMSIG(state)).name}"
    assert told, "no mutant is to blame where the tool itself fails"
    return pickle.loads(told)


def main() -> None:
    """Try as many of each part as asked for."""
    parts, count, seed = (*sys.argv[1:], *("rules", "150", "1")[len(sys.argv) - 1 :])
    # The same examples for every mutant, and few; and none that is too slow only because the machine is busy.
    settings.register_profile("mutants", derandomize=True, deadline=None, database=None, max_examples=25)
    settings.load_profile("mutants")
    trying = Trying(parts.split(","), int(count), int(seed))
    files = {str(path) for part in trying.parts for path in test_files(part)}
    pytest.main(
        ["-n", "0", "-q", "-p", "no:cacheprovider", "-s", "-W", "ignore:Module already imported", *sorted(files)],
        plugins=[trying],
    )


if __name__ == "__main__":
    main()
