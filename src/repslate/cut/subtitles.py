"""Subtitles: what is said from which second to which.

Strict about what changes meaning, for a time misread moves a chapter; kind to what does not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import PurePosixPath

from repslate.cut import formats
from repslate.cut.cue import Cue, cue_time, unreadable, unusual
from repslate.model.quantity import TENS, UNITS
from repslate.source.bounds import CUE, NUMBERS, WORDS, too_much
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

__all__ = ["Cue", "is_coarse", "read_subtitles"]

#: What is counted of all that is said, and how much of it is heard.
_SAID = (
    ("words", re.compile(r"[^\W\d_]+|\d+"), WORDS),  # "8-10" is heard as two
    ("numbers", re.compile(rf"\d+|\b(?:{'|'.join((*UNITS, *TENS, 'hundred', 'half'))})\b", re.IGNORECASE), NUMBERS),
)


def is_coarse(file: str) -> bool:
    """Tell whether a file of what is said gives only the times of whole paragraphs."""
    return getattr(formats.reader(formats.SUBTITLES, file), "COARSE", False)


def read_subtitles(text: str, file: str) -> tuple[tuple[Cue, ...], tuple[Finding, ...]]:
    """Return the cues of an .srt, .vtt or .txt file in the order of the file, and what there is to say of it.

    An error is about words that are left out or a cue that no player shows, a warning about what is read all the same;
    a warning of one kind is given once, at its first place.
    """
    form = formats.reader(formats.SUBTITLES, file)
    if form is None:
        ending, known = PurePosixPath(file).suffix.lower(), formats.endings(formats.SUBTITLES)
        message = f"cannot tell how to read subtitles from a file ending in “{ending}”, expected {known}"
        return (), (unreadable(Span(file), message, "name the file subtitles.srt or subtitles.vtt", ""),)
    read = list(form.read(text, file))
    cues, over = _within_bounds([one for one in read if isinstance(one, Cue)])
    findings = [one for one in read if isinstance(one, Finding)]
    if not read:
        message = "found no subtitles in this file, expected some"
        findings.append(unusual(Span(file), message, "export the subtitles again, or delete the file", ""))
    if not is_coarse(file):
        findings += _in_time(cues, form.POINT, abreast=getattr(form, "ABREAST", False))
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


def _in_time(cues: Sequence[Cue], point: str, *, abreast: bool) -> Iterator[Finding]:
    """Yield what is wrong with how the cues follow each other; `abreast`, two may be shown at once."""

    def at(seconds: Fraction) -> str:
        return cue_time(seconds, point)

    for cue in cues:
        if cue.end < cue.start:
            what = f"found {at(cue.end)}, expected an end after {at(cue.start)}: no player shows it"
            yield unreadable(cue.span, what, "give the cue an end after its start", "W3C WebVTT, cue timings")
        elif cue.end == cue.start:
            what = f"found the same time for start and end, expected an end after {at(cue.start)}"
            yield unusual(cue.span, what, "give the cue an end after its start", "")
    latest = above = None
    for cue in cues:
        if latest is not None and cue.start < latest.start:
            what = f"found {at(cue.start)}, expected a start after {at(latest.start)}, as above"
            yield unusual(cue.span, what, "put the cues in the order of their times", "")
        elif above is not None and cue.start < above.end and not abreast:
            what = f"found {at(cue.start)}, expected a start after the end above, {at(above.end)}"
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
