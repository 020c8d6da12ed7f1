"""Text that thanks or names a sponsor goes with a sponsor in the front matter.

Why: the disclosure is printed only where the front matter names a sponsor; a thank-you in the text is not clear
    enough.
Source: 16 CFR §255.5(a); FTC, Disclosures 101 for Social Media Influencers, 2019: thanks alone do not disclose.
Wrong:
    Thanks to our friends at Velloway Chalk for the dry hands.

    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    Thanks to the band the top half gets harder.

    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Fix: write sponsor: and the name in the front matter, or take the thanks out if nobody paid, gave or lent anything.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.checks.shared import Text, quoted, texts
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_SPEAKS = re.compile(
    r"\b(?:[Tt]hanks|[Tt]hank\s+you)\s+to\s+(?:our\s+(?:friends|sponsors?|partners?|supporters?)\b|[A-Z]\w+)"
    r"|\b(?:[Ss]ponsored\s+by|[Ss]upported\s+by|[Pp]aid\s+(?:for\s+by|partnership)|[Oo]ur\s+sponsors?)\b"
    r"|\b(?:[Pp]aid\s+for|[Mm]ade\s+possible\s+by)\s+(?:this|the|today's|these)\s+(?:episode|video|workout|class|series)\b"
    r"|\b(?:[Ii]n\s+partnership\s+with|[Gg]ifted\s+by|(?:sent|lent)\s+(?:us|me)\s+(?:the|this|these|a)\b)"
    r"|\b(?:[Aa]n?\s+ad|[Aa]dvert|[Aa]dvertisement)\s+for\b|\b(?:[Dd]iscount|[Pp]romo)\s+code\b|#(?:ad|sponsored)\b"
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each place that speaks of a sponsor while the front matter names none."""
    episode = facts.episode
    if episode.sponsor:
        return
    tagged = episode.places.get("hashtags", episode.span)
    hashtags = (Text(f"#{hashtag.removeprefix('#')}", tagged) for hashtag in episode.hashtags)
    for text in (*texts(episode), *hashtags):
        for match in _SPEAKS.finditer(text.words):
            yield Finding(
                "sponsor-hidden",
                SEVERITY,
                text.at(match),
                f"the text says {quoted(match)} but the front matter names no sponsor, "
                "expected a sponsor there or no such words",
                "write sponsor: and the name in the front matter; if nobody gave anything, take the words out",
                "16 CFR §255.5(a); FTC Disclosures 101, 2019",
            )
