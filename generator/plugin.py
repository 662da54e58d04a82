"""The MkDocs plugin. It only wires: options in, pages out; what the pages say is made in `pages`."""

from __future__ import annotations

from pathlib import Path

from mkdocs.config import base
from mkdocs.config import config_options as c
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from .check import load_checked
from .errors import Faults
from .pages.options import PAPERS, UNITS, SiteOptions
from .pages.ready import cut, for_search, put_in
from .pages.site import site_files


class Options(base.Config):
    """The plugin's options in mkdocs.yml."""

    procedures = c.Dir(default="procedures")
    units = c.Choice(UNITS, default="both")
    paper = c.Choice(PAPERS, default="A4")
    threads = c.ListOfItems(c.Type(str), default=[])


class BondwrightPlugin(BasePlugin[Options]):
    """Adds the generated cards and tables to the site."""

    def __init__(self) -> None:
        self.generated: dict[str, str] = {}
        self.pieces: dict[str, list[str]] = {}
        self.serving = False

    def on_startup(self, *, command: str, **_: object) -> None:
        """Remember whether the site is built for good: MkDocs serves it under an address of this machine only."""
        self.serving = command == "serve"

    @event_priority(-50)  # after what builds a site for a memory stick has said so
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Make every page before MkDocs touches the site folder, so that a fault leaves it as it was."""
        try:
            library = load_checked(Path(self.config.procedures))
        except Faults as error:
            raise PluginError(f"{len(error.faults)} to mend under procedures:\n{error}") from None
        unknown = [series for series in self.config.threads if series not in library.series]
        if unknown:
            raise PluginError(f"option 'threads': unknown series {unknown}; series: {', '.join(library.series)}")
        flat = not config.use_directory_urls
        address = "" if self.serving else config.site_url or ""
        options = SiteOptions(self.config.units, self.config.paper, tuple(self.config.threads), address, flat)
        self.generated = site_files(library, options)
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Hand the pages over."""
        self.pieces = {}
        for path, text in self.generated.items():
            if path.endswith(".md"):
                text, self.pieces[path] = cut(text)
            inclusion = InclusionLevel.NOT_IN_NAV if path.endswith("/working.md") else InclusionLevel.UNDEFINED
            files.append(File.generated(config, path, content=text, inclusion=inclusion))
        return files

    def on_page_content(self, html: str, *, page: Page, **_: object) -> str:
        """What is searched has a table's words, not its numbers."""
        pieces = self.pieces.get(page.file.src_uri)
        return for_search(html, pieces) if pieces else html

    def on_post_page(self, output: str, *, page: Page, **_: object) -> str:
        """Put in what was ready before MkDocs began."""
        pieces = self.pieces.get(page.file.src_uri)
        return put_in(output, pieces) if pieces else output

    def on_serve(self, server: LiveReloadServer, **_: object) -> LiveReloadServer:
        """Rebuild when a procedure changes."""
        server.watch(self.config.procedures)
        return server
