"""A pocket calculator for the MathML on our pages, written apart from what prints it.

It knows presentation MathML and units, nothing of the formulas: it reads a printed line as a reader
with a calculator would.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import cache
from xml.etree import ElementTree

import pint

UNITS = pint.UnitRegistry()
Quantity = UNITS.Quantity
SPELT = {
    "fl oz": "fluid_ounce",
    "mm²": "mm**2",
    "mm³": "mm**3",
    "cm²": "cm**2",
    "in²": "in**2",
    "in³": "in**3",
    "g/m²": "g/m**2",
    "°": "deg",
}
SPELT |= {"J/molK": "J/(mol*K)", "kJ/kgK": "kJ/(kg*K)", "W/mK": "W/(m*K)", "m²": "m**2", "kg/m³": "kg/m**3"}
SPELT |= {"kn": "knot", "N·m": "N*m"}
SPELT |= {"ft²": "ft**2", "m/s²": "m/s**2", "mm/mK": "mm/(m*K)"}
UNIT_NAMES = {"mm", "in", "mL", "g", "g/mL", "cm", "K", "min", "h", "d", "kJ/mol", "g/mol", "J/g", *SPELT}
UNIT_NAMES |= {"MPa", "psi", "N", "kN", "lbf", "W", "J", "kJ", "kg", "lb", "m", "ft", "m/s", "s", "mm/d", "1/m", "W/L"}
PLAIN = {"exp": math.exp, "ln": math.log, "arcsin": math.asin, "tanh": math.tanh}
ANGLED = {"cos": math.cos, "sin": math.sin, "tan": math.tan}
MATH = re.compile(r'<math display="block">.*?</math>')

Token = tuple[str, object]


@cache
def unit(text: str) -> object:
    """A unit as it is printed."""
    return UNITS.Unit(SPELT.get(text, text))


def equation(text: str, symbols: Mapping[str, object]) -> list[object]:
    """The value of every side of a printed equation, left of the first equals sign too when it is a number."""
    root = ElementTree.fromstring(text)
    children = list(root[0]) if len(root) == 1 and root[0].tag == "mrow" else list(root)
    sides: list[list[ElementTree.Element]] = [[]]
    for child in children:
        if child.tag == "mo" and child.text == "=":
            sides.append([])
        else:
            sides[-1].append(child)
    return [Reader(symbols).row(side) for side in sides]


def enclosed(tokens: list[Token]) -> tuple[list[Token], list[Token]]:
    """What stands between the leading bracket and its partner, and what follows."""
    open_ = 0
    for place, (kind, _) in enumerate(tokens):
        open_ += {"(": 1, ")": -1}.get(kind, 0)
        if open_ == 0:
            return tokens[1:place], tokens[place + 1 :]
    raise AssertionError("a bracket is not closed")


class Reader:
    """Evaluates rows of MathML by precedence climbing over their tokens."""

    def __init__(self, symbols: Mapping[str, object]):
        self.symbols = symbols

    def row(self, elements: list[ElementTree.Element]) -> object:
        tokens = [token for element in elements for token in self.tokens(element)]
        value, rest = self.total(tokens)
        assert not rest, rest
        return value

    def tokens(self, element: ElementTree.Element) -> list[Token]:
        text = (element.text or "").strip()
        if element.tag == "mrow":
            inner = [child for child in element if child.tag != "mspace"]
            if len(inner) == 2 and inner[0].tag == "mn" and inner[1].text in UNIT_NAMES:
                return [("value", Quantity(float(inner[0].text or ""), unit(inner[1].text)))]
            return [("(", None), *(token for child in inner for token in self.tokens(child)), (")", None)]
        if element.tag == "mn":
            return [("value", Quantity(float(text)))]
        if element.tag == "mi":
            if element.get("mathvariant") == "normal":
                return [("value", Quantity(1.0, unit(text)))]
            if text in (*PLAIN, *ANGLED, "max", "min"):
                return [("word", text)]
            return [("value", Quantity(math.pi) if text == "π" else self.symbols[text])]
        if element.tag == "msub":
            return [("value", self.symbols[f"{element[0].text}_{element[1].text}"])]
        if element.tag == "mfrac":
            return [("value", self.row([element[0]]) / self.row([element[1]]))]  # type: ignore[operator]
        if element.tag == "msqrt":
            return [("value", self.row(list(element)) ** 0.5)]  # type: ignore[operator]
        if element.tag == "msup":
            exponent = self.row([element[1]])
            return [("value", self.row([element[0]]) ** float(exponent))]  # type: ignore[operator, arg-type]
        if element.tag == "mo":
            return [] if text == "\u2062" else [(text, None)]
        raise AssertionError(f"unknown element {element.tag}")

    def total(self, tokens: list[Token]) -> tuple[object, list[Token]]:
        turned = tokens[0][0] == "−"
        value, tokens = self.product(tokens[turned:])
        value = -value if turned else value  # type: ignore[operator]
        while tokens and tokens[0][0] in "+−":
            sign = tokens[0][0]
            term, tokens = self.product(tokens[1:])
            value = value + term if sign == "+" else value - term  # type: ignore[operator]
        return value, tokens

    def product(self, tokens: list[Token]) -> tuple[object, list[Token]]:
        value, tokens = self.atom(tokens)
        while tokens and tokens[0][0] in ("×", "value", "(", "word", "⌈", "⌊"):
            if tokens[0][0] == "×":
                tokens = tokens[1:]
            factor, tokens = self.atom(tokens)
            value = value * factor  # type: ignore[operator]
        return value, tokens

    def atom(self, tokens: list[Token]) -> tuple[object, list[Token]]:
        (kind, value), rest = tokens[0], tokens[1:]
        if kind == "value":
            return value, rest
        if kind == "(":
            inner, rest = self.total(rest)
            assert rest[0][0] == ")"
            return inner, rest[1:]
        if kind == "⌈":
            inner, rest = self.total(rest)
            assert rest[0][0] == "⌉"
            return Quantity(math.ceil(float(inner.to("").magnitude) - 1e-4)), rest[1:]  # type: ignore[attr-defined]
        if kind == "⌊":
            inner, rest = self.total(rest)
            assert rest[0][0] == "⌋"
            return Quantity(math.floor(float(inner.to("").magnitude) + 1e-4)), rest[1:]  # type: ignore[attr-defined]
        assert kind == "word", kind
        return self.call(str(value), rest)

    def call(self, word: str, tokens: list[Token]) -> tuple[object, list[Token]]:
        inside, tokens = enclosed(tokens)
        while inside[0][0] == "(" and not enclosed(inside)[1]:
            inside, _ = enclosed(inside)
        arguments = []
        while True:
            value, inside = self.total(inside)
            arguments.append(value)
            if not inside:
                break
            assert inside[0][0] == ","
            inside = inside[1:]
        if word in ("max", "min"):
            return {"max": max, "min": min}[word](arguments), tokens  # type: ignore[type-var]
        number = float(arguments[0].to("rad" if word in ANGLED else "").magnitude)  # type: ignore[attr-defined]
        return Quantity({**PLAIN, **ANGLED}[word](number)), tokens
