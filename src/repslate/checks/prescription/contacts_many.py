"""Jumps come to no more landings than a session of them holds.

Why: each landing puts several times the body weight on knee, ankle and Achilles tendon; tendons adapt slowly, so that
    too many at once hurt days later.
Source: foot contacts of a session, up to 100 for beginners, 120 for intermediates and 140 for the advanced: NSCA,
    Essentials of Strength Training and Conditioning, from memory; one copy says per week. Written repetitions of jumps
    count, a range at its low end; burpees, rope skipping and jumping against time do not: our choice.
Wrong:
    ---
    format: 1
    title: Box day
    level: beginner
    ---
    ## Straight sets
    ### Box jump
    5 × 30, rest 2 min
Right:
    ---
    format: 1
    title: Box day
    level: beginner
    ---
    ## Straight sets
    ### Box jump
    5 × 6, rest 2 min
Fix: write fewer sets or repetitions, or step down in place of some of the jumps.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, prescribed, repetitions
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise, Level
from repslate.model.sets import done
from repslate.source.finding import Finding, Severity
from repslate.training.guidelines import CONTACTS, CONTACTS_SOURCE
from repslate.training.movement import is_working

SEVERITY = Severity.WARNING

_LANDINGS = frozenset({"plyo-landing", "plyo-depth"})


def find(facts: Facts) -> Iterator[Finding]:
    """Yield one finding, at the exercise with most of them, where all jumps together have too many landings."""
    level = facts.episode.level
    most = CONTACTS[level or Level.ADVANCED].high
    jumps = [
        (exercise, repetitions(block, exercise).low)
        for block, exercise in prescribed(facts)
        if is_working(block) and _is_jump(block, exercise)
    ]
    total = sum((landings for _, landings in jumps), Fraction(0))
    if most is None or total <= most:
        return
    chief, _ = max(jumps, key=lambda jump: jump[1])
    among = " and the other jumps" if len(jumps) > 1 else ""
    yield Finding(
        "contacts-many",
        SEVERITY,
        place(chief),
        f"{called(chief)}{among} come{'' if among else 's'} to {int(total)} landings, expected {most} at most"
        + (f" for level {level.value}" if level else ""),
        "write fewer sets or reps of it, or step down in place of some of the jumps",
        CONTACTS_SOURCE,
    )


def _is_jump(block: Block, exercise: Exercise) -> bool:
    """Tell whether the landings are written; a mere hop in time with a rope is none of those that NSCA counts."""
    entry = exercise.match.entry if exercise.match else None
    jumps = entry is not None and entry.pattern == "jump" and entry.unit == "reps"
    return bool(jumps and entry and _LANDINGS & set(entry.traits)) and bool(done(block, exercise).reps)
