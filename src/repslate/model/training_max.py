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
from repslate.model.parts import main_part
from repslate.model.prescription import TRAINING_MAX, OneRepMaxShare, Prescription, TrainingMaxShare
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
            mentioned = _under(exercise) or _mentioned(block.prose) or everywhere or summary
            exercises.append(_asked(exercise, mentioned, findings) if mentioned else exercise)
        blocks.append(replace(block, exercises=tuple(exercises)))
    return replace(episode, blocks=tuple(blocks)), tuple(findings)


def _asked(exercise: Exercise, mentioned: Span, findings: list[Finding]) -> Exercise:
    """Turn the shares of an exercise that name no whole into words, and add a finding for each."""
    if exercise.parts:
        parts = tuple(
            replace(part, prescription=_in_words(part.prescription, part.span, mentioned, findings))
            for part in exercise.parts
        )
        return replace(exercise, parts=parts, prescription=main_part(parts).prescription)
    if exercise.prescription_span is None:
        return exercise
    said = _in_words(exercise.prescription, exercise.prescription_span, mentioned, findings)
    return replace(exercise, prescription=said)


def _in_words(said: Prescription, place: Span, mentioned: Span, findings: list[Finding]) -> Prescription:
    load = said.load
    if not isinstance(load, OneRepMaxShare) or load.named:
        return said
    findings.append(_which(load, place, mentioned))
    return replace(said, load=None, words=(*said.words, write_range(load.percent, "%")))


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
