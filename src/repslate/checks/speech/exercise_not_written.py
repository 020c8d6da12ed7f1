"""An exercise that the film prescribes is written.

Why: the viewer hears "ten pull-ups", looks for them on the card and finds five exercises of six.
Source: common practice, no source. Only exercises of the library count, where figures are said of them and no exercise
    of the page is named with them: "like a leg press" prescribes nothing. Another squat counts as the squat that is
    written.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten

    2
    00:04:50,000 --> 00:04:54,000
    next up lat pulldowns

    3
    00:04:54,000 --> 00:04:58,000
    three sets of twelve reps
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Lat pulldown
    3 × 12, rest 90 s
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten

    2
    00:04:50,000 --> 00:04:54,000
    next up lat pulldowns

    3
    00:04:54,000 --> 00:04:58,000
    three sets of twelve reps
Fix: write the exercise into the block where it is done, or cut it from the film.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.spoken import topic_at, unwritten
from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.source.finding import About, Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises that are prescribed in the talk and stand nowhere on the page."""
    if facts.heard is None or not facts.episode.blocks:
        return
    from repslate.speech.discover import discover

    parts, topics = discover(facts.heard.words, facts.library, facts.heard.said, named_only=True)
    for subject, topic in unwritten(parts, topics, facts.heard, facts.episode):
        block, _ = topic_at(facts.heard, topic.word, facts.episode)
        yield Finding(
            "exercise-not-written",
            SEVERITY,
            block.span if block else facts.episode.span,
            f"{subject.name} is prescribed in the film at {write_clock(topic.time)} but not written, "
            "expected it in a block",
            f"write ### {subject.name} where it is done, with the figures that are said",
            about=About(subject.name, block.name if block else None, None, topic.time),
        )
