"""A drawing as a script: the plain Python that draws it, written as JavaScript.

The functions and classes that a drawing reaches are translated statement by statement from their own source, so the
drawing in the page is the drawing of the build, with every branch it has. The Python of `figures` is plain: functions,
dataclasses, comprehensions, no exceptions. What this module does not know it refuses, when the site is built.

How things are called: a function keeps its parameters in order; `*args` is one array, `**kwargs` one object.
"""

from __future__ import annotations

import ast
import dataclasses
import inspect
import json
import linecache
import math
import re
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence, Set
from functools import cache
from pathlib import Path
from string import Formatter
from types import ModuleType
from typing import Any

from ..figures import FIGURES, draw
from ..figures.drilling_aid import drilling_aid
from ..figures.qr_code import code_svg
from ..language import speaks, tr
from ..model.library import Library

ROOM = __name__.rpartition(".live.")[0] + ".figures"

# What Python has and JavaScript writes otherwise. A name is emitted only where it is used.
HELPERS = {
    "$list": 'x=>typeof x==="string"?[...x]:Array.isArray(x)?x:Object.keys(x)',
    "$true": 'x=>typeof x==="number"?x!==0:Array.isArray(x)?x.length>0:'
    "x?.constructor===Object?Object.keys(x).length>0:!!x",
    "$or": "(x,other)=>$true(x)?x:other()",
    "$and": "(x,other)=>$true(x)?other():x",
    "$add": "(x,y)=>Array.isArray(x)?[...x,...y]:x+y",
    # Lists are compared entry by entry; what has no order stops the drawing, as it does in Python.
    "$same": "(x,y)=>Array.isArray(x)&&Array.isArray(y)?x.length===y.length&&x.every((one,i)=>$same(one,y[i])):x===y",
    "$order": "(x,y)=>{if(Array.isArray(x)&&Array.isArray(y)){const i=x.findIndex((one,i)=>!$same(one,y[i]));"
    "return i<0||i>=y.length?x.length-y.length:$order(x[i],y[i])}"
    'if(typeof x!==typeof y||!["number","string"].includes(typeof x))throw TypeError("no order");'
    "return x<y?-1:x>y?1:x===y?0:NaN}",
    "$min": "(...x)=>x.reduce((a,b)=>$order(b,a)<0?b:a)",
    "$max": "(...x)=>x.reduce((a,b)=>$order(b,a)>0?b:a)",
    "$in": '(x,of)=>Array.isArray(of)?of.some(one=>$same(one,x)):typeof of==="string"?of.includes(x):x in of',
    "$get": "(of,key,other=null)=>of[key]??other",
    "$mod": "(x,y)=>x-y*Math.floor(x/y)",
    "$round": "x=>{const r=Math.round(x);return Math.abs(x%1)===.5&&r%2?r-1:r}",
    "$fixed": "(x,n)=>{const s=x*10**n;"
    "return Number.isInteger(x*8)&&Math.abs(s%1)===.5?($round(s)/10**n).toFixed(n):x.toFixed(n)}",
    "$sum": "x=>x.reduce((a,b)=>a+b,0)",
    "$len": "x=>$list(x).length",
    "$range": "(a,b)=>{const out=[];for(let i=b===undefined?0:a;i<(b===undefined?a:b);i++)out.push(i);return out}",
    "$enumerate": "(x,start=0)=>$list(x).map((one,i)=>[i+start,one])",
    "$zip": "(...all)=>{const lists=all.map($list);"
    "return lists.reduce((a,b)=>b.length<a.length?b:a).map((_,i)=>lists.map(one=>one[i]))}",
    "$pairwise": "x=>x.slice(1).map((one,i)=>[x[i],one])",
    "$product": "(x,y)=>x.flatMap(one=>y.map(other=>[one,other]))",
    "$sorted": "(x,key=one=>one)=>[...$list(x)].sort((a,b)=>$order(key(a),key(b)))",
    "$slice": "(x,from,to,step)=>{const out=[],n=x.length;if(step>0)for(let i=from??0;i<(to??n);i+=step)out.push(x[i]);"
    "else for(let i=from??n-1;i>(to??-1);i+=step)out.push(x[i]);return out}",
    "$partition": "(text,by)=>{const at=text.indexOf(by);"
    "return at<0?[text,'','']:[text.slice(0,at),by,text.slice(at+by.length)]}",
    "$rstrip": "(text,by)=>{while(text&&by.includes(text.at(-1)))text=text.slice(0,-1);return text}",
    "$capital": "text=>text.slice(0,1).toUpperCase()+text.slice(1).toLowerCase()",
    "$escape": 'text=>text.replaceAll("&","&amp;").replaceAll(">","&gt;").replaceAll("<","&lt;")',
    "$quote": "text=>'\"'+$escape(text).replaceAll('\"',\"&quot;\")+'\"'",
    # What a dataclass is made by: its own fields, filled where nothing is given.
    "$Data": "class{constructor(...given){const{fields,filled}=new.target;Object.assign(this,filled?.());"
    "fields.forEach((name,i)=>{if(given[i]!==undefined)this[name]=given[i]});this.__post_init__?.()}}",
    "$make": "(type,named)=>new type(...type.fields.map(name=>named[name]))",
    "$replace": "(one,changes)=>$make(one.constructor,{...one,...changes})",
}
# What stands in the page's script for a function of Python's own library.
GIVEN = {"escape": "$escape", "quoteattr": "$quote", "pairwise": "$pairwise", "product": "$product"}
MATH = {"sin", "cos", "tan", "asin", "acos", "atan", "atan2", "sqrt", "hypot", "exp", "log", "ceil", "floor"}
PLAIN_CALLS = {"abs", "float", "int", "len", "round", "str"}
METHODS = {
    "append": "push",
    "endswith": "endsWith",
    "startswith": "startsWith",
    "replace": "replaceAll",
    "lower": "toLowerCase",
    "split": "split",
    "strip": "trim",
}
OPERATORS: dict[type[ast.AST], str] = {
    ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Eq: "===", ast.NotEq: "!==", ast.Lt: "<", ast.LtE: "<=",
    ast.Gt: ">", ast.GtE: ">=", ast.Is: "===", ast.IsNot: "!==", ast.BitXor: "^", ast.BitAnd: "&", ast.BitOr: "|",
    ast.LShift: "<<", ast.RShift: ">>",
}  # fmt: skip
RESERVED = {
    "with",
    "in",
    "new",
    "var",
    "function",
    "this",
    "class",
    "const",
    "let",
    "export",
    "default",
    "delete",
    "void",
}
RESERVED |= {"typeof", "switch", "case", "do", "enum"}


class CannotTranslate(Exception):
    """A drawing uses Python that this module does not know: our own mistake, with file and line."""


def figures_script(library: Library, names: Sequence[str]) -> str:
    """Several drawings as one JavaScript expression, a list of their functions, which share what draws them."""
    if not names:
        return "[]"
    words = compact([library.drawings[name].model_dump() for name in names])
    draws = drawings().script(draw, *(FIGURES[name].place for name in names), each=True)
    return f"((draws,words)=>draws.map((draw,i)=>(...job)=>draw(words[i],...job)))({draws},{words})"


@cache
def code_script() -> str:
    """What draws the code of a card printed as set, as a plain script."""
    return f'"use strict";\nglobalThis.bondwrightCode={Code().script(code_svg)};\n'


def aid_script() -> str:
    """What draws a drilling aid for a card as set, as a plain script, in the language that is spoken."""
    return _aid_script(speaks())


@cache
def _aid_script(_language: str) -> str:
    return f'"use strict";\nglobalThis.bondwrightAid={Code().script(drilling_aid)};\n'


@cache
def drawings() -> Code:
    """What all drawings are drawn by, each function translated once."""
    return Code()


@dataclasses.dataclass
class Piece:
    """A constant, a function or a class by its name. The methods of a class stand apart, each with its own name.
    `above` counts the classes that it is made out of."""

    name: str
    text: str
    methods: dict[str, str] = dataclasses.field(default_factory=dict)
    above: int = 0

    def called(self, names: Set[str]) -> list[str]:
        """Its methods that are ever called."""
        always = ("__init__", "__post_init__")
        return [text for name, text in self.methods.items() if name in always or f".{name}" in names]

    def written(self, names: Set[str]) -> str:
        """Its text, of a class with the methods that are ever called."""
        called = self.called(names)
        return f"{self.text[:-1]};{';'.join(called)}}}" if called else self.text


@cache
def names_in(text: str) -> frozenset[str]:
    """The names in a piece of JavaScript, those of members with their point."""
    return frozenset(re.findall(r"\.?[\w$]+", text))


def mentions(names: Set[str], name: str) -> bool:
    """Whether a name is among these."""
    return name in names or f".{name}" in names  # `...name` spreads it out


def needed(pieces: Sequence[Piece], entry: str) -> tuple[list[str], Set[str]]:
    """What is reached from the entry: of the pieces those that are named, of their methods those that are called; and
    all names in it."""
    names, read, ahead = set[str](), set[str](), {entry}
    while ahead:
        read |= ahead
        names.update(*map(names_in, ahead))
        plain = {name.removeprefix(".") for name in names}  # `...name` spreads it out
        reached = [piece for piece in pieces if piece.name in plain]
        ahead = {text for piece in reached for text in (piece.text, *piece.called(names))} - read
    in_order = sorted(reached, key=lambda piece: (piece.above, piece.name))
    return [piece.written(names) for piece in in_order], names


class Code:
    """Everything that drawings reach, each once. What a script has of it stands in alphabetical order, a class behind
    those that it is made out of: no script tells what was translated before it."""

    def __init__(self) -> None:
        self.made: list[Piece] = []
        self.names: dict[Any, str] = {}
        self.methods: dict[str, ast.arguments] = {}

    def script(self, function: Callable[..., Any], *first: Callable[..., Any], each: bool = False) -> str:
        """A JavaScript expression that yields the function; `first` are functions that it is always called with. With
        `each` it yields a list: the function for each one of them."""
        entry, bound = self.global_name(function), [self.global_name(one) for one in first]
        calls = bound if each else [",".join(bound)] if bound else []
        given = [f"(...given)=>{entry}({call},...given)" for call in calls]
        entry = f"[{','.join(given)}]" if each else given[0] if given else entry
        pieces, names = needed(self.made, entry)
        body = "\n".join(pieces)
        used = [helper for helper in HELPERS if mentions(names, helper)]
        for helper in used:
            within = names_in(HELPERS[helper])
            used += [other for other in HELPERS if mentions(within, other) and other not in used]
        helpers = "".join(f"const {helper}={HELPERS[helper]};\n" for helper in HELPERS if helper in used)
        return f"(()=>{{\n{helpers}{body}\nreturn {entry}}})()"

    def global_name(self, thing: Callable[..., Any]) -> str:
        """The JavaScript name of a function or class; translates it where it is new."""
        key = (thing.__module__, thing.__name__)
        if key not in self.names:
            self.names[key] = own_name(sys.modules[thing.__module__], thing.__name__)
            tree = tree_of(thing)
            module = sys.modules[thing.__module__]
            if isinstance(tree, ast.ClassDef):
                assert isinstance(thing, type)
                self.made.append(self._class(thing, tree, module))
            else:
                writer = Writer(self, module)
                self.made.append(Piece(self.names[key], f"const {self.names[key]}={writer.function(tree)};"))
        return self.names[key]

    def constant(self, module: ModuleType, name: str) -> str:
        """A constant of a module."""
        key = (module.__name__, name)
        if key not in self.names:
            self.names[key] = own_name(module, name)
            text = compact(getattr(module, name))
            self.made.append(Piece(self.names[key], f"const {self.names[key]}={text};"))
        return self.names[key]

    def learn(self, tree: ast.ClassDef) -> None:
        """Remember how the methods of a class are called."""
        for node in tree.body:
            if isinstance(node, ast.FunctionDef):
                self.methods.setdefault(node.name, node.args)

    def _class(self, thing: type, tree: ast.ClassDef, module: ModuleType) -> Piece:
        self.learn(tree)
        base, parts = thing.__mro__[1], []
        extends = "" if base is object else f" extends {self.global_name(base)}"
        if dataclasses.is_dataclass(thing):
            extends = extends or " extends $Data"
            fields = dataclasses.fields(thing)
            parts.append(f"static fields={compact([one.name for one in fields])}")
            if filled := [f"{one.name}:{default}" for one in fields if (default := default_of(one))]:
                parts.append(f"static filled=()=>({{{','.join(filled)}}})")
        writer = Writer(self, module)
        methods = {node.name: writer.method(node) for node in tree.body if isinstance(node, ast.FunctionDef)}
        name = self.names[(thing.__module__, thing.__name__)]
        return Piece(name, f"class {name}{extends}{{{';'.join(parts)}}}", methods, len(thing.__mro__))


@cache
def own_name(module: ModuleType, name: str) -> str:
    """A name that nothing local has, nor another module's thing: they are told apart by their modules' places."""
    return f"{name}${modules_in(Path(module.__file__ or '').parent).index(module.__name__.rpartition('.')[2])}"


@cache
def modules_in(folder: Path) -> list[str]:
    """The modules of a folder in alphabetical order."""
    return sorted(file.stem for file in folder.glob("*.py"))


def tree_of(thing: Callable[..., Any]) -> ast.FunctionDef | ast.ClassDef:
    """The source of a function or class as a tree."""
    return trees(sys.modules[thing.__module__])[thing.__name__]


@cache
def trees(module: ModuleType) -> dict[str, ast.FunctionDef | ast.ClassDef]:
    """The functions and classes of a module by name."""
    parts = ast.parse(inspect.getsource(module)).body
    return {part.name: part for part in parts if isinstance(part, (ast.FunctionDef, ast.ClassDef))}


def translate(names: Iterable[str]) -> None:
    """Have drawings translated in one go, before anything else is made that takes room."""
    drawings().global_name(draw)
    for name in names:
        drawings().global_name(FIGURES[name].place)
    forget_sources()


def forget_sources() -> None:
    """Let go of the trees and of their sources, which are large: what was written of them stays."""
    trees.cache_clear()
    linecache.clearcache()


def default_of(one: dataclasses.Field[Any]) -> str:
    """A field's default as JavaScript writes it."""
    if one.default is not dataclasses.MISSING:
        return compact(one.default)
    return "[]" if one.default_factory is list else "{}" if one.default_factory is dict else ""


def compact(data: object) -> str:
    """Data as JavaScript, without a space or a zero that it does not need."""
    return json.dumps(whole_numbers(data), ensure_ascii=False, separators=(",", ":"))


def whole_numbers(data: object) -> object:
    """Data whose whole numbers have no point."""
    match data:
        case float() if data.is_integer():
            return int(data)
        case dict():
            return {key: whole_numbers(value) for key, value in data.items()}
        case list() | tuple():
            return [whole_numbers(value) for value in data]
    return data


def safe(name: str) -> str:
    """A name that JavaScript allows."""
    return f"{name}_" if name in RESERVED else name


class Writer:
    """Writes one function; knows which of its names are local."""

    def __init__(self, code: Code, module: ModuleType):
        self.code = code
        self.module = module
        self.locals: list[set[str]] = []
        self.inner: dict[str, ast.FunctionDef] = {}
        self.yields: list[bool] = []
        self.declaring: set[ast.stmt] = set()

    def refuse(self, node: ast.AST) -> CannotTranslate:
        """The error for what cannot be translated."""
        file = self.module.__name__.replace(".", "/")
        return CannotTranslate(f"{file}.py:{getattr(node, 'lineno', 0)}: {ast.unparse(node)[:120]}")

    # Functions

    def function(self, node: ast.FunctionDef) -> str:
        """A function as an arrow function."""
        return f"({self.parameters(node.args)})=>{{{self.body(node)}}}"

    def method(self, node: ast.FunctionDef) -> str:
        """A method, or a property as a getter."""
        marks = {ast.unparse(mark) for mark in node.decorator_list}
        special = node.name.startswith("__") and node.name not in ("__init__", "__post_init__")
        if marks - {"property"} or special:
            raise self.refuse(node)
        own = ast.arguments([], node.args.args[1:], node.args.vararg, node.args.kwonlyargs, node.args.kw_defaults,
                            node.args.kwarg, node.args.defaults)  # fmt: skip
        name = "constructor" if node.name == "__init__" else node.name
        kind = "get " if "property" in marks else ""
        return f"{kind}{name}({self.parameters(own)}){{{self.body(node)}}}"

    def parameters(self, args: ast.arguments) -> str:
        """Parameters with their defaults."""
        plain = [*args.posonlyargs, *args.args]
        defaults: list[ast.expr | None] = [*[None] * (len(plain) - len(args.defaults)), *args.defaults]
        written = [safe(one.arg) + self.given(default) for one, default in zip(plain, defaults, strict=True)]
        if args.vararg:
            written.append(f"{safe(args.vararg.arg)}=[]")
        written += [
            safe(one.arg) + self.given(default) for one, default in zip(args.kwonlyargs, args.kw_defaults, strict=True)
        ]
        if args.kwarg:
            written.append(f"{safe(args.kwarg.arg)}={{}}")
        return ",".join(written)

    def given(self, default: ast.expr | None) -> str:
        """A default."""
        return f"={self.expression(default)}" if default else ""

    def body(self, node: ast.FunctionDef) -> str:
        """Statements, with the function's own names declared where they are first set, or else at its head."""
        args = node.args
        names = {one.arg for one in (*args.posonlyargs, *args.args, *args.kwonlyargs, args.vararg, args.kwarg) if one}
        assigned, at_head, makes = set[str](), set[str](), False
        for part in node.body:
            nodes = [*own_nodes([part])]
            makes = makes or any(isinstance(node, (ast.Yield, ast.YieldFrom)) for node in nodes)
            stored = stored_names(nodes) - names - assigned
            if isinstance(part, (ast.Assign, ast.AnnAssign)) and stored == set(target_names(part)):
                self.declaring.add(part)
            else:
                at_head |= stored
            assigned |= stored
        inner = {part.name: part for part in node.body if isinstance(part, ast.FunctionDef)}
        self.inner |= inner
        self.locals.append(names | assigned | set(inner))
        self.yields.append(makes)
        text = "".join(self.statement(one) for one in node.body)
        self.yields.pop()
        self.locals.pop()
        declared = ",".join(safe(name) for name in sorted(at_head))
        head = f"let {declared};" if declared else ""
        return f"const $y=[];{head}{text}return $y" if makes else (head + text).removesuffix(";")

    # Statements

    def statement(self, node: ast.stmt) -> str:
        """One statement."""
        match node:
            case ast.Expr(ast.Constant()):
                return ""
            case ast.Expr(ast.Yield(value)) if value:
                return f"$y.push({self.expression(value)});"
            case ast.Expr(ast.YieldFrom(value)):
                return f"$y.push(...{self.expression(value)});"
            case ast.Expr(value):
                return f"{self.expression(value)};"
            case ast.Return(value):
                return "return $y;" if self.yields[-1] else f"return {self.whole(value) if value else 'null'};"
            case ast.Assign([target], value):
                return self.assignment(node, target, value)
            case ast.AnnAssign(target, _, value) if value:
                return self.assignment(node, target, value)
            case ast.AugAssign(target, operator, value):
                whole = ast.BinOp(as_load(target), operator, value)
                return f"{self.target(target)}={self.expression(whole)};"
            case ast.If(test, body, other):
                text = f"if({self.test(test)}){{{self.block(body)}}}"
                return text + (f"else{{{self.block(other)}}}" if other else "")
            case ast.For(target, over, body, []):
                return f"for({self.target(target)} of {self.iterable(over)}){{{self.block(body)}}}"
            case ast.While(test, body, []):
                return f"while({self.test(test)}){{{self.block(body)}}}"
            case ast.FunctionDef():
                return f"const {safe(node.name)}={self.function(node)};"
            case ast.Break():
                return "break;"
            case ast.Continue():
                return "continue;"
            case ast.Pass():
                return ""
            case ast.Raise(ast.Call(_, [message], [])):
                return f"throw Error({self.expression(message)});"
        raise self.refuse(node)

    def block(self, body: Sequence[ast.stmt]) -> str:
        """Statements."""
        return "".join(self.statement(one) for one in body)

    def assignment(self, node: ast.stmt, target: ast.expr, value: ast.expr) -> str:
        """What is set, declared here where it is new."""
        return f"{'let ' if node in self.declaring else ''}{self.target(target)}={self.whole(value)};"

    def target(self, node: ast.expr) -> str:
        """What is assigned to."""
        if isinstance(node, (ast.Tuple, ast.List)):
            return f"[{','.join(self.target(one) for one in node.elts)}]"
        if isinstance(node, ast.Starred):
            return f"...{self.target(node.value)}"
        if isinstance(node, ast.Name):
            return safe(node.id)
        if isinstance(node, ast.Subscript) and isinstance(node.slice, ast.UnaryOp):
            owner = self.expression(node.value)
            return f"{owner}[{owner}.length{self.expression(node.slice).strip('()')}]"
        if isinstance(node, (ast.Attribute, ast.Subscript)):
            return self.expression(node)
        raise self.refuse(node)

    # Expressions

    def test(self, node: ast.expr) -> str:
        """An expression that only decides."""
        if isinstance(node, ast.BoolOp):
            sign = "&&" if isinstance(node.op, ast.And) else "||"
            return "(" + sign.join(self.test(one) for one in node.values) + ")"
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            return f"!{self.test(node.operand)}"
        if isinstance(node, ast.Compare) or (isinstance(node, ast.Call) and ast.unparse(node.func) == "isinstance"):
            return self.expression(node)
        return f"$true({self.expression(node)})"

    def iterable(self, node: ast.expr) -> str:
        """An expression that is run through: an array in JavaScript."""
        text = self.expression(node)
        sure = isinstance(node, (ast.List, ast.Tuple, ast.ListComp, ast.GeneratorExp)) or text.startswith(
            ("$range(", "$enumerate(", "$zip(", "Object.entries(", "$sorted(", "$pairwise(", "$product(")
        )
        return text if sure else f"$list({text})"

    def expression(self, node: ast.expr) -> str:
        """One expression."""
        match node:
            case ast.Constant(value):
                return compact(value)
            case ast.Name(name):
                return self.name(name)
            case ast.Attribute(ast.Name(owner), attr) if self.is_module(owner):
                return self.member(getattr(self.module, owner), attr)
            case ast.Attribute(value, attr):
                return f"{self.expression(value)}.{attr}"
            case ast.Subscript(value, ast.Slice(lower, upper, step)):
                ends = [self.expression(one) if one else "undefined" for one in (lower, upper)]
                if step:
                    return f"$slice({self.expression(value)},{ends[0]},{ends[1]},{self.expression(step)})"
                return f"{self.expression(value)}.slice({','.join(ends)})"
            case ast.Subscript(value, ast.UnaryOp(ast.USub(), ast.Constant(place))):
                return f"{self.expression(value)}.at(-{place!r})"
            case ast.Subscript(value, key):
                return f"{self.expression(value)}[{self.whole(key)}]"
            case ast.List(elements) | ast.Tuple(elements):
                return f"[{','.join(self.whole(one) for one in elements)}]"
            case ast.Starred(value):
                return f"...{self.iterable(value)}"
            case ast.Dict(keys, values):
                return self.dictionary(keys, values)
            case ast.UnaryOp(ast.Not(), _) | ast.Compare(_, [ast.In()], _) | ast.Compare():
                return self.comparison(node)
            case ast.UnaryOp(operator, value):
                return f"({'-' if isinstance(operator, ast.USub) else '+'}{self.expression(value)})"
            case ast.BinOp():
                return self.sum(node)
            case ast.BoolOp(operator, values):
                text = self.expression(values[-1])
                for value in reversed(values[:-1]):
                    text = f"{'$and' if isinstance(operator, ast.And) else '$or'}({self.expression(value)},()=>{text})"
                return text
            case ast.IfExp(test, one, other):
                return f"({self.test(test)}?{self.whole(one)}:{self.whole(other)})"
            case ast.JoinedStr(values):
                return "`" + "".join(self.stretch(one) for one in values) + "`"
            case ast.ListComp(element, over) | ast.GeneratorExp(element, over):
                return self.comprehension(lambda: self.expression(element), over)
            case ast.DictComp(key, value, over):
                pair = ast.List([key, value], ast.Load())
                return f"Object.fromEntries({self.comprehension(lambda: self.expression(pair), over)})"
            case ast.Lambda(args, body):
                self.locals.append({one.arg for one in args.args})
                text = f"(({self.parameters(args)})=>{self.expression(body)})"
                self.locals.pop()
                return text
            case ast.Call():
                return self.call(node)
        raise self.refuse(node)

    def whole(self, node: ast.expr) -> str:
        """An expression that stands alone, without the brackets that it needs in another."""
        return without_brackets(node, self.expression(node))

    def name(self, name: str) -> str:
        """A name: local, of this module, or one that Python has."""
        if name == "self":
            return "this"
        if any(name in scope for scope in self.locals):
            return safe(name)
        if hasattr(self.module, name):
            return self.member(self.module, name)
        if name in ("str", "float"):
            return {"str": "String", "float": "Number"}[name]
        raise CannotTranslate(f"{self.module.__name__}: unknown name {name}")

    def member(self, module: ModuleType, name: str) -> str:
        """A function, class or constant of a module."""
        thing = getattr(module, name)
        if inspect.isfunction(inspect.unwrap(thing)) or inspect.isclass(thing):  # what is remembered, too
            if thing.__module__.startswith(ROOM):
                return self.code.global_name(thing)
            if name not in GIVEN:
                raise CannotTranslate(f"{self.module.__name__}: {name} of {thing.__module__} has no JavaScript here")
            return GIVEN[name]
        if inspect.isbuiltin(thing) and name in MATH:
            return f"Math.{name}"
        if thing is math.isfinite:
            return "Number.isFinite"
        if name == "pi":
            return "Math.PI"
        return self.code.constant(module, name)

    def is_module(self, name: str) -> bool:
        """Whether a name stands for a module here."""
        return isinstance(getattr(self.module, name, None), ModuleType) and not any(
            name in scope for scope in self.locals
        )

    def dictionary(self, keys: Sequence[ast.expr | None], values: Sequence[ast.expr]) -> str:
        """A dictionary with the keys of others taken in.

        One made of the working's values goes on asking them, so that a refused one is not lost in a copy.
        """
        if keys and keys[0] is None and isinstance(values[0], ast.Name) and values[0].id == "values":
            return f"Object.assign(Object.create(values),{self.dictionary(keys[1:], values[1:])})"
        pairs = [
            f"{self.key(key)}:{self.whole(value)}" if key else f"...{self.expression(value)}"
            for key, value in zip(keys, values, strict=True)
        ]
        return f"{{{','.join(pairs)}}}"

    def key(self, node: ast.expr) -> str:
        """The key of an entry."""
        text = self.expression(node)
        return text if isinstance(node, ast.Constant) and isinstance(node.value, str) else f"[{text}]"

    def comparison(self, node: ast.expr) -> str:
        """A comparison, or a chain of them."""
        if isinstance(node, ast.UnaryOp):
            return f"!{self.test(node.operand)}"
        assert isinstance(node, ast.Compare)
        sides = [node.left, *node.comparators]
        tests = []
        for operator, one, other in zip(node.ops, sides, sides[1:], strict=False):
            left, right = self.expression(one), self.expression(other)
            if isinstance(operator, (ast.In, ast.NotIn)):
                tests.append(f"{'!' if isinstance(operator, ast.NotIn) else ''}$in({left},{right})")
            else:
                tests.append(self.compared(operator, (one, left), (other, right)))
        return f"({'&&'.join(tests)})"

    def compared(self, operator: ast.cmpop, left: tuple[ast.expr, str], right: tuple[ast.expr, str]) -> str:
        """Two sides beside each other. Where neither is sure to be plain they may be lists, which a helper compares."""
        sign = OPERATORS[type(operator)]
        if isinstance(operator, (ast.Is, ast.IsNot)) or is_plain(left[0]) or is_plain(right[0]):
            return f"{left[1]}{sign}{right[1]}"
        if isinstance(operator, (ast.Eq, ast.NotEq)):
            return f"{'!' if isinstance(operator, ast.NotEq) else ''}$same({left[1]},{right[1]})"
        return f"$order({left[1]},{right[1]}){sign}0"

    def sum(self, node: ast.BinOp) -> str:
        """Arithmetic. A sum whose sides may be lists is left to a helper."""
        left, right = self.expression(node.left), self.expression(node.right)
        match node.op:
            case ast.Add() if is_plain(node.left) or is_plain(node.right):
                return f"({left}+{right})"
            case ast.Add():
                return f"$add({without_brackets(node.left, left)},{without_brackets(node.right, right)})"
            case _ if is_sequence(node.left) or is_sequence(node.right):  # repeated, or put into a template
                raise self.refuse(node)
            case ast.Pow():
                return f"Math.pow({left},{right})"
            case ast.Mod():
                return f"$mod({left},{right})"
            case ast.FloorDiv():
                return f"Math.floor({left}/{right})"
            case _ if type(node.op) in OPERATORS:
                return f"({left}{OPERATORS[type(node.op)]}{right})"
        raise self.refuse(node)

    def stretch(self, node: ast.expr) -> str:
        """A piece of a template."""
        if isinstance(node, ast.Constant):
            text = node.value if isinstance(node.value, str) else ""
            return text.replace("\\", "\\\\").replace("`", "\\`").replace("${", "\\${")
        assert isinstance(node, ast.FormattedValue)
        text = self.whole(node.value)
        if node.format_spec is None:
            return "${" + text + "}"
        spec = ast.unparse(node.format_spec)
        places = spec.strip("f'\"").removeprefix(".").removesuffix("f")
        if not places.isdigit():
            raise self.refuse(node)
        return "${$fixed(" + text + f",{places})" + "}"

    def comprehension(self, element: Callable[[], str], over: Sequence[ast.comprehension]) -> str:
        """One array out of others."""
        first, rest = over[0], over[1:]
        source = self.iterable(first.iter)
        self.locals.append({one.id for one in ast.walk(first.target) if isinstance(one, ast.Name)})
        pattern = self.target(first.target)
        for test in first.ifs:
            source += f".filter(({pattern})=>{self.test(test)})"
        inner = self.comprehension(element, rest) if rest else element()
        self.locals.pop()
        inner = f"({inner})" if inner.startswith("{") else inner
        return f"{source}.{'flatMap' if rest else 'map'}(({pattern})=>{inner})"

    # Calls

    def call(self, node: ast.Call) -> str:
        """A call of ours, of the standard library, or of a local name."""
        function = node.func
        if isinstance(function, ast.Attribute):
            if isinstance(function.value, ast.Call) and ast.unparse(function.value) == "super()":
                return f"super.{function.attr}({self.arguments(node, self.code.methods[function.attr], 1)})"
            if isinstance(function.value, ast.Name) and self.is_module(function.value.id):
                return self.call_known(
                    node, getattr(getattr(self.module, function.value.id), function.attr), self.expression(function)
                )
            owner = function.value.id if isinstance(function.value, ast.Name) else ""
            if inspect.isclass(getattr(self.module, owner, None)) and not any(owner in scope for scope in self.locals):
                return self.call_of_class(node, function)
            return self.call_method(node, function)
        if isinstance(function, ast.Name):
            if any(function.id in scope for scope in self.locals):
                own = self.inner.get(function.id)
                arguments = self.arguments(node, own.args, 0) if own else self.plain(node)
                return f"{safe(function.id)}({arguments})"
            if hasattr(self.module, function.id):
                return self.call_known(node, getattr(self.module, function.id), "")
            return self.call_builtin(node, function.id)
        return f"{self.expression(function)}({self.plain(node)})"

    def call_known(self, node: ast.Call, thing: Any, text: str) -> str:
        """A call of a function or class whose definition is known."""
        if getattr(thing, "__name__", "") == "replace" and thing.__module__ == "dataclasses":
            changes = self.named(node.keywords)
            return f"$replace({self.expression(node.args[0])},{changes})"
        if thing is tr:
            return self.expression(_with_values(node))
        if getattr(thing, "__name__", "") == "radians":
            return f"({self.expression(node.args[0])}*Math.PI/180)"
        text = text or self.expression(node.func)
        if not getattr(thing, "__module__", "").startswith(ROOM):
            return f"{text}({self.plain(node)})"
        if isinstance(thing, type):
            if any(keyword.arg is None for keyword in node.keywords):
                return f"$make({text},{self.named(node.keywords)})"
            if dataclasses.is_dataclass(thing):
                names = [one.name for one in dataclasses.fields(thing)]
                args = ast.arguments([], [ast.arg(name) for name in names], None, [], [], None, [])
                return f"new {text}({self.arguments(node, args, 0)})"
            tree = tree_of(thing)
            begin = next(one for one in tree.body if isinstance(one, ast.FunctionDef) and one.name == "__init__")
            return f"new {text}({self.arguments(node, begin.args, 1)})"
        tree = tree_of(thing)
        assert isinstance(tree, ast.FunctionDef)
        return f"{text}({self.arguments(node, tree.args, 0)})"

    def call_of_class(self, node: ast.Call, function: ast.Attribute) -> str:
        """A class's own method called with the object ahead, as `Scene.area(self, ...)`."""
        owner = self.expression(function.value)
        known = self.method_of(function.attr)
        if known is None or not node.args:
            raise self.refuse(node)
        rest = ast.Call(node.func, node.args[1:], node.keywords)
        given = self.arguments(rest, known, 1)
        return f"{owner}.prototype.{function.attr}.call({self.expression(node.args[0])},{given})"

    def call_method(self, node: ast.Call, function: ast.Attribute) -> str:
        """A method: of our classes by its name, else one of Python's own."""
        owner, name = self.expression(function.value), function.attr
        known = self.method_of(name)
        if known and name != "replace":
            return f"{owner}.{name}({self.arguments(node, known, 1)})"
        arguments = self.plain(node)
        match name:
            case "join":
                return f"{self.iterable(node.args[0])}.join({owner})"
            case "items":
                return f"Object.entries({owner})"
            case "get":
                return f"$get({owner},{arguments})"
            case "partition" | "rstrip":
                return f"${name}({owner},{arguments})"
            case "capitalize":
                return f"$capital({owner})"
            case _ if name in METHODS:
                return f"{owner}.{METHODS[name]}({arguments})"
        if not node.keywords and not any(hasattr(kind, name) for kind in (str, list, dict)):
            # A field that holds a function.
            return f"{owner}.{name}({arguments})"
        raise self.refuse(node)

    def method_of(self, name: str) -> ast.arguments | None:
        """How a method of that name is defined, in the classes of this module and of those translated so far."""
        if name not in self.code.methods:
            for thing in vars(self.module).values():
                if inspect.isclass(thing) and thing.__module__.startswith(ROOM) and name in vars(thing):
                    self.code.learn(tree_of(thing))  # type: ignore[arg-type]
        return self.code.methods.get(name)

    def call_builtin(self, node: ast.Call, name: str) -> str:
        """One of Python's own functions."""
        arguments = [self.whole(one) for one in node.args]
        keywords = {keyword.arg: self.expression(keyword.value) for keyword in node.keywords}
        if name == "zip":
            keywords.pop("strict", None)
        if name == "sorted" and "key" in keywords:
            arguments.append(keywords.pop("key"))
        if keywords:
            raise self.refuse(node)
        match name, arguments:
            case (("min" | "max"), [one]) if not one.startswith("..."):
                return f"${name}(...{self.iterable(node.args[0])})"
            case (("min" | "max"), _):
                return f"${name}({','.join(arguments)})"
            case "abs", [one]:
                return f"Math.abs({one})"
            case "reversed", [_]:
                return f"[...{self.iterable(node.args[0])}].reverse()"
            case (("list" | "tuple"), [_]):
                return f"[...{self.iterable(node.args[0])}]"
            case "isinstance", [one, _]:
                kind = node.args[1]
                return (
                    f'(typeof {self.expression(node.args[0])}==="string")'
                    if ast.unparse(kind) == "str"
                    else f"({self.expression(node.args[0])} instanceof {self.expression(kind)})"
                )
            case (("str" | "float"), [one]):
                return f"{self.name(name)}({one})"
            case "int", [one]:
                return f"Math.trunc({one})"
            case (("round" | "sum"), [_, _]) | ("range", [_, _, _]):
                raise self.refuse(node)
            case _ if f"${name}" in HELPERS:
                return f"${name}({','.join(arguments)})"
        raise self.refuse(node)

    def plain(self, node: ast.Call) -> str:
        """Arguments by place only."""
        if node.keywords:
            raise self.refuse(node)
        return ",".join(self.whole(one) for one in node.args)

    def named(self, keywords: Sequence[ast.keyword]) -> str:
        """Arguments by name as an object."""
        pairs = [
            f"{json.dumps(one.arg)}:{self.whole(one.value)}" if one.arg else f"...{self.expression(one.value)}"
            for one in keywords
        ]
        return f"{{{','.join(pairs)}}}"

    def arguments(self, node: ast.Call, args: ast.arguments, skip: int) -> str:
        """Arguments in the order of the parameters; what is left out at the end stays out."""
        names = [one.arg for one in (*args.posonlyargs, *args.args)][skip:]
        given = [self.whole(one) for one in node.args]
        slots = [*given[: len(names)], f"[{','.join(given[len(names) :])}]"] if args.vararg else given
        if not args.vararg and any(one.startswith("...") for one in given) and node.keywords:
            raise self.refuse(node)
        order = [*names, *([args.vararg.arg] if args.vararg else []), *(one.arg for one in args.kwonlyargs)]
        by_name = {one.arg: self.whole(one.value) for one in node.keywords if one.arg in order}
        rest = [one for one in node.keywords if one.arg not in order]
        for place, name in enumerate(order):
            if name in by_name:
                slots += ["undefined"] * (place + 1 - len(slots))
                slots[place] = by_name[name]
        if rest:
            if not args.kwarg:
                raise self.refuse(node)
            slots += ["undefined"] * (len(order) - len(slots)) + [self.named(rest)]
        return ",".join(slots)


def stored_names(parts: Iterable[ast.AST]) -> set[str]:
    """The names that these nodes set."""
    return {part.id for part in parts if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Store)}


def target_names(node: ast.Assign | ast.AnnAssign) -> list[str]:
    """What an assignment sets, as it stands: names, or places in something else."""
    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
    return [
        ast.unparse(one) for target in targets for one in (target.elts if isinstance(target, ast.Tuple) else [target])
    ]


def own_nodes(body: Sequence[ast.stmt]) -> Iterator[ast.AST]:
    """The nodes of some statements without those of the functions and comprehensions in them."""
    ahead: list[ast.AST] = list(body)
    while ahead:
        part = ahead.pop()
        yield part
        if isinstance(part, (ast.FunctionDef, ast.Lambda)):
            continue
        if isinstance(part, (ast.ListComp, ast.GeneratorExp, ast.DictComp)):
            continue
        ahead += ast.iter_child_nodes(part)


def as_load(node: ast.expr) -> ast.expr:
    """What is assigned to, as what is read."""
    loaded = ast.parse(ast.unparse(node), mode="eval").body
    assert isinstance(loaded, ast.expr)
    return loaded


def without_brackets(node: ast.expr, text: str) -> str:
    """An expression as it is written where it stands alone."""
    bracketed = isinstance(node, (ast.BinOp, ast.UnaryOp, ast.Compare, ast.IfExp)) and text.startswith("(")
    return text[1:-1] if bracketed else text


def is_sequence(node: ast.expr) -> bool:
    """Whether an expression is a text or a list as it stands."""
    text = isinstance(node, ast.Constant) and isinstance(node.value, str)
    return text or isinstance(node, (ast.List, ast.Tuple, ast.JoinedStr))


def _with_values(call: ast.Call) -> ast.expr:
    """A call of `tr` as the text itself, in the language that is spoken, with the values where they stand in it."""
    text = call.args[0]
    assert isinstance(text, ast.Constant)
    said = tr(str(text.value))
    given = {one.arg: one.value for one in call.keywords}
    parts: list[ast.expr] = []
    for words, name, form, _ in Formatter().parse(said):
        parts += [ast.Constant(words)] if words else []
        if name:
            value = given[name] if name in given else ast.Subscript(given[None], ast.Constant(name), ast.Load())
            parts.append(ast.FormattedValue(value, -1, ast.JoinedStr([ast.Constant(form)]) if form else None))
    return ast.JoinedStr(parts) if call.keywords else ast.Constant(said)


def is_plain(node: ast.expr) -> bool:
    """Whether an expression cannot be a list: a number, a product, a difference, a text."""
    if isinstance(node, ast.BinOp):
        return not isinstance(node.op, ast.Add) or is_plain(node.left) or is_plain(node.right)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return node.func.id in PLAIN_CALLS
    return isinstance(node, (ast.UnaryOp, ast.JoinedStr, ast.Constant))
