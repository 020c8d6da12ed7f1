"""The title and the chapter titles are short enough to be shown whole.

Why: hosts and players cut long titles off, most often just before the word that matters.
Source: a video host's limit of 100 characters, from memory; lists cut earlier, at about 70 (a network's help page).
Wrong:
    ---
    format: 1
    title: The complete and honest guide to squatting, hinging and carrying two kettlebells in a boathouse by a river
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ---
    format: 1
    title: Squat, hinge and carry with two kettlebells
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Fix: shorten it to what the viewer gets; the rest belongs in the lead.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.facts import Facts
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

SEVERITY = Severity.WARNING

_MOST = 100  # characters; a video host's limit, from memory


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the title and the chapter titles over 100 characters."""
    episode = facts.episode
    yield from _judge("the title", episode.title, episode.places.get("title", episode.span))
    for chapter in facts.chapters:
        yield from _judge("the chapter title", chapter.title, chapter.span)


def _judge(what: str, title: str, span: Span) -> Iterator[Finding]:
    if len(title) > _MOST:
        message = f"{what} has {len(title)} characters, expected {_MOST} at most"
        yield Finding("title-long", SEVERITY, span, message, "shorten it; the rest belongs in the lead")
