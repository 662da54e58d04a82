"""The words of a script that ships, found and put into another language. A script carries no marks for it: a text in
quotes that reads like a sentence is one, and what is put into it stands as a name in braces."""

from __future__ import annotations

import re

from ..language import has_words
from .worded import Say

# Words that stand alone and are told to the reader, by script: they look like any other key.
_ALONE = {
    "own.js": {"lower", "higher"},
    "search.js": {"page", "pages"},
    "card.js": {"over"},
}
_PIECE = re.compile(
    r"""(?P<comment>/\*.*?\*/|//[^\n]*)
      | (?P<text>"(?:[^"\\\n]|\\.)*")
      | (?P<open>`)
      | (?P<pattern>(?<=[(,=:\[!&|?{};+>])[ ]*/(?![*/])(?:[^/\\\n\[]|\\.|\[(?:[^\]\\\n]|\\.)*\])+/[a-z]*)
      | (?P<brace>[{}])
      | (?P<code>[^/"`{}]+|.)
    """,
    re.VERBOSE | re.DOTALL,
)
# What a browser or a style sheet reads.
_CODE = re.compile(
    r"use strict|^input, select$|^a, label|^mm cm |^[a-z]+: $|bw-|^[.#\[<:*@]|^\W*$|[{};=]"
    r"|^(?:Escape|Enter|Arrow\w+|Home|End|Tab)$|\w\(|^\w+/\w"
)
_UNITS = re.compile(r"(?:mm|in|[\s()])*")
_PROSE = re.compile(r"[A-Za-z]{2,}[.,:]? [A-Za-z$'{(]|^[A-Z][a-z]{2,}[ .:]?|\} [a-z]{2,}\.?$")


def worded_script(source: str, name: str, say: Say) -> str:
    """The script of this name with each of its texts as `say` has it."""
    return "".join(_code(source, 0, name, say, closed=False)[0])


def words_of_script(source: str, name: str) -> list[str]:
    """All texts of a script, in their order."""
    found: list[str] = []

    def collect(text: str) -> str:
        found.append(text)
        return text

    worded_script(source, name, collect)
    return list(dict.fromkeys(found))


def _code(source: str, at: int, name: str, say: Say, *, closed: bool) -> tuple[list[str], int]:
    """Code from a place on, to its end or, where it stands within a text, to the brace that closes it."""
    out: list[str] = []
    depth = 0
    while at < len(source):
        piece = _PIECE.match(source, at)
        assert piece
        kind, text, at = piece.lastgroup, piece[0], piece.end()
        if kind == "text":
            text = f'"{_said(text[1:-1], {}, name, say)}"'
        elif kind == "open":
            text, at = _template(source, at, name, say)
        elif kind == "brace":
            depth += 1 if text == "{" else -1
            if closed and depth < 0:
                return out, at
        out.append(text)
    return out, at


def _template(source: str, at: int, name: str, say: Say) -> tuple[str, int]:
    """A text in back quotes, from behind the first."""
    written, values = "", dict[str, str]()
    while source[at] != "`":
        if source[at] == "\\":
            written, at = written + source[at : at + 2], at + 2
        elif source.startswith("${", at):
            start = at + 2
            code, at = _code(source, start, name, say, closed=True)
            shown = _name_of(source[start : at - 1], values)
            values[shown] = f"${{{''.join(code)}}}"
            written += f"{{{shown}}}"
        else:
            written, at = written + source[at], at + 1
    return f"`{_said(written, values, name, say)}`", at + 1


def _name_of(code: str, taken: dict[str, str]) -> str:
    words = re.findall(r"[A-Za-z_]\w*", re.sub(r'"[^"]*"|`[^`]*`', "", code)) or ["value"]
    return next(one for number in range(1, 100) if (one := f"{words[-1]}{number if number > 1 else ''}") not in taken)


def _said(written: str, values: dict[str, str], name: str, say: Say) -> str:
    """What stands between the quotes, in the other language where it is a text."""
    bare = re.sub(r"\{\w+\}", "", written)
    text = written.strip()
    if has_words(bare) and (
        text in _ALONE.get(name, ()) or (_PROSE.search(text) and not _CODE.search(bare) and not _UNITS.fullmatch(bare))
    ):
        lead, tail = written[: len(written) - len(written.lstrip())], written[len(written.rstrip()) :]
        said = say(text)
        if said != text:
            written = lead + re.sub(r'(["`])', r"\\\1", said) + tail
    return re.sub(r"\{(\w+)\}", lambda found: values.get(found[1], found[0]), written)
