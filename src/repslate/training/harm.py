"""Instructions that hurt people: a short list of phrases, told from their negation.

Reads words, not meaning.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache


@dataclass(frozen=True, slots=True)
class Harm:
    """One harmful instruction.

    `words` is a pattern in lower case, a blank standing for any white space. `instead` says what to ask for, `reason`
    why. `right_in` are the patterns of movement (library) in which the same words are a good cue.
    """

    words: str
    instead: str
    reason: str
    right_in: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Urged:
    """A harmful instruction as it stands in a text: its words and how many lines below the first."""

    harm: Harm
    words: str
    line: int


_STOP = "that one stops, or makes the movement smaller, where it hurts"
_PAIN = "pain is the sign to stop; training on through it makes injuries worse (ACSM, from memory)"
_BREATH = "a breath held through many repetitions drives up blood pressure (Hackett & Chow 2013, from memory)"
_SPINE = frozenset({"mobility", "breathing", "trunk flexion", "trunk brace"})
_FULL_LOCK = frozenset({"hinge", "power", "balance", "hip bridge", "trunk brace"})

HARMS = (
    Harm(
        r"(?:push|work|go|train|power|fight|press|move|carry|keep|play|walk|run|grind|breathe)(?:ing|es|s)?"
        r"(?: on| going)? through (?:(?!without|range|no )[a-z-]+ ){0,3}pain\b(?![- ]free)",
        _STOP,
        _PAIN,
    ),
    Harm(r"ignor(?:e|ing) (?:[a-z-]+ ){0,3}(?:pain|discomfort|pinch|numbness|dizziness|warnings?)\b", _STOP, _PAIN),
    Harm(r"no pain,? no gain\b", _STOP, _PAIN),
    Harm(
        r"hold(?:ing)? (?:your|the) breath (?:throughout\b|as long as|(?:for|through|during|until)"
        r" (?:the |a |each |every |all |your )?(?:whole |entire |full |end of the )?"
        r"(?:set|sets|exercise|round|plank|hold|movement|minute)\b)",
        "a breath out with every effort",
        _BREATH,
    ),
    Harm(
        r"round(?:ing)? (?:your|the|their) (?:lower )?backs?\b",
        "a back that keeps its shape",
        "bending the loaded spine to its end stresses discs and ligaments (Contreras & Schoenfeld 2011, Strength Cond "
        "J 33(4):8–18)",
        _SPINE,
    ),
    Harm(
        r"bounc(?:e|ing) (?:(?:in|into|at the end of|in and out of) )?(?:the|your|each|every|this) stretch\b",
        "a still, mild stretch",
        "a stretch with a bounce is held by reflex and can overstretch (ACSM, from memory)",
    ),
    Harm(
        r"bounc(?:e|ing) (?:the (?:bar|weight) )?off (?:your|the) (?:chest|ribs)\b",
        "a bar that touches the chest without a bounce",
        "the bounce hits ribs and breastbone, and the bar is out of control (common practice, no source)",
    ),
    Harm(
        r"(?:lock(?:ing)?|snap(?:ping)?|slam(?:ming)?) (?:out )?(?:your|the|both) knees\b",
        "knees that stay a little bent",
        "the load moves from the muscles to the joint at its end (from memory)",
        _FULL_LOCK,
    ),
    Harm(
        r"land(?:ing)? (?:with|on) (?:locked|straight|stiff) (?:knees|legs)\b",
        "a soft landing with bent knees",
        "straight legs take the whole shock in the joints (NSCA, plyometric training, from memory)",
    ),
    Harm(
        r"until you (?:are sick|throw up|vomit|faint|pass out|collapse|cannot stand)\b",
        "that one stops long before that",
        "collapse and vomiting are signs of an emergency, not of good work (Rider et al. 2019, from memory)",
    ),
)

#: What turns an instruction into a warning against it.
_NOT = re.compile(
    r"(?:\b|(?<=\w)(?=n't))(?:no|not|never|n't|cannot|without|avoid|stop|nobody|none|nor|instead of|rather than"
    r"|dangerous|mistake|wrong|temptation)\b"
)
_CONDITION = re.compile(r"\b(?:if|when|whenever|once|unless|anyone who|people who|those who)\b")
_DENIED_LATER = re.compile(r"\b(?:wrong|nonsense|myth|rubbish|not true|never|is not|isn't|not here|does not|doesn't)\b")
_SENTENCE = re.compile(r"[.!?;:]\s+|\n\s*(?:\n|[-*]\s)|\bbut\b|\bthen\b")
_MARKUP = re.compile(r"[*_`\[\]“”\"]")


def harms(text: str, pattern: str = "") -> Iterator[Urged]:
    """Yield the harmful instructions that a text gives; "do not hold your breath" gives none.

    `pattern` is that of the movement the text is about, "" where it is about none.
    """
    clean = _MARKUP.sub("", text).replace("’", "'").lower()
    for harm, phrase in _patterns():
        if pattern and pattern in harm.right_in:
            continue
        for match in phrase.finditer(clean):
            if not _is_turned(clean, match):
                yield Urged(harm, " ".join(match[0].split()), clean.count("\n", 0, match.start()))


@cache
def _patterns() -> tuple[tuple[Harm, re.Pattern[str]], ...]:
    """Return each instruction with its compiled pattern, in which a blank is any white space."""
    return tuple((harm, re.compile(r"\b(?:" + harm.words.replace(" ", r"\s+") + ")")) for harm in HARMS)


def _is_turned(text: str, match: re.Match[str]) -> bool:
    """Tell whether the sentence warns of the matched words, or speaks of a case, rather than asking for them."""
    start = max((end.end() for end in _SENTENCE.finditer(text, 0, match.start())), default=0)
    later = _SENTENCE.search(text, match.end())
    before, after = text[start : match.start()], text[match.end() : later.start() if later else len(text)]
    clause = before.rpartition(",")[2]
    listed = bool(_NOT.match(before.lstrip()) or before.lstrip().startswith(("do not", "don't"))) and (
        re.search(r"\bor\b", clause + after) is not None
    )
    return bool(_NOT.search(clause) or listed or _CONDITION.search(clause) or _DENIED_LATER.search(after))
