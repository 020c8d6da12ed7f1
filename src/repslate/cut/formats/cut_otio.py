"""cut.otio: OpenTimelineIO JSON, read through its library, to the neutral edit that stands in edit.py.

The library upgrades schemas and knows the objects; times are summed here, for it counts in floats, passes over speed
changes, and gives a time even to markers whose footage was cut away.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any, TypeGuard
from urllib.parse import unquote

from repslate.cut.edit import Edit, EditMarker, Piece, Transition
from repslate.cut.edit_trouble import Trouble
from repslate.cut.json_lines import JsonPath, json_wrong, lines_of, objects_wrong
from repslate.cut.timecode import RATES, Rate
from repslate.source.finding import Finding

if TYPE_CHECKING:
    from opentimelineio import opentime, schema

_EXPORT = "export the timeline again as OpenTimelineIO"


@dataclass(frozen=True, slots=True)
class _Window:
    """The part of an object's own time that is seen: `start` to `end` of it, from `at` to `until` in the cut.

    `speed` is seconds of own time in a second of the cut, below 0 backwards, 0 a still.
    """

    start: Fraction
    end: Fraction
    at: Fraction
    until: Fraction
    speed: Fraction

    def to_cut(self, time: Fraction) -> Fraction:
        """Return the seconds of the cut at which a moment of the object's own time is seen."""
        if self.speed > 0:
            return self.at + (time - self.start) / self.speed
        return self.at + (self.end - time) / -self.speed if self.speed else self.at

    def of_child(self, at: Fraction, length: Fraction, own: Fraction, speed: Fraction) -> _Window | None:
        """Return the window of a child that takes up `length` from `at` of this object's time and begins at `own`."""
        first, last = max(at, self.start), min(at + length, self.end)
        if first >= last or not self.speed:
            return None
        near, far = sorted((self.to_cut(first), self.to_cut(last)))
        if speed >= 0:
            start, end = own + (first - at) * speed, own + (last - at) * speed
        else:
            start, end = own + (at + length - last) * -speed, own + (at + length - first) * -speed
        return _Window(start, end, near, far, self.speed * speed)


@dataclass(frozen=True, slots=True)
class _Seen:
    """How an object is seen: the window on it, its place in the file, and what leads into and out of it.

    `shows` is False for sound and for what is switched off.
    """

    window: _Window | None
    path: JsonPath
    shows: bool
    incoming: Transition | None = None
    outgoing: Transition | None = None


def read(text: str, file: str, _rate: Rate | None = None) -> tuple[Edit | None, tuple[Finding, ...]]:
    """Return the edit that an OTIO timeline tells, and what could not be read; None where it is no timeline.

    Every video track makes pieces, whether or not one above covers it. Markers of clips are in the footage's time,
    those of tracks and of the whole stack in the cut's.
    """
    trouble = Trouble(file)
    data, wrong = json_wrong(text)
    if wrong:
        trouble.error(wrong.line, wrong.message, _EXPORT)
        return None, trouble.findings()
    lines = lines_of(text)
    for one in objects_wrong(data, lines):
        trouble.error(one.line, one.message, _EXPORT)
    if trouble.findings():
        return None, trouble.findings()
    timeline = _load(text, trouble)
    edit = _Walk(trouble, lines).edit(timeline) if timeline else None
    return edit, trouble.findings()


def _load(text: str, trouble: Trouble) -> schema.Timeline | None:
    """Return the library's timeline; None, and told, where it refuses the text or finds something else in it."""
    from opentimelineio import adapters, schema
    from opentimelineio.exceptions import OTIOError

    try:
        found = adapters.read_from_string(text, "otio_json")
    except (OTIOError, ValueError, KeyError, TypeError) as error:
        line = re.search(r"near line ([0-9]+)", str(error))
        reason = " ".join(str(error).strip("'\"").split())[:120]
        message = f"found a file that the library of OTIO refuses, expected a timeline: {reason}"
        trouble.error(int(line[1]) if line else 1, message, _EXPORT)
        return None
    if isinstance(found, schema.Timeline) and found.tracks is not None:
        return found
    trouble.error(1, f"found another object ({type(found).__name__}), expected an OTIO timeline", _EXPORT)
    return None


class _Walk:
    """One pass through a timeline's objects; paths are those of the JSON, so that findings have their line."""

    def __init__(self, trouble: Trouble, lines: dict[JsonPath, int]) -> None:
        self._trouble = trouble
        self._lines = lines
        self._pieces: list[Piece] = []
        self._markers: list[EditMarker] = []
        self._rate: Rate | None = None

    def edit(self, timeline: schema.Timeline) -> Edit:
        """Return the edit of the whole timeline."""
        begin = timeline.global_start_time
        if begin is not None:
            self._rate = _rate(begin.rate)
        stack = timeline.tracks
        start, length = _own_start(stack), self._length(stack, ("tracks",))
        speed = self._speed(stack, ("tracks",))
        window = _Window(Fraction(0), length, Fraction(0), length, Fraction(1))
        seen = _Seen(window.of_child(Fraction(0), length, start, speed), ("tracks",), shows=True)
        self._visit(stack, seen)
        pieces = tuple(sorted(self._pieces, key=lambda piece: (piece.cut_start, piece.cut_end)))
        once: dict[tuple[str, Fraction, bool, str], EditMarker] = {}
        for marker in self._markers:  # a clip cut in two carries its markers in both halves, sound as well as picture
            once.setdefault((marker.name, marker.time, marker.in_cut, marker.source), marker)
        return Edit(pieces, tuple(once.values()), self._rate, _seconds(begin) if begin is not None else Fraction(0))

    def _visit(self, item: Any, seen: _Seen) -> None:
        from opentimelineio import schema

        if not item.enabled:
            message = "found tracks or clips that are switched off and show nothing, expected them switched on"
            help_ = "switch them on if the cut shows them"
            self._trouble.habit(self._line(seen.path), message, help_, harmless=True)
            seen = replace(seen, shows=False)
        self._read_markers(item, seen)
        if isinstance(item, schema.Track):
            self._track(item, replace(seen, shows=seen.shows and item.kind == schema.TrackKind.Video))
        elif isinstance(item, schema.Stack):
            for number, child in enumerate(item):
                self._child(child, Fraction(0), replace(seen, path=(*seen.path, "children", number)), seen.window)
        elif isinstance(item, schema.Clip) and seen.shows and seen.window:
            self._rate = self._rate or _rate(item.trimmed_range().duration.rate)
            window, span = seen.window, self._trouble.span(self._line(seen.path))
            times = (window.start, window.end, window.at, window.until, window.speed)
            self._pieces.append(Piece(_source(item), item.name, *times, span, seen.incoming, seen.outgoing))

    def _child(self, child: Any, at: Fraction, seen: _Seen, window: _Window | None) -> Fraction:
        """Visit a child that begins at `at` of its parent's time, seen through `window`; return where it ends."""
        length = self._length(child, seen.path)
        speed = self._speed(child, seen.path)
        own = window.of_child(at, length, _own_start(child), speed) if window else None
        self._visit(child, replace(seen, window=own))
        return at + length

    def _track(self, track: schema.Track, seen: _Seen) -> None:
        at, window = Fraction(0), seen.window
        incoming: Transition | None = None
        paths = [(*seen.path, "children", number) for number in range(len(track))]
        children = list(track)
        for child, path, after in zip(children, paths, [*children, None][1:], strict=True):
            if _is_transition(child):
                incoming = self._transition(child, at, window, path) if window else None
                continue
            outgoing = None
            if _is_transition(after) and window:
                below = (*path[:-1], int(path[-1]) + 1)
                outgoing = self._transition(after, at + self._length(child, path), window, below)
            at = self._child(child, at, _Seen(None, path, seen.shows, incoming, outgoing), window)
            incoming = None

    def _transition(self, item: schema.Transition, at: Fraction, window: _Window, path: JsonPath) -> Transition:
        first, last = at - _seconds(item.in_offset), at + _seconds(item.out_offset)
        start, end = sorted((window.to_cut(first), window.to_cut(last)))
        kind = "dissolve" if "dissolve" in item.transition_type.lower() else item.transition_type or "transition"
        return Transition(kind, max(start, Fraction(0)), end, self._trouble.span(self._line(path)))

    def _read_markers(self, item: Any, seen: _Seen) -> None:
        """Keep an object's markers: a clip's in the time of its footage, any other's in that of the cut."""
        from opentimelineio import schema

        for number, marker in enumerate(item.markers):
            window, line = seen.window, self._line((*seen.path, "markers", number))
            name = " ".join((marker.name or marker.comment).split())
            time = _seconds(marker.marked_range.start_time)
            span = self._trouble.span(line)
            if not name:
                message = "found a marker without a name, expected one for each"
                self._trouble.habit(line, message, "name the marker after the exercise it shows, or delete it")
            elif isinstance(item, schema.Clip):
                self._markers.append(EditMarker(name, time, False, _source(item), span))
            elif window and window.start <= time < window.end:
                self._markers.append(EditMarker(name, window.to_cut(time), True, "", span))
            else:
                message = f"found “{name}” outside the part of its track that is shown, expected it inside"
                self._trouble.error(line, message, "move the marker, or delete it")

    def _length(self, item: Any, path: JsonPath) -> Fraction:
        """Return the seconds that an object takes up in its parent; 0, and told, where nothing says them."""
        from opentimelineio import schema

        if _is_transition(item):
            return Fraction(0)
        if item.source_range is not None:
            return _seconds(item.source_range.duration)
        if isinstance(item, schema.Clip | schema.Gap):
            media = item.media_reference if isinstance(item, schema.Clip) else None
            if media is not None and media.available_range is not None:
                return _seconds(media.available_range.duration)
            message = f"found “{item.name}” with neither source nor media range, expected clips and gaps with a length"
            self._trouble.error(self._line(path), message, _EXPORT)
            return Fraction(0)
        lengths = [self._length(child, (*path, "children", number)) for number, child in enumerate(item)]
        return sum(lengths, Fraction(0)) if isinstance(item, schema.Track) else max(lengths, default=Fraction(0))

    def _speed(self, item: Any, path: JsonPath) -> Fraction:
        """Return how fast an object plays: the product of its speed changes."""
        from opentimelineio import schema

        speed = Fraction(1)
        for effect in item.effects:
            if isinstance(effect, schema.LinearTimeWarp):
                # Writers divide in floats: a third has to come out as one.
                speed *= Fraction(effect.time_scalar).limit_denominator(10_000)
            elif isinstance(effect, schema.TimeEffect):
                message = "found a speed that changes, which cannot be followed, expected one speed for each clip"
                self._trouble.habit(self._line(path), message, "check the chapters of that clip by eye")
        return speed

    def _line(self, path: JsonPath) -> int:
        return self._lines.get(path, 1)


def _is_transition(item: object) -> TypeGuard[schema.Transition]:
    from opentimelineio import schema

    return isinstance(item, schema.Transition)


def _own_start(item: Any) -> Fraction:
    """Return the first moment of an object's own time that its parent shows."""
    from opentimelineio import schema

    if _is_transition(item):
        return Fraction(0)
    media = item.media_reference if isinstance(item, schema.Clip) else None
    shown = item.source_range or (media.available_range if media is not None else None)
    return _seconds(shown.start_time) if shown is not None else Fraction(0)


def _source(clip: schema.Clip) -> str:
    """Return the name of a clip's footage: its file's, else the reference's, else the clip's own."""
    media = clip.media_reference
    url = getattr(media, "target_url", "") or ""
    return PurePosixPath(unquote(url)).name or (media.name if media is not None else "") or clip.name


def _exact(rate: float) -> Fraction:
    """Return the exact rate that a float stands for: 23.98 and 29.97 are shorthand for thousandths of 1001."""
    near = min((one.exact for one in RATES.values()), key=lambda exact: abs(exact - Fraction(rate)))
    return near if abs(near - Fraction(rate)) < Fraction(1, 200) else Fraction(rate)


def _seconds(time: opentime.RationalTime) -> Fraction:
    return Fraction(time.value) / _exact(time.rate)


def _rate(rate: float) -> Rate:
    exact = _exact(rate)
    return next((one for one in RATES.values() if one.exact == exact), Rate(exact, ceil(exact), 0))
