"""The words of drawings: each fault with file, line, column, what is wrong and what would be right."""

from __future__ import annotations

from pathlib import Path

import pytest
from test_faults import faults, spoil

from conftest import Run
from generator.errors import Faults
from generator.figures.faults import words_faults
from generator.kept import Kept
from generator.model.library import load

FILE = "procedures/drawings/worn-hole.yaml"
REDRILLED = "hole: {words: new hole, value: D_k}\n      scrap-block"

# old, new, where the fault stands behind the place of `old`, words of the message
SPOILT = [
    pytest.param("worn-redrilled:", "worn-redriled:", (0, 0), "unknown drawing 'worn-redriled'; near it: worn-redrilled", id="drawing"),
    pytest.param("labels:\n      wall", "labels:\n      wal", (0, 0), "has the label 'wall'; write its words", id="label-missing"),
    pytest.param(REDRILLED, f"whole: {{words: x}}\n      {REDRILLED}", (0, 0), "has no label 'whole'; it has hole, plug, scrap-block, wall", id="label-unknown"),
    pytest.param("title: Drilling the new", "tilte: Drilling the new", (0, 0), "unknown key 'tilte'; did you mean 'title'?", id="key"),
    pytest.param(REDRILLED, REDRILLED.replace("D_k", "D_kk"), (0, 31), "'D_kk' is neither a symbol nor a case of this drawing", id="value-unknown"),
    pytest.param("wall of {b_wo} all", "wall of {b_woo} all", (0, 8), "'{b_woo}' is neither a symbol nor a case of this drawing; near it: b_wo", id="placeholder"),
    pytest.param("wall of {b_wo} all", "wall of {b_wo all", (0, 8), "a '{' with no name", id="stray-brace"),
    pytest.param("wall of {b_wo} all", "wall of 5 mm all", (0, 8), "'5' is typed into a drawing", id="typed"),
    pytest.param("side: left}\n\n  worn-too", "side: above}\n\n  worn-too", (0, 6), "'above' is not one of 'left' or 'right'", id="side"),
    pytest.param("plug: {words: hard plug, side: left}", "plug: {side: left}", (0, 6), "give 'words', 'value' or both", id="says-nothing"),
    pytest.param("    right: bored to sound wood\n", "", None, "is a pair of views; say under 'right' what is right", id="verdict-missing"),
    pytest.param("    title: Drilling the new", "    right: x\n    title: Drilling the new", (0, 4), "is one view; 'right' is for a pair of views", id="verdict-unknown"),
    pytest.param("    title: Drilling the new", "    cases: {wood: {a: b}}\n    title: Drilling the new", (0, 12), "has no case 'wood'; it has none", id="case-unknown"),
]  # fmt: skip


def found_in(house: Path) -> str:
    """The faults of the words alone."""
    try:
        return "\n".join(str(fault) for fault in words_faults(load(house / "procedures"), Kept()))
    except Faults as error:
        return str(error)


@pytest.mark.parametrize(("old", "new", "offset", "words"), SPOILT)
def test_a_fault_in_a_drawings_words_names_its_place(
    house: Path, old: str, new: str, offset: tuple[int, int] | None, words: str
) -> None:
    line, column = spoil(house, FILE, old, new)
    found = [fault for fault in faults(found_in(house)) if words in fault[3]]
    assert found, found_in(house)
    assert found[0][0] == FILE
    if offset is not None:
        assert found[0][1:3] == (line + offset[0], column + offset[1])


def test_cases_are_complete_and_used(house: Path) -> None:
    spoil(house, "procedures/drawings/stepped-hole.yaml", "blind: The hole ends in the wood.", "shut: It ends.")
    spoil(house, "procedures/drawings/trial-joint.yaml", "on the boat. {hole}", "on the boat.")
    told = found_in(house)
    assert "has the alternative 'blind'; write its words" in told
    assert "has no alternative 'shut'; it has blind, through" in told
    assert "no text has {hole} in it; put it where the case belongs, or take the case out" in told


def test_no_case_comes_round_to_itself(house: Path) -> None:
    """Neither at once nor by way of another case; that one stands in another is well."""
    file = "procedures/drawings/stepped-hole.yaml"
    spoil(house, file, "tip:\n        flat: flat", "tip:\n        flat: 'flat, {end}'")
    told = [fault for fault in faults(found_in(house)) if "these texts lead back to themselves" in fault[3]]
    lines = (house / file).read_text(encoding="utf-8").splitlines()
    assert [lines[fault[1] - 1].strip() for fault in told] == ["end:", "tip:"]


def test_one_drawing_has_its_words_in_one_file(house: Path) -> None:
    text = (house / FILE).read_text(encoding="utf-8")
    (house / "procedures/drawings/zz-copy.yaml").write_text(text, encoding="utf-8")
    assert "procedures/drawings/zz-copy.yaml:3:3: the drawing 'worn-section' has its words in another file" in found_in(
        house
    )


def test_check_misses_words_and_values_that_a_card_does_not_work(house: Path, generator: Run) -> None:
    (house / FILE).unlink()
    line, column = spoil(house, "procedures/drawings/mixing.yaml", "value: m_hc}", "value: L_o}")
    done = generator("check")
    assert done.returncode == 1
    told = faults(done.stderr)
    assert ("procedures/drawings/mixing.yaml", line, column + 7) in [fault[:3] for fault in told]
    assert any("'L_o' is not worked by cards/mixing.yaml" in fault[3] for fault in told)
    missing = [fault for fault in told if "has no words; write them in a file of procedures/drawings" in fault[3]]
    assert len(missing) == 6
    assert all(fault[0] == "procedures/cards/worn-hole.yaml" for fault in missing)
