"""How long a text is as a host counts it, and how to shorten it. Here because checks and outputs both need it."""

from __future__ import annotations

import unicodedata
from bisect import bisect_right
from itertools import accumulate

import regex

from repslate.model.series import TextProfile

ELLIPSIS = "…"

# An address runs to the next white space; punctuation at its end belongs to the sentence.
_ADDRESS = regex.compile(r"""https?://[^\s<>"…]*[^\s<>"'….,;:!?)\]}]""", regex.IGNORECASE)

# Weighted counting: the published rules of twitter-text, config/v3.json (Apache-2.0): scale 100, defaultWeight 200,
# weight 100 in the four ranges, an emoji sequence 200, transformedURLLength 23, text in NFC. Here in units of 100.
_LIGHT = ((0, 4351), (8192, 8205), (8208, 8223), (8242, 8247))
_WEIGHTED_ADDRESS = 23
_EMOJI = regex.compile(r"\p{Emoji_Presentation}|\p{Extended_Pictographic}\uFE0F|[0-9#*]\uFE0F?\u20E3")


def count(text: str, profile: TextProfile) -> int:
    """Return the length of `text` in the profile's unit.

    Graphemes are extended grapheme clusters (UAX #29). Every http(s) address counts for `url_weight` where the profile
    has one, and for 23 where it has none and counts weighted, as the published rules say.
    """
    if profile.unit == "weighted":
        text = unicodedata.normalize("NFC", text)
    weight = profile.url_weight
    if weight is None and profile.unit == "weighted":
        weight = _WEIGHTED_ADDRESS
    if weight is None:
        return _measure(text, profile)
    addresses = len(_ADDRESS.findall(text))
    return addresses * weight + sum(_measure(part, profile) for part in _ADDRESS.split(text))


def shorten(text: str, profile: TextProfile, *, room: int | None = None) -> str:
    """Return `text` whole if it fits, else cut after the last word that fits, with "…" added.

    `room` is in the profile's unit and stands for what other parts of the post leave of its maximum. A word too long
    to fit is cut between graphemes, but an address never is; where not even "…" fits the result is empty.
    """
    limit = profile.maximum if room is None else room
    if limit is None or count(text, profile) <= limit:
        return text
    starts = [0, *accumulate(len(grapheme) for grapheme in regex.findall(r"\X", text))]
    gaps = [at for at in starts[1:-1] if text[at].isspace()]
    return (
        _longest(text, gaps, profile, limit)
        or _longest(text, _outside_addresses(text, starts), profile, limit)
        or (ELLIPSIS if count(ELLIPSIS, profile) <= limit else "")
    )


def _measure(text: str, profile: TextProfile) -> int:
    match profile.unit:
        case "graphemes":
            return len(regex.findall(r"\X", text))
        case "codepoints":
            return len(text)
        case "utf16":
            return len(text.encode("utf-16-le")) // 2
        case "bytes":
            return len(text.encode("utf-8"))
        case "weighted":
            return sum(_weigh(grapheme) for grapheme in regex.findall(r"\X", text))


def _weigh(grapheme: str) -> int:
    if _EMOJI.search(grapheme):
        return 2
    return sum(1 if any(low <= ord(c) <= high for low, high in _LIGHT) else 2 for c in grapheme)


def _outside_addresses(text: str, cuts: list[int]) -> list[int]:
    """Return the cuts that break no address; one right at its start is fine."""
    spans = [found.span() for found in _ADDRESS.finditer(text)]
    return [at for at in cuts if not any(start < at < end for start, end in spans)]


def _longest(text: str, cuts: list[int], profile: TextProfile, limit: int) -> str:
    """Return the longest beginning of `text` that ends at one of the rising `cuts` and fits; "" if none does."""
    fitting = bisect_right(cuts, limit, key=lambda at: count(_ended(text[:at]), profile))
    return _ended(text[: cuts[fitting - 1]]) if fitting else ""


def _ended(beginning: str) -> str:
    """Add the ellipsis, in place of a comma or full stop but apart from an address, so that links stay whole."""
    graphemes = regex.findall(r"\X", beginning)
    while graphemes and graphemes[-1].isspace():
        graphemes.pop()
    last = "".join(graphemes).split()[-1:]
    if last and _ADDRESS.search(last[0]):
        return f"{''.join(graphemes)} {ELLIPSIS}"
    while graphemes and (graphemes[-1].isspace() or graphemes[-1] in ".,;:–—"):
        graphemes.pop()
    return "".join([*graphemes, ELLIPSIS]) if graphemes else ""
