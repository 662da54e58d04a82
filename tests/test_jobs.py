"""Job sheets: faults with their place, the plan of the sheets that ship, totals by hand, the calendar, the page."""

from __future__ import annotations

import csv
import io
import itertools
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from functools import cache, partial
from math import floor, pi
from pathlib import Path
from urllib.parse import parse_qs, urlsplit
from xml.etree import ElementTree

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar
from test_batch import WORK
from test_faults import faults, spoil, spoilt_text

from conftest import HOUSE, KEPT, Run, kept_sheet, large_job, set_option
from generator.check import load_checked
from generator.cli import main
from generator.errors import Fault, Faults
from generator.jobs.faults import job_faults
from generator.jobs.fittings import Worked, carried, inputs_of, work_fittings
from generator.jobs.loads import LoadCheck, Remedy, check_loads
from generator.jobs.plan import CURES, JobPlan, Planner, Share, line_of, stock_of
from generator.jobs.sheet import WorkedSheet, work_sheet
from generator.jobs.shopping import Item, _Shopper, cut_from, few_packs, shopping_list
from generator.kept import Kept
from generator.language import read_language, speaking
from generator.model.jobsheet import Fitting, JobSheet
from generator.model.library import Library, Reader, load
from generator.model.schema import Decided
from generator.pages.job_sheet import JobPage, card_address
from generator.pages.options import SiteOptions
from generator.pages.site import environment
from generator.pages.words import caution_html, markdown_text
from generator.reckoning import reckon
from generator.schedule.mixes import Exchange
from generator.schedule.timetable import DAY, Slot
from generator.units import plain, read_quantity

Sheets = Callable[[str], WorkedSheet]
Alone = Callable[[str], Library]


@pytest.fixture(scope="module")
def sheets(library: Library) -> Sheets:
    """The sheets that ship, each worked once."""
    return cache(partial(kept_sheet, library))


@pytest.fixture(scope="module")
def alone(library: Library, tmp_path_factory: pytest.TempPathFactory) -> Alone:
    """The library with a sheet of a text, `own`, for its only one: nothing but that is read again."""
    root = tmp_path_factory.mktemp("alone") / "procedures"
    (root / "jobs").mkdir(parents=True)

    def read(text: str) -> Library:
        (root / "jobs/own.yaml").write_text(text, encoding="utf-8")
        own = replace(library, layers=(root,), documents={**library.documents}, job_sheets={}, spoilt={})
        Reader(own, []).read_job_sheet("own")
        return own

    return read


DINGHY, LAUNCH = "procedures/jobs/class-dinghy.yaml", "procedures/jobs/launch-refit.yaml"
SHIPPED = {file: (HOUSE / file).read_text(encoding="utf-8") for file in (DINGHY, LAUNCH)}
OWN = "procedures/jobs/own.yaml"
# When hands work on the launch.
WORKED = "hours: 08:30 to 17:00\n  breaks: [12:00 to 12:30]"
BOW = "{thread: M8, T: 110 mm"


SPOILT = [
    pytest.param("card: bonded-stepped-hole", "card: bonded-stept-hole", (0, 6), "no card 'bonded-stept-hole'; cards: bonded-stepped-hole", id="card"),
    pytest.param("card: bonded-stepped-hole", "card: mixing", (0, 6), "the card 'mixing' has no 'job', so it stands in no sheet", id="card-without-job"),
    pytest.param(BOW, "{thread: M7, T: 110 mm", (0, 9), "thread 'M7' is not in the data; near it:", id="thread"),
    pytest.param(BOW, "{thread: M8, T: 4 mm", (0, 16), "outside the range of this card: take 10 to 1000\u00a0mm", id="depth"),
    pytest.param(BOW, "{thread: M8, hole: blind, T: 110 mm", (0, 19), "blind hole: this card is not for it, take the card 'Bonded blind stud or rod'", id="another-card's"),
    pytest.param(BOW, "{thread: M8, T: 4 kg", (0, 16), "'4 kg' is not a length", id="unit"),
    pytest.param(BOW, "{thread: M8, L_sc: 40 mm, T: 110 mm", (0, 13), "the card 'bonded-stepped-hole' has no input 'L_sc'", id="no-input"),
    pytest.param(BOW, "{thread: M8, larg_drill: flat, T: 110 mm", (0, 13), "has no input 'larg_drill'; did you mean 'large_drill'?", id="near-input"),
    pytest.param(BOW, "{thread: M8, T_a: 20 °C, T: 110 mm", (0, 13), "give 'temperature' among the conditions", id="condition-as-input"),
    pytest.param(BOW, '{thread: M8, N: "2", T: 110 mm', (0, 13), "give the fitting's 'count'", id="count-as-input"),
    pytest.param("wood: white-oak, fastener", "wood: white-oke, fastener", (0, 6), "'white-oke' is not one of the woods", id="row"),
    pytest.param("name: painter cleat", "name: Bow eye", (0, 6), "'Bow eye' is already fitting 1 of this sheet", id="two-of-a-name"),
    pytest.param("fitting: cleat pad, line: look", "fitting: cleat pod, line: look", (0, -1), "no fitting 'cleat pod' in this sheet; near it: cleat pad", id="after-unknown"),
    pytest.param("fitting: cleat pad, line: look", "fitting: cleat pad, line: lok", (0, 26), "'lok' is no line of the plan of 'Cast seat, bonded for good'; lines: fit, prepare, fill, first-look, look, tighten", id="after-line"),
    pytest.param("fitting: cleat pad, line: look", "fitting: cleat pad, 700: look", (0, 20), "unknown key '700'; known keys: fitting, line", id="after-number"),
    pytest.param("fitting: cleat pad, line: look", "fitting: jib sheet cleat, line: look", (0, -1), "a fitting cannot come after itself", id="after-itself"),
    pytest.param("  temperature: 18 °C\n", "", None, "the key 'temperature' is missing here; add it", id="no-temperature"),
    pytest.param("temperature: 18 °C", "temperature: 60 °C", (0, 13), "too warm to reckon a time", id="too-warm"),
    pytest.param("temperature: 18 °C", "temperature: 18", (0, 13), "temperature: '18' has no unit; write a temperature", id="bare-temperature"),
    pytest.param("temperature: 18 °C", "temperature: warm", (0, 13), "'warm' does not begin with a number", id="temperature"),
    pytest.param("hardener: medium", "hardener: brisk", (0, 10), "'brisk' is not one of the hardeners", id="hardener"),
    pytest.param('ratio: "2:1 by volume"', 'ratio: "2 to 1"', (0, 7), "is no mix ratio", id="ratio"),
    pytest.param("syringe: 20 mL", "syringe: 20 mm", (0, 9), "'20 mm' is not a volume", id="syringe"),
    pytest.param('crew: "8"', 'crew: "0"', (0, 6), "'0' is no number of that; give a whole number from 1 to 200", id="no-crew"),
    pytest.param('stock: {clamp: "12"}', 'stock: {clamp: "3"}', (0, 7), "hatch catch takes 4 of this at once for 'Mix, wet out, fill and set the screw': clamp; there are 3. If you have more, say so: 'stock: {clamp: 4}'", id="too-few"),
    pytest.param('stock: {clamp: "12"}', 'stock: {clamps: "3"}', (0, 8), "nothing called 'clamps' is shared in data/shop_sizes.yaml; give clamp", id="no-such-thing"),
    pytest.param('crew: "8"', "crew: eight", (0, 6), "'eight' is no number of that", id="crew-in-words"),
    pytest.param('team: "2"', 'team: "9"', None, "a team of 9 is more than the crew of 8", id="team"),
    pytest.param("start: 2027-04-10 09:00", "start: 2027-02-30 09:00", (0, 7), "is no date and time; write them like 2027-04-12 09:00", id="start"),
    pytest.param("hours: 09:00 to 16:30", "hours: 16:30 to 09:00", (0, 7), "are no working hours; write them like 09:00 to 16:30", id="hours"),
    pytest.param("hours: 09:00 to 16:30", "hours: 09:00 to 16:30\n  hours_on: {saturday: 9 to 17}", (1, 21), "'9 to 17' are no working hours; write them like 09:00 to 16:30", id="hours-of-a-day"),
    pytest.param("hours: 09:00 to 16:30", "hours: 09:00 to 16:30\n  hours_on: {someday: 09:00 to 17:00}", (1, 11), "'someday' is not one of 'monday'", id="no-such-day"),
    pytest.param("hours: 09:00 to 16:30", "hours: 09:00 to 16:30\n  hours_on: {saturday: 09:00 to 17:00}", (1, 10), "a class has the same hours on each of its days; leave this out", id="hours-in-a-class"),
    pytest.param("aim: class", "aim: shop\n  hours_on: {friday: 09:00 to 17:00}", (1, 19), "nobody works on a friday; put it among the 'days', or leave this out", id="hours-of-no-day"),
    pytest.param("hours: 09:00 to 16:30", "hours: 09:00 to 13:20", (0, 7), "no working day has room for", id="short-day"),
    pytest.param("12:30 to 13:15", "12:30 to 17:15", (0, 0), "'12:30 to 17:15' is no break within the working hours", id="break-too-long"),
    pytest.param("12:30 to 13:15", "10:30 to 13:15", (0, 0), "'10:30 to 13:15' is no break within the working hours, after the one before", id="breaks-meet"),
    pytest.param("12:30 to 13:15", "noon", (0, 0), "'noon' is no break within the working hours, after the one before; write one within 09:00 to 16:30, in the form 12:00 to 12:45, or leave it out", id="break"),
    pytest.param("aim: class", "aim: party", (0, 5), "'party' is not one of 'shop' or 'class'", id="aim"),
    pytest.param("aim: class", "aim: shop\n  lesson: {idle: 5 min}", (1, 8), "only a class has a lesson", id="lesson-of-a-shop"),
    pytest.param("aim: class", "aim: class\n  lesson: {set_up: 5 mm}", (1, 17), "'5 mm' is not a time", id="lesson-time"),
    pytest.param("aim: class", "aim: class\n  lesson: {demonstration: 7 h}", (1, 8), "the lesson leaves no time to work", id="lesson-too-long"),
    pytest.param("days: [saturday]", "days: [satterday]", (0, 6), "'satterday' is no day", id="day"),
    pytest.param("days: [saturday]", "days: [saturday]\n  days_off: 2027-04-31", (1, 10), "'2027-04-31' are no days off; write 2027-04-05, or 2027-04-05 to 2027-04-19", id="day-off"),
    pytest.param("days: [saturday]", "days: [saturday]\n  days_off: [2027-04-17, 2027-05-09 to 2027-05-01]", (1, 23), "'2027-05-09 to 2027-05-01' ends before it begins; write the earlier day first", id="days-off-turned"),
    pytest.param("days: [saturday]", "days: [saturday]\n  days_off: [2027-04-09]", (1, 11), "'2027-04-09' is over before the work begins; leave it out", id="day-off-before"),
    pytest.param("days: [saturday]", "days: [saturday]\n  days_off: [2027-04-01 to 2028-06-01]", (1, 11), "there are 419 days off; no plan waits for more than 366, so begin later, or make two sheets of it", id="days-off-too-long"),
    pytest.param("shop: metric", "shop: imperial", (0, 6), "'imperial' is no shop; shops: metric, inch", id="shop"),
    pytest.param("stated: 2.5 kN", "stated: 2.5 kg", (0, 8), "'2.5 kg' is not a force", id="load-unit"),
    pytest.param("      stated: 2.5 kN\n", "", None, "give either 'stated', or both 'table' and 'take'", id="no-load"),
    pytest.param("table: ramp-pull", "table: ramp-push", (0, 7), "no table 'ramp-push'; near it: ramp-pull", id="load-table"),
    pytest.param("take: F_r\n", "take: m_B\n", (0, 6), "name a load here", id="load-symbol"),
    pytest.param("{m_B: 150 kg", "{m_B: 150 mm", (0, 6), "'150 mm' is not a mass", id="load-given"),
    pytest.param("acts: lasting", "acts: sideways", (0, 6), "'sideways' is not one of", id="acts"),
    pytest.param("      acts: side\n", "", None, "the key 'acts' is missing here; add it", id="no-acts"),
    pytest.param("acts: lasting", "acts: angled", None, "an angled pull has an 'angle'", id="angle"),
    pytest.param("acts: lasting", "acts: lasting-angled", None, "an angled pull has an 'angle'", id="lasting-angle"),
    pytest.param("acts: side", "acts: lasting-angled\n      angle: 45 deg", (0, 6), "this card gives no load for 'lasting-angled'; it gives: pull, side, lasting-side, angled", id="no-load-that-stays-at-an-angle"),
    pytest.param("acts: side", "acts: lasting", (0, 6), "this card gives no load for 'lasting'; it gives: pull, side, lasting-side, angled", id="acts-not-given"),
    pytest.param("no_load: It holds", "no_lode: It holds", (0, 0), "unknown key 'no_lode'; did you mean 'no_load'?", id="key"),
    pytest.param("    no_load: It holds a hatch shut and carries nothing.\n", "", None, "give either 'load', or 'no_load'", id="neither"),
    pytest.param("shut and carries nothing.", "shut, with 1.6 kN, on the plate.", None, "'no_load' tells a load, 1.6 kN: give it as 'load'", id="told in words"),
    pytest.param('count: "2"', 'count: "none"', (0, 7), "'none' is no number of that", id="count"),
]  # fmt: skip


def told_in(house: Path) -> list[tuple[str, int, int, str]]:
    """What is wrong for job sheets in the copy, without the check of all that is not theirs."""
    try:
        library = load(house / "procedures")
    except Faults as error:
        return told_as(error.faults)
    return told(library)


def told(library: Library) -> list[tuple[str, int, int, str]]:
    """What is wrong for job sheets."""
    return told_as([*job_faults(library, KEPT)])


def told_as(found: Sequence[Fault]) -> list[tuple[str, int, int, str]]:
    """File, line, column and message of faults."""
    # What is told of a sheet is told in words: no message has the braces or the conditions of a card's text in it.
    of_sheets = [fault.message for fault in found if fault.file.startswith("procedures/jobs/")]
    assert not [message for message in of_sheets if re.search(r"\[\w+ > |\{[A-Za-z]\w*\}", message)]
    return [(fault.file, fault.line, fault.column, fault.message) for fault in found]


@pytest.mark.parametrize(("old", "new", "offset", "words"), SPOILT)
def test_a_fault_in_a_sheet_names_its_place(
    alone: Alone, old: str, new: str, offset: tuple[int, int] | None, words: str
) -> None:
    text, (line, column) = spoilt_text(SHIPPED[DINGHY], old, new)
    found = told(alone(text))
    matching = [fault for fault in found if words in fault[3]]
    assert matching, found
    assert {fault[0] for fault in found} == {OWN}
    if offset is not None:
        assert (line + offset[0], column + offset[1]) in {fault[1:3] for fault in matching}, (line, column, matching)


def test_a_card_must_work_what_sheets_ask_of_it(house: Path) -> None:
    """Of one that mixes whatever every sheet asks of a mix, and each symbol that its 'job' names."""
    stud, hole = "procedures/cards/blind-stud.yaml", "procedures/cards/bonded-stepped-hole.yaml"
    spoil(house, stud, " hardener,", "")
    line, _ = spoil(house, hole, "size: D_o, kind", "size: D_c, kind")
    with pytest.raises(Faults) as caught:
        load_checked(house / "procedures", KEPT)
    found = [(fault.file, fault.line, fault.message) for fault in caught.value.faults]
    assert any(file == stud and message.endswith("Add to the givens: hardener") for file, _, message in found)
    assert any(one[:2] == (hole, line) and "needed for D_c ← " in one[2] for one in found)


def test_all_faults_of_a_sheet_are_told_at_once(alone: Alone) -> None:
    spoilt = changed(
        DINGHY,
        (BOW, "{thred: M8, T: 110 mm"),
        ("table: ramp-pull", "table: ramp-push"),
        ("table: rail-load", "table: rail"),
    )
    found = told(alone(spoilt))
    assert len(found) == 3, found


def changed(file: str, *changes: tuple[str, str]) -> str:
    """A sheet that ships, with the first place of each text changed."""
    text = SHIPPED[file]
    for old, new in changes:
        text, _ = spoilt_text(text, old, new)
    return text


def test_what_many_cards_are_refused_for_is_told_once(alone: Alone) -> None:
    found = told(alone(changed(LAUNCH, ("temperature: 16 °C", "temperature: 12 °C"))))
    assert len(found) == 1
    cards, why = found[0][3].split(": the work is colder than this hardener cures at")
    assert {"backing-plate", "blind-stud", "worn-hole"} <= {*cards.split(", ")}
    assert "15 °C or more" in plain(why)


def test_what_is_no_quantity_is_told_for_all_of_a_sheet_at_once(alone: Alone) -> None:
    spoilt = changed(
        DINGHY, ("stated: 2.5 kN", "stated: 2.5 kg"), ("temperature: ", "temperature: 1"), ("crew: ", "crew: -")
    )
    assert len(told(alone(spoilt))) == 3


def test_a_circle_is_a_fault(house: Path, generator: Run) -> None:
    line, _ = spoil(
        house,
        LAUNCH,
        "    no_load: It comes out. It is short enough to come by heat.",
        "    no_load: It comes out.\n    after: [nameboard bolt]",
    )
    done = generator("check")
    assert done.returncode == 1
    file, at, column, message = faults(done.stderr)[0]
    assert (file, at, column) == (LAUNCH, line + 1, 12)
    assert (
        message
        == "these wait for each other: old nameboard stud after nameboard bolt after old nameboard stud; leave one of them out"
    )


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        ("procedures/cards/blind-stud.yaml", "active: 10 min}", "active: 10 min, fill: t_1}", "another line mixes already; a card mixes in one line of its plan"),
        ("procedures/cards/blind-stud.yaml", "active: 10 min}", "active: 10 min, each: n_h}", "'each' is of a line that mixes: give 'fill' too, or leave it out"),
        ("procedures/cards/blind-stud.yaml", "marks: [look]}", "marks: [look, unbroken]}", "'unbroken': 'first-look' is first, or mixes, or comes right after the mix; leave this out"),
        ("procedures/cards/blind-stud.yaml", "wait: t_f}", "wait: t_f, marks: [left_open]}", "'tighten' has a wait of its own; leave this out"),
        ("procedures/cards/worn-hole.yaml", "{id: dry, ", "{", "a job sheet knows this line by its 'id'; give one"),
        ("procedures/cards/blind-stud.yaml", "hold: [clamp]", "hold: [clmp]", "no row 'clmp' under 'shared' in data/shop_sizes.yaml; rows: "),
        ("procedures/cards/blind-stud.yaml", "id: tighten", "id: drill", "another line has the id 'drill'"),
        ("procedures/cards/bonded-bush.yaml", "by: t_y2", "by: t_y", "unknown symbol 't_y'"),
        ("procedures/cards/bonded-bush.yaml", "marks: [wait_first], by", "marks: [waits_first], by", "'waits_first' is not one of 'look', 'wait_first'"),
        ("procedures/cards/trial-joint.yaml", "lends: [pull,", "lends: [pul,", "'pul' is no line of the plan of 'Trial joint'; lines: make, fill, first-look, look, pull, open"),
        ("procedures/cards/bonded-bush.yaml", "mark: M_bu, line: bore", "mark: M_bu, line: boar", "'boar' is no line of the plan"),
        ("procedures/jobs/launch-refit.yaml", "waits: {dry: 14 d}", "waits: {dri: 14 d}", "'dri' is no line of the plan"),
        ("procedures/jobs/launch-refit.yaml", "waits: {dry: 14 d}", "waits: {look: 14 d}", "'look' has a wait of its own on the card, t_h"),
        ("procedures/cards/blind-stud.yaml", "shop: nut", "shop: nuts", "no row 'nuts' in data/shop_sizes.yaml"),
        ("procedures/cards/blind-stud.yaml", "fill: t_1", "fill: t_2", "'t_2' is no input of this card; add it to 'givens'"),
        ("procedures/cards/blind-stud.yaml", "pull: [F_w]", "pull: [F_q]", "unknown symbol 'F_q'"),
        ("procedures/cards/blind-stud.yaml", "change: [f_o", "change: [f_q", "'f_q' is no input of this card"),
        ("procedures/cards/trial-joint.yaml", "shared: jack, lent: too", "shared: heating-iron, lent: too", "no line of this card holds 'heating-iron'"),
        ("procedures/cards/blind-stud.yaml", '"{thread} nut"', '"{tread} nut"', "'{tread}' is neither worked by this card"),
        ("procedures/cards/blind-stud.yaml", "and set[n_m > 1: ; so long for each of {n_m} mixes]\", active: 40 min", "and set[n_m > 1: ; so long for each of {n_m} mixes]\", active: 40 min, may_stop: anywhere", "'fill' goes with a mix, or with the line beside it, in one go; leave 'may_stop' out"),
        ("procedures/cards/heat-removal.yaml", "on and off | Saw it flush, set the guide block][n_hb > 0: , at both ends]\", active: 15 min", "on and off | Saw it flush, set the guide block][n_hb > 0: , at both ends]\", active: 15 min, may_stop: anywhere", "'heat' goes with a mix, or with the line beside it"),
        ("procedures/data/shop_sizes.yaml", "[250, 500,", "[500, 250,", "sizes ascend from above 0"),
        ("procedures/cards/blind-stud.yaml", "active: 5 min, wait: t_f}", "active: 5 min, wait: t_f, marks: [look]}", "a card looks again at two times, or at none: mark two lines 'look', or none"),
        ("procedures/data/shop_sizes.yaml", 'per: mix, packs: ["5"]', 'per: mix, packs: ["5", "2"]', "packs ascend"),
    ],
)  # fmt: skip
def test_a_fault_in_what_sheets_lean_on_names_its_place(house: Path, file: str, old: str, new: str, words: str) -> None:
    line, _ = spoil(house, file, old, new)
    assert (file, line) in {(fault[0], fault[1]) for fault in told_in(house) if words in fault[3]}


def test_a_source_of_what_shops_sell_must_be_there(house: Path, generator: Run) -> None:
    file = "procedures/data/shop_sizes.yaml"
    line, _ = spoil(house, file, "source: common-practice}", "source: hearsay}")
    found = faults(generator("check").stderr)
    assert [(fault[0], fault[1]) for fault in found] == [(file, line)]
    assert "unknown source 'hearsay'" in found[0][3]


def test_a_spoilt_sheet_stops_nothing_else(
    small_house: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(small_house)
    folder = Path("procedures/jobs")
    folder.mkdir(exist_ok=True)
    sound = HAND.partition("fittings:")[0] + (
        "fittings:\n  - {name: eye, card: bonded-stepped-hole, where: a block, given: {thread: M8}, no_load: A test.}\n"
    )
    (folder / "sound.yaml").write_text(sound, encoding="utf-8")
    (folder / "no-yaml.yaml").write_text("title: [", encoding="utf-8")
    (folder / "no-time.yaml").write_text(sound.replace("20 °C", "60 °C"), encoding="utf-8")

    kept = Kept()
    monkeypatch.setattr("generator.cli.Kept", lambda: kept)  # what is sound in one command is in the next

    def run(*arguments: str) -> tuple[int, str, str]:
        code = main(arguments)
        return (code, *capsys.readouterr())

    assert run("work", "bonded-stepped-hole")[0] == 0
    assert run("job", "sound")[0] == 0
    code, _, told = run("job", "no-time")
    assert (code, "too warm to reckon a time" in told, "no-yaml" in told) == (1, True, False)
    code, _, told = run("check")
    assert (code, "too warm to reckon a time" in told, "no-yaml.yaml:1" in told) == (1, True, True)
    code, out, told = run("write", "written")
    assert (code, "too warm to reckon a time" in told, "no-yaml.yaml:1" in told) == (1, True, True)
    assert "files written" in out
    assert "## The clock" in Path("written/docs/jobs/sound.md").read_text(encoding="utf-8")
    # A site that names its job sheets plans no other.
    set_option(small_house, "threads: [metric-coarse]", "cards: []\n      tables: []\n      jobs: [sound]")
    kept.made.clear()
    assert "too warm to reckon a time" not in run("write", "fewer")[2]
    assert "write jobs/sound" in kept.made
    assert "work jobs/no-time" not in kept.made
    assert Path("fewer/docs/jobs/sound.md").is_file()
    assert "too warm to reckon a time" in Path("written/docs/jobs/no-time.md").read_text(encoding="utf-8")
    assert "(no-yaml.md)" in Path("written/docs/jobs/index.md").read_text(encoding="utf-8")


# What can be done is planned


TIGHT = """\
title: By hand
purpose: A sheet that only one order of the second looks leaves room for.
boat: A block of wood.
conditions:
  {shop: metric, temperature: 20 °C, hardener: slow, ratio: "2:1 by volume", syringe: 20 mL, crew: "2", prepare: 8 min,
   start: 2027-06-01 08:00, hours: 08:00 to 17:00}
fittings:
  - name: screws
    card: bonded-screw
    where: a block
    count: "6"
    given: {thread: M8, L_sc: 50 mm, l_sc: 20 mm, b_sk: 12 mm, wood: white-oak, pilot: dense}
    no_load: A test.
  - {name: seat, card: cast-seat, where: a block, holes: "4", given: {thread: M10, R_c: 900 mm}, no_load: A test.}
"""


def test_no_order_of_the_fittings_by_hand_has_another_plan(library: Library, sheets: Sheets) -> None:
    tight = JobSheet.model_validate(yaml.safe_load(TIGHT))
    for sheet in (tight, *library.job_sheets.values()):
        shipped = next((name for name, one in library.job_sheets.items() if one is sheet), "")
        plans = [sheets(shipped).plan] if shipped else []
        for fittings in (sheet.fittings, sheet.fittings[::-1])[len(plans) :]:
            turned = sheet.model_copy(update={"fittings": [*fittings]})
            document = library.documents["jobs/class-dinghy.yaml"]
            own = replace(library, job_sheets={"x": turned}, documents={**library.documents, "jobs/x.yaml": document})
            plans.append(work_sheet(own, "x").plan)
        assert [batch.values for batch in plans[0].batches] == [batch.values for batch in plans[1].batches]
        slots = [[(slot.start, slot.end, slot.mix, slot.part) for slot in plan.clock.slots] for plan in plans]
        assert slots[0] == slots[1]
        assert sorted(plans[0].clock.ready.values()) == sorted(plans[1].clock.ready.values())


# The sheets that ship


@pytest.fixture(scope="module", params=["class-dinghy", "launch-refit"])
def worked(request: pytest.FixtureRequest, sheets: Sheets) -> WorkedSheet:
    return sheets(request.param)


def test_every_fitting_is_mixed_bored_and_timed_whole(worked: WorkedSheet) -> None:
    for one in worked.fittings:
        shares = [share for share in worked.plan.shares.values() if of(one, share.worked)]
        assert sum(share.pieces for share in shares) == one.fitting.pieces
        assert all(share.name in worked.plan.clock.ready for share in shares)
        bored = sum(holes.count for run in worked.holes.runs for holes in run.holes if of(one, holes.worked))
        assert bored == one.fitting.pieces * one.holes * len(one.bores)


def of(one: Worked, worked: Worked) -> bool:
    """Whether it is the fitting, or what a pair of a class makes of it."""
    return re.sub(r", pair \d+$", "", worked.name) == one.name


def test_each_piece_is_named_once_for_each_part_of_its_work(library: Library, sheets: Sheets) -> None:
    for name in ("class-dinghy", "launch-refit"):
        page = JobPage(library, name, SiteOptions(), sheets(name))
        named: dict[tuple[str, int], list[range]] = {}
        for slot in page.stretches:
            if slot.mix < 0 <= slot.part:
                first, end = page._which[slot]
                named.setdefault((slot.lot, slot.part), []).append(range(first, end))
        for (lot, part), some in named.items():
            pieces = page.plan.shares[lot].pieces
            assert {piece for one in some for piece in one} == {*range(pieces)}, (lot, part, some)


def test_holes_are_listed_when_the_clock_bores_them(worked: WorkedSheet) -> None:
    for run in worked.holes.runs:
        assert [holes.at for holes in run.holes] == sorted({holes.at for holes in run.holes})
        for holes in run.holes:
            whole = holes.worked
            line = whole.bored_by(holes.bore) - 1
            slots = [slot for slot in worked.plan.clock.slots if slot.lot == holes.share.name]
            own = [slot for slot in slots if line_of(whole, slot.part) == line and slot.start <= holes.at < slot.end]
            assert own, (holes.share.name, holes.bore.what)
    assert [run.day for run in worked.holes.runs] == sorted(run.day for run in worked.holes.runs)


def test_nobody_holds_what_another_holds(library: Library, worked: WorkedSheet) -> None:
    """What cards say a line holds is counted moment by moment: never more than there is, and as many are bought."""
    assert worked.plan.clock.held["clamp"] > 1
    changes: dict[str, list[tuple[int, int]]] = {}
    for slot in worked.plan.clock.slots:
        if slot.mix >= 0:
            shares, batch = worked.plan.batches[slot.mix].shares, worked.plan.batches[slot.mix]
            changes.setdefault("scale", []).append((slot.start, 1))
            changes["scale"].append((slot.start + int(worked.plan.prepare), -1))
            assert batch.cups == 1
        else:
            shares = [worked.plan.shares[slot.lot]]
        for share in shares if slot.part >= 0 or slot.mix >= 0 else ():
            one, number = share.worked, share.pieces
            if slot.mix < 0:
                place = line_of(one, slot.part)
                line = one.card.plan[place]
                number = slot.teams // one.people(place + 1) if worked.sheet.conditions.team == 1 else 1
            else:
                (line,) = [own for own in one.card.plan if own.fill]
            for row in line.hold:
                many = number * row.of * (one.each(row.count) if row.count else 1)
                until = slot.end + (one.time(row.until) if row.until else 0)
                changes.setdefault(row.thing, []).extend([(slot.start, many), (int(until), -many)])
    for thing, own in changes.items():
        busy = [sum(many for moment, many in own if moment <= at) for at, _ in own]
        assert max(busy) == worked.plan.clock.held[thing] <= stock_of(library, worked.sheet.conditions)[thing]


def test_no_mix_outlasts_its_time_or_is_too_heavy(library: Library, worked: WorkedSheet) -> None:
    for batch in worked.plan.batches:
        assert batch.values["m_b"] <= 0.1 * batch.cups + 1e-9
        once = {
            (share.worked.reckoning.titles["filler"], share.worked.reckoning.titles["consistency"]): share.worked
            for share in batch.shares
        }
        neat = sum(share.amounts["m_n"] / share.worked.layers for share in batch.shares)
        # Out of one mix 5 g are kept plain once, and of each filler and stiffness one sample is spread.
        neat -= (len(batch.shares) - 1) * 0.005
        samples = {id(share.worked): 0.005 * (1 - share.worked.value("x_f")) for share in batch.shares}
        neat -= sum(samples[id(share.worked)] for share in batch.shares) - sum(
            samples[id(one)] for one in once.values()
        )
        # Where the filler of a cup is too little for the scale, as much more is mixed as goes with half a gram of it.
        needed = sum(share.amounts["m_t"] - share.amounts["m_f"] for share in batch.shares)
        needed -= sum(samples[id(share.worked)] for share in batch.shares) - sum(
            samples[id(one)] for one in once.values()
        )
        more = sum(cup.neat for cup in batch.thickened) - needed
        raised = [cup for cup in batch.thickened if cup.weighed]
        assert [cup.values["m_f"] for cup in raised] == pytest.approx([0.0005] * len(raised))
        assert all(cup.too_little or cup.values["m_f"] >= 0.0005 - 1e-9 for cup in batch.thickened)
        assert (more > 1e-6) == bool(raised)
        assert batch.values["m_b"] == pytest.approx(max(neat + more, 0.015))
        for share in batch.shares:
            number = str(share.pieces * share.worked.each("N"))
            values = reckon(library, share.worked.card, {**share.worked.inputs, "N": number}).working.values
            more = share.amounts.get("n_s", 0) - values.get("n_s", 0)
            assert 0 <= more < 4, "syringes, for each team that fills has one of its own"
            if more:  # of what each keeps back the part that is no filler is mixed more, with the waste
                kept = more * values["V_s"] * (1 - values["u_s"]) * values["rho_p"] * (1 - values["x_f"])
                assert values["m_n"] + 0.9 * kept <= share.amounts["m_n"] <= values["m_n"] + 1.5 * kept
            else:
                assert share.amounts["m_n"] == pytest.approx(values["m_n"])
        assert batch.values["m_r"] + batch.values["m_h"] == pytest.approx(batch.values["m_b"])
        assert len(batch.thickened) == len({(share.worked.reckoning.titles["filler"], share.worked.reckoning.titles["consistency"]) for share in batch.shares})  # fmt: skip
    assert worked.plan.mixes == worked.plan.at_least


def test_a_mix_reaches_for_all_that_the_cards_of_its_fittings_take_out_of_it(worked: WorkedSheet) -> None:
    """By the walk of each card: weighed out = used + kept + left in syringes + waste, and the waste no less than nothing."""
    for batch in worked.plan.batches:
        cups = {name: cup for cup in batch.thickened for name in cup.shares}
        thick = {id(cup): cup.values["m_t"] - 0.005 * batch.cups for cup in batch.thickened}
        plain = batch.values["m_b"] - sum(cup.neat for cup in batch.thickened) - 0.005 * batch.cups
        for share in batch.shares:
            value = share.worked.reckoning.working.values
            for symbol, each, thickens in WORK[share.worked.fitting.card]:
                number = share.pieces * share.worked.alike * (value[each] if each else 1)
                mass = number * value[symbol] * (value["rho_p"] if symbol[0] != "m" else 1)
                if thickens:
                    thick[id(cups[share.name])] -= mass
                else:
                    plain -= mass
            if "n_s" in value:
                left = share.amounts["n_s"] * value["V_s"] * (1 - value["u_s"]) * value["rho_p"]
                thick[id(cups[share.name])] -= left
        assert plain >= -1e-9, [share.name for share in batch.shares]
        assert all(rest >= -1e-9 for rest in thick.values()), [share.name for share in batch.shares]


def test_no_load_comes_before_the_full_cure(worked: WorkedSheet) -> None:
    for batch in worked.plan.batches:
        for share in batch.shares:
            full = batch.start + batch.takes + share.worked.value("t_f")
            assert worked.plan.clock.ready[share.name] >= full, share.name


def test_what_a_sheet_waits_for_is_over_before_it_begins(worked: WorkedSheet) -> None:
    waits = [(one, name, line) for one in worked.fittings for name, line in one.before]
    assert waits
    for one, name, line in waits:
        slots = [(slot, worked.plan.shares[slot.lot].worked) for slot in worked.plan.clock.slots if slot.lot]
        starts = [slot.start for slot, whose in slots if of(one, whose)]
        other = next(other for other in worked.fittings if other.name == name)
        ends = [slot.end for slot, whose in slots if of(other, whose) and line_of(other, slot.part) < line]
        assert min(starts) >= max(ends)
        wait = other.card.plan[line - 1].wait
        if wait in CURES:
            mixed = [batch.end for batch in worked.plan.batches for share in batch.shares if of(other, share.worked)]
            assert min(starts) >= max(mixed) + other.value(str(wait))


def test_a_fitting_that_falls_short_comes_first_and_its_remedies_carry(library: Library, worked: WorkedSheet) -> None:
    short = [check for check in worked.loads if check.falls_short]
    assert short
    assert list(worked.loads[: len(short)]) == short
    assert any(check.remedies for check in short)
    for check in short:
        load = check.worked.fitting.load
        assert load
        for remedy in check.remedies:
            symbol, carries, _ = carried(library, library.cards[remedy.card], remedy.inputs, load.acts, load.angle)
            again = reckon(library, library.cards[remedy.card], remedy.inputs, extra=[symbol]).working.values[symbol]
            assert carries == again
            # Newtons in whole tens of them are a load as it is printed in kilonewtons; it is rounded down.
            assert remedy.carries == pytest.approx(floor(carries / 10) * 10)
            assert remedy.carries >= check.load


def test_the_least_depth_that_would_do_is_proposed(library: Library) -> None:
    given = {"thread": "M8", "T": "80 mm", "wood": "white-oak", "fastener": "a4-70", "a_e": "45 mm"}
    check = short_of(library, "blind-stud", given, "1.6 kN")
    remedy = next(remedy for remedy in check.remedies if "T" in remedy.changed)
    assert remedy.changed == {"T": "105 mm"}
    _, less, _ = carried(library, check.worked.card, {**remedy.inputs, "T": "100 mm"}, "pull", None)
    assert less < check.load <= remedy.carries


def short_of(library: Library, card: str, given: dict[str, str], load: str, threads: Sequence[str] = ()) -> LoadCheck:
    """One fitting in a metric shop, which falls short of its load."""
    conditions = library.job_sheets["launch-refit"].conditions
    fitting = Fitting.model_validate(
        {
            "name": "x",
            "card": card,
            "where": "x",
            "given": given,
            "threads": [*threads],
            "load": {"said": "x", "stated": load, "acts": "pull"},
        }
    )
    inputs = inputs_of(conditions, library.cards[card], fitting)
    (check,) = check_loads(
        library,
        library.job_sheets["launch-refit"],
        [Worked(fitting, library.cards[card], reckon(library, library.cards[card], inputs), inputs)],
    )
    assert check.falls_short
    return check


def test_more_room_to_the_edge_and_a_denser_wood_are_proposed_where_they_do(library: Library) -> None:
    given = {"thread": "M8", "T": "120 mm", "wood": "sitka-spruce", "a_e": "18 mm"}
    check = short_of(library, "bonded-stepped-hole", given, "2.05 kN")
    changed = {name: text for remedy in check.remedies for name, text in remedy.changed.items()}
    assert check.carries
    for name in ("a_e", "wood"):
        card = library.cards["bonded-stepped-hole"]
        assert carried(library, card, {**check.worked.inputs, name: changed[name]}, "pull", None)[1] >= 2050
    less = str(int(changed["a_e"].removesuffix(" mm")) - 5) + " mm"
    assert carried(library, card, {**check.worked.inputs, "a_e": less}, "pull", None)[1] < 2050
    density = {key: float(row.gives["G"]) for key, row in library.tables["woods"].items() if "G" in row.gives}
    lighter = [key for key in density if density["sitka-spruce"] < density[key] < density[changed["wood"]]]
    assert all(carried(library, card, {**check.worked.inputs, "wood": key}, "pull", None)[1] < 2050 for key in lighter)


def test_a_plate_is_proposed_only_where_there_is_room_behind(library: Library) -> None:
    def plates(given: dict[str, str], card: str = "bonded-stepped-hole") -> list[Remedy]:
        return [one for one in short_of(library, card, given, "3 kN").remedies if one.card == "backing-plate"]

    through = {"thread": "M8", "T": "60 mm", "wood": "white-oak", "a_e": "60 mm"}
    (plate,) = plates(through)
    side = reckon(library, library.cards["backing-plate"], plate.inputs).working.values["b_rs"]
    assert side / 2 <= 0.06
    assert not plates({**through, "a_e": f"{side * 500 - 2:.0f} mm"})
    assert not plates(through, "blind-stud")


def test_out_of_the_models_range_there_is_no_number(alone: Alone) -> None:
    done = work_sheet(alone(only(DINGHY, "bow eye").replace(BOW, "{thread: M5, T: 110 mm")), "own")
    check = next(one for one in done.loads if one.worked.name == "bow eye")
    assert check.carries is None
    assert not check.falls_short
    assert "no strength is given for threads under 6\N{NO-BREAK SPACE}mm" in check.reason


def only(file: str, *names: str) -> str:
    """A sheet that ships, with no fitting but some of its own."""
    head, _, rest = SHIPPED[file].partition("fittings:\n")
    entries = re.split(r"(?m)^(?=  - name: )", rest)[1:]
    kept = [one for one in entries if one.partition("\n")[0].removeprefix("  - name: ").strip('"') in names]
    assert len(kept) == len(names)
    return f"{head}fittings:\n{''.join(kept)}"


def test_what_a_designer_decides_has_no_margin_and_no_trial(library: Library, worked: WorkedSheet) -> None:
    decided = {one.name for one in worked.sheet.fittings if one.designer}
    assert decided
    for check in worked.loads:
        if check.worked.name in decided:
            assert check.carries is None
            assert check.reason.startswith("a designer decides: ")
            assert not check.remedies
    assert not [one for one in worked.fittings for tried in one.tries if tried.name in decided]
    page = JobPage(library, worked.name, SiteOptions("both", "A4", ()), worked)
    assert {one.name for one, _ in page.for_designers} == decided
    assert "carries" not in "".join(line for line in page.text.split("\n") if line.strip().split(":")[0] in decided)


def test_fittings_called_what_a_designer_decides_say_so_or_why_not(alone: Alone) -> None:
    names = ["Chainplate, port", "forestay eye", "gudgeon", "bow roller", "guard-rail foot", "towing eye"]
    names += ["anchor line cleat", "fairlead for the anchor line", "dock cleat", "midship cleat", "midships cleats"]
    names += ["stern cleats", "bollards"]
    fitting = '  - {name: "%s", card: bonded-screw, where: a block, given: {thread: M8}, no_load: A test.%s}\n'
    head = HAND.partition("fittings:")[0] + "fittings:\n"
    found = told(alone(head + "".join(fitting % (name, "") for name in names)))
    first = head.count("\n") + 1
    assert [line for _, line, _, _ in found] == [*range(first, first + len(names))]
    assert all("is what a designer decides" in message for _, _, _, message in found)
    assert not told(alone(head + "".join(fitting % (name, ", no_designer: A toy.") for name in names)))
    out = fitting.replace("bonded-screw", "heat-removal").replace("thread: M8", "thread: M8, L_k: 10 mm")
    assert not told(alone(head + out % (names[0], ""))), "what only comes out carries nothing"


@pytest.mark.parametrize("name", ["rubbing rail", "coat hook", "stayed", "keelson cleat", "two eyes"])
def test_other_names_are_left_alone(library: Library, name: str) -> None:
    assert not [one for one in library.designers.values() if one.names(name)]


def test_german_names_that_are_joined_with_one_are_a_designers_too() -> None:
    """Wherever they are joined, and told in the sheet's own words."""
    listed = yaml.safe_load((HOUSE / "procedures/designers.yaml").read_text(encoding="utf-8"))["decided"].values()
    with speaking(read_language("de", [HOUSE / "procedures"])):
        decided = [Decided(**one) for one in listed]

        def found(name: str) -> list[str]:
            return [word for one in decided if (word := one.names(name))]

        names = "Heckanker Ankerklampe Notruderlager Badeleiter Bugpoller Kielplatte Flossenkiel Kutterstag Unterwant "
        names += "Wantenspanner Schleppöse Festmacherklampe Anlegeklampe Hebeauge Kranöse Steuerradsäule Lifegurt"
        for name in names.split():
            assert found(f"{name}, vorn")[:1] == [name]
        for name in ("Klampe steuerbord", "Hebelgriff", "Scheuerleiste", "Schotklampe", "Haken am Ofen"):
            assert not found(name), name


def test_home_and_chooser_show_the_sheets_own_list(library: Library, files: Mapping[str, str]) -> None:
    for decided in library.designers.values():
        for page in ("index.md", "which-fixing.md"):
            assert markdown_text(decided.what) in files[page]
        assert markdown_text(decided.who[:1].upper() + decided.who[1:]) in files["which-fixing.md"]


# A case by hand: two cast seats alike, and three flat-bottomed plugs in one fitting

HAND = """\
title: By hand
purpose: A sheet small enough to work by hand.
boat: A block of wood.
conditions:
  {shop: metric, temperature: 20 °C, hardener: medium, ratio: "2:1 by volume", syringe: 20 mL, crew: "1", helper: a neighbour, prepare: 8 min,
   start: 2027-06-01 08:00, hours: 08:00 to 17:00}
fittings:
  - name: plugs
    card: worn-hole
    where: a block
    count: "2"
    given: {thread: M6, T_wo: 20 mm, D_wo: 10 mm, a_wo: 3 mm, n_h: "3", w_a: 0 %, u_s: 100 %, w_h: 50 g/m2}
    waits: {dry: 1 d}
    no_load: A test.
"""


def test_totals_agree_with_a_case_worked_by_hand(alone: Alone) -> None:
    done = sheet_of(alone, HAND)
    # A bore of 10 + 2 x 3 = 16 mm, 20 mm deep, three in each of two fittings: 6 x 4.021 mL.
    volume = 6 * pi / 4 * 16**2 * 20 / 1000
    # Dense mineral filler, stiff: 1.4 of loose filler at 0.8 g/mL to 1 of mix at (2 x 1.15 + 0.98) / 3 g/mL.
    mix, filler = (2 * 1.15 + 0.98) / 3, 1.4 * 0.8
    share = filler / (filler + mix)
    thickened = volume / ((1 - share) / mix + share / 2.7)
    (batch,) = done.plan.batches
    # Their walls take 50 g/m2, and of each mix 5 g are kept plain and 5 g thickened are spread as the sample.
    coat = 6 * pi * 16 * 20 * 50e-6
    assert batch.values["m_b"] * 1000 == pytest.approx((thickened + 5) * (1 - share) + 5 + coat)
    assert batch.values["v_r"] * 1e6 == pytest.approx(2 * batch.values["v_h"] * 1e6)
    (cup,) = batch.thickened
    assert cup.values["m_f"] * 1000 == pytest.approx((thickened + 5) * share)
    assert batch.syringes == 2
    # 8 min to the first fitting, three holes of 3 min in each of two fittings; the card's 20 min are 3 min more than 8 + 9.
    assert batch.takes == (8 + 2 * 9 + 3) * 60
    # 40 + 20 + 10 min for each, one after the other; a day; 5 min for each by the meter, the first before the second
    # has hung for its day; the mix; a look after nine
    # minutes and one after 18, of 5 min for each; 18 h at 20 °C, then 45 min for the plates of each; 30 min for each; 18 days until the
    # compound is rubber, for 14 at 23 °C are 17.2 at 20, and 15 min for each to tighten and hose.
    start = DAY + 8 * 3600 + (2 * 70 + 5) * 60
    assert batch.start == start
    look = [slot for slot in done.plan.clock.slots if slot.part == 5]
    assert [look[0].start, look[-1].end] == [batch.end + 9 * 60, batch.end + 19 * 60]
    plates = max(batch.end + 18 * 3600, 2 * DAY + 8 * 3600)
    refit = plates + 2 * 45 * 60
    # Bored on the first day, when the cause of both was found in 40 min each, and drilled anew when it is hard. Each
    # of the three plates keeps its own drill for 15 min.
    assert [(run.drill.size, [(holes.at, holes.count) for holes in run.holes]) for run in done.holes.runs] == [
        (0.016, [(8 * 3600 + 80 * 60, 3), (8 * 3600 + 100 * 60, 3)]),
        (0.0065, [(plates, 3), (plates + 45 * 60, 3)]),
        (0.0065, [(refit, 3), (refit + 30 * 60, 3)]),
    ]
    last = [slot for slot in done.plan.clock.slots if slot.part == 8]
    assert [last[0].start, last[-1].end] == [refit, refit + 60 * 60]
    assert done.plan.clock.ready["plugs"] == refit + 60 * 60 + 18 * DAY + 15 * 60 > batch.end + 10 * DAY
    buy = {item.what: item.buy for item in done.shopping}
    assert buy["room-temperature boatbuilding epoxy"] == "1 × 250 mL".replace(" ", "\N{NO-BREAK SPACE}")
    # Base 8, bed of polysulfide 2, wood 20, plate 6, washer 1.6, two nuts 12, two threads 2: 51.6 mm.
    # All but base, bed and wood is thread, of a bolt of 60 mm: 30 mm.
    bolt = "M6 bolt of the fitting's metal, with washer and two nuts, 60 mm, threaded for 30 mm or all the way"
    assert {plain(what): packs for what, packs in buy.items()}[bolt] == "6"


def test_packs_and_single_pieces_are_told_apart() -> None:
    """ "1 × pack of 10 + 2" may be read as a pack of twelve."""

    def told(*packs: tuple[int, str]) -> str:
        return plain(Item("", "", "", packs, "").buy)

    assert told((1, "pack of 10"), (2, "")) == "1 × pack of 10 and 2 single"
    assert told((3, "pack of 10")) == "3 × pack of 10"
    assert told((4, "")) == "4"
    assert told((1, "290 mL"), (1, "75 mL")) == "1 × 290 mL + 1 × 75 mL"


def test_everybody_of_a_class_who_comes_has_gloves_and_a_mask(library: Library, sheets: Sheets) -> None:
    """Not only as many as work at once: who waits for a drill has come too."""
    done = sheets("class-dinghy")
    assert done.lesson
    days = sum(len({stint.start // DAY for stint in own}) for own in done.lesson.pairs)
    needs = {item.what: item.need for item in done.shopping}
    assert [int(needs["nitrile gloves"]), int(needs["dust masks"])] == [4 * 2 * days, 2 * days]
    # Of nine, the ninth comes on every day of work.
    shopper = _Shopper(library, "metric", {})
    every = len({slot.start // DAY for slot in done.plan.clock.slots})
    nine = done.sheet.conditions.model_copy(update={"crew": 9})
    assert shopper._people(done.plan, nine) == 2 * days + every


@pytest.mark.parametrize("name", ["class-dinghy", "launch-refit"])
def test_what_is_begun_first_of_some_alike_is_the_first(sheets: Sheets, name: str) -> None:
    plan = sheets(name).plan
    slots = sorted(plan.clock.slots)
    begun = {share.name: slot.start for slot in reversed(slots) for share in plan.shares_of(slot)}
    alike: dict[str, list[Share]] = {}
    for key, share in plan.shares.items():
        assert key == share.name
        alike.setdefault(share.worked.name, []).append(share)
    for shares in alike.values():
        shares.sort(key=lambda share: share.first)
        assert [begun[share.name] for share in shares] == sorted(begun[share.name] for share in shares)
        # Each is counted on from the one before, none twice.
        ends = [share.first + share.pieces for share in shares]
        assert [share.first for share in shares] == [0, *ends[:-1]]
        assert ends[-1] == shares[0].worked.fitting.pieces
    assert any(len(shares) > 1 for shares in alike.values()) or name == "class-dinghy"
    # Mixes and clock call them the same.
    for batch in plan.batches:
        names = {share.name for share in batch.shares}
        assert names == {*batch.layers} == {name for team in batch.dealt for name in team} <= {*plan.shares}
        assert {name for cup in batch.thickened for name in cup.shares} <= names
    assert {slot.lot for slot in slots if slot.lot} <= {*plan.shares} == {*plan.clock.ready}


def test_a_drill_that_nothing_holds_is_bought_once(library: Library, worked: WorkedSheet) -> None:
    """A line that bores in no time of its own holds no drill, and takes one all the same."""
    plan = replace(worked.plan, clock=replace(worked.plan.clock, held={"clamp": 1, "scale": 1}))
    items = shopping_list(library, worked.name, worked.fittings, plan, worked.holes)
    drills = [item.need for item in items if item.group == "Drills"]
    assert drills == ["1"] * len(worked.holes.totals) != []


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 1000), st.integers(1, 9)), max_size=6),
    st.lists(st.integers(1000, 3000), min_size=1, max_size=3, unique=True).map(sorted),
    st.integers(0, 9),
)
def test_bars_hold_the_pieces_cut_from_them(pieces: list[tuple[int, int]], sold: list[int], loses: int) -> None:
    bars = cut_from([(length / 1000, count) for length, count in pieces], [size / 1000 for size in sold], loses / 1000)
    total = sum(round(1000 * size) * count for size, count in bars.items())
    need = sum(length * count for length, count in pieces)
    cuts = max(0, sum(count for _, count in pieces) - sum(bars.values()))
    assert total >= need + loses * cuts
    # No two bars of the longest could have been one, by what first-fit leaves: no more than one is half empty.
    assert sum(bars.values()) <= 1 + 2 * (need + loses * sum(count for _, count in pieces)) // sold[-1]
    assert cut_from([(sold[-1] / 1000 + 0.001, 1)], [size / 1000 for size in sold], 0.0) == {}


@settings(max_examples=200, deadline=None)
@given(st.integers(1, 300), st.lists(st.integers(1, 40), min_size=1, max_size=4, unique=True))
def test_packs_hold_the_need_with_the_least_left(need: int, sizes: list[int]) -> None:
    packs = few_packs(need, sizes)
    total = sum(count * size for count, size in packs)
    assert total >= need
    reachable = {0}
    for _ in range(-(-need // min(sizes))):
        reachable |= {one + size for one in reachable for size in sizes if one < need}
    best = min(one for one in reachable if one >= need)
    if need <= 39 * max(sizes):
        assert total == best
    assert all(size in sizes for _, size in packs)


@settings(max_examples=200, deadline=None)
@given(st.integers(1, 120), st.lists(st.integers(2, 40), min_size=1, max_size=3, unique=True))
def test_no_fewer_packs_leave_as_little_over(need: int, sizes: list[int]) -> None:
    """Every number of packs up to ours is tried."""
    packs = few_packs(need, sizes, 0.25)
    total, number = sum(count * size for count, size in packs), sum(count for count, _ in packs)
    within = {0: {0}}
    for more in range(1, number + 1):
        within[more] = {one + size for one in within[more - 1] for size in sizes if one < need * 1.25}
    least = sum(count * size for count, size in few_packs(need, sizes))
    most = max(least, int(need * 1.25))
    assert need <= total <= most
    assert not [one for more in range(number) for one in within[more] if need <= one <= most]
    assert total == min(one for one in within[number] if one >= need)


@pytest.mark.parametrize(
    ("need", "sizes", "packs"),
    [
        (531, [75, 100, 290], [(2, 290)]),  # 580 mL, 49 mL over, and not 290 + 100 + 2 x 75
        (400, [75, 100, 290], [(1, 290), (2, 75)]),  # 440 mL; 100 mL over are the most that may be
        (60, [75, 100, 290], [(1, 75)]),
        (41, [10, 30], [(1, 30), (2, 10)]),  # 50, for 51 are the most, and two of 30 would be 60
        (310, [250, 500, 1000], [(1, 500)]),  # nothing leaves less than 190 mL over
        (810, [250, 500, 1000], [(1, 1000)]),
        (700, [250, 500, 1000], [(1, 500), (1, 250)]),
        (8, [1, 10], [(8, 1)]),  # single pieces to the number
        (90, [20, 50], [(2, 50)]),
        (41, [10, 50], [(1, 50)]),
    ],
)
def test_packs_are_those_that_a_hand_would_take(need: int, sizes: list[int], packs: list[tuple[int, int]]) -> None:
    assert few_packs(need, sizes, 0.25) == packs


# The page, the files


@pytest.fixture(scope="module")
def page(library: Library, sheets: Sheets) -> JobPage:
    return JobPage(library, "class-dinghy", SiteOptions(), sheets("class-dinghy"))


def test_the_calendar_reads_back_as_the_plan(page: JobPage) -> None:
    calendar = Calendar.from_ical(page.calendar)
    events = list(calendar.walk("VEVENT"))
    assert len(events) == len(page.stretches) + len(page.ready)
    assert len({str(event["UID"]) for event in events}) == len(events)
    starts = {event.decoded("DTSTART") for event in events}
    assert {page.moment(slot.start) for slot in page.stretches} <= starts
    mixes = [event for event in events if "Mix 1, wood and metal warm" in str(event["SUMMARY"])]
    (mix,) = mixes
    first = page.plan.batches[0]
    assert mix.decoded("DTEND") - mix.decoded("DTSTART") == timedelta(seconds=first.takes)
    assert all(event.decoded("DTSTART").tzinfo is None for event in events)


def test_the_row_of_a_mix_says_by_when_it_is_in_place_and_what_the_rest_is_for(page: JobPage) -> None:
    """The card's time for it goes on when the cup is used up; nobody fills on until the row ends."""
    said = {slot.mix: (page.said(slot)[0], slot) for slot in page.stretches if slot.mix >= 0}
    late = 0
    for number, batch in enumerate(page.plan.batches):
        what, slot = said[number]
        last = batch.start + int(page.plan.lasts)
        assert f"all of it by {page.hour(last)}" in what
        assert what.endswith("; then wipe and clear up") == (slot.end > last)
        late += slot.end > last
    assert 0 < late < len(page.plan.batches)


def test_a_look_that_the_tray_does_not_last_for_says_so(alone: Alone, page: JobPage) -> None:
    """What tops up is mixed afresh then. At 18 degrees every tray lasts, at 22 not."""
    warm = JobPage(alone(changed(DINGHY, ("temperature: 18 °C", "temperature: 22 °C"))), "own", SiteOptions())
    found = []
    for told_by in (page, warm):
        late = set()
        for slot in told_by.stretches:
            if slot.mix >= 0 or slot.part < 0:
                continue
            (share,) = told_by.plan.shares_of(slot)
            if "look" in share.worked.card.plan[line_of(share.worked, slot.part)].marks:
                batch = [one for one in told_by.plan.batches if share.name in one.layers][-1]
                opens = [one.worked.time("t_o") for one in batch.shares if one.worked.reckoning.has("t_o")]
                until = batch.start + int(min(opens))
                assert ("what is topped up later is mixed fresh" in told_by.said(slot)[0]) == (slot.end > until)
                late |= {slot} if slot.end > until else set()
        found.append(len(late))
    assert found[0] == 0 < found[1]


def test_a_hole_that_one_syringe_does_not_fill_is_told(alone: Alone, files: Mapping[str, str]) -> None:
    """A bore of 20 mm, 60 mm deep, takes 18.8 mL, and a syringe of 20 mL gives 15; one of 30 mL gives 22.5."""
    own = """given: {thread: M8, T_wo: 60 mm, D_wo: 14 mm, n_h: "2"}"""
    text = HAND.replace(
        'card: worn-hole\n    where: a block\n    count: "2"\n', "card: worn-hole\n    where: a block\n"
    )
    text = re.sub(r"given: .*", own, text.replace("20 °C, hardener: medium", "16 °C, hardener: slow"))

    def told_of(text: str) -> list[str]:
        return JobPage(alone(text), "own", SiteOptions()).more_than_a_syringe

    assert told_of(text) == ["plugs"]
    assert told_of(text.replace("syringe: 20 mL", "syringe: 30 mL")) == []
    assert told_of(f"{text}    fill: 9 min\n") == []
    assert "One syringe does not fill a hole of nameboard bolt" in files["jobs/launch-refit.md"]


@pytest.mark.parametrize(
    ("temperature", "days"),
    [("23 °C", 14), ("30 °C", 14), ("22.9 °C", 15), ("18 °C", 20), ("13 °C", 28), ("10 °C", 35), ("50 °F", 35)],
)
def test_in_the_cold_a_compound_is_longer_until_it_is_rubber(alone: Alone, temperature: str, days: int) -> None:
    """Polysulfide, 14 d at 23 °C, twice as long for ten degrees colder, and never less than is told: 14 x 2^0.5 = 19.8
    at 18 °C, 14 x 2^1.3 = 34.5 at 10."""
    text = only(DINGHY, "toe strap eye").replace("temperature: 18 °C", f"temperature: {temperature}")
    page = JobPage(alone(text), "own", SiteOptions())
    assert page.rubber == [f"polysulfide {days}\N{NO-BREAK SPACE}d"]
    bed, retighten = (next(slot for slot in page.plan.clock.slots if slot.part == part) for part in (2, 3))
    assert page.said(retighten)[0].startswith("Once it is rubber, tighten once more")
    assert 0 <= retighten.start - bed.end - days * DAY < 7 * DAY, "on the next Saturday at the latest"


def test_holes_in_plates_are_bored_when_the_plates_are_cut(library: Library, sheets: Sheets) -> None:
    """At the end of their row, not at its first minute."""
    done = sheets("launch-refit")
    assert library.shop_sizes
    takes = library.shop_sizes.plate.time.value
    own = [holes for run in done.holes.runs for holes in run.holes if holes.bore.plate]
    assert {holes.worked.card.title for holes in own} >= {
        library.cards[name].title for name in ("worn-hole", "backing-plate")
    }
    whole = 0
    for holes in own:
        line = holes.worked.bored_by(holes.bore) - 1
        row = next(
            slot
            for slot in done.plan.clock.slots
            if slot.lot == holes.share.name
            and slot.part >= 0
            and line_of(holes.worked, slot.part) == line
            and slot.start <= holes.at < slot.end
        )
        if row.end - row.start == holes.worked.hands(line):
            whole += 1
            assert holes.at == row.end - takes * holes.worked.holes
    assert whole > 1


def test_the_same_sheet_is_the_same_to_the_byte(library: Library, page: JobPage) -> None:
    again = JobPage(load(HOUSE / "procedures"), "class-dinghy", SiteOptions())
    assert again.files == page.files
    assert again.text == page.text


def test_tables_for_a_spreadsheet_are_whole(page: JobPage) -> None:
    for name, text in page.files.items():
        if name.endswith(".csv"):
            rows = list(csv.reader(io.StringIO(text)))
            assert len(rows) > 1, name
            assert {len(row) for row in rows} == {len(rows[0])}, name


def test_a_link_opens_the_card_with_the_fittings_own_inputs(library: Library, page: JobPage) -> None:
    for one, link in page.links:
        address = urlsplit(str(link).rpartition("](")[2].rstrip(")"))
        assert address.path == f"../cards/{one.fitting.card}.md"
        inputs = {name: values[0] for name, values in parse_qs(address.query, strict_parsing=True).items()}
        assert one.fitting.given.items() <= inputs.items()
        reckoning = reckon(library, one.card, inputs)
        if "m_n" in reckoning.working.values and "n_s" not in reckoning.working.values:
            # The sheet counts a sample, and mix kept plain, for every piece; a card with several mixes once.
            values, pieces = reckoning.working.values, one.fitting.pieces
            once = values["m_pl"] + values["m_sa"] * (1 - values["x_f"])
            assert values["m_n"] == pytest.approx(pieces * one.value("m_n") - (pieces - 1) * once)
    assert card_address("x", {"thread": "1/4-20 UNC", "T": "90 mm"}) == "../cards/x.md?thread=1%2F4-20+UNC&T=90+mm"


def test_the_page_says_what_it_must(library: Library, page: JobPage) -> None:
    text = environment().get_template("job.md.j2").render(page=page, sheet=page.sheet)
    assert text.index("## What falls short") < text.index("## Loads") < text.index("## Holes") < text.index("## Mixes")
    assert "invented" in text.partition("## ")[0]
    for key in {key for one in page.worked.fittings for key in one.card.all_cautions}:
        caution = library.cautions[key]
        here = [one for one in page.worked.fittings if key in one.card.all_cautions]
        stands = any(one.reckoning.holds(caution.when) for one in here)
        assert text.count(f'">{caution_html(caution.text, page.systems)}') == stands, key
    assert "class-dinghy/plan.ics" in text


def test_the_terminal_prints_the_plan(generator: Run) -> None:
    done = generator("job", "class-dinghy")
    assert done.returncode == 0
    assert "Mixes: 6; every team mixes its own" in done.stdout
    assert "Pair 4 makes " in done.stdout
    assert "<" not in done.stdout
    missing = generator("job", "clas-dinghy")
    assert missing.returncode == 1
    assert missing.stderr == "no job sheet 'clas-dinghy'; job sheets: class-dinghy\n"


def test_a_condition_may_be_changed_in_the_terminal(generator: Run) -> None:
    warm, cold = generator("job", "launch-refit"), generator("job", "launch-refit", "set.temperature=12 °C")
    assert cold.returncode == 1
    assert "colder than this hardener cures at" in cold.stderr
    fast = generator("job", "launch-refit", "set.temperature=20 °C", "set.days=monday,friday")
    assert fast.returncode == 0
    assert fast.stdout != warm.stdout
    days = set(re.findall(r"^  (\w{3}) \d+ \w+ 2027$", fast.stdout, re.M))
    assert days == {"Mon", "Fri"}
    for argument, words in (
        (
            "set.temprature=9 °C",
            ":1:1: 'set.temprature' is no condition of a job sheet; did you mean 'set.temperature'?",
        ),
        ("set.moon=full", "'set.moon' is no condition of a job sheet; conditions: set.shop, set.temperature,"),
        ("set.stock.clam=9", "did you mean 'set.stock.clamp'? conditions: set.stock.scale, set.stock.clamp,"),
        ("set.stock.clamp=1", ":1:17: trial of rubbing strake end takes 4 of this at once"),
        ("set.lesson.moon=3", "'set.lesson.moon' is no condition of a job sheet; conditions: set.lesson.set_up,"),
        ("set.lesson.idle=9 min", "only a class has a lesson"),
        ("set.breaks=10:00 to 10:15, 12:00 to 11:00", "'12:00 to 11:00' is no break"),
        ("set.days_off=2027-03-08,2027-03-09 to 2027-03-01", "'2027-03-09 to 2027-03-01' ends before it begins"),
        ("set.crew=none", ":1:10: 'none' is no number of that"),
        ("set.crew=", "the key 'crew' is missing here"),
    ):
        done = generator("job", "launch-refit", argument)
        assert (done.returncode, words in done.stderr) == (1, True), done.stderr
    for argument, words in (
        ("set.stock.clamp=2", ":1:17: hatch catch takes 4 of this at once"),
        ("set.lesson.clean_up=7 h", ":1:21: the lesson leaves no time to work"),
    ):
        done = generator("job", "class-dinghy", argument)
        assert (done.returncode, words in done.stderr) == (1, True), done.stderr


def test_nobody_works_on_days_off(alone: Alone) -> None:
    """The boat is away for three weeks: nothing is done on her then, cures go on, and the rest is planned behind that."""
    away = [DAY * day for day in range(5, 26)]
    off = changed(LAUNCH, ("  days: [monday", "  days_off: [2027-03-06 to 2027-03-26]\n  days: [monday"))
    done = sheet_of(alone, off)
    assert [slot for slot in done.plan.clock.slots if any(day <= slot.start < day + DAY for day in away)] == []
    assert {slot.start // DAY < 5 for slot in done.plan.clock.slots} == {True, False}
    # Two weeks of drying pass meanwhile: what was bored out on the first days is filled on the first day after them.
    assert min(batch.start // DAY for batch in done.plan.batches if batch.start // DAY > 5) == 28
    page = JobPage(alone(off), "own", SiteOptions())
    assert ("days off", "Sat 6 March 2027 to Fri 26 March 2027") in page.conditions
    # The first days off are no reason to find no room.
    few = only(LAUNCH, "nameboard bolt", "seat locker catch").replace("    after: [old nameboard stud]\n", "")
    late = few.replace("  days: [monday", "  days_off: 2027-03-01 to 2027-03-20\n  days: [monday")
    assert min(slot.start // DAY for slot in sheet_of(alone, late).plan.clock.slots) >= 20


def test_heat_is_kept_from_solvent_wet_finish_and_open_epoxy(sheets: Sheets) -> None:
    done = sheets("launch-refit")
    heat, open_ = [], []
    for slot in done.plan.clock.slots:
        if slot.mix >= 0:
            hard = max(share.worked.time("t_h") for share in done.plan.batches[slot.mix].shares)
            open_.append((slot.start, slot.end + hard))
            continue
        one = done.plan.shares[slot.lot].worked
        line = one.card.plan[line_of(one, slot.part)]
        if "heat" in line.marks:
            heat.append((slot.start, slot.end))
        if "fumes" in line.marks:
            dries = 24 * 3600 if line.id == "seal" else 3600
            open_.append((slot.start, slot.end + dries))
    assert heat
    assert open_
    assert not [one for one in heat for other in open_ if one[0] < other[1] and other[0] < one[1]]


def test_an_inch_shop_has_its_own_sheet(alone: Alone) -> None:
    head, _, first = only(DINGHY, "bow eye").partition("fittings:")
    first = first.replace("M8", "5/16-18 UNC").replace("110 mm", "4 1/2 in").replace("a4-70", "316-cw")
    head = head.replace("shop: metric", "shop: inch").replace("18 °C", "65 °F").replace("20 mL", "20 mL")
    page = JobPage(alone(f"{head}fittings:{first}"), "own", SiteOptions())
    assert page.drill(page.worked.holes.runs[0].drill) == "flat bit, 9/16\N{NO-BREAK SPACE}in"
    assert page.load(page.worked.loads[0]).endswith("lbf")
    assert [[share.name for share in batch.shares] for batch in page.plan.batches] == [
        ["trial of bow eye"],
        ["bow eye"],
    ]


def test_two_hundred_fittings_are_planned(library: Library) -> None:
    plan: JobPlan = work_sheet(large_job(library, 200), "large").plan
    assert plan.at_least <= plan.mixes <= 1.05 * plan.at_least + 1
    assert len(plan.clock.ready) >= 200


def test_the_time_to_the_first_fitting_is_what_the_card_for_mixing_allows(library: Library) -> None:
    card = library.cards["mixing"]
    lines = [card.plan[card.lines[line] - 1] for line in ("wet-out", "load")]
    assert sum(read_quantity(str(line.active), "s") for line in lines) == library.constant("t_x")


def test_the_most_for_one_cup_is_one_number(house: Path) -> None:
    spoil(house, "procedures/data/time_constants.yaml", "m_c: 100 g", "m_c: 90 g")
    spoil(house, "procedures/data/time_constants.yaml", "total: 115", "total: 105")
    library = load(house / "procedures")
    assert library.cards["mixing"].givens["m_b"].max == "90 g"
    assert library.reference["batches"].givens["m_c"].default == "90 g"
    assert all(batch.values["m_b"] <= 0.09 for batch in work_sheet(library, "class-dinghy").plan.batches)


# Layers, trials, and who does it


LAYERED = HAND.replace("D_wo: 10 mm, a_wo: 3 mm", "D_wo: 16 mm, a_wo: 3 mm").replace("title: By hand", "title: Layers")


def sheet_of(alone: Alone, text: str) -> WorkedSheet:
    """A sheet of this text alone, as it was worked for its check."""
    library = alone(text)
    assert not told(library)
    return kept_sheet(library, "own")


def test_a_wide_bore_is_filled_layer_by_layer_each_with_a_mix_of_its_own(alone: Alone) -> None:
    done = sheet_of(alone, LAYERED)
    # A bore of 16 + 2 x 3 = 22 mm does not shed its heat through wall and faces at 20 °C with a medium hardener when
    # 20 mm deep: 20 / 10 x √(1.05 - (17.1 / 22)²) = 1.3, so 2 layers.
    (one,) = done.fittings
    assert (one.layers, one.value("n_l")) == (2, 2)
    first, second = done.plan.batches
    assert [batch.layers for batch in done.plan.batches] == [{"plugs": 1}, {"plugs": 2}]
    volume = 6 * pi / 4 * 22**2 * 20 / 1000
    mix, filler = (2 * 1.15 + 0.98) / 3, 1.4 * 0.8
    share = filler / (filler + mix)
    thickened = volume / ((1 - share) / mix + share / 2.7)
    coat = 6 * pi * 22 * 10 * 50e-6  # half of the wall at a time, 50 g/m2
    for batch in (first, second):
        assert batch.values["m_b"] * 1000 == pytest.approx((thickened / 2 + 5) * (1 - share) + 5 + coat)
    # 2 h until the next layer at 20 °C, and the look again comes after the last.
    assert second.start == first.end + 2 * 3600
    look = [slot for slot in done.plan.clock.slots if slot.lot and line_of(one, slot.part) == 5]
    assert look[0].start == second.end + 9 * 60
    assert done.plan.clock.ready["plugs"] >= second.end + 10 * DAY


def test_no_layer_is_washed_to_save_one_mix(alone: Alone) -> None:
    """Two mixes would do: the first layer and a plug, then the second layer with a plug that comes after that one has
    cured, ten days later, when the layer below has to be washed and sanded."""
    plug = "  - name: early" + HAND.split("  - name: plugs")[1]
    late = plug.replace("early", "late") + "    after: [early]\n"
    text = (LAYERED + plug + late).replace('count: "2"', 'count: "1"')
    done = sheet_of(alone, text)
    assert done.plan.at_least == 2
    first, second, third = done.plan.batches
    assert [batch.layers for batch in (first, second, third)] == [{"early": 1, "plugs": 1}, {"plugs": 2}, {"late": 1}]
    assert second.start <= first.end + done.fittings[0].tacky
    assert not [slot for slot in done.plan.clock.slots if slot.part < 0 and slot.mix < 0]
    page = JobPage(alone(text), "own", SiteOptions(), done)
    printed = environment().get_template("job.md.j2").render(page=page, sheet=page.sheet)
    assert (
        "no plan has fewer than 2. Up to two more are taken for each time that a layer then need not be washed"
        in printed
    )


def test_each_lift_of_a_seat_takes_what_its_card_says(alone: Alone) -> None:
    """150 x 100 mm on a crown of 300 mm, 10 mm over the ridge: the gap of 4.2 mm at the edges is 21 mL, not the 154 mL
    of the last lift."""
    given = "{thread: M10, R_c: 300 mm, a_b: 150 mm, b_b: 100 mm, t_0: 10 mm}"
    seat = f'  - {{name: seat, card: cast-seat, where: a block, holes: "4", given: {given}, no_load: A test.}}\n'
    done = sheet_of(alone, HAND[: HAND.index("  - name")] + seat)
    (one,) = done.fittings
    # Its mean is about a third of 4.2 mm; the circle's own is 1.3947 mm.
    assert one.value("V_pl") == pytest.approx(0.15 * 0.1 * 1.3947e-3, rel=1e-4)
    lower, last = done.plan.batches
    assert [lower.layers, last.layers] == [{"seat": 1}, {"seat": 2}]
    assert [lower.cups, last.cups] == [1, one.value("n_m")]
    for batch, cups, resin, hardener, filler in (
        (lower, 1, "m_rl", "m_hl", "m_yl"),
        (last, one.value("n_m"), "m_r", "m_h", "m_y"),
    ):
        (cup,) = batch.thickened
        told = [batch.values["m_r"], batch.values["m_h"], cup.values["m_f"]]
        assert told == pytest.approx([cups * one.value(symbol) for symbol in (resin, hardener, filler)])


def test_a_bore_that_sheds_its_heat_is_filled_at_once(alone: Alone) -> None:
    assert len(sheet_of(alone, HAND).plan.batches) == 1


def test_a_fitting_in_several_cups_is_mixed_as_its_card_says(library: Library, alone: Alone) -> None:
    """Twenty-one bores of 1 min by mixes that last 28 min, 8 of them gone: two cups, and of each 5 g plain and a sample."""
    text = HAND.replace('count: "2"', 'count: "1"').replace('n_h: "3"', 'n_h: "21"') + "    fill: 1 min\n"
    done = sheet_of(alone, text)
    (one,), (batch,) = done.fittings, done.plan.batches
    values = reckon(library, one.card, {**one.inputs, "t_x": "8 min"}).working.values
    assert batch.cups == values["n_q"] == values["n_m"] == 2
    assert batch.values["m_b"] == pytest.approx(2 * values["m_n"])
    at_once = reckon(library, one.card, {**one.inputs, "t_x": "0 min", "t_1": "0.5 min"})
    aside = values["m_pl"] + values["m_sa"] * (1 - values["x_f"])
    assert at_once.working.values["n_q"] == 1
    assert batch.values["m_b"] == pytest.approx(at_once.working.values["m_n"] + aside)


def test_a_wait_that_the_card_leaves_open_must_be_given(alone: Alone) -> None:
    spoilt = changed(LAUNCH, ("    waits: {dry: 14 d}\n", ""))
    assert [fault[3] for fault in told(alone(spoilt))] == [
        "the card leaves open how long 'Dry the wood, for days or weeks, by the meter' takes; give for example waits: {dry: 7 d}"
    ]


def test_a_joint_that_hangs_on_a_bond_is_tried_before_it_is_made(worked: WorkedSheet) -> None:
    trials = [one for one in worked.fittings if one.tries]
    assert trials
    first = [check.worked for check in worked.loads if check.falls_short or check.designers]
    asked = [one for one in worked.fittings if one.on_the_job.trial and one.fitting.load]
    assert [one for one in asked if one not in first] == [one for trial in trials for one in trial.tries]
    for trial in trials:
        over = [batch.end for batch in worked.plan.batches for share in batch.shares if of(trial, share.worked)]
        assert trial.value("N") == (3 if trial.fitting.card == "trial-joint" else 1)
        # Of a trial by the joint's own card too, whose own working has no pull.
        assert "Set up the lever, pull it and hold it" in [trial.reckoning.reads(line.what) for line in trial.card.plan]
        for one in trial.tries:
            for symbol in ("d", "D_o", "T", "L_o", "F_w", "x_f", "t_f"):
                if symbol in trial.reckoning.working.values and symbol in one.reckoning.working.values:
                    assert trial.value(symbol) == one.value(symbol), (trial.name, symbol)
            begins = [batch.start for batch in worked.plan.batches for share in batch.shares if of(one, share.worked)]
            assert min(begins) >= max(over) + trial.value("t_f")


def test_a_sheet_may_say_why_it_plans_no_trials(alone: Alone) -> None:
    text = only(DINGHY, "bow eye", "main sheet block")
    assert [one for one in work_sheet(alone(text), "own").fittings if one.tries]
    quiet = text.replace("fittings:\n", "no_trials: They were made in winter.\nfittings:\n")
    done = work_sheet(alone(quiet), "own")
    assert done.fittings
    assert not [one for one in done.fittings if one.tries]


def test_a_joint_that_no_pull_can_try_says_why_and_spoils_no_sheet(alone: Alone) -> None:
    """A screw so long bears more than its own metal, at twice the working load."""
    text = only(DINGHY, "carrying handle").replace("L_sc: 40 mm", "L_sc: 60 mm").replace("0.6 kN", "0.25 kN")
    page = JobPage(alone(text), "own", SiteOptions())
    (one,) = page.worked.fittings
    assert page.untried == [(one.name, one.untried)]
    assert one.untried.startswith("the proof load would stretch the rod for good")


def test_one_compound_is_bought_once_and_a_plate_has_its_width(alone: Alone) -> None:
    """By volume where a card reckons it, else 30 mL a fitting; what takes any takes of that. The scale is one thing."""
    text = only(LAUNCH, "nameboard bolt", "seat locker catch", "rubbing strake end", "awning eye")
    done = work_sheet(alone(text.replace("    after: [old nameboard stud]\n", "")), "own")
    (compound,) = [item for item in done.shopping if "compound" in item.what]
    assert (compound.what, compound.need) == ("bedding compound, polysulfide", "120\N{NO-BREAK SPACE}mL")
    assert compound.users == ["nameboard bolt", "seat locker catch"]
    # 20 mm of bore and 4 x 8 mm are 52: the next bar is of 60, and 6 mm thick as the card has it
    plate = next(item for item in done.shopping if "plate" in item.what and item.users == ["nameboard bolt"])
    assert plate.what.startswith("backing plate of the metal of the bolts, flat bar 60\N{NO-BREAK SPACE}mm wide, 6")
    assert len([item for item in done.shopping if item.what.startswith("scale that reads past")]) == 1


def test_the_spare_nuts_that_a_stud_is_turned_by_are_bought(alone: Alone) -> None:
    """Two studs of two holes: a nut each to hold, and two each to lock and turn it by."""
    stud = '  - {name: studs, card: blind-stud, where: a block, count: "2", given: {thread: M8, T: 90 mm, n_h: "2"}, no_load: A test.}\n'
    needs = {item.what: item.need for item in sheet_of(alone, HAND[: HAND.index("  - name")] + stud).shopping}
    assert (needs["M8 nut"], needs["M8 nut, spare, to turn the stud by"]) == ("4", "8")


def test_a_sheet_warns_of_the_load_that_acts_and_of_no_other(alone: Alone) -> None:
    """A card as it comes has an angle; a fitting that is pulled along its bolt hears nothing of one."""
    text = only(DINGHY, "main sheet block")
    said = "pulled at 45° from its axis each bolt carries"
    assert said not in str(JobPage(alone(text), "own", SiteOptions()).warnings)
    angled, _ = spoilt_text(text, "acts: pull", "acts: angled\n      angle: 45 deg")
    assert said in str(JobPage(alone(angled), "own", SiteOptions()).warnings)


def test_what_is_mended_is_no_narrower_than_what_came_out_leaves_it(alone: Alone) -> None:
    """The hole of an M8 stud is bored with 14 mm; a plug that begins with 12 mm would leave old epoxy in it."""
    text = only(LAUNCH, "old nameboard stud", "nameboard bolt")
    assert not told(alone(text))
    narrow, (line, column) = spoilt_text(text, "D_wo: 14 mm", "D_wo: 12 mm")
    ((_, *place, message),) = told(alone(narrow))
    assert message == (
        "what is left of 'old nameboard stud' is a hole of 14\N{NO-BREAK SPACE}mm; give D_wo no less than that"
    )
    assert place == [line, column + len("D_wo: ")]


def test_no_hole_is_mended_over_metal_that_this_sheet_takes_out(alone: Alone, files: Mapping[str, str]) -> None:
    """Unless it comes after that, whole, or tells how its own metal came out; a worn hole alone is asked nothing."""
    text = only(LAUNCH, "old nameboard stud", "nameboard bolt")
    bolt = text[: text.index("  - name: nameboard bolt")].count("\n") + 1
    after = "    after: [old nameboard stud]\n"
    assert after in text
    ((_, *place, message),) = told(alone(text.replace(after, "")))
    assert message == (
        "nothing here comes after 'old nameboard stud', whose metal may be in this very hole; if it is, write "
        "'after: [old nameboard stud]', else 'metal_out' with how the metal came out of this one"
    )
    assert place == [bolt, 5]
    early = text.replace(after, "    after: [{fitting: old nameboard stud, line: heat}]\n")
    ((_, *place, message),) = told(alone(early))
    assert message == "the hole of 'old nameboard stud' is ready when all its plan is over; leave 'line' out"
    own = "    metal_out: A loose bolt that came by hand.\n"
    assert not told(alone(text.replace(after, own)))
    assert not told(alone(only(LAUNCH, "nameboard bolt").replace(after, "")))
    assert "The old metal: It was too deep for heat and came out cold" in files["jobs/launch-refit.md"]


def test_all_that_no_day_has_room_for_is_told_at_once(alone: Alone) -> None:
    """Else who mends one would be told of the next."""
    text = only(LAUNCH, "ensign socket on its seat", "seat locker catch", "engine hatch ring")
    found = told(alone(text.replace(WORKED, "hours: 08:30 to 11:00")))
    named = [
        name
        for fault in found
        for name in ("seat locker catch", "ensign socket on its seat", "engine hatch ring")
        if name in fault[3]
    ]
    assert sorted(named) == ["engine hatch ring", "ensign socket on its seat", "seat locker catch"]
    assert all("a warmer place or a faster hardener" in fault[3] for fault in found)


def test_joints_of_one_mix_want_no_day_as_long_as_their_lines_one_after_another(alone: Alone) -> None:
    """The card's 40 min hold three trial joints: 15 to the first, 4 to fill each, 13 more. They are not 40 min each."""
    text = only(LAUNCH, "awning eye").replace("stated: 1.6 kN", "stated: 0.5 kN")
    page = JobPage(alone(text.replace(WORKED, "hours: 18:00 to 20:15")), "own", SiteOptions())
    trial = next(batch for batch in page.plan.batches if batch.shares[0].worked.tries)
    assert trial.shares[0].worked.alike == 3
    assert trial.takes == 40 * 60


def test_a_second_scale_is_no_help_to_one_pair_of_hands(alone: Alone) -> None:
    """They are busy for as long as they weigh."""
    text = only(LAUNCH, "awning eye", "rubbing strake end", "water filler seat").replace(
        WORKED, "hours: 18:00 to 22:00"
    )
    one = text.replace('crew: "2"', 'crew: "1"\n  helper: a neighbour')
    own = alone(one)
    page = JobPage(own, "own", SiteOptions())
    assert page.plan.clock.held["scale"] == stock_of(own, page.sheet.conditions)["scale"]
    assert "hands, tools or the few mixes hold it" in page.ending
    assert "scale to a tenth" not in page.ending


def test_what_two_would_share_but_no_evening_holds_is_parted(alone: Alone) -> None:
    """Each has room alone. A second layer on the next evening is washed and sanded first, and with that there is no
    time for the seat."""
    text = only(LAUNCH, "nameboard bolt", "ensign socket on its seat").replace("    after: [old nameboard stud]\n", "")
    text = text.replace(WORKED, "hours: 18:15 to 21:00").replace('crew: "2"', 'crew: "1"\n  helper: a neighbour')
    text = text.replace("temperature: 16 °C", "temperature: 19 °C").replace("hardener: slow", "hardener: medium")
    own = alone(text)
    planner = Planner(own, own.job_sheets["own"].conditions, {one.name: one for one in work_fittings(own, "own")})
    seat, layers = "1 ensign socket on its seat", [f"{layer} nameboard bolt" for layer in (1, 2, 3, 4)]
    kinds = {name: planner._kind(*of) for name, of in planner.layers.items()}
    shared = [{layer: 1} | ({seat: 1} if layer == layers[1] else {}) for layer in layers]
    plan, mixes = planner.with_room(shared, Exchange(kinds, planner.limits), budget=0)
    assert sorted(str(mix) for mix in mixes) == sorted(str({name: 1}) for name in (seat, *layers))
    assert plan.mixes == 5


def test_what_takes_two_people_has_two_and_heat_is_not_left(sheets: Sheets) -> None:
    done = sheets("launch-refit")
    eye = next(one for one in done.fittings if one.name == "old nameboard stud")
    slots = {
        eye.card.plan[slot.part].id: slot
        for slot in done.plan.clock.slots
        if slot.lot and done.plan.shares[slot.lot].worked is eye
    }
    order = [slots[line] for line in ("heat", "hold", "draw", "watch", "cut-back")]
    assert all(one.end == other.start for one, other in itertools.pairwise(order))
    assert {slot.teams for slot in order} == {2}
    assert slots["watch"].end - slots["watch"].start == 70 * 60


def test_heat_at_both_ends_takes_three_people_and_two_irons(alone: Alone) -> None:
    text = only(LAUNCH, "old nameboard stud").replace("L_k: 10 mm", "L_k: 40 mm").replace(", P_k: 100 W", "")
    what = "Creep up to the heat, iron on and off, at both ends"
    (fault,) = told(alone(text))
    assert fault[3] == (
        f"heat-removal takes 3 people at '{what}'; give a crew of 3, or say who comes for such lines: 'helper: a neighbour'"
    )
    (fault,) = told(alone(text.replace('crew: "2"', 'crew: "1"')))
    assert fault[3].endswith(
        "; give a crew of 3, or with a crew of 2 say who comes for such lines: 'helper: a neighbour'"
    )
    (fault,) = told(alone(text.replace('crew: "2"', 'crew: "1"\n  helper: a neighbour')))
    assert fault[3].endswith("; give a crew of 2 beside the helper")
    (fault,) = told(alone(text.replace('crew: "2"', 'crew: "3"')))
    assert fault[3].startswith(f"old nameboard stud takes 2 of this at once for '{what}': soldering iron")
    text = text.replace('{clamp: "16"}', '{clamp: "16", heating-iron: "2"}')
    done = work_sheet(alone(text.replace('crew: "2"', 'crew: "3"')), "own")
    assert [slot.teams for slot in done.plan.clock.slots] == [1, 3, 3, 3, 3, 3, 3]
    assert done.plan.clock.held["heating-iron"] == 2
    irons = [item for item in done.shopping if item.what.startswith("soldering iron")]
    assert [iron.need for iron in irons] == ["1", "1", "1"]
    kinds = " ".join(iron.what for iron in irons).replace("\N{NO-BREAK SPACE}", " ")
    assert "of about 60 W" in kinds
    assert "for a head that heats alone" in kinds
    assert "for an end without a base" in kinds
    # A third one who comes for it is there while both ends are hot, and for nothing else.
    page = JobPage(alone(text.replace('crew: "2"', 'crew: "2"\n  helper: a neighbour')), "own", SiteOptions())
    said = [page.said(slot)[0].endswith(", with a neighbour") for slot in page.plan.clock.slots]
    assert said == [False, False, True, True, True, False, False]


def test_what_is_left_cold_takes_no_iron(alone: Alone) -> None:
    text = only(LAUNCH, "old nameboard stud").replace("L_k: 10 mm, wood: white-oak, P_k: 100 W", "L_k: 120 mm")
    done = work_sheet(alone(text), "own")
    assert "heating-iron" not in done.plan.clock.held
    assert not [item for item in done.shopping if item.what.startswith("soldering iron")]


def test_a_crew_of_one_is_told_where_a_second_is_wanted_or_has_a_helper(alone: Alone) -> None:
    text, (line, _) = spoilt_text(SHIPPED[LAUNCH], 'crew: "2"', 'crew: "1"')
    found = told(alone(text))
    assert {fault[1:3] for fault in found} == {(line, 9)}
    assert (
        "heat-removal takes 2 people at 'Creep up to the heat, iron on and off'; give a crew of 2, or say who comes for "
        "such lines: 'helper: a neighbour'" in {fault[3] for fault in found}
    )
    assert (
        "backing-plate takes 2 people at 'Fit it dry, a helper at the head'; give a crew of 2, or say who comes for "
        "such lines: 'helper: a neighbour'" in {fault[3] for fault in found}
    )
    page = JobPage(alone(text.replace('crew: "1"', 'crew: "1"\n  helper: a neighbour')), "own", SiteOptions())
    helped: list[Slot] = []
    for slot in page.plan.clock.slots:
        assert slot.teams == 1
        shares = page.plan.batches[slot.mix].shares if slot.mix >= 0 else [page.plan.shares[slot.lot]]
        works = [one.worked for one in shares]
        lines = [line_of(one, slot.part) if slot.lot else (one.mix_line or 0) - 1 for one in works]
        two = any(one.people(line + 1) > 1 for one, line in zip(works, lines, strict=True))
        assert two == (", with a neighbour" in page.said(slot)[0])
        helped += [slot] * two
    assert len(helped) > 5
    assert dict(page.conditions)["people"] == "1"  # nobody works alone as a team
    # The neighbour comes once for what is less than an hour apart, and has gloves of his own.
    (times,) = [text.split("; ") for name, text in page.conditions if name == "a neighbour comes"]
    apart = [
        slot
        for slot in helped
        if not any(0 <= slot.start - other.end < 3600 or other.start < slot.start < other.end for other in helped)
    ]
    assert len(times) == len(apart) < len({slot.start for slot in helped})
    days = [slot.start // DAY for slot in page.plan.clock.slots]
    (gloves,) = [item for item in page.worked.shopping if item.what == "nitrile gloves"]
    assert int(gloves.need) == 4 * (len({*days}) + len({slot.start // DAY for slot in helped}))


# What must not be begun


def test_what_is_not_settled_is_held_out_of_the_plan(worked: WorkedSheet) -> None:
    short = {check.worked.name for check in worked.loads if check.falls_short}
    decided = {one.name for one in worked.sheet.fittings if one.designer}
    assert short
    assert decided
    assert set(worked.held) == short | decided
    planned = {share.worked.name for share in worked.plan.shares.values()}
    bored = {holes.worked.name for run in worked.holes.runs for holes in run.holes}
    bought = {user for item in worked.shopping for user in item.users}
    assert not worked.held.keys() & (planned | bored | bought)


def test_what_is_planned_before_one_that_is_held_out_is_told(alone: Alone) -> None:
    """A pad may be made for what is not settled."""
    text = only(DINGHY, "cleat pad", "jib sheet cleat")
    assert not JobPage(alone(text), "own", SiteOptions()).held
    heavy, _ = spoilt_text(text, "stated: 0.8 kN", "stated: 80 kN")
    page = JobPage(alone(heavy), "own", SiteOptions())
    ((one, why),) = page.held
    assert one.name == "jib sheet cleat"
    assert why == "it falls short of its load; cleat pad before it is planned all the same, so settle this first"
    assert why in page.text


def test_what_comes_after_a_card_that_gives_no_load_is_held_out_with_it(alone: Alone) -> None:
    no_load = "no_load: It keeps a floorboard down and carries nothing."
    text = only(DINGHY, "bow eye", "floorboard turnbutton", "jib sheet cleat")
    text, _ = spoilt_text(text, no_load, "load: {said: A test., stated: 1 kN, acts: pull}")
    text, _ = spoilt_text(text, "{fitting: cleat pad, line: look}", "floorboard turnbutton")
    held = work_sheet(alone(text), "own").held
    assert "bow eye" not in held
    assert "this card gives no load" in held["floorboard turnbutton"].why
    assert held["jib sheet cleat"].why == "it comes after floorboard turnbutton, which is held out"


def test_a_load_is_worked_from_anothers(alone: Alone, sheets: Sheets) -> None:
    done = sheets("launch-refit")
    loads = {check.worked.name: check.load for check in done.loads}
    # Half of it before it is rounded, and then up to what is printed.
    assert 0 <= loads["awning cleat, aft"] - (loads["awning cleat, forward"] - 10) / 2 <= 10
    # A plate is worked for it, rounded up to whole newtons.
    aft = next(one for one in done.fittings if one.name == "awning cleat, aft")
    assert 0 <= loads["awning cleat, aft"] - aft.value("F_n") < 10
    spoilt = changed(LAUNCH, ('fitting: "awning cleat, forward"', 'fitting: "awning cleat, aft"'))
    assert [fault[3] for fault in told(alone(spoilt))] == ["this load is worked from itself; state one of them"]
    spoilt = changed(LAUNCH, ("v_air: 25 kn", "v_air: M7"))
    (fault,) = told(alone(spoilt))  # where it stands, and not where it is taken over
    assert fault[3].startswith("mean wind speed: 'M7' does not begin with a number")


def test_no_thread_is_offered_that_the_fittings_holes_do_not_take(library: Library) -> None:
    given = {"thread": "M8", "n_h": "4", "T_sk": "45 mm", "wood": "western-larch"}

    def offered(*threads: str) -> set[str]:
        check = short_of(library, "bedded-solid", given, "1.9 kN", threads)
        return {remedy.changed["thread"] for remedy in check.remedies if "thread" in remedy.changed}

    assert not offered()
    assert not offered("M8")
    assert offered("M8", "M10", "M12") == {"M10"}


def test_a_sheet_says_how_warm_its_epoxy_must_be_kept(alone: Alone) -> None:
    """15 °C is the least for the launch's slow hardener, in the data; where nothing is mixed nothing is said."""
    template = environment().get_template("job.md.j2")
    page = JobPage(alone(only(LAUNCH, "seat locker catch")), "own", SiteOptions())
    assert plain(page.coldest) == "15 °C"
    assert "Colder than 15 °C this hardener does not cure" in plain(template.render(page=page, sheet=page.sheet))
    page = JobPage(alone(only(LAUNCH, "awning cleat, forward")), "own", SiteOptions())
    assert (page.plan.batches, page.coldest) == ([], "")
    assert "this hardener does not cure" not in template.render(page=page, sheet=page.sheet)


def test_the_drawing_of_the_plan_shows_every_fitting_and_stretch_of_work(page: JobPage) -> None:
    drawn = ElementTree.fromstring(str(page.timeline))
    width, height = (float(part) for part in str(drawn.get("viewBox")).split()[2:])
    texts = [str(one.text) for one in drawn if one.tag == "text"]
    assert all(
        any(text.rstrip("…") and name.startswith(text.rstrip("…")) for text in texts) for name in page.plan.shares
    )
    bars = [str(one.get("d")) for one in drawn if one.tag == "path" and not one.get("stroke")]
    shared = sum(len(page.plan.batches[slot.mix].shares) for slot in page.plan.clock.slots if slot.mix >= 0)
    assert len(bars) == shared + sum(slot.mix < 0 for slot in page.plan.clock.slots)
    corners = [re.match(r"M([\d.]+) ([\d.]+)h([\d.]+)v(\d+)", bar) for bar in bars]
    for corner in corners:
        assert corner
        left, top, wide, high = map(float, corner.groups())
        assert 190 <= left <= left + wide <= width + 1.5
        assert 22 <= top <= top + high <= height
    # The number of a mix stands over its bar, in a strip where nothing else is drawn.
    numbers = [one for one in drawn if one.tag == "text" and str(one.text).isdecimal()]
    assert len(numbers) == shared
    tops = {float(corner.group(2)) for corner in corners if corner}
    for one in numbers:
        base = float(str(one.get("y")))
        assert any(base < top < base + 3 for top in tops)
        assert not any(base - 7 < top < base for top in tops)
    # Each full cure is an open bar from its last mix on; nothing of it is left of that mix.
    cures = [
        re.match(r"M([\d.]+) ([\d.]+)h([\d.]+)v4h", str(one.get("d"))) for one in drawn if one.get("fill") == "none"
    ]
    assert (
        len(cures)
        == sum(
            "t_f" in one.worked.reckoning.working.values and bool(one.worked.mix_line)
            for one in page.plan.shares.values()
        )
        > 3
    )
    for cure in cures:
        assert cure
        left, top, wide = map(float, cure.groups())
        tall = [
            float(one.group(1)) + float(one.group(3))
            for one in corners
            if one and one.group(4) == "12" and float(one.group(2)) == top - 4
        ]
        assert tall
        assert max(tall) - 1.5 <= left <= left + wide <= width + 0.1
        assert wide > 0
    # Hands are drawn one after another as they are worked.
    assert len({str(one.get("d")) for one in drawn}) > len(page.plan.shares)


# A class


SMALL_CLASS = """\
title: A class of three who work alone
purpose: Every pair of hands makes something, and some of the work takes two.
boat: A block of wood.
conditions:
  {shop: metric, temperature: 20 °C, hardener: medium, ratio: "2:1 by volume", syringe: 20 mL, crew: "3", aim: class,
   start: 2027-06-01 08:00, hours: 08:00 to 17:00, breaks: 12:00 to 12:45, lesson: {set_up: 10 min, idle: 15 min}}
fittings:
  - {name: cleat, card: bedded-solid, where: a block, count: "2", given: {thread: M8, n_h: "2"}, no_load: A test.}
  - {name: plate, card: backing-plate, where: a block, given: {thread: M8}, no_load: A test.}
  - {name: stud, card: blind-stud, where: a block, count: "4", given: {thread: M8}, no_load: A test., after: [plate]}
  - {name: seat, card: cast-seat, where: a block, holes: "4", given: {thread: M8, R_c: 900 mm}, no_load: A test.}
"""


def check_lesson(done: WorkedSheet) -> None:
    """Every pair's days, looked at stint by stint."""
    conditions, lesson, plan = done.sheet.conditions, done.lesson, done.plan
    assert lesson
    assert len(lesson.pairs) == conditions.teams
    makes = [{share.worked.pair for share in batch.shares} for batch in plan.batches]
    assert all(len(own) == 1 for own in makes)
    assert set().union(*makes) == set(range(conditions.teams))
    for slot in plan.clock.slots:
        share = plan.batches[slot.mix].shares[0] if slot.mix >= 0 else plan.shares[slot.lot]
        having = [number for number, own in enumerate(lesson.pairs) if any(one.slot == slot for one in own)]
        assert len(having) == slot.teams
        assert share.worked.pair in having
    first: dict[int, set[int]] = {}
    for own in lesson.pairs:
        assert [one.slot for one in own if one.slot] == [
            slot for slot in plan.clock.slots if slot in [one.slot for one in own]
        ]
        for day, stints in itertools.groupby(own, key=lambda one: one.start // DAY):
            row = list(stints)
            first_of_all = [one for one in row if one.what != "break"][:2]
            assert [one.what for one in first_of_all] == ["set-up", "demonstration"]
            assert [one.end - one.start for one in first_of_all] == [lesson.set_up, lesson.demonstration]
            assert row[-1].what == "clean-up"
            assert row[-1].end - row[-1].start == lesson.clean_up
            assert row[-2].what in ("work", "break")
            assert all(0 <= after.start - one.end <= lesson.idle for one, after in itertools.pairwise(row))
            opens, closes = (day * DAY + moment for moment in conditions.opens_and_closes)
            assert opens <= row[0].start
            assert row[-1].end <= closes
            rests = [(day * DAY + start, day * DAY + end) for start, end in conditions.rests]
            assert [(one.start, one.end) for one in row if one.what == "break"] == [
                rest for rest in rests if row[0].start < rest[0] < row[-1].start
            ]
            assert not [
                one for one in row if one.what != "break" for rest in rests if one.start < rest[1] and rest[0] < one.end
            ]
            first.setdefault(day, set()).add(row[0].start)
    assert all(len(starts) == 1 for starts in first.values())
    names = {share.worked.fitting.name for share in plan.shares.values() if share.worked.tries}
    for trial in [share.worked for share in plan.shares.values() if share.worked.fitting.name in names]:
        pairs = {share.worked.pair for share in plan.shares.values() if of(trial.tries[0], share.worked)}
        assert trial.pair in pairs


def test_every_pair_of_a_class_has_days_of_its_own(library: Library, page: JobPage, alone: Alone) -> None:
    check_lesson(page.worked)
    assert page.worked.lesson
    assert page.worked.lesson.idle == 20 * 60
    small = sheet_of(alone, SMALL_CLASS)
    check_lesson(small)
    assert small.lesson
    assert (small.lesson.set_up, small.lesson.demonstration, small.lesson.idle) == (600, 1800, 900)
    helped = [slot for slot in small.plan.clock.slots if slot.teams == 2]
    assert helped
    check_lesson(work_sheet(large_job(library, 24, "class"), "large"))


def test_no_pair_of_the_demo_has_long_nothing_to_do(sheets: Sheets) -> None:
    """What is left are waits for a cure, for a seat that is looked at, turned twice and broken loose at its times, and
    for the one jack and lever: hands stay with a trial joint while it hangs under its load, so that a pair waits longer
    for the next pull than where a loaded lever stood alone. Three other choices of breaks were tried, and none kept
    70 min and 340 min."""
    lesson = sheets("class-dinghy").lesson
    assert lesson
    idle = [[one.end - one.start for one in own if one.what == "meanwhile"] for own in lesson.pairs]
    assert max(max(own, default=0) for own in idle) <= 90 * 60
    assert sum(map(sum, idle)) <= 545 * 60


@pytest.mark.parametrize(
    ("changed", "by"),
    [
        ("breaks: 12:00 to 12:45, ", ""),
        ("12:00 to 12:45", "[08:05 to 08:20, 08:25 to 08:30, 16:45 to 16:55]"),
        ("12:00 to 12:45", "[08:01 to 08:20, 16:00 to 16:50]"),
        ("set_up: 10 min", "set_up: 10 min, clean_up: 45 min"),
        ("breaks: 12:00 to 12:45", "breaks: [10:30 to 10:45, 12:00 to 12:45, 14:30 to 14:45]"),
    ],
)
def test_no_break_parts_what_a_class_day_begins_and_ends_with(alone: Alone, changed: str, by: str) -> None:
    """Nor is there a plan only where there are breaks."""
    assert changed in SMALL_CLASS
    check_lesson(sheet_of(alone, SMALL_CLASS.replace(changed, by)))


def test_a_sheet_without_breaks_and_one_with_breaks_have_plans(alone: Alone, sheets: Sheets) -> None:
    noon = [(slot.start % DAY, slot.end % DAY) for slot in sheets("launch-refit").plan.clock.slots]
    assert not [one for one in noon if one[0] < 12.5 * 3600 and one[1] > 12 * 3600]
    text, _ = spoilt_text(SHIPPED[LAUNCH], "  breaks: [12:00 to 12:30]\n", "")
    assert work_sheet(alone(text), "own").plan.clock.slots
    text, _ = spoilt_text(SHIPPED[DINGHY], "  breaks: [10:45 to 11:00, 12:30 to 13:15]\n", "")
    check_lesson(work_sheet(alone(text), "own"))


def test_every_pair_makes_its_own_of_what_there_is_one_for_each(library: Library, page: JobPage) -> None:
    """There are four turnbuttons for four pairs, and of a class that all make the same each makes one of all."""
    makes = [
        share.worked.pair for share in page.plan.shares.values() if share.worked.sheets_name == "floorboard turnbutton"
    ]
    assert sorted(str(pair) for pair in makes) == ["0", "1", "2", "3"]
    three = (
        SMALL_CLASS[: SMALL_CLASS.index("fittings:")]
        + "fittings:\n"
        + "".join(
            f'  - {{name: {name}, card: {card}, where: a block, count: "{count}", given: {{thread: M8}}, no_load: A test.}}\n'
            for name, card, count in (
                ("stud", "blind-stud", 3),
                ("plate", "backing-plate", 6),
                ("bush", "bonded-bush", 4),
            )
        )
    )
    sheet = JobSheet.model_validate(yaml.safe_load(three))
    own = replace(
        library,
        job_sheets={**library.job_sheets, "own": sheet},
        documents={**library.documents, "jobs/own.yaml": library.documents["jobs/class-dinghy.yaml"]},
    )
    done = work_sheet(own, "own")
    check_lesson(done)
    for name, each in (("stud", 1), ("plate", 2)):
        shares = [share.worked for share in done.plan.shares.values() if share.worked.sheets_name == name]
        assert sorted((one.pair or 0, one.fitting.pieces) for one in shares) == [(pair, each) for pair in range(3)]


def test_a_class_with_nothing_to_make_has_no_day(alone: Alone) -> None:
    """Its one fitting is a designer's."""
    head = SMALL_CLASS[: SMALL_CLASS.index("fittings:")]
    own = "fittings:\n  - {name: chainplate, card: bedded-solid, where: a block, given: {thread: M8}, designer: rig, no_load: A test.}\n"
    done = sheet_of(alone, head + own)
    assert done.lesson
    assert not any(done.lesson.pairs)
    assert not done.plan.clock.slots


def test_a_pairs_sheet_says_what_it_weighs_and_bores(page: JobPage) -> None:
    rows = [row for pair in page.pairs for _, own in pair.days for row in own]
    below = [line for row in rows for line in row.below]
    for mix in page.mixes:
        own = [row for row in rows if row.kind == "mix" and row.what.startswith(f"Mix {mix.number}, ")]
        assert len(own) == 1
        times, resin = own[0].below[:2]
        assert times.split("; ") == [f"{what} {when}" for what, when in mix.times]
        assert resin.partition(" resin")[0] == mix.amounts[0][1]
    bored = [holes for run in page.worked.holes.runs for holes in run.holes]
    for holes in bored:
        assert sum(line.startswith(f"{page.hour(holes.at)} {page.drill(holes.drill)}: ") for line in below) >= 1
    assert sum(": " in line and " deep" not in line for line in below) >= len(bored)
    text = environment().get_template("job.md.j2").render(page=page, sheet=page.sheet)
    assert text.count('class="bw-box"') == len(rows)
    assert "Every team mixes its own" in text
    assert text.index("## The clock") < text.index("## Pair 1") < text.index("## Pair 4") < text.index("## What to buy")
