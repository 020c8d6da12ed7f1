"""Cues to words: what is said, one small token after the other, each with the cue that shows it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.cut.cue import Cue

_PAUSE = Fraction(2)  # seconds of silence that end a thought (our choice)
_MARKS = str.maketrans({"’": "'", "‘": "'", "–": "-", "—": "-", "−": "-", "×": "x", "½": ".5"})
_NOT_SPOKEN = re.compile(r"\[[^\]]*\]|\([^)]*\)|[♪♫]+|^\s*>>|^\s*-\s(?=\S)", re.MULTILINE)
_PIECE = re.compile(
    r"""\d{1,2}:\d{2}(?!\d)            # a clock
      | \d{1,3}(?:,\d{3})+(?!\d)       # thousands
      | \d+s(?![^\W_])                # "the 40s", "30s"
      | \d+(?:[.,]\d+)?|\.\d+          # a number in digits
      | [^\W\d_]+(?:'[^\W\d_]+)*\.?(?:[^\W\d_]\.)*   # a word, "a.m." and "don't" in one piece
      | %|/|-                          # signs that are said: "90%", "8/10", "10-12"
      | [.,;:!?]""",
    re.VERBOSE,
)
_FILLERS = frozenset({"um", "uh", "er", "erm", "ehm", "uhm", "hmm", "mm", "mhm", "eh", "ah", "oh"})
_ENDS = frozenset(".!?")
_STOPS = frozenset(".,;:!?")


@dataclass(frozen=True, slots=True)
class Word:
    """One spoken token.

    `text` is in small letters ("10-12" is three words, "24kg" two), `shown` as the cue has it, `cue` the index of the
    cue and `start` its first second. `ends` tells that a sentence ends here, or that a longer silence follows;
    `breaks` a comma or the like, which only subtitles made by people have.
    """

    text: str
    shown: str
    cue: int
    start: Fraction
    ends: bool = False
    breaks: bool = False


def read_words(cues: Sequence[Cue]) -> tuple[Word, ...]:
    """Return every spoken word in order; hesitations ("um") and what is not speech ("[Music]") are left out."""
    found: list[Word] = []
    for index, cue in enumerate(cues):
        if found and cue.start - cues[found[-1].cue].end > _PAUSE:
            found[-1] = _ending(found[-1])
        text, said = _spoken(cue.text)
        if said and found:
            found[-1] = _ending(found[-1])
        for match in _PIECE.finditer(text):
            _add(found, match, text, index, cue.start)
    return tuple(found)


def _spoken(text: str) -> tuple[str, bool]:
    """Return the text without what is no speech, and whether anything was taken out of its beginning."""
    left = _NOT_SPOKEN.sub(" ", text.translate(_MARKS))
    return left, bool(_NOT_SPOKEN.match(text.strip()))


def _add(found: list[Word], match: re.Match[str], text: str, cue: int, start: Fraction) -> None:
    """Add one piece; a sign only marks the word before it, unless it is one that is said."""
    piece = match[0]
    if piece in _STOPS:
        if found and found[-1].cue == cue:
            found[-1] = _ending(found[-1]) if piece in _ENDS else replace(found[-1], breaks=True)
        return
    if piece == "-" and not _between_figures(text, match):
        return
    dotted = piece[0].isalpha() and piece.count(".") == 1  # "reps." ends a sentence, "a.m." does not
    shown = piece.rstrip(".") if dotted else piece
    if shown.casefold() not in _FILLERS:
        found.append(Word(shown.casefold(), shown, cue, start, dotted))


def _between_figures(text: str, match: re.Match[str]) -> bool:
    """Tell a range's dash from a hyphen: digits stand on both sides of it."""
    before, after = match.start() - 1, match.end()
    while before >= 0 and text[before].isspace():
        before -= 1
    while after < len(text) and text[after].isspace():
        after += 1
    return before >= 0 and text[before].isdecimal() and text[after : after + 1].isdecimal()


def _ending(word: Word) -> Word:
    return replace(word, ends=True)


def word_at(words: Sequence[Word], at: int) -> str:
    """Return the text of the word at an index, "" beyond the end and where the word before it ends a sentence."""
    return words[at].text if 0 <= at < len(words) and not (at and words[at - 1].ends) else ""


def goes_on(words: Sequence[Word], at: int, phrase: str) -> bool:
    """Tell whether the sentence goes on with a phrase after the word `at`."""
    return all(word_at(words, at + offset) == said for offset, said in enumerate(phrase.split(), 1))


def quote(words: Sequence[Word], first: int, last: int) -> str:
    """Return the words from `first` to `last` (included) as the cues show them, signs close to their figures."""
    text = " ".join(word.shown for word in words[first : last + 1])
    return re.sub(r"(?<=\d) ?([-/]) ?(?=\d)", r"\1", text).replace(" %", "%")
