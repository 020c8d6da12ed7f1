"""subtitles.srt: SubRip, which no standard describes: the rules are those in use.

The file is taken apart here and not by a library: libraries read "00:01,000" as one minute and give no line numbers,
and once every line is checked there is nothing left for them to do.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.cut.cue import Cue, cue_time, unreadable, unusual
from repslate.model.clock import read_clock
from repslate.source.finding import Finding
from repslate.source.span import Span

POINT = ","
_BECAUSE = "SubRip as it is in use, no standard"
_LINE_END = re.compile(r"\r\n|\n|\r")

_STAMP = re.compile(r"[0-9]{1,5}:[0-9]{2}:[0-9]{2}[,.][0-9]{3}")
_EXACT = re.compile(r"[0-9]{2,5}:[0-9]{2}:[0-9]{2},[0-9]{3}")
_REASONS = (
    (re.compile(r"[-−–].*"), "it lies before the start of the film", "delete the minus, or the cue"),
    (re.compile(r"[0-9]+:[0-9]+"), "hours are missing", "write hours, minutes, seconds and milliseconds: 00:00:01,000"),
    (re.compile(r"[0-9]+:[0-9]+[,.][0-9]*"), "hours are missing", "write the hours too, for example 00:00:01,000"),
    (re.compile(r"[0-9]+:[0-9]{2}:[0-9]{2}"), "milliseconds are missing", "write them too, for example 00:00:01,000"),
    (
        re.compile(r"[0-9]+:[0-9]{2}:[0-9]{2}[,.](?![0-9]{3}$)[0-9]*"),
        "milliseconds have three digits",
        "write half a second as ,500 and five hundredths as ,050",
    ),
    (
        re.compile(r"[0-9]+:[0-9]{2}:[0-9]{2}[,.][0-9]{3}"),
        "minutes and seconds end at 59",
        "carry what is over to the next place: 00:00:60,000 is 00:01:00,000",
    ),
)
_SETTINGS = re.compile(r"(?:\s+[A-Za-z][A-Za-z0-9]*:\S*)+\s*")  # X1:… Y2:… and WebVTT's align:…, where it is shown
_TIME_BEGINS = re.compile(r"\s*[-−–]?[0-9]")
_NUMBER = re.compile(r"\s*[0-9]{1,9}\s*")
_TAG = re.compile(r"</?(?:[biusc]|font|v|ruby|rt)(?:[\s.=][^<>]*)?>|\{\\[^{}]*\}|\{/?[bius]\}", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Head:
    """Where a cue begins: the index of its first line, and of the line of its times, one below if it is numbered."""

    first: int
    times: int


def read(text: str, file: str) -> Iterator[Cue | Finding]:
    """Yield cues and findings from the top; every line that is not blank is in a cue or told."""
    lines = _LINE_END.split(text.removeprefix("\ufeff"))
    heads = list(_heads(lines))
    yield from _before_first(lines[: heads[0].first if heads else len(lines)], file)
    starts = [*(head.first for head in heads), len(lines)]
    for head, end in zip(heads, starts[1:], strict=True):
        yield from _read_cue(lines, head, end, file)


def write(cues: Sequence[Cue]) -> str:
    """Write cues as SubRip, numbered from 1, times rounded to milliseconds; an arrow in the text becomes "→".

    Raise ValueError for a time below zero, which no reader lets through.
    """
    return "".join(
        f"{number}\n{cue_time(cue.start)} --> {cue_time(cue.end)}\n{cue.text.replace('-->', '→')}\n\n"
        for number, cue in enumerate(cues, 1)
    )


def plain(text: str) -> str:
    """Return the text without the tags that players show as italics, colour or place."""
    return _TAG.sub("", text)


def _heads(lines: Sequence[str]) -> Iterator[_Head]:
    """Yield where each cue begins: at a line that has, or was meant to have, times, or at the number above it."""
    before = -1
    for at, line in enumerate(lines):
        if "-->" not in line:
            continue
        numbered = at - 1 > before and _NUMBER.fullmatch(lines[at - 1])
        left, _, right = line.partition("-->")
        if numbered or _TIME_BEGINS.match(left) or _TIME_BEGINS.match(right):
            before = at
            yield _Head(at - 1 if numbered else at, at)


def _before_first(lines: Sequence[str], file: str) -> Iterator[Finding]:
    found = [at for at, line in enumerate(lines) if line.strip()]
    if found:
        more = f" and further lines, {len(found)} in all" if len(found) > 1 else ""
        what = f"found “{lines[found[0]][:40]}”{more}, expected the number and the times of the first cue"
        span = _whole(lines, found[0], file)
        yield unreadable(span, what, "delete what stands there, or write times above it", _BECAUSE)


def _read_cue(lines: Sequence[str], head: _Head, end: int, file: str) -> Iterator[Cue | Finding]:
    span = _whole(lines, head.times, file)
    text = _trimmed(lines[head.times + 1 : end])
    read = _read_times(lines[head.times], span, bool(text))
    if isinstance(read, Finding):
        yield read
        return
    start, stop = read
    id_ = lines[head.first].strip() if head.first < head.times else ""
    yield Cue(start, stop, plain("\n".join(text)), span, id_)
    if not id_:
        yield unusual(span, "found no number above the times, expected one", "number the cues", _BECAUSE)
    if head.first and lines[head.first - 1].strip():
        what = f"found “{lines[head.first - 1][:40]}”, expected an empty line above the cue"
        yield unusual(span, what, "put an empty line between two cues", _BECAUSE)
    yield from _habits(lines[head.times], span)


def _read_times(line: str, span: Span, has_text: bool) -> tuple[Fraction, Fraction] | Finding:
    left, _, right = line.partition("-->")
    second, *rest = right.split(maxsplit=1) or [""]
    times = []
    lost = "; its text is left out" if has_text else ""
    for written in (left.strip(), second):
        time = read_clock(written)
        if not _STAMP.fullmatch(written) or isinstance(time, str):
            reason, help_ = _why_not(written)
            what = f"found “{written[:40]}”, expected a time such as 00:00:01,000: {reason}{lost}"
            return unreadable(span, what, help_, _BECAUSE)
        times.append(time)
    if rest and not _SETTINGS.fullmatch(f" {rest[0]}"):
        what = f"found “{rest[0][:40]}” behind the times, expected the text on the line below{lost}"
        return unreadable(span, what, "begin a new line behind the second time", _BECAUSE)
    if times[1] < times[0]:
        what = f"found {second}, expected an end after {left.strip()}{lost}"
        return unreadable(span, what, "give the cue an end after its start", _BECAUSE)
    return times[0], times[1]


def _why_not(written: str) -> tuple[str, str]:
    """Return why something is no time, and how to fix it."""
    for pattern, reason, help_ in _REASONS:
        if pattern.fullmatch(written):
            return reason, help_
    return "it is not a time", "write hours, minutes, seconds and milliseconds: 00:00:01,000 --> 00:00:04,000"


def _habits(line: str, span: Span) -> Iterator[Finding]:
    """Yield what is unusual about a line of times that has one meaning all the same."""
    left, _, right = line.partition("-->")
    second, *rest = right.split(maxsplit=1)
    if "." in left + second:
        what = "found a full stop, expected a comma before the milliseconds"
        yield unusual(span, what, "write 00:00:01,000; the full stop belongs to WebVTT", _BECAUSE)
    if not all(_EXACT.fullmatch(time.replace(".", ",")) for time in (left.strip(), second)):
        yield unusual(span, "found one digit for the hours, expected two", "write 00:00:01,000", _BECAUSE)
    if not left.endswith(" ") or not right.startswith(" "):
        what = "found no space beside the arrow, expected one on both sides"
        yield unusual(span, what, "write 00:00:01,000 --> 00:00:04,000", _BECAUSE)
    if rest:
        what = f"found where to show the text, “{rest[0].strip()[:40]}”, which is not read"
        yield unusual(span, what, "delete it, unless a player needs it", _BECAUSE)


def _trimmed(lines: Sequence[str]) -> Sequence[str]:
    """Return the lines without the blank ones at both ends; those between belong to the text."""
    said = [at for at, line in enumerate(lines) if line.strip()]
    return lines[said[0] : said[-1] + 1] if said else ()


def _whole(lines: Sequence[str], at: int, file: str) -> Span:
    return Span(file, at + 1, 1, max(1, len(lines[at])))
