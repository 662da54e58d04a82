"""Taking a bonded fastener out with heat: protect, heat the metal, how far the heat reaches, turn, pull, dig.

Thread, hole, length and softened depth are to scale. Fitting, iron, puller and rag are outlines by the hole's size.
Epoxy that is still hard is hatched, softened epoxy is plain.
"""

from __future__ import annotations

from math import cos, pi, sin

from . import parts, tools
from .broken import BrokenScene
from .parts import CUT, THICK, THIN
from .picture import Pair, drawing
from .scene import Scene
from .shapes import Point, circle, smooth, turned
from .words import Options, Values

# The fitting's base and the view, in holes; how much of a long fastener is shown, and the wood past its end.
BASE, VIEW, SHALLOWEST, DEEPEST, PAST = 1.25, 2.55, 1.6, 3.0, 0.5
# The tallest a view is drawn, in units of paper: low enough that a card stays on one sheet.
COVERED, HEATED, ENDS, DUG, PULLED = 34.0, 52.0, 70.0, 46.0, 54.0
# Of a bolt heated at both ends: how much of each end is shown, and the strip left out between, in holes; how far its
# nuts stand clear of the wood, in thread diameters.
SEEN, STRIP, CLEAR = 1.3, 0.5, 0.4
# Foil, rag, packing and puller, in holes.
FOIL, RAG, PACKING, CLAW = 0.1, 0.6, 0.55, 0.3
# The iron, in holes: tip, cone, rod, handle.
TIP, CONE, HEATER, HANDLE = 0.12, 0.8, 1.3, 1.4
# Head of a stud without a head, and how far a fastener has risen when it is pulled, in thread diameters.
STUB, RISEN = 1.6, 1.1
# A fitting levered up: how far its bolt leans, at the mouth of the hole in holes and at the most in radians.
ASIDE, MOST = 0.36, 0.2
# The view beside the hole when a bar is used, in holes.
LEVERED = 3.0


# Parts


def shown(values: Values) -> float:
    """How deep the view goes: past the fastener's end, or part of a long one."""
    return max(SHALLOWEST * values["D_o"], min(values["L_k"] + PAST * values["D_o"], DEEPEST * values["D_o"]))


def stand(values: Values, above: float, half: float = VIEW, tallest: float = HEATED) -> Scene:
    """An upright view of the wood about the hole, so many holes above it and beside it."""
    D_o, deep = values["D_o"], shown(values)
    scene = Scene(-half * D_o, half * D_o, -above * D_o, deep, upright=True, tallest=tallest)
    scene.box("wood", (0.0, deep), (-half * D_o, half * D_o), "wood", 0)
    scene.line([(0.0, -half * D_o), (0.0, half * D_o)], "cut")
    return scene


def ring(scene: Scene, values: Values, soft: float, dug: float = 0.0) -> None:
    """The epoxy round the fastener: dug away, softened, still hard."""
    half, end = values["D_o"] / 2, min(values["L_k"], shown(values))
    for name, material, top, foot in (
        ("dug out", "paper", 0.0, dug),
        ("softened", "neat", dug, min(soft, end)),
        ("hard", "hard", min(soft, end), end),
    ):
        if foot > top:
            scene.box(name, (top, foot), (-half, half), material, THIN)


def shank(scene: Scene, values: Values, start: float, lift: float = 0.0) -> None:
    """The fastener from `start` down to its end, or as far as the view goes."""
    end = values["L_k"] - lift
    if end <= shown(values):
        tools.stud(scene, start, end, values["d"], values["d_3"])
        return
    half, root, foot = values["d"] / 2, values["d_3"] / 2, shown(values)
    scene.area("fastener", [(start, half), (foot, half), (foot, -half), (start, -half)], "steel")
    scene.lines([(start, root), (foot, root)], "thin")


def fitting(scene: Scene, values: Values, lift: float = 0.0) -> float:
    """The fitting's base with the bolt through it; where the top of its head is."""
    d, half = values["d"], BASE * values["D_o"]
    base = -parts.PLATE * d
    scene.box("fitting", (base, 0.0), (-half, half), "metal", CUT)
    shank(scene, values, base - lift, lift)
    top = base - lift - parts.HEAD * d
    tools.hexagon(scene, "head", top, base - lift, d)
    return top


def cover(scene: Scene, values: Values, bare: float = BASE, face: float = 0.0, up: int = 1) -> None:
    """Foil on the wood up to the metal, so many holes wide, and a damp rag on the foil; `up` at -1 on the far face."""
    D_o = values["D_o"]
    near, far = (bare + 0.06) * D_o, (VIEW - 0.05) * D_o
    for side in (-1, 1):
        scene.box(
            "foil",
            (min(face, face - up * FOIL * D_o), max(face, face - up * FOIL * D_o)),
            (side * near, side * far),
            "steel",
            THIN,
        )
        width = far - near - 0.1 * D_o
        heights = (0.0, 0.55, 0.9, 0.7, 1.0, 0.75, 0.85, 0.4, 0.0)
        steps = [near + 0.1 * D_o + width * place / (len(heights) - 1) for place in range(len(heights))]
        rag = [(face - up * (FOIL + RAG * high) * D_o, side * at) for high, at in zip(heights, steps, strict=True)]
        scene.area("rag", smooth(rag), "compound")


def iron(scene: Scene, at: Point, size: float, lean: float = -0.55, up: int = 1) -> None:
    """A soldering iron with its tip on the metal, leaning to the right: from above, or with `up` at -1 from below."""
    (x, y), tip, rod, grip = at, TIP * size, 0.22 * size, 0.32 * size
    cone, heater, handle = CONE * size * up, (CONE + HEATER) * size * up, (CONE + HEATER + HANDLE) * size * up
    outline = [(x, y - tip), (x - cone, y - rod), (x - heater, y - rod), (x - heater, y + rod), (x - cone, y + rod)]
    scene.area("iron", turned([*outline, (x, y + tip)], at, lean), "steel")
    held = [(x - heater, y - grip), (x - handle, y - grip), (x - handle, y + grip), (x - heater, y + grip)]
    scene.area("handle", turned(held, at, lean), "paper")


def bead(scene: Scene, at: Point, radius: float) -> None:
    """The end of a probe."""
    scene.area("probe", circle(at, radius, 8), "steel")


def thermometer(scene: Scene, at: Point, size: float) -> Point:
    """A probe on the metal with its wire to the meter on the left; where the meter is."""
    (x, y), meter = at, (-2.6 * size, -1.75 * size)
    scene.line(
        smooth([(x, y), (x - 0.5 * size, y - 0.6 * size), (meter[0] + 0.2 * size, y - 0.7 * size), meter]), "thick"
    )
    bead(scene, at, 0.1 * size)
    scene.box(
        "meter",
        (meter[0] - 0.45 * size, meter[0] + 0.45 * size),
        (meter[1] - 0.75 * size, meter[1] + 0.75 * size),
        "steel",
    )
    scene.box(
        "display",
        (meter[0] - 0.25 * size, meter[0] + 0.05 * size),
        (meter[1] - 0.5 * size, meter[1] + 0.5 * size),
        "paper",
        THIN,
    )
    return meter


def root_of_the_head(values: Values) -> Point:
    """Where head and base meet, left of the axis: the metal close to the wood that a probe can touch."""
    return -parts.PLATE * values["d"] - 0.12 * values["D_o"], -parts.CORNERS / 2 * values["d"] - 0.1 * values["D_o"]


# Before the heat


@drawing("heat-protect", "rag foil metal")
def protect(values: Values, options: Options) -> Scene:
    """Foil and a damp rag on the wood, the metal left bare."""
    scene = stand(values, 1.9, tallest=COVERED)
    ring(scene, values, 0.0)
    top = fitting(scene, values)
    cover(scene, values)
    D_o = values["D_o"]
    scene.label("rag", (-0.45 * RAG * D_o, -2.0 * D_o))
    scene.label("foil", (-FOIL / 2 * D_o, (VIEW - 0.1) * D_o))
    scene.label("metal", (top + 0.15 * values["d"], 0.3 * values["d"]))
    return scene


# How far


@drawing(
    "heat-reach",
    "head-all head-part ends-all ends-part free hard length",
    head="all part",
    ends="all part",
)
def reach(values: Values, options: Options) -> Scene:
    """The same fastener heated at its head, and at both ends, to scale along and across."""
    L_k, D_o, d = values["L_k"], values["D_o"], values["d"]
    apart, edge = 2.4 * D_o, 1.1 * D_o
    out = 1.8 * D_o
    scene = Scene(-out, L_k + out, -edge, apart + 2.2 * D_o)
    scene.box("wood", (0.0, L_k), (-edge, apart + edge), "wood", 0)
    for along in (0.0, L_k):
        scene.line([(along, -edge), (along, apart + edge)], "cut")
    alone = bar(scene, values, 0.0, 1)
    both = bar(scene, values, apart, 2) >= L_k
    scene.measure((0.0, apart + edge), (L_k, apart + edge), (0.0, 1.7 * D_o - edge), (0.0, 1.9 * D_o - edge))
    middle, above = L_k / 2, (d + D_o) / 4
    scene.label("head-all" if alone >= L_k else "head-part", (alone / 2, -above))
    scene.label("ends-all" if both else "ends-part", (middle if both else alone / 2, apart + above))
    scene.label("free" if alone >= L_k else "hard", (0.8 * L_k, -above))
    scene.label("free" if both else "hard", (middle + 0.1 * L_k, apart - above))
    scene.label("length", (L_k, apart + 1.9 * D_o))
    scene.cases = {"head": "all" if alone >= L_k else "part", "ends": "all" if both else "part"}
    return scene


def bar(scene: Scene, values: Values, axis: float, ends: int) -> float:
    """One bolt in its ring, arrows where it is heated; how deep it is soft from each of them."""
    L_k, half, d, D_o = values["L_k"], values["D_o"] / 2, values["d"], values["D_o"]
    longest = values["L_end"] if ends == 1 else values["L_both"]
    deep = L_k if longest >= L_k else values["L_x"]
    scene.box("hard", (0.0, L_k), (axis - half, axis + half), "hard", THIN)
    scene.box("softened", (0.0, deep), (axis - half, axis + half), "neat", THIN)
    if ends == 2 and deep < L_k:
        scene.box("softened", (L_k - deep, L_k), (axis - half, axis + half), "neat", THIN)
    tools.bolt(scene, 0.0, L_k + 0.5 * d, d, values["d_3"], axis)
    scene.arrow((-1.7 * D_o, axis), (-parts.HEAD * d - 0.15 * D_o, axis))
    if ends == 2:
        scene.arrow((L_k + 1.7 * D_o, axis), (L_k + 0.5 * d + 0.15 * D_o, axis))
    return deep


# Out


def pull_over_packing(scene: Scene, values: Values, lift: float) -> None:
    """A slotted plate under the head, and two screws that press down on packing."""
    D_o, d = values["D_o"], values["d"]
    under = -parts.PLATE * d - lift
    plate, at, packed = (under, under + CLAW * D_o), 1.95 * D_o, -PACKING * D_o
    scene.boxes("packing", (packed, 0.0), (at - 0.6 * D_o, at + 0.5 * D_o), "wood")
    half = 0.14 * D_o
    scene.boxes("jack screw", (plate[0] - 0.9 * D_o, packed), (at - half, at + half), "steel")
    scene.boxes("puller", plate, (d / 2, at + 0.4 * D_o), "washer")


@drawing("heat-turn", "turns nuts")
def turn(values: Values, options: Options) -> Scene:
    """Small turns both ways, seen from above; and two nuts locked as the head of a stud that has none."""
    D_o, d = values["D_o"], values["d"]
    half, beside, deep = 1.2 * D_o, -3.2 * D_o, SHALLOWEST * D_o / 2
    top = -(2 * parts.NUT + 2 * parts.PROJECTION) * d
    reach = parts.CORNERS * d + 2.2 * D_o
    swing = max(deep - top, 2.2 * parts.CORNERS * d) / 2
    middle = (top + deep) / 2
    scene = Scene(beside - reach, half, middle - swing, middle + swing, upright=True, tallest=COVERED)
    scene.box("wood", (0.0, middle + swing), (-half, half), "wood", 0)
    scene.line([(0.0, -half), (0.0, half)], "cut")
    scene.box("softened", (0.0, middle + swing), (-D_o / 2, D_o / 2), "neat", THIN)
    tools.stud(scene, top, middle + swing, d, values["d_3"])
    under = -parts.PROJECTION * d
    for place in range(2):
        tools.hexagon(scene, "nut", under - (place + 1) * parts.NUT * d, under - place * parts.NUT * d, d)
    wrench(scene, (middle, beside), reach, d, 0.9 * swing)
    scene.label("turns", (middle, beside - reach))
    scene.label("nuts", (under - 1.5 * parts.NUT * d, parts.CORNERS / 2 * d))
    return scene


def wrench(scene: Scene, centre: Point, reach: float, d: float, room: float) -> None:
    """A head from above, a spanner on it that points left, and the arc that its end is turned through."""
    (x, y), corner = centre, parts.CORNERS * d / 2
    handle = 0.45 * corner
    scene.box("spanner", (x - handle, x + handle), (y - reach + corner / 2, y - corner), "steel")
    scene.area("spanner", circle(centre, 1.35 * corner, 16), "steel")
    scene.area("head", circle(centre, corner, 6), "metal")
    angle = min(room / reach, pi / 6)
    arc = [(x + reach * sin(angle * n / 7), y - reach * cos(angle * n / 7)) for n in range(-7, 8)]
    scene.line(arc, "cut")
    scene.arrow(arc[1], arc[0])
    scene.arrow(arc[-2], arc[-1])


def probe_in_the_ring(scene: Scene, values: Values, foot: float) -> None:
    """A probe on the metal at the floor of what is dug out on the right, its wire led off to the right."""
    D_o, d = values["D_o"], values["d"]
    radius = min(0.1 * D_o, (D_o - d) / 4)
    at = (foot - radius, d / 2 + radius)
    wire = [at, (-0.25 * D_o, at[1] + 0.05 * D_o), (-0.55 * D_o, 0.9 * D_o), (-0.5 * D_o, 1.7 * D_o)]
    scene.line(smooth(wire), "thick")
    bead(scene, at, radius)
    scene.label("probe", wire[2])


@drawing("heat-stages", "probe dug-out scraper next hard iron")
def stages(values: Values, options: Options) -> Scene:
    """A long one without its fitting: the softened ring dug out, the next stretch heated."""
    D_o, d, L_x = values["D_o"], values["d"], values["L_x"]
    scene = stand(values, STUB * d / D_o + 3.3, 2.2, DUG)
    ring(scene, values, min(2 * L_x, values["L_k"]), min(L_x, values["L_k"]))
    shank(scene, values, -STUB * d)
    iron(scene, (-STUB * d, 0.1 * d), D_o)
    scraper(scene, values, min(L_x, values["L_k"]))
    probe_in_the_ring(scene, values, min(L_x, values["L_k"]))
    middle = (d + D_o) / 4
    second = min(1.5 * L_x, shown(values))
    scene.label("dug-out", (min(L_x, values["L_k"]) / 2, -middle))
    scene.label("scraper", (-2.2 * D_o, -1.45 * D_o))
    end = min(values["L_k"], shown(values))
    if L_x < end:
        scene.label("next", (second, middle))
    if 2 * L_x < end:
        scene.label("hard", (L_x + end / 2, middle))
    scene.label("iron", (-STUB * d - 0.5 * D_o, 0.4 * D_o))
    return scene


def scraper(scene: Scene, values: Values, foot: float) -> None:
    """A thin hook that reaches down the left of the ring, bent off to the left above the wood."""
    D_o, d = values["D_o"], values["d"]
    room = (D_o - d) / 2
    inner, thin = -D_o / 2 + 0.65 * room, 0.22 * room
    scene.area(
        "scraper",
        [
            (foot, -D_o / 2 + 0.1 * room),
            (foot, inner),
            (-0.9 * D_o, inner),
            (-3.0 * D_o, -1.9 * D_o + thin),
            (-3.0 * D_o - thin, -1.9 * D_o - thin),
            (-0.9 * D_o - thin, inner - thin),
            (foot - thin, inner - thin),
        ],
        "steel",
        THICK,
    )


@drawing("heat-lever")
def lever(values: Values, options: Options) -> Pair:
    """Straight up over packing; or a bar on the bare edge of the wood."""
    D_o, d = values["D_o"], values["d"]
    lift = max(RISEN * d, (PACKING + CLAW) * D_o - parts.PLATE * d + 0.25 * D_o)
    above = (parts.PLATE * d + lift) / D_o + 2.6
    right, wrong = (stand(values, above, LEVERED) for _ in range(2))
    ring(right, values, values["L_k"])
    if values["L_k"] - lift < shown(values):
        end = min(values["L_k"], shown(values))
        right.box("left empty", (max(0.0, values["L_k"] - lift), end), (-d / 2, d / 2), "paper", THIN)
    top = fitting(right, values, lift)
    pull_over_packing(right, values, lift)
    right.arrow((top - 0.2 * D_o, 0.0), (top - 1.6 * D_o, 0.0))
    ring(wrong, values, values["L_k"])
    pried(wrong, values)
    return Pair(right, wrong, PULLED)


def pried(scene: Scene, values: Values) -> None:
    """A fitting prised up by one edge: bolt and base lean, the bar's heel has dented the wood."""
    D_o, d = values["D_o"], values["d"]
    base, half = -parts.PLATE * d, BASE * D_o
    end, top = min(values["L_k"], shown(values) - 0.3 * D_o), base - parts.HEAD * d
    lean = min(ASIDE * D_o / end, MOST)
    foot = half + 0.95 * D_o
    torn = [
        (0.0, -D_o / 2),
        (0.0, -1.15 * D_o),
        (0.3 * D_o, -0.8 * D_o),
        (0.5 * D_o, -0.9 * D_o),
        (1.1 * D_o, -D_o / 2),
    ]
    dent = [(-0.02 * D_o, foot - 0.55 * D_o), (0.3 * D_o, foot - 0.1 * D_o), (-0.02 * D_o, foot + 0.45 * D_o)]
    scene.area("torn wall", smooth(torn), "paper")
    scene.area("dent", smooth(dent), "paper")
    corner, shaft = parts.CORNERS * d / 2, d / 2
    for name, along, across, material in (
        ("fastener", (base, end), shaft, "steel"),
        ("fitting", (base, 0.0), half, "metal"),
        ("head", (top, base), corner, "steel"),
    ):
        outline = [(along[0], -across), (along[1], -across), (along[1], across), (along[0], across)]
        scene.area(name, turned(outline, (end, 0.0), lean), material)
    crowbar(scene, turned([(0.0, half)], (end, 0.0), lean)[0], foot, D_o)


def crowbar(scene: Scene, tip: Point, foot: float, size: float) -> None:
    """A bar with its tip under an edge and its heel on the wood, pushed down."""
    (x, y), thin = tip, 0.13 * size
    upper = [(x, y - 0.3 * size), (x + 0.02 * size, y), (-0.22 * size, foot - 0.1 * size)]
    lower = [(0.17 * size, foot), (x + thin, y - 0.3 * size)]
    end = [(-2.5 * size, foot + 0.32 * size), (-2.5 * size, foot + 0.58 * size)]
    scene.area("bar", [*upper, *end, *lower], "steel")
    scene.arrow((-2.9 * size, foot + 0.1 * size), (-2.0 * size, foot + 0.78 * size))


# All of it


def both_ends(values: Values) -> Scene:
    """A through bolt with an iron and a probe at either end, a strip of its middle left out where it is long."""
    D_o, d, L_k = values["D_o"], values["d"], values["L_k"]
    start = min(SEEN * D_o, L_k / 2)
    gap = STRIP * D_o if L_k > (2 * SEEN + STRIP) * D_o else 0.0
    cut = (start, L_k - start) if gap > 0 else (start, start)
    under = L_k + CLEAR * d
    half, nuts = VIEW * D_o, under + 2 * parts.NUT * d
    foot = nuts + parts.PROJECTION * d
    scene = BrokenScene(-half, half, -4.4 * D_o, foot + 3.2 * D_o, upright=True, tallest=ENDS, cut=cut, gap=gap)
    scene.box("wood", (0.0, L_k), (-half, half), "wood", 0)
    for face in (0.0, L_k):
        scene.line([(face, -half), (face, half)], "cut")
    scene.box("softened", (0.0, L_k), (-D_o / 2, D_o / 2), "neat", THIN)
    base = -parts.PLATE * d
    scene.box("fitting", (base, 0.0), (-BASE * D_o, BASE * D_o), "metal", CUT)
    tools.bolt(scene, base, foot, d, values["d_3"])
    tools.locked(scene, under, d)
    top, edge = base - parts.HEAD * d, parts.CORNERS * d / 2
    cover(scene, values)
    cover(scene, values, edge / D_o, L_k, -1)
    scene.cut_out(half)
    iron(scene, (top, 0.15 * d), D_o)
    iron(scene, (nuts, 0.8 * edge), D_o, 0.55, -1)
    meter = thermometer(scene, root_of_the_head(values), D_o)
    far = (under + 0.5 * parts.NUT * d, -edge - 0.1 * D_o)
    scene.line(smooth([far, (foot + 0.5 * D_o, -edge - 0.6 * D_o), (foot + 1.2 * D_o, -1.9 * D_o)]), "thick")
    bead(scene, far, 0.1 * D_o)
    scene.label("probe", (meter[0], meter[1] - 0.75 * D_o))
    scene.label("far-probe", (foot + 1.2 * D_o, -1.9 * D_o))
    scene.label("rag", (-0.45 * RAG * D_o, -2.0 * D_o))
    scene.label("iron", (top - 0.75 * D_o, 0.55 * D_o))
    scene.label("far-iron", (foot + 0.75 * D_o, 0.55 * D_o))
    scene.label("all", (start / 2, (d + D_o) / 4))
    scene.cases = {"work": "ends", "rest": "free", "advice": "hot"}
    return scene


@drawing(
    "heat-section",
    "probe far-probe rag iron far-iron all cold",
    work="hot ends cold",
    rest="free cold",
    advice="hot cold",
)
def section(values: Values, options: Options) -> Scene:
    """The bolt in section while it is hot, everything in place; or bare and cold, where no heat brings it out."""
    if values["n_hb"] >= 0.5:
        return both_ends(values)
    scene = stand(values, 4.4)
    D_o, heated = values["D_o"], values["n_hot"] >= 0.5
    ring(scene, values, values["L_k"] if heated else 0.0)
    top = fitting(scene, values)
    bottom, middle = min(values["L_k"], shown(values)), (values["d"] + D_o) / 4
    work = "hot" if heated else "cold"
    scene.cases = {"work": work, "rest": "free" if heated else "cold", "advice": work}
    if not heated:
        scene.label("cold", (bottom / 2, middle))
        return scene
    cover(scene, values)
    iron(scene, (top, 0.15 * values["d"]), D_o)
    meter = thermometer(scene, root_of_the_head(values), D_o)
    scene.label("probe", (meter[0], meter[1] - 0.75 * D_o))
    scene.label("rag", (-0.45 * RAG * D_o, -2.0 * D_o))
    scene.label("iron", (top - 0.75 * D_o, 0.55 * D_o))
    scene.label("all", (bottom / 2, middle))
    return scene
