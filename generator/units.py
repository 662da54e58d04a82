"""Units: how large each is, reading what a boatbuilder writes, and rounding for the shop.

Inside the program every value is a float in coherent SI units. Units appear twice: where text is
read ("1/4 in") and where a value is shown ("14 mm", "9/16 in").
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache, cached_property, lru_cache
from typing import Annotated, Literal, TypeVar

from .errors import seen
from .language import later, pointed, tr

# The unit of a formula's argument or result, written as its annotation: the value is a float, the
# unit rides along for the unit proof.
one = Annotated[float, "dimensionless"]
m = Annotated[float, "m"]
m2 = Annotated[float, "m**2"]
m3 = Annotated[float, "m**3"]
kg = Annotated[float, "kg"]
kg_per_m2 = Annotated[float, "kg/m**2"]
kg_per_m3 = Annotated[float, "kg/m**3"]
rad = Annotated[float, "rad"]
s = Annotated[float, "s"]
K = Annotated[float, "K"]
# A difference of temperatures: as large in kelvin, and read and shown without the scale's own beginning.
dK = Annotated[float, "delta_degC"]
N = Annotated[float, "N"]
Pa = Annotated[float, "Pa"]
J = Annotated[float, "J"]
W = Annotated[float, "W"]
N_m = Annotated[float, "N*m"]
N_per_m = Annotated[float, "N/m"]
m_per_s = Annotated[float, "m/s"]
J_per_kg = Annotated[float, "J/kg"]
J_per_kg_K = Annotated[float, "J/(kg*K)"]
J_per_mol = Annotated[float, "J/mol"]
J_per_mol_K = Annotated[float, "J/(mol*K)"]
kg_per_mol = Annotated[float, "kg/mol"]
W_per_m_K = Annotated[float, "W/(m*K)"]
W_per_m3 = Annotated[float, "W/m**3"]
m_per_s2 = Annotated[float, "m/s**2"]
per_K = Annotated[float, "1/K"]

System = Literal["metric", "inch"]
SYSTEMS: tuple[System, ...] = ("metric", "inch")
# The two shops that ship go by the name of their units.
SHIPPED_SHOPS: dict[str, System] = {system: system for system in SYSTEMS}
# The unit that lengths are sold and told in.
LENGTH_UNIT: dict[System, str] = {"metric": "mm", "inch": "in"}
_T = TypeVar("_T")


def by_system(system: System, metric: _T, inch: _T) -> _T:
    """What goes by the units: the one place that asks which they are."""
    return metric if system == "metric" else inch


# What may be written after a number, by the SI unit it stands for. A closed list: a unit text is
# never handed to a parser that computes, and an error can say what is allowed.
SPELLINGS: dict[str, dict[str, str]] = {
    "dimensionless": {"": "dimensionless", "%": "percent"},
    "m": {
        "mm": "mm",
        "cm": "cm",
        "m": "m",
        "in": "in",
        **dict.fromkeys(("inch", "inches", "Zoll"), "in"),
        "ft": "ft",
    },
    "m**2": {"mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in2": "in**2", "ft2": "ft**2"},
    "m**3": {"mL": "mL", "ml": "mL", "L": "L", "mm3": "mm**3", "cm3": "cm**3", "in3": "in**3", "fl oz": "fluid_ounce"},
    "kg": {"g": "g", "kg": "kg", "lb": "lb", "oz": "oz"},
    "kg/m**2": {"g/m2": "g/m**2", "kg/m2": "kg/m**2"},
    "kg/m**3": {"g/mL": "g/mL", "g/ml": "g/mL", "kg/m3": "kg/m**3", "kg/L": "kg/L"},
    "rad": {"deg": "deg", "°": "deg", "rad": "rad"},
    "s": {"s": "s", "min": "min", "h": "hour", "d": "day"},
    "K": {
        **dict.fromkeys(("degC", "deg C", "°C", "° C", "C"), "degC"),
        **dict.fromkeys(("degF", "deg F", "°F", "° F", "F"), "degF"),
        "K": "K",
    },
    "delta_degC": {
        **dict.fromkeys(("°C", "° C", "degC", "deg C", "C", "K"), "delta_degC"),
        **dict.fromkeys(("°F", "° F", "degF", "deg F", "F"), "delta_degF"),
    },
    "N": {"N": "N", "kN": "kN", "lbf": "lbf"},
    "Pa": {"MPa": "MPa", "N/mm2": "N/mm**2", "GPa": "GPa", "kPa": "kPa", "psi": "psi", "ksi": "ksi"},
    "J": {"J": "J", "kJ": "kJ"},
    "W": {"W": "W", "kW": "kW"},
    "N*m": {"Nm": "N*m", "lbf·in": "lbf*in"},
    "N/m": {"N/mm": "N/mm", "lbf/in": "lbf/in"},
    "m/s": {"m/s": "m/s", "kn": "knot", "km/h": "km/hour", "mm/d": "mm/day"},
    "J/kg": {"J/g": "J/g", "kJ/kg": "kJ/kg"},
    "J/(kg*K)": {"kJ/kgK": "kJ/(kg*K)", "J/gK": "J/(g*K)"},
    "J/mol": {"kJ/mol": "kJ/mol", "J/mol": "J/mol"},
    "J/(mol*K)": {"J/molK": "J/(mol*K)"},
    "kg/mol": {"g/mol": "g/mol"},
    "W/(m*K)": {"W/mK": "W/(m*K)"},
    "W/m**3": {"W/L": "W/L"},
    "m/s**2": {"m/s2": "m/s**2"},
    "1/K": {"mm/mK": "mm/(m*K)", "1/K": "1/K"},
}
# What a unit measures, and what is written for it: in a metric shop, and in an inch shop where it differs.
KIND_OF_UNIT: dict[str, tuple[str, ...]] = {
    "dimensionless": (later("a plain number"), later("0.7, 2/3 or 40 %")),
    "m": (later("a length"), "90 mm", "3 1/2 in"),
    "m**2": (later("an area"), "2500 mm2", "4 in2"),
    "m**3": (later("a volume"), "10 mL"),
    "kg": (later("a mass"), "15 g"),
    "kg/m**2": (later("a coverage"), "300 g/m2"),
    "kg/m**3": (later("a density"), "1.15 g/mL"),
    "rad": (later("an angle"), "118 deg"),
    "s": (later("a time"), "20 min"),
    "K": (later("a temperature"), "20 °C", "70 °F"),
    "delta_degC": (later("a difference of temperatures"), "40 °C", "70 °F"),
    "N": (later("a force"), "2.5 kN", "500 lbf"),
    "Pa": (later("a stress"), "450 MPa", "65 ksi"),
    "J": (later("an energy"), "5 kJ"),
    "W": (later("a power"), "80 W"),
    "N*m": (later("a moment"), "40 Nm", "350 lbf·in"),
    "N/m": (later("a force a length"), "200 N/mm", "1100 lbf/in"),
    "m/s": (later("a speed"), "30 kn"),
    "J/kg": (later("a heat a mass"), "450 J/g"),
    "J/(kg*K)": (later("a heat capacity"), "0.5 kJ/kgK"),
    "J/mol": (later("an activation energy"), "58 kJ/mol"),
    "J/(mol*K)": (later("a gas constant"), "8.314 J/molK"),
    "kg/mol": (later("an equivalent weight"), "190 g/mol"),
    "W/(m*K)": (later("a conductivity"), "16 W/mK"),
    "W/m**3": (later("a heat given off in a volume"), "50 W/L"),
    "m/s**2": (later("an acceleration"), "9.81 m/s2"),
    "1/K": (later("an expansion"), "0.07 mm/mK"),
}
# No quantity is longer than this.
LONGEST = 80
# The fractions that are one letter, and the marks that stand for inches.
_FRACTION = re.compile("[\u00bc-\u00be\u2150-\u215e]")
_INCHES = re.compile(r"[\"”]|(['′’])\1")
_QUANTITY = re.compile(
    r"""\s*(?P<sign>[+\u2212-]?)
        (?: (?P<whole>\d{1,9})[ -]+(?P<num1>\d{1,9})[/\u2044](?P<den1>\d{1,9})
          | (?P<num2>\d{1,9})[/\u2044](?P<den2>\d{1,9})
          | (?P<decimal>\d{1,12}(?:\.\d{0,20}|,\d{1,2}(?!\d))?|\.\d{1,20}) )
        \s*(?P<unit>.*?)\s*""",
    re.VERBOSE | re.DOTALL | re.ASCII,
)


class QuantityError(ValueError):
    """A text that is not the quantity it should be; the message says what would be right."""


# How large a unit is in the SI units that it is coherent with. Named and defined by treaty or standard, but for the
# circle's part all of them exactly; tests/test_units.py compares with pint, which proves the formulas.
_SI = ("dimensionless", "m", "kg", "s", "K", "rad", "mol", "N", "Pa", "J", "W", "delta_degC")
_POUND, _INCH, _GRAVITY = Fraction("0.45359237"), Fraction("0.0254"), Fraction("9.80665")
_SIZES: dict[str, Fraction] = {
    **dict.fromkeys(_SI, Fraction(1)),
    "percent": Fraction(1, 100),
    "mm": Fraction(1, 1000),
    "cm": Fraction(1, 100),
    "in": _INCH,
    "ft": 12 * _INCH,
    "L": Fraction(1, 1000),
    "mL": Fraction(1, 10**6),
    "fluid_ounce": 231 * _INCH**3 / 128,
    "g": Fraction(1, 1000),
    "lb": _POUND,
    "oz": _POUND / 16,
    "deg": Fraction(math.pi) / 180,
    "min": Fraction(60),
    "hour": Fraction(3600),
    "day": Fraction(86400),
    "degC": Fraction(1),
    "degF": Fraction(5, 9),
    "delta_degF": Fraction(5, 9),
    "kN": Fraction(1000),
    "lbf": _POUND * _GRAVITY,
    "MPa": Fraction(10**6),
    "GPa": Fraction(10**9),
    "kPa": Fraction(1000),
    "psi": _POUND * _GRAVITY / _INCH**2,
    "ksi": 1000 * _POUND * _GRAVITY / _INCH**2,
    "kJ": Fraction(1000),
    "kW": Fraction(1000),
    "km": Fraction(1000),
    "knot": Fraction(1852, 3600),
}
# What a unit measures, as a number: a prime for each base, and products of them. Two of one kind have the same.
_M, _KG, _S, _K, _MOL = map(Fraction, (2, 3, 5, 7, 11))
_FORCE = _KG * _M / _S**2
_KINDS: dict[str, Fraction] = {
    unit: kind
    for kind, units in {
        Fraction(1): "dimensionless percent rad deg",
        _M: "m mm cm in ft km",
        _M**3: "L mL fluid_ounce",
        _KG: "kg g lb oz",
        _S: "s min hour day",
        _K: "K degC degF delta_degC delta_degF",
        _MOL: "mol",
        _FORCE: "N kN lbf",
        _FORCE / _M**2: "Pa kPa MPa GPa psi ksi",
        _FORCE * _M: "J kJ",
        _FORCE * _M / _S: "W kW",
        _M / _S: "knot",
    }.items()
    for unit in units.split()
}
# Where the scale of a thermometer begins.
_BEGINNINGS = {"degC": Fraction("273.15"), "degF": Fraction("459.67") * 5 / 9}


def _of(unit: str, parts: Mapping[str, Fraction]) -> Fraction:
    """What a unit's parts make of it, written as a product over a product: `kJ/(kg*K)`."""
    above, _, below = unit.replace("**", "^").partition("/")
    return _product(above, parts) / _product(below.strip("()"), parts)


def _product(units: str, parts: Mapping[str, Fraction]) -> Fraction:
    powers = (part.partition("^") for part in units.split("*") if part not in ("", "1"))
    return math.prod((parts[unit] ** int(power or 1) for unit, _, power in powers), start=Fraction(1))


@cache
def factor(unit: str, base: str) -> float:
    """How many `base` one step of `unit` is. Raises ValueError where they measure different things."""
    if _of(unit, _KINDS) != _of(base, _KINDS):
        raise ValueError(f"{unit} and {base} measure different things")
    return float(_of(unit, _SIZES) / _of(base, _SIZES))


@cache
def offset(unit: str) -> float:
    """Where the scale of `unit` begins in SI units: 273.15 K for degrees Celsius, 0 for all but temperatures."""
    return float(_BEGINNINGS.get(unit, 0))


def to_base(value: float, unit: str, base: str) -> float:
    """`value` in `unit` as a float in the SI unit `base`."""
    return value * factor(unit, base) + offset(unit)


def from_base(value: float, base: str, unit: str) -> float:
    """A float in the SI unit `base` as a number of `unit`."""
    return (value - offset(unit)) / factor(unit, base)


def plainly(text: str) -> str:
    """What a quantity looks like in plain letters, with one space between its parts."""
    letters = unicodedata.normalize("NFKC", _FRACTION.sub(r" \g<0>", text[:LONGEST]))
    return " ".join(_INCHES.sub(" in", letters, count=1).split())


@lru_cache(maxsize=8192)
def read_number(text: str) -> tuple[Fraction, str]:
    """Split "3 1/2 in" into (7/2, "in"). Raises QuantityError when no number leads the text.

    What word processors, phones and this project's own pages write is read as what it stands for: their spaces, 3½, a
    double prime, a raised 2, a minus sign. A comma before one or two digits
    is a decimal point; before three it could part thousands, and is not read.
    """
    match = _QUANTITY.fullmatch(plainly(text)) if len(text) <= LONGEST else None
    if not match:
        raise QuantityError(tr("'{text}' does not begin with a number", text=clip(text)))
    part = match.groupdict()
    numerator = part["num1"] or part["num2"]
    if numerator is None:
        number = Fraction(part["decimal"].replace(",", "."))
    else:
        denominator = int(part["den1"] or part["den2"])
        if denominator == 0:
            raise QuantityError(tr("'{text}' divides by zero", text=clip(text)))
        number = int(part["whole"] or 0) + Fraction(int(numerator), denominator)
    return (-number if part["sign"] in ("-", "\u2212") else number), part["unit"]


@lru_cache(maxsize=4096)
def read_quantity(text: str, base: str, system: System | None = None) -> float:
    """Read "90 mm", "3 1/2 in", "40 %" as a float in the SI unit `base`.

    Raises QuantityError that names the kind of quantity wanted and an example of it, for a shop in its own units.
    """
    wanted = what_to_write(base, system)
    try:
        number, unit = read_number(text)
    except QuantityError as error:
        raise QuantityError(f"{error}; {wanted}") from None
    allowed = SPELLINGS[base]
    if unit not in allowed:
        if unit == "":
            raise QuantityError(tr("'{text}' has no unit; {wanted}", text=clip(text), wanted=wanted))
        first = {unit: spelling for spelling, unit in reversed(allowed.items()) if spelling}
        values = {
            "text": clip(text),
            "kind": tr(KIND_OF_UNIT[base][0]),
            "unit": clip(unit),
            "wanted": wanted,
            "units": ", ".join(reversed(first.values())),
        }
        raise QuantityError(
            tr("'{text}' is not {kind}: unit '{unit}' does not fit; {wanted} (units: {units})", **values)
        )
    return to_base(float(number), allowed[unit], base)


def what_to_write(base: str, system: System | None = None) -> str:
    """The advice for a text that is no quantity of the SI unit `base`: as a shop writes it, or as either does."""
    kind, *examples = KIND_OF_UNIT[base]
    own = [by_system(system, examples[0], examples[-1])] if system else examples
    told = f" {tr('or')} ".join(tr(one) if " or " in one else pointed(one) for one in own)
    return tr("write {kind}, for example {example}", kind=tr(kind), example=told)


# How many digits the end of a range has, but in inches.
_DIGITS = 3


def from_to(low: str, high: str) -> str:
    """A range by its ends, of which one may be open."""
    if low and high:
        return low if low == high else tr("{low} to {high}", low=low, high=high)
    return tr("at least {low}", low=low) if low else tr("at most {high}", high=high) if high else ""


def end_in(value: float, base: str, unit: str, whole: Callable[[float], int]) -> float:
    """The end of a range (SI) in a unit as it is spelt, rounded inwards to what can be typed: three digits; of an inch
    what a rule shows at that length."""
    number = from_base(value, base, SPELLINGS[base][unit])
    if SPELLINGS[base][unit] == "in":
        parts = Fraction(64 if number < 1 else 16 if number < 12 else 1)
    else:
        parts = Fraction(10) ** (_DIGITS - 1 - math.floor(math.log10(abs(number) or 1)))
    noise = 1e-6 if whole is math.floor else -1e-6
    return float(whole(number * float(parts) + noise) / parts)


def span(low: float | None, high: float | None, base: str, unit: str) -> str:
    """A range (SI) as it is told to somebody who writes in this unit: its ends rounded inwards, the unit once."""

    def end(value: float | None, whole: Callable[[float], int]) -> str:
        if value is None:
            return ""
        number = end_in(value, base, unit, whole)
        return mixed(Fraction(number)) if SPELLINGS[base][unit] == "in" else significant(number, _DIGITS)

    first, last = end(low, math.ceil), end(high, math.floor)
    after = f"\N{NO-BREAK SPACE}{unit}" if unit else ""
    both = first and last and first != last
    return from_to(first and first + ("" if both else after), last and last + after)


def span_for(text: str, low: float, high: float, base: str) -> str:
    """The same for somebody who wrote this: in the unit of the text, for it is not told which shop a file is for."""
    unit = read_number(text)[1]
    return span(low, high, base, unit if unit in SPELLINGS[base] else next(iter(SPELLINGS[base])))


def clip(text: str, length: int = 60) -> str:
    """`text` on one line, cut to a length that an error message can carry; what cannot be seen is spelt out."""
    line = seen(" ".join(text[: 4 * length].split()))
    return line if len(line) <= length else line[: length - 1] + "…"


def shortened(text: str, length: int) -> str:
    """`text`, or as many of its words as a page has room for: no word ends in its middle."""
    return text if len(text) <= length else f"{text[: length - 1].rsplit(' ', 1)[0]} …"


Direction = Literal["nearest", "up", "down"]
_ROUNDING = {"nearest": ROUND_HALF_UP, "up": ROUND_CEILING, "down": ROUND_FLOOR}
# Nearer than this, in the unit shown, two numbers are one: 0.0156 in is 1/64 in.
SAME_NUMBER = 5e-5
# Binary noise must not push a value over a step: 63.000000000000007 mm is 63 mm, 2.5e-10 mL is none.
_NOISE = 9


@lru_cache(maxsize=8192)  # a site shows most of its numbers many times
def whole_steps(value: float, step: float, direction: Direction) -> int:
    """How many `step` make `value`, rounded in the direction given."""
    steps = Decimal(f"{value / step:.{_NOISE}f}")
    return int(steps.to_integral_value(_ROUNDING[direction]))


@dataclass(frozen=True)
class Shown:
    """How a quantity is shown in one shop: its unit, the step it is rounded to, and how it is written.

    `fraction` writes halves to 64ths of an inch; otherwise decimals, as many as the step has.
    """

    unit: str
    step: Fraction
    direction: Direction = "nearest"
    fraction: bool = False
    trim: bool = False

    @cached_property
    def decimals(self) -> int:
        """How many decimals the step has."""
        return decimals(self.step)

    @cached_property
    def _ratio(self) -> tuple[int, int]:
        """The step as one whole number over another: a fraction takes its time to reckon with."""
        return self.step.as_integer_ratio()

    def steps(self, value: float) -> int:
        """How many steps `value` (a number of `unit`) is, rounded for the shop."""
        over, under = self._ratio
        return whole_steps(value, over / under, self.direction)

    def rounded(self, value: float) -> Fraction:
        """`value` (a number of `unit`) rounded for the shop."""
        return self.steps(value) * self.step

    def as_set(self, value: float) -> Fraction | None:
        """`value` on the finest step of its kind, where that is no other number."""
        fine = replace(self, step=Fraction(1, 64)) if self.fraction else self
        told = fine.rounded(value)
        return told if abs(float(told) - value) <= SAME_NUMBER else None

    def number(self, value: float, *, own: bool = False) -> str:
        """The rounded number as it is written, without its unit; what is the reader's `own` is told as it was set."""
        set_to = self.as_set(value) if own else None
        if own and set_to is None:
            return pointed(f"{Decimal(value).quantize(Decimal('0.0001'), ROUND_HALF_UP):f}".rstrip("0").rstrip("."))
        if self.fraction:
            return mixed(self.rounded(value) if set_to is None else set_to)
        over, under = self._ratio
        text = f"{self.steps(value) * over / under:.{self.decimals}f}"
        return pointed(text.rstrip("0").rstrip(".") if self.trim and "." in text else text)

    def text(self, value: float, *, own: bool = False) -> str:
        """The rounded number with its unit."""
        return with_unit(self.number(value, own=own), self.unit)

    def as_written(self, value: float, own: str) -> str:
        """What was set to the text `own`, told as it was set; as it was written where no step of the shop's tells
        it."""
        if self.as_set(value) is not None:
            return self.text(value, own=True)
        _, unit = read_number(own)
        number = plainly(own).removesuffix(unit).strip().replace(",", ".")
        return f"{pointed(number)}\N{NO-BREAK SPACE}{unit}".strip()


@cache
def decimals(step: Fraction) -> int:
    """How many decimals a decimal step needs."""
    for places in range(7):
        if (step * 10**places).denominator == 1:
            return places
    raise ValueError(f"{step} is not a decimal step")


def mixed(number: Fraction) -> str:
    """A fraction as a rule shows it: 2 7/16, kept on one line."""
    whole, rest = divmod(abs(number), 1)
    sign = "-" if number < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole}\N{NO-BREAK SPACE}{rest}" if whole else f"{sign}{rest}"


_PLAIN_LABELS = {
    "dimensionless": "",
    "percent": "%",
    "deg": "°",
    "degC": "°C",
    "degF": "°F",
    "delta_degC": "°C",
    "delta_degF": "°F",
    "hour": "h",
    "day": "d",
    "knot": "kn",
    "N*m": "N·m",
    "lbf*in": "lbf·in",
    "kJ/(kg*K)": "kJ/kgK",
    "kJ/(kg*delta_degC)": "kJ/(kg·°C)",
    "J/(mol*K)": "J/molK",
    "W/(m*K)": "W/mK",
    "W/(m*delta_degC)": "W/(m·°C)",
    "mm/(m*K)": "mm/mK",
    "mm/(m*delta_degC)": "mm/(m·°C)",
    "mm/day": "mm/d",
    "fluid_ounce": "fl oz",
}


@cache
def label(unit: str) -> str:
    """A unit as it is printed."""
    return _PLAIN_LABELS.get(unit, unit.replace("**2", "²").replace("**3", "³"))


def with_unit(number: str, unit: str) -> str:
    """A number and its unit with a space that does not break; the degree sign stands close."""
    text = label(unit)
    if not text:
        return number
    return number + text if text == "°" else f"{number}\N{NO-BREAK SPACE}{text}"


# How a unit is written behind a number, the longest first; quotes stand close to it.
_SPELT = {label(unit) for units in SPELLINGS.values() for unit in units.values()}
_SPELT |= {spelt for units in SPELLINGS.values() for spelt in units} | {"day", "days", "hours", "minutes"}
_UNITS = "|".join(map(re.escape, sorted(_SPELT - {""}, key=len, reverse=True)))
# The blank comes first, so that it is what is searched for; in no tag.
_APART = re.compile(rf" (?:(?<=\d )(?=(?:{_UNITS}|\d+/\d+)(?!\w))|(?=×)|(?<=× ))(?![^<>]*+>)")


def degrees(text: str, system: System) -> str:
    """A temperature written as `40 °C`, or a difference as `±5 °C`, in the degrees of a shop; a Fahrenheit is rounded
    down, for what is mostly written so is where something begins to be harmed."""
    number, difference = int(text.lstrip("±").removesuffix(" °C")), text.startswith("±")
    told = math.floor(number * Fraction(9, 5) + (0 if difference else 32))
    fahrenheit = f"{'±' * difference}{told}"
    return by_system(system, with_unit(text.removesuffix(" °C"), "°C"), with_unit(fahrenheit, "°F"))


# A length that a rule's message has in braces, as `6 mm`.
BOUND = r"\d+(?:\.\d+)? m?m"


@dataclass(frozen=True)
class Bound:
    """A length that a rule itself has, in metres, and how each shop reads it."""

    value: float
    metric: Shown
    inch: Shown
    unit: str = "m"

    def shown(self, system: System) -> Shown:
        """How it is shown in a metric or an inch shop."""
        return by_system(system, self.metric, self.inch)

    def text(self, system: System) -> str:
        """As the shop reads it, with its unit."""
        shown = self.shown(system)
        return shown.text(from_base(self.value, self.unit, shown.unit))


_BOUNDS = {
    "mm": (Shown("mm", Fraction(1, 10), trim=True), Shown("in", Fraction(1, 1000), trim=True)),
    "m": (Shown("m", Fraction(1, 10), trim=True), Shown("ft", Fraction(1, 10), trim=True)),
}


@cache
def bound(text: str) -> Bound | None:
    """What is written as `6 mm` or `24 m`; nothing where it is no length."""
    if not re.fullmatch(BOUND, text):
        return None
    number, unit = text.split()
    return Bound(to_base(float(number), unit, "m"), *_BOUNDS[unit])


def unbroken(text: str) -> str:
    """A text, of HTML too, in which no line ends between a number and its unit, a whole and its fraction, or how many
    and how much of each."""
    return _APART.sub("\N{NO-BREAK SPACE}", text)


def plain(text: str) -> str:
    """Without the space that does not break and the hyphen that is not seen, for a terminal, a message or a
    spreadsheet."""
    return text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{SOFT HYPHEN}", "")


def significant(value: float, digits: int = 6) -> str:
    """A number for the printed working, as the language that is spoken writes it: plain decimals, trailing zeros
    dropped."""
    return pointed(plain_decimals(value, digits))


@lru_cache(maxsize=8192)  # a site shows most of its numbers many times
def plain_decimals(value: float, digits: int = 6) -> str:
    """A number in plain decimals with a point, trailing zeros dropped.

    Under a millionth of a shown unit (a nanometre, a microgram) it is binary noise and prints as 0. An exact half goes
    up, as it does in the page.
    """
    if not math.isfinite(value):
        raise ValueError(f"no number to print: {value}")
    if abs(value) < 1e-6:
        return "0"
    exponent = math.floor(math.log10(abs(value)))
    places = max(0, digits - 1 - exponent)
    text = f"{Decimal(value).quantize(Decimal(10) ** -places, ROUND_HALF_UP):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
