"""The trade's own knowledge, a module a subject. Importing this package registers all of it."""

from importlib import import_module
from pkgutil import iter_modules

# In the order in which the nomenclature page tells them: the thread, drills, the hole for it, what fills it, the mix,
# how long it takes, how much at once, what it must carry, what it holds along and across, what is behind it, what it is
# bedded in, how it comes out again, and what is removable or a screw, and what to fetch for it. A module that is not
# named here comes after these.
_TOLD = (
    "thread drill hole blind worn epoxy mix syringe time pour lifts batch load strength lateral plate trial pulled "
    "reading bed seat deck bolt heat removal bonded_screw bush cast_thread tools"
)

for _name in dict.fromkeys([*_TOLD.split(), *sorted(found.name for found in iter_modules(__path__))]):
    import_module(f"{__name__}.{_name}")
