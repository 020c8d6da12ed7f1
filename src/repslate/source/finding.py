"""What repslate has to say about a source: data, never an exception, so that one run can show everything."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from repslate.source.span import Span


class Severity(StrEnum):
    """How bad: an error stops publishing, a warning asks for a look, a note only informs."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class About:
    """What a finding speaks of, for programs that read it: names as the source has them, None where it is about none.

    `field` is the kind of figure ("reps", "rest_s"), `time` a second of the cut.
    """

    exercise: str | None = None
    block: str | None = None
    field: str | None = None
    time: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding.

    `message` says what was found and what was expected, `help` how to fix it, `because` whose figure it rests on.
    `check` is the name that `repslate explain` takes. Messages are one sentence, lower case, no full stop. `about` is
    what programs are told besides.
    """

    check: str
    severity: Severity
    span: Span
    message: str
    help: str = ""
    because: str = ""
    about: About = About()


def has_error(findings: Iterable[Finding]) -> bool:
    """Tell whether any finding is an error."""
    return any(finding.severity is Severity.ERROR for finding in findings)
