"""When which exercise is named in the subtitles.

Machine-made subtitles break names over two cues, write "kettle bell" for one word and mishear letters, so names are
compared as their words run together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from repslate.cut.cue import Cue
from repslate.model import library
from repslate.model.episode import Episode
from repslate.model.names import Index, plain, words
from repslate.source.near import is_near

_PAUSE = Fraction(2)  # seconds: a name is not said across a longer silence (our choice)
_SLIP_FROM = 6  # letters: shorter names are near too many other words

# Ends of names that are said of anything, so that they name nothing alone (common practice, no source).
_SAYS_NOTHING = frozenset(
    words("hold side arm leg hand knee hip back front round circle start reach turn switch march lift open over step")
)


@dataclass(frozen=True, slots=True)
class Mention:
    """An exercise named in the subtitles.

    `exercise` is its id, `cue` the one in which the name begins, `words` what the cues show from there to the name's
    end. `sure` is False where the words may mean another exercise of the episode too ("squats").
    """

    exercise: str
    cue: Cue
    words: str
    sure: bool


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    cue: int


class _Index(NamedTuple):
    """Names run together: the exercises each may mean, and whether surely.

    `begin` has those that are long enough for slips by their first letter, `longest` is how many letters may be one.
    """

    names: Mapping[str, Mapping[str, bool]]
    begin: Mapping[str, Sequence[str]]
    longest: int


def mentions(cues: Sequence[Cue], episode: Episode) -> tuple[Mention, ...]:
    """Return every mention of the episode's exercises in the order said; of names that overlap the longest counts."""
    names = _names(episode)
    said = [_Word(word, index) for index, cue in enumerate(cues) for word in words(cue.text)]
    begin: dict[str, list[str]] = {}
    for name in names:
        begin.setdefault(name[0], []).extend([name] * (len(name) >= _SLIP_FROM))
    index = _Index(names, begin, max(map(len, names), default=0) + 2)
    found: list[Mention] = []
    at = 0
    while at < len(said):
        key, end = _longest(said, at, index, cues)
        if key:
            first, last = said[at].cue, said[end - 1].cue
            shown = " ".join(" ".join(cue.text for cue in cues[first : last + 1]).split())
            found += [Mention(id_, cues[first], shown, sure) for id_, sure in names[key].items()]
        at = max(end, at + 1)
    return tuple(found)


def _names(episode: Episode) -> Mapping[str, Mapping[str, bool]]:
    """Return what the exercises may be called: by the trainer, by the library, and by the end of either name."""
    exercises = [exercise for _, exercise in episode.exercises()]
    whole = Index((one.id, name) for one in exercises for name in one.names).whole
    chief = Index((one.id, name) for one in exercises for name in one.names[:2])
    title = {one.id: plain(one.name) for one in exercises}
    names = {run: dict.fromkeys(ids, True) for run, ids in whole.items()}
    for end, ids in chief.ends(lambda said: not _SAYS_NOTHING.issuperset(said)).items():
        alone = end not in names and len({title[id_] for id_ in ids}) == 1
        names[end] = dict.fromkeys(ids, alone) | names.get(end, {})
    return names


def _longest(said: Sequence[_Word], at: int, names: _Index, cues: Sequence[Cue]) -> tuple[str, int]:
    """Return the longest name that is said from the word `at` on and where it ends; "" where none is."""
    if said[at].text[0] not in names.begin:
        return "", at
    runs = list(_runs(said, at, cues, names.longest))
    exact = [(key, end) for key, end in runs if key in names.names]
    if exact:
        return exact[-1]
    slips = ((_slip(key, names.begin, [word.text for word in said[at:end]]), end) for key, end in runs)
    return next(((name, end) for name, end in slips if name), ("", at))


def _runs(said: Sequence[_Word], at: int, cues: Sequence[Cue], longest: int) -> Iterator[tuple[str, int]]:
    """Yield the words from `at` on run together, one more each time, within a breath."""
    run = ""
    for end in range(at, len(said)):
        before, here = cues[said[max(at, end - 1)].cue], cues[said[end].cue]
        run += said[end].text
        if len(run) > longest or here.start - before.end > _PAUSE:
            return
        yield run, end + 1


def _slip(run: str, names: Mapping[str, Sequence[str]], typed: Sequence[str]) -> str:
    """Return the name that the words are a slip of, "" where there is none or they are a name of the library's own."""
    if len(run) < _SLIP_FROM:
        return ""
    found = next((name for name in names.get(run[0], ()) if abs(len(name) - len(run)) <= 2 and is_near(name, run)), "")
    if found and (known := library.load().find(" ".join(typed))) and known.how != "spelling":
        return ""
    return found
