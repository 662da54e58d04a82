"""Mixing and thickening: every formula by hand, what may stand round a fastener, and how stiff a mix is."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from conftest import CARD, LIBRARY, for_each, whole_reckoning
from generator.bench import numbers
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import mix
from generator.model.prose import Condition, Value
from generator.model.quantity import read_symbol
from generator.reckoning import Reckoning, input_texts, read_ratio, reckon
from generator.units import QuantityError
from generator.wording import read_prose

FILLERS = LIBRARY.tables["fillers"]
modest = settings(max_examples=60, deadline=None, derandomize=True, database=None)


def table(name: str, **inputs: str) -> Reckoning:
    return whole_reckoning(LIBRARY, LIBRARY.reference[name], inputs)


BY_HAND = [
    # 2 x 1.15 / 0.98
    ("n_w", {"n_v": 2.0, "rho_r": 1150.0, "rho_h": 980.0}, 2.346939),
    ("n_v", {"n_w": 2.346939, "rho_r": 1150.0, "rho_h": 980.0}, 2.0),
    # (2 x 1150 + 980) / 3 = 3280 / 3
    ("rho_m", {"n_v": 2.0, "rho_r": 1150.0, "rho_h": 980.0}, 1093.333),
    # 2.2 x 50 / (2.2 x 50 + 1100) = 110 / 1210
    ("x_f", {"q_f": 2.2, "rho_b": 50.0, "rho_m": 1100.0}, 0.0909091),
    # 7.2 mL over 0.91/1.1 + 0.09/2.2 = 0.827273 + 0.040909 = 0.868182 mL/g
    ("m_t", {"V": 7.2e-6, "x_f": 0.09, "rho_m": 1100.0, "rho_t": 2200.0}, 8.29319e-3),
    # 0.1 x 0.9 + 2 x 0.005 x 1.4 = 0.09 + 0.014
    ("m_n", {"m_t": 0.1, "x_f": 0.1, "N_m": 2.0, "m_w": 0.005, "w_a": 0.4, "m_pl": 0.005}, 0.109),
    # half a fitting's coat of 8 g, with its waste; 15 g less the 5.4 that are thickened
    ("m_wm", {"N_m": 0.5, "m_w": 0.008, "w_a": 0.25}, 0.005),
    ("m_po", {"m_wm": 0.0069, "m_pl": 0.005}, 0.0119),
    ("m_rp", {"m_b": 0.015, "m_u": 0.0054}, 0.0096),
    ("m_b", {"m_n": 0.010, "m_min": 0.015}, 0.015),
    ("m_b", {"m_n": 0.020, "m_min": 0.015}, 0.020),
    # 30 g x 2.346939 / 3.346939, and the rest
    ("m_r", {"m_b": 0.030, "n_w": 2.346939}, 0.0210366),
    ("m_h", {"m_b": 0.030, "n_w": 2.346939}, 8.96341e-3),
    ("m_f", {"m_t": 0.1, "x_f": 0.09}, 0.009),
    ("m_u", {"m_t": 0.1, "m_f": 0.009}, 0.091),
    ("m_i", {"m_b": 0.02, "N_m": 2.0, "m_w": 0.002, "w_a": 0.5, "m_pl": 0.005}, 0.009),
    ("v_y", {"m_y": 0.008, "rho_b": 800.0}, 10e-6),
    ("v_r", {"m_r": 0.023, "rho_r": 1150.0}, 20e-6),
    ("v_h", {"m_h": 0.0098, "rho_h": 980.0}, 10e-6),
    ("v_f", {"m_f": 0.008, "rho_b": 800.0}, 10e-6),
    # 95 g of 100:43, 66.43 and 28.57 g, in whole grams: 29, and 2.325581 x 29 = 67.44 to it; x 17 = 39.53
    ("m_hc", {"m_h": 0.0285664, "s_c": 0.001}, 0.029),
    ("m_rc", {"m_hc": 0.017, "n_w": 2.325581, "s_c": 0.001}, 0.040),
    ("m_rc", {"m_hc": 0.029, "n_w": 2.325581, "s_c": 0.001}, 0.067),
    # in steps of half a gram 28.2 is 28, and 2.325581 x 28 = 65.12 is 65
    ("m_hc", {"m_h": 0.0282, "s_c": 0.0005}, 0.028),
    ("m_rc", {"m_hc": 0.028, "n_w": 2.325581, "s_c": 0.0005}, 0.065),
    # 67 g at 1.15 g/mL is 58.26 mL
    ("v_rc", {"m_rc": 0.067, "rho_r": 1150.0}, 58.26087e-6),
    ("v_hc", {"m_hc": 0.0294, "rho_h": 980.0}, 30e-6),
    # glass spheres are for fairing, dense mineral is not, and where no filler goes in neither matters
    ("k_fa", {"k_u": 0.0, "u_q": 0.32}, 1.0),
    ("k_fa", {"k_u": 1.0, "u_q": 0.32}, 0.0),
    ("k_fa", {"k_u": 0.0, "u_q": 0.0}, 0.0),
    ("k_jo", {"k_fa": 1.0}, 0.0),
    ("k_jo", {"k_fa": 0.0}, 1.0),
    # 50 parts to a hundred instead of 42.609: 50 / 42.609 - 1
    ("e_v", {"n_w": 2.346939, "n_v": 2.0}, 0.173469),
    # 0.05 g of 2 g and of 5 g: 2.5 and 1 %
    ("e_h", {"s_c": 0.0001, "m_r": 0.005, "m_h": 0.002}, 0.035),
    # 1.4 g of hardener and 3.5 g of resin: 0.05 g is 1/28 of the one and 1/70 of the other, 1/20 in all
    ("m_ok", {"s_c": 0.0001, "e_t": 0.05, "n_w": 2.5}, 4.9e-3),
    ("q_f", {"u_q": 0.62, "q_s": 1.4}, 0.868),
    # a tenth of the whole is a ninth of the rest
    ("m_y", {"m_i": 0.09, "x_f": 0.1}, 0.01),
    ("m_o", {"V_o": 15e-6, "rho_b": 800.0}, 0.012),
    ("n_o", {"m_y": 0.030, "m_o": 0.012}, 2.5),
    # 0.5 / 1.1 + 0.5 / 2.7 = 0.454545 + 0.185185 = 0.639731 mL/g
    ("rho_p", {"x_f": 0.5, "rho_m": 1100.0, "rho_t": 2700.0}, 1563.158),
    # 200 g at 1.563158 g/mL
    ("V_y", {"m_i": 0.1, "m_y": 0.1, "rho_p": 1563.158}, 127.946e-6),
]


@for_each(BY_HAND)
def test_by_hand(symbol: str, values: dict[str, float], result: float) -> None:
    (formula,) = [step for step in FORMULARY.formulas if step.symbol == symbol and set(step.parameters) == set(values)]
    assert formula.call(values) == pytest.approx(result, rel=1e-5)


def test_a_refusal_names_every_filler_that_may_stand_round_a_fastener_and_no_other() -> None:
    """The sentence shortens a title from its end, and keeps the order of the table."""
    sentence = mix.STRONG_FILLERS.removeprefix("Take ").replace(" or ", ", ").split(", ")
    strong = [row.title for row in FILLERS.values() if read_symbol("k_u", row.gives["k_u"]) == 1]
    assert len(strong) == len(sentence) >= 2
    assert all(title.startswith(word) for title, word in zip(strong, sentence, strict=True))


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {formula.symbol for formula in FORMULARY.formulas if formula.function.__module__ == mix.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


@pytest.mark.parametrize("filler", FILLERS)
def test_only_what_holds_a_thread_is_worked_on_a_bonded_card(filler: str) -> None:
    """The row's number and its words must say the same, and the card must obey."""
    row = FILLERS[filler]
    assert row.note is not None
    never = row.note.startswith("Never round")
    assert never == (read_symbol("k_u", row.gives["k_u"]) == 0)
    if never:
        with pytest.raises(OutOfRange, match="never goes round a loaded fastener"):
            whole_reckoning(LIBRARY, LIBRARY.cards[CARD], {"filler": filler})
    else:
        assert whole_reckoning(LIBRARY, LIBRARY.cards[CARD], {"filler": filler}).working.values["m_f"] > 0
    assert table("fillers", filler=filler).working.values["V_y"] > 0


@pytest.mark.parametrize("filler", FILLERS)
def test_stiffer_takes_more_filler_and_yields_more(filler: str) -> None:
    steps = [
        table("fillers", filler=filler, consistency=consistency).working.values
        for consistency in ("runny", "sagging", "soft", "stiff")
    ]
    assert steps[0]["m_y"] == 0
    for softer, stiffer in pairwise(steps):
        assert softer["m_y"] < stiffer["m_y"]
        assert softer["V_y"] < stiffer["V_y"]


@modest
@given(st.sampled_from(list(FILLERS)), st.integers(1, 100), st.integers(1, 300))
def test_mass_and_volume_are_kept(filler: str, grams: int, loading: int) -> None:
    """What goes in comes out: masses add, and each part takes the room of its own solid."""
    values = table("fillers", filler=filler, m_i=f"{grams} g", q_f=f"{loading / 100}").working.values
    assert values["V_y"] * values["rho_p"] == pytest.approx(values["m_i"] + values["m_y"], rel=1e-12)
    room = values["m_i"] / values["rho_m"] + values["m_y"] / values["rho_t"]
    assert values["V_y"] == pytest.approx(room, rel=1e-12)
    assert values["n_o"] * values["V_o"] * values["rho_b"] == pytest.approx(values["m_y"], rel=1e-12)


@modest
@given(st.integers(1, 100), st.integers(1, 5))
def test_a_batch_of_the_least_size_is_as_far_off_as_forgiven(tenths: int, parts: int) -> None:
    givens = {"s_c": f"{tenths / 10} g", "ratio": f"{parts}:1 by volume"}
    least = table("scales", **givens).working.values["m_ok"]
    values = table("scales", **givens, m_b=f"{least * 1000:.9f} g").working.values if least >= 0.001 else None
    if values is not None:
        assert values["e_h"] == pytest.approx(values["e_t"], rel=1e-6)


def test_the_published_loadings_are_near() -> None:
    """The trade's own figures for sagging and soft mixes, filler by filler, lie within a fifth of the parts used here."""
    practice = {
        "dense-mineral": (0.5, 0.9),
        "colloidal-silica": (0.7, 1.3),
        "cotton-fibre": (0.5, 1.0),
        "wood-flour": (0.6, 1.2),
        "glass-spheres": (0.8, 1.5),
        "phenolic-spheres": (1.0, 1.8),
        "milled-glass": (0.3, 0.6),
    }
    for filler, loadings in practice.items():
        for consistency, loading in zip(("sagging", "soft"), loadings, strict=True):
            own = table("fillers", filler=filler, consistency=consistency).working.values["q_f"]
            assert own == pytest.approx(loading, rel=0.2), (filler, consistency)


@pytest.mark.parametrize("text", ["2:0 by volume", "0:1 by weight", "-2:1 by volume", "2:-1 by weight"])
def test_each_part_of_a_ratio_is_above_nothing(text: str) -> None:
    with pytest.raises(QuantityError, match="both parts are plain numbers above 0"):
        read_ratio(text)


@pytest.mark.parametrize("inputs", [{"n_v": "3"}, {"n_w": "3"}])
def test_a_number_takes_the_place_of_the_ratio(inputs: dict[str, str]) -> None:
    card = LIBRARY.cards["mixing"]
    texts = input_texts(LIBRARY, card, inputs, "metric")
    assert "ratio" in input_texts(LIBRARY, card, {}, "metric")
    assert "ratio" not in texts
    assert {*texts} >= {*inputs}


@pytest.mark.parametrize(
    ("inputs", "told"),
    [
        ({"ratio": "2:1 by volume"}, "2:1 by volume"),
        ({"ratio": "2:1 volume"}, "2:1 by volume"),
        ({"ratio": " 100 : 43 weight "}, "100:43 by weight"),
        ({"ratio": "2,5:1 by weight"}, "2.5:1 by weight"),
        ({"ratio": "1/3:1 by volume"}, "1/3:1 by volume"),
        ({"ratio": "5:2.50 by volume"}, "5:2.50 by volume"),
        ({"ratio": "3 1/2 : 1 by volume"}, "3 1/2:1 by volume"),
        ({"ratio": "1½:2/3 by weight"}, "1 1⁄2:2/3 by weight"),
        ({"n_w": "2.35"}, "2.35:1 by weight"),
        ({"n_v": "7/3"}, "2.33333:1 by volume"),
        ({"n_v": "3"}, "3:1 by volume"),
    ],
)
def test_a_ratio_is_told_as_the_can_states_it(inputs: dict[str, str], told: str) -> None:
    """By weight where it was given so, on every card that mixes, whatever else is worked from it."""
    mixing = {name: card for name, card in LIBRARY.cards.items() if "ratio" in card.givens}
    assert len(mixing) >= 12
    for card in mixing.values():
        reckoning = reckon(LIBRARY, card, inputs, only=["n_w"])
        assert reckoning.told(Value("ratio")) == told
        assert any(value.name == "ratio" for need in card.needs.materials for value in need.what.values) or (
            any(value.name == "ratio" for value in card.steps[0].do.values)
        )


@pytest.mark.parametrize("consistency", ["runny", "sagging", "soft", "stiff"])
def test_nobody_is_told_to_stir_in_no_filler(consistency: str) -> None:
    """A mix may be runny where it is only mixed; a joint is not filled with it, and its card says so and stops."""
    thickens = {name: card for name, card in LIBRARY.cards.items() if "consistency" in card.givens}
    assert len(thickens) >= 12
    for name, card in thickens.items():
        reckoning = reckon(LIBRARY, card, {"consistency": consistency})
        assert reckoning.holds(card.steps_stand) == (name == "mixing" or consistency != "runny"), name
        if not reckoning.holds(card.steps_stand):
            assert any("runny" in why for why in reckoning.reasons)
            continue
        told = {part.name for _, found in read_prose(card, reckoning) for part in found if isinstance(part, Value)}
        told |= {value.name for entry in numbers(card) if reckoning.holds(entry.when) for value in entry.value.values}
        filler = {"m_y", "v_y", "m_f", "v_f", "v_mx"} & told
        assert all(reckoning.holds(Condition(symbol, 0)) for symbol in filler), (name, filler)
        assert bool(filler) == (consistency != "runny")
        minds = [said for said in reckoning.working.warnings if "stiff" in said]
        wants_soft = name in ("bonded-bush", "bonded-screw", "cast-thread")
        wants_stiff = "V_rs" in reckoning.working.values or reckoning.working.values.get("V_b", 0) > 0
        assert len(minds) == (wants_soft and consistency == "stiff") + (wants_stiff and consistency != "stiff"), name
