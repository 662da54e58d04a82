"""What a fastener carries across its axis and at an angle: by hand, by mechanics, by other equations, and its range."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from yield_limits import Joint, bearing, reference

from conftest import HOUSE, LIBRARY, for_each, whole_reckoning
from generator.errors import OutOfRange
from generator.formula import FORMULARY, Formula
from generator.formulas import lateral
from generator.pages.card import CardPage
from generator.pages.options import SiteOptions
from generator.reckoning import InputError, Reckoning, reckon
from generator.units import plain

KN, MM, MPA = 1e3, 1e-3, 1e6
POUND, INCH = 4.4482216, 25.4
# The cards that give a load across, each with what makes its wood or thread thicker or thinner.
CARDS = ("bonded-stepped-hole", "blind-stud", "bedded-solid", "backing-plate", "bonded-screw")
DEPTH = {"bedded-solid": "T_sk", "bonded-screw": "L_sc"}

# By hand, formula by formula. Newtons and metres.
BY_HAND = [
    ("rho_w", {"G": 0.5}, 470.0),
    # 0.082 x 0.9 x 400 = 29.52 N/mm2
    ("f_h0", {"d_n": 0.010, "rho_w": 400.0}, 29.52e6),
    ("k_90", {"d_n": 0.010}, 1.5),
    ("f_h", {"q_y": 1.0, "f_h0": 30e6, "k_90": 1.5, "alpha_y": math.pi / 2}, 20e6),
    ("f_h", {"q_y": 1.0, "f_h0": 30e6, "k_90": 1.5, "alpha_y": 0.0}, 30e6),
    ("f_h", {"q_y": 0.1, "f_h0": 30e6, "k_90": 1.5, "alpha_y": math.pi / 2}, 2e6),
    # 30 / (1.5 / 2 + 1 / 2) = 24 N/mm2
    ("f_h", {"q_y": 1.0, "f_h0": 30e6, "k_90": 1.5, "alpha_y": math.pi / 4}, 24e6),
    ("d_n", {"d": 0.010}, 0.010),
    ("d_n", {"d_sc": 0.005}, 0.005),
    ("d_r", {"d_3": 0.008}, 0.008),
    ("d_r", {"r_sc": 0.67, "d_sc": 0.010}, 0.0067),
    ("d_y", {"d": 0.010}, 0.010),
    ("d_y", {"d_r": 0.008}, 0.0088),
    # 0.3 x 700 x 10^2.6 = 210 x 398.107 N mm
    ("M_y", {"f_u": 700e6, "d_r": 0.010 / 1.1}, 83.6025),
    ("l_y", {"L_o": 0.063}, 0.063),
    ("l_y", {"T_sk": 0.040}, 0.040),
    ("l_y", {"T": 0.060}, 0.060),
    ("l_y", {"l_sc": 0.015, "L_sc": 0.050}, 0.065),
    ("g_y", {"t_m": 0.003}, 0.003),
    ("g_y", {"h_b": 0.002}, 0.002),
    ("e_y", {"n_e": 4.0, "d_n": 0.010}, 0.040),
    ("e_z", {"d_n": 0.010}, 0.070),
    ("s_y", {"d_n": 0.010}, 0.050),
    ("chi_y", {"a_e": 0.030, "e_y": 0.040, "a_z": 0.070, "e_z": 0.070, "k_sg": 1.0}, 0.75),
    ("chi_y", {"a_e": 0.050, "e_y": 0.040, "a_z": 0.042, "e_z": 0.070, "k_sg": 1.0}, 0.6),
    ("chi_y", {"a_e": 0.050, "e_y": 0.040, "a_z": 0.100, "e_z": 0.070, "k_sg": 1.0}, 1.0),
    # Five of 10 mm on a base of 180 by 80: in one row (180 - 20) / 4 = 40, in two min((180 - 20) / 2, 80 - 20) = 60.
    ("s_wb", {"n_h": 5.0, "d_n": 0.010, "a_b": 0.180, "b_b": 0.080}, 0.060),
    ("s_wb", {"n_h": 5.0, "d_n": 0.010, "a_b": 0.080, "b_b": 0.180}, 0.060),
    # Nearly square, two rows of five and of three are as far apart as three and two have room for along it.
    ("s_wb", {"n_h": 5.0, "d_n": 0.010, "a_b": 0.120, "b_b": 0.100}, 0.050),
    ("s_wb", {"n_h": 3.0, "d_n": 0.010, "a_b": 0.120, "b_b": 0.100}, 0.080),
    # Four on a narrow one stand in one row, (180 - 20) / 3; one alone has all of it; a base as wide as two of them has none.
    ("s_wb", {"n_h": 4.0, "d_n": 0.010, "a_b": 0.180, "b_b": 0.040}, 0.0533333),
    ("s_wb", {"n_h": 1.0, "d_n": 0.010, "a_b": 0.180, "b_b": 0.040}, 0.160),
    ("s_wb", {"n_h": 2.0, "d_n": 0.010, "a_b": 0.020, "b_b": 0.015}, 0.0),
    ("s_ba", {"s_wb": 0.060, "s_y": 0.050, "s_bg": 0.100}, 0.050),
    ("s_ba", {"s_wb": 0.040, "s_y": 0.050, "s_bg": 0.100}, 0.040),
    ("s_ba", {"s_wb": 0.060, "s_y": 0.050, "s_bg": 0.030}, 0.030),
    ("chi_s", {"s_ba": 0.040, "s_y": 0.050, "N_y": 2.0}, 0.8),
    ("chi_s", {"s_ba": 0.100, "s_y": 0.050, "N_y": 4.0}, 1.0),
    ("chi_s", {"s_ba": 0.010, "s_y": 0.050, "N_y": 1.0}, 1.0),
    # In end grain there is no distance to an end; an edge still counts.
    ("chi_y", {"a_e": 0.030, "e_y": 0.040, "a_z": 0.007, "e_z": 0.070, "k_sg": 0.0}, 0.75),
    ("chi_y", {"a_e": 0.050, "e_y": 0.040, "a_z": 0.007, "e_z": 0.070, "k_sg": 0.0}, 1.0),
    # 20 x 10 x 60 N
    ("R_y1", {"f_h": 20e6, "d_y": 0.010, "l_y": 0.060}, 12000.0),
    # 400 (sqrt(30^2 + 30^2) - 30) = 400 x 12.42641; with a gap of 10: 400 (sqrt(40^2 + 30^2) - 40) = 400 x 10
    ("R_y2", {"f_h": 20e6, "d_y": 0.010, "l_y": 0.060, "g_y": 0.0}, 4970.563),
    ("R_y2", {"f_h": 20e6, "d_y": 0.010, "l_y": 0.060, "g_y": 0.010}, 4000.0),
    # 200 (sqrt(2 x 90000 / 200) = 30) = 6000 N; with a gap of 16: 200 (sqrt(256 + 900) - 16 = 18)
    ("R_y3", {"f_h": 20e6, "d_y": 0.010, "g_y": 0.0, "M_y": 90.0}, 6000.0),
    ("R_y3", {"f_h": 20e6, "d_y": 0.010, "g_y": 0.016, "M_y": 90.0}, 3600.0),
    # 14 x 60 x sqrt(49)
    ("R_y4", {"l_y": 0.060, "a_e": 0.049}, 5880.0),
    ("R_ye", {"chi_y": 0.75, "R_y1": 12000.0, "R_y2": 4970.0, "R_y3": 4000.0}, 3000.0),
    ("R_y", {"R_ye": 3000.0, "R_y4": 5880.0, "alpha_y": math.pi / 2}, 3000.0),
    ("R_y", {"R_ye": 8000.0, "R_y4": 5880.0, "alpha_y": math.pi / 2}, 5880.0),
    ("R_y", {"R_ye": 8000.0, "R_y4": 5880.0, "alpha_y": 0.0}, 8000.0),
    # 0.6 x 700 x pi/4 x 100 N
    ("R_sy", {"f_u": 700e6, "d_r": 0.010}, 32986.72),
    ("F_y", {"R_y": 2800.0, "gamma_y": 2.8, "R_sy": 33000.0, "gamma_s": 3.0}, 1000.0),
    ("F_y", {"R_y": 28000.0, "gamma_y": 2.8, "R_sy": 27000.0, "gamma_s": 3.0}, 9000.0),
    ("F_yl", {"R_y": 3900.0, "gamma_yl": 3.9, "R_sy": 33000.0, "gamma_s": 3.0}, 1000.0),
    ("F_yl", {"R_y": 28000.0, "gamma_yl": 3.9, "R_sy": 12000.0, "gamma_s": 3.0}, 4000.0),
    ("F_ys", {"R_y4": 5880.0, "gamma_y": 2.8}, 2100.0),
    ("N_y", {"n_h": 4.0}, 4.0),
    # four in a line: 4^0.9 = 3.482202, (5/13)^0.25 = 0.787507; their product over 4 is 0.685567. One alone is whole.
    ("q_n", {"N_y": 4.0, "alpha_y": 0.0, "chi_s": 1.0}, 0.685567),
    ("q_n", {"N_y": 4.0, "alpha_y": math.pi / 2, "chi_s": 1.0}, 1.0),
    ("q_n", {"N_y": 1.0, "alpha_y": 0.0, "chi_s": 1.0}, 1.0),
    ("q_n", {"N_y": 4.0, "alpha_y": 0.0, "chi_s": 0.8}, 0.5484536),
    ("q_n", {"N_y": 4.0, "alpha_y": math.pi / 2, "chi_s": 0.8}, 0.8),
    # across: four of 1000 N are over the 2100 N that split the wood, so 525 each; two of them are not
    ("F_yn", {"F_y": 1000.0, "q_n": 1.0, "N_y": 4.0, "F_ys": 2100.0, "alpha_y": math.pi / 2}, 525.0),
    ("F_yn", {"F_y": 1000.0, "q_n": 1.0, "N_y": 2.0, "F_ys": 2100.0, "alpha_y": math.pi / 2}, 1000.0),
    ("F_yn", {"F_y": 1000.0, "q_n": 0.6, "N_y": 4.0, "F_ys": 2100.0, "alpha_y": 0.0}, 600.0),
    # half of their pull is across at 30 degrees: 4 x 900 / 2 is 1.8 times the 1000 N that split the wood
    ("F_yn", {"F_y": 1000.0, "q_n": 0.9, "N_y": 4.0, "F_ys": 1000.0, "alpha_y": math.pi / 6}, 500.0),
    # 5880 N over 3.9 is 1507.692 N, by four 376.923
    (
        "F_ynl",
        {"F_yl": 700.0, "q_n": 1.0, "N_y": 4.0, "R_y4": 5880.0, "gamma_yl": 3.9, "alpha_y": math.pi / 2},
        376.923,
    ),
    (
        "F_ynl",
        {"F_yl": 1000.0, "q_n": 0.9, "N_y": 4.0, "R_y4": 3900.0, "gamma_yl": 3.9, "alpha_y": math.pi / 6},
        500.0,
    ),
    # at 60 degrees: 0.5 / 3000 + 0.866025 / 500 = 1/6000 + 1.73205e-3 = 1.898717e-3
    ("F_z", {"F_w": 3000.0, "F_yn": 500.0, "theta_p": math.pi / 3}, 526.67),
    ("F_z", {"F_w": 3000.0, "F_yn": 500.0, "theta_p": 0.0}, 3000.0),
    ("F_z", {"F_sc": 3000.0, "F_yn": 500.0, "theta_p": math.pi / 3}, 526.67),
    ("F_z", {"F_p": 3000.0, "F_s": 9000.0, "F_yn": 500.0, "theta_p": math.pi / 3}, 526.67),
    ("F_z", {"F_rs": 9000.0, "F_s": 3000.0, "F_yn": 500.0, "theta_p": math.pi / 3}, 526.67),
    # the same of 2000 N and 350 N that stay: 0.5 / 2000 + 0.866025 / 350 = 2.72436e-3
    ("F_zl", {"F_l": 2000.0, "F_ynl": 350.0, "theta_p": math.pi / 3}, 367.06),
]


@for_each(BY_HAND)
def test_by_hand(symbol: str, values: dict[str, float], result: float) -> None:
    (formula,) = [step for step in FORMULARY.formulas if step.symbol == symbol and set(step.parameters) == set(values)]
    assert formula.call(values) == pytest.approx(result, rel=1e-5)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {
        (formula.symbol, frozenset(formula.parameters))
        for formula in FORMULARY.formulas
        if formula.function.__module__ == lateral.__name__
    }
    assert own == {(symbol, frozenset(values)) for symbol, values, _ in BY_HAND}


def called(symbol: str, **values: float) -> float:
    (formula,) = FORMULARY.yielding(symbol)
    assert isinstance(formula, Formula)
    return float(formula.call(values))


@given(gap=st.floats(0, 12), length=st.floats(20, 200))
def test_a_stiff_fastener_tips_about_a_point_that_leaves_no_moment(gap: float, length: float) -> None:
    """Pulled at `gap` above the wood: the wood pushes back over x from the mouth, and forward over the rest."""
    q = 200.0
    low, high = length / 2, length
    for _ in range(80):
        x = (low + high) / 2
        about_the_pull = q * (x * (gap + x / 2) - (length - x) * (gap + (length + x) / 2))
        low, high = (x, high) if about_the_pull < 0 else (low, x)
    force = q * (2 * low - length)
    assert called("R_y2", f_h=20e6, d_y=0.010, l_y=length * MM, g_y=gap * MM) == pytest.approx(force, rel=1e-6)


@given(gap=st.floats(0, 12), moment=st.floats(5, 300))
def test_a_thin_fastener_bends_where_its_moment_is_greatest(gap: float, moment: float) -> None:
    """The wood holds it over x, where no shear is left; the moment there is what its root bears."""
    q, low, high = 200.0, 0.0, 1000.0
    for _ in range(80):
        x = (low + high) / 2
        at_x = q * x * (gap + x) - q * x**2 / 2
        low, high = (x, high) if at_x < moment * KN else (low, x)
    assert called("R_y3", f_h=20e6, d_y=0.010, g_y=gap * MM, M_y=moment) == pytest.approx(q * low, rel=1e-6)


@given(q=st.floats(50, 600), moment=st.floats(5, 300), length=st.floats(20, 200), gap=st.floats(0, 12))
def test_it_is_the_american_form_with_a_plate_that_lets_the_fastener_turn(
    q: float, moment: float, length: float, gap: float
) -> None:
    """A plate endlessly hard and thin is a hinge: modes II and IIIs are then our tipping and bending."""
    D = 10.0
    hinge = Joint(D=D, lm=length, ls=1e-6, Fem=q / D, Fes=1e9, Fyb=6 * moment * KN / D**3, g=gap).gapped()
    own = {"f_h": q / D * MPA, "d_y": D * MM, "g_y": gap * MM}
    assert called("R_y2", **own, l_y=length * MM) == pytest.approx(hinge["II"], rel=1e-3)
    assert called("R_y3", **own, M_y=moment) == pytest.approx(hinge["IIIs"], rel=1e-3)


@given(
    lm=st.floats(1, 6),
    ls=st.floats(0.1, 2),
    G=st.floats(0.31, 0.73),
    D=st.floats(0.25, 1),
    angle=st.sampled_from([0, 90]),
)
def test_without_a_gap_the_form_with_a_gap_is_the_printed_one(
    lm: float, ls: float, G: float, D: float, angle: float
) -> None:
    for Fes in (bearing(G, D, 0), 87000.0):
        joint = Joint(D, lm, ls, bearing(G, D, angle), Fes, 45000)
        assert joint.gapped() == pytest.approx(joint.plain(), rel=1e-6)


def worked(card: str = "bonded-stepped-hole", **inputs: str) -> dict[str, float]:
    sheet = LIBRARY.cards.get(card) or LIBRARY.reference[card]
    return whole_reckoning(LIBRARY, sheet, inputs, extra=["F_y", "F_yl", "R_y", "chi_y"]).working.values


# Wood, its oven-dry specific gravity, thread and its root in mm.
BESIDE = [
    ("douglas-fir", 0.50, "M8", 6.466),
    ("western-redcedar", 0.33, "M6", 4.773),
    ("white-oak", 0.73, "M12", 9.853),
]


def both_ways(
    wood: str, G: float, thread: str, root: float, depth: float, bed: float, grain: str
) -> tuple[float, float]:
    """Our working load of a bolt of A4-70 on bare wood or a bed, and Z x 1.6 x 0.7 by the American rule, newtons."""
    d, angle = float(thread[1:]), 90 if grain == "across" else 0
    given = {"thread": thread, "wood": wood, "T_sk": f"{depth} mm", "g_y": f"{bed} mm", "grain": grain, "a_e": "300 mm"}
    own = worked("bedded-solid", **given, a_z="1 m")["F_y"]
    steel = (450 + 700) / 2 * 145.0377
    joint = Joint(root / INCH, depth / INCH, 0.25, bearing(G, d / INCH, angle), 87000, steel, g=bed / INCH)
    return own, reference(joint, d / INCH, angle) * POUND * 1.6 * 0.7


@pytest.mark.parametrize("grain", ["across", "along"])
@pytest.mark.parametrize("bed", [0.0, 3.0])
@pytest.mark.parametrize("depth", [30.0, 60.0, 120.0])
@pytest.mark.parametrize(("wood", "G", "thread", "root"), BESIDE)
def test_beside_the_american_rule_for_wet_wood_and_short_loads(
    wood: str, G: float, thread: str, root: float, depth: float, bed: float, grain: str
) -> None:
    """Through 1/4 in of steel: ours is near it or under it, never a sixth above."""
    own, american = both_ways(wood, G, thread, root, depth, bed, grain)
    assert 0.5 < own / american < 1.17


def test_the_page_on_trust_says_what_is_worked() -> None:
    text = " ".join((HOUSE / "generator/templates/trust.md.j2").read_text(encoding="utf-8").split())
    fir, cedar, oak = BESIDE
    rows = [
        ("M8 in 90 mm of Douglas fir, across the grain", both_ways(*fir, 90, 0, "across")),
        ("the same, along the grain", both_ways(*fir, 90, 0, "along")),
        ("the same, across, on a bed of 3 mm", both_ways(*fir, 90, 3, "across")),
        ("M6 in 60 mm of western redcedar, across the grain", both_ways(*cedar, 60, 0, "across")),
        ("M12 in 120 mm of white oak, across the grain", both_ways(*oak, 120, 0, "across")),
    ]
    for what, (own, american) in rows:
        assert f"| {what} | {own / KN - 0.005:.2f} kN | {american / KN:.2f} kN |" in text, (what, own, american)
    bonded, bare = worked(t_m="3 mm", T="115 mm"), worked(t_m="0 mm", T="115 mm")
    assert f"would carry {bare['F_y'] / KN:.2f} kN, not {bonded['F_y'] / KN:.2f}." in text
    # Moehler and Hemmer, read second-hand: 14 N/mm2 on the diameter squared, for rods across the grain.
    assert f"has {14 * 8**2 / KN:.2f} kN for M8 on bare wood" in text
    two, four = (n**0.9 * (5 / 13) ** 0.25 for n in (2, 4))
    assert f"carry {two:.1f} times what one does, and four {four:.1f} times" in text
    # The same rule with the printed example: five dowels of 12 mm, 60 mm apart.
    assert pytest.approx(3.35, abs=0.01) == 5**0.9 * (60 / 13 / 12) ** 0.25


def test_many_times_what_the_crushing_of_wood_alone_would_give() -> None:
    """A dowel bears on far more than wood crushes at: about 23 N/mm2 across the grain where plain crushing begins at 3."""
    values = worked(T="90 mm")
    assert 0.9 * KN < values["F_y"] < 1.3 * KN


# The pilot for each wood; Douglas fir is of middling density.
PILOT = {"western-redcedar": "soft", "sitka-spruce": "soft", "white-oak": "dense", "black-locust": "dense"}


@pytest.mark.parametrize("card", CARDS)
def test_never_more_with_less_wood_or_a_thicker_bed(card: str) -> None:
    for name, ascending in (
        ("a_e", ["13 mm", "17 mm", "20 mm", "24 mm", "25 mm", "80 mm"]),
        ("a_z", ["29 mm", "40 mm", "56 mm", "200 mm"]),
        ("g_y", ["8 mm", "5 mm", "3 mm", "1 mm", "0 mm"]),
        ("wood", ["western-redcedar", "sitka-spruce", "douglas-fir", "white-oak", "black-locust"]),
        (DEPTH.get(card, "T"), ["60 mm", "80 mm", "120 mm", "150 mm"]),
        ("grain", ["end", "across", "along"]),
    ):
        loads = [
            worked(
                card,
                **{"grain": "along"} if name == "a_e" else {},
                **{"pilot": PILOT.get(text, "middle")} if card == "bonded-screw" else {},
                **{name: text},
            )["F_y"]
            for text in ascending
        ]
        assert loads == sorted(loads), name
        assert loads[0] < loads[-1] or name in ("T", "T_sk", "L_sc"), name


@given(gap=st.integers(0, 80), edge=st.integers(320, 600))
def test_a_bed_and_an_edge_only_cost(gap: int, edge: int) -> None:
    best = worked(g_y="0 mm", a_e="60 mm")
    values = worked(g_y=f"{gap / 10} mm", a_e=f"{edge / 10} mm")
    assert values["F_y"] <= best["F_y"] * (1 + 1e-9)
    assert values["F_yl"] == pytest.approx(values["F_y"] * 2.8 / 3.9)
    assert values["F_y"] <= values["R_y"] / 2.8 * (1 + 1e-9)


@pytest.mark.parametrize("card", CARDS)
def test_at_half_the_distance_half_the_load(card: str) -> None:
    """Along the grain, where no splitting stands in the way: three diameters to the edge, or half of them."""
    full, half = (worked(card, a_e=edge, grain="along") for edge in ("24 mm", "12 mm"))
    assert [full["chi_y"], half["chi_y"]] == pytest.approx([1, 0.5])
    assert half["F_y"] == pytest.approx(full["F_y"] / 2)


def test_end_grain_keeps_a_tenth_of_the_pressure() -> None:
    across, end = (
        whole_reckoning(LIBRARY, LIBRARY.cards["blind-stud"], {"grain": grain}, extra=["f_h"])
        for grain in ("across", "end")
    )
    assert end.working.values["f_h"] == pytest.approx(across.working.values["f_h"] / 10)


REFUSED = [
    ("bonded-stepped-hole", {"a_e": "0 mm"}, "nearer to an edge"),
    ("bonded-stepped-hole", {"a_e": "31.9 mm"}, "nearer to an edge than 32\u00a0mm"),
    ("bonded-stepped-hole", {"a_e": "31.9 mm", "grain": "end"}, "nearer to an edge than 32\u00a0mm"),
    ("bedded-solid", {"a_e": "11.9 mm", "grain": "along"}, "nearer to an edge or an end"),
    ("bonded-stepped-hole", {"a_z": "27 mm"}, "nearer to an edge or an end"),
    ("bonded-stepped-hole", {"thread": "M4"}, "threads under 6\u00a0mm"),
    ("bonded-stepped-hole", {"thread": "M24", "T": "300 mm"}, "over 20\u00a0mm"),
    (
        "bonded-stepped-hole",
        {"thread": "1-8 UNC", "T": "16 in", "fastener": "316-cw-large", "washer": "asme-b-wide"},
        "over 0.787\u00a0in",
    ),
    ("bonded-stepped-hole", {"thread": "#6-32 UNC", "fastener": "a4-70"}, "threads under 0.236\u00a0in"),
    ("bonded-stepped-hole", {"D_o": "9 mm", "D_g": "8 mm"}, "bond line under 1\u00a0mm"),
    ("bonded-stepped-hole", {"T": "50 mm"}, "shorter than 5 thread diameters"),
    ("bonded-stepped-hole", {"t_m": "8.1 mm"}, "thicker than the fastener"),
    ("bonded-stepped-hole", {"G": "0.25"}, "so light or so heavy"),
    ("bedded-solid", {"T_sk": "11 mm"}, "thinner than 1.5 diameters"),
    ("bedded-solid", {"thread": "M5"}, "threads under 6\u00a0mm"),
    ("bonded-screw", {"L_sc": "10 mm", "l_sc": "15 mm"}, "so short a screw"),
    ("bonded-screw", {"pilot": "wood-screw-soft", "d_sc": "5 mm", "L_sc": "14 mm"}, "so short a screw"),
    ("bonded-screw", {"pilot": "wood-screw-soft", "d_sc": "3 mm"}, "screws under 3.5\u00a0mm"),
]


@pytest.mark.parametrize(("card", "inputs", "words"), REFUSED)
def test_outside_the_range_there_is_no_side_load(card: str, inputs: dict[str, str], words: str) -> None:
    with pytest.raises(OutOfRange, match=re.escape(words)):
        assert worked(card, **inputs)["F_y"]


def test_wood_that_splits_beside_a_screw_is_trusted_with_no_pull_along_it_either() -> None:
    card = LIBRARY.cards["bonded-screw"]
    assert whole_reckoning(LIBRARY, card, {}, extra=["F_sc"]).working.values["F_sc"] > 0
    for near in ({"a_e": "15 mm"}, {"a_z": "15 mm"}):
        with pytest.raises(OutOfRange, match="along a screw nearer to an edge or an end"):
            whole_reckoning(LIBRARY, card, near, extra=["F_sc"])


def test_what_costs_the_load_is_said() -> None:
    def warned(**inputs: str) -> list[str]:
        reckoning = whole_reckoning(LIBRARY, LIBRARY.cards["bonded-stepped-hole"], inputs, extra=["F_y"])
        return [text for text in reckoning.working.warnings if "side load is less" in text]

    along = {"grain": "along"}
    assert [len(warned(**along, a_e="24 mm")), len(warned(**along, a_e="23 mm")), len(warned(a_z="50 mm"))] == [0, 1, 1]


# A card, its base by length and width, and how near its own holes stand: how far apart four of M8 are then. 40 mm is all,
# 24 mm the least.
@pytest.mark.parametrize("card", [card for card in CARDS if card != "backing-plate"])
@pytest.mark.parametrize(
    ("base", "holes", "apart"),
    [
        *[((60, 56), 100, 40), ((136, 30), 100, 40), ((60, 50), 100, 34), ((100, 20), 100, 28), ((60, 40), 100, 24)],
        *[((60, 56), 40, 40), ((200, 120), 30, 30), ((200, 120), 24, 24), ((60, 50), 36, 34)],
    ],
)
def test_the_side_load_follows_the_spacing_that_base_and_holes_have(
    card: str, base: tuple[int, int], holes: int, apart: int
) -> None:
    """In two rows the width less 16 mm; in one of four a third of the length less 16 mm; no more than from hole to hole."""
    size = {
        "a_b": f"{base[0]} mm",
        "b_b": f"{base[1]} mm",
        "n_h": "4",
        "s_bg": f"{holes} mm",
        "a_e": "1 m",
        "a_z": "2 m",
        DEPTH.get(card, "T"): "120 mm",
    }
    one, four = (reckon(LIBRARY, LIBRARY.cards[card], {**size, **more}, extra=["F_y"]) for more in ({"n_h": "1"}, {}))
    assert four.working.values["F_yn"] == pytest.approx(one.working.values["F_yn"] * apart / 40)
    told = [text for text in four.working.warnings if "carry less sideways" in text or "has no room" in text]
    assert any(text.startswith(f"{apart}\u00a0mm from each other") for text in told) == (apart < 40)
    assert len(told) == (apart < 40) + (base[1] < 56 and base != (136, 30))
    less = reckon(LIBRARY, LIBRARY.cards[card], {**size, "a_b": "60 mm", "b_b": "39 mm"})
    assert "nearer to each other than three diameters" in str(less.working.refused["F_yn"])


def angled(degrees: float, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference["angled-pull"], {"theta_p": f"{degrees} deg", **inputs})


def test_at_no_angle_more_than_along_or_than_the_shares_allow() -> None:
    along = angled(0).working.values["F_w"]
    for degrees in range(91):
        values = angled(degrees).working.values
        assert values["F_z"] <= max(along, values["F_yn"]) * (1 + 1e-9)
        used = values["F_z"] * math.cos(values["theta_p"]) / values["F_w"]
        used += values["F_z"] * math.sin(values["theta_p"]) / values["F_yn"]
        assert used == pytest.approx(1)
    with pytest.raises(InputError, match="angle"):
        angled(91)


@pytest.mark.parametrize("card", CARDS)
def test_every_card_combines_its_own_loads(card: str) -> None:
    """At 0 degrees what the card gives along, at 90 what it gives across, and between less than the greater."""
    sheet = LIBRARY.cards[card]
    assert sheet.job
    pull, (side,), (both,) = (sheet.job.carries[act] for act in ("pull", "side", "angled"))
    loads = [
        whole_reckoning(LIBRARY, sheet, {"theta_p": f"{angle} deg"}, extra=[*pull, side, both]).working.values
        for angle in (0, 45, 90)
    ]
    assert loads[0][both] == pytest.approx(min(loads[0][symbol] for symbol in pull))
    assert loads[2][both] == pytest.approx(loads[2][side])
    assert loads[1][both] < math.hypot(loads[0][both], loads[2][both])


@pytest.mark.parametrize(
    ("shop", "inputs", "short", "lasting"),
    [
        # 0.70711 / 414 + 0.70711 / 407 = 3.4454e-3; straight out 414 lbf stay, sideways 407, and both are too much
        ("inch", {"thread": "1/2-13 UNC", "T": "5 in"}, "419\N{NO-BREAK SPACE}lbf", "290\N{NO-BREAK SPACE}lbf"),
        # 0.70711 / 1.024 + 0.70711 / 0.395 = 2.481
        ("metric", {"thread": "M10", "T": "90 mm", "n_h": "4", "a_b": "160 mm", "b_b": "90 mm"}, "0.57 kN", "0.40 kN"),
    ],
)
def test_a_load_that_stays_at_an_angle_has_a_line_with_its_angle(
    shop: str, inputs: dict[str, str], short: str, lasting: str
) -> None:
    card = LIBRARY.cards["bonded-stepped-hole"]
    reckoning = reckon(LIBRARY, card, {"shop": shop, **inputs})
    said = [plain(reckoning.said_alone(symbol)) for symbol in ("F_z", "F_zl")]
    assert said == [f"{plain(short)} at 45°", f"{plain(lasting)} at 45°"]


def test_no_load_at_an_angle_is_told_without_its_angle() -> None:
    """Beside its meaning by rule; in a sentence, in the same one; in a table where the angle runs along it."""
    angled = {name: symbol.at for name, symbol in FORMULARY.symbols.items() if symbol.at}
    assert {
        symbol
        for card in LIBRARY.cards.values()
        if card.job
        for symbols in card.job.carries.values()
        for symbol in symbols
        if "theta_p" in whole_reckoning(LIBRARY, card, {}).working.values
        and any("theta_p" in step.parameters for step in FORMULARY.yielding(symbol))
    } == {*angled}
    for sheet in (*LIBRARY.cards.values(), *LIBRARY.reference.values()):
        for path, text in sheet.prose:
            names = {value.name for value in text.values}
            assert {angled[name] for name in names & angled.keys()} <= names, path
    for table in LIBRARY.reference.values():
        runs = {one.input for one in (table.over, table.across, table.each) if one}
        columns = {symbol for _, symbol in table.columned}
        assert {angled[symbol] for symbol in columns & angled.keys()} <= runs, table.title
    for rule in FORMULARY.rules:
        for name in angled.keys() & {*rule.parameters}:
            assert f"{{{name}}}" not in rule.message or f"{{{angled[name]}}}" in rule.message


@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if card.loads])
def test_a_card_with_loads_says_of_each_way_how_it_stays_or_that_there_is_no_number(name: str) -> None:
    """Straight out, sideways, at an angle; one that comes and goes, and one that stays."""
    card = LIBRARY.cards[name]
    page = CardPage(LIBRARY, name, SiteOptions())
    given = {*card.loads}
    ways = {
        "straight out": ({"F_w"}, {"F_sc"}, {"F_p", "F_s"}, {"F_rs", "F_s"}),
        "sideways": ({"F_yn"},),
        "at an angle": ({"F_z"},),
    }
    stays = {"straight out": "F_l", "sideways": "F_ynl", "at an angle": "F_zl"}
    lacks = []
    for way, sets in ways.items():
        if not any(symbols <= given for symbols in sets):
            lacks.append(way)
        elif stays[way] not in given:
            lacks.append(f"{way} that stays")
    assert page.no_loads == " or ".join(part for part in (", ".join(lacks[:-1]), *lacks[-1:]) if part)
    if {"F_l", "F_ynl"} <= given:
        assert "F_zl" in given
    assert ("that stays" in page.no_loads) == (name in ("bedded-solid", "backing-plate", "bonded-screw", "trial-joint"))
    assert [
        symbol
        for symbols in (card.job.carries if card.job else {}).values()
        for symbol in symbols
        if symbol not in given
    ] == []


@pytest.mark.parametrize("grain", ["across", "along"])
@pytest.mark.parametrize("card", CARDS)
def test_a_fitting_of_several_carries_more_in_all_and_less_for_each(card: str, grain: str) -> None:
    """And however many there are, together they never go over what splits the wood."""
    count = "N_y" if card == "backing-plate" else "n_h"
    before = 0.0, math.inf
    for legs in range(1, 9):
        asked = {count: str(legs), "grain": grain, "a_b": "500 mm", "b_b": "100 mm"}
        asked = {name: text for name, text in asked.items() if name in LIBRARY.cards[card].givens}
        values = reckon(LIBRARY, LIBRARY.cards[card], asked, extra=["F_y", "F_yl", "F_ys", "F_ynl"]).working.values
        assert values["F_yn"] <= values["F_y"] * (1 + 1e-9)
        assert values["F_ynl"] <= values["F_yl"] * (1 + 1e-9)
        assert values["F_yn"] * legs >= before[0] * (1 - 1e-9)
        assert values["F_yn"] <= before[1] * (1 + 1e-9)
        if grain == "across":
            assert values["F_yn"] * legs <= values["F_ys"] * (1 + 1e-9)
        before = values["F_yn"] * legs, values["F_yn"]


def test_cards_without_a_side_load_say_so() -> None:
    """A cored deck, a bush and a cast thread: nothing published covers them."""
    for name, card in LIBRARY.cards.items():
        assert ("F_yn" in card.loads) == (name in CARDS)
        if name in ("bedded-cored", "bonded-bush", "cast-thread"):
            assert card.job
            assert not card.job.carries
            assert any("No load is given" in note for note in card.notes), name
