"""Words that may not come, go or change unsaid: what they speak of, and which of them turn a sentence round.

Which they are is our choice, tried on texts of many kinds; what is in none of the lists is told all the same, in one
line with the other words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

_SPEAK_OF = {
    "sponsor": r"sponsor\w*|advert\w*|ads?|paid|partner\w*|promo\w*|discounts?|coupons?|voucher\w*|affiliate\w*|gifted|"
    r"commission\w*|collab\w*|endorse\w*|support(?:ed|ing|s)|brought|courtesy|buy|shop|offers?|deals?|codes?|bonus",
    "pain": r"pain\w*|hurts?|hurting|ache\w*|aching|sore\w*|injur\w*|stings?|sharp\w*|joints?|cramp\w*|numb\w*|dizz\w*|"
    r"faint\w*|sick|nause\w*|uncomfortable|discomfort",
    "safety": r"saf(?:e|ely|er|est|ety)|unsafe|cautions?|cautious\w*|warn\w*|danger\w*|risk\w*|stop\w*|doctor\w*|"
    r"physio\w*|medic\w*|health\w*|pregnan\w*|hearts?|blood|emergency|spotters?|careful\w*|harm\w*|hazard\w*|ignore\w*|"
    r"skip\w*|breath\w*|unsupervised|alone|locks?|collars?|clips?|myths?|nonsense|exaggerat\w*|optional\w*|"
    r"disclaim\w*|advice|recommend\w*|licen[sc]ed|lawyers?|legal\w*|insur\w*|formalit\w*|professional\w*|swollen|bleed\w*|cures?|heals?|therapy|treat\w*",
    "dose": r"reps?|sets|rounds?|circuits?|supersets?|intervals?|rests?|resting|weights?|loads?|heav\w*|"
    r"light(?:er|est)|tempo|extra|double|triple|twice|thrice|longer|shorter|kilos?|plates?|laps?|daily|"
    r"everyday|tabata|amrap|emom|warmup",
    "effort": r"hard(?:er|est)?|eas(?:y|ier|iest|ily)|max(?:imal\w*|imum)?|failure|intens\w*|fast(?:er|est)?|"
    r"slow(?:er|ly)?|explosive\w*|sprint\w*|effort\w*|tired\w*|exhaust\w*|strain\w*|forc(?:e|ed|ing)|beginners?|advanced|"
    r"intermediate|experienced|bounce\w*|jerk\w*|momentum|swing\w*|slam\w*|deeper|further|higher|burn\w*|sweat\w*|"
    r"reserve|rpe|tough\w*",
}
_TOPIC = re.compile("|".join(f"(?P<{topic}>{words})" for topic, words in _SPEAK_OF.items()))
_ENDING = re.compile(r"(?<=...)(?:ly|ing|ed|es|s)$")
#: What takes back, narrows or turns round what stands beside it.
TURNING = frozenset(
    "not no nor neither none nobody nothing without unless only except but however although though despite instead "
    "rather myth ignore ignored skip optional rarely seldom hardly barely usually mostly sometimes maybe perhaps "
    "probably experienced advanced nonsense exaggerated overrated needless unnecessary anyway regardless even may "
    "might could can until before after above below less more most least too always".split()
)
_LOOSE = frozenset("more most even too always until before after".split())  # in cautions alone
_OPPOSITES = (
    "up down", "left right", "front back", "in out", "straight bent", "above below", "inside outside", "wide narrow",
    "high low", "forward backward", "forwards backwards", "open closed", "over under", "top bottom", "first last",
    "near far", "long short", "tight loose", "inhale exhale", "push pull", "raise lower", "flat round", "flat rounded",
    "straight rounded", "straight round", "still moving", "same opposite", "both one", "small big", "light heavy",
    "hard soft", "firm soft", "tall slumped", "start stop", "start finish", "before after", "more less", "with without",
    "slowly quickly", "slow quick", "gently hard", "keep drop", "soft locked", "toes heels", "elbows wrists",
    "knees hips", "towards away", "into away", "lift lower", "lower drop", "squeeze relax", "brace relax", "all none",
    "every no",
    "always never", "rest work", "and or", "shallow deep", "calm hectic", "smooth jerky",
)  # fmt: skip
_PAIRS = {one: {pair[1 - at] for pair in map(str.split, _OPPOSITES) for at in (0, 1) if pair[at] == one}
          for one in " ".join(_OPPOSITES).split()}  # fmt: skip
#: What hashtags are made of that name nobody.
OF_TRAINING = frozenset(
    "workout workouts fitness fit training train trainer coach gym home strength strong body weight free full core "
    "legs arms upper lower health healthy life motivation day daily morning week move movement mobility stretch "
    "cardio hiit sport beginner video film episode new no kit equipment time minute minutes exercise exercises "
    "plan the and of my your with at for to in".split()
)
_POINTING = frozenset("this these that those above it section paragraph part".split())
#: Of a website's own words around a text, these still count.
PLAIN_SPONSOR = re.compile(r"sponsor\w*|advert\w*|paid|partner\w*|affiliate\w*|promo|discounts?|coupons?")


def topic(words: Iterable[str]) -> str | None:
    """Return what the first of the words that is in a list speaks of, None for words of other things."""
    found = (_TOPIC.fullmatch(word) for word in words)
    return next((one.lastgroup for one in found if one), None)


def apart(one: Sequence[str], other: Sequence[str]) -> list[str]:
    """Return the words of two texts that only one of them has, in any inflection."""
    roots = {_ENDING.sub("", word) for word in one} & {_ENDING.sub("", word) for word in other}
    return [word for word in (*other, *one) if _ENDING.sub("", word) not in roots]


def points(words: Sequence[str]) -> bool:
    """Tell whether words behind or before others may take these back."""
    return not _POINTING.isdisjoint(words) and not (TURNING - _LOOSE).isdisjoint(words)


def turns(lost: Sequence[str], more: Sequence[str]) -> bool:
    """Tell whether words put in the place of others say the opposite, or take back what stands beside them."""
    sharp = TURNING - _LOOSE
    if sharp & set(lost) != sharp & set(more):
        return True
    return any(_PAIRS.get(word, set()) & set(more) for word in lost)
