"""Any drawing of any job, and what the tests of drawings measure on it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from conftest import HOUSE
from generator.figures import FIGURES, Figure, draw
from generator.model.library import load

LIBRARY = load(HOUSE / "procedures")


def drawn_by(
    name: str, values: Mapping[str, float], say: Callable[[str], str], options: Mapping[str, str], prefix: str
) -> Figure:
    """A drawing with its own words."""
    return draw(FIGURES[name].place, LIBRARY.drawings[name], values, say, options, prefix)
