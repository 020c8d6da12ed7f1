"""A block done against the clock says how long the clock runs.

Why: "as many rounds as possible" without an end asks people to go on until they break.
Source: fixed time is what defines these forms: Oliver-López et al. 2025, PeerJ 13:e19265; Smith et al. 2025, Front
    Physiol 15:1511961.
Wrong:
    ## As many rounds as possible
    ### Push-up
    8 reps
Right:
    ## As many rounds as possible in 8 min
    ### Push-up
    8 reps
Fix: write the time into the heading: As many rounds as possible in 12 min, Every minute for 10 min,
    Every 2 min for 8 rounds.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield blocks against the clock without a time."""
    for block in facts.episode.blocks:
        if block.in_words:
            continue  # its name may say it
        if block.form.names_turn and block.turn is None:
            yield Finding(
                "clock-missing",
                SEVERITY,
                block.span,
                f"{called(block)} does not say how often the clock begins anew, expected a time",
                f"write it behind the word: ## {block.kind.value} 2 min {block.form.joint} 10 min",
            )
        elif block.form.on_the_clock and block.runs is None:
            yield Finding(
                "clock-missing",
                SEVERITY,
                block.span,
                f"{called(block)} does not say how long the clock runs, expected a time",
                f"write it into the heading: ## {block.name.partition(':')[0]} {block.form.joint} 10 min",
            )
