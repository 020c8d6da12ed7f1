"""The index of exercise names: plain words that compare whatever the case, hyphens, plurals and short forms.

Everyone who looks for a name, written or said, does it here; only the audit has a reader of its own.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

# Short forms and spellings of the trade, by their singular.
_LONG = {
    "kb": "kettlebell", "kbs": "kettlebell", "db": "dumbbell", "dbs": "dumbbell", "bb": "barbell", "bw": "bodyweight",
    "sl": "single leg", "sa": "single arm", "rdl": "romanian deadlift", "dl": "deadlift", "ohp": "overhead press",
    "rfess": "rear foot elevated split squat", "bss": "bulgarian split squat", "tgu": "turkish getup",
    "hspu": "handstand pushup", "oh": "overhead", "mb": "medicine ball", "med": "medicine", "alt": "alternating",
    "alternate": "alternating", "delt": "deltoid", "flye": "fly", "calve": "calf", "ninety": "90", "ext": "extension",
    "legged": "leg", "armed": "arm", "handed": "hand", "banded": "band", "hex": "trap", "swiss": "stability",
    "gym": "stability", "dumbell": "dumbbell", "paused": "pause", "reps": "rep", "ohs": "overhead squat",
    "fs": "front squat", "bp": "bench press", "sqt": "squat", "shldr": "shoulder", "dbl": "double", "dual": "double",
    "snatche": "snatch",
}  # fmt: skip
_EMPTY = frozenset({"the", "a", "an", "your", "some", "resistance"})  # every band is a resistance band
_JOINED = frozenset({"up", "down", "over", "apart", "out"})  # "pull up" is pull-up is pullup
_LIMBS = frozenset({"arm", "leg", "hand"})

_WORD = re.compile(r"[a-z0-9]+")
Words = tuple[str, ...]
#: What may be meant by a form of a name: keys in the order given, each with the name that it was given.
Column = Mapping[str, Mapping[str, str]]

#: Words for a piece of equipment in names, and the piece, the likeliest first.
KIT = {
    "kettlebell": "kettlebell", "dumbbell": "dumbbell", "barbell": "barbell", "cable": "cable machine", "band": "band",
    "machine": "machine", "landmine": "landmine", "sandbag": "sandbag", "bodyweight": "bodyweight", "plate": "plate",
}  # fmt: skip

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


@lru_cache(maxsize=8192)  # the library's names and those of a talk's exercises are asked for again and again
def words(name: str) -> Words:
    """Return the words of a name in the singular, short forms written out, "pull up" and "one arm" made even.

    None are left of a name in another script.
    """
    found: list[str] = []
    for short in plain(name).split():
        for word in _long(short):
            if word in _JOINED and found:
                found[-1] += word
            elif word in _LIMBS and found and found[-1] in {"one", "1"}:
                found[-1:] = ["single", word]
            else:
                found.append(word)
    return tuple("pushup" if word == "pressup" else word for word in found)


def name_key(name: str) -> str:
    """Return the words of a name run together: what two spellings of one name have in common."""
    return "".join(words(name))


def bag(said: Words) -> Words:
    """Return the words that carry meaning, in the order of the alphabet."""
    return tuple(sorted(word for word in said if word not in _SMALL))


@dataclass(frozen=True, slots=True)
class Name:
    """A name as it was given for a key, its words, and how many names were given before it."""

    key: str
    shown: str
    words: Words
    order: int

    @property
    def run(self) -> str:
        """Its words run together, as machines and hands may split them anywhere."""
        return "".join(self.words)


class Index:
    """Names of what has keys, found as they are written, by their words in any form, or by a slip of the keyboard.

    Each column is made when it is first asked for.
    """

    def __init__(self, named: Iterable[tuple[str, str]]) -> None:
        """Take (key, name) pairs; a key may have several names and a name several keys."""
        self._named = tuple(named)

    @cached_property
    def names(self) -> tuple[Name, ...]:
        """Every name that has words; a name in another script is found as it is written only."""
        every = (Name(key, shown, words(shown), order) for order, (key, shown) in enumerate(self._named))
        return tuple(name for name in every if name.words)

    @cached_property
    def written(self) -> Column:
        """By the name as written, in small letters."""
        found: dict[str, dict[str, str]] = {}
        for key, shown in self._named:
            found.setdefault(shown.lower(), {}).setdefault(key, shown)
        return found

    @cached_property
    def whole(self) -> Column:
        """By the words run together."""
        return self.column(lambda said: ("".join(said),))

    @cached_property
    def bags(self) -> Column:
        """By the words that carry meaning, in any order, with blanks between them."""
        return self.column(lambda said: (" ".join(bag(said)),))

    @cached_property
    def without_kit(self) -> Column:
        """By those but for words of equipment."""
        return self.column(lambda said: (" ".join(word for word in bag(said) if word not in KIT),))

    def ends(self, say_enough: Callable[[Words], bool]) -> Column:
        """By each end of a name that says enough, run together."""
        return self.column(lambda said: ("".join(said[at:]) for at in range(1, len(said)) if say_enough(said[at:])))

    def column(self, forms: Callable[[Words], Iterable[str]]) -> Column:
        """By forms made of a name's words."""
        found: dict[str, dict[str, str]] = {}
        for name in self.names:
            for form in forms(name.words):
                found.setdefault(form, {}).setdefault(name.key, name.shown)
        return found


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
