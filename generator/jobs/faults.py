"""What must hold of job sheets, of what cards say for them, and of what shops sell."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from functools import partial

from ..errors import Fault, Faults
from ..kept import Kept, Origins
from ..model.library import Library
from ..model.schema import LOOKS, Card, OnTheJob
from ..model.yaml_text import Document, Path_
from .fittings import no_line
from .plan import SCALE
from .sheet import WorkedSheet, work_sheet

# Rows of shop_sizes.yaml that every sheet asks for.
_NEEDED = ("resin", "hardener", "filler", "syringe", "drill", "fastener")


def job_faults(library: Library, kept: Kept | None = None) -> Iterator[Fault]:
    """Everything that is wrong for job sheets, in cards, data and the sheets themselves."""
    kept, origins = kept or Kept(), Origins(library)
    faults = planned_faults(library, kept, origins)
    if not faults:
        put_aside(library, kept, origins)
    yield from (*faults, *(fault for own in library.spoilt.values() for fault in own))


def planned_faults(library: Library, kept: Kept, origins: Origins | None = None) -> list[Fault]:
    """What is wrong for every job sheet, in cards and data."""
    made_from = (origins or Origins(library)).planned
    return kept.faults("check cards for job sheets", made_from, partial(_planned_faults, library))


def put_aside(
    library: Library, kept: Kept, origins: Origins | None = None, names: Collection[str] | None = None
) -> None:
    """Work every sheet, or of `names` those there are; one that cannot be planned is put among the spoilt, with the
    reasons."""
    origins = origins or Origins(library)
    for name in [name for name in library.job_sheets if names is None or name in names]:
        try:
            worked_sheet(library, name, kept, origins)
        except Faults as error:
            library.spoilt[name] = error.faults
            del library.job_sheets[name]


def worked_sheet(library: Library, name: str, kept: Kept, origins: Origins) -> WorkedSheet:
    """The sheet, worked once for its check and its page. Raises Faults."""
    return kept.once(f"work jobs/{name}", origins.job_sheet(name), partial(work_sheet, library, name))


def _planned_faults(library: Library) -> Iterator[Fault]:
    yield from _shop_faults(library)
    for name in library.cards:
        yield from card_faults(library, name)


def card_faults(library: Library, name: str) -> Iterator[Fault]:
    """What is wrong in what one card says for job sheets."""
    card, document = library.cards[name], library.documents[f"cards/{name}.yaml"]
    yield from _plan_faults(library, card, document)
    if card.job is not None:
        yield from _card_faults(library, card, card.job, document)


def _shop_faults(library: Library) -> Iterator[Fault]:
    if library.shop_sizes is None:
        return
    document = library.documents["data/shop_sizes.yaml"]
    rows = library.shop_sizes.sold
    for name, sold in rows.items():
        for key, row in (("cut_from", sold.cut_from), ("width", sold.width)):
            if row and (row not in rows or rows[row].unit != "mm"):
                yield document.fault(("sold", name, key), f"no row '{row}' of lengths here; give the name of one")
    for symbol in ("m_c", "t_x"):
        if not any(symbol in one.values for one in library.always_given):
            yield document.fault((), f"no constant '{symbol}' in the data; every job sheet asks for it")
    if SCALE not in library.shop_sizes.shared:
        yield document.fault(("shared",), f"no row '{SCALE}' here; every mix is weighed on it")
    for key in _NEEDED:
        if key not in library.shop_sizes.sold:
            yield document.fault(("sold",), f"no row '{key}' here; every job sheet asks for it")


def _card_faults(library: Library, card: Card, on: OnTheJob, document: Document) -> Iterator[Fault]:
    path: Path_ = ("job",)
    looks = [place for place, line in enumerate(card.plan) if "look" in line.marks]
    if len(looks) not in (0, len(LOOKS)):
        message = "a card looks again at two times, or at none: mark two lines 'look', or none"
        yield document.fault(("plan", looks[-1], "marks"), message)
    for name in ("filler", "consistency") if card.mix_line else ():
        if name not in card.givens:
            here = ("plan", (card.mix_line or 1) - 1, "fill")
            yield document.fault(here, f"a job sheet asks this of a card that mixes: give '{name}'")
    held = {one.thing for line in card.plan for one in line.hold}
    shared = library.shop_sizes.shared if library.shop_sizes else {}
    for place, bought in enumerate(on.buy):
        if bought.shared and shared and bought.shared not in shared:
            yield document.fault((*path, "buy", place, "shared"), _not_shared(bought.shared, shared))
        if bought.shared and bought.shared not in held:
            message = f"no line of this card holds '{bought.shared}'; say at one of its plan 'hold: [{bought.shared}]'"
            yield document.fault((*path, "buy", place, "shared"), message)
    for here, line in _lines(on):
        if line not in card.lines:
            yield document.fault(here, no_line(line, card))
    if on.trial and (on.trial not in library.cards or library.cards[on.trial].job is None):
        yield document.fault((*path, "trial"), f"no card '{on.trial}' that has a 'job'; a trial is made by such a card")
    if on.pulled and not ((lender := library.cards.get(on.pulled)) and lender.job and lender.job.lends):
        yield document.fault((*path, "pulled"), f"no card '{on.pulled}' with lines in 'lends' to pull a joint by")
    for place, name in enumerate(on.change):
        if name not in card.givens:
            yield document.fault(
                (*path, "change", place), f"'{name}' is no input of this card; inputs: {', '.join(card.givens)}"
            )
    if on.plate and on.plate not in card.givens:
        yield document.fault((*path, "plate"), f"'{on.plate}' is no input of this card")
    for place, bore in enumerate(on.bores):
        if bore.kind and bore.kind not in card.givens:
            yield document.fault((*path, "bores", place, "kind"), f"'{bore.kind}' is no input of this card")
    known = {*card.named, *({*library.choices, "thread"} & {*card.givens})}
    for place, buy in enumerate(on.buy):
        if library.shop_sizes is not None and buy.shop not in library.shop_sizes.sold:
            sold = ", ".join(library.shop_sizes.sold)
            yield document.fault(
                (*path, "buy", place, "shop"), f"no row '{buy.shop}' in data/shop_sizes.yaml; rows: {sold}"
            )
        for part in buy.what.values:
            if part.name not in known:
                message = f"'{{{part.name}}}' is neither worked by this card nor one of its choices"
                yield document.fault_in_text((*path, "buy", place, "what"), f"{{{part.name}}}", message)


def _lines(on: OnTheJob) -> Iterator[tuple[Path_, str]]:
    """Every place where a line of the plan is named."""
    for place, line in enumerate(on.lends):
        yield ("job", "lends", place), line
    for place, bore in enumerate(on.bores):
        if bore.line:
            yield ("job", "bores", place, "line"), bore.line


def _plan_faults(library: Library, card: Card, document: Document) -> Iterator[Fault]:
    """Lines that cannot be what the card says they are."""
    ids = [line.id for line in card.plan]
    shared = library.shop_sizes.shared if library.shop_sizes else {}
    for place, line in enumerate(card.plan):
        path: Path_ = ("plan", place)
        name, before = line.id or f"line {place + 1}", card.plan[place - 1] if place else None
        after = card.plan[place + 1] if place + 1 < len(card.plan) else None
        decided = [one for one in card.plan[place : card.mix_line or 0] if "decides" in one.marks]
        if "left_open" in line.marks and place < (card.mix_line or 0) and not decided:
            message = f"'left_open': nothing says how long '{name}' takes; mark a line between it and the mix 'decides'"
            yield document.fault((*path, "marks", line.marks.index("left_open")), message)
        if line.id and line.id in ids[:place]:
            yield document.fault((*path, "id"), f"another line has the id '{line.id}'; give each its own")
        if line.fill and place + 1 != card.mix_line:
            yield document.fault((*path, "fill"), "another line mixes already; a card mixes in one line of its plan")
        if line.fill and line.fill not in card.givens:
            yield document.fault((*path, "fill"), f"'{line.fill}' is no input of this card; add it to 'givens'")
        if "unbroken" in line.marks and (before is None or before.fill or line.fill):
            message = f"'unbroken': '{name}' is first, or mixes, or comes right after the mix; leave this out"
            yield document.fault((*path, "marks", line.marks.index("unbroken")), message)
        whole = line.fill or line.by or {"look", "fresh", "unbroken"} & {*line.marks}
        if line.may_stop and (whole or (after and "unbroken" in after.marks)):
            message = f"'{name}' goes with a mix, or with the line beside it, in one go; leave 'may_stop' out"
            yield document.fault((*path, "may_stop"), message)
        if "left_open" in line.marks and (line.wait or not line.id):
            wait = f"'left_open': '{name}' has a wait of its own; leave this out"
            message = wait if line.wait else "'left_open': a job sheet knows this line by its 'id'; give one"
            yield document.fault((*path, "marks", line.marks.index("left_open")), message)
        for number, one in enumerate(line.hold):
            if shared and one.thing not in shared:
                yield document.fault((*path, "hold", number, "thing"), _not_shared(one.thing, shared))


def _not_shared(thing: str, shared: Iterable[str]) -> str:
    return f"no row '{thing}' under 'shared' in data/shop_sizes.yaml; rows: {', '.join(shared)}"
