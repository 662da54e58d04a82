"""One's own folder over what ships: entries by id, the shop in one file, published values by the book, and fewer pages."""

from __future__ import annotations

import json
import posixpath
import re
from argparse import Namespace
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from conftest import CARD, HOUSE, KEPT
from generator.catalogue import first_file
from generator.check import load_checked, shop_warnings, warnings
from generator.cli import COMMANDS
from generator.editor import drawings, schema, schema_files, set_in
from generator.errors import BondwrightError, Faults
from generator.evidence import judge
from generator.figures.faults import drawing_names
from generator.kept import Kept
from generator.language import Language, read_language, speaking
from generator.model.library import Library, in_language, load
from generator.pages.card import CardPage
from generator.pages.chosen import chosen, without_dead_links
from generator.pages.options import SiteOptions
from generator.pages.result import ResultPage
from generator.pages.site import drawings_page, environment, site_files
from generator.pages.tongues import libraries_in
from generator.pages.worded import remarks_of
from generator.published import check_result
from generator.reckoning import reckon
from generator.settings import Options
from generator.starter import sources, start

SHIPPED = HOUSE / "procedures"
SHOP = """\
name: Harbour School
units: metric
rules: Nobody drills alone.
drills:
  twist: [3, 4, 5, 6, 8, 10, 12]
  flat: [10, 12, 16]
epoxy: {title: our epoxy, resin: 1.13 g/mL, hardener: 0.97 g/mL, ratio: "100:38 by weight"}
hardeners:
  slow: {lasts: 45 min, cup: 150 g, at: 22 degC}
fillers:
  dense-mineral: {loose: 0.75 g/mL}
defaults: {thread: M6, hardener: slow, T_a: 18 degC}
"""


BAD = """\
title: Bad
revision: "1"
group: Bonded for good
purpose: x
use_when: [a]
not_when: [b]
givens:
  T: {default: 1,5 mm}
  thread:
wanted: [D_o, m_r, t_h]
plan: [{what: x, active: 15 min}]
needs:
  tools: [{what: d}]
  materials: [{what: y}]
steps: [{title: Drill, do: x, see: y}]
checks: [{what: a, symbol: D_o, value: 14 mm, tolerance: 1 mm, source: common-practice}]
cautions: [drilling, defer]
"""


def own_folder(folder: Path, **files: str) -> Path:
    """A folder `mine` with these files; two underscores stand for a slash."""
    mine = folder / "mine"
    for name, text in files.items():
        path = mine / f"{name.replace('__', '/')}.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return mine


@pytest.fixture(scope="module")
def library() -> Library:
    """What ships; other tests check it."""
    return load(SHIPPED)


@pytest.fixture(scope="module")
def harbour(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """The checked library of a shop with its own file, a hole of its own, a source that nothing uses, and what the
    command begins: a card, a table and a job sheet, of what German alone calls a designer's."""
    folder = tmp_path_factory.mktemp("harbour")
    mine = own_folder(
        folder,
        shop=SHOP,
        data__holes="rows:\n  through: {title: open hole, source: solid-geometry, gives: {V_e: 0 mL, A_e: 0 mm2}}\n",
        sources="sources:\n  spare: {basis: your own, cite: a sheet in a drawer}\n",
    )
    with pytest.MonkeyPatch.context() as here:
        here.chdir(folder)
        set_to = set_in(load((SHIPPED, mine)))
        with speaking(read_language("de", [SHIPPED])):
            for kind in ("card", "table", "job"):
                start(kind, "our-own", set_to, first_file)
    job_sheet = mine / "jobs/our-own.yaml"
    job_sheet.write_text(
        job_sheet.read_text(encoding="utf-8").replace("Klampe der Fockschot", "Mastspur"), encoding="utf-8"
    )
    return load_checked((SHIPPED, mine))


def test_what_a_command_begins_is_whole(harbour: Library) -> None:
    for kind in ("cards", "tables", "jobs"):
        assert not harbour.ships(f"{kind}/our-own.yaml")
        assert harbour.documents[f"{kind}/our-own.yaml"].text.startswith("# yaml-language-server: $schema=../schema/")
    assert harbour.cards["our-own"].title == harbour.reference["our-own"].title == "Our own"
    assert harbour.cards["our-own"].steps[0].title == "Bohren"
    assert str(harbour.job_sheets["our-own"].fittings[0].load.stated) == "500 N"
    assert (
        set_in(replace(harbour, shop_file=harbour.shop_file.model_copy(update={"units": "inch"})))["load"] == "110 lbf"
    )
    assert CardPage(harbour, "our-own", SiteOptions()).figure_number(0) == 0
    conditions = harbour.job_sheets["our-own"].conditions
    assert (conditions.resin, conditions.ratio, conditions.hardener) == ("own", "100:38 by weight", "slow")
    assert (str(conditions.temperature), harbour.job_sheets["our-own"].fittings[0].given["thread"]) == ("18 degC", "M6")
    own = SiteOptions(cards=("our-own", CARD), tables=("our-own",), jobs=("our-own",))
    files = site_files(harbour, own.of(harbour))
    assert ResultPage(harbour, "trial-joint", SiteOptions()).tests_folder == "mine/tests"
    assert {"cards/our-own.md", "cards/our-own/drawings.js", "tables/our-own.md", "jobs/our-own.md"} <= files.keys()


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_all_that_a_command_begins_in_a_new_site_passes_check(
    units: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    start("site", "boats")
    monkeypatch.chdir(tmp_path / "boats")
    shop = Path("mine/shop.yaml")
    shop.write_text(shop.read_text(encoding="utf-8").replace("# units: metric", f"units: {units}"), encoding="utf-8")
    layers = (SHIPPED, Path("mine"))
    set_to = set_in(load(layers))
    for kind in ("card", "table", "job"):
        start(kind, "our-own", set_to)
    library = load_checked(layers)
    assert library.job_sheets["our-own"].conditions.shop == units


def test_the_comments_of_a_first_file_speak_the_language_of_the_site() -> None:
    for name, text in sources().items():
        with speaking(read_language("de", [SHIPPED])):
            told = first_file(name, text)
        assert len(remarks_of(told)) == len(remarks_of(text)), name
        assert not {*remarks_of(told)} & {*remarks_of(text)}, name
        asked = [re.findall(r"(?m)^(?: *# )? *[\w-]+:", one) for one in (text, told)]
        assert asked[0] == asked[1], "no key is told otherwise"


def test_every_file_has_the_shape_that_its_schema_tells(harbour: Library, library: Library) -> None:
    folders = {"card": "cards", "table": "tables", "job": "jobs", "test": "tests"}
    for path, text in schema_files(library).items():
        told = (SHIPPED / path).read_text(encoding="utf-8")
        assert told == text, "write the shapes anew: bondwright schema --into procedures"
    for kind, folder in folders.items():
        for path in (SHIPPED / folder).glob("*.yaml"):
            first = path.read_text(encoding="utf-8").partition("\n")[0]
            assert first == f"# yaml-language-server: $schema=../schema/{kind}.json"
    jsonschema = pytest.importorskip("jsonschema")
    for kind, folder in folders.items():
        shape = jsonschema.Draft202012Validator(schema(kind, harbour))
        for layer in harbour.layers:
            for path in (layer / folder).glob("*.yaml"):
                read = json.loads(json.dumps(yaml.safe_load(path.read_text(encoding="utf-8")), default=str))
                assert not [f"{path.name}: {error.message}" for error in shape.iter_errors(read)]
    card = yaml.safe_load((harbour.root / "cards/our-own.yaml").read_text(encoding="utf-8"))
    shape = jsonschema.Draft202012Validator(schema("card", harbour))
    for slip in ({"wanted": ["D_kk"]}, {"titel": "x"}, {"cautions": ["driling"]}, {"figure": "hole"}, {"steps": "x"}):
        assert [*shape.iter_errors({**card, **slip})]
    shape = jsonschema.Draft202012Validator(schema("shop", harbour))
    assert not [*shape.iter_errors(yaml.safe_load(SHOP))]


def test_a_drawing_tells_what_it_needs(library: Library) -> None:
    shown = {one.name: one for one in drawings(library)}
    assert set(shown) == {name for card in library.cards.values() for _, name in drawing_names(card)}
    assert {"D_g", "D_o", "L_o", "T", "d"} <= set(shown["stepped-hole-section"].needs)
    assert CARD in shown["stepped-hole-section"].cards
    page = drawings_page(environment(), library)
    for one in shown.values():
        told = page.partition(f"{{: #{one.name} }}")[2].partition("\n## ")[0]
        assert told.count("<svg ") == 1
        assert "No drawing" not in told
        assert re.findall(r"`(\w+)`", told.partition("Needs ")[2]) == one.needs


def test_an_entry_of_ones_own_goes_over_the_one_with_its_id(harbour: Library, library: Library) -> None:
    holes = harbour.tables["holes"]
    assert holes["through"].title == "open hole"
    assert holes["blind"] == library.tables["holes"]["blind"]
    assert harbour.dated == library.dated
    assert set(harbour.sources) - set(library.sources) == {"spare"}


def test_the_shop_file_sets_cards_and_stock(harbour: Library) -> None:
    """By hand: 100 g to 38 g; 45 min at 22 °C, four degrees colder and 2 ** 0.4 as slow, are 59.4 min."""
    reckoning = reckon(harbour, harbour.cards[CARD], {})
    assert reckoning.titles["thread"] == "M6"
    assert harbour.home
    assert harbour.chooser
    assert harbour.home.givens["thread"].metric == harbour.chooser.givens["thread"].metric == "M6"
    assert harbour.home.givens["T_a"].metric == "18 degC"
    assert reckoning.titles["resin"] == "our epoxy"
    values = reckoning.working.values
    assert values["m_r"] / values["m_h"] == pytest.approx(100 / 38)
    assert values["n_v"] == pytest.approx(100 / 38 * 0.97 / 1.13)
    assert values["t_w"] == pytest.approx(45 * 60 * 2**0.4, rel=1e-3)
    assert values["t_h"] > 36 * 3600 * 0.99  # the time to handle of the slow one that ships
    assert values["D_o"] == pytest.approx(0.012)
    assert values["rho_b"] == pytest.approx(750)
    inch = reckon(harbour, harbour.cards[CARD], {"shop": "inch"})
    assert inch.titles["thread"] == "5/16-18 UNC"
    assert inch.titles["resin"] != "our epoxy"


def test_what_a_shop_says_is_in_the_language_of_the_site(harbour: Library) -> None:
    """Its drills go by its name and by the word for the drill; its own words are not looked for in a catalogue."""
    assert harbour.stock_of("flat", "metric").title == "flat bit sizes of Harbour School"
    german = Language("de", {"flat bit": "Flachbohrer", "{drill} sizes of {shop}": "{drill} von {shop}"})
    there = in_language(harbour, german)
    with speaking(german):
        assert there.stock_of("flat", "metric").title == "Flachbohrer von Harbour School"
    assert "Harbour School" not in german.asked
    assert {"our epoxy", "Nobody drills alone.", "a sheet in a drawer"} <= harbour.own_texts & german.asked
    assert "flat bit" not in harbour.own_texts


def test_check_plans_job_sheets_in_each_language_and_one_that_its_words_spoil_is_put_aside_there(
    harbour: Library,
) -> None:
    """What stands on a mast step is a designer's, and only the German page calls it that."""
    one = replace(harbour, job_sheets={"our-own": harbour.job_sheets["our-own"]})
    kept = Kept()
    english, german = libraries_in(one, ["en", "de"], kept)
    assert ([*english.job_sheets], [*german.job_sheets]) == (["our-own"], [])
    assert ([*english.spoilt], [*german.spoilt]) == ([], ["our-own"])
    site = Options()
    site["languages"] = ["en", "de"]
    with pytest.raises(Faults, match=r"mine/jobs/our-own\.yaml:\d+:11: 'Mastspur' is what a designer decides"):
        COMMANDS["check"].run(one, Namespace(site=site, kept=kept))


def test_published_values_are_worked_with_what_ships(harbour: Library, library: Library) -> None:
    """This shop has no 14 mm drill, and its own M8 job takes the next; the published M8 hole is 14 mm all the same."""
    card, same = harbour.cards[CARD], library.cards[CARD]
    assert reckon(harbour, card, {"thread": "M8"}).working.values["D_o"] == pytest.approx(0.016)
    results = [check_result(harbour, card, check) for check in card.checks]
    assert results == [check_result(library, same, check) for check in same.checks]
    assert all(result.holds for result in results)


def test_what_cannot_be_worked_here_is_left_out_or_set_back_and_told(harbour: Library) -> None:
    told = [str(warning) for warning in warnings(harbour)]
    assert any(one.startswith("mine/sources.yaml:2:3: nothing uses the source 'spare'") for one in told)
    assert any("cannot be worked with the defaults of the shop" in one for one in told)
    assert "cards/worn-hole.yaml" in harbour.left_out, "its hard plug takes a 20 mm drill"
    assert "worn-hole" not in chosen(harbour, SiteOptions()).cards
    # A site that has not chosen it is not warned of it.
    about = next(one.file for one in warnings(harbour) if one.file.endswith("cards/worn-hole.yaml"))
    assert [SiteOptions(cards=cards).shows(about) for cards in (None, ("worn-hole",), (CARD,), ())] == [
        True,
        True,
        False,
        False,
    ]
    assert SiteOptions(cards=(), tables=(), jobs=()).shows("mine/sources.yaml")
    with pytest.raises(BondwrightError, match="'worn-hole' cannot be worked in this shop"):
        SiteOptions(cards=("worn-hole",)).of(harbour)


@pytest.mark.parametrize(
    ("files", "words"),
    [
        ({"shop": "name: A\nunits: metric\ndrills: {twsit: [10, 12]}\n"}, "mine/shop.yaml:3:17: 'twsit' is no kind of drill; did you mean 'twist'?"),
        ({"shop": "name: A\nhardeners: {slow: {title: Slow, ours.}}\n"}, "unknown key 'ours.'; if it ends a text, put that into quotes"),
        ({"shop": "name: A\nhardeners: {slow: {lasts: 25 h, at: 22 degC}}\n"}, "mine/shop.yaml:2:27: '25 h' is far from"),
        ({"shop": "name: A\nunits: metric\ndrills: {flat: [12, 10]}\n"}, "mine/shop.yaml:3:21: '10' is not above 12; sizes ascend"),
        ({"shop": "name: A\ndrills: {flat: [10, 12]}\n"}, "mine/shop.yaml:1:1: say whether these drills are metric or inch: add 'units'"),
        ({"shop": "name: A\nunits: metric\ndrills: {flaat: [10]}\n"}, "mine/shop.yaml:3:17: 'flaat' is no kind of drill"),
        ({"shop": "name: A\nhardeners:\n  slow: {lasts: 45 min, cup: 50 g}\n"}, "mine/shop.yaml:3:30: '50 g' is less than the 100 g that times are reckoned for"),
        ({"shop": "name: A\nhardeners:\n  slow: {at: 77 degC}\n"}, "mine/shop.yaml:3:14: no pot life is stated for '77 degC'; give 10 to 35 degC"),
        ({"shop": "name: A\nhardeners:\n  slow: {next_coat: 10 h, last_coat: 4 h}\n"}, "mine/shop.yaml:3:21: next_coat, 10 h, is later than last_coat, 4 h"),
        ({"shop": "name: A\nhardeners:\n  slow: {handle: 3 d}\n"}, "mine/shop.yaml:3:18: handle, 3 d, is later than light_load, 48 h"),
        ({"shop": "name: A\nhardeners:\n  slow: {full_load: 1 d}\n"}, "mine/shop.yaml:3:21: light_load, 48 h, is later than full_load, 1 d"),
        ({"shop": "name: A\nhardeners:\n  tropic: {lasts: 45 min}\n"}, "mine/shop.yaml:3:3: add title, at, coldest, cures_at, next_coat, last_coat, handle, light_load, full_load; or take a name that ships"),
        ({"shop": "name: A\ndefaults: {threed: M8}\n"}, "mine/shop.yaml:2:12: no card shares an input 'threed'; near it: thread"),
        ({"shop": "name: A\ndefaults: {thread: M7}\n"}, "mine/shop.yaml:2:20: thread: thread 'M7' is not in the data"),
        ({"shop": "name: A\nepoxy: {title: x, resin: 1 kg, hardener: 1 g/mL, ratio: '2:1 by volume'}\n"}, "mine/shop.yaml:2:26: resin: '1 kg' is not a density"),
        ({"shop": "name: A\ncolour: red\n"}, "mine/shop.yaml:2:1: unknown key 'colour'"),
        ({"cards__bad": BAD}, "mine/cards/bad.yaml:8:18: a comma parts two entries here; write the number with a point: 1.5 mm\n      T: {default: 1,5 mm}\n                     ^"),
        ({"cards__bad": BAD.replace("1,5 mm", "15 mm, ask: deep")}, ". Add to the givens: hardener, T_a, N, n_h, f_o, large_drill, guide_drill, "),
        ({"cards__bad": BAD.replace("what: d", "what: {D_o}")}, "a text that begins with a brace stands in quotes: \"{D_o}\""),
        ({"cards__bad": BAD.replace("what: d", "what: {D_o} hole")}, "13:18: a text that begins with a brace stands in quotes, or YAML takes it for a mapping"),
        ({"cards__bad": BAD.replace("m_r,", "m_rr,")}, "unknown symbol 'm_rr'; did you mean m_r"),
        ({"data__holes": "rows:\n  through: {title: a, source: nonesuch, gives: {V_e: 0 mL, A_e: 0 mm2}}\n"}, "mine/data/holes.yaml:2:31: unknown source 'nonesuch'"),
        ({"data__drills": "stock:\n  - {kind: flat, shop: metric, title: a, unit: mm, source: gone, sizes: [10]}\n"}, "mine/data/drills.yaml:2:60: unknown source 'gone'"),
    ],
)  # fmt: skip
def test_a_fault_stands_where_it_was_written(tmp_path: Path, files: dict[str, str], words: str) -> None:
    with pytest.raises(Faults) as told:
        load_checked((SHIPPED, own_folder(tmp_path, **files)), KEPT)
    assert words in told.value.shown()


def test_of_a_default_that_no_card_shares_one_thing_is_told(tmp_path: Path) -> None:
    with pytest.raises(Faults) as told:
        load_checked((SHIPPED, own_folder(tmp_path, shop="name: A\ndefaults: {nothing: 5 mm, thread: M6}\n")), KEPT)
    assert len(told.value.faults) == 1
    assert "no card shares an input 'nothing'" in told.value.faults[0].message


def test_a_card_of_ones_own_stands_whole_in_the_place_of_the_one_that_ships(tmp_path: Path) -> None:
    text = (SHIPPED / "cards/mixing.yaml").read_text(encoding="utf-8")
    mine = own_folder(tmp_path, cards__mixing=re.sub("(?m)^title: .*", "title: Our way to mix", text))
    both = load((SHIPPED, mine))
    assert both.cards["mixing"].title == "Our way to mix"
    assert both.book.cards["mixing"].title == "Our way to mix"
    assert not both.ships("cards/mixing.yaml")
    assert both.ships(f"cards/{CARD}.yaml")


def test_headings_stand_in_the_order_of_their_file_and_one_of_ones_own_after_them(tmp_path: Path) -> None:
    text = (SHIPPED / "cards/mixing.yaml").read_text(encoding="utf-8")
    mine = own_folder(tmp_path, cards__mixing=re.sub("(?m)^group: .*", "group: Before we begin", text))
    listed = load(SHIPPED).groups.cards
    assert [*chosen(load((SHIPPED, mine)), SiteOptions()).cards_by_group] == [*listed, "Before we begin"]
    own_folder(tmp_path, groups="cards: [Before we begin, Seats and plates]\n")
    assert [*chosen(load((SHIPPED, mine)), SiteOptions()).cards_by_group] == [
        "Before we begin",
        "Seats and plates",
        *sorted(group for group in listed if group != "Seats and plates"),
    ]


def test_five_cards_take_one_line_and_leave_no_dead_link(harbour: Library) -> None:
    five = ("mixing", CARD, "cast-thread", "bedded-solid", "heat-removal")
    options = SiteOptions("metric", threads=("metric-coarse",), cards=five, tables=("threads", "fillers"), jobs=())
    files = site_files(harbour, options.of(harbour))
    assert [name for name in files if re.fullmatch(r"cards/[^/]+\.md", name)] == [
        *(f"cards/{name}.md" for name in five),
        "cards/index.md",
    ]
    links = 0
    for name, text in files.items():
        for link in re.findall(r"\]\(([^()\s#?]+\.md)", text) if name.endswith(".md") else ():
            links += 1
            target = posixpath.normpath(posixpath.join(posixpath.dirname(name), link))
            assert target in files or target in ("authoring.md", "hosting.md", "changelog.md"), (name, link)
    assert links > 30
    assert "jobs/index.md" not in files
    assert "result.md" not in files
    assert "Bonded blind stud or rod" in files[f"cards/{CARD}.md"]
    assert "backing-plate" not in files["which-fixing.md"]
    assert "Nobody drills alone." in files["index.md"]
    assert files["print/handout.md"].count("Card revision") == 5
    assert 'id="source-si-2019"' in files["reference/sources.md"]
    assert "lippert" not in files["reference/sources.md"] or "lippert" in "".join(
        text for name, text in files.items() if name != "reference/sources.md"
    )


def test_a_site_of_tables_alone_has_no_page_of_cards_and_no_dead_link(harbour: Library) -> None:
    files = site_files(harbour, SiteOptions("metric", cards=(), tables=("threads",), jobs=()).of(harbour))
    assert "tables/threads.md" in files
    assert not [name for name in files if name.startswith(("cards/", "jobs/")) or name == "print/handout.md"]
    led = {link for text in files.values() for link in re.findall(r"\]\(([^()\s#?]+\.md)", text)}
    assert led
    assert not [link for link in led if "cards/" in link or "handout" in link]
    assert "\n[All tables](tables/index.md)\n" in files["index.md"]
    # Nothing to print, and no way to it.
    assert "print/index.md" not in files
    # A heading has something below it.
    empty = re.compile(r"^(#+) .*\n+(?:\Z|(?!\1#)#)", re.MULTILINE)
    assert not [name for name, text in files.items() if name.endswith(".md") and empty.search(text)]


def test_what_a_card_minds_in_ones_own_shop_alone_is_told(tmp_path: Path) -> None:
    """A ratio that is turned round is nothing that stops a build, and a boatbuilder must hear of it."""
    ratio = 'epoxy: {title: ours, resin: 1.13 g/mL, hardener: 0.97 g/mL, ratio: "%s by weight"}\n'
    told = [
        [
            str(one)
            for one in shop_warnings(load((SHIPPED, own_folder(tmp_path / way[:2], shop=f"name: A\n{ratio % way}"))))
        ]
        for way in ("43:100", "100:43")
    ]
    assert len([one for one in told[0] if "more hardener than resin" in one]) == 1
    assert told[0][0].startswith("mine/shop.yaml:1:1: in this shop '")
    assert told[1] == []


OAK = """title: Oak of ours
card: trial-joint
given: {thread: 5/16-18 UNC, T: 3 1/2 in, wood: white-oak}
measured: {gravity: "0.66", moisture: 12 %, cured: 7 d}
joints: [{load: 2000 lbf, failed: wood}]
"""


@pytest.mark.parametrize("by", ["file", "settings"])
def test_a_series_of_ones_own_was_made_in_ones_own_shop(tmp_path: Path, by: str) -> None:
    """By its shop's file or its site's settings; what ships, and what names a shop, stay as they are."""
    in_file = {"shop": "name: Ours\nunits: inch\n"} if by == "file" else {}
    metric = OAK.replace("{thread", "{shop: metric, thread")
    mine = own_folder(tmp_path, tests__oak=OAK, tests__abroad=metric, **in_file)
    library = load((SHIPPED, mine), None if in_file else "inch")
    shops = {name: judge(library, name, library.series_pulled[name]).reckoning.shop_name for name in ("oak", "abroad")}
    assert shops == {"oak": "inch", "abroad": "metric"}
    assert "shop" not in library.series_pulled["white-oak-demo"].given
    assert library.book.site_units == library.site_units
    assert "shop" not in load((SHIPPED, own_folder(tmp_path / "open", tests__oak=OAK))).series_pulled["oak"].given


def test_the_whole_card_that_the_docs_teach_is_one(tmp_path: Path) -> None:
    """It passes every check as it stands, in well under 120 lines, and what is said of its length is true."""
    taught = (HOUSE / "docs/authoring.md").read_text(encoding="utf-8").partition("### A whole card")[2]
    whole = taught.partition("```yaml\n")[2].partition("```")[0]
    library = load_checked((SHIPPED, own_folder(tmp_path, **{"cards__beam-bolt": whole})), job_sheets="none")
    assert whole.count("\n") < 120
    assert f"That is {whole.count(chr(10))} lines for six steps" in taught
    assert len(library.cards["beam-bolt"].steps) == 6
    options = SiteOptions(cards=("beam-bolt",), tables=(), jobs=()).of(library)
    page = site_files(library, options)["cards/beam-bolt.md"]
    # 8 mm and 5/16 in with the slack of each shop, half a millimetre and 1/64 in.
    for hole in ("8.5\N{NO-BREAK SPACE}mm", "21/64\N{NO-BREAK SPACE}in"):
        assert hole in page


# What of a card is told to the reader, and in that the lines that say something else.
TOLD = {"title", "purpose", "use_when", "not_when", "needs", "steps", "notes"}
UNTOLD = re.compile(r" +(?:- )?(?:cautions|drawing|when|like): |[ a-z]+:$|#|$")


def test_the_docs_say_how_long_the_cards_that_ship_are() -> None:
    """Within three lines of the averages, in whole and without what the reader is told."""
    lines, untold, cards = 0, 0, [*(SHIPPED / "cards").glob("*.yaml")]
    for card in cards:
        part = ""
        for line in card.read_text(encoding="utf-8").splitlines():
            part = line.partition(":")[0] if line[:1].isalpha() else part
            lines += 1
            untold += bool(line) and (part not in TOLD or bool(UNTOLD.match(line)))
    taught = (HOUSE / "docs/authoring.md").read_text(encoding="utf-8")
    said = re.search(r"and (\d+) lines each on average\. Two in three .*? The other (\d+)\s", taught, re.DOTALL)
    assert said
    assert [int(number) for number in said.groups()] == [
        pytest.approx(lines / len(cards), abs=3), pytest.approx(untold / len(cards), abs=3)
    ]  # fmt: skip
    assert untold / lines == pytest.approx(1 / 3, abs=0.05)


def test_a_line_that_only_leads_nowhere_goes_and_other_words_stay() -> None:
    pages = {
        "a/b.md": "- [Gone](c.md): why\n- See [gone](c.md) or [there](../d.md#x).\n| what | [Gone](c.md) |\n"
        "[Gone](c.md){ .door }\n[Gone](c.md) · [There](../d.md){ .door }\n[x](https://e.org)",
        "d.md": "",
    }
    assert without_dead_links(pages, ())["a/b.md"] == (
        "- See gone or [there](../d.md#x).\n[There](../d.md){ .door }\n[x](https://e.org)"
    )


def test_an_option_that_names_what_is_not_there_says_what_is_near(library: Library) -> None:
    with pytest.raises(BondwrightError, match="no card 'blind-stut'; near it: blind-stud"):
        SiteOptions(cards=("blind-stut",)).of(library)
