"""Markers laid while filming to chapters of the cut: what is told of each, and the time that is proposed."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.edit import Edit, EditMarker, Piece, Transition
from repslate.cut.formats.cut_edl import read as read_edit_list
from repslate.cut.markers import Marker
from repslate.cut.source_markers import from_source
from repslate.cut.timecode import RATES, read_timecode, to_seconds
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

CASES = Path(__file__).parents[1] / "cases/edits"
HERE = Span("markers.edl", 7)


def edit_of(case: str, rate: str) -> Edit:
    edit, _ = read_edit_list((CASES / f"{case}.edl").read_text("utf-8"), f"{case}.edl", RATES[rate])
    return edit


def laid(edit: Edit, name: str, label: str, source: str) -> tuple[Marker | None, tuple[Finding, ...]]:
    assert edit.rate
    frames = read_timecode(label, edit.rate)
    assert isinstance(frames, int)
    marker = EditMarker(name, to_seconds(frames, edit.rate), False, source, HERE)
    chapters, findings = from_source(edit, [marker])
    assert all(finding.span == HERE for finding in findings)
    return (chapters[0] if chapters else None), findings


@pytest.mark.parametrize(
    ("case", "rate", "at", "time", "check", "severity", "message", "help_"),
    [
        ("worked", "25", "CAM1 00:02:10:00", "70", "", "", "", ""),
        (
            *("worked", "25", "CAM1 00:01:30:00", None, "marker-removed", "warning"),
            "found “Row” (00:01:30:00 of CAM1) removed, expected it in the cut",
            "the next footage kept begins 30 s later: if it shows the same, move the marker to 00:02:00:00 of CAM1",
        ),
        (
            *("worked", "25", "CAM1 00:07:00:00", None, "marker-removed", "warning"),
            "found “Row” (00:07:00:00 of CAM1) removed, expected it in the cut",
            "the last kept before ends at 3:30 in the cut",
        ),
        (
            *("worked", "25", "CAM1 00:00:30:00", "20", "marker-reused", "warning"),
            "found “Row” (00:00:30:00 of CAM1) 2 times in the cut, at 0:20, 3:30, expected it once",
            "the chapter is at 0:20; nothing to fix unless another time is meant",
        ),
        (
            *("worked", "25", "CAM1 00:05:30:00", "195", "marker-speed", "note"),
            "played at 2 times its speed, expected it at normal speed",
            "the chapter is at 3:15, the change of speed counted in",
        ),
        (
            *("speeds", "24", "C 00:00:13:23", "8", "marker-speed", "warning"),
            "of C) played backwards at 1 times its speed",
            "the chapter is at 0:08; look at the cut there",
        ),
        (
            *("speeds", "24", "D 00:00:10:00", "12", "marker-speed", "note"),
            "of D) as a still, expected it at normal speed",
            "the chapter is at 0:12",
        ),
        (
            *("transitions", "25", "CAM1 00:00:20:12", "11.48", "marker-under-transition", "warning"),
            "under a transition at 0:11.480, expected it to be seen whole",
            "the picture stands whole from 0:11.960: move the marker to 00:01:00:24 of CAM2",
        ),
        (
            *("worked", "25", "CAM2 00:00:30:00", None, "marker-source-unknown", "error"),
            "found “CAM2” for “Row”, expected footage that the edit uses (CAM1)",
            "did you mean CAM1",
        ),
        (
            *("worked", "25", "DRONE 00:00:30:00", None, "marker-source-unknown", "error"),
            "found “DRONE”",
            "name the footage as the edit does",
        ),
    ],
)
def test_what_is_told(
    case: str, rate: str, at: str, time: str | None, check: str, severity: str, message: str, help_: str
) -> None:
    source, label = at.split()
    chapter, findings = laid(edit_of(case, rate), "Row", label, source)
    assert (chapter.time if chapter else None) == (Fraction(time) if time else None)
    assert [(finding.check, finding.severity) for finding in findings] == (
        [(check, Severity(severity))] if check else []
    )
    for finding in findings:
        assert message in finding.message
        assert help_ in finding.help


def test_markers_come_in_the_order_of_the_cut_with_their_ids() -> None:
    edit = edit_of("worked", "25")
    markers = [
        EditMarker("Row {row}", Fraction(130), False, "CAM1", HERE),
        EditMarker("Welcome", Fraction(5), True, "", HERE),
        EditMarker("  ", Fraction(9), True, "", HERE),
        EditMarker("Anywhere", Fraction(65), False, "", HERE),
    ]
    chapters, findings = from_source(edit, markers)
    assert [(c.time, c.title, c.id) for c in chapters] == [
        (Fraction(5), "Welcome", None),
        (Fraction(55), "Anywhere", None),
        (Fraction(70), "Row", "row"),
    ]
    assert [finding.check for finding in findings] == ["marker-unreadable"]


def test_footage_seen_whole_counts_before_footage_under_a_transition() -> None:
    fade = Transition("dissolve", Fraction(10), Fraction(12), HERE)
    under = Piece("A", "", Fraction(0), Fraction(10), Fraction(0), Fraction(10), Fraction(1), HERE, None, outgoing=fade)
    whole = Piece("A", "", Fraction(5), Fraction(25), Fraction(30), Fraction(50), Fraction(1), HERE)
    chapters, findings = from_source(Edit((under, whole)), [EditMarker("Row", Fraction(11), False, "A", HERE)])
    assert [chapter.time for chapter in chapters] == [36]
    assert [finding.check for finding in findings] == ["marker-reused"]


@given(
    st.lists(st.tuples(st.text(max_size=9), st.fractions(0, 999), st.booleans(), st.sampled_from(["CAM1", "", "X"])))
)
def test_no_marker_is_lost(laid_: list[tuple[str, Fraction, bool, str]]) -> None:
    markers = [EditMarker(*one, Span("markers.edl", line)) for line, one in enumerate(laid_, 1)]
    chapters, findings = from_source(edit_of("worked", "25"), markers)
    told = {chapter.span.line for chapter in chapters} | {finding.span.line for finding in findings}
    assert told == {marker.span.line for marker in markers}
    assert [chapter.time for chapter in chapters] == sorted(chapter.time for chapter in chapters)
