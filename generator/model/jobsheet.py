"""What the YAML of a job sheet means: a boat's fittings, the conditions of the work, and what shops sell."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, StringConstraints, field_validator, model_validator

from ..language import later, tr
from ..units import SYSTEMS, QuantityError, System, by_system, clip, read_number
from .kinds import Answer, Identifier, Line, LoadSymbol, Text, Wait, Words, Work, day, whole
from .quantity import Quantity, faulty, of_symbol
from .schema import MOST_HANDS, Act, Strict

DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
Name = Annotated[
    str, StringConstraints(strip_whitespace=True, min_length=1, max_length=60), AfterValidator(tr), Words()
]
_HOURS = re.compile(r"([01]\d|2[0-3]):([0-5]\d) to ([01]\d|2[0-3]):([0-5]\d)", re.ASCII)
# A load in words, which nothing sets against what carries it.
_FORCE = re.compile(r"\d[\d.,]*\s*(?:k?N|lbf|kgf)\b", re.ASCII)
# No heap of fittings, of holes in one of them, and of packs is larger than these.
MOST_FITTINGS, MOST_HOLES, MOST_IN_A_PACK, MOST_SHARED = 200, 100, 5000, 1000
# What all fittings of a sheet are together, at most: a plan of more takes longer than anybody waits.
MOST_ON_A_SHEET = 200
# Nobody plans over more days off than these.
MOST_DAYS_OFF = 366
Force = Annotated[Quantity, of_symbol("F_n")]


def _span(match: re.Match[str]) -> tuple[int, int]:
    """From and to, in seconds after midnight."""
    numbers = [int(part) for part in match.groups()]
    return numbers[0] * 3600 + numbers[1] * 60, numbers[2] * 3600 + numbers[3] * 60


def _read(hours: str) -> tuple[int, int]:
    """Working hours that are sound, in seconds after midnight."""
    match = _HOURS.fullmatch(hours)
    assert match
    return _span(match)


def _working(text: str) -> str:
    """From and to, on one day. Raises ValueError."""
    match = _HOURS.fullmatch(text)
    if not match or match.group(1, 2) >= match.group(3, 4):
        raise ValueError(f"'{clip(text)}' are no working hours; write them like 09:00 to 16:30")
    return text


WorkingHours = Annotated[Answer, AfterValidator(_working)]
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]


def _days(text: str) -> tuple[date, date]:
    """The first and the last of some days off. Raises ValueError."""
    start, to, end = text.partition(" to ")
    try:
        found = day(start), day(end if to else start)
    except ValueError:
        message = f"'{clip(text)}' are no days off; write 2027-04-05, or 2027-04-05 to 2027-04-19"
        raise ValueError(message) from None
    if found[0] > found[1]:
        raise ValueError(f"'{clip(text)}' ends before it begins; write the earlier day first")
    return found


class Implied(Strict):
    """The load of another fitting of the sheet, `times` over."""

    fitting: Name
    times: Answer

    @field_validator("times")
    @classmethod
    def a_number(cls, text: str) -> str:
        """A plain number above 0."""
        try:
            number, unit = read_number(text)
        except QuantityError:
            number, unit = Fraction(0), ""
        if unit or number <= 0:
            raise ValueError(f"'{clip(text)}' is no number above 0; write one, for example 1/2")
        return text


class Bearer(Strict):
    """The card of what carries a fitting's load, with its own inputs."""

    card: Identifier
    given: dict[str, Answer] = Field(default={})


class Load(Strict):
    """What a fitting must carry on its most loaded fastener, and how that was found.

    Either `stated`; or the symbol that `take` names in the reference table `table`, worked with `given`; or the load
    `of` another fitting, so many times. `acts` says how it pulls; `angle` from the axis belongs to an angled pull. `by`
    names another card that says what the same holes, bolts and bed carry, where the fitting's own gives no load.
    """

    said: Text
    stated: Force | None = None
    table: Identifier | None = None
    take: LoadSymbol | None = None
    given: dict[str, Answer] = Field(default={})
    of: Implied | None = None
    acts: Act
    angle: Annotated[Quantity, of_symbol("theta_p")] | None = None
    by: Bearer | None = None

    @model_validator(mode="after")
    def one_way(self) -> Load:
        """Stated, or worked by a table or from another fitting's; an angle only where the pull is angled."""
        ways = [way for way in (self.stated, self.table, self.of) if way is not None]
        if len(ways) != 1 or (self.table is None) != (self.take is None):
            raise ValueError("give either 'stated', or both 'table' and 'take', or 'of' with a fitting and 'times'")
        if self.acts.endswith("angled") != (self.angle is not None):
            raise ValueError("an angled pull has an 'angle', for example 30 deg, and no other pull has one")
        return self


class After(Strict):
    """A fitting that must be as far as the end of a line of its card's plan, named by its id."""

    fitting: Name
    line: Identifier


class Fitting(Strict):
    """Fittings alike at one place in the boat. `given` holds the card's own inputs.

    `threads` lists the threads that the fitting's own holes take; without it no other is offered where it falls short.
    `waits` gives the time after a line of the card's plan, named by its id, where the card leaves it open. `fill` is
    the time that your own hands use a mix for one of them, in place of the card's. `designer` names the entry of
    designers.yaml that the fitting falls under; `no_designer` says why none does although its name sounds so.
    `metal_out` says how the metal came out of a hole that is mended, where nothing in the sheet takes it out.
    """

    name: Name
    card: Identifier
    where: Line
    count: Annotated[int, whole(1, MOST_FITTINGS)] = 1
    holes: Annotated[int, whole(1, MOST_HOLES)] | None = None
    given: dict[str, Answer] = Field(default={})
    load: Load | None = None
    threads: list[Answer] = Field(default=[], max_length=60)
    no_load: Text | None = None
    after: list[Name | After] = Field(default=[])
    waits: dict[Identifier, Wait] = Field(default={})
    fill: Annotated[Quantity, of_symbol("t_u")] | None = None
    designer: Identifier | None = None
    no_designer: Text | None = None
    metal_out: Text | None = None

    @model_validator(mode="after")
    def load_or_reason(self) -> Fitting:
        """A load case, or why there is none."""
        if (self.load is None) == (self.no_load is None):
            raise ValueError("give either 'load', or 'no_load' with the reason why none is reckoned")
        if self.no_load and (told := _FORCE.search(self.no_load)):
            raise ValueError(
                f"'no_load' tells a load, {told[0]}: give it as 'load', so that it is set against what carries"
            )
        return self

    @property
    def pieces(self) -> int:
        """How many."""
        return self.count


class OwnLesson(Strict):
    """What a class day is like, in place of what `shop_sizes.yaml` says. A pair with nothing to do for longer than
    `idle` does what `meanwhile` says."""

    set_up: Work | None = None
    demonstration: Work | None = None
    clean_up: Work | None = None
    idle: Work | None = None
    meanwhile: Text | None = None


class Conditions(Strict):
    """What holds for the whole job. A team is the people who work on one fitting together. `drills` is how many there
    are of each drill, and `stock` how many of each thing that is shared, a row of `shop_sizes.yaml`. `prepare` is the
    time that your own hands take from mixing to the first fitting. `hours_on` has the hours of days of the week that
    have their own. In `breaks` no hands work, and on `days_off`, each a
    day or from one day to another, none at all. `aim` is a `shop`, with
    the fewest mixes and the least waiting, or a `class`, where every pair makes fittings of its own with a mix of its
    own, after the day's `lesson`. The `helper` is no part of the crew and comes for what takes one more than that."""

    shop: Identifier
    temperature: Annotated[Quantity, of_symbol("T_a", "temperature")]
    hardener: Identifier
    ratio: Answer
    syringe: Annotated[Quantity, of_symbol("V_s")]
    crew: Annotated[int, whole(1, MOST_HANDS)]
    team: Annotated[int, whole(1, MOST_HANDS)] = 1
    drills: Annotated[int, whole(1, MOST_HANDS)] = 1
    stock: dict[Identifier, Annotated[int, whole(0, MOST_SHARED)]] = Field(default={})
    start: Answer
    hours: WorkingHours
    hours_on: dict[Weekday, WorkingHours] = Field(default={})
    breaks: list[Answer] = Field(default=[], max_length=10)
    days: list[Answer] = Field(default=list(DAYS), min_length=1, max_length=7)
    days_off: list[Answer] = Field(default=[], max_length=60)
    resin: Identifier = "general"
    prepare: Annotated[Quantity, of_symbol("t_x")] | None = None
    helper: Line | None = None
    aim: Literal["shop", "class"] = "shop"
    lesson: OwnLesson | None = None

    @field_validator("start")
    @classmethod
    def a_moment(cls, text: str) -> str:
        """Date and time of day."""
        try:
            datetime.strptime(text, "%Y-%m-%d %H:%M")
        except ValueError:
            raise ValueError(f"'{clip(text)}' is no date and time; write them like 2027-04-12 09:00") from None
        day(text.partition(" ")[0])
        return text

    @field_validator("breaks", "days_off", mode="before")
    @classmethod
    def one_or_more(cls, written: object) -> object:
        """One may be written as a plain text."""
        return [written] if isinstance(written, str) else written

    @field_validator("days")
    @classmethod
    def weekdays(cls, days: list[str]) -> list[str]:
        """Days of the week, none twice."""
        for name in days:
            if name not in DAYS or days.count(name) > 1:
                raise ValueError(f"'{clip(name)}' is no day, or stands twice; days: {', '.join(DAYS)}")
        return days

    @model_validator(mode="after")
    def a_team_at_least(self) -> Conditions:
        """No team is larger than the crew."""
        if self.team > self.crew:
            raise ValueError(f"a team of {self.team} is more than the crew of {self.crew}; give a smaller 'team'")
        return self

    @model_validator(mode="after")
    def breaks_in_hours(self) -> Conditions:
        """Breaks within the working hours, one after another, with work between them; and a lesson for a class."""
        at, closes = self.widest
        for place, text in enumerate(self.breaks):
            match = _HOURS.fullmatch(text)
            start, end = _span(match) if match else (0, 0)
            if not at < start < end < closes:
                message = (
                    f"'{clip(text)}' is no break within the working hours, after the one before; write one within "
                    f"{self.hours}, in the form 12:00 to 12:45, or leave it out"
                )
                raise faulty([(("breaks", place), ValueError(message))])
            at = end
        if self.hours_on and self.aim == "class":
            message = "a class has the same hours on each of its days; leave this out"
            raise faulty([(("hours_on",), ValueError(message))])
        for name in self.hours_on:
            if name not in self.days:
                message = f"nobody works on a {name}; put it among the 'days', or leave this out"
                raise faulty([(("hours_on", name), ValueError(message))])
        if self.lesson and self.aim != "class":
            raise faulty([(("lesson",), ValueError("only a class has a lesson; write 'aim: class' or leave this out"))])
        return self

    @model_validator(mode="after")
    def days_off_to_come(self) -> Conditions:
        """Days off that can be, none of them over before the work begins, and no more than a year of them."""
        first, off = self.first_day, 0
        for place, text in enumerate(self.days_off):
            try:
                start, end = _days(text)
                if end < first:
                    raise ValueError(f"'{clip(text)}' is over before the work begins; leave it out")
                off += (end - max(start, first)).days + 1
                if off > MOST_DAYS_OFF:
                    message = (
                        f"with '{clip(text)}' there are {off} days off; no plan waits for more than {MOST_DAYS_OFF}"
                    )
                    raise ValueError(f"{message}, so begin later, or make two sheets of it")
            except ValueError as error:
                raise faulty([(("days_off", place), error)]) from None
        return self

    @property
    def away(self) -> list[tuple[date, date]]:
        """The days off, from and to."""
        return [_days(text) for text in self.days_off]

    @property
    def off(self) -> frozenset[int]:
        """The days off, counted from the first day."""
        first = self.first_day.toordinal()
        spans = [(start.toordinal() - first, end.toordinal() - first) for start, end in self.away]
        return frozenset(day for start, end in spans for day in range(max(0, start), end + 1))

    @property
    def teams(self) -> int:
        """How many fittings can be worked on at once."""
        return self.crew // self.team

    def teams_for(self, people: int) -> int:
        """How many teams so many people are. The helper goes with the last of them."""
        return -(-min(people, self.crew) // self.team)

    @property
    def hands(self) -> int:
        """How many people a line of a plan may take."""
        return self.crew + (self.helper is not None)

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
        """The working day in seconds after midnight, but for days that have hours of their own."""
        return _read(self.hours)

    @property
    def week(self) -> dict[int, tuple[int, int]]:
        """The hours of each day of the week, where one has its own (s after midnight)."""
        own = {DAYS.index(name): _read(text) for name, text in self.hours_on.items()}
        return {weekday: own.get(weekday, self.opens_and_closes) for weekday in range(len(DAYS))} if own else {}

    @property
    def widest(self) -> tuple[int, int]:
        """When the first of the days opens and the last closes (s after midnight)."""
        hours = [own for weekday, own in self.week.items() if DAYS[weekday] in self.days] or [self.opens_and_closes]
        return min(opens for opens, _ in hours), max(closes for _, closes in hours)

    def closes_on(self, day: int) -> int:
        """When work ends on a day that is counted from the first (s after midnight)."""
        return self.week.get((self.first_day.weekday() + day) % len(DAYS), self.opens_and_closes)[1]

    @property
    def rests(self) -> list[tuple[int, int]]:
        """The breaks in seconds after midnight."""
        return [_span(match) for text in self.breaks if (match := _HOURS.fullmatch(text))]

    @property
    def inputs(self) -> dict[str, str]:
        """The conditions under the names that cards ask for them by."""
        own = {"t_x": self.prepare} if self.prepare else {}
        return {
            **own,
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

    @model_validator(mode="after")
    def not_too_many(self) -> JobSheet:
        """As many as a plan can be made of in a moment."""
        if (pieces := sum(fitting.count for fitting in self.fittings)) > MOST_ON_A_SHEET:
            message = f"{pieces} fittings in all; a sheet plans at most {MOST_ON_A_SHEET}, so make two of it"
            raise faulty([(("fittings",), ValueError(message))])
        return self


class ShopSize(Strict):
    """How a shop sells something: sizes it comes in, in `unit`, or packs of so many, or of so much. `group` is the
    heading of the list that it stands under. `cut_from` names the row of the lengths that pieces are sawn from, `width`
    that of the widths of those."""

    title: Line
    group: Line = Field(default=later("Fasteners and plates"), validate_default=True)
    source: Identifier
    unit: Literal["", "mm", "mL"] = ""
    cut_from: Identifier | None = None
    width: Identifier | None = None
    metric: list[Answer] = Field(min_length=1, max_length=60)
    inch: list[Answer] = Field(default=[], max_length=60)

    @model_validator(mode="after")
    def sizes_ascend(self) -> ShopSize:
        """Plain numbers that ascend; packs are whole."""
        wrong = "sizes ascend from above 0, plain numbers, of packs whole ones; correct this one"
        largest = MOST_IN_A_PACK
        for name in SYSTEMS:
            before: Fraction = Fraction(0)
            for place, text in enumerate(getattr(self, name)):
                try:
                    number, own = read_number(text)
                except QuantityError as error:
                    raise faulty([((name, place), error)]) from None
                if own or not before < number <= largest or (self.unit != "mm" and number.denominator != 1):
                    raise faulty([((name, place), ValueError(f"{wrong}, and none is above {largest}"))])
                before = number
        return self

    def sizes(self, system: System) -> list[str]:
        """The sizes in a metric or an inch shop."""
        return by_system(system, self.metric, self.inch) or self.metric


Per = Annotated[str, StringConstraints(pattern=r"^(job|mix|cup|fitting|hole|person and day)$")]


class Consumable(Strict):
    """Something that is used up: so many `of` it, or so much in `unit`, for each mix, cup, fitting, hole, or person and
    day; sold by `packs`."""

    title: Line
    of: Annotated[int, whole(1, MOST_IN_A_PACK)]
    unit: Literal["", "m", "mL"] = ""
    per: Per
    packs: list[Annotated[int, whole(1, MOST_IN_A_PACK)]] = Field(min_length=1, max_length=20)
    source: Identifier

    @field_validator("packs")
    @classmethod
    def ascending(cls, numbers: list[int]) -> list[int]:
        """Whole pieces, ascending."""
        if numbers != sorted(set(numbers)):
            raise ValueError("packs ascend, none twice; put them in order")
        return numbers


class Span(Strict):
    """How long something takes or may last."""

    time: Work
    source: Identifier


class Cut(Strict):
    """What a piece that is sawn from a bar loses, the filing of its edges included."""

    loses: Annotated[Quantity, of_symbol("L_by", "loses")]
    source: Identifier


class Spare(Strict):
    """How much of what a job takes may be left over, so that it is bought in fewer packs."""

    part: Annotated[Quantity, of_symbol("w_a", "part")]
    source: Identifier


class Weighed(Strict):
    """The least that a scale of a tenth of a gram weighs near enough."""

    mass: Annotated[Quantity, of_symbol("m_f", "mass")]
    source: Identifier


class Bedding(Strict):
    """The compound that a fitting takes whose card gives no amount."""

    volume: Annotated[Quantity, of_symbol("V_j", "volume")]
    source: Identifier


class Chill(Strict):
    """How near to the coldest at which its hardener cures the work is no longer warm enough to be sure."""

    within: Annotated[Quantity, of_symbol("dT_sw", "within")]
    source: Identifier


class Rubber(Strict):
    """At which temperature the times are told that a compound takes until it is rubber, and how much colder it takes
    twice as long."""

    told_at: Annotated[Quantity, of_symbol("T_a", "told_at")]
    twice_as_long: Annotated[Quantity, of_symbol("dT_2", "twice_as_long")]
    source: Identifier

    def times(self, temperature: Quantity) -> float:
        """How many times as long it takes at a temperature; never less than is told."""
        colder = max(0.0, self.told_at.value - temperature.value)
        return float(2 ** (colder / self.twice_as_long.value))


class Shared(Strict):
    """A thing that is used again and again, and how many of it a shop has, unless the job sheet says otherwise."""

    title: Line
    there: Annotated[int, whole(1, MOST_SHARED)]
    source: Identifier


class Lesson(Strict):
    """What a class day begins and ends with, how long a pair may have nothing to do, and what it does else."""

    set_up: Work
    demonstration: Work
    clean_up: Work
    idle: Work
    meanwhile: Text
    source: Identifier


class ShopSizes(Strict):
    """data/shop_sizes.yaml"""

    lesson: Lesson
    cut: Cut
    weighed: Weighed
    bedding: Bedding
    fresh: Span
    wash: Span
    bore: Span
    plate: Span
    air: Span
    piece: Span
    stay: Span
    chill: Chill
    rubber: Rubber
    spare: Spare
    shared: dict[Identifier, Shared]
    sold: dict[Identifier, ShopSize]
    used_up: dict[Identifier, Consumable]

    def named_sources(self) -> Iterator[tuple[tuple[str, ...], str]]:
        """Every place that names a source."""
        for name, field in type(self).model_fields.items():
            if isinstance(field.annotation, type) and "source" in getattr(field.annotation, "model_fields", {}):
                yield (name, "source"), getattr(self, name).source
        for key, shared in self.shared.items():
            yield ("shared", key, "source"), shared.source
        for key, sold in self.sold.items():
            yield ("sold", key, "source"), sold.source
        for key, used in self.used_up.items():
            yield ("used_up", key, "source"), used.source
