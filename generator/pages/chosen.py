"""Which of the pages there are a site has, in which order; and no link that leads to one that it has not."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from ..errors import Fault
from ..language import in_order
from ..model.chooser import Chooser
from ..model.jobsheet import JobSheet
from ..model.library import Library
from ..model.schema import Card, Groups, Table
from .options import SiteOptions

T = TypeVar("T")
S = TypeVar("S", Card, Table)


@dataclass(frozen=True)
class Chosen:
    """The cards, tables and job sheets of a site, each in the order of its pages, what leads to a card, and whether it
    is all there is."""

    cards: dict[str, Card]
    tables: dict[str, Table]
    jobs: dict[str, JobSheet]
    spoilt: dict[str, list[Fault]]
    chooser: Chooser | None
    whole: bool
    groups: Groups

    @property
    def cards_by_group(self) -> dict[str, dict[str, Card]]:
        """The cards under the headings of the index, in the order in which they are read."""
        return _grouped(self.cards, self.groups.cards)

    @property
    def tables_by_group(self) -> dict[str, dict[str, Table]]:
        """Reference tables under the headings that they name, each by title. Index and menu have them in this order."""
        return _grouped(dict(sorted(self.tables.items(), key=lambda item: in_order(item[1].title))), self.groups.tables)


def chosen(library: Library, options: SiteOptions) -> Chosen:
    """What the options choose; where they choose nothing, all there is."""
    cards = _picked(library, "cards", library.cards, options.cards)
    chooser = library.chooser
    choices = [choice for choice in chooser.choices if choice.card in cards] if chooser else []
    tables = _picked(library, "tables", library.reference, options.tables)
    jobs = _picked(library, "jobs", library.job_sheets, options.jobs)
    spoilt = _picked(library, "jobs", library.spoilt, options.jobs)
    whole = (*cards, *tables, *jobs, *spoilt) == (
        *library.cards,
        *library.reference,
        *library.job_sheets,
        *library.spoilt,
    ) and not library.left_out
    chooser = chooser.model_copy(update={"choices": choices}) if chooser and choices else None
    return Chosen(cards, tables, jobs, spoilt, chooser, whole, library.groups)


def _grouped(sheets: Mapping[str, S], headings: Sequence[str]) -> dict[str, dict[str, S]]:
    """The sheets under the headings, and then under those that only they name, from a to z."""
    named = {sheet.group for sheet in sheets.values()}
    ordered = [heading for heading in headings if heading in named] + sorted(named - {*headings}, key=in_order)
    return {heading: {name: one for name, one in sheets.items() if one.group == heading} for heading in ordered}


def _picked(library: Library, folder: str, there: Mapping[str, T], names: Iterable[str] | None) -> dict[str, T]:
    wanted = there if names is None else names
    return {name: there[name] for name in wanted if name in there and f"{folder}/{name}.yaml" not in library.left_out}


# With the attributes that go with it.
_LINK = re.compile(r"\[((?:[^\[\]\n\\]|\\.)*)\]\(([^()\s#?]+\.md)([?#][^()\s]*)?\)(?:\{ [^{}\n]* \})?")
# A line of a list or of a table that begins with a link, or a row that ends in one: it is there for the link alone.
_LEADS = re.compile(rf"(?:[-*]|\d+\.) {_LINK.pattern}|\|.*\| {_LINK.pattern}[^|]*\|$")
# A line of nothing but links: it is there for those that lead somewhere.
_APART = " · "
_ONLY_LINKS = re.compile(rf"{_LINK.pattern}(?:{_APART}{_LINK.pattern})*")


def without_dead_links(files: Mapping[str, str], others: Collection[str]) -> dict[str, str]:
    """The pages with no link to a page that is not among them or the others. A line that only leads there goes, and a
    link among links; elsewhere the words stay."""
    there = {*files, *others}

    def is_dead(page: str, link: str) -> bool:
        return posixpath.normpath(posixpath.join(posixpath.dirname(page), link)) not in there

    def mended(page: str, line: str) -> str | None:
        dead = [link for _, link, _ in _LINK.findall(line) if is_dead(page, link)]
        if not dead:
            return line
        if _LEADS.match(line) and len(dead) == len(_LINK.findall(line)):
            return None
        if _ONLY_LINKS.fullmatch(line):
            return _APART.join(found[0] for found in _LINK.finditer(line) if not is_dead(page, found[2])) or None
        return _LINK.sub(lambda found: found[1] if is_dead(page, found[2]) else found[0], line)

    return {
        name: "\n".join(one for line in text.split("\n") if (one := mended(name, line)) is not None)
        if name.endswith(".md")
        else text
        for name, text in files.items()
    }


_SOURCE = re.compile(r"source-([a-z0-9-]+)")


def named_sources(files: Mapping[str, str]) -> set[str]:
    """The sources that pages name."""
    return {key for text in files.values() for key in _SOURCE.findall(text)}
