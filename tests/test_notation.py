"""Every line printed on every page comes out to the result printed on the same line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from conftest import all_hold
from generator.formula import FORMULARY, Formula
from generator.language import Language, speaking
from generator.model.library import Library
from generator.notation import GREEK, formula_line, formula_text, numbers_line, numbers_text
from generator.reckoning import reckon
from mathml_calculator import MATH, Quantity, equation

CARD = "bonded-stepped-hole"
JOBS = [
    {},
    {"shop": "inch"},
    {"card": "blind-stud", "thread": "M24"},
    {"card": "blind-stud", "thread": "#6-40 UNF", "large_drill": "twist", "ratio": "100:43 by weight"},
    {"thread": "M10x1.25", "T": "137 mm", "N": "17", "n_h": "2", "filler": "colloidal-silica"},
]
SIX_FIGURES = 1e-4  # a small difference of two near squares costs two of them


def agree(left: object, right: object) -> bool:
    """Equal within what six printed figures can carry."""
    unit = right.units  # type: ignore[attr-defined]
    a, b = float(left.to(unit).magnitude), float(right.magnitude)  # type: ignore[attr-defined]
    return abs(a - b) <= SIX_FIGURES * max(abs(a), abs(b)) + 2e-6


def assert_line_holds(text: str) -> None:
    sides = equation(text, AnySymbol())
    for side in sides[2:]:
        assert agree(sides[1], side), f"{sides} in {text}"


class AnySymbol(dict):  # type: ignore[type-arg]
    """The letter before the first equals sign has no value to compare."""

    def __missing__(self, key: str) -> object:
        return Quantity(1.0)


@pytest.mark.parametrize("inputs", JOBS, ids=str)
def test_numbers_put_in_come_out_to_the_answer(library: Library, inputs: dict[str, str]) -> None:
    own = dict(inputs)
    reckoning = reckon(library, library.cards[own.pop("card", CARD)], own)
    steps = [step.by for step in reckoning.working.trail if isinstance(step.by, Formula)]
    assert len(steps) > 30
    for formula in steps:
        assert_line_holds(numbers_line(formula, reckoning.working.values, FORMULARY.symbols, reckoning.system))


@pytest.fixture(scope="module")
def values(library: Library) -> dict[str, float]:
    """A value of every symbol that some card or table works, and of those that are worked for others only."""
    found = {"V_e": 1e-7, "A_e": 1e-5, "h_g": 0.002, "c_e": 0.002, "D_hw": 0.009}
    for table in library.reference.values():
        found |= reckon(library, table, {}).working.values
    for card in library.cards.values():
        found |= reckon(library, card, {}, extra=card.loads).working.values
    found |= reckon(library, library.cards[CARD], {"thread": "M12", "ratio": "3:1 by volume"}).working.values
    unworked = {name: 0.5 for step in FORMULARY.formulas for name in (*step.parameters, step.symbol)}
    return {**unworked, **found, "n_w": found["n_w"], "h_o": 0.001, "alpha_o": 1.7, "alpha_g": 2.1}


def test_the_printed_formula_is_the_computed_one(values: dict[str, float]) -> None:
    """Read the letters off the printed formula, put our SI values in, compare with the function's number."""
    letters = {}
    for name, value in values.items():
        letter, underscore, index = name.partition("_")
        letters[GREEK.get(letter, letter) + underscore + index] = Quantity(value, FORMULARY.symbols[name].unit)

    def comes_out(formula: Formula) -> None:
        line = formula_line(formula)
        assert not re.search(r"<mo>[+−]</mo>(<[^/>]*>)*[-−]", line), "one sign at a time"
        printed = equation(line, letters)[1]
        number = float(formula.call(values))
        assert float(printed.to(formula.unit).magnitude) == pytest.approx(number, rel=1e-9, abs=0)  # type: ignore[attr-defined]

    all_hold(comes_out, FORMULARY.formulas, lambda formula: formula.where)


def test_a_formula_has_its_numbers_as_the_language_writes_them() -> None:
    """Whichever language it was written in before."""
    (formula,) = (one for one in FORMULARY.formulas if one.symbol == "n_l")
    for language, number in ((None, "1.05"), (Language("de", {}), "1,05"), (None, "1.05")):
        with speaking(language):
            assert f"<mn>{number}</mn>" in formula_line(formula)


def test_a_decimal_comma_parts_no_arguments() -> None:
    """Where a number has a comma in it, a semicolon stands between two arguments, on a page and in a terminal."""
    for language, between in ((None, ","), (Language("de", {}), ";")):
        with speaking(language):
            for formula in FORMULARY.formulas:
                shown, text = formula_line(formula), formula_text(formula)
                other = {",": ";", ";": ","}[between]
                assert f"<mo>{other}</mo>" not in shown, formula.symbol
                assert f"{other} " not in text, formula.symbol
            (length,) = (one for one in FORMULARY.formulas if one.symbol == "b_rs")
            assert f"<mo>{between}</mo>" in formula_line(length)
            number = "1.01" if between == "," else "1,01"
            assert formula_text(length) == f"max({number} × b_p{between} 4 × d)"


def test_every_line_on_every_built_page_holds(site: Path) -> None:
    """A line that stands on several pages is worked once."""
    lines = {text for page in site.rglob("*.html") for text in MATH.findall(page.read_text(encoding="utf-8"))}
    worked = {text.replace("&nbsp;", "\u00a0") for text in lines if re.search(r"<mo>=</mo>.*<mo>=</mo>", text)}
    assert len(worked) > 60
    all_hold(assert_line_holds, sorted(worked))


def test_a_wrong_answer_would_be_seen(library: Library) -> None:
    reckoning = reckon(library, library.cards[CARD], {})
    formula = next(step.by for step in reckoning.working.trail if step.symbol == "V_r" and isinstance(step.by, Formula))
    spoilt = {**reckoning.working.values, "V_r": reckoning.working.values["V_r"] * 1.001}
    with pytest.raises(AssertionError):
        assert_line_holds(numbers_line(formula, spoilt, FORMULARY.symbols, "metric"))


def test_layout_is_the_authors() -> None:
    by_symbol = {formula.symbol: formula_text(formula) for formula in FORMULARY.formulas}
    assert by_symbol["d_2"] == "d − 3 / 4 × H"
    assert by_symbol["V_r"] == "π / 4 × (D_o² − d_v²) × L_o"
    assert by_symbol["d_v"] == "√((8 × d² + 5 × d × D_1 + 11 × D_1²) / 24)"
    assert by_symbol["m_t"] == "V / ((1 − x_f) / rho_m + x_f / rho_t)"
    assert [formula_text(formula) for formula in FORMULARY.formulas if formula.symbol == "n_s"] == [
        "⌈N_m × (V_1 − V_b) × (1 + w_a) / (V_s × u_s)⌉",
        "⌈N_m × V_1 / (V_s × u_s)⌉",
    ]
    assert by_symbol["h_o"] == "D_o × cos(alpha_o / 2) / (2 × sin(alpha_o / 2))"


def test_the_terminal_shows_the_same_numbers(library: Library) -> None:
    reckoning = reckon(library, library.cards[CARD], {})
    formula = next(step.by for step in reckoning.working.trail if step.symbol == "V_r" and isinstance(step.by, Formula))
    text = numbers_text(formula, reckoning.working.values, FORMULARY.symbols, "metric").replace("\u00a0", " ")
    assert text == "π / 4 × ((14 mm)² − (7.25677 mm)²) × 63 mm = 7092.44 mm³ = 7.09244 mL"
