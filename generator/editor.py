"""What helps whoever writes a card: the drawings there are with the values that each needs, and the shape of each kind
of file as a JSON Schema, by which an editor completes and checks while one types."""

from __future__ import annotations

import ast
import inspect
import json
import sys
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from .errors import WorkingError
from .figures import FIGURES
from .figures.faults import drawing_names, values
from .figures.words import Words
from .formula import FORMULARY
from .model.jobsheet import JobSheet
from .model.library import SPECIAL, Library
from .model.own_shop import OwnShop
from .model.schema import NOTE, SHARED_IN, Card, Shared, Strict, Table
from .model.series import TestSeries
from .reckoning import Reckoning, reckon
from .units import SYSTEMS

# The files that one writes whole, by the folder or the name that they stand under.
FILES: dict[str, type[Strict]] = {"card": Card, "table": Table, "job": JobSheet, "test": TestSeries, "shop": OwnShop}


@dataclass(frozen=True)
class Shown:
    """A drawing: what it shows, the symbols that it needs, and the cards that have it."""

    name: str
    title: str
    needs: list[str]
    cards: list[str]
    # The first of the cards, worked as it comes.
    reckoning: Reckoning


class _Asked(dict[str, Any]):
    """Values that remember which of them were asked for."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        super().__init__(values)
        self._values = values
        self.names: set[str] = set()

    def __getitem__(self, name: str) -> Any:
        self.names.add(name)
        return self._values[name]  # which says why one has no number

    def get(self, name: str, default: Any = None) -> Any:
        """The value, or the default."""
        self.names.add(name)
        return super().get(name, default)


def drawings(library: Library) -> Iterator[Shown]:
    """Every drawing that a card shows; what it needs is seen from drawing it there."""
    reckonings = {name: reckon(library, card, {}) for name, card in library.cards.items()}
    for name in FIGURES:
        cards = [key for key, card in library.cards.items() if name in [one for _, one in drawing_names(card)]]
        words = library.drawings.get(name)
        if words is None or not cards:
            continue
        reckoning, title = reckonings[cards[0]], words.title
        asked = _Asked(reckoning.working.values)
        with suppress(WorkingError):  # this shop has no number for what it asked last
            picture = FIGURES[name].place(asked, reckoning.texts)
            title = Words(words, reckoning.shop, {**reckoning.texts, **picture.cases}).filled(title)
        said = {symbol for _, symbol, _ in values(name, words)}
        needs = sorted((asked.names | said) & set(FORMULARY.symbols))
        yield Shown(name, title, needs, cards, reckoning)


def schema(kind: str, library: Library) -> dict[str, Any]:
    """The shape of one kind of file as a JSON Schema. A value may be written with or without quotes, and an input that
    cards share may be named alone, or with its default."""
    _describe()
    whole = FILES[kind].model_json_schema()
    parts = whole.setdefault("$defs", {})
    named = {
        "drawings": sorted(FIGURES),
        "symbols": sorted(FORMULARY.symbols),
        "columns": sorted({*FORMULARY.symbols, NOTE}),
        "inputs": sorted({*library.inputs, *library.choices, *SPECIAL, *FORMULARY.symbols}),
        "cautions": sorted(library.cautions),
        "sources": sorted(library.sources),
        "cards": sorted(library.cards),
        **{f"shared_{kind}": sorted(getattr(library.shared, kind)) for kind in Shared.model_fields},
    }
    for model in (whole, *parts.values()):
        for name, part in model.get("properties", {}).items():
            if name == "givens":
                part |= {"propertyNames": _one_of("inputs")}
                kinds = [part["additionalProperties"], {"type": "null"}, {"type": "string"}]
                part["additionalProperties"] = {"anyOf": kinds}
            if name in _NAMES:
                _offer(part, _NAMES[name])
            if name in _SHARED:
                part["items"] = {"anyOf": [part["items"], _like(_SHARED[name])]}
    parts.get("Given", {}).pop("required", None)  # the rest stands in inputs.yaml
    _as_written(whole)
    text = json.dumps(whole)
    parts |= {name: {"enum": names} for name, names in named.items() if _one_of(name)["$ref"] in text}
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **whole}


def _describe() -> None:
    """Have every part of a file say what it is: out of its source, for Python may run without."""
    silent = [model for model in _kinds_of(Strict) if not model.__doc__]
    for name in {model.__module__ for model in silent}:
        parts = ast.parse(inspect.getsource(sys.modules[name])).body
        said = {part.name: ast.get_docstring(part) for part in parts if isinstance(part, ast.ClassDef)}
        for model in silent:
            if model.__module__ == name:
                model.__doc__ = said.get(model.__name__)


def _kinds_of(model: type[Strict]) -> Iterator[type[Strict]]:
    yield model
    for kind in model.__subclasses__():
        yield from _kinds_of(kind)


def schema_files(library: Library) -> dict[Path, str]:
    """The shapes of all kinds, by the file beside the folders `cards`, `tables` and so on that the first line of a file
    in them names."""
    return {
        Path("schema") / f"{kind}.json": json.dumps(schema(kind, library), indent=1, ensure_ascii=False) + "\n"
        for kind in FILES
    }


# The fields that name something, and the list that it is in.
_NAMES = {
    "figure": "drawings",
    "drawing": "drawings",
    "symbol": "symbols",
    "wanted": "symbols",
    "trust": "symbols",
    "columns": "columns",
    "cautions": "cautions",
    "source": "sources",
    "card": "cards",
}


# The lists in which names of shared.yaml may stand, and the list that these are in.
_SHARED = {path[-1]: f"shared_{path[0]}" for path in SHARED_IN}


def _like(names: str) -> dict[str, Any]:
    """One of these names, or several, in the place of what it stands for."""
    one = _one_of(names)
    likes = {"anyOf": [one, {"type": "array", "items": one}]}
    return {"type": "object", "properties": {"like": likes}, "required": ["like"], "additionalProperties": False}


def _one_of(names: str) -> dict[str, str]:
    return {"$ref": f"#/$defs/{names}"}


def _offer(part: dict[str, Any], names: str) -> None:
    """A text that is one of these names, or a list of them."""
    for one in (part, *part.get("anyOf", ())):
        if one.get("type") == "string":
            del one["type"]
            one |= _one_of(names)
        elif one.get("type") == "array" and one.get("items", {}).get("type") == "string":
            one["items"] = _one_of(names)


def _as_written(part: Any) -> None:
    """Every text may stand without quotes, so that YAML takes it for a number, a truth value or a day."""
    if isinstance(part, dict):
        if part.get("type") in ("string", "number", "integer", "boolean") and "enum" not in part:
            part["type"] = ["string", "number", "boolean"]
            for limit in ("pattern", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"):
                part.pop(limit, None)
        for one in part.values():
            _as_written(one)
    elif isinstance(part, list):
        for one in part:
            _as_written(one)


# What a first fitting is pulled with, by the units of the shop.
_LOADS = {"metric": "500 N", "inch": "110 lbf"}


def set_in(library: Library) -> dict[str, str]:
    """What the shop's inputs come set to, by their names, the shop itself, and a load in its units."""
    system = library.own_shop or SYSTEMS[0]
    texts = {name: given.default or getattr(given, system) for name, given in library.inputs.items()}
    return {"shop": system, "load": _LOADS[system]} | {name: text for name, text in texts.items() if text}
