"""Chapters in FFMETADATA, which FFmpeg and editing programs exchange, read as the markers of chapters.txt are."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from repslate.cut.markers import Marker, titled, unreadable
from repslate.source.finding import Finding
from repslate.source.span import Span

_SOURCE = "FFmpeg doc/metadata.texi"
_NUMBER = re.compile(r"[0-9]{1,18}")
_BASE = re.compile(r"([0-9]{1,10})/([0-9]{1,10})")
_NANOSECOND = Fraction(1, 1_000_000_000)  # what a missing TIMEBASE means


class _Entry(NamedTuple):
    key: str
    value: str
    span: Span


def read(text: str, file: str) -> Iterator[Marker | Finding]:
    """Yield the markers of an FFMETADATA file in the order of the file, and what could not be read.

    Strict where FFmpeg loses something without a word: TIMEBASE, START and END stand first and in this order. Tags of
    the whole file and of streams are passed over. Every finding is an error.
    """
    lines = text.replace("\r\n", "\n").split("\n")
    if not lines[0].startswith(";FFMETADATA1"):
        found = "a byte order mark" if text.startswith("\ufeff") else f"“{lines[0][:40]}”"
        message = f"found {found}, expected “;FFMETADATA1” at the very start of the file"
        help_ = "write ;FFMETADATA1 on the first line, with nothing before it"
        yield unreadable(Span(file), message, help_, _SOURCE)
        return
    yield from (_chapter(section) for section in _sections(lines, file) if section[0].key == "[CHAPTER]")


def _sections(lines: Sequence[str], file: str) -> Iterator[list[_Entry]]:
    """Yield each section: its name in brackets, then its entries."""
    section: list[_Entry] = []
    numbered = enumerate(lines[1:], 2)
    for number, line in numbered:
        span = Span(file, number, 1, max(1, len(line)))
        while _trailing_backslashes(line) % 2:  # an escaped line end: the value goes on below
            _, more = next(numbered, (0, None))
            if more is None:
                break
            line = f"{line}\n{more}"  # noqa: PLW2901  the line grows to what FFmpeg takes for one
        if not line or line[0] in ";#":
            continue
        if line[0] == "[":
            if section:
                yield section
            section = [_Entry(line.strip(), "", span)]
        elif section:
            section.append(_entry(line, span))
    if section:
        yield section


def _trailing_backslashes(line: str) -> int:
    return len(line) - len(line.rstrip("\\"))


def _entry(line: str, span: Span) -> _Entry:
    found = re.match(r"((?:[^\\=]|\\.)*)=?(.*)", line, re.DOTALL)
    key, value = found.groups() if found else (line, "")
    return _Entry(_unescape(key), _unescape(value), span)


def _unescape(text: str) -> str:
    return re.sub(r"\\(.)", r"\1", text, flags=re.DOTALL)


def _chapter(section: Sequence[_Entry]) -> Marker | Finding:
    """Return the marker of a [CHAPTER], or the first thing that is wrong with it."""
    head, *entries = section
    base = _NANOSECOND
    if entries and entries[0].key == "TIMEBASE":
        found = _BASE.fullmatch(entries[0].value)
        if not found or not int(found[1]) or not int(found[2]):
            message = f"found “{entries[0].value[:40]}”, expected TIMEBASE=1/1000 or another fraction of a second"
            return unreadable(entries[0].span, message, "write TIMEBASE=1/1000 for milliseconds", _SOURCE)
        base = Fraction(int(found[1]), int(found[2]))
        entries = entries[1:]
    times = []
    for number, key in enumerate(("START", "END")):
        entry = entries[number] if number < len(entries) else None
        if entry is None or entry.key != key or not _NUMBER.fullmatch(entry.value):
            what = f"“{entry.key}={entry.value}”"[:60] if entry else "nothing"
            message = f"found {what}, expected {key}= and a whole number as line {number + 1} after the timebase"
            help_ = f"write TIMEBASE, START and END in this order; without its {key} FFmpeg loses the chapter's title"
            return unreadable(entry.span if entry else head.span, message, help_, _SOURCE)
        times.append(int(entry.value) * base)
    if times[1] < times[0]:
        message = f"found an END of {entries[1].value}, expected at least {entries[0].value}"
        return unreadable(entries[1].span, message, "give the chapter an end after its start", _SOURCE)
    title = next((entry for entry in entries[2:] if entry.key.lower() == "title"), None)
    return titled(times[0], title.value if title else "", title.span if title else head.span)
