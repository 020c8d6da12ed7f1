"""An episode is recorded before it is published.

Why: one of the two dates is a slip, and both are printed.
Wrong:
    ---
    format: 1
    title: Spring class
    recorded: 2026-04-08
    published: 2026-03-22
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ---
    format: 1
    title: Spring class
    recorded: 2026-04-08
    published: 2026-04-22
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Fix: correct the date that is wrong; look at the month first.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the date of publishing where it lies before that of the recording."""
    episode = facts.episode
    if episode.recorded is None or episode.published is None or episode.recorded <= episode.published:
        return
    yield Finding(
        "dates-order",
        SEVERITY,
        episode.places.get("published", episode.span),
        f"published {episode.published} lies before recorded {episode.recorded}, expected it on that day or later",
        "correct the date that is wrong",
    )
