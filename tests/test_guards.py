"""The edges of the rules: what just holds, and what just does not."""

from __future__ import annotations

import math

import pytest

from generator import formulas  # noqa: F401  defines the rules
from generator.formula import FORMULARY

RULES = {rule.function.__name__: rule for rule in FORMULARY.rules}
JUST = 1e-6
EDGES = [
    # rule, the values on the edge, the symbol that is moved, whether it may stand on the edge, above it, below it
    ("filler_is_a_part", {"x_f": 1.0}, "x_f", (False, False, True)),
    ("guide_point_angle", {"alpha_g": 0.0}, "alpha_g", (False, True, False)),
    ("guide_point_angle", {"alpha_g": math.pi}, "alpha_g", (True, False, True)),
    ("large_point_angle", {"alpha_o": 0.0}, "alpha_o", (False, True, False)),
    ("large_point_angle", {"alpha_o": math.pi}, "alpha_o", (True, False, True)),
    ("hole_has_depth", {"T": 0.0}, "T", (False, True, False)),
    ("pilot_is_small_enough", {"G": 0.5, "G_sc": 0.5, "d_sc": 0.008, "n_y": 4.0}, "G", (True, True, False)),
    ("pilot_is_small_enough", {"G": 0.5, "G_sc": 0.5, "d_sc": 0.008, "n_y": 4.0}, "G_sc", (True, False, True)),
    ("pilot_is_large_enough", {"G": 0.7, "K_sc": 0.7, "d_sc": 0.008, "n_y": 4.0}, "G", (True, False, True)),
    ("pilot_is_large_enough", {"G": 0.7, "K_sc": 0.7, "d_sc": 0.008, "n_y": 4.0}, "K_sc", (True, True, False)),
    ("pilot_is_small_enough", {"G": 0.1, "G_sc": 0.5, "d_sc": 5.999 * 0.001, "n_y": 4.0}, "d_sc", (False, False, True)),
    ("pilot_is_large_enough", {"G": 0.9, "K_sc": 0.7, "d_sc": 5.999 * 0.001, "n_y": 4.0}, "d_sc", (False, False, True)),
    ("screw_is_thick_enough", {"d_sc": 0.005, "a_sc": 0.005}, "d_sc", (True, True, False)),
    ("thread_is_long_enough", {"L_sc": 0.032, "d_sc": 0.008}, "L_sc", (True, True, False)),
    ("thread_is_long_enough", {"L_sc": 0.032, "d_sc": 0.008}, "d_sc", (True, False, True)),
    ("wood_round_the_screw_is_wide_enough", {"chi_y": 0.4999}, "chi_y", (True, True, False)),
    ("pilot_leaves_wood_to_cut", {"D_sc": 0.006, "d_sc": 0.006}, "D_sc", (False, False, True)),
    (
        "base_takes_two_fasteners",
        {"n_h": 2.0, "s_y": 0.08, "d": 0.016, "a_b": 0.096, "b_b": 0.06},
        "a_b",
        (True, True, False),
    ),
    (
        "base_takes_two_fasteners",
        {"n_h": 1.0, "s_y": 0.08, "d": 0.016, "a_b": 0.096, "b_b": 0.06},
        "a_b",
        (True, True, True),
    ),
    ("washer_lies_on_the_base", {"D_p": 0.05, "a_b": 0.06, "b_b": 0.05, "L_st": 0.1}, "b_b", (True, True, False)),
    ("filler_suits_a_screw", {"k_u": 0.5, "C_sc": 1e-6}, "k_u", (True, True, False)),
    ("wood_lets_epoxy_seal", {"o_w": 0.5, "C_sc": 1e-6}, "o_w", (False, False, True)),
]


@pytest.mark.parametrize(("name", "values", "moved", "held"), EDGES, ids=lambda value: value if isinstance(value, str) else None)  # fmt: skip
def test_a_rule_turns_at_its_edge(
    name: str, values: dict[str, float], moved: str, held: tuple[bool, bool, bool]
) -> None:
    rule = RULES[name]
    step = JUST * (values[moved] or 1.0)
    edge, above, below = ({**values, moved: values[moved] + change} for change in (0.0, step, -step))
    assert tuple(bool(rule.call(one)) for one in (edge, above, below)) == held


@pytest.mark.parametrize("theta", [math.radians(angle) for angle in (0, 17, 30, 45, 62, 90)])
@pytest.mark.parametrize(
    ("name", "along"),
    [
        ("angled_pull", ("F_w",)),
        ("angled_pull_on_a_screw", ("F_sc",)),
        ("angled_pull_on_a_washer", ("F_p", "F_s")),
        ("angled_pull_on_a_plate", ("F_rs", "F_s")),
    ],
)
def test_an_angled_pull_goes_by_both_its_parts(name: str, along: tuple[str, ...], theta: float) -> None:
    """A pull at an angle has a part along and a part across; at the load given each is used up in its own measure, and
    both together to the full, on a straight line."""
    (formula,) = (one for one in FORMULARY.formulas if one.function.__name__ == name)
    values = {symbol: 900.0 + 300 * place for place, symbol in enumerate(along)} | {"F_yn": 700.0, "theta_p": theta}
    load = formula.call(values)
    assert load * math.cos(theta) / 900.0 + load * math.sin(theta) / 700.0 == pytest.approx(1.0)
