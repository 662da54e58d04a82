"""The whole site as a folder: settings and pages that MkDocs, and what reads its settings, build without the plugin.

A page's file stands where its Markdown stood, so that a link in ready HTML means the same to one generator, which
leaves it as it is, and to another, which takes it for one from the file of the Markdown.

A language beside the first has settings and a folder of pages of its own beside those of the first, and its site lies
in that of the first: a generator may make a site only below the folder where its settings stand.
"""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Mapping, Sequence
from pathlib import Path
from typing import Any

import yaml
from markupsafe import escape

from ..errors import BondwrightError
from ..language import speaking
from ..shipped import DOCS, HAND_WRITTEN
from .chosen import Chosen, without_dead_links
from .frame import BESIDE, EXTENSIONS, EXTRA, LANGUAGE_SCRIPT, SCRIPTS, STYLES, THEMES, menu
from .tongues import Tongue

SETTINGS = "mkdocs.yml"
_HEAD = "# Written by `bondwright write`, and written anew by the next. Change what the site is made from instead.\n"
# What the settings of the site say of it that goes along.
_TAKEN = ("site_name", "site_description", "site_author", "site_url", "copyright", "remote_branch", "repo_url")
# Themes that take a language by the name that MkDocs itself has for it.
_OF_MKDOCS = ("mkdocs", "readthedocs")


def whole_folder(made: Sequence[Tongue], settings: Mapping[str, Any], base: Path) -> dict[str, str | bytes]:
    """The pages in these languages, what ships beside them, the site's own from the folder `docs_dir` below `base`, and
    the settings. Raises BondwrightError where one's own page has the name of one that is made."""
    own = _files_of(base / str(settings.get("docs_dir") or "docs"))
    whole: dict[str, str | bytes] = {}
    for one in made:
        with speaking(one.spoken):
            whole |= _folder(one, settings, _own_of(one, own, made), several=len(made) > 1)
    return whole


def settings_of(one: Tongue) -> str:
    """The name of the file with the settings of a language."""
    return f"mkdocs.{one.name}.yml" if one.folder else SETTINGS


def _own_of(one: Tongue, own: Mapping[str, Path], made: Sequence[Tongue]) -> dict[str, Path]:
    """The site's own files of a language: pages as they stand in its folder, and what is no page wherever it stands."""
    others = tuple(other.folder for other in made if other.folder)
    root = {name: path for name, path in own.items() if not name.startswith(others)}
    if not one.folder:
        return root
    shared = {name: path for name, path in root.items() if not name.endswith(".md")}
    return shared | {name.removeprefix(one.folder): path for name, path in own.items() if name.startswith(one.folder)}


def _folder(one: Tongue, settings: Mapping[str, Any], own: Mapping[str, Path], several: bool) -> dict[str, str | bytes]:
    pages, ships = one.files, _files_of(DOCS)
    if taken := sorted((own.keys() & pages.keys()) - ships.keys()):
        raise BondwrightError(f"these pages are made, and hand-written ones have their names: {', '.join(taken)}")
    shipped = {name: hand_written(name, path, pages, one.site) for name, path in ships.items() if name not in pages}
    told = {
        name: _described(text, one.purpose_of(name, text)) if name.endswith(".md") else text
        for name, text in pages.items()
    }
    whole: dict[str, str | bytes] = {**shipped, **told, **{name: path.read_bytes() for name, path in own.items()}}
    mine = [name for name in own if name.endswith(".md") and not (DOCS / name).is_file()]
    docs = f"docs.{one.name}" if one.folder else "docs"
    return {
        settings_of(one): _settings(
            settings, menu(one.site, whole, mine), _settings_beside(one, settings, docs, several)
        ),
        **{f"{docs}/{name}": it for name, it in whole.items()},
    }


def _settings_beside(one: Tongue, settings: Mapping[str, Any], docs: str, several: bool) -> dict[str, Any]:
    """What the settings of one language say that those of another do not."""
    more: dict[str, Any] = {"docs_dir": docs}
    if several:
        more["extra_javascript"] = [*SCRIPTS, LANGUAGE_SCRIPT]
    if one.folder:
        more["site_dir"] = f"site/{one.name}"
        if address := settings.get("site_url"):
            more["site_url"] = f"{str(address).rstrip('/')}/{one.folder}"
    if one.spoken:
        theme = _theme(settings)
        more["theme"] = {**theme, "locale" if theme["name"] in _OF_MKDOCS else "language": one.name}
    return more


def hand_written(name: str, path: Path, pages: Collection[str], site: Chosen) -> str | bytes:
    """A file that ships; where pages are left out, no link of a hand-written one leads to them."""
    if name not in HAND_WRITTEN or site.whole:
        return path.read_bytes()
    return without_dead_links({name: path.read_text(encoding="utf-8")}, {*pages, *HAND_WRITTEN})[name]


_SWITCH = re.compile(r"\[([^\]]*)\]\(([^)]*)\.md\)\{ \.bw-language hreflang=([\w-]+) lang=\3 \}")


def _described(page: str, told: str) -> str:
    """A page that says in its head what it is for, and whose links to other languages lead to their finished pages."""
    page = _SWITCH.sub(r'<a class="bw-language" hreflang="\3" lang="\3" href="\2.html">\1</a>', page)
    if not told:
        return page
    head = f"description: {json.dumps(str(escape(told)), ensure_ascii=False)}\n"
    return f"---\n{head}{page[4:]}" if page.startswith("---\n") else f"---\n{head}---\n\n{page}"


def _theme(given: Mapping[str, Any]) -> dict[str, Any]:
    theme = given.get("theme") or "material"
    theme = theme if isinstance(theme, dict) else {"name": theme}
    return {**THEMES.get(str(theme.get("name")), {}), **theme}


def _files_of(folder: Path) -> dict[str, Path]:
    """The files below a folder by their names from there; none where there is no folder."""
    paths = sorted(path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(folder).as_posix(): path for path in paths}


def _settings(given: Mapping[str, Any], entries: list[Any], more: Mapping[str, Any]) -> str:
    whole = {
        "site_name": "Bondwright",
        **{name: given[name] for name in _TAKEN if given.get(name)},
        "use_directory_urls": False,
        "theme": _theme(given),
        "extra_css": STYLES,
        "extra_javascript": SCRIPTS,
        "markdown_extensions": [{name: some} if some else name for name, some in EXTENSIONS.items()],
        "extra": EXTRA,
        "nav": _plain(entries),
        "not_in_nav": "".join(f"/{pattern}\n" for pattern in BESIDE),
        **more,
    }
    return _HEAD + yaml.safe_dump(whole, sort_keys=False, allow_unicode=True, width=120)


def _plain(entries: Any) -> Any:
    """A menu of lists, mappings and texts alone."""
    if isinstance(entries, list):
        return [_plain(one) for one in entries]
    return (
        {str(title): _plain(below) for title, below in entries.items()} if isinstance(entries, dict) else str(entries)
    )
