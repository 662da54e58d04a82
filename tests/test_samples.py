"""Statistics of a few breaking loads, against published factors, an independent library and a calculation by hand."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import scipy
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import yaml_beside
from generator.samples import LEAST_SCATTER, Sample, grubbs_limit, student_point, tolerance_factor

PUBLISHED = yaml_beside("published/small_samples.yaml")
COUNTS = (3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 30, 50, 100, 500)


def rows(name: str) -> list[tuple[int, float, float]]:
    table = PUBLISHED[name]
    assert table["source"] in PUBLISHED["sources"]
    return [(count, value, table["tolerance"]) for count, value in table["rows"].items()]


@pytest.mark.parametrize(("count", "factor", "tolerance"), rows("tolerance_factor"))
def test_factors_are_the_published_ones(count: int, factor: float, tolerance: float) -> None:
    assert tolerance_factor(count) == pytest.approx(factor, abs=tolerance)


@pytest.mark.parametrize("count", COUNTS)
def test_factors_are_those_of_the_non_central_t_distribution(count: int) -> None:
    shift = scipy.stats.norm.ppf(0.95) * math.sqrt(count)
    own = scipy.stats.nct.ppf(0.75, count - 1, shift) / math.sqrt(count)
    assert tolerance_factor(count) == pytest.approx(own, rel=1e-6)


@pytest.mark.parametrize("count", COUNTS)
def test_the_limit_of_grubbs_test_is_that_of_the_t_distribution(count: int) -> None:
    t = scipy.stats.t.ppf(1 - 0.05 / (2 * count), count - 2)
    own = (count - 1) / math.sqrt(count) * math.sqrt(t**2 / (count - 2 + t**2))
    assert grubbs_limit(count) == pytest.approx(own, rel=1e-6)


@pytest.mark.parametrize(("count", "limit", "tolerance"), rows("grubbs"))
def test_the_limits_of_grubbs_test_are_the_published_ones(count: int, limit: float, tolerance: float) -> None:
    assert grubbs_limit(count) == pytest.approx(limit, abs=tolerance)


@pytest.mark.parametrize(("count", "factor", "tolerance"), rows("next_value"))
def test_the_computed_t_distribution_gives_the_other_rules_factors(count: int, factor: float, tolerance: float) -> None:
    assert student_point(0.95, count - 1) * math.sqrt(1 + 1 / count) == pytest.approx(factor, abs=tolerance)


@pytest.mark.parametrize(("part", "point"), [(2 / 3, 3**-0.5), (3 / 4, 1.0), (5 / 6, 3**0.5)])
def test_with_one_degree_of_freedom_the_t_distribution_is_cauchys(part: float, point: float) -> None:
    """Of which a part lies below the tangent of pi (part - 1/2): of 30, 45 and 60 degrees."""
    assert student_point(part, 1) == pytest.approx(point, rel=1e-6)


def test_five_joints_by_hand() -> None:
    """10.2, 11.4, 12.1, 9.6 and 11.0: the sum is 54.3 and the mean 10.86. The logarithms are 2.32239, 2.43361, 2.49321,
    2.26176 and 2.39790, with a mean of 2.38177; their squared deviations add to 0.033294, over 4 and the root 0.09123.
    With the factor 2.463: exp(2.38177 - 2.463 * 0.09123) = exp(2.15704) = 8.645."""
    sample = Sample([10.2, 11.4, 12.1, 9.6, 11.0])
    assert sample.mean == pytest.approx(10.86)
    assert sample.log_mean == pytest.approx(2.38177, abs=1e-5)
    assert sample.log_scatter == pytest.approx(0.09123, abs=1e-5)
    assert sample.low == pytest.approx(8.645, abs=0.002)
    assert sample.stray is None


def test_joints_that_agree_too_well_are_taken_to_scatter_by_a_twentieth() -> None:
    assert Sample([10.0, 10.0, 10.0]).low == pytest.approx(10 * math.exp(-tolerance_factor(3) * LEAST_SCATTER))


def test_a_stray_value_is_pointed_out_and_stays() -> None:
    sample = Sample([10.2, 10.4, 10.1, 9.9, 10.0, 4.0])
    assert sample.stray == 5
    assert len(sample.values) == 6


@pytest.mark.parametrize("count", [0, 1, 2])
def test_fewer_than_three_have_no_factor(count: int) -> None:
    with pytest.raises(ValueError, match="3 are the fewest"):
        tolerance_factor(count)


def test_the_low_value_is_right_three_times_in_four() -> None:
    """Series of five drawn from a known spread: how often is what 95 in 100 truly reach above the value given?"""
    chance, true = random.Random(18), math.exp(2.0 - 1.6448536 * 0.2)
    held = sum(Sample([chance.lognormvariate(2.0, 0.2) for _ in range(5)]).low <= true for _ in range(4000))
    assert held / 4000 == pytest.approx(0.75, abs=0.025)


LOADS = st.lists(st.floats(1e3, 1e5), min_size=3, max_size=12)


@settings(max_examples=60, deadline=None)
@given(LOADS, st.floats(0.1, 10))
def test_the_low_value_goes_with_the_unit_and_stays_under_the_mean(loads: list[float], unit: float) -> None:
    low = Sample(loads).low
    assert low < Sample(loads).mean
    assert Sample([unit * load for load in loads]).low == pytest.approx(unit * low, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(LOADS)
def test_the_low_value_is_as_an_independent_library_works_it(loads: list[float]) -> None:
    count = len(loads)
    logs = [math.log(load) for load in loads]
    factor = scipy.stats.nct.ppf(0.75, count - 1, scipy.stats.norm.ppf(0.95) * math.sqrt(count)) / math.sqrt(count)
    own = math.exp(float(np.mean(logs)) - factor * max(float(np.std(logs, ddof=1)), LEAST_SCATTER))
    assert Sample(loads).low == pytest.approx(own, rel=1e-6)
