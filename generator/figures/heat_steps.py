"""Taking a bonded fastener out with heat: protect, heat the metal, how far the heat reaches, turn, pull, dig.

Thread, hole, length and softened depth are to scale. Fitting, iron, puller and rag are outlines by the hole's size.
Epoxy that is still hard is hatched, softened epoxy is plain.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import cos, pi, sin

from . import parts, tools
from .bench_steps import smooth, turned
from .parts import CUT, THICK, THIN, Figure, Measure, Point
from .scene import Scene, right_and_wrong, single

Values = Mapping[str, float]
Say = Callable[[str], str]
Options = Mapping[str, str]

# The fitting's base and the view, in holes; how much of a long fastener is shown, and the wood past its end.
BASE, VIEW, SHALLOWEST, DEEPEST, PAST = 1.25, 2.55, 1.6, 3.0, 0.5
# The tallest a view is drawn, in units of paper: low enough that a card stays on one sheet.
COVERED, HEATED, DUG, PULLED = 34.0, 52.0, 46.0, 54.0
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


def softened(values: Values) -> float:
    """How deep the epoxy is soft when the head alone is hot."""
    return values["L_k"] if values["L_k"] <= values["L_end"] else values["L_x"]


def stand(prefix: str, values: Values, above: float, half: float = VIEW, tallest: float = HEATED) -> Scene:
    """An upright view of the wood about the hole, so many holes above it and beside it."""
    D_o, deep = values["D_o"], shown(values)
    scene = Scene(prefix, -half * D_o, half * D_o, -above * D_o, deep, upright=True, tallest=tallest)
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
    for side in (-root, root):
        scene.line([(start, side), (foot, side)], "thin")


def fitting(scene: Scene, values: Values, lift: float = 0.0) -> float:
    """The fitting's base with the bolt through it; where the top of its head is."""
    d, half = values["d"], BASE * values["D_o"]
    base = -parts.PLATE * d
    scene.box("fitting", (base, 0.0), (-half, half), "metal", CUT)
    shank(scene, values, base - lift, lift)
    top = base - lift - parts.HEAD * d
    tools.hexagon(scene, "head", top, base - lift, d)
    return top


def cover(scene: Scene, values: Values, sides: tuple[int, ...] = (-1, 1)) -> None:
    """Foil on the wood up to the fitting, and a wet rag on the foil."""
    D_o = values["D_o"]
    near, far = (BASE + 0.06) * D_o, (VIEW - 0.05) * D_o
    for side in sides:
        scene.box("foil", (-FOIL * D_o, 0.0), (side * near, side * far), "steel", THIN)
        width = far - near - 0.1 * D_o
        heights = (0.0, 0.55, 0.9, 0.7, 1.0, 0.75, 0.85, 0.4, 0.0)
        steps = [near + 0.1 * D_o + width * place / (len(heights) - 1) for place in range(len(heights))]
        rag = [(-FOIL * D_o - RAG * D_o * high, side * at) for high, at in zip(heights, steps, strict=True)]
        scene.area("rag", smooth(rag), "compound")


def iron(scene: Scene, at: Point, size: float, lean: float = -0.55) -> None:
    """A soldering iron with its tip on the metal, leaning to the right."""
    (x, y), tip, rod, grip = at, TIP * size, 0.22 * size, 0.32 * size
    cone, heater, handle = CONE * size, (CONE + HEATER) * size, (CONE + HEATER + HANDLE) * size
    outline = [(x, y - tip), (x - cone, y - rod), (x - heater, y - rod), (x - heater, y + rod), (x - cone, y + rod)]
    scene.area("iron", turned([*outline, (x, y + tip)], at, lean), "steel")
    held = [(x - heater, y - grip), (x - handle, y - grip), (x - handle, y + grip), (x - heater, y + grip)]
    scene.area("handle", turned(held, at, lean), "paper")


def bead(scene: Scene, at: Point, radius: float) -> None:
    """The end of a probe."""
    x, y = at
    ring = [(x + radius * cos(n * pi / 4), y + radius * sin(n * pi / 4)) for n in range(8)]
    scene.area("probe", ring, "steel")


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
    return (-parts.PLATE * values["d"] - 0.12 * values["D_o"], -parts.CORNERS / 2 * values["d"] - 0.1 * values["D_o"])


# Before the heat


def protect(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Foil and a wet rag on the wood, the metal left bare."""
    scene = stand(prefix, values, 1.9, tallest=COVERED)
    ring(scene, values, 0.0)
    top = fitting(scene, values)
    cover(scene, values)
    D_o = values["D_o"]
    scene.label((-0.45 * RAG * D_o, -2.0 * D_o), "wet rag", side=-1)
    scene.label((-FOIL / 2 * D_o, (VIEW - 0.1) * D_o), "foil")
    scene.label((top + 0.15 * values["d"], 0.3 * values["d"]), "bare metal")
    return single(
        scene,
        "Cover the wood, leave the metal bare",
        "Section through the wood and a fitting held by one bonded bolt. On both sides of the fitting foil lies on "
        "the wood right up to the metal, and a wet rag lies on the foil. Head and base of the fitting are bare.",
        "Notice the order: foil first, so that the varnish stays dry, then the wet rag. Nothing lies on the metal, "
        "because a wet rag there would draw the heat off.",
    )


# How far


def reach(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The same fastener heated at its head, and at both ends, to scale along and across."""
    L_k, D_o, d = values["L_k"], values["D_o"], values["d"]
    apart, edge = 2.4 * D_o, 1.1 * D_o
    out = 1.8 * D_o
    scene = Scene(prefix, -out, L_k + out, -edge, apart + 2.2 * D_o)
    scene.box("wood", (0.0, L_k), (-edge, apart + edge), "wood", 0)
    for along in (0.0, L_k):
        scene.line([(along, -edge), (along, apart + edge)], "cut")
    alone = bar(scene, values, 0.0, 1)
    both = bar(scene, values, apart, 2) >= L_k
    free = {True: "comes free", False: "still hard"}
    scene.span((0.0, apart + 1.7 * D_o), (L_k, apart + 1.7 * D_o))
    for along in (0.0, L_k):
        scene.line([(along, apart + edge), (along, apart + 1.9 * D_o)], "extension")
    middle, above = L_k / 2, (d + D_o) / 4
    scene.label((alone / 2, -above), "head only", *limit(values, say, 1), side=-1)
    scene.label((middle if both else alone / 2, apart + above), "both ends", *limit(values, say, 2), side=-1)
    scene.label((0.8 * L_k, -above), free[alone >= L_k])
    scene.label((middle + 0.1 * L_k, apart - above), free[both])
    scene.label((L_k, apart + 1.9 * D_o), Measure("L_k", say("L_k")))
    upper = "all of the epoxy round it softens" if alone >= L_k else f"only {say('L_x')} of its ring softens"
    lower = "all of it softens" if both else f"only {say('L_x')} at each hot end softens"
    return single(
        scene,
        "How far the heat reaches",
        f"Section, to scale, with two bolts alike in the wood, {say('L_k')} of each in the hole. The upper one is "
        f"heated at its head: {upper}. The lower one is heated at both ends: {lower}. Softened epoxy is plain, hard "
        f"epoxy hatched. From the head alone a bolt of up to {say('L_end')} comes free, from both ends one of up to "
        f"{say('L_both')}.",
        f"Notice the hatching: where it is left the epoxy still holds. Longer than {say('L_end')}, this bolt does not "
        f"come free from its head alone, however long you wait; heated at both ends, up to {say('L_both')} will.",
    )


def limit(values: Values, say: Say, ends: int) -> list[str | Measure]:
    """How deep this one softens, where it is not the whole of it."""
    longest = "L_end" if ends == 1 else "L_both"
    if values["L_k"] <= values[longest]:
        return ["all softens"]
    return ["softens", Measure("L_x", say("L_x"))]


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
    for side in (-1, 1):
        scene.box("packing", (packed, 0.0), (side * (at - 0.6 * D_o), side * (at + 0.5 * D_o)), "wood")
        half = 0.14 * D_o
        scene.box("jack screw", (plate[0] - 0.9 * D_o, packed), (side * at - half, side * at + half), "steel")
        scene.box("puller", plate, (side * d / 2, side * (at + 0.4 * D_o)), "washer")


def turn(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Small turns both ways, seen from above; and two nuts locked as the head of a stud that has none."""
    D_o, d = values["D_o"], values["d"]
    half, beside, deep = 1.2 * D_o, -3.2 * D_o, SHALLOWEST * D_o / 2
    top = -(2 * parts.NUT + 2 * parts.PROJECTION) * d
    reach = parts.CORNERS * d + 2.2 * D_o
    swing = max(deep - top, 2.2 * parts.CORNERS * d) / 2
    middle = (top + deep) / 2
    scene = Scene(prefix, beside - reach, half, middle - swing, middle + swing, upright=True, tallest=COVERED)
    scene.box("wood", (0.0, middle + swing), (-half, half), "wood", 0)
    scene.line([(0.0, -half), (0.0, half)], "cut")
    scene.box("softened", (0.0, middle + swing), (-D_o / 2, D_o / 2), "neat", THIN)
    tools.stud(scene, top, middle + swing, d, values["d_3"])
    under = -parts.PROJECTION * d
    for place in range(2):
        tools.hexagon(scene, "nut", under - (place + 1) * parts.NUT * d, under - place * parts.NUT * d, d)
    wrench(scene, (middle, beside), reach, d, 0.9 * swing)
    scene.label((middle, beside - reach), "small turns", "both ways", side=-1)
    scene.label((under - 1.5 * parts.NUT * d, parts.CORNERS / 2 * d), "two nuts", "locked")
    return single(
        scene,
        "Turn a little, both ways",
        "On the left, seen from above, a spanner on a bolt's head, with an arrow that points both ways along a short "
        "arc at the end of its handle. On the right, in section, a stud without a head in its softened ring, with "
        "two nuts run on and locked against each other above the wood.",
        "Notice how small the turn is, and that it goes both ways: it breaks the softened epoxy loose before any pull. "
        "Two nuts locked hard make a head.",
    )


def wrench(scene: Scene, centre: Point, reach: float, d: float, room: float) -> None:
    """A head from above, a spanner on it that points left, and the arc that its end is turned through."""
    (x, y), corner = centre, parts.CORNERS * d / 2
    handle = 0.45 * corner
    scene.box("spanner", (x - handle, x + handle), (y - reach + corner / 2, y - corner), "steel")
    jaw = [(x + 1.35 * corner * cos(n * pi / 8), y + 1.35 * corner * sin(n * pi / 8)) for n in range(16)]
    scene.area("spanner", jaw, "steel")
    scene.area("head", [(x + corner * cos(n * pi / 3), y + corner * sin(n * pi / 3)) for n in range(6)], "metal")
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
    scene.label(wire[2], "probe, deep down")


def stages(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """A long one without its fitting: the softened ring dug out, the next stretch heated."""
    D_o, d, L_x = values["D_o"], values["d"], values["L_x"]
    scene = stand(prefix, values, STUB * d / D_o + 3.3, 2.2, DUG)
    ring(scene, values, min(2 * L_x, values["L_k"]), min(L_x, values["L_k"]))
    shank(scene, values, -STUB * d)
    iron(scene, (-STUB * d, 0.1 * d), D_o)
    scraper(scene, values, min(L_x, values["L_k"]))
    probe_in_the_ring(scene, values, min(L_x, values["L_k"]))
    middle = (d + D_o) / 4
    second = min(1.5 * L_x, shown(values))
    scene.label((min(L_x, values["L_k"]) / 2, -middle), "dug out", Measure("L_x", say("L_x")), side=-1)
    scene.label((-2.2 * D_o, -1.45 * D_o), "hooked", "scraper", side=-1)
    end = min(values["L_k"], shown(values))
    if L_x < end:
        scene.label((second, middle), "softens next")
    if 2 * L_x < end:
        scene.label((L_x + end / 2, middle), "still hard")
    scene.label((-STUB * d - 0.5 * D_o, 0.4 * D_o), "heat again")
    return single(
        scene,
        "In stages: dig out what has softened, heat again",
        "Section through the wood with the fitting taken off and the bolt standing in its ring of epoxy. The top of "
        f"the ring, {say('L_x')} deep, has been dug out with a hooked scraper. Below it the next stretch softens, "
        "below that the epoxy is still hard. A soldering iron stands on the bolt, and a probe lies against the bolt at "
        "the floor of what has been dug out.",
        f"Notice how little comes at a time: about {say('L_x')}. For {say('L_k')} that makes {say('n_hx')} stages or "
        "so. Where that is more than a few, drill it out instead.",
    )


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


def lever(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Straight up over packing; or a bar on the bare edge of the wood."""
    D_o, d = values["D_o"], values["d"]
    lift = max(RISEN * d, (PACKING + CLAW) * D_o - parts.PLATE * d + 0.25 * D_o)
    above = (parts.PLATE * d + lift) / D_o + 2.6
    right, wrong = (stand(prefix, values, above, LEVERED) for _ in range(2))
    ring(right, values, values["L_k"])
    if values["L_k"] - lift < shown(values):
        end = min(values["L_k"], shown(values))
        right.box("left empty", (max(0.0, values["L_k"] - lift), end), (-d / 2, d / 2), "paper", THIN)
    top = fitting(right, values, lift)
    pull_over_packing(right, values, lift)
    right.arrow((top - 0.2 * D_o, 0.0), (top - 1.6 * D_o, 0.0))
    ring(wrong, values, values["L_k"])
    pried(wrong, values)
    return right_and_wrong(
        right,
        wrong,
        ("straight, on packing", ["levered on the wood:", "crushed and torn"]),
        "Pull straight, do not lever",
        "Two views at one scale. Left, right: a slotted plate is under the bolt's head and two screws press on "
        "packing, so that it rises straight. Right, struck out: a bar is under one edge of the fitting and bears on "
        "the bare wood. The wood is dented, the bolt leans and has torn the wall of the hole.",
        "Notice the dent and the leaning bolt. A bar multiplies your force, bends the bolt and breaks out the mouth "
        "of the hole, and then there is no sound wood left to bond to.",
        PULLED,
    )


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


def section(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The bolt in section while its head is hot, everything in place."""
    scene = stand(prefix, values, 4.4)
    deep, D_o = softened(values), values["D_o"]
    ring(scene, values, deep)
    top = fitting(scene, values)
    cover(scene, values)
    iron(scene, (top, 0.15 * values["d"]), D_o)
    meter = thermometer(scene, root_of_the_head(values), D_o)
    free = deep >= values["L_k"]
    bottom, middle = min(values["L_k"], shown(values)), (values["d"] + D_o) / 4
    scene.label((meter[0], meter[1] - 0.75 * D_o), "probe", Measure("T_k", say("T_k")), side=-1)
    scene.label((-0.45 * RAG * D_o, -2.0 * D_o), "wet rag, foil", side=-1)
    scene.label((top - 0.75 * D_o, 0.55 * D_o), "iron on", "the head")
    scene.label((min(deep, bottom) / 2, middle), *limit(values, say, 1))
    if not free and deep < bottom:
        scene.label(((deep + bottom) / 2, middle), "still hard")
    rest = "all of the ring is soft" if free else f"below {say('L_x')} the epoxy is still hard"
    return single(
        scene,
        "A bonded bolt being heated, in section",
        "Section through the wood, a fitting, and the bolt that is bonded in its oversized hole. A soldering iron "
        f"stands on the head, a contact thermometer touches its root and shows {say('T_k')}, foil and a wet rag cover "
        f"the wood. Softened epoxy is plain, hard epoxy hatched: {rest}. {say('L_k')} of the bolt is in the hole.",
        f"Hold {say('T_k')} at the probe, on the metal close to the wood; the limit is {say('T_top')}. Notice how far "
        "down the hatching is gone.",
    )


FIGURES = {
    "heat-section": section,
    "heat-protect": protect,
    "heat-reach": reach,
    "heat-turn": turn,
    "heat-lever": lever,
    "heat-stages": stages,
}
