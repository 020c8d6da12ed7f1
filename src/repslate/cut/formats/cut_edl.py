"""cut.edl: a CMX 3600 list to the edit that stands in edit.py."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from repslate.cut.edit import Edit, EditMarker, Piece, Transition
from repslate.cut.edit_list import Timed, record, settle, time_events
from repslate.cut.edit_list_lines import Event, scan
from repslate.cut.edit_trouble import Trouble
from repslate.cut.timecode import Rate, to_seconds
from repslate.source.finding import Finding

RATELESS = True


def read(text: str, file: str, rate: Rate | None = None) -> tuple[Edit, tuple[Finding, ...]]:
    """Return the edit that a CMX 3600 list tells, and what could not be read or is out of the ordinary.

    `rate` is the frame rate of the cut, which such lists do not say; without it only lists counted in drop-frame can
    be read. Only picture events make pieces. `* LOC:` markers are in the cut's time, wherever they stand.
    """
    trouble = Trouble(file)
    scanned = scan(text, trouble)
    rate = settle(rate, scanned, trouble)
    if rate is None:
        return Edit(()), trouble.findings()
    events = time_events(scanned, rate, trouble)
    start = min((event.ri for event in events), default=0)
    pieces = _pieces([event for event in events if event.event.has_picture], rate, start, trouble)
    if not pieces:
        trouble.error(1, "found no event with picture, expected at least one", "export the edit list again")
    markers = []
    for location in scanned.locations:
        at = record(location.label, location.span.line, events, rate, trouble)
        if at is not None and at < start:
            message = f"found “{location.text}” before the first frame of the cut, expected a marker inside it"
            trouble.error(location.span.line, message, "move the marker behind the first event's start, or delete it")
        elif at is not None:
            markers.append(EditMarker(location.text, to_seconds(at - start, rate), True, "", location.span))
    return Edit(tuple(pieces), tuple(markers), rate, to_seconds(start, rate)), trouble.findings()


def _pieces(events: Sequence[Timed], rate: Rate, start: int, trouble: Trouble) -> list[Piece]:
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
            message = "found an event of no length, which shows nothing, expected some frames"
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
        trouble.habit(event.line, f"found a {kind} longer than its event, expected it no longer", "check its frames")
    if before and before[-1].cut_end == piece.cut_start:
        before[-1] = replace(before[-1], outgoing=transition)
    else:
        trouble.habit(event.line, f"found nothing before a {kind}, expected footage that it leads out of", "check it")
    return replace(piece, incoming=transition)


def _runs_on(one: Piece, two: Piece) -> bool:
    return (one.source, one.source_end, one.cut_end) == (two.source, two.source_start, two.cut_start)


def _order(pieces: Sequence[Piece], trouble: Trouble) -> None:
    """Tell of pieces that stand out of order, overlap, or leave a gap in the cut."""
    for one, two in pairwise(pieces):
        if two.cut_start < one.cut_start:
            message = "found an event that is shown before the one above it, expected them in the order of the cut"
            trouble.habit(two.span.line, message, "check it; the events are put in order by their record times")
    reached = Fraction(0)
    for piece in sorted(pieces, key=lambda piece: (piece.cut_start, piece.cut_end)):
        if piece.cut_start < reached:
            message = "found record times that overlap, expected one picture at a time"
            trouble.habit(piece.span.line, message, "check these events; each is taken to be seen")
        elif piece.cut_start > reached:
            message = "found a gap in the cut before an event, expected each to follow the one above"
            trouble.habit(piece.span.line, message, "nothing to fix if the cut is black there")
        reached = max(reached, piece.cut_end)
