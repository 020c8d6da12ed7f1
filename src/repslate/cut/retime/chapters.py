"""Moves chapters from an old cut to a new one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.cut.cue import Cue
from repslate.cut.markers import Marker
from repslate.cut.retime.alignment import align, words
from repslate.cut.retime.kept import Kept
from repslate.model.clock import write_clock

_HEARD = 10  # seconds after a chapter's start whose words tell which of two stretches it belongs to
_BREAKS_OFF = Fraction(3, 5)  # seconds: two words at most
_BESIDE = Fraction(1, 2)  # seconds: a word or two, which the words around a cut do not tell for certain


@dataclass(frozen=True, slots=True)
class Retimed:
    """A chapter and where it starts: `start` in the old cut and `to` in the new one, exact seconds.

    `to` is None where the start was cut out; then `reason` says so and `offer` is the nearest moment of the chapter,
    else of the film, that the new cut still has. With a `to`, `reason` is "" or says what to look at.
    """

    title: str
    id: str | None
    start: Fraction
    to: Fraction | None
    reason: str
    offer: Fraction | None = None


def retime(old: Sequence[Cue], new: Sequence[Cue], chapters: Sequence[Marker]) -> tuple[Retimed, ...]:
    """Return where each chapter starts in the new cut, in the order of `chapters`, from what is said in both cuts."""
    return place(align(words(old), words(new)), chapters)


def place(kept: Sequence[Kept], chapters: Sequence[Marker]) -> tuple[Retimed, ...]:
    """Return where each chapter starts in a new cut that has the stretches `kept` of the old one."""
    starts = sorted({chapter.time for chapter in chapters})
    following: dict[Fraction, Fraction | None] = dict(zip(starts, [*starts[1:], None], strict=False))
    return tuple(_placed(chapter, following[chapter.time], kept) for chapter in chapters)


def _placed(chapter: Marker, until: Fraction | None, kept: Sequence[Kept]) -> Retimed:
    time = chapter.time
    holding = [one for one in kept if one.holds(time)]
    begun = [one for one in kept if time < one.start < time + 1]
    # A word at a cut may be heard on the wrong side of it, so what breaks off at once is not the chapter's start.
    lasting = [one for one in holding if one.end is None or one.end - time >= _BREAKS_OFF]
    if going_on := lasting or (begun if holding else []):
        best = max(going_on, key=lambda one: _heard(one, time))
        to = max(Fraction(), time + best.shift(time))
        return Retimed(chapter.title, chapter.id, time, to, _doubt(time, best, lasting))
    if time.denominator == 1 and begun:
        # A time in whole seconds is rounded down: what starts within the second may be what was meant.
        best = min(begun, key=lambda one: one.start)
        to = best.start + best.shift(best.start)
        return Retimed(chapter.title, chapter.id, time, to, "the old time is in whole seconds; look at this one")
    return Retimed(chapter.title, chapter.id, time, None, _cut_out(time, kept), _offer(time, until, kept))


def _doubt(time: Fraction, best: Kept, holding: Sequence[Kept]) -> str:
    """Return what to look at in a start that was found, "" if nothing speaks against it."""
    places = {time + one.shift(time) for one in holding if _heard(one, time)}
    if len(places) > 1 and max(places) - min(places) > 1:
        return "this moment plays more than once in the new cut; look whether this is the one"
    if time > 0 and abs(time - best.start) < _BESIDE:
        return "a cut falls right here; look whether the start is whole"
    return ""


def _heard(kept: Kept, time: Fraction) -> int:
    return sum(time <= one.time < time + _HEARD for one in kept.anchors)


def _cut_out(time: Fraction, kept: Sequence[Kept]) -> str:
    if not kept:
        return "nothing of the old cut is found in the new one"
    before = max((one.end for one in kept if one.end is not None and one.end < time + _BREAKS_OFF), default=None)
    after = min((one.start for one in kept if one.start > time), default=None)
    since = write_clock(before) if before is not None else "the start"
    till = write_clock(after) if after is not None else "the end"
    return f"the start was cut out: nothing from {since} to {till} of the old cut is found in the new one"


def _offer(time: Fraction, until: Fraction | None, kept: Sequence[Kept]) -> Fraction | None:
    """Return the new time of what is kept of this chapter, else of the nearest moment that is kept."""
    later = [(one.anchors[0].time, one) for one in kept if one.start > time]  # where it is heard, not the pause before
    earlier = [(one.end, one) for one in kept if one.end is not None and one.end < time + _BREAKS_OFF]
    inside = [each for each in later if until is None or each[0] < until]
    nearest = min(inside or later + earlier, key=lambda each: abs(each[0] - time), default=None)
    return None if nearest is None else max(Fraction(), nearest[0] + nearest[1].shift(nearest[0]))
