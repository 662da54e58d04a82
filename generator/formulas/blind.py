"""The blind hole: what of the fastener goes into it. Its other lengths are those of any stepped hole."""

from __future__ import annotations

from ..formula import formula, rule
from ..units import m
from .define import ruled

ruled("Z_k", "least thickness of the wood for a blind hole", "up")


@formula("L_k", source="solid-geometry")
def metal_in_a_blind_hole(T: m, c_e: m) -> m:
    """It stops short of the bottom, so that it is the epoxy that holds it up and not its own point."""
    return T - c_e


@formula("Z_k", source="common-practice")
def least_thickness_for_a_blind_hole(M_o: m, M_g: m, D_o: m) -> m:
    """As much wood under the longer point as the hole is wide."""
    return max(M_o, M_g) + D_o


@rule("the washer is wider than the base: take a narrower one", source="solid-geometry", refuses=False)
def washer_lies_on_the_base(D_p: m, a_b: m, b_b: m, L_st: m) -> bool:
    """Asked only of a stud, whose washer lies on the fitting."""
    return (D_p <= min(a_b, b_b) * (1 + 1e-9)) | (L_st < 0)
