"""A pocket calculator for the MathML on our pages, written apart from what prints it.

It knows presentation MathML and units, nothing of the formulas: it reads a printed line as a reader
with a calculator would.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from xml.etree import ElementTree

import pint

UNITS = pint.UnitRegistry()
Quantity = UNITS.Quantity
SPELT = {"mm²": "mm**2", "mm³": "mm**3", "cm²": "cm**2", "in²": "in**2", "in³": "in**3", "g/m²": "g/m**2", "°": "deg"}
UNIT_NAMES = {"mm", "in", "mL", "g", "g/mL", "cm", *SPELT}
MATH = re.compile(r'<math display="block">.*?</math>')

Token = tuple[str, object]


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
                return [("value", Quantity(float(inner[0].text or ""), SPELT.get(inner[1].text, inner[1].text)))]
            return [("(", None), *(token for child in inner for token in self.tokens(child)), (")", None)]
        if element.tag == "mn":
            return [("value", Quantity(float(text)))]
        if element.tag == "mi":
            if text in ("cos", "sin", "max", "min"):
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
        value, tokens = self.product(tokens)
        while tokens and tokens[0][0] in "+−":
            sign = tokens[0][0]
            term, tokens = self.product(tokens[1:])
            value = value + term if sign == "+" else value - term  # type: ignore[operator]
        return value, tokens

    def product(self, tokens: list[Token]) -> tuple[object, list[Token]]:
        value, tokens = self.atom(tokens)
        while tokens and tokens[0][0] in ("×", "value", "(", "word", "⌈"):
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
        assert kind == "word", kind
        return self.call(str(value), rest)

    def call(self, word: str, tokens: list[Token]) -> tuple[object, list[Token]]:
        opened = 0
        while tokens[0][0] == "(":
            opened, tokens = opened + 1, tokens[1:]
        arguments = []
        value, tokens = self.total(tokens)
        arguments.append(value)
        while tokens[0][0] == ",":
            value, tokens = self.total(tokens[1:])
            arguments.append(value)
        for _ in range(opened):
            assert tokens[0][0] == ")"
            tokens = tokens[1:]
        if word in ("max", "min"):
            return {"max": max, "min": min}[word](arguments), tokens  # type: ignore[type-var]
        angle = float(arguments[0].to("rad").magnitude)  # type: ignore[attr-defined]
        return Quantity({"cos": math.cos, "sin": math.sin}[word](angle)), tokens
