"""Pulled joints judged: what a series says of its own set-up, and what may be trusted of a joint like it.

A series counts for exactly what was tested: the same thread, hole, epoxy and filler, wood within a tenth of its
gravity, and a bond no deeper. A shallower bond is trusted with its share, which is on the safe side: tests found that a
longer bond carries less on each square millimetre.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import exp, isclose, pi
from typing import Literal, get_args

from .errors import Fault
from .formula import FORMULARY
from .language import later, tr
from .model.library import Library
from .model.quantity import read_symbol
from .model.schema import Card
from .model.series import Joint, TestSeries, how_it_failed
from .model.yaml_text import Document
from .reckoning import InputError, Reckoning, UnknownInput, reckon
from .samples import FEWEST, Sample
from .units import QuantityError, clip, from_base, plain

# How far a wood's gravity may be from the one tested, and two holes apart and still be one (m).
GRAVITY, HOLE = 0.10, 0.0003
# Boards of one wood scatter in gravity by about a tenth; three times that is another wood, or a slip.
ANOTHER_WOOD = 0.3
NOT_THAT_WOOD = later("{gravity:.2f} is far from the {G:.2f} of {wood}; look at the reading, and at which wood it is")
# No steel breaks at so many times the load that its standard asks for.
STRONGEST_STEEL = 1.3
TOO_STRONG = later(
    "{load:.1f} kN is over what the fastener bears: {thread} of {fastener} breaks from {least:.1f} kN on, and none "
    "carries {strongest:.1f} times that; look at the reading and the lever"
)
# What must be the same, where a card asks for it.
SAME = {"resin": later("its resin is not {title}"), "filler": later("its filler is not {title}")}
# Inputs that are written down beside those that the strength is reckoned from.
CHOSEN = ("hole", *SAME, "T_a")
# The sizes that a fastener is called by: the first that it has.
SIZES = ("gauge", "thread")
UNWORKED = later("the set-up cannot be worked:")


@dataclass(frozen=True)
class Kind:
    """A kind of joint that is pulled: the model's strengths of it, of which the least counts, the working loads that
    tests may take the place of, each with the one by tests, and what tells one set-up from another."""

    strengths: tuple[str, ...]
    by_tests: Mapping[str, str]
    hole: str
    depth: str
    # What a joint's share of the one tested is reckoned by.
    parts: tuple[str, ...]
    # What the fastener's breaking load is reckoned from.
    metal: tuple[str, ...]
    words: str
    # Whom the fewest are asked of, before a number is reckoned.
    gave_way: str
    # What a file says itself, one of each group: a card's own setting is not what was pulled.
    said: tuple[tuple[str, ...], ...]
    # What of an input's rows it is not tried in, and why.
    untried: Mapping[str, tuple[str, str]] = field(default_factory=dict)

    @property
    def set_up(self) -> tuple[str, ...]:
        """Without these nothing tells one set-up from another."""
        return (self.hole, self.depth, "G")

    @property
    def needed(self) -> tuple[str, ...]:
        """What a set-up is told by, and a share of it reckoned by."""
        return ("d", *self.set_up, *self.parts)

    @property
    def worked(self) -> tuple[str, ...]:
        """All that a series' own set-up is asked for."""
        return (*self.needed, *self.strengths, *self.by_tests, *self.metal)


BONDS = Kind(
    strengths=("R_w", "R_e"),
    by_tests={"F_w": "F_wt", "F_l": "F_lt"},
    hole="D_o",
    depth="L_o",
    parts=("L_b", "k_L", "chi_e"),
    metal=("F_s", "f_u", "A_s"),
    words=later("{size} in a hole of {hole}, bond no deeper than {depth}"),
    gave_way=later("Bonds that broke"),
    said=(("thread",), ("T",), ("wood",)),
)
SCREWS = Kind(
    strengths=("R_sc",),
    by_tests={"F_sc": "F_sct"},
    hole="D_sc",
    depth="L_sc",
    parts=("N_sc", "chi_y"),
    metal=("f_u", "d_r"),
    words=later("a screw of {size} in side grain, pilot of {hole}, no more than {depth} of its thread in the wood"),
    gave_way=later("Screws that gave way in the wood"),
    said=(("thread", "gauge"), ("L_sc",), ("wood",)),
    untried={
        "grain": ("end", later("is not tried: screws count as pulled in side grain, and in end grain with a part"))
    },
)
KINDS = (BONDS, SCREWS)
BY_TESTS = {symbol: by for kind in KINDS for symbol, by in kind.by_tests.items()}


def kind_of(card: Card) -> Kind | None:
    """The kind of joint that a card makes, where tests may count for it."""
    return next((kind for kind in KINDS if set(kind.by_tests) & set(card.loads)), None)


def size_of(reckoning: Reckoning) -> str:
    """What a joint's fastener is called by."""
    return next(
        reckoning.titles[name] for name in SIZES if name in reckoning.titles and reckoning.texts[name] != "none"
    )


@dataclass(frozen=True)
class Judged:
    """A series with its set-up worked by its card."""

    name: str
    series: TestSeries
    kind: Kind
    reckoning: Reckoning

    @cached_property
    def broken(self) -> list[Joint]:
        """The joints whose bond gave way. Only they have a strength of the bond to count."""
        return [joint for joint in self.series.joints if joint.bond_broke]

    @cached_property
    def held(self) -> list[Joint]:
        """The joints whose bond held to the end: what they bore is less than its strength. Among the broken they would
        count too low, with a scatter that is not theirs, so they are left out of the statistics and shown."""
        return [joint for joint in self.series.joints if not joint.bond_broke]

    @cached_property
    def sample(self) -> Sample | None:
        """The strengths of the bonds that broke, where there are enough."""
        return Sample([joint.force for joint in self.broken]) if len(self.broken) >= FEWEST else None

    @property
    def no_number(self) -> str | None:
        """Why no strength is given."""
        if self.series.published:
            return tr("read as a mean, without the single loads")
        if self.sample:
            return None
        count, bonds = len(self.broken), self.kind is BONDS
        if count == 0:
            broke = tr("no bonds broke") if bonds else tr("no joints broke")
        elif count == 1:
            broke = tr("1 bond broke") if bonds else tr("1 joint broke")
        else:
            broke = tr("{count} bonds broke", count=count) if bonds else tr("{count} joints broke", count=count)
        few = tr(
            "fewer than {count} say nothing of how far they scatter, so no strength is reckoned from them", count=FEWEST
        )
        return f"{broke}; {few}"

    @property
    def mean(self) -> float:
        """The mean load (N), published or of the bonds that broke; of those that held, where none broke, the least."""
        if self.series.published:
            return self.series.published.mean
        if self.broken:
            return sum(joint.force for joint in self.broken) / len(self.broken)
        return min(joint.force for joint in self.held)

    @property
    def counts(self) -> bool:
        """Whether a number may be trusted by it."""
        return self.sample is not None and self.series.invented is None

    @property
    def calculated(self) -> float | None:
        """The strength of the joint by the model (N), nothing where it has no number."""
        values = self.reckoning.working.values
        strengths = self.kind.strengths
        return min(values[name] for name in strengths) if all(name in values for name in strengths) else None

    @property
    def ratio(self) -> float | None:
        """Measured over calculated."""
        return self.mean / self.calculated if self.calculated else None

    @property
    def gravity(self) -> float:
        """The specific gravity of the wood pulled."""
        return self.series.measured.gravity if self.series.measured else self.reckoning.working.values["G"]

    def why_not(self, reckoning: Reckoning) -> str | None:
        """Why it says nothing of a joint, or None for one like those tested."""
        values, own, kind = reckoning.working.values, self.reckoning.working.values, self.kind
        if any(symbol not in values or symbol not in own for symbol in kind.needed):
            return tr("its thread, hole, depth or wood is not known")
        if any(reckoning.titles.get(name) != self.reckoning.titles.get(name) for name in SIZES):
            return tr("its thread is not {thread}", thread=size_of(self.reckoning))
        if abs(values[kind.hole] - own[kind.hole]) > HOLE:
            return tr("its hole is not {hole} wide", hole=plain(self.reckoning.shop(kind.hole)))
        if abs(values["G"] - self.gravity) > GRAVITY * self.gravity * (1 + 1e-9):
            return tr("its wood is more than a tenth lighter or denser than the wood tested")
        if values[kind.depth] > own[kind.depth] * (1 + 1e-6):
            return tr("its bond is deeper than {depth}", depth=plain(self.reckoning.shop(kind.depth)))
        for name, differs in SAME.items():
            if (
                name in reckoning.titles
                and name in self.reckoning.titles
                and reckoning.titles[name] != self.reckoning.titles[name]
            ):
                return tr(differs, title=self.reckoning.titles[name])
        return None

    def share(self, reckoning: Reckoning) -> float:
        """The joint's bond as a part of the bond tested, never more than all of it."""
        values, own = reckoning.working.values, self.reckoning.working.values
        parts = (values[symbol] / own[symbol] for symbol in self.kind.parts)
        share = 1.0
        for part in parts:
            share *= min(1.0, part)
        return share


@dataclass(frozen=True)
class Own:
    """A joint that stands in a tested set-up: the series, and the joint worked with it."""

    judged: Judged
    reckoning: Reckoning

    def load(self, symbol: str) -> float | None:
        """The working load by tests (N) beside the model's `symbol`, where there is one."""
        values = self.reckoning.working.values
        return values[BY_TESTS[symbol]] if symbol in BY_TESTS and BY_TESTS[symbol] in values else None

    def model(self, symbol: str) -> float | None:
        """The model's own working load (N), where there is one."""
        return self.reckoning.working.values[symbol] if self.reckoning.has(symbol) else None

    def decides(self, symbol: str) -> float | None:
        """What may be trusted (N) in place of the model's number: the lower of both, or the test's own where the
        teacher says so. Nothing of an invented series."""
        own, model = self.load(symbol), self.model(symbol)
        if own is None or not self.judged.counts:
            return None
        if self.judged.series.trust:
            return own
        return min(own, model) if model is not None else own


def said(own: Own, symbol: str) -> str:
    """In a sentence, what the shop's own tests give for a joint in place of the model's `symbol`, and what counts."""
    load, model = own.load(symbol), own.model(symbol)
    assert load is not None
    beside: Beside = "no model" if model is None else "lower" if load < model else "higher"
    return sentences(own.judged)[beside].format(load=own.reckoning.shop(BY_TESTS[symbol]))


# Where the number by tests lies beside the model's.
Beside = Literal["no model", "lower", "higher"]


def sentences(judged: Judged) -> dict[Beside, str]:
    """What is said of a series' number, with a place for it, by where it lies beside the model's."""
    series = judged.series
    values: dict[str, object] = {"title": _as_it_is(series.title), "count": len(judged.broken), "load": "{load}"}
    if series.invented:
        said = tr(
            "Invented tests ({title}, {count} joints) would give {load} at this joint's depth. They count for nothing",
            **values,
        )
        return dict.fromkeys(get_args(Beside), said)
    begin = tr("This shop's own tests ({title}, {count} joints) give {load}", **values)
    if trust := series.trust:
        signed = tr("It counts, by {who}", who=_as_it_is(f"{trust.by}, {trust.on}: {trust.why}"))
        return dict.fromkeys(get_args(Beside), f"{begin}. {signed}")
    return {
        "no model": f"{begin}. {tr('It counts, for the model has no number here')}",
        "lower": f"{begin}. {tr('It counts, for the model gives more')}",
        "higher": f"{begin}. {tr('The lower number of the model counts')}",
    }


def _as_it_is(text: str) -> str:
    """A text whose braces stand for themselves in one that takes values."""
    return text.replace("{", "{{").replace("}", "}}")


def own_tests(library: Library, card: Card, inputs: Mapping[str, str], reckoning: Reckoning) -> list[str]:
    """What the shop's own pulled joints say of a joint: a sentence a working load, and one for each number that is
    reckoned from a load which they take down."""
    found = own_evidence(library, card, inputs, reckoning)
    loads = [
        f"{FORMULARY.symbols[symbol].meaning}: {said(own, symbol)}."
        for own in found
        for symbol in BY_TESTS
        if symbol in card.loads and own.load(symbol) is not None
    ]
    return [*loads, *_along(library, card, inputs, reckoning, found)]


# Of a number that comes lower with a load which tests take down.
ALONG = later("{meaning}: {value}, by the lower load of these tests.")


def _along(
    library: Library, card: Card, inputs: Mapping[str, str], reckoning: Reckoning, found: Iterable[Own]
) -> Iterator[str]:
    if weaker := weakened(found, reckoning):
        lower = reckon(library, card, {**inputs, **weaker})
        for symbol in card.outputs:
            if symbol in weaker or not (reckoning.has(symbol) and lower.has(symbol)):
                continue
            if 0 < lower.working.values[symbol] < reckoning.working.values[symbol] * (1 - 1e-9):
                yield tr(ALONG, meaning=FORMULARY.symbols[symbol].meaning, value=lower.said_alone(symbol))


def weakened(own: Iterable[Own], reckoning: Reckoning) -> dict[str, str]:
    """The working loads that the shop's own tests take down, as they are given to a card."""
    found, own = {}, [*own]
    for symbol in BY_TESTS:
        model = reckoning.working.values[symbol] if reckoning.has(symbol) else None
        load, whose = trusted(own, symbol, model)
        if whose and load is not None and model is not None and load < model:
            found[symbol] = f"{load:.6f} N"
    return found


def judged_series(library: Library) -> dict[str, Judged]:
    """Every series of a checked library with its set-up worked."""
    return {name: _judged(library, name) for name in library.series_pulled}


def _judged(library: Library, name: str) -> Judged:
    """A series of a checked library with its set-up worked, once."""
    judged: dict[str, Judged] = library.kept.setdefault("series", {})
    if name not in judged:
        judged[name] = judge(library, name, library.series_pulled[name])
    return judged[name]


def judge(library: Library, name: str, series: TestSeries) -> Judged:
    """A series with its card worked as it was set. Raises InputError."""
    card = library.cards[series.card]
    kind = kind_of(card)
    assert kind
    return Judged(name, series, kind, reckon(library, card, series.given, extra=kind.worked))


def of_the_tested(library: Library, judged: Judged) -> Own | None:
    """The very joint that was tested, with its number by tests, where there is one."""
    card = library.cards[judged.series.card]
    return _worked(library, card, judged.series.given, judged, judged.reckoning) if judged.sample else None


def trial_card(library: Library) -> str | None:
    """The card that joints are tried by, where a card of the library names one whose joints are reckoned."""
    named = (card.job.trial for card in library.cards.values() if card.job and kind_of(card) is BONDS)
    return next((name for name in named if name in library.cards and kind_of(library.cards[name]) is BONDS), None)


def pulling_cards(library: Library) -> list[str]:
    """The cards whose joints are pulled as they are set: the one that bonds are tried by, and those of screws."""
    screws = [name for name, card in library.cards.items() if kind_of(card) is SCREWS]
    return [*([trial] if (trial := trial_card(library)) else []), *screws]


def series_named(library: Library, card: Card) -> list[str]:
    """The shop's own series that may say something of a card's joints: made by it, or by the card that tries them."""
    trial = card.job.trial if card.job else None
    return [
        name
        for name, series in library.series_pulled.items()
        if not series.published and (series.card == trial or library.cards.get(series.card) is card)
    ]


def series_for(library: Library, card: Card) -> list[Judged]:
    """The same, worked: those of joints of the card's kind."""
    if not (kind := kind_of(card)):
        return []
    return [one for name in series_named(library, card) if (one := _judged(library, name)).kind is kind]


def own_evidence(
    library: Library, card: Card, inputs: Mapping[str, str], reckoning: Reckoning | None = None
) -> list[Own]:
    """Every series with a number that tried joints like this one, and the joint worked with it; the lowest first.
    `reckoning` is the joint as it was worked already."""
    series = [one for one in series_for(library, card) if one.sample]
    if not series:
        return []
    kind = series[0].kind
    if reckoning is None or any(symbol not in reckoning.working.values for symbol in kind.needed):
        reckoning = reckon(library, card, inputs, extra=kind.worked)
    found = [_worked(library, card, inputs, one, reckoning) for one in series if one.why_not(reckoning) is None]
    first = next(iter(kind.by_tests))
    return sorted(found, key=lambda own: own.load(first) or 0.0)


def _worked(library: Library, card: Card, inputs: Mapping[str, str], judged: Judged, reckoning: Reckoning) -> Own:
    assert judged.sample
    tested = {
        "R_tg": f"{exp(judged.sample.log_mean):.6f} N",
        "s_tg": f"{judged.sample.log_scatter:.9f}",
        "k_tg": f"{judged.sample.factor:.9f}",
        "q_t": f"{judged.share(reckoning):.9f}",
    }
    return Own(judged, reckon(library, card, {**inputs, **tested}, extra=tuple(judged.kind.by_tests.values())))


def trusted(own: Iterable[Own], symbol: str, model: float | None) -> tuple[float | None, Own | None]:
    """What counts of a model's working load and the shop's own: the number, and whose it is when it is no longer the
    model's."""
    decided = [(load, one) for one in own if (load := one.decides(symbol)) is not None]
    if not decided:
        return model, None
    load, one = min(decided, key=lambda pair: pair[0])
    return (load, one) if model is None or load != model else (model, None)


def series_faults(library: Library, beside: Container[str] = ()) -> Iterator[Fault]:
    """What is wrong in the series of pulled joints, taken with the cards and data; but in files that are `beside`."""
    for name, series in library.series_pulled.items():
        if f"tests/{name}.yaml" in beside:
            continue
        document = library.documents[f"tests/{name}.yaml"]
        known = ", ".join(key for key in library.cards if kind_of(library.cards[key]))
        if series.card not in library.cards:
            yield document.fault(("card",), f"no card '{clip(series.card)}'; cards of joints that are pulled: {known}")
            continue
        kind = kind_of(library.cards[series.card])
        if kind is None:
            message = f"this card reckons no working load of a joint to compare with; cards that do: {known}"
            yield document.fault(("card",), message)
            continue
        for group in kind.said:
            if not {*group} & series.given.keys():
                yield document.fault(("given",), f"say {' or '.join(group)} too, as it was when these were pulled")
        try:
            judged = judge(library, name, series)
        except InputError as error:
            at_key = isinstance(error, UnknownInput)
            yield document.fault(("given", error.name), str(error), at_key=at_key)
            continue
        reckoning, asked = judged.reckoning, judged.kind.set_up
        if any(symbol not in reckoning.working.values for symbol in asked):
            reasons = "; ".join(reckoning.working.reasons(asked)) or "thread, hole, depth or wood is missing"
            yield document.fault(("given",), f"{UNWORKED} {reasons}")
            continue
        most = STRONGEST_STEEL * breaking(judged)
        for key, (row, why) in judged.kind.untried.items():
            if reckoning.texts.get(key) == row:
                yield document.fault(("given", key), f"'{row}' {why}")
        if series.measured and abs(series.measured.gravity / reckoning.working.values["G"] - 1) > ANOTHER_WOOD:
            words = {
                "gravity": series.measured.gravity,
                "G": reckoning.working.values["G"],
                "wood": reckoning.titles["wood"],
            }
            yield document.fault(("measured", "gravity"), NOT_THAT_WOOD.format(**words))
        for place, joint in enumerate(series.joints):
            yield from _joint_faults(document, place, joint, reckoning, most)
        if series.published and series.published.mean > most:
            yield document.fault(("published", "mean"), _too_strong(reckoning, series.published.mean, most))


def breaking(judged: Judged) -> float:
    """The load (N) that the fastener's standard asks of it: over the thread of a rod, over the core of a screw."""
    values = judged.reckoning.working.values
    area = values["A_s"] if judged.kind is BONDS else pi / 4 * values["d_r"] ** 2
    return values["f_u"] * area


def _joint_faults(document: Document, place: int, joint: Joint, reckoning: Reckoning, most: float) -> Iterator[Fault]:
    key = "load" if joint.load is not None else "held"
    if joint.force > most:
        yield document.fault(("joints", place, key), _too_strong(reckoning, joint.force, most))
    for name, text in joint.given.items():
        here = ("joints", place, "given", name)
        if name not in reckoning.texts:
            message = f"'{clip(name)}' is no input of this series; leave it out"
            yield document.fault(here, message, at_key=True)
        elif not _alike(name, text, own := reckoning.texts[name]):
            message = f"'{clip(text)}' where the series has '{own}'; one set-up a series: put this joint in its own"
            yield document.fault(here, message)


def _alike(name: str, text: str, own: str) -> bool:
    """Whether two texts of an input say the same: 11 cm is 110 mm."""
    if name in FORMULARY.symbols:
        try:
            return isclose(read_symbol(name, text), read_symbol(name, own))
        except QuantityError:
            return False
    return " ".join(text.split()).casefold() == " ".join(own.split()).casefold()


def _too_strong(reckoning: Reckoning, force: float, most: float) -> str:
    return TOO_STRONG.format(
        load=from_base(force, "N", "kN"),
        thread=size_of(reckoning),
        fastener=reckoning.titles.get("fastener", "this metal"),
        least=from_base(most / STRONGEST_STEEL, "N", "kN"),
        strongest=STRONGEST_STEEL,
    )


def failures(judged: Judged) -> dict[str, int]:
    """How many joints failed each way, in words."""
    count: dict[str, int] = {}
    for joint in judged.series.joints:
        words = how_it_failed(joint)
        count[words] = count.get(words, 0) + 1
    return count
