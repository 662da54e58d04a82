"""What drawings of bored wood share: a block with its hole, a screw that comes out again, a thread's true profile."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import radians, tan

from . import parts, tools
from .scene import Scene
from .shapes import Point, both
from .words import Values

# A round thing seen from its end, and the sides of a hexagon there.
ROUND = 48
# A wood thread's pitch, its tapered tip, the head of a coach screw: by the screw's diameter.
WOOD_PITCH, TAPER, COACH_HEAD = 0.45, 1.0, 0.65


@dataclass(frozen=True)
class Bore:
    """A straight hole from the loaded face: its diameter, its full depth, and the cone that a drill's point leaves."""

    D: float
    L: float
    cone: float

    def outline(self, start: float = 0.0) -> list[Point]:
        """From the upper edge at `start` round the floor to the lower edge."""
        half = self.D / 2
        return [(start, -half), (self.L, -half), (self.L + self.cone, 0.0), (self.L, half), (start, half)]


def block(scene: Scene) -> None:
    """Wood from its loaded face to the view's far bounds."""
    scene.box("wood", (0.0, scene.right), (scene.top, scene.bottom), "wood", 0.0)
    far = [(0.0, scene.top), (scene.right, scene.top), (scene.right, scene.bottom), (0.0, scene.bottom)]
    scene.line(far, "thin")
    scene.line([(0.0, scene.top), (0.0, scene.bottom)], "cut")


def empty(scene: Scene, bore: Bore) -> None:
    """The hole, bored and clean."""
    scene.area("hole", bore.outline(), "paper")


def filled(scene: Scene, bore: Bore, level: float = 0.0) -> None:
    """Thickened epoxy from the floor up to `level`, counted from the face."""
    scene.area("epoxy", bore.outline(level), "epoxy")


def coat(scene: Scene, bore: Bore) -> None:
    """Plain epoxy that wall and floor have drunk."""
    scene.line(bore.outline(), "film")


def bead(scene: Scene, inner: float, outer: float, along: float) -> None:
    """Epoxy that has come up round a thread, on both sides of the axis."""
    corners = [(0.0, inner), (-along, inner), (0.0, outer)]
    scene.areas("epoxy that comes up", corners, "epoxy", parts.THIN)


def profile(start: float, pitches: int, P: float, crest: float, root: float) -> list[Point]:
    """One side of a thread's true profile: flanks of 60 degrees, flat crests an eighth of the pitch wide."""
    run = (crest - root) * tan(radians(30))
    points: list[Point] = [(start, root)]
    for place in range(pitches):
        middle = start + (place + 0.5) * P
        half = P / 16
        points += [
            (middle - half - run, root),
            (middle - half, crest),
            (middle + half, crest),
            (middle + half + run, root),
        ]
    return [*points, (start + pitches * P, root)]


def pocket(end: float, d: float, d_3: float, chamfer: float, material: str = "paper") -> Callable[[Scene], None]:
    """An empty thread by the simplified convention: its crests thick, its roots thin, a chamfer at the mouth."""

    def draw(scene: Scene) -> None:
        inner, outer = d_3 / 2, d / 2
        half = [(0.0, inner + chamfer), (chamfer, inner), (end, inner)]
        scene.area("empty thread", both(half), material)
        scene.lines([(max(0.0, chamfer - (outer - inner)), outer), (end, outer)], "thin")

    return draw


def drill_for(
    scene: Scene, values: Values, full: float, D: float, cone: float, spur: float, mark: float, shank: float
) -> None:
    """The large drill that was chosen, full diameter down to `full`, with a flag of tape `mark` from its tip."""
    if tools.pointed(values, "o"):
        tools.twist_drill(scene, full + cone, D, cone, shank)
        tools.flag(scene, full + cone - mark, D)
    else:
        tools.flat_bit(scene, full + spur, D, spur, shank)
        tools.flag(scene, full + spur - mark, D * tools.SHANK)


def being_bored(bore: Bore, around: float, values: Values, mark: float) -> Scene:
    """The drill at the bottom of its hole, its flag at the face, `around` of wood on all sides."""
    half, spur = bore.D / 2 + around, values["e_o"]
    deep = bore.L + max(bore.cone + around, spur + bore.D * 0.4)
    view = Scene(-bore.D * 1.6, deep, -half, half)
    block(view)
    empty(view, bore)
    drill_for(view, values, bore.L, bore.D, bore.cone, spur, mark, view.left)
    view.arrow((view.left, -bore.D * 0.85), (view.left + bore.D, -bore.D * 0.85))
    view.label("flag", (-bore.D * 0.1, bore.D * 0.1))
    return view


def coach_screw(
    scene: Scene, head: float, shank_end: float, end: float, d: float, core: float, taper: float = TAPER
) -> None:
    """A coach screw, its head's underside at `head`: plain shank, wood thread, and a tapered tip beyond `end`."""
    shank_and_thread(scene, head, shank_end, end, d, core, taper)
    tools.hexagon(scene, "head", head - COACH_HEAD * d, head, d)


def wood_screw(scene: Scene, head: float, shank_end: float, end: float, d: float, core: float) -> None:
    """A wood screw with a round head, which needs no washer."""
    shank_and_thread(scene, head, shank_end, end, d, core, TAPER)
    top = head - COACH_HEAD * d
    scene.area("head", both([(head, d), (head - 0.3 * d, 0.85 * d), (top + 0.08 * d, 0.45 * d), (top, 0.0)]), "steel")


def shank_and_thread(
    scene: Scene, head: float, shank_end: float, end: float, d: float, core: float, taper: float
) -> None:
    """All of a screw but its head."""
    outline = [(head, d / 2), *wood_thread(shank_end, end, d, core), (end + taper * d, 0.0)]
    scene.area("screw", both(outline), "steel")


def wood_thread(start: float, end: float, d: float, core: float) -> list[Point]:
    """One side of a wood thread: thin crests on a core, from the end of the shank."""
    crest, root = d / 2, core / 2
    turns = max(1, round((end - start) / (WOOD_PITCH * d)))
    step = (end - start) / turns
    points = [(start, crest), (start, root)]
    for turn in range(turns):
        low = start + turn * step
        points += [(low + 0.3 * step, root), (low + 0.55 * step, crest), (low + 0.8 * step, root)]
    return [*points, (end, root)]
