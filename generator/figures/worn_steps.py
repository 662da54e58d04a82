"""A worn hole and its rescue: found, bored out, filled, drilled again. Lying scenes, the loaded side on the left."""

from __future__ import annotations

from dataclasses import dataclass

from . import parts, tools
from .broken import BrokenScene, wave
from .hole_steps import ROW, SWING, TAPE, Options, Say, Values, block, both, said
from .parts import Figure, Point
from .scene import right_and_wrong, single

# In bores: wood beside the axis, the longest hole drawn whole, the strip left out, a block before or behind.
BESIDE, LONGEST, STRIP, SLAB = 1.15, 4.5, 0.4, 0.6
# Of a worn hole: how narrow its waist is, how wide it is inside the soft wood; how far a plug stands proud.
WAIST, OPEN, PROUD = 0.75, 0.74, 0.09
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

    @property
    def plate(self) -> float:
        """Thickness of the backing plate, an outline by the thread."""
        return parts.PLATE * self.d

    @property
    def open(self) -> float:
        """The worn hole itself: the bolt still goes through it."""
        return max(OPEN * self.D_wo, 1.02 * self.d)

    @property
    def half(self) -> float:
        """Wood shown on each side of the axis."""
        return BESIDE * self.K_wo

    @property
    def cut(self) -> Point:
        """The part left out where the wood is too thick for the paper."""
        spare = max(0.0, self.T_wo - LONGEST * self.K_wo)
        start = (self.T_wo - spare) * 0.5
        return (start, start + spare) if spare > STRIP * self.K_wo else (start, start)


def read_worn(values: Values) -> Worn:
    """The drawing's lengths out of the working's values."""
    return Worn(**{name: values[name] for name in ("d", "d_3", "D_wo", "K_wo", "D_k", "T_wo")})


def view(prefix: str, worn: Worn, left: float, right: float, rows: int = 0) -> BrokenScene:
    """The wood with room before and behind it, and for rows of lengths under it."""
    cut = worn.cut
    gap = STRIP * worn.K_wo if cut[1] > cut[0] else 0.0
    below = worn.half + (rows * 0.45 + 0.2) * worn.K_wo if rows else worn.half
    scene = BrokenScene(prefix, -left, worn.T_wo + right, -worn.half, below, tallest=TALLEST, cut=cut, gap=gap)
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
    scene.line(wall, "dashed")
    scene.line(parts.mirrored(wall), "dashed")


def straight(worn: Worn, size: float) -> list[Point]:
    """One wall of a straight bore."""
    return [(0.0, size / 2), (worn.T_wo, size / 2)]


def plug(scene: BrokenScene, worn: Worn) -> None:
    """The bore full of epoxy."""
    scene.area("epoxy", both(straight(worn, worn.K_wo)), "epoxy")


def soaked(scene: BrokenScene, worn: Worn) -> None:
    """Neat epoxy that the bore's wall has drunk."""
    wall = [(along, across + 0.025 * worn.K_wo) for along, across in straight(worn, worn.K_wo)]
    scene.line(wall, "film")
    scene.line(parts.mirrored(wall), "film")


def worn_before(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The worn hole as it is found."""
    worn = read_worn(values)
    scene = view(prefix, worn, 0.5 * worn.K_wo, 0.5 * worn.K_wo)
    scene.area("worn hole", both(hourglass(worn, worn.open)), "paper")
    scene.strip(worn.half)
    stain(scene, worn)
    width = said(say, "D_wo")[0]
    scene.span((0.03 * worn.T_wo, -worn.D_wo / 2), (0.03 * worn.T_wo, worn.D_wo / 2))
    scene.label((0.03 * worn.T_wo, 0.0), "width to clear", width, side=-1)
    scene.label((0.15 * worn.T_wo, -(worn.D_wo + worn.open) / 4 * 0.95), "soft, stained", side=-1)
    scene.label((0.9 * worn.T_wo, -worn.D_wo * 0.2), "worn wide", side=1)
    scene.label((0.85 * worn.T_wo, worn.D_wo * 0.9), "sound wood", side=1)
    return single(
        scene,
        "A worn hole as it is found",
        f"Section. A bolt that moved has worn its hole wide at both mouths and less in the middle. A dashed line "
        f"on each side shows how far the wood round it is soft and stained, {say('D_wo')} across at the widest. "
        "Beyond that the wood is sound.",
        "Notice that the wood is worst where you can see it least, and wider than the hole itself. Find the cause "
        "before you mend it.",
    )


def worn_bored(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Bored out to sound wood, with a guide block because the old hole gives no centre."""
    worn = read_worn(values)
    slab, out = SLAB * worn.K_wo, 2.4 * worn.K_wo
    scene = view(prefix, worn, out, slab)
    scene.area("bore", both(straight(worn, worn.K_wo)), "paper")
    scene.box("scrap block", (worn.T_wo, worn.T_wo + slab), (-0.95 * worn.half, 0.95 * worn.half), "wood")
    for side in (-1, 1):
        inner, outer = sorted((side * worn.K_wo / 2, side * 0.95 * worn.half))
        scene.box("guide block", (-slab, 0.0), (inner, outer), "wood")
    if tools.pointed(values, "o"):
        tools.twist_drill(scene, worn.T_wo + 0.3 * slab, worn.K_wo, 0.3 * worn.K_wo, -out)
    else:
        tools.flat_bit(scene, worn.T_wo + 0.6 * slab, worn.K_wo, 0.6 * slab, -out)
    scene.strip(worn.half)
    width = said(say, "K_wo")[0]
    scene.label((0.95 * worn.T_wo, -0.3 * worn.K_wo), "bore", width, side=1)
    scene.label((worn.T_wo + 0.5 * slab, 0.7 * worn.K_wo), "scrap block", side=1)
    scene.label((-0.5 * slab, -0.7 * worn.K_wo), "guide block", side=-1)
    scene.arrow((-out, 0.6 * worn.K_wo), (-1.15 * slab, 0.6 * worn.K_wo))
    return single(
        scene,
        "Boring out to sound wood",
        f"Section. A block with a hole in it is clamped over the worn hole and guides a drill of {say('K_wo')} "
        "straight through the wood into a scrap block behind. All of the soft and stained wood has been cut away.",
        "Notice the guide block. A worn hole gives the drill no centre, and without the block it wanders to the soft "
        "side.",
    )


def worn_filled(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Filled from the taped far end until it stands proud."""
    worn = read_worn(values)
    proud, tape = PROUD * worn.K_wo, TAPE * worn.K_wo
    scene = view(prefix, worn, 0.7 * worn.K_wo, 2 * tape)
    plug(scene, worn)
    dome = [
        (0.0, worn.K_wo / 2),
        (-0.8 * proud, worn.K_wo * 0.42),
        (-1.6 * proud, worn.K_wo * 0.2),
        (-1.7 * proud, 0.0),
    ]
    scene.area("proud", both(dome), "epoxy")
    scene.box("tape", (worn.T_wo, worn.T_wo + tape), (-0.8 * worn.K_wo, 0.8 * worn.K_wo), "paper")
    scene.strip(worn.half)
    soaked(scene, worn)
    scene.label((-proud, 0.0), "proud", side=-1)
    scene.label((0.25 * worn.T_wo, -worn.K_wo / 2), "wet-out coat", side=-1)
    scene.label((worn.T_wo + tape / 2, 0.7 * worn.K_wo), "tape", side=1)
    scene.label((0.8 * worn.T_wo, 0.0), "no bubbles", side=1)
    scene.arrow(
        (worn.T_wo * 0.95, 0.25 * worn.K_wo), (max(worn.cut[1], 0.55 * worn.T_wo) + 0.05 * worn.T_wo, 0.25 * worn.K_wo)
    )
    return single(
        scene,
        "Filling the bore",
        f"Section. The bore, {say('T_wo')} long and {say('K_wo')} wide, is wetted out, taped at the far end and "
        f"filled from there with thickened epoxy, {say('h_l')} a lift, which stands a little proud at the mouth.",
        "Notice that it stands proud: epoxy sinks while the wood drinks, and what is proud is sanded off later.",
    )


def worn_redrilled(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The new hole through the middle of the plug."""
    worn = read_worn(values)
    slab, out = SLAB * worn.K_wo, 1.5 * worn.K_wo
    scene = view(prefix, worn, out, slab)
    plug(scene, worn)
    scene.box("scrap block", (worn.T_wo, worn.T_wo + slab), (-0.95 * worn.half, 0.95 * worn.half), "wood")
    tools.twist_drill(scene, worn.T_wo + 0.35 * slab, worn.D_k, 0.3 * worn.D_k, -out)
    scene.strip(worn.half)
    soaked(scene, worn)
    width, wall = said(say, "D_k", "b_wo")
    at = 0.8 * worn.T_wo
    scene.span((at, -worn.K_wo / 2), (at, -worn.D_k / 2))
    scene.label((at, -(worn.K_wo + worn.D_k) / 4), "wall", wall, side=1)
    scene.label((0.9 * worn.T_wo, 0.2 * worn.D_k), "new hole", width, side=1)
    scene.label((worn.T_wo + 0.5 * slab, 0.8 * worn.half), "scrap block", side=1)
    scene.arrow((-out, 0.75 * worn.K_wo), (-0.2 * worn.K_wo, 0.75 * worn.K_wo))
    scene.label((0.2 * worn.T_wo, 0.4 * worn.K_wo), "hard plug", side=-1)
    return single(
        scene,
        "Drilling the new hole",
        f"Section. A drill of {say('D_k')} goes through the middle of the hard plug into a scrap block. A wall of "
        f"epoxy {say('b_wo')} thick is left on every side between the new hole and the wood.",
        f"Notice the wall of {say('b_wo')} all round. The bolt never touches the wood again, and water that gets in "
        "along it meets epoxy.",
    )


def section_view(prefix: str, worn: Worn, rows: int) -> BrokenScene:
    """The finished hole with its bolt, fitting, washer and nut."""
    head = parts.PLATE * worn.d + parts.HEAD * worn.d
    behind = worn.plate + (parts.WASHER + parts.NUT + parts.PROJECTION) * worn.d

    scene = view(prefix, worn, head + 0.2 * worn.d, behind + 0.2 * worn.d, rows)
    plug(scene, worn)
    scene.area("hole", both(straight(worn, worn.D_k)), "paper", parts.THIN)
    base = -parts.PLATE * worn.d
    scene.box("fitting", (base, 0.0), (-0.95 * worn.half, 0.95 * worn.half), "metal", parts.CUT)
    tools.bolt(scene, base, worn.T_wo + behind, worn.d, worn.d_3)
    back = worn.T_wo + worn.plate
    wide = 0.95 * worn.half
    for side in (-1, 1):
        inner, outer = sorted((side * worn.d / 2, side * wide))
        scene.box("backing plate", (worn.T_wo, back), (inner, outer), "metal", parts.CUT)
    washer = back + parts.WASHER * worn.d
    tools.washer(scene, back, washer, parts.WASHER_ACROSS * worn.d)
    tools.hexagon(scene, "nut", washer, washer + parts.NUT * worn.d, worn.d)
    scene.strip(worn.half)
    soaked(scene, worn)
    scene.line([(base - parts.HEAD * worn.d, 0.0), (worn.T_wo + behind, 0.0)], "axis")
    return scene


def worn_section(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The rescued hole, finished."""
    worn = read_worn(values)
    scene = section_view(prefix, worn, 1)
    bore, hole, wall, deep = said(say, "K_wo", "D_k", "b_wo", "T_wo")
    row = worn.half + ROW * worn.K_wo
    for along in (0.0, worn.T_wo):
        scene.line([(along, worn.half), (along, row + 0.15 * worn.K_wo)], "extension")
    scene.span((0.0, row), (worn.T_wo, row))
    scene.label((0.88 * worn.T_wo, row), "wood", deep, side=1)
    at = 0.85 * worn.T_wo
    scene.span((at, -worn.K_wo / 2), (at, -worn.D_k / 2))
    scene.label((at, -(worn.K_wo + worn.D_k) / 4), "wall", wall, side=1)
    scene.label((worn.T_wo + worn.plate / 2, -0.85 * worn.half), "backing", "plate", side=1)
    scene.label((0.9 * worn.T_wo, worn.D_k / 2), "new hole", hole, side=1)
    scene.label((0.15 * worn.T_wo, -0.4 * worn.K_wo), "epoxy, bore", bore, side=-1)
    return single(
        scene,
        "A rescued hole in section",
        f"Section, loaded side on the left. A plug of epoxy {say('K_wo')} wide goes through the wood, {say('T_wo')} "
        f"thick. Through the middle of the plug a new hole of {say('D_k')} carries a {say('d')} bolt with a "
        f"backing plate, washer and nut, and a wall of epoxy {say('b_wo')} thick is left round it. The plug holds on "
        "to sound wood all round.",
        f"Notice what the plug stands in: sound wood on every side. The bolt goes through {say('b_wo')} of epoxy all "
        "round and touches no wood.",
    )


def worn_too_little(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Bored to sound wood against epoxy smeared into a worn hole."""
    worn = read_worn(values)
    deep = min(worn.T_wo, 1.8 * worn.K_wo)
    half = 0.9 * worn.K_wo
    swing = SWING * worn.K_wo
    good, bad = (BrokenScene(prefix, 0.0, deep + swing, -half, half) for _ in range(2))
    for scene in (good, bad):
        block(scene, 0.0, deep, half, worn.K_wo, True)
    for scene, size in ((good, worn.K_wo), (bad, worn.open)):
        scene.area("epoxy", both([(0.0, size / 2), (deep, size / 2)]), "epoxy")
    edge = worn.D_wo / 2
    for side in (-1, 1):
        bad.line([(0.0, side * edge), (deep, side * edge)], "dashed")
    bad.line(wave((0.0, worn.open / 2), (deep, worn.open / 2), swing / 2), "cut")
    good.label((0.3 * deep, 0.0), "plug", side=-1)
    good.label((0.3 * deep, 0.7 * worn.K_wo), "sound", side=-1)
    bad.label((0.6 * deep, -(edge + worn.open / 2) / 2), "soft wood", side=1)
    bad.label((0.6 * deep, worn.open / 2), "crack", side=1)
    return right_and_wrong(
        good,
        bad,
        ("bored to sound wood", ["filled as it was:", "it tears out"]),
        "Bored far enough, and too little",
        f"Two sections at the mouth. In the right one the bore of {say('K_wo')} has taken away all soft wood and the "
        "plug of epoxy stands in sound wood. In the wrong one epoxy was poured into the worn hole as it was; soft "
        f"wood, {say('D_wo')} across, is left round it and a crack runs along the plug.",
        "Notice what the epoxy holds on to. A plug in soft wood comes out with the soft wood on it.",
    )


FIGURES = {
    "worn-section": worn_section,
    "worn-before": worn_before,
    "worn-bored": worn_bored,
    "worn-filled": worn_filled,
    "worn-redrilled": worn_redrilled,
    "worn-too-little": worn_too_little,
}
