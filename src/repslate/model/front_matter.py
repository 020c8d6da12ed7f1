"""The front matter of workout.md to typed fields."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from repslate.model.clock import read_clock, write_clock
from repslate.model.episode import Goal, Level, Picture, Words
from repslate.model.stills import leads_out
from repslate.source.fields import Fields, described
from repslate.source.finding import Finding, Severity
from repslate.source.mapping import Mapping
from repslate.source.span import Span

FORMATS = (1,)  # the numbers of the source formats that this version reads
KEYS = (
    "format", "title", "episode", "presenter", "recorded", "published", "goal", "level", "focus", "equipment", "video",
    "length", "frame rate", "sponsor", "hashtags", "slug", "picture", "picture description", "summary",
)  # fmt: skip
LONGEST_SLUG = 80  # ours: with the folders above it, every system still takes the path


@dataclass(frozen=True, slots=True)
class FrontMatter:
    """What the front matter says. A key that is absent, empty or wrong is None or empty.

    `length` is the cut's, in seconds. `sponsor` is None for "none". Hashtags are without "#". `places` gives the span
    of the value of every key that was written and not left empty, be it a wrong one.
    """

    title: str | None = None
    number: int | None = None
    presenter: str | None = None
    recorded: date | None = None
    published: date | None = None
    goal: Goal | None = None
    level: Level | None = None
    focus: tuple[Words, ...] = ()
    equipment: tuple[Words, ...] = ()
    video: str | None = None
    length: Fraction | None = None
    frame_rate: str | None = None
    sponsor: str | None = None
    hashtags: tuple[str, ...] = ()
    slug: str | None = None
    picture: Picture | None = None
    summary: str | None = None
    places: dict[str, Span] = field(default_factory=dict)


def read_front_matter(mapping: Mapping) -> tuple[FrontMatter, tuple[Finding, ...]]:
    """Read every key of the front matter; what is wrong or missing is told in the findings, in the order of lines."""
    fields = Fields(mapping, KEYS, "the front matter")
    _check_format(fields)
    matter = FrontMatter(
        title=_title(fields),
        number=fields.whole("episode", 0, 99_999),
        presenter=fields.text("presenter"),
        recorded=fields.day("recorded"),
        published=fields.day("published"),
        goal=fields.one_of("goal", Goal),
        level=fields.one_of("level", Level),
        focus=_words(fields, "focus"),
        equipment=_words(fields, "equipment"),
        video=fields.address("video"),
        length=_length(fields),
        frame_rate=fields.text("frame rate"),
        sponsor=_sponsor(fields),
        hashtags=fields.hashtags("hashtags"),
        slug=_slug(fields),
        picture=_picture(fields),
        summary=fields.text("summary"),
        places=fields.places(),
    )
    return matter, tuple(sorted(fields.findings, key=lambda finding: finding.span))


def _check_format(fields: Fields) -> None:
    item = fields.item("format")
    reads = "this version reads format " + ", ".join(map(str, FORMATS))
    if item is None and "format" not in fields.mapping.broken:
        message = f"the front matter does not say its format, taken for {FORMATS[-1]}"
        help_ = f"type “format: {FORMATS[-1]}” as its first line"
        span = fields.mapping.span
        fields.findings.append(Finding("format-missing", Severity.WARNING, span, message, help_, reads))
    elif item is not None and item.text not in map(str, FORMATS):
        message = f"“format” is {described(item)}, but {reads}"
        help_ = f"type “format: {FORMATS[-1]}”, or use the version of repslate that the file was written for"
        fields.refuse(item.value_span, message, help_, check="format-unknown")


def _title(fields: Fields) -> str | None:
    title = fields.text("title")
    written = fields.mapping.get("title")
    is_empty = written is None or written.value is None or not str(written.value).strip()
    if title is None and is_empty and "title" not in fields.mapping.broken:
        span = written.key_span if written else fields.mapping.span
        fields.refuse(
            span,
            "the episode has no title",
            "type “title: Hinge, squat, carry”, in your own words",
            check="title-missing",
        )
    return title


def _words(fields: Fields, key: str) -> tuple[Words, ...]:
    return tuple(Words(text, span) for text, span in fields.texts(key, ","))


def _length(fields: Fields) -> Fraction | None:
    """Return the length in seconds. A bare number could mean seconds or minutes, so it is asked back."""
    item = fields.item("length")
    if item is None:
        return None
    read = read_clock(item.text)
    if not isinstance(read, str) and read and _LENGTH.fullmatch(item.text):
        return read
    message = f"“length” is {described(item)}, expected minutes and seconds, or hours, minutes and seconds"
    if isinstance(item.value, int) and 0 < item.value < 360_000:
        message = f"“length” is the bare number {item.text}, expected minutes and seconds"
        help_ = f"if these are seconds, type “length: {write_clock(item.value)}”"
        if item.value < 600:
            help_ += f"; if minutes, type “length: {write_clock(item.value * 60)}”"
        fields.refuse(item.value_span, message, help_)
    else:
        seconds = _spelt_seconds(item.text)
        said = f"“length: {write_clock(seconds)}”" if seconds else "it as in “length: 28:30” or “length: 1:02:03”"
        help_ = f"type {said}"
        fields.refuse(item.value_span, message, help_)
    return None


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


def _sponsor(fields: Fields) -> str | None:
    """Return the sponsor's name; "none" says that there is none, other ways to say so are asked back."""
    sponsor = fields.text("sponsor")
    if sponsor is None or sponsor.lower() == "none":
        return None
    if sponsor.lower() not in {"no", "nobody", "false", "off", "n/a", "-", "–"}:
        return sponsor
    message = f"“sponsor” is “{sponsor}”, expected the sponsor's name or “none”"
    fields.refuse(fields.mapping["sponsor"].value_span, message, "type “sponsor: none”")
    return None


def _slug(fields: Fields) -> str | None:
    slug = fields.text("slug")
    if slug is None or (re.fullmatch(r"[a-z0-9]+(?:-[a-z0-9]+)*", slug) and len(slug) <= LONGEST_SLUG):
        return slug
    found = described(fields.mapping["slug"])
    message = f"“slug” is {found}, expected at most {LONGEST_SLUG} letters a to z, digits and single hyphens"
    plain = unicodedata.normalize("NFKD", slug.lower()).encode("ascii", "ignore").decode()
    fixed = re.sub(r"[^a-z0-9]+", "-", plain)[:LONGEST_SLUG].strip("-")
    help_ = f"type “slug: {fixed or 'hinge-squat-carry'}”"
    fields.refuse(fields.mapping["slug"].value_span, message, help_, check="slug-form")
    return None


def _picture(fields: Fields) -> Picture | None:
    path, description = fields.text("picture"), fields.text("picture description")
    if path is None:
        if description is not None and "picture" not in fields.mapping:
            message = "“picture description” describes a picture that is not named"
            help_ = "type “picture: pictures/title.jpg” above it, or delete the line"
            fields.refuse(fields.mapping["picture description"].key_span, message, help_)
        return None
    span = fields.mapping["picture"].value_span
    if leads_out(path) or "\\" in path:
        message = f"“picture” is {described(fields.mapping['picture'])}, expected a file within the episode's folder"
        fields.refuse(span, message, "copy the file there and type “picture: pictures/title.jpg”")
        return None
    return Picture(path, description or "", span)
