"""Drawings as functions of the working's symbols."""

from __future__ import annotations

from collections.abc import Callable

from . import (
    bench_steps,
    bonded_screw,
    bush,
    cast_thread,
    deck_steps,
    heat_steps,
    hole_steps,
    plate_steps,
    seat_steps,
    stepped_hole,
    trial_steps,
    worn_steps,
)
from .parts import Figure
from .stepped_hole import stepped_hole_section

_ROOMS = (
    stepped_hole,
    bench_steps,
    heat_steps,
    hole_steps,
    worn_steps,
    trial_steps,
    seat_steps,
    plate_steps,
    deck_steps,
    cast_thread,
    bush,
    bonded_screw,
)
# By the name a card asks for.
FIGURES: dict[str, Callable[..., Figure]] = {name: draw for room in _ROOMS for name, draw in room.FIGURES.items()}

__all__ = ["FIGURES", "Figure", "stepped_hole_section"]
