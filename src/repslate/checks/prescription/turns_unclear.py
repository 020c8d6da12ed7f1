"""Where several exercises share a clock by turns, or intervals, the heading says whether they take turns.

Why: eight intervals of four exercises are two of each, or eight of each and four times as long.
Source: both are common practice, no source. In a block that starts every minute the exercises take turns, the trade's
    usage; where only its rounds are written, that is open too.
Wrong:
    ## Intervals · 8 × 20 s on / 10 s off
    ### Goblet squat
    ### Push-up
Right:
    ## Intervals · 8 × 20 s on / 10 s off · alternating
    ### Goblet squat
    ### Push-up
Fix: add “alternating” to the heading where one exercise has each turn, “all every turn” where all of them are done in
    each (Every 3 min for 5 rounds), “each exercise” where each has all the intervals. Until then the sets of each
    count as not written, and the time as if they took turns.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.block_parts import write_sharing
from repslate.model.quantity import write_range
from repslate.model.sets import is_unclear, turns_of
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield blocks of several exercises that go by turns or intervals and leave open whose each is."""
    for block in facts.episode.blocks:
        turns = turns_of(block)
        if turns is None or not block.exercises or not is_unclear(block):
            continue
        each = write_sharing("each", block.form)
        yield Finding(
            "turns-unclear",
            SEVERITY,
            block.span,
            f"{called(block)} has {write_range(turns)} {'turns' if block.turn_length else 'intervals'} and "
            f"{len(block.exercises)} exercises, expected it to say whether they take turns",
            f"add to the heading “· alternating” or “· {each}”",
        )
