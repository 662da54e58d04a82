"""The stepped hole in section, with words in a row over the wood and lengths below it, so that none crosses another."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from . import parts, tools
from .broken import gap
from .hole import SWING, Hole, block, read_hole
from .parts import CLEAR, FILM, MARGIN, OVERSHOOT, WIDTH, text_width
from .picture import drawing
from .scene import Scene, Stage
from .shapes import Point, both
from .words import Options, Values, Words

# Paper: the tallest drawing, the largest scale in units per metre, wood shown past what lies on it.
TALLEST, LARGEST, PAST = 80.0, 1600.0, 3.0
# Leaders leave the wood, turn, and end under their labels; dimension rows below.
TURN, LEADER_END, LEADER = 1.2, 5.6, 4.0
ROW = 2 * CLEAR + parts.ARROW_HALF + OVERSHOOT + parts.ASCENT * parts.TEXT
FIRST_ROW = ROW - OVERSHOOT + parts.LOWERED + 0.55
THIN_ROW, BLIND_REST = 3.0, 8.0
ABOVE = LEADER_END + parts.label_height(2) + MARGIN
BELOW = FIRST_ROW + ROW + 2 * MARGIN
TALL = TALLEST - ABOVE - BELOW
# How far a long base may shrink the drawing before it is drawn broken; a broken edge's swing and the gap, on the paper.
BASE_SAY, EDGE, GAP = 0.55, 0.55, 1.2
# Where along a bore its leaders come out.
RING_AT, BORE_AT, COAT_AT = 0.2, 0.5, 0.86
# A backing plate by its washer, where its own size is worked by another card.
PLATE_ACROSS = 1.7
# Paper beside the bed's label, beside the end of the axis, beside a word.
BED_SIDE, AXIS_SIDE, WORD_SIDE = MARGIN + CLEAR, MARGIN + 2 * CLEAR, MARGIN + LEADER

SCALE_BARS = {"metric": (0.01, "10 mm"), "inch": (0.0127, "1/2 in")}


@dataclass(frozen=True)
class Joint:
    """The hole with its fitting: where base, head, washer and nut end, from the wood's loaded face."""

    hole: Hole

    @property
    def top(self) -> float:
        """Upper side of the fitting's base."""
        return -(self.hole.t_m + self.hole.plate)

    @property
    def seat(self) -> float:
        """Where the nut meets its washer: on the fitting over a blind hole, else behind the wood."""
        washer = parts.WASHER * self.hole.d
        return self.top - washer if self.hole.blind else self.hole.T + self.hole.q_sk + washer

    @property
    def head(self) -> float:
        """Outer end of the fastener: the head of a bolt, or of a stud what stands out of its nuts."""
        past = parts.WASHER + parts.NUTS + parts.PROJECTION if self.hole.blind else parts.HEAD
        return self.top - past * self.hole.d

    @property
    def left(self) -> list[tuple[float, float]]:
        """What stands left of the wood's face, as (paper that never shrinks, metres to scale), words left out."""
        return [(BED_SIDE, self.hole.t_m), (WORD_SIDE, -self.top), (AXIS_SIDE, -self.head)]

    @property
    def right(self) -> list[tuple[float, float]]:
        """What stands right of it; behind a through hole the fastener's end."""
        hole = self.hole
        if hole.blind:
            return [(BLIND_REST + WORD_SIDE, hole.T + hole.tip)]
        return [(WORD_SIDE, hole.T), (AXIS_SIDE, hole.fastener_end)]


class Said:
    """The drawing's words and measures, each said once, and what they take beside the wood."""

    def __init__(self, words: Words):
        self.ring, self.coat, self.bed = words.plain("ring"), words.plain("coat"), words.plain("bed")[0]
        self.fitting, self.wood, self.plate = (words.plain(name)[0] for name in ("fitting", "wood", "plate"))
        names = ("bed", "bore", "guide-hole", "depth", "thickness")
        self.t_m, self.D_o, self.D_g, self.L_o, self.T = (words.value(name) for name in names)
        self.beside = [max(self.t_m.width, text_width(self.bed)), text_width(self.fitting), 0.0]

    @property
    def row(self) -> list[float]:
        """Widths of the labels over the wood, from left to right."""
        ring, coat = (max(text_width(line) for line in lines) for lines in (self.ring, self.coat))
        return [ring, self.D_o.width, coat, self.D_g.width]


@dataclass(frozen=True)
class Layout:
    """Where everything stands on the paper. `base` is how long the fitting's base is drawn; a longer one is broken."""

    scale: float
    face: float
    axis: float
    base: float
    half: float
    right: float
    labels: list[float]

    def x(self, along: float) -> float:
        """Paper position of a depth in the wood; the fitting's side is negative."""
        return self.face + along * self.scale

    def y(self, across: float) -> float:
        """Paper position of a distance from the axis, downwards."""
        return self.axis + across * self.scale

    @property
    def top(self) -> float:
        """Upper break line."""
        return self.axis - self.half

    @property
    def bottom(self) -> float:
        """Lower break line."""
        return self.axis + self.half


def lay_out(joint: Joint, said: Said) -> Layout:
    """The largest scale at which the joint and its labels fit the paper both ways, as near the middle as they let it.

    A long base on a shallow hole would shrink the hole to nothing; it gets its say so far, then it is drawn broken.
    """
    hole, washer = joint.hole, joint.hole.D_p
    left = [(paper + wide, metres) for (paper, metres), wide in zip(joint.left, said.beside, strict=True)]
    (paper, metres), *others = joint.right
    right = [(paper + text_width(said.wood), metres), *others]
    if hole.q_sk > 0:
        right.append((WORD_SIDE + text_width(said.plate), hole.T + hole.q_sk))
    along = min((WIDTH - a[0] - b[0]) / (a[1] + b[1]) for a, b in product(left, right))
    whole = max((TALL - 2 * PAST) / (hole.a_b + 2 * hole.r_f), BASE_SAY * along)
    scale = min(along, whole, (TALL - 4 * LEADER) / (2 * hole.D_o), (TALL - 4 * LEADER) / washer, LARGEST)
    base = min(hole.a_b, (TALL - 2 * PAST) / scale - 2 * hole.r_f)
    half = max((base / 2 + hole.r_f) * scale + PAST, max(hole.D_o, washer / 2) * scale + 2 * LEADER)
    before = max(paper + metres * scale for paper, metres in left)
    if not parts.fits(hole.L_o * scale, said.L_o):
        before = max(before, MARGIN + 2 * CLEAR + said.L_o.width)
    behind = max(paper + metres * scale for paper, metres in right)
    # The first label may reach out over the bed, not so far that its leader meets the bed's dimension.
    over_bed = min(hole.t_m * scale, said.row[0] / 2 - parts.ARROW_TAIL)
    row = sum(said.row) + len(said.row) * CLEAR
    spare = min((WIDTH - before - behind) / 2, WIDTH - MARGIN - row - before + over_bed)
    face = before + max(0.0, spare)
    end = face + (hole.T + hole.tip) * scale + (BLIND_REST if hole.blind else 0.0)
    places = leaders(hole, face, scale)
    labels = parts.spread(places, said.row, face - over_bed, WIDTH - MARGIN)
    return Layout(scale, face, ABOVE + half, base, half, end, labels)


def leaders(hole: Hole, face: float, scale: float) -> list[float]:
    """Where the leaders over the wood come out of it: ring, oversized hole, coat, guide hole."""
    step = face + hole.L_o * scale
    ring = max(face + RING_AT * hole.L_o * scale, face + parts.ARROW_TAIL + CLEAR)
    bore, coat = (share * step + (1 - share) * ring for share in (BORE_AT, COAT_AT))
    return [ring, bore, coat, face + (hole.L_o + hole.cone + hole.T) / 2 * scale]


def shapes(joint: Joint, at: Layout) -> Scene:
    """Everything but words: wood, epoxy, bed, base, washer, fastener."""
    hole, paper = joint.hole, 1 / at.scale
    d, end, half = hole.d, (at.right - at.face) / at.scale, at.half / at.scale
    scene = Scene(0.0, end, -half, half)
    block(scene, 0.0, end, half + EDGE * paper, EDGE * paper / SWING, hole.blind, face=False)
    scene.lines([(0.0, hole.D_o / 2), (0.0, half)], "cut")
    scene.area("epoxy", both(hole.wall), "epoxy", 0.0)
    edge = at.base / 2
    bed = [(-hole.t_m, edge), (-hole.r_f, edge), (0.0, edge + hole.r_f)]
    scene.area("bed", both(bed), "epoxy", 0.0)
    scene.lines(bed)
    scene.box("fitting", (joint.top, -hole.t_m), (-edge, edge), "metal", parts.CUT)
    break_ = (fitting_word(hole, at) + at.base / 2) / 2 if at.base < hole.a_b else 0.0
    for across in (-break_, break_) if break_ else ():
        near = across - GAP / 2 * paper
        gap(scene, (joint.top - CLEAR * paper, near), (end + CLEAR * paper, near), (0.0, GAP * paper), EDGE * paper)
    coat(scene, hole, FILM / 2 * paper, edge, (break_, GAP * paper))
    washer = (joint.seat, joint.seat + parts.WASHER * d) if hole.blind else (hole.T + hole.q_sk, joint.seat)
    if hole.q_sk > 0:
        wide = plate_half(hole)
        scene.box("backing plate", (hole.T, hole.T + hole.q_sk), (-wide, wide), "metal", parts.CUT)
    tools.washer(scene, washer[0], washer[1], hole.D_p)
    tools.stud(scene, joint.head if hole.blind else joint.top, hole.fastener_end, d, hole.d_3)
    tools.locked(scene, joint.seat, d, way=-1 if hole.blind else 1)
    if not hole.blind:
        tools.hexagon(scene, "head", joint.head, joint.top, d)
    last = hole.T + hole.tip if hole.blind else hole.fastener_end
    scene.line([(joint.head - 2 * CLEAR * paper, 0.0), (last + 2 * CLEAR * paper, 0.0)], "axis")
    return scene


def coat(scene: Scene, hole: Hole, deep: float, edge: float, left_out: Point) -> None:
    """Neat epoxy drunk by bare wood: a thick edge on the wood's side of the walls and under the base."""
    wall = hole.wall if hole.blind else hole.wall[:-1]
    soaked = [(along + deep if along < hole.T or hole.blind else along, across + deep) for along, across in wall]
    at, wide = left_out
    stops = [edge, at + wide / 2, at - wide / 2] if at else [edge]
    if at:
        scene.lines([(deep, stops[0]), (deep, stops[1])], "film")
    scene.lines([(deep, stops[-1]), *soaked], "film")


def plate_half(hole: Hole) -> float:
    """Half of a backing plate, drawn by its washer."""
    return PLATE_ACROSS * hole.D_p / 2


def fitting_word(hole: Hole, at: Layout) -> float:
    """How far from the axis the fitting's word stands: clear of the bolt's head, or of the stud's nut."""
    return max(at.base / 4, parts.CORNERS / 2 * hole.d + LEADER / at.scale)


def depths(joint: Joint, at: Layout, said: Said) -> str:
    """Depths below the wood, the bed's thickness above it, with their extension lines."""
    hole, first = joint.hole, at.bottom + FIRST_ROW
    second, thin = first + ROW, at.top - THIN_ROW
    step, end, bed_top = at.x(hole.L_o), at.x(hole.T), at.x(-hole.t_m)
    depth_ends = (
        ((at.face, at.bottom), (at.face, second + OVERSHOOT)),
        ((step, at.y(hole.D_o / 2)), (step, first + OVERSHOOT)),
        ((end, at.y(hole.D_g / 2) if hole.blind else at.bottom), (end, second + OVERSHOOT)),
    )
    over_bed = (
        ((bed_top, at.y(-at.base / 2 - hole.r_f) - OVERSHOOT), (bed_top, thin - OVERSHOOT)),
        ((at.face, at.top), (at.face, thin - OVERSHOOT)),
    )
    ends = [*depth_ends, *over_bed] if hole.t_m > 0 else [*depth_ends]
    return "".join(
        (
            parts.group("extension lines", *[parts.line(start, stop) for start, stop in ends]),
            parts.length_dimension(at.face, step, first, said.L_o, -1),
            parts.length_dimension(at.face, end, second, said.T, 1),
            parts.thin_dimension(bed_top, at.face, thin, said.t_m, said.bed) if hole.t_m > 0 else "",
        )
    )


def labels(joint: Joint, at: Layout, said: Said) -> str:
    """Over the wood what fills the ring, both bores, the coat; beside it the fitting and the wood."""
    hole, turn, end = joint.hole, at.top - TURN, at.top - LEADER_END
    ring, bore, coat_at, guide = leaders(hole, at.face, at.scale)
    over = [(centre, end) for centre in at.labels]
    word = fitting_word(hole, at) * at.scale
    on_plate = (at.x((joint.top - hole.t_m) / 2), at.axis + min(word, at.base / 2 * at.scale - CLEAR))
    timber = at.bottom - LEADER
    on_back = (at.x(hole.T + hole.q_sk / 2), at.y(plate_half(hole)) - CLEAR)
    back = (at.x(hole.T + hole.q_sk) + LEADER - CLEAR, on_back[1])
    return "".join(
        (
            parts.leader("thickened epoxy", (ring, at.y(-(hole.d + hole.D_o) / 4)), turn, over[0], said.ring),
            parts.diameter_dimension(bore, (at.y(-hole.D_o / 2), at.y(hole.D_o / 2)), turn, over[1], said.D_o),
            parts.leader("wet-out coat", (coat_at, at.y(-hole.D_o / 2)), turn, over[2], said.coat),
            parts.diameter_dimension(guide, (at.y(-hole.D_g / 2), at.y(hole.D_g / 2)), turn, over[3], said.D_g),
            parts.side_leader(said.fitting, on_plate, (at.x(joint.top) - LEADER + CLEAR, at.axis + word), -1),
            # The plate takes the place of the wood's name: the grain tells what the wood is.
            parts.side_leader(said.plate, on_back, back, 1)
            if hole.q_sk > 0
            else parts.side_leader(said.wood, (at.right - LEADER, timber), (at.right + LEADER - CLEAR, timber), 1),
        )
    )


@dataclass
class Section:
    """The whole drawing."""

    joint: Joint
    cases: dict[str, str]

    def content(self, words: Words, prefix: str) -> tuple[str, float]:
        """All of it, and how high it is."""
        said = Said(words)
        at = lay_out(self.joint, said)
        scene = shapes(self.joint, at)
        scene.end_grain = words.in_end_grain
        stage = Stage(scene, at.scale, at.face, at.axis, 0.0, 0.0)
        length, text = SCALE_BARS["inch" if said.T.value.endswith("in") else "metric"]
        bar = parts.scale_bar(2 * MARGIN, at.bottom + FIRST_ROW + ROW, length * at.scale, text)
        drawn = (stage.svg(prefix), depths(self.joint, at, said), labels(self.joint, at, said), bar)
        return "".join(drawn), at.bottom + BELOW


@drawing(
    "stepped-hole-section",
    "ring bore coat guide-hole bed fitting wood plate depth thickness",
    kind="blind through",
    end="blind through",
    back="blind through plate",
    floor="flat cone",
    tip="flat cone",
    base="bed wood",
    rest="bed wood",
)
def stepped_hole_section(values: Values, options: Options) -> Section:
    """Section through a stepped hole with its fastener bonded in, to scale."""
    hole = options["hole"]
    floor, tip = ("cone" if tools.pointed(values, role) else "flat" for role in ("o", "g"))
    base = "bed" if values["t_m"] > 0 else "wood"
    back = "plate" if values.get("q_sk", 0.0) > 0 else hole
    cases = {"kind": hole, "end": hole, "back": back, "floor": floor, "tip": tip, "base": base, "rest": base}
    return Section(Joint(read_hole(values, options)), cases)
