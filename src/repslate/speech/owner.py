"""Of which exercise or block each figure is: what is talked of there, unless another is named in the same breath."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.speech.by_plan import is_shared, settle
from repslate.speech.discover import names_in
from repslate.speech.figures import Figure
from repslate.speech.mentions import Mention
from repslate.speech.plan import Part, Subject, Topic
from repslate.speech.words import Word, quote

_BREATH = 5  # words
_SURE, _UNSURE = Fraction(9, 10), Fraction(6, 10)
_LINKS = frozenset("were was is are for of the at it's that's still do does got get be you go your a on".split())
#: How "as many as possible" is said, by the first word (common practice, no source).
_AS_MANY: dict[str, list[tuple[str, ...]]] = {}
for _phrase in (
    "as many as you can|as many as you've got|as many as you have|as many as possible|as many as you got"
    "|as many reps as|as many good ones as|as many clean ones as|as many good reps as|as many clean reps as"
    "|as many as you like"
    "|as many touches as|as many rounds as|as many pull ups as|as many push ups as|as many press ups as|as many as ye"
    "|as many as you're able|as many as your|amrap|max reps|maximum reps|to failure|till failure|until failure"
    "|till you can't|until you can't|all you've got"
).split("|"):
    _AS_MANY.setdefault(_phrase.split()[0], []).append(tuple(_phrase.split()))


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
    """A call for as many as possible at `time`, of an exercise or, where that is None, of a whole block."""

    time: Fraction
    exercise: Subject | None
    part: int | None
    quote: str


@dataclass(frozen=True, slots=True)
class _Owner:
    """An exercise with the index of its block."""

    part: int
    subject: Subject


class Listener:
    """Gives each figure to the exercise or block it is about; figures are given to it in the order said."""

    def __init__(self, words: Sequence[Word], plan: Sequence[Part], topics: Sequence[Topic]) -> None:
        """Find where the plan's exercises are named; `topics` are the turns of the talk, in order."""
        self._words, self._plan, self._topics = words, plan, topics
        self._mentions = [one for one in names_in(plan).find(words) if _is_name(one, words)]
        self._ends = [mention.last for mention in self._mentions]
        self._begins = [topic.word for topic in topics]
        self._owners = {one.id: _Owner(index, one) for index, part in enumerate(plan) for one in part.subjects}
        self._last: tuple[int, _Owner] | None = None  # last word of the figure before, and whose it was by name

    def place(self, figure: Figure) -> HeardFigure | None:
        """Return a figure with its owner, None where the plan tells that it is none."""
        index, subject = self._talked_of(figure.first)
        if named := self._named(figure, index, subject):
            index, subject = named.part, named.subject
        part = self._plan[index] if index is not None else None
        if part and subject is None and len({one.name for one in part.subjects}) == 1:
            subject = part.subjects[0]
        settled = settle(figure, part, subject)
        if settled is None:
            return None
        return HeardFigure(
            time=self._words[settled.first].start,
            field=settled.field,
            low=settled.low,
            high=settled.high,
            per_side=settled.per_side,
            exercise=None if part and is_shared(settled.field, part) else subject,
            part=index,
            quote=quote(self._words, settled.first, max(settled.last, settled.end)),
            confidence=_SURE if settled.sure else _UNSURE,
            first=settled.first,
            last=settled.last,
        )

    def open_ended(self) -> Iterator[OpenEnded]:
        """Yield where as many repetitions as possible are asked for."""
        texts = [word.text for word in self._words]
        for first, text in enumerate(texts):
            phrase = next((one for one in _AS_MANY.get(text, ()) if tuple(texts[first : first + len(one)]) == one), ())
            index, subject = self._talked_of(first) if phrase else (None, None)
            if index is not None:
                said = quote(self._words, first, first + len(phrase) - 1)
                yield OpenEnded(self._words[first].start, subject, index, said)

    def _talked_of(self, word: int) -> tuple[int | None, Subject | None]:
        """Return the index of the block and the exercise that are talked of at a word."""
        place = bisect_right(self._begins, word)
        topic = self._topics[place - 1] if place else None
        if topic is None or topic.part is None:
            return None, None
        return topic.part, self._plan[topic.part].subjects[topic.subject] if topic.subject is not None else None

    def _named(self, figure: Figure, index: int | None, subject: Subject | None) -> _Owner | None:
        """Return another exercise than the one talked of where its name and the figure are said in one breath.

        "The split squats were five sets", "fifteen swings"; a second figure goes with the first ("two sets, eight to
        ten").
        """
        found = self._beside(figure)
        if found is None and self._goes_on(figure) and self._last:
            self._last = figure.end, self._last[1]
            return self._last[1]
        self._last = None
        if found is None or (subject and subject.id in found.names):
            return None
        owners = [self._owners[one] for one in found.names]
        if len({one.subject.name for one in owners}) > 1:
            return None
        owner = next((one for one in owners if one.part == index), owners[0])
        self._last = figure.end, owner
        return owner

    def _beside(self, figure: Figure) -> Mention | None:
        """Return the name that is linked to a figure, before it or behind it."""
        place = bisect_left(self._ends, figure.first)
        before = self._mentions[place - 1] if place else None
        if before and figure.first - before.last <= _BREATH and self._links(before.last, figure.first):
            return before
        after = next((one for one in self._mentions[place : place + 2] if 0 < one.first - figure.last <= 3), None)
        if after and self._links(figure.end if figure.end < after.first else figure.last, after.first):
            return after
        return None

    def _goes_on(self, figure: Figure) -> bool:
        """Tell whether a figure follows one of an exercise by name in the same breath, with no other name between."""
        if self._last is None or figure.first - self._last[0] > _BREATH:
            return False
        place = bisect_left(self._ends, figure.first)
        return not (place and self._ends[place - 1] > self._last[0])

    def _links(self, one: int, two: int) -> bool:
        """Tell whether only linking words stand between two words, and no sentence ends there."""
        between = self._words[one + 1 : two]
        return not any(word.ends for word in self._words[one:two]) and all(word.text in _LINKS for word in between)


def _is_name(mention: Mention, words: Sequence[Word]) -> bool:
    """Tell a name from a single word that may be a verb: more than a word, or in the plural."""
    return mention.last > mention.first or words[mention.last].text.endswith("s")
