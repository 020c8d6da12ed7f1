"""How much energy the workout may take: an estimate in kilocalories, always a range, with the codes it rests on.

The codes describe whole sessions with their rests, so each block gets one or two of them for all of its time. It says
nothing about health or body weight, and nothing is rounded: that belongs to view.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from repslate.model.episode import Block, Episode, Exercise, Goal, Level
from repslate.model.prescription import Bodyweight, Distance, Timed
from repslate.model.quantity import Range, write_range
from repslate.model.series import EnergyFormula, MetEdition
from repslate.training.compendium import CITATIONS, FORMULAS, Activity, activity, kilocalories
from repslate.training.duration import BlockTime, SessionTime
from repslate.training.pace import middle

Kilograms = Range[int] | Range[Decimal] | Range[Fraction]

BODY_MASS = Range(60, 90)  # kg: our policy
#: Width for the person: at rest people spend 0.84 ± 0.16 kcal per kg and hour, a spread of 19 % (Byrne et al. 2005,
#: J Appl Physiol 99(3):1112–1119, n = 769). That it is as wide in training is our assumption.
PERSON = Fraction(1, 5)
_BYRNE = "Byrne et al. 2005, J Appl Physiol 99(3):1112–1119"

_GENTLE = frozenset({"02024", "02101"})
_WEIGHTS = frozenset({"02050", "02052", "02054", "02058"})
_HARD = frozenset({"02020", "02057", "02058", "02068"})
#: One machine or movement kept up without a break; the other codes of the library are for parts of a session.
_STEADY = frozenset({"02020", "02022", "02048", "02065", "02068", "02071"})

# What stands in for a code that the 2011 edition does not have: the nearest that it does (our choice).
_IN_2011 = {
    "02032": "02035", "02034": "02022", "02055": "02035", "02056": "02030", "02057": "02020", "02210": "02040",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class BlockEnergy:
    """The codes between which a block is placed; `why` says what decided it. Both are the same where it is clear."""

    letter: str
    low: Activity
    high: Activity
    why: str


@dataclass(frozen=True, slots=True)
class Energy:
    """An estimate: `low` to `high` kilocalories for the whole session, resting cost included.

    `met_low` and `met_high` are the session's mean MET, its blocks weighted by their time. `codes` are all that were
    used, in the order met. `formula` and `sources` are words to print beside the figures; `assumed` says what the
    width rests on.
    """

    low: Fraction
    high: Fraction
    met_low: Fraction
    met_high: Fraction
    blocks: tuple[BlockEnergy, ...]
    codes: tuple[Activity, ...]
    edition: MetEdition
    formula: str
    sources: tuple[str, ...]
    assumed: tuple[str, ...]


def energy(
    episode: Episode,
    session_time: SessionTime,
    *,
    body_mass: Kilograms = BODY_MASS,
    edition: MetEdition = MetEdition.NEWER,
    formula: EnergyFormula = EnergyFormula.OXYGEN,
) -> Energy:
    """Estimate what a session takes for people of `body_mass` kilograms; `session_time` is the same episode's.

    Time between the blocks counts at the mean of the blocks. Nothing that takes time gives nothing.
    """
    times = session_time.blocks
    pairs = zip(episode.blocks, times, strict=True)
    blocks = tuple(_block_energy(episode, block, time, edition) for block, time in pairs)
    met_low = _mean([block.low.met for block in blocks], times)
    met_high = _mean([block.high.met for block in blocks], times)
    spent = session_time.total
    low = kilocalories(met_low, Fraction(body_mass.low), spent.low / 60, formula)
    high = kilocalories(met_high, Fraction(body_mass.high), spent.high / 60, formula)
    codes = tuple(dict.fromkeys(one for block in blocks for one in (block.low, block.high)))
    return Energy(
        low * (1 - PERSON),
        high * (1 + PERSON),
        met_low,
        met_high,
        blocks,
        codes,
        edition,
        FORMULAS[formula],
        (CITATIONS[edition], _BYRNE),
        tuple(_assumed(body_mass, codes)),
    )


def _assumed(body_mass: Kilograms, codes: tuple[Activity, ...]) -> Iterator[str]:
    yield f"a body mass of {write_range(body_mass, 'kg')}"
    spread = f"people at rest differ by 19 % (one standard deviation: {_BYRNE})"
    yield f"20 % less or more for the person: {spread}; that they differ as much in training is our assumption"
    yield "the codes describe whole sessions with their rests (from memory); which block gets which is our choice"
    if codes and codes[0].edition == MetEdition.OLDER:
        yield "where the 2011 edition has no such code, the nearest that it has (our choice)"
    if copied := [one.code for one in codes if one.single_copy]:
        yield f"read in one copy of the table only: {', '.join(copied)}"


def _mean(mets: list[Fraction], times: tuple[BlockTime, ...]) -> Fraction:
    """Return the mean MET of the blocks, weighted by the midpoint of their time; 0 where nothing takes time."""
    weights = [middle(time.total) for time in times]
    if not (whole := sum(weights, Fraction(0))):
        return Fraction(0)
    return sum((met * weight for met, weight in zip(mets, weights, strict=True)), Fraction(0)) / whole


def _block_energy(episode: Episode, block: Block, time: BlockTime, edition: MetEdition) -> BlockEnergy:
    *codes, why = _choice(episode, block, time)
    low, high = sorted((_in_edition(edition, code) for code in codes), key=lambda one: one.met)
    return BlockEnergy(block.letter, low, high, why)


def _in_edition(edition: MetEdition, code: str) -> Activity:
    found = activity(edition, code) or activity(edition, _IN_2011[code])
    if found is None:
        raise LookupError(f"the table has no {code} for {edition}")  # our own slip: the tests go through every choice
    return found


def _choice(episode: Episode, block: Block, time: BlockTime) -> tuple[str, str, str]:
    """Return the two codes between which a block lies, and why: what its movements are before how it is done.

    The library's code of a movement is the block's only where the whole block is of that kind.
    """
    codes = [code for exercise in block.exercises if (code := _code(exercise))]
    if codes and len(codes) == len(block.exercises):
        if set(codes) <= _GENTLE:
            return min(codes), max(codes), "only stretching or light movements"
        if set(codes) <= _STEADY and len(set(codes)) == 1 and _is_steady(block, time):
            return codes[0], codes[0], "one movement kept up without rest"
    if block.form.stands == "before":
        return "02024", "02022", "a warm-up, light to moderate"
    if block.form.stands == "after" or block.form.is_easy:
        return "02101", "02024", "a cool-down" if block.form.stands else "stretches and easy moves"
    if block.form.in_sets or block.form.back_to_back:
        return _sets_choice(episode, block, codes)
    return _circuit_choice(episode, block, codes)


def _sets_choice(episode: Episode, block: Block, codes: list[str]) -> tuple[str, str, str]:
    """Choose for sets with a rest: weights or body weight, paired or not; the low end gentle if part of it is."""
    gentle = "02024" if _GENTLE & set(codes) else ""
    if not any(_is_loaded(exercise) for exercise in block.exercises):
        high = "02057" if _HARD & set(codes) else "02022"
        return gentle or "02056", high, "sets with body weight"
    if block.form.back_to_back:
        return gentle or "02054", "02055", "weights in pairs, between sets with full rest and a circuit of supersets"
    if episode.goal in {Goal.STRENGTH, Goal.POWER}:
        return gentle or "02054", "02050", "weights for strength or power"
    if codes.count("02052") * 2 >= len(block.exercises):
        return gentle or "02054", "02052", "weights, half of it squats or deadlifts"
    return gentle or "02054", "02054", "weights, several exercises"


def _circuit_choice(episode: Episode, block: Block, codes: list[str]) -> tuple[str, str, str]:
    """Choose for circuits, finishers and work by the clock."""
    low = "02034" if episode.level is Level.BEGINNER else "02035"
    if any(_is_loaded(exercise) for exercise in block.exercises):
        return low, "02040", "a circuit with weights, moderate to vigorous"
    if _HARD & set(codes):
        return low, "02210", "a circuit with body weight and hard movements"
    return low, "02032", "a circuit with body weight"


def _code(exercise: Exercise) -> str:
    return exercise.match.entry.met.partition(":")[2] if exercise.match else ""


def _is_loaded(exercise: Exercise) -> bool:
    """Tell whether weights are used: the line says a load, or the library knows the movement as one with weights."""
    load = exercise.prescription.load
    if load is None:
        needs_kit = exercise.match is not None and bool(exercise.match.equipment)
        return needs_kit and _code(exercise) in _WEIGHTS
    return not isinstance(load, Bodyweight) or load.added is not None


def _is_steady(block: Block, time: BlockTime) -> bool:
    timed = all(isinstance(exercise.prescription.work, Timed | Distance) for exercise in block.exercises)
    return timed and not time.rest.high
