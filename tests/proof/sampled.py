"""A built sample as the audit's tests handle it: facts and bytes, no file."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from repslate.proof import audit_against
from repslate.proof.expected import Expected
from repslate.proof.published import BuiltTexts
from repslate.source.finding import Finding, Severity

NAMES = ("boathouse-kettlebells", "chair-session", "harbour-cut", "school-hall-circuit")


@dataclass(frozen=True)
class Sample:
    """A built sample: what is expected of it, and its files."""

    folder: Path
    expected: Expected
    files: dict[str, bytes]

    def text(self, file: str) -> str:
        return self.files[file].decode()

    @cached_property
    def texts(self) -> BuiltTexts:
        """Its texts, to compare others with."""
        return BuiltTexts(self.expected, self.files)

    def audit(self, file: str, text: str) -> list[Finding]:
        """Compare another text with that of a file, as is done after the build."""
        return self.texts.compare(file, text.encode())

    def told(self, file: str, text: str) -> list[Finding]:
        """Return what `audit` says of another text above a note."""
        return [one for one in self.audit(file, text) if one.severity is not Severity.NOTE]

    def read_back(self, file: str, text: str) -> tuple[Finding, ...]:
        """Hold another text of a file against the episode, as is done at the build."""
        return audit_against(self.expected, {file: text.encode()})

    def changed(self, file: str, old: str, new: str) -> tuple[Finding, ...]:
        """Read back one file with its first `old` turned into `new`."""
        text = self.text(file)
        assert old in text, f"{file} no longer has “{old}”"
        return self.read_back(file, text.replace(old, new, 1))
