"""The number of sets lies within what is published for the goal and the level.

Why: more sets than that bring little more and cost an evening; the viewer has other exercises to do.
Source: NSCA, Essentials of Strength Training and Conditioning: strength 2–6, power 3–5, hypertrophy 3–6, endurance
    2–3; ACSM 2009, Med Sci Sports Exerc 41(3):687–708: 1–3 for beginners, 3–6 for advanced; ACSM 2026: strength 2–3.
    The widest of these counts. One set is never too few for hypertrophy and endurance, as sets add up over the week:
    our choice.
Wrong:
    ## Straight sets
    ### Goblet squat
    9 × 10, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    4 × 10, rest 90 s
Fix: write sets within the range, or leave them: the sources differ, so this is never more than a note.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place
from repslate.checks.usual import HELP, judged, sources, write_bounds
from repslate.facts import Facts
from repslate.model.quantity import write_range
from repslate.model.sets import sets_of
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.NOTE


def find(facts: Facts) -> Iterator[Finding]:
    """Yield numbers of sets that lie outside; sets that are written nowhere have a finding of their own."""
    for block, exercise, usual in judged(facts):
        whole = next(one for one in block.exercises if one.id == exercise.id)
        if exercise.prescription_span != whole.prescription_span:
            continue  # of one in parts all sets are judged together, at its main part
        sets, goal = sets_of(block, whole), facts.episode.goal
        if usual.sets is None or goal is None or sets is None or usual.sets.bounds.meets(sets):
            continue
        if sets.high == 0:
            continue  # figure-zero says so
        yield Finding(
            "sets-unusual",
            SEVERITY,
            place(exercise),
            f"{called(exercise)} has {write_range(sets)} {'set' if sets.high == 1 else 'sets'}, expected "
            f"{write_bounds(usual.sets.bounds, 'sets')} for {goal.value}",
            HELP,
            sources(usual.sets),
        )
