"""What the film promises about safety is true of the plan: no spotter, safe for everybody, no jumping, no kit.

Why: viewers choose a workout by such a sentence, and the ones it is said for are the ones who get hurt.
Source: common practice, no source; on spotting NSCA, Essentials of Strength Training and Conditioning. Only whole
    phrases are looked for, and those about jumps and kit only where the talk is of the whole workout.
Wrong:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Squat jump
    3 × 8, rest 90 s
    subtitles.srt:
    1
    00:00:01,000 --> 00:00:05,000
    welcome there's no jumping today I promise

    2
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten
Right:
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    ### Calf raise
    3 × 8, rest 90 s
    subtitles.srt:
    1
    00:00:01,000 --> 00:00:05,000
    welcome there's no jumping today I promise

    2
    00:00:50,000 --> 00:00:54,000
    goblet squats three sets of ten
Fix: change the plan if the promise counts, else put a note on the screen at the time that is named.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from repslate.checks.shared import called
from repslate.checks.spoken import topic_at
from repslate.facts import Facts
from repslate.model.clock import write_clock
from repslate.model.episode import Block, Exercise, Level
from repslate.source.finding import About, Finding, Severity
from repslate.source.span import Span
from repslate.training.cautions import asks_for_spotter
from repslate.training.hazards import topics

if TYPE_CHECKING:
    from repslate.speech.claims import Claim, Promise

SEVERITY = Severity.WARNING
SAFETY = True
_JUMPS = frozenset({"plyo-landing", "plyo-depth"})
_KIT = re.compile(
    r"\b(?:barbell|dumbbell|kettlebell|machine|bands?|sandbag|plate|landmine|sled|trap bar|medicine ball|rope|rack)s?\b"
)
_FOR_NOBODY_NEW = Level.ADVANCED


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each claim with the first thing in the plan that contradicts it."""
    if facts.heard is None:
        return
    from repslate.speech.claims import claims

    first = next((topic.word for topic in facts.heard.topics if topic.subject is not None), 0)
    for claim in claims(facts.heard.words, first):
        block, exercise = topic_at(facts.heard, claim.first, facts.episode)
        against = next(_against(claim, facts, exercise), None)
        if against is not None:
            span, why, said_of = against
            yield Finding(
                "spoken-safety-claim-contradicted",
                SEVERITY,
                span,
                f"“{claim.quote}” is said at {write_clock(claim.time)}, but {why}, "
                "expected a plan that keeps the promise",
                f"change the plan, or put a note on the screen at {write_clock(claim.time)}",
                about=About(said_of.name if said_of else None, block.name if block else None, None, claim.time),
            )


def _against(claim: Claim, facts: Facts, spoken_of: Exercise | None) -> Iterator[tuple[Span, str, Exercise | None]]:
    """Yield what contradicts: where it stands, in words, and the exercise it is about."""
    from repslate.speech.claims import Promise

    if claim.promise is Promise.FOR_ALL:
        if claim.whole and facts.episode.level is _FOR_NOBODY_NEW:
            yield facts.episode.places["level"], "the level is advanced", None
        return
    if claim.promise is not Promise.NO_SPOTTER and not claim.whole:
        return
    for block, exercise in facts.episode.exercises():
        if claim.promise is Promise.NO_SPOTTER and not claim.whole and exercise is not spoken_of:
            continue
        if why := _why_not(claim.promise, facts, block, exercise):
            yield exercise.span, f"{called(exercise)} {why}", exercise


def _why_not(promise: Promise, facts: Facts, block: Block, exercise: Exercise) -> str:
    """Return why an exercise breaks a promise, "" where it keeps it."""
    from repslate.speech.claims import Promise

    entry = exercise.match.entry if exercise.match else None
    if promise is Promise.NO_SPOTTER:
        asked = any(asks_for_spotter(caution.words.text) for caution in (*exercise.cautions, *block.cautions))
        hazards = topics(exercise, block, facts.episode, library=facts.library)
        needs = any(one.slug == "spotter" and one.safety for one in hazards)
        return "has a caution that asks for a spotter" if asked else "wants a spotter or safeties" if needs else ""
    if promise is Promise.NO_JUMPING:
        return "is a jump" if entry and (entry.pattern == "jump" or not _JUMPS.isdisjoint(entry.traits)) else ""
    kit = [words.text for words in exercise.equipment] or (exercise.match.equipment if exercise.match else ())
    needed = next((item for item in kit if _KIT.search(item) and "bodyweight" not in item), "")
    return f"needs a {needed}" if needed else ""
