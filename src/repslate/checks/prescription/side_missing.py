"""Work done with one arm or one leg says whether its figure is for each side.

Why: ten split squats in all or ten a leg: readers pick either, and double or halve the work.
Wrong:
    ## Straight sets
    ### Split squat
    3 × 10, rest 90 s
Right:
    ## Straight sets
    ### Split squat
    3 × 10 per side, rest 90 s
Fix: add "per side" after the figure. Where sides change with every repetition, say so in the text ("alternate legs",
    "change legs each time") or in the name ("Alternating lunge"), and the figure is read as the total.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.checks.shared import asked, called, place, quoted, told
from repslate.facts import Facts
from repslate.model.episode import Exercise
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

SEVERITY = Severity.WARNING

_ALTERNATES = re.compile(
    r"\balternat|\b(?:change|changing|switch|switching|swap|swapping)\s+(?:legs?|sides?|arms?|hands?|feet)\s+"
    r"(?:each|every|with|on)\b|\bside\s+to\s+side\b|\bin\s+total\b|\bleft,\s+(?:then\s+)?right\b|^walking\b",
    re.IGNORECASE,
)


_ONE_ONLY = re.compile(
    r"(?i)\bonly (?:the |your )?(?:left|right) (?:side|arm|leg|hand)\b"
    r"|\bno need to (?:bother|do|work|train) (?:the |your )?(?:left|right|other)\b"
)
_SIDE = re.compile(r"(?i)\b(left|right) (?:side|arm|leg|hand)\b")


def find(facts: Facts) -> Iterator[Finding]:
    """Yield one-sided exercises with a figure that is not said to be per side, and those of one side alone."""
    yield from _one_side_told(facts)
    for _, exercise in asked(facts):
        said = exercise.prescription
        one_sided = exercise.match is not None and exercise.match.entry.one_sided
        if one_sided and said.work is not None and not said.per_side and not _alternates(exercise):
            yield Finding(
                "side-missing",
                SEVERITY,
                place(exercise),
                f'{called(exercise)} is done one side at a time but the figure does not say so, expected "per side"',
                "add it after the figure, such as: 3 × 10 per side; or say in the text that sides alternate",
            )


def _one_side_told(facts: Facts) -> Iterator[Finding]:
    """Yield exercises for both sides of which the text leaves one out, and doses of one side alone."""
    for _, exercise in facts.episode.exercises():
        said = exercise.prescription
        for text in told(exercise) if said.per_side else ():
            if found := _ONE_ONLY.search(text.words):
                yield _half(exercise, quoted(found), text.at(found))
        for words in said.words:
            sides = {found.casefold() for found in _SIDE.findall(words)}
            if len(sides) == 1:
                yield _half(exercise, f"“{words}”", place(exercise))


def _half(exercise: Exercise, words: str, span: Span) -> Finding:
    return Finding(
        "side-missing",
        SEVERITY,
        span,
        f"{called(exercise)} says {words}, expected both sides",
        "say what the other side does, or write “per side” behind the figure",
    )


def _alternates(exercise: Exercise) -> bool:
    """Tell whether name or text says that sides change with every repetition."""
    texts = [exercise.name, *(p.markdown for p in exercise.prose), *(cue.text for cue in exercise.cues)]
    return any(_ALTERNATES.search(text) for text in texts)
