"""What may hurt in a movement as it is prescribed here, and so what a responsible publisher says about it.

From the library's hazards and from load, effort and level; a topic is `safety` where silence may cost more than a sore
muscle. Spotters after NSCA, who want none beside a fast lift.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from repslate.model.caution_topics import caution_topics
from repslate.model.episode import Block, Episode, Exercise, Goal, Level
from repslate.model.library import Library, Match, Trait
from repslate.model.prescription import (
    Exertion,
    Maximum,
    MyoReps,
    Prescription,
    RepMaxShare,
    Reps,
    Reserve,
    Share,
    WordedLoad,
)
from repslate.model.sets import done, sets_of
from repslate.training.audience import named_for
from repslate.training.cautions import mentions, speaks_of
from repslate.training.movement import is_free_bar, is_loaded, is_without_bar, is_working, kit_of, may_be_bar
from repslate.training.repmax import certain_share

NEAR_MAXIMAL = 90  # % 1RM and more: NSCA, ACSM 2009
FEW_REPS = 3  # and less, from memory of the same
_REPS_AT_90 = 4  # NSCA's table: 90 % is a load for four repetitions
MANY_REPS = 100  # of one exercise in a workout, for beginners: our policy after Rider et al. 2019
_TOP_RATING, _FIRST_CONVERTED = 10, 6  # reserve = 10 − RPE from 6 on: Zourdos et al. 2016, J Strength Cond Res 30(1)

_ALL = 100  # %
_HEAVIEST = re.compile(r"\bheavy as (?:possible|you can)\b|\bheaviest\b|\bmaximal\b")
_SIX = 6  # repetitions and less are heavy, as is RPE 9: our choice
_AT_SIX = 85  # % 1RM, in NSCA's table

_BARS = frozenset({"bar-over-face", "bar-on-back", "bar-front-rack", "overhead-load"})
_PINS = _BARS - {"overhead-load"}  # what lies under such a bar cannot get out; overhead one can step away
_PRESSED = frozenset({"horizontal push", "incline push"})
_LIGHT = frozenset({"elbow extension", "fly"})  # skull crushers and pullovers: a bar that one arm could roll away
_GRAVE = frozenset({"plyo-depth", "high-five"})


@dataclass(frozen=True, slots=True)
class Topic:
    """Something that a caution must speak of.

    `slug` is the word for its brackets and its key in topics.yaml, `words` what to call it. `line` is a caution one
    could type; `reason` and `source` say why.
    """

    slug: str
    words: str
    safety: bool
    reason: str
    source: str
    line: str


def topics(exercise: Exercise, block: Block, episode: Episode, *, library: Library) -> tuple[Topic, ...]:
    """Return what the cautions of an exercise must speak of, each topic once, whatever is written already."""
    found: dict[str, Topic] = {}
    every = (one for line in exercise.lines for one in _hazards(line, block, episode, library))
    for hazard, safety in every:
        spotted = "spotter" in hazard.topics
        trait = library.traits["power-lift"] if spotted and _is_unspotted(exercise) else hazard
        for slug in trait.topics:
            chief = slug == trait.topics[0]  # of which the trait's own reason and example speak
            told = trait if chief else next((t for t in library.traits.values() if t.topics[0] == slug), trait)
            line = f"Caution ({slug}): {told.example}"
            topic = Topic(slug, caution_topics()[slug].words, safety and chief, told.reason, told.source, line)
            if slug not in found or (topic.safety and not found[slug].safety):
                found[slug] = topic
    return tuple(found.values())


def unanswered(exercise: Exercise, block: Block, episode: Episode, *, library: Library) -> tuple[Topic, ...]:
    """Return the topics that no caution speaks of: neither its own, nor its block's, nor one of the same movement.

    What is true of the room and the kit may stand once, in the introduction, under ## Safety or in series.yaml.
    """
    said = [*exercise.cautions, *block.cautions]
    for _, other in episode.exercises():
        if exercise.match and other.match and other.match.entry.name == exercise.match.entry.name:
            said += other.cautions
    anywhere = [caution for each in episode.blocks for caution in each.cautions]
    anywhere += [caution for _, each in episode.exercises() for caution in each.cautions]
    prose = [each.markdown for each in (*episode.lead, *episode.safety, *block.prose)] + [*episode.series.safety]

    def is_answered(topic: Topic) -> bool:
        everywhere = caution_topics()[topic.slug].everywhere
        return any(
            speaks_of(caution, topic.slug, in_words=topic.safety) for caution in (anywhere if everywhere else said)
        ) or (everywhere and any(mentions(text, topic.slug) for text in prose))

    return tuple(each for each in topics(exercise, block, episode, library=library) if not is_answered(each))


def is_unspotted(match: Match) -> bool:
    """Tell whether it is a fast lift that nobody may spot (NSCA: power exercises are not spotted)."""
    return match.entry.pattern == "power" or "power-lift" in match.entry.traits


def _is_unspotted(exercise: Exercise) -> bool:
    return exercise.match is not None and is_unspotted(exercise.match)


def is_near_maximal(said: Prescription) -> bool:
    """Tell whether the line says that the load is nine tenths of the most one can lift, or more."""
    if share := certain_share(said.load):
        return share.high >= NEAR_MAXIMAL
    most = reps_to_failure(said)
    return most is not None and most <= _REPS_AT_90


def reps_to_failure(said: Prescription) -> Decimal | None:
    """Return with how many repetitions the hardest set of the line would end in failure; None where nothing says it.

    Repetitions plus reserve; the heaviest reading of a range.
    """
    if not isinstance(said.work, Reps) or (reserve := _reserve(said)) is None:
        return None
    return min(each.low for each in said.work.each) + reserve


def is_to_failure(said: Prescription) -> bool:
    """Tell whether the line leaves nothing in reserve; "max" alone means good repetitions and is not failure."""
    if said.effort is not None:
        return _reserve(said) == 0
    if isinstance(said.load, RepMaxShare) and said.load.percent.high >= _ALL:
        return any(each.high >= said.load.reps.low for each in said.reps)  # 8 with a load for 8
    return said.drops is not None or said.rest_pause or isinstance(said.work, MyoReps)


def _reserve(said: Prescription) -> Decimal | None:
    """Return the least reserve the line allows, in repetitions; None where it says none that can be converted."""
    if isinstance(said.effort, Reserve):
        return Decimal(said.effort.reps.low)
    if isinstance(said.effort, Exertion) and said.effort.rating.high >= _FIRST_CONVERTED:
        return max(_TOP_RATING - said.effort.rating.high, Decimal(0))
    if said.effort is None and isinstance(said.load, WordedLoad) and _HEAVIEST.search(said.load.words.casefold()):
        return Decimal(0)
    return None


def _hazards(exercise: Exercise, block: Block, episode: Episode, library: Library) -> Iterator[tuple[Trait, bool]]:
    """Yield each hazard that asks for a word, with whether it is a matter of safety."""
    said, match, kit = exercise.prescription, exercise.match, kit_of(episode, exercise)
    barless = is_without_bar(episode, exercise)
    bar = match is not None and is_free_bar(match, kit) and not barless
    maximal, failing = is_near_maximal(said), is_to_failure(said)
    for trait in library.required(match, kit) if match else ():
        if trait.slug in _BARS and barless:
            continue
        if trait.slug == "bar-over-face" and match and not may_be_bar(match, kit):
            continue  # NSCA's rule is of bars; a dumbbell comes down beside the face
        grave = {
            "power-lift": bar,
            "ballistic-swing": episode.level is Level.BEGINNER,
            "hinge-load": maximal or failing,
        }
        pinned = bar and trait.slug in _PINS and match is not None and match.entry.pattern not in _LIGHT
        yield trait, trait.slug in _GRAVE or pinned or grave.get(trait.slug, False)
    traits = library.traits
    asked = {trait.slug for trait in library.required(match, kit)} if match else set()
    for slug in sorted(named_for(episode, match.entry) - asked) if match else ():
        yield traits[slug], False
    if match and _is_heavy_over_face(exercise, block, episode, barless=barless):
        yield traits["bells-over-face"], False
    if maximal:
        yield traits["max-load"], is_loaded(match, said) and episode.level is not Level.ADVANCED
    elif _looks_maximal(exercise, block, episode):
        yield traits["max-load"], False
    if (failing and (bar or episode.level is Level.BEGINNER)) or (
        bar and (said.open_last or isinstance(said.work, Maximum))
    ):
        yield traits["to-failure"], False
    if _is_much_for_beginners(exercise, block, episode):
        yield traits["high-rep-novel"], False


def _is_heavy_over_face(exercise: Exercise, block: Block, episode: Episode, *, barless: bool) -> bool:
    """Tell whether heavy dumbbells are pressed lying down: RPE 9 and more, or few repetitions that are hard."""
    said, match = exercise.prescription, exercise.match
    if match is None or not is_working(block) or match.entry.pattern not in _PRESSED:
        return False
    bells = any("dumbbell" in item or "kettlebell" in item for item in match.entry.equipment)
    lying = any(item.endswith("bench") for item in match.entry.equipment)
    if not lying or not (bells or (barless and "bar-over-face" in match.entry.traits)):
        return False
    if share := certain_share(said.load):
        return share.high >= _AT_SIX
    reserve, most = _reserve(said), reps_to_failure(said)
    if reserve is not None:
        return reserve <= 1 or (most is not None and most <= _SIX)
    few = isinstance(said.work, Reps) and all(each.high <= _SIX for each in said.work.each)
    return few and episode.goal in (Goal.STRENGTH, Goal.POWER)


def _looks_maximal(exercise: Exercise, block: Block, episode: Episode) -> bool:
    """Tell whether so few repetitions with a weight are likely near-maximal: nothing says how hard they are.

    Fast lifts are done for few repetitions with any load.
    """
    said = exercise.prescription
    few = isinstance(said.work, Reps) and all(each.high <= FEW_REPS for each in said.work.each)
    told = said.effort is not None or isinstance(said.load, Share)
    strength = episode.goal is Goal.STRENGTH and is_working(block)
    return few and strength and not told and is_loaded(exercise.match, said) and not _is_unspotted(exercise)


def _is_much_for_beginners(exercise: Exercise, block: Block, episode: Episode) -> bool:
    """Tell whether beginners are asked for very many repetitions, or as many rounds as they can (told once a block)."""
    if episode.level is not Level.BEGINNER:
        return False
    if block.is_open:
        return exercise.id == block.exercises[0].id
    said = done(block, exercise)
    if not (each := said.reps):
        return False
    sets = sets_of(block, exercise)
    total = sum(reps.high for reps in each) if len(each) > 1 else each[0].high * (sets.high if sets else 1)
    return total >= MANY_REPS
