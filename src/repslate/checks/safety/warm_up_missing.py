"""A session begins with a warm-up, and a first heavy lift comes after lighter sets of it.

Why: the first repetitions with a heavy weight should not be the first repetitions of the day; lighter ones also let
    one lift more.
Source: a general warm-up, then sets of the lift itself: NSCA and ACSM; two sets of six with 40 and 80 % of the training
    load went best before heavy bench presses: Ribeiro et al. 2020, Int J Environ Res Public Health 17(18):6882. Heavy
    is from 80 % 1RM, for strength and power also up to eight repetitions to failure: our choice. Work already done by
    the same muscles counts as a warm-up. A main lift with a free bar of more than 20 kg counts as heavy up to eight
    repetitions, whatever is said of effort. Sessions for strength, power, muscle and conditioning are asked for a
    warm-up: common practice.
Wrong:
    ## Straight sets
    ### Goblet squat
    5 × 5 @ 85 % 1RM, rest 3 min
Right:
    ## Warm-up
    ### Goblet squat
    2 × 6 @ 40–80 % of working load, rest 60 s

    ## Straight sets
    ### Goblet squat
    5 × 5 @ 85 % 1RM, rest 3 min
Fix: list the lighter sets under ## Warm-up, such as 2 × 6 @ 40–80 % of working load, or say in the text how to work up
    to the weight.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from repslate.checks.shared import called, place, unread
from repslate.facts import Facts
from repslate.model.episode import Block, Episode, Exercise, Goal
from repslate.model.prescription import Reps, TopSetShare, TwoLevels, Weight, WorkingShare, masses_of
from repslate.source.finding import Finding, Severity
from repslate.training.hazards import reps_to_failure
from repslate.training.movement import is_free_bar, is_loaded, is_main_lift, is_without_bar, is_working, kit_of
from repslate.training.repmax import certain_share

SEVERITY = Severity.WARNING
SAFETY = True

_HEAVY = 80  # % 1RM
_HEAVY_REPS = 8  # to failure: 80 % 1RM in NSCA's table
_EMPTY_BAR = 20  # kg
_ASKED = frozenset({Goal.STRENGTH, Goal.POWER, Goal.HYPERTROPHY, Goal.CONDITIONING})
_SAYS_SO = re.compile(
    r"(?<!no )(?<!without )(?<!without a )(?<!skip the )"
    r"\b(?:warm(?:ed)?[- ]?up|ramp\w*|(?:work|build) up to|lighter sets?)\b",
    re.IGNORECASE,
)

Line = tuple[Block, Exercise]


def find(facts: Facts) -> Iterator[Finding]:
    """Yield heavy lifts that nothing leads up to: no lighter sets, no words, no earlier work of the same muscles.

    Where there is none, yield the session that begins without a warm-up.
    """
    lifts = list(_heavy_lifts(facts))
    yield from lifts or _session(facts.episode)


def _session(episode: Episode) -> Iterator[Finding]:
    first = next((block for block in episode.blocks if block.exercises), None)
    if first is None or episode.goal not in _ASKED or any(one.form.stands == "before" for one in episode.blocks):
        return
    prose = (*episode.lead, *episode.safety, *(each for block in episode.blocks for each in block.prose))
    words = [each.markdown for each in prose] + [episode.summary or "", *episode.series.safety]
    words += [each.markdown for _, exercise in episode.exercises() for each in exercise.prose]
    if any(map(_SAYS_SO.search, words)):
        return
    yield Finding(
        "warm-up-missing",
        SEVERITY,
        first.span,
        f"the session begins with {called(first)}, expected a warm-up before it",
        "put a block ## Warm-up before it, or say in the introduction how to warm up",
        "a general warm-up before the work: NSCA; ACSM",
    )


def _heavy_lifts(facts: Facts) -> Iterator[Finding]:
    before: list[Line] = []
    for block, exercise in facts.episode.lines():
        heavy = is_working(block) and not unread(exercise) and _is_heavy(exercise, facts.episode)
        if heavy and not _is_led_up_to((block, exercise), before, facts.episode):
            yield Finding(
                "warm-up-missing",
                SEVERITY,
                place(exercise),
                f"{called(exercise)} starts heavy, expected lighter sets of it before",
                "type under ## Warm-up: 2 × 6 @ 40–80 % of working load, or say how to work up to the weight",
                "NSCA; ACSM; Ribeiro et al. 2020, Int J Environ Res Public Health 17(18):6882",
            )
        before.append((block, exercise))


def _is_heavy(exercise: Exercise, episode: Episode) -> bool:
    said = exercise.prescription
    if share := certain_share(said.load):
        return share.low >= _HEAVY
    most = reps_to_failure(said)
    hard = episode.goal in (Goal.STRENGTH, Goal.POWER) and most is not None and most <= _HEAVY_REPS
    if hard and is_loaded(exercise.match, said) and not isinstance(said.load, WorkingShare | TopSetShare):
        return True
    return _is_heavy_bar(exercise, episode)


def _is_heavy_bar(exercise: Exercise, episode: Episode) -> bool:
    """Tell whether it is a main lift with a free bar, loaded, for few repetitions."""
    said, match = exercise.prescription, exercise.match
    if (
        match is None
        or not is_main_lift(match)
        or not isinstance(said.work, Reps)
        or not isinstance(said.load, Weight | TwoLevels)
    ):
        return False
    loaded = max(one.in_unit("kg").high for one in masses_of(said.load)) > _EMPTY_BAR
    few = all(each.high <= _HEAVY_REPS for each in said.work.each)
    bar = is_free_bar(match, kit_of(episode, exercise)) and not is_without_bar(episode, exercise)
    return loaded and few and bar


def _is_led_up_to(line: Line, before: list[Line], episode: Episode) -> bool:
    block, exercise = line
    prose = (*episode.lead, *block.prose, *exercise.prose)
    words = [each.markdown for each in prose] + [each.text for each in exercise.cues]
    words += [caution.words.text for caution in (*exercise.cautions, *block.cautions)]
    return any(map(_SAYS_SO.search, words)) or any(_prepares(*earlier, exercise) for earlier in before)


def _prepares(block: Block, earlier: Exercise, heavy: Exercise) -> bool:
    """Tell whether an earlier line readies the body for a heavy one: the same movement, or work of the same muscles."""
    if earlier.match is None or heavy.match is None:
        return earlier.name.casefold() == heavy.name.casefold()
    one, other = earlier.match.entry, heavy.match.entry
    loaded = is_loaded(earlier.match, earlier.prescription)
    alike = one.name == other.name or (loaded and one.pattern == other.pattern)
    return alike or (is_working(block) and bool(set(one.muscles) & set(other.muscles)))
