"""The repetitions lie within what is published for the goal and the level.

Why: sets of twenty build little strength and heavy triples little endurance; the viewer trusts the word in the title.
Source: NSCA, Essentials of Strength Training and Conditioning: strength up to 6, power 1–5, hypertrophy 6–12,
    endurance 12 and more; ACSM 2009, Med Sci Sports Exerc 41(3):687–708: strength and hypertrophy 8–12, advanced 1–12,
    power 3–6, endurance 10–15, advanced 10–25 and more; hypertrophy up to 30: IUSCA position stand 2021, from memory.
    The widest of these counts. For strength only main lifts are judged, for power only fast lifts.
Wrong:
    ---
    format: 1
    title: Heavy day
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    3 × 20, rest 3 min
Right:
    ---
    format: 1
    title: Heavy day
    goal: strength
    ---
    ## Straight sets
    ### Goblet squat
    5 × 5, rest 3 min
Fix: write repetitions within the range, or leave them: the sources differ, so this is never more than a note.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place
from repslate.checks.usual import HELP, judged, sources, write_bounds
from repslate.facts import Facts
from repslate.model.prescription import Reps
from repslate.model.quantity import Range, write_range
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.NOTE


def find(facts: Facts) -> Iterator[Finding]:
    """Yield repetitions of a set that lie outside; parts of clusters and rest-pause sets are no sets of their own."""
    for _, exercise, usual in judged(facts):
        said, goal = exercise.prescription, facts.episode.goal
        if usual.reps is None or goal is None or not isinstance(said.work, Reps) or said.rest_pause or said.cluster:
            continue
        reps = Range(min(each.low for each in said.work.each), max(each.high for each in said.work.each))
        if reps.high > 0 and not usual.reps.bounds.meets(reps):
            yield Finding(
                "reps-unusual",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} asks for {write_range(reps)} reps, expected "
                f"{write_bounds(usual.reps.bounds, 'reps')} for {goal.value}",
                HELP,
                sources(usual.reps),
            )
