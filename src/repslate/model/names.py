"""What a written name comes down to: plain words that compare whatever the case, hyphens, plurals and short forms."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

# Short forms and spellings of the trade, by their singular.
_LONG = {
    "kb": "kettlebell", "kbs": "kettlebell", "db": "dumbbell", "dbs": "dumbbell", "bb": "barbell", "bw": "bodyweight",
    "sl": "single leg", "sa": "single arm", "rdl": "romanian deadlift", "dl": "deadlift", "ohp": "overhead press",
    "rfess": "rear foot elevated split squat", "bss": "bulgarian split squat", "tgu": "turkish getup",
    "hspu": "handstand pushup", "oh": "overhead", "mb": "medicine ball", "med": "medicine", "alt": "alternating",
    "alternate": "alternating", "delt": "deltoid", "flye": "fly", "calve": "calf", "ninety": "90", "ext": "extension",
    "legged": "leg", "armed": "arm", "handed": "hand", "banded": "band", "hex": "trap", "swiss": "stability",
    "gym": "stability", "dumbell": "dumbbell", "paused": "pause", "reps": "rep",
}  # fmt: skip
_EMPTY = frozenset({"the", "a", "an", "your", "some", "resistance"})  # every band is a resistance band
_JOINED = frozenset({"up", "down", "over", "apart", "out"})  # "pull up" is pull-up is pullup
_LIMBS = frozenset({"arm", "leg", "hand"})

_WORD = re.compile(r"[a-z0-9]+")

# Words that change neither what a movement trains nor what may hurt in it.
MANNER = frozenset({"alternating", "slow", "pause", "tempo", "strict", "controlled", "heavy", "light", "left", "right"})
_SMALL = frozenset({"with", "on", "using", "of", "in", "to", "from", "for", "and", "at", "by", "against", "round"})


def plain(name: str) -> str:
    """Return the name in lower case without accents, apostrophes, punctuation and empty words."""
    if not name.isascii():
        marked = unicodedata.normalize("NFKD", name.replace("’", ""))
        name = "".join(c for c in marked if not unicodedata.combining(c))
    found = _WORD.findall(name.casefold().replace("'", "").replace("&", " and "))
    return " ".join(word for word in found if word not in _EMPTY)


def singulars(text: str) -> list[str]:
    """Return the words of a plain name, each in the singular."""
    return [_singular(word) for word in text.split()]


def words(text: str) -> tuple[str, ...]:
    """Return the words of a plain name in the singular, short forms written out, "pull up" and "one arm" made even."""
    found: list[str] = []
    for short in text.split():
        for word in _long(short):
            if word in _JOINED and found:
                found[-1] += word
            elif word in _LIMBS and found and found[-1] in {"one", "1"}:
                found[-1:] = ["single", word]
            else:
                found.append(word)
    return tuple("pushup" if word == "pressup" else word for word in found)


def bag(said: tuple[str, ...]) -> tuple[str, ...]:
    """Return the words that carry meaning, in the order of the alphabet."""
    return tuple(sorted(word for word in said if word not in _SMALL))


@lru_cache(maxsize=2048)  # the library's names are made of a few hundred words
def _long(word: str) -> tuple[str, ...]:
    """Return a word in the singular, a short form written out."""
    one = _singular(word)
    return tuple(_LONG.get(one, one).split())


def _singular(word: str) -> str:
    if word == "ups":  # "push ups"
        return "up"
    if len(word) < 4 or not word.endswith("s") or word.endswith("ss"):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-2] if word.endswith(("sses", "ches", "shes", "xes")) else word[:-1]
