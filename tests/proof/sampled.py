"""A built sample as the audit's tests handle it: facts and bytes, no file."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from repslate.proof import audit_against
from repslate.proof.expected import Expected
from repslate.source.finding import Finding

NAMES = ("boathouse-kettlebells", "chair-session", "harbour-cut", "school-hall-circuit")


@dataclass(frozen=True)
class Sample:
    """A built sample: what is expected of it, and its files."""

    folder: Path
    expected: Expected
    files: dict[str, bytes]

    def text(self, file: str) -> str:
        return self.files[file].decode()

    def audit(self, file: str, text: str) -> tuple[Finding, ...]:
        """Audit one file with another text."""
        return audit_against(self.expected, {file: text.encode()})

    def changed(self, file: str, old: str, new: str) -> tuple[Finding, ...]:
        """Audit one file with its first `old` turned into `new`."""
        text = self.text(file)
        assert old in text, f"{file} no longer has “{old}”"
        return self.audit(file, text.replace(old, new, 1))
