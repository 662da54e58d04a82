"""What a build made, kept for the next one in the same process: made again only where what it was made from changed."""

from __future__ import annotations

import gc
import hashlib
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import cached_property, lru_cache
from typing import Any, TypeVar

from .errors import Fault
from .model.library import Library

T = TypeVar("T")

# What neither the plan of a job sheet nor its page takes from a card.
_UNPLANNED = {
    "purpose",
    "use_when",
    "not_when",
    "needs",
    "steps",
    "checks",
    "revision",
    "changed",
    "figure",
    "table",
    "group",
}


@contextmanager
def all_kept() -> Iterator[None]:
    """Without a search for what nobody holds: what is made here mostly stays until it is printed."""
    searched = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if searched:
            gc.enable()


class Kept:
    """One value a name, with the key that says what it was made from. `made` names what was made anew."""

    def __init__(self) -> None:
        self.made: list[str] = []
        self._held: dict[str, tuple[Hashable, Any]] = {}
        self._beside: dict[str, tuple[Mapping[str, str] | None, Kept]] = {}

    def beside(self, name: str, words: Mapping[str, str]) -> Kept:
        """What the same parts gave in a language of this name, for as long as it has these words."""
        said, other = self._beside.get(name, (None, self))
        if said != words:
            said, other = self._beside[name] = (words, Kept())
        other.made = self.made
        return other

    def once(self, name: str, key: Hashable, make: Callable[[], T]) -> T:
        """What `make` makes, or what it made under this name from the same `key`."""
        held = self._held.get(name)
        if held is None or held[0] != key:
            self.made.append(name)
            held = self._held[name] = (key, make())
        value: T = held[1]
        return value

    def faults(self, name: str, key: Hashable, find: Callable[[], Iterable[Fault]]) -> list[Fault]:
        """The faults that are found. Only that there are none is kept: a fault's place in its file may move."""
        if self._held.get(name) == (key, None):
            return []
        self.made.append(name)
        found = list(find())
        if not found:
            self._held[name] = (key, None)
        return found


class Origins:
    """What the parts of a site are made from, each as a short key that changes with it."""

    def __init__(self, library: Library) -> None:
        self.library = library

    @cached_property
    def data(self) -> str:
        """What every part may take from: all files but those of the cards, tables and job sheets, the cards' titles,
        and the cards of which joints were pulled."""
        pulled = {f"cards/{series.card}.yaml" for series in self.library.series_pulled.values()}
        own = ("cards/", "tables/", "jobs/")
        shared = [
            _of_text(document.text)
            for name, document in self.library.documents.items()
            if name in pulled or not name.startswith(own)
        ]
        titles = [(name, card.title) for name, card in self.library.cards.items()]
        return _digest(shared, titles, self.library.site_units)

    def sheet(self, file: str) -> str:
        """What a card or a reference table is made from."""
        return _digest(self.data, _of_text(self.library.documents[file].text))

    @cached_property
    def planned(self) -> str:
        """What job sheets are made from, besides their own files: the data, the tables and what cards say for plans."""
        documents = self.library.documents
        tables = [_of_text(document.text) for name, document in documents.items() if name.startswith("tables/")]
        cards = [
            (name, self._written(name, lambda key: key not in _UNPLANNED), [*card.named], [*card.all_cautions])
            for name, card in self.library.cards.items()
        ]
        return _digest(self.data, tables, cards)

    def _written(self, card: str, taken: Callable[[str], bool]) -> object:
        """What a card's file says under the keys that are taken, and whether that is how the card comes set."""
        file = f"cards/{card}.yaml"
        said = self.library.documents[file].data
        return {key: part for key, part in said.items() if taken(key)}, file in self.library.as_shipped

    @cached_property
    def drawn(self) -> str:
        """What the gallery of drawings is made from: the data, and what each card gives and draws."""
        kept = {"title", "givens", "figure"}
        cards = [
            (
                name,
                self._written(name, kept.__contains__),
                [*card.named, *card.loads],
                [step.drawing for step in card.steps],
            )
            for name, card in self.library.cards.items()
        ]
        return _digest(self.data, cards)

    def job_sheet(self, name: str) -> str:
        """What a job sheet is made from."""
        return _digest(self.planned, _of_text(self.library.documents[f"jobs/{name}.yaml"].text))


@lru_cache(maxsize=1000)  # a file is the same text until it is changed
def _of_text(text: str) -> str:
    """A short key that stands for a text."""
    return hashlib.sha256(text.encode()).hexdigest()


def _digest(*parts: object) -> str:
    return hashlib.sha256(repr(parts).encode()).hexdigest()
