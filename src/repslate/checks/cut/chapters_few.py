"""There are enough chapters for a host to show them: three, or what the series asks for.

Why: video hosts ignore a shorter list.
Source: common practice on video hosts, no standard.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    4:40 Goodbye
Fix: add chapters: a welcome, one for each exercise, a goodbye.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a list of chapters that is too short; a folder without markers is markers-missing's business."""
    count, fewest = len(facts.chapters), facts.episode.series.host.chapters.fewest
    found = "there is 1 chapter" if count == 1 else f"there are {count} chapters"
    if facts.has_markers and count < fewest:
        yield Finding(
            "chapters-few",
            SEVERITY,
            facts.chapters[-1].span if facts.chapters else facts.episode.span,
            f"{found}, expected at least {fewest}",
            "add chapters: a welcome, one for each exercise, a goodbye",
            "common practice on video hosts, no standard",
        )
