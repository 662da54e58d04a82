"""Filling syringes from one mix: what is kept back, how many syringes it fills, and what comes out of them."""

from __future__ import annotations

from math import ceil

from ..formula import formula, mm, rule
from ..units import Shown, kg, kg_per_m3, m3, one
from .define import TENTH, count, define, mass, share, volume

share("u_mx", "part of the mix that is kept unthickened, for wetting out and for later")
mass("m_mx", "unthickened mix kept back")
volume("v_mx", "filler to thicken the mix with, loose in the cup")
count("n_mx", "syringes that the mix fills")
define("V_px", "thickened epoxy to load into each syringe", "m**3", Shown("mL", TENTH, "down"))
share("u_p", "part of a syringe left free for the piston")
volume("V_nx", "thickened epoxy that stays in one syringe, nose and tube")
define("V_mx", "thickened epoxy that the syringes give", "m**3", Shown("mL", TENTH, "down"))
define("V_wx", "thickened epoxy for the work, the sample taken off", "m**3", Shown("mL", TENTH, "down"))


@formula("m_mx", source="mass-balance")
def kept_unthickened(m_b: kg, u_mx: one, u_q: one) -> kg:
    """Taken off before any filler goes in. Of a runny mix, which gets none, all is plain."""
    return m_b * u_mx * ceil(u_q)


@formula("m_i", source="mass-balance")
def left_to_thicken(m_b: kg, m_mx: kg) -> kg:
    """What stays when the wet-out is taken off."""
    return m_b - m_mx


@formula("v_mx", source="mass-balance")
def loose_filler(m_y: kg, rho_b: kg_per_m3) -> m3:
    """By the level cup, not pressed down."""
    return m_y / rho_b


@formula("V_nx", source="mass-balance")
def stays_in_nose_and_tube(V_s: m3, u_s: one, u_p: one) -> m3:
    """What is kept back and is not the room left for the piston."""
    return V_s * max(1 - u_s - u_p, 0)


@formula("n_mx", source="common-practice")
def syringes_of_a_mix(V_y: m3, V_s: m3, u_p: one, V_nx: m3) -> one:
    """One more only where the rest is more than that syringe would keep in its nose and tube."""
    return max(1, ceil((V_y - V_nx) / (V_s * (1 - u_p))))


@formula("V_px", source="mass-balance")
def loaded_into_each(V_y: m3, V_s: m3, u_p: one, n_mx: one) -> m3:
    """All alike, with room for the piston; what is over stays in the tray."""
    return min(V_y / n_mx, V_s * (1 - u_p))


@formula("V_mx", source="mass-balance")
def pushed_out(V_px: m3, V_nx: m3, n_mx: one) -> m3:
    """Every syringe keeps its part in nose and tube, a full one and one that is half full."""
    return n_mx * (V_px - V_nx)


@formula("V_wx", source="mass-balance")
def left_for_the_work(V_mx: m3, m_sa: kg, rho_p: kg_per_m3) -> m3:
    """Nothing, where the sample takes all of it."""
    return max(V_mx, m_sa / rho_p) - m_sa / rho_p


@rule("keep back less than all of the mix: take a part under 100 %", source="mass-balance")
def something_is_thickened(u_mx: one) -> bool:
    """The rest is thickened."""
    return u_mx < 1


@rule(
    "{n_mx} syringes of {V_s} are many to load from one mix before it goes off: take larger ones, or mix less at once",
    source="own-judgement",
    refuses=False,
)
def a_batch_goes_into_few_syringes(n_mx: one, V_s: m3, k_fa: one) -> bool:
    """Each costs time, and nobody needs one that is larger than 60 mL. Fairing filler goes into none."""
    return (n_mx <= 4) | (V_s >= 60000 * mm**3) | (k_fa > 0.5)


@rule(
    "the sample takes more out of the syringe than is left for the work: mix more, or press less out for it",
    source="own-judgement",
    refuses=False,
)
def more_is_for_the_work_than_for_the_sample(V_wx: m3, V_mx: m3, k_fa: one) -> bool:
    """A sample as large as that of a joint is much of a small mix."""
    return (V_wx * 2 * (1 + 1e-9) >= V_mx) | (k_fa > 0.5)


@rule(
    "this mix is less than stays in one syringe, so nothing would come out: mix more, or take a smaller syringe",
    source="mass-balance",
    limits=("V_mx", "n_mx", "m_rc", "m_hc"),
)
def something_comes_out(V_mx: m3, k_fa: one) -> bool:
    """What stays in nose and nozzle never comes out. Fairing filler goes into no syringe."""
    return (V_mx > 0) | (k_fa > 0.5)
