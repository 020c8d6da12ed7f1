"""The finished film itself: its length, rate, timecode, and how the picture changes near each chapter.

Only the seconds around each chapter are decoded, so that the check of a long film costs a tenth of playing it through.
"""

from __future__ import annotations

import errno
from collections.abc import Generator, Sequence
from contextlib import closing
from dataclasses import dataclass
from fractions import Fraction
from io import BytesIO
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from repslate.cut import shots
from repslate.model.clock import HOUR, read_clock, write_clock
from repslate.model.quantity import Range
from repslate.source.finding import Finding, Severity
from repslate.source.places import is_there
from repslate.source.span import Span
from repslate.source.text import is_ordinary

if TYPE_CHECKING:
    from av import VideoFrame, VideoStream
    from av.container import InputContainer

WINDOW = Fraction(2)  # seconds on either side; with 2.5, 15 chapters in 20 minutes cost up to 11 % of a decode
SAME_RATE = Fraction(1, 2000)  # a mean that is nearer than this is rounding; 24 and 23.976 differ by 1 in 1000
FULL_RANGE = 2  # FFmpeg's AVCOL_RANGE_JPEG: black is 0, otherwise 16 (ITU-R BT.709)
JPEG_QUALITY = 82


@dataclass(frozen=True, slots=True)
class Film:
    """What a film says of itself and what was seen of it; all times in exact seconds from its first picture.

    `duration` is the picture's, not the sound's. `rate` is in frames per second, None where it varies. `shots` are the
    first frames of new shots after a hard cut, exact to the frame; `dissolves` the middles of dissolves and fades,
    within 0.2 s, and some are not found. `black` runs up to where the picture returns. All of these are known only
    within `looked_at`: where nothing was decoded, nothing is known. `width` and `height` are in pixels, as stored.
    """

    duration: Fraction
    rate: Fraction | None
    start_timecode: str | None
    width: int
    height: int
    shots: tuple[Fraction, ...]
    dissolves: tuple[Fraction, ...]
    black: tuple[Range[Fraction], ...]
    looked_at: tuple[Range[Fraction], ...]


def examine(
    path: Path, around: Sequence[Fraction], *, window: Fraction = WINDOW
) -> tuple[Film | None, tuple[Finding, ...]]:
    """Look at a film for `window` seconds on either side of each time in `around`, both in seconds of the cut.

    Times outside the film are left to the checks. A film that cannot be opened gives None and a finding; a part that
    cannot be decoded gives a finding and is missing from `looked_at`.
    """
    import av

    try:
        with open_film(path) as container:
            if not container.streams.video or container.streams.video[0].codec_context is None:
                return None, (unreadable(path, "found no picture in it that can be decoded"),)
            stream = container.streams.video[0]
            duration = _duration(container, stream)
            if duration is None:
                return None, (unreadable(path, "found no length in it"),)
            return _look_around(container, path, duration, _windows(around, window, duration))
    except (av.FFmpegError, OSError, ValueError) as trouble:
        return None, (unreadable(path, f"the decoder says “{reason(trouble)}”"),)


def frame_at(path: Path, time: Fraction, *, width: int = 640) -> bytes | None:
    """Return the picture shown `time` seconds into the film as a JPEG of `width` pixels, upright.

    None where the film has no picture: before its start, past its end, or where it cannot be read.
    """
    import av

    try:
        with open_film(path) as container:
            if time < 0 or not container.streams.video or container.streams.video[0].codec_context is None:
                return None
            stream = container.streams.video[0]
            stream.thread_type = "AUTO"
            duration = _duration(container, stream)
            if duration is None or time >= duration:
                return None
            shown = None
            with closing(_frames(container, stream, time, warm=True)) as frames:
                for at, frame in frames:
                    if at > time:
                        break
                    shown = frame
            return None if shown is None else _jpeg(shown, width)
    except (av.FFmpegError, OSError, ValueError):
        return None


def open_film(path: Path) -> InputContainer:
    """Open an MP4, MOV or Matroska file for reading, and nothing that such a file may name.

    Raise what av.open raises, and OSError for what is no ordinary file: a pipe or a device may never come to an end.
    FFmpeg goes by the content: a list of addresses called cut.mp4 would be fetched.
    """
    import av

    if is_there(path) and not is_ordinary(path):
        raise OSError(errno.EINVAL, "it is no ordinary file")
    name = f"file:{path.absolute()}"  # or a folder called "http:" would name a protocol
    options = {"protocol_whitelist": "file", "format_whitelist": "mov,matroska"}
    return av.open(name, options=options, metadata_errors="replace")


def _look_around(
    container: InputContainer, path: Path, duration: Fraction, windows: Sequence[Range[Fraction]]
) -> tuple[Film, tuple[Finding, ...]]:
    import av

    stream = container.streams.video[0]
    stream.thread_type = "AUTO"
    stretches, looked_at, findings = [], [], []
    for window in windows:
        try:
            measured = _measure(container, stream, window)
        except (av.FFmpegError, OSError, ValueError) as trouble:
            findings.append(_damaged(path, window, reason(trouble)))
            continue
        if measured is None:
            findings.append(_damaged(path, window, "no picture comes out"))
            continue
        stretches.append(measured)
        looked_at.append(window)
    above = shots.threshold(stretches)
    black = 0 if stream.codec_context.color_range == FULL_RANGE else 16
    seen = [shots.look(stretch, above, black=black) for stretch in stretches]
    film = Film(
        duration,
        _rate(stream),
        start_timecode(container),
        stream.width,
        stream.height,
        tuple(chain.from_iterable(one.cuts for one in seen)),
        tuple(chain.from_iterable(one.dissolves for one in seen)),
        tuple(chain.from_iterable(one.black for one in seen)),
        tuple(looked_at),
    )
    return film, tuple(findings)


def _measure(container: InputContainer, stream: VideoStream, window: Range[Fraction]) -> shots.Stretch | None:
    times, pictures = [], []
    with closing(_frames(container, stream, window.low)) as frames:
        for at, frame in frames:
            if at > window.high:
                break
            times.append(at)
            pictures.append(shots.thin(frame))
    return shots.measure(times, pictures) if times else None


def _frames(
    container: InputContainer, stream: VideoStream, first: Fraction, *, warm: bool = False
) -> Generator[tuple[Fraction, VideoFrame], None, None]:
    """Yield the frames from `first` on, with their times; from the keyframe before it on if `warm`.

    Pictures before `first` that no other picture is built on are not decoded. The times are those written in the file,
    for the frames of some cameras do not come evenly.
    """
    unit = stream.time_base or Fraction(1, 1_000_000)
    start = stream.start_time or 0
    container.seek(start + int(first / unit), stream=stream)
    for packet in container.demux(stream):
        early = packet.pts is not None and (packet.pts - start) * unit < first
        stream.codec_context.skip_frame = "NONREF" if early and not warm else "DEFAULT"
        for frame in packet.decode():
            if frame.pts is None:
                continue
            at = (frame.pts - start) * unit
            if warm or at >= first:
                yield at, frame


def _windows(around: Sequence[Fraction], window: Fraction, duration: Fraction) -> list[Range[Fraction]]:
    """Return the stretches to look at, in order, none touching another, all inside the film."""
    merged: list[Range[Fraction]] = []
    for time in sorted(time for time in around if 0 <= time < duration):
        low, high = max(Fraction(0), time - window), min(duration, time + window)
        if merged and low <= merged[-1].high:
            merged[-1] = Range(merged[-1].low, high)
        else:
            merged.append(Range(low, high))
    return merged


def _duration(container: InputContainer, stream: VideoStream) -> Fraction | None:
    """Return the picture's length; Matroska keeps it as text; else the file's, which the sound may lengthen."""
    if stream.duration is not None and stream.time_base is not None:
        return stream.duration * stream.time_base
    end = read_clock(stream.metadata.get("DURATION", ""))
    if not isinstance(end, str):
        return end - (stream.start_time or 0) * (stream.time_base or 1)
    return Fraction(container.duration, 1_000_000) if container.duration is not None else None


def _rate(stream: VideoStream) -> Fraction | None:
    """Return the rate if frames come evenly: the mean is then what the file names as its base."""
    mean, base = stream.average_rate, stream.base_rate
    if not mean or not base:
        return None
    return Fraction(base) if abs(mean - base) <= base * SAME_RATE else None


def start_timecode(container: InputContainer) -> str | None:
    """Return the label of a film's first picture; files keep it with the picture, a track of its own, or the whole."""
    for metadata in (*(stream.metadata for stream in container.streams), container.metadata):
        for key, value in metadata.items():
            if key.lower() == "timecode":
                return value
    return None


def _jpeg(frame: VideoFrame, width: int) -> bytes:
    from PIL import Image

    height = max(2, round(Fraction(frame.height * width, frame.width)))
    image = Image.fromarray(frame.reformat(width=width, height=height, format="rgb24").to_ndarray())
    if frame.rotation:  # counter-clockwise, as FFmpeg's display matrix counts
        image = image.rotate(frame.rotation, expand=True)
    out = BytesIO()
    image.save(out, "JPEG", quality=JPEG_QUALITY)
    return out.getvalue()


def reason(trouble: Exception) -> str:
    """Return the decoder's own words, without the path and the number that it adds."""
    return getattr(trouble, "strerror", None) or str(trouble)


def unreadable(path: Path, what: str) -> Finding:
    """Say that a film cannot be read; publishing goes on without it."""
    message = f"expected a film in {path.name}, {what}"
    help_ = "export the film again as H.264 in an MP4 file; until then the chapters are not compared with the picture"
    return Finding("film-unreadable", Severity.WARNING, Span(path.name), message, help_)


def _damaged(path: Path, window: Range[Fraction], what: str) -> Finding:
    low, high = (write_clock(time, hours=window.high >= HOUR) for time in (window.low, window.high))
    message = f"expected pictures from {low} to {high} of {path.name}, {what}"
    help_ = "play the film there; if it stutters or stays grey, export it again"
    return Finding("film-unreadable", Severity.WARNING, Span(path.name), message, help_)
