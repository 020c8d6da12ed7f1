"""Instructions that hurt people: a short list of phrases, told from their negation.

They stand in harms.yaml. Reads words, not meaning.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from repslate.model.library_files import mapping, read, text, texts


@dataclass(frozen=True, slots=True)
class Harm:
    """One harmful instruction.

    `words` is a pattern in lower case, a blank standing for any white space. `instead` says what to ask for, `reason`
    why. `right_in` are the patterns of movement (library) in which the same words are a good cue.
    """

    words: str
    instead: str
    reason: str
    right_in: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Urged:
    """A harmful instruction as it stands in a text: its words and how many lines below the first."""

    harm: Harm
    words: str
    line: int


#: What turns an instruction into a warning against it.
_NOT = re.compile(
    r"(?:\b|(?<=\w)(?=n't))(?:no|not|never|n't|cannot|without|avoid|stop|nobody|none|nor|instead of|rather than"
    r"|dangerous|mistake|wrong|temptation)\b"
)
_CONDITION = re.compile(r"\b(?:if|when|whenever|once|unless|anyone who|people who|those who)\b")
_DENIED_LATER = re.compile(r"\b(?:wrong|nonsense|myth|rubbish|not true|never|is not|isn't|not here|does not|doesn't)\b")
_SENTENCE = re.compile(r"[.!?;:]\s+|\n\s*(?:\n|[-*]\s)|\bbut\b|\bthen\b")
_MARKUP = re.compile(r"[*_`\[\]“”\"]")


def harms(said: str, pattern: str = "") -> Iterator[Urged]:
    """Yield the harmful instructions that a text gives; "do not hold your breath" gives none.

    `pattern` is that of the movement the text is about, "" where it is about none.
    """
    clean = _MARKUP.sub("", said).replace("’", "'").lower()
    for harm, phrase in _patterns():
        if pattern and pattern in harm.right_in:
            continue
        for match in phrase.finditer(clean):
            if not _is_turned(clean, match):
                yield Urged(harm, " ".join(match[0].split()), clean.count("\n", 0, match.start()))


@cache
def known_harms() -> tuple[Harm, ...]:
    """Return every harmful instruction, in the order of the file."""
    rows = map(mapping, mapping(read(Path(__file__).with_name("harms.yaml"))).values())
    return tuple(
        Harm(text(row["words"]), text(row["instead"]), text(row["reason"]), frozenset(texts(row.get("right in", []))))
        for row in rows
    )


@cache
def _patterns() -> tuple[tuple[Harm, re.Pattern[str]], ...]:
    """Return each instruction with its compiled pattern, in which a blank is any white space."""
    return tuple((harm, re.compile(r"\b(?:" + harm.words.replace(" ", r"\s+") + ")")) for harm in known_harms())


def _is_turned(text: str, match: re.Match[str]) -> bool:
    """Tell whether the sentence warns of the matched words, or speaks of a case, rather than asking for them."""
    start = max((end.end() for end in _SENTENCE.finditer(text, 0, match.start())), default=0)
    later = _SENTENCE.search(text, match.end())
    before, after = text[start : match.start()], text[match.end() : later.start() if later else len(text)]
    clause = before.rpartition(",")[2]
    listed = bool(_NOT.match(before.lstrip()) or before.lstrip().startswith(("do not", "don't"))) and (
        re.search(r"\bor\b", clause + after) is not None
    )
    return bool(_NOT.search(clause) or listed or _CONDITION.search(clause) or _DENIED_LATER.search(after))
