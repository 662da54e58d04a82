"""What is wrong with the words of drawings: unknown names, words that are missing, values that are not worked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from functools import partial

from ..errors import Fault
from ..formula import FORMULARY
from ..kept import Kept
from ..model.library import Library
from ..model.prose import StrayBrace, Value, plain_parts
from ..model.schema import Card, DrawingWords
from ..model.yaml_text import Document, Path_
from ..reckoning import Reckoning
from .picture import FIGURES, draw


def drawing_names(card: Card) -> Iterator[tuple[Path_, str]]:
    """Every drawing that a card names."""
    if card.figure:
        yield ("figure",), card.figure
    for place, step in enumerate(card.steps):
        if step.drawing:
            yield ("steps", place, "drawing"), step.drawing


def nearest(name: str, names: Iterable[str]) -> str:
    """The names most like one that is unknown."""
    every = sorted(names)
    return ", ".join(get_close_matches(name, every, n=3) or every[:5])


def words_faults(library: Library, kept: Kept) -> Iterator[Fault]:
    """What is wrong in the files of drawings' words, whatever card shows them."""
    for document in documents(library):
        find = partial(_file_faults, library, document)
        yield from kept.faults(f"check words in {document.file}", document.text, find)


def _file_faults(library: Library, document: Document) -> Iterator[Fault]:
    for name in document.data["drawings"]:
        if name not in FIGURES:
            message = f"unknown drawing '{name}'; near it: {nearest(name, FIGURES)}"
            yield document.fault(("drawings", name), message, at_key=True)
            continue
        yield from _part_faults(document, name, library.drawings[name])
        yield from _text_faults(document, name, library.drawings[name])


def documents(library: Library) -> list[Document]:
    """The files of drawings' words."""
    return [document for name, document in library.documents.items() if name.startswith("drawings/")]


def _part_faults(document: Document, name: str, words: DrawingWords) -> Iterator[Fault]:
    """Labels, cases and verdicts that the drawing does not have, or that it has and finds no words for."""
    drawing, path = FIGURES[name], ("drawings", name)
    yield from _differences(document, (*path, "labels"), "label", words.labels, drawing.labels)
    yield from _differences(document, (*path, "cases"), "case", words.cases, drawing.cases)
    for case in drawing.cases.keys() & words.cases:
        where = (*path, "cases", case)
        yield from _differences(document, where, "alternative", words.cases[case], drawing.cases[case])
    for key, written in (("right", words.right), ("wrong", words.wrong)):
        if drawing.paired and not written:
            yield document.fault(path, f"'{name}' is a pair of views; say under '{key}' what is {key}", at_key=True)
        if written and not drawing.paired:
            yield document.fault((*path, key), f"'{name}' is one view; '{key}' is for a pair of views", at_key=True)


def _differences(
    document: Document, path: Path_, what: str, written: Iterable[str], wanted: Iterable[str]
) -> Iterator[Fault]:
    name = path[1]
    for one in sorted(set(wanted) - set(written)):
        yield document.fault(path, f"the drawing '{name}' has the {what} '{one}'; write its words", at_key=True)
    for one in sorted(set(written) - set(wanted)):
        has = f"it has {', '.join(sorted(wanted))}" if wanted else "it has none"
        message = f"the drawing '{name}' has no {what} '{one}'; {has}"
        yield document.fault((*path, one), message, at_key=True)


def texts(name: str, words: DrawingWords) -> Iterator[tuple[Path_, str]]:
    """Every text of a drawing's words, with its path."""
    path = ("drawings", name)
    for key in ("title", "description", "notice", "right"):
        if text := getattr(words, key):
            yield (*path, key), text
    for place, text in enumerate(words.wrong):
        yield (*path, "wrong", place), text
    for case, alternatives in words.cases.items():
        for key, text in alternatives.items():
            yield (*path, "cases", case, key), text
    for label, written in words.labels.items():
        for place, text in enumerate(written.words):
            yield (*path, "labels", label, "words", place), text


def values(name: str, words: DrawingWords) -> Iterator[tuple[Path_, str, str]]:
    """Every symbol whose value the words say: path, symbol and how it is written there."""
    for path, text in texts(name, words):
        for part in plain_parts(text):
            if isinstance(part, Value) and part.name not in words.cases:
                yield path, part.name, f"{{{part.name}}}"
    for label, written in words.labels.items():
        for place, symbol in enumerate(written.value):
            yield ("drawings", name, "labels", label, "value", place), symbol, symbol


def _text_faults(document: Document, name: str, words: DrawingWords) -> Iterator[Fault]:
    """Stray braces, numbers that are typed, symbols that are not there."""
    for path, text in texts(name, words):
        try:
            plain_parts(text)
        except StrayBrace as error:
            yield document.fault_in_text(path, error.sign, str(error))
            return
        if number := re.search(r"\d+", re.sub(r"\{[^}]*\}", "", text)):
            message = f"'{number[0]}' is typed into a drawing; write the symbol that gives it in braces, or words"
            yield document.fault_in_text(path, number[0], message)
    for path, symbol, written in values(name, words):
        if symbol not in FORMULARY.symbols:
            near = nearest(symbol, FORMULARY.symbols)
            message = f"'{written}' is neither a symbol nor a case of this drawing; near it: {near}"
            yield document.fault_in_text(path, written, message)
    said = " ".join(text for _, text in texts(name, words))
    for case in words.cases:
        if f"{{{case}}}" not in said:
            message = f"no text has {{{case}}} in it; put it where the case belongs, or take the case out"
            yield document.fault(("drawings", name, "cases", case), message, at_key=True)
    yield from (document.fault(("drawings", name, "cases", case), _ROUND, at_key=True) for case in _round(words))


_ROUND = "these texts lead back to themselves through their braces; write out what is meant"


def _round(words: DrawingWords) -> Iterator[str]:
    """Cases in whose texts they stand themselves, or in those of a case there, and so on: these have no end."""
    inside = {
        case: {part.name for text in texts.values() for part in plain_parts(text) if isinstance(part, Value)}
        for case, texts in words.cases.items()
    }
    for case, reached in inside.items():
        waiting, seen = [*reached], set[str]()
        while waiting:
            if (name := waiting.pop()) not in seen:
                seen.add(name)
                waiting += inside.get(name, ())
        if case in seen:
            yield case


def shown_faults(library: Library, file: str, card: Card, reckoning: Reckoning) -> Iterator[Fault]:
    """Drawings of a card that lack a value, have no words, say what the card does not work, or cannot be drawn."""
    document = library.documents[file]
    for path, name in drawing_names(card):
        if name not in library.drawings:
            message = f"the drawing '{name}' has no words; write them in a file of {library.root.name}/drawings"
            yield document.fault(path, message)
            continue
        try:
            picture = FIGURES[name].place(reckoning.working.values, reckoning.texts)
            faults = [*_value_faults(library, name, file, reckoning, {**reckoning.texts, **picture.cases})]
            yield from faults
            if not faults:
                values, told, chosen = reckoning.working.values, reckoning.shop, reckoning.texts
                draw(lambda *_: picture, library.drawings[name], values, told, chosen, "check")  # noqa: B023
        except KeyError as missing:
            yield document.fault(path, f"the drawing '{name}' needs {missing}; add it to 'wanted', or give it")
        except ArithmeticError as error:
            yield document.fault(path, f"the drawing '{name}' cannot be drawn from the card's own values: {error}")


def _value_faults(
    library: Library, name: str, file: str, reckoning: Reckoning, chosen: Mapping[str, str]
) -> Iterator[Fault]:
    """Values that a drawing's words say and the card does not work."""
    document = next(one for one in documents(library) if name in one.data["drawings"])
    for where, symbol, written in values(name, library.drawings[name]):
        if not reckoning.has(symbol) and (where[2] != "cases" or chosen[where[3]] == where[4]):
            message = f"'{written}' is not worked by {file}, which shows this drawing; add it to 'wanted' there"
            yield document.fault_in_text(where, written, message)
