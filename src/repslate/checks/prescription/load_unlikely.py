"""No load is far from what anybody lifts in that exercise.

Why: 26 for 6 kg is one wrong key, and somebody will pick it up.
Source: common practice, no source: the bounds are ours, well beyond what is trained with. A barbell weighs 20 or 15 kg
    empty: IWF, Technical and Competition Rules.
Wrong:
    ## Straight sets
    ### Lateral raise
    3 × 12 @ 2 × 26 kg, rest 60 s
Right:
    ## Straight sets
    ### Lateral raise
    3 × 12 @ 2 × 6 kg, rest 60 s
Fix: look at the figure again, and at whether it is of one piece or of both together.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place
from repslate.facts import Facts
from repslate.model.episode import Exercise
from repslate.model.library import Entry
from repslate.model.prescription import Weight
from repslate.model.quantity import Mass, write_range
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.NOTE

#: Kilograms of one dumbbell or kettlebell, by the pattern of the movement.
_HEAVIEST = {"shoulder raise": 20, "shoulder rotation": 12, "fly": 32, "elbow flexion": 32, "elbow extension": 40}
_LIGHTEST_BAR = 15
_WITH_A_BAR = frozenset({"squat", "hinge", "horizontal push", "vertical push"})


def find(facts: Facts) -> Iterator[Finding]:
    """Yield loads that are too heavy for a small movement, and barbells lighter than empty ones."""
    listed = " ".join(one.text.casefold() for one in facts.episode.equipment)
    hand_held = any(kit in listed for kit in ("dumbbell", "kettlebell", "band"))
    for _, exercise in facts.episode.lines():
        load = exercise.prescription.load
        if not isinstance(load, Weight) or exercise.match is None:
            continue
        mass = load.mass.in_unit("kg")
        entry = exercise.match.entry
        heaviest = _HEAVIEST.get(entry.pattern)
        in_hands = load.pieces > 1 or _is_in_hand(entry, exercise.match.kit)
        if heaviest is not None and mass.low > heaviest and in_hands:
            yield _finding(exercise, load.mass, f"at most about {heaviest} kg in each hand")
        elif mass.high < _LIGHTEST_BAR and not hand_held and _is_barbell(entry, exercise.match.kit):
            yield _finding(exercise, load.mass, "at least the empty bar, 15 or 20 kg")


def _is_in_hand(entry: Entry, kit: str) -> bool:
    """Tell whether a dumbbell or kettlebell is used, and no bar or machine may be."""
    kits = kit or " ".join(entry.equipment)
    return "dumbbell" in kits and not any(other in kits for other in ("barbell", "machine", "EZ bar", "plate"))


def _is_barbell(entry: Entry, kit: str) -> bool:
    is_only = entry.equipment[:1] == ("barbell",) or kit == "barbell"
    return entry.pattern in _WITH_A_BAR and is_only


def _finding(exercise: Exercise, mass: Mass, expected: str) -> Finding:
    return Finding(
        "load-unlikely",
        SEVERITY,
        place(exercise),
        f"{called(exercise)} has {write_range(mass.amount, mass.unit)}, expected {expected}",
        "look at the figure again, and at whether it is of one piece or of both together",
    )
