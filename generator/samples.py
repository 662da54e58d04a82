"""Statistics of a few breaking loads, on plain numbers.

The value that 95 in 100 joints reach is given so low that it is right three times in four, though only a few were
pulled. The logarithms of the loads are taken to be spread by the bell curve, as the European rule for timber takes
them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from math import erf, exp, lgamma, log, sqrt
from statistics import NormalDist, fmean, stdev

# Fewer say nothing of how far they scatter.
FEWEST = 3
# Of the logarithms. The European rule takes no series to scatter less, however well a few agree.
LEAST_SCATTER = 0.05
SHARE, CONFIDENCE = 0.05, 0.75


@dataclass(frozen=True)
class Sample:
    """Breaking loads, three or more and all above 0, and what is reckoned from them."""

    values: Sequence[float]

    @property
    def mean(self) -> float:
        """Their mean."""
        return fmean(self.values)

    @property
    def scatter(self) -> float:
        """Their standard deviation as a part of the mean."""
        return stdev(self.values) / self.mean

    @property
    def log_mean(self) -> float:
        """The mean of their logarithms."""
        return fmean(map(log, self.values))

    @property
    def log_scatter(self) -> float:
        """The standard deviation of their logarithms, and no less than is counted at least."""
        return max(stdev(map(log, self.values)), LEAST_SCATTER)

    @property
    def factor(self) -> float:
        """How many times the scatter is taken off."""
        return tolerance_factor(len(self.values))

    @property
    def low(self) -> float:
        """What 95 in 100 joints reach, with a confidence of 75 %."""
        return exp(self.log_mean - self.factor * self.log_scatter)

    @property
    def stray(self) -> int | None:
        """The place of the value that stands too far from the others by Grubbs' test, at 5 %, of the logarithms. It is
        a hint to look at that joint again, and no reason to leave it out."""
        logs = [log(value) for value in self.values]
        spread = stdev(logs)
        if not spread:
            return None
        far = [abs(value - fmean(logs)) / spread for value in logs]
        return far.index(max(far)) if max(far) > grubbs_limit(len(logs)) else None


@cache
def tolerance_factor(count: int) -> float:
    """How many standard deviations below the mean of `count` values a bound must lie, so that with a confidence of 75 %
    no more than 5 % of all values are under it. It is the 75 % point of the non-central t distribution, over the root
    of the count."""
    if count < FEWEST:
        raise ValueError(f"no factor for {count} values; {FEWEST} are the fewest")
    wanted = -NormalDist().inv_cdf(SHARE)
    return _solved(lambda factor: _bound_holds(factor, wanted, count), CONFIDENCE, 0.0, 20.0)


def _bound_holds(factor: float, wanted: float, count: int) -> float:
    """How often mean less factor times standard deviation lies below the true mean less `wanted` true ones.

    Given the standard deviation found, the mean is spread by the bell curve; that is summed over all that may be found.
    """
    root = sqrt(count)
    return _over_chi(count - 1, lambda spread: _bell(root * (factor * spread - wanted)))


@cache
def grubbs_limit(count: int) -> float:
    """How many standard deviations the farthest of `count` values may stand from the mean, by Grubbs' test at 5 % on
    both sides."""
    freedom = count - 2
    t = student_point(1 - 0.05 / (2 * count), freedom)
    return (count - 1) / sqrt(count) * sqrt(t**2 / (freedom + t**2))


def student_point(part: float, freedom: int) -> float:
    """Where `part`, over a half, of the t distribution lies below."""
    return _solved(lambda t: _over_chi(freedom, lambda spread: _bell(t * spread)), part, 0.0, 2000.0)


def _bell(value: float) -> float:
    return (1 + erf(value / sqrt(2))) / 2


def _over_chi(freedom: int, part: Callable[[float], float]) -> float:
    """`part` of a standard deviation found from normal values of scatter 1, averaged over how often it is found, by
    Simpson's rule."""
    width, weights = _chi(freedom)
    total = 0.0
    for spread, weight in weights:
        total += weight * part(spread)
    return total * width / 3


@cache
def _chi(freedom: int, steps: int = 800) -> tuple[float, list[tuple[float, float]]]:
    """How far apart the deviations stand that are summed over, and each with what it counts."""
    scale = freedom / 2
    constant = log(2) + scale * log(scale) - lgamma(scale)
    top = 1 + 12 / sqrt(freedom)
    width = top / steps
    weights = []
    for step in range(steps + 1):
        spread = step * width
        if spread:
            density = exp(constant + (freedom - 1) * log(spread) - scale * spread**2)
        else:
            density = exp(constant) if freedom == 1 else 0.0
        weights.append((spread, (1 if step in (0, steps) else 4 if step % 2 else 2) * density))
    return width, weights


def _solved(rising: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    """Where a rising function takes the value wanted, by halving."""
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) < wanted else (low, middle)
    return (low + high) / 2
