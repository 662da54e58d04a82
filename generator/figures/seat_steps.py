"""Drawings of a cast seat under a fitting on a crown: one that stays, and one that lets go.

All stand upright and look along the crown: loaded side on top, the ridge under the middle of the base. `along` runs
down from the ridge, `across` from the middle.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, ceil, cos, pi, sin, sqrt

from . import parts
from .broken import gap
from .picture import Pair, drawing
from .scene import Scene, as_it_is, seen
from .shapes import Point, turned
from .tools import hexagon, locked, rod, washer
from .words import Options, Values

# How thick a base is drawn: in thread diameters, and at least this part of its width.
BASE, THINNEST = parts.PLATE, 0.05
# Outlines as parts of the base's width: pads, wood beside and below it, how high a base hangs, how far it is bowed.
PAD, BESIDE, BELOW, LIFT, BOW, RIDGE = 0.08, 0.16, 0.2, 0.22, 0.05, 0.5
BULGE, TAPE, DAM, DAM_HIGH, WAX = 0.8, 0.1, 0.06, 0.1, 0.026
STEPS = 20
# How far a crown's outline may leave its circle, and how far down wood is shown whole, by the base's width; the strip
# that is left out of thicker wood.
SMOOTH, SHOWN, STRIP = 0.0003, 0.3, 0.05
# How far a levered base is tipped, and where the bar bites.
LEAN, BITE = pi / 18, 0.24
# The tallest that the waxing and the lifting are drawn, in units of paper.
WAXED, LIFTED = 26.0, 38.0


@dataclass(frozen=True)
class Seat:
    """What all of these drawings are made of, in metres."""

    R: float
    b: float
    t_0: float
    r: float
    d: float
    d_3: float
    D_k: float
    pad: float
    pad_at: float

    def crown(self, across: float) -> float:
        """How far the surface has dropped there."""
        reach = min(abs(across), self.R)
        return self.R - sqrt(self.R**2 - reach**2)

    def surface(self, start: float, end: float) -> list[Point]:
        """The crown from one side to the other, by as many turns alike as it takes to look round."""
        first, last = (asin(max(-1.0, min(1.0, place / self.R))) for place in (start, end))
        turns = max(1, ceil(abs(last - first) * sqrt(self.R / (8 * SMOOTH * self.b))))
        between = [self.R * sin(first + (last - first) * turn / turns) for turn in range(1, turns)]
        return [(self.crown(place), place) for place in [start, *between, end]]

    @property
    def half(self) -> float:
        """Half of the base."""
        return self.b / 2

    @property
    def side(self) -> float:
        """Half of the wood that is shown: no further out than a half round spar reaches."""
        whole = self.half + self.r + BESIDE * self.b
        return max(self.half + self.r, min(whole, self.R))

    @property
    def plate(self) -> float:
        """How thick the base is drawn."""
        return max(BASE * self.d, THINNEST * self.b)

    @property
    def bulge(self) -> float:
        """How far squeeze-out stands beyond the base."""
        return min(BULGE * (self.t_0 + self.crown(self.half)), max(self.r, THINNEST * self.b))

    @property
    def floor(self) -> float:
        """Where the wood is broken off."""
        return self.crown(self.side) + BELOW * self.b

    def face(self, thick: float) -> float:
        """The wood's lower face; of thicker wood a strip is left out."""
        return max(self.crown(self.side) + THINNEST * self.b, min(thick, self.floor + SHOWN * self.b))


def read_seat(values: Values) -> Seat:
    """The seat that the working describes."""
    edge = "r_o" if "r_o" in values else "r_f"
    names = ("R_c", "b_b", "t_0", edge, "d", "d_3", "D_k", "h_rs", "y_rs")
    return Seat(*(values[name] for name in names))


# The scene and what stands in it


def stage(seat: Seat, above: float, bored: bool = False, floor: float = 0.0) -> Scene:
    """The crown, `above` of room over the ridge, with the bolt's hole where it is bored; broken off where no `floor` is
    told."""
    foot = floor or seat.floor
    scene = Scene(-seat.side, seat.side, -above, foot, upright=True)
    ground = [*seat.surface(-seat.side, seat.side), (foot, seat.side), (foot, -seat.side)]
    scene.area("wood", ground, "wood", 0)
    if bored:
        half = seat.D_k / 2
        mouth = [*seat.surface(-half, half), (foot, half), (foot, -half)]
        scene.area("hole", mouth, "paper", 0)
    scene.lines(beside(seat, seat.side, bored), "cut")
    if bored:
        scene.lines([(seat.crown(half), half), (foot, half)])
    return scene


def through(seat: Seat, values: Values, thick: float, above: float) -> tuple[Scene, float]:
    """A section right through the wood, with what stands below it; and where the bolt ends."""
    face, d = seat.face(thick), seat.d
    plate = values.get("q_sk", 0.0)
    disc = values.get("t_s") or parts.WASHER * d
    end = face + plate + disc + (parts.NUTS + parts.PROJECTION) * d
    scene = stage(seat, above, bored=True, floor=face)
    scene.bottom = end
    scene.lines([(face, seat.D_k / 2), (face, seat.side)], "cut")
    if thick > face:
        wide = STRIP * seat.b
        top = face - SHOWN / 2 * seat.b
        gap(scene, (top, -seat.side), (top, seat.side), (wide, 0.0), wide / 4)
    if plate > 0:
        scene.box("backing plate", (face, face + plate), (-seat.half, seat.half), "metal", parts.CUT)
    washer(scene, face + plate, face + plate + disc, values.get("D_p") or parts.WASHER_ACROSS * d)
    return scene, end


def bolted(scene: Scene, seat: Seat, foot: float, end: float) -> None:
    """The bolt of a section through the wood, its nut locked by a second one."""
    bolt(scene, seat, foot, end)
    scene.line([(end, -seat.d / 2), (end, seat.d / 2)])
    locked(scene, end - (parts.NUTS + parts.PROJECTION) * seat.d, seat.d)


def beside(seat: Seat, end: float, bored: bool = True) -> list[Point]:
    """The surface on one side, from the hole or the ridge out."""
    return seat.surface(seat.D_k / 2 if bored else 0.0, end)


def wet(scene: Scene, seat: Seat, bored: bool = False) -> None:
    """Epoxy that the wood has drunk under the base."""
    scene.lines(beside(seat, seat.half + seat.r, bored), "film")


def pads(scene: Scene, seat: Seat, middle: bool = True) -> None:
    """Two at the sides, and the one on the ridge at the other end of the base."""
    half = PAD * seat.b / 2
    places = [(-seat.pad_at, seat.pad), (seat.pad_at, seat.pad)]
    for place, _ in [*places, *([(0.0, seat.t_0)] if middle else [])]:
        top = [(-seat.t_0, place + half), (-seat.t_0, place - half)]
        scene.area("pad", [*seat.surface(place - half, place + half), *top], "neat")


def base(scene: Scene, seat: Seat, foot: float) -> None:
    """The fitting's base with its underside at `foot`."""
    scene.box("fitting", (foot - seat.plate, foot), (-seat.half, seat.half), "metal", parts.CUT)


def bolt(scene: Scene, seat: Seat, foot: float, end: float) -> None:
    """A bolt through the base, its shank broken off at `end`."""
    top = foot - seat.plate
    rod(scene, top, end, seat.d, seat.d_3)
    hexagon(scene, "head", top - parts.HEAD * seat.d, top, seat.d)


def head_room(seat: Seat) -> float:
    """Base and head."""
    return seat.plate + parts.HEAD * seat.d


def bed(scene: Scene, seat: Seat) -> None:
    """The casting between base and crown, without a fillet."""
    scene.area(
        "cast seat", [*seat.surface(-seat.half, seat.half), (-seat.t_0, seat.half), (-seat.t_0, -seat.half)], "epoxy"
    )


def fillets(scene: Scene, seat: Seat) -> None:
    """A straight fillet on either side of the bed."""
    edge = seat.crown(seat.half)
    foot = seat.half + seat.r
    outline = [(edge, seat.half), (edge - seat.r, seat.half), (seat.crown(foot), foot)]
    scene.areas("fillet", outline, "epoxy")


def squeeze_out(scene: Scene, seat: Seat) -> None:
    """A round bead of paste on either side, as high as the edge of the seat."""
    edge = seat.crown(seat.half)
    high = edge + seat.t_0
    out = seat.bulge
    places = [step / STEPS for step in range(STEPS + 1)]
    turns = [pi * place for place in places]
    bead = [(edge - high * (1 - cos(turn)) / 2, seat.half + out * sin(turn)) for turn in turns]
    scene.areas("squeeze-out", bead, "epoxy")


def release_line(scene: Scene, seat: Seat, foot: float, up: float) -> None:
    """Release agent on the underside of the base on either side of the bolt, and up its edges."""
    low, out, start = foot + WAX * seat.b, seat.half + WAX * seat.b, seat.d / 2 + WAX * seat.b
    scene.lines([(low, start), (low, out), (foot - up, out)], "release")


def waxed_shank(scene: Scene, seat: Seat, start: float, end: float) -> None:
    """Release agent on a bolt, and on the wall of its hole in the fitting."""
    out = seat.d / 2 + WAX * seat.b
    scene.lines([(start, out), (end, out)], "release")


# A seat that stays


@drawing("seat-pads", "fitting ridge-pad side-pad crown")
def seat_pads(values: Values, options: Options) -> Scene:
    """The fitting dry on three pads."""
    seat = read_seat(values)
    scene = stage(seat, seat.t_0 + seat.plate * 1.2)
    pads(scene, seat)
    base(scene, seat, -seat.t_0)
    scene.label("fitting", (-seat.t_0 - seat.plate / 2, -seat.half * 0.85))
    scene.label("ridge-pad", (-seat.t_0 / 2, -PAD * seat.b / 4))
    scene.label("side-pad", (seat.crown(seat.pad_at) - seat.pad / 2, seat.pad_at))
    scene.label("crown", (seat.crown(seat.side * 0.9), seat.side * 0.9))
    return scene


@drawing("seat-ridge", "ridge coat fitting pad")
def seat_ridge(values: Values, options: Options) -> Scene:
    """Paste heaped along the middle."""
    seat = read_seat(values)
    wide = RIDGE * seat.b
    high = 2 * values["V_rs"] / values["a_b"] / wide
    foot = -high - LIFT * seat.b / 2
    scene = stage(seat, -foot + seat.plate * 1.2)
    wet(scene, seat)
    shares = [step / STEPS for step in range(STEPS + 1)]
    back = [((0.5 - share) * wide, high * (1 - cos(2 * pi * share)) / 2) for share in shares]
    heap = [(seat.crown(place) - up, place) for place, up in back]
    scene.area("paste", [*seat.surface(-wide / 2, wide / 2), *heap], "epoxy")
    pads(scene, seat, middle=False)
    base(scene, seat, foot)
    way = seat.half * 0.8
    scene.arrows((foot + 0.02 * seat.b, way), (foot + 0.02 * seat.b + LIFT * seat.b, way))
    scene.label("ridge", (-high * 0.6, -wide * 0.1))
    scene.label("coat", (seat.crown(seat.half), -seat.half))
    scene.label("fitting", (foot - seat.plate / 2, seat.half * 0.85))
    scene.label("pad", (seat.crown(seat.pad_at) - seat.pad / 2, seat.pad_at))
    return scene


def pressed_scene(seat: Seat, dammed: bool = False) -> tuple[Scene, float]:
    """A base pressed to its pads, paste coming out, its bolt in place; and where the base's top lies."""
    scene = stage(seat, seat.t_0 + head_room(seat) + LIFT * seat.b, bored=True)
    wet(scene, seat, bored=True)
    bed(scene, seat)
    squeeze_out(scene, seat)
    pads(scene, seat, middle=False)
    if dammed:
        dam(scene, seat)
    base(scene, seat, -seat.t_0)
    bolt(scene, seat, -seat.t_0, seat.floor)
    top = -seat.t_0 - seat.plate
    scene.arrows((top - LIFT * seat.b, seat.half * 0.75), (top - 0.01 * seat.b, seat.half * 0.75))
    return scene, top


@drawing("seat-pressed", "fingers squeeze-out")
def seat_pressed(values: Values, options: Options) -> Scene:
    """Pressed to the pads, paste coming out."""
    seat = read_seat(values)
    scene, top = pressed_scene(seat)
    out = seat.half + seat.r
    scene.arrows((top / 2, out), (top / 2, out + BESIDE * seat.b))
    scene.label("fingers", (top - seat.d / 2, -seat.d / 2))
    edge = seat.crown(seat.half)
    scene.label("squeeze-out", ((edge - seat.t_0) / 2, -seat.half - seat.bulge / 2))
    return scene


def tape(scene: Scene, seat: Seat) -> None:
    """Masking on one side, and on the other its end peeled up and back."""
    start = seat.half + seat.r
    end = min(start + TAPE * seat.b, max(start, seat.R))
    scene.line(seat.surface(-end, -start), "film")
    root = (seat.crown(start), start)
    scene.line([root, (root[0] - 0.06 * seat.b, start + 0.02 * seat.b), (root[0] - 0.1 * seat.b, end)], "film")
    scene.arrow((root[0] - 0.1 * seat.b, end), (root[0] - 0.24 * seat.b, end + 0.05 * seat.b))


@drawing("seat-fillet", "fitting fillet tape edge", shape="some none")
def seat_fillet(values: Values, options: Options) -> Scene:
    """The edge shaped and the masking peeled."""
    seat = read_seat(values)
    scene = stage(seat, seat.t_0 + max(head_room(seat), 0.24 * seat.b), bored=True)
    bed(scene, seat)
    fillets(scene, seat)
    base(scene, seat, -seat.t_0)
    bolt(scene, seat, -seat.t_0, seat.floor)
    tape(scene, seat)
    edge = seat.crown(seat.half)
    scene.label("fitting", (-seat.t_0 - seat.plate / 2, -seat.half * 0.8))
    if seat.r > 0:
        scene.label("fillet", (edge - seat.r / 3, -seat.half - seat.r / 4))
    scene.cases = {"shape": "some" if seat.r > 0 else "none"}
    scene.label("tape", (edge - 0.1 * seat.b, seat.half + seat.r + TAPE * seat.b))
    scene.label("edge", (edge - seat.r / 3, seat.half + seat.r / 4))
    return scene


def bowed(seat: Seat, foot: float, bow: float) -> list[Point]:
    """A base whose middle stands up by `bow`."""
    shares = [step / STEPS for step in range(STEPS + 1)]
    low = [(foot - bow * (1 - (2 * share - 1) ** 2), (share - 0.5) * seat.b) for share in shares]
    return [*low, *((along - seat.plate, across) for along, across in reversed(low))]


def bowed_base(seat: Seat, bow: float) -> Scene:
    """A bowed base as it is, or flat under the wrench: the room under it is filled either way."""
    rise = BOW * seat.b
    scene = stage(seat, seat.t_0 + rise + head_room(seat) + 0.12 * seat.b, bored=True)
    shape = bowed(seat, -seat.t_0, bow)
    under = shape[: STEPS + 1]
    scene.area("cast seat", [*seat.surface(-seat.half, seat.half), *reversed(under)], "epoxy")
    pads(scene, seat, middle=False)
    scene.area("fitting", shape, "metal", parts.CUT)
    bolt(scene, seat, -seat.t_0 - bow, seat.floor)
    return scene


@drawing("seat-bowed")
def seat_bowed(values: Values, options: Options) -> Pair:
    """A bowed base left as it is, and one pulled flat."""
    seat = read_seat(values)
    rise = BOW * seat.b
    right, wrong = bowed_base(seat, rise), bowed_base(seat, 0.0)
    spring = bowed(seat, -seat.t_0, rise)
    wrong.line([*spring, spring[0]], "dashed")
    top = -seat.t_0 - seat.plate
    wrong.arrows((top - 0.2 * seat.b, seat.half * 0.8), (top - 0.03 * seat.b, seat.half * 0.8))
    return Pair(right, wrong)


@drawing("cast-seat-section", "fitting edge coat ridge fillet under", round="some none", below="plate none")
def cast_seat_section(values: Values, options: Options) -> Scene:
    """The finished seat that stays."""
    seat = read_seat(values)
    scene, end = through(seat, values, values["T_sk"], seat.t_0 + head_room(seat) * 1.05)
    wet(scene, seat, bored=True)
    bed(scene, seat)
    pads(scene, seat, middle=False)
    fillets(scene, seat)
    base(scene, seat, -seat.t_0)
    bolted(scene, seat, -seat.t_0, end)
    edge = seat.crown(seat.half)
    scene.label("under", (end - (parts.NUT + parts.PROJECTION) * seat.d, parts.CORNERS / 2 * seat.d))
    scene.label("fitting", (-seat.t_0 - seat.plate / 2, -seat.half * 0.8))
    scene.label("edge", ((edge - seat.t_0) / 2, -seat.half * 0.95))
    scene.label("coat", (seat.crown(seat.half * 0.8), -seat.half * 0.8))
    scene.label("ridge", (-seat.t_0 / 2, seat.d))
    if seat.r > 0:
        scene.label("fillet", (edge - seat.r / 3, seat.half + seat.r / 4))
    scene.cases = {"round": "some" if seat.r > 0 else "none", "below": below(values)}
    return scene


def below(values: Values) -> str:
    """Whether a plate lies under the wood."""
    return "plate" if values.get("q_sk", 0.0) > 0 else "none"


# A seat that lets go


@drawing("released-wax", "fitting coats bolt edge")
def released_wax(values: Values, options: Options) -> Scene:
    """Release agent on all that must come off, away from the boat."""
    seat = read_seat(values)
    deep, long = BELOW * seat.b, LIFT * seat.b + 2 * seat.d
    high = head_room(seat)
    scene = Scene(-seat.side, seat.side, -high * 1.05, long + deep / 2, upright=True, tallest=WAXED)
    base(scene, seat, 0.0)
    bolt(scene, seat, 0.0, long)
    scene.line([(long, -seat.d / 2), (long, seat.d / 2)], "thick")
    release_line(scene, seat, 0.0, seat.plate)
    waxed_shank(scene, seat, -seat.plate, long)
    brush = seat.half * 0.55
    thick = 0.04 * seat.b
    scene.box("bristles", (0.03 * seat.b, 0.1 * seat.b), (brush - thick, brush + thick), "core")
    scene.box("handle", (0.1 * seat.b, long), (brush - thick / 2, brush + thick / 2), "steel")
    scene.arrow((0.12 * seat.b, brush + 2 * thick), (0.12 * seat.b, seat.half + 0.1 * seat.b))
    scene.label("fitting", (-seat.plate / 2, -seat.half * 0.8))
    scene.label("coats", (WAX * seat.b, -seat.half * 0.5))
    scene.label("bolt", (long * 0.8, -seat.d / 2 - WAX * seat.b))
    scene.label("edge", (-seat.plate / 2, seat.half + WAX * seat.b))
    return scene


def dam(scene: Scene, seat: Seat) -> None:
    """A wall of clay on either side, just outside the base and as high as its underside."""
    start, end = seat.half + seat.r, seat.half + seat.r + DAM * seat.b
    foot = seat.surface(start, end)
    top = -seat.t_0
    scene.areas("dam", [*foot, (top, end), (top, start)], "compound")


@drawing("released-dam", "dam wood hole")
def released_dam(values: Values, options: Options) -> Scene:
    """The dam round the place, the wood bare, the hole open above."""
    seat = read_seat(values)
    scene = stage(seat, seat.t_0 + DAM_HIGH * seat.b, bored=True)
    dam(scene, seat)
    scene.label("dam", (-seat.t_0 / 2, -seat.half - seat.r - DAM * seat.b / 2))
    scene.label("wood", (seat.crown(seat.half * 0.6), -seat.half * 0.4))
    scene.label("hole", (seat.floor * 0.7, 0.0))
    return scene


@drawing("released-press", "fingers squeeze-out release bolt")
def released_press(values: Values, options: Options) -> Scene:
    """Pressed between the dams with waxed bolts."""
    seat = read_seat(values)
    scene, top = pressed_scene(seat, dammed=True)
    release_line(scene, seat, -seat.t_0, seat.plate * 0.8)
    waxed_shank(scene, seat, -seat.t_0 - seat.plate, seat.floor)
    scene.label("fingers", (top - seat.d / 2, -seat.d / 2))
    edge = seat.crown(seat.half)
    scene.label("squeeze-out", ((edge - seat.t_0) / 2, -seat.half - seat.bulge / 2))
    scene.label("release", (-seat.t_0 + WAX * seat.b, seat.half * 0.5))
    scene.label("bolt", (seat.floor * 0.75, seat.d / 2 + WAX * seat.b))
    return scene


def trimmed_seat(scene: Scene, seat: Seat) -> None:
    """The seat by itself on the boat, the upper corner of its edge cut to a bevel, the hole kept open."""
    half = seat.D_k / 2
    foot = seat.half + seat.r
    crest = [(-seat.t_0, half), (-seat.t_0, foot - seat.r / 4)]
    shoulder = (-seat.t_0 + seat.r / 4, foot)
    scene.areas("cast seat", [*seat.surface(foot, half), *crest, shoulder], "epoxy")


def levered(seat: Seat) -> list[Point]:
    """The base tipped up on its left edge."""
    (x, y), b = (-seat.t_0, -seat.half), seat.b
    return turned([(x, y), (x, y + b), (x - seat.plate, y + b), (x - seat.plate, y)], (x, y), LEAN)


@drawing("released-lift")
def released_lift(values: Values, options: Options) -> Pair:
    """Lifted straight, and levered off."""
    seat = read_seat(values)
    above = seat.t_0 + seat.plate + 2 * LIFT * seat.b
    right, wrong = (stage(seat, above, bored=True) for _ in range(2))
    for scene in (right, wrong):
        trimmed_seat(scene, seat)
    foot = -seat.t_0 - LIFT * seat.b
    base(right, seat, foot)
    release_line(right, seat, foot, seat.plate)
    right.arrows((foot - seat.plate, seat.half / 2), (-above, seat.half / 2))
    bar(wrong, seat)
    wrong.area("fitting", levered(seat), "metal", parts.CUT)
    return Pair(right, wrong, LIFTED)


def bar(scene: Scene, seat: Seat) -> None:
    """A bar stuck under the tipped base and lifted: its end digs into the seat and cracks it."""
    bite = max(BITE * seat.b, seat.D_k / 2 + PAD * seat.b)
    tip, corner = (-seat.t_0, bite), levered(seat)[1]
    slope = (corner[0] - tip[0]) / (corner[1] - tip[1])
    out = seat.side - PAD * seat.b
    end = (tip[0] + slope * (out - tip[1]), out)
    thick = 0.04 * seat.b
    scene.area("bar", [tip, (end[0], end[1]), (end[0] + thick, end[1]), (tip[0], tip[1] + 2 * thick)], "steel")
    scene.arrow((end[0] - thick / 2, end[1]), (end[0] - LIFT / 2 * seat.b, end[1]))
    for lean in (-0.06, 0.01, 0.08):
        foot = tip[1] + lean * seat.b
        middle = (seat.crown(foot) - seat.t_0) / 2
        scene.line([tip, (middle, tip[1] + (lean * 0.2 + 0.015) * seat.b), (seat.crown(foot), foot)], "thick")


@drawing("released-refit", "fitting seat bed edge")
def released_refit(values: Values, options: Options) -> Scene:
    """Back on beads of flexible compound."""
    seat = read_seat(values)
    bead = 1.5 * values["h_b"]
    foot = -seat.t_0 - bead - LIFT * seat.b
    scene = stage(seat, -foot + seat.plate * 1.2, bored=True)
    trimmed_seat(scene, seat)
    for place in (-0.7, -0.25, 0.25, 0.7):
        scene.area("bead", _bead(-seat.t_0, place * seat.half, bead), "compound")
    base(scene, seat, foot)
    scene.arrows((foot + 0.02 * seat.b, seat.half * 0.9), (-seat.t_0 - bead, seat.half * 0.9))
    scene.label("fitting", (foot - seat.plate / 2, -seat.half * 0.8))
    scene.label("seat", (seat.crown(seat.half) - seat.t_0 / 2, -seat.half * 0.9))
    scene.label("bed", (-seat.t_0 - bead / 2, seat.half * 0.7))
    scene.label("edge", (-seat.t_0 + seat.r / 8, seat.half + seat.r * 7 / 8))
    return scene


def _bead(foot: float, place: float, high: float) -> list[Point]:
    """A half round on the seat."""
    turns = [pi * step / STEPS for step in range(STEPS + 1)]
    return [(foot - high * sin(turn), place - high * cos(turn)) for turn in turns]


@drawing("released-seat-section", "fitting seat wood compound edge under", below="plate none", film="true thicker")
def released_seat_section(values: Values, options: Options) -> Scene:
    """The fitting back on its seat."""
    seat = read_seat(values)
    film = seen(values["h_b"], 2 * seat.side, 0.0)
    scene, end = through(seat, values, values["T"], seat.t_0 + film + head_room(seat) * 1.05)
    wet(scene, seat, bored=True)
    trimmed_seat(scene, seat)
    pads(scene, seat, middle=False)
    scene.box("compound", (-seat.t_0 - film, -seat.t_0), (-seat.half, seat.half), "compound")
    base(scene, seat, -seat.t_0 - film)
    smeared = min(seat.crown(seat.D_k / 2) + seat.t_0, seat.face(values["T"]) / 2)
    scene.box("ring of compound", (-seat.t_0, smeared), (-seat.D_k / 2, seat.D_k / 2), "compound", 0)
    bolted(scene, seat, -seat.t_0 - film, end)
    edge = seat.crown(seat.half + seat.r)
    scene.label("fitting", (-seat.t_0 - film - seat.plate / 2, -seat.half * 0.8))
    scene.label("seat", ((edge - seat.t_0) / 2, -seat.half * 0.9))
    scene.label("wood", (seat.crown(seat.half * 0.8), -seat.half * 0.8))
    scene.label("compound", (-seat.t_0 - film / 2, seat.half * 0.8))
    scene.label("edge", ((edge - seat.t_0) / 2, seat.half + seat.r))
    scene.label("under", (end - (parts.NUT + parts.PROJECTION) * seat.d, parts.CORNERS / 2 * seat.d))
    scene.cases = {"below": below(values), "film": as_it_is(values["h_b"], film)}
    return scene
