"""The home page: a size worked on several cards beside each other, the cards by purpose, and tables by question."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import replace
from functools import cached_property
from itertools import product

from markupsafe import Markup

from ..bench import Entry, clock, counts, drills, filled
from ..language import later, tr
from ..model.home import Asked, Home, PanelCard
from ..model.library import Library
from ..model.prose import Prose
from ..model.schema import Act, Bore, Card
from ..reckoning import InputError, Reckoning
from .asked import AskingPage
from .chosen import Chosen
from .options import SiteOptions
from .words import for_each_shop

# The ways of pulling that the panel tells of, and how it names them.
WAYS: dict[Act, str] = {"pull": later("straight out"), "side": later("sideways")}
# What the panel tells of a card's epoxy besides how often: what is weighed, and what goes into a hole.
EPOXY = 4
TIMES = ("{t_w}", "{t_h}", "{t_f}")


def _by_its_kind(entry: Entry, bore: Bore) -> Entry:
    """A drill with its kind: another one's tip is longer, and its flag elsewhere."""
    return replace(entry, beside=Prose(f"{entry.beside}, {{{bore.kind}}}")) if bore.mark and bore.kind else entry


class HomePage(AskingPage):
    """What the home page's template reads."""

    def __init__(self, library: Library, home: Home, site: Chosen, options: SiteOptions):
        super().__init__(library, home.givens, home.cards, options)
        self.home, self.site = home, site

    @cached_property
    def worked(self) -> dict[str, dict[str, Reckoning]]:
        """Each of the panel's cards worked as it comes, but one that the shop's own sizes are not for."""
        worked = {}
        for one in self.home.cards:
            with suppress(InputError):
                if one.card in self.site.cards:
                    worked[one.card] = {shop: self.reckoning(one, shop) for shop in self.options.systems}
        return worked

    @property
    def cards(self) -> list[PanelCard]:
        """The panel's cards. One that takes a number from a card that is not there has none itself."""
        return [one for one in self.home.cards if {one.card, *one.from_.values()} <= self.worked.keys()]

    @property
    def questions(self) -> list[Asked]:
        """The questions whose tables there are."""
        return [one for one in self.home.questions if one.table in self.site.tables]

    def rows(self, one: PanelCard) -> dict[str, list[Entry]]:
        """What the panel tells of a card, by heading."""
        card = self.card(one)
        return {
            tr("Drills"): [*map(_by_its_kind, drills(card), card.job.bores if card.job else ())],
            tr("Epoxy"): [*counts(card), *filled(card)[:EPOXY]],
            tr("Time"): [entry for entry in clock(card) if entry.value in TIMES],
        }

    def card(self, one: PanelCard) -> Card:
        """A card of the panel."""
        return self.library.cards[one.card]

    def carries(self, one: PanelCard, way: Act) -> Markup:
        """What it carries that way, in each shop's words; why it carries nothing stands below all of them."""
        loads = {shop: self.carried(one, way, shop) for shop in self.options.systems}
        return for_each_shop({shop: tr("no number") if load.why else load.words for shop, load in loads.items()})

    def no_numbers(self, heading: str) -> Markup:
        """Why some cards have no number under a heading, in each shop's words."""

        def reasons(one: PanelCard, shop: str) -> list[str]:
            texts = (text for entry in self.rows(one)[heading] for text in entry.texts)
            return self.worked[one.card][shop].working.reasons(value.name for text in texts for value in text.values)

        return self._told_once(reasons)

    def no_loads(self) -> Markup:
        """Why some cards carry nothing one way, in each shop's words."""
        return self._told_once(lambda one, shop: [why for way in WAYS if (why := self.carried(one, way, shop).why)])

    def _told_once(self, reasons: Callable[[PanelCard, str], Iterable[str]]) -> Markup:
        """Reasons, each once behind the names of the cards that have it. `home.js` tells them alike."""
        told: dict[str, dict[str, list[str]]] = {shop: {} for shop in self.options.systems}
        for shop, one in product(told, self.cards):
            for why in dict.fromkeys(reasons(one, shop)):
                told[shop].setdefault(why, []).append(one.name)
        return for_each_shop(
            {
                shop: " ".join(f"{', '.join(names)}: {tr('no number: {why}', why=why)}." for why, names in whys.items())
                for shop, whys in told.items()
            }
        )

    @property
    def ways(self) -> dict[Act, str]:
        """The ways of pulling."""
        return {way: tr(words) for way, words in WAYS.items()}

    @property
    def data(self) -> Markup:
        """What the page's script must know: what came, and each card's inputs and loads by way."""
        data = self.script_data([one.card for one in self.cards], list(WAYS))
        return Markup(json.dumps(data, ensure_ascii=False, sort_keys=True).replace("<", "\\u003c"))
