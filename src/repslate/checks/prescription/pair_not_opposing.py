"""A pair that is said to be of opposing muscles is not for one and the same muscle.

Why: where one half is to rest while the other works, two exercises for the same muscle leave it no rest.
Source: pairs of opposing muscles: NSCA, Essentials of Strength Training and Conditioning. Pairs for one muscle are a
    method too; only the text tells which is meant.
Wrong:
    Each pair trains opposing muscles, so one rests while the other works.

    ## Superset A · 3 rounds · rest 60 s
    ### Biceps curl
    10 reps
    ### Hammer curl
    10 reps
Right:
    Each pair trains opposing muscles, so one rests while the other works.

    ## Superset A · 3 rounds · rest 60 s
    ### Biceps curl
    10 reps
    ### Bench dip
    10 reps
Fix: change one of the two exercises, or what the text says of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.checks.shared import called
from repslate.facts import Facts
from repslate.model.episode import Block, Episode, Exercise
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_PAIR = 2
_OPPOSING = re.compile(
    r"(?i)\b(?:oppos(?:ing|ite)\s+(?:muscles?|sides?|movements?)|antagonists?|push(?:es)?\s+and\s+(?:a\s+)?pulls?"
    r"|one\s+(?:half|muscle|side)\s+(?:of\s+you\s+)?(?:works|rests)\s+while)\b"
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield pairs for one muscle where the text says that the two are opposed."""
    episode = facts.episode
    for block in episode.blocks:
        is_pair = block.form.fewest == block.form.most == len(block.exercises) == _PAIR
        if not is_pair or not _is_said(episode, block):
            continue
        first, second = block.exercises
        shared = _mains(first) & _mains(second)
        if shared:
            yield Finding(
                "pair-not-opposing",
                SEVERITY,
                second.span,
                f"{called(first)} and {called(second)} are both for {min(shared)}, expected opposed muscles as "
                "the text says of the pair",
                "change one of the two exercises, or what the text says of them",
            )


def _is_said(episode: Episode, block: Block) -> bool:
    said = [*episode.lead, *block.prose, *(prose for one in block.exercises for prose in one.prose)]
    return any(_OPPOSING.search(one.markdown) for one in said)


def _mains(exercise: Exercise) -> frozenset[str]:
    """Return the muscles that bend or move the joint: an elbow bender's are all one group."""
    entry = exercise.match.entry if exercise.match else None
    return frozenset((entry.pattern, *entry.muscles)) if entry else frozenset()
