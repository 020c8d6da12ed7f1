"""A block holds as many exercises as its name says: superset 2, tri-set 3, giant set and circuit 4 or more.

Why: the name tells the viewer what follows without rest; a superset of three is a tri-set.
Source: superset: NSCA handbook; tri-set: Weakley et al. 2017, Eur J Appl Physiol 117:1877–1889; circuit: Waller,
    Miller & Hannon 2011, Strength Cond J; giant set of four or more: common practice, no source.
Wrong:
    ## Superset A · 3 rounds · rest 90 s
    ### Goblet squat
    10 reps
    ### Push-up
    10 reps
    ### Glute bridge
    12 reps
Right:
    ## Tri-set A · 3 rounds · rest 90 s
    ### Goblet squat
    10 reps
    ### Push-up
    10 reps
    ### Glute bridge
    12 reps
Fix: call the block by the number of its exercises, or move an exercise. A small circuit is only a warning.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.episode import BlockKind
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)

_SIZES = {
    BlockKind.SUPERSET: (2, 2, "exactly 2"),
    BlockKind.TRI_SET: (3, 3, "exactly 3"),
    BlockKind.GIANT_SET: (4, None, "at least 4"),
    BlockKind.CIRCUIT: (4, None, "at least 4"),
}
_RIGHT_NAME = {1: "Straight sets", 2: "Superset", 3: "Tri-set"}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield blocks with more or fewer exercises than their name says; an empty block is block-empty's business."""
    for block in facts.episode.blocks:
        if block.kind not in _SIZES or not block.exercises:
            continue
        fewest, most, expected = _SIZES[block.kind]
        count = len(block.exercises)
        if count >= fewest and (most is None or count <= most):
            continue
        yield Finding(
            "block-size",
            Severity.WARNING if block.kind is BlockKind.CIRCUIT else SEVERITY,
            block.span,
            f"{called(block)} holds {count} exercise{'' if count == 1 else 's'}, expected {expected}",
            f"call it {_RIGHT_NAME.get(count, 'Giant set')}, or move an exercise in or out",
        )
