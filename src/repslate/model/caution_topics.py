"""What cautions speak of: each topic of topics.yaml with its words in writing and in talk.

Adding one takes no Python.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from repslate.model.library_files import FOLDER, mapping, read, text, texts


@dataclass(frozen=True, slots=True)
class CautionTopic:
    """How people speak of one topic; topics.yaml explains the columns.

    `words`, `brackets` and `written` are "" where no written caution is asked for. `brackets` and `written` are
    patterns, `part` and `felt` phrases of talk. `kinds` are joint, unfelt, hit, form and a.
    """

    slug: str
    words: str
    brackets: str
    written: str
    everywhere: bool
    part: tuple[str, ...]
    felt: tuple[str, ...]
    kinds: tuple[str, ...]


@cache
def caution_topics() -> dict[str, CautionTopic]:
    """Return every topic by its slug, the word for the brackets of "Caution (knees): …", in the order of the file."""
    found = {}
    for slug, node in mapping(read(FOLDER / "topics.yaml")).items():
        row = mapping(node)
        words, brackets, part, felt = (text(row.get(key, "")) for key in ("words", "brackets", "part", "felt"))
        written = "|".join(texts(row.get("written", [])))
        kinds = texts(row.get("is", []))
        found[slug] = CautionTopic(slug, words, brackets, written, "where" in row, _listed(part), _listed(felt), kinds)
    return found


def _listed(phrases: str) -> tuple[str, ...]:
    return tuple(phrase.strip() for phrase in phrases.split("|") if phrase)
