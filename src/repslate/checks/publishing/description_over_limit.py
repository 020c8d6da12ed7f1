"""What must stand in the video's description fits the length that the host allows.

Why: a host cuts or refuses a text that is too long. repslate leaves out the exercises and the lead by itself, but never
    the disclosure, the title, the chapters, the notice and the address.
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
      description:
        profile: generic
        maximum: 300
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
      description: video-description
Fix: shorten the chapters' titles, or choose another description profile under host: in series.yaml.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import over_limit
from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.model.notice import CLOSING_DESCRIPTION, NOTICE_SHORT
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the one finding there can be."""
    chapters = "\n".join(f"{write_clock(chapter.start)} {chapter.title}" for chapter in facts.chapters)
    needed = (facts.episode.title, chapters, NOTICE_SHORT)
    found = over_limit(facts, facts.episode.series.host.description, needed, CLOSING_DESCRIPTION)
    if found:
        message = f"disclosure, title, chapters, notice and address of the description take {found}"
        help_ = "shorten the chapters' titles, or choose another description profile in series.yaml"
        yield Finding("description-over-limit", SEVERITY, facts.episode.span, message, help_)
