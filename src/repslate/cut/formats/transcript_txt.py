"""transcript.txt: paragraphs and the time each begins at, "[1:05] Next up, swings.", as many tools give them.

Its times are those of whole paragraphs, so whoever asks for seconds is told that they are coarse.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from repslate.cut.cue import Cue, unreadable, unusual
from repslate.model.clock import read_clock, write_clock
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

COARSE = True
_BECAUSE = "transcripts as they are in use, no standard"
_PACE = Fraction(5, 2)  # words a second, 150 a minute: common practice for unhurried speech, no source
_LINE_END = re.compile(r"\r\n|\n|\r")
# The time, or what was meant as one: digits with signs between them, in brackets or bare before a blank.
_TIME = r"[0-9]+(?:[:.,;][0-9]+)*"
_SPAN = rf"(?P<start>{_TIME})(?:\s*(?:-->|[-–—→])\s*(?P<end>{_TIME}))?"
_OPENINGS = {
    "[": re.compile(rf"\s*\[\s*{_SPAN}\s*\]"),
    "(": re.compile(rf"\s*\(\s*{_SPAN}\s*\)"),
    "": re.compile(rf"\s*{_SPAN}(?=[\s:|]|$)"),
}
_CLOCK = re.compile(r"[0-9]+:[0-9]")  # "1:05" begins a paragraph where no bracket does, "3 sets" does not
_JOINT = re.compile(r"\s*(?:[:|]|[-–—](?=\s))?\s*")  # what may stand between the time and the words


@dataclass(frozen=True, slots=True)
class _Paragraph:
    """A time as written and the words under it; `end` is "" where only the beginning is written."""

    start: str
    end: str
    lines: list[str]
    span: Span


def read(text: str, file: str) -> Iterator[Cue | Finding]:
    """Yield a cue for each paragraph, in the order of the file, then what there is to say of it.

    A paragraph lasts until the next one begins, the last one as long as its words take at 150 a minute. The kind of
    bracket that most times have counts for the whole file. What cannot be placed in time is told and left out.
    """
    lines = _LINE_END.split(text.removeprefix("\ufeff"))
    opening = max(_OPENINGS, key=lambda sign: sum(_opens(line, sign) is not None for line in lines))
    if not any(_opens(line, opening) for line in lines):
        yield _no_times(lines, file)
        return
    paragraphs, findings = _paragraphs(lines, opening, file)
    cues, more = _timed(paragraphs)
    yield from cues
    yield from sorted([*findings, *more, *([_coarse(cues)] if cues else [])], key=lambda finding: finding.span)


def is_transcript(text: str) -> bool:
    """Tell a transcript from notes: at least two paragraphs begin with a time, and the times do not go back."""
    lines = [line for line in _LINE_END.split(text.removeprefix("\ufeff")) if line.strip()]
    for opening in _OPENINGS:
        found = [match for line in lines if (match := _opens(line, opening))]
        times = [read_clock(match["start"]) for match in found]
        if len(found) < 2 or any(isinstance(time, str) for time in times):
            continue
        is_rising = all(before < after for before, after in pairwise(times))  # type: ignore[operator]
        if is_rising and (opening or 3 * len(found) >= len(lines)):
            return True
    return False


def _opens(line: str, sign: str) -> re.Match[str] | None:
    """Match the time at the beginning of a line; one without brackets needs a colon, or "3 sets" would be one."""
    found = _OPENINGS[sign].match(line)
    return found if found and (sign or _CLOCK.match(found["start"])) else None


def _paragraphs(lines: Sequence[str], opening: str, file: str) -> tuple[list[_Paragraph], list[Finding]]:
    found: list[_Paragraph] = []
    before: list[int] = []
    for at, line in enumerate(lines):
        head = _opens(line, opening)
        if head:
            indent = len(line) - len(line.lstrip())
            span = Span(file, at + 1, indent + 1, head.end() - indent)
            joint = _JOINT.match(line, head.end())
            words = line[joint.end() if joint else head.end() :].strip()
            found.append(_Paragraph(head["start"], head["end"] or "", [words] if words else [], span))
        elif line.strip() and found:
            found[-1].lines.append(line.strip())
        elif line.strip():
            before.append(at)
    return found, list(_before_first(lines, before, file))


def _before_first(lines: Sequence[str], before: Sequence[int], file: str) -> Iterator[Finding]:
    if before:
        at = before[0]
        more = f" and {len(before) - 1} more lines" if len(before) > 1 else ""
        what = f"found “{lines[at].strip()[:40]}”{more}, expected a time before the first words; it is left out"
        help_ = "write the time of the first words above them, such as [0:00], or delete what is not said"
        yield unusual(Span(file, at + 1, 1, max(1, len(lines[at]))), what, help_, _BECAUSE)


def _timed(paragraphs: Sequence[_Paragraph]) -> tuple[list[Cue], list[Finding]]:
    """Return the paragraphs that have a time and words, with ends, and what is wrong with the others."""
    findings: list[Finding] = []
    placed: list[tuple[_Paragraph, Fraction, Fraction | None]] = []
    for one in paragraphs:
        start = read_clock(one.start)
        end = read_clock(one.end) if one.end else None
        if isinstance(start, str) or isinstance(end, str):
            findings.append(_no_time(one, start if isinstance(start, str) else f"{end}"))
        elif not one.lines:
            what = f"found no words after {one.start}, expected some"
            findings.append(unusual(one.span, what, "write what is said there, or delete the time", _BECAUSE))
        else:
            placed.append((one, start, end))
    findings += _backwards(placed)
    starts = sorted(start for _, start, _ in placed)
    cues = []
    for one, start, written in placed:
        text = "\n".join(one.lines)
        later = bisect_right(starts, start)
        end = starts[later] if later < len(starts) else start + len(text.split()) / _PACE
        cues.append(Cue(start, written if written is not None and written > start else end, text, one.span))
    return cues, findings


def _no_time(one: _Paragraph, why: str) -> Finding:
    typed = one.start if isinstance(read_clock(one.start), str) else one.end
    lost = "; its words are left out" if one.lines else ""
    what = f"“{typed}” is not a time: {why}{lost}"
    return unreadable(one.span, what, "write minutes and seconds, for example [1:05]", _BECAUSE)


def _backwards(placed: Sequence[tuple[_Paragraph, Fraction, Fraction | None]]) -> Iterator[Finding]:
    """Yield what is read all the same though its times do not follow each other."""
    latest = None
    for one, start, end in placed:
        if latest is not None and start < latest:
            above = write_clock(latest)
            what = f"found {one.start}, expected a time after {above}, as above"
            yield unusual(one.span, what, "put the paragraphs in the order of their times", _BECAUSE)
        if end is not None and end <= start:
            what = f"found {one.end}, expected an end after {one.start}; it is not used"
            yield unusual(one.span, what, "write the later time second, or only the first", _BECAUSE)
        latest = start if latest is None else max(latest, start)


def _coarse(cues: Sequence[Cue]) -> Finding:
    longest = max(cues, key=lambda cue: cue.end - cue.start)
    seconds = round(longest.end - longest.start)
    message = (
        f"the times are those of whole paragraphs, the longest of {seconds} s, expected those of subtitles: "
        "every time taken from them may be that much too early"
    )
    help_ = "if the tool that made it also writes .srt or .vtt, use that; else look at each time in the cut"
    return Finding("transcript-coarse", Severity.NOTE, longest.span, message, help_, _BECAUSE)


def _no_times(lines: Sequence[str], file: str) -> Finding:
    at = next((at for at, line in enumerate(lines) if line.strip()), None)
    if at is None:
        message = "found nothing in this file, expected a transcript"
        return unusual(Span(file), message, "export the transcript again, or delete the file", "")
    message = f"found “{lines[at].strip()[:40]}”, expected paragraphs that begin with a time such as [1:05]"
    help_ = "export the transcript with times, or give subtitles (.srt or .vtt)"
    return unreadable(Span(file, at + 1, 1, max(1, len(lines[at]))), message, help_, _BECAUSE)
