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
from repslate.speech.plan import Part, Subject, Topic
from repslate.speech.topics import Turn, Turns
from repslate.speech.words import Word

_ENOUGH = 3.0  # weight of a mention that turns the talk (tried on labelled talk)
_ENOUGH_AGAIN = 5.0  # … to an exercise that was talked of before
_SURE = 5.5  # … of the first after the greeting
_HELLO = 40  # words of a greeting at the least
_AGAIN = 60  # seconds from which a second turn to an exercise is a block of its own
_SOON = 5  # seconds within which a block and its first exercise begin together
_ANNOUNCED_FOR = 150  # seconds
_FRAMED = 60  # words after a name in which the rounds of its block are said
_CALLED_WITHIN = 25  # words from the beginning of its sentence
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
_KIT = ("kettlebell", "dumbbell", "barbell", "cable", "band", "machine", "landmine", "sandbag", "bodyweight")
_KIT_WORDS = {
    "kettlebell": "kettlebell", "kettlebells": "kettlebell", "kettle": "kettlebell", "dumbbell": "dumbbell",
    "dumbbells": "dumbbell", "dumb": "dumbbell", "barbell": "barbell", "bar": "barbell", "cable": "cable",
    "cables": "cable", "band": "band", "bands": "band", "machine": "machine", "landmine": "landmine", "sandbag": "sandbag",
    "rope": "cable", "pulley": "cable", "pulleys": "cable", "stack": "cable",
}  # fmt: skip
_WORK = frozenset({"sets", "reps", "seconds", "metres"})
_FRAMES = frozenset({"rounds", "rest_s"})
_INTRO = 260  # words of a greeting that may say what is used all through


_PAST = frozenset("that's done was were last over bag finished week month previous did half third some those".split())


@dataclass(frozen=True, slots=True)
class _Call:
    """The announcement of a block: its kind, the word it stands at and where its sentence begins."""

    kind: BlockKind
    word: int
    start: int


def names_of(library: Library) -> Names:
    """Return the index of all names of a library; takes about 30 ms."""
    named = ((entry.name, name) for entry in library.entries.values() for name in (entry.name, *entry.aliases))
    return Names(named, ends=False)


def names_in(plan: Sequence[Part]) -> Names:
    """Return the index of the names of a plan's exercises: as written, as the library has them, and their ends."""
    named = [
        (subject.id, name)
        for part in plan
        for subject in part.subjects
        for name in (subject.name, *((subject.entry.name, *subject.entry.aliases) if subject.entry else ()))
    ]
    return Names(named, ends=True)


def discover(
    words: Sequence[Word], library: Library, said: Sequence[Figure]
) -> tuple[tuple[Part, ...], tuple[Topic, ...]]:
    """Return the blocks and exercises that are talked through, and the turns to them, from the talk alone.

    `said` are the figures heard in the words: work tells that an exercise is done, rounds and rests that a block begins.
    """
    if not words:
        return (), ()
    turns = Turns(words, [one.first for one in said if one.field in _WORK])
    frames = [one.first for one in said if one.field in _FRAMES]
    calls = list(_calls(turns))
    weighed = turns.weigh(names_of(library).find(words))
    begins = _begins(turns, weighed, calls)
    taken = list(_taken(turns, [one for one in weighed if one.start >= begins], calls, frames))
    return _Gathered(turns, [one for one in calls if one.start >= begins], taken, frames, library).parts_and_topics()


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


def _named_in_order(words: Sequence[Word], plan: Sequence[Part], said: Sequence[Figure]) -> Iterator[Topic]:
    """Yield a turn to each exercise of the plan where it is named with most weight after the one before it."""
    turns = Turns(words, [one.first for one in said if one.field in _WORK])
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
        around = {*turns.texts[max(0, at - 3) : at], *turns.texts[at + 1 : at + 5]} - {"done"}
        start = turns.sentence(at)
        if not around & _PAST and at - start <= _CALLED_WITHIN:
            yield _Call(found[0], at, start)
        at += len(found[1])


def _taken(turns: Turns, weighed: Sequence[Turn], calls: Sequence[_Call], frames: Sequence[int]) -> Iterator[Turn]:
    """Yield the mentions that turn the talk, one exercise after the other."""
    kept: list[Turn] = []
    for turn in weighed:
        if not _is_turn(turn, calls, kept) or _is_announced(turn, weighed, turns, frames):
            continue
        known = [one for one in kept if one.mention.names[0] == turn.mention.names[0]]
        if known and _is_weak(known[-1]) and not _is_weak(turn) and turn.score > known[-1].score:
            kept.remove(known[-1])  # the first was in passing
        elif known and not _is_again(turn, known[-1], turns):
            continue
        if kept and _seconds(turns, kept[-1], turn) < _SOON:
            if _is_weak(kept[-1]) and not _is_weak(turn) and turn.score > kept[-1].score - 1:
                kept[-1] = turn
            continue
        kept.append(turn)
    yield from kept


def _is_announced(turn: Turn, weighed: Sequence[Turn], turns: Turns, frames: Sequence[int]) -> bool:
    """Tell whether a name without a dose only announces what is turned to, with more weight, soon after.

    In the announcement of a block its rounds or rest come before any dose.
    """
    last = turn.mention.last
    framed = next((frame for frame in frames if last < frame < last + _FRAMED), None)
    if framed is not None and not turns.is_dosed(last, framed - last):
        return any(
            one.mention.names[0] == turn.mention.names[0]
            and one.score >= turn.score
            and one.start > framed
            and _seconds(turns, turn, one) < _ANNOUNCED_FOR
            for one in weighed
        )
    if turn.told >= 3:
        return False
    return any(
        one.mention.names[0] == turn.mention.names[0]
        and one.score > turn.score + 0.4
        and one.start > turn.mention.last
        and _seconds(turns, turn, one) < _ANNOUNCED_FOR
        and not turns.is_dosed(turn.mention.last, one.start - turn.mention.last)
        for one in weighed
    )


def _is_weak(turn: Turn) -> bool:
    """Tell whether a mention is one word, or likely misheard: a whole name beside it is the one that is meant."""
    return turn.mention.first == turn.mention.last or turn.mention.how == "sound"


def _seconds(turns: Turns, one: Turn, two: Turn) -> float:
    return float(turns.words[two.start].start - turns.words[one.start].start)


def _begins(turns: Turns, weighed: Sequence[Turn], calls: Sequence[_Call]) -> int:
    """Return the word at which the greeting ends: where the warm-up is announced, else at the first sure turn."""
    warm = next((call.start for call in calls if call.kind is BlockKind.WARM_UP), len(turns.texts))
    sure = (
        turn.start
        for turn in weighed
        if turn.start > _HELLO and (turn.score >= _SURE or (turn.score >= _ENOUGH + 0.5 and turn.told >= 3))
        or (turn.score >= _ENOUGH + 1 and turns.is_dosed(turn.mention.last, 40))
    )
    first = next(sure, len(turns.texts))
    return warm if warm < len(turns.texts) // 4 else min(first, warm)


def _is_turn(turn: Turn, calls: Sequence[_Call], kept: Sequence[Turn]) -> bool:
    """Tell whether a mention weighs enough; the first after a block was announced needs less."""
    since = kept[-1].mention.last if kept else -1
    announced = any(since < call.word < turn.mention.first and turn.start - call.start < _LEADS for call in calls)
    return turn.score >= _ENOUGH + (0.5 if turn.mention.how == "sound" else 0) - (1.0 if announced else 0)


def _is_again(turn: Turn, known: Turn, turns: Turns) -> bool:
    """Tell whether a second turn to an exercise is to other sets of it (the working sets after the ramp-up)."""
    said = set(turns.texts[turn.start : turn.mention.last + 20])
    return turn.score >= _ENOUGH_AGAIN and _seconds(turns, known, turn) >= _AGAIN and bool(said & {"working", "sets", "real"})


class _Gathered:
    """Puts turns and announcements together to blocks."""

    def __init__(self, turns: Turns, calls: Sequence[_Call], taken: Sequence[Turn], frames: Sequence[int], library: Library) -> None:
        self.turns, self.calls, self.taken, self.frames, self.library = turns, calls, taken, frames, library
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
            framed = any(call.start <= frame < call.word + _FRAMED for frame in self.frames)
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
            return near[0]
        pause = self.turns.after_pause(turn.start)
        framed = any(pause <= frame < turn.mention.first for frame in self.frames)
        return _Call(BlockKind.STRAIGHT, pause, pause) if framed and before < pause < turn.start else None

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
        entry = _entry(self.library, turn.mention, self.turns)
        name = _named(entry, turn.mention, self.turns)
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
        """Return where the goodbye begins: the first stretch after the last exercise that takes leave."""
        starts = [end + 1 for end in self.turns.ends if end + 1 > after + 8 and end + 1 < len(self.turns.texts)]
        for start in starts:
            said = self.turns.texts[start : start + 18]
            if any(tuple(said[k : k + len(one)]) == one for one in _GOODBYES for k in range(len(said))):
                return start
        return None


def _kind(kind: BlockKind, exercises: int) -> BlockKind:
    """Return the kind of a block by its size where it was announced as one of together, of another size."""
    together = {2: BlockKind.SUPERSET, 3: BlockKind.TRI_SET}
    if kind in (BlockKind.SUPERSET, BlockKind.TRI_SET):
        return BlockKind.STRAIGHT if exercises < 2 else together.get(exercises, BlockKind.GIANT_SET)
    return kind


# ---- what a drafted exercise is called


def _entry(library: Library, mention: Mention, turns: Turns) -> Entry:
    """Return the library's entry for a mention; the one with the kit in hand, or with none, where it has its own."""
    kit = _kit(turns, mention)
    able = [library.entries[name] for name in mention.names]
    entry = next((one for one in able if any(kit in item.split(" or ") for item in one.equipment)), able[0])
    for piece in (kit, "bodyweight" if _is_unloaded(turns, mention) else ""):
        match = library.find(f"{piece} {mention.said}") if piece else None
        if match and match.how in ("", "alias", "word order") and piece in name_words(plain(match.entry.name)):
            return match.entry
    words = mention.said.split()
    match = library.find(" ".join([*words[:-1], kit, words[-1]])) if kit and len(words) > 1 else None
    if match and match.how in ("", "alias") and kit in name_words(plain(match.entry.name)):
        return match.entry
    return entry


def _is_unloaded(turns: Turns, mention: Mention) -> bool:
    after = " ".join(turns.texts[mention.last + 1 : mention.last + 12])
    return any(phrase in after for phrase in ("hands on your hips", "hands on hips", "no weight", "body weight", "bodyweight"))


def _named(entry: Entry, mention: Mention, turns: Turns) -> str:
    """Return the name to write: the fullest name of the entry that fits what was said and the kit in hand.

    A full name of the trade that was said stays ("cable curl", "press-up"); short forms and nicknames get the
    library's name, with the kit in front where the library leaves the choice and a barbell would be meant without.
    """
    said = set(name_words(plain(mention.said)))
    kit = _kit(turns, mention)
    display = set(name_words(plain(entry.name)))
    wider = said | {kit} if kit and not said & set(_KIT) else said
    with_kit = [
        name for name in (entry.name, *entry.aliases) if wider != said and set(name_words(plain(name))) == wider
    ]
    if said == display:
        name = entry.name
    elif with_kit:
        name = with_kit[0]
    elif said > display or (said & set(_KIT) and len(said) >= len(display)):
        name = mention.said
    else:
        name = entry.name
    choices = [choice for item in entry.equipment for choice in item.split(" or ")]
    if choices[:1] == ["barbell"] and kit in choices and kit != "barbell" and not set(name_words(plain(name))) & set(_KIT):
        name = f"{kit} {name[:1].lower()}{name[1:]}"
    before, after = turns.texts[max(0, mention.first - 4) : mention.first], turns.texts[mention.last + 1 : mention.last + 5]
    breath = before + (after if {"with", "holding", "using"} & set(after[:2]) else [])
    if kit in choices and any(_KIT_WORDS.get(text) == kit for text in breath) and kit not in name_words(plain(name)):
        name = f"{kit} {name[:1].lower()}{name[1:]}"
    if "pressup" in "".join(turns.texts[mention.first : mention.last + 1]):
        name = re.sub("push-up", "press-up", name, flags=re.IGNORECASE)
    if _alternates(turns.texts[mention.last + 1 : mention.last + 8]):
        name = f"alternating {name[:1].lower()}{name[1:]}"
    return name[:1].upper() + name[1:]


def _alternates(after: Sequence[str]) -> bool:
    """Tell whether sides are to alternate, not whether they can."""
    return next((after[k - 1 : k] != ["can"] for k, text in enumerate(after) if text in ("alternate", "alternating")), False)


def _kit(turns: Turns, mention: Mention) -> str:
    """Return the piece of kit in hand: named near the mention, else the one that the greeting speaks of alone."""
    after = turns.texts[mention.last + 1 : mention.last + 14]
    held = {"with", "holding", "using"} & set(after[:2])
    around = after[:6] if held else turns.texts[max(0, mention.first - 12) : mention.last + 1] + after
    near = [_KIT_WORDS[text] for text in around if text in _KIT_WORDS]
    if near:
        return near[0]
    intro = [_KIT_WORDS[text] for text in turns.texts[:_INTRO] if text in _KIT_WORDS]
    return intro[0] if len(set(intro)) == 1 else ""
