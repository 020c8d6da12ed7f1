"""What trainers put in front of the kind of a block: a letter, the rounds, a time, a scheme of repetitions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from repslate.model.block_ahead import TIME_WORDS, ends_name, is_separator, is_times
from repslate.model.block_parts import sees_named, sees_scheme
from repslate.model.forms import FORMS, INTERVALS_ONLY, ROUNDS_ONLY, BlockKind, Form, form_of
from repslate.model.quantity import NUMBER_WORDS
from repslate.model.tokens import Kind, Reader

KINDS = {tuple(words.split()): kind for kind, form in FORMS.items() for words in form.typed}
_LONGEST_FIRST = sorted(KINDS, key=len, reverse=True)
_BLOCK = ("block", "part")
_LONGEST_TITLE = 12  # tokens before a colon behind which a kind is looked for


@dataclass(frozen=True, slots=True)
class Front:
    """What stands before a kind: the place of a letter, and where a part begins, each in steps from the reader.

    `steps` is where the kind begins. A part that is a bare number is rounds or minutes, as the kind behind it says.
    """

    steps: int = 0
    letter: int | None = None
    part: int | None = None
    says: Literal["rounds", "clock", "number", "scheme", "interval"] | None = None

    def nearer(self, steps: int) -> Front:
        """Return the same front, without a letter, from a reader so many steps on."""
        return Front(self.steps - steps, None, None if self.part is None else self.part - steps, self.says)


def _fronts(r: Reader, start: int = 0) -> list[Front]:
    """Return what can stand in front of a kind from a step on, the longest first; nothing in front is always the last.

    Two fronts as long as each other keep the order of their making, so a time is one before it is a bare number.
    """
    found = [Front(start)]
    for lead in (Front(start), *_letters(r, start)):
        found += [] if lead.letter is None else [lead]
        found += _parts(r, lead)
    return sorted(found, key=lambda front: -front.steps)


def _letters(r: Reader, start: int) -> Iterator[Front]:
    at = start + int(r.ahead(start).word in _BLOCK)
    sign, following = r.ahead(at), r.ahead(at + 1)
    is_sign = (sign.kind is Kind.WORD and len(sign.text) == 1) or (sign.kind is Kind.FIGURE and sign.text.isdigit())
    if not is_sign or len(sign.text) > 6:
        return
    if following.text in (":", ".", ")") or following.is_dash:
        yield Front(at + 2, letter=at)
    elif r.text[sign.end : sign.end + 1] == ".":  # "A. Superset": the reader drops a dot behind a word
        yield Front(at + 1, letter=at)


def _parts(r: Reader, lead: Front) -> Iterator[Front]:
    """Yield the parts that may stand behind a letter, or behind nothing, and before the kind."""
    at = lead.steps
    first, second = r.ahead(at), r.ahead(at + 1)
    if steps := sees_named(r, at):
        yield Front(at + steps, lead.letter, at, "interval")
    if steps := sees_scheme(r, at):
        yield Front(at + steps, lead.letter, at, "scheme")
    if first.is_number:
        dash = int(second.is_dash and second.glued)
        if r.ahead(at + 1 + dash).word in TIME_WORDS:
            yield Front(at + 2 + dash, lead.letter, at, "clock")
        elif first.kind is Kind.CLOCK or second.kind is Kind.WORD:
            yield Front(at + 1, lead.letter, at, "number")
    if first.kind is Kind.FIGURE or first.word in NUMBER_WORDS:
        if second.word in ("round", "rounds"):
            yield Front(at + 2 + (r.ahead(at + 2).word == "of"), lead.letter, at, "rounds")
        elif second.word in ("x", "×"):
            yield Front(at + 2, lead.letter, at, "rounds")


def behind_title(r: Reader) -> int:
    """Return the step behind the first colon, or dash between blanks, in front of which a title may stand, or 0."""
    for step in range(1, _LONGEST_TITLE):
        token = r.ahead(step)
        if token.kind is Kind.END or token.is_number:
            return 0
        if token.text == ":" or (token.is_dash and not token.glued and not r.ahead(step + 1).glued):
            return step + 1
    return 0


def front_at(r: Reader, start: int) -> tuple[Front, BlockKind, int] | None:
    """Return the front from a step on, the kind behind it, and in how many tokens that is spelt (0: it is assumed)."""
    for front in _fronts(r, start):
        kind, steps = _kind_at(r, front)
        if kind is not None and not (start and front.letter is not None):
            return front, kind, steps
    return None


def _kind_at(r: Reader, front: Front) -> tuple[BlockKind | None, int]:
    """Return the kind that is spelt behind a front, and in how many tokens."""
    for words in _LONGEST_FIRST:
        steps = _spelt(r, words, front.steps)
        kind = KINDS[words]
        if steps and _fits(r, front, form_of(kind), front.steps + steps):
            return kind, steps
    for kind, form in FORMS.items():
        if form.clipped and (steps := _clipped(r, form.clipped, front.steps)) and front.part is None:
            return kind, steps
    if front.says in ("rounds", "interval") and front.part is not None and not is_times(r, front.part):
        after = r.ahead(front.steps)
        if after.kind is Kind.END or after.text == ":" or is_separator(r, front.steps):
            return (ROUNDS_ONLY if front.says == "rounds" else INTERVALS_ONLY), 0
    return None, 0


def _fits(r: Reader, front: Front, form: Form, behind: int) -> bool:
    """Tell whether a kind may stand behind this front, and, if its name is an everyday word, before what follows."""
    if front.says == "number" and (form.counts is None or not _counts(r, front, form)):
        return False
    if front.says == "scheme" and form.in_sets:
        return False
    return not form.is_everyday or ends_name(r, behind)


def _counts(r: Reader, front: Front, form: Form) -> bool:
    token = r.ahead(front.part or 0)
    return form.counts == "minutes" or (token.kind is Kind.FIGURE and token.text.isdecimal() and len(token.text) <= 6)


def _clipped(r: Reader, around: tuple[str, str], start: int) -> int:
    """Return 3 where "E2MOM" stands from a step on, else 0."""
    one, two, three = (r.ahead(start + step) for step in range(3))
    is_clipped = one.word == around[0] and two.kind is Kind.FIGURE and three.word == around[1]
    return 3 if is_clipped and two.glued and three.glued else 0


def _spelt(r: Reader, words: tuple[str, ...], start: int) -> int:
    """Return how many tokens from `start` spell these words, glued dashes between them left aside; 0 if none do."""
    step = start
    for word in words:
        if step > start and r.ahead(step).is_dash and r.ahead(step).glued:
            step += 1
        if r.ahead(step).word != word:
            return 0
        step += 1
    return step - start
