"""What the YAML of a series of pulled joints means: one set-up, and what each joint held.

Every field that holds a quantity says its unit and what is possible, so that a slip of the pen is found where it
stands.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal, get_args

from pydantic import BeforeValidator, Field, model_validator

from ..units import QuantityError, clip, read_quantity
from .schema import Identifier, Line, Strict, Text

# How a joint gave way, with the words for it. Of `steel` the fastener broke and the bond did not.
Failure = Literal["wood", "wall", "thread", "screw-out", "steel"]
FAILURES: dict[str, str] = {
    "wood": "the wood broke",
    "wall": "the epoxy came off the wall of the hole",
    "thread": "the thread stripped out of the epoxy",
    "screw-out": "the screw drew out",
    "steel": "the fastener broke",
}
assert tuple(FAILURES) == get_args(Failure)


def out_of_limits(least: str, most: str) -> str:
    """What is wrong with a value that no pulled joint has."""
    return f"cannot be; give {least} to {most}"


def _within(base: str, least: str, most: str) -> BeforeValidator:
    """A text as a quantity in the SI unit `base`, between two others."""
    low, high = read_quantity(least, base), read_quantity(most, base)

    def read(text: object) -> float:
        if not isinstance(text, str):
            raise ValueError("a text is wanted here, not a list or a mapping")
        try:
            value = read_quantity(text, base)
        except QuantityError as error:
            raise ValueError(str(error)) from None
        if not low * (1 - 1e-9) <= value <= high * (1 + 1e-9):
            raise ValueError(f"'{clip(text)}' {out_of_limits(least, most)}")
        return value

    return BeforeValidator(read)


def _whole(least: int, most: int) -> BeforeValidator:
    def read(text: object) -> int:
        if not (isinstance(text, str) and text.isascii() and text.isdigit() and least <= int(text) <= most):
            raise ValueError(f"'{clip(str(text))}' is no number of that; give a whole number from {least} to {most}")
        return int(text)

    return BeforeValidator(read)


# Each limit is our own judgement of what no pulled joint in wood can pass.
LIMITS: dict[str, tuple[str, str, str]] = {
    "load": ("N", "50 N", "500 kN"),
    "gravity": ("dimensionless", "0.1", "1.3"),
    "moisture": ("dimensionless", "2 %", "35 %"),
    "cured": ("s", "1 h", "1000 d"),
}
Force = Annotated[float, _within(*LIMITS["load"])]
Gravity = Annotated[float, _within(*LIMITS["gravity"])]
Moisture = Annotated[float, _within(*LIMITS["moisture"])]
Cured = Annotated[float, _within(*LIMITS["cured"])]


BROKEN_OR_HELD = (
    f"give either 'load' and how it 'failed' ({', '.join(FAILURES)}), or 'held' for a joint that did not break"
)


class Joint(Strict):
    """One joint: the `load` that it `failed` at and how, or what it `held` without breaking.

    `given` repeats what it was made with; what differs from its series belongs into another one.
    """

    load: Force | None = Field(default=None, description="load that it broke at")
    failed: Failure | None = Field(default=None, description="how it failed")
    held: Force | None = Field(default=None, description="or, not broken: load that it held")
    given: dict[str, Line] = Field(default={})
    by: Line | None = Field(default=None, description="who pulled it")
    on: date | None = Field(default=None, description="day")
    note: Text | None = Field(default=None, description="what was seen")

    @model_validator(mode="after")
    def broken_or_held(self) -> Joint:
        """A breaking load with its way of failing, or a load that it held."""
        broken = self.load is not None and self.failed is not None and self.held is None
        whole = self.held is not None and self.load is None and self.failed is None
        if not broken and not whole:
            raise ValueError(BROKEN_OR_HELD)
        return self

    @property
    def force(self) -> float:
        """What it broke at, or held (N)."""
        return self.load if self.load is not None else float(self.held or 0)

    @property
    def bond_broke(self) -> bool:
        """Whether its bond gave way. Where the fastener broke first the bond would have held more."""
        return self.load is not None and self.failed != "steel"


class Measured(Strict):
    """What was measured on the wood, and how long the joints cured."""

    gravity: Gravity = Field(description="specific gravity of that wood, dry")
    moisture: Moisture = Field(description="moisture of the wood")
    cured: Cured = Field(description="time that the joints cured")


class Published(Strict):
    """A series that was read and not pulled: its mean load, of how many joints, and what had to be assumed."""

    source: Identifier
    mean: Force
    joints: Annotated[int, _whole(1, 1000)]
    failed: Failure | None = None
    assumed: Text


class Trusted(Strict):
    """Who lets the tests count where the model gives less, when, and why."""

    by: Line
    on: date
    why: Text


class TestSeries(Strict):
    """A file of `procedures/tests`: a card as set, what was measured, and the joints pulled, or a published mean.

    `invented` says that no joint was pulled; such a series is shown and never counted.
    """

    title: Line
    card: Identifier
    given: dict[str, Line]
    measured: Measured | None = None
    joints: list[Joint] = Field(default=[], max_length=500)
    published: Published | None = None
    invented: Text | None = None
    trust: Trusted | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def pulled_or_read(self) -> TestSeries:
        """Joints with what was measured, or a published mean without either."""
        if self.published is None and not (self.joints and self.measured):
            raise ValueError("give 'measured' and 'joints', or 'published' for a series that was read")
        if self.published is not None and (self.joints or self.measured or self.trust or self.invented):
            raise ValueError("a series that was read has neither 'measured', 'joints', 'trust' nor 'invented'")
        if self.trust is not None and self.invented is not None:
            raise ValueError("an invented series is never trusted; leave 'trust' out")
        return self
