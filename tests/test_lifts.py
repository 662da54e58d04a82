"""Filling in lifts: every formula by hand, and how deep a lift may be against the equation of self-heating."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import sqrt

import numpy as np
import pytest
import scipy

from conftest import LIBRARY
from generator.formula import FORMULARY
from generator.formulas import lifts
from generator.reckoning import Reckoning, reckon

ML = 1e-6
CARDS = ("worn-hole", "bedded-cored")


def card(name: str, **inputs: str) -> Reckoning:
    return reckon(LIBRARY, LIBRARY.cards[name], inputs)


# Worked with a pocket calculator, in SI units.
BY_HAND = [
    # 17 / 20 = 0.85; 1.05 - 0.7225 = 0.3275; its root 0.57228; times 5 = 2.861; up to 3
    ("n_l", {"h_w": 0.050, "h_p": 0.010, "D_l": 0.020, "d_p": 0.017}, 3.0),
    # a narrow bore sheds it all through its wall
    ("n_l", {"h_w": 0.500, "h_p": 0.010, "D_l": 0.016, "d_p": 0.017}, 1.0),
    # a wide one hardly any: the root of 1.05 - 0.0289 is 1.0105; times 4 = 4.04
    ("n_l", {"h_w": 0.040, "h_p": 0.010, "D_l": 0.100, "d_p": 0.017}, 5.0),
    ("h_l", {"h_w": 0.048, "n_l": 3.0}, 0.016),
    # pi / 4 x 20^2 x 16 mm3
    ("V_l", {"D_l": 0.020, "h_l": 0.016}, 5.026548 * ML),
    ("V_1", {"n_h": 4.0, "V_l": 5.0 * ML}, 20 * ML),
    # 13 waits of 3 h are 39 h
    ("t_lw", {"n_l": 14.0, "t_c": 10800.0}, 140400.0),
    # 1 h 28 min are told as 2 h: 10 waits are 20 h
    ("t_lw", {"n_l": 11.0, "t_c": 5280.0}, 72000.0),
    # 1 h 0.5 min is told as 2 h
    ("t_lw", {"n_l": 3.0, "t_c": 3630.0}, 14400.0),
    # 11 lifts of 4 mixes
    ("n_lm", {"n_l": 11.0, "n_m": 4.0}, 44.0),
]


@pytest.mark.parametrize(
    ("symbol", "values", "result"), BY_HAND, ids=lambda part: part if isinstance(part, str) else ""
)
def test_by_hand(symbol: str, values: Mapping[str, float], result: float) -> None:
    (formula,) = (
        one for one in FORMULARY.formulas if one.symbol == symbol and one.function.__module__ == lifts.__name__
    )
    assert formula.call(values) == pytest.approx(result, rel=1e-6)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {step.symbol for step in FORMULARY.formulas if step.function.__module__ == lifts.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


# Self-heating in a short cylinder of radius 1: theta'' + theta' / r + theta_zz + delta exp(theta) = 0, its skin at 0.


def laplacian(half: float, cells: int) -> scipy.sparse.csr_matrix:
    """Rings and slices of equal size from the middle out; `half` is half of the cylinder's length."""
    dr, dz = 1 / cells, half / cells
    matrix = scipy.sparse.lil_matrix((cells * cells, cells * cells))
    for i in range(cells):
        for j in range(cells):
            here = i * cells + j
            radial = [(i - 1, i / ((i + 0.5) * dr * dr)), (i + 1, (i + 1) / ((i + 0.5) * dr * dr))]
            for near, other, flow in [
                *((ring, ring * cells + j, flow) for ring, flow in radial),
                *((slice_, i * cells + slice_, 1 / dz**2) for slice_ in (j - 1, j + 1)),
            ]:
                if 0 <= near < cells:
                    matrix[here, other] += flow
                    matrix[here, here] -= flow
                elif near == cells:  # the skin is half a cell away
                    matrix[here, here] -= 2 * flow
    return scipy.sparse.csr_matrix(matrix)


@cache
def critical(half: float, cells: int = 24) -> float:
    """The greatest delta that any temperature of the middle goes with, by Newton's way from a cold cylinder up."""
    matrix = laplacian(half, cells)
    theta, delta, greatest = np.zeros(cells * cells), 0.0, 0.0
    first = np.zeros((1, cells * cells))
    first[0, 0] = 1.0
    for middle in np.arange(0.2, 2.4, 0.1):
        for _ in range(40):
            growth = np.exp(theta)
            miss = np.append(matrix @ theta + delta * growth, theta[0] - middle)
            slope = scipy.sparse.bmat(
                [[matrix + scipy.sparse.diags(delta * growth), growth[:, None]], [first, None]], format="csc"
            )
            step = scipy.sparse.linalg.spsolve(slope, -miss)
            theta, delta = theta + step[:-1], delta + step[-1]
            if np.abs(step).max() < 1e-8:
                break
        greatest = max(greatest, delta)
    return greatest


def test_the_equation_is_solved_as_for_a_long_rod() -> None:
    assert critical(1000.0) == pytest.approx(2.0, rel=3e-3)


@pytest.mark.parametrize("wide", [1.0, 1.05, 1.2, 1.5, 2.0, 4.0])
def test_the_deepest_lift_sheds_its_heat(wide: float) -> None:
    """In bores wider than the thickest rod, of any width: delta goes with the square of the radius, 2 for that rod."""
    rod, layer = 1.0, sqrt(0.878 / 2)
    (formula,) = FORMULARY.yielding("n_l")
    deepest = layer / sqrt(1.05 - (rod / wide) ** 2)
    at = {"h_p": layer, "D_l": wide, "d_p": rod}
    assert formula.call({**at, "h_w": 0.999 * deepest}) == 1  # type: ignore[union-attr]
    assert formula.call({**at, "h_w": 1.001 * deepest}) == 2  # type: ignore[union-attr]
    own = 2 * wide**2
    limit = critical(deepest / wide)
    assert own <= limit
    assert own >= 0.93 * limit, "and is not cut far below what would do"


# On the cards


@pytest.mark.parametrize("name", CARDS)
@pytest.mark.parametrize("count", ["1", "3"])
def test_all_lifts_fill_the_bore(name: str, count: str) -> None:
    own = {"T_wo": "80 mm"} if name == "worn-hole" else {}
    values = card(name, thread="M16", n_h=count, N="2", **own).working.values
    assert values["n_l"] > 1
    bore = values["V_wo"] if name == "worn-hole" else values["V_c"]
    assert values["n_l"] * values["V_1"] == pytest.approx(int(count) * bore)
