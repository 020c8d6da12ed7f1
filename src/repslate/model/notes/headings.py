"""A typed heading to how its block is done: "Part B: for time, 12 min cap", "E2MOM x 7", "4 RFT", "40s on/20s off x 8"."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal

from repslate.model.notes.amounts import Amount, Typed, typed_line
from repslate.model.notes.dose import Dose, TypedExercise
from repslate.model.notes.items import item
from repslate.model.notes.lines import read_lines, split_label, strip_bullet
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

Span = Range[Decimal]

#: The forms by the words that name them, the most telling first.
_FORMS = {
    "roundsfortime": "rounds-for-time", "fortime": "for-time", "amrapform": "amrap", "giantset": "giant-set",
    "triset": "tri-set", "superset": "superset", "chipper": "chipper", "complexform": "complex", "ladder": "ladder",
    "partner": "partner", "warmup": "warm-up", "cooldown": "cool-down", "circuit": "circuit", "intervals": "intervals",
    "finisher": "finisher", "flow": "flow", "test": "test", "straight": "straight", "skill": "straight",
    "strength": "straight", "accessories": "straight", "quality": "circuit",
}  # fmt: skip
_WEAK = frozenset(
    {
        "skill",
        "strength",
        "accessories",
        "test",
        "flow",
        "quality",
        "intervals",
        "finisher",
        "partner",
        "ladder",
        "superset",
    }
)
_BEGINS = frozenset({"warmup", "cooldown", "skill", "strength", "accessories", "test", "finisher"})
_ELLIPSIS = re.compile(r"((?:\d{1,3}\s*[-–/,]\s*){2,})(?:…|\.{2,}|etc\.?)\s*(?:[-–/,]?\s*(\d{1,3}))?")
_SCHEME = re.compile(r"\d{1,4}(?:\s*[-–/]\s*\d{1,4}){2,}")
_EACH = frozenset({"complexform", "flow", "circuit", "superset", "triset", "giantset"})
#: Words that name a form at the beginning of a heading, and stand in the names of exercises elsewhere.
_FIRST_ONLY = frozenset({"stretching", "stretch", "prep", "activation", "dehnen", "main", "strength", "technique"})
_LONGEST = 12  # words of a heading


@dataclass(slots=True)
class TypedBlock:
    """A block as typed; times in seconds, `minutes` in minutes. `form` is "" where only a title stands."""

    form: str = ""
    label: str = ""
    title: str = ""
    rounds: Span | None = None
    outer_sets: Span | None = None
    minutes: Span | None = None
    work: Span | None = None
    rest: Span | None = None
    rest_between_rounds: Span | None = None
    every: Decimal | None = None
    cap: Decimal | None = None
    scheme: tuple[Decimal, ...] = ()
    people: int | None = None
    alternating: bool = False
    inline: str = ""
    each: Dose = field(default_factory=Dose)
    exercises: list[TypedExercise] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    @property
    def says_figures(self) -> bool:
        """Whether it tells rounds, times or a scheme."""
        return any((self.rounds, self.minutes, self.work, self.every, self.cap, self.scheme, self.people))


def read_heading(text: str) -> TypedBlock | None:
    """Read a line as the heading of a block; None where it is none, or an exercise that only names a form."""
    label, text = split_label(strip_bullet(text.lstrip("#").strip().strip("*_")))
    if re.fullmatch(r"(?i)(?:buy[- ]?in|cash[- ]?out|partner\s?\w|min\w*\s*\d+|odd.*|even.*|station.*)", label):
        return None
    head = _Head(typed_line(_without_dots(text)), text)
    head.walk()
    found = head.block(label)
    if found and found.every and found.title and found.inline and not read_lines([found.inline]).name:
        return None  # "Jerk from rack, every 90 s: 1 @ 78 %"
    return found


def _without_dots(text: str) -> str:
    """Write "10-9-8-…-1" out, so that it is a list like any other."""
    found = _ELLIPSIS.search(text)
    if not found:
        return text
    given = [int(one) for one in re.findall(r"\d+", found[1])]
    step = given[1] - given[0]
    if not step or any(b - a != step for a, b in zip(given, given[1:], strict=False)):
        return text
    if found[2] is None:
        last = "-".join(map(str, given))
        return f"{text[: found.start()]}{last}{text[found.end() :]}"
    if (int(found[2]) - given[-1]) % step or abs(int(found[2]) - given[-1]) > 60:
        return text
    listed = [*given, *range(given[-1] + step, int(found[2]) + (1 if step > 0 else -1), step)]
    return f"{text[: found.start()]}{'-'.join(map(str, listed))}{text[found.end() :]}"


class _Head:
    """Walks over a heading and takes what it says."""

    def __init__(self, typed: Typed, text: str) -> None:
        self.typed = typed
        self.text = text
        self.found = TypedBlock()
        self.forms: list[tuple[str, int]] = []
        self.free: list[list[int]] = [[]]
        self.after_form = 0

    def walk(self) -> None:
        at = 0
        while at < self.typed.end:
            if self._is_phase_with_exercise(at):
                self.found.inline = self.typed.text[self.typed[at].start :].strip()
                return
            end = (
                self._stations(at)
                or self._cap(at)
                or self._work_and_rest(at)
                or self._every(at)
                or self._scheme(at)
                or self._people(at)
            )
            end = end or self._rest(at) or self._rounds(at) or self._form(at) or self._minutes(at)
            end = end or self._each(at)
            if end:
                at = end
                self.free.append([])
                continue
            if self.typed[at].text in (":", ",", ";", "·", "|", "(", ")") or (
                self.typed[at].is_dash and not self.typed[at].glued
            ):
                if self.typed[at].text == ":" or self.typed[at].is_dash:
                    is_titled = self.typed[at].text == ":" and self.found.rounds and any(self.free)
                    if (self._is_told() or is_titled) and (rest := self.typed.text[self.typed[at].end :].strip()):
                        if self._is_inline(rest):
                            self.found.inline = rest
                            return
                self.free.append([])
            else:
                self.free[-1].append(at)
            at += 1

    def _each(self, at: int) -> int:
        """Take what every exercise of the block is done for: "5 each", "1 breath per pose"."""
        if not (self.forms and self.forms[0][0] in _EACH) and not self.typed.sees(at, "breath"):
            return 0
        found = item(self.typed, at, self.found.each, has_name=True)
        if not found or not found.fields.keys() <= {"reps", "breaths", "seconds", "per_side", "hold", "times", "adds"}:
            return 0
        for key, value in found.fields.items():
            if key == "times":
                self.found.rounds = self.found.rounds or value  # type: ignore[assignment]
            elif key != "adds":
                setattr(self.found.each, key, value)
        return found.end

    def _stations(self, at: int) -> int:
        """Skip "of 4 stations", which the exercises below tell themselves."""
        step = at + (self.typed[at].word == "of")
        amount = self.typed.amount(step)
        return self.typed.sees(amount.end, "station") if amount and not amount.unit else 0

    def _is_phase_with_exercise(self, at: int) -> bool:
        """Tell whether behind "WU" or "CD" an exercise begins without a colon: "CD 200 m easy + 4 x 25 m scull"."""
        is_phase = len(self.forms) == 1 and self.forms[0] in (("warmup", 0), ("cooldown", 0)) and not any(self.free)
        amount = self.typed.amount(at) if is_phase and at == self.after_form else None
        if not amount or amount.unit in ("s", "round", "set"):
            return False
        return bool(read_lines([self.typed.text[self.typed[at].start :]]).name)

    def _is_told(self) -> bool:
        return bool(self.forms or self.found.every or self.found.work or self.found.scheme)

    @staticmethod
    def _is_inline(rest: str) -> bool:
        """Tell whether what stands behind the colon is an exercise, not more of the heading."""
        typed = typed_line(rest.lstrip("("))
        if typed.sees(0, "cap") or typed.sees(0, *_FORMS) or details(rest):
            return False
        if any(typed.sees(at, "amrapform", "roundsfortime", "fortime") for at in range(typed.end)):
            return False
        amount = typed.amount(0)
        if amount and (
            typed.sees(amount.end, "cap") or (amount.unit in ("round", "s") and amount.end >= typed.end - 1)
        ):
            return False
        if amount and amount.unit == "round":
            return False
        if _Head(typed, rest)._work_and_rest(0):
            return False
        first_word = next((token for token in typed.tokens if token.kind is Kind.WORD and len(token.text) > 2), None)
        return bool(first_word) and len(rest.split()) <= 40

    def _form(self, at: int) -> int:
        for meaning in _FORMS:
            end = self.typed.sees(at, meaning)
            if not end:
                continue
            is_first = not any(self.free) and not self.forms
            if self.typed.typed(at, end).lower() in _FIRST_ONLY and not is_first:
                continue
            if (
                self.typed[at].word in ("ss", "ft", "wu", "cd", "hiit", "main", "prep", "test", "repeats", "bouts")
                and not is_first
            ):
                continue
            if (
                meaning == "amrapform"
                and at
                and (self.typed[at - 1].is_times or self.typed[at - 1].word in ("set", "sets"))
            ):
                continue
            if meaning in _BEGINS and not is_first and meaning not in ("warmup", "cooldown"):
                continue
            self.forms.append((meaning, at))
            self.after_form = end
            return end
        return 0

    def _cap(self, at: int) -> int:
        if end := self.typed.sees(at, "cap"):
            end += self.typed.is_mark(end, ":=")
            end += self.typed[end].word in ("of", "at", "is")
            amount = self.typed.amount(end)
            if amount and amount.unit in ("s", ""):
                self.found.cap = amount.low / 60 if amount.unit == "s" else amount.low
                return amount.end
            return 0
        amount = self.typed.amount(at)
        if amount and amount.unit == "s" and (end := self.typed.sees(amount.end, "cap")):
            self.found.cap = amount.low / 60
            return end
        return 0

    def _work_and_rest(self, at: int) -> int:
        """Read "40 s on / 20 s off", "20/10 x 8", "30 seconds of effort then 15 seconds of rest", "8 x 20/10"."""
        begin, count = at, None
        if any(self.free) and not self.forms and not self.typed.sees(at, "on"):
            amount = self.typed.amount(at)
            if not (amount and self.typed.sees(amount.end, "on")):
                return 0
        first = self.typed.amount(at)
        if first and not first.unit and self.typed[first.end].is_times:
            count, at = first, first.end + 1
            first = self.typed.amount(at)
        if first is None or self.found.work or first.unit not in ("", "s"):
            return 0
        end = self.typed.sees(first.end, "on") if first.unit == "s" else 0
        is_named = bool(end)
        end = end or first.end
        second = self._off(end)
        if second is None:
            if is_named and first.unit == "s" and self.typed.sees(first.end, "intervals"):
                self.found.work = first.figures
            return 0
        amount, end, says_off = second
        if first.unit == "" and first.figures == amount.figures and amount.high < 10:
            return 0
        bare = first.unit == "" and amount.unit in ("", "s") and self.typed[first.end].text in ("/", ":")
        if first.unit == "" and not bare and not is_named:
            return 0
        if not (
            is_named
            or says_off
            or (bare and first.is_single)
            or (first.unit == "s" and self.typed.is_mark(first.end, "/x×"))
        ):
            return 0
        if bare and not (count or self._count(end)):
            return 0
        self.found.work = first.figures
        self.found.rest = amount.figures
        self.found.rounds = self.found.rounds or (count.figures if count else None)
        if count is None and (times := self._count(end)):
            self.found.rounds, end = times.figures, times.end
            end = self.typed.sees(end, "round", "set") or end
        self.forms.append(("worked", begin))
        return end

    def _off(self, at: int) -> tuple[Amount, int, bool] | None:
        while self.typed[at].text in ("/", ",", ":", "+", "-", "–", "|") or self.typed[at].word in (
            "then", "and", "followed", "by", "with", "x", "×",
        ):  # fmt: skip
            at += 1
        if word := self.typed.sees(at, "off"):
            amount = self.typed.amount(word)
            return (amount, amount.end, True) if amount and amount.unit in ("s", "") else None
        amount = self.typed.amount(at)
        if amount is None or amount.unit not in ("s", ""):
            return None
        end = self.typed.sees(amount.end, "off")
        return amount, end or amount.end, bool(end)

    def _count(self, at: int) -> Amount | None:
        """Read "x 8", ", repeated 5 times", "for six rounds"."""
        while self.typed[at].text in (",", "(", "–", "-") or self.typed[at].word in (
            "for",
            "repeated",
            "repeat",
            "x",
            "×",
            "*",
        ):
            at += 1
        amount = self.typed.amount(at)
        if amount and (amount.unit in ("round", "set", "rep") or (amount.unit == "" and self.typed[at - 1].is_times)):
            return amount
        return None

    def _every(self, at: int) -> int:
        found = item(self.typed, at, Dose(metres=Range(Decimal(1), Decimal(1))), has_name=False)
        if not found or "every" not in found.fields:
            begin = at
            while self.typed[begin].word in ("on", "the", "each", "a", "start", "starts"):
                begin += 1
            amount = self.typed.amount(begin)
            if begin == at or not amount or amount.unit != "s" or not amount.is_clock:
                return 0
            self.found.every = amount.low
            self.forms.append(("everyn", at))
            return amount.end
        self.found.every = found.fields["every"]  # type: ignore[assignment]
        if isinstance(clock := found.fields.get("clock"), Decimal):
            self.found.minutes = Range(clock / 60, clock / 60)
        elif sets := found.fields.get("sets"):
            self.found.rounds = sets  # type: ignore[assignment]
        self.forms.append(("everyn", at))
        end = found.end
        if typed_sets := self.typed.amount(end + self.typed[end].is_times):
            if self.typed[end].is_times and typed_sets.unit == "s":
                self.found.minutes = Range(typed_sets.low / 60, typed_sets.high / 60)
                return typed_sets.end
        return end

    def _scheme(self, at: int) -> int:
        listed = self.typed.figures(at, "-/")
        if listed and (min(listed.values) == 0 or (len(listed.values) == 4 and max(listed.values) <= 5)):
            return 0  # a tempo
        if not listed or len(listed.values) < 3 or listed.unit not in ("", "rep") or self.found.scheme:
            return 0
        self.found.scheme = listed.values
        end = self.typed.sees(listed.end, "rep") or listed.end
        while self.typed[end].text in ("…", "-", "/", ".", ",") and self.typed[end].text:
            end += 1
        return end

    def _people(self, at: int) -> int:
        if not (end := self.typed.sees(at, "partner")):
            return 0
        words = self.typed.typed(at, end).lower()
        number = self.typed.number(end) if words.endswith("of") else None
        if number:
            self.found.people, end = int(number[0]), number[1]
        elif words.endswith("of"):
            return 0
        else:
            self.found.people = 3 if "three" in words else 2
        self.forms.append(("partner", at))
        return end

    def _rest(self, at: int) -> int:
        found = item(self.typed, at, Dose(), has_name=True)
        if found and "rest" in found.fields:
            self.found.rest_between_rounds = found.fields["rest"]  # type: ignore[assignment]
            return found.end
        if found and "rest_as_needed" in found.fields:
            self.found.words.append(self.typed.typed(at, found.end))
            return found.end
        return 0

    def _rounds(self, at: int) -> int:
        step = at + self.typed[at].is_times
        token, following = self.typed[step], self.typed[step + 1]
        if token.kind is Kind.FIGURE and following.word in ("rft", "r") and following.glued and following.word == "rft":
            self.found.rounds = Range(Decimal(token.text), Decimal(token.text))
            return step + 1
        amount = self.typed.amount(step)
        if not amount:
            return 0
        if (
            amount.unit == ""
            and amount.is_single
            and self.typed.sees(amount.end, "roundsfortime", "circuit", "superset")
        ):
            self.found.rounds = amount.figures
            return amount.end
        if amount.unit == "round" or (amount.unit == "set" and not self.typed[amount.end].is_times):
            if self.found.rounds is None:
                self.found.rounds = amount.figures
            elif amount.unit == "set":
                self.found.outer_sets = amount.figures
            end = amount.end
            end += self.typed[end].word == "of"
            if self.typed[end].text == ":":
                return end
            return self.typed.sees(end, "quality") or end
        if amount.unit in ("rep", "") and step > at and amount.is_single and self._is_told():
            self.found.rounds = self.found.rounds or amount.figures
            return amount.end
        return 0

    def _minutes(self, at: int) -> int:
        step = at
        while self.typed[step].word in ("for", "in", "of", "x", "~", "about"):
            step += 1
        amount = self.typed.amount(step)
        if not amount or amount.unit not in ("s", ""):
            return 0
        if amount.unit == "" and not (
            self.forms
            and self.forms[-1][0] in ("amrapform", "everyn", "worked")
            and self.typed[amount.end].kind is not Kind.WORD
        ):
            return 0
        if amount.unit == "" and self.forms[-1][0] == "worked":
            return 0
        seconds = amount.figures if amount.unit == "s" else Range(amount.low * 60, amount.high * 60)
        if self.found.minutes is None:
            self.found.minutes = Range(seconds.low / 60, seconds.high / 60)
            return amount.end
        return 0

    # ---- what it comes to

    def block(self, label: str) -> TypedBlock | None:
        meanings = [meaning for meaning, _ in self.forms]
        words = [at for run in self.free for at in run]
        title = " ".join(self.typed.typed(run[0], run[-1] + 1) for run in self.free if run).strip(" :–—-*.")
        loose = [at for at in words if self.typed[at].kind is Kind.WORD and self.typed[at].word not in _IDLE]
        figures = [at for at in words if self.typed[at].is_number]
        found = self.found
        found.label, found.title = label, title if loose or figures else ""
        if "roundsfortime" in meanings or ("fortime" in meanings and found.rounds):
            found.form = "rounds-for-time"
        elif "partner" in meanings:
            found.form = "partner"
        elif "amrapform" in meanings:
            found.form = "amrap"
        elif "everyn" in meanings:
            found.form = "every-minute" if found.every == 60 else "every-n"
            found.alternating = any(self.typed.sees(at, "alternating") for at in range(self.typed.end))
        elif meanings and meanings[0] == "worked":
            found.form = "circuit" if "circuit" in meanings else "intervals"
        elif named := [meaning for meaning in _FORMS if meaning in meanings]:
            found.form = _FORMS[named[0]]
        if (
            "worked" in meanings
            and found.form in ("circuit", "intervals", "warm-up")
            and found.rest_between_rounds is None
        ):
            pass
        if not found.form and found.scheme and not loose:
            found.form = "for-time" if found.scheme[0] > found.scheme[-1] and len(found.scheme) == 3 else "ladder"
        elif not found.form and found.cap is not None and not loose:
            found.form = "for-time"
        elif (
            not found.form
            and found.rounds
            and not figures
            and self._only_rounds()
            and (
                not loose
                or (self.text.rstrip().endswith(":") and self.typed.amount(0))
                or self._is_titled_rounds(loose)
            )
        ):
            found.form = "circuit"
        if not found.form:
            return None
        if not found.form or self._is_exercise(meanings, loose, figures):
            return None
        if found.form == "straight" and found.rest_between_rounds:
            found.rest, found.rest_between_rounds = found.rest_between_rounds, None
        if found.form == "intervals" and found.work is None and found.minutes and found.minutes.high < 3:
            found.work, found.minutes = Range(found.minutes.low * 60, found.minutes.high * 60), None
        if found.form in ("intervals", "circuit") and "worked" in meanings and not found.inline and found.title:
            last = [run for run in self.free if run][-1]
            if last[0] > max(at for meaning, at in self.forms if meaning == "worked"):
                name = self.typed.typed(last[0], last[-1] + 1).strip(" :–—-*.")
                found.inline, found.title = name, found.title.removesuffix(name).strip(" :–—-")
        if found.rest_between_rounds and found.form in ("intervals",) and found.rest is None:
            found.rest, found.rest_between_rounds = found.rest_between_rounds, None
        return found

    def _is_titled_rounds(self, loose: list[int]) -> bool:
        """Tell whether a title stands before the rounds: "Shoulder prep, 2 rounds: …"."""
        text = self.typed.text.lower()
        at = next((at for at in range(self.typed.end) if self.typed.sees(at, "round")), 0)
        says_work = bool(self.found.minutes) or any(
            self.typed.sees(step, "eachside", "breath") for step in range(self.typed.end)
        )
        return bool(at) and bool(loose) and loose[0] < at and not says_work and ("round" in text or "rds" in text)

    def _only_rounds(self) -> bool:
        return (
            "round" in self.text.lower()
            or bool(re.search(r"(?i)sets of\s*:\s*$", self.text))
            or "circuit" in self.text.lower()
            or not self.found.minutes
        )

    def _is_exercise(self, meanings: list[str], loose: list[int], figures: list[int]) -> bool:
        """Tell whether a line names a form but is an exercise: it has a dose, or the form stands among its words."""
        if self.found.inline:
            return False
        if figures and not (set(meanings) & {"warmup", "cooldown"}):
            return True
        strong = [meaning for meaning in meanings if meaning not in _WEAK]
        if len(loose) > _LONGEST:
            return True
        if meanings and meanings[0] == "ladder" and self.found.scheme and loose and loose[0] < self.forms[0][1]:
            return True
        is_phase = bool(set(meanings) & {"warmup", "cooldown"})
        amount = self.typed.amount(0)
        if is_phase and amount and amount.unit in ("m", "") and len(loose) <= 2 and not self.typed[amount.end].is_times:
            return False
        if is_phase and len(loose) > 4 and loose[0] < min(at for _, at in self.forms):
            return True
        before_phase = [at for at in loose if is_phase and at < min(at for _, at in self.forms)]
        if is_phase and (len(before_phase) > 3 or (before_phase and figures)) and not self.found.minutes:
            return True
        if is_phase and figures and any(self.typed[at + 1].is_times for at in figures):
            return True
        first_form = min(at for _, at in self.forms) if self.forms else 0
        before = [at for at in loose if at < first_form]
        if not strong and meanings and before and len(before) > 3:
            return True
        if meanings and all(meaning in ("fortime",) for meaning in meanings) and before:
            return bool(self.typed.amount(0)) and not self.found.rounds
        return False


_IDLE = frozenset(
    "of for the a an in and with each complete do then round rounds to as you can between at your x set sets every"
    " alternating alt go on minutes min rest mins work effort but also total time next starts start timer clock".split()
)


def details(text: str) -> TypedBlock | None:
    """Read what only adds to a heading: "3 rds", "r90", "cap 8 min"; None for anything with words of its own."""
    head = _Head(typed_line(text), text)
    head.walk()
    words = [at for run in head.free for at in run if head.typed[at].word not in _IDLE]
    found = head.found
    if words or head.forms or not (found.rounds or found.rest_between_rounds or found.cap or found.minutes):
        return None
    return found
