"""The front matter says what the workout is for and for whom.

Why: a beginner who meets an advanced session unwarned gets hurt or gives up, and several checks look at goal and
    level.
Wrong:
    ---
    format: 1
    title: Squat, hinge and carry
    goal: hypertrophy
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ---
    format: 1
    title: Squat, hinge and carry
    goal: hypertrophy
    level: intermediate
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Fix: write goal: and level: at the top of workout.md.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.episode import Goal, Level
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield goal and level where they are not written; one that is written but unknown is the reader's business."""
    episode = facts.episode
    for key, value, words in (("goal", episode.goal, Goal), ("level", episode.level, Level)):
        if value is None and key not in episode.places:
            choice = ", ".join(word.value for word in words)
            message = f"the front matter says no {key}, expected one of {choice}"
            yield Finding(
                "audience-missing", SEVERITY, episode.span, message, f"write {key}: {words(next(iter(words)))}"
            )
