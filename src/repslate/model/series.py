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
    address counts for (None: its own length). The shipped values are from memory, therefore settings.
    """

    name: str
    maximum: int | None
    unit: CountUnit
    hashtags: int | None = None
    visible: int | None = None
    url_weight: int | None = None


@dataclass(frozen=True, slots=True)
class ChapterRules:
    """What a video host asks of a chapter list (common practice on video hosts, no standard)."""

    fewest: int = 3
    shortest: int = 10  # seconds


@dataclass(frozen=True, slots=True)
class Series:
    """The settings of a series. `address` is the article's canonical URL with "{slug}" in it, or None."""

    brand: str = ""
    site: str | None = None
    address: str | None = None
    units: Units = Units.KG
    disclosure: str = "Advertisement: this episode is sponsored by {sponsor}."
    safety: tuple[str, ...] = ()
    hashtags: tuple[str, ...] = ()
    accent: str = "#7a3b12"
    caption: TextProfile = TextProfile("photo-feed", 2200, "graphemes", hashtags=30, visible=125)
    description: TextProfile = TextProfile("video-description", 5000, "graphemes")
    chapters: ChapterRules = ChapterRules()
    span: Span | None = None
