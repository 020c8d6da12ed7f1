"""A movement that is known to hurt people when it goes wrong carries a caution.

Why: a bar over the face, a bar on the back or a landing from a height forgives no ignorance, and the viewer trains
    alone.
Source: the library names the source with each hazard, such as NSCA on spotting, Kolber et al. 2013 on behind-the-neck
    work. That one caution answers for all hazards of the exercise is our choice.
Bad:
    ## Straight sets
    ### Barbell bench press
    3 × 8, rest 2 min
Good:
    ## Straight sets
    ### Barbell bench press
    3 × 8, rest 2 min

    Caution (spotter): Use a spotter or safety arms, and close the thumbs round the bar.
Mend: write a line that begins with Caution: under the exercise, or under the block for all of its exercises.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise
from repslate.model.library import load
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.ERROR
SAFETY = True


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises whose movement asks for a caution and that have none, neither own nor from their block."""
    library = load()
    kit = [words.text.casefold() for words in facts.episode.equipment]
    for block, exercise in facts.episode.exercises():
        if exercise.match is None or _has_caution(block, exercise):
            continue
        hazards = library.required(exercise.match, [*kit, *(words.text.casefold() for words in exercise.equipment)])
        if not hazards:
            continue
        lines = (f"Caution ({hazard.topics[0]}): {hazard.example}" for hazard in hazards)
        yield Finding(
            "caution-missing",
            SEVERITY,
            exercise.span,
            f"{called(exercise)} has no caution, expected a word on {' and '.join(hazard.slug for hazard in hazards)}: "
            + "; ".join(hazard.reason for hazard in hazards),
            "type under it, in your own words: " + " / ".join(lines),
            "; ".join(dict.fromkeys(hazard.source for hazard in hazards)),
        )


def _has_caution(block: Block, exercise: Exercise) -> bool:
    """Tell whether anything is said; whatever its topic, a caution counts."""
    return any(caution.words.text.strip() for caution in (*exercise.cautions, *block.cautions))
