"""The trade's own knowledge, a module a subject. Importing this package registers all of it."""

# In the order in which the nomenclature page tells them: the thread, drills, the hole for it, what fills it, the mix,
# how long it takes, how much at once, what it must carry, what it holds, what is behind it, what it is bedded in, and
# how it comes out again.
# isort: off
from . import thread
from . import drill
from . import hole
from . import epoxy
from . import mix
from . import time
from . import pour
from . import load
from . import strength
from . import plate
from . import bed
from . import heat

__all__ = ["bed", "drill", "epoxy", "heat", "hole", "load", "mix", "plate", "pour", "strength", "thread", "time"]
