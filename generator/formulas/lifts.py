"""Filling a bore in lifts, each freshly mixed: how many, how deep, and how much one takes.

A long plug sheds its heat through its wall, a flat layer through its two faces, a short plug through both. A lift is as
deep as it may be and still shed its heat; a bore that is narrow enough is one lift. What to weigh out is
then worked for one lift, which is filled in all bores.
"""

from __future__ import annotations

from math import ceil, pi, sqrt

from ..formula import formula, minute, rule
from ..units import m, m3, one, s
from .define import count, drill, hours, ruled, volume

drill("D_l", "bore that is filled with epoxy")
count("n_l", "lifts to fill the bore in")
ruled("h_l", "depth of each lift")
volume("V_l", "thickened epoxy for one lift in one bore")
count("n_lm", "mixes of the job in all, with all its lifts")
hours("t_lw", "time between the first lift and the last, at least")


@formula("n_l", source="finite-cylinder")
def lifts_to_fill(h_w: m, h_p: m, D_l: m, d_p: m) -> one:
    """Wall and faces share the heat: the narrower the bore, the deeper a lift may be.

    The sum of both is taken as 1.05, not 1, because it promises up to 5 % more than the equation of self-heating does.
    """
    return max(1, ceil(h_w / h_p * sqrt(max(0, 1.05 - (d_p / D_l) ** 2))))


@formula("h_l", source="solid-geometry")
def depth_of_a_lift(h_w: m, n_l: one) -> m:
    """All alike."""
    return h_w / n_l


@formula("V_l", source="solid-geometry")
def lift_in_one_bore(D_l: m, h_l: m) -> m3:
    """A round bore; what is drilled out again is not taken off."""
    return pi / 4 * D_l**2 * h_l


@formula("V_1", source="solid-geometry")
def lift_in_one_fitting(n_h: one, V_l: m3) -> m3:
    """Its bores are filled together, a lift at a time."""
    return n_h * V_l


@formula("t_lw", source="common-practice")
def waits_between_lifts(n_l: one, t_c: s) -> s:
    """After each lift but the last, each in whole hours, as it is told."""
    return (n_l - 1) * ceil(t_c / (60 * minute)) * 60 * minute


@formula("n_lm", source="solid-geometry")
def mixes_of_all_lifts(n_l: one, n_m: one) -> one:
    """Each lift takes as many as the next."""
    return n_l * n_m


@rule(
    "the bore is wider than what sheds its own heat: fill it in lifts, each of a mix of its own, when the one before "
    "has cooled and is still tacky",
    source="finite-cylinder",
    refuses=False,
)
def one_lift_fills_the_bore(n_l: one) -> bool:
    """A plug that runs hot cracks and foams."""
    return n_l <= 1


@rule(
    "{n_lm} mixes, lift after lift, are more than anybody makes well: take a slower hardener or work cooler, or bond a "
    "plug of sound wood into the bore and drill that",
    source="own-judgement",
    refuses=False,
)
def all_lifts_can_be_mixed(n_lm: one) -> bool:
    """A dozen takes a long day."""
    return n_lm <= 12
