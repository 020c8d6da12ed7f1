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
from repslate.model.forms import Form, by_size
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield blocks with more or fewer exercises than their name says; an empty block is block-empty's business."""
    for block in facts.episode.blocks:
        count = len(block.exercises)
        if not count or block.form.holds(count):
            continue
        yield Finding(
            "block-size",
            SEVERITY if block.form.back_to_back else Severity.WARNING,
            block.span,
            f"{called(block)} holds {count} exercise{'' if count == 1 else 's'}, expected {_size(block.form)}",
            f"call it {by_size(count).value}, or move an exercise in or out",
        )


def _size(form: Form) -> str:
    if form.counts_exercises:
        return f"exactly {form.fewest}"
    return f"at least {form.fewest}" if form.most is None else f"{form.fewest} to {form.most}"
