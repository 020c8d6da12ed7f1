"""Every picture can be opened and has a size that a page can use.

Why: a damaged picture leaves a hole in the article; one of huge size stops the computer.
Source: common practice, no source. What a browser does not show (HEIC, TIFF) is published as JPEG.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-squat.jpg)
    pictures/goblet-squat.jpg:
    these are words
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-squat.jpg)
    pictures/goblet-squat.jpg:
    ⟨a picture⟩
Fix: open the picture and save it again as JPEG, PNG or WebP, with 25 million pixels at most.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.stills import Trouble, shown, unreadable
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
_TOLD_ELSEWHERE = (Trouble.MISSING, Trouble.LINK_OUT)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield pictures that are there and cannot be shown."""
    for picture in shown(facts.episode):
        trouble = facts.spoilt.get(picture.path)
        if trouble is not None and trouble not in _TOLD_ELSEWHERE:
            yield unreadable(picture, trouble)
