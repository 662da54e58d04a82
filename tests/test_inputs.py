"""Inputs that stand once for all cards and tables: what a sheet gives goes over them, faults have their place."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from test_faults import spoil

from conftest import HOUSE, KEPT, LIBRARY, read_yaml
from generator.check import load_checked
from generator.errors import Faults
from generator.formula import FORMULARY
from generator.model.library import Library, load
from generator.model.schema import SHARED_IN, overlaid
from generator.reckoning import InputError, input_texts, reckon
from generator.units import SYSTEMS, from_to

SHARED = {"ask": "depth", "metric": "90 mm", "inch": "3 1/2 in", "max": "1 m", "source": "common-practice"}
CARD = "procedures/cards/blind-stud.yaml"
STEPPED = "procedures/cards/bonded-stepped-hole.yaml"


@pytest.mark.parametrize(
    ("own", "whole"),
    [
        ("", SHARED),
        ({"ask": "reach"}, {**SHARED, "ask": "reach"}),
        ({"metric": "80 mm"}, {"ask": "depth", "metric": "80 mm", "max": "1 m", "source": "common-practice"}),
        ({"default": "2"}, {"ask": "depth", "default": "2", "max": "1 m", "source": "common-practice"}),
        ({"source": "", "max": ""}, {"ask": "depth", "metric": "90 mm", "inch": "3 1/2 in"}),
        ("90 mm", {"ask": "depth", "default": "90 mm", "max": "1 m", "source": "common-practice"}),
        (["a"], ["a"]),
    ],
)
def test_what_a_sheet_gives_goes_over_what_stands_for_all(own: object, whole: object) -> None:
    assert overlaid(SHARED, own) == whole


def test_what_several_sheets_have_alike_stands_once(library: Library) -> None:
    """Each name is taken by two at least, and nothing that it stands for is written out in a sheet, nor twice."""
    shared, taken, written = library.documents["shared.yaml"].data, Counter[tuple[str, str]](), list[object]()
    for file in (*HOUSE.glob("procedures/cards/*.yaml"), *HOUSE.glob("procedures/tables/*.yaml")):
        sheet, own = read_yaml(file), set[tuple[str, str]]()
        for kind, *more in SHARED_IN:
            part = sheet.get(kind, {})
            for one in part.get(more[0], []) if more else part:
                names = one.get("like", []) if isinstance(one, dict) else []
                own |= {(kind, name) for name in ([names] if isinstance(names, str) else names)}
                written.append(one)
        taken.update(own)
    assert {(kind, name) for kind, names in shared.items() for name in names} == {*taken}
    assert min(taken.values()) > 1
    every = [one for names in shared.values() for one in names.values()]
    assert not [one for place, one in enumerate(every) if one in written or one in every[:place]]


def test_a_list_takes_names_in_the_place_of_its_own(library: Library) -> None:
    """One or several in a row, in the list's own order; what stands around them keeps its place in messages."""
    card, shared = library.cards["bonded-stepped-hole"], library.shared
    assert [step.title for step in card.steps[4:7]] == ["Prepare the metal, mask and warm", "Mix", "Wet out"]
    assert card.steps[5] == shared.steps["mix"]
    names = ("resin", "hardener", "filler")
    assert card.needs.materials[2:5] == [shared.needs[name] for name in names]
    document = library.documents["cards/bonded-stepped-hole.yaml"]
    below = document.fault(("needs", "materials", 5, "amount"), "")
    assert "Spacer pads" in below.written
    assert [document.fault(("needs", "materials", place), "").column for place in (2, 3, 4)] == [
        below.written.index("-") + 1 + len("- like: [") + sum(len(name) + 2 for name in names[:place])
        for place in range(3)
    ]


def test_every_shared_input_serves_two_sheets(library: Library) -> None:
    shared = library.documents["inputs.yaml"].data["givens"]
    for name in shared:
        assert sum(name in sheet.givens for _, sheet in library.sheets()) > 1, name


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        (CARD, " f_o,", " f_o: [0.7],", "a mapping is wanted here"),
        (CARD, " f_o,", " f_o: 0.9,", "outside the range of this card"),
        (CARD, " f_o,", " f_o: {min: 0.9},", "the least is more than the most"),
        (CARD, " f_o,", " f_o: {deflt: '0.7'},", "unknown key 'deflt'; did you mean 'default'?"),
        (CARD, " f_o,", " f_oo,", "'f_oo' is no input of inputs.yaml, so its name alone asks nothing; did you mean 'f_o'?"),
        (CARD, " f_o,", " n_lq,", "so its name alone asks nothing; say what it asks for: n_lq: {ask: ..., default: ...}"),
        (CARD, " f_o,", " M_by: 3 N,", "the key 'ask' is missing here"),
        (CARD, "large_drill, guide_drill,", "large_drill guide_drill,", "a comma is missing between large_drill and guide_drill"),
        (STEPPED, "like: mix", "like: mixx", "no 'mixx' under 'steps' in shared.yaml; did you mean 'mix'?"),
        (STEPPED, "like: mix", "like: {mix: 1}", "give the name of what stands under 'steps' in shared.yaml, or a list of them"),
        (STEPPED, "like: mix", "like: mix\n    see: Clear.", "'like' takes what stands in shared.yaml as it is; no other key stands beside it"),
        (STEPPED, "like: [resin,", "like: [rasin,", "no 'rasin' under 'needs' in shared.yaml; did you mean 'resin'?"),
        (STEPPED, "like: [resin,", "like: [filler-in-lifts,", "n_p"),
        ("procedures/shared.yaml", "see: Clear, no streaks.", "sea: Clear, no streaks.", "unknown key 'sea'; did you mean 'see'?"),
        (CARD, "{min: 20 %}, V_s", "{min: 20 %} V_s", "a comma is missing before this, or what opens in line"),
        ("procedures/inputs.yaml", "  f_o: {ask", "  f_o: {aks", "unknown key 'aks'; did you mean 'ask'?"),
        ("procedures/inputs.yaml", "metric: 1 m2, inch: 10 ft2", "metric: 1 m2", "give one 'default' for both shops, or both"),
        ("procedures/inputs.yaml", "source: common-practice", "source: commun-practice", "unknown source 'commun-practice'"),
        ("procedures/tables/fillers.yaml", "filler: colloidal-silica", "filler: colloidal", "'colloidal' is not one of the fillers"),
        ("procedures/drawings/heat-removal.yaml", "probe: {words: probe, value: T_k, side: left}", "probe: {words: probe, value: con, side: left}", "'con' is neither a symbol"),
    ],
)  # fmt: skip
def test_a_fault_has_its_place(house: Path, file: str, old: str, new: str, words: str) -> None:
    line, _ = spoil(house, file, old, new)
    with pytest.raises(Faults) as caught:
        load_checked(house / "procedures", KEPT)
    found = [(fault.file, fault.line) for fault in caught.value.faults if words in fault.message]
    assert (file, line) in found, caught.value.faults
    assert {fault.file for fault in caught.value.faults} == {file}


@pytest.mark.parametrize(
    ("like", "told"),
    [
        ("one-to-two", "no 'one-to-two' under 'checks' in shared.yaml; did you mean 'one-to-one'?"),
        ("[]", "the list is empty; give at least one item"),
    ],
)
def test_of_a_list_of_which_nothing_is_left_one_thing_is_told(house: Path, like: str, told: str) -> None:
    spoil(house, "procedures/tables/mix.yaml", "like: one-to-one", f"like: {like}")
    with pytest.raises(Faults) as caught:
        load_checked(house / "procedures", KEPT)
    assert [fault.message for fault in caught.value.faults] == [told]


def test_of_a_list_that_is_too_short_is_told_how_much_it_wants(house: Path) -> None:
    (house / "procedures/chooser.yaml").write_text(
        (HOUSE / "procedures/chooser.yaml")
        .read_text(encoding="utf-8")
        .replace(", cored: Two skins with a core between", ""),
        encoding="utf-8",
    )
    with pytest.raises(Faults, match="at least 2 items are wanted here; add what is missing"):
        load_checked(house / "procedures", KEPT)


def test_a_change_in_one_place_reaches_every_card(house: Path) -> None:
    spoil(
        house,
        "procedures/inputs.yaml",
        "w_a: {ask: allowance for waste, default: 40 %",
        "w_a: {ask: allowance for waste, default: 55 %",
    )
    before, after = load(HOUSE / "procedures"), load(house / "procedures")
    changed = [
        name for name, sheet in after.sheets() if "w_a" in sheet.givens and sheet.givens["w_a"].default == "55 %"
    ]
    assert len(changed) > 3
    for name, sheet in before.sheets():
        assert ("w_a" in sheet.givens and sheet.givens["w_a"].default == "40 %") == (name in changed), name


def test_a_default_may_call_a_thread_by_any_of_its_names(small_house: Path) -> None:
    """What a page offers is sizes, so the default must be one of them."""
    path = small_house / "procedures/inputs.yaml"
    text = path.read_text(encoding="utf-8")
    assert "metric: M8\n" in text
    path.write_text(text.replace("metric: M8\n", "metric: m8 x 1.25\n", 1), encoding="utf-8")
    given = load(small_house / "procedures").inputs["thread"]
    assert given.metric == "M8"


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [("1 mm", "2 mm", "1 mm to 2 mm"), ("2 mm", "2 mm", "2 mm"), ("1 mm", "", "at least 1 mm"), ("", "2 mm", "at most 2 mm"), ("", "", "")],
)  # fmt: skip
def test_a_range_is_told_by_its_ends(low: str, high: str, said: str) -> None:
    assert from_to(low, high) == said


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        ({"T": "5 m"}, "hole depth: outside the range of this card: take 10 to 1000\u00a0mm"),
        ({"T": "6 kg"}, "hole depth: '6 kg' is not a length"),
        ({"nonsense": "1"}, "unknown input 'nonsense'; inputs: thread, hole, T, "),
        ({"larg_drill": "twist"}, "unknown input 'larg_drill'; did you mean large_drill, guide_drill?"),
        ({"hole": "blind"}, "blind hole: this card is not for it, take the card"),
        ({"ratio": "2:1 by moon"}, "ratio: '2:1 by moon' is no mix ratio"),
        ({"ratio": "2 1 by volume"}, "ratio: '2 1 by volume' is no mix ratio"),
        ({"ratio": "2/1 by volume"}, "ratio: '2/1 by volume' is no mix ratio"),
    ],
)
def test_an_input_that_is_wrong_is_told_by_what_it_means(library: Library, inputs: dict[str, str], words: str) -> None:
    with pytest.raises(InputError) as raised:
        reckon(library, library.cards["bonded-stepped-hole"], inputs)
    assert str(raised.value).startswith(words)
    assert raised.value.name in inputs


def test_a_number_is_the_readers_own_or_its_sources(library: Library) -> None:
    """What a card comes set to has the source that it names; what names none, or is set, is the reader's."""
    card = library.cards["bonded-stepped-hole"]
    before, after = (reckon(library, card, inputs).working.sources for inputs in ({}, {"f_o": "0.7", "w_a": "30 %"}))
    symbols = {name: given.source for name, given in card.givens.items() if name in FORMULARY.symbols}
    assert {symbols["T"], symbols["f_o"]} == {None, "common-practice"}
    assert {name: before[name] for name in symbols} == {name: named or "your-own" for name, named in symbols.items()}
    assert {name for name in symbols if before[name] != after[name]} == {"f_o", "w_a"}
    assert after["f_o"] == after["w_a"] == "your-own"


def test_a_sheet_comes_with_a_thread_of_the_shops_series_and_all_else_in_its_units() -> None:
    """In a shop that measures in millimetres and works with inch threads one of them is as in each of the others."""
    mixed = LIBRARY.shops["metric"].model_copy(update={"threads": "inch"})
    library = replace(LIBRARY, shops={**LIBRARY.shops, "mixed": mixed})
    for _, sheet in LIBRARY.sheets():
        metric, inch = (input_texts(LIBRARY, sheet, {}, shop) for shop in SYSTEMS)
        thread = {"thread": inch["thread"]} if "thread" in inch else {}
        assert input_texts(library, sheet, {}, "mixed") == {**metric, **thread}


def test_a_count_that_is_asked_for_is_no_less_than_one() -> None:
    """Of no holes there is nothing to tell, and no card may seem to carry a load without a fastener."""
    asked = {
        (name, given.min)
        for givens in (LIBRARY.inputs, *(sheet.givens for _, sheet in LIBRARY.sheets()))
        for name, given in givens.items()
        if name in ("N", "N_y", "n_h")
    }
    assert {name for name, _ in asked} == {"N", "N_y", "n_h"}
    assert not [name for name, least in asked if least is None or float(least) < 1]
