"""A coach screw in a wetted pilot: drilling, wetting, dipping, driving, the joint, and a split from a full hole."""

from __future__ import annotations

from dataclasses import dataclass, replace

from . import parts, tools
from .bored import COACH_HEAD, TAPER, block, coach_screw, wood_screw, wood_thread
from .picture import Pair, drawing
from .scene import Scene
from .shapes import Point, both
from .words import Options, Values

# Outlines by the screw's diameter: a fitting's plate, its washer, wood shown round the hole.
BASE, WASHER, AROUND = 0.6, 0.2, 1.6
# The pilot's point by its diameter, how far in a screw is shown while it is driven, the thread shown where one splits.
POINT, DRIVEN, SHOWN = 0.3, 0.6, 3.2
# How far the wood has drunk, as drawn, and the part of a dipped thread that is shown.
SOAKED, DIPPED = 0.14, 4.5
# A bead of epoxy at the mouth by the screw's diameter, and a crack's bends.
BEAD, CRACK = 0.35, (0.0, 0.12, -0.06, 0.1, 0.0)


@dataclass(frozen=True)
class Screw:
    """The screw and its holes, in metres."""

    d: float
    core: float
    shank: float
    thread: float
    S: float
    D: float
    depth: float

    def scene(self, ahead: float, deep: float = 0.0) -> Scene:
        """The wood round the hole, and `ahead` in front of its face."""
        half = self.S / 2 + AROUND * self.d
        view = Scene(-ahead, deep or self.depth + self.d, -half, half)
        block(view)
        return view

    def hole(self) -> list[Point]:
        """Shank hole and pilot, from the upper edge of the mouth round to the lower one."""
        half = [
            (0.0, -self.S / 2),
            (self.shank, -self.S / 2),
            (self.shank, -self.D / 2),
            (self.depth - POINT * self.D, -self.D / 2),
            (self.depth, 0.0),
        ]
        return both(half)

    def bored(self, view: Scene, material: str = "paper", wet: bool = True) -> None:
        """The two holes, and what the wood has drunk."""
        view.area("hole", self.hole(), material)
        if wet:
            view.line(self.hole(), "film")

    def draw(self, view: Scene, head: float) -> None:
        """The screw, its head's underside at `head`."""
        coach_screw(view, head, head + self.reach - self.thread, head + self.reach, self.d, self.core)

    @property
    def reach(self) -> float:
        """From under the head to the end of the full thread, with no fitting under the head."""
        return self.shank + self.thread

    def coated(self, view: Scene, start: float, film: float, moved: float = 0.0) -> None:
        """Thickened epoxy on the thread from `start` to the tip, its roots full; the screw is drawn over it."""
        outer, end = self.d / 2 + film, self.reach + moved
        skin = [(start, outer), (end, outer), (end + TAPER * self.d + film, 0.0)]
        view.area("coat on the thread", both(skin), "epoxy", parts.THIN)

    def bead(self, view: Scene) -> None:
        """Epoxy that has come up round the shank."""
        inner, out = self.d / 2, BEAD * self.d
        view.areas("bead", [(0.0, inner), (-out, inner), (0.0, inner + out)], "epoxy", parts.THIN)


def screw_of(values: Values) -> Screw:
    """From the working's symbols."""
    d = values["d_sc"]
    names = ("l_sc", "L_sc", "S_sc", "D_sc", "T_sc")
    return Screw(d, values["r_sc"] * d, *(values[name] for name in names))


@drawing("bonded-screw-section", "fitting packing coach-screw thread epoxy", shank="some none", under="some none")
def section(values: Values, options: Options) -> Scene:
    """The finished joint: a fitting under the head of a coach screw, or of a wood screw, which has no washer."""
    p, packing, gauged = screw_of(values), values["g_y"], values["n_y"] > 5
    top = packing + BASE * p.d
    low = top if gauged else top + WASHER * p.d
    view = p.scene(low + (COACH_HEAD + 0.4) * p.d)
    p.bored(view, "epoxy")
    half = p.S / 2 + AROUND * p.d * 0.85
    if packing > 0:
        view.box("packing", (-packing, 0.0), (-half, half), "wood", parts.CUT)
        view.label("packing", (-packing / 2, half * 0.8))
    view.box("fitting", (-top, -packing), (-half, half), "metal", parts.CUT)
    if gauged:
        wood_screw(view, -low, p.shank, p.reach, p.d, p.core)
    else:
        tools.washer(view, -low, -top, parts.WASHER_ACROSS * p.d)
        coach_screw(view, -low, p.shank, p.reach, p.d, p.core)
    view.line([(view.left, 0.0), (view.right, 0.0)], "axis")
    view.label("fitting", (-packing - BASE * p.d / 2, -half * 0.8))
    view.label("coach-screw", (-low - COACH_HEAD * p.d / 2, 0.3 * p.d))
    view.label("thread", (p.shank + p.thread * 0.5, -p.d * 0.45))
    view.label("epoxy", (p.depth - POINT * p.D - p.d * 0.1, p.D * 0.35))
    view.cases = {"shank": "some" if p.shank > 0 else "none", "under": "some" if packing > 0 else "none"}
    return view


@drawing("screw-pilot", "flag shank-hole pilot", shank="some none", first="some none")
def pilot(values: Values, options: Options) -> Scene:
    """Shank hole and pilot, the pilot drill at its mark."""
    p = screw_of(values)
    view = p.scene(2.6 * p.d)
    p.bored(view, wet=False)
    tools.twist_drill(view, p.depth, p.D, POINT * p.D, view.left)
    tools.flag(view, 0.0, p.D)
    view.arrow((view.left, -p.d * 1.4), (view.left + 1.8 * p.d, -p.d * 1.4))
    view.label("flag", (-0.25 * p.D, 0.3 * p.D))
    if p.shank > 0:
        view.label("shank-hole", (p.shank * 0.6, -p.S / 2))
    view.label("pilot", (p.shank + p.thread * 0.6, p.D / 2))
    shank = "some" if p.shank > 0 else "none"
    view.cases = {"shank": shank, "first": shank}
    return view


@drawing("screw-wet", "pipe-cleaner epoxy wall")
def wet(values: Values, options: Options) -> Scene:
    """Working plain epoxy into the pilot."""
    p = screw_of(values)
    view = p.scene(2.8 * p.d)
    p.bored(view, "neat")
    tools.pipe_cleaner(view, p.depth - 0.6 * p.D, p.D, -2.2 * p.d)
    view.arrow((-0.6 * p.d, -p.d * 1.2), (-2.4 * p.d, -p.d * 1.2))
    view.arrow((-2.4 * p.d, p.d * 1.2), (-0.6 * p.d, p.d * 1.2))
    view.label("pipe-cleaner", (-1.4 * p.d, 0.0))
    view.label("epoxy", (p.shank + p.thread * 0.55, -p.D * 0.3))
    view.label("wall", (p.shank * 0.5, p.S / 2))
    return view


@drawing("screw-dip", "screw roots tip")
def dip(values: Values, options: Options) -> Scene:
    """The thread in its coat of thickened epoxy."""
    p = screw_of(values)
    film = max(values["z_sc"], 0.06 * p.d)
    start = p.reach - min(p.thread, DIPPED * p.d)
    end = p.reach + TAPER * p.d
    view = Scene(start, end + 0.5 * p.d, -1.1 * p.d, 1.1 * p.d)
    p.coated(view, start, film)
    half = [(start, p.core / 2), *wood_thread(start, p.reach, p.d, p.core)[1:], (end, 0.0)]
    view.area("screw", both(half), "steel")
    view.label("screw", (start + 0.3 * p.d, 0.0))
    view.label("roots", (start + p.d * 1.6, -p.d / 2 - film / 2))
    view.label("tip", (p.reach + TAPER * p.d * 0.5, film * 0.6 + p.core * 0.25))
    return view


@drawing("screw-drive", "turn bead room")
def drive(values: Values, options: Options) -> Scene:
    """Turning the screw in by hand."""
    p = screw_of(values)
    head = -p.reach * (1 - DRIVEN)
    outer = head - COACH_HEAD * p.d
    view = p.scene(-outer + 2.4 * p.d)
    p.bored(view, wet=False)
    p.coated(view, head + p.reach - p.thread, max(values["z_sc"], 0.06 * p.d), head)
    p.draw(view, head)
    p.bead(view)
    view.turn((outer - 1.2 * p.d, 0.0), 0.85 * p.d)
    view.label("turn", (outer - 1.2 * p.d, -0.85 * p.d))
    view.label("bead", (-BEAD * p.d * 0.3, p.d * 0.6))
    view.label("room", (p.depth - p.d, -p.D * 0.3))
    return view


def mouth(p: Screw) -> Scene:
    """The first part of the hole with the screw home in it."""
    near = replace(p, thread=min(p.thread, SHOWN * p.d), shank=min(p.shank, p.d))
    view = near.scene((COACH_HEAD + 0.9) * p.d, near.reach)
    outline = [(0.0, p.S / 2), (near.shank, p.S / 2), (near.shank, p.D / 2), (near.reach, p.D / 2)]
    view.area("hole", both(outline), "epoxy")
    coach_screw(view, 0.0, near.shank, near.reach, p.d, p.core, 0.0)
    return view


@drawing("screw-split", "split")
def split(values: Values, options: Options) -> Pair:
    """A sound joint against one that a full hole has split."""
    p = screw_of(values)
    right, wrong = mouth(p), mouth(p)
    step = (wrong.bottom - p.d / 2) / (len(CRACK) - 1)
    along = wrong.right * 0.62
    bends = [(along + bend * 2 * p.d, p.d / 2 + place * step) for place, bend in enumerate(CRACK)]
    wrong.lines(bends, "cut")
    wrong.arrows((-0.15 * p.d, p.d * 1.1), (-1.3 * p.d, p.d * 1.45))
    wrong.label("split", (along, -wrong.bottom * 0.8))
    return Pair(right, wrong)
