"""The warm-up stands before the work, and the cool-down after it.

Why: article, card and film are followed from the top down; a cool-down in front of the heavy sets cools for nothing.
Source: warm-up, work, cool-down: NSCA and ACSM teaching texts, from memory. A second warm-up between two parts of the
    work is left alone.
Wrong:
    ## Cool-down
    ### Standing calf stretch
    60 s per side

    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s

    ## Cool-down
    ### Standing calf stretch
    60 s per side
Fix: move the block to where it is done: the warm-up to the front, the cool-down to the end.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity
from repslate.training.movement import is_working

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield cool-downs that work follows, and warm-ups that only stand behind work."""
    blocks = [block for block in facts.episode.blocks if block.exercises]
    work = [at for at, block in enumerate(blocks) if is_working(block)]
    if not work:
        return
    first, last = work[0], work[-1]
    for at, block in enumerate(blocks):
        if block.form.stands == "after" and at < last:
            where, side, other = "before", "after", blocks[last]
        elif block.form.stands == "before" and at > last:
            where, side, other = "after", "before", blocks[first]
        else:
            continue
        yield Finding(
            "block-order",
            SEVERITY,
            block.span,
            f"{called(block)} stands {where} {called(other)}, expected it {side} the work",
            f"move it and its exercises {'behind' if side == 'after' else 'in front of'} {called(other)}",
        )
