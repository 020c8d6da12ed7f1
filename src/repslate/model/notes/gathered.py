"""Notes while they are gathered: exercises from their lines, in blocks, in days."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from repslate.model.notes.blocks import PLAIN, TOGETHER, TypedBlock, settle_block
from repslate.model.notes.head import details
from repslate.model.notes.lines import is_said, read_lines
from repslate.model.notes.lists import split_exercises
from repslate.source.bounds import EXERCISES

_GROUP = re.compile(r"([A-Za-z])\d{0,2}|(\d{1,2})[A-Za-z]")
_BUY_IN = re.compile(r"(?i)buy[- ]?in")
_ENDS_IN_BRACKETS = re.compile(r"(.*\S)\s*\(([^()]*)\)\s*")
_UNITS_ALONE = frozenset({"s", "sec", "secs", "seconds", "min", "mins", "minutes"})  # "30on/15off (sec)"
_BY_COUNT = {2: "superset", 3: "tri-set"}


@dataclass(slots=True)
class TypedDay:
    """One day of notes: its title, its blocks, and the lines that are neither, each with its number from 1."""

    title: str = ""
    blocks: list[TypedBlock] = field(default_factory=list)
    unread: list[tuple[int, str]] = field(default_factory=list)


@dataclass(slots=True)
class Rows:
    """The lines of one exercise while they are gathered."""

    number: int
    lines: list[str]
    has_dose: bool


class Gathered:
    """The days of notes while they are gathered: the block at hand, and the lines of the exercise at hand."""

    def __init__(self) -> None:
        """Begin with one day without a title."""
        self.days = [TypedDay()]
        self.block: TypedBlock | None = None
        self.rows: Rows | None = None
        self.pending_superset = False
        self.in_paragraph = False
        self.after_blank = False

    @property
    def day(self) -> TypedDay:
        """The day at hand."""
        return self.days[-1]

    def finished(self) -> list[TypedDay]:
        """Return the days, when nothing more comes."""
        self.close()
        for day in self.days:
            _name_day(day)
            for block in day.blocks:
                settle_block(block)
        return [day for day in self.days if day.blocks or day.unread or day.title] or [TypedDay()]

    def begin_day(self, title: str, *, is_new: bool) -> None:
        """Give the day at hand its title, or begin another one."""
        if is_new:
            self.days.append(TypedDay())
        elif self.day.title:  # a title above the title
            self.day.unread.append((0, self.day.title))
        self.day.title, self.block = title, None

    def begin(self, heading: TypedBlock) -> None:
        """Begin a block; what is bought in before it belongs to it."""
        before = self.block
        if before and before.form == "straight" and not before.title and _is_bought_in(before):
            heading.exercises, before.exercises = before.exercises, []
            self.day.blocks.remove(before)
        self.block = heading
        self.in_paragraph = True
        self.day.blocks.append(heading)

    def inline(self, block: TypedBlock, number: int, text: str) -> None:
        """Take the exercises that stand on the heading's own line, and what its end adds to the heading."""
        ended = _ENDS_IN_BRACKETS.fullmatch(text)
        end = [ended[2]] if ended and details(ended[2]) else []
        text = ended[1] if ended and end else text
        pieces = (split_exercises(text, block.form) if text else []) + end
        while len(pieces) > 1 and (more := details(pieces[-1])):
            pieces.pop()
            block.rounds = block.rounds or more.rounds
            block.rest_between_rounds = block.rest_between_rounds or more.rest_between_rounds
            block.cap = more.cap if block.cap is None else block.cap
            block.minutes = block.minutes or more.minutes
        for one in pieces:
            if one.strip(" ().").casefold() in _UNITS_ALONE:
                continue
            if is_said(one):
                block.words.append(one)
            else:
                self.take(number, one)
        if block.form == "complex" and "+" in text and block.exercises[-1:] and block.exercises[-1].parts[0].per_side:
            for exercise in block.exercises:  # 5 swings + 5 cleans + 5 presses /side
                exercise.parts[0].per_side = True

    def take(self, number: int, text: str) -> None:
        """Take a line that is one exercise for itself."""
        self.rows = Rows(number, [text], has_dose=True)
        self.close()

    def close(self) -> None:
        """Read the gathered lines as one exercise of the block at hand."""
        if self.rows is None:
            return
        lines, self.rows = self.rows.lines, None
        exercise = read_lines(lines)
        letter = letter_of(exercise.label)
        block = None if self._leaves(exercise.label) else self.block
        self.after_blank = False
        if block is None or _is_of_another(block, letter):
            block = TypedBlock(form="straight", label=letter)
            self.begin(block)
        elif letter and not block.exercises and not block.label and not _is_numbering(block, exercise.label):
            block.label = letter
        if self.pending_superset:
            block.form, self.pending_superset = "superset", False
        block.exercises.append(exercise)
        if letter and block.label == letter and (block.form == "straight" or block.form in TOGETHER):
            _count_letters(block)

    def _leaves(self, label: str) -> bool:
        """Tell whether a numbered exercise behind a blank line ends a warm-up whose exercises have no numbers."""
        block = self.block
        if not self.after_blank or not label or block is None or not block.exercises:
            return False
        return block.form in ("warm-up", "flow", "circuit") and not any(one.label for one in block.exercises)


def _is_bought_in(block: TypedBlock) -> bool:
    return bool(block.exercises) and all(_BUY_IN.fullmatch(one.label) for one in block.exercises)


def _is_of_another(block: TypedBlock, letter: str) -> bool:
    """Tell whether the letter of an exercise is not that of the block's others."""
    if not letter or not block.exercises or _is_numbering(block, letter):
        return False
    is_lettered = block.form == "straight" or block.form in TOGETHER
    is_next = is_lettered and letter_of(block.exercises[-1].label) != letter
    return is_next or (bool(block.label) and block.label != letter)


def _is_numbering(block: TypedBlock, label: str) -> bool:
    """Tell whether a), b), c) number the exercises below a heading that says how they are done."""
    if len(label) != 1 or block.label or block.form in PLAIN:
        return False
    last = block.exercises[-1].label if block.exercises else chr(ord("a" if label.islower() else "A") - 1)
    return len(last) == 1 and ord(label) == ord(last) + 1


def _count_letters(block: TypedBlock) -> None:
    """Name a block after the number of its exercises that share its letter."""
    count = sum(letter_of(one.label) == block.label for one in block.exercises[-EXERCISES:])
    if (count > 1 and block.form != "superset") or count > 2:
        block.form = _BY_COUNT.get(count, "giant-set")


def letter_of(label: str) -> str:
    """Return what the exercises of a group share: "A1" → "A", "2B" → "2"."""
    group = _GROUP.fullmatch(label) if label else None
    return (group[1] or group[2]) if group else ""


def _name_day(day: TypedDay) -> None:
    """Give titles that no exercise stands under to the day: the first is its name, the others stay words."""
    titles = [block for block in day.blocks if not block.exercises and block.form in PLAIN and not block.says_figures]
    if len(titles) == len(day.blocks):
        return
    for block in titles:
        day.blocks.remove(block)
        if day.title:
            day.unread.append((0, block.title))
        else:
            day.title = block.title
