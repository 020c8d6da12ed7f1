"""Small films made for the tests, frame by frame, so that it is known to the frame what they show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import av
import numpy as np
from numpy.typing import NDArray

SIZE = (320, 180)
Picture = NDArray[Any]


def room(seed: int) -> Picture:
    """Return a picture of coloured squares, other for every seed; on a wide wall, to pan over."""
    random = np.random.default_rng(seed)
    return random.integers(60, 190, (9, 20, 3), np.uint8).repeat(20, 0).repeat(20, 1)


def still(seed: int, frames: int) -> Iterator[Picture]:
    yield from (room(seed)[:, : SIZE[0]] for _ in range(frames))


def blend(one: int, other: int, frames: int) -> Iterator[Picture]:
    """Yield a dissolve: neither of its ends is whole."""
    a, b = (room(seed)[:, : SIZE[0]].astype(float) for seed in (one, other))
    yield from ((a + (b - a) * n / (frames + 1)).astype(np.uint8) for n in range(1, frames + 1))


def black(frames: int) -> Iterator[Picture]:
    yield from (np.zeros((SIZE[1], SIZE[0], 3), np.uint8) for _ in range(frames))


def fade(seed: int, frames: int) -> Iterator[Picture]:
    """Yield a fade out; reversed it is a fade in."""
    whole = room(seed)[:, : SIZE[0]].astype(float)
    yield from ((whole * (frames - n) / (frames + 1)).astype(np.uint8) for n in range(frames))


def make(
    path: Path,
    pictures: Iterable[Picture],
    *,
    rate: Fraction = Fraction(25),
    options: dict[str, str] | None = None,
    timecode: str | None = None,
    sound: bool = False,
    stamps: Iterable[int] | None = None,
) -> Path:
    """Encode a film; `stamps` are the frames' times, in frames, where they do not come evenly."""
    with av.open(path, "w") as film:
        stream = film.add_stream("libx264", rate=rate, options={"preset": "veryfast", **(options or {})})
        stream.width, stream.height, stream.pix_fmt = *SIZE, "yuv420p"
        if timecode:
            stream.metadata["timecode"] = timecode
        audio = film.add_stream("aac", rate=48_000) if sound else None
        packets = []
        times = iter(stamps) if stamps else None
        count = 0
        for picture in pictures:
            frame = av.VideoFrame.from_ndarray(picture, format="rgb24")
            if times:
                frame.pts, frame.time_base = next(times), 1 / rate
            packets += stream.encode(frame)
            count += 1
        packets += stream.encode()
        if audio:
            hum = (np.sin(np.arange(int(count / rate * 48_000)) / 20) * 8000).astype(np.int16)
            for start in range(0, len(hum) - 1023, 1024):
                heard = av.AudioFrame.from_ndarray(hum[None, start : start + 1024], "s16", "mono")
                heard.sample_rate, heard.pts, heard.time_base = 48_000, start, Fraction(1, 48_000)
                packets += audio.encode(heard)
            packets += audio.encode()
        film.mux(packets)
    return path
