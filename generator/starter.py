"""The first files of something new: a site of one's own, and in it a card, a table or a job sheet."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from string import Template

from .errors import BondwrightError
from .units import clip

_FOLDER = Path(__file__).resolve().parent / "templates" / "new"
_SITE = {
    "mkdocs.yml": "mkdocs.yml",
    "our-shop.md": "docs/our-shop.md",
    "shop.yaml": "mine/shop.yaml",
    "gitignore": ".gitignore",
}


# A first file, by the name of its template, as it is told in another language.
Told = Callable[[str, str], str]


def sources() -> dict[str, str]:
    """The templates of the first files, by name."""
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(_FOLDER.iterdir()) if path.is_file()}


def _site(name: str, set_to: Mapping[str, str], told: Told) -> Iterator[tuple[Path, str]]:
    for source, target in _SITE.items():
        text = told(source, sources()[source]).replace("NAME", Path(name).name)
        if language := set_to.get("language"):
            text = text.replace("# languages: [en]", f"languages: [{language}]")
        yield Path(name) / target, text


_Files = Callable[[str, Mapping[str, str], Told], Iterator[tuple[Path, str]]]


def _page(kind: str) -> _Files:
    """A page's file in the folder that is one's own, in a site that a command began."""

    def files(name: str, set_to: Mapping[str, str], told: Told) -> Iterator[tuple[Path, str]]:
        own = Path("mine")
        if not own.is_dir():
            raise BondwrightError("no folder 'mine' here; run this in a site that `bondwright new site NAME` began")
        text = told(f"{kind}.yaml", sources()[f"{kind}.yaml"])
        title = name.replace("-", " ")
        # The schema's sign for itself is none of these, and stays.
        text = Template(text).safe_substitute(set_to, title=title[:1].upper() + title[1:])
        yield own / f"{kind}s" / f"{name}.yaml", text

    return files


STARTS: dict[str, _Files] = {
    "site": _site,
    "card": _page("card"),
    "table": _page("table"),
    "job": _page("job"),
}
# The templates that hold texts as a page of procedures does.
PAGES = [f"{what}.yaml" for what in STARTS if what != "site"]
_NEXT = {
    "site": "Now: cd {name}, and bondwright serve shows the site.",
    "card": "Now: change it, with bondwright serve running beside. bondwright work {name} works it.",
    "table": "Now: change it, with bondwright serve running beside.",
    "job": "Now: change it, with bondwright serve running beside. bondwright job {name} plans it.",
}
_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def start(
    what: str, name: str, set_to: Mapping[str, str] | None = None, told: Told = lambda _, english: english
) -> list[str]:
    """Write the first files; those of a page come set as the shop's inputs are, `set_to`, and those of a site with its
    `language`. What is there already stays, and stops it before anything is written. Returns what to tell. Raises
    BondwrightError."""
    if what != "site" and not _NAME.fullmatch(name):
        raise BondwrightError(f"'{clip(name)}' becomes a page's address; use small letters, digits and single hyphens")
    files = dict(STARTS[what](name, set_to or {}, told))
    if there := [path for path in files if path.exists()]:
        raise BondwrightError(f"{clip(str(there[0]))} is there already; take another name, or move it away")
    put(files)
    return [*(f"made {path}" for path in files), _NEXT[what].format(name=name)]


def put(files: Mapping[Path, str]) -> None:
    """Write files. Raises BondwrightError."""
    for path, text in files.items():
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
        except OSError as error:
            raise BondwrightError(f"{clip(str(path))}: cannot be written: {error.strerror}") from None
