"""The audit's own reading of words: what a sentence holds whatever its order, its inflection and its typography."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from repslate.model.quantity import NUMBER_WORDS, VULGAR
from repslate.proof.reading import UNSEEN, seen

_SINGLE, _DOUBLE, _DASHES = "'‘’‚′`´", '"“”„″«»', "-‐‑‒–—―−"
_TYPOGRAPHY = str.maketrans(
    {**dict.fromkeys(_SINGLE, "'"), **dict.fromkeys(_DOUBLE, '"'), **dict.fromkeys(_DASHES, "-")}
    | {"×": "x", "…": "...", **dict.fromkeys(UNSEEN)}
)
# Words that carry no meaning of their own in an instruction; all others, negations and "only" included, must stay.
_EMPTY = frozenset(
    "a an the and or your you yours it its is are be been of to in on at for so as that this then".split()
)
_DIGITS = 18  # Python reads a few thousand, and refuses the rest
# Scripts without blanks between words, whose lines may end anywhere: each letter counts by itself.
UNPARTED = "\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u2e80-\u31ff\u3400-\u9fff\uf900-\ufaff\U00020000-\U0003ffff"
_WORD = re.compile(rf"[{UNPARTED}]|(?:(?![{UNPARTED}])[^\W\d_])+(?:'[^\W\d_]+)?")
_SENTENCE = re.compile(r"(?<=;)\s+|(?<=[.!?])(?<!\bal\.)[\"')]*\s+(?=[^a-z])|\n+")  # "et al. 2024" goes on
_NUMBER = r"\d+(?:[.,]\d+)?[¼½¾]?|[¼½¾]"
_TOKEN = re.compile(
    rf"(?P<clock>\d+(?::\d+)+(?:[.,]\d+)?)|(?P<label>\b[A-Z]{{1,2}}\d+\b)|(?P<number>{_NUMBER})"
    r"|(?P<word>[^\W\d_]+(?:-[^\W\d_]+)*)|(?P<sign>%)"
)
UNITS = {
    **dict.fromkeys("s sec secs second seconds".split(), "s"),
    **dict.fromkeys("min mins minute minutes".split(), "min"),
    **dict.fromkeys("h hr hrs hour hours".split(), "h"),
    **dict.fromkeys("m metre metres meter meters".split(), "m"),
    **dict.fromkeys("cm centimetre centimetres centimeter centimeters".split(), "cm"),
    **dict.fromkeys("km kilometre kilometres kilometer kilometers".split(), "km"),
    **dict.fromkeys("kg kilo kilos kilogram kilograms".split(), "kg"),
    **dict.fromkeys("lb lbs pound pounds".split(), "lb"),
    **dict.fromkeys("rep reps repetition repetitions".split(), "reps"),
    **dict.fromkeys("set sets".split(), "sets"),
    **dict.fromkeys("round rounds".split(), "rounds"),
    **dict.fromkeys("% percent".split(), "%"),
    **dict.fromkeys("ft foot feet".split(), "ft"),
    **dict.fromkeys("yd yard yards".split(), "yd"),
    **dict.fromkeys("in inch inches".split(), "in"),
    **dict.fromkeys("breath breaths".split(), "breaths"),
    **dict.fromkeys("cal cals calorie calories".split(), "cal"),
    **dict.fromkeys("step steps".split(), "steps"),
    **dict.fromkeys("length lengths".split(), "lengths"),
    **dict.fromkeys("day days".split(), "days"),
    **dict.fromkeys("week weeks".split(), "weeks"),
    **dict.fromkeys("month months".split(), "months"),
    **dict.fromkeys("year years".split(), "years"),
    **dict.fromkeys("kcal calorie calories".split(), "kcal"),
    **dict.fromkeys("degree degrees".split(), "degrees"),
}
AMOUNT_WORDS = {"twice": 2, "hundred": 100, "dozen": 12}
_AMOUNTS = {**NUMBER_WORDS, **AMOUNT_WORDS}


@dataclass(frozen=True, slots=True, order=True)
class Figure:
    """A number in running text with its unit ("" where none of ours follows).

    A clock is in seconds, its unit "clock"; one that is no time, such as 1:5 or 1:500, is below zero.
    """

    value: Fraction
    unit: str
    words: str = ""

    @property
    def key(self) -> tuple[Fraction, str]:
        """What makes two figures the same, however they are written."""
        return self.value, self.unit


@lru_cache(maxsize=16384)
def normal(text: str) -> str:
    """Return the text as it compares: plain quotes and dashes, one kind of blank, lower case."""
    return " ".join(unicodedata.normalize("NFC", text).translate(_TYPOGRAPHY).casefold().split())


def named(text: str) -> str:
    """Return a name as it compares: hyphens, case and punctuation at its ends do not matter."""
    plain = " ".join(unicodedata.normalize("NFKC", normal(text)).replace("-", " ").split())
    return plain.strip(" .:;,•·*") or plain


def key(text: str) -> str:
    """Return what two names have in common that are the same: as `named`, and wherever a line may end in them."""
    return "".join(named(text).split())


def standing(words: str, text: str) -> range | None:
    """Return where words stand in a text, whatever its typography and wherever its lines end; None if they do not."""
    sought = "".join(letter for letter, _ in _letters(words))
    held = _letters(text)
    at = "".join(letter for letter, _ in held).find(sought) if sought else -1
    return None if at < 0 else range(held[at][1], held[at + len(sought) - 1][1] + 1)


def _letters(text: str) -> list[tuple[str, int]]:
    """Return each letter as it compares with its place, without blanks."""
    return [(one, at) for at, letter in enumerate(text) for one in normal(letter) if not one.isspace()]


def is_unparted(text: str) -> bool:
    """Tell whether a text has letters of a script without blanks, between any two of which a line may end."""
    return re.search(f"[{UNPARTED}]", text) is not None


@lru_cache(maxsize=1024)
def behind(name: str, text: str) -> str | None:
    """Return what stands behind a name at the beginning of a text, None where the text does not begin with it.

    Signs between the words of the name may differ, and those at its ends be left out.
    """
    found = _pattern(name).match(text)
    return text[found.end() :] if found else None


@lru_cache(maxsize=1024)
def _pattern(name: str) -> re.Pattern[str]:
    name = seen(name)
    words = list(re.finditer(r"\w+", name))
    if not words:
        return re.compile(_signs(name))
    middle = r"[\W_]+".join(re.escape(word[0]) for word in words)
    tail = _signs(name[words[-1].end() :])
    return re.compile(rf"[\W_]*{middle}(?!\w)(?:{tail})?", re.IGNORECASE)


def _signs(text: str) -> str:
    """Return a pattern for signs, in whatever typography."""
    parts = []
    for letter in text:
        kind = next((kind for kind in (_SINGLE, _DOUBLE, _DASHES) if letter in kind), "")
        if kind:
            parts.append(f"[{re.escape(kind)}]")
        else:
            parts.append(r"\s*" if letter.isspace() else r"(?:…|\.\.\.)" if letter == "…" else re.escape(letter))
    return "".join(parts)


@lru_cache(maxsize=8192)
def content(text: str) -> Counter[str]:
    """Return the stems of the words that carry meaning, negations included, and how often each stands there.

    The counter is shared: do not change it.
    """
    plain = re.sub(r"\bwon't\b", "will not", normal(text).replace("cannot", "can not"))
    plain = re.sub(r"n't\b", " not", plain)
    return Counter(_stem(word) for word in _WORD.findall(plain) if word not in _EMPTY)


def _stem(word: str) -> str:
    word = re.sub(r"'.*$", "", word)
    for ending in ("ing", "ed", "es", "s"):
        if not word.endswith(ending) or len(word) - len(ending) < 3 or word.endswith("ss"):
            continue
        word = word.removesuffix(ending)
        if ending in ("ing", "ed") and word[-1] == word[-2] and word[-1] not in "ls":
            word = word[:-1]
        break
    return re.sub(r"(?<=..)i$", "y", word.removesuffix("e"))


@lru_cache(maxsize=8192)
def sentences(text: str) -> tuple[str, ...]:
    """Return the sentences of a text; a line break ends one as a full stop does."""
    return tuple(part.strip() for part in _SENTENCE.split(text) if part.strip())


@lru_cache(maxsize=8192)
def figures(text: str) -> tuple[Figure, ...]:
    """Return the figures of a text in order: digits, clocks, labels such as A1, numbers in words from two up.

    A single "one" counts only with a unit behind it, for "one leg" is a way of speaking.
    """
    tokens = list(_TOKEN.finditer(text.translate(_TYPOGRAPHY)))
    found = []
    for at, token in enumerate(tokens):
        following = tokens[at + 1][0].casefold() if at + 1 < len(tokens) else ""
        unit = UNITS.get(following, "")
        if token["clock"]:
            found.append(Figure(clock(token["clock"]), "clock", token[0]))
        elif token["label"]:
            found.append(Figure(Fraction(integer(re.sub(r"\D", "", token[0]))), re.sub(r"\d", "", token[0]), token[0]))
        elif token["number"]:
            found.append(Figure(number(token["number"]), unit, f"{token[0]} {following if unit else ''}".strip()))
        elif token["word"]:
            found += _in_words(token["word"].casefold(), unit, following)
    return tuple(found)


def _in_words(word: str, unit: str, following: str) -> Iterator[Figure]:
    value = _AMOUNTS.get(word)
    if value is None and "-" in word:  # "ten-second", "two-arm"
        head, _, tail = word.partition("-")
        value, unit = _AMOUNTS.get(head), UNITS.get(tail, "")
    if value is not None and (value > 1 or unit):
        yield Figure(Fraction(value), unit, f"{word} {following if unit and following in UNITS else ''}".strip())


@lru_cache(maxsize=8192)
def meaning(text: str) -> Counter[str]:
    """Return the content words of a text without those of its figures, which may be written in digits or in words.

    The counter is shared: do not change it.
    """
    numbers = Counter(stem for figure in figures(text) for stem in content(figure.words).elements())
    return content(text) - numbers


@lru_cache(maxsize=8192)
def bag(text: str) -> Counter[tuple[Fraction, str]]:
    """Return the figures of a text and how often each stands there. The counter is shared: do not change it."""
    return Counter(figure.key for figure in figures(text))


def number(text: str) -> Fraction:
    """Return the value of "10", "22.5", "22,5", "4½" or "½"."""
    extra = VULGAR.get(text[-1:], Decimal(0))
    return decimal((text[:-1] if extra else text).replace(",", ".")) + Fraction(extra)


def integer(digits: str) -> int:
    """Return a whole number; of one with more digits than any true figure the first of them, which meets none."""
    return int(digits[:_DIGITS] or 0)


def decimal(text: str) -> Fraction:
    """Return the value of "22.5", cut as `integer` does it."""
    before, _, after = text.partition(".")
    return integer(before) + Fraction(integer(after), 10 ** len(after[:_DIGITS]))


def clock(text: str) -> Fraction:
    """Return the seconds of a clock; one below zero for what is written like one and is no time."""
    if not re.fullmatch(r"\d+(?::[0-5]\d)+(?:[.,]\d+)?", text):
        return Fraction(-1 - integer(re.sub(r"\D", "", text)))
    seconds = Fraction(0)
    for part in text.replace(",", ".").split(":"):
        seconds = seconds * 60 + decimal(part)
    return seconds


def likeness(one: str, other: str) -> float:
    """Return how many content words two texts share, 0 to 1 (Dice 1945, Ecology 26(3): twice the common share)."""
    return _share(content(one), content(other))


def _share(one: Counter[str], other: Counter[str]) -> float:
    total = one.total() + other.total()
    return 2 * shared(one, other) / total if total else 0.0


def shared(one: Counter[str], other: Counter[str]) -> int:
    """Return how many words two counters have in common; of most pairs none, which `&` of the two would not see."""
    return sum(min(one[word], other[word]) for word in one.keys() & other.keys())
