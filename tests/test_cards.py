"""What every card must have, beside what `check` refuses: cautions, links, a time plan, and both shops' words."""

from __future__ import annotations

import re

import pytest

from conftest import LIBRARY, for_each
from generator.bench import clock, line_of, numbers, signs, told_for
from generator.formula import FORMULARY
from generator.model.prose import Condition, Known, Prose, Value
from generator.model.schema import DRILL_CHOICES, Card, Sheet
from generator.pages.card import CardPage
from generator.pages.options import SiteOptions
from generator.reckoning import InputError, Reckoning, reckon

CARDS = list(LIBRARY.cards)


@pytest.mark.parametrize("name", CARDS)
def test_a_card_shows_the_cautions_that_belong_to_its_work(name: str) -> None:
    card = LIBRARY.cards[name]
    words = " ".join([card.purpose, *(f"{step.do} {step.see}" for step in card.steps)]).lower()
    if "epoxy" in words and ("mix" in words or "wet out" in words):
        assert {"skin", "heat-in-the-cup"} & set(card.all_cautions), "uncured epoxy needs its cautions"
    if "drill" in words or "sand" in words:
        assert {"dust", "drilling", "filler-dust"} & set(card.all_cautions), "dust needs its caution"
    assert any(LIBRARY.cautions[caution].defer for caution in card.all_cautions)


@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if card.job and card.job.carries])
def test_a_card_that_gives_a_load_says_to_try_one_first(name: str) -> None:
    assert "no-rating" in LIBRARY.cards[name].all_cautions


@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if "blush" in card.all_cautions])
def test_who_washes_epoxy_that_is_not_yet_cured_has_gloves_and_goggles_on(name: str) -> None:
    for step in LIBRARY.cards[name].steps:
        if "blush" in step.cautions:
            told = {*signs(step, LIBRARY.cautions)}
            assert {"gloves", "goggles"} <= told, step.title
            assert "sand" not in step.title or "mask" in told, step.title
            assert "sand" not in step.title or re.search("Goggles, gloves and mask on.*Wash", step.do), step.title


@for_each(LIBRARY.sheets())
def test_a_sheet_lists_only_what_nothing_else_in_it_names(file: str, sheet: Sheet) -> None:
    assert [symbol for symbol in sheet.wanted if sheet.named[symbol][0] != "wanted"] == []
    assert [caution for caution in sheet.cautions if sheet.all_cautions[caution][0] != "cautions"] == []


@pytest.mark.parametrize("name", CARDS)
def test_nothing_stands_by_a_value_that_there_is_none_of(name: str) -> None:
    reckoning = reckon(LIBRARY, LIBRARY.cards[name], {}, only=[])
    without = next(symbol for symbol in FORMULARY.symbols if not reckoning.has(symbol))
    assert not reckoning.holds(Condition(without, -1))
    assert not reckoning.holds(Known((without,)))
    assert reckoning.said(without) == "no number"


BURIED = sorted(name for name in CARDS if name not in ("mixing", "trial-joint", "heat-removal"))


@pytest.mark.parametrize("name", BURIED)
def test_metal_that_stays_in_wood_has_the_caution_about_stainless(name: str) -> None:
    card = LIBRARY.cards[name]
    assert "stainless-needs-air" in card.all_cautions
    assert any("stainless-needs-air" in step.cautions for step in card.steps)


def test_every_fastener_is_marked_by_its_metal() -> None:
    always = {symbol: LIBRARY.constant(symbol) for symbol in ("k_ss", "k_fe")}
    for row in LIBRARY.choices["fastener"].rows.values():
        marks = {**always, **{name: given.value for name, given in row.gives.items() if name in always}}
        assert marks["k_ss"] == ("stainless" in row.title), row.title
        assert marks["k_fe"] == row.title.startswith("steel"), row.title


@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if "fastener" in card.givens])
def test_what_is_told_of_a_metal_is_told_of_the_one_chosen(name: str) -> None:
    stainless = LIBRARY.cautions["stainless-needs-air"].when
    for row, needs_air, rusts in (("a4-70", True, False), ("8-8", False, True), ("silicon-bronze-c655", False, False)):
        reckoning = reckon(LIBRARY, LIBRARY.cards[name], {"fastener": row})
        assert reckoning.holds(stainless) is needs_air
        assert any("plain steel rusts" in text for text in reckoning.working.warnings) is rusts


@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if "grain" in card.givens])
def test_a_distance_to_an_end_is_asked_in_side_grain_alone(name: str) -> None:
    """A fastener in end grain goes in at the end itself: no step marks one out, and none costs load."""
    card, told = LIBRARY.cards[name], {}
    for grain in ("end", "across"):
        reckoning = reckon(LIBRARY, card, {"grain": grain, "a_z": "1 mm", "a_e": "200 mm"})
        texts = [Prose(text) for step in card.steps for text in step.texts]
        told[grain] = {part.name for text in texts for part in text.chosen(reckoning.holds) if isinstance(part, Value)}
        assert any("an end" in text for text in [*reckoning.working.warnings, *reckoning.reasons]) is (
            grain == "across"
        )
    assert not told["end"] & {"a_n", "e_z", "a_z"}
    assert reckoning.reasons
    assert not any("an end" in reason for reason in reckon(LIBRARY, card, {"grain": "end", "a_z": "1 mm"}).reasons)


@pytest.mark.parametrize(
    ("name", "choice", "caution", "sign", "rows"),
    [
        ("backing-plate", "plate", "glass-dust", "mask", {"glass-laminate"}),
        ("backing-plate", "compound", "isocyanates", "fumes", {"polyurethane"}),
        ("bedded-solid", "compound", "isocyanates", "fumes", {"polyurethane"}),
        ("bedded-cored", "compound", "isocyanates", "fumes", {"polyurethane"}),
        ("released-seat", "compound", "isocyanates", "fumes", {"polyurethane"}),
    ],
)
def test_a_caution_stands_for_the_stuff_that_it_is_of(
    name: str, choice: str, caution: str, sign: str, rows: set[str]
) -> None:
    card, found = LIBRARY.cards[name], set()
    steps = [signs(step, LIBRARY.cautions) for step in card.steps if caution in step.cautions]
    for row in LIBRARY.choices[choice].rows:
        reckoning = reckon(LIBRARY, card, {choice: row})
        stands = reckoning.holds(LIBRARY.cautions[caution].when)
        assert any(reckoning.holds(step[sign]) for step in steps) >= stands
        found |= {row} if stands else set()
    assert found == rows
    # A keyword that another caution of the step brings stands always.
    assert all(step[sign] in (None, LIBRARY.cautions[caution].when) for step in steps)


# Signs of what hurts at once.
HURTS = {"burns", "mains", "no fuel", "stand clear"}


def test_what_to_do_where_it_hurts_at_once_is_printed_on_the_fullest_sheet() -> None:
    assert {caution.sign for caution in LIBRARY.cautions.values() if caution.stays} >= HURTS
    assert [key for key, caution in LIBRARY.cautions.items() if caution.sign in HURTS and not caution.stays] == []


@pytest.mark.parametrize("name", LIBRARY.cards)
@pytest.mark.parametrize("length", ["20 mm", "60 mm", "200 mm"])
def test_a_caution_stands_while_a_step_that_names_it_does(name: str, length: str) -> None:
    """What is left cold is not warned of as hot."""
    card = LIBRARY.cards[name]
    reckoning = reckon(LIBRARY, card, {"L_k": length} if "L_k" in card.givens else {})
    for key in card.all_cautions:
        naming = [step for step in card.steps if key in step.cautions]
        named = not naming or any(not step.when or reckoning.holds(step.when) for step in naming)
        caution = LIBRARY.cautions[key]
        if caution.when is None:
            assert reckoning.holds(card.stands_when(key, caution)) == named, key
    if name == "heat-removal":
        flame = card.stands_when("heat-no-flame", LIBRARY.cautions["heat-no-flame"])
        assert reckoning.holds(flame) == (length != "200 mm")


@pytest.mark.parametrize("name", ["bedded-solid", "bedded-cored", "released-seat", "backing-plate"])
@pytest.mark.parametrize(
    ("compound", "has", "not_said"),
    [
        (
            "butyl-tape",
            "scissors",
            ("tubes of", "cartridge gun", "skinned", "beads of", "before it skins", "is rubber"),
        ),
        ("oil-based", "knife", ("tubes of", "cartridge gun", "strips of", "is rubber")),
        ("polysulfide", "cartridge gun", ("scissors", "strips", "over days")),
    ],
)
def test_a_compound_is_laid_as_it_comes(name: str, compound: str, has: str, not_said: tuple[str, ...]) -> None:
    card = LIBRARY.cards[name]
    reckoning = reckon(LIBRARY, card, {"compound": compound})
    needs = [text for need in (*card.needs.tools, *card.needs.materials) for text in (need.what, need.amount or "")]
    said = " ".join(
        reckoning.reads(Prose(text)) for text in (*needs, *(text for step in card.steps for text in step.texts))
    )
    assert has in said
    assert [words for words in not_said if words in said] == []


@pytest.mark.parametrize("name", CARDS)
def test_wood_is_abraded_before_it_is_vacuumed(name: str) -> None:
    """Dust made after the vacuum cleaner lies under the epoxy. (Metal is roughened, away from the boat.)"""
    words = " ".join(step.do for step in LIBRARY.cards[name].steps).lower()
    before, mix, _ = words.partition("stir for two full minutes")
    if mix and "vacuum" in before:
        assert max(before.rfind("abrade"), before.rfind("scrape")) < before.rfind("vacuum")


@pytest.mark.parametrize("name", ["bonded-stepped-hole", "blind-stud"])
def test_a_hole_is_looked_into_before_its_base_is_buttered(name: str) -> None:
    words = " ".join(step.do for step in LIBRARY.cards[name].steps).lower()
    assert 0 < words.index("fill any void") < words.rindex("ridge")


@pytest.mark.parametrize("name", CARDS)
def test_moisture_is_said_with_its_noun_and_its_number(name: str) -> None:
    """Most cards name it by value; none writes a bare number of hundredths."""
    card = LIBRARY.cards[name]
    words = " ".join(f"{step.do} {step.see} {step.wrong or ''}" for step in card.steps)
    assert "in a hundred" not in words
    for part in re.split(r"(?<=[.]) ", words):
        if "{x_bd} or less" in part or "{x_ld} or less" in part:
            assert "moisture" in part.lower(), part


def test_heat_has_its_cautions_beside_the_steps() -> None:
    steps = LIBRARY.cards["heat-removal"].steps
    beside = {caution for step in steps for caution in step.cautions}
    assert {"heat-fumes", "heat-no-flame", "heat-burns"} <= beside


@pytest.mark.parametrize("name", CARDS)
def test_a_card_leads_to_a_better_one(name: str) -> None:
    """When not to use it, it names a card that is."""
    card = LIBRARY.cards[name]
    linked = set(re.findall(r"\{([a-z0-9]+(?:-[a-z0-9]+)+|mixing)\}", " ".join([*card.use_when, *card.not_when])))
    assert linked & set(CARDS) - {name}
    assert linked <= {*CARDS}


@pytest.mark.parametrize("name", CARDS)
def test_a_card_says_how_long_it_takes(name: str) -> None:
    page = CardPage(LIBRARY, name, SiteOptions())
    assert re.search(r"\d\Wmin$", page.hands_on.striptags())
    assert any(line.wait for line in page.plan)


@pytest.mark.parametrize("name", CARDS)
def test_the_time_plan_counts_every_fitting_and_every_mix(name: str) -> None:
    """Each line so often as it is done: once a fitting, but once for each lift of each mix where it mixes."""
    card = LIBRARY.cards[name]
    for given in (
        {},
        {"N": "5"},
        {"N": "12", "n_h": "4"},
        {"N": "3", "a_b": "300 mm", "b_b": "200 mm", "R_c": "600 mm"},
    ):
        reckoning = reckon(LIBRARY, card, {key: text for key, text in given.items() if key in card.givens})
        mix, values = card.mix, reckoning.working.values
        layers = mix.layers if mix else None
        lifts = values["n_m"] * (values[layers] if layers == "n_l" else 1) if mix else 0
        lifts += values["n_pl"] if layers == "n_p" else 0
        often = {mix.id: lifts} if mix else {}
        fittings = values["N"] if "N" in card.givens else 1
        by_hand = sum(line.active.value * often.get(line.id, fittings) for line in card.plan if line.active)
        assert values["t_bh"] == pytest.approx(by_hand), reckoning.texts


@pytest.mark.parametrize("name", CARDS)
def test_a_card_works_over_its_threads(name: str) -> None:
    """The usual threads of a shop have numbers, from four sizes up; the others say why not."""
    page = CardPage(LIBRARY, name, SiteOptions())
    for grid in page.grids:
        if grid.name in ("sizes-metric-coarse", "sizes-unc"):
            worked = [row for row in grid.rows if not row.lacks]
            assert len(worked) >= 4, grid.name
            assert all(lack.reason for row in grid.rows if row not in worked for lack in row.lacks)


def on_paper(card: Card, reckoning: Reckoning) -> str:
    """What the bench side and the steps behind it print."""
    entries = (text for entry in (*numbers(card), *clock(card)) for text in entry.texts)
    steps = (text for step in card.steps for text in (step.title, step.line, step.seen, step.do))
    return "\n".join(reckoning.reads(Prose(text or "")) for text in (told_for(card), *entries, *steps))


def others(name: str, text: str) -> list[str]:
    """Other values of a given: other rows, or a little more and a little less."""
    if name in LIBRARY.choices:
        return [row for row in LIBRARY.choices[name].rows if row != text]
    number, _, unit = text.partition(" ")
    return [f"{float(number) * by:g} {unit}".strip() for by in (0.8, 1.25, 2)] if number.isdecimal() else []


@pytest.mark.parametrize("name", CARDS)
def test_a_number_on_paper_has_there_what_it_is_for(name: str) -> None:
    """Each of the reader's own givens that changes what is printed is named behind, or prints its own value: a bolt's
    length says through how much wood. A drill is told by its size, and how stiff the mix is by its looks."""
    card, page = LIBRARY.cards[name], CardPage(LIBRARY, name, SiteOptions())
    named = set(page.own_givens)
    came = reckon(LIBRARY, card, {"shop": "metric"})
    said = on_paper(card, came)
    behind = {"grain", "a_e", "a_z", "s_ba", "N_y"} if "F_yn" in card.loads else set()
    unnamed = []
    for symbol, given in card.givens.items():
        if given.source or symbol in {*named, *behind, *DRILL_CHOICES, "thread", "ratio", "consistency"}:
            continue
        for text in others(symbol, came.texts[symbol]):
            try:
                other = on_paper(card, reckon(LIBRARY, card, {"shop": "metric", symbol: text}))
            except InputError:
                continue
            own = came.told(Value(symbol))
            if other != said and own not in said and not (symbol == "washer" and came.said("D_p") in said):
                unnamed.append((symbol, text))
    assert unnamed == []


def test_the_seats_name_their_wood_on_paper() -> None:
    """How long the bolts are goes by how thick it is, how hard their nuts are drawn by which it is."""
    for name, thick in (("released-seat", "T"), ("cast-seat", "T_sk")):
        assert {thick, "wood"} <= {*CardPage(LIBRARY, name, SiteOptions()).own_givens}


@pytest.mark.parametrize("name", CARDS)
def test_all_cards_ask_for_the_same_washer_for_a_thread(name: str) -> None:
    """One box of washers does for all of a boat's fittings."""
    given = LIBRARY.cards[name].givens.get("washer")
    assert given is None or (given.metric, given.inch) == ("iso-7093-1", "asme-a-wide")


@pytest.mark.parametrize("name", CARDS)
def test_words_are_plain(name: str) -> None:
    card = LIBRARY.cards[name]
    text = " ".join(
        [card.purpose, *card.use_when, *card.not_when, *card.notes]
        + [part for step in card.steps for part in (step.title, step.do, step.see, step.wrong or "")]
    )
    for word in ("—", "–", "ensure", "utilize", "utilise", "note that", "please", "in order to"):
        assert word not in text.lower(), word


GEAR = {
    "goggles": (r"\bgoggles\b", {"goggles"}),
    "mask": (r"\bmask on\b|\bmask and\b", {"mask", "lead"}),
    "gloves": (r"\bgloves\b", {"gloves", "burns"}),
}


@pytest.mark.parametrize("name", sorted(LIBRARY.cards))
def test_what_a_step_has_worn_stands_at_the_bench_too(name: str) -> None:
    """What the full step or one of its cautions tells to put on, its bench line says in a keyword; where glass is cut, by
    the plate."""
    for number, step in enumerate(LIBRARY.cards[name].steps, 1):
        at_bench = {*signs(step, LIBRARY.cautions)}
        glass = "glass-dust" in step.cautions
        for caution in step.cautions:
            assert "Goggles on" not in LIBRARY.cautions[caution].text or "goggles" in at_bench, (number, caution)
        for gear, (words, keywords) in GEAR.items():
            if re.search(words, step.do, re.IGNORECASE) and not (glass and gear != "goggles"):
                assert at_bench & keywords, (number, gear, at_bench)


# Words that join others, and what a step says in their place.
JOINING = {
    *re.findall(
        r"[a-z]+",
        "a after again all an and as at by each every filler for from here if in into is it its no not of off on one or out"
        " over past that the them then this to two under until up with you",
    )
}
SAID_AS = {
    "apart": "from each other",
    "behind": "far end",
    "between": "two screws",
    "cut": "draw a thin blade",
    "daily": "a day apart",
    "draw": "pull",
    "hard": "leaves no mark",
    "harder": "further than snug",
    "leathery": "dents it",
    "most": "only until",
    "name": "you do not know the metal",
    "never": "not",
    "nip": "snug",
    "only": "nothing that",
    "probe": "feel round",
    "rinse": "wash",
    "syringes": "{v_s}",
    "thicken": "stir in",
    "top": "press plain epoxy in",
    "unload": "take every",
}


def stem(word: str) -> str:
    """Drill of drills, drilled and drilling."""
    for end in ("ing", "ed", "es", "s", "e", "ly"):
        if word.endswith(end) and len(word) - len(end) >= 3:
            word = word.removesuffix(end)
            break
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] else word


@pytest.mark.parametrize("name", CARDS)
def test_the_full_step_says_all_that_its_bench_line_says(name: str) -> None:
    """Each number, tool and deed told at the bench stands in the step on the back too, or it is told there otherwise.
    What is to be seen stands on paper at the bench alone, so nothing is told to be done there."""
    for number, step in enumerate(LIBRARY.cards[name].steps, 1):
        if not step.line:
            continue
        full = " ".join([step.title, step.do, step.wrong or ""]).lower()
        line, told = Prose(step.line), Prose(full)
        assert {value.name for value in line.values} <= {
            value.name for text in (step.do, step.wrong or "") for value in Prose(text).values
        }, (number, step.line)
        looked = f"{step.seen or ''} {step.see}".lower()
        for seen, done in {
            "water spreads": "drop of water",
            "drop spreads": "drop of water",
            "moisture": "meter",
        }.items():
            assert seen not in looked or done in step.do.lower(), (number, seen)
        words = {stem(word) for word in re.findall(r"[a-z]+", re.sub(r"{[^}]*}", "", told))}
        for word in re.findall(r"[a-z]+", re.sub(r"{[^}]*}|\[[^][:]*:", "", step.line.lower())):
            if word not in JOINING and SAID_AS.get(word, "\0") not in " ".join(full.split()):
                assert any(one.startswith(stem(word)) for one in words), (number, word, step.line)


@pytest.mark.parametrize("name", [name for name, card in LIBRARY.cards.items() if card.mix])
def test_every_step_with_wet_epoxy_says_gloves_and_goggles(name: str) -> None:
    """From the one that weighs to the last that looks again or spreads the sample: who took the goggles off for one step
    reads the next as one without."""
    steps = LIBRARY.cards[name].steps
    first = next(place for place, step in enumerate(steps) if "{m_h}" in step.do)
    last = max(place for place, step in enumerate(steps) if re.search(r"\{(m_sa|t_z1)\}", step.do + step.see))
    assert first <= last
    for step in steps[first : last + 1]:
        assert {"gloves", "goggles"} <= {*signs(step, LIBRARY.cautions)}, step.title


SOLVENT = re.compile(r"\bdegrease\b|(?:\bwith|\blittle|swab and) solvent\b", re.IGNORECASE)
COMPOUND = re.compile(r"A base of \{a_b\} by \{b_b\} takes|compound under (?:each|the) bolt|Tool the (?:squeeze|edge)")


@pytest.mark.parametrize("name", CARDS)
def test_every_step_says_what_hurts_in_it(name: str) -> None:
    """Solvent and fresh compound on the hands and in the eyes; and no glove at a turning bit."""
    card = LIBRARY.cards[name]
    for step in card.steps:
        told = {*signs(step, LIBRARY.cautions)}
        if SOLVENT.search(step.do):
            assert {"gloves", "goggles", "no flame"} <= told, step.title
        if "compound" in card.givens and COMPOUND.search(step.do):
            assert {"gloves", "fumes"} <= told, step.title
        if "drilling" in step.cautions:
            assert "gloves" not in told, step.title


BORED = re.compile(r"\bdrill (\{|one|with|the first|a fine|for|on\b)|\bbore (square|the large)|\bsaw\b", re.IGNORECASE)
SCRAPED = re.compile(r"\bscrape paint off wet\b|\bOld paint wet and masked, scrape\b", re.IGNORECASE)


@pytest.mark.parametrize("name", sorted({*CARDS} - {"mixing", "trial-joint"}))
def test_paint_is_scraped_off_wet_before_anything_is_bored_through_it(name: str) -> None:
    """Old paint may hold lead. What bores into the boat would throw it about as dry dust; a trial joint is an offcut."""
    steps = LIBRARY.cards[name].steps
    first = next(place for place, step in enumerate(steps) if {"drilling", "dust"} <= {*step.cautions})
    told = " ".join(step.do for step in steps[: first + 1])
    bored, scraped = BORED.search(told), SCRAPED.search(told)
    assert bored
    assert scraped
    assert scraped.start() < bored.start()
    assert any("old-paint" in step.cautions for step in steps if SCRAPED.search(step.do))


def test_what_hurts_is_looked_for_in_words_that_cards_use() -> None:
    steps = [step.do for card in LIBRARY.cards.values() for step in card.steps]
    assert sum(bool(SOLVENT.search(text)) for text in steps) > 8
    assert sum(bool(COMPOUND.search(text)) for text in steps) > 4


@pytest.mark.parametrize("name", CARDS)
def test_a_caution_beside_a_step_opens_to_more_than_its_keyword(name: str) -> None:
    """Told whole, keyword and what it opens to, where a step first names it; nothing in either is made up."""
    page = CardPage(LIBRARY, name, SiteOptions())
    for place, step in enumerate(page.card.steps):
        for key in step.cautions:
            text, keyword, opened = page.cautions[key].text, page.keyword(key), page.opened(place, key)
            assert opened in text
            assert opened.removesuffix(".") != keyword or ". " not in text, (step.title, text)
            if all(key not in before.cautions for before in page.card.steps[:place]):
                assert text in (opened, f"{keyword}. {opened}"), (step.title, text)


def test_a_second_nut_is_locked_against_one_that_is_held_still() -> None:
    """Turned alone it turns the first with it, past what the wood bears, or locks nothing."""
    told = [step.do for card in LIBRARY.cards.values() for step in card.steps if "a second nut" in step.do]
    assert len(told) >= 8
    assert all("lock a second nut against" in text and "the first held still with a spanner" in text for text in told)


@pytest.mark.parametrize("name", sorted(LIBRARY.cards))
def test_a_card_that_mixes_says_to_keep_all_warm_through_the_cure(name: str) -> None:
    """Every wait stands on that temperature; nobody finds out by a thumbnail that the nights were colder."""
    page = CardPage(LIBRARY, name, SiteOptions())
    told = [page.kept_warm(step) for step in page.card.steps]
    mixes = page.card.mix is not None
    assert sum(text is not None for text in told) == mixes
    for text in filter(None, told):
        assert (
            page.reckonings["metric"]
            .reads(text)
            .startswith("Wood, metal and epoxy stay at 20\N{NO-BREAK SPACE}°C, nights too, until the full cure.")
        )


@pytest.mark.parametrize("card", ["bonded-stepped-hole", "bonded-screw"])
def test_where_an_end_is_so_near_that_wood_may_split_the_clamp_stands_in_the_step_and_at_the_bench(card: str) -> None:
    """Ten diameters of 1/2 in are 5 in, and the card came with 4 in; of 5/16 in they are 3 1/8 in."""
    for thread, clamped in (("1/2-13 UNC", True), ("5/16-18 UNC", False)):
        reckoning = reckon(LIBRARY, LIBRARY.cards[card], {"shop": "inch", "thread": thread})
        steps = LIBRARY.cards[card].steps
        assert any("Clamp the wood across" in reckoning.reads(step.do) for step in steps) == clamped
        assert any("Clamp across" in reckoning.reads(line_of(step)) for step in steps) == clamped
        assert any("clamp the wood across" in warning for warning in reckoning.working.warnings) == clamped


def test_a_washer_is_told_as_it_is_sold() -> None:
    """1.125 in across is a washer of 1 1/8 in, and 0.734 in one of 47/64 in, as printed tables of it have it."""
    for washer, thread, across in (
        ("asme-b-wide", "5/16-18 UNC", "1\N{NO-BREAK SPACE}1/8"),
        ("asme-a-wide", "1/4-20 UNC", "47/64"),
    ):
        reckoning = reckon(LIBRARY, LIBRARY.cards["bedded-solid"], {"shop": "inch", "thread": thread, "washer": washer})
        assert reckoning.said("D_p") == f"{across}\N{NO-BREAK SPACE}in"


def test_a_plate_is_turned_a_last_time_while_its_paste_is_leathery() -> None:
    """A cup of 34.8 min and eight times that or four, by the same rule as a seat that lets its fitting go."""
    card = LIBRARY.cards["backing-plate"]
    values = reckon(LIBRARY, card, {"thread": "M10", "T": "45 mm", "F_n": "2 kN", "T_a": "17 °C"}).working.values
    assert [values[symbol] / 60 for symbol in ("t_w", "t_y1", "t_y2")] == pytest.approx([34.8, 139, 278.5], rel=0.01)


def test_a_flag_on_a_drill_that_runs_in_a_wider_hole_stands_out_past_it() -> None:
    """A ring of tape goes into the hole with its drill, and stops nothing."""
    narrow = []
    for name, card in LIBRARY.cards.items():
        bores, values = card.job.bores if card.job else [], reckon(LIBRARY, card, {}).working.values
        narrow += [
            (name, card, bore)
            for place, bore in enumerate(bores)
            if bore.mark and any(values[wider.size] > values[bore.size] for wider in bores[:place])
        ]
    assert {name for name, _, _ in narrow} == {"blind-stud", "bonded-stepped-hole", "bonded-screw", "trial-joint"}
    for name, card, bore in narrow:
        told = " ".join(step.do for step in card.steps)
        at = told.index(f"{{{bore.mark}}}")
        assert "wider than" in told[at : at + 90], name
