"""The printed working: a formula, the numbers put in, the answer, in the author's own layout.

One walk over the formula's tree, two ways of writing: presentation MathML for pages, plain text for the
terminal.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from html import escape

from .expr import UNIT_WORDS, Binary, Call, Letter, Minus, Node, Number, Pi, Unit, is_sum
from .formula import Formula, Symbol
from .language import point
from .units import LENGTH_UNIT, System, factor, from_base, label, significant, with_unit

Leaf = Callable[[str], str]

GREEK = {
    "alpha": "α",
    "beta": "β",
    "chi": "χ",
    "delta": "δ",
    "gamma": "γ",
    "lambda": "λ",
    "mu": "μ",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "theta": "θ",
}
# Functions that are written otherwise than Python names them, and the signs that two stand between.
WORDS = {"asin": "arcsin", "log": "ln"}
EDGES = {"ceil": "⌈⌉", "floor": "⌊⌋"}


class Layout(ABC):
    """Writes a formula's tree as its author wrote it.

    `leaf` writes a symbol: its letter, or the number it stands for.
    """

    def __init__(self, leaf: Leaf, *, numbers: bool):
        self.leaf = leaf
        self.numbers = numbers

    @abstractmethod
    def number(self, text: str) -> str:
        """A plain number."""

    @abstractmethod
    def unit(self, text: str) -> str:
        """A unit that an empirical equation names."""

    @abstractmethod
    def row(self, *parts: str) -> str:
        """Parts side by side."""

    @abstractmethod
    def operator(self, sign: str) -> str:
        """A sign between two parts."""

    @abstractmethod
    def times(self) -> str:
        """What stands between two factors."""

    @abstractmethod
    def fraction(self, over: str, under: str, *, simple: bool) -> str:
        """`simple` says that `under` needs no brackets when written on one line."""

    @abstractmethod
    def root(self, inside: str) -> str:
        """A square root."""

    @abstractmethod
    def power(self, base: str, exponent: str) -> str:
        """`base` is in brackets already where it needs them."""

    @abstractmethod
    def word(self, name: str) -> str:
        """The name of a function, or pi."""

    def write(self, node: Node) -> str:
        """`node` in this notation."""
        match node:
            case Letter(name):
                return self.leaf(name)
            case Unit(name):
                return self.unit(UNIT_WORDS[name][0])
            case Pi():
                return self.word("π")
            case Number(value):
                return self.number(significant(value, 12))
            case Call(word, arguments):
                return self._call(word, arguments)
            case Binary("*", left, right):
                return self.row(self._factor(left), self.times(), self._factor(right))
            case Binary("/", left, right):
                simple = isinstance(right, (Letter, Unit, Number)) or (isinstance(right, Call) and right.word != "sqrt")
                return self.fraction(self._over(left), self.write(right), simple=simple)
            case Binary("**", base, exponent):
                return self._power(base, exponent)
            case Minus() | Binary("+" | "-"):
                return self._sum(node)
        raise TypeError(f"no layout for {node}")

    def _call(self, word: str, arguments: tuple[Node, ...]) -> str:
        written = [self.write(argument) for argument in arguments]
        if word == "sqrt":
            return self.root(written[0])
        if word in EDGES:
            return self.row(self.operator(EDGES[word][0]), *written, self.operator(EDGES[word][1]))
        between = self.operator(";" if point() == "," else ",")
        inside = [part for argument in written for part in (between, argument)][1:]
        return self.row(self.word(WORDS.get(word, word)), self.brackets(self.row(*inside)))

    def _sum(self, node: Node) -> str:
        parts = []
        for place, (negative, term) in enumerate(terms(node)):
            if negative or place:
                parts.append(self.operator("−" if negative else "+"))
            parts.append(self._factor(term) if negative or place else self.write(term))
        return self.row(*parts)

    def _over(self, node: Node) -> str:
        """Above a fraction bar; plain text has no bar and needs brackets."""
        return self.write(node)

    def _factor(self, node: Node) -> str:
        written = self.write(node)
        return self.brackets(written) if is_sum(node) else written

    def _raised(self, node: Node) -> str:
        """Above a power's base; plain text has no above and needs brackets."""
        return self.write(node)

    def _power(self, base: Node, exponent: Node) -> str:
        match exponent:
            case Minus(Number(value)):
                raised = self.number(significant(-value, 12))
            case Number() | Letter():
                raised = self.write(exponent)
            case _:
                raised = self._raised(exponent)
        written = self.write(base)
        if self.numbers or not isinstance(base, (Letter, Unit)):
            written = self.brackets(written)
        return self.power(written, raised)

    def brackets(self, written: str) -> str:
        """In round brackets."""
        return self.row(self.operator("("), written, self.operator(")"))


class MathML(Layout):
    """Presentation MathML, which every current browser draws by itself."""

    def unit(self, text: str) -> str:
        return f'<mi mathvariant="normal">{text}</mi>'

    def number(self, text: str) -> str:
        return f"<mn>{text}</mn>"

    def row(self, *parts: str) -> str:
        return f"<mrow>{''.join(parts)}</mrow>"

    def operator(self, sign: str) -> str:
        return f"<mo>{sign}</mo>"

    def times(self) -> str:
        return self.operator("×" if self.numbers else "&#x2062;")

    def fraction(self, over: str, under: str, *, simple: bool) -> str:
        return f"<mfrac>{over}{under}</mfrac>"

    def root(self, inside: str) -> str:
        return f"<msqrt>{inside}</msqrt>"

    def power(self, base: str, exponent: str) -> str:
        return f"<msup>{base}{exponent}</msup>"

    def word(self, name: str) -> str:
        return f"<mi>{name}</mi>"


class PlainText(Layout):
    """One line of text."""

    def unit(self, text: str) -> str:
        return text

    def number(self, text: str) -> str:
        return text

    def row(self, *parts: str) -> str:
        return "".join(parts)

    def operator(self, sign: str) -> str:
        return {"(": "(", ")": ")", ",": ", ", ";": "; ", **{edge: edge for edge in "⌈⌉⌊⌋"}}.get(sign, f" {sign} ")

    def times(self) -> str:
        return " × "

    def fraction(self, over: str, under: str, *, simple: bool) -> str:
        return f"{over} / {under if simple else self.brackets(under)}"

    def _over(self, node: Node) -> str:
        return self._factor(node)

    def _raised(self, node: Node) -> str:
        return self.brackets(self.write(node))

    def root(self, inside: str) -> str:
        return f"√({inside})"

    def power(self, base: str, exponent: str) -> str:
        return base + exponent.translate(SUPERSCRIPTS) if exponent.isdigit() else f"{base}^{exponent}"

    def word(self, name: str) -> str:
        return name


SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def terms(node: Node) -> Iterator[tuple[bool, Node]]:
    """The terms of a sum as written, and whether each is taken away; a sum that leads another is part of it."""
    match node:
        case Binary("+" | "-" as sign, left, right):
            yield from terms(left)
            negative, rest = split_minus(right)
            yield (sign == "-") != negative, rest
        case _:
            yield split_minus(node)


def split_minus(node: Node) -> tuple[bool, Node]:
    """Whether a term has its sign turned, and the term without that."""
    match node:
        case Minus(of):
            return True, of
        case Binary("*" | "/" as sign, left, right):
            negative, rest = split_minus(left)
            return (True, Binary(sign, rest, right)) if negative else (False, node)
    return False, node


@cache
def identifier(name: str) -> str:
    """A symbol's letter with its index, as MathML: D_o as D with a subscript o."""
    letter, _, index = name.partition("_")
    written = f"<mi>{GREEK.get(letter, escape(letter))}</mi>"
    if not index:
        return written
    kind = "mn" if index.isdigit() else "mi"
    return f"<msub>{written}<{kind}>{escape(index)}</{kind}></msub>"


def working_unit(symbol: Symbol, system: System) -> str:
    """The unit a symbol has in the printed working: its shown unit, unless a calculator could not use it.

    A share is a plain number there, and temperatures and what goes by them are in kelvin.
    """
    unit = symbol.shown(system).unit
    unit = unit.replace("delta_degC", "K").replace("delta_degF", "K")
    return {"percent": "dimensionless", "degC": "K", "degF": "K"}.get(unit, unit)


def working_number(symbol: Symbol, value: float, system: System) -> tuple[str, str]:
    """The number and unit a value has in the printed working."""
    unit = working_unit(symbol, system)
    return significant(from_base(value, symbol.unit, unit)), unit


def mathml_quantity(number: str, unit: str) -> str:
    """A number and its unit as MathML."""
    text = label(unit)
    if not text:
        return f"<mn>{number}</mn>"
    gap = "" if text == "°" else '<mspace width="0.2em"/>'
    return f'<mrow><mn>{number}</mn>{gap}<mi mathvariant="normal">{escape(text)}</mi></mrow>'


CUBES: dict[System, str] = {system: f"{unit}**3" for system, unit in LENGTH_UNIT.items()}


def answers(
    formula: Formula, values: Mapping[str, float], symbols: Mapping[str, Symbol], system: System
) -> list[tuple[str, str]]:
    """The result as (number, unit).

    A volume worked from lengths alone comes out in cubes first, so that a calculator shows the same.
    """
    value = values[formula.symbol]
    result = [working_number(symbols[formula.symbol], value, system)]
    if formula.unit == "m**3" and not {formula.units[name] for name in formula.parameters} - {"m", "m**2", "rad"}:
        cube = CUBES[system]
        result.insert(0, (significant(value / factor(cube, "m**3")), cube))
    return result


def mathml_line(*parts: str) -> str:
    """One displayed line."""
    return f'<math display="block"><mrow>{"".join(parts)}</mrow></math>'


def formula_line(formula: Formula) -> str:
    """symbol = formula, as MathML."""
    return _formula_line(formula, point())


@cache
def _formula_line(formula: Formula, _point: str) -> str:
    """The same once a way to write decimals, which its numbers go by."""
    body = MathML(identifier, numbers=False).write(formula.body)
    return mathml_line(identifier(formula.symbol), "<mo>=</mo>", body)


def numbers_line(formula: Formula, values: Mapping[str, float], symbols: Mapping[str, Symbol], system: System) -> str:
    """symbol = the same layout with the numbers put in = the answer, as MathML."""

    def number(name: str) -> str:
        return mathml_quantity(*working_number(symbols[name], values[name], system))

    body = MathML(number, numbers=True).write(formula.body)
    results = [mathml_quantity(*answer) for answer in answers(formula, values, symbols, system)]
    return mathml_line(identifier(formula.symbol), *(f"<mo>=</mo>{part}" for part in (body, *results)))


def formula_text(formula: Formula) -> str:
    """The formula as one line of text."""
    return PlainText(lambda name: name, numbers=False).write(formula.body)


def numbers_text(formula: Formula, values: Mapping[str, float], symbols: Mapping[str, Symbol], system: System) -> str:
    """The numbers put in and the answer as one line of text."""

    def number(name: str) -> str:
        text = with_unit(*working_number(symbols[name], values[name], system))
        return f"({text})" if "/" in text else text

    body = PlainText(number, numbers=True).write(formula.body)
    return " = ".join([body, *(with_unit(*answer) for answer in answers(formula, values, symbols, system))])
