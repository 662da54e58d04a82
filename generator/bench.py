"""The bench side of a card: the numbers that are set or measured, the clock, and how many words all of it has.

Nothing is typed again. A row stands where the card works its symbol, a drill where the card tells job sheets of its
bore, a wait where the plan has it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import chain

from .formula import FORMULARY
from .language import later, tr
from .model.prose import Condition, Prose, all_known
from .model.quantity import read_symbol
from .model.schema import Card, Caution, PlanLine, Stepwise
from .reckoning import Reckoning

# What can be read from an arm's length without losing the place.
MOST_WORDS = 250
# At the foot of every side that is printed.
FOOT = later(
    "For learning and planning. It certifies nothing. Designer, surveyor, class rules and local codes come first."
)

NOTHING = Prose("")
# As many figures as stay in sight on a phone, where all is weighed once.
MOST_KEYS = 6


@dataclass(frozen=True)
class Entry:
    """A number with what it is of, and what stands small beside it; with `when` only where that holds."""

    what: Prose
    value: Prose
    beside: Prose = NOTHING
    when: Condition | None = None

    @property
    def texts(self) -> tuple[Prose, Prose, Prose]:
        """All that it says."""
        return self.what, self.value, self.beside

    @property
    def told(self) -> Entry:
        """The same in the language that is spoken."""
        return Entry(Prose(tr(self.what)), Prose(tr(self.value)), Prose(tr(self.beside)), self.when)


def _entry(what: str, value: str, beside: str = "", symbol: str = "", over: int = 0) -> Entry:
    return Entry(Prose(what), Prose(value), Prose(beside), Condition(symbol, over) if symbol else None)


# How often all that is weighed is weighed anew: for each lift of a bore, and in it for each mix.
_COUNTS: list[list[Entry]] = [
    [_entry("lifts", "{n_l} ×", symbol="n_l", over=1)],
    [
        # What lies thin in the tray has a part of its life behind it: without this the cup's whole life is gone by.
        _entry("mixes", "{n_m} ×", "[n_q > 1: {n_q} a fitting, set {t_ls} after thickening; ]each:", "n_m", 1),
        _entry("mixes", "{n_m} ×", "each:", "n_m", 1),
    ],
]
# Beside the drills: what a card that works all of these symbols shows. Of one group only the first that it works.
_NUMBERS: list[list[Entry]] = [
    [_entry("resin", "{m_rc}", "({v_rc})"), _entry("resin", "{m_r}", "({v_r})")],
    [_entry("hardener", "{m_hc}", "({v_hc})"), _entry("hardener", "{m_h}", "({v_h})")],
    [_entry("filler", "{m_f}", "({v_f}), into {m_u}"), _entry("filler, about", "{m_y}", symbol="m_y")],
    [_entry("lower lift", "[n_pl > 1: {n_pl} × ]{m_rl} + {m_hl}", "filler {m_yl}", symbol="n_p", over=1)],
    [_entry("keep plain", "{m_mx}", symbol="m_mx")],
    [
        _entry("each hole", "{E_o}", "{V_s} syringes"),
        _entry("each bore", "{E_bu}", "{V_s} syringes"),
        _entry("each hole", "{E_ct}", "{V_s} syringes"),
        _entry("each bore[n_l > 1: , a lift]", "{V_l}", "{V_s} syringes"),
        _entry("each pilot", "{I_sc}", symbol="I_sc"),
        _entry("each seat", "{V_rs}", "{m_rs}"),
        _entry("syringes", "{n_mx} × {V_s}", symbol="k_jo"),
    ],
    [_entry("[s_pd > 0: ridge pad | pads]", "{t_0}", "[s_pd > 0: low {h_rs}]")],
    [_entry("hold head at", "{T_k}", "never over {T_top}", symbol="n_hot")],
    [_entry("heat", "none", "{L_k} is too long", symbol="n_hc")],
    [_entry("cutter, inside", "over {d}", "outside {D_o} at most, longer than {L_k} + block", symbol="n_hc")],
    [_entry("proof load", "{m_tr}", "on the scale", symbol="m_tr")],
    [_entry("lever bars", "{h_tr}", "high or more, {c_tr} thick", symbol="m_tr")],
    # Where two fingers give as much as is borne, there is nothing for a spanner to add.
    [
        _entry("nut, at most", "[m_sb > 0: {M_sb} | two fingers]", symbol="M_sb"),
        _entry("nut, at most", "[m_sn > 0: {M_sn} | two fingers]"),
    ],
]

# What is cut to a worked size.
_CUT = [_entry("plate, each side", "{b_rs}", "{h_rsp} thick")]

# The reader writes the time into the first of each of these, and goes by it.
_MIXED = [
    _entry("[n_m > 1: mixes at | mixed at]", ""),
    _entry("mixed at", ""),
    _entry("wet-out until", "{t_wu}"),
    _entry("cup lasts", "{t_w}"),
    _entry("tray open", "{t_o}"),
    _entry("next lift", "{t_c} – {t_d}", symbol="n_l", over=1),
    _entry("next lift", "{t_c} – {t_d}", symbol="n_p", over=1),
    _entry("turn loose", "{t_y1} – {t_y2}"),
    # The last lift is the youngest.
    _entry("[n_l > 1: last hard | hard]", "{t_h}"),
    _entry("hard", "{t_h}"),
    _entry("[n_l > 1: last cured | full cure]", "{t_f}"),
    _entry("full cure", "{t_f}"),
]
# The whole fill of a hole is set while the cup lasts, though what is spread in a tray beside it lasts longer.
_FILLED = [_entry("holes set by", "{t_w}") if one.value == "{t_w}" else one for one in _MIXED]
_SET = [
    _entry("set:", "", symbol="t_z1"),
    # A bolt in wet paste is turned, or it locks.
    _entry("turn bolt", "{t_z1}, {t_z2}", symbol="h_rsp"),
    _entry("look", "{t_z1}, {t_z2}"),
]
_HOT = [
    _entry("iron on", "", symbol="n_hot"),
    _entry("hot, or stop", "{t_hold}", symbol="n_hot"),
    _entry("[n_hb > 0: head hot | hot at]", "", symbol="n_hot"),
    _entry("far end hot", "", symbol="n_hb"),
    _entry("cored at", "", symbol="n_hc"),
    _entry("[n_hb > 0: turn, from later | try a turn]", "{t_k}", symbol="n_hot"),
    _entry("[n_hb > 0: iron off, from first | iron off]", "{t_hold}", symbol="n_hot"),
]
_BEDDED = [_entry("bedded at", ""), _entry("tighten", "{t_rb}", symbol="t_rb")]
# Epoxy that a bed is laid on before its full cure must have had that as well.
_UNCURED = [_BEDDED[0], _entry("tighten, cured", "{t_rb}", symbol="t_rb")]


def numbers(card: Card) -> list[Entry]:
    """The drills, then what is weighed, filled in, held and tightened."""
    return [*drills(card), *counts(card), *filled(card)]


def counts(card: Card) -> list[Entry]:
    """How many lifts and mixes there are, where there are several."""
    return list(_told(card, _COUNTS))


def filled(card: Card) -> list[Entry]:
    """What is weighed, filled in, held and tightened, for one mix and lift: resin and hardener first."""
    return list(_told(card, _NUMBERS))


def _told(card: Card, groups: list[list[Entry]]) -> Iterator[Entry]:
    return (entry.told for group in groups if (entry := _works(card, group)))


def standing(card: Card, entries: Iterable[Entry], reckoning: Reckoning) -> Iterator[tuple[str, str, str]]:
    """What each entry says for a reckoning, of those whose numbers there are."""
    for entry in entries:
        if reckoning.holds(all_known([entry.value, entry.beside], but=card.givens, when=entry.when)):
            yield reckoning.reads(entry.what), reckoning.reads(entry.value), reckoning.reads(entry.beside)


def key_figures(card: Card) -> list[Entry]:
    """The few figures that stay in sight: drills with flags, what is weighed, how long the cup lasts.

    No load is among them. One alone would be taken for all, and the least one is another with each way of pulling: a
    word that leads to all of them has its place.
    """
    cut = [entry.told for entry in _CUT if _has(card, entry)]
    first = [*cut, *[*drills(card)][: 2 - len(cut)], *counts(card), *filled(card)[:2]]
    cup = [entry for entry in clock(card) if entry.value == "{t_w}"]
    found = [*first, *cup]
    more = [entry for entry in numbers(card) if entry not in found]
    return found + more[: MOST_KEYS - carries(card) + len(counts(card)) - len(found)]


def carries(card: Card) -> bool:
    """Whether a word in the bar leads to its loads."""
    return bool(card.job and card.job.carries)


def drills(card: Card) -> Iterator[Entry]:
    """Each drill, with its flag or its depth."""
    for bore in card.job.bores if card.job else ():
        beside = tr("flag at {mark}", mark=f"{{{bore.mark}}}") if bore.mark else ""
        if bore.depth and not beside:
            beside = tr("{depth} deep", depth=f"{{{bore.depth}}}")
        if bore.long:
            beside += f"[{bore.long} > 0: {', ' if beside else ''}{tr('long-series')}]"
        none = bore.depth if bore.depth and _may_be_none(card, bore.depth) else ""
        yield _entry(Prose.as_read(bore.what), f"{{{bore.size}}}", beside, none)


def _may_be_none(card: Card, symbol: str) -> bool:
    given = card.givens.get(symbol)
    return given is not None and given.min is not None and not read_symbol(symbol, given.min)


def clock(card: Card) -> list[Entry]:
    """The times to write down, with what is counted from each."""
    waits = [line for line in card.plan if line.wait]
    bedded = [entry.told for entry in _bedded(card)]
    if "ratio" in card.givens:
        mixed = _first_of_each(card, _FILLED if "E_o" in card.outputs else _MIXED)
        return [*(mixed if bedded else _loaded(card, mixed)), *_first_of_each(card, _SET), *bedded]
    hot = [entry.told for entry in _HOT if _has(card, entry)] if "T_k" in card.outputs else []
    # What a tin decides is told in its step; a time beside it would be taken for the rule.
    plain = [line for line in waits if line.wait != "t_rb" and (hot or line.wait in FORMULARY.symbols)]
    return [*hot, *map(_waited, plain), *bedded]


def _first_of_each(card: Card, entries: list[Entry]) -> list[Entry]:
    """Those that the card works; of a time with several names the first, and each that stands only in some jobs."""
    had = [entry for entry in entries if _has(card, entry)]
    return [entry.told for entry in had if entry.when or entry is next(e for e in had if e.value == entry.value)]


def _bedded(card: Card) -> list[Entry]:
    """When the compound was laid, and when its nuts are tightened once more."""
    waits = [line.wait for line in card.plan]
    if "t_rb" not in waits:
        return []
    return _UNCURED if "ratio" in card.givens and "t_f" not in waits[: waits.index("t_rb")] else _BEDDED


def _loaded(card: Card, told: list[Entry]) -> list[Entry]:
    """The last time is that of the full load where a load is given, the first that the joint is trusted with."""
    if not card.loads:
        return told
    *others, cured = told
    return [*others, replace(cured, what=Prose(f"[{card.loads[0]} > 0: {tr('full load')} | {cured.what}]"))]


def from_the_mix(card: Card) -> list[Entry]:
    """Those of the times that count from when the epoxy was mixed."""
    others = {entry.value for entry in (*_SET, *_BEDDED)}
    counted = [entry for entry in clock(card) if entry.value not in others] if "ratio" in card.givens else []
    return [entry for entry in counted if any(value.name.startswith("t_") for value in entry.value.values)]


def _waited(line: PlanLine) -> Entry:
    known = line.wait in FORMULARY.symbols
    return Entry(line.what, Prose(f"{{{line.wait}}}" if known else str(line.wait)))


def _works(card: Card, group: list[Entry]) -> Entry | None:
    return next((entry for entry in group if _has(card, entry)), None)


def _has(card: Card, entry: Entry) -> bool:
    """Whether the card works, or is given, every symbol of an entry."""
    named = {value.name for text in entry.texts for value in text.values}
    named |= {asked.symbol for text in entry.texts for asked in text.conditions}
    named |= {entry.when.symbol} if entry.when else set()
    return named <= {*card.outputs, *card.givens}


def line_of(step: Stepwise) -> Prose:
    """What a step says on the bench side: its short line, else its title."""
    return step.line or step.title


def signs(step: Stepwise, cautions: dict[str, Caution]) -> dict[str, Condition | None]:
    """The keywords of what may hurt in a step, each once, with when it stands: always, unless its cautions agree."""
    found: dict[str, Condition | None] = {}
    for caution in (cautions[key] for key in step.cautions):
        if caution.sign:
            agreed = found.get(caution.sign, caution.when) == caution.when
            found[caution.sign] = caution.when if agreed else None
    return found


def told_for(card: Card) -> Prose:
    """What the job is, in short."""
    asked = {
        "thread": "{d_sc}, {gauge}" if "gauge" in card.givens else "{thread}",
        "hardener": tr("{hardener} hardener"),
        "T_a": "{T_a}",
    }
    return Prose(" · ".join(text for name, text in asked.items() if name in card.givens))


def word_count(card: Card, cautions: dict[str, Caution], reckoning: Reckoning) -> int:
    """How many words the bench side has for a reckoning. A number with its unit is one."""
    steps = [step for step in card.steps if not step.when or reckoning.holds(step.when)]
    entries = [entry for entry in (*numbers(card), *clock(card)) if not entry.when or reckoning.holds(entry.when)]
    texts = [Prose.as_read(card.title), told_for(card), *chain(*(entry.texts for entry in entries))]
    texts += chain(*((line_of(step), step.seen or NOTHING) for step in steps))
    said = [reckoning.reads(text) for text in texts]
    told = chain(*(signs(step, cautions).items() for step in steps))
    said += [tr(FOOT), *(sign for sign, when in told if reckoning.holds(when))]
    return sum(any(map(str.isalnum, word)) for text in said for word in text.replace("\n", " ").split(" "))
