"""Rounding goes to the safe side, by one law over all symbols: what a symbol means says which side that is."""

from __future__ import annotations

import re

import pytest

from generator import formulas  # noqa: F401  defines the symbols
from generator.formula import FORMULARY, Symbol

# The first of these that a meaning holds decides: what is enough is rounded up, what is allowed or relied on down.
LAW = (
    (
        r"^least\b|shortest|\bearliest|needed|needs|at least|asks for|wanted|must|that will do|to buy|(?<!longest screw )to use|to cut",
        "up",
    ),
    (r"strength|working load(?!.* at anchor)|mean load|counted|95 in 100|bears$", "down"),
    (
        r"\bmost\b|longest|thickest|deepest|widest gap|working time|open time|look again|lays|serves?\b|share a mix",
        "down",
    ),
    (r"wall of epoxy|ring of epoxy|nearest e|to the edge that|down to the epoxy", "down"),
    (r"to cut away|expansion|sliding|opening|to heat|height of|gap, packing|softens the epoxy|wall of the hole", "up"),
)
# Where the meaning does not say it, the kind does: more to mix, to wet out, to heat, to wait and to carry.
MORE = ("N", "N*m", "m**3", "m**2", "kg", "s", "J", "J/kg", "W", "W/m**3", "delta_degC", "dimensionless")
# Those that the words above put on the other side or on none, each with its reason.
OWN_WAY = {
    "M_g": ("up", "a guide hole that is a little deeper comes through"),
    "M_sk": ("down", "its point may only touch the inner skin"),
    "D_wo": ("up", "what is taken for worn, so that the new bore reaches sound wood"),
    "V_px": ("down", "what goes into a syringe that must not overflow"),
    "V_mx": ("down", "what the syringes give is relied on"),
    "E_sc": ("down", "room: more than it has nowhere to go"),
    "I_sc": ("down", "what is more than the room comes out on the wood"),
    "t_y2": ("down", "the latest moment to cut, before the mix is too hard"),
    "t_d": ("down", "the latest moment without sanding"),
    "T_s": ("up", "the surface must be warmer than this"),
    "T_end": ("down", "heat that is relied on to soften the epoxy"),
    "m_1": ("down", "a boat that is heavier has more load than the one named"),
    "v_hull": ("down", "the speed from which the drag climbs, warned of sooner"),
    "v_c": ("down", "slower cure, longer wait"),
    "c_tr": ("down", "thinner bars are reckoned higher"),
    "w_tr": ("down", "a wide block would flatter the joint"),
    "l_tr": ("up", "wood to break out stays long enough"),
    "R_c": ("down", "a rounder crown has the wider gap"),
    "t_e": ("up", "bed to be cast"),
    "l_w": ("down", "below it the bolt stays dry, so that a leak shows"),
    "b_k": ("down", "a bead that is relied on"),
    "L_k": ("down", "what is bonded is relied on"),
    "L_h": ("down", "how far the heat reaches is relied on"),
    "L_x": ("down", "how deep the epoxy softens is relied on"),
    "t_pt": ("down", "a limit of the plan, never shown as more than it is"),
    "R_tg": ("down", "what the joints held"),
    "n_sx": ("up", "a whole number as it is"),
    "m_ul": ("up", "a reading that must not surprise"),
    "t_dif": ("up", "waiting longer is safe"),
    "T_sc": ("up", "a pilot that is too short splits the wood"),
    "L_ct": ("up", "thread to be cast"),
    "l_ct": ("down", "a screw that stands too deep bottoms when it is used"),
}


def side(symbol: Symbol) -> str:
    """Which way the law has it rounded, nothing where it says none."""
    if symbol.name in OWN_WAY:
        return OWN_WAY[symbol.name][0]
    for words, way in LAW:
        if re.search(words, symbol.meaning):
            return way
    return "up" if symbol.unit in MORE else ""


def ways(symbol: Symbol) -> set[str]:
    return {symbol.metric.direction, symbol.inch.direction} - {"nearest"}


@pytest.mark.parametrize("name", [name for name, symbol in FORMULARY.symbols.items() if ways(symbol)])
def test_what_is_rounded_one_way_is_rounded_to_the_safe_side(name: str) -> None:
    symbol = FORMULARY.symbols[name]
    assert ways(symbol) == {side(symbol)}, symbol.meaning


def test_no_exception_is_left_that_the_law_makes_itself() -> None:
    for name in OWN_WAY:
        symbol = FORMULARY.symbols[name]
        said = next(
            (way for words, way in LAW if re.search(words, symbol.meaning)), "up" if symbol.unit in MORE else ""
        )
        assert said != OWN_WAY[name][0], name


# Kinds that hold, cost or last: to the nearest, one in two of them would stand on the wrong side.
ONE_WAY = ("N", "N*m", "J", "J/kg", "W", "W/m**3")
NEAREST = {"F_rd": "a reading off the scale, as it was read", "P_k": "a tool's own power, as it is stamped"}


def test_loads_and_heat_are_never_rounded_to_the_nearest() -> None:
    for name, symbol in FORMULARY.symbols.items():
        if symbol.unit in ONE_WAY and name not in NEAREST:
            assert "nearest" not in (symbol.metric.direction, symbol.inch.direction), name
