"""A movement that is known to hurt people when it goes wrong carries a caution that speaks of what may happen.

Why: a bar over the face, a bar on the back or a landing from a height forgives no ignorance, and the viewer trains
    alone.
Source: the library names the source with each hazard, such as NSCA on spotting, Kolber et al. 2013 on behind-the-neck
    work. A spotter or safeties is asked for where a free bar is overhead, on the back, racked on the shoulders or over
    the face (NSCA), never in a fast lift; under a bar that pins whoever fails it is an error. What weighs as an error
    and what as a warning is our choice. An error is answered by the sentence, not by its brackets alone.
Wrong:
    ## Straight sets
    ### Barbell bench press
    3 × 8, rest 2 min

    Caution (shoulders): Keep the elbows half way in.
Right:
    ## Straight sets
    ### Barbell bench press
    3 × 8, rest 2 min

    Caution (spotter): Use a spotter or safety arms, and close the thumbs round the bar.
Fix: write a line that begins with Caution: under the exercise, or under the block for all of its exercises. What is
    true of the room and the kit, such as a chair or a band, may stand once under ## Safety.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.episode import Block, Exercise
from repslate.source.finding import Finding, Severity
from repslate.training.hazards import Topic, unanswered
from repslate.training.movement import is_working

SEVERITY = Severity.ERROR
MILDER = (Severity.WARNING,)
SAFETY = True


def find(facts: Facts) -> Iterator[Finding]:
    """Yield exercises with what their cautions leave out: an error where it is a matter of safety, else a warning."""
    for exercise, missing in _once_a_movement(facts):
        lines = {topic.line.partition(": ")[2]: topic.line for topic in reversed(missing)}
        yield Finding(
            "caution-missing",
            SEVERITY if any(topic.safety for topic in missing) else Severity.WARNING,
            exercise.span,
            f"{called(exercise)} needs {_as_many(missing)}: "
            + "; ".join(dict.fromkeys(topic.reason for topic in missing)),
            "type under it, in your own words: " + " / ".join(reversed(lines.values())),
            "; ".join(dict.fromkeys(topic.source for topic in missing)),
        )


def _as_many(missing: tuple[Topic, ...]) -> str:
    one, *others = (f"on {topic.words}" for topic in missing)
    return f"{len(missing)} cautions, {one} and {' and '.join(others)}" if others else f"a caution {one}"


def _once_a_movement(facts: Facts) -> Iterator[tuple[Exercise, tuple[Topic, ...]]]:
    """Yield each movement that leaves something out, at its first working set, with all that its lines leave out.

    One caution answers for every line of the movement, so one finding asks for it.
    """
    lines: dict[str, list[tuple[Block, Exercise, tuple[Topic, ...]]]] = {}
    for block, exercise in facts.episode.exercises():
        if missing := unanswered(exercise, block, facts.episode, library=facts.library):
            lines.setdefault(exercise.movement, []).append((block, exercise, missing))
    for group in lines.values():
        _, shown, _ = next((line for line in group if is_working(line[0])), group[0])
        topics: dict[str, Topic] = {}
        for topic in (topic for _, _, missing in group for topic in missing):
            if topic.slug not in topics or (topic.safety and not topics[topic.slug].safety):
                topics[topic.slug] = topic
        yield shown, tuple(topics.values())
