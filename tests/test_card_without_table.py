"""A card on which nothing goes by the thread has no table of sizes, and its page does not speak of one."""

from __future__ import annotations

import pytest

from conftest import Run
from generator.model.library import Library
from generator.pages.options import SiteOptions
from generator.pages.site import site_files


@pytest.fixture(scope="module")
def files(library: Library) -> dict[str, str]:
    return site_files(library, SiteOptions())


def test_no_table_no_heading_no_file(library: Library, files: dict[str, str]) -> None:
    assert library.cards["mixing"].table is None
    assert library.cards["mixing"].sizes == []
    page = files["cards/mixing.md"]
    assert "## Sizes by thread" not in page
    assert "bw-sizes" not in page
    assert not [name for name in files if name.startswith("cards/mixing/sizes-")]
    assert "## Worked example" in page


def test_no_drill_list_is_cited_where_nothing_is_drilled(library: Library, files: dict[str, str]) -> None:
    (source,) = {stock.source for stock in library.stock if (stock.kind, stock.shop) == ("twist", "inch")}
    assert f'id="source-{source}"' in files["cards/bonded-stepped-hole.md"]
    assert f'id="source-{source}"' not in files["cards/mixing.md"]


def test_other_cards_keep_theirs(library: Library, files: dict[str, str]) -> None:
    assert library.cards["heat-removal"].sizes[0] == "d"
    assert "## Sizes by thread" in files["cards/heat-removal.md"]
    assert "cards/heat-removal/sizes-unc.csv" in files


def test_a_card_with_no_table_is_checked_and_worked(generator: Run) -> None:
    assert generator("check").returncode == 0
    assert "m_r" in generator("work", "mixing", "m_b=50 g").stdout
