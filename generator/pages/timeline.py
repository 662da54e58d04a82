"""A job sheet's plan as a drawing: a row a fitting, a column a working day, hands as bars, full cures as open bars,
waits as lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil

from markupsafe import Markup

from ..jobs.plan import JobPlan
from ..language import tr
from ..schedule.timetable import DAY, Slot
from ..units import shortened

# Measures of the drawing, in units of which 720 fill a page's width.
_NAMES, _WIDE, _ROW, _HEAD, _LEAST = 190, 720, 25, 22, 34
# In a row: the height of the strip above its bars, where the numbers of mixes stand alone, clear of the line above.
_STRIP = 11
_LETTERS = 32


def timeline(plan: JobPlan, hours: tuple[int, int], days: Mapping[int, str]) -> Markup:
    """The plan drawn. `hours` are when the working day opens and closes (s), `days` names each day on which hands
    work."""
    names = sorted(plan.shares, key=lambda name: (min(_slots(plan, name), key=_by_time).start, name))
    each = max(_LEAST, (_WIDE - _NAMES) / max(len(days), 1))
    width, height = _NAMES + each * len(days), _HEAD + _ROW * len(names)
    column = {day: _NAMES + each * place for place, day in enumerate(sorted(days))}

    def across(moment: int) -> float:
        """Where a moment stands; what falls between working days stands at the edge of the next."""
        day = moment // DAY
        if day not in column:
            return min((x for other, x in column.items() if other > day), default=width)
        part = (moment - day * DAY - hours[0]) / (hours[1] - hours[0])
        return column[day] + each * min(1.0, max(0.0, part))

    drawn = [_text(column[day] + 2, 14, text) for day, text in sorted(days.items())]
    drawn += [_line(x, 4, x, height, 0.5) for x in [*column.values(), width]]
    # Days left out: a second line beside.
    drawn += [_line(x - 2, 4, x - 2, height, 0.5) for day, x in column.items() if day - 1 not in column and x > _NAMES]
    for place, name in enumerate(names):
        top = _HEAD + _ROW * place
        slots = sorted(_slots(plan, name), key=_by_time)
        drawn.append(_text(0, top + _STRIP + 9, shortened(name, _LETTERS)))
        drawn.append(_line(0, top + _ROW, width, top + _ROW, 0.25))
        drawn.append(_line(across(slots[0].start), top + _STRIP + 7, across(slots[-1].end), top + _STRIP + 7, 1))
        drawn += [_cure(across(start), across(end), top + _STRIP) for start, end in _cures(plan, name)]
        drawn += [_bar(across(slot.start), across(slot.end), top + _STRIP, slot) for slot in slots]
    title = tr("The plan from day to day")
    told = tr(
        "A row for each fitting, a column for each day on which hands work. The clock below says the same in words."
    )
    return Markup(
        '<svg class="bw-timeline" viewBox="0 0 {:.0f} {:.0f}" role="img" aria-label="{}. {}" font-size="10" '
        'fill="currentColor" stroke="none">{}</svg>'
    ).format(width + 1, height + 1, title, told, Markup("").join(drawn))


def _slots(plan: JobPlan, name: str) -> Sequence[Slot]:
    """All stretches of a share, its mixes among them."""
    return [slot for slot in plan.clock.slots if any(share.name == name for share in plan.shares_of(slot))]


def _cures(plan: JobPlan, name: str) -> Iterator[tuple[int, int]]:
    """From the end of the last mix of a share until its epoxy has cured in full."""
    worked = plan.shares[name].worked
    if worked.mix_line:
        end = max(slot.end for slot in _slots(plan, name) if slot.mix >= 0)
        yield end, end + ceil(worked.time("t_f"))


def _by_time(slot: Slot) -> tuple[int, int]:
    return slot.start, slot.end


def _text(x: float, y: float, text: str) -> Markup:
    return Markup('<text x="{:.1f}" y="{:.1f}">{}</text>').format(x, y, text)


def _line(x: float, y: float, to_x: float, to_y: float, wide: float) -> Markup:
    pattern = '<path d="M{:.1f} {:.1f}L{:.1f} {:.1f}" stroke="currentColor" stroke-width="{}"/>'
    return Markup(pattern).format(x, y, to_x, to_y, wide)


def _cure(left: float, right: float, top: float) -> Markup:
    """A full cure as an open bar, so that hands are seen in it."""
    outline = '<path d="M{:.1f} {:.1f}h{:.1f}v4h-{:.1f}z" fill="none" stroke="currentColor" stroke-width="0.5"/>'
    return Markup(outline).format(left, top + 5, right - left, right - left)


def _bar(left: float, right: float, top: float, slot: Slot) -> Markup:
    """Hands as a full bar; a mix is taller, with its number above it, where nothing else is drawn."""
    wide, mix = max(right - left, 1.5), slot.mix >= 0
    bar = Markup('<path d="M{:.1f} {:.1f}h{:.1f}v{}h-{:.1f}z"/>').format(
        left, top + (1 if mix else 4), wide, 12 if mix else 6, wide
    )
    return bar + _text(left, top - 0.5, str(slot.mix + 1)) if mix else bar
