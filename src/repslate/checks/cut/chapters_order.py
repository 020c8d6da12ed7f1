"""Each chapter starts later than the one before it.

Why: a list that steps back sends viewers to the wrong place, and hosts ignore it.
Source: common practice on video hosts, no standard. Times are compared in the whole seconds that are published.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    4:40 Goblet squat
    1:10 Goodbye
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    4:40 Goodbye
Fix: correct the time or the order of the lines; two chapters cannot start in one second.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield every chapter that starts earlier than the one above it; two in one second are the reader's business."""
    for before, chapter in pairwise(facts.chapters):
        if int(chapter.start) < int(before.start):
            yield Finding(
                "chapters-order",
                SEVERITY,
                chapter.span,
                f"“{chapter.title}” at {write_clock(chapter.start)} stands under a chapter at "
                f"{write_clock(before.start)}, expected each chapter later than the one above it",
                "correct the time or the order of the lines",
                "common practice on video hosts, no standard",
            )
