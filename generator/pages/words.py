"""Text into HTML: everything escaped, and each worked value once a shop."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from itertools import permutations

from markupsafe import Markup, escape

from ..formula import FORMULARY
from ..language import tr
from ..model.prose import Condition, Degrees, Known, Part, Prose, Turn, Value
from ..model.schema import Card
from ..notation import GREEK
from ..reckoning import AT_ITS_ANGLE, Reckoning
from ..units import SYSTEMS, System, degrees

Reckonings = Mapping[str, Reckoning]

# What stands in the place of a value that there is none of.
NO_NUMBER = "—"

# What Markdown would read as markup in a heading or a line of its own.
_MARKDOWN = {ord(sign): f"&#{ord(sign)};" for sign in "\\`*_{}[]#<>&~^=$|"}
# What HTML or Markdown would read as markup in the midst of a line; no underscore within a name.
_ANYWHERE = re.compile(r"[\\`*\[\]{}<>&|\"']|(?<![A-Za-z0-9])_|_(?![A-Za-z0-9])")
# What Markdown would read as the sign of a list at the beginning of a line.
_LIST_SIGN = re.compile(r"^(\s*\d*)([-+.)])(?=[\s-]|$)")


def no_markup(value: object) -> object:
    """Any text that a template prints, with every sign that HTML or Markdown would read as markup written as the
    number of its letter; what was written as HTML stays."""
    if isinstance(value, Markup) or not isinstance(value, str):
        return value
    return _without_markup(value)


@lru_cache(maxsize=4096)  # the heads and units of tables are printed over and over
def _without_markup(text: str) -> str:
    """The text itself where it has no such sign: a template is sooner done with plain text than with HTML."""
    return Markup(_ANYWHERE.sub(lambda sign: f"&#{ord(sign[0])};", text)) if _ANYWHERE.search(text) else text


def for_each_shop(texts: Mapping[str, str]) -> Markup:
    """The text of each shop, marked so that one of them is shown; one text when they agree."""
    if len(set(texts.values())) == 1:
        return escape(next(iter(texts.values())))
    spans = [f'<span data-shop="{shop}">{escape(text)}</span>' for shop, text in texts.items()]
    return Markup(f"<i> {escape(tr('or'))} </i>".join(spans))


def shop_word(shop: str) -> str:
    """A shop in the word or two that a switch has for it: what its file calls it."""
    return tr(shop.replace("-", " "))


def shown_apart(shops: Iterable[str]) -> Markup:
    """What hides every shop's words but those of the one that is chosen, and what would choose that one again. A style
    sheet knows the two that ship."""
    named = [*shops]
    pairs = [pair for pair in permutations(named, 2) if not {*SYSTEMS}.issuperset(pair)]
    words = [f'{_CHOSEN.format(one)} {place}[data-shop="{other}"]' for one, other in pairs for place in ("~ ", "~ * ")]
    labels = [f'{_CHOSEN.format(one)} ~ * [for="bw-shop-{one}"]' for one in named if one not in SYSTEMS]
    hidden = Markup(",".join([*words, *labels]))
    return Markup("<style>{}{{display:none}}</style>").format(hidden) if hidden else Markup("")


_CHOSEN = ".bw-shop:has(#bw-shop-{}:checked)"


def value(symbol: str, reckonings: Reckonings) -> Markup:
    """What a card has for a symbol or a choice."""
    return prose(Prose(f"{{{symbol}}}"), reckonings)


def prose(text: str, reckonings: Reckonings) -> Markup:
    """A text of a card with its values put in; braces are letters where its field takes no values."""
    return _written(Prose.as_read(text).parts, reckonings)


def _written(found: Iterable[Part], reckonings: Reckonings) -> Markup:
    return Markup("".join([_part_html(part, reckonings) for part in found]))


def _part_html(part: Part, reckonings: Reckonings) -> Markup:
    if isinstance(part, Turn):
        return turn_html(part, reckonings)
    if isinstance(part, Degrees):
        return degrees_html(part, {shop: reckoning.system for shop, reckoning in reckonings.items()})
    return value_html(part.name, reckonings) if isinstance(part, Value) else escape(part)


def degrees_html(part: Degrees, systems: Mapping[str, System]) -> Markup:
    """A temperature in each shop's degrees."""
    return for_each_shop({shop: degrees(part.name, system) for shop, system in systems.items()})


def caution_html(text: Prose, systems: Mapping[str, System]) -> Markup:
    """A caution, which goes by no job and prints no other values than temperatures."""
    parts = [degrees_html(part, systems) if isinstance(part, Degrees) else escape(part) for part in text.parts]
    return Markup("".join(parts))


def turn_html(turn: Turn, reckonings: Reckonings) -> Markup:
    """Both texts of a condition, the one that does not stand hidden; where the shops differ, once a shop."""
    holding = {shop: reckoning.holds(turn.condition) for shop, reckoning in reckonings.items()}
    if len(set(holding.values())) > 1:
        return for_each_shop({shop: turn_html(turn, {shop: reckoning}) for shop, reckoning in reckonings.items()})
    holds = next(iter(holding.values()))
    then, otherwise = (_written(found, reckonings) for found in (turn.then, turn.otherwise))
    html = f"<span{_marks(turn.condition, hidden=not holds)}>{then}</span>"
    if otherwise:
        html += f'<span{_marks(turn.condition, hidden=holds)} data-not="1">{otherwise}</span>'
    return Markup(html)


def when_html(asked: Condition | Known | None, reckonings: Reckonings, *, otherwise: bool = False) -> Markup:
    """The attributes of an element that stands only where a condition holds, or only where it does not; nothing
    without one."""
    if not asked:
        return Markup("")
    holds = any(reckoning.holds(asked) for reckoning in reckonings.values())
    return _marks(asked, hidden=holds == otherwise) + Markup(' data-not="1"' if otherwise else "")


def _marks(asked: Condition | Known, *, hidden: bool) -> Markup:
    """How a live card finds what goes by a condition, and whether it stands in the card as it came. Of several symbols
    the first is above a number where one is named, of the others there is one."""
    first = asked.when if isinstance(asked, Known) else asked
    others = asked.symbols if isinstance(asked, Known) else ()
    names = " ".join([*([first.symbol] if first else []), *others])
    over = f' data-over="{escape(first.over)}"' if first else ""
    return Markup(f' data-when="{escape(names)}"{over}{" hidden" * hidden}')


def linked(text: Prose, reckonings: Reckonings, cards: Mapping[str, Card]) -> Markup:
    """A text on a Markdown line of its own: values put in, and other cards named as links."""
    written = []
    for part in text.parts:
        if isinstance(part, Turn):
            written.append(turn_html(part, reckonings))
        elif not isinstance(part, Value):
            written.append(markdown_text(part, keep=True))
        elif part.name in cards:
            written.append(Markup("[{}](../cards/{}.md)").format(markdown_text(cards[part.name].title), part.name))
        else:
            written.append(value_html(part.name, reckonings))
    return Markup("".join(written))


def value_html(name: str, reckonings: Reckonings) -> Markup:
    """A value in each shop's words, marked with its name: a live card finds it, and it leads to its working."""
    text = for_each_shop({shop: reckoning.told(Value(name)) for shop, reckoning in reckonings.items()})
    return Markup(f'<a data-s="{escape(name)}">{text}</a>')


def value_alone_html(name: str, reckonings: Reckonings) -> Markup:
    """The same beside its meaning, where no sentence says at which angle a load holds."""
    value, at = value_html(name, reckonings), FORMULARY.symbols[name].at
    return Markup(tr(AT_ITS_ANGLE)).format(load=value, angle=value_html(at, reckonings)) if at else value


@cache
def symbol_html(name: str) -> Markup:
    """A symbol's letter with its index."""
    letter, _, index = name.partition("_")
    letter = GREEK.get(letter, letter)
    return Markup("<i>{}</i><sub>{}</sub>").format(letter, index) if index else Markup("<i>{}</i>").format(letter)


def markdown_text(text: str, *, keep: bool = False) -> Markup:
    """Plain text where Markdown is read: nothing in it is markup. `keep` keeps the blanks at both ends."""
    line = " ".join(text.split()) if not keep else re.sub(r"\s+", " ", text)
    return Markup(_LIST_SIGN.sub(lambda sign: f"{sign[1]}&#{ord(sign[2])};", line.translate(_MARKDOWN), count=1))
