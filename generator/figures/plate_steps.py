"""Drawings of a backing plate behind a bolted fitting.

All sections stand upright, loaded side on top: the fitting above, the wood below it, and under the wood the seat, the
plate, the washer and the nut. `along` runs down from the plate's upper face, `across` from the bolt's axis.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, ceil, cos, pi, sin

from . import parts
from .broken import gap
from .picture import Pair, drawing
from .scene import LOW, Scene, as_it_is, seen
from .shapes import Point, turned
from .tools import hexagon, locked, rod, washer
from .words import Options, Values

# Parts of the plate's side: wood beside it, most wood that is shown, how uneven it is, the strip left out, a wrench.
BESIDE, SHOWN, STRIP, WRENCH, PUSH, TURN = 0.16, 0.5, 0.06, 0.75, 0.24, 0.07
# How much of the seat's mean thickness the wood rises and falls; where the pads stand and how wide they are, by the
# plate's side. The gap at a pad is the mean one.
UNEVEN, PAD_AT, PAD = 0.5, 0.36, 0.07

# In thread diameters: the jaw of a wrench, and what is drawn of the fitting at the least.
JAW, PROJECTION = 0.55, parts.PROJECTION
STEPS = 22
# Part of the plate's side that a length must have to bear arrowheads.
ROOM = 0.16


@dataclass(frozen=True)
class Backing:
    """What all of these drawings are made of, in metres."""

    d: float
    d_3: float
    D_k: float
    T: float
    fitting: float
    t: float
    b: float
    h: float
    washer: float
    D_p: float

    @property
    def half(self) -> float:
        """Half of the plate."""
        return self.b / 2

    @property
    def side(self) -> float:
        """Half of the wood that is shown."""
        return self.half + BESIDE * self.b

    @property
    def wood(self) -> float:
        """How much of the wood's thickness is shown."""
        return min(self.T, SHOWN * self.b)

    @property
    def top(self) -> float:
        """The loaded face of the wood."""
        return -self.t - self.wood

    @property
    def washer_foot(self) -> float:
        """The washer's lower face."""
        return self.h + self.washer

    @property
    def nut_foot(self) -> float:
        """The nut's lower face."""
        return self.washer_foot + parts.NUT * self.d

    @property
    def end(self) -> float:
        """The bolt's end."""
        return self.nut_foot + PROJECTION * self.d

    def gap(self, across: float) -> float:
        """Between the plate and the uneven wood; its mean over the plate is the seat's mean thickness."""
        return self.t * (1 - UNEVEN * sin(pi * across / (PAD_AT * self.b)))

    def underside(self, start: float, end: float) -> list[Point]:
        """The wood's lower face from one side to the other, in as many steps as so much of its wave needs."""
        steps = ceil(STEPS * abs(end - start) / self.b)
        places = [start + (end - start) * step / steps for step in range(steps + 1)]
        return [(-self.gap(place), place) for place in places]


def read_backing(values: Values) -> Backing:
    """The plate that the working describes."""
    names = ("d", "d_3", "D_k", "T", "b_sk", "t_m", "b_rs", "h_rsp", "t_s", "D_p")
    return Backing(*(values[name] for name in names))


# The scene and what stands in it


def stage(plate: Backing, fitting: bool, below: float, bed: float = 0.0) -> Scene:
    """The wood with its hole, where asked the fitting over its bed, `below` of room under the plate's upper face."""
    head = bed + plate.fitting + parts.HEAD * plate.d if fitting else 0.0
    scene = Scene(-plate.side, plate.side, plate.top - head, below, upright=True)
    wood(scene, plate)
    if fitting:
        if plate.wood < plate.T:
            wide = STRIP * plate.b
            top = plate.top + plate.wood / 2 - wide / 2
            gap(scene, (top, -plate.side), (top, plate.side), (wide, 0.0), wide / 4)
        under = plate.top - bed
        scene.box("fitting", (under - plate.fitting, under), (-plate.half, plate.half), "metal", parts.CUT)
    return scene


def wood(scene: Scene, plate: Backing) -> None:
    """The wood, cut off at both sides, and above where more of it is left out; the bolt's hole in it."""
    corners = [(plate.top, plate.side), (plate.top, -plate.side)]
    scene.area("wood", [*plate.underside(-plate.side, plate.side), *corners], "wood", 0)
    hole = plate.D_k / 2
    scene.area("hole", [*plate.underside(-hole, hole), (plate.top, hole), (plate.top, -hole)], "paper", 0)
    for side in (-1, 1):
        scene.line(plate.underside(side * hole, side * plate.side), "cut")
        scene.line([(plate.top, side * hole), (-plate.gap(side * hole), side * hole)])


def loaded_face(scene: Scene, plate: Backing) -> None:
    """The upper face of the wood."""
    scene.lines([(plate.top, plate.D_k / 2), (plate.top, plate.side)], "cut")


def seat(scene: Scene, plate: Backing) -> None:
    """The casting between the plate and the wood, and in it the pads that the plate stands on."""
    hole, wide = plate.D_k / 2, PAD * plate.b
    for side in (-1, 1):
        face = plate.underside(side * hole, side * plate.half)
        scene.area("cast seat", [*face, (0.0, side * plate.half), (0.0, side * hole)], "epoxy")
        middle = side * PAD_AT * plate.b
        top = plate.underside(middle - wide / 2, middle + wide / 2)
        scene.area("pad", [*top, (0.0, middle + wide / 2), (0.0, middle - wide / 2)], "paper")


def metal(scene: Scene, plate: Backing, top: float = 0.0) -> None:
    """The plate in section."""
    scene.box("plate", (top, top + plate.h), (-plate.half, plate.half), "metal", parts.CUT)


def hardware(scene: Scene, plate: Backing, start: float, drop: float = 0.0) -> None:
    """Washer, nut and the bolt from `start` down, all `drop` lower than they will stand."""
    washer(scene, plate.h + drop, plate.washer_foot + drop, plate.D_p)
    rod(scene, start, plate.end, plate.d, plate.d_3)
    scene.line([(plate.end, -plate.d / 2), (plate.end, plate.d / 2)])
    hexagon(scene, "nut", plate.washer_foot + drop, plate.nut_foot + drop, plate.d)


def head(scene: Scene, plate: Backing) -> None:
    """The bolt's head on the fitting."""
    foot = plate.top - plate.fitting
    hexagon(scene, "head", foot - parts.HEAD * plate.d, foot, plate.d)


# The drawings


@drawing("plate-size", "thick washer overhang side")
def plate_size(values: Values, options: Options) -> Scene:
    """How wide and how thick."""
    plate = read_backing(values)
    low = plate.end + 0.14 * plate.b
    scene = stage(plate, False, low + 0.03 * plate.b)
    seat(scene, plate)
    metal(scene, plate)
    hardware(scene, plate, plate.top)
    over = plate.washer_foot + 0.08 * plate.b
    edge = plate.D_p / 2
    scene.line([(plate.washer_foot, edge), (over + 0.03 * plate.b, edge)], "extension")
    scene.lines([(plate.h, plate.half), (low + 0.03 * plate.b, plate.half)], "extension")
    if plate.half - edge > ROOM * plate.b:
        scene.span((over, edge), (over, plate.half))
    else:
        scene.line([(over, edge), (over, plate.half)], "thin")
    scene.span((low, -plate.half), (low, plate.half))
    scene.label("thick", (plate.h / 2, -plate.half * 0.9))
    scene.label("washer", ((plate.h + plate.washer_foot) / 2, -edge * 0.9))
    scene.label("overhang", (over, plate.half))
    scene.label("side", (low, plate.half))
    return scene


@drawing("plate-seat", "wood plate squeeze-out pad fingers")
def plate_seat(values: Values, options: Options) -> Scene:
    """Pressed up into paste against uneven wood."""
    plate = read_backing(values)
    scene = stage(plate, False, plate.nut_foot + PUSH * plate.b)
    seat(scene, plate)
    for side in (-1, 1):
        bead(scene, plate, side)
    metal(scene, plate)
    hardware(scene, plate, plate.top)
    place = (plate.half + max(plate.D_p, parts.CORNERS * plate.d) / 2) / 2
    scene.arrows((plate.h + PUSH * plate.b, place), (plate.h + 0.02 * plate.b, place))
    scene.label("wood", (-plate.gap(-plate.side * 0.92), -plate.side * 0.92))
    scene.label("plate", (plate.h / 2, -plate.half * 0.85))
    scene.label("squeeze-out", (-plate.gap(plate.half) / 2, plate.half + plate.t * 0.2))
    scene.label("pad", (-plate.t / 2, PAD_AT * plate.b))
    scene.label("fingers", (plate.nut_foot - plate.d / 4, plate.d / 2))
    return scene


def bead(scene: Scene, plate: Backing, side: int) -> None:
    """Squeeze-out at one edge."""
    high = plate.gap(side * plate.half)
    turns = [pi * step / STEPS for step in range(STEPS + 1)]
    points = [(-high * (1 - cos(turn)) / 2, side * (plate.half + plate.t * 0.6 * sin(turn))) for turn in turns]
    scene.area("squeeze-out", points, "epoxy")


@drawing("plate-tight", "head seat nut thread")
def plate_tight(values: Values, options: Options) -> Scene:
    """The head held, the nut turned."""
    plate = read_backing(values)
    round_ = max(TURN * plate.b, plate.d / 2)
    scene = stage(plate, True, plate.end + 2.4 * round_)
    scene.tallest = LOW
    loaded_face(scene, plate)
    seat(scene, plate)
    metal(scene, plate)
    hardware(scene, plate, plate.top - plate.fitting)
    head(scene, plate)
    jaw = JAW * plate.d
    top = plate.top - plate.fitting - parts.HEAD / 2 * plate.d
    nut = plate.washer_foot + parts.NUT / 2 * plate.d
    start = parts.CORNERS / 4 * plate.d
    scene.box("wrench", (top - jaw / 2, top + jaw / 2), (-WRENCH * plate.side, -start), "paper")
    scene.box("wrench", (nut - jaw / 2, nut + jaw / 2), (start, WRENCH * plate.side), "paper")
    scene.turn((plate.end + 1.3 * round_, 0.0), round_)
    scene.label("head", (top, -WRENCH * plate.side * 0.9))
    scene.label("seat", (-plate.gap(-plate.half / 2) / 2, -plate.half / 2))
    scene.label("nut", (nut, WRENCH * plate.side * 0.9))
    scene.label("thread", (plate.end - PROJECTION / 2 * plate.d, plate.d / 2))
    return scene


@drawing("plate-rocks")
def plate_rocks(values: Values, options: Options) -> Pair:
    """On its seat, and bare on a high spot."""
    plate = read_backing(values)
    below = plate.nut_foot + 0.2 * plate.b
    right, wrong = (stage(plate, False, below) for _ in range(2))
    seat(right, plate)
    metal(right, plate)
    hardware(right, plate, plate.top)
    tipped, slope = leaning(plate)
    wrong.area("plate", tipped, "metal", parts.CUT)
    hardware(wrong, plate, plate.top, drop=plate.t * 0.6)
    low = plate.h + plate.half * abs(slope)
    for side, way in ((-1, 1), (1, -1)):
        start, end = low + 0.04 * plate.b, low + 0.18 * plate.b
        place = side * plate.half * 0.85
        wrong.arrow(*(((start, place), (end, place)) if way > 0 else ((end, place), (start, place))))
    return Pair(right, wrong, LOW)


def leaning(plate: Backing) -> tuple[Sequence[Point], float]:
    """The bare plate tipped until it touches the wood; its outline and its slope."""
    slope = -UNEVEN * plate.t / plate.half
    places = [plate.half * (2 * step / STEPS - 1) for step in range(STEPS + 1)]
    touch = max(-plate.gap(place) - slope * place for place in places)
    x, y = (touch, touch + plate.h), plate.half
    corners = [(x[0], -y), (x[0], y), (x[1], y), (x[1], -y)]
    return turned(corners, (touch, 0.0), -atan(slope)), slope


@drawing("backing-plate-section", "fitting bed seat hole plate washer nuts", wood="whole broken", film="true thicker")
def backing_plate_section(values: Values, options: Options) -> Scene:
    """The finished joint."""
    plate = read_backing(values)
    bed, end = seen(values["h_b"], 2 * plate.side, 0.0), plate.end + parts.NUT * plate.d
    scene = stage(plate, True, end, bed)
    loaded_face(scene, plate)
    scene.box("bed", (plate.top - bed, plate.top), (-plate.half, plate.half), "compound")
    scene.box(
        "ring of compound", (plate.top, plate.top + plate.wood / 4), (-plate.D_k / 2, plate.D_k / 2), "compound", 0
    )
    seat(scene, plate)
    metal(scene, plate)
    foot = plate.top - bed - plate.fitting
    washer(scene, plate.h, plate.washer_foot, plate.D_p)
    rod(scene, foot, end, plate.d, plate.d_3)
    scene.line([(end, -plate.d / 2), (end, plate.d / 2)])
    locked(scene, plate.washer_foot, plate.d)
    hexagon(scene, "head", foot - parts.HEAD * plate.d, foot, plate.d)
    scene.label("fitting", (foot + plate.fitting / 2, -plate.half * 0.8))
    scene.label("bed", (plate.top - bed / 2, plate.half * 0.8))
    scene.label("nuts", (plate.nut_foot, parts.CORNERS / 2 * plate.d))
    scene.label("seat", (-plate.t / 2, -PAD_AT * plate.b))
    scene.label("hole", (-plate.t - plate.wood / 5, plate.D_k / 2))
    scene.label("plate", (plate.h / 2, plate.half * 0.9))
    scene.label("washer", (plate.washer_foot - plate.washer / 2, plate.D_p / 2 * 0.9))
    scene.cases = {
        "wood": "whole" if plate.wood == plate.T else "broken",
        "film": as_it_is(values["h_b"], bed),
    }
    return scene
