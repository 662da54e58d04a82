"""What the reader of a site may choose for all of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import PurePosixPath
from typing import Literal

from ..errors import BondwrightError
from ..model.library import Library
from ..units import SHIPPED_SHOPS, System, clip

UnitsOption = Literal["both", "metric", "inch"]
UNITS: tuple[UnitsOption, ...] = ("both", "metric", "inch")
PAPERS = ("A4", "Letter")


@dataclass(frozen=True)
class SiteOptions:
    """Which shops the pages are made for, the paper they print on, the thread series in the tables, and which cards,
    tables and job sheets there are, in which order.

    An empty list of threads, and none of the others, means all there are. `address` is where the site is hosted;
    printed cards carry it. `flat` is for a site without a web server: a page is a file beside the others, not a folder.
    """

    units: UnitsOption = "both"
    paper: str = "A4"
    threads: Sequence[str] = ()
    cards: Sequence[str] | None = None
    tables: Sequence[str] | None = None
    jobs: Sequence[str] | None = None
    address: str = ""
    flat: bool = False
    # Every shop there is, with its units.
    shops: tuple[tuple[str, System], ...] = tuple(SHIPPED_SHOPS.items())

    def of(self, library: Library) -> SiteOptions:
        """These options in the library's shops. Raises BondwrightError where they name what it does not have."""
        for option, there, what, folder in (
            (self.threads, library.series, "thread series", ""),
            (self.cards, library.cards, "card", "cards"),
            (self.tables, library.reference, "table", "tables"),
            (self.jobs, {**library.job_sheets, **library.spoilt}, "job sheet", "jobs"),
        ):
            for name in option or ():
                if f"{folder}/{name}.yaml" in library.left_out:
                    raise BondwrightError(f"the {what} '{name}' cannot be worked in this shop; choose another")
                if name not in there:
                    near = get_close_matches(name, there, n=3) or list(there)
                    raise BondwrightError(f"no {what} '{clip(name)}'; near it: {', '.join(near)}")
        return replace(self, shops=tuple(library.systems.items()))

    def shows(self, file: str) -> bool:
        """Whether a file's page is one of those that are chosen, or it is no page's file at all."""
        folder, name = PurePosixPath(file).parent.name, PurePosixPath(file).stem
        chosen = {"cards": self.cards, "tables": self.tables, "jobs": self.jobs}.get(folder)
        return chosen is None or name in chosen

    def link(self, path: str, of: str = "") -> str:
        """The address of a page, as ready HTML in another page has it; without its path, in the home page."""
        up = "../" * (of.count("/") + (1 if of and not self.flat else 0))
        return f"{up}{path}.html" if self.flat else f"{up}{path}/"

    def working(self, card: str, up: str = "") -> str:
        """The address of a card's page of working, from the card itself or `up` from another page."""
        if self.flat:
            return f"{up.removeprefix('../')}{card}/working.html"
        return f"{up}{card}/working/" if up else "working/"

    @property
    def systems(self) -> dict[str, System]:
        """The shops the pages are made for, all that measure in the units asked for, each with its own."""
        return {shop: units for shop, units in self.shops if self.units in ("both", units)}
