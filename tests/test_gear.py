"""What lies ready: every tool that a step uses is listed, every hazard of a step is said in it, once over all cards."""

from __future__ import annotations

import re

import pytest

from conftest import LIBRARY
from generator.model.schema import Card, Stepwise
from generator.reckoning import reckon
from generator.units import plain

CARDS = sorted(LIBRARY.cards)

# A word of a step, and what then stands among tools and materials.
TOOLS = {
    r"hole saw": "hole saw",
    r"\bscrap (?:block|clamped|propped)|on scrap|[Cc]lamp scrap": "scrap|tray",
    r"guide block|[Gg]uide block on": "guide|[Bb]lock",
    r"spring scale": "spring scale",
    r"\b[Ff]ile\b(?! the)|\bfiled?\b": "file|abrasive",
    r"[Mm]ask on|[Dd]ust mask": "dust mask",
    r"[Gg]oggles": "[Gg]oggles",
    r"[Ff]ace shield": "[Ff]ace shield",
    r"[Gg]loves": "gloves",
    r"\bvacuum\b": "vacuum cleaner",
    r"pipe cleaner": "pipe cleaners",
    r"feeler gauge": "feeler gauge",
    r"straightedge": "[Ss]traightedge",
    r"\bspike\b": "[Ss]pike",
    r"[Ss]crape (?:off|all|paint|the wood|what you|old)": "scraper|chisel",
    r"\bhose it\b|[Hh]ose it": "hose",
    r"plastic blade": "plastic blade",
    r"wire brush|[Ww]ire-brush": "wire brush|abrasive",
    r"moisture meter|by (?:a|the) meter|with a meter": "[Mm]oisture meter",
    r"soft spacers|on\s+spacers|the spacers": "[Ss]oft spacers",
    r"\bvarnish it|[Vv]arnish the|varnish wood|thin varnish": "[Vv]arnish",
    r"\bpaint its\b": "paint",
    r"\bmagnet\b": "magnet",
    r"\btwo nuts\b": "two nuts|spare nuts",
    r"\bmallet\b": "mallet",
    r"\bcountersink\b": "countersink",
    r"\blamp\b": "lamp",
    r"\bawl\b": "awl",
    r"\bsyringe\b": "[Ss]yringe",
    r"\bthermometer\b": "[Tt]hermometer",
    r"[Bb]acking plate\b|the plate\b": "plate",
    r"\bspanner\b": "[Ss]panner|wrench",
    r"\btap through it\b": "a tap of the thread",
    r"\b[Cc]lamp(?:s|ed)?\b": "[Cc]lamp",
}


def read(step: Stepwise) -> str:
    """All that a step says, either way of its conditions."""
    texts = (step.title, step.do, step.see, step.wrong)
    return " ".join(" ".join(str(text) for text in texts if text).split())


def listed(card: Card) -> str:
    return " ".join(f"{item.what} {item.amount or ''}" for item in (*card.needs.tools, *card.needs.materials))


@pytest.mark.parametrize("name", CARDS)
def test_what_a_step_uses_lies_ready(name: str) -> None:
    card = LIBRARY.cards[name]
    ready = listed(card)
    missing = [
        (step.title, word)
        for step in card.steps
        for word, entry in TOOLS.items()
        if re.search(word, read(step)) and not re.search(entry, ready)
    ]
    assert not missing


@pytest.mark.parametrize("name", CARDS)
def test_what_a_caution_has_one_hold_lies_ready(name: str) -> None:
    """Its text has a side handle on the drill. A thin pilot before a wide bit lies ready where a step bores one, for a spur
    wants wood to stand in, and a cutter that runs round a stub can have none."""
    card = LIBRARY.cards[name]
    assert all(word in LIBRARY.cautions["drilling"].text for word in ("side handle", "waterline"))
    if "drilling" in card.all_cautions:
        assert re.search("[Dd]rill with side handle", listed(card))
    assert not re.search("thin pilot drill", listed(card)) or any("pilot" in read(step) for step in card.steps)


@pytest.mark.parametrize("name", CARDS)
def test_what_is_drilled_has_its_caution(name: str) -> None:
    card = LIBRARY.cards[name]
    if card.job and card.job.bores:
        assert "drilling" in card.all_cautions


@pytest.mark.parametrize("name", CARDS)
def test_a_nut_that_is_turned_snug_on_wood_is_turned_again_a_month_later(name: str) -> None:
    """One caution says so, in the step that has the nut snug and where all of them stand, and nowhere else."""
    for step in LIBRARY.cards[name].steps:
        snug = re.search(r"\{M_s[nb]\}", read(step))
        assert ("wood-shrinks" in step.cautions) == bool(snug), step.title


def test_every_word_of_the_list_is_used_by_a_card() -> None:
    steps = " ".join(read(step) for card in LIBRARY.cards.values() for step in card.steps)
    assert not [word for word in TOOLS if not re.search(word, steps)]


@pytest.mark.parametrize("name", CARDS)
def test_old_paint_is_scraped_wet_with_a_mask_on_and_its_caution_read(name: str) -> None:
    card = LIBRARY.cards[name]
    for step in card.steps:
        if re.search(r"[Ss]crape [^.]*(?:paint|varnish|wood [^.]*bare)", read(step)):
            assert "old-paint" in step.cautions, step.title
            assert re.search(r"\bwet\b", str(step.do)), step.title
            assert re.search(r"mask(?:ed)?\b[^.]* on\b|mask on|masked", str(step.do), re.IGNORECASE), step.title
    told = {caution for step in card.steps for caution in step.cautions}
    assert told <= set(card.all_cautions)


@pytest.mark.parametrize("name", CARDS)
def test_a_mask_is_on_wherever_what_has_cured_is_drilled_or_sanded(name: str) -> None:
    for step in LIBRARY.cards[name].steps:
        text = read(step)
        if re.search(
            r"\b[Ss]and (?:it|the)\b|plug with a sharp|epoxy (?:comes off as|\| Epoxy\] )chips|skin of glass", text
        ):
            assert re.search(r"mask on", text), step.title
            assert "dust" in step.cautions, step.title


@pytest.mark.parametrize("name", CARDS)
def test_wax_on_a_bonded_job_brings_its_caution(name: str) -> None:
    card = LIBRARY.cards[name]
    if re.search(r"release wax|[Rr]elease agent", listed(card)):
        assert "release-off" in card.all_cautions


@pytest.mark.parametrize("name", CARDS)
def test_a_torque_comes_with_a_way_to_reach_it(name: str) -> None:
    """By the law of the lever: 100 mm out, a scale reads the torque over 0.980665 N·m a kilogram. Under 1 N·m there is
    nothing to read, and the step says so."""
    card = LIBRARY.cards[name]
    for torque, pull in (("M_sn", "m_sn"), ("M_sb", "m_sb")):
        steps = [step for step in card.steps if f"{{{torque}}}" in read(step)]
        assert all(f"{{{pull}}}" in read(step) for step in steps)
        if steps:
            for inputs in ({}, {"thread": "M5"}, {"thread": "M6"}, {"thread": "M12"}):
                reckoning = reckon(LIBRARY, card, {"shop": "metric", **inputs})
                if reckoning.has(pull):
                    told, read_off = (float(reckoning.number(symbol)) for symbol in (torque, pull))
                    if reckoning.working.values[torque] < 1:
                        assert read_off == 0, "two fingers turn it, and no spanner is told of"
                        continue
                    assert reckoning.working.values[pull] == pytest.approx(told / 0.980665), inputs
                    assert told - 0.1 < read_off * 0.980665 <= told, "neither is more than the other"


def test_what_is_set_is_told_as_it_was_set() -> None:
    """A deck skin of 0.08 in told as 1/16 in would be worked anew for ever."""
    reckoning = reckon(LIBRARY, LIBRARY.cards["bedded-cored"], {"shop": "inch", "o_sk": "0.08 in", "i_sk": "0.06 in"})
    assert [plain(reckoning.shop(name)) for name in ("o_sk", "c_sk", "i_sk")] == ["0.08 in", "5/8 in", "0.06 in"]
    seat = reckon(
        LIBRARY, LIBRARY.cards["cast-seat"], {"shop": "inch", "R_c": "24 in", "b_b": "1 in", "t_0": "0.08 in"}
    )
    # 0.5^2 / (2 x 24) = 0.0052 in
    assert [plain(seat.shop(name)) for name in ("s_e", "t_0")] == ["0.005 in", "0.08 in"]
    assert plain(reckon(LIBRARY, LIBRARY.cards["bedded-solid"], {"shop": "inch"}).shop("V_t")) == "3 fl oz"


def test_a_plate_bears_no_less_than_its_washer() -> None:
    """A plate of 1 in under a washer of 0.734 in: the washer's three times the plain strength, not the plate's once."""
    inputs = {"thread": "1/4-20 UNC", "F_n": "100 lbf"}
    value = reckon(LIBRARY, LIBRARY.cards["backing-plate"], inputs).working.values
    assert value["F_rs"] >= value["F_p"]
    assert value["M_sn"] / (value["K_sn"] * value["d"]) <= value["F_rs"] * (1 + 1e-9)


@pytest.mark.parametrize("inputs", [{"T_sk": "12 mm"}, {"T_sk": "200 mm"}, {"shop": "inch", "T_sk": "1/2 in"}])
def test_the_lower_half_of_a_bolt_stays_dry(inputs: dict[str, str]) -> None:
    value = reckon(LIBRARY, LIBRARY.cards["bedded-solid"], inputs).working.values
    assert value["l_w"] <= value["T_sk"] / 2 * (1 + 1e-9)


@pytest.mark.parametrize("name", [name for name in CARDS if "q_sk" in LIBRARY.cards[name].givens])
def test_a_plate_that_is_set_lies_ready_and_goes_on_in_a_step(name: str) -> None:
    card = LIBRARY.cards[name]
    ready = [str(need.what) for need in card.needs.materials if "{q_sk}" in str(need.what)]
    assert [what for what in ready if "late" in what]
    # Where there is always one no words are chosen for it.
    without = str(card.givens["q_sk"].min) == "0 mm"
    goes_on = r"\[q_sk > 0: [^|\]]*plate" if without else r"\bplate\b[^.]*, \{q_sk\}"
    assert [step.title for step in card.steps if re.search(goes_on, str(step.do))]
