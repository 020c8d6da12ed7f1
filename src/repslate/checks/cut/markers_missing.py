"""The episode has chapter markers.

Why: chapters let viewers jump to an exercise; without markers no chapter list is published.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    4:40 Goodbye
Fix: write chapters.txt beside workout.md, one line a chapter: 0:00 Welcome.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.NOTE


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the episode that has no file of markers."""
    if not facts.has_markers:
        yield Finding(
            "markers-missing",
            SEVERITY,
            facts.episode.span,
            "the folder has no chapter markers, expected chapters.txt",
            "write chapters.txt beside workout.md, one line a chapter, such as: 0:00 Welcome",
        )
