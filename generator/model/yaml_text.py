"""Reading a YAML file into plain text, lists and mappings, with the line and column of every part.

Scalars stay text: their type is the model's business, so `no` is no truth value and `1:30` no number.
Only the plain part of YAML is taken: anchors, aliases and tags are refused, which also disarms files
that unfold to something huge.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import accumulate, count
from pathlib import Path
from typing import Any, NoReturn
from unicodedata import category

import yaml

from ..errors import Fault, Faults
from ..language import later
from ..units import clip

Path_ = tuple[Any, ...]
# Line and column, counted from 1.
Place = tuple[int, int]

LARGEST_FILE = 1_000_000
NO_TAG = later("the sign '<' may not stand in a text; write it in words, as 'less than'")
DEEPEST = 20


@dataclass
class Places:
    """Where each part of a text begins, and each key, by its path: found when a fault asks for the first of them."""

    text: str

    @cached_property
    def parts(self) -> Mapping[Path_, Place]:
        """Where the parts begin."""
        return self._found[0]

    @cached_property
    def keys(self) -> Mapping[Path_, Place]:
        """Where the keys begin."""
        return self._found[1]

    @cached_property
    def _found(self) -> tuple[dict[Path_, Place], dict[Path_, Place]]:
        reading = _read_plain(self.text, Document("", self.text), placed=True)
        return reading.parts, reading.keys


@dataclass(frozen=True)
class OnePlace:
    """The places of what stands on one line: each part begins at one, each key at the other."""

    parts: Mapping[Path_, Place] = field(default_factory=dict)
    keys: Mapping[Path_, Place] = field(default_factory=dict)


@dataclass
class Document:
    """A file's content and where each part stands.

    `origins` tells of parts that came from another file, which was laid over or under this one, and where they stand
    there.
    """

    file: str
    text: str = ""
    data: Any = None
    places: Places | OnePlace = OnePlace()
    origins: dict[Path_, tuple[Document, Path_]] = field(default_factory=dict)

    def origin(self, path: Path_) -> tuple[Document, Path_]:
        """The file that a part was read from, and its path there."""
        for length in range(len(path), -1, -1):
            if found := self.origins.get(path[:length]):
                return found[0].origin((*found[1], *path[length:]))
        return self, path

    def fault(self, path: Path_, message: str, *, at_key: bool = False) -> Fault:
        """A fault at the part named by `path`, or at the nearest part around it that exists."""
        own, path = self.origin(path)
        return own._fault(path, message, at_key=at_key)

    def _fault(self, path: Path_, message: str, *, at_key: bool) -> Fault:
        table = self.places.keys if at_key else self.places.parts
        while path not in table and path:
            path = path[:-1]
            table = self.places.parts
        return self.fault_at(*table.get(path, (1, 1)), message)

    def fault_at(self, line: int, column: int, message: str) -> Fault:
        """A fault at a place of this very file."""
        lines, _ = self._lines
        return Fault(self.file, line, column, message, lines[line - 1] if line <= len(lines) else "")

    @cached_property
    def _lines(self) -> tuple[list[str], list[int]]:
        """The lines, and where each begins: cut once, for a file may hold many thousand faults."""
        whole = self.text.splitlines(keepends=True)
        return self.text.splitlines(), [*accumulate(map(len, whole), initial=0)]

    def fault_in_text(self, path: Path_, needle: str, message: str) -> Fault:
        """A fault at the first `needle` that is no part of a longer word, in the text at `path`, which may run over
        several lines, or in the nearest part around it that exists."""
        own, path = self.origin(path)
        return own._fault_in_text(path, needle, message)

    def _fault_in_text(self, path: Path_, needle: str, message: str) -> Fault:
        parts, keys = self.places.parts, self.places.keys
        while path not in parts and path:
            path = path[:-1]
        begin = parts.get(path, (1, 1))
        places = (*parts.items(), *keys.items())
        after = [place for other, place in places if place > begin and other[: len(path)] != path]
        _, starts = self._lines
        first, end = (starts[line - 1] + column - 1 for line, column in (begin, min(after, default=(len(starts), 1))))
        before, after_it = (r"(?<!\w)" if needle[:1].isalnum() else "", r"(?!\w)" if needle[-1:].isalnum() else "")
        found = re.compile(before + re.escape(needle) + after_it).search(self.text, first, end)
        if not found:
            return self.fault(path, message)
        line = bisect_right(starts, found.start())
        return self.fault_at(line, found.start() - starts[line - 1] + 1, message)


# What stands in a list and is told apart by these.
_IN_A_LIST = {"stock": ("kind", "shop")}


def laid_over(lower: Document, upper: Document) -> Document:
    """Two files of one name as one: entries of the upper stand for those of the lower with the same id, and beside the
    others. What is no mapping of entries is taken whole."""
    if not isinstance(lower.data, dict) or not isinstance(upper.data, dict):
        return upper
    merged = Document(upper.file, f"{lower.text}\n{upper.text}", {**lower.data}, origins={(): (lower, ())})
    for key, value in upper.data.items():
        below = lower.data.get(key)
        if isinstance(value, dict) and isinstance(below, dict):
            merged.data[key] = {**below, **value}
            merged.origins |= {(key, one): (upper, (key, one)) for one in value}
        elif isinstance(value, list) and isinstance(below, list) and key in _IN_A_LIST:
            whole = merged.data[key] = [*below]
            for number, one in enumerate(value):
                place = next((at for at, old in enumerate(whole) if _same(old, one, _IN_A_LIST[key])), len(whole))
                whole[place : place + 1] = [one]
                merged.origins[key, place] = (upper, (key, number))
        else:
            merged.data[key] = value
            merged.origins[(key,)] = (upper, (key,))
    return merged


def _same(one: Any, other: Any, keys: tuple[str, ...]) -> bool:
    both = isinstance(one, dict) and isinstance(other, dict)
    return both and all(one.get(key) == other.get(key) for key in keys)


def read_document(path: Path, file: str) -> Document:
    """Read `path`; `file` is its name in messages. Raises Faults."""
    return _document(file, _read_text(path, file))


@lru_cache(maxsize=1000)  # a file is read again whenever another one has changed
def _document(file: str, text: str) -> Document:
    document = Document(file, text, places=Places(text))
    try:
        reading = _read_plain(text, document)
    except yaml.MarkedYAMLError as error:
        raise Faults([_syntax_fault(error, text, file)]) from None
    except yaml.reader.ReaderError as error:
        raise Faults([_character_fault(error, text, file)]) from None
    except (ValueError, OverflowError):  # an escape such as "\\UFFFFFFFF" that names no character
        message = "an escape in double quotes names no character; write the character itself, or use single quotes"
        raise Faults([Fault(file, *_line_of_escape(text), message)]) from None
    if reading.empty:
        raise Faults([Fault(file, 1, 1, "the file is empty; copy a file that works and change it")])
    if reading.faults:
        raise Faults(reading.faults)
    document.data = reading.data
    return document


def _read_text(path: Path, file: str) -> str:
    try:
        if not path.is_file():
            raise Faults([Fault(file, 1, 1, "is no file; a file of text is read here")])
        raw = path.read_bytes()
    except OSError as error:
        raise Faults([Fault(file, 1, 1, f"cannot be read: {error.strerror}")]) from None
    if len(raw) > LARGEST_FILE:
        raise Faults([Fault(file, 1, 1, f"{len(raw)} bytes; at most {LARGEST_FILE} are read")])
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        line, column = before.count(b"\n") + 1, len(before) - (before.rfind(b"\n") + 1) + 1
        raise Faults([Fault(file, line, column, "not UTF-8 text; save the file as UTF-8")]) from None


# Nine times as fast, where PyYAML was built with it.
_FAST_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def _read_plain(text: str, document: Document, *, placed: bool = False) -> _Reading:
    """What a plain file says. Only what the fast loader stumbles over is read slowly, for its places and words."""
    try:
        return _Reading(document, yaml.parse(text, Loader=_FAST_LOADER), placed)
    except (yaml.YAMLError, ValueError, OverflowError):
        return _Reading(document, yaml.parse(text, Loader=yaml.SafeLoader), placed)


class _Reading:
    """One pass over a plain file: what it says, the faults in that, and where it is to be `placed` where the parts and
    keys begin. Raises Faults at the first that is beyond the plain part of YAML."""

    def __init__(self, document: Document, events: Iterator[yaml.Event], placed: bool) -> None:
        self.document, self.events, self.placed = document, events, placed
        self.empty, self.data, self.depth = True, None, 0
        self.faults: list[Fault] = []
        self.parts: dict[Path_, Place] = {}
        self.keys: dict[Path_, Place] = {}
        for event in events:
            if isinstance(event, yaml.NodeEvent):
                self.data, self.empty = self.part(event, ()), False
            elif isinstance(event, yaml.DocumentStartEvent) and not self.empty:
                self.refuse(event, "a second document begins here; one file holds one")

    def part(self, event: Any, path: Path_) -> Any:
        """The part that an event begins."""
        if isinstance(event, yaml.AliasEvent) or event.anchor:
            self.refuse(
                event, "anchors and aliases (& and *) are not used here; write the value out, or put the text in quotes"
            )
        if event.tag:
            self.refuse(event, f"the tag '{clip(event.tag)}' is not used here; write plain text")
        if self.placed:
            self.parts[path] = _place(event.start_mark)
        if isinstance(event, yaml.ScalarEvent):
            if "<" in event.value or not event.value.isprintable():
                self.faults += _sign_faults(event, self.document)
            return event.value
        self.depth += 1
        if self.depth > DEEPEST:
            self.refuse(event, f"nested deeper than {DEEPEST} levels; no file here needs that")
        whole = [*self.items(path)] if isinstance(event, yaml.SequenceStartEvent) else self.mapping(path)
        self.depth -= 1
        return whole

    def items(self, path: Path_) -> Iterator[Any]:
        """The items of a list."""
        for place in count():
            event = next(self.events)
            if isinstance(event, yaml.SequenceEndEvent):
                return
            yield self.part(event, (*path, place))

    def mapping(self, path: Path_) -> dict[str, Any]:
        """A mapping; of what stands under a key that may not be there nothing else is told."""
        mapping: dict[str, Any] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            told, at, wrong = len(self.faults), event.start_mark, ""
            inside = (*path, event.value if isinstance(event, yaml.ScalarEvent) else "")
            key = self.part(event, inside)
            if not isinstance(key, str):
                wrong = "a key must be plain text"
            elif key in mapping:
                wrong = f"the key '{clip(key)}' stands twice; keep one"
            if self.placed:
                self.keys[inside] = _place(at)
            value = self.part(event := next(self.events), inside)
            if self.placed and _place(event.start_mark) == _place(event.end_mark):
                self.parts[inside] = self.keys[inside]  # nothing stands there to point at
            if wrong:
                self.faults[told:] = [self.document.fault_at(*_place(at), wrong)]
            else:
                mapping[key] = value
        return mapping

    def refuse(self, event: yaml.Event, wrong: str) -> NoReturn:
        """End here with what may not stand there."""
        raise Faults([self.document.fault_at(*_place(event.start_mark), wrong)])


# A symbol in braces at the beginning of a text without quotes, and more text behind it.
_BRACE = re.compile(r"(?:[:-]|,) *(\{[A-Za-z]\w*\})")


def _syntax_fault(error: yaml.MarkedYAMLError, text: str, file: str) -> Fault:
    line, column = _place(error.problem_mark or error.context_mark)
    lines = text.splitlines()
    shown = lines[line - 1] if line <= len(lines) else ""
    indent = shown[: len(shown) - len(shown.lstrip())]
    if "\t" in indent:
        return Fault(file, line, indent.index("\t") + 1, "a tab indents this line; indent with spaces", shown)
    if brace := _BRACE.search(shown):
        message = "a text that begins with a brace stands in quotes, or YAML takes it for a mapping"
        return Fault(file, line, brace.start(1) + 1, message, shown)
    if error.context_mark and (error.problem or "").startswith("expected ','"):
        message = f"a comma is missing before this, or what opens in line {error.context_mark.line + 1} is not closed"
        return Fault(file, line, column, message, shown)
    message = f"not readable as YAML: {error.problem}; compare with a file that works"
    return Fault(file, line, column, message, shown)


def _line_of_escape(text: str) -> tuple[int, int]:
    """Where the first long escape stands."""
    before = text[: max(0, text.find("\\U"))]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def _place(mark: Any) -> Place:
    """Line and column of a parser's mark, counted from 1; the file's start when it set none."""
    return (mark.line + 1, mark.column + 1) if mark else (1, 1)


def _character_fault(error: yaml.reader.ReaderError, text: str, file: str) -> Fault:
    before = text[: error.position]
    line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
    code = error.character if isinstance(error.character, int) else ord(error.character)
    return Fault(file, line, column, f"the character U+{code:04X} may not stand here; remove it")


def _sign_faults(text: yaml.ScalarEvent, document: Document) -> Iterator[Fault]:
    """Signs that may stand in no text. What begins no tag here begins none in a page, a menu or a list of search
    results either, whoever writes those and however often they take it for text that is not yet read."""
    if not text.value.isprintable() and (unseen := next(filter(_unseen, text.value), "")):
        yield document.fault_at(
            *_place(text.start_mark), f"the character U+{ord(unseen):04X} cannot be seen; remove it"
        )
    if "<" in text.value:
        yield document.fault_at(*_place(text.start_mark), NO_TAG)


def _unseen(sign: str) -> bool:
    return not (sign.isprintable() or sign == "\n" or category(sign) == "Zs")


def texts_in(part: object) -> Iterator[str]:
    """Every text in what was read, as a catalogue has it: with single blanks."""
    if isinstance(part, str):
        yield " ".join(part.split())
    elif isinstance(part, Mapping):
        for one in part.values():
            yield from texts_in(one)
    elif isinstance(part, Sequence):
        for one in part:
            yield from texts_in(one)
