"""Every symbol once: its meaning, its SI unit, and how a metric and an inch shop show it.

Steps are what the shop can read: a rule to 1 mm or 1/16 in, a syringe to half a millilitre, a scale
to a tenth of a gram. Direction is towards safety: more epoxy, never less. Syringes and scales read
millilitres and grams in an inch shop too.
"""

from __future__ import annotations

from fractions import Fraction

from ..formula import FORMULARY, Symbol
from ..units import Direction, Shown

TENTH, HUNDREDTH, THOUSANDTH, TEN_THOUSANDTH = (Fraction(1, 10**places) for places in (1, 2, 3, 4))


# A pad's or a fillet's thickness.
PAD_MM, PAD_IN = Shown("mm", TENTH, trim=True), Shown("in", Fraction(1, 32), fraction=True)


def _define(
    name: str, meaning: str, unit: str, metric: Shown, inch: Shown | None = None, *, positive: bool = False
) -> None:
    FORMULARY.define(Symbol(name, meaning, unit, metric, inch or metric, positive))


def _sized(name: str, meaning: str, metric: Shown, inch: Shown, *, positive: bool = False) -> None:
    """A length with its own way to be shown."""
    _define(name, meaning, "m", metric, inch, positive=positive)


def _drill(name: str, meaning: str) -> None:
    """A size that is stamped on a drill."""
    _define(
        name,
        meaning,
        "m",
        Shown("mm", TENTH, trim=True),
        Shown("in", Fraction(1, 64), fraction=True),
        positive=True,
    )


def _ruled(name: str, meaning: str, direction: Direction = "nearest") -> None:
    """A length set or measured with a rule."""
    _define(
        name,
        meaning,
        "m",
        Shown("mm", Fraction(1), direction),
        Shown("in", Fraction(1, 16), direction, fraction=True),
    )


def _measured(name: str, meaning: str) -> None:
    """A length measured with callipers, or known by calculation."""
    _define(name, meaning, "m", Shown("mm", HUNDREDTH), Shown("in", THOUSANDTH))


def _area(name: str, meaning: str) -> None:
    _define(name, meaning, "m**2", Shown("mm**2", TENTH), Shown("in**2", TEN_THOUSANDTH))


def _surface(name: str, meaning: str) -> None:
    _define(name, meaning, "m**2", Shown("mm**2", Fraction(1), "up"), Shown("in**2", HUNDREDTH, "up"))


def _volume(name: str, meaning: str, step: Fraction = TENTH) -> None:
    _define(name, meaning, "m**3", Shown("mL", step, "up"))


def _mass(name: str, meaning: str, direction: Direction = "up") -> None:
    _define(name, meaning, "kg", Shown("g", TENTH, direction))


def _number(name: str, meaning: str, step: Fraction = THOUSANDTH, *, positive: bool = False) -> None:
    _define(name, meaning, "dimensionless", Shown("dimensionless", step, trim=True), positive=positive)


def _share(name: str, meaning: str) -> None:
    _define(name, meaning, "dimensionless", Shown("percent", TENTH, trim=True))


def _count(name: str, meaning: str) -> None:
    _define(name, meaning, "dimensionless", Shown("dimensionless", Fraction(1), "up"))


def _density(name: str, meaning: str) -> None:
    _define(name, meaning, "kg/m**3", Shown("g/mL", HUNDREDTH), positive=True)


def _coverage(name: str, meaning: str) -> None:
    _define(name, meaning, "kg/m**2", Shown("g/m**2", Fraction(1)))


def _angle(name: str, meaning: str) -> None:
    _define(name, meaning, "rad", Shown("deg", Fraction(1)))


# Thread
_sized(
    "d",
    "nominal diameter of the thread",
    Shown("mm", TENTH, trim=True),
    Shown("in", TEN_THOUSANDTH),
    positive=True,
)
_sized("P", "pitch of the thread", Shown("mm", HUNDREDTH, trim=True), Shown("in", TEN_THOUSANDTH), positive=True)
_measured("H", "height of the sharp thread triangle")
_number("k_3", "root depth of the external thread as a part of H")
_number("k_s", "depth to the stress diameter as a part of H")
_measured("d_2", "pitch diameter")
_measured("D_1", "basic minor diameter")
_measured("d_3", "root diameter of the external thread")
_area("A_s", "tensile stress area")
_measured("d_v", "volume-equivalent diameter: the plain rod that takes up as much room as the thread")

# Hole
_ruled("s_o", "step from guide hole to oversized hole")
_drill("s_t", "furthest a stock drill may be from the step wanted")
_drill("s_d", "depth step of the shop")
_drill("D_g", "guide hole")
_drill("D_t", "oversized hole wanted")
_drill("D_o", "oversized hole")
_sized("t_b", "bond line: epoxy between thread and wood", Shown("mm", TENTH), Shown("in", THOUSANDTH))
_ruled("T", "hole depth")
_number("f_o", "oversized depth as a part of the hole depth", HUNDREDTH)
_sized("L_t", "oversized depth wanted", Shown("mm", TENTH), Shown("in", HUNDREDTH))
_ruled("L_o", "oversized depth")
_ruled("L_g", "guide-hole depth beyond the oversized hole")
_angle("alpha_o", "point angle of the large drill")
_angle("alpha_g", "point angle of the guide drill")
_ruled("e_o", "spur of the large drill")
_ruled("e_g", "spur of the guide drill")
_sized("h_o", "height of the large drill's cone", Shown("mm", TENTH), Shown("in", HUNDREDTH))
_sized("h_g", "height of the guide drill's cone", Shown("mm", TENTH), Shown("in", HUNDREDTH))
_ruled("M_o", "mark on the large drill, from its tip")
_ruled("M_g", "mark on the guide drill, from its tip")
_ruled("c_e", "gap left under the end of the fastener")

# Epoxy that fills
_volume("V_r", "ring round the thread in the oversized hole", HUNDREDTH)
_volume("V_f", "cone at the floor of the oversized hole", HUNDREDTH)
_volume("V_e", "pocket under the end of the fastener", HUNDREDTH)
_volume("V_g", "voids of the guide hole", HUNDREDTH)
_ruled("a_b", "length of the fitting's base")
_ruled("b_b", "width of the fitting's base")
_surface("A_b", "area of the fitting's base")
_ruled("p_b", "perimeter of the fitting's base")
_sized("t_m", "mean thickness of the cast bed", PAD_MM, PAD_IN)
_sized("r_f", "leg of the fillet round the base", PAD_MM, PAD_IN)
_volume("V_b", "cast bed under the base, with its fillet", HUNDREDTH)
_count("n_h", "holes in one fitting")
_volume("V_1", "thickened epoxy in one fitting")
_count("N", "number of fittings")
_share("w_a", "allowance for waste")
_volume("V_s", "syringe size", Fraction(1))
_share("u_s", "part of a syringe that can be pushed out")
_count("n_s", "syringes to load")
_volume("V", "thickened epoxy for the job")

# Epoxy that wets out
_surface("A_e", "end wall of a blind hole")
_surface("A_h", "wood in one hole to wet out")
_coverage("w_h", "wet-out coat in a bored hole")
_coverage("w_b", "wet-out coat on the surface under the base")
_mass("m_w", "wet-out coat for one fitting")

# The mix
_number("n_v", "parts of resin to one of hardener by volume", HUNDREDTH, positive=True)
_number("n_w", "parts of resin to one of hardener by weight", HUNDREDTH, positive=True)
_density("rho_r", "density of the resin")
_density("rho_h", "density of the hardener")
_density("rho_m", "density of the mixed resin and hardener")
_density("rho_b", "loose density of the filler")
_density("rho_t", "true density of the filler")
_number("q_f", "loose filler to one of mixed resin by volume", HUNDREDTH)
_share("x_f", "filler as a part of the thickened mass")
_mass("m_t", "thickened epoxy for the job, by weight")
_mass("m_n", "resin and hardener needed")
_mass("m_min", "smallest batch worth weighing")
_mass("m_b", "resin and hardener to mix")
_mass("m_r", "resin to weigh out", "nearest")
_mass("m_h", "hardener to weigh out", "nearest")
_mass("m_f", "filler to weigh out")
_volume("v_r", "resin to measure out")
_volume("v_h", "hardener to measure out")
_volume("v_f", "filler to measure out, loose")
