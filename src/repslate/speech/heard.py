"""Everything heard in an episode's subtitles: which figures, of which exercise or block, in which words and when.

Puts together what the other modules of this stage find; with a written plan it settles what talk alone leaves open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.cut.chapters import Chapter
from repslate.cut.cue import Cue
from repslate.model.episode import BlockKind, Episode
from repslate.model.library import Library
from repslate.speech.figures import Figure, hear
from repslate.speech.grammar import grammar
from repslate.speech.plan import Part, Subject, Topic, Written, plan_of
from repslate.speech.words import Word, quote, read_words

_ONE_BY_ONE = (BlockKind.STRAIGHT, BlockKind.WARM_UP, BlockKind.COOL_DOWN, BlockKind.FINISHER)
_SHARED = frozenset({"rounds", "rest_s"})  # what a block says for all its exercises


@dataclass(frozen=True, slots=True)
class HeardFigure:
    """A figure as said.

    `time` is the start of the cue that holds its first word, `field` one of plan.FIELDS, `exercise` None where it was
    said of the whole block, whose index in the plan is `part`, None in the greeting. `quote` are the exact words.
    `confidence` is from 0 to 1: 0.9 where words name the field, less where only the plan or the place tells.
    """

    time: Fraction
    field: str
    low: Fraction
    high: Fraction
    per_side: bool
    exercise: Subject | None
    part: int | None
    quote: str
    confidence: Fraction
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard: the words, the plan they are about (written, or gathered from the talk), its turns, figures."""

    words: tuple[Word, ...]
    plan: tuple[Part, ...]
    topics: tuple[Topic, ...]
    figures: tuple[HeardFigure, ...]


def listen(
    cues: Sequence[Cue], library: Library, episode: Episode | None = None, chapters: Sequence[Chapter] = ()
) -> Heard:
    """Return what is heard in subtitles; `episode` and its chapters, where there are any, tell whom figures are about."""
    words = read_words(cues)
    plan = plan_of(episode) if episode else ()
    topics = _by_chapters(words, plan, chapters)
    found = hear(words, grammar(library))
    listener = _Listener(words, plan, topics)
    return Heard(words, plan, topics, tuple(filter(None, map(listener.place, found))))


def _by_chapters(words: Sequence[Word], plan: Sequence[Part], chapters: Sequence[Chapter]) -> tuple[Topic, ...]:
    where = {subject.id: (p, s) for p, part in enumerate(plan) for s, subject in enumerate(part.subjects)}
    topics = []
    for chapter in sorted(chapters, key=lambda one: one.start):
        first = next((k for k, word in enumerate(words) if word.start >= chapter.start), len(words))
        part, subject = where.get(chapter.exercise or "", (chapter.block, None))
        topics.append(Topic(first, chapter.start, part, subject, chapter.title))
    return tuple(topics)


class _Listener:
    """Gives each figure to the exercise or block it is about, and settles its field by the plan where talk does not."""

    def __init__(self, words: Sequence[Word], plan: Sequence[Part], topics: Sequence[Topic]) -> None:
        self.words, self.plan, self.topics = words, plan, topics

    def place(self, figure: Figure) -> HeardFigure | None:
        topic = self._topic(figure.first)
        part = self.plan[topic.part] if topic and topic.part is not None else None
        subject = part.subjects[topic.subject] if topic and part and topic.subject is not None else None
        if part and subject is None and len({one.name for one in part.subjects}) == 1:
            subject = part.subjects[0]
        figure = _settle(figure, part, subject)
        if figure is None:
            return None
        owner = None if part and _is_shared(figure.field, part, subject) else subject
        confidence = Fraction(9, 10) if figure.sure else Fraction(6, 10)
        return HeardFigure(
            self.words[figure.first].start, figure.field, figure.low, figure.high, figure.per_side, owner,
            topic.part if topic else None, quote(self.words, figure.first, max(figure.last, figure.end)), confidence,
            figure.first, figure.last,
        )  # fmt: skip

    def _topic(self, word: int) -> Topic | None:
        return next((topic for topic in reversed(self.topics) if topic.word <= word), None)


def _is_shared(field: str, part: Part, subject: Subject | None) -> bool:
    """Tell whether a figure is about the whole block: rounds always, rests where the exercises are done together."""
    if field == "rounds":
        return True
    if field != "rest_s":
        return False
    fields = {one.field for one in part.written}
    if part.written:
        return bool(fields & {"rest_s", "rounds"})
    return len(part.subjects) > 1 and part.kind is not BlockKind.STRAIGHT


def _settle(figure: Figure, part: Part | None, subject: Subject | None) -> Figure | None:
    """Return the figure with the field that the plan or the kind of exercise decides, None where it is no figure.

    Only what the words leave open is settled: a time that may be work or rest, a count that may be sets.
    """
    if part is None and not figure.sure:
        return None
    written = _written(part, subject)
    fields = {one.field for one in written}
    unit = subject.entry.unit if subject and subject.entry else ""
    work = next((field for field in ("reps", "seconds", "metres") if field in fields), unit)
    if not figure.field:
        return _by_plan(figure, written)
    if figure.field == "rpe" and work == "seconds" and "rpe" not in fields:
        return None  # how strong a stretch feels
    if figure.field in ("kg", "lb") and not figure.sure and part is not None and not fields & {"kg", "lb", "seconds"}:
        return None
    if figure.sure and figure.field not in ("reps", "rounds"):
        return figure
    if figure.field == "reps" and work == "metres" and "reps" not in fields and figure.high <= _MOST_SETS:
        return replace(figure, field="sets" if "sets" in fields else "rounds")
    if any(one.field == figure.field and _meets(figure, one) for one in written) or figure.sure:
        return figure
    if figure.field == "seconds" and any(one.field == "seconds" and _is_like(figure, one) for one in written):
        return figure
    likely = [
        field for field in _MISTAKEN[figure.field] if any(one.field == field and _meets(figure, one) for one in written)
    ]
    if likely:
        return replace(figure, field=likely[0])
    if figure.field == "seconds" and work != "seconds":
        return None
    return figure


def _written(part: Part | None, subject: Subject | None) -> tuple[Written, ...]:
    """Return the plan's figures of an exercise and its block; of a block alone those that all its exercises share."""
    if part is None:
        return ()
    if subject is not None:
        return (*subject.written, *part.written)
    shared = [one for one in part.subjects[0].written if all(one in other.written for other in part.subjects)]
    return (*shared, *part.written)


#: What the words of an unsure figure may mean besides, the likelier first.
_MISTAKEN = {
    "seconds": ("rest_s",), "rest_s": ("seconds",), "reps": ("seconds", "metres", "sets", "rounds", "rir", "rpe", "kg", "lb"),
    "rounds": ("sets", "reps"), "sets": ("rounds",), "kg": ("seconds",), "lb": ("seconds",), "rpe": (), "rir": (),
    "percent_1rm": (), "percent_working": (), "tempo_s": (), "metres": (), "drop_sets": (),
}  # fmt: skip


def _by_plan(figure: Figure, written: Sequence[Written]) -> Figure | None:
    """Return a bare number as the one figure of the plan that it is exactly, None where it is none or too small."""
    if figure.high < 5:
        return None
    same = [one.field for one in written if one.field in _BARE and (one.low, one.high) == (figure.low, figure.high)]
    return replace(figure, field=same[0]) if len(same) == 1 else None


_MOST_SETS = 12  # more in a row are repetitions (our choice)


def _is_like(figure: Figure, written: Written) -> bool:
    """Tell whether two figures are of a size: each end less than double the other's."""
    return figure.low < 2 * written.high and written.low < 2 * figure.high


_BARE = ("reps", "seconds", "rest_s", "metres")


def _meets(figure: Figure, written: Written) -> bool:
    return figure.low <= written.high and written.low <= figure.high
