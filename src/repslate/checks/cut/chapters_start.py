"""The first chapter starts at 0:00.

Why: video hosts ignore the whole list if it does not begin at the beginning.
Source: common practice on video hosts, no standard.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:12 Welcome
    1:10 Goblet squat
    4:40 Goodbye
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    4:40 Goodbye
Fix: let the first line begin at 0:00, or put a line such as 0:00 Welcome above it.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the first chapter where it is not in the film's first second (published times are whole seconds)."""
    if facts.chapters and facts.chapters[0].start >= 1:
        first = facts.chapters[0]
        yield Finding(
            "chapters-start",
            SEVERITY,
            first.span,
            f"the first chapter starts at {write_clock(first.start)}, expected 0:00",
            "let the first line begin at 0:00, or put a line above it: 0:00 Welcome",
            "common practice on video hosts, no standard",
        )
