"""A site in several languages: the first at the root, each other in a folder of its name, with the same pages.

What a page leads to beside it, scripts too, stands in the folder of its language, so that no link knows of languages.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import escape

from ..errors import Fault
from ..jobs.faults import put_aside
from ..kept import Kept
from ..language import ENGLISH, Language, speaking
from ..model.library import Library, library_in
from ..shipped import DOCS, HAND_WRITTEN
from .chosen import Chosen, chosen, without_dead_links
from .frame import Entry, menu
from .options import SiteOptions
from .ready import purpose
from .site import site_files
from .texts import Texts
from .worded import worded
from .worded_script import worded_script


@dataclass(frozen=True)
class Tongue:
    """A site in one language: `spoken` is none where it is English, `folder` is where its pages stand, with a stroke at
    its end, and nothing for the first language. The names of `files` are from there."""

    name: str
    spoken: Language | None
    folder: str
    library: Library
    site: Chosen
    files: Texts

    @property
    def title(self) -> str:
        """What the language calls itself."""
        return (self.spoken or Language(self.name, {})).title

    def purpose_of(self, name: str, page: str) -> str:
        """What a page is for, whose name is from the folder: what it says itself, or the search says of it."""
        words = self.library.search
        other = words.others.get(name.removesuffix(".md")) if words else None
        return purpose(page, other.says if other else "")

    def menu(self, pages: Collection[str], own: Collection[str] = ()) -> list[Entry]:
        """The menu of its pages, of those that there are; `own` are pages that the site has written by hand."""
        with speaking(self.spoken):
            return menu(self.site, pages, own, self.folder)


def tongues(library: Library, options: SiteOptions, names: Sequence[str], kept: Kept | None = None) -> list[Tongue]:
    """The site in each of these languages once, in English without any. Raises BondwrightError where one cannot be
    read."""
    names = list(dict.fromkeys(names)) or [ENGLISH]
    found = [_tongue(library, options, name, names, kept or Kept()) for name in names]
    if len(found) == 1:
        return found
    titles = {one.name: one.title for one in found}
    there = {one.name: {*one.files, *HAND_WRITTEN} for one in found}
    return [replace(one, files=with_switch(one.files, one.name, titles, there)) for one in found]


def _tongue(library: Library, options: SiteOptions, name: str, names: Sequence[str], kept: Kept) -> Tongue:
    folder = folder_of(name, names)
    if options.address and folder:
        options = replace(options, address=f"{options.address.rstrip('/')}/{folder}")
    language, library, kept = _said_in(library, name, names, kept, options.jobs)
    with speaking(language):
        files = site_files(library, options, kept)
        if language or folder:
            shipped = dict(shipped_in(language))
        else:
            several = len(names) > 1
            shipped = {page: (DOCS / page).read_text(encoding="utf-8") for page in HAND_WRITTEN if several}
    site = chosen(library, options)
    if not site.whole:
        told = {page: text for page, text in shipped.items() if page in HAND_WRITTEN}
        shipped |= without_dead_links(told, {*files, *HAND_WRITTEN})
    files.add(shipped)
    return Tongue(name, language, folder, library, site, files)


def _said_in(
    library: Library, name: str, names: Sequence[str], kept: Kept, jobs: Collection[str] | None = None
) -> tuple[Language | None, Library, Kept]:
    """The same, and what is kept of it. A job sheet that cannot be planned by the words of that language is put aside
    there; of `jobs` only those, where a site names what it shows."""
    language, other = library_in(library, name, names)
    if language is None:
        return language, other, kept
    kept = kept.beside(name, language.texts)
    with speaking(language):
        put_aside(other, kept, names=jobs)
    return language, other, kept


def libraries_in(library: Library, names: Sequence[str], kept: Kept) -> list[Library]:
    """The library in each of these languages, as the site is made from it. Raises BondwrightError where one cannot be
    read, or says what may not stand in a file."""
    return [_said_in(library, name, names, kept)[1] for name in names]


def unplanned(libraries: Iterable[Library]) -> list[Fault]:
    """Why job sheets are not planned, in whatever language."""
    return sorted({fault for one in libraries for own in one.spoilt.values() for fault in own})


def folder_of(language: str, languages: Sequence[str]) -> str:
    """Where the pages of a language stand, with a stroke at its end; nothing for the first."""
    return "" if language == languages[0] else f"{language}/"


def shipped_in(language: Language | None) -> Iterator[tuple[str, str]]:
    """The hand-written pages and the scripts that ship, in a language."""
    for path in sorted([*DOCS.glob("*.md"), *DOCS.glob("assets/*.js")]):
        text = path.read_text(encoding="utf-8")
        name = path.relative_to(DOCS).as_posix()
        if language and name in HAND_WRITTEN:
            text = worded(text, language.text)
        elif language:
            text = worded_script(text, path.name, language.text)
        yield name, text


def with_switch(
    files: Mapping[str, str], language: str, titles: Mapping[str, str], there: Mapping[str, set[str]]
) -> Texts:
    """The pages of a language, each leading to itself in the others. `titles` is what each language calls itself, and
    `there` are the pages that it has."""
    switched = Texts(files)
    for name in files:
        if name.endswith(".md"):
            switched[name] = _switched(files[name], name, language, titles, there)
    return switched


_TITLE = re.compile(r"^# .*$", re.MULTILINE)


def _switched(text: str, name: str, language: str, titles: Mapping[str, str], there: Mapping[str, set[str]]) -> str:
    languages = list(titles)
    here = posixpath.dirname(folder_of(language, languages) + name)
    links = [
        f"[{escape(title)}]({posixpath.relpath(folder_of(other, languages) + name, here or '.')})"
        f"{{ .bw-language hreflang={other} lang={other} }}"
        for other, title in titles.items()
        if other != language and name in there[other]
    ]
    if not links:
        return text
    return _TITLE.sub(lambda title: f"{title[0]}\n\n{' '.join(links)}", text, count=1)


_SCRIPT_OF = re.compile(r'(src="(?:\.{1,2}/)*)(assets/[a-z-]+\.js")')


def with_own_scripts(output: str, folder: str) -> str:
    """A finished page with the scripts of its language's folder."""
    return _SCRIPT_OF.sub(rf"\g<1>{folder}\g<2>", output) if folder else output
