"""The words that cautions are made of: parts of the body, how they make themselves felt, cases, orders.

They stand in model/topics.yaml and caution_words.txt; here they are found in talk.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from repslate.model.caution_topics import caution_topics
from repslate.speech.phrases import phrases
from repslate.speech.words import Word


@dataclass(frozen=True, slots=True)
class Sign:
    """Words `first` to `last` that mean `value`."""

    first: int
    last: int
    value: str


Table = Mapping[str, tuple[tuple[tuple[str, ...], str], ...]]


def table(listed: Mapping[str, Iterable[str]]) -> Table:
    """Return the phrases listed for each value by their first word, the longest first."""
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for value, each in listed.items():
        for phrase in each:
            said = tuple(phrase.split())
            found.setdefault(said[0], []).append((said, value))
    return {first: tuple(sorted(every, key=lambda one: -len(one[0]))) for first, every in found.items()}


def table_of(*names: str) -> Table:
    """Return the phrases that caution_words.txt lists under some names."""
    return table({name: _WORDS[name] for name in names})


def is_kind(topic: str, kind: str) -> bool:
    """Tell whether a topic is of a kind that topics.yaml explains, such as "joint"."""
    return kind in _TOPICS[topic].kinds


_TOPICS = caution_topics()
_WORDS = phrases("caution_words.txt")
LISTED = {name: frozenset(listed) for name, listed in _WORDS.items()}
JOINTS = frozenset(slug for slug, topic in _TOPICS.items() if "joint" in topic.kinds)

_FELT = {slug: topic.felt for slug, topic in _TOPICS.items() if topic.felt}
NAMED = frozenset(_FELT)  # felt as something of its own: the topic needs no part
BODY = table({slug: topic.part for slug, topic in _TOPICS.items()})
TROUBLE = table({kind: _WORDS[kind] for kind in ("pain", "moan", "slip", "felt", "tired")} | _FELT)
OPENS = table_of("if", "any", "before")
PROTECT = table_of("watch", "mind", "keep", "hold breath", "ask")


def signs(said: Sequence[str], phrases: Table) -> tuple[Sign, ...]:
    """Return every phrase of a table that is said, the longest where several begin with the same word."""
    found: list[Sign] = []
    at = 0
    while at < len(said):
        sign = next(
            (
                Sign(at, at + len(phrase) - 1, value)
                for phrase, value in phrases.get(said[at], ())
                if tuple(said[at : at + len(phrase)]) == phrase
            ),
            None,
        )
        if sign:
            found.append(sign)
        at = sign.last + 1 if sign else at + 1
    return tuple(found)


def parts_said(said: Sequence[str]) -> tuple[Sign, ...]:
    """Return every part of the body that is named; "your back" is one, "the back knee" and "step back" are none."""
    backs = [
        Sign(at, at, "back")
        for at, word in enumerate(said)
        if word == "back"
        and at
        and said[at - 1] in LISTED["own"]
        and "".join(said[at + 1 : at + 2]) not in LISTED["back of"]
    ]
    named = signs(said, BODY)
    taken = {at for one in named for at in range(one.first, one.last + 1)}
    return tuple(sorted([*named, *(one for one in backs if one.first not in taken)], key=lambda one: one.first))


def bare(words: Iterable[Word]) -> list[str]:
    """Return the words without the ends that only bind them ("knee's" is "knee")."""
    return [word.text.removesuffix("'s").removesuffix("'re") for word in words]


def topics_in(text: str) -> frozenset[str]:
    """Return every part and feeling that a written text names; a back is meant wherever the word stands."""
    said = [
        word.removesuffix("'s") for word in re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)*", text.casefold().replace("’", "'"))
    ]
    felt = {one.value for one in signs(said, TROUBLE) if one.value in NAMED}
    return frozenset({one.value for one in signs(said, BODY)} | felt | ({"back"} if "back" in said else set()))
