"""The heading of a block, both ways: "Superset A: Rows · 3 rounds · rest 60–75 s"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.model.block_front import Front, fronts, unread_format
from repslate.model.forms import FORMS, ROUNDS_ONLY, BlockKind, form_of
from repslate.model.measure import Measure, Unit, as_time, read_measure, read_rest, whole
from repslate.model.quantity import NUMBER_WORDS, Range, write_range, write_seconds
from repslate.model.tokens import Kind, Reader, Token
from repslate.source.finding import Finding, Severity
from repslate.source.near import nearest
from repslate.source.span import Span

_KINDS = {tuple(words.split()): kind for kind, form in FORMS.items() for words in form.typed}
_LONGEST_FIRST = sorted(_KINDS, key=len, reverse=True)
_NEAR = {"".join(words): words for words in _KINDS if words != ("sets",)}
_EXAMPLE = "Superset A: Rows · 3 rounds · rest 60–75 s"
_SEPARATORS = ("·", "•", "|", ",", ";")
_JOINTS = ("/", "&", "+", "and")  # "Cool-down / stretch" is a cool-down with a title


@dataclass(frozen=True, slots=True)
class BlockHeading:
    """What the heading of a block says.

    `letter` is the single letter, the number or the number word right behind the kind, as written ("A", "1", "one"),
    `title` the trainer's words beyond it; both "" where nothing stands. `rest` and `clock` are in seconds.
    """

    kind: BlockKind
    letter: str = ""
    title: str = ""
    rounds: Range[int] | None = None
    rest: Range[Fraction] | None = None
    clock: Fraction | None = None


@dataclass(frozen=True, slots=True)
class _Part:
    """One part behind the title."""

    rounds: Range[int] | None = None
    rest: Range[Fraction] | None = None
    clock: Fraction | None = None


def parse_heading(text: str, span: Span) -> tuple[BlockHeading | None, tuple[Finding, ...]]:
    """Read the heading that stands at `span`.

    None without a finding: it names no known kind. None with one: it may be a misspelt kind. What cannot be read
    behind the kind is a finding, and the rest of the heading is still given.
    """
    r = Reader(text, span, known=("round", "rounds", "rest", "min"), example=_EXAMPLE, first_error=_first_error)
    heading = _read(r)
    return heading, tuple(r.findings)


def write_heading(heading: BlockHeading) -> str:
    """Write the canonical form, which `parse_heading` reads back to the same heading."""
    clock = write_seconds(Range(heading.clock, heading.clock)) if heading.clock is not None else ""
    words = [heading.kind.value, heading.letter]
    if clock and (joint := form_of(heading.kind).joint):
        words += [joint, clock]
        clock = ""
    begin = " ".join(filter(None, words)) + (f": {heading.title}" if heading.title else "")
    rounds = write_range(heading.rounds, "round" if heading.rounds.high == 1 else "rounds") if heading.rounds else ""
    rest = f"rest {write_seconds(heading.rest)}" if heading.rest else ""
    return " · ".join(filter(None, (begin, clock, rounds, rest)))


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
    on_the_clock = form_of(heading.kind).on_the_clock
    if not heading.letter:
        heading = replace(heading, letter=_read_letter(r, on_the_clock=on_the_clock))
    if on_the_clock and heading.clock is None and (r.here.word in ("for", "in") or r.here.is_number):
        heading = _read_part(r, heading)
    heading = replace(heading, title=_read_title(r, may_be_clock=on_the_clock and heading.clock is None))
    while not r.done:
        if _is_separator(r, 0) or r.here.text == ")":
            r.take()
        else:
            heading = _read_part(r, heading)
    if is_assumed:
        fix = r.fixed((first, r.last), write_heading(heading), otherwise="begin the heading with “Circuit”")
        r.note("notation-assumed", begin, f"“{r.typed(begin)}” without a kind of block is read as a circuit", fix)
    return heading


def _read_front(r: Reader) -> tuple[BlockHeading | None, bool]:
    """Read the kind and what stands in front of it; None where none is named. True: rounds alone, so a circuit."""
    if unread_format(r.text)[0]:
        return None, False
    for front in fronts(r):
        kind, steps = _kind_at(r, front)
        if kind is None:
            continue
        heading = BlockHeading(kind, letter="" if front.letter is None else r.ahead(front.letter).text)
        if front.rounds or front.clock:
            heading = _read_part(r, heading)
            r.take_any("of")
        else:
            steps += front.steps
        for _ in range(steps):
            r.take()
        return heading, not steps
    return None, False


def _kind_at(r: Reader, front: Front) -> tuple[BlockKind | None, int]:
    """Return the kind that is spelt behind a front, and in how many tokens."""
    for words in _LONGEST_FIRST:
        steps = _spelt(r, words, front.steps)
        kind = _KINDS[words]
        if steps and (not front.clock or front.steps > 1 or form_of(kind).on_the_clock):
            return kind, steps
    if front.rounds and r.ahead(1).word in ("round", "rounds"):  # "3 rounds" and nothing more
        ends = r.ahead(2).kind is Kind.END or r.ahead(2).text == ":" or _is_separator(r, 2)
        return (ROUNDS_ONLY, 0) if ends else (None, 0)
    return None, 0


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


def _suggest_kind(r: Reader) -> None:
    """Look for a kind that has no block here, and for a slip in the first word or in the first two written as one."""
    what, fix = unread_format(r.text)
    if what:
        place = (r.here, r.end_of_part())
        message = f"found “{r.typed(place)}”, expected a kind of block; {what} are none here"
        r.error("block-kind-unknown", place, message, fix)
        return
    second = r.ahead(2 if r.ahead().is_dash else 1)
    for last, typed in ((r.here, r.here.word), (second, r.here.word + second.word)):
        found = nearest(typed, _NEAR)
        if found:
            kind = _KINDS[_NEAR[found]].value
            place = (r.here, last)
            message = f"found “{r.typed(place)}”, expected a kind of block; the nearest is “{kind}”"
            r.error("block-kind-unknown", place, message, r.fixed(place, kind))
            return


def _read_letter(r: Reader, *, on_the_clock: bool) -> str:
    """Read "A", "1" or "one" where it is a name, not the beginning of a title, of "3 rounds" or of "EMOM 10"."""
    token, following = r.here, r.ahead()
    ends = following.kind is Kind.END or following.text == ":" or _is_separator(r, 1) or _is_times(r, 1)
    is_clock = following.word in ("for", "in")
    if token.kind is Kind.FIGURE:
        is_letter = token.text.isdigit() and len(token.text) <= 6 and (is_clock or (ends and not on_the_clock))
    else:
        is_letter = token.kind is Kind.WORD and (
            token.word in NUMBER_WORDS or (len(token.text) == 1 and (ends or is_clock or token.text.isupper()))
        )
    if not is_letter or following.word in ("round", "rounds") or _is_times(r, 0):
        return ""
    return r.take().text


def _read_title(r: Reader, *, may_be_clock: bool) -> str:
    """Read up to the first separator that a part follows; what stands behind a colon may hold figures."""
    has_colon = False
    while not has_colon and (r.here.text == ":" or r.here.is_dash or _is_separator(r, 0) or r.here.word in _JOINTS):
        has_colon = r.take().text == ":"
    first = r.here
    if r.done or _begins_part(r, 0, inside=has_colon and not may_be_clock):
        return ""
    while not r.done and not (_is_separator(r, 0) and _begins_part(r, 1, inside=False)):
        if _begins_part(r, 0, inside=True):
            place = (r.here, r.ahead())
            message = f"found “{r.typed(place)}” inside the title, expected “·” before it"
            r.error("notation-unread", place, message, r.fixed((r.here, r.here), f"· {r.here.text}"))
        r.take()
    return r.typed((first, r.last))


def _begins_part(r: Reader, step: int, *, inside: bool) -> bool:
    """Tell whether rounds, a rest or a clock begin there; `inside` a title only where nothing else can be meant."""
    token, following = r.ahead(step), r.ahead(step + 1)
    if token.word == "rest":
        return following.is_number
    if following.word in ("round", "rounds"):
        return token.is_number or token.word in NUMBER_WORDS
    if _is_times(r, step):
        return True
    return not inside and (token.is_number or (token.word in ("for", "in") and following.is_number))


def _is_times(r: Reader, step: int) -> bool:
    """Tell whether "x 3" or "3x" stands there, with nothing behind it that it could be times of."""
    pair = (r.ahead(step), r.ahead(step + 1))
    after = r.ahead(step + 2)
    is_pair = any(one.is_times and other.kind is Kind.FIGURE for one, other in (pair, pair[::-1]))
    return is_pair and (after.kind is Kind.END or after.text in (*_SEPARATORS, ")", ":") or after.is_dash)


def _is_separator(r: Reader, steps: int) -> bool:
    """Tell whether "·", a comma or the like, a dash between blanks, or a bracket round a part stands `steps` on."""
    token, following = r.ahead(steps), r.ahead(steps + 1)
    if token.text == "(":
        return _begins_part(r, steps + 1, inside=True)
    return token.text in _SEPARATORS or (token.is_dash and not token.glued and not following.glued)


def _read_part(r: Reader, heading: BlockHeading) -> BlockHeading:
    """Read rounds, a rest or a clock into the heading; after a finding, go on behind the next separator."""
    start = r.here
    part = _rest_part(r) if r.take_any("rest") else _figured_part(r, is_clocked=form_of(heading.kind).on_the_clock)
    if part is None:
        while not r.done and not _is_separator(r, 0):
            r.take()
        return heading
    for name, label in (("rounds", "the number of rounds"), ("rest", "the rest"), ("clock", "the time of the clock")):
        new = getattr(part, name)
        if new is None:
            continue
        if getattr(heading, name) is not None:
            message = f"{label} stands twice in this heading, expected once"
            r.error("notation-twice", (start, r.last), message, "keep one of the two")
        heading = replace(heading, **{name: new})
    return heading


def _rest_part(r: Reader) -> _Part | None:
    rest = read_rest(r)
    return None if rest is None else _Part(rest=rest)


def _figured_part(r: Reader, *, is_clocked: bool) -> _Part | None:
    begin = r.here
    has_times = r.here.is_times and bool(r.take())
    is_clock = r.take_any("for", "in")
    measure = read_measure(r, "rounds, a rest or a time, such as 3 rounds or rest 60 s")
    if measure is None:
        return None
    if has_times or (measure.unit is None and r.here.is_times and r.take()):
        return _times_part(r, begin, measure, is_clocked=is_clocked)
    if r.take_any("round", "rounds"):
        rounds = whole(r, measure, "rounds")
        return None if rounds is None else _Part(rounds=rounds)
    if measure.unit is Unit.SECONDS and r.take_any("rest"):
        return _Part(rest=measure.seconds())
    if is_clock or is_clocked or measure.unit is Unit.SECONDS:
        return _clock_part(r, measure)
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


def _times_part(r: Reader, begin: Token, measure: Measure, *, is_clocked: bool) -> _Part | None:
    """Read "x 3" and "3x" as rounds; by the clock they may be turns of the whole block as well."""
    if not is_clocked:
        rounds = whole(r, measure, "rounds")
        return None if rounds is None else _Part(rounds=rounds)
    place = (begin, r.last)
    message = f"found “{r.typed(place)}” in a block by the clock, expected one time for all of it"
    fix = "write the time of the whole block, as in “Every minute for 10 min”, or a block for each turn"
    r.error("notation-unclear", place, message, fix)
    return None


def _clock_part(r: Reader, measure: Measure) -> _Part | None:
    clock = as_time(r, measure, bare=60)
    if clock is None or clock.low == clock.high:
        return None if clock is None else _Part(clock=clock.low)
    message = f"found “{r.typed(measure.place)}”, expected one time for the clock, not a range"
    r.error("notation-unclear", measure.place, message, "write the time the clock is set to")
    return None
