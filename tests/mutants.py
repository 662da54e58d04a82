"""Mutants of the YAML files, made by their structure: one part taken out, doubled, moved, or written as something else.

Whatever is written there, `check` answers with faults where they belong, soon and in little memory, and what it lets pass is
rendered. A small sample runs with the tests; `python tests/mutants.py 1000 7-56` tries 1000 on each of the seeds 7 to 56 and
prints figures seed by seed, so that ranges of seeds add up, with a third word in this many minutes at most.

Only what a mutant changes is read, checked and worked anew: the file itself, and of what takes from it a sheet that may show
it; what seems wrong then is checked whole. Those that pass are rendered several on a page, as long as none changes what
another one does, and each alone where that fails. Of 210 tried so and by a fresh check of everything too, 209 were answered
alike, line for line, and with one a sheet that had not been looked at told more.

Of 10,261 tried in a row before these were rendered together, each by itself at 39 ms, 8,791 were refused where it belongs,
and 1,470 passed and were rendered. The longest took 1.6 s, in 235 MB at most. Of 5,000 on the seeds 40001 to 40005 two were
wrong: a curve along a choice, which no page could draw, and a fault that stood at a letter within another word.

Of 1,057,036 on the seeds 60001 to 60011, 71001 to 71006, 72001 to 72002, 73001 to 73004, 74001 to 74002 and 75001 to 75029,
most of them while code was changed, 41 were wrong, and none of the last 160,000. Five could not be checked or rendered:
marks in a caution's sign, cases of a drawing's texts that lead back to themselves, half a condition in a text put into a
turn, a designer's word without a letter, and an empty list of shared names. Four times a plan took its whole budget, of
which this judge thought too little. A constant that two rows give was taken without a word. The others were told in the
wrong place, or much too often, as what a shared step names and is not there was at every card that takes it, or seemed so
to this judge alone. All are mended since: fourteen kinds made again by hand are answered where it belongs, with every sheet
checked, and of 92 parts emptied and 24 inputs renamed, one by one, nothing was told in a wrong place. The longest took 5.1
s with its plan, in 341 MB at most where six seeds ran in a row; since a plan gives up sooner, the longest of 40,000 took
1.2 s, in 291 MB. On a quiet machine 7 to 9 ms each, and three times that before this judge looked less often at what had
not changed.
"""

from __future__ import annotations

import gc
import json
import random
import re
import resource
import shutil
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any, ClassVar, TypeVar

from generator import check
from generator.check import load_checked
from generator.errors import Fault, Faults
from generator.formula import FORMULARY
from generator.jobs.faults import worked_sheet
from generator.kept import Kept, Origins
from generator.model import library as reading
from generator.model.library import Library, Reader
from generator.model.yaml_text import Document, read_document
from generator.pages.options import SiteOptions
from generator.pages.pulled import PulledPage
from generator.pages.site import card_parts, environment, job_files, site_files, table_files

HOUSE = Path(__file__).parents[1]
SECONDS, MEGABYTES = 2.0, 500
PLANNING = (
    4.0  # besides, of a job sheet: its plan is looked for as far as its budget lets it, on a busy machine so long
)
OF_SHEETS = ("check cards/", "check tables/", "write ", "work ")  # what is kept of each
TOGETHER = 24  # as many mutants at most are rendered on one page
T = TypeVar("T")
Path_ = tuple[Any, ...]
# What people and machines write where something else belongs: units, ends of ranges, names, signs, shapes.
TEXTS = (
    "", "0", "-1", "1", "1e9", "nan", "inf", "true", "null", "~", "0 mm", "-5 mm", "9999999999 mm", "1/0 in", "3 1/2 in",
    "1 kg", "20 degC", "400 degC", "999999999:1 by volume", "2:1 by weight", "9999-12-31", "2027-02-30", "M8", "M7", "F_w",
    "D_o", "t_l", "{D_o}", "{D_o", "{thread}", "[t_m > 0: a | b]", "[t_m", "]", "x" * 300, "y " * 1500, "&lt;b>", "=1+1",
    "\u202e", "\u00a0", "\U0001f527", "../../x", "con", "common-practice", "12,5 mm", "1.000,5 mm", "700", "100 %", "-0 s",
)  # fmt: skip
SHAPES: tuple[Any, ...] = ([], {}, [[]], {"a": "b"}, ["x"] * 300, [{}] * 3, {"x": {"y": {"z": "1"}}})


def inside(part: Any) -> Iterable[tuple[Any, Any]]:
    """The parts of a part, by key or number."""
    return part.items() if isinstance(part, dict) else enumerate(part) if isinstance(part, list) else ()


def paths(data: Any, path: Path_ = ()) -> list[Path_]:
    """Every part of a file."""
    return [*([path] if path else []), *(one for key, part in inside(data) for one in paths(part, (*path, key)))]


def meet(one: Path_, other: Path_) -> bool:
    """Whether one path leads to the other's end, or both to ends in one list, where a change may move what follows."""
    last = min(len(one), len(other)) - 1
    return one[:last] == other[:last] and (one[last] == other[last] or isinstance(one[last], int))


def part_at(data: Any, path: Path_) -> Any:
    for key in path:
        data = data[key]
    return data


@dataclass
class Spoilt:
    """A file's content with parts changed: what was done, and the paths that faults may well stand at."""

    data: Any
    done: list[tuple[str, Path_, Any]] = field(default_factory=list)
    places: list[Path_] = field(default_factory=list)
    touched: list[Path_] = field(default_factory=list)  # what was changed, and what came by that
    names: set[str] = field(default_factory=set)  # of what was changed or taken away

    def spoil(self, chance: random.Random, all_paths: list[Path_]) -> None:
        """Change one part."""
        path = chance.choice(all_paths)
        way = chance.choice(("text", "text", "shape", "gone", "key", "twice", "other"))
        with_what = {
            "text": TEXTS,
            "shape": SHAPES,
            "key": TEXTS,
            "other": [part_at(self.data, chance.choice(all_paths))],  # what stands somewhere else in the same file
        }
        self.do(way, path, chance.choice(with_what.get(way, [None])))

    def do(self, way: str, path: Path_, what: Any) -> None:
        """Change the part at a path in some way."""
        holder, key, places = self.own_holder(path), path[-1], [path]
        if way == "gone":
            del holder[key]
            places = []
        elif way not in ("key", "twice"):
            holder[key] = what
        elif isinstance(holder, list):
            holder.insert(key, holder[key])
            places.append((*path[:-1], key + 1))
        else:
            name = what if way == "key" else f"{key}-2"
            holder[name] = holder.pop(key) if way == "key" else holder[key]
            places.append((*path[:-1], name))
        self.done.append((way, path, what))
        self.touched += [path, *places]
        self.places += [*places, path[:-1]]
        self.names |= {str(key) for place in (path, *places) for key in place[1:]}

    def own_holder(self, path: Path_) -> Any:
        """What holds the part of a path, with no part on the way shared with another mutant."""
        self.data = part = self.data.copy()
        for key in path[:-1]:
            part[key] = part = part[key].copy()
        return part

    def clashes(self, other: Spoilt) -> bool:
        """Whether one of both changes something in what the other one does, or beside it in the same list."""
        return any(meet(one, two) for one in self.touched for two in other.touched)

    def __str__(self) -> str:
        return "; ".join(f"{way} at {'/'.join(map(str, path))}" for way, path, _ in self.done)


PLAIN = re.compile(r"[A-Za-z0-9](?:[\w .;%/+()'-]*[\w.%)])?")


class Writing:
    """A file's content as YAML, much as people write it: where each part stands is known without reading it. Of parts
    that are `known` from another writing the lines are taken over, as they stand there."""

    def __init__(self, data: Any, known: Mapping[tuple[int, str], list[str]] | None = None) -> None:
        self.lines: list[str] = []
        self.at: dict[Path_, range] = {}
        self.known = known or {}
        self.blocks: dict[tuple[int, str], list[str]] = {}
        self.write(data, (), "", "")
        self.text = "\n".join([*self.lines, ""])

    def write(self, part: Any, path: Path_, lead: str, indent: str) -> None:
        """Write a part after what stands before it on its line."""
        first = len(self.lines) + 1
        if isinstance(part, (dict, list)) and part and not (path and flat(part)):
            self.lines += [lead] if path else []
            begun = len(self.lines)
            if block := self.known.get((id(part), indent)):
                self.lines += block
            else:
                self.write_inside(part, path, indent)
                self.blocks[id(part), indent] = self.lines[begun:]
        elif isinstance(part, str) and len(part) > 100 and part.isprintable() and part == " ".join(part.split()):
            self.lines.append(f"{lead} >-")
            self.lines += [f"{indent}{line}" for line in folded(part)]
        else:
            self.lines.append(f"{lead} {flow(part)}".rstrip())
        self.at[path] = range(first, len(self.lines) + 1)

    def write_inside(self, part: Any, path: Path_, indent: str) -> None:
        """Write what stands in a mapping or a list."""
        for key, one in inside(part):
            name = flow(key) if isinstance(part, dict) else ""
            if len(name) > 100:
                self.lines.append(f"{indent}? {name}")
                name = ""
            self.write(one, (*path, key), f"{indent}{name}{':' if isinstance(part, dict) else '-'}", f"{indent}  ")

    def stands(self, path: Path_) -> range:
        """The lines of a part, or of the nearest around it that has lines of its own."""
        while path not in self.at:
            path = path[:-1]
        return self.at[path]


def flat(part: Any) -> bool:
    """Whether it is written in one line."""
    texts = [text for key, one in inside(part) for text in (key, one) if isinstance(text, str)]
    return sum(map(len, texts)) < 100 and all(isinstance(one, str) for _, one in inside(part))


def flow(part: Any) -> str:
    """A part in one line."""
    if isinstance(part, dict):
        return f"{{{', '.join(f'{flow(key)}: {flow(one)}' for key, one in part.items())}}}"
    if isinstance(part, list):
        return f"[{', '.join(map(flow, part))}]"
    return part if PLAIN.fullmatch(part) else json.dumps(part, ensure_ascii=False)


def folded(text: str) -> Iterator[str]:
    """A long text in lines."""
    line = ""
    for word in text.split(" "):
        if len(line) + len(word) > 110 and line:
            yield line
            line = ""
        line = f"{line} {word}".strip(" ")
    yield line


class Settled(Kept):
    """What the unspoilt files gave, which stays; of what a mutant changes, only what is `asked` for is made anew."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: set[str] | None = None  # everything, until the unspoilt files are settled
        self.now: dict[str, tuple[Hashable, Any]] = {}

    def ask(self, names: Iterable[str]) -> None:
        """Have what is made of these files made anew for the next mutant."""
        self.asked = {made for one in names for made in (f"check {one}.yaml", f"write {one}", f"work {one}")}
        self.now = {}

    def taken(self, name: str) -> bool:
        """Whether something is made anew where its files changed: all but of other sheets."""
        return self.asked is None or name in self.asked or not name.startswith(OF_SHEETS)

    def once(self, name: str, key: Hashable, make: Callable[[], T]) -> T:
        if self.asked is None or name not in self._held:
            return super().once(name, key, make)
        held = self.now.get(name) or self._held[name]
        if held[0] != key and self.taken(name):
            held = self.now[name] = (key, make())
        value: T = held[1]
        return value

    def faults(self, name: str, key: Hashable, find: Callable[[], Iterable[Fault]]) -> list[Fault]:
        if self.asked is None:
            return super().faults(name, key, find)
        return [*find()] if self._held[name] != (key, None) and self.taken(name) else []


# What stands under several sheets.
ALIKE = ("inputs.yaml", "shared.yaml")


class Quick(Reader):
    """Reads what is changed, and what is read together with that; the rest is as it was read once."""

    held: ClassVar[
        dict[str, tuple[Document, Any, Any]]
    ] = {}  # a file, what it says, and the same with constants put in
    changed: frozenset[str] = frozenset()
    names: ClassVar[dict[str, list[str]]] = {}  # of the files in a folder
    constants: ClassVar[list[str]] = []  # the tables of the unspoilt files that hold some

    def read(self, name: str, model: type[Any]) -> Any:
        held = self.held.get(name)
        if held is None or name in self.changed or (self.all_alike and "givens" in model.model_fields):
            sound = super().read(name, model)
            if not self.changed:
                self.held[name] = self.library.documents[name], with_own_givens(sound), sound
            return sound
        self.library.documents[name], bare, whole = held
        return whole if bare is whole or not self.anew else with_own_givens(bare)

    @cached_property
    def all_alike(self) -> bool:
        """Whether what stands under several sheets is changed."""
        return not self.changed.isdisjoint(ALIKE)

    @cached_property
    def anew(self) -> bool:
        """Whether there may be other constants to put in, or other names of threads, or other inputs: asked for when all
        data are read."""
        tables = {"threads", *self.constants, *self.library.constants}
        return self.all_alike or not self.changed.isdisjoint(f"data/{table}.yaml" for table in tables)

    def put_in_constants(self) -> None:
        library = self.library
        if not self.changed:
            Quick.constants = [*library.constants]
        if not self.changed or self.anew:
            return super().put_in_constants()
        kept = library.inputs, library.cards, library.reference
        library.inputs = {}
        library.cards = {one: card for one, card in library.cards.items() if f"cards/{one}.yaml" in self.changed}
        library.reference = {
            one: table for one, table in library.reference.items() if f"tables/{one}.yaml" in self.changed
        }
        if library.cards or library.reference:
            super().put_in_constants()
        library.inputs, library.cards, library.reference = kept
        return None

    def pages(self, folder: str) -> list[str]:
        return self.files(folder) if self.changed else super().pages(folder)

    def files(self, folder: str) -> list[str]:
        if not self.changed or folder not in self.names:
            self.names[folder] = super().files(folder)
        return self.names[folder]

    def ending_faults(self) -> Iterator[Fault]:
        return super().ending_faults() if not self.changed else iter(())


def with_own_givens(sound: Any) -> Any:
    """What was read, as constants are put into its givens in place."""
    givens = getattr(sound, "givens", None)
    return sound.model_copy(update={"givens": {**givens}}) if givens else sound


@dataclass
class Tried:
    """What came of one mutant. `wrong` is what must not be."""

    outcome: str
    seconds: float
    wrong: str = ""


@dataclass
class Passed:
    """A mutant of a file that passed, and a page that may show it."""

    name: str
    mutant: Spoilt
    page: str

    @property
    def whole(self) -> bool:
        """Whether it is no sheet's own, and what shows several is made of it."""
        return self.name.partition("/")[0] not in ("cards", "tables", "jobs", "data", "drawings")

    def beside(self, others: Iterable[Passed]) -> bool:
        """Whether it may stand in a site together with others."""
        return not any(one.name == self.name and one.mutant.clashes(self.mutant) for one in others)


class House:
    """A folder of procedures, sound and checked once, of which one file after another is spoilt."""

    def __init__(self, root: Path) -> None:
        self.root, self.kept = root, Settled()
        Quick.held, Quick.names, Quick.changed = {}, {}, frozenset()
        self.library = load_checked(root, self.kept)
        site_files(self.library, SiteOptions(), self.kept)
        self.files = {
            path.relative_to(root).as_posix(): read_document(path, path.name).data
            for path in sorted(root.rglob("*.yaml"))
        }
        self.texts = {name: (root / name).read_text(encoding="utf-8") for name in self.files}
        self.paths = {name: paths(data) for name, data in self.files.items()}
        self.known = {key: block for data in self.files.values() for key, block in Writing(data).blocks.items()}
        self.sheets = [name.removesuffix(".yaml") for name, _ in self.library.sheets()]
        self.job_sheets = [f"jobs/{name}" for name in self.library.job_sheets]
        self.words = {name: {*re.findall(r"[\w-]+", self.texts[f"{name}.yaml"])} for name in self.sheets}
        self.passed: list[Passed] = []
        gc.collect()
        gc.freeze()

    def one_of(self, chance: random.Random) -> str:
        """A file; a job sheet, whose plan takes a second to make, a fifth as often as others."""
        name = chance.choice([*self.files])
        return name if not name.startswith("jobs/") or not chance.randrange(5) else self.one_of(chance)

    def spoilt(self, name: str, chance: random.Random) -> Spoilt:
        """A mutant of a file."""
        mutant = Spoilt(self.files[name])
        mutant.spoil(chance, self.paths[name])
        if not chance.randrange(3) and (left := paths(mutant.data)):
            mutant.spoil(chance, left)
        return mutant

    def takers(self, name: str, mutant: Spoilt, chance: random.Random) -> list[str]:
        """What is checked and rendered for a changed file: a sheet itself; of what others take from one that may, now and
        then a second, whichever it is, and seldom a job sheet."""
        stem = name.removesuffix(".yaml")
        if stem in (*self.sheets, *self.job_sheets):
            return [stem]
        likely = [one for one in self.sheets if mutant.names & self.words[one]] or self.sheets
        few = [chance.choice(likely), *([] if chance.randrange(10) else [chance.choice(self.sheets)])]
        return few if chance.randrange(400) or not self.job_sheets else [*few, chance.choice(self.job_sheets)]

    def tried(self, name: str, mutant: Spoilt, chance: random.Random) -> Tried:
        """Check the folder with a spoilt file; what passes waits to be rendered."""
        writing = Writing(mutant.data, self.known)
        takers = self.takers(name, mutant, chance)
        with self.changed({name: writing}):
            self.kept.ask(takers)
            begun = time.process_time()
            try:
                load_checked(self.root, self.kept)
                outcome, wrong = "passes", ""
                self.passed.append(Passed(name, mutant, takers[0]))
            except Faults as error:
                outcome, wrong = "faults", "\n".join(self.misplaced(error.faults, name, mutant, writing))
            except Exception:  # the very thing that is looked for
                outcome, wrong = "traceback", traceback.format_exc()
            seconds = time.process_time() - begun
            wrong = wrong or took(seconds, takers)
            return Tried(outcome, seconds, wrong and self.wrong_in_all(wrong, name, mutant, writing))

    @contextmanager
    def changed(self, writings: Mapping[str, Writing]) -> Iterator[None]:
        """Have the folder hold these in place of its own files."""
        for name, writing in writings.items():
            (self.root / name).write_text(writing.text, encoding="utf-8")
        Quick.changed = frozenset(writings)
        try:
            yield
        finally:
            for name in writings:
                (self.root / name).write_text(self.texts[name], encoding="utf-8")

    def wrong_in_all(self, wrong: str, name: str, mutant: Spoilt, writing: Writing) -> str:
        """What stays wrong of it where all sheets are checked: others may tell before of what has these fail."""
        self.kept.ask([*self.sheets, *self.job_sheets])
        try:
            load_checked(self.root, self.kept)
        except Faults as error:
            return wrong if wrong.endswith(" s") else "\n".join(self.misplaced(error.faults, name, mutant, writing))
        except Exception:
            return traceback.format_exc()
        return wrong

    def rendered(self, chance: random.Random) -> Iterator[str]:
        """What is wrong where the mutants that passed are rendered: several on one page at a time, as long as none changes
        what another one does, and where that fails each half of them."""
        waiting: dict[str, list[list[Passed]]] = {}
        for one in self.passed:
            groups = waiting.setdefault("" if one.whole else one.page, [])
            fits = (group for group in groups if len(group) < TOGETHER and one.beside(group))
            next(fits, groups.append([]) or groups[-1]).append(one)
        self.passed = []
        todo = [group for groups in waiting.values() for group in groups if group]
        while todo:
            group = todo.pop()
            wrong = self.render(group, chance)
            if wrong and len(group) > 1:
                todo += [group[::2], group[1::2]]
            elif wrong:
                yield f"{group[0].name}, {group[0].mutant}: {wrong}"

    def render(self, group: list[Passed], chance: random.Random) -> str:
        """What is wrong with the page of a group; now and then, and where it is not for sheets, with all that shows
        several."""
        merged: dict[str, Spoilt] = {}
        for one in group:
            for step in one.mutant.done:
                merged.setdefault(one.name, Spoilt(self.files[one.name])).do(*step)
        with self.changed({name: Writing(mutant.data, self.known) for name, mutant in merged.items()}):
            self.kept.ask({one.page for one in group})
            begun = time.process_time()
            try:
                library = load_checked(self.root, self.kept)
                if group[0].whole or not chance.randrange(40):
                    site_files(library, SiteOptions(), self.kept)
                    return ""
                self.page(library, group[0].page)
            except Faults as error:
                return f"passed, and does not now: {error}"
            except Exception:
                return traceback.format_exc()
            return took(time.process_time() - begun, [group[0].page])

    def page(self, library: Library, name: str) -> None:
        """Render the page of a sheet."""
        env, options = environment(), SiteOptions()
        folder, stem = name.split("/")
        if folder == "cards":
            card_parts(env, library, stem, options, PulledPage(library, options))
        elif folder == "tables":
            table_files(env, library, stem, options)
        else:
            job_files(env, library, stem, options, worked_sheet(library, stem, self.kept, Origins(library)))

    def misplaced(self, faults: Iterable[Fault], name: str, mutant: Spoilt, writing: Writing) -> Iterator[str]:
        """Faults that stand neither in what was changed, or at what holds it, nor where it is asked for."""
        around = {path[:length] for path in mutant.places for length in range(len(path) + 1)}
        here = {place for path in mutant.places if path for place in writing.stands(path)}
        here |= {place + more for path in around for place in writing.stands(path)[:1] for more in (0, 1)}
        for fault in faults:
            file = fault.file.partition("/")[2]
            lines = (writing.text if file == name else self.texts.get(file, "")).split("\n")
            if file not in self.texts and (HOUSE / fault.file).is_file():
                continue  # a formula's own source, which a file may lack
            if not 1 <= fault.line <= len(lines):
                yield f"no such line: {fault}"
            elif not (file == name and fault.line in here) and not asks(lines[fault.line - 1], fault, mutant.names):
                yield f"not where it belongs: {fault}"


def asks(line: str, fault: Fault, names: set[str]) -> bool:
    """Whether what stands at a fault's place, or its key, is what the message speaks of, or a name that was changed. What
    cannot be worked any more is told at its symbol or at the mix, the drawing or the shared part that needs it, a sum at the total that it should give,
    and a bench side that is too long at the steps that can be shortened."""
    words = r"\d+\.\d|[\w-]+"  # a number may be told rounded
    before, at = line[: fault.column - 1], line[fault.column - 1 :]
    here = {*re.findall(words, at)[:1], *re.findall(r"([\w-]+): *$", before)}
    told = {*re.findall(words, fault.message)}
    taken = "like: " in line
    refused = "outside the range of this card" in fault.message and (at.lstrip('"')[:1].isdigit() or taken)
    asking = before.strip() in ("drawing:", "figure:") or taken
    worked = " shop: " in fault.message and (asking or here & {"mix", *FORMULARY.symbols})
    published = " is published as " in fault.message and taken
    summed = ("control total" in fault.message and "total" in here) or (
        "the bench side has" in fault.message and at.startswith("-")
    )
    return bool(here & (told | names) or worked or refused or published or summed)


def took(seconds: float, sheets: Iterable[str]) -> str:
    """How long it took, where that is too long for these."""
    planned = any(one.startswith("jobs/") for one in sheets)
    return "" if seconds < SECONDS + planned * PLANNING else f"{seconds:.1f} s"


@contextmanager
def quick() -> Iterator[None]:
    """Have the generator read and look again only at what is changed."""
    reader, units = reading.Reader, check.unit_faults
    seen: list[bool] = []

    def unit_faults(prove: bool) -> Iterator[Fault]:
        """Those of the formulas, of which no file says anything, so that they are asked for once."""
        return iter(()) if seen else units(seen.append(True) or prove)

    reading.Reader, check.unit_faults = Quick, unit_faults
    try:
        yield
    finally:
        reading.Reader, check.unit_faults = reader, units


@dataclass
class Figures:
    """What came of a run."""

    outcomes: Counter[str] = field(default_factory=Counter)
    files: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    longest: float = 0.0
    seconds: float = 0.0

    @property
    def megabytes(self) -> int:
        """The most memory that this process has had."""
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024

    def tell(self, wrong: str) -> None:
        """Take in and print what must not be."""
        self.wrong.append(wrong)
        print(wrong, end="\n\n", flush=True)

    def __str__(self) -> str:
        return (
            f"{self.outcomes.total()} mutants: {dict(self.outcomes)}, {len(self.wrong)} wrong, of {dict(self.files)};"
            f" {self.seconds:.0f} s in all, the longest {self.longest:.2f} s; at most {self.megabytes} MB"
        )


@contextmanager
def house(procedures: Path) -> Iterator[House]:
    """A copy of a folder that can be spoilt, in memory where that is to be had: it is written twice for each mutant."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder, quick():
        root = Path(folder) / "procedures"
        shutil.copytree(procedures, root, ignore=shutil.ignore_patterns("languages", "schema"))
        yield House(root)


def run(sound: House, count: int, seed: int, end: float = float("inf")) -> Figures:
    """Try so many mutants of a folder, or as many as can be tried until some time."""
    chance, figures, begun = random.Random(seed), Figures(), time.process_time()
    for _ in range(count):
        if time.monotonic() > end:
            break
        name = sound.one_of(chance)
        mutant = sound.spoilt(name, chance)
        found = sound.tried(name, mutant, chance)
        figures.outcomes[found.outcome] += 1
        figures.files[name.partition("/")[0]] += 1
        figures.longest = max(figures.longest, found.seconds)
        if found.wrong:
            figures.tell(f"{name}, {mutant}: {found.wrong}")
    for wrong in sound.rendered(chance):
        figures.tell(wrong)
    figures.seconds = time.process_time() - begun
    return figures


def main() -> None:
    """Try as many as asked for of each seed and print the figures."""
    count, seeds, minutes = (*sys.argv[1:], *("200", "1", "1e9")[len(sys.argv) - 1 :])
    first, _, last = seeds.partition("-")
    end, wrong = time.monotonic() + 60 * float(minutes), False
    gc.set_threshold(50_000)  # what is looked for then is rarely there
    with house(HOUSE / "procedures") as sound:
        for seed in range(int(first), int(last or first) + 1):
            figures = run(sound, int(count), seed, end)
            print(f"seed {seed}: {figures}", flush=True)
            wrong = wrong or bool(figures.wrong) or figures.megabytes > MEGABYTES
            if time.monotonic() > end:
                break
    sys.exit(wrong)


if __name__ == "__main__":
    main()
