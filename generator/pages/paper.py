"""What a printed page carries beside its text: margin lines and the code that leads back to the page."""

from __future__ import annotations

import io

import segno
from markupsafe import Markup

from ..model.schema import Card
from .options import SiteOptions

FOOT = (
    "For learning and planning. It certifies nothing. A designer, a surveyor, class rules and local codes come first."
)


def css_string(text: str) -> str:
    """A text as a string of a style sheet inside a page: nothing in it ends the string or the style."""
    return "".join(letter if letter.isalnum() or letter in " .,:()" else f"\\{ord(letter):x} " for letter in text)


def page_style(card: Card, options: SiteOptions) -> Markup:
    """The paper, and the lines at its head and foot."""
    lines = {
        "top-left": f'"{css_string(card.title)}"',
        "top-right": f'"{css_string(f"Card revision {card.revision}")}"',
        "bottom-left": f'"{css_string(FOOT)}"',
        "bottom-right": f'"{css_string(options.address)} " counter(page) " of " counter(pages)',
    }
    boxes = " ".join(f"@{place} {{ content: {content}; }}" for place, content in lines.items())
    return Markup("@page { size: %s; margin: 10mm 8mm; %s }") % (Markup(options.paper), Markup(boxes))


def page_code(name: str, options: SiteOptions) -> Markup:
    """A QR code that leads to the card's page; nothing when the site's address is not known."""
    if not options.address:
        return Markup("")
    address = f"{options.address.rstrip('/')}/cards/{name}/"
    drawn = io.BytesIO()
    segno.make(address, error="m").save(drawn, kind="svg", xmldecl=False, svgns=True, title=f"Code for {address}")
    return Markup(drawn.getvalue().decode("utf-8"))
