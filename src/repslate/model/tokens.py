"""One line of notation cut into tokens, and the reader that walks over them and collects findings."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection
from dataclasses import dataclass
from enum import StrEnum

from repslate.model.quantity import DIGITS, NUMBER_WORD, NUMBER_WORDS, VULGAR, number_in_words, read_number
from repslate.source.finding import Finding, Severity
from repslate.source.near import nearest
from repslate.source.span import Span

DASHES = "-–—−‐‑‒"
TIMES = "×*✕✖⨯"
_QUOTES = '“„"'
LONGEST_QUOTED = 60
LONGEST_MENDED = 200  # code points; longer lines get no fixed copy with each finding, which keeps the work linear
#: Words in double quotes, straight or typographic, that stand by themselves: not the inches of 24".
QUOTED = re.compile(
    r"""(?:(?<=[\s,;·(])|^)(?:“(?P<curly>[^“”„]*)”|„(?P<low>[^“”„]*)[“”]|"(?P<straight>[^"]*)")(?=[\s,;·.)]|$)"""
)
_NUMBER_WORD = re.compile(rf"\b{NUMBER_WORD}\b", re.IGNORECASE)
# A letter where a digit was meant: "1O", "l0"; not "10L", the left side.
_MISTYPED = re.compile("(?=.*[0-9])(?=.*[OoIl])[Il]?[0-9Oo]*")
_COUNTED_BEHIND = ("set", "sets", "rep", "reps", "repetitions", "load", "weight", "rpe", "rir", "leave", "tempo")
_DIGITS_MEANT = str.maketrans("OoIl", "0011")


class Kind(StrEnum):
    """What a token is."""

    FIGURE = "figure"
    CLOCK = "clock"
    WORD = "word"
    MARK = "mark"
    QUOTED = "words in quotes"
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
    def inside(self) -> str:
        """What stands in the quotes."""
        return self.text[1:-1].strip()

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
        """Whether this is a times sign in any of its typed forms, the Cyrillic letter that looks like x among them."""
        return self.word in ("x", "х", "by") or (self.kind is Kind.MARK and self.text in TIMES)


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
        kind, end = _seconds_at(text, at, tokens) or _token_at(text, at)
        token = Token(kind, text[at:end], at, at > 0 and not text[at - 1].isspace())
        if not (token.text == "." and token.glued and _dot_is_idle(tokens, text, end)):
            tokens.append(token)
        at = end
    return (*tokens, Token(Kind.END, "", tokens[-1].end if tokens else 0, False))


def _seconds_at(text: str, at: int, before: list[Token]) -> tuple[Kind, int] | None:
    """Return kind and end of ":30", half a minute; right behind a word, or a count's name, a colon names a part."""
    if text[at] != ":" or (at and not text[at - 1].isspace()) or (before and before[-1].word in _COUNTED_BEHIND):
        return None
    end = _digits_from(text, at + 1)
    return (Kind.CLOCK, end) if end == at + 3 and text[end : end + 1] != ":" else None


def _token_at(text: str, at: int) -> tuple[Kind, int]:
    if text[at] in _QUOTES and (quoted := QUOTED.match(text, at)) and quoted[0][1:-1].strip():
        return Kind.QUOTED, quoted.end()
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
        self._example_of_line = f"write figures and the words of the notation only, as in “{example}”"
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

    def error(self, check: str, place: Place, message: str, fix: str = "", because: str = "") -> None:
        """Add an error about the tokens of `place`."""
        self.failed = True
        self.findings.append(Finding(check, Severity.ERROR, self._span_of(place), message, fix, because))

    def note(self, check: str, place: Place, message: str, fix: str = "") -> None:
        """Add a note about the tokens of `place`."""
        self.findings.append(Finding(check, Severity.NOTE, self._span_of(place), message, fix))

    def unexpected(self, expected: str, fix: str = "") -> None:
        """Add the error that the next token is not what was expected, with the fixed line if it can be guessed."""
        token = self.here
        place = (token, token)
        if self.refuses_letters(token):
            return
        if token.kind is Kind.MARK and token.text.isnumeric():
            fix = "type the figure with the digits 0 to 9"
            self.error("notation-figure", place, f"found the digit {quote(token)}, expected one of 0 to 9", fix)
        else:
            found = f"found {quote(token)}, expected {expected}"
            self.error("notation-unread", place, found, fix or self._guess(token))

    def refuses_letters(self, first: Token) -> bool:
        """Add an error if letters stand for digits in what begins with `first`, the token at hand or the last one."""
        index = self._index - (first is not self.here)
        run = [first]
        while self._tokens[index + 1 : index + 2] and self._tokens[index + 1].glued and len(run) < 8:
            index += 1
            if self._tokens[index].kind not in (Kind.FIGURE, Kind.WORD):
                break
            run.append(self._tokens[index])
        typed = "".join(token.text for token in run)
        if not _MISTYPED.fullmatch(typed):
            return False
        letters = " and ".join(f"“{letter}”" for letter in dict.fromkeys(filter(str.isalpha, typed)))
        place = (first, run[-1])
        fix = self.fixed(place, typed.translate(_DIGITS_MEANT), keeps=False)
        self.error("notation-figure", place, f"found the letter {letters} in “{typed}”, expected digits only", fix)
        return True

    def typed(self, place: Place) -> str:
        """Return what was typed there."""
        return " ".join(self.text[place[0].start : place[1].end].split())

    def fixed(self, place: Place, text: str, *, keeps: bool = True, otherwise: str | None = None) -> str:
        """Return the advice to write the line with the tokens of `place` replaced by `text`.

        A line is given only if it reads and, with `keeps`, has every figure that was typed. Where other errors stand in
        it, the advice names the one place. Where `text` would not read there, it is `otherwise`, or an example.
        """
        otherwise = self._example_of_line if otherwise is None else otherwise
        typed = self.typed(place)
        if self._first_error is None or (keeps and _figures(typed) - _figures(text)):
            return otherwise
        piece = f"write “{text}” instead of “{typed}”" if text and len(typed) <= LONGEST_QUOTED else otherwise
        if len(self.text) > LONGEST_MENDED:
            return piece
        line, end = self._with(place, text)
        if keeps and _figures(self.text) - _figures(line):  # a figure that now stands next to another has become one
            return otherwise
        error = self._first_error(line)
        if error is None:
            return f"write “{line}”"
        return piece if self._fails_before(place) or error > end else otherwise

    def beside(self, place: Place, otherwise: str = "") -> str:
        """Return the advice to take words out of the line; `otherwise` where it would not read or lose a figure."""
        advice = self.fixed(place, "", otherwise="")
        words = self.typed(place).removeprefix("@ ")
        return f"{advice}, and “{words}” on a line of its own below" if advice else otherwise

    def end_of_part(self) -> Token:
        """Return the last token before the next comma or the like."""
        steps = 0
        while self.ahead(steps + 1).kind is not Kind.END and self.ahead(steps + 1).text not in (",", ";", "·"):
            steps += 1
        return self.ahead(steps)

    def _guess(self, token: Token) -> str:
        advice = ""
        if token.word in NUMBER_WORDS:
            advice = self._in_figures(token)
        elif token.kind is Kind.WORD and token.word not in self._known:
            near = nearest(token.word, self._known)
            advice = self.fixed((token, token), near, otherwise="") if near else ""
            advice = advice or self.beside((token, self.end_of_part()))
        return advice or self._example_of_line

    def _in_figures(self, token: Token) -> str:
        """Return the advice to write a number word, and if need be every other of the line, in figures."""
        joined = (token, self.ahead(2 if self.ahead().is_dash else 1))  # "forty-five", "forty five"
        place = joined if number_in_words(self.typed(joined)) is not None else (token, token)
        advice = self.fixed(place, str(number_in_words(self.typed(place))), otherwise="")
        line = _NUMBER_WORD.sub(lambda found: str(number_in_words(found[0])), self.text)
        is_whole = advice.endswith("”") and " instead of " not in advice
        if self._first_error and not is_whole and self._first_error(line) is None:
            return f"write “{line}”"
        return advice

    def _with(self, place: Place, text: str) -> tuple[str, int]:
        """Return the line with `text` in this place, and where it then ends."""
        before, after = self.text[: place[0].start], self.text[place[1].end :]
        if not text:
            is_part = after.lstrip()[:1] in (",", ";", "·")
            before = before.rstrip(" ,;·") if is_part else before.rstrip()
        begin = " ".join(f"{before}{text}|".split())[:-1]
        return " ".join(f"{begin}{after}".split()).strip(" ,;·"), len(begin)

    def _fails_before(self, place: Place) -> bool:
        """Tell whether there are errors in front of a place, which no fix of that place takes away."""
        start = self._span_of(place).column
        return any(found.severity is Severity.ERROR and found.span.column < start for found in self.findings)

    def _span_of(self, place: Place) -> Span:
        return self._span.part(place[0].start, place[1].end - place[0].start)


def quote(token: Token) -> str:
    """Name a token in a message: in quotes, shortened, an invisible character by its code point."""
    if token.kind is Kind.END:
        return "the end of the line"
    if not token.text.isprintable():
        return f"an invisible character (U+{ord(token.text):04X})"
    return f"“{token.text}”" if len(token.text) <= 30 else f"“{token.text[:29]}…”"


def _figures(text: str) -> Counter[object]:
    """Count the figures of a text, whatever their decimal mark."""
    return Counter(read_number(token.text) or token.text for token in scan(text) if token.is_number)
