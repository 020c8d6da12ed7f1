"""Which of the weighed mentions do turn the talk: of those that exclude another the weightier, of a name the first."""

from __future__ import annotations

from collections.abc import Sequence

from repslate.model.forms import form_of
from repslate.model.names import words as name_words
from repslate.speech.blocks import Call
from repslate.speech.topics import Turn, Turns

_ENOUGH = 0.0  # weight of a mention that turns the talk (all of these were tried on labelled talk)
_ENOUGH_CALLED = -0.5  # … after a block was announced
_ENOUGH_AGAIN = -0.5  # … to an exercise that was talked of before
_SURE = 0.3  # … of the first after the greeting
_ABOUT = 1.5  # weight by which two turns may differ for the first to be meant
_HELLO = 40  # words of a greeting at the least, and
_OF_ALL = 25  # … the share of the talk that it takes, one in so many, where that is less
_AGAIN = 45  # seconds from which a second turn to an exercise is a block of its own
_SOON = 5  # seconds between two turns at the least
_ANNOUNCED_FOR = 150  # seconds
_SHORT_FOR = 90  # seconds in which one word is short for a name that ends with it
_FRAMED = 60  # words after a name in which the rounds of its block are said
_LEADS = 110  # words between the announcement of a block and its first exercise
_OTHER_SETS = frozenset("working sets real proper properly".split())


def begins(turns: Turns, weighed: Sequence[Turn], called: Sequence[Call]) -> int:
    """Return the word at which the greeting ends: where the warm-up is announced, else at the first sure turn.

    An announcement that leads to that turn belongs to it.
    """
    before = (call.start for call in called if call.kind and form_of(call.kind).stands == "before")
    warm = next(before, len(turns.texts))
    hello = min(_HELLO, len(turns.texts) // _OF_ALL)
    sure = (turn.start for turn in weighed if turn.start >= hello and turn.score >= _SURE)
    first = next(sure, len(turns.texts))
    if warm < len(turns.texts) // 4:
        return warm
    leading = (call.start for call in called if call.start > max(hello, first - _LEADS) and call.start < first)
    return min(first, warm, *(start for start in leading if turns.after_pause(start + 1) == start))


def chosen(turns: Turns, weighed: Sequence[Turn], called: Sequence[Call]) -> list[Turn]:
    """Return the mentions that turn the talk, in order: the weightiest of those that exclude another."""
    able = [turn for turn in weighed if turn.score >= (_ENOUGH_CALLED if _is_called(turn, called) else _ENOUGH)]
    able = [turn for turn in able if not _is_announced(turn, able, turns)]
    kept: list[Turn] = []
    for turn in sorted(able, key=lambda one: (-one.score, one.start)):
        near = next((one for one in kept if _excludes(one, turn, turns)), None)
        if near is None:
            kept.append(turn)
        elif _is_first_of(turn, near, turns) or _is_fuller(turn, near, turns):
            kept[kept.index(near)] = turn
    return sorted(kept, key=lambda one: one.start)


def _is_called(turn: Turn, called: Sequence[Call]) -> bool:
    return turn.mention.how != "sound" and any(
        call.word < turn.mention.first and turn.start - call.start < _LEADS for call in called
    )


def _is_announced(turn: Turn, able: Sequence[Turn], turns: Turns) -> bool:
    """Tell whether a name is only announced, for it is turned to soon after; the first that is dosed or told counts.

    In the announcement of a block its rounds or rest come before any dose.
    """
    last = turn.mention.last
    same = [one for one in able if one.mention.names[0] == turn.mention.names[0] and one is not turn]
    done = (one for one in same if one.start < turn.start and _is_done(one) and one.score > turn.score - _ABOUT)
    if earlier := next(done, None):
        return not _is_again(turn, earlier, turns)
    frame = next((frame for frame in turns.frames if last < frame < last + _FRAMED), None)
    if turn.told >= 3 and frame is None:
        return False
    until = len(turns.texts) if frame is None else frame
    return any(
        one.start > turn.start
        and (frame is not None or one.score > turn.score)
        and _seconds(turns, turn, one) < _ANNOUNCED_FOR
        and not turns.is_dosed(last, min(one.start, until) - last)
        for one in same
    )


def _is_done(turn: Turn) -> bool:
    """Tell whether a movement is told or dosed where it is named, not only listed."""
    return turn.told >= 3 or ("dosed" in turn.reasons and "another soon" not in turn.reasons)


def _is_again(turn: Turn, known: Turn, turns: Turns) -> bool:
    """Tell whether a second turn to an exercise is to other sets of it (the working sets after the ramp-up)."""
    said = turns.texts[turn.start : turn.mention.last + 20]
    late = _seconds(turns, known, turn) >= _AGAIN
    return late and turn.score >= _ENOUGH_AGAIN and not _OTHER_SETS.isdisjoint(said)


def _excludes(kept: Turn, turn: Turn, turns: Turns) -> bool:
    """Tell whether a turn that is sure leaves no room for another: too near, or to the same exercise."""
    apart = abs(_seconds(turns, kept, turn))
    if apart < _SOON:
        return True
    if kept.mention.names[0] == turn.mention.names[0]:
        first, then = sorted((kept, turn), key=lambda one: one.start)
        return not _is_again(then, first, turns)
    return apart < _SHORT_FOR and _is_short_for(turn, kept)


def _is_short_for(turn: Turn, whole: Turn) -> bool:
    one_word = turn.mention.first == turn.mention.last
    return one_word and set(name_words(turn.mention.said)) < set(name_words(whole.mention.said))


def _is_fuller(turn: Turn, kept: Turn, turns: Turns) -> bool:
    """Tell whether of two names in one sentence the other is short for this one: "a lunge …, lunge with twist"."""
    return abs(_seconds(turns, kept, turn)) < _SOON and _is_short_for(kept, turn)


def _is_first_of(turn: Turn, kept: Turn, turns: Turns) -> bool:
    """Tell whether of two names in one sentence the first is meant: "step jacks, so a jumping jack but …"."""
    whole = turn.mention.first < turn.mention.last and turn.mention.how != "sound"
    together = abs(_seconds(turns, kept, turn)) < _SOON and turn.mention.names != kept.mention.names
    return whole and together and turn.mention.first < kept.mention.first and turn.score > kept.score - _ABOUT


def _seconds(turns: Turns, one: Turn, two: Turn) -> float:
    return float(turns.words[two.start].start - turns.words[one.start].start)
