"""A threaded bush of metal bonded into wood: its bore, its plug, pushing it in, its height, the screw turned free."""

from __future__ import annotations

from dataclasses import dataclass, replace

from . import parts, tools
from .bored import Bore, being_bored, block, coat, empty, filled
from .picture import Pair, drawing
from .scene import Scene
from .words import Options, Values

# Outlines by the thread's diameter: plug, plate, sealant, the waxed screw's head clear of the bush.
PLUG, BASE, SEALANT = 0.35, 0.6, 0.15
# The strip that the bush hangs from, how far it lies on the wood, and the screw's head clear of its nut.
STRIP, REACH, CLEAR_HEAD = 0.5, 0.3, 0.4
# Grooves round a bush, how deep by its wall, and wood shown round the bore by its diameter.
GROOVES, GROOVE, ROUND_BORE = 3, 0.3, 0.45
# How far in a bush is shown while it is pushed, by its length.
HALF_WAY = 0.6
# Half the width of a spur's pit by its depth.
PIT = 0.16
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
    spur: float

    def scene(self, ahead: float) -> Scene:
        """The wood round the bore, and `ahead` in front of its face."""
        half = self.bore.D * (0.5 + ROUND_BORE)
        deep = self.bore.L + max(self.bore.cone + self.bore.D * ROUND_BORE, self.spur + self.bore.D * 0.2)
        view = Scene(-ahead, deep, -half, half)
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
        view.areas("bush", half, "metal", parts.CUT)
        view.lines([(start, self.d_3 / 2), (start + self.L, self.d_3 / 2)], "thick")

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
        inner, end = (self.d / 2, self.bore.D * (0.5 + REACH))
        view.boxes("strip", (out, face), (min(inner, end), max(inner, end)), "washer", parts.CUT)
        view.lines([(face, self.D / 2), (face, end)], "release")
        rim = (inner, self.D / 2)
        view.boxes("spacer ring", (face, start), (rim[0], rim[1]), "compound", parts.THIN)
        self.plug(view, start)
        self.screw(view, start, head)
        tools.hexagon(view, "nut", nut, out, self.d)
        return head - parts.HEAD * self.d


def bush_of(values: Values) -> Bush:
    """From the working's symbols."""
    bore = Bore(values["B_bu"], values["T_bu"], values["h_bu"])
    return Bush(values["d"], values["d_3"], values["D_bu"], values["L_bu"], bore, values["s_bu"], values["e_o"])


def bonded(b: Bush, ahead: float, start: float, level: float = 0.0) -> Scene:
    """Wood, wetted wall, epoxy up to `level`, and the bush from `start`."""
    view = b.scene(ahead)
    filled(view, b.bore, level)
    if b.spur > 0:  # the pit that a flat bit's point leaves is wetted and filled too
        near, pit = b.bore.L, [(b.bore.L, -b.spur * PIT), (b.bore.L + b.spur, 0.0), (b.bore.L, b.spur * PIT)]
        view.area("pit", pit, "epoxy", 0)
        half = b.bore.D / 2
        view.line([(0.0, -half), (near, -half), *pit, (near, half), (0.0, half)], "film")
    else:
        coat(view, b.bore)
    b.draw(view, start)
    return view


def fitting(view: Scene, b: Bush, low: float, half: float, material: str = "metal") -> float:
    """A plate with its screw's hole, its underside at `low`. Returns where its outside lies."""
    out = low - BASE * b.d
    near, far = (b.d / 2, half)
    view.boxes("fitting", (out, low), (near, far), material, parts.CUT)
    return out


@drawing("bush-section", "fitting sealant screw bush ring bore pit")
def section(values: Values, options: Options) -> Scene:
    """The finished joint: a fitting screwed to a bush that stands below the surface."""
    b = bush_of(values)
    gap = SEALANT * b.d
    half = b.bore.D * (0.5 + ROUND_BORE) * 0.9
    head = (SEALANT + BASE) * b.d
    view = bonded(b, head + (parts.HEAD + 0.3) * b.d, b.below)
    b.plug(view, b.below)
    view.box("sealant", (-gap, 0.0), (-half, half), "compound", parts.THIN)
    fitting(view, b, -gap, half, "washer")
    view.box("room over the bush", (0.0, b.below), (-b.D / 2, b.D / 2), "compound", parts.THIN)
    tools.bolt(view, -head, b.below + (b.d + b.L - PLUG * b.d) / 2, b.d, b.d_3)
    view.line([(view.left, 0.0), (view.right, 0.0)], "axis")
    view.label("fitting", (-gap - BASE * b.d / 2, -half * 0.8))
    view.label("sealant", (-gap / 2, half * 0.8))
    view.label("screw", (-head - parts.HEAD * b.d / 2, b.d * 0.3))
    view.label("bush", (b.below + b.L * 0.9, -(b.D + b.d) / 4))
    view.label("ring", (b.bore.L * 0.7, -(b.bore.D + b.D) / 4))
    view.label("bore", (b.bore.L, b.bore.D * 0.45))
    if b.spur > 0:
        view.label("pit", (b.bore.L + b.spur * 0.3, 0.0))
    return view


@drawing("bush-bore", "flag depth")
def boring(values: Values, options: Options) -> Scene:
    """The bore, straight and flagged."""
    b = bush_of(values)
    view = being_bored(b.bore, b.bore.D * ROUND_BORE, values, values["M_bu"])
    view.label("depth", (b.bore.L, b.bore.D / 2))
    return view


@drawing("bush-plugged", "nut strip ring outside plug")
def plugged(values: Values, options: Options) -> Scene:
    """The bush made ready: its far end plugged, a waxed screw in its thread."""
    b = bush_of(values)
    half = b.bore.D * (0.5 + REACH) * 1.05
    ahead = b.below + (STRIP + parts.NUT + CLEAR_HEAD + parts.HEAD + 0.3) * b.d
    view = Scene(-ahead, b.L + 0.3 * b.d, -half, half, tallest=LOW)
    b.draw(view, 0.0)
    b.hung(view, 0.0)
    strip = -b.below - STRIP * b.d
    view.label("nut", (strip - parts.NUT * b.d / 2, -b.d * 0.7))
    view.label("strip", (strip + STRIP * b.d / 2, -half * 0.8))
    view.label("ring", (-b.below / 2, (b.D + b.d) / 4))
    view.label("outside", (b.L * 0.5, -b.D / 2))
    view.label("plug", (b.L - PLUG * b.d / 2, 0.1 * b.d))
    return view


@drawing("bush-push", "bush rising amount")
def push(values: Values, options: Options) -> Scene:
    """Pushing the bush down with a turn, the epoxy rising round it."""
    b = bush_of(values)
    end = HALF_WAY * b.L
    wide, narrow = b.bore.D**2, b.D**2
    level = max(0.0, (wide * values["p_bu"] - narrow * end) / (wide - narrow))
    start = end - b.L
    outer = start - b.below - (STRIP + parts.NUT + CLEAR_HEAD + parts.HEAD) * b.d
    view = bonded(b, -outer + 1.9 * b.d, start, level)
    b.hung(view, start)
    view.turn((outer - 0.9 * b.d, 0.0), 0.7 * b.d)
    view.arrow((outer, -b.bore.D * 0.85), (outer + 1.6 * b.d, -b.bore.D * 0.85))
    view.label("bush", (start + b.L * 0.2, (b.D + b.d) / 4))
    view.label("rising", (level, -(b.bore.D + b.D) / 4))
    view.label("amount", (b.bore.L * 0.9, b.bore.D * 0.3))
    return view


def height_view(b: Bush, start: float, low: float) -> Scene:
    """The mouth seen near, the bush at a height, and a plate that its screw will draw down."""
    deep, half = b.bore.D * MOUTH, b.bore.D * 0.62
    near = replace(b, L=deep - start, bore=Bore(b.bore.D, deep, 0.0))
    view = Scene(low - (BASE + 0.2) * b.d, deep, -half, half)
    block(view)
    wide = (-near.bore.D / 2, near.bore.D / 2)
    view.box("hole", (0.0, deep), wide, "paper")
    view.box("epoxy", (max(start, 0.0), deep), wide, "epoxy")
    view.lines([(0.0, near.bore.D / 2), (deep, near.bore.D / 2)], "film")
    near.draw(view, start)
    fitting(view, b, low, half, "washer")
    return view


@drawing("bush-height", "height gap")
def height(values: Values, options: Options) -> Pair:
    """Below the surface against proud of it."""
    b = bush_of(values)
    right, wrong = height_view(b, b.below, 0.0), height_view(b, -b.below, -b.below)
    right.label("height", (b.below / 2, (b.D + b.d) / 4))
    wrong.label("gap", (-b.below / 2, b.bore.D * 0.56))
    return Pair(right, wrong)


@drawing("bush-free", "screw thread bush")
def free(values: Values, options: Options) -> Scene:
    """The waxed screw turned out of the bonded bush."""
    b = bush_of(values)
    shown = min(b.L, 2.2 * b.d)
    tip = -0.5 * b.d
    head = tip - shown
    view = bonded(b, -head + (parts.HEAD + 0.3) * b.d, b.below)
    b.plug(view, b.below)
    tools.bolt(view, head, tip, b.d, b.d_3)
    view.arrow((tip, b.bore.D * 0.8), (tip - 1.6 * b.d, b.bore.D * 0.8))
    view.label("screw", (head + shown / 2, -0.3 * b.d))
    view.label("thread", (b.below + b.L * 0.3, 0.0))
    view.label("bush", (b.below + b.L * 0.7, (b.D + b.d) / 4))
    return view
