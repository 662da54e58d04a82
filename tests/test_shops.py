"""A shop is its units, its threads and drills, and its steps: a third one takes a row of YAML and no code."""

from __future__ import annotations

import ast
import re
import shutil
from dataclasses import replace
from math import isclose
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from test_live_parity import differences, in_node, in_python

from conftest import CARD, HOUSE
from generator.check import load_checked
from generator.cli import main
from generator.errors import Faults
from generator.model.library import Library, load
from generator.pages.card import CardPage
from generator.pages.job_sheet import JobPage
from generator.pages.options import SiteOptions
from generator.pages.site import site_files
from generator.pages.words import shown_apart
from generator.reckoning import reckon
from generator.units import SYSTEMS

if TYPE_CHECKING:
    from playwright.sync_api import Browser

# Metric, with the set of drills that came with the boat.
OLD_SET = """\
  old-set:
    title: metric shop with an inch set of drills
    units: metric
    threads: metric
    drills: inch
    source: common-practice
    gives: {s_o: 6 mm, s_t: 2 mm, s_d: 1 mm, s_kb: 0.1 mm, s_by: 10 mm, h_by: 160 mm, l_sp: 100 mm, s_sn: 0.1 Nm}
"""
SHEET = "procedures/jobs/class-dinghy.yaml"


@pytest.fixture(scope="module")
def old_house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project with a third shop, which one of its job sheets is for."""
    house = tmp_path_factory.mktemp("third")
    shutil.copytree(HOUSE / "procedures", house / "procedures")
    shops = house / "procedures/data/shops.yaml"
    shops.write_text(shops.read_text(encoding="utf-8") + OLD_SET, encoding="utf-8")
    sheet = house / SHEET
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("shop: metric", "shop: old-set"), encoding="utf-8")
    return house


@pytest.fixture(scope="module")
def third(old_house: Path) -> Library:
    """That project, checked."""
    return load_checked(old_house / "procedures")


def test_nothing_asks_whether_a_shop_is_metric_but_the_unit_system() -> None:
    """What goes by the units is told for both, and `by_system` chooses; else a third shop would need code."""
    code = [path for path in (HOUSE / "generator").rglob("*.py") if path.name != "units.py"]
    asking = [
        f"{path.name}:{node.lineno}"
        for path in code
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Compare)
        for side in (node.left, *node.comparators)
        if isinstance(side, ast.Constant) and side.value in SYSTEMS
    ]
    asking += [
        path.name
        for path in (HOUSE / "generator/templates").rglob("*.j2")
        if re.search(rf"[!=]= *[\"'](?:{'|'.join(SYSTEMS)})\b", path.read_text(encoding="utf-8"))
    ]
    assert asking == []


def inch_drills(library: Library) -> set[float]:
    """Every size in the inch sets (m)."""
    return {size for kind in ("twist", "flat") for size in library.stock_of(kind, "inch").sizes}


def test_a_third_shop_works_every_sheet_with_its_own_drills_in_its_own_units(third: Library) -> None:
    inch = inch_drills(third)
    drilled = 0
    for _, sheet in third.sheets():
        reckoning = reckon(third, sheet, {"shop": "old-set"})
        assert reckoning.system == "metric"
        assert reckoning.texts.get("thread") == reckon(third, sheet, {"shop": "metric"}).texts.get("thread")
        for step in reckoning.working.trail:
            if step.symbol in ("D_o", "D_g") and step.by is not None:
                drilled += 1
                assert step.value in inch
                assert reckoning.unit(step.symbol) == "mm"
    assert drilled > 10


def test_a_third_shop_on_the_command_line(
    third: Library, old_house: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(old_house)
    monkeypatch.setattr("generator.cli.load_checked", lambda *_, **__: third)
    assert main(("work", CARD, "shop=old-set")) == 0
    out, told = capsys.readouterr()
    assert "fractional" not in told
    assert "metric shop with an inch set of drills" in out
    assert re.search(r"oversized hole +14.3 mm", out)  # 9/16 in, told in millimetres


def test_a_job_sheet_in_a_third_shop(third: Library) -> None:
    page = JobPage(third, "class-dinghy", SiteOptions())
    assert ("shop", "old-set") in page.conditions
    inch = inch_drills(third)
    steps = [step for one in page.worked.fittings for step in one.reckoning.working.trail if step.by is not None]
    bored = [step.value for step in steps if step.symbol in ("D_o", "D_g")]
    assert bored
    assert all(size in inch for size in bored)
    drills = [item.what.split(", ") for item in page.worked.shopping if item.group == "Drills"]
    assert drills
    sizes = [next(part for part in parts if part[:1].isdigit()) for parts in drills]
    assert all(size.endswith("mm") for size in sizes)
    # The cards' pages are made for the other shops, so no link leads to one set for this.
    assert "](" not in str(page.links[0][1])


@pytest.fixture(scope="module")
def shown(third: Library) -> dict[str, str]:
    """A card's pages and a table's in the third shop as well."""
    options = SiteOptions(cards=(CARD,), tables=("stepped-holes",), jobs=()).of(third)
    assert list(options.systems) == [*SYSTEMS, "old-set"]
    assert list(replace(options, units="metric").systems) == ["metric", "old-set"]
    return site_files(third, options)


def test_a_third_shop_has_its_place_on_every_page_that_the_two_have(shown: dict[str, str]) -> None:
    pages = {name: text for name, text in shown.items() if 'data-shop="inch"' in text and name.endswith(".md")}
    assert {"index.md", f"cards/{CARD}.md", "tables/stepped-holes.md", "print/wall-stepped-holes.md"} <= pages.keys()
    shops = (*SYSTEMS, "old-set")
    for name, text in pages.items():
        body = re.sub("<style>.*?</style>", "", text)
        assert body.count('data-shop="old-set"') == body.count('data-shop="inch"') > 0, name
        # A shop may have the name of any part of a page, so no class is made of it.
        assert not {f"bw-{shop}" for shop in shops} & {*" ".join(re.findall(r'class="([^"]*)"', body)).split()}, name
        ids = re.findall(r' id="([^"]*)"', text)
        assert len(ids) == len(set(ids)), name
    table = shown["tables/stepped-holes/table-old-set-metric-coarse-flat.csv"]
    assert ",14.3," in re.search("^M8,.*", table, re.MULTILINE)[0]  # 9/16 in
    assert ",14.3," not in shown["tables/stepped-holes/table-metric-metric-coarse-flat.csv"]
    assert {*re.findall(r"[.]([a-z-]+)", shown_apart(shops))} == {"bw-shop"}
    assert '<section class="bw-aid-sheet" id="old-set-m8">' in shown["print/drilling-aids.md"]


@pytest.mark.parametrize("card", ["bonded-bush", "cast-thread", "heat-removal"])
def test_shops_with_the_same_threads_have_files_of_their_own(third: Library, card: str) -> None:
    """Their drills may differ, and with them the numbers of a table that goes by threads."""
    page = CardPage(third, card, SiteOptions().of(third))
    assert {grid.shop for grid in page.grids} == {*SYSTEMS, "old-set"}
    assert [page.files[f"{grid.name}.csv"] for grid in page.grids] == [grid.csv for grid in page.grids]
    first, own = (next(grid for grid in page.grids if grid.shop == shop) for shop in ("metric", "old-set"))
    assert first.title == own.title
    assert first.csv != own.csv


def test_the_switch_shows_one_of_three_shops(shown: dict[str, str], browser: Browser) -> None:
    style = "".join((HOUSE / f"docs/assets/{name}.css").read_text(encoding="utf-8") for name in ("cards", "card"))
    card = shown[f"cards/{CARD}.md"]
    (bar,) = re.findall(r'<section class="bw-keys".*?</section>', card, re.DOTALL)
    (switch,) = re.findall(r'<style>[^<]*</style>\s*<fieldset class="bw-shop">.*?</fieldset>', card, re.DOTALL)  # fmt: skip
    shops = (*SYSTEMS, "old-set")
    texts = "".join(f'<p data-shop="{shop}">{shop}</p><div><p data-shop="{shop}">{shop}</p></div>' for shop in shops)
    page = browser.new_page()
    page.set_content(f"<style>{style}</style>{switch}{texts}{bar}")
    for shop in shops:
        page.locator(f"#bw-shop-{shop}").check()
        assert page.locator("p[data-shop]:visible").all_inner_texts() == [shop, shop]
        others = [one.replace("-", " ") for one in shops if one != shop]
        assert page.locator(".bw-key-shop:visible").all_inner_texts() == others
    page.close()


def test_a_third_shop_has_the_same_numbers_live(third: Library, tmp_path: Path) -> None:
    drawn = [("old-set", {}), ("old-set", {"thread": "M12", "T": "70 mm"})]
    for (shop, inputs), theirs in zip(drawn, in_node(CARD, drawn, tmp_path, third), strict=True):
        assert differences(theirs, in_python(CARD, shop, inputs, theirs, library=third)) == []
        assert any(isclose(theirs["values"]["D_o"], size, rel_tol=1e-12) for size in inch_drills(third))


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        ("shops", "    drills: inch\n", "", "the shop 'old-set' has no drills; name under 'drills' whose it works with: metric, inch"),
        ("shops", "    threads: metric\n", "", "the shop 'old-set' has no threads; name under 'threads'"),
        ("shops", "units: inch", "units: metric", "the inch shop measures in inch units; write inch"),
        ("drills", "shop: inch", "shop: inches", "'inches' is no shop; shops: metric, inch, old-set"),
    ],
    ids=["no-drills", "no-threads", "units", "unknown"],
)  # fmt: skip
def test_a_shop_that_lacks_something(old_house: Path, file: str, old: str, new: str, words: str) -> None:
    path = old_house / f"procedures/data/{file}.yaml"
    whole = path.read_text(encoding="utf-8")
    path.write_text(whole.replace(old, new), encoding="utf-8")
    try:
        with pytest.raises(Faults) as told:
            load(old_house / "procedures")
    finally:
        path.write_text(whole, encoding="utf-8")
    assert words in str(told.value)
