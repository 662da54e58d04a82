"""Boring, filling and setting a stepped hole, step by step: lying scenes, the loaded side on the left."""

from __future__ import annotations

from . import parts, tools
from .broken import BrokenScene
from .hole import (
    STRIP,
    SWING,
    TAPE,
    Hole,
    base,
    base_view,
    bed,
    block,
    bored,
    film,
    length,
    read_hole,
    tape_behind,
    view,
    wood,
)
from .picture import Pair, drawing
from .scene import LOW, Scene
from .shapes import both, wave
from .words import Options, Values

# In oversized diameters: a scrap block; the longest hole drawn whole while it is filled and while the fitting is set.
SCRAP, FILL_LONGEST, SET_LONGEST = 0.9, 5.0, 5.0
# Tools by the drill's or the hole's diameter: the flag's size on a flat bit's shank, the shank outside, a tube.
SHANK_FLAG, OUTSIDE, TUBE = 0.6, 2.6, 0.6
# How far a stud stands out, in its own diameters, where nothing is on it yet but two nuts to turn it by.
STANDS_OUT = 3.0
# The tallest pair of views whose outlines alone say enough.
LOWEST = 34.0


# Drilling


def drill_outside(hole: Hole, D: float) -> float:
    """How much of a drill is shown before the face."""
    return OUTSIDE * D * 0.6 + hole.D_o * 0.8


def large_drill(scene: Scene, values: Values, hole: Hole, shank: float) -> None:
    """The large drill at its depth, its flag at the face."""
    if tools.pointed(values, "o"):
        tools.twist_drill(scene, hole.L_o + values["h_o"], hole.D_o, values["h_o"], shank)
        tools.flag(scene, 0.0, hole.D_o)
        return
    tools.flat_bit(scene, values["M_o"], hole.D_o, max(values["e_o"], 0.05 * hole.D_o), shank)
    tools.flag(scene, 0.0, SHANK_FLAG * hole.D_o)


def drilling(hole: Hole, mark: float) -> tuple[BrokenScene, float]:
    """Wood with, behind a through hole, its scrap block: the view, and how far out it goes."""
    outside = drill_outside(hole, hole.D_o)
    far = max(mark, hole.T) + SCRAP * hole.D_o
    end = max(hole.end, mark + 0.4 * hole.D_o) if hole.blind else far
    scene = view(hole, outside, end, hole.half, rows=2)
    block(scene, 0.0, end if hole.blind else hole.T, hole.half, hole.D_o, hole.blind)
    if not hole.blind:
        scene.box("scrap block", (hole.T, far), (-0.95 * hole.half, 0.95 * hole.half), "wood")
        scene.label("scrap-block", (far - 0.3 * hole.D_o, -0.6 * hole.half))
    return scene, outside


@drawing("hole-large-drill", "scrap-block depth mark width flag", hole="blind through")
def hole_large_drill(values: Values, options: Options) -> Scene:
    """The oversized hole bored first, to the flag."""
    hole = read_hole(values, options)
    scene, outside = drilling(hole, values["M_o"])
    bored(scene, [(0.0, hole.D_o / 2), (hole.L_o, hole.D_o / 2), (hole.L_o, 0.0)])
    large_drill(scene, values, hole, -outside)
    scene.cut_out(hole.half)
    length(scene, "depth", hole.D_o, 1, hole.L_o, hole.half)
    length(scene, "mark", hole.D_o, 2, values["M_o"], hole.half)
    scene.label("width", (hole.L_o * 0.9, -hole.D_o * 0.35))
    scene.label("flag", (-0.15 * hole.D_o, -0.3 * hole.D_o))
    scene.arrow((-outside, -0.85 * hole.D_o), (-0.25 * hole.D_o, -0.85 * hole.D_o))
    return scene


@drawing("hole-unknown-thickness", "thickness step wire start thumb")
def hole_unknown_thickness(values: Values, options: Options) -> Scene:
    """Thickness unknown: bored shallow, guide hole through, then measured with a hooked wire."""
    hole = read_hole(values, {**options, "hole": "through"})
    out = 1.6 * hole.D_o
    shallow = min(0.5 * hole.L_o, 1.5 * hole.D_o)
    scene = view(hole, out, hole.T + 0.6 * hole.D_o, hole.half, rows=1)
    wood(scene, hole)
    bored(scene, [(0.0, hole.D_o / 2), (shallow, hole.D_o / 2), (shallow, hole.D_g / 2), (hole.T, hole.D_g / 2)])
    scene.cut_out(hole.half)
    scene.lines([(shallow, hole.D_o / 2), (hole.L_o, hole.D_o / 2), (hole.L_o, hole.D_g / 2)], "dashed")
    low, hook = 0.25 * hole.D_g, hole.T + 0.12 * hole.D_o
    scene.line([(-out, low), (hook, low), (hook, 0.95 * hole.D_o), (hole.T, 0.95 * hole.D_o)], "thick")
    length(scene, "thickness", hole.D_o, 1, hole.T, hole.half)
    scene.label("step", (hole.L_o, -hole.D_o * 0.4))
    scene.label("wire", (hook, 0.6 * hole.D_o))
    scene.label("start", (shallow * 0.3, -hole.D_o * 0.3))
    scene.label("thumb", (-0.7 * out, low))
    return scene


# Epoxy


@drawing("hole-wet-out", "tape coat pipe-cleaner bottom step", hole="blind through")
def hole_wet_out(values: Values, options: Options) -> Scene:
    """Neat epoxy brushed on every wall with a pipe cleaner."""
    hole = read_hole(values, options)
    out = 2.4 * hole.D_o
    scene = view(hole, out, hole.end + (0.0 if hole.blind else 2 * TAPE * hole.D_o), hole.half)
    wood(scene, hole)
    bored(scene, hole.wall)
    scene.cut_out(hole.half)
    film(scene, hole)
    tip = hole.L_o - 0.1 * hole.D_o
    reach = min(0.7 * tip, hole.L_o - hole.cut()[1]) if hole.cut()[1] > hole.cut()[0] else 0.7 * tip
    tools.pipe_cleaner(scene, tip, 0.8 * hole.D_o, tip - 2 * reach)
    scene.line([(-out, 0.0), (max(-out, tip - 2 * reach) + 0.1 * out, 0.0)], "thick")
    scene.label("coat", (0.35 * hole.L_o, -hole.D_o / 2))
    scene.label("pipe-cleaner", (-0.6 * out, 0.0))
    if hole.blind:
        scene.label("bottom", (hole.T * 0.99, 0.0))
    else:
        tape_behind(scene, hole)
    scene.label("step", (hole.L_o, 0.35 * hole.D_o))
    scene.arrow((-out, -0.8 * hole.D_o), (-0.3 * hole.D_o, -0.8 * hole.D_o))
    scene.arrow((-0.3 * hole.D_o, 0.8 * hole.D_o), (-out, 0.8 * hole.D_o))
    return scene


@drawing("hole-fill", "tape syringe tip air", hole="blind through")
def hole_fill(values: Values, options: Options) -> Scene:
    """The tube starts at the bottom; epoxy rises and the syringe backs out."""
    hole = read_hole(values, options)
    bore, out = TUBE * hole.D_g, 0.6 * hole.D_o
    start, end = hole.cut(FILL_LONGEST)
    level = start * 0.6 if start < end else hole.L_o * 0.45
    back = 3 * bore * tools.BARREL / 2 + bore * tools.BARREL
    scene = view(
        hole, out + back, hole.end + (0.0 if hole.blind else 2 * TAPE * hole.D_o), hole.half, longest=FILL_LONGEST
    )
    wood(scene, hole)
    bored(scene, hole.wall)
    bored(scene, [(level, hole.D_o / 2), *hole.wall[1:]], "epoxy", "epoxy")
    tip = hole.L_o * 0.97
    tools.syringe(scene, tip, bore, tip + out)
    scene.cut_out(hole.half)
    film(scene, hole)
    scene.arrow((-0.2 * hole.D_o, 0.95 * hole.D_o), (-out - back, 0.95 * hole.D_o))
    across = (hole.D_o + bore) / 4
    scene.arrows((level + 0.55 * hole.D_o, across), (level - 0.35 * hole.D_o, across))
    scene.label("syringe", (-out - 0.7 * back, 0.95 * hole.D_o))
    scene.label("tip", (tip - 0.02 * hole.D_o, 0.0))
    scene.label("air", ((hole.L_o + hole.T) / 2, 0.3 * hole.D_g))
    if not hole.blind:
        tape_behind(scene, hole)
    return scene


# Setting the fitting


@drawing("hole-set", "mouth turn ridge", hole="blind through")
def hole_set(values: Values, options: Options) -> Scene:
    """The fitting turned in with its fastener: epoxy comes up at the mouth."""
    hole = read_hole(values, options)
    half, whole = base_view(hole)
    lift = 0.75 * hole.D_o
    under = -hole.t_m - lift
    head = under - hole.plate
    out = -head + parts.HEAD * hole.d + 1.9 * hole.d
    end = hole.fastener_end - lift
    right = max(hole.end, end + 0.2 * hole.D_o)
    scene = view(hole, out, right, half, longest=SET_LONGEST)
    scene.tallest = LOW
    wood(scene, hole, half)
    bored(scene, hole.wall, "epoxy", "epoxy")
    mound = [(0.0, 0.75 * hole.D_o), (-0.25 * lift, 0.5 * hole.D_o), (-0.4 * lift, hole.d / 2)]
    scene.area("mound", both(mound), "epoxy")
    across = (hole.a_b / 2 if whole else half) * 0.7
    ridge = [(under, across), (under + 0.28 * lift, 0.7 * hole.d), (under + 0.28 * lift, 0.0)]
    scene.area("ridge", both(ridge), "epoxy")
    base(scene, hole, under, half, whole)
    tools.bolt(scene, head, end, hole.d, hole.d_3)
    scene.cut_out(half)
    film(scene, hole)
    top = head - parts.HEAD * hole.d
    scene.turn((top - 1.1 * hole.d, 0.0), 0.7 * hole.d)
    ring = (hole.D_o + hole.d) / 4
    scene.arrows((0.9 * hole.D_o, ring), (-0.1 * hole.D_o, ring))
    push = (hole.a_b / 2 if whole else half) * 0.75
    scene.arrows((-out, push), (head - 0.1 * hole.D_o, push))
    scene.label("mouth", (-0.2 * lift, -0.55 * hole.D_o))
    scene.label("turn", (top - 1.8 * hole.d, 0.0))
    scene.label("ridge", (under + 0.14 * lift, across * 0.5))
    return scene


# Right and wrong, at the mouth


def mouth(hole: Hole, deep: float, half: float, out: float) -> Scene:
    """The wood round the mouth of the hole, broken off beyond `deep`."""
    scene = BrokenScene(-out, deep, -half, half)
    block(scene, 0.0, deep, half, hole.D_o, True)
    return scene


def ring(scene: Scene, hole: Hole, deep: float, start: float = 0.0) -> None:
    """Thickened epoxy in the oversized hole as far as it is shown."""
    scene.area("epoxy", both([(start, hole.D_o / 2), (deep, hole.D_o / 2)]), "epoxy")


def drawn(hole: Hole, deep: float) -> float:
    """How deep the mouth's view goes: never to the step."""
    return min(deep * hole.D_o, 0.95 * hole.L_o)


@drawing("hole-void", "full tape void")
def hole_void(values: Values, options: Options) -> Pair:
    """A full ring at the mouth of a stud that stands alone, against a void under a skin of epoxy."""
    hole = read_hole(values, options)
    deep, half = drawn(hole, 1.7), 0.85 * hole.D_o
    tape, out = TAPE * hole.D_o, STANDS_OUT * hole.d
    good, bad = (mouth(hole, deep, half, out) for _ in range(2))
    for scene in (good, bad):
        ring(scene, hole, deep)
        if scene is bad:
            inner, outer = (hole.d / 2, hole.D_o * 0.48)
            length_ = min(0.9 * hole.D_o, 0.6 * deep)
            pocket = [(tape, inner), (tape, outer), (0.6 * length_, outer), (length_, inner)]
            scene.areas("void", pocket, "paper")
        tools.stud(scene, -out, deep, hole.d, hole.d_3)
        scene.box("tape", (-2 * tape, 0.0), (-0.6 * hole.d, 0.6 * hole.d), "paper")
        for start in (0.2, 0.2 + parts.NUT):
            tools.hexagon(scene, "nut", -out + start * hole.d, -out + (start + parts.NUT) * hole.d, hole.d)
    good.label("full", (0.3 * deep, -(hole.D_o + hole.d) / 4))
    good.label("tape", (-tape, 0.5 * hole.d))
    bad.label("void", (0.25 * hole.D_o, -(hole.D_o + hole.d) / 4))
    return Pair(good, bad, LOWEST)


def pads(scene: Scene, hole: Hole, half: float, whole: bool) -> float:
    """Spacer pads under the base; returns how far from the axis they lie."""
    across = 0.75 * (hole.a_b / 2 if whole else half)
    wide = 0.5 * hole.d
    scene.boxes("pad", (-hole.t_m, 0.0), (across - wide / 2, across + wide / 2), "washer")
    return across


@drawing("hole-draw-up", "pad bed dry-bed squeezed-out", base="bed wood", pads="bed wood")
def hole_draw_up(values: Values, options: Options) -> Pair:
    """The base drawn to contact on its pads against a bed squeezed dry."""
    hole = read_hole(values, options)
    deep = drawn(hole, 1.0)
    half, whole = base_view(hole)
    out = hole.t_m + hole.plate + (parts.HEAD + 0.15) * hole.d
    good, bad = (mouth(hole, deep, half, out) for _ in range(2))
    thin = 0.12 * hole.t_m
    for scene, thick in ((good, hole.t_m), (bad, thin)):
        ring(scene, hole, deep)
        bed(scene, hole, half, whole, thick, hole.r_f if scene is good else 0.4 * hole.r_f)
        head = base(scene, hole, -thick, half, whole)
        tools.stud(scene, head, deep, hole.d, hole.d_3)
        tools.hexagon(scene, "head", head - parts.HEAD * hole.d, head, hole.d)
    at = pads(good, hole, half, whole) if hole.t_m > 0 else 0.0
    edge = hole.a_b / 2 if whole else half - 0.1 * hole.D_o
    for side in (-1, 1):
        blob = [(0.0, side * edge), (-2.5 * hole.t_m, side * (edge + 0.2 * hole.r_f))]
        blob += [(-1.5 * hole.t_m, side * (edge + 1.6 * hole.r_f)), (0.0, side * (edge + 1.8 * hole.r_f))]
        if whole:
            bad.area("squeezed out", blob, "epoxy")
    if hole.t_m > 0:
        good.label("pad", (-hole.t_m / 2, at))
        good.label("bed", (-hole.t_m / 2, -0.5 * at))
        bad.label("dry-bed", (-thin / 2, 0.6 * at))
    if whole:
        bad.label("squeezed-out", (-hole.t_m, -(edge + hole.r_f)))
    under = "bed" if hole.t_m > 0 else "wood"
    return Pair(good, bad, LOW, cases={"base": under, "pads": under})


@drawing("blind-air-path", "flat ring air split")
def blind_air_path(values: Values, options: Options) -> Pair:
    """A flat along the thread lets the air out; a tight hole is a ram."""
    hole = read_hole(values, {**options, "hole": "blind"})
    start, finish = hole.L_o - 0.4 * hole.D_o, hole.T + hole.tip + 0.5 * hole.D_o
    half = 0.85 * hole.D_o
    spare = max(0.0, hole.T - hole.L_o - 2.4 * hole.D_o)
    after = hole.L_o + 0.4 * hole.D_o
    cut = (after, after + spare + STRIP * hole.D_o) if spare else (after, after)
    gap = STRIP * hole.D_o if spare else 0.0
    lift = 0.35 * hole.D_g
    end = hole.T - hole.c_e - lift
    good, bad = (BrokenScene(start, finish, -half, half, cut=cut, gap=gap) for _ in range(2))
    outline = [(start, hole.D_o / 2), *hole.wall[1:]]
    for scene in (good, bad):
        block(scene, start, finish, half, hole.D_o, True, face=False)
        scene.line(wave((start, -half), (start, half), SWING * hole.D_o), "thin")
        scene.area("epoxy", both(outline), "epoxy")
        tools.stud(scene, start, end, hole.d, hole.d_3)
    flat = hole.d / 2 - max((hole.d - hole.d_3) / 2, 0.18 * hole.d)
    good.box("flat", (start, end), (-hole.d / 2, -flat), "epoxy")
    middle = -(flat + hole.d / 2) / 2
    good.cut_out(half)
    good.arrow((end + 0.1 * hole.D_g, middle), (hole.L_o - 0.35 * hole.D_o, middle))
    good.label("flat", (start + 0.3 * (hole.L_o - start), middle))
    good.label("ring", (start + 0.6 * (hole.L_o - start), 0.4 * hole.D_o))
    pocket = both([(end, hole.D_g / 2), (hole.T, hole.D_g / 2), (hole.T + hole.tip, 0.0)])
    bad.area("trapped air", pocket, "paper")
    bad.cut_out(half)
    bad.arrow((end, 0.0), (end - 0.9 * hole.D_o, 0.0))
    crack = [(hole.T + hole.tip, 0.0), (hole.T + hole.tip + 0.3 * hole.D_o, 0.05 * hole.D_o)]
    crack += [(hole.T + hole.tip + 0.45 * hole.D_o, -0.06 * hole.D_o), (finish, 0.04 * hole.D_o)]
    bad.line(crack, "cut")
    bad.label("air", (hole.T - 0.1 * hole.D_g, 0.3 * hole.D_g))
    bad.label("split", (hole.T + hole.tip + 0.45 * hole.D_o, -0.06 * hole.D_o))
    return Pair(good, bad, LOWEST)
