"""The drawings of one page: what they say alike stands once."""

from __future__ import annotations

import re

from markupsafe import Markup

from ..figures.parts import patterns

_SHARED = "bw"
_DRAWING = re.compile(r'<svg\b[^>]* class="bw-figure">.*?</svg>', re.DOTALL)
_DEFS = re.compile(r"<defs>(?:<pattern\b.*?</pattern>)+</defs>")
_PAINT = re.compile(r"url\(#[\w-]+-(\w+)\)")
_LINE = r' fill="none" stroke="#000000" stroke-width="([\d.]+)" class="bw-ink"'
_EDGED = re.compile(rf'<path d="([^"]*)" fill="([^"]*)"( class="[^"]*")?/><path d="\1"{_LINE}/>')
_FILLED = re.compile(r' fill="(#\w+|url[^"]*)"')

# The materials' patterns. Shown whatever the shop is, because a pattern that is not shown paints nothing.
PATTERNS = Markup(
    '<div class="bw-patterns" data-scripts="hatch.js"><svg width="0" height="0" aria-hidden="true">{}</svg></div>'
).format(Markup(patterns(_SHARED)))


def lightened(page: str) -> str:
    """A page that holds PATTERNS: its drawings take them from there, and each says once how its lines are drawn."""
    return _DRAWING.sub(lambda drawing: _lighter(drawing[0]), page)


def _lighter(drawing: str) -> str:
    drawing = _PAINT.sub(rf"url(#{_SHARED}-\1)", _DEFS.sub("", drawing))
    # An area and its edge are one shape. Its paint is set aside, for it alone has both.
    drawing = _EDGED.sub(r'<path d="\1" paint="\2" stroke-width="\4"\3/>', drawing)
    drawing = _FILLED.sub(r' fill="\1" stroke="none"', drawing).replace(" paint=", " fill=")
    drawing = re.sub(_LINE, r' stroke-width="\1"', drawing).replace(' stroke-width="0.25"', "")
    lines = 'fill="none" stroke="#000000" stroke-width="0.25" class="bw-figure bw-ink"'
    return drawing.replace('class="bw-figure"', lines, 1)
