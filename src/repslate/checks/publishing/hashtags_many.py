"""The post carries no more hashtags than the feed allows.

Why: some feeds drop every hashtag of a post that has too many; repslate leaves out the last ones, which may be the ones
    that were meant for this episode.
Source: the limits of the shipped profiles are from memory and therefore settings; hosts change them.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    hashtags: [strength, kettlebell, squat]
    host:
      caption:
        profile: photo-feed
        hashtags: 2
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    hashtags: [strength, kettlebell]
    host:
      caption:
        profile: photo-feed
        hashtags: 2
Fix: take hashtags out of series.yaml or of the front matter.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the one finding there can be."""
    episode, limit = facts.episode, facts.episode.series.host.caption.hashtags
    count = len(set(episode.series.hashtags) | set(episode.hashtags))
    if limit is not None and count > limit:
        message = f"there are {count} hashtags, expected at most {limit} ({episode.series.host.caption.name})"
        help_ = "take some out of hashtags: in series.yaml or in the front matter; the last ones are left out"
        yield Finding("hashtags-many", SEVERITY, episode.places.get("hashtags", episode.span), message, help_)
