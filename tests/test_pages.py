"""The generated pages as text: complete, escaped, the same twice, and their CSV twins."""

from __future__ import annotations

import csv
import io
import re
import sys
from collections.abc import Mapping
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from markdown import markdown
from markdown.extensions.toc import slugify

from conftest import CARD, HOUSE, planned
from generator.language import Language, speaking
from generator.model.library import Library, load
from generator.pages.csv_table import csv_text
from generator.pages.options import SiteOptions
from generator.pages.paper import css_string
from generator.pages.site import site_files
from generator.pages.words import caution_html, markdown_text
from generator.units import SHIPPED_SHOPS, unbroken

SECTIONS = [
    "Use it when",
    "Do not use it when",
    "What you need",
    "Time",
    "Cautions",
    "Steps",
    "How much to trust it with",
    "Record",
    "Sizes by thread",
    "Joints that this shop pulled",
]
# A site of one card, for what an option changes on it.
ALONE: dict[str, Any] = {"cards": (CARD,), "tables": (), "jobs": ()}
BEHIND = ["Worked example", "Check values", "Sources"]


@pytest.fixture(scope="module")
def page(files: Mapping[str, str]) -> str:
    return files[f"cards/{CARD}.md"]


@pytest.fixture(scope="module")
def working(files: Mapping[str, str]) -> str:
    return files[f"cards/{CARD}/working.md"]


def test_the_sections_stand_in_order(page: str, working: str) -> None:
    assert re.findall(r"^## (.+)$", page, re.MULTILINE) == SECTIONS
    assert re.findall(r"^## (.+)$", working, re.MULTILINE) == BEHIND


def test_every_worked_value_leads_to_its_working(library: Library, files: Mapping[str, str]) -> None:
    for name in library.cards:
        page, ids = files[f"cards/{name}.md"], set(re.findall(r' id="([^"]+)"', files[f"cards/{name}/working.md"]))
        led = set(re.findall(r'href="working/#([^"]+)"', page))
        assert led <= ids, name
        assert {f"source-{key}" for key in re.findall(r"#source-([^\"]+)", page)} <= led
        values = set(re.findall(r'<a data-s="(\w+)"', page))
        assert len(values) > 20
        unled = set(re.findall(r'<a data-s="(\w+)">', page))
        assert not {f"metric-{symbol}" for symbol in unled} & ids, name
        handout = set(re.findall(rf'href="../../cards/{name}/working/#([^"]+)"', files["print/handout.md"]))
        assert {*library.cards[name].outputs} & values
        assert handout <= led
        assert len(handout) > 10


def test_the_bar_shows_no_load_of_several_and_leads_to_all(library: Library, files: Mapping[str, str]) -> None:
    """Its load is the only one that the card tells, or none: another way of pulling may bear less."""
    led = set()
    for name, card in library.cards.items():
        (bar,) = re.findall(r'<section class="bw-keys".*?</section>', files[f"cards/{name}.md"], re.DOTALL)
        shown = set(re.findall(r'<a data-s="(\w+)"', bar.split("<dl>")[1])) & {*card.loads}
        assert not shown or [*shown] == card.loads, name
        for target in re.findall(r'<dd data-of><a href="#([^"]*)"', bar):
            assert target == slugify("How much to trust it with", "-")
            (trust,) = re.findall(r'<table class="bw-trust">.*?</table>', files[f"cards/{name}.md"], re.DOTALL)
            assert {*card.loads} <= {*re.findall(r'data-s="(\w+)"', trust)}, name
            led.add(name)
    assert led == {name for name, card in library.cards.items() if card.job and card.job.carries}


def test_no_browser_puts_back_what_was_typed(files: Mapping[str, str]) -> None:
    """A page remembers what it should; what a browser restored over that would stand beside numbers worked from other
    inputs. Only a form can tell a browser so for its lists and texts. What is ticked is followed by the page."""
    seen = 0
    for name, text in files.items():
        if not name.endswith(".md"):
            continue
        outside = re.sub(r'<form [^>]*autocomplete="off".*?</form>', "", text, flags=re.DOTALL)
        controls = re.findall(r"<(?:input|select|textarea)\b[^>]*>", outside)
        assert [
            one for one in controls if not re.match(r'<input .*(?:type="(?:radio|checkbox)"|autocomplete="off")', one)
        ] == [], name
        seen += len(re.findall(r"<(?:input|select|textarea)\b", text))
    assert seen > 300


def test_the_same_input_gives_the_same_bytes(library: Library, files: Mapping[str, str], site: Path) -> None:
    """Read and made again here with the same plans; what no theme is put around, plans too, made by another process."""
    assert site_files(load(library.root), SiteOptions(), planned(library)) == files
    data = {name: text for name, text in files.items() if name.endswith((".csv", ".ics"))}
    assert {name.split("/")[1] for name in data if name.startswith("jobs/")} == {*library.job_sheets}
    assert [name for name, text in data.items() if (site / name).read_bytes() != text.encode()] == []


def test_no_page_tells_what_was_written_before_it(library: Library) -> None:
    """A process that remembers nothing yet writes the same in English whether it has written German or not."""
    options = SiteOptions(cards=(CARD,), tables=("bond-capacity",), jobs=())
    written: list[list[dict[str, str]]] = []
    for languages in ([None], [Language("de", {}), None]):
        for module in [module for name, module in sys.modules.items() if name.startswith("generator.")]:
            for one in vars(module).values():
                if hasattr(one, "cache_clear"):
                    one.cache_clear()
        written.append([])
        for language in languages:
            with speaking(language):
                written[-1].append(site_files(library, options))
    (alone,), (german, behind) = written
    assert behind == alone != german


def test_the_page_is_one_block_a_paragraph(page: str) -> None:
    """A blank line inside an HTML block would end it for Markdown."""
    for tag in ("svg", "table", "ol", "figure", "dl", "fieldset"):
        for block in re.findall(rf"^<{tag}\b.*?^</{tag}>", page, re.MULTILINE | re.DOTALL):
            assert "\n\n" not in block, block[:200]


def test_each_worked_value_stands_once_a_shop(page: str) -> None:
    step = page[page.index("Drill the oversized hole first") :]
    assert (
        '<span data-shop="metric">14\u00a0mm</span><i> or </i>'
        '<span data-shop="inch">9/16\u00a0in</span></a> <a data-s="large_drill">flat bit</a>' in step
    )


def test_every_step_says_what_to_see(library: Library, page: str) -> None:
    assert page.count('<p class="bw-see">') == len(library.cards[CARD].steps)


def test_every_caution_is_there_and_the_defer_line_is_marked(library: Library, page: str) -> None:
    cautions = page[page.index("## Cautions") :]
    for key in library.cards[CARD].all_cautions:
        assert unbroken(caution_html(library.cautions[key].text, SHIPPED_SHOPS)) in cautions
    assert cautions.count("bw-defer") == 1


def test_marks_of_what_no_publication_stands_behind_are_printed(page: str, working: str) -> None:
    assert "common practice, no source" in page
    assert "from memory, not checked" in working


def test_check_values_are_printed_with_their_difference(working: str) -> None:
    checks = working[working.index("## Check values") : working.index("## Sources")]
    assert "36.6 mm2" not in checks
    assert "<td>36.6\u00a0mm²</td><td>36.6085\u00a0mm²</td><td>0.0085\u00a0mm²</td>" in checks


# A card whose table runs over every series of threads.
BY_THREAD = "cast-thread"


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("series", ["metric-coarse", "metric-fine", "unc", "unf"])
def test_a_csv_holds_the_numbers_of_its_table(library: Library, files: Mapping[str, str], series: str) -> None:
    page, rows = files[f"cards/{BY_THREAD}.md"], rows_of(files[f"cards/{BY_THREAD}/sizes-{series}.csv"])
    assert [row["thread"] for row in rows] == [thread.size for thread in library.series[series].rows]
    title = library.series[series].title
    table = re.search(rf"<caption>{re.escape(title)}</caption>.*?</table>", page, re.DOTALL)
    assert table
    printed = re.findall(r'<th scope="row">(.*?)</th>(.*?)</tr>', table[0])
    assert len(printed) == len(rows)
    for (thread, cells), row in zip(printed, rows, strict=True):
        # Where there is no number, a cell holds a dash and its twin nothing.
        numbers = [None if cell == "—" else as_decimal(cell) for cell in re.findall(r"<td>(.*?)</td>", cells)]
        assert [thread, *numbers] == [
            row["thread"],
            *(float(text) if text else None for text in list(row.values())[1:]),
        ]


def as_decimal(cell: str) -> float:
    whole, _, fraction = cell.rpartition("\u00a0") if "/" in cell else (cell, "", "")
    value = float(whole or 0)
    if fraction:
        over, under = fraction.split("/")
        value += float(over) / float(under)
    return value


def test_csv_headers_name_symbol_and_unit(files: Mapping[str, str]) -> None:
    header = files[f"cards/{BY_THREAD}/sizes-metric-coarse.csv"].split("\n")[0]
    assert header.startswith("thread,D_g (mm),D_o (mm),L_ct (mm),L_o (mm)")
    header = files[f"cards/{BY_THREAD}/sizes-unc.csv"].split("\n")[0]
    assert header.startswith("thread,D_g (in),D_o (in),L_ct (in)")
    assert "V_1 (mL)" in header


def test_the_marked_row_is_the_job_drawn(page: str) -> None:
    marked = re.findall(r'<tr class="bw-default"><th scope="row">(.*?)</th>', page)
    assert marked == ["M8", "5/16-18 UNC"]


def test_one_shop_only(library: Library) -> None:
    page = site_files(library, SiteOptions(units="inch", **ALONE))[f"cards/{CARD}.md"]
    assert 'data-shop="metric"' not in page
    assert "bw-shop" not in page
    assert "9/16\u00a0in" in page


def test_the_paper_is_the_one_asked_for(library: Library) -> None:
    assert (
        "@page { size: Letter; margin" in site_files(library, SiteOptions(paper="Letter", **ALONE))[f"cards/{CARD}.md"]
    )


def test_a_printed_card_carries_its_title_its_revision_and_a_code(library: Library, page: str) -> None:
    hosted = site_files(library, SiteOptions(address="https://example.org/class/", **ALONE))[f"cards/{CARD}.md"]
    style = hosted[hosted.index("<style>") : hosted.index("</style>")]
    assert '@top-left { content: "Bonded fitting in a stepped hole"; ' in style
    assert f'@top-right {{ content: "Card revision {library.cards[CARD].revision}. Data of ' in style
    assert "certifies nothing" in style
    assert f"<title>Code for https://example.org/class/cards/{CARD}/</title>" in hosted
    assert "<title>Code for" not in page


def test_a_title_cannot_end_the_style_it_stands_in() -> None:
    assert css_string('a"; } </style><script>') == "a\\22 \\3b  \\7d  \\3c \\2f style\\3e \\3c script\\3e "


def test_the_drawings_of_a_page_share_their_patterns(files: Mapping[str, str]) -> None:
    for path in (f"cards/{CARD}.md", "cards/index.md", "print/handout.md"):
        page = files[path]
        assert page.count("<defs") == 1, path
        painted = set(re.findall(r"url\(#([^)]+)\)", page))
        assert len(painted) > 3
        assert painted <= set(re.findall(r'<pattern id="([^"]+)"', page))


def test_an_undefined_name_in_a_template_is_an_error() -> None:
    from jinja2 import UndefinedError

    from generator.pages.site import environment

    with pytest.raises(UndefinedError):
        environment().from_string("{{ mispelt }}").render()


def test_templates_work_nothing_out() -> None:
    """No number and no arithmetic between a template's braces."""
    from conftest import HOUSE

    for path in (HOUSE / "generator/templates").glob("*.j2"):
        for expression in re.findall(r"\{\{(.*?)\}\}", path.read_text(encoding="utf-8")):
            outside_quotes = re.sub(r"\"[^\"]*\"|'[^']*'|\[0\]", "", expression)
            assert not re.search(r"\d|[*/+]|(?<!\w)-", outside_quotes), f"{path.name}: {expression}"


def test_no_class_is_for_rows_and_for_other_things() -> None:
    """A style sheet that hides a paragraph would hide the row of a table that has its class, and on paper."""
    from conftest import HOUSE

    rows = {"table", "caption", "thead", "tbody", "tr", "th", "td"}
    on: dict[str, set[str]] = {}
    for path in (HOUSE / "generator/templates").rglob("*.j2"):
        text = re.sub(r"\{[{%#].*?[}%#]\}", "", path.read_text(encoding="utf-8"))
        for tag, classes in re.findall(r"<(\w+)[^<>]* class=\"([^\"]*)\"", text):
            for name in classes.split():
                on.setdefault(name, set()).add("row" if tag in rows else "other")
    on.pop("bw-on-paper")  # it is for whatever stands on paper alone
    assert len(on) > 100
    assert [name for name, kinds in on.items() if len(kinds) > 1] == []


def test_the_edge_of_a_control_is_as_dark_as_its_text() -> None:
    """A rule between two rows may be pale. What is to be pressed or filled in has an edge of 3:1 at least, in light and dark."""
    from conftest import HOUSE

    control = re.compile(r"\b(?:button|input|select|textarea)\b[^ ]*$")
    edged = []
    for path in (HOUSE / "docs/assets").glob("*.css"):
        text = re.sub(r"/\*.*?\*/|@[^{;]*(?=[{;])", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
        for selectors, says in re.findall(r"([^{}]+)\{([^{}]*)\}", text):
            if control.search(selectors.strip()) and (edge := re.search(r"border: [^;]*solid ([^;]*);", says)):
                edged.append((path.name, selectors.strip(), edge[1]))
    assert len(edged) >= 5
    assert [one for one in edged if one[2] != "currentcolor"] == []


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+x", "'+x"),
        ("-2+3", "'-2+3"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\tx", "'\tx"),
        ("-12.5", "-12.5"),
        ("+3", "+3"),
        ("M8 - a stud", "M8 - a stud"),
        ("", ""),
    ],
)
def test_no_cell_is_worked_by_a_spreadsheet_and_numbers_stay_numbers(cell: str, written: str) -> None:
    rows = list(csv.reader(io.StringIO(csv_text(["head", "=head"], [["x", cell]]))))
    assert rows == [["head", "'=head"], ["x", written]]


@pytest.mark.parametrize("text", ["- x", "+ x", "1. x", "12) x", "* x", "# x", "> x", "a | b", "-", "=", "---", "~~~"])
def test_text_on_a_line_of_its_own_is_no_markup(text: str) -> None:
    """Behind the sign of a list, as the cards' conditions stand, and at the beginning of a line."""
    for front in ("", "- "):
        html = markdown(f"{front}{markdown_text(text)}", extensions=["tables", "attr_list", "md_in_html", "toc"])
        said = unescape(re.sub("<[^>]*>", "", html)).strip()
        assert said == text
        assert html.count("<") == (4 if front else 2), html


def test_a_full_back_says_what_a_load_across_is_for_where_it_drops_its_rules(files: Mapping[str, str]) -> None:
    """The first sentence stands wherever the load does; only the rules behind it give way."""
    told = r"<p[^>]*>Across: for (?:(?!</p>).)*? <span class=\"bw-rules\">A bed counts as a gap"
    assert sum(bool(re.search(told, page)) for name, page in files.items() if name.startswith("cards/")) >= 5
    style = (HOUSE / "docs/assets/cards.css").read_text(encoding="utf-8")
    assert re.findall(r"(\S+) \.bw-rules \{ display: none", style) == ['.bw-why[data-way="lean"]']
