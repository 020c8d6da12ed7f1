"""The plan keeps what title and lead promise: no jumping, seated throughout, no bench, on your own, to failure.

Why: viewers choose a workout by such a sentence, and the ones it is said for are the ones who get hurt or cannot
    follow.
Source: common practice, no source. Only plain promises about the whole workout are read; the same on camera is
    spoken-safety-claim-contradicted.
Wrong:
    There is no jumping in it, so nobody downstairs will hear you.

    ## Straight sets
    ### Squat jump
    3 × 8, rest 90 s
Right:
    There is some jumping in it, with a quiet version of each jump.

    ## Straight sets
    ### Squat jump
    3 × 8, rest 90 s
Fix: change the plan if the promise counts, else the sentence.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from decimal import Decimal

from repslate.checks.shared import Text, called, introduction, quoted, told
from repslate.facts import Facts
from repslate.model.episode import Block, Episode, Exercise, Level
from repslate.model.prescription import Exertion, Reserve
from repslate.model.quantity import NUMBER_WORD, read_count, write_number, write_range
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING

_NUMBER = rf"(?P<figure>\d{{1,3}}|{NUMBER_WORD})"
_OTHER = rf"(?P<other>\d{{1,3}}|{NUMBER_WORD})"
_KIT = r"(?P<kit>bench|dumbbells?|barbells?|kettlebells?|weights?|bands?|chair|box|machines?|cables?|mat|equipment|kit)"
_JUMPS = frozenset({"plyo-landing", "plyo-depth"})
_STANDS = re.compile(r"(?i)\b(?:stand\w*|step\w*|walk\w*|squats?|lunges?|heel raises?|calf raises?|march on)\b")
_PARTNER = re.compile(r"(?i)\b(?:your partner|partner's|each other|both of you|between you)\b")
_HOPS = re.compile(r"(?:^|[.!?:]\s+|\n)(?:Hop|Jump|Leap)\b")  # told to, at the beginning of a sentence
_FEWEST = 2  # exercises; "two moves" may be any of them
_FAR = 2  # of ten, of an effort
_TALKING = 7  # RPE, from which on nobody talks in sentences (the talk test; common practice, no source)


def _jumps(_block: Block, exercise: Exercise, _said: re.Match[str]) -> str:
    entry = exercise.match.entry if exercise.match else None
    if entry and (entry.pattern == "jump" or not _JUMPS.isdisjoint(entry.traits)):
        return "is a jump"
    return "asks for a hop" if any(_HOPS.search(text.words) for text in told(exercise)) else ""


def _stands(_block: Block, exercise: Exercise, _said: re.Match[str]) -> str:
    return "" if "seated" in exercise.name.casefold() or not _STANDS.search(exercise.name) else "is done on the feet"


def _needs(_block: Block, exercise: Exercise, said: re.Match[str]) -> str:
    kit = said["kit"].casefold().rstrip("s")
    needed = [one.text for one in exercise.equipment] or (exercise.match.equipment if exercise.match else ())
    if kit in ("equipment", "kit", "weight"):
        found = next((one for one in needed if "bodyweight" not in one and one not in ("mat", "wall", "chair")), "")
        return f"is done with {found}" if found else ""
    on_it = any(re.search(rf"(?i)\bon (?:the|a|your) (?:\w+ )?{kit}\b", one.markdown) for one in exercise.prose)
    is_needed = any(kit in one.casefold().split() and " or " not in one for one in needed)
    return f"is done with {kit}" if is_needed or on_it else ""


def _with_partner(block: Block, exercise: Exercise, _said: re.Match[str]) -> str:
    is_shared = (block.people or 1) > 1 or any(_PARTNER.search(text.words) for text in told(exercise))
    return "needs a partner" if is_shared else ""


def _short_of_failure(_block: Block, exercise: Exercise, _said: re.Match[str]) -> str:
    effort = exercise.prescription.effort
    if isinstance(effort, Exertion) and effort.rating.high < Decimal(10):
        return f"has RPE {write_range(effort.rating)}"
    return "keeps repetitions in reserve" if isinstance(effort, Reserve) and effort.reps.low >= 1 else ""


def _other_effort(_block: Block, exercise: Exercise, said: re.Match[str]) -> str:
    effort, figure = exercise.prescription.effort, read_count(said["figure"])
    is_far = isinstance(effort, Exertion) and not effort.rating.low - _FAR <= figure <= effort.rating.high + _FAR
    return f"has RPE {write_range(effort.rating)}" if isinstance(effort, Exertion) and is_far else ""


def _breathless(_block: Block, exercise: Exercise, _said: re.Match[str]) -> str:
    effort = exercise.prescription.effort
    is_hard = isinstance(effort, Exertion) and effort.rating.low >= _TALKING
    return f"has RPE {write_range(effort.rating)}" if isinstance(effort, Exertion) and is_hard else ""


_TALK = re.compile(
    r"(?i)\b(?:chat|talk)(?:ting|ing)?\b[^.]{0,30}\b(?:sentences?|all the (?:way|time)|throughout|the whole)\b"
)
#: What is promised of the whole workout, and what tells that an exercise breaks it.
_PROMISES: tuple[tuple[re.Pattern[str], Callable[[Block, Exercise, re.Match[str]], str]], ...] = (
    (re.compile(r"(?i)\b(?:no|without(?: any)?) (?:jump(?:ing|s)?|hopping|hops)\b|\bjump-free\b"), _jumps),
    (
        re.compile(
            r"(?i)\b(?:stay|remain|are|be) seated\b(?=[^.]*\b(?:throughout|first|whole|all|always|entire|start)\b)"
            r"|\b(?:fully|entirely|all) seated\b|\bnever (?:have to )?stand\b"
        ),
        _stands,
    ),
    (re.compile(rf"(?i)\bno {_KIT}(?:\s+(?:is|are))?\s+(?:needed|required|necessary)\b"), _needs),
    (re.compile(r"(?i)\bno partner\b|\b(?:on your own|alone|by yourself)\b(?=[^.]*\b(?:exactly|everything|all of it)\b)"
                r"|\b(?:exactly|everything|all of it)\b[^.]*\b(?:on your own|alone|by yourself)\b"), _with_partner),
    (_TALK, _breathless),
    (re.compile(r"(?i)\b(?:every|each|all)\s+(?:\w+\s+){0,2}sets?\b[^.,;]{0,24}\bto failure\b"), _short_of_failure),
    (
        re.compile(
            r"(?i)\b(?:everything|throughout|all of it|the whole (?:class|workout|session))\b[^.]{0,60}?"
            rf"\b{_NUMBER} out of (?:ten|10)\b"
        ),
        _other_effort,
    ),
)  # fmt: skip
_OF_MANY = re.compile(
    rf"(?i)\b(?P<figure>\d{{1,2}}|{NUMBER_WORD})\s+(?:\w+\s+)?(?:exercises|moves|movements|stations|drills|stretches)\b"
)
_FIRST = re.compile(r"(?i)(?P<name>[^.,;:!?]{3,40}?)\s+(?:come|comes|go|goes)\s+first\b")
_NEW = re.compile(
    r"(?i)\b(?:never (?:followed|done|tried|trained|lifted)|(?:absolute|complete|for) beginners?|brand new to"
    r"|first steps)\b"
)
_WORK_AND_REST = re.compile(
    rf"(?i)\b{_NUMBER}(?:\s+seconds?|\s*s)?\s+(?:of\s+)?(?:work|on)\b[^.\d]{{0,12}}?\b{_OTHER}(?:\s+seconds?|\s*s)?\s+"
    r"(?:of\s+)?(?:rest|off)\b"
)
_ROUNDS = re.compile(
    rf"(?i)\b(?:(?:the\s+)?first\s+(?P<first>two|three)\s+)?(?P<kind>supersets|pairs|circuits|tri-sets)"
    rf"(?:,?\s+the\s+first\s+(?P<these>two|three)\s+for)?\s+(?:\w+\s+)?(?P<figure>\d{{1,2}}|{NUMBER_WORD})\s+rounds\b"
)
_PAIR = 2


def find(facts: Facts) -> Iterator[Finding]:
    """Yield each promise with the first exercise that breaks it, and work, rest and rounds that no block has."""
    for text in introduction(facts.episode):
        for promise, breaks in _PROMISES:
            alike = {quoted(said).casefold(): said for said in promise.finditer(text.words)}
            for said in alike.values():
                broken = (
                    f"{called(exercise)} {why}"
                    for block, exercise in facts.episode.exercises()
                    if (why := breaks(block, exercise, said))
                )
                if (first := next(broken, None)) is not None:
                    yield _finding(text, said, first)
        yield from _figures(facts.episode, text)
        yield from _plan(facts.episode, text)
    for block, exercise in facts.episode.exercises():
        for text in told(exercise):
            talk = _TALK.search(text.words)
            if talk and (why := _breathless(block, exercise, talk)):
                yield _finding(text, talk, f"{called(exercise)} {why}")


def _figures(episode: Episode, text: Text) -> Iterator[Finding]:
    intervals = [block.interval for block in episode.blocks if block.interval]
    for said in _WORK_AND_REST.finditer(text.words):
        work, rest = read_count(said["figure"]), read_count(said["other"])
        if intervals and not any(one.on == work and one.off == rest for one in intervals):
            yield _finding(
                text,
                said,
                f"the plan has {write_number(intervals[0].on)} s on and {write_number(intervals[0].off)} s off",
            )
    for said in _ROUNDS.finditer(text.words):
        blocks = [block for block in episode.blocks if block.rounds and _is_called(block, said["kind"].casefold())]
        first = said["first"] or said["these"]
        for block in blocks[: read_count(first) if first else None]:
            if block.rounds and not block.rounds.low <= read_count(said["figure"]) <= block.rounds.high:
                yield _finding(text, said, f"“{block.name}” has {write_range(block.rounds)} rounds")


def _plan(episode: Episode, text: Text) -> Iterator[Finding]:
    """Yield what is said of how many exercises there are, of which comes first, and of whom it is for."""
    blocks = [block for block in episode.blocks if block.exercises]
    work = [block for block in blocks if not block.form.stands]
    counts = {len(block.exercises) for block in blocks}
    for some in (blocks, work):
        names = {exercise.movement for block in some for exercise in block.exercises}
        counts |= {sum(len(block.exercises) for block in some), len(names), len(some)}
    for said in _OF_MANY.finditer(text.words):
        figure = read_count(said["figure"])
        if figure > _FEWEST and figure not in counts | {one * len(work) for one in counts}:
            yield _finding(text, said, f"the plan has {max(counts)} in all and never {figure} together")
    first = work[0].exercises[0] if work else None
    for said in _FIRST.finditer(text.words):
        named = next((one for block in work for one in block.exercises if _is_named(one, said["name"])), None)
        if first and named and named is not first and named not in work[0].exercises:
            yield _finding(text, said, f"{called(first)} does")
    if episode.level is Level.ADVANCED:
        for said in _NEW.finditer(text.words):
            yield _finding(text, said, "the level is advanced")


def _is_called(block: Block, words: str) -> bool:
    """Tell whether a block is one of those that "supersets", "circuits" or "pairs" are."""
    is_pair = block.form.fewest == block.form.most == _PAIR
    return f"{block.kind.value.casefold()}s" == words or (words == "pairs" and is_pair)


def _is_named(exercise: Exercise, words: str) -> bool:
    last = exercise.name.casefold().split()[-1].rstrip("s")
    return any(word.rstrip("s") == last for word in words.casefold().split())


def _finding(text: Text, said: re.Match[str], why: str) -> Finding:
    return Finding(
        "promise-broken",
        SEVERITY,
        text.at(said),
        f"the text promises {quoted(said)}, but {why}, expected a plan that keeps the promise",
        "change the plan if the promise counts, else the sentence",
    )
