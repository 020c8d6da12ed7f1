"""Where a chapter's start lies in the cut: how far from a shot change, in black or not, before or after its name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from repslate.model.quantity import Range

if TYPE_CHECKING:
    from repslate.cut.named import Mention
    from repslate.cut.video import Film

SOON = Fraction(20)  # seconds: how long after the start of its chapter an exercise may stay unnamed (our choice)
_LEAD = Fraction(1)  # seconds: a name said so shortly before the start belongs to it (our choice)


@dataclass(frozen=True, slots=True)
class Naming:
    """Whether an exercise is named `soon` after its chapter starts, and the nearest mention; None if nowhere."""

    soon: bool
    mention: Mention | None


def nearest_shot(film: Film, time: Fraction) -> Fraction | None:
    """Return the shot change nearest to `time`, the later of two; None where none was found in what was looked at.

    Cuts, the middles of dissolves and the film's own start count. Seconds that nobody has looked at say nothing.
    """
    if time == 0:
        return time
    seen = next((part for part in film.looked_at if part.low <= time <= part.high), None)
    if seen is None:
        return None
    inside = [shot for shot in (*film.shots, *film.dissolves) if seen.low <= shot <= seen.high]
    return min(inside, key=lambda shot: (abs(shot - time), -shot), default=None)


def black_at(film: Film, time: Fraction) -> Range[Fraction] | None:
    """Return the stretch of black that `time` lies in. At the film's own start black is no fault: a fade begins so."""
    return None if time == 0 else next((part for part in film.black if part.low <= time < part.high), None)


def naming(exercise: str, start: Fraction, said: Sequence[Mention]) -> Naming:
    """Return how an exercise's chapter that starts at `start` goes with what is said.

    A mention in the cue that runs at the start counts as soon; elsewhere only mentions that mean nothing else count.
    """
    own = [mention for mention in said if mention.exercise == exercise]
    for mention in own:
        if start - _LEAD <= mention.cue.start <= start + SOON or mention.cue.start <= start < mention.cue.end:
            return Naming(True, mention)
    sure = [mention for mention in own if mention.sure]
    return Naming(False, min(sure, key=lambda mention: abs(mention.cue.start - start), default=None))


def better_start(film: Film | None, start: Fraction, named: Naming | None, tolerance: Fraction) -> Fraction | None:
    """Return where a chapter should start, None where nothing says that it stands wrong.

    Where its exercise is named only elsewhere, that cue; else the end of black; else the shot change that is further
    away than `tolerance`: what lies near a wholly wrong time says little.
    """
    if named and not named.soon and named.mention:
        return named.mention.cue.start
    if film and (black := black_at(film, start)):
        return black.high
    if film and (shot := nearest_shot(film, start)) is not None and abs(shot - start) > tolerance:
        return shot
    return None
