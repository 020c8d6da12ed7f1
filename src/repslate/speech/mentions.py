"""Where exercises are named in talk: whole names, their ends ("the swings"), and what a machine misheard for them.

Machine-made subtitles split and join words ("kettle bells wings") and write others that sound alike ("dead book"),
so words are compared run together, by letters and by sound.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from repslate.model.names import Column, Index, plain, singulars
from repslate.model.names import words as name_words
from repslate.speech.phrases import listed
from repslate.speech.sounds import COMMON, Sounds, key, keys, likeness
from repslate.speech.words import Word

_LONGEST = 8  # words of a name as said, split ones counted apart
_LONGEST_MISHEARD = 6  # … of one that was misheard
_ALIKE = 0.72  # likeness that a mis-hearing must have (this and the next five were tried on labelled talk)
_ALIKE_SHORT = 0.68  # … of one that sounds the same but has few consonants
_ALIKE_WORD = 0.85  # … of one word
_ALIKE_STRANGE = 0.76  # … of one without a word that was heard right
_ALIKE_STRANGER = 0.8  # … where it is no entry's first name either
_ALIKE_REST = 0.5  # … without the words that were heard right
_ALIKE_SURELY = 0.9  # … of common words that sound the same ("pull part")
_COMMON_COSTS = 0.4  # likeness that common words among those that differ take away
_FURTHER = 0.04  # … more where it is no entry's first name
_ALIKE_REST_FURTHER = 0.57  # … where it is no entry's first name
_SAME = 0.05  # … more it is worth where it sounds the same
_AS_LIKELY = 0.03  # what two names may differ by and both be meant
_FEW = 4  # consonants
_SHORTEST = 6  # letters of a run that may be a mis-hearing
_COMMON = COMMON | frozenset(singulars(" ".join(COMMON)))
_LEFT_OUT = listed("mentions left out")  # within names: "march on the spot", "roll your shoulders"

_NEVER_ALONE = listed("mentions never alone")  # names when written, common words when said
#: Ends of names that are said for the whole ("the swings"), where a plan has one such exercise.
_HEADS = listed("mentions heads")
_LETTERS = {"why": "y", "wise": "y", "tee": "t", "tea": "t", "eye": "i", "ex": "x", "vee": "v", "dub": "w"}


@dataclass(frozen=True, slots=True)
class Mention:
    """An exercise named from the word `first` to the word `last`.

    `names` are the keys it may mean (one where it is clear), `how` is "" for a whole name, "end" for the end of one,
    "spoken" for what nobody would write ("push the sled"), "sound" for what was likely misheard. `said` is the name as
    the index has it, `likeness` goes from 0 to 1.
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
    parts: tuple[str, ...]  # as tokens, "pull up" in two
    is_first: bool  # the first name given for its key
    order: int

    @property
    def joined(self) -> str:
        return "".join(self.tokens)


class Names:
    """An index of names for talk, made once: of the whole library, or of the exercises of one plan."""

    def __init__(self, index: Index, spoken: Iterable[tuple[str, str]] = (), *, ends: bool) -> None:
        """`spoken` are (key, name) pairs of names that are only spoken, of which no mis-hearings are looked for.

        With `ends` the ends of names are looked for too.
        """
        turned, told = index.column(_turned), Index(spoken).whole
        self._spoken = {run: {**turned.get(run, {}), **told.get(run, {})} for run in (*turned, *told)}
        self._ends = index.ends(lambda end: end[-1] in _HEADS) if ends else {}
        self._sounds: Sounds[_Name] = Sounds()
        firsts = {name.key: name for name in reversed(index.names)}
        every = [
            _Name(one.key, one.shown, one.words, _parts(one.shown), firsts[one.key] is one, one.order)
            for one in index.names
        ]
        self._tokens = {token for name in every for token in name.tokens}
        # Words that names begin or end with, and what a machine splits off.
        self._heads = {"down", "up", *(word for one in every for word in (one.tokens[0], one.parts[0], one.parts[-1]))}
        for name in every:
            if name.joined.isalpha() and (len(name.tokens) > 1 or len(name.joined) >= _SHORTEST):
                self._add_sounds(name)
        written = index.column(_written)
        loose = index.column(lambda said: filter(None, ("".join(_without_kit(said)),)))
        self._whole = {**loose, **written}
        for name in every:
            if (bare := _without_kit(name.tokens)) and "".join(bare) not in written:
                self._add_sounds(_Name(name.key, name.shown, bare, bare, False, name.order))

    def _add_sounds(self, name: _Name) -> None:
        if name.tokens and name.tokens[-1] in _NEVER_ALONE:
            return  # what says little when it is heard says nothing when it may be misheard
        for sound in keys(name.tokens):
            self._sounds.add(sound, name)

    def find(self, words: Sequence[Word]) -> tuple[Mention, ...]:
        """Return every mention in order; of those that overlap the one that explains most counts."""
        steps = list(self._steps(words))
        whole = (*self._exact(steps, self._whole, "", self._spoken), *self._exact(steps, self._spoken, "spoken"))
        sure = _apart([*whole, *self._alike(steps)], (), steps)
        found = [*sure, *_apart(self._exact(steps, self._ends, "end"), sure, steps)]
        return tuple(
            Mention(steps[one.first].first, steps[one.last].last, one.names, one.how, one.said, one.likeness)
            for one in sorted(found, key=lambda one: one.first)
            if one.first < one.last or words[steps[one.first].first].text not in _NEVER_ALONE
        )

    def _steps(self, words: Sequence[Word]) -> Iterator[_Step]:
        """Yield the words as names have them: "kettle bell" is one, "one arm" is "single arm", articles are no part."""
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
                yield _Step(joined, at, at + 1, words[at + 1].ends or words[at + 1].breaks)
                at += 2
                continue
            yield _Step(_token(text), at, at, words[at].ends or words[at].breaks)
            at += 1

    def _exact(self, steps: Sequence[_Step], names: Column, how: str, also: Column | None = None) -> Iterator[Mention]:
        for first in range(len(steps)):
            for last, run in _runs(steps, first):
                if (keys_ := names.get(run)) and not _is_told(steps, first, last):
                    able = {**keys_, **(also or {}).get(run, {})}
                    yield Mention(first, last, tuple(able), how, next(iter(keys_.values())))

    def _alike(self, steps: Sequence[_Step]) -> Iterator[Mention]:
        """Yield runs of words that may have been misheard for a name."""
        idle = [step.token in _COMMON and step.token not in self._heads for step in steps]
        for first in range(len(steps)):
            for last, run in _runs(steps, first, longest=2 if idle[first] else _LONGEST_MISHEARD):
                if len(run) < _SHORTEST or (idle[last] and last - first > 1):
                    continue
                said = tuple(step.token for step in steps[first : last + 1])
                if _COMMON.issuperset(said):
                    continue
                if found := self._misheard(said):
                    like, shown = next(iter(found.values()))
                    yield Mention(first, last, tuple(found), "sound", shown, like)

    def _misheard(self, said: tuple[str, ...]) -> dict[str, tuple[float, str]]:
        """Return the names that words may have been misheard for: how alike, and the name, by their keys."""
        found: dict[str, tuple[float, int, float, str]] = {}
        run = "".join(said)
        for heard in keys(said):
            for name_key, name in self._sounds.find(heard):
                like, same = likeness(run, name.joined, heard, name_key), heard == name_key
                worth = like + (_SAME if same else 0)
                if like < _ALIKE_SHORT or (worth, -name.order) <= found.get(name.key, (0.0, 0, 0.0, ""))[:2]:
                    continue
                if like >= _least(said, heard, name_key, name) and _may_be(said, name, same):
                    found[name.key] = worth, -name.order, like, name.shown
        ranked = sorted(found.items(), key=lambda item: item[1], reverse=True)
        best = ranked[0][1][0] if ranked else 0.0
        return {name: (like, shown) for name, (worth, _, like, shown) in ranked if best - worth <= _AS_LIKELY}


def _least(said: tuple[str, ...], heard: str, name_key: str, name: _Name) -> float:
    """Return the likeness that words must have with a name to be heard as it."""
    same = heard == name_key
    least = _ALIKE_SHORT if same and len(heard) < _FEW else _ALIKE
    if len(said) == 1 or len(name.tokens) == 1:
        least = _ALIKE if len(said) > 1 and same else _ALIKE_WORD
    if set(said).isdisjoint(name.parts) and len(heard) >= _FEW:
        least = max(least, _ALIKE_STRANGE if name.is_first else _ALIKE_STRANGER)
    return least + (0 if name.is_first else _FURTHER)


def _may_be(said: tuple[str, ...], known: _Name, same: bool) -> bool:
    """Tell whether the words that differ may be misheard: alike, and not all of them common.

    Common words at the ends belong to the name, or it sounds the same with them only ("thrust us").
    """
    name, run = known.parts, "".join(known.parts)
    fit = (
        said[0] not in _COMMON or (len(said[0]) > 1 and run.startswith(said[0])),
        said[-1] not in _COMMON or (len(said[-1]) > 1 and run.endswith(said[-1])),
    )
    if not all(fits or (same and key((edge,))) for fits, edge in zip(fit, (said[0], said[-1]), strict=True)):
        return False
    whole = likeness("".join(said), run, key(said), key(name))
    said, name = _differing(said, name)
    if not said or not name or (_COMMON.issuperset(said) and not (same and whole > _ALIKE_SURELY)):
        return False
    like = likeness("".join(said), "".join(name), key(said), key(name))
    common = sum(len(word) for word in said if word in _COMMON) / sum(map(len, said))
    return like - (0 if same else _COMMON_COSTS * common) >= (_ALIKE_REST if known.is_first else _ALIKE_REST_FURTHER)


def _differing(said: tuple[str, ...], name: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return both without the words that they begin and end with alike."""
    while said and name and said[0] == name[0]:
        said, name = said[1:], name[1:]
    while said and name and said[-1] == name[-1]:
        said, name = said[:-1], name[:-1]
    return said, name


def _written(tokens: tuple[str, ...]) -> Iterator[str]:
    """Yield the ways a name is written, run together: as it is, "press-up" for push-up, without small words."""
    yield "".join(tokens)
    if "pushup" in tokens:
        yield "".join(tokens).replace("pushup", "pressup")
    if len(left := [token for token in tokens if token not in _LINKS]) > 1:
        yield "".join(left)


def _turned(tokens: tuple[str, ...]) -> Iterator[str]:
    """Yield what one is told to do for a movement of two words: "push the sled" for the sled push."""
    if len(tokens) == 2 and tokens[1] in _MOVED:
        yield _TOLD.get(tokens[1], tokens[1]) + tokens[0]


def _without_kit(tokens: tuple[str, ...]) -> tuple[str, ...]:
    """Return a name of three words or more without its kit, () where it names none: "floor press"."""
    left = tuple(token for token in tokens if token not in _KIT)
    return left if 2 <= len(left) < len(tokens) else ()


_SPLIT_OFF = frozenset("a up down out over".split())  # what a machine writes for a syllable
_KIT = frozenset("dumbbell barbell kettlebell cable band landmine".split())
_LINKS = frozenset("to with from on in of for".split())
#: Last words of names that are told to do where one of these follows: "goblet squats, hold it".
_TOLD_TO = frozenset("hold press push pull drop lift raise walk".split())
_OBJECTS = frozenset({"it", "them", "that"})
#: Of two words of a name the last, where it may be told to do: "push the sled" is the sled push.
_MOVED = frozenset("push pull drag carry throw slam flip swing roll circle stretch rotation opener".split())
_TOLD = {"rotation": "rotate", "opener": "open"}


@dataclass(frozen=True, slots=True)
class _Step:
    """A word of a name as said: the words `first` to `last`; `ends` where it ends a thought."""

    token: str
    first: int
    last: int
    ends: bool


_LIMBS = frozenset({"arm", "leg", "hand"})
_SHORT_WORD = 6  # letters: shorter compounds are too often two words


def _apart(mentions: Iterable[Mention], beside: Iterable[Mention], steps: Sequence[_Step]) -> list[Mention]:
    """Return mentions of which none overlaps, those that explain most letters first; none over those `beside`."""
    taken = {word for one in beside for word in range(one.first, one.last + 1)}
    kept = []
    for one in sorted(mentions, key=lambda one: (-_explained(one, steps), one.how, one.first)):
        span = range(one.first, one.last + 1)
        if taken.isdisjoint(span):
            taken.update(span)
            kept.append(one)
    return kept


def _explained(mention: Mention, steps: Sequence[_Step]) -> float:
    """Return how many letters a mention explains: all that were heard right, of the others the less the less alike."""
    said = tuple(step.token for step in steps[mention.first : mention.last + 1])
    letters = sum(map(len, said))
    if mention.how != "sound":
        return letters
    name = tuple(part for part in _parts(mention.said) if part not in _KIT or part in said)
    differing, _ = _differing(said, name)
    left = sum(map(len, differing))
    same = not set(keys(said)).isdisjoint(keys(name))
    common = sum(len(word) for word in differing if word in _COMMON and not (same and word in _SPLIT_OFF))
    wrong = (1 - mention.likeness) * letters / (3 if same and not common else 1) + common
    return letters - left + left * max(0.0, 1 - wrong / left) ** 3 if left else letters


def _is_told(steps: Sequence[_Step], first: int, last: int) -> bool:
    """Tell whether the last word is no part of a name but told to do: "goblet squats, hold it"."""
    object_ = steps[last + 1].token if last + 1 < len(steps) and not steps[last].ends else ""
    return last > first and steps[last].token in _TOLD_TO and object_ in _OBJECTS


def _runs(steps: Sequence[_Step], first: int, longest: int = _LONGEST) -> Iterator[tuple[int, str]]:
    """Yield the steps from `first` on run together, one more each time, within a breath."""
    run = ""
    for last in range(first, min(len(steps), first + longest)):
        if last > first and steps[last - 1].ends:
            return
        run += steps[last].token
        yield last, run


@lru_cache(maxsize=8192)
def _parts(shown: str) -> tuple[str, ...]:
    """Return the words of a name as tokens, "pull up" in two."""
    return tuple(token for one in singulars(plain(shown)) for token in name_words(one))


@lru_cache(maxsize=8192)
def _token(text: str) -> str:
    """Return a spoken word as names have it: singular, short forms written out, letters for their names."""
    said = _LETTERS.get(text, text)
    return "".join(name_words(said)) or said
