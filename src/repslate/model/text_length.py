"""How long a text is as a host counts it. Here because checks and outputs both need it."""

from __future__ import annotations

import unicodedata

import regex

from repslate.model.series import TextProfile

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
