"""The walk over a typed heading: each piece of it is a form, a figure of the block, or one of its words."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from itertools import chain

from repslate.model.notes.amounts import Typed, typed_line
from repslate.model.notes.blocks import TypedBlock
from repslate.model.notes.dose import Dose, Figures, exactly
from repslate.model.notes.intervals import clocked, work_and_rest
from repslate.model.notes.items import EVERY, REST, TIMES_SIGNS, bare_item, item
from repslate.model.notes.lexicon import listed
from repslate.model.notes.lines import name_of
from repslate.model.notes.loads import load
from repslate.model.notes.rests import every, rest
from repslate.model.notes.rounds import rounds
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

#: The forms by the words that name them, the most telling first.
FORMS = {
    "roundsfortime": "rounds-for-time", "chipper": "chipper", "fortime": "for-time", "amrapform": "amrap",
    "giantset": "giant-set", "triset": "tri-set", "superset": "superset", "complexform": "complex", "ladder": "ladder",
    "partner": "partner", "warmup": "warm-up", "cooldown": "cool-down", "circuit": "circuit", "intervals": "intervals",
    "finisher": "finisher", "flow": "flow", "test": "test", "straight": "straight", "skill": "straight",
    "strength": "straight", "accessories": "straight", "quality": "circuit",
}  # fmt: skip
PHASES = frozenset({"warmup", "cooldown"})
_BEGINS = frozenset({"skill", "strength", "accessories", "test", "finisher"})
ROLES = PHASES | _BEGINS
_EACH = frozenset({"complexform", "flow", "circuit", "superset", "triset", "giantset"})
_EACH_FIELDS = frozenset({"reps", "breaths", "seconds", "per_side", "hold", "times", "adds"})
#: What stands before the exercise of a minute, of one of two, or before the work and behind it.
_AT_STATION = re.compile(
    r"(?i)(?:min(?:ute)?s?\s*\d+|\d(?:st|nd|rd|th)\s+min(?:ute)?|odd|even|station\s*\d+)(?:\s+min\w*)?"
    r"\s*(?:[:–—)-]|\s(?=\d))"
)
_APART = re.compile(r"\s*[,;]\s+|\s*→\s*|\s+[/+&]\s+")
_SHARED_LOADS = frozenset({"kg", "lb", "mass", "percent_1rm", "percent_tm", "fraction_bodyweight"})
_LONGEST_TITLE = 3  # pieces before "WU"
_LONGEST_NAME = 4  # words of an exercise without figures
_LONGEST_INLINE = 40  # words of exercises on the heading's own line
_SHORTEST = 10  # seconds of a block
_LONGEST_TEMPO = 5  # seconds; four figures up to it are a tempo, no scheme
_BEFORE_MINUTES = frozenset({"for", "in", "of", "x", "~", "about"})
#: A dose, so that "on 1:30" is read as the clock of a block.
_IDLING, _WORKING = Dose(), Dose(metres=exactly(1))


class Head:
    """Walks over a heading and takes what it says."""

    def __init__(self, text: str, typed: Typed | None = None) -> None:
        """Begin at the first piece."""
        self.typed = typed or typed_line(text)
        self.text = text
        self.found = TypedBlock()
        self.forms: list[tuple[str, int]] = []
        self.free: list[list[int]] = [[]]
        self._after_form = self._after_scheme = 0

    def walk(self) -> None:
        """Read the whole heading, or up to the exercises on its line."""
        at = 0
        while at < self.typed.end and not self.found.inline:
            if self._is_phase_with_exercise(at) or self._begins_list(at):
                self.found.inline = self.typed.text[self.typed[at].start :].strip()
            elif end := self._read(at):
                at = end
                self.free.append([])
            else:
                self._leave(at)
                at += 1

    def _read(self, at: int) -> int:
        """Read what stands at `at`, and return the piece behind it; 0 for a word of the title."""
        begun = self.typed.begins(at)
        for read, begins in _READERS:
            if not begins.isdisjoint(begun) and (end := read(self, at)):
                return end
        return self._each(at)

    def _leave(self, at: int) -> None:
        """Keep a word of the title, or part the words where a sign does."""
        piece = self.typed[at]
        is_dash = (piece.is_dash and not piece.glued) or piece.text == "→"
        is_slash = piece.text == "/" and not self.typed[at + 1].glued and bool(self.typed.sees(at - 1, "round"))
        if not is_dash and not is_slash and piece.text not in (":", ",", ";", "·", "|", "(", ")"):
            self.free[-1].append(at)
            return
        rest = self.typed.text[piece.end :].strip() if is_dash or piece.text in (":", "/") else ""
        is_titled = ((is_dash or piece.text == ":") and any(self.free)) or piece.text == "/"
        is_titled = is_titled and self.found.rounds is not None
        if rest and (is_titled or self._is_told()) and _is_inline(rest):
            self.found.inline = rest
        else:
            self.free.append([])

    def _is_told(self) -> bool:
        return bool(self.forms or self.found.every or self.found.work or self.found.scheme)

    def _is_phase_with_exercise(self, at: int) -> bool:
        """Tell whether behind "WU" or "CD" an exercise begins without a colon: "CD 200 m easy + 4 x 25 m scull"."""
        is_phase = len(self.forms) == 1 and self.forms[0] in (("warmup", 0), ("cooldown", 0)) and not any(self.free)
        amount = self.typed.amount(at) if is_phase and at == self._after_form else None
        if not amount or amount.unit in ("s", "round", "set") or rounds(self.typed, at, is_told=False):
            return False
        return bool(name_of(self.typed.text[self.typed[at].start :]))

    def _begins_list(self, at: int) -> bool:
        """Tell whether the exercises begin here without a sign: "3 rounds 10 squats, 5 push-ups", "EMOM 8 odd: …"."""
        if not self._is_told() and self.found.rounds is None:
            return False
        rest = self.typed.text[self.typed[at].start :]
        if _AT_STATION.match(rest):
            return True
        is_for_time = bool(self.forms) and self.forms[-1][0] == "fortime" and bool(self.found.scheme)
        if is_for_time and at in (self._after_form, self._after_scheme):
            names = _APART.split(rest)
            return len(names) > 1 and all(map(_is_short, names)) and not typed_line(names[0]).amount(0)
        if (scheme := self.typed.figures(at, "-")) and len(scheme.values) > 2 and not scheme.unit:
            return False
        pieces = _APART.split(rest.strip(" ().")) if self.typed[at].is_number else []
        while len(pieces) > 1 and details(pieces[-1]):
            pieces.pop()
        is_clocked = self.found.minutes is not None and self.typed[at - 1].text in (",", ";")
        is_list = len(pieces) > 1 or (len(pieces) == 1 and is_clocked)
        return is_list and all(_is_counted_exercise(typed_line(one)) for one in pieces)

    # ---- what may stand in a heading: each returns the piece behind it, 0 where it does not stand there

    def _stations(self, at: int) -> int:
        """Skip "of 4 stations", which the exercises below tell themselves."""
        amount = self.typed.amount(at + (self.typed[at].word == "of"))
        return self.typed.sees(amount.end, "station") if amount and not amount.unit else 0

    def _cap(self, at: int) -> int:
        if end := self.typed.sees(at, "cap"):
            end += self.typed.is_mark(end, ":=")
            amount = self.typed.amount(end + (self.typed[end].word in ("of", "at", "is")))
            if not amount or amount.unit not in ("s", ""):
                return 0
            self.found.cap = amount.low / 60 if amount.unit == "s" else amount.low
            return amount.end
        if bound := self.typed.sees(at, "max", "upto"):
            return self._longest(bound)
        amount = self.typed.amount(at)
        end = self.typed.sees(amount.end, "cap") if amount and amount.unit == "s" else 0
        if amount and end:
            self.found.cap = amount.low / 60
        return end

    def _longest(self, at: int) -> int:
        """Take "max. 20 min" in a heading of work for time as its cap."""
        amount = self.typed.amount(at)
        is_timed = any(meaning in ("fortime", "roundsfortime", "chipper") for meaning, _ in self.forms)
        if not amount or amount.unit != "s" or not is_timed:
            return 0
        self.found.cap = amount.low / 60
        return amount.end

    def _work_and_rest(self, at: int) -> int:
        """Take "40 s on / 20 s off" and how many times of it."""
        found = None if self.found.work else work_and_rest(self.typed, at)
        is_last = found and found.times and (found.end == self.typed.end or self.typed[found.end].text == ":")
        if found is None or (any(self.free) and not self.forms and not found.is_named and not is_last):
            return 0
        self.found.work = found.work
        if found.rest is None:
            return 0
        if found.count and self.found.rounds and not found.times:  # "3 sets of 10 x 30 s / 15 s"
            self.found.outer_sets, self.found.rounds = self.found.rounds, found.count
        self.found.rest = found.rest
        self.found.rounds = found.times or self.found.rounds or found.count
        self.forms.append(("worked", at))
        between = self.typed.sees(found.end, "between")
        behind = (self.typed.sees(between, "round", "set") or between) if between else 0
        if behind and self.typed.sees(between, "round"):
            self.found.rest, self.found.rest_between_rounds = None, found.rest
        elif behind:
            self.found.words.append(self.typed.typed(found.end, behind))
        return behind or found.end

    def _in_a_clock(self, at: int) -> int:
        """Take "40:20" in a circuit or intervals as seconds of work and rest."""
        is_told = any(meaning in ("circuit", "intervals") for meaning, _ in self.forms) and not self.found.work
        found = clocked(self.typed, at) if is_told else None
        if not found:
            return 0
        self.found.work, self.found.rest = found
        return at + 1

    def _every(self, at: int) -> int:
        found = item(self.typed, at, _WORKING, has_name=False) if every(self.typed, at, _WORKING) else None
        if not found or "every" not in found.fields:
            return self._on_the(at)
        fields = found.fields
        self.found.every = fields["every"]
        self.forms.append(("everyn", at))
        if "clock" in fields:
            self.found.minutes = exactly(fields["clock"] / 60)
        elif "sets" in fields:
            self.found.rounds = fields["sets"]
        length = self.typed.amount(found.end + 1) if self.typed[found.end].is_times else None
        if length and length.unit == "s":
            self.found.minutes = _minutes(length.figures)
            return length.end
        return found.end

    def _on_the(self, at: int) -> int:
        """Read "start each on 1:30"."""
        begin = at
        while self.typed[begin].word in listed("starts by the clock"):
            begin += 1
        amount = self.typed.amount(begin) if begin > at else None
        if not amount or amount.unit != "s" or not amount.is_clock:
            return 0
        self.found.every = amount.low
        self.forms.append(("everyn", at))
        return amount.end

    def _scheme(self, at: int) -> int:
        found = self.typed.figures(at, "-/")
        if not found or len(found.values) < 3 or found.unit not in ("", "rep") or self.found.scheme:
            return 0
        if min(found.values) == 0 or (len(found.values) == 4 and max(found.values) <= _LONGEST_TEMPO):
            return 0
        self.found.scheme = found.values
        end = self.typed.sees(found.end, "rep") or found.end
        while self.typed[end].text in ("…", "-", "/", ".", ","):
            end += 1
        self._after_scheme = end
        return end

    def _people(self, at: int) -> int:
        end = self.typed.sees(at, "partner")
        if not end:
            return 0
        words = self.typed.typed(at, end).lower()
        if words.endswith("of"):
            number = self.typed.number(end)
            if number is None:
                return 0
            self.found.people, end = int(number[0]), number[1]
        else:
            self.found.people = 3 if "three" in words else 2
        self.forms.append(("partner", at))
        return end

    def _rest(self, at: int) -> int:
        found = bare_item(self.typed, at, True) if rest(self.typed, at, _IDLING) else None
        if found and "rest" in found.fields:
            self.found.rest_between_rounds = found.fields["rest"]
            return found.end
        if found and "rest_as_needed" in found.fields:
            self.found.words.append(self.typed.typed(at, found.end))
            return found.end
        return 0

    def _rounds(self, at: int) -> int:
        found = rounds(self.typed, at, is_told=self._is_told())
        if found is None:
            return 0
        if self.found.rounds is None or found.is_firm:
            self.found.rounds = found.figures
        elif found.is_sets:
            self.found.outer_sets = found.figures
        self.found.words += [found.words] if found.words else []
        return found.end

    def _form(self, at: int) -> int:
        known = self.typed.means(at)
        for meaning in FORMS:
            if meaning in known and self._names_form(meaning, at, known[meaning]):
                self.forms.append((meaning, at))
                self._after_form = known[meaning]
                return known[meaning]
        return 0

    def _names_form(self, meaning: str, at: int, end: int) -> bool:
        """Tell whether a word names a form where it stands: some do at the beginning only."""
        before = self.typed[at - 1]
        if meaning == "amrapform" and at and (before.is_times or before.word in ("set", "sets")):
            return False
        if not any(self.free) and not self.forms:
            return True
        if meaning in ("finisher", "test") and self.typed[end].text == ":":
            return True  # "Leg finisher: …"
        is_shouted = self.typed[at].text.isupper() and self.typed[end].text in (",", ":", "")
        if meaning in PHASES and is_shouted and len(list(chain(*self.free))) <= _LONGEST_TITLE:
            return True  # "Pre-lift WU, 2 rounds"
        is_first_only = self.typed.typed(at, end).lower() in listed("forms at the beginning")
        return not is_first_only and self.typed[at].word not in listed("short forms") and meaning not in _BEGINS

    def _minutes(self, at: int) -> int:
        step = at
        while self.typed[step].word in _BEFORE_MINUTES:
            step += 1
        amount = self.typed.amount(step)
        if not amount or amount.unit not in ("s", "") or self.found.minutes is not None:
            return 0
        if amount.unit == "s":
            if amount.low < _SHORTEST:
                return 0  # "(2s)" is of pairs
            if self._is_of_each_turn(amount.end):
                self.found.work = amount.figures
                return self.typed.sees(amount.end + 1, "station") or amount.end + 1
            self.found.minutes = _minutes(amount.figures)
            return amount.end
        is_told = bool(self.forms) and self.forms[-1][0] in ("amrapform", "everyn")
        if not is_told or self.typed[amount.end].kind is Kind.WORD:
            return 0
        self.found.minutes = amount.figures
        return amount.end

    def _load(self, at: int) -> int:
        """Take a load that the whole block has: "AMRAP 10 min, 24 kg"; an effort stays words of the heading."""
        found = load(self.typed, at, _IDLING) if self._is_told() or self.found.rounds else None
        told = found.fields.get("load") if found else None
        if not found or not told or self.found.each.load:
            return 0
        words = self.typed.typed(at, found.end)
        if told.kind in _SHARED_LOADS:
            self.found.each.load = told
            self.found.each.words.append(words)
        else:
            self.found.words.append(words)
        return found.end

    def _mass(self, at: int) -> int:
        """Take "24 kg" as the load of the block."""
        amount = self.typed.amount(at)
        return self._load(at) if amount and amount.unit in ("kg", "lb") else 0

    def _is_of_each_turn(self, at: int) -> bool:
        """Tell whether a time is of each of several people: "in pairs, 2 min each then swap"."""
        behind = self.typed.sees(at + 1, "station") if self.typed[at].word in ("per", "each", "a") else 0
        is_each = self.typed[at].word == "each" and self.typed[at + 1].text in ("", ",", ":", ")", "then")
        is_shared = is_each or behind > 0
        is_in_turn = any(meaning in ("partner", "circuit", "intervals", "flow") for meaning, _ in self.forms)
        return is_shared and self.found.work is None and is_in_turn

    def _each(self, at: int) -> int:
        """Take what every exercise of the block is done for: "5 each", "1 breath per pose"."""
        if not (self.forms and self.forms[0][0] in _EACH) and not self.typed.sees(at, "breath"):
            return 0
        found = item(self.typed, at, self.found.each, has_name=True)
        if not found or not found.fields.keys() <= _EACH_FIELDS:
            return 0
        if "times" in found.fields:
            self.found.rounds = self.found.rounds or found.fields["times"]
        if "times" not in found.fields:
            self.found.each.words.append(self.typed.typed(at, found.end))
        for key in ("reps", "breaths", "seconds", "per_side", "hold"):
            if key in found.fields:
                setattr(self.found.each, key, found.fields.get(key))
        return found.end


_NUMBER = frozenset({"number"})
#: What may stand in a heading, and what it begins by; the first that finds something wins.
_READERS: tuple[tuple[Callable[[Head, int], int], frozenset[str]], ...] = (
    (Head._stations, _NUMBER | {"of"}),
    (Head._cap, _NUMBER | {"cap", "max", "upto"}),
    (Head._in_a_clock, _NUMBER),
    (Head._work_and_rest, _NUMBER),
    (Head._every, EVERY.begins | listed("starts by the clock")),
    (Head._scheme, _NUMBER),
    (Head._people, frozenset({"partner"})),
    (Head._rest, REST.begins),
    (Head._rounds, _NUMBER | TIMES_SIGNS | {"once", "round"} | listed("again")),
    (Head._form, frozenset(FORMS)),
    (Head._load, frozenset({"@"}) | listed("a pair of bells")),
    (Head._mass, _NUMBER),
    (Head._minutes, _NUMBER | _BEFORE_MINUTES),
)


def _minutes(seconds: Figures) -> Figures:
    return Range(seconds.low / Decimal(60), seconds.high / Decimal(60))


def _is_short(name: str) -> bool:
    return 0 < len(name.split()) <= _LONGEST_NAME


def _has_rest(typed: Typed) -> bool:
    found = work_and_rest(typed, 0)
    return found is not None and found.rest is not None


def _is_counted_exercise(typed: Typed) -> bool:
    """Tell whether "50 sprawls for time, cap 6 min" stands there: a number of what no form is called."""
    amount = typed.amount(0)
    if amount is None or (amount.unit not in ("m", "cal", "s", "rep") and (amount.unit or not amount.is_single)):
        return False
    if typed[0].word == "one":
        return False  # "one works, one rests"
    following = typed[amount.end]
    is_name = following.kind is Kind.WORD and not following.is_times
    return is_name and not typed.sees(amount.end, *FORMS, "cap", "on", "off")


def _goes_on(typed: Typed) -> bool:
    """Tell whether a scheme or a number of rounds stands at the beginning, which belongs to the heading."""
    scheme = typed.figures(0, "-")
    times = rounds(typed, 0, is_told=False)
    first = typed.amount(0)
    if (
        first
        and first.unit == "s"
        and typed[first.end].word in ("per", "each", "a")
        and typed.sees(first.end + 1, "station")
    ):
        return True
    is_scheme = scheme and len(scheme.values) > 2 and not scheme.unit
    return bool(is_scheme or (times and typed[times.end].text in (",", "", "(", ";")))


def _is_inline(rest: str) -> bool:
    """Tell whether what stands behind the colon is an exercise, not more of the heading."""
    typed = typed_line(rest.lstrip("("))
    if typed.sees(0, "cap", *FORMS) or every(typed, 0, _WORKING) or details(rest) or _goes_on(typed):
        return False
    if _is_counted_exercise(typed):
        return len(rest.split()) <= _LONGEST_INLINE
    if typed[0].word in listed("how partners share"):
        return False
    if any(typed.sees(at, "amrapform", "roundsfortime", "fortime") for at in range(typed.end)):
        return False
    amount = typed.amount(0)
    if amount and (
        amount.unit == "round"
        or typed.sees(amount.end, "cap")
        or (amount.unit == "s" and amount.end >= typed.end - 1)
        or _has_rest(typed)
    ):
        return False
    has_word = any(piece.kind is Kind.WORD and len(piece.text) > 2 for piece in typed.tokens)
    return has_word and len(rest.split()) <= _LONGEST_INLINE


def details(text: str) -> TypedBlock | None:
    """Read what only adds to a heading: "3 rds", "r90", "cap 8 min"; None for anything with words of its own."""
    head = Head(text)
    head.walk()
    found = head.found
    words = [at for at in chain(*head.free) if head.typed[at].word not in IDLE]
    is_told = found.rounds or found.rest_between_rounds or found.cap or found.minutes
    return found if is_told and not words and not head.forms else None


#: Words that stand in headings and tell nothing of what the block is called.
IDLE = listed("idle in headings")
