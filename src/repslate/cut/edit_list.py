"""CMX 3600 edit lists, as editing programs write them: labels to exact times. Makes the edit that stands in edit.py.

Rules and tolerances: SMPTE ST 258 by way of public manuals; the irregular forms are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from repslate.cut.edit import Edit, EditMarker, Piece, Transition
from repslate.cut.edit_list_lines import Event, Location, Scanned, scan
from repslate.cut.edit_trouble import Trouble
from repslate.cut.timecode import RATES, Rate, read_timecode, to_seconds
from repslate.source.finding import Finding, Severity

_PACE = re.compile(r"(?P<figure>-?[0-9]{1,5}(?:\.[0-9]{1,6})?)\s*(?P<unit>FPS|%)", re.IGNORECASE)
_CLOSE = 3  # frames by which lengths may differ from the speed: public sample lists are up to 2.2 off
_ROUNDED = Fraction(1, 20)  # frames a second: M2 speeds have one decimal


@dataclass(frozen=True, slots=True)
class _Timed:
    """An event in frames: `si` to `so` of the source, `ri` to `ro` of the record, and its speed."""

    event: Event
    si: int
    so: int
    ri: int
    ro: int
    speed: Fraction

    @property
    def source(self) -> str:
        """The footage's name: the reel, or the clip where AX stands for any source."""
        return self.event.clip if self.event.reel == "AX" and self.event.clip else self.event.reel


def read_edit_list(text: str, file: str, rate: Rate | None = None) -> tuple[Edit, tuple[Finding, ...]]:
    """Return the edit that a CMX 3600 list tells, and what could not be read or is out of the ordinary.

    `rate` is the frame rate of the cut, which such lists do not say; without it only lists counted in drop-frame can
    be read. Only picture events make pieces. `* LOC:` markers are in the cut's time, wherever they stand.
    """
    trouble = Trouble(file)
    scanned = scan(text, trouble)
    rate = _settle(rate, scanned, trouble)
    if rate is None:
        return Edit(()), trouble.findings()
    events = _time_events(scanned, rate, trouble)
    start = min((event.ri for event in events), default=0)
    pieces = _pieces([event for event in events if event.event.has_picture], rate, start, trouble)
    if not pieces:
        trouble.error(1, "expected at least one event with picture, found none", "export the edit list again")
    markers = []
    for location in scanned.locations:
        at = _record(location.label, location.span.line, events, rate, trouble)
        if at is not None and at < start:
            message = f"expected a marker inside the cut, found “{location.text}” before its first frame"
            trouble.error(location.span.line, message, "move the marker behind the first event's start, or delete it")
        elif at is not None:
            markers.append(EditMarker(location.text, to_seconds(at - start, rate), True, "", location.span))
    return Edit(tuple(pieces), tuple(markers), rate, to_seconds(start, rate)), trouble.findings()


def read_source_markers(
    text: str, file: str, rate: Rate | None = None
) -> tuple[tuple[EditMarker, ...], tuple[Finding, ...]]:
    """Return the markers of a markers.edl in the timecode of their footage, and what could not be read.

    Each `* LOC:` names the moment of its event's footage that the event shows then. An event without one is itself a
    marker at its source in, named by its `* COMMENT:`.
    """
    trouble = Trouble(file)
    scanned = scan(text, trouble)
    rate = _settle(rate, scanned, trouble)
    if rate is None:
        return (), trouble.findings()
    events = _time_events(scanned, rate, trouble)
    markers = [_at_location(location, events, rate, trouble) for location in scanned.locations]
    marked = {id(location.event) for location in scanned.locations}
    for timed in events:
        event = timed.event
        name = next((comment for comment in event.comments if not comment.startswith("*")), "")
        if id(event) in marked or not event.has_picture:
            continue
        if name:
            markers.append(EditMarker(name, to_seconds(timed.si, rate), False, timed.source, event.span))
        else:
            message = "expected a name for each marker, found events with neither LOC nor COMMENT"
            trouble.habit(event.line, message, "write “* COMMENT: Goblet squat” under the event")
    found = [marker for marker in markers if marker is not None]
    return tuple(sorted(found, key=lambda marker: marker.span)), trouble.findings()


def _at_location(location: Location, events: Sequence[_Timed], rate: Rate, trouble: Trouble) -> EditMarker | None:
    """Return a LOC of a markers.edl in source time: through its own event if that holds it, else through any."""
    at = _record(location.label, location.span.line, events, rate, trouble)
    if at is None:
        return None
    own = sorted(events, key=lambda timed: timed.event is not location.event)
    for timed in own:
        if timed.event.has_picture and (timed.ri <= at < timed.ro or timed.ri == at):
            frames = timed.si + (at - timed.ri) * timed.speed
            return EditMarker(location.text, frames / rate.exact, False, timed.source, location.span)
    message = f"expected the time of a LOC inside an event, found “{location.label}” for “{location.text}” in none"
    trouble.error(location.span.line, message, "put the marker under an event whose record times hold it")
    return None


# ---- labels to frames


def _settle(rate: Rate | None, scanned: Scanned, trouble: Trouble) -> Rate | None:
    """Return the rate with the counting of the record side; None, and told, where nothing says the rate."""
    if rate is None and scanned.drop:
        fast = any(int(label[-2:]) >= 30 for event in scanned.events for label in event.labels)
        name = "59.94 drop" if fast else "29.97 drop"
        message = f"expected the frame rate of the cut, found none; drop-frame counting says {name}"
        trouble.add(Finding("edit-rate", Severity.WARNING, trouble.span(1), message, _RATE_HELP.format(name)))
        return RATES[name]
    if rate is None:
        message = "expected the frame rate of the cut, which an edit list does not say, found none"
        trouble.add(Finding("edit-rate", Severity.ERROR, trouble.span(1), message, _RATE_HELP.format("25")))
        return None
    if scanned.drop and not rate.may_drop:
        message = f"expected no drop-frame counting at {rate.nominal} frames a second, found FCM: DROP FRAME"
        trouble.habit(1, message, "check the frame rate; the times are read without drop-frame")
    if scanned.drop is None:
        message = "expected an FCM line, found none"
        help_ = f"the times are read as {'drop' if rate.drop else 'non-drop'}-frame; check that"
        trouble.habit(1, message, help_, harmless=not rate.may_drop)
        return rate
    return rate.counted(drop=scanned.drop)


_RATE_HELP = "write “frame rate: {}” into the front matter of workout.md"


def _label(label: str, rate: Rate, line: int, trouble: Trouble) -> int | None:
    """Return the frames that a label says; None, and told, where there is no such label."""
    if label.isdigit():
        if int(label) < rate.day:
            return int(label)
        trouble.error(line, f"expected a frame within 24 h, found {label}", "export the list with timecode")
        return None
    if label[-3] != ":" and not rate.drop:
        message = "expected colons before the frames, as FCM and frame rate say, found the sign of drop-frame"
        help_ = "check the frame rate and the FCM line; "
        help_ += "these times are read as " + ("drop-frame" if rate.may_drop else "if they had colons")
        trouble.habit(line, message, help_)
        rate = rate.counted(drop=True)
        label = label if rate.drop else f"{label[:-3]}:{label[-2:]}"
    frames = read_timecode(label, rate)
    if isinstance(frames, str):
        trouble.error(line, frames, "correct the time, or export the list again", "SMPTE ST 12-1")
        return None
    return frames


def _record(label: str, line: int, events: Sequence[_Timed], rate: Rate, trouble: Trouble) -> int | None:
    """Return the frames of a label on the record side, on the day after where the record has passed midnight."""
    frames = _label(label, rate, line, trouble)
    first = events[0].ri if events else 0
    return frames + rate.day if frames is not None and frames < first - rate.day // 2 else frames


def _time_events(scanned: Scanned, rate: Rate, trouble: Trouble) -> list[_Timed]:
    timed: list[_Timed] = []
    for event in scanned.events:
        own = rate if event.drop is None else rate.counted(drop=event.drop)
        rates = (own, own, rate, rate)
        found = [_label(label, one, event.line, trouble) for label, one in zip(event.labels, rates, strict=True)]
        frames = [one for one in found if one is not None]
        if len(frames) < 4:
            continue
        si, so, ri, ro = frames
        if event.speed is not None and event.speed < 0 and so < si:
            si, so = so, si
        if so < si or ro < ri:
            trouble.habit(event.line, "expected times that go up, found some that pass midnight", "check these events")
        so += rate.day if so < si else 0
        ro += rate.day if ro < ri else 0
        if timed and ri < timed[0].ri - rate.day // 2:
            trouble.habit(event.line, "expected times that go up, found some that pass midnight", "check these events")
            ri, ro = ri + rate.day, ro + rate.day
        speed = _pace(event, so - si, ro - ri, rate, trouble)
        timed.append(_Timed(event, si, so, ri, ro, speed))
    return timed


def _pace(event: Event, source: int, record: int, rate: Rate, trouble: Trouble) -> Fraction:
    """Return the speed of an event from its lengths in frames, held against its M2 line or what its name says."""
    told = None if event.speed is None else event.speed / rate.nominal
    if told is None and source == record:
        return Fraction(1)
    if told is None:
        told = _pace_in_name(event, source, rate)
        if told is not None:
            trouble.habit(event.line, "expected an M2 line for another speed, found it in the name only", "check it")
    if told == 0:
        return told
    sign = -1 if told is not None and told < 0 else 1
    spare = _CLOSE + record * _ROUNDED / rate.nominal
    if told is not None and abs(source - record * abs(told)) <= spare:
        return sign * Fraction(source, record) if source and record else told
    message = f"expected as many frames of footage as of the cut, found {source} and {record}"
    if told is None and abs(source - record) <= _CLOSE:
        trouble.habit(event.line, message, "check the event; it is read as played at normal speed")
        return Fraction(1)
    if told is not None:
        message = f"expected {float(record * abs(told)):.1f} frames of footage for the M2 speed, found {source}"
    help_ = f"correct the times, or add “M2   {event.reel}   "
    help_ += f"{float(rate.nominal * Fraction(source, max(1, record))):05.1f}   {event.labels[0]}” under the event"
    trouble.error(event.line, message, help_)
    return sign * Fraction(source or 1, record or 1)


def _pace_in_name(event: Event, source: int, rate: Rate) -> Fraction | None:
    """Return a speed that a clip's name or a comment says, "(50 FPS)" or "200 %"; an ending FF is a still."""
    if event.clip.endswith(" FF") and source <= 1:
        return Fraction(0)
    for words in (event.clip, *event.comments):
        if found := _PACE.search(words):
            return Fraction(found["figure"]) / (100 if found["unit"] == "%" else rate.nominal)
    return None


# ---- events to pieces


def _pieces(events: Sequence[_Timed], rate: Rate, start: int, trouble: Trouble) -> list[Piece]:
    """Return the pieces in the order of the cut, with the transitions between them."""
    pieces: list[Piece] = []
    leading = {
        one.event.line
        for one, two in pairwise(events)
        if two.event.is_transition and two.event.number == one.event.number
    }
    for timed in events:
        event = timed.event
        piece = Piece(
            timed.source,
            event.clip,
            to_seconds(timed.si, rate),
            to_seconds(timed.so, rate),
            to_seconds(timed.ri - start, rate),
            to_seconds(timed.ro - start, rate),
            timed.speed,
            event.span,
        )
        if event.is_transition:
            piece = _led_in(piece, event, pieces, rate, trouble)
        elif timed.ri == timed.ro and event.line not in leading:
            message = "expected events with a length, found one of none, which shows nothing"
            trouble.habit(event.line, message, "check the event, or delete it")
            continue
        elif timed.ri == timed.ro and pieces and _runs_on(pieces[-1], piece):
            continue  # the first line of a transition repeats where the piece before it ends
        pieces.append(piece)
    _order(pieces, trouble)
    return sorted(pieces, key=lambda piece: (piece.cut_start, piece.cut_end))


def _led_in(piece: Piece, event: Event, before: list[Piece], rate: Rate, trouble: Trouble) -> Piece:
    """Return the piece with its transition, which the piece before gets as well."""
    end = piece.cut_start + to_seconds(event.length or 0, rate)
    kind = "dissolve" if event.kind == "D" else "wipe"
    transition = Transition(kind, piece.cut_start, end, event.span)
    if end > piece.cut_end:
        trouble.habit(event.line, f"expected a {kind} no longer than its event, found a longer one", "check its frames")
    if before and before[-1].cut_end == piece.cut_start:
        before[-1] = replace(before[-1], outgoing=transition)
    else:
        trouble.habit(event.line, f"expected footage that a {kind} leads out of, found none before it", "check it")
    return replace(piece, incoming=transition)


def _runs_on(one: Piece, two: Piece) -> bool:
    return (one.source, one.source_end, one.cut_end) == (two.source, two.source_start, two.cut_start)


def _order(pieces: Sequence[Piece], trouble: Trouble) -> None:
    """Tell of pieces that stand out of order, overlap, or leave a gap in the cut."""
    for one, two in pairwise(pieces):
        if two.cut_start < one.cut_start:
            message = "expected events in the order of the cut, found one that is shown before the one above it"
            trouble.habit(two.span.line, message, "check it; the events are put in order by their record times")
    reached = Fraction(0)
    for piece in sorted(pieces, key=lambda piece: (piece.cut_start, piece.cut_end)):
        if piece.cut_start < reached:
            message = "expected one picture at a time, found record times that overlap"
            trouble.habit(piece.span.line, message, "check these events; each is taken to be seen")
        elif piece.cut_start > reached:
            message = "expected events that follow each other, found a gap in the cut before one"
            trouble.habit(piece.span.line, message, "nothing to fix if the cut is black there")
        reached = max(reached, piece.cut_end)
