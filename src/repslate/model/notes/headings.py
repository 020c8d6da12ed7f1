"""A typed heading to how its block is done: "Part B: for time, 12 min cap", "E2MOM x 7", "40s on/20s off x 8"."""

from __future__ import annotations

import re
from itertools import chain, pairwise

from repslate.model.notes.amounts import typed_line
from repslate.model.notes.blocks import TypedBlock
from repslate.model.notes.dose import Figures
from repslate.model.notes.head import FORMS, IDLE, PHASES, ROLES, Head
from repslate.model.notes.lexicon import listed
from repslate.model.notes.lines import name_of, split_label, strip_bullet
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

_WEAK = frozenset(
    "skill strength accessories test flow quality intervals finisher partner ladder superset".split()
)  # forms that stand in the names of exercises too
_STATION = re.compile(
    r"(?i)(?:buy[- ]?in|cash[- ]?out|partner\s?\w|min\w*\s*\d+|\d\w\w\s+min\w*|odd.*|even.*|station.*)"
)
_PARTED = re.compile(r"(?i)\S\s*[-–—:,]?\s*\b(?:warm-?up|w/?u)\b.*\bwork(?:ing)?(?: sets?)?\s*:")
_BOUGHT = re.compile(r"(?i)(?:buy[- ]?in|cash[- ]?out)")
_ELLIPSIS = re.compile(r"((?:\d{1,3}\s*[-–/,]\s*){2,})(?:…|\.{2,}|etc\.?)\s*(?:[-–/,]?\s*(\d{1,3}))?")
_UP_AND_DOWN = re.compile(r"(?<!\d)(\d{1,2})\s*(?:→|->)\s*(\d{1,2})\s*(?:→|->)\s*(\d{1,2})(?!\d)")
_SETS_OF = re.compile(r"(?i)sets of\s*:\s*$")
_EDGES = ' :–—-*."“”„'
_LONGEST = 12  # words of a heading
_LONGEST_BEFORE = 3  # words before the form that a heading names
_LONGEST_STEP = 60  # from the last figure before "…" to the one behind it
_SHORTEST_BLOCK = 3  # minutes; a shorter time of intervals is the work of each


def read_heading(text: str, *, leads: bool = False) -> TypedBlock | None:
    """Read a line as the heading of a block; None where it is none, or an exercise that only names a form.

    `leads` tells that names without a count stand below, so that a ladder is of those.
    """
    label, text = split_label(strip_bullet(text.lstrip("#").strip().strip("*_")))
    is_station = bool(_STATION.fullmatch(label))
    if not label and (flow := _timed_flow(text)):
        return flow
    head = Head(text, typed_line(_without_dots(text)))
    head.walk()
    if _PARTED.search(text):
        return None  # "Squat – warm-up: 1x5 @ 60% / work: 4x2": parts of one exercise
    found = _Heading(head, leads=leads).block(label)
    if is_station:
        return _bought(found, label)
    if found and found.every and found.title and found.inline and not name_of(found.inline):
        return None  # "Jerk from rack, every 90 s: 1 @ 78 %"
    return found


def _timed_flow(text: str) -> TypedBlock | None:
    """Read "8 mins: Moon salutations": a part of a class with its length in front."""
    typed = typed_line(text)
    amount = typed.amount(0)
    if not amount or amount.unit != "s" or typed[amount.end].text != ":":
        return None
    rest = range(amount.end + 1, typed.end)
    if any(typed[at].is_number for at in rest) or not any(typed[at].word in listed("of a flow") for at in rest):
        return None
    title = typed.typed(amount.end + 1, typed.end)
    return TypedBlock("flow", title=title, minutes=_minutes(amount.figures), inline=title)


def _bought(found: TypedBlock | None, label: str) -> TypedBlock | None:
    """Return the block of "Cash-out: 3 rounds"; None where the label is that of one exercise."""
    if found is None or found.inline or found.title or not found.rounds or not _BOUGHT.fullmatch(label):
        return None
    found.label, found.title = "", label
    return found


def _without_dots(text: str) -> str:
    """Write "10-9-8-…-1" out, so that it is a list like any other."""
    text = _UP_AND_DOWN.sub(_written_out, text)
    found = _ELLIPSIS.search(text)
    if not found:
        return text
    given = [int(one) for one in re.findall(r"\d+", found[1])]
    step = given[1] - given[0]
    if not step or any(b - a != step for a, b in pairwise(given)):
        return text
    last = given[-1] if found[2] is None else int(found[2])
    if (last - given[-1]) % step or abs(last - given[-1]) > _LONGEST_STEP:
        return text
    listed = [*given, *range(given[-1] + step, last + (1 if step > 0 else -1), step)]
    return f"{text[: found.start()]}{'-'.join(map(str, listed))}{text[found.end() :]}"


def _written_out(found: re.Match[str]) -> str:
    """Write "1→10→1" as every count on the way up and down."""
    first, top, last = (int(one) for one in found.groups())
    if max(abs(top - first), abs(top - last)) > _LONGEST_STEP or top in (first, last):
        return found[0]
    up = range(first, top, 1 if top > first else -1)
    down = range(top, last, 1 if last > top else -1)
    return "-".join(map(str, [*up, *down, last]))


class _Heading:
    """What a heading comes to, when all of it is walked over."""

    def __init__(self, head: Head, *, leads: bool) -> None:
        self.head, self.leads = head, leads
        self.typed = head.typed
        self.found = head.found
        self.meanings = [meaning for meaning, _ in head.forms]
        self.first_form = min((at for _, at in head.forms), default=0)
        words = list(chain(*head.free))
        is_word = (at for at in words if self.typed[at].kind is Kind.WORD)
        self.loose = [at for at in is_word if self.typed[at].word not in IDLE]
        self.figures = [at for at in words if self.typed[at].is_number]

    def block(self, label: str) -> TypedBlock | None:
        """Return the block that begins here; None where the line is an exercise or says nothing of a block."""
        found = self.found
        if self.loose or self.figures:
            runs = (self.typed.typed(run[0], run[-1] + 1) for run in self.head.free if run)
            found.title = " ".join(runs).strip(_EDGES)
        found.label = label
        found.form = self._named_form() or self._told_form()
        if not found.form or self._is_exercise():
            return None
        found.title = " ".join(filter(None, (self._role(), found.title)))
        self._settle()
        return found

    # ---- the form

    def _named_form(self) -> str:
        """Return the form that words name, the most telling first; "" for none."""
        found, meanings = self.found, self.meanings
        if "roundsfortime" in meanings or ("fortime" in meanings and found.rounds):
            return "rounds-for-time"
        if "partner" in meanings or "amrapform" in meanings:
            return "partner" if "partner" in meanings else "amrap"
        if "everyn" in meanings:
            found.alternating = any(self.typed.sees(at, "alternating") for at in range(self.typed.end))
            return "every-minute" if found.every == 60 else "every-n"
        if meanings[:1] == ["worked"]:
            return "circuit" if "circuit" in meanings else "intervals"
        return next((form for meaning, form in FORMS.items() if meaning in meanings), "")

    def _role(self) -> str:
        """Return the word in front that says what the block is there for, where another one names its form."""
        meaning, at = self.head.forms[0] if len(self.head.forms) > 1 else ("", 0)
        if meaning not in ROLES or FORMS.get(meaning) == self.found.form:
            return ""
        return self.typed.typed(at, self.typed.means(at)[meaning]).strip(_EDGES)

    def _told_form(self) -> str:
        """Return the form that figures tell without a name: a scheme, a cap, or rounds; "" for none."""
        found = self.found
        if found.scheme and not self.loose:
            is_falling = found.scheme[0] > found.scheme[-1] and len(found.scheme) == 3
            return "for-time" if is_falling else "ladder"
        if found.cap is not None and not self.loose:
            return "for-time"
        is_circuit = found.rounds and not self.figures and self._only_rounds()
        is_whole = not self.loose or (self.head.text.rstrip().endswith(":") and bool(self.typed.amount(0)))
        is_list = bool(_SETS_OF.search(self.head.text))
        return "circuit" if is_circuit and (is_whole or is_list or self._is_titled_rounds()) else ""

    def _only_rounds(self) -> bool:
        text = self.head.text.lower()
        return "round" in text or "circuit" in text or bool(_SETS_OF.search(text)) or not self.found.minutes

    def _is_titled_rounds(self) -> bool:
        """Tell whether a title stands before the rounds: "Shoulder prep, 2 rounds: …"."""
        steps = range(self.typed.end)
        at = next((at for at in steps if self.typed.sees(at, "round", "through")), 0)
        text = self.typed.text.lower()
        is_timed = bool(self.found.minutes) and "repeat" not in text
        if not at or not self.loose or self.loose[0] >= at or is_timed:
            return False
        is_named = any(word in text for word in ("round", "rds", "through", "thru"))
        return is_named and not any(self.typed.sees(step, "eachside", "breath") for step in steps)

    # ---- whether it is a heading at all

    def _is_exercise(self) -> bool:
        """Tell whether a line names a form but is an exercise: it has a dose, or the form stands among its words."""
        if self.found.inline:
            return False
        is_phase = bool(set(self.meanings) & PHASES)
        if (self.figures and not is_phase) or len(self.loose) > _LONGEST:
            return True
        before = [at for at in self.loose if at < self.first_form]
        if self.meanings[:1] == ["ladder"] and self.found.scheme and before[:1] == self.loose[:1] != []:
            return not self.leads
        if is_phase and (decided := self._is_in_phase(before)) is not None:
            return decided
        if len(before) > _LONGEST_BEFORE and self.meanings and set(self.meanings) <= _WEAK:
            return True
        is_timed = bool(before) and set(self.meanings) == {"fortime"}
        return is_timed and bool(self.typed.amount(0)) and not self.found.rounds

    def _is_in_phase(self, before: list[int]) -> bool | None:
        """Tell whether a line that names the warm-up or cool-down is an exercise of it; None where it may be either."""
        amount = self.typed.amount(0)
        is_way = amount and amount.unit in ("m", "") and not self.typed[amount.end].is_times
        if is_way and len(self.loose) <= 2:
            return False
        if len(self.loose) > _LONGEST_BEFORE + 1 and before:
            return True
        if before and any(self._counts_sets(at) for at in range(self.typed.end)):
            return True
        is_long = len(before) > _LONGEST_BEFORE or (before and self.figures)
        if is_long and not self.found.minutes:
            return True
        return True if any(self.typed[at + 1].is_times for at in self.figures) else None

    def _counts_sets(self, at: int) -> bool:
        amount = self.typed.amount(at)
        return bool(amount and amount.unit == "set")

    # ---- what belongs together

    def _settle(self) -> None:
        found = self.found
        if found.form == "straight" and found.rest_between_rounds:
            found.rest, found.rest_between_rounds = found.rest_between_rounds, None
        if found.form == "intervals" and found.work is None and found.minutes and found.minutes.high < _SHORTEST_BLOCK:
            found.work, found.minutes = _seconds(found.minutes), None
        if (
            found.form in ("intervals", "circuit", "finisher")
            and "worked" in self.meanings
            and not found.inline
            and found.title
        ):
            self._take_name()
        if found.form == "intervals" and found.rest_between_rounds and found.rest is None:
            found.rest, found.rest_between_rounds = found.rest_between_rounds, None

    def _take_name(self) -> None:
        """Take the words behind work and rest as the exercise they are of: "10 x 30 s / 30 s bike"."""
        last = next((run for run in reversed(self.head.free) if run), None)
        if last and last[0] > max(at for meaning, at in self.head.forms if meaning == "worked"):
            name = self.typed.typed(last[0], last[-1] + 1).strip(_EDGES)
            self.found.inline, self.found.title = name, self.found.title.removesuffix(name).strip(" :–—-")


def _minutes(seconds: Figures) -> Figures:
    return Range(seconds.low / 60, seconds.high / 60)


def _seconds(minutes: Figures) -> Figures:
    return Range(minutes.low * 60, minutes.high * 60)
