"""A Markdown extension that stops a build which left the plugin out.

A generator that reads the settings of MkDocs and runs no plugins would make a site without a card, and say nothing. It
does load Markdown's extensions, so that one of them can tell.
"""

from __future__ import annotations

from markdown import Extension, Markdown
from markdown.preprocessors import Preprocessor

from .errors import BondwrightError

_seen: set[str] = set()


def plugin_runs() -> None:
    """Say that the plugin is at work."""
    _seen.add("plugin")


class _Guard(Preprocessor):
    def run(self, lines: list[str]) -> list[str]:
        """The page as it is, where the plugin is at work."""
        if not _seen:
            raise BondwrightError(
                "the plugin 'bondwright' did not run, so this site would have no cards. What builds it runs no "
                "plugins: `bondwright write DIR` makes a folder that it can build"
            )
        return lines


class Guard(Extension):
    """The extension, `bondwright.guard` in the settings of a site."""

    def extendMarkdown(self, md: Markdown) -> None:
        """Look before anything else of a page is read."""
        md.preprocessors.register(_Guard(md), "bondwright", 1000)


def makeExtension(**settings: object) -> Guard:
    """How Markdown asks for the extension."""
    return Guard(**settings)
