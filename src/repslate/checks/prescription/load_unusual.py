"""A load given as a share of the one-repetition maximum lies within what is published for the goal and the level.

Why: half of the maximum builds little strength, and nine tenths leave nobody enough repetitions for endurance.
Source: NSCA, Essentials of Strength Training and Conditioning: strength from 85 %, power 75–90 %, hypertrophy
    67–85 %, endurance up to 67 %; ACSM 2009, Med Sci Sports Exerc 41(3):687–708: strength 60–70 %, advanced 80–100 %,
    hypertrophy 70–85 %, advanced up to 100 %, power up to 60 %, endurance up to 70 %; ACSM 2026: strength from 80 %,
    power 30–70 %; hypertrophy from 30 %: IUSCA position stand 2021, from memory. The widest of these counts.
Wrong:
    ---
    format: 1
    title: Heavy day
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    5 × 5 @ 50 % 1RM, rest 3 min
Right:
    ---
    format: 1
    title: Heavy day
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    5 × 5 @ 85 % 1RM, rest 3 min
Fix: write a load within the range, or leave it: the sources differ, so this is never more than a note. Lighter sets
    before the heavy ones of the same movement are taken for a ramp.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from repslate.checks.shared import called, place
from repslate.checks.usual import HELP, judged, sources, write_bounds
from repslate.facts import Facts
from repslate.model.episode import Exercise
from repslate.model.prescription import of_one_rep_max
from repslate.model.quantity import Range, write_range
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.NOTE


def find(facts: Facts) -> Iterator[Finding]:
    """Yield shares of the one-repetition maximum that lie outside, but for the lighter sets of a ramp."""
    for _, exercise, usual in judged(facts):
        load, goal = exercise.prescription.load, facts.episode.goal
        percent = of_one_rep_max(load)
        if usual.percent is None or goal is None or percent is None:
            continue
        if usual.percent.bounds.meets(percent) or _leads_up(facts, exercise, percent):
            continue
        yield Finding(
            "load-unusual",
            SEVERITY,
            place(exercise),
            f"{called(exercise)} has {write_range(percent, '%')} 1RM, expected "
            f"{write_bounds(usual.percent.bounds, '% 1RM')} for {goal.value}",
            HELP,
            sources(usual.percent),
        )


def _leads_up(facts: Facts, exercise: Exercise, percent: Range[Decimal]) -> bool:
    """Tell whether a later exercise does the same movement with more."""
    every = [one for _, one in facts.episode.lines()]
    later = every[every.index(exercise) + 1 :]
    return any(
        (later_share := of_one_rep_max(one.prescription.load)) is not None
        and later_share.high > percent.high
        and (one.match and one.match.entry.name) == (exercise.match and exercise.match.entry.name)
        for one in later
    )
