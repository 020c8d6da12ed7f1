"""What is wrong with an edit, collected while it is read."""

from __future__ import annotations

from repslate.source.finding import Finding, Severity
from repslate.source.span import Span


class Trouble:
    """What is wrong with one file: errors as they come, and each irregular habit once, at its first line."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._errors: dict[Finding, None] = {}
        self._habits: dict[str, tuple[Severity, list[int], str]] = {}

    def span(self, line: int, text: str = "") -> Span:
        """Return the span of a whole line."""
        return Span(self._file, line, 1, max(1, len(text)))

    def error(self, line: int, message: str, help_: str, because: str = "") -> None:
        """Note what could not be read."""
        self.add(Finding("edit-unreadable", Severity.ERROR, self.span(line), message, help_, because))

    def add(self, finding: Finding) -> None:
        """Note a finding that is made elsewhere, once."""
        self._errors[finding] = None

    def habit(self, line: int, message: str, help_: str, *, harmless: bool = False) -> None:
        """Note what is irregular and was read all the same; `harmless` is what cannot mean anything else."""
        severity = Severity.NOTE if harmless else Severity.WARNING
        self._habits.setdefault(message, (severity, [], help_))[1].append(line)

    def findings(self) -> tuple[Finding, ...]:
        """Return everything, in the order of the lines."""
        found = list(self._errors)
        for message, (severity, lines, help_) in self._habits.items():
            more = f" (and on {len(lines) - 1} more lines)" if len(lines) > 1 else ""
            found.append(Finding("edit-irregular", severity, self.span(lines[0]), message + more, help_))
        return tuple(sorted(found, key=lambda finding: finding.span))
