"""The front matter says how long the film is, to the second.

Why: the length is published, and the last chapter is measured by it; one that differs mostly belongs to an older cut.
Source: common practice, no source. Both are compared to within a second.
Wrong:
    ---
    format: 1
    title: Squat, hinge and carry
    length: "5:12"
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    cut.mp4:
    ⟨a film of 5:00.4 at 25 fps⟩
Right:
    ---
    format: 1
    title: Squat, hinge and carry
    length: "5:00"
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    cut.mp4:
    ⟨a film of 5:00.4 at 25 fps⟩
Fix: type the film's own length, or put the right film into the folder.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import film_is_another
from repslate.cut.wording import exact_clock
from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the front matter's length where the film differs by a second or more."""
    length = facts.episode.length
    if length is None or facts.film is None or abs(length - facts.film.duration) < 1:
        return
    yield Finding(
        "film-length-differs",
        SEVERITY,
        facts.episode.places.get("length", facts.episode.span),
        f"length is {write_clock(length)} but the film lasts {exact_clock(facts.film.duration)}, expected the same, "
        f"to a second{_late(facts, facts.film.duration)}",
        f'type “length: "{write_clock(facts.film.duration)}"”, unless the film beside it is not the finished cut',
    )


def _late(facts: Facts, end: Fraction) -> str:
    """Say how many chapters start after the film's end where they fit the length that is written."""
    if not film_is_another(facts):
        return ""
    late = sum(chapter.start >= end for chapter in facts.chapters)
    return f"; {late} of {len(facts.chapters)} chapters start after the film's end, and none after the written one"
