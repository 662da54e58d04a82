"""Ready HTML in a page: cut out before a site generator reads the page's Markdown, and put in when it has done.

Every element without a heading and without Markdown is finished when a page is made: drawings, formulas, tables of
numbers, the words of a step. A Markdown parser would only go through it tag by tag.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import unescape

from .texts import Texts

# An element at the beginning of a line; none that is marked for the parser.
_ELEMENT = re.compile(r"\n<(p|div|section|aside|table|ol|ul|dl|figure|fieldset|style)\b(?![^>]*\smarkdown=)[^>]*>")
# What a parser has to see in one: what is marked for it, and what goes into the list of contents.
_MARK = " markdown="
_HEADING = re.compile("<h[1-6]")
# Its headings do not go there.
_FORM = '<section class="bw-live" '
_PLACE = re.compile(r"<!--ready (\d+)-->")


def cut(page: str) -> tuple[str, Texts]:
    """A page's Markdown with a comment in the place of each ready piece, and the pieces by their numbers."""
    rest: list[str] = []
    pieces = Texts()
    done = 0
    for begin, end in _elements(page):
        number = str(len(pieces))
        rest.append(f"{page[done:begin]}<!--ready {number}-->")
        pieces[number] = page[begin:end]
        done = end
    return "".join(rest) + page[done:], pieces


def _elements(page: str) -> list[tuple[int, int]]:
    """Where runs of elements begin and end that Markdown has no say in."""
    runs: list[tuple[int, int]] = []
    at = 0
    while found := _ELEMENT.search(page, at):
        begin, end = found.start() + 1, _end(page, found)
        marked = page.find(_MARK, begin, end) > 0
        headed = _HEADING.search(page, begin, end) and not page.startswith(_FORM, begin)
        if marked or headed or not page.startswith("\n", end):
            at = found.end()
            continue
        if runs and not page[runs[-1][1] : begin].strip():
            begin = runs.pop()[0]
        runs.append((begin, end))
        at = end
    return runs


def _end(page: str, begun: re.Match[str]) -> int:
    """Where an element ends."""
    tag, opened, end = begun[1], 1, begun.end()
    while opened:
        closed = page.index(f"</{tag}>", end)
        opened += page.count(f"<{tag} ", end, closed) + page.count(f"<{tag}>", end, closed) - 1
        end = closed + len(f"</{tag}>")
    return end


def put_in(page: str, pieces: Mapping[str, str]) -> str:
    """The finished page with its pieces in place of the comments."""
    return _PLACE.sub(lambda found: pieces[found[1]], page)


# What blanks mean something in.
VERBATIM = re.compile(r"(<(?:pre|script|textarea)\b.*?</(?:pre|script|textarea)>)", re.DOTALL)


_BETWEEN = r"</?(?:li|ul|ol|nav|div|table|thead|tbody|tr|td|th|p|summary|figcaption|link|meta)(?: [^<>]*)?>"
# With what a part begins that may be looked at by itself: what stands before it says nothing of it.
_SECTION = "<h2"
_TAG = re.compile(_BETWEEN.removesuffix(">"))
# What a theme's templates leave. Each begins with letters of its own, which is what is looked for.
_THEMES = (
    (re.compile(r'class="md-nav__link([^<>]*>)\s+'), r'class="md-nav__link\1'),
    (re.compile(r'<span class="md-ellipsis">\s+'), '<span class="md-ellipsis">'),
    (re.compile(r'(<span class="md-ellipsis">[^<]*</span>)\s+(?=</(?:a|label)>)'), r"\1"),
    (re.compile(">&para;</a>"), ">¶</a>"),
)
# What templates leave, and what says to a page's SVG what HTML knows by itself.
_LOOSE = (
    (re.compile(r"\n\s+"), "\n"),
    (re.compile(rf"\n(?={_BETWEEN})"), ""),
    (re.compile(r'(<svg\b[^<>]*?) xmlns="http://www\.w3\.org/2000/svg"'), r"\1"),
)


def in_frame(page: str) -> str:
    """A page without the blanks in the theme's links and labels."""
    for loose, kept in _THEMES:
        page = loose.sub(kept, page)
    return page


def tight(page: str) -> str:
    """A page without the blank lines, the indents and the line breaks round its blocks, a twentieth of a card."""
    parts = VERBATIM.split(page)
    del page  # a long one is held as few times as can be
    for place in range(0, len(parts), 2):
        sections = parts[place].split(_SECTION)
        parts[place] = ""
        for number, section in enumerate(sections):
            sections[number] = _tightened(f"{_SECTION}{section}" if number else section)
        parts[place] = "".join(sections)
    return "".join(parts)


def _tightened(part: str) -> str:
    for loose, kept in _LOOSE:
        part = loose.sub(kept, part)
    return _closed_up(_ended(part))


_LINK_ENDS = re.compile(r"\s*</(?:a|label)>")


def _ended(text: str) -> str:
    """A text without the blanks at the end of the words of a link or a label."""
    spans = text.split("</span>")
    for place, after in enumerate(spans[1:]):
        if _LINK_ENDS.match(after):
            spans[place] = spans[place].rstrip()
    return "</span>".join(spans)


def _closed_up(text: str) -> str:
    """A text without the line breaks behind the tags round its blocks."""
    parts, done, end = [], 0, text.find(">\n")
    while end >= 0:
        if _TAG.fullmatch(text, text.rfind("<", 0, end), end):
            parts.append(text[done : end + 1])
            done = end + 2
        end = text.find(">\n", end + 1)
    return "".join([*parts, text[done:]])


_PURPOSE = re.compile(r'<p class="bw-purpose[^>]*>(.*?)</p>', re.DOTALL)
_OTHER_SHOP = re.compile(r'<span class="bw-(?:or|inch)">.*?</span>', re.DOTALL)


_FIRST = re.compile(r"<p>(.*?)</p>", re.DOTALL)


def purpose(page: str, says: str = "") -> str:
    """What a page says that it is for, as plain text in the first shop's words; else what others say, else its first
    words."""
    found = _PURPOSE.search(page)
    if says and not found:
        return says
    found = found or _FIRST.search(page)
    return " ".join(unescape(re.sub(r"<[^>]*>", "", _OTHER_SHOP.sub("", found[1]))).split()) if found else ""
