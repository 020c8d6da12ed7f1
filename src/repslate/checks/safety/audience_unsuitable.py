"""Nothing in the text is unsuitable for the people whom title and lead are for.

Why: those who are told that it is for them follow it without a second thought.
Source: lying flat on the back late in pregnancy, and a held breath: ACOG, Committee Opinion 804 (2020), from memory.
    Jumps for older beginners: common practice, no source. Tests of the one-repetition maximum by young beginners only
    under trained supervision: Faigenbaum et al. 2009, JSCR 23(Suppl 5):S60–S79, from memory.
Wrong:
    A gentle class for the third trimester.

    ## Straight sets
    ### Leg raise
    2 × 10, rest 60 s

    Lie flat on your back and lift one leg.
Right:
    A gentle class for the third trimester.

    ## Straight sets
    ### Side-lying leg raise
    2 × 10 per side, rest 60 s

    Lie on your side and lift the upper leg.
Fix: take another position or exercise; who is in doubt asks a licensed professional who knows the person.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from repslate.checks.shared import introduction, quoted, texts
from repslate.facts import Facts
from repslate.model.prose_figures import sentences
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING
SAFETY = True


@dataclass(frozen=True, slots=True)
class _Audience:
    """People as title or lead name them, what does not suit them in words, and what is expected in its place."""

    named: re.Pattern[str]
    unsuitable: re.Pattern[str]
    people: str
    instead: str
    source: str


_ACOG = "ACOG Committee Opinion 804, 2020"
_AUDIENCES = (
    _Audience(
        re.compile(r"(?i)\b(?:third trimester|pre-?natal|pregnan(?:t|cy)|mums?-to-be|expecting mothers)\b"),
        re.compile(r"(?i)\b(?:lie|lying|stay|flat)\b[^.!?\n]{0,30}\bon your back\b"),
        "in pregnancy", "a side, a seat or a raised back", _ACOG,
    ),
    _Audience(
        re.compile(
            r"(?i)\b(?:third trimester|pre-?natal|pregnan(?:t|cy)|older adults?|seniors?|over[- ](?:60|65|70|75)s?)\b"
        ),
        re.compile(r"(?i)\bhold your breath\b"),
        "for them", "a breath out with every effort", _ACOG,
    ),
    _Audience(
        re.compile(r"(?i)\b(?:older (?:adults?|beginners?|people)|seniors?|over[- ](?:60|65|70|75)s?|pensioners?)\b"),
        re.compile(r"(?i)\b(?:jump(?:s|ing)?|hop(?:s|ping)?|leap(?:s|ing)?|bounc(?:e|es|ing))\b"),
        "for older beginners", "a version with one foot on the floor", "common practice, no source",
    ),
    _Audience(
        re.compile(
            r"(?i)\b(?:teen(?:s|age|ager|agers)?|youths?|under[- ]1[0-9]s?|adolescents?|juniors?|young athletes"
            r"|1[0-7]-year-olds?)\b"
        ),
        re.compile(r"(?i)\b(?:one[- ]rep(?:etition)?[- ]max(?:imum)?|1\s?RM|max(?:ing)? out|single[- ]rep max)\b"),
        "for young beginners", "a load with repetitions left", "Faigenbaum et al. 2009",
    ),
)  # fmt: skip
_NOT_FOR = re.compile(r"(?i)\b(?:not|if|unless|ask|except|when|after|before)\b")
_NOT = re.compile(r"(?i)\b(?:no|not|never|without|avoid|instead|don't|do not|nobody|rather than)\b")


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each instruction that does not suit the people whom the workout is said to be for."""
    said = [sentence[0] for text in introduction(facts.episode) for sentence in sentences(text.words)]
    plain = [sentence for sentence in said if not _NOT_FOR.search(sentence)]
    for audience in _AUDIENCES:
        if not any(map(audience.named.search, plain)):
            continue
        for text in texts(facts.episode):
            if text.exercise is None:
                continue
            for sentence in sentences(text.words):
                found = audience.unsuitable.search(text.words, sentence.start(), sentence.end())
                if found is None or _NOT.search(sentence[0]):
                    continue
                yield Finding(
                    "audience-unsuitable",
                    SEVERITY,
                    text.at(found),
                    f"the text says {quoted(found)} {audience.people}, expected {audience.instead}",
                    "take another position or exercise, or say that whoever wants it asks a licensed professional",
                    audience.source,
                )
