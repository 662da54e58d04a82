"""Mutants of the YAML files, made by their structure: one part taken out, doubled, moved, or written as something else.

Whatever is written there, `check` answers with faults at lines that are there, soon and in little memory, and what it lets
pass is rendered. A small sample runs with the tests; `python tests/mutants.py 2000 7` tries 2000 on seed 7 and prints figures,
with a folder as a third word those of its files.
"""

from __future__ import annotations

import random
import resource
import shutil
import sys
import tempfile
import time
import traceback
from collections import Counter
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from generator.check import load_checked
from generator.errors import Faults
from generator.kept import Kept
from generator.model import library as reading
from generator.model.schema import parse
from generator.model.yaml_text import Document, read_document
from generator.pages.options import SiteOptions
from generator.pages.site import site_files

HOUSE = Path(__file__).parents[1]
SECONDS, MEGABYTES = 2.0, 500
# What people and machines write where something else belongs: units, ends of ranges, names, signs, shapes.
TEXTS = (
    "", "0", "-1", "1", "1e9", "nan", "inf", "true", "null", "~", "0 mm", "-5 mm", "9999999999 mm", "1/0 in", "3 1/2 in",
    "1 kg", "20 degC", "400 degC", "999999999:1 by volume", "2:1 by weight", "9999-12-31", "2027-02-30", "M8", "M7", "F_w",
    "D_o", "t_l", "{D_o}", "{D_o", "{thread}", "[t_m > 0: a | b]", "[t_m", "]", "x" * 300, "y " * 1500, "&lt;b>", "=1+1",
    "\u202e", "\u00a0", "\U0001f527", "../../x", "con", "common-practice", "12,5 mm", "1.000,5 mm", "700", "100 %", "-0 s",
)  # fmt: skip
SHAPES: tuple[Any, ...] = ([], {}, [[]], {"a": "b"}, ["x"] * 300, [{}] * 3, {"x": {"y": {"z": "1"}}})


def paths(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every part of a file."""
    inside = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [*([path] if path else []), *(one for key, part in inside for one in paths(part, (*path, key)))]


def mutated(data: Any, chance: random.Random) -> tuple[Any, str]:
    """A copy with one part changed, and what was done where."""
    data = deepcopy(data)
    all_paths = paths(data)
    if not all_paths:
        return data, "nothing is left to change"
    path = chance.choice(all_paths)
    holder = data
    for key in path[:-1]:
        holder = holder[key]
    way, key = chance.choice(("text", "text", "shape", "gone", "key", "twice", "other")), path[-1]
    if way == "text":
        holder[key] = chance.choice(TEXTS)
    elif way == "shape":
        holder[key] = deepcopy(chance.choice(SHAPES))
    elif way == "gone":
        del holder[key]
    elif way == "other":  # what stands somewhere else in the same file
        other = data
        for step in chance.choice(all_paths):
            other = other[step]
        holder[key] = deepcopy(other)
    elif isinstance(holder, list):
        holder.insert(key, deepcopy(holder[key]))
    elif way == "key":
        holder[chance.choice(TEXTS)] = holder.pop(key)
    else:
        holder[f"{key}-2"] = deepcopy(holder[key])
    return data, f"{way} at {'/'.join(map(str, path))}"


@dataclass
class Tried:
    """What came of one mutant. `wrong` is what must not be."""

    outcome: str
    seconds: float
    wrong: str = ""


def typed_once() -> None:
    """Keep what a file means by its text, so that only the one that is changed is typed anew."""
    kept: dict[tuple[type[Any], str], Any] = {}

    def typed(model: type[Any], document: Document) -> Any:
        key = (model, document.text)
        if key not in kept:
            sound = parse(model, document)
            if len(kept) > 1000:
                kept.clear()
            kept[key] = sound
        return kept[key]

    reading.parse = typed


def few(root: Path, changed: Path, chance: random.Random) -> SiteOptions:
    """What is rendered for a changed file: of a sheet all, where what is the same is kept; of what all sheets share, one
    of each kind."""
    if changed.parent.name in ("cards", "tables", "jobs"):
        return SiteOptions()
    one = {kind: (chance.choice(sorted((root / kind).glob("*.yaml"))).stem,) for kind in ("cards", "tables", "jobs")}
    return SiteOptions(**one)


def tried(root: Path, kept: Kept, options: SiteOptions) -> Tried:
    """Check a folder, and render what passes."""
    begun = time.process_time()
    try:
        library = load_checked(root, kept)
    except Faults as error:
        seconds = time.process_time() - begun
        for fault in error.faults:
            # A formula's own source, which a file may lack, stands in the project.
            path = next(
                (folder / fault.file for folder in (root.parent, HOUSE) if (folder / fault.file).is_file()), root
            )
            lines = path.read_text(encoding="utf-8").count("\n") + 1 if path.is_file() else 1
            if not 1 <= fault.line <= lines:
                return Tried("faults", seconds, f"no such line: {fault}")
        return Tried("faults", seconds, "" if seconds < SECONDS else f"{seconds:.1f} s")
    except Exception:  # the very thing that is looked for
        return Tried("traceback", time.process_time() - begun, traceback.format_exc())
    seconds = time.process_time() - begun
    try:
        site_files(library, options, kept)
    except Exception:
        return Tried("not rendered", seconds, traceback.format_exc())
    return Tried("passes", seconds, "" if seconds < SECONDS else f"{seconds:.1f} s")


def run(house: Path, count: int, seed: int, *, sheets: bool = False) -> tuple[Counter[str], list[str], float]:
    """Try so many mutants of a folder: outcomes, what was wrong, and the longest time. With `sheets` only of what is a
    page of its own; a change in the data has every page worked again, which takes its time."""
    chance, kept = random.Random(seed), Kept()
    outcomes: Counter[str] = Counter()
    wrong: list[str] = []
    longest = 0.0
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "procedures"
        shutil.copytree(house, root)
        site_files(load_checked(root, kept), SiteOptions(), kept)
        files = sorted(
            path for path in root.rglob("*.yaml") if not sheets or path.parent.name in ("cards", "tables", "jobs")
        )
        for _ in range(count):
            path = chance.choice(files)
            before = path.read_text(encoding="utf-8")
            data, what = read_document(path, path.name).data, ""
            for _ in range(chance.choice((1, 1, 2))):
                data, how = mutated(data, chance)
                what += f"{how}; "
            path.write_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=1000), encoding="utf-8")
            found = tried(root, kept, few(root, path, chance))
            path.write_text(before, encoding="utf-8")
            outcomes[found.outcome] += 1
            longest = max(longest, found.seconds)
            if found.wrong:
                wrong.append(f"{path.relative_to(root)}, {what}: {found.wrong}")
    return outcomes, wrong, longest


def main() -> None:
    """Try as many as asked for and print the figures."""
    count, seed = (int(number) for number in (*sys.argv[1:3], "200", "1")[:2])
    typed_once()
    begun = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    outcomes, wrong, longest = run(Path((*sys.argv, *("procedures",) * 3)[3]), count, seed)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print("\n\n".join(wrong))
    print(
        f"{count} mutants, seed {seed}: {dict(outcomes)}; longest {longest:.2f} s; memory {begun:.0f} to {most:.0f} MB"
    )
    sys.exit(bool(wrong) or most > MEGABYTES)


if __name__ == "__main__":
    main()
