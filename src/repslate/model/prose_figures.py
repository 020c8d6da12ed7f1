"""Figures that running text names plainly: do 12, 3 sets of 15, rest a minute, hold 30 seconds, use a 24 kg bell.

Only clear forms are read: a missed slip costs less than a false alarm in every other sentence.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from repslate.model.quantity import NUMBER_WORD, read_count, read_mass
from repslate.source.span import Span

_NUMBER = rf"(?:\d{{1,3}}|{NUMBER_WORD})"
_RANGE = (
    rf"(?<![\d.,/×:$€£-])\b(?P<low>{_NUMBER})(?:\s*(?:-|–|\bto\b|\bor\b)\s*(?P<high>{_NUMBER}))?(?![\d/×%:-]|[.,]\d)"
)
_TIME = (
    rf"(?:{_RANGE}\s*(?P<unit>seconds?|secs?|s|minutes?|mins?|min)\b|(?P<minute>half\s+a|an?)\s+minute\b)"
    r"(?P<half>\s+and\s+a\s+half)?"
)
_ALL_TOLD = r"(?:in\s+all|in\s+total|altogether)\b"
_WORD = r"[a-z][a-z'’-]+"
_SECONDS = (
    rf"(?<![\d.,/×:$€£-])\b(?P<low>{_NUMBER})(?:\s*(?:-|–|\bto\b|\bor\b)\s*(?P<high>{_NUMBER}))?\s*(?:-\s*)?seconds?"
)
_SIDE = r"(?:per|each|on\s+each|for\s+each|a)\s+(?:side|leg|arm|hand|foot)\b|each\b"
_WEIGHT = (
    r"(?P<low>\d{1,3}(?:[.,]\d{1,2})?)(?:\s*(?:-|–|\bto\b|\bor\b)\s*(?P<high>\d{1,3}(?:[.,]\d{1,2})?))?"
    r"(?:\s*|-)(?P<unit>kg|kilos?|kilograms?|lbs?|pounds?)\b(?!\s+(?:off|less|more|lighter|heavier|from)\b)"
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
    ("reps", ("side", "leg", "arm"), rf"{_RANGE}\s+(?:on|to|for|with)\s+(?:one|each)\s+(?:side|leg|arm|hand|foot)\b"),
    ("sided", ("each", "per"), rf"{_RANGE}\s+(?:{_WORD}\s+){{1,2}}?(?:each|per)\s+(?:way|side|leg|arm|direction)\b"),
    ("times", ("times",), rf"{_RANGE}\s+times\b(?!\s+(?:through|round|around|over|a|per|as|more|your|the)\b)"),
    ("counted", (), rf"{_RANGE}\s+(?P<noun>{_WORD}(?:\s+(?!in\b){_WORD}){{0,2}})(?P<total>\s+{_ALL_TOLD})?"),
    ("time", ("second", "minute", "sec", "min"), rf"(?:\b(?:for|until)\s+(?:the\s+)?|(?:^|(?<=[.!?]\s))){_TIME}"),
    ("clock", ("clock", "timer"), rf"\b(?:set\s+(?:the|a|your)\s+)?(?:clock|timer)\s+(?:for|to|at)\s+{_TIME}"),
    ("down", ("second",), rf"{_SECONDS}\s+(?:down\b|(?:to\s+)?lower|on\s+the\s+way\s+down|to\s+(?:sit|sink)\b)"),
    ("down", ("second",), rf"\blower(?:ing)?\s+(?:\w+\s+){{0,2}}(?:for|over|in)\s+{_SECONDS}"),
    ("up", ("second",), rf"{_SECONDS}\s+(?:up\b|on\s+the\s+way\s+up|to\s+(?:stand|press|rise|lift|push|come)\b)"),
    ("drop", ("drop",), rf"\bdrop(?:s|ping)?\s+(?:down\s+)?to\s+(?P<each>2\s*[×x]\s*)?{_WEIGHT}"),
    (
        "load",
        ("kg", "kilo", "lb", "pound"),
        rf"\b(?:us(?:e|ing)|tak(?:e|ing)|hold(?:ing)?|with)\s+(?:(?:an?|the|your|one|two|both|pair|of)\s+)*{_WEIGHT}",
    ),
)
_FIGURE = re.compile(rf"{_NUMBER}|minute", re.IGNORECASE)

_OF_ONE_MOVEMENT = frozenset({"down", "up"})  # "three seconds down, until you touch the seat"
_COUNTS = frozenset({"reps", "sets", "rounds", "times", "counted", "sided"})
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

    `what` is reps, sets or rounds; "times", of reps or sets; "sided", each way; "counted" or "total", of what `noun`
    says, in a set or in all; rest, hold, "time" of any of them, clock, and tempo "down" or "up", in seconds; load,
    "drop" or "drop each", of one of two, in kilograms.
    """

    what: str
    low: Fraction
    high: Fraction
    words: str
    span: Span
    noun: str = ""


def sentences(text: str) -> Iterator[re.Match[str]]:
    """Yield the sentences of running text; one goes on over the end of a line, and ends with a paragraph."""
    return _SENTENCE.finditer(text)


def said_in(text: str, span: Span) -> Iterator[Said]:
    """Yield the plain figures of `text`, which begins at `span`, in the order of the forms and then of the text."""
    seen: set[tuple[int, str]] = set()
    lines = [0, *(end.end() for end in re.finditer("\n", text))]
    for sentence in sentences(text):
        if not _FIGURE.search(sentence[0]):
            continue
        small = sentence[0].casefold()
        for what, stems, form in _FORMS:
            if (stems and not any(stem in small for stem in stems)) or _is_of_another(what, small):
                continue
            for match in _pattern(form).finditer(text, sentence.start(), sentence.end()):
                figure = max(match.start(), match.start("low")), what  # two forms may name one figure
                before = text[max(0, match.start() - _NEAR) : match.start()]
                if figure in seen or _BEFORE.search(before) or _AFTER.match(text, match.end()):
                    continue
                seen.add(figure)
                yield from _read(what, match, span, lines)


def _is_of_another(what: str, sentence: str) -> bool:
    """Tell whether a sentence speaks of another case, so that its figures need not be those of the plan."""
    if what == "drop":
        return False
    if what in _OF_ONE_MOVEMENT:
        sentence = sentence.replace("until", "")
    return bool(_ELSEWHERE.search(sentence)) or (what == "load" and bool(_OTHER_LOAD.search(sentence)))


@cache
def _pattern(form: str) -> re.Pattern[str]:
    """Return the compiled form; all of them take longer to compile than a whole workout takes to check."""
    return re.compile(form, re.IGNORECASE)


def _read(what: str, match: re.Match[str], span: Span, lines: list[int]) -> Iterator[Said]:
    """Yield the figure of one match; a single one ("one set", "do one") is left alone, it seldom is a prescription."""
    low, high = _weights(match) if what in ("load", "drop") else _ends(match)
    if what in _COUNTS and high <= 1:
        return
    words, groups = match[0].strip(), match.groupdict()
    what = "total" if groups.get("total") else "drop each" if groups.get("each") else what
    place = _place(match.start(), words, span, lines)
    yield Said(what, low, high, " ".join(words.split()), place, groups.get("noun") or "")


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
    mass = read_mass(match["low"], match["unit"], match["high"] or "").in_unit("kg")
    return mass.low, mass.high


def _value(word: str) -> Fraction:
    """Return the value of a number in digits or words."""
    return Fraction(read_count(word))


def _place(start: int, words: str, span: Span, lines: list[int]) -> Span:
    """Return where a piece of text stands in the file; `lines` are where the lines of the text begin."""
    line = bisect_right(lines, start) - 1
    column = start - lines[line] + (span.column if line == 0 else 1)
    return Span(span.file, span.line + line, column, len(words.split("\n", maxsplit=1)[0]))
