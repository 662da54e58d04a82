"""The resolver: givens and wanted symbols in, values and the trail out.

A formula needs no wiring. To find a symbol, take the one formula or lookup that yields it and that
can itself be worked from what is given; its parameters' names say what to find first. The steps
taken, in order, are the trail: the worked example of the page.

A symbol without a number (out of a rule's range, no stock size, no finite value, not given) is refused with the reason,
and so is whatever needs it. Everything else is worked as if it had not been asked for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from .errors import AmbiguousFormula, CycleError, MissingGiven, NoStock, OutOfRange, WorkingError
from .formula import FORMULARY, Formula, Formulary, Lookup, Rule, Stock
from .language import later, speaks, tr
from .model.prose import Value, plain_parts
from .units import Shown, System, bound, from_base, significant, whole_steps


@dataclass(frozen=True)
class Step:
    """One line of the trail: what was worked, by what, from which symbols, with which result.

    `by` is None for a given.
    """

    symbol: str
    value: float
    by: Formula | Lookup | None
    source: str = ""


class Values(dict[str, float]):
    """Numbers by symbol (SI). Asked for one that is refused, they raise the reason."""

    def __init__(self, numbers: Mapping[str, float], refused: Mapping[str, WorkingError]):
        super().__init__(numbers)
        self.refused = dict(refused)
        for symbol in refused:
            self.pop(symbol, None)

    def refuse(self, symbol: str, why: WorkingError) -> None:
        """Leave a symbol without a number. The first reason stays, without the frames that it was raised through."""
        self.refused.setdefault(symbol, why.with_traceback(None))
        self.pop(symbol, None)

    def get(self, symbol: str, default: float = 0.0) -> float:  # type: ignore[override]
        """As of any dictionary, but the default stands for no refused number."""
        return self[symbol] if symbol in self or symbol in self.refused else default

    def refuse_what_needs(self, step: Formula | Lookup) -> None:
        """Refuse what a step yields where one of its symbols is refused, for the same reason."""
        if not self.refused.keys().isdisjoint(step.parameters):
            why = next(self.refused[name] for name in step.parameters if name in self.refused)
            self.refuse(step.symbol, why)

    def __missing__(self, symbol: str) -> float:
        if symbol in self.refused:
            raise self.refused[symbol].with_traceback(None)
        raise KeyError(symbol)


class Warned(str):
    """A warning in words, with the symbols that it is about."""

    symbols: tuple[str, ...] = ()

    @classmethod
    def of(cls, message: str, symbols: Sequence[str]) -> Warned:
        """The words with their symbols."""
        warned = cls(message)
        warned.symbols = tuple(symbols)
        return warned


@dataclass
class Working:
    """The values of all symbols found (SI), the trail that led there, and the warnings raised."""

    values: Values
    warnings: list[Warned]
    formulary: Formulary
    wanted: tuple[str, ...]
    givens: Mapping[str, float]
    sources: Mapping[str, str]
    steps: Sequence[Formula | Lookup]

    @cached_property
    def trail(self) -> list[Step]:
        """The givens that were used, and each step that found a number."""
        used = {name for step in self.steps for name in step.parameters} | set(self.wanted)
        found = [name for name in self.givens if name in used and name in self.values]
        return [Step(name, self.values[name], None, self.sources.get(name, "")) for name in found] + [
            Step(step.symbol, self.values[step.symbol], step, step.source)
            for step in self.steps
            if step.symbol in self.values
        ]

    @property
    def refused(self) -> Mapping[str, WorkingError]:
        """Why symbols have no number."""
        return self.values.refused

    def reasons(self, symbols: Iterable[str]) -> list[str]:
        """Why some of these have no number, each reason once."""
        return list(dict.fromkeys(str(self.refused[symbol]) for symbol in symbols if symbol in self.refused))

    def shown(self, symbol: str, system: System) -> Shown:
        """How a symbol is shown in the shop."""
        return self.formulary.symbols[symbol].shown(system)


def work(
    wanted: Iterable[str],
    givens: Mapping[str, float],
    stocks: Mapping[str, Stock] | None = None,
    *,
    sources: Mapping[str, str] | None = None,
    withheld: Mapping[str, WorkingError] | None = None,
    formulary: Formulary = FORMULARY,
    system: System = "metric",
    own: Mapping[str, str] = {},
) -> Working:
    """Work the wanted symbols out of the givens (floats in SI units).

    `withheld` are symbols that what was chosen does not give this time: they count as given, and are refused.
    `sources` names where each given comes from; messages give values as the shop of `system` does, and those that the
    reader may set, `own`, as they were set. Raises
    AmbiguousFormula or CycleError, which no other value mends.
    """
    wanted, withheld = tuple(wanted), withheld or {}
    plan = plan_to(wanted, (*givens, *withheld), formulary)
    values = Values(givens, {**withheld, **plan.missing})
    warnings: list[Warned] = []
    for line in plan.lines:
        if not isinstance(line, Rule):
            take(line, values, stocks or {})
        elif fails(line, values):
            message = told(line, values, formulary, system, own)
            warnings += [] if line.refuses else [Warned.of(message, line.parameters)]
            for symbol in line.limits:
                values.refuse(symbol, OutOfRange(message, line.parameters))
    if values.refused:  # by a rule perhaps whose last symbol was known only after others had been taken further
        for step in plan.steps:
            values.refuse_what_needs(step)
    return Working(values, warnings, formulary, wanted, givens, sources or {}, plan.steps)


def take(step: Formula | Lookup, values: Values, stocks: Mapping[str, Stock]) -> None:
    """Add what a step yields, or why it yields nothing."""
    if step.symbol in values.refused:  # by a rule that was asked before
        return
    try:
        values[step.symbol] = choose(step, values, stocks) if isinstance(step, Lookup) else compute(step, values)
    except WorkingError as error:
        values.refuse(step.symbol, error)


def fails(rule: Rule, values: Values) -> bool:
    """Whether a rule fails that can be asked: each of its symbols has a number."""
    return values.refused.keys().isdisjoint(rule.parameters) and not rule.call(values)


Line = Formula | Lookup | Rule


@dataclass
class Plan:
    """How wanted symbols are reached: steps, each rule as soon as its symbols are known, and what cannot be reached."""

    lines: list[Line]
    missing: dict[str, WorkingError]

    @cached_property
    def steps(self) -> list[Formula | Lookup]:
        """The lines that yield a symbol."""
        return [line for line in self.lines if not isinstance(line, Rule)]


def plan_to(wanted: tuple[str, ...], given: Iterable[str], formulary: Formulary = FORMULARY) -> Plan:
    """The way to the wanted symbols. Which symbols are given decides it, not their values nor their order; but most
    often they come in an order that they came in before, and that is sooner looked up."""
    plans, ordered = formulary.plans, (tuple(given), wanted, speaks())  # what is missing is told in words
    if ordered not in plans:
        known = frozenset(ordered[0])
        key = (known, *ordered[1:])
        if key not in plans:
            plans[key] = _planned(wanted, known, formulary)
        plans[ordered] = plans[key]
    plan: Plan = plans[ordered]
    return plan


def _planned(wanted: tuple[str, ...], given: frozenset[str], formulary: Formulary) -> Plan:
    search = Search(given, formulary)
    for symbol in wanted:
        search.reach(symbol)
    on_the_way = {*given, *wanted, *(step.symbol for step in search.order)}
    known = set(given)

    def asked(rules: Iterable[Rule]) -> list[Line]:
        """The rules whose symbols are known, of those that say something about this way."""
        mine = (rule for rule in rules if known.issuperset(rule.parameters))
        return [rule for rule in mine if not rule.refuses or on_the_way.intersection(rule.limits)]

    lines = asked(formulary.rules)
    for step in search.order:
        known.add(step.symbol)
        lines += [step, *asked(formulary.rules_on(step.symbol))]
    return Plan(lines, search.missing)


class Search:
    """Which steps to take, in order, to reach the symbols asked for."""

    def __init__(self, given: frozenset[str], formulary: Formulary):
        self.given = given
        self.formulary = formulary
        self.order: list[Formula | Lookup] = []
        self.missing: dict[str, WorkingError] = {}
        self._steps: dict[str, list[Formula | Lookup]] = {}

    def reach(self, symbol: str) -> None:
        """Add what it takes to find `symbol`, or why it cannot be found."""
        try:
            steps = self._find(symbol, ())
        except MissingGiven as error:
            self.missing[symbol] = error.with_traceback(None)
        else:
            self.order += [step for step in steps if step not in self.order]

    def _find(self, symbol: str, path: tuple[str, ...]) -> list[Formula | Lookup]:
        if symbol in self.given:
            return []
        if symbol in self._steps:
            return self._steps[symbol]
        way = (*path, symbol)
        if symbol in path:
            raise CycleError(f"{self._name(symbol)} is needed to work out itself", way)
        candidates = self.formulary.yielding(symbol)
        if not candidates:
            raise MissingGiven(self._nothing_gives(symbol), way)
        found, failures = self._try_each(candidates, way)
        if len(found) > 1:
            ways = " and ".join(step.where for step in found)
            raise AmbiguousFormula(f"{self._name(symbol)} can be worked in {len(found)} ways, by {ways}", way)
        if not found:
            raise worst(failures)
        self._steps[symbol] = next(iter(found.values()))
        return self._steps[symbol]

    def _try_each(
        self, candidates: Sequence[Formula | Lookup], way: tuple[str, ...]
    ) -> tuple[dict[Formula | Lookup, list[Formula | Lookup]], list[WorkingError]]:
        found: dict[Formula | Lookup, list[Formula | Lookup]] = {}
        failures: list[WorkingError] = []
        for candidate in candidates:
            try:
                self._stand_beside(candidate, way)
                before = [step for name in candidate.parameters for step in self._find(name, way)]
                found[candidate] = list(dict.fromkeys([*before, candidate]))
            except (MissingGiven, CycleError) as failure:
                failures.append(failure.with_traceback(None))  # it would keep this very frame, and so itself
        return found, failures

    def _stand_beside(self, candidate: Formula | Lookup, way: tuple[str, ...]) -> None:
        """Raise the failure of the symbols that the candidate stands beside, where none of them can be found."""
        failures: list[WorkingError] = []
        for name in candidate.beside if isinstance(candidate, Formula) else ():
            try:
                self._find(name, way)
                return
            except (MissingGiven, CycleError) as failure:
                failures.append(failure.with_traceback(None))
        if failures:
            raise worst(failures)

    def _nothing_gives(self, symbol: str) -> str:
        defined = self.formulary.symbols.get(symbol)
        if defined and defined.absent:
            return tr(defined.absent)
        return tr("no {symbol} is given here or can be worked", symbol=self._name(symbol))

    def _name(self, symbol: str) -> str:
        defined = self.formulary.symbols.get(symbol)
        return defined.meaning if defined else symbol


def worst(failures: Sequence[WorkingError]) -> WorkingError:
    """The failure that helps most: what is missing tells more than a circle that runs into it."""
    return min(failures, key=lambda failure: isinstance(failure, CycleError))


def arrows(way: Sequence[str]) -> str:
    """The symbols on the way, from the one asked for to the one in trouble."""
    return " ← ".join(way)


OTHER_KIND = later("choose another kind of drill, or give the hole's width")
NO_FINITE_VALUE = later("no number comes out of these values together: correct one of them")


def compute(formula: Formula, values: Mapping[str, float]) -> float:
    """The formula's number. Raises OutOfRange instead of yielding a number that means nothing."""
    try:
        number = float(formula.call(values))
    except (ArithmeticError, ValueError, TypeError) as error:
        raise _no_number(formula) from error
    if not math.isfinite(number):
        raise _no_number(formula)
    return number


def _no_number(formula: Formula) -> OutOfRange:
    return OutOfRange(tr(NO_FINITE_VALUE), (formula.symbol,))


def choose(lookup: Lookup, values: Mapping[str, float], stocks: Mapping[str, Stock]) -> float:
    """The size that the lookup picks. Raises NoStock when none fits."""
    target = values[lookup.key]
    if lookup.choice == "nearest step":
        step = values[lookup.step]
        return whole_steps(target, step, "nearest") * step
    stock = stocks.get(lookup.stock)
    if stock is None:
        raise NoStock("a size is chosen from a stock list here, but no list is given", (lookup.symbol,))
    if lookup.choice == "at least":
        return at_least(lookup, target, stock)
    return nearest(lookup, target, stock, values[lookup.within])


# Sizes a nanometre apart are the same drill.
_SAME_SIZE = 1e-9


def at_least(lookup: Lookup, target: float, stock: Stock) -> float:
    """The smallest size not under the target."""
    for size in stock.sizes:
        if size >= target - _SAME_SIZE:
            return size
    raise NoStock(_no_stock(lookup, target, stock), (lookup.symbol, lookup.stock))


def nearest(lookup: Lookup, target: float, stock: Stock, within: float) -> float:
    """The nearest size; of two equally near the larger, for a bond line that is not too thin."""
    away = min(abs(size - target) for size in stock.sizes)
    if away > within + _SAME_SIZE:
        raise NoStock(_no_stock(lookup, target, stock), (lookup.symbol, lookup.stock))
    return max(size for size in stock.sizes if abs(size - target) <= away + _SAME_SIZE)


def _no_stock(lookup: Lookup, target: float, stock: Stock) -> str:
    before, after = no_size(lookup)
    return f"{with_range(stock)} {before} {_length(target, stock)} {after or wanted_instead(stock.beyond)}"


def with_range(stock: Stock) -> str:
    """A stock list by its title and the sizes that it goes from and to."""
    low, high = _length(stock.sizes[0], stock), _length(stock.sizes[-1], stock)
    return tr("{title}, from {low} to {high},", title=stock.title, low=low, high=high)


def no_size(lookup: Lookup) -> tuple[str, str]:
    """What is said before and after a size that a stock list lacks; after it nothing where the list itself says."""
    near = tr("have no size near the") if lookup.within else tr("have no size as large as the")
    instead = tr(lookup.instead) if lookup.instead else tr(OTHER_KIND) if lookup.within else ""
    return near, wanted_instead(instead) if instead else ""


def wanted_instead(instead: str) -> str:
    """What is said after a size that a list lacks."""
    return tr("that is wanted; {instead}", instead=instead)


def _length(length: float, stock: Stock) -> str:
    return f"{significant(from_base(length, 'm', stock.unit), 4)} {stock.unit}"


def told(
    rule: Rule, values: Mapping[str, float], formulary: Formulary, system: System, own: Mapping[str, str] = {}
) -> str:
    """The rule's message with its values."""

    def said(name: str) -> str:
        if length := bound(name):
            return length.text(system)
        return formulary.symbols[name].text(values[name], system, own=own.get(name))

    return "".join(said(part.name) if isinstance(part, Value) else part for part in plain_parts(rule.message))
