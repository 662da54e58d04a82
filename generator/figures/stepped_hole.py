"""The stepped hole in section: wood, two bores, epoxy, fastener, the fitting on its cast bed."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from . import parts, tools
from .parts import CLEAR, MARGIN, OVERSHOOT, WIDTH, Sheet, greatest, least, text_width
from .picture import drawing
from .shapes import Point
from .words import Options, Values, Words

# Paper: the tallest drawing, the largest scale in units per metre, wood shown past what lies on it.
TALLEST, LARGEST = 80.0, 1600.0
PAST = 3.0
# Leaders leave the wood, turn, and end under their labels; dimension rows below.
TURN, LEADER_END = 1.2, 5.6
ROW = 2 * CLEAR + parts.ARROW_HALF + OVERSHOOT + parts.ASCENT * parts.TEXT
FIRST_ROW = ROW - OVERSHOOT + parts.LOWERED + parts.SWING
THIN_ROW = 3.0
LEADER = 4.0
BLIND_REST = 8.0
ABOVE = LEADER_END + parts.label_height(2) + MARGIN
BELOW = FIRST_ROW + ROW + 2 * MARGIN
TALL = TALLEST - ABOVE - BELOW
# How far a long base may shrink the drawing before it is drawn broken.
BASE_SAY = 0.55
# Where along a bore its leaders come out.
RING_AT, BORE_AT, COAT_AT = 0.2, 0.5, 0.86

SCALE_BARS = {"metric": (0.01, "10 mm"), "inch": (0.0127, "1/2 in")}


@dataclass(frozen=True)
class Joint:
    """The joint's lengths in metres, depths from the wood's loaded face."""

    d: float
    d_3: float
    D_g: float
    D_o: float
    T: float
    L_o: float
    cone: float
    tip: float
    t_m: float
    a_b: float
    r_f: float
    plate: float
    fastener_end: float
    blind: bool

    @property
    def base(self) -> float:
        """Upper side of the fitting's base."""
        return -(self.t_m + self.plate)

    @property
    def head(self) -> float:
        """Outer end of the fastener: the head of a bolt, or of a stud what stands out of its nut."""
        return self.base - (parts.WASHER + parts.NUT + parts.PROJECTION if self.blind else parts.HEAD) * self.d

    @property
    def washer(self) -> float:
        """Outer side of the washer behind a through hole."""
        return self.T + parts.WASHER * self.d

    @property
    def nut(self) -> float:
        """Outer side of the nut behind a through hole."""
        return self.washer + parts.NUT * self.d

    @property
    def hole(self) -> list[Point]:
        """One wall of the hole, to the axis."""
        return parts.wall(self.D_o, self.L_o, self.D_g, self.T, self.cone, self.tip)


def read_joint(values: Values, options: Options) -> Joint:
    """The drawing's lengths out of the working's values."""
    blind = options["hole"] == "blind"
    d, T, t_m, r_f = (values[name] for name in ("d", "T", "t_m", "r_f"))
    cone = values["h_o"] * (1 - values["D_g"] / values["D_o"]) if tools.pointed(values, "o") else 0.0
    tip = values["h_g"] if blind and tools.pointed(values, "g") else 0.0
    return Joint(
        **{name: values[name] for name in ("d", "d_3", "D_g", "D_o", "T", "L_o", "t_m", "a_b", "r_f")},
        cone=cone,
        tip=tip,
        plate=greatest(parts.PLATE * d, r_f - t_m + parts.LIP * d),
        fastener_end=T - values["c_e"] if blind else T + (parts.WASHER + parts.NUT + parts.PROJECTION) * d,
        blind=blind,
    )


@dataclass(frozen=True)
class Layout:
    """Where everything stands on the paper.

    `base` is the length of the fitting's base as drawn; where it is too long for the paper, `shortened`
    is 1 and a strip is left out on both sides of the hole.
    """

    sheet: Sheet
    base: float
    shortened: float
    half: float
    right: float
    labels: list[float]

    @property
    def top(self) -> float:
        """Upper break line."""
        return self.sheet.axis - self.half

    @property
    def bottom(self) -> float:
        """Lower break line."""
        return self.sheet.axis + self.half

    @property
    def height(self) -> float:
        """Of the whole drawing."""
        return self.bottom + BELOW


class Said:
    """The drawing's measures, each said once."""

    def __init__(self, words: Words):
        self.bed_words = words.plain("bed")
        self.ring_words, self.coat_words = words.plain("ring"), words.plain("coat")
        self.fitting, self.wood = words.plain("fitting")[0], words.plain("wood")[0]
        self.t_m, self.D_o, self.D_g, self.L_o, self.T = (
            words.value(name) for name in ("bed", "bore", "guide-hole", "depth", "thickness")
        )

    @property
    def bed_width(self) -> float:
        """The label of the cast bed, left of the wood."""
        return greatest(self.t_m.width, text_width(self.bed_words[0]))

    @property
    def row(self) -> list[float]:
        """Widths of the labels over the wood, from left to right."""
        ring, coat = (max(text_width(line) for line in lines) for lines in (self.ring_words, self.coat_words))
        return [ring, self.D_o.width, coat, self.D_g.width]


BED_SIDE = MARGIN + CLEAR
AXIS_SIDE = MARGIN + 2 * CLEAR
WORD_SIDE = MARGIN + LEADER


@dataclass(frozen=True)
class Side:
    """What one side of the drawing needs: paper that never shrinks, and metres that are drawn to scale."""

    paper: float
    metres: float

    def room(self, scale: float) -> float:
        """Both on the paper."""
        return self.paper + self.metres * scale


def left_of_wood(joint: Joint, said: Said) -> list[Side]:
    """The bed with its label, the base with its label, the fastener's outer end."""
    return [
        Side(BED_SIDE + said.bed_width, joint.t_m),
        Side(WORD_SIDE + text_width(said.fitting), -joint.base),
        Side(AXIS_SIDE, -joint.head),
    ]


def right_of_face(joint: Joint, said: Said) -> list[Side]:
    """The wood with its label; behind a through hole the fastener's end."""
    beside = WORD_SIDE + text_width(said.wood)
    if joint.blind:
        return [Side(BLIND_REST + beside, joint.T + joint.tip)]
    return [Side(beside, joint.T), Side(AXIS_SIDE, joint.fastener_end)]


def choose_scale(joint: Joint, said: Said) -> float:
    """Units per metre: the largest at which the joint and its labels fit the paper, both ways.

    A long base on a shallow hole would shrink the hole to nothing; it gets its say only so far, then it
    is drawn broken.
    """
    sides = product(left_of_wood(joint, said), right_of_face(joint, said))
    along = least(*((WIDTH - a.paper - b.paper) / (a.metres + b.metres) for a, b in sides))
    whole_base = (TALL - 2 * PAST) / (joint.a_b + 2 * joint.r_f)
    return least(
        along,
        greatest(whole_base, BASE_SAY * along),
        (TALL - 4 * LEADER) / (2 * joint.D_o),
        (TALL - 4 * LEADER) / (parts.WASHER_ACROSS * joint.d),
        LARGEST,
    )


def lay_out(joint: Joint, said: Said) -> Layout:
    """Place the joint on the paper at its scale, as near the middle as the labels let it."""
    scale = choose_scale(joint, said)
    base = least(joint.a_b, (TALL - 2 * PAST) / scale - 2 * joint.r_f)
    half = greatest(
        (base / 2 + joint.r_f) * scale + PAST,
        joint.D_o * scale + 2 * LEADER,
        parts.WASHER_ACROSS / 2 * joint.d * scale + 2 * LEADER,
    )
    outside = 1 - parts.text_room(joint.L_o * scale, said.L_o)
    left = greatest(
        *(side.room(scale) for side in left_of_wood(joint, said)),
        outside * (MARGIN + 2 * CLEAR + said.L_o.width),
    )
    right = greatest(*(side.room(scale) for side in right_of_face(joint, said)))
    # The first label may reach out over the bed, not so far that its leader meets the bed's dimension.
    over_bed = least(joint.t_m * scale, said.row[0] / 2 - parts.ARROW_TAIL)
    row = sum(said.row) + len(said.row) * CLEAR
    spare = least((WIDTH - left - right) / 2, WIDTH - MARGIN - row - left + over_bed)
    sheet = Sheet(scale, left + greatest(0.0, spare), ABOVE + half)
    wood_end = sheet.x(joint.T + joint.tip) + (BLIND_REST if joint.blind else 0.0)
    centres = parts.spread(leader_places(joint, sheet), said.row, sheet.face - over_bed, WIDTH - MARGIN)
    return Layout(sheet, base, parts.whether(joint.a_b - base), half, wood_end, centres)


def leader_places(joint: Joint, sheet: Sheet) -> list[float]:
    """Where the leaders over the wood come out of it: ring, oversized hole, coat, guide hole."""
    step = sheet.x(joint.L_o)
    ring = greatest(sheet.face + RING_AT * joint.L_o * sheet.scale, sheet.face + parts.ARROW_TAIL + CLEAR)
    guide = sheet.x((joint.L_o + joint.cone + joint.T) / 2)
    bore, coat = (parts.blend(share, step, ring) for share in (BORE_AT, COAT_AT))
    return [ring, bore, coat, guide]


def draw_materials(joint: Joint, layout: Layout, prefix: str) -> str:
    """Everything that is cut: wood, epoxy, bed, coat, base, washer."""
    sheet = layout.sheet
    cut = [
        parts.wood(prefix, sheet, layout.half, layout.right, joint.blind),
        parts.filling(prefix, sheet, joint.hole),
        parts.bed(prefix, sheet, layout.base, joint.t_m, joint.r_f),
        parts.film(sheet, layout.base, joint.hole, not joint.blind),
        parts.plate(prefix, sheet, "fitting", joint.base, -joint.t_m, layout.base, "metal"),
        *draw_breaks(joint, layout),
    ]
    across = parts.WASHER_ACROSS * joint.d
    seat = joint.base if joint.blind else joint.washer
    cut.append(parts.plate(prefix, sheet, "washer", seat - parts.WASHER * joint.d, seat, across, "washer"))
    return "".join(cut)


def fitting_label_from_axis(joint: Joint, layout: Layout) -> float:
    """How far from the axis the fitting's word stands: clear of the bolt's head, or of the stud's nut."""
    return greatest(layout.base / 4, parts.CORNERS / 2 * joint.d + LEADER / layout.sheet.scale) * layout.sheet.scale


def draw_breaks(joint: Joint, layout: Layout) -> list[str]:
    """The strips left out of a base too long for the paper, between the hole and the base's ends."""
    sheet = layout.sheet
    left, right = sheet.x(joint.base) - CLEAR, layout.right + CLEAR
    at = (fitting_label_from_axis(joint, layout) + layout.base / 2 * sheet.scale) / 2
    return [parts.break_out(left, right, sheet.axis + side * at, layout.shortened) for side in (-1, 1)]


def draw_fastener(joint: Joint, layout: Layout) -> str:
    """From outside: a bolt and its nut behind a through hole, a stud with its nut on the fitting in a blind one."""
    sheet, corners = layout.sheet, parts.CORNERS * joint.d
    if joint.blind:
        seat = joint.base - parts.WASHER * joint.d
        shapes = [
            parts.thread(sheet, joint.head, joint.fastener_end, joint.d, joint.d_3),
            parts.hexagon(sheet, "nut", seat - parts.NUT * joint.d, seat, corners),
        ]
    else:
        shapes = [
            parts.thread(sheet, joint.base, joint.fastener_end, joint.d, joint.d_3),
            parts.hexagon(sheet, "head", joint.head, joint.base, corners),
            parts.hexagon(sheet, "nut", joint.washer, joint.nut, corners),
        ]
    last = joint.T + joint.tip if joint.blind else joint.fastener_end
    return "".join(shapes) + parts.centre_line(sheet, joint.head, last)


def draw_depths(joint: Joint, layout: Layout, said: Said) -> str:
    """Depths below the wood, the bed's thickness above it, with their extension lines."""
    sheet, first = layout.sheet, layout.bottom + FIRST_ROW
    second, thin = first + ROW, layout.top - THIN_ROW
    step, end = sheet.x(joint.L_o), sheet.x(joint.T)
    end_from = sheet.y(joint.D_g / 2) if joint.blind else layout.bottom
    bed = sheet.x(-joint.t_m)
    bed_from = sheet.y(-layout.base / 2 - joint.r_f) - OVERSHOOT
    return parts.group(
        "extension lines",
        parts.line((sheet.face, layout.bottom), (sheet.face, second + OVERSHOOT)),
        parts.line((step, sheet.y(joint.D_o / 2)), (step, first + OVERSHOOT)),
        parts.line((end, end_from), (end, second + OVERSHOOT)),
        parts.line((bed, bed_from), (bed, thin - OVERSHOOT)),
        parts.line((sheet.face, layout.top), (sheet.face, thin - OVERSHOOT)),
    ) + "".join(
        (
            parts.length_dimension(sheet.face, step, first, said.L_o, -1),
            parts.length_dimension(sheet.face, end, second, said.T, 1),
            parts.thin_dimension(bed, sheet.face, thin, said.t_m, said.bed_words[0]),
        )
    )


def draw_labels(joint: Joint, layout: Layout, said: Said) -> str:
    """The row over the wood: what fills the ring, both bores, the coat on their walls."""
    sheet, turn, end = layout.sheet, layout.top - TURN, layout.top - LEADER_END
    ring, bore, coat, guide = leader_places(joint, sheet)
    ring_label, bore_label, coat_label, guide_label = ((centre, end) for centre in layout.labels)
    in_ring = (ring, sheet.y(-(joint.d + joint.D_o) / 4))
    on_wall = (coat, sheet.y(-joint.D_o / 2))
    return "".join(
        (
            parts.leader("thickened epoxy", in_ring, turn, ring_label, said.ring_words),
            parts.diameter_dimension(sheet, bore, joint.D_o, turn, bore_label, said.D_o),
            parts.leader("wet-out coat", on_wall, turn, coat_label, said.coat_words),
            parts.diameter_dimension(sheet, guide, joint.D_g, turn, guide_label, said.D_g),
        )
    )


def draw_sides(joint: Joint, layout: Layout, said: Said) -> str:
    """The two words beside the drawing: the fitting on the left, the wood on the right."""
    sheet = layout.sheet
    beside = fitting_label_from_axis(joint, layout)
    on_plate = least(beside, layout.base / 2 * sheet.scale - CLEAR)
    in_plate = (sheet.x(joint.base) + sheet.x(-joint.t_m)) / 2
    timber = layout.bottom - LEADER
    left, right = sheet.x(joint.base) - LEADER + CLEAR, layout.right + LEADER - CLEAR
    return parts.side_leader(
        said.fitting, (in_plate, sheet.axis + on_plate), (left, sheet.axis + beside), -1
    ) + parts.side_leader(said.wood, (layout.right - LEADER, timber), (right, timber), 1)


def draw_scale_bar(layout: Layout, said: Said) -> str:
    """Metric or inch, as the shop says its depths."""
    system = "inch" if said.T.value.endswith("in") else "metric"
    length, text = SCALE_BARS[system]
    return parts.scale_bar(2 * MARGIN, layout.bottom + FIRST_ROW + ROW, length * layout.sheet.scale, text)


@dataclass
class Section:
    """The whole drawing, with a layout of its own."""

    joint: Joint
    cases: dict[str, str]

    def content(self, words: Words, prefix: str) -> tuple[str, float]:
        """All of it, and how high it is."""
        joint, said = self.joint, Said(words)
        layout = lay_out(joint, said)
        drawn = (
            draw_materials(joint, layout, prefix),
            draw_fastener(joint, layout),
            draw_depths(joint, layout, said),
            draw_labels(joint, layout, said),
            draw_sides(joint, layout, said),
            draw_scale_bar(layout, said),
        )
        return "".join(drawn), layout.height


@drawing(
    "stepped-hole-section",
    "ring bore coat guide-hole bed fitting wood depth thickness",
    kind="blind through",
    end="blind through",
    back="blind through",
    floor="flat cone",
    tip="flat cone",
)
def stepped_hole_section(values: Values, options: Options) -> Section:
    """Section through a stepped hole with its fastener bonded in, to scale."""
    hole = options["hole"]
    floor, tip = ("cone" if tools.pointed(values, role) else "flat" for role in ("o", "g"))
    return Section(read_joint(values, options), {"kind": hole, "end": hole, "back": hole, "floor": floor, "tip": tip})
