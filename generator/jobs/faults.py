"""What must hold of job sheets, of what cards say for them, and of what shops sell."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ..errors import Fault, Faults
from ..kept import Kept, Origins
from ..model.library import Library
from ..model.schema import Card, OnTheJob
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


def put_aside(library: Library, kept: Kept, origins: Origins | None = None) -> None:
    """Work every sheet; one that cannot be planned is put among the spoilt, with the reasons."""
    origins = origins or Origins(library)
    for name in [*library.job_sheets]:
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
    card = library.cards[name]
    if card.job is not None:
        yield from _card_faults(library, card, card.job, library.documents[f"cards/{name}.yaml"])


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
    look = library.shop_sizes.look
    if look.earliest.value > look.latest.value:
        yield document.fault(("look", "earliest"), "the earliest is later than the latest; swap them")
    for key in _NEEDED:
        if key not in library.shop_sizes.sold:
            yield document.fault(("sold",), f"no row '{key}' here; every job sheet asks for it")


def _card_faults(library: Library, card: Card, on: OnTheJob, document: Document) -> Iterator[Fault]:
    path: Path_ = ("job",)
    for name in ("filler", "consistency") if on.mix else ():
        if name not in card.givens:
            yield document.fault((*path, "mix"), f"a job sheet asks this of a card that mixes: give '{name}'")
    shared = library.shop_sizes.shared if library.shop_sizes else {}
    named: list[tuple[Path_, str | None]] = [
        ((*path, key, place, name), getattr(one, name))
        for key, name, ones in (("hold", "thing", on.hold), ("buy", "shared", on.buy))
        for place, one in enumerate(ones)
    ]
    for here, thing in named:
        if thing is not None and shared and thing not in shared:
            message = f"no row '{thing}' under 'shared' in data/shop_sizes.yaml; rows: {', '.join(shared)}"
            yield document.fault(here, message)
    for place, bought in enumerate(on.buy):
        if bought.shared and bought.shared not in {one.thing for one in on.hold}:
            message = f"no line of this card holds '{bought.shared}'; say under 'hold' which do"
            yield document.fault((*path, "buy", place, "shared"), message)
    for place, planned in enumerate(card.plan):
        if planned.id and planned.id in [earlier.id for earlier in card.plan[:place]]:
            yield document.fault(("plan", place, "id"), f"another line has the id '{planned.id}'; give each its own")
    for here, line in _lines(on):
        if line not in card.lines:
            yield document.fault(here, no_line(line, card), at_key=here[1] == "by")
    yield from _plan_faults(card, on, document)
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
    if on.fill and on.fill not in card.givens:
        yield document.fault((*path, "fill"), f"'{on.fill}' is no input of this card; add it to 'givens'")
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
    for key in ("mix", "look"):
        if line := getattr(on, key):
            yield ("job", key), line
    for key in ("wait_first", "left_open", "unbroken", "fresh", "heat", "fumes", "lends"):
        for place, line in enumerate(getattr(on, key)):
            yield ("job", key, place), line
    for line in on.by:
        yield ("job", "by", line), line
    for place, one in enumerate(on.hold):
        for number, line in enumerate(one.lines):
            yield ("job", "hold", place, "lines", number), line
    for place, bore in enumerate(on.bores):
        if bore.line:
            yield ("job", "bores", place, "line"), bore.line


def _plan_faults(card: Card, on: OnTheJob, document: Document) -> Iterator[Fault]:
    """Lines that cannot be what the card says they are."""
    names = [line.id for line in card.plan]
    for place, line in enumerate(on.unbroken):
        at = card.lines.get(line, 0) - 1
        if at == 0 or (at > 0 and on.mix in names[at - 1 : at + 1]):
            message = f"'{line}' cannot follow without a break: it is first, or mixes, or comes right after the mix"
            yield document.fault(("job", "unbroken", place), message)
    whole = {on.mix, on.look, *on.by, *on.fresh, *on.unbroken}
    whole |= {names[card.lines[line] - 2] for line in on.unbroken if card.lines.get(line, 0) > 1}
    for place, planned in enumerate(card.plan):
        if planned.may_stop and planned.id in whole:
            message = f"'{planned.id}' goes with a mix, or with the line beside it, in one go; leave 'may_stop' out"
            yield document.fault(("plan", place, "may_stop"), message)
    for place, line in enumerate(on.left_open):
        if line in card.lines and card.plan[card.lines[line] - 1].wait:
            yield document.fault(("job", "left_open", place), f"'{line}' has a wait of its own; leave this out")
