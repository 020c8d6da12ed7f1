"""Every picture an episode shows, for the checks on pictures."""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.facts import Facts
from repslate.model.episode import Picture

_OUTSIDE = re.compile(r"^(?:[A-Za-z][A-Za-z0-9+.-]*:|[/\\~])|(?:^|[/\\])\.\.(?:[/\\]|$)")


def pictures(facts: Facts) -> Iterator[Picture]:
    """Yield the episode's own picture, then those of the exercises in order."""
    if facts.episode.picture is not None:
        yield facts.episode.picture
    for _, exercise in facts.episode.exercises():
        yield from exercise.pictures


def is_outside(path: str) -> bool:
    """Tell whether a path leaves the episode's folder: absolute, "..", a drive letter, an address."""
    return _OUTSIDE.search(path) is not None
