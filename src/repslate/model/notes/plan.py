"""Notes to a plan: days of blocks of exercises, from whatever a coach typed or pasted, line by line."""

from __future__ import annotations

import re

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.blocks import PLAIN, TypedBlock
from repslate.model.notes.dose import exactly
from repslate.model.notes.gathered import Gathered, Rows, TypedDay
from repslate.model.notes.head import details
from repslate.model.notes.headings import read_heading
from repslate.model.notes.items import bare_item
from repslate.model.notes.lexicon import listed
from repslate.model.notes.line_kinds import (
    LONGEST_NAME,
    Line,
    begins_dose,
    begins_part,
    ends_in_cool_down,
    ends_letter,
    has_chain,
    heads_names,
    is_title,
    leads_names,
    lines_of,
    named_part,
    names_day,
    names_file,
    opens,
    says_between_rounds,
    says_each,
    talks,
)  # fmt: skip
from repslate.model.notes.lines import has_dose, read_lines, split_label, strip_bullet
from repslate.model.notes.lists import dashed, grouped, in_turn, paired, rest_of_all, titled
from repslate.model.notes.tables import Table, is_rule, table_head, table_row
from repslate.source.bounds import DOSE, EXERCISES

_MARKED_HEAD = re.compile(r"^(?:(#{1,6})\s+(.+?)\s*#*|(?:\*\*|__)([^*_]+)(?:\*\*|__)\s*:?)$")
_PHASE_ROW = re.compile(r"(?i)^(warm[- ]?up|cool[- ]?down)\s*[,|\t;]\s*([^\d\s].*\d.*)$")
_WITH = re.compile(
    r"(?i)^[\s–—\-*(]*(?:superset(?:ted)?\s+with|ss\s*(?:with|w/)|paired\s+with|super\s*set|\+\s*superset)[\s–—\-*):]*$"
)
_SET = re.compile(r"(?i)set\s*\d+")
_TIMES_IN = re.compile(r"(?i)\s*\bx\s*(\d{1,2})\b")
_TIMES_AT_END = re.compile(r"(?i)(.*\w)\s*\bx\s*(\d{1,2}):")
#: "x 4", "repeat 5 times" on a line of its own, in any of the languages.
_AGAIN = re.compile(
    r"(?i)(?:(?:repeat|repetir|repite|répéter|répétez|ripetere|ripeti|upprepa|wiederholen)(?:\s+(?:all|this|above|it))?\s*)?"
    r"(?:x\s*(\d{1,2})|(\d{1,2})\s*(?:x|times|veces|fois|volte|vezes|mal|gånger|ggr))\s*(?:wiederholen)?[.!]?"
)
_FEWEST_LINES = 2  # a name and its dose
_SETS_ALONE = re.compile(r"(?i)\d{1,2}(?:\s*-\s*\d{1,2})?\s*sets?")
_CELL_LABEL = re.compile(r"[A-Za-z]|[A-Za-z]?\d{1,2}[a-z]?")
_IN_BRACKETS = re.compile(r"[^()]*\((.*)\).*")
_IN_ROUNDS = frozenset(
    {"intervals", "circuit", "for-time", "rounds-for-time", "amrap", "partner", "chipper", "complex"}
)
_ROLES = frozenset({"warm-up", "cool-down", "finisher"})
_HOW = frozenset({"amrap", "every-minute", "every-n", "for-time", "rounds-for-time", "intervals", "ladder", "chipper"})


def read_notes(text: str) -> list[TypedDay]:
    """Read a text; one day where it names none. Nothing is lost: a line is read, or stands in `unread`."""
    reader = _Notes()
    for line in lines_of(text):
        reader.line(line)
    return reader.finished()


class _Notes(Gathered):
    """Takes line after line; the first handler that knows what one is takes it."""

    def __init__(self) -> None:
        super().__init__()
        self.table: Table | None = None
        self.is_signed = False
        self._handlers = (
            self._too_long, self._phase_row, self._in_table, self._blank, self._marked, self._new_day, self._with,
            self._grouped, self._rest_in_rounds, self._again, self._continued, self._headed, self._rest_line,
            self._named_part, self._prose, self._in_turn, self._names_below, self._titled, self._dashed, self._paired,
            self._exercise,
        )  # fmt: skip

    def line(self, line: Line) -> None:
        next(filter(None, (take(line) for take in self._handlers)), None)

    # ---- lines that are known by their looks

    def _too_long(self, line: Line) -> bool:
        """Carry a line that no prescription is as long as."""
        if len(line.text) <= DOSE:
            return False
        self.close()
        self.day.unread.append((line.number, line.text))
        return True

    def _phase_row(self, line: Line) -> bool:
        """Take "warm up, leg swings, 10/leg": the part of the day in front, as in a sheet."""
        row = _PHASE_ROW.match(line.raw.strip())
        if not row:
            return False
        self.close()
        form = "warm-up" if row[1].casefold().startswith("w") else "cool-down"
        if self.block is None or self.block.form != form:
            self.begin(TypedBlock(form=form))
        self.take(line.number, row[2])
        return True

    def _in_table(self, line: Line) -> bool:
        """Take a line as the head or a row of a table."""
        if head := table_head(line.raw):
            self.close()
            self.table, self.block = head, None
            return True
        if self.table is None:
            return False
        if not line.raw.strip():
            self.close()
            return False
        row = table_row(line.raw, self.table)
        if row and not row[0] and not has_dose(row[1]) and (read_heading(row[1]) or row[1].isupper()):
            self.close()  # a row with nothing but the name of a block
            self.begin(read_heading(row[1]) or TypedBlock("straight", title=row[1]))
            return True
        if row is None and not is_rule(line.raw):
            self.table = None
            self.close()
            return False
        if row:
            self._row(line.number, *row)
        return True

    def _row(self, number: int, block: str, text: str) -> None:
        """Take a row: its first column is a label, or names the block."""
        label = f"{block}) " if _CELL_LABEL.fullmatch(block) else ""
        if block and not label and (self.block is None or self.block.title != block):
            named = read_heading(block) or TypedBlock(form="straight")
            named.title = block
            self.begin(named)
        self.take(number, label + text)

    def _blank(self, line: Line) -> bool:
        if any(map(str.isalnum, line.text)):
            return False
        self.close()
        self.in_paragraph, self.after_blank = False, True
        return True

    def _marked(self, line: Line) -> bool:
        """Begin a block under a heading that is marked as one; the first of the highest level names the day."""
        head = _MARKED_HEAD.match(line.text)
        if not head:
            return False
        self.close()
        text, heading = head[2] or head[3], read_heading(head[2] or head[3])
        if head[1] == "#" or (names_day(text) and not heading):
            self.begin_day(text, is_new=bool(self.day.blocks))
            return True
        if heading is None:
            heading = TypedBlock(form="straight", title=text)
            more = details(_IN_BRACKETS.sub(r"\1", text)) if "(" in text else None
            heading.rounds = more.rounds if more else None
        self.begin(heading)
        self.inline(heading, 0, heading.inline)
        return True

    def _new_day(self, line: Line) -> bool:
        if not names_day(line.text):
            return False
        self.close()
        self.begin_day(line.text.strip("#*_ "), is_new=bool(self.day.blocks or self.day.unread))
        return True

    def _with(self, line: Line) -> bool:
        """Take "superset with" between two exercises."""
        if not _WITH.match(line.text):
            return False
        self.close()
        self.pending_superset = True
        if self.block:
            self.block.form = "superset"
        return True

    def _grouped(self, line: Line) -> bool:
        """Take "5 x (2 min jog / 2 min walk)" as a block of its own."""
        group = grouped(line.text)
        if group is None:
            return False
        self.close()
        form = "intervals" if group.is_timed else "circuit"
        block = TypedBlock(form, title=group.title, rounds=exactly(group.rounds))
        typed = typed_line(group.behind)
        found = bare_item(typed, 0, True) if group.behind else None
        if found and "rest" in found.fields and found.end == typed.end:
            block.rest_between_rounds = found.fields["rest"]
        elif group.behind:
            block.words.append(group.behind)
        self.begin(block)
        for piece in group.pieces:
            self.take(line.number, piece)
        _settle_group(block)
        if len(group.pieces) == 1:  # "2 sets of (4 x 200 m, 200 m jog)"
            block.outer_sets, block.rounds = block.rounds, None
        self.block = None
        return True

    # ---- lines that go on

    def _rest_in_rounds(self, line: Line) -> bool:
        is_in_rounds = self.block is not None and self.block.form in _IN_ROUNDS
        if opens(line.text) or not (is_in_rounds or says_between_rounds(line.text)):
            return False
        return self._rest_line(line)

    def _rest_line(self, line: Line) -> bool:
        """Take "Rest 2 min between rounds" into the block, and "Rest 3 min" between two groups of exercises."""
        block = self.block
        if block is None or not (block.exercises or self.rows):
            return False
        if "between" not in line.text.lower() and block.form not in _IN_ROUNDS:
            return False
        typed = typed_line(strip_bullet(line.text))
        found = bare_item(typed, 0, False)
        if not found or not ({"rest", "rest_as_needed"} & found.fields.keys()) or found.end < typed.end:
            return False
        self.close()
        if "rest" in found.fields:
            block.rest_between_rounds = block.rest_between_rounds or found.fields["rest"]
        else:
            block.words.append(line.text)
        return True

    def _continued(self, line: Line) -> bool:
        """Take a line that goes on with the exercise above: a dose without a name of its own."""
        if self.rows is None or opens(line.text):
            return False
        label, rest = split_label(strip_bullet(line.text))
        if (label and not _SET.fullmatch(label)) or not begins_dose(rest):
            return False
        if self.rows.has_dose and read_lines([line.text]).name and not begins_part(rest):
            return False
        self.rows.lines.append(line.text)
        self.rows.has_dose = self.rows.has_dose or has_dose(line.text)
        return True

    def _again(self, line: Line) -> bool:
        """Take "x 4" or "repeat 5 times" below two or more exercises as the rounds of their block."""
        block, again = self.block, _AGAIN.fullmatch(strip_bullet(line.text))
        if again and self.rows and len(self.rows.lines) > _FEWEST_LINES and not (block and block.exercises):
            self.close()
            self.day.unread.append((line.number, line.text))  # of the last line, or of all?
            return True
        if block is None or not again or len(block.exercises) + (self.rows is not None) < 2 or block.rounds:
            return False
        self.close()
        block.rounds = exactly(int(again[1] or again[2]))
        block.form = "circuit" if block.form == "straight" else block.form
        return True

    # ---- headings

    def _headed(self, line: Line) -> bool:
        """Take a heading: one more time of the block at hand, more of its heading, or another block."""
        heading = read_heading(line.text, leads=leads_names(line.below))
        if heading is None:
            return False
        is_again, is_detail = self._is_again(heading), self._is_detail(heading)
        self._take_rounds(heading)
        self._take_role(heading)
        self.close()
        block = self.block
        if block and is_again:
            block.outer_sets = exactly((block.outer_sets.low if block.outer_sets else 1) + 1)
            self.inline(block, line.number, heading.inline)
        elif block and is_detail:
            _add_detail(block, heading)
        else:
            self.begin(heading)
            self.inline(heading, line.number, heading.inline)
            if heading.form == "warm-up" and heading.inline and ends_in_cool_down(line.below):
                self.block = None  # "WU 2 km jog", the work, "CD 2 km jog": each of its own line
        return True

    def _take_rounds(self, heading: TypedBlock) -> None:
        """Give a heading by the clock the rounds of a line right above it that told nothing else."""
        above = self.block
        is_clocked = heading.form in ("every-n", "every-minute", "intervals") and heading.rounds is None
        if above is None or not is_clocked or above.form != "circuit" or above.exercises or self.rows:
            return
        if above.title or above.work or above.every or above.minutes or above.words or not self.in_paragraph:
            return
        heading.rounds = above.rounds
        self.day.blocks.remove(above)
        self.block = None

    def _take_role(self, heading: TypedBlock) -> None:
        """Name a heading after the line right above it that only says what the block is there for: "Finisher"."""
        above = self.block
        if above is None or above.form not in _ROLES or heading.form not in _HOW or not self.in_paragraph:
            return
        if above.exercises or self.rows or above.says_figures or above.words or self._is_detail(heading):
            return
        heading.title = " ".join(filter(None, (above.title or above.form.capitalize(), heading.title)))
        heading.label = heading.label or above.label
        self.day.blocks.remove(above)
        self.block = None

    def _is_again(self, heading: TypedBlock) -> bool:
        """Tell whether intervals with a rest behind them stand there once more."""
        block = self.block
        if block is None or not (heading.work and heading.inline and block.rest_between_rounds):
            return False
        return (heading.work, heading.rest, heading.rounds) == (block.work, block.rest, block.rounds)

    def _is_detail(self, heading: TypedBlock) -> bool:
        """Tell whether a line adds to the block at hand: a cap, a number of rounds, "for time" below "4 rounds"."""
        block = self.block
        if block is None:
            return False
        if block.exercises or self.rows:
            return heading.cap is not None and heading.form == "for-time" and not heading.title
        if heading.inline or heading.form not in ("for-time", "circuit", "rounds-for-time"):
            return False
        if block.form in _ROLES and heading.form == "circuit" and not heading.title:
            return True
        return bool(heading.cap) or block.form in ("circuit", "partner", "straight") or not heading.says_figures

    def _named_part(self, line: Line) -> bool:
        """Begin a block under "Part two, three times" and the like."""
        count = named_part(line.text)
        if count is None:
            return False
        self.close()
        form = "circuit" if count else "straight"
        self.begin(TypedBlock(form=form, title=line.text, rounds=exactly(count) if count else None))
        return True

    # ---- lists on one line, and prose

    def _prose(self, line: Line) -> bool:
        """Carry a line that talks to somebody, or names the file, and has no dose as exercises have."""
        if has_chain(line.text):
            return False
        self.is_signed = (self.is_signed and not has_dose(line.text)) or ends_letter(line.text)
        if self.is_signed:
            self.close()
            self.day.unread.append((line.number, line.text))
            return True
        is_title = line.number == 1 and names_file(line.text)
        if not is_title and not talks(line.text):
            return False
        self.close()
        if is_title:
            self.day.title = self.day.title or line.text
        self.day.unread.append((line.number, line.text))
        return True

    def _in_turn(self, line: Line) -> bool:
        pieces = in_turn(line.text)
        if pieces:
            self.close()
        for one in pieces:
            self.take(line.number, one)
        return bool(pieces)

    def _names_below(self, line: Line) -> bool:
        """Begin a block with the dose that the names below it share."""
        if not heads_names(line.text, line.below):
            return False
        self.close()
        times = _TIMES_IN.search(line.text)
        head = read_lines([_TIMES_IN.sub("", line.text)])
        each = head.parts[0]
        each.per_side = each.per_side and not says_each(line.text)
        rounds = exactly(int(times[1])) if times else each.sets
        is_in_turn = each.sets is None and says_each(line.text)
        self.begin(TypedBlock("circuit" if is_in_turn else "straight", title=head.name, rounds=rounds, each=each))
        return True

    def _titled(self, line: Line) -> bool:
        found = titled(line.text)
        if found is None:
            return False
        title, pieces = found
        times = _TIMES_AT_END.fullmatch(title)
        block = TypedBlock("circuit", title=times[1], rounds=exactly(int(times[2]))) if times else None
        return self._listed(line, read_heading(title) or block or TypedBlock("straight", title=title), pieces)

    def _dashed(self, line: Line) -> bool:
        pieces = dashed(line.text)
        return bool(pieces) and self._listed(line, TypedBlock("chipper"), pieces)

    def _paired(self, line: Line) -> bool:
        pieces = paired(line.text)
        return bool(pieces) and self._listed(line, TypedBlock("superset"), pieces)

    def _listed(self, line: Line, block: TypedBlock, pieces: list[str]) -> bool:
        """Begin a block with the exercises of one line."""
        self.close()
        self.begin(block)
        for one in pieces:
            if (rest := rest_of_all(one)) is not None and block.exercises:
                block.rest = block.rest or rest
            else:
                self.take(line.number, one)
        return True

    # ---- exercises

    def _exercise(self, line: Line) -> bool:
        """Take a line as an exercise; without a dose of its own it may be a name, a title, or prose."""
        self.close()
        label, rest = split_label(strip_bullet(line.text))
        if has_dose(rest) or label or self._stands_over_dose(line, rest):
            self.rows = Rows(line.number, [line.text], has_dose(line.text))
        elif self._is_bare_name(rest):
            self.take(line.number, line.text)
        elif is_title(rest, line.following):
            self.begin(TypedBlock(form="straight", title=rest.rstrip(":").strip("#*_ ")))
        else:
            self.day.unread.append((line.number, line.text))
        return True

    @staticmethod
    def _stands_over_dose(line: Line, name: str) -> bool:
        """Tell whether the line below is a dose of what this one names."""
        below = strip_bullet(line.following.strip())
        if len(name.split()) > 2 * LONGEST_NAME or not begins_dose(below) or split_label(below)[0]:
            return False
        is_sets = bool(_SETS_ALONE.fullmatch(below))
        return is_sets or (begins_part(below) and has_dose(below)) or not read_heading(line.following)

    def _is_bare_name(self, name: str) -> bool:
        """Tell whether a name without a dose stands in a block of such names."""
        block = self.block
        if block is None or len(name.split()) > LONGEST_NAME or name.endswith((".", "!", "?", ":")):
            return False
        if not self.in_paragraph and block.form in PLAIN:
            return False
        return block.each.has_work or not any(one.parts[0].has_work for one in block.exercises[:EXERCISES])


def _settle_group(block: TypedBlock) -> None:
    """Take "(3 min hard / 2 min easy)" as work and rest of intervals."""
    if len(block.exercises) != 2 or any(one.name for one in block.exercises):
        return
    work, rest = (one.parts[0] for one in block.exercises)
    is_easy = rest.load is not None and rest.load.words in listed("easy in between")
    if work.seconds and rest.seconds and is_easy:
        block.work, block.rest, block.exercises = work.seconds, rest.seconds, []


def _add_detail(block: TypedBlock, heading: TypedBlock) -> None:
    block.cap = block.cap or heading.cap
    if heading.form in ("for-time", "rounds-for-time") and not heading.cap and block.form == "circuit":
        block.form = "rounds-for-time"
    block.rounds = block.rounds or heading.rounds
    if heading.title:
        block.words.append(heading.title)
