"""Every picture can be opened and has a size that a page can use.

Why: a damaged picture leaves a hole in the article; one of huge size stops the computer.
Source: common practice, no source. The kinds are those that every browser shows.
Bad:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-squat.jpg)
    pictures/goblet-squat.jpg:
    these are words
Good:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-squat.jpg)
    pictures/goblet-squat.jpg:
    ⟨a picture⟩
Mend: open the picture and save it again as JPEG, PNG or WebP, with fewer than 80 million pixels.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.stills import Trouble, shown
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield pictures that are there and cannot be shown."""
    for picture in shown(facts.episode):
        trouble = facts.spoilt.get(picture.path)
        if trouble in {Trouble.UNREADABLE, Trouble.TOO_LARGE}:
            yield Finding(
                "picture-unreadable",
                SEVERITY,
                picture.span,
                f"“{picture.path}” {trouble}, expected a JPEG, PNG or WebP that opens",
                "open the picture and save it again as JPEG, PNG or WebP",
            )
