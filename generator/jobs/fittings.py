"""Each fitting of a job sheet worked by its card, and everything that is wrong in the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from math import ceil

from ..errors import Fault, Faults, WorkingError
from ..evidence import BY_TESTS, own_evidence, trusted, weakened
from ..formula import FORMULARY
from ..language import later, tr
from ..model.jobsheet import After, Bearer, Conditions, Fitting, JobSheet, Load
from ..model.library import Library
from ..model.schema import Act, Bore, Buy, Card, Holding, OnTheJob, PlanLine
from ..model.yaml_text import Document, Path_
from ..reckoning import InputError, Reckoning, UnknownInput, read_input, reckon
from ..schedule.timetable import DAY
from ..units import QuantityError, clip, read_number, read_quantity, to_base
from ..working import Warned

# The key of the sheet's conditions behind each input of a card that it sets.
CONDITIONS = {
    "T_a": "temperature",
    "hardener": "hardener",
    "ratio": "ratio",
    "resin": "resin",
    "V_s": "syringe",
    "shop": "shop",
    "N": "count",
    "t_x": "prepare",
}


# Until a compound is rubber right through.
RUBBER = "t_rb"


# What bores a plate bores no wood: metal and glass blunt it.
PLATE_DRILL = later("twist drill for plates, of cobalt steel where they are stainless")


@dataclass(frozen=True)
class Drill:
    """A drill of a size (m), of a kind that the shop names."""

    kind: str
    size: float


@dataclass
class Worked:
    """A fitting with its card worked for one of it. `before` names the fittings it waits for and how many lines of
    them. In a class it is made by one `pair`, counted from 0, and where several make it, `sheets_name` is its name
    without the pair's. `tries` names the fittings that a trial joint stands for, and `puller` is the card by which it
    is pulled, worked for it, where that is another; `untried` says why a fitting has no trial. `bearer` is the fitting
    worked by the card that says what it carries, where that is not its own. In the cold a compound takes `slower` times
    as long until it is rubber."""

    fitting: Fitting
    card: Card
    reckoning: Reckoning
    inputs: dict[str, str]
    before: list[tuple[str, int]] = field(default_factory=list)
    tries: list[Worked] = field(default_factory=list)
    untried: str = ""
    puller: Worked | None = None
    bearer: Worked | None = None
    pair: int | None = None
    sheets_name: str = ""
    slower: float = 1.0

    @property
    def name(self) -> str:
        """The fitting's name."""
        return self.fitting.name

    @property
    def on_the_job(self) -> OnTheJob:
        """What the card says for a job sheet."""
        assert self.card.job
        return self.card.job

    @property
    def mix_line(self) -> int | None:
        """Which line of the plan mixes, counted from 1."""
        return self.card.mix_line

    @property
    def mixing(self) -> int:
        """The line that mixes, of one that has such a line."""
        assert self.mix_line
        return self.mix_line

    @property
    def bores(self) -> list[Bore]:
        """The holes that are bored; one of no depth is none."""
        depths = [(bore, bore.depth or bore.mark) for bore in self.on_the_job.bores]
        return [bore for bore, depth in depths if not depth or self.value(depth)]

    def bored_by(self, bore: Bore) -> int:
        """Which line of the plan bores a hole, counted from 1."""
        return self.card.lines[bore.line] if bore.line else 1

    def people(self, line: int) -> int:
        """How many a line of the plan takes, counted from 1."""
        own = self.card.plan[line - 1].people
        return self.each(own) if isinstance(own, str) else own

    def staying(self, line: int) -> int:
        """How many are busy with a line of the plan, counted from 1: who does lines that follow each other without a
        break stays for all of them."""
        unbroken = ["unbroken" in one.marks for one in self.card.plan]
        first = last = line - 1
        while unbroken[first]:
            first -= 1
        while last + 1 < len(unbroken) and unbroken[last + 1]:
            last += 1
        return max(self.people(number + 1) for number in range(first, last + 1))

    def hands(self, place: int) -> int:
        """How long a line of the plan keeps hands busy with one of them (s); counted from 0."""
        line = self.card.plan[place]
        watched = wait_time(self, line.wait) if "attended" in line.marks else 0.0
        return ceil(((line.active.value if line.active else 0.0) + watched) * self.alike)

    def window(self, place: int) -> tuple[int, int] | None:
        """From when to when from the start of its mix, as epoxy ages, a line of the plan is done that has a latest end,
        counted from 0 (s). It opens with the line's own wait, where that comes first, or that of the line before."""
        line = self.card.plan[place]
        if line.by is None:
            return None
        waits = line if "wait_first" in line.marks else self.card.plan[place - 1]
        return ceil(wait_time(self, waits.wait)), int(self.time(line.by))

    def opens(self, place: int) -> bool:
        """Whether the wait of a line of the plan, counted from 0, is until such a line may be done."""
        line, after = self.card.plan[place], self.card.plan[place + 1 : place + 2]
        if "wait_first" in line.marks:
            return line.by is not None
        return any(one.by is not None and "wait_first" not in one.marks for one in after)

    def drill(self, bore: Bore) -> Drill:
        """The drill that bores a hole."""
        kind = self.reckoning.titles[bore.kind] if bore.kind else tr("twist drill")
        return Drill(tr(PLATE_DRILL) if bore.plate else kind, round(self.value(bore.size), 9))

    def held_at(self, line: PlanLine) -> list[tuple[Holding, int]]:
        """The counted things that a line of the plan takes for one fitting, and how many of them."""
        lender = self.puller if self.puller and line.id in self.puller.on_the_job.lends else self
        held = [(one, one.of * lender.each(one.count)) for one in line.hold]
        return [(one, number) for one, number in held if number]

    def value(self, symbol: str) -> float:
        """A symbol's value in SI units."""
        return self.reckoning.working.values[symbol]

    def time(self, symbol: str) -> float:
        """A time (s) as the card says it, rounded for the shop, so that the sheet agrees with the card to the hour."""
        working, system = self.reckoning.working, self.reckoning.system
        shown = working.shown(symbol, system)
        return to_base(float(shown.rounded(self.reckoning.amount(symbol))), shown.unit, "s")

    def each(self, symbol: str | None) -> int:
        """How many a fitting has of what the symbol counts; 1 without a symbol."""
        return round(self.value(symbol)) if symbol else 1

    @property
    def alike(self) -> int:
        """How many the card is worked for at once: of a trial joint all of a series, else one."""
        return self.each("N") if "N" in self.card.givens else 1

    @property
    def holes(self) -> int:
        """The holes of one fitting: the card's count, or that of the sheet where the card has none."""
        own = self.each("n_h") if "n_h" in self.card.givens else (self.fitting.holes or 1)
        return own * self.each("N") if "N" in self.card.givens else own

    @property
    def layers(self) -> int:
        """In how many layers it is filled, each with a mix of its own."""
        return self.each(self.card.mix.layers if self.card.mix else None)

    def lower(self, layer: int) -> dict[str, float]:
        """What a layer takes in place of what the last one takes, by symbol (SI); counted from 1."""
        own = self.card.mix.lower if self.card.mix and layer < self.layers else {}
        return {symbol: self.value(instead) for symbol, instead in own.items()}

    @property
    def between(self) -> float:
        """How long a layer cures before the next goes on (s)."""
        return self.time("t_c")

    @property
    def tacky(self) -> float:
        """Until when the next layer goes on a layer as it is (s); later it is washed and sanded first."""
        return self.time("t_d")


def work_fittings(library: Library, name: str) -> list[Worked]:
    """Work every fitting of a sheet. Raises Faults with everything that is wrong in it."""
    sheet, document = library.job_sheets[name], library.documents[f"jobs/{name}.yaml"]
    reader = _Reader(library, sheet, document)
    unread = [*reader.condition_faults()]
    faults = [*unread, *reader.name_faults()]
    worked = []
    for place, fitting in enumerate(sheet.fittings):
        own = [*reader.fitting_faults(place, fitting)]
        faults += own
        if not own and not unread:
            try:
                worked.append(reader.work(place, fitting))
            except Faults as error:
                faults += error.faults
    faults += reader.refused_faults()
    faults = faults or [*reader.circle_faults()]
    if faults:
        raise Faults(faults)
    for one in worked:
        one.before = [reader.stage_of(entry) for entry in one.fitting.after]
    if faults := [*reader.hole_faults(worked)]:
        raise Faults(faults)
    return worked


def inputs_of(conditions: Conditions, card: Card, fitting: Fitting, load: float | None = None) -> dict[str, str]:
    """What a card is worked with for one such fitting: the sheet's conditions, the fitting's own inputs, and its load
    (N) where that was worked out."""
    common = {key: text for key, text in conditions.inputs.items() if key in card.givens}
    own = dict(fitting.given)
    if fitting.fill and card.mix and card.mix.fill:
        own[card.mix.fill] = fitting.fill
    if "F_n" in card.givens and "F_n" not in own and fitting.load:
        if fitting.load.stated:
            own["F_n"] = fitting.load.stated
        elif load is not None:
            own["F_n"] = f"{ceil(load - 1e-6)} N"
    single = "N" in card.givens and not (card.mix and card.mix.each == "N")
    return {"shop": conditions.shop, **common, **({"N": "1"} if single else {}), **own}


def wait_time(worked: Worked, wait: str | None) -> float:
    """A wait in seconds: a worked time, or one that is written down."""
    if wait is None:
        return 0.0
    if wait not in FORMULARY.symbols:
        return read_quantity(wait, "s")
    if not worked.reckoning.has(wait):
        return 0.0  # what never cures is not waited for
    # Nobody knows it to the hour.
    return ceil(worked.time(wait) * worked.slower / DAY - 1e-9) * DAY if wait == RUBBER else worked.time(wait)


def load_of(library: Library, sheet: JobSheet, load: Load) -> float:
    """The load that a fitting must carry (N). Raises QuantityError or InputError, and WorkingError without a number."""
    if load.stated is not None:
        return load.stated.value
    if load.of is not None:
        other = next(one.load for one in sheet.fittings if one.name == load.of.fitting)
        assert other
        return float(read_number(load.of.times)[0]) * load_of(library, sheet, other)
    table = library.reference[str(load.table)]
    reckoning = reckon(library, table, {"shop": sheet.conditions.shop, **load.given}, extra=[str(load.take)])
    return reckoning.working.values[str(load.take)]


def bearing(library: Library, conditions: Conditions, worked: Worked, load: float) -> Worked:
    """The fitting worked by the card that says what it carries, its own where the sheet names no other: the same holes
    and bolts, bored and bought once. Raises InputError."""
    by = worked.fitting.load.by if worked.fitting.load else None
    if by is None:
        return worked
    card = library.cards[by.card]
    fitting = worked.fitting.model_copy(update={"card": by.card, "given": by.given, "fill": None})
    inputs = inputs_of(conditions, card, fitting, load)
    return Worked(fitting, card, reckon(library, card, inputs), inputs)


def carried(
    library: Library, card: Card, inputs: dict[str, str], acts: Act, angle: str | None
) -> tuple[str, float, list[Warned]] | str:
    """The working load that decides, by symbol and value (N), with the warnings of its working, or why it has no
    number. Where the shop has pulled joints like it, its own number counts as it should. Raises InputError."""
    assert card.job
    symbols = card.job.carries[acts]
    given = {**inputs, "theta_p": angle} if angle else inputs
    reckoning = reckon(library, card, given, extra=symbols)
    working = reckoning.working
    found, own = {}, own_evidence(library, card, given, reckoning)
    if angle and (weaker := weakened(own, reckoning)):  # its pull along the axis is one that tests may lower
        reckoning = reckon(library, card, {**given, **weaker}, extra=symbols)
        working = reckoning.working
    for symbol in symbols:
        load, whose = trusted(own, symbol, working.values[symbol] if reckoning.has(symbol) else None)
        if load is not None:
            found[BY_TESTS[symbol] if whose else symbol] = load
    if len(found) < len(symbols) and (reasons := working.reasons(symbols)):
        return "; ".join(reasons)
    symbol = min(found, key=found.__getitem__)
    return symbol, found[symbol], working.warnings


# What a card that mixes is planned by.
_MIXED = ("m_n", "m_t", "m_f", "v_f", "n_s", "t_w", "t_h", "t_f")


def planned_by(card: Card) -> set[str]:
    """The symbols that a sheet cannot plan a card without: its holes, mixes, waits and what is bought for it."""
    assert card.job
    on = card.job
    named = [*_MIXED] if card.mix else []
    named += [symbol for bore in on.bores for _, symbol in bore.symbols]
    named += [symbol for buy in on.buy for _, symbol in buy.symbols]
    named += [value.name for buy in on.buy for value in buy.what.values]
    for line in card.plan:
        named += [symbol for symbol in (line.each, line.layers, line.by, line.wait, line.counted) if symbol]
        named += [one.count for one in line.hold if one.count]
    return {*named}


def lent_by(card: Card) -> set[str]:
    """The symbols without which no joint of another card can be pulled by this one."""
    assert card.job
    on, lines = card.job, [card.plan[card.lines[line] - 1] for line in card.job.lends]
    named = [
        value.name
        for text in (*(line.what for line in lines), *(buy.what for buy in _lent(on)))
        for value in text.values
    ]
    named += [symbol for buy in _lent(on) for _, symbol in buy.symbols]
    return {*named, *(symbol for line in lines for symbol in (line.wait, line.counted) if symbol)}


def _lent(on: OnTheJob) -> list[Buy]:
    return [buy for buy in on.buy if buy.lent]


def no_line(line: str, card: Card) -> str:
    """What to say of an id that no line of the card's plan has."""
    return f"'{clip(line)}' is no line of the plan of '{card.title}'; lines: {', '.join(card.lines)}"


@dataclass
class _Reader:
    library: Library
    sheet: JobSheet
    document: Document
    # Cards worked before with the same inputs: a boat has many fittings alike.
    known: dict[tuple[tuple[str, str], ...], Reckoning] = field(default_factory=dict)
    # What no card can be worked for, by its place and reason, with the cards.
    refused: dict[tuple[Path_, str], set[str]] = field(default_factory=dict)

    def _done(self, name: str, inputs: dict[str, str]) -> Reckoning:
        key = (("card", name), *sorted(inputs.items()))
        if key not in self.known:
            card = self.library.cards[name]
            self.known[key] = reckon(self.library, card, inputs)
        return self.known[key]

    def condition_faults(self) -> Iterator[Fault]:
        """Conditions that cannot be read, though no card of this sheet may ask for them."""
        given = self.sheet.conditions
        for key, name, text in [(CONDITIONS[name], name, text) for name, text in given.inputs.items()]:
            try:
                read_input(self.library, name, text)
            except QuantityError as error:
                yield self.document.fault(("conditions", key), str(error))
        assert self.library.shop_sizes
        shared = self.library.shop_sizes.shared
        for thing in given.stock:
            if thing not in shared:
                close = get_close_matches(thing, shared, n=1) or list(shared)
                message = f"nothing called '{clip(thing)}' is shared in data/shop_sizes.yaml; give {', '.join(close)}"
                yield self.document.fault(("conditions", "stock", thing), message, at_key=True)

    def name_faults(self) -> Iterator[Fault]:
        seen: dict[str, int] = {}
        for place, fitting in enumerate(self.sheet.fittings):
            if fitting.name.lower() in seen:
                first = seen[fitting.name.lower()] + 1
                message = (
                    f"'{clip(fitting.name)}' is already fitting {first} of this sheet; give each a name of its own"
                )
                yield self.document.fault(("fittings", place, "name"), message)
            seen.setdefault(fitting.name.lower(), place)

    def fitting_faults(self, place: int, fitting: Fitting) -> Iterator[Fault]:
        path: Path_ = ("fittings", place)
        usable = [name for name, card in self.library.cards.items() if card.job is not None]
        if fitting.card not in usable:
            known = fitting.card in self.library.cards
            close = get_close_matches(fitting.card, usable, n=3) or usable
            wrong = (
                f"the card '{fitting.card}' has no 'job', so it stands in no sheet"
                if known
                else f"no card '{fitting.card}'"
            )
            yield self.document.fault((*path, "card"), f"{wrong}; cards: {', '.join(close)}")
            return
        card = self.library.cards[fitting.card]
        if fitting.holes is not None and "n_h" in card.givens:
            message = "this card counts its holes itself; give n_h among the inputs instead"
            yield self.document.fault((*path, "holes"), message, at_key=True)
        yield from self._input_faults(path, fitting, card)
        yield from self._after_faults(path, fitting)
        yield from self._wait_faults(path, fitting, card)
        yield from self._hand_faults(path, fitting, card)
        yield from self._designer_faults(path, fitting, card)
        yield from self._thread_faults(path, fitting)
        if fitting.load:
            yield from self._load_faults((*path, "load"), fitting.load, card)

    def _input_faults(self, path: Path_, fitting: Fitting, card: Card) -> Iterator[Fault]:
        working = self._done(fitting.card, {"shop": self.sheet.conditions.shop}).working
        default = {*working.values, *working.refused}
        for key in fitting.given:
            here = (*path, "given", key)
            if key in CONDITIONS:
                where = "the fitting's 'count'" if key == "N" else f"'{CONDITIONS[key]}' among the conditions"
                yield self.document.fault(here, f"'{key}' is the same for the whole sheet; give {where}", at_key=True)
            elif key not in card.givens and key not in default:
                own = [name for name in card.givens if name not in CONDITIONS]
                close = get_close_matches(key, own, n=1)
                hint = f"did you mean '{close[0]}'?" if close else f"inputs: {', '.join(own)}"
                yield self.document.fault(
                    here, f"the card '{fitting.card}' has no input '{clip(key)}'; {hint}", at_key=True
                )

    def _after_faults(self, path: Path_, fitting: Fitting) -> Iterator[Fault]:
        names = {one.name: one for one in self.sheet.fittings}
        for number, entry in enumerate(fitting.after):
            here = (*path, "after", number)
            name = entry if isinstance(entry, str) else entry.fitting
            if name == fitting.name:
                yield self.document.fault(here, "a fitting cannot come after itself; leave it out")
            elif name not in names:
                close = get_close_matches(name, names, n=3) or list(names)[:5]
                yield self.document.fault(here, f"no fitting '{clip(name)}' in this sheet; near it: {', '.join(close)}")
            elif isinstance(entry, After):
                card = self.library.cards.get(names[name].card)
                if card and entry.line not in card.lines:
                    yield self.document.fault((*here, "line"), no_line(entry.line, card))

    def _wait_faults(self, path: Path_, fitting: Fitting, card: Card) -> Iterator[Fault]:
        for line in fitting.waits:
            here = (*path, "waits", line)
            if line not in card.lines:
                yield self.document.fault(here, no_line(line, card), at_key=True)
            elif own := card.plan[card.lines[line] - 1].wait:
                message = f"'{line}' has a wait of its own on the card, {own}; leave this out"
                yield self.document.fault(here, message, at_key=True)

    def _hand_faults(self, path: Path_, fitting: Fitting, card: Card) -> Iterator[Fault]:
        """What the card leaves to the sheet and the sheet leaves out, or the other way round."""
        for line in card.plan:
            if "left_open" in line.marks and line.id not in fitting.waits:
                what = self._read(fitting.card, line)
                message = f"the card leaves open how long '{what}' takes; give for example waits: {{{line.id}: 7 d}}"
                yield self.document.fault(path, message)
        if fitting.fill is not None and not card.mix:
            yield self.document.fault((*path, "fill"), "this card mixes nothing; leave this out", at_key=True)

    def _crew_faults(self, worked: Worked) -> Iterator[Fault]:
        """A line of its plan that takes more people than there are, and how many would do."""
        conditions, lines = self.sheet.conditions, worked.card.plan
        hardest = max(range(1, len(lines) + 1), key=worked.people)
        wanted = worked.people(hardest)
        if wanted <= conditions.hands:
            return
        help_ = f"give a crew of {wanted - 1} beside the helper"
        if conditions.helper is None:
            crew = "" if wanted == conditions.crew + 1 else f"with a crew of {wanted - 1} "
            help_ = f"give a crew of {wanted}, or {crew}say who comes for such lines: 'helper: a neighbour'"
        what = worked.reckoning.reads(lines[hardest - 1].what)
        message = f"{worked.fitting.card} takes {wanted} people at '{what}'; {help_}"
        yield self.document.fault(("conditions", "crew"), message)

    def _read(self, card: str, line: PlanLine) -> str:
        """A line of a card's plan in words, as the card comes set."""
        return self._done(card, {"shop": self.sheet.conditions.shop}).reads(line.what)

    def _designer_faults(self, path: Path_, fitting: Fitting, card: Card) -> Iterator[Fault]:
        """A name that says what no card is for, and a sheet that does not. What only comes out carries nothing."""
        known = self.library.designers
        if fitting.designer is not None and fitting.designer not in known:
            message = f"no entry '{clip(fitting.designer)}' in designers.yaml; entries: {', '.join(known)}"
            yield self.document.fault((*path, "designer"), message)
        comes_out = card.job and card.job.leaves
        if fitting.designer is None and fitting.no_designer is None and not comes_out:
            for key, decided in known.items():
                if word := decided.names(fitting.name):
                    message = (
                        f"'{word}' is what a designer decides ({decided.who}); write 'designer: {key}', or "
                        f"'no_designer' with the reason why nobody need decide"
                    )
                    yield self.document.fault((*path, "name"), message)
                    return

    def _by_faults(self, path: Path_, by: Bearer, card: Card) -> Iterator[Fault]:
        """A card that carries another's load, which must be one that gives loads of what is not tried first."""
        assert card.job
        bearing = {
            name: one for name, one in self.library.cards.items() if one.job and one.job.carries and not one.job.trial
        }
        if card.job.carries:
            message = "the fitting's own card says what it carries; leave this out"
            yield self.document.fault(path, message, at_key=True)
        elif by.card not in bearing:
            message = (
                f"the card '{clip(by.card)}' gives no load of what is not tried first; cards: {', '.join(bearing)}"
            )
            yield self.document.fault((*path, "card"), message)
        else:
            try:
                self._done(
                    by.card, inputs_of(self.sheet.conditions, bearing[by.card], Fitting.model_construct(given=by.given))
                )
            except InputError as error:
                unknown = isinstance(error, UnknownInput)
                yield self.document.fault((*path, "given", error.name), str(error), at_key=unknown)

    def _load_faults(self, path: Path_, load: Load, card: Card) -> Iterator[Fault]:
        if load.by is not None:
            if faults := [*self._by_faults((*path, "by"), load.by, card)]:
                yield from faults
                return
            card = self.library.cards[load.by.card]
        assert card.job
        if card.job.carries and load.acts not in card.job.carries:
            ways = ", ".join(card.job.carries)
            yield self.document.fault((*path, "acts"), f"this card gives no load for '{load.acts}'; it gives: {ways}")
        if load.of is not None:
            yield from self._implied_faults((*path, "of"), load)
        if load.table is None:
            return
        if load.table not in self.library.reference:
            close = get_close_matches(str(load.table), self.library.reference, n=3) or list(self.library.reference)[:5]
            yield self.document.fault((*path, "table"), f"no table '{load.table}'; near it: {', '.join(close)}")
            return
        try:
            load_of(self.library, self.sheet, load)
        except InputError as error:
            yield self.document.fault((*path, "given", error.name), str(error), at_key=isinstance(error, UnknownInput))
        except WorkingError as error:
            yield self.document.fault((*path, "given"), str(error))

    def _implied_faults(self, path: Path_, load: Load) -> Iterator[Fault]:
        """A load taken from a fitting that has none, or that comes back to itself."""
        loads = {one.name: one.load for one in self.sheet.fittings}
        way: list[Load] = []
        at: Load | None = load
        while at is not None and at.of is not None:
            name = at.of.fitting
            if at in way:
                yield self.document.fault(path, "this load is worked from itself; state one of them")
                return
            way.append(at)
            at = loads.get(name)
            if at is None:
                having = [one.name for one in self.sheet.fittings if one.load]
                close = get_close_matches(name, having, n=3) or having[:5]
                message = f"no fitting '{clip(name)}' with a load in this sheet; near it: {', '.join(close)}"
                yield self.document.fault((*path, "fitting"), message)

    def _thread_faults(self, path: Path_, fitting: Fitting) -> Iterator[Fault]:
        for place, text in enumerate(fitting.threads):
            try:
                self.library.thread(text)
            except QuantityError as error:
                yield self.document.fault((*path, "threads", place), str(error))

    def work(self, place: int, fitting: Fitting) -> Worked:
        """Work the card. Raises Faults with the place of the input that is wrong."""
        card = self.library.cards[fitting.card]
        try:
            load = load_of(self.library, self.sheet, fitting.load) if fitting.load and "F_n" in card.givens else None
        except (InputError, WorkingError):  # told at the fitting that this one takes its load from
            raise Faults(()) from None
        inputs = inputs_of(self.sheet.conditions, card, fitting, load)
        try:
            reckoning = self._done(fitting.card, inputs)
        except InputError as error:
            raise Faults([self.document.fault(self._path_of(place, fitting, [error.name]), str(error))]) from None
        refused = planned_by(card) & reckoning.working.refused.keys()
        for symbol in refused:
            why = reckoning.working.refused[symbol]
            stocks = [name for name, choice in self.library.choices.items() if choice.stock in why.symbols]
            path = self._path_of(place, fitting, [*why.symbols, *stocks])
            self.refused.setdefault((path, str(why)), set()).add(fitting.card)
        if refused:
            raise Faults(())  # told with the other cards that are refused for the same
        assert self.library.shop_sizes
        slower = self.library.shop_sizes.rubber.times(self.sheet.conditions.temperature)
        worked = Worked(fitting, card, reckoning, inputs, slower=slower)
        if faults := [*self._crew_faults(worked)]:
            raise Faults(faults)
        return worked

    def refused_faults(self) -> Iterator[Fault]:
        """Why cards cannot be worked, each reason once with all the cards that it holds for."""
        for (path, why), cards in self.refused.items():
            yield self.document.fault(path, f"{', '.join(sorted(cards))}: {why}")

    def hole_faults(self, worked: Sequence[Worked]) -> Iterator[Fault]:
        """Holes that one begins with, narrower than what comes out before it leaves them, or with the metal in."""
        by_name = {one.name: one for one in worked}
        for place, one in enumerate(worked):
            if (mends := one.on_the_job.mends) is None:
                continue
            removals = [(number, by_name[name], lines) for number, (name, lines) in enumerate(one.before)]
            removals = [removal for removal in removals if removal[1].on_the_job.leaves]
            for number, other, lines in removals:
                leaves = str(other.on_the_job.leaves)
                if one.value(mends) < other.value(leaves) - 1e-9:
                    wide = other.reckoning.shop(leaves)
                    message = f"what is left of '{other.name}' is a hole of {wide}; give {mends} no less than that"
                    yield self.document.fault(self._path_of(place, one.fitting, [mends]), message)
                if lines < len(other.card.plan):
                    message = f"the hole of '{other.name}' is ready when all its plan is over; leave 'line' out"
                    yield self.document.fault(("fittings", place, "after", number, "line"), message)
            if not removals and one.fitting.metal_out is None:
                yield from self._metal_faults(place, worked)

    def _metal_faults(self, place: int, worked: Sequence[Worked]) -> Iterator[Fault]:
        """A hole that is mended, maybe with the metal still in that this sheet takes out and nothing comes after."""
        followed = {name for one in worked for name, _ in one.before}
        if out := [one.name for one in worked if one.on_the_job.leaves and one.name not in followed]:
            message = (
                f"nothing here comes after '{out[0]}', whose metal may be in this very hole; if it is, write "
                f"'after: [{out[0]}]', else 'metal_out' with how the metal came out of this one"
            )
            yield self.document.fault(("fittings", place), message)

    def _path_of(self, place: int, fitting: Fitting, names: list[str]) -> Path_:
        for name in names:
            if name in fitting.given:
                return ("fittings", place, "given", name)
            if name == "F_n" and fitting.load:
                return ("fittings", place, "load", "stated")
            if fitting.fill and name in self._fill_of(fitting):
                return ("fittings", place, "fill")
            if name == "t_w":
                return ("conditions", "hardener")
            if name in CONDITIONS and name != "N":
                return ("conditions", CONDITIONS[name])
        return ("fittings", place, "given" if fitting.given else "card")

    def _fill_of(self, fitting: Fitting) -> list[str | None]:
        """The input of the fitting's card that its own time to fill goes into."""
        card = self.library.cards[fitting.card]
        return [card.mix.fill] if card.mix else []

    def stage_of(self, entry: str | After) -> tuple[str, int]:
        """The fitting waited for, and how many lines of its plan."""
        name = entry if isinstance(entry, str) else entry.fitting
        card = self.library.cards[next(one.card for one in self.sheet.fittings if one.name == name)]
        return name, len(card.plan) if isinstance(entry, str) else card.lines[entry.line]

    def circle_faults(self) -> Iterator[Fault]:
        """Fittings that wait for each other, each circle once, at its first fitting."""
        before = {one.name: [self.stage_of(entry)[0] for entry in one.after] for one in self.sheet.fittings}
        over: set[str] = set()
        for place, fitting in enumerate(self.sheet.fittings):
            way = _circle(fitting.name, before, over)
            if way:
                over.update(way)
                message = f"these wait for each other: {' after '.join(way)}; leave one of them out"
                yield self.document.fault(("fittings", place, "after"), message)


def _circle(start: str, before: dict[str, list[str]], over: set[str]) -> list[str]:
    """A way from `start` back to itself, or nothing."""
    waiting = [[start]]
    seen = set(over)
    while waiting:
        way = waiting.pop()
        for name in before[way[-1]]:
            if name == start:
                return [*way, name]
            if name not in seen:
                seen.add(name)
                waiting.append([*way, name])
    return []
