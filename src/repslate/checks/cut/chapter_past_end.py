"""Every chapter starts before the cut ends.

Why: such a marker belongs to an older or a longer cut, and then the others are probably off as well.
Source: common practice, no source.
Bad:
    ---
    format: 1
    title: Squat, hinge and carry
    length: "5:00"
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    5:40 Goodbye
Good:
    ---
    format: 1
    title: Squat, hinge and carry
    length: "6:00"
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    5:40 Goodbye
Mend: correct the time of the chapter or the length in the front matter, whichever is wrong.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import clock
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield chapters at or after the end of the cut, where its length is known."""
    length = facts.episode.length
    if length is None:
        return
    for chapter in facts.chapters:
        if chapter.start >= length:
            yield Finding(
                "chapter-past-end",
                SEVERITY,
                chapter.span,
                f"“{chapter.title}” starts at {clock(chapter.start)} but the cut is {clock(length)} long, "
                "expected a start before its end",
                "correct the time of the chapter, or length: in the front matter",
            )
