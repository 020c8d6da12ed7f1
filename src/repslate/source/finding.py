"""What repslate has to say about a source: data, never an exception, so that one run can show everything."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from repslate.source.span import Span


class Severity(StrEnum):
    """How bad: an error stops publishing, a warning asks for a look, a note only informs."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding.

    `message` says what was found and what was expected, `help` how to mend it, `because` whose figure it rests on.
    `check` is the name that `repslate explain` takes. Messages are one sentence, lower case, no full stop.
    """

    check: str
    severity: Severity
    span: Span
    message: str
    help: str = ""
    because: str = ""
