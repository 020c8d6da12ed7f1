"""What keys of series.yaml take beyond the kinds that other files share: words, a colour, weights, seconds."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from repslate.model.contrast import PAPER, TEXT_RATIO, darken_until, full_hex, ratio, ratio_words
from repslate.model.quantity import Range, read_number, write_number
from repslate.source.fields import ANY_TEXT, QUOTED, described, is_web_address, one_text, whole
from repslate.source.finding import Finding
from repslate.source.mapping import Item, Mapping
from repslate.source.models import Kind, Refused, Schema, kind, wrong

# FTC, Disclosures 101 for Social Media Influencers (Nov 2019) finds "ad", "advertisement" and "sponsored" clear and
# "sp", "spon", "collab", a bare "partner" or "thanks" not; "advert" and "paid partnership" are common practice.
DISCLOSURE_WORDS = ("ad", "advert", "advertisement", "sponsored", "paid partnership")
DISCLOSURE = "Advertisement: this episode is sponsored by {sponsor}."
ACCENT = "#7a3b12"
PROFILE_NAMES = ("photo-feed", "short-post", "video-description", "generic")
_DISCLOSURE_HELP = f'type “disclosure: "{DISCLOSURE}"”'
_DISCLOSURE_SOURCE = "16 CFR 255.5; FTC, Disclosures 101 for Social Media Influencers (2019)"
_LOOSEST = Decimal("2.5")  # seconds: no more of the film is looked at to either side of a chapter
_HEAVIEST = Decimal(500)  # kg or lb; a single piece that is heavier is a slip
_LIGHTEST_BODY, _HEAVIEST_BODY = Decimal(20), Decimal(300)  # kg; our choice, beyond is a slip or pounds
_WEIGHT: Schema = {"anyOf": [{"type": "number", "exclusiveMinimum": 0, "maximum": int(_HEAVIEST)}, QUOTED]}


def is_clear_disclosure(text: str) -> bool:
    """Tell whether the text holds a word that readers know to mark an advertisement (16 CFR 255.0(f), 255.5)."""
    return re.search(rf"\b(?:{'|'.join(DISCLOSURE_WORDS)})\b", text, re.IGNORECASE) is not None


@kind({"type": "string", "pattern": r"^[Hh][Tt][Tt][Pp][Ss]?://[^/@\s{}]+/[^\s{}]*\{slug\}"})
def article_address(item: Item) -> str:
    """Take an address with “{slug}” in its path."""
    filled = item.text.replace("{slug}", "slug")
    base = item.text.split("{slug}")[0]
    if "{slug}" in item.text and not re.search("[{}]", filled) and is_web_address(filled) and base.count("/") >= 3:
        return item.text
    message = f"“address” is {described(item)}, expected an address of http or https with {{slug}} in its path"
    raise wrong(item, message, "type “address: https://workouts.example/{slug}/”, with your own host")


@kind({**ANY_TEXT, "pattern": r"^(?:[^{}]|\{sponsor\})*$"})
def disclosure(item: Item) -> str:
    """Take words that mark an advertisement, with no braces but those of “{sponsor}”."""
    text = one_text(item)
    if re.search("[{}]", text.replace("{sponsor}", "")):
        message = "“disclosure” has braces other than those of {sponsor}, expected only that name to be filled in"
        raise wrong(item, message, _DISCLOSURE_HELP)
    if is_clear_disclosure(text.replace("{sponsor}", "")):
        return text
    message = f"“disclosure” has none of the words that mark an advertisement: {', '.join(DISCLOSURE_WORDS)}"
    raise wrong(item, message, _DISCLOSURE_HELP, _DISCLOSURE_SOURCE, "disclosure-unclear")


@kind({"type": "string", "pattern": "^#(?:[0-9A-Fa-f]{3}){1,2}$"})
def colour(item: Item) -> str:
    """Take a colour that can be read on white paper; the value is "#rrggbb"."""
    typed = full_hex(item.text)
    if typed is None:
        message = f"“{item.key}” is {described(item)}, expected a colour as #rgb or #rrggbb"
        example = full_hex("#" + item.text) or ACCENT
        raise wrong(item, message, f'type “{item.key}: "{example}"”, with the straight quotes')
    found = ratio(typed, PAPER)
    if found >= TEXT_RATIO:
        return typed
    message = f"“{item.key}” {typed} has a contrast of {ratio_words(found)} on white, expected at least {TEXT_RATIO}:1"
    because = "WCAG 2.2, success criterion 1.4.3: links and labels are set in the accent"
    darker = darken_until(typed, PAPER, TEXT_RATIO)
    help_ = f'choose a darker colour; the nearest of this hue: type “{item.key}: "{darker}"”'
    raise wrong(item, message, help_, because, "accent-contrast")


def maximum(says: str) -> Kind:
    """Take a limit of a text's length; the word none lifts it."""
    limit = whole(says, 1, 1_000_000)
    return Kind(says, lambda item: None if item.text == "none" else limit.read(item), (*limit.takes, {"const": "none"}))


@kind({"type": "number", "minimum": 0, "maximum": float(_LOOSEST)}, QUOTED)
def tolerance(item: Item) -> Fraction:
    """Take the seconds that a chapter may start from a shot change."""
    seconds = read_number(item.text)
    if seconds is not None and seconds <= _LOOSEST:
        return Fraction(seconds)
    message = f"“{item.key}” is {described(item)}, expected seconds from 0 to {_LOOSEST}, such as 0.5"
    raise wrong(item, message, f"type “{item.key}: 1”, or other seconds without a unit")


def body_mass(says: str) -> Kind:
    """Take two figures in kilograms, the lower one first."""
    bounds = {"type": "number", "minimum": int(_LIGHTEST_BODY), "maximum": int(_HEAVIEST_BODY)}
    pair = {"type": "array", "items": {"anyOf": [bounds, QUOTED]}, "minItems": 2, "maxItems": 2}
    return Kind(says, _body_mass, (pair,))


def _body_mass(item: Item) -> Range[Decimal]:
    typed = [end.text for end in item.value] if isinstance(item.value, tuple) else []
    ends = [end for end in map(read_number, typed) if end and _LIGHTEST_BODY <= end <= _HEAVIEST_BODY]
    is_pair = len(ends) == len(typed) == 2
    if is_pair and ends[0] <= ends[1]:
        return Range(ends[0], ends[1])
    fixed = ", ".join(map(write_number, sorted(ends))) if is_pair else "60, 90"
    bounds = f"from {_LIGHTEST_BODY} to {_HEAVIEST_BODY}"
    message = f"“{item.key}” is {_listed(item)}, expected two figures {bounds}, the lower one first"
    raise wrong(item, message, f"type “{item.key}: [{fixed}]”, the range of your readers")


def weight(says: str) -> Kind:
    """Take one weight in the unit that ends the key."""
    return Kind(says, _weight, (_WEIGHT,))


def _weight(item: Item) -> Decimal:
    found = None if isinstance(item.value, (tuple, Mapping)) else read_number(item.text)
    if found is not None and 0 < found <= _HEAVIEST and (Fraction(found) * 100).denominator == 1:
        return found
    unit = item.key.rpartition(" ")[2]
    message = f"“{item.key}” has {described(item)}, expected a weight in {unit} above 0, at most {_HEAVIEST}"
    raise wrong(item, message, "type the figure alone, with two decimals at most and without a unit")


def weights(says: str, usual: Sequence[Decimal]) -> Kind:
    """Take a list of weights, each once; the value has the heaviest first, as plates go on."""

    def read(item: Item) -> tuple[Decimal, ...]:
        if not isinstance(item.value, tuple) or not item.value:
            message = f"“{item.key}” is {_listed(item)}, expected a list of weights"
            typed = item.text if read_number(item.text) else ", ".join(map(write_number, usual[:3]))
            raise wrong(item, message, f"type “{item.key}: [{typed}]”, with your own; or leave the line out")
        found, told = list[Decimal](), list[Finding]()
        for entry in item.value:
            try:
                if (one := _weight(entry)) in found:
                    message = f"“{item.key}” has {write_number(one)} twice, expected each weight once"
                    raise wrong(entry, message, "delete one of them; as many as needed are taken of each")
                found.append(one)
            except Refused as refused:
                told += refused.findings
        heaviest_first = tuple(sorted(found, reverse=True))
        if told:
            raise Refused(told, heaviest_first)
        return heaviest_first

    return Kind(says, read, ({"type": "array", "items": _WEIGHT, "minItems": 1, "uniqueItems": True},))


def _listed(item: Item) -> str:
    """Return what was found, a list with what is in it."""
    if not isinstance(item.value, tuple):
        return described(item)
    inside = ", ".join(entry.text or described(entry) for entry in item.value)
    return f"the list [{inside[:40]}]" if inside else "an empty list"
