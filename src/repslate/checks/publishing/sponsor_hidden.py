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

from repslate.facts import Facts
from repslate.model.episode import Episode, Prose, Words
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

SEVERITY = Severity.WARNING

_SPEAKS = re.compile(
    r"\b(?:[Tt]hanks|[Tt]hank\s+you)\s+to\s+(?:our\s+(?:friends|sponsors?|partners?|supporters?)\b|[A-Z]\w+)"
    r"|\b(?:[Ss]ponsored\s+by|[Ss]upported\s+by|[Pp]aid\s+(?:for\s+by|partnership)|[Oo]ur\s+sponsors?)\b"
    r"|\b(?:[Aa]n?\s+ad|[Aa]dvert|[Aa]dvertisement)\s+for\b|\b(?:[Dd]iscount|[Pp]romo)\s+code\b|#(?:ad|sponsored)\b"
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each place that speaks of a sponsor while the front matter names none."""
    if facts.episode.sponsor:
        return
    for text, span in _texts(facts.episode):
        for match in _SPEAKS.finditer(text):
            line = text.count("\n", 0, match.start())
            column = match.start() - text.rfind("\n", 0, match.start()) - 1
            place = Span(span.file, span.line + line, column + (span.column if line == 0 else 1), len(match[0]))
            yield Finding(
                "sponsor-hidden",
                SEVERITY,
                place,
                f"the text says “{' '.join(match[0].split())}” but the front matter names no sponsor, "
                "expected a sponsor there or no such words",
                "write sponsor: and the name in the front matter; if nobody gave anything, take the words out",
                "16 CFR §255.5(a); FTC Disclosures 101, 2019",
            )


def _texts(episode: Episode) -> Iterator[tuple[str, Span]]:
    """Yield every run of text that is published, with its place."""
    pieces: list[Prose | Words] = [*episode.lead, *episode.safety]
    for block in episode.blocks:
        pieces += block.prose
        for exercise in block.exercises:
            pieces += [*exercise.prose, *exercise.cues, *exercise.easier, *exercise.harder]
    for title, prose in episode.notes:
        pieces += [title, *prose]
    for piece in pieces:
        yield (piece.markdown if isinstance(piece, Prose) else piece.text), piece.span
    for hashtag in episode.hashtags:
        yield f"#{hashtag.removeprefix('#')}", episode.places.get("hashtags", episode.span)
