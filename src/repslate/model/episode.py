"""The episode as the tool understands it: frozen, complete, each piece with its place in the source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from fractions import Fraction

from repslate.model.forms import BlockKind, Form, form_of
from repslate.model.library import Match
from repslate.model.prescription import Prescription
from repslate.model.quantity import Range
from repslate.model.series import Series
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
class Exercise:
    """One exercise of a block.

    `id` is unique in the episode: the explicit "{id}" of the heading, else made from the name. `label` is the
    trade's A1, A2, B1. `match` is what the library knows of it; `muscles` and `equipment` what the trainer says in
    place of it.
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

    @property
    def names(self) -> tuple[str, ...]:
        """What it may be called: by the trainer, then by the library."""
        return (self.name, *(self.match.entry.names if self.match else ()))

    @property
    def movement(self) -> str:
        """What stays the same of an exercise that is written more than once."""
        return self.match.entry.name if self.match else " ".join(self.name.casefold().split())


@dataclass(frozen=True, slots=True)
class Block:
    """Exercises done together.

    `letter` is the block's letter ("A"; "WU" for a warm-up, "CD" for a cool-down), `title` what the trainer called it
    beyond the kind ("Rows"; "" if nothing), `name` how the heading names it in full ("Superset 1", "Superset: Rows").
    `rest` is seconds after each round, or after each set where the exercises do not take turns, as in straight sets;
    `clock` is the length in seconds of a block done against the clock.
    """

    kind: BlockKind
    letter: str
    title: str
    name: str
    span: Span
    exercises: tuple[Exercise, ...]
    rounds: Range[int] | None = None
    rest: Range[Fraction] | None = None
    clock: Fraction | None = None
    prose: tuple[Prose, ...] = ()
    cautions: tuple[Caution, ...] = ()

    @property
    def form(self) -> Form:
        """What its kind means."""
        return form_of(self.kind)


@dataclass(frozen=True, slots=True)
class Episode:
    """One filmed workout. Fields that the front matter leaves out are None or empty.

    `slug` names the output folder: lower-case ASCII letters, digits and hyphens. `length` is the cut's, in seconds.
    `places` gives the span of each front-matter key that was written.
    """

    slug: str
    title: str
    span: Span
    series: Series
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
    summary: str | None = None
    picture: Picture | None = None
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
