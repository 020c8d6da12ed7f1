"""The episode as the tool understands it: frozen, complete, each piece with its place in the source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Annotated

from repslate.model import front_matter
from repslate.model.block_parts import Parts
from repslate.model.forms import BlockKind, Form, form_of
from repslate.model.library import Match
from repslate.model.prescription import TRAINING_MAX, Prescription
from repslate.model.quantity import Range
from repslate.model.series import Series
from repslate.source import fields
from repslate.source.finding import Severity
from repslate.source.mapping import Item
from repslate.source.models import Kind, strict, wrong
from repslate.source.places import leads_out
from repslate.source.span import Span


class Goal(StrEnum):
    """What the workout is for."""

    STRENGTH = "strength"
    HYPERTROPHY = "hypertrophy"
    ENDURANCE = "endurance"
    POWER = "power"
    CONDITIONING = "conditioning"
    MOBILITY = "mobility"


class Level(StrEnum):
    """Whom the workout is for."""

    BEGINNER = "beginner"
    INTERMEDIATE = "intermediate"
    ADVANCED = "advanced"


@dataclass(frozen=True, slots=True)
class Words:
    """A sentence or a word of the trainer's (inline Markdown), with its place."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Prose:
    """A run of the trainer's ordinary Markdown; `span` is where it begins, its lines follow one another in the file."""

    markdown: str
    span: Span


@dataclass(frozen=True, slots=True)
class Caution:
    """A safety note; `topic` is the word in brackets of "Caution (knees): …", or None."""

    topic: str | None
    words: Words


@dataclass(frozen=True, slots=True)
class Picture:
    """A still; `path` is relative to the episode's folder, `description` what it shows ("" where none is written)."""

    path: str
    description: str
    span: Span


@dataclass(frozen=True, slots=True)
class Quiet:
    """A check silenced for one spot: "Quiet (rest-missing): why".

    Holds for findings on the lines `first` to `last`, the part under the nearest heading above it.
    """

    check: str
    reason: str
    span: Span
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Part:
    """One of several prescriptions of an exercise; `name` is what its line begins with ("Top set"; "" if nothing)."""

    name: str
    prescription: Prescription
    span: Span
    is_warm_up: bool = False

    @property
    def sets(self) -> Range[int]:
        """How often it is done: the sets it says, one a figure of "12/10/8", else once."""
        said = self.prescription
        if said.sets is None and said.each:
            return Range(len(said.each), len(said.each))
        return said.sets or Range(1, 1)


@dataclass(frozen=True, slots=True)
class Exercise:
    """One exercise of a block.

    `id` is unique in the episode: the explicit "{id}" of the heading, else made from the name. `label` is the
    trade's A1, A2, B1. `match` is what the library knows of it; `muscles` and `equipment` what the trainer says in
    place of it. Where it is done in several `parts`, `prescription` is that of the main one; () where one line says it.
    """

    id: str
    name: str
    span: Span
    label: str
    prescription: Prescription
    prescription_span: Span | None
    match: Match | None
    prose: tuple[Prose, ...] = ()
    cues: tuple[Words, ...] = ()
    easier: tuple[Words, ...] = ()
    harder: tuple[Words, ...] = ()
    cautions: tuple[Caution, ...] = ()
    pictures: tuple[Picture, ...] = ()
    muscles: tuple[Words, ...] = ()
    equipment: tuple[Words, ...] = ()
    parts: tuple[Part, ...] = ()

    @property
    def lines(self) -> tuple[Exercise, ...]:
        """The exercise for each line that prescribes something: itself, or with each of its parts alone."""
        if not self.parts:
            return (self,)
        return tuple(
            replace(self, prescription=part.prescription, prescription_span=part.span, parts=(part,))
            for part in self.parts
        )

    @property
    def is_led_in(self) -> bool:
        """Whether all of it is done before the work, with less than its load."""
        return bool(self.parts) and all(part.is_warm_up for part in self.parts)

    def at_set(self, index: int) -> tuple[Exercise, int]:
        """Return the line that the set number `index` (from 0) is of, and its number there."""
        lines = self.lines
        for line in lines[:-1]:
            if index < line.parts[0].sets.high:
                return line, index
            index -= line.parts[0].sets.high
        return lines[-1], index

    @property
    def names(self) -> tuple[str, ...]:
        """What it may be called: by the trainer, then by the library."""
        return (self.name, *(self.match.entry.names if self.match else ()))

    @property
    def movement(self) -> str:
        """What stays the same of an exercise that is written more than once."""
        return self.match.entry.name if self.match else " ".join(self.name.casefold().split())


@dataclass(frozen=True, slots=True)
class Block(Parts):
    """Exercises done together.

    `letter` is the block's letter ("A"; "WU" for a warm-up, "CD" for a cool-down), `title` what the trainer called it
    beyond the kind ("Rows"; "" if nothing), `name` how the heading names it in full ("Superset 1", "Superset: Rows").
    `rest` is seconds after each round, or after each set where the exercises do not take turns, as in straight sets;
    `clock` is the length in seconds of a block done against the clock. The other parts are as its heading has them.
    `in_words` tells that its heading was not understood whole, so that its name may say what no figure says.
    """

    kind: BlockKind
    letter: str
    title: str
    name: str
    span: Span
    exercises: tuple[Exercise, ...]
    prose: tuple[Prose, ...] = ()
    cautions: tuple[Caution, ...] = ()
    in_words: bool = False

    @property
    def form(self) -> Form:
        """What its kind means."""
        return form_of(self.kind)

    @property
    def shared_by(self) -> int:
        """How many people do it together, one at a time: as written, else as its name says."""
        return self.people or self.form.people

    @property
    def is_open(self) -> bool:
        """Whether it is as many rounds as one can, or a ladder as far as one gets, so that nobody knows the number."""
        is_far = self.scheme is not None and (self.scheme.goes_on or self.clock is not None)
        return self.form.is_open or is_far

    @property
    def runs(self) -> Range[Fraction] | None:
        """Seconds that the clock runs: as written, else as many turns as there are rounds; None without a clock."""
        if self.clock is not None:
            return Range(self.clock, self.clock)
        if self.turn_length is None or self.rounds is None:
            return None
        return Range(self.rounds.low * self.turn_length, self.rounds.high * self.turn_length)

    @property
    def turn_length(self) -> Fraction | None:
        """Seconds of a turn of the clock, as written or as its name says; None where it does not go by turns."""
        return self.turn if self.turn is not None else self.form.turn


def _words(says: str) -> Kind:
    return fields.texts(says, ",", lambda item: Words(item.text, item.value_span))


def _picture(says: str) -> Kind:
    """Take the path of a still within the episode's folder."""

    def read(item: Item) -> Picture:
        path = fields.one_text(item)
        if leads_out(path) or "\\" in path:
            message = f"“picture” is {fields.described(item)}, expected a file within the episode's folder"
            raise wrong(item, message, "copy the file there and type “picture: pictures/title.jpg”")
        return Picture(path, "", item.value_span)

    return Kind(says, read, ({**fields.ANY_TEXT, "pattern": r"^(?![/~]|\.\./|[A-Za-z][A-Za-z0-9+.-]*:)[^\\]*$"},))


_STILL = "a still for the page and for link previews, and what it shows"
_DATES = "dates, `2026-04-14`"

_GOALS = "`strength`, `hypertrophy`, `endurance`, `power`, `conditioning` or `mobility`"
_LEVELS = "`beginner`, `intermediate` or `advanced`"


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontMatter:
    """The keys at the top of workout.md; those left out are None or empty.

    `length` is the cut's, in seconds. `sponsor` is None for "none". Hashtags are without "#".
    """

    __pydantic_config__ = strict("format", "title", number="episode")

    format: Annotated[int, front_matter.format_number("`1`, the version of this format")] = 1
    title: Annotated[str, fields.text("the title, also of the video")] = ""
    number: Annotated[int | None, fields.whole("its number in the series", 0, 99_999)] = None
    presenter: Annotated[str | None, fields.text("who presents it")] = None
    recorded: Annotated[date | None, fields.day(_DATES)] = None
    published: Annotated[date | None, fields.day(_DATES)] = None
    goal: Annotated[
        Goal | None,
        fields.choice(_GOALS, Goal, severity=Severity.WARNING),
    ] = None
    level: Annotated[Level | None, fields.choice(_LEVELS, Level, severity=Severity.WARNING)] = None
    focus: Annotated[tuple[Words, ...], _words("the muscles it is about, `[glutes, hamstrings]`")] = ()
    equipment: Annotated[tuple[Words, ...], _words("what is needed, `[kettlebell, bench]`")] = ()
    video: Annotated[
        str | None, fields.address("the address of the video; `#t=` seconds are added for each exercise")
    ] = None
    length: Annotated[Fraction | None, front_matter.length("the finished cut's length, `28:30`")] = None
    frame_rate: Annotated[str | None, fields.text("of the cut, `29.97 drop`")] = None
    training_max: Annotated[
        Decimal,
        front_matter.percent(
            "the training max as a share of the one-repetition maximum, `90 %`; loads are then `70 % TM`", 50, 100
        ),
    ] = TRAINING_MAX
    sponsor: Annotated[
        str | None,
        front_matter.sponsor(
            "`none`, or the sponsor's name: the disclosure of series.yaml then stands in every output"
        ),
    ] = None
    hashtags: Annotated[tuple[str, ...], fields.hashtags("for the post, beyond those of the series")] = ()
    slug: Annotated[
        str | None, front_matter.slug("the name of the output folder; made from number and title if left out")
    ] = None
    picture: Annotated[Picture | None, _picture(_STILL)] = None
    picture_description: Annotated[str, fields.text(_STILL)] = ""
    summary: Annotated[str | None, fields.text("one or two sentences for the post and for search results")] = None


@dataclass(frozen=True, slots=True)
class Episode(FrontMatter):
    """One filmed workout: what its front matter says, and all else.

    `slug` names the output folder: lower-case ASCII letters, digits and hyphens. `places` gives the span of each
    front-matter key that was written.
    """

    title: str
    slug: str
    span: Span
    series: Series
    lead: tuple[Prose, ...] = ()
    blocks: tuple[Block, ...] = ()
    safety: tuple[Prose, ...] = ()
    has_safety: bool = False
    notes: tuple[tuple[Words, tuple[Prose, ...]], ...] = ()
    quiets: tuple[Quiet, ...] = ()
    places: dict[str, Span] = field(default_factory=dict)

    def exercises(self) -> Iterator[tuple[Block, Exercise]]:
        """Yield every exercise with its block, in the order written."""
        for block in self.blocks:
            for exercise in block.exercises:
                yield block, exercise

    def lines(self) -> Iterator[tuple[Block, Exercise]]:
        """Yield every line that prescribes something with its block: of an exercise in parts one for each."""
        for block, exercise in self.exercises():
            for line in exercise.lines:
                yield block, line
