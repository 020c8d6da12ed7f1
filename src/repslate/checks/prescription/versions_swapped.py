"""The easier version is the easier one, the harder the harder.

Why: whoever needs the easier version gets the harder one.
Source: common practice, no source. Only plain words are looked for: a pause, a jump, more load or one leg make an
    exercise harder, no load, support or a shorter way easier; both versions have to speak against their labels.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    Easier: Pause for two seconds at the bottom.
    Harder: Without the weight, one hand on a chair.
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    Easier: Without the weight, one hand on a chair.
    Harder: Pause for two seconds at the bottom.
Fix: change the two labels.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.episode import Words
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_HARDER = re.compile(
    r"(?i)\b(?:paus\w+|add(?:ing|ed)?\b|heavier|slower|jump\w*|hop\w*|(?:one|single)[- ](?:leg|arm)|deficit|longer"
    r"|deeper|further|(?:front|back)\s+foot\s+(?:on|up|raised)|explosive\w*|weighted|more\s+(?:weight|load|reps)|feet\s+(?:up|raised|on))"
)
_EASIER = re.compile(
    r"(?i)\b(?:without\s+(?:the\s+|a\s+|any\s+)?(?:weights?|dumbbells?|kettlebells?|bells?|load|bar)|no\s+(?:weights?|load|dumbbells?|kettlebells?|bar)"
    r"|lighter|hands?\s+on\b|hold(?:ing)?\s+on|support\w*|half(?:way)?\b|partial|smaller|shorter|fewer|less|knees\s+down"
    r"|on\s+(?:your|the)\s+knees|to\s+a\s+(?:box|chair|bench))"
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises of which both versions speak against their labels."""
    for _, exercise in facts.episode.exercises():
        easier, harder = _joined(exercise.easier), _joined(exercise.harder)
        is_easier_hard = _HARDER.search(easier) and not _EASIER.search(easier)
        is_harder_easy = _EASIER.search(harder) and not _HARDER.search(harder)
        if is_easier_hard and is_harder_easy:
            yield Finding(
                "versions-swapped",
                SEVERITY,
                exercise.easier[0].span,
                f"{called(exercise)} has “{easier}” as its easier and “{harder}” as its harder version, "
                "expected it the other way round",
                "change the labels “Easier:” and “Harder:”",
            )


def _joined(words: tuple[Words, ...]) -> str:
    return " ".join(one.text for one in words)
