"""The rest lies within what is published for the goal and for the kind of block.

Why: a minute between heavy triples costs repetitions, five minutes in a circuit make it something else.
Source: strength and power 2–5 min: NSCA handbook; hypertrophy 30 s to 3 min: NSCA, ACSM 2009 and Singer et al. 2024,
    Front Sports Act Living 6:1429789, taken together; endurance up to 60 s: NSCA and ACSM 2009; 1–5 min where an
    exercise assists: ACSM 2009; from 30 s where nothing is loaded (balance, core, band, body weight): common practice,
    no source; after a superset's round 1–3 min: Behenck et al. 2022, JSCR 36(3):781–786; circuit up
    to 30 s between stations and 1–3 min after the round: NSCA and ACSM teaching texts, from memory. After a round the
    rest of the goal is as good. The ranges are our choice from these, as is the warning for a loaded main lift that
    rests under 45 s for strength or power.
Wrong:
    ---
    format: 1
    title: Heavy triples
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    5 × 3, rest 30 s
Right:
    ---
    format: 1
    title: Heavy triples
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    5 × 3, rest 3 min
Fix: write a rest within the range. Where it is a note you may as well leave it: the sources differ.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from repslate.checks.shared import called, place, rest_words
from repslate.checks.usual import HELP, sources, write_bounds
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise, Goal
from repslate.model.quantity import Range
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span
from repslate.training.guidelines import SHORTEST_REST, heaviest, ranges

SEVERITY = Severity.WARNING
MILDER = (Severity.NOTE,)

_HELP = "write a rest within that range, such as: rest 2 min; look for s in place of min"

Rest = Range[Fraction]  # seconds
Placed = tuple[str, Span, Rest, tuple[Exercise, ...], bool]  # what to call it, where, for whom, after a set or round


def find(facts: Facts) -> Iterator[Finding]:
    """Yield rests that do not meet the range of their place in the block, or of the goal in straight sets."""
    goal = facts.episode.goal
    for block in facts.episode.blocks:
        for name, span, rest, done, after in _rests(block):
            main, loaded = heaviest(done)
            usual = ranges(goal, facts.episode.level, block.kind, main=main, loaded=loaded)
            guide = usual.rest if after else usual.within
            if guide is None or guide.bounds.meets(rest):
                continue
            short = block.form.in_sets and goal is not None and _is_far_too_short(goal, rest, done)
            yield Finding(
                "rest-unusual",
                Severity.WARNING if short else Severity.NOTE,
                span,
                f"{name} says {rest_words(rest)}, expected {write_bounds(guide.bounds, 's')} "
                f"{_where(block, goal, after=after)}",
                _HELP if short else HELP,
                sources(guide),
            )


def _rests(block: Block) -> Iterator[Placed]:
    """Yield each rest that is written, with the exercises it is for."""
    straight = block.form.in_sets
    if block.rest:
        yield called(block), block.span, block.rest, block.exercises, True
    done = block.exercises if straight else block.exercises[:-1]
    for exercise in (line for one in done for line in one.lines):
        if exercise.prescription.rest is not None:
            yield called(exercise), place(exercise), exercise.prescription.rest, (exercise,), straight


def _where(block: Block, goal: Goal | None, *, after: bool) -> str:
    if not after:
        return f"within a {block.kind.value.lower()}"
    return f"between sets for {goal.value}" if block.form.in_sets and goal else "after a round"


def _is_far_too_short(goal: Goal, rest: Rest, done: tuple[Exercise, ...]) -> bool:
    """Tell whether a loaded main lift for strength or power rests so little; swings stop far from failure."""
    return (
        goal in (Goal.STRENGTH, Goal.POWER)
        and rest.high < SHORTEST_REST
        and any(
            heaviest((one,)) == (True, True) and not (one.match and "ballistic-swing" in one.match.entry.traits)
            for one in done
        )
    )
