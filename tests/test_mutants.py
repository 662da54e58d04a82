"""A small sample of the mutants; the long run is by hand."""

from __future__ import annotations

from pathlib import Path

from mutants import house, run


def test_whatever_is_written_check_answers_with_a_place_and_what_passes_is_rendered(small_project: Path) -> None:
    with house(small_project / "procedures") as sound:
        figures = run(sound, 60, 19)
    assert not [one for one in figures.wrong if not one.endswith(" s")]  # a busy machine is slow
    assert figures.outcomes["faults"] > 30
    assert figures.outcomes["passes"] > 3
