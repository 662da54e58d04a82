"""A stepped hole and what stands in it, as a lying scene: wood, bores, epoxy, bed, base, lengths under the wood."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from . import parts, tools
from .broken import BrokenScene
from .scene import Scene
from .shapes import Point, both, wave
from .words import Options, Values

# In oversized diameters: wood shown beside the axis and past a blind hole; a row under the wood; the longest hole drawn
# whole, what of its bore must be left, and the strip left out of a longer one.
BESIDE, REST, ROW = 1.3, 0.9, 0.45
LONGEST, BORE_LEFT, STRIP = 7.5, 2.5, 0.5
# In oversized diameters: a base with its fillet drawn whole up to this half length, a longer one broken off; tape; how
# far a broken edge swings; how deep a wall has drunk.
BASE_WHOLE, BASE_PAST, BASE_BROKEN = 3.0, 0.35, 1.4
TAPE, SWING, DRUNK = 0.12, 0.06, 0.03


@dataclass(frozen=True)
class Hole:
    """A stepped hole and what stands in it, in metres, depths from the loaded face."""

    d: float
    d_3: float
    D_g: float
    D_o: float
    L_o: float
    T: float
    t_m: float
    r_f: float
    a_b: float
    cone: float
    tip: float
    c_e: float
    blind: bool
    q_sk: float
    b_sk: float
    D_p: float

    @property
    def wall(self) -> list[Point]:
        """One wall of the hole, from the loaded face to its end on the axis; a drill's point leaves a cone."""
        wide, narrow = self.D_o / 2, self.D_g / 2
        step = self.L_o + self.cone
        return [(0.0, wide), (self.L_o, wide), (step, narrow), (self.T, narrow), (self.T + self.tip, 0.0)]

    @property
    def end(self) -> float:
        """Where the wood shown ends behind the hole."""
        return self.T + self.tip + REST * self.D_o if self.blind else self.T

    @property
    def fastener_end(self) -> float:
        """The point of the fastener once it is home."""
        past = (parts.WASHER + parts.NUTS + parts.PROJECTION) * self.d
        return self.T - self.c_e if self.blind else self.T + self.q_sk + past

    @property
    def half(self) -> float:
        """Wood shown on each side of the axis where no fitting is drawn."""
        return BESIDE * self.D_o

    @property
    def plate(self) -> float:
        """Thickness of the fitting's base."""
        return max(self.b_sk, self.r_f - self.t_m + parts.LIP * self.d)

    @property
    def base_is_whole(self) -> bool:
        """Whether the base with its fillet fits a view that still shows the hole."""
        return self.a_b / 2 + self.r_f + BASE_PAST * self.D_o <= BASE_WHOLE * self.D_o

    def cut(self, longest: float = LONGEST) -> Point:
        """Which part of the oversized hole is left out of the drawing, so that no more than `longest` is shown."""
        spare = max(0.0, min(self.T - longest * self.D_o, self.L_o - BORE_LEFT * self.D_o))
        start = (self.L_o - spare) * 0.55
        return (start, start + spare) if spare > STRIP * self.D_o else (start, start)


def read_hole(values: Values, options: Options) -> Hole:
    """The drawing's lengths out of the working's values."""
    blind = options["hole"] == "blind"
    names = ("d", "d_3", "D_g", "D_o", "L_o", "T", "t_m", "r_f", "a_b")
    cone = values["h_o"] * (1 - values["D_g"] / values["D_o"]) if tools.pointed(values, "o") else 0.0
    return Hole(
        **{name: values[name] for name in names},
        cone=cone,
        tip=values["h_g"] if blind and tools.pointed(values, "g") else 0.0,
        c_e=values["c_e"] if blind else 0.0,
        blind=blind,
        q_sk=values.get("q_sk", 0.0),
        b_sk=values.get("b_sk") or parts.PLATE * values["d"],
        D_p=values.get("D_p") or parts.WASHER_ACROSS * values["d"],
    )


def view(hole: Hole, left: float, right: float, half: float, rows: int = 0, longest: float = LONGEST) -> BrokenScene:
    """An empty view of the hole, `left` of the face and on to `right`, with room for rows of lengths under the wood."""
    cut = hole.cut(longest)
    gap = STRIP * hole.D_o if cut[1] > cut[0] else 0.0
    below = half + (rows * ROW + 0.2) * hole.D_o if rows else half
    return BrokenScene(-left, right, -half, below, cut=cut, gap=gap)


def block(scene: Scene, start: float, end: float, half: float, D: float, broken: bool, face: bool = True) -> None:
    """Wood from `start` to `end`, broken off above and below, and at the end as well where it goes on."""
    swing = SWING * D
    top = wave((start, -half + swing), (end, -half + swing), swing)
    bottom = wave((end, half - swing), (start, half - swing), swing)
    far = wave((end, -half + swing), (end, half - swing), swing) if broken else []
    scene.area("wood", [*top, *far, *bottom], "wood", 0.0)
    scene.line(top, "thin")
    scene.line(bottom, "thin")
    scene.line(far or [(end, -half + swing), (end, half - swing)], "thin" if broken else "cut")
    if face:
        scene.line([(start, -half + swing), (start, half - swing)], "cut")


def wood(scene: Scene, hole: Hole, half: float | None = None) -> None:
    """The block that the hole is bored in."""
    block(scene, 0.0, hole.end, half or hole.half, hole.D_o, hole.blind)


def bored(scene: Scene, outline: Sequence[Point], material: str = "paper", name: str = "hole") -> None:
    """What is cut away, or what fills it, from one wall's outline."""
    scene.area(name, both(outline), material)


def film(scene: Scene, hole: Hole) -> None:
    """Neat epoxy that the walls have drunk."""
    deep = DRUNK * hole.D_o
    walls = hole.wall if hole.blind else hole.wall[:-1]
    soaked = [(along + deep if 0 < along < hole.T else along, across + deep) for along, across in walls]
    if hole.blind:
        soaked[-1] = (soaked[-1][0] + deep, 0.0)
        scene.line(both(soaked), "film")
        return
    scene.lines(soaked, "film")


def tape_behind(scene: Scene, hole: Hole, side: int = 1) -> None:
    """Tape over the far end of a through hole."""
    across = 0.8 * hole.D_o
    scene.box("tape", (hole.T, hole.T + TAPE * hole.D_o), (-across, across), "paper")
    scene.label("tape", (hole.T + TAPE * hole.D_o / 2, across * 0.8))


def length(scene: Scene, label: str, D: float, row: int, end: float, half: float) -> None:
    """A length under the wood, from the loaded face, with its label in the column on the right."""
    away = row * ROW * D
    scene.measure((0.0, half), (end, half), (0.0, away), (0.0, away + 0.15 * D))
    scene.label(label, (0.75 * end, half + away))


def axis(scene: Scene, start: float, end: float) -> None:
    """The centre line."""
    scene.line([(start, 0.0), (end, 0.0)], "axis")


def base(scene: Scene, hole: Hole, under: float, half: float, whole: bool) -> float:
    """The fitting's base with its underside at `under`; returns its upper side."""
    across = hole.a_b / 2 if whole else half
    scene.box("fitting", (under - hole.plate, under), (-across, across), "metal", parts.CUT)
    return under - hole.plate


def bed(scene: Scene, hole: Hole, half: float, whole: bool, t_m: float | None = None, r_f: float | None = None) -> None:
    """The cast bed under the base with its fillet."""
    thick, leg = hole.t_m if t_m is None else t_m, hole.r_f if r_f is None else r_f
    if not whole:
        scene.box("bed", (-thick, 0.0), (-half, half), "epoxy")
        return
    edge = hole.a_b / 2
    rise = max(thick, leg)
    scene.area("bed", both([(-thick, 0.0), (-thick, edge), (-rise, edge), (0.0, edge + leg)]), "epoxy")


def base_view(hole: Hole) -> tuple[float, bool]:
    """Half height of a view with the fitting, and whether its base is drawn whole."""
    whole = hole.base_is_whole
    return (hole.a_b / 2 + hole.r_f + BASE_PAST * hole.D_o if whole else BASE_BROKEN * hole.D_o), whole
