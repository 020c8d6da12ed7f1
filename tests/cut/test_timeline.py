"""OpenTimelineIO: the case file says in its metadata what it holds; other timelines are made by the library."""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from opentimelineio import schema
from opentimelineio.opentime import RationalTime, TimeRange

from repslate.cut.edit import Edit, places
from repslate.cut.formats.cut_otio import read as read_timeline
from repslate.cut.source_markers import from_source
from repslate.cut.timecode import RATES
from repslate.source.finding import Finding, Severity

CASE = Path(__file__).parents[1] / "cases/edits/markers.otio"


def shown(edit: Edit) -> list[str]:
    lines = []
    for p in edit.pieces:
        lines.append(f"{p.source} {p.source_start}..{p.source_end} at {p.cut_start}..{p.cut_end} speed {p.speed}")
    return lines


def read(timeline: Any) -> tuple[Edit, tuple[Finding, ...]]:
    edit, findings = read_timeline(timeline.to_json_string(), "cut.otio")
    assert edit is not None, findings
    return edit, findings


def span(start: float, length: float, rate: float = 25) -> TimeRange:
    return TimeRange(RationalTime(start, rate), RationalTime(length, rate))


def clip(name: str, start: float, length: float, rate: float = 25, speed: float | None = None) -> Any:
    found = schema.Clip(name, schema.ExternalReference(target_url=f"{name}.mov"), span(start, length, rate))
    if speed is not None:
        found.effects.append(schema.FreezeFrame() if speed == 0 else schema.LinearTimeWarp(time_scalar=speed))
    return found


def timeline(*children: Any) -> Any:
    found = schema.Timeline()
    track = schema.Track(kind="Video")
    track.extend(children)
    found.tracks.append(track)
    return found


def test_case() -> None:  # the library itself says 77.0 s for Push-up and 190.0 s for Row, which is cut away
    text = CASE.read_text("utf-8")
    expects = json.loads(text)["metadata"]["expects"]
    edit, findings = read_timeline(text, "markers.otio")
    assert edit
    assert not findings
    assert str(edit.start) == expects["start"]
    assert edit.rate == RATES["25"]
    assert shown(edit) == expects["pieces"]
    for line in expects["places"]:
        where, *wanted = line.split(" | ")
        source, time = where.split()
        found = places(edit, source, Fraction(time))
        assert [f"{float(place.cut_time):g} {place.note}".strip() for place in found] == wanted, where
    got = [f"{'cut' if m.in_cut else f'footage {m.source}'} {m.time} | {m.name}" for m in edit.markers]
    assert sorted(got) == sorted(expects["markers"])
    lines = text.splitlines()
    for place in [*(marker.span for marker in edit.markers), *(piece.span for piece in edit.pieces)]:
        assert lines[place.line - 1].strip().endswith("{"), "the line on which the object begins"
    chapters, remarks = from_source(edit, edit.markers)
    assert [f"{float(chapter.time):g} | {chapter.title}" for chapter in chapters] == expects["chapters"]
    for finding, wanted in zip(remarks, expects["findings"], strict=True):
        name, part = wanted.split(" | ")
        assert f"{finding.check} {finding.severity}" == name
        assert part in finding.message


def test_a_dissolve_takes_no_time_of_its_own() -> None:
    dissolve = schema.Transition(
        transition_type="SMPTE_Dissolve", in_offset=RationalTime(10, 25), out_offset=RationalTime(15, 25)
    )
    edit, findings = read(timeline(clip("A", 0, 250), dissolve, clip("B", 1000, 250)))
    assert not findings
    assert shown(edit) == ["A.mov 0..10 at 0..10 speed 1", "B.mov 40..50 at 10..20 speed 1"]
    under = [("A", 239), ("A", 240), ("A", 264), ("A", 265), ("B", 989), ("B", 990), ("B", 1014), ("B", 1015)]
    found = [(name, frame, places(edit, name, Fraction(frame, 25))) for name, frame in under]
    assert [(name, frame, *((str(p.cut_time), p.note) for p in got)) for name, frame, got in found] == [
        ("A", 239, ("239/25", "")),
        ("A", 240, ("48/5", "under a transition")),
        ("A", 264, ("264/25", "under a transition")),
        ("A", 265),
        ("B", 989),
        ("B", 990, ("48/5", "under a transition")),
        ("B", 1014, ("264/25", "under a transition")),
        ("B", 1015, ("53/5", "")),
    ]


@pytest.mark.parametrize(
    ("speed", "source_end", "where", "at", "note"),
    [
        (1.0, "40", 1000, ["10"], ""),
        (0.5, "35", 875, [], ""),
        (0.5, "35", 800, ["14"], "changed speed"),
        (1 / 3, "100/3", 775, ["13"], "changed speed"),
        (-1.0, "40", 750, ["499/25"], "check by eye"),
        (-2.0, "50", 1249, ["10"], "check by eye"),
        (0, "30", 750, ["10"], "changed speed"),
        (0, "30", 751, [], ""),
    ],
)
def test_a_change_of_speed(speed: float, source_end: str, where: int, at: Sequence[str], note: str) -> None:
    last = clip("B", 750, 250, speed=None if speed == 1 else speed)
    edit, _ = read(timeline(clip("A", 0, 250), last))
    assert edit.pieces[1].source_end == Fraction(source_end)
    assert edit.pieces[1].cut_end == 20
    found = places(edit, "B", Fraction(where, 25))
    if speed == 1:
        assert not found  # 1000 is the exclusive end
    else:
        assert [str(place.cut_time) for place in found] == at
        assert {place.note for place in found} <= {note}


def test_a_sequence_within_a_sequence_is_followed() -> None:
    inner = schema.Stack(name="inner")
    track = schema.Track(kind="Video")
    track.extend([clip("A", 0, 250), clip("B", 1000, 250)])
    track[1].markers.append(schema.Marker("Row", span(1100, 0)))
    inner.append(track)
    inner.source_range = span(125, 250)
    inner.markers.append(schema.Marker("Halfway", span(250, 0)))
    inner.markers.append(schema.Marker("Trimmed away", span(100, 0)))
    edit, findings = read(timeline(clip("C", 0, 50), inner))
    assert shown(edit) == [
        "C.mov 0..2 at 0..2 speed 1",
        "A.mov 5..10 at 2..7 speed 1",
        "B.mov 40..45 at 7..12 speed 1",
    ]
    assert [(m.name, m.time, m.in_cut) for m in edit.markers] == [
        ("Halfway", Fraction(7), True),
        ("Row", Fraction(44), False),
    ]
    assert [(f.check, f.severity) for f in findings] == [("edit-unreadable", Severity.ERROR)]
    assert "found “Trimmed away” outside the part of its track that is shown" in findings[0].message


def test_sound_and_what_is_switched_off_show_nothing() -> None:
    off = clip("B", 0, 250)
    off.enabled = False
    cut = timeline(clip("A", 0, 250), off, clip("C", 0, 250))
    sound = schema.Track(kind="Audio")
    sound.append(clip("MIC", 0, 750))
    sound[0].markers.append(schema.Marker("Row", span(100, 0)))
    cut.tracks.append(sound)
    edit, findings = read(cut)
    assert shown(edit) == ["A.mov 0..10 at 0..10 speed 1", "C.mov 0..10 at 20..30 speed 1"]
    assert [marker.source for marker in edit.markers] == ["MIC.mov"]
    assert [(f.check, f.severity) for f in findings] == [("edit-irregular", Severity.NOTE)]


def test_a_clip_cut_in_two_has_its_markers_once() -> None:
    halves = clip("A", 0, 250), clip("A", 500, 250)
    for half in halves:
        half.markers.extend([schema.Marker("Squat", span(100, 0)), schema.Marker("Row", span(600, 0))])
    edit, _ = read(timeline(*halves))
    chapters, findings = from_source(edit, edit.markers)
    assert [(chapter.title, chapter.time) for chapter in chapters] == [("Squat", Fraction(4)), ("Row", Fraction(14))]
    assert not findings


def test_a_clip_shows_all_its_media_where_nothing_is_said() -> None:
    whole = schema.Clip("A", schema.ExternalReference("A.mov", span(90_000, 250)))
    lost = schema.Clip("B", schema.MissingReference())
    edit, findings = read(timeline(whole, lost, clip("C", 0, 25)))
    assert shown(edit)[0] == "A.mov 3600..3610 at 0..10 speed 1"
    assert shown(edit)[1] == "C.mov 0..1 at 10..11 speed 1"
    assert ["“B” with neither source nor media range" in finding.message for finding in findings] == [True]


def test_times_are_exact_at_rates_that_floats_only_near() -> None:
    for rate in (29.97, 30000 / 1001):
        edit, _ = read(timeline(clip("A", 0, 30_000, rate), clip("B", 0, 30_000, rate)))
        assert edit.rate == RATES["29.97"]
        assert edit.pieces[1].cut_start == 1001


NESTED = '{"OTIO_SCHEMA": "Timeline.1", "tracks": ' * 5000


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("", 1, "found text that is not JSON (expecting value), expected a timeline in JSON"),
        ('{\n"a": }', 2, "found text that is not JSON"),
        ("{}", 1, "found another object (AnyDictionary)"),
        ("null", 1, "found another object (NoneType)"),
        ('{"OTIO_SCHEMA": "Mystery.1"}', 1, "found another object (UnknownSchema)"),
        ('{"OTIO_SCHEMA": "Timeline.99"}', 1, "refuses, expected a timeline: unsupported schema version"),
        ('{"OTIO_SCHEMA": "Timeline.1"}', 1, "library of OTIO refuses"),
        ('{"OTIO_SCHEMA": "Timeline.1", "tracks": null}', 1, "found another object"),
        (NESTED, 1, "found 5000 brackets within each other, expected at most 100"),
        ("9" * 5000, 1, "thousands of digits"),
        ('[\n{"OTIO_SCHEMA": "RationalTime.1", "rate": 0, "value": 1}]', 2, "found 1 at 0 a second"),
        ('[\n{"OTIO_SCHEMA": "RationalTime.1", "rate": 25, "value": NaN}]', 2, "found nan at 25 a second"),
        ('[\n{"OTIO_SCHEMA": "RationalTime.1", "rate": 25, "value": 1e300}]', 2, "found 1e+300"),
        (
            '[{\n"duration":\n{"OTIO_SCHEMA": "RationalTime.1", "rate": 25, "value": -1}}]',
            3,
            "found a length of -1, expected 0 or more",
        ),
        # Objects in the wrong place, with which the library (0.18.1) ends the whole program: it must not see them.
        (
            '[\n{"OTIO_SCHEMA": "Clip.2", "media_references": {"OTIO_SCHEMA": "Clip.2"}}]',
            2,
            "found Clip in “media_references”, expected ExternalReference or",
        ),
        ('{"OTIO_SCHEMA": "Clip.1", "media_references": {}}', 1, "found “media_references” in Clip.1, expected none"),
        ('{"OTIO_SCHEMA": "Stack.1",\n"children": [null]}', 1, "found NoneType in “children”, expected Clip or"),
        (
            '[\n\n{"OTIO_SCHEMA": "LinearTimeWarp.1", "time_scalar": Infinity}]',
            3,
            "found a speed of inf times, expected at most 1000",
        ),
    ],
)
def test_what_is_no_timeline_is_refused_with_its_line(text: str, line: int, message: str) -> None:
    edit, findings = read_timeline(text, "cut.otio")
    assert edit is None
    assert (findings[0].check, findings[0].span.line) == ("edit-unreadable", line)
    assert message in findings[0].message
    assert findings[0].help


SCHEMAS = (
    "Timeline.1 Stack.1 Track.1 Clip.2 Clip.1 Gap.1 Transition.1 Marker.2 LinearTimeWarp.1 FreezeFrame.1 X.1".split()
)
FIGURES = st.integers(-9, 9) | st.floats() | st.sampled_from([0.5, 25, 29.97, 10**400])
TIMES = st.fixed_dictionaries({"OTIO_SCHEMA": st.just("RationalTime.1"), "value": FIGURES, "rate": FIGURES})
RANGES = st.fixed_dictionaries({"OTIO_SCHEMA": st.just("TimeRange.1"), "start_time": TIMES, "duration": TIMES})
OBJECTS = st.recursive(
    st.none() | st.text(max_size=3) | FIGURES | TIMES | RANGES,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.fixed_dictionaries(
            {"OTIO_SCHEMA": st.sampled_from(SCHEMAS)},
            optional={
                **dict.fromkeys("name kind tracks media_reference media_references".split(), inner),
                **dict.fromkeys("children markers effects".split(), st.lists(inner, max_size=3)),
                **dict.fromkeys("source_range marked_range".split(), RANGES | inner),
                **dict.fromkeys("in_offset out_offset global_start_time".split(), TIMES),
                "time_scalar": FIGURES,
            },
        )
    ),
    max_leaves=12,
)


@given(st.text() | OBJECTS.map(lambda tracks: json.dumps({"OTIO_SCHEMA": "Timeline.1", "tracks": tracks}, indent=1)))
def test_nothing_crashes(text: str) -> None:
    edit, findings = read_timeline(text, "cut.otio")
    assert edit is not None or findings
    assert all(1 <= finding.span.line <= len(text.split("\n")) for finding in findings)


@given(st.data())
def test_a_timeline_with_something_else_in_it_is_read_or_refused(data: st.DataObject) -> None:
    """Fuzzing of a whole timeline: some value of the case file becomes another one."""
    value = json.loads(CASE.read_text("utf-8"))
    places_: list[tuple[Any, Any]] = []

    def collect(one: Any) -> None:
        for key, inner in one.items() if isinstance(one, dict) else enumerate(one) if isinstance(one, list) else ():
            places_.append((one, key))
            collect(inner)

    collect(value["tracks"])
    holder, key = data.draw(st.sampled_from(places_))
    holder[key] = data.draw(OBJECTS | st.sampled_from(SCHEMAS))
    edit, findings = read_timeline(json.dumps(value), "cut.otio")
    assert edit is not None or findings
    if edit:
        chapters, _ = from_source(edit, edit.markers)
        assert all(chapter.time >= 0 for chapter in chapters)


@given(st.lists(st.tuples(st.integers(0, 9000), st.integers(1, 5000)), min_size=1, max_size=8))
def test_plain_cuts_read_as_the_library_reads_them(cuts: list[tuple[int, int]]) -> None:
    cut = timeline(*(clip(f"C{number}", start, length) for number, (start, length) in enumerate(cuts)))
    edit, findings = read(cut)
    assert not findings
    theirs = [cut.tracks[0].range_of_child(one) for one in cut.tracks[0]]
    assert [piece.cut_start * 25 for piece in edit.pieces] == [one.start_time.value for one in theirs]
