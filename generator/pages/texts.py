"""Texts by name, held as UTF-8: with a single dash in it Python's own form of a page takes twice as much."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, MutableMapping


class Texts(MutableMapping[str, str]):
    """A dictionary of texts."""

    def __init__(self, texts: Mapping[str, str] | None = None):
        self.held: dict[str, bytes] = {}
        self.add(texts or {})

    def add(self, texts: Mapping[str, str], folder: str = "") -> None:
        """Take in other texts, their names in a folder, with a stroke at its end."""
        if isinstance(texts, Texts):
            self.held |= {folder + name: text for name, text in texts.held.items()}
        else:
            for name, text in texts.items():
                self[folder + name] = text

    def __getitem__(self, name: str) -> str:
        return self.held[name].decode()

    def __setitem__(self, name: str, text: str) -> None:
        self.held[name] = text.encode()

    def __delitem__(self, name: str) -> None:
        del self.held[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.held)

    def __len__(self) -> int:
        return len(self.held)

    def __contains__(self, name: object) -> bool:
        return name in self.held
