"""A sponsored episode says so in words that nobody can miss.

Why: a paid connection that viewers would not expect must be disclosed clearly, before they read on.
Source: 16 CFR §255.0(f) and §255.5(a); FTC, Disclosures 101 for Social Media Influencers, 2019: "ad", "advertisement"
    and "sponsored" are clear, "sp", "collab", "partner" and thanks are not; UK: CAP Code rule 2.1. Local rules may
    ask more.
Wrong:
    ---
    format: 1
    title: Squat, hinge and carry
    sponsor: Velloway Chalk
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    disclosure: "Advertisement: somebody paid for this episode."
Right:
    ---
    format: 1
    title: Squat, hinge and carry
    sponsor: Velloway Chalk
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    disclosure: "Advertisement: this episode is sponsored by {sponsor}."
Fix: write the disclosure in series.yaml with one of the clear words and {sponsor} where the name belongs.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.settings import is_clear_disclosure
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the disclosure of a sponsored episode that lacks a clear word or the sponsor's name."""
    episode = facts.episode
    if not episode.sponsor:
        return
    wanted = []
    if not is_clear_disclosure(episode.series.disclosure.replace("{sponsor}", "")):
        wanted.append('a word such as "advertisement" or "sponsored"')
    if "{sponsor}" not in episode.series.disclosure:
        wanted.append("{sponsor} where the name belongs")
    if wanted:
        yield Finding(
            "sponsor-undisclosed",
            SEVERITY,
            episode.places.get("sponsor", episode.span),
            f"the episode is sponsored but the disclosure reads “{episode.series.disclosure}”, "
            f"expected {' and '.join(wanted)}",
            'write in series.yaml: disclosure: "Advertisement: this episode is sponsored by {sponsor}."',
            "16 CFR §255.0(f), §255.5(a); FTC Disclosures 101, 2019; CAP Code rule 2.1",
        )
