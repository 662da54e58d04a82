"""The whole site as a folder: settings and pages that MkDocs, and what reads its settings, build without the plugin.

A page's file stands where its Markdown stood, so that a link in ready HTML means the same to one generator, which
leaves it as it is, and to another, which takes it for one from the file of the Markdown.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from ..errors import BondwrightError
from ..shipped import DOCS, HAND_WRITTEN
from .chosen import Chosen, without_dead_links
from .frame import BESIDE, EXTENSIONS, EXTRA, SCRIPTS, STYLES, THEMES, menu

SETTINGS = "mkdocs.yml"
_HEAD = "# Written by `bondwright write`, and written anew by the next. Change what the site is made from instead.\n"
# What the settings of the site say of it that goes along.
_TAKEN = ("site_name", "site_description", "site_author", "site_url", "copyright", "remote_branch", "repo_url")


def whole_folder(
    pages: Mapping[str, str], site: Chosen, settings: Mapping[str, Any], base: Path
) -> dict[str, str | bytes]:
    """The pages, what ships beside them, the site's own from the folder `docs_dir` below `base`, and the settings.
    Raises BondwrightError where one's own page has the name of one that is made."""
    own = _files_of(base / str(settings.get("docs_dir") or "docs"))
    if taken := sorted(own.keys() & pages.keys()):
        raise BondwrightError(f"these pages are made, and hand-written ones have their names: {', '.join(taken)}")
    shipped = {name: hand_written(name, path, pages, site) for name, path in _files_of(DOCS).items() if name not in own}
    whole: dict[str, str | bytes] = {**pages, **shipped, **{name: path.read_bytes() for name, path in own.items()}}
    mine = [name for name in own if name.endswith(".md") and not (DOCS / name).is_file()]
    return {
        SETTINGS: _settings(settings, menu(site, whole, mine)),
        **{f"docs/{name}": it for name, it in whole.items()},
    }


def hand_written(name: str, path: Path, pages: Mapping[str, str], site: Chosen) -> str | bytes:
    """A file that ships; where pages are left out, no link of a hand-written one leads to them."""
    if name not in HAND_WRITTEN or site.whole:
        return path.read_bytes()
    return without_dead_links({name: path.read_text(encoding="utf-8")}, {*pages, *HAND_WRITTEN})[name]


def _files_of(folder: Path) -> dict[str, Path]:
    """The files below a folder by their names from there; none where there is no folder."""
    paths = sorted(path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(folder).as_posix(): path for path in paths}


def _settings(given: Mapping[str, Any], entries: list[Any]) -> str:
    theme = given.get("theme") or "material"
    theme = theme if isinstance(theme, dict) else {"name": theme}
    whole = {
        "site_name": "Bondwright",
        **{name: given[name] for name in _TAKEN if given.get(name)},
        "docs_dir": "docs",
        "use_directory_urls": False,
        "theme": {**THEMES.get(str(theme.get("name")), {}), **theme},
        "extra_css": STYLES,
        "extra_javascript": SCRIPTS,
        "markdown_extensions": [{name: some} if some else name for name, some in EXTENSIONS.items()],
        "extra": EXTRA,
        "nav": _plain(entries),
        "not_in_nav": "".join(f"/{pattern}\n" for pattern in BESIDE),
    }
    return _HEAD + yaml.safe_dump(whole, sort_keys=False, allow_unicode=True, width=120)


def _plain(entries: Any) -> Any:
    """A menu of lists, mappings and texts alone."""
    if isinstance(entries, list):
        return [_plain(one) for one in entries]
    return (
        {str(title): _plain(below) for title, below in entries.items()} if isinstance(entries, dict) else str(entries)
    )
