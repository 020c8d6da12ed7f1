"""Every picture that the text shows lies in the episode's folder.

Why: a missing picture leaves a hole in the article and on the card.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-sqaut.jpg)
    pictures/goblet-squat.jpg:
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-squat.jpg)
    pictures/goblet-squat.jpg:
Fix: put the file there, or correct its name. Capitals count: Squat.JPG and squat.jpg are two files.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.stills import Trouble, shown
from repslate.source.finding import Finding, Severity
from repslate.source.near import nearest

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield pictures inside the folder that are not there, and those that name no file."""
    for picture in shown(facts.episode):
        if not picture.path:
            message = "the picture names no file, expected one between the round brackets"
            fix = f"type ![{picture.description or 'what it shows'}](pictures/squat.jpg), or take the line out"
            yield Finding("picture-missing", SEVERITY, picture.span, message, fix)
        elif facts.spoilt.get(picture.path) is Trouble.MISSING:
            close = nearest(picture.path.replace("\\", "/"), sorted(facts.files))
            fix = f"did you mean {close}?" if close else f"put the file there, or take the line with {picture.path} out"
            message = f"the folder has no picture “{picture.path}”, expected the file that the text names"
            yield Finding("picture-missing", SEVERITY, picture.span, message, fix)
