"""What the YAML of a job sheet means: a boat's fittings, the conditions of the work, and what shops sell."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime
from typing import Annotated

from pydantic import Field, StringConstraints, field_validator, model_validator

from ..units import System, clip
from .schema import Act, Identifier, Line, Strict, Text

DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=60)]
_HOURS = re.compile(r"([01]\d|2[0-3]):([0-5]\d) to ([01]\d|2[0-3]):([0-5]\d)", re.ASCII)
# No crew, and no heap of fittings, is larger than these.
MOST_HANDS, MOST_FITTINGS = 200, 1000


def whole(text: str, most: int) -> int:
    """A whole number of 1 or more. Raises ValueError that says so."""
    if not (re.fullmatch(r"\d{1,4}", text, re.ASCII) and 1 <= int(text) <= most):
        raise ValueError(f"'{clip(text)}' is no number of that; give a whole number from 1 to {most}")
    return int(text)


class Load(Strict):
    """What a fitting must carry on its most loaded fastener, and how that was found.

    Either `stated`, or the symbol that `take` names in the reference table `table`, worked with `given`. `acts` says
    how it pulls; `angle` from the axis belongs to an angled pull.
    """

    said: Text
    stated: Line | None = None
    table: Identifier | None = None
    take: Line | None = None
    given: dict[str, Line] = Field(default={})
    acts: Act = "pull"
    angle: Line | None = None

    @model_validator(mode="after")
    def one_way(self) -> Load:
        """Stated, or worked by a table; an angle only where the pull is angled."""
        if (self.stated is None) == (self.table is None) or (self.table is None) != (self.take is None):
            raise ValueError("give either 'stated', or both 'table' and 'take'")
        if (self.acts == "angled") != (self.angle is not None):
            raise ValueError("an angled pull has an 'angle', for example 30 deg, and no other pull has one")
        return self


class After(Strict):
    """A fitting that must be as far as the end of a line of its card's plan, named by its id."""

    fitting: Name
    line: Identifier


class Fitting(Strict):
    """Fittings alike at one place in the boat. `given` holds the card's own inputs.

    `waits` gives the time after a line of the card's plan, named by its id, where the card leaves it open. `fill` is
    the time that your own hands use a mix for one of them, in place of the card's. `designer` names the entry of
    designers.yaml that the fitting falls under; `no_designer` says why none does although its name sounds so.
    """

    name: Name
    card: Identifier
    where: Line
    count: Line = "1"
    holes: Line | None = None
    given: dict[str, Line] = Field(default={})
    load: Load | None = None
    no_load: Text | None = None
    after: list[Name | After] = Field(default=[])
    waits: dict[Identifier, Line] = Field(default={})
    fill: Line | None = None
    designer: Identifier | None = None
    no_designer: Text | None = None

    @field_validator("count", "holes")
    @classmethod
    def counted(cls, text: str | None) -> str | None:
        """Whole fittings, whole holes."""
        if text is not None:
            whole(text, MOST_FITTINGS)
        return text

    @model_validator(mode="after")
    def load_or_reason(self) -> Fitting:
        """A load case, or why there is none."""
        if (self.load is None) == (self.no_load is None):
            raise ValueError("give either 'load', or 'no_load' with the reason why none is reckoned")
        return self

    @property
    def pieces(self) -> int:
        """How many."""
        return int(self.count)


class Conditions(Strict):
    """What holds for the whole job. A team is the people who work on one fitting together. `prepare` is the time that
    your own hands take from mixing to the first fitting."""

    shop: Identifier
    temperature: Line
    hardener: Line
    ratio: Line
    syringe: Line
    crew: Line
    team: Line = "1"
    start: Line
    hours: Line
    days: list[str] = Field(default=list(DAYS), min_length=1)
    resin: Line = "general"
    prepare: Line | None = None

    @field_validator("crew", "team")
    @classmethod
    def people(cls, text: str) -> str:
        """Whole people."""
        whole(text, MOST_HANDS)
        return text

    @field_validator("start")
    @classmethod
    def a_moment(cls, text: str) -> str:
        """Date and time of day."""
        try:
            datetime.strptime(text, "%Y-%m-%d %H:%M")
        except ValueError:
            raise ValueError(f"'{clip(text)}' is no date and time; write them like 2027-04-12 09:00") from None
        return text

    @field_validator("hours")
    @classmethod
    def a_working_day(cls, text: str) -> str:
        """From and to, on one day."""
        match = _HOURS.fullmatch(text)
        if not match or match.group(1, 2) >= match.group(3, 4):
            raise ValueError(f"'{clip(text)}' are no working hours; write them like 09:00 to 16:30")
        return text

    @field_validator("days")
    @classmethod
    def weekdays(cls, days: list[str]) -> list[str]:
        """Days of the week, none twice."""
        for day in days:
            if day not in DAYS or days.count(day) > 1:
                raise ValueError(f"'{clip(day)}' is no day, or stands twice; days: {', '.join(DAYS)}")
        return days

    @model_validator(mode="after")
    def a_team_at_least(self) -> Conditions:
        """No team is larger than the crew."""
        if int(self.team) > int(self.crew):
            raise ValueError(f"a team of {self.team} is more than the crew of {self.crew}; give a smaller 'team'")
        return self

    @property
    def teams(self) -> int:
        """How many fittings can be worked on at once."""
        return int(self.crew) // int(self.team)

    @property
    def first_day(self) -> date:
        """The day that times are counted from."""
        return datetime.strptime(self.start, "%Y-%m-%d %H:%M").date()

    @property
    def begins(self) -> int:
        """Seconds after midnight of the first day."""
        moment = datetime.strptime(self.start, "%Y-%m-%d %H:%M")
        return moment.hour * 3600 + moment.minute * 60

    @property
    def opens_and_closes(self) -> tuple[int, int]:
        """The working day in seconds after midnight."""
        match = _HOURS.fullmatch(self.hours)
        assert match
        numbers = [int(part) for part in match.groups()]
        return numbers[0] * 3600 + numbers[1] * 60, numbers[2] * 3600 + numbers[3] * 60

    @property
    def inputs(self) -> dict[str, str]:
        """The conditions under the names that cards ask for them by."""
        return {
            "T_a": self.temperature,
            "hardener": self.hardener,
            "ratio": self.ratio,
            "resin": self.resin,
            "V_s": self.syringe,
        }


class JobSheet(Strict):
    """A boat's schedule of fittings. `invented` says what in it is invented, where that is so, and `no_trials` why the
    trial joints that the cards ask for are not in the plan."""

    title: Line
    purpose: Text
    boat: Text
    invented: Text | None = None
    conditions: Conditions
    fittings: list[Fitting] = Field(min_length=1, max_length=500)
    no_trials: Text | None = None
    notes: list[Text] = Field(default=[])


class ShopSize(Strict):
    """How a shop sells something: sizes it comes in, in `unit`, or packs of so many, or of so much. `group` is the
    heading of the list that it stands under."""

    title: Line
    group: Line = "Fasteners and plates"
    source: Identifier
    unit: Line = ""
    metric: list[Line] = Field(default=[])
    inch: list[Line] = Field(default=[])

    def sizes(self, system: System) -> list[str]:
        """The sizes in a metric or an inch shop."""
        return self.metric if system == "metric" or not self.inch else self.inch


Per = Annotated[str, StringConstraints(pattern=r"^(job|mix|cup|fitting|hole|person and day)$")]


class Consumable(Strict):
    """Something that is used up: so many `of` it for each mix, cup, fitting, hole, or person and day; sold by
    `packs`."""

    title: Line
    of: Line
    per: Per
    packs: list[Line] = Field(min_length=1)
    source: Identifier

    @field_validator("of")
    @classmethod
    def a_count(cls, text: str) -> str:
        """Whole pieces."""
        whole(text, MOST_FITTINGS)
        return text

    @field_validator("packs")
    @classmethod
    def counts(cls, texts: list[str]) -> list[str]:
        """Whole pieces, ascending."""
        numbers = [whole(text, 5000) for text in texts]
        if numbers != sorted(set(numbers)):
            raise ValueError("packs ascend, none twice; put them in order")
        return texts


class Look(Strict):
    """When what was filled is looked at again, from the end of the mix: the first time, and the last."""

    earliest: Line
    latest: Line
    source: Identifier


class ShopSizes(Strict):
    """data/shop_sizes.yaml"""

    look: Look
    sold: dict[Identifier, ShopSize]
    used_up: dict[Identifier, Consumable]

    def named_sources(self) -> Iterator[tuple[tuple[str, ...], str]]:
        """Every place that names a source."""
        yield ("look", "source"), self.look.source
        for key, sold in self.sold.items():
            yield ("sold", key, "source"), sold.source
        for key, used in self.used_up.items():
            yield ("used_up", key, "source"), used.source
