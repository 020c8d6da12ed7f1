"""No chapter starts in black.

Why: the viewer who jumps there sees nothing and thinks that the film is broken, and hosts take the still from there.
Source: common practice, no source. A film may begin in black: at 0:00 nothing is said.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    4:40 Goodbye
    cut.mp4:
    ⟨a film of 5:00 at 25 fps, shots at 1:11 4:40, black 1:09.6–1:11⟩
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:11 Goblet squat
    4:40 Goodbye
    cut.mp4:
    ⟨a film of 5:00 at 25 fps, shots at 1:11 4:40, black 1:09.6–1:11⟩
Fix: begin the chapter where the picture is back; the finding says when.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import proposed
from repslate.cut.chapter_fit import black_at
from repslate.cut.wording import exact_clock
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield chapters whose first frame is black."""
    for chapter in facts.chapters:
        black = black_at(facts.film, chapter.start) if facts.film else None
        if black:
            yield Finding(
                "chapter-in-black",
                SEVERITY,
                chapter.span,
                f"“{chapter.title}” starts in black, from {exact_clock(black.low)} to {exact_clock(black.high)}, "
                "expected a picture",
                proposed(black.high),
            )
