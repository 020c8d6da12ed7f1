"""What is seen of a film, against films whose every frame is known."""

from __future__ import annotations

import io
import json
from fractions import Fraction
from itertools import chain
from pathlib import Path

import av
import numpy as np
import pytest
from PIL import Image

from made_film import SIZE, black, blend, fade, make, room, still
from repslate.cut.markers import read_markers
from repslate.cut.video import Film, examine, frame_at
from repslate.model.quantity import Range
from repslate.source.finding import Severity

SAMPLE = Path(__file__).parents[2] / "samples" / "harbour-cut"
WHOLE = Fraction(100)
NTSC = Fraction(30000, 1001)


def seen(path: Path, *around: Fraction | int, window: Fraction = WHOLE) -> Film:
    film, findings = examine(path, [Fraction(time) for time in around] or [Fraction(0)], window=window)
    assert film is not None
    assert findings == ()
    return film


@pytest.mark.parametrize(
    ("name", "rate", "options"),
    [
        ("a.mp4", NTSC, {"g": "60", "sc_threshold": "0"}),
        ("a.mp4", Fraction(24000, 1001), {}),
        ("a.mov", Fraction(25), {"bf": "0"}),
        ("a.mkv", Fraction(25), {}),
    ],
)
def test_cuts_and_black_are_exact_to_the_frame(
    tmp_path: Path, name: str, rate: Fraction, options: dict[str, str]
) -> None:
    shots = chain(still(1, 40), still(2, 33), black(20), still(1, 50), blend(1, 3, 14), still(3, 60))
    film = seen(make(tmp_path / name, shots, rate=rate, options=options))
    # Matroska counts in milliseconds, so that its frames stand up to half of one off (RFC 9559, TimestampScale).
    near = Fraction(1, 2000) if name.endswith("mkv") else Fraction(0)
    assert len(film.shots) == 3
    assert all(abs(shot - frame / rate) <= near for shot, frame in zip(film.shots, (40, 73, 93), strict=True))
    assert [(round(part.low * rate), round(part.high * rate)) for part in film.black] == [(73, 93)]
    (dissolve,) = film.dissolves
    assert abs(dissolve - 150 / rate) <= Fraction(1, 5)
    assert film.rate == rate
    assert round(film.duration * rate) == 217
    assert (film.width, film.height) == SIZE


def test_a_fade_through_black_is_told_at_its_darkest(tmp_path: Path) -> None:
    shots = chain(still(1, 40), fade(1, 15), black(1), reversed([*fade(2, 15)]), still(2, 40))
    film = seen(make(tmp_path / "a.mp4", shots))
    assert film.shots == ()
    (dark,) = film.dissolves
    assert abs(dark - Fraction(55, 25)) <= Fraction(1, 25)
    assert all(part.low <= Fraction(55, 25) < part.high for part in film.black)


def test_what_is_no_cut_is_not_told_as_one(tmp_path: Path) -> None:
    wall = room(1)
    pan = (wall[:, n : n + SIZE[0]] for n in range(0, 80, 8))
    lighter = (picture + np.uint8(15) for picture in still(1, 30))
    flash = [np.full_like(next(still(1, 1)), 235)]
    named = [picture.copy() for picture in still(1, 30)]
    for picture in named:
        picture[150:, :200] = 235
    shots = chain(still(1, 30), lighter, still(1, 30), flash, still(1, 30), named, still(1, 30), pan)
    film = seen(make(tmp_path / "a.mp4", shots))
    assert film.shots == film.dissolves == film.black == ()


def test_only_the_seconds_around_are_looked_at(tmp_path: Path) -> None:
    shots = chain(still(1, 100), still(2, 100), still(3, 100), still(4, 100))
    path = make(tmp_path / "a.mp4", shots, options={"g": "10"})
    film = seen(path, 5, 4, 16, 40, -1, 15, window=Fraction(1))
    assert film.shots == (Fraction(4),)
    assert film.looked_at == (Range(Fraction(3), Fraction(6)), Range(Fraction(14), Fraction(16)))
    nothing = seen(path, 40)
    assert (nothing.duration, nothing.shots, nothing.looked_at) == (Fraction(16), (), ())


@pytest.mark.parametrize(
    ("name", "rate", "timecode"),
    [("a.mp4", NTSC, "01:00:00;00"), ("a.mov", Fraction(25), "00:59:58:00"), ("a.mkv", NTSC, "10:59:50:12")],
)
def test_the_start_timecode_is_kept_with_its_drop_mark(
    tmp_path: Path, name: str, rate: Fraction, timecode: str
) -> None:
    assert seen(make(tmp_path / name, still(1, 30), rate=rate, timecode=timecode)).start_timecode == timecode
    assert seen(make(tmp_path / name, still(1, 30), rate=rate)).start_timecode is None


def test_a_rate_that_varies_is_none_and_cuts_stand_by_their_own_times(tmp_path: Path) -> None:
    stamps = [*range(60), *(60 + n * 3 for n in range(40))]
    film = seen(make(tmp_path / "a.mp4", chain(still(1, 70), still(2, 30)), rate=Fraction(30), stamps=stamps))
    assert film.rate is None
    assert film.shots == (Fraction(90, 30),)


def test_the_length_is_the_pictures_and_not_the_sounds(tmp_path: Path) -> None:
    assert seen(make(tmp_path / "a.mp4", still(1, 52), sound=True)).duration == Fraction(52, 25)


def ruins(tmp_path: Path) -> dict[str, Path]:
    whole = make(tmp_path / "whole.mp4", chain(still(1, 40), still(2, 40))).read_bytes()
    start = whole.index(b"mdat") + 4
    contents = {
        "text.mp4": b"0:00 Welcome\n",
        "empty.mp4": b"",
        "list.mp4": b"ffconcat version 1.0\nfile whole.mp4\n",  # FFmpeg would follow it
        "half.mp4": whole[: start + 200],
        "grey.mp4": whole[:start] + bytes(len(whole[start:].split(b"moov")[0])) + b"moov" + whole.split(b"moov")[1],
    }
    for name, content in contents.items():
        (tmp_path / name).write_bytes(content)
    (tmp_path / "folder.mp4").mkdir()
    with av.open(tmp_path / "sound.mp4", "w") as film:
        audio = film.add_stream("aac", rate=48_000)
        heard = av.AudioFrame.from_ndarray(np.zeros((1, 1024), np.int16), "s16", "mono")
        heard.sample_rate = 48_000
        film.mux([*audio.encode(heard), *audio.encode()])
    return {path.name: path for path in tmp_path.glob("*.mp4") if path.name != "whole.mp4"} | {
        "gone.mp4": tmp_path / "gone.mp4"
    }


def test_what_is_no_film_gives_a_finding_and_nothing_else(tmp_path: Path) -> None:
    every = ruins(tmp_path)
    assert len(every) == 8
    for name, path in every.items():
        film, (finding,) = examine(path, [Fraction(1)])
        assert film is None or film.looked_at == (), name
        assert (finding.check, finding.severity, finding.span.file) == ("film-unreadable", Severity.WARNING, name)
        assert frame_at(path, Fraction(1)) is None, name


def test_a_frame_is_the_one_shown_at_that_time(tmp_path: Path) -> None:
    shots = chain(still(1, 40), still(2, 40))
    path = make(tmp_path / "a.mp4", shots, rate=NTSC)
    cut = 40 / NTSC
    for time, seed in ((cut - Fraction(1, 1000), 1), (cut, 2), (cut + Fraction(1, 100), 2), (Fraction(0), 1)):
        jpeg = frame_at(path, time, width=SIZE[0])
        assert jpeg is not None
        image = np.asarray(Image.open(io.BytesIO(jpeg)).convert("RGB")).astype(int)
        off = {one: np.abs(image - next(still(one, 1))).mean() for one in (1, 2)}
        assert off[seed] < 10 < off[3 - seed]
    assert frame_at(path, Fraction(-1, 100)) is None
    assert frame_at(path, 80 / NTSC) is None


def test_the_samples_cuts_are_those_of_its_edit_list() -> None:
    events = [line.split() for line in (SAMPLE / "cut.edl").read_text("utf-8").splitlines() if line[:3].isdigit()]
    starts = []
    for event in events[1:]:
        _, minutes, seconds, frames = map(int, event[-2].split(":"))
        starts.append(minutes * 60 + seconds + Fraction(frames, 25))
    film = seen(SAMPLE / "cut.mp4", 58)
    *cuts, out, dissolve = starts
    assert out == dissolve, "two lines of one transition"
    assert list(film.shots) == cuts
    assert film.dissolves == (dissolve + Fraction(10, 25),)
    assert (film.rate, film.start_timecode) == (Fraction(25), "01:00:00:00")
    assert [part.low for part in film.black] == [starts[7]]


def test_the_samples_chapters_sit_on_the_cut_and_after_the_later_cut_where_its_map_says() -> None:
    markers, _ = read_markers((SAMPLE / "chapters.txt").read_text("utf-8"), "chapters.txt")
    first = seen(SAMPLE / "cut.mp4", *(marker.time for marker in markers), window=Fraction(2))
    assert {marker.time for marker in markers} <= {Fraction(0), *first.shots, *first.dissolves}
    told = json.loads((SAMPLE / "recut" / "recut.json").read_text("utf-8"))["chapters"]
    assert [chapter["title"] for chapter in told] == [marker.title for marker in markers]
    assert [round(chapter["old_t"] * 25) for chapter in told] == [marker.time * 25 for marker in markers]
    later = seen(SAMPLE / "recut" / "cut.mp4")
    places = {round(time * 25) for time in (*later.shots, *later.dissolves)}
    assert {round(chapter["new_t"] * 25) for chapter in told if chapter["new_t"] is not None} <= places
    assert [chapter["title"] for chapter in told if chapter["new_t"] is None] == ["Bodyweight squat"]
    assert sum(path.stat().st_size for path in SAMPLE.rglob("*") if path.is_file()) < 3_000_000
