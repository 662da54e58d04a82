"""How a job is parted into mixes: the formulas by hand, and every card's amounts walked from the cup to the waste."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from conftest import for_each
from generator.errors import WorkingError
from generator.formula import FORMULARY
from generator.formulas import batch
from generator.model.library import Library
from generator.model.prose import Condition, Value
from generator.model.schema import Card
from generator.reckoning import InputError, Reckoning, reckon
from generator.wording import read_prose

ML, G, MINUTE = 1e-6, 1e-3, 60.0

# Worked with a pocket calculator, in SI units.
BY_HAND = [
    ("t_u", {"n_h": 4.0, "t_1": 3 * MINUTE}, 12 * MINUTE),
    # 16 mL want two syringes that give 15 mL each, and each keeps 5 mL; with the waste 22.4 + 10 mL
    ("V_u", {"V_1": 16 * ML, "w_a": 0.4, "V_s": 20 * ML, "u_s": 0.75}, 32.4 * ML),
    # 14 mL come out of one, the waste beside it or not: 19.6 + 5 mL
    ("V_u", {"V_1": 14 * ML, "w_a": 0.4, "V_s": 20 * ML, "u_s": 0.75}, 24.6 * ML),
    # the 6 mL of 40 that are spread leave 34 x 1.4 = 47.6 mL for four syringes: 56 + 4 x 5 mL
    ("V_u", {"V_1": 40 * ML, "V_b": 6 * ML, "w_a": 0.4, "V_s": 20 * ML, "u_s": 0.75}, 76 * ML),
    # 32.4 mL x 1.5 g/mL = 48.6 g, half of it filler; and 2 g of coat with its waste
    ("m_e", {"V_u": 32.4 * ML, "rho_p": 1500.0, "x_f": 0.5, "m_w": 2 * G, "w_a": 0.4}, 27.1 * G),
    # 100 - 5 - 2 = 93 g, and a tenth for what weighing rounds
    ("m_ro", {"m_c": 100 * G, "m_pl": 5 * G, "m_sa": 4 * G, "x_f": 0.5}, 92.9 * G),
    ("m_ro", {"m_c": 100 * G, "m_pl": 5 * G, "m_sa": 4 * G, "x_f": 0.25}, 91.9 * G),
    # in several cups one more syringe of each keeps back 5 mL, 7.5 g with 3.75 g of filler: 170 of 85 g, and 180 of 80 g
    ("r_c", {"m_e": 170 * G, "m_ro": 88.75 * G, "V_s": 20 * ML, "u_s": 0.75, "rho_p": 1500.0, "x_f": 0.5}, 2.0),
    ("r_c", {"m_e": 180 * G, "m_ro": 85.625 * G, "V_s": 20 * ML, "u_s": 0.75, "rho_p": 1500.0, "x_f": 0.25}, 2.25),
    # one cup does
    ("r_c", {"m_e": 80 * G, "m_ro": 80 * G, "V_s": 20 * ML, "u_s": 0.75, "rho_p": 1500.0, "x_f": 0.5}, 1.0),
    ("r_c", {"m_e": 23 * G, "m_ro": 92 * G, "V_s": 20 * ML, "u_s": 0.75, "rho_p": 1500.0, "x_f": 0.5}, 0.25),
    ("r_c", {"m_e": 184 * G, "m_ro": 92 * G}, 2.0),
    # 0.29 of a cup; 4 of 28 - 15 = 13 min
    ("r_m", {"r_c": 0.29, "t_u": 4 * MINUTE, "t_w": 28 * MINUTE, "t_x": 15 * MINUTE, "t_pt": 5 * MINUTE}, 4 / 13),
    # eight holes of 4 min by mixes that leave 13 min each
    ("r_m", {"r_c": 0.29, "t_u": 32 * MINUTE, "t_w": 28 * MINUTE, "t_x": 15 * MINUTE, "t_pt": 5 * MINUTE}, 32 / 13),
    # two cups; a mix that lasts for less than one fitting counts as one
    ("r_m", {"r_c": 2.0, "t_u": 4 * MINUTE, "t_w": 16 * MINUTE, "t_x": 15 * MINUTE, "t_pt": 5 * MINUTE}, 2.0),
    ("K_m", {"r_m": 4 / 13}, 3.0),
    ("K_m", {"r_m": 1.0}, 1.0),
    ("K_m", {"r_m": 1.2}, 0.5),
    # two legs in each of four fittings
    ("N_h", {"N": 4.0, "n_h": 2.0}, 8.0),
    ("n_q", {"r_m": 4 / 13}, 1.0),
    ("n_q", {"r_m": 2.3}, 3.0),
    # Two cups of 15 min in a tray that stays open for 70 min use up 3/7 of the first one's life: 4/7 of 28 min are left.
    ("t_ls", {"t_w": 28.0, "n_q": 2.0, "t_x": 15.0, "t_o": 70.0}, 16.0),
    ("t_ls", {"t_w": 28.0, "n_q": 5.0, "t_x": 15.0, "t_o": 70.0}, 0.0),
    ("N_w", {"N_m": 3.0, "n_m": 3.0}, 3.0),
    ("N_w", {"N_m": 2.0, "n_m": 1.0}, 0.0),
    ("N_w", {"N_m": 1 / 3, "n_m": 9.0}, 0.0),
    ("n_m", {"N": 7.0, "K_m": 3.0}, 3.0),
    ("n_m", {"N": 4.0, "K_m": 0.5}, 8.0),
    # seven by three mixes: three, three and one
    ("N_m", {"N": 7.0, "K_m": 3.0, "n_m": 3.0}, 3.0),
    ("N_m", {"N": 4.0, "K_m": 3.0, "n_m": 2.0}, 2.0),
    ("N_m", {"N": 4.0, "K_m": 0.5, "n_m": 8.0}, 0.5),
    ("t_bm", {"n_l": 3.0, "t_bl": 20 * MINUTE}, 60 * MINUTE),
    # six mixes of lower lifts beside three of the last
    ("t_bm", {"n_pl": 6.0, "n_m": 3.0, "t_bp": 25 * MINUTE}, 75 * MINUTE),
    ("t_bh", {"N": 3.0, "t_bn": 130 * MINUTE}, 390 * MINUTE),
    # three seats of 85 min, and nine mixes of two lifts
    ("t_bh", {"N": 3.0, "t_bf": 85 * MINUTE, "n_m": 9.0, "t_bm": 50 * MINUTE}, 705 * MINUTE),
]  # fmt: skip


@for_each(BY_HAND)
def test_by_hand(symbol: str, values: Mapping[str, float], result: float) -> None:
    own = [one for one in FORMULARY.formulas if one.symbol == symbol and one.function.__module__ == batch.__name__]
    (formula,) = (one for one in own if set(one.parameters) == set(values))
    assert formula.call(values) == pytest.approx(result, rel=1e-9)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {one.symbol for one in FORMULARY.formulas if one.function.__module__ == batch.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


# The walk. What a card puts into the work out of one mix, in the order of its steps: a symbol, how many of it one
# fitting takes, and whether it is thickened. What the steps do not say by a number is not in it.
WORK: dict[str, list[tuple[str, str, bool]]] = {
    "bonded-stepped-hole": [("m_w", "", False), ("E_o", "n_h", True), ("V_b", "", True)],
    "blind-stud": [("m_w", "", False), ("E_o", "n_h", True), ("V_b", "", True)],
    "trial-joint": [("m_w", "", False), ("E_o", "n_h", True)],
    "bonded-bush": [("m_w", "", False), ("E_bu", "n_h", True)],
    "cast-thread": [("m_w", "", False), ("E_ct", "n_h", True)],
    "bedded-cored": [("m_w", "", False), ("V_l", "n_h", True)],
    "worn-hole": [("m_w", "", False), ("V_l", "n_h", True)],
    "cast-seat": [("m_w", "", False), ("V_rs", "", True)],
    "released-seat": [("m_w", "", False), ("V_rs", "", True)],
    "backing-plate": [("m_w", "", False), ("V_rs", "", True)],
    "bonded-screw": [("m_w", "", False), ("I_sc", "n_h", True), ("C_sc", "n_h", True)],
}
JOBS: list[dict[str, str]] = [
    {"shop": "metric"},
    {"shop": "inch"},
    {"thread": "M4", "n_h": "1", "N": "1"},
    {"thread": "M6", "n_h": "1", "N": "1"},
    {"thread": "#6-32 UNC", "n_h": "1", "N": "1"},
    {"thread": "M12", "n_h": "4", "N": "4", "T": "200 mm", "a_e": "100 mm"},
    {"thread": "M20", "n_h": "2", "N": "4"},
    {"thread": "1/2-13 UNC", "n_h": "4", "N": "6", "hardener": "slow"},
    {"thread": "M8", "N": "5", "hardener": "fast", "T_a": "12 °C"},
    {"thread": "M10", "N": "12", "hardener": "medium", "T_a": "30 °C"},
    {"thread": "M8", "a_b": "200 mm", "b_b": "120 mm", "w_a": "20 %"},
    # A fitting in several cups, each with a syringe of its own that is large and half empty.
    {
        "thread": "M20",
        "n_h": "4",
        "T": "250 mm",
        "a_b": "300 mm",
        "b_b": "150 mm",
        "V_s": "50 mL",
        "hardener": "slow",
        "t_x": "5 min",
    },
    {"thread": "M16", "n_h": "3", "T": "200 mm", "V_s": "60 mL", "hardener": "slow", "t_x": "5 min"},
]


def reckonings_of(library: Library, card: Card) -> list[Reckoning]:
    """The card worked for those of the jobs that are in its range."""
    found = []
    for inputs in JOBS:
        try:
            reckoning = reckon(library, card, {k: v for k, v in inputs.items() if k in card.givens or k == "shop"})
            assert reckoning.working.values["m_r"] > 0  # an amount out of its range is none
            found.append(reckoning)
        except (InputError, WorkingError):
            continue
    return found


@pytest.mark.parametrize("name", sorted(WORK))
def test_a_mix_reaches_for_all_that_the_steps_take_out_of_it(library: Library, name: str) -> None:
    """Weighed out = used + kept + left in syringes + waste, in grams, and the waste no less than nothing."""
    card = library.cards[name]
    reckonings = reckonings_of(library, card)
    assert len(reckonings) >= 4
    for reckoning in reckonings:
        value = reckoning.working.values
        neat, thick = value["m_r"] + value["m_h"], value["rho_p"]
        filler = value["m_y"] if "m_y" in value else value["m_f"]
        mixed = neat + filler
        thickened = mixed - neat + (value["m_i"] if "m_i" in value else value["m_u"])
        plain = neat - (thickened - filler)
        used_plain, used_thick = value["m_pl"], value["m_sa"]
        for symbol, each, thickens in WORK[name]:
            number = value["N_m"] * (value[each] if each else 1)
            amount = number * value[symbol] * (thick if symbol[0] != "m" else 1)
            if thickens:
                used_thick += amount
            else:
                used_plain += amount
        kept_back = value["n_s"] * value["V_s"] * (1 - value["u_s"]) * thick if "n_s" in value else 0.0
        # A screw's hole is half full of plain mix at least, before anything is thickened.
        assert neat >= value["H_sc"] * value["rho_m"] / 2 if name == "bonded-screw" else True
        assert plain - used_plain >= -1e-9, (reckoning.texts, plain, used_plain)
        assert thickened - used_thick - kept_back >= -1e-9, (reckoning.texts, thickened, used_thick, kept_back)
        waste = plain - used_plain + thickened - used_thick - kept_back
        assert mixed == pytest.approx(used_plain + used_thick + kept_back + waste)
        # Out of the tray come the sample and the bed; the syringes give out the rest.
        if "n_s" in value:
            spread = value["m_sa"] + value["N_m"] * value.get("V_b", 0.0) * thick
            assert value["n_s"] * value["V_s"] * thick >= (used_thick - spread + kept_back) * (1 - 1e-9)


@pytest.mark.parametrize("name", sorted(WORK))
def test_the_mixes_do_the_job_and_none_is_more_than_a_cup(library: Library, name: str) -> None:
    for reckoning in reckonings_of(library, library.cards[name]):
        value = reckoning.working.values
        assert value["n_m"] * value["N_m"] >= value["N"] - 1e-9
        assert value["m_r"] + value["m_h"] <= max(value["m_c"], value["m_min"]) * (1 + 1e-9)
        weighed = sum(float(reckoning.number(symbol)) for symbol in ("m_r", "m_h"))
        assert weighed <= max(100.0, 1000 * value["m_min"] + 0.1) + 1e-9, (reckoning.texts, weighed)
        assert value["r_m"] * min(1, value["N_m"]) <= 1 + 1e-9 or value["N_m"] < 1
        free = max(value["t_w"] - value["t_x"], min(value["t_u"], value["t_pt"]))
        assert value["N_m"] * value["t_u"] <= free * (1 + 1e-9), "filled before it goes off"


@pytest.mark.parametrize("name", sorted(WORK))
def test_nothing_is_weighed_for_a_fitting_whose_first_cup_goes_off_before_its_last(library: Library, name: str) -> None:
    """Cups that take so long as no hands do: one does for a fitting, or there is no number and no step stands."""
    card = library.cards[name]
    large = {"thread": "M12" if name == "bonded-screw" else "M20", "L_sc": "150 mm", "n_h": "6", "T": "250 mm", "a_b": "400 mm",
             "b_b": "300 mm", "R_c": "900 mm", "N": "2"}  # fmt: skip
    inputs = {"T_a": "12 °C", "hardener": "fast", "t_x": "25 min", "t_1": "4 min", "t_u": "4 min", "m_min": "15 g"}
    reckoning = reckon(library, card, {k: v for k, v in {**large, **inputs}.items() if k in card.givens})
    values = reckoning.working.values
    used = values["n_q"] * values["t_x"] / values["t_o"] + values["t_u"] / values["t_w"]
    late = values["n_q"] > 1 and used > 1
    why = "in the tray before the last is in place" if values["r_c"] > 1 else "it goes off before the last is"
    told = any(why in reason for reason in reckoning.reasons)
    assert (late, late, late) == (told, not reckoning.has("m_h"), not reckoning.holds(card.steps_stand)), (
        reckoning.reasons
    )
    assert late or name in ("backing-plate", "bedded-cored", "worn-hole", "trial-joint", "released-seat", "cast-seat")


@pytest.mark.parametrize(
    ("name", "size", "cups"), [("cast-seat", {}, 1), ("cast-seat", {"a_b": "400 mm", "b_b": "200 mm", "R_c": "2 m"}, 9)]
)
def test_several_cups_are_told_of_where_the_weight_asks_for_them(
    library: Library, name: str, size: dict[str, str], cups: int
) -> None:
    """A fast hardener lasts 16 min, and 15 of them go by before the seat of 6 min is heaped. By weight a small one takes one
    cup, so that no number of cups is told; a large one takes more."""
    reckoning = reckon(library, library.cards[name], {"hardener": "fast", "T_a": "20 °C", **size})
    values = reckoning.working.values
    assert (values["r_c"] > 1) == (cups > 1)
    (why,) = (reason for reason in reckoning.reasons if "slower hardener" in reason)
    assert ("cups" in why) == (cups > 1)
    assert (f"lasts {reckoning.said('t_w')}" in why) == (cups == 1)
    assert not reckoning.has("m_r")


@pytest.mark.parametrize("name", sorted(WORK))
def test_the_steps_say_what_is_set_aside_and_how_many_mixes(
    library: Library, files: Mapping[str, str], name: str
) -> None:
    card = library.cards[name]
    one, many = (reckon(library, card, {"N": number}) for number in (card.givens["N"].min or "1", "40"))
    assert many.working.values["n_m"] > 1
    assert library.alike
    several = library.alike.several_mixes

    def told(reckoning: Reckoning) -> tuple[set[str], str]:
        parts = [part for path, found in read_prose(card, reckoning) if path[0] == "steps" for part in found]
        parts += several.chosen(reckoning.holds) if reckoning.holds(Condition("n_m", 1)) else []
        values = {part.name for part in parts if isinstance(part, Value)}
        # The coats are told for one fitting, or for all that a mix is for.
        values |= {"m_w"} if "m_wm" in values else set()
        return values, " ".join("".join(part for part in parts if isinstance(part, str)).split())

    for reckoning in (one, many):
        assert {
            "m_pl",
            "m_sa",
            "m_r",
            "m_h",
            *(symbol for symbol, _, _ in WORK[name] if reckoning.working.values[symbol]),
        } <= told(reckoning)[0]
    # Whole fittings to a mix, or whole cups to a fitting; where neither is so there is a mix for each.
    values = many.working.values
    assert {"n_m", *(["N_w"] if values["N_w"] else []), *(["n_q", "t_ls"] if values["n_q"] > 1 else [])} <= told(many)[
        0
    ]
    assert values["N_w"] or values["n_q"] > 1
    assert files[f"cards/{name}.md"].count(several.partition("{")[0]) == 1, "in the step that weighs"
    assert "into one cup" not in told(many)[1]
    assert "spoonful" not in told(one)[1]
