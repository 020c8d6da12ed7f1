"""A workout for beginners holds no movement and no effort that needs training experience.

Why: Olympic lifts, depth jumps, near-maximal loads, behind-the-neck positions and sets to failure presuppose
    technique and strength that beginners have yet to build.
Source: power lifts, depth jumps, loads from 90 % 1RM or up to 3 repetitions: NSCA; behind the neck: Kolber et al.
    2013, JSCR 27(5):1333–1339; failure: Refalo et al. 2023, Sports Med 53(3):649–665; drop sets go to failure: Sødal
    et al. 2023, Sports Med Open 9:66.
Bad:
    ---
    format: 1
    title: First steps with weights
    level: beginner
    ---
    ## Straight sets
    ### Goblet squat
    3 × 2 @ 95 % 1RM, rest 3 min
Good:
    ---
    format: 1
    title: First steps with weights
    level: beginner
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10–12, leave 3 in reserve, rest 90 s
Mend: take the plain form of the movement and leave 1–3 repetitions in reserve, or raise the level.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place
from repslate.facts import Facts
from repslate.model.episode import Exercise, Level
from repslate.model.prescription import OneRepMaxShare
from repslate.source.finding import Finding, Severity
from repslate.training.hazards import NEAR_MAXIMAL, is_to_failure

SEVERITY = Severity.WARNING
SAFETY = True

_TRAITS = {
    "power-lift": ("a lift that takes technique first", "NSCA"),
    "plyo-depth": ("a depth jump", "NSCA"),
    "max-load": ("a near-maximal load", "NSCA; ACSM"),
    "high-five": ("a load behind the neck", "Kolber et al. 2013"),
    "to-failure": ("a set to failure", "Refalo et al. 2023; ACSM 2026"),
}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each hazard of each exercise in a workout for beginners."""
    if facts.episode.level is not Level.BEGINNER:
        return
    for _, exercise in facts.episode.exercises():
        for trait in _traits(exercise):
            words, source = _TRAITS[trait]
            yield Finding(
                "beginner-hazard",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} asks beginners for {words}, expected something that needs no experience",
                "take the plain form of the movement and leave 1–3 repetitions in reserve, or raise the level",
                source,
            )


def _traits(exercise: Exercise) -> list[str]:
    """Return the hazards that the library or the prescription shows, each once, in the order of the table."""
    known = set(exercise.match.entry.traits) if exercise.match else set()
    said = exercise.prescription
    if isinstance(said.load, OneRepMaxShare) and said.load.percent.high >= NEAR_MAXIMAL:
        known.add("max-load")
    if is_to_failure(said):
        known.add("to-failure")
    return [trait for trait in _TRAITS if trait in known]
