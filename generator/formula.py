"""What a formula is: one plain Python function whose body is one expression, put to four uses.

The same code object is run with floats (the number) and with quantities (the proof of its units: `proof.py`). Its
source, read once as a tree (`expr.py`), is the printed working and the JavaScript of a live page. Nothing is written
twice, so the shown formula cannot drift from the computed one.

Beside formulas stand two smaller kinds: a *lookup* chooses out of a stock list, and a *rule* says
when values may not be used together.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from types import FunctionType
from typing import Any, Literal, TypeVar, cast

from . import expr
from .errors import UnitFault
from .expr import UNIT_WORDS, WHOLE_NOISE
from .language import tr
from .units import Shown, System, by_system, from_base, to_base

F = TypeVar("F", bound=Callable[..., Any])

# The words a formula may use beside its arguments, in both arithmetics.


def _ceil_number(value: float) -> int:
    return math.ceil(value - WHOLE_NOISE)


def _floor_number(value: float) -> int:
    return math.floor(value + WHOLE_NOISE)


# What a module of formulas imports, so that a reader and a type checker know the names.
mm, metre, newton, watt, kilonewton, MPa, kelvin, kilogram, minute, W_per_m_K, kJ_per_kg_K = (
    value for _, value, _ in UNIT_WORDS.values()
)

NUMBER_WORDS: dict[str, Any] = {
    "pi": math.pi,
    "sqrt": math.sqrt,
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "asin": math.asin,
    "tanh": math.tanh,
    "ceil": _ceil_number,
    "floor": _floor_number,
    "exp": math.exp,
    "log": math.log,
    "min": min,
    "max": max,
    **{name: value for name, (_, value, _) in UNIT_WORDS.items()},
}


@dataclass(frozen=True)
class Symbol:
    """A letter of the trade: what it means, its SI unit, and how each shop shows it.

    A given value is never negative; with `positive` it is not 0 either. A mark stands for words, which its meaning
    tells, as whole numbers up to `marks`: conditions and rules ask it, and no text prints it. `absent` says why there
    is none where nothing gives it, if it says more than that. A load `at` an angle names it: beside its meaning it is
    never told without.
    """

    name: str
    english: str
    unit: str
    metric: Shown
    inch: Shown
    positive: bool = False
    marks: int = 0
    absent: str = ""
    at: str = ""

    @property
    def meaning(self) -> str:
        """What it means, in the language that is spoken."""
        return tr(self.english)

    def shown(self, system: System) -> Shown:
        """How this quantity is shown in a metric or an inch shop."""
        return by_system(system, self.metric, self.inch)

    def text(self, value: float, system: System, *, own: str | None = None) -> str:
        """A value of it (SI) rounded for the shop, with its unit; what the reader wrote as his `own` as it was set."""
        shown = self.shown(system)
        amount = from_base(value, self.unit, shown.unit)
        return shown.text(amount) if own is None else shown.as_written(amount, own)

    def printed(self, value: float, system: System) -> float:
        """A value of it as it is printed, both in SI: what is worked from it follows from the number on the paper."""
        shown = self.shown(system)
        return to_base(float(shown.rounded(from_base(value, self.unit, shown.unit))), shown.unit, self.unit)


def _last(module: str) -> str:
    """A module's own name, without the packages that it is in."""
    return module.rpartition(".")[2]


@dataclass(frozen=True, eq=False)
class Code:
    """A plain one-expression function and where it stands. Base of formulas and rules."""

    function: FunctionType
    parameters: tuple[str, ...]
    units: Mapping[str, str]
    source: str
    body: expr.Node
    where: str
    english: str

    @property
    def meaning(self) -> str:
        """What it does, in the language that is spoken."""
        return tr(self.english)

    @property
    def module(self) -> str:
        """The module of formulas that it stands in: its subject."""
        return _last(self.function.__module__)

    def run(self, words: Mapping[str, Any], arguments: Iterable[Any]) -> Any:
        """Run the function's own code object with other meanings for pi, sqrt, ceil and so on."""
        return self._with(words)(*arguments)

    def _with(self, words: Mapping[str, Any]) -> FunctionType:
        return FunctionType(self.function.__code__, {"__builtins__": {}, **words})

    @cached_property
    def _of_numbers(self) -> FunctionType:
        return self._with(NUMBER_WORDS)

    def call(self, values: Mapping[str, float]) -> Any:
        """The result for floats in coherent SI units, picked from `values` by name."""
        return self._of_numbers(*map(values.__getitem__, self.parameters))

    def javascript(self) -> str:
        """The body as a JavaScript expression of the parameters' names."""
        return expr.javascript(self.body)


@dataclass(frozen=True, eq=False)
class Formula(Code):
    """Yields `symbol`, in SI `unit`, from the symbols its parameters name.

    Where two kinds of joint reach a symbol from the same ones, `beside` tells them apart: the formula stands only where
    one of these symbols can be worked as well.
    """

    symbol: str
    unit: str
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Rule(Code):
    """A relation between symbols that must hold.

    Where it does not, one that `refuses` leaves the symbols that it `limits` without a number, and with them
    whatever needs them; any other only warns. A symbol in braces in `message` prints the value of that parameter.
    """

    said: str
    refuses: bool
    limits: tuple[str, ...]

    @property
    def message(self) -> str:
        """What is wrong and what would be right, in the language that is spoken."""
        return tr(self.said)


Choice = Literal["at least", "nearest", "nearest step"]


@dataclass(frozen=True)
class Lookup:
    """Chooses `symbol` for the value of `key`.

    "at least" takes the smallest stock size not under it; "nearest" the nearest stock size, the
    larger of two equally near, and refuses beyond `within`; "nearest step" the nearest multiple of `step`.
    `stock` names the list; `within` and `step` are symbols.
    """

    symbol: str
    choice: Choice
    key: str
    source: str
    english: str
    stock: str = ""
    within: str = ""
    step: str = ""
    # What to do where the list has no such size, unless the list itself says.
    instead: str = ""
    where: str = ""
    # The module of formulas that it stands in: its subject.
    module: str = ""

    @property
    def meaning(self) -> str:
        """How it is chosen, in the language that is spoken."""
        return tr(self.english)

    @property
    def parameters(self) -> tuple[str, ...]:
        """The symbols that must be known before choosing."""
        return tuple(name for name in (self.key, self.within, self.step) if name)


@dataclass(frozen=True)
class Stock:
    """A list of sizes that a shop has: SI values in ascending order, and the unit that the shop tells them in."""

    title: str
    sizes: Sequence[float]
    source: str
    unit: str = "mm"
    # What to do where more than its largest size is wanted.
    beyond: str = ""


@dataclass
class Index:
    """Where a formulary's steps and rules are found by symbol."""

    yielding: dict[str, list[Formula | Lookup]] = field(default_factory=dict)
    using: dict[str, set[str]] = field(default_factory=dict)
    rules: dict[str, list[Rule]] = field(default_factory=dict)
    plans: dict[Any, Any] = field(default_factory=dict)


@dataclass
class Formulary:
    """All symbols, formulas, lookups and rules that belong together."""

    symbols: dict[str, Symbol] = field(default_factory=dict)
    formulas: list[Formula] = field(default_factory=list)
    lookups: list[Lookup] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    _indexed: Index | None = None

    def define(self, symbol: Symbol) -> None:
        """Add a symbol; a name has one meaning."""
        if symbol.name in self.symbols:
            raise ValueError(f"symbol {symbol.name} is defined twice")
        self.symbols[symbol.name] = symbol

    def formula(self, symbol: str, source: str, *, beside: Sequence[str] = ()) -> Callable[[F], F]:
        """Register the decorated function as a formula for `symbol`, `beside` one of these if it names any."""

        def register(function: F) -> F:
            plain = cast(FunctionType, function)
            parameters, units = _signature(plain)
            body, where, english = expr.read(plain, parameters, relation=False)
            own = (symbol, units["return"], tuple(beside))
            self._indexed = None
            self.formulas.append(Formula(plain, parameters, units, source, body, where, english, *own))
            return function

        return register

    def rule(self, message: str, source: str, *, refuses: bool = True, limits: Sequence[str] = ()) -> Callable[[F], F]:
        """Register the decorated function as a rule; `message` says what is wrong and what would be right.

        `limits` names the symbols that have no number where the rule fails. Left out, it is all that the rule takes.
        """

        def register(function: F) -> F:
            plain = cast(FunctionType, function)
            parameters, units = _signature(plain)
            body, where, english = expr.read(plain, parameters, relation=True)
            limited = (tuple(limits) or parameters) if refuses else ()
            self._indexed = None
            self.rules.append(Rule(plain, parameters, units, source, body, where, english, message, refuses, limited))
            return function

        return register

    def lookup(self, symbol: str, choice: Choice, key: str, **details: str) -> None:
        """Register a choice out of a stock list."""
        caller = sys._getframe(1)  # asking for the whole stack would read the source of every frame
        where = expr.place(caller.f_code.co_filename, caller.f_lineno)
        of = {"english": details.pop("meaning"), "where": where, "module": _last(caller.f_globals["__name__"])}
        self._indexed = None
        self.lookups.append(Lookup(symbol, choice, key, **of, **details))

    @property
    def steps(self) -> list[Formula | Lookup]:
        """Everything that yields a symbol."""
        return [*self.formulas, *self.lookups]

    def yielding(self, symbol: str) -> list[Formula | Lookup]:
        """Every formula and lookup that yields `symbol`."""
        return self._index.yielding.get(symbol, [])

    def reaching(self, symbols: Iterable[str]) -> set[str]:
        """Every symbol on any way to these, and they themselves."""
        seen: set[str] = set()
        ahead = [*symbols]
        while ahead:
            symbol = ahead.pop()
            if symbol not in seen:
                seen.add(symbol)
                ahead += [name for step in self.yielding(symbol) for name in step.parameters]
        return seen

    def rules_on(self, symbol: str) -> list[Rule]:
        """Every rule that takes `symbol`."""
        return self._index.rules.get(symbol, [])

    @property
    def plans(self) -> dict[Any, Any]:
        """Ways to reach symbols that were found before, for the resolver; empty again when something is added."""
        return self._index.plans

    @property
    def _index(self) -> Index:
        """Steps and rules by symbol, made anew when something has been added."""
        if self._indexed is None:
            self._indexed = Index()
            for step in self.steps:
                self._indexed.yielding.setdefault(step.symbol, []).append(step)
                for name in step.parameters:
                    self._indexed.using.setdefault(name, set()).add(step.symbol)
            for rule in self.rules:
                for name in rule.parameters:
                    self._indexed.rules.setdefault(name, []).append(rule)
        return self._indexed

    def using(self, symbol: str) -> list[str]:
        """The symbols whose formulas and lookups need `symbol`, in alphabetical order."""
        return sorted(self._index.using.get(symbol, ()))

    def depending_on(self, symbol: str) -> set[str]:
        """The symbol, and every one that some way leads to from it."""
        found, ahead = {symbol}, [symbol]
        while ahead:
            new = set(self.using(ahead.pop())) - found
            found |= new
            ahead += new
        return found

    def unit_faults(self) -> Iterator[UnitFault]:
        """Symbols that a formula or rule names and that are not defined, or that it declares in another unit."""
        for code in (*self.formulas, *self.rules):
            declared: dict[str, str | None] = {name: code.units[name] for name in code.parameters}
            if isinstance(code, Formula):
                declared[code.symbol] = code.unit
            elif isinstance(code, Rule):
                declared = dict.fromkeys(code.limits) | declared
            for name, unit in declared.items():
                own = self.symbols[name].unit if name in self.symbols else ""
                if not own:
                    yield UnitFault(code.where, f"symbol {name} is not defined")
                elif unit and unit != own:
                    yield UnitFault(code.where, f"{name} is declared in {unit}, but its unit is {own}")

    def sources(self) -> Iterator[tuple[str, str]]:
        """Where each formula, rule and lookup stands, and the source it names."""
        for code in (*self.formulas, *self.rules):
            yield code.where, code.source
        for lookup in self.lookups:
            yield lookup.where, lookup.source


def _signature(function: FunctionType) -> tuple[tuple[str, ...], dict[str, str]]:
    """Parameter names, and the unit that each annotation carries."""
    code = function.__code__
    names = code.co_varnames[: code.co_argcount]
    return names, {name: _unit(written, function.__globals__) for name, written in function.__annotations__.items()}


def _unit(written: object, known: Mapping[str, object]) -> str:
    """The unit that an annotation carries; nothing where it carries none."""
    annotation = known.get(written) if isinstance(written, str) else written
    return str(getattr(annotation, "__metadata__", ("",))[0])


FORMULARY = Formulary()
formula = FORMULARY.formula
lookup = FORMULARY.lookup
rule = FORMULARY.rule
