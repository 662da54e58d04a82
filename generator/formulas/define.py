"""The ways a symbol is shown. A subject's symbols are defined with them at the top of its module.

A symbol has one meaning everywhere, an SI unit, and a way to be shown in a metric and in an inch shop.
Steps are what the shop can read: a rule to 1 mm or 1/16 in, a syringe to a tenth of a millilitre, a
scale to a tenth of a gram. Direction is towards safety: more epoxy, less load. Syringes and scales
read millilitres and grams in an inch shop too.
"""

from __future__ import annotations

from fractions import Fraction

from ..formula import FORMULARY, Symbol
from ..units import Direction, Shown

TENTH, HUNDREDTH, THOUSANDTH, TEN_THOUSANDTH = (Fraction(1, 10**places) for places in (1, 2, 3, 4))


MARK = Shown("dimensionless", Fraction(1))
# A gap that a feeler gauge tells, and pads that differ by so little.
FEELER_MM, FEELER_IN = Shown("mm", HUNDREDTH, trim=True), Shown("in", THOUSANDTH, trim=True)
# A pad's or a fillet's thickness.
PAD_MM, PAD_IN = Shown("mm", TENTH, trim=True), Shown("in", Fraction(1, 32), fraction=True)


def define(
    name: str,
    meaning: str,
    unit: str,
    metric: Shown,
    inch: Shown | None = None,
    *,
    positive: bool = False,
    absent: str = "",
) -> None:
    """Any symbol: the general way."""
    FORMULARY.define(Symbol(name, meaning, unit, metric, inch or metric, positive, absent=absent))


def sized(name: str, meaning: str, metric: Shown, inch: Shown, *, positive: bool = False) -> None:
    """A length with its own way to be shown."""
    define(name, meaning, "m", metric, inch, positive=positive)


def drill(name: str, meaning: str) -> None:
    """A size that is stamped on a drill."""
    define(
        name,
        meaning,
        "m",
        Shown("mm", TENTH, trim=True),
        Shown("in", Fraction(1, 64), fraction=True),
        positive=True,
    )


def ruled(name: str, meaning: str, direction: Direction = "nearest") -> None:
    """A length set or measured with a rule."""
    define(
        name,
        meaning,
        "m",
        Shown("mm", Fraction(1), direction),
        Shown("in", Fraction(1, 16), direction, fraction=True),
    )


def measured(name: str, meaning: str) -> None:
    """A length measured with callipers, or known by calculation."""
    define(name, meaning, "m", Shown("mm", HUNDREDTH), Shown("in", THOUSANDTH))


def area(name: str, meaning: str) -> None:
    """A cross-section of metal."""
    define(name, meaning, "m**2", Shown("mm**2", TENTH), Shown("in**2", TEN_THOUSANDTH))


def surface(name: str, meaning: str) -> None:
    """A surface to be coated."""
    define(name, meaning, "m**2", Shown("mm**2", Fraction(1), "up"), Shown("in**2", HUNDREDTH, "up"))


def volume(name: str, meaning: str, step: Fraction = TENTH, direction: Direction = "up") -> None:
    """An amount of epoxy."""
    define(name, meaning, "m**3", Shown("mL", step, direction))


def mass(name: str, meaning: str, direction: Direction = "up") -> None:
    """An amount to weigh."""
    define(name, meaning, "kg", Shown("g", TENTH, direction))


def number(name: str, meaning: str, step: Fraction = THOUSANDTH, *, positive: bool = False) -> None:
    """A plain factor."""
    define(name, meaning, "dimensionless", Shown("dimensionless", step, trim=True), positive=positive)


def share(name: str, meaning: str) -> None:
    """A part of something, in percent."""
    define(name, meaning, "dimensionless", Shown("percent", TENTH, trim=True))


def count(name: str, meaning: str) -> None:
    """A whole number."""
    define(name, meaning, "dimensionless", Shown("dimensionless", Fraction(1), "up"))


def mark(name: str, meaning: str, most: int = 1) -> None:
    """A number that stands for words, from 0 to `most`."""
    FORMULARY.define(Symbol(name, meaning, "dimensionless", MARK, MARK, marks=most))


def density(name: str, meaning: str) -> None:
    """A density."""
    define(name, meaning, "kg/m**3", Shown("g/mL", HUNDREDTH), positive=True)


def coverage(name: str, meaning: str) -> None:
    """A mass on a surface."""
    define(name, meaning, "kg/m**2", Shown("g/m**2", Fraction(1)))


def temperature(name: str, meaning: str) -> None:
    """A temperature, to a degree."""
    define(name, meaning, "K", Shown("degC", Fraction(1)), Shown("degF", Fraction(1)), positive=True)


def warmth(name: str, meaning: str, *, positive: bool = False) -> None:
    """A difference of temperatures."""
    metric, inch = (Shown(unit, TENTH, trim=True) for unit in ("delta_degC", "delta_degF"))
    define(name, meaning, "delta_degC", metric, inch, positive=positive)


def minutes(name: str, meaning: str, direction: Direction = "nearest") -> None:
    """A short time."""
    define(name, meaning, "s", Shown("min", Fraction(1), direction))


def hours(name: str, meaning: str, direction: Direction = "up") -> None:
    """A long time: rounded up, because waiting longer is the safe side."""
    define(name, meaning, "s", Shown("hour", Fraction(1), direction))


def force(name: str, meaning: str, direction: Direction = "down", *, at: str = "") -> None:
    """A load: what may be trusted is rounded down, what must be carried up."""
    metric, inch = Shown("kN", HUNDREDTH, direction), Shown("lbf", Fraction(1), direction)
    FORMULARY.define(Symbol(name, meaning, "N", metric, inch, at=at))


def stress(name: str, meaning: str) -> None:
    """A strength or a stress."""
    define(name, meaning, "Pa", Shown("MPa", TENTH), Shown("psi", Fraction(10)))


def angle(name: str, meaning: str) -> None:
    """An angle."""
    define(name, meaning, "rad", Shown("deg", Fraction(1)))
