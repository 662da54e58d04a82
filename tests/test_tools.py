"""What to fetch: drills against the lengths that are sold, tubes against their holes, and two jobs by hand."""

from __future__ import annotations

import pytest

from conftest import LIBRARY
from generator.errors import OutOfRange
from generator.reckoning import reckon
from generator.units import plain

INCH = 25.4

# Diameter and length of the flutes in mm: jobber series on suppliers' pages, DIN 338, and two inch sizes.
FLUTES = [
    (3.2, 36),
    (8, 75),
    (8.5, 75),
    (9, 81),
    (10, 87),
    (12, 101),
    (14, 108),
    (16, 120),
    (INCH * 3 / 16, INCH * (2 + 5 / 16)),
    (INCH * 17 / 64, INCH * (2 + 7 / 8)),
]
CARDS = {
    "bonded-stepped-hole": ("l_do", "l_dg"),
    "blind-stud": ("l_do", "l_dg"),
    "cast-thread": ("l_do",),
    "bonded-bush": ("l_db",),
    "worn-hole": ("l_db", "l_dk"),
    "bonded-screw": ("l_ds",),
    "backing-plate": ("l_dk",),
    "bedded-cored": ("l_dk",),
    "bedded-solid": ("l_dk",),
    "cast-seat": ("l_dk",),
    "released-seat": ("l_dk",),
}


@pytest.mark.parametrize(("size", "flutes"), FLUTES)
def test_no_usual_drill_is_taken_for_longer_than_it_is_sold(size: float, flutes: float) -> None:
    """The lines run below every length that was read, and by no more than a fifth where the series is metric."""
    kind = LIBRARY.tables["drills"]["twist"].gives
    line = float(kind["u_f*"].removesuffix(" mm")) + float(kind["k_f*"]) * size
    usual = min(float(kind["n_f*"]) * size, line)
    assert usual <= flutes
    assert usual > 0.78 * flutes


@pytest.mark.parametrize(
    ("name", "given", "shown"),
    [
        # M8 in 90 mm: a cone of 8 / 2 / tan 59 = 2.40, so 92.40 and 10 are 102.40; flutes 23 + 5.6 x 8 = 67.8, too short.
        # 63 and a spur of 13 are 76, and 10 are 86; a flat bit has 110. A tube of 8 - 0.5, and 90 + 40.
        (
            "bonded-stepped-hole",
            {},
            {"l_dg": "103 mm", "n_dg": "1", "l_do": "86 mm", "n_do": "0", "D_tu": "7.5 mm", "L_tu": "130 mm"},
        ),
        # 5/16 in 3 1/2 in: 3.5 + 0.3125 / 2 / tan 59 = 3.594; with 10 mm 3.988. The tube 0.3125 - 0.0197 = 0.293.
        ("bonded-stepped-hole", {"shop": "inch"}, {"l_dg": "4 in", "n_dg": "1", "D_tu": "9/32 in"}),
        # A spur of 13 mm bores no pilot: 15 of shank, 50 of thread, 12 for the tip, 3 of room and 13, and a shank of wood below.
        ("bonded-screw", {"thread": "M12", "guide_drill": "flat"}, {"T_sc": "93 mm", "Z_sc": "105 mm"}),
        # Bored 28 deep in wood of 40, a spur of 13 is 1 out behind; a deck of 6, 15 and 4 mm has it 9 out below.
        ("bonded-stepped-hole", {"T": "40 mm"}, {"L_o": "28 mm", "M_o": "41 mm", "e_x": "1 mm"}),
        ("bedded-cored", {}, {"M_sk": "34 mm", "e_x": "9 mm"}),
        # 40 of wood, 9.0 / 2 / tan 59 = 2.70, block 25, 10: 77.7; 67.7 in the wood and the block, flutes 73.4.
        ("bedded-solid", {"D_k": "9 mm"}, {"l_dk": "78 mm", "n_dk": "0"}),
    ],
)
def test_by_hand(name: str, given: dict[str, str], shown: dict[str, str]) -> None:
    reckoning = reckon(LIBRARY, LIBRARY.cards[name], given)
    assert {symbol: plain(reckoning.shop(symbol)) for symbol in shown} == shown


@pytest.mark.parametrize("shop", ["metric", "inch"])
@pytest.mark.parametrize("name", CARDS)
def test_every_card_that_drills_tells_how_long_the_drill_must_be(name: str, shop: str) -> None:
    card = LIBRARY.cards[name]
    values = reckon(LIBRARY, card, {"shop": shop}).working.values
    told = " ".join(need.what for need in card.needs.tools)
    for symbol in CARDS[name]:
        assert f"{{{symbol}}}" in told
        assert values[symbol] > values["c_ch"]


@pytest.mark.parametrize(("thread", "brush"), [("M4", 0), ("M12", 1)])
def test_a_wide_hole_is_wetted_with_a_brush(thread: str, brush: int) -> None:
    values = reckon(LIBRARY, LIBRARY.cards["bonded-stepped-hole"], {"thread": thread}).working.values
    assert values["n_br"] == brush
    assert values["D_tu"] < values["D_g"]


@pytest.mark.parametrize("gauge", [key for key in LIBRARY.tables["screw_gauges"] if key != "none"])
def test_a_gauge_is_sixty_and_thirteen_thousandths_of_an_inch_a_number(gauge: str) -> None:
    """The American rule for screw gauges; the Handbook prints hundredths of a millimetre."""
    table = LIBRARY.reference["wood-screws"]
    values = reckon(LIBRARY, table, {"gauge": gauge}).working.values
    rule = (0.060 + 0.013 * int(gauge.removeprefix("gauge-"))) * INCH / 1000
    assert values["d_sc"] == pytest.approx(rule, abs=0.00001)
    assert values["D_sc"] < values["d_sc"] <= values["S_sc"]


def test_a_gauge_takes_the_place_of_the_size_of_a_coach_screw() -> None:
    """By hand, #10 of 4.83 mm with 50 mm of thread and 15 mm of shank: edge 4 x 4.83, end 10 x, pilot 0.47 x 4.83 = 2.27."""
    card = LIBRARY.cards["bonded-screw"]
    asked = {"thread": "M12", "gauge": "gauge-10", "pilot": "wood-screw-soft", "wood": "western-redcedar"}
    values = reckon(LIBRARY, card, asked).working.values
    assert values["a_m"] == pytest.approx(0.01932)
    assert values["a_n"] == pytest.approx(0.0483)
    assert values["P_sc"] == pytest.approx(0.0022701)
    assert values["T_sc"] == pytest.approx(0.015 + 0.050 + 0.00483 + 0.003)
    for pilot in ("soft", "middle", "dense"):
        with pytest.raises(OutOfRange, match="wood screw"):
            assert reckon(LIBRARY, card, {**asked, "pilot": pilot}).working.values["D_sc"]


# Bored right through: its depth is how thick the wood or the plate is, and no flag is needed.
THROUGH = {"T_sk", "T_wo", "q_sk", "h_rsp"}


@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if card.job])
def test_every_hole_that_ends_in_the_wood_has_a_flag_on_its_drill(name: str) -> None:
    """On the card's steps, on the bench side and in job sheets alike, and deeper than the hole by the drill's point."""
    card = LIBRARY.cards[name]
    values = reckon(LIBRARY, card, {}).working.values
    told = {value.name for step in card.steps for text in step.texts for value in text.values}
    assert card.job
    for bore in card.job.bores:
        if bore.mark:
            assert bore.mark in told
            # Without a depth it is bored to its mark.
            assert not bore.depth or values[bore.mark] > values[bore.depth]
        else:
            assert bore.depth in (None, *THROUGH, *(["T"] if name == "backing-plate" else [])), bore.what
