"""A job sheet's page: its plan in words, tables, files for a spreadsheet and a calendar."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cached_property
from itertools import groupby
from math import floor
from urllib.parse import urlencode

from icalendar import Calendar, Event
from markupsafe import Markup

from ..bench import FOOT
from ..evidence import BY_TESTS, own_evidence, said
from ..formula import FORMULARY
from ..jobs.fittings import RUBBER, Drill, Worked, wait_time
from ..jobs.loads import LoadCheck, Remedy
from ..jobs.plan import (
    SCALE,
    Batch,
    Cup,
    Holes,
    Share,
    kept_plain,
    line_of,
    pair_name,
    parts_until,
    stock_of,
    weighed_out,
)
from ..jobs.sheet import WorkedSheet, work_sheet
from ..jobs.shopping import Item, reckoned_with
from ..language import day_in_a_plan, day_in_short, later, lower_first, tr, weekday
from ..model.jobsheet import DAYS, JobSheet
from ..model.library import Library
from ..model.schema import Caution, Decided, Source
from ..reckoning import AT_ITS_ANGLE, reckon, told_ratio
from ..schedule.timetable import DAY, Slot
from ..units import from_base, plain
from ..working import Warned
from .csv_table import csv_text
from .options import SiteOptions
from .pair_sheet import PairSheet, pair_sheets
from .paper import css_string, side_of_sides
from .timeline import timeline
from .words import markdown_text

# The card that tells how to mix.
_MIXING = "mixing"
# The card that tells how to pull a trial joint.
_TRIAL = "trial-joint"
_WASH = later(
    "Wash the layer below with a damp pad, wipe, dry it with warm air, sand it on a stick: it is tacky no longer"
)


# Of a fitting without a worked load, who must say what it may bear.
_NOT_KNOWN = later("no load is known: a naval architect, rigger or surveyor says first what it may bear")


def card_address(card: str, inputs: Mapping[str, str]) -> str:
    """A card as set, from a page beside the cards' folder: its givens in the query, as the command line takes them."""
    return f"../cards/{card}.md?{urlencode(inputs)}"


@dataclass(frozen=True)
class Finished:
    """A fitting that is finished: from when it may be loaded and with what, and when its nuts are turned once more."""

    name: str
    at: str
    bears: str
    again: str


@dataclass(frozen=True)
class ClockRow:
    """One line of a day's plan."""

    start: str
    end: str
    what: str
    who: str
    teams: str
    mix: bool


@dataclass(frozen=True)
class MixBlock:
    """One mix for the page: when, for which fittings (how many, which layer), what goes into it, who fills what."""

    number: int
    batch: Batch
    day: str
    times: list[tuple[str, str]]
    fittings: list[tuple[str, int, str]]
    amounts: list[tuple[str, str, str]]
    teams: list[str]


def _takes_several(worked: Worked) -> bool:
    """Whether one hole takes more than a syringe gives."""
    mix, values = worked.card.mix, worked.reckoning.working.values
    if mix is None or not {"V_1", "V_s", "u_s"} <= values.keys() or mix.fill != "t_1":
        return False
    return values["V_1"] > (1 + 1e-9) * values.get("n_h", 1) * values["V_s"] * values["u_s"]


def _teams(batch: Batch) -> list[str]:
    """What each team fills, where there is more than one."""
    if len(batch.dealt) < 2:
        return []
    pieces = {share.name: share.pieces for share in batch.shares}
    in_teams = Counter(name for team in batch.dealt for name in team)

    def said(name: str, count: int) -> str:
        if count < pieces[name]:
            return f"{name} ({count})"
        return tr("{fitting}, together", fitting=name) if in_teams[name] > 1 else name

    return ["; ".join(said(name, count) for name, count in team.items()) for team in batch.dealt]


class JobPage:
    """What the job template reads. Built from a checked library."""

    def __init__(self, library: Library, name: str, options: SiteOptions, worked: WorkedSheet | None = None):
        self.library, self.name, self.options = library, name, options
        self.worked = worked or work_sheet(library, name)
        self.sheet = self.worked.sheet
        self.plan = self.worked.plan
        self.system = library.shops[self.sheet.conditions.shop].units
        self.systems = {self.sheet.conditions.shop: self.system}
        mixing = library.cards.get(_MIXING) if self.plan.batches else None
        self.cautions: dict[str, Caution] = {
            key: caution
            for key, caution in library.cautions.items()
            if (mixing and key in mixing.all_cautions)
            or any(
                key in one.card.all_cautions and one.reckoning.holds(one.card.stands_when(key, caution))
                for one in self.worked.fittings
            )
        }

    @property
    def page_style(self) -> Markup:
        """The paper, and the lines at its head and foot."""
        lines = {
            "top-left": f'"{css_string(self.sheet.title)}"',
            "bottom-left": f'"{css_string(tr(FOOT))}"',
            "bottom-right": side_of_sides(),
        }
        boxes = " ".join(f"@{place} {{ content: {content}; }}" for place, content in lines.items())
        return Markup("@page { size: %s; margin: 13mm 10mm 12mm; %s }") % (Markup(self.options.paper), Markup(boxes))

    @property
    def cup(self) -> float:
        """The most that is mixed at once (kg)."""
        return self.library.constant("m_c")

    @property
    def chill(self) -> str:
        """By how much the work is warmer than the coldest at which its epoxy cures, where that is too little."""
        assert self.library.shop_sizes
        within = self.library.shop_sizes.chill.within.value
        values = [share.worked.reckoning.working.values for batch in self.plan.batches for share in batch.shares]
        over = min((own["T_a"] - own["T_min"] for own in values if "T_min" in own), default=within + 1)
        return self.shown("dT_sw", over) if over <= within + 1e-9 else ""

    @property
    def coldest(self) -> str:
        """The lowest temperature that the epoxy of this sheet cures at; nothing where none is mixed."""
        values = [share.worked.reckoning.working.values for batch in self.plan.batches for share in batch.shares]
        return next((self.shown("T_min", own["T_min"]) for own in values if "T_min" in own), "")

    # Words and numbers

    def shown(self, symbol: str, value: float) -> str:
        """A value (SI) rounded as its symbol is, with its unit."""
        shown = FORMULARY.symbols[symbol].shown(self.system)
        return shown.text(from_base(value, FORMULARY.symbols[symbol].unit, shown.unit))

    def moment(self, seconds: int) -> datetime:
        """Seconds from midnight before the first day, as a date and time."""
        first = self.sheet.conditions.first_day
        return datetime(first.year, first.month, first.day) + timedelta(seconds=-(-seconds // 60) * 60)

    def day(self, seconds: int) -> str:
        """Sat 10 April 2027."""
        return day_in_a_plan(self.moment(seconds))

    def hour(self, seconds: int) -> str:
        """09:05."""
        return f"{self.moment(seconds):%H:%M}"

    def at(self, seconds: int) -> str:
        """Day and time."""
        return f"{self.day(seconds)}, {self.hour(seconds)}"

    @property
    def conditions(self) -> list[tuple[str, str]]:
        """What the sheet is worked for."""
        given, rows = self.sheet.conditions, self.library.tables
        one = later("{crew}, working as 1 team of {team}")
        many = later("{crew}, working as {teams} teams of {team}")
        teams = tr(many if given.teams > 1 else one, crew=given.crew, teams=given.teams, team=given.team)
        teams = teams if given.crew > 1 else "1"
        if left := given.crew % given.team:
            helps, help_ = later("1 left over, who helps one of them"), later("{left} left over, who help one of them")
            teams += f"; {tr(help_ if left > 1 else helps, left=left)}"
        breaks = [(tr("breaks"), ", ".join(self.span(*rest) for rest in given.rests))] if given.breaks else []
        return [
            (tr("shop"), tr(given.shop)),
            (tr("temperature of the work"), given.temperature),
            (tr("hardener"), rows["hardeners"][given.hardener].title),
            (tr("epoxy"), rows["resins"][given.resin].title),
            (tr("mix ratio, resin to hardener"), told_ratio(given.ratio)),
            (tr("syringes"), self.shown("V_s", given.syringe.value)),
            (tr("people"), teams),
            *self._help,
            (tr("start"), self.at(given.begins)),
            (tr("working hours"), self.span(*given.opens_and_closes)),
            *((weekday(DAYS.index(day)), self.span(*given.week[DAYS.index(day)])) for day in given.hours_on),
            *breaks,
            (tr("working days"), self.days_of_work),
            *self._days_off,
            *self._lesson,
        ]

    def span(self, start: int, end: int) -> str:
        """From one time of the day to another."""
        return tr("{start} to {end}", start=self.hour(start), end=self.hour(end))

    @property
    def days_of_work(self) -> str:
        """On which days of the week hands work."""
        days = self.sheet.conditions.days
        return ", ".join(weekday(DAYS.index(day)) for day in days) if len(days) < len(DAYS) else tr("every day")

    @property
    def _days_off(self) -> list[tuple[str, str]]:
        """The days on which nobody works."""
        days = [
            day_in_a_plan(start)
            if start == end
            else tr("{start} to {end}", start=day_in_a_plan(start), end=day_in_a_plan(end))
            for start, end in self.sheet.conditions.away
        ]
        return [(tr("days off"), "; ".join(days))] if days else []

    @property
    def _help(self) -> list[tuple[str, str]]:
        """Who comes for what takes one more than the crew, and when."""
        if (helper := self.sheet.conditions.helper) is None:
            return []
        assert self.library.shop_sizes
        stay = self.library.shop_sizes.stay.time.value
        times = [
            tr("{start} to {end}", start=self.at(start), end=self.hour(end))
            for start, end in self.plan.helped(self.sheet.conditions.crew, stay)
        ]
        return [(tr("{helper} comes", helper=helper), "; ".join(times) or tr("for nothing in this plan"))]

    @property
    def _lesson(self) -> list[tuple[str, str]]:
        """What a class day has besides the work."""
        if (lesson := self.worked.lesson) is None:
            return [(tr("planned for"), tr("a shop: the fewest mixes, then the least waiting"))]
        parts = [
            (tr("set-up"), lesson.set_up),
            (tr("demonstration"), lesson.demonstration),
            (tr("clean-up"), lesson.clean_up),
        ]
        day = ", ".join(f"{name} {seconds // 60} min" for name, seconds in parts if seconds)
        return [
            (tr("planned for"), tr("a class: every team makes its own fittings with mixes of its own")),
            (tr("each class day has"), day or tr("work from the first minute on")),
            (tr("nobody has nothing to do for longer than"), f"{lesson.idle // 60} min"),
        ]

    def link(self, text: str, card: str, inputs: Mapping[str, str]) -> Markup:
        """A link to a card as set, on a Markdown line; its name alone where the cards are not made for this shop."""
        if inputs["shop"] not in self.options.systems:
            return markdown_text(text)
        return Markup("[{}]({})").format(markdown_text(text), Markup(card_address(card, inputs)))

    @property
    def all_fittings(self) -> list[Worked]:
        """The sheet's own fittings in its order, those that are held out among them."""
        there = {one.name: one for one in self.worked.fittings} | {
            k: held.worked for k, held in self.worked.held.items()
        }
        return [there[fitting.name] for fitting in self.sheet.fittings]

    @property
    def links(self) -> list[tuple[Worked, Markup]]:
        """Every fitting with its card as set."""
        return [
            (one, self.link(one.card.title, one.fitting.card, self._address_inputs(one)))
            for one in [*self.trials, *self.all_fittings]
        ]

    @property
    def held(self) -> list[tuple[Worked, str]]:
        """What is held out of the plan, and why, in the order of the sheet."""
        held = self.worked.held
        return [(one, self._why_held(one)) for one in self.all_fittings if one.name in held]

    def _why_held(self, one: Worked) -> str:
        """Why one is held out, and what is planned all the same though it may be made for this one."""
        why, before = self.worked.held[one.name].why, dict.fromkeys(name for name, _ in one.before)
        if not (planned := [name for name in before if name not in self.worked.held]):
            return why
        return tr(
            "{why}; {fittings} before it is planned all the same, so settle this first",
            why=why,
            fittings=", ".join(planned),
        )

    @property
    def how_to_mix(self) -> Markup | None:
        """The card for mixing, set to the conditions of this sheet; None where there is no such card."""
        if _MIXING not in self.library.cards:
            return None
        card, given = self.library.cards[_MIXING], self.sheet.conditions
        inputs = {key: text for key, text in given.inputs.items() if key in card.givens}
        return self.link(card.title, _MIXING, {"shop": given.shop, **inputs})

    def sizes(self, one: Worked) -> str:
        """What the sheet gives its card, in words."""
        given, titles = one.card.givens, one.reckoning.titles
        return "; ".join(
            f"{given[key].ask if key in given else FORMULARY.symbols[key].meaning}: {titles.get(key, text)}"
            for key, text in one.fitting.given.items()
        )

    def number(self, one: Worked) -> str:
        """How many there are, of what, and with how many holes."""
        single, count, holes = one.on_the_job.single, one.fitting.count, one.holes
        parts = [tr("{count} of them", count=count)] if count > 1 else []
        if single:
            parts.append(tr("each {what}", what=single) if parts else single)
        elif holes > 1:
            parts.append(tr("{holes} holes in each", holes=holes) if parts else tr("{holes} holes", holes=holes))
        return ", ".join(parts)

    @property
    def tools(self) -> list[tuple[str, list[str]]]:
        """What each card lists besides what is counted above, by its title."""
        found: dict[str, dict[str, None]] = {}
        for one in [*self.worked.fittings, *(one.puller for one in self.worked.fittings if one.puller)]:
            needs = [*one.card.needs.tools, *one.card.needs.materials]
            said = [
                one.reckoning.reads(need.what) for need in needs if not need.amount and one.reckoning.holds(need.when)
            ]
            found.setdefault(one.card.title, {}).update(dict.fromkeys(said))
        return [(title, [*said]) for title, said in found.items()]

    # Trial joints

    @property
    def trials(self) -> list[Worked]:
        """The trial joints in this plan."""
        return [one for one in self.worked.fittings if one.tries]

    def trial(self, one: Worked) -> Markup:
        """How many joints, by which card, for what, on a Markdown line."""
        number = one.each("N") * one.fitting.pieces
        many, single = later("{number} joints {where}."), later("1 joint {where}.")
        said, pulled = tr(single if number == 1 else many, number=number, where=one.fitting.where), one.puller or one
        if pulled.reckoning.working.values.get("m_tr"):
            shop = pulled.reckoning.shop
            passes = later(
                "One passes that holds {load} for {time}, which the scale under the jack reads as {reading}."
            )
            said += " " + tr(passes, load=shop("F_tr"), time=shop("t_tr"), reading=shop("m_tr"))
        what = markdown_text(said)
        return Markup("{} {}").format(what, self.link(one.card.title, one.fitting.card, self._address_inputs(one)))

    @property
    def pulled_by(self) -> Markup | None:
        """The card that tells how a trial is pulled which is made by the card of the joint itself."""
        own = [one for one in self.trials if one.fitting.card == one.tries[0].fitting.card]
        if not own or _TRIAL not in self.library.cards:
            return None
        return self.link(self.library.cards[_TRIAL].title, _TRIAL, {"shop": self.sheet.conditions.shop})

    @property
    def untried(self) -> list[tuple[str, str]]:
        """Fittings that their cards want tried and that no trial stands for, with the reason."""
        tried = [one for trial in self.trials for one in trial.tries]
        asked = [one for one in self.worked.fittings if one.on_the_job.trial and one.fitting.load and one not in tried]
        return [(one.name, one.untried) for one in asked if one.untried]

    def _address_inputs(self, one: Worked) -> dict[str, str]:
        return one.inputs | ({"N": str(one.fitting.count)} if "N" in one.inputs else {})

    # Loads

    @property
    def short(self) -> list[LoadCheck]:
        """Fittings that fall short."""
        return [check for check in self.worked.loads if check.falls_short]

    @property
    def for_designers(self) -> list[tuple[Worked, Decided]]:
        """Fittings that a designer decides, and who that is."""
        known = self.library.designers
        return [(one, known[one.fitting.designer]) for one in self.all_fittings if one.fitting.designer]

    def load(self, check: LoadCheck) -> str:
        """What a fitting must carry, rounded up."""
        return self.shown("F_n", check.load)

    def capacity(self, newtons: float) -> str:
        """What something carries, rounded down."""
        return self.shown("F_w", newtons)

    def margin(self, check: LoadCheck) -> str:
        """The margin in words, rounded to the worse side."""
        percent = floor(check.margin * 100 + 1e-9)
        return tr("{part} % over", part=percent) if percent >= 0 else tr("{part} % short", part=-percent)

    def decides(self, check: LoadCheck) -> str:
        """In words, the working load that is the least, and at which angle it is."""
        symbol, load = FORMULARY.symbols[check.symbol], check.worked.fitting.load
        assert load
        said = tr(AT_ITS_ANGLE, load=symbol.meaning, angle=load.angle) if symbol.at else symbol.meaning
        if not load.by:
            return said
        pieces = "; ".join(f"{count} × {what}" for count, what in reckoned_with(self.library, check.worked))
        by = later("{load}, by the card {card} ({sizes}), with {pieces}")
        return tr(by, load=said, card=check.worked.card.title, sizes=self.sizes(check.worked), pieces=pieces)

    def remedy(self, check: LoadCheck, remedy: Remedy) -> Markup:
        """A change that would do, on a Markdown line, with its link."""
        over = floor((remedy.carries / check.load - 1) * 100 + 1e-9)
        carries = plain(self.capacity(remedy.carries))
        change = self._change(check.worked, remedy)
        then = tr("{change}. It carries {load} then, {part} % over.", change=change, load=carries, part=over)
        words = markdown_text(then)
        return Markup("{} {}").format(words, self.link(tr("The card so set"), remedy.card, remedy.inputs))

    def _change(self, worked: Worked, remedy: Remedy) -> str:
        if remedy.card != worked.fitting.card:
            reckoning = reckon(self.library, self.library.cards[remedy.card], remedy.inputs)
            side, thick = plain(reckoning.shop("b_rs")), plain(reckoning.shop("h_rsp"))
            single = later(
                "Carry the whole load on a backing plate instead, {side} square and at least {thick} thick, "
                "under a washer ({washer}), as its own card says"
            )
            each = later(
                "Carry the whole load on a backing plate at each bolt instead, {side} square and at least {thick} "
                "thick, under a washer ({washer}), as its own card says; where two bolts stand nearer than that, one "
                "plate under both"
            )
            said = each if worked.holes > 1 else single
            return tr(said, side=side, thick=thick, washer=reckoning.titles["washer"])
        texts = {name: self._change_of(worked, name, text) for name, text in remedy.changed.items()}
        line = f"{tr(', and')} ".join(texts.values())
        return line[:1].upper() + line[1:]

    def _change_of(self, worked: Worked, name: str, text: str) -> str:
        reckoning = worked.reckoning
        if name in reckoning.titles:
            title = self.library.chosen(name, text).title if name in self.library.choices else text
            block, take = later("let in a block of {new} in place of {old}"), later("take {new} in place of {old}")
            return tr(block if name == "wood" else take, new=title, old=reckoning.titles[name])
        ways = {
            "T": later("bore {new} deep in place of {old}"),
            "a_e": later("set it {new} from the edge of the wood in place of {old}"),
            "L_sc": later("take a screw with {new} of thread in the wood in place of {old}"),
            "f_o": later("bore the large drill through {new} of the depth in place of {old}"),
        }
        other = later("give {name} as {new} in place of {old}")
        return tr(ways.get(name, other), name=name, new=text, old=plain(reckoning.shop(name)))

    def own_tests(self, worked: Worked) -> list[str]:
        """What the shop's own pulled joints say of a fitting's bond, a sentence a working load."""
        load = worked.fitting.load
        if not load or worked.fitting.designer or not worked.card.job:
            return []
        symbols = [symbol for symbol in worked.card.job.carries.get(load.acts, ()) if symbol in BY_TESTS]
        return [
            plain(said(own, symbol))
            for own in own_evidence(self.library, worked.card, worked.inputs)
            for symbol in symbols
            if own.load(symbol) is not None
        ]

    # Holes

    def drill(self, drill: Drill) -> str:
        """Kind and size."""
        return f"{drill.kind}, {self.shown('D_o', drill.size)}"

    def depth(self, holes: Holes) -> str:
        """How deep, by the full diameter."""
        if holes.bore.depth:
            return holes.worked.reckoning.shop(holes.bore.depth)
        return tr("to its mark") if holes.bore.mark else tr("right through")

    def hole(self, holes: Holes) -> str:
        """Which hole of its card."""
        if not holes.bore.widens:
            return holes.bore.what
        return tr("{hole}, the old one plugged first", hole=holes.bore.what)

    def mark(self, holes: Holes) -> str:
        """Where the flag sits on the drill."""
        return holes.worked.reckoning.shop(holes.bore.mark) if holes.bore.mark else ""

    # Mixes and the clock

    @property
    def pairs(self) -> list[PairSheet]:
        """The sheets of a class's pairs."""
        return pair_sheets(self, self.worked.lesson) if self.worked.lesson else []

    @property
    def without_a_mix(self) -> list[str]:
        """The pairs of a class that mix nothing."""
        lesson = self.worked.lesson
        return [self.pair(pair) for pair in lesson.without_a_mix(self.plan)] if lesson else []

    def pair(self, number: int) -> str:
        """What a pair of a class is called."""
        return pair_name(self.sheet.conditions, number)

    def shown_on(self, day: int) -> list[str]:
        """The cards whose work begins on a day, and so are shown to a class."""
        first: dict[str, int] = {}
        for slot in self.plan.clock.slots:
            for share in self.plan.shares_of(slot):
                first.setdefault(share.worked.card.title, slot.start // DAY)
        return [title for title, begun in first.items() if begun == day] or [
            tr("What each fitting comes to on this day")
        ]

    @cached_property
    def mixes(self) -> list[MixBlock]:
        """Every mix in order of time."""
        return [self._mix(number, batch) for number, batch in enumerate(self.plan.batches, 1)]

    @property
    def rubber(self) -> list[str]:
        """How long each compound that is bedded on is reckoned to take until it is rubber, where it ever is."""
        bedded = [share.worked for share in self.plan.shares.values() if share.worked.reckoning.has(RUBBER)]
        bedded = [one for one in bedded if any(line.wait == RUBBER for line in one.card.plan)]
        times = {one.reckoning.titles["compound"]: wait_time(one, RUBBER) for one in bedded}
        return [f"{compound} {self.shown(RUBBER, time)}" for compound, time in times.items()]

    @property
    def more_than_a_syringe(self) -> list[str]:
        """The fittings of which one hole takes more than a syringe gives, and whose time to fill is the card's for any
        hole."""
        worked = {one.name: one for batch in self.plan.batches for one in (share.worked for share in batch.shares)}
        return [name for name, one in worked.items() if not one.fitting.fill and _takes_several(one)]

    def _mix(self, number: int, batch: Batch) -> MixBlock:
        start, worked = batch.start, batch.shares[0].worked
        times = [
            (tr("mix"), self.hour(start)),
            (tr("fill from"), self.hour(start + int(self.plan.prepare))),
            (
                tr("used up by") if batch.cups == 1 else tr("first cup used up by"),
                self.hour(start + int(self.plan.lasts)),
            ),
            *self._tray(batch),
            (tr("hands free from"), self.hour(batch.end)),
            *self._first_look(batch),
            (tr("hard enough to handle"), self.at(batch.end + int(worked.time("t_h")))),
            (tr("full load not before"), self.at(batch.end + int(worked.time("t_f")))),
        ]
        values = batch.values
        amounts = [
            (tr("resin"), self.shown("m_r", values["m_r"]), self.shown("v_r", values["v_r"])),
            (tr("hardener"), self.shown("m_h", values["m_h"]), self.shown("v_h", values["v_h"])),
        ]
        for cup in batch.thickened:
            neat = self.shown("m_i", cup.neat)
            what = tr(
                "{filler}, {consistency}, into {neat} of the mix, the sample counted",
                filler=cup.filler,
                consistency=cup.consistency,
                neat=neat,
            )
            if len(batch.thickened) > 1:
                what += tr(", for {fittings}", fittings=", ".join(cup.shares))
            if cup.weighed:
                what += tr("; more than they take, for less filler cannot be weighed")
            elif cup.too_little:
                what += tr("; too little to weigh, so measure the filler by volume")
            loose = tr("{volume} loose", volume=self.shown("v_f", cup.values["v_f"]))
            amounts.append((what, self.shown("m_f", cup.values["m_f"]), loose))
        kept = tr("kept unthickened, for the wet-out and, thin in a tray, for topping up")
        amounts.append((kept, self._kept(batch.thickened, values), ""))
        amounts += [(self._without(batch, out), "", "") for out in self._may_be_out(batch)]
        fittings = [(share.name, share.pieces, self._layer(batch, share)) for share in batch.shares]
        return MixBlock(number, batch, self.day(start), times, fittings, amounts, _teams(batch))

    @staticmethod
    def _open(batch: Batch) -> float:
        """How long what is spread thin stays open, of the shares whose cards say so (s); 0 where none does."""
        return min((one.worked.time("t_o") for one in batch.shares if one.worked.reckoning.has("t_o")), default=0.0)

    def _tray(self, batch: Batch) -> list[tuple[str, str]]:
        """Until when what is kept in a tray tops up: longer than a cup lasts."""
        open_ = self._open(batch)
        return [(tr("tray open until"), self.hour(batch.start + int(open_)))] if open_ else []

    def _first_look(self, batch: Batch) -> list[tuple[str, str]]:
        """From when its sample may be firm as leather, where something is turned loose by it."""
        firm = [self._window(share, part)[0] for share, part in self._loosened(batch)]
        return [(tr("look at the sample from"), self.hour(min(firm)))] if firm else []

    def _kept(self, thickened: Sequence[Cup], amounts: Mapping[str, float]) -> str:
        """What of a mix is not thickened."""
        return self.shown("m_mx", kept_plain(thickened, amounts))

    def _may_be_out(self, batch: Batch) -> list[list[Share]]:
        """Of which a line of its plan or a trial tells whether it goes into a mix: each alone, and all of them."""
        tried = {one.name for trial in self.worked.fittings for one in trial.tries}
        open_ = [
            [share]
            for share in batch.shares
            if {share.worked.name, share.worked.sheets_name} & tried
            or any("decides" in line.marks for line in share.worked.card.plan)
        ]
        every = [share for (share,) in open_]
        return [out for out in [*open_, *([every] if len(every) > 1 else [])] if len(out) < len(batch.shares)]

    def _without(self, batch: Batch, out: Sequence[Share]) -> str:
        """What is weighed out for the others of a mix, and what it is thickened with."""
        thickened, amounts = weighed_out(self.library, [one for one in batch.shares if one not in out], batch.cups)
        cups = [
            tr(
                "{filler} {mass} into {neat}",
                filler=cup.filler,
                mass=self.shown("m_f", cup.values["m_f"]),
                neat=self.shown("m_i", cup.neat),
            )
            for cup in thickened
        ]
        return tr(
            "without {fittings} weigh this instead: resin {resin}, {r_volume}; hardener {hardener}, {h_volume}; "
            "{thickened}; kept unthickened {kept}",
            fittings=", ".join(share.name for share in out),
            resin=self.shown("m_r", amounts["m_r"]),
            r_volume=self.shown("v_r", amounts["v_r"]),
            hardener=self.shown("m_h", amounts["m_h"]),
            h_volume=self.shown("v_h", amounts["v_h"]),
            thickened="; ".join(cups),
            kept=self._kept(thickened, amounts),
        )

    def times_of(self, number: int) -> list[tuple[str, str]]:
        """The times of a mix, counted from 0: which, when."""
        return self.mixes[number].times

    def weighed(self, number: int) -> list[tuple[str, str, str]]:
        """What goes into a mix, counted from 0: what, its mass, its volume."""
        return self.mixes[number].amounts

    def _layer(self, batch: Batch, share: Share) -> str:
        """Which layer of a share a mix is, and what must be done to the layer below when it is no longer tacky."""
        layers, layer = share.worked.layers, batch.layers[share.name]
        if layers == 1:
            return ""
        said = tr("layer {layer} of {layers}", layer=layer, layers=layers)
        below = [one for one in self.plan.batches if one.layers.get(share.name) == layer - 1]
        if below and batch.start > below[0].end + share.worked.tacky:
            said += tr(", the last one no longer tacky by then: wash it with water, dry and sand it first")
        return said

    @property
    def in_layers(self) -> bool:
        """Whether something is filled in layers."""
        return any(len(batch.layers) and max(batch.layers.values()) > 1 for batch in self.plan.batches)

    @property
    def _wanted_at_most(self) -> Mapping[str, int]:
        """How many of each thing could be in use at once, were there enough of all; a team weighs one mix at a time."""
        wanted = Counter({SCALE: min(self.plan.mixes, self.sheet.conditions.teams)})
        for one in self.worked.fittings:
            lines = [Counter({hold.thing: n for hold, n in one.held_at(line)}) for line in one.card.plan]
            for thing in set[str]().union(*lines):
                wanted[thing] += one.fitting.pieces * max(line[thing] for line in lines)
        return wanted

    @property
    def ending(self) -> str:
        """Whether another order of the work could end it on an earlier day, or what holds it."""
        sizes, soonest = self.library.shop_sizes, self.plan.no_sooner
        assert sizes
        if self.plan.clock.end // DAY <= soonest // DAY:
            return tr("No order of the work ends on an earlier day: waits and cures alone take until then.")
        said = tr(
            "By waits and cures alone it would end on {day}; hands, tools or the few mixes hold it.",
            day=self.day(soonest),
        )
        there, held = stock_of(self.library, self.sheet.conditions), self.plan.clock.held
        # More of it is of no use than are wanted at once at the very most.
        most = self._wanted_at_most
        shared = [
            row.title
            for thing, row in sizes.shared.items()
            if held.get(thing, 0) >= there[thing] and most[thing] > there[thing]
        ]
        if shared:
            said += " " + tr(
                "All in use at times: {things}. With more of them it may end sooner.", things="; ".join(shared)
            )
        return said

    @property
    def days(self) -> list[tuple[str, list[ClockRow]]]:
        """What is done on each day, stretches of one part that touch joined."""
        return [
            (self.day(slots[0].start), [self._row(slot) for slot in slots])
            for slots in (list(group) for _, group in groupby(self.stretches, key=lambda slot: slot.start // DAY))
        ]

    @property
    def timeline(self) -> Markup:
        """The plan as a drawing."""
        days = sorted({slot.start // DAY for slot in self.plan.clock.slots})
        named = {day: day_in_short(self.moment(day * DAY)) for day in days}
        return timeline(self.plan, self.sheet.conditions.widest, named)

    @cached_property
    def stretches(self) -> list[Slot]:
        """The timetable with the stretches of one part that follow each other joined. Where a team joins or leaves, a
        new one begins, so that each says who is at it from its first minute to its last."""
        joined: list[Slot] = []
        latest: dict[tuple[str, int], int] = {}
        for slot in self.plan.clock.slots:
            place = latest.get((slot.lot, slot.part)) if slot.mix < 0 else None
            before = None if place is None else joined[place]
            if before and (before.end, before.goes_on, before.teams) == (slot.start, slot.goes_on, slot.teams):
                assert place is not None
                joined[place] = before._replace(end=slot.end)
                (first, _), (_, end) = self._which[before], self._which[slot]
                self._which[joined[place]] = first, end
            else:
                latest[slot.lot, slot.part] = len(joined)
                joined.append(slot)
        return joined

    @cached_property
    def _which(self) -> dict[Slot, tuple[int, int]]:
        """On which of several alike a stretch of work is: the first, and the one behind the last, counted from 0. What
        was broken off first is the first to go on."""
        begun: dict[tuple[str, int], list[int]] = {}
        found: dict[Slot, tuple[int, int]] = {}
        for slot in self.plan.clock.slots:
            share = self.plan.shares_of(slot)[0]
            if slot.mix >= 0 or slot.part < 0:
                found[slot] = 0, share.pieces
                continue
            line = line_of(share.worked, slot.part)
            number = slot.teams // self.sheet.conditions.teams_for(share.worked.staying(line + 1))
            # What has been done of each piece so far.
            done = begun.setdefault((slot.lot, slot.part), [])
            first = len(done)
            if slot.goes_on:
                first = next(piece for piece, time in enumerate(done) if time < share.worked.hands(line))
            else:
                done += [0] * number
            for piece in range(first, first + number):
                done[piece] += slot.end - slot.start
            found[slot] = first, first + number
        return found

    def _row(self, slot: Slot) -> ClockRow:
        what, who = self.said(slot)
        return ClockRow(self.hour(slot.start), self.hour(slot.end), what, who, self._teams(slot), slot.mix >= 0)

    def _teams(self, slot: Slot) -> str:
        """How many teams a stretch of work takes, or of a class which pairs."""
        if (first := self.plan.shares_of(slot)[0].worked.pair) is None:
            return str(slot.teams)
        return ", ".join(str((first + more) % self.sheet.conditions.teams + 1) for more in range(slot.teams))

    def said(self, slot: Slot) -> tuple[str, str]:
        """What is done in a stretch of work, who comes to help, and on which fitting."""
        what, who = self._said_alone(slot)
        return tr("Go on: {what}", what=lower_first(what)) if slot.goes_on else what, who

    def _helped(self, slot: Slot, what: str) -> str:
        """What is done in a stretch of work, and who comes for what takes more than the crew."""
        if self.plan.takes(slot) <= self.sheet.conditions.crew:
            return what
        return tr("{what}, with {helper}", what=what, helper=self.sheet.conditions.helper)

    def _said_alone(self, slot: Slot) -> tuple[str, str]:
        if slot.mix >= 0:
            names = "; ".join(share.name for share in self.plan.shares_of(slot))
            return self._mixing(slot), names
        (share,) = self.plan.shares_of(slot)
        if slot.part < 0:
            return tr(_WASH), share.name
        line = share.worked.card.plan[line_of(share.worked, slot.part)]
        said = self._helped(slot, share.worked.reckoning.reads(line.what))
        if "look" in line.marks:
            said += self._tops_up(share, slot)
        if line.by:
            first, last = self._window(share, slot.part)
            said = tr(
                "{what}, by the sample between {first} and {last}",
                what=said,
                first=self.hour(first),
                last=self.hour(last),
            )
            if self._nobody_at(share, slot.part):
                said = tr(
                    "{what}; at {first} the hours have no room for it, so somebody comes to look",
                    what=said,
                    first=self.hour(first),
                )
            day = slot.start // DAY
            if last > day * DAY + self.sheet.conditions.closes_on(day):
                said = tr("{what}, past the end of the working day: somebody stays, or comes back for it", what=said)
        if "decides" in line.marks:
            numbers = [number for number, batch in enumerate(self.plan.batches, 1) if share.name in batch.layers]
            one, many = (
                later("{what}; else leave it out of mix {mixes} and plan again: its later rows do not hold then"),
                later("{what}; else leave it out of mixes {mixes} and plan again: its later rows do not hold then"),
            )
            said = tr(one if len(numbers) == 1 else many, what=said, mixes=", ".join(map(str, numbers)))
        return said, share.some(*self._which[slot])

    def _mixing(self, slot: Slot) -> str:
        """What is done with a mix, by when, and what the rest of its time is for."""
        batch = self.plan.batches[slot.mix]
        last = batch.start + int(self.plan.lasts)
        one, many = (
            later("Mix {number}, wood and metal warm: mix, fill and set, all of it by {time}"),
            later("Mix {number}, wood and metal warm: mix, fill and set cup by cup, the first by {time}"),
        )
        what = tr(one if batch.cups == 1 else many, number=slot.mix + 1, time=self.hour(last))
        what = self._helped(slot, what)
        return tr("{what}; then wipe and clear up", what=what) if batch.end > last and batch.cups == 1 else what

    def _tops_up(self, share: Share, slot: Slot) -> str:
        """What a look tops up with, where what was kept in the tray may be too stiff before the look is over."""
        batch = self._last_mix(share)
        if not (open_ := self._open(batch)) or slot.end <= (until := batch.start + int(open_)):
            return ""
        return tr("; the tray is open until {time}: what is topped up later is mixed fresh", time=self.hour(until))

    def _window(self, share: Share, part: int) -> tuple[int, int]:
        """From when to when a part is done that its card times from the mix."""
        window = share.worked.window(line_of(share.worked, part))
        assert window
        start = self._last_mix(share).start
        return start + window[0], (start + window[1]) // 60 * 60

    def _last_mix(self, share: Share) -> Batch:
        return [batch for batch in self.plan.batches if share.name in batch.layers][-1]

    def _loosened(self, batch: Batch) -> list[tuple[Share, int]]:
        """What is turned loose by the sample of a mix: which share, and the part of its lot that does it."""
        shares = [share for share in batch.shares if batch.layers[share.name] == share.worked.layers]
        lines = [(share, place) for share in shares for place, line in enumerate(share.worked.card.plan) if line.by]
        return [(share, parts_until(share.worked, place + 1) - 1) for share, place in lines]

    def _nobody_at(self, share: Share, part: int) -> bool:
        """Whether nobody is at a mix when what is turned loose by its sample may first be."""
        timed = {(one.name, own) for one, own in self._loosened(self._last_mix(share))}
        begun = min(slot.start for slot in self.plan.clock.slots if (slot.lot, slot.part) in timed)
        return begun > self._window(share, part)[0]

    def _said_of(self, slot: Slot) -> tuple[str, str]:
        """What is done in a stretch of work, with the pairs of a class."""
        what, who = self.said(slot)
        return what, f"{self.teams_head} {self._teams(slot)}, {who}" if self.worked.lesson else who

    @property
    def _finished(self) -> list[tuple[int, Share]]:
        """When the last wait of each fitting's card is over. A trial is pulled, and what comes out is not loaded."""
        ready = ((time, name, self.plan.shares[name]) for name, time in self.plan.clock.ready.items())
        return [
            (time, share)
            for time, _, share in sorted(ready, key=lambda one: one[:2])
            if not (share.worked.tries or share.worked.on_the_job.leaves)
        ]

    @property
    def ready(self) -> list[Finished]:
        """From when each fitting may be loaded and with what, and when its nuts are turned once more."""
        return [
            Finished(share.name, self.at(time), self._bears(share.worked), self._again(time, share.worked))
            for time, share in self._finished
        ]

    def _bears(self, worked: Worked) -> str:
        """What a fitting may be loaded with, or who must say so first."""
        names = {worked.name, worked.sheets_name}
        known = [check for check in self.worked.loads if check.worked.name in names and check.carries]
        if known:
            return tr("{load} on the most loaded fastener", load=self.capacity(float(known[0].carries or 0)))
        return tr(_NOT_KNOWN)

    def _again(self, time: int, worked: Worked) -> str:
        """From which day on a caution has its nuts turned once more."""
        own = [self.cautions[key] for key in worked.card.all_cautions if key in self.cautions]
        waits = [one.again.value for one in own if one.again and worked.reckoning.holds(one.when)]
        return self.day(time + int(max(waits))) if waits else ""

    # Shopping and what stands behind the page

    @property
    def spare(self) -> str:
        """How much of the need may be left over."""
        assert self.library.shop_sizes
        return self.library.shop_sizes.spare.part

    @property
    def shopping(self) -> dict[str, list[Item]]:
        """The list by group."""
        groups: dict[str, list[Item]] = {}
        for item in self.worked.shopping:
            groups.setdefault(item.group, []).append(item)
        return groups

    @property
    def warnings(self) -> list[tuple[str, str]]:
        """What the working of the cards minds, each once with the fittings it is about."""
        told: dict[str, dict[str, None]] = {}
        found = [(one, one.reckoning.working.warnings) for one in self.all_fittings]
        for one, warnings in [*found, *((check.worked, check.warnings) for check in self.worked.loads)]:
            for warning in (warning for warning in warnings if not _of_another_load(one, warning)):
                told.setdefault(warning, {})[one.name] = None
        return [(", ".join(names), warning) for warning, names in told.items()]

    @property
    def sources(self) -> dict[str, Source]:
        """Every source that this page leans on, in the order of sources.yaml."""
        assert self.library.shop_sizes
        used = {step.source for one in self.worked.fittings for step in one.reckoning.working.trail}
        used |= {caution.source for caution in self.cautions.values()}
        used |= {source for _, source in self.library.shop_sizes.named_sources()} | {"own-judgement", "common-practice"}
        return {key: source for key, source in self.library.sources.items() if key in used}

    @property
    def files(self) -> dict[str, str]:
        """The tables for a spreadsheet, and the plan for a calendar, by file name."""
        return {
            "loads.csv": self._loads_csv(),
            "holes.csv": self._holes_csv(),
            "mixes.csv": self._mixes_csv(),
            "clock.csv": self._clock_csv(),
            "shopping.csv": csv_text(
                [tr("group"), tr("what"), tr("needed"), tr("buy"), tr("for")],
                [
                    [item.group, *map(plain, (item.what, item.need, item.buy)), "; ".join(item.users)]
                    for item in self.worked.shopping
                ],
            ),
            "plan.ics": self.calendar,
            **({"pairs.csv": self._pairs_csv()} if self.worked.lesson else {}),
        }

    def _loads_csv(self) -> str:
        rows = []
        for check in self.worked.loads:
            known = check.carries is not None
            carries = plain(self.capacity(check.carries)) if check.carries is not None else ""
            margin = self.margin(check) if known else self._no_number(check)
            rows.append(
                [
                    check.worked.name,
                    plain(self.load(check)),
                    carries,
                    margin,
                    str(check.worked.fitting.load and check.worked.fitting.load.said),
                ]
            )
        return csv_text([tr("fitting"), tr("must carry"), tr("carries"), tr("margin"), tr("load found by")], rows)

    @staticmethod
    def _no_number(check: LoadCheck) -> str:
        return check.reason if check.designers else tr("no number: {reason}", reason=check.reason)

    def _holes_csv(self) -> str:
        heads = [tr("start"), tr("drill"), tr("fitting"), tr("hole"), tr("depth"), tr("mark from the tip"), tr("holes")]
        rows = [
            [
                f"{self.moment(holes.at):%Y-%m-%d %H:%M}",
                plain(self.drill(run.drill)),
                holes.share.name,
                *map(plain, (self.hole(holes), self.depth(holes), self.mark(holes))),
                str(holes.count),
            ]
            for run in self.worked.holes.runs
            for holes in run.holes
        ]
        return csv_text(heads, rows)

    def _mixes_csv(self) -> str:
        rows = []
        for mix in self.mixes:
            who = "; ".join(f"{name}, {layer}" if layer else name for name, _, layer in mix.fittings)
            rows += [
                [str(mix.number), plain(mix.day), mix.times[0][1], who, *map(plain, amount)] for amount in mix.amounts
            ]
        return csv_text(
            [tr("mix"), tr("day"), tr("start"), tr("fittings"), tr("what"), tr("by weight"), tr("by volume")], rows
        )

    def _clock_csv(self) -> str:
        rows = []
        for slot in self.stretches:
            what, who = self.said(slot)
            rows.append(
                [
                    f"{self.moment(slot.start):%Y-%m-%d %H:%M}",
                    f"{self.moment(slot.end):%Y-%m-%d %H:%M}",
                    plain(what),
                    who,
                    self._teams(slot),
                ]
            )
        return csv_text([tr("start"), tr("end"), tr("what"), tr("fitting"), self.teams_head], rows)

    @property
    def teams_head(self) -> str:
        """The head of the column that says who works."""
        if self.worked.lesson is None:
            return tr("teams")
        return tr("pair") if self.sheet.conditions.team == 2 else tr("team")

    def _pairs_csv(self) -> str:
        rows = [
            [pair.name, day, row.start, row.end, plain(row.what), row.who, plain("; ".join(row.below))]
            for pair in self.pairs
            for day, own in pair.days
            for row in own
        ]
        return csv_text(
            [self.teams_head, tr("day"), tr("start"), tr("end"), tr("what"), tr("fitting"), tr("with")], rows
        )

    @property
    def text(self) -> str:
        """The plan as it is read in a terminal."""
        lines = [self.sheet.title, self.sheet.invented or "", ""]
        if self.held:
            lines += [tr("Held out of this plan"), *(f"  {one.name}: {why}" for one, why in self.held), ""]
        lines += [tr("Loads")] if self.worked.loads else []
        for check in self.worked.loads:
            carries = (
                tr("carries {load}, {margin}", load=self.capacity(check.carries), margin=self.margin(check))
                if check.carries
                else self._no_number(check)
            )
            must = tr("must carry {load}, {carries}", load=self.load(check), carries=carries)
            lines.append(f"  {check.worked.name}: {must}")
            lines += [f"    {line}." for line in self.own_tests(check.worked)]
            lines += [f"    {self._change(check.worked, remedy)}" for remedy in check.remedies]
        fewest = tr("no plan has fewer than {at_least}", at_least=self.plan.at_least)
        fewest = tr("every team mixes its own") if self.worked.lesson else fewest
        said = tr("Mixes: {mixes}; {fewest}", mixes=self.plan.mixes, fewest=fewest)
        if self.plan.cups > self.plan.mixes:
            cups = self.plan.cups
            said = tr("Mixes: {mixes}, in {cups} cups; {fewest}", mixes=self.plan.mixes, cups=cups, fewest=fewest)
        lines += ["", said] if self.worked.loads else [said]
        for mix in self.mixes:
            lines.append(
                f"  {mix.number}. {mix.day}, {mix.times[0][1]}: {'; '.join(name for name, *_ in mix.fittings)}"
            )
            lines += [f"     {f'{mass} ' if mass else ''}{what}" for what, mass, _ in mix.amounts]
        lines += ["", tr("The clock")]
        for day, rows in self.days:
            lines += [f"  {day}", *(f"    {_span(row.start, row.end)}  {row.who}: {row.what}" for row in rows)]
        lines += ["", self.ending]
        for pair in self.pairs:
            named = f"{pair.name[:1].upper()}{pair.name[1:]}"
            lines += ["", tr("{pair} makes {makes}", pair=named, makes="; ".join(pair.makes))]
            for day, own in pair.days:
                lines += [f"  {day}", *(f"    {_span(row.start, row.end)}  {row.said}" for row in own)]
        lines += ["", tr("To buy"), *(f"  {item.buy}  {item.what}" for item in self.worked.shopping)]
        return plain("\n".join(lines))

    @property
    def calendar(self) -> str:
        """The plan as a calendar. Its stamps come from the sheet, never from the clock, so that it is the same each
        time."""
        calendar = Calendar()
        calendar.add("prodid", "-//Bondwright//job sheet//EN")
        calendar.add("version", "2.0")
        stamp = self.moment(self.sheet.conditions.begins).replace(tzinfo=UTC)
        entries = [(slot.start, slot.end, *self._said_of(slot)) for slot in self.stretches]
        entries += [
            (
                time,
                time,
                tr(
                    "Finished; loaded no earlier than now, and only if the sample is hard: {load}",
                    load=self._bears(share.worked),
                ),
                share.name,
            )
            for time, share in self._finished
        ]
        for number, (start, end, what, who) in enumerate(sorted(entries)):
            event = Event()
            mark = hashlib.sha256(f"{self.name}/{number}/{what}/{who}".encode()).hexdigest()[:24]
            event.add("uid", f"{mark}@bondwright")
            event.add("dtstamp", stamp)
            event.add("dtstart", self.moment(start))
            event.add("dtend", self.moment(end))
            event.add("summary", plain(f"{who}: {what}"))
            calendar.add_component(event)
        return str(calendar.to_ical(), "utf-8")


def _of_another_load(worked: Worked, warning: Warned) -> bool:
    """Whether a warning is about a load that acts otherwise than the fitting's own."""
    load, ways = worked.fitting.load, worked.on_the_job.carries
    about = {act for act, symbols in ways.items() if {*symbols} & {*warning.symbols}}
    return bool(about) and (load is None or load.acts not in about)


def _span(start: str, end: str) -> str:
    """From when to when."""
    return tr("{start} to {end}", start=start, end=end)


def job_list(sheets: Mapping[str, JobSheet], spoilt: Iterable[str]) -> Sequence[tuple[str, str, str]]:
    """Every job sheet: its name, title and purpose."""
    found = [(name, sheet.title, sheet.purpose) for name, sheet in sheets.items()]
    return found + [(name, name, tr("Not planned: something is wrong in it.")) for name in spoilt]
