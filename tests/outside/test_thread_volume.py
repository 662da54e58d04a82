"""The room a thread takes up, against numeric integration of the ISO 68-1 basic profile.

The profile is built here from its own definition: a sharp 60 degree triangle on one pitch, H = sqrt(3)/2 P high, cut
off H/8 from the top, which leaves a crest as wide as P/8, and H/4 from the bottom, which leaves a root as wide as P/4.
ASME B1.1 shares it. Turned round the axis and integrated, and once more as the section of the real helix, it proves the
volume-equivalent diameter of every thread in the data without using the project's formula for it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
import scipy

from conftest import LIBRARY, for_each
from generator.model.quantity import gift
from generator.working import work

THREADS = [row.size for _, _, row in LIBRARY.threads()]


@dataclass(frozen=True)
class Profile:
    """Half a section through the thread, crest at z = 0."""

    d: float
    P: float

    @property
    def height(self) -> float:
        """The sharp triangle: half a pitch wide at 30 degrees."""
        return self.P / 2 / math.tan(math.radians(30))

    def radius(self, z: float) -> float:
        """The sharp triangle, cut off at crest and root."""
        from_crest = abs(z - self.P * round(z / self.P))
        sharp = self.d / 2 + self.height / 8 - from_crest / math.tan(math.radians(30))
        crest, root = self.d / 2, self.d / 2 + self.height / 8 - self.height + self.height / 4
        return min(crest, max(root, sharp))

    @property
    def corners(self) -> tuple[float, float]:
        """Where the flank begins and ends, from the definition's flats."""
        return self.P / 16, self.P / 2 - self.P / 8


def profile(size: str) -> Profile:
    values = given(size)
    return Profile(values["d"], values["P"])


def given(size: str) -> dict[str, float]:
    """What the data say of a thread."""
    series, row = LIBRARY.thread(size)
    return gift({**series.gives, "d": row.d, "P": row.P}, series.sources, series.source).values


def own_diameter(size: str) -> float:
    return work(["d_v"], given(size)).values["d_v"]


@for_each(THREADS)
def test_ring_by_ring(size: str) -> None:
    """Half a pitch, turned round the axis; the other half mirrors it."""
    shape = profile(size)
    volume, _ = scipy.integrate.quad(
        lambda z: math.pi * shape.radius(z) ** 2, 0, shape.P / 2, points=shape.corners, epsabs=0, epsrel=1e-12
    )
    assert own_diameter(size) == pytest.approx(math.sqrt(4 / math.pi * volume / (shape.P / 2)), rel=1e-9, abs=0)


@pytest.mark.parametrize("size", THREADS)
def test_section_of_the_helix(size: str) -> None:
    """The real thread is a helix: cut square to the axis, its outline goes once through the profile in one turn.

    The outline is taken as a polygon, which lies inside the curve: hence the wider tolerance.
    """
    shape = profile(size)
    turns = np.linspace(0, 1, 20_001)
    radii = np.array([shape.radius(shape.P * turn) for turn in turns])
    x, y = radii * np.cos(2 * np.pi * turns), radii * np.sin(2 * np.pi * turns)
    area = 0.5 * np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])
    assert own_diameter(size) == pytest.approx(math.sqrt(4 / math.pi * area), rel=1e-6, abs=0)


@pytest.mark.parametrize("size", ["M4", "M10", "1/4-20 UNC", "1-12 UNF"])
def test_profile_is_the_standard_one(size: str) -> None:
    """Flats and depth of the profile built above are those that the standard lays down."""
    shape = profile(size)
    begin, end = shape.corners
    noise = 1e-9 * shape.P
    assert shape.radius(begin - noise) == shape.d / 2 > shape.radius(begin + noise)
    assert shape.radius(end - noise) > shape.radius(end + noise) == shape.radius(shape.P / 2)
    assert 2 * begin == pytest.approx(shape.P / 8)
    assert shape.P - 2 * end == pytest.approx(shape.P / 4)
    H = math.sqrt(3) / 2 * shape.P
    assert shape.height == pytest.approx(H)
    assert shape.d / 2 - shape.radius(shape.P / 2) == pytest.approx(5 / 8 * H)
