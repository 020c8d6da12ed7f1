"""What the episodes of a series share, read from series.yaml: every key, what it takes and its default, once."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from typing import Annotated, Literal, get_args

from repslate.model import settings
from repslate.model.quantity import MassUnit, Range
from repslate.source import fields
from repslate.source.bounds import SETTINGS
from repslate.source.finding import Finding
from repslate.source.mapping import Item, Mapping, read_mapping
from repslate.source.models import Kind, Refused, read_model, strict, values
from repslate.source.span import Span
from repslate.source.text import read_nearest

FILE_NAME = "series.yaml"


class Units(StrEnum):
    """Which unit of mass the reader is shown."""

    KG = "kg"
    LB = "lb"
    BOTH = "both"


class Switch(StrEnum):
    """Whether something is shown."""

    OFF = "off"
    ON = "on"


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


CountUnit = Literal["graphemes", "codepoints", "utf16", "weighted", "bytes"]
_MANY = 1_000_000  # characters, hashtags: no host's limit is beyond
_LONGEST = 600  # seconds; our choice, as a change-over of ten minutes is a break


@dataclass(frozen=True, slots=True)
class TextProfile:
    """How long a text may be on a host, under a generic name. The shipped values are from memory, therefore settings.

    `maximum` counts in `unit` (None: no limit); of `url_weight`, None is an address's own length, or 23 where the count
    is weighted.
    """

    __pydantic_config__ = strict(name="profile")

    name: Annotated[str, fields.choice("the profile whose values hold for the keys left out", settings.PROFILE_NAMES)]
    maximum: Annotated[int | None, settings.maximum("the longest a text may be, `none` for no limit")]
    unit: Annotated[CountUnit, fields.choice("what the length is counted in", get_args(CountUnit))]
    hashtags: Annotated[int | None, fields.whole("how many hashtags at most", 0, _MANY)] = None
    visible: Annotated[int | None, fields.whole("how much shows before the fold", 0, _MANY)] = None
    url_weight: Annotated[int | None, fields.whole("what any address counts for", 0, _MANY)] = None


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


def _profile(says: str, usual: str) -> Kind:
    """Take a shipped profile by its name, or some values in place of its own."""
    named = fields.choice(says, settings.PROFILE_NAMES)

    def read(item: Item) -> TextProfile:
        if not isinstance(item.value, Mapping):
            return PROFILES[str(named.read(item))]
        base = item.value.get("profile")
        known = PROFILES.get(base.text.strip().lower() if base else "", PROFILES[usual])
        value, findings = read_model(TextProfile, item.value, f"host {item.key}", known)
        if findings:
            raise Refused(findings, value)
        return value

    return Kind(says, read, (*named.takes, TextProfile))


@dataclass(frozen=True, slots=True)
class ChapterRules:
    """What a video host asks of a chapter list (common practice on video hosts, no standard), and what we do."""

    __pydantic_config__ = strict()

    fewest: Annotated[int, fields.whole("how many chapters there must be (3)", 1, 1000)] = 3
    shortest: Annotated[int, fields.whole("the seconds each must last (10)", 1, 3600)] = 10
    tolerance: Annotated[Fraction, settings.tolerance("seconds one may start from a shot change (1)")] = Fraction(1)


@dataclass(frozen=True, slots=True)
class Host:
    """What the hosts of text and film ask."""

    __pydantic_config__ = strict()

    caption: Annotated[TextProfile, _profile("of the post's text (photo-feed)", "photo-feed")] = PROFILES["photo-feed"]
    description: Annotated[
        TextProfile, _profile("of the text under the film (video-description)", "video-description")
    ] = PROFILES["video-description"]
    chapters: Annotated[ChapterRules, fields.group("of the chapter list", ChapterRules, "host chapters")] = (
        ChapterRules()
    )


@dataclass(frozen=True, slots=True)
class ChangeOver:
    """Seconds that pass from one thing to the next; our choice."""

    __pydantic_config__ = strict()

    exercises: Annotated[int, fields.whole("seconds between exercises of a block (15)", 0, _LONGEST)] = 15
    blocks: Annotated[int, fields.whole("seconds between blocks (60)", 0, _LONGEST)] = 60


@dataclass(frozen=True, slots=True)
class Kit:
    """What there is to lift, every weight in `unit`: one bar, any number of pairs of each plate, and single pieces."""

    unit: MassUnit
    bar: Decimal
    plates: tuple[Decimal, ...]
    dumbbells: tuple[Decimal, ...]
    kettlebells: tuple[Decimal, ...]


def _weights(heaviest_first: str) -> tuple[Decimal, ...]:
    return tuple(map(Decimal, heaviest_first.split()))


# What a usual gym has: common practice, no source; therefore settings.
_PLATES_KG = _weights("25 20 15 10 5 2.5 1.25")
_DUMBBELLS_KG = _weights("40 38 36 34 32 30 28 26 24 22 20 18 16 14 12 10 9 8 7 6 5 4 3 2 1")
_KETTLEBELLS_KG = _weights("48 44 40 36 32 28 24 20 16 12 10 8 6 4")
_PLATES_LB = _weights("45 35 25 10 5 2.5")
_DUMBBELLS_LB = _weights("100 95 90 85 80 75 70 65 60 55 50 45 40 35 30 25 20 15 12 10 8 5 3")
_KETTLEBELLS_LB = _weights("106 97 88 80 70 62 53 44 35 26 18 15 10")
_READERS = Range(Decimal(60), Decimal(90))  # kg; our choice
_KG, _LB = "what there is to lift, `[20, 16, 12]`; loads are rounded to it", "the same in pounds"
_TABLE = "`handbook` or `chart`: which published table turns repetitions into a share of the maximum"
_ESTIMATE = "what that estimate rests on: `[60, 90]`, `2024` or `2011`, `3.5` or `plain`"
_BETWEEN = "time before a set (10), and between `exercises:` (15) and `blocks:` (60)"
_HOST = (
    "`caption:` and `description:` take the name of a profile (`photo-feed`, `short-post`, `video-description`, "
    "`generic`) or its values (`profile`, `maximum`, `unit`, `hashtags`, `visible`, `url weight`); `chapters:` takes "
    "`fewest`, `shortest` and `tolerance` (seconds a chapter may start from a shot change, 1)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeriesFile:
    """The keys of series.yaml. Hashtags are without "#", `accent` is "#rrggbb"."""

    __pydantic_config__ = strict(
        met_edition="MET edition", set_up_seconds="set-up seconds", change_over_seconds="change-over seconds"
    )

    brand: Annotated[str, fields.text("the name of the series")] = ""
    site: Annotated[str | None, fields.address("its website")] = None
    address: Annotated[
        str | None,
        settings.article_address("the article's address with `{slug}` in it; the card's QR code leads there"),
    ] = None
    units: Annotated[
        Units, fields.choice("`kg`, `lb` or `both`; without it both are shown, what was typed first", Units)
    ] = Units.BOTH
    disclosure: Annotated[str, settings.disclosure("the words for a sponsored episode, with `{sponsor}` in them")] = (
        settings.DISCLOSURE
    )
    safety: Annotated[tuple[str, ...], fields.texts("a list of sentences added to the standing notice")] = ()
    hashtags: Annotated[tuple[str, ...], fields.hashtags("for every post")] = ()
    accent: Annotated[str, settings.colour('one colour, `"#1f5a52"`; it must have a contrast of 4.5:1 on white')] = (
        settings.ACCENT
    )
    host: Annotated[Host, fields.group(_HOST, Host, "host")] = Host()
    load_table: Annotated[LoadTable, fields.choice(_TABLE, LoadTable)] = LoadTable.HANDBOOK
    bar_kg: Annotated[Decimal, settings.weight(_KG)] = Decimal(20)
    plates_kg: Annotated[tuple[Decimal, ...], settings.weights(_KG, _PLATES_KG)] = _PLATES_KG
    dumbbells_kg: Annotated[tuple[Decimal, ...], settings.weights(_KG, _DUMBBELLS_KG)] = _DUMBBELLS_KG
    kettlebells_kg: Annotated[tuple[Decimal, ...], settings.weights(_KG, _KETTLEBELLS_KG)] = _KETTLEBELLS_KG
    bar_lb: Annotated[Decimal, settings.weight(_LB)] = Decimal(45)
    plates_lb: Annotated[tuple[Decimal, ...], settings.weights(_LB, _PLATES_LB)] = _PLATES_LB
    dumbbells_lb: Annotated[tuple[Decimal, ...], settings.weights(_LB, _DUMBBELLS_LB)] = _DUMBBELLS_LB
    kettlebells_lb: Annotated[tuple[Decimal, ...], settings.weights(_LB, _KETTLEBELLS_LB)] = _KETTLEBELLS_LB
    energy: Annotated[Switch, fields.choice("`on` shows an estimate of energy; `off` if left out", Switch)] = Switch.OFF
    body_mass_kg: Annotated[Range[Decimal], settings.body_mass(_ESTIMATE)] = _READERS
    met_edition: Annotated[MetEdition, fields.choice(_ESTIMATE, MetEdition)] = MetEdition.NEWER
    energy_formula: Annotated[EnergyFormula, fields.choice(_ESTIMATE, EnergyFormula)] = EnergyFormula.OXYGEN
    # Within the 5–15 s that Burke et al. 2024 (SportRxiv 419) leave room for; our choice.
    set_up_seconds: Annotated[int, fields.whole(_BETWEEN, 0, _LONGEST)] = 10
    change_over_seconds: Annotated[ChangeOver, fields.group(_BETWEEN, ChangeOver, "change-over seconds")] = ChangeOver()


@dataclass(frozen=True, slots=True, kw_only=True)
class Series(SeriesFile):
    """The settings of a series; `span` is the top of the series.yaml that was read, None if there is none."""

    span: Span | None = None

    @property
    def kilograms(self) -> Kit:
        """What there is to lift in kilograms."""
        return Kit("kg", self.bar_kg, self.plates_kg, self.dumbbells_kg, self.kettlebells_kg)

    @property
    def pounds(self) -> Kit:
        """What there is to lift in pounds."""
        return Kit("lb", self.bar_lb, self.plates_lb, self.dumbbells_lb, self.kettlebells_lb)


def read_series(folder: Path) -> tuple[Series, tuple[Finding, ...]]:
    """Read the nearest series.yaml: the folder's own, else its parent's, at most 12 folders up.

    Without one, and for every key that is absent or wrong, the Series has its defaults; wrong ones are errors, so that
    nothing is published with a setting nobody chose.
    """
    text, name, findings = read_nearest(folder, FILE_NAME, most=SETTINGS)
    if text is None:
        return Series(), findings
    mapping, trouble = read_mapping(text, name)
    read, wrong = read_model(SeriesFile, mapping, FILE_NAME)
    series = Series(**values(read), span=Span(name))
    return series, (*findings, *sorted((*trouble, *wrong), key=lambda finding: finding.span))
