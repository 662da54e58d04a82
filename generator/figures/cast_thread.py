"""A removable screw in a cast thread: waxing, filling, setting in a jig, turning loose, the pocket, and a torn one."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from . import parts, tools
from .bored import (
    Bore,
    bead,
    being_bored,
    block,
    coat,
    empty,
    filled,
    pocket,
    profile,
)
from .picture import Pair, drawing
from .scene import Scene
from .shapes import circle, turned
from .words import Options, Values

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

    def scene(self, ahead: float) -> Scene:
        """The wood round the hole, and `ahead` in front of its face."""
        half = self.bore.D * (0.5 + ROUND_HOLE)
        deep = self.bore.L + self.bore.cone + self.bore.D * ROUND_HOLE
        view = Scene(-ahead, deep, -half, half)
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
    near, far = (p.bore.D * 0.62, reach)
    scene.boxes("packing", (low, 0.0), (min(near, far), max(near, far)), "paper")
    inner = hole / 2
    scene.boxes("jig strip", (out, low), (min(inner, reach), max(inner, reach)), "washer")
    scene.lines([(0.0, p.bore.D * 0.56), (0.0, far)], "release")
    return out


@drawing("cast-thread-section", "fitting screw sealant thread bore")
def section(values: Values, options: Options) -> Scene:
    """The finished joint: a fitting held by a screw in a thread of epoxy."""
    p = pocket_of(values)
    base = BASE * p.d
    ahead = (SEALANT + BASE + parts.HEAD + 0.3) * p.d
    view = p.scene(ahead)
    empty(view, p.bore)
    filled(view, p.bore)
    coat(view, p.bore)
    deep = values["w_ct"]
    pocket(p.tip, p.d, p.d_3, p.chamfer)(view)
    pocket(deep, p.d, p.d_3, p.chamfer, "compound")(view)
    gap = SEALANT * p.d
    half = p.bore.D * (0.5 + ROUND_HOLE)
    view.box("sealant", (-gap, 0.0), (-half * 0.85, half * 0.85), "compound", parts.THIN)
    view.box("fitting", (-gap - base, -gap), (-half * 0.85, half * 0.85), "metal", parts.CUT)
    tools.bolt(view, -gap - base, deep, p.d, p.d_3)
    ring = -(p.bore.D + p.d) / 4
    view.span((p.chamfer, ring), (deep, ring))
    view.line([(-ahead, 0.0), (view.right, 0.0)], "axis")
    view.label("fitting", (-gap - base / 2, -half * 0.7))
    view.label("screw", (-gap - base - parts.HEAD * p.d / 2, 0.3 * p.d))
    view.label("sealant", (-gap / 2, half * 0.7))
    view.label("thread", ((p.chamfer + deep) / 2, ring))
    view.label("bore", (p.bore.L, p.bore.D / 2))
    return view


@drawing("thread-bore", "flag depth")
def bore_step(values: Values, options: Options) -> Scene:
    """The straight hole being bored."""
    p = pocket_of(values)
    view = being_bored(p.bore, p.bore.D * ROUND_HOLE, values, values["M_o"])
    view.label("depth", (p.bore.L, p.bore.D / 2))
    return view


@drawing("thread-wax", "film root screw")
def wax(values: Values, options: Options) -> Scene:
    """The film of wax on the thread, a few pitches at their true shape."""
    P, crest, root = values["P"], values["d"] / 2, values["d_3"] / 2
    length, film = PITCHES * P, FILM * P
    deep = 2.2 * (crest - root)
    view = Scene(0.0, length, -crest - 6 * film, -root + deep)
    side = [(along, -across) for along, across in profile(0.0, PITCHES, P, crest, root)]
    view.area("screw", [*side, (length, view.bottom), (0.0, view.bottom)], "steel")
    film_line = [(along, -across - film) for along, across in profile(0.0, PITCHES, P, crest, root)]
    view.area("wax", [*side, *reversed(film_line)], "compound", parts.THIN)
    view.label("film", (P * 1.5, -crest - film / 2))
    view.label("root", (P * (PITCHES - 2), -root - film / 2))
    view.label("screw", (P * (PITCHES - 1.5), -root + deep * 0.6))
    return view


@drawing("thread-fill", "empty mix wall")
def fill(values: Values, options: Options) -> Scene:
    """Filling from the floor up to the mark."""
    p = pocket_of(values)
    level, tube = values["g_ct"], TUBE * p.d
    view = p.scene(p.bore.D * 0.35 + p.d * 6.8 * TUBE)
    empty(view, p.bore)
    filled(view, p.bore, level)
    coat(view, p.bore)
    tip = p.bore.L * 0.8
    tools.syringe(view, tip, tube, tip + p.bore.D * 0.35)
    view.arrow((-p.bore.D * 0.45, -p.bore.D * 0.85), (-p.bore.D * 1.45, -p.bore.D * 0.85))
    view.label("empty", (level / 2, p.bore.D * 0.4))
    view.label("mix", (p.bore.L * 0.75, p.bore.D * 0.38))
    view.label("wall", (p.bore.L * 0.5, -p.bore.D * 0.5))
    return view


@drawing("thread-set", "strip nut rising packing room")
def set_screw(values: Values, options: Options) -> Scene:
    """Turning the waxed screw in through the jig."""
    p = pocket_of(values)
    d = p.d
    nut = (PACKING + STRIP + parts.NUT) * d
    head = nut + 0.5 * d
    view = p.scene(head + (parts.HEAD + 2.1) * d)
    empty(view, p.bore)
    filled(view, p.bore)
    coat(view, p.bore)
    outside = jig(view, p, values["D_g"])
    tools.bolt(view, -head, p.tip, d, p.d_3)
    tools.hexagon(view, "nut", -nut, outside, d)
    bead(view, d / 2, p.bore.D / 2, PACKING * d * 0.8)
    view.turn((-head - (parts.HEAD + 1.1) * d, 0.0), 0.75 * d)
    far = p.bore.D * 0.85
    view.label("strip", ((-PACKING - STRIP / 2) * d, -far))
    view.label("nut", (-nut + 0.3 * d, parts.CORNERS * d * 0.4))
    view.label("rising", (-PACKING * d * 0.25, -p.bore.D * 0.3))
    view.label("packing", (-PACKING * d / 2, far))
    view.label("room", (p.tip, d * 0.2))
    return view


def spanner(scene: Scene, corners: float, turn: float, name: str) -> None:
    """A spanner on a head seen from its end: outline only, its handle at the angle `turn`."""
    jaw, half, reach = corners * 0.62, corners * 0.2, corners * HANDLE
    outline = [(jaw, -half), (reach, -half), (reach, half), (jaw, half)]
    handle = turned(outline, (0.0, 0.0), turn)
    if name:
        scene.area(name, handle, "paper")
        scene.area("ring of the spanner", circle((0.0, 0.0), jaw * 1.12, turn=turn), "paper")
    else:
        scene.line([*handle, handle[0]], "dashed")


@drawing("thread-break", "head spanner turn")
def break_loose(values: Values, options: Options) -> Scene:
    """A small turn to and fro, seen along the screw."""
    d = values["d"]
    corners = parts.CORNERS * d
    side = corners * 2.1
    view = Scene(-side * 0.5, side, -side * 0.48, side * 0.48, tallest=LOW)
    view.box("wood", (view.left, view.right), (view.top, view.bottom), "wood", parts.THIN)
    spanner(view, corners, -EIGHTH / 2, "")
    spanner(view, corners, EIGHTH / 2, "spanner")
    view.area("head", circle((0.0, 0.0), corners / 2, 6), "steel")
    reach = corners * HANDLE * 0.88
    arc = [(reach * cos(turn), reach * sin(turn)) for turn in (EIGHTH * (0.5 - place / 10) for place in range(3, 10))]
    view.line(arc[1:-1], "cut")
    view.arrow(arc[-2], arc[-1])
    view.arrow(arc[1], arc[0])
    view.label("head", (0.0, -corners * 0.25))
    view.label("spanner", (reach * cos(EIGHTH / 2), reach * sin(EIGHTH / 2)))
    view.label("turn", arc[len(arc) // 2])
    return view


@drawing("thread-out", "screw chamfer thread")
def out(values: Values, options: Options) -> Scene:
    """The finished pocket, the screw drawn clear."""
    p = pocket_of(values)
    d = p.d
    shown = min(p.tip, 2.2 * d)
    clear = 0.7 * d
    view = p.scene(clear + shown + (parts.HEAD + 0.3) * d)
    empty(view, p.bore)
    filled(view, p.bore)
    coat(view, p.bore)
    pocket(p.tip, d, p.d_3, p.chamfer)(view)
    tools.bolt(view, -clear - shown, -clear, d, p.d_3)
    view.arrow((-clear, p.bore.D * 0.75), (-clear - 1.6 * d, p.bore.D * 0.75))
    view.line([(view.left, 0.0), (view.right, 0.0)], "axis")
    view.label("screw", (-clear - shown * 0.5, -0.3 * d))
    view.label("chamfer", (p.chamfer / 2, -(p.d_3 + p.chamfer) / 2))
    view.label("thread", (p.tip * 0.6, p.d_3 / 2))
    return view


def torn_view(values: Values, torn: bool) -> Scene:
    """A few turns of the cast thread, whole or with crests torn off."""
    P, crest, root = values["P"], values["d"] / 2, values["d_3"] / 2
    length, deep = PITCHES * P, 2.6 * (crest - root)
    view = Scene(0.0, length, root - 0.6 * (crest - root), root + deep)
    view.box("empty thread", (0.0, length), (view.top, view.bottom), "paper", 0.0)
    inner = profile(-P / 2, PITCHES + 1, P, crest, root)
    inside = [(min(max(along, 0.0), length), across) for along, across in inner]
    if torn:
        low = crest - TORN * (crest - root)
        inside = [
            (along, max(across, low + place % 3 * 0.08 * (crest - root))) if along < 3.2 * P else (along, across)
            for place, (along, across) in enumerate(inside)
        ]
    view.area("epoxy", [*inside, (length, view.bottom), (0.0, view.bottom)], "epoxy")
    return view


@drawing("thread-torn", "crest torn")
def torn(values: Values, options: Options) -> Pair:
    """Whole crests against torn ones."""
    whole, spoilt = torn_view(values, False), torn_view(values, True)
    P, crest, root = values["P"], values["d"] / 2, values["d_3"] / 2
    whole.label("crest", (2.5 * P, root + 0.3 * (crest - root)))
    spoilt.label("torn", (1.5 * P, crest - TORN * (crest - root) + 0.2 * (crest - root)))
    return Pair(whole, spoilt)
