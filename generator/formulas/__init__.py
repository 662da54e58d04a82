"""The trade's own knowledge, a module a subject. Importing this package registers all of it."""

from . import epoxy, hole, thread

__all__ = ["epoxy", "hole", "thread"]
