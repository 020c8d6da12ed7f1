"""Every picture has a description of what it shows.

Why: who does not see the picture hears the description; without one it is a gap.
Source: WCAG 2.2, success criterion 1.1.1, level A.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![](pictures/goblet-squat.jpg)
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat, elbows inside the knees](pictures/goblet-squat.jpg)
Fix: write what it shows between the brackets; for the episode's picture write picture description: in the front
    matter.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.stills import shown
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield pictures without a description."""
    for picture in shown(facts.episode):
        if picture.description.strip():
            continue
        own = picture is facts.episode.picture
        yield Finding(
            "picture-undescribed",
            SEVERITY,
            picture.span,
            f"the picture “{picture.path}” has no description, expected a sentence on what it shows",
            "write picture description: in the front matter" if own else f"type: ![what it shows]({picture.path})",
            "WCAG 2.2, 1.1.1",
        )
