"""Words for a reader: no symbol's code in any sentence, kelvin in the working alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import pytest

from conftest import HOUSE
from generator.errors import WorkingError
from generator.formula import FORMULARY
from generator.model.library import Library
from generator.model.prose import Value, parts
from generator.model.schema import Sheet
from generator.reckoning import InputError, reckon
from generator.units import SYSTEMS, System, bound, read_quantity, with_unit
from generator.working import told

CODES = sorted((name for name in FORMULARY.symbols if "_" in name), key=len, reverse=True)
GREEK = "alpha|beta|gamma|delta|theta|lambda|mu|rho|sigma"
CODE = re.compile(rf"(?<![\w/.-])(?:{'|'.join(map(re.escape, CODES))}|{GREEK})(?![\w/-])")
SPELT = re.compile(r"\b(?:in|out of) (?:a|one) hundred\b", re.IGNORECASE)
KELVIN = re.compile(r"\d ?K\b|mol ?K\b|[mg]K\b", re.ASCII)

# Where a symbol is shown as such: formulas, the working with its check values, and what may be typed or is a program's.
SYMBOLS_HERE = re.compile(
    r"<(math|script|style|code|pre)\b.*?</\1>"
    r'|<table class="bw-(?:givens|checks|symbols)">.*?</table>|<ol class="bw-trail">.*?</ol>'
    r"|```.*?```|`[^`\n]*`|\]\([^)]*\)|\A---.*?\n---\n",
    re.DOTALL,
)
DRAWN = re.compile(r"<svg\b.*?</svg>", re.DOTALL)


def visible(page: str) -> str:
    """What a reader sees of a page besides formulas and working."""
    text = DRAWN.sub(lambda drawing: " ".join(re.findall(r">([^<]+)<", drawing[0])), SYMBOLS_HERE.sub(" ", page))
    return re.sub(r"<[^>]+>", " ", text).replace("\N{NO-BREAK SPACE}", " ")


def slips(text: str) -> list[str]:
    """Where a text shows a code, kelvin or a spelt-out share, with what stands round it."""
    found = [match for law in (CODE, KELVIN, SPELT) for match in law.finditer(text)]
    return [text[max(0, match.start() - 60) : match.end() + 30].strip() for match in found]


@pytest.fixture(scope="module")
def pages(files: Mapping[str, str]) -> dict[str, str]:
    written = {path.name: path.read_text(encoding="utf-8") for path in (HOUSE / "docs").glob("*.md")}
    return {name: text for name, text in {**files, **written}.items() if name.endswith(".md")}


def test_the_law_sees_what_it_is_there_for() -> None:
    for slip in (
        "warm the work to T_lo",
        "v_c is not given",
        "give alpha_g",
        "a swing of 40 K",
        "8.314 J/molK",
        "0.07 mm/mK",
    ):
        assert slips(slip)
    assert slips("eighteen in a hundred")
    assert not slips("18 % of 100 mm, 8 °C warmer")
    assert "T_lo" not in visible("<code>T_lo</code> [worked](../cards/x.md?T_lo=3) <a href='#T_lo'>warm</a>")
    assert "T_lo" in visible("<svg><text>T_lo</text></svg>")


def test_no_page_shows_a_code_or_kelvin_in_a_sentence(pages: dict[str, str]) -> None:
    assert len(pages) > 70
    faults = {name: slips(visible(text)) for name, text in pages.items()}
    assert not {name: found for name, found in faults.items() if found}


def test_no_spreadsheet_but_those_of_the_working_shows_kelvin(files: Mapping[str, str]) -> None:
    for name, text in files.items():
        if name.endswith(".csv") and not re.search("working-|check-values", name):
            assert not KELVIN.search(text), name


def test_a_rule_speaks_in_words_and_in_its_own_values() -> None:
    for rule in FORMULARY.rules:
        values = {part.name for part in parts(rule.message) if isinstance(part, Value) and not bound(part.name)}
        assert values <= set(rule.parameters), rule.message
        assert not slips(re.sub(r"\{[^}]+\}", "8 mm", rule.message)), rule.message
        assert not re.search(r"\b(?:larger|smaller|correct|give|take) (?:a )?[A-Zdh](?!\w)", rule.message), rule.message


# A number with a unit that one of both shops does not measure in; degrees of an angle, and times, are for both.
OF_ONE_SHOP = re.compile(r"\d[\d.]*[ \u00a0](?:mm|cm|m|in|ft|mL|L|fl oz|g|kg|oz|lb|N|kN|lbf|MPa|psi|°C|°F|g/m2)(?!\w)")


@pytest.mark.parametrize(
    ("shop", "strange"), [("metric", r"in|ft|lbf?|psi|°F|oz"), ("inch", r"mm|m|mL|g|kg|k?N|MPa|°C")]
)
def test_a_rule_and_a_lookup_speak_in_the_units_of_each_shop(shop: System, strange: str) -> None:
    """A number of their own stands in braces, so that each shop reads it in its units, to two in a hundred."""
    lengths = 0
    for rule in FORMULARY.rules:
        assert not OF_ONE_SHOP.search(re.sub(r"\{[^}]+\}", "", rule.message)), rule.message
        said = told(rule, dict.fromkeys(rule.parameters, 1.0), FORMULARY, shop)
        for part in parts(rule.message):
            if isinstance(part, Value) and (length := bound(part.name)):
                lengths += 1
                assert length.text(shop) in said
                assert not re.search(rf"\d[ \u00a0](?:{strange})(?!\w)", length.text(shop)), said
                assert read_quantity(length.text(shop), "m") == pytest.approx(length.value, rel=0.02)
    assert lengths > 10
    for step in FORMULARY.steps:
        assert not OF_ONE_SHOP.search(f"{getattr(step, 'said', '')} {getattr(step, 'instead', '')}"), step.where


def test_an_inch_shop_reads_where_a_model_ends_in_its_units() -> None:
    """By hand: 6 / 25.4 = 0.2362, 20 / 25.4 = 0.7874, 24 / 0.3048 = 78.74."""
    assert [bound(text).text("inch").split() for text in ("6 mm", "20 mm", "3.5 mm", "250 mm", "24 m", "2.5 m")] == [  # type: ignore[union-attr]
        ["0.236", "in"], ["0.787", "in"], ["0.138", "in"], ["9.843", "in"], ["78.7", "ft"], ["8.2", "ft"],
    ]  # fmt: skip


def test_a_step_says_in_words_what_it_does() -> None:
    for step in FORMULARY.steps:
        assert not slips(step.meaning), f"{step.where}: {step.meaning}"


def test_a_meaning_is_a_noun_that_stands_in_any_sentence() -> None:
    """Not a question, not a pointer to what another sentence said."""
    for symbol in FORMULARY.symbols.values():
        assert not re.match(r"(?:what|how|when|where|whether|from|the same)\b", symbol.meaning), symbol.meaning
        assert not re.search(
            r"\b(?:those|them)\b|\bthat (?:one is|one$|angle|depth|heat|scale|screw)\b", symbol.meaning
        )
        assert not slips(symbol.meaning), symbol.meaning
        assert not symbol.meaning.endswith("."), symbol.meaning


BAD_TEXTS = [
    "",
    "much",
    "7",
    "-1 mm",
    "0 mm",
    "1e9 mm",
    "99 m",
    "0.01 mm",
    "40 %",
    "100 %",
    "5 kN",
    "900 °C",
    "-30 °C",
    "1 g",
]


def own_words(sheet: Sheet, name: str, library: Library) -> list[str]:
    """Texts that an input may be given and should not be, or that lead out of a model's range."""
    given = sheet.givens[name]
    if name in library.choices:
        return [*library.tables[library.choices[name].table], "nothing-such"]
    return [*BAD_TEXTS, *(text for text in (given.min, given.max) if text)]


def messages(library: Library, sheet: Sheet) -> Iterator[str]:
    """Everything that a sheet says when one of its inputs is changed."""
    for name in sheet.givens:
        for text in own_words(sheet, name, library):
            try:
                yield from reckon(library, sheet, {name: text, "shop": SYSTEMS[len(text) % 2]}).working.warnings
            except (InputError, WorkingError) as error:
                yield str(error)


def test_no_message_shows_a_code_whatever_is_given(library: Library) -> None:
    said = {message for _, sheet in library.sheets() for message in messages(library, sheet)}
    assert len(said) > 150
    assert not [message for message in said if slips(message.replace("\N{NO-BREAK SPACE}", " "))]


def test_a_difference_of_temperatures_has_no_beginning() -> None:
    symbol = FORMULARY.symbols["dT_x"]
    assert symbol.text(40.0, "metric") == with_unit("40", "degC")
    assert symbol.text(40.0, "inch") == with_unit("72", "degF")
    assert symbol.unit == "delta_degC"


# A line may end at a blank: between a number and its unit there is none, nor between a whole and its fraction, nor round
# the sign of how many; and a comma stands close to its word.
PARTED = re.compile(
    r"(?<![\w#])\d[\d.,/]*[ \n]+(?:(?:[mck]?m|mL|L|[k]?g|k?N|lbf|in|ft|fl oz|oz|lb|min|h|d|days?|kn|[MG]Pa|psi|W|N·m)[²³]?"
    r"(?![\w·])|°[CF]|%|\d+/\d+)|\w[ \n]+×|×[ \n]+\w|[\w)%°][ \u00a0]+[,;](?=\s)"
)


def parted(page: str) -> list[str]:
    """The numbers of a text that a line could part from their units, and stray commas, with what stands before."""
    page = re.sub(r"<(script|style|textarea|pre)\b.*?</\1>|`[^`\n]*`", "`", page, flags=re.DOTALL)
    page = re.sub(r"<span\b[^>]*(?:\bhidden\b|bw-or|bw-inch)[^>]*>", "|", page)
    text = re.sub(r"<[^>]+>", "|", re.sub(r"</?(?:a|b|span)\b[^>]*>", "", page))
    return [text[max(0, found.start() - 40) : found.end()] for found in PARTED.finditer(text)]


def test_no_line_ends_between_a_number_and_its_unit(files: Mapping[str, str]) -> None:
    assert all(
        map(parted, ("a bolt of <b>8</b> mm", "2 1/2\N{NO-BREAK SPACE}in", "at 20 °C", "3 × M8", "18\u00a0mm , x"))
    )
    assert not parted(
        "in 3 inner layers, step 2 into it, 6\N{NO-BREAK SPACE}mm, 2\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}M8"
    )
    faults = {name: parted(text) for name, text in files.items() if name.endswith(".md")}
    assert len(faults) > 70
    assert not {name: found for name, found in faults.items() if found}
