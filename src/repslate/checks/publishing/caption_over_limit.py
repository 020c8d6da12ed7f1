"""What must stand in the caption fits the length that the feed allows.

Why: a feed cuts or refuses a text that is too long, and what it cuts is the end: the notice or the address. repslate
    leaves out blocks and hashtags by itself, but never the disclosure, the title, the notice and the address.
Source: the limits of the shipped profiles are from memory and therefore settings; hosts change them.
Wrong:
    ---
    format: 1
    title: Squat, hinge and carry
    goal: hypertrophy
    level: intermediate
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    host:
      caption:
        profile: generic
        maximum: 60
Right:
    ---
    format: 1
    title: Squat, hinge and carry
    goal: hypertrophy
    level: intermediate
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    series.yaml:
    host:
      caption: photo-feed
Fix: shorten the title or the disclosure, or choose another caption profile under host: in series.yaml.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import over_limit
from repslate.facts import Facts
from repslate.model.notice import CLOSING_CAPTION, NOTICE_CAPTION
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the one finding there can be."""
    found = over_limit(facts, facts.episode.series.host.caption, (facts.episode.title, NOTICE_CAPTION), CLOSING_CAPTION)
    if found:
        message = f"disclosure, title, notice and address of the caption take {found}"
        help_ = "shorten the title or the disclosure, or choose another caption profile in series.yaml"
        yield Finding("caption-over-limit", SEVERITY, facts.episode.span, message, help_)
