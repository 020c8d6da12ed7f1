"""What build.json says of the bytes: which files are as they were built, and which sources have changed since.

A changed file need not disagree, and an unchanged one can; so bytes are told apart from meaning.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from repslate.proof.verdict import Made, is_own
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

RECORD = "build.json"
TEMPLATES = "templates/"  # what the names of templates begin with among the inputs of a build


@dataclass(frozen=True, slots=True)
class Record:
    """The SHA-256 of each output by its name, and of each source by its path from the episode's folder.

    `omitted` is what templates of the user's left out of each output.
    """

    outputs: Mapping[str, str]
    inputs: Mapping[str, str]
    omitted: Mapping[str, Sequence[str]]

    def made(self, files: Mapping[str, str], sources: Mapping[str, str]) -> dict[str, Made]:
        """Say how each of the `files` came to be, by digests; the user's templates are not there to be compared."""
        known = {name for name in self.inputs if not name.startswith(TEMPLATES)}
        current = known == set(sources) and not changed(self.inputs, sources)
        altered = changed(self.outputs, files)
        return {
            name: Made(is_own(name, self.inputs), current and name not in altered, self.omitted.get(name, ()))
            for name in files
            if name in self.outputs
        }


def read_record(data: bytes | None) -> Record | None:
    """Read build.json; None where there is none, or none that can be read."""
    try:
        record = json.loads(data or b"")
    except (ValueError, RecursionError):  # the latter: brackets by the thousand
        return None
    outputs, inputs = (record.get(key) for key in ("outputs", "inputs")) if isinstance(record, dict) else (None, None)
    if not isinstance(outputs, dict) or not isinstance(inputs, dict):
        return None
    told = record.get("omitted")
    omitted = {name: keys for name, keys in told.items() if isinstance(keys, list)} if isinstance(told, dict) else {}
    return Record(outputs, inputs, {name: [str(key) for key in keys] for name, keys in omitted.items()})


def changed(recorded: Mapping[str, str], found: Mapping[str, str]) -> tuple[str, ...]:
    """Return the names of the files whose digests are not those of a record."""
    return tuple(name for name, digest in found.items() if name in recorded and digest != recorded[name])


def file_findings(
    record: Record | None,
    files: Collection[str],
    altered: Collection[str],
    found: Collection[Finding],
) -> Iterator[Finding]:
    """Yield what is to be said of whole files: gone, or changed by hand.

    Of a changed file that has findings of its own, as `found` in it, these say it.
    """
    told = {one.span.file for one in found}
    if record is None:
        text = (
            "there is no record of the build, expected build.json, which tells a changed file from one as it was built"
        )
        yield Finding("audit-changed", Severity.NOTE, Span(RECORD), text, "build again to have one")
        return
    for name in record.outputs:
        if name not in files:
            text = f"{name} was built and is not there any more, expected it beside the other files"
            yield Finding("audit-file-missing", Severity.ERROR, Span(name), text, "build again")
    for name in altered:
        if name not in told:
            text = "edited after the build and still says the same, expected the file as it was built"
            yield Finding("audit-changed", Severity.NOTE, Span(name), text)


def stale_finding(stale: Collection[str]) -> Finding:
    """Return that sources changed since the build: the reason for all that is found in files that nobody edited."""
    text = f"{' and '.join(stale)} changed after the build, expected what the files were built from"
    return Finding("audit-stale", Severity.WARNING, Span(RECORD), text, "build again, and publish the new files")
