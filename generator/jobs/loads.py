"""Each fitting's load against what it carries, and for one that falls short the smallest change that would do.

Nothing is guessed: a change is proposed only when the card, worked again with it, carries the load.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import inf

from ..formula import FORMULARY
from ..language import tr
from ..model.jobsheet import JobSheet, Load
from ..model.library import Library
from ..model.quantity import read_symbol
from ..reckoning import InputError, reckon
from ..units import QuantityError, System, from_base, mixed, whole_steps
from ..working import Warned
from .fittings import Worked, bearing, carried, load_of

# How finely a length is lengthened, and the most that is tried.
_STEPS: Mapping[System, tuple[str, str, int]] = {"metric": ("mm", "5 mm", 60), "inch": ("in", "1/4 in", 40)}
# How many of those steps are passed over at once.
_STRIDE = 6
# Inputs that are a depth, and that are a length; the others are chosen from a list.
_DEPTHS = ("T", "L_sc")
_LENGTHS = (*_DEPTHS, "a_e")
_PLATE = "backing-plate"
# A load that must be carried is printed rounded up, and one that is carried down.
_NEED, _CAPACITY = FORMULARY.symbols["F_n"], FORMULARY.symbols["F_w"]
# What a plate takes over from the card that it stands behind.
_SHARED = ("thread", "fastener", "wood", "T", "resin", "ratio", "hardener", "T_a")


@dataclass(frozen=True)
class Remedy:
    """Inputs that would do in place of the fitting's own, by the card named, and what it carries then (N)."""

    card: str
    inputs: dict[str, str]
    changed: dict[str, str]
    carries: float


@dataclass
class LoadCheck:
    """A fitting, by the card that says what it carries, its load (N) and that (N), or why there is no number for one of
    them. Both are as they are printed, so that their margin follows from what stands on the paper."""

    worked: Worked
    load: float
    carries: float | None = None
    symbol: str = ""
    reason: str = ""
    warnings: list[Warned] = field(default_factory=list)
    remedies: list[Remedy] = field(default_factory=list)

    @property
    def designers(self) -> bool:
        """Whether a designer decides, so that nothing is reckoned."""
        return self.worked.fitting.designer is not None

    @property
    def falls_short(self) -> bool:
        """Whether it carries less than it must."""
        return self.carries is not None and self.carries < self.load * (1 - 1e-9)

    @property
    def margin(self) -> float:
        """What it carries over its load, as a part of the load; under 0 when it falls short."""
        assert self.carries is not None
        return self.carries / self.load - 1


def check_loads(library: Library, sheet: JobSheet, fittings: list[Worked]) -> list[LoadCheck]:
    """Every fitting with a load case: those that fall short first, then those without a number, then by margin."""
    known = _Known(library)
    checks = [_check(known, sheet, worked) for worked in fittings if worked.fitting.load]
    return sorted(checks, key=lambda check: (not check.falls_short, check.carries is not None, _sort_margin(check)))


def _sort_margin(check: LoadCheck) -> float:
    return check.margin if check.carries is not None else 0.0


@dataclass
class _Known:
    """What was asked before: a boat has many fittings alike, and a search asks much. A reason stands where there is no
    number."""

    library: Library
    found: dict[tuple[tuple[str, str], ...], tuple[str, float, list[Warned]] | str] = field(default_factory=dict)

    def carried(self, card: str, inputs: Mapping[str, str], load: Load) -> tuple[str, float, list[Warned]] | str:
        """The working load that decides (N) with its symbol and warnings, or why there is none."""
        key = (("card", card), ("acts", load.acts), ("angle", load.angle or ""), *sorted(inputs.items()))
        if key not in self.found:
            try:
                self.found[key] = carried(self.library, self.library.cards[card], dict(inputs), load.acts, load.angle)
            except InputError as error:  # a change may leave the card's own range
                self.found[key] = str(error)
        return self.found[key]


def _check(known: _Known, sheet: JobSheet, worked: Worked) -> LoadCheck:
    load = worked.fitting.load
    assert load
    system, need = worked.reckoning.system, load_of(known.library, sheet, load)
    if load.by:
        own, worked = worked, bearing(known.library, sheet.conditions, worked, need)
        own.bearer = worked
    check = LoadCheck(worked, _NEED.printed(need, system))
    if designer := worked.fitting.designer:
        check.reason = tr("a designer decides: {who}", who=known.library.designers[designer].who)
        return check
    if not worked.on_the_job.carries:
        check.reason = tr("this card gives no load: have its strength worked out before it carries any")
        return check
    found = known.carried(worked.fitting.card, worked.inputs, load)
    if isinstance(found, str):
        check.reason = found
    else:
        check.symbol, check.carries, check.warnings = found[0], _CAPACITY.printed(found[1], system), found[2]
    if check.carries is None or check.falls_short:
        check.remedies = _Search(known.library, known, check).remedies()
    return check


@dataclass
class _Search:
    library: Library
    known: _Known
    check: LoadCheck

    def remedies(self) -> list[Remedy]:
        """The least change of each kind that does; where none does alone, the least thread with a depth for it."""
        change = self.check.worked.on_the_job.change
        found = [remedy for name in change if (remedy := self._least_of(name))]
        depths = [name for name in change if name in _DEPTHS]
        if not found and "thread" in change and depths:
            lengths = list(self._values(depths[0]))
            both = (self._least({"thread": thread}, depths[0], lengths) for thread in self._values("thread"))
            found = [remedy for remedy in [next(filter(None, both), None)] if remedy]
        plate = self._plate()
        return [*found, *([plate] if plate else [])]

    def _first(self, changes: Iterator[dict[str, str]]) -> Remedy | None:
        return next((remedy for changed in changes if (remedy := self._tried(changed))), None)

    def _least_of(self, name: str) -> Remedy | None:
        if name in _LENGTHS:
            return self._least({}, name, list(self._values(name)))
        return self._first({name: text} for text in self._values(name))

    def _least(self, changed: dict[str, str], name: str, texts: Sequence[str]) -> Remedy | None:
        """The first of ascending lengths that does: by strides, then back step by step, because a longer one carries no
        less."""
        for end in range(_STRIDE, len(texts) + _STRIDE, _STRIDE):
            stride = texts[end - _STRIDE : end]
            if self._tried({**changed, name: stride[-1]}):
                return self._first({**changed, name: text} for text in stride)
        return None

    def _tried(self, changed: dict[str, str], card: str = "", base: dict[str, str] | None = None) -> Remedy | None:
        worked, load = self.check.worked, self.check.worked.fitting.load
        assert load
        name = card or worked.fitting.card
        inputs = {**(worked.inputs if base is None else base), **changed}
        found = self.known.carried(name, inputs, load)
        if isinstance(found, str):
            return None
        carries = _CAPACITY.printed(found[1], worked.reckoning.system)
        return Remedy(name, inputs, changed, carries) if carries >= self.check.load * (1 - 1e-9) else None

    def _values(self, name: str) -> Iterator[str]:
        """What an input may be changed to, the smallest change first."""
        reckoning, card = self.check.worked.reckoning, self.check.worked.card
        if name == "thread":
            yield from self._larger_threads(reckoning.texts["thread"])
        elif name in _LENGTHS:
            if name != "T" or reckoning.texts.get("hole") != "through":
                yield from self._longer(name)
        elif name == "wood":
            yield from self._denser(reckoning.texts["wood"])
        elif name in self.library.choices:
            yield from self._rows(name)
        elif card.givens[name].max:
            yield str(card.givens[name].max)

    def _larger_threads(self, text: str) -> Iterator[str]:
        """Larger threads of the same series that the fitting's own holes take."""
        series, thread = self.library.thread(text)
        sizes = [one.size for one in series.rows]
        taken = {self.library.thread(one)[1].size for one in self.check.worked.fitting.threads}
        yield from (size for size in sizes[sizes.index(thread.size) + 1 :] if size in taken)

    def _denser(self, own: str) -> Iterator[str]:
        """Denser woods, the least dense first."""
        density = {key: row.gives["G"].value for key, row in self.library.tables["woods"].items() if "G" in row.gives}
        yield from sorted((key for key in density if density[key] > density.get(own, inf)), key=density.__getitem__)

    def _longer(self, name: str) -> Iterator[str]:
        reckoning = self.check.worked.reckoning
        unit, step_text, most = _STEPS[reckoning.system]
        step, now = read_symbol("T", step_text), reckoning.working.values[name]
        first = whole_steps(now, step, "down") + 1
        for count in range(first, first + most):
            length = from_base(count * step, "m", unit)
            yield f"{mixed(_fraction(length))} {unit}".replace("\N{NO-BREAK SPACE}", " ")

    def _rows(self, name: str) -> Iterator[str]:
        """Rows of the same family, which begins their ids alike: a bolt is not changed for one of another metal."""
        own = self.check.worked.reckoning.texts[name]
        for key in self.library.choices[name].rows:
            if key != own and key.split("-")[0] == own.split("-")[0]:
                yield key

    def _plate(self) -> Remedy | None:
        """A plate behind a bolt that goes right through: a way of its own to carry the whole load. It must find room on
        the wood."""
        worked, load = self.check.worked, self.check.worked.fitting.load
        reckoning, thickness = worked.reckoning, worked.on_the_job.plate
        through = reckoning.texts.get("hole", "through") == "through"
        card = self.library.cards.get(_PLATE)
        if not (load and thickness and through and card and card.job and load.acts in card.job.carries):
            return None
        shared = {**reckoning.texts, "T": reckoning.texts[thickness]}
        kept = {key: text for key, text in shared.items() if key in _SHARED}
        need = f"{self.check.load:.0f} N"
        if read_symbol("F_n", need) < self.check.load:
            need = f"{self.check.load + 1:.0f} N"
        try:
            found = self._tried({"F_n": need}, _PLATE, {"shop": reckoning.shop_name, **kept})
        except QuantityError:
            return None
        if found and "a_e" in reckoning.working.values:
            side = reckon(self.library, card, found.inputs).working.values["b_rs"]
            return found if side / 2 <= worked.value("a_e") else None
        return found


def _fraction(length: float) -> Fraction:
    return Fraction(round(length * 16), 16)
