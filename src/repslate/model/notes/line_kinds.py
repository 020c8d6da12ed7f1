"""What a line looks like before it is read: one that talks, a title, a dose that goes on, names below a dose."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.items import bare_item
from repslate.model.notes.lexicon import listed
from repslate.model.notes.lines import has_dose, split_label, strip_bullet
from repslate.source.bounds import DOSE

_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
#: A dose that no prose has: sets and repetitions, or a number of sets.
_CHAIN = re.compile(r"(?i)\d\s*[x×]\s*\d|\d\s*sets?\b")
_SET = re.compile(r"(?i)set\s*\d")
#: What a dose may begin with that is no figure.
_BEGIN = (
    "topset", "backoff", "warmupset", "heavy", "last", "tempo", "every", "buildto", "myo", "rpe", "rest",
)  # fmt: skip
_SIGNS = frozenset({",", "@", "(", "+", "-", "–", "*", "•"})
_SHORTEST_TALK = 6  # words; with one word of talk only, ten
_LONGEST_BELOW = 4  # words of a name below a dose
LONGEST_NAME = 8  # words; what is longer and has no figure is prose

#: "unbroken if you can" behind a dose talks to nobody.
_ASIDE = re.compile(r"(?i)\b(?:if|when|where|as|as \w+ as)\s+you\s+(?:can|need|want|must|like)\b")

#: "Sets: 4", "reps: 8-10" and "weight: 24 kg" at the beginning of a line or behind a sign.
_LABELLED = re.compile(r"(?i)(^\s*|[,;|–—]\s+)(sets|reps):\s*(\d{1,3}(?:\s?[-–]\s?\d{1,3})?)(?=\s*(?:$|[,;|]))")
_LABELLED_NAME = re.compile(r"(?i)^\s*(?:exercise|movement|name|lift):\s+(?=[^\d\s].*[,;|])")
_LABELLED_LOAD = re.compile(r"(?i)(^\s*|[,;|–—]\s+)(?:weight|load):\s*(?=\d)")

#: What a line over a day begins with.
_DAY = re.compile(
    r"(?i)^[\s#*_]*(?:(?:week\s*\d+\s*[,·:–-]?\s*)?day\s*(?:\d{1,2}|[a-f])\b"
    r"|(?:mon|tues|wednes|thurs|fri|satur|sun)day\b|session\s*\d\b)"
)
#: What messengers put in front of each message; bounded, so that a hostile line costs little.
_CHAT = re.compile(r"^\s*\[[^\]]{0,60}\d{1,2}[:.]\d{2}[^\]]{0,60}\]\s*(?:[^:,.\d]{2,30}:\s+)?")
#: "Part two", and how often it is done.
_PART = re.compile(r"(?i)^(?:part|block|section)\s+(?:one|two|three|four|five|\d|[a-f])\b")
_HOW_OFTEN = re.compile(r"(?i)\b(?:once|twice|\w+ times)\b.*")
_COUNTS = (("once", 1), ("twice", 2), ("three times", 3), ("3 times", 3), ("two times", 2), ("2 times", 2),
           ("four times", 4), ("4 times", 4))  # fmt: skip
#: What opens a block whatever stands above it.
_ROUNDS_OF = re.compile(r"(?i)^\W*\d{1,2}\s+(?:rounds|rds)(?:\s+of)?\s*:?\s*$")
_BETWEEN_ROUNDS = re.compile(
    r"(?i)\b(?:between|after|btw)\s+(?:each\s+|every\s+)?(?:rounds?|rds?|circuits?|supersets?)\b"
)
_EACH = re.compile(r"(?i)\b(?:each|of each|per (?:exercise|movement|pose))\s*(?:[,:;.)–—-]|$)")
_COOL_DOWN = re.compile(r"(?i)\W*(?:cd|c/d|wd|cool[- ]?down|warm[- ]?down)\b\W*\w")
_IN_BRACKETS = re.compile(r"\([^()]*\)")
_FIRST_LABEL = re.compile(r"\s*A([.)])\s")
_BUY_IN = re.compile(r"(?i)\W*buy[- ]?in\b.{0,60}[,;]\s")
_BOUGHT = re.compile(r"(?i)[,;]\s+(?=cash[- ]?out\b|(?:\d+\s+(?:rounds?|rds)|amrap|emom)\b)")
_GREETING = re.compile(r"(?i)^(?:hi|hiya|hello|hey|dear|morning|good morning|evening)\b[^\d:]{0,40}[,!]\W*$")
_SIGN_OFF = re.compile(
    r"(?i)^(?:all the best|best(?: wishes| regards)?|(?:kind|warm)(?:est)? (?:regards|wishes)|regards|cheers|thanks"
    r"|yours|love|see you(?: soon)?)\s*[,!.]?$"
)
_CAP = re.compile(r"(?i)\bcap\b|\btc\b")


@dataclass(frozen=True, slots=True)
class Line:
    """A line of notes: its number from 1, as typed, without blanks and quotes around it, and the six below."""

    number: int
    raw: str
    text: str
    below: list[str]

    @property
    def following(self) -> str:
        """The next line that is not blank."""
        return next((one for one in self.below if one.strip()), "")


def lines_of(text: str) -> Iterator[Line]:
    """Yield the lines of a text without what messengers put in front; of those below the beginning is enough."""
    lines = [
        (number, one)
        for number, line in enumerate(text.splitlines(), 1)
        for one in _apart(_unlabelled(_CHAT.sub("", line) if "[" in line else line))
    ]
    begun = [line[:DOSE] for _, line in lines]
    for at, (number, line) in enumerate(lines, 1):
        stripped = line.strip()
        is_quoted = stripped.count('"') == 2 and stripped.startswith('"')
        yield Line(number, line, stripped.strip('"') if is_quoted else stripped, begun[at : at + 6])


def _unlabelled(line: str) -> str:
    """Write "Sets: 4, reps: 10" and "Weight: 24 kg", as forms have them, as coaches type them."""
    if ":" not in line or len(line) > DOSE:
        return line
    line = _LABELLED_NAME.sub("", line)
    return _LABELLED_LOAD.sub(r"\1@ ", _LABELLED.sub(r"\1\3 \2", line))


def ends_in_cool_down(below: list[str]) -> bool:
    """Tell whether the paragraph ends in a cool-down of one line: "CD 2 km jog"."""
    for line in below:
        if not line.strip():
            return False
        if _COOL_DOWN.match(line):
            return True
    return False


def _apart(line: str) -> list[str]:
    """Cut a line that holds several exercises by their labels: "A. Squat 3x5  B. RDL 3x8", "…, cash-out: 1 km row"."""
    if len(line) > DOSE:
        return [line]
    if _BUY_IN.match(line):
        return [piece.strip() for piece in _BOUGHT.split(line)]
    first = _FIRST_LABEL.match(line)
    if not first:
        return [line]
    found = [line]
    for letter in "BCDEFGH":
        before, sign, behind = found[-1].partition(f" {letter}{first[1]} ")
        if not sign or not before.strip() or not behind.strip():
            break
        found[-1:] = [before.strip(), f"{letter}{first[1]} {behind.strip()}"]
    return found


def opens(text: str) -> bool:
    """Tell whether a line opens a block whatever stands above: "3 rounds of:", a cap."""
    return bool(_ROUNDS_OF.match(text) or _CAP.search(text))


def is_title(text: str, following: str) -> bool:
    """Tell whether a line without figures is a title of what stands below."""
    if len(text.split()) > LONGEST_NAME or text.endswith((".", "!", "?")):
        return False
    return text.endswith(":") or bool(following.strip()) or text.isupper() or text.istitle()


def names_day(text: str) -> bool:
    """Tell whether a line begins as the name of a day does: "Day 2", "Week 3, day A", "Monday"."""
    return bool(_DAY.match(text))


def named_part(text: str) -> int | None:
    """Return how often "Part two, three times" is done, 0 where it does not say; None for any other line."""
    if not _PART.match(text) or has_dose(_HOW_OFTEN.sub("", text)):
        return None
    return next((count for words, count in _COUNTS if words in text.casefold()), 0)


def says_between_rounds(text: str) -> bool:
    """Tell whether a line says that something is between or after rounds."""
    return bool(_BETWEEN_ROUNDS.search(text))


def words_of(text: str) -> list[str]:
    """Return the words of a line in small letters."""
    return _WORD.findall(text.casefold().replace("’", "'"))


def ends_letter(text: str) -> bool:
    """Tell whether a line is what a letter ends with, behind which only names stand: "All the best,"."""
    return bool(_SIGN_OFF.match(text))


def talks(text: str) -> bool:
    """Tell whether a line talks to somebody."""
    if _GREETING.match(text):
        return True
    text = _IN_BRACKETS.sub("", text)
    words = words_of(_ASIDE.sub("", text) if has_dose(text) else text)
    said = listed("talk") & set(words)
    return bool(said) and len(words) >= (_SHORTEST_TALK if len(said) > 1 else 10)


def has_chain(text: str) -> bool:
    """Tell whether a line has a dose that no prose has, or a label as exercises have."""
    return bool(_CHAIN.search(text) or split_label(strip_bullet(text))[0])


def leads_names(below: list[str]) -> bool:
    """Tell whether the line right below names an exercise and counts nothing, though it may have a load."""
    line = strip_bullet(below[0].strip()) if below else ""
    typed = typed_line(line)
    found = [item for at in range(typed.end) if (item := bare_item(typed, at, at > 0))]
    is_counted = any({"reps", "sets", "seconds", "metres", "times", "parts"} & item.fields.keys() for item in found)
    return bool(line) and not is_counted and not split_label(line)[0]


def says_each(text: str) -> bool:
    """Tell whether a line says that its figures are of each exercise: "10 reps each"."""
    return bool(_EACH.search(text))


def names_file(text: str) -> bool:
    """Tell whether a first line is the title of the whole sheet: "Week 3 programme"."""
    return not listed("title of a sheet").isdisjoint(words_of(text))


def heads_names(text: str, below: list[str]) -> bool:
    """Tell whether a line with figures stands over indented names without any: "drills x2, 20 m"."""
    if text.startswith(("-", "*", "•")) or split_label(text)[0] or len(below) < 2 or not has_dose(text):
        return False
    is_shared = bool(_EACH.search(text)) and all(map(_is_bare_name, below[:2]))
    return is_shared or all(line.startswith((" ", "\t")) and _is_bare_name(line) for line in below[:2])


def _is_bare_name(line: str) -> bool:
    return 0 < len(line.split()) <= _LONGEST_BELOW and not has_dose(strip_bullet(line))


@lru_cache(maxsize=256)
def begins_dose(text: str) -> bool:
    """Tell whether a line begins with a figure or the name of a part, so that it may go on with the exercise above."""
    typed = typed_line(text)
    at = 0
    while typed[at].word in listed("begins a dose") or typed[at].text in _SIGNS or typed[at].is_times:
        at += 1
    if typed.sees(at, *_BEGIN) or _SET.match(text) or typed.amount(at):
        return True
    return bool(bare_item(typed, at, False))


def begins_part(text: str) -> bool:
    """Tell whether a line begins with the name of a part: "top set", "back-offs", "set 3"."""
    return bool(typed_line(text).sees(0, "topset", "backoff", "warmupset", "last") or _SET.match(text))
