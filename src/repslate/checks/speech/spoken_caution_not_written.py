"""A caution that is said on camera stands in writing too, under the exercise that it was said of.

Why: who trains with the card or the page has not heard it, and the presenter found it worth saying.
Source: common practice, no source. Cautions, easier versions and the block's cautions count, of the same movement in
    any block, and what stands under Safety. Whether they speak of the same thing is read from their words.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten

    2
    00:00:54,000 --> 00:00:58,000
    and if your knees grumble cut the range
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    Caution (knees): If they complain, go only as deep as feels fine.
    subtitles.srt:
    1
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten

    2
    00:00:54,000 --> 00:00:58,000
    and if your knees grumble cut the range
Fix: write it as a sentence of your own behind Caution: under the exercise.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from repslate.checks.shared import called
from repslate.checks.spoken import topic_at
from repslate.facts import Facts
from repslate.model.caution_topics import caution_topics
from repslate.model.clock import write_clock
from repslate.model.episode import Block, Episode, Exercise
from repslate.source.finding import About, Finding, Severity

if TYPE_CHECKING:
    from repslate.speech.cautions import SpokenCaution
from repslate.training.cautions import mentions, speaks_of

SEVERITY = Severity.WARNING
SAFETY = True


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the cautions said of an exercise whose page has none on it, each topic once for each movement."""
    if facts.heard is None:
        return
    told: set[tuple[str, tuple[str, ...]]] = set()
    for caution in facts.heard.cautions:
        block, exercise = topic_at(facts.heard, caution.first, facts.episode)
        owner = (exercise.movement if exercise else "", caution.topics)
        if owner not in told and not _is_written(caution, facts.episode, block, exercise):
            told.add(owner)
            yield _finding(caution, facts.episode, block, exercise)


def _is_written(caution: SpokenCaution, episode: Episode, block: Block | None, exercise: Exercise | None) -> bool:
    """Tell whether the page has a caution on one of the topics; where only a feeling was named any caution will do."""
    from repslate.speech.caution_words import topics_in

    same = [
        (its, one)
        for its, one in episode.exercises()
        if exercise is None or one.movement == exercise.movement or (its is block and one.id == exercise.id)
    ]
    cautions = [c for _, one in same for c in one.cautions]
    cautions += [
        c
        for its in (episode.blocks if exercise is None else (block, *(b for b, _ in same)))
        if its
        for c in its.cautions
    ]
    texts = [words.text for _, one in same for words in one.easier]
    texts += [prose.markdown for prose in episode.safety] + list(episode.series.safety)
    if not caution.topics:
        return bool(cautions or exercise is None)
    asked = [topic for topic in caution.topics if caution_topics()[topic].written]
    if any(speaks_of(c, topic) for topic in asked for c in cautions):
        return True
    if any(mentions(text, topic) for topic in asked for text in texts):
        return True
    spoken_of = topics_in(" ".join([*texts, *(f"{c.topic or ''} {c.words.text}" for c in cautions)]))
    return not spoken_of.isdisjoint(caution.topics)


def _finding(caution: SpokenCaution, episode: Episode, block: Block | None, exercise: Exercise | None) -> Finding:
    topic = next(iter(caution.topics), "")
    about = topic if topic and "a" in caution_topics()[topic].kinds else f"the {topic}"
    line = f"Caution{f' ({topic})' if topic else ''}: {caution.quote[:1].upper()}{caution.quote[1:]}."
    time = write_clock(caution.time)
    where = f"of {called(exercise)}" if exercise else "of the whole workout"
    return Finding(
        "spoken-caution-not-written",
        SEVERITY,
        exercise.span if exercise else episode.span,
        f"“{caution.quote}” is said {where} at {time}, expected a written caution{f' on {about}' if topic else ''} too",
        f"type {'under it' if exercise else 'under ## Safety'}, in your own words: {line}",
        about=About(exercise.name if exercise else None, block.name if block else None, None, caution.time),
    )
