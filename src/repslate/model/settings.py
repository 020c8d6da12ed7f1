"""series.yaml to a Series."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import get_args

from repslate.model.contrast import PAPER, TEXT_RATIO, darken_until, full_hex, ratio, ratio_words
from repslate.model.quantity import read_number
from repslate.model.series import PROFILES, ChapterRules, CountUnit, LoadTable, Series, TextProfile, Units
from repslate.model.settings_training import TRAINING_KEYS, read_energy, read_kit, read_times
from repslate.source.bounds import SETTINGS
from repslate.source.fields import Fields, described, is_web_address
from repslate.source.finding import Finding
from repslate.source.mapping import Item, Mapping, read_mapping
from repslate.source.span import Span
from repslate.source.text import read_nearest

FILE_NAME = "series.yaml"

# FTC, Disclosures 101 for Social Media Influencers (Nov 2019) finds "ad", "advertisement" and "sponsored" clear and
# "sp", "spon", "collab", a bare "partner" or "thanks" not; "advert" and "paid partnership" are common practice.
DISCLOSURE_WORDS = ("ad", "advert", "advertisement", "sponsored", "paid partnership")
_DISCLOSURE_HELP = f'type “disclosure: "{Series().disclosure}"”'
_DISCLOSURE_SOURCE = "16 CFR 255.5; FTC, Disclosures 101 for Social Media Influencers (2019)"
KEYS = (
    "brand", "site", "address", "units", "disclosure", "safety", "hashtags", "accent", "host", *TRAINING_KEYS,
)  # fmt: skip
_HOST_KEYS = ("caption", "description", "chapters")
_PROFILE_KEYS = ("profile", "maximum", "unit", "hashtags", "visible", "url weight")
_LOOSEST = Decimal("2.5")  # seconds: no more of the film is looked at to either side of a chapter
_UNITS: tuple[CountUnit, ...] = get_args(CountUnit)


def read_series(folder: Path) -> tuple[Series, tuple[Finding, ...]]:
    """Read the nearest series.yaml: the folder's own, else its parent's, at most 12 folders up.

    Without one, and for every key that is absent or wrong, the Series has its defaults; wrong ones are errors, so that
    nothing is published with a setting nobody chose.
    """
    text, name, findings = read_nearest(folder, FILE_NAME, most=SETTINGS)
    if text is None:
        return Series(), findings
    mapping, trouble = read_mapping(text, name)
    series, wrong = read_settings(mapping)
    return series, (*findings, *sorted((*trouble, *wrong), key=lambda finding: finding.span))


def read_settings(mapping: Mapping) -> tuple[Series, tuple[Finding, ...]]:
    """Read the keys of a series.yaml that is at hand as a mapping."""
    fields = Fields(mapping, KEYS, FILE_NAME)
    caption, description, chapters = _host(fields)
    default = Series()
    series = Series(
        brand=fields.text("brand") or default.brand,
        site=fields.address("site"),
        address=_address(fields),
        units=fields.one_of("units", Units) or default.units,
        disclosure=_disclosure(fields) or default.disclosure,
        safety=tuple(text for text, _ in fields.texts("safety", "")),
        hashtags=fields.hashtags("hashtags"),
        accent=_accent(fields) or default.accent,
        caption=caption,
        description=description,
        chapters=chapters,
        load_table=fields.one_of("load table", LoadTable) or default.load_table,
        kilograms=read_kit(fields, default.kilograms),
        pounds=read_kit(fields, default.pounds),
        energy=read_energy(fields),
        times=read_times(fields),
        span=Span(mapping.span.file),
    )
    return series, tuple(fields.findings)


def is_clear_disclosure(text: str) -> bool:
    """Tell whether the text holds a word that readers know to mark an advertisement (16 CFR 255.0(f), 255.5)."""
    return re.search(rf"\b(?:{'|'.join(DISCLOSURE_WORDS)})\b", text, re.IGNORECASE) is not None


def _address(fields: Fields) -> str | None:
    item = fields.item("address")
    if item is None:
        return None
    filled = item.text.replace("{slug}", "slug")
    base = item.text.split("{slug}")[0]
    if "{slug}" in item.text and not re.search("[{}]", filled) and is_web_address(filled) and base.count("/") >= 3:
        return item.text
    message = f"“address” is {described(item)}, expected an address of http or https with {{slug}} in its path"
    fields.refuse(item.value_span, message, "type “address: https://workouts.example/{slug}/”, with your own host")
    return None


def _disclosure(fields: Fields) -> str | None:
    text = fields.text("disclosure")
    if text is None:
        return None
    span = fields.mapping["disclosure"].value_span
    if re.search("[{}]", text.replace("{sponsor}", "")):
        message = "“disclosure” has braces other than those of {sponsor}, expected only that name to be filled in"
        fields.refuse(span, message, _DISCLOSURE_HELP)
        return None
    if is_clear_disclosure(text.replace("{sponsor}", "")):
        return text
    message = f"“disclosure” has none of the words that mark an advertisement: {', '.join(DISCLOSURE_WORDS)}"
    fields.refuse(span, message, _DISCLOSURE_HELP, _DISCLOSURE_SOURCE, "disclosure-unclear")
    return None


def _accent(fields: Fields) -> str | None:
    item = fields.item("accent")
    if item is None:
        return None
    colour = full_hex(item.text)
    if colour is None:
        message = f"“accent” is {described(item)}, expected a colour as #rgb or #rrggbb"
        typed = full_hex("#" + item.text) or Series().accent
        fields.refuse(item.value_span, message, f'type “accent: "{typed}"”, with the straight quotes')
        return None
    found = ratio(colour, PAPER)
    if found >= TEXT_RATIO:
        return colour
    message = f"“accent” {colour} has a contrast of {ratio_words(found)} on white, expected at least {TEXT_RATIO}:1"
    because = "WCAG 2.2, success criterion 1.4.3: links and labels are set in the accent"
    darker = darken_until(colour, PAPER, TEXT_RATIO)
    help_ = f'choose a darker colour; the nearest of this hue: type “accent: "{darker}"”'
    fields.refuse(item.value_span, message, help_, because, "accent-contrast")
    return None


def _host(fields: Fields) -> tuple[TextProfile, TextProfile, ChapterRules]:
    default = Series()
    mapping = fields.mapping_of("host")
    if mapping is None:
        return default.caption, default.description, default.chapters
    host = Fields(mapping, _HOST_KEYS, "host")
    found = (_profile(host, "caption", default.caption), _profile(host, "description", default.description))
    chapters = _chapters(host)
    fields.findings += host.findings
    return *found, chapters


def _profile(host: Fields, key: str, default: TextProfile) -> TextProfile:
    """Return a shipped profile by its name, or one with some of its figures replaced."""
    item = host.item(key)
    if item is None:
        return default
    if not isinstance(item.value, Mapping):
        return _shipped(host, key, item) or default
    fields = Fields(item.value, _PROFILE_KEYS, f"host {key}")
    named = fields.item("profile")
    base = (_shipped(fields, "profile", named) if named else None) or default
    maximum, unit = _maximum(fields, base), _unit(fields) or base.unit
    profile = replace(
        base,
        maximum=maximum,
        unit=unit,
        hashtags=_figure(fields, "hashtags", base.hashtags),
        visible=_figure(fields, "visible", base.visible),
        url_weight=_figure(fields, "url weight", base.url_weight),
    )
    host.findings += fields.findings
    return profile


def _shipped(fields: Fields, key: str, item: Item) -> TextProfile | None:
    profile = PROFILES.get(item.text)
    if profile is None:
        fields.refuse_choice(key, item, tuple(PROFILES))
    return profile


def _maximum(fields: Fields, base: TextProfile) -> int | None:
    """Return the limit; the word none lifts it."""
    item = fields.item("maximum")
    if item is not None and item.text == "none":
        return None
    return _figure(fields, "maximum", base.maximum, lowest=1)


def _unit(fields: Fields) -> CountUnit | None:
    item = fields.item("unit")
    if item is None:
        return None
    for unit in _UNITS:
        if unit == item.text:
            return unit
    fields.refuse_choice("unit", item, _UNITS)
    return None


def _figure(fields: Fields, key: str, default: int | None, *, lowest: int = 0) -> int | None:
    found = fields.whole(key, lowest, 1_000_000)
    return default if found is None else found


def _chapters(host: Fields) -> ChapterRules:
    default = ChapterRules()
    mapping = host.mapping_of("chapters")
    if mapping is None:
        return default
    fields = Fields(mapping, ("fewest", "shortest", "tolerance"), "host chapters")
    fewest, shortest = fields.whole("fewest", 1, 1000), fields.whole("shortest", 1, 3600)
    tolerance = _tolerance(fields)
    host.findings += fields.findings
    return ChapterRules(
        fewest or default.fewest,
        shortest or default.shortest,
        default.tolerance if tolerance is None else tolerance,
    )


def _tolerance(fields: Fields) -> Fraction | None:
    item = fields.item("tolerance")
    if item is None:
        return None
    seconds = read_number(item.text)
    if seconds is not None and seconds <= _LOOSEST:
        return Fraction(seconds)
    message = f"“tolerance” is {described(item)}, expected seconds from 0 to {_LOOSEST}, such as 0.5"
    fields.refuse(item.value_span, message, "type “tolerance: 1”, or other seconds without a unit")
    return None
