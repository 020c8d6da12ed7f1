"""Everything heard in an episode's subtitles: which figures, of which exercise or block, in which words and when.

Puts together what the other modules of this stage find; with a written plan it settles what talk alone leaves open.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.cut.chapters import Chapter
from repslate.cut.cue import Cue
from repslate.model.episode import BlockKind, Episode
from repslate.model.library import Library
from repslate.speech.cautions import SpokenCaution, spoken_cautions
from repslate.speech.figures import Figure, hear
from repslate.speech.grammar import grammar
from repslate.speech.discover import discover, follow, names_in
from repslate.speech.plan import Part, Subject, Topic, Written, plan_of
from repslate.speech.words import Word, quote, read_words

_BREATH = 5  # words
_LINKS = frozenset("were was is are for of the at it's that's still do does got get be you go your a on".split())

#: How "as many as possible" is said (common practice, no source).
_AS_MANY = tuple(
    tuple(phrase.split())
    for phrase in (
        "as many as you can", "as many as you've got", "as many as you have", "as many as possible", "as many as you got",
        "as many reps as", "as many good ones as", "as many clean ones as", "as many good reps as", "as many clean reps as",
        "as many as you like", "as many touches as", "as many rounds as", "amrap", "max reps", "maximum reps", "to failure",
        "till failure", "until failure", "till you can't", "until you can't", "as many pull ups as", "as many push ups as",
        "as many press ups as", "as many as ye", "as many as you're able", "as many as your", "all you've got",
    )
)  # fmt: skip


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
class OpenEnded:
    """"As many as you can", said at `time` of an exercise or, where that is None, of a whole block."""

    time: Fraction
    exercise: Subject | None
    part: int | None
    quote: str


@dataclass(frozen=True, slots=True)
class Heard:
    """What was heard: the words, the plan they are about (written, or gathered from the talk), its turns, figures.

    `said` are the figures before the plan settled them.

    `coarse` tells that the times are those of a plain transcript, good to some seconds.
    """

    words: tuple[Word, ...]
    plan: tuple[Part, ...]
    topics: tuple[Topic, ...]
    figures: tuple[HeardFigure, ...]
    said: tuple[Figure, ...] = ()
    open_ended: tuple[OpenEnded, ...] = ()
    cautions: tuple[SpokenCaution, ...] = ()
    coarse: bool = False


def listen(
    cues: Sequence[Cue],
    library: Library,
    episode: Episode | None = None,
    chapters: Sequence[Chapter] = (),
    *,
    coarse: bool = False,
) -> Heard:
    """Return what is heard in subtitles; `episode` and its chapters, where there are any, tell whom figures are about."""
    words = read_words(cues)
    said = hear(words, grammar(library))
    if episode is not None and episode.blocks:
        plan = plan_of(episode)
        topics = follow(words, plan, chapters, said, library)
    else:
        plan, topics = discover(words, library, said)
    listener = _Listener(words, plan, topics)
    figures = tuple(filter(None, map(listener.place, said)))
    open_ended = tuple(listener.open_ended())
    return Heard(words, plan, topics, figures, said, open_ended, spoken_cautions(words), coarse=coarse)


class _Listener:
    """Gives each figure to the exercise or block it is about, and settles its field by the plan where talk does not."""

    def __init__(self, words: Sequence[Word], plan: Sequence[Part], topics: Sequence[Topic]) -> None:
        self.words, self.plan, self.topics = words, plan, topics
        self.mentions = [one for one in names_in(plan).find(words) if one.last > one.first or self._is_plural(one.last)]
        self.ends = [mention.last for mention in self.mentions]
        self.where = {subject.id: (part, subject) for part in range(len(plan)) for subject in plan[part].subjects}
        self.named: tuple[int, int, Subject] | None = None  # last word of a figure, and whose it was by name

    def place(self, figure: Figure) -> HeardFigure | None:
        topic = self._topic(figure.first)
        index = topic.part if topic else None
        subject = self.plan[index].subjects[topic.subject] if topic and index is not None and topic.subject is not None else None
        if named := self._named(figure, index, subject):
            index, subject = named
        part = self.plan[index] if index is not None else None
        if part and subject is None and len({one.name for one in part.subjects}) == 1:
            subject = part.subjects[0]
        figure = _settle(figure, part, subject)
        if figure is None:
            return None
        owner = None if part and _is_shared(figure.field, part, subject) else subject
        confidence = Fraction(9, 10) if figure.sure else Fraction(6, 10)
        return HeardFigure(
            self.words[figure.first].start, figure.field, figure.low, figure.high, figure.per_side, owner,
            index, quote(self.words, figure.first, max(figure.last, figure.end)), confidence,
            figure.first, figure.last,
        )  # fmt: skip

    def _named(self, figure: Figure, index: int | None, subject: Subject | None) -> tuple[int, Subject] | None:
        """Return another exercise than the one talked of where its name and the figure are said in one breath.

        "The split squats were five sets", "fifteen swings"; a second figure goes with the first ("two sets, eight to
        ten").
        """
        place = bisect_left(self.ends, figure.first)
        before = self.mentions[place - 1] if place else None
        after = next((one for one in self.mentions[place : place + 2] if 0 < one.first - figure.last <= 3), None)
        found = None
        if before and figure.first - before.last <= _BREATH and self._links(before.last, figure.first):
            found = before
        elif after and self._links(figure.end if figure.end < after.first else figure.last, after.first):
            found = after
        if found is None and self.named and figure.first - self.named[0] <= _BREATH and not (before and before.last > self.named[0]):
            self.named = (figure.end, *self.named[1:])
            return self.named[1:]
        if found is None or (subject and subject.id in found.names) or len({self.where[one][1].name for one in found.names}) > 1:
            self.named = None
            return None
        here = next((self.where[one] for one in found.names if self.where[one][0] == index), self.where[found.names[0]])
        self.named = (figure.end, *here)
        return here

    def _links(self, one: int, two: int) -> bool:
        """Tell whether only linking words stand between two words, and no sentence ends there."""
        between = self.words[one + 1 : two]
        return not any(word.ends for word in self.words[one:two]) and all(word.text in _LINKS for word in between)

    def _is_plural(self, word: int) -> bool:
        return self.words[word].text.endswith("s")

    def open_ended(self) -> Iterator[OpenEnded]:
        """Yield where as many repetitions as possible are asked for."""
        texts = [word.text for word in self.words]
        for first in range(len(texts)):
            phrase = next((one for one in _AS_MANY if tuple(texts[first : first + len(one)]) == one), None)
            topic = self._topic(first)
            if phrase is None or topic is None or topic.part is None:
                continue
            part = self.plan[topic.part]
            subject = part.subjects[topic.subject] if topic.subject is not None else None
            said = quote(self.words, first, first + len(phrase) - 1)
            yield OpenEnded(self.words[first].start, subject, topic.part, said)

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
