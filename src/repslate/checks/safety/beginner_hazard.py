"""A workout for beginners holds no movement and no effort that needs training experience.

Why: Olympic lifts, depth jumps, near-maximal loads, behind-the-neck positions and sets to failure presuppose
    technique and strength that beginners have yet to build; so do a few movements, such as a pistol squat or a Nordic
    curl.
Source: power lifts, depth jumps, loads from 90 % 1RM or up to 3 repetitions: NSCA; behind the neck: Kolber et al.
    2013, JSCR 27(5):1333–1339; failure: Refalo et al. 2023, Sports Med 53(3):649–665; drop sets go to failure: Sødal
    et al. 2023, Sports Med Open 9:66. The list of single movements is our choice, common practice.
Wrong:
    ---
    format: 1
    title: First steps with weights
    level: beginner
    ---
    ## Straight sets
    ### Goblet squat
    3 × 2 @ 95 % 1RM, rest 3 min
Right:
    ---
    format: 1
    title: First steps with weights
    level: beginner
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10–12, leave 3 in reserve, rest 90 s
Fix: take the plain form of the movement and leave 1–3 repetitions in reserve, or raise the level.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place
from repslate.facts import Facts
from repslate.model.episode import Exercise, Level
from repslate.model.prescription import masses_of
from repslate.source.finding import Finding, Severity
from repslate.training.hazards import NEAR_MAXIMAL, is_to_failure
from repslate.training.repmax import certain_share

SEVERITY = Severity.WARNING
SAFETY = True

_TRAITS = {
    "power-lift": ("a lift that takes technique first", "NSCA"),
    "plyo-depth": ("a depth jump", "NSCA"),
    "max-load": ("a near-maximal load", "NSCA; ACSM"),
    "high-five": ("a load behind the neck", "Kolber et al. 2013"),
    "to-failure": ("a set to failure", "Refalo et al. 2023; ACSM 2026"),
}
_ON_ONE_LEG = "much strength, depth and balance on one leg"
_EYE = "common practice, no source"
#: Movements of the library that are learned after a plainer form of them.
_MOVEMENTS = {
    "Pistol squat": (_ON_ONE_LEG, _EYE),
    "Shrimp squat": (_ON_ONE_LEG, _EYE),
    "Nordic curl": ("a lowering that strains hamstrings and knees hard", _EYE),
    "Ab-wheel rollout": ("a long lever on the lower back", _EYE),
    "Jefferson curl": ("a load on the bent spine", "Contreras & Schoenfeld 2011"),
    "Zercher squat": ("a bar in the crook of the arms", _EYE),
    "Handstand push-up": ("the body's weight on hands and head", _EYE),
    "Headstand": ("the body's weight on head and neck", _EYE),
    "Plough pose": ("the body's weight on the bent neck", _EYE),
    "Kipping pull-up": ("a swing on the bar before strict pull-ups are easy", _EYE),
    "GHD sit-up": ("a sit-up far back over the edge", _EYE),
}
_WEIGHTED_DIP = ("a dip with added weight", _EYE)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each hazard of each exercise in a workout for beginners."""
    if facts.episode.level is not Level.BEGINNER:
        return
    for _, exercise in facts.episode.exercises():
        for words, source in dict.fromkeys(one for line in exercise.lines for one in _asked(line)):
            yield Finding(
                "beginner-hazard",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} asks beginners for {words}, expected something that needs no experience",
                "take the plain form of the movement and leave 1–3 repetitions in reserve, or raise the level",
                source,
            )


def _asked(exercise: Exercise) -> Iterator[tuple[str, str]]:
    """Yield what the library or the prescription shows, each once with its source, in the order of the tables."""
    known = set(exercise.match.entry.traits) if exercise.match else set()
    said = exercise.prescription
    if (share := certain_share(said.load)) and share.high >= NEAR_MAXIMAL:
        known.add("max-load")
    if is_to_failure(said):
        known.add("to-failure")
    yield from (_TRAITS[trait] for trait in _TRAITS if trait in known)
    name = exercise.match.entry.name if exercise.match else ""
    if name in _MOVEMENTS:
        yield _MOVEMENTS[name]
    loaded = bool(masses_of(said.load))
    if name == "Dip" and (loaded or "weighted" in exercise.name.casefold()):
        yield _WEIGHTED_DIP
