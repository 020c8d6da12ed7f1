"""The page behind each finding: what a check asks, why, whose figure it is, a bad and a good example, how to mend.

A page is a docstring with fixed parts, so that what `explain` prints stands beside the code it explains.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from inspect import cleandoc

from repslate.source.finding import Severity

PARTS = ("Why", "Source", "Bad", "Good", "Mend")
_PART = re.compile(rf"^({'|'.join(PARTS)}):[ ]?(.*)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Page:
    """What `explain` says of one check; `bad` and `good` are source texts that the tests run.

    `severity` is the worst that the check gives. `safety` checks cannot be quieted without a reason.
    """

    name: str
    severity: Severity
    asks: str
    why: str
    source: str
    bad: str
    good: str
    mend: str
    safety: bool = False


def read_page(name: str, severity: Severity, text: str, *, safety: bool = False) -> Page:
    """Return the page written in `text`, a docstring with five parts; one that is missing is "" (tests forbid it)."""
    text = cleandoc(text)
    marks = list(_PART.finditer(text))
    ends = [mark.start() for mark in marks[1:]] + [len(text)]
    parts = {mark[1]: text[mark.start(2) : end] for mark, end in zip(marks, ends, strict=True)}
    asks = text[: marks[0].start()] if marks else text
    why, source, bad, good, mend = (parts.get(part, "") for part in PARTS)
    return Page(
        name,
        severity,
        _joined(asks),
        _joined(why),
        _joined(source),
        cleandoc(bad),
        cleandoc(good),
        _joined(mend),
        safety,
    )


def _joined(text: str) -> str:
    """Return a wrapped paragraph as one line."""
    return " ".join(text.split())
