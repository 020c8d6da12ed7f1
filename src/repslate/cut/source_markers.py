"""Markers made while filming to chapters of the cut, by way of the edit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from repslate.cut.edit import Edit, EditMarker, Place, places, timecode
from repslate.cut.markers import Marker, titled
from repslate.model.clock import write_clock
from repslate.source.finding import Finding, Severity
from repslate.source.near import nearest


def from_source(edit: Edit, markers: Sequence[EditMarker]) -> tuple[tuple[Marker, ...], tuple[Finding, ...]]:
    """Return the markers at their exact seconds in the cut, earliest first, and what is to be said of them.

    A marker of footage that was removed has no time and is only told. Of footage used more than once the first use
    that no transition covers counts. Markers that are already in the cut's time keep theirs.
    """
    chapters: list[Marker] = []
    findings: list[Finding] = []
    for marker in markers:
        found = () if marker.in_cut else places(edit, marker.source, marker.time)
        if not marker.in_cut and not found:
            findings.append(_nowhere(edit, marker))
            continue
        best = min(found, key=lambda place: (place.clear_from is not None, place.cut_time), default=None)
        chapter = titled(best.cut_time if best else marker.time, marker.name, marker.span)
        if isinstance(chapter, Finding):
            findings.append(chapter)
            continue
        chapters.append(chapter)
        if best:
            findings += _remarks(edit, marker, best, found)
    return tuple(sorted(chapters, key=lambda chapter: chapter.time)), tuple(findings)


def _remarks(edit: Edit, marker: EditMarker, best: Place, found: Sequence[Place]) -> Iterator[Finding]:
    """Yield what the editor should know of a marker that the cut shows."""
    where, at, span = _where(edit, marker), write_clock(best.cut_time, thousandths=None), marker.span
    if len(found) > 1:
        times = ", ".join(write_clock(place.cut_time, thousandths=None) for place in found)
        message = f"found {where} {len(found)} times in the cut, at {times}, expected it once"
        help_ = f"the chapter is at {at}; nothing to fix unless another time is meant"
        yield Finding("marker-reused", Severity.WARNING, span, message, help_)
    if best.clear_from is not None:
        message = f"found {where} under a transition at {at}, expected it to be seen whole"
        clear = write_clock(best.clear_from, thousandths=None)
        help_ = f"the picture stands whole from {clear}{_shown_at(edit, best.clear_from)}"
        yield Finding("marker-under-transition", Severity.WARNING, span, message, help_)
    speed = best.piece.speed
    if speed == 1:
        return
    message = f"found {where} {_pace(speed)}, expected it at normal speed"
    if speed < 0:
        help_ = f"the chapter is at {at}; look at the cut there, and move the marker if something else is shown"
        because = "lists differ on which end of backwards footage their times name"
        yield Finding("marker-speed", Severity.WARNING, span, message, help_, because)
    else:
        help_ = f"nothing to fix: the chapter is at {at}, the change of speed counted in"
        yield Finding("marker-speed", Severity.NOTE, span, message, help_)


def _nowhere(edit: Edit, marker: EditMarker) -> Finding:
    """Say that a marker's footage was removed, with the nearest that was kept, or that there is no such footage."""
    kept = [piece for piece in edit.pieces if not marker.source or piece.is_from(marker.source)]
    if not kept:
        return _source_unknown(edit, marker)
    message = f"found {_where(edit, marker)} removed, expected it in the cut"
    later = [piece for piece in kept if piece.source_start > marker.time]
    if later:
        piece = min(later, key=lambda piece: (piece.source_start, piece.cut_start))
        label = f"{timecode(piece.source_start, edit.rate)} of {piece.source}"
        help_ = (
            f"the next footage kept begins {_seconds(piece.source_start - marker.time)} later: if it shows the same, "
            f"move the marker to {label}, {write_clock(piece.cut_start, thousandths=None)} in the cut"
        )
    else:
        piece = max(kept, key=lambda piece: (piece.source_end, piece.cut_end))
        end = write_clock(piece.cut_end, thousandths=None)
        help_ = (
            f"none later is kept, the last kept before ends at {end} in the cut; "
            "leave the chapter out, or put the footage back"
        )
    return Finding("marker-removed", Severity.WARNING, marker.span, message, help_)


def _shown_at(edit: Edit, time: Fraction) -> str:
    """Say which footage the cut shows at a time, as the place to move a marker to; nothing where that is not plain."""
    for piece in edit.pieces:
        if piece.cut_start <= time < piece.cut_end and piece.speed > 0:
            source = piece.source_start + (time - piece.cut_start) * piece.speed
            return f": move the marker to {timecode(source, edit.rate)} of {piece.source}"
    return ""


def _source_unknown(edit: Edit, marker: EditMarker) -> Finding:
    names = list(dict.fromkeys(piece.source for piece in edit.pieces if piece.source != "BL"))
    near = nearest(marker.source, names)
    known = ", ".join(names[:8]) or "none at all"
    message = f"found “{marker.source}” for “{marker.name}”, expected footage that the edit uses ({known})"
    help_ = f"did you mean {near}" if near else "name the footage as the edit does, or leave the marker out"
    return Finding("marker-source-unknown", Severity.ERROR, marker.span, message, help_)


def _where(edit: Edit, marker: EditMarker) -> str:
    of = f" of {marker.source}" if marker.source else ""
    return f"“{marker.name}” ({timecode(marker.time, edit.rate)}{of})"


def _pace(speed: Fraction) -> str:
    if speed == 0:
        return "as a still"
    times = f"{float(abs(speed)):.3f}".rstrip("0").rstrip(".")
    return f"played backwards at {times} times its speed" if speed < 0 else f"played at {times} times its speed"


def _seconds(time: Fraction) -> str:
    return f"{float(time):.3f}".rstrip("0").rstrip(".") + " s"
