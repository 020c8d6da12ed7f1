"""Figures that running text names plainly: do 12, 3 sets of 15, rest a minute, hold 30 seconds, use a 24 kg bell.

Only clear forms are read: a missed slip costs less than a false alarm in every other sentence.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache

from repslate.model.quantity import NUMBER_WORD, Mass, MassUnit, Range, number_in_words
from repslate.source.span import Span

_NUMBER = rf"(?:\d{{1,3}}|{NUMBER_WORD})"
_RANGE = (
    rf"(?<![\d.,/×:$€£-])\b(?P<low>{_NUMBER})(?:\s*(?:-|–|\bto\b|\bor\b)\s*(?P<high>{_NUMBER}))?(?![\d/×%:-]|[.,]\d)"
)
_TIME = (
    rf"(?:{_RANGE}\s*(?P<unit>seconds?|secs?|s|minutes?|mins?|min)\b|(?P<minute>half\s+a|an?)\s+minute\b)"
    r"(?P<half>\s+and\s+a\s+half)?"
)
_SIDE = r"(?:per|each|on\s+each|for\s+each|a)\s+(?:side|leg|arm|hand|foot)\b|each\b"
_WEIGHT = (
    r"(?P<low>\d{1,3}(?:[.,]\d{1,2})?)(?:\s*(?:-|–|\bto\b|\bor\b)\s*(?P<high>\d{1,3}(?:[.,]\d{1,2})?))?"
    r"(?:\s*|-)(?P<unit>kg|kilos?|kilograms?|lbs?|pounds?)\b"
)
_KIND = r"(?:(?:good|clean|slow|strict|hard|working|straight|full)\s+)?"

# What is counted, the stems of which a sentence has one, the form itself.
_FORMS = (
    (
        "reps",
        ("do", "aim", "perform"),
        rf"\b(?:do|aim\s+for|perform)\s+(?:all\s+)?{_RANGE}"
        rf"(?=\s*(?:$|[.,;:!?)]|{_KIND}(?:reps?|repetitions?)\b|{_SIDE}|(?:and|then)\b(?!\s+a\b)))",
    ),
    (
        "reps",
        ("set",),
        rf"\bsets?\s+of\s+{_RANGE}(?=\s*(?:$|[.,;:!?)]|{_KIND}(?:reps?|repetitions?)\b|{_SIDE}|(?:and|then|with|at)\b))",
    ),
    ("reps", ("rep",), rf"{_RANGE}\s+{_KIND}(?:reps?|repetitions?)\b"),
    ("sets", ("set",), rf"{_RANGE}\s+{_KIND}sets?\b(?!\s+of\s+(?!{_NUMBER}\b))"),
    ("rounds", ("round",), rf"{_RANGE}\s+{_KIND}rounds?\b"),
    ("rest", ("rest",), rf"\brest(?:ing)?\s+(?:(?:for|about|around|up\s+to)\s+){{0,2}}{_TIME}"),
    ("rest", ("rest",), rf"{_TIME}(?:['’]s?)?\s+(?:of\s+)?rest\b"),
    (
        "hold",
        ("hold",),
        r"\bhold(?:ing)?\s+(?:(?:it|this|that|here|there|still|on|(?:the|each|every|this)\s+"
        rf"(?:position|side|plank|stretch|hold|pose))\s+)?(?:for\s+)?{_TIME}",
    ),
    (
        "load",
        ("kg", "kilo", "lb", "pound"),
        rf"\b(?:us(?:e|ing)|tak(?:e|ing)|hold(?:ing)?|with)\s+(?:(?:an?|the|your|one|two|both|pair|of)\s+)*{_WEIGHT}",
    ),
)
_FIGURE = re.compile(rf"{_NUMBER}|minute", re.IGNORECASE)

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
# … or, where it names a load, with one of these: it is not the load of every set.
_OTHER_LOAD = re.compile(
    r"\b(?:start\w*|begin\w*|first|new|light\w*|heav\w*|add\w*|more|less|drop\w*|increas\w*|reduc\w*|build\w*|up\s+to"
    r"|at\s+(?:least|most)|or\s+(?:a|an|whatever)\b|try|finish\w*|last|final|progress\w*|practi[cs]e\w*|ramp\w*)\b",
    re.IGNORECASE,
)
_SENTENCE = re.compile(r"(?:[^.!?\n]|[.!?](?=\S)|\n(?!\s*(?:\n|[-*]\s)))+[.!?]?")


@dataclass(frozen=True, slots=True)
class Said:
    """A figure in running text: `what` it counts, its ends and words.

    `what` is reps, sets or rounds; rest or hold, in seconds; load, in kilograms.
    """

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
        if not _FIGURE.search(sentence[0]) or _ELSEWHERE.search(sentence[0]):
            continue
        small = sentence[0].casefold()
        for what, stems, form in _FORMS:
            if not any(stem in small for stem in stems) or (what == "load" and _OTHER_LOAD.search(sentence[0])):
                continue
            for match in _pattern(form).finditer(text, sentence.start(), sentence.end()):
                figure = max(match.start(), match.start("low")), what  # two forms may name one figure
                before = text[max(0, match.start() - _NEAR) : match.start()]
                if figure in seen or _BEFORE.search(before) or _AFTER.match(text, match.end()):
                    continue
                seen.add(figure)
                yield from _read(what, match, span, lines)


@cache
def _pattern(form: str) -> re.Pattern[str]:
    """Return the compiled form; all of them take longer to compile than a whole workout takes to check."""
    return re.compile(form, re.IGNORECASE)


def _read(what: str, match: re.Match[str], span: Span, lines: list[int]) -> Iterator[Said]:
    """Yield the figure of one match; a single one ("one set", "do one") is left alone, it seldom is a prescription."""
    low, high = _weights(match) if what == "load" else _ends(match)
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


def _weights(match: re.Match[str]) -> tuple[Fraction, Fraction]:
    """Return the load's ends in kilograms."""
    low, high = (Decimal(text.replace(",", ".")) for text in (match["low"], match["high"] or match["low"]))
    unit: MassUnit = "lb" if match["unit"].lower().startswith(("lb", "pound")) else "kg"
    mass = Mass(Range(low, high), unit).in_unit("kg")
    return mass.low, mass.high


def _value(word: str) -> Fraction:
    """Return the value of a number in digits or words."""
    return Fraction(number_in_words(word) or int(word))


def _place(start: int, words: str, span: Span, lines: list[int]) -> Span:
    """Return where a piece of text stands in the file; `lines` are where the lines of the text begin."""
    line = bisect_right(lines, start) - 1
    column = start - lines[line] + (span.column if line == 0 else 1)
    return Span(span.file, span.line + line, column, len(words.split("\n", maxsplit=1)[0]))
