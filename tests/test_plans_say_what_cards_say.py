"""The law of the plan: every length, wait and longest gap in it is the card's own at the sheet's conditions, read from the
card's file and from what the card prints."""

from __future__ import annotations

import random
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from math import ceil
from pathlib import Path
from typing import Any

import pytest

from conftest import HOUSE, kept_sheet, read_yaml
from generator.errors import Faults
from generator.jobs.fittings import Worked
from generator.jobs.lesson import _Pairs
from generator.jobs.plan import Batch, Memory, Planner, Share, line_of
from generator.jobs.sheet import WorkedSheet, work_sheet
from generator.model.jobsheet import Fitting, JobSheet
from generator.model.library import Library
from generator.reckoning import Reckoning, reckon
from generator.schedule.timetable import DAY, Slot
from generator.units import plain, read_quantity

HOUR, MINUTE = 3600, 60
# By the cards these count from the mix.
FROM_THE_MIX = ("t_c", "t_y1", "t_h", "t_l", "t_f")
SIZES = read_yaml(HOUSE / "procedures/data/shop_sizes.yaml")
SHARED = read_yaml(HOUSE / "procedures/shared.yaml")


def written(path: Path) -> dict[str, Any]:
    """A card's file, with the steps and needs that several cards have word for word where it takes them by name."""
    raw: dict[str, Any] = read_yaml(path)
    raw["steps"] = [own for one in raw["steps"] for own in _named("steps", one)]
    for key, needs in raw["needs"].items():
        raw["needs"][key] = [own for one in needs for own in _named("needs", one)]
    return raw


def _named(kind: str, one: Any) -> list[Any]:
    names = one.get("like", []) if isinstance(one, dict) else []
    taken = [SHARED[kind][name] for name in ([names] if isinstance(names, str) else names)]
    return taken or [one]


RAW: dict[str, dict[str, Any]] = {path.stem: written(path) for path in (HOUSE / "procedures/cards").glob("*.yaml")}


def said_for_sheets(raw: Mapping[str, Any]) -> Mapping[str, Any]:
    """What a card's file says for job sheets: of its plan, the ids of the lines by their marks, when the latest of a line
    ends, and what is said of the mix."""
    found = dict(raw.get("job", {}))
    for row in raw["plan"]:
        for mark in row.get("marks", []):
            found.setdefault(mark, []).append(row["id"])
        if "by" in row:
            found.setdefault("by", {})[row["id"]] = row["by"]
        if "fill" in row:
            found |= {"mix": row["id"], **{key: row[key] for key in ("fill", "each", "layers") if key in row}}
    return found


SAID = {name: said_for_sheets(raw) for name, raw in RAW.items()}


@dataclass(frozen=True)
class Line:
    """A line of a card's plan as its file has it: how long one fitting takes, and the wait as the card prints it (s). One
    that has a latest end has no wait before it, but may be begun so long after the start of the mix."""

    key: str
    hands: int
    wait: int
    cures: bool
    since: int | None = None


def size(name: str, key: str = "time") -> int:
    """A time of shop_sizes.yaml (s)."""
    return round(read_quantity(SIZES[name][key], "s"))


def printed(reckoning: Reckoning, symbol: str) -> int:
    """A time as the card prints it (s)."""
    return round(read_quantity(plain(reckoning.shop(symbol)), "s")) if reckoning.has(symbol) else 0


def of_card(one: Worked) -> Mapping[str, Any]:
    """What a card's file says for job sheets."""
    return SAID[one.fitting.card]


def looked(one: Worked, line: str) -> tuple[int, int]:
    """How long after the mix a line looks again, at the soonest and at the latest (s): a second look as the card prints."""
    first, second = printed(one.reckoning, "t_z1"), printed(one.reckoning, "t_z2")
    return (first, second) if line == of_card(one)["look"][0] else (second, first + second)


def lines_of(library: Library, one: Worked) -> list[Line]:
    """The lines of a fitting's card, and for a trial those by which another card has it pulled."""
    raw, reckoning = RAW[one.fitting.card], reckon(library, library.cards[one.fitting.card], one.inputs)
    alike = round(reckoning.working.values["N"]) if "N" in raw["givens"] else 1
    rows = [(row, reckoning, alike) for row in raw["plan"]]
    if one.puller:
        lender = RAW[one.puller.fitting.card if one.puller.fitting.card != one.fitting.card else "trial-joint"]
        rows += [(row, one.puller.reckoning, 1) for row in lender["plan"] if row["id"] in lender["job"]["lends"]]
    found = []
    for row, whose, number in rows:
        wait = one.fitting.waits.get(row["id"], row.get("wait"))
        symbol = wait in whose.working.formulary.symbols if wait else False
        seconds = printed(whose, str(wait)) if symbol else round(read_quantity(str(wait), "s")) if wait else 0
        if wait == "t_rb":  # told for 23 °C; test_jobs has the rule
            seconds = ceil(seconds * one.slower / DAY - 1e-9) * DAY
        watched, seconds = (seconds, 0) if "attended" in row.get("marks", []) else (0, seconds)
        hands = (round(read_quantity(row["active"], "s")) + watched) * number if "active" in row else 0
        mixed = next((place for place, one in enumerate(raw["plan"]) if "fill" in one), False)
        cures = wait in FROM_THE_MIX and mixed is not False and rows.index((row, whose, number)) >= mixed
        cures = cures and row["id"] not in one.fitting.waits
        found.append(Line(row["id"], hands, seconds, cures or "look" in row.get("marks", [])))
        if "by" in row:
            opens = -1 if "wait_first" in row.get("marks", []) else -2
            found[-1] = replace(found[-1], since=found[opens].wait)
            found[opens] = replace(found[opens], wait=0)
    return found


def each_piece(slots: Sequence[Slot], teams: int, takes: int) -> list[list[Slot]]:
    """The stretches of each piece; what was broken off first goes on first."""
    each = list[list[Slot]]()
    for slot in sorted(slots):
        for _ in range(slot.teams // teams):
            if not slot.goes_on:
                each.append([slot])
                continue
            left = [one for one in each if one[-1] != slot and sum(own.end - own.start for own in one) < takes]
            left[0].append(slot)
    return each


class Law:
    """All that must hold of a sheet's plan."""

    def __init__(self, library: Library, done: WorkedSheet):
        self.library, self.done, self.plan = library, done, done.plan
        self.conditions = done.sheet.conditions
        # By each mix: from when on something is turned loose, how long one takes, and when each is begun.
        self.loosened: dict[int, list[tuple[int, int, list[int]]]] = {}

    def holds(self) -> None:
        """Everything, fitting by fitting, then what is kept apart."""
        for share in self.plan.shares.values():
            self.of_share(share)
        for batch in self.plan.batches:
            self.of_mix(batch)
        for turns in self.loosened.values():
            self.attended(turns)
        self.apart()

    def attended(self, turns: Sequence[tuple[int, int, Sequence[int]]]) -> None:
        """Somebody is at a mix from when its sample may be firm as leather, or as soon after that as hands work again;
        then what it holds is turned loose piece after piece."""
        opens, hands, first = min((opens, hands, starts[0]) for opens, hands, starts in turns)
        planner = Planner if self.conditions.aim == "shop" else partial(_Pairs, memory=Memory())
        hours = replace(planner(self.library, self.conditions, {}).hours, off=self.conditions.off)
        assert first == min(starts[0] for _, _, starts in turns)
        assert first == next(start for start, closes in hours.windows(opens) if start + hands <= closes)
        longest = sum(hands * len(starts) for _, hands, starts in turns)
        assert max(starts[-1] + hands for _, hands, starts in turns) <= first + longest

    def of_share(self, share: Share) -> None:
        one, job = share.worked, of_card(share.worked)
        lines = lines_of(self.library, one)
        own = [slot for slot in self.plan.clock.slots if slot.lot == share.name and slot.part >= 0]
        waited, fresh, mixed = [self.conditions.begins] * share.pieces, list[int](), -1
        for place, line in enumerate(lines):
            if line.key == job.get("mix"):
                begun, mixed = self.of_layers(share)
                assert begun >= max(waited)
                assert all(begun - end <= size("fresh") for end in fresh)
                waited = [mixed + (line.wait if line.key not in job.get("wait_first", []) else 0)] * share.pieces
                continue
            if not line.hands:
                waited = [max(end, mixed + line.wait) if line.cures else end + line.wait for end in waited]
                continue
            held = place + 1 < len(lines) and lines[place + 1].key in job.get("unbroken", [])
            teams = self.conditions.teams_for(one.staying(place + 1))
            takes = line.hands + (line.wait if held else 0)
            each = each_piece([slot for slot in own if line_of(one, slot.part) == place], teams, takes)
            assert len(each) == share.pieces, (share.name, line.key)
            assert [sum(slot.end - slot.start for slot in slots) for slots in each] == [takes] * share.pieces
            starts, ends = sorted(slots[0].start for slots in each), sorted(slots[-1].end for slots in each)
            pause = line.wait if line.key in job.get("wait_first", []) else 0
            ready = [max(end, mixed + pause) if line.cures and pause else end + pause for end in waited]
            assert all(start >= soonest for start, soonest in zip(starts, ready, strict=True)), (share.name, line.key)
            if line.key in job.get("unbroken", []):
                assert starts == waited
            if line.key in job.get("look", []):
                soonest, latest = looked(one, line.key)
                assert mixed + soonest <= starts[0] <= mixed + latest + self.rounds(share, line), (share.name, line.key)
            if line.key in job.get("by", {}):
                (batch,) = self.batches(share)[-1:]
                assert ends[-1] <= batch.start + printed(one.reckoning, job["by"][line.key])
                assert line.since
                assert starts[0] >= batch.start + line.since
                self.loosened.setdefault(id(batch), []).append((batch.start + line.since, line.hands, starts))
            if line.key in job.get("fresh", []):
                fresh += ends
            after = 0 if pause or held else line.wait
            waited = [max(end, mixed + after) if line.cures and after else end + after for end in ends]
        ready_at = self.plan.clock.ready[share.name]
        assert ready_at >= max(waited)
        if mixed >= 0 and one.reckoning.has("t_f"):
            assert ready_at >= mixed + printed(one.reckoning, "t_f")

    def rounds(self, share: Share, line: Line) -> int:
        """Those who look at several go round them one after another; the last may have to wait for so many."""
        (batch,) = self.batches(share)[-1:]
        return (sum(other.pieces for other in batch.shares) - 1) * line.hands

    def batches(self, share: Share) -> list[Batch]:
        """The mixes of a share, layer by layer."""
        found = [batch for batch in self.plan.batches if share.name in batch.layers]
        return sorted(found, key=lambda batch: batch.layers[share.name])

    def of_layers(self, share: Share) -> tuple[int, int]:
        """When the first layer is mixed and the last is filled. Each goes on while the one before is tacky; or that one is
        hard, washed and sanded first, and the next follows while that is fresh."""
        batches, one = self.batches(share), share.worked
        symbol = of_card(one).get("layers")
        layers = round(one.reckoning.working.values[symbol]) if symbol else 1
        assert [batch.layers[share.name] for batch in batches] == [*range(1, layers + 1)]
        washes = [slot for slot in self.plan.clock.slots if slot.lot == share.name and slot.part < 0]
        for before, batch in pairwise(batches):
            assert batch.start >= before.end + printed(one.reckoning, "t_c")
            own = [slot for slot in washes if before.end <= slot.start < batch.start]
            if batch.start <= before.end + printed(one.reckoning, "t_d"):
                assert not own
                continue
            assert sum((slot.end - slot.start) * slot.teams for slot in own) == size("wash") * share.pieces
            assert all(slot.start >= before.end + printed(one.reckoning, "t_h") for slot in own)
            assert all(batch.start - slot.end <= size("fresh") for slot in own)
        return batches[0].start, batches[-1].end

    def of_mix(self, batch: Batch) -> None:
        """The time to the first fitting, the busiest team's filling, and what the card's own line takes beyond these."""
        (slot,) = [slot for slot in self.plan.clock.slots if slot.mix >= 0 and self.plan.batches[slot.mix] is batch]
        assert slot.end - slot.start == batch.takes
        assert (slot.start, slot.end) == (batch.start, batch.end)
        if batch.cups > 1:
            return
        fills, more = dict[str, float](), 0.0
        for share in batch.shares:
            one, job = share.worked, of_card(share.worked)
            each = round(one.reckoning.working.values[job["each"]]) if "each" in job else 1
            fills[share.name] = printed(one.reckoning, job["fill"]) * each
            (line,) = [line for line in lines_of(self.library, one) if line.key == job["mix"]]
            alike = round(one.reckoning.working.values["N"]) if "N" in RAW[one.fitting.card]["givens"] else 1
            more = max(more, line.hands / alike - self.plan.prepare - fills[share.name])
        loads = [sum(fills[name] * count for name, count in team.items()) for team in batch.dealt]
        assert batch.takes == pytest.approx(self.plan.prepare + max(loads) + more, abs=2)
        assert max(loads) + self.plan.prepare <= self.plan.lasts + 1

    def apart(self) -> None:
        """Heat and sparks never while solvent, wet finish or open resin is near."""
        heat, fumes = list[tuple[int, int]](), list[tuple[int, int]]()
        for slot in self.plan.clock.slots:
            if slot.mix >= 0:
                hard = max(printed(share.worked.reckoning, "t_h") for share in self.plan.batches[slot.mix].shares)
                fumes.append((slot.start, slot.end + hard))
            elif slot.part >= 0:
                one = self.plan.shares[slot.lot].worked
                line = lines_of(self.library, one)[line_of(one, slot.part)]
                if line.key in of_card(one).get("heat", []):
                    heat.append((slot.start, slot.end))
                if line.key in of_card(one).get("fumes", []):
                    wet = 0 if line.key in of_card(one).get("wait_first", []) else line.wait
                    fumes.append((slot.start, slot.end + max(size("air"), wet)))
        assert not [(a, b) for a in heat for b in fumes if a[0] < b[1] and b[0] < a[1]]


JOBS = sorted(name for name, raw in RAW.items() if "job" in raw)
# What is told of lines with solvent, wax, open compound or wet finish, and of those that make something ready to bond.
OPEN = re.compile(
    r"compound|bed the|\bwax|release agent|seal the|degrease|prepare (the (metal|screws|bush)|wood and metal)", re.I
)
READY = re.compile(r"abrade|degrease|prepare (the (metal|screws|bush)|wood and metal)", re.I)
# How steps say that one holds a bolt still while another turns its nut on the other side.
HELD = re.compile(r"hold(s|ing)? (the|each) (head|bolt)|the head held", re.I)


@pytest.mark.parametrize("name", JOBS)
def test_lines_are_what_their_words_say(name: str) -> None:
    """What is open is kept from heat, and what is made ready to bond is bonded soon."""
    job, plan = SAID[name], RAW[name]["plan"]
    assert {row["id"] for row in plan if OPEN.search(row["what"])} <= {*job.get("fumes", [])}
    if "mix" in job:
        assert {row["id"] for row in plan if READY.search(row["what"])} <= {*job.get("fresh", [])}
    if any(row["shop"] == "compound" for row in job.get("buy", [])):
        assert {"bed", "refit", "fit", "try"} & {*job["fumes"]}


@pytest.mark.parametrize("name", sorted(name for name in JOBS if "compound" in RAW[name]["givens"]))
def test_what_is_bedded_is_tightened_when_it_is_rubber(name: str) -> None:
    """Its steps say so, so its plan has the wait and the work."""
    plan = RAW[name]["plan"]
    rubber = [place for place, row in enumerate(plan) if row.get("wait") == "t_rb"]
    tightened = [place for place, row in enumerate(plan) if row["id"] == "retighten" and row["active"]]
    assert rubber
    assert tightened
    assert rubber[0] < tightened[0]


@pytest.mark.parametrize("name", sorted(name for name in JOBS if "fresh" in SAID[name]))
def test_wood_that_is_abraded_is_bonded_soon(name: str) -> None:
    """Where steps before the mix abrade the wood, a line of what is bonded soon says so."""
    raw = RAW[name]
    mixed = next(place for place, step in enumerate(raw["steps"]) if re.search(r"mix\]?$", step["title"], re.I))
    if not any("abrade" in step["do"] for step in raw["steps"][:mixed]):
        return
    fresh = [row["what"] for row in raw["plan"] if "fresh" in row.get("marks", [])]
    assert any(re.search(r"abrade|the wood|wood and metal", what, re.I) for what in fresh)


def holds_a_head(raw: Mapping[str, Any]) -> list[bool]:
    """For each step, whether one holds a bolt's head in it while another turns the nut."""
    return [bool(HELD.search(step["do"]) and re.search(r"\bnuts?\b", step["do"])) for step in raw["steps"]]


@pytest.mark.parametrize("name", JOBS)
def test_two_are_planned_where_one_holds_the_head(name: str) -> None:
    """A bolt goes through the boat, so whoever holds its head cannot reach its nut: what beds and tightens it takes two."""
    raw = RAW[name]
    if not any(holds_a_head(raw)):
        return
    for row in raw["plan"]:
        if row.get("active") and re.search(r"compound|\bbed the|refit|tighten", row["what"], re.I):
            assert row.get("people") == "2", row["id"]
    assert any("helper" in str(thing) for thing in raw["needs"]["tools"])


def test_the_steps_that_hold_a_head_are_found() -> None:
    """Else the law above would hold of nothing."""
    found = {name for name in JOBS if any(holds_a_head(RAW[name]))}
    assert found == {"backing-plate", "bedded-cored", "bedded-solid", "released-seat", "worn-hole"}


# How steps and lines say that somebody else is at hand, or have one hold up what another marks from the other side.
OTHERS = re.compile(
    r"helper|some(body|one)|anybody|neighbour|\bpersons?\b|\bpeople\b|(third|other) (one|pair of hands)|"
    r"(one|each|both|two) of you|\bone calls|hold (it|the plate)\b[^.]*\bup below",
    re.I,
)
# Of each such step the lines of the plan in which it is done; none where nobody is wanted at the work.
FOR_TWO = {
    ("backing-plate", "Try whether it rocks"): ("try",),
    ("backing-plate", "Wet out, and set the plate"): ("fill",),
    ("backing-plate", "Clean up and let it get hard"): ("look", "turn", "loosen"),
    ("backing-plate", "Bed the fitting, and turn the nut to the spacers"): ("bed",),
    ("bedded-cored", "Drill the pilots"): ("pilots",),
    ("bedded-cored", "Press down, hold the bolt, turn the nut"): ("bed",),
    ("bedded-cored", "Tighten once more, then hose it"): ("retighten",),
    ("bedded-solid", "Hold the bolt, turn the nut"): ("bed",),
    ("bedded-solid", "Tighten once more, then hose it"): ("retighten",),
    ("bonded-stepped-hole", "Set the fitting"): ("fill",),
    ("cast-seat", "Press it down to the pads"): ("fill",),
    ("heat-removal", "Look behind"): ("heat", "hold", "draw"),
    ("heat-removal", "Put the heat on the metal only"): ("heat",),
    ("heat-removal", "Hold it, and watch"): ("hold",),
    ("released-seat", "Press it down"): ("fill",),
    ("released-seat", "Seal it and put the fitting back"): ("bed",),
    ("trial-joint", "Write it down and keep it"): (),
    ("worn-hole", "Find out why it wore"): (),
    ("worn-hole", "[n_l > 1: Plan the lifts, then mix | Mix]"): (),
}


@pytest.mark.parametrize("name", JOBS)
def test_every_step_for_two_is_planned_for_two(name: str) -> None:
    """Whoever plans a day for one must not meet a step on it for which a second one has to be called."""
    raw = RAW[name]
    alone = {row["id"] for row in raw["plan"] if row.get("people", "1") == "1"}
    told = ("title", "line", "seen", "do", "see", "wrong")
    steps = {step["title"] for step in raw["steps"] if OTHERS.search(" ".join(step.get(key, "") for key in told))}
    for title in steps:
        for line in FOR_TWO[name, title]:
            assert line not in alone, (title, line)
    assert {title for card, title in FOR_TWO if card == name} <= steps
    called = {row["id"] for row in raw["plan"] if OTHERS.search(row["what"]) and "fetch" not in row["what"]}
    assert not called & alone


# How a step tells that what was set is looked at, topped up or turned at two times.
TOLD_TWICE = re.compile(r"\{t_z1\}(,| and)( again)?( after)? \{t_z2\}")


@pytest.mark.parametrize("name", JOBS)
def test_whoever_is_told_to_look_twice_is_planned_to(name: str) -> None:
    """By two lines behind the mix, and nobody by a card that does not tell of it."""
    told = any(TOLD_TWICE.search(" ".join(step["do"].split())) for step in RAW[name]["steps"])
    looks = SAID[name].get("look", [])
    ids = [row["id"] for row in RAW[name]["plan"]]
    assert len(looks) == 2 * told
    if told:
        place = ids.index(SAID[name]["mix"])
        assert ids[place + 1 : place + 3] == looks


@pytest.mark.parametrize("name", ["backing-plate", "released-seat"])
def test_what_is_turned_loose_is_looked_at_twice_before(name: str) -> None:
    """Topped up or turned after two times, and turned loose while it is leathery: work at three times."""
    raw = RAW[name]
    assert any(re.search(r"\{t_z1\} and \{t_z2\} from now", " ".join(step["do"].split())) for step in raw["steps"])
    fill = next(place for place, row in enumerate(raw["plan"]) if "fill" in row)
    first, second, loosen = raw["plan"][fill + 1 : fill + 4]
    assert (first.get("marks"), second.get("marks")) == (["look"], ["look"])
    assert (second["wait"], loosen["by"]) == ("t_y1", "t_y2")


@pytest.mark.parametrize(
    ("length", "helpers", "irons"),
    [("10 mm", "second person", 1), ("40 mm", "two helpers", 2), ("120 mm", "second person", 0)],
)
def test_as_many_work_at_the_heat_as_its_words_call(library: Library, length: str, helpers: str, irons: int) -> None:
    """From its head, from both ends at once, and left cold; with an iron for each end that is hot."""
    card = library.cards["heat-removal"]
    reckoning = reckon(library, card, {"thread": "M8", "metal": "silicon-bronze", "L_k": length})
    at_hand = next(tool.what for tool in card.needs.tools if "xtinguisher" in tool.what)
    for text in (card.plan[0].what, card.steps[0].line, card.steps[0].do, at_hand):
        assert text
        assert helpers in reckoning.reads(text).lower()
    fitting = Fitting.model_validate({"name": "stud", "card": "heat-removal", "where": "rail", "no_load": "A test."})
    one = Worked(fitting, card, reckoning, {})
    assert [one.people(line) for line in range(1, 8)] == [1, 1, *[2 + (helpers == "two helpers")] * 3, 1, 1]
    assert [sum(number for _, number in one.held_at(line)) for line in card.plan] == [0, 0, irons, irons, irons, 0, 0]


@pytest.mark.parametrize("name", ["class-dinghy", "launch-refit"])
def test_the_sheets_that_ship_say_what_their_cards_say(library: Library, name: str) -> None:
    Law(library, kept_sheet(library, name)).holds()


CARDS: dict[str, dict[str, str]] = {
    "bonded-stepped-hole": {"thread": "M8", "T": "80 mm", "wood": "white-oak"},
    "blind-stud": {"thread": "M8", "T": "90 mm", "wood": "white-oak"},
    "bonded-screw": {"thread": "M8", "L_sc": "50 mm", "l_sc": "20 mm", "wood": "white-oak"},
    "cast-seat": {"thread": "M8", "R_c": "300 mm", "a_b": "150 mm", "b_b": "100 mm", "t_0": "10 mm"},
    "released-seat": {"thread": "M8", "R_c": "700 mm", "a_b": "100 mm", "b_b": "60 mm"},
    "bonded-bush": {"thread": "M8"},
    "cast-thread": {"thread": "M6"},
    "bedded-solid": {"thread": "M8", "n_h": "4", "T_sk": "40 mm"},
    "bedded-cored": {"thread": "M6", "n_h": "2", "o_sk": "4 mm", "c_sk": "12 mm", "i_sk": "4 mm"},
    "backing-plate": {"thread": "M8", "T": "45 mm"},
    "worn-hole": {"thread": "M6", "T_wo": "60 mm", "D_wo": "22 mm", "n_h": "2"},
    "heat-removal": {"thread": "M8", "metal": "silicon-bronze", "L_k": "10 mm", "wood": "white-oak"},
}


def random_sheet(luck: random.Random) -> JobSheet:
    """A few fittings, some with loads and so with trials, some in layers, on days with breaks and days off."""
    fittings = []
    for number in range(luck.randint(3, 6)):
        card = luck.choice([*CARDS])
        one: dict[str, Any] = {"name": f"fitting {number}", "card": card, "where": "somewhere", "given": CARDS[card]}
        one["count"] = str(luck.choice([1, 1, 2, 3]))
        if RAW[card]["job"].get("trial") and RAW[card]["job"].get("carries") and luck.random() < 0.5:
            one["load"] = {"said": "Made up.", "stated": "0.3 kN", "acts": "pull"}
        else:
            one["no_load"] = "Made up."
        if card == "worn-hole":
            one["waits"] = {"dry": luck.choice(["1 d", "9 d"])}
        if fittings and luck.random() < 0.3:
            one["after"] = [luck.choice(fittings)["name"]]
        fittings.append(one)
    crew = luck.randint(2, 4)
    conditions = {
        "shop": "metric",
        "temperature": f"{luck.randint(14, 26)} °C",
        "hardener": luck.choice(["slow", "medium"]),
        "ratio": "2:1 by volume",
        "syringe": "20 mL",
        "crew": str(crew),
        "aim": luck.choice(["shop", "shop", "class"]) if crew == 4 else "shop",
        "team": "2" if crew == 4 else "1",
        "stock": {"clamp": "20"},
        "start": "2027-06-01 08:00",
        "hours": f"08:00 to {luck.randint(16, 18)}:00",
        "breaks": luck.choice([[], ["12:00 to 12:45"]]),
        "days": luck.choice(
            [["monday", "tuesday", "thursday"], ["saturday", "sunday"], ["wednesday", "friday", "saturday"]]
        ),
        "days_off": luck.choice([[], ["2027-06-05 to 2027-06-20"]]),
    }
    sheet = {"title": "Random", "purpose": "A test.", "boat": "None.", "conditions": conditions, "fittings": fittings}
    return JobSheet.model_validate(sheet)


@pytest.mark.parametrize("seed", range(10))
def test_plans_of_random_sheets_say_what_their_cards_say(library: Library, seed: int) -> None:
    luck = random.Random(seed)
    document = library.documents["jobs/class-dinghy.yaml"]
    for _ in range(6):
        own = replace(
            library,
            job_sheets={**library.job_sheets, "random": random_sheet(luck)},
            documents={**library.documents, "jobs/random.yaml": document},
        )
        try:
            done = work_sheet(own, "random")
        except Faults:
            continue
        Law(own, done).holds()
        return
    raise AssertionError("six sheets that have no plan")


def test_the_law_is_broken_by_a_plan_that_is_not_the_cards(library: Library) -> None:
    """A stretch that is shorter, or moved ahead of its wait, or a mix made too late, is found."""
    done = kept_sheet(library, "launch-refit")
    slots = done.plan.clock.slots
    line = next(slot for slot in slots if slot.mix < 0 and slot.part == 3)
    mix = next(slot for slot in slots if slot.mix >= 0)
    for old, new in (
        (line, line._replace(end=line.end - MINUTE)),
        (line, line._replace(start=line.start - 30 * DAY, end=line.end - 30 * DAY)),
        (mix, mix._replace(start=mix.start + 5 * HOUR, end=mix.end + 5 * HOUR)),
    ):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(done.plan.clock, "slots", [new if slot is old else slot for slot in slots])
            with pytest.raises(AssertionError):
                Law(library, done).holds()
    Law(library, done).holds()


def test_the_planner_waits_as_the_cards_print(library: Library) -> None:
    """The parts that the plan is made of have the cards' own lengths and waits, no longer ones but in the cold."""
    for name in ("class-dinghy", "launch-refit"):
        done = kept_sheet(library, name)
        own = {one.name: replace(one, pair=None) for one in done.fittings}
        planner = Planner(library, done.sheet.conditions, own)
        for one in own.values():
            for place, line in enumerate(lines_of(library, one)):
                part = planner._part(one, place + 1)
                look = line.key in of_card(one).get("look", [])
                pause = part.pause - (looked(one, line.key)[0] if look else 0)
                own_times = (part.hands, part.wait + pause, part.cures, part.since)
                assert own_times == (line.hands, line.wait, line.cures, line.since), (one.name, line)
