"""The disclosure shows before the feed folds the caption.

Why: a disclosure behind "more" is one that many never see.
Source: FTC, Disclosures 101 for Social Media Influencers (2019), asks for a place before "more"; CAP Code rule 2.1 asks
    that marketing be recognisable at once. Where each feed folds is from memory, therefore a setting.
Wrong:
    ---
    format: 1
    title: Squat, hinge and carry
    goal: hypertrophy
    level: intermediate
    sponsor: Velloway Chalk
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    disclosure: "We are glad to have partners who care for training as much as we do, who read every plan before we film it, and who pay for it: advertisement by {sponsor}."
Right:
    ---
    format: 1
    title: Squat, hinge and carry
    goal: hypertrophy
    level: intermediate
    sponsor: Velloway Chalk
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    disclosure: "Advertisement: {sponsor} paid for this episode."
Fix: put the word advertisement first and keep the disclosure short.
"""  # noqa: E501 - the example must be one line

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.text_length import count
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the one finding there can be."""
    episode, profile = facts.episode, facts.episode.series.host.caption
    if episode.sponsor is None or profile.visible is None:
        return
    length = count(episode.series.disclosure.replace("{sponsor}", episode.sponsor), profile)
    if length > profile.visible:
        message = f"the disclosure takes {length} {profile.unit}, expected at most {profile.visible} ({profile.name})"
        help_ = "put the word advertisement first and shorten disclosure: in series.yaml"
        yield Finding("disclosure-folded", SEVERITY, episode.places.get("sponsor", episode.span), message, help_)
