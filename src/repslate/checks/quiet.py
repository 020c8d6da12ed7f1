"""What the trainer has silenced with "Quiet (check-name): reason"; applied last, so that nothing vanishes unseen."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace

from repslate.model.episode import Quiet
from repslate.source.finding import Finding, Severity

Quieted = tuple[Finding, str]


def quieten(
    found: Iterable[Finding], quiets: tuple[Quiet, ...], *, known: Collection[str], safety: Collection[str]
) -> tuple[list[Finding], list[Quieted]]:
    """Split findings into those that stay and those silenced (with the reason given).

    `known` are the names a quiet may silence, `safety` those that need a reason. A quiet that names no check or
    silences nothing is a finding itself.
    """
    kept: list[Finding] = []
    quieted: list[Quieted] = []
    used: set[Quiet] = set()
    for finding in found:
        quiet = next((quiet for quiet in quiets if covers(quiet, finding)), None)
        if quiet is None:
            kept.append(finding)
            continue
        used.add(quiet)
        if finding.check in safety and not quiet.reason.strip():
            help_text = f"write why it is safe here: Quiet ({finding.check}): reason"
            kept.append(replace(finding, help=f"{finding.help}; or {help_text}" if finding.help else help_text))
        else:
            quieted.append((finding, quiet.reason))
    kept.extend(_complaint(quiet, known) for quiet in quiets if quiet not in used)
    return kept, quieted


def covers(quiet: Quiet, finding: Finding) -> bool:
    """Tell whether the quiet was written for this finding."""
    here = finding.span.file == quiet.span.file and quiet.first <= finding.span.line <= quiet.last
    return here and finding.check == quiet.check


def _complaint(quiet: Quiet, known: Collection[str]) -> Finding:
    """Return what is wrong with a quiet that silenced nothing."""
    if quiet.check in known:
        return Finding(
            "quiet-unused",
            Severity.WARNING,
            quiet.span,
            f"{quiet.check} is quieted here but finds nothing in this part, expected a finding to silence",
            "take the line out, or move it under the heading of the exercise it is for",
        )
    return Finding(
        "quiet-unknown",
        Severity.WARNING,
        quiet.span,
        f"no check that can be quieted is called “{quiet.check}”, expected the name that stands beside the finding",
        "copy the name from the finding: Quiet (rest-missing): reason",
    )
