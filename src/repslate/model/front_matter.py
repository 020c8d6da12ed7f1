"""What keys of the front matter take beyond the kinds that other files share: format, length, sponsor, slug."""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal
from fractions import Fraction

from repslate.model.clock import read_clock, write_clock
from repslate.model.quantity import read_number
from repslate.source.fields import ANY_TEXT, described, one_text
from repslate.source.mapping import Item
from repslate.source.models import Kind, kind, wrong

FORMATS = (1,)  # the numbers of the source formats that this version reads
READS = "this version reads format " + ", ".join(map(str, FORMATS))
LONGEST_SLUG = 80  # ours: with the folders above it, every system still takes the path
_NO_NAMES = {"no", "nobody", "false", "off", "n/a", "-", "–"}


@kind({"enum": [*FORMATS, *map(str, FORMATS)]})
def format_number(item: Item) -> int:
    """Take the number of a source format that this version reads."""
    if item.text in map(str, FORMATS):
        return int(item.text)
    help_ = f"type “format: {FORMATS[-1]}”, or use the version of repslate that the file was written for"
    raise wrong(item, f"“format” is {described(item)}, but {READS}", help_, check="format-unknown")


def length(says: str) -> Kind:
    """Take a length as minutes and seconds, or hours, minutes and seconds; the value is in seconds."""
    clock = "^(?:[0-9]{1,2}:[0-5][0-9]|[0-9]{1,3}):[0-5][0-9]$"
    return Kind(says, _length, ({"type": "string", "pattern": clock, "not": {"pattern": "^[0:]*$"}},))


def _length(item: Item) -> Fraction:
    """Return the length in seconds. A bare number could mean seconds or minutes, so it is asked back."""
    read = read_clock(item.text)
    if not isinstance(read, str) and read and _LENGTH.fullmatch(item.text):
        return read
    if isinstance(item.value, int) and 0 < item.value < 360_000:
        message = f"“length” is the bare number {item.text}, expected minutes and seconds"
        help_ = f"if these are seconds, type “length: {write_clock(item.value)}”"
        if item.value < 600:
            help_ += f"; if minutes, type “length: {write_clock(item.value * 60)}”"
        raise wrong(item, message, help_)
    message = f"“length” is {described(item)}, expected minutes and seconds, or hours, minutes and seconds"
    seconds = _spelt_seconds(item.text)
    said = f"“length: {write_clock(seconds)}”" if seconds else "it as in “length: 28:30” or “length: 1:02:03”"
    raise wrong(item, message, f"type {said}")


_LENGTH = re.compile(r"[0-9]{1,3}:[0-9]{2}|[0-9]{1,2}:[0-9]{2}:[0-9]{2}")
_SPELT = re.compile(
    r"(?:(?P<hours>[0-9]{1,2}) ?(?:h|hrs?|hours?)\.? ?)?(?:(?P<minutes>[0-9]{1,3}) ?(?:m|mins?|minutes?|'|′)\.? ?)?"
    r"(?:(?P<seconds>[0-9]{1,2}) ?(?:s|secs?|seconds?|\"|″)\.?)?"
)
_DOTTED = re.compile(r"(?:(?P<hours>[0-9]{1,2})[.])?(?P<minutes>[0-9]{1,3})[.,](?P<seconds>[0-5][0-9])")


def _spelt_seconds(text: str) -> int:
    """Return the seconds of "42 min", "1h 5m" or "28.30"; 0 for any other text."""
    found = _SPELT.fullmatch(text.lower()) or _DOTTED.fullmatch(text)
    units = {"hours": 3600, "minutes": 60, "seconds": 1}
    return sum(int(found[part] or 0) * each for part, each in units.items()) if found else 0


def percent(says: str, lowest: int, highest: int) -> Kind:
    """Take a share in per cent, the sign may be left out."""

    def read(item: Item) -> Decimal:
        found = read_number(re.sub(r"\s*%$", "", item.text.strip()))
        if found is not None and lowest <= found <= highest and (Fraction(found) * 100).denominator == 1:
            return found
        message = f"“{item.key}” is {described(item)}, expected a share from {lowest} to {highest} %"
        raise wrong(item, message, f"type “{item.key}: 90 %”, with your own figure")

    typed = {"type": "string", "pattern": "^[0-9]{1,3}(?:[.,][0-9]{1,2})?\\s*%?$"}
    return Kind(says, read, ({"type": "number", "minimum": lowest, "maximum": highest}, typed))


def sponsor(says: str) -> Kind:
    """Take the sponsor's name; "none" says that there is none, other ways to say so are asked back."""
    no = "|".join("".join(f"[{letter.upper()}{letter}]" for letter in word) for word in sorted(_NO_NAMES))
    return Kind(says, _sponsor, ({**ANY_TEXT, "not": {"enum": [False]}, "pattern": rf"^(?!\s*(?:{no})\s*$)"},))


def _sponsor(item: Item) -> str | None:
    name = one_text(item)
    if name.lower() in _NO_NAMES:
        raise wrong(item, f"“sponsor” is “{name}”, expected the sponsor's name or “none”", "type “sponsor: none”")
    return None if name.lower() == "none" else name


@kind({**ANY_TEXT, "maxLength": LONGEST_SLUG, "pattern": "^[a-z0-9]+(?:-[a-z0-9]+)*$"})
def slug(item: Item) -> str:
    """Take the name of a folder that every system and every address takes."""
    name = one_text(item)
    if re.fullmatch(r"[a-z0-9]+(?:-[a-z0-9]+)*", name) and len(name) <= LONGEST_SLUG:
        return name
    message = f"“slug” is {described(item)}, expected at most {LONGEST_SLUG} letters a to z, digits and single hyphens"
    plain = unicodedata.normalize("NFKD", name.lower()).encode("ascii", "ignore").decode()
    fixed = re.sub(r"[^a-z0-9]+", "-", plain)[:LONGEST_SLUG].strip("-")
    raise wrong(item, message, f"type “slug: {fixed or 'hinge-squat-carry'}”", check="slug-form")
