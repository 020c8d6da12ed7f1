"""The chapter list for the three places that take one: a description, a player's track, a media file's metadata."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor

from repslate.cut.chapters import Chapter, ends
from repslate.model.clock import HOUR, write_clock, write_stamp

_UNKNOWN_END = Fraction(1)  # seconds: the least that shows; the last chapter must end after it starts


def chapters_txt(chapters: Sequence[Chapter], length: Fraction | None) -> bytes:
    """Return the list for a video's description: `M:SS Title` a line, UTF-8, in the order given.

    Times are rounded down to whole seconds. Hours stand on every line as soon as the film or any mark lasts an hour,
    on none otherwise (common practice on video hosts, no standard). `length` is the film's, in seconds.
    """
    hours = max((chapter.start for chapter in chapters), default=Fraction(0)) >= HOUR or (length or 0) >= HOUR
    lines = [f"{write_clock(chapter.start, hours=hours)} {_one_line(chapter.title)}\n" for chapter in chapters]
    return "".join(lines).encode()


def chapters_vtt(chapters: Sequence[Chapter], length: Fraction | None) -> bytes:
    """Return a WebVTT track of kind "chapters": one cue a chapter, each until the next (W3C WebVTT, chapter titles).

    Times are rounded down to milliseconds. Where `length` is unknown the last cue ends one second after its start.
    """
    cues = [
        f"\n{write_stamp(Fraction(start, 1000))} --> {write_stamp(Fraction(end, 1000))}\n{_escape_vtt(title)}\n"
        for start, end, title in _stretches(chapters, length)
    ]
    return "".join(["WEBVTT\n", *cues]).encode()


def chapters_ffmeta(chapters: Sequence[Chapter], length: Fraction | None) -> bytes:
    """Return an FFMETADATA file: contiguous chapters in milliseconds, rounded down (FFmpeg doc/metadata.texi).

    There is no byte order mark, which FFmpeg refuses, and every chapter has its END, without which FFmpeg loses the
    title. Where `length` is unknown the last chapter ends one second after its start.
    """
    parts = [
        f"[CHAPTER]\nTIMEBASE=1/1000\nSTART={start}\nEND={end}\ntitle={_escape_ffmeta(title)}\n"
        for start, end, title in _stretches(chapters, length)
    ]
    return "".join([";FFMETADATA1\n", *parts]).encode()


def _stretches(chapters: Sequence[Chapter], length: Fraction | None) -> Iterator[tuple[int, int, str]]:
    """Yield start and end in whole milliseconds and the title on one line."""
    for chapter, end in zip(chapters, ends(chapters, length), strict=True):
        start = floor(chapter.start * 1000)
        last = floor((chapter.start + _UNKNOWN_END if end is None else end) * 1000)
        # A film that ends within a millisecond of its last mark still needs an end after the start (WebVTT §4.1).
        yield start, max(last, start + 1), _one_line(chapter.title)


def _one_line(title: str) -> str:
    """Join the lines of a title: a line break ends the list's line, and mkvmerge refuses a file that holds one."""
    return " ".join(part for part in map(str.strip, title.splitlines()) if part)


def _escape_vtt(title: str) -> str:
    return title.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _escape_ffmeta(title: str) -> str:
    return "".join(f"\\{c}" if c in "=;#\\" else c for c in title)
