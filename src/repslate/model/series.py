"""What the episodes of a series share, read from series.yaml. Every setting has a default."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from repslate.source.span import Span


class Units(StrEnum):
    """Which unit of mass the reader is shown."""

    KG = "kg"
    LB = "lb"
    BOTH = "both"


CountUnit = Literal["graphemes", "codepoints", "utf16", "weighted", "bytes"]


@dataclass(frozen=True, slots=True)
class TextProfile:
    """How long a text may be on a host, under a generic name.

    `maximum` counts in `unit` (None: no limit); `visible` is how much shows before the fold; `url_weight` is what any
    address counts for (None: its own length, or 23 where the count is weighted). The shipped values are from memory,
    therefore settings.
    """

    name: str
    maximum: int | None
    unit: CountUnit
    hashtags: int | None = None
    visible: int | None = None
    url_weight: int | None = None


# Lengths, hashtags and folds are from memory, so series.yaml can override each. The weighted count, 280 and an address
# counting 23 are of twitter-text's config/v3.json; "generic" is ours.
PROFILES = {
    profile.name: profile
    for profile in (
        TextProfile("photo-feed", 2200, "graphemes", hashtags=30, visible=125),
        TextProfile("short-post", 280, "weighted", url_weight=23),
        TextProfile("video-description", 5000, "graphemes"),
        TextProfile("generic", None, "graphemes"),
    )
}


@dataclass(frozen=True, slots=True)
class ChapterRules:
    """What a video host asks of a chapter list (common practice on video hosts, no standard)."""

    fewest: int = 3
    shortest: int = 10  # seconds


@dataclass(frozen=True, slots=True)
class Series:
    """The settings of a series.

    `address` is the article's canonical URL with "{slug}" in it, or None. Hashtags are without "#". `accent` is
    "#rrggbb". `span` is the top of the series.yaml that was read, None if there is none.
    """

    brand: str = ""
    site: str | None = None
    address: str | None = None
    units: Units = Units.KG
    disclosure: str = "Advertisement: this episode is sponsored by {sponsor}."
    safety: tuple[str, ...] = ()
    hashtags: tuple[str, ...] = ()
    accent: str = "#7a3b12"
    caption: TextProfile = PROFILES["photo-feed"]
    description: TextProfile = PROFILES["video-description"]
    chapters: ChapterRules = ChapterRules()
    span: Span | None = None
