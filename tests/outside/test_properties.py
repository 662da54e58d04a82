"""What must hold for any job, whatever its numbers: conservation of mass and volume, and more never needs less.

No published value stands behind these; they are the laws that hold between the numbers of one card. Inputs are texts,
as a reader writes them, drawn over the card's own ranges. A drill list that has no such size may refuse; nothing else.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from conftest import LIBRARY, whole_reckoning
from generator.errors import NoStock, OutOfRange
from generator.reckoning import InputError, reckon
from generator.units import SYSTEMS

CARD = LIBRARY.cards["bonded-stepped-hole"]
CARDS = {"through": CARD, "blind": LIBRARY.cards["blind-stud"]}
THREADS = [row.size for _, _, row in LIBRARY.threads()]
Inputs = dict[str, str]

# The same examples every time: a red build must be one that can be looked into.
modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def texts(low: int, high: int, form: str, *, steps: int = 1) -> st.SearchStrategy[str]:
    """Numbers from low to high, in so many steps to the unit, written into `form`."""
    return st.integers(low * steps, high * steps).map(lambda n: form.format(number(Fraction(n, steps))))


def number(value: Fraction) -> str:
    """A decimal without an exponent."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


RATIOS = st.tuples(st.integers(20, 600), st.sampled_from(("volume", "weight"))).map(
    lambda pair: f"{pair[0] / 100}:1 by {pair[1]}"
)
JOBS: st.SearchStrategy[Inputs] = st.fixed_dictionaries(
    {
        "shop": st.sampled_from(SYSTEMS),
        "thread": st.sampled_from(THREADS),
        "hole": st.sampled_from(sorted(CARDS)),
        "large_drill": st.sampled_from(sorted(LIBRARY.tables["drills"])),
        "guide_drill": st.sampled_from(sorted(LIBRARY.tables["drills"])),
        "T": texts(15, 600, "{} mm", steps=2) | texts(1, 20, "{} in", steps=16),
        "f_o": texts(67, 75, "{} %", steps=4),
        "a_b": texts(5, 400, "{} mm"),
        "b_b": texts(5, 400, "{} mm"),
        "t_m": texts(0, 15, "{} mm", steps=4),
        "r_f": texts(0, 20, "{} mm", steps=4),
        "n_h": texts(1, 8, "{}"),
        "N": texts(1, 60, "{}"),
        "w_a": texts(20, 200, "{} %"),
        "V_s": texts(1, 200, "{} mL"),
        "u_s": texts(30, 100, "{} %"),
        "w_h": texts(50, 1000, "{} g/m2"),
        "w_b": texts(20, 1000, "{} g/m2"),
        "resin": st.sampled_from(sorted(LIBRARY.tables["resins"])),
        "ratio": RATIOS,
        "filler": st.sampled_from([name for name, row in LIBRARY.tables["fillers"].items() if row.gives["k_u"] == "1"]),
        "m_min": texts(0, 300, "{} g") | texts(300, 1000, "{} g"),
    }
)
MUST_NOT_FALL = ("V", "n_s", "m_t", "m_n", "m_b", "m_r", "m_h", "m_f", "v_r", "v_h", "v_f")


def worked(inputs: Inputs) -> dict[str, float]:
    """All values of a job, by the card for its hole; one that the drill list refuses is not counted, nor one whose first
    cup goes off before its last.

    A washer that its standard does not lay down for the thread takes lengths of bolts away, and nothing asked for here.
    """
    own = {"t_x": "0.01 min", "hardener": "slow", **inputs}  # hands enough that the clock forbids few of the largest
    working = reckon(LIBRARY, CARDS[own.pop("hole")], own, extra=("v_f",)).working
    assume(not any(isinstance(why, NoStock) for why in working.refused.values()))
    assume("m_b" not in working.refused)
    return working.values


def never_less(little: dict[str, float], much: dict[str, float]) -> None:
    """A fitting takes at least as much, and the job at least as many mixes. In as many mixes, everything to mix and to
    weigh out for one is at least as much; of more mixes each may be smaller. Binary noise apart."""
    in_each = MUST_NOT_FALL if much["n_m"] == little["n_m"] else ()
    for symbol in ("V_1", "m_w", "n_m", *in_each):
        assert much[symbol] >= little[symbol] * (1 - 1e-9), f"{symbol} fell from {little[symbol]} to {much[symbol]}"


def same(own: float, wanted: float) -> None:
    assert math.isclose(own, wanted, rel_tol=1e-9, abs_tol=1e-15), f"{own} is not {wanted}"


@modest
@given(JOBS, texts(0, 30, "{} mm", steps=16))
def test_a_deeper_hole_never_needs_less(inputs: Inputs, more: str) -> None:
    """Also where the oversized depth jumps to the next step of the shop's rule and the guide hole grows shorter."""
    little = worked(inputs)
    depth = little["T"] * 1000 + float(more.removesuffix(" mm"))
    much = worked({**inputs, "T": f"{depth:.6f} mm"})
    assert much["L_o"] >= little["L_o"] - 1e-12
    never_less(little, much)


@modest
@given(JOBS, st.integers(0, 40))
def test_more_fittings_never_need_less(inputs: Inputs, more: int) -> None:
    little = worked(inputs)
    much = worked({**inputs, "N": str(int(inputs["N"]) + more)})
    never_less(little, much)
    same(much["V_1"], little["V_1"])


@modest
@given(JOBS, texts(20, 200, "{} %"))
def test_a_bigger_waste_never_needs_less(inputs: Inputs, other: str) -> None:
    low, high = sorted((inputs["w_a"], other), key=lambda text: float(text.removesuffix(" %")))
    never_less(worked({**inputs, "w_a": low}), worked({**inputs, "w_a": high}))


@modest
@given(JOBS)
def test_volumes_add_up(inputs: Inputs) -> None:
    v = worked(inputs)
    holes = v["n_h"] * (v["V_r"] + v["V_f"] + v["V_g"])
    same(v["V_1"], holes + v["V_b"])
    used, kept = v["N_m"] * v["V_1"] * (1 + v["w_a"]), v["n_s"] * v["V_s"] * (1 - v["u_s"])
    same(v["V"], used + kept + v["m_sa"] / v["rho_p"])
    assert v["N_m"] * v["n_m"] >= v["N"]
    assert v["V_r"] > 0
    assert min(v["V_f"], v["V_g"], v["V_b"]) >= 0


@modest
@given(JOBS)
def test_syringes_are_the_fewest_that_do(inputs: Inputs) -> None:
    v = worked(inputs)
    wanted, one = v["N_m"] * (v["V_1"] - v["V_b"]) * (1 + v["w_a"]), v["V_s"] * v["u_s"]
    assert v["n_s"] == int(v["n_s"]) >= 1
    assert v["n_s"] * one >= wanted * (1 - 1e-9)
    assert (v["n_s"] - 1) * one < wanted


@modest
@given(JOBS)
def test_masses_add_up(inputs: Inputs) -> None:
    v = worked(inputs)
    plain = v["N_m"] * v["m_w"] * (1 + v["w_a"]) + v["m_pl"]
    same(v["m_r"] + v["m_h"], v["m_b"])
    same(v["m_n"] - plain + v["m_f"], v["m_t"])
    same(v["m_w"], v["n_h"] * v["A_h"] * v["w_h"] + v["A_b"] * v["w_b"])


@modest
@given(JOBS, st.integers(0, 200))
def test_the_smallest_batch_is_kept(inputs: Inputs, percent: int) -> None:
    """From nothing to twice what the job needs, up to the card's limit: the mix is whichever is more."""
    needed = worked({**inputs, "m_min": "0 g"})["m_n"]
    least = f"{min(1000, needed * 1000 * percent / 100):.6f} g"
    v = worked({**inputs, "m_min": least})
    same(v["m_n"], needed)
    assert v["m_b"] == max(v["m_n"], v["m_min"])


@pytest.mark.parametrize("symbol", ["N", "n_h"])
@pytest.mark.parametrize("count", ["0", "0.5", "1.5", "2.001"])
def test_only_whole_fittings_and_holes(symbol: str, count: str) -> None:
    """And at least one: half a fitting, or none, would need less than it takes."""
    with pytest.raises((InputError, OutOfRange), match=r"take 1 to|whole number"):
        whole_reckoning(LIBRARY, CARD, {symbol: count})


@modest
@given(JOBS)
def test_volumes_of_the_parts(inputs: Inputs) -> None:
    """What is weighed, measured in cups instead, is the same stuff."""
    v = worked(inputs)
    same(v["v_r"], v["m_r"] / v["rho_r"])
    same(v["v_h"], v["m_h"] / v["rho_h"])
    same(v["v_f"], v["m_f"] / v["rho_b"])
    same(v["v_r"] / v["v_h"], v["n_v"])
    same(v["m_r"] / v["m_h"], v["n_w"])
    same((v["v_r"] + v["v_h"]) * v["rho_m"], v["m_b"])
    neat = v["m_t"] - v["m_f"]
    same(v["v_f"], v["q_f"] * neat / v["rho_m"])


@modest
@given(JOBS)
def test_what_is_weighed_fills_what_is_wanted(inputs: Inputs) -> None:
    v = worked(inputs)
    same(v["m_t"] * (1 - v["x_f"]) / v["rho_m"] + v["m_f"] / v["rho_t"], v["V"])


@modest
@given(JOBS, st.integers(20, 600))
def test_the_two_ways_to_state_a_ratio_are_one(inputs: Inputs, hundredths: int) -> None:
    """A ratio by volume, weighed out and stated again by weight, is the same job."""
    by_volume = worked({**inputs, "ratio": f"{hundredths / 100}:1 by volume"})
    parts = f"{by_volume['m_r'] / by_volume['m_h']:.11f}"
    by_weight = worked({**inputs, "ratio": f"{parts}:1 by weight"})
    for symbol in ("n_v", *MUST_NOT_FALL):
        assert math.isclose(by_volume[symbol], by_weight[symbol], rel_tol=1e-9)


@pytest.mark.parametrize(
    ("shop", "large", "guide"), product(SYSTEMS, sorted(LIBRARY.tables["drills"]), sorted(LIBRARY.tables["drills"]))
)
def test_oversized_hole_clears_thread_and_guide_hole(shop: str, large: str, guide: str) -> None:
    """Every thread, worked in either shop with every pair of drills."""
    refused = []
    for series, row in ((series, row) for _, series, row in LIBRARY.threads()):
        inputs = {"shop": shop, "thread": row.size, "large_drill": large, "guide_drill": guide}
        v = reckon(LIBRARY, CARD, inputs).working.values
        if isinstance(v.refused.get("D_o"), NoStock):
            refused.append((series.shop, row.size))
            continue
        assert v["D_o"] > v["D_g"] >= v["d"] * (1 - 1e-9)
        assert v["t_b"] > 0
        assert abs(v["D_o"] - v["D_g"] - v["s_o"]) <= v["s_t"] * (1 + 1e-9)
    assert len(refused) < len(THREADS) / 4, f"refused: {refused}"
    if (large, guide) == ("flat", "twist"):
        assert [size for own_shop, size in refused if own_shop == shop] == [], (
            "the card's own drills refuse its threads"
        )


def bigger(symbol: str, factor: float) -> Callable[[dict[str, Any]], str]:
    return lambda v: f"{v[symbol] * 1000 * factor:.6f} mm"


@modest
@given(JOBS, st.integers(100, 130))
def test_a_larger_oversized_hole_never_needs_less(inputs: Inputs, percent: int) -> None:
    little = worked(inputs)
    never_less(little, worked({**inputs, "D_o": bigger("D_o", percent / 100)(little)}))
