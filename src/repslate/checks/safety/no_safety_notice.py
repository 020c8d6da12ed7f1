"""The workout says something about safety beyond the standing notice.

Why: the standing notice is printed in any case, but it cannot know the room, the kit and the people of this workout.
Source: common practice, no source. It asks once: a sentence in series.yaml holds for every episode.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ## Safety
    Clear two metres around you and wear shoes that grip.
Fix: write what this room and this kit ask for under ## Safety, or a sentence for all episodes under safety: in
    series.yaml.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING
SAFETY = True


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the episode that neither has words under ## Safety nor a series that adds some."""
    episode = facts.episode
    if episode.series.safety or any(prose.markdown.strip() for prose in episode.safety):
        return
    found = "## Safety is empty" if episode.has_safety else "there is no ## Safety"
    yield Finding(
        "no-safety-notice",
        SEVERITY,
        episode.span,
        f"{found}, expected what this room and this kit ask for, beside the standing notice",
        "write a sentence under ## Safety, or safety: in series.yaml",
    )
