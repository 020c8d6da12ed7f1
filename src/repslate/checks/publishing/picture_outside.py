"""A picture lies inside the episode's folder, not elsewhere on the computer or the web.

Why: what lies elsewhere is not there on the next computer, and a picture from the web is somebody else's.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](../stills/goblet-squat.jpg)
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ![Robin at the bottom of the squat](pictures/goblet-squat.jpg)
Fix: copy the picture into the folder pictures and write pictures/ and its name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.stills import Trouble, shown
from repslate.source.finding import Finding, Severity
from repslate.source.places import leads_out

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield pictures whose path leaves the folder, by its words or through a link."""
    for picture in shown(facts.episode):
        is_link = facts.spoilt.get(picture.path) is Trouble.LINK_OUT
        if is_link or leads_out(picture.path):
            name = re.split(r"[/\\:]", picture.path)[-1] or "squat.jpg"
            found = Trouble.LINK_OUT if is_link else "lies outside the episode's folder"
            yield Finding(
                "picture-outside",
                SEVERITY,
                picture.span,
                f"the picture “{picture.path}” {found}, expected a file inside it",
                f"put the picture itself in place of {picture.path}"
                if is_link
                else f"copy it into the folder and write pictures/{name}",
            )
