"""A text as it stands in SVG: between tags, and as the value of an attribute. Python's own way of it would bring along
all that asks the network."""

from __future__ import annotations

import re

_SIGNS = re.compile('[&<>"\n\r\t]')
_QUOTED = {ord(sign): f"&#{ord(sign)};" for sign in "\n\r\t"} | {ord('"'): "&quot;"}


def escape(text: str) -> str:
    """A text between tags."""
    return text.replace("&", "&amp;").replace(">", "&gt;").replace("<", "&lt;")


def quoteattr(text: str) -> str:
    """A text as an attribute's value, with its quotation marks; nearly no text of a drawing has any sign to write
    otherwise."""
    return f'"{escape(text).translate(_QUOTED) if _SIGNS.search(text) else text}"'
