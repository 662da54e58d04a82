"""The small expression that a formula is: a tree, read once from the function's own source.

A body is one `return` of one expression. What it may hold is checked when the function is defined. From the tree the
formula is printed in its author's order and brackets, for a reader in `notation.py`, for a live page by `javascript`.
"""

from __future__ import annotations

import ast
import linecache
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import FunctionType

from .errors import FormulaFault

HOUSE = Path(__file__).resolve().parents[1]

# Units that an empirical equation divides by, so that its constants stay those of its source:
# 125.4 * newton * G**1.5 * (D / mm) ** 0.75 * (L / mm). By the name used, how it is printed and what it is.
UNIT_WORDS = {
    "mm": ("mm", 1e-3, "m"),
    "metre": ("m", 1.0, "m"),
    "newton": ("N", 1.0, "N"),
    "watt": ("W", 1.0, "W"),
    "kilonewton": ("kN", 1e3, "N"),
    "MPa": ("MPa", 1e6, "Pa"),
    "kelvin": ("K", 1.0, "K"),
    "kilogram": ("kg", 1.0, "kg"),
    "minute": ("min", 60.0, "s"),
    "W_per_m_K": ("W/mK", 1.0, "W/(m*K)"),
    "kJ_per_kg_K": ("kJ/kgK", 1e3, "J/(kg*K)"),
}
# A whole-number step forgives binary noise, so that 2.0000000000000004 syringes are two.
WHOLE_NOISE = 1e-9
# The functions that a body may call, as JavaScript calls them. `min` and `max` take any number of values, others one.
WORDS = {
    **{
        word: f"Math.{word}({{}})" for word in ("sqrt", "sin", "cos", "tan", "asin", "tanh", "exp", "log", "min", "max")
    },
    "ceil": f"Math.ceil({{}}-{WHOLE_NOISE})",
    "floor": f"Math.floor({{}}+{WHOLE_NOISE})",
}
ANY_NUMBER = ("min", "max")


@dataclass(frozen=True)
class Number:
    """A number, as written."""

    value: float


@dataclass(frozen=True)
class Letter:
    """One of the function's parameters: a symbol of the trade."""

    name: str


@dataclass(frozen=True)
class Pi:
    """A circle's circumference by its diameter."""


@dataclass(frozen=True)
class Unit:
    """A unit word, by the name used."""

    name: str


@dataclass(frozen=True)
class Minus:
    """A value with its sign turned."""

    of: Node


@dataclass(frozen=True)
class Binary:
    """Two values, or in a rule two relations, with the sign between them as Python writes it."""

    sign: str
    left: Node
    right: Node


@dataclass(frozen=True)
class Call:
    """A function of one or more values."""

    word: str
    arguments: tuple[Node, ...]


Node = Number | Letter | Pi | Unit | Minus | Binary | Call

ARITHMETIC: dict[type[ast.AST], str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
RELATIONS: dict[type[ast.AST], str] = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
JOINED: dict[type[ast.AST], str] = {ast.BitAnd: "&", ast.BitOr: "|"}
# How tightly each sign binds, loosest first: in Python, in JavaScript and on paper alike.
_LOOSEST_FIRST = (("|",), ("&",), ("<", "<=", ">", ">="), ("+", "-"), ("*", "/"), ("**",))
BINDING = {sign: place for place, signs in enumerate(_LOOSEST_FIRST) for sign in signs}
SUM, ATOM = BINDING["+"], len(BINDING)


def binding(node: Node) -> int:
    """How tightly a node holds together beside a sign; a turned sign no more than a sum does."""
    if isinstance(node, Binary):
        return BINDING[node.sign]
    return SUM if isinstance(node, Minus) else ATOM


def is_sum(node: Node) -> bool:
    """Whether a node needs brackets beside a factor."""
    return binding(node) == SUM


# Reading


def read(function: FunctionType, parameters: Sequence[str], *, relation: bool) -> tuple[Node, str, str]:
    """A function's body as a tree, the place of its name, and the first line of what it says of itself: out of its
    source, for Python may run without. Raises FormulaFault at what a body may not hold.

    `relation` says that it is to be true or false, not a number.
    """
    code = function.__code__
    definition = _definitions(code.co_filename).get(code.co_firstlineno)
    if definition is None:
        raise FormulaFault(place(code.co_filename, code.co_firstlineno), "no source to read; define it in a file")
    reader = _Reader(code.co_filename, parameters)
    told = (ast.get_docstring(definition) or "").partition("\n")[0]
    return reader.body(definition, relation), place(code.co_filename, definition.lineno), told


def place(file: str, line: int) -> str:
    """file:line, the file named from the project's root."""
    path = Path(file)
    return f"{(path.relative_to(HOUSE) if path.is_relative_to(HOUSE) else path).as_posix()}:{line}"


@lru_cache(maxsize=1)  # a file's functions are defined one after the other, and its syntax tree is large
def _definitions(file: str) -> dict[int, ast.FunctionDef]:
    """Every function of a file by the line it begins on, its decorators with it."""
    tree = ast.parse("".join(linecache.getlines(file)))
    return {min([node.lineno, *(mark.lineno for mark in node.decorator_list)]): node for node in _functions(tree.body)}


def _functions(statements: Iterable[ast.stmt]) -> Iterator[ast.FunctionDef]:
    for node in statements:
        if isinstance(node, ast.FunctionDef):
            yield node
        yield from _functions(getattr(node, "body", ()))


class _Reader:
    def __init__(self, file: str, parameters: Sequence[str]):
        self.file = file
        self.parameters = parameters

    def refuse(self, node: ast.AST, right: str) -> FormulaFault:
        """The fault, at its line; `right` says what to write instead."""
        line = node.lineno if isinstance(node, (ast.expr, ast.stmt)) else 0
        return FormulaFault(place(self.file, line), f"'{ast.unparse(node)}' cannot stand in a formula; {right}")

    def body(self, definition: ast.FunctionDef, relation: bool) -> Node:
        statements = [one for one in definition.body if not _is_docstring(one)]
        match statements:
            case [ast.Return(ast.expr() as value)]:
                return self.expression(value, relation)
        wrong = next((one for one in statements if not isinstance(one, ast.Return)), definition.body[-1])
        raise self.refuse(wrong, "write one 'return' of one expression")

    def expression(self, node: ast.expr, relation: bool = False) -> Node:
        read = self.relation(node) if relation else self.number(node)
        if read is None:
            right = "write a relation, as a < b, or two of them in brackets joined by & or |"
            raise self.refuse(node, right if relation else "write a number of the parameters with + - * / **")
        return read

    def relation(self, node: ast.expr) -> Node | None:
        match node:
            case ast.Compare(left, [sign], [right]) if type(sign) in RELATIONS:
                return Binary(RELATIONS[type(sign)], self.expression(left), self.expression(right))
            case ast.BinOp(left, sign, right) if type(sign) in JOINED:
                return Binary(JOINED[type(sign)], self.expression(left, True), self.expression(right, True))
        return None

    def number(self, node: ast.expr) -> Node | None:
        match node:
            case ast.Constant(int() | float() as value) if not isinstance(value, bool):
                return Number(value)
            case ast.Name(name):
                return self.name(node, name)
            case ast.UnaryOp(ast.USub(), of):
                return Minus(self.expression(of))
            case ast.BinOp(left, sign, right) if type(sign) in ARITHMETIC:
                return Binary(ARITHMETIC[type(sign)], self.expression(left), self.expression(right))
            case ast.Call(ast.Name(word), arguments, []) if word in WORDS and word not in self.parameters:
                if len(arguments) != 1 and word not in ANY_NUMBER:
                    raise self.refuse(node, f"give '{word}' one value")
                return Call(word, tuple(self.expression(one) for one in arguments))
            case ast.Call():
                raise self.refuse(node, f"call only {', '.join(WORDS)}, by place")
        return None

    def name(self, node: ast.expr, name: str) -> Node:
        if name in self.parameters:
            return Letter(name)
        if name in UNIT_WORDS:
            return Unit(name)
        if name == "pi":
            return Pi()
        raise self.refuse(node, f"name a parameter, pi, or a unit: {', '.join(UNIT_WORDS)}")


def _is_docstring(statement: ast.stmt) -> bool:
    return isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)


# Writing


def operands(node: Binary) -> Iterator[tuple[Node, bool]]:
    """Both sides of a sign, and whether each needs brackets beside it to keep the author's order."""
    own, raised = BINDING[node.sign], node.sign == "**"
    yield node.left, binding(node.left) < own + raised
    yield node.right, binding(node.right) < own + (not raised) or isinstance(node.right, Minus)


def javascript(node: Node) -> str:
    """The same expression in JavaScript, worked in the same order to the same bits."""
    match node:
        case Number(value):
            return repr(value)
        case Letter(name):
            return name
        case Pi():
            return "Math.PI"
        case Unit(name):
            return repr(UNIT_WORDS[name][1])
        case Minus(of):
            return f"-{javascript(of)}" if binding(of) == ATOM else f"-({javascript(of)})"
        case Call(word, arguments):
            return WORDS[word].format(",".join(javascript(one) for one in arguments))
        case Binary(sign, _, _):
            sides = [f"({javascript(side)})" if apart else javascript(side) for side, apart in operands(node)]
            return {"&": "&&", "|": "||"}.get(sign, sign).join(sides)
