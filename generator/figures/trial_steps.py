"""A trial joint: made like the real one, pulled, cut open and judged."""

from __future__ import annotations

from collections.abc import Sequence

from . import parts, tools
from .broken import BrokenScene
from .hole import SWING, Hole, block, film, read_hole
from .picture import Pair, drawing
from .scene import Scene
from .shapes import both, circle, wave
from .words import Options, Values

# By the hole's oversized diameter: rod shown above the block, the longest hole drawn whole, the strip left out of it.
ABOVE, LONGEST, STRIP = 1.9, 4.5, 0.5
# By the distance from pivot to rod: the round bars, clamps, what of the lever is drawn.
BAR, CLAMP, NEAR, FAR, TAIL = 0.15, 0.14, 1.75, 0.7, 0.4
# The tallest that the cut block is drawn, in units of paper.
TALLEST = 24.0


def trial_hole(values: Values, options: Options) -> Hole:
    """The hole of a trial joint, which has no fitting on it."""
    return read_hole({**values, "t_m": 0.0, "r_f": 0.0, "a_b": 0.0}, options)


def rod_end(hole: Hole) -> float:
    """A trial rod has no nut behind it: it ends flush, or short of a blind hole's bottom."""
    return hole.T - hole.c_e


def upright(hole: Hole, half: float, above: float, rows: float = 0.0) -> BrokenScene:
    """A block that stands with its loaded face up."""
    cut = hole.cut(LONGEST)
    gap = STRIP * hole.D_o if cut[1] > cut[0] else 0.0
    end = hole.T + (hole.tip + 0.9 * hole.D_o if hole.blind else 0.0)
    return BrokenScene(-half, half, -above, end + rows, upright=True, cut=cut, gap=gap)


def bonded_rod(scene: BrokenScene, hole: Hole, top: float) -> None:
    """The bond with its rod, which stands out to `top`."""
    scene.area("epoxy", both(hole.wall), "epoxy")
    tools.stud(scene, top, rod_end(hole), hole.d, hole.d_3)


@drawing("trial-section", "edge bore guide-hole rod grain", hole="blind through")
def trial_section(values: Values, options: Options) -> Scene:
    """The trial joint, finished."""
    hole = trial_hole(values, options)
    half, above = values["w_tr"] / 2, ABOVE * hole.D_o
    scene = upright(hole, half, above, 0.7 * hole.D_o)
    end = hole.T + (hole.tip + 0.9 * hole.D_o if hole.blind else 0.0)
    scene.box("wood", (0.0, end), (-half, half), "endgrain", parts.CUT)
    bonded_rod(scene, hole, -above)
    nut = -above + 0.4 * hole.d
    tools.hexagon(scene, "nut", nut, nut + parts.NUT * hole.d, hole.d)
    scene.cut_out(half)
    film(scene, hole)
    scene.line([(-above, 0.0), (end, 0.0)], "axis")
    y = end + 0.4 * hole.D_o
    scene.measure((end, 0.0), (end, half), (0.4 * hole.D_o, 0.0), (0.6 * hole.D_o, 0.0))
    scene.label("edge", (y, 0.7 * half))
    scene.label("bore", (0.12 * hole.L_o, hole.D_o / 2))
    scene.label("guide-hole", ((hole.L_o + hole.T) / 2, hole.D_g / 2))
    scene.label("rod", (-0.5 * above, 0.0))
    scene.label("grain", (0.08 * hole.L_o, -0.8 * half))
    return scene


@drawing("trial-block", "boat edge block grain same-edge")
def trial_block(values: Values, options: Options) -> Scene:
    """The block cut like the place on the boat: same edge, same grain, same depth."""
    hole = trial_hole(values, options)
    edge, apart = values["a_e"], 1.2 * hole.D_o
    half = (1.3 * hole.D_o + edge + apart + 2 * edge) / 2
    scene = upright(hole, half, 0.2 * hole.D_o, 0.7 * hole.D_o)
    end = hole.T + (hole.tip + 0.9 * hole.D_o if hole.blind else 0.0)
    boat, trial = -half + 1.3 * hole.D_o, half - edge
    swing = SWING * hole.D_o
    left = wave((end, -half + swing), (0.0, -half + swing), swing)
    scene.area("boat", [*left, (0.0, boat + edge), (end, boat + edge)], "endgrain", 0.0)
    scene.line([(0.0, -half + swing), (0.0, boat + edge), (end, boat + edge), (end, -half + swing)], "cut")
    scene.line(left, "thin")
    scene.box("trial block", (0.0, end), (trial - edge, trial + edge), "endgrain", parts.CUT)
    for at in (boat, trial):
        scene.area("hole", [(along, at + across) for along, across in both(hole.wall)], "paper")
    scene.cut_out(half - swing, boat + edge)
    scene.cut_out(edge - trial, trial + edge)
    y = end + 0.4 * hole.D_o
    for at in (boat, trial):
        scene.measure((end, at), (end, at + edge), (0.4 * hole.D_o, 0.0), (0.6 * hole.D_o, 0.0))
    scene.label("boat", (0.15 * hole.L_o, -half + 0.5 * hole.D_o))
    scene.label("edge", (y, boat + 0.3 * edge))
    scene.label("block", (0.15 * hole.L_o, trial + 0.8 * edge))
    scene.label("grain", (0.6 * hole.L_o, trial + 0.85 * edge))
    scene.label("same-edge", (y, trial + 0.8 * edge))
    return scene


# The pull


def ground(scene: Scene, values: Values, hole: Hole, bench: Sequence[float], left: float, right: float) -> None:
    """The bench, the block on it with its packers and their round bars, and the clamps that hold it down."""
    a, half, high = values["a_tr"], values["l_tr"] / 2, values["h_pk"]
    scene.box("bench", (left, right), (bench[0], bench[1]), "washer")
    scene.box("wood", (-half, half), (0.0, bench[0]), "plank", parts.CUT)
    for side in (-1, 1):
        scene.box("packer", (side * a - high / 4, side * a + high / 4), (-high, 0.0), "metal")
        scene.area("round bar", circle((side * a, -high - BAR * a / 2), BAR * a / 2, 24), "steel")
        foot, reach = CLAMP * a, side * (half + CLAMP * a)
        grip = side * (a + high / 4 + half) / 2
        scene.line([(grip, 0.0), (grip, -0.7 * foot), (reach, -0.7 * foot), (reach, bench[1] + 0.7 * foot)], "cut")
        scene.line([(reach, bench[1] + 0.7 * foot), (grip, bench[1] + 0.7 * foot), (grip, bench[1])], "cut")


def standing_bond(scene: Scene, hole: Hole, top: float) -> None:
    """Bond and rod seen from the side that stands up in the view, depth downwards."""
    scene.area("epoxy", [(across, along) for along, across in both(hole.wall)], "epoxy")
    scene.box("rod", (-hole.d / 2, hole.d / 2), (top, rod_end(hole)), "steel")


def lever(scene: Scene, values: Values, hole: Hole, under: float, far: float) -> float:
    """Two bars over the round bars, washer and nut over the rod; returns where the nut ends."""
    a, h = values["a_tr"], values["h_tr"]
    scene.box("lever", (-a - TAIL * a, far), (under - h, under), "steel")
    plate = under - h - 0.3 * hole.d
    scene.box("washer", (-1.4 * hole.d, 1.4 * hole.d), (plate, under - h), "washer")
    scene.box(
        "nut", (-parts.CORNERS * hole.d / 2, parts.CORNERS * hole.d / 2), (plate - parts.NUT * hole.d, plate), "steel"
    )
    return plate - parts.NUT * hole.d


def jack(scene: Scene, at: float, under: float, bench: float, a: float) -> None:
    """A jack under the far end of the lever, on a scale."""
    scale = 0.16 * a
    scene.box("scale", (at - 0.45 * a, at + 0.45 * a), (bench - scale, bench), "paper")
    body = (under + bench - scale) / 2
    scene.box("jack", (at - 0.22 * a, at + 0.22 * a), (body, bench - scale), "metal")
    scene.box("ram", (at - 0.09 * a, at + 0.09 * a), (under, body), "steel")


@drawing("trial-pull", "short-arm long-arm line pivot packer jack")
def trial_pull(values: Values, options: Options) -> Scene:
    """The pull: lever on round bars on two packers, jack on a scale, nobody in line with the rod."""
    hole = trial_hole(values, options)
    a, b = values["a_tr"], values["b_tr"]
    bench = (hole.T + (hole.tip + 0.9 * hole.D_o if hole.blind else 0.0), 0.0)
    bench = (bench[0], bench[0] + 0.45 * a)
    under, at = -values["h_pk"] - BAR * a, b - a
    far = at + FAR * a
    left, right = -values["l_tr"] / 2 - 0.4 * a, far + 0.25 * a
    cut = (max(NEAR * a, values["l_tr"] / 2 + 0.35 * a), at - FAR * a)
    cut = cut if cut[1] > cut[0] else (0.0, 0.0)
    top = under - values["h_tr"] - 2.3 * hole.d
    roof = top - 0.75 * a
    scene = BrokenScene(left, right, roof, bench[1] + 1.15 * a, cut=cut, gap=0.3 * a if cut[1] else 0.0)
    ground(scene, values, hole, bench, left, right)
    standing_bond(scene, hole, top)
    lever(scene, values, hole, under, far)
    scene.box("rod end", (-hole.d / 2, hole.d / 2), (top, under - values["h_tr"] - 1.1 * hole.d), "steel")
    jack(scene, at, under, bench[0], a)
    scene.cut_out(-(under - values["h_tr"] - 0.1 * a), bench[1] + 0.1 * a)
    scene.line([(0.0, roof), (0.0, top)], "dashed")
    scene.arrow((at, under - values["h_tr"] - 0.1 * a), (at, under - values["h_tr"] - 0.75 * a))
    for row, end in ((bench[1] + 0.55 * a, 0.0), (bench[1] + 0.95 * a, at)):
        scene.line([(end, bench[1]), (end, row + 0.1 * a)], "extension")
        scene.span((-a, row), (end, row))
    scene.line([(-a, bench[1]), (-a, bench[1] + 1.05 * a)], "extension")
    scene.label("short-arm", (-0.5 * a, bench[1] + 0.55 * a))
    scene.label("long-arm", (0.8 * at, bench[1] + 0.95 * a))
    scene.label("line", (0.0, roof + 0.3 * a))
    scene.label("pivot", (-a, under + BAR / 2 * a))
    scene.label("packer", (-a, under / 2))
    scene.label("jack", (at + 0.4 * a, bench[0] - 0.08 * a))
    return scene


# Cut and judge


@drawing("trial-cut", "rod epoxy cut stop split")
def trial_cut(values: Values, options: Options) -> Scene:
    """Sawn across the grain to the rod from both long sides, seen on the loaded face, then split open."""
    hole = trial_hole(values, options)
    wide = min(values["w_tr"] / 2, 2.2 * hole.D_o)
    tall = 1.2 * hole.D_o
    scene = BrokenScene(-wide, wide, -tall, tall, tallest=TALLEST)
    block(scene, -wide, wide, tall, hole.D_o, False)
    scene.area("epoxy", circle((0.0, 0.0), hole.D_o / 2, 36), "epoxy")
    scene.area("rod", circle((0.0, 0.0), hole.d / 2, 36), "steel")
    thin = 0.05 * hole.D_o
    for side in (-1, 1):
        start, end = sorted((side * wide, side * (hole.d / 2 + 0.03 * hole.D_o)))
        scene.box("saw cut", (start, end), (-thin, thin), "paper")
        scene.arrow((side * wide * 0.98, -0.5 * hole.D_o), (side * 0.62 * hole.D_o, -0.5 * hole.D_o))
    scene.label("rod", (0.0, 0.0))
    scene.label("epoxy", (0.3 * hole.D_o, 0.3 * hole.D_o))
    scene.label("cut", (-0.75 * wide, 0.0))
    scene.label("stop", (-0.6 * wide, -0.5 * hole.D_o))
    scene.label("split", (0.7 * wide, 0.8 * tall))
    return scene


@drawing("trial-judge", "break ring wall void")
def trial_judge(values: Values, options: Options) -> Pair:
    """Torn wood round a full ring against a clean wall and voids."""
    hole = trial_hole(values, options)
    deep = min(2.0 * hole.D_o, 0.95 * hole.L_o)
    half, above = 1.15 * hole.D_o, 0.7 * hole.D_o
    good, bad = (BrokenScene(-half, half, -above, deep, upright=True) for _ in range(2))
    for scene in (good, bad):
        block(scene, 0.0, deep, half, hole.D_o, True)
        scene.area("epoxy", both([(0.0, hole.D_o / 2), (deep, hole.D_o / 2)]), "epoxy")
        if scene is bad:
            wall = [(0.0, 0.44 * hole.D_o), (deep, 0.44 * hole.D_o), (deep, hole.D_o / 2), (0.0, hole.D_o / 2)]
            scene.areas("gap", [(x, y) for x, y in wall], "paper")
            void = [(0.35 * deep, hole.d / 2), (0.42 * deep, 0.43 * hole.D_o), (0.58 * deep, 0.43 * hole.D_o)]
            scene.area("void", [*void, (0.66 * deep, hole.d / 2)], "paper")
        tools.stud(scene, -above, deep, hole.d, hole.d_3)
    teeth = [(deep * place / 14, hole.D_o * (0.56 if place % 2 else 0.74)) for place in range(15)]
    good.lines(teeth, "cut")
    good.label("break", (0.5 * deep, -0.7 * hole.D_o))
    good.label("ring", (0.75 * deep, -(hole.D_o + hole.d) / 4))
    bad.label("wall", (0.2 * deep, 0.47 * hole.D_o))
    bad.label("void", (0.52 * deep, 0.42 * hole.D_o))
    return Pair(good, bad)
