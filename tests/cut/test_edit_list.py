"""CMX 3600 edit lists. Each case file says itself what it holds, in comment lines that every reader passes over."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import zip_longest
from pathlib import Path

import opentimelineio as otio
import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.edit import Edit, places, timecode
from repslate.cut.formats.cut_edl import read as read_edit_list
from repslate.cut.formats.markers_edl import read as read_source_markers
from repslate.cut.timecode import RATES, Rate, read_timecode, to_seconds, write_timecode
from repslate.source.finding import Finding, Severity

CASES = Path(__file__).parents[1] / "cases/edits"
SOURCE_MARKERS = "source-markers"


def said(text: str, word: str) -> list[list[str]]:
    return [found.split(" | ") for found in re.findall(rf"^\* {word}: (.*)$", text, re.MULTILINE)]


def seconds(label: str, rate: Rate) -> Fraction:
    frames = read_timecode(label, rate)
    assert isinstance(frames, int), frames
    return to_seconds(frames, rate)


def compare_findings(text: str, findings: tuple[Finding, ...]) -> None:
    """Compare every finding, in the order of lines, with the case's "error: line | part of the message"."""
    got = sorted((finding.span.line, finding.severity, finding.message) for finding in findings)
    wanted = sorted((int(line), Severity(word), part) for word in Severity for line, part in said(text, word))
    pairs = zip_longest(got, wanted, fillvalue=(0, Severity.ERROR, ""))
    unlike = [(one, two) for one, two in pairs if one[:2] != two[:2] or two[2] not in one[2]]
    assert unlike == []
    assert all(finding.help for finding in findings)


def compare_edit(text: str, edit: Edit) -> None:
    assert edit.rate
    for (label,) in said(text, "start"):
        assert timecode(edit.start, edit.rate) == label
    for (lengths,) in said(text, "lengths"):
        assert [(p.cut_end - p.cut_start) * edit.rate.exact for p in edit.pieces] == list(map(int, lengths.split()))
    for (clips,) in said(text, "clips"):
        assert [piece.clip for piece in edit.pieces] == clips.split()
    for where, *wanted in said(text, "place"):
        source, label = where.rsplit(" ", 1)
        found = places(edit, source, seconds(label, edit.rate))
        expected = [(Fraction(at), note) for at, _, note in (one.partition(" ") for one in wanted)]
        assert [(place.cut_time, place.note) for place in found] == expected, where
    assert [(m.time, m.name, m.in_cut) for m in edit.markers] == [
        (Fraction(time), name, True) for time, name in said(text, "marker")
    ]


@pytest.mark.parametrize("case", sorted(CASES.glob("*.edl")), ids=lambda path: path.stem)
def test_case(case: Path) -> None:
    text = case.read_text("utf-8")
    ((rate,),) = said(text, "rate")
    if case.stem == SOURCE_MARKERS:
        markers, findings = read_source_markers(text, case.name, RATES[rate])
        assert [(f"{m.source} {m.time}", m.name, m.in_cut) for m in markers] == [
            (time, name, False) for time, name in said(text, "marker")
        ]
    else:
        edit, findings = read_edit_list(text, case.name, RATES[rate])
        compare_edit(text, edit)
    compare_findings(text, findings)


SHAPES = [line.strip().split(" ", 1) for line in (CASES / "event-shapes.txt").read_text("utf-8").splitlines()]


@pytest.mark.parametrize("shape", [line for count, line in SHAPES if count != "#"])
def test_every_layout_of_the_sample_lists_is_an_event(shape: str) -> None:
    _, findings = read_edit_list(f"TITLE: A\nFCM: NON-DROP FRAME\n{shape}\n", "a.edl", RATES["24"])
    assert not any("expected an event (" in finding.message for finding in findings)


def test_the_layouts_are_those_of_all_lines() -> None:
    assert sum(int(count) for count, _ in SHAPES if count.isdigit()) == 636


# ---- the frame rate, which a list does not say

CUT = "{number:03}  CAM{reel}     V     C        {si} {so} {ri} {ro}"
ONE = "001  A        V     C        00:00:00:00 00:00:10:00 01:00:00:00 01:00:10:00\n"


@pytest.mark.parametrize(
    ("text", "rate", "read", "found"),
    [
        ("FCM: NON-DROP FRAME\n", None, None, Severity.ERROR),
        ("", None, None, Severity.ERROR),
        ("FCM: DROP FRAME\n", None, "29.97 drop", Severity.WARNING),
        ("FCM: DROP FRAME\n", "29.97", "29.97 drop", None),
        ("FCM: DROP FRAME\n", "59.94", "59.94 drop", None),
        ("FCM: NON-DROP FRAME\n", "29.97 drop", "29.97", None),
        ("FCM: NON-DROP FRAME\n", "23.976", "23.976", None),
    ],
)
def test_the_rate_is_given_or_told(text: str, rate: str | None, read: str | None, found: Severity | None) -> None:
    edit, findings = read_edit_list(f"TITLE: A\n{text}{ONE}", "a.edl", RATES[rate] if rate else None)
    assert edit.rate == (RATES[read] if read else None)
    assert len(edit.pieces) == (1 if read else 0)
    assert [(finding.check, finding.severity) for finding in findings] == ([("edit-rate", found)] if found else [])


def test_drop_frame_at_another_rate_is_told() -> None:
    edit, findings = read_edit_list(f"TITLE: A\nFCM: DROP FRAME\n{ONE}", "a.edl", RATES["25"])
    assert edit.pieces
    assert [finding.severity for finding in findings] == [Severity.WARNING]


def test_line_ends_and_byte_order_mark_change_nothing() -> None:
    text = (CASES / "transitions.edl").read_text("utf-8")
    plain = read_edit_list(text, "a.edl", RATES["25"])
    assert read_edit_list("\ufeff" + text.replace("\n", "\r\n"), "a.edl", RATES["25"]) == plain


def test_a_list_without_picture_is_told() -> None:
    sound = ONE.replace("V     C", "AA    C")
    _, findings = read_edit_list(f"TITLE: A\nFCM: NON-DROP FRAME\n{sound}", "a.edl", RATES["25"])
    assert "found no event with picture, expected at least one" in findings[0].message


# ---- against the public adapter, on plain cuts: the part that it reads right


@given(
    st.sampled_from(["24", "25", "30"]),
    st.lists(st.tuples(st.integers(0, 2_000_000), st.integers(1, 5000), st.integers(1, 3)), min_size=1, max_size=12),
)
def test_plain_cuts_read_as_the_adapter_reads_them(name: str, cuts: list[tuple[int, int, int]]) -> None:
    rate = RATES[name]
    at, lines = 3600 * rate.nominal, ["TITLE: PLAIN", "FCM: NON-DROP FRAME"]
    for number, (source, length, reel) in enumerate(cuts, 1):
        si, so, ri, ro = (write_timecode(frames, rate) for frames in (source, source + length, at, at + length))
        lines.append(CUT.format(number=number, reel=reel, si=si, so=so, ri=ri, ro=ro))
        at += length
    text = "\n".join(lines) + "\n"
    edit, findings = read_edit_list(text, "a.edl", rate)
    assert not findings
    timeline = otio.adapters.read_from_string(text, "cmx_3600", rate=rate.nominal)
    (track,) = timeline.video_tracks()
    theirs = [(clip.source_range, track.range_of_child(clip)) for clip in track]
    for piece, (source_range, place) in zip(edit.pieces, theirs, strict=True):
        assert piece.source_start * rate.nominal == source_range.start_time.value
        assert piece.source_end * rate.nominal == source_range.end_time_exclusive().value
        assert piece.cut_start * rate.nominal == place.start_time.value


# ---- whatever the text

WORDS = [
    *"001 002 A BL V B AA C D W001 K 024 TITLE: M2 048.0 -024.0 000.0 * LOC: RED FCM: DROP NON-DROP FRAME".split(),
    *"00:00:00:00 00:00:10:00 23:59:59:23 01:00:00;02 00:00:99:00 12 99999999".split(),
    *"FROM CLIP NAME: TO COMMENT: (48 FPS) FF".split(),
    "\n",
    "\t",
    "\n001  A  V  C        00:00:00:00 00:00:10:00 01:00:00:00 01:00:10:00\n",
    "\n002  A  V  D  024   00:00:10:00 00:00:00:00 01:00:10:00 01:00:30:00\n",
]
TEXTS = st.text() | st.lists(st.sampled_from(WORDS), max_size=40).map(" ".join)


@given(TEXTS, st.none() | st.sampled_from(list(RATES.values())))
def test_nothing_crashes_and_every_finding_has_its_line(text: str, rate: Rate | None) -> None:
    last = len(re.split(r"\r\n|\n|\r", text))
    edit, findings = read_edit_list(text, "a.edl", rate)
    markers, more = read_source_markers(text, "a.edl", rate)
    assert edit.pieces or findings
    spans = [finding.span for finding in (*findings, *more)] + [marker.span for marker in (*edit.markers, *markers)]
    for span in [*spans, *(piece.span for piece in edit.pieces)]:
        assert 1 <= span.line <= last
    for piece in edit.pieces:
        assert 0 <= piece.cut_start <= piece.cut_end
        assert all(place.cut_time >= 0 for place in places(edit, piece.source, piece.source_start))
    assert all(marker.time >= 0 and marker.name for marker in edit.markers)


@given(st.integers(0, 50_000), st.sampled_from(["25", "29.97 drop"]))
def test_a_marker_comes_back_through_the_edit(frame: int, name: str) -> None:
    """The inverse: what the cut shows at a time is found at that time, whichever piece shows it."""
    rate = RATES[name]
    text = (CASES / "worked.edl").read_text("utf-8").replace("NON-DROP", "DROP" if rate.drop else "NON-DROP")
    edit, _ = read_edit_list(text, "worked.edl", rate)
    shown = [place for place in places(edit, "CAM1", to_seconds(frame, rate)) if place.note == ""]
    for place in shown:
        assert place.piece.source_start + (place.cut_time - place.piece.cut_start) == to_seconds(frame, rate)


def test_a_large_list_is_read_in_good_time() -> None:
    text = "TITLE: A\nFCM: NON-DROP FRAME\n" + ONE * 5000 + "0 " * 100_000
    edit, findings = read_edit_list(text, "a.edl", RATES["25"])
    assert len(edit.pieces) == 5000
    assert any(finding.severity is Severity.ERROR for finding in findings)
