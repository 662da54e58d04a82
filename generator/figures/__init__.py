"""Drawings as functions of the working's symbols, their words from YAML."""

from __future__ import annotations

from ..errors import WorkingError
from ..language import tr
from ..model.library import Library
from ..reckoning import Reckoning
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

# In place of a drawing that needs a number that there is none of.
BLANK = '<svg xmlns="http://www.w3.org/2000/svg" height="0"/>'


def figure(library: Library, name: str, reckoning: Reckoning, prefix: str) -> Figure:
    """A drawing for a card that is worked; `prefix` keeps its ids apart from those of others on the page.

    Where it needs a number that there is none of, it is blank and says why.
    """
    values, written = reckoning.working.values, library.drawings[name]
    try:
        return draw(FIGURES[name].place, written, values, reckoning.shop, reckoning.texts, prefix)
    except WorkingError as error:
        why = error
    except KeyError as missing:  # asked of a plain copy of the values, which has no reasons
        if missing.args[0] not in values.refused:
            raise
        why = values.refused[missing.args[0]]
    return Figure(BLANK, "", "", tr("No drawing: {why}.", why=why))


__all__ = ["BLANK", "FIGURES", "Figure", "draw", "figure"]
