"""The edit in one form, whatever list it came from: which footage the cut shows when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import PurePosixPath
from typing import Literal

from repslate.cut.timecode import Rate, write_timecode
from repslate.source.span import Span

PlaceNote = Literal["", "under a transition", "changed speed", "check by eye"]


@dataclass(frozen=True, slots=True)
class Transition:
    """A dissolve or wipe into a piece, from `start` to `end` in seconds of the cut."""

    kind: str
    start: Fraction
    end: Fraction
    span: Span


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of footage in the cut, all times exact seconds and ends exclusive.

    `source` is the reel or file and `clip` the name it goes by; source times count as the footage's own timecode does.
    `speed` is seconds of footage in a second of cut: 2 double, 1/2 half, below 0 backwards, 0 a still. `incoming` leads
    into the piece and `outgoing` out of it; both may reach past its times, and the footage runs on under them.
    """

    source: str
    clip: str
    source_start: Fraction
    source_end: Fraction
    cut_start: Fraction
    cut_end: Fraction
    speed: Fraction
    span: Span
    incoming: Transition | None = None
    outgoing: Transition | None = None

    def is_from(self, source: str) -> bool:
        """Tell whether the piece shows the footage of that name, case and file endings aside."""
        return bool(_names(source) & (_names(self.source) | _names(self.clip)))


@dataclass(frozen=True, slots=True)
class EditMarker:
    """A named moment: `time` in seconds of the cut where `in_cut`, else of the footage `source`.

    Source times count as the footage's own timecode does; an empty `source` is any footage.
    """

    name: str
    time: Fraction
    in_cut: bool
    source: str
    span: Span


@dataclass(frozen=True, slots=True)
class Edit:
    """Pieces in the order of the cut and the markers that came with them.

    `rate` is None where nothing says it; `start` is what the timecode shows at the cut's first frame, in seconds.
    """

    pieces: tuple[Piece, ...]
    markers: tuple[EditMarker, ...] = ()
    rate: Rate | None = None
    start: Fraction = field(default_factory=Fraction)


@dataclass(frozen=True, slots=True)
class Place:
    """Where the cut shows a moment of footage; `clear_from` is when no transition lies over it any more."""

    cut_time: Fraction
    piece: Piece
    note: PlaceNote = ""
    clear_from: Fraction | None = None


def places(edit: Edit, source: str, time: Fraction) -> tuple[Place, ...]:
    """Return every place where the cut shows the moment `time` of the footage `source`, earliest first.

    None is footage that was removed. A moment that only a transition shows counts, with its note; backwards footage
    is told to be checked by eye, for writers of lists differ on which end of it the times name.
    """
    found: dict[Fraction, Place] = {}
    day = edit.rate.day / edit.rate.exact if edit.rate else Fraction(0)
    for piece in edit.pieces:
        if not source or piece.is_from(source):
            passes_midnight = edit.rate and time < piece.source_start and piece.source_end > day
            for place in _in_piece(piece, time + day if passes_midnight else time, edit.rate):
                found.setdefault(place.cut_time, place)
    return tuple(found[at] for at in sorted(found))


def timecode(time: Fraction, rate: Rate | None) -> str:
    """Write a moment of footage as its label where it lies on a frame, else as seconds."""
    frames = time * rate.exact if rate else None
    if rate and frames is not None and frames.denominator == 1 and 0 <= frames < rate.day:
        return write_timecode(int(frames), rate)
    return f"{float(time):.3f}".rstrip("0").rstrip(".") + " s"


def _in_piece(piece: Piece, time: Fraction, rate: Rate | None) -> Iterator[Place]:
    if piece.speed == 0:
        if time == piece.source_start and piece.cut_start < piece.cut_end:
            yield Place(piece.cut_start, piece, "changed speed")
        return
    if piece.speed > 0:
        at = piece.cut_start + (time - piece.source_start) / piece.speed
    else:  # the last frame comes first
        frame = 1 / rate.exact if rate else Fraction(0)
        at = piece.cut_start + (piece.source_end - frame - time) / -piece.speed
    incoming, outgoing = piece.incoming, piece.outgoing
    first = incoming.start if incoming else piece.cut_start
    last = outgoing.end if outgoing else piece.cut_end
    if not first <= at < last:
        return
    if incoming and at < incoming.end:
        yield Place(at, piece, "check by eye" if piece.speed < 0 else "under a transition", incoming.end)
    elif outgoing and at >= outgoing.start:
        yield Place(at, piece, "check by eye" if piece.speed < 0 else "under a transition", outgoing.end)
    elif piece.speed < 0:
        yield Place(at, piece, "check by eye")
    else:
        yield Place(at, piece, "" if piece.speed == 1 else "changed speed")


def _names(source: str) -> set[str]:
    """Return what a name may be written as: itself and itself without a file's ending, in small letters."""
    plain = source.strip().casefold()
    return {plain, PurePosixPath(plain).stem} - {""}
