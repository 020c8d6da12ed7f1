"""The rest lies within what is published for the goal and for the kind of block.

Why: a minute between heavy triples costs repetitions, five minutes in a circuit make it something else.
Source: strength and power 2–5 min: NSCA handbook; hypertrophy 30 s to 3 min: NSCA, ACSM 2009 and Singer et al. 2024,
    Front Sports Act Living 6:1429789, taken together; endurance up to 60 s: NSCA and ACSM 2009; after a superset's
    round 1–3 min: Behenck et al. 2022, JSCR 36(3):781–786; circuit up to 30 s between stations and 1–3 min after the
    round: NSCA and ACSM teaching texts, from memory. The ranges are our choice from these.
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
from repslate.facts import Facts
from repslate.model.episode import Block, BlockKind, Exercise, Goal
from repslate.model.quantity import Range, write_seconds
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

SEVERITY = Severity.NOTE

Rest = Range[Fraction]  # seconds

_GOALS = {
    Goal.STRENGTH: Range(Fraction(120), Fraction(300)),
    Goal.POWER: Range(Fraction(120), Fraction(300)),
    Goal.HYPERTROPHY: Range(Fraction(30), Fraction(180)),
    Goal.ENDURANCE: Range(Fraction(0), Fraction(60)),
}
_BETWEEN_STATIONS = Range(Fraction(0), Fraction(30))
_INSIDE_A_PAIR = Range(Fraction(0), Fraction(60))
_AFTER_A_ROUND = Range(Fraction(60), Fraction(180))
_BACK_TO_BACK = (BlockKind.SUPERSET, BlockKind.TRI_SET, BlockKind.GIANT_SET)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield rests that do not meet the range of their place in the block, or of the goal in straight sets."""
    for block in facts.episode.blocks:
        for name, span, rest, usual, where in _rests(block, facts.episode.goal):
            if not rest.meets(usual):
                yield Finding(
                    "rest-unusual",
                    SEVERITY,
                    span,
                    f"{name} says {rest_words(rest)}, expected {write_seconds(usual)} {where}",
                    "write a rest within that range, or leave it as it is if you mean it",
                    "NSCA; ACSM 2009; Singer et al. 2024; Behenck et al. 2022",
                )


def _rests(block: Block, goal: Goal | None) -> Iterator[tuple[str, Span, Rest, Rest, str]]:
    """Yield each rest that is written, with what it is usually and where that holds."""
    if block.kind is BlockKind.STRAIGHT:
        usual = _GOALS.get(goal) if goal else None
        if goal and usual:
            if block.rest:
                yield called(block), block.span, block.rest, usual, f"between sets for {goal.value}"
            for exercise, rest in _own(block.exercises):
                yield called(exercise), place(exercise), rest, usual, f"between sets for {goal.value}"
    elif block.kind in _BACK_TO_BACK or block.kind is BlockKind.CIRCUIT:
        inside = _BETWEEN_STATIONS if block.kind is BlockKind.CIRCUIT else _INSIDE_A_PAIR
        if block.rest:
            yield called(block), block.span, block.rest, _AFTER_A_ROUND, "after a round"
        for exercise, rest in _own(block.exercises[:-1]):
            yield called(exercise), place(exercise), rest, inside, f"within a {block.kind.value.lower()}"


def _own(exercises: tuple[Exercise, ...]) -> Iterator[tuple[Exercise, Rest]]:
    return ((one, one.prescription.rest) for one in exercises if one.prescription.rest is not None)
