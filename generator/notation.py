"""The printed working: a formula, the numbers put in, the answer, in the author's own layout.

One walk over the expression, two ways of writing: presentation MathML for pages, plain text for the
terminal.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from html import escape

import sympy
from sympy.core.function import Function

from .formula import UNIT_MARK, UNIT_WORDS, Formula, Symbol
from .units import System, factor, from_base, label, significant, with_unit

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
WORDS = {
    **{word: word for word in ("cos", "sin", "tan", "tanh", "exp")},
    **{"asin": "arcsin", "log": "ln", "Max": "max", "Min": "min"},
}


class Layout(ABC):
    """Writes a sympy expression that was kept as its author wrote it.

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

    def write(self, expr: sympy.Basic) -> str:
        """`expr` in this notation."""
        if isinstance(expr, sympy.Symbol):
            name = expr.name.removeprefix(UNIT_MARK)
            return self.leaf(name) if name == expr.name else self.unit(UNIT_WORDS[name][0])
        if expr is sympy.pi:
            return self.word("π")
        if isinstance(expr, sympy.Number):
            return self.number(significant(float(expr), 12))
        if isinstance(expr, sympy.Add):
            return self._sum(expr)
        if isinstance(expr, sympy.Mul):
            return self._product(list(expr.args))
        if isinstance(expr, sympy.Pow):
            return self._power(expr.base, expr.exp)
        if isinstance(expr, sympy.ceiling):
            return self.row(self.operator("⌈"), self.write(expr.args[0]), self.operator("⌉"))
        if isinstance(expr, sympy.floor):
            return self.row(self.operator("⌊"), self.write(expr.args[0]), self.operator("⌋"))
        if isinstance(expr, (Function, sympy.Max, sympy.Min)):
            return self._call(expr)
        raise TypeError(f"no layout for {type(expr).__name__}")

    def _call(self, expr: sympy.Basic) -> str:
        arguments = [self.write(argument) for argument in expr.args]
        inside = [part for argument in arguments for part in (self.operator(","), argument)][1:]
        return self.row(self.word(WORDS[type(expr).__name__]), self.brackets(self.row(*inside)))

    def _sum(self, expr: sympy.Add) -> str:
        parts = []
        for place, term in enumerate(flat(expr)):
            negative, rest = split_minus(term)
            if negative or place:
                parts.append(self.operator("−" if negative else "+"))
            parts.append(self._factor(rest) if negative else self.write(rest))
        return self.row(*parts)

    def _product(self, factors: list[sympy.Basic]) -> str:
        *ahead, last = factors
        if not ahead:
            return self.write(last)
        before = self._product(ahead) if len(ahead) > 1 else ahead[0]
        if isinstance(last, sympy.Pow) and last.exp == -1:
            simple = isinstance(last.base, (sympy.Symbol, sympy.Number, Function))
            over = before if isinstance(before, str) else self._over(before)
            return self.fraction(over, self.write(last.base), simple=simple)
        left = before if isinstance(before, str) else self._factor(before)
        return self.row(left, self.times(), self._factor(last))

    def _over(self, expr: sympy.Basic) -> str:
        """Above a fraction bar; plain text has no bar and needs brackets."""
        return self.write(expr)

    def _factor(self, expr: sympy.Basic) -> str:
        written = self.write(expr)
        return self.brackets(written) if isinstance(expr, sympy.Add) else written

    def _power(self, base: sympy.Basic, exponent: sympy.Basic) -> str:
        if exponent == sympy.Rational(1, 2):
            return self.root(self.write(base))
        if exponent == -1:
            return self.fraction(self.number("1"), self.write(base), simple=isinstance(base, sympy.Symbol))
        written = self.write(base)
        if self.numbers or not isinstance(base, sympy.Symbol):
            written = self.brackets(written)
        return self.power(written, self.write(exponent))

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
        return {"(": "(", ")": ")", ",": ", ", **{edge: edge for edge in "⌈⌉⌊⌋"}}.get(sign, f" {sign} ")

    def times(self) -> str:
        return " × "

    def fraction(self, over: str, under: str, *, simple: bool) -> str:
        return f"{over} / {under if simple else self.brackets(under)}"

    def _over(self, expr: sympy.Basic) -> str:
        return self._factor(expr)

    def root(self, inside: str) -> str:
        return f"√({inside})"

    def power(self, base: str, exponent: str) -> str:
        return base + exponent.translate(SUPERSCRIPTS) if exponent.isdigit() else f"{base}^{exponent}"

    def word(self, name: str) -> str:
        return name


SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def flat(expr: sympy.Add) -> list[sympy.Basic]:
    """The terms of a sum in the order written; a sum that leads another is part of it."""
    first, *rest = expr.args
    return [*(flat(first) if isinstance(first, sympy.Add) else [first]), *rest]


def split_minus(term: sympy.Basic) -> tuple[bool, sympy.Basic]:
    """Whether the term is taken away, and the term without its sign."""
    if isinstance(term, sympy.Number) and term.is_negative:
        return True, -term
    if not isinstance(term, sympy.Mul) or not term.args[0].is_negative:
        return False, term
    leading, *rest = term.args
    if leading != -1:
        rest.insert(0, -leading)
    return True, rest[0] if len(rest) == 1 else sympy.Mul(*rest, evaluate=False)


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


CUBES: dict[System, str] = {"metric": "mm**3", "inch": "in**3"}


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
    body = MathML(identifier, numbers=False).write(formula.expression(as_written=True))
    return mathml_line(identifier(formula.symbol), "<mo>=</mo>", body)


def numbers_line(formula: Formula, values: Mapping[str, float], symbols: Mapping[str, Symbol], system: System) -> str:
    """symbol = the same layout with the numbers put in = the answer, as MathML."""

    def number(name: str) -> str:
        return mathml_quantity(*working_number(symbols[name], values[name], system))

    body = MathML(number, numbers=True).write(formula.expression(as_written=True))
    results = [mathml_quantity(*answer) for answer in answers(formula, values, symbols, system)]
    return mathml_line(identifier(formula.symbol), *(f"<mo>=</mo>{part}" for part in (body, *results)))


def formula_text(formula: Formula) -> str:
    """The formula as one line of text."""
    return PlainText(lambda name: name, numbers=False).write(formula.expression(as_written=True))


def numbers_text(formula: Formula, values: Mapping[str, float], symbols: Mapping[str, Symbol], system: System) -> str:
    """The numbers put in and the answer as one line of text."""

    def number(name: str) -> str:
        text = with_unit(*working_number(symbols[name], values[name], system))
        return f"({text})" if "/" in text else text

    body = PlainText(number, numbers=True).write(formula.expression(as_written=True))
    return " = ".join([body, *(with_unit(*answer) for answer in answers(formula, values, symbols, system))])
