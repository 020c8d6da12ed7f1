"""A share that names no whole, in a workout that speaks of a training max, may be of either of two maxima.

A training max is what a plan reckons with in place of the one-repetition maximum, nine tenths of it where the front
matter says no other. Taken of the wrong one, a load is a tenth too heavy.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from repslate.model.episode import Block, Episode, Exercise, Prose, Words
from repslate.model.hosted import as_typed
from repslate.model.prescription import TRAINING_MAX, OneRepMaxShare, TrainingMaxShare
from repslate.model.quantity import write_range
from repslate.source.finding import Finding
from repslate.source.span import Span

_SPOKEN_OF = re.compile(
    r"\btraining[\s-]+max(?:es|ima|imums?)?\b|%\s+(?:of\s+)?(?:(?:your|the)\s+)?TM\b", re.IGNORECASE
)


def with_training_max(episode: Episode) -> Episode:
    """Tell the shares of a training max which one the front matter has."""
    if episode.training_max == TRAINING_MAX:
        return episode
    return replace(episode, blocks=tuple(_told(block, episode.training_max) for block in episode.blocks))


def _told(block: Block, training_max: Decimal) -> Block:
    exercises = []
    for exercise in block.exercises:
        load = exercise.prescription.load
        if isinstance(load, TrainingMaxShare):
            said = replace(exercise.prescription, load=replace(load, training_max=training_max))
            exercises.append(replace(exercise, prescription=said))
        else:
            exercises.append(exercise)
    return replace(block, exercises=tuple(exercises))


def ask_which(episode: Episode) -> tuple[Episode, tuple[Finding, ...]]:
    """Turn loads that may be of either maximum into words as typed, with a note for each that asks which it is."""
    everywhere = _mentioned((*episode.lead, *episode.safety, *(prose for _, text in episode.notes for prose in text)))
    summary = episode.places.get("summary") if _SPOKEN_OF.search(episode.summary or "") else None
    summary = summary or episode.places.get("training max")
    findings: list[Finding] = []
    blocks = []
    for block in episode.blocks:
        exercises = []
        for exercise in block.exercises:
            load, place = exercise.prescription.load, exercise.prescription_span
            mentioned = _under(exercise) or _mentioned(block.prose) or everywhere or summary
            if isinstance(load, OneRepMaxShare) and not load.named and mentioned and place:
                findings.append(_which(load, place, mentioned))
                said, share = exercise.prescription, write_range(load.percent, "%")
                said = replace(said, load=None, words=(*said.words, share))
                exercises.append(replace(exercise, prescription=said))
            else:
                exercises.append(exercise)
        blocks.append(replace(block, exercises=tuple(exercises)))
    return replace(episode, blocks=tuple(blocks)), tuple(findings)


def _which(load: OneRepMaxShare, place: Span, mentioned: Span) -> Finding:
    share = write_range(load.percent, "%")
    found = f"it names no whole, and line {mentioned.line} speaks of a training max; expected of which maximum it is"
    help_ = f"write “{share} TM” for {share} of the training max, or “{share} 1RM” for {share} of the maximum itself"
    return as_typed(share, place, found, help_)


def _under(exercise: Exercise) -> Span | None:
    return _mentioned((*exercise.prose, *exercise.cues, *exercise.easier, *exercise.harder))


def _mentioned(texts: Iterable[Prose | Words]) -> Span | None:
    """Return where a training max is first spoken of."""
    return next(_mentions(texts), None)


def _mentions(texts: Iterable[Prose | Words]) -> Iterator[Span]:
    for text in texts:
        source = text.markdown if isinstance(text, Prose) else text.text
        if found := _SPOKEN_OF.search(source):
            line = text.span.line + source.count("\n", 0, found.start())
            yield replace(text.span, line=line) if line != text.span.line else text.span
