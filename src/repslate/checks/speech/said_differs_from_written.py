"""A figure that is said on camera meets the written one.

Why: "ten of these" in the film over 15–20 on the page leaves the viewer two orders, and the presenter gets the letters.
Source: common practice, no source. Two figures differ only where their ranges share nothing: "about twelve" meets
    10–12. Like is compared with like: repetitions in reserve and RPE, or a share of the one-repetition maximum and of
    the working load, are never compared. Where the written figure is said as well, the other one counts only if it was
    heard more surely.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 15–20, rest 90 s
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    next up goblet squats

    2
    00:00:54,000 --> 00:00:58,000
    three sets of ten to twelve reps
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10–12, rest 90 s
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    next up goblet squats

    2
    00:00:54,000 --> 00:00:58,000
    three sets of ten to twelve reps
Fix: the film is finished, so correct the page; where the page is right, put an on-screen note at the time that is
    named.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place
from repslate.checks.spoken import Difference, differences, worded
from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.model.quantity import Range
from repslate.source.finding import About, Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each kind of figure that is said otherwise than it is written, once for each exercise or block."""
    if facts.heard is not None:
        yield from (_finding(one) for one in differences(facts.heard.figures, facts.episode))


def _finding(one: Difference) -> Finding:
    heard, what = one.heard, one.exercise or one.block
    time = write_clock(heard.time)
    said = worded(heard.field, Range(heard.low, heard.high))
    return Finding(
        "said-differs-from-written",
        SEVERITY,
        one.block.span if one.in_heading or one.exercise is None else place(one.exercise),
        f"the film says {said} of {called(what)} at {time} (“{heard.quote}”) where the page has {one.written}, "
        "expected the same figure",
        f"correct the page, or put a note on the screen at {time}",
        about=About(one.exercise.name if one.exercise else None, one.block.name, heard.field, heard.time),
    )
