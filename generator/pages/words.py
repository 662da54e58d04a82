"""Text into HTML: everything escaped, and each worked value once a shop."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup, escape

from ..job import Job
from ..model.prose import Value, parts
from ..notation import GREEK
from ..units import System

Jobs = Mapping[System, Job]

# What Markdown would read as markup in a heading or a line of its own.
_MARKDOWN = {ord(sign): f"&#{ord(sign)};" for sign in "\\`*_{}[]#<>&~^=$"}


def for_each_shop(texts: Mapping[System, str]) -> Markup:
    """The text of each shop, marked so that one of them is shown; one text when they agree."""
    if len(set(texts.values())) == 1:
        return escape(next(iter(texts.values())))
    spans = [Markup('<span class="bw-{}">{}</span>').format(system, text) for system, text in texts.items()]
    return Markup('<span class="bw-or"> or </span>').join(spans)


def prose(text: str, jobs: Jobs) -> Markup:
    """A text of a card with its values put in."""
    return Markup("").join(
        for_each_shop({system: value_text(part.name, job) for system, job in jobs.items()})
        if isinstance(part, Value)
        else escape(part)
        for part in parts(text)
    )


def value_text(name: str, job: Job) -> str:
    """A symbol's value rounded for the shop, or the title of what was chosen."""
    return job.titles[name] if name in job.titles else job.shop(name)


def symbol_html(name: str) -> Markup:
    """A symbol's letter with its index."""
    letter, _, index = name.partition("_")
    letter = GREEK.get(letter, letter)
    return Markup("<i>{}</i><sub>{}</sub>").format(letter, index) if index else Markup("<i>{}</i>").format(letter)


def markdown_text(text: str) -> Markup:
    """Plain text where Markdown is read: nothing in it is markup."""
    return Markup(" ".join(text.split()).translate(_MARKDOWN))
