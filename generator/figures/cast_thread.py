"""A removable screw in a cast thread: waxing, filling, setting in a jig, turning loose, the pocket, and a torn one."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from . import parts, tools
from .bored import (
    Bore,
    Options,
    Say,
    Values,
    bead,
    being_bored,
    block,
    coat,
    disc,
    empty,
    filled,
    pocket,
    profile,
)
from .parts import Figure, Measure
from .scene import Scene, right_and_wrong, single

# Outlines by the thread's diameter: strip and packing of the jig, the plate and the sealant of a fitting, a tube.
STRIP, PACKING, BASE, SEALANT, TUBE = 0.75, 0.6, 0.6, 0.15, 0.5
# Wood shown round the hole by its diameter, and threads in a detail.
ROUND_HOLE, PITCHES = 0.45, 7
# The film of wax by the pitch, far thicker than it is, and how much of the crest a torn thread has left.
FILM, TORN = 0.15, 0.3
# A spanner's handle and jaw by the head's corners, and the turn to and fro.
HANDLE, EIGHTH = 1.9, pi / 4
# A drawing no taller than its words.
LOW = 24.0


@dataclass(frozen=True)
class Pocket:
    """The hole and the screw in it, in metres."""

    d: float
    d_3: float
    bore: Bore
    chamfer: float
    tip: float

    def scene(self, prefix: str, ahead: float) -> Scene:
        """The wood round the hole, and `ahead` in front of its face."""
        half = self.bore.D * (0.5 + ROUND_HOLE)
        deep = self.bore.L + self.bore.cone + self.bore.D * ROUND_HOLE
        view = Scene(prefix, -ahead, deep, -half, half)
        block(view)
        return view


def pocket_of(values: Values) -> Pocket:
    """From the working's symbols."""
    bore = Bore(values["D_o"], values["L_o"], values["h_o"])
    return Pocket(values["d"], values["d_3"], bore, values["h_ct"], values["l_ct"])


def jig(scene: Scene, p: Pocket, hole: float) -> float:
    """A drilled strip on two packings in packing tape, clear of the mouth. Returns where its outside lies."""
    low, out = -PACKING * p.d, -(PACKING + STRIP) * p.d
    reach = p.bore.D * 1.05
    for side in (-1, 1):
        near, far = side * p.bore.D * 0.62, side * reach
        scene.box("packing", (low, 0.0), (min(near, far), max(near, far)), "paper")
        inner = side * hole / 2
        scene.box("jig strip", (out, low), (min(inner, side * reach), max(inner, side * reach)), "washer")
        scene.line([(0.0, side * p.bore.D * 0.56), (0.0, far)], "release")
    return out


def section(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The finished joint: a fitting held by a screw in a thread of epoxy."""
    p = pocket_of(values)
    base = BASE * p.d
    ahead = (SEALANT + BASE + parts.HEAD + 0.3) * p.d
    view = p.scene(prefix, ahead)
    empty(view, p.bore)
    filled(view, p.bore)
    coat(view, p.bore)
    pocket(p.tip, p.d, p.d_3, p.chamfer, "compound")(view)
    gap = SEALANT * p.d
    half = p.bore.D * (0.5 + ROUND_HOLE)
    view.box("sealant", (-gap, 0.0), (-half * 0.85, half * 0.85), "compound", parts.THIN)
    view.box("fitting", (-gap - base, -gap), (-half * 0.85, half * 0.85), "metal", parts.CUT)
    tools.bolt(view, -gap - base, p.tip, p.d, p.d_3)
    view.line([(-ahead, 0.0), (view.right, 0.0)], "axis")
    view.label((-gap - base / 2, -half * 0.7), "fitting", side=-1)
    view.label((-gap - base - parts.HEAD * p.d / 2, 0.3 * p.d), "screw, comes", "out again", side=-1)
    view.label((-gap / 2, half * 0.7), "sealant", side=-1)
    view.label((p.bore.L * 0.55, -(p.bore.D + p.d) / 4), "cast thread", Measure("L_ct", say("L_ct")))
    view.label((p.bore.L, p.bore.D / 2), "bored", Measure("D_o", say("D_o")), Measure("L_o", say("L_o")))
    title = "Removable screw in a cast thread, in section"
    description = (
        f"A straight hole of {say('D_o')} in the wood is {say('L_o')} deep and full of thickened epoxy. In its middle "
        f"lies a thread, cast round the screw over {say('L_ct')}, with a chamfer of {say('h_ct')} at the mouth. The "
        "screw goes through a fitting that sits on a film of sealant, and can be turned out. Epoxy stands under its "
        "tip too."
    )
    caption = "The epoxy stays in the wood for good, the screw does not."
    return single(view, title, description, caption)


def bore_step(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The straight hole being bored."""
    p = pocket_of(values)
    view = being_bored(prefix, p.bore, p.bore.D * ROUND_HOLE, values, values["M_o"])
    view.label((p.bore.L, p.bore.D / 2), "full width to", Measure("L_o", say("L_o")), Measure("D_o", say("D_o")))
    title = "Boring the straight hole"
    description = (
        f"The {say('D_o')} drill stands in the wood, square to the face. Its flag of tape, {say('M_o')} from its tip, "
        f"meets the face, and the hole is full width to {say('L_o')}. There is no smaller hole beyond it."
    )
    return single(
        view, title, description, "Stop when the flag meets the face. The jig will centre the screw, not the wood."
    )


def wax(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The film of wax on the thread, a few pitches at their true shape."""
    P, crest, root = values["P"], values["d"] / 2, values["d_3"] / 2
    length, film = PITCHES * P, FILM * P
    deep = 2.2 * (crest - root)
    view = Scene(prefix, 0.0, length, -crest - 6 * film, -root + deep)
    side = [(along, -across) for along, across in profile(0.0, PITCHES, P, crest, root)]
    view.area("screw", [*side, (length, view.bottom), (0.0, view.bottom)], "steel")
    film_line = [(along, -across - film) for along, across in profile(0.0, PITCHES, P, crest, root)]
    view.area("wax", [*side, *reversed(film_line)], "compound", parts.THIN)
    view.label((P * 1.5, -crest - film / 2), "film on", "every crest", side=-1)
    view.label((P * (PITCHES - 2), -root - film / 2), "root brushed", "out, no lump")
    view.label((P * (PITCHES - 1.5), -root + deep * 0.6), "screw", Measure("d", say("d")))
    title = "The film of wax on the thread"
    description = (
        f"A few turns of the screw's thread, {say('d')} across, seen very near. A thin film of wax, drawn thicker than "
        "it is, lies on crest, flank and root alike. No lump stands in a root."
    )
    caption = "Every spot without wax is a spot that bonds. A lump left in a root is a lump missing from the thread."
    return single(view, title, description, caption)


def fill(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Filling from the floor up to the mark."""
    p = pocket_of(values)
    level, tube = values["g_ct"], TUBE * p.d
    view = p.scene(prefix, p.bore.D * 0.35 + p.d * 6.8 * TUBE)
    empty(view, p.bore)
    filled(view, p.bore, level)
    coat(view, p.bore)
    tip = p.bore.L * 0.8
    tools.syringe(view, tip, tube, tip + p.bore.D * 0.35)
    view.arrow((-p.bore.D * 0.45, -p.bore.D * 0.95), (-p.bore.D * 1.45, -p.bore.D * 0.95))
    view.label((level / 2, p.bore.D * 0.4), "left empty", Measure("g_ct", say("g_ct")), side=-1)
    view.label((p.bore.L * 0.75, p.bore.D * 0.38), "soft mix", Measure("E_ct", say("E_ct")))
    view.label((p.bore.L * 0.5, -p.bore.D * 0.5), "wet wall")
    title = "Filling the hole from the floor"
    description = (
        "A syringe's tube reaches nearly to the floor of the wetted hole and draws back as the soft mix rises, "
        f"{say('E_ct')} in all. It stops {say('g_ct')} below the face."
    )
    return single(
        view, title, description, "The screw takes up the rest. Fill from the floor, so that no air stays under."
    )


def set_screw(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Turning the waxed screw in through the jig."""
    p = pocket_of(values)
    d = p.d
    nut = (PACKING + STRIP + parts.NUT) * d
    head = nut + 0.5 * d
    view = p.scene(prefix, head + (parts.HEAD + 2.1) * d)
    empty(view, p.bore)
    filled(view, p.bore)
    coat(view, p.bore)
    outside = jig(view, p, values["D_g"])
    tools.bolt(view, -head, p.tip, d, p.d_3)
    tools.hexagon(view, "nut", -nut, outside, d)
    bead(view, d / 2, p.bore.D / 2, PACKING * d * 0.8)
    view.turn((-head - (parts.HEAD + 1.1) * d, 0.0), 0.75 * d)
    far = p.bore.D * 0.85
    view.label(((-PACKING - STRIP / 2) * d, -far), "jig strip", Measure("D_g", say("D_g")), side=-1)
    view.label((-nut + 0.3 * d, parts.CORNERS * d * 0.4), "nut as a", "depth stop", side=-1)
    view.label((-PACKING * d * 0.25, -p.bore.D * 0.3), "rises all round")
    view.label((-PACKING * d / 2, far), "packing, taped")
    view.label((p.tip, d * 0.2), "room", Measure("c_ct", say("c_ct")))
    title = "Setting the waxed screw through the jig"
    description = (
        f"A drilled strip, bored {say('D_g')}, stands on taped packings on both sides of the mouth. The waxed "
        "screw is turned through it slowly into the epoxy, until a nut on it meets the strip. Epoxy has come up all "
        f"round, and {say('c_ct')} of it stays under the tip."
    )
    caption = "The strip holds the screw square and in the middle. Epoxy must come up all round before the nut touches."
    return single(view, title, description, caption)


def spanner(scene: Scene, corners: float, turn: float, name: str) -> None:
    """A spanner on a head seen from its end: outline only, its handle at the angle `turn`."""
    jaw, half, reach = corners * 0.62, corners * 0.2, corners * HANDLE
    outline = [(jaw, -half), (reach, -half), (reach, half), (jaw, half)]
    turned = [(x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)) for x, y in outline]
    if name:
        scene.area(name, turned, "paper")
        scene.area("ring of the spanner", disc(jaw * 1.12, turn=turn), "paper")
    else:
        scene.line([*turned, turned[0]], "dashed")


def break_loose(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """A small turn to and fro, seen along the screw."""
    d = values["d"]
    corners = parts.CORNERS * d
    side = corners * 2.1
    view = Scene(prefix, -side * 0.5, side, -side * 0.48, side * 0.48, tallest=LOW)
    view.box("wood", (view.left, view.right), (view.top, view.bottom), "wood", parts.THIN)
    spanner(view, corners, -EIGHTH / 2, "")
    spanner(view, corners, EIGHTH / 2, "spanner")
    view.area("head", disc(corners / 2, 6), "steel")
    reach = corners * HANDLE * 0.88
    arc = [(reach * cos(turn), reach * sin(turn)) for turn in (EIGHTH * (0.5 - place / 10) for place in range(3, 10))]
    view.line(arc[1:-1], "cut")
    view.arrow(arc[-2], arc[-1])
    view.arrow(arc[1], arc[0])
    view.label((0.0, -corners * 0.25), "screw", "head", side=-1)
    view.label((reach * cos(EIGHTH / 2), reach * sin(EIGHTH / 2)), "spanner")
    view.label(arc[len(arc) // 2], "out an eighth", "of a turn,", "and back")
    title = "Turning the screw loose, seen along it"
    description = (
        "The screw's head from in front, with a spanner on it. A second outline shows the spanner an eighth of a turn "
        "on, anticlockwise. Arrows go to it and back: the screw is turned out a little and then back to where it was, "
        f"from {say('t_y1')} to {say('t_y2')} after mixing."
    )
    caption = (
        "A little, and back to the same place. You break the film and leave the thread. A sharp click, then it is free."
    )
    return single(view, title, description, caption)


def out(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The finished pocket, the screw drawn clear."""
    p = pocket_of(values)
    d = p.d
    shown = min(p.tip, 2.2 * d)
    clear = 0.7 * d
    view = p.scene(prefix, clear + shown + (parts.HEAD + 0.3) * d)
    empty(view, p.bore)
    filled(view, p.bore)
    coat(view, p.bore)
    pocket(p.tip, d, p.d_3, p.chamfer)(view)
    tools.bolt(view, -clear - shown, -clear, d, p.d_3)
    view.arrow((-clear, p.bore.D * 0.75), (-clear - 1.6 * d, p.bore.D * 0.75))
    view.line([(view.left, 0.0), (view.right, 0.0)], "axis")
    view.label((-clear - shown * 0.5, -0.3 * d), "screw out,", "by hand", side=-1)
    view.label((p.chamfer / 2, -(p.d_3 + p.chamfer) / 2), "chamfer", Measure("h_ct", say("h_ct")))
    view.label((p.tip * 0.6, p.d_3 / 2), "thread whole", Measure("L_ct", say("L_ct")))
    title = "The finished pocket with the screw out"
    description = (
        f"The screw stands clear in front of the wood. In the epoxy is left a thread of {say('L_ct')}, open at the "
        f"face with a chamfer of {say('h_ct')}. Its floor is solid epoxy."
    )
    return single(
        view, title, description, "By hand to full depth, twice. The chamfer keeps the first turn from lifting a crest."
    )


def torn_view(values: Values, prefix: str, torn: bool) -> Scene:
    """A few turns of the cast thread, whole or with crests torn off."""
    P, crest, root = values["P"], values["d"] / 2, values["d_3"] / 2
    length, deep = PITCHES * P, 2.6 * (crest - root)
    view = Scene(prefix, 0.0, length, root - 0.6 * (crest - root), root + deep)
    view.box("empty thread", (0.0, length), (view.top, view.bottom), "paper", 0.0)
    inner = profile(-P / 2, PITCHES + 1, P, crest, root)
    inside = [(min(max(along, 0.0), length), across) for along, across in inner]
    if torn:
        low = crest - TORN * (crest - root)
        inside = [
            (along, max(across, low + (place % 3) * 0.08 * (crest - root))) if along < 3.2 * P else (along, across)
            for place, (along, across) in enumerate(inside)
        ]
    view.area("epoxy", [*inside, (length, view.bottom), (0.0, view.bottom)], "epoxy")
    return view


def torn(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Whole crests against torn ones."""
    whole, spoilt = torn_view(values, prefix, False), torn_view(values, prefix, True)
    P, crest, root = values["P"], values["d"] / 2, values["d_3"] / 2
    whole.label((2.5 * P, root + 0.3 * (crest - root)), "crest", side=-1)
    spoilt.label((1.5 * P, crest - TORN * (crest - root) + 0.2 * (crest - root)), "torn")
    title = "A whole thread and a torn one"
    description = (
        f"Left, a few turns of the thread cast round a screw of {say('d')}: every crest of epoxy is whole. Right, the "
        "first crests are torn off, because the screw was turned out before the epoxy was hard, or had no wax there."
    )
    caption = (
        "Look in with a lamp. White or missing crests in the first turns mean the thread is lost. Bore it "
        "out and begin again."
    )
    return right_and_wrong(
        whole, spoilt, ("hard, well waxed", ["turned out soft,", "or a spot unwaxed"]), title, description, caption
    )


FIGURES = {
    "cast-thread-section": section,
    "thread-bore": bore_step,
    "thread-wax": wax,
    "thread-fill": fill,
    "thread-set": set_screw,
    "thread-break": break_loose,
    "thread-out": out,
    "thread-torn": torn,
}
