"""A threaded bush of metal bonded into wood: its bore, its plug, pushing it in, its height, the screw turned free."""

from __future__ import annotations

from dataclasses import dataclass, replace

from . import parts, tools
from .bored import Bore, Options, Say, Values, being_bored, block, coat, empty, filled, mirrored
from .parts import Figure, Measure
from .scene import Scene, right_and_wrong, single

# Outlines by the thread's diameter: plug, plate, sealant, the waxed screw's head clear of the bush.
PLUG, BASE, SEALANT = 0.35, 0.6, 0.15
# The strip that the bush hangs from, how far it lies on the wood, and the screw's head clear of its nut.
STRIP, REACH, CLEAR_HEAD = 0.5, 0.3, 0.4
# Grooves round a bush, how deep by its wall, and wood shown round the bore by its diameter.
GROOVES, GROOVE, ROUND_BORE = 3, 0.3, 0.45
# How far in a bush is shown while it is pushed, by its length.
HALF_WAY = 0.6
# How deep the mouth is seen near, by the bore's diameter.
MOUTH = 0.9
# No taller than the words beside them.
LOW = 26.0


@dataclass(frozen=True)
class Bush:
    """The bush and its bore, in metres."""

    d: float
    d_3: float
    D: float
    L: float
    bore: Bore
    below: float

    def scene(self, prefix: str, ahead: float) -> Scene:
        """The wood round the bore, and `ahead` in front of its face."""
        half = self.bore.D * (0.5 + ROUND_BORE)
        deep = self.bore.L + self.bore.cone + self.bore.D * ROUND_BORE
        view = Scene(prefix, -ahead, deep, -half, half)
        block(view)
        empty(view, self.bore)
        return view

    def draw(self, view: Scene, start: float) -> None:
        """The bush in section, its upper end at `start`: a thread inside, grooves outside."""
        outer, inner = self.D / 2, self.d / 2
        low = outer - GROOVE * (outer - inner)
        step = self.L / (2 * GROOVES + 1)
        edge = [(start, outer)]
        for place in range(GROOVES):
            first, last = start + (2 * place + 1) * step, start + (2 * place + 2) * step
            edge += [(first, outer), (first, low), (last, low), (last, outer)]
        edge.append((start + self.L, outer))
        half = [(start, inner), *edge, (start + self.L, inner)]
        view.box("thread of the bush", (start, start + self.L), (-inner, inner), "paper")
        view.area("bush", half, "metal", parts.CUT)
        view.area("bush", mirrored(half), "metal", parts.CUT)
        for side in (-1, 1):
            view.line([(start, side * self.d_3 / 2), (start + self.L, side * self.d_3 / 2)], "thick")

    def plug(self, view: Scene, start: float) -> None:
        """What keeps epoxy out of the bush's far end."""
        end = start + self.L
        view.box("plug", (end - PLUG * self.d, end), (-self.d / 2, self.d / 2), "compound")

    def screw(self, view: Scene, start: float, head: float) -> None:
        """The waxed screw down to the plug."""
        tools.bolt(view, head, start + self.L - PLUG * self.d, self.d, self.d_3)

    def hung(self, view: Scene, start: float) -> float:
        """The bush with its plug and screw, drawn up against ring and strip by a nut. Returns the head's outside."""
        face = start - self.below
        out = face - STRIP * self.d
        nut = out - parts.NUT * self.d
        head = nut - CLEAR_HEAD * self.d
        for side in (-1, 1):
            inner, end = side * self.d / 2, side * self.bore.D * (0.5 + REACH)
            view.box("strip", (out, face), (min(inner, end), max(inner, end)), "washer", parts.CUT)
            view.line([(face, side * self.D / 2), (face, end)], "release")
            rim = sorted((inner, side * self.D / 2))
            view.box("spacer ring", (face, start), (rim[0], rim[1]), "compound", parts.THIN)
        self.plug(view, start)
        self.screw(view, start, head)
        tools.hexagon(view, "nut", nut, out, self.d)
        return head - parts.HEAD * self.d


def bush_of(values: Values) -> Bush:
    """From the working's symbols."""
    bore = Bore(values["B_bu"], values["T_bu"], values["h_bu"])
    return Bush(values["d"], values["d_3"], values["D_bu"], values["L_bu"], bore, values["s_bu"])


def bonded(prefix: str, b: Bush, ahead: float, start: float, level: float = 0.0) -> Scene:
    """Wood, wetted wall, epoxy up to `level`, and the bush from `start`."""
    view = b.scene(prefix, ahead)
    filled(view, b.bore, level)
    coat(view, b.bore)
    b.draw(view, start)
    return view


def fitting(view: Scene, b: Bush, low: float, half: float, material: str = "metal") -> float:
    """A plate with its screw's hole, its underside at `low`. Returns where its outside lies."""
    out = low - BASE * b.d
    for side in (-1, 1):
        near, far = sorted((side * b.d / 2, side * half))
        view.box("fitting", (out, low), (near, far), material, parts.CUT)
    return out


def section(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The finished joint: a fitting screwed to a bush that stands below the surface."""
    b = bush_of(values)
    gap = SEALANT * b.d
    half = b.bore.D * (0.5 + ROUND_BORE) * 0.9
    head = (SEALANT + BASE) * b.d
    view = bonded(prefix, b, head + (parts.HEAD + 0.3) * b.d, b.below)
    b.plug(view, b.below)
    view.box("sealant", (-gap, 0.0), (-half, half), "compound", parts.THIN)
    fitting(view, b, -gap, half, "washer")
    b.screw(view, b.below, -head)
    view.line([(view.left, 0.0), (view.right, 0.0)], "axis")
    view.label((-gap - BASE * b.d / 2, -half * 0.8), "fitting", side=-1)
    view.label((-gap / 2, half * 0.8), "sealant", side=-1)
    view.label((-head - parts.HEAD * b.d / 2, b.d * 0.3), "screw", side=-1)
    view.label((b.below + b.L * 0.35, -(b.D + b.d) / 4), "bush", Measure("D_bu", say("D_bu")))
    view.label((b.bore.L * 0.7, -(b.bore.D + b.D) / 4), "ring", Measure("t_bu", say("t_bu")))
    view.label((b.bore.L, b.bore.D * 0.45), Measure("B_bu", say("B_bu")), Measure("T_bu", say("T_bu")))
    title = "Bonded-in threaded bush, in section"
    description = (
        f"A grooved metal bush, {say('D_bu')} across and {say('L_bu')} long, stands in a bore of {say('B_bu')} that is "
        f"{say('T_bu')} deep. A ring of epoxy, {say('t_bu')} wide, is all round it, and a bed of it under its "
        f"plugged end. Its upper "
        f"end is {say('s_bu')} below the surface. A screw holds a fitting that lies on sealant on the wood."
    )
    caption = "The fitting presses on the wood, not on the bush."
    return single(view, title, description, caption)


def boring(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The bore, straight and flagged."""
    b = bush_of(values)
    view = being_bored(prefix, b.bore, b.bore.D * ROUND_BORE, values, values["M_bu"])
    view.label((b.bore.L, b.bore.D / 2), "full width to", Measure("T_bu", say("T_bu")), Measure("B_bu", say("B_bu")))
    title = "Boring for the bush"
    description = (
        f"The {say('B_bu')} drill stands in the wood, square to the face. Its flag of tape, {say('M_bu')} from its "
        f"tip, meets the face, and the bore is full width to {say('T_bu')}."
    )
    return single(view, title, description, "Stop when the flag meets the face. A bed of epoxy goes under the bush.")


def plugged(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The bush made ready: its far end plugged, a waxed screw in its thread."""
    b = bush_of(values)
    half = b.bore.D * (0.5 + REACH) * 1.05
    ahead = b.below + (STRIP + parts.NUT + CLEAR_HEAD + parts.HEAD + 0.3) * b.d
    view = Scene(prefix, -ahead, b.L + 0.3 * b.d, -half, half, tallest=LOW)
    b.draw(view, 0.0)
    b.hung(view, 0.0)
    strip = -b.below - STRIP * b.d
    view.label((strip - parts.NUT * b.d / 2, -b.d * 0.7), "nut, tight", side=-1)
    view.label((strip + STRIP * b.d / 2, -half * 0.8), "strip", side=-1)
    view.label((-b.below / 2, (b.D + b.d) / 4), "ring", Measure("s_bu", say("s_bu")), side=-1)
    view.label((b.L * 0.5, -b.D / 2), "bright, rough", Measure("D_bu", say("D_bu")))
    view.label((b.L - PLUG * b.d / 2, 0.1 * b.d), "plug")
    title = "The bush made ready"
    description = (
        f"The bush in section, {say('D_bu')} across and {say('L_bu')} long. A plug closes its far end. A waxed screw "
        f"goes through a nut, a strip with tape on its underside and a ring {say('s_bu')} thick, and is turned into "
        "the bush down to the plug. The nut is tight on the strip, so that all of it is one piece. The bush's outside "
        "is bright and rough."
    )
    return single(
        view, title, description, "Two ways in for epoxy, both closed: the plug below, ring and waxed screw above."
    )


def push(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Pushing the bush down with a turn, the epoxy rising round it."""
    b = bush_of(values)
    end = HALF_WAY * b.L
    wide, narrow = b.bore.D**2, b.D**2
    level = max(0.0, (wide * values["p_bu"] - narrow * end) / (wide - narrow))
    start = end - b.L
    outer = start - b.below - (STRIP + parts.NUT + CLEAR_HEAD + parts.HEAD) * b.d
    view = bonded(prefix, b, -outer + 1.9 * b.d, start, level)
    b.hung(view, start)
    view.turn((outer - 0.9 * b.d, 0.0), 0.7 * b.d)
    view.arrow((outer, -b.bore.D * 0.85), (outer + 1.6 * b.d, -b.bore.D * 0.85))
    view.label((start + b.L * 0.2, (b.D + b.d) / 4), "bush, wet", "with epoxy", side=-1)
    view.label((level, -(b.bore.D + b.D) / 4), "rises", "all round")
    view.label((b.bore.L * 0.9, b.bore.D * 0.3), "put in", Measure("E_bu", say("E_bu")))
    title = "Pushing the bush in with a turn"
    description = (
        f"The plugged bush is pushed slowly into the bore, turning, by the strip that it hangs from. {say('E_bu')} of "
        "thickened epoxy was put in first. It rises round the bush on all sides."
    )
    return single(
        view, title, description, "Slowly, with a turn. Epoxy must come up all round before the bush is down."
    )


def height_view(b: Bush, prefix: str, start: float, low: float) -> Scene:
    """The mouth seen near, the bush at a height, and a plate that its screw will draw down."""
    deep, half = b.bore.D * MOUTH, b.bore.D * 0.62
    near = replace(b, L=deep - start, bore=Bore(b.bore.D, deep, 0.0))
    view = Scene(prefix, low - (BASE + 0.2) * b.d, deep, -half, half)
    block(view)
    wide = (-near.bore.D / 2, near.bore.D / 2)
    view.box("hole", (0.0, deep), wide, "paper")
    view.box("epoxy", (max(start, 0.0), deep), wide, "epoxy")
    for side in (-1, 1):
        view.line([(0.0, side * near.bore.D / 2), (deep, side * near.bore.D / 2)], "film")
    near.draw(view, start)
    fitting(view, b, low, half, "washer")
    return view


def height(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """Below the surface against proud of it."""
    b = bush_of(values)
    right, wrong = height_view(b, prefix, b.below, 0.0), height_view(b, prefix, -b.below, -b.below)
    right.label((b.below / 2, (b.D + b.d) / 4), Measure("s_bu", say("s_bu")), side=-1)
    wrong.label((-b.below / 2, b.bore.D * 0.56), "gap")
    title = "A bush below the surface and a proud one"
    description = (
        f"Left, the bush ends {say('s_bu')} below the surface, and the fitting presses on the wood. Right, the "
        f"bush stands proud, the "
        "fitting rests on it alone, and a gap is left over the wood, so that the screw pulls the bush out."
    )
    caption = "The strip keeps it below until the epoxy is hard. A straightedge must touch wood and no metal."
    return right_and_wrong(
        right, wrong, ("bush below", ["bush proud, it is", "pulled out"]), title, description, caption
    )


def free(values: Values, say: Say, options: Options, prefix: str) -> Figure:
    """The waxed screw turned out of the bonded bush."""
    b = bush_of(values)
    shown = min(b.L, 2.2 * b.d)
    tip = -0.5 * b.d
    head = tip - shown
    view = bonded(prefix, b, -head + (parts.HEAD + 0.3) * b.d, b.below)
    b.plug(view, b.below)
    tools.bolt(view, head, tip, b.d, b.d_3)
    view.arrow((tip, b.bore.D * 0.8), (tip - 1.6 * b.d, b.bore.D * 0.8))
    view.label((head + shown / 2, -0.3 * b.d), "screw out,", "by hand", side=-1)
    view.label((b.below + b.L * 0.3, 0.0), "thread clean")
    view.label((b.below + b.L * 0.7, (b.D + b.d) / 4), "bush stays", "still")
    title = "The waxed screw turned out"
    description = (
        f"The screw stands clear in front of the wood. The bush, {say('s_bu')} below the surface, stays in its ring of "
        "hard epoxy. Its thread is clean down to the plug."
    )
    return single(
        view, title, description, "If the bush turns with the screw, the bond has failed. Take it out and begin again."
    )


FIGURES = {
    "bush-section": section,
    "bush-bore": boring,
    "bush-plugged": plugged,
    "bush-push": push,
    "bush-height": height,
    "bush-free": free,
}
