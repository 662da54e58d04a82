"""What a site needs round the generated pages: style sheets, scripts, Markdown's extensions, the menu, and how the
theme is set that the styles are made for. A site that says more in its own settings keeps it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any, TypeVar

from markupsafe import escape

from ..language import tr
from .chosen import Chosen

T = TypeVar("T")
STYLES = [
    f"assets/{name}.css"
    for name in ("figures", "cards", "jobs", "live", "chooser", "search", "home", "card", "result", "material")
]
# In a built site they are one, so that a page asks once.
ONE_STYLE = "assets/bondwright.css"
# What the first lines of every page are set in.
FONTS = [f"assets/fonts/barlow-semi-condensed-{weight}.woff2" for weight in (400, 600)]
SCRIPTS = ["assets/shop.js"]
# Of a site in several languages.
LANGUAGE_SCRIPT = "assets/language.js"
EXTENSIONS: dict[str, dict[str, Any]] = {"attr_list": {}, "md_in_html": {}, "toc": {"permalink": True}}
EXTRA: dict[str, Any] = {"generator": False}
_LIGHT = {"media": "(prefers-color-scheme: light)", "scheme": "default", "primary": "custom", "accent": "custom"}
_DARK = {"media": "(prefers-color-scheme: dark)", "scheme": "slate", "primary": "custom", "accent": "custom"}
THEMES: dict[str, dict[str, Any]] = {
    "material": {
        "logo": "assets/mark.svg",
        "favicon": "assets/favicon.svg",
        "font": False,  # a theme's font would be asked of another host
        "features": [
            "navigation.indexes",
            "navigation.path",
            "navigation.footer",
            "navigation.top",
            "navigation.prune",
            "toc.follow",
        ],
        "palette": [
            {**_LIGHT, "toggle": {"icon": "material/weather-night", "name": "Dark"}},
            {**_DARK, "toggle": {"icon": "material/weather-sunny", "name": "Light"}},
        ],
    }
}

# Pages that no menu has, and the page that leads to each.
BESIDE = {"cards/*/working.md": "cards/*.md", "print/wall-*.md": "print/index.md", "result-*.md": "result.md"}
# An entry of a menu: a page, or a heading with what stands below it.
Entry = dict[str, Any] | str


def led_from(path: str) -> str | None:
    """The page that leads to one that no menu has."""
    for beside, leads in BESIDE.items():
        if match := re.fullmatch(re.escape(beside).replace(r"\*", "([^/]+)"), path):
            return leads.replace("*", match[1])
    return None


# As many pages as a menu lists under one heading. It stands on every page, so that a site of a few hundred cards would
# else be mostly menu.
MOST_LISTED = 30


def near(pages: Sequence[T], shown: int) -> Sequence[T]:
    """Those of the pages under a heading that its menu lists: where there are too many, those about the one shown."""
    first = max(0, min(shown - MOST_LISTED // 2, len(pages) - MOST_LISTED))
    return pages[first : first + MOST_LISTED]


def menu(site: Chosen, pages: Collection[str], own: Collection[str] = (), folder: str = "") -> list[Entry]:
    """The menu of the generated pages that there are, and of the hand-written ones; `own` are those of the site.
    `folder` is where all of them stand, with a stroke at its end."""
    cards = {name: card for some in site.cards_by_group.values() for name, card in some.items()}
    spoilt: list[Entry] = [{name: f"jobs/{name}.md"} for name in site.spoilt]
    whole: list[Entry] = [
        {tr("Home"): "index.md"},
        {tr("Which fixing?"): "which-fixing.md"},
        *sorted(own),
        {tr("Cards"): ["cards/index.md", *_titled("cards", cards)]},
        {tr("Job sheets"): ["jobs/index.md", *_titled("jobs", site.jobs), *spoilt]},
        {
            tr("Tables"): [
                "tables/index.md",
                *({group: [*_titled("tables", some)]} for group, some in site.tables_by_group.items()),
            ]
        },
        {
            tr("To print"): [
                "print/index.md",
                {tr("Handout for a class"): "print/handout.md"},
                {tr("Drilling aids at true size"): "print/drilling-aids.md"},
            ]
        },
        {
            tr("Reference"): [
                {tr("How far to trust these numbers"): "trust.md"},
                {tr("Joints that were pulled"): "pulled.md"},
                {tr("Enter a result"): "result.md"},
                {tr("Symbols"): "reference/symbols.md"},
                {tr("Drawings"): "reference/drawings.md"},
                {tr("Sources"): "reference/sources.md"},
                {tr("Write your own card"): "authoring.md"},
                {tr("Host the site"): "hosting.md"},
                {tr("Changelog"): "changelog.md"},
            ]
        },
    ]
    return [*_present(whole, {*pages, *own}, folder)]


_STYLE_LINK = re.compile(rf'<link\b[^>]*\bhref="[^"]*?(?:{"|".join(map(re.escape, STYLES))})"[^>]*>\s*')
# Each begins with letters of its own, which is what is looked for.
_THEMES_SETTINGS = [
    re.compile(pattern, re.DOTALL)
    for pattern in (
        r'<script id="?__config"?[^>]*>.*?</script>\s*',
        r'<div class="?md-dialog\b.*?</div>\s*</div>',
        r'<div data-md-component="?announce"?>\s*</div>',
        r" data-md-scrollfix",
        r'<input [^>]*data-md-toggle="?search"?[^>]*>',
        r"<script>var target=document\.getElementById\(location\.hash[^<]*</script>",
    )
]
_THEMES_SCRIPT = re.compile(r'(<script\b(?![^>]*\bdefer\b)[^>]*\bsrc=")([^"]*)(assets/javascripts/bundle[^"]*")')
# Does what these settings of Material ask of its script.
BARE_SCRIPT = "assets/material.js"


def _media(palettes: Any) -> list[str]:
    """Of what screens a theme is told in which colours."""
    return [one.get("media", "") for one in palettes] if isinstance(palettes, list) else []


def bare(config: Any) -> bool:
    """Whether a site asks no more of the theme's script than BARE_SCRIPT does: all is as it was given here, with no
    script, setting or kind of Markdown of the site's own that may lean on the theme's."""
    theme, given = config.theme, THEMES.get(config.theme.name)
    return (
        given is not None
        and theme.custom_dir is None
        and {*theme["features"]} <= {*given["features"]}
        and _media(theme["palette"]) == _media(given["palette"])
        and {*map(str, config.extra_javascript)} <= {*SCRIPTS, LANGUAGE_SCRIPT}
        and {*config.extra} <= {*EXTRA}
        and not any(name.startswith("pymdownx.") for name in config.markdown_extensions)
    )


def quick(page: str, up: str, fetched: bool = True) -> str:
    """A page that is painted sooner: its style sheets are one, its fonts are asked for with it, and what the theme's
    script does waits until the page stands. `up` leads to the site's root; `fetched` says that a server is there."""
    asked = ' as="font" type="font/woff2" crossorigin>'
    fonts = "".join(f'<link rel="preload" href="{up}{name}"{asked}' for name in FONTS if fetched)
    whole = f'{fonts}<link rel="stylesheet" href="{up}{ONE_STYLE}">'
    page, found = _STYLE_LINK.subn("<!--style-->", page)
    page = page.replace("<!--style-->", whole, 1).replace("<!--style-->", "") if found else page
    return _THEMES_SCRIPT.sub(r"\1\2\3 defer", page)


def with_bare_script(page: str) -> str:
    """A page with BARE_SCRIPT for the theme's, and without what only that reads."""
    for setting in _THEMES_SETTINGS:
        page = setting.sub("", page)
    return _THEMES_SCRIPT.sub(rf'\1\2{BARE_SCRIPT}" defer', page)


_COMMENT = re.compile(r"""("(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*')|/\*.*?\*/\s*""", re.DOTALL)


def one_style(sheets: Iterable[str]) -> str:
    """Style sheets in one, without their comments."""
    return "".join(_COMMENT.sub(lambda found: found[1] or "", sheet) for sheet in sheets)


def _titled(folder: str, sheets: Mapping[str, Any]) -> Iterator[Entry]:
    yield from ({sheet.title: f"{folder}/{name}.md"} for name, sheet in sheets.items())


def _present(entries: list[Entry], pages: Collection[str], folder: str) -> Iterator[Entry]:
    """The entries whose pages are there, and the headings that have any; their titles as HTML, for a theme prints them
    as they are."""
    for entry in entries:
        if isinstance(entry, str):
            if folder + entry in pages:
                yield folder + entry
            continue
        [(title, below)] = entry.items()
        if isinstance(below, str):
            if folder + below in pages:
                yield {escape(title): folder + below}
        elif some := [*_present(below, pages, folder)]:
            yield {escape(title): some}
