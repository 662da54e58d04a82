"""Mutants of the YAML files, made by their structure: one part taken out, doubled, moved, or written as something else.

Whatever is written there, `check` answers with faults where they belong, soon and in little memory, and what it lets pass is
rendered. A small sample runs with the tests; `python tests/mutants.py 2000 7` tries 2000 on seed 7 and prints figures, with a
third word in this many minutes at most. Only what a mutant changes is read, checked and worked anew: the file itself, and of
what takes from it a few sheets by chance; what seems wrong then is checked whole.

Of 10,261 tried so in a row, on seed 20302, 8,791 were refused, each where it belongs, and 1,470 passed and were rendered. They
took 39 ms each, the longest 1.6 s, in 235 MB at most, so that a million would take eleven hours.
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
from collections.abc import Callable, Hashable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
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


def part_at(data: Any, path: Path_) -> Any:
    for key in path:
        data = data[key]
    return data


@dataclass
class Spoilt:
    """A file's content with parts changed: what was done, and the paths that faults may well stand at."""

    data: Any
    what: str = ""
    places: list[Path_] = field(default_factory=list)
    names: set[str] = field(default_factory=set)  # of what was changed or taken away

    def spoil(self, chance: random.Random, all_paths: list[Path_]) -> None:
        """Change one part."""
        path = chance.choice(all_paths)
        way, key = chance.choice(("text", "text", "shape", "gone", "key", "twice", "other")), path[-1]
        other = part_at(self.data, chance.choice(all_paths))  # what stands somewhere else in the same file
        holder = self.own_holder(path)
        places = [path]
        if way == "text":
            holder[key] = chance.choice(TEXTS)
        elif way == "shape":
            holder[key] = chance.choice(SHAPES)
        elif way == "gone":
            del holder[key]
            places = []
        elif way == "other":
            holder[key] = other
        elif isinstance(holder, list):
            holder.insert(key, holder[key])
            places.append((*path[:-1], key + 1))
        else:
            name = chance.choice(TEXTS) if way == "key" else f"{key}-2"
            holder[name] = holder.pop(key) if way == "key" else holder[key]
            places.append((*path[:-1], name))
        self.what += f"{way} at {'/'.join(map(str, path))}; "
        self.places += [*places, path[:-1]]
        self.names |= {str(key) for place in (path, *places) for key in place[1:]}

    def own_holder(self, path: Path_) -> Any:
        """What holds the part of a path, with no part on the way shared with another mutant."""
        self.data = part = self.data.copy()
        for key in path[:-1]:
            part[key] = part = part[key].copy()
        return part


PLAIN = re.compile(r"[A-Za-z0-9](?:[\w .;%/+()'-]*[\w.%)])?")


class Writing:
    """A file's content as YAML, much as people write it: where each part stands is known without reading it."""

    def __init__(self, data: Any) -> None:
        self.lines: list[str] = []
        self.at: dict[Path_, range] = {}
        self.write(data, (), "", "")
        self.text = "\n".join([*self.lines, ""])

    def write(self, part: Any, path: Path_, lead: str, indent: str) -> None:
        """Write a part after what stands before it on its line."""
        first = len(self.lines) + 1
        if isinstance(part, (dict, list)) and part and not (path and flat(part)):
            self.lines += [lead] if path else []
            for key, one in inside(part):
                name = flow(key) if isinstance(part, dict) else ""
                if len(name) > 100:
                    self.lines.append(f"{indent}? {name}")
                    name = ""
                self.write(one, (*path, key), f"{indent}{name}{':' if isinstance(part, dict) else '-'}", f"{indent}  ")
        elif isinstance(part, str) and len(part) > 100 and part.isprintable() and part == " ".join(part.split()):
            self.lines.append(f"{lead} >-")
            self.lines += [f"{indent}{line}" for line in folded(part)]
        else:
            self.lines.append(f"{lead} {flow(part)}".rstrip())
        self.at[path] = range(first, len(self.lines) + 1)

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
        made = {made for one in names for made in (f"check {one}.yaml", f"write {one}", f"work {one}")}
        self.asked, self.now = {*made, "check cards for job sheets"}, {}

    def once(self, name: str, key: Hashable, make: Callable[[], T]) -> T:
        if self.asked is None or name not in self._held:
            return super().once(name, key, make)
        held = self.now.get(name) or self._held[name]
        if held[0] != key and name in self.asked:
            held = self.now[name] = (key, make())
        value: T = held[1]
        return value

    def faults(self, name: str, key: Hashable, find: Callable[[], Iterable[Fault]]) -> list[Fault]:
        if self.asked is None:
            return super().faults(name, key, find)
        return [*find()] if self._held[name] != (key, None) and name in self.asked else []


class Quick(Reader):
    """Reads what is changed, and what is read together with that; the rest is as it was read once."""

    held: ClassVar[
        dict[str, tuple[Document, Any, Any]]
    ] = {}  # a file, what it says, and the same with constants put in
    changed = ""

    def read(self, name: str, model: type[Any]) -> Any:
        together = self.changed == "inputs.yaml" and "givens" in model.model_fields
        if name == self.changed or together or name not in self.held:
            sound = super().read(name, model)
            if not self.changed:
                self.held[name] = self.library.documents[name], with_own_givens(sound), sound
            return sound
        self.library.documents[name], bare, whole = self.held[name]
        return with_own_givens(bare) if self.anew else whole

    @property
    def anew(self) -> bool:
        """Whether there may be other constants to put in, or other inputs."""
        return self.changed.startswith(("data/", "inputs"))

    def put_in_constants(self) -> None:
        library = self.library
        if not self.changed or self.anew:
            return super().put_in_constants()
        kept, name = (library.inputs, library.cards, library.reference), self.changed.removesuffix(".yaml")
        library.inputs = {}
        library.cards = {one: card for one, card in library.cards.items() if name == f"cards/{one}"}
        library.reference = {one: table for one, table in library.reference.items() if name == f"tables/{one}"}
        super().put_in_constants()
        library.inputs, library.cards, library.reference = kept
        return None

    def pages(self, folder: str) -> list[str]:
        return self.files(folder) if self.changed else super().pages(folder)

    def files(self, folder: str) -> list[str]:
        found = [name.split("/")[1] for name in self.held if name.startswith(f"{folder}/")]
        return sorted(one.removesuffix(".yaml") for one in found) if self.changed else super().files(folder)

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


class House:
    """A folder of procedures, sound and checked once, of which one file after another is spoilt."""

    def __init__(self, root: Path) -> None:
        self.root, self.kept = root, Settled()
        Quick.held, Quick.changed = {}, ""
        self.library = load_checked(root, self.kept)
        self.files = {
            path.relative_to(root).as_posix(): read_document(path, path.name).data
            for path in sorted(root.rglob("*.yaml"))
        }
        self.texts = {name: (root / name).read_text(encoding="utf-8") for name in self.files}
        self.paths = {name: paths(data) for name, data in self.files.items()}
        self.sheets = [name.removesuffix(".yaml") for name, _ in self.library.sheets()]
        self.jobs = [f"jobs/{name}" for name in self.library.job_sheets]
        self.words = {name: {*re.findall(r"[\w-]+", self.texts[f"{name}.yaml"])} for name in self.sheets}
        gc.collect()
        gc.freeze()

    def spoilt(self, name: str, chance: random.Random) -> Spoilt:
        """A mutant of a file."""
        mutant = Spoilt(self.files[name])
        mutant.spoil(chance, self.paths[name])
        if not chance.randrange(3) and (left := paths(mutant.data)):
            mutant.spoil(chance, left)
        return mutant

    def takers(self, name: str, mutant: Spoilt, chance: random.Random) -> list[str]:
        """What is checked and rendered for a changed file: a sheet itself; of what others take from a few that may, and
        now and then a job sheet."""
        stem = name.removesuffix(".yaml")
        if stem in (*self.sheets, *self.jobs):
            return [stem]
        likely = [one for one in self.sheets if mutant.names & self.words[one]] or self.sheets
        few = [chance.choice(likely), chance.choice(self.sheets)]
        return few if chance.randrange(100) or not self.jobs else [*few, chance.choice(self.jobs)]

    def tried(self, name: str, mutant: Spoilt, chance: random.Random) -> Tried:
        """Check the folder with a spoilt file, and render what passes."""
        writing = Writing(mutant.data)
        (self.root / name).write_text(writing.text, encoding="utf-8")
        Quick.changed = name
        takers = self.takers(name, mutant, chance)
        self.kept.ask(takers)
        begun = time.process_time()
        try:
            library = load_checked(self.root, self.kept)
            outcome, seconds = "passes", time.process_time() - begun
            whole = self.render(library, name, takers[0], chance)
            wrong = took(max(seconds, 0 if whole else time.process_time() - begun - seconds))
        except Faults as error:
            outcome, seconds = "faults", time.process_time() - begun
            wrong = "\n".join(self.misplaced(error.faults, name, mutant, writing)) or took(seconds)
        except Exception:  # the very thing that is looked for
            outcome, seconds, wrong = "traceback", time.process_time() - begun, traceback.format_exc()
        return Tried(outcome, seconds, wrong and self.wrong_in_all(wrong, name, mutant, writing))

    def wrong_in_all(self, wrong: str, name: str, mutant: Spoilt, writing: Writing) -> str:
        """What stays wrong of it where all sheets are checked: others may tell before of what has these fail."""
        self.kept.ask([*self.sheets, *self.jobs])
        try:
            load_checked(self.root, self.kept)
        except Faults as error:
            return wrong if wrong.endswith(" s") else "\n".join(self.misplaced(error.faults, name, mutant, writing))
        except Exception:
            return traceback.format_exc()
        return wrong

    def render(self, library: Library, name: str, taker: str, chance: random.Random) -> bool:
        """The page of a sheet; now and then, and where the file is not for sheets, all that shows several. Whether it was
        all."""
        env, options = environment(), SiteOptions()
        whole = name.partition("/")[0] not in ("cards", "tables", "jobs", "data", "drawings") or not chance.randrange(
            40
        )
        if not whole:
            pulled = PulledPage(library, options)
            folder, stem = taker.split("/")
            if folder == "cards":
                card_parts(env, library, stem, options, pulled)
            elif folder == "tables":
                table_files(env, library, stem, options)
            else:
                job_files(env, library, stem, options, worked_sheet(library, stem, self.kept, Origins(library)))
        else:
            site_files(library, options, self.kept)
        return whole

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
    cannot be worked any more is told at its symbol, and a sum at the total that it should give."""
    words = r"\d+\.\d|[\w-]+"  # a number may be told rounded
    before, at = line[: fault.column - 1], line[fault.column - 1 :]
    here = {*re.findall(words, at)[:1], *re.findall(r"([\w-]+): *$", before)}
    told = {*re.findall(words, fault.message)}
    refused = "outside the range of this card" in fault.message and at[:1].isdigit()
    worked = " shop: " in fault.message and here & FORMULARY.symbols.keys()
    return bool(here & (told | names) or worked or refused or ("control total" in fault.message and "total" in here))


def took(seconds: float) -> str:
    return "" if seconds < SECONDS else f"{seconds:.1f} s"


@contextmanager
def quick() -> Iterator[None]:
    """Have the generator read and look again only at what is changed."""
    reader, words = reading.Reader, check.words_faults
    seen: list[tuple[Any, list[Fault]]] = []

    def words_faults(library: Library) -> list[Fault]:
        key = [document.text for name, document in library.documents.items() if name.startswith("drawings/")]
        if not seen:
            seen.append((key, [*words(library)]))
        return seen[0][1] if seen[0][0] == key else [*words(library)]

    reading.Reader, check.words_faults = Quick, words_faults
    try:
        yield
    finally:
        reading.Reader, check.words_faults = reader, words


@dataclass
class Figures:
    """What came of a run."""

    outcomes: Counter[str] = field(default_factory=Counter)
    files: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    longest: float = 0.0


def run(house: Path, count: int, seed: int, minutes: float = 1e9) -> Figures:
    """Try so many mutants of a folder."""
    chance, figures, end = random.Random(seed), Figures(), time.monotonic() + minutes * 60
    with tempfile.TemporaryDirectory() as folder, quick():
        root = Path(folder) / "procedures"
        shutil.copytree(house, root, ignore=shutil.ignore_patterns("languages", "schema"))
        sound = House(root)
        for _ in range(count):
            if time.monotonic() > end:
                break
            name = chance.choice([*sound.files])
            mutant = sound.spoilt(name, chance)
            found = sound.tried(name, mutant, chance)
            (root / name).write_text(sound.texts[name], encoding="utf-8")
            figures.outcomes[found.outcome] += 1
            figures.files[name.partition("/")[0]] += 1
            figures.longest = max(figures.longest, found.seconds)
            if found.wrong:
                figures.wrong.append(f"{name}, {mutant.what}: {found.wrong}")
                print(figures.wrong[-1], end="\n\n", flush=True)
    return figures


def main() -> None:
    """Try as many as asked for and print the figures."""
    count, seed, minutes = (*sys.argv[1:], *("200", "1", "1e9")[len(sys.argv) - 1 :])
    figures = run(HOUSE / "procedures", int(count), int(seed), float(minutes))
    used = resource.getrusage(resource.RUSAGE_SELF)
    most = used.ru_maxrss / 1024
    print(
        f"{figures.outcomes.total()} mutants, seed {seed}: {dict(figures.outcomes)}, of {dict(figures.files)}; {used.ru_utime:.0f} s in all, the"
        f" longest {figures.longest:.2f} s; at most {most:.0f} MB"
    )
    sys.exit(bool(figures.wrong) or most > MEGABYTES)


if __name__ == "__main__":
    main()
