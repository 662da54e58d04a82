"""What the YAML files mean: the typed form of cards and data. Unknown keys are refused everywhere."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import pairwise
from types import UnionType
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationError,
    field_validator,
    model_validator,
)
from pydantic_core import ErrorDetails

from ..errors import Fault, Faults
from ..formula import FORMULARY
from ..language import ENGLISH, later, pointed, speaks, tr
from ..units import SYSTEMS, QuantityError, System, by_system, clip, read_number, read_quantity, to_base
from .kinds import (
    Answer,
    CountSymbol,
    Day,
    Identifier,
    LengthSymbol,
    Line,
    LoadSymbol,
    Name,
    Part,
    ProseLine,
    ProseText,
    Sign,
    Stamped,
    SymbolName,
    Text,
    TimeSymbol,
    VolumeSymbol,
    Wait,
    WaitOrSymbol,
    Work,
    Woven,
    symbol_in,
    whole,
    whole_or_counted,
)
from .prose import Condition, Degrees, Known, Prose, StrayBrace, all_known, typed_degrees
from .quantity import Gift, Quantity, by_symbol, faulty, gift, known_symbol, of_symbol, unknown_symbol
from .sense import sensible
from .yaml_text import Document, Path_

Basis = Literal["published", "computed", "common practice", "from memory", "judgement", "your own"]


class Strict(BaseModel):
    """The base of all models."""

    model_config = ConfigDict(extra="forbid", frozen=True)


M = TypeVar("M", bound=Strict)


# What is printed beside a value that no publication stands behind.
_MARKS = {
    "common practice": later("common practice, no source"),
    "from memory": later("from memory, not checked"),
    "judgement": later("our judgement, no source"),
    "your own": later("your own choice"),
}
# Where the name that a citation begins with ends.
_NAME_ENDS = re.compile(r"[,;:.](?= |$)| (?=\()")


class Source(Strict):
    """Where a value comes from. `read` says what was actually read, when it was not the original. `name` is what it is
    called beside a value, where the words up to its citation's first comma are not."""

    basis: Basis
    cite: Text
    read: Text | None = None
    name: Line | None = None

    @cached_property
    def named(self) -> str:
        """What it is called beside a value."""
        return self.name or _NAME_ENDS.split(self.cite, maxsplit=1)[0]

    @property
    def rest(self) -> str:
        """What the citation says besides the name."""
        return self.cite if self.name else self.cite.removeprefix(self.named).lstrip(",;:. ") or self.cite

    @property
    def mark(self) -> str:
        """What is printed beside a value that no publication stands behind."""
        return tr(_MARKS[self.basis]) if self.basis in _MARKS else ""


class Sources(Strict):
    """sources.yaml. `dated` is the day on which the data were last looked through; printed pages carry it."""

    dated: Day
    sources: dict[Identifier, Source]


def going_by_no_job(kind: str, text: Prose) -> Prose:
    """A text that is the same for every job but for the degrees of each shop. Raises ValueError."""
    if any(not isinstance(part, str | Degrees) for part in text.parts):
        raise ValueError(f"a {kind} goes by no job; of values it says only temperatures, as {{40 °C}}")
    if typed := typed_degrees(text):
        raise ValueError(str(typed))
    return text


class Caution(Strict):
    """One caution. `sign` is the keyword that stands for it on the bench side. `defer` marks the line that says who
    decides instead of the card. With `when` it stands on a card only where that holds. With `stays` a step that names
    it says on paper what to do where it went wrong, however full the sheet is. What it has somebody do `again` is due
    so long after the last work."""

    text: ProseText
    source: Identifier
    sign: Sign | None = None
    defer: bool = False
    stays: bool = False
    again: Wait | None = None
    when: Condition | None = None

    @field_validator("text")
    @classmethod
    def _stands_on_any_sheet(cls, text: Prose) -> Prose:
        """On many cards, and on sheets that work none. Raises ValueError."""
        return going_by_no_job("caution", text)


class Cautions(Strict):
    """cautions.yaml"""

    cautions: dict[Identifier, Caution]


class Decided(Strict):
    """Something that a designer decides and no card: what hangs on the fitting, who decides, and what such a fitting is
    called."""

    what: Line
    who: Line
    source: Identifier
    words: list[Line] = []

    @field_validator("words")
    @classmethod
    def _spelt(cls, words: list[Line]) -> list[Line]:
        """Words of letters, for by those a name is known. Raises ValidationError."""
        bare = [place for place, word in enumerate(words) if not re.search(r"[^\W\d_]", word)]
        if bare:
            raise faulty(((place,), ValueError(f"'{words[place]}' has no letter; write a word")) for place in bare)
        return words

    def names(self, name: str) -> str | None:
        """What makes a fitting's name one of these, in its own words: one of the list, more than one of it, or a longer
        one that is joined with it. A short word begins too many English ones that mean something else."""
        spoken = re.findall(r"[^\W\d_]+", name)
        for word in self.words:
            *before, end = re.findall(r"[^\W\d_]+", word.casefold())
            for place in range(len(spoken) - len(before)):
                own = spoken[place : place + len(before) + 1]
                *first, last = (one.casefold() for one in own)
                if first == before and (last.removesuffix("s") == end.removesuffix("s") or _joined(last, end)):
                    return " ".join(own)
        return None


def _joined(word: str, end: str) -> bool:
    """Whether a word begins with another one; outside English, where words are joined, whether that is a part of it."""
    if speaks() == ENGLISH:
        return len(end) >= 5 and word.startswith(end)
    return len(end) >= 4 and end in word


class Designers(Strict):
    """designers.yaml: what no card is for."""

    decided: dict[Identifier, Decided]


class Groups(Strict):
    """groups.yaml: the headings of index and menu, in their order."""

    cards: list[Line] = []
    tables: list[Line] = []


class Alike(Strict):
    """steps.yaml: what steps say besides, alike in every card: the one that weighs, of warmth, of several mixes, of
    what is turned loose, and of lifts."""

    kept_warm: ProseText
    several_mixes: ProseText
    turned_loose: ProseText
    next_lift: Woven


# Several lines, or one written as a plain text.
_one_or_more = BeforeValidator(lambda written: [written] if isinstance(written, str) else written)
Lines = Annotated[list[Line], _one_or_more]


class LabelWords(Strict):
    """A label: its lines of words, below them symbols with their values, and on which side of the view it stands."""

    words: Lines = []
    value: Annotated[list[Answer], _one_or_more] = []
    side: Literal["left", "right"] = "right"

    @model_validator(mode="after")
    def says_something(self) -> LabelWords:
        """Words, a value or both."""
        if not self.words and not self.value:
            raise ValueError("give 'words', 'value' or both")
        return self


class DrawingWords(Strict):
    """What one drawing says. `notice` is its caption: what to look at. `title` and `description` are for those who do
    not see it.

    `cases` are parts of these texts, by name, of which the drawing takes the one that holds. Of a pair of views `right`
    stands under the one and `wrong` says what went wrong in the other.
    """

    title: Line
    description: Text
    notice: Text
    cases: dict[Name, dict[Name, Part]] = {}
    labels: dict[Identifier, LabelWords] = {}
    right: Line = ""
    wrong: Lines = []


class Drawings(Strict):
    """A file of drawings' words."""

    drawings: dict[Identifier, DrawingWords]


Gives = Annotated[dict[str, Quantity], by_symbol(known_symbol)]
Diameter = Annotated[Quantity, of_symbol("d")]
# Diameters a micrometre apart are the same thread size: tables print three decimals of an inch.
SAME_SIZE = 2e-6


def refuse_other_total(total: str | None, numbers: Iterable[str]) -> None:
    """Raises where the numbers, as they are written, add up to something else than their control total: one of them
    has slipped since they were read. A total says nothing of whether they were read right."""
    if total is None:
        return
    own = _sum_of(tuple(numbers))
    try:
        written, unit = read_number(total)
    except QuantityError as error:
        raise faulty([(("total",), error)]) from None
    if unit or written != own:
        message = (
            f"the numbers here add up to {_exact(own)}, not to this control total; read them against their source,"
            f" mend the one that slipped, or write {_exact(own)} here if each is right"
        )
        raise faulty([(("total",), ValueError(message))])


@lru_cache(maxsize=2048)
def _sum_of(numbers: tuple[str, ...]) -> Fraction:
    """What numbers add up to, as they are written."""
    return sum((read_number(text)[0] for text in numbers), Fraction())


def refuse_source_of_nothing(sources: Iterable[str], given: Sequence[str]) -> None:
    """Each symbol that has a source of its own is given: else what was meant would go by the source of the rest."""
    lost = [key for key in sources if key not in given]
    if lost:
        message = f"is not given here, so nothing goes by this source; given are {', '.join(given) or 'none'}"
        raise faulty((("sources", key, "[key]"), ValueError(f"'{clip(key)}' {message}")) for key in lost)


def _exact(number: Fraction) -> str:
    """A sum as it is written: with decimals where they end."""
    decimal = Decimal(number.numerator) / Decimal(number.denominator)
    return f"{decimal.normalize():f}" if Fraction(decimal) == number else str(number)


class Row(Strict):
    """One thing that can be chosen, with the symbols it gives.

    `sources` names the source of a single symbol where it is not that of the row. `by_d` gives symbols by the
    thread's nominal diameter, as standards for washers do; `d_min` and `d_max` bound the threads that a
    row is laid down for. `total` is what all these numbers add up to.
    """

    title: Line
    source: Identifier
    gives: Gives = {}
    by_d: dict[Diameter, Gives] = {}
    d_min: Diameter | None = None
    d_max: Diameter | None = None
    sources: dict[str, Identifier] = {}
    note: ProseText | None = None
    total: Answer | None = None

    @field_validator("note")
    @classmethod
    def _stands_on_any_sheet(cls, text: Prose | None) -> Prose | None:
        """On all sheets that work with the row. Raises ValueError."""
        return text and going_by_no_job("note", text)

    @model_validator(mode="after")
    def adds_up(self) -> Row:
        """Numbers that add up to their control total."""
        bounds = (bound for bound in (self.d_min, self.d_max) if bound is not None)
        by_d = (text for size, gives in self.by_d.items() for text in (size, *gives.values()))
        refuse_other_total(self.total, (*self.gives.values(), *by_d, *bounds))
        return self

    @model_validator(mode="after")
    def sources_of_what_it_gives(self) -> Row:
        """No source without its value."""
        refuse_source_of_nothing(self.sources, self.symbols)
        return self

    @model_validator(mode="after")
    def every_size_gives_the_same(self) -> Row:
        """No size lacks what the others give: its thread would be worked another way, or not at all."""
        sets = [{*gives} for gives in self.by_d.values()]
        most = max(sets, key=sets.count, default=set())
        error = ValueError(f"the other sizes give {', '.join(sorted(most))}; give the same, or leave this one out")
        if others := [(("by_d", size), error) for size, gives in self.by_d.items() if {*gives} != most]:
            raise faulty(others)
        return self

    @model_validator(mode="after")
    def one_unit_a_column(self) -> Row:
        """One unit for all threads, for a total says nothing of units."""
        units: dict[str, str] = {}
        for size, gives in self.by_d.items():
            for symbol, text in (("", size), *gives.items()):
                unit = read_number(text)[1]
                if units.setdefault(symbol, unit) != unit:
                    message = f"'{text}' has another unit than what stands above, {units[symbol]}; write one for all"
                    raise faulty([(("by_d", size, *([symbol] if symbol else [])), ValueError(message))])
        return self

    @property
    def by_thread(self) -> bool:
        """Whether what it gives goes by the thread."""
        return bool(self.d_min or self.d_max or self.by_d)

    @cached_property
    def symbols(self) -> list[str]:
        """Every symbol that it gives to some thread."""
        return list(dict.fromkeys([*self.gives, *(symbol for gives in self.by_d.values() for symbol in gives)]))

    @cached_property
    def always(self) -> Gift:
        """What it gives whatever the thread."""
        return gift(self.gives, self.sources, self.source)

    @cached_property
    def _by_size(self) -> list[tuple[float, Gift]]:
        return [
            (size.value, gift({**self.gives, **gives}, self.sources, self.source)) for size, gives in self.by_d.items()
        ]

    def has_size(self, d: float | None) -> bool:
        """Whether it lists the thread's diameter among its sizes."""
        return d is not None and any(abs(size - d) < SAME_SIZE for size, _ in self._by_size)

    def gift(self, d: float | None) -> Gift:
        """What it gives for the thread's diameter. Raises QuantityError when it is laid down for others."""
        if not self.by_thread:
            return self.always
        if d is None:
            raise QuantityError(tr("{title} goes by the thread; give thread", title=self.title))
        low, high = self.d_min, self.d_max
        if (low and d < low.value - SAME_SIZE) or (high and d > high.value + SAME_SIZE):
            ends = {"low": pointed(low or "0"), "high": pointed(high) if high else tr("any size")}
            raise QuantityError(tr("{title} is laid down for threads of {low} to {high}", title=self.title, **ends))
        if not self.by_d:
            return self.always
        for size, given in self._by_size:
            if abs(size - d) < SAME_SIZE:
                return given
        raise QuantityError(
            tr("{title} has no row for this thread; it has {rows}", title=self.title, rows=_sizes([*self.by_d]))
        )


# More sizes than are told one by one.
_MANY = 4


def _sizes(sizes: Sequence[str]) -> str:
    """The sizes, of many the first and the last."""
    if len(sizes) <= _MANY:
        return ", ".join(sizes)
    return tr("{n} sizes, {first} to {last}", n=len(sizes), first=sizes[0], last=sizes[-1])


_Told = TypeVar("_Told", bound=Row)


def _told_apart(rows: dict[Identifier, _Told]) -> dict[Identifier, _Told]:
    """Rows of which no two are called alike, for a reader chooses by the title. Raises ValidationError."""
    first: dict[str, str] = {}
    alike = {key: row.title for key, row in rows.items() if first.setdefault(row.title, key) != key}
    if alike:
        raise faulty(
            (
                (key, "title"),
                ValueError(f"row '{first[title]}' is called '{title}' too; give each row a title of its own"),
            )
            for key, title in alike.items()
        )
    return rows


# Things to choose from, by id.
Choosable = Annotated[dict[Identifier, _Told], AfterValidator(_told_apart)]


class Rows(Strict):
    """A table of things that can be chosen, by id. `input` is the name under which a sheet asks for one.

    Without `input` the rows are always given, as physical constants are.
    """

    input: Name | None = None
    rows: Choosable[Row]

    @model_validator(mode="after")
    def no_unit_stands_alone(self) -> Rows:
        """A value whose unit no other row has, and that is far from all of theirs, has a unit that slipped."""
        columns: dict[str, dict[str, Quantity]] = {}
        for key, row in self.rows.items():
            for symbol, given in row.gives.items():
                columns.setdefault(symbol, {})[key] = given
        alone = [(key, symbol, unit) for symbol, column in columns.items() for key, unit in _far_and_alone(column)]
        if alone:
            raise faulty(
                (
                    ("rows", key, "gives", symbol),
                    ValueError(
                        f"'{columns[symbol][key]}' is far from all other rows, which are in {unit}; mend the unit, or "
                        "write it in theirs if it is right"
                    ),
                )
                for key, symbol, unit in alone
            )
        return self


# So many rows that have one unit tell a slip in that of another one, where that is so many times more or less.
_ENOUGH_ROWS, _FAR = 3, 3.0


def _far_and_alone(column: Mapping[str, Quantity]) -> Iterator[tuple[str, str]]:
    """The rows whose value is in a unit of its own and far from all others, with the unit that these have."""
    units = {key: read_number(given)[1] for key, given in column.items()}
    counts = Counter(units.values())
    if len(counts) != 2 or len(column) <= _ENOUGH_ROWS or 1 not in counts.values():
        return
    key = next(key for key, unit in units.items() if counts[unit] == 1)
    others = [given.value for other, given in column.items() if other != key]
    if not min(others) / _FAR <= column[key].value <= max(others) * _FAR:
        yield key, next(unit for unit in counts if counts[unit] > 1)


# The two roles that a drill plays, as they end a symbol's name: o bores the oversized hole, g the guide hole.
DRILL_ROLES = ("o", "g")


def _symbol_of_a_drill(key: str) -> str:
    """A symbol's name, or several in one, with a star in the place of the role. Raises ValueError."""
    names = [key.replace("*", role) for role in DRILL_ROLES]
    if not all(name in FORMULARY.symbols for name in names):
        raise unknown_symbol(key)
    return names[0]


class Drill(Row):
    """A kind of drill. In the name of a symbol that it gives, a `*` stands for the role that it plays."""

    gives: Annotated[dict[str, Quantity], by_symbol(_symbol_of_a_drill)] = {}

    def in_role(self, role: str) -> Row:
        """What it gives as the large or as the guide drill."""

        def named(entries: Mapping[str, Any]) -> dict[str, Any]:
            return {key.replace("*", role): entry for key, entry in entries.items()}

        return Row.model_construct(**{**dict(self), "gives": named(self.gives), "sources": named(self.sources)})


class Shop(Row):
    """A shop: the units it measures in, and what it works with. `threads` and `drills` name the shop whose series of
    threads and whose drills these are, where they are not its own."""

    units: System
    threads: Identifier | None = None
    drills: Identifier | None = None


class Shops(Strict):
    """shops.yaml"""

    rows: Choosable[Shop]


class DrillStock(Strict):
    """The sizes of one kind of drill in one shop's set, ascending, in `unit`, and what they add up to. Instead of by a
    `title` they may go by the name of the shop that they are `of`."""

    kind: Identifier
    shop: Identifier
    title: Line = ""
    of: Stamped = ""
    unit: Literal["mm", "in"]
    source: Identifier
    sizes: list[Answer] = Field(min_length=1)
    total: Answer | None = None

    @model_validator(mode="after")
    def has_a_name(self) -> DrillStock:
        """A reader is told whose sizes there are."""
        if not self.title and not self.of:
            raise ValueError("say what these drills are called: add 'title'")
        return self

    @model_validator(mode="after")
    def in_order(self) -> DrillStock:
        """Sizes that can be read, and ascend."""
        try:
            lengths = self.lengths
        except QuantityError as error:
            raise faulty([(("sizes",), error)]) from None
        for place, (before, after) in enumerate(pairwise([0.0, *lengths])):
            if after <= before:
                told = f"'{self.sizes[place]}' is not above {self.sizes[place - 1] if place else 0}"
                raise faulty([(("sizes", place), QuantityError(f"{told}; sizes ascend, none twice"))])
        refuse_other_total(self.total, self.sizes)
        return self

    @cached_property
    def lengths(self) -> list[float]:
        """The sizes in metres. Those of inches are without the last bits of an inch made metric, for a page's script
        lists them."""
        lengths = [to_base(read_quantity(text, "dimensionless"), self.unit, "m") for text in self.sizes]
        return lengths if self.unit == "mm" else [float(f"{length:.12g}") for length in lengths]


def _near(name: str, known: Sequence[str]) -> str:
    """What somebody meant who wrote a name that is none."""
    close = get_close_matches(name, known, n=1)
    return f"did you mean '{close[0]}'?" if close else f"known: {', '.join(known)}"


class Drills(Strict):
    """drills.yaml: kinds of drill with their points, and the sizes in stock."""

    rows: Choosable[Drill]
    stock: list[DrillStock]

    @model_validator(mode="after")
    def of_known_kinds(self) -> Drills:
        """What is in stock is one of the kinds."""
        unknown = {place: one.kind for place, one in enumerate(self.stock) if one.kind not in self.rows}
        if unknown:
            raise faulty(
                (("stock", place, "kind"), ValueError(f"'{kind}' is no kind of drill; {_near(kind, [*self.rows])}"))
                for place, kind in unknown.items()
            )
        return self


# "M8x1.25", "#10-24 UNC", "1/4-20", "1 UNC": the diameter, and behind the sign the pitch or the turns to an inch.
_METRIC = re.compile(r"M(?P<d>\d+(?:\.\d+)?)(?:[xX×](?P<P>\d+(?:\.\d+)?))?")
_INCH = re.compile(r"(?:#(?P<gauge>\d+)|(?P<d>\d+(?:/\d+)?))(?:-(?P<turns>\d+))?(?: UNC| UNF)?")
# How much smaller than the thread a tap drill is, in pitches: from about 63 to 83 in 100 of the thread's depth are cut.
TAPPED = (0.82, 1.08)


def designated(name: str) -> tuple[float | None, float | None]:
    """Diameter and pitch in metres, where a thread's designation tells them. A gauge begins at 0.060 in, with 0.013 in
    from one to the next (ASME B1.1)."""
    if metric := _METRIC.fullmatch(name):
        return tuple(float(part) * 1e-3 if part else None for part in metric.group("d", "P"))  # type: ignore[return-value]
    if inch := _INCH.fullmatch(name):
        gauge, d, turns = inch.group("gauge", "d", "turns")
        size = 0.060 + 0.013 * int(gauge) if gauge else float(Fraction(d))
        return size * 0.0254, 0.0254 / int(turns) if turns and int(turns) else None
    return None, None


class Thread(Strict):
    """One thread: its designation, nominal diameter, pitch, usual tap drill, and other ways to write it."""

    size: Stamped
    d: Diameter
    P: Annotated[Quantity, of_symbol("P")]
    tap: Annotated[Quantity, of_symbol("D_y")] | None = None
    also: list[Stamped] = []

    @model_validator(mode="after")
    def as_it_is_called(self) -> Thread:
        """A diameter and a pitch that are those of its designations, and a tap drill of about their difference."""
        for name in (self.size, *self.also):
            d, P = designated(name)
            for key, own, called in (("d", self.d, d), ("P", self.P, P)):
                if called is not None and abs(own.value - called) > SAME_SIZE / 20:
                    raise faulty([((key,), ValueError(f"'{own}' is not that of {name}, as this thread is called"))])
        if self.tap and not sensible((self.d.value - self.tap.value) / self.P.value, *TAPPED):
            message = f"'{self.tap}' taps no {self.size}; a tap drill is about the diameter less the pitch"
            raise faulty([(("tap",), ValueError(message))])
        return self

    @cached_property
    def gives(self) -> dict[str, Quantity]:
        """The symbols that the thread gives."""
        return {"d": self.d, "P": self.P} | ({"D_y": self.tap} if self.tap else {})


class Series(Strict):
    """A series of threads. `gives` holds what its standard lays down for all of them."""

    title: Line
    shop: Identifier
    source: Identifier
    gives: Gives
    sources: dict[str, Identifier] = {}
    rows: list[Thread] = Field(min_length=1)

    @model_validator(mode="after")
    def sources_of_what_it_gives(self) -> Series:
        """No source without its value."""
        refuse_source_of_nothing(
            self.sources, [*dict.fromkeys([*self.gives, *(key for row in self.rows for key in row.gives)])]
        )
        return self

    @cached_property
    def _gifts(self) -> dict[str, Gift]:
        return {row.size: gift({**self.gives, **row.gives}, self.sources, self.source) for row in self.rows}

    def gift(self, thread: Thread) -> Gift:
        """What one of its threads gives, with what the standard lays down for all."""
        return self._gifts[thread.size]


class Threads(Strict):
    """threads.yaml"""

    series: dict[Identifier, Series]


Values = Annotated[list[Answer], Field(max_length=100)]


class Run(Strict):
    """Values, for all shops or for each."""

    values: Values | None = None
    metric: Values | None = None
    inch: Values | None = None


class Given(Strict):
    """An input of a card: one default for all, or one for each shop; and its range.

    `source` stands behind the default and the range; without one they are the reader's own to choose. `elsewhere`
    names rows that this sheet does not take, each with the card that does. `rows` are the values through which a card's
    table runs over it.
    """

    ask: Line
    default: Answer | None = None
    metric: Answer | None = None
    inch: Answer | None = None
    min: Answer | None = None
    max: Answer | None = None
    source: Identifier | None = None
    elsewhere: dict[Identifier, Identifier] = {}
    rows: Run | None = None

    @model_validator(mode="after")
    def one_default_a_shop(self) -> Given:
        """Either one default, or one for each shop."""
        both = self.metric is not None and self.inch is not None
        either = self.metric is not None or self.inch is not None
        if (self.default is None) != both or (self.default is not None and either):
            raise ValueError("give one 'default' for both shops, or both 'metric' and 'inch'")
        return self

    def text(self, system: System) -> str:
        """The default in a metric or an inch shop."""
        own = by_system(system, self.metric, self.inch)
        return own if own is not None else str(self.default)

    def key(self, system: System) -> str:
        """Under which key that default stands."""
        return "default" if self.default is not None else system


class Inputs(Strict):
    """inputs.yaml: the inputs that several cards and tables ask for alike."""

    givens: dict[str, Given]


# The keys under which a given says what it comes as.
DEFAULTS = ("default", *SYSTEMS)


def said_of(own: Any) -> Any:
    """What a sheet says of a given; a text alone is its default."""
    return {"default": own} if own and isinstance(own, str) else own


def overlaid(shared: Mapping[str, Any], own: Any) -> Any:
    """A sheet's own given over the one that stands in inputs.yaml; what it leaves empty is left out.

    Its own default replaces the shared one whole, be that one for all or one for each shop.
    """
    own = said_of(own)
    if own and not isinstance(own, dict):
        return own
    dropped = {*DEFAULTS} if own and own.keys() & {*DEFAULTS} else set()
    kept = {key: value for key, value in shared.items() if key not in dropped}
    known = {*Given.model_fields}
    return {key: value for key, value in {**kept, **(own or {})}.items() if value != "" or key not in known}


class Stepwise(Strict):
    """One step of the work: what to do, what to see before going on, what it looks like when it went wrong.

    `line` is what to do, and `seen` what to see, in the few words that are read at the bench. `drawing` is the name of
    a drawing that explains it. With `when` it stands only where that holds, as `h_k > 0`.
    """

    title: ProseLine
    line: ProseLine | None = None
    seen: ProseLine | None = None
    do: ProseText
    see: ProseText
    wrong: ProseText | None = None
    drawing: Identifier | None = None
    cautions: list[Identifier] = []
    when: Condition | None = None

    @property
    def texts(self) -> list[Prose]:
        """All that it says."""
        said = (self.title, self.line, self.seen, self.do, self.see, self.wrong)
        return [Prose(text) for text in said if text]


# No crew is larger.
MOST_HANDS = 200


def _short_for(key: str) -> Callable[[Any], Any]:
    """A text alone, read as a mapping that has it under one key."""
    return lambda written: {key: written} if isinstance(written, str) else written


class Holding(Strict):
    """A `thing` that a line of the plan holds, a row of `shared` in `data/shop_sizes.yaml`: so many `of` it for each of
    what `count` counts, the wait behind the line included. A line that mixes holds it `until` that time from the end of
    the mix."""

    thing: Identifier
    of: Annotated[int, whole(1, 100)] = 1
    count: CountSymbol | None = None
    until: TimeSymbol | None = None


# One of it is its name alone.
_Holding = Annotated[Holding, BeforeValidator(_short_for("thing"), json_schema_input_type=Holding | str)]
# What a job sheet plans a line of the plan by: it looks again at one of two times after the mix; its wait comes
# before its work; how long to wait behind it is for the sheet to say; it follows the line before without a break;
# what it makes ready must soon be in the mix; it tells whether the fitting goes into the mix at all; hands stay with
# it through its wait; it has heat or sparks, or it has solvent, wet finish or open compound, and these are kept
# apart.
Mark = Literal["look", "wait_first", "left_open", "unbroken", "fresh", "decides", "attended", "heat", "fumes"]


# What a job sheet asks of a card that mixes: how much, how long it lasts in the cup, the ratio, what is weighed; what
# the card itself says, how many mixes and what each is for; and when it is hard and cured. And of one with layers: from
# when, and until when, the next layer goes on.
_OF_A_MIX = ("m_n", "t_w", "n_w", "rho_r", "rho_h", "m_t", "m_f", "v_f", "n_m", "N_w", "n_q", "t_ls", "t_h", "t_f")
_OF_LAYERS = ("t_c", "t_d")
# When a card looks again at what was set, counted from the mix: two lines of its plan, each at its time.
LOOKS = ("t_z1", "t_z2")


class PlanLine(Strict):
    """One part of the time plan: how long hands are busy, and how long to wait, as a symbol or as a time.

    `id` is the name that a job sheet knows it by, and `people` how many it takes, a number or the symbol of a count. A
    line that `may_stop` is broken off for a break or the night where that helps, `anywhere` or `between` two of a
    series; every other one is done in one go. `marks` say what else it is planned by, `by` is its latest end, a symbol
    counted from the mix, and `hold` has the counted things that it takes.

    The line with `fill` mixes: that is the given that says how long a mix is in use for one of what `each` counts.
    `layers` is the symbol of how many layers are filled one after another, each with a mix of its own, and `lower` says
    what all but the last take in place of what the last does.
    """

    id: Identifier | None = None
    what: ProseLine
    active: Work | None = None
    wait: WaitOrSymbol | None = None
    may_stop: Literal["anywhere", "between"] | None = None
    people: Annotated[int | str, whole_or_counted(1, MOST_HANDS)] = 1
    marks: list[Mark] = []
    by: TimeSymbol | None = None
    hold: list[_Holding] = []
    fill: TimeSymbol | None = None
    each: CountSymbol | None = None
    layers: CountSymbol | None = None
    lower: dict[SymbolName, SymbolName] = {}

    @model_validator(mode="after")
    def takes_time(self) -> PlanLine:
        """Either hands or patience."""
        if self.active is None and self.wait is None:
            raise ValueError("give 'active', 'wait' or both")
        return self

    @model_validator(mode="after")
    def marked_once(self) -> PlanLine:
        """A mark that stands twice may be meant for another line, or be another mark."""
        if twice := next((mark for mark in self.marks if self.marks.count(mark) > 1), None):
            raise ValueError(f"'{twice}' marks this line twice; keep one")
        return self

    @model_validator(mode="after")
    def mix_is_timed(self) -> PlanLine:
        """How long the mix is in use, of a line that mixes."""
        if self.fill is None and (own := [key for key in ("each", "layers", "lower") if getattr(self, key)]):
            raise ValueError(f"'{own[0]}' is of a line that mixes: give 'fill' too, or leave it out")
        return self

    @property
    def counted(self) -> str | None:
        """The symbol that counts the people that it takes, where that is no number."""
        return self.people if isinstance(self.people, str) else None

    @property
    def symbols(self) -> list[tuple[Path_, str]]:
        """Every symbol that the card must work for it, with its place."""
        found: list[tuple[Path_, str | None]] = [((key,), getattr(self, key)) for key in ("wait", "each", "layers")]
        found += [(("people",), self.counted)]
        found += [(("fill",), symbol) for symbol in (_OF_A_MIX if self.fill else ())]
        found += [(("layers",), symbol) for symbol in (_OF_LAYERS if self.layers else ())]
        found += [(("lower", symbol), one) for symbol, own in self.lower.items() for one in (symbol, own)]
        found += [(("by",), self.by)]
        for place, one in enumerate(self.hold):
            found += [(("hold", place, key), getattr(one, key)) for key in ("count", "until")]
        return [(path, symbol) for path, symbol in found if symbol]


class Need(Strict):
    """A tool or a material, with how much of it when that is worked out; with `when` only where that holds."""

    what: ProseText
    amount: ProseLine | None = None
    when: Condition | None = None


# What is needed in all cases, and not counted, is a text alone.
_Need = Annotated[Need, BeforeValidator(_short_for("what"), json_schema_input_type=Need | str)]


class Needs(Strict):
    """What to lay out before starting."""

    tools: list[_Need] = Field(min_length=1)
    materials: list[_Need] = Field(min_length=1)


# The inputs that choose a kind of drill, with the role that it plays then, by the end of its symbols' names.
DRILL_CHOICES = {"large_drill": "o", "guide_drill": "g"}
DrillInput = Literal["large_drill", "guide_drill"]


class Bore(Strict):
    """One hole that a card bores: which drill, by the symbol of its size, how deep, and where to flag it.

    Without `depth` it goes to its `mark`, measured from the tip, and without that right through. `kind` is the input
    that chose the kind of drill; without one the drill is a twist drill, and in a `plate` one that is kept for plates.
    `line` is the line of the plan that bores it, the first one unless it is given, and with `last`, as in a plate that
    is cut first, at that line's end.
    `reach` is the symbol of how long the drill is below the chuck, `long` that of how many of long series are needed.
    `widens` is the symbol of an old hole that is there already, and so is plugged first: no point has wood in it.
    """

    what: Line
    size: LengthSymbol
    depth: LengthSymbol | None = None
    mark: LengthSymbol | None = None
    kind: DrillInput | None = None
    line: Identifier | None = None
    reach: LengthSymbol | None = None
    long: CountSymbol | None = None
    plate: bool = False
    last: bool = False
    widens: LengthSymbol | None = None

    @property
    def symbols(self) -> list[tuple[str, str]]:
        """The symbols that the card must work, each with its key."""
        keys = ("size", "depth", "mark", "reach", "long", "widens")
        return [(key, symbol) for key in keys if (symbol := getattr(self, key))]


class Buy(Strict):
    """Something to buy for each fitting: how many (so many `of` it for each that a symbol counts), by which size a shop
    sells it, or how much of it. With `once` one does for the whole job; of several that differ, the one for which the
    symbol `by` is the largest.

    `what` may hold values in braces. `shop` names a row of `data/shop_sizes.yaml`. `size` is the least, `most` the
    most; with `exact` the fitting was worked for just this size. `thread` is how much of its length must be threaded.
    What is cut from bars has `sides` besides, where the bar's width matters. Of what is `shared`, a row of the things
    that cards hold, there are as many as the plan holds at once. What is `lent` is bought for joints of another card
    too, or only for those, when they are pulled by this one. Of what is sold by volume without an own one, a fitting
    takes what `data/shop_sizes.yaml` says for bedding; where `any` does, it is of what is bought for other fittings.
    """

    what: ProseLine
    shop: Identifier
    of: Annotated[int, whole(1, 100)] = 1
    count: CountSymbol | None = None
    size: LengthSymbol | None = None
    most: LengthSymbol | None = None
    exact: bool = False
    thread: LengthSymbol | None = None
    sides: Annotated[list[LengthSymbol], Field(min_length=2, max_length=2)] | None = None
    volume: VolumeSymbol | None = None
    once: bool = False
    any: bool = False
    by: SymbolName | None = None
    shared: Identifier | None = None
    lent: Literal["too", "only"] | None = None

    @property
    def symbols(self) -> list[tuple[Path_, str]]:
        """The symbols that the card must work, each with its place."""
        single: list[tuple[Path_, str | None]] = [
            ((key,), getattr(self, key)) for key in ("count", "size", "most", "thread", "volume", "by")
        ]
        both = [(("sides", place), symbol) for place, symbol in enumerate(self.sides or [])]
        return [(key, symbol) for key, symbol in [*single, *both] if symbol]


InputName = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=60)]
Act = Literal["pull", "lasting", "side", "lasting-side", "angled", "lasting-angled"]


class OnTheJob(Strict):
    """What a job sheet must know of a card besides its plan.

    `bores` are its holes and `buy` what to buy. `carries` names the working loads that decide, by how the load acts;
    the least of them counts. `change` names the inputs that may be changed when a fitting falls short, and `plate` the
    thickness of the wood where a backing plate may carry the load instead. `trial` is the card by which such a joint is
    tried before it is trusted; `pulled` is the card whose lines in `lends`, by their ids, follow, where that one has
    none for the pulling. `leaves` is how wide a hole that which comes out leaves, and `mends` how wide one the card
    begins with: of a fitting that comes after one that leaves a hole, it is no narrower. `single` says what one of it
    is, where that is not a whole fitting.
    """

    bores: list[Bore] = []
    buy: list[Buy] = []
    carries: dict[Act, Annotated[list[LoadSymbol], Field(min_length=1)]] = {}
    change: list[InputName] = []
    plate: LengthSymbol | None = None
    trial: Identifier | None = None
    pulled: Identifier | None = None
    lends: list[Identifier] = []
    leaves: LengthSymbol | None = None
    mends: LengthSymbol | None = None
    single: Line | None = None

    @model_validator(mode="after")
    def a_load_stays_at_an_angle_too(self) -> OnTheJob:
        """Else whoever looks for it takes a number that is too high."""
        parts: set[Act] = {"lasting", "lasting-side", "angled"}
        if parts <= self.carries.keys() and "lasting-angled" not in self.carries:
            raise ValueError("where loads along and across stay, one at an angle does too: give 'lasting-angled'")
        return self

    @property
    def symbols(self) -> list[tuple[Path_, str]]:
        """Every symbol that the card must work for a job sheet, with its place."""
        found: list[tuple[Path_, str | None]] = [((key,), getattr(self, key)) for key in ("leaves", "mends")]
        for place, bore in enumerate(self.bores):
            found += [(("bores", place, key), symbol) for key, symbol in bore.symbols]
        for place, buy in enumerate(self.buy):
            found += [(("buy", place, *where), symbol) for where, symbol in buy.symbols]
        return [(("job", *path), symbol) for path, symbol in found if symbol]


class Over(Run):
    """An input that runs through values: those listed, for all or for each shop, or all there are."""

    input: InputName

    def texts(self, system: System) -> list[str] | None:
        """The values in a metric or an inch shop; None is all there are."""
        own = by_system(system, self.metric, self.inch)
        return own if own is not None else self.values


class SizeTable(Strict):
    """A card's table: its columns, and the input that runs down it; without `over` that is every thread. An input alone
    runs through the `rows` that it has in inputs.yaml."""

    columns: list[SymbolName] = Field(min_length=1)
    over: Annotated[Over | None, BeforeValidator(_short_for("input"), json_schema_input_type=Over | str | None)] = None


class Across(Over):
    """An input that runs across the columns; `symbol` fills the cells."""

    symbol: SymbolName


class CheckValue(Strict):
    """A published value that the card's working must meet."""

    what: Line
    given: dict[str, Answer] = {}
    symbol: SymbolName
    value: Answer
    tolerance: Answer
    source: Identifier


class Sheet(Strict):
    """What a card and a reference table share: inputs, what is worked from them, and what stands behind it.

    `wanted` and `cautions` list what nothing else in the sheet names. `changed` is the day on which its
    file was last changed.
    """

    title: Line
    changed: Day | None = None
    purpose: Text
    givens: dict[str, Given]
    wanted: list[SymbolName] = []
    checks: list[CheckValue] = Field(min_length=1)
    cautions: list[Identifier] = []
    notes: list[ProseText] = []

    @cached_property
    def prose(self) -> list[tuple[Path_, Prose]]:
        """Every text in which a value may stand, with its path. What it says to job sheets stands on no page."""
        return [*_all_in(self, Prose, but="job")]

    @cached_property
    def whens(self) -> list[tuple[Path_, Condition]]:
        """Every condition under which a whole part stands, with its path."""
        return [*_all_in(self, Condition, but="job")]

    @cached_property
    def named(self) -> dict[str, Path_]:
        """The symbols that it works, each with the place that names it first: sizes, texts, then the rest."""
        read = sorted(self.prose, key=lambda one: one[0][0] == "notes")
        told = [(path, value.name) for path, text in read for value in text.values]
        asked = [(path, one.symbol) for path, text in read for one in text.conditions]
        asked += [(path, one.symbol) for path, one in self.whens]
        places: dict[str, Path_] = {}
        for path, symbol in (*self.columned, *told, *asked, *self.needed):
            if symbol in FORMULARY.symbols:
                places.setdefault(symbol, path)
        for place, symbol in enumerate(self.wanted):
            places.setdefault(symbol, ("wanted", place))
        return places

    @property
    def columned(self) -> list[tuple[Path_, str]]:
        """The symbols of its table, each with its place."""
        return []

    @property
    def needed(self) -> list[tuple[Path_, str]]:
        """The symbols that its plan and job sheets need, each with its place."""
        return []

    @property
    def outputs(self) -> list[SymbolName]:
        """The symbols that it works; what it asks for is none of them."""
        return [symbol for symbol in self.named if symbol not in self.givens]

    @cached_property
    def all_cautions(self) -> dict[str, Path_]:
        """Its cautions, each with the place that names it first."""
        return {caution: ("cautions", place) for place, caution in enumerate(self.cautions)}

    @property
    def always(self) -> dict[str, float]:
        """What it gives to every job (SI), whatever the reader sets."""
        return {}


class Shared(Strict):
    """shared.yaml: steps, needs and check values that several sheets have alike, by name."""

    steps: dict[Identifier, Stepwise] = {}
    needs: dict[Identifier, _Need] = {}
    checks: dict[Identifier, CheckValue] = {}


# The lists of a sheet in which the names of such may stand; the first key is the part of shared.yaml that has them.
SHARED_IN: tuple[Path_, ...] = (("steps",), ("needs", "tools"), ("needs", "materials"), ("checks",))


# How long hands are busy in all, and with one mix by what counts its lifts.
HANDS = "t_bh"
HANDS_BY_LIFT: Mapping[str | None, str] = {None: "t_bm", "n_l": "t_bl", "n_p": "t_bp"}


class Card(Sheet):
    """A procedure card.

    `group` is the heading under which the index lists the card. `trust` names the loads that the joint may be trusted
    with, where they are not those that decide on a job sheet. `table` is left out where nothing goes by one input.
    `job` is what a job sheet must know; a card without it stands in none. A card may do without a `figure`.
    """

    revision: Line = "1"
    group: Line
    figure: Identifier | None = None
    use_when: list[ProseText] = Field(min_length=1)
    not_when: list[ProseText] = Field(min_length=1)
    trust: list[LoadSymbol] = []
    plan: list[PlanLine] = Field(min_length=1)
    needs: Needs
    steps: list[Stepwise] = Field(min_length=1)
    table: SizeTable | None = None
    job: OnTheJob | None = None

    @property
    def outputs(self) -> list[SymbolName]:
        """The symbols that it works: the loads and how long hands are busy at the end."""
        last = [*self.loads, HANDS]
        return [*(symbol for symbol in super().outputs if symbol not in last), *last]

    @cached_property
    def loads(self) -> list[LoadSymbol]:
        """The loads that the joint may be trusted with."""
        carries = self.job.carries.values() if self.job else ()
        return self.trust or [*dict.fromkeys(load for loads in carries for load in loads)]

    @property
    def always(self) -> dict[str, float]:
        """How long hands are busy by its time plan: with a fitting, and with a mix or a lift of it."""
        total = sum(line.active.value for line in self.plan if line.active)
        if "N" not in self.givens:
            return {HANDS: total}
        if self.mix is None:
            return {"t_bn": total}
        mix = self.mix.active.value if self.mix.active else 0.0
        return {"t_bf": total - mix, HANDS_BY_LIFT.get(self.mix.layers, "t_bm"): mix}

    @property
    def columned(self) -> list[tuple[Path_, str]]:
        """The columns of its table."""
        return [(("table", "columns", place), symbol) for place, symbol in enumerate(self.sizes)]

    @property
    def needed(self) -> list[tuple[Path_, str]]:
        """What its plan waits for, and what a job sheet must know."""
        plan: list[tuple[Path_, str]] = [
            (("plan", place, *path), symbol) for place, line in enumerate(self.plan) for path, symbol in line.symbols
        ]
        plan.sort(key=lambda one: one[0][2] != "wait")
        looks = [place for place, line in enumerate(self.plan) if "look" in line.marks]
        plan += [(("plan", place, "marks"), symbol) for place, symbol in zip(looks, LOOKS, strict=False)]
        if self.job is None:
            return plan
        bought = [(("job", "buy", place, "what"), one) for place, one in enumerate(self.job.buy)]
        return plan + self.job.symbols + [(path, value.name) for path, one in bought for value in one.what.values]

    @cached_property
    def all_cautions(self) -> dict[str, Path_]:
        """Its cautions, in the order in which the steps need them, then those of the whole card."""
        places: dict[str, Path_] = {}
        for number, step in enumerate(self.steps):
            for place, caution in enumerate(step.cautions):
                places.setdefault(caution, ("steps", number, "cautions", place))
        for caution, path in super().all_cautions.items():
            places.setdefault(caution, path)
        return places

    def stands_when(self, name: str, caution: Caution) -> Condition | None:
        """When one of its cautions stands: as that says itself, else while the steps that name it do."""
        asked = [step.when for step in self.steps if name in step.cautions]
        return caution.when or (asked[0] if asked and asked.count(asked[0]) == len(asked) else None)

    @cached_property
    def mix_line(self) -> int | None:
        """Which line of its plan mixes, counted from 1."""
        return next((place for place, line in enumerate(self.plan, 1) if line.fill), None)

    @property
    def mix(self) -> PlanLine | None:
        """The line of its plan that mixes."""
        return self.plan[self.mix_line - 1] if self.mix_line else None

    @property
    def lines(self) -> dict[str, int]:
        """The lines of the plan that have an id, each with its place counted from 1."""
        return {line.id: place for place, line in enumerate(self.plan, 1) if line.id}

    @cached_property
    def steps_stand(self) -> Condition | Known | None:
        """What the steps cannot do without: every number that one of them always tells."""
        texts = [one for step in self.steps if not step.when for one in step.texts]
        return all_known(texts, but={*self.givens, *self.always, "n_v", "n_w"})

    @property
    def sizes(self) -> list[SymbolName]:
        """The columns of the card's table, none where it has no such table."""
        return self.table.columns if self.table else []


# A column that prints the note of the row instead of a symbol's value.
NOTE = "note"
Column = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=60),
    AfterValidator(lambda name: name if name == NOTE else symbol_in()(name)),
]


class Plot(Strict):
    """A table drawn as curves: `symbol` along one input that the table runs over, a curve for each value of another.
    `notice` says what to look at."""

    symbol: SymbolName
    along: InputName
    curves: InputName
    notice: ProseLine


class Table(Sheet):
    """A reference table: a row a value of `over`; columns of symbols, or one symbol across another input.

    `heads` are columns' heads in words, where a symbol's meaning is too long for one, `zeros` what a column says in
    place of a 0. `each` makes one table a value of a further input; `plot` draws it as curves as well; `group` is the
    heading under which the index lists it. `wall` prints it large for the shop's wall as well; `aids` draws a drilling
    aid at true size for each thread from it.
    """

    group: Line
    over: Over
    columns: list[Column] = []
    heads: dict[Column, Line] = {}
    zeros: dict[Column, Line] = {}
    across: Across | None = None
    each: Over | None = None
    plot: Plot | None = None
    wall: bool = False
    aids: bool = False

    @model_validator(mode="after")
    def columns_or_across(self) -> Table:
        """Cells hold several symbols, or one symbol across an input."""
        if bool(self.columns) == (self.across is not None):
            raise ValueError("give either 'columns' or 'across'")
        return self

    @property
    def runs(self) -> dict[str, Over]:
        """What the table runs over, by the input."""
        return {one.input: one for one in (self.over, self.across, self.each) if one}

    @model_validator(mode="after")
    def plot_is_of_the_table(self) -> Table:
        """A plot shows what the table prints."""
        if self.plot:
            printed = [self.across.symbol] if self.across else list(self.columns)
            if self.plot.symbol not in printed:
                raise ValueError(f"plot: '{self.plot.symbol}' is not in the table; it prints {', '.join(printed)}")
            for name in (self.plot.along, self.plot.curves):
                if name not in self.runs:
                    raise ValueError(f"plot: the table does not run over '{name}'; it does over {', '.join(self.runs)}")
            if self.plot.along not in FORMULARY.symbols:
                runs = ", ".join(name for name in self.runs if name in FORMULARY.symbols) or "none"
                raise ValueError(f"plot: '{self.plot.along}' is no quantity; a curve runs along one of: {runs}")
        return self

    @property
    def columned(self) -> list[tuple[Path_, str]]:
        """What its columns or its cells hold, but notes."""
        if self.across is not None:
            return [(("across", "symbol"), self.across.symbol)]
        return [(("columns", place), symbol) for place, symbol in enumerate(self.columns) if symbol != NOTE]


T = TypeVar("T")


def _all_in(part: object, kind: type[T], path: Path_ = (), but: str = "") -> Iterator[tuple[Path_, T]]:
    """Everything of a kind in a part of a file, with its path; what stands under the key `but` is left out."""
    inside: Iterable[tuple[Any, object]] = ()
    if isinstance(part, kind):
        yield path, part
    elif isinstance(part, BaseModel):
        inside = part
    elif isinstance(part, list):
        inside = enumerate(part)
    for key, one in inside:
        if key != but:
            yield from _all_in(one, kind, (*path, key))


def parse(model: type[M], document: Document) -> M:
    """The document as a typed model. Raises Faults with every fault in it."""
    try:
        sound = model.model_validate(document.data)
    except ValidationError as error:
        found = error.errors()
        near = len(found) <= MOST_ADVISED
        raise Faults(_fault(details, document, model, near) for details in found) from None
    if empty := [key for key, part in document.data.items() if part in ([], {})]:
        raise Faults(document.fault((key,), _nothing_in(model, key)) for key in empty)
    return sound


def _nothing_in(model: type[Strict], key: str) -> str:
    """What is wrong with a part of a file that is empty, for all that take from it would only tell what they lack."""
    remedy = "" if model.model_fields[key].is_required() else ", or leave the key out"
    return f"nothing stands under '{key}'; write at least one entry{remedy}"


# With more faults than these nobody is served by what each key that is not known may have been meant for.
MOST_ADVISED = 1000


def _fault(details: ErrorDetails, document: Document, model: type[Strict], near: bool) -> Fault:
    meant, kind = details["loc"], details["type"]
    path = _written(meant, document.data)
    if kind == "extra_forbidden":
        if path[-1] == "like":
            message = "'like' takes what stands in shared.yaml as it is; no other key stands beside it"
            return document.fault(path, message, at_key=True)
        advice = near and _comma(path, document)
        return document.fault(path, advice or _unknown_key(meant, model, near), at_key=True)
    if kind == "missing":
        return document.fault(path, f"the key '{meant[-1]}' is missing here; add it")
    if isinstance(error := details.get("ctx", {}).get("error"), StrayBrace):
        return document.fault_in_text(path, error.sign, str(error))
    return document.fault(path, _words(details), at_key=details["loc"][-1:] == ("[key]",))


def _written(meant: Path_, part: Any) -> Path_:
    """The path as it is written: the model's has names of alternatives, and numbers where one stands for a list."""
    path: list[Any] = []
    for key in meant:
        if key in (part if isinstance(part, dict) else range(len(part)) if isinstance(part, list) else ()):
            part = part[key]
            path.append(key)
    return tuple(path)


def _comma(path: Path_, document: Document) -> str:
    """The remedy where a comma in a number has parted it in two, as `{default: 1,5 mm}` is read."""
    if not re.fullmatch(r"\d+( \S+)?", str(path[-1])):
        return ""
    part = document.data
    for key in path[:-1]:
        part = part[key]
    keys = list(part)
    before = part[keys[keys.index(path[-1]) - 1]] if keys[0] != path[-1] else None
    if part[path[-1]] or not isinstance(before, str) or not re.fullmatch(r"-?\d+", before):
        return ""
    return f"a comma parts two entries here; write the number with a point: {before}.{path[-1]}"


def _words(details: ErrorDetails) -> str:
    kind, context = details["type"], details.get("ctx", {})
    shown = clip(str(details["input"]))
    if kind == "string_type" and isinstance(details["input"], dict) and [*details["input"].values()] == [""]:
        return f'a text that begins with a brace stands in quotes: "{{{next(iter(details["input"]))}}}"'
    wordings: dict[str, str] = {
        "value_error": str(context.get("error", "")),
        "literal_error": f"'{shown}' is not one of {context.get('expected')}",
        "string_pattern_mismatch": f"'{shown}' is not an id; use small letters, digits and single hyphens",
        "string_too_short": "the text is empty; write it, or leave the key out",
        "string_too_long": f"the text is longer than {context.get('max_length')} characters; shorten it",
        "string_type": "a text is wanted here, not a list or a mapping",
        "list_type": "a list is wanted here; begin each item with a hyphen",
        "dict_type": "a mapping is wanted here; write 'key: value' lines",
        "model_type": "a mapping is wanted here; write 'key: value' lines",
        "too_long": f"the list has more than {context.get('max_length')} items; shorten it",
        "too_short": "the list is empty; give at least one item"
        if context.get("min_length") == 1
        else f"at least {context.get('min_length')} items are wanted here; add what is missing",
        "bool_parsing": f"'{shown}' is neither true nor false",
    }
    return wordings.get(kind, f"{details['msg']} (got '{shown}')")


def _unknown_key(path: tuple[Any, ...], model: type[Strict], near: bool) -> str:
    allowed = _keys_at(path[:-1], model)
    key = str(path[-1])
    if not re.fullmatch(r"[\w*-]+", key):
        return f"unknown key '{clip(key)}'; if it ends a text, put that into quotes, for a comma in braces ends one"
    close = get_close_matches(key, allowed, n=1) if near else []
    hint = f"did you mean '{close[0]}'?" if close else f"known keys: {', '.join(allowed)}"
    return f"unknown key '{clip(key)}'; {hint}"


def _keys_at(path: tuple[Any, ...], model: type[BaseModel]) -> list[str]:
    """The keys that the model at `path` knows."""
    current = _bare(model)
    for part in path:
        if not _has_keys(current):
            current = _bare(_item(current))
        elif part in current.model_fields:  # else it is the name of one of several kinds
            current = _bare(current.model_fields[part].annotation)
    return list(current.model_fields) if _has_keys(current) else []


def _has_keys(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def _bare(kind: Any) -> Any:
    """A kind without its marks, and of several the one that has keys."""
    inside = get_args(kind)
    if get_origin(kind) is Annotated:
        return _bare(inside[0])
    if get_origin(kind) in (Union, UnionType):
        kinds = [_bare(one) for one in inside]
        return next(filter(_has_keys, kinds), kinds[0])
    return kind


def _item(annotation: Any) -> Any:
    """What a list or mapping annotation holds."""
    arguments = getattr(annotation, "__args__", ())
    return arguments[-1] if arguments else None
