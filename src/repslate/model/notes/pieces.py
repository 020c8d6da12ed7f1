"""The pieces of a typed line: its tokens with all that readers ask of them, told once since they ask it often."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from repslate.model.tokens import Kind, Token, scan


class Piece(NamedTuple):
    """A token, and what it is: `word` in small letters, `glued` to what stands before it, a number, a dash, "×"."""

    kind: Kind
    text: str
    start: int
    end: int
    glued: bool
    word: str
    is_number: bool
    is_dash: bool
    is_times: bool


def pieces(text: str) -> tuple[Piece, ...]:
    """Cut a line into pieces; the last is always END."""
    return tuple(map(_piece, _apart(scan(text))))


def _piece(token: Token) -> Piece:
    return Piece(
        token.kind, token.text, token.start, token.end, token.glued, token.word, token.is_number, token.is_dash,
        token.is_times,
    )  # fmt: skip


def _apart(tokens: tuple[Token, ...]) -> Iterator[Token]:
    """Yield the tokens, the times sign of "1xAMRAP" and "0.85xBodyweight" apart from the word behind it."""
    before = None
    for token in tokens:
        is_glued = token.glued and before is not None and before.kind is Kind.FIGURE
        if is_glued and token.kind is Kind.WORD and token.word[0] == "x" and len(token.text) > 2:
            yield Token(Kind.WORD, token.text[0], token.start, True)
            yield Token(Kind.WORD, token.text[1:], token.start + 1, True)
        else:
            yield token
        before = token
