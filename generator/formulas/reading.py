"""The pull in a rod out of what a scale under a jack reads, and how far that may be out."""

from __future__ import annotations

from fractions import Fraction
from math import sqrt

from ..formula import formula, rule
from ..units import N, Shown, kg, m, m_per_s2
from .define import TENTH, define, force, measured

_WEIGHED = (Shown("kg", TENTH), Shown("lb", TENTH))
define("m_rd", "highest reading of the scale under the jack", "kg", *_WEIGHED)
define(
    "m_lv",
    "reading with the lever at rest on the jack, before any pull, none where it was set to nought",
    "kg",
    *_WEIGHED,
)
define("u_rd", "error of the reading: half a step of the scale, or how far its needle trembles", "kg", *_WEIGHED)
measured("u_ar", "error of a measured arm of the lever")
force("F_rd", "pull in the rod", "nearest")
define(
    "u_F",
    "error of the pull, plus or minus",
    "N",
    Shown("kN", Fraction(1, 100), "up"),
    Shown("lbf", Fraction(1), "up"),
)


@formula("F_rd", source="mechanics")
def pull_in_the_rod(m_rd: kg, m_lv: kg, g_n: m_per_s2, a_tr: m, b_tr: m) -> N:
    """By the law of the lever, without the lever's own weight."""
    return (m_rd - m_lv) * g_n * b_tr / a_tr


@formula("u_F", source="gum")
def error_of_the_pull(F_rd: N, u_rd: kg, g_n: m_per_s2, u_ar: m, a_tr: m, b_tr: m) -> N:
    """Errors that know nothing of each other add as squares: of the reading, and of the short and the long arm."""
    return sqrt((u_rd * g_n * b_tr / a_tr) ** 2 + F_rd**2 * ((u_ar / a_tr) ** 2 + (u_ar / b_tr) ** 2))


@rule(
    "the scale under the jack ends at {q_tr} and cannot read so much: correct the reading, or say how far your scale "
    "goes",
    source="mechanics",
    limits=("F_rd", "u_F"),
)
def scale_can_read_so_much(m_rd: kg, q_tr: kg) -> bool:
    """A reading past the end of the scale is a slip."""
    return m_rd <= q_tr * (1 + 1e-9)


@rule(
    "the reading is no more than the lever's own: nothing is pulled yet",
    source="mechanics",
    limits=("F_rd", "u_F"),
)
def something_is_pulled(m_rd: kg, m_lv: kg) -> bool:
    """A reading under the lever's own is a slip. None is given before the pull."""
    return (m_rd > m_lv) | (m_rd <= 0)


@rule(
    "the steel may go first: with its error your reading comes to {R_s}, where the rod itself may break, and what "
    "you read may be its strength",
    source="en-1993-1-8",
    refuses=False,
)
def steel_is_not_yet_at_its_end(F_rd: N, u_F: N, R_s: N) -> bool:
    """Such a joint says only that its bond holds more."""
    return F_rd + u_F < R_s
