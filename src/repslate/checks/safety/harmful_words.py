"""No word of the workout asks for what hurts people, such as training on through pain or a breath held all set long.

Why: viewers do as they are told, alone and without anyone who sees them; one sentence undoes every caution.
Source: the finding names it with each phrase, such as ACSM on pain as the sign to stop and Contreras & Schoenfeld 2011,
    Strength Cond J 33(4):8–18, on the loaded spine. Which phrases are looked for is our choice. A sentence that warns
    of them is left alone, and so is a rounded back in a stretch, where it is the movement itself.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    Hold your breath for the whole set and push through the pain.
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    Do not hold your breath, and stop where it hurts.
Fix: take the sentence out, or turn it round into what the finding expects.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.episode import Block, Episode, Exercise, Prose, Words
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span
from repslate.training.harm import harms

SEVERITY = Severity.WARNING
SAFETY = True


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each harmful instruction in any text that is published, where it stands."""
    episode = facts.episode
    for text, pattern in _texts(episode):
        words = text.markdown if isinstance(text, Prose) else text.text
        for urged in harms(words, pattern):
            span = text.span
            place = Span(span.file, span.line + urged.line, 1 if urged.line else span.column)
            yield Finding(
                "harmful-words",
                SEVERITY,
                place,
                f"the text says “{urged.words}”, expected {urged.harm.instead}",
                "take the sentence out, or turn it round: say what to do where it hurts or gets too hard",
                urged.harm.reason,
            )


def _texts(episode: Episode) -> Iterator[tuple[Prose | Words, str]]:
    """Yield every published text with the pattern of the movement that it is about, "" where it is about none."""
    yield Words(episode.title, episode.places.get("title", episode.span)), ""
    if episode.summary:
        yield Words(episode.summary, episode.places.get("summary", episode.span)), ""
    around = (*episode.lead, *episode.safety, *(prose for _, note in episode.notes for prose in note))
    yield from ((text, "") for text in around)
    for block in episode.blocks:
        yield from ((text, "") for text in _own(block))
        for exercise in block.exercises:
            pattern = exercise.match.entry.pattern if exercise.match else ""
            yield from ((text, pattern) for text in (*_own(exercise), *exercise.cues))
            yield from ((text, pattern) for text in (*exercise.easier, *exercise.harder))


def _own(part: Block | Exercise) -> Iterator[Prose | Words]:
    yield from part.prose
    yield from (caution.words for caution in part.cautions)
