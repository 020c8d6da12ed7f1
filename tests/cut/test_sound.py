"""Chapters moved by sound alone: synthesised speech and music, cut by a known map."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import av
import numpy as np
import pytest
from numpy.typing import NDArray

from repslate import api
from repslate.cut.markers import Marker
from repslate.cut.retime import sound
from repslate.cut.retime.chapters import place
from repslate.source.span import Span

RATE = 8000
Samples = NDArray[np.float32]


def speech(seconds: int, seed: int) -> Samples:
    """Return syllables: a voice's partials through two resonances, with pauses, over the noise of a quiet room."""
    rng = np.random.default_rng(seed)
    out = rng.normal(0, 0.002, seconds * RATE)
    at = 0
    while at < len(out):
        time = np.arange(int(rng.uniform(0.08, 0.3) * RATE)) / RATE
        pitch, low, high = rng.uniform(90, 220), rng.uniform(300, 900), rng.uniform(1000, 2800)
        partials = pitch * np.arange(1, 20)
        weights = np.exp(-(((partials - low) / 150) ** 2)) + 0.6 * np.exp(-(((partials - high) / 250) ** 2))
        syllable = (weights @ np.sin(2 * np.pi * np.outer(partials, time))) * np.hanning(len(time)) * 0.3
        part = out[at : at + len(time)]
        part += syllable[: len(part)]
        at += len(time) + int((rng.uniform(0, 0.1) if rng.random() < 0.85 else rng.uniform(0.3, 1.2)) * RATE)
    return out.astype(np.float32)


def music(length: int, seed: int) -> Samples:
    """Return notes that repeat every 17 seconds: a bed that agrees with itself at every cut."""
    rng = np.random.default_rng(seed)
    loop = np.zeros(17 * RATE)
    time = np.arange(RATE // 2) / RATE
    for beat in range(0, len(loop) - len(time), RATE // 4):
        loop[beat : beat + len(time)] += np.sin(2 * np.pi * rng.choice([220, 262, 330, 392]) * time) * np.exp(-6 * time)
    return (np.resize(loop, length) * 0.05).astype(np.float32)


OLD = speech(180, 1)
# Title in front, 2.4 s out, a block moved past another, the end trimmed: (old start, old end) in seconds.
PIECES = [(0.0, 40.3), (42.7, 70.1), (110.2, 150.0), (70.1, 102.0), (150.0, 171.0)]
TITLE = 9


def recut() -> tuple[Samples, list[tuple[Fraction, Fraction, Fraction]]]:
    parts, known, at = [speech(TITLE, 2)], [], Fraction(TITLE)
    for start, end in PIECES:
        parts.append(OLD[round(start * RATE) : round(end * RATE)])
        begin, stop = Fraction(str(start)), Fraction(str(end))
        known.append((begin, stop, at - begin))
        at += stop - begin
    return np.concatenate(parts), known


MIXES = {
    "the same sound": lambda old, new: (old, new),
    "another mix, with other music": lambda old, new: (
        old + music(len(old), 5),
        np.tanh(3 * np.convolve(new, [1, -0.6], "same")) / 2 + music(len(new), 7),
    ),
    "one bed of music under both": lambda old, new: (old + music(len(old), 5), new + music(len(new), 5)),
}


@pytest.mark.parametrize("mix", MIXES.values(), ids=MIXES)
def test_a_recut_with_a_known_map(mix: object) -> None:
    assert callable(mix)
    new, known = recut()
    one, other = (sound.spectrum(each.astype(np.float32)) for each in mix(OLD, new))
    kept = [sound.stretch(heard, len(one)) for heard in sound.compare(one, other)]
    times = [second + Fraction(1, 8) for second in range(1, 180, 2)]
    near = {time for time in times for start, end, _ in known for edge in (start, end) if abs(time - edge) < 1}
    for answer in place(
        kept, [Marker(time, "Squat", None, Span("chapters.txt")) for time in times if time not in near]
    ):
        wanted = next((answer.start + by for start, end, by in known if start <= answer.start < end), None)
        if wanted is None:
            assert answer.to is None, answer
        else:
            assert answer.to is not None, answer
            assert abs(answer.to - wanted) < Fraction(1, 20), answer
    # A block that was moved as a whole keeps its very start.
    begins = [Marker(start, "Squat", None, Span("chapters.txt")) for start, _, _ in known]
    for answer, (start, _, by) in zip(place(kept, begins), known, strict=True):
        assert answer.to is not None
        assert abs(answer.to - start - by) < Fraction(1, 20)


def test_sound_in_common_with_nothing() -> None:
    assert sound.compare(sound.spectrum(OLD), sound.spectrum(OLD[::-1].copy())) == ()
    assert sound.compare(sound.spectrum(OLD), sound.spectrum(speech(60, 3))) == ()
    assert sound.compare(sound.spectrum(OLD), sound.spectrum(np.zeros(60 * RATE, np.float32))) == ()
    assert sound.compare(sound.spectrum(OLD), sound.spectrum(OLD[:RATE])) == ()


def encode(path: Path, samples: Samples) -> None:
    with av.open(str(path), "w") as film:
        stream = film.add_stream("aac", rate=RATE, layout="mono")
        frame = av.AudioFrame.from_ndarray(samples[None, :], format="fltp", layout="mono")
        frame.sample_rate = RATE
        for packet in (*stream.encode(frame), *stream.encode(None)):
            film.mux(packet)


@pytest.fixture
def episode(tmp_path: Path) -> Path:
    (tmp_path / "chapters.txt").write_text("0:02 Welcome\n0:41 Row\n1:20 Squat\n", "utf-8")
    encode(tmp_path / "old.mp4", OLD)
    return tmp_path


def test_two_films(episode: Path) -> None:
    new, _ = recut()
    encode(episode / "new.mp4", new)
    moved = api.retime(episode, episode / "old.mp4", episode / "new.mp4")
    assert moved.value is not None
    assert moved.findings == ()
    welcome, row, squat = (one.to for one in moved.value.chapters)
    assert welcome is not None
    assert abs(welcome - 11) < Fraction(1, 20)
    assert row is None
    assert squat is not None
    assert abs(squat - Fraction("126.4")) < Fraction(1, 20)


def test_sound_that_agrees_badly_is_told(episode: Path) -> None:
    encode(episode / "new.mp4", OLD[RATE * 10 :] + 4 * music(len(OLD) - RATE * 10, 9))
    moved = api.retime(episode, episode / "old.mp4", episode / "new.mp4")
    assert moved.value is not None
    assert [finding.check for finding in moved.findings] == ["sound-differs"]
    assert moved.value.chapters[2].to is not None


def test_films_that_cannot_be_heard(episode: Path) -> None:
    (episode / "text.mp4").write_text("not a film", "utf-8")
    with av.open(str(episode / "silent.mp4"), "w") as film:
        stream = film.add_stream("mpeg4", rate=25)
        stream.width = stream.height = 32
        frame = av.VideoFrame.from_ndarray(np.zeros((32, 32, 3), np.uint8), format="rgb24")
        film.mux(stream.encode(frame))
        film.mux(stream.encode(None))
    wanted = {"text.mp4": "film-unreadable", "silent.mp4": "sound-missing", "gone.mp4": "file-missing"}
    for name, check in wanted.items():
        moved = api.retime(episode, episode / "old.mp4", episode / name, write=True)
        assert moved.value is not None
        assert [finding.check for finding in moved.findings] == [check]
        assert not moved.value.written
