"""Subtitles: what is said from which second to which.

Strict about what changes meaning, for a time misread moves a chapter; kind to what does not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import PurePosixPath

from repslate.cut.cue import Cue, unreadable, unusual
from repslate.cut.subrip import read_subrip, srt_time, write_srt
from repslate.cut.transcript import read_transcript
from repslate.cut.webvtt import Block, has_bare_angle, is_authored, plain, read_webvtt
from repslate.model.quantity import TENS, UNITS
from repslate.source.bounds import CUE, NUMBERS, WORDS, too_much
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

__all__ = ["Cue", "read_subtitles", "write_srt"]

_BECAUSE = "W3C WebVTT, file structure"
#: What is counted of all that is said, and how much of it is heard.
_SAID = (
    ("words", re.compile(r"[^\W\d_]+|\d+"), WORDS),  # "8-10" is heard as two
    ("numbers", re.compile(rf"\d+|\b(?:{'|'.join((*UNITS, *TENS, 'hundred', 'half'))})\b", re.IGNORECASE), NUMBERS),
)


def read_subtitles(text: str, file: str) -> tuple[tuple[Cue, ...], tuple[Finding, ...]]:
    """Return the cues of an .srt, .vtt or .txt file in the order of the file, and what there is to say of it.

    An error is about words that are left out or a cue that no player shows, a warning about what is read all the same;
    a warning of one kind is given once, at its first place. WebVTT is read as players read it (W3C WebVTT §6.1).
    """
    match PurePosixPath(file).suffix.lower():
        case ".srt":
            read = list(read_subrip(text, file))
        case ".vtt":
            read = list(_read_webvtt(text, file))
        case ".txt":
            cues, found = read_transcript(text, file)
            cues, over = _within_bounds(cues)
            return cues, (*over, *_once_each(found))
        case ending:
            message = f"cannot tell how to read subtitles from a file ending in “{ending}”, expected .srt, .vtt or .txt"
            read = [unreadable(Span(file), message, "name the file subtitles.srt or subtitles.vtt", "")]
    cues, over = _within_bounds([one for one in read if isinstance(one, Cue)])
    findings = [one for one in read if isinstance(one, Finding)]
    if not read:
        message = "expected subtitles, found none in this file"
        findings.append(unusual(Span(file), message, "export the subtitles again, or delete the file", ""))
    findings += _in_time(cues, webvtt=file.lower().endswith(".vtt"))
    return cues, (*over, *_once_each(findings))


def _within_bounds(cues: Sequence[Cue]) -> tuple[tuple[Cue, ...], tuple[Finding, ...]]:
    """Return the cues that can be heard in good time, and what is to be said of those left out.

    One that is too long is left out, and all from where more is said than a film can hold.
    """
    kept, findings, said = [], [], [0] * len(_SAID)
    for cue in cues:
        if len(cue.text) > CUE:
            help_ = "break it into several, each with its time; it is left out"
            findings.append(too_much(cue.span, "characters in one subtitle", len(cue.text), CUE, help_))
            continue
        for counted, (_, pattern, _) in enumerate(_SAID):
            said[counted] += len(pattern.findall(cue.text))
        over = next((at for at, (_, _, most) in enumerate(_SAID) if said[at] > most), None)
        if over is not None:
            what, pattern, most = _SAID[over]
            every = sum(len(pattern.findall(one.text)) for one in cues)
            help_ = "give the subtitles of one film; what is said from here on is left out"
            findings.append(too_much(cue.span, what, every, most, help_))
            break
        kept.append(cue)
    return tuple(kept), tuple(findings)


def _in_time(cues: Sequence[Cue], *, webvtt: bool) -> Iterator[Finding]:
    """Yield what is wrong with how the cues follow each other; in WebVTT two may be shown at once."""

    def at(seconds: Fraction) -> str:
        return srt_time(seconds).replace(",", "." if webvtt else ",")

    for cue in cues:
        if cue.end < cue.start:
            what = f"expected an end after {at(cue.start)}, found {at(cue.end)}: no player shows it"
            yield unreadable(cue.span, what, "give the cue an end after its start", "W3C WebVTT, cue timings")
        elif cue.end == cue.start:
            what = f"expected an end after {at(cue.start)}, found the same time"
            yield unusual(cue.span, what, "give the cue an end after its start", "")
    latest = above = None
    for cue in cues:
        if latest is not None and cue.start < latest.start:
            what = f"expected a start after {at(latest.start)}, as above, found {at(cue.start)}"
            yield unusual(cue.span, what, "put the cues in the order of their times", "")
        elif above is not None and cue.start < above.end and not webvtt:
            what = f"expected a start after the end above, {at(above.end)}, found {at(cue.start)}"
            yield unusual(cue.span, what, "end a cue before the next begins", "")
        latest = cue if latest is None or cue.start > latest.start else latest
        above = cue


def _once_each(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Yield every error, and of the warnings of one kind the first, with how many more there are, in file order."""
    kinds: dict[str, list[Finding]] = {}
    errors = []
    for finding in findings:
        if finding.severity is Severity.ERROR:
            errors.append(finding)
        else:
            kinds.setdefault(finding.help, []).append(finding)
    firsts = [
        replace(alike[0], message=f"{alike[0].message} (and {len(alike) - 1} more in this file)")
        if alike[1:]
        else alike[0]
        for alike in kinds.values()
    ]
    yield from sorted([*errors, *firsts], key=lambda finding: finding.span)


# ---- WebVTT: what players make of it, and what they pass over


def _read_webvtt(text: str, file: str) -> Iterator[Cue | Finding]:
    track = read_webvtt(text, file)
    if not track.signed:
        found = f"“{track.first.text[:40]}”" if track.first.text else "an empty line"
        what = f"expected “WEBVTT” on the first line, found {found}; no player reads the file"
        yield unreadable(track.first.span, what, "begin the file with WEBVTT and an empty line", _BECAUSE)
        return
    for line in track.header:
        if line.text.startswith("X-TIMESTAMP-MAP"):  # places a piece of a stream; a whole file needs none
            what = "found X-TIMESTAMP-MAP, which belongs to pieces of a stream and is ignored here"
            yield unusual(line.span, what, "delete X-TIMESTAMP-MAP and what follows it", "RFC 8216 §3.5")
        else:
            what = f"expected an empty line after WEBVTT, found “{line.text[:40]}”, which nothing reads"
            yield unusual(line.span, what, "put an empty line under WEBVTT", _BECAUSE)
    has_cue = False
    for block in track.blocks:
        if block.above in ("WEBVTT", "NOTE", "STYLE", "REGION", "cue"):
            what = f"expected an empty line above the times, found the end of {_called(block.above)}"
            yield unusual(block.lines[0].span, what, "put an empty line above the times", _BECAUSE)
        if block.kind == "cue":
            yield from _read_cue(block)
            has_cue = has_cue or block.timings is not None
        else:
            yield from _passed_over(block, after_cue=has_cue)


def _called(kind: str) -> str:
    return {"cue": "another cue", "WEBVTT": "the header"}.get(kind, f"a {kind} block")


def _read_cue(block: Block) -> Iterator[Cue | Finding]:
    line = block.lines[block.arrow or 0]
    text = "\n".join(below.text for below in block.payload)
    if block.timings is None:
        lost = "; its text is left out" if text.strip() else ""
        what = f"expected times such as 00:01.000 --> 00:04.000, found “{line.text[:60]}”{lost}"
        comma = "," in line.text
        help_ = "write a full stop before the milliseconds" if comma else "write MM:SS.mmm or HH:MM:SS.mmm"
        yield unreadable(line.span, what, f"{help_}, for example 01:05.000", _BECAUSE)
        return
    yield Cue(block.timings.start, block.timings.end, plain(text), line.span, block.id)
    if not is_authored(line.text):
        what = f"expected times such as 00:01.000 --> 00:04.000, found “{line.text[:60]}”, which players understand"
        yield unusual(line.span, what, "write two digits for hours, and a space on both sides of the arrow", _BECAUSE)
    if block.side:
        what = f"expected an empty line under “{block.id[:40]}”, found times: players take it for the cue's name"
        yield unusual(line.span, what, "put an empty line above the times", _BECAUSE)
    if has_bare_angle(text):
        what = "expected &lt; for “<”, behind which players hide the text"
        yield unusual(line.span, what, "write &lt; for < in the text", "W3C WebVTT, cue text")


def _passed_over(block: Block, *, after_cue: bool) -> Iterator[Finding]:
    """Yield what there is to say of a block that is no cue: a NOTE is nobody's business, other text is lost."""
    first = block.lines[0]
    if block.kind == "text":
        what = f"expected times such as 00:01.000 --> 00:04.000, found “{first.text[:40]}”; the text is left out"
        yield unreadable(first.span, what, "write times above the text, or NOTE if it is a remark", _BECAUSE)
    elif block.arrow is not None:
        what = f"expected a remark, found a cue behind {block.kind}, which is left out"
        yield unusual(first.span, what, f"write {block.kind} on a line of its own", _BECAUSE)
    elif block.kind != "NOTE" and after_cue:
        what = f"expected {block.kind} before the first cue, found it after one, where it is not read"
        yield unusual(first.span, what, "move STYLE and REGION blocks up, or delete them", _BECAUSE)
