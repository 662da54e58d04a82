"""The catalogue of a language, made and brought up to date: every text that a reader is told, found where it stands.

The texts of the procedures are those that reading them asks for, so that nothing lists them. Templates and pages give
their own, symbols and rules theirs, and in the code a text stands in `tr`.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from difflib import get_close_matches
from fnmatch import fnmatch
from io import BytesIO
from pathlib import Path
from typing import get_args

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from .errors import BondwrightError
from .formula import FORMULARY
from .language import Language, catalogue_file, has_words, speaking, tr
from .model.library import SPECIAL, Library, load
from .model.schema import Basis
from .model.yaml_text import texts_in
from .pages.worded import MARKED, remarks_of, worded, worded_remarks, worded_yaml, words_of, words_of_yaml
from .pages.worded_script import words_of_script
from .shipped import DOCS, HAND_WRITTEN, PROCEDURES
from .starter import PAGES, sources
from .units import SYSTEMS

_PACKAGE = Path(__file__).parent
# What in the code is called with texts; `_entry` is of the bench side.
_CALLS = ("tr", "later", "_entry")
# Files that speak to whoever writes cards, in English.
_UNSPOKEN = ("check.py", "catalogue.py", "editor.py", "starter.py")
_HEADER = "The texts of the site in another language, by the English ones. `bondwright words` brings it up to date."


def texts_of(library: Library) -> dict[str, list[str]]:
    """Every text that may be printed, with the places that it stands in, in the order in which they are translated."""
    found: dict[str, list[str]] = {}
    ships = library.root.resolve() == PROCEDURES.resolve()
    for place, texts in [*(_of_the_program(library) if ships else ()), *_of_procedures(library)]:
        for text in texts:
            key = " ".join(text.split())
            if has_words(key) and place not in found.setdefault(key, []):
                found[key].append(place)
    known = {} if ships else texts_of(load(PROCEDURES))
    return {text: places for text, places in found.items() if text not in known}


def _of_the_program(library: Library) -> Iterator[tuple[str, Iterable[str]]]:
    """What templates, scripts and code say, and what symbols mean."""
    for path in sorted((_PACKAGE / "templates").glob("*.j2")):
        yield f"templates/{path.name}", words_of(path.read_text(encoding="utf-8"))
    for path in sorted((_PACKAGE / "templates/theme").rglob("*.html")):
        yield f"theme/{path.name}", MARKED.findall(path.read_text(encoding="utf-8"))
    for path in sorted(_PACKAGE.rglob("*.py")):
        if path.name not in _UNSPOKEN:
            yield path.relative_to(_PACKAGE).as_posix(), _of_code(path)
    for path in sorted((DOCS / "assets").glob("*.js")):
        yield f"assets/{path.name}", words_of_script(path.read_text(encoding="utf-8"), path.name)
    yield "inputs", [name.replace("_", " ") for name in (*SPECIAL, *library.choices)]
    yield "words", (*SYSTEMS, *get_args(Basis))
    yield "symbols", [symbol.english for symbol in FORMULARY.symbols.values()]
    for line in (*FORMULARY.rules, *FORMULARY.steps):
        texts = [line.english, getattr(line, "said", ""), getattr(line, "instead", "")]
        yield Path(line.where.rpartition(":")[0]).name, texts
    for name in HAND_WRITTEN:
        yield f"docs/{name}", words_of((DOCS / name).read_text(encoding="utf-8"))
    for name, text in sources().items():
        texts = words_of(text) if name.endswith(".md") else words_of_yaml(text) if name in PAGES else []
        yield f"templates/new/{name}", [*texts, *remarks_of(text)]


def first_file(name: str, text: str) -> str:
    """The template of a first file, by name, in the language that is spoken."""
    if name.endswith(".md"):
        return _ANCHOR.sub("", worded(text, tr))
    text = worded_remarks(text, tr)
    return worded_yaml(text, tr) if name in PAGES else text


# Where links to an English heading lead; none lead to a first page.
_ANCHOR = re.compile(r" \{: #[\w-]+ \}$", re.MULTILINE)


def _of_code(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _CALLS:
            yield from (one.value for one in node.args if isinstance(one, ast.Constant) and isinstance(one.value, str))


def _of_procedures(library: Library) -> Iterator[tuple[str, Iterable[str]]]:
    """What the procedures say: the texts that reading them asks for, by the file that they stand in."""
    language = Language("en", {})
    with speaking(language):
        read = load(library.layers, library.site_units)
    left = {*language.asked}
    order = (
        "groups.yaml",
        "inputs.yaml",
        "steps.yaml",
        "shared.yaml",
        "cautions.yaml",
        "home.yaml",
        "chooser.yaml",
        "search.yaml",
        "designers.yaml",
        "shop.yaml",
    )
    names = sorted(read.documents, key=lambda name: (name.removesuffix(".yaml") not in order, name))
    for name in names:
        yield name, [text for text in texts_in(read.documents[name].data) if text in left]


def read_catalogue(file: Path) -> Catalog:
    """A catalogue as it is on disk, with what is not sure. Raises BondwrightError."""
    try:
        with file.open("rb") as opened:
            return read_po(opened)
    except (OSError, ValueError) as error:
        raise BondwrightError(f"{file}: cannot be read: {error}") from None


def catalogue_of(name: str, texts: Mapping[str, Sequence[str]], before: Catalog | None) -> Catalog:
    """The catalogue of these texts, with what was said of them before. A text that is nearly one that is gone has
    its words, marked as not sure."""
    template = Catalog(locale=name, project="Bondwright", header_comment=f"# {_HEADER}", fuzzy=False)
    for text, places in texts.items():
        template.add(text, locations=[(place, 0) for place in places])
    if before is None:
        return template
    # A changed text takes the place of one that is gone; held beside all that stay, each takes a hundred times as long.
    before.update(template, no_fuzzy_matching=True, update_header_comment=True)
    gone = {str(message.id): message.string for message in before.obsolete.values() if message.string}
    for message in before:
        if message.id and not message.string:
            for nearest in get_close_matches(str(message.id), gone, n=1):
                message.string, message.previous_id = gone[nearest], [nearest]
                message.flags.add("fuzzy")
    return before


def taken_in(catalogue: Catalog, file: Path) -> int:
    """Take over what another catalogue says; how many texts that were."""
    count = 0
    for message in read_catalogue(file):
        own = catalogue.get(message.id) if message.id and message.string and not message.fuzzy else None
        if own is not None and own.string != message.string:
            own.string, count = message.string, count + 1
            own.flags.discard("fuzzy")
    return count


def part_of(catalogue: Catalog, patterns: Sequence[str]) -> Catalog:
    """What is not yet said of the texts that stand in files of these names."""
    part = Catalog(locale=catalogue.locale, project="Bondwright", header_comment=f"# {_HEADER}", fuzzy=False)
    for message in catalogue:
        places = [place for place, _ in message.locations]
        wanted = not patterns or any(fnmatch(place, pattern) for place in places for pattern in patterns)
        if wanted and message.id and (not message.string or message.fuzzy):
            part.add(message.id, locations=message.locations)
    return part


def as_text(catalogue: Catalog) -> bytes:
    """A catalogue as it is written: a text a line, no dates and nothing of texts that are gone, so that the same texts
    give the same file."""
    out = BytesIO()
    write_po(out, catalogue, width=0, omit_header=True, include_lineno=False, ignore_obsolete=True)
    lead = (
        f"# {_HEADER}\n"
        'msgid ""\nmsgstr ""\n'
        f'"Language: {catalogue.locale_identifier}\\n"\n'
        '"MIME-Version: 1.0\\n"\n'
        '"Content-Type: text/plain; charset=utf-8\\n"\n'
        '"Content-Transfer-Encoding: 8bit\\n"\n\n'
    )
    return lead.encode() + out.getvalue()


def brought_up(library: Library, name: str, taken: Sequence[Path] = ()) -> tuple[Catalog, Path, int]:
    """A language's catalogue in the folder that is edited, brought up to date; where it stands, and how many texts were
    taken over from other files."""
    file = catalogue_file(library.root, name)
    catalogue = catalogue_of(name, texts_of(library), read_catalogue(file) if file.is_file() else None)
    return catalogue, file, sum(taken_in(catalogue, one) for one in taken)
