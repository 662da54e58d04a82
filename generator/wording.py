"""What a sheet's texts may say: values that it works, nothing typed that it works, nothing of what is not there."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from .errors import Fault, WorkingError
from .formula import FORMULARY
from .model.library import Library
from .model.prose import Condition, Prose, Value, typed_degrees
from .model.quantity import read_symbol
from .model.schema import Card, Given, Sheet
from .model.yaml_text import Document, Path_
from .reckoning import InputError, Reckoning, reckon
from .units import SYSTEMS, System, plain

Reckonings = Mapping[System, Reckoning]


def prose_faults(library: Library, sheet: Sheet, document: Document, reckonings: Reckonings) -> Iterator[Fault]:
    """Everything that is wrong in a sheet's texts."""
    if "{" in sheet.purpose or "}" in sheet.purpose:
        yield document.fault_in_text(("purpose",), "{" if "{" in sheet.purpose else "}", "a purpose carries no values")
    faults = [
        fault for path, text in sheet.prose for fault in _text_faults(library, sheet, document, reckonings, path, text)
    ]
    yield from faults
    if isinstance(sheet, Card) and not faults:
        for path, asked in sheet.whens:
            yield from _condition_faults(document, path, asked, reckonings)
        yield from _nothing_faults(library, sheet, document, reckonings)


def _text_faults(
    library: Library, sheet: Sheet, document: Document, reckonings: Reckonings, path: Path_, text: Prose
) -> Iterator[Fault]:
    known = {
        *reckonings[SYSTEMS[0]].working.values,
        *reckonings[SYSTEMS[0]].working.refused,
        *reckonings[SYSTEMS[0]].titles,
    }
    if typed := typed_degrees(text):
        yield document.fault_in_text(path, typed.typed, str(typed))
    if isinstance(sheet, Card):
        yield from _typed_faults(path, text, document, reckonings)
        if "T_a" in sheet.givens or "compound" in sheet.givens:
            yield from _time_faults(path, text, document)
    links = library.cards if path[0] in ("use_when", "not_when") else {}
    for value in text.values:
        if value.name not in {*known, *links}:
            written = f"{{{value.name}}}"
            near = get_close_matches(value.name, {*known, *links, *FORMULARY.symbols}, n=3)
            hint = f"; did you mean {' or '.join(f'{{{one}}}' for one in near)}?" if near else ""
            message = f"'{written}' is neither worked by this card nor one of its choices{hint}"
            yield document.fault_in_text(path, written, message)
        elif value.name in FORMULARY.symbols and FORMULARY.symbols[value.name].marks:
            message = f"'{value.name}' stands for words; write them as [{value.name} > 0: so | else so]"
            yield document.fault_in_text(path, f"{{{value.name}}}", message)
    for asked in text.conditions:
        yield from _condition_faults(document, path, asked, reckonings)


def _condition_faults(document: Document, path: Path_, asked: Condition, reckonings: Reckonings) -> Iterator[Fault]:
    """Conditions on what the card does not work, or that the live card could not ask of a fraction of an inch."""
    name = asked.symbol
    if not reckonings[SYSTEMS[0]].has(name):
        yield document.fault_in_text(path, name, f"'{name}' is not worked by this card; name a symbol that is")
    elif asked.over and FORMULARY.symbols[name].metric.step != 1:
        yield document.fault_in_text(path, name, f"only a count is asked whether it is above {asked.over}; ask above 0")


def read_prose(card: Card, reckoning: Reckoning) -> Iterator[tuple[Path_, list[str | Value]]]:
    """The texts that stand in the card for a reckoning, each as it reads then."""
    away = {path[:-1] for path, asked in card.whens if not reckoning.holds(asked)}
    for path, text in card.prose:
        if path[:-1] not in away:
            yield path, list(text.chosen(reckoning.holds))


# A number with a unit, as a value is written in a text.
_TYPED = re.compile(r"(?<![\w/.])(\d+(?:[ \u00a0]\d+/\d+|/\d+|\.\d+)?)\s?(mm|in|mL|g|kN|lbf|min|h|°C|°F|%)(?!\w)")


def _typed_faults(path: Path_, text: str, document: Document, reckonings: Reckonings) -> Iterator[Fault]:
    """Values typed into a text although the card works them: they would stay when the inputs change."""
    for match in _TYPED.finditer(text):
        written = " ".join(match.group(0).split())
        for reckoning in reckonings.values():
            same = [name for name in reckoning.working.values if plain(reckoning.shop(name)) == written]
            if same:
                names = " or ".join(f"{{{name}}}" for name in same[:3])
                yield document.fault_in_text(path, match.group(0), f"'{written}' is worked by this card; write {names}")
                break


# A time in words. Where a card works its times, one that goes by the temperature or the hardener is a symbol's value.
_NUMBER = (
    "an?|half an?|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|few|some|next|full"
)
_WORDED = re.compile(
    rf"\b(?:{_NUMBER})(?: (?:or|to|full|whole|{_NUMBER}))* (?:minutes?|hours?|days?|nights?|weeks?|months?)\b"
    r"|\bovernight\b|\bthe (?:day|night) (?:after|before)\b",
    re.IGNORECASE,
)
# Times that no cure decides, each with the reason; common practice.
_TIMES_IN_WORDS = {
    "two full minutes": "stirring",
    "half a minute": "stirring on in the second cup",
    "a minute": "a short look, or the iron taken off",
    "ten minutes": "hosing, and how often to look for smoulder",
    "few minutes": "how often to try",
    "an hour": "watching for smoulder",
    "overnight": "cans left in a warm room",
    "the next day": "a leak has had time to show",
    "next day": "a leak has had time to show",
    "a day": "readings of a moisture meter, a day apart",
    "a whole day": "how others do it",
    "a month": "wood that creeps under a plate",
    "some day": "no time at all",
}


def _time_faults(path: Path_, text: str, document: Document) -> Iterator[Fault]:
    """Times in words that would stay when the day is cold or the hardener fast."""
    for match in _WORDED.finditer(" ".join(text.split())):
        written = match.group(0)
        waits = match.string[: match.start()].lower().endswith("after ")
        if waits or written.lower() not in _TIMES_IN_WORDS:
            message = f"'{written}' stays when the day is colder; work the time and write its symbol, as {{t_z1}}"
            yield document.fault_in_text(path, written, message)


# What a reckoning may have none of.
_AMOUNTS = ("m", "m**3", "kg")


def _nothing_faults(library: Library, card: Card, document: Document, reckonings: Reckonings) -> Iterator[Fault]:
    """Texts that would tell a length or an amount of 0, once a given of the card is 0."""
    nothing = {name: str(given.min) for name, given in card.givens.items() if _may_be_none(name, given)}
    told: set[tuple[Path_, str]] = set()
    for none in [*({name: text} for name, text in nothing.items()), nothing]:
        try:
            reckoning = reckon(library, card, {**none, "shop": SYSTEMS[0]})
        except (InputError, WorkingError):
            continue
        for path, found in read_prose(card, reckoning):
            for value in found:
                here = (path, value.name) if isinstance(value, Value) and _is_nothing(value.name, reckoning) else None
                if here and here not in told:
                    told.add(here)
                    written, names = f"{{{here[1]}}}", " and ".join(none)
                    message = (
                        f"{written} is 0 where {names} is; write [{next(iter(none))} > 0: so | else so], or 'when'"
                    )
                    yield document.fault_in_text(path, written, message)


def _may_be_none(name: str, given: Given) -> bool:
    """Whether a length may be given as 0, as that of a bed that is left out."""
    symbol = FORMULARY.symbols.get(name)
    return symbol is not None and symbol.unit == "m" and given.min is not None and not read_symbol(name, given.min)


def _is_nothing(name: str, reckoning: Reckoning) -> bool:
    symbol = FORMULARY.symbols.get(name)
    is_amount = symbol is not None and symbol.unit in _AMOUNTS and name not in reckoning.titles
    return is_amount and not reckoning.holds(Condition(name, 0))
