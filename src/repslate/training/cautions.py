"""Whether what the trainer wrote speaks of a hazard: families of words for each topic, and what turns them round.

Reads words, not meaning: it decides only whether to ask for a caution, never whether a caution is right.
"""

from __future__ import annotations

import re

from repslate.model.caution_topics import caution_topics
from repslate.model.episode import Caution
from repslate.training.harm import harms

_CLAUSE = re.compile(r"[.,;:!?()\n–—]|\bbut\b")
#: "No need for a spotter", "is not needed": what says that the topic does not matter, whatever it is.
_DISMISSED = re.compile(
    r"(?:\b(?:no|not|never)|n't) need(?:ed)?\b(?! to)|\bneed(?:s|ed)? no\b|\bnone needed"
    r"|\bno need to (?:worry|mind|fear|bother)"
    r"|\bnot (?:necessary|required|important)|\bunnecessary|\bneed not (?:worry|mind)|n't (?:worry|bother)"
    r"|\bnot (?:worry|bother)|\bnever mind\b|\bforget (?:about )?(?:the|your|any)\b|\bignore\b|\b(?:is|are) optional\b"
    r"|\b(?:spotters?|safeties) (?:is|are) (?:only |just )?for (?:beginners|novices|the weak)\b"
    r"|\bperfectly safe\b|\bsafe for (?:all|everyone|everybody)\b"
)
_NOT = r"(?:no|not|never|without|skip|n't|cannot|nobody|none|unless|except)"
_NEGATORS = re.compile(rf"(?:\b|(?<=\w)(?=n't)){_NOT}\b")
#: "Nobody may stand in as a spotter" denies the spotter, "do not drop the bar on the safeties" does not deny them.
_DENIES_PERSON = re.compile(rf"(?:\b|(?<=\w)(?=n't)){_NOT}(?: [\w'-]+){{0,6}} $")
_DENIES_THING = re.compile(rf"(?:\b|(?<=\w)(?=n't)){_NOT}(?: [\w'-]+){{0,3}} $")
_IF = re.compile(r"\b(?:if|when|where|whenever)\b")
_MARKUP = re.compile(r"[*_`\[\]]")
#: Persons only: a rack is no spotter.
_PERSON = re.compile(r"\b(?:spotters?|spotted|spotting|spots? (?:you|the lifter|each other))\b")
#: "Caution (spotter): Use one." asks for a spotter all the same.
_ONE = re.compile(r"\b(?:use|take|have|get|ask for|call|find) (?:one|somebody|someone)\b")
#: Said of a lift that wants a spotter, this is the opposite of a caution; "if you train alone", "never alone" are not.
_ALONE = re.compile(r"(?<!ing )\b(?:alone|by yourself|thumbless|false grip)\b")


def speaks_of(caution: Caution, topic: str, *, in_words: bool = False) -> bool:
    """Tell whether a written caution speaks of a topic, in its brackets or in its words; dismissing it does not count.

    `topic` is a key of topics.yaml. `in_words` asks that the sentence itself does, whatever its brackets say. What
    urges on to harm is no caution at all.
    """
    words = _plain(caution.words.text)
    if any(harms(words)) or (topic == "spotter" and _leaves_alone(words)):
        return False
    if caution.topic and re.search(rf"\b(?:{caution_topics()[topic].brackets})\b", _plain(caution.topic)):
        if in_words:
            return mentions(words, topic) or (topic == "spotter" and bool(_found(words, _ONE)))
        turned = topic == "spotter" and _found(words, _said(topic)) and not mentions(words, topic)
        return bool(words.strip()) and not _DISMISSED.search(words) and not turned
    return mentions(caution.words.text, topic)


def mentions(text: str, topic: str) -> bool:
    """Tell whether running text speaks of a topic; "without a spotter" does not, "never without a spotter" does."""
    if topic == "spotter" and _leaves_alone(_plain(text)):
        return False
    return any(
        not (topic == "spotter" and _is_denied(clause, match) and not _IF.search(clause[: match.start()]))
        for clause, match in _found(_plain(text), _said(topic))
    )


def asks_for_spotter(text: str) -> bool:
    """Tell whether the text asks that somebody stands by to catch the weight."""
    return any(not _is_denied(clause, match) for clause, match in _found(_plain(text), _PERSON))


def _leaves_alone(text: str) -> bool:
    """Tell whether a plain text sends the lifter under the weight alone or without thumbs."""
    return any(
        not (_is_denied(clause, match) or _IF.search(clause) or _said("spotter").search(clause))
        for clause, match in _found(text, _ALONE)
    )


def _said(topic: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{caution_topics()[topic].written})\b")


def _found(text: str, pattern: re.Pattern[str]) -> list[tuple[str, re.Match[str]]]:
    """Return each clause that holds the pattern and does not dismiss it, with every place where it does."""
    clauses = [clause for clause in _CLAUSE.split(text) if not _DISMISSED.search(clause)]
    return [(clause, match) for clause in clauses for match in pattern.finditer(clause)]


def _is_denied(clause: str, match: re.Match[str]) -> bool:
    """Tell whether the words before turn the matched ones into their opposite; "never without" turns them back."""
    before = clause[: match.start()]
    denies = _DENIES_PERSON if _PERSON.match(match[0]) else _DENIES_THING
    return bool(denies.search(before)) and len(_NEGATORS.findall(before)) % 2 == 1


def _plain(text: str) -> str:
    return " ".join(_MARKUP.sub("", text).casefold().replace("’", "'").split())
