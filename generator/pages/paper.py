"""What a printed page carries beside its text: margin lines and the code that leads back to the page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from markupsafe import Markup

from ..bench import FOOT
from ..figures.qr_code import code_svg
from ..language import day_in_words, tr
from ..shipped import VERSION
from .options import SiteOptions


def css_string(text: str) -> str:
    """A text as a string of a style sheet inside a page: nothing in it ends the string or the style."""
    return "".join(letter if letter.isalnum() or letter in " .,:()" else f"\\{ord(letter):x} " for letter in text)


def side_of_sides() -> str:
    """Which of the sides it is, in the words of a style sheet."""
    return f'counter(page) " {tr("of")} " counter(pages)'


def page_style(title: str, corner: str, dated: date, options: SiteOptions) -> Markup:
    """The paper, and the lines at its head and foot. `corner` stands at the right of the head."""
    foot = [css_string(line) for line in (tr(FOOT), options.address) if line]
    lines = {
        "top-left": f'"{css_string(title)}"',
        "top-right": f'"{css_string(tr("{corner}. Data of {day}.", corner=corner, day=day_in_words(dated)))}"',
        "bottom-left": '"' + "\\a ".join(foot) + '"',
        "bottom-right": f'"Bondwright {VERSION}, " {side_of_sides()}',
    }
    # The lines keep close to the text, because printers leave the edge of the paper white.
    boxes = " ".join(
        f"@{place} {{ content: {content}; white-space: pre-line; line-height: 0.9; "
        + ("vertical-align: bottom; padding-bottom" if place.startswith("top") else "vertical-align: top; padding-top")
        + ": 0.4mm; }"
        for place, content in lines.items()
    )
    page = Markup("@page { size: %s; margin: 9mm 6mm %s; %s }") % (
        Markup(options.paper),
        "12.5mm" if options.address else "10mm",
        Markup(boxes),
    )
    return page + Markup(" " + _bench_page("bench"))


def _bench_page(name: str, more: str = "") -> str:
    """A bench side has only who decides, in letters to be read from an arm's length. It comes after the paper, because
    a browser takes what comes later."""
    return (
        f'@page {name} {{ {more}@top-left {{ content: ""; }} @top-right {{ content: ""; }} '
        f'@bottom-left {{ content: "{css_string(tr(FOOT))}"; font-size: 11pt; }} '
        f"@bottom-right {{ content: {side_of_sides()}; font-size: 11pt; }} }} "
    )


# Of the two sheets that a card has in a handout.
SIDES = 4


def first_sides(names: Iterable[str]) -> dict[str, int]:
    """The number of the side that each card of a handout begins on: a right-hand one, after the contents' sheet."""
    return {name: 3 + SIDES * place for place, name in enumerate(names)}


def handout_style(titles: Mapping[str, str]) -> Markup:
    """Of several cards on one page, by the anchors of their titles: the sides that explain one carry its title, and its
    bench side the number that the contents have."""
    heads = [
        f'@page why-{name} {{ @top-left {{ content: "{css_string(titles[name])}"; }} }} '
        + _bench_page(f"bench-{name}", f"counter-set: page {side}; ")
        + f"#{name} + p + p + .bw-card .bw-why, #{name} + p + p + .bw-card + .bw-spare {{ page: why-{name}; }} "
        + f"#{name} + p + p + .bw-card .bw-bench {{ page: bench-{name}; }} "
        for name, side in first_sides(titles).items()
    ]
    return Markup("".join(heads))


def page_address(path: str, options: SiteOptions) -> str:
    """Where a page is hosted; nothing when the site's address is not known."""
    return f"{options.address.rstrip('/')}/{path}/" if options.address else ""


def page_code(address: str) -> Markup:
    """A QR code that leads to an address; nothing for none."""
    return (
        Markup(code_svg(list(address.encode()), tr("Code for {address}", address=address))) if address else Markup("")
    )
