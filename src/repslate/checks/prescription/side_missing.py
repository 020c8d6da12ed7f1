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

from repslate.checks.shared import asked, called, place
from repslate.facts import Facts
from repslate.model.episode import Exercise
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_ALTERNATES = re.compile(
    r"\balternat|\b(?:change|changing|switch|switching|swap|swapping)\s+(?:legs?|sides?|arms?|hands?|feet)\s+"
    r"(?:each|every|with|on)\b|\bside\s+to\s+side\b|\bin\s+total\b|\bleft,\s+(?:then\s+)?right\b|^walking\b",
    re.IGNORECASE,
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield one-sided exercises with a figure that is not said to be per side."""
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


def _alternates(exercise: Exercise) -> bool:
    """Tell whether name or text says that sides change with every repetition."""
    texts = [exercise.name, *(p.markdown for p in exercise.prose), *(cue.text for cue in exercise.cues)]
    return any(_ALTERNATES.search(text) for text in texts)
