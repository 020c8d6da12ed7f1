"""The exercise of a chapter is named in the subtitles within 20 s of the chapter's start.

Why: presenters say what they are about to do, so a chapter whose exercise is named only elsewhere mostly starts at the
    wrong second; after a re-cut many do at once.
Source: common practice, no source; 20 s are our choice. Names of the exercise library, plurals and small slips of
    machine-made subtitles count. Where the exercise is named nowhere this is a note only.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    1:10 Goblet squat
    4:40 Goodbye
    subtitles.srt:
    1
    00:00:50,200 --> 00:00:53,000
    Next up, goblet squats.

    2
    00:01:10,000 --> 00:01:14,000
    And that was the fifth one.
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    0:50.2 Goblet squat
    4:40 Goodbye
    subtitles.srt:
    1
    00:00:50,200 --> 00:00:53,000
    Next up, goblet squats.

    2
    00:01:10,000 --> 00:01:14,000
    And that was the fifth one.
Fix: listen at the second that is proposed and begin the chapter there.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import proposed
from repslate.cut.chapter_fit import SOON, naming
from repslate.cut.chapters import Chapter
from repslate.cut.named import Mention, mentions
from repslate.cut.wording import exact_clock
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING
MILDER = (Severity.NOTE,)
_LONGEST = 60  # characters of what is said: enough to know it again


def find(facts: Facts) -> Iterator[Finding]:
    """Yield chapters that show an exercise nobody names soon; a block's chapter may go without."""
    if not facts.cues:
        return
    said = mentions(facts.cues, facts.episode)
    for chapter in facts.chapters:
        if chapter.exercise is None:
            continue
        found = naming(chapter.exercise, chapter.start, said)
        if found.soon:
            continue
        yield _elsewhere(chapter, found.mention) if found.mention else _nowhere(chapter)


def _elsewhere(chapter: Chapter, mention: Mention) -> Finding:
    side = "earlier" if mention.cue.start < chapter.start else "later"
    words = mention.words if len(mention.words) <= _LONGEST else mention.words[: _LONGEST - 1].rstrip() + "…"
    return Finding(
        "exercise-not-named",
        SEVERITY,
        chapter.span,
        f"“{chapter.title}” is named {side}, at {exact_clock(mention.cue.start)} (“{words}”), expected within "
        f"{SOON} s of its start at {exact_clock(chapter.start)}",
        proposed(mention.cue.start),
    )


def _nowhere(chapter: Chapter) -> Finding:
    return Finding(
        "exercise-not-named",
        Severity.NOTE,
        chapter.span,
        f"“{chapter.title}” is named nowhere in the subtitles, expected its name within {SOON} s of "
        f"{exact_clock(chapter.start)}",
        f"look at {exact_clock(chapter.start)} in the film, and keep that time if it shows the exercise there",
    )
