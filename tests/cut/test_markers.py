"""Chapter markers from text lists and WebVTT. Each case file says itself what it holds: "expect: seconds | title"."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.formats.chapters_txt import write as write_markers
from repslate.cut.markers import Marker, read_markers
from repslate.source.finding import Severity
from repslate.source.span import Span

CASES = sorted((Path(__file__).parents[1] / "cases/chapters/reading").iterdir())
HERE = Span("chapters.txt")


def expected(text: str, word: str) -> list[list[str]]:
    return [found.split(" | ") for found in re.findall(rf"^(?:# )?{word}: (.*)$", text, re.MULTILINE)]


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.name)
def test_case(case: Path) -> None:
    text = case.read_text("utf-8")
    markers, findings = read_markers(text, case.name)
    read = [[str(m.time), m.title, *([m.id] if m.id else [])] for m in markers]
    assert read == expected(text, "expect")
    said = [(f.span.line, f.message) for f in findings]
    wanted = [(int(line), message) for line, message in expected(text, "error")]
    assert [line for line, _ in said] == [line for line, _ in wanted], said
    assert [message for (_, whole), (_, message) in zip(said, wanted, strict=True) if message not in whole] == []
    assert {(f.check, f.severity) for f in findings} <= {("marker-unreadable", Severity.ERROR)}
    assert all(f.help for f in findings)


@pytest.mark.parametrize(
    ("text", "titles", "message"),
    [  # W3C WebVTT, file structure: signature, byte order mark, line ends
        ("webvtt\n\n00:00.000 --> 00:01.000\nA\n", [], "found “webvtt”, expected “WEBVTT” on the first line"),
        ("WEBVTTx\n\n00:00.000 --> 00:01.000\nA\n", [], "found “WEBVTTx”"),
        (" WEBVTT\n\n00:00.000 --> 00:01.000\nA\n", [], "found “ WEBVTT”"),
        ("", [], "found an empty line"),
        ("\ufeffWEBVTT\r\n\r\n00:00.000 --> 00:01.000\r\nA\r\n", ["A"], None),
        ("WEBVTT\r\r00:00.000 --> 00:01.000\rA", ["A"], None),
        ("WEBVTT\tsome words\n\n00:00.000 --> 00:01.000\nA", ["A"], None),
        ("WEBVTT\nKind: chapters\n\n00:00.000 --> 00:01.000\nA", ["A"], "expected an empty line after WEBVTT"),
        ("WEBVTT", [], None),
    ],
)
def test_webvtt_signature(text: str, titles: list[str], message: str | None) -> None:
    markers, findings = read_markers(text, "chapters.vtt")
    assert [marker.title for marker in markers] == titles
    assert message in findings[0].message if message else not findings


def test_a_stream_header_is_only_a_warning() -> None:
    text = "WEBVTT\nX-TIMESTAMP-MAP=LOCAL:00:00:00.000,MPEGTS:900000\n\n00:00.000 --> 00:01.000\nA\n"
    markers, findings = read_markers(text, "chapters.vtt")
    assert [(f.severity, f.span.line) for f in findings] == [(Severity.WARNING, 2)]
    assert [marker.time for marker in markers] == [0]  # and it moves nothing


def test_webvtt_hours_have_two_digits_or_more() -> None:  # W3C WebVTT, timestamp
    text = "WEBVTT\n\n59:59.999 --> 60:00:01.000\nA\n\n60:00:01.000 --> 100:00:00.000\nB\n"
    markers, findings = read_markers(text, "chapters.vtt")
    assert [marker.time for marker in markers] == [Fraction("3599.999"), 216_001]
    assert not findings


def test_any_other_file_is_refused() -> None:
    markers, findings = read_markers("0:00 Welcome", "chapters.doc")
    assert not markers
    assert "ending in “.doc”" in findings[0].message


def test_a_finding_points_at_what_it_speaks_of() -> None:
    text = "WEBVTT\n\n00:00.000 --> 00:01.000\nClean & press\n"
    assert read_markers(text, "a.vtt")[1][0].span == Span("a.vtt", 4, 7, 1)
    assert read_markers("# a\n  0:00 Welcome ", "a.txt")[0][0].span == Span("a.txt", 2, 3, 12)


TITLES = (
    st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=12)
    .flatmap(
        lambda word: st.lists(st.just(word) | st.sampled_from(["&", "<b>", "–", "{x}", "5:00", "#1"]), max_size=3).map(
            lambda more: " ".join([word, *more])
        )
    )
    .filter(lambda title: title[:1] not in "-–—" and not title.endswith("}"))
)
MARKERS = st.builds(
    Marker,
    st.integers(0, 10**8).map(lambda thousandths: Fraction(thousandths, 1000)),
    TITLES,
    st.none() | st.from_regex(r"[a-z0-9]+(-[a-z0-9]+)*", fullmatch=True).filter(lambda id_: len(id_) <= 200),
    st.just(HERE),
)


@given(st.lists(MARKERS))
def test_what_is_written_reads_the_same(markers: list[Marker]) -> None:
    read, findings = read_markers(write_markers(markers), "chapters.txt")
    assert not findings
    assert [(m.time, m.title, m.id) for m in read] == [(m.time, m.title, m.id) for m in markers]


def test_writes_one_form_and_rounds_down() -> None:
    marks = [Marker(Fraction(2, 3), "Welcome", None, HERE), Marker(Fraction(3600), "Squat", "squat", HERE)]
    assert write_markers(marks) == "0:00:00.666 Welcome\n1:00:00 Squat {squat}\n"


WORDS = "WEBVTT NOTE STYLE --> 00:01.000 9:60 1:00 &amp; &# ; <b> {a} {} ( ] # é"
PIECES = st.sampled_from([*WORDS.split(), "\n", "\n\n", "\r", "\0", " ", " --> "])


@given(st.text() | st.lists(PIECES, max_size=30).map("".join), st.sampled_from(["a.txt", "a.vtt", "a"]))
def test_nothing_crashes_and_every_finding_has_its_line(text: str, file: str) -> None:
    markers, findings = read_markers(text, file)
    lines = re.split(r"\r\n|\n|\r", text.removeprefix("\ufeff"))
    for span in [*(marker.span for marker in markers), *(finding.span for finding in findings)]:
        assert 1 <= span.line <= len(lines)
        assert span.column + span.length - 1 <= max(1, len(lines[span.line - 1]))
    assert all(marker.title == marker.title.strip() != "" for marker in markers)


@given(st.lists(PIECES.filter(lambda piece: piece.strip() != ""), min_size=1, max_size=8).map(" ".join))
def test_no_line_of_a_list_is_lost(line: str) -> None:
    line = line.replace("\0", "")
    markers, findings = read_markers(line, "chapters.txt")
    assert len(markers) + len(findings) == (0 if line.strip().startswith("#") or not line.strip() else 1)


def test_a_large_file_is_read_in_good_time() -> None:
    text = "WEBVTT\n\n" + "00:00.000 --> 00:01.000\n" * 20_000
    assert len(read_markers(text, "a.vtt")[1]) >= 20_000
    assert len(read_markers("0:00 " + " " * 500_000 + "x {" * 50, "a.txt")[0]) == 1


def test_a_title_has_an_end() -> None:
    assert read_markers("0:00 " + "x" * 200, "a.txt")[0]
    assert (
        "found a title of 201 characters, expected at most 200"
        in read_markers("0:00 " + "x" * 201, "a.txt")[1][0].message
    )
