"""The first files of something new: a site of one's own, and in it a card, a table or a job sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from .errors import BondwrightError
from .units import clip

_FOLDER = Path(__file__).resolve().parent / "templates" / "new"
_SITE = {
    "mkdocs.yml": "mkdocs.yml",
    "our-shop.md": "docs/our-shop.md",
    "shop.yaml": "mine/shop.yaml",
    "gitignore": ".gitignore",
}


def _site(name: str) -> Iterator[tuple[Path, str]]:
    for source, target in _SITE.items():
        yield Path(name) / target, (_FOLDER / source).read_text(encoding="utf-8").replace("NAME", Path(name).name)


STARTS: dict[str, Callable[[str], Iterator[tuple[Path, str]]]] = {"site": _site}
NEXT = {"site": "Now: cd {name}, and bondwright serve shows the site."}


def start(what: str, name: str) -> list[str]:
    """Write the first files. What is there already stays, and stops it before anything is written. Returns what to
    tell. Raises BondwrightError."""
    files = dict(STARTS[what](name))
    if there := [path for path in files if path.exists()]:
        raise BondwrightError(f"{clip(str(there[0]))} is there already; take another name, or move it away")
    for path, text in files.items():
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
        except OSError as error:
            raise BondwrightError(f"{clip(str(path))}: cannot be written: {error.strerror}") from None
    return [*(f"made {path}" for path in files), NEXT[what].format(name=name)]
