"""What the types of the fields refuse: what cannot be, what is of another kind, and what is more than a page can hold."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from conftest import HOUSE, KEPT
from generator.check import load_checked
from generator.errors import Faults
from generator.model.kinds import RESERVED
from generator.pages.sheet import apart

CARD = "cards/bonded-stepped-hole.yaml"
BOAT = "jobs/class-dinghy.yaml"
SOLD = "data/shop_sizes.yaml"


@pytest.fixture(scope="module")
def spoilt(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the procedures, spoilt and mended by each test."""
    root = tmp_path_factory.mktemp("spoilt") / "procedures"
    shutil.copytree(HOUSE / "procedures", root)
    return root


def told(root: Path, file: str, pattern: str, new: str) -> list[str]:
    """The faults after the first place that the pattern matches was replaced."""
    path = root / file
    text = path.read_text(encoding="utf-8")
    spoiled, count = re.subn(pattern, new, text, count=1, flags=re.DOTALL)
    assert count == 1, pattern
    path.write_text(spoiled, encoding="utf-8")
    try:
        load_checked(root, KEPT)
    except Faults as error:
        return [str(fault) for fault in error.faults]
    finally:
        path.write_text(text, encoding="utf-8")
    return []


@pytest.mark.parametrize(
    ("file", "pattern", "new", "words"),
    [
        (BOAT, r"stated: [^,}\n]+", "stated: 0 N", "'0 N' cannot be the load that the fitting must carry; give 1 to 1000000 N"),
        (BOAT, r"stated: [^,}\n]+", "stated: 1000000000 kN", "cannot be the load that the fitting must carry"),
        (BOAT, r"ratio: [^\n]+", 'ratio: "999999999:1 by volume"', "cannot be the parts of resin to one of hardener by volume; give 0.1 to 20"),
        (BOAT, r"temperature: [^\n]+", "temperature: 200 degC", "give -30 to 80 degC"),
        (BOAT, r"start: [^\n]+", "start: 9999-12-31 09:00", "give a day from 2000-01-01 to 2099-12-31"),
        (BOAT, r"count: [^,}\n]+", "count: 700", "give a whole number from 1 to 200"),
        (BOAT, r"count: [^,}\n]+", "count: 0", "give a whole number from 1 to 200"),
        ("jobs/launch-refit.yaml", r"waits: \{(\w+): [^}]+\}", r"waits: {\1: 3000000 d}", "give 0 to 1000 d"),
        ("sources.yaml", r"dated: [^\n]+", "dated: 0", "'0' is not a day; write year, month and day"),
        ("sources.yaml", r"dated: [^\n]+", "dated: 1126-11-25", "give a day from 2000-01-01"),
        (CARD, r"active: [^,}\n]+", "active: -5 min", "'-5 min' cannot be; give 0 to 10000 min"),
        (CARD, r"wait: \w+", "wait: D_o", "'D_o' is the oversized hole; name a time here"),
        (CARD, r"wait: \w+", "wait: a while", "write a time, for example 20 min; or name a time that this card works"),
        ("cards/trial-joint.yaml", r"trust: \[[^\]]*\]", "trust: [D_o]", "name a load here"),
        (CARD, r"carries: \{pull: \[[^\]]*\]", "carries: {pull: [D_o]", "name a load here"),
        (CARD, r"carries: \{pull: \[[^\]]*\]", "carries: {pull: []", "the list is empty"),
        (CARD, r"kind: large_drill", "kind: T", "'T' is not one of 'large_drill' or 'guide_drill'"),
        (CARD, r"size: D_o", "size: F_w", "name a length here"),
        (CARD, r"what: \"\{thread\} bolt", 'what: "{thread bolt', "with no name; write a symbol as {D_o}"),
        (CARD, r"marks: \[look\]", "marks: [look], by: D_o", "name a time here"),
        (CARD, r"each: n_h", "each: k_u", "'k_u' is the leave for a filler to stand round a loaded fastener, 1 for yes; name a count"),
        ("cards/worn-hole.yaml", r"Leave it for \{t_h\}", "Leave it for {k_is}", "'k_is' stands for words; write them as [k_is > 0: so"),
        ("data/plates.yaml", r"f_yp: (\d+) MPa", r"f_yp: \1 kPa", "is far from all other rows, which are in MPa; mend the unit"),
        ("data/fasteners.yaml", r"8\.8 \(over 16 mm\)", "8.8 (up to 16 mm)", "row '8-8' is called 'steel 8.8 (up to 16 mm)' too"),
        ("data/fillers.yaml", r"sources: \{rho_t:", "sources: {rho_b2:", "'rho_b2' is not given here, so nothing goes by this source"),
        ("data/threads.yaml", r"sources: \{k_3:", "sources: {k_4:", "'k_4' is not given here, so nothing goes by this source"),
        ("data/drills.yaml", r"sources: \{n_f\*:", "sources: {n_f:", "'n_f' is not given here, so nothing goes by this source"),
        ("data/release_agents.yaml", r'n_kb: "2"', 'n_kb: "3"', "give 0 to 2"),
        ("cards/bedded-solid.yaml", r"volume: \w+", "volume: D_o", "name a volume here"),
        (SOLD, r"\{title: drills, (.*?)metric: \[\"1\"\]", r"{title: drills, \1metric: []", "the list is empty"),
        (SOLD, r"metric: \[250, 500", "metric: [250, 9000000", "none is above 5000"),
        (SOLD, r"metric: \[250, 500", "metric: [500, 250", "sizes ascend"),
        (SOLD, r"wash: \{time: [^,}]+", "wash: {time: 15 g", "is not a time"),
        ("data/woods.yaml", r"G: 0.40", "G: 4.0", "'4.0' cannot be the specific gravity of the wood"),
        ("data/resins.yaml", r"rho_r: 1.15", "rho_r: 11.5", "give 1.02 to 1.3"),
        ("tables/deck-bolts.yaml", r"\ncolumns|\nover", r"\naids: true\g<0>", "'aids' are drawn from D_o, D_g"),
        ("data/clearances.yaml", r"\ninput: fit", "", "unknown input 'fit'"),
        ("cards/worn-hole.yaml", r"marks: \[fresh, decides\]", "marks: [fresh]", "'left_open': nothing says how long 'dry' takes; mark a line between it and the mix 'decides'"),
        ("cards/worn-hole.yaml", r"marks: \[fresh, decides\]", "marks: [fresh, decides, fresh]", "'fresh' marks this line twice; keep one"),
        ("steps.yaml", r"next_lift: All", 'next_lift: "[t_m > 0: all]"\n#', "'[' marks a value or a condition, and none is told here"),
        ("steps.yaml", r"next_lift: All", "next_lift: So | all", "'|' marks a value or a condition, and none is told here"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_where_it_stands(spoilt: Path, file: str, pattern: str, new: str, words: str) -> None:
    faults = told(spoilt, file, pattern, new)
    assert any(words in fault for fault in faults), faults[:5]
    assert all(re.match(r"procedures/[\w/.-]+:\d+:\d+: ", fault) for fault in faults)


@pytest.mark.parametrize(
    ("file", "key", "remedy"),
    [
        ("inputs.yaml", "givens", ""),
        ("sources.yaml", "sources", ""),
        ("shared.yaml", "needs", ", or leave the key out"),
        ("data/load_constants.yaml", "rows", ""),
        ("data/threads.yaml", "series", ""),
        ("drawings/mixing.yaml", "drawings", ""),
        ("chooser.yaml", "questions", ""),
        ("home.yaml", "givens", ""),
    ],
)
def test_a_part_of_a_file_with_nothing_in_it_is_told_there_and_nowhere_else(
    spoilt: Path, file: str, key: str, remedy: str
) -> None:
    line = (spoilt / file).read_text(encoding="utf-8").split("\n").index(f"{key}:") + 1
    faults = told(spoilt, file, rf"(?m)^{key}:\n(?:(?:[ #][^\n]*)?\n)*", f"{key}: {{}}\n")
    column = len(key) + 3
    message = f"nothing stands under '{key}'; write at least one entry{remedy}"
    assert faults == [f"procedures/{file}:{line}:{column}: {message}"]


def test_an_input_that_there_is_not_is_told_once(spoilt: Path) -> None:
    """And nothing of what a table's rows would run through."""
    (fault,) = told(spoilt, "data/expansions.yaml", "input: fitting_material", "input: of_the_fitting")
    assert re.match(r"procedures/tables/bed-movement.yaml:\d+:3: unknown input 'fitting_material'", fault)
    spelled = r"{metall: {ask: metal, default: x}, \1{input: metall}"
    (fault,) = told(
        spoilt, "tables/metals.yaml", r"\{metal: stainless-316, (.*?)\{input: metal\}", spelled
    )  # with notes
    assert "unknown input 'metall'" in fault


def test_a_table_has_an_end(spoilt: Path) -> None:
    values = ", ".join(f"{length} mm" for length in range(50, 130))
    faults = told(spoilt, "tables/epoxy-by-depth.yaml", r"(across:.*?metric: )\[[^\]]*\]", rf"\1[{values}]")
    assert [fault for fault in faults if "a table works at most 2000" in fault], faults


def test_choices_that_give_ever_other_symbols_are_refused_before_a_script_grows(spoilt: Path) -> None:
    rows = ("{A_s: 37 mm2}", "{d_3: 6.5 mm}", "{d_3: 6.5 mm, A_s: 37 mm2}")
    entries = (
        f"row-{place}: {{title: x{place}, source: own-judgement, gives: {row}}}" for place, row in enumerate(rows)
    )
    text = "".join(f"  {entry}\n" for entry in entries)
    names = ("ever", "other", "sets", "again", "more")
    asked = ""
    for name in names:
        (spoilt / f"data/zz_{name}.yaml").write_text(f"input: {name}\nrows:\n{text}", encoding="utf-8")
        asked += f"\n  {name}: {{ask: {name}, default: row-0}},"
    try:
        faults = told(spoilt, CARD, r"\ngivens: \{", "\ngivens: {" + asked)
    finally:
        for name in names:
            (spoilt / f"data/zz_{name}.yaml").unlink()
    assert [fault for fault in faults if "different sets of symbols" in fault], faults[:3]


@pytest.mark.parametrize("name", ["con", "aux", "nul", "com1"])
def test_a_page_has_no_name_that_a_computer_keeps_for_itself(spoilt: Path, name: str) -> None:
    assert name in RESERVED
    path = spoilt / f"tables/{name}.yaml"
    shutil.copy(spoilt / "tables/woods.yaml", path)
    try:
        with pytest.raises(Faults, match=f"tables/{name}.yaml:1:1: the name becomes the page's address"):
            load_checked(spoilt, KEPT)
    finally:
        path.unlink()


def test_two_tables_never_share_a_name() -> None:
    assert apart(["a", "b", "a", "a-2", "a"]) == ["a", "b", "a-3", "a-2", "a-4"]
    assert apart(["a", "b"]) == ["a", "b"]
