"""Tools and hardware as outlines on a scene, each about an axis, its working end pointing along it.

`tip` is where the working end stands along the axis; `axis` is how far across the axis lies. Only as much of a tool is
drawn as tells what to do.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi

from . import parts
from .scene import Scene
from .shapes import both, moved

# Outlines by a tool's diameter: a flat bit's blade and shank, a syringe's barrel, a flag of tape.
BLADE, SHANK, BARREL, FLAG = 1.1, 0.35, 3.2, 0.5
BRISTLES = 14


def pointed(values: Mapping[str, float], role: str) -> bool:
    """Whether a drill leaves a cone at the bottom of its hole, by its point angle; `role` is o or g."""
    return values[f"alpha_{role}"] < 0.999 * pi


def flat_bit(scene: Scene, tip: float, D: float, spur: float, shank: float, axis: float = 0.0) -> None:
    """A flat bit whose spur ends at `tip`; its shank goes back to `shank`."""
    edge, half, thin = tip - spur, D / 2, D * SHANK / 2
    blade = edge - D * BLADE
    outline = [(tip, 0.0), (edge, thin), (edge, half), (blade, half), (blade - half, thin), (shank, thin)]
    scene.area("flat bit", moved(both(outline), axis), "steel")


def twist_drill(scene: Scene, tip: float, D: float, cone: float, shank: float, axis: float = 0.0) -> None:
    """A twist drill whose point ends at `tip`, its flutes as slanting lines; it goes back to `shank`."""
    half, edge = D / 2, tip - cone
    scene.area("twist drill", moved(both([(tip, 0.0), (edge, half), (shank, half)]), axis), "steel")
    for turn in range(int((edge - shank) / (1.5 * D))):
        start = edge - (turn + 1) * 1.5 * D
        scene.line([(start, axis + half), (start + D, axis - half)], "thin")


def flag(scene: Scene, mark: float, D: float, axis: float = 0.0) -> None:
    """A flag of tape round a drill, its near edge at the mark."""
    scene.box("tape", (mark - FLAG * D, mark), (axis - 0.75 * D, axis + 0.75 * D), "paper")


def syringe(scene: Scene, tip: float, bore: float, nozzle: float, axis: float = 0.0) -> None:
    """A syringe with a tube of outside diameter `bore` that ends at `tip` and is `nozzle` long."""
    shoulder, half = tip - nozzle, bore / 2
    barrel = bore * BARREL / 2
    back = shoulder - 3 * barrel
    scene.box("tube", (shoulder, tip), (axis - half, axis + half), "neat")
    scene.box("syringe", (back, shoulder), (axis - barrel, axis + barrel), "paper")
    scene.box("epoxy in the syringe", (back + barrel, shoulder), (axis - barrel, axis + barrel), "epoxy")
    scene.box("plunger", (back - barrel, back + barrel), (axis - barrel / 3, axis + barrel / 3), "steel")
    scene.line([(back - barrel, axis - barrel), (back - barrel, axis + barrel)], "cut")


def pipe_cleaner(scene: Scene, tip: float, D: float, back: float, axis: float = 0.0) -> None:
    """A wire with bristles from `tip` back to half way, bare beyond."""
    scene.line([(back, axis), (tip, axis)], "thick")
    half = D * 0.42
    for place in range(BRISTLES):
        along = tip - place * (tip - back) / 2 / BRISTLES
        scene.line([(along - half / 3, axis + half), (along, axis - half)], "thin")


def bolt(scene: Scene, head: float, end: float, d: float, d_3: float, axis: float = 0.0) -> None:
    """A threaded fastener with its hexagon head's underside at `head`, its point at `end`."""
    stud(scene, head, end, d, d_3, axis)
    hexagon(scene, "head", head - parts.HEAD * d, head, d, axis)


def stud(scene: Scene, start: float, end: float, d: float, d_3: float, axis: float = 0.0) -> None:
    """A threaded rod by the simplified convention: crests thick, roots thin, its point chamfered."""
    crest, root = d / 2, d_3 / 2
    half = [(start, crest), (end - (crest - root), crest), (end, root)]
    scene.area("fastener", moved(both(half), axis), "steel")
    for side in (-root, root):
        scene.line([(start, axis + side), (end, axis + side)], "thin")


def rod(scene: Scene, start: float, end: float, d: float, d_3: float) -> None:
    """A piece of a threaded fastener, broken off at both ends."""
    scene.box("fastener", (start, end), (-d / 2, d / 2), "steel", 0)
    scene.lines([(start, d / 2), (end, d / 2)])
    scene.lines([(start, d_3 / 2), (end, d_3 / 2)], "thin")


def hexagon(scene: Scene, name: str, start: float, end: float, d: float, axis: float = 0.0) -> None:
    """A head or a nut from the side, for a thread of diameter d."""
    half = parts.CORNERS * d / 2
    scene.box(name, (start, end), (axis - half, axis + half), "steel")
    for side in (-half / 2, half / 2):
        scene.line([(start, axis + side), (end, axis + side)], "thick")


def locked(scene: Scene, start: float, d: float, axis: float = 0.0, way: int = 1) -> None:
    """A nut on what it bears on at `start`, and a second one that locks it; `way` is the side they stand on."""
    for foot in (start, start + way * parts.NUT * d):
        near, far = sorted((foot, foot + way * parts.NUT * d))
        hexagon(scene, "nut", near, far, d, axis)


def washer(scene: Scene, start: float, end: float, across: float, axis: float = 0.0) -> None:
    """A washer in section."""
    scene.box("washer", (start, end), (axis - across / 2, axis + across / 2), "washer", parts.CUT)
