"""The MkDocs plugin. It only wires: options in, pages out; what the pages say is made in `pages`."""

from __future__ import annotations

import gc
import logging
import re
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from functools import partial
from html import unescape
from pathlib import Path
from typing import TYPE_CHECKING, Any
from warnings import catch_warnings, simplefilter

import click
from jinja2 import ChoiceLoader, Environment, PackageLoader, PrefixLoader, Template
from markupsafe import escape
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure import StructureItem
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Link, Navigation, Section, get_navigation
from mkdocs.structure.pages import Page
from mkdocs.utils import CountHandler

from .check import load_checked, warnings
from .errors import STOPPED, BondwrightError, Faults, seen
from .guard import plugin_runs
from .kept import Kept, all_kept
from .language import day_in_words, speaking, tr
from .pages.chosen import Chosen
from .pages.compiled import Compiled
from .pages.folder import hand_written
from .pages.frame import (
    EXTENSIONS,
    EXTRA,
    LANGUAGE_SCRIPT,
    MOST_LISTED,
    ONE_STYLE,
    SCRIPTS,
    STYLES,
    THEMES,
    bare,
    led_from,
    near,
    one_style,
    quick,
    with_bare_script,
)
from .pages.offline import MANIFEST, WORKER, door, manifest, worker
from .pages.policy import HEADER_FILE, header_file
from .pages.ready import cut, in_frame, purpose, put_in, tight
from .pages.texts import Texts
from .pages.tongues import Tongue, tongues, unplanned, with_own_scripts
from .settings import Options, layers_of, one_shop, site_options
from .shipped import DOCS, HAND_WRITTEN, PROCEDURES, VERSION
from .written import NewSet

if TYPE_CHECKING:
    from mkdocs.livereload import LiveReloadServer  # a build serves nothing

LOG = get_plugin_logger("bondwright")
# Words of the theme's own search, which no page has.
_SEARCH_WORDS = re.compile(r'"search\.result[^"]*": "[^"]*", ')
# The language that a page says it is in.
_LANG = re.compile(r'(<html\b[^>]*?\blang=")[^"]*"')
# What converting a page sets on it, besides its links.
_CONVERTED = ("content", "toc", "_title_from_render", "present_anchor_ids")
# Plugins that do not touch a page.
_KNOWN = {"bondwright", "search", "material/search", "offline", "material/offline"}


class LongList:
    """A heading of the menu with more pages below it than it lists. Its index, where it has one, has them all."""

    def __init__(self, section: Section) -> None:
        self.section = section
        self.index = [page for page in section.children[:1] if isinstance(page, Page) and page.is_index]
        self.pages = section.children[len(self.index) :]
        self.places = {id(page): place for place, page in enumerate(self.pages)}
        self.all = [Link(tr("All {count} on one page", count=len(self.pages)), page.url) for page in self.index]

    def show(self, page: Page) -> None:
        """List the pages about the one that is shown."""
        places = [self.places[id(one)] for one in (page, *page.ancestors) if id(one) in self.places]
        self.section.children = [*self.index, *near(self.pages, [*places, 0][0]), *self.all]


def _sections(items: Iterable[StructureItem]) -> Iterator[Section]:
    """The headings of a menu, and those below them."""
    for item in items:
        if isinstance(item, Section):
            yield item
            yield from _sections(item.children)


class BondwrightPlugin(BasePlugin[Options]):
    """Adds the generated cards and tables to the site."""

    def __init__(self) -> None:
        self.generated = Texts()
        self.tongues: list[Tongue] = []
        self.menus: dict[str, Navigation] = {}
        self.whole: list[Navigation] = []
        self.long: list[LongList] = []
        self.pieces: dict[str, Texts] = {}
        self.serving = False
        self.in_place = False
        self.new: NewSet | None = None
        self.fault = ""
        self.layers: Path | tuple[Path, ...] = PROCEDURES
        self.chosen: Chosen | None = None
        # MkDocs keeps this object while it serves.
        self.kept = Kept()
        self.dated = ""
        self.bare = False
        self.own_foot = False
        self.compiled = Compiled()

    def on_startup(self, *, command: str, dirty: bool, **_: object) -> None:
        """Remember whether the site is built for good: MkDocs serves it under an address of this machine only."""
        self.serving = command == "serve"
        self.in_place = self.serving or dirty

    @event_priority(-50)  # after what builds a site for a memory stick has said so
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Make every page before MkDocs touches the site folder, so that a fault leaves it as it was."""
        self.kept.made.clear()
        self.new = None
        plugin_runs()
        dress(config)
        base = Path(config.config_file_path).parent
        self.layers = layers_of(self.config.procedures, base)
        try:
            with all_kept():
                self.make(config)
        except BondwrightError as error:
            told = error.shown() if isinstance(error, Faults) else seen(f"plugin 'bondwright': {error}")
            count = f"{len(error.faults)} to mend under procedures:\n" if isinstance(error, Faults) else ""
            if not self.serving:
                raise PluginError(count + told) from None
            _let_pass()
            LOG.error("%s", count + told)
            self.fault = told
            self.generated = self.generated or Texts({"index.md": "# Not yet a site\n\nMend what is said above.\n"})
        if not self.serving:
            gc.freeze()
        if not self.in_place:
            try:
                self.new = NewSet(Path(config.site_dir))
            except BondwrightError as error:
                raise PluginError(str(error)) from None
            config.site_dir = str(self.new.place)
        self.own_foot = config.copyright is None and bool(self.dated)
        if self.own_foot:
            config.copyright = _foot(self.dated)
        return config

    def make(self, config: MkDocsConfig) -> None:
        """Make every page. Raises BondwrightError, and what was made before stays."""
        self.fault = ""
        library = load_checked(
            self.layers, self.kept, site_units=one_shop(self.config), job_sheets="sound", jobs=self.config.jobs
        )
        if self.config.offline:
            config.use_directory_urls = False
        address = "" if self.serving else config.site_url or ""
        options = site_options(self.config, library, address, not config.use_directory_urls)
        for warning in warnings(library):
            if options.shows(warning.file):
                LOG.warning("%s", warning)
        made = tongues(library, options, self.config.languages, self.kept)
        for fault in unplanned(one.library for one in made):
            LOG.warning("A job sheet is not planned: %s", fault)
        self.generated = Texts()
        for one in made:
            self.generated.add(one.files, one.folder)
        self.tongues = [replace(one, files=Texts()) for one in made]
        self.chosen = self.tongues[0].site
        for spoken in [one.spoken for one in self.tongues if one.spoken and one.spoken.missing]:
            LOG.info("%s", spoken.told)
        if len(self.tongues) > 1 and LANGUAGE_SCRIPT not in config.extra_javascript:
            config.extra_javascript.append(LANGUAGE_SCRIPT)
        self.dated = library.dated.isoformat()
        if not self.serving:  # what the next build would take over
            self.kept = Kept()

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Hand the pages over."""
        self.pieces = {}
        for path in self.generated:
            there = files.get_file_from_path(path)
            if there and there.abs_src_path and Path(there.abs_src_path).is_relative_to(DOCS):
                files.remove(there)  # it ships, and is made here with another language in it or beside it
        taken = [path for path in self.generated if files.get_file_from_path(path)]
        if taken:
            raise PluginError(
                f"these pages are made from the folder procedures, and hand-written ones have their names: "
                f"{', '.join(f'{config.docs_dir}/{path}' for path in taken)}; give them other names"
            )
        made = list(self.generated)
        for path in made:
            content: str | bytes = self.generated.held[path]
            if path.endswith(".md"):
                content, self.pieces[path] = cut(self.generated[path])
            if not self.serving:  # nobody asks for it again
                del self.generated[path]
            tongue = self.tongue_at(path)
            beside = bool(tongue and tongue.folder) or led_from(path) is not None
            inclusion = InclusionLevel.NOT_IN_NAV if beside else InclusionLevel.UNDEFINED
            files.append(File.generated(config, path, content=content, inclusion=inclusion))
        ours = {*made, *(path.relative_to(DOCS).as_posix() for path in DOCS.glob("*.md"))}
        own = [file.src_uri for file in files.documentation_pages() if file.src_uri not in ours]
        for shipped in sorted(one for one in DOCS.rglob("*") if one.is_file()):
            name = shipped.relative_to(DOCS).as_posix()
            if not files.get_file_from_path(name):
                whole = name not in HAND_WRITTEN or not self.chosen or self.chosen.whole
                given: dict[str, Any] = {"abs_src_path": str(shipped)}
                if not whole and self.chosen:
                    given = {"content": hand_written(name, shipped, made, self.chosen)}
                files.append(File.generated(config, name, **given))
        if config.nav is None and self.chosen:
            config.nav = self.tongues[0].menu(files.src_uris, own)
        return files

    @property
    def several(self) -> bool:
        """Whether any page is in another language than English."""
        return any(one.spoken for one in self.tongues)

    def tongue_at(self, path: str) -> Tongue | None:
        """The language of a page; none where no page could be made yet."""
        return next((one for one in reversed(self.tongues) if path.startswith(one.folder)), None)

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:
        """Make the menu of each further language, and put a page that no menu has behind the one that leads to it."""
        self.menus, own = {}, config.nav
        for tongue in self.tongues[1:]:
            pages = [file for file in files.documentation_pages() if file.src_uri.startswith(tongue.folder)]
            for file in pages:
                file.page = None
            config.nav = tongue.menu([file.src_uri for file in pages])
            menu = get_navigation(Files(pages), config)
            menu.homepage = next((page for page in menu.pages if page.file.src_uri == f"{tongue.folder}index.md"), None)
            self.menus[tongue.name] = menu
        config.nav = own
        self.whole = [nav, *self.menus.values()]
        self.long = []
        for tongue, menu in zip(self.tongues, self.whole, strict=False):
            with speaking(tongue.spoken):
                lists = map(LongList, _sections(menu.items))
                self.long += [one for one in lists if len(one.pages) > MOST_LISTED]
        for file in files.documentation_pages():
            whose = self.tongue_at(file.src_uri)
            folder = whose.folder if whose else ""
            leads = led_from(file.src_uri.removeprefix(folder))
            there = files.get_file_from_path(folder + leads) if leads else None
            if file.page and there and (page := there.page):
                file.page.parent = page.parent if page.is_index else page  # type: ignore[assignment]
                file.page.previous_page, file.page.next_page = page, page.next_page
        return nav

    def on_pre_page(self, page: Page, *, config: MkDocsConfig, files: Files) -> Page:
        """Give the page the day of the data, so that a build says the same on any day; and while serving, convert its
        Markdown only where it is another than before."""
        page.update_date = self.dated or page.update_date
        if self.keeps(config):
            page.render = partial(self.convert, page)  # type: ignore[method-assign]
        return page

    def convert(self, page: Page, config: MkDocsConfig, files: Files) -> None:
        """Convert the page, or take over what this gave before."""

        def made() -> tuple[dict[str, object], dict[str, dict[str, str]]]:
            Page.render(page, config, files)
            links = {file.src_uri: anchors for file, anchors in (page.links_to_anchors or {}).items()}
            return {name: getattr(page, name) for name in _CONVERTED}, links

        key = (page.markdown, self.settings(config), tuple(file.src_uri for file in files))
        values, links = self.kept.once(f"convert {page.file.src_uri}", key, made)
        vars(page).update(values)
        there = {files.get_file_from_path(uri): anchors for uri, anchors in links.items()}
        page.links_to_anchors = {file: anchors for file, anchors in there.items() if file}

    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """Add what the theme lacks. While serving, put a page into it only where page or menu is another.

        The site's own texts, and the names of its marks, are told as HTML, for the themes print them as they are.
        """
        self.bare = bare(config)
        for told in ("site_name", "site_description", "site_author"):
            config[told] = escape(config[told]) if config[told] else config[told]
        for file in ("logo", "favicon"):
            if config.theme.get(file):
                config.theme[file] = escape(config.theme[file])
        if theirs := env.loader:
            ours = PackageLoader(__name__.partition(".")[0], "templates/theme")
            env.loader = ChoiceLoader([ours, theirs, PrefixLoader({"theme": theirs})])
        env.bytecode_cache = self.compiled
        if self.keeps(config):
            settings = self.settings(config)
            menu = "".join(map(str, self.whole))
            kept = self.kept

            class KeptTemplate(Template):
                def render(self, *args: Any, **more: Any) -> str:
                    page = args[0].get("page") if args and isinstance(args[0], dict) else None
                    make = partial(super().render, *args, **more)
                    if page is None:
                        return make()
                    key = (self.name, page.content, page.title, repr(page.meta), settings, menu)
                    return kept.once(f"frame {page.file.src_uri}", key, make)

            env.template_class = KeptTemplate
        return env

    def keeps(self, config: MkDocsConfig) -> bool:
        """Whether pages are kept from one build to the next: not where others than we know may have a say in them."""
        return self.serving and not config.theme.custom_dir and not config.hooks and set(config.plugins) <= _KNOWN

    def settings(self, config: MkDocsConfig) -> str:
        """The settings of the site, as they are written."""
        return Path(config.config_file_path).read_text(encoding="utf-8")

    def on_page_content(self, html: str, *, page: Page, **_: object) -> str:
        """Say in the page's head what it is for, where a link to it is shown."""
        whole = "".join([*self.pieces.get(page.file.src_uri, {}).values(), html])
        tongue = self.tongue_at(page.file.src_uri)
        told = tongue.purpose_of(page.file.src_uri.removeprefix(tongue.folder), whole) if tongue else purpose(whole)
        if told:
            page.meta.setdefault("description", escape(told))
        return html

    def on_page_context(self, context: Any, *, page: Page, **_: object) -> Any:
        """Have the theme print a title in the page's head as it is. It is HTML, out of the menu or a heading, and the
        theme would read its references first and print tags."""
        tongue = self.tongue_at(page.file.src_uri)
        say = tongue.spoken.text if tongue and tongue.spoken else str
        for listed in self.long:
            listed.show(page)
        context["_"] = lambda text: escape(say(text))  # the theme prints as it is whatever it is given
        if tongue and self.several:
            context["nav"] = self.menus.get(tongue.name, context["nav"])
            context["config"].theme["language"] = tongue.name
        if self.own_foot:
            with speaking(tongue.spoken if tongue else None):
                context["config"].copyright = _foot(self.dated)
        if not page.is_homepage:
            page.meta.setdefault("title", page.title)
        return context

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        """Take out what only fills a page, and put in what was ready before MkDocs began."""
        pieces = self.pieces.pop(page.file.src_uri, Texts())
        if tongue := self.tongue_at(page.file.src_uri):
            output = with_own_scripts(output, tongue.folder)
            if self.several:
                output = _LANG.sub(rf'\g<1>{tongue.name}"', output, count=1)
        up = "../" * page.url.count("/")
        if self.bare:
            output = with_bare_script(output)
        if not self.serving:
            output = quick(output, up, fetched=not self.config.offline)
        if not self.serving and not self.config.offline:
            output = output.replace("</head>", f"{door(up)}</head>", 1)
        if self.fault:
            output = self.with_fault(output)
        output = _SEARCH_WORDS.sub("", output)
        # While serving, who writes a card waits for it, and no line carries its page.
        return put_in(output, pieces) if self.serving else tight(put_in(in_frame(output), pieces))

    @event_priority(-100)  # after whatever else writes into the site
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write beside the pages which scripts may run in them, and what has a browser keep them; then the whole site
        takes its place."""
        if not self.serving:
            site = Path(config.site_dir)
            sheets = (site / name for name in STYLES)
            style = one_style(sheet.read_text(encoding="utf-8") for sheet in sheets)
            (site / ONE_STYLE).write_text(style, encoding="utf-8", newline="\n")
            if not self.config.offline:
                (site / MANIFEST).write_text(manifest(unescape(config.site_name)), encoding="utf-8", newline="\n")
                files = {path.relative_to(site).as_posix(): path for path in site.rglob("*") if path.is_file()}
                script = (Path(__file__).parent / "templates" / WORKER).read_text(encoding="utf-8")
                whole = worker({name: path.read_bytes() for name, path in files.items()}, script)
                (site / WORKER).write_text(whole, encoding="utf-8", newline="\n")
            pages = (page.read_text(encoding="utf-8") for page in sorted(site.rglob("*.html")))
            (site / HEADER_FILE).write_text(header_file(pages), encoding="utf-8", newline="\n")
        if self.new:
            self.new.take_place()
            config.site_dir = str(self.new.folder)

    def on_build_error(self, **_: object) -> None:
        """Leave the site as it was."""
        if self.new:
            self.new.drop()

    def on_post_template(self, output: str, *, template_name: str, **_: object) -> str:
        """While serving, say what is wrong also where a page is not there, and have it looked for until it is."""
        if not self.fault or template_name != "404.html":
            return output
        return self.with_fault(output.replace("</head>", '<meta http-equiv="refresh" content="3"></head>', 1))

    def with_fault(self, page: str) -> str:
        """A page with the fault on top."""
        shown = _on_top(self.fault, "This page is as it was." if self.tongues else "There is no site yet.")
        return re.sub("<body[^>]*>", lambda body: body[0] + shown, page, count=1)

    def on_serve(self, server: LiveReloadServer, **_: object) -> LiveReloadServer:
        """Rebuild when a procedure changes."""
        for layer in self.layers if isinstance(self.layers, tuple) else (self.layers,):
            if layer.exists():
                server.watch(str(layer))
        return server


def _let_pass() -> None:
    """Have a strict build go on for all that is wrong, for it is shown on the page."""
    log = logging.getLogger("mkdocs")
    for handler in [one for one in log.handlers if isinstance(one, CountHandler)]:
        log.removeHandler(handler)


def _foot(dated: str) -> str:
    """What stands at the foot of every page: the version, and the day of the data."""
    day = day_in_words(date.fromisoformat(dated))
    return tr("Bondwright {version}, data of {day}", version=VERSION, day=day)


def _on_top(fault: str, shown: str) -> str:
    """A fault on top of what is shown, for whoever is writing."""
    style = "position: relative; z-index: 9; margin: 0; padding: 1rem; color: #000; background: #fde3df"
    return (
        f'<aside role="alert" style="{style}"><b>{shown} To mend:</b>'
        f'<pre style="white-space: pre-wrap">{escape(fault)}</pre></aside>'
    )


def dress(config: MkDocsConfig) -> None:
    """Give the site the style sheets, scripts and settings that its pages need, where it does not have them."""
    config.extra_css[:0] = [name for name in STYLES if name not in config.extra_css]
    scripts = [str(script) for script in config.extra_javascript]
    config.extra_javascript[:0] = [name for name in SCRIPTS if name not in scripts]
    for name, settings in EXTENSIONS.items():
        if name not in config.markdown_extensions:
            config.markdown_extensions.append(name)
        config.mdx_configs[name] = {**settings, **(config.mdx_configs.get(name) or {})}
    for name, value in EXTRA.items():
        config.extra.setdefault(name, value)
    written: dict[str, Any] = {}
    with catch_warnings():
        simplefilter("ignore", DeprecationWarning)  # MkDocs itself asks for them no more
        theirs = [*config.user_configs]
    for settings in theirs:
        theme = settings.get("theme")
        written |= theme if isinstance(theme, dict) else {}
    for name, value in THEMES.get(config.theme.name or "", {}).items():
        if name not in written:
            config.theme[name] = value


def with_mkdocs(command: str, rest: list[str]) -> int:
    """Hand over to MkDocs, whose theme tells of its end of life only where it is called by its own name.
    Returns the exit code; raises KeyboardInterrupt where it was stopped."""
    from mkdocs.__main__ import cli  # all its commands, which building has no need of

    sys.argv = ["bondwright", command, *rest]
    try:
        code = cli.main([command, *rest], prog_name="bondwright", standalone_mode=False)
    except click.Abort as stop:
        raise KeyboardInterrupt from stop
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else int(end.code is not None)
    # A server that has said that it shuts down was stopped.
    return code or (STOPPED if command == "serve" and code is None else 0)
