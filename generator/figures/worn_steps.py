"""A worn hole and its rescue: found, bored out, filled, drilled again. Lying scenes, the loaded side on the left."""

from __future__ import annotations

from dataclasses import dataclass, replace

from . import parts, tools
from .broken import BrokenScene
from .hole import SWING, TAPE, block, length
from .picture import Pair, drawing
from .scene import as_it_is, seen
from .shapes import Point, both, wave
from .words import Options, Values

# In bores: wood beside the axis, the longest hole drawn whole, the strip left out, a block before or behind.
BESIDE, LONGEST, STRIP, SLAB = 1.15, 4.5, 0.4, 0.6
# Of a worn hole: how narrow its waist is, how wide it is inside the soft wood; how far a plug stands proud.
WAIST, OPEN, PROUD = 0.75, 0.74, 0.09
# How far towards the edge of the view blocks, base and plate reach.
EDGE = 0.95
# The tallest a view is drawn, in units of paper.
TALLEST = 31.0


@dataclass(frozen=True)
class Worn:
    """A hole through the wood, worn, and the bore that takes the worn wood away; in metres."""

    d: float
    d_3: float
    D_wo: float
    K_wo: float
    D_k: float
    T_wo: float
    q_sk: float
    b_wq: float
    D_p: float
    reach: float = 0.0

    @property
    def open(self) -> float:
        """The worn hole itself: the bolt still goes through it."""
        return max(OPEN * self.D_wo, 1.02 * self.d)

    @property
    def half(self) -> float:
        """Wood shown on each side of the axis."""
        return max(BESIDE * self.K_wo, self.reach)

    @property
    def cut(self) -> Point:
        """The part left out where the wood is too thick for the paper."""
        spare = max(0.0, self.T_wo - LONGEST * self.K_wo)
        start = (self.T_wo - spare) * 0.5
        return (start, start + spare) if spare > STRIP * self.K_wo else (start, start)


def read_worn(values: Values) -> Worn:
    """The drawing's lengths out of the working's values."""
    read = {name: values[name] for name in ("d", "d_3", "D_wo", "K_wo", "D_k", "T_wo", "q_sk", "b_wq")}
    return Worn(**read, D_p=values.get("D_p") or parts.WASHER_ACROSS * values["d"])


def view(worn: Worn, left: float, right: float, rows: int = 0) -> BrokenScene:
    """The wood with room before and behind it, and for rows of lengths under it."""
    cut = worn.cut
    gap = STRIP * worn.K_wo if cut[1] > cut[0] else 0.0
    below = worn.half + (rows * 0.45 + 0.2) * worn.K_wo if rows else worn.half
    scene = BrokenScene(-left, worn.T_wo + right, -worn.half, below, tallest=TALLEST, cut=cut, gap=gap)
    block(scene, 0.0, worn.T_wo, worn.half, worn.K_wo, False)
    return scene


def hourglass(worn: Worn, size: float) -> list[Point]:
    """One wall of a hole that a loose bolt has worn wide at both mouths."""
    half, T = size / 2, worn.T_wo
    waist, near = max(WAIST * half, worn.d / 2), max(0.93 * half, worn.d / 2)
    return [(0.0, half), (0.12 * T, near), (0.5 * T, waist), (0.88 * T, near), (T, half)]


def stain(scene: BrokenScene, worn: Worn) -> None:
    """Where the soft, dark wood ends."""
    wall = hourglass(worn, worn.D_wo)
    scene.lines(wall, "dashed")


def straight(worn: Worn, size: float) -> list[Point]:
    """One wall of a straight bore."""
    return [(0.0, size / 2), (worn.T_wo, size / 2)]


def plug(scene: BrokenScene, worn: Worn) -> None:
    """The bore full of epoxy."""
    scene.area("epoxy", both(straight(worn, worn.K_wo)), "epoxy")


def soaked(scene: BrokenScene, worn: Worn) -> None:
    """Neat epoxy that the bore's wall has drunk."""
    wall = [(along, across + 0.025 * worn.K_wo) for along, across in straight(worn, worn.K_wo)]
    scene.lines(wall, "film")


@drawing("worn-before", "width soft mouth sound")
def worn_before(values: Values, options: Options) -> BrokenScene:
    """The worn hole as it is found."""
    worn = read_worn(values)
    scene = view(worn, 0.5 * worn.K_wo, 0.5 * worn.K_wo)
    scene.area("worn hole", both(hourglass(worn, worn.open)), "paper")
    scene.cut_out(worn.half)
    stain(scene, worn)
    scene.span((0.03 * worn.T_wo, -worn.D_wo / 2), (0.03 * worn.T_wo, worn.D_wo / 2))
    scene.label("width", (0.03 * worn.T_wo, 0.0))
    scene.label("soft", (0.15 * worn.T_wo, -(worn.D_wo + worn.open) / 4 * 0.95))
    scene.label("mouth", (0.9 * worn.T_wo, -worn.D_wo * 0.2))
    scene.label("sound", (0.85 * worn.T_wo, worn.D_wo * 0.9))
    return scene


@drawing("worn-bored", "bore scrap-block guide-block")
def worn_bored(values: Values, options: Options) -> BrokenScene:
    """Bored out to sound wood, with a guide block because the old hole gives no centre."""
    worn = read_worn(values)
    slab, out = SLAB * worn.K_wo, 2.4 * worn.K_wo
    scene = view(worn, out, slab)
    scene.area("bore", both(straight(worn, worn.K_wo)), "paper")
    scene.box("scrap block", (worn.T_wo, worn.T_wo + slab), (-EDGE * worn.half, EDGE * worn.half), "wood")
    inner, outer = (worn.K_wo / 2, EDGE * worn.half)
    scene.boxes("guide block", (-slab, 0.0), (inner, outer), "wood")
    if tools.pointed(values, "o"):
        tools.twist_drill(scene, worn.T_wo + 0.3 * slab, worn.K_wo, 0.3 * worn.K_wo, -out)
    else:
        tools.flat_bit(scene, worn.T_wo + 0.6 * slab, worn.K_wo, 0.6 * slab, -out)
    scene.cut_out(worn.half)
    scene.label("bore", (0.95 * worn.T_wo, -0.3 * worn.K_wo))
    scene.label("scrap-block", (worn.T_wo + 0.5 * slab, 0.7 * worn.K_wo))
    scene.label("guide-block", (-0.5 * slab, -0.7 * worn.K_wo))
    scene.arrow((-out, 0.6 * worn.K_wo), (-1.15 * slab, 0.6 * worn.K_wo))
    return scene


@drawing("worn-filled", "proud coat tape bubbles")
def worn_filled(values: Values, options: Options) -> BrokenScene:
    """Filled from the taped far end until it stands proud."""
    worn = read_worn(values)
    proud, tape = PROUD * worn.K_wo, TAPE * worn.K_wo
    scene = view(worn, 0.7 * worn.K_wo, 2 * tape)
    plug(scene, worn)
    dome = [
        (0.0, worn.K_wo / 2),
        (-0.8 * proud, worn.K_wo * 0.42),
        (-1.6 * proud, worn.K_wo * 0.2),
        (-1.7 * proud, 0.0),
    ]
    scene.area("proud", both(dome), "epoxy")
    scene.box("tape", (worn.T_wo, worn.T_wo + tape), (-0.8 * worn.K_wo, 0.8 * worn.K_wo), "paper")
    scene.cut_out(worn.half)
    soaked(scene, worn)
    scene.label("proud", (-proud, 0.0))
    scene.label("coat", (0.25 * worn.T_wo, -worn.K_wo / 2))
    scene.label("tape", (worn.T_wo + tape / 2, 0.7 * worn.K_wo))
    scene.label("bubbles", (0.8 * worn.T_wo, 0.0))
    scene.arrow(
        (worn.T_wo * 0.95, 0.25 * worn.K_wo), (max(worn.cut[1], 0.55 * worn.T_wo) + 0.05 * worn.T_wo, 0.25 * worn.K_wo)
    )
    return scene


@drawing("worn-redrilled", "wall hole scrap-block plug")
def worn_redrilled(values: Values, options: Options) -> BrokenScene:
    """The new hole through the middle of the plug."""
    worn = read_worn(values)
    slab, out = SLAB * worn.K_wo, 1.5 * worn.K_wo
    scene = view(worn, out, slab)
    plug(scene, worn)
    scene.box("scrap block", (worn.T_wo, worn.T_wo + slab), (-EDGE * worn.half, EDGE * worn.half), "wood")
    tools.twist_drill(scene, worn.T_wo + 0.35 * slab, worn.D_k, 0.3 * worn.D_k, -out)
    scene.cut_out(worn.half)
    soaked(scene, worn)
    at = 0.8 * worn.T_wo
    scene.span((at, -worn.K_wo / 2), (at, -worn.D_k / 2))
    scene.label("wall", (at, -(worn.K_wo + worn.D_k) / 4))
    scene.label("hole", (0.9 * worn.T_wo, 0.2 * worn.D_k))
    scene.label("scrap-block", (worn.T_wo + 0.5 * slab, 0.8 * worn.half))
    scene.arrow((-out, 0.75 * worn.K_wo), (-0.2 * worn.K_wo, 0.75 * worn.K_wo))
    scene.label("plug", (0.2 * worn.T_wo, 0.4 * worn.K_wo))
    return scene


def section_view(worn: Worn, bed: float, rows: int) -> BrokenScene:
    """The finished hole with its bolt, the fitting on its bed, plate, washer and nuts."""
    head = bed + parts.PLATE * worn.d + parts.HEAD * worn.d
    behind = worn.q_sk + (parts.WASHER + parts.NUTS + parts.PROJECTION) * worn.d
    scene = view(worn, head + 0.2 * worn.d, behind + 0.2 * worn.d, rows)
    plug(scene, worn)
    scene.area("hole", both(straight(worn, worn.D_k)), "paper", parts.THIN)
    base, wide = -bed - parts.PLATE * worn.d, EDGE * worn.half
    scene.box("compound", (-bed, 0.0), (-wide, wide), "compound")
    scene.box("fitting", (base, -bed), (-wide, wide), "metal", parts.CUT)
    tools.bolt(scene, base, worn.T_wo + behind, worn.d, worn.d_3)
    back = worn.T_wo + worn.q_sk
    scene.boxes("backing plate", (worn.T_wo, back), (worn.D_k / 2, worn.b_wq / 2), "metal", parts.CUT)
    washer = back + parts.WASHER * worn.d
    tools.washer(scene, back, washer, worn.D_p)
    tools.locked(scene, washer, worn.d)
    scene.cut_out(worn.half)
    soaked(scene, worn)
    scene.line([(base - parts.HEAD * worn.d, 0.0), (worn.T_wo + behind, 0.0)], "axis")
    return scene


@drawing("worn-section", "wood wall plate hole plug bed", film="true thicker")
def worn_section(values: Values, options: Options) -> BrokenScene:
    """The rescued hole, finished. What lies behind is wider than the bore, and drawn whole."""
    found = read_worn(values)
    worn = replace(found, reach=max(found.b_wq, found.D_p) / 2 / EDGE)
    long = worn.T_wo - worn.cut[1] + worn.cut[0] + 4 * worn.d
    bed = seen(values["h_b"], long, 2 * worn.half + 0.65 * worn.K_wo, TALLEST)
    scene = section_view(worn, bed, 1)
    length(scene, "wood", worn.K_wo, 1, worn.T_wo, worn.half)
    at = 0.85 * worn.T_wo
    scene.span((at, -worn.K_wo / 2), (at, -worn.D_k / 2))
    scene.label("wall", (at, -(worn.K_wo + worn.D_k) / 4))
    scene.label("plate", (worn.T_wo + worn.q_sk / 2, -worn.b_wq / 2 * 0.9))
    scene.label("bed", (-bed / 2, -0.8 * worn.half))
    scene.cases = {"film": as_it_is(values["h_b"], bed)}
    scene.label("hole", (0.9 * worn.T_wo, worn.D_k / 2))
    scene.label("plug", (0.15 * worn.T_wo, -0.4 * worn.K_wo))
    return scene


@drawing("worn-too-little", "plug sound soft-wood crack")
def worn_too_little(values: Values, options: Options) -> Pair:
    """Bored to sound wood against epoxy smeared into a worn hole."""
    worn = read_worn(values)
    deep = min(worn.T_wo, 1.8 * worn.K_wo)
    half = 0.9 * worn.K_wo
    swing = SWING * worn.K_wo
    good, bad = (BrokenScene(0.0, deep + swing, -half, half) for _ in range(2))
    for scene in (good, bad):
        block(scene, 0.0, deep, half, worn.K_wo, True)
    for scene, size in ((good, worn.K_wo), (bad, worn.open)):
        scene.area("epoxy", both([(0.0, size / 2), (deep, size / 2)]), "epoxy")
    edge = worn.D_wo / 2
    bad.lines([(0.0, edge), (deep, edge)], "dashed")
    bad.line(wave((0.0, worn.open / 2), (deep, worn.open / 2), swing / 2), "cut")
    good.label("plug", (0.3 * deep, 0.0))
    good.label("sound", (0.3 * deep, 0.7 * worn.K_wo))
    bad.label("soft-wood", (0.6 * deep, -(edge + worn.open / 2) / 2))
    bad.label("crack", (0.6 * deep, worn.open / 2))
    return Pair(good, bad)
