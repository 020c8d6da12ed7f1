"""Every exercise says what to do: reps, a time, a distance, or max.

Why: a viewer who has only the card in hand cannot train a bare name, and no later stage may guess a figure.
Wrong:
    ## Straight sets
    ### Goblet squat
    Stand tall between the sets and keep your elbows inside the knees.
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10–12, rest 90 s
Fix: write the prescription on the first line under the exercise's heading, such as 3 × 10–12, rest 60–90 s. In a
    warm-up, a cool-down or a flow this is only a warning; a block with a clock of its own, with a scheme of repetitions
    (21-15-9) or with intervals needs no figure.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called, place, prescribed
from repslate.facts import Facts
from repslate.model.prescription import WordedLoad
from repslate.model.sets import done
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises without sets and without work."""
    for block, exercise in prescribed(facts):
        said = done(block, exercise)
        is_in_words = bool(said.words) or isinstance(said.load, WordedLoad)  # "build to a heavy single"
        if said.sets is not None or said.work is not None or said.cluster or is_in_words:
            continue
        if block.in_words and any(letter.isdigit() for letter in block.name):
            continue  # its heading may say it for all, as intervals do
        if block.clock is not None and not block.form.on_the_clock:
            continue
        yield Finding(
            "nothing-to-do",
            Severity.WARNING if block.form.stands or block.form.is_easy else SEVERITY,
            place(exercise),
            f"{called(exercise)} has no sets, no reps and no time, expected something to do",
            "write it on the first line under the heading, such as: 3 × 10–12, rest 60–90 s",
        )
