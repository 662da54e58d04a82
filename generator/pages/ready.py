"""Ready HTML in a page: cut out before a site generator reads the page's Markdown, and put in when it has done.

Drawings, formulas, tables of numbers and forms are finished when a page is made. A Markdown parser would only go
through them tag by tag, and a search index would fill up with numbers that nobody looks for.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

# None of these holds one of its own kind.
_READY = re.compile(
    r"<(svg|math)\b.*?</\1>"
    r'|<table class="bw-(?:sizes|symbols|givens|checks)">.*?</table>'
    r'|<ol class="bw-trail">.*?</ol>'
    r'|<dl class="bw-sources" data-search-exclude>.*?</dl>'
    r'|<section class="bw-live" .*?</section>',
    re.DOTALL,
)
_TOLD = re.compile(r'<table class="bw-(?:sizes|symbols)">')
_CELL = re.compile(r"<(td|th scope=\"row\")[^>]*>(.*?)</t[dh]>")
_TAG = re.compile(r"<math\b.*?</math>|<[^>]*>")
_WORD = re.compile(r"[^\W\d_]{4}")
_PLACE = re.compile(r"<!--ready (\d+)-->(?:<p>[^<]*</p>)?")


def cut(page: str) -> tuple[str, list[str]]:
    """A page's Markdown with a comment in the place of each ready piece, and the pieces."""
    pieces: list[str] = []

    def place(found: re.Match[str]) -> str:
        pieces.append(found[0])
        return f"<!--ready {len(pieces) - 1}-->"

    return _READY.sub(place, page), pieces


def for_search(page: str, pieces: Sequence[str]) -> str:
    """A converted page as it is indexed: in a table's place stand its names and notes, without the numbers."""

    def words(found: re.Match[str]) -> str:
        piece = pieces[int(found[1])]
        if not _TOLD.match(piece):
            return found[0]
        cells = (_TAG.sub(" ", cell[2]) for cell in _CELL.finditer(piece))
        named = dict.fromkeys(" ".join(cell.split()) for cell in cells if _WORD.search(cell))
        return f"{found[0]}<p>{'; '.join(named)}</p>" if named else found[0]

    return _PLACE.sub(words, page)


def put_in(page: str, pieces: Sequence[str]) -> str:
    """The finished page with its pieces in place of the comments."""
    return _PLACE.sub(lambda found: pieces[int(found[1])], page)
