"""Whether what the trainer wrote speaks of a hazard: families of words for each topic, and what turns them round.

Reads words, not meaning: it decides only whether to ask for a caution, never whether a caution is right.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from repslate.model.episode import Caution
from repslate.training.harm import harms


@dataclass(frozen=True, slots=True)
class Family:
    """How people speak of one topic.

    `words` is what to call it in a message. `named` are words in the brackets of "Caution (knees): …" that stand for
    it, `said` the words of a sentence that speak of it; both are patterns, matched from the beginning of a word to its
    end.
    `everywhere` topics are of the room and the kit: once for the whole workout is enough.
    """

    words: str
    named: str
    said: str
    everywhere: bool = False


FAMILIES = {
    "spotter": Family(
        "a spotter or safeties",
        r"spot\w*|safet(?:y|ies)|rack",
        r"spotters?|spotted|spotting|spots? (?:you|the lifter|each other)|safeties"
        r"|safety (?:arm|bar|pin|catch|stop|strap|rail|rod)\w*|(?:catch|spotter) (?:arm|bar|pin)s?"
        r"|(?<!back )(?:in|inside|within) (?:a|the|your) (?:rack|cage)|(?:power|squat|half) (?:rack|cage)"
        r"|(?:somebody|someone|a partner|a second person|a helper) (?:stands? )?(?:behind|ready|to help|to lift)",
    ),
    "clear area": Family(
        "a clear area to let it drop",
        r"clear (?:area|space)|area|space|platform|bail\w*|drop\w*|technique",
        r"platforms?|bail\w*|clear (?:area|space|floor|room)|clear the (?:area|space|floor|room)|stand clear"
        r"|(?:no|not|never|nobody|without an?|without any) (?:a |acts as a )?spot\w*|dump (?:it|the \w+)"
        r"|let (?:it|go|the \w+) (?:drop|fall|go|of the bar)|drop (?:it|the bar\w*|the bells?|the weights?)"
        r"|(?:nobody|no one|no-one) (?:stands? )?(?:near|close|in front|within|around)|metres? (?:free|clear)"
        r"|keep (?:others|people|everyone|everybody) (?:away|back|clear)|step (?:away|back) from (?:it|the bar)",
    ),
    "back": Family(
        "a flat back",
        r"(?:lower )?back|spine|lumbar|discs?|hinge",
        r"(?:lower|flat|long|neutral|straight|rounded) backs?"
        r"|(?:(?:your|the) back (?:\w+ )?|back )(?:stays?|is|flat|neutral|straight|long|still)"
        r"|(?:(?:your|the) back (?:\w+ )?|back )(?:round\w*|sag\w*|arch\w*|hurts?|gives?)"
        r"|round\w* (?:your|the) back|spines?|spinal|lumbar|hing(?:e|es|ing)|brac(?:e|ed|ing)|discs?|hips back"
        r"|(?:fold|bend|bow) (?:at|from) the hips?|trunk (?:braced|firm|still|tight)",
    ),
    "shoulders": Family(
        "the range of the shoulders",
        r"shoulders?|range",
        r"shoulders?(?![- ]wid)|behind the neck|painful arc|ribs down|rotator \w+"
        r"|upper arms? (?:is |are )?(?:parallel|level)",
    ),
    "knees": Family(
        "the knees",
        r"knees?|kneecaps?|depth",
        r"(?<!bent )(?<!soft )knees?|kneecaps?|only as deep|too deep|(?:smaller|shallower) (?:squat|lunge)",
    ),
    "breath": Family(
        "breathing",
        r"breath\w*|blood pressure",
        r"breath\w*|exhal\w*|blood pressure|valsalva",
    ),
    "landing": Family(
        "the landing",
        r"land\w*|impact|jump\w*|hop\w*|surface|floor",
        r"land(?:s|ed|ing|ings)?|soft knees|quiet(?:ly)?|non-slip|slip\w*|impact|low(?:er)? (?:box|hop|jump|step)"
        r"|hop low|step instead|(?:without|no|leave out|skip) (?:the |a )?(?:jump|hop)\w*"
        r"|(?:soft|even|dry|firm) (?:floor|surface|ground)",
    ),
    "band": Family(
        "the band and its anchor",
        r"bands?|anchor|strap|door",
        r"anchor\w*|for wear|worn|cracks?|cracked|tears?|torn|fray\w*|snaps|snapped|rips|perish\w*"
        r"|(?:out of|off) (?:the|its|your) (?:line|face)|line of pull",
        everywhere=True,
    ),
    "chair": Family(
        "a chair that stays put",
        r"chairs?|seat",
        r"(?:sturdy|firm|stable|solid) (?:chair|seat)|(?:no|without) wheels|wheels|castors|against (?:a|the) wall"
        r"|(?:chair|it) (?:slides?|tips?|rolls?)|(?:cannot|not|never) (?:slide|tip|roll)|slide or tip|tip over",
        everywhere=True,
    ),
    "balance": Family(
        "balance",
        r"balance|falls?|falling|steady",
        r"balanc\w*|fall|falls|falling|unsteady|steady|sway\w*|wobbl\w*|hold(?:ing)? on|support|within reach"
        r"|(?:near|close to|beside|touch|reach of|hand on) (?:a|the|your) (?:wall|chair|rail|table|bar)",
    ),
    "dizziness": Family(
        "dizziness",
        r"dizz\w*|faint\w*|blood pressure|head|getting up|rising",
        r"dizz\w*|giddy|light-?headed\w*|head feels light|faint\w*|room (?:turns|spins)|blood pressure|glaucoma"
        r"|eye (?:pressure|diseases?)|(?:up|down|rise|stand|lower yourself) (?:very |too )?slowly",
    ),
    "space": Family(
        "space in front and a dry grip",
        r"space|room|grip|hands",
        r"(?:clear|free|empty) (?:the )?(?:space|area|room|floor)|(?:space|room) (?:in front|around|behind)|metres?"
        r"|within reach|(?:nobody|no one|no-one) (?:stands? )?(?:in|near|within|close|around)"
        r"|grip\w*|dry (?:your )?hands|fl(?:y|ies)|lets? go",
        everywhere=True,
    ),
    "grip": Family("the grip", r"grip|hands|elbows?", r"grip\w*|step down|drop (?:off|down)|lets? go|elbows?"),
    "wrists": Family("the wrists", r"wrists?|hands", r"wrists?|fists?|handles|forearms"),
    "neck": Family("the neck", r"neck|head", r"necks?|chin|pull (?:on )?(?:your|the) head"),
    "pregnancy": Family(
        "pregnancy", r"pregnan\w*", r"pregnan\w*|trimester|first three months|flat on your back|side-lying"
    ),
    "collars": Family("collars", r"collars?|plates", r"collars?|clips?"),
    "stretch": Family(
        "short holds", r"stretch\w*|hold", r"less than a minute|under a minute|short holds?|mild\w*|gentl[ey]|bounc\w*"
    ),
    "experience": Family(
        "experience and warm-up",
        r"experienc\w*|heavy|load|level",
        r"experienced?|trained|beginners?|know (?:the|this) lift|coach\w*|supervis\w*|warm(?:ed)?[- ]up"
        r"|(?:build|work) up to",
    ),
    "failure": Family(
        "where to stop the set",
        r"failure|effort|reserve|form",
        r"failure|fails?|in reserve|stop (?:short|before|when|with|the set|one|two)|last good|good reps?|clean reps?"
        r"|form (?:goes|slips|breaks)",
    ),
    "pace": Family(
        "a cap for those new to it",
        r"pace|beginners?|new|effort",
        r"new to|beginn\w*|fewer|pace|dark urine|build up|work up to|rest when\w*|one round|stop at any time|slow down"
        r"|take breaks?|(?:do|take) less",
        everywhere=True,
    ),
}

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

    `topic` is a key of FAMILIES. `in_words` asks that the sentence itself does, whatever its brackets say. What urges
    on to harm is no caution at all.
    """
    words = _plain(caution.words.text)
    if any(harms(words)) or (topic == "spotter" and _leaves_alone(words)):
        return False
    if caution.topic and re.search(rf"\b(?:{FAMILIES[topic].named})\b", _plain(caution.topic)):
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
    return re.compile(rf"\b(?:{FAMILIES[topic].said})\b")


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
