"""What the YAML of a series of pulled joints means: one set-up, and what each joint held.

Every field that holds a quantity says its unit and what is possible, so that a slip of the pen is found where it
stands.
"""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field, model_validator

from ..language import later, tr
from .kinds import Answer, Day, Identifier, Line, Text, number_within, whole
from .schema import Strict

# How a joint gave way, with the words for it. Of `steel` the fastener broke and the bond did not.
Failure = Literal["wood", "wall", "thread", "screw-out", "steel"]
FAILURES: dict[str, str] = {
    "wood": later("the wood broke"),
    "wall": later("the epoxy came off the wall of the hole"),
    "thread": later("the thread stripped out of the epoxy"),
    "screw-out": later("the screw drew out"),
    "steel": later("the fastener broke"),
}
assert tuple(FAILURES) == get_args(Failure)


# Each limit is our own judgement of what no pulled joint in wood can pass.
LIMITS: dict[str, tuple[str, str, str]] = {
    "load": ("N", "50 N", "500 kN"),
    "gravity": ("dimensionless", "0.1", "1.3"),
    "moisture": ("dimensionless", "2 %", "35 %"),
    "cured": ("s", "1 h", "1000 d"),
}
Force = Annotated[float, number_within(*LIMITS["load"])]
Gravity = Annotated[float, number_within(*LIMITS["gravity"])]
Moisture = Annotated[float, number_within(*LIMITS["moisture"])]
Cured = Annotated[float, number_within(*LIMITS["cured"])]


BROKEN_OR_HELD = later("give either 'load' and how it 'failed' ({ways}), or 'held' for a joint that did not break")


class Joint(Strict):
    """One joint: the `load` that it `failed` at and how, or what it `held` without breaking.

    `given` repeats what it was made with; what differs from its series belongs into another one.
    """

    load: Force | None = Field(default=None, description=later("load that it broke at"))
    failed: Failure | None = Field(default=None, description=later("how it failed"))
    held: Force | None = Field(default=None, description=later("or, not broken: load that it held"))
    given: dict[str, Answer] = Field(default={})
    by: Line | None = Field(default=None, description=later("who pulled it"))
    on: Day | None = Field(default=None, description=later("day"))
    note: Text | None = Field(default=None, description=later("what was seen"))

    @model_validator(mode="after")
    def broken_or_held(self) -> Joint:
        """A breaking load with its way of failing, or a load that it held."""
        broken = self.load is not None and self.failed is not None and self.held is None
        whole = self.held is not None and self.load is None and self.failed is None
        if not broken and not whole:
            raise ValueError(BROKEN_OR_HELD.format(ways=", ".join(FAILURES)))
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

    gravity: Gravity = Field(description=later("specific gravity of that wood, dry"))
    moisture: Moisture = Field(description=later("moisture of the wood"))
    cured: Cured = Field(description=later("time that the joints cured"))


def described(model: type[Strict]) -> dict[str, str]:
    """What is written down by hand, in the order of the file: each key with what it means."""
    return {name: tr(info.description) for name, info in model.model_fields.items() if info.description}


def how_it_failed(joint: Joint) -> str:
    """How a joint gave way, in words, or that it did not."""
    return tr(FAILURES[joint.failed]) if joint.failed else tr("did not break")


class Published(Strict):
    """A series that was read and not pulled: its mean load, of how many joints, and what had to be assumed."""

    source: Identifier
    mean: Force
    joints: Annotated[int, whole(1, 1000)]
    failed: Failure | None = None
    assumed: Text


class Trusted(Strict):
    """Who lets the tests count where the model gives less, when, and why."""

    by: Line
    on: Day
    why: Text


class TestSeries(Strict):
    """A file of `procedures/tests`: a card as set, what was measured, and the joints pulled, or a published mean.

    `invented` says that no joint was pulled; such a series is shown and never counted.
    """

    title: Line
    card: Identifier
    given: dict[str, Answer]
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
