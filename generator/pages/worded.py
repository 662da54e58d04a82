"""The words of a source that is written by hand, found and put into another language: a template's or a page's.

A template carries no marks for it. A stretch of words between block tags, lines of their own and statements is one
text; a value in it stands as its name in braces, and a tag by its bare name: `worked for {thread} <b>each</b>`. So no
word can be forgotten, and English pages cannot change by it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, MutableMapping
from pathlib import PurePosixPath
from typing import Any

import yaml
from jinja2 import BaseLoader, Environment
from markdown.extensions.toc import slugify

from ..language import Language, has_words

# What an English text is in another language; it itself where nobody has said.
Say = Callable[[str], str]

_INLINE = {"a", "abbr", "b", "br", "code", "em", "i", "kbd", "small", "span", "strong", "sub", "sup"}
_TOKEN = re.compile(
    r"""(?P<apart>\A(?:\{\#.*?\#\}\s*)?---\n.*?\n---$|\{\#.*?\#\}|<!--.*?-->
          |<style.*?</style>|<script.*?</script>|^```.*?^```[ \t]*$)
      | (?P<statement>\{%.*?%\})
      | (?P<value>\{\{.*?\}\})
      | (?P<tag></?(?P<name>[a-zA-Z][a-zA-Z0-9]*)(?:\{\{.*?\}\}|\{%.*?%\}|"[^"]*"|[^<>"])*>)
      | (?P<sign>^[ \t]*(?:[-*>]|\d+\.|\#{1,6})[ \t]+)
      | (?P<gap>\n[ \t]*\n\s*|[ \t]*\{:?[ \t]*[.\#][^{}]*\}|[ \t]*\|[-|: \t]*)
      | (?P<text>[^\n{<|]+|.)
    """,
    re.VERBOSE | re.DOTALL | re.MULTILINE,
)
# An attribute that a reader is told.
_TOLD = re.compile(r'(?<= )(aria-label|title|alt|placeholder)="([^"]*)"')
# A text within a value or a statement, that is read as prose.
_LITERAL = re.compile(r'(?<=")([^"\n]*)(?="\s*\|\s*(?:prose|linked))|(?<= = ")([^"\n]*)(?="\s*%\})')
# A word that a template marks by hand.
MARKED = re.compile(r'\b_\("([^"]*)"\)')
_PUT = re.compile(r"\{(\w+)\}|<(\w+?)/?>|</([a-z]+)\d*>")


def worded(source: str, say: Say) -> str:
    """The source with each of its texts as `say` has it."""
    out: list[str] = []
    run: list[re.Match[str]] = []
    heading = False
    for token in _TOKEN.finditer(source):
        kind = token.lastgroup if token.lastgroup != "name" else "tag"
        if kind in ("text", "value") or (kind == "tag" and token["name"].lower() in _INLINE):
            run.append(token)
            continue
        out.append(_said(run, say, heading=heading and kind == "gap" and token[0].startswith("\n")))
        run = []
        heading = kind == "sign" and "#" in token[0]
        out.append(_attributes(token[0], say) if kind == "tag" else _literals(token[0], say))
    out.append(_said(run, say, heading=heading))
    return "".join(out)


def _literals(code: str, say: Say) -> str:
    """A value or a statement with the prose that is written in it."""
    return _LITERAL.sub(lambda found: say(found[0]).replace('"', r"\"") if has_words(found[0]) else found[0], code)


def _attributes(tag: str, say: Say) -> str:
    return _TOLD.sub(lambda found: f'{found[1]}="{worded(found[2], lambda text: _quoted(say(text)))}"', tag)


def _quoted(text: str) -> str:
    """A text that stands between double quotes."""
    return text.replace('"', "&quot;")


def _said(run: list[re.Match[str]], say: Say, *, heading: bool) -> str:
    """A stretch of words and values, with what only frames it left as it is."""
    first, last = _bounds(run)
    inside = run[first:last]
    texts = "".join(token[0] for token in inside if token.lastgroup == "text")
    if not has_words(texts):
        return "".join(_whole(token, say) for token in run)
    before, after = ("".join(_whole(token, say) for token in part) for part in (run[:first], run[last:]))
    names: dict[str, str] = {}
    written = "".join(_shown(token, names) for token in inside)
    english = " ".join(written.split())
    said = say(english)
    lead, tail = (found[0] if (found := re.search(sign, written)) else "" for sign in (r"^\s+", r"\s+$"))
    if said == english:
        text = "".join(_whole(token, say) for token in inside)
    else:
        back = {name: _whole_text(code, say) for code, name in names.items()}
        text = lead + _PUT.sub(lambda found: _back(found, back), said) + tail
    anchor = f" {{: #{slugify(english, '-')} }}" if heading and said != english and not names else ""
    return before + text + anchor + after


def _back(found: re.Match[str], back: MutableMapping[str, str]) -> str:
    if found[3]:
        return f"</{found[3]}>"
    return back.get(found[0].replace("/>", ">"), found[0])


def _bounds(run: list[re.Match[str]]) -> tuple[int, int]:
    """Where the words begin and end: tags that frame all of it, or whose other half is elsewhere, are outside."""
    first, last = 0, len(run)
    while first < last:
        names = [_half(token) for token in run[first:last]]
        head, tail = names[0], names[-1]
        if not run[first][0].strip():
            first += 1
        elif not run[last - 1][0].strip():
            last -= 1
        elif head.startswith("/") or (head and f"/{head}" not in names):
            first += 1
        elif tail and (not tail.startswith("/") or tail[1:] not in names):
            last -= 1
        elif head and tail == f"/{head}" and names.count(tail) == 1:
            first, last = first + 1, last - 1
        else:
            break
    return first, last


def _half(token: re.Match[str]) -> str:
    """The name of a tag, with a stroke where it closes; nothing for words, values, and a tag that stands alone."""
    if not token["name"] or token["name"] == "br":
        return ""
    return f"/{token['name']}" if token[0].startswith("</") else token["name"]


def _shown(token: re.Match[str], names: dict[str, str]) -> str:
    """A token as a translator reads it."""
    code = token[0]
    if token.lastgroup == "text" or code.startswith("</"):
        return code
    if code in names:
        return names[code]
    if token["name"]:
        return _named(code, token["name"], names, "<{}>")
    braced = re.search(r'"\{(\w+)\}"', code)
    words = re.findall(r"[A-Za-z_]\w*", re.sub(r'"[^"]*"', "", code.strip("{}").split("|")[0]))
    return _named(code, braced[1] if braced else words[-1] if words else "text", names, "{{{}}}")


def _named(code: str, name: str, names: dict[str, str], form: str) -> str:
    taken = set(names.values())
    told = next(
        one for number in range(1, 100) if (one := form.format(f"{name}{number if number > 1 else ''}")) not in taken
    )
    names[code] = told
    return told


def _whole(token: re.Match[str], say: Say) -> str:
    return _whole_text(token[0], say)


def _whole_text(code: str, say: Say) -> str:
    """A value or a tag with the texts in it."""
    return _attributes(code, say) if code.startswith("<") else _literals(code, say) if code.startswith("{") else code


def words_of(source: str) -> list[str]:
    """All texts of a source, in their order."""
    found: list[str] = []

    def collect(text: str) -> str:
        found.append(text)
        return text

    worded(source, collect)
    return list(dict.fromkeys([*found, *MARKED.findall(source)]))


# The keys of a card, a table and a job sheet that hold what a reader is told.
_PROSE = (
    "ask",
    "boat",
    "do",
    "name",
    "not_when",
    "purpose",
    "said",
    "see",
    "title",
    "use_when",
    "what",
    "where",
    "wrong",
)


def words_of_yaml(source: str) -> list[str]:
    """The texts of a first file of one's own, in their order; what is put in for it by name is none."""

    def told(part: object, key: str = "") -> Iterator[str]:
        if isinstance(part, dict):
            for name, one in part.items():
                yield from told(one, name)
        elif isinstance(part, list):
            for one in part:
                yield from told(one, key)
        elif isinstance(part, str) and key in _PROSE and not part.startswith("$"):
            yield part.strip()

    return list(dict.fromkeys(told(yaml.safe_load(source))))


def worded_yaml(source: str, say: Say) -> str:
    """A first file of one's own with each of its texts as `say` has it; its group is known by the English one."""
    before = r'(?m)(?<!group: )(?:(?<=[-:] )(?P<quote>"?)|(?<=^  ))'
    for text in sorted(words_of_yaml(source), key=len, reverse=True):
        if (said := say(text)) == text:
            continue
        quoted = json.dumps(said, ensure_ascii=False) if re.search(r"[,:#{}\[\]]", said) else said

        def put(found: re.Match[str], said: str = said, quoted: str = quoted) -> str:
            return quoted if found["quote"] == "" else (found["quote"] or "") + said

        source = re.sub(before + re.escape(text), put, source)
    return source


# What a comment says: it begins with a capital letter, or what it offers to fill in does.
_REMARK = re.compile(r"(?m)(?P<before>^ *# (?:\w+: )?)(?P<text>[A-Z]\S* .*)$")


def remarks_of(source: str) -> list[str]:
    """What the comments of a first file say, to whoever fills it in."""
    return [remark["text"] for remark in _REMARK.finditer(source)]


def worded_remarks(source: str, say: Say) -> str:
    """A first file with each of its comments as `say` has it."""
    return _REMARK.sub(lambda remark: remark["before"] + say(remark["text"]), source)


class WordedLoader(BaseLoader):
    """A loader of templates in another language."""

    def __init__(self, loader: BaseLoader, language: Language):
        self.loader = loader
        self.language = language

    def get_source(self, environment: Environment, template: str) -> tuple[str, str | None, Any]:
        """The template's source with its words in the language."""
        source, file, fresh = self.loader.get_source(environment, template)
        if PurePosixPath(template).suffix == ".j2":
            source = worded(source, self.language.text)
        return source, file, fresh
