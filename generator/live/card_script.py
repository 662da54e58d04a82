"""A card as a script: its formulas, rules, data and fields, for the page's runtime to work.

Formulas and rules are printed from the same Python functions that worked the page, data are the same rows. Only what
the card can reach is in it. `docs/assets/live.js` reads the shape that `card_data` gives.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from functools import cache, cached_property
from itertools import product
from typing import Any

from ..evidence import ALONG, BY_TESTS, GRAVITY, HOLE, SAME, SIZES, Judged, sentences, series_for
from ..figures import BLANK
from ..formula import FORMULARY, Code, Formula, Lookup, Rule, Stock, Symbol
from ..language import later, point, tr
from ..model.library import Choice, Library
from ..model.prose import Value, plain_parts
from ..model.quantity import least_words
from ..model.schema import Card, Row
from ..model.sense import limits
from ..reckoning import (
    AT_ITS_ANGLE,
    RATIO_LIKE,
    RATIO_SYMBOLS,
    ends_of,
    input_texts,
    taken_elsewhere,
    told_by,
)
from ..units import (
    SPELLINGS,
    Bound,
    QuantityError,
    Shown,
    System,
    bound,
    factor,
    offset,
    what_to_write,
    with_unit,
)
from ..working import NO_FINITE_VALUE, Line, Plan, no_size, plan_to, wanted_instead, with_range
from .fields import Field, card_fields
from .figure_script import compact, figures_script

# How JavaScript rounds; halves away from 0 it has no function for.
DIRECTIONS = {"nearest": "", "up": "ceil", "down": "floor"}


# A drawing that needs a refused value is an empty one, with the reason in its caption. A fault in one is told to the
# browser, and no drawing of other numbers stays.
HELD = """(draw=>(values,say,texts,prefix,refused)=>{
const need=(name,value)=>{if(name in refused)throw refused[name];return value};
const held=new Proxy(values,{get:(all,name)=>need(name,all[name])});
try{return draw(held,name=>need(name,say(name)),texts,prefix)}
catch(why){if(why instanceof Error){const fault=why;
setTimeout(()=>{throw fault});why=[UNDRAWN]}
return{svg:'BLANK',title:"",description:"",caption:CAPTION.replace("{why}",()=>why[0])}}})""".replace("BLANK", BLANK)
UNDRAWN = later("it cannot be drawn with these numbers")

# What a line takes is read from the head of its function, which names it; a lookup has no function and lists it.
NAMES = r""".map(([symbol,run,...rest])=>typeof run==="string"?[symbol,run.split(","),...rest]:
[symbol,/\((.*?)\)/.exec(run)[1].split(","),run,...rest])"""

# The places that a plan's runs stand for.
PLACES = """for(const plan of Object.values(bondwrightCard.plans))
plan[0]=plan[0].flatMap(([first,length])=>[...Array(length).keys()].map(place=>first+place));"""


def held() -> str:
    """What holds each drawing, in the language that is spoken."""
    return HELD.replace("UNDRAWN", json.dumps(tr(UNDRAWN))).replace(
        "CAPTION", json.dumps(tr("No drawing: {why}.", why="{why}"))
    )


def card_script(library: Library, name: str, systems: Mapping[str, System]) -> str:
    """The script of one card, without its drawings."""
    reach = Reach(library, library.cards[name], systems)
    data = compact(card_data(reach) | own_data(reach))
    lines = ",\n".join(line_text(line) for line in reach.lines)
    return (
        f'"use strict";\nglobalThis.bondwrightCard={data[:-1]},\n"lines":[\n{lines}]{NAMES},{own_lines(reach)}'
        f"}};\n{PLACES}\n"
    )


def drawn(card: Card) -> list[str]:
    """The drawings of a card, the joint's and then those of its steps."""
    return [name for name in (card.figure, *(step.drawing for step in card.steps)) if name]


def drawings_script(library: Library, card: Card) -> str:
    """The drawings of a card, the joint's and then those of its steps, as a script that is fetched when asked for."""
    drawings = figures_script(library, drawn(card))
    return f'"use strict";\nglobalThis.bondwrightDrawings={drawings}.map({held()});\n'


class Reach:
    """What a card may ever need, whatever the reader gives: plans, steps, rules and symbols."""

    def __init__(self, library: Library, card: Card, systems: Mapping[str, System]):
        self.library = library
        self.card = card
        self.systems = systems

    @cached_property
    def choices(self) -> dict[str, Choice]:
        """The tables that this card's choices are rows of."""
        return {name: self.library.choices[name] for name in self.card.givens if name in self.library.choices}

    @cached_property
    def ways_to_give(self) -> list[set[frozenset[str]]]:
        """For each choice of the reader the sets of symbols that it can give."""
        library, givens = self.library, self.card.givens
        sources: list[set[frozenset[str]]] = [{frozenset(library.shops[system].gives) for system in self.systems}]
        if "thread" in givens:
            sources.append({frozenset((*series.gives, *thread.gives)) for _, series, thread in library.threads()})
        if "ratio" in givens:
            sources.append({frozenset(["n_v"]), frozenset(["n_w"])})
        for name, choice in self.choices.items():
            own = [row for key, row in choice.rows.items() if key not in givens[name].elsewhere]
            sources.append({frozenset(symbols) for row in own for symbols in row_givings(row)})
        return sources

    @cached_property
    def always(self) -> frozenset[str]:
        """The symbols that are given whatever the reader chooses."""
        stated = (name for name in self.card.givens if name in FORMULARY.symbols)
        chosen = (frozenset.intersection(*gifts) for gifts in self.ways_to_give)
        return frozenset(stated).union(self.library.constants_given.values, self.card.always, *chosen)

    @cached_property
    def worked(self) -> set[str]:
        """Every symbol on any way to what the card works."""
        return FORMULARY.reaching(self.card.outputs)

    @cached_property
    def deciding(self) -> list[str]:
        """The symbols on the way, or in a rule, that are given by some choices and not by others."""
        some = set[str]().union(*(gift for gifts in self.ways_to_give for gift in gifts))
        asked = {name for rule in FORMULARY.rules for name in rule.parameters}
        return sorted((some - self.always) & (self.worked | asked))

    @cached_property
    def ways(self) -> list[set[frozenset[str]]]:
        """For each choice of the reader what it can give of these. They decide the way; the values do not."""
        return [{gift.intersection(self.deciding) for gift in gifts} for gifts in self.ways_to_give]

    @cached_property
    def _plans(self) -> dict[str, Plan]:
        """By the deciding symbols that are given: the way to what the card works."""
        plans: dict[str, Plan] = {}
        sets = {self.always.union(*gifts) for gifts in product(*self.ways)}
        for given in sorted(sets, key=sorted):
            plans[" ".join(sorted(given - self.always))] = plan_to(tuple(self.card.outputs), given)
        return plans

    @cached_property
    def lines(self) -> list[Line]:
        """The formulas, lookups and rules that some way takes, in the order of the first that takes them."""
        return [*dict.fromkeys(line for plan in self._plans.values() for line in plan.lines)]

    @cached_property
    def bounds(self) -> dict[str, Bound]:
        """The lengths that the rules on the way have themselves, as they are written."""
        words = [part for line in self.lines if isinstance(line, Rule) for part in plain_parts(line.message)]
        return {one.name: length for one in words if isinstance(one, Value) and (length := bound(one.name))}

    @cached_property
    def plans(self) -> dict[str, Any]:
        """The ways as runs of places in `lines`, each with what it cannot reach, and why."""
        places = {line: place for place, line in enumerate(self.lines)}
        return {
            key: [
                runs([places[line] for line in plan.lines]),
                {name: [str(why), []] for name, why in plan.missing.items()},
            ]
            for key, plan in self._plans.items()
        }

    @cached_property
    def tests(self) -> list[Judged]:
        """The shop's own series whose number may stand beside a working load of this card."""
        return [one for one in series_for(self.library, self.card) if one.sample]

    @cached_property
    def by_tests(self) -> list[Formula]:
        """What gives a working load of this card by tests."""
        symbols = [BY_TESTS[symbol] for symbol in BY_TESTS if symbol in self.card.loads] if self.tests else []
        return [step for symbol in symbols for step in FORMULARY.yielding(symbol) if isinstance(step, Formula)]

    @cached_property
    def symbols(self) -> list[str]:
        """The symbols that are worked with or shown, in the formulary's order."""
        kept = {name for line in self.lines for name in line.parameters}
        kept |= {line.symbol for line in self.lines if not isinstance(line, Rule)}
        kept |= {*self.deciding, *self.card.givens, *self.card.outputs}
        kept |= {value.name for _, text in self.card.prose for value in text.values}
        kept |= {asked.symbol for _, text in self.card.prose for asked in text.conditions}
        kept |= {asked.symbol for _, asked in self.card.whens}
        kept |= {line.wait for line in self.card.plan if line.wait}
        kept |= {*self.tests[0].kind.needed, *(step.symbol for step in self.by_tests)} if self.tests else set()
        kept |= {name for step in self.by_tests for name in step.parameters} & {*self.library.constants_given.values}
        return [name for name in FORMULARY.symbols if name in kept]


def runs(places: Iterable[int]) -> list[tuple[int, int]]:
    """Where each run of neighbouring places begins, and how long it is."""
    found: list[tuple[int, int]] = []
    for place in places:
        first, length = found[-1] if found else (place, 0)
        if place == first + length:
            found[-1:] = [(first, length + 1)]
        else:
            found.append((place, 1))
    return found


def row_givings(row: Row) -> Iterator[Iterable[str]]:
    """The symbols that a row gives, or withholds from a thread that it is not laid down for."""
    yield row.symbols
    for gives in row.by_d.values():
        yield (*row.gives, *gives)


def line_text(line: Line) -> str:
    """A line of the working as a JavaScript array: its symbol and its function, or of a lookup what it chooses by.

    A rule has no symbol; after its function stand its words, and what it limits.
    """
    match line:
        case Lookup(symbol=symbol, key=key, stock=stock, within=within, step=step):
            keys = {"key": key, "stock": stock, "within": within, "step": step}
            words = {"none": no_size(line)} if stock else {}
            chosen = {key: name for key, name in keys.items() if name} | words
            return f'["{symbol}","{",".join(line.parameters)}",{compact(chosen)}]'
        case Formula(symbol=symbol):
            return f'["{symbol}",{arrow(line)}]'
        case _:
            return f'["",{arrow(line)},{message(line)},{compact(line.limits or None)}]'


def message(rule: Rule) -> str:
    """A rule's words as a JavaScript function of what says a value."""
    return "say=>" + "+".join(
        f"say({json.dumps(part.name)})" if isinstance(part, Value) else json.dumps(part, ensure_ascii=False)
        for part in plain_parts(rule.message)
    )


@cache
def arrow(code: Code) -> str:
    """A formula or a rule as a JavaScript function."""
    return f"({','.join(code.parameters)})=>{code.javascript()}"


def card_data(reach: Reach) -> dict[str, Any]:
    """Everything that is not a formula, ready for JSON. Values are floats in SI units."""
    library, card, systems = reach.library, reach.card, reach.systems
    symbols = set(reach.symbols)
    ways: list[dict[str, list[Any]]] = []
    shops = {system: library.shops[system] for system in systems}
    always = kept({**library.constants_given.values, **card.always}, symbols)
    always |= {name: length.value for name, length in reach.bounds.items()}
    told = {name: FORMULARY.symbols[name] for name in reach.symbols} | reach.bounds
    return {
        "title": card.title,
        **({"point": point()} if point() != "." else {}),
        "systems": list(systems),
        "outputs": card.outputs,
        "none": tr(NO_FINITE_VALUE),
        "mend": tr("mend the fields that are marked"),
        "deciding": reach.deciding,
        "plans": reach.plans,
        "shown": {name: way_shown(one, systems, ways) for name, one in told.items()},
        "ways": ways,
        "fields": {field.name: field_data(field, reach, symbols) for field in in_working_order(library, card)},
        "shops": {system: [row.title, kept(row.always.values, symbols) | always] for system, row in shops.items()},
        "sold": {system: sold_data(reach, system) for system in systems},
        "stocks": stocks_data(library, systems) if any(choice.stock for choice in reach.choices.values()) else {},
    }


def own_data(reach: Reach) -> dict[str, Any]:
    """The shop's own tests, for `own.js`: each set-up, the strength that 95 in 100 reach, and what is said of it."""
    if not reach.tests:
        return {}
    kind = reach.tests[0].kind
    return {
        "own": {
            "needed": kind.needed,
            "sizes": SIZES,
            "same": [*SAME],
            "gravity": GRAVITY,
            "bore": kind.hole,
            "depth": kind.depth,
            "hole": HOLE,
            "parts": kind.parts,
            "series": [
                {
                    "titles": {
                        name: one.reckoning.titles[name] for name in (*SIZES, *SAME) if name in one.reckoning.titles
                    },
                    "values": {name: one.reckoning.working.values[name] for name in kind.needed},
                    "gravity": one.gravity,
                    "low": one.sample.low,
                    "said": sentences(one),
                    **({"counts": True} if one.counts else {}),
                }
                for one in reach.tests
                if one.sample and all(one.reckoning.has(name) for name in kind.needed)
            ],
            **({"along": along(reach)} if any(one.counts for one in reach.tests) else {}),
        }
    }


def along(reach: Reach) -> dict[str, str]:
    """What is reckoned from a load that tests may take down, in working order, and what is said of each that the card
    shows."""
    symbols = dict.fromkeys(name for name in BY_TESTS if name in reach.card.loads)
    found: dict[str, str] = {}
    for line in reach.lines:
        if isinstance(line, Formula) and line.symbol not in symbols and symbols.keys() & {*line.parameters}:
            symbols[line.symbol] = None
            meaning = FORMULARY.symbols[line.symbol].meaning
            at = FORMULARY.symbols[line.symbol].at
            value = tr(AT_ITS_ANGLE, load="{value}", angle=f"{{{at}}}") if at else "{value}"
            said = tr(ALONG, meaning=meaning[:1].upper() + meaning[1:], value=value)
            found[line.symbol] = said if line.symbol in reach.card.outputs else ""
    return found


def own_lines(reach: Reach) -> str:
    """What works a working load by tests: of which load of the model, its meaning, and its formula."""
    beside = {by: symbol for symbol, by in BY_TESTS.items()}
    lines = [
        json.dumps([beside[step.symbol], FORMULARY.symbols[beside[step.symbol]].meaning, step.symbol, step.parameters])
        for step in reach.by_tests
    ]
    written = ",\n".join(f"{line[:-1]},{arrow(step)}]" for line, step in zip(lines, reach.by_tests, strict=True))
    return f'\n"tests":[\n{written}],' if lines else ""


def in_working_order(library: Library, card: Card) -> list[Field]:
    """A card's fields as a job reads them: the thread, then other choices, which may go by it, then quantities."""
    order = ("thread", "choice", "ratio", "number")
    return sorted(card_fields(library, card), key=lambda field: min(order.index(field.kind), 2))


def stocks_data(library: Library, shops: Iterable[str]) -> dict[str, Any]:
    """The sizes of each kind of drill in each shop, or why there are none."""

    def sizes(kind: str, shop: str) -> str | list[Any]:
        try:
            stock = library.stock_of(kind, shop)
        except QuantityError as error:
            return str(error)
        return [with_range(stock), told_sizes(stock), stock.unit, wanted_instead(stock.beyond)]

    return {kind: {shop: sizes(kind, shop) for shop in shops} for kind in library.tables["drills"]}


def told_sizes(stock: Stock) -> list[float]:
    """The sizes in the unit that the shop tells them in, as they are written there: that is shorter."""
    return [round(size / factor(stock.unit, "m"), 9) for size in stock.sizes]


def sold_data(reach: Reach, shop: str) -> dict[str, Any]:
    """The sizes of what is sold by its size, where the card chooses from them."""
    stocks = {line.stock for line in reach.lines if isinstance(line, Lookup)}
    return {
        name: [with_range(one), told_sizes(one), one.unit]
        for name, one in reach.library.sold(shop).items()
        if name in stocks
    }


def kept(values: Mapping[str, float], symbols: set[str]) -> dict[str, float]:
    """Only what the card can use."""
    return {name: value for name, value in values.items() if name in symbols}


def rows_data(library: Library, field: Field, symbols: set[str], threaded: bool) -> dict[str, Any]:
    """The rows that a field chooses from by their keys: title, and by thread what they give; or what is wrong with one
    that another card takes."""
    name, elsewhere = field.name, field.given.elsewhere
    if name == "thread":
        return {
            thread.size: [thread.size, [kept(series.gift(thread).values, symbols)]]
            for _, series, thread in library.threads()
        }
    rows = library.choices[name].rows
    taken = {key: row for key, row in rows.items() if key not in elsewhere}
    return {key: [row.title, *outcomes(library, name, row, symbols, threaded)] for key, row in taken.items()} | {
        key: [rows[key].title, [taken_elsewhere(library, name, field.given, key)]] for key in elsewhere
    }


def outcomes(library: Library, choice: str, row: Row, symbols: set[str], threaded: bool) -> Iterator[Any]:
    """What a row may give, or why it withholds it, each once; then, where it goes by the thread, which by its size.

    The first is that of a job without a thread, the last that of every thread which is not named. A card that asks for
    the thread is without one only while it is wrong, and then has no number.
    """

    def outcome(d: float | None) -> Any:
        try:
            return kept(library.gift(choice, row, d).values, symbols)
        except QuantityError as error:
            return [str(error), [name for name in row.symbols if name in symbols]]

    found = [["", []] if threaded and row.by_thread else outcome(None)]
    threads = {thread.size: outcome(thread.d.value) for _, _, thread in library.threads()} if row.by_thread else {}
    every = list(threads.values())
    found += [one for place, one in enumerate(every) if one not in found and one not in every[:place]]
    found[1:] = sorted(found[1:], key=every.count)
    yield found
    if threads:
        yield {size: found.index(one) for size, one in threads.items() if one != found[-1]}


def way_shown(symbol: Symbol | Bound, systems: Mapping[str, System], ways: list[dict[str, list[Any]]]) -> int:
    """The place in `ways` of how a symbol is shown in each shop."""
    data = {shop: shown_data(symbol.shown(system), symbol.unit) for shop, system in systems.items()}
    if data not in ways:
        ways.append(data)
    return ways.index(data)


def shown_data(way: Shown, base: str) -> list[Any]:
    """Unit as it follows the number, its factor and offset, the step as a fraction, the direction, how it is written.

    The last is -1 for a fraction of an inch, else the number of decimals; after it, whether zeros are trimmed.
    """
    written = -1 if way.fraction else way.decimals
    scale = [factor(way.unit, base), offset(way.unit)]
    step = [way.step.numerator, way.step.denominator]
    return [with_unit("", way.unit), *scale, *step, DIRECTIONS[way.direction], written, int(way.trim)]


def field_data(field: Field, reach: Reach, symbols: set[str]) -> dict[str, Any]:
    """A field's text as it comes, by shop, with what its buttons need; then its rows, or what a number is read by."""
    came = {
        shop: [input_texts(reach.library, reach.card, {}, shop)[field.name], *field.push(system)]
        for shop, system in reach.systems.items()
    }
    data: dict[str, Any] = {"came": came}
    if field.kind in ("thread", "choice"):
        data["rows"] = rows_data(reach.library, field, symbols, "thread" in reach.card.givens)
    if field.name in reach.choices:
        data["stock"] = reach.choices[field.name].stock
    if field.kind == "ratio":
        data |= {
            "symbols": {by: (symbol, told_by(symbol)) for by, symbol in RATIO_SYMBOLS.items()},
            "write": tr(RATIO_LIKE),
            "range": limits("n_v"),
        }
    if field.kind == "number":
        data |= number_data(field, reach.systems)
    return data


def number_data(field: Field, systems: Mapping[str, System]) -> dict[str, Any]:
    """What may be written in a field of a number: spellings with factor and offset, the least, the range, and in each
    shop's units what to write and what lies in it."""
    symbol = FORMULARY.symbols[field.name]
    low, high = ends_of(field.name, field.given)
    return {
        "scales": {text: [factor(unit, symbol.unit), offset(unit)] for text, unit in SPELLINGS[symbol.unit].items()},
        "write": {shop: what_to_write(symbol.unit, system) for shop, system in systems.items()},
        "positive": int(symbol.positive),
        "least": least_words(symbol),
        "low": low,
        "high": high,
        "span": {shop: field.range_words(system) for shop, system in systems.items()},
    }
