"""A plan gathered from talk alone: which blocks and exercises are talked through, and where the talk turns to them.

Stands after topics.py, whose weighing of mentions it rests on; what it finds is used just like a written plan.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from repslate.cut.chapters import Chapter
from repslate.model.episode import BlockKind
from repslate.model.library import Entry, Library
from repslate.model.names import plain, words as name_words
from repslate.speech.figures import Figure
from repslate.speech.mentions import Mention, Names
from repslate.speech.naming import Naming, nicknames
from repslate.speech.plan import Part, Subject, Topic
from repslate.speech.topics import Turn, Turns
from repslate.speech.words import Word

_ENOUGH = 0.0  # weight of a mention that turns the talk (this and the next three were tried on labelled talk)
_ENOUGH_CALLED = -0.5  # … after a block was announced
_ENOUGH_AGAIN = -0.5  # … to an exercise that was talked of before
_SURE = 0.5  # … of the first after the greeting
_ABOUT = 1.5  # weight by which two turns may differ for the first to be meant
_HELLO = 40  # words of a greeting at the least
_AGAIN = 60  # seconds from which a second turn to an exercise is a block of its own
_SOON = 5  # seconds within which a block and its first exercise begin together
_ANNOUNCED_FOR = 150  # seconds
_SHORT_FOR = 90  # seconds in which one word is short for a name that ends with it
_FRAMED = 60  # words after a name in which the rounds of its block are said
_CALLED_WITHIN = 25  # words from the beginning of its sentence
_FAREWELL = 20  # words of a goodbye at the least
_LEADS = 110  # words between the announcement of a block and its first exercise

#: How blocks are announced (common practice, no source); the longer phrases first.
_ANNOUNCED: tuple[tuple[BlockKind, str], ...] = (
    (BlockKind.WARM_UP, "warm up|warm-up|get warm|warming up|get the motor|loosen up|wake everything up|limber up"),
    (BlockKind.COOL_DOWN, "cool down|cool it down|cool-down|stretch time|finish with a stretch|to stretch it out|let's stretch|quick stretch|long holds|wind down"),
    (BlockKind.TRI_SET, "tri set|tri sets|triset|tri-set|tri-sets|giant set|giant sets"),
    (BlockKind.SUPERSET, "superset|supersets|super set|super sets|superset time|pairing|pairing things up|pairing stuff up|next pair|last pair|first pair|pair things up|back to back"),
    (BlockKind.EVERY_MINUTE, "every minute|emom|on the minute"),
    (BlockKind.CIRCUIT, "circuit|round robin|complex|medley|flow part|flow|core round"),
    (BlockKind.FINISHER, "finisher|to finish we|burnout|last thing|one last thing|something nasty"),
    (BlockKind.STRAIGHT, "straight sets|main lift|main event|working sets|main course|the big lift|money lift|proper work|ramp up|building up|build up sets"),
)  # fmt: skip
_PHRASES: dict[str, list[tuple[BlockKind, tuple[str, ...]]]] = {}
for _kind_of, _text in _ANNOUNCED:
    for _phrase in _text.split("|"):
        _PHRASES.setdefault(_phrase.split()[0], []).append((_kind_of, tuple(_phrase.split())))
_GOODBYES = tuple(
    tuple(phrase.split())
    for phrase in (
        "that's your lot|that is your lot|that's a wrap|you're done|you are done|you're finished|that's us|done and dusted"
        "|see you next|thank you for|thanks for|thanks a million|catch y'all|catch you|that's everything|that is everything"
        "|that's the lot|that's it for|well done|that's that|that is that|recap|you finished|that's the session|that's you|take care|that's all"
        "|that's pull day|that's today|that is you|we're done|we are done|that's it folks|nice work|bye"
    ).split("|")
)
_WORK = frozenset({"sets", "reps", "seconds", "metres"})
_FRAMES = frozenset({"rounds", "rest_s"})


_PAST = frozenset(
    "that's done was were last over bag finished week month previous did half third some those back again same".split()
)


@dataclass(frozen=True, slots=True)
class _Call:
    """The announcement of a block: its kind, the word it stands at and where its sentence begins."""

    kind: BlockKind
    word: int
    start: int


def names_of(library: Library) -> Names:
    """Return the index of all names of a library; takes about 100 ms."""
    entries = library.entries.values()
    named = ((entry.name, name) for entry in entries for name in (entry.name, *entry.aliases))
    return Names(named, ((entry.name, name) for entry in entries for name in nicknames(entry.name)), ends=False)


def names_in(plan: Sequence[Part]) -> Names:
    """Return the index of the names of a plan's exercises: as written, as the library has them, and their ends."""
    subjects = [subject for part in plan for subject in part.subjects]
    named = (
        (subject.id, name)
        for subject in subjects
        for name in (subject.name, *((subject.entry.name, *subject.entry.aliases) if subject.entry else ()))
    )
    spoken = ((one.id, name) for one in subjects if one.entry for name in nicknames(one.entry.name))
    return Names(named, spoken, ends=True)


def discover(
    words: Sequence[Word], library: Library, said: Sequence[Figure]
) -> tuple[tuple[Part, ...], tuple[Topic, ...]]:
    """Return the blocks and exercises that are talked through, and the turns to them, from the talk alone.

    `said` are the figures heard in the words: work tells that an exercise is done, rounds and rests that a block begins.
    """
    if not words:
        return (), ()
    turns = _turns(words, said)
    calls = list(_calls(turns))
    weighed = turns.weigh(names_of(library).find(words))
    begins = _begins(turns, weighed, calls)
    taken = _taken(turns, [one for one in weighed if one.start >= begins], calls)
    return _Gathered(turns, [one for one in calls if one.start >= begins], taken, library).parts_and_topics()


def follow(
    words: Sequence[Word], plan: Sequence[Part], chapters: Sequence[Chapter], said: Sequence[Figure], library: Library
) -> tuple[Topic, ...]:
    """Return the turns of talk about a written plan: where its chapters begin, if it has any, else where it is named."""
    where = {subject.id: (p, s) for p, part in enumerate(plan) for s, subject in enumerate(part.subjects)}
    topics = []
    for chapter in sorted(chapters, key=lambda one: one.start):
        first = next((k for k, word in enumerate(words) if word.start >= chapter.start), len(words))
        part, subject = where.get(chapter.exercise or "", (chapter.block, None))
        topics.append(Topic(first, chapter.start, part, subject, chapter.title))
    return tuple(topics) if topics else tuple(_named_in_order(words, plan, said))


def _turns(words: Sequence[Word], said: Sequence[Figure]) -> Turns:
    doses = [one.first for one in said if one.field in _WORK]
    return Turns(words, doses, [one.first for one in said if one.field in _FRAMES])


def _named_in_order(words: Sequence[Word], plan: Sequence[Part], said: Sequence[Figure]) -> Iterator[Topic]:
    """Yield a turn to each exercise of the plan where it is named with most weight after the one before it."""
    turns = _turns(words, said)
    weighed = turns.weigh(names_in(plan).find(words))
    before = -1
    for p, part in enumerate(plan):
        for s, subject in enumerate(part.subjects):
            able = [one for one in weighed if subject.id in one.mention.names and one.start > before]
            likely = [one for one in able if one.score >= _ENOUGH - 1]
            if likely:
                turn = likely[0]
                pause = turns.after_pause(turn.start)
                if s == 0 and before < pause < turn.start and len(part.subjects) > 1:
                    yield Topic(pause, words[pause].start, p, None, part.name)
                yield Topic(turn.start, words[turn.start].start, p, s, subject.name)
                before = turn.mention.last


def _calls(turns: Turns) -> Iterator[_Call]:
    """Yield where blocks are announced, in order; of phrases that overlap the first listed."""
    at = 0
    while at < len(turns.texts):
        able = _PHRASES.get(turns.texts[at], ())
        found = next(((kind, one) for kind, one in able if tuple(turns.texts[at : at + len(one)]) == one), None)
        if found is None:
            at += 1
            continue
        pause = turns.after_pause(at)
        before, after = turns.texts[max(pause, at - 3) : at], turns.texts[at + 1 : at + 5]
        start = pause if at - pause <= _CALLED_WITHIN else turns.sentence(at)
        if (
            _PAST.isdisjoint(before)
            and _PAST.isdisjoint({*after} - {"back", "done", "again", "same"})
            and at - start <= _CALLED_WITHIN
        ):
            yield _Call(found[0], at, start)
        at += len(found[1])


def _taken(turns: Turns, weighed: Sequence[Turn], calls: Sequence[_Call]) -> list[Turn]:
    """Return the mentions that turn the talk, one exercise after the other: the weightiest of those that exclude another."""
    able = [turn for turn in weighed if turn.score >= (_ENOUGH_CALLED if _is_called(turn, calls) else _ENOUGH)]
    able = [turn for turn in able if not _is_announced(turn, able, turns)]
    kept: list[Turn] = []
    for turn in sorted(able, key=lambda one: (-one.score, one.start)):
        near = next((one for one in kept if _excludes(one, turn, turns)), None)
        if near is None:
            kept.append(turn)
        elif _is_first_of(turn, near, turns):
            kept[kept.index(near)] = turn
    return sorted(kept, key=lambda one: one.start)


def _is_first_of(turn: Turn, kept: Turn, turns: Turns) -> bool:
    """Tell whether of two names in one sentence the first is meant: "step jacks, so a jumping jack but …"."""
    whole = turn.mention.first < turn.mention.last and turn.mention.how != "sound"
    together = abs(_seconds(turns, kept, turn)) < _SOON and turn.mention.names != kept.mention.names
    return whole and together and turn.mention.first < kept.mention.first and turn.score > kept.score - _ABOUT


def _is_announced(turn: Turn, able: Sequence[Turn], turns: Turns) -> bool:
    """Tell whether a name is only announced, for it is turned to soon after; the first that is dosed or told counts.

    In the announcement of a block its rounds or rest come before any dose.
    """
    key, last = turn.mention.names[0], turn.mention.last
    same = [one for one in able if one.mention.names[0] == key and one is not turn]
    if earlier := next(
        (one for one in same if one.start < turn.start and _is_done(one) and one.score > turn.score - _ABOUT), None
    ):
        return not _is_again(turn, earlier, turns)
    framed = next((frame for frame in turns.frames if last < frame < last + _FRAMED), None)
    bare = turn.told < 3 or framed is not None
    until = framed if framed is not None else len(turns.texts)
    return bare and any(
        one.start > turn.start
        and one.score > turn.score - (0 if framed is None else 9)
        and _seconds(turns, turn, one) < _ANNOUNCED_FOR
        and not turns.is_dosed(last, min(one.start, until) - last)
        for one in same
    )


def _is_done(turn: Turn) -> bool:
    """Tell whether a movement is told or dosed where it is named, not only listed."""
    return "another soon" not in turn.reasons and (turn.told >= 3 or "dosed" in turn.reasons)


def _is_called(turn: Turn, calls: Sequence[_Call]) -> bool:
    return turn.mention.how != "sound" and any(
        call.word < turn.mention.first and turn.start - call.start < _LEADS for call in calls
    )


def _excludes(kept: Turn, turn: Turn, turns: Turns) -> bool:
    """Tell whether a turn that is sure leaves no room for another: too near, or to the same exercise."""
    if abs(_seconds(turns, kept, turn)) < _SOON:
        return True
    if kept.mention.names[0] == turn.mention.names[0]:
        first, then = sorted((kept, turn), key=lambda one: one.start)
        return not _is_again(then, first, turns)
    one_word = turn.mention.first == turn.mention.last and abs(_seconds(turns, kept, turn)) < _SHORT_FOR
    return one_word and set(name_words(plain(turn.mention.said))) <= set(name_words(plain(kept.mention.said)))


def _seconds(turns: Turns, one: Turn, two: Turn) -> float:
    return float(turns.words[two.start].start - turns.words[one.start].start)


def _begins(turns: Turns, weighed: Sequence[Turn], calls: Sequence[_Call]) -> int:
    """Return the word at which the greeting ends: where the warm-up is announced, else at the first sure turn."""
    warm = next((call.start for call in calls if call.kind is BlockKind.WARM_UP), len(turns.texts))
    sure = (turn.start for turn in weighed if turn.start > _HELLO and turn.score >= _SURE)
    first = next(sure, len(turns.texts))
    return warm if warm < len(turns.texts) // 4 else min(first, warm)


def _is_again(turn: Turn, known: Turn, turns: Turns) -> bool:
    """Tell whether a second turn to an exercise is to other sets of it (the working sets after the ramp-up)."""
    said = set(turns.texts[turn.start : turn.mention.last + 20])
    return (
        turn.score >= _ENOUGH_AGAIN
        and _seconds(turns, known, turn) >= _AGAIN
        and bool(said & {"working", "sets", "real", "proper", "properly"})
    )


class _Gathered:
    """Puts turns and announcements together to blocks."""

    def __init__(self, turns: Turns, calls: Sequence[_Call], taken: Sequence[Turn], library: Library) -> None:
        self.turns, self.calls, self.taken = turns, calls, taken
        self.naming = Naming(turns.texts, library)
        self.kinds: list[BlockKind] = []
        self.subjects: list[list[Subject]] = []
        self.topics: list[Topic] = []

    def parts_and_topics(self) -> tuple[tuple[Part, ...], tuple[Topic, ...]]:
        self._topic(0, None, None)
        before = -1
        for turn in self.taken:
            call = self._call(before, turn)
            if call:
                self._open(call.kind)
                if self._time(turn.start) - self._time(call.start) > _SOON:
                    self._topic(call.start, len(self.kinds) - 1, None)
            elif not self.kinds or self._is_full():
                self._open(BlockKind.STRAIGHT)
            self._add(turn)
            before = turn.mention.last
        if (wrap := self._goodbye(before)) is not None:
            self._topic(wrap, None, None)
        self._add_unnamed_blocks()
        counts: dict[BlockKind, int] = {}
        parts = []
        self.kinds = [_kind(kind, len(subjects)) for kind, subjects in zip(self.kinds, self.subjects, strict=True)]
        for kind, subjects in zip(self.kinds, self.subjects, strict=True):
            counts[kind] = counts.get(kind, 0) + 1
            many = self.kinds.count(kind) > 1
            parts.append(Part(f"{kind.value} {counts[kind]}" if many else kind.value, kind, tuple(subjects)))
        return tuple(parts), tuple(self.topics)

    def _add_unnamed_blocks(self) -> None:
        """Add the turns to blocks whose exercises nobody names, where rounds or rests are said."""
        for call in self.calls:
            known = any(abs(self._time(call.start) - float(topic.time)) < 2 * _SOON for topic in self.topics)
            framed = any(call.start <= frame < call.word + _FRAMED for frame in self.turns.frames)
            if framed and not known and call.start == self.turns.after_pause(call.word):
                self._topic(call.start, self._part_at(call.start), None)
        self.topics.sort(key=lambda topic: topic.word)

    def _part_at(self, word: int) -> int | None:
        """Return the block that is talked of next after a word."""
        return next((topic.part for topic in sorted(self.topics, key=lambda one: one.word) if topic.word > word), None)

    def _call(self, before: int, turn: Turn) -> _Call | None:
        """Return the announcement that leads to a turn: the first after the turn before it, near enough."""
        last = turn.mention.last + 8
        near = [one for one in self.calls if before < one.word <= last and 0 <= turn.start - one.start < _LEADS]
        if near:
            return next(one for one in near if one.start >= self.turns.after_pause(near[-1].start))
        pause = self.turns.after_pause(turn.start)
        apart = self._time(turn.start) - self._time(pause) > _SOON
        return _Call(BlockKind.STRAIGHT, pause, pause) if before < pause < turn.start and apart else None

    def _is_full(self) -> bool:
        most = {BlockKind.SUPERSET: 2, BlockKind.TRI_SET: 3, BlockKind.FINISHER: 1}.get(self.kinds[-1], 99)
        return len(self.subjects[-1]) >= most

    def _open(self, kind: BlockKind) -> None:
        if self.kinds and not self.subjects[-1]:
            self.kinds[-1] = kind
            return
        self.kinds.append(kind)
        self.subjects.append([])

    def _add(self, turn: Turn) -> None:
        entry = self.naming.entry(turn.mention)
        name = self.naming.name(entry, turn.mention)
        taken = {subject.id for subjects in self.subjects for subject in subjects}
        base = re.sub(r"[^a-z0-9]+", "-", plain(name)).strip("-")
        id_ = next(one for one in (base, *(f"{base}-{n}" for n in range(2, 99))) if one not in taken)
        self.subjects[-1].append(Subject(id_, name, entry))
        self._topic(turn.start, len(self.kinds) - 1, len(self.subjects[-1]) - 1, name)

    def _topic(self, word: int, part: int | None, subject: int | None, name: str = "") -> None:
        time = self.turns.words[word].start if word else self.turns.words[0].start * 0
        self.topics.append(Topic(word, time, part, subject, name))

    def _time(self, word: int) -> float:
        return float(self.turns.words[word].start)

    def _goodbye(self, after: int) -> int | None:
        """Return where the goodbye begins: the first stretch after the last exercise that takes leave, else the last."""
        starts = [end + 1 for end in self.turns.ends if end + 1 > after + 8 and end + 1 < len(self.turns.texts)]
        for start in starts:
            said = self.turns.texts[start : start + 18]
            if any(tuple(said[k : k + len(one)]) == one for one in _GOODBYES for k in range(len(said))):
                return start
        return starts[-1] if starts and len(self.turns.texts) - starts[-1] >= _FAREWELL else None


def _kind(kind: BlockKind, exercises: int) -> BlockKind:
    """Return the kind of a block by its size where it was announced as one of together, of another size."""
    together = {2: BlockKind.SUPERSET, 3: BlockKind.TRI_SET}
    if kind in (BlockKind.SUPERSET, BlockKind.TRI_SET):
        return BlockKind.STRAIGHT if exercises < 2 else together.get(exercises, BlockKind.GIANT_SET)
    return kind
