"""The trade's own knowledge, a module a subject. Importing this package registers all of it."""

from . import epoxy, hole, symbols, thread

__all__ = ["epoxy", "hole", "symbols", "thread"]
