"""A site that a browser keeps whole: the worker that fetches and serves its files, and what a phone's home screen
shows of it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

WORKER, MANIFEST = "sw.js", "manifest.webmanifest"
# What no page asks for.
_NOT_KEPT = (".map", ".gz", "/_headers", f"/{WORKER}", "/sitemap.xml", "/404.html")
_LANGUAGES = "assets/javascripts/lunr/"


def kept(name: str) -> bool:
    """Whether a file of the site is fetched once and for all."""
    return not f"/{name}".endswith(_NOT_KEPT) and not name.startswith(_LANGUAGES)


def worker(files: Mapping[str, bytes], script: str) -> str:
    """The worker's script for these files of a site, by their paths. A file that is the same keeps its key, so a newer
    site costs only what is new in it."""
    keys = {name: hashlib.sha256(files[name]).hexdigest()[:12] for name in sorted(files) if kept(name)}
    return f"const FILES = {json.dumps(keys, separators=(',', ':'))};\n{script}"


def manifest(name: str) -> str:
    """What a phone shows where the site is put on its home screen."""
    icon = {"src": "assets/favicon.svg", "sizes": "any", "type": "image/svg+xml"}
    shown = {"name": name, "short_name": name, "start_url": ".", "scope": ".", "display": "standalone", "icons": [icon]}
    return json.dumps({**shown, "background_color": "#ffffff", "theme_color": "#14434f"}, ensure_ascii=False)


def door(up: str) -> str:
    """What stands in a page's head; `up` leads to the site's root."""
    return f'<link rel="manifest" href="{up}{MANIFEST}"><script src="{up}assets/keep.js" defer></script>'
