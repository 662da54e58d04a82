"""What a job sheet tells whoever does the work: what no one may load yet, what is left out, what nobody sells, what is
bored with what, and from when to when."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from functools import cache, partial
from math import ceil, floor

import pytest
from test_jobs import LAUNCH, Alone, Sheets, alone, changed, only, told

from conftest import HOUSE, kept_sheet, read_yaml
from generator.jobs.fittings import PLATE_DRILL, carried
from generator.jobs.plan import Batch, Planner, line_of, neat_of
from generator.jobs.sheet import work_sheet
from generator.language import day_in_a_plan
from generator.model.library import Library
from generator.model.schema import Bore
from generator.pages.job_sheet import JobPage
from generator.pages.options import SiteOptions
from generator.pages.site import environment
from generator.reckoning import reckon
from generator.units import from_base, plain, read_quantity

__all__ = ["alone"]
MINUTE = 60
DEMOS = ("class-dinghy", "launch-refit")


@pytest.fixture(scope="module", params=DEMOS)
def page(request: pytest.FixtureRequest, library: Library) -> JobPage:
    """The page of each sheet that ships."""
    return JobPage(library, request.param, SiteOptions(), kept_sheet(library, request.param))


@pytest.fixture(scope="module")
def sheets(library: Library) -> Sheets:
    """The sheets that ship, each worked once."""
    return cache(partial(kept_sheet, library))


def text_of(page: JobPage) -> str:
    """The page as Markdown."""
    return plain(environment().get_template("job.md.j2").render(page=page, sheet=page.sheet))


def bores(library: Library) -> list[tuple[str, Bore]]:
    """Every hole that a card bores."""
    return [(name, bore) for name, card in library.cards.items() if card.job for bore in card.job.bores]


# What may be loaded, and when


def test_what_has_no_load_is_loaded_when_somebody_has_said_so(page: JobPage) -> None:
    """What is worked is told beside the time, and of all else who says it first; what came out is in no list."""
    told = {one.name: one for one in page.ready}
    for name, share in page.plan.shares.items():
        worked = share.worked
        if worked.tries or worked.on_the_job.leaves:
            assert name not in told
            continue
        names = (worked.name, worked.sheets_name)
        check = next((one for one in page.worked.loads if one.worked.name in names), None)
        assert (check is None) == (worked.fitting.load is None)
        if check is None:
            assert "naval architect, rigger or surveyor says first" in told[name].bears
        else:
            assert check.carries
            assert told[name].bears.startswith(page.capacity(check.carries))
    assert any(share.worked.on_the_job.leaves for share in page.plan.shares.values()) == (page.name == "launch-refit")


def test_nuts_on_wood_are_turned_again_a_month_after_the_last_work(page: JobPage) -> None:
    days = set()
    for one in page.ready:
        worked = page.plan.shares[one.name].worked
        ready = page.moment(page.plan.clock.ready[one.name])
        due = day_in_a_plan(ready + timedelta(days=30)) if "wood-shrinks" in worked.card.all_cautions else ""
        assert one.again == due
        days.add(bool(due))
    assert days == {True, False}


def test_what_is_called_a_bollard_is_a_designers(alone: Alone) -> None:
    for name in ("old bollard", "quarter cleat", "stern cleat 2"):
        found = told(alone(changed(LAUNCH, ("name: seat locker catch", f"name: {name}"))))
        assert ["what a designer decides" in message for *_, message in found] == [True]


# What nobody sells


SCREW = """\
title: A screw
purpose: One screw, of a length that shops have or have not.
boat: A block of wood.
conditions:
  {shop: %s, temperature: 20 °C, hardener: slow, ratio: "2:1 by volume", syringe: 20 mL, crew: "2",
   start: 2027-06-01 08:00, hours: 08:00 to 17:00}
fittings:
  - name: cleat
    card: bonded-screw
    where: a block
    given: {%s, wood: white-oak, pilot: dense, n_h: "2"}
    no_load: A test.
"""


@pytest.mark.parametrize(
    ("shop", "given", "why"),
    [
        # Base 6, shank 20, thread 50, tip 8: 84 mm, which nobody has; with a base of 12 it is 90.
        ("metric", "thread: M8, L_sc: 50 mm, l_sc: 20 mm, b_sk: 6 mm", "84 mm; of those in 80 mm, 90 mm measure thread and shank"),
        ("metric", "thread: M8, L_sc: 50 mm, l_sc: 20 mm, b_sk: 12 mm", ""),
        # 5/16 + 1/4 + 1 3/4 + 1/4 in, as a boatyard's sheet had it.
        ("inch", "thread: 1/4-20 UNC, L_sc: 1 3/4 in, l_sc: 1/4 in, b_sk: 5/16 in", "2 9/16 in; of those in 2 1/2 in, 3 in measure"),
        ("metric", "thread: M8, L_sc: 150 mm, l_sc: 100 mm, b_sk: 12 mm", "270 mm; of those in 200 mm measure"),
    ],
)  # fmt: skip
def test_no_hole_is_bored_for_a_screw_that_nobody_sells(alone: Alone, shop: str, given: str, why: str) -> None:
    done = work_sheet(alone(SCREW % (shop, given)), "own")
    assert [*done.held] == (["cleat"] if why else [])
    assert why in plain("".join(held.why for held in done.held.values()))
    assert bool(done.holes.runs) == (not why)
    assert any("screw" in item.what for item in done.shopping) == (not why)


# What is bored with what


def test_a_hole_that_is_there_already_is_plugged_before_it_is_widened(library: Library, sheets: Sheets) -> None:
    """Every kind of drill has a point or a spur that runs ahead of its edges and wants wood under it."""
    for row in read_yaml(HOUSE / "procedures/data/drills.yaml")["rows"].values():
        assert row["gives"]["e_*"] != "0 mm" or row["gives"]["alpha_*"] != "180 deg"
    widened = {name: bore for name, bore in bores(library) if bore.widens}
    assert {*widened} == {name for name, card in library.cards.items() if card.job and card.job.mends}
    for name, bore in widened.items():
        card = library.cards[name]
        assert any("plug" in need.what for need in card.needs.tools)
        assert re.match("Plug ", card.plan[card.lines[str(bore.line)] - 1].what)
        assert any(step.line.startswith("Plug it") for step in card.steps)
    page = JobPage(library, "launch-refit", SiteOptions(), sheets("launch-refit"))
    assert "bore out to sound wood, the old one plugged first" in text_of(page)


SEAT = "ensign socket on its seat"
BY = "by: {card: bedded-solid, given: {"


def test_what_is_seated_and_loaded_is_bored_bought_and_bedded_once(library: Library, sheets: Sheets) -> None:
    """Its own card bores, buys and times it; another says what the same bolts carry."""
    page = JobPage(library, "launch-refit", SiteOptions(), sheets("launch-refit"))
    done = page.worked
    (seat,) = [one for one in done.fittings if one.name == SEAT]
    assert sum(holes.count for run in done.holes.runs for holes in run.holes if holes.share.name == SEAT) == 4
    assert [item.need for item in done.shopping if " bolt of " in item.what and SEAT in item.users] == ["4"]
    (check,) = [one for one in done.loads if one.worked.name == SEAT]
    assert seat.fitting.load
    assert seat.fitting.load.by
    inputs = {"shop": "metric", "T_a": "16 degC", **seat.fitting.load.by.given}
    _, carries, _ = carried(library, library.cards["bedded-solid"], inputs, "pull", None)
    assert page.capacity(float(check.carries or 0)) == page.capacity(carries)
    (ready,) = [one for one in page.ready if one.name == SEAT]
    assert page.capacity(carries) in ready.bears
    assert "by the card Fitting bedded on solid wood (thread of the bolts: M8; bolts in one fitting: 4" in text_of(page)


def test_what_another_card_reckons_a_load_with_is_bought_with_its_size(library: Library, sheets: Sheets) -> None:
    """By hand: in 60 mm of white oak a washer of 24 mm over a hole of 8.5 mm bears on pi / 4 x (24^2 - 8.5^2) = 396 mm2,
    one of 16 mm on 144 mm2, so with that the seat would bear 144 / 396 = 36 % of what is printed, under its load."""
    page = JobPage(library, "launch-refit", SiteOptions(), sheets("launch-refit"))
    (check,) = [one for one in page.worked.loads if one.worked.name == SEAT]
    assert check.carries is not None
    assert check.load < check.carries
    assert check.carries * (16**2 - 8.5**2) / (24**2 - 8.5**2) < check.load
    bought = {plain(item.what): item for item in page.worked.shopping if SEAT in item.users}
    washers = bought["washer for M8, 24 mm across"]
    others = [one for one in page.worked.fittings if one.name in washers.users and one.name != SEAT]
    assert int(washers.need) == 4 + sum(
        one.fitting.pieces * one.each("n_h") if "n_h" in one.card.givens else one.fitting.pieces for one in others
    )
    (bolts,) = [what for what in bought if " bolt of " in what]
    assert bolts.startswith("M8 bolt of stainless steel A4-70 with two nuts, ")
    said = plain(page.decides(check))
    assert said.endswith("with 4 × M8 bolt of stainless steel A4-70 with two nuts; 4 × washer for M8, 24 mm across")


def test_what_joins_a_screw_to_the_lever_is_bought_and_told(library: Library, sheets: Sheets) -> None:
    """The screw of the strake's end is 90 mm long and about 78 mm of it are in the wood, so 12 mm stand out; packer and
    bar reach 80 + 29 = 109 mm up. What is pulled until it gives is pulled with twice the proof load at most."""
    page = JobPage(library, "launch-refit", SiteOptions(), sheets("launch-refit"))
    (puller,) = {id(one.puller): one.puller for one in page.trials if one.puller}.values()
    height = from_base(puller.value("h_pk") + puller.value("h_tr"), "m", "mm")
    assert height > 90 - 78
    (item,) = [item for item in page.worked.shopping if item.what.startswith("steel stirrup for the head of a screw")]
    assert plain(puller.reckoning.shop("F_tr")) in plain(item.what)
    assert "a rod up through the bars join them" in text_of(page)


def test_what_falls_short_by_another_card_is_held_out_as_its_own(alone: Alone) -> None:
    library = alone(only(LAUNCH, SEAT).replace("stated: 1.2 kN", "stated: 9 kN"))
    page = JobPage(library, "own", SiteOptions())
    ((one, why),) = page.held
    assert (one.fitting.card, why) == ("released-seat", "it falls short of its load")
    assert not page.worked.holes.runs
    assert page.short[0].remedies == [] or all(remedy.card != "released-seat" for remedy in page.short[0].remedies)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (BY, "by: {card: bedded-sold, given: {", "the card 'bedded-sold' gives no load of what is not tried first; cards: "),
        (BY, "by: {card: blind-stud, given: {", "the card 'blind-stud' gives no load of what is not tried first"),
        (BY, "by: {card: cast-seat, given: {", "the card 'cast-seat' gives no load"),
        (BY + "thread: M8", BY + "thread: M77", "thread 'M77' is not in the data"),
        (BY + "thread: M8", BY + "t_hread: M8", "t_hread"),
        ("acts: pull", "acts: lasting", "this card gives no load for 'lasting'"),
        ("card: released-seat", "card: bedded-solid", "the fitting's own card says what it carries; leave this out"),
    ],
)  # fmt: skip
def test_a_card_that_cannot_carry_is_refused(alone: Alone, old: str, new: str, message: str) -> None:
    text = only(LAUNCH, SEAT)
    if "own card" in message:
        text = text.replace('    holes: "4"\n', "")
        text = text.replace("{thread: M8, T: 60 mm, wood: white-oak, R_c: 400 mm,", '{thread: M8, n_h: "4",')
    assert old in text
    faults = told(alone(text.replace(old, new)))
    assert [message in fault[3] for fault in faults] == [True], faults


def test_every_plate_has_its_holes_and_a_drill_of_its_own(library: Library, page: JobPage) -> None:
    """What is sawn from flat bar lies behind bolts, so that each bolt goes through it too, and no drill for wood does."""
    for name, card in library.cards.items():
        plates = [buy.size for buy in card.job.buy if buy.shop == "plate"] if card.job else []
        assert [bore.depth for own, bore in bores(library) if own == name and bore.plate] == plates
    for run in page.worked.holes.runs:
        assert {holes.bore.plate for holes in run.holes} == {run.drill.kind == PLATE_DRILL}
    for one in page.worked.fittings:
        for bore in (bore for bore in one.bores if bore.plate):
            own = [
                holes.count
                for run in page.worked.holes.runs
                for holes in run.holes
                if holes.bore == bore and holes.worked.fitting == one.fitting
            ]
            assert sum(own) == one.fitting.pieces * one.holes


def test_a_mark_is_deeper_than_its_hole_by_the_point(library: Library, page: JobPage) -> None:
    """A hole whose depth is measured from the tip has its mark alone."""
    for run in page.worked.holes.runs:
        for holes in run.holes:
            if holes.bore.depth and holes.bore.mark:
                assert holes.worked.value(holes.bore.mark) > holes.worked.value(holes.bore.depth)
            assert (page.depth(holes) == "to its mark") == bool(holes.bore.mark and not holes.bore.depth)
    (pilot,) = [bore for name, bore in bores(library) if name == "bonded-screw" and bore.what == "pilot for the thread"]
    assert (pilot.depth, pilot.mark) == (None, "T_sc")


def test_a_seats_bolt_holes_are_drilled_when_its_pads_are_made(sheets: Sheets) -> None:
    """45 min for pads, dry fit and drilling, of which four holes take 20."""
    plan = sheets("launch-refit").plan
    for name in ("water filler seat", "ensign socket on its seat"):
        (holes,) = [holes for holes in plan.bored if holes.share.name == name]
        first = min(slot.start for slot in plan.clock.slots if slot.lot == name)
        assert holes.at - first >= 25 * MINUTE


# What may be left out of a mix


def test_wood_that_dried_is_read_by_the_meter_before_its_mix(page: JobPage) -> None:
    """By the card's own number; and the mix tells by how much less it is without what is still too wet."""
    for share in page.plan.shares.values():
        lines = share.worked.card.plan
        if not any("left_open" in line.marks for line in lines):
            continue
        (read,) = [line for line in lines if "decides" in line.marks]
        slot = next(one for one in page.plan.clock.slots if one.lot == share.name and one.part >= 0 and lines[line_of(share.worked, one.part)] is read)  # fmt: skip
        numbers = [number for number, batch in enumerate(page.plan.batches, 1) if share.name in batch.layers]
        said, _ = page.said(slot)
        assert plain(said).startswith("Read the meter: wood moisture 18 % or less, falling no more; else leave it out")
        assert said.endswith(f" {', '.join(map(str, numbers))} and plan again: its later rows do not hold then")
        first = page.plan.batches[numbers[0] - 1]
        assert slot.end <= first.start <= slot.end + 4 * 3600
        assert any("moisture meter" in line for _, lines in page.tools for line in lines)


WET = """\
title: Wet
purpose: A plug of which nobody knows beforehand whether it is dry.
boat: A block of wood.
conditions:
  {shop: metric, temperature: 20 °C, hardener: slow, ratio: "2:1 by volume", syringe: 20 mL, crew: "2",
   start: 2027-06-01 08:00, hours: 08:00 to 17:00}
fittings:
  - {name: plug, card: worn-hole, where: a block, given: {thread: M6, T_wo: 20 mm, D_wo: 10 mm}, waits: {dry: 1 d}, no_load: A test.}
  - {name: other, card: worn-hole, where: a block, given: {thread: M6, T_wo: 30 mm, D_wo: 10 mm}, waits: {dry: 1 d}, no_load: A test.}
"""  # fmt: skip


def test_without_a_fitting_a_mix_is_what_it_would_be_for_the_others(alone: Alone) -> None:
    library = alone(WET)
    done = work_sheet(library, "own")
    (batch,) = done.plan.batches
    page = JobPage(library, "own", SiteOptions(), done)
    for share in batch.shares:
        (other,) = [one for one in batch.shares if one is not share]
        alone_in = Planner(library, done.sheet.conditions, {other.worked.name: other.worked})
        rest = alone_in._batch_of([(replace(other, amounts={}), 1)])
        (said,) = [what for what, *_ in page.mixes[0].amounts if what.startswith(f"without {share.name} ")]
        told = {
            key: float(number) for key, number in re.findall(r"(resin|hardener|filler|into|unthickened) ([\d.]+)", said)
        }
        (cup,) = rest.thickened
        assert told["resin"] == pytest.approx(1000 * rest.values["m_r"], abs=0.051)
        assert told["hardener"] == pytest.approx(1000 * rest.values["m_h"], abs=0.051)
        assert told["filler"] == pytest.approx(ceil(1e4 * cup.values["m_f"] - 1e-6) / 10)
        assert told["into"] + told["unthickened"] == pytest.approx(told["resin"] + told["hardener"])
    # Nothing is told of both together, for without them there is no mix.
    assert sum(what.startswith("without") for what, *_ in page.mixes[0].amounts) == 2
    assert neat_of(batch.shares) == pytest.approx(batch.values["m_b"])


def test_a_wait_that_is_left_open_before_a_mix_is_judged(alone: Alone, library: Library) -> None:
    """No card can leave a wait open and mix without a look at what it came to."""
    for card in library.cards.values():
        places = [place for place, line in enumerate(card.plan) if "left_open" in line.marks]
        for place in places if card.mix_line else ():
            assert any("decides" in line.marks for line in card.plan[place : card.mix_line])


# Hands, times and things


def test_what_never_turns_to_rubber_is_tightened_day_by_day(library: Library) -> None:
    asked = [
        card
        for card in library.cards.values()
        if "compound" in card.givens and any("ighten" in line.what for line in card.plan)
    ]
    assert len(asked) == 5
    for card in asked:
        for compound, daily in (("butyl-tape", True), ("polysulfide", False)):
            done = reckon(library, card, {"shop": "metric", "compound": compound})
            (*_, line) = [done.reads(line.what) for line in card.plan if "ighten" in line.what]
            assert ("each day" in line) == daily, (card.title, line)


def test_a_plate_that_is_bought_as_a_bar_is_cut_in_the_plan(library: Library) -> None:
    found = {name: card for name, card in library.cards.items() if card.job and any(buy.sides for buy in card.job.buy)}
    assert len(found) >= 4
    for name, card in found.items():
        given = {"q_sk": "6 mm"} if "q_sk" in card.givens else {}
        done = reckon(library, card, {"shop": "metric", **given})
        assert any(re.search(r"\b[Cc]ut\b.*\bplate", done.reads(line.what)) for line in card.plan), name


def test_nobody_is_sent_without_the_syringe_and_the_jig_of_a_screw(library: Library, sheets: Sheets) -> None:
    page = JobPage(library, "launch-refit", SiteOptions(), sheets("launch-refit"))
    (small,) = [item for item in page.worked.shopping if item.what.startswith("small syringe")]
    # Three trials and four ends; in each mix two teams fill at once, and a syringe is used for one mix only.
    assert (small.group, small.need) == ("Epoxy", "7")
    mixes = [batch for batch in page.plan.batches if any("strake" in share.name for share in batch.shares)]
    assert sum(sum("strake" in name for name in team) > 0 for batch in mixes for team in batch.dealt) <= 7
    tools = [line for _, lines in page.tools for line in lines]
    assert any("a flat strip, two packings and two clamps" in line for line in tools)


def test_evenings_and_a_whole_saturday_are_kept_and_told(alone: Alone) -> None:
    """Nothing is done outside the hours of its day, and what is too long for an evening waits for the Saturday."""
    text = only(LAUNCH, "seat locker catch", "hatch slide").replace('crew: "2"', 'crew: "1"\n  helper: a neighbour')
    text = text.replace("hours: 08:30 to 17:00", "hours: 18:30 to 21:00\n  hours_on: {saturday: 09:00 to 17:00}")
    text = text.replace("thursday, friday]", "thursday, saturday]")
    page = JobPage(alone(text), "own", SiteOptions())
    saturdays = 0
    for slot in page.plan.clock.slots:
        moment, end = page.moment(slot.start), page.moment(slot.end)
        saturday = moment.weekday() == 5
        opens, closes = ("09:00", "17:00") if saturday else ("18:30", "21:00")
        assert moment.weekday() != 4
        assert opens <= f"{moment:%H:%M}" < f"{end:%H:%M}" <= closes
        assert not saturday or not ("12:00" <= f"{moment:%H:%M}" < "12:30")
        saturdays += saturday
    assert saturdays
    told = dict(page.conditions)
    assert (told["working hours"], told["Saturday"], told["breaks"]) == (
        "18:30 to 21:00",
        "09:00 to 17:00",
        "12:00 to 12:30",
    )


def test_each_team_that_fills_has_a_syringe_of_its_own(alone: Alone) -> None:
    """Two rings of which one syringe would hold all, filled by two people at once."""
    ring = (
        only(LAUNCH, "engine hatch ring")
        .replace("syringe: 20 mL", "syringe: 60 mL")
        .replace('count: "4"', 'count: "2"')
    )
    library = alone(ring)
    plan = work_sheet(library, "own").plan
    (batch,) = plan.batches
    (share,) = batch.shares
    assert [*batch.dealt] == [{share.name: 1}, {share.name: 1}]
    assert batch.syringes == 2
    alone_in = work_sheet(alone(ring.replace('crew: "2"', 'crew: "1"')), "own")
    assert [one.syringes for one in alone_in.plan.batches] == [1]
    # What stays in the second one is mixed too: a part of 60 mL.
    more = batch.values["m_b"] - alone_in.plan.batches[0].values["m_b"]
    kept = 60e-6 * (1 - share.worked.value("u_s"))
    assert 0.3 * kept * 1000 < more < 1.2 * kept * 1000


def test_the_shares_of_a_mix_are_what_was_weighed_as_printed(page: JobPage) -> None:
    """Resin and hardener as printed are what goes under the fillers as printed, and what is kept."""
    assert page.mixes
    for mix in page.mixes:
        (_, resin, _), (_, hardener, _), *_ = mix.amounts
        whole = float(resin.split()[0]) + float(hardener.split()[0])
        shares = [float(found[1]) for what, *_ in mix.amounts if (found := re.search(r", into ([\d.]+)\sg of", what))]
        (kept,) = [float(mass.split()[0]) for what, mass, _ in mix.amounts if what.startswith("kept")]
        assert len(shares) == len(mix.batch.thickened)
        assert sum(shares) + kept == pytest.approx(whole)
        # What every share is rounded up by comes out of what is kept, which has the waste in it.
        spare = 1000 * (mix.batch.values["m_b"] - sum(cup.neat for cup in mix.batch.thickened))
        assert spare - 0.1 * len(shares) - 0.101 <= kept <= spare + 0.101


def test_a_margin_follows_from_the_loads_that_are_printed(page: JobPage) -> None:
    told = [check for check in page.worked.loads if check.carries is not None]
    assert told
    for check in told:
        must, carries = (Fraction(text.split()[0]) for text in (page.load(check), page.capacity(check.carries)))
        over = floor((carries - must) * 100 / must)
        assert page.margin(check) == (f"{over} % over" if over >= 0 else f"{-over} % short")
        assert check.falls_short == (carries < must)


def test_no_minute_has_more_teams_at_its_rows_than_there_are(page: JobPage) -> None:
    """As the rows say it, which name who works from their first minute to their last."""
    teams = page.sheet.conditions.teams
    for row in page.stretches:
        assert sum(one.teams for one in page.stretches if one.start <= row.start < one.end) <= teams
    # And what is joined is all that was planned.
    assert sum((one.end - one.start) * one.teams for one in page.stretches) == sum(
        (one.end - one.start) * one.teams for one in page.plan.clock.slots
    )


def test_what_tops_up_is_still_open_in_its_tray(page: JobPage) -> None:
    """A cup lasts less long than a look again comes after it; spread thin the same mix lasts."""
    past = 0
    for mix in page.mixes:
        batch = mix.batch
        (until,) = [time for name, time in mix.times if name == "tray open until"]
        open_ = min(share.worked.time("t_o") for share in batch.shares)
        assert until == page.hour(batch.start + int(open_))
        for slot in page.plan.clock.slots:
            share = next((one for one in batch.shares if one.name == slot.lot), None)
            if share and slot.mix < 0 <= slot.part:
                line = share.worked.card.plan[line_of(share.worked, slot.part)]
                if "look" in line.marks and share.worked.layers == batch.layers[share.name]:
                    assert slot.end <= batch.start + open_
                    past += slot.end > batch.start + page.plan.lasts
    assert past or page.name == "class-dinghy"


def test_what_two_teams_fill_together_is_told_from_what_they_share_out(page: JobPage) -> None:
    for mix in page.mixes:
        every = [name for team in mix.batch.dealt for name in team]
        for team, said in zip(mix.batch.dealt, mix.teams, strict=bool(mix.teams)):
            for name, named in zip(team, said.split("; "), strict=True):
                whole = {share.name: share.pieces for share in mix.batch.shares}[name]
                ending = f" ({team[name]})" if team[name] < whole else ", together" if every.count(name) > 1 else ""
                assert named == name + ending


def test_a_mix_says_how_much_it_is_without_what_a_trial_may_hold_back(library: Library, sheets: Sheets) -> None:
    page = JobPage(library, "launch-refit", SiteOptions(), sheets("launch-refit"))
    mixes = [
        mix for mix in page.mixes if [name.partition(",")[0] for name, _, _ in mix.fittings].count("rubbing strake end")
    ]
    assert [mix for mix in mixes if len(mix.fittings) > 1]
    for mix in mixes:
        told = [what for what, _, _ in mix.amounts if what.startswith("without rubbing strake end")]
        # Alone, and with another that may be left out too, where a third is in the mix.
        assert len(told) == len(mix.fittings) - 1
        # Nothing of a cup that is its alone is weighed.
        assert not any("colloidal silica" in what for what in told)


def turned_loose(page: JobPage, batch: Batch) -> set[tuple[str, int]]:
    """The shares of a mix that are turned loose by its sample, each with the part that does it."""
    found = set()
    for slot in page.plan.clock.slots:
        if slot.mix < 0 <= slot.part and slot.lot in {share.name for share in batch.shares}:
            worked = page.plan.shares[slot.lot].worked
            if worked.card.plan[line_of(worked, slot.part)].by:
                found.add((slot.lot, slot.part))
    return found


def test_what_is_turned_loose_says_from_when_to_when(page: JobPage) -> None:
    """As the card counts, both from the mix: epoxy ages from mixing, not from when all is filled."""
    found = 0
    for slot in page.plan.clock.slots:
        if slot.mix >= 0 or slot.part < 0:
            continue
        (share,) = page.plan.shares_of(slot)
        line = share.worked.card.plan[line_of(share.worked, slot.part)]
        said, _ = page.said(slot)
        window = re.search(r"by the sample between (\d\d):(\d\d) and (\d\d):(\d\d)", said)
        assert bool(window) == bool(line.by)
        if not window:
            continue
        found += 1
        first, last = (int(window[at]) * 3600 + int(window[at + 1]) * 60 for at in (1, 3))
        (batch,) = [batch for batch in page.plan.batches if share.name in batch.layers][-1:]
        printed = {key: read_quantity(plain(share.worked.reckoning.shop(key)), "s") for key in ("t_y1", "t_y2")}
        assert first == pytest.approx((batch.start + printed["t_y1"]) % 86400, abs=MINUTE)
        assert last == pytest.approx((batch.start + printed["t_y2"]) % 86400, abs=MINUTE)
        assert first <= slot.start % 86400 + 59
        # The first row of a mix stands where its window opens, but for a break; then the sheet says so.
        begun = min(one.start for one in page.plan.clock.slots if (one.lot, one.part) in turned_loose(page, batch))
        rests = page.sheet.conditions.rests
        assert begun == batch.start + printed["t_y1"] or any(start - 5 * MINUTE < first < end for start, end in rests)
        at = f"; at {window[1]}:{window[2]} the hours have no room for it, so somebody comes to look"
        assert (at in said) == (begun > batch.start + printed["t_y1"])
        (block,) = [mix for mix in page.mixes if mix.batch is batch]
        looked = dict(block.times)["look at the sample from"]
        assert int(looked[:2]) * 3600 + int(looked[3:5]) * 60 <= first
        assert slot.end % 86400 <= last
        late = last > page.sheet.conditions.opens_and_closes[1]
        assert said.endswith(": somebody stays, or comes back for it") == late
    assert found > 2


@pytest.mark.parametrize(("temperature", "over"), [("16 °C", "1 °C"), ("17 °C", "2 °C"), ("18 °C", "")])
def test_a_plan_near_the_coldest_at_which_its_hardener_cures_is_warned_of(
    alone: Alone, temperature: str, over: str
) -> None:
    """15 °C is the least for the launch's hardener, and 2 °C more are too near to it."""
    text = only(LAUNCH, "seat locker catch").replace("temperature: 16 °C", f"temperature: {temperature}")
    page = JobPage(alone(text), "own", SiteOptions())
    assert plain(page.chill) == over
    assert ("read a thermometer that lies on the work morning and night" in text_of(page)) == bool(over)


def test_all_that_the_cards_list_lies_ready(page: JobPage) -> None:
    """Each tool and each thing without an amount, of every card in the plan; what has an amount is counted elsewhere."""
    text = text_of(page)
    listed = dict(page.tools)
    for one in page.worked.fittings:
        for need in [*one.card.needs.tools, *one.card.needs.materials]:
            here = need.amount is None and one.reckoning.holds(need.when)
            assert (one.reckoning.reads(need.what) in listed[one.card.title]) == here
    for word in ("goggles", "moisture meter", "dust mask"):
        assert word in text.lower().partition("what the cards list")[2]


def test_a_fittings_sizes_stand_on_paper(page: JobPage) -> None:
    text = text_of(page)
    for one in page.all_fittings:
        assert page.sizes(one)
        for key, value in one.fitting.given.items():
            assert plain(one.reckoning.titles.get(key, value)) in text


def test_it_is_told_what_one_of_several_is(library: Library, sheets: Sheets) -> None:
    page = JobPage(library, "launch-refit", SiteOptions(), sheets("launch-refit"))
    said = {one.name: page.number(one) for one in page.all_fittings}
    assert said["awning cleat, aft"] == "4 of them, each one bolt with its plate"
    assert said["hatch slide"] == "6 of them, 2 holes in each"
    assert said["awning cleat, forward"] == "4 holes"
    assert said["towing eye"] == ""


def test_amounts_are_told_as_they_are_bought(page: JobPage) -> None:
    """One pack may hold far more than is needed, where no smaller is sold."""
    assert "no more than 25 % of the need over, or in the smallest pack there is" in text_of(page)
