"""The heading of a block, both ways: "Superset A: Rows · 3 rounds · rest 60–75 s"."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from repslate.model.block_ahead import (
    COUNTED,
    TIME_WORDS,
    begins_part,
    is_separator,
    is_times,
    is_whole_part,
)
from repslate.model.block_front import KINDS, Front, behind_title, front_at
from repslate.model.block_parts import (
    Interval,
    Parts,
    given,
    merged,
    read_special,
    sees_named,
    sees_scheme,
    write_parts,
    write_rounds,
    write_time,
)
from repslate.model.forms import FORMS, PROTOCOLS, BlockKind, Form, form_of
from repslate.model.measure import Measure, Unit, as_time, read_measure, read_rest, whole
from repslate.model.quantity import NUMBER_WORDS, Range
from repslate.model.tokens import Kind, Reader, Token
from repslate.source.finding import Finding, Severity
from repslate.source.near import nearest
from repslate.source.span import Span

_NEAR = {"".join(words): words for words, kind in KINDS.items() if words != ("sets",) and not form_of(kind).is_everyday}
_EXAMPLE = "Superset A: Rows · 3 rounds · rest 60–75 s"
_JOINTS = ("/", "&", "+", "and")  # "Cool-down / stretch" is a cool-down with a title


@dataclass(frozen=True, slots=True)
class BlockHeading(Parts):
    """What the heading of a block says.

    `letter` is the single letter, the number or the number word right behind the kind, as written ("A", "1", "one"),
    `title` the trainer's words beyond it; both "" where nothing stands.
    """

    kind: BlockKind
    letter: str = ""
    title: str = ""

    @property
    def form(self) -> Form:
        """What its kind means."""
        return form_of(self.kind)

    @property
    def name(self) -> str:
        """What the heading calls the block: all that it says but for the parts, the length of a turn with it."""
        nothing: dict[str, Any] = dict.fromkeys(given(self))
        return write_heading(replace(self, **{**nothing, "turn": self.turn}))


def parse_heading(text: str, span: Span) -> tuple[BlockHeading | None, tuple[Finding, ...]]:
    """Read the heading that stands at `span`.

    None without a finding: it names no known kind. None with one: it may be a misspelt kind. What cannot be read
    behind the kind is a finding, and the rest of the heading is still given.
    """
    r = Reader(text, span, known=("round", "rounds", "rest", "min", "cap"), example=_EXAMPLE, first_error=_first_error)
    heading = _read(r)
    return heading, tuple(r.findings)


def read_parts(text: str, kind: BlockKind) -> Parts | None:
    """Read parts alone, each behind "·" ("for 12 min · rest 60 s"); None where anything else stands there."""
    r = Reader(text, Span(""), known=(), example=_EXAMPLE)
    heading = BlockHeading(kind)
    while not r.done:
        if not (is_separator(r, 0) and r.take()):
            heading = _read_part(r, heading)
    return None if r.findings else Parts(**given(heading))


def write_heading(heading: BlockHeading) -> str:
    """Write the canonical form, which `parse_heading` reads back to the same heading."""
    form, parts = heading.form, heading
    words = [heading.kind.value]
    if heading.turn is not None:
        words.append(write_time(heading.turn))
    words.append(heading.letter)
    if form.joint and heading.clock is not None:
        words += [form.joint, write_time(heading.clock)]
        parts = replace(parts, clock=None)
    elif form.joint and form.by_turns and heading.rounds and not (heading.interval and heading.interval.times):
        words += [form.joint, write_rounds(heading.rounds)]
        parts = replace(parts, rounds=None)
    begin = " ".join(filter(None, words)) + (f": {heading.title}" if heading.title else "")
    return " · ".join((begin, *write_parts(parts, form)))


def _first_error(text: str) -> int | None:
    r = Reader(text, Span(""), known=(), example=_EXAMPLE)
    if _read(r) is None:
        return 1
    return min((found.span.column for found in r.findings if found.severity is Severity.ERROR), default=None)


def _read(r: Reader) -> BlockHeading | None:
    first = r.here
    heading, is_assumed = _read_front(r)
    if heading is None:
        _suggest_kind(r)
        return None
    begin = (first, r.last)
    before = heading.title
    if heading.form.names_turn and heading.turn is None:
        heading = _read_turn(r, heading)
    on_the_clock = heading.form.on_the_clock
    if not heading.letter:
        heading = replace(heading, letter=_read_letter(r, on_the_clock=on_the_clock))
    if heading.form.joint and heading.clock is None and _begins_clock(r, heading.form):
        heading = _read_part(r, heading)
    has_clock = heading.clock is not None or (heading.form.by_turns and heading.rounds is not None)
    title = _read_title(r, heading.form, may_be_clock=on_the_clock and not has_clock)
    heading = replace(heading, title=": ".join(filter(None, (before, title))))
    while not r.done:
        if is_separator(r, 0) or r.here.text == ")":
            r.take()
        else:
            heading = _read_part(r, heading)
    heading = _settled(r, heading, begin)
    if is_assumed:
        fix = r.fixed((first, r.last), write_heading(heading), otherwise=f"begin the heading with “{heading.kind}”")
        message = f"“{r.typed(begin)}” without a kind of block is read as {heading.kind.lower()}"
        r.note("notation-assumed", begin, message, fix)
    return heading


def _settled(r: Reader, heading: BlockHeading, begin: tuple[Token, Token]) -> BlockHeading:
    """Return the heading with the kind that its parts make of it, and with what its name alone stands for."""
    form = heading.form
    if form.with_rounds and heading.rounds:
        heading = replace(heading, kind=form.with_rounds)
    same = next((kind for kind, one in FORMS.items() if one.turn is not None and one.turn == heading.turn), None)
    if same:
        heading = replace(heading, kind=same, turn=None)
    usual = next((PROTOCOLS[word] for word in r.typed(begin).lower().split() if word in PROTOCOLS), None)
    if usual and heading.interval is None and not r.failed:
        rounds = heading.rounds  # of such a block, each is one interval
        times = None if heading.clock is not None else rounds.low if rounds else usual.times
        heading = replace(heading, interval=Interval(usual.on, usual.off, times), rounds=None)
        words = write_parts(Parts(interval=heading.interval), heading.form)
        message = f"“{r.typed(begin)}” is read as {' · '.join(words)}"
        fix = r.fixed((begin[0], r.last), write_heading(heading), otherwise="write the interval into the heading")
        r.note("notation-assumed", begin, message, fix)
    return heading


def _read_front(r: Reader) -> tuple[BlockHeading | None, bool]:
    """Read the kind and what stands in front of it; None where none is named. True: parts alone, so it is assumed."""
    behind = behind_title(r)
    found = front_at(r, 0)
    if behind and (found is None or form_of(found[1]).yields) and (other := front_at(r, behind)):
        front, kind, steps = other
        if steps and (found is None or found[0].steps + found[2] <= behind):
            title = r.typed((r.here, r.ahead(behind - 2)))
            for _ in range(behind):
                r.take()
            return replace(_take_front(r, front.nearer(behind), kind, steps), title=title), False
    return (None, False) if found is None else (_take_front(r, *found), not found[2])


def _take_front(r: Reader, front: Front, kind: BlockKind, steps: int) -> BlockHeading:
    heading = BlockHeading(kind, letter="" if front.letter is None else r.ahead(front.letter).text)
    if front.part is None:
        steps += front.steps
    else:
        for _ in range(front.part):
            r.take()
        if front.says == "number" and heading.form.counts == "rounds":
            number = int(r.take().text)
            heading = replace(heading, rounds=Range(number, number))
        else:
            heading = _read_part(r, heading)
        r.take_any("of")
    for _ in range(steps):
        r.take()
    return heading


def _read_turn(r: Reader, heading: BlockHeading) -> BlockHeading:
    """Read how long a turn is: "2 min", "other minute", or the figure inside "E2MOM" just read."""
    if heading.form.clipped and r.last.word == heading.form.clipped[1]:
        clipped = re.search(r"(\d+)\D*$", r.text[: r.last.end])
        return replace(heading, turn=Fraction(int(clipped[1]) * 60)) if clipped else heading
    if r.take_all("other", "minute"):
        return replace(heading, turn=Fraction(120))
    is_time = r.here.kind is Kind.CLOCK or any(r.ahead(step).word in TIME_WORDS for step in (1, 2, 3))
    if not (r.here.is_number and is_time):
        return heading
    measure = read_measure(r, "a time such as 2 min")
    seconds = None if measure is None else _one_time(r, measure, "the turn", "write how often the clock begins anew")
    return heading if seconds is None else replace(heading, turn=seconds)


def _begins_clock(r: Reader, form: Form) -> bool:
    on_the_clock = form.on_the_clock
    if sees_named(r, 0) or sees_scheme(r, 0):
        return False
    if form.by_turns and is_times(r, 0):
        return True
    if r.here.word in ("for", "in"):
        return on_the_clock or r.ahead().is_number
    return on_the_clock and r.here.is_number


def _suggest_kind(r: Reader) -> None:
    """Look for a kind that has no block here, and for a slip in the first word or in the first two written as one."""
    second = r.ahead(2 if r.ahead().is_dash else 1)
    for last, typed in ((r.here, r.here.word), (second, r.here.word + second.word)):
        found = nearest(typed, _NEAR)
        if found:
            kind = KINDS[_NEAR[found]].value
            place = (r.here, last)
            message = f"found “{r.typed(place)}”, expected a kind of block; the nearest is “{kind}”"
            r.error("block-kind-unknown", place, message, r.fixed(place, kind))
            return


def _read_letter(r: Reader, *, on_the_clock: bool) -> str:
    """Read "A", "1" or "one" where it is a name, not the beginning of a title, of "3 rounds" or of "EMOM 10"."""
    token, following = r.here, r.ahead()
    ends = following.kind is Kind.END or following.text == ":" or is_separator(r, 1) or is_times(r, 1)
    is_clock = following.word in ("for", "in")
    if token.kind is Kind.FIGURE:
        is_letter = token.text.isdigit() and len(token.text) <= 6 and (is_clock or (ends and not on_the_clock))
    else:
        is_letter = token.kind is Kind.WORD and (
            token.word in NUMBER_WORDS or (len(token.text) == 1 and (ends or is_clock or token.text.isupper()))
        )
    if not is_letter or following.word in ("round", "rounds") or is_times(r, 0):
        return ""
    return r.take().text


def _read_title(r: Reader, form: Form, *, may_be_clock: bool) -> str:
    """Read up to the first separator that a part follows; what stands behind a colon may hold figures."""
    has_colon = False
    while not has_colon and (r.here.text == ":" or r.here.is_dash or is_separator(r, 0) or r.here.word in _JOINTS):
        has_colon = r.take().text == ":"
    first = r.here
    holds_figures = form.in_sets and form.is_everyday  # "Test · 1RM back squat" is no part spoilt, but a title
    inside = has_colon and not may_be_clock
    if r.done or sees_named(r, 0, of=form) or _begins(r, 0, inside=inside, holds_figures=holds_figures):
        return ""
    while not r.done and not (is_separator(r, 0) and _begins(r, 1, inside=False, holds_figures=holds_figures)):
        if not holds_figures and begins_part(r, 0, inside=True):
            place = (r.here, r.ahead())
            message = f"found “{r.typed(place)}” inside the title, expected “·” before it"
            r.error("notation-unread", place, message, r.fixed((r.here, r.here), f"· {r.here.text}"))
        r.take()
    return r.typed((first, r.last))


def _begins(r: Reader, step: int, *, inside: bool, holds_figures: bool) -> bool:
    """Tell whether a part begins at the beginning of a title or behind a separator in it."""
    whole = is_whole_part(r, step)
    return whole or (not holds_figures and begins_part(r, step, inside=inside))


def _read_part(r: Reader, heading: BlockHeading) -> BlockHeading:
    """Read one part into the heading; after a finding, go on behind the next separator."""
    start = r.here
    part = read_special(r, heading.form)
    if part is None:
        part = _rest_part(r) if r.take_any("rest") else _figured_part(r, heading)
    if part is None:
        while not r.done and not is_separator(r, 0):
            r.take()
        return heading
    return replace(heading, **merged(r, heading, part, start))


def _rest_part(r: Reader) -> Parts | None:
    rest = read_rest(r)
    return None if rest is None else Parts(rest=rest)


def _figured_part(r: Reader, heading: BlockHeading) -> Parts | None:
    begin, form = r.here, heading.form
    is_clocked = form.on_the_clock
    has_times = r.here.is_times and bool(r.take())
    is_clock = r.take_any("for", "in")
    measure = read_measure(r, "rounds, a rest or a time, such as 3 rounds or rest 60 s")
    if measure is None:
        return None
    if has_times or (measure.unit is None and r.here.is_times and r.take()):
        return _times_part(r, begin, measure, is_clocked=is_clocked and not (form.by_turns and heading.clock is None))
    if r.take_any(*COUNTED):
        rounds = whole(r, measure, "rounds")
        return None if rounds is None else Parts(rounds=rounds)
    if measure.unit is Unit.SECONDS and r.take_any("rest"):
        return Parts(rest=measure.seconds())
    if is_clock or is_clocked or measure.unit is Unit.SECONDS:
        return _clock_part(r, measure, form)
    _refuse_figure(r, measure)
    return None


def _refuse_figure(r: Reader, measure: Measure) -> None:
    if measure.unit is None and r.here.kind is Kind.WORD:
        r.unexpected("“rounds” or a unit of time")
        return
    fix = "write rounds, s or min behind the figure"
    if measure.unit is None:
        fix = r.fixed(measure.place, f"{r.typed(measure.place)} rounds", otherwise=fix)
    r.error("notation-unit", measure.place, f"found “{r.typed(measure.place)}”, expected rounds or a time", fix)


def _times_part(r: Reader, begin: Token, measure: Measure, *, is_clocked: bool) -> Parts | None:
    """Read "x 3" and "3x" as rounds; by the clock they may be turns of the whole block as well."""
    if not is_clocked:
        r.take_any(*COUNTED)
        rounds = whole(r, measure, "rounds")
        return None if rounds is None else Parts(rounds=rounds)
    place = (begin, r.last)
    message = f"found “{r.typed(place)}” in a block by the clock, expected one time for all of it"
    fix = "write the time of the whole block, as in “Every minute for 10 min”, or a block for each turn"
    r.error("notation-unclear", place, message, fix)
    return None


def _clock_part(r: Reader, measure: Measure, form: Form) -> Parts | None:
    seconds = _one_time(r, measure, "the clock", "write the time the clock is set to")
    if seconds is None:
        return None
    if not form.for_time:
        return Parts(clock=seconds)
    message = f"“{r.typed(measure.place)}” is read as the most it may take"
    r.note("notation-assumed", measure.place, message, r.fixed(measure.place, f"cap {r.typed(measure.place)}"))
    return Parts(cap=seconds)


def _one_time(r: Reader, measure: Measure, what: str, fix: str) -> Fraction | None:
    """Return a measure as one time in seconds; None after a finding, where it is a range or no time."""
    clock = as_time(r, measure, bare=60)
    if clock is None or clock.low == clock.high:
        return None if clock is None else clock.low
    message = f"found “{r.typed(measure.place)}”, expected one time for {what}, not a range"
    r.error("notation-unclear", measure.place, message, fix)
    return None
