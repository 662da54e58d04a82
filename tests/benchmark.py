"""How much longer the site takes with our pages generated than the plain build of the same pages.

    python tests/benchmark.py

Prints the times of both builds, best of three each, and their ratio; then how long a job sheet of 200 fittings takes to
plan, the cards worked and all. Not a test: it depends on the machine.
"""

from __future__ import annotations

import logging
import shutil
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import yaml
from mkdocs.commands.build import build
from mkdocs.config import load_config

from conftest import large_job
from generator.check import load_checked
from generator.jobs.sheet import work_sheet
from generator.pages.options import SiteOptions
from generator.pages.site import site_files

HOUSE = Path(__file__).resolve().parents[1]


def best(work: Callable[[], None], times: int = 3) -> float:
    durations = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        durations.append(time.perf_counter() - start)
    return min(durations)


def build_site(config_file: Path, site: Path) -> Callable[[], None]:
    def run() -> None:
        config = load_config(str(config_file), site_dir=str(site))
        config.plugins.on_startup(command="build", dirty=False)
        build(config)

    return run


def plain_copy(folder: Path) -> Path:
    """The same site with the generated pages on disk, and without our plugin."""
    shutil.copytree(HOUSE / "docs", folder / "docs")
    for path, text in site_files(load_checked(HOUSE / "procedures"), SiteOptions()).items():
        target = folder / "docs" / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")
    config = yaml.load((HOUSE / "mkdocs.yml").read_text(encoding="utf-8").replace("!ENV", ""), yaml.SafeLoader)
    config["plugins"] = ["search"]
    (folder / "mkdocs.yml").write_text(yaml.safe_dump(config), encoding="utf-8")
    return folder / "mkdocs.yml"


def main() -> None:
    logging.disable(logging.WARNING)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        plain = best(build_site(plain_copy(folder), folder / "plain"))
        generated = best(build_site(HOUSE / "mkdocs.yml", folder / "generated"))
    library = large_job(load_checked(HOUSE / "procedures"), 200)
    planned = best(lambda: work_sheet(library, "large"))  # type: ignore[arg-type, return-value]
    print(f"job of 200       {planned:.2f} s")
    print(
        f"plain build      {plain:.2f} s\ngenerated build  {generated:.2f} s\nratio            {generated / plain:.2f}"
    )


if __name__ == "__main__":
    main()
