"""What may be trusted of a joint like those that a shop has pulled itself."""

from __future__ import annotations

from math import exp

from ..formula import formula
from ..units import N, one
from .define import HUNDREDTH, force, number

force("R_tg", "geometric mean of the loads at which the bonds of the shop's own tests broke")
number("s_tg", "scatter of the breaking loads: standard deviation of the logarithms, 0.05 at least", HUNDREDTH)
number("k_tg", "number of times that the scatter is taken off, for so few joints", HUNDREDTH)
force("R_t", "strength of the bond that 95 in 100 joints reach, by the shop's own tests")
number("q_t", "bond of this joint as a part of the bond tested", HUNDREDTH)
number("gamma_F", "safety factor on a load that changes, over what 95 in 100 joints reach", HUNDREDTH, positive=True)
number("gamma_M", "safety factor on a joint in wood, over what 95 in 100 joints reach", HUNDREDTH, positive=True)
number("q_md", "strength of wet wood under a load that stays, as a part of that in a short dry test", HUNDREDTH)
force("F_wt", "working load by the shop's own tests, for a load that comes and goes")
force("F_lt", "working load by the shop's own tests, for a load that stays")
force("F_sct", "working load by the shop's own tests, along the screw in the grain set")


@formula("R_t", source="en-14358")
def strength_by_tests(R_tg: N, k_tg: one, s_tg: one) -> N:
    """Few joints may have been lucky ones; so many scatters are taken off that it is right three times in four."""
    return R_tg * exp(-k_tg * s_tg)


@formula("F_wt", source="own-judgement")
def working_load_by_tests(q_t: one, R_t: N, gamma_b: one, F_s: N) -> N:
    """With the model's factor on the bond, for a trial pulls for minutes and in the dry; the fastener has its own."""
    return min(q_t * R_t / gamma_b, F_s)


@formula("F_lt", source="own-judgement")
def lasting_load_by_tests(q_t: one, R_t: N, gamma_l: one, F_s: N) -> N:
    """A load that stays was not tried, so the model's factor stands."""
    return min(q_t * R_t / gamma_l, F_s)


@formula("F_sct", source="en-1995-1-1-factors")
def screw_working_load_by_tests(q_t: one, R_t: N, q_md: one, gamma_F: one, gamma_M: one, k_sg: one, q_e: one) -> N:
    """Partial factors over what 95 in 100 reach, for the model's own holds a mean's scatter; in end grain its part."""
    return q_t * R_t * q_md / (gamma_F * gamma_M) * max(k_sg, q_e)
