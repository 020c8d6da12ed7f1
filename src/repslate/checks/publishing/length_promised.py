"""What title and lead promise of the length is about what the plan takes.

Why: people choose a workout by its minutes; half of them stop where those are over.
Source: how a length is computed, see session-time; a promise up to 40 % under the shortest or 70 % over the longest
    estimate passes, for talk and demonstrations are in no plan (our choice).
Wrong:
    ---
    format: 1
    title: Strong legs in 50 minutes
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ---
    format: 1
    title: Strong legs in 6 minutes
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Fix: correct the minutes, or look for a slip in sets, rests and units of the plan.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.checks.shared import Text, introduction, quoted
from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.model.episode import Episode
from repslate.model.prose_figures import sentences
from repslate.model.quantity import NUMBER_WORD, read_count
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_MINUTES = re.compile(
    rf"(?i)(?<![\d–-])\b(\d{{1,3}}|{NUMBER_WORD})(?:\s+|-)(?:[A-Za-z]+\s+)?(?:minutes?|mins?)\b"
    r"(?!\s+(?:of\s+)?(?:rest|work|between|break|pause|each|per|a\s+side|into|easy|warm))"
)
_OF_ALL = re.compile(
    r"(?i)\b(?:takes?|done|finish\w*|lasts?|session|class|workout|in\s+all|altogether|from\s+(?:the\s+)?(?:first|start)"
    r"|comes?\s+to|only|just)\b"
)
_SHORTEST = 4  # minutes; a shorter time is of a part
_SHORTEST_IN_TEXT = 10
_LEAST, _MOST, _LATE = 0.6, 1.7, 1.2


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each length that is promised and far from the estimate, or that a chapter starts well behind."""
    if not any(block.exercises for block in facts.episode.blocks):
        return
    total = facts.numbers.time.total
    latest = max(facts.chapters, key=lambda chapter: chapter.start, default=None)
    for text, found, minutes in _promised(facts.episode):
        if not _LEAST * float(total.low) <= 60 * minutes <= _MOST * float(total.high):
            low, high = round(total.low / 60), round(total.high / 60)
            about = f"{low}" if low == high else f"{low}–{high}"
            yield Finding(
                "length-promised",
                SEVERITY,
                text.at(found),
                f"the text promises {quoted(found)} where the plan takes about {about} min, expected about the same",
                "correct the minutes, or look for a slip in sets, rests and units of the plan",
            )
        if latest is not None and latest.start > 60 * minutes * _LATE:
            yield Finding(
                "length-promised",
                SEVERITY,
                latest.span,
                f"“{latest.title}” starts at {write_clock(latest.start)} where the text promises {quoted(found)}, "
                "expected a start within that time",
                "correct the time of the chapter, or the minutes in the text",
            )


def _promised(episode: Episode) -> Iterator[tuple[Text, re.Match[str], int]]:
    """Yield the minutes that title, summary and lead promise of the whole workout, each with its text."""
    for number, text in enumerate(introduction(episode)):
        for sentence in sentences(text.words):
            if number and not _OF_ALL.search(sentence[0]):
                continue
            for found in _MINUTES.finditer(text.words, sentence.start(), sentence.end()):
                minutes = read_count(found[1])
                if minutes >= (_SHORTEST_IN_TEXT if number else _SHORTEST):
                    yield text, found, minutes
