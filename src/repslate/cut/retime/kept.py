"""What a new cut keeps of an old one."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from statistics import median_low
from typing import NamedTuple

AGREE = Fraction(1, 10)  # seconds within which two anchors say the same shift
_LOCAL = 40  # anchors on each side of a moment that place it


class Anchor(NamedTuple):
    """A moment of the old cut and new minus old seconds there; `weight` tells how far to trust it."""

    time: Fraction
    shift: Fraction
    weight: int = 1


@dataclass(frozen=True, slots=True)
class Kept:
    """A stretch of the old cut that the new one has: `start` and `end` in old seconds, `end` None for ever after.

    `anchors` are moments of it with their shift, in order, at least one.
    """

    start: Fraction
    end: Fraction | None
    anchors: tuple[Anchor, ...]

    def holds(self, time: Fraction) -> bool:
        """Tell whether the stretch has the moment."""
        return self.start <= time and (self.end is None or time < self.end)

    def shift(self, time: Fraction) -> Fraction:
        """Return new minus old seconds around a moment, as most of the anchors near it say."""
        return agreed(self.anchors, bisect_left(self.anchors, (time,)))


def agreed(anchors: Sequence[Anchor], at: int) -> Fraction:
    """Return the shift that most anchors around the place `at` agree on, those that follow rather than those before.

    The median would not do: a pause inside a cue moves all its words the same way.
    """
    first = max(0, at - _LOCAL)
    near = sorted(
        (one.shift, one.weight * (3 if nth >= at else 2)) for nth, one in enumerate(anchors[first : at + _LOCAL], first)
    )
    shifts = [shift for shift, _ in near]
    sums = [0, *accumulate(weight for _, weight in near)]
    spans = [(bisect_right(shifts, shift + AGREE), nth) for nth, shift in enumerate(shifts)]
    end, begin = max(spans, key=lambda span: sums[span[0]] - sums[span[1]])
    # Cue times that were left as they are give one and the same shift to the thousandth; shared-out ones scatter.
    middle, often = median_low(shifts[begin:end]), Counter(shifts[begin:end])
    return max(often, key=lambda shift: (often[shift], -abs(shift - middle)))
