"""The parts behind a block's name, both ways: rounds, rest, clock, cap, scheme of repetitions, interval, people.

Those with words of their own ("cap 12 min", "20 s on / 10 s off") are known by their pattern, whatever stands around
them; block_heading.py reads the others.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, fields
from fractions import Fraction
from typing import Any, Literal

from repslate.model.clock import read_clock
from repslate.model.forms import Form
from repslate.model.measure import BARE_SECONDS_FROM
from repslate.model.quantity import NUMBER_WORD, Range, read_count, read_number, write_range, write_seconds
from repslate.model.tokens import Reader, Token


@dataclass(frozen=True, slots=True)
class Scheme:
    """Repetitions of each round in turn ("21-15-9"); `goes_on` where they change on like that as far as one gets."""

    reps: tuple[int, ...]
    goes_on: bool = False


@dataclass(frozen=True, slots=True)
class Interval:
    """Seconds of work and of rest in turn; `times` is how often, None where each exercise has one in each round."""

    on: Fraction
    off: Fraction
    times: int | None = None


#: Of several exercises one has each turn or interval, or each has them all.
Sharing = Literal["alternating", "each"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """What a heading may say of a block beyond its name; None where it does not. All times are in seconds.

    `turn` is how often the clock begins anew, `clock` how long it runs, `cap` how long the block may take at most.
    Where `interval.times` is said, `rounds` are sets of so many intervals, with `rest` between them.
    """

    rounds: Range[int] | None = None
    rest: Range[Fraction] | None = None
    clock: Fraction | None = None
    turn: Fraction | None = None
    cap: Fraction | None = None
    scheme: Scheme | None = None
    interval: Interval | None = None
    sharing: Sharing | None = None
    people: int | None = None


#: What each part is called in a message.
LABELS = {
    "rounds": "the number of rounds", "rest": "the rest", "clock": "the time of the clock",
    "turn": "the length of a turn", "cap": "the cap", "scheme": "the repetitions of each round",
    "interval": "the interval", "sharing": "who has which turn", "people": "how many share the work",
}  # fmt: skip
_FIGURE = r"\d{1,3}:[0-5]\d|\d{1,4}(?:[.,]\d{1,2})?[½¼¾]?"
_COUNT = r"\d{1,3}"
_MINUTES = ("min", "mins", "minute", "minutes")


def _time(name: str) -> str:
    """Return the pattern of a time whose figure is the group `name` and whose unit the group `name`_unit."""
    unit = r"seconds?|secs?|s|minutes?|mins?|[\"″]"
    return rf"(?P<{name}>{_FIGURE})(?:\s*-?\s*(?P<{name}_unit>{unit}))?(?![A-Za-z0-9:.,]\w)(?![A-Za-z0-9])"


_ENDS = r"(?!\w|[-–/:.,]\d)"
_INTERVAL = re.compile(
    rf"(?i)(?:(?P<sets>{_COUNT}(?:\s*[-–]\s*{_COUNT})?)\s*sets?\s*(?:of|[x×*:])\s*)?"
    rf"(?:(?P<times>{_COUNT})\s*(?P<by>[x×*]|rounds?\s+of|intervals?\s+of)\s*)?"
    rf"{_time('on')}\s*(?P<works>on|work|hard)?(?:\s*(?P<mark>[/,;:–-]|and)\s*|\s+)"
    rf"{_time('off')}(?:\s*(?P<rests>off|rest|easy))?{_ENDS}"
    rf"(?:\s*[x×*]\s*(?P<after>{_COUNT})(?:\s*(?P<of>rounds?|sets?|times))?{_ENDS})?"
)
_SCHEME = re.compile(
    rf"(?i)(?P<reps>{_COUNT}(?:[-–/]{_COUNT})+)(?P<more>\s*[-–/,]?\s*(?:…|\.\.\.?|etc\b\.?))?(?:\s*reps?\b)?"
    rf"(?![\w]|[-–/]\d)"
)
_CAP = re.compile(
    rf"(?i)(?:(?:(?:time\s*)?cap(?:ped)?(?:\s+(?:at|of))?|tc)\s*[:=]?\s*{_time('a')}(?!\s*[-–]\s*\d)|{_time('b')}\s*(?:time\s*)?cap\b)"
)
_PEOPLE = re.compile(
    rf"(?i)(?:in\s+)?(?:(?P<pairs>pairs)|(?:teams|groups)\s+of\s+(?P<people>{_COUNT}|{NUMBER_WORD}))\b|with\s+a\s+partner\b"
)
_SHARING = re.compile(
    r"(?i)(?P<alternating>alternating|alternate|in\s+turn|"
    r"one\s+exercise\s+(?:an?|each|every|per)\s+(?:turn|minute|interval)(?:,?\s+in\s+turn)?)\b"
    r"|(?:all|every\s+exercise)\s+(?:every|each)\s+(?:turn|minute)\b|(?:of\s+)?each\s+exercise\b"
)


def merged(r: Reader, one: Parts, other: Parts, start: Token) -> dict[str, Any]:
    """Return the parts of `other`, read from `start` on; what `one` has already is said twice."""
    found = {name: value for name, value in given(other).items() if value is not None}
    for name in found:
        if getattr(one, name) is not None:
            message = f"{LABELS[name]} stands twice in this heading, expected once"
            r.error("notation-twice", (start, r.last), message, "keep one of the two")
    return found


def sees_named(r: Reader, step: int, *, of: Form | None = None) -> int:
    """Return how many tokens spell a cap or an interval `step` tokens on, which nothing else looks like; 0 if none."""
    at = r.ahead(step).start
    found = _CAP.match(r.text, at) or _interval(r.text, at, of)
    return _tokens(r, step, found)


def sees_worded(r: Reader, step: int) -> int:
    """Return how many tokens say who shares the work, or how, `step` tokens on; 0 if none."""
    at = r.ahead(step).start
    return _tokens(r, step, _PEOPLE.match(r.text, at) or _SHARING.match(r.text, at))


def sees_scheme(r: Reader, step: int) -> int:
    """Return how many tokens are a scheme of repetitions `step` tokens on; 0 if none."""
    return _tokens(r, step, _scheme(r.text, r.ahead(step).start))


def _tokens(r: Reader, step: int, found: re.Match[str] | None) -> int:
    if found is None or r.ahead(step).start == len(r.text):
        return 0
    count = 0
    while r.ahead(step + count).start < found.end() and r.ahead(step + count).text:
        count += 1
    return count


def read_special(r: Reader, form: Form) -> Parts | None:
    """Read a cap, an interval, a scheme, or who shares the work; None where none of them stands here."""
    at, begin = r.here.start, r.here
    readers = (
        (_CAP.match(r.text, at), _cap),
        (_interval(r.text, at, form), _of_interval),
        (_scheme(r.text, at), _of_scheme),
        (_PEOPLE.match(r.text, at), _of_people),
        (_SHARING.match(r.text, at), _of_sharing),
    )
    for found, read in readers:
        if steps := _tokens(r, 0, found):
            for _ in range(steps):
                r.take()
            return read(r, begin, found) if found else None
    return None


def _interval(text: str, at: int, form: Form | None) -> re.Match[str] | None:
    """Match an interval: by its words, or by the slash where it is counted or the form goes by intervals."""
    found = _INTERVAL.match(text, at)
    if found is None:
        return None
    is_said = found["works"] and found["rests"]
    is_counted = found["times"] or found["after"] or (form is not None and form.by_interval)
    by_slash = found["mark"] == "/" and not found["works"] and not found["rests"]
    return found if is_said or (is_counted and by_slash and not (found["sets"] and not found["times"])) else None


def _scheme(text: str, at: int) -> re.Match[str] | None:
    found = _SCHEME.match(text, at)
    if found is None:
        return None
    return found if found["more"] or len(re.split("[-–/]", found["reps"])) > 2 else None


def _of_scheme(_r: Reader, _begin: Token, found: re.Match[str]) -> Parts:
    reps = tuple(int(one) for one in re.split("[-–/]", found["reps"]))
    return Parts(scheme=Scheme(reps, goes_on=bool(found["more"])))


def _of_people(_r: Reader, _begin: Token, found: re.Match[str]) -> Parts:
    typed = found["people"] or "2"
    return Parts(people=read_count(typed))


def _of_sharing(_r: Reader, _begin: Token, found: re.Match[str]) -> Parts:
    return Parts(sharing="alternating" if found["alternating"] else "each")


def _cap(r: Reader, begin: Token, found: re.Match[str]) -> Parts:
    name = "a" if found["a"] else "b"
    seconds, is_bare = _seconds(found[name], found[f"{name}_unit"], bare=60)
    if is_bare:
        place = (begin, r.last)
        message = f"“{r.typed(place)}” without a unit is read as minutes"
        r.note("notation-assumed", place, message, r.fixed(place, f"cap {found[name]} min"))
    return Parts(cap=seconds)


def _of_interval(r: Reader, begin: Token, found: re.Match[str]) -> Parts:
    place = (begin, r.last)
    units = (found["on_unit"] or found["off_unit"], found["off_unit"] or found["on_unit"])
    (on, bare), (off, _) = (
        _seconds(found[name], unit, bare=1) for name, unit in zip(("on", "off"), units, strict=True)
    )
    if bare and on < BARE_SECONDS_FROM and ":" not in found["on"]:
        message = f"“{r.typed(place)}” can be in seconds or minutes, expected a unit"
        r.error("notation-unclear", place, message, "write s or min behind both figures, as in “20 s on / 10 s off”")
    elif bare:
        message = f"“{r.typed(place)}” without a unit is read as seconds"
        text = r.typed(place).replace(f"{found['on']}", f"{found['on']} s", 1)
        r.note("notation-assumed", place, message, r.fixed(place, text, otherwise="write s behind both figures"))
    sets, times = found["sets"], found["times"] or found["after"]
    if (times and (found["by"] or "").lower().startswith("round")) or (found["of"] and found["of"].lower() != "times"):
        sets, times = sets or times, None
    low, _, high = (sets or "").replace("–", "-").partition("-")
    rounds = Range(int(low), int(high or low)) if low else None
    return Parts(rounds=rounds, interval=Interval(on, off, int(times) if times else None))


def _seconds(figure: str, unit: str | None, *, bare: int) -> tuple[Fraction, bool]:
    """Return a time in seconds, and whether it stood without a unit, each then `bare` seconds."""
    if ":" in figure:
        minutes = read_clock(figure)
        return (minutes, False) if isinstance(minutes, Fraction) else (Fraction(0), False)
    factor = bare if not unit else 60 if unit.lower() in _MINUTES else 1
    return Fraction(read_number(figure) or 0) * factor, not unit


def write_parts(parts: Parts, form: Form, *, joint: str = "") -> tuple[str, ...]:
    """Write each part as a heading has it, in their order; `joint` is the word before the time of the clock."""
    rounds, interval = parts.rounds, parts.interval
    is_counted = interval is not None and interval.times is not None
    before_rounds = f"{joint} " if joint and form.by_turns and parts.clock is None else ""
    written = (
        write_scheme(parts.scheme) if parts.scheme else "",
        f"{joint} {write_time(parts.clock)}".strip() if parts.clock is not None else "",
        before_rounds + write_rounds(rounds) if rounds and not is_counted else "",
        write_interval(interval, rounds) if interval else "",
        write_sharing(parts.sharing, form),
        write_people(parts.people),
        f"cap {write_time(parts.cap)}" if parts.cap is not None else "",
        f"rest {write_seconds(parts.rest)}" if parts.rest else "",
    )
    return tuple(filter(None, written))


def write_rounds(rounds: Range[int]) -> str:
    """Write "3 rounds"."""
    return write_range(rounds, "round" if rounds.high == 1 else "rounds")


def write_scheme(scheme: Scheme) -> str:
    """Write "21-15-9", and "3-6-9-…" where it goes on."""
    return "-".join((*map(str, scheme.reps), *("…" if scheme.goes_on else "")))


def write_interval(interval: Interval, sets: Range[int] | None = None) -> str:
    """Write "30 s on / 15 s off", "8 × 20 s on / 10 s off" or "3 sets of 5 × 2 min on / 2 min off"."""
    words = f"{write_time(interval.on)} on / {write_time(interval.off)} off"
    if interval.times is None:
        return words
    words = f"{interval.times} × {words}"
    return f"{write_range(sets, 'set' if sets.high == 1 else 'sets')} of {words}" if sets else words


def write_sharing(sharing: Sharing | None, form: Form) -> str:
    """Write whose each turn or interval is; "" where nothing is said."""
    return "" if sharing is None else form.each_words if sharing == "each" else sharing


def write_people(people: int | None) -> str:
    """Write "in pairs" or "in teams of 3"; "" where nothing is said."""
    return "" if people is None else "in pairs" if people == 2 else f"in teams of {people}"


def write_time(seconds: Fraction) -> str:
    """Write one time, "90 s" or "2 min"."""
    return write_seconds(Range(seconds, seconds))


def given(parts: Parts) -> dict[str, Any]:
    """Return the parts by their names, to put them into something that has them too."""
    return {field.name: getattr(parts, field.name) for field in fields(Parts)}
