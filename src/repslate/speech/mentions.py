"""Where exercises are named in talk: whole names, their ends ("the swings"), and what a machine misheard for them.

Machine-made subtitles split and join words ("kettle bells wings") and write others that sound alike ("dead book"), so
words are compared run together, by letters and by sound. Stands before topics.py, which asks which mention counts.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from repslate.model.library import Library
from repslate.model.names import plain, words as name_words
from repslate.speech.words import Word

_LONGEST = 8  # words of a name as said, split ones counted apart
_ALIKE = 0.78  # of letters or of sounds that two spellings must share (tried on labelled talk)
_ALIKE_SHORT = 0.85  # … of short ones
_SOUNDS_ALIKE = 0.75  # … of two that sound the same
_GAIN = 4  # letters that a mis-hearing must explain beyond the whole name in it
_SHORTEST = 7  # letters of a run that may be a mis-hearing

_HEADS_ALIKE = 0.6
_SMALL = frozenset(
    "for to so at are we'll we i you it and or is in of with that this they he she on as be do did not have has from if but"
    " my his her an keep into then till now one two three go goes don't no not no so once just get got there here like".split()
)
#: Words that are said of every body and thing: they are not misheard for the last word of a name.
_PLAIN = frozenset("back hips foot feet knee knees hand hands head heel heels chest side sides far first three".split())
_LEFT_OUT = frozenset({"the", "an"})  # within names: "march on the spot", "push the sled"

#: Ends of names that are said for the whole ("the swings"), where a plan has one such exercise.
_HEADS = frozenset(
    "press row curl fly plank squat crunch dip swing lunge deadlift thrust shrug raise pulldown pushdown pullup pushup"
    " situp stepup bridge carry walk crawl stretch extension rotation hold jump clean snatch thruster burpee twist kickback"
    " pullover pose slide march circle climber jack bug dog rope sled bike rower sprint skip skater".split()
)
_LETTERS = {"why": "y", "wise": "y", "tee": "t", "tea": "t", "eye": "i", "ex": "x", "vee": "v", "dub": "w"}


@dataclass(frozen=True, slots=True)
class Mention:
    """An exercise named from the word `first` to the word `last`.

    `names` are the keys it may mean (one where it is clear), `how` is "" for a whole name, "end" for the end of one,
    "sound" for what was likely misheard. `said` is the name as the index has it, `likeness` from 0 to 1.
    """

    first: int
    last: int
    names: tuple[str, ...]
    how: str
    said: str
    likeness: float = 1.0


@dataclass(frozen=True, slots=True)
class _Name:
    key: str
    shown: str
    tokens: tuple[str, ...]
    joined: str
    sound: str


class Names:
    """An index of names, made once: of the whole library, or of the exercises of one plan."""

    def __init__(self, named: Iterable[tuple[str, str]], *, ends: bool) -> None:
        """`named` are (key, name) pairs; with `ends` the ends of names are looked for too."""
        self._whole: dict[str, dict[str, str]] = defaultdict(dict)
        self._sounds: dict[str, list[_Name]] = defaultdict(list)
        self._tokens: dict[str, list[tuple[_Name, int]]] = defaultdict(list)
        self._ends: dict[str, dict[str, str]] = defaultdict(dict)
        loose: list[tuple[str, _Name]] = []
        for key, shown in named:
            tokens = name_words(plain(shown))
            name = _Name(key, shown, tokens, "".join(tokens), _sound("".join(tokens)))
            for run in _variants(tokens):
                self._whole[run].setdefault(key, shown)
            if bare := _without_kit(tokens):
                loose.append((bare, name))
            if len(name.joined) >= _SHORTEST and name.joined.isalpha():
                self._sounds[name.sound].append(name)
                for place in {0, len(tokens) - 1}:
                    self._tokens[tokens[place]].append((name, place))
            if ends:
                self._add_ends(name)
        for run, name in [pair for pair in loose if pair[0] not in self._whole]:
            self._whole[run].setdefault(name.key, name.shown)

    def _add_ends(self, name: _Name) -> None:
        for start in range(1, len(name.tokens)):
            end = name.tokens[start:]
            if end[-1] in _HEADS:
                self._ends["".join(end)].setdefault(name.key, name.shown)

    def find(self, words: Sequence[Word]) -> tuple[Mention, ...]:
        """Return every mention in order; of those that overlap the surer and longer one counts."""
        steps = list(self._steps(words))
        whole = _apart(self._exact(steps, self._whole, ""), ())
        alike = [one for one in self._alike(steps) if _gains(one, whole, steps)]
        sure = _apart([*whole, *alike], ())
        found = [*sure, *_apart(self._exact(steps, self._ends, "end"), sure)]
        return tuple(
            Mention(steps[one.first].first, steps[one.last].last, one.names, one.how, one.said, one.likeness)
            for one in sorted(found, key=lambda one: one.first)
        )

    def _steps(self, words: Sequence[Word]) -> Iterator[_Step]:
        """Yield the words as names have them: "kettle bell" is one, "one arm" is "single arm", articles are left out."""
        at = 0
        while at < len(words):
            text = words[at].text
            after = words[at + 1].text if at + 1 < len(words) and not words[at].ends else ""
            if text in _LEFT_OUT and not words[at].ends:
                at += 1
                continue
            if text in ("one", "1") and _token(after) in _LIMBS:
                yield _Step("single", at, at, False)
                at += 1
                continue
            joined = _token(text + after) if after else ""
            if joined in self._tokens and _token(text) + _token(after) != "" and len(joined) > _SHORT_WORD:
                yield _Step(joined, at, at + 1, words[at + 1].ends)
                at += 2
                continue
            yield _Step(_token(text), at, at, words[at].ends)
            at += 1

    def _exact(
        self, steps: Sequence[_Step], names: Mapping[str, Mapping[str, str]], how: str
    ) -> Iterator[Mention]:
        for first in range(len(steps)):
            for last, run in _runs(steps, first):
                if keys := names.get(run):
                    yield Mention(first, last, tuple(keys), how, next(iter(keys.values())))

    def _alike(self, steps: Sequence[_Step]) -> Iterator[Mention]:
        """Yield what sounds like a name or shares all but a little with one that has a word of it."""
        for first in range(len(steps)):
            for last, run in _runs(steps, first, longest=4):
                if steps[last].token in _SMALL or steps[first].token in _SMALL or len(run) < _SHORTEST - 1:
                    continue
                if names := self._sounds.get(_sound(run)):
                    near = [one for one in names if _likeness(run, one.joined) > _SOUNDS_ALIKE]
                    if near:
                        yield Mention(first, last, tuple({one.key: 0 for one in near}), "sound", near[0].shown, 0.9)
            for name, place in self._tokens.get(steps[first].token, ()):
                if best := _anchored(steps, first, name, place):
                    yield best


def _variants(tokens: tuple[str, ...]) -> Iterator[str]:
    """Yield the ways a name is said, run together: as it is, "press-up" for push-up, two words the other way round."""
    yield "".join(tokens)
    if "pushup" in tokens:
        yield "".join(tokens).replace("pushup", "pressup")
    if len(tokens) == 2 and tokens[1] in _MOVED:
        yield tokens[1] + tokens[0]


def _without_kit(tokens: tuple[str, ...]) -> str:
    """Return a name of three words or more without its kit, "" where it names none: "floor press"."""
    left = tuple(token for token in tokens if token not in _KIT)
    return "".join(left) if 2 <= len(left) < len(tokens) else ""


_KIT = frozenset("dumbbell barbell kettlebell cable band landmine".split())
_MOVED = frozenset("push pull drag carry throw slam flip swing".split())  # "push the sled" is the sled push


@dataclass(frozen=True, slots=True)
class _Step:
    """A word of a name as said: the words `first` to `last`; `ends` as in Word."""

    token: str
    first: int
    last: int
    ends: bool


_LIMBS = frozenset({"arm", "leg", "hand"})
_SHORT_WORD = 6  # letters: shorter compounds are too often two words


def _may_be(said: Sequence[str], name: Sequence[str]) -> bool:
    """Tell whether each word may be the one of the name as a machine heard it; where words are split, the last."""
    if said[-1] in _PLAIN and said[-1] != name[-1]:
        return False
    if len(said) != len(name):
        return _sounds_like(said[-1], name[-1])
    return all(map(_sounds_like, said, name))


@lru_cache(maxsize=65536)
def _sounds_like(one: str, two: str) -> bool:
    return one == two or _metaphone(one) == _metaphone(two) or _likeness(one, two) > _HEADS_ALIKE


def _apart(mentions: Iterable[Mention], beside: Iterable[Mention]) -> list[Mention]:
    """Return mentions of which none overlaps, the longer ones and whole names first; none over those `beside`."""
    taken = {word for one in beside for word in range(one.first, one.last + 1)}
    kept = []
    for one in sorted(mentions, key=lambda one: (one.first - one.last, one.how, -one.likeness, one.first)):
        span = range(one.first, one.last + 1)
        if taken.isdisjoint(span):
            taken.update(span)
            kept.append(one)
    return kept


def _gains(mention: Mention, whole: Sequence[Mention], steps: Sequence[_Step]) -> bool:
    """Tell whether what may be misheard explains clearly more letters than the whole names within it."""
    within = [one for one in whole if one.first <= mention.last and mention.first <= one.last]
    explained = mention.likeness * _letters(mention, steps)
    return all(explained - _letters(one, steps) >= _GAIN for one in within)


def _letters(mention: Mention, steps: Sequence[_Step]) -> int:
    return sum(len(step.token) for step in steps[mention.first : mention.last + 1])


def _runs(steps: Sequence[_Step], first: int, longest: int = _LONGEST) -> Iterator[tuple[int, str]]:
    """Yield the steps from `first` on run together, one more each time, within a breath."""
    run = ""
    for last in range(first, min(len(steps), first + longest)):
        if last > first and steps[last - 1].ends:
            return
        run += steps[last].token
        yield last, run


def _anchored(steps: Sequence[_Step], at: int, name: _Name, place: int) -> Mention | None:
    """Return the run from or to a shared word that is most like the name, None where none is enough."""
    best: tuple[float, int, int] | None = None
    for length in (len(name.tokens), len(name.tokens) + 1, len(name.tokens) - 1):
        first = at if place == 0 else at - length + 1
        last = first + length - 1
        if first < 0 or last >= len(steps) or length < 2:
            continue
        said = [step.token for step in steps[first : last + 1]]
        if abs(sum(map(len, said)) - len(name.joined)) > 3 or not _may_be(said, name.tokens):
            continue
        if any(step.ends for step in steps[first:last]) or not _SMALL.isdisjoint(said):
            continue
        like = _likeness("".join(said), name.joined)
        if best is None or like > best[0]:
            best = like, first, last
    if best is None or best[0] < (_ALIKE if len(name.joined) > 10 else _ALIKE_SHORT) or best[0] == 1:
        return None
    return Mention(best[1], best[2], (name.key,), "sound", name.shown, best[0])


@lru_cache(maxsize=65536)
def _likeness(one: str, two: str) -> float:
    """Return how much two runs of letters share, by letters or by sound, whichever is more."""
    from rapidfuzz.distance import OSA

    letters: float = OSA.normalized_similarity(one, two)
    if letters < 0.5:
        return 0.0
    sounds: float = OSA.normalized_similarity(_metaphone(one), _metaphone(two))
    return (letters + max(letters, sounds)) / 2


@lru_cache(maxsize=65536)
def _metaphone(run: str) -> str:
    from jellyfish import metaphone

    return str(metaphone(run)).replace(" ", "")


def _sound(run: str) -> str:
    return _metaphone(run).removesuffix("S")


@lru_cache(maxsize=8192)
def _token(text: str) -> str:
    """Return a spoken word as names have it: singular, short forms written out, letters for their names."""
    said = _LETTERS.get(text, text)
    return "".join(name_words(plain(said))) or said
