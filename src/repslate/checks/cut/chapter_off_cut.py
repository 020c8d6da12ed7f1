"""Every chapter starts on a shot change, within the tolerance.

Why: a jump that lands in the middle of a shot, or on the last second of the one before, looks like a mistake; after a
    re-cut it mostly is one.
Source: common practice, no source; the tolerance of 1.0 s is our choice (series.yaml, host: chapters: tolerance).
    Where no shot change is found within the 2.5 s around a chapter, nothing is said, for a long take has none and a
    slow dissolve may be missed.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    4:40 Goodbye
    cut.mp4:
    ⟨a film of 5:00 at 25 fps, shots at 1:08.4 4:40⟩
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:08.4 Goblet squat
    4:40 Goodbye
    cut.mp4:
    ⟨a film of 5:00 at 25 fps, shots at 1:08.4 4:40⟩
Fix: look at the second that is proposed and begin the chapter there.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import proposed
from repslate.cut.chapter_fit import black_at, nearest_shot
from repslate.cut.wording import exact_clock, length_words
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield chapters further from the nearest shot change than the series allows; black is another check's business."""
    tolerance = facts.episode.series.host.chapters.tolerance
    if facts.film is None:
        return
    for chapter in facts.chapters:
        shot = nearest_shot(facts.film, chapter.start)
        if shot is None or abs(shot - chapter.start) <= tolerance or black_at(facts.film, chapter.start):
            continue
        side = "before" if chapter.start < shot else "after"
        yield Finding(
            "chapter-off-cut",
            SEVERITY,
            chapter.span,
            f"“{chapter.title}” starts {length_words(abs(shot - chapter.start))} {side} the nearest shot change at "
            f"{exact_clock(shot)}, expected at most {length_words(tolerance)}",
            proposed(shot),
        )
