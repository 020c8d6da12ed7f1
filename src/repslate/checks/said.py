"""Figures that running text names plainly: do 12, 12 reps, three sets, rest a minute, hold 30 seconds.

Only clear forms are read: a missed slip costs less than a false alarm in every other sentence.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from repslate.source.span import Span

_VALUES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty-five": 45, "sixty": 60, "ninety": 90,
}  # fmt: skip

_NUMBER = rf"(?:\d{{1,3}}|{'|'.join(sorted(_VALUES, key=len, reverse=True)).replace('forty-five', 'forty[- ]five')})"
_RANGE = (
    rf"(?<![\d.,/×:$€£-])\b(?P<low>{_NUMBER})(?:\s*(?:-|–|\bto\b|\bor\b)\s*(?P<high>{_NUMBER}))?(?![\d/×%:-]|[.,]\d)"
)
_TIME = (
    rf"(?:{_RANGE}\s*(?P<unit>seconds?|secs?|s|minutes?|mins?|min)\b|(?P<minute>half\s+a|an?)\s+minute\b)"
    r"(?P<half>\s+and\s+a\s+half)?"
)
_SIDE = r"(?:per|each|on\s+each|for\s+each|a)\s+(?:side|leg|arm|hand|foot)\b|each\b"
_KIND = r"(?:(?:good|clean|slow|strict|hard|working|straight|full)\s+)?"

_FORMS = (
    (
        "reps",
        rf"\b(?:do|aim\s+for|perform)\s+(?:all\s+)?{_RANGE}"
        rf"(?=\s*(?:$|[.,;:!?)]|{_KIND}(?:reps?|repetitions?)\b|{_SIDE}|(?:and|then)\b(?!\s+a\b)))",
    ),
    ("reps", rf"{_RANGE}\s+{_KIND}(?:reps?|repetitions?)\b"),
    ("sets", rf"{_RANGE}\s+{_KIND}sets?\b(?!\s+of\s+(?!{_NUMBER}\b))"),
    ("rounds", rf"{_RANGE}\s+{_KIND}rounds?\b"),
    ("rest", rf"\brest(?:ing)?\s+(?:(?:for|about|around|up\s+to)\s+){{0,2}}{_TIME}"),
    ("rest", rf"{_TIME}(?:['’]s?)?\s+(?:of\s+)?rest\b"),
    (
        "hold",
        r"\bhold(?:ing)?\s+(?:(?:it|this|that|here|there|still|on|(?:the|each|every|this)\s+"
        rf"(?:position|side|plank|stretch|hold|pose))\s+)?(?:for\s+)?{_TIME}",
    ),
)
_PATTERNS = tuple((what, re.compile(form, re.IGNORECASE)) for what, form in _FORMS)

_NEAR = 40  # characters before a figure that are looked at
# A figure after one of these counts something else: "the last two reps", "leave 2 reps", "more than 8 reps".
_BEFORE = re.compile(
    r"\b(?:first|last|final|next|every|after|another|extra|more|leav(?:e|ing)|keep(?:ing)?|than|within|add(?:ing)?|by|least"
    r"|most|plus|of\s+the|these|those|other|set|round|week|day)\s+(?:about\s+|the\s+)?$",
    re.IGNORECASE,
)
# … and before one of these: "2 reps in reserve", "two reps short of failure", "hold 2 seconds at the top".
_AFTER = re.compile(
    r"\s+(?:in\s+(?:reserve|the\s+tank|hand|you)|left|short|shy|before|from|away|more|at\s+the|at\s+a\s+time|on\s+the|in\s+the"
    r"|inside|between\s+(?:sides|arms|legs|hands)|every\s+rep|each\s+rep)\b",
    re.IGNORECASE,
)
# A sentence with one of these speaks of another case, another day or another person.
_ELSEWHERE = re.compile(
    r"\b(?:if|when|once|until|unless|can|could|cannot|may|might|not|never|avoid|instead|beginners?|easier|harder|did|was|were"
    r"|used|ago|later|warm-?up|build\s+up|work\s+up|(?:next|last)\s+(?:time|week|episode))\b|n['’]t\b",
    re.IGNORECASE,
)
_SENTENCE = re.compile(r"(?:[^.!?\n]|[.!?](?=\S)|\n(?!\s*(?:\n|[-*]\s)))+[.!?]?")


@dataclass(frozen=True, slots=True)
class Said:
    """A figure in running text: `what` it counts (reps, sets, rounds; rest and hold in seconds), its ends and words."""

    what: str
    low: Fraction
    high: Fraction
    words: str
    span: Span


def said_in(text: str, span: Span) -> Iterator[Said]:
    """Yield the plain figures of `text`, which begins at `span`, in the order of the forms and then of the text."""
    seen: set[tuple[int, str]] = set()
    lines = [0, *(end.end() for end in re.finditer("\n", text))]
    for sentence in _SENTENCE.finditer(text):
        if _ELSEWHERE.search(sentence[0]):
            continue
        for what, pattern in _PATTERNS:
            for match in pattern.finditer(text, sentence.start(), sentence.end()):
                figure = max(match.start(), match.start("low")), what  # two forms may name one figure
                before = text[max(0, match.start() - _NEAR) : match.start()]
                if figure in seen or _BEFORE.search(before) or _AFTER.match(text, match.end()):
                    continue
                seen.add(figure)
                yield from _read(what, match, span, lines)


def _read(what: str, match: re.Match[str], span: Span, lines: list[int]) -> Iterator[Said]:
    """Yield the figure of one match; a single one ("one set", "do one") is left alone, it seldom is a prescription."""
    low, high = _ends(match)
    if what in ("reps", "sets", "rounds") and high <= 1:
        return
    words = match[0].strip()
    yield Said(what, low, high, " ".join(words.split()), _place(match.start(), words, span, lines))


def _ends(match: re.Match[str]) -> tuple[Fraction, Fraction]:
    """Return the figure's ends; times in seconds."""
    groups = match.groupdict()
    half = Fraction(1, 2) if groups.get("half") else Fraction(0)
    if minute := groups.get("minute"):
        seconds = 60 * ((Fraction(1, 2) if minute.lower().startswith("half") else 1) + half)
        return seconds, seconds
    low, high = _value(groups["low"]), _value(groups["high"] or groups["low"])
    factor = 60 if (groups.get("unit") or "").lower().startswith("m") else 1
    return (low + half) * factor, (high + half) * factor


def _value(word: str) -> Fraction:
    """Return the value of a number in digits or words."""
    return Fraction(int(word)) if word.isdigit() else Fraction(_VALUES[word.casefold().replace(" ", "-")])


def _place(start: int, words: str, span: Span, lines: list[int]) -> Span:
    """Return where a piece of text stands in the file; `lines` are where the lines of the text begin."""
    line = bisect_right(lines, start) - 1
    column = start - lines[line] + (span.column if line == 0 else 1)
    return Span(span.file, span.line + line, column, len(words.split("\n", maxsplit=1)[0]))
