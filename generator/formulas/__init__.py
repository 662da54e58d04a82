"""The trade's own knowledge, a module a subject. Importing this package registers all of it."""

# In the order in which the nomenclature page tells them: the thread, drills, the hole for it, what fills it, how long
# it takes, how much at once, what it must carry, what it holds, what is behind it, what it is bedded in.
# isort: off
from . import thread
from . import drill
from . import hole
from . import epoxy
from . import time
from . import pour
from . import load
from . import strength
from . import plate
from . import bed

__all__ = ["bed", "drill", "epoxy", "hole", "load", "plate", "pour", "strength", "thread", "time"]
