"""Drawings as functions of the working's symbols."""

from __future__ import annotations

from collections.abc import Callable

from .parts import Figure
from .stepped_hole import stepped_hole_section

# By the name a card asks for.
FIGURES: dict[str, Callable[..., Figure]] = {"stepped-hole-section": stepped_hole_section}

__all__ = ["FIGURES", "Figure", "stepped_hole_section"]
