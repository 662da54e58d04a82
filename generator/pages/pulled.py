"""Pages of joints that were pulled: the plot, the series, what so many joints buy, how far to trust the model."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import exp, floor, log, sqrt

from markupsafe import Markup

from ..evidence import (
    BONDS,
    SCREWS,
    Judged,
    failures,
    judged_series,
    of_the_tested,
    pulling_cards,
    series_for,
    size_of,
)
from ..figures.pulled_plot import Group, Mark, key, plot
from ..formula import FORMULARY
from ..language import later, pointed, tr
from ..model.library import Library
from ..model.schema import Card, Source
from ..model.series import FAILURES, Joint, Measured, described, how_it_failed
from ..samples import tolerance_factor
from ..units import from_base, plain
from .csv_table import csv_text
from .options import SiteOptions
from .result import result_file
from .words import for_each_shop, markdown_text

# How many joints a class may pull, and how far they may scatter.
COUNTS, SCATTERS = (3, 5, 10, 20), (0.10, 0.15, 0.20, 0.25)
SIGNS = {
    **FAILURES,
    "held": later("did not break, or was not pulled further"),
    "mean": later("the mean of a series that was read"),
}


@dataclass(frozen=True)
class Joined:
    """A joint as its table shows it."""

    load: Markup
    failed: str
    note: str


class SeriesBlock:
    """A series in words and numbers, with its number on the page."""

    def __init__(self, library: Library, judged: Judged, number: int, options: SiteOptions):
        self.judged, self.number, self.options = judged, number, options
        self.series, self.tested = judged.series, of_the_tested(library, judged)

    def force(self, newtons: float) -> Markup:
        """A force in each shop's words, rounded down."""
        symbol = FORMULARY.symbols["R_w"]
        texts = {}
        for shop, system in self.options.systems.items():
            shown = symbol.shown(system)
            texts[shop] = shown.text(from_base(newtons, "N", shown.unit))
        return for_each_shop(texts)

    def worked(self, symbol: str) -> Markup | str:
        """A force of the set-up by the model, or that there is none."""
        return (
            self.force(self.judged.reckoning.working.values[symbol])
            if self.judged.reckoning.has(symbol)
            else tr("no number")
        )

    @property
    def title(self) -> Markup:
        """The title, marked when it is invented."""
        title = self.series.title
        return markdown_text(tr("{title} (invented)", title=title) if self.series.invented else title)

    @property
    def set_up(self) -> str:
        """What the series counts for, in a sentence."""
        reckoning, wood = self.judged.reckoning, self.judged.gravity
        kind = self.judged.kind
        hole, depth = plain(reckoning.shop(kind.hole)), plain(reckoning.shop(kind.depth))
        like = tr(kind.words, size=size_of(reckoning), hole=hole, depth=depth)
        least, most = pointed(f"{0.9 * wood:.2f}"), pointed(f"{1.1 * wood:.2f}")
        like += tr(", wood of specific gravity {least} to {most}", least=least, most=most)
        named = [reckoning.titles[name] for name in ("resin", "filler") if name in reckoning.titles]
        return f"{like}, {', '.join(named)}"

    @property
    def joints(self) -> list[Joined]:
        """Its joints, the weakest first."""
        return [
            Joined(self.force(joint.force), how_it_failed(joint), joint.note or "")
            for joint in sorted(self.series.joints, key=lambda one: one.force)
        ]

    @property
    def count(self) -> str:
        """How many were pulled and how many of their bonds broke."""
        if self.series.published:
            return str(self.series.published.joints)
        broke = len(self.judged.broken)
        held = len(self.judged.held)
        return tr("{broke}, and {held} that held", broke=broke, held=held) if held else f"{broke}"

    @property
    def ratio(self) -> str:
        """Calculated over measured, as the page has it."""
        return pointed(f"{1 / self.judged.ratio:.2f}") if self.judged.ratio else tr("no number")

    @property
    def mean_read(self) -> str:
        """The published mean as it was read."""
        return pointed(f"{self.judged.mean / 1000:.2f} kN")

    @property
    def bond_read(self) -> str:
        """The model's bond beside it."""
        return pointed(f"{self.judged.calculated / 1000:.1f} kN") if self.judged.calculated else tr("no number")

    @property
    def scatter(self) -> str:
        """The scatter in percent."""
        return f"{100 * self.judged.sample.scatter:.0f} %" if self.judged.sample else ""

    @property
    def factor(self) -> str:
        """What the scatter is multiplied by."""
        return pointed(f"{self.judged.sample.factor:.2f}") if self.judged.sample else ""

    @property
    def low(self) -> Markup:
        """What 95 in 100 reach."""
        return self.force(self.judged.sample.low) if self.judged.sample else Markup("")

    def by_tests(self, symbol: str) -> Markup:
        """The working load of the set-up by the tests beside the model's `symbol`."""
        load = self.tested.load(symbol) if self.tested else None
        return self.force(load) if load is not None else Markup("")

    @property
    def loads(self) -> list[tuple[str, str]]:
        """The working loads that tests may take the place of, each with the words for the one by tests."""
        return [(symbol, FORMULARY.symbols[by].meaning) for symbol, by in self.judged.kind.by_tests.items()]

    @property
    def is_bond(self) -> bool:
        """Whether a bond was pulled, and no screw."""
        return self.judged.kind is BONDS

    @property
    def stray(self) -> Markup | None:
        """The load that stands far from the others, where one does."""
        sample = self.judged.sample
        return self.force(sample.values[sample.stray]) if sample and sample.stray is not None else None

    @property
    def modes(self) -> str:
        """How they failed."""
        return "; ".join(f"{count}: {words}" for words, count in failures(self.judged).items())

    @property
    def verdict(self) -> str:
        """Whose number counts for a joint so made."""
        if self.series.invented:
            return tr("Invented. It counts for nothing.")
        if self.judged.no_number:
            return tr("No number: {reason}.", reason=self.judged.no_number)
        if self.series.trust:
            trust = self.series.trust
            return tr("The tests count, by {who}, {day}: {why}.", who=trust.by, day=trust.on, why=trust.why)
        return tr("The lower of both counts.")

    def marks(self) -> Group | None:
        """Its marks in the plot; nothing where the model has no number."""
        if self.judged.calculated is None:
            return None
        reckoned = self.judged.calculated / 1000
        if self.series.published:
            return Group(str(self.number), [Mark(reckoned, self.series.published.mean / 1000, "mean")])
        return Group(str(self.number), [Mark(reckoned, one.force / 1000, sign_of(one)) for one in self.series.joints])


def sign_of(joint: Joint) -> str:
    """The sign of a joint in the plot."""
    return joint.failed or "held"


class PulledPage:
    """What the templates of these pages read. Built from a checked library."""

    def __init__(self, library: Library, options: SiteOptions):
        self.library, self.options = library, options
        judged = sorted(judged_series(library).values(), key=lambda one: (one.series.published is None, one.name))
        self.blocks = [SeriesBlock(library, one, number, options) for number, one in enumerate(judged, 1)]

    @property
    def own(self) -> list[SeriesBlock]:
        """The shop's own series."""
        return [block for block in self.blocks if not block.series.published]

    @property
    def read(self) -> list[SeriesBlock]:
        """The series that were read."""
        return [block for block in self.blocks if block.series.published]

    @cached_property
    def entered(self) -> dict[str, str]:
        """By the cards whose pulled joints are entered on a page of their own: that page."""
        return {name: result_file(self.library, name) for name in pulling_cards(self.library)}

    @property
    def invented(self) -> list[str]:
        """What is to be said of series that are invented."""
        return [block.series.invented for block in self.blocks if block.series.invented]

    def of(self, card: Card) -> list[SeriesBlock]:
        """The shop's own series that may say something of a card's joints."""
        names = {one.name for one in series_for(self.library, card)}
        return [block for block in self.own if block.judged.name in names]

    @cached_property
    def plot(self) -> Markup:
        """All series, measured against calculated."""
        groups = [group for block in self.blocks if (group := block.marks())]
        if not groups:
            return Markup("")
        words = {
            "title": tr("Pulled joints, measured and calculated"),
            "description": tr(
                "Each joint's measured load over its strength by the model, with a line where both are "
                "equal and one at the working load. The numbers are in the table below."
            ),
            "across": tr("strength by the model, kN"),
            "up": tr("measured / calculated"),
            "one": tr("as calculated"),
        }
        return Markup(plot(groups, self.trusted, words))

    @property
    def trusted(self) -> dict[str, float]:
        """What the model trusts each kind of joint in the plot with, as a part of its strength."""
        constant, kinds = self.library.constant, [block.judged.kind for block in self.blocks if block.marks()]
        lines = (
            (BONDS, tr("working load of a bond"), 1 / constant("gamma_b")),
            (SCREWS, tr("working load of a screw"), constant("y_sc") / constant("gamma_w")),
        )
        return {name: part for kind, name, part in lines if kind in kinds}

    @property
    def signs(self) -> list[tuple[Markup, str]]:
        """The signs that the plot has, with their words."""
        used = {mark.sign for block in self.blocks if (group := block.marks()) for mark in group.marks}
        return [(Markup(key(kind)), tr(words)) for kind, words in SIGNS.items() if kind in used]

    @property
    def buys(self) -> list[tuple[int, str, list[str]]]:
        """For each number of joints, the factor and what is left of the mean at each scatter."""
        return [
            (count, pointed(f"{tolerance_factor(count):.2f}"), [part_of_mean(count, one) for one in SCATTERS])
            for count in COUNTS
        ]

    @property
    def scatters(self) -> list[str]:
        """The scatters that the table runs over."""
        return [f"{100 * one:.0f} %" for one in SCATTERS]

    @property
    def ways(self) -> list[str]:
        """How a joint may fail, as a file says it."""
        return list(FAILURES)

    @property
    def record(self) -> list[tuple[str, list[str]]]:
        """What the record sheet asks for, in the order of the file: of the series, of its wood, of each joint."""
        return [
            (tr("Series"), ["title", "card", "given"]),
            (tr("Wood"), list(described(Measured))),
            (tr("Each joint"), list(described(Joint))),
        ]

    @property
    def sources(self) -> dict[str, Source]:
        """What stands behind the page."""
        used = {
            "en-14358",
            "en-1995-1-1-factors",
            "own-judgement",
            *(one.series.published.source for one in self.read if one.series.published),
        }
        return {key: source for key, source in self.library.sources.items() if key in used}

    @property
    def files(self) -> dict[str, str]:
        """The twins of the tables for a spreadsheet, by file name."""
        heads = [
            tr("number"),
            tr("series"),
            tr("invented"),
            tr("load (kN)"),
            tr("failed"),
            tr("strength by the model (kN)"),
            tr("measured / calculated"),
        ]
        rows: list[Sequence[str]] = []
        for block in self.blocks:
            judged = block.judged
            loads = [(judged.mean, tr("mean of a series that was read"))] if judged.series.published else []
            loads += [(one.force, how_it_failed(one)) for one in judged.series.joints]
            for load, failed in loads:
                reckoned = judged.calculated
                numbers = ["", ""] if not reckoned else [f"{reckoned / 1000:.3f}", f"{load / reckoned:.3f}"]
                invented = tr("invented") if judged.series.invented else ""
                rows.append([str(block.number), judged.series.title, invented, f"{load / 1000:.3f}", failed, *numbers])
        buys = [[str(count), factor, *parts] for count, factor, parts in self.buys]
        return {
            "joints.csv": csv_text(heads, rows),
            "how-many.csv": csv_text(
                [tr("joints"), tr("factor"), *(tr("scatter {percent}", percent=one) for one in self.scatters)], buys
            ),
        }


def part_of_mean(count: int, scatter: float) -> str:
    """What 95 in 100 reach as a part of the mean of so many joints that scatter so, rounded down."""
    spread = sqrt(log(1 + scatter**2))
    return pointed(f"{floor(100 * exp(-tolerance_factor(count) * spread - spread**2 / 2)) / 100:.2f}")
