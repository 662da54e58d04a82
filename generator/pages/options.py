"""What the reader of a site may choose for all of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ..units import SYSTEMS, System

UnitsOption = Literal["both", "metric", "inch"]
UNITS: tuple[UnitsOption, ...] = ("both", "metric", "inch")
PAPERS = ("A4", "Letter")


@dataclass(frozen=True)
class SiteOptions:
    """Which shops the pages are made for, the paper they print on, and the thread series in the tables.

    `threads` empty means every series in the data. `address` is where the site is hosted; printed cards carry it.
    `flat` is for a site without a web server: a page is a file beside the others, not a folder.
    """

    units: UnitsOption = "both"
    paper: str = "A4"
    threads: Sequence[str] = ()
    address: str = ""
    flat: bool = False

    def working(self, card: str, up: str = "") -> str:
        """The address of a card's page of working, from the card itself or `up` from another page."""
        if self.flat:
            return f"{up.removeprefix('../')}{card}/working.html"
        return f"{up}{card}/working/" if up else "working/"

    @property
    def systems(self) -> tuple[System, ...]:
        """The shops the pages are made for."""
        return SYSTEMS if self.units == "both" else (self.units,)
