"""Every picture that the text shows lies in the episode's folder.

Why: a missing picture leaves a hole in the article and on the card.
Source: common practice, no source.
Bad:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-sqaut.jpg)
    pictures/goblet-squat.jpg:
Good:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-squat.jpg)
    pictures/goblet-squat.jpg:
Mend: put the file there, or correct its name. Capitals count: Squat.JPG and squat.jpg are two files.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.pictures import is_outside, pictures
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity
from repslate.source.mapping import nearest

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield pictures inside the folder that are not among its files."""
    for picture in pictures(facts):
        if is_outside(picture.path) or picture.path.removeprefix("./") in facts.files:
            continue
        close = nearest(picture.path.replace("\\", "/"), sorted(facts.files))
        mend = f"did you mean {close}?" if close else f"put the file there, or take the line with {picture.path} out"
        message = f"the folder has no picture “{picture.path}”, expected the file that the text names"
        yield Finding("picture-missing", SEVERITY, picture.span, message, mend)
