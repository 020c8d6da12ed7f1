"""No figure of a prescription is zero.

Why: a nought is a slip of the keyboard, and on a card it reads as an order to leave the exercise out.
Source: common practice, no source. A rest of 0 s is left alone: it says "go straight on".
Wrong:
    ## Straight sets
    ### Goblet squat
    0 × 10, rest 90 s
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
Fix: write the figure you meant, or take the exercise out.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.figures import Figure, block_figures, figures
from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

SEVERITY = Severity.ERROR


_NOUGHT_MEANS_SOMETHING = {"rest", "reserve"}  # go straight on; nothing left in reserve
_JUDGED_ELSEWHERE = {"exertion"}  # effort-off-scale


def find(facts: Facts) -> Iterator[Finding]:
    """Yield every figure whose lower end is zero."""
    for block in facts.episode.blocks:
        for figure in block_figures(block):
            yield from _judge(figure, called(block), block.span)
    for _, exercise in prescribed(facts):
        for figure in figures(exercise.prescription):
            yield from _judge(figure, called(exercise), place(exercise))


def _judge(figure: Figure, name: str, span: Span) -> Iterator[Finding]:
    if figure.low > 0 or figure.what in _NOUGHT_MEANS_SOMETHING | _JUDGED_ELSEWHERE:
        return
    yield Finding(
        "figure-zero",
        SEVERITY,
        span,
        f"{name} has {figure.words}, expected a figure above zero",
        "write the figure you meant, or take the exercise out",
    )
