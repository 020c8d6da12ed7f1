"""The rest lies within what is published for the goal and for the kind of block.

Why: a minute between heavy triples costs repetitions, five minutes in a circuit make it something else.
Source: strength and power 2–5 min: NSCA handbook; hypertrophy 30 s to 3 min: NSCA, ACSM 2009 and Singer et al. 2024,
    Front Sports Act Living 6:1429789, taken together; endurance up to 60 s: NSCA and ACSM 2009; 1–5 min where an
    exercise assists: ACSM 2009; after a superset's round 1–3 min: Behenck et al. 2022, JSCR 36(3):781–786; circuit up
    to 30 s between stations and 1–3 min after the round: NSCA and ACSM teaching texts, from memory. After a round the
    rest of the goal is as good. The ranges are our choice from these.
Bad:
    ---
    format: 1
    title: Heavy triples
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    5 × 3, rest 30 s
Good:
    ---
    format: 1
    title: Heavy triples
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    5 × 3, rest 3 min
Mend: write a rest within the range, or leave it: the sources differ, so this is never more than a note.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, rest_words
from repslate.checks.usual import HELP, sources, write_bounds
from repslate.facts import Facts
from repslate.model.episode import Block, BlockKind, Episode, Exercise
from repslate.model.quantity import Range
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span
from repslate.training.guidelines import Guide, ranges
from repslate.training.movement import is_main_lift

SEVERITY = Severity.NOTE

Rest = Range[Fraction]  # seconds


def find(facts: Facts) -> Iterator[Finding]:
    """Yield rests that do not meet the range of their place in the block, or of the goal in straight sets."""
    for block in facts.episode.blocks:
        for name, span, rest, usual, where in _rests(block, facts.episode):
            if usual is not None and not usual.bounds.meets(rest):
                yield Finding(
                    "rest-unusual",
                    SEVERITY,
                    span,
                    f"{name} says {rest_words(rest)}, expected {write_bounds(usual.bounds, 's')} {where}",
                    HELP,
                    sources(usual),
                )


def _rests(block: Block, episode: Episode) -> Iterator[tuple[str, Span, Rest, Guide | None, str]]:
    """Yield each rest that is written, with what it is usually and where that holds."""
    goal, level = episode.goal, episode.level
    straight = block.kind is BlockKind.STRAIGHT
    after = f"between sets for {goal.value}" if straight and goal else "after a round"
    if block.rest:
        main = not straight or any(is_main_lift(exercise.match) for exercise in block.exercises)
        usual = ranges(goal, level, block.kind, main=main)
        yield called(block), block.span, block.rest, usual.rest, after
    for exercise, rest in _own(block.exercises if straight else block.exercises[:-1]):
        usual = ranges(goal, level, block.kind, main=is_main_lift(exercise.match))
        if straight:
            yield called(exercise), place(exercise), rest, usual.rest, after
        else:
            yield called(exercise), place(exercise), rest, usual.within, f"within a {block.kind.value.lower()}"


def _own(exercises: tuple[Exercise, ...]) -> Iterator[tuple[Exercise, Rest]]:
    return ((one, one.prescription.rest) for one in exercises if one.prescription.rest is not None)
