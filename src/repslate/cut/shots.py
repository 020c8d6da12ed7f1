"""Where the picture changes, from a run of frames: hard cuts, dissolves, black.

Frames are compared cell by cell on a coarse grid: a change of exposure cancels inside a cell, and a name faded in over
the picture stays in few cells. How much counts as a cut is measured on the film's own frames, for no one figure suits
both a colourful and a pale room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from repslate.model.quantity import Range

if TYPE_CHECKING:
    from typing import Any

    from av import VideoFrame
    from numpy.typing import NDArray

    Numbers = NDArray[Any]
    Planes = tuple[Numbers, Numbers, Numbers]  # luma and both colours

LINES = 90  # lines that are kept of a picture; measured with every eighth of 720
ROWS, COLUMNS = 6, 8  # cells
SHARE = 30  # per cent of the cells that a cut changes
LEAST = 4.0  # grey levels: a keyframe refreshes a still, hard-pressed picture by up to 3.8 (measured on drawings)
OVER = 1.5  # times the 90th percentile of the film's own changes
BESIDE = 4  # frames on either side that a cut must stand out from
ACROSS = Fraction(3, 10)  # seconds before and after a frame that are compared for a dissolve
BLEND = 1 / 3  # how far from half way a blend may be; what moves across the picture is about 1/2 (measured on drawings)
BLACK, DARK = 4, 16  # grey levels above black: for the whole picture, for its brightest cell


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of frames without a gap, measured: arrays have one row a frame, in grey levels.

    `change` is each cell's difference from the frame before (the first row is 0), `across` the difference between the
    frames 0.3 s before and after (0 where there are none), `aside` how far the frame is from half way between those,
    as a share of their difference.
    """

    times: tuple[Fraction, ...]
    change: Numbers
    across: Numbers
    aside: Numbers
    light: Numbers
    brightest: Numbers


@dataclass(frozen=True, slots=True)
class Seen:
    """What a stretch shows: the first frames of new shots, the middles of dissolves and fades, and black."""

    cuts: tuple[Fraction, ...]
    dissolves: tuple[Fraction, ...]
    black: tuple[Range[Fraction], ...]


def thin(frame: VideoFrame) -> Planes:
    """Return about 90 lines of the three planes of a picture, every n-th pixel, without scaling, which costs more."""
    import numpy

    if frame.format.name not in {"yuv420p", "yuvj420p", "yuv422p", "yuvj422p", "yuv444p", "yuvj444p"}:
        frame = frame.reformat(format="yuv420p")
    step = max(1, frame.height // LINES)
    kept = []
    for plane in frame.planes[:3]:
        rows = numpy.frombuffer(memoryview(plane), numpy.uint8).reshape(plane.height, plane.line_size)
        kept.append(rows[::step, : plane.width : step].copy())
    return kept[0], kept[1], kept[2]


def measure(times: Sequence[Fraction], pictures: Sequence[Planes]) -> Stretch:
    """Measure frames that follow each other; `times` in seconds, at least one."""
    import numpy

    luma, blue, red = (numpy.stack(planes).astype(numpy.int16) for planes in zip(*pictures, strict=True))
    change = numpy.zeros((len(times), ROWS * COLUMNS), numpy.float32)
    change[1:] = _differ((luma[1:], blue[1:], red[1:]), (luma[:-1], blue[:-1], red[:-1]))
    across, aside = _across((luma, blue, red), _reach(times))
    cells = _cells(luma).mean(axis=(2, 4), dtype=numpy.float32).reshape(len(times), -1)
    return Stretch(tuple(times), change, across, aside, cells.mean(axis=1), cells.max(axis=1))


def _across(planes: Planes, reach: int) -> tuple[Numbers, Numbers]:
    """Return `across` and `aside` of a stretch; every second pixel does for a blend of whole pictures."""
    import numpy

    frames = len(planes[0])
    across, aside = numpy.zeros((2, frames), numpy.float32)
    if reach > 0 and frames > 2 * reach:
        before, here, after = (
            [plane[start : frames - 2 * reach + start, ::2, ::2] for plane in planes] for start in (0, reach, 2 * reach)
        )
        half = [(one + other) // 2 for one, other in zip(before, after, strict=True)]
        apart = _differ(after, before)
        across[reach : frames - reach] = _score(apart)
        aside[reach : frames - reach] = _differ(here, half).mean(axis=1) / numpy.maximum(apart.mean(axis=1), 1)
    return across, aside


def threshold(stretches: Sequence[Stretch]) -> float:
    """Return what a cell's change must exceed in a cut: 1.5 times the 90th percentile of these frames, or LEAST."""
    import numpy

    scores = [_score(stretch.change[1:]) for stretch in stretches if len(stretch.times) > 1]
    return max(LEAST, OVER * float(numpy.percentile(numpy.concatenate(scores), 90))) if scores else LEAST


def look(stretch: Stretch, above: float, *, black: int) -> Seen:
    """Return what a stretch shows; `above` is the threshold, `black` the grey level of black (16, in full range 0)."""
    runs = list(_dark_runs(stretch, black))
    cuts = set(_cuts(stretch, above))
    fades = []
    for first, last in runs:
        hard_in = first > 0 and _abrupt(stretch, first, range(first - 1, first - 1 - BESIDE, -1))
        hard_out = last + 1 < len(stretch.times) and _abrupt(stretch, last, range(last + 1, last + 1 + BESIDE))
        cuts |= {at for at, hard in ((first, hard_in), (last + 1, hard_out)) if hard}
        if first > 0 and last + 1 < len(stretch.times) and not (hard_in and hard_out):
            fades.append((first + last + 1) // 2)
    soft = {*fades, *_dissolves(stretch, above, cuts, runs, fades)}
    times = stretch.times
    return Seen(
        tuple(times[at] for at in sorted(cuts)),
        tuple(times[at] for at in sorted(soft)),
        tuple(Range(times[first], _until(times, last)) for first, last in runs),
    )


def _cells(planes: Numbers) -> Numbers:
    """Return frames × rows × lines × columns × pixels; what does not fill a cell at the right and below is left out."""
    frames, height, width = planes.shape
    tall, wide = height // ROWS, width // COLUMNS
    kept = planes[:, : tall * ROWS, : wide * COLUMNS]
    return kept.reshape(frames, ROWS, tall, COLUMNS, wide)


def _differ(one: Sequence[Numbers], other: Sequence[Numbers]) -> Numbers:
    """Return each cell's difference: luma about its mean in the cell, so that exposure cancels, and both colours."""
    import numpy

    total = numpy.zeros((one[0].shape[0], ROWS * COLUMNS), numpy.float32)
    for number, (a, b) in enumerate(zip(one, other, strict=True)):
        cells = _cells(a - b).astype(numpy.float32)
        if number == 0:
            cells -= cells.mean(axis=(2, 4), keepdims=True)
        total += numpy.abs(cells).mean(axis=(2, 4)).reshape(len(total), -1)
    return total


def _score(cells: Numbers) -> Numbers:
    """Return what the most changed 30 % of each frame's cells reach."""
    import numpy

    kept = ROWS * COLUMNS - -(-ROWS * COLUMNS * SHARE // 100)
    return numpy.partition(cells, kept, axis=1)[:, kept]


def _cuts(stretch: Stretch, above: float) -> Iterator[int]:
    """Yield the frames that stand out from four on either side in enough cells, and alone."""
    import numpy

    score = _score(stretch.change)
    for at in numpy.flatnonzero(score > above):
        before, after = stretch.change[max(1, at - BESIDE) : at], stretch.change[at + 1 : at + 1 + BESIDE]
        if not len(before) or not len(after):
            continue  # at the very edge of what was decoded there is nothing to compare with
        rise = stretch.change[at] - numpy.concatenate((before, after)).mean(axis=0)
        beside = max(float(score[at - 1]) if at > 1 else 0.0, float(score[at + 1]))
        if 100 * int((rise > above).sum()) >= SHARE * rise.size and score[at] > 2 * beside:
            yield int(at)


def _dark_runs(stretch: Stretch, black: int) -> Iterator[tuple[int, int]]:
    """Yield the first and last frame of every run of black."""
    dark = (stretch.light <= black + BLACK) & (stretch.brightest <= black + DARK)
    first = None
    for at, is_dark in enumerate([*map(bool, dark), False]):
        if is_dark and first is None:
            first = at
        elif not is_dark and first is not None:
            yield first, at - 1
            first = None


def _abrupt(stretch: Stretch, dark: int, outward: range) -> bool:
    """Tell whether the light beside a black frame is there at once: at least half of what four frames away have."""
    light = [float(stretch.light[at]) for at in outward if 0 <= at < len(stretch.times)]
    floor = float(stretch.light[dark])
    return 2 * (light[0] - floor) >= max(light) - floor


def _dissolves(
    stretch: Stretch, above: float, cuts: set[int], runs: Sequence[tuple[int, int]], fades: Sequence[int]
) -> Iterator[int]:
    """Yield the middles of dissolves: half way between two pictures that differ twice as much as is usual here.

    Within 0.2 s; five of seven were found in windows of 3 s on either side. A fast camera differs as much, but its
    middle frame is no blend of the two.
    """
    import numpy

    reach = _reach(stretch.times)
    across = stretch.across.copy()
    barred = {*cuts, *(at for first, last in runs for at in range(first, last + 2))}
    for at in barred:  # across a cut or black any two frames differ
        across[max(0, at - reach) : at + reach] = 0
    for at in fades:  # a fade's own way down and up, some 0.9 s on either side
        across[max(0, at - 3 * reach) : at + 3 * reach] = 0
    usual = float(numpy.median(across[across > 0])) if (across > 0).any() else 0.0
    least = max(above, 2 * usual)
    while len(across) and (peak := float(across.max())) >= least:
        first = last = int(across.argmax())
        while last + 1 < len(across) and across[last + 1] >= 0.95 * peak:
            last += 1
        middle = (first + last) // 2
        if stretch.aside[middle] <= BLEND:
            yield middle
        across[max(0, first - 2 * reach) : last + 2 * reach] = 0


def _reach(times: Sequence[Fraction]) -> int:
    """Return how many frames 0.3 s are."""
    length = times[-1] - times[0]
    return round(ACROSS * (len(times) - 1) / length) if length else 0


def _until(times: Sequence[Fraction], last: int) -> Fraction:
    """Return when the frame after `last` begins; after the end, what one frame lasts on the average."""
    if last + 1 < len(times):
        return times[last + 1]
    return times[last] + ((times[-1] - times[0]) / (len(times) - 1) if len(times) > 1 else 0)
