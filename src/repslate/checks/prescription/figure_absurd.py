"""No figure is beyond what anybody trains: 20 sets, 200 reps, 20 min of rest, 60 kg in one hand.

Why: such a figure is nearly always a slip (60 for 6, min for s), and people who take it at its word get hurt:
    unaccustomed, punishing volume can break muscle down (exertional rhabdomyolysis).
Source: the danger: Rider et al. 2019, ACSM's Health & Fitness Journal 23(3):16–20. The limits: common practice, no
    source.
Wrong:
    ## Straight sets
    ### Push-up
    3 × 500, rest 45 min
Right:
    ## Straight sets
    ### Push-up
    3 × 15, rest 45 s
Fix: write the figure you meant, of dumbbells the load of one: 2 × 24 kg. If you mean it, split the work into sets that
    people do.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.figures import Figure, block_figures, figures
from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.episode import Exercise
from repslate.model.prescription import Bodyweight, Prescription, Tally, masses_of, write
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)

# Common practice, no source: each limit stands well beyond what is filmed, so that only slips are caught.
_VOLUME = frozenset({"sets", "rounds", "reps", "work", "distance", "drops", "clock", *Tally})
LIMITS = {
    "sets": (20, "20 sets"),
    "rounds": (30, "30 rounds"),
    "reps": (200, "200 reps"),
    "work": (3600, "1 hour"),  # one set of time
    "distance": (50_000, "50 km"),  # one set of distance, a long ride
    Tally.CALORIES: (500, "500 calories"),  # one set of each
    Tally.BREATHS: (100, "100 breaths"),
    Tally.STEPS: (10_000, "10,000 steps"),
    Tally.LENGTHS: (200, "200 lengths"),
    "hold": (120, "2 min"),  # of each repetition
    "rest": (1200, "20 min"),
    "load": (500, "500 kg"),
    "share": (150, "150 %"),  # heavier than the maximum only in lowering work, up to 120–130 %
    "share of another": (500, "500 %"),
    "drops": (6, "6 drops"),
    "reserve": (10, "10 in reserve"),
    "clock": (7200, "2 hours"),
}
HAND = 60  # kg, one dumbbell or kettlebell: the heaviest of most racks; common practice, no source
_IN_HAND = frozenset({"dumbbell", "dumbbells", "kettlebell", "kettlebells"})
_DANGER = "punishing volume can break muscle down: Rider et al. 2019; "


def find(facts: Facts) -> Iterator[Finding]:
    """Yield every figure above its limit."""
    for block in facts.episode.blocks:
        for figure in block_figures(block):
            yield from _judge(figure, called(block), block.span)
    for _, exercise in prescribed(facts):
        for figure in figures(exercise.prescription):
            yield from _judge(figure, called(exercise), place(exercise))
        yield from _judge_hand(exercise)


def _judge_hand(exercise: Exercise) -> Iterator[Finding]:
    """Yield a dumbbell or kettlebell heavier than racks hold: mostly two are meant, or a bar."""
    load = exercise.prescription.load
    masses = () if isinstance(load, Bodyweight) else masses_of(load)
    if not masses or not _is_in_hand(exercise):
        return
    most = max(mass.in_unit("kg").high for mass in masses)
    if HAND < most <= LIMITS["load"][0]:
        yield Finding(
            "figure-absurd",
            Severity.WARNING,
            place(exercise),
            f"{called(exercise)} has {write(Prescription(load=load)).removeprefix('@ ')}, "
            f"expected {HAND} kg at most for one dumbbell or kettlebell",
            "write the load of one piece, such as 2 × 30 kg where two come to 60 kg, or the equipment: barbell",
            "the limit itself is common practice, no source",
        )


def _is_in_hand(exercise: Exercise) -> bool:
    """Tell whether the load is certainly a dumbbell or a kettlebell, as the trainer or the library has it."""
    named = tuple(words.text.casefold() for words in exercise.equipment)
    needed = named or (exercise.match.equipment if exercise.match else ())
    return any(_IN_HAND.issuperset(item.split(" or ")) for item in needed)


def _judge(figure: Figure, name: str, span: Span) -> Iterator[Finding]:
    limit = LIMITS.get(figure.what)
    if limit is None or figure.high <= limit[0]:
        return
    yield Finding(
        "figure-absurd",
        SEVERITY,
        span,
        f"{name} has {figure.words}, expected {limit[1]} at most",
        "write the figure you meant; look for a nought too many or min in place of s",
        f"{_DANGER if figure.what in _VOLUME else ''}the limit itself is common practice, no source",
    )
