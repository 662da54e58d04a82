"""A card's page: everything its template prints, worked for each shop."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from markupsafe import Markup, escape

from ..bench import FOOT, NOTHING, Entry, carries, clock, from_the_mix, key_figures, line_of, numbers, signs, told_for
from ..evidence import own_tests, trial_card
from ..figures import Figure, figure
from ..formula import FORMULARY
from ..language import later, tr
from ..model.library import Library
from ..model.prose import Condition, Known, Prose, Value, all_known
from ..model.quantity import read_symbol
from ..model.schema import DRILL_CHOICES, HANDS, Act, Given, Over, PlanLine, Stepwise
from ..model.series import Joint, Measured, described
from ..reckoning import reckon
from .live import LiveForm
from .options import SiteOptions
from .paper import page_address, page_code
from .print_sheets import has_aid
from .sheet import Grid, GridRow, Lack, SheetPage, cell, meaning, symbol_column
from .words import Reckonings, symbol_html, value_alone_html, value_html

# The ways of pulling, for a load that comes and goes and one that stays, with the words where there is neither number,
# and where the second is missing.
WAYS: dict[tuple[Act, Act], tuple[str, str]] = {
    ("pull", "lasting"): (later("straight out"), later("straight out that stays")),
    ("side", "lasting-side"): (later("sideways"), later("sideways that stays")),
    ("angled", "lasting-angled"): (later("at an angle"), later("at an angle that stays")),
}
# What the rules of a load across say that it is for, at length or in a line.
ACROSS = {"grain", "a_e", "a_z", "N_y", "s_ba"}
# A record has a row for each of these.
JOINTS_TO_PULL = 5


@dataclass(frozen=True)
class PlannedLine:
    """One line of the time plan."""

    what: str
    active: str
    wait: Markup


@dataclass(frozen=True)
class TrustLine:
    """One load that the joint may be trusted with, in each shop's words."""

    symbol: str
    meaning: str
    load: Markup


def wait_of(line: PlanLine, reckonings: Reckonings) -> Markup:
    """How long to wait: a worked time, or one that is written down."""
    return value_html(line.wait, reckonings) if line.wait in FORMULARY.symbols else escape(line.wait or "")


class CardPage(SheetPage):
    """What the card template reads."""

    folder = "cards"

    def __init__(self, library: Library, name: str, options: SiteOptions):
        self.card = library.cards[name]
        super().__init__(library, name, self.card, options)

    @property
    def has_aid(self) -> bool:
        """Whether a drilling aid can be drawn for it as it is set."""
        return has_aid(self.card)

    @property
    def corner(self) -> str:
        """What stands at the right of a printed page's head."""
        return tr("Card revision {revision}", revision=self.card.revision)

    @property
    def own_givens(self) -> dict[str, Given]:
        """The reader's own givens that neither bench side nor steps print, so that a sheet says what it is for.

        All fittings together have the amounts, so how many they are stands beside how many holes each has."""
        return {
            symbol: given
            for symbol, given in self.card.givens.items()
            if symbol == "N" or (given.source is None and not self.told_on_paper(symbol))
        }

    def told_on_paper(self, name: str) -> bool:
        """Whether bench side, steps or the loads print a given themselves: its value, a size of the row that is chosen,
        the drill that it is, how the mix is to look; or there is no other row to choose."""
        if name in (*DRILL_CHOICES, "consistency") or name in self._on_paper:
            return True
        choice, elsewhere = self.library.choices.get(name), self.card.givens[name].elsewhere
        if choice is None:
            return False
        rows = [row for key, row in choice.rows.items() if key not in elsewhere]
        return len(rows) == 1 or any(not self._on_paper.isdisjoint(row.symbols) for row in rows)

    @cached_property
    def _on_paper(self) -> set[str]:
        """All that bench side, steps and loads print of the card as it comes, in each shop."""
        entries = (*self.numbers, *self.clock)
        texts = [self.told_for, *(text for entry in entries for text in entry.texts)]
        for step in self.card.steps:
            texts += [Prose(text or "") for text in (step.title, step.line, step.seen, step.do)]
        shops = (
            {part.name for text in texts for part in text.chosen(reckoning.holds) if isinstance(part, Value)}
            for reckoning in self.reckonings.values()
        )
        return set.intersection(*shops) | (ACROSS if "F_yn" in self.card.loads else set())

    @property
    def told_for(self) -> Prose:
        """What the job is, in short."""
        return told_for(self.card)

    @property
    def numbers(self) -> list[Entry]:
        """The numbers on the bench side."""
        return numbers(self.card)

    @property
    def clock(self) -> list[Entry]:
        """The times on the bench side."""
        return clock(self.card)

    @property
    def key_figures(self) -> list[Entry]:
        """The few figures that stay in sight on a screen."""
        return key_figures(self.card)

    @property
    def carries(self) -> bool:
        """Whether a word beside them leads to the card's loads."""
        return carries(self.card)

    @property
    def clock_of_mix(self) -> list[Entry]:
        """The times that count from the mix."""
        return from_the_mix(self.card)

    def keyword(self, caution: str) -> str:
        """What stands for a caution beside a step: its sign, or its first sentence, which is prose too."""
        return self.cautions[caution].sign or self._parted(caution)[0]

    def opened(self, place: int, caution: str) -> Prose:
        """What a keyword beside the step at this place opens to: what goes on from it, where it is the first sentence;
        of a sign all of the caution at the first step that names it, later its first sentence. The whole stands before
        the steps."""
        text, (first, rest) = self.cautions[caution].text, self._parted(caution)
        if not self.cautions[caution].sign:
            return Prose(rest or text)
        named = any(caution in step.cautions for step in self.card.steps[:place])
        return Prose(f"{first}.") if named else text

    def _parted(self, caution: str) -> tuple[str, str]:
        """A caution's first sentence, without its stop, and what comes after it."""
        first, _, rest = self.cautions[caution].text.partition(". ")
        return first.removesuffix("."), rest

    def stays(self, step: Stepwise) -> bool:
        """Whether what to do where a step went wrong is printed however full the sheet is: somebody may be hurt."""
        return any(self.cautions[one].stays for one in step.cautions)

    @property
    def writes_down(self) -> bool:
        """Whether a step asks to write something down, so that a row of lines is printed however full the sheet is."""
        return any(re.search(r"\bWrite\b[^.]*\bdown\b", step.do) for step in self.card.steps)

    def signs(self, step: Stepwise) -> dict[str, Condition | None]:
        """What may hurt in a step, in keywords, with when each stands."""
        return signs(step, self.cautions)

    def line_of(self, step: Stepwise) -> Prose:
        """A step said short."""
        return line_of(step)

    def several_mixes(self, step: Stepwise) -> Entry | None:
        """What a step that weighs says where there are several mixes."""
        if not (self._weighs(step) and self.library.alike):
            return None
        said, lifts = self.library.alike, [lift for lift in ("n_l", "n_p") if lift in self.card.named]
        loose = [f" {said.turned_loose}"] if "t_y1" in self.card.named else []
        text = "".join([said.several_mixes, *loose, *(f"[{lift} > 1:  {said.next_lift}]" for lift in lifts)])
        return Entry(Prose(text), NOTHING, when=Condition("n_m", 1))

    def kept_warm(self, step: Stepwise) -> Prose | None:
        """What a step that weighs says of how warm all is kept."""
        return self.library.alike.kept_warm if self._weighs(step) and self.library.alike else None

    def _weighs(self, step: Stepwise) -> bool:
        """Whether a step weighs what a job is filled with."""
        return self.card.mix is not None and any(value.name == "m_h" for value in Prose(step.do).values)

    def known(self, when: Condition | None, *texts: str) -> Condition | Known | None:
        """What must hold for a row to stand: its own condition, and that all its values have a number. A load that the
        joint is trusted with stands, for it is told beside it why it has none; a ratio is always given."""
        return all_known(map(Prose, texts), but={*self.card.givens, *self.card.loads, "n_v", "n_w"}, when=when)

    def told_of_side_load(self, text: str) -> Condition | Known | None:
        """What must hold for the rules of a load across to stand: that there is one."""
        return all_known([Prose(text), Prose("{F_yn}")], but={*self.card.givens, "n_v", "n_w"}, when=None)

    def none_at(self, symbol: str) -> Condition | None:
        """The condition under which a given is there at all: a plate of no thickness is none."""
        given = self.card.givens[symbol]
        return Condition(symbol, 0) if given.min is not None and not read_symbol(symbol, given.min) else None

    @property
    def tries(self) -> bool:
        """Whether joints are tried by this card, so that each has a row to be written down in."""
        return self.name == trial_card(self.library)

    @property
    def joint_rows(self) -> int:
        """As many rows as a class pulls joints."""
        return JOINTS_TO_PULL

    @property
    def joint_keys(self) -> list[str]:
        """What is written down of each joint, by the keys of a series' file and in their order."""
        return list(described(Joint))

    @property
    def record(self) -> list[str]:
        """The lines to fill in by hand."""
        mixed, bedded = "ratio" in self.card.givens, "compound" in self.card.givens
        batches = tr("Epoxy and compound") if mixed and bedded else tr("Epoxy") if mixed else tr("Compound")
        lines = [tr("Boat and fitting"), tr("Date"), tr("Done by"), tr("Temperature of the wood")]
        if self.tries:  # who and when stand in each joint's own row
            lines = [
                tr("Title of the series"),
                *(f"{words[0].upper()}{words[1:]}" for words in described(Measured).values()),
            ]
        if mixed or bedded:
            lines += [tr("{batches}, batch numbers", batches=batches)]
        if mixed:
            lines += [tr("Mix ratio, by volume or weight"), tr("Time mixed"), tr("Sample hard, when")]
        elif bedded:
            lines += [tr("Bedded, when")]
        return lines

    @property
    def page_code(self) -> Markup:
        """A code that leads from the printed card to its page."""
        return page_code(self.address)

    @property
    def address(self) -> str:
        """Where the card is hosted, if that is known."""
        return page_address(f"cards/{self.name}", self.options)

    @property
    def foot(self) -> str:
        """What stands at the foot of each printed side."""
        return tr(FOOT)

    @cached_property
    def figures(self) -> dict[str, Figure]:
        """The drawing of the finished joint for each shop's default reckoning."""
        return self._drawn(self.card.figure, "joint") if self.card.figure else {}

    @cached_property
    def thumbnail(self) -> Markup:
        """The drawing of the finished joint for the index, named apart from the one on the card."""
        shop, reckoning = next(iter(self.reckonings.items()))
        place = f"{self.name}-thumbnail-{shop}"
        return Markup(figure(self.library, self.card.figure, reckoning, place).svg if self.card.figure else "")

    @cached_property
    def step_figures(self) -> list[dict[str, Figure]]:
        """The drawing of each step for each shop, nothing where a step has none."""
        return [
            self._drawn(step.drawing, f"step-{place}") if step.drawing else {}
            for place, step in enumerate(self.card.steps, 1)
        ]

    def figure_number(self, step: int) -> int:
        """The number under the drawing of a step, counted from 0; the finished joint, if it is drawn, is figure 1."""
        return bool(self.card.figure) + sum(bool(figures) for figures in self.step_figures[: step + 1])

    def _drawn(self, drawing: str, place: str) -> dict[str, Figure]:
        return {
            shop: figure(self.library, drawing, reckoning, f"{self.name}-{place}-{shop}")
            for shop, reckoning in self.reckonings.items()
        }

    @cached_property
    def plan(self) -> list[PlannedLine]:
        """The time plan: the hands' time as written, the waiting in each shop's words."""
        return [PlannedLine(line.what, line.active or "", wait_of(line, self.reckonings)) for line in self.card.plan]

    @property
    def hands_on(self) -> Markup:
        """All the time that hands are busy, with all fittings and all mixes."""
        return value_html(HANDS, self.reckonings)

    @cached_property
    def trust(self) -> list[TrustLine]:
        """What the joint may be trusted with in each shop, or why there is no number."""
        return [TrustLine(symbol, meaning(symbol), self.live_value(symbol)) for symbol in self.card.loads]

    @property
    def no_loads(self) -> str:
        """The ways of pulling, in words, for which a card that gives loads gives none."""
        given = {*self.card.loads}
        ways = {
            act
            for card in self.library.cards.values()
            for act, loads in (card.job.carries if card.job else {}).items()
            if {*loads} <= given
        }
        lacks = [
            tr(words if passing not in ways else staying)
            for (passing, lasting), (words, staying) in WAYS.items()
            if not {passing, lasting} <= ways
        ]
        return f" {tr('or')} ".join([", ".join(lacks[:-1]), lacks[-1]]) if lacks[1:] else "".join(lacks)

    @property
    def own_tests(self) -> dict[str, list[str]]:
        """What the shop's own pulled joints say of the job drawn in each shop."""
        return {
            shop: own_tests(self.library, self.card, {"shop": shop}, reckoning)
            for shop, reckoning in self.reckonings.items()
        }

    def led(self, html: str, working: str) -> str:
        """HTML of this card whose values and sources lead to its page of working, which is at the address `working`."""
        shop, reckoning = next(iter(self.reckonings.items()))
        worked = {step.symbol for step in reckoning.working.trail}

        def place(found: re.Match[str]) -> str:
            symbol = found[1]
            return f'<a data-s="{symbol}" href="{working}#{shop}-{symbol}">' if symbol in worked else found[0]

        html = html.replace('href="#source-', f'href="{working}#source-')
        return re.sub(r'<a data-s="(\w+)">', place, html)

    @cached_property
    def live(self) -> LiveForm:
        """The form for the reader's own numbers."""
        return LiveForm(self.library, self.card, self.options.systems)

    def live_value(self, symbol: str) -> Markup:
        """A worked value in each shop's words, as it stands beside its meaning."""
        return value_alone_html(symbol, self.reckonings)

    def meaning(self, symbol: str) -> str:
        """What a symbol means."""
        return meaning(symbol)

    def _grids(self) -> Sequence[Grid]:
        """The card's table over each series of threads, or over another input for each shop."""
        table = self.card.table
        if not table:
            return []
        if table.over:
            return [self._grid_over(table.over, shop) for shop in self.reckonings]
        return [
            self._grid(f"sizes-{key}", series.title, shop, "thread", [thread.size for thread in series.rows])
            for shop in self.reckonings
            for key, series in self.library.series_in(shop).items()
            if not self.options.threads or key in self.options.threads
        ]

    def _grid_over(self, over: Over, shop: str) -> Grid:
        return self._grid(f"sizes-{shop}", self.card.title, shop, over.input, self.run_values(over, shop))

    @property
    def table_over(self) -> str:
        """What runs down the card's table."""
        over = self.card.table.over if self.card.table else None
        return self.run_corner(over) if over else tr("thread")

    @property
    def table_heading(self) -> str:
        """What the card's table goes by."""
        return tr("Sizes by {what}", what=self.table_over)

    def _grid(self, name: str, title: str, shop: str, over: str, values: Sequence[str]) -> Grid:
        default = self.reckonings[shop]
        columns = [symbol_column(symbol, default.unit(symbol), symbol_html(symbol)) for symbol in self.card.sizes]
        came = default.titles.get(over, default.texts.get(over))
        rows = [self._row({over: text, "shop": shop}, text, text == came) for text in values]
        own = [over, *self.card.sizes] if any(row.default for row in rows) else []
        return Grid(name, title, shop, self.run_corner(Over(input=over)), columns, rows, own)

    def _row(self, inputs: dict[str, str], head: str, default: bool) -> GridRow:
        reckoning = reckon(self.library, self.card, inputs)
        cells = [cell(reckoning, symbol) for symbol in self.card.sizes]
        lacks = [Lack(reason) for reason in reckoning.working.reasons(self.card.sizes)]
        return GridRow(head, [text for text, _ in cells], [number for _, number in cells], default, lacks)

    def used_sources(self) -> set[str]:
        """Those of the sheet, and those of the stock lists that drills are chosen from."""
        reckonings = self.reckonings.items()
        drills = {
            (reckoning.texts[name], shop)
            for shop, reckoning in reckonings
            for name in DRILL_CHOICES
            if name in reckoning.texts
        }
        return super().used_sources() | {
            stock.source
            for shop in self.reckonings
            for stock in self.library.stock_in(shop)
            if (stock.kind, shop) in drills
        }
