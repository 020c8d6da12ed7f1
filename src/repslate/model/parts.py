"""An exercise in several parts: prescription lines directly below each other, as a ramp, a top set and back-offs have.

"Ramp: 5/5/3 @ 40–60 %" has a name in front. A load for each set, "12/10/8 @ 60/70/80 %", is a part for each set.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from repslate.model.episode import Part
from repslate.model.hosted import habitual_doses, hosted, is_load_first, may_be_dose
from repslate.model.prescription import Prescription, Reps, looks_like, parse, write
from repslate.model.quantity import Range
from repslate.source.bounds import DOSE
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

MOST = 24  # parts of one exercise; more are no plan
_LONGEST_NAME = 5  # words
_NAMED = re.compile(r"(?P<name>[^\W\d_][^:“”\"]{0,39}?)\s*:\s+(?P<said>\S.*)")
# Done before the work with less than its load; their sets are none of the work's (common practice, no source).
_BEFORE_WORK = re.compile(r"(?i)\b(?:ramp\w*|(?:warm|build|work)[ -]?up\w*|feelers?|primers?)\b")
# In front of a colon these name a figure, or begin a sentence, not a part.
_FIGURES = frozenset("set sets rep reps repetitions load weight time duration hold rest tempo rpe rir cluster".split())
_BEGINS = frozenset("note notes tip tips goal focus why how remember cue cues important".split())
_NUMBER = r"\d{1,4}(?:[.,]\d{1,2})?"
_LIST = re.compile(rf"{_NUMBER}(?:\s*/\s*{_NUMBER})+")
_LOADS = re.compile(rf"(?P<list>{_NUMBER}(?:\s*/\s*{_NUMBER})+)(?=\s*(?:%|kgs?\b|lbs?\b))")

Line = tuple[str, Span]


def read_parts(lines: Sequence[Line]) -> tuple[tuple[Part, ...], int, tuple[Finding, ...]]:
    """Read the parts that an exercise begins with, and in how many lines they stand; none where it is a single dose."""
    found: list[Part] = []
    findings: list[Finding] = []
    taken = 0
    for text, place in lines:
        if taken and place.line != lines[taken - 1][1].line + 1:
            break
        if found and (rested := _with_rest(found[-1], text, place)):
            found[-1] = rested
            taken += 1
            continue
        parts, notes = _of_line(text, place, is_first=not found)
        if not parts or len(found) + len(parts) > MOST or not _goes_on(found, parts):
            break
        found += parts
        findings += notes
        taken += 1
    if len(found) < 2 and not any(part.name and part.prescription.has_figures for part in found):
        return (), 0, ()
    return tuple(found), taken, tuple(findings)


def write_parts(parts: Iterable[Part]) -> Iterator[str]:
    """Yield the canonical line of each part, which `read_parts` reads back to the same parts."""
    return (f"{part.name}: {write(part.prescription)}" if part.name else write(part.prescription) for part in parts)


def main_part(parts: Sequence[Part]) -> Part:
    """Return the part that is spoken of where one stands for all: the first of the work that is read in figures."""
    work = [part for part in parts if not part.is_warm_up]
    return next((part for part in work if part.prescription.has_figures), (*work, *parts)[0])


def _of_line(text: str, place: Span, *, is_first: bool) -> tuple[list[Part], tuple[Finding, ...]]:
    """Read a line as one part, or as one for each of its sets; none where it is no part."""
    if len(text) > DOSE:
        return [], ()
    named = _NAMED.fullmatch(text)
    if not named or named["name"].casefold() in _FIGURES:
        doses, notes = _doses(text, place)
        return [Part("", dose, place) for dose in doses], notes
    words = named["name"].split()
    if words[0].casefold() in _BEGINS or len(words) > _LONGEST_NAME or text.endswith(","):
        return [], ()  # "Ramp up before you count anything: five with the empty bar, …" is a sentence
    said, at = named["said"], place.part(named.start("said"), len(named["said"]))
    doses, notes = _doses(said, at)
    if not doses and (looks_like(said) or (may_be_dose(said) and not is_first)):
        dose, notes = hosted(said, at)
        doses = [dose]
    is_before = _BEFORE_WORK.search(named["name"]) is not None
    return [Part(named["name"], dose, place, is_before) for dose in doses], notes


def _with_rest(part: Part, text: str, place: Span) -> Part | None:
    """Return a part with the rest that a line of its own says of it; None where the line says anything else."""
    said, _ = parse(text, place)
    if said is None or said.rest is None or said != Prescription(rest=said.rest) or part.prescription.rest is not None:
        return None
    return replace(part, prescription=replace(part.prescription, rest=said.rest))


def _doses(text: str, place: Span) -> tuple[list[Prescription], tuple[Finding, ...]]:
    """Return what a line says in figures: one dose, or one for each set where each has a load; none for other text."""
    said, findings = parse(text, place)
    if said is not None and not is_load_first(said):
        if said.words:
            said, findings = hosted(text, place)
        return ([said], findings) if said.work is not None or said.cluster else ([], ())
    loads = _LOADS.search(text)
    if loads is None:
        return habitual_doses(text, place)
    each = [one.strip() for one in loads["list"].split("/")]
    before, after = text[: loads.start()], text[loads.end() :]
    reps = [_LIST.sub(lambda found, at=at: _nth(found[0], at, len(each)), before) for at in range(len(each))]  # type: ignore[misc]
    read = [parse(f"{begin}{load}{after}", place) for begin, load in zip(reps, each, strict=True)]
    if not all(_is_one_set(dose, len(each)) for dose, _ in read):
        return [], ()
    notes = [found for _, more in read for found in more if found.severity is Severity.NOTE]
    doses = [replace(dose, sets=Range(1, 1)) for dose, _ in read if dose is not None]
    fix = "write the loads as in “@ 60/70/80 % 1RM”"
    return doses, tuple(replace(note, help=fix) for note in notes[:1])


def _nth(listed: str, at: int, count: int) -> str:
    """Return the figure of a list that goes with a load; the list itself where it is of another length."""
    items = listed.split("/")
    return items[at].strip() if len(items) == count else listed


def _is_one_set(dose: Prescription | None, count: int) -> bool:
    """Tell whether a dose is one of so many sets: with a load, and sets that are as many or not said."""
    if dose is None or dose.load is None or not isinstance(dose.work, Reps) or len(dose.work.each) > 1:
        return False
    return dose.sets in (None, Range(1, 1), Range(count, count))


def _goes_on(found: Sequence[Part], parts: Sequence[Part]) -> bool:
    """Tell whether a line goes on with the exercise: it is named, or says its sets as the ones before it do."""
    if not found or any(part.name for part in parts):
        return True
    return all(_says_sets(part) for part in parts) or not any(map(_says_sets, found))


def _says_sets(part: Part) -> bool:
    said = part.prescription
    return said.sets is not None or (isinstance(said.work, Reps) and len(said.work.each) > 1)
