"""Shared fixtures: the checked library, copies of the project to spoil, and the browser."""

from __future__ import annotations

import gc
import hashlib
import json
import os
import pickle
import shutil
import subprocess
import sys
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import chdir, contextmanager
from dataclasses import replace
from functools import partial
from importlib import import_module
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from pathlib import Path
from stat import S_ISREG
from types import MappingProxyType, ModuleType
from typing import TYPE_CHECKING, Any

import pytest
import yaml
from click.testing import CliRunner
from filelock import FileLock
from hypothesis import settings

from generator.check import JobSheets, load_checked, unused_faults
from generator.cli import main
from generator.jobs.faults import worked_sheet
from generator.jobs.sheet import WorkedSheet
from generator.kept import Kept, Origins
from generator.model.jobsheet import JobSheet
from generator.model.library import Library, load
from generator.model.schema import Sheet
from generator.pages.options import SiteOptions
from generator.pages.site import site_files
from generator.reckoning import Reckoning, reckon
from generator.schedule import timetable
from generator.units import System
from generator.working import Working, work

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page, Playwright

HOUSE = Path(__file__).resolve().parents[1]
CARD = "bonded-stepped-hole"
# Seconds after which a process is stuck, however much else a machine does at once.
STUCK = 3600
# Milliseconds that a page waits for what has to come.
LONG = 300_000
# Tests, and the commands that they run, are compiled once, as where people install them.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
# Where each processor has a worker, arithmetic that is spread over all of them mostly waits for itself.
os.environ.setdefault("OMP_NUM_THREADS", "1")
# Little is left behind by tests: to search for it seldom saves a twentieth where large plans are made, elsewhere next to nothing.
gc.set_threshold(50_000, 20, 100)


class Clone(MetaPathFinder, Loader):
    """What MkDocs asks for as `bondwright` is the clone's `generator`, which a process of tests has read already."""

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        return ModuleSpec(name, self) if name.partition(".")[0] == "bondwright" else None

    def create_module(self, spec: ModuleSpec) -> ModuleType:
        module = import_module(f"generator{spec.name.removeprefix('bondwright')}")
        self.own = module.__spec__
        return module

    def exec_module(self, module: ModuleType) -> None:
        module.__spec__ = self.own


sys.meta_path.insert(0, Clone())
# A machine that does much else at once is slow, not wrong.
settings.register_profile("patient", deadline=None)
settings.load_profile("patient")
# Read once a process, for all the tests in it.
LIBRARY = load(HOUSE / "procedures")


@pytest.fixture(scope="session")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    return checked_once(shared_folder(tmp_path_factory), HOUSE / "procedures")


def read_yaml(path: Path) -> Any:
    """What stands in a YAML file."""
    fast = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return yaml.load(path.read_text(encoding="utf-8"), fast)


def all_hold(law: Callable[[Any], object], cases: Iterable[Any], name: Callable[[Any], str] = str) -> None:
    """One test over many small cases: each is looked at, whatever became of those before, and all that fail are told."""
    cases, broken = list(cases), []
    for case in cases:
        try:
            law(case)
        except Exception as error:
            broken.append(f"{name(case)}: {type(error).__name__}: {error}")
    assert cases
    assert not broken, f"{len(broken)} of {len(cases)} fail\n" + "\n".join(broken[:50])


def for_each(cases: Iterable[Any]) -> Callable[[Callable[..., object]], Callable[[], None]]:
    """Make a law one test over many small cases, for one of its own costs each more than its look. A case that is a tuple
    is the law's arguments."""
    cases = [*cases]

    def over(law: Callable[..., object]) -> Callable[[], None]:
        def test() -> None:
            all_hold(lambda case: law(*case) if isinstance(case, tuple) else law(case), cases)

        test.__name__, test.__qualname__, test.__doc__ = law.__name__, law.__qualname__, law.__doc__
        test.__module__ = law.__module__
        return test

    return over


def yaml_beside(name: str) -> Any:
    """What stands in a file of values beside the tests."""
    return read_yaml(HOUSE / "tests" / name)


def shared_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the workers of a run share what one of them made."""
    base = tmp_path_factory.getbasetemp()
    return base.parent if "PYTEST_XDIST_WORKER" in os.environ else base


@pytest.fixture(scope="session")
def files(library: Library, tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, str]:
    """The pages and spreadsheets of the project, for all that only read them."""
    return made_once(tmp_path_factory, "files", lambda: site_files(library, SiteOptions(), planned(library)))


def made_once(
    tmp_path_factory: pytest.TempPathFactory, name: str, make: Callable[[], Mapping[str, str]]
) -> Mapping[str, str]:
    """Files that one worker of a run makes, and the others read."""
    made = shared_folder(tmp_path_factory) / f"{name}.json"
    with FileLock(f"{made}.lock"):
        if not made.exists():
            made.write_text(json.dumps(dict(make())), encoding="utf-8")
    return MappingProxyType(json.loads(made.read_text(encoding="utf-8")))


def copy_house(house: Path, folder: Path) -> Path:
    """Copy what a boatbuilder edits and what a site needs."""
    for name in ("procedures", "docs"):
        shutil.copytree(house / name, folder / name)
    shutil.copy2(house / "mkdocs.yml", folder)
    return folder


def renew(copy: Path, whole: Path) -> Path:
    """Make a folder what another one holds, whatever was written, changed or taken away there. A file that is as it was
    copied has the age that it was copied with."""

    def seen(folder: Path) -> dict[Path, tuple[int, int] | None]:
        paths = ((path, path.lstat()) for path in folder.rglob("*"))
        return {
            path.relative_to(folder): (at.st_mtime_ns, at.st_size) if S_ISREG(at.st_mode) else None
            for path, at in paths
        }

    wanted, there = seen(whole), seen(copy)
    for path in [path for path in there if path not in wanted or (there[path] is None) != (wanted[path] is None)][::-1]:
        if (copy / path).is_dir() and not (copy / path).is_symlink():
            (copy / path).rmdir()
        else:
            (copy / path).unlink()
    for path, state in wanted.items():
        if state is None:
            (copy / path).mkdir(exist_ok=True)
        elif there.get(path) != state:
            shutil.copy2(whole / path, copy / path)
    return copy


@pytest.fixture(scope="session")
def whole_house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What a copy of the project holds."""
    return copy_house(HOUSE, tmp_path_factory.mktemp("whole"))


@pytest.fixture(scope="session")
def spoilt_house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where a test spoils a copy, until the next one has it renewed."""
    return tmp_path_factory.mktemp("copy")


@pytest.fixture
def house(spoilt_house: Path, whole_house: Path) -> Path:
    """A copy of the project, to be spoiled by a test."""
    return renew(spoilt_house, whole_house)


@pytest.fixture(scope="session")
def small_project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two cards, the one of their trials and what they need, with nothing to mend: a fault put in here is soon found."""
    house = copy_house(HOUSE, tmp_path_factory.mktemp("small"))
    root = house / "procedures"
    kept = [root / f"cards/{name}.yaml" for name in (CARD, "blind-stud", "trial-joint")] + [
        root / "tables/threads.yaml"
    ]
    gone = [path for folder in ("cards", "tables", "jobs") for path in (root / folder).iterdir() if path not in kept]
    for path in gone:
        path.unlink()
    for path in kept:
        text = path.read_text(encoding="utf-8")
        for other in gone:
            text = text.replace(f"{{{other.stem}}}", "another page")
        path.write_text(text, encoding="utf-8")
    for name in ("chooser.yaml", "search.yaml", "home.yaml"):
        (root / name).unlink()
    while unused := list(unused_faults(load(root))):
        for fault in reversed(unused):
            cut_entry(house / fault.file, fault.line)
    load_checked(root)
    set_option(house, "strict: true", "strict: false")  # pages of the project that its menu leads to are not here
    return house


def cut_entry(path: Path, line: int) -> None:
    """Take an entry out of a YAML file: its line and those that are indented further."""
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    indents = [len(text) - len(text.lstrip()) if text.strip() else 1000 for text in lines]
    end = next((place for place in range(line, len(lines)) if indents[place] <= indents[line - 1]), len(lines))
    path.write_text("".join(lines[: line - 1] + lines[end:]), encoding="utf-8")


def whole_reckoning(
    library: Library, sheet: Sheet, inputs: Mapping[str, str], *, extra: Iterable[str] = ()
) -> Reckoning:
    """Work a sheet of which all that is wanted has a number; the reason is raised where one has none."""
    reckoning = reckon(library, sheet, inputs, extra=extra)
    for symbol in (*(symbol for symbol in sheet.named if symbol not in getattr(sheet, "loads", ())), *extra):
        reckoning.working.values[symbol]
    return reckoning


def whole_working(wanted: Iterable[str], givens: Mapping[str, float], *more: Any, **details: Any) -> Working:
    """Work symbols that all have a number; the reason is raised where one has none."""
    working = work(wanted, givens, *more, **details)
    for symbol in wanted:
        working.values[symbol]
    return working


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector: pytest.Collector) -> Iterator[None]:
    """Every worker of a run reads every file of tests; the first that comes to one compiles it for the others."""
    if not isinstance(collector, pytest.Module):
        return (yield)
    compiled = collector.path.parent / "__pycache__"
    compiled.mkdir(exist_ok=True)
    with FileLock(compiled / f"{collector.path.stem}.lock"):
        return (yield)


def pytest_collection_finish() -> None:
    """What stands now stays to the end: it is searched no more for what nobody holds."""
    gc.collect()
    gc.freeze()


Run = Callable[..., subprocess.CompletedProcess[str]]


CHECKED: dict[str, Library] = {}
# What the tests of a process found sound, by what it was made from, as a site that is served keeps it.
KEPT = Kept()


def checked_once(
    shared: Path,
    root: Path,
    kept: object = None,
    *,
    site_units: System | None = None,
    job_sheets: JobSheets = "all",
    prove_units: bool = False,
    card: str | None = None,
    jobs: Collection[str] | None = None,
) -> Library:
    """A folder's checked library, the same one for folders that hold the same. Of what ships, and where all is wanted, all of
    it is checked once: where nothing is wrong that is what any part of it would be. What one worker of a run finds sound the
    others only read, with its timetables of what ships. Units belong to no folder; tests/test_formula.py proves them."""
    seen = f"{digest(root)}{site_units or ''}"
    if seen not in CHECKED and seen != SHIPPED and job_sheets != "all":
        return load_checked(root, KEPT, site_units=site_units, job_sheets=job_sheets, card=card, jobs=jobs)
    sound = shared / f"sound-{seen}"
    with FileLock(f"{sound}.lock"):
        if seen not in CHECKED:
            if not sound.exists():
                found = load_checked(root, KEPT, site_units=site_units)
                sound.write_bytes(pickle.dumps(timetable._FOUND if seen == SHIPPED else {}))
            elif seen != SHIPPED:
                found = load(root, site_units)
            else:
                timetable._FOUND.update(pickle.loads(sound.read_bytes()))
            CHECKED[seen] = LIBRARY if seen == SHIPPED else found
    return CHECKED[seen]


def kept_sheet(library: Library, name: str) -> WorkedSheet:
    """A job sheet that ships as it was worked for its check, or for another test, where that was in this process."""
    return worked_sheet(library, name, KEPT, Origins(library))


def planned(library: Library) -> Kept:
    """The plans of the job sheets that ship, and nothing else, for pages to be made with."""
    plans, origins = Kept(), Origins(library)
    for name in library.job_sheets:
        plans.once(f"work jobs/{name}", origins.job_sheet(name), partial(kept_sheet, library, name))
    return plans


def digest(root: Path) -> str:
    """What stands in a folder."""
    seen = hashlib.sha256(root.name.encode())
    for path in sorted(root.rglob("*")):
        seen.update(f"\n{path.relative_to(root)} ".encode() + (path.read_bytes() if path.is_file() else b""))
    return seen.hexdigest()


# What the procedures that ship are told by.
SHIPPED = digest(HOUSE / "procedures")


@pytest.fixture
def generator(
    house: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path_factory: pytest.TempPathFactory,
) -> Run:
    """Run the generator's command line in the copy, in this process."""
    monkeypatch.chdir(house)
    monkeypatch.setattr("generator.cli.load_checked", partial(checked_once, shared_folder(tmp_path_factory)))

    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        capsys.readouterr()
        code = main(arguments)
        output = capsys.readouterr()
        return subprocess.CompletedProcess(arguments, code, output.out, output.err)

    return run


def runner(folder: Path, module: str) -> Run:
    """Run a module in a process of its own, in `folder`."""

    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", module, *arguments],
            cwd=folder,
            capture_output=True,
            text=True,
            encoding="utf-8",
            timeout=STUCK,
        )

    return run


def node(script: str, files: Sequence[Path], given: object) -> Any:
    """What a script in Node answers to `given`, both as JSON; `files` are its arguments."""
    program = shutil.which("node")
    if program is None:
        if os.environ.get("CI"):
            pytest.fail("node is missing: the build needs Node.js for this test")
        pytest.skip("no node here: install Node.js to run this test")
    done = subprocess.run(
        [program, "-e", script, *map(str, files)],
        input=json.dumps(given),
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=STUCK,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


SEARCH = """
    const [script, index] = process.argv.slice(1);
    for (const path of [script, index]) require("vm").runInThisContext(require("fs").readFileSync(path, "utf8"));
    const { prepare, search } = bondwrightSearch, ready = prepare(bondwrightIndex);
    const asked = JSON.parse(require("fs").readFileSync(0, "utf8"));
    console.log(JSON.stringify(asked.map(one => search(ready, one))));
"""


def searched(index: Path, asked: Sequence[str]) -> list[list[dict[str, Any]]]:
    """The hits of each question in a site's index, by the page's own script."""
    hits: list[list[dict[str, Any]]] = node(SEARCH, [HOUSE / "docs/assets/search.js", index], asked)
    return hits


def set_option(house: Path, old: str, new: str) -> None:
    """Change an option of the site in a copy of the project."""
    path = house / "mkdocs.yml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


@pytest.fixture
def small_house(small_project: Path, tmp_path: Path) -> Path:
    """A copy whose site is soon built: a card, one shop, one series of threads."""
    house = copy_house(small_project, tmp_path)
    set_option(house, "units: both", "units: metric")
    set_option(house, "threads: []", "threads: [metric-coarse]")
    return house


@pytest.fixture
def mkdocs(house: Path) -> Run:
    """Run `mkdocs` in the copy."""
    return runner(house, "mkdocs")


def mkdocs_here(where: Path, *arguments: str) -> None:
    """MkDocs as in a process of its own, but for the time that one takes to begin."""
    from mkdocs.__main__ import cli

    with chdir(where):
        done = CliRunner().invoke(cli, arguments)
    assert done.exit_code == 0, done.output


def build_once(tmp_path_factory: pytest.TempPathFactory, name: str, house: Path, **environment: str) -> Path:
    """The site of a project, built once for all the workers of a run, from what they found sound."""
    folder = shared_folder(tmp_path_factory) / name
    with FileLock(f"{folder}.lock"), pytest.MonkeyPatch.context() as patch:
        if not folder.exists():
            half = folder.with_suffix(".half")
            patch.setattr("generator.plugin.load_checked", partial(checked_once, folder.parent))
            for variable, value in environment.items():
                patch.setenv(variable, value)
            mkdocs_here(house, "build", "--strict", "--site-dir", str(half))
            half.rename(folder)
    return folder


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project's built site."""
    return build_once(tmp_path_factory, "site", HOUSE)


@pytest.fixture(scope="session")
def memory_stick(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of an inch shop with one series of threads, built to be opened from the file system."""
    house = copy_house(HOUSE, tmp_path_factory.mktemp("inch"))
    set_option(house, "units: both", "units: inch")
    set_option(house, "paper: A4", "paper: Letter")
    set_option(house, "threads: []", "threads: [unc]")
    return build_once(tmp_path_factory, "memory-stick", house, OFFLINE="true")


CHROMIUM = (
    os.environ.get("CHROMIUM")
    # The one without a window asks a third less of the machine.
    or shutil.which("chromium-headless-shell")
    or shutil.which("chromium")
    or shutil.which("chromium-browser")
    or shutil.which("google-chrome")
)
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    # Else letters are moved to whole dots of the screen on paper too, and a word comes back in two.
    "--font-render-hinting=none",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


# No frame is drawn of what a page shows: it is laid out only when it is asked about or printed. Nothing waits for a frame
# there, so nothing is clicked as a reader clicks.
UNSEEN = "--disable-threaded-compositing"


def patient(browser: Browser) -> Browser:
    """A browser whose pages wait ten times as long as it would for what has to come."""
    from playwright.sync_api import expect

    def waits(make: Callable[..., Any]) -> Callable[..., Any]:
        def made(**options: Any) -> Any:
            page = make(**options)
            page.set_default_timeout(LONG)
            return page

        return made

    expect.set_options(timeout=LONG)
    browser.new_context, browser.new_page = waits(browser.new_context), waits(browser.new_page)  # type: ignore[method-assign]
    return browser


@contextmanager
def launched(driver: Playwright, *more: str) -> Iterator[Browser]:
    """Chromium, driven by playwright. Missing, it fails the test: .ci/run installs it."""
    assert CHROMIUM, "no Chromium on this machine; on Debian: apt-get install chromium-headless-shell"
    chromium = driver.chromium.launch(executable_path=CHROMIUM, args=[*QUIET, *more])
    yield patient(chromium)
    chromium.close()


@pytest.fixture(scope="session")
def driver() -> Iterator[Playwright]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def browser(driver: Playwright) -> Iterator[Browser]:
    """What a reader has before him."""
    with launched(driver) as browser:
        yield browser


@pytest.fixture(scope="session")
def printer(driver: Playwright) -> Iterator[Browser]:
    """A browser of which only paper, and what a page holds, is looked at; it asks a third less of the machine."""
    with launched(driver, UNSEEN) as browser:
        yield browser


def settled(page: Page) -> None:
    """Wait until what a page begins with has come and nothing that it began is left to do; a card that is set has then
    fetched its drawings, and told aloud what it is set for. (That no request has been open for half a second is not always
    told to who waits for it.)"""
    page.wait_for_load_state("load")
    page.wait_for_function(
        """() => !document.querySelector("[data-bw-set] .bw-live")
            || globalThis.bondwright?.draw && document.querySelector(".bw-live-status").textContent""",
        polling=20,
    )
    page.evaluate("new Promise(done => requestIdleCallback(() => requestIdleCallback(done)))")


@contextmanager
def forgetting(browser: Browser) -> Iterator[Page]:
    """A page of a browser that goes from one page of a site to the next, and remembers nothing of the last one. No
    worker keeps the whole site behind its back."""
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    page.add_init_script("localStorage.clear(); sessionStorage.clear()")
    yield page
    context.close()


@pytest.fixture(scope="module")
def forgetful(browser: Browser) -> Iterator[Page]:
    with forgetting(browser) as page:
        yield page


@pytest.fixture(scope="module")
def unseen(printer: Browser) -> Iterator[Page]:
    with forgetting(printer) as page:
        yield page


def large_job(library: Library, fittings: int, aim: str = "shop") -> Library:
    """The library with a job sheet `large` of so many fittings of many kinds, every tenth waiting for the one before."""
    threads, cards = ["M6", "M8", "M10"], ["bonded-stepped-hole", "blind-stud", "cast-thread", "bonded-bush"]
    entries = []
    for number in range(fittings):
        given = {"thread": threads[number % 3]}
        if number % 4 < 2:
            given["T"] = f"{80 + 5 * (number % 9)} mm"
        after = [f"fitting {number - 1}"] if number % 10 == 9 else []
        entry = {"name": f"fitting {number}", "card": cards[number % 4], "where": "somewhere", "given": given}
        entries.append({**entry, "no_load": "Made up.", "after": after})
    sheet = library.job_sheets["class-dinghy"].model_dump(exclude={"fittings"}, exclude_none=True)
    sheet["conditions"] |= {"aim": aim} if aim == "class" else {"aim": aim, "breaks": []}
    large = JobSheet.model_validate({**sheet, "fittings": entries})
    document = library.documents["jobs/class-dinghy.yaml"]
    return replace(
        library,
        job_sheets={**library.job_sheets, "large": large},
        documents={**library.documents, "jobs/large.yaml": document},
    )
