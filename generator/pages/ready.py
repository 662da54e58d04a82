"""Ready HTML in a page: cut out before a site generator reads the page's Markdown, and put in when it has done.

Drawings, formulas, tables of numbers and forms are finished when a page is made, and a Markdown parser would only go
through them tag by tag.
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
_PLACE = re.compile(r"<!--ready (\d+)-->")


def cut(page: str) -> tuple[str, list[str]]:
    """A page's Markdown with a comment in the place of each ready piece, and the pieces."""
    pieces: list[str] = []

    def place(found: re.Match[str]) -> str:
        pieces.append(found[0])
        return f"<!--ready {len(pieces) - 1}-->"

    return _READY.sub(place, page), pieces


def put_in(page: str, pieces: Sequence[str]) -> str:
    """The finished page with its pieces in place of the comments."""
    return _PLACE.sub(lambda found: pieces[int(found[1])], page)
