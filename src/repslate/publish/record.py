"""build.json: what a build read, wrote and said, so that anyone can tell whether a file has changed since.

No clock, no machine, no absolute path: the same input gives the same bytes.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from importlib.metadata import version
from pathlib import Path

from repslate.publish.folder import RECORD, recorded
from repslate.source.finding import Finding
from repslate.source.places import is_file

FORMAT = 1  # of build.json; raise it when a field changes its meaning


@dataclass(frozen=True, slots=True)
class Said:
    """What a build said: its findings, those that were quieted with the reasons, and what templates leave out."""

    findings: Iterable[Finding]
    quieted: Iterable[tuple[Finding, str]]
    omitted: Mapping[str, Sequence[str]]


def digests(folder: Path, names: Iterable[str]) -> dict[str, str]:
    """Return name → SHA-256 of the files of `folder` that are there and can be read."""
    found = {name: _digest_of(folder / name) for name in names if is_file(folder / name)}
    return {name: digest for name, digest in found.items() if digest is not None}


def built_from(output: Path) -> str | None:
    """Return the name of the folder that the build in `output` was made from; None if there is none to read."""
    episode = recorded(output).get("episode")
    return None if episode is None else str(episode)


def with_record(
    episode: str,
    outputs: Mapping[str, bytes],
    inputs: Mapping[str, str],
    said: Said,
) -> dict[str, bytes]:
    """Return the outputs and the record of them, by name; `episode` is the name of the episode's folder."""
    record = {
        "format": FORMAT,
        "repslate": version("repslate"),
        "episode": episode,
        "inputs": dict(inputs),
        "outputs": {name: _digest(data) for name, data in outputs.items()},
        "findings": [fields(finding) for finding in said.findings],
        **({"omitted": dict(said.omitted)} if said.omitted else {}),
        "quieted": [{**fields(finding), "reason": reason} for finding, reason in said.quieted],
    }
    text = json.dumps(record, ensure_ascii=False, indent=2, sort_keys=True)
    # The place in a finding may be a name that is no UTF-8.
    return {**outputs, RECORD: (text + "\n").encode(errors="backslashreplace")}


def fields(finding: Finding) -> dict[str, str | int]:
    """Return a finding as flat fields: check, severity, file, line, column, length, message, help, because."""
    whole = asdict(finding)
    del whole["about"]  # the message says it
    return {"check": whole.pop("check"), "severity": whole.pop("severity").value, **whole.pop("span"), **whole}


def _digest_of(path: Path) -> str | None:
    """Read a file piece by piece: a film does not fit into memory."""
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return None


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
