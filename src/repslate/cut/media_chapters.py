"""Chapters inside a film: read from it, and written into a copy of it whose streams are copied as they are.

The film that is read is never written to.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from repslate.cut.chapters import Chapter
from repslate.cut.markers import Marker, titled
from repslate.cut.video import open_film, reason, start_timecode, unreadable
from repslate.cut.wording import exact_clock
from repslate.source.finding import Finding, Severity
from repslate.source.new_file import is_address, place_new, room_beside
from repslate.source.span import Span

if TYPE_CHECKING:
    from av import Packet
    from av.container import InputContainer, OutputContainer
    from av.container.core import Chapter as Stored
    from av.stream import Stream

_NANOSECOND = Fraction(1, 1_000_000_000)  # Matroska's step, and FFmpeg's where a file names none
_FORMATS = {".mp4": "mp4", ".m4v": "mp4", ".mov": "mov", ".mkv": "matroska"}
_LONGEST = 255  # bytes: MP4's chapter list keeps a title's length in one (FFmpeg movenc.c, from memory)
_STEP = Fraction(1, 1000)  # seconds: of the chapters, and of all times in Matroska


def read_film_chapters(film: Path) -> tuple[tuple[Marker, ...], tuple[Finding, ...]]:
    """Return the chapters that a film carries, in seconds from its first picture, and those that cannot be read.

    A chapter that begins with the file, before the first picture, begins at 0.
    """
    import av

    try:
        with open_film(film) as container:
            stored, first = container.chapters(), _first_picture(container)
    except (av.FFmpegError, OSError, ValueError) as trouble:
        return (), (unreadable(film, f"the decoder says “{reason(trouble)}”"),)
    read = []
    for number, chapter in enumerate(stored, 1):
        start = chapter["start"] * (chapter["time_base"] or _NANOSECOND)
        marker = titled(max(start - first, Fraction(0)), chapter["metadata"].get("title", ""), Span(film.name, number))
        read.append(marker)
    markers = tuple(one for one in read if isinstance(one, Marker))
    return markers, tuple(one for one in read if isinstance(one, Finding))


def write_into(film: Path, chapters: Sequence[Chapter], out: Path) -> tuple[Finding, ...]:
    """Write a copy of `film` that carries `chapters` to `out`, which must not be there yet.

    Streams are copied packet by packet, read back and compared with the film's, and so are the chapters; `out` appears
    only when all is the same. Chapters are written sorted and without gaps, each until the next, the last until the
    film's end, since MP4 changes anything else. An error among the findings means that nothing was written.
    """
    import av

    if is_address(out):
        return (_not_written(out, f"found the address {out}, expected a file of this computer", "give a file's name"),)
    refused = _refused(film, chapters, out)
    if refused is not None:
        return (refused,)
    try:
        with room_beside(out) as room:
            copy = room / out.name
            left_out = _copy(film, chapters, copy, _FORMATS[out.suffix.lower()])
            differs = _difference(_contents(film), _contents(copy), _wanted(film, chapters))
            if differs:
                return (_not_written(out, f"{differs}, expected a copy that is the same as {film.name}"),)
            place_new(copy, out)
    except (av.FFmpegError, OSError, ValueError) as trouble:
        return (_not_written(out, f"found “{reason(trouble)}”, expected to copy {film.name}"),)
    return tuple(_left_out(film, what) for what in left_out)


def _refused(film: Path, chapters: Sequence[Chapter], out: Path) -> Finding | None:
    """Return why a film cannot be written, before anything is opened for writing."""
    kinds = [_FORMATS.get(path.suffix.lower()) for path in (film, out)]
    if kinds[0] is None or kinds[0] != kinds[1]:
        message = f"found {out.name}, expected a name that ends as {film.name} does, as .mp4, .m4v, .mov or .mkv"
        return _not_written(
            out, message, f"write to {out.stem}{film.suffix}: another kind of file would shift the times"
        )
    if os.path.lexists(out):
        return _not_written(out, f"found {out.name} there already, expected a new file", "choose another name")
    ordered = sorted(chapters, key=lambda chapter: chapter.start)
    if not ordered or ordered[0].start != 0:
        found = f"“{ordered[0].title}” at {exact_clock(ordered[0].start)}" if ordered else "none"
        span = ordered[0].span if ordered else Span(film.name)
        return _unfit(
            span, f"found {found}, expected a first chapter at 0:00", "add a chapter at 0:00, such as Welcome"
        )
    for one, other in pairwise(ordered):
        if one.start == other.start:
            message = (
                f"found “{one.title}” and “{other.title}” at {exact_clock(one.start)}, expected one chapter at a time"
            )
            return _unfit(other.span, message, "move one of the two, or delete it")
    for chapter in ordered:
        if len(_one_line(chapter.title).encode()) > _LONGEST:
            return _unfit(chapter.span, f"found a longer title, expected at most {_LONGEST} bytes", "shorten the title")
    return _past_end(film, ordered[-1], out)


def _past_end(film: Path, last: Chapter, out: Path) -> Finding | None:
    import av

    try:
        with open_film(film) as container:
            end = _end(container)
    except (av.FFmpegError, OSError, ValueError) as trouble:
        return _not_written(
            out, f"expected a film in {film.name}, the decoder says “{reason(trouble)}”", "export the film again"
        )
    if last.start < end:
        return None
    message = f"found {exact_clock(last.start)}, expected the last chapter before the film's end at {exact_clock(end)}"
    return _unfit(last.span, message, "move the chapter, or take the film that it belongs to")


def _wanted(film: Path, chapters: Sequence[Chapter]) -> list[Stored]:
    """Return the chapters as the film is to hold them: in milliseconds, which is what FFmpeg's MP4 writer keeps.

    Rounded up, so that a jump to a shot change never shows the shot before.
    """
    with open_film(film) as container:
        first, end = _first_picture(container), _end(container)
    ordered = sorted(chapters, key=lambda chapter: chapter.start)
    times = [*(chapter.start + first for chapter in ordered[1:]), end + first]
    marks = [0, *(ceil(time / _STEP) for time in times)]
    return [
        {"id": number, "start": start, "end": until, "time_base": _STEP, "metadata": {"title": _one_line(one.title)}}
        for number, (one, (start, until)) in enumerate(zip(ordered, pairwise(marks), strict=True), 1)
    ]


def _copy(film: Path, chapters: Sequence[Chapter], out: Path, kind: str) -> list[str]:
    """Copy a film with new chapters; return what streams were left out."""
    import av

    # Matroska writes no decoding times, so that early ones below zero need not shift everything.
    options = {"avoid_negative_ts": "disabled"} if kind == "matroska" else {"movflags": "+faststart"}
    name = f"file:{out.absolute()}"  # never a protocol's
    with open_film(film) as source, av.open(name, "w", format=kind, options=options) as target:
        copies = {stream.index: _like(target, stream) for stream in source.streams if stream.type in _COPIED}
        target.metadata.update(source.metadata)
        target.set_chapters(_wanted(film, chapters))
        for packet in _in_time(source):
            if packet.stream.index in copies:
                packet.stream = copies[packet.stream.index]
                target.mux(packet)
        others = [stream for stream in source.streams if stream.type not in _COPIED]
        # The timecode's track and the text track of earlier chapters are made anew by the writer.
        lists = 1 if source.chapters() and kind != "matroska" else 0
        rest = [stream for stream in others if "timecode" not in map(str.lower, stream.metadata)]
        return [f"track {stream.index + 1} ({stream.type})" for stream in rest[lists:]]


_COPIED = ("video", "audio", "subtitle")


def _like(target: OutputContainer, stream: Stream) -> Stream:
    copy = target.add_stream_from_template(stream)
    copy.metadata.update(stream.metadata)  # the timecode is here, drop-frame mark and all
    copy.disposition = stream.disposition
    return copy


def _in_time(source: InputContainer) -> Iterator[Packet[Stream]]:
    """Yield the packets with decoding times: Matroska keeps none, and FFmpeg cannot tell those of the first ones."""
    waiting: dict[int, list[Packet[Stream]]] = {}
    for packet in source.demux():
        if packet.size == 0 and packet.pts is None and packet.dts is None:  # the end of a stream
            yield from waiting.pop(packet.stream.index, ())
        elif packet.dts is None:
            waiting.setdefault(packet.stream.index, []).append(packet)
        else:
            early = waiting.pop(packet.stream.index, [])
            for number, one in enumerate(early):
                one.dts = packet.dts - (len(early) - number) * max(1, packet.duration or 1)
                yield one
            yield packet


@dataclass(slots=True)
class _Track:
    """What is compared of a stream: its bytes, and when each packet shows."""

    digest: hashlib._Hash = field(default_factory=hashlib.sha256)
    times: list[Fraction] = field(default_factory=list)


class _Contents(NamedTuple):
    tracks: list[_Track]
    timecode: str | None
    chapters: list[tuple[Fraction, Fraction, str]]


def _contents(film: Path) -> _Contents:

    with open_film(film) as container:
        tracks = {stream.index: _Track() for stream in container.streams if stream.type in _COPIED}
        for packet in container.demux():
            if packet.stream.index in tracks and (packet.size or packet.pts is not None):
                track = tracks[packet.stream.index]
                track.digest.update(b"%d %d " % (packet.size, packet.is_keyframe))
                track.digest.update(bytes(packet))
                track.times.append((packet.pts or 0) * packet.time_base)
        chapters = [_plain(chapter) for chapter in container.chapters()]
        return _Contents(list(tracks.values()), start_timecode(container), chapters)


def _plain(chapter: Stored) -> tuple[Fraction, Fraction, str]:
    base = chapter["time_base"] or _NANOSECOND
    return chapter["start"] * base, chapter["end"] * base, chapter["metadata"].get("title", "")


def _difference(old: _Contents, new: _Contents, chapters: Sequence[Stored]) -> str:
    """Return in words how a copy differs from its film; empty if in nothing."""
    if len(old.tracks) != len(new.tracks):
        return f"found {len(new.tracks)} tracks in place of {len(old.tracks)}"
    for number, (one, other) in enumerate(zip(old.tracks, new.tracks, strict=True), 1):
        if one.digest.digest() != other.digest.digest():
            return f"found other content in track {number}"
        if not all(map(_same, one.times, other.times)):
            return f"found other times in track {number}"
    if old.timecode != new.timecode:
        return f"found the timecode {new.timecode} in place of {old.timecode}"
    if [_plain(chapter) for chapter in chapters] != new.chapters:
        return "found other chapters in it when it was read back"
    return ""


def _same(one: Fraction, other: Fraction) -> bool:
    return abs(one - other) <= _STEP


def _first_picture(container: InputContainer) -> Fraction:
    """Return the seconds from the file's own zero to its first picture."""
    stream = next(iter(container.streams.video), None)
    if stream is None or stream.start_time is None or stream.time_base is None:
        return Fraction(0)
    return stream.start_time * stream.time_base


def _end(container: InputContainer) -> Fraction:
    """Return the film's length, in seconds from its first picture."""
    return Fraction(container.duration or 0, 1_000_000) - _first_picture(container)


def _one_line(title: str) -> str:
    """Join the lines of a title: mkvmerge refuses an MP4 whose chapter title holds a line break."""
    return " ".join(title.split())


def _not_written(out: Path, message: str, help_: str = "the film itself is as it was; try another place") -> Finding:
    return Finding("film-not-written", Severity.ERROR, Span(out.name), message, help_)


def _unfit(span: Span, message: str, help_: str) -> Finding:
    because = "MP4 moves a first mark to 0, trims overlaps and keeps marks past the end"
    return Finding("film-not-written", Severity.ERROR, span, message, help_, because)


def _left_out(film: Path, what: str) -> Finding:
    message = f"found {what}, which the copy does not have, expected picture, sound and subtitles in {film.name}"
    help_ = "keep the film if you need it; players of films do not"
    return Finding("film-track-left-out", Severity.WARNING, Span(film.name), message, help_)
