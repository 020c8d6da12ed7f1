"""What a chapter's title names: exercise, block or neither."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from repslate.model import library
from repslate.model.episode import Block, Episode, Exercise
from repslate.model.forms import FORMS
from repslate.model.library import Match
from repslate.model.names import KIT, Words, bag, words
from repslate.model.quantity import UNITS
from repslate.source.near import is_near

_NUMBERS = tuple(UNITS)[:9]
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")

# Chapters that show no exercise: titles that begin so, and titles of such words only (common practice, no source).
_ANNOUNCEMENTS = ("next week", "next time", "coming up", "thanks", "thank you")
_OPENINGS = (*_ANNOUNCEMENTS, "welcome", "intro", "introduction", "outro")
_COMMON = frozenset(
    words(
        """about and before begin break bye check choose choosing closing comment common credits day demo disclaimer
        easier end equipment final first for form get go goodbye harder hello here how i in intro introduction it
        join kit last let like list main me message mistake modification need next note of on opening option our
        outro overview part plan q question ready recap rest round routine safety see session set setup should
        sponsor start subscribe summary talk technique thanks that this thought time tip to today understand use
        variation water we week weight welcome what who why word work workout wrapup you"""
    )
)
# What may stand beside an exercise's name without making it another exercise.
_ASIDES = _COMMON | frozenset(
    words(
        "again bonus challenge cue explained finish heavy left light min minute practice rampup right sec side tutorial"
    )
    + words("warmup working")
)
_SAYS_LITTLE = _ASIDES | KIT.keys()
_ONE_OF_A_KIND = tuple(form.titled[0] for form in FORMS.values() if form.is_sole)

_SEPARATOR = re.compile(r"\s*[:|·•()\[\]]\s*|\s+[-–—]\s+|\s*[–—]\s*")
_JOINER = re.compile(r"\s*[+&/,]\s*|\s+and\s+|\s+then\s+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Target:
    """What a chapter may belong to: a block of the episode, or with `exercise` (an id) one of its exercises.

    `name` is what the trainer calls it ("" for a block without a title) and `aliases` what the library does; `signs`
    are compared letter for letter: an exercise's label, a block's heading and its like. `entry` is the library's name
    for the movement.
    """

    block: int
    exercise: str | None
    name: str
    signs: tuple[str, ...]
    aliases: tuple[str, ...] = ()
    entry: str | None = None


def targets(episode: Episode) -> tuple[Target, ...]:
    """Return everything in the episode that a chapter may belong to, in the order written, blocks before exercises."""
    found = []
    for index, block in enumerate(episode.blocks):
        nth = sum(other.kind == block.kind for other in episode.blocks[: index + 1])
        found.append(Target(index, None, block.title, tuple(_block_signs(block, nth))))
        found.extend(_exercise_target(index, exercise) for exercise in block.exercises)
    return tuple(found)


def named(title: str, among: tuple[Target, ...]) -> tuple[Target, ...]:
    """Return what `title` names, in the order written: one, several of the same name, or nothing."""
    title = " ".join(title.split())
    found = _exactly(title, among)
    if found or _begins(title, _ANNOUNCEMENTS) or _consists_of(title, _COMMON):
        return found
    found = _nearly(title, among) or _labelled(title, among) or _in_parts(title, among)
    return found if found or is_common(title) else _loosely(title, among)


def near(title: str, among: tuple[Target, ...]) -> tuple[Target, ...]:
    """Return the exercises that share a word with a title which names nothing, those with the most words first.

    A slip in a word counts; words that stand beside any exercise, and pieces of equipment, do not.
    """
    known = _known(title)
    said = {word for word in words(title) + words(known.entry.name if known else "") if word not in _SAYS_LITTLE}

    def shared(target: Target) -> int:
        own = {word for name in (target.name, *target.aliases) for word in words(name)} - _SAYS_LITTLE
        return sum(any(one == two or _is_near(one, two) for two in own) for one in said)

    found = [target for target in among if target.exercise and shared(target)]
    return tuple(sorted(found, key=lambda target: -shared(target)))


def is_common(title: str) -> bool:
    """Tell whether a title is one that announces no exercise, such as "What you need" or "Welcome to leg day"."""
    return _begins(title, _OPENINGS) or _consists_of(title, _COMMON)


def _begins(title: str, openings: Iterable[str]) -> bool:
    said = words(title)
    return any(said[: len(opening)] == opening for opening in map(words, openings))


def _consists_of(title: str, allowed: frozenset[str]) -> bool:
    said = words(title)
    return bool(said) and all(word in allowed or word.isdecimal() or word in _NUMBERS for word in said)


def _block_signs(block: Block, nth: int) -> Iterator[str]:
    """Yield "Superset", "Superset B", "Superset 2", "Superset two", "Second superset", "Block B" and their like."""
    yield block.name
    yield f"block {block.letter}"
    for kind in block.form.titled:
        yield kind
        yield f"{kind} {block.letter}"
        yield f"{kind} {nth}"
        yield f"{kind} {block.title}"
        if nth <= len(_NUMBERS):
            yield f"{kind} {_NUMBERS[nth - 1]}"
            yield f"{_ORDINALS[nth - 1]} {kind}"


def _exercise_target(index: int, exercise: Exercise) -> Target:
    entry = exercise.match.entry if exercise.match else None
    name = entry.name if entry else None
    return Target(index, exercise.id, exercise.name, (exercise.label,), exercise.names[1:], name)


@lru_cache(maxsize=8192)
def _letters(text: str) -> Words:
    """Return the words as written, in lower case and any script, for what hangs on a letter ("Superset A")."""
    return tuple(re.findall(r"[^\W_]+", text.casefold()))


def _exercises_first(found: Iterable[Target]) -> tuple[Target, ...]:
    """Keep the exercises where both a block and its exercise bear the name."""
    every = tuple(found)
    return tuple(t for t in every if t.exercise) or every


def _exactly(title: str, among: Iterable[Target]) -> tuple[Target, ...]:
    """Return what bears the name: as written first, then a label or heading, then in singular or plural."""
    letters, said = _letters(title), words(title)
    if not letters:
        return ()
    return (
        _exercises_first(t for t in among if _letters(t.name) == letters)
        or _exercises_first(t for t in among if any("".join(_letters(s)) == "".join(letters) for s in t.signs))
        or _exercises_first(t for t in among if said and words(t.name) == said)
    )


def _nearly(title: str, among: Iterable[Target]) -> tuple[Target, ...]:
    """Return what bears the name in other word order, by the library's knowledge, or with small slips."""
    said = words(title)
    if not said:
        return ()
    known = _known(title)
    return (
        _exercises_first(t for t in among if bag(said) and bag(words(t.name)) == bag(said))
        or tuple(t for t in among if said in map(words, t.aliases))  # a series' own names too
        or tuple(t for t in among if known and t.entry == known.entry.name)
        or _exercises_first(t for t in among if not _is_other(title) and _is_misspelt(title, t))
    )


def _is_other(title: str) -> bool:
    """Tell whether the library knows the title, so that likeness to another exercise means nothing."""
    known = _known(title)
    return known is not None and known.how != "spelling"


@lru_cache(maxsize=8192)
def _known(title: str) -> Match | None:
    """Return what the library takes a title for; every exercise of the episode asks it of every title."""
    return library.load().find(title)


def _is_misspelt(title: str, target: Target) -> bool:
    """Tell whether each word is the name's or a slip of it that leaves the first letter."""
    pairs = [(words(title), words(target.name)), *((_letters(title), _letters(sign)) for sign in target.signs)]
    return any(
        len(one) == len(two) and all(a == b or _is_near(a, b) for a, b in zip(one, two, strict=True))
        for one, two in pairs
    )


def _is_near(one: str, two: str) -> bool:
    """Tell whether one word is a slip of the other that leaves the first letter: here the guess counts unasked."""
    return one[0] == two[0] and is_near(one, two)


def _labelled(title: str, among: tuple[Target, ...]) -> tuple[Target, ...]:
    """Return what "A1 Goblet squat" names: the exercise by its name, else by its label."""
    first, _, rest = title.partition(" ")
    bearers = tuple(t for t in among if t.exercise and _letters(first) == _letters(t.signs[0]))
    if not bearers or not _letters(rest) or _JOINER.match(f" {rest}"):
        return ()
    found = named(rest, among)
    return tuple(t for t in found if t in bearers) or found or (() if _is_other(rest) else bearers)


def _in_parts(title: str, among: tuple[Target, ...]) -> tuple[Target, ...]:
    """Return what a title of several parts names: "Superset A: goblet squat + row" the block, "Demo: row" the row."""
    groups: list[tuple[Target, ...]] = []
    for part in _SEPARATOR.split(title):
        items = [item for item in _JOINER.split(part) if _letters(item) and not _consists_of(item, _COMMON)]
        if items != [title]:
            found = [_exactly(item, among) or _nearly(item, among) or _loosely(item, among) for item in items]
            groups += found if all(found) else []
    return _together(groups, among)


def _together(groups: list[tuple[Target, ...]], among: tuple[Target, ...]) -> tuple[Target, ...]:
    """Return the one exercise that the groups agree on, else the block that holds them all."""
    exercises = list(dict.fromkeys(group for group in groups if group[0].exercise))
    blocks = [group for group in groups if not group[0].exercise]
    inside = {t.block for group in blocks for t in group} or {t.block for t in among}
    if len(exercises) == 1:
        return tuple(t for t in exercises[0] if t.block in inside) or exercises[0]
    if exercises:
        shared = inside.intersection(*({t.block for t in group} for group in exercises))
        return tuple(t for t in among if not t.exercise and t.block in shared)
    return blocks[0] if blocks else ()


def _loosely(title: str, among: tuple[Target, ...]) -> tuple[Target, ...]:
    """Return what bears a name that stands in the title beside asides ("Goblet squat demo"), else an end of one.

    "Split squat" is enough for "Rear-foot-elevated split squat" where nothing else in the episode ends so, though the
    library has a split squat too; "Goblet" is enough for "Goblet squat" where nothing else begins or ends so and the
    library has no such name. Any other word beside a name may make it another exercise ("Push-up plus"),
    therefore it matches nothing, but every warm-up is one ("Mobility warm-up").
    """
    said = words(title)
    whole = {} if _is_other(title) else {t: _longest_in(title, t) for t in among}
    if longest := max(whole.values(), default=0):
        return _exercises_first(t for t in among if whole[t] == longest)
    pieces = _ends if _is_other(title) else _ends_and_beginnings
    found = tuple(t for t in among if t.exercise and any(_stands_in(one, said) for one in pieces(words(t.name))))
    if len({words(t.name) for t in found}) == 1:
        return found
    return tuple(t for t in among for kind in _ONE_OF_A_KIND if kind in t.signs and words(kind)[0] in said)


def _longest_in(title: str, target: Target) -> int:
    """Return how many words the longest name of the target has that stands in the title, 0 if none does."""
    inside = [name for name in map(words, (target.name, *target.aliases)) if _stands_in(name, words(title))]
    inside += [sign for sign in map(_letters, target.signs) if _stands_in(sign, _letters(title))]
    return max(map(len, inside), default=0)


def _ends(name: Words) -> Iterator[Words]:
    for start in range(1, len(name)):
        yield name[start:]


def _ends_and_beginnings(name: Words) -> Iterator[Words]:
    yield from _ends(name)
    for end in range(1, len(name)):
        if not _SAYS_LITTLE.issuperset(name[:end]):
            yield name[:end]


def _stands_in(name: Words, said: Words) -> bool:
    """Tell whether the words of `name` stand together in `said` with nothing but asides beside them."""
    return bool(name) and any(
        said[at : at + len(name)] == name and _are_asides(said[:at]) and _are_asides(said[at + len(name) :])
        for at in range(len(said) - len(name) + 1)
    )


def _are_asides(beside: Words) -> bool:
    return not beside or _consists_of(" ".join(beside), _ASIDES)
