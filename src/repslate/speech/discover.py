"""A plan gathered from talk alone: which blocks and exercises are talked through, and where the talk turns to them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from repslate.cut.chapters import Chapter
from repslate.model.clock import write_clock
from repslate.model.forms import PLAIN, BlockKind, form_of, resized
from repslate.model.library import Entry, Library
from repslate.model.names import Index, plain
from repslate.speech.blocks import Call, calls, framed, goodbye
from repslate.speech.figures import Figure
from repslate.speech.following import by_chapters, in_order
from repslate.speech.likely import WITHOUT_NAME, completed
from repslate.speech.mentions import Names
from repslate.speech.naming import Naming, nicknames
from repslate.speech.plan import Part, Subject, Topic
from repslate.speech.topics import Turn, Turns
from repslate.speech.turns import begins, chosen
from repslate.speech.words import Word

UNNAMED = "Unnamed at"  # in front of the time, where nobody says what an exercise is called
_SOON = 5  # seconds within which a block and its first exercise begin together
_AGAIN = 45  # seconds for which an exercise is talked of before other sets of it are announced
_FRAMED = 60  # words after its announcement in which the rounds of a block are said
_LEADS = 110  # words between the announcement of a block and its first exercise
_WORK = frozenset({"sets", "reps", "seconds", "metres"})
_FRAMES = frozenset({"rounds", "rest_s"})


def names_of(library: Library) -> Names:
    """Return the index of all names of a library; takes about 100 ms."""
    return Names(library.names, ((one, name) for one in library.entries for name in nicknames(one)), ends=False)


def names_in(plan: Sequence[Part]) -> Names:
    """Return the index of the names of a plan's exercises: as written, as the library has them, and their ends."""
    subjects = [subject for part in plan for subject in part.subjects]
    named = ((one.id, name) for one in subjects for name in (one.name, *(one.entry.names if one.entry else ())))
    spoken = ((one.id, name) for one in subjects if one.entry for name in nicknames(one.entry.name))
    return Names(Index(named), spoken, ends=True)


def discover(
    words: Sequence[Word], library: Library, said: Sequence[Figure], *, named_only: bool = False
) -> tuple[tuple[Part, ...], tuple[Topic, ...]]:
    """Return the blocks and exercises that are talked through, and the turns to them, from the talk alone.

    `said` are the figures heard in the words: work tells that an exercise is done, rounds and rests that a block
    begins. With `named_only` what nobody names is left out.
    """
    if not words:
        return (), ()
    turns, called, taken, begin = named_turns(words, library, said)
    if named_only:
        return _Gathered(turns, called, library).gather(taken)
    announced = [one.start for one in called]
    if (wrap := goodbye(turns, taken[-1].mention.last if taken else -1)) is not None:
        announced.append(wrap)
    return _Gathered(turns, called, library).gather(completed(turns, taken, announced, begin))


def named_turns(
    words: Sequence[Word], library: Library, said: Sequence[Figure]
) -> tuple[Turns, list[Call], list[Turn], int]:
    """Return the talk, the announcements of blocks in it, its turns to named exercises, and where its greeting ends."""
    turns = _turns(words, said)
    called = list(calls(turns))
    weighed = turns.weigh(names_of(library).find(words))
    begin = begins(turns, weighed, called)
    called = [one for one in called if one.start >= begin]
    return turns, called, chosen(turns, [one for one in weighed if one.start >= begin], called), begin


def follow(
    words: Sequence[Word], plan: Sequence[Part], chapters: Sequence[Chapter], said: Sequence[Figure]
) -> tuple[Topic, ...]:
    """Return the turns of talk about a written plan: where its chapters begin, else where its exercises are named."""
    mentions = names_in(plan).find(words)
    if chapters:
        return tuple(by_chapters(words, plan, chapters, mentions))
    turns = _turns(words, said)
    return tuple(in_order(turns, turns.weigh(mentions), plan)) if words else ()


def _turns(words: Sequence[Word], said: Sequence[Figure]) -> Turns:
    doses = [one.first for one in said if one.field in _WORK]
    return Turns(words, doses, [one.first for one in said if one.field in _FRAMES])


class _Gathered:
    """Puts turns and announcements together to blocks."""

    def __init__(self, turns: Turns, called: Sequence[Call], library: Library) -> None:
        self.turns = turns
        self.calls = [one for one in called if one.kind is not None]
        self.again = [one for one in called if one.kind is None]
        self.naming = Naming(turns.texts, library)
        self.kinds: list[BlockKind] = []
        self.subjects: list[list[Subject]] = []
        self.topics: list[Topic] = []

    def gather(self, taken: Sequence[Turn]) -> tuple[tuple[Part, ...], tuple[Topic, ...]]:
        """Return the blocks and the turns to them and their exercises."""
        self._topic(0, None, None)
        before = -1
        for index, turn in enumerate(taken):
            kind = self._begin(before, turn)
            if kind is None and (not self.kinds or self._is_full()):
                kind = PLAIN
            if kind:
                self._open(kind)
            self._block_topic(before, turn)
            if turn.mention.how == WITHOUT_NAME:
                self._add(turn.start, f"{UNNAMED} {write_clock(self.turns.words[turn.start].start)}", None)
            else:
                entry = self.naming.entry(turn.mention)
                self._add(turn.start, self.naming.name(entry, turn.mention), entry)
            before = turn.mention.last
            self._add_other_sets(turn, taken[index + 1].start if index + 1 < len(taken) else len(self.turns.texts))
        if (wrap := goodbye(self.turns, before)) is not None:
            self._topic(wrap, None, None)
        self._add_unnamed_blocks()
        return self._parts(), tuple(self.topics)

    def _parts(self) -> tuple[Part, ...]:
        kinds = [resized(kind, len(subjects)) for kind, subjects in zip(self.kinds, self.subjects, strict=True)]
        counts: Counter[BlockKind] = Counter()
        parts = []
        for kind, subjects in zip(kinds, self.subjects, strict=True):
            counts[kind] += 1
            name = f"{kind.value} {counts[kind]}" if kinds.count(kind) > 1 else kind.value
            parts.append(Part(name, kind, tuple(subjects)))
        return tuple(parts)

    def _begin(self, before: int, turn: Turn) -> BlockKind | None:
        """Return the kind of the block that begins with a turn, None where the one before goes on."""
        call = self._call(before, turn)
        return call.kind if call else None

    def _block_topic(self, before: int, turn: Turn) -> None:
        """Add a turn to the block where it begins clearly before its first exercise."""
        call = self._call(before, turn)
        if call and self._time(turn.start) - self._time(call.start) > _SOON:
            self._topic(call.start, len(self.kinds) - 1, None)

    def _call(self, before: int, turn: Turn) -> Call | None:
        """Return the announcement that leads to a turn, after the turn before it and near enough.

        A sentence that begins in the middle of a stretch, after talk of rounds and moves, is the first of a block.
        """
        last = turn.mention.last + 8
        stretch = self.turns.after_pause(turn.start)
        near = [
            one
            for one in self.calls
            if before < one.word <= last
            and 0 <= turn.start - one.start < _LEADS
            and (self.turns.after_pause(one.word) > before or one.word >= stretch)
        ]
        if near:
            return next(one for one in near if one.start >= self.turns.after_pause(near[-1].start))
        pause = self.turns.after_pause(turn.start)
        apart = self._time(turn.start) - self._time(pause) > _SOON
        implied = before < pause < turn.start and apart and framed(self.turns, pause, turn.start)
        return Call(PLAIN, pause, pause) if implied else None

    def _add_other_sets(self, turn: Turn, until: int) -> None:
        """Add a block for other sets of the exercise that is talked of, where they are announced without its name."""
        begun = self._time(turn.start)
        for call in self.again:
            if turn.mention.last < call.start and call.word < until - 1 and self._time(call.start) - begun >= _AGAIN:
                same = self.subjects[-1][-1]
                self._open(PLAIN)
                self._add(call.start, same.name, same.entry)
                begun = self._time(call.start)

    def _add_unnamed_blocks(self) -> None:
        """Add the turns to blocks whose exercises nobody names, where rounds or rests are said."""
        for call in self.calls:
            known = any(abs(self._time(call.start) - float(topic.time)) < 2 * _SOON for topic in self.topics)
            at_pause = call.start == self.turns.after_pause(call.word)
            if at_pause and not known and self.turns.is_framed(call.start, call.word + _FRAMED):
                part = next((topic.part for topic in self.topics if topic.word > call.start), None)
                self._topic(call.start, part, None)
                self.topics.sort(key=lambda topic: topic.word)

    def _is_full(self) -> bool:
        form = form_of(self.kinds[-1])
        most = form.heard or form.most
        return most is not None and len(self.subjects[-1]) >= most

    def _open(self, kind: BlockKind) -> None:
        self.kinds.append(kind)
        self.subjects.append([])

    def _add(self, word: int, name: str, entry: Entry | None) -> None:
        taken = {subject.id for subjects in self.subjects for subject in subjects}
        base = re.sub(r"[^a-z0-9]+", "-", plain(name)).strip("-")
        id_ = next(one for one in (base, *(f"{base}-{n}" for n in range(2, len(taken) + 3))) if one not in taken)
        self.subjects[-1].append(Subject(id_, name, entry))
        self._topic(word, len(self.kinds) - 1, len(self.subjects[-1]) - 1, name)

    def _topic(self, word: int, part: int | None, subject: int | None, name: str = "") -> None:
        time = self.turns.words[word].start if word else self.turns.words[0].start * 0
        if self.topics and self.topics[-1].word == word:  # nothing is said between the two
            self.topics.pop()
        self.topics.append(Topic(word, time, part, subject, name))

    def _time(self, word: int) -> float:
        return float(self.turns.words[word].start)
