"""What coaches' words mean: one small file a language, all read together, since many a plan mixes two."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from repslate.model.notes.pieces import Piece, pieces

LANGUAGES = ("en", "de", "fr", "es", "it", "pt", "sv", "nl")
#: One sign for each that keyboards and telephones make of it; as long as the text, so that places stay.
_SIGNS = str.maketrans(
    dict.fromkeys("’ʼ‘′ʹ´`", "'") | dict.fromkeys("“”″„»«", '"') | dict.fromkeys("\t\u00a0\u202f", " ")
)


#: "10,10,8": three or more are no decimal fraction.
_LIST = re.compile(r"(?<![\d.,])\d{1,3}(?:,\d{1,3}){2,}(?![\d.])")


class Phrase(NamedTuple):
    """A spelling in words and signs, and all that it may mean."""

    words: tuple[str, ...]
    meanings: frozenset[str]


def plain(text: str) -> str:
    """Return a text of the same length with one apostrophe, one inch sign and one blank."""
    return _LIST.sub(lambda found: found[0].replace(",", "/"), text.translate(_SIGNS))


@cache
def _spellings() -> dict[str, tuple[str, ...]]:
    """Return the spellings of each meaning, in all languages."""
    found: dict[str, list[str]] = {}
    for language in LANGUAGES:
        for line in files(__package__).joinpath("words", f"{language}.txt").read_text("utf-8").splitlines():
            meaning, colon, spellings = line.partition(": ")
            if colon and not line.startswith("#"):
                found.setdefault(meaning, []).extend(spellings.split(" | "))
    return {meaning: tuple(some) for meaning, some in found.items()}


@cache
def listed(name: str) -> frozenset[str]:
    """Return a list of single words ("=name: …" in the files), which stand beside figures and mean none."""
    return frozenset(_spellings()[f"={name}"])


@cache
def phrases() -> dict[str, tuple[Phrase, ...]]:
    """Return every phrase by its first word, the longest first."""
    meanings: dict[tuple[str, ...], set[str]] = {}
    for meaning, spellings in _spellings().items():
        if not meaning.startswith("="):
            for spelling in spellings:
                words = tuple(piece.word for piece in pieces(plain(spelling)) if piece.text)
                meanings.setdefault(words, set()).add(meaning)
    first: dict[str, list[Phrase]] = {}
    for words, found in meanings.items():
        first.setdefault(words[0], []).append(Phrase(words, frozenset(found)))
    return {word: tuple(sorted(some, key=lambda phrase: -len(phrase.words))) for word, some in first.items()}


def meanings(tokens: tuple[Piece, ...]) -> tuple[dict[str, int], ...]:
    """Return for each token what the phrases that begin there may mean, each with the token behind the longest."""
    known = phrases()
    return tuple(_beginning(tokens, at, known.get(token.word, ())) for at, token in enumerate(tokens))


def _beginning(tokens: tuple[Piece, ...], at: int, some: tuple[Phrase, ...]) -> dict[str, int]:
    found: dict[str, int] = {}
    for phrase in some:  # the longest first
        end = at + len(phrase.words)
        if end >= len(tokens) or any(tokens[at + step].word != word for step, word in enumerate(phrase.words)):
            continue
        if phrase.words[0] == "/" and len(phrase.words) > 1 and not tokens[at + 1].glued:
            continue
        for meaning in phrase.meanings:
            found.setdefault(meaning, end)
    return found
