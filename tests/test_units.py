"""Reading what a boatbuilder writes, and rounding for the shop."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator import formulas  # noqa: F401  defines the symbols
from generator.formula import FORMULARY
from generator.language import Language, speaking
from generator.model.yaml_text import read_document
from generator.proof import registry
from generator.units import (
    KIND_OF_UNIT,
    LONGEST,
    SPELLINGS,
    SYSTEMS,
    QuantityError,
    Shown,
    clip,
    decimals,
    degrees,
    factor,
    from_base,
    mixed,
    offset,
    plain,
    plain_decimals,
    read_quantity,
    shortened,
    significant,
    span,
    span_for,
    to_base,
    what_to_write,
    whole_steps,
)

# What is written in a shop, in YAML, on a command line and in a field of a page, and what it means.
WRITTEN = [
    ("90 mm", "m", 0.09),
    ("9 cm", "m", 0.09),
    ("1/4 in", "m", 0.00635),
    ("3 1/2 in", "m", 0.0889),
    ("3-1/2 in", "m", 0.0889),
    ("3½ in", "m", 0.0889),
    ("3½″", "m", 0.0889),
    ("3 1⁄2”", "m", 0.0889),
    ("3½''", "m", 0.0889),
    ("3 1/2’’", "m", 0.0889),
    ('3 1/2"', "m", 0.0889),
    ("3½\u202fZoll", "m", 0.0889),
    ("88,9 mm", "m", 0.0889),
    ("3.5 inches", "m", 0.0889),
    ("⅝\u00a0in", "m", 0.015875),
    ("2500 mm²", "m**2", 0.0025),
    ("20C", "K", 293.15),
    ("68 F", "K", 293.15),
    ("68 deg F", "K", 293.15),
    ("68\u00a0°F", "K", 293.15),
    ("20 ° C", "K", 293.15),
    ("20℃", "K", 293.15),
    ("\u22125\u00a0°C", "K", 268.15),
    ('3/8"', "m", 0.009525),
    ("2 ft", "m", 0.6096),
    (" 14mm ", "m", 0.014),
    (".5 in", "m", 0.0127),
    ("40 %", "dimensionless", 0.4),
    ("2/3", "dimensionless", 2 / 3),
    ("20 mL", "m**3", 20e-6),
    ("1.15 g/mL", "kg/m**3", 1150),
    ("300 g/m2", "kg/m**2", 0.3),
    ("1 lb", "kg", 0.45359237),
    ("180 deg", "rad", 3.141592653589793),
    ("-4 mm", "m", -0.004),
]


@pytest.mark.parametrize(("text", "base", "value"), WRITTEN)
def test_reads_what_is_written_in_a_shop(text: str, base: str, value: float, tmp_path: Path) -> None:
    assert read_quantity(text, base) == pytest.approx(value, rel=1e-12)
    in_yaml = tmp_path / "given.yaml"
    in_yaml.write_text(f"T: {text}\n", encoding="utf-8")
    assert read_quantity(read_document(in_yaml, in_yaml.name).data["T"], base) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "base", "words"),
    [
        ("6 kg", "m", "'6 kg' is not a length: unit 'kg' does not fit; write a length, for example 90 mm"),
        ("90", "m", "'90' has no unit; write a length"),
        ("9 lx", "W", "write a power, for example 80 W (units: W, kW)"),
        ("9 lx", "dimensionless", "for example 0.7, 2/3 or 40 % (units: %)"),
        ("", "m", "does not begin with a number"),
        ("mm", "m", "does not begin with a number"),
        ("1/0 in", "m", "divides by zero"),
        ("nan mm", "m", "does not begin with a number"),
        ("inf mm", "m", "does not begin with a number"),
        ("1e9 mm", "m", "unit 'e9 mm' does not fit"),
        ("10**9 mm", "m", "does not fit"),
        ("9" * 400 + " mm", "m", "does not begin with a number"),
        ("90 мм", "m", "does not fit"),
        ("٩٠ mm", "m", "does not begin with a number"),
    ],
)
def test_says_what_would_be_right(text: str, base: str, words: str) -> None:
    with pytest.raises(QuantityError) as error:
        read_quantity(text, base)
    assert words in str(error.value)
    assert len(str(error.value)) < 300


def test_an_example_is_told_in_the_language_that_is_spoken() -> None:
    german = Language("de", {"or": "oder", "0.7, 2/3 or 40 %": "0,7, 2/3 oder 40 %"})
    with speaking(german):
        assert what_to_write("m").endswith("90 mm oder 3 1/2 in")
        assert what_to_write("N").endswith("2,5 kN oder 500 lbf")
        assert what_to_write("dimensionless").endswith("0,7, 2/3 oder 40 %")
        what_to_write("kg")
    assert not [text for text in german.asked if text[0].isdigit() and " or " not in text]


def test_an_example_is_in_the_units_of_the_shop() -> None:
    """Of each kind that an inch shop shows otherwise; and it is read as what it stands for."""
    for base, (_, *examples) in KIND_OF_UNIT.items():
        shown = {(one.metric.unit, one.inch.unit) for one in FORMULARY.symbols.values() if one.unit == base}
        if base not in ("m**3", "m/s", "kg") and any(metric != inch for metric, inch in shown):
            assert len(examples) == 2, base
        for example in examples if base != "dimensionless" else ():
            assert read_quantity(example, base) > 0
    assert [what_to_write("N", system).rpartition("example ")[2] for system in SYSTEMS] == ["2.5 kN", "500 lbf"]
    assert what_to_write("kg", "inch").endswith("example 15 g")
    with pytest.raises(QuantityError, match=r"a length, for example 3 1/2 in$"):
        read_quantity("90", "m", "inch")


@pytest.mark.parametrize(
    ("low", "high", "base", "unit", "told"),
    [
        # 5 mm is 12.6 64ths of an inch, 300 mm 11.81 in; 50 N is 11.24 lbf, 500 kN 112 404 lbf.
        (0.005, 0.3, "m", "in", "13/64 to 11 3/4 in"),
        (50, 500_000, "N", "lbf", "11.3 to 112000 lbf"),
        (50, 500_000, "N", "kN", "0.05 to 500 kN"),
        (283.15, 308.15, "K", "degF", "50 to 95 degF"),
        (213.15, 1273.15, "K", "degF", "-76 to 1830 degF"),
        (2 / 3, 0.75, "dimensionless", "", "0.667 to 0.75"),
        (None, 0.3, "m", "mm", "at most 300 mm"),
        (0.01, None, "m", "mm", "at least 10 mm"),
        (0.0, 0.0, "m", "in", "0 in"),
        (None, None, "m", "in", ""),
    ],
)
def test_a_range_is_told_in_a_unit_and_inwards(
    low: float | None, high: float | None, base: str, unit: str, told: str
) -> None:
    assert plain(span(low, high, base, unit)) == told


def test_a_range_is_told_in_the_unit_of_the_text() -> None:
    assert plain(span_for("-5 lbf", 50, 500_000, "N")) == "11.3 to 112000 lbf"
    assert plain(span_for("99:1 by volume", 0.1, 20, "dimensionless")) == "0.1 to 20"


def test_what_no_step_tells_is_told_as_it_was_written() -> None:
    """38 mm in an inch shop is no 1.4961 in; a unit is told as it is printed, however it was spelt."""
    eighths = Shown("in", Fraction(1, 8), fraction=True)
    written = {"38 mm": 1.49606, "38,5 mm": 1.51575, "1/3 ''": 1 / 3, "3 1/2 in": 3.5, "1.5 in": 1.5}
    told = [plain(eighths.as_written(value, text)) for text, value in written.items()]
    assert told == ["38 mm", "38.5 mm", "1/3 in", "3 1/2 in", "1 1/2 in"]
    with speaking(Language("de", {})):
        assert plain(eighths.as_written(1.51575, "38.5 mm")) == "38,5 mm"
    assert Shown("dimensionless", Fraction(1, 100)).as_written(2 / 3, "2/3") == "2/3"
    assert plain(Shown("degC", Fraction(1)).as_written(21.3889, "70.5 °F")) == "70.5 °F"


def test_one_unit_in_steps_of_another() -> None:
    assert (factor("in", "mm"), factor("ft", "in")) == (25.4, 12.0)


def test_a_text_is_read_up_to_a_length() -> None:
    blanks = " " * (LONGEST - len("1mm"))
    assert read_quantity(f"1{blanks}mm", "m") == 0.001
    with pytest.raises(QuantityError, match="does not begin with a number"):
        read_quantity(f"1 {blanks}mm", "m")


@given(st.fractions(min_value=0, max_value=100, max_denominator=64))
def test_a_fraction_is_read_as_it_is_written(number: Fraction) -> None:
    assert read_quantity(f"{mixed(number)} in", "m") == pytest.approx(float(number) * 0.0254, rel=1e-12, abs=1e-15)


@given(st.floats(min_value=0, max_value=1000), st.sampled_from([0.1, 0.5, 1, 1 / 16, 1 / 64]))
def test_rounding_up_never_falls_short_and_never_adds_a_step(value: float, step: float) -> None:
    steps = whole_steps(value, step, "up")
    assert value - 1e-8 <= steps * step < value + step + 1e-8


@pytest.mark.parametrize("noise", [-4e-14, 0, 4e-14])
def test_binary_noise_does_not_add_a_step(noise: float) -> None:
    assert whole_steps(63 + noise, 1, "up") == 63
    assert whole_steps(63 + noise, 1, "down") == 63


@pytest.mark.parametrize(
    ("shown", "value", "text"),
    [
        (Shown("mm", Fraction(1)), 76.5, "77"),
        (Shown("in", Fraction(1, 16), fraction=True), 2.45, "2\u00a07/16"),
        (Shown("in", Fraction(1, 64), fraction=True), 0.5625, "9/16"),
        (Shown("mL", Fraction(1, 10), "up"), 6.31, "6.4"),
        (Shown("mm", Fraction(1, 10), trim=True), 14.0, "14"),
        (Shown("mm", Fraction(1, 100)), 6.5, "6.50"),
        (Shown("mm", Fraction(10), trim=True), 100.0, "100"),
        (Shown("mm", Fraction(1, 10), trim=True), 100.0, "100"),
        (Shown("dimensionless", Fraction(1), "up"), 30.0, "30"),
    ],
)
def test_is_shown_as_the_shop_reads_it(shown: Shown, value: float, text: str) -> None:
    assert shown.number(value) == text


@given(st.floats(min_value=1e-3, max_value=1e6))
def test_the_printed_working_keeps_six_figures(value: float) -> None:
    assert float(significant(value)) == pytest.approx(value, rel=5e-6)


@given(st.sampled_from([(4, 1e4), (6, 1e6)]), st.floats(min_value=1e-6, max_value=0.999), st.booleans())
def test_decimals_are_those_of_a_pocket_calculator(kept: tuple[int, float], part: float, negative: bool) -> None:
    """So many figures, a half away from 0, and no power of ten."""
    digits, most = kept
    value = -part * most if negative else part * most
    rounded = Context(prec=digits, rounding=ROUND_HALF_UP).create_decimal(Decimal(value))
    assert Decimal(plain_decimals(value, digits)) == rounded
    assert "E" not in plain_decimals(value, digits)
    assert not plain_decimals(value, digits).endswith((".", ".0"))


@pytest.mark.parametrize("value", [0.0, 250.0, 293.15])
def test_every_symbol_is_shown_as_an_independent_library_says(value: float) -> None:
    """Pint, which knows where a scale begins: 293.15 K is 20 degrees Celsius."""
    for symbol in FORMULARY.symbols.values():
        for shown in (symbol.metric, symbol.inch):
            number = registry.Quantity(value, symbol.unit).to(shown.unit).magnitude
            assert from_base(value, symbol.unit, shown.unit) == pytest.approx(number, rel=1e-9, abs=1e-9), symbol.name
            assert to_base(number, shown.unit, symbol.unit) == pytest.approx(value, rel=1e-9, abs=1e-9), symbol.name


def test_every_unit_that_is_read_is_as_large_as_an_independent_library_says() -> None:
    """Pint, and to the last bits: the sizes here are fractions."""
    units = {(unit, base) for base, spelt in SPELLINGS.items() for unit in spelt.values()}
    shown = {(own.unit, symbol.unit) for symbol in FORMULARY.symbols.values() for own in (symbol.metric, symbol.inch)}
    for unit, base in units | shown:
        begins, one = (registry.Quantity(number, unit).to(base).magnitude for number in (0.0, 1.0))
        assert offset(unit) == pytest.approx(begins, rel=1e-13, abs=0), unit
        assert factor(unit, base) == pytest.approx(one - begins, rel=1e-12), unit


def test_a_unit_is_never_turned_into_one_of_another_kind() -> None:
    """As an independent library has it: every unit that is read against every SI unit."""
    units = {unit for spelt in SPELLINGS.values() for unit in spelt.values()}
    refused = 0
    for unit, base in product(units, SPELLINGS):
        if registry.Unit(unit).is_compatible_with(registry.Unit(base)):
            assert factor(unit, base) > 0
        else:
            refused += 1
            with pytest.raises(ValueError, match="measure different things"):
                factor(unit, base)
    assert refused > 1000
    with pytest.raises(ValueError, match="kg and m measure"):
        to_base(1.0, "kg", "m")
    with pytest.raises(ValueError, match="m and kg measure"):
        from_base(1.0, "kg", "m")


def test_what_is_set_on_a_rule_stands_as_it_was_set() -> None:
    """In 64ths, however coarse the steps are that it is worked to; what is no 64th is told in decimals."""
    eighths = Shown("in", Fraction(1, 8), fraction=True)
    for parts in range(200):
        assert eighths.as_set(parts / 64) == Fraction(parts, 64)
        assert eighths.as_set((parts + 0.5) / 64) is None
    assert eighths.number(0.3, own=True) == "0.3"
    assert [Shown("mm", Fraction(1, 10)).number(off, own=True) for off in (5e-5, 6e-5)] == ["0.0", "0.0001"]


def test_steps_are_decimal_down_to_a_millionth() -> None:
    assert [decimals(Fraction(1, 10**places)) for places in range(7)] == [*range(7)]
    for step in (Fraction(1, 10**7), Fraction(1, 3)):
        with pytest.raises(ValueError, match="is not a decimal step"):
            decimals(step)


def test_nothing_has_no_sign() -> None:
    assert [mixed(Fraction(number, 2)) for number in (-3, -1, 0, 1)] == ["-1\u00a01/2", "-1/2", "0", "1/2"]


@pytest.mark.parametrize("length", [10, 60])
def test_a_long_line_is_cut_to_what_a_message_carries(length: int) -> None:
    for letters in range(3 * length):
        line = "ab cde  "[: letters % 8] + "ab cde  " * (letters // 8)
        cut, whole = clip(line, length), " ".join(line.split())
        assert cut == whole if len(whole) <= length else len(cut) == length
        assert cut.endswith("…") == (len(whole) > length)


def test_a_text_is_shortened_between_its_words() -> None:
    assert [shortened("ab cd ef", length) for length in (9, 8, 7, 6, 5)] == [
        "ab cd ef", "ab cd ef", "ab cd …", "ab …", "ab …"]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "inch"),
    [
        # 9/5 and 32 more; 77 makes 170.6, and what begins there is told to begin no later.
        ("40 °C", "104 °F"), ("77 °C", "170 °F"), ("-20 °C", "-4 °F"), ("200 °C", "392 °F"), ("300 °C", "572 °F"),
        ("±5 °C", "±9 °F"), ("±3 °C", "±5 °F"),
    ],
)  # fmt: skip
def test_a_temperature_in_a_text_is_told_in_the_degrees_of_each_shop(text: str, inch: str) -> None:
    assert [plain(degrees(text, system)) for system in ("metric", "inch")] == [text, inch]
