"""The front matter says who presents the workout.

Why: viewers want to know whose advice it is, and the article names its author to search engines.
Wrong:
    ---
    format: 1
    title: Squat, hinge and carry
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ---
    format: 1
    title: Squat, hinge and carry
    presenter: Robin
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Fix: write presenter: and the name at the top of workout.md.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.NOTE


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the episode that names no presenter; one that is written but cannot be read is the reader's business."""
    episode = facts.episode
    if not episode.presenter and "presenter" not in episode.places:
        yield Finding(
            "presenter-missing",
            SEVERITY,
            episode.span,
            "the front matter names no presenter, expected a name",
            "write it at the top of workout.md, such as: presenter: Robin",
        )
