"""Drawings as functions of the working's symbols, their words from YAML."""

from __future__ import annotations

from ..job import Job
from ..model.library import Library
from . import (  # noqa: F401  each lists its drawings
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
from .picture import FIGURES, draw


def figure(library: Library, name: str, job: Job, prefix: str) -> Figure:
    """A drawing for a card that is worked; `prefix` keeps its ids apart from those of others on the page."""
    return draw(FIGURES[name].place, library.drawings[name], job.working.values, job.shop, job.texts, prefix)


__all__ = ["FIGURES", "Figure", "draw", "figure"]
