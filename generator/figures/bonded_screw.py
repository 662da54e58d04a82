"""A coach screw in a wetted pilot: drilling, wetting, dipping, driving, the joint, and a split from a full hole."""

from __future__ import annotations

from dataclasses import dataclass, replace

from . import parts, tools
from .bored import COACH_HEAD, TAPER, Options, Say, Values, block, coach_screw, mirrored, wood_thread
from .parts import Figure, Measure, Point
from .scene import Scene, right_and_wrong, single

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

    def scene(self, prefix: str, ahead: float, deep: float = 0.0) -> Scene:
        """The wood round the hole, and `ahead` in front of its face."""
        half = self.S / 2 + AROUND * self.d
        view = Scene(prefix, -ahead, deep or self.depth + self.d, -half, half)
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
        return [*half, *mirrored(half[:-1])]

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
        view.area("coat on the thread", [*skin, *mirrored(skin[:-1])], "epoxy", parts.THIN)

    def bead(self, view: Scene) -> None:
        """Epoxy that has come up round the shank."""
        inner, out = self.d / 2, BEAD * self.d
        for side in (-1, 1):
            view.area(
                "bead", [(0.0, side * inner), (-out, side * inner), (0.0, side * (inner + out))], "epoxy", parts.THIN
            )


def screw_of(values: Values) -> Screw:
    """From the working's symbols."""
    d = values["d_sc"]
    names = ("l_sc", "L_sc", "S_sc", "D_sc", "T_sc")
    return Screw(d, values["r_sc"] * d, *(values[name] for name in names))


def section(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The finished joint: a fitting under the head of a coach screw."""
    p = screw_of(values)
    low = (BASE + WASHER) * p.d
    view = p.scene(prefix, low + (COACH_HEAD + 0.4) * p.d)
    p.bored(view, "epoxy", wet=False)
    soaked = p.d / 2 + SOAKED * p.d
    wall = [(0.0, soaked), (p.reach, soaked), (p.depth + SOAKED * p.d, 0.0)]
    view.line([*wall, *mirrored(wall[:-1])], "film")
    half = p.S / 2 + AROUND * p.d * 0.85
    view.box("fitting", (-BASE * p.d, 0.0), (-half, half), "metal", parts.CUT)
    tools.washer(view, -low, -BASE * p.d, parts.WASHER_ACROSS * p.d)
    coach_screw(view, -low, p.shank, p.reach, p.d, p.core)
    view.line([(view.left, 0.0), (view.right, 0.0)], "axis")
    view.label((-BASE * p.d / 2, -half * 0.8), "fitting", side=-1)
    view.label((-low - COACH_HEAD * p.d / 2, 0.3 * p.d), "coach screw", Measure("d_sc", say("d_sc")), side=-1)
    view.label((p.shank + p.thread * 0.5, -p.d * 0.45), "thread in wood", Measure("L_sc", say("L_sc")))
    view.label((p.depth - p.d * 0.4, p.D * 0.3), "epoxy fills", "what is left")
    title = "Bonded coach screw, in section"
    description = (
        f"A coach screw of {say('d_sc')} holds a fitting to the wood. Its plain shank lies in a hole of {say('S_sc')}, "
        f"{say('l_sc')} deep, and {say('L_sc')} of its thread has cut into the wood round a pilot of {say('D_sc')}. "
        "Epoxy has soaked into the wall and fills what room the screw leaves."
    )
    caption = "The thread cuts wood. The epoxy hardens the wall and keeps water out."
    return single(view, title, description, caption)


def pilot(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Shank hole and pilot, the pilot drill at its mark."""
    p = screw_of(values)
    view = p.scene(prefix, 2.6 * p.d)
    p.bored(view, wet=False)
    tools.twist_drill(view, p.depth, p.D, POINT * p.D, view.left)
    tools.flag(view, 0.0, p.D)
    view.arrow((view.left, -p.d * 1.4), (view.left + 1.8 * p.d, -p.d * 1.4))
    view.label((-0.25 * p.D, 0.3 * p.D), "flag at", Measure("T_sc", say("T_sc")), side=-1)
    view.label((p.shank * 0.6, -p.S / 2), "shank hole", Measure("S_sc", say("S_sc")))
    view.label((p.shank + p.thread * 0.6, p.D / 2), "pilot", Measure("D_sc", say("D_sc")))
    title = "Drilling for the shank and for the thread"
    description = (
        f"A shank hole of {say('S_sc')} is {say('l_sc')} deep. On from its floor the {say('D_sc')} pilot drill has "
        f"gone to {say('T_sc')} from the face, where its flag of tape meets the face."
    )
    caption = "Shank hole first, pilot in its centre. The pilot goes a little deeper than the screw."
    return single(view, title, description, caption)


def wet(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Working plain epoxy into the pilot."""
    p = screw_of(values)
    view = p.scene(prefix, 2.8 * p.d)
    p.bored(view, "neat")
    tools.pipe_cleaner(view, p.depth - 0.6 * p.D, p.D, -2.2 * p.d)
    view.arrow((-0.6 * p.d, -p.d * 1.2), (-2.4 * p.d, -p.d * 1.2))
    view.arrow((-2.4 * p.d, p.d * 1.2), (-0.6 * p.d, p.d * 1.2))
    view.label((-1.4 * p.d, 0.0), "pipe cleaner", side=-1)
    view.label((p.shank + p.thread * 0.55, -p.D * 0.3), "plain epoxy")
    view.label((p.shank * 0.5, p.S / 2), "wall drinks")
    title = "Wetting out the pilot"
    description = (
        "Plain, unthickened epoxy stands in the shank hole and the pilot. A pipe cleaner is worked to and fro in it, "
        "down to the floor, so that the wall drinks. Most of it is drawn off again before the screw goes in."
    )
    caption = "Work it in, wait, top up. Then draw most of it off again, or the screw becomes a ram."
    return single(view, title, description, caption)


def dip(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The thread in its coat of thickened epoxy."""
    p = screw_of(values)
    film = max(values["z_sc"], 0.06 * p.d)
    start = p.reach - min(p.thread, DIPPED * p.d)
    end = p.reach + TAPER * p.d
    view = Scene(prefix, start, end + 0.5 * p.d, -1.1 * p.d, 1.1 * p.d)
    p.coated(view, start, film)
    half = [(start, p.core / 2), *wood_thread(start, p.reach, p.d, p.core)[1:], (end, 0.0)]
    view.area("screw", [*half, *mirrored(half[:-1])], "steel")
    view.label((start + 0.3 * p.d, 0.0), "screw", Measure("d_sc", say("d_sc")), side=-1)
    view.label((start + p.d * 1.6, -p.d / 2 - film / 2), "every root", "full")
    view.label((p.reach + TAPER * p.d * 0.5, film * 0.6 + p.core * 0.25), "tip too")
    title = "The dipped thread"
    description = (
        f"The coach screw of {say('d_sc')} by itself. A coat of thickened epoxy covers its thread over {say('L_sc')}, "
        "every root and the tip. The plain shank is bare."
    )
    return single(view, title, description, "The thread carries its own epoxy in. So the hole need not be full.")


def drive(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Turning the screw in by hand."""
    p = screw_of(values)
    head = -p.reach * (1 - DRIVEN)
    outer = head - COACH_HEAD * p.d
    view = p.scene(prefix, -outer + 2.4 * p.d)
    p.bored(view, wet=False)
    p.coated(view, head + p.reach - p.thread, max(values["z_sc"], 0.06 * p.d), head)
    p.draw(view, head)
    p.bead(view)
    view.turn((outer - 1.2 * p.d, 0.0), 0.85 * p.d)
    view.label((outer - 1.2 * p.d, -0.85 * p.d), "slowly,", "by hand", side=-1)
    view.label((-BEAD * p.d * 0.3, p.d * 0.6), "a bead,", "no squirt")
    view.label((p.depth - p.d, -p.D * 0.3), "air and room", "ahead")
    title = "Driving the screw by hand"
    description = (
        "The dipped screw is part of the way in, turned slowly by hand. A small bead of epoxy comes up round it at the "
        "mouth. The rest of the wetted pilot ahead of its tip holds air, so nothing is pressed into the wood."
    )
    return single(
        view, title, description, "Rest every few turns, so that epoxy can creep back past the thread. Stop at snug."
    )


def mouth(p: Screw, prefix: str) -> Scene:
    """The first part of the hole with the screw home in it."""
    near = replace(p, thread=min(p.thread, SHOWN * p.d), shank=min(p.shank, p.d))
    view = near.scene(prefix, (COACH_HEAD + 0.9) * p.d, near.reach)
    outline = [(0.0, p.S / 2), (near.shank, p.S / 2), (near.shank, p.D / 2), (near.reach, p.D / 2)]
    view.area("hole", [*outline, *mirrored(outline)], "epoxy")
    coach_screw(view, 0.0, near.shank, near.reach, p.d, p.core, 0.0)
    return view


def split(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """A sound joint against one that a full hole has split."""
    p = screw_of(values)
    right, wrong = mouth(p, prefix), mouth(p, prefix)
    step = (wrong.bottom - p.d / 2) / (len(CRACK) - 1)
    along = wrong.right * 0.62
    for side in (-1, 1):
        bends = [(along + bend * 2 * p.d, side * (p.d / 2 + place * step)) for place, bend in enumerate(CRACK)]
        wrong.line(bends, "cut")
        wrong.arrow((-0.15 * p.d, side * p.d * 1.1), (-1.3 * p.d, side * p.d * 1.45))
    wrong.label((along, -wrong.bottom * 0.8), "split")
    title = "A sound joint and a split one"
    description = (
        "Left, the screw is home, and the wood round it is whole. Right, the hole was full and the screw was driven "
        "fast: epoxy squirts out at the mouth, and a crack runs along the grain on both sides of the screw."
    )
    caption = "Epoxy cannot be squeezed. What has no way out past the thread parts the grain."
    return right_and_wrong(
        right, wrong, ("drained, by hand", ["full hole,", "driven fast"]), title, description, caption
    )


FIGURES = {
    "bonded-screw-section": section,
    "screw-pilot": pilot,
    "screw-wet": wet,
    "screw-dip": dip,
    "screw-drive": drive,
    "screw-split": split,
}
