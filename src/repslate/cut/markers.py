"""Chapter markers as the trainer or the editor wrote them. Stands before chapters.py, which says what they show."""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html.entities import html5
from itertools import pairwise
from math import floor
from pathlib import PurePosixPath
from typing import NamedTuple

from repslate.cut.timecode import read_clock, write_clock
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

_LONGEST = 200  # characters of a title or an id: our limit, some three times what hosts show of a title

_LINE_END = re.compile(r"\r\n|\n|\r")
_DASH = re.compile(r"\A[-–—](?:\s+|$)")

# WebVTT as authored: whole timestamps only, three decimals, white space round the arrow (W3C WebVTT §4.1).
_TIMINGS = re.compile(r"(?P<start>\S+)[ \t]+-->[ \t]+(?P<end>\S+)(?:[ \t].*)?")
_STAMP = re.compile(r"(?:([0-9]{2,5}):)?([0-5][0-9]):([0-5][0-9])\.([0-9]{3})")
_REFERENCE = re.compile(r"&(?:([A-Za-z][A-Za-z0-9]*;)|#[0-9]{1,7};|#[xX][0-9A-Fa-f]{1,6};)?")
_WEBVTT = "W3C WebVTT, file structure"
_TITLES = "W3C WebVTT, chapter title text"


@dataclass(frozen=True, slots=True)
class Marker:
    """A named point in time of the cut, in exact seconds.

    `title` is one line without the "{id}" that may end it; `id` is what stood in the braces. `span` is the marker's
    line, in WebVTT the title's.
    """

    time: Fraction
    title: str
    id: str | None
    span: Span


def read_markers(text: str, file: str) -> tuple[tuple[Marker, ...], tuple[Finding, ...]]:
    """Return the markers of chapters.txt or chapters.vtt in the order of the file, and what could not be read.

    The ending of `file` decides. Every finding is an error, for a marker that is lost is a chapter that is missing;
    only the header line of a stream, which changes nothing here, is a warning.
    """
    lines = _LINE_END.split(text.removeprefix("\ufeff"))
    match PurePosixPath(file).suffix.lower():
        case ".txt":
            read = [_read_line(line, Span(file, number)) for number, line in enumerate(lines, 1)]
        case ".vtt":
            read = list(_read_webvtt(lines, file))
        case ending:
            message = f"cannot tell how to read markers from a file ending in “{ending}”, expected .txt or .vtt"
            read = [_unreadable(Span(file), message, "name the file chapters.txt or chapters.vtt")]
    markers = tuple(one for one in read if isinstance(one, Marker))
    return markers, tuple(one for one in read if isinstance(one, Finding))


def write_markers(markers: Sequence[Marker]) -> str:
    """Write markers as the text of a chapters.txt: whole seconds, or milliseconds rounded down where there are any."""
    hours = any(marker.time >= 3600 for marker in markers)
    lines = []
    for marker in markers:
        thousandths = floor(marker.time * 1000) % 1000
        fraction = f".{thousandths:03}" if thousandths else ""
        name = f" {{{marker.id}}}" if marker.id else ""
        lines.append(f"{write_clock(marker.time, hours=hours)}{fraction} {marker.title}{name}\n")
    return "".join(lines)


def _unreadable(span: Span, message: str, help_: str, because: str = "") -> Finding:
    return Finding("marker-unreadable", Severity.ERROR, span, message, help_, because)


# ---- chapters.txt: one marker a line


def _read_line(line: str, place: Span) -> Marker | Finding | None:
    text = line.strip()
    if not text or text.startswith("#"):
        return None
    span = Span(place.file, place.line, len(line) - len(line.lstrip()) + 1, len(text))
    clock, *rest = text.split(maxsplit=1)
    if clock[0] + clock[-1] in ("()", "[]"):
        clock = clock[1:-1]
    time = read_clock(clock)
    if isinstance(time, str):
        shown = clock[:40]
        what = f"“{shown}” is not a time: {time}" if shown[:1].isdigit() else f"expected a time first, found “{shown}”"
        return _unreadable(span, what, "write the time, a space and the title, for example “2:10 Goblet squat”")
    return _marker(time, _DASH.sub("", "".join(rest)), span)


def _marker(time: Fraction, text: str, span: Span) -> Marker | Finding:
    """Part the title from its "{id}" and see that both say something."""
    title, name = text.strip(), None
    if title.endswith("}") and "{" in title:
        title, _, name = title[:-1].rpartition("{")
        title, name = title.rstrip(), name.strip()
        if not name:
            return _unreadable(
                span, "expected an exercise's id between { and }, found nothing", "write the id, or leave out {}"
            )
    if not title:
        return _unreadable(
            span, "expected a title after the time, found none", "write what the chapter shows after its time"
        )
    for what, part in (("a title", title), ("an id", name or "")):
        if len(part) > _LONGEST:
            message = f"expected {what} of at most {_LONGEST} characters, found {len(part)}"
            return _unreadable(
                span, message, "shorten it, or begin a new line where a line break is missing", "our limit"
            )
    for character in title + (name or ""):
        if unicodedata.category(character) in ("Cc", "Zl", "Zp") and character != "\t":
            what = f"expected a title of plain text, found the control character U+{ord(character):04X}"
            return _unreadable(
                span, what, "type the title again; the character is invisible and often comes with copied text"
            )
    return Marker(time, title.replace("\t", " "), name, span)


# ---- chapters.vtt: WebVTT with chapter titles, as strictly as it is authored, so that any player reads it alike


class _Line(NamedTuple):
    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class _Cue:
    """A cue's timings, with the line they stand on."""

    start: Fraction
    end: Fraction
    span: Span


def _read_webvtt(lines: Sequence[str], file: str) -> Iterator[Marker | Finding]:
    """Yield markers and findings of a WebVTT file, line by line from the top."""
    placed = [_Line(Span(file, number, 1, max(1, len(text))), text) for number, text in enumerate(lines, 1)]
    if not re.fullmatch(r"WEBVTT(?:[ \t].*)?", lines[0]):
        found = f"“{lines[0][:40]}”" if lines[0] else "an empty line"
        message = f"expected “WEBVTT” on the first line, found {found}"
        yield _unreadable(placed[0].span, message, "begin the file with WEBVTT and an empty line", _WEBVTT)
        return
    header, *blocks = _blocks(placed)
    for line in header[1:]:
        yield _header_line(line)
    cues: list[_Cue] = []
    identifiers: set[str] = set()
    for block in blocks:
        if re.fullmatch(r"(?:NOTE|STYLE|REGION)(?:[ \t].*)?", block[0].text):
            yield from _side_block(block, after_cue=bool(cues))
        else:
            for number, part in enumerate(_split_cues(block)):
                if number:
                    what = f"expected an empty line before the next cue, found “{part[0].text[:40]}”"
                    yield _unreadable(part[0].span, what, "put an empty line above it", _WEBVTT)
                yield from _read_cue(part, cues, identifiers)
    yield from _crossings(cues)


def _blocks(lines: Sequence[_Line]) -> Iterator[list[_Line]]:
    """Yield runs of lines between empty ones; the first is the header."""
    block: list[_Line] = []
    for line in lines:
        if line.text:
            block.append(line)
        elif block:
            yield block
            block = []
    if block:
        yield block


def _header_line(line: _Line) -> Finding:
    if line.text.startswith("X-TIMESTAMP-MAP"):  # RFC 8216 §3.5: places a piece of a stream; a whole file needs none
        what = "found X-TIMESTAMP-MAP, which belongs to pieces of a stream and is ignored here"
        return Finding("marker-unreadable", Severity.WARNING, line.span, what, "delete the line", "RFC 8216 §3.5")
    what = f"expected an empty line after WEBVTT, found “{line.text[:40]}”"
    return _unreadable(line.span, what, "put an empty line under WEBVTT", _WEBVTT)


def _side_block(block: Sequence[_Line], *, after_cue: bool) -> Iterator[Finding]:
    """Skip a NOTE, STYLE or REGION block, which says nothing about chapters, once it stands where it may."""
    kind = block[0].text.split()[0]
    if kind != "NOTE" and after_cue:
        what = f"expected {kind} before the first cue, found it after one"
        yield _unreadable(block[0].span, what, f"move the {kind} block up, or delete it", _WEBVTT)
    for line in block:
        if "-->" in line.text:
            what = f"expected no “-->” in a {kind} block, found “{line.text[:40]}”"
            yield _unreadable(line.span, what, "put an empty line before the cue", _WEBVTT)


def _split_cues(block: Sequence[_Line]) -> Iterator[list[_Line]]:
    """Part a block at every line of timings after its first: a reader begins a new cue there (WebVTT §6.1)."""
    arrows = [at for at, line in enumerate(block) if "-->" in line.text]
    starts = [0, *arrows[1:], len(block)]
    for start, end in pairwise(starts):
        yield list(block[start:end])


def _read_cue(block: Sequence[_Line], cues: list[_Cue], identifiers: set[str]) -> Iterator[Marker | Finding]:
    """Yield the marker of a cue and everything wrong with it; add its timings to `cues`."""
    arrow = next((at for at, line in enumerate(block) if "-->" in line.text), None)
    if arrow is None or arrow > 1:
        what = f"expected a line of timings such as 00:10.000 --> 00:20.000, found “{block[0].text[:40]}”"
        yield _unreadable(block[0].span, what, "write start --> end, and the title on the line below", _WEBVTT)
    if arrow is None:
        return
    if arrow == 1:
        name = block[0].text
        if name in identifiers:
            what = f"expected an identifier of its own for each cue, found “{name[:40]}” again"
            yield _unreadable(block[0].span, what, "change one of the two, or delete it", _WEBVTT)
        identifiers.add(name)
    cue = _read_timings(block[arrow])
    if isinstance(cue, Finding):
        yield cue
    else:
        cues.append(cue)
        yield from _read_title(block[arrow + 1 :], cue)


def _read_timings(line: _Line) -> _Cue | Finding:
    found = _TIMINGS.fullmatch(line.text)
    if not found:
        what = f"expected start --> end with spaces round the arrow, found “{line.text[:60]}”"
        return _unreadable(line.span, what, "write for example 00:10.000 --> 00:20.000", _WEBVTT)
    start, end = _read_stamp(found["start"]), _read_stamp(found["end"])
    if start is None or end is None:
        written = found["start"] if start is None else found["end"]
        what = f"expected MM:SS.mmm or HH:MM:SS.mmm with three decimals, found “{written[:40]}”"
        return _unreadable(line.span, what, "write for example 01:05.000", _WEBVTT)
    if end <= start:
        what = f"expected an end after {found['start']}, found {found['end']}"
        return _unreadable(line.span, what, "give the cue an end after its start", _WEBVTT)
    return _Cue(start, end, line.span)


def _read_stamp(text: str) -> Fraction | None:
    found = _STAMP.fullmatch(text)
    if not found:
        return None
    hours, minutes, seconds, thousandths = (int(part or 0) for part in found.groups())
    return hours * 3600 + minutes * 60 + seconds + Fraction(thousandths, 1000)


def _read_title(lines: Sequence[_Line], cue: _Cue) -> Iterator[Marker | Finding]:
    if len(lines) > 1:
        what = f"expected the title on one line, found {len(lines)} lines"
        yield _unreadable(lines[1].span, what, "write the title on one line, and an empty line after it", _TITLES)
    text = lines[0].text if lines else ""
    span = lines[0].span if lines else cue.span
    wrong = [found for found in _REFERENCE.finditer(text) if not _is_reference(found)]
    if "<" in text:
        at = text.index("<")
        what = f"expected a title of plain text, found a tag or a bare “<” in “{text[at : at + 20]}”"
        yield _unreadable(span.part(at, 1), what, "delete the tag, or write &lt; for <", _TITLES)
    elif wrong:
        what = f"expected &amp; for a bare “&”, found “{text[wrong[0].start() : wrong[0].start() + 20]}”"
        yield _unreadable(span.part(wrong[0].start(), 1), what, "write &amp; for &", _TITLES)
    else:
        yield _marker(cue.start, html.unescape(text), span)


def _is_reference(found: re.Match[str]) -> bool:
    return len(found[0]) > 1 and (found[1] is None or found[1] in html5)


def _crossings(cues: Sequence[_Cue]) -> Iterator[Finding]:
    """Yield a finding for each cue that begins inside another and ends after it: chapters nest or stand apart."""
    around: list[_Cue] = []
    for cue in sorted(cues, key=lambda cue: (cue.start, -cue.end)):
        while around and around[-1].end <= cue.start:
            around.pop()
        if around and around[-1].end < cue.end:
            what = f"expected chapters apart or one inside the other, found one that runs into line {cue.span.line}'s"
            yield _unreadable(around[-1].span, what, "end it where the next one begins", "W3C WebVTT, nested cues only")
        around.append(cue)
