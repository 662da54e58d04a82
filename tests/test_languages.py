"""Languages: every word that a reader is told comes through the catalogue, and English pages do not change by it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from html.parser import HTMLParser
from itertools import chain, pairwise
from pathlib import Path

import pytest
import yaml
from babel.dates import get_day_names, get_month_names

from conftest import CARD, HOUSE, for_each, made_once
from generator.catalogue import _of_code, as_text, catalogue_of, part_of, read_catalogue, taken_in, texts_of
from generator.errors import Faults
from generator.formula import FORMULARY
from generator.language import Language, _wrong, code_of, has_words, in_order, pointed, read_language, speaking, tr
from generator.model.library import Library, in_language, load
from generator.model.prose import Prose, StrayBrace, Turn, Value, parts
from generator.model.series import FAILURES, Joint, Measured
from generator.model.series import TestSeries as Series
from generator.pages.chosen import chosen
from generator.pages.folder import whole_folder
from generator.pages.options import SiteOptions
from generator.pages.site import site_files
from generator.pages.tongues import Tongue, folder_of, tongues, with_switch
from generator.pages.worded import worded, words_of
from generator.shipped import HAND_WRITTEN, PROCEDURES
from generator.units import SPELLINGS, Shown, read_quantity, what_to_write

TEMPLATES = sorted((HOUSE / "generator/templates").glob("*.j2"))
FEW = {"cards": (CARD,), "tables": ("stepped-holes",), "jobs": ("class-dinghy",)}

# Where nothing is told in words: code, the letters of symbols, and scripts, which have a test of their own.
UNSAID = ("script", "style", "math", "code", "pre", "textarea", "sub")
# What is the same in every language: units, threads, the keys of a file; and the days and months, which are Babel's.
SAME = {
    "Bondwright",
    "UNC",
    "UNF",
    "mol",
    "molK",
    *re.findall(r"[A-Za-z]+", " ".join(label for of in SPELLINGS.values() for label in of)),
}
SAME |= {*Series.model_fields, *Joint.model_fields, *Measured.model_fields, *"-".join(FAILURES).split("-")}
SAME |= {*chain(*(name.split("_") for name in FORMULARY.symbols))}
DAYS = {
    *chain(
        *(
            of(width, locale="de").values()
            for of in (get_day_names, get_month_names)
            for width in ("wide", "abbreviated")
        )
    )
}
SAID = re.compile(r"«[^»…]*[»…]|" + "|".join(rf"\b{re.escape(day)}" for day in sorted(DAYS, key=len, reverse=True)))


@pytest.fixture(scope="module")
def texts(library: Library) -> dict[str, list[str]]:
    return texts_of(library)


def marked(text: str) -> str:
    """An English text as a made-up language has it: each word between guillemets, values and tags as they are."""
    parts = re.split(r"(\{[^{}]*\}|</?[a-z]+\d*>|\[[A-Za-z]\w* > \d+:|\]\([^)]*\))", text)
    return "".join(part if place % 2 else re.sub(r"[^\W\d_]{2,}", r"«\g<0>»", part) for place, part in enumerate(parts))


@pytest.fixture(scope="module")
def german(texts: Mapping[str, list[str]]) -> Language:
    """German numbers, and words that cannot be taken for English ones."""
    return Language("de", {text: marked(text) for text in texts})


@pytest.fixture(scope="module")
def pages(library: Library, german: Language, tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, str]:
    """The site of one card, one table and one job sheet in that language."""

    def make() -> Mapping[str, str]:
        with speaking(german):
            return site_files(in_language(library, german), SiteOptions(**FEW))

    return made_once(tmp_path_factory, "in-another-language", make)


class _Told(HTMLParser):
    """What a page tells a reader, piece by piece: texts, and attributes that are read out."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.within: list[str] = []
        self.pieces: list[str] = []
        self.feed(
            re.sub(
                r"\]\([^)]*\)|\{ ?[:.][^}]*\}|`[^`]*`", " ", page.removeprefix("---").partition("\n---\n")[2] or page
            )
        )

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in UNSAID:
            self.within.append(tag)
        self.pieces += [
            value for name, value in attrs if name in ("aria-label", "title", "alt", "placeholder") and value
        ]

    def handle_endtag(self, tag: str) -> None:
        if self.within[-1:] == [tag]:
            self.within.pop()

    def handle_data(self, data: str) -> None:
        if not self.within:
            self.pieces += data.split("\n")


@for_each(TEMPLATES)
def test_a_template_without_a_catalogue_is_itself(path: Path) -> None:
    source = path.read_text(encoding="utf-8")
    assert worded(source, lambda text: text) == source


@pytest.mark.parametrize(
    ("source", "words"),
    [
        ("<p>Worked at {{ job.T_a | prose(page.jobs) }}, kept up.</p>", ["Worked at {T_a}, kept up."]),
        ('<p class="x"><b>Stop.</b> Read <span data-s="why"></span></p>', ["<b>Stop.</b> Read <span></span>"]),
        ('<td><b class="y">Only framed</b></td>', ["Only framed"]),
        ("one{% if two %}, more{% endif %}", ["one", ", more"]),
        ('<div aria-label="Given, {{ system }} shop"></div>', ["Given, {system} shop"]),
        ("- first\n- second\n\nthird\nline", ["first", "second", "third line"]),
        ('{{ "All {N_y} of it" | prose(page.jobs) }}', ["All {N_y} of it"]),
        ("{# not this #}{{ only.a_value }}<style>nor this</style>", []),
        ("[{{ card.title }}](cards/{{ name }}.md)", []),
        ("{{ a.x }} and {{ b.x }} and {{ a.x }}", ["{x} and {x2} and {x}"]),
    ],
)
def test_words_are_found_where_they_stand(source: str, words: list[str]) -> None:
    assert words_of(source) == words


def test_a_translation_may_turn_values_and_tags_about() -> None:
    source = '<p>Drill <b class="x">{{ a.D_o | prose(j) }}</b>, then {{ a.t_f }}.</p>'
    german = {"Drill <b>{D_o}</b>, then {t_f}.": "Nach {t_f} <b>{D_o}</b> bohren."}
    told = worded(source, lambda text: german.get(text, text))
    assert told == '<p>Nach {{ a.t_f }} <b class="x">{{ a.D_o | prose(j) }}</b> bohren.</p>'


def test_a_heading_keeps_the_anchor_that_links_lead_to() -> None:
    assert worded("## What you need\n\nText\n", {"What you need": "Was man braucht", "Text": "Text"}.__getitem__) == (
        "## Was man braucht {: #what-you-need }\n\nText\n"
    )


def test_numbers_have_the_languages_decimal_sign(german: Language) -> None:
    shown = Shown("mm", Fraction(1, 10))
    assert (pointed("6.5"), shown.text(6.5)) == ("6.5", "6.5\u00a0mm")
    with speaking(german):
        assert (pointed("6.5"), shown.text(6.5)) == ("6,5", "6,5\u00a0mm")
        assert read_quantity(shown.text(6.5), "m") == pytest.approx(0.0065)


def test_an_example_of_what_to_write_is_in_words_too(german: Language) -> None:
    with speaking(german):
        assert what_to_write("m").endswith("90 mm «or» 3 1/2 in")
        assert what_to_write("kg").endswith("15 g")
    assert "15 g" not in german.missing


def test_no_text_of_the_code_begins_or_ends_with_a_blank() -> None:
    """A catalogue knows none there: two words would run together."""
    texts = [text for path in sorted((HOUSE / "generator").rglob("*.py")) for text in _of_code(path)]
    assert len(texts) > 300
    assert not [text for text in texts if text != text.strip()]


def test_lists_are_sorted_as_a_dictionary_is() -> None:
    """By DIN 5007, its first way: marks and sharp s count as the letters below them."""
    words = ["Zapfen", "Öse", "Ofen", "Maß", "Masse", "Mast"]
    with speaking(Language("de", {})):
        assert sorted(words, key=in_order) == ["Maß", "Masse", "Mast", "Ofen", "Öse", "Zapfen"]
    assert sorted(words, key=in_order) == sorted(words)


def test_what_is_missing_stands_in_english_and_is_counted() -> None:
    language = Language("de", {"bolt hole": "Bolzenloch"})
    with speaking(language):
        assert [tr("bolt hole"), tr("guide hole"), tr("M8"), tr("flag at {mark}", mark="8 mm")] == [
            "Bolzenloch",
            "guide hole",
            "M8",
            "flag at 8 mm",
        ]
    assert language.missing == ["flag at {mark}", "guide hole"]
    assert language.told == "de: 2 of 3 texts missing; they stand in English"
    with speaking(own := Language("de", {}, own={"unser Epoxid"})):
        assert tr("unser Epoxid") == "unser Epoxid"
    assert own.missing == []


def test_a_translation_that_loses_a_value_is_refused(tmp_path: Path) -> None:
    (tmp_path / "languages").mkdir()
    file = tmp_path / "languages/de.po"
    texts = {"Drill {D_o} deep": ["a.yaml"], "Turn [n_m > 1: {n_m} times | once]": ["a.yaml"], "Two": ["a.yaml"]}
    catalogue = catalogue_of("de", texts, None)
    said = {"Drill {D_o} deep": "{L_o} tief bohren", "Turn [n_m > 1: {n_m} times | once]": "Einmal", "Two": "Zwei"}
    for english, german in said.items():
        catalogue[english].string = german
    file.write_bytes(as_text(catalogue))
    with pytest.raises(Faults) as raised:
        read_language("de", [tmp_path])
    told = [str(fault) for fault in raised.value.faults]
    lines = file.read_text(encoding="utf-8").splitlines()
    assert len(told) == 2
    assert "lacks {D_o} and has {L_o}" in told[0]
    assert "lacks [n_m > 1:, {n_m}" in told[1]
    assert [lines[fault.line - 1] for fault in raised.value.faults] == [f'msgid "{english}"' for english in [*said][:2]]


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("<img src=x onerror=ran()>{n}", "has <"),
        ("{{ {n}", "has {"),
        ("x{n} [siehe](javascript:ran())", "has ](javascript:ran()"),
        ("[x]: javascript:ran() {n}", "has ]:"),
        ("{n} x\\", "has \\"),
        ("`{n}`", "has `"),
        ("{n}\u202e x", "has U+202E"),
        ("{n}\nx", "has U+000A"),
        ('Zwei\u00a0{n}\u00ad"s"', ""),
    ],
)
def test_a_translation_brings_no_code_of_its_own(said: str, told: str) -> None:
    """It comes to stand in templates and scripts as it is."""
    assert told in "".join(_wrong("two {n}", said))
    assert told or not [*_wrong("two {n}", said)]


def test_quotes_of_a_translation_end_nothing() -> None:
    said = {"Close it": 'Sag "zu"', "Open it": 'Sag "auf"'}
    told = worded('<p aria-label="Close it">{{ "Open it" | prose(j) }}</p>', lambda text: said.get(text, text))
    assert told == '<p aria-label="Sag &quot;zu&quot;">{{ "Sag \\"auf\\"" | prose(j) }}</p>'


def test_a_catalogue_is_brought_up_to_date(tmp_path: Path) -> None:
    """What was said stays; a text that changed a little keeps its words as not sure and is
    itself left out; the same texts give the same file."""
    first = catalogue_of("de", {"bolt hole": ["a.yaml"], "Drill the hole slowly.": ["b.yaml"]}, None)
    first["bolt hole"].string, first["Drill the hole slowly."].string = "Bolzenloch", "Langsam bohren."
    (tmp_path / "one.po").write_bytes(as_text(first))
    texts = {"bolt hole": ["a.yaml"], "Drill the hole very slowly.": ["b.yaml"], "guide hole": ["b.yaml"]}
    second = catalogue_of("de", texts, read_catalogue(tmp_path / "one.po"))
    assert second["bolt hole"].string == "Bolzenloch"
    assert second["Drill the hole very slowly."].fuzzy
    assert [one.id for one in part_of(second, ["b.*"]) if one.id] == ["Drill the hole very slowly.", "guide hole"]
    (tmp_path / "part.po").write_bytes(as_text(catalogue_of("de", {"guide hole": []}, None)).replace(
        b'msgid "guide hole"\nmsgstr ""', b'msgid "guide hole"\nmsgstr "F\xc3\xbchrungsloch"'))  # fmt: skip
    assert taken_in(second, tmp_path / "part.po") == 1
    assert second["guide hole"].string == "Führungsloch"
    (tmp_path / "two.po").write_bytes(as_text(second))
    assert second.obsolete
    assert b"#~" not in as_text(second)
    assert as_text(catalogue_of("de", texts, read_catalogue(tmp_path / "two.po"))) == as_text(second)


# Signs that a typist sets so: a blank before a comma, two of them, a blank inside a bracket, none after a comma.
SLIPPED = re.compile(
    r"[^\s(][ \u00a0]+[,;:!?.](?=\s|$)|[,;:][ \u00a0]?[,;.](?=\s|$)|(?<!\.)\.[ \u00a0]?\.(?!\.)"
    r"|\([ \u00a0]|[ \u00a0]\)|[^\W\d_]{2}[,;][^\W\d_]{2}|\S  "
)


def slipped(text: str) -> list[str]:
    """The slips of a typist in a text, with all its turns taken and with none."""

    def plain(pieces: Sequence[str | Value]) -> str:
        return "".join("8" if isinstance(piece, Value) else piece for piece in pieces)

    cut = parts(re.sub(r"`[^`]*`|\]\([^)]*\)", "x", text))
    takes = [lambda turn: turn.then, lambda turn: turn.otherwise]
    ways = ("".join(plain(take(one) if isinstance(one, Turn) else [one]) for one in cut) for take in takes)
    return [way[max(0, found.start() - 40) : found.end()] for way in ways for found in SLIPPED.finditer(way)]


def test_the_catalogues_that_ship_can_be_read(texts: Mapping[str, list[str]]) -> None:
    assert all(map(slipped, ("18 mm , wide", "so.[x > 0:  But | .]", "( so", "so,that", "a  b")))
    assert not slipped("to[x > 0: {x} | , at most] (so): 1,5 mm … ...")
    for file in sorted((PROCEDURES / "languages").glob("*.po")):
        language = read_language(file.stem, [PROCEDURES])
        for english, said in language.texts.items():
            assert "  " not in said and code_of(english) == code_of(said)  # noqa: PT018
            # What begins with a comma stands behind a blank where the English does not.
            assert said[:1] not in ",;:." or english[:1] in ",;:.", said
            try:
                Prose(english)
            except StrayBrace:  # a piece of an example in a page
                continue
            Prose(said)
            if texts.get(english) != ["search.yaml"]:  # signs stand there for themselves
                assert slipped(english) == slipped(said) == []


# A count before what is counted: "{n_k} coats", "{n_k} Schichten".
COUNTED = {
    "en": r"[ \u00a0](?!(?:has|was|this|does|less|its)\b)[a-z]{2,}s\b",
    "de": r"[ \u00a0][A-ZÄÖÜ]\w+",
}
COUNTS = {name for name, one in FORMULARY.symbols.items() if one.unit == "dimensionless" and one.metric.step == 1}


def lone(text: str, spoken: str) -> Iterator[str]:
    """The counts that stand before several things where there may be one: outside of a turn that asks for above 1."""
    cut = Prose(text).parts
    turns = [one for one in cut if isinstance(one, Turn)]
    flat = [one if not isinstance(one, Turn) else "" for one in cut]
    for asked, run in [
        (None, flat),
        *((one.condition, one.then) for one in turns),
        *((None, one.otherwise) for one in turns),
    ]:
        for count, words in pairwise(run):
            above_one = asked and asked.over > 0 and Value(asked.symbol) == count
            if (
                isinstance(count, Value)
                and count.name in COUNTS
                and not above_one
                and re.match(COUNTED[spoken], str(words))
            ):
                yield f"{count.name} {words}"


def test_no_text_says_one_of_several(library: Library, texts: Mapping[str, list[str]]) -> None:
    """One coat is no coats: [n_k > 1: {n_k} coats | one coat], or {n_k} ×. A rule's count is several where it speaks."""
    assert [*lone("put on {n_k} coats", "en")] == ["n_k  coats"]
    assert not [*lone("[n_k > 1: {n_k} coats | one coat], {n_k} ×, {n_w} times", "en")]
    several = {
        f"cards/{name}.yaml": {one for one, given in card.givens.items() if one in COUNTS and float(given.min or 0) > 1}
        for name, card in library.cards.items()
    }
    german = read_language("de", [PROCEDURES]).texts
    faults = []
    for english, places in texts.items():
        if places[0].endswith(".yaml"):
            sure = several.get(places[0], set())
            said = {"en": english, "de": german.get(english, "")}
            faults += [one for spoken, text in said.items() for one in lone(text, spoken) if one.split()[0] not in sure]
    assert not faults


def joined(text: str) -> list[str]:
    """The words that run together where a turn begins or ends, taken or not; one or two letters are an ending."""

    def meets(before: str, after: str) -> bool:
        return bool(re.search(r"[^\W\d_]{3}$", before) and re.match(r"[^\W\d_]{3}", after))

    found, cut = [], ["", *parts(text), ""]
    for before, turn, after in zip(cut, cut[1:], cut[2:], strict=False):
        for said in (turn.then, turn.otherwise) if isinstance(turn, Turn) else ():
            pairs = [(before, said[0]), (said[-1], after)] if said else [(before, after)]
            found += ["|".join(pair) for pair in pairs if all(isinstance(one, str) for one in pair) and meets(*pair)]
    return found


def test_no_words_run_together_where_a_turn_begins_or_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    assert joined("so wide[x > 0: and] deep") == ["so wide|and"]
    assert joined("so [x > 0: wide ]deep, nut[x > 1: s], so wide[x > 0:  and deep]") == []
    assert joined("so wide[x > 0: : {x} | and] deep") == ["so wide|and"]
    told: list[str] = []
    text = Language.text
    monkeypatch.setattr(Language, "text", lambda own, english: told.extend((english, text(own, english))) or told[-1])
    with speaking(read_language("de", [PROCEDURES])):
        load([PROCEDURES])
    assert len(told) > 4000
    assert [fault for one in told if "[" in one and " > " in one for fault in joined(one)] == []


def test_no_text_of_a_turn_ends_in_a_comma_before_the_other(texts: Mapping[str, list[str]]) -> None:
    """What both have stands behind them; what one has alone would be read as if both had."""
    german = read_language("de", [PROCEDURES]).texts
    for english in texts:
        for text in (english, german.get(english, "")):
            assert not re.search(r"\[\w+ > \d+: [^][|]*, ?\|", text), text


def test_all_kinds_of_text_are_found(texts: Mapping[str, list[str]]) -> None:
    places = {place.partition("/")[0] for found in texts.values() for place in found}
    assert places >= {"templates", "cards", "tables", "drawings", "data", "symbols", "cautions.yaml", "inputs.yaml"}
    assert all(has_words(text) for text in texts)
    assert "M8" not in texts


def test_a_page_leads_to_itself_in_the_other_languages() -> None:
    titles = {"en": "English", "de": "Deutsch"}
    there = {"en": {"cards/a.md", "b.md"}, "de": {"cards/a.md"}}
    told = with_switch({"cards/a.md": "# A\n\nText\n", "b.md": "# B\n"}, "en", titles, there)
    assert told["cards/a.md"] == "# A\n\n[Deutsch](../de/cards/a.md){ .bw-language hreflang=de lang=de }\n\nText\n"
    assert told["b.md"] == "# B\n"
    back = with_switch({"cards/a.md": "# A\n"}, "de", titles, there)
    assert "[English](../../cards/a.md)" in back["cards/a.md"]


@pytest.mark.parametrize(("named", "made"), [([], ["en"]), (["de", "en", "de"], ["de", "en"])])
def test_each_language_is_made_once_and_english_without_any(
    library: Library, monkeypatch: pytest.MonkeyPatch, named: list[str], made: list[str]
) -> None:
    def tongue(library: Library, options: SiteOptions, name: str, names: Sequence[str], _: object) -> Tongue:
        assert [*names] == made
        return Tongue(name, None, folder_of(name, names), library, chosen(library, options), {})

    monkeypatch.setattr("generator.pages.tongues._tongue", tongue)
    assert [one.name for one in tongues(library, SiteOptions(**FEW), named)] == made


def test_a_written_folder_has_each_language_with_settings_of_its_own(library: Library, tmp_path: Path) -> None:
    """Their sites lie one in the other, with a link from page to page that needs no plugin; one's own page stands in its
    language, and one's own picture in each."""
    titles = {"en": "English", "de": "Deutsch", "pt-br": "Português"}
    site, there = chosen(library, SiteOptions(**FEW)), {"cards/a.md"}
    page = {"cards/a.md": '# A\n\n<p class="bw-purpose">To say &quot;a&quot;.</p>\n'}
    made = [
        Tongue(name, spoken, folder_of(name, [*titles]), library, site, with_switch(page, name, titles, dict.fromkeys(titles, there)))
        for name, spoken in (("en", None), ("de", Language("de", {"Reference": "Zum Nachschlagen"})), ("pt-br", Language("pt-br", {})))
    ]  # fmt: skip
    for own in ("docs/mine.md", "docs/de/meine.md", "docs/logo.svg"):
        (tmp_path / own).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / own).write_text("# Mine\n", encoding="utf-8")
    folder = whole_folder(made, {"site_url": "https://boats.example.org/"}, tmp_path)
    assert {"docs/mine.md", "docs/logo.svg", "docs.de/meine.md", "docs.de/logo.svg"} <= {*folder}
    assert not {"docs/de/meine.md", "docs.de/mine.md"} & {*folder}
    first, other = (yaml.safe_load(folder[f"mkdocs.{which}yml"]) for which in ("", "de."))
    assert (other["site_dir"], other["site_url"], other["theme"]["language"]) == (
        "site/de",
        "https://boats.example.org/de/",
        "de",
    )
    assert "site_dir" not in first
    assert "assets/language.js" in first["extra_javascript"]
    assert [*other["nav"][-1]] == ["Zum Nachschlagen"]
    assert 'hreflang="de" lang="de" href="../de/cards/a.html">Deutsch</a>' in str(folder["docs/cards/a.md"])
    assert 'href="../../cards/a.html">English</a>' in str(folder["docs.de/cards/a.md"])
    assert 'hreflang="pt-br" lang="pt-br" href="../pt-br/cards/a.html">Português</a>' in str(folder["docs/cards/a.md"])
    assert str(folder["docs/cards/a.md"]).startswith('---\ndescription: "To say &#34;a&#34;."\n---\n')


def test_a_card_in_another_language_says_what_the_english_one_does(pages: Mapping[str, str], files: Mapping[str, str]) -> None:  # fmt: skip
    """The same pages with the same values in them, and a decimal comma in each."""
    name = f"cards/{CARD}.md"
    page, english = pages[name], files[name]
    assert "«Drill» «the» «oversized» «hole» «first»" in page
    values = re.compile(r'data-s="(\w+)"')
    assert values.findall(page) == values.findall(english)
    assert re.search(r"\d,\d\u00a0", page)
    assert not re.search(r"\d\.\d+\u00a0", page)


def test_no_word_of_a_page_goes_past_the_catalogue(pages: Mapping[str, str]) -> None:
    """Card, working, table, job sheet, pulled joints, chooser and the rest: what is between no guillemets was written in
    code, and nobody can translate it."""
    wanted = (f"cards/{CARD}.md", "tables/stepped-holes.md", "jobs/class-dinghy.md", "pulled.md", "which-fixing.md")
    assert {*wanted} <= {*pages}
    left: dict[str, str] = {}
    for name, page in pages.items():
        for piece in _Told(page).pieces if name.endswith(".md") and name not in HAND_WRITTEN else ():
            if words := {*re.findall(r"[A-Za-z]{3,}", SAID.sub("", piece))} - SAME:
                left.setdefault(" ".join(sorted(words)), f"{name}: {piece.strip()[:80]}")
    assert not left


def test_a_job_sheet_in_another_language_has_the_same_plan(pages: Mapping[str, str], files: Mapping[str, str]) -> None:
    """The names of fittings are others there, and hold no sway over who does what when."""
    here, there = (sorted(row.rsplit(",", 1)[1] + row[:33] for row in one["jobs/class-dinghy/clock.csv"].splitlines()[1:])
                   for one in (pages, files))  # fmt: skip
    assert here == there
    assert "«Set» «up»" in pages["jobs/class-dinghy.md"]


def test_a_turn_that_begins_with_a_space_has_it_in_another_language_too() -> None:
    """A catalogue's texts have single spaces, and the words would run together."""
    german = Language(
        "de",
        {
            "Fill {V_l}.[n_s > 1: Next tube.][n_l > 1: , or a lift][h_k > 0: {h_k} wide]": (
                "{V_l} füllen.[n_s > 1: Nächstes Röhrchen.][n_l > 1: , oder eine Lage] [h_k > 0: {h_k} weit]"
            )
        },
    )
    told = german.text("Fill {V_l}.[n_s > 1:  Next tube.][n_l > 1: , or a lift][h_k > 0:  {h_k} wide]")
    assert told == "{V_l} füllen.[n_s > 1:  Nächstes Röhrchen.][n_l > 1: , oder eine Lage] [h_k > 0: {h_k} weit]"
