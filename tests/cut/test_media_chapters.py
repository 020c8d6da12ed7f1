"""Chapters written into films and read back, with nothing else of the film changed; FFMETADATA as FFmpeg reads it."""

from __future__ import annotations

import hashlib
from fractions import Fraction
from itertools import chain
from pathlib import Path

import av
import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_film import make, still
from repslate.cut import media_chapters
from repslate.cut.chapters import Chapter
from repslate.cut.markers import read_markers
from repslate.cut.media_chapters import read_film_chapters, write_into
from repslate.publish.chapters import chapters_ffmeta
from repslate.source.finding import Severity
from repslate.source.span import Span

NTSC = Fraction(30000, 1001)
FILMS = ("film.mp4", "film.m4v", "film.mov", "film.mkv")


def chapters(*marks: tuple[Fraction | int, str]) -> list[Chapter]:
    return [Chapter(Fraction(start), title, Span("chapters.txt", line)) for line, (start, title) in enumerate(marks, 1)]


MARKS = chapters((0, "Wärm-up #1; easy = ok"), (100 / NTSC, "Goblet squat 🏋"), (50 / NTSC, "Two\nlines"))


def film(folder: Path, name: str = "film.mp4") -> Path:
    pictures = chain(still(1, 50), still(2, 100))
    return make(folder / name, pictures, rate=NTSC, timecode="01:00:00;00", sound=True)


def packets(path: Path) -> list[tuple[str, int, str, list[Fraction]]]:
    """Return of each track its kind, how many packets, a digest of their bytes, and when they show."""
    with av.open(path) as container:
        kept = {stream.index: stream for stream in container.streams if stream.type in ("video", "audio")}
        found = [packet for packet in container.demux(list(kept.values())) if packet.pts is not None]
        return [
            (
                stream.type,
                len(own := [packet for packet in found if packet.stream.index == index]),
                hashlib.md5(b"".join(map(bytes, own)), usedforsecurity=False).hexdigest(),
                [(packet.pts or 0) * packet.time_base for packet in own],
            )
            for index, stream in kept.items()
        ]


@pytest.mark.parametrize("name", FILMS)
def test_the_copy_has_the_chapters_and_is_else_the_same(tmp_path: Path, name: str) -> None:
    source = film(tmp_path, name)
    before = source.read_bytes()
    out = tmp_path / f"with {name}"
    assert write_into(source, MARKS, out) == ()
    assert source.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([name, out.name])
    assert packets(out) == packets(source)
    markers, findings = read_film_chapters(out)
    assert findings == ()
    assert [marker.title for marker in markers] == ["Wärm-up #1; easy = ok", "Two lines", "Goblet squat 🏋"]
    late = [marker.time - time for marker, time in zip(markers, (Fraction(0), 50 / NTSC, 100 / NTSC), strict=True)]
    assert all(0 <= one <= Fraction(1, 1000) for one in late), "in milliseconds, never on the frame before"
    with av.open(out) as container:
        stored = container.chapters()
        timecodes = {
            value for one in container.streams for key, value in one.metadata.items() if key.lower() == "timecode"
        }
    # FFmpeg's writer of .m4v, which made the film, keeps no timecode.
    assert timecodes == (set() if name.endswith("m4v") else {"01:00:00;00"})
    assert [one["end"] for one in stored[:-1]] == [one["start"] for one in stored[1:]], "contiguous"


def test_chapters_that_are_there_already_are_replaced(tmp_path: Path) -> None:
    first, second = tmp_path / "a.mp4", tmp_path / "b.mp4"
    write_into(film(tmp_path), MARKS, first)
    assert write_into(first, chapters((0, "Welcome"), (2, "Row"), (4, "Goodbye")), second) == ()
    assert [marker.title for marker in read_film_chapters(second)[0]] == ["Welcome", "Row", "Goodbye"]
    assert packets(second) == packets(first)


@pytest.mark.parametrize(
    ("marks", "name", "says"),
    [
        (chapters((0, "A"), (2, "B")), "film.mp4", "there already"),
        (chapters((0, "A"), (2, "B")), "other.mkv", "ends as film.mp4 does"),
        (chapters((0, "A"), (2, "B")), "other", "ends as film.mp4 does"),
        (chapters((0, "A"), (2, "B")), "no such folder/other.mp4", "No such file"),
        ([], "other.mp4", "found none, expected a first chapter at 0:00"),
        (chapters((1, "A"), (2, "B")), "other.mp4", "found “A” at 0:01, expected a first chapter at 0:00"),
        (
            chapters((0, "A"), (2, "B"), (2, "C")),
            "other.mp4",
            "found “B” and “C” at 0:02, expected one chapter at a time",
        ),
        (chapters((0, "A"), (6, "B")), "other.mp4", "before the film's end"),
        (chapters((0, "ü" * 128), (2, "B")), "other.mp4", "at most 255 bytes"),
    ],
)
def test_what_would_not_come_back_is_refused(tmp_path: Path, marks: list[Chapter], name: str, says: str) -> None:
    source = film(tmp_path)
    before = source.read_bytes()
    (finding,) = write_into(source, marks, tmp_path / name)
    assert (finding.check, finding.severity) == ("film-not-written", Severity.ERROR)
    assert says in finding.message
    assert [path.name for path in tmp_path.iterdir()] == ["film.mp4"]
    assert source.read_bytes() == before


def test_a_copy_that_differs_is_thrown_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = film(tmp_path)
    whole = media_chapters._in_time
    monkeypatch.setattr(media_chapters, "_in_time", lambda container: list(whole(container))[:-1])
    (finding,) = write_into(source, MARKS, tmp_path / "other.mp4")
    assert finding.check == "film-not-written"
    assert "found other content in track" in finding.message
    assert [path.name for path in tmp_path.iterdir()] == ["film.mp4"]


def test_what_is_no_film_is_told(tmp_path: Path) -> None:
    text = tmp_path / "cut.mp4"
    text.write_text("no film")
    (finding,) = write_into(text, MARKS, tmp_path / "other.mp4")
    assert finding.check == "film-not-written"
    markers, (finding,) = read_film_chapters(text)
    assert (markers, finding.check) == ((), "film-unreadable")
    assert read_film_chapters(film(tmp_path)) == ((), ())


# ---- FFMETADATA: FFmpeg doc/metadata.texi and what FFmpeg 9 does (runs)


def block(*lines: str) -> str:
    return "\n".join((";FFMETADATA1", *lines, ""))


@pytest.mark.parametrize(
    ("text", "read"),
    [
        (block("[CHAPTER]", "TIMEBASE=1/1000", "START=0", "END=60000", "title=Row"), [(0, "Row")]),
        (block("[CHAPTER]", "START=95500000000", "END=95500000001", "title=Row"), [(Fraction(191, 2), "Row")]),
        (
            block("[CHAPTER]", "TIMEBASE=1/1000", "START=5", "END=9", "title=Warm-up \\#1\\; easy \\= ok"),
            [(Fraction(5, 1000), "Warm-up #1; easy = ok")],
        ),
        (
            block("title=bike\\\\shed", "; note", "[STREAM]", "title=x", "[CHAPTER]", "START=0", "END=1", "title=a=b"),
            [(0, "a=b")],
        ),
        (block("[CHAPTER]", "START=0", "END=6", "# a remark", "title=Row").replace("\n", "\r\n"), [(0, "Row")]),
        (block(), []),
    ],
)  # fmt: skip
def test_ffmetadata_is_read(text: str, read: list[tuple[Fraction, str]]) -> None:
    markers, findings = read_markers(text, "chapters.ffmeta")
    assert findings == ()
    assert [(marker.time, marker.title) for marker in markers] == read


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("\ufeff" + block(), 1, "byte order mark"),
        ("[CHAPTER]\nSTART=0\n", 1, "expected “;FFMETADATA1”"),
        (block("[CHAPTER]", "TIMEBASE=1/1000", "START=0", "title=Row"), 5, "expected END="),
        (block("[CHAPTER]", "START=0"), 2, "expected END="),
        (block("[CHAPTER]", "START=0", "TIMEBASE=1/1000", "END=5", "title=Row"), 4, "expected END="),
        (block("[CHAPTER]", "TIMEBASE=1/0", "START=0", "END=5", "title=Row"), 3, "expected TIMEBASE="),
        (block("[CHAPTER]", "START=-5", "END=5", "title=Row"), 3, "expected START="),
        (block("[CHAPTER]", "START=9", "END=5", "title=Row"), 4, "found an END of 5, expected at least 9"),
        (block("[CHAPTER]", "START=0", "END=5"), 2, "found no title after the time"),
        (block("[CHAPTER]", "START=0", "END=5", "title=Row\\", "er"), 5, "control character"),
    ],
)
def test_what_ffmpeg_would_lose_is_told_with_its_line(text: str, line: int, says: str) -> None:
    markers, (finding,) = read_markers(text, "chapters.ffmeta")
    assert markers == ()
    assert (finding.check, finding.span.line) == ("marker-unreadable", line)
    assert says in finding.message


@given(st.lists(st.tuples(st.integers(0, 10**7), st.from_regex(r"\A[a-z=;#\\][ -|~äß×]{0,30}[a-z=;#\\]\Z"))))
def test_what_we_write_is_read_back(marks: list[tuple[int, str]]) -> None:
    written = chapters(*((Fraction(start, 1000), title) for start, title in marks))
    markers, findings = read_markers(chapters_ffmeta(written, None).decode(), "chapters.ffmeta")
    assert findings == ()
    assert [(marker.time, marker.title) for marker in markers] == [(one.start, one.title) for one in written]


_PIECES = st.sampled_from(
    ["[CHAPTER]", "TIMEBASE=1/1000", "START=1", "END=2", "title=", "\\", "\n", "=", ";", "\r", "[", "9"]
)


@given(st.lists(_PIECES | st.text(max_size=5)).map("".join))
def test_any_text_gives_markers_or_findings(text: str) -> None:
    for whole in (text, f";FFMETADATA1\n{text}"):
        markers, findings = read_markers(whole, "chapters.ffmeta")
        assert len(markers) + len(findings) >= sum(line == "[CHAPTER]" for line in whole.split("\n")[:1])
        assert all(1 <= finding.span.line <= whole.count("\n") + 1 for finding in findings)
