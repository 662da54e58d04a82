"""The wheel, installed by itself in a bare environment: a site of one's own in an empty folder."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import venv
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import mkdocs
import pytest
import setuptools
from test_browser import served

from conftest import CARD, HOUSE, STUCK

if TYPE_CHECKING:
    from playwright.sync_api import Browser

GUIDE = (HOUSE / "docs/hosting.md").read_text(encoding="utf-8")
Bondwright = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built as an installer builds it, from the source distribution of a copy of the project."""
    if int(setuptools.__version__.split(".")[0]) < 77:
        if os.environ.get("CI"):
            pytest.fail("setuptools is older than 77")
        pytest.skip("setuptools is older than 77: install the test extras to run this test")
    clone = tmp_path_factory.mktemp("clone")
    ignored = shutil.ignore_patterns("__pycache__", "*.egg-info")
    for name in ("generator", "procedures", "docs"):
        shutil.copytree(HOUSE / name, clone / name, ignore=ignored)
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(HOUSE / name, clone)
    [packed] = (built(clone, "sdist") / "out").glob("*.tar.gz")
    with tarfile.open(packed) as archive:
        archive.extractall(clone / "unpacked", **({"filter": "data"} if hasattr(tarfile, "data_filter") else {}))
    [source] = (clone / "unpacked").iterdir()
    [wheel] = (built(source, "wheel") / "out").glob("*.whl")
    return wheel


def built(source: Path, what: str) -> Path:
    """The folder with what was built of it in `out`."""
    code = f"from setuptools import build_meta; build_meta.build_{what}('out')"
    done = subprocess.run([sys.executable, "-c", code], cwd=source, capture_output=True, text=True, timeout=STUCK)
    assert done.returncode == 0, done.stderr
    return source


@pytest.fixture(scope="module")
def bondwright(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Bondwright:
    """The command, installed from the wheel where nothing of the clone is; the dependencies are those of the tests."""
    bare = tmp_path_factory.mktemp("bare")
    venv.create(bare, with_pip=False, symlinks=os.name != "nt")
    [packages] = (path for path in bare.rglob("site-packages"))
    programs = bare / ("Scripts" if os.name == "nt" else "bin")
    pip = [
        sys.executable,
        "-m",
        "pip",
        "--python",
        str(programs / "python"),
        "install",
        "-q",
        "--no-deps",
        "--no-index",
    ]
    done = subprocess.run([*pip, str(wheel)], capture_output=True, text=True, timeout=STUCK)
    assert done.returncode == 0, done.stderr
    (packages / "dependencies.pth").write_text(f"{Path(mkdocs.__file__).parents[1]}\n", encoding="utf-8")

    def run(*arguments: str, cwd: Path, **more: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [programs / "bondwright", *arguments],
            cwd=cwd,
            env={name: value for name, value in os.environ.items() if not name.startswith("PYTHON")} | more,
            capture_output=True,
            text=True,
            encoding="utf-8",
            timeout=STUCK,
        )

    return run


def test_the_wheel_holds_all_that_the_clone_has_and_no_module_called_generator(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    folders = {"generator": "bondwright", "docs": "bondwright/docs", "procedures": "bondwright/procedures"}
    for folder, inside in folders.items():
        for path in (HOUSE / folder).rglob("*"):
            if path.is_file() and "__pycache__" not in path.parts:
                assert f"{inside}/{path.relative_to(HOUSE / folder).as_posix()}" in names
    assert {name.partition("/")[0].partition("-")[0] for name in names} == {"bondwright"}


def test_a_new_site_shows_all_and_holds_only_what_is_ones_own(
    bondwright: Bondwright, tmp_path: Path, browser: Browser
) -> None:
    assert re.fullmatch(r"bondwright \d+\.\d+\.\d+\n", bondwright("--version", cwd=tmp_path).stdout)
    assert "bondwright serve" in bondwright("new", "site", "boats", cwd=tmp_path).stdout
    boats = tmp_path / "boats"
    own = {path.relative_to(boats).as_posix() for path in boats.rglob("*") if path.is_file()}
    assert {name for name in own if not name.startswith("mine/schema/")} == {
        "mkdocs.yml",
        "docs/our-shop.md",
        "mine/shop.yaml",
        ".gitignore",
    }
    again = bondwright("new", "site", "boats", cwd=tmp_path)
    assert again.returncode == 1
    assert "is there already" in again.stderr

    # Few pages are soon built.
    settings = boats / "mkdocs.yml"
    few = f"cards: [{CARD}, mixing]\n      tables: [threads]\n      jobs: []\n      threads: [metric-coarse]"
    whole = re.sub("# cards: .*", few, settings.read_text(encoding="utf-8"))
    # The guide's own words for the address and the mark.
    [address] = {*re.findall("`(https://[^`]+)`", GUIDE)}
    [theme] = re.findall(r"`(theme: {[^`]+})`", GUIDE)
    shutil.copy(HOUSE / "docs/assets/mark.svg", boats / "docs" / theme.rpartition(" ")[2].strip("}"))
    whole = whole.replace("theme:\n  name: material", theme)
    assert theme in whole
    settings.write_text(f"{whole}\nsite_url: {address}\n", encoding="utf-8")
    shop = boats / "mine/shop.yaml"
    whole = shop.read_text(encoding="utf-8")
    given = re.sub("(?m)^# ?(?=units|paper|rules|drills|epoxy|hardeners|fillers|defaults|  )", "", whole)
    assert len(given) < len(whole) - 20, "all that the file offers is taken"
    shop.write_text(given, encoding="utf-8")
    answer = bondwright("work", CARD, "T = 90 mm", cwd=boats)
    assert "resin              21.1 g           (18.6 mL)" in answer.stdout
    assert "mind:" not in answer.stderr  # what other pages have to mind is said where the whole is made
    done = bondwright("build", cwd=boats)
    assert done.returncode == 0, done.stderr
    assert "end of life" not in done.stderr
    assert not re.search("WARNING(?!.*(?:comes set as it ships|is left out))", done.stderr), done.stderr
    page = (boats / f"site/cards/{CARD}/index.html").read_text(encoding="utf-8")
    assert "##" not in re.sub(r"<script.*?</script>", "", page, flags=re.DOTALL)
    for name in re.findall(r'(?:href|src)="(?:\.\./)+(assets/[a-z-]+\.(?:css|js))"', page):
        assert (boats / "site" / name).is_file(), name
    assert re.findall(r'href="(?:\.\./)+(assets/bondwright\.css)"', page)
    assert re.findall(r'src="(?:\.\./)+(assets/shop\.js)"', page)
    assert "https://fonts" not in page
    assert 'href="../../our-shop/"' in page
    assert "our epoxy" in page
    assert "Nobody drills alone" in (boats / "site/index.html").read_text(encoding="utf-8")
    assert re.search(r"Bondwright \d+\.\d+\.\d+, data of \d+ \w+ \d{4}", page)
    assert address in page
    host = tmp_path / "host"
    shutil.copytree(boats / "site", host / "boats")
    keeps_without_a_network(host, browser)
    for shown in re.findall("```sh\n(.*?)```", GUIDE, re.DOTALL):
        [assigned, command] = re.fullmatch(r"((?:\w+=\w+ )?)bondwright (.*)\n", shown).groups()  # type: ignore[union-attr]
        done = bondwright(*command.split(), cwd=boats, **dict([assigned.strip().split("=")] if assigned else []))
        assert done.returncode == 0, done.stderr
    assert (boats / f"DIR/docs/cards/{CARD}.md").is_file()
    told = bondwright("new", "job", "our-own", cwd=boats).stdout
    assert "write our-own into 'jobs' there too" in told  # the settings choose, and would leave it out
    stick = browser.new_page()
    stick.goto((boats / f"site/cards/{CARD}.html").as_uri() + "?thread=M10")
    stick.locator("table.bw-numbers td b").filter(has_text="16 mm").first.wait_for(state="attached")
    stick.close()


def keeps_without_a_network(host: Path, browser: Browser) -> None:
    """Below another address: all that a page asks for is there, and after one visit and with the server gone the other
    card works its reader's numbers."""
    context = browser.new_context()
    page = context.new_page()
    page.clock.install()
    missing: list[str] = []
    page.on("response", lambda answer: missing.append(answer.url) if answer.status >= 400 else None)
    with served(host) as address:
        page.goto(f"{address}/boats/cards/mixing/")
        assert page.evaluate("document.querySelector('header img').naturalWidth")
        page.clock.fast_forward(60_000)
        page.wait_for_function("navigator.serviceWorker.controller !== null", polling=100)
    assert missing == []
    page.goto(f"{address}/boats/cards/{CARD}/?thread=M10")
    page.locator("table.bw-numbers td b").filter(has_text="16 mm").first.wait_for(state="attached")
    assert page.evaluate("fetch('/nonesuch').then(() => 'there', () => 'gone')") == "gone"
    manifest = json.loads((host / "boats/manifest.webmanifest").read_text(encoding="utf-8"))
    assert (host / "boats" / manifest["icons"][0]["src"]).is_file()
    context.close()
