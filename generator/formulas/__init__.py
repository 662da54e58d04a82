"""The trade's own knowledge, a module a subject. Importing this package registers all of it."""

# In the order in which the nomenclature page tells them: the thread, drills, the hole for it, what fills it, the mix,
# how long it takes, how much at once, what it must carry, what it holds along and across, what is behind it, what it is
# bedded in, how it comes out again, and what is removable or a screw,
# and what to fetch for it.
# isort: off
from . import thread
from . import drill
from . import hole
from . import blind
from . import worn
from . import epoxy
from . import mix
from . import syringe
from . import time
from . import pour
from . import lifts
from . import batch
from . import load
from . import strength
from . import lateral
from . import plate
from . import trial
from . import pulled
from . import reading
from . import bed
from . import seat
from . import deck
from . import bolt
from . import heat
from . import removal
from . import bonded_screw
from . import bush
from . import cast_thread
from . import tools

__all__ = [
    "batch",
    "bed",
    "blind",
    "bolt",
    "bonded_screw",
    "bush",
    "cast_thread",
    "deck",
    "drill",
    "epoxy",
    "heat",
    "hole",
    "lateral",
    "lifts",
    "load",
    "mix",
    "plate",
    "pour",
    "pulled",
    "reading",
    "removal",
    "seat",
    "strength",
    "syringe",
    "thread",
    "time",
    "tools",
    "trial",
    "worn",
]
