"""The likeliest way through the shifts between two cuts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Run(NamedTuple):
    """Steps `first` to `last` (exclusive) of the new cut at the shift numbered `state`."""

    first: int
    last: int
    state: int


def runs(evidence: NDArray[np.floating[Any]], *, cut: float, foreign: float) -> list[Run]:
    """Return the runs at one shift in order, without what fits none; by the Viterbi algorithm (Viterbi 1967).

    `evidence` is steps × shifts: what speaks for a shift at a step, against it below 0. A change of shift costs `cut`;
    beginning or ending what fits none costs `foreign`, and such steps count 0.
    """
    path = _path(evidence, cut, foreign)
    found = []
    begin = 0
    for nth in range(1, len(path) + 1):
        if nth == len(path) or path[nth] != path[begin]:
            if path[begin] < evidence.shape[1]:
                found.append(Run(begin, nth, path[begin]))
            begin = nth
    return found


def _path(evidence: NDArray[np.floating[Any]], cut: float, foreign: float) -> list[int]:
    """Return the state of each step; the last state, one past the shifts, is what fits none."""
    import numpy as np

    count, none = evidence.shape
    score = np.full(none + 1, -foreign, np.float64)
    score[none] = 0.0
    back = np.empty((count, none + 1), np.int32)
    stay = np.arange(none + 1)
    for nth in range(count):
        best = int(score.argmax())
        leave = float(score[best]) - foreign
        enter, source = max((float(score[best]) - cut, best), (float(score[none]) - foreign, none))
        back[nth] = np.where(score >= enter, stay, source)
        back[nth, none] = none if score[none] >= leave else best
        ended = max(float(score[none]), leave)
        score = np.maximum(score, enter)
        score[:none] += evidence[nth]
        score[none] = ended
    state = int(score.argmax())
    path = []
    for nth in range(count - 1, -1, -1):
        path.append(state)
        state = int(back[nth, state])
    return path[::-1]
