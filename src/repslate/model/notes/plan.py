"""Notes to a plan: days of blocks of exercises, from whatever a coach typed or pasted, line by line."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.dose import Dose, TypedExercise, TypedLoad
from repslate.model.notes.headings import TypedBlock, details, read_heading
from repslate.model.notes.items import item
from repslate.model.notes.lines import each_set, read_lines, split_label, strip_bullet
from repslate.model.notes.tables import Table, is_rule, table_head, table_row
from repslate.model.quantity import Range

_DAY = re.compile(
    r"(?i)^[\s#*_]*(?:(?:week\s*\d+\s*[,·:–-]?\s*)?day\s*(?:\d{1,2}|[a-f])\b|(?:mon|tues|wednes|thurs|fri|satur|sun)day\b|session\s*\d\b)"
)
#: What messengers put in front of each message.
_CHAT = re.compile(r"^\s*\[[^\]]*\d{1,2}[:.]\d{2}[^\]]*\]\s*(?:[^:,.\d]{2,30}:\s+)?")
_MARKED_HEAD = re.compile(r"^(?:(#{1,6})\s+(.+?)\s*#*|(?:\*\*|__)([^*_]+)(?:\*\*|__)\s*:?)$")
_PHASE_ROW = re.compile(r"(?i)^(warm[- ]?up|cool[- ]?down)\s*[,|\t;]\s*(\D.*\d.*)$")
_PART = re.compile(r"(?i)^(?:part|block|section)\s+(?:one|two|three|four|five|\d|[a-f])\b")
_TWICE = {
    "once": 1,
    "twice": 2,
    "three times": 3,
    "3 times": 3,
    "two times": 2,
    "2 times": 2,
    "four times": 4,
    "4 times": 4,
}
_CHAIN = re.compile(r"(?i)\d\s*[x×]\s*\d|\d\s*sets?\b")
_TITLE_WORDS = frozenset(
    "week wk session class block programme program workout group sheet training phase weeks".split()
)
_TALK = frozenset(
    "you your you're you've you'll i i'll i'm i've me my if we we've us don't dont who whoever anybody anyone nobody please pls it's"
    " ask tell write text she he they her him when should hope because same".split()
)
_GROUP = re.compile(r"([A-Za-z])(\d{1,2})|(\d{1,2})([A-Za-z])")
_WITH = re.compile(
    r"(?i)^[\s–—\-*(]*(?:superset(?:ted)?\s+with|ss\s*(?:with|w/)|paired\s+with|super\s*set|\+\s*superset)[\s–—\-*):]*$"
)
_BY_COUNT = {2: "superset", 3: "tri-set"}
_LONGEST_NAME = 8  # words; what is longer and has no figure is prose
_ROUNDS_OF = re.compile(r"(?i)^\W*\d{1,2}\s+(?:rounds|rds)(?:\s+of)?\s*:?\s*$")
_BETWEEN_ROUNDS = re.compile(
    r"(?i)\b(?:between|after|btw)\s+(?:each\s+|every\s+)?(?:rounds?|rds?|circuits?|supersets?)\b"
)
_CAP = re.compile(r"(?i)\bcap\b|\btc\b")
_IN_ROUNDS = frozenset(
    {"intervals", "circuit", "for-time", "rounds-for-time", "amrap", "partner", "chipper", "complex"}
)
_COLUMNS = re.compile(r"\s*[|\t]\s*|\s{3,}|;\s*")


@dataclass(slots=True)
class TypedDay:
    """One day of notes: its title, its blocks, and the lines that are neither, each with its number from 1."""

    title: str = ""
    blocks: list[TypedBlock] = field(default_factory=list)
    unread: list[tuple[int, str]] = field(default_factory=list)


@dataclass(slots=True)
class _Rows:
    """The lines of one exercise while they are gathered."""

    number: int
    lines: list[str]
    is_open: bool = True


def read_notes(text: str) -> list[TypedDay]:
    """Read a text; one day where it names none. Nothing is lost: a line is read, or stands in `unread`."""
    reader = _Notes()
    lines = text.splitlines()
    for number, line in enumerate(lines, 1):
        reader.line(number, _CHAT.sub("", line), [_CHAT.sub("", one) for one in lines[number : number + 6]])
    return reader.finished()


class _Notes:
    def __init__(self) -> None:
        self.days = [TypedDay()]
        self.rows: _Rows | None = None
        self.block: TypedBlock | None = None
        self.pending_superset = False
        self._was_rest = False
        self.in_paragraph = False
        self.after_blank = False
        self.table: Table | None = None

    @property
    def day(self) -> TypedDay:
        return self.days[-1]

    def line(self, number: int, raw: str, below: list[str]) -> None:
        text = raw.strip()
        following = next((one for one in below if one.strip()), "")
        if row := _PHASE_ROW.match(text):
            self._phase_row(number, row[1], row[2])
            return
        if self._in_table(number, raw):
            return
        text = text.strip('"') if text.count('"') == 2 and text.startswith('"') else text
        if not text or not any(map(str.isalnum, text)):
            self._close()
            self.in_paragraph = False
            self.after_blank = True
            return
        if head := _MARKED_HEAD.match(text):
            self._close()
            self._marked(len(head[1] or ""), head[2] or head[3])
            return
        if _DAY.match(text):
            self._close()
            self.block = None
            if self.day.blocks or self.day.unread:
                self.days.append(TypedDay())
            self.day.title = text.strip("#*_ ")
            return
        if _WITH.match(text):
            self._close()
            self.pending_superset = True
            if self.block:
                self.block.form = "superset"
            return
        is_between = self._is_in_rounds() or bool(_BETWEEN_ROUNDS.search(text))
        if _ROUNDS_OF.match(text) or _CAP.search(text) or (is_between and self._rest_line(text)):
            pass
        elif self._continues(text):
            assert self.rows
            self.rows.lines.append(text)
            return
        if self._was_rest:
            self._was_rest = False
            return
        heading = read_heading(text)
        if (
            heading
            and self.block
            and heading.work
            and heading.inline
            and self.block.rest_between_rounds
            and ((heading.work, heading.rest, heading.rounds) == (self.block.work, self.block.rest, self.block.rounds))
        ):
            self._close()
            count = (self.block.outer_sets.low if self.block.outer_sets else Decimal(1)) + 1
            self.block.outer_sets = Range(count, count)
            self._inline(number, heading.inline)
            return
        if heading and not self._is_detail(heading):
            self._close()
            self._begin(heading)
            if heading.inline:
                self._inline(number, heading.inline)
            return
        if heading and self.block:
            self._close()
            self._detail(heading)
            return
        if self._rest_line(text):
            self._was_rest = False
            return
        if _PART.match(text) and not _has_dose(re.sub(r"(?i)\b(?:once|twice|\w+ times)\b.*", "", text)):
            self._close()
            count = next((count for words, count in _TWICE.items() if words in text.casefold()), None)
            rounds = None if count is None else Range(Decimal(count), Decimal(count))
            self._begin(TypedBlock(form="circuit" if rounds else "straight", title=text, rounds=rounds))
            return
        if self._is_prose(text, number):
            self._close()
            self.day.unread.append((number, text))
            return
        if len(chain := [piece for piece in re.split(r"\s*(?:→|->)\s*", text) if piece]) > 2 and not _has_dose(text):
            self._close()
            for one in chain:
                self.rows = _Rows(number, [one])
                self._close()
            return
        if self._heads_names(text, below):
            self._close()
            times = _TIMES_IN.search(text)
            head = read_lines([_TIMES_IN.sub("", text)])
            rounds = Range(Decimal(times[1]), Decimal(times[1])) if times else head.parts[0].sets
            self._begin(TypedBlock(form="straight", title=head.name, rounds=rounds, each=head.parts[0]))
            return
        if titled := _titled_list(text):
            self._close()
            title, pieces = titled
            head = read_heading(title) or TypedBlock(form="straight", title=title)
            self._begin(head)
            for one in pieces:
                self.rows = _Rows(number, [one])
                self._close()
            return
        if split := _listed(text):
            self._close()
            self._begin(TypedBlock(form="chipper"))
            for one in split:
                self.rows = _Rows(number, [one])
                self._close()
            return
        self._exercise(number, text, following)

    # ---- tables and marked headings

    def _in_table(self, number: int, raw: str) -> bool:
        """Take a line as the head or a row of a table."""
        if head := table_head(raw):
            self._close()
            self.table, self.block = head, None
            return True
        if self.table is None:
            return False
        if is_rule(raw) and raw.strip():
            return True
        row = table_row(raw, self.table) if raw.strip() else None
        if row is None:
            if raw.strip():
                self.table = None
            self._close()
            return False
        block, line = row
        label, named = "", read_heading(block) if block else None
        if re.fullmatch(r"[A-Za-z]|[A-Za-z]?\d{1,2}[a-z]?", block):
            label = f"{block}) " if block else ""
        elif block and (self.block is None or self.block.title != block):
            self._begin(named or TypedBlock(form="straight", title=block))
            assert self.block
            self.block.title = block
        self._close()
        self.rows = _Rows(number, [label + line])
        self._close()
        return True

    def _marked(self, level: int, text: str) -> None:
        """Begin a block under a heading that is marked as one; the first of the highest level names the day."""
        if level == 1 or (_DAY.match(text) and not read_heading(text)):
            if self.day.blocks:
                self.days.append(TypedDay())
            self.day.title = text
            self.block = None
            return
        heading = read_heading(text)
        if heading is None:
            heading = TypedBlock(form="straight", title=text)
            more = details(re.sub(r"[^()]*\((.*)\).*", r"\1", text)) if "(" in text else None
            heading.rounds = more.rounds if more else None
        self._begin(heading)
        if heading.inline:
            self._inline(0, heading.inline)

    def _phase_row(self, number: int, phase: str, text: str) -> None:
        """Take "warm up, leg swings, 10/leg": the part of the day in front, as in a sheet."""
        self._close()
        form = "warm-up" if phase.casefold().startswith("w") else "cool-down"
        if self.block is None or self.block.form != form:
            self._begin(TypedBlock(form=form))
        self.rows = _Rows(number, [text])
        self._close()

    # ---- headings

    def _is_detail(self, heading: TypedBlock) -> bool:
        """Tell whether a line adds to the block at hand: a cap, a number of rounds, "for time" below "4 rounds"."""
        if self.block is None:
            return False
        if self.block.exercises or self.rows:
            return heading.cap is not None and heading.form == "for-time" and not heading.title
        return (
            heading.form in ("for-time", "circuit", "rounds-for-time")
            and not heading.inline
            and (bool(heading.cap) or self.block.form in ("circuit", "partner", "straight") or not heading.says_figures)
        )

    def _detail(self, heading: TypedBlock) -> None:
        block = self.block
        assert block
        block.cap = block.cap or heading.cap
        if heading.form in ("for-time", "rounds-for-time") and not heading.cap and block.form == "circuit":
            block.form = "rounds-for-time"
        block.rounds = block.rounds or heading.rounds
        if heading.title:
            block.words.append(heading.title)

    def _is_in_rounds(self) -> bool:
        return self.block is not None and self.block.form in _IN_ROUNDS

    def _begin(self, heading: TypedBlock) -> None:
        if self.block and self.block.exercises and all(_is_buy_in(one.label) for one in self.block.exercises):
            if self.block.form == "straight" and not self.block.title:
                heading.exercises, self.block.exercises = self.block.exercises, []
                self.day.blocks.remove(self.block)
        self.block = heading
        self.in_paragraph = True
        self.day.blocks.append(heading)

    def _inline(self, number: int, text: str) -> None:
        """Take the exercises that stand on the heading's own line, and what its end adds to the heading."""
        assert self.block
        for one in self._details(split_exercises(text, self.block.form)):
            self.rows = _Rows(number, [one])
            self._close()

    def _details(self, pieces: list[str]) -> list[str]:
        """Return the pieces that are exercises; rounds, a rest or a cap at the end go into the block."""
        assert self.block
        while len(pieces) > 1:
            more = details(pieces[-1])
            if more is None:
                break
            pieces.pop()
            for name in ("rounds", "rest_between_rounds", "cap", "minutes"):
                if getattr(self.block, name) is None:
                    setattr(self.block, name, getattr(more, name))
        return pieces

    def _rest_line(self, text: str) -> bool:
        """Take "Rest 2 min between rounds" into the block, and "Rest 3 min" between two groups of exercises."""
        typed = typed_line(strip_bullet(text))
        found = item(typed, 0, Dose(), has_name=False)
        if not found or not ({"rest", "rest_as_needed"} & found.fields.keys()) or found.end < typed.end:
            return False
        if self.block is None or ("between" not in text.lower() and self.block.form not in _IN_ROUNDS):
            return False
        if self.block.exercises or self.rows:
            self._close()
            if isinstance(found.fields.get("rest"), Range):
                self.block.rest_between_rounds = self.block.rest_between_rounds or found.fields["rest"]  # type: ignore[assignment]
            else:
                self.block.words.append(text)
            self._was_rest = True
            return True
        return False

    # ---- exercises

    def _continues(self, text: str) -> bool:
        """Tell whether a line goes on with the exercise above: a dose without a name of its own."""
        if self.rows is None:
            return False
        label, rest = split_label(strip_bullet(text))
        if label and not re.fullmatch(r"(?i)set\s*\d+", label):
            return False
        if _begins_dose(rest):
            one = read_lines([text])
            is_first_dose = not any(_has_dose(line) for line in self.rows.lines)
            return not one.name or is_first_dose or _begins_part(rest)
        return False

    @staticmethod
    def _heads_names(text: str, below: list[str]) -> bool:
        """Tell whether a line with figures stands over indented names without any: "drills x2, 20 m"."""
        if text.startswith(("-", "*", "•")) or split_label(text)[0] or len(below) < 2:
            return False
        names = below[:2]
        are_names = all(
            one.startswith((" ", "\t")) and one.strip() and len(one.split()) <= 4 and not _has_dose(strip_bullet(one))
            for one in names
        )
        return are_names and _has_dose(text)

    def _is_prose(self, text: str, number: int) -> bool:
        """Tell whether a line talks to somebody, or names the file, and has no dose as exercises have."""
        words = re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)?", text.casefold().replace("’", "'"))
        if _CHAIN.search(text) or split_label(strip_bullet(text))[0]:
            return False
        if number == 1 and _TITLE_WORDS & set(words):
            if not self.day.title:
                self.day.title = text
            return True
        talks = _TALK & set(words)
        return len(words) > 5 and (len(talks) > 1 or (bool(talks) and len(words) > 9))

    def _exercise(self, number: int, text: str, following: str) -> None:
        self._close()
        label, rest = split_label(strip_bullet(text))
        if not _has_dose(rest) and not label:
            below = strip_bullet(following.strip())
            is_dose = _begins_dose(below) and not split_label(below)[0]
            if is_dose and ((_begins_part(below) and _has_dose(below)) or not read_heading(following)):
                if len(rest.split()) <= 2 * _LONGEST_NAME:
                    self.rows = _Rows(number, [text])
                    return
            is_inside = self.block is not None and (self.in_paragraph or self.block.form not in ("", "straight"))
            are_bare = self.block is not None and not any(
                one.parts[0].has_work for one in self.block.exercises if not self.block.each.has_work
            )
            is_name = is_inside and are_bare and len(rest.split()) <= _LONGEST_NAME
            if is_name and not rest.endswith((".", "!", "?", ":")):
                self.rows = _Rows(number, [text])
                self._close()
                return
            if (
                len(rest.split()) <= _LONGEST_NAME
                and (rest.endswith(":") or following.strip() or raw_title(rest))
                and not rest.endswith((".", "!", "?"))
            ):
                self._begin(TypedBlock(form="straight", title=rest.rstrip(":").strip("#*_ ")))
                return
            self.day.unread.append((number, text))
            return
        self.rows = _Rows(number, [text])

    def _close(self) -> None:
        """Read the gathered lines as one exercise of the block at hand."""
        if self.rows is None:
            return
        lines, self.rows = self.rows.lines, None
        exercise = read_lines(lines)
        group = _GROUP.fullmatch(exercise.label)
        letter = (group[1] or group[3]) if group else ""
        block = self.block
        if self._leaves(exercise.label):
            block = None
        self.after_blank = False
        if block is None or (letter and block.label and block.label != letter and block.exercises):
            if not (block and block.form not in ("", "straight") and not letter):
                block = TypedBlock(form="straight", label=letter)
                self._begin(block)
        elif letter and not block.exercises and not block.label:
            block.label = letter
        elif (
            letter
            and block.exercises
            and _letter(block.exercises[-1].label) != letter
            and block.form in ("straight", "superset", "tri-set", "giant-set")
        ):
            block = TypedBlock(form="straight", label=letter)
            self._begin(block)
        if self.pending_superset and self.block:
            self.block.form, self.pending_superset = "superset", False
        block.exercises.append(exercise)
        if letter and block.form in ("straight", "superset", "tri-set", "giant-set") and block.label == letter:
            count = sum(_letter(one.label) == letter for one in block.exercises)
            if (count > 1 and block.form != "superset") or count > 2:
                block.form = _BY_COUNT.get(count, "giant-set")

    @staticmethod
    def _titles(day: TypedDay) -> None:
        """Give titles that no exercise stands under to the day: the first is its name, the others stay words."""
        if all(map(_is_title, day.blocks)):
            return
        for block in [block for block in day.blocks if _is_title(block)]:
            day.blocks.remove(block)
            if day.title or not day.blocks:
                day.unread.append((0, block.title))
            else:
                day.title = block.title

    def _leaves(self, label: str) -> bool:
        """Tell whether a numbered exercise behind a blank line ends a warm-up whose exercises have no numbers."""
        block = self.block
        if not (self.after_blank and label and block and block.exercises) or block.form not in (
            "warm-up",
            "flow",
            "circuit",
        ):
            return False
        return not any(one.label for one in block.exercises)

    def finished(self) -> list[TypedDay]:
        self._close()
        for day in self.days:
            self._titles(day)
            for block in day.blocks:
                _settle(block)
        return [day for day in self.days if day.blocks or day.unread] or [TypedDay()]


_APART = re.compile(r"\s*[,;]\s+|\s+→\s+|\s*→\s*|\s+/\s+")


def split_exercises(text: str, form: str) -> list[str]:
    """Return the exercises of a list on one line: by commas, arrows or slashes, in a superset by "&" and "+" too."""
    together = form in (
        "superset",
        "tri-set",
        "giant-set",
        "for-time",
        "rounds-for-time",
        "amrap",
        "circuit",
        "every-n",
        "complex",
        "chipper",
    )
    text = text.strip().strip("()")
    pieces = [piece for piece in _APART.split(text) if piece.strip()]
    if len(pieces) < 2 and together and form != "every-n":
        pieces = [piece for piece in re.split(r"\s+[&+]\s+|\s+and\s+", text) if piece.strip()]
    elif form == "complex":
        pieces = [one for piece in pieces for one in re.split(r"\s+\+\s+", piece)]
    named = [bool(read_lines([piece]).name) for piece in pieces]
    if all(named):
        return pieces
    if len(pieces) > 1 and any(named[1:]) and not (pieces[-1] and named[-1]):
        joined = [pieces[0]]
        for piece, is_named in zip(pieces[1:], named[1:], strict=True):
            if is_named or details(piece):
                joined.append(piece)
            else:
                joined[-1] += f", {piece}"
        return joined
    if all(named[:1]) and len(pieces) > 1 and all(details(piece) for piece in pieces[1:]):
        return pieces
    return [text]


def _is_title(block: TypedBlock) -> bool:
    return not block.exercises and block.form in ("", "straight") and not block.says_figures


def _is_buy_in(label: str) -> bool:
    return bool(re.fullmatch(r"(?i)buy[- ]?in", label))


def raw_title(text: str) -> bool:
    """Tell whether a line looks like a title: capitals throughout, or a word and brackets."""
    return text.isupper() or text.istitle()


def _letter(label: str) -> str:
    group = _GROUP.fullmatch(label)
    return (group[1] or group[3]) if group else ""


def _listed(text: str) -> list[str]:
    """Return the exercises of a line that lists them: "40 sit-ups – 30 lunges – 20 hops"; [] for any other."""
    pieces = re.split(r"\s+[–—-]\s+", text)
    if len(pieces) < 3 or not all(re.match(r"\d+\s?(?:km|m|cal)?\s+\D", piece) for piece in pieces):
        return []
    return pieces


_TIMES_IN = re.compile(r"(?i)\s*\bx\s*(\d{1,2})\b")
_TIMES_TITLE = re.compile(r"(?i)\s*x\s*(\d{1,2})\s*$")


def _titled_list(text: str) -> tuple[str, list[str]] | None:
    """Return title and exercises of "Drills: high knees 2x20 m, butt kicks 2x20 m"; None for any other line."""
    title, colon, rest = strip_bullet(text).partition(": ")
    if not colon or _has_dose(_TIMES_TITLE.sub("", title)) or len(title.split()) > 6:
        return None
    pieces = [piece for piece in _APART.split(rest) if piece.strip()]
    if len(pieces) < 2 or not all(_has_dose(piece) and read_lines([piece]).name for piece in pieces):
        return None
    return (title + ":" if _TIMES_TITLE.search(title) else title), pieces


def _has_dose(text: str) -> bool:
    typed = typed_line(text)
    return any(item(typed, at, Dose(), has_name=at > 0) for at in range(typed.end))


def _begins_dose(text: str) -> bool:
    """Tell whether a line begins with a figure or the name of a part, so that it may go on with the exercise above."""
    typed = typed_line(text)
    at = 0
    while typed[at].word in ("do", "this", "for", "repeat", "perform", "complete"):
        at += 1
    while typed[at].text in (",", "@", "(", "+", "-", "–", "*", "•") or typed[at].is_times:
        at += 1
    if typed.sees(
        at, "topset", "backoff", "warmupset", "heavy", "last", "tempo", "every", "buildto", "myo", "rpe", "rest"
    ):
        return True
    if re.match(r"(?i)set\s*\d", text):
        return True
    return typed.amount(at) is not None or bool(item(typed, at, Dose(), has_name=False))


def _begins_part(text: str) -> bool:
    typed = typed_line(text)
    return bool(typed.sees(0, "topset", "backoff", "warmupset", "last")) or bool(re.match(r"(?i)set\s*\d", text))


def _settle(block: TypedBlock) -> None:
    """Decide what only the whole block tells."""
    for exercise in block.exercises:
        dose = exercise.parts[0]
        if block.each.has_work and not dose.has_work:
            dose.reps, dose.seconds, dose.breaths = block.each.reps, block.each.seconds, block.each.breaths
            dose.per_side = dose.per_side or block.each.per_side
    only = block.exercises[0] if len(block.exercises) == 1 else None
    if (
        block.form in ("warm-up", "cool-down")
        and only
        and not only.name
        and block.minutes is None
        and only.parts[0].seconds
    ):
        seconds = only.parts[0].seconds
        block.minutes = Range(seconds.low / 60, seconds.high / 60)
    _find_scheme(block)
    if block.every and block.minutes and block.rounds is None and len(block.exercises) == 1:
        count = block.minutes.low * 60 / block.every
        if count == count.to_integral():
            block.rounds = Range(count, count)
    if block.form == "straight" and not block.title and len(block.exercises) > 1:
        doses = [one.parts[0] for one in block.exercises]
        if all(dose.has_work and dose.sets is None and not dose.load for dose in doses) and not any(
            one.label for one in block.exercises
        ):
            block.form = "circuit"
    if block.form in ("superset", "tri-set", "giant-set") and block.rounds is None:
        counts = {one.parts[0].sets for one in block.exercises}
        if len(counts) == 1 and (only := counts.pop()):
            block.rounds = only
    if (
        block.form == "every-minute"
        and block.minutes is None
        and block.rounds
        and len(block.exercises) <= 1
        and block.every
    ):
        block.minutes = Range(block.rounds.low * block.every / 60, block.rounds.high * block.every / 60)


def _find_scheme(block: TypedBlock) -> None:
    """Find the scheme where the same exercises come again and again with other repetitions: 50 …, 35 …, 20 …."""
    names = [one.name.casefold().rstrip("s") for one in block.exercises]
    cycle = next((at for at in range(1, len(names)) if names[at] == names[0]), 0)
    if (
        not cycle
        or len(names) % cycle
        or block.scheme
        or block.form not in ("for-time", "straight", "circuit", "chipper")
    ):
        return
    if any(name != names[at % cycle] for at, name in enumerate(names)):
        return
    reps = [one.parts[0].reps for one in block.exercises[::cycle]]
    if all(len(one) == 1 and one[0].low == one[0].high for one in reps) and len(reps) > 2:
        block.scheme = tuple(one[0].low for one in reps)
        block.form = "ladder" if block.form in ("straight", "circuit") else block.form


# ---- as JSON


def as_json(days: Sequence[TypedDay]) -> dict[str, object]:
    """Return the plan as plain data, one day after the other."""
    return {
        "blocks": [_block(block) for day in days for block in day.blocks],
        "unread": [{"line": number, "text": text} for day in days for number, text in day.unread],
    }


def _pair(figures: Range[Decimal] | None) -> list[int | float] | None:
    return None if figures is None else [_plain(figures.low), _plain(figures.high)]


def _plain(value: Decimal) -> int | float:
    rounded = round(value, 2)
    return int(rounded) if rounded == rounded.to_integral() else float(rounded)


def _present(fields: dict[str, object]) -> dict[str, object]:
    return {key: value for key, value in fields.items() if value not in (None, "", [], (), False)}


def _block(block: TypedBlock) -> dict[str, object]:
    return {
        "form": block.form or "straight",
        **_present({
            "letter": block.label,
            "title": block.title,
            "rounds": _pair(block.rounds),
            "outer_sets": _pair(block.outer_sets),
            "minutes": _pair(block.minutes),
            "work_s": _pair(block.work),
            "rest_s": _pair(block.rest),
            "rest_between_rounds_s": _pair(block.rest_between_rounds),
            "every_s": None if block.every is None else _plain(block.every),
            "cap_minutes": None if block.cap is None else _plain(block.cap),
            "scheme": [_plain(one) for one in block.scheme],
            "people": block.people,
            "alternating": block.alternating,
            "as_typed": block.words,
        }),
        "exercises": [_exercise(one) for one in block.exercises],
    }  # fmt: skip


def _exercise(exercise: TypedExercise) -> dict[str, object]:
    parts = [_part(part) for part in exercise.parts]
    head = {"name": exercise.name, "letter": exercise.label}
    if len(parts) == 1:
        return _present(head | parts[0])
    return _present(head | _whole(exercise.parts) | {"parts": parts})


def _whole(parts: list[Dose]) -> dict[str, object]:
    """Return what all parts come to: the sets, the repetitions of each, and its load."""
    worked = list(each_set(parts))
    sets = [part.sets or Range(Decimal(1), Decimal(1)) for part in worked]
    total = Range(sum((one.low for one in sets), Decimal(0)), sum((one.high for one in sets), Decimal(0)))
    fields: dict[str, object] = {"sets": _pair(total)}
    if all(one.low == one.high for one in sets):
        reps = [
            reps
            for part, count in zip(worked, sets, strict=True)
            for reps in (part.reps if len(part.reps) > 1 else part.reps * int(count.low))
        ]
        if len(set(reps)) == 1 and len(reps) == total.low:
            fields["reps"] = _pair(reps[0])
        elif len(reps) == total.low:
            fields["reps_by_set"] = [_pair(one) for one in reps]
    for key in ("rest_s", "per_side", "tempo", "reps_open_last", "max_last"):
        found = [value for part in parts if (value := _part(part).get(key))]
        if found:
            fields[key] = found[-1]
    return fields


def _part(part: Dose) -> dict[str, object]:
    load = part.load or part.effort
    words = list(part.words)
    if part.load and part.effort:
        words.append(f"{part.effort.kind} {_pair(part.effort.value)}")
    return _present({
        "role": part.role,
        "sets": _pair(part.sets),
        "reps": _pair(part.reps[0]) if len(part.reps) == 1 else None,
        "reps_by_set": [_pair(one) for one in part.reps] if len(part.reps) > 1 else None,
        "seconds": _pair(part.seconds),
        "metres": _pair(part.metres and Range(_whole_metres(part.metres.low), _whole_metres(part.metres.high))),
        "calories": _pair(part.calories),
        "breaths": _pair(part.breaths),
        "steps": _pair(part.steps),
        "rest_s": _pair(part.rest),
        "intra_rest_s": _pair(part.intra_rest),
        "rest_metres": _pair(part.rest_metres),
        "rest_words": "as needed" if part.rest_as_needed else None,
        "hold_s": _pair(part.hold),
        "per_side": part.per_side,
        "alternating": part.alternating,
        "max": part.is_max,
        "max_last": part.max_last,
        "reps_open_last": part.open_last,
        "complex": list(part.complex),
        "cluster": list(part.cluster),
        "partials": _pair(part.partials) if isinstance(part.partials, Range) else part.partials,
        "tempo": "-".join(part.tempo),
        "drops": part.drops,
        "drop_set": part.drop_set,
        "drops_last_set": part.drop_last,
        "rest_pause": part.rest_pause,
        "myo_reps": part.myo,
        "mini_sets": _pair(part.mini_sets),
        "mini_reps": _pair(part.mini_reps),
        "every_s": None if part.every is None else _plain(part.every),
        "for_minutes": None if part.clock is None else _plain(part.clock / 60),
        "per_day": part.per_day,
        "load": _load(load),
        "as_typed": "; ".join(words),
    })  # fmt: skip


def _whole_metres(metres: Decimal) -> Decimal:
    """Return a length of a kilometre or more without its decimals, which only a mile has."""
    return metres.quantize(Decimal(1)) if metres >= 1000 else metres


def _load(load: TypedLoad | None) -> dict[str, object] | None:
    if load is None:
        return None
    return {
        "kind": load.kind,
        **_present({
            "value": _pair(load.value),
            "by_set": [_plain(one) for one in load.by_set],
            "two_levels": [_plain(one) for one in load.two_levels],
            "words": load.words,
        }),
    }  # fmt: skip


def parts_of(days: list[TypedDay]) -> Iterator[Dose]:
    """Yield every part of every exercise."""
    return (part for day in days for block in day.blocks for one in block.exercises for part in one.parts)
