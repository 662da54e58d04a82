"""A small sample of the mutants; the long run is by hand."""

from __future__ import annotations

from pathlib import Path

from mutants import run


def test_whatever_is_written_check_answers_with_a_place_and_what_passes_is_rendered(small_project: Path) -> None:
    outcomes, wrong, _ = run(small_project / "procedures", 15, 19, sheets=True)
    assert not [one for one in wrong if not one.endswith(" s")], wrong  # a busy machine is slow
    assert outcomes["faults"] > 5
