"""Every working exercise says how often: sets of its own, or the rounds of its block.

Why: without it the volume is unknown, to the reader and to every figure that is worked out from it. A list of what is
    done once, as on a mat, needs none, and is published as it stands: what says no sets counts as one.
Wrong:
    ## Straight sets
    ### Goblet squat
    10–12 reps, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10–12, rest 90 s
Fix: put the sets before the reps (3 × 10–12), or the rounds into the block's heading (Superset A · 3 rounds). A
    warm-up, a cool-down, a finisher, a test, a flow, work for time and a block with a clock are done once where nothing
    else is said.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, may_say_more, place
from repslate.facts import Facts
from repslate.model.episode import Block
from repslate.model.sets import done, sets_of, turns_of
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield blocks without rounds (once, at their heading) and straight sets without a number of sets."""
    for block in facts.episode.blocks:
        if block.rounds is not None or block.clock is not None or block.scheme is not None or turns_of(block):
            continue
        if block.form.rests_after:
            yield from _in_block(block)


def _in_block(block: Block) -> Iterator[Finding]:
    read = [exercise for exercise in block.exercises if not may_say_more(block, exercise)]
    silent = [one for one in read if done(block, one).work and sets_of(block, one) is None]
    if block.form.in_rounds and len(read) < len(block.exercises):
        return  # the words of one may say the rounds of all
    if block.form.in_rounds and silent and len(silent) == len(read):
        yield Finding(
            "sets-missing",
            SEVERITY,
            block.span,
            f"{called(block)} does not say how many rounds and counts as one, expected a number of rounds",
            f"write it into the heading: ## {block.name} · 3 rounds",
        )
        return
    for exercise in silent:
        yield Finding(
            "sets-missing",
            SEVERITY,
            place(exercise),
            f"{called(exercise)} does not say how many sets and counts as one, expected a number of sets",
            "put the sets before the reps, such as: 3 × 10–12",
        )
