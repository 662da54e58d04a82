"""The content-security policy of a built site: which scripts may run in it, as a header that a web server sends."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterable

HEADER_FILE = "_headers"
_SCRIPT = re.compile(r"<script\b(?P<attributes>[^>]*)>(?P<code>.*?)</script>", re.DOTALL | re.IGNORECASE)
# Scripts that a browser fetches, and data that it does not run.
_NOT_INLINE = re.compile(r"\ssrc=|\stype=\"?application/(?:ld\+)?json", re.IGNORECASE)


def inline_scripts(page: str) -> set[str]:
    """The scripts that stand in a page."""
    return {one["code"] for one in _SCRIPT.finditer(page) if not _NOT_INLINE.search(one["attributes"])}


def policy(pages: Iterable[str]) -> str:
    """What may run and load in these pages: the site's own files, and the scripts of the theme that stand in a page,
    each by its hash. Style sheets may stand in a page, and the theme draws its icons out of them."""
    scripts = sorted(set().union(*map(inline_scripts, pages)))
    hashes = [f"'sha256-{base64.b64encode(hashlib.sha256(one.encode()).digest()).decode()}'" for one in scripts]
    return "; ".join(
        (
            "default-src 'self'",
            " ".join(("script-src 'self'", *hashes)),
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data:",
            "object-src 'none'",
            "base-uri 'none'",
            "form-action 'self'",
            "frame-ancestors 'self'",
        )
    )


def header_file(pages: Iterable[str]) -> str:
    """The file of headers that web servers for static sites read: a path, and below it the headers of what it holds."""
    return f"/*\n  Content-Security-Policy: {policy(pages)}\n  X-Content-Type-Options: nosniff\n"
