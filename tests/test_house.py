"""The house itself: imports run one way, docs name every option and command, the tools find nothing."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

from conftest import HOUSE, STUCK, for_each
from generator import cli
from generator.settings import Options

# From the ground up. A module may import from rooms below its own, and from its own.
ROOMS = [
    [
        "errors",
        "language",
        "quoted",
        "units",
        "schedule",
        "samples",
        "written",
        "shipped",
        "starter",
        "terminal",
        "guard",
    ],
    ["expr"],
    ["formula"],
    ["proof"],
    ["formulas"],
    ["model"],
    ["kept"],
    ["working"],
    ["reckoning"],
    ["evidence"],
    ["jobs"],
    ["notation", "published"],
    ["figures"],
    ["live"],
    ["wording", "bench", "editor"],
    ["pages"],
    ["check", "catalogue"],
    ["settings"],
    ["plugin", "cli"],
    ["__main__"],
]
FLOOR = {room: floor for floor, rooms in enumerate(ROOMS) for room in rooms}


def room_of(path: Path) -> str:
    return path.relative_to(HOUSE / "generator").parts[0].removesuffix(".py")


def imported_rooms(path: Path) -> set[str]:
    """The rooms of this package that a file imports from."""
    rooms = set()
    package = ["generator", *path.relative_to(HOUSE / "generator").parts[:-1]]
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.level:
            base = package[: len(package) - node.level + 1]
            target = [*base, *(node.module or "").split(".")] if node.module else base
            names = target[1:2] or [alias.name for alias in node.names]
            rooms |= set(names)
        assert not (isinstance(node, ast.ImportFrom) and not node.level and (node.module or "").startswith("generator"))
    return rooms


FILES = [path for path in sorted((HOUSE / "generator").rglob("*.py")) if path.name != "__init__.py" or path.parent.name != "generator"]  # fmt: skip


def test_all_rooms_are_on_a_floor() -> None:
    assert len(FILES) > 20
    assert {room_of(path) for path in FILES} == set(FLOOR)


@for_each(FILES)
def test_imports_run_one_way(path: Path) -> None:
    own = room_of(path)
    for room in imported_rooms(path):
        assert room == own or FLOOR[room] <= FLOOR[own], f"{own} imports {room}, which stands above it"


def imported_files(path: Path) -> set[Path]:
    """The files of this package that a file imports from, those for its types alone included."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.level:
            base = path.parents[node.level - 1].joinpath(*(node.module or "").split("."))
            for alias in node.names:
                places = [base / f"{alias.name}.py", base / alias.name / "__init__.py"]
                places += [base.parent / f"{base.name}.py", base / "__init__.py"]
                found |= {*[place for place in places if place.is_file()][:1]}
    return found


def test_what_a_file_imports_from_a_room_is_told_from_the_room(tmp_path: Path) -> None:
    """A room's own file is meant where no other has the name."""
    room = tmp_path / "room"
    (room / "inner").mkdir(parents=True)
    for name in ("__init__.py", "within.py", "beside.py", "inner/__init__.py"):
        (room / name).write_text("", encoding="utf-8")
    (tmp_path / "asks.py").write_text("from .room import within, inner, NAME", encoding="utf-8")
    (room / "beside.py").write_text("from .within import NAME", encoding="utf-8")
    files = {room / name for name in ("__init__.py", "within.py", "inner/__init__.py")}
    assert imported_files(tmp_path / "asks.py") == files
    assert imported_files(room / "beside.py") == {room / "within.py"}


def test_no_two_modules_import_each_other() -> None:
    """Nor do more of them in a circle, within a room either."""
    files = {path: imported_files(path) for path in FILES}
    assert sum(map(len, files.values())) > len(files)
    assert len([*TopologicalSorter(files).static_order()]) == len(files)


def test_nothing_but_the_plugin_knows_mkdocs() -> None:
    for path in FILES:
        if room_of(path) not in ("plugin", "settings"):
            assert not re.search(r"^\s*(from|import) mkdocs", path.read_text(encoding="utf-8"), re.MULTILINE), path


@pytest.mark.parametrize(
    "arguments", [["ruff", "check", "."], ["ruff", "format", "--check", "."], ["mypy"]], ids=["ruff", "format", "mypy"]
)
def test_the_tools_find_nothing(arguments: list[str]) -> None:
    done = subprocess.run([sys.executable, "-m", *arguments], cwd=HOUSE, capture_output=True, text=True, timeout=STUCK)
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_option_of_the_plugin_is_in_the_docs() -> None:
    hosting = (HOUSE / "docs/hosting.md").read_text(encoding="utf-8")
    names = [name for name, _ in Options._schema]
    assert names == ["procedures", "units", "paper", "threads", "offline", "cards", "tables", "jobs", "languages"]
    for name in names:
        assert re.search(rf"^\| [^|]*`{name}`", hosting, re.MULTILINE)


def test_every_command_is_in_the_readme() -> None:
    readme = (HOUSE / "README.md").read_text(encoding="utf-8")
    commands = {*cli.COMMANDS, *cli.PASSED_ON}
    assert len(commands) > 8
    for command in commands:
        assert f"bondwright {command}" in readme


def test_every_key_of_a_card_is_in_the_docs() -> None:
    from generator.model.jobsheet import Conditions, Fitting, JobSheet, Load, ShopSizes
    from generator.model.schema import (
        Across,
        Bore,
        Buy,
        Card,
        DrawingWords,
        Given,
        Holding,
        LabelWords,
        OnTheJob,
        Over,
        PlanLine,
        Row,
        Stepwise,
        Table,
    )

    authoring = (HOUSE / "docs/authoring.md").read_text(encoding="utf-8")
    from generator.model.own_shop import OwnEpoxy, OwnFiller, OwnHardener, OwnShop
    from generator.model.series import Joint, Measured, Published, TestSeries, Trusted

    jobs = (OnTheJob, PlanLine, Holding, Bore, Buy, JobSheet, Conditions, Fitting, Load, ShopSizes)
    for model in (
        Card,
        Given,
        Stepwise,
        DrawingWords,
        LabelWords,
        Table,
        Over,
        Across,
        Row,
        *jobs,
        TestSeries,
        Joint,
        Measured,
        Published,
        Trusted,
        OwnShop,
        OwnEpoxy,
        OwnHardener,
        OwnFiller,
    ):
        for key in model.model_fields:
            assert f"`{key}`" in authoring, key


def test_what_the_readme_promises_is_true(library: object) -> None:
    from generator.model.library import Library

    assert isinstance(library, Library)
    readme = (HOUSE / "README.md").read_text(encoding="utf-8")
    assert f"sizes for {len(list(library.threads()))} threads" in readme
    assert {14: "fourteen"}[len(library.cards)] + " cards" in readme


def test_dependencies_are_ranges_and_the_constraints_name_no_address() -> None:
    project = tomllib.loads((HOUSE / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    for requirement in wanted:
        assert re.fullmatch(r"[A-Za-z0-9-]+>=[\d.]+,<\d+", requirement), requirement
    lines = (HOUSE / ".ci/constraints.txt").read_text(encoding="utf-8").splitlines()
    assert all(re.fullmatch(r"[A-Za-z0-9_.-]+==[\w.]+", line) for line in lines)
    held = {re.split("==", line)[0].lower().replace("_", "-") for line in lines}
    for requirement in wanted:
        assert re.split("[<>=]", requirement)[0].lower() in held


def test_ci_runs_the_readmes_own_test_command() -> None:
    readme = (HOUSE / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^python3 -m venv .*pytest$", readme, re.MULTILINE)
    assert len(commands) == 1
    assert "grep -m1 '^python3 -m venv .*pytest$' README.md" in (HOUSE / ".ci/run").read_text(encoding="utf-8")


def test_no_file_names_another_machine_or_place() -> None:
    tracked = [path for folder in ("generator", "procedures", "docs", "tests") for path in (HOUSE / folder).rglob("*")]
    forbidden = re.compile(r"/(work|home|root)/|\.\./shared|" + "pypi" + r"\.org|" + "npmjs" + r"\.", re.IGNORECASE)
    for path in tracked:
        if path.suffix in {".py", ".yaml", ".md", ".j2", ".css", ".js"} and path.name != "test_house.py":
            found = forbidden.search(path.read_text(encoding="utf-8"))
            assert not found, f"{path}: {found}"


def test_only_one_style_sheet_and_one_script_know_the_theme() -> None:
    """So the pages look and hide alike in any other; a scheme of colours is the one thing that is asked of a theme."""
    known = re.compile(r"\bmd-(?!color-scheme)[a-z_-]+")
    for path in [*(HOUSE / "docs/assets").glob("*.[cj]s*"), *(HOUSE / "generator/templates").glob("*.j2")]:
        assert path.stem == "material" or not known.findall(path.read_text(encoding="utf-8")), path.name
