"""What every published file must say, from the episode and the numbers computed from it; nothing is taken from publish.

Built once for an episode, so that many files, or many versions of one, can be held against it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from urllib.parse import quote, urljoin

from repslate.cut.chapters import ends
from repslate.facts import Facts
from repslate.model.episode import Block, Caution, Episode, Exercise, Prose, Words
from repslate.model.library import Library
from repslate.model.notice import NOTICE, NOTICE_CAPTION, NOTICE_SHORT
from repslate.model.quantity import Range, write_number
from repslate.proof.markdown import plain
from repslate.source.span import Span
from repslate.training.numbers import Numbers, compute

_WEIGHTS = (  # whose weights the sets per muscle have: see training/volume.py
    "a set counts once for the muscles it trains directly and half for those that help: weights after Pelland et al. "
    "2024 (preprint)"
)


@dataclass(frozen=True, slots=True)
class Passage:
    """Words of the episode that may be reworded, but whose figures may not change; `about` is what they speak of."""

    about: str
    text: str
    source: Span | None = None


@dataclass(frozen=True, slots=True)
class Needed:
    """Words whose whole meaning must be there: a caution, the notice. `owner` is the name that a caution is for."""

    about: str
    text: str
    source: Span | None = None
    owner: str = ""


@dataclass(frozen=True, slots=True)
class ExpectedExercise:
    """An exercise with what is said of it; `start` is where its first chapter begins, in seconds."""

    exercise: Exercise
    cautions: tuple[Needed, ...]
    passages: tuple[Passage, ...]
    start: Fraction | None

    @property
    def called(self) -> str:
        """The exercise as a reader finds it: "A1 Goblet squat"."""
        return f"{self.exercise.label} {self.exercise.name}"


@dataclass(frozen=True, slots=True)
class ExpectedBlock:
    """A block with what is said of it."""

    block: Block
    cautions: tuple[Needed, ...]
    passages: tuple[Passage, ...]
    exercises: tuple[ExpectedExercise, ...]


@dataclass(frozen=True, slots=True)
class ExpectedChapter:
    """A chapter; `end` is None where nobody knows it."""

    title: str
    start: Fraction
    end: Fraction | None
    source: Span
    exercise: str | None


@dataclass(frozen=True, slots=True)
class Expected:
    """Everything that is published of an episode; addresses are None where the series has none."""

    facts: Facts
    numbers: Numbers
    blocks: tuple[ExpectedBlock, ...]
    chapters: tuple[ExpectedChapter, ...]
    equipment: tuple[Words, ...]
    muscles: tuple[Words, ...]
    disclosure: str
    notice: tuple[Needed, ...]
    notice_short: tuple[Needed, ...]
    notice_caption: tuple[Needed, ...]
    safety: tuple[Needed, ...]
    passages: tuple[Passage, ...]
    address: str | None
    picture_address: str | None

    @property
    def episode(self) -> Episode:
        """The episode."""
        return self.facts.episode

    @property
    def exercises(self) -> tuple[ExpectedExercise, ...]:
        """Every exercise, in order."""
        return tuple(exercise for block in self.blocks for exercise in block.exercises)

    def source(self, *keys: str) -> Span:
        """Return where the front matter has the first of these keys, else where it begins."""
        places = self.episode.places
        return next((places[key] for key in keys if key in places), self.episode.span)

    def near(self, words: str) -> Span:
        """Return where the episode has what some words name: an exercise, a block, a chapter; else its title."""
        told = [(one.called, one.exercise.span) for one in self.exercises]
        told += [(one.exercise.name, one.exercise.span) for one in self.exercises]
        told += [(one.block.name, one.block.span) for one in self.blocks]
        told += [(one.title, one.source) for one in self.chapters]
        return next((span for name, span in told if name and name in words), self.source("title"))


def expect(facts: Facts) -> Expected:
    """Say what must be published of an episode."""
    episode, series = facts.episode, facts.episode.series
    numbers = compute(episode, facts.library)
    starts: dict[str, Fraction] = {}
    for chapter in facts.chapters:
        if chapter.exercise:
            starts.setdefault(chapter.exercise, chapter.start)
    stops = ends(facts.chapters, episode.length)
    address = series.address.replace("{slug}", quote(episode.slug)) if series.address else None
    return Expected(
        facts=facts,
        numbers=numbers,
        blocks=tuple(_block(block, starts) for block in episode.blocks),
        chapters=tuple(
            ExpectedChapter(one.title, one.start, end, one.span, one.exercise)
            for one, end in zip(facts.chapters, stops, strict=True)
        ),
        equipment=_equipment(episode),
        muscles=_muscles(episode, facts.library),
        disclosure=series.disclosure.replace("{sponsor}", episode.sponsor) if episode.sponsor else "",
        notice=tuple(Needed("the safety notice", f"{term} {words}") for term, words in NOTICE),
        notice_short=(Needed("the safety notice", NOTICE_SHORT),),
        notice_caption=(Needed("the safety notice", NOTICE_CAPTION),),
        safety=tuple(_safety(episode)),
        passages=tuple(_passages(episode, numbers, facts.library)),
        address=address,
        picture_address=urljoin(address, f"{episode.slug}.jpg") if address and episode.picture else None,
    )


def moment(video: str, second: int) -> str:
    """Return the address of a second of the film (W3C Media Fragments URI 1.0, 2012)."""
    return f"{video.partition('#')[0]}#t={second}"


def minutes(seconds: Range[Fraction]) -> Range[int]:
    """Return the whole minutes that a length of time is shown in: each end to the nearest, never under one."""
    low, high = (max(1, (2 * end + 60) // 120) for end in (seconds.low, seconds.high))
    return Range(int(low), int(high))


def _block(block: Block, starts: dict[str, Fraction]) -> ExpectedBlock:
    return ExpectedBlock(
        block,
        tuple(_needed(block.cautions, block.name)),
        tuple(_prose(block.name, block.prose)),
        tuple(_exercise(exercise, starts.get(exercise.id)) for exercise in block.exercises),
    )


def _exercise(exercise: Exercise, start: Fraction | None) -> ExpectedExercise:
    called = f"{exercise.label} {exercise.name}"
    said = (*exercise.cues, *exercise.easier, *exercise.harder)
    shown = (Passage(called, picture.description, picture.span) for picture in exercise.pictures)
    passages = (*_prose(called, exercise.prose), *(Passage(called, plain(one.text), one.span) for one in said), *shown)
    return ExpectedExercise(exercise, tuple(_needed(exercise.cautions, exercise.name)), passages, start)


def _needed(cautions: Iterable[Caution], owner: str) -> Iterator[Needed]:
    for one in cautions:
        topic = f"{one.topic}: " if one.topic else ""
        yield Needed(f"the caution on {one.topic or owner}", topic + plain(one.words.text), one.words.span, owner)


def _prose(about: str, texts: Iterable[Prose]) -> Iterator[Passage]:
    for text in texts:
        yield Passage(about, plain(text.markdown), text.span)


def _safety(episode: Episode) -> Iterator[Needed]:
    for prose in episode.safety:
        for line in plain(prose.markdown).split("\n"):
            yield Needed("the safety words of the episode", line, prose.span)
    for line in episode.series.safety:
        yield Needed("the safety words of the series", plain(line), episode.series.span)


def _passages(episode: Episode, numbers: Numbers, library: Library) -> Iterator[Passage]:
    """Yield what stands outside of the blocks: introduction, summary, notes, and what the numbers rest on."""
    yield from _prose("the introduction", episode.lead)
    yield from (Passage("the head", words) for words in _heads(episode))
    if episode.summary:
        yield Passage("the summary", episode.summary, episode.places.get("summary", episode.span))
    listed = [", ".join(words.text for words in items) for items in (_equipment(episode), _muscles(episode, library))]
    for what, text in zip(("the equipment", "the muscles"), listed, strict=True):
        yield Passage(what, plain(text), episode.places.get(what.removeprefix("the "), episode.span))
    if episode.picture:
        yield Passage("the picture", episode.picture.description, episode.picture.span)
    for title, prose in episode.notes:
        yield Passage("the notes", title.text, title.span)
        yield from _prose(title.text, prose)
    rests_on = [*numbers.time.assumed, *(one.source for loads in numbers.loads.values() for one in loads)]
    for reason in {one.reason: None for one in numbers.not_counted}:  # names hold words and figures of any kind
        names = ", ".join(one.name for one in numbers.not_counted if one.reason is reason)
        rests_on.append(f"no sets are counted for {names}: {reason}")
    if numbers.muscles:
        rests_on.append(_WEIGHTS)
    if numbers.energy:
        codes = ", ".join(f"{one.code} ({write_number(one.met)} MET)" for one in numbers.energy.codes)
        rests_on += [*numbers.energy.assumed, *numbers.energy.sources, f"energy, an estimate: {codes}"]
        rests_on.append(numbers.energy.formula)
    for words in dict.fromkeys(rests_on):
        yield Passage("what the figures rest on", words, episode.span)


def _heads(episode: Episode) -> Iterator[str]:
    """Yield the line over or under the title, whose names may hold any word, with and without the brand."""
    number = f"Episode {episode.number}" if episode.number is not None else ""
    origin = [*filter(None, (number, f"with {episode.presenter}" if episode.presenter else ""))]
    yield " · ".join(origin)
    yield " · ".join([*filter(None, [episode.series.brand]), *origin])


def _equipment(episode: Episode) -> tuple[Words, ...]:
    if episode.equipment:
        return episode.equipment
    named = [words for _, exercise in episode.exercises() for words in exercise.equipment]
    known = [
        Words(item, exercise.span)
        for _, exercise in episode.exercises()
        if exercise.match
        for item in exercise.match.equipment
    ]
    return tuple({words.text: words for words in reversed([*named, *known])}.values())


def _muscles(episode: Episode, library: Library) -> tuple[Words, ...]:
    if episode.focus:
        return episode.focus
    named = [words for _, exercise in episode.exercises() for words in exercise.muscles]
    known = [
        Words(library.muscles[muscle].shown, exercise.span)
        for _, exercise in episode.exercises()
        if exercise.match
        for muscle in exercise.match.entry.muscles
    ]
    return tuple({words.text: words for words in reversed([*named, *known])}.values())
