"""Kit that the text asks for stands in the list of equipment, and a cue speaks of no other exercise's kit.

Why: whoever packed by the list stands there without it; and a cue about the bench under a standing lift was pasted
    from another exercise.
Source: common practice, no source.
Wrong:
    ---
    format: 1
    title: On the mat
    equipment: [mat]
    ---
    ## Straight sets
    ### Reverse lunge
    3 × 10 per side, rest 90 s

    Hold a dumbbell in each hand and step back.
Right:
    ---
    format: 1
    title: On the mat
    equipment: [mat, two dumbbells]
    ---
    ## Straight sets
    ### Reverse lunge
    3 × 10 per side, rest 90 s

    Hold a dumbbell in each hand and step back.
Fix: put it on the list, or take it out of the text; a cue of another exercise belongs there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain

from repslate.checks.shared import Text, called, quoted, told
from repslate.facts import Facts
from repslate.model.episode import Episode, Exercise
from repslate.model.prose_figures import sentences
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_KIT = (
    r"dumbbell|kettlebell|barbell|bench|resistance\s+band|mini\s?band|box|cable|medicine\s+ball|sandbag|sled"
    r"|foam\s+roller"
)
_BAR = re.compile(r"(?i)\b(?:to|over|under|off|above|onto)\s+the\s+(?P<kit>bar)\b")
_ASKED = re.compile(
    rf"(?i)\b(?:hold(?:ing)?|with|us(?:e|ing)|grab|pick\s+up|take|on|onto|across)\s+"
    rf"(?:(?:your|the|a|an|both|two|one|each|light|heavy|flat|weight|low|high)\s+){{1,3}}(?P<kit>{_KIT})(?:e?s)?\b"
)
_ELSEWHERE = re.compile(r"(?i)\b(?:if|or|instead|without|no|not|never|could|can|later|next)\b")


def find(facts: Facts) -> Iterator[Finding]:
    """Yield kit that neither the list nor the exercise knows, and cues about what only another exercise needs."""
    episode = facts.episode
    listed = " ".join(word.text.casefold() for word in episode.equipment)
    for _, exercise in episode.exercises():
        own = _own(exercise)
        cues = {cue.span for cue in exercise.cues}
        for text in told(exercise):
            is_cue = text.span in cues
            for found in _asked(text):
                kit = " ".join(found["kit"].casefold().split())
                other = _other(episode, exercise, kit) if is_cue and exercise.match and kit not in own else ""
                if not other and (not listed or kit in listed or kit == "bar"):
                    continue
                yield Finding(
                    "kit-unlisted",
                    SEVERITY,
                    text.at(found),
                    f"the text of {called(exercise)} says {quoted(found)}, "
                    + (f"which is what {other} needs" if other else "which the list of equipment does not name")
                    + ", expected kit of this exercise that stands on the list",
                    f"put “{kit}” on the list of equipment, or take it out of the text",
                )


def _asked(text: Text) -> Iterator[re.Match[str]]:
    for sentence in sentences(text.words):
        if not _ELSEWHERE.search(sentence[0]):
            for pattern in (_ASKED, _BAR):
                yield from pattern.finditer(text.words, sentence.start(), sentence.end())


def _own(exercise: Exercise) -> str:
    """Return in words all that an exercise may be done with."""
    needed = exercise.match.entry.equipment if exercise.match else ()
    said = (one.text for one in exercise.equipment)
    return " ".join(chain((exercise.name,), needed, said)).casefold()


def _other(episode: Episode, exercise: Exercise, kit: str) -> str:
    """Return the exercise that needs a piece of kit where this one does not; "" for none."""
    others = (one for _, one in episode.exercises() if one is not exercise)
    return next((called(one) for one in others if kit in _needed(one)), "")


def _needed(exercise: Exercise) -> str:
    """Return in words what an exercise cannot be done without."""
    needed = exercise.match.equipment if exercise.match else ()
    said = (one.text for one in exercise.equipment)
    return " ".join(one for one in chain(needed, said) if " or " not in one).casefold()
