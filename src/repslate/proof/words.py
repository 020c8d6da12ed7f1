"""A text cut into words that compare as people mean them, whatever a website, a phone or an editor made of their signs.

Quotes, dashes, brackets, bullets, emoji, case, accents set apart, soft hyphens and the white space between a figure and
its unit make no difference; nor does "don't" for "do not", "each side" for "per side" or "ten" for "10".
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import IntEnum
from functools import lru_cache
from urllib.parse import parse_qsl, unquote, urlencode, urlsplit

from repslate.model.quantity import NUMBER_WORDS
from repslate.proof.reading import UNSEEN
from repslate.proof.wording import AMOUNT_WORDS, UNITS, UNPARTED, clock

_SIGNS = str.maketrans({**dict.fromkeys("‘’‚′`´", "'"), **dict.fromkeys(UNSEEN), "½": ".5", "¼": ".25", "¾": ".75"})
_FEW = frozenset("a an the and it its it's is are be been of so that this these those you your".split())
_FOREIGN = re.compile(r"[^\x00-\x7f]")
_SPARE = (
    (re.compile(r"\[([^\[\]]+)\]\(https?://[^()\s]+\)"), r"\1"),  # a link as Markdown has it, pasted as text
    (re.compile(r"\bRIR:?\s*(\d)|(\d)\s*RIR\b", re.IGNORECASE), r"leave \1\2 in reserve"),
    (re.compile(r"(?<=\d)\s*[×x✕*]\s*(?=\d)", re.IGNORECASE), " × "),
    (re.compile(r"(?<=\d) to (?=\d)"), "–"),
    (re.compile(r"(?<=\d)\s*″"), " s"),
    *((re.compile(f"{part}⁄{whole}"), share) for part, whole, share in ((1, 2, ".5"), (1, 4, ".25"), (3, 4, ".75"))),
    (
        re.compile(  # "@ 16 kg" in words
            r"\b(?:with|at|using) (?=bodyweight\b|RPE\b|(?:\d+ × )?\d[\d.,]*(?: ?[-–—−] ?\d[\d.,]*)?\s*"
            r"(?:kg|kilo\w*|lbs?|pounds?|%|percent)(?!\w))",
            re.IGNORECASE,
        ),
        "",
    ),
)
_BULLET = re.compile("\\s*(?:\\(?\\d{1,3}[.)](?=\\s)|(?:\\d\ufe0f?\u20e3)+(?!\\s*×|\\d)|[^\\w\\s(#@\"“‘'~×]+\\s)\\s*")
_TOKEN = re.compile(
    r"(?P<address>(?:https?://|www\.|(?<![\w@.])[a-z][\w-]*(?:\.[\w-]+)*\.[a-z]{2,}/)[^\s<>\"“”]+)"
    r"|(?P<clock>\d+(?::\d\d)+(?:[.,]\d+)?(?![:\d]))"
    r"|(?P<label>\b[A-Z]{1,2}\d{1,2}\b)"
    r"|(?P<number>\d*(?:[.,]\d+)+|\d+)"
    rf"|(?P<word>[{UNPARTED}]|(?:(?![{UNPARTED}])[^\W\d_])+(?:'[^\W\d_]+)*)"
    r"|(?P<sign>[×%]|#(?=\w))"
)
_END = re.compile(r"[.!?;:]+[\"”')]*(?:\s|$)")
_NOT = {"never": "not", "cannot": "can not", "can't": "can not", "won't": "will not"}
_TRACKING = re.compile(
    r"utm_|mc_|_?ga\b|_gl$|(?:fb|g|ms|dc|yc|tw|ig|tt)cl(?:id|src)|igshid|gbraid|wbraid|si$|ref|feature"
)
_SPELT = (  # what British and American English end otherwise, in words of any kind: both sides are spelt alike
    (re.compile(r"our(?=s?$|ed$|ing$|ite$|ful$)"), "or"),
    (re.compile(r"tre(?=s?$)"), "ter"),
    (re.compile(r"is(?=(?:e[sd]?|ing|ation)$)"), "iz"),
    (re.compile(r"amme(?=s?$)"), "am"),
    (re.compile(r"ll(?=(?:ed|ing|er)$)"), "l"),
    (re.compile(r"^grey"), "gray"),
)
_AMOUNTS = {**NUMBER_WORDS, **AMOUNT_WORDS}


class Kind(IntEnum):
    """What a word is: a plain one, one that says little, or a claim by itself."""

    FEW = 0
    PLAIN = 1
    UNIT = 2
    NUMBER = 3
    CLOCK = 4
    LABEL = 5
    ADDRESS = 6


@dataclass(frozen=True, slots=True)
class Word:
    """A word as it was `written` and the `key` it compares by.

    `seen` is false where only some readers see it: on some devices, unfolded, struck out. `ends` tells that a
    sentence or a part of one ends behind it. `start` and `stop` are its place in what `plain` makes of the piece.
    """

    key: str
    written: str
    kind: Kind
    seen: bool = True
    ends: bool = False
    start: int = 0
    stop: int = 0


def plain(text: str) -> str:
    """Return a text with one kind of each sign, and what is said in several ways said in one."""
    text = _FOREIGN.sub(_unstyled, unicodedata.normalize("NFC", text)).translate(_SIGNS)
    text = text[bullet.end() :] if (bullet := _BULLET.match(text)) else text
    for pattern, new in _SPARE:
        text = pattern.sub(new, text)
    return text


def _unstyled(found: re.Match[str]) -> str:
    """Return a letter or a digit of a style of its own, such as bold or in a circle, as a plain one."""
    sign = found[0]
    kind = unicodedata.decomposition(sign).partition(" ")[0]
    if kind[:1] != "<" or kind in ("<super>", "<sub>", "<fraction>"):
        return sign
    said = unicodedata.normalize("NFKC", sign)
    return said if said.isalpha() or unicodedata.category(sign) == "Nd" else sign


@lru_cache(maxsize=16384)
def words(text: str, base: str = "") -> tuple[Word, ...]:
    """Return the words of a text; `base` is the address of the page, which links inside it begin with or not."""
    text = plain(text)
    found: list[Word] = []
    for token in _TOKEN.finditer(text):
        ends = token.end() == len(text) or _END.match(text, token.end()) is not None
        for key, kind in _read(token, found[-1].kind if found else Kind.PLAIN, base):
            found.append(Word(key, token[0], kind, ends=ends, start=token.start(), stop=token.end()))
    return tuple(_joined(_time_first(found)))


def _time_first(found: list[Word]) -> list[Word]:
    """Return the words of a line with its only time in front, where the chapters of others have it behind."""
    at = len(found) - 1
    while at > 0 and found[at].kind is Kind.ADDRESS:  # of a link, written out
        at -= 1
    if at < 1 or [one for one, word in enumerate(found) if word.kind is Kind.CLOCK] != [at]:
        return found
    return [replace(found[at], ends=False), *found[: at - 1], replace(found[at - 1], ends=True), *found[at + 1 :]]


def _read(token: re.Match[str], before: Kind, base: str) -> Iterator[tuple[str, Kind]]:
    text = token[0]
    if token["word"]:
        yield from _read_word(text.casefold(), before)
    elif token["number"]:
        yield _number(text), Kind.NUMBER
    elif token["clock"]:
        time = clock(text)
        yield f"{time}" if time >= 0 else text, Kind.CLOCK
    elif token["label"]:
        yield text.casefold(), Kind.LABEL
    elif token["address"]:
        yield address(text.rstrip(".,;:!?)'"), base), Kind.ADDRESS
    else:
        yield text, Kind.PLAIN if text == "#" else Kind.UNIT


def _read_word(word: str, before: Kind) -> Iterator[tuple[str, Kind]]:
    word = _NOT.get(word, word[:-3] + " not" if word.endswith("n't") else word)
    for one in word.split():
        if one in _AMOUNTS:
            yield f"{_AMOUNTS[one]}", Kind.PLAIN if one == "one" else Kind.NUMBER
        elif before is Kind.NUMBER and one in UNITS and one != "in":
            yield UNITS[one], Kind.UNIT
        elif one in ("rep", "reps", "repetition", "repetitions"):
            yield "reps", Kind.UNIT
        elif UNITS.get(one) in ("m", "cm", "km", "kg") and len(one) > 2:
            yield UNITS[one], Kind.PLAIN
        else:
            for british, american in _SPELT:
                one = british.sub(american, one)  # noqa: PLW2901 - as it is spelt elsewhere
            key = unicodedata.normalize("NFKC", one.replace("'", ""))
            yield key, Kind.FEW if one in _FEW else Kind.PLAIN


def _joined(found: list[Word]) -> Iterator[Word]:
    """Yield the words with what several of them mean as one: "do not", "each side", "one second"."""
    for at, word in enumerate(found):
        after = found[at + 1].key if at + 1 < len(found) else ""
        if word.key in ("do", "does", "did") and after == "not":
            yield replace(word, kind=Kind.FEW)
        elif word.key in ("each", "a", "either") and after in ("side", "leg", "arm"):
            yield replace(word, key="per", kind=Kind.UNIT)
        elif word.key == "1" and word.kind is Kind.PLAIN and after in UNITS:
            yield replace(word, kind=Kind.NUMBER)
        elif at and found[at - 1].key == "1" and found[at - 1].kind is Kind.PLAIN and word.key in UNITS:
            yield replace(word, key=UNITS[word.key], kind=Kind.UNIT)
        else:
            yield word


def _number(text: str) -> str:
    whole, _, rest = text.replace(",", ".").partition(".")
    return (whole.lstrip("0") or "0") + (f".{rest.rstrip('0')}" if rest.strip("0") else "")


def address(text: str, base: str = "") -> str:
    """Return an address as it compares: without tracking parameters, and inside the page `base` what follows it."""
    try:
        parts = urlsplit(text)
        pairs = parse_qsl(parts.query, keep_blank_values=True, max_num_fields=100)
    except ValueError:
        return text
    query = urlencode([pair for pair in pairs if not _TRACKING.match(pair[0])])
    host = parts.netloc.casefold().removeprefix("www.")
    place = "/".join(filter(None, (host, unquote(parts.path).strip("/"))))
    whole = place + (f"?{query}" if query else "") + (f"#{unquote(parts.fragment)}" if parts.fragment else "")
    if parts.scheme not in ("", "http", "https"):
        return f"{parts.scheme}:{whole}"
    if base and (whole == base or whole.startswith((f"{base}#", f"{base}/"))):
        return whole.removeprefix(base).lstrip("/")
    return whole
