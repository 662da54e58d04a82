"""Bad input: each fault with file, line, column, what is wrong and what would be right; no page written."""

from __future__ import annotations

import copy
import operator
import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from functools import reduce
from pathlib import Path

import pytest

from conftest import CARD, HOUSE, Run, runner, set_option
from generator.check import _in_all, chooser_faults, home_faults, input_faults
from generator.errors import Faults
from generator.formula import FORMULARY
from generator.model.jobsheet import JobSheet
from generator.model.library import Library
from generator.model.schema import Card, Given, Table, parse
from generator.model.yaml_text import _document

CARD_FILE = f"procedures/cards/{CARD}.yaml"
# A check value of the card's own.
CHECKED = (
    "  - {what: Hole, given: {thread: M8, D_g: 8 mm}, symbol: D_t, value: 14 mm, tolerance: 0.5 mm,"
    " source: common-practice}"
)
PLACE = re.compile(r"^(?P<file>[^:\n]+):(?P<line>\d+):(?P<column>\d+): (?P<message>.+)$", re.MULTILINE)


@pytest.fixture(scope="session")
def whole_house(small_project: Path) -> Path:
    """Each fault is put into a small project."""
    return small_project


def spoil(house: Path, file: str, old: str, new: str) -> tuple[int, int]:
    """Replace the first `old` in a file; returns the line and column where it stood."""
    path = house / file
    text, at = spoilt_text(path.read_text(encoding="utf-8"), old, new)
    path.write_text(text, encoding="utf-8")
    return at


def spoilt_text(text: str, old: str, new: str) -> tuple[str, tuple[int, int]]:
    """A text with its first `old` replaced, and the line and column where that stood."""
    place = text.index(old)
    at = (text.count("\n", 0, place) + 1, place - text.rfind("\n", 0, place))
    return text[:place] + new + text[place + len(old) :], at


def faults(output: str) -> list[tuple[str, int, int, str]]:
    return [(m["file"], int(m["line"]), int(m["column"]), m["message"]) for m in PLACE.finditer(output)]


SPOILT = [
    # file, old, new, offset of the fault behind the place of `old`, words of the message
    pytest.param(CARD_FILE, "figure: st", "figur: st", (0, 0), "unknown key 'figur'; did you mean 'figure'?", id="unknown-key"),
    pytest.param(CARD_FILE, "    see: The full width", "    sea: The full width", (0, 4), "unknown key 'sea'; did you mean 'see'?", id="unknown-key-deep"),
    pytest.param(CARD_FILE, " T,", " T: {metric: 6 kg, inch: 1 in},", (0, 13), "'6 kg' is not a length", id="wrong-unit"),
    pytest.param(CARD_FILE, " T,", " T: {metric: 90, inch: 1 in},", (0, 13), "'90' has no unit", id="no-unit"),
    pytest.param(CARD_FILE, " T,", " T: {metric: 0 mm, inch: 1 in},", (0, 13), "outside the range of this card: take 10 to 1000 mm", id="no-depth"),
    pytest.param(CARD_FILE, "  thread,\n", "  thread: {metric: M7, inch: 5/16-18 UNC},\n", (0, 19), "thread 'M7' is not in the data; near it:", id="no-such-thread"),
    pytest.param(
        CARD_FILE, "  thread,\n", "  P: {ask: pitch, default: 1 mm},\n  T_: {ask: x, default: 1 mm},\n", (1, 2), "unknown input 'T_'", id="unknown-input"
    ),
    pytest.param(
        CARD_FILE,
        " n_h,",
        "\n  D_g: {ask: guide hole, default: 16 mm},\n  D_o: {ask: oversized hole, default: 14 mm}, n_h,",
        (2, 38),
        "the oversized hole must be larger than the guide hole",
        id="guide-larger-than-oversized",
    ),
    pytest.param(CARD_FILE, " large_drill,", " large_drill: {default: twister},", (0, 24), "'twister' is not one of the drills: twist, flat", id="no-such-drill"),
    pytest.param(CARD_FILE, "{blind: blind-stud}", "{blind: blind-stub}", (0, 8), "no card 'blind-stub'; near it: blind-stud", id="elsewhere-card"),
    pytest.param(CARD_FILE, "{blind: blind-stud}", "{blunt: blind-stud}", (0, 1), "'blunt' is not one of the holes: through, blind", id="elsewhere-row"),
    pytest.param(CARD_FILE, "{blind: blind-stud}", "{through: blind-stud}", (0, -20), "'through' is left to another card", id="elsewhere-default"),
    pytest.param(CARD_FILE, " T,", " T: {elsewhere: {deep: blind-stud}},", (0, 5), "'T' is chosen from no table, so it has no rows", id="elsewhere-number"),
    pytest.param(CARD_FILE, " ratio,", ' ratio: {default: "2 to 1"},', (0, 18), "is no mix ratio; write it like '2:1 by volume'", id="ratio"),
    pytest.param(CARD_FILE, "with the {D_o} {large", "with the {D_q} {large", (0, 9), "'{D_q}' is neither worked by this card", id="unknown-value"),
    pytest.param(CARD_FILE, "with the {D_o} {large", "with the {K_snn} {large", (0, 9), "did you mean {K_sn}", id="value-of-another-card"),
    pytest.param(CARD_FILE, "with the {D_o} {large", "with the {D_o {large", (0, 9), "with no name; write a symbol as {D_o}", id="stray-brace"),
    pytest.param(CARD_FILE, "[t_m > 0: Set the", "[t_m: Set the", (0, 0), "write a condition as [t_m > 0: so | else so]", id="stray-bracket"),
    pytest.param(CARD_FILE, "[t_m > 0: Set the", "[t_q > 0: Set the", (0, 1), "is given here or can be worked; needed for", id="condition-symbol"),
    pytest.param(CARD_FILE, "[t_m > 0: Set the", "[t_m > 1: Set the", (0, 1), "only a count is asked whether it is above 1", id="condition-count"),
    pytest.param(CARD_FILE, "still soft after {t_l}", "still soft after three days", (0, 17), "'three days' stays when the day is colder", id="time-in-words"),
    pytest.param(CARD_FILE, "when: t_m > 0", "when: t_m", (0, 6), "'t_m' is no condition; write a symbol and a whole number", id="when"),
    pytest.param(CARD_FILE, "square[t_m > 0: , the bed as thick as its pads]", "square, the bed {t_m}", (0, 16), "{t_m} is 0 where t_m is; write [t_m > 0: so", id="nothing"),
    pytest.param(CARD_FILE, "cautions: [drilling, dust]", "cautions: [driling, dust]", (0, 11), "unknown caution 'driling'", id="unknown-caution"),
    pytest.param(CARD_FILE, "stainless-needs-air, defer]", "stainless-needs-air]", None, "none of the cautions here says who decides; add 'defer'", id="no-defer"),
    pytest.param(CARD_FILE, "  thread,\n", "", None, "'thread' is not among the givens; add it there", id="runs-over-what-is-not-given"),
    pytest.param("procedures/data/heat_constants.yaml", "gives: {T_pyr: 225 °C}\n    total: 225", "gives: {T_x: 95 °C, T_pyr: 225 °C}\n    total: 320", (0, 8), "'T_x' is given already in data/heat_constants.yaml, row 'softening'; keep one", id="constant-twice"),
    pytest.param(CARD_FILE, " resin, ratio,", " resin,", None, "is needed to work out itself; needed for n_w ← n_v ← n_w. Add to the givens: ratio", id="circle"),
    pytest.param("procedures/cautions.yaml", "    defer: true\n", "", None, "none of these says who decides instead of a card; write `defer: true`", id="nobody-decides"),
    pytest.param("procedures/cautions.yaml", "sign: gloves", 'sign: "{D_o"', (0, 6), "'{' marks a value or a condition, and none is told here", id="sign-of-no-words"),
    pytest.param("procedures/data/drills.yaml", "kind: flat", "kind: twist", None, "has no drills of the kind 'flat', which another shop has", id="drills-of-one-shop"),
    pytest.param(CARD_FILE, "checks:", "checks:\n" + CHECKED.replace("value: 14 mm", "value: 15 mm"), (1, 69), "D_t is published as 15 mm (tolerance 0.5 mm), this card works 14", id="check-value"),
    pytest.param(CARD_FILE, "checks:", "checks:\n" + CHECKED.replace("symbol: D_t", "symbol: D_x"), (1, 57), "unknown symbol 'D_x'", id="unknown-symbol"),
    pytest.param("procedures/shared.yaml", "tolerance: 0.001 mm, source: iso-724", "tolerance: 0.001 mm, source: iso-725", (0, 29), "unknown source 'iso-725'", id="unknown-source-of-all"),
    pytest.param("procedures/shared.yaml", "cautions: [skin, eyes, air, own-can,", "cautions: [skin, eyes, air, own-tin,", (0, 28), "unknown caution 'own-tin'", id="unknown-caution-of-all"),
    pytest.param("procedures/shared.yaml", "see: Clear, no streaks. Lost", "drawing: clear\n    see: Clear, no streaks. Lost", (0, 9), "unknown drawing 'clear'", id="unknown-drawing-of-all"),
    pytest.param(CARD_FILE, "checks:", "checks:\n" + CHECKED.replace("source: common-practice", "source: iso-725"), (1, 103), "unknown source 'iso-725'", id="unknown-source"),
    pytest.param(CARD_FILE, 'title: Mark out', 'title: ""', (0, 7), "the text is empty", id="empty-text"),
    pytest.param(CARD_FILE, "title: Bonded", "Titel: Bonded", (0, 0), "unknown key 'Titel'; did you mean 'title'?", id="title"),
    pytest.param(CARD_FILE, " f_o,", " f_o: {min: 3/4, max: 2/3},", None, "the least is more than the most", id="range"),
    pytest.param("procedures/data/threads.yaml", "d: 4 mm", "d: 4 kg", (0, 3), "'4 kg' is not a length", id="thread-unit"),
    pytest.param("procedures/data/threads.yaml", "d: 4 mm", "d: 0 mm", (0, 3), "d: '0 mm' makes no nominal diameter of the thread; give more than 0", id="thread-zero"),
    pytest.param("procedures/data/drills.yaml", "[1, 1.5,", "[1.5, 1,", (0, 6), "'1' is not above 1.5; sizes ascend", id="stock-order"),
    pytest.param("procedures/data/drills.yaml", "alpha_*: 118 deg", "alpha_*: 118 mm", (0, 9), "'118 mm' is not an angle", id="angle"),
    pytest.param("procedures/data/resins.yaml", "rho_r: 1.15", "rho_q: 1.15", (0, 0), "unknown symbol 'rho_q'", id="data-symbol"),
    pytest.param("procedures/data/resins.yaml", "source: from-memory", "sauce: from-memory", (0, 0), "unknown key 'sauce'; did you mean 'source'?", id="data-key"),
    pytest.param("procedures/sources.yaml", "  iso-724:", "  extra:\n    basis: published\n    cite: A book.\n  iso-724:", (0, 2), "nothing uses the source 'extra'", id="unused-source"),
    pytest.param("procedures/sources.yaml", "dated: 2026-11-25", "dated: last autumn", (0, 7), "'last autumn' is not a day; write year, month and day", id="not-a-day"),
    pytest.param("procedures/sources.yaml", "    basis: published", "    basis: rumour", (0, 11), "'rumour' is not one of", id="basis"),
    pytest.param("procedures/data/washers.yaml", "{d_h: 11 mm, D_p: 34 mm", "{d_h: 11 mm, D_o: 34 mm", (0, 0), "the other sizes give D_p, d_h, t_s; give the same, or leave this one out", id="size-of-other-symbols"),
    pytest.param("procedures/designers.yaml", "words: [keel, keel bolt", "words: [keel, 12", (0, 14), "'12' has no letter; write a word", id="word-without-a-letter"),
    pytest.param("procedures/cautions.yaml", "  squirt:", "  Squirt:", None, "is not an id; use small letters", id="identifier"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "offset", "words"), SPOILT)
def test_a_fault_names_its_place_and_what_would_be_right(
    house: Path, generator: Run, file: str, old: str, new: str, offset: tuple[int, int] | None, words: str
) -> None:
    line, column = spoil(house, file, old, new)
    done = generator("check")
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    found = [fault for fault in faults(done.stderr) if words in fault[3]]
    assert found, done.stderr
    assert found[0][0] == file
    if offset is not None:
        expected = (line + offset[0], (column if offset[0] == 0 else 1) + offset[1])
        assert found[0][1:3] == expected, done.stderr


WHOLE_FILES: list[tuple[str, str | bytes, str, tuple[int, int]]] = [
    ("empty", "", "the file is empty", (1, 1)),
    ("only-comments", "# nothing\n\n", "the file is empty", (1, 1)),
    ("tab", "title: x\ngivens:\n\tthread: M8\n", "a tab indents this line; indent with spaces", (3, 1)),
    ("bomb", "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\n", "anchors and aliases", (1, 4)),
    ("merge", "a: {<<: *x}\n", "anchors and aliases", (1, 9)),
    ("tag", "a: !!python/object/apply:os.system [ls]\n", "the tag 'tag:yaml.org,2002:python/object/apply:os.system'", (1, 4)),
    ("deep", "a: " + "[" * 200 + "]" * 200 + "\n", "nested deeper than 20 levels", (1, 23)),
    ("twice", "title: a\ntitle: b\n", "the key 'title' stands twice", (2, 1)),
    ("two-documents", "a: 1\n---\nb: 2\n", "a second document begins here", (2, 1)),
    ("unclosed", 'title: "abc\n', "not readable as YAML", (2, 1)),
    ("list", "- a\n- b\n", "a mapping is wanted here", (1, 1)),
    ("text", "just words\n", "a mapping is wanted here", (1, 1)),
    ("not-utf8", b"title: caf\xe9\n", "not UTF-8 text", (1, 11)),
    ("nul", b"title: a\x00b\n", "the character U+0000 may not stand here", (1, 9)),
    ("escape", 'title: one\npurpose: "\\UFFFFFFFF"\n', "an escape in double quotes names no character", (2, 11)),
    ("unseen", 'title: "a\\x07b"\n', "the character U+0007 cannot be seen; remove it", (1, 8)),
    ("unseen-key", 'title: a\n"ti\\x1b[2Jtle": b\n', "the character U+001B cannot be seen; remove it", (2, 1)),
    ("tag-sign", "title: x</title><script>alert(1)</script>\n", "the sign '<' may not stand in a text", (1, 8)),
    ("tag-sign-in-a-key", "title: a\n<b>: b\n", "the sign '<' may not stand in a text", (2, 1)),
    ("key-list", "? [a, b]\n: c\n", "a key must be plain text", (1, 3)),
    ("huge", "# " + "x" * 1_100_000 + "\n", "at most 1000000 are read", (1, 1)),
]  # fmt: skip


@pytest.mark.parametrize(("name", "text", "words", "place"), WHOLE_FILES, ids=[case[0] for case in WHOLE_FILES])
def test_a_file_that_is_no_card(
    house: Path, generator: Run, name: str, text: str | bytes, words: str, place: tuple[int, int]
) -> None:
    path = house / "procedures/cards/zz-spoilt.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    done = generator("check")
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    found = [fault for fault in faults(done.stderr) if words in fault[3]]
    assert found, done.stderr
    assert found[0][:3] == ("procedures/cards/zz-spoilt.yaml", *place)


def test_a_folder_in_the_place_of_a_file(house: Path, generator: Run) -> None:
    (house / "procedures/cards/zz-folder.yaml").mkdir()
    done = generator("check")
    assert done.returncode == 1
    assert "procedures/cards/zz-folder.yaml:1:1: is no file" in done.stderr


def test_a_name_belongs_to_one_thread(house: Path, generator: Run) -> None:
    spoil(house, "procedures/data/threads.yaml", "also: [M8x1.25]", "also: [thin one]")
    spoil(house, "procedures/data/threads.yaml", "also: [M10x1.5]", "also: [thin one]")
    done = generator("check")
    assert done.returncode == 1
    assert "'thin one' already names M8; a name belongs to one thread" in done.stderr


def test_a_star_stands_only_for_a_drill(house: Path, generator: Run) -> None:
    spoil(house, "procedures/data/holes.yaml", "c_e: 2 mm", "alpha_*: 118 deg")
    done = generator("check")
    assert done.returncode == 1
    assert "a star stands for the role of a drill" in done.stderr


def test_all_faults_of_all_files_come_in_one_pass(house: Path, generator: Run) -> None:
    spoil(house, CARD_FILE, "figure: st", "figur: st")
    spoil(house, CARD_FILE, "    see: The full width", "    sea: The full width")
    spoil(house, "procedures/sources.yaml", "    basis: published", "    basis: rumour")
    found = faults(generator("check").stderr)
    assert (
        len(found) >= 4
    )  # two unknown keys, the one key that is missing in its place (a card may do without a drawing), one basis
    assert found == sorted(found)
    assert {fault[0] for fault in found} == {CARD_FILE, "procedures/sources.yaml"}


def test_a_missing_thread_names_the_symbols_on_the_way(house: Path, generator: Run) -> None:
    spoil(house, CARD_FILE, "  thread,\n", "")
    text = (house / CARD_FILE).read_text(encoding="utf-8")
    spoil(house, CARD_FILE, text[text.index("table: ") : text.index("checks:\n")], "")
    done = generator("check")
    assert done.returncode == 1
    found = [fault for fault in faults(done.stderr) if "no nominal diameter of the thread is given" in fault[3]]
    assert found
    assert "needed for D_g ← d" in found[0][3]
    assert found[0][0] == CARD_FILE


@pytest.mark.parametrize("command", ["write", "build"])
def test_no_page_is_written_and_an_old_site_stays(house: Path, generator: Run, mkdocs: Run, command: str) -> None:
    set_option(house, "units: both", "units: metric")
    set_option(house, "threads: []", "threads: [metric-coarse]")
    run = (lambda: generator("write", "site")) if command == "write" else (lambda: mkdocs("build"))
    assert run().returncode == 0
    before = {path: path.read_bytes() for path in (house / "site").rglob("*") if path.is_file()}
    spoil(house, "procedures/shared.yaml", "value: 14 mm", "value: 15 mm")
    done = run()
    assert done.returncode == 1
    assert f"{CARD_FILE}:" in done.stderr
    assert "D_t is published as 15 mm (tolerance 0.5 mm), this card works 14 mm" in done.stderr
    assert {path: path.read_bytes() for path in (house / "site").rglob("*") if path.is_file()} == before


def test_a_caution_that_goes_by_what_a_card_does_not_work(house: Path, generator: Run) -> None:
    spoil(house, "procedures/cautions.yaml", "    sign: squirts", "    sign: squirts\n    when: k_lm > 0")
    told = "the caution 'squirt' goes by 'k_lm', which this card does not work; add it to wanted"
    assert CARD_FILE in [fault[0] for fault in faults(generator("check").stderr) if told in fault[3]]


def test_a_wrong_unit_in_a_formula_fails_check_with_file_and_line(house: Path) -> None:
    shutil.copytree(HOUSE / "generator", house / "generator")
    line, _ = spoil(house, "generator/formulas/hole.py", "    return D_g + s_o", "    return D_g * s_o")
    done = runner(house, "generator")("check")  # that of the copy
    assert done.returncode == 1
    assert (
        f"generator/formulas/hole.py:{line - 2}:1: the units do not close: D_t comes out in meter ** 2" in done.stderr
    )


@pytest.mark.parametrize("name", ["index.yaml", "My card.yaml", "ÜBER.yaml", "a..b.yaml", "a--b.yaml"])
@pytest.mark.parametrize("folder", ["cards", "tables"])
def test_a_file_whose_name_makes_no_address(house: Path, generator: Run, folder: str, name: str) -> None:
    source = next((house / "procedures" / folder).glob("*.yaml"))
    shutil.copy(source, house / "procedures" / folder / name)
    done = generator("check")
    assert done.returncode == 1
    assert f"procedures/{folder}/{name}:1:1: the name becomes the page's address" in done.stderr


def test_another_ending_is_not_passed_over(house: Path, generator: Run) -> None:
    (house / CARD_FILE).rename(house / "procedures/cards/mine.yml")
    assert "procedures/cards/mine.yml:1:1: the name ends in .yml; end it in .yaml" in generator("check").stderr


def test_a_shop_that_is_missing(house: Path, generator: Run) -> None:
    (house / "procedures/data/shops.yaml").unlink()
    assert "data/shops.yaml:1:1: no row for the metric shop" in generator("check").stderr


@pytest.mark.parametrize("name", ["thread", "hole", "d"])
def test_an_input_that_is_taken(house: Path, generator: Run, name: str) -> None:
    line, _ = spoil(house, "procedures/data/resins.yaml", "input: resin", f"input: {name}")
    assert f"resins.yaml:{line}:8: the input '{name}' is taken" in generator("check").stderr


def test_a_folder_without_cards(house: Path, generator: Run) -> None:
    for card in (house / "procedures/cards").iterdir():
        card.unlink()
    assert "no card here; add a YAML file" in generator("check").stderr
    assert generator("--procedures", "nowhere", "check").returncode == 1


def test_many_faults_hold_their_line_once() -> None:
    """One copy each of a long line took all memory where it had 190,000 faults."""
    with pytest.raises(Faults) as raised:
        _document("cards/zz.yaml", f"use_when: [{'<,' * 3000}x]\n")
    assert len(raised.value.faults) == 3000
    assert len({id(fault.written) for fault in raised.value.faults}) == 1


@pytest.mark.parametrize(
    ("file", "key", "text"), [("chooser", "min", "wood"), ("chooser", "default", "3 kg"), ("home", "max", "1 kg")]
)
def test_an_input_that_no_sheet_works_is_read_too(library: Library, file: str, key: str, text: str) -> None:
    asked = getattr(library, file)
    name = next(name for name in asked.givens if name in FORMULARY.symbols)
    wrong = asked.givens[name].model_copy(update={key: text})
    spoilt = replace(library, **{file: asked.model_copy(update={"givens": {**asked.givens, name: wrong}})})
    (fault,) = {"chooser": chooser_faults, "home": home_faults}[file](spoilt)
    assert f"{name}: '{text}'" in str(fault)


@pytest.mark.parametrize("file", ["inputs", "chooser", "home"])
@pytest.mark.parametrize("name", ["nonsense", "shop", "ratio"])
def test_an_input_that_there_is_not_is_told_once(library: Library, file: str, name: str) -> None:
    """A mix ratio is asked for by cards alone."""
    given = Given.model_validate({"ask": "nothing", "default": "7 zz"})
    asked = library.inputs if file == "inputs" else getattr(library, file).givens
    more = {**asked, name: given}
    spoilt = replace(
        library, **{file: more if file == "inputs" else getattr(library, file).model_copy(update={"givens": more})}
    )
    (fault,) = {"inputs": input_faults, "chooser": chooser_faults, "home": home_faults}[file](spoilt)
    assert f"{file}.yaml:" in str(fault)
    assert ("is no mix ratio" if (file, name) == ("inputs", "ratio") else f"unknown input '{name}'") in str(fault)


def test_of_very_many_faults_the_first_are_told_and_how_many_more(house: Path, generator: Run) -> None:
    (house / "procedures/cards/zz.yaml").write_text("".join(f"k{n}: x\n" for n in range(5000)), encoding="utf-8")
    done = generator("check")
    assert len(faults(done.stderr)) == 20
    assert re.search(r"\nand 49\d\d more\n50\d\d to mend\n$", done.stderr), done.stderr[-200:]


def test_of_very_many_unknown_keys_none_is_compared_with_the_known_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file of 125,000 such keys kept whoever wrote it waiting for forty seconds, to be told of twenty."""
    asked: list[str] = []
    monkeypatch.setattr("generator.model.schema.get_close_matches", lambda key, *_, **__: asked.append(key) or [])
    for count, compared in ((500, 500), (3000, 0)):
        asked.clear()
        text = "title: x\n" + "".join(f"{number:x}:\n" for number in range(count))
        with pytest.raises(Faults, match=r"and \d+ more") as caught:
            parse(Table, _document.__wrapped__("tables/x.yaml", text))
        assert len(caught.value.faults) >= count
        assert len(asked) == compared


@pytest.mark.parametrize("file", [CARD_FILE, "procedures/tables/bed-vee.yaml", "procedures/jobs/class-dinghy.yaml"])
def test_where_a_key_is_unknown_those_that_are_known_are_told(file: str) -> None:
    kind = {"cards": Card, "tables": Table, "jobs": JobSheet}[Path(file).parent.name]
    document = _document(file, (HOUSE / file).read_text(encoding="utf-8"))
    told = []
    for path in mappings(document.data):
        data = copy.deepcopy(document.data)
        reduce(operator.getitem, path, data)["zz"] = "1"
        try:
            parse(kind, replace(document, data=data))
        except Faults as error:
            told += [fault.message for fault in error.faults if "unknown key 'zz'" in fault.message]
    assert len(told) > 5
    assert not [message for message in told if message.endswith("known keys: ")]


def mappings(data: object, path: tuple[object, ...] = ()) -> Iterator[tuple[object, ...]]:
    """The paths of all mappings."""
    inside = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    if isinstance(data, dict):
        yield path
    for key, part in inside:
        yield from mappings(part, (*path, key))


def test_an_input_that_is_unknown_is_told_once_where_it_is_asked_for(house: Path, generator: Run) -> None:
    spoil(house, "procedures/data/holes.yaml", "input: hole", "input: holes")
    told = PLACE.findall(generator("check").stderr)
    assert [message for *_, message in told if "unknown input 'hole'" in message]
    assert not [message for *_, message in told if "leave this out" in message]


@pytest.mark.parametrize(
    ("needle", "column"),
    [("T", 25), ("{T}", 24), ("hole", 11), ("ho", 7), ("no such thing", 7)],
)
def test_what_is_named_in_a_text_is_found_as_a_word_of_its_own(needle: str, column: int) -> None:
    """And not as a part of another one; what is not there is told at the text."""
    fault = _document.__wrapped__("x.yaml", "note: The hole, Tt and {T} deep\n").fault_in_text(("note",), needle, "x")
    assert (fault.line, fault.column) == (1, column)


@pytest.mark.parametrize("name", ["washer", "s_k", "ratio"])
def test_what_is_lacking_is_asked_for_as_most_sheets_do(library: Library, name: str) -> None:
    """And not what would lead to the same value by a longer way."""
    card = library.cards["cast-seat"]
    lacking = card.model_copy(update={"givens": {one: given for one, given in card.givens.items() if one != name}})
    assert name in card.givens
    assert _in_all(library, lacking, "metric") == f". Add to the givens: {name}"
