"""At the mixing bench: weighing, stirring, the second cup, the tray, how stiff, and a syringe loaded from the back.

Volumes are to scale: a cup, a tray and a syringe are drawn as large as what goes into them by the working. Their walls,
sticks and scales are outlines only.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import pi, sin

from . import parts
from .parts import CLEAR, LINE_STEP, MARGIN, THICK, THIN, WIDTH
from .picture import Pair, drawing
from .scene import Scene
from .shapes import Point, both, circle, smooth, turned
from .words import Options, Values, Words

# A mixing cup: filled to a part of it, as high as it is wide, its wall by its width; the scale it stands on.
FILLED, WALL, SCALE_WIDE, SCALE_HIGH = 0.3, 0.04, 1.3, 0.28
STICK = 0.13
# A tray filled no deeper than this, of the depth that may be poured at once.
SHALLOW = 0.5
# A syringe by its bore: barrel for its whole measure and behind it, nose, nozzle, piston and rod.
BARREL, BEHIND, NOSE, NOZZLE, NOZZLE_WIDE, PISTON, ROD, FLANGE = 3.6, 0.7, 0.3, 1.1, 0.3, 0.4, 0.4, 0.5
# The boards of the stiffness test: height and thickness in metres, and the blob put on them.
BOARD, BOARD_THICK, BLOB, PLACED = 0.060, 0.006, 0.010, 0.016

# What a blob does in five minutes on an upright board: outline from the board's face, along down from where it was put,
# in blobs; the same order as the consistencies.
SHAPES: dict[str, list[Point]] = {
    "runny": [(-0.5, 0.05), (0.6, 0.16), (3.4, 0.16), (3.75, 0.35), (4.0, 1.0), (4.25, 1.3), (4.4, 1.3), (4.4, 0.0)],
    "sagging": [(-0.5, 0.0), (-0.2, 0.22), (1.0, 0.3), (2.0, 0.52), (2.5, 0.55), (2.85, 0.3), (2.95, 0.0)],
    "soft": [(-0.35, 0.0), (-0.15, 0.4), (0.25, 0.72), (0.75, 0.82), (1.15, 0.6), (1.3, 0.0)],
    "stiff": [
        (-0.5, 0.0),
        (-0.5, 0.5),
        (-0.25, 0.7),
        (-0.2, 0.85),
        (-0.15, 1.5),
        (0.1, 0.85),
        (0.45, 0.75),
        (0.5, 0.0),
    ],
}


# Parts


def cup_width(volume: float, filled: float = FILLED) -> float:
    """Of a cup as high as it is wide, with so much in it."""
    return float((4 * volume / (pi * filled)) ** (1 / 3))


def level(volume: float, wide: float) -> float:
    """How high a volume stands in a cup."""
    return 4 * volume / (pi * wide**2)


def cup(scene: Scene, floor: float, wide: float, axis: float = 0.0) -> None:
    """The wall of a cup in section, open at the top."""
    out, rim = wide / 2 + WALL * wide, floor - wide
    inner = [(rim, axis - wide / 2), (floor, axis - wide / 2), (floor, axis + wide / 2), (rim, axis + wide / 2)]
    outer = [(rim, axis + out), (floor + WALL * wide, axis + out), (floor + WALL * wide, axis - out), (rim, axis - out)]
    scene.area("cup", [*inner, *outer], "steel")


def liquid(scene: Scene, name: str, depths: Point, wide: float, material: str, axis: float = 0.0) -> None:
    """What stands in a cup between two heights."""
    scene.box(name, depths, (axis - wide / 2, axis + wide / 2), material, THIN)


def balance(scene: Scene, top: float, wide: float, axis: float) -> None:
    """A kitchen scale from the side: pan, body and display."""
    pan, body = top + 0.05 * wide, top + SCALE_HIGH * wide
    half = SCALE_WIDE * wide / 2
    scene.box("pan", (top, pan), (axis - half * 0.85, axis + half * 0.85), "steel")
    scene.box("scale", (pan, body), (axis - half, axis + half), "steel")
    scene.box(
        "display", (pan + 0.06 * wide, body - 0.06 * wide), (axis - half * 0.45, axis + half * 0.45), "paper", THIN
    )


def stick(scene: Scene, tip: Point, length: float, wide: float, angle: float) -> None:
    """A flat stirring stick on its tip, leaning to the right."""
    (x, y), half = tip, wide / 2
    outline = [(x - length, y), (x, y), (x, y + 2 * half), (x - length, y + 2 * half)]
    scene.area("stick", turned(outline, tip, angle), "wood")


def bore_of(V_s: float) -> float:
    """The bore of a syringe of this size."""
    return float((4 * V_s / (pi * BARREL)) ** (1 / 3))


def barrel(scene: Scene, bore: float, axis: float = 0.0) -> None:
    """A syringe in section without its piston: nose at 0, its back to negative, the nozzle beyond."""
    half, thin, wall = bore / 2, bore * NOZZLE_WIDE / 2, WALL * bore
    back, tip = -(BARREL + BEHIND) * bore, (NOSE + NOZZLE) * bore
    inner = [(back, half), (0.0, half), (NOSE * bore, thin), (tip, thin)]
    outer = [(tip, thin + wall), (NOSE * bore + wall, thin + wall), (wall, half + wall), (back + wall, half + wall)]
    outer += [(back + wall, half + FLANGE * bore / 2), (back, half + FLANGE * bore / 2)]
    scene.areas("barrel", [(along, axis + across) for along, across in (*inner, *outer)], "steel", THIN)


def filling(scene: Scene, bore: float, length: float, tip: float, material: str = "epoxy") -> None:
    """Epoxy in a syringe: `length` of the barrel behind the nose, the nose, and the nozzle to `tip`."""
    half, thin = bore / 2, bore * NOZZLE_WIDE / 2
    side = [(-length, half), (0.0, half), (NOSE * bore, thin), (tip, thin)]
    scene.area("epoxy", both(side), material, THIN)


def piston(scene: Scene, face: float, bore: float, rod: float, axis: float = 0.0) -> None:
    """A piston whose face points along, its rod so long, its thumb plate at the end."""
    half, thin, back = bore / 2, bore * ROD / 2, face - PISTON * bore
    end = back - rod
    scene.box("rod", (end, back), (axis - thin, axis + thin), "steel")
    scene.box("thumb plate", (end - 0.15 * bore, end), (axis - half, axis + half), "steel")
    scene.box("piston", (back, face), (axis - half, axis + half), "washer")


# Weighing


@drawing("mix-weigh", "resin empty hardener zero")
def weigh(values: Values, options: Options) -> Scene:
    """Resin first, then hardener, in one cup on the scale."""
    wide = cup_width(values["v_rc"] + values["v_hc"])
    apart, resin, both = 0.78 * wide, level(values["v_rc"], wide), level(values["v_rc"] + values["v_hc"], wide)
    room = SCALE_WIDE * wide / 2 + apart
    scene = Scene(-room, room, -1.55 * wide, (WALL + SCALE_HIGH) * wide, upright=True)
    for axis in (-apart, apart):
        balance(scene, WALL * wide, wide, axis)
        cup(scene, 0.0, wide, axis)
        liquid(scene, "resin", (-resin, 0.0), wide, "neat", axis)
        scene.arrow((-1.5 * wide, axis), (-1.05 * wide, axis))
    liquid(scene, "hardener", (-both, -resin), wide, "paper", apart)
    scene.label("resin", (-resin / 2, -apart - wide / 4))
    scene.label("empty", ((WALL + SCALE_HIGH / 2) * wide, -apart - wide / 8))
    scene.label("hardener", (-(resin + both) / 2, apart + wide / 4))
    scene.label("zero", ((WALL + SCALE_HIGH / 2) * wide, apart + wide / 8))
    return scene


# Stirring


@drawing("mix-scrape", "sides corner bottom stick")
def scrape(values: Values, options: Options) -> Scene:
    """Where a stick must go: wall, bottom, corner."""
    volume = values["v_rc"] + values["v_hc"]
    wide = cup_width(volume)
    full = level(volume, wide)
    scene = Scene(-0.75 * wide, 0.95 * wide, -1.35 * wide, 2 * WALL * wide, upright=True)
    cup(scene, 0.0, wide)
    liquid(scene, "mix", (-full, 0.0), wide, "neat")
    streak = 0.16 * wide
    corner = [(-0.6 * full, 0.5 * wide), (0.0, 0.5 * wide), (0.0, 0.5 * wide - streak)]
    scene.areas("unmixed", corner, "washer", THIN)
    stick(scene, (-0.02 * wide, -0.3 * wide), 1.25 * wide, STICK * wide, -0.42)
    scene.arrow((-0.03 * wide - full * 0.2, -0.1 * wide), (-0.03 * wide - full * 0.2, 0.28 * wide))
    scene.arrow((-full * 1.15, -0.45 * wide), (-full * 2.2, -0.45 * wide))
    scene.label("sides", (-full * 1.9, -wide / 2))
    scene.label("corner", (-0.02 * wide, -0.47 * wide))
    scene.label("bottom", (-full / 4, 0.1 * wide))
    scene.label("stick", (-1.1 * wide, 0.2 * wide))
    return scene


@drawing("mix-second-cup", "rest cup stirring")
def second_cup(values: Values, options: Options) -> Scene:
    """The first cup poured over into a clean one; what clings to it stays behind."""
    volume = values["v_rc"] + values["v_hc"]
    wide = cup_width(volume)
    full, lean = level(volume, wide), -1.95
    scene = Scene(-1.35 * wide, 0.8 * wide, -2.55 * wide, 2 * WALL * wide, upright=True)
    lip = (-1.15 * wide, -0.32 * wide)
    tipped_cup(scene, lip, wide, lean)
    stream = 0.06 * wide
    scene.area(
        "stream",
        [(lip[0], lip[1]), (-full, lip[1] + stream), (-full, lip[1] + 2 * stream), (lip[0] - stream, lip[1] + stream)],
        "neat",
        THIN,
    )
    cup(scene, 0.0, wide)
    liquid(scene, "mix", (-full, 0.0), wide, "neat")
    stick(scene, (-0.02 * wide, 0.02 * wide), 1.25 * wide, STICK * wide, -0.35)
    scene.turn((-1.02 * wide, 0.27 * wide), 0.12 * wide)
    corner = turned([(lip[0] + 0.96 * wide, lip[1] - 0.5 * wide)], lip, lean)[0]
    scene.label("rest", corner)
    scene.label("cup", (-full / 2, 0.35 * wide))
    scene.label("stirring", (-1.0 * wide, 0.42 * wide))
    return scene


def tipped_cup(scene: Scene, lip: Point, wide: float, lean: float) -> None:
    """A cup tipped to the right about its lip, with the film that stays in it."""
    (x, y), out = lip, WALL * wide
    inner = [(x, y), (x + wide, y), (x + wide, y - wide), (x, y - wide)]
    outer = [(x, y - wide - out), (x + wide + out, y - wide - out), (x + wide + out, y + out), (x, y + out)]
    film = [(x + 0.5 * wide, y), (x + wide, y), (x + wide, y - wide), (x + 0.75 * wide, y - wide)]
    film += [(x + 0.9 * wide, y - 0.9 * wide), (x + 0.93 * wide, y - 0.12 * wide)]
    scene.area("film", turned(film, lip, lean), "washer", THIN)
    scene.area("cup", turned([*inner, *outer], lip, lean), "steel")


# How stiff


def board(name: str) -> Scene:
    """One upright board from the side, with what its blob does in five minutes."""
    scene = Scene(-BOARD_THICK - BLOB / 2, 1.6 * BLOB, -0.002, BOARD + 0.001, upright=True)
    scene.box("board", (0.0, BOARD), (-BOARD_THICK, 0.0), "wood")
    scene.area(name, [(PLACED + along * BLOB, across * BLOB) for along, across in smooth(SHAPES[name])], "epoxy")
    scene.line([(PLACED, -BOARD_THICK - BLOB / 3), (PLACED, 1.5 * BLOB)], "axis")
    return scene


@dataclass
class Boards:
    """Four boards side by side, at one scale, with their words under them, and the one for this job marked."""

    chosen: str
    cases: dict[str, str] = field(default_factory=dict)

    def content(self, words: Words, prefix: str) -> tuple[str, float]:
        """All of it, and how high it is."""
        share = WIDTH / len(SHAPES)
        boards = [board(name) for name in SHAPES]
        for scene in boards:
            scene.width = share
        foot = max(scene.height for scene in boards) + LINE_STEP
        drawn = []
        for place, (name, scene) in enumerate(zip(SHAPES, boards, strict=True)):
            middle, under = (place + 0.5) * share, words.plain(name)
            drawn += [scene.place(place * share).svg(prefix), parts.words((middle, foot + LINE_STEP), under)]
            if name == self.chosen:
                below = foot + LINE_STEP + CLEAR + MARGIN
                mark = parts.line((middle - share / 3, below), (middle + share / 3, below), 2 * THICK)
                drawn.append(parts.group("chosen", mark))
        return "".join(drawn), foot + LINE_STEP + CLEAR + 2 * MARGIN


@drawing("mix-stiffness", "runny sagging soft stiff", consistency="runny sagging soft stiff")
def stiffness(values: Values, options: Options) -> Boards:
    """What a blob does on an upright board, by how stiff the mix is."""
    return Boards(options["consistency"])


# Tray


@drawing("mix-tray")
def tray(values: Values, options: Options) -> Pair:
    """The same mix spread in a tray, and left in a cup that it fills."""
    volume = values["v_rc"] + values["v_hc"]
    deep = SHALLOW * values["h_p"]
    long, wide = (volume / deep) ** 0.5, cup_width(volume, 1.0)
    half = long / 2 + 0.1 * wide
    views = [Scene(-half, half, -1.9 * wide, 0.1 * wide, upright=True) for _ in range(2)]
    right, wrong = views
    spread_out(right, long, deep)
    for place in (-0.3, 0.0, 0.3):
        right.arrow((-deep - 0.15 * wide, place * long), (-deep - 0.6 * wide, place * long))
    cup(wrong, 0.0, wide)
    liquid(wrong, "mix", (-wide, 0.0), wide, "neat")
    for place in (-0.28, 0.0, 0.28):
        smoke(wrong, (-1.1 * wide, place * wide), wide)
    return Pair(right, wrong)


def spread_out(scene: Scene, long: float, deep: float) -> None:
    """A shallow tray with the mix in it."""
    wall, rim = 0.3 * deep, 2.2 * deep
    outline = [(-rim, -long / 2), (0.0, -long / 2), (0.0, long / 2), (-rim, long / 2)]
    outline += [(-rim, long / 2 + wall), (wall, long / 2 + wall), (wall, -long / 2 - wall), (-rim, -long / 2 - wall)]
    scene.box("mix", (-deep, 0.0), (-long / 2, long / 2), "neat", THIN)
    scene.area("tray", outline, "steel")


def smoke(scene: Scene, foot: Point, wide: float) -> None:
    """A curl of smoke."""
    (x, y), step = foot, 0.09 * wide
    scene.line(smooth([(x - n * step, y + 0.08 * wide * sin(n * pi / 2)) for n in range(9)]), "thick")


# Syringe


@drawing("mix-load", "nozzle filling opening piston")
def load(values: Values, options: Options) -> Scene:
    """A syringe held nozzle down, its piston out, filled from its open back."""
    bore = bore_of(values["V_s"])
    back, tip = -(BARREL + BEHIND) * bore, (NOSE + NOZZLE) * bore
    full = values["V_px"] / values["V_s"]
    length = 0.7 * full * BARREL * bore
    beside = 2.0 * bore
    scene = Scene(-1.5 * bore, beside + bore, back - 1.9 * bore, tip + 0.1 * bore, upright=True)
    filling(scene, bore, length, tip)
    barrel(scene, bore)
    scene.box("tape", (tip - 0.5 * bore, tip + 0.05 * bore), (-0.35 * bore, 0.35 * bore), "paper")
    spatula(scene, (back - 0.1 * bore, 0.0), bore)
    scene.arrow((back + 0.35 * bore, 0.0), (-length - 0.5 * bore, 0.0))
    piston(scene, -0.6 * bore, bore, 2.6 * bore, beside)
    scene.label("nozzle", (tip - 0.25 * bore, -0.35 * bore))
    scene.label("filling", (-length / 2, -bore / 3))
    scene.label("opening", (back - 0.5 * bore, -0.2 * bore))
    scene.label("piston", (-0.8 * bore, beside))
    return scene


def spatula(scene: Scene, tip: Point, bore: float) -> None:
    """A stick from above with a blob on its end."""
    (x, y), thin = tip, 0.12 * bore
    scene.box("stick", (x - 1.7 * bore, x), (y - thin, y + thin), "wood")
    scene.area("blob", circle(tip, 0.28 * bore, 12), "epoxy")


@drawing("mix-fairing", "knife proud hollow")
def knifed(values: Values, options: Options) -> Scene:
    """A mix for fairing only: pressed into a hollow with a knife, from one side and a little proud."""
    scene = Scene(-1.3, 1.3, -0.75, 0.55, tallest=40.0)
    places = [step / 10 - 0.8 for step in range(17)]
    hollow = [(place, 0.2 * (1 - (place / 0.8) ** 2)) for place in places]
    scene.area("wood", [(-1.3, 0.0), *hollow, (1.3, 0.0), (1.3, 0.55), (-1.3, 0.55)], "plank", 0.0)
    edge = 0.3
    wet = [at for at in hollow if at[0] <= edge + 0.05]
    scene.area("filling", [*wet, (edge, -0.06), (-0.6, -0.06)], "epoxy")
    scene.line([(-1.3, 0.0), (-0.8, 0.0)], "cut")
    scene.line([(0.8, 0.0), (1.3, 0.0)], "cut")
    scene.line([at for at in hollow if at[0] >= edge], "cut")
    scene.area("knife", [(edge, -0.06), (edge - 0.4, -0.75), (edge - 0.32, -0.75), (edge + 0.05, -0.06)], "steel")
    scene.arrow((edge - 0.05, -0.55), (edge + 0.45, -0.55))
    scene.label("knife", (edge - 0.2, -0.42))
    scene.label("proud", (-0.5, -0.03))
    scene.label("hollow", (0.6, hollow[14][1]))
    return scene


@drawing("mix-section", "rest measure piston")
def section(values: Values, options: Options) -> Scene:
    """A loaded syringe in section, and how much of it never comes out."""
    bore = bore_of(values["V_s"])
    length, tip = BARREL * bore, (NOSE + NOZZLE) * bore
    kept = values["V_nx"] / values["V_s"] * length
    rod = 1.1 * bore
    left = -length - (PISTON + 0.15) * bore - rod
    scene = Scene(left, tip, -1.1 * bore, 1.6 * bore)
    filling(scene, bore, length, tip)
    if kept > 0:
        scene.box("stays behind", (-kept, 0.0), (-bore / 2, bore / 2), "washer", THIN)
        scene.label("rest", (-kept / 2, -0.2 * bore))
    barrel(scene, bore)
    piston(scene, -length, bore, rod)
    scene.arrow((-length - (PISTON + 0.1) * bore - rod * 0.75, 0.95 * bore), (-length - PISTON * bore, 0.95 * bore))
    scene.measure((-length, 0.55 * bore), (0.0, 0.55 * bore), (0.0, 0.7 * bore), (0.0, 0.8 * bore))
    scene.label("measure", (0.0, 1.35 * bore))
    scene.label("piston", (-length - PISTON / 2 * bore, -0.2 * bore))
    return scene
