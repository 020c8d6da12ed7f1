"""What the episodes of a series share, read from series.yaml. Every setting has a default."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Literal

from repslate.model.quantity import MassUnit, Range
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
    """What a video host asks of a chapter list (common practice on video hosts, no standard), and what we do.

    `tolerance` is how many seconds a chapter may start from a shot change (our choice).
    """

    fewest: int = 3
    shortest: int = 10  # seconds
    tolerance: Fraction = Fraction(1)


class LoadTable(StrEnum):
    """Which published table says how many repetitions go with which share of the one-repetition maximum."""

    HANDBOOK = "handbook"
    CHART = "chart"


class MetEdition(StrEnum):
    """Which edition of the Compendium of Physical Activities gives the METs."""

    OLDER = "2011"
    NEWER = "2024"


class EnergyFormula(StrEnum):
    """How METs become kilocalories: MET × 3.5 × kg ÷ 200 a minute, or MET × kg an hour (5 % less)."""

    OXYGEN = "3.5"
    PLAIN = "plain"


@dataclass(frozen=True, slots=True)
class Kit:
    """What there is to lift, every weight in `unit`: one bar, any number of pairs of each plate, and single pieces."""

    unit: MassUnit
    bar: Decimal
    plates: tuple[Decimal, ...]
    dumbbells: tuple[Decimal, ...]
    kettlebells: tuple[Decimal, ...]


def _weights(text: str) -> tuple[Decimal, ...]:
    return tuple(map(Decimal, text.split()))


# What a usual gym has: common practice, no source; therefore settings.
KILOGRAMS = Kit(
    unit="kg",
    bar=Decimal(20),
    plates=_weights("25 20 15 10 5 2.5 1.25"),
    dumbbells=_weights("40 38 36 34 32 30 28 26 24 22 20 18 16 14 12 10 9 8 7 6 5 4 3 2 1"),
    kettlebells=_weights("48 44 40 36 32 28 24 20 16 12 10 8 6 4"),
)
POUNDS = Kit(
    unit="lb",
    bar=Decimal(45),
    plates=_weights("45 35 25 10 5 2.5"),
    dumbbells=_weights("100 95 90 85 80 75 70 65 60 55 50 45 40 35 30 25 20 15 12 10 8 5 3"),
    kettlebells=_weights("106 97 88 80 70 62 53 44 35 26 18 15 10"),
)


_READERS = Range(Decimal(60), Decimal(90))  # kg; our choice


@dataclass(frozen=True, slots=True)
class EnergyRules:
    """Whether and how an estimate of energy is shown; `body_mass` is the readers' range in kg."""

    shown: bool = False
    body_mass: Range[Decimal] = _READERS
    edition: MetEdition = MetEdition.NEWER
    formula: EnergyFormula = EnergyFormula.OXYGEN


@dataclass(frozen=True, slots=True)
class TimeRules:
    """Whole seconds that no prescription names: before each set, between exercises of a block, between blocks.

    Our choice; the first after the 5–15 s that Burke et al. 2024 (SportRxiv 419) leave room for.
    """

    set_up: int = 10
    between_exercises: int = 15
    between_blocks: int = 60


@dataclass(frozen=True, slots=True)
class Series:
    """The settings of a series.

    `address` is the article's canonical URL with "{slug}" in it, or None. Hashtags are without "#". `accent` is
    "#rrggbb". `span` is the top of the series.yaml that was read, None if there is none.
    """

    brand: str = ""
    site: str | None = None
    address: str | None = None
    units: Units = Units.BOTH
    disclosure: str = "Advertisement: this episode is sponsored by {sponsor}."
    safety: tuple[str, ...] = ()
    hashtags: tuple[str, ...] = ()
    accent: str = "#7a3b12"
    caption: TextProfile = PROFILES["photo-feed"]
    description: TextProfile = PROFILES["video-description"]
    chapters: ChapterRules = ChapterRules()
    load_table: LoadTable = LoadTable.HANDBOOK
    kilograms: Kit = KILOGRAMS
    pounds: Kit = POUNDS
    energy: EnergyRules = EnergyRules()
    times: TimeRules = TimeRules()
    span: Span | None = None
