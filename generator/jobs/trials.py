"""Trial joints: a joint that hangs on a bond is tried in an offcut before the boat's own is made.

The card of a joint names the card by which it is tried. A trial is a fitting of its own in the plan. It takes the
inputs of the fitting that it stands for, one serves all that are alike, and they wait until it is judged.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..language import later, tr
from ..model.jobsheet import Fitting, JobSheet
from ..model.library import Library
from ..model.prose import Prose
from ..model.schema import Card
from ..reckoning import InputError, Reckoning, reckon
from .fittings import Worked, carried, lent_by, wait_time

# Inputs that a trial does not take over: how many there are on the boat, and the load there.
_OWN = ("N", "F_n")


def add_trials(library: Library, sheet: JobSheet, fittings: Sequence[Worked]) -> list[Worked]:
    """The trials that the cards ask for, before the fittings that wait for them. A joint out of the range in which it
    can be tried has the reason in `untried`."""
    found: dict[tuple[tuple[str, str], ...], tuple[Card, Reckoning, dict[str, str], list[Worked]]] = {}
    for one in fittings if sheet.no_trials is None else ():
        name = one.on_the_job.trial
        if not (name and one.fitting.load):
            continue
        card = library.cards[name]
        inputs = trial_inputs(card, one)
        key = (("card", name), *sorted(inputs.items()))
        if key in found:
            found[key][3].append(one)
            continue
        try:
            reckoning = reckon(library, card, inputs)
        except InputError as error:
            one.untried = str(error)
            continue
        one.untried = "; ".join(reckoning.working.reasons(symbol for symbol in card.named if symbol not in card.loads))
        if not one.untried:
            found[key] = (card, reckoning, inputs, [one])
    taken = {one.name.lower() for one in fittings}
    trials = []
    for (_, name), *_rest in found:
        card, reckoning, inputs, tried = found[(("card", name), *_rest)]
        trial = Worked(_fitting(name, inputs, tried, taken), card, reckoning, inputs, tries=tried)
        why = _pull(library, trial, trial.on_the_job.pulled) if trial.on_the_job.pulled else ""
        for one in tried:
            one.untried = why
        for one in () if why else tried:
            one.before.append((trial.name, len(trial.card.plan)))
        trials += [] if why else [trial]
    return [*trials, *fittings]


def trial_inputs(card: Card, one: Worked) -> dict[str, str]:
    """What the card of the trial shares with the fitting's own, with the defaults of that; one hole in each."""
    shared = {key: text for key, text in one.reckoning.texts.items() if key in card.givens and key not in _OWN}
    single = {"N": "1"} if "N" in card.givens and not (card.mix and card.mix.each == "N") else {}
    return {"shop": one.reckoning.shop_name, **shared, **single, **({"n_h": "1"} if "n_h" in card.givens else {})}


def _pull(library: Library, trial: Worked, name: str) -> str:
    """Have a trial pulled by the lines and with the gear of another card, and make as many as that asks for; or say why
    that cannot be."""
    card, inputs = library.cards[name], trial_inputs(library.cards[name], trial)
    inputs = {key: text for key, text in inputs.items() if key != "N"}
    load = carried(library, trial.card, trial.inputs, "pull", None)
    if not isinstance(load, str):
        inputs["F_w"] = f"{load[1]:.0f} N"
    reckoning = reckon(library, card, inputs)
    puller = Worked(trial.fitting, card, reckoning, inputs, tries=trial.tries)
    if reasons := reckoning.working.reasons(sorted(lent_by(card))):
        return "; ".join(reasons)
    lent = [(card.lines[line], card.plan[card.lines[line] - 1]) for line in puller.on_the_job.lends]
    lines = [
        line.model_copy(
            update={
                "what": Prose.as_read(reckoning.reads(line.what)),
                "wait": line.wait and f"{wait_time(puller, line.wait):.0f} s",
                "people": puller.people(number),
            }
        )
        for number, line in lent
    ]
    trial.card = trial.card.model_copy(update={"plan": [*trial.card.plan, *lines]})
    trial.puller = puller
    trial.fitting = trial.fitting.model_copy(update={"count": puller.each("N")})
    return ""


def _fitting(card: str, inputs: Mapping[str, str], tried: Sequence[Worked], taken: set[str]) -> Fitting:
    one, many = later("trial of {fitting}"), later("trial of {fitting} and {number} more")
    name = tr(many if len(tried) > 1 else one, fitting=tried[0].name, number=len(tried) - 1)
    while name.lower() in taken:
        name = tr("{name}, new", name=name)
    taken.add(name.lower())
    names = ", ".join(one.name for one in tried)
    return Fitting.model_construct(
        name=name,
        card=card,
        where=tr("in offcuts of the same wood, for: {names}", names=names),
        given=dict(inputs),
        no_load=tr("It is pulled, and carries nothing after that."),
    )
