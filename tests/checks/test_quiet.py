"""What a quiet silences, what it never silences, and what is said of one that silences nothing."""

from __future__ import annotations

import pytest

from repslate.checks.quiet import quieten
from repslate.model.episode import Quiet
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

KNOWN = {"rest-missing", "caution-missing"}
SAFETY = {"caution-missing"}


def finding(check: str, line: int, file: str = "workout.md") -> Finding:
    return Finding(check, Severity.WARNING, Span(file, line), "found this, expected that", "fix it")


def quiet(check: str, reason: str = "on purpose") -> Quiet:
    return Quiet(check, reason, Span("workout.md", 14), first=10, last=20)


def split(found: Finding, silence: Quiet) -> tuple[list[str], list[tuple[str, str]]]:
    kept, quieted = quieten([found], (silence,), known=KNOWN, safety=SAFETY)
    return [one.check for one in kept], [(one.check, reason) for one, reason in quieted]


@pytest.mark.parametrize("line", [10, 14, 20])
def test_silences_its_check_within_its_lines(line: int) -> None:
    assert split(finding("rest-missing", line), quiet("rest-missing")) == ([], [("rest-missing", "on purpose")])


@pytest.mark.parametrize("line", [9, 21])
def test_holds_only_within_its_lines(line: int) -> None:
    assert split(finding("rest-missing", line), quiet("rest-missing")) == (["rest-missing", "quiet-unused"], [])


def test_holds_only_in_its_file() -> None:
    elsewhere = finding("rest-missing", 12, file="chapters.txt")
    assert split(elsewhere, quiet("rest-missing")) == (["rest-missing", "quiet-unused"], [])


def test_silences_only_its_check() -> None:
    assert split(finding("rest-missing", 12), quiet("caution-missing")) == (["rest-missing", "quiet-unused"], [])


def test_unknown_name_is_told() -> None:
    assert split(finding("rest-missing", 12), quiet("rest-misssing")) == (["rest-missing", "quiet-unknown"], [])


def test_plain_check_is_silenced_without_a_reason_too() -> None:
    assert split(finding("rest-missing", 12), quiet("rest-missing", "")) == ([], [("rest-missing", "")])


def test_safety_check_with_a_reason_is_silenced() -> None:
    assert split(finding("caution-missing", 12), quiet("caution-missing"))[0] == []


def test_safety_check_without_a_reason_stays_and_says_how() -> None:
    kept, quieted = quieten(
        [finding("caution-missing", 12)], (quiet("caution-missing", " "),), known=KNOWN, safety=SAFETY
    )
    assert [one.check for one in kept] == ["caution-missing"]
    assert "Quiet (caution-missing): reason" in kept[0].help
    assert quieted == []


def test_one_quiet_silences_several_findings() -> None:
    _, quieted = quieten(
        [finding("rest-missing", 11), finding("rest-missing", 12)], (quiet("rest-missing"),), known=KNOWN, safety=SAFETY
    )
    assert len(quieted) == 2
