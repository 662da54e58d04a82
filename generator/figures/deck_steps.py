"""Fittings bedded in flexible compound on a deck, cored or solid, step by step: upright, the weather side on top.

Along runs down from the deck's face into the boat. A deck is cored where the working knows its core; then a plug of
epoxy stands round each bolt. Lengths are the working's own; heads, nuts, spanners and the edges of what is shown take
proportions of the bolt or of its hole.
"""

from __future__ import annotations

from math import ceil, cos, pi, sin

from . import parts, tools
from .broken import gap
from .parts import NUT, NUTS, PLATE, WASHER
from .picture import FOOT, Pair, drawing
from .scene import Scene, as_it_is, seen
from .shapes import Point, both, circle
from .words import Options, Values

# How much of the deck is in view to each side, by the widest hole; how far a base reaches, by the bolt.
VIEW, CLOSE, BASE = 1.75, 1.35, 2.0
# A solid deck deeper than so many thread diameters is drawn with a piece left out.
DEEPEST, BREAK_AT, BREAK = 5.0, 0.7, 0.45
# Tape, a tube and a spanner, by the bolt or the hole they belong to.
TAPE, TUBE, SPANNER = 0.12, 0.3, 0.4
BEAD, DRY = 0.45, 0.12
# Corners of a circle, of a small one, and of the round end of a bead.
RING, SMALL, NOSE = 24, 16, 8
# Where a soft spacer stands in section, by how far the base reaches; how wide one is in plan, by the ring's place or by
# the bead.
SPACER, CORNER, THIN_CORNER = (0.84, 0.99), 0.3, 0.6
# What is pressed out of a bed that is squeezed dry: how far out it lies, and how high, by the bed.
PUSHED, HEAPED = 3.5, 1.3
# Height on the paper: a step's drawing stays low, so that the card prints on two sheets' sides.
STEP_TALLEST, SECTION_TALLEST = 34.0, 42.0


# What a deck is made of


def cored(values: Values) -> bool:
    """Whether there is a core under the skin."""
    return "c_sk" in values


def thickness(values: Values) -> float:
    """How thick the deck is drawn: a deep solid one has a piece left out."""
    return values["T_sk"] if cored(values) else min(values["T_sk"], DEEPEST * values["d"])


def widest(values: Values) -> float:
    """The widest hole in the deck."""
    return values["D_c"] if cored(values) else 1.5 * values["D_k"]


def stage(values: Values, top: float, bottom: float, view: float = VIEW, tallest: float = STEP_TALLEST) -> Scene:
    """An upright view of the deck round one hole, from `top` above its face to `bottom` below it."""
    half = max(view * widest(values), reach(values) + PUSHED * values.get("h_b", 0.0))
    return Scene(-half, half, -top, bottom, upright=True, tallest=tallest)


def layer(scene: Scene, name: str, rows: Point, material: str, hole: float) -> None:
    """One layer of the deck between two depths, left and right of a hole; the view breaks it off at the sides."""
    for side in (-1, 1):
        edge, wall = side * scene.right, side * hole / 2
        scene.area(name, [(rows[0], wall), (rows[0], edge), (rows[1], edge), (rows[1], wall)], material, 0)
        for row in rows:
            scene.line([(row, wall), (row, edge)])
        if hole:
            scene.line([(rows[0], wall), (rows[1], wall)])


def layers(scene: Scene, values: Values, through: float, plug: float = 0.0) -> None:
    """The deck: three layers or one. `through` is the hole in the lowest, `plug` that in skin and core."""
    if cored(values):
        wide = plug or through
        layer(scene, "outer skin", (0.0, values["o_sk"]), "wood", wide)
        layer(scene, "core", (values["o_sk"], values["h_c"]), "core", wide)
        layer(scene, "inner skin", (values["h_c"], values["T_sk"]), "wood", through)
    else:
        layer(scene, "deck", (0.0, thickness(values)), "wood", through)


def filled(scene: Scene, values: Values, sink: float, hole: float) -> None:
    """The cured plug round a hole with a countersink `sink` deep; nothing in a solid deck."""
    if not cored(values):
        return
    wall, foot = values["D_c"] / 2, values["h_c"]
    mouth = hole / 2 + sink
    outline = [(0.0, mouth), (sink, hole / 2), (foot, hole / 2), (foot, wall)]
    scene.areas("plug", [*outline, (0.0, wall)], "epoxy")


def drilled(scene: Scene, values: Values, sink: float) -> None:
    """The deck with its clearance hole, through the plug where it is cored, countersunk `sink` deep."""
    if cored(values):
        layers(scene, values, values["D_k"], values["D_c"])
        filled(scene, values, sink, values["D_k"])
        return
    foot, hole, edge = thickness(values), values["D_k"] / 2, scene.right
    inner = [(0.0, hole + sink), (sink, hole), (foot, hole)]
    scene.areas("deck", [*inner, (foot, edge), (0.0, edge)], "wood", 0)
    scene.lines([(0.0, edge), *inner, (foot, edge)])


def left_out(scene: Scene, values: Values) -> None:
    """A strip across a deep solid deck, where a piece of it is left out."""
    if cored(values) or values["T_sk"] <= DEEPEST * values["d"]:
        return
    wide = BREAK * values["d"]
    top = BREAK_AT * thickness(values) - wide / 2
    gap(scene, (top, scene.left), (top, scene.right), (wide, 0.0), wide / 4)


# What is bolted to it


def reach(values: Values) -> float:
    """How far the base is drawn to each side of the bolt."""
    return BASE * values["d"]


def base_thickness(values: Values) -> float:
    """As thick as the working says; as thick as common castings are where it says nothing."""
    return values.get("b_sk") or PLATE * values["d"]


def base(scene: Scene, values: Values, bed: float) -> None:
    """The fitting's base over a bed, in section, with the bolt's hole left for the bolt to cover."""
    rows = (-bed - base_thickness(values), -bed)
    scene.box("fitting", rows, (-reach(values), reach(values)), "metal", parts.CUT)


def bed(scene: Scene, values: Values, height: float, spread: float) -> None:
    """Compound under the base with its squeezed-out edge, down into the countersink and to the bolt."""
    edge, sink, hole = reach(values), values["h_k"], values["D_k"] / 2
    deep = min(values["l_k"], thickness(values))
    half = [(-height, edge), (-height, edge + spread / 3), (0.0, edge + spread), (0.0, hole + sink), (sink, hole)]
    half = [*half, (deep, hole)]
    outline = both(half)
    scene.area("compound", outline, "compound")


def spacers(scene: Scene, values: Values, height: float) -> None:
    """Soft spacers under the base's edges: they keep the bed's thickness, and stay in."""
    near, far = (share * reach(values) for share in SPACER)
    inner, outer = (near, far)
    scene.boxes("spacer", (-height, 0.0), (inner, outer), "paper")


def bolt(scene: Scene, values: Values, head: float, foot: float) -> None:
    """A bolt with a plain shank, its thread from the deck's inner face on."""
    d, root, start = values["d"], values["d_3"], thickness(values)
    scene.box("shank", (head, start), (-d / 2, d / 2), "steel")
    tools.stud(scene, start, foot, d, root)
    tools.hexagon(scene, "head", head - parts.HEAD * d, head, d)


def backing(scene: Scene, values: Values) -> None:
    """Plate where one is fitted, and the washer, under the deck."""
    face, plate = thickness(values), values.get("q_sk", 0.0)
    if plate:
        scene.box("plate", (face, face + plate), (-0.9 * scene.right, 0.9 * scene.right), "metal", parts.CUT)
    across = values.get("D_p") or parts.WASHER_ACROSS * values["d"]
    tools.washer(scene, face + plate, nut_face(values), across)


def nut_face(values: Values) -> float:
    """Where the nut meets its washer."""
    return thickness(values) + values.get("q_sk", 0.0) + (values.get("t_s") or WASHER * values["d"])


def under(values: Values, nuts: float = NUTS) -> float:
    """Room under the deck for plate, washer, nuts and the bolt's end."""
    return nut_face(values) + (nuts + 0.55) * values["d"]


def shown_bed(values: Values, tallest: float = STEP_TALLEST) -> float:
    """How thick the bed is drawn round one bolt, in a view so tall on the paper."""
    high = over(values, values["h_b"]) + under(values)
    return seen(values["h_b"], 2 * VIEW * widest(values), high, tallest)


def over(values: Values, height: float) -> float:
    """Room over the deck for bed, base and head."""
    return height + base_thickness(values) + (parts.HEAD + 0.3) * values["d"]


def assembled(scene: Scene, values: Values, height: float, spread: float, nuts: float = NUTS) -> None:
    """Fitting, bed, bolt, washer and nuts on a drilled and countersunk deck."""
    drilled(scene, values, values["h_k"])
    fitted(scene, values, height, spread, nuts)
    left_out(scene, values)


def fitted(scene: Scene, values: Values, height: float, spread: float, nuts: float = NUTS) -> None:
    """All that is bolted to the deck, the nuts last because they go over the bolt; one by itself until it is locked."""
    d, nut = values["d"], nut_face(values)
    bed(scene, values, height, spread)
    if spread:
        spacers(scene, values, height)
    base(scene, values, height)
    backing(scene, values)
    bolt(scene, values, -height - base_thickness(values), nut + (nuts + 0.3) * d)
    if nuts > NUT:
        tools.locked(scene, nut, d)
    else:
        tools.hexagon(scene, "nut", nut, nut + NUT * d, d)


# Cored: the plug


def plug_drill(scene: Scene, values: Values, back: float) -> None:
    """The drill that opens skin and core, its tip at its mark, with a flag of tape on the deck's face."""
    D, tip = values["D_c"], values["M_sk"]
    if tools.pointed(values, "o"):
        half = values["alpha_o"] / 2
        tools.twist_drill(scene, tip, D, D / 2 * cos(half) / sin(half), back)
    else:
        tools.flat_bit(scene, tip, D, values["e_o"], back)
    tools.flag(scene, 0.0, 0.75 * D)


@drawing("core-overdrill", "stop flag hole depth")
def core_overdrill(values: Values, options: Options) -> Scene:
    """The plug's hole: through outer skin and core, and no further."""
    D, p = values["D_c"], values["p_sk"]
    high = 1.5 * D
    scene = stage(values, high, max(values["T_sk"], values["M_sk"]) + 0.2 * D)
    if tools.pointed(values, "o"):
        half = values["alpha_o"] / 2
        cone = min(D / 2 * cos(half) / sin(half), values["h_c"])
        layers(scene, values, p, p)
        bottom = values["h_c"] - cone
        hole = [(0.0, D / 2), (bottom, D / 2), (values["h_c"], 0.0), (bottom, -D / 2), (0.0, -D / 2)]
        scene.area("hole", hole, "paper")
    else:
        layers(scene, values, p, D)
    plug_drill(scene, values, -high)
    scene.arrow((-0.95 * high, 0.55 * D), (-0.55 * high, 0.55 * D))
    scene.label("stop", (values["h_c"], 0.62 * D))
    scene.label("flag", (-0.15 * D, 0.5 * D))
    scene.label("hole", (-0.8 * high, -0.1 * D))
    scene.label("depth", (values["h_c"] / 2, -D / 2))
    return scene


def tape_below(scene: Scene, values: Values) -> None:
    """Tape under the pilot hole."""
    half, foot = 1.8 * values["p_sk"] + 0.2 * values["D_c"], values["T_sk"]
    scene.box("tape", (foot, foot + TAPE * values["D_c"]), (-half, half), "paper")


@drawing("core-fill", "coat filling tape amount")
def core_fill(values: Values, options: Options) -> Scene:
    """Epoxy from the bottom up on wet walls, taped below."""
    D, deep, p = values["D_c"], values["h_c"], values["p_sk"]
    tip, bore = 0.62 * deep, TUBE * D
    shoulder = -0.45 * D
    scene = stage(values, -shoulder + 2.1 * tools.BARREL * bore, values["T_sk"] + 0.35 * D)
    layers(scene, values, p, D)
    level, half, foot = 0.5 * deep, D / 2, values["T_sk"]
    scene.box("epoxy", (level, deep), (-half, half), "epoxy", 0)
    scene.box("epoxy in the pilot hole", (deep, foot), (-p / 2, p / 2), "epoxy", 0)
    scene.line([(level, -half), (level, half)])
    tape_below(scene, values)
    tools.syringe(scene, tip, bore, tip - shoulder)
    scene.lines([(0.0, half), (deep, half), (deep, p / 2)], "film")
    scene.arrow((-0.2 * D, 1.05 * D), (-1.0 * D, 1.05 * D))
    scene.label("coat", (0.2 * deep, half))
    scene.label("filling", (0.8 * deep, 0.25 * D))
    scene.label("tape", (foot + TAPE * D / 2, 0.1 * D))
    scene.label("amount", (-0.8 * D, -bore / 2))
    return scene


# Solid: the countersink


def countersink(scene: Scene, values: Values, high: float) -> None:
    """A 90 degree cutter, its cone in the mouth of the hole."""
    tip = values["h_k"] + values["D_k"] / 2
    wide = 1.25 * tip
    thin = 0.3 * tip
    half = [(tip, 0.0), (tip - wide, wide), (tip - 1.5 * wide, wide), (tip - 1.5 * wide, thin), (-high, thin)]
    outline = both(half)
    scene.area("countersink", outline, "steel")
    for share in (-0.45, 0.45):
        scene.line([(tip - 0.3 * wide, share * 0.3 * wide), (tip - wide, share * wide)], "thin")


@drawing("bed-countersink", "depth hole")
def bed_countersink(values: Values, options: Options) -> Scene:
    """The ring that the compound will fill, cut with a 90 degree cutter in solid wood."""
    D, tip = widest(values), values["h_k"] + values["D_k"] / 2
    high = 1.25 * tip + 0.75 * D
    shown = min(thickness(values), 2.2 * D)
    scene = stage(values, high, shown)
    drilled(scene, {**values, "T_sk": shown}, values["h_k"])
    countersink(scene, values, high)
    scene.arrow((-0.95 * high, 0.6 * D), (-0.5 * high, 0.6 * D))
    rim = values["D_k"] / 2 + values["h_k"] / 2
    scene.label("depth", (values["h_k"] / 2, rim))
    scene.label("hole", (0.5 * shown, -values["D_k"] / 2))
    return scene


# Both: the bed


def bead(start: Point, end: Point, width: float) -> list[Point]:
    """A straight bead with round ends, along the base."""
    half, turn = width / 2, pi / NOSE
    nose = [(end[0] + half * sin(turn * k), end[1] - half * cos(turn * k)) for k in range(NOSE + 1)]
    tail = [(start[0] - half * sin(turn * k), start[1] + half * cos(turn * k)) for k in range(NOSE + 1)]
    return [*nose, *tail]


def inset(values: Values) -> float:
    """How far a bolt stands from the base's edges: its ring, and half a bead beside it."""
    return values["D_k"] / 2 + values["h_k"] + 1.5 * values["d_k"]


def bolt_places(values: Values) -> list[Point]:
    """Where the bolts stand in the plan of the base: in one row, or in two along its long sides."""
    count, edge = round(values["n_h"]), inset(values)
    a, b = plan_size(values)
    rows = [0.0] if count < 3 else [edge - b / 2, b / 2 - edge]
    places = []
    for place, across in enumerate(rows):
        here = (count + 1 - place) // len(rows) if len(rows) > 1 else count
        for k in range(here):
            share = 0.5 if here == 1 else k / (here - 1)
            places.append((edge - a / 2 + share * (a - 2 * edge), across))
    return places


def plan_size(values: Values) -> Point:
    """Length and width of the base in plan, never too small for the rings round its holes."""
    room = values["D_k"] + 2 * values["h_k"] + 3 * values["d_k"]
    across = 2 if round(values["n_h"]) > 2 else 1
    along = ceil(round(values["n_h"]) / across)
    return max(values["a_b"], (across + 0.5) * room, along * room), max(values["b_b"], (across + 0.4) * room)


@drawing("bed-bead", "spacer ring bead air")
def bed_bead(values: Values, options: Options) -> Scene:
    """The base from below: beads inside the bolts, a ring round each hole."""
    a, b = plan_size(values)
    scene = Scene(-a / 2, a / 2, -b / 2, b / 2)
    scene.box("base from below", (-a / 2, a / 2), (-b / 2, b / 2), "steel")
    places, wide, rim = bolt_places(values), values["d_k"], values["D_k"] / 2 + values["h_k"]
    beads = bead_rows(values, places)
    for across, start, end in beads:
        scene.area("bead", bead((start, across), (end, across), wide), "compound")
    for at in places:
        scene.area("ring", circle(at, rim + wide, RING), "compound")
        scene.area("bare", circle(at, rim, SMALL), "steel")
        scene.area("hole", circle(at, values["D_k"] / 2, SMALL), "paper")
    corner = CORNER * inset(values) if len(places) > 2 else THIN_CORNER * wide
    for along in (-a / 2, a / 2 - corner):
        for across in (-b / 2, b / 2 - corner):
            scene.box("spacer", (along, along + corner), (across, across + corner), "paper")
    scene.label("spacer", (corner / 2 - a / 2, corner / 2 - b / 2))
    far = max(places)
    scene.label("ring", (far[0] + rim + wide / 2, far[1]))
    if beads:  # bolts may stand so near each other that their rings take all the room
        scene.label("bead", (beads[0][2] - wide, beads[0][0]))
    scene.label("air", (-0.48 * a, 0.12 * b))
    return scene


def bead_rows(values: Values, places: list[Point]) -> list[tuple[float, float, float]]:
    """Beads as (across, start, end): rows so near that they meet when pressed, broken off where a ring stands."""
    (a, b), wide = plan_size(values), values["d_k"]
    inner = max(across for _, across in places) or b / 2 - 1.2 * wide
    count = ceil(2 * inner / values["b_k"]) + 1
    clear = values["D_k"] / 2 + values["h_k"] + 1.8 * wide
    beads = []
    for row in range(count):
        across = -inner + row * 2 * inner / (count - 1)
        near = sorted(along for along, bolt_row in places if abs(across - bolt_row) < clear)
        stops = [-a / 2 + 0.7 * wide, *(along + side * clear for along in near for side in (-1, 1)), a / 2 - 0.7 * wide]
        beads += [
            (across, start + wide / 2, end - wide / 2)
            for start, end in pairwise_from(stops)
            if end - start > 1.6 * wide
        ]
    return beads


def pairwise_from(stops: list[float]) -> list[Point]:
    """Every other gap: from the first to the second, from the third to the fourth."""
    return list(zip(stops[::2], stops[1::2], strict=True))


@drawing("bed-press", "bead seal countersink spacer wood")
def bed_press(values: Values, options: Options) -> Scene:
    """The fitting goes straight down, with compound under the bolt's head."""
    raised = 1.5 * BEAD * values["d"]
    d = values["d"]
    head = -raised - base_thickness(values)
    scene = stage(values, -head + (parts.HEAD + 1.6) * d, thickness(values) + 0.3 * d)
    drilled(scene, values, values["h_k"])
    base(scene, values, raised)
    spacers(scene, values, values["h_b"])
    for side in (-1, 1):
        for place in (0.72, 1.45):
            scene.area("bead", circle((-raised + BEAD * d / 2, side * place * d), BEAD * d / 2, SMALL), "compound")
    rim, sink = values["D_k"] / 2, values["h_k"]
    cone = [(0.0, rim + sink), (sink, rim), (sink, 0.0), (0.0, 0.0)]
    scene.areas("compound in the countersink", cone, "compound")
    scene.box("shank", (head, thickness(values) - 0.4 * d), (-d / 2, d / 2), "steel")
    seal = -head + 0.14 * d
    scene.box("compound under the head", (-seal, head), (-0.8 * d, 0.8 * d), "compound")
    tools.hexagon(scene, "head", -seal - parts.HEAD * d, -seal, d)
    left_out(scene, values)
    scene.arrows((head - (parts.HEAD + 1.2) * d, 1.4 * d), (head - 0.35 * d, 1.4 * d))
    scene.label("bead", (-raised + BEAD * d / 2, 1.45 * d))
    scene.label("seal", (head - 0.07 * d, 0.75 * d))
    if values["h_k"] > 0:
        scene.label("countersink", (values["h_k"] / 2, -(values["D_k"] + values["h_k"]) / 2))
    scene.label("spacer", (-values["h_b"] / 2, SPACER[1] * reach(values)))
    scene.label("wood", (0.7 * thickness(values), 0.9 * scene.right))
    return scene


def spanners(scene: Scene, values: Values, head: float, nut: float) -> None:
    """One on the head, one on the nut, both reaching out of the view to the right."""
    d = values["d"]
    corner = parts.CORNERS * d / 2
    for name, row, high in (("spanner above", head, parts.HEAD), ("spanner below", nut, NUT)):
        middle = row - high * d / 2
        half = SPANNER * d / 2
        scene.box(name, (middle - half, middle + half), (-corner - 0.12 * d, scene.right), "steel")
        scene.line([(middle - half, -corner / 2), (middle + half, -corner / 2)], "thin")


@drawing("bed-nut", "head nut bead bed", film="true thicker")
def bed_nut(values: Values, options: Options) -> Scene:
    """Hold the bolt, turn the nut."""
    h, d = shown_bed(values), values["d"]
    scene = stage(values, over(values, h), under(values, NUT) + 1.5 * d)
    assembled(scene, values, h, 1.2 * h, NUT)
    scene.cases = {"film": as_it_is(values["h_b"], h)}
    head = -h - base_thickness(values)
    nut = under(values, NUT) - 0.55 * d
    spanners(scene, values, head, nut)
    scene.turn((nut + 1.3 * d, 0.0), 0.65 * d)
    scene.label("head", (head - parts.HEAD * d / 2, 0.85 * scene.right))
    scene.label("nut", (nut - NUT * d / 2, 0.85 * scene.right))
    scene.label("bead", (-h / 2, -reach(values) - 0.3 * h))
    scene.label("bed", (-h / 2, 0.9 * reach(values)))
    return scene


@drawing("bed-dry", "bed pressed-out", film="true thicker")
def bed_dry(values: Values, options: Options) -> Pair:
    """An even bed beside one that was squeezed dry."""
    h = shown_bed(values, STEP_TALLEST - FOOT)
    good, bad = (stage(values, over(values, h), under(values), CLOSE) for _ in range(2))
    assembled(good, values, h, 1.2 * h)
    assembled(bad, values, DRY * h, 0.0)
    edge = reach(values)
    heap = [(0.0, edge), (-HEAPED * h, edge), (-HEAPED * h, edge + h), (0.0, edge + PUSHED * h)]
    bad.areas("pressed out", [(along, across) for along, across in heap], "compound")
    good.label("bed", (-h / 2, -0.8 * reach(values)))
    bad.label("pressed-out", (-HEAPED * h / 2, edge + 0.8 * h))
    return Pair(good, bad, STEP_TALLEST, {"film": as_it_is(values["h_b"], h)})


# Finished, and what water does


@drawing("bedded-cored-section", "fitting bed ring hole end plug core", sink="some none", film="true thicker")
@drawing("bedded-solid-section", "fitting bed ring hole end wood", sink="some none", film="true thicker")
def section(values: Values, options: Options) -> Scene:
    """The finished joint in a cored deck or in solid wood."""
    h = shown_bed(values, SECTION_TALLEST)
    scene = stage(values, over(values, h), under(values) + 0.1 * values["d"], tallest=SECTION_TALLEST)
    assembled(scene, values, h, 1.2 * h)
    face = thickness(values)
    scene.label("fitting", (-h - base_thickness(values) / 2, -0.8 * reach(values)))
    scene.label("bed", (-h / 2, 0.9 * reach(values)))
    ring = values["D_k"] / 2 + values["h_k"] / 3
    if values["h_k"] > 0:
        scene.label("ring", (values["h_k"] / 3, ring))
    scene.cases = {"sink": "some" if values["h_k"] > 0 else "none", "film": as_it_is(values["h_b"], h)}
    low = face - 0.12 * face if cored(values) else 0.9 * face
    scene.label("hole", (low, -values["D_k"] / 2))
    scene.label("end", (nut_face(values) + NUT * values["d"], 0.8 * values["d"]))
    if cored(values):
        scene.label("plug", (0.5 * values["h_c"], -(values["D_c"] + values["D_k"]) / 4))
        scene.label("core", (0.7 * values["h_c"], 0.85 * scene.right))
    else:
        scene.label("wood", (0.4 * face, -0.8 * scene.right))
    return scene


def soaked(scene: Scene, values: Values) -> None:
    """Water in the core, as broken strokes, and its way in along the bolt."""
    top, bottom, edge = values["o_sk"], values["h_c"], scene.right
    rows = 4
    for row in range(rows):
        along = top + (row + 0.5) * (bottom - top) / rows
        scene.lines([(along, values["D_k"] * 0.62), (along, edge)], "dashed")


@drawing("core-wet", "plug core")
def core_wet(values: Values, options: Options) -> Pair:
    """A bolt in its plug beside one through bare core."""
    h = shown_bed(values, STEP_TALLEST - FOOT)
    good, bad = (stage(values, over(values, h), under(values), CLOSE) for _ in range(2))
    assembled(good, values, h, 1.2 * h)
    layers(bad, values, values["D_k"])
    soaked(bad, values)
    fitted(bad, {**values, "h_k": 0.0, "l_k": 0.0}, h, 1.2 * h)
    good.label("plug", (0.5 * values["h_c"], -(values["D_c"] + values["D_k"]) / 4))
    bad.label("core", (0.6 * values["h_c"], 0.7 * bad.right))
    return Pair(good, bad, STEP_TALLEST)
