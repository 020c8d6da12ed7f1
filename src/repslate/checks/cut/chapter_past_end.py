"""Every chapter starts before the cut ends.

Why: such a marker belongs to an older or a longer cut, and then the others are probably off as well.
Source: common practice, no source. The film beside the workout says how long it is; without one, the front matter. If
    all chapters fit the front matter's length and not the film's, film-length-differs says so.
Wrong:
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
Right:
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
Fix: correct the time of the chapter or the length in the front matter, whichever is wrong.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import film_is_another, proposed
from repslate.cut.chapter_fit import naming
from repslate.cut.chapters import Chapter
from repslate.cut.named import mentions
from repslate.cut.wording import exact_clock
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the chapter at or after the end of the cut, where its length is known; one finding for several of them."""
    length = facts.film.duration if facts.film else facts.episode.length
    late = [chapter for chapter in facts.chapters if length is not None and chapter.start >= length]
    if length is None or not late or film_is_another(facts):
        return
    first, last = late[0], max(late, key=lambda chapter: chapter.start)
    if len(late) == 1:
        yield Finding(
            "chapter-past-end",
            SEVERITY,
            first.span,
            f"“{first.title}” starts at {exact_clock(first.start)} but the cut is {exact_clock(length)} long, "
            "expected a start before its end",
            _fix(facts, first),
        )
        return
    wrong = "put the film into the folder that they were made for, or correct their times"
    if facts.film is None:
        wrong = "correct length: in the front matter, or their times"
    yield Finding(
        "chapter-past-end",
        SEVERITY,
        first.span if facts.film else facts.episode.places.get("length", first.span),
        f"{len(late)} of {len(facts.chapters)} chapters, “{first.title}” at {exact_clock(first.start)} to "
        f"“{last.title}” at {exact_clock(last.start)}, start after the end of the cut, which is {exact_clock(length)} "
        "long, expected starts before its end",
        wrong,
    )


def _fix(facts: Facts, chapter: Chapter) -> str:
    """Propose where its exercise is named, if it is; else both figures may be wrong."""
    if chapter.exercise and facts.cues:
        mention = naming(chapter.exercise, chapter.start, mentions(facts.cues, facts.episode)).mention
        if mention:
            return proposed(mention.cue.start)
    return "correct the time of the chapter" + ("" if facts.film else ", or length: in the front matter")
