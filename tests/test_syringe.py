"""Filling syringes from one mix: every formula by hand, and where nothing would come out."""

from __future__ import annotations

import pytest

from conftest import LIBRARY, whole_reckoning, whole_working
from generator.errors import OutOfRange
from generator.formula import FORMULARY
from generator.formulas import syringe
from generator.reckoning import InputError

ML = 1e-6

BY_HAND = [
    # a fifth of 30 g
    ("m_mx", {"m_b": 0.030, "u_mx": 0.2, "u_q": 0.62}, 0.006),
    # a runny mix is plain as it is
    ("m_mx", {"m_b": 0.030, "u_mx": 0.2, "u_q": 0.0}, 0.0),
    ("m_i", {"m_b": 0.030, "m_mx": 0.006}, 0.024),
    # 20 g at 0.8 g/mL
    ("v_mx", {"m_y": 0.020, "rho_b": 800.0}, 25 * ML),
    # a syringe of 20 loads 18; 31 less the 3 not worth another is 28: up to 2
    ("n_mx", {"V_y": 31 * ML, "V_s": 20 * ML, "u_p": 0.1, "V_nx": 3 * ML}, 2.0),
    # 38.9 less 3 is 35.9, under two loads of 18: what is over is not worth a third
    ("n_mx", {"V_y": 38.9 * ML, "V_s": 20 * ML, "u_p": 0.1, "V_nx": 3 * ML}, 2.0),
    ("n_mx", {"V_y": 45 * ML, "V_s": 20 * ML, "u_p": 0.1, "V_nx": 3 * ML}, 3.0),
    ("n_mx", {"V_y": 2 * ML, "V_s": 20 * ML, "u_p": 0.1, "V_nx": 3 * ML}, 1.0),
    # two loads of 18, and 2.9 is left in the tray
    ("V_px", {"V_y": 38.9 * ML, "V_s": 20 * ML, "u_p": 0.1, "n_mx": 2.0}, 18 * ML),
    ("V_px", {"V_y": 45 * ML, "V_s": 20 * ML, "u_p": 0.1, "n_mx": 3.0}, 15 * ML),
    # 5 less the 2 of air under the piston, and none where all that is loaded comes out
    ("V_nx", {"V_s": 20 * ML, "u_s": 0.75, "u_p": 0.1}, 3 * ML),
    ("V_nx", {"V_s": 20 * ML, "u_s": 1.0, "u_p": 0.1}, 0.0),
    # three loads of 15, each less 3
    ("V_mx", {"V_px": 15 * ML, "V_nx": 3 * ML, "n_mx": 3.0}, 36 * ML),
    # half of a full one comes out where half can be pushed out: 54 less the 24 of nose and tube
    ("V_mx", {"V_px": 54 * ML, "V_nx": 24 * ML, "n_mx": 1.0}, 30 * ML),
    # 6 g at 1.5 g/mL are spread as the sample; 2 mL are too few for it
    ("V_wx", {"V_mx": 15 * ML, "m_sa": 0.006, "rho_p": 1500.0}, 11 * ML),
    ("V_wx", {"V_mx": 2 * ML, "m_sa": 0.006, "rho_p": 1500.0}, 0.0),
]


@pytest.mark.parametrize(("symbol", "values", "result"), BY_HAND)
def test_by_hand(symbol: str, values: dict[str, float], result: float) -> None:
    (formula,) = [step for step in FORMULARY.formulas if step.symbol == symbol and set(step.parameters) == set(values)]
    assert formula.call(values) == pytest.approx(result, rel=1e-9)


def test_every_formula_of_the_subject_is_worked_by_hand() -> None:
    own = {step.symbol for step in FORMULARY.formulas if step.function.__module__ == syringe.__name__}
    assert own == {symbol for symbol, _, _ in BY_HAND}


@pytest.mark.parametrize("u_s", [0.5, 0.75, 1.0])
@pytest.mark.parametrize("mL", [31, 39, 45, 46, 59, 100])
def test_no_other_number_of_syringes_gives_more(mL: float, u_s: float) -> None:
    """The number worked is the best of all, counted out; a full one gives the part that can be pushed out."""
    full, loaded = 20.0, 18.0
    kept = max(full * (1 - u_s) - 2.0, 0.0)
    best = max(min(mL, n * loaded) - n * kept for n in range(1, 9))
    values = {"V_y": mL * ML, "V_s": full * ML, "u_s": u_s, "u_p": 0.1}
    for name in ("V_nx", "n_mx", "V_px", "V_mx"):
        values[name] = next(step for step in FORMULARY.formulas if step.symbol == name).call(values)
    assert values["V_mx"] / ML == pytest.approx(best)
    assert values["V_mx"] <= values["n_mx"] * full * min(u_s, 0.9) * ML * (1 + 1e-9)


def test_a_mix_that_all_stays_in_the_syringe_is_refused() -> None:
    with pytest.raises(OutOfRange, match="nothing would come out"):
        whole_reckoning(LIBRARY, LIBRARY.cards["mixing"], {"V_s": "200 mL", "u_s": "50 %"})


def test_keeping_back_all_of_it_is_refused() -> None:
    """The card's own range ends before that, and so does the formula's, whoever asks."""
    with pytest.raises(InputError, match="take 0 to 90\u00a0%"):
        whole_reckoning(LIBRARY, LIBRARY.cards["mixing"], {"u_mx": "100 %"})
    with pytest.raises(OutOfRange, match="less than all"):
        whole_working(["m_i"], {"m_b": 0.030, "u_mx": 1.0, "u_q": 1.0})
