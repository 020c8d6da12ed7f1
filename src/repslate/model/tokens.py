"""One line of notation cut into tokens, and the reader that walks over them and collects findings.

Stands below the grammars of prescriptions and block headings, which both use it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from enum import StrEnum

from repslate.model.quantity import DIGITS, VULGAR
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

DASHES = "-–—−‐‑‒"
TIMES = "×*✕✖⨯"
LONGEST_MENDED = 200  # code points; longer lines get no mended copy with each finding, which keeps the work linear
NUMBER_WORDS = {
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9",
    "ten": "10", "eleven": "11", "twelve": "12", "fifteen": "15", "twenty": "20", "thirty": "30", "forty": "40",
    "sixty": "60", "ninety": "90",
}  # fmt: skip
_MEANT = NUMBER_WORDS | {"failure": "max"}


class Kind(StrEnum):
    """What a token is."""

    FIGURE = "figure"
    CLOCK = "clock"
    WORD = "word"
    MARK = "mark"
    END = "end"


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the line. `start` counts from 0; `glued` says that no blank stands before it."""

    kind: Kind
    text: str
    start: int
    glued: bool

    @property
    def end(self) -> int:
        """The place right after the token."""
        return self.start + len(self.text)

    @property
    def word(self) -> str:
        """The text in small letters, to compare with."""
        return self.text.lower()

    @property
    def is_number(self) -> bool:
        """Whether a quantity begins here."""
        return self.kind in (Kind.FIGURE, Kind.CLOCK)

    @property
    def is_dash(self) -> bool:
        """Whether this is a hyphen, a minus or a dash of any length."""
        return self.kind is Kind.MARK and self.text in DASHES

    @property
    def is_times(self) -> bool:
        """Whether this is a times sign in any of its typed forms."""
        return self.word == "x" or (self.kind is Kind.MARK and self.text in TIMES)


Place = tuple[Token, Token]
"""The first and the last token of what a finding is about."""


def scan(text: str) -> tuple[Token, ...]:
    """Cut a line into tokens; the last one is always END. A dot that ends an abbreviation or the line is dropped."""
    tokens: list[Token] = []
    at = 0
    while at < len(text):
        if text[at].isspace():
            at += 1
            continue
        kind, end = _token_at(text, at)
        token = Token(kind, text[at:end], at, at > 0 and not text[at - 1].isspace())
        if not (token.text == "." and token.glued and _dot_is_idle(tokens, text, end)):
            tokens.append(token)
        at = end
    return (*tokens, Token(Kind.END, "", tokens[-1].end if tokens else 0, False))


def _token_at(text: str, at: int) -> tuple[Kind, int]:
    if text[at] in VULGAR:
        return Kind.FIGURE, at + 1
    if text[at] in DIGITS:
        return _number_at(text, at)
    if text[at].isalpha():
        while at < len(text) and text[at].isalpha():
            at += 1
        return Kind.WORD, at
    return Kind.MARK, at + 1


def _number_at(text: str, at: int) -> tuple[Kind, int]:
    """Return kind and end of a number; a comma or point is decimal where digits stand right before and behind it.

    With a blank behind it, it separates.
    """
    kind = Kind.FIGURE
    end = _digits_from(text, at)
    while text[end : end + 1] == ":" and text[end + 1 : end + 2] in DIGITS:
        kind, end = Kind.CLOCK, _digits_from(text, end + 1)
    if kind is Kind.CLOCK:
        return kind, end
    if text[end : end + 1] in (".", ",") and text[end + 1 : end + 2] in DIGITS:
        return kind, _digits_from(text, end + 1)
    return kind, end + (text[end : end + 1] in VULGAR)


def _digits_from(text: str, at: int) -> int:
    while at < len(text) and text[at] in DIGITS:
        at += 1
    return at


def _dot_is_idle(before: list[Token], text: str, end: int) -> bool:
    ends_line = end == len(text)
    return bool(before) and (ends_line or (before[-1].kind is Kind.WORD and text[end].isspace()))


class Reader:
    """Walks over the tokens of one line; what it cannot read becomes a finding at its exact column."""

    def __init__(
        self,
        text: str,
        span: Span,
        *,
        known: Collection[str],
        example: str,
        first_error: Callable[[str], int | None] | None = None,
    ) -> None:
        """Begin at the first token.

        `known` are the words a misspelt one may stand for, `example` is a line that reads. `first_error` returns the
        column of the first error in another line (None: it has none); a guess is offered only if the line with it
        reads further than the line as typed.
        """
        self.text = text
        self.findings: list[Finding] = []
        self.failed = False
        self._span = span
        self._known = known
        self._example = example
        self._first_error = first_error
        self._tokens = scan(text)
        self._index = 0

    @property
    def here(self) -> Token:
        """The token to read next."""
        return self.ahead(0)

    @property
    def done(self) -> bool:
        """Whether the line is read to its end."""
        return self.here.kind is Kind.END

    @property
    def last(self) -> Token:
        """The token read last (the first token where none was)."""
        return self._tokens[max(0, self._index - 1)]

    def ahead(self, steps: int = 1) -> Token:
        """Return the token `steps` further on; END beyond the end."""
        return self._tokens[min(self._index + steps, len(self._tokens) - 1)]

    def take(self) -> Token:
        """Read one token."""
        token = self.here
        self._index = min(self._index + 1, len(self._tokens) - 1)
        return token

    def sees(self, *words: str) -> bool:
        """Tell whether these words or marks come next, in this order."""
        return all(self.ahead(step).word == word for step, word in enumerate(words))

    def take_all(self, *words: str) -> bool:
        """Read these words or marks if they come next, in this order."""
        if not self.sees(*words):
            return False
        self._index += len(words)
        return True

    def take_any(self, *words: str) -> bool:
        """Read one token if it is one of these words or marks."""
        return any(self.take_all(word) for word in words)

    def error(self, check: str, place: Place, message: str, mend: str = "", because: str = "") -> None:
        """Add an error about the tokens of `place`."""
        self.failed = True
        self.findings.append(Finding(check, Severity.ERROR, self._span_of(place), message, mend, because))

    def note(self, check: str, place: Place, message: str, mend: str = "") -> None:
        """Add a note about the tokens of `place`."""
        self.findings.append(Finding(check, Severity.NOTE, self._span_of(place), message, mend))

    def unexpected(self, expected: str) -> None:
        """Add the error that the next token is not what was expected, with the mended line if it can be guessed."""
        token = self.here
        place = (token, token)
        if token.kind is Kind.MARK and token.text.isnumeric():
            mend = "type the figure with the digits 0 to 9"
            self.error("notation-figure", place, f"found the digit {quote(token)}, expected one of 0 to 9", mend)
        else:
            self.error("notation-unread", place, f"found {quote(token)}, expected {expected}", self._guess(token))

    def typed(self, place: Place) -> str:
        """Return what was typed there."""
        return self.text[place[0].start : place[1].end]

    def mended(self, place: Place, text: str) -> str:
        """Return the advice to write the line with the tokens of `place` replaced by `text`."""
        if len(self.text) > LONGEST_MENDED:
            return f'write "{text}" there'
        return f'write "{self._with(place, text)}"'

    def _guess(self, token: Token) -> str:
        if token.word in _MEANT:
            return self.mended((token, token), _MEANT[token.word])
        if token.kind is Kind.WORD and self._first_error and len(self.text) <= LONGEST_MENDED:
            near = nearest(token.word, self._known)
            error = self._first_error(self._with((token, token), near)) if near else 0
            if near and (error is None or error > token.start + len(near)):
                return self.mended((token, token), near)
            rest = (token, self._end_of_part())
            if token.word not in self._known and self._first_error(self._with(rest, "")) is None:
                return f'{self.mended(rest, "")}, and "{self.typed(rest)}" on a line of its own below'
        return f'write figures and the words of the notation only, as in "{self._example}"'

    def _end_of_part(self) -> Token:
        steps = 0
        while self.ahead(steps + 1).kind is not Kind.END and self.ahead(steps + 1).text not in (",", ";", "·"):
            steps += 1
        return self.ahead(steps)

    def _with(self, place: Place, text: str) -> str:
        before = self.text[: place[0].start]
        return ((before if text else before.rstrip()) + text + self.text[place[1].end :]).strip(" ,;·")

    def _span_of(self, place: Place) -> Span:
        return self._span.part(place[0].start, place[1].end - place[0].start)


def quote(token: Token) -> str:
    """Name a token in a message: in quotes, shortened, an invisible character by its code point."""
    if token.kind is Kind.END:
        return "the end of the line"
    if not token.text.isprintable():
        return f"an invisible character (U+{ord(token.text):04X})"
    return f'"{token.text}"' if len(token.text) <= 30 else f'"{token.text[:29]}…"'


def nearest(word: str, known: Collection[str]) -> str | None:
    """Return the known word that `word` is a slip of the keyboard away from: one letter in four, at most two."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    slips = min(2, len(word) // 4)
    if not slips or len(word) > 30 or word in known:
        return None
    found = process.extractOne(word, tuple(known), scorer=OSA.distance, score_cutoff=slips)
    return str(found[0]) if found else None
