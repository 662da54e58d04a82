"""What the commands say: in colour, and with a sign that moves while they work, where somebody looks at a terminal; the
plain text everywhere else."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.highlighter import RegexHighlighter
from rich.theme import Theme

from .errors import seen
from .language import later, tr

_STYLES = {"place": "bold", "caret": "bold red", "mind": "yellow", "heading": "bold"}
_ANSWER = (
    r"\A(?P<heading>\S.*)",
    r"(?m)(?<=\n\n)(?P<heading>[^\s:]+(?: [^\s:]+)*)$",
)
_REMARK = (r"(?m)^(?P<place>[^\s:][^:\n]*:\d+:\d+:)", r"(?m)^ +(?P<caret>\^)$", r"\A(?P<mind>mind:)")


def _console(*patterns: str, stderr: bool) -> Console:
    highlighter = type("Told", (RegexHighlighter,), {"highlights": patterns})()
    return Console(
        stderr=stderr, theme=Theme(_STYLES), highlighter=highlighter, markup=False, emoji=False, soft_wrap=True
    )


def answer(text: str) -> None:
    """Say what was asked for."""
    signs = (later("Mind: {warning}."), later("No number: {reason}."))
    told = "|".join(re.escape(tr(one).partition("{")[0]) for one in signs)
    _console(*_ANSWER, rf"(?m)^(?P<mind>{told})", stderr=False).print(text)


def remark(text: str) -> None:
    """Say what is wrong, or what to mind, beside the answer."""
    _console(*_REMARK, stderr=True).print(seen(text))


@contextmanager
def busy(what: str) -> Iterator[None]:
    """Show that something is being done."""
    with _console(stderr=True).status(what):
        yield
