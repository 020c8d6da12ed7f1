"""Nobody is asked to spot a fast lift such as a clean, a snatch or a jerk.

Why: a fast lift that fails is let go and falls; whoever stands there to catch it is under it.
Source: NSCA, Essentials of Strength Training and Conditioning: power exercises are not spotted; clear the area and
    learn to get away from the bar.
Wrong:
    ## Straight sets
    ### Power clean
    5 × 3, rest 3 min

    Caution (spotter): Use a spotter when the bar gets heavy.
Right:
    ## Straight sets
    ### Power clean
    5 × 3, rest 3 min

    Caution (clear area): Lift in a clear area without a spotter, and know how to let the bar drop.
Fix: take the spotter out, and ask for a clear area and for the skill to let the bar drop.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.episode import Exercise, Words
from repslate.source.finding import Finding, Severity
from repslate.training.cautions import asks_for_spotter
from repslate.training.hazards import is_unspotted

SEVERITY = Severity.ERROR
SAFETY = True


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each piece of a fast lift's words that asks for a spotter."""
    for _, exercise in facts.episode.exercises():
        if exercise.match is None or not is_unspotted(exercise.match):
            continue
        for words in _words(exercise):
            if asks_for_spotter(words.text):
                yield Finding(
                    "spotter-on-power-lift",
                    SEVERITY,
                    words.span,
                    f"{called(exercise)} asks for a spotter, expected a clear area and nobody near the lift",
                    "type instead: Caution (clear area): Lift in a clear area without a spotter, and know how to let "
                    "the bar drop.",
                    "NSCA, Essentials of Strength Training and Conditioning: power exercises are not spotted",
                )


def _words(exercise: Exercise) -> Iterator[Words]:
    yield from (caution.words for caution in exercise.cautions)
    yield from (*exercise.cues, *exercise.easier, *exercise.harder)
    yield from (Words(prose.markdown, prose.span) for prose in exercise.prose)
