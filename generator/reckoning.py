"""A reckoning: one card worked with one set of inputs, the card's defaults or the reader's own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache

from .errors import BondwrightError, WorkingError
from .formula import FORMULARY, Stock
from .language import later, pointed, tr
from .model.library import SPECIAL, Library
from .model.prose import Condition, Degrees, Known, Prose, Value
from .model.quantity import Gift, read_sensible, read_symbol
from .model.schema import Given, Sheet
from .model.sense import refuse_nonsense
from .units import SYSTEMS, QuantityError, System, clip, degrees, from_base, plain_decimals, plainly, read_number, span
from .working import Working, work

# What a text says in place of a number that there is none of.
NO_NUMBER = later("no number")
# A load beside its meaning, where it holds at one angle.
AT_ITS_ANGLE = later("{load} at {angle}")


class InputError(BondwrightError):
    """An input is wrong; `name` is the input."""

    def __init__(self, name: str, message: str):
        self.name = name
        super().__init__(message)


class UnknownInput(InputError):
    """An input that is none: neither the sheet's nor a symbol."""


@dataclass(repr=False)  # as a library's
class Reckoning:
    """A worked sheet: the shop it is worked for and its units, what was chosen, and the working."""

    sheet: Sheet
    shop_name: str
    system: System
    texts: dict[str, str]
    titles: dict[str, str]
    working: Working

    def shop(self, symbol: str) -> str:
        """A symbol's value rounded for the shop, with its unit; what was set is told as it was set. As every other way
        to a number it raises the reason where there is none."""
        defined = self.working.formulary.symbols[symbol]
        return defined.text(self.working.values[symbol], self.system, own=self.set_to.get(symbol))

    @property
    def set_to(self) -> dict[str, str]:
        """What the sheet's own inputs are set to, by name."""
        return {name: self.texts[name] for name in self.sheet.givens if name in self.texts}

    def said(self, symbol: str) -> str:
        """What a text says of a symbol: its value rounded for the shop, or that there is none."""
        return self.shop(symbol) if self.has(symbol) else tr(NO_NUMBER)

    def said_alone(self, symbol: str) -> str:
        """The same where no sentence says at which angle a load holds."""
        at = self.working.formulary.symbols[symbol].at
        return tr(AT_ITS_ANGLE, load=self.said(symbol), angle=self.said(at)) if at else self.said(symbol)

    def told(self, value: Value) -> str:
        """What stands in a value's place in a text: a choice's title, degrees as this shop reads them, else what is
        said of the symbol."""
        if isinstance(value, Degrees):
            return degrees(value.name, self.system)
        return self.titles[value.name] if value.name in self.titles else self.said(value.name)

    def reads(self, text: Prose) -> str:
        """A text with its values put in, and of its turns the ones that hold."""
        return "".join(part if isinstance(part, str) else self.told(part) for part in text.chosen(self.holds))

    @property
    def reasons(self) -> list[str]:
        """Why some of what the sheet works has no number, each reason once."""
        return self.working.reasons(self.sheet.outputs)

    def unused(self, inputs: Iterable[str]) -> list[str]:
        """Which of the inputs the sheet neither asks for nor works with."""
        used = {step.symbol for step in self.working.trail} | {
            name for step in self.working.steps for name in step.parameters
        }
        return [name for name in inputs if name not in {*self.sheet.givens, *used, "shop"}]

    def number(self, symbol: str) -> str:
        """A symbol's value rounded for the shop, without its unit."""
        return self.working.shown(symbol, self.system).number(self.amount(symbol), own=symbol in self.sheet.givens)

    def unit(self, symbol: str) -> str:
        """The unit that a symbol is shown in."""
        return self.working.shown(symbol, self.system).unit

    def amount(self, symbol: str) -> float:
        """A symbol's value in its shown unit, not rounded."""
        defined = self.working.formulary.symbols[symbol]
        return from_base(self.working.values[symbol], defined.unit, self.unit(symbol))

    def holds(self, condition: Condition | Known | None) -> bool:
        """Whether the value, as it is printed, is above what the condition says; a value that is not there is not.
        Nothing asked always holds."""
        if condition is None:
            return True
        if isinstance(condition, Known):
            known = all(name in self.titles or self.has(name) for name in condition.symbols)
            return known and self.holds(condition.when)
        symbol = condition.symbol
        if not self.has(symbol):
            return False
        shown, amount = self.working.shown(symbol, self.system), self.amount(symbol)
        return (amount if symbol in self.sheet.givens else shown.rounded(amount)) > condition.over

    def has(self, symbol: str) -> bool:
        """Whether the symbol was given or found."""
        return symbol in self.working.values


@dataclass
class _Givens:
    values: dict[str, float] = field(default_factory=dict)
    sources: dict[str, str] = field(default_factory=dict)
    stocks: dict[str, Stock] = field(default_factory=dict)
    titles: dict[str, str] = field(default_factory=dict)
    # Symbols that a chosen row does not give for this thread, with the reason.
    withheld: dict[str, WorkingError] = field(default_factory=dict)

    def take(self, present: Gift) -> None:
        """Add what a chosen row gives."""
        self.values |= present.values
        self.sources |= present.sources


def reckon(
    library: Library,
    sheet: Sheet,
    inputs: Mapping[str, str],
    *,
    extra: Iterable[str] = (),
    only: Iterable[str] | None = None,
) -> Reckoning:
    """Work the card with the reader's inputs in place of its defaults: all that it works and `extra`, or `only` that.

    What has no number with these inputs is refused in the working, with the reason. Raises InputError for an input
    that is wrong itself.
    """
    for name in inputs:
        _known_input(name, sheet)
    name = shop_of(library, inputs)
    system = library.shops[name].units
    texts = input_texts(library, sheet, inputs, name)
    _refuse_elsewhere(library, sheet, texts)
    always = dict.fromkeys(sheet.always, "own-judgement")
    givens = _Givens({**sheet.always}, always, stocks={**library.sold(name)})
    _choose_rows(library, texts, name, givens, inputs)
    _read_symbols(library, sheet, texts, givens, inputs, system)
    withheld = {symbol: why for symbol, why in givens.withheld.items() if symbol not in givens.values}
    wanted = dict.fromkeys((*sheet.outputs, *extra) if only is None else only)
    own = {name: text for name, text in texts.items() if name in sheet.givens}
    working = work(
        wanted, givens.values, givens.stocks, sources=givens.sources, withheld=withheld, system=system, own=own
    )
    return Reckoning(sheet, name, system, texts, givens.titles, working)


def _known_input(name: str, sheet: Sheet) -> None:
    if name not in sheet.givens and name != "shop" and name not in FORMULARY.symbols:
        known = list(dict.fromkeys((*sheet.givens, "shop", *FORMULARY.symbols)))
        close = get_close_matches(name, known, n=3, cutoff=0.6)
        hint = f"did you mean {', '.join(close)}?" if close else f"inputs: {', '.join(sheet.givens)}"
        raise UnknownInput(name, f"unknown input '{clip(name)}'; {hint}")


def shop_of(library: Library, inputs: Mapping[str, str]) -> str:
    """The shop asked for; else the one that the thread belongs to; else the first."""
    for name, read in (("shop", library.shop), ("thread", library.thread)):
        try:
            if name in inputs:
                read(inputs[name])
        except QuantityError as error:
            raise InputError(name, str(error)) from None
    if "thread" in inputs and "shop" not in inputs:
        return library.thread(inputs["thread"])[0].shop
    return inputs.get("shop", SYSTEMS[0])


def input_texts(library: Library, sheet: Sheet, inputs: Mapping[str, str], shop: str) -> dict[str, str]:
    """Every input's text: the card's defaults, the thread one of the shop's own, overlaid by the reader's."""
    own = library.shops[shop]
    threads = library.shops[str(own.threads)]
    texts = {name: given.text((threads if name == "thread" else own).units) for name, given in sheet.givens.items()}
    if {"n_v", "n_w"} & set(inputs):
        texts.pop("ratio", None)
    return {**texts, **{name: text for name, text in inputs.items() if name != "shop"}}


def _refuse_elsewhere(library: Library, sheet: Sheet, texts: Mapping[str, str]) -> None:
    for name, given in sheet.givens.items():
        if given.elsewhere and texts.get(name) in given.elsewhere:
            raise InputError(name, taken_elsewhere(library, name, given, texts[name]))


def taken_elsewhere(library: Library, name: str, given: Given, text: str) -> str:
    """What is said of a row that another card takes, and which card that is."""
    card = given.elsewhere[text]
    row = library.choices[name].rows[text]
    title = library.cards[card].title
    return tr("{row}: this card is not for it, take the card '{title}' ({card})", row=row.title, title=title, card=card)


def _choose_rows(
    library: Library, texts: Mapping[str, str], shop: str, givens: _Givens, inputs: Mapping[str, str]
) -> None:
    givens.take(library.shops[shop].always)
    givens.titles["shop"] = library.shops[shop].title
    givens.take(library.constants_given)
    # The thread goes first: some tables give values by its diameter. What takes the place of its size goes last.
    chosen = [name for name in texts if name in library.choices or name == "thread"]
    for name in sorted(chosen, key=lambda one: (one != "thread", _gives_the_size(library, one))):
        text = texts[name]
        try:
            if name == "thread":
                _choose_thread(library, text, givens)
            else:
                _choose_row(library, name, text, shop, givens)
        except QuantityError as error:
            raise InputError(name, str(error)) from None


def _gives_the_size(library: Library, name: str) -> bool:
    return name in library.choices and library.choices[name].gives_the_size


def _choose_thread(library: Library, text: str, givens: _Givens) -> None:
    series, thread = library.thread(text)
    givens.take(series.gift(thread))
    givens.titles["thread"] = thread.size


def _choose_row(library: Library, name: str, text: str, shop: str, givens: _Givens) -> None:
    row, stock = library.chosen(name, text), library.choices[name].stock
    try:
        givens.take(library.gift(name, row, givens.values.get("d")))
    except QuantityError as error:
        why = WorkingError(str(error), (name,))
        givens.withheld |= dict.fromkeys(row.symbols, why)
    givens.titles[name] = row.title
    if stock:
        givens.stocks[stock] = library.stock_of(text, shop)


def _read_symbols(
    library: Library,
    sheet: Sheet,
    texts: Mapping[str, str],
    givens: _Givens,
    inputs: Mapping[str, str],
    system: System,
) -> None:
    for name, text in texts.items():
        if name in library.choices or name == "thread":
            continue
        try:
            symbol, value = read_ratio(text) if name == "ratio" else (name, read_symbol(name, text, system))
            within_range(sheet, name, value, system)
        except QuantityError as error:
            raise InputError(name, f"{in_words(name)}: {error}") from None
        if symbol in RATIO_SYMBOLS.values():
            by = "volume" if symbol == "n_v" else "weight"
            givens.titles["ratio"] = told_ratio(text if name == "ratio" else f"{plain_decimals(value)}:1 {by}")
        given = sheet.givens.get(name)
        own = name in inputs
        givens.values[symbol] = value
        givens.sources[symbol] = "your-own" if own or given is None or given.source is None else given.source


def in_words(name: str) -> str:
    """An input by what it means."""
    return FORMULARY.symbols[name].meaning if name in FORMULARY.symbols else tr(name.replace("_", " "))


def read_input(library: Library, name: str, text: str) -> None:
    """Read what an input is given in a file. Raises QuantityError when it names no row and is no such quantity."""
    if name == "thread":
        library.thread(text)
    elif name in library.choices:
        library.chosen(name, text)
    elif name == "ratio":
        read_ratio(text)
    else:
        read_sensible(name, text)


def ends_of(name: str, given: Given) -> tuple[float | None, float | None]:
    """The ends of the range that a sheet gives its input (SI), of which one may be open."""
    low, high = (read_symbol(name, text) if text else None for text in (given.min, given.max))
    return low, high


def within_range(sheet: Sheet, name: str, value: float, system: System) -> None:
    """Refuse a value outside the range that the sheet gives its input. Raises QuantityError."""
    given = sheet.givens.get(name)
    if given is None or name in SPECIAL or not (given.min or given.max):
        return
    low, high = ends_of(name, given)
    close = 1e-9 * abs(value)
    if (low is not None and value < low - close) or (high is not None and value > high + close):
        raise QuantityError(out_of_range(name, given, system))


def unit_of(given: Given, system: System) -> str:
    """The unit that an input comes in, which a shop writes it in."""
    return read_number(given.text(system))[1]


def given_span(name: str, given: Given, system: System) -> str:
    """The range of an input as a shop reads it."""
    return span(*ends_of(name, given), FORMULARY.symbols[name].unit, unit_of(given, system))


def out_of_range(name: str, given: Given, system: System) -> str:
    """What is wrong with a value outside the range of a given, and what would be right."""
    return tr("outside the range of this card: take {bound}", bound=given_span(name, given, system))


# What a mix ratio goes by, as it may be written, and the symbol that it sets.
RATIO_SYMBOLS = {"by volume": "n_v", "volume": "n_v", "by weight": "n_w", "weight": "n_w"}
RATIO_LIKE = later("write it like '2:1 by volume' or '100:43 by weight'")


def told_by(symbol: str) -> str:
    """What a ratio goes by, in the language that is spoken."""
    return tr("by volume") if symbol == "n_v" else tr("by weight")


def told_ratio(text: str) -> str:
    """A mix ratio in its reader's own numbers, in the language that is spoken. Raises QuantityError."""
    _, _, symbol, written = _ratio_parts(text)
    return f"{pointed(written)} {told_by(symbol)}"


def read_ratio(text: str) -> tuple[str, float]:
    """Read "2:1 by volume" or "100:43 by weight" as the symbol it sets and its value. Raises QuantityError."""
    resin, hardener, symbol, _ = _ratio_parts(text)
    if resin <= 0 or hardener <= 0:
        raise QuantityError(f"'{clip(text)}': both parts are plain numbers above 0; {tr(RATIO_LIKE)}")
    parts = float(resin / hardener)
    try:
        refuse_nonsense(symbol, text, parts)
    except QuantityError as error:
        raise QuantityError(f"{error}; {tr(RATIO_LIKE)}") from None
    return symbol, parts


@lru_cache(maxsize=1024)
def _ratio_parts(text: str) -> tuple[Fraction, Fraction, str, str]:
    """The resin's part, the hardener's, the symbol of what they go by, and both as written, with points."""
    no_ratio = QuantityError(f"'{clip(text)}' is no mix ratio; {tr(RATIO_LIKE)}")
    try:
        resin, rest = read_number(text)
        hardener, by = read_number(rest[1:])
    except QuantityError:
        raise no_ratio from None
    if rest[:1] != ":" or by not in RATIO_SYMBOLS:
        raise no_ratio
    both = (plainly(text).removesuffix(rest), plainly(rest[1:]).removesuffix(by))
    return resin, hardener, RATIO_SYMBOLS[by], ":".join(part.strip().replace(",", ".") for part in both)
