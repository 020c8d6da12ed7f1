"""Nobody runs, lifts or works at more than all of it.

Why: 180 for 80 per cent is one wrong key, and nobody knows what to do with it.
Source: common practice, no source. Lowering more than one can lift is written with a load, where load-impossible
    looks at it.
Wrong:
    ## Straight sets
    ### Sprint
    5 × 60 m, rest 90 s

    About 180 percent of your top speed, fast and easy.
Right:
    ## Straight sets
    ### Sprint
    5 × 60 m, rest 90 s

    About 80 percent of your top speed, fast and easy.
Fix: correct the figure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.checks.shared import quoted, texts
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_MORE = re.compile(
    r"(?i)\b(1\d[1-9]|1[1-9]0|[2-9]\d\d)\s*(?:%|per\s?cent)\s+of\s+(?:your\s+|the\s+|a\s+)?"
    r"(?:top|max\w*|full|best|all-out|highest|effort)"
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each share of a maximum above it."""
    for text in texts(facts.episode):
        for found in _MORE.finditer(text.words):
            yield Finding(
                "share-over-whole",
                SEVERITY,
                text.at(found),
                f"the text says {quoted(found)}, expected at most 100 %",
                "correct the figure",
            )
