"""A card as a script: its formulas, rules, data and fields, for the page's runtime to work.

Formulas and rules are printed from the same Python functions that worked the page, data are the same rows. Only what
the card can reach is in it. `docs/assets/live.js` reads the shape that `card_data` gives.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache, cached_property
from itertools import product
from typing import Any

from ..errors import WorkingError
from ..formula import FORMULARY, Code, Formula, Lookup, Rule
from ..job import by_diameter, input_texts
from ..model.library import Choice, Library, gift, read_symbol
from ..model.prose import Value, parts
from ..model.schema import Card, Row
from ..units import (
    KIND_OF_UNIT,
    SPELLINGS,
    QuantityError,
    Shown,
    System,
    decimals,
    factor,
    label,
    offset,
    read_quantity,
)
from ..working import steps_to
from .fields import Field, card_fields

DIRECTIONS = {"nearest": 0, "up": 1, "down": -1}


def card_script(library: Library, name: str, systems: Sequence[System], figure: str) -> str:
    """The script of one card. `figure` is the drawing as a JavaScript expression that yields a function."""
    reach = Reach(library, library.cards[name], systems)
    data = json.dumps(card_data(reach), ensure_ascii=False, separators=(",", ":"))
    steps = ",\n".join(step_text(step) for step in reach.steps)
    rules = ",\n".join(rule_text(rule) for rule in reach.rules)
    return f'"use strict";\nBondwright.take({json.dumps(name)},{data},[\n{steps}],[\n{rules}],\n{figure});\n'


class Reach:
    """What a card may ever need, whatever the reader gives: plans, steps, rules and symbols."""

    def __init__(self, library: Library, card: Card, systems: Sequence[System]):
        self.library = library
        self.card = card
        self.systems = systems

    @cached_property
    def choices(self) -> dict[str, Choice]:
        """The tables that this card's choices are rows of."""
        return {name: self.library.choices[name] for name in self.card.givens if name in self.library.choices}

    @cached_property
    def given_sets(self) -> list[set[str]]:
        """Every set of symbols that the reader's choices can give. It decides the way; the values do not."""
        library, givens = self.library, self.card.givens
        always = {name for present in library.always_given for name in present.values}
        always |= {name for name in givens if name in FORMULARY.symbols}
        sources: list[set[frozenset[str]]] = [
            {frozenset(library.tables["shops"][system].gives) for system in self.systems}
        ]
        if "thread" in givens:
            sources.append({frozenset((*series.gives, *thread.gives)) for _, series, thread in library.threads()})
        if "ratio" in givens:
            sources.append({frozenset(["n_v"]), frozenset(["n_w"])})
        for choice in self.choices.values():
            sources.append(
                {
                    frozenset(name.replace("*", choice.role) for name in names)
                    for row in library.tables[choice.table].values()
                    for names in row_givings(row)
                }
            )
        sets = {frozenset(always.union(*combination)) for combination in product(*sources)}
        return [set(names) for names in sorted(sets, key=sorted)]

    @cached_property
    def worked(self) -> set[str]:
        """Every symbol on any way to what is wanted."""
        seen: set[str] = set()
        ahead = [*self.card.wanted, *self.card.trust]
        while ahead:
            symbol = ahead.pop()
            if symbol not in seen:
                seen.add(symbol)
                ahead += [name for step in FORMULARY.yielding(symbol) for name in step.parameters]
        return seen

    @cached_property
    def deciding(self) -> list[str]:
        """The symbols on the way that are given by some choices and not by others."""
        some = set[str]().union(*self.given_sets)
        every = set(some).intersection(*self.given_sets)
        return sorted((some - every) & self.worked)

    @cached_property
    def _ways(self) -> dict[str, list[Way]]:
        """For each set of deciding symbols that may be given, the ways to what is wanted and to each load in trust."""
        ways = {}
        for given in self.given_sets:
            key = " ".join(name for name in self.deciding if name in given)
            if key not in ways:
                wanted = tuple(self.card.wanted)
                ways[key] = [way(wanted, given), *(way((*wanted, symbol), given) for symbol in self.card.trust)]
        return ways

    @cached_property
    def steps(self) -> list[Formula | Lookup]:
        """The formulas and lookups that some way takes."""
        taken = {step for ways in self._ways.values() for one in ways if isinstance(one, list) for step in one}
        return [step for step in FORMULARY.steps if step in taken]

    @cached_property
    def plans(self) -> dict[str, Any]:
        """The ways as places in `steps`; where there is none, the symbol that is missing and why."""
        places = {step: place for place, step in enumerate(self.steps)}
        return {
            key: [[places[step] for step in one] if isinstance(one, list) else [*one] for one in ways]
            for key, ways in self._ways.items()
        }

    @cached_property
    def rules(self) -> list[Rule]:
        """The rules that may be asked."""
        known = set[str]().union(*self.given_sets) | {step.symbol for step in self.steps}
        return [rule for rule in FORMULARY.rules if known.issuperset(rule.parameters)]

    @cached_property
    def symbols(self) -> list[str]:
        """The symbols that are worked with or shown, in the formulary's order."""
        kept = {name for code in (*self.steps, *self.rules) for name in code.parameters}
        kept |= {step.symbol for step in self.steps} | set(self.deciding) | set(self.card.givens)
        kept |= {*self.card.wanted, *self.card.trust}
        kept |= {part.name for text in card_texts(self.card) for part in parts(text) if isinstance(part, Value)}
        kept |= {line.wait for line in self.card.plan if line.wait}
        return [name for name in FORMULARY.symbols if name in kept]


Way = list[Formula | Lookup] | tuple[str, str]


def way(wanted: tuple[str, ...], given: set[str]) -> Way:
    """The steps to what is wanted, or the symbol that is missing with the reason."""
    try:
        return steps_to(wanted, dict.fromkeys(given, 0.0), FORMULARY)
    except WorkingError as error:
        return (error.symbols[-1], str(error))


def row_givings(row: Row) -> Iterator[Iterable[str]]:
    """The symbols that a row gives; nothing for a thread that it is not laid down for."""
    if row.by_d or row.d_min or row.d_max:
        yield ()
    for gives in row.by_d.values():
        yield (*row.gives, *gives)
    if not row.by_d:
        yield row.gives


def card_texts(card: Card) -> Iterator[str]:
    """Every text of a card that values are put into."""
    yield card.purpose
    yield from (*card.use_when, *card.not_when, *card.notes)
    for need in (*card.needs.tools, *card.needs.materials):
        yield from (need.what, need.amount or "")
    for step in card.steps:
        yield from (step.title, step.do, step.see, step.wrong or "")
    yield from (line.what for line in card.plan)


def step_text(step: Formula | Lookup) -> str:
    """A step as a JavaScript array: symbol, parameters, and its function or what it chooses by."""
    if isinstance(step, Formula):
        return f"{json.dumps([step.symbol, list(step.parameters)])[:-1]},{arrow(step)}]"
    choice = {"key": step.key, "choice": step.choice, "stock": step.stock, "within": step.within, "step": step.step}
    return json.dumps([step.symbol, list(step.parameters), {key: name for key, name in choice.items() if name}])


def rule_text(rule: Rule) -> str:
    """A rule as a JavaScript array: parameters, whether it refuses, its words, its function."""
    head = json.dumps([list(rule.parameters), int(rule.refuses), rule.message], ensure_ascii=False)
    return f"{head[:-1]},{arrow(rule)}]"


@cache
def arrow(code: Code) -> str:
    """A formula or a rule as a JavaScript function."""
    return f"({','.join(code.parameters)})=>{code.javascript()}"


def card_data(reach: Reach) -> dict[str, Any]:
    """Everything that is not a formula, ready for JSON. Values are floats in SI units."""
    library, card, systems = reach.library, reach.card, reach.systems
    symbols = set(reach.symbols)
    shown: list[list[Any]] = []
    fields = card_fields(library, card)
    data: dict[str, Any] = {
        "title": card.title,
        "systems": list(systems),
        "trust": list(card.trust),
        "deciding": reach.deciding,
        "plans": reach.plans,
        "symbols": {name: symbol_data(name, shown) for name in reach.symbols},
        "shown": shown,
        "units": units_data(name for name in reach.symbols if name in card.givens),
        "fields": {field.name: field_data(field, card, systems) for field in fields},
        "shops": {system: row_data(library.tables["shops"][system], symbols) for system in systems},
        "constants": [kept(present.values, symbols) for present in library.always_given],
        "choices": {
            name: {
                "table": choice.table,
                "stock": choice.stock,
                "rows": {
                    key: row_data(row, symbols, choice.role) | by_thread(library, row, symbols, choice.role)
                    for key, row in library.tables[choice.table].items()
                },
            }
            for name, choice in reach.choices.items()
        },
        "stocks": [
            [stock.kind, stock.shop, stock.title, factor(stock.unit, "m"), numbers(stock.sizes)]
            for stock in library.stock
            if stock.shop in systems and any(choice.stock for choice in reach.choices.values())
        ],
    }
    if "thread" in card.givens:
        data["threads"] = [
            [series.title, kept(gift(series.gives, {}, "").values, symbols)]
            + [[thread.size, kept(gift(thread.gives, {}, "").values, symbols)] for thread in series.rows]
            for series in library.series.values()
        ]
    return data


def numbers(texts: Iterable[str]) -> list[float]:
    """Sizes in the unit of their list."""
    return [read_quantity(text, "dimensionless") for text in texts]


def kept(values: Mapping[str, float], symbols: set[str]) -> dict[str, float]:
    """Only what the card can use."""
    return {name: value for name, value in values.items() if name in symbols}


def row_data(row: Row, symbols: set[str], role: str = "") -> dict[str, Any]:
    """A row of a data table: its title and what it gives."""
    return {"title": row.title, "gives": kept(gift(row.gives, {}, "", role).values, symbols)}


def by_thread(library: Library, row: Row, symbols: set[str], role: str) -> dict[str, Any]:
    """What a row gives beside for the thread's diameter, or why nothing: each once, and by thread which of them."""
    if not (row.by_d or row.d_min or row.d_max):
        return {}
    outcomes: list[str | dict[str, float]] = []

    def outcome(d: float | None) -> int:
        try:
            found: str | dict[str, float] = kept(gift(by_diameter(row, d), {}, "", role).values, symbols)
        except QuantityError as error:
            found = str(error)
        if found not in outcomes:
            outcomes.append(found)
        return outcomes.index(found)

    places = {thread.size: outcome(read_symbol("d", thread.d)) for _, _, thread in library.threads()}
    return {"none": outcome(None), "by": places, "outcomes": outcomes}


def symbol_data(name: str, shown: list[list[Any]]) -> list[Any]:
    """Meaning, SI unit, whether it must be above 0, and the places of its two ways to be shown in `shown`."""
    symbol = FORMULARY.symbols[name]
    places = []
    for way in (symbol.metric, symbol.inch):
        data = shown_data(way, symbol.unit)
        if data not in shown:
            shown.append(data)
        places.append(shown.index(data))
    return [symbol.meaning, symbol.unit, int(symbol.positive), *places]


def shown_data(way: Shown, base: str) -> list[Any]:
    """Unit as printed, its factor and offset, the step as a fraction, the direction, and how it is written.

    The last is -1 for a fraction of an inch, else the number of decimals; after it, whether zeros are trimmed.
    """
    written = -1 if way.fraction else decimals(way.step)
    scale = [factor(way.unit, base), offset(way.unit, base)]
    step = [way.step.numerator, way.step.denominator]
    return [label(way.unit), *scale, *step, DIRECTIONS[way.direction], written, int(way.trim)]


def units_data(names: Iterable[str]) -> dict[str, Any]:
    """What may be written for each SI unit of the fields: kind, example, spellings with factor and offset."""
    bases = sorted({FORMULARY.symbols[name].unit for name in names})
    return {
        base: [
            *KIND_OF_UNIT[base],
            {spelling: [factor(unit, base), offset(unit, base)] for spelling, unit in SPELLINGS[base].items()},
        ]
        for base in bases
    }


def field_data(field: Field, card: Card, systems: Sequence[System]) -> dict[str, Any]:
    """A field's default in each shop; for a number its range, and in each shop its unit, step and range in words."""
    data: dict[str, Any] = {system: input_texts(card, {}, system)[field.name] for system in systems}
    if field.kind == "number":
        given = card.givens[field.name]
        data["min"] = read_symbol(field.name, given.min) if given.min else None
        data["max"] = read_symbol(field.name, given.max) if given.max else None
        data["bound"] = bound_words(given.min, given.max)
        data["as"] = {system: [field.unit(system), field.step(system), field.range_words(system)] for system in systems}
    return data


def bound_words(low: str | None, high: str | None) -> str:
    """The range as the working's own message says it."""
    return f"{low} to {high}" if low and high else f"at least {low}" if low else f"at most {high}" if high else ""
