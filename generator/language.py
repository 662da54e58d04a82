"""The language that pages speak. Every text is known by its English words; a catalogue holds what stands for them.

While pages of another language are made, `speaking` says which; `tr` is the one way from an English text to what is
printed. A text that the catalogue does not have stays English, and is counted.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Set
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_skeleton, get_day_names
from babel.messages.pofile import PoFileError, read_po

from .errors import BondwrightError, Fault, Faults

ENGLISH = "en"
# Whose way to write a day the English pages have.
_ENGLISH_DAYS = Locale("en", "GB")


@dataclass
class Language:
    """A language: its texts by the English ones, and how it writes numbers. `asked` are the texts that were wanted, and
    `own` those that were written in this language."""

    name: str
    texts: Mapping[str, str]
    asked: set[str] = field(default_factory=set)
    own: Set[str] = frozenset()

    @property
    def locale(self) -> Locale:
        """What is known of the language's ways."""
        return Locale.parse(self.name)

    @property
    def title(self) -> str:
        """What the language calls itself."""
        return str(self.locale.get_display_name(self.name) or self.name).capitalize()

    @property
    def point(self) -> str:
        """The sign that parts a number's whole from its decimals."""
        return str(self.locale.number_symbols.get("latn", self.locale.number_symbols).get("decimal", "."))

    @property
    def missing(self) -> list[str]:
        """The texts that were wanted and stand in English."""
        return sorted(text for text in self.asked - self.own if text not in self.texts)

    @property
    def told(self) -> str:
        """How many these are."""
        return f"{self.name}: {len(self.missing):,} of {len(self.asked):,} texts missing; they stand in English"

    def text(self, english: str) -> str:
        """What stands for an English text."""
        if not has_words(english):
            return english
        key = " ".join(english.split())
        self.asked.add(key)
        found = self.texts.get(key)
        return english if found is None else _spaced(english, found)


# A turn that begins with a space of its own, as " and more" in "so much[n > 1:  and more]", taken or not. A catalogue's
# texts have single spaces, so that the space is put in where the other language's words would run together.
_BEGUN = r"\[\w+ > [^]:]+: "
_OWN_SPACE = {"": re.compile(rf"({_BEGUN}) "), r"[^][|]*\| ": re.compile(rf"({_BEGUN})[^][|]*\|  ")}


def _spaced(english: str, found: str) -> str:
    for before, own in _OWN_SPACE.items():
        for begun in map(re.escape, dict.fromkeys(own.findall(english))):
            found = re.sub(rf"(?<=\S)({begun}{before})(?=[\w{{])", r"\1 ", found)
    return found


_SPOKEN: ContextVar[Language | None] = ContextVar("spoken", default=None)


@contextmanager
def speaking(language: Language | None) -> Iterator[None]:
    """Have all texts and numbers in this language; without one in English."""
    before = _SPOKEN.set(language)
    try:
        yield
    finally:
        _SPOKEN.reset(before)


def spoken() -> Language | None:
    """The language that is spoken; none where it is English."""
    return _SPOKEN.get()


def speaks() -> str:
    """The name of the language that is spoken."""
    language = _SPOKEN.get()
    return language.name if language else ENGLISH


def tr(english: str, **values: object) -> str:
    """An English text in the language that is spoken, with the values put in for their names in braces."""
    language = _SPOKEN.get()
    text = language.text(english) if language else english
    return text.format(**values) if values else text


def later(english: str) -> str:
    """An English text that is told by `tr` later on: it marks it for the catalogue."""
    return english


def _locale() -> Locale:
    """How the language that is spoken writes a day."""
    language = _SPOKEN.get()
    return language.locale if language else _ENGLISH_DAYS


def day_in_words(day: date) -> str:
    """A day as it is written in a sentence."""
    return format_date(day, "long", _locale())


def day_in_a_plan(day: date) -> str:
    """A day as it heads the rows of a plan."""
    return f"{get_day_names('abbreviated', locale=_locale())[day.weekday()]} {day_in_words(day)}"


def day_in_short(day: date) -> str:
    """A day of a plan where there is little room."""
    return format_skeleton("MMMd", day, locale=_locale())


def weekday(number: int) -> str:
    """A day of the week, counted from 0 for Monday."""
    return str(get_day_names("wide", locale=_locale())[number])


def lower_first(text: str) -> str:
    """A phrase within a sentence: in English it begins small, in another language as it is written."""
    return text if _SPOKEN.get() else text[:1].lower() + text[1:]


def pointed(number: str) -> str:
    """A number, written with a decimal point, as the language that is spoken writes it."""
    language = _SPOKEN.get()
    return number.replace(".", language.point) if language else number


def point() -> str:
    """The sign of decimals in the language that is spoken."""
    language = _SPOKEN.get()
    return language.point if language else "."


def in_order(text: str) -> str:
    """What a text is sorted by: letters with marks beside those without, as a dictionary has them (in German DIN 5007,
    its first way); in English the text itself."""
    if not _SPOKEN.get():
        return text
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


_BRACED = re.compile(r"\{[^{}]*\}|\[[A-Za-z]\w* > \d+:")
# What is no word to a reader: values, conditions, tags and where a link leads.
_BARE = re.compile(_BRACED.pattern + r"|<[^>]*>|\]\([^)]*\)?")
_WORDS = re.compile(r"[^\W\d_]{2,}")
# What cannot be seen and belongs to words: a blank that keeps them together, and where a long one may be broken.
_BLANK = "\u00a0\u00ad"
# What stays as it is in a translation.
_CODE = re.compile(_BRACED.pattern + r"|</?[a-z]+[0-9]*/?>|\](?:\([^)]*\)?|:)")


def has_words(text: str) -> bool:
    """Whether there is anything in a text to say in another language."""
    return bool(_WORDS.search(_BARE.sub("", text)))


def code_of(text: str) -> set[str]:
    """What is no word in a text: the values that it prints, the conditions that it goes by, its tags, and where its
    links lead."""
    return {*_CODE.findall(text)}


def signs_of(text: str) -> set[str]:
    """The other signs in it of a page's or a script's own code, and those that cannot be seen."""
    signs = {sign for sign in _CODE.sub("", text) if not sign.isprintable() or sign in "<{}`*\\"} - {*_BLANK}
    return {sign if sign.isprintable() else f"U+{ord(sign):04X}" for sign in signs}


def catalogue_file(folder: Path, name: str) -> Path:
    """Where a language's catalogue stands in a folder of procedures."""
    return folder / "languages" / f"{name}.po"


def read_language(name: str, folders: Iterable[Path]) -> Language:
    """A language by its catalogues in these folders, the later over the earlier. Raises Faults."""
    try:
        Locale.parse(name)
    except (UnknownLocaleError, ValueError):
        raise BondwrightError(f"'{name}' is no language; write its code, as de or fr") from None
    texts: dict[str, str] = {}
    files = [file for folder in folders if (file := catalogue_file(folder, name)).is_file()]
    if not files:
        raise BondwrightError(f"there is no catalogue languages/{name}.po; `bondwright words {name}` makes one")
    faults: list[Fault] = []
    for file in files:
        texts |= _read(file, faults)
    if faults:
        raise Faults(faults)
    return Language(name, texts)


def _read(file: Path, faults: list[Fault]) -> dict[str, str]:
    """The texts of one catalogue that are translated and sure."""
    where = f"{file.parent.parent.name}/languages/{file.name}"
    texts: dict[str, str] = {}
    try:
        with file.open("rb") as opened:
            catalogue = read_po(opened, abort_invalid=True)
    except PoFileError as error:
        raise Faults([Fault(where, error.lineno or 1, 1, str(error.args[0]))]) from None
    except (OSError, ValueError) as error:
        raise BondwrightError(f"{where}: cannot be read: {error}") from None
    for message in catalogue:
        english, said = message.id, message.string
        if not english or not said or message.fuzzy or not isinstance(english, str) or not isinstance(said, str):
            continue
        for wrong in _wrong(english, said):
            faults.append(Fault(where, message.lineno or 1, 1, wrong))
        texts[english] = said
    return texts


def _wrong(english: str, said: str) -> Iterator[str]:
    """What a translation has lost or added of what is no word, for it comes to stand in templates and scripts."""
    here, there = code_of(english), code_of(said)
    lost, added = sorted(here - there), sorted(there - here | signs_of(said) - signs_of(english))
    if lost or added:
        what = [f"lacks {', '.join(lost)}"] if lost else []
        what += [f"has {', '.join(added)}, which the English has not"] if added else []
        yield (
            f"the translation of '{english[:60]}' {' and '.join(what)}; values, conditions, tags and where links lead "
            "stay as they are"
        )
