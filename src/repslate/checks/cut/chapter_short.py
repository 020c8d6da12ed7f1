"""No chapter is shorter than a host accepts: 10 seconds, or what the series asks for.

Why: video hosts ignore the list if one chapter is too short.
Source: common practice on video hosts, no standard. The last chapter counts where the front matter gives the cut's
    length.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    0:09 Goblet squat
    4:40 Goodbye
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    chapters.txt:
    0:00 Welcome
    0:10 Goblet squat
    4:40 Goodbye
Fix: join the short chapter with its neighbour, or correct the time.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield chapters that end too soon, in whole seconds; order and end of film are other checks' business."""
    shortest = facts.episode.series.host.chapters.shortest
    length = facts.episode.length
    ends = [int(chapter.start) for chapter in facts.chapters[1:]]
    if length is not None:
        ends.append(int(length))
    for chapter, end in zip(facts.chapters, ends, strict=False):  # without a length the last chapter has no end
        seconds = end - int(chapter.start)
        if 0 < seconds < shortest:
            yield Finding(
                "chapter-short",
                SEVERITY,
                chapter.span,
                f"“{chapter.title}” lasts {seconds} s, expected at least {shortest} s",
                "join it with its neighbour, or correct the time",
                "common practice on video hosts, no standard",
            )
