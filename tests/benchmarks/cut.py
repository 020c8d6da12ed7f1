"""What the chapter-window check of a film costs: `python tests/benchmarks/cut.py [--minutes N] [--chapters N]`.

In one run: the check of evenly spread chapters against a plain decode of the whole film, in processor seconds, for the
two ways that films are keyed. Aim: 15 chapters in 20 minutes of 720p for at most 10 % of the decode. The film is made
in a temporary folder: one minute is encoded and its packets are repeated, which decodes like twenty different ones.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from fractions import Fraction
from pathlib import Path

import av
import numpy as np

from repslate.cut.video import WINDOW, examine

RATE = Fraction(30000, 1001)
WIDTH, HEIGHT = 1280, 720
FRAMES = 1798  # of the minute that is repeated
SHOT = 157  # frames a shot
KEYED = {
    "a keyframe every 60 frames": {"g": "60", "sc_threshold": "0"},
    "keyframes at cuts, else after 250 frames": {"g": "250"},
}


def minute(path: Path, options: dict[str, str]) -> None:
    """Encode about a minute: shots of drifting texture under fresh noise, so that there is something to decode."""
    random = np.random.default_rng(4)
    noise = [random.integers(0, 9, (HEIGHT, WIDTH, 1), np.uint8) for _ in range(8)]
    with av.open(path, "w") as film:
        stream = film.add_stream("libx264", rate=RATE, options={"preset": "veryfast", "b:v": "1500k", **options})
        stream.width, stream.height, stream.pix_fmt = WIDTH, HEIGHT, "yuv420p"
        for number in range(FRAMES):
            if number % SHOT == 0:
                room = (
                    random.integers(40, 200, (HEIGHT // 20, WIDTH // 20 + 8, 3), np.uint8).repeat(20, 0).repeat(20, 1)
                )
            picture = room[:, number % SHOT : number % SHOT + WIDTH] + noise[number % 8]
            film.mux(stream.encode(av.VideoFrame.from_ndarray(picture, format="rgb24")))
        film.mux(stream.encode())


def repeat(path: Path, out: Path, times: int) -> None:
    """Write the packets of a film `times` over."""
    with av.open(out, "w") as target:
        stream = None
        for turn in range(times):
            with av.open(path) as source:
                first = source.streams.video[0]
                stream = stream or target.add_stream_from_template(first)
                length = first.duration or 0
                for packet in source.demux(first):
                    if packet.dts is not None and packet.pts is not None:
                        packet.pts += turn * length
                        packet.dts += turn * length
                        packet.stream = stream
                        target.mux(packet)


def decode(path: Path) -> int:
    """Decode every picture and look at none."""
    with av.open(path) as film:
        film.streams.video[0].thread_type = "AUTO"
        return sum(1 for _ in film.decode(video=0))


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=int, default=20)
    parser.add_argument("--chapters", type=int, default=15)
    given = parser.parse_args()
    for name, options in KEYED.items():
        with tempfile.TemporaryDirectory() as scratch:
            short, film = Path(scratch) / "minute.mp4", Path(scratch) / "film.mp4"
            minute(short, options)
            repeat(short, film, given.minutes)
            length = given.minutes * FRAMES / RATE
            around = [length * number / given.chapters + Fraction(7, 3) for number in range(given.chapters)]
            start = time.process_time()
            seen, findings = examine(film, around)
            check = time.process_time() - start
            assert seen is not None
            assert not findings
            start = time.process_time()
            frames = decode(film)
            whole = time.process_time() - start
        hours = float(frames / RATE) / 3600
        print(
            f"{given.chapters} chapters in {given.minutes} minutes of {HEIGHT}p, {name}: "
            f"the check costs {100 * check / whole:.1f} % of a plain decode (aim: at most 10 %), "
            f"{check / given.chapters * 1000:.0f} ms a chapter with {float(WINDOW)} s on either side; "
            f"seconds per hour of film: check {check / hours:.0f}, decode {whole / hours:.0f}; "
            f"{len(seen.shots)} cuts found"
        )


if __name__ == "__main__":
    main()
