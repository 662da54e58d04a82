"""A drilling aid at true size: where the holes go, the marks on the drills, and bars that prove the printer's scale.

Its drawing unit is the millimetre on paper, so that it is printed as wide as it says. Lengths come in metres.
"""

from __future__ import annotations

from collections.abc import Mapping

from ..language import tr
from ..quoted import escape
from .parts import THICK, THIN, Figure, element, group, line, number, solid, stroke

MM = 1000.0
INCH = 25.4
# The sheet fits between the margins of both papers. The first hole and the tip of the drill stand at ZERO.
WIDTH, ZERO, LENGTH = 190.0, 20.0, 165.0
LETTER, ROW, EDGE = 3.6, 5.0, 0.5
SCALE_BARS = ((100.0, "100 mm"), (4 * INCH, "4 in"))
# What the numerals of a rule count, in millimetres.
NUMBERED_IN: Mapping[str, float] = {"metric": 1.0, "inch": INCH}
# Long, middle and short marks of a rule by shop: their step in millimetres, their length, and every which of them is a
# longer one's, which is drawn already.
RULES = {
    "metric": ((10.0, 4.0, 0), (5.0, 3.0, 2), (1.0, 2.0, 5)),
    "inch": ((INCH, 4.0, 0), (INCH / 4, 3.0, 4), (INCH / 16, 2.0, 4)),
}


def drilling_aid(
    values: Mapping[str, float], texts: Mapping[str, str], thread: str, system: str, prefix: str
) -> Figure:
    """The aid of one thread.

    `values` holds D_o, D_g, a_h, M_o and M_g in metres, lengths as the shop rounds them, so that a mark stands where
    its label says; `texts` the same as printed; `system` says whose rule runs along. Raises ValueError where a mark
    lies beyond the sheet.
    """
    lengths = {name: value * MM for name, value in values.items()}
    reach = max(lengths["a_h"] + lengths["D_o"] / 2, lengths["M_o"], lengths["M_g"])
    if reach > LENGTH:
        raise ValueError(
            tr("a mark lies {reach:.0f} mm out, further than this sheet is wide; measure it instead", reach=reach)
        )
    holes, below = _holes(lengths, texts, system)
    strip, below = _strip(lengths, texts, system, below)
    bars, height = _scale_bars(below)
    title = tr("Drilling aid for {thread}", thread=thread)
    description = tr(
        "At true size. Two holes for {thread}, {a_h} from centre to centre, each with the oversized hole of "
        "{D_o} and the guide hole of {D_g}. A strip to lay along a drill, with the mark on the "
        "large drill {M_o} and on the guide drill {M_g} from its tip. Bars of 100 mm and 4 in.",
        thread=thread,
        **texts,
    )
    named = "".join(
        element(tag, escape(text), id=f"{prefix}-{tag}") for tag, text in (("title", title), ("desc", description))
    )
    svg = element(
        "svg",
        named + holes + strip + bars,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(WIDTH)} {number(height)}",
        width=f"{number(WIDTH)}mm",
        height=f"{number(height)}mm",
        role="img",
        aria_labelledby=f"{prefix}-title {prefix}-desc",
        font_family="system-ui, sans-serif",
        font_size=str(LETTER),
        class_="bw-aid",
    )
    return Figure(svg, title, description, "")


def _words(x: float, y: float, text: str, anchor: str = "start") -> str:
    return element("text", escape(text), x=number(x), y=number(y), text_anchor=anchor, class_="bw-text")


def _circle(x: float, y: float, diameter: float, width: float) -> str:
    return element(
        "circle",
        cx=number(x),
        cy=number(y),
        r=number(diameter / 2),
        fill="none",
        stroke="#000000",
        stroke_width=number(width),
        class_="bw-ink",
    )


def _rule(y: float, system: str, name: str) -> str:
    """A rule from ZERO to the right, its marks hanging from y as one line, its long marks numbered."""
    marks = [
        f"M{number(ZERO + place * step)} {number(y)}v{number(long)}"
        for step, long, drawn in RULES[system]
        for place in range(int(LENGTH / step) + 1)
        if drawn == 0 or place % drawn
    ]
    step, long, _ = RULES[system][0]
    unit = NUMBERED_IN[system]
    numerals = [
        element("text", str(round(place * step / unit)), x=number(ZERO + place * step), y=number(y + long + LETTER))
        for place in range(int(LENGTH / step) + 1)
    ]
    # The numbers are knocked out of a line that runs behind them.
    style = {"stroke": "#ffffff", "stroke_width": "1.2", "paint_order": "stroke"}
    knocked = element("g", "".join(numerals), text_anchor="middle", class_="bw-text", **style)
    return group(name, stroke("".join(marks), THIN), knocked, line((ZERO, y), (ZERO + LENGTH, y)))


def _holes(lengths: Mapping[str, float], texts: Mapping[str, str], system: str) -> tuple[str, float]:
    """Both holes on their centre line, and a rule from the first for any other spacing; and where it ends."""
    radius = lengths["D_o"] / 2
    axis = LETTER + 2 * ROW + radius
    below = axis + radius + ROW
    arm = radius + 2
    marks = []
    for name, x in (("first hole", ZERO), ("second hole", ZERO + lengths["a_h"])):
        rings = _circle(x, axis, lengths["D_o"], THIN) + _circle(x, axis, lengths["D_g"], THICK)
        cross = line((x, axis - arm), (x, axis + arm)) + line((x - arm, axis), (x + arm, axis))
        marks.append(group(name, rings, cross))
    said = tr("Centres {a_h} apart. Thin ring: oversized hole, {D_o}. Thick ring: guide hole, {D_g}.", **texts)
    centre = group("centre line", stroke(f"M{number(ZERO)} {number(axis)} h{number(LENGTH)}", THIN, "6 1.5 1 1.5"))
    rule = _rule(below, system, "rule from the first hole")
    return _words(0, LETTER, said) + centre + "".join(marks) + rule, below + ROW + 2 * LETTER


def _strip(lengths: Mapping[str, float], texts: Mapping[str, str], system: str, top: float) -> tuple[str, float]:
    """A strip to cut out: zero at the tip of the drill, a wedge where each flag of tape begins; and where it ends."""
    said = tr("Cut out the strip and lay it along the drill, 0 at the tip. Tape begins at its mark.")
    upper, high = top + LETTER + 2 * ROW, 13.0
    corner = f"M{number(ZERO)} {number(upper)}"
    frame = stroke(f"{corner} h{number(LENGTH)} v{number(high)} h{number(-LENGTH)} Z", THIN, "3 1.5")
    marks = []
    for name, meaning, side, away in (
        ("M_o", tr("large drill"), "end", -2.5),
        ("M_g", tr("guide drill"), "start", 2.5),
    ):
        x = ZERO + lengths[name]
        wedge = solid([(x, upper), (x - 1.5, upper - 3), (x + 1.5, upper - 3)])
        label = _words(x + away, upper - 0.8, f"{meaning} {texts[name]}", side)
        marks.append(group(f"mark {name}", line((x, upper), (x, upper + high), THICK), wedge, label))
    rule = _rule(upper + 1.5, system, "rule of the strip")
    drawn = _words(0, top + LETTER, said) + group("strip", frame) + "".join(marks) + rule
    return drawn, upper + high + ROW


def _scale_bars(top: float) -> tuple[str, float]:
    """Both bars with their ends, one below the other; and where they end."""
    y = top + ROW
    said = (
        tr("Measure both bars with a steel rule before you use this sheet."),
        tr("Not true? Print again at 100 %, not fitted."),
    )
    drawn = [_words(0, y + place * ROW, text) for place, text in enumerate(said)]
    y += ROW * (len(said) - 1)
    for length, text in SCALE_BARS:
        y += 1.6 * ROW
        ends = [line((x, y - 1.5), (x, y + 1.5), THICK) for x in (EDGE, EDGE + length)]
        drawn.append(group(f"bar of {text}", line((EDGE, y), (EDGE + length, y), THICK), *ends))
        drawn.append(_words(length + 3, y + LETTER / 3, text))
    return "".join(drawn), y + ROW
