"""chapters.vtt: WebVTT with chapter titles, as strictly as it is authored, so that any player reads it alike."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html.entities import html5

from repslate.cut.markers import Marker, titled, unreadable
from repslate.cut.webvtt import AUTHORED, Block, Line, Timings, read_webvtt
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

# WebVTT as authored: whole timestamps only, three decimals, white space round the arrow (W3C WebVTT §4.1).
_TIMINGS = re.compile(r"(?P<start>\S+)[ \t]+-->[ \t]+(?P<end>\S+)(?:[ \t].*)?")
_REFERENCE = re.compile(r"&(?:([A-Za-z][A-Za-z0-9]*;)|#[0-9]{1,7};|#[xX][0-9A-Fa-f]{1,6};)?")
_WEBVTT = "W3C WebVTT, file structure"
_TITLES = "W3C WebVTT, chapter title text"


@dataclass(frozen=True, slots=True)
class _Cue:
    """A cue's timings, with the line they stand on."""

    start: Fraction
    end: Fraction
    span: Span


def read(text: str, file: str) -> Iterator[Marker | Finding]:
    """Yield markers and findings of a WebVTT file, block by block from the top."""
    track = read_webvtt(text, file)
    if not track.signed:
        yield unreadable(track.first.span, track.unsigned, "begin the file with WEBVTT and an empty line", _WEBVTT)
        return
    for line in track.header:
        yield _header_line(line)
    cues: list[_Cue] = []
    identifiers: set[str] = set()
    for block in track.blocks:
        yield from _crowded(block)
        if block.side:
            yield from _side_block(block, after_cue=bool(cues))
        else:
            yield from _read_cue(block, cues, identifiers)
    yield from _crossings(cues)


def _header_line(line: Line) -> Finding:
    if line.text.startswith("X-TIMESTAMP-MAP"):  # RFC 8216 §3.5: places a piece of a stream; a whole file needs none
        what = "found X-TIMESTAMP-MAP, which belongs to pieces of a stream and is ignored here"
        return Finding("marker-unreadable", Severity.WARNING, line.span, what, "delete the line", "RFC 8216 §3.5")
    what = f"found “{line.text[:40]}”, expected an empty line after WEBVTT"
    return unreadable(line.span, what, "put an empty line under WEBVTT", _WEBVTT)


def _crowded(block: Block) -> Iterator[Finding]:
    """Yield a finding where a "-->" ends what stands above, for it should end at an empty line (WebVTT §6.1)."""
    first = block.lines[0]
    if block.above == "cue":
        what = f"found “{first.text[:40]}”, expected an empty line before the next cue"
        yield unreadable(first.span, what, "put an empty line above it", _WEBVTT)
    elif block.above == "WEBVTT":
        what = f"found “{first.text[:40]}”, expected an empty line after WEBVTT"
        yield unreadable(first.span, what, "put an empty line under WEBVTT", _WEBVTT)
    elif block.above in ("NOTE", "STYLE", "REGION"):
        yield _arrow_in(block.above, first)


def _arrow_in(kind: str, line: Line) -> Finding:
    what = f"found “{line.text[:40]}”, expected no “-->” in a {kind} block"
    return unreadable(line.span, what, "put an empty line before the cue", _WEBVTT)


def _side_block(block: Block, *, after_cue: bool) -> Iterator[Finding]:
    """Skip a NOTE, STYLE or REGION block, which says nothing about chapters, once it stands where it may."""
    if block.side != "NOTE" and after_cue:
        what = f"found {block.side} after a cue, expected it before the first"
        yield unreadable(block.lines[0].span, what, f"move the {block.side} block up, or delete it", _WEBVTT)
    if block.arrow is not None:
        yield _arrow_in(block.side, block.lines[block.arrow])


def _read_cue(block: Block, cues: list[_Cue], identifiers: set[str]) -> Iterator[Marker | Finding]:
    """Yield the marker of a cue and everything wrong with it; add its timings to `cues`."""
    if block.arrow is None:
        what = f"found “{block.lines[0].text[:40]}”, expected a line of timings such as 00:10.000 --> 00:20.000"
        help_ = "write start --> end, and the title on the line below"
        yield unreadable(block.lines[0].span, what, help_, _WEBVTT)
        return
    if block.arrow == 1:
        if block.id in identifiers:
            what = f"found “{block.id[:40]}” again, expected an identifier of its own for each cue"
            yield unreadable(block.lines[0].span, what, "change one of the two, or delete it", _WEBVTT)
        identifiers.add(block.id)
    cue = _read_timings(block.lines[block.arrow], block.timings)
    if isinstance(cue, Finding):
        yield cue
    else:
        cues.append(cue)
        yield from _read_title(block.payload, cue)


def _read_timings(line: Line, timings: Timings | None) -> _Cue | Finding:
    """Return what a player reads, provided that it is written as the standard writes it."""
    found = _TIMINGS.fullmatch(line.text)
    if not found:
        what = f"found “{line.text[:60]}”, expected start, arrow and end with spaces between"
        return unreadable(line.span, what, "write for example 00:10.000 --> 00:20.000", _WEBVTT)
    wrong = next((written for written in found.groups() if not AUTHORED.fullmatch(written)), None)
    if wrong is not None or timings is None:
        what = f"found “{(wrong or line.text)[:40]}”, expected MM:SS.mmm or HH:MM:SS.mmm with three decimals"
        return unreadable(line.span, what, "write for example 01:05.000", _WEBVTT)
    if timings.end <= timings.start:
        what = f"found {found['end']}, expected an end after {found['start']}"
        return unreadable(line.span, what, "give the cue an end after its start", _WEBVTT)
    return _Cue(timings.start, timings.end, line.span)


def _read_title(lines: Sequence[Line], cue: _Cue) -> Iterator[Marker | Finding]:
    if len(lines) > 1:
        what = f"found {len(lines)} lines, expected the title on one line"
        yield unreadable(lines[1].span, what, "write the title on one line, and an empty line after it", _TITLES)
    text = lines[0].text if lines else ""
    span = lines[0].span if lines else cue.span
    wrong = [found for found in _REFERENCE.finditer(text) if not _is_reference(found)]
    if "<" in text:
        at = text.index("<")
        what = f"found a tag or a bare “<” in “{text[at : at + 20]}”, expected a title of plain text"
        yield unreadable(span.part(at, 1), what, "delete the tag, or write &lt; for <", _TITLES)
    elif wrong:
        what = f"found “{text[wrong[0].start() : wrong[0].start() + 20]}”, expected &amp; for a bare “&”"
        yield unreadable(span.part(wrong[0].start(), 1), what, "write &amp; for &", _TITLES)
    else:
        yield titled(cue.start, html.unescape(text), span)


def _is_reference(found: re.Match[str]) -> bool:
    return len(found[0]) > 1 and (found[1] is None or found[1] in html5)


def _crossings(cues: Sequence[_Cue]) -> Iterator[Finding]:
    """Yield a finding for each cue that begins inside another and ends after it: chapters nest or stand apart."""
    around: list[_Cue] = []
    for cue in sorted(cues, key=lambda cue: (cue.start, -cue.end)):
        while around and around[-1].end <= cue.start:
            around.pop()
        if around and around[-1].end < cue.end:
            into = f"line {cue.span.line}'s"
            what = f"found a chapter that runs into {into}, expected chapters apart or one inside the other"
            yield unreadable(around[-1].span, what, "end it where the next one begins", "W3C WebVTT, nested cues only")
        around.append(cue)
