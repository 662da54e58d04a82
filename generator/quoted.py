"""A text as the value of an attribute."""

from __future__ import annotations

import re
from xml.sax import saxutils

_SIGNS = re.compile('[&<>"\n\r\t]')


def quoteattr(text: str) -> str:
    """As `saxutils` quotes it, which looks for each sign in turn; nearly no text of a drawing has any of them."""
    return saxutils.quoteattr(text) if _SIGNS.search(text) else f'"{text}"'
