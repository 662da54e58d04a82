"""What the site costs beside the plain build of the same pages, how heavy it is, and how fast it answers.

    python tests/benchmark.py

Prints the ratios of processor time and of memory between both builds, each a process of its own, the better of two; what
a card more costs from 14 to 100 and from there to 500, copies with other numbers; how heavy each card's page and scripts are,
and the search index; what a rebuild takes while serving, after a changed word and after a changed list of drills, and
what it makes anew; for each card in the browser, the time from an input to the answer laid out, drawing and all, and to
the frame that shows it; and how long a job sheet of 200 fittings takes to plan, the cards worked and all. What is wanted
stands beside each. Not a test: it depends on the machine.
"""

from __future__ import annotations

import gzip
import logging
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from itertools import pairwise
from multiprocessing import get_context
from pathlib import Path
from statistics import median

import yaml
from mkdocs.commands.build import build
from mkdocs.config import load_config

from conftest import CARD, CHROMIUM, QUIET, large_job
from generator.check import load_checked
from generator.jobs.sheet import work_sheet
from generator.pages.options import SiteOptions
from generator.pages.site import site_files

HOUSE = Path(__file__).resolve().parents[1]


def best(work: Callable[[], None], times: int = 3) -> float:
    durations = []
    for _ in range(times):
        start = time.process_time()
        work()
        durations.append(time.process_time() - start)
    return min(durations)


def cost(config_file: Path, site: Path, times: int = 2) -> tuple[float, int]:
    """Processor seconds and the most memory (in the system's own unit) of a build by the command line, the better of
    two: the first leaves compiled modules, as an installation does."""
    build_it = [sys.executable, "-m", "mkdocs", "build", "-q", "-f", str(config_file), "-d", str(site)]
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    compiled = {**kept, "PYTHONPYCACHEPREFIX": str(site.parent / "compiled")}
    found = []
    for _ in range(times):
        process = subprocess.Popen(build_it, env=compiled)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"the build of {config_file} failed")
        found.append((used.ru_utime + used.ru_stime, used.ru_maxrss))
    return min(seconds for seconds, _ in found), min(most for _, most in found)


def copies(folder: Path, number: int) -> Path:
    """A site of so many cards: those of the house, and copies of them for other temperatures, or another pull."""
    shutil.copytree(HOUSE / "procedures", folder / "procedures")
    (folder / "docs").mkdir()
    cards = sorted((folder / "procedures/cards").glob("*.yaml"))
    for place in range(number - len(cards)):
        card = cards[place % len(cards)]
        own = {
            "T_a": f"{{ask: temperature, metric: {20 + place / 1000:.3f} °C, inch: {70 + place / 1000:.3f} °F}}",
            "theta_p": f"{{ask: angle of the pull, default: {45 - place / 100:.2f} deg}}",
        }
        text = card.read_text(encoding="utf-8").replace("title: ", f"title: {place}-", 1)
        head, givens, rest = text.partition("\ngivens:")
        for name, value in own.items():
            rest, changed = re.subn(
                rf"(?<=[\s{{,]){name}(?:: \{{[^{{}}]*\}}|:[^\n]*)?(?=[,}}\n])", f"{name}: {value}", rest, count=1
            )
            if changed:
                break
        else:
            raise SystemExit(f"{card} has no input that a copy may change")
        (card.parent / f"{card.stem}-{place}.yaml").write_text(head + givens + rest, encoding="utf-8")
    shutil.copy(HOUSE / "mkdocs.yml", folder)
    return folder / "mkdocs.yml"


def growth(folder: Path) -> None:
    """Print what each further card costs, where there are few and where there are many."""
    took: dict[int, float] = {}
    for number in (14, 100, 500):
        own = folder / str(number)
        own.mkdir(parents=True)
        took[number], most = cost(copies(own, number), own / "site", times=1)
        print(f"{number:3} cards        {took[number]:.2f} s, {most / 1024:.0f} MB", flush=True)
    few, many = ((took[more] - took[less]) / (more - less) for less, more in pairwise(took))
    print(f"each card more   {few:.3f} s up to 100, {many:.3f} s up to 500, ratio {many / few:.2f} (wanted: 1)")


def rebuilds(folder: Path) -> None:
    """Print what a rebuild takes in one process, as while serving."""
    for part in ("docs", "procedures"):
        shutil.copytree(HOUSE / part, folder / part)
    shutil.copy(HOUSE / "mkdocs.yml", folder)
    for what, file, old, new, wanted in (
        ("first build", "", "", "", ""),
        ("a word", f"cards/{CARD}.yaml", "title: Mark out", "title: Mark it out", "wanted: one card, under 2 s"),
        ("the drills", "data/drills.yaml", "total: 511\n    sizes: [1, 1.5, ", "sizes: [1, ", "wanted: under 6 s"),
    ):
        if file:
            path = folder / "procedures" / file
            path.write_text(path.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
        config = load_config(str(folder / "mkdocs.yml"), site_dir=str(folder / "site"), site_url="")
        config.plugins["bondwright"].config.procedures = str(folder / "procedures")
        config.plugins.on_startup(command="serve", dirty=False)
        start, begun = time.process_time(), time.monotonic()
        build(config)
        took, waited = time.process_time() - start, time.monotonic() - begun
        made = config.plugins["bondwright"].kept.made  # type: ignore[attr-defined]
        parts = Counter(re.sub(r"^(\w+) (\w+)/.*", r"\1 \2", name) for name in made)
        told = ", ".join(f"{number} x {part}" for part, number in parts.items() if file) or f"{len(made)} parts"
        print(f"{what:16} {took:.2f} s of the processor, shown after {waited:.2f} s; {told} {wanted and f'({wanted})'}")


def plain_copy(folder: Path) -> Path:
    """The same site with the generated pages on disk, and without our plugin."""
    shutil.copytree(HOUSE / "docs", folder / "docs")
    for path, text in site_files(load_checked(HOUSE / "procedures"), SiteOptions()).items():
        target = folder / "docs" / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    config = yaml.load((HOUSE / "mkdocs.yml").read_text(encoding="utf-8").replace("!ENV", ""), yaml.SafeLoader)
    config["plugins"] = ["search"]
    config["markdown_extensions"].remove("bondwright.guard")
    (folder / "mkdocs.yml").write_text(yaml.safe_dump(config), encoding="utf-8")
    return folder / "mkdocs.yml"


# Pushes the first number up and down. Each time: from the event to the answer in sight laid out, which reading a height
# makes the browser do at once; then what waits, the address and the layout of what is out of sight; then the frame shown.
UPDATES = """async () => {
    const field = document.querySelector('.bw-field:has(button) input');
    const [less, more] = field.parentElement.querySelectorAll('button');
    const places = [...document.querySelectorAll('[data-s]')];
    const frame = () => new Promise(done => requestAnimationFrame(() => setTimeout(done)));
    const took = { answer: [], rest: [], frame: [] };
    for (let turn = 0; turn < 40; turn++) {
        await frame();
        const before = field.value, start = performance.now();
        (turn % 4 < 2 ? more : less).click();
        document.body.getBoundingClientRect();
        const laid = performance.now();
        await frame();
        const shown = performance.now();
        dispatchEvent(new Event('beforeprint'));
        for (const place of places) place.getBoundingClientRect();
        took.answer.push(laid - start);
        took.frame.push(shown - start);
        took.rest.push(performance.now() - shown);
        if (field.value === before) throw new Error(`${field.id} does not change`);
    }
    return took;
}"""
SCREENS = {"desk": (1280, 800), "phone": (390, 844)}


def live_updates(site: Path) -> None:
    """Print how long each live card takes to answer, the median and the slowest of 40, and what waits."""
    from playwright.sync_api import sync_playwright

    print("milliseconds, median and slowest of 40: answer laid out, frame shown; what waits")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        for card in sorted(path.parent for path in (site / "cards").glob("*/live.js")):
            for screen, (width, height) in SCREENS.items():
                page = browser.new_page(viewport={"width": width, "height": height})
                page.goto((card / "index.html").as_uri())
                page.locator(".bw-live > details > summary").click()
                took = page.evaluate(UPDATES)
                said = {kind: f"{median(times):5.1f} {max(times):6.1f}" for kind, times in took.items()}
                print(f"{card.name:20} {screen:5} {said['answer']}   {said['frame']}   {said['rest']}", flush=True)
                page.close()
        browser.close()


def weights(site: Path) -> None:
    """Print how heavy each card is by each measure, with its scripts, and the search index."""
    print("cards (wanted: at most 150 kB, 30 kB gzip, 3500 nodes), then their scripts, kB and kB gzip")
    for page in sorted(site.glob("cards/*/index.html")):
        card = page.read_bytes()
        nodes = len(re.findall(rb"<[a-z]", card))
        scripts = ((name, (page.parent / name).read_bytes()) for name in ("live.js", "drawings.js", "form.js"))
        told = "; ".join(f"{name} {len(script) / 1000:.0f}, {zipped(script):.1f}" for name, script in scripts)
        print(f"{page.parent.name:20} {len(card) / 1000:5.1f} kB, {zipped(card):4.1f} kB gzip, {nodes} nodes; {told}")
    index = (site / "search/index.js").read_bytes()
    on_each = sum(bool(re.search(rb'src="[^"]*search/index.js', page.read_bytes())) for page in site.rglob("*.html"))
    print(
        f"search index     {len(index) / 1000:.0f} kB, {zipped(index):.0f} kB gzip, fetched with {on_each} pages (wanted: 0)"
    )


def zipped(data: bytes) -> float:
    """How much it is packed (kB)."""
    return len(gzip.compress(data)) / 1000


def main() -> None:
    logging.disable(logging.WARNING)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        # By another process: what this one has held counts as memory of all that it starts.
        with ProcessPoolExecutor(1, get_context("spawn")) as other:
            settings = other.submit(plain_copy, folder).result()
        plain, least = cost(settings, folder / "plain")
        generated, most = cost(HOUSE / "mkdocs.yml", folder / "generated")
        times, held = generated / plain, most / least
        print(f"processor time   {generated:.2f} s, plain {plain:.2f} s, ratio {times:.2f} (wanted: at most 0.6)")
        print(
            f"memory           {most / 1024:.0f} MB, plain {least / 1024:.0f} MB, ratio {held:.2f} (wanted: at most 1.3)"
        )
        growth(folder / "growth")
        rebuilds(folder / "served")
        weights(folder / "generated")
        live_updates(folder / "generated")
    library = large_job(load_checked(HOUSE / "procedures"), 200)
    planned = best(lambda: work_sheet(library, "large"), 1)  # type: ignore[arg-type]  # what is found again takes no time
    print(f"job of 200       {planned:.2f} s")


if __name__ == "__main__":
    main()
