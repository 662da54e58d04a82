"""The resolver: givens and wanted symbols in, values and the trail out.

A formula needs no wiring. To find a symbol, take the one formula or lookup that yields it and that
can itself be worked from what is given; its parameters' names say what to find first. The steps
taken, in order, are the trail: the worked example of the page.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from .errors import AmbiguousFormula, CycleError, MissingGiven, NoStock, OutOfRange, WorkingError
from .formula import FORMULARY, Formula, Formulary, Lookup, Rule, Stock
from .model.prose import Value, plain_parts
from .units import Shown, System, from_base, significant, whole_steps


@dataclass(frozen=True)
class Step:
    """One line of the trail: what was worked, by what, from which symbols, with which result.

    `by` is None for a given.
    """

    symbol: str
    value: float
    by: Formula | Lookup | None
    source: str = ""


@dataclass
class Working:
    """The values of all symbols found (SI), the trail that led there, and the warnings raised."""

    values: dict[str, float]
    trail: list[Step]
    warnings: list[str]
    formulary: Formulary

    def shown(self, symbol: str, system: System) -> Shown:
        """How a symbol is shown in the shop."""
        return self.formulary.symbols[symbol].shown(system)


def work(
    wanted: Iterable[str],
    givens: Mapping[str, float],
    stocks: Mapping[str, Stock] | None = None,
    *,
    sources: Mapping[str, str] | None = None,
    formulary: Formulary = FORMULARY,
    system: System = "metric",
) -> Working:
    """Work the wanted symbols out of the givens (floats in SI units).

    Raises MissingGiven, AmbiguousFormula, CycleError, NoStock or OutOfRange, each with the symbols
    on the way. `sources` names where each given comes from; messages give their values as the shop of `system` does.
    """
    wanted = tuple(wanted)
    order = steps_to(wanted, givens, formulary)
    values = dict(givens)
    used = {name for step in order for name in step.parameters} | (set(wanted) & set(givens))
    trail = [Step(name, values[name], None, (sources or {}).get(name, "")) for name in givens if name in used]
    warnings = check_rules(values, formulary.rules, formulary, system)
    for step in order:
        values[step.symbol] = choose(step, values, stocks or {}) if isinstance(step, Lookup) else compute(step, values)
        trail.append(Step(step.symbol, values[step.symbol], step, step.source))
        # A rule is asked as soon as its symbols are known, before a bad value is carried on.
        warnings += check_rules(values, formulary.rules_on(step.symbol), formulary, system)
    return Working(values, trail, warnings, formulary)


def steps_to(wanted: tuple[str, ...], givens: Mapping[str, float], formulary: Formulary) -> list[Formula | Lookup]:
    """The steps that lead to the wanted symbols. Which symbols are given decides them, not their values."""
    key = (frozenset(givens), wanted)
    if key not in formulary.plans:
        plan = Plan(givens, formulary)
        for symbol in wanted:
            plan.reach(symbol)
        formulary.plans[key] = plan.order
    order: list[Formula | Lookup] = formulary.plans[key]
    return order


class Plan:
    """Which steps to take, in order, to reach the symbols asked for."""

    def __init__(self, givens: Mapping[str, float], formulary: Formulary):
        self.givens = givens
        self.formulary = formulary
        self.order: list[Formula | Lookup] = []
        self._steps: dict[str, list[Formula | Lookup]] = {}

    def reach(self, symbol: str) -> None:
        """Add what it takes to find `symbol`."""
        steps = self._find(symbol, ())
        self.order += [step for step in steps if step not in self.order]

    def _find(self, symbol: str, path: tuple[str, ...]) -> list[Formula | Lookup]:
        if symbol in self.givens:
            return []
        if symbol in self._steps:
            return self._steps[symbol]
        way = (*path, symbol)
        if symbol in path:
            raise CycleError(f"{self._name(symbol)} is needed to work out itself", way)
        candidates = self.formulary.yielding(symbol)
        if not candidates:
            raise MissingGiven(f"no {self._name(symbol)} is given here or can be worked", way)
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
                failures.append(failure)
        return found, failures

    def _stand_beside(self, candidate: Formula | Lookup, way: tuple[str, ...]) -> None:
        """Raise the failure of the symbols that the candidate stands beside, where none of them can be found."""
        failures: list[WorkingError] = []
        for name in candidate.beside if isinstance(candidate, Formula) else ():
            try:
                self._find(name, way)
                return
            except (MissingGiven, CycleError) as failure:
                failures.append(failure)
        if failures:
            raise worst(failures)

    def _name(self, symbol: str) -> str:
        defined = self.formulary.symbols.get(symbol)
        return defined.meaning if defined else symbol


def worst(failures: Sequence[WorkingError]) -> WorkingError:
    """The failure that helps most: what is missing tells more than a circle that runs into it."""
    return min(failures, key=lambda failure: isinstance(failure, CycleError))


def arrows(way: Sequence[str]) -> str:
    """The symbols on the way, from the one asked for to the one in trouble."""
    return " ← ".join(way)


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
    return OutOfRange("no number comes out of these values together: correct one of them", (formula.symbol,))


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
    what, instead = no_size(lookup)
    return f"{with_range(stock)} have no size {what} the {in_both(target)} that is wanted; {instead}"


def with_range(stock: Stock) -> str:
    """A stock list by its title and the sizes that it goes from and to."""
    return f"{stock.title}, from {in_both(stock.sizes[0])} to {in_both(stock.sizes[-1])},"


def no_size(lookup: Lookup) -> tuple[str, str]:
    """What a stock list lacks when the lookup finds nothing in it, and what to do instead."""
    what = "near" if lookup.within else "as large as"
    return what, lookup.instead


def in_both(length: float) -> str:
    """A length in both shops' units, for a message that does not know the shop."""
    return f"{significant(from_base(length, 'm', 'mm'), 4)} mm ({significant(from_base(length, 'm', 'in'), 4)} in)"


def told(rule: Rule, values: Mapping[str, float], formulary: Formulary, system: System) -> str:
    """The rule's message with its values."""
    return "".join(
        formulary.symbols[part.name].text(values[part.name], system) if isinstance(part, Value) else part
        for part in plain_parts(rule.message)
    )


def check_rules(values: Mapping[str, float], rules: Iterable[Rule], formulary: Formulary, system: System) -> list[str]:
    """Ask every one of these rules whose symbols are known.

    Returns the warnings. Raises OutOfRange for a rule that refuses.
    """
    warnings = []
    for rule in rules:
        if all(name in values for name in rule.parameters) and not rule.call(values):
            if rule.refuses:
                raise OutOfRange(told(rule, values, formulary, system), rule.parameters)
            warnings.append(told(rule, values, formulary, system))
    return warnings
