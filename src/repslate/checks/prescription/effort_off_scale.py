"""An effort in RPE stands on the scale from 1 to 10.

Why: on a scale of ten, RPE 15 says nothing; on the older one from 6 to 20 it is "hard", and a reader cannot tell.
Source: the scale of ten by repetitions in reserve: Zourdos et al. 2016, J Strength Cond Res 30(1):267–275 (from
    memory); the scale from 6 to 20: Borg 1982, Med Sci Sports Exerc 14(5):377–381 (from memory).
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, RPE 15, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, RPE 8, rest 90 s
Fix: write RPE 1 to 10, or the repetitions left: leave 2 in reserve.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.figures import figures
from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR

_LOWEST, _HIGHEST = 1, 10
_OLDER = (6, 20)  # the ends of Borg's first scale


def find(facts: Facts) -> Iterator[Finding]:
    """Yield every RPE below 1 or above 10."""
    for _, exercise in prescribed(facts):
        for figure in figures(exercise.prescription):
            if figure.what != "exertion" or (figure.low >= _LOWEST and figure.high <= _HIGHEST):
                continue
            is_older = figure.low >= _OLDER[0] and _HIGHEST < figure.high <= _OLDER[1]
            hint = "if you mean the scale from 6 to 20, write it on the one from 1 to 10; " if is_older else ""
            yield Finding(
                "effort-off-scale",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} has {figure.words}, expected a rating from {_LOWEST} to {_HIGHEST}",
                f"{hint}type RPE 8, or the repetitions left: leave 2 in reserve",
            )
