"""Finds what a new cut keeps of an old one from the sound of the two films, for cuts without subtitles.

Sound is compared on a grid of 40 moments a second, so times are right to about 1/80 s; a start whose first words
alone were cut away can be seen by its neighbours only.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from repslate.cut.retime.best_path import runs
from repslate.cut.retime.kept import Anchor, Kept
from repslate.cut.video import open_film
from repslate.source.finding import Finding, Severity
from repslate.source.places import is_file
from repslate.source.span import Span

if TYPE_CHECKING:
    import av
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.floating[Any]]

GRID = 40  # moments a second at which the sound is looked at
_RATE = 8000  # samples a second: speech lies below 4 kHz
_BANDS = 20
_LEVEL = 2  # seconds whose mean level is taken off, so that a change of loudness or tone colour says nothing
_COARSE = 4  # moments taken together for the first search
_PROBE, _EVERY = 4, 2  # seconds of the new cut that are searched in the old one, and how often
_MOST = 80  # shifts that are followed up
_WINDOW = 1  # seconds of sound that are compared to tell what plays
# At 0.3, unrelated sound was taken for the film; at 0.5 it was not, and nothing true was lost (our own measurements on
# generated films).
_ALIKE = 0.5
_SAME = 0.8  # below, the sound differs so much that it may be another take of the same script
_CUT, _FOREIGN = 9.0, 6.0  # tenths of a second of full likeness that a cut, or the edge of foreign sound, has to win
_STEP = 4  # moments from one decision to the next: a tenth of a second
_LOOSE = GRID // 2  # moments by which a pause hides where a stretch begins
_SHORTEST = 1  # seconds; less that seems alike is chance


class Heard(NamedTuple):
    """A stretch of the new cut, `first` to `last` (exclusive), that is the old one `shift` later; all in moments."""

    first: int
    last: int
    shift: int


def kept_by_sound(old: tuple[Path, str], new: tuple[Path, str]) -> tuple[tuple[Kept, ...] | None, tuple[Finding, ...]]:
    """Return what the film `new` keeps of the film `old`, in the order of the new cut; each is (file, its name).

    None if one of them cannot be heard. A finding says so, or that the two sound unlike where they seem the same.
    """
    before, in_old = _listen(*old)
    after, in_new = _listen(*new)
    if before is None or after is None:
        return None, (*in_old, *in_new)
    one, other = spectrum(before), spectrum(after)
    heard = compare(one, other)
    kept = tuple(stretch(each, len(one)) for each in heard)
    return kept, tuple(_unlike(one, other, heard, new[1]))


# ---- the sound of a film


def _listen(path: Path, name: str) -> tuple[Floats | None, tuple[Finding, ...]]:
    """Return the sound as one channel of samples from the film's first moment on."""
    import av

    if not is_file(path):
        message = f"there is no file “{name}”"
        return None, (_finding("file-missing", name, message, "check the folder and the name"),)
    try:
        with open_film(path) as film:
            if not film.streams.audio:
                help_ = "give the films with their sound, or two files of subtitles"
                return None, (
                    _finding("sound-missing", name, f"“{name}” has no sound, expected some to compare", help_),
                )
            return _samples(film), ()
    except (av.error.FFmpegError, OSError) as error:
        message = f"“{name}” cannot be read as a film: {(error.strerror or str(error)).lower()}"
        return None, (_finding("film-unreadable", name, message, "give the film as mp4, mov or mkv, or its subtitles"),)


def _samples(film: av.container.InputContainer) -> Floats:
    import av
    import numpy as np

    stream = film.streams.audio[0]
    resampler = av.AudioResampler(format="s16", layout="mono", rate=_RATE)
    parts: list[NDArray[np.int16]] = []
    for frame in film.decode(stream):
        if not parts and frame.time and frame.time > 0:
            parts.append(np.zeros(round(frame.time * _RATE), np.int16))
        parts += [out.to_ndarray()[0].astype(np.int16) for out in resampler.resample(frame)]
    parts += [out.to_ndarray()[0].astype(np.int16) for out in resampler.resample(None)]
    joined: Floats = np.concatenate(parts or [np.zeros(0, np.int16)]).astype(np.float32) / 32768
    return joined


def spectrum(samples: Floats) -> Floats:
    """Return moments × bands: how much louder than usual each band is, in natural logarithms of energy.

    `samples` is one channel at 8000 a second. A moment is 50 ms of sound, 40 a second.
    """
    import numpy as np

    hop = _RATE // GRID
    size = 2 * hop
    count = len(samples) // hop
    padded = np.concatenate([samples, np.zeros(size, np.float32)])
    bands, window = _bands(size), np.hanning(size).astype(np.float32)
    levels = np.empty((count, _BANDS), np.float32)
    for begin in range(0, count, 4096):
        end = min(count, begin + 4096)
        frames = np.lib.stride_tricks.sliding_window_view(padded[begin * hop : end * hop + size], size)[::hop]
        power = np.abs(np.fft.rfft(frames[: end - begin] * window, axis=1)) ** 2
        levels[begin:end] = np.log(power @ bands + 1e-4)  # the noise floor of a quiet room
    if not count:
        return levels
    return (levels - _running(levels, _LEVEL * GRID)).astype(np.float32)


def _bands(size: int) -> Floats:
    """Return triangular bands from 100 to 3800 Hz, evenly spaced as the ear hears (mel, O'Shaughnessy 1987)."""
    import numpy as np

    low, high = (2595 * np.log10(1 + hertz / 700) for hertz in (100, 3800))
    edges = 700 * (10 ** (np.linspace(low, high, _BANDS + 2) / 2595) - 1)
    at = np.fft.rfftfreq(size, 1 / _RATE)[:, None]
    rise, fall = (at - edges[:-2]) / np.diff(edges)[:-1], (edges[2:] - at) / np.diff(edges)[1:]
    found: Floats = np.maximum(0, np.minimum(rise, fall)).astype(np.float32)
    return found


def _running(values: Floats, width: int) -> Floats:
    """Return the mean of `width` moments around each one, of fewer at both ends."""
    import numpy as np

    sums = np.concatenate([np.zeros((1, *values.shape[1:])), np.cumsum(values, axis=0, dtype=np.float64)])
    at = np.arange(len(values))
    low, high = np.maximum(0, at - width // 2), np.minimum(len(values), at + width - width // 2)
    share = (high - low).reshape(-1, *[1] * (values.ndim - 1))
    found: Floats = ((sums[high] - sums[low]) / share).astype(np.float32)
    return found


# ---- where the new cut plays what


def compare(old: Floats, new: Floats) -> tuple[Heard, ...]:
    """Return which stretches of one spectrum play in another, in the order of the new one.

    As with words: staying at a shift is free, a cut costs, and sound like none of the shifts is foreign.
    """
    import numpy as np

    if len(old) < GRID * _PROBE or len(new) < GRID * _PROBE:
        return ()
    shifts = _shifts(old, new)
    if not shifts:
        return ()
    likeness = np.stack([_running(_products(old, new, shift), _WINDOW * GRID) for shift in shifts], axis=1)
    evidence = (likeness[::_STEP] - _ALIKE) * _sounds(new)[::_STEP, None]
    found = [
        Heard(run.first * _STEP, min(run.last * _STEP, len(new)), shifts[run.state])
        for run in runs(evidence, cut=_CUT, foreign=_FOREIGN)
    ]
    return _bounded([run for run in found if run.last - run.first >= _SHORTEST * GRID], old, new)


def _shifts(old: Floats, new: Floats) -> list[int]:
    """Return the shifts at which a few seconds of the new cut sound like the old one, the most frequent ones."""
    import numpy as np

    found: dict[int, float] = {}
    for at, shift in _coarse(old, new):
        part = new[at : at + _PROBE * GRID]
        fine = [(_likeness(old, part, at, near), near) for near in range(shift - _COARSE, shift + _COARSE + 1)]
        like, best = max(fine)
        if like >= _ALIKE:
            found[best] = found.get(best, 0.0) + like
    # Neighbours on the grid are one shift; the one that is found most often stands for them.
    chosen: list[int] = []
    for shift in sorted(found, key=lambda shift: -found[shift]):
        if len(chosen) < _MOST and all(abs(shift - other) > 1 for other in chosen):
            chosen.append(shift)
    return sorted(np.array(chosen).tolist())


def _coarse(old: Floats, new: Floats) -> Iterator[tuple[int, int]]:
    """Yield (moment of the new cut, shift) for the best three places of each probe, on the coarse grid."""
    import numpy as np

    one, other = (_thin(each) for each in (old, new))
    width = _PROBE * GRID // _COARSE
    size = 1 << (len(one) + width).bit_length()
    transformed = np.fft.rfft(one, size, axis=0)
    energy = np.sqrt(np.maximum(1e-6, np.convolve((one**2).sum(axis=1), np.ones(width))[width - 1 :]))
    for at in range(0, len(other) - width + 1, _EVERY * GRID // _COARSE):
        part = other[at : at + width]
        norm = float(np.sqrt((part**2).sum()))
        if norm < 1e-3:
            continue
        product = (transformed * np.conj(np.fft.rfft(part, size, axis=0))).sum(axis=1)
        match = np.fft.irfft(product, size)[: len(one) - width + 1] / energy[: len(one) - width + 1] / norm
        for _ in range(3):
            best = int(match.argmax())
            if match[best] < _ALIKE / 2:
                break
            yield at * _COARSE, (at - best) * _COARSE
            match[max(0, best - 3) : best + 4] = -1


def _thin(values: Floats) -> Floats:
    count = len(values) // _COARSE
    found: Floats = values[: count * _COARSE].reshape(count, _COARSE, -1).mean(axis=1)
    return found


def _likeness(old: Floats, part: Floats, at: int, shift: int) -> float:
    """Return the correlation of a part of the new cut that begins at `at` with the old cut."""
    import numpy as np

    begin = at - shift
    if begin < 0 or begin + len(part) > len(old):
        return -1.0
    other = old[begin : begin + len(part)]
    return float((part * other).sum() / max(1e-6, np.sqrt((part**2).sum() * (other**2).sum())))


def _products(old: Floats, new: Floats, shift: int) -> Floats:
    """Return for each moment of the new cut how like the old one it is, -1 to 1; -1 where the old one has ended.

    A moment counts by how much is going on around it, so that a quiet one says little.
    """
    import numpy as np

    found = np.full(len(new), -1, np.float32)
    first, last = max(0, shift), min(len(new), len(old) + shift)
    if first < last:
        one, other = old[first - shift : last - shift], new[first:last]
        usual = _running(np.sqrt((one**2).sum(axis=1) * (other**2).sum(axis=1)), _WINDOW * GRID)
        found[first:last] = np.clip((one * other).sum(axis=1) / np.maximum(1e-3, usual), -3, 3)
    return found


def _sounds(new: Floats) -> Floats:
    """Return 1 where the new cut can be heard and 0 where it is silent, which speaks for nothing."""
    import numpy as np

    found: Floats = (_running((new**2).sum(axis=1), _WINDOW * GRID) > 0.1).astype(np.float32)
    return found


def _bounded(found: list[Heard], old: Floats, new: Floats) -> tuple[Heard, ...]:
    """Settle to the moment where one stretch ends and the next begins, within a second of where it seemed."""
    import numpy as np

    bounded: list[Heard] = []
    for run in found:
        before = bounded[-1] if bounded else None
        if before is not None and before.shift == run.shift:
            bounded[-1] = Heard(before.first, run.last, run.shift)
            continue
        low, high = max(0, run.first - GRID), min(run.last, run.first + GRID)
        here = _products(old, new, run.shift)[low:high]
        there = np.full(high - low, _ALIKE)
        if before is not None and before.last == run.first:
            low = max(low, before.first)
            here, there = here[-(high - low) :], _products(old, new, before.shift)[low:high]
        gain = np.concatenate([[0.0], np.cumsum(there - here)])
        first = low + int(gain.argmax())
        if before is not None:
            end = first if before.last == run.first else min(before.last, first)
            bounded[-1] = Heard(before.first, end, before.shift)
        bounded.append(Heard(first, run.last, run.shift))
    return tuple(bounded)


def stretch(heard: Heard, length: int) -> Kept:
    """Return what was heard as a stretch of the old cut, whose `length` is in moments."""
    shift = Fraction(heard.shift, GRID)
    start = Fraction(max(0, heard.first - heard.shift - _LOOSE), GRID)
    last = heard.last - heard.shift
    end = None if last >= length - _LOOSE else Fraction(last, GRID)
    every = range(heard.first, heard.last, GRID // 4)
    return Kept(start, end, tuple(Anchor(Fraction(at - heard.shift, GRID), shift) for at in every))


def _unlike(old: Floats, new: Floats, heard: tuple[Heard, ...], name: str) -> Iterator[Finding]:
    """Yield a warning where what is kept sounds so different that it may be another take."""
    parts = [(_likeness(old, new[one.first : one.last], one.first, one.shift), one.last - one.first) for one in heard]
    total = sum(length for _, length in parts)
    like = sum(max(0.0, part) * length for part, length in parts) / total if total else 1.0
    if like < _SAME:
        message = f"the sound of the two cuts agrees to {like:.0%} only, expected {_SAME:.0%} or more"
        help_ = "look at each chapter: the music or the mix may differ, or the new cut may use another take"
        yield Finding("sound-differs", Severity.WARNING, Span(name), message, help_, "our own measurements")


def _finding(check: str, name: str, message: str, help_: str) -> Finding:
    return Finding(check, Severity.ERROR, Span(name), message, help_)
