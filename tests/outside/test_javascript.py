"""Formulas and rules as JavaScript against the same formulas and rules in Python.

Node is the independent judge: the text that a page carries is evaluated there, all of it in one process, at random
inputs and at round ones where whole numbers and equal values turn up. It proves that the printed JavaScript means what
the Python function means.
"""

from __future__ import annotations

import json
import math
import os
import random
import shutil
import subprocess
from itertools import product
from typing import Any

import pytest

from conftest import STUCK, all_hold
from generator import formulas  # noqa: F401  registers formulas and rules
from generator.formula import FORMULARY, Formula, Rule

POINTS = 12
ROUND = (0.25, 0.5, 1.0, 1.5, 2.0, 3.0)
# Negative, nothing, whole, just over whole, and halves: where a rule may turn.
EDGES = (-1.0, 0.0, 0.25, 0.5, 0.9999, 1.0, 1.0 + 1e-10, 1.5, 2.0, 2.0 + 1e-6, 3.0)
# A rule in true sizes turns where no round number lies.
SIZES = {"d": (0.0059, 0.006, 0.0125, 0.02, 0.0201), "D_o": (0.0079, 0.008, 0.0145)}
SIZES |= {"d_n": (0.0034, 0.0059, 0.006, 0.0125, 0.02, 0.0201), "rho_w": (280.0, 290.0, 470.0, 900.0, 910.0)}
SIZES |= {"n_lm": (12.0, 13.0)}
SIZES |= {
    "L_C": (2.4, 2.5, 24.0, 24.1),
    "L_H": (24.0, 24.1),
    "n_s": (4.0, 5.0),
    "n_mx": (4.0, 5.0),
    "V_s": (50e-6, 60e-6),
}

EVALUATE = """
const jobs = JSON.parse(require("fs").readFileSync(0, "utf8"));
const answer = job => {
  const run = new Function(...job.parameters, '"use strict"; return (' + job.text + ");");
  return job.points.map(point => run(...point));
};
process.stdout.write(JSON.stringify(jobs.map(answer)));
"""


def formula_points(formula: Formula) -> list[list[float]]:
    """Random and round positive inputs at which Python has a number."""
    chance = random.Random(formula.symbol)
    points: list[list[float]] = []
    while len(points) < POINTS:
        draw = (lambda: chance.choice(ROUND)) if len(points) % 2 else (lambda: chance.uniform(0.1, 3.0))
        point = [draw() for _ in formula.parameters]
        try:
            number = formula.call(dict(zip(formula.parameters, point, strict=True)))
        except (ArithmeticError, ValueError):  # a root or an arc sine of what has none
            continue
        if math.isfinite(number):
            points.append(point)
    return points


def rule_points(rule: Rule) -> list[list[float]]:
    """Every combination of the edges for one or two inputs, a fair sample of them for more."""
    edges = [EDGES + SIZES.get(name, ()) for name in rule.parameters]
    if len(rule.parameters) <= 2:
        return [list(point) for point in product(*edges)]
    chance = random.Random(rule.message)
    return [[chance.choice(own) for own in edges] for _ in range(300)]


CODES = [(code, formula_points(code)) for code in FORMULARY.formulas] + [
    (rule, rule_points(rule)) for rule in FORMULARY.rules
]
NAMES = [code.function.__name__ for code, _ in CODES]


@pytest.fixture(scope="module")
def answers() -> list[list[Any]]:
    """What Node makes of every formula and rule at every point."""
    node = shutil.which("node")
    if node is None:
        if os.environ.get("CI"):
            pytest.fail("node is missing: the build needs Node.js for this test")
        pytest.skip("no node here: install Node.js to run this test")
    tasks = [{"parameters": code.parameters, "text": code.javascript(), "points": points} for code, points in CODES]
    done = subprocess.run(
        [node, "-e", EVALUATE], input=json.dumps(tasks), capture_output=True, text=True, timeout=STUCK, check=False
    )
    assert done.returncode == 0, done.stderr
    result: list[list[Any]] = json.loads(done.stdout)
    assert len(result) == len(CODES)
    return result


def test_node_agrees(answers: list[list[Any]]) -> None:
    def agrees(place: int) -> None:
        code, points = CODES[place]
        assert len(answers[place]) == len(points) > 0
        for point, theirs in zip(points, answers[place], strict=True):
            given = dict(zip(code.parameters, point, strict=True))
            ours = code.call(given)
            if isinstance(code, Rule):
                agreed = isinstance(theirs, bool) and theirs == bool(ours)
            else:
                # The two may add in another order, and a difference of near equals keeps that noise.
                number = isinstance(theirs, int | float)
                agreed = number and math.isclose(theirs, float(ours), rel_tol=1e-9, abs_tol=1e-12)
            assert agreed, f"{code.javascript()} at {given}: node {theirs}, python {ours}"

    all_hold(agrees, range(len(CODES)), lambda place: NAMES[place])


def test_every_rule_both_holds_and_refuses() -> None:
    """A rule that the points never break, or never keep, would be compared for nothing."""

    def turns(code: tuple[Formula | Rule, list[list[float]]]) -> None:
        rule, points = code
        assert {bool(rule.call(dict(zip(rule.parameters, point, strict=True)))) for point in points} == {True, False}

    rules = [code for code in CODES if isinstance(code[0], Rule)]
    all_hold(turns, rules, lambda code: code[0].function.__name__)


def test_something_is_registered() -> None:
    assert len(FORMULARY.formulas) > 10
    assert len(FORMULARY.rules) > 0
    assert len(NAMES) == len(set(NAMES)), "two formulas or rules of one name"
