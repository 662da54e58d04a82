"""The blind hole: what of the fastener goes into it. Its other lengths are those of any stepped hole."""

from __future__ import annotations

from ..formula import formula
from ..units import m


@formula("L_k", source="solid-geometry")
def metal_in_a_blind_hole(T: m, c_e: m) -> m:
    """It stops short of the bottom, so that it is the epoxy that holds it up and not its own point."""
    return T - c_e
