"""The trade's own knowledge, a module a subject. Importing this package registers all of it."""

# In the order in which the nomenclature page tells them: the thread, the hole for it, what fills the hole.
# isort: off
from . import thread
from . import hole
from . import epoxy

__all__ = ["epoxy", "hole", "thread"]
