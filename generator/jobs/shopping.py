"""What to buy for a job: worked amounts with their waste, rounded up to what shops sell."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, gcd

from ..formula import FORMULARY
from ..language import later, pointed, tr
from ..model.jobsheet import Conditions, Consumable, ShopSize
from ..model.library import Library
from ..model.prose import Prose
from ..model.schema import Buy
from ..units import LENGTH_UNIT, System, from_base, read_number, to_base, with_unit
from .fittings import Drill, Worked
from .holes import HoleSchedule
from .plan import JobPlan, bit

# Lengths that differ by less than this are the same (m).
_SAME = 1e-6


@dataclass(frozen=True)
class Item:
    """One line of the list: what, how much the job takes, the packs to buy, largest first (packs, size of one), and the
    fittings that it is for."""

    group: str
    what: str
    need: str
    packs: Sequence[tuple[int, str]]
    source: str
    users: Sequence[str] = ()

    @property
    def buy(self) -> str:
        """The packs in words, what is sold singly last."""
        packs = " + ".join(f"{count} × {size}".replace(" ", "\N{NO-BREAK SPACE}") for count, size in self.packs if size)
        single = sum(count for count, size in self.packs if not size)
        if not packs or not single:
            return packs or f"{single}"
        return tr("{packs} and {count} single", packs=packs, count=single)


def few_packs(need: int, sizes: Sequence[int], spare: float = 0.0) -> list[tuple[int, int]]:
    """As few packs as hold `need` with no more than the part `spare` of it left over, or the least left over where that
    cannot be: (how many, size), largest first. What is sold singly is bought to the number."""
    step = gcd(*sizes)
    units, steps = [size // step for size in sizes], max(1, -(-need // step))
    most = int(need * (1 + spare)) // step if min(sizes) > 1 else steps
    end = max(steps + max(units), most)
    # Far above the largest pack only that one is worth buying, so the search stays small.
    singly = max(0, steps - 40 * max(units)) // max(units)
    steps, most, end = (one - singly * max(units) for one in (steps, most, end))
    fewest: list[tuple[int, int]] = [(0, 0)]
    for total in range(1, end + 1):
        options = [
            (fewest[total - unit][0] + 1, unit) for unit in units if unit <= total and fewest[total - unit][0] >= 0
        ]
        fewest.append(min(options) if options else (-1, 0))
    totals = [total for total in range(steps, end + 1) if fewest[total][0] >= 0]
    total = min((one for one in totals if one <= max(totals[0], most)), key=lambda one: (fewest[one][0], one))
    counts = {max(units): singly} if singly else {}
    while total:
        unit = fewest[total][1]
        counts[unit] = counts.get(unit, 0) + 1
        total -= unit
    return [(counts[unit], unit * step) for unit in sorted(counts, reverse=True)]


def cut_from(pieces: Sequence[tuple[float, int]], sold: Sequence[float], loses: float) -> dict[float, int]:
    """How many bars of each length hold the pieces (length, how many), the longest piece cut first, and each bar as
    short as its pieces allow; largest first. Nothing where a piece is longer than any bar."""
    left: list[float] = []
    for length, count in sorted(pieces, reverse=True):
        if length > sold[-1]:
            return {}
        for _ in range(count):
            place = next((number for number, room in enumerate(left) if room >= length - _SAME), None)
            if place is None:
                place = len(left)
                left.append(sold[-1])
            left[place] -= length + loses
    bars = [next(size for size in sold if size >= sold[-1] - room - loses - _SAME) for room in left]
    return {size: bars.count(size) for size in sorted(set(bars), reverse=True)}


def unsold(library: Library, worked: Worked) -> str:
    """Why nobody can buy what a fitting was worked for just as it is; nothing where all is sold."""
    shopper = _Shopper(library, worked.reckoning.system, {})
    return next(filter(None, (shopper.unsold(buy, worked) for buy in worked.on_the_job.buy if buy.exact)), "")


def shopping_list(
    library: Library, name: str, fittings: Sequence[Worked], plan: JobPlan, holes: HoleSchedule
) -> list[Item]:
    """Everything the job takes."""
    assert library.shop_sizes
    shopper = _Shopper(library, library.shops[library.job_sheets[name].conditions.shop].units, plan.clock.held)
    conditions = library.job_sheets[name].conditions
    return [
        *shopper.epoxy(plan, conditions.inputs),
        *shopper.bought(fittings),
        *shopper.drills(holes),
        *shopper.shared(fittings),
        *shopper.used_up(fittings, plan, conditions),
    ]


@dataclass
class _Shopper:
    library: Library
    system: System
    # How many of each counted thing the plan holds at once.
    held: Mapping[str, int]

    def _sold(self, key: str) -> ShopSize:
        assert self.library.shop_sizes
        return self.library.shop_sizes.sold[key]

    def _packs(self, need: int, sizes: Sequence[int]) -> list[tuple[int, int]]:
        assert self.library.shop_sizes
        return few_packs(need, sizes, self.library.shop_sizes.spare.part.value)

    def _at_once(self, thing: str) -> int:
        """How many of a thing are in use at once; what a line takes for no time of its own is one all the same."""
        return self.held.get(thing, 1)

    def _amount(self, group: str, what: str, volume: float, key: str) -> Item:
        """A volume (m3) in packs."""
        sold = self._sold(key)
        need = ceil(from_base(volume, "m**3", "mL") - 1e-6)
        packs = [
            (count, with_unit(str(size), "mL"))
            for count, size in self._packs(need, [int(text) for text in sold.sizes(self.system)])
        ]
        return Item(group, what, with_unit(str(need), "mL"), packs, sold.source)

    def _pieces(self, group: str, what: str, count: int, key: str) -> Item:
        sold = self._sold(key)
        packs = self._packs(count, [int(text) for text in sold.sizes(self.system)])
        return Item(group, what, str(count), [(n, _pack(size, "")) for n, size in packs], sold.source)

    def epoxy(self, plan: JobPlan, inputs: Mapping[str, str]) -> list[Item]:
        """Resin, hardener and fillers of all mixes. The waste that each card allows is in them."""
        if not plan.batches:
            return []
        total = {symbol: sum(batch.values[symbol] for batch in plan.batches) for symbol in ("v_r", "v_h")}
        rows = self.library.tables
        items = [
            self._amount(tr("Epoxy"), rows["resins"][inputs["resin"]].title, total["v_r"], "resin"),
            self._amount(
                tr("Epoxy"),
                tr("its hardener, {hardener}", hardener=rows["hardeners"][inputs["hardener"]].title),
                total["v_h"],
                "hardener",
            ),
        ]
        fillers: dict[str, float] = {}
        for batch in plan.batches:
            for cup in batch.thickened:
                fillers[cup.filler] = fillers.get(cup.filler, 0.0) + cup.values["v_f"]
        items += [
            self._amount(tr("Epoxy"), tr("{filler}, loose", filler=filler), volume, "filler")
            for filler, volume in fillers.items()
        ]
        syringes = sum(batch.syringes for batch in plan.batches)
        if syringes:
            symbol = FORMULARY.symbols["V_s"].shown(self.system)
            size = next(
                worked.value("V_s")
                for share in plan.shares.values()
                if "V_s" in (worked := share.worked).reckoning.working.values
            )
            holds = symbol.text(from_base(size, "m**3", symbol.unit))
            what = tr("syringe of {size}, with a tube", size=holds)
            items.append(self._pieces(tr("Epoxy"), what, syringes, "syringe"))
        return items

    def bought(self, fittings: Sequence[Worked]) -> list[Item]:
        """What the cards name for each fitting, alike things together, in the order of what shops sell."""
        alike: dict[tuple[str, str], list[tuple[Worked, Buy]]] = {}
        for worked, buy in _asked(self.library, fittings):
            if _is_any(buy, worked):
                alike.setdefault((self._what(buy, worked), buy.shop), []).append((worked, buy))
        for key in [key for key, pairs in alike.items() if all(buy.any for _, buy in pairs)]:
            if other := next((other for other in alike if other[1] == key[1] and other != key), None):
                alike[other] += alike.pop(key)
        assert self.library.shop_sizes
        rows = list(self.library.shop_sizes.sold)
        order = sorted(alike, key=lambda one: rows.index(one[1]))
        return [self._bought(what, shop, alike[what, shop]) for what, shop in order]

    def _volume(self, buy: Buy, worked: Worked) -> float:
        """How much all the fittings take (m3), with their waste."""
        assert self.library.shop_sizes
        if not buy.volume:
            return worked.fitting.pieces * self.library.shop_sizes.bedding.volume.value
        waste = worked.reckoning.working.values.get("w_a", 0.0)
        return worked.fitting.pieces * worked.value(buy.volume) * (1 + waste)

    def _what(self, buy: Buy, worked: Worked) -> str:
        """What is counted together: the card's words with the size that a shop sells."""
        if buy.by:
            return buy.shared or buy.what  # the largest of them is told when all are known
        what, sold = worked.reckoning.reads(buy.what), self._sold(buy.shop)
        if sold.width and buy.sides:
            width = min(buy.sides, key=worked.value)
            return tr(
                "{what}, flat bar {width} wide{thickness} thick",
                what=what,
                width=self._size(buy, worked, width, sold.width),
                thickness=self._length(buy, worked),
            )
        return what if sold.cut_from and not sold.width else what + self._length(buy, worked)

    def _bought(self, what: str, shop: str, pairs: Sequence[tuple[Worked, Buy]]) -> Item:
        sold = self._sold(shop)
        if sold.unit == "mL":
            item = self._amount(sold.group, what, sum(self._volume(buy, worked) for worked, buy in pairs), shop)
        elif sold.cut_from and all(buy.sides or not sold.width for _, buy in pairs):
            item = self._cut(sold.group, what, pairs, sold.cut_from)
        else:
            first = pairs[0][1]
            count = sum(_count(buy, worked) for worked, buy in pairs)
            if first.once:
                count = 1
            if first.shared:
                count = min(count, self._at_once(first.shared))
            if first.by:
                largest, own = max(pairs, key=lambda pair: pair[0].value(str(pair[1].by)))
                what = largest.reckoning.reads(own.what)
            item = self._pieces(sold.group, what, count, "fastener" if sold.unit else shop)
        return replace(item, users=list(dict.fromkeys(worked.name for worked, _ in pairs)))

    def unsold(self, buy: Buy, worked: Worked) -> str:
        """Why no shop has the very size that a fitting was worked for, and what it has; nothing where one has."""
        need, sold = worked.value(str(buy.size)), self._lengths(buy.shop)
        if any(abs(size - need) < _SAME for _, size in sold):
            return ""
        shorter, longer = [text for text, size in sold if size < need], [text for text, size in sold if size > need]
        return tr(
            "no shop has its screw in {need}; of those in {sold} measure thread and shank, and give these in the sheet",
            need=worked.reckoning.shop(str(buy.size)),
            sold=", ".join(with_unit(pointed(text), LENGTH_UNIT[self.system]) for text in shorter[-1:] + longer[:1]),
        )

    def _length(self, buy: Buy, worked: Worked) -> str:
        """The size that a shop sells, with the thread that it must have."""
        if not buy.size:
            return ""
        need, least = worked.value(buy.size), worked.reckoning.shop(buy.size)
        text, sold = self._next(need, buy.shop)
        if not text:
            return tr(", {least} or more, longer or thicker than is listed", least=least)
        if buy.most and sold > worked.value(buy.most) + _SAME:
            return tr(", cut to {least} to {most}", least=least, most=worked.reckoning.shop(buy.most))
        if buy.thread:
            # What is longer than was worked needs as much more of thread.
            shown = FORMULARY.symbols[buy.thread].shown(self.system)
            thread = from_base(worked.value(buy.thread) + sold - need, "m", shown.unit)
            return tr(", {size}, threaded for {thread} or all the way", size=text, thread=shown.text(thread))
        return f", {text}"

    def _size(self, buy: Buy, worked: Worked, symbol: str, row: str) -> str:
        text, _ = self._next(worked.value(symbol), row)
        return text or tr("{size} or more, more than is listed,", size=worked.reckoning.shop(symbol))

    def _next(self, need: float, row: str) -> tuple[str, float]:
        """The next size that is not under what is needed (m), in words and in metres; none where the list ends."""
        unit = LENGTH_UNIT[self.system]
        for text, size in self._lengths(row):
            if size >= need - 1e-9:
                return with_unit(pointed(text), unit), size
        return "", 0.0

    def _lengths(self, row: str) -> list[tuple[str, float]]:
        unit = LENGTH_UNIT[self.system]
        return [(text, to_base(float(read_number(text)[0]), unit, "m")) for text in self._sold(row).sizes(self.system)]

    def _cut(self, group: str, what: str, pairs: Sequence[tuple[Worked, Buy]], row: str) -> Item:
        """Pieces sawn from bars or rods, as many of these as they need."""
        assert self.library.shop_sizes
        pieces: dict[str, tuple[float, int]] = {}
        for worked, buy in pairs:
            symbol = max(buy.sides, key=worked.value) if buy.sides else str(buy.size)
            _, before = pieces.get(worked.reckoning.shop(symbol), (0.0, 0))
            pieces[worked.reckoning.shop(symbol)] = (worked.value(symbol), before + _count(buy, worked))
        lengths = self._lengths(row)
        texts = {size: with_unit(pointed(text), LENGTH_UNIT[self.system]) for text, size in lengths}
        bars = cut_from(list(pieces.values()), [size for _, size in lengths], self.library.shop_sizes.cut.loses.value)
        need = ", ".join(tr("{count} of {size}", count=count, size=text) for text, (_, count) in pieces.items())
        packs = [(count, texts[size]) for size, count in bars.items()]
        return Item(group, what, need, packs or [(1, tr("longer than is listed"))], self._sold(row).source)

    def drills(self, holes: HoleSchedule) -> list[Item]:
        """As many of each drill as are held at once, as long as its deepest hole asks for."""
        shown = FORMULARY.symbols["D_o"].shown(self.system)
        return [
            self._pieces(
                tr("Drills"),
                f"{drill.kind}, {shown.text(from_base(drill.size, 'm', shown.unit))}{_reach(holes, drill)}",
                self._at_once(bit(drill)),
                "drill",
            )
            for drill in holes.totals
        ]

    def shared(self, fittings: Sequence[Worked]) -> list[Item]:
        """As many of each thing that is used again as are held at once, where a card does not say more of it."""
        assert self.library.shop_sizes
        told = {buy.shared for _, buy in _asked(self.library, fittings)}
        group = tr("Used again and again, as many as are in use at once")
        return [
            Item(group, row.title, str(self.held[thing]), [(self.held[thing], "")], row.source)
            for thing, row in self.library.shop_sizes.shared.items()
            if thing not in told and self.held.get(thing)
        ]

    def _people(self, plan: JobPlan, conditions: Conditions) -> int:
        """For each day the people who are at work, who comes to help among them, summed: as many as are busy at once,
        and in a class all of every pair that has work on it, with who is left over."""
        days, pairs = dict[int, int](), set[tuple[int, int]]()
        for slot in plan.clock.slots:
            day = slot.start // 86_400
            pairs |= {(day, pair) for pair in plan.pairs_of(slot, conditions.teams)}
            once = sum(other.teams for other in plan.clock.slots if other.start <= slot.start < other.end)
            days[day] = max(days.get(day, 0), once)
        if pairs:
            return len(pairs) * conditions.team + len(days) * (conditions.crew % conditions.team)
        assert self.library.shop_sizes
        helped = {start // 86_400 for start, _ in plan.helped(conditions.crew, self.library.shop_sizes.stay.time.value)}
        return sum(days.values()) * conditions.team + len(helped)

    def used_up(self, fittings: Sequence[Worked], plan: JobPlan, conditions: Conditions) -> list[Item]:
        """Gloves, cups and the like."""
        assert self.library.shop_sizes
        cups = sum(batch.cups + len(batch.thickened) for batch in plan.batches)
        people = self._people(plan, conditions)
        pieces = sum(worked.fitting.pieces for worked in fittings)
        bored = sum(worked.fitting.pieces * worked.holes for worked in fittings if worked.mix_line)
        per = {
            "job": 1,
            "mix": plan.cups,
            "cup": cups,
            "fitting": pieces,
            "hole": bored,
            "person and day": people,
        }
        return [self._used(one, per[one.per]) for one in self.library.shop_sizes.used_up.values() if per[one.per]]

    def _used(self, one: Consumable, times: int) -> Item:
        need = one.of * times
        packs = self._packs(need, one.packs)
        return Item(
            tr("Used up"),
            one.title,
            with_unit(str(need), one.unit) if one.unit else str(need),
            [(n, _pack(size, one.unit)) for n, size in packs],
            one.source,
        )


def reckoned_with(library: Library, bearer: Worked) -> list[tuple[int, str]]:
    """How many of what a fitting is bought by number for the card that says, in place of its own, what it carries."""
    return [(_count(buy, bearer), bearer.reckoning.reads(buy.what)) for buy in _counted(library, bearer)]


def _counted(library: Library, bearer: Worked) -> list[Buy]:
    assert library.shop_sizes
    sold = library.shop_sizes.sold
    return [
        buy
        for buy in bearer.on_the_job.buy
        if sold[buy.shop].unit != "mL" and _is_any(buy, bearer)
        if not (buy.once or buy.any or buy.shared or buy.lent == "only")
    ]


def _named(library: Library, worked: Worked) -> list[tuple[Worked, Buy]]:
    """What a fitting's own card names. Its bolts are those that its load is reckoned with, as long as its own card has
    them; what else that load is reckoned with comes besides."""
    named = [(worked, buy) for buy in worked.on_the_job.buy if buy.lent != "only"]
    bearer = worked.bearer and replace(worked.bearer, fitting=worked.fitting)
    for buy in _counted(library, bearer) if bearer else ():
        assert bearer
        place = next((at for at, (_, own) in enumerate(named) if own.shop == buy.shop and own.size), None)
        if place is None:
            named.append((bearer, buy))
        else:
            said = Prose.as_read(bearer.reckoning.reads(buy.what))
            named[place] = (worked, named[place][1].model_copy(update={"what": said}))
    return named


def _asked(library: Library, fittings: Sequence[Worked]) -> list[tuple[Worked, Buy]]:
    """What the cards name for each fitting, and for a trial also the card by which it is pulled."""
    pullers = [worked.puller for worked in fittings if worked.puller]
    return [
        *(pair for worked in fittings for pair in _named(library, worked)),
        *((worked, buy) for worked in pullers for buy in worked.on_the_job.buy if buy.lent),
    ]


def _pack(size: int, unit: str) -> str:
    if unit:
        return with_unit(str(size), unit)
    return "" if size == 1 else tr("pack of {size}", size=size)


def _reach(holes: HoleSchedule, drill: Drill) -> str:
    """How long a drill must be, where the cards say so of what it bores."""
    bored = [one for run in holes.runs for one in run.holes if run.drill == drill and one.bore.reach]
    if not bored:
        return ""
    deepest = max(bored, key=lambda one: one.worked.value(str(one.bore.reach)))
    series = any(one.bore.long and one.worked.each(one.bore.long) for one in bored)
    reach = deepest.worked.reckoning.shop(str(deepest.bore.reach))
    long, short = later(", long series, {reach} or more below the chuck"), later(", {reach} or more below the chuck")
    return tr(long if series else short, reach=reach)


def _is_any(buy: Buy, worked: Worked) -> bool:
    """Whether it is bought at all: a plate of no thickness is none, and where none are counted there is none."""
    return (not buy.size or worked.value(buy.size) > 0) and worked.each(buy.count) > 0


def _count(buy: Buy, worked: Worked) -> int:
    """How many all the fittings take: what the card counts, else one a fitting, or one a hole where the sheet counts
    those."""
    each = worked.each(buy.count) if buy.count or "n_h" in worked.card.givens else worked.holes
    return worked.fitting.pieces * each * buy.of
