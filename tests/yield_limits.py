"""The American yield-limit equations (NDS 2018, table 12.3.1A; TR12 for a gap), to compare the project's side loads with.

Inches, pounds and pounds per square inch, as they are published. Angles in degrees.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, radians, sin, sqrt

WOOD_MODES = ("Im", "Is", "II", "IIIm", "IIIs", "IV")


def bearing(G: float, D: float, angle: float) -> float:
    """Dowel bearing strength, table 12.3.3, by oven-dry specific gravity; rounded to 50 psi, between by Hankinson."""
    if D < 0.25:
        return rounded(16600 * G**1.84)
    along, across = rounded(11200 * G), rounded(6100 * G**1.45 / sqrt(D))
    a = radians(angle)
    return along * across / (along * sin(a) ** 2 + across * cos(a) ** 2)


def rounded(value: float) -> float:
    """To the nearest 50 psi."""
    return 50 * float(int(value / 50 + 0.5))


@dataclass(frozen=True)
class Joint:
    """Two members on one fastener, a gap between them. `D` is the diameter that bears and bends."""

    D: float
    lm: float
    ls: float
    Fem: float
    Fes: float
    Fyb: float
    g: float = 0.0

    def plain(self) -> dict[str, float]:
        """The load by mode, pounds, with no gap: the equations as they are printed."""
        D, lm, ls, Fem, Fes, Fyb = self.D, self.lm, self.ls, self.Fem, self.Fes, self.Fyb
        Re, Rt = Fem / Fes, lm / ls
        k1 = (sqrt(Re + 2 * Re**2 * (1 + Rt + Rt**2) + Rt**2 * Re**3) - Re * (1 + Rt)) / (1 + Re)
        k2 = -1 + sqrt(2 * (1 + Re) + 2 * Fyb * (1 + 2 * Re) * D**2 / (3 * Fem * lm**2))
        k3 = -1 + sqrt(2 * (1 + Re) / Re + 2 * Fyb * (2 + Re) * D**2 / (3 * Fem * ls**2))
        return {
            "Im": D * lm * Fem,
            "Is": D * ls * Fes,
            "II": k1 * D * ls * Fes,
            "IIIm": k2 * D * lm * Fem / (1 + 2 * Re),
            "IIIs": k3 * D * ls * Fem / (2 + Re),
            "IV": D**2 * sqrt(2 * Fem * Fyb / (3 * (1 + Re))),
        }

    def gapped(self) -> dict[str, float]:
        """The load by mode, pounds, by the form with a gap."""
        qm, qs, lm, ls, g = self.Fem * self.D, self.Fes * self.D, self.lm, self.ls, self.g
        M = self.Fyb * self.D**3 / 6
        forms = {
            "II": (1 / (4 * qs) + 1 / (4 * qm), ls / 2 + g + lm / 2, -qs * ls**2 / 4 - qm * lm**2 / 4),
            "IIIm": (1 / (2 * qs) + 1 / (4 * qm), g + lm / 2, -M - qm * lm**2 / 4),
            "IIIs": (1 / (4 * qs) + 1 / (2 * qm), ls / 2 + g, -qs * ls**2 / 4 - M),
            "IV": (1 / (2 * qs) + 1 / (2 * qm), g, -2 * M),
        }
        bent = {mode: (-B + sqrt(B * B - 4 * A * C)) / (2 * A) for mode, (A, B, C) in forms.items()}
        return {"Im": qm * lm, "Is": qs * ls, **bent}


def reduction(mode: str, D: float, nominal: float, angle: float) -> float:
    """The reduction term Rd, table 12.3.1B."""
    K_theta = 1 + 0.25 * angle / 90
    if D < 0.25:
        K_D = 2.2 if D <= 0.17 else 10 * D + 0.5
        return K_D * (K_theta if nominal >= 0.25 else 1)
    return {"I": 4.0, "II": 3.6}.get(mode.rstrip("ms"), 3.2) * K_theta


def reference(joint: Joint, nominal: float, angle: float, *, double: bool = False) -> float:
    """The reference lateral value Z, pounds; `angle` is the largest to the grain in any member of wood."""
    loads = joint.gapped()
    if double:
        loads = {
            mode: load * (1 if mode == "Im" else 2)
            for mode, load in loads.items()
            if mode in ("Im", "Is", "IIIs", "IV")
        }
    return min(load / reduction(mode, joint.D, nominal, angle) for mode, load in loads.items())


def of_row(given: Mapping[str, float]) -> float:
    """A row of the published tables, pounds."""
    D, nominal = given.get("Dr", given["D"]), given["D"]
    across_main, across_side = given.get("main", 0), given.get("side", 0)
    Fem = bearing(given["G"], nominal, across_main)
    Fes = given.get("Fes") or bearing(given["G"], nominal, across_side)
    lm = given.get("tm") or given["p"]
    joint = Joint(D, lm, given["ts"], Fem, Fes, given["Fyb"])
    return reference(joint, nominal, max(across_main, across_side), double=bool(given.get("double")))
