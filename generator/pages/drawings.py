"""The drawings of one page: what they say alike stands once."""

from __future__ import annotations

import re
from functools import cache

from markupsafe import Markup

from ..figures.parts import patterns

_SHARED = "bw"
_DRAWING = re.compile(r'<svg\b[^>]* class="bw-figure">.*?</svg>', re.DOTALL)
_DEFS = re.compile(r"<defs>(?:<pattern\b.*?</pattern>)+</defs>")
_PAINT = re.compile(r"url\(#[\w-]+-(\w+)\)")
_LINE = r' fill="none" stroke="#000000" stroke-width="([\d.]+)" class="bw-ink"'
_EDGED = re.compile(rf'<path d="([^"]*)" fill="([^"]*)"( class="[^"]*")?/><path d="\1"{_LINE}/>')
_POLYLINE = re.compile(r"M(-?\d+\.\d\d) (-?\d+\.\d\d)((?:L-?\d+\.\d\d -?\d+\.\d\d)+)")
_FILLED = re.compile(r' fill="(#\w+|url[^"]*)"')
_GROUP = re.compile(r'<g( data-part="[^"]*">)?|</g>')
# Lines one after the other that are drawn alike.
_RUN = re.compile(
    r'<path d="[^"]*"(?P<drawn>(?: stroke-(?:width|dasharray)="[^"]*")*)/>(?:<path d="[^"]*"(?P=drawn)/>)+'
)
# A number with a zero at its end that says nothing.
_PADDED = re.compile(r'(?<=[" MLQA])(-?\d+)(?:\.00|(\.\d)0)(?=[" LlQAZ])')
_DATA = re.compile(r' d="([^"]*)"')
_LETTERING = ' fill="#000000" stroke="none" class="bw-text"'
_DOT = ' fill="#000000" stroke="none" class="bw-solid"'
_INKED = re.compile(rf"<text [^>]*{_LETTERING}>.*?</text>|<circle [^>]*{_DOT}/>")

# The materials' patterns. Shown whatever the shop is, because a pattern that is not shown paints nothing.
PATTERNS = Markup(
    '<div class="bw-patterns" data-scripts="hatch.js"><svg width="0" height="0" aria-hidden="true">{}</svg></div>'
).format(Markup(patterns(_SHARED)))


def lightened(page: str, *, named: bool = False) -> str:
    """A page that holds PATTERNS: its drawings take them from there, and each says once how its lines and its words are
    drawn. Their parts keep their names only where they are `named`, for a style sheet that asks for them."""
    return _DRAWING.sub(lambda drawing: _lighter(drawing[0], named), page)


def _lighter(drawing: str, named: bool) -> str:
    drawing = _PAINT.sub(rf"url(#{_SHARED}-\1)", _DEFS.sub("", drawing))
    # An area and its edge are one shape. Its paint is set aside, for it alone has both.
    drawing = _EDGED.sub(r'<path d="\1" paint="\2" stroke-width="\4"\3/>', drawing)
    drawing = _FILLED.sub(r' fill="\1" stroke="none"', drawing).replace(" paint=", " fill=")
    drawing = re.sub(_LINE, r' stroke-width="\1"', drawing).replace(' stroke-width="0.25"', "")
    drawing = _POLYLINE.sub(_stepwise, drawing)
    if not named:
        drawing = _RUN.sub(_as_one, _together(_nameless(drawing)))
    lines = 'fill="none" stroke="#000000" stroke-width="0.25" class="bw-figure bw-ink"'
    # The page's letters are its drawings' as well.
    drawing = drawing.replace(' font-family="system-ui, sans-serif"', "", 1)
    drawing = _PADDED.sub(r"\1\2", drawing).replace('class="bw-figure"', lines, 1)
    return drawing.replace('"#000000"', '"#000"').replace('"#ffffff"', '"#fff"')


def _nameless(drawing: str) -> str:
    """A drawing without the groups that only name a part."""
    only_names: list[bool] = []

    def tag(found: re.Match[str]) -> str:
        if found[0] != "</g>":
            only_names.append(bool(found[1]))
            return "" if found[1] else found[0]
        return "" if only_names.pop() else found[0]

    return _GROUP.sub(tag, drawing)


def _together(drawing: str) -> str:
    """The words and their dots in one group, on top of all else, where no group moves or clips them."""
    inked = _INKED.findall(drawing)
    if not inked or "<g" in drawing:
        return drawing
    ours = "".join(inked).replace(_LETTERING, "").replace(_DOT, "").replace(' text-anchor="start"', "")
    return _INKED.sub("", drawing).replace("</svg>", f"<g{_LETTERING}>{ours}</g></svg>")


def _as_one(run: re.Match[str]) -> str:
    """Lines drawn alike, as one of several strokes."""
    return f'<path d="{"".join(_DATA.findall(run[0]))}"{run["drawn"]}/>'


def _stepwise(line: re.Match[str]) -> str:
    """A line whose points are told by the way from one to the next: the same to the hundredth."""
    written, before, x, y = [f"M{line[1]} {line[2]}l"], "", _hundredths(line[1]), _hundredths(line[2])
    for point in line[3][1:].split("L"):
        to_x, to_y = map(_hundredths, point.split(" "))
        for step in (_step(to_x - x), _step(to_y - y)):
            # A sign or a second point parts two numbers as well as a space does.
            close = not before or step[0] == "-" or (step[0] == "." and "." in before)
            written.append(step if close else f" {step}")
            before = step
        x, y = to_x, to_y
    return "".join(written)


def _hundredths(number: str) -> int:
    return int(number.replace(".", ""))


@cache
def _step(hundredths: int) -> str:
    """A number with no zero that it does not need."""
    text = f"{abs(hundredths) / 100:.2f}".rstrip("0").rstrip(".")
    text = text.removeprefix("0") or "0"
    return f"-{text}" if hundredths < 0 else text
