"""The live card against the generator: the same inputs worked in Node and in Python.

Inputs are drawn by lot for every card; each card's own script works all of them in one Node process. Values must agree
to 1e-9, and every text that a reader sees (rounded values, chosen drills, refusals, warnings) to the letter.
"""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path
from random import Random
from typing import Any

import pytest
from test_units import WRITTEN

from conftest import CARD, HOUSE, LIBRARY, node
from generator.figures import BLANK, FIGURES, Figure, figure
from generator.figures.faults import drawing_names
from generator.formula import FORMULARY
from generator.live.card_script import card_script, drawings_script, held
from generator.live.fields import Field, card_fields
from generator.live.figure_script import figures_script
from generator.model.library import Library
from generator.model.quantity import read_symbol
from generator.model.schema import Given
from generator.reckoning import InputError, Reckoning, reckon
from generator.units import SPELLINGS, SYSTEMS, System, bound, factor, from_base

INPUTS = 500
# A gap under a crown of 100 m is a difference of lengths that long: below a ten-thousandth of a nanometre both are noise.
NOISE = 1e-13
# Of these as many as this are drawn as well.
DRAWINGS = 60

BATCH = """
const { readFileSync } = require("fs");
require(process.argv[1]);
require(process.argv[2]);
require(process.argv[3]);
const { work, say } = bondwright, card = bondwrightCard, joint = bondwrightDrawings[0];
const answer = ([system, inputs, drawn]) => {
  const job = work(system, inputs), worked = !Object.keys(job.faults).length;
  const said = worked ? Object.fromEntries([...Object.keys(job.titles), ...Object.keys(card.shown)]
    .filter(name => name in job.values || name in job.refused || name in job.titles)
    .map(name => [name, say(job, name)])) : {};
  const figure = worked && drawn ? joint(job.values, name => say(job, name), job.texts, "x", job.refused) : null;
  const refused = Object.fromEntries(Object.keys(card.shown).filter(name => name in job.refused)
    .map(name => [name, job.refused[name][0]]));
  return { figure, values: worked ? job.values : {}, said, refused, warnings: job.warnings, faults: job.faults };
};
const jobs = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(jobs.map(answer)));
"""

# A card's drawings out of Python's own values and texts.
DRAWN = """
const { readFileSync } = require("fs");
const figures = require(process.argv[1]);
const draw = ([values, said, texts, refused]) => figures.map(figure => figure(values, name => said[name], texts, "x", refused));
process.stdout.write(JSON.stringify(JSON.parse(readFileSync(0, "utf8")).map(draw)));
"""

SPOILT = (
    "1,5 mm",
    "1,500 mm",
    "1/0 mm",
    "",
    "wide",
    "12 bananas",
    "3/0 mm",
    "-4 mm",
    "0 mm",
    "1e3 mm",
    "7",
    "0",
    "90 mm 5",
    "9" * 90,
    "3 1/2 in",
    "3½ in",
    "3 1/2″",
    "7⁄8”",
    "3-1/2 inches",
    "−4 mm",
    "2½\u00a0in",
    "20C",
    "68 F",
    "9\u2009000 mm",
)


Texts = Callable[[Random], str]


def number_texts(field: Field) -> Texts:
    """Texts of a number, most of them in the field's range: in any of its units, plain or with a fraction, or a bound."""
    symbol = FORMULARY.symbols[field.name]
    default = read_symbol(field.name, field.given.text("metric"))
    low = read_symbol(field.name, field.given.min) if field.given.min else default / 3
    high = read_symbol(field.name, field.given.max) if field.given.max else default * 3
    if symbol.unit == "K" and not field.given.min:
        low, high = 275.0, 313.0
    spellings = sorted(SPELLINGS[symbol.unit])
    bounds = [text for text in (field.given.min, field.given.max) if text]

    def text(chance: Random) -> str:
        if field.step("metric") == 1 and field.unit("metric") == "" and symbol.metric.step == 1:
            return str(chance.randint(max(1, round(low)), max(1, round(min(high, 12)))))
        way = chance.random()
        if bounds and way < 0.1:
            return chance.choice(bounds)
        if symbol.unit == "m" and way < 0.3 and default < 0.3:
            return f"{chance.randint(0, max(0, int(default / 0.03)))} {chance.randint(1, 63)}/64 in"
        value = chance.uniform(max(low, default / 4), min(high, default * 4) * 1.01)
        spelling = chance.choice(spellings)
        number = from_base(value, symbol.unit, SPELLINGS[symbol.unit][spelling])
        return f"{number:.{chance.randint(0 if number > 20 else 3, 6)}f} {spelling}".strip()

    return text


def field_texts(field: Field) -> Texts:
    """Texts for a field of any kind."""
    if field.kind == "number":
        return number_texts(field)
    if field.kind == "ratio":
        ends = ["", ".5", "00", ",5", ".50", "/3", " 2/7", "½", " "]
        return lambda chance: (
            f"{chance.randint(1, 9)}{chance.choice(ends)}:{chance.randint(1, 9)}{chance.choice(ends)} by {chance.choice(['volume', 'weight'])}"
        )
    if field.kind == "thread":
        sizes = [thread.size for _, _, thread in LIBRARY.threads()]
    else:
        sizes = sorted(LIBRARY.tables[LIBRARY.choices[field.name].table])
    return lambda chance: chance.choice(sizes)


def random_inputs(fields: list[Field]) -> Callable[[Random], tuple[str, dict[str, str]]]:
    """A shop and some inputs; in one job of ten a typed field is spoilt."""
    texts = {field.name: field_texts(field) for field in fields}
    typed = sorted(field.name for field in fields if field.kind in ("number", "ratio"))

    def drawn(chance: Random) -> tuple[str, dict[str, str]]:
        names = chance.sample(sorted(texts), chance.randint(1, min(8, len(texts))))
        inputs = {name: texts[name](chance) for name in names}
        if chance.random() < 0.1:
            inputs[chance.choice(typed)] = chance.choice(SPOILT)
        return chance.choice(SYSTEMS), inputs

    return drawn


@cache
def drawn_jobs(card: str) -> list[tuple[str, dict[str, str]]]:
    """As many different jobs as asked for, drawn by lot, the default job of each shop first."""
    chance, draw = Random(card), random_inputs(card_fields(LIBRARY, LIBRARY.cards[card]))
    drawn = [draw(chance) for _ in range(INPUTS + 50)]
    found = {json.dumps(one, sort_keys=True): one for one in drawn}
    assert len(found) >= INPUTS, f"{len(found)} different jobs"
    return [*((system, {}) for system in SYSTEMS), *found.values()]


def in_node(
    card: str, drawn: list[tuple[str, dict[str, str]]], folder: Path, library: Library = LIBRARY
) -> list[dict[str, Any]]:
    script, drawings = folder / "card.js", folder / "drawings.js"
    script.write_text(card_script(library, card, library.systems), encoding="utf-8")
    drawings.write_text(drawings_script(library, library.cards[card]), encoding="utf-8")
    answers: list[dict[str, Any]] = node(
        BATCH,
        [script, drawings, HOUSE / "docs/assets/live.js"],
        [(*asked, place < DRAWINGS) for place, asked in enumerate(drawn)],
    )
    return answers


SAID: dict[tuple[str, System, float, str | None], str] = {}


def said(reckoning: Reckoning, names: Iterable[str]) -> dict[str, str]:
    """What a job says of symbols. Most of a card's jobs have most values alike: each is put into words once."""
    values, system, written = reckoning.working.values, reckoning.system, reckoning.set_to
    found = {}
    for name in names:
        if name not in values:
            found[name] = reckoning.said(name)
            continue
        key = (name, system, values[name], written.get(name))
        if (text := SAID.get(key)) is None:
            text = SAID[key] = reckoning.said(name)
        found[name] = text
    return found


def in_python(
    card: str, system: str, inputs: dict[str, str], theirs: dict[str, Any], *, library: Library = LIBRARY
) -> dict[str, Any]:
    """The same out of Python: what Node says, and a drawing where Node drew one."""
    sheet = library.cards[card]
    try:
        reckoning = reckon(library, sheet, {**inputs, "shop": system})
    except InputError as error:
        return {"values": {}, "fault": [error.name, str(error)]}
    values, refused = reckoning.working.values, {name: str(why) for name, why in reckoning.working.refused.items()}
    why = " ".join(f"No number: {reason}." for reason in reckoning.reasons)
    return {
        "fault": None,
        "values": values,
        "said": said(reckoning, (name for name in theirs["said"] if name in values or name in refused))
        | {**reckoning.titles, "why": why},
        "refused": refused,
        "warnings": reckoning.working.warnings,
        "figure": figure(library, sheet.figure, reckoning, "x") if theirs["figure"] else None,
    }


def differences(theirs: dict[str, Any], ours: dict[str, Any]) -> list[str]:
    """What differs between Node's answer and Python's."""
    found = [] if alike(theirs["faults"], ours["fault"]) else [f"faults: {theirs['faults']}, python {ours['fault']}"]
    if found or ours["fault"]:
        return found
    if theirs["warnings"] != ours["warnings"]:
        found.append(f"warnings: {theirs['warnings']}, python {ours['warnings']}")
    found += [
        f"no {name}: {theirs['refused'].get(name)!r}, python {ours['refused'].get(name)!r}"
        for name in theirs["said"].keys() & FORMULARY.symbols.keys()
        if theirs["refused"].get(name) != ours["refused"].get(name)
    ]
    if found:
        return found
    for name in [*filter(bound, theirs["values"])]:  # which only messages say, and those are compared
        del theirs["values"][name], theirs["said"][name]
    for name, value in theirs["values"].items():
        if value != (own := ours["values"][name]):
            noise = NOISE if FORMULARY.symbols[name].unit == "m" else 1e-18
            if not math.isclose(value, own, rel_tol=1e-9, abs_tol=noise):
                found.append(f"{name}: {value!r}, python {own!r}")
    for name, text in theirs["said"].items():
        if text != ours["said"][name]:
            found.append(f"{name}: {text!r}, python {ours['said'][name]!r}")
    if ours["figure"]:
        found += figure_differences(theirs["figure"], ours["figure"])
    return found


def figure_differences(theirs: dict[str, str], ours: Figure) -> list[str]:
    """Which parts of a drawing differ between Node and Python."""
    assert not any(none in ours.svg and re.search(rf"\b{none}\b", ours.svg) for none in ("nan", "inf")), ours.title
    return [
        f"the drawing's {part} differs"
        for part in ("title", "description", "caption", "svg")
        if not same_but_for_zeros(theirs[part], getattr(ours, part))
    ]


def alike(theirs: dict[str, str], ours: list[str] | None) -> bool:
    """Whether both refuse the same field and say the same to do.

    Python stops at the first fault; the page marks every field at fault. There the words stand beside the field, and
    what is in it is not repeated.
    """
    return not theirs if ours is None else theirs.get(ours[0], "nothing") in ours[1]


NUMBER = re.compile(r"(-?\d+(?:\.\d+)?)")
# It begins with its own signs, which are soon found in a long text.
WHOLE = re.compile(r"\.0(?<=\d\.0)(?!\d)")


def same_but_for_zeros(theirs: str, ours: str) -> bool:
    """Whether two texts are the same, their numbers to two decimals: JavaScript writes 1 where Python writes 1.0."""
    if theirs == WHOLE.sub("", ours):
        return True
    theirs_cut, ours_cut = NUMBER.split(theirs), NUMBER.split(ours)
    if theirs_cut[::2] != ours_cut[::2]:
        return False
    numbers = zip(theirs_cut[1::2], ours_cut[1::2], strict=True)
    return all(one == other or round(float(one), 2) == round(float(other), 2) for one, other in numbers)


@pytest.mark.parametrize("card", sorted(LIBRARY.cards))
def test_node_works_a_card_as_python_does(card: str, tmp_path: Path) -> None:
    """Jobs drawn by lot, and every thread in every shop, out of one process."""
    by_lot, sized = drawn_jobs(card), every_thread(card)
    drawn = [*by_lot, *sized]
    answers = in_node(card, drawn, tmp_path)
    assert len(answers) == len(drawn) > INPUTS
    ours = [in_python(card, *asked, theirs) for asked, theirs in zip(drawn, answers, strict=True)]
    wrong = [
        f"{system} {inputs}: {difference}"
        for (system, inputs), theirs, own in zip(drawn, answers, ours, strict=True)
        for difference in differences(theirs, own)
    ]
    assert not wrong, f"{len(wrong)} differ\n" + "\n".join(wrong[:12])
    wanted = set(LIBRARY.cards[card].outputs)
    for theirs, own in zip(answers, ours, strict=True):
        assert own["fault"] or wanted <= theirs["values"].keys() | theirs["refused"].keys()
        assert own["fault"] or theirs["refused"].keys() & wanted == own["refused"].keys() & wanted
    # A comparison of refusals alone, or of none, would prove little.
    kinds = Counter(
        "fault" if one["fault"] else "refusal" if one["refused"].keys() & wanted else "worked"
        for one in ours[: len(by_lot)]
    )
    assert kinds["worked"] >= 100, kinds
    assert kinds["fault"] >= 20, kinds
    assert sum(one.get("figure") is not None for one in ours) >= 20
    geometry_of_every_thread(card, sized, answers[len(by_lot) :])


# Two cards have no geometry without one: a plate goes by its load, and pilots are laid down for some screws only.
BY_THE_LOAD = ("backing-plate", "bonded-screw")
GEOMETRY = {"D_g", "D_o", "D_k", "L_o", "M_o", "M_g", "V_r", "V_1", "V", "m_r", "m_h"}


def every_thread(card: str) -> list[tuple[str, dict[str, str]]]:
    """Every thread in every shop, if the card has one."""
    sizes = [thread.size for _, _, thread in LIBRARY.threads()] if "thread" in LIBRARY.cards[card].givens else []
    return [(system, {"thread": size}) for system in SYSTEMS for size in sizes]


def geometry_of_every_thread(card: str, sized: list[tuple[str, dict[str, str]]], answers: list[dict[str, Any]]) -> None:
    """Where a drill list or a washer's standard lacks the size, that is told; a strength takes no drill away."""
    worked = 0
    for (_, inputs), theirs in zip(sized, answers, strict=True):
        for symbol in GEOMETRY & set(LIBRARY.cards[card].outputs) if card not in BY_THE_LOAD else ():
            why = theirs["refused"].get(symbol, "")
            assert not re.search("strength|load|oily|laid down|no row for", why), (inputs, symbol, why)
            worked += symbol in theirs["values"]
    assert worked > len(sized) // len(SYSTEMS) or card in BY_THE_LOAD or not sized


def test_what_is_written_in_a_shop_is_read_alike_on_the_command_line_and_in_the_page(tmp_path: Path) -> None:
    """Lengths and temperatures, for those are written in most ways."""
    asked = {"m": "T", "K": "T_a"}
    written = [(text, asked[base], value) for text, base, value in WRITTEN if base in asked]
    drawn = [("metric", {name: text}) for text, name, _ in written]
    meant = 0
    for (text, name, value), (system, inputs), theirs in zip(
        written, drawn, in_node(CARD, drawn, tmp_path), strict=True
    ):
        assert not differences(theirs, in_python(CARD, system, inputs, theirs)), text
        if not theirs["faults"]:
            assert theirs["values"][name] == pytest.approx(value, rel=1e-12), text
            meant += 1
        assert "for example" not in "".join(theirs["faults"].values()), "it is read, if out of the card's range"
    assert meant >= 15


def drawings_of(card: str) -> list[str]:
    """The drawings that a card names, each once."""
    return list(dict.fromkeys(name for _, name in drawing_names(LIBRARY.cards[card])))


def test_every_drawing_stands_on_a_card() -> None:
    assert {name for card in LIBRARY.cards for name in drawings_of(card)} == set(FIGURES)


@pytest.mark.parametrize("card", sorted(LIBRARY.cards))
def test_node_draws_every_other_drawing_of_a_card_as_python_does(card: str, tmp_path: Path) -> None:
    """The joint's own is compared above, out of the values that the page works."""
    worked = []
    for system, inputs in drawn_jobs(card)[:DRAWINGS]:
        with suppress(InputError):
            worked.append(reckon(LIBRARY, LIBRARY.cards[card], {**inputs, "shop": system}))
    assert len(worked) >= 20
    names = [name for name in drawings_of(card) if name != LIBRARY.cards[card].figure]
    script = tmp_path / "figures.js"
    script.write_text(f"module.exports={figures_script(LIBRARY, names)}.map({held()})", encoding="utf-8")
    given = []
    for reckoning in worked:
        texts = said(reckoning, reckoning.working.values) | reckoning.titles
        refused = {name: [str(why)] for name, why in reckoning.working.refused.items()}
        given.append([reckoning.working.values, texts, reckoning.texts, refused])
    wrong = []
    for reckoning, theirs in zip(worked, node(DRAWN, [script], given), strict=True):
        for name, drawing in zip(names, theirs, strict=True):
            ours = figure(LIBRARY, name, reckoning, "x")
            wrong += [f"{name} {reckoning.texts}: {difference}" for difference in figure_differences(drawing, ours)]
    assert not wrong, f"{len(wrong)} differ\n" + "\n".join(wrong[:12])


FAULTY = """
const figure = require(process.argv[1]);
process.once("uncaughtException", error => process.stdout.write(JSON.stringify([shown, error.message])));
const shown = figure({}, name => name, {}, "x", {});
"""


def test_a_drawing_with_a_fault_is_taken_away_and_the_fault_told(tmp_path: Path) -> None:
    script = tmp_path / "faulty.js"
    script.write_text(f"module.exports={held()}(()=>{{throw TypeError('a fault')}})", encoding="utf-8")
    shown, told = node(FAULTY, [script], None)
    assert shown["svg"] == BLANK
    assert shown["caption"] == "No drawing: it cannot be drawn with these numbers."
    assert told == "a fault"


# How far a text lies from a tie, in its own unit, and which of the two sizes is right then: the larger of equally near,
# and what is off by less than a nanometre is equal.
OFF = {
    "metric": {"": 1, "-0.0000004": 1, "+0.0000004": 1, "-0.000003": 0, "+0.000003": 1},
    "inch": {"": 1, "-0.00000001": 1, "+0.00000001": 1, "-0.000001": 0, "+0.000001": 1},
}


def ties(system: System) -> Iterator[tuple[str, str, float]]:
    """A field, a text at or by a tie, and the size that is right: between neighbours of a stock list and on half steps."""
    unit = "mm" if system == "metric" else "in"
    for kind in LIBRARY.tables["drills"]:
        sizes = [
            Fraction(size / factor(unit, "m")).limit_denominator(64) for size in LIBRARY.stock_of(kind, system).sizes
        ]
        for pair in pairwise(sizes):
            for off, right in OFF[system].items():
                yield f"D_t {kind}", f"{float(sum(pair) / 2 + Fraction(off or 0)):.9f} {unit}", float(pair[right])
    step = Fraction(1) if system == "metric" else Fraction(1, 16)
    for steps in range(40, 44):
        for off in OFF[system]:  # a step is no stock size: only noise of the arithmetic is forgiven
            size = (steps + (not off.startswith("-"))) * step
            yield "L_t", f"{float((steps + Fraction(1, 2)) * step + Fraction(off or 0)):.9f} {unit}", float(size)


@pytest.mark.parametrize("system", SYSTEMS)
def test_of_two_equally_near_both_take_the_larger(system: System, tmp_path: Path) -> None:
    wanted = {"D_t": Given(ask="diameter wanted", default="14 mm"), "L_t": Given(ask="depth wanted", default="63 mm")}
    card = LIBRARY.cards[CARD]
    library = replace(LIBRARY, cards={**LIBRARY.cards, CARD: card.model_copy(update={"givens": card.givens | wanted})})
    cases = list(ties(system))
    unit = "mm" if system == "metric" else "in"
    # Nothing but the size is in question: a depth with room for every drill.
    asked = []
    for field, text, _ in cases:
        symbol, _, kind = field.partition(" ")
        asked.append((system, {symbol: text, "T": "300 mm"} | ({"large_drill": kind} if kind else {})))
    answers = in_node(CARD, asked, tmp_path, library)
    chosen = 0
    for (field, text, right), (_, inputs), theirs in zip(cases, asked, answers, strict=True):
        ours = in_python(CARD, system, inputs, theirs, library=library)
        assert differences(theirs, ours) == [], (field, text)
        symbol = "L_o" if field == "L_t" else "D_o"
        if symbol in theirs["values"]:
            assert theirs["values"][symbol] / factor(unit, "m") == pytest.approx(right, rel=1e-9), (field, text)
            chosen += 1
    assert chosen > 100


@pytest.mark.parametrize(
    ("system", "thread", "size"), [("metric", "1/2-13 UNC", "20\u00a0mm"), ("inch", "M20", "1\u00a01/8\u00a0in")]
)
def test_a_tie_that_a_reader_can_set(system: str, thread: str, size: str, tmp_path: Path) -> None:
    """A guide hole of 13 mm and 6 mm more lie between flat bits of 18 and 20 mm; 13/16 and 1/4 in between 1 and 1 1/8."""
    inputs = {"thread": thread, "guide_drill": "flat", "large_drill": "flat", "fastener": "a4-50"}
    (theirs,) = in_node(CARD, [(system, inputs)], tmp_path)
    assert differences(theirs, in_python(CARD, system, inputs, theirs)) == []
    assert theirs["said"]["D_o"] == size
