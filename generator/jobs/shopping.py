"""What to buy for a job: worked amounts with their waste, rounded up to what shops sell."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, gcd

from ..formula import FORMULARY
from ..model.jobsheet import Consumable, ShopSize
from ..model.library import Library
from ..model.schema import Buy
from ..units import LENGTH_UNIT, System, from_base, read_number, to_base, with_unit
from .fittings import Worked, filled
from .holes import HoleSchedule
from .plan import JobPlan


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
        """The packs in words."""
        packs = [
            f"{count} × {size}".replace(" ", "\N{NO-BREAK SPACE}") if size else f"{count}" for count, size in self.packs
        ]
        return " + ".join(packs)


def fewest_left(need: int, sizes: Sequence[int]) -> list[tuple[int, int]]:
    """Packs that hold `need` with the least left over, and among those the fewest: (how many, size), largest first."""
    step = gcd(*sizes)
    units, steps = [size // step for size in sizes], max(1, -(-need // step))
    end = steps + max(units)
    # Far above the largest pack only that one is worth buying, so the search stays small.
    spare = max(0, steps - 40 * max(units)) // max(units)
    steps, end = steps - spare * max(units), end - spare * max(units)
    fewest: list[tuple[int, int]] = [(0, 0)]
    for total in range(1, end + 1):
        options = [
            (fewest[total - unit][0] + 1, unit) for unit in units if unit <= total and fewest[total - unit][0] >= 0
        ]
        fewest.append(min(options) if options else (-1, 0))
    total = next(total for total in range(steps, end + 1) if fewest[total][0] >= 0)
    counts = {max(units): spare} if spare else {}
    while total:
        unit = fewest[total][1]
        counts[unit] = counts.get(unit, 0) + 1
        total -= unit
    return [(counts[unit], unit * step) for unit in sorted(counts, reverse=True)]


def shopping_list(
    library: Library, name: str, fittings: Sequence[Worked], plan: JobPlan, holes: HoleSchedule
) -> list[Item]:
    """Everything the job takes."""
    assert library.shop_sizes
    shopper = _Shopper(library, library.shops[library.job_sheets[name].conditions.shop].units)
    team = library.job_sheets[name].conditions.team
    return [
        *shopper.epoxy(plan, library.job_sheets[name].conditions.inputs),
        *shopper.bought(fittings),
        *shopper.drills(holes),
        *shopper.used_up(fittings, plan, team),
    ]


@dataclass
class _Shopper:
    library: Library
    system: System

    def _sold(self, key: str) -> ShopSize:
        assert self.library.shop_sizes
        return self.library.shop_sizes.sold[key]

    def _amount(self, group: str, what: str, volume: float, key: str) -> Item:
        """A volume (m3) in packs."""
        sold = self._sold(key)
        need = ceil(from_base(volume, "m**3", "mL") - 1e-6)
        packs = [
            (count, with_unit(str(size), "mL"))
            for count, size in fewest_left(need, [int(text) for text in sold.sizes(self.system)])
        ]
        return Item(group, what, with_unit(str(need), "mL"), packs, sold.source)

    def _pieces(self, group: str, what: str, count: int, key: str) -> Item:
        sold = self._sold(key)
        packs = fewest_left(count, [int(text) for text in sold.sizes(self.system)])
        return Item(
            group, what, str(count), [(n, "" if size == 1 else f"pack of {size}") for n, size in packs], sold.source
        )

    def epoxy(self, plan: JobPlan, inputs: Mapping[str, str]) -> list[Item]:
        """Resin, hardener and fillers of all mixes. The waste that each card allows is in them."""
        if not plan.batches:
            return []
        total = {symbol: sum(batch.values[symbol] for batch in plan.batches) for symbol in ("v_r", "v_h")}
        rows = self.library.tables
        items = [
            self._amount("Epoxy", rows["resins"][inputs["resin"]].title, total["v_r"], "resin"),
            self._amount(
                "Epoxy", f"its hardener, {rows['hardeners'][inputs['hardener']].title}", total["v_h"], "hardener"
            ),
        ]
        fillers: dict[str, float] = {}
        for batch in plan.batches:
            for cup in batch.thickened:
                fillers[cup.filler] = fillers.get(cup.filler, 0.0) + cup.values["v_f"]
        items += [self._amount("Epoxy", f"{filler}, loose", volume, "filler") for filler, volume in fillers.items()]
        syringes = sum(batch.syringes for batch in plan.batches)
        if syringes:
            symbol = FORMULARY.symbols["V_s"].shown(self.system)
            size = next(
                worked.value("V_s")
                for share in plan.shares.values()
                if "V_s" in (worked := share.worked).job.working.values
            )
            what = f"syringe of {symbol.text(from_base(size, 'm**3', symbol.unit))}, with a tube"
            items.append(self._pieces("Epoxy", what, syringes, "syringe"))
        return items

    def bought(self, fittings: Sequence[Worked]) -> list[Item]:
        """What the cards name for each fitting, alike things together, in the order of what shops sell."""
        asked = [(worked, buy) for worked in fittings for buy in worked.on_the_job.buy if _is_any(buy, worked)]
        alike: dict[tuple[str, str], list[tuple[Worked, Buy]]] = {}
        for worked, buy in asked:
            what = filled(buy.what, worked.job) + self._length(buy, worked)
            alike.setdefault((what, buy.shop), []).append((worked, buy))
        assert self.library.shop_sizes
        rows = list(self.library.shop_sizes.sold)
        order = sorted(alike, key=lambda one: rows.index(one[1]))
        return [self._bought(what, shop, alike[what, shop]) for what, shop in order]

    def _bought(self, what: str, shop: str, pairs: Sequence[tuple[Worked, Buy]]) -> Item:
        sold = self._sold(shop)
        if any(buy.volume for _, buy in pairs):
            item = self._amount(sold.group, what, sum(_volume(buy, worked) for worked, buy in pairs), shop)
        else:
            once = any(buy.once for _, buy in pairs)
            count = 1 if once else sum(_count(buy, worked) for worked, buy in pairs)
            item = self._pieces(sold.group, what, count, "fastener" if sold.unit else shop)
        return replace(item, users=list(dict.fromkeys(worked.name for worked, _ in pairs)))

    def _length(self, buy: Buy, worked: Worked) -> str:
        """The size that a shop sells, the next that is not under what was worked."""
        if not buy.size:
            return ""
        sold, need = self._sold(buy.shop), worked.value(buy.size)
        unit = LENGTH_UNIT[self.system]
        for text in sold.sizes(self.system):
            if to_base(float(read_number(text)[0]), unit, "m") >= need - 1e-9:
                return f", {with_unit(text, unit)} or more"
        return f", {worked.job.shop(buy.size)} or more, longer or thicker than is listed"

    def drills(self, holes: HoleSchedule) -> list[Item]:
        """One of each drill."""
        size = FORMULARY.symbols["D_o"].shown(self.system)
        return [
            self._pieces("Drills", f"{drill.kind}, {size.text(from_base(drill.size, 'm', size.unit))}", 1, "drill")
            for drill in holes.totals
        ]

    def _people(self, plan: JobPlan) -> int:
        """For each day the teams that are at work at once, summed."""
        days: dict[int, int] = {}
        for slot in plan.clock.slots:
            once = sum(other.teams for other in plan.clock.slots if other.start <= slot.start < other.end)
            days[slot.start // 86_400] = max(days.get(slot.start // 86_400, 0), once)
        return sum(days.values())

    def used_up(self, fittings: Sequence[Worked], plan: JobPlan, team: int) -> list[Item]:
        """Gloves, cups and the like."""
        assert self.library.shop_sizes
        cups = sum(batch.cups + len(batch.thickened) for batch in plan.batches)
        people = self._people(plan) * team
        pieces = sum(worked.fitting.pieces for worked in fittings)
        bored = sum(worked.fitting.pieces * worked.holes for worked in fittings if worked.mix_line)
        per = {
            "job": 1,
            "mix": plan.mixes,
            "cup": cups,
            "fitting": pieces,
            "hole": bored,
            "person and day": people,
        }
        return [self._used(one, per[one.per]) for one in self.library.shop_sizes.used_up.values() if per[one.per]]

    def _used(self, one: Consumable, times: int) -> Item:
        need = one.of * times
        packs = fewest_left(need, one.packs)
        return Item(
            "Used up",
            one.title,
            str(need),
            [(n, "" if size == 1 else f"pack of {size}") for n, size in packs],
            one.source,
        )


def _is_any(buy: Buy, worked: Worked) -> bool:
    """Whether it is bought at all: a plate of no thickness is none."""
    return not buy.size or worked.value(buy.size) > 0


def _volume(buy: Buy, worked: Worked) -> float:
    """How much all the fittings take (m3), with their waste."""
    assert buy.volume
    waste = worked.job.working.values.get("w_a", 0.0)
    return worked.fitting.pieces * worked.value(buy.volume) * (1 + waste)


def _count(buy: Buy, worked: Worked) -> int:
    """How many all the fittings take: what the card counts, else one a fitting, or one a hole where the sheet counts
    those."""
    each = worked.each(buy.count) if buy.count or "n_h" in worked.card.givens else worked.holes
    return worked.fitting.pieces * each
