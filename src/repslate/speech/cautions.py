"""Cautions said on camera: a case, a part of the body or a feeling, and what to do about it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.speech.caution_words import (
    JOINTS,
    LISTED,
    NAMED,
    OPENS,
    PROTECT,
    TROUBLE,
    Sign,
    bare,
    is_kind,
    parts_said,
    signs,
)
from repslate.speech.words import Word, quote

_CASE, _AFTER, _BEFORE, _ADVICE = 14, 9, 12, 14  # words: the longest of each part of a caution
_ENDS_ADVICE = LISTED["turns"] | LISTED["ends advice"]
_ENDS_CASE = LISTED["turns"] | LISTED["ends a case"]
_FORCE_IN = {"pull": "neck head", "pulling": "neck head", "lock": "knees elbows", "locking": "knees elbows"}
_NEAR = 6  # words between a feeling and the part that has it


@dataclass(frozen=True, slots=True)
class SpokenCaution:
    """A caution as it was said, from the word `first` to the word `last`; `time` is the start of the first word's cue.

    `topics` are words for the brackets of a written "Caution (knees): …": topics of training where there is one, else
    the part of the body; none where only a feeling was named ("if that hurts"), which is then the exercise's matter.
    """

    time: Fraction
    first: int
    last: int
    topics: tuple[str, ...]
    quote: str


def spoken_cautions(words: Sequence[Word]) -> tuple[SpokenCaution, ...]:
    """Return every caution in the order said; what overlaps is one."""
    talk = _Talk(words)
    found = sorted((one for rule in _RULES for one in rule(talk)), key=lambda one: (one.first, one.last))
    joined: list[_Found] = []
    for one in found:
        if joined and one.first <= joined[-1].last:
            last = joined.pop()
            joined.append(_Found(last.first, max(last.last, one.last), (*last.topics, *one.topics)))
        else:
            joined.append(one)
    return tuple(
        SpokenCaution(
            words[one.first].start,
            one.first,
            one.last,
            tuple(dict.fromkeys(one.topics)),
            quote(words, one.first, one.last),
        )
        for one in joined
    )


@dataclass(frozen=True, slots=True)
class _Found:
    first: int
    last: int
    topics: tuple[str, ...]


class _Talk:
    """The words with every sign in them, so that each rule looks only at what is near."""

    def __init__(self, words: Sequence[Word]) -> None:
        self.words = words
        self.said = bare(words)
        self.texts = [word.text for word in words]
        self.parts = parts_said(self.said)
        self.troubles = signs(self.said, TROUBLE)
        self.opens = signs(self.said, OPENS)
        self.protects = signs(self.said, PROTECT)

    def at(self, index: int) -> str:
        return self.said[index] if 0 <= index < len(self.said) else ""

    def end(self, first: int, limit: int) -> int:
        """Return the index after the last word of the sentence, at most `limit` words on."""
        stop = min(first + limit, len(self.said))
        return next((index + 1 for index in range(first, stop) if self.words[index].ends), stop)

    def start(self, before: int, limit: int) -> int:
        """Return the index of the first word of the sentence, at most `limit` words back."""
        stop = max(before - limit, 0)
        return next((index + 1 for index in range(before - 1, stop - 1, -1) if self.words[index].ends), stop)

    def is_order(self, index: int) -> bool:
        if self.at(index) not in LISTED["orders"]:
            return False
        if self.at(index) == "get" and self.at(index - 1) in {"and", "or"}:
            return False
        before = "" if not index or self.words[index - 1].ends else self.at(index - 1)
        return before not in LISTED["no order"] or (before == "you" and self.at(index) in LISTED["you may"])

    def order_after(self, first: int) -> int | None:
        """Return the first order from `first` on, before a new thought begins."""
        for index in range(first, self.end(first, _AFTER)):
            if self.is_order(index):
                return index
            if self.at(index) in LISTED["turns"] or (self.at(index) == "then" and not self.is_order(index + 1)):
                return None
        return None

    def order_before(self, end: int) -> int | None:
        """Return the order that leads up to the word `end`: the earliest after the last new thought."""
        found = None
        for index in range(end - 1, self.start(end, _BEFORE) - 1, -1):
            if self.texts[index] in _ENDS_ADVICE and not self.is_order(index):
                break
            found = index if self.is_order(index) else found
        return found

    def says_more(self, first: int) -> bool:
        """Tell whether something is said of a case that has no order known here; a welcome or praise is none."""
        after = self.texts[first : self.end(first, _NEAR)]
        return len(after) > 2 and LISTED["praise"].isdisjoint(after)

    def advice_end(self, order: int) -> int:
        """Return the last word of what one is told to do."""
        end = order
        stop = self.end(order, _ADVICE)
        opens = {one.first for one in near(self.opens, order + 1, stop)}
        for index in range(order + 1, stop):
            word = self.at(index)
            more = word in {"and", "or"} and not (word == "or" or self.is_order(index + 1))
            if index in opens or more or (self.texts[index] in _ENDS_ADVICE and not self.is_order(index)):
                break
            end = index
        while end > order and self.at(end) in LISTED["hanging"]:
            end -= 1
        return end


def near(every: Sequence[Sign], first: int, end: int) -> Sequence[Sign]:
    """Return the signs that begin from the word `first` on and before the word `end`."""
    low = bisect_left(every, first, key=lambda one: one.first)
    return every[low : bisect_left(every, end, lo=low, key=lambda one: one.first)]


# ---- the rules: each one way of saying it


def _cases(talk: _Talk) -> Iterator[_Found]:
    """If your knees grumble cut the range; sit higher if your knees aren't keen; stop before it pinches."""
    for sign in talk.opens:
        if talk.at(sign.first - 1) in (LISTED["has"] if talk.at(sign.first) == "got" else LISTED["asks"]):
            continue
        first, end = sign.last + 1, talk.end(sign.last + 1, _NEAR if sign.value == "any" else _CASE)
        end = next((at for at in range(first + 1, end) if talk.texts[at] in _ENDS_CASE), end)
        end = min(
            [
                end,
                *(
                    one.first
                    for one in near(talk.opens, first, end)
                    if talk.at(one.first) not in LISTED["inside a case"]
                ),
            ]
        )
        case = _case(talk, first, end, pain_only=sign.value != "if")
        if case is None:
            continue
        last, topics = case
        after = talk.order_after(last + 1) if sign.value != "before" else None
        before = talk.order_before(sign.first) if sign.value != "any" else None
        if after is not None:
            yield _Found(sign.first, talk.advice_end(after), topics or _meant(talk, sign, before))
        elif before is not None:
            yield _Found(before, last + (talk.at(last + 1) in LISTED["tags"]), topics or _meant(talk, sign, before))
        elif sign.value == "if" and topics and talk.says_more(last + 1):
            yield _Found(sign.first, talk.advice_end(last + 1), topics)


def _case(talk: _Talk, first: int, end: int, *, pain_only: bool = False) -> tuple[int, tuple[str, ...]] | None:
    """Return the last word and the topics of trouble that is spoken of between two words; None where none is."""
    last, topics, known = first, [], False
    if talk.at(first) == "yours":  # "my wrist is barking so if yours is too"
        first = talk.start(first, _NEAR + 4)
    for trouble in near(talk.troubles, first, end):
        if known and (trouble.first > last + _NEAR or any(map(talk.is_order, range(last + 1, trouble.first + 1)))):
            break
        part = _part_of(talk, trouble, first)
        if not _is_trouble(trouble.value, part, pain_only):
            continue
        known, last = True, max(last, trouble.last, part.last if part else 0)
        topics += [trouble.value] if trouble.value in NAMED else []
        topics += [part.value] if part else []
    if known:
        return last, tuple(dict.fromkeys(topics))
    return None if pain_only else _unheard_of(talk, first, end)


def _meant(talk: _Talk, sign: Sign, before: int | None) -> tuple[str, ...]:
    """Return the part that "if it hurts" speaks of: the last that was named in the order before it, or just before."""
    refers = talk.at(sign.last + 1) in LISTED["stands for"]
    if before is None and not refers:
        return ()
    first = talk.start(sign.first, 2 * _NEAR) if refers or before is None else before
    named = [one.value for one in near(talk.parts, first, sign.first) if one.value in JOINTS]
    return tuple(named[-1:])


def _part_of(talk: _Talk, trouble: Sign, first: int) -> Sign | None:
    """Return the part that the trouble is in: the one just before it in the same case, else the next one."""
    before = near(talk.parts, max(first, trouble.first - 2 * _NEAR), trouble.first)
    after = near(talk.parts, trouble.first, talk.end(trouble.first, trouble.last - trouble.first + 1 + _NEAR))
    if before or not after or any(map(talk.is_order, range(trouble.last + 1, after[0].first))):
        return before[-1] if before else None
    return after[0]


def _is_trouble(kind: str, part: Sign | None, pain_only: bool) -> bool:
    if kind == "pain" or kind in NAMED:
        return True
    if part is None or pain_only:
        return False
    if kind == "slip":
        return part.value == "back"
    if kind == "felt":
        return is_kind(part.value, "unfelt")
    return part.value in JOINTS or kind == "moan"


def _unheard_of(talk: _Talk, first: int, end: int) -> tuple[int, tuple[str, ...]] | None:
    """Return a case that no table knows: a joint does something, no good cue, and an order follows at once."""
    part = next((one for one in near(talk.parts, first, min(end, first + 4)) if one.value in JOINTS), None)
    if part is None:
        return None
    order = talk.order_after(part.last + 1)
    between = talk.said[part.last + 1 : order]
    if order is None or order >= end or not 0 < len(between) < 6 or not LISTED["fine"].isdisjoint(between):
        return None
    return order - 1, (part.value,)


def _bare(talk: _Talk) -> Iterator[_Found]:
    """Sore wrists make fists; knees not great today do the step instead."""
    for trouble in talk.troubles:
        if trouble.value not in {"pain", "moan"}:
            continue
        after = near(talk.parts, trouble.last + 1, trouble.last + 2)
        before = [one for one in near(talk.parts, trouble.first - 4, trouble.first) if one.last >= trouble.first - 3]
        part = after[0] if after else before[-1] if before else None
        if part is None:
            continue
        first, last = min(part.first, trouble.first), max(part.last, trouble.last)
        order = next((at for at in range(last + 1, last + 3) if talk.is_order(at)), None)
        if order is not None and talk.at(first - 1) not in LISTED["whose"]:
            yield _Found(first, talk.advice_end(order), (part.value,))


def _forbidden(talk: _Talk) -> Iterator[_Found]:
    """Don't force the shoulder."""
    for at, word in enumerate(talk.said):
        if word not in LISTED["force"] and word not in _FORCE_IN:
            continue
        forbids = next((i for i in range(at - 1, talk.start(at, 3) - 1, -1) if talk.at(i) in LISTED["forbids"]), None)
        allowed = _FORCE_IN.get(word, "").split() or JOINTS
        part = next(
            (one for one in near(talk.parts, at + 1, talk.end(at + 1, _NEAR - 1)) if one.value in allowed), None
        )
        if forbids is not None and part is not None:
            yield _Found(forbids, part.last, (part.value,))
    for trouble in talk.troubles:
        never = next(
            (i for i in range(trouble.first - 1, talk.start(trouble.first, 3) - 1, -1) if talk.at(i) == "shouldn't"),
            None,
        )
        part = _part_of(talk, trouble, trouble.first)
        if never is not None and part is not None and trouble.value == "pain":
            yield _Found(max(never - 1, 0), part.last, (part.value,))


def _foreseen(talk: _Talk) -> Iterator[_Found]:
    """You might get pins and needles and if you do bend the knees."""
    for trouble in talk.troubles:
        may = next(
            (
                at
                for at in range(trouble.first - 1, talk.start(trouble.first, 4) - 1, -1)
                if talk.at(at) in LISTED["may"]
            ),
            None,
        )
        if may is None:
            continue
        begin = talk.start(may, _NEAR)
        part = _part_of(talk, trouble, begin)
        order = talk.order_after(trouble.last + 1)
        if order is None or not _is_trouble(trouble.value, part, False) or trouble.value == "felt":
            continue
        if {"so", "if"}.isdisjoint(talk.said[trouble.last + 1 : order]):
            continue
        named = [trouble.value] if trouble.value in NAMED else []
        start = (
            part.first - (talk.at(part.first - 1) in {"your", "the"}) if part and part.first < may else max(may - 1, 0)
        )
        yield _Found(start, talk.advice_end(order), (*named, *([part.value] if part else [])))


def _protected(talk: _Talk) -> Iterator[_Found]:
    """Mind your head; keep your face out of the way; don't hold your breath; check with your doctor."""
    for sign in talk.protects:
        part = next(iter(near(talk.parts, sign.last + 1, sign.last + 3)), None)
        if sign.value == "hold breath":
            yield _Found(sign.first, sign.last, ("breath",))
        elif (
            sign.value == "ask"
            and talk.at(sign.last + 1) in LISTED["experts"]
            and talk.at(sign.first - 1) not in LISTED["no order"]
        ):
            yield _Found(sign.first, sign.last + 1, ())
        elif part is not None and _is_minded(sign.value, part.value):
            yield _Found(sign.first, part.last, (part.value,))
        elif part is not None and sign.value == "keep" and is_kind(part.value, "hit"):
            clear = next(
                (i for i in range(part.last + 1, part.last + 4) if f"{talk.at(i)} {talk.at(i + 1)}" in LISTED["clear"]),
                None,
            )
            if clear is not None:
                yield _Found(sign.first, talk.end(clear, 4) - 1, (part.value,))


def _is_minded(how: str, part: str) -> bool:
    """Tell whether a part is told to be careful with: "mind your toes"; "watch your feet" may ask for good form."""
    return not is_kind(part, "form") if how == "mind" else how == "watch" and part in {"face", "head", "hands"}


_RULES: tuple[Callable[[_Talk], Iterator[_Found]], ...] = (_cases, _bare, _forbidden, _foreseen, _protected)
