"""The grammar of a prescription line: parts in any order, each a small function from tokens to the fields it fills.

To add a part: write its function in notation_parts.py, name its first word in WORDS there, write it out in
notation_written.py, and add lines to tests/cases/notation/.
"""

from __future__ import annotations

import re
from dataclasses import fields, replace

from repslate.model.measure import (
    TALLIES,
    TALLY_UNITS,
    TALLY_WORDS,
    UNIT_WORDS,
    Measure,
    Unit,
    as_time,
    read_measure,
    read_whole,
    whole,
)
from repslate.model.notation_load import (
    MASS_UNITS,
    measured_load,
    read_load,
    sees_bodies,
    sees_levels,
    sees_load,
    weight,
)
from repslate.model.notation_parts import (
    IN_RESERVE,
    SIDES,
    WORDS,
    bare_cluster,
    between_sets,
    drops,
    sees_phase,
    sees_tempo,
    tempo,
    tempo_in_words,
)
from repslate.model.notation_sets import adds_part, complex_parts, hold, myo_reps, sees_complex, sees_myo, twenty_ones
from repslate.model.notation_slips import (
    joined_figures,
    refuse_joined,
    refuse_left_right,
    refuse_reps_as_times,
    refuse_sides,
    rounds_by_time,
    unmarked,
    work_and_rest,
)
from repslate.model.notation_whole import find_contradictions
from repslate.model.prescription import (
    Counted,
    Distance,
    Exertion,
    Load,
    Maximum,
    Prescription,
    Reps,
    Reserve,
    Timed,
    TwoLevels,
    Weight,
    write,
)
from repslate.model.quantity import NUMBER_WORDS, Range, read_number
from repslate.model.tokens import Kind, Reader, Token, quote, scan
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

_MAX = (
    ("max",),
    ("amrap",),
    ("as", "many", "as", "possible"),
    ("as", "many", "reps", "as", "possible"),
    ("as", "many", "good", "reps", "as", "possible"),
    ("to", "failure"),  # the trade's word for the same end of a set
    ("until", "failure"),
    ("till", "failure"),
    ("failure",),
)
_MAX_FIRST = frozenset(words[0] for words in _MAX)
_ON_LAST = tuple((*on, last, "set") for on in ((), ("on",), ("on", "the")) for last in ("last", "final"))
_UNIT_OF = {"rep": Unit.REPS, "reps": Unit.REPS, **TALLY_UNITS}
_SEPARATORS = (",", ";", "·", "•", "|", "(", ")", "and", "with")
_SIDE_BEGINS = ("per", "each", "ea", "e", "on", "/", "a")
_ENDS_PART = UNIT_WORDS | {ending for side in SIDES for ending in (side, f"{side}s")}
_LABELS = {
    "sets": "the number of sets", "work": "the work (reps, a time, a distance or the like)", "per_side": "“per side”",
    "load": "the load", "effort": "the effort (RPE or reserve)", "tempo": "the tempo", "rest": "the rest",
    "drops": "the drops", "rest_pause": "“rest-pause”", "cluster": "the cluster", "partials": "the partials",
    "rest_as_needed": "the rest", "hold": "the hold", "open_last": "“last set max”",
}  # fmt: skip
# The names of parts as a table has them, in front of the part.
_NAMED = {
    "set": "sets", "sets": "sets", "rep": "reps", "reps": "reps", "repetitions": "reps", "load": "load",
    "weight": "load", "time": "time", "duration": "time", "hold": "hold",
}  # fmt: skip
_EXAMPLE = "3 × 10–12 per side @ 24 kg, rest 60 s"
_KNOWN = tuple(sorted({
    "x", "set", "sets", "of", "to", "rep", "reps", "sec", "secs", "seconds", "min", "mins", "minutes", "metres",
    "kilos", "pounds", "max", "amrap", "rest", "tempo", "leave", "reserve", "tank", "in", "the", "rpe", "rir", "rm",
    "band", "bodyweight", "working", "load", "cluster", "drop", "drops", "pause", "per", "each", "ea", "side", "leg",
    "arm", "hand", "hold", "with", "and", "at", "between", "no", "on", "off", "by", "failure", "kg", "kgs", "lb", "lbs",
    "last", "partials", "myo",
}))  # fmt: skip

# A line without a figure, and the words with which one can be notation all the same.
_NO_FIGURE = re.compile("([A-Za-z]+)[ ,][^0-9¼½¾]*")
_OPENERS = frozenset(
    {*WORDS, *NUMBER_WORDS, *_SEPARATORS, *(words[0] for words in _MAX)}
    | {"at", "band", "bands", "bodyweight", "body", "bw", "w", "x", "last", "final"}
)


def read(text: str, span: Span) -> tuple[Prescription | None, tuple[Finding, ...]]:
    """Read one line; None if any finding is an error. All parts are read, so one run shows every finding."""
    r = Reader(unmarked(text), span, known=_KNOWN, example=_EXAMPLE, first_error=_first_error)
    given = _read_parts(r)
    return (None if r.failed else given), tuple(r.findings)


def _first_error(text: str) -> int | None:
    """Return the column of the first error; a line that says nothing is one from its beginning."""
    r, given = _read_briefly(text)
    if not r.failed and given == Prescription():
        return 1
    return min((found.span.column for found in r.findings if found.severity is Severity.ERROR), default=None)


def _read_briefly(text: str) -> tuple[Reader, Prescription]:
    """Read a line without guesses of what was meant: they cost more than all else."""
    r = Reader(unmarked(text), Span(""), known=(), example=_EXAMPLE)
    return r, _read_parts(r)


def _read_parts(r: Reader) -> Prescription:
    first = r.here
    given = Prescription()
    before = Prescription()  # the part right before, to see what "each hand" belongs to
    while not r.done:
        if not sees_complex(r) and (r.here.word in _SEPARATORS or _is_loose_dash(r)):
            if r.take().word in (",", ";"):
                before = Prescription()
            continue
        if r.take_all("w", "/") or (adds_part(r) and r.take()):
            continue
        if r.last.word == "with" and r.here.word == "a" and r.ahead().is_number and r.take():
            continue  # "with a 5 s hold"
        if r.here.kind is Kind.QUOTED:
            before, given = Prescription(), replace(given, words=(*given.words, r.take().inside))
            continue
        start = r.here
        part = None
        is_of_load = before.load or (given.load and r.ahead().word in ("hand", "hands"))
        if is_of_load and r.here.word in _SIDE_BEGINS:
            _refuse_side(r)
        else:
            part = _read_part(r, given)
        before = part or Prescription()
        if part is None:
            _skip_part(r)
        else:
            given = _merged(r, given, part, start)
    if not r.failed:
        find_contradictions(r, given, (first, r.last))
    return given


def is_attempt(text: str) -> bool:
    """Tell whether a line is a prescription or tries to be one.

    It is, if it reads; if it begins in a way only notation does ("3 x", "10-12", "@", "rest 60"); or if it holds a
    figure and no more other words than pieces of the notation.
    """
    if (bare := _NO_FIGURE.fullmatch(text)) and bare[1].lower() not in _OPENERS:
        return False  # most lines of a workout are prose, and seen to be so at once
    r, given = _read_briefly(text)
    if not r.failed:
        return given != Prescription()
    tokens = (*scan(unmarked(text)), Token(Kind.END, "", len(text), False))
    quoted = [inside for token in tokens if token.kind is Kind.QUOTED for inside in scan(token.inside)]
    words = [token.word for token in (*tokens, *quoted) if token.kind is Kind.WORD]
    known = (*_KNOWN, *UNIT_WORDS) if tokens[0].is_number else (*_KNOWN, *UNIT_WORDS - TALLY_WORDS)
    strange = sum(word not in known for word in words)  # "Take 5 breaths" is said in prose
    figures = sum(token.is_number for token in tokens)
    if _begins_as_notation(*tokens[:3]) or (figures > 0 and figures + len(words) - strange >= strange):
        return True
    return tokens[0].word in ("max", "amrap") and len(words) - strange > strange


def _begins_as_notation(first: Token, second: Token, third: Token | None = None) -> bool:
    if first.text == "@" or (first.is_times and second.is_number):
        return True
    if first.word in ("rest", "tempo", "rpe", "rir", "leave", "cluster"):
        return second.is_number
    if first.word in NUMBER_WORDS and second.word in ("rep", "reps"):
        return True
    if not (first.is_number or first.word in NUMBER_WORDS) or third is None:
        return False
    if second.word == "by":
        return third.is_number
    is_joined = second.is_dash or second.word in ("to", "/", "+")
    return second.is_times or second.word in ("set", "sets") or (is_joined and third.is_number)


def _read_part(r: Reader, given: Prescription) -> Prescription | None:
    figures = joined_figures(r)
    is_tempo = r.ahead(2 * len(figures) - 1).word == "tempo"
    if len(figures) > 2 and not is_tempo and _is_list(figures, given):
        refuse_joined(r, figures)
        return None
    if len(figures) == 3 or sees_tempo(r, compact=given.work is not None):
        part = tempo(r)
        r.take_any("tempo")
        return part
    if r.here.is_number:
        return _figured(r, given)
    if given.work is not None and r.here.is_times:
        return _times_more(r, given)
    return _worded(r, given)


def _is_list(figures: tuple[Token, ...], given: Prescription) -> bool:
    """Tell whether figures joined by dashes are reps, not a tempo.

    Four are a tempo, but before any reps "12-10-8-6" is as likely those of four sets.
    """
    if given.work is not None:
        is_slow = any((read_number(token.text) or 0) > 6 for token in figures)
        return len(figures) > 4 or (len(figures) == 3 and is_slow)
    return len(figures) != 4 or all((read_number(token.text) or 0) >= 4 for token in figures)


def _worded(r: Reader, given: Prescription) -> Prescription | None:
    if _sees_work(r):
        return _work_in_words(r)
    if r.here.word in _NAMED and (r.ahead().text in (":", "=") or r.ahead().is_number):
        return _named(r, given)
    if r.take_any("@", "at"):
        return _at(r, given)
    if sees_load(r):
        return _loaded(read_load(r))
    if r.here.word in WORDS:
        return WORDS[r.take().word](r)
    if not refuse_left_right(r):
        r.unexpected("a part such as reps, a time, a load, tempo, effort or rest")
    return None


def _at(r: Reader, given: Prescription) -> Prescription | None:
    """Read on from "@": a load, but "@ RPE 8", "@ 2 RIR" and "@ 31X0" are read as well."""
    if r.here.word in ("rpe", "rir", "leave", "tempo") or sees_tempo(r, compact=True):
        return _read_part(r, given)
    if not r.here.is_number:
        return _loaded(read_load(r))
    measure = read_measure(r)
    is_effort = r.here.word in ("rpe", "rir") or any(r.sees(*words) for words in IN_RESERVE)
    if measure and is_effort and measure.unit in (None, Unit.REPS):
        return _counted(r, measure)
    return _loaded(measured_load(r, measure)) if measure else None


def _named(r: Reader, given: Prescription) -> Prescription | None:
    """Read on from the name of a part that stands in front of it: "Sets: 3", "Reps: 10", "Load: 24 kg"."""
    name = _NAMED[r.take().word]
    r.take_any(":", "=")
    if name == "load":
        return _loaded(read_load(r))
    if name == "reps" and any(r.sees(*words) for words in _MAX):
        return _maximum(r)
    measure = read_measure(r, f"the number of {name}" if name in ("sets", "reps") else "a time such as 30 s")
    if measure is None or name == "reps":
        return _work(r, measure) if measure else None
    if name in ("time", "hold"):
        return hold(r, measure) if name == "hold" and given.is_in_reps else _named_time(r, measure)
    if r.here.is_times:
        return _sets(r, measure, Prescription())
    sets = whole(r, measure, "sets")
    return Prescription(sets=sets) if sets else None


def _named_time(r: Reader, measure: Measure) -> Prescription | None:
    seconds = as_time(r, measure, bare=1)
    return Prescription(work=Timed(seconds)) if seconds else None


def _times_more(r: Reader, given: Prescription) -> Prescription | None:
    """Read the load of "3 × 10 × 24 kg" or the sets of "10 reps × 3 sets"; the work is given."""
    r.take()
    if not (r.here.is_number and (r.ahead().kind is Kind.END or r.ahead().word in (*_SEPARATORS, "set", "sets"))):
        if not r.here.is_number:
            return _loaded(read_load(r))
        measure = read_measure(r)
        if measure and measure.unit is Unit.SECONDS and given.is_in_reps:  # "3 × 10 × 5 s hold"
            return hold(r, measure)
        return _loaded(measured_load(r, measure)) if measure else None
    sets = read_whole(r, "sets")
    if sets is None or r.take_any("set", "sets"):
        return None if sets is None else Prescription(sets=sets)
    place = (r.last, r.last)
    fix = rounds_by_time(given, r.last.text) if given.sets is None else ""
    fix = fix or r.fixed(place, f"{r.last.text} sets", otherwise="write it as in “3 × 10”, the sets first")
    if isinstance(given.load, Weight | TwoLevels) and sets.low == sets.high:
        pieces = write(Prescription(load=replace(given.load, pieces=sets.low)))
        fix += f", or the load as “{pieces}” if there are {sets.low} of them"
    r.error("notation-unclear", place, f"found “{r.last.text}”, expected sets or a load", fix)
    return None


def _is_loose_dash(r: Reader) -> bool:
    """Tell whether a dash between blanks separates parts; between figures it would be a range gone wrong."""
    is_loose = r.here.is_dash and not r.here.glued and not r.ahead().glued
    return is_loose and (r.last.word in _ENDS_PART or not r.ahead().is_number)


def _skip_part(r: Reader) -> None:
    """After a finding, go on at the next comma or semicolon."""
    while not r.done and r.here.word not in (",", ";"):
        r.take()


def _refuse_side(r: Reader) -> None:
    """Reps for each side, or a load in each hand? The two differ by half the weight."""
    message = f"found {quote(r.here)} behind the load, expected it right behind the reps"
    fix = "write reps on each side as in “3 × 10 per side @ 24 kg”, a load in each hand as in “3 × 10 @ 2 × 24 kg”"
    r.error("notation-unclear", (r.here, r.here), message, fix)


def _merged(r: Reader, given: Prescription, part: Prescription, start: Token) -> Prescription:
    for field in fields(Prescription):
        new = getattr(part, field.name)
        if new == field.default:
            continue
        if getattr(given, field.name) != field.default:
            fix = "keep one of the two"
            if isinstance(new, Maximum) and isinstance(given.work, Reps) and r.last.word == "failure":
                fix = r.fixed((start, r.last), "leave 0 in reserve", otherwise=fix)
            elif isinstance(new, Reps):
                fix = "write reps that change from set to set as in “12/10/8”"
            elif isinstance(new, Timed) and given.rest is None:
                is_rest = r.fixed((start, start), f"rest {start.text}", otherwise="")
                fix = f"{is_rest} if it is the rest" if is_rest else fix
            message = f"{_LABELS[field.name]} stands twice in this line, expected once"
            r.error("notation-twice", (start, r.last), message, fix)
        given = replace(given, **{field.name: new})
    return given


def _figured(r: Reader, given: Prescription) -> Prescription | None:
    """Read a part that begins with a figure: its unit and what follows say what it is."""
    measure = read_measure(r)
    if measure is None:
        return None
    is_load = measure.unit is None and (
        r.here.word == "rm" or (given.work is not None and (sees_bodies(r) or sees_levels(r)))
    )
    if measure.unit is None and not is_load and (r.here.is_times or r.here.word in ("set", "sets")):
        return _sets(r, measure, given)
    if measure.unit in (None, Unit.REPS) and not is_load:
        return _counted(r, measure)
    if measure.unit is Unit.SECONDS:
        return _timed(r, measure, given)
    if is_load or measure.unit is Unit.PERCENT or measure.unit in MASS_UNITS:
        return _loaded(measured_load(r, measure))
    return _work(r, measure)


def _timed(r: Reader, measure: Measure, given: Prescription) -> Prescription | None:
    """Read on from a time: a phase of the tempo, the hold of each repetition, a rest, or the work."""
    if sees_phase(r):
        return tempo_in_words(r, measure)
    if (given.is_in_reps and r.here.word in ("hold", "holds")) or r.sees("hold", "each", "rep"):
        return hold(r, measure)
    if _ends_as_rest(r):
        r.take()
        between_sets(r)
        return Prescription(rest=measure.seconds())
    return _work(r, measure)


def _sets(r: Reader, sets: Measure, given: Prescription) -> Prescription | None:
    """Read on from "3 sets" or "3 ×"; with the work already given, "2 × 24 kg" is a load."""
    count = whole(r, sets, "sets")
    if r.take_any("set", "sets") and not (r.here.is_times or r.sees("of")):
        return None if count is None else Prescription(sets=count)
    r.take()
    if _sees_work(r):
        worded = _work_in_words(r)
        return worded and replace(worded, sets=count)
    measure = _dose(r)
    if count is None or measure is None or _refuses_pieces(r, sets, count, measure, given):
        return None
    if measure.unit in MASS_UNITS:
        return _pieces(r, sets, count, measure, is_load=given.work is not None)
    part = _work(r, measure, has_sets=True)
    is_turned = part and isinstance(part.work, Reps) and len(part.work.each) == 1 and r.take_any("set", "sets")
    if is_turned:  # "10 × 3 sets"
        return Prescription(sets=whole(r, measure, "sets"), work=Reps((count,)))
    return part and replace(part, sets=count)


def _dose(r: Reader) -> Measure | None:
    """Read the figure behind "3 ×"; None after a finding."""
    if len(figures := joined_figures(r)) > 2:
        refuse_joined(r, figures)
        return None
    measure = read_measure(r, "reps, a time, a distance or “max”")
    if measure and measure.unit is Unit.SECONDS and _ends_as_rest(r):
        _refuse_rest(r, measure)
        return None
    return measure


def _refuse_rest(r: Reader, measure: Measure) -> None:
    """Refuse "3 × 60 s rest", often a comma without its blank: "3 × 10,60 s rest"."""
    place = (measure.first, r.take())
    typed = measure.first.text
    fix = "write the work first, as in “3 × 10, 60 s rest”"
    if "," in typed:
        fix = r.fixed((measure.first, measure.first), typed.replace(",", ", "), keeps=False)
    r.error("notation-unclear", place, f"found “{r.typed(place)}”, expected the work of each set", fix)


def _refuses_pieces(r: Reader, sets: Measure, count: Range[int], measure: Measure, given: Prescription) -> bool:
    """Refuse "2 × 24" behind the work: it is a load only with its unit."""
    is_alone = count.low == count.high and measure.unit is None and r.here.word not in ("/", "set", "sets")
    if given.work is None or given.load is not None or not is_alone:
        return False
    place = (sets.first, measure.last)
    typed = r.typed(place)
    fix = r.fixed(place, f"@ {typed} kg", otherwise="write the load as in “@ 2 × 24 kg”")
    message = f"found “{typed}” behind the work, expected a load with its unit"
    r.error("notation-unit", place, message, f"{fix} if it is the load, or other sets as an exercise of their own")
    return True


def _pieces(r: Reader, sets: Measure, count: Range[int], measure: Measure, *, is_load: bool) -> Prescription | None:
    load = weight(r, measure)
    if load and is_load and count.low == count.high:
        return Prescription(load=replace(load, pieces=count.low))
    place = (sets.first, measure.last)
    message = f"found “{r.typed(place)}”, expected reps, a time or a distance for each set"
    r.error("notation-unclear", place, message, f"write the reps first, as in “3 × 10 @ {r.typed(measure.place)}”")
    return None


def _counted(r: Reader, measure: Measure) -> Prescription | None:
    """Read on from a bare figure or one with "reps"."""
    if r.take_any("rir") or any(r.take_all(*words) for words in IN_RESERVE):
        reps = whole(r, measure, "reps in reserve")
        return None if reps is None else Prescription(effort=Reserve(reps))
    if r.here.word in ("round", "rounds"):
        place = (measure.first, r.take())
        fix = r.fixed((place[1], place[1]), "sets") + ", or put the rounds into the block's heading"
        r.error("notation-unread", place, f"found “{r.typed(place)}”, expected sets", fix)
        return None
    if measure.unit is None and r.take_any("rpe"):
        return Prescription(effort=Exertion(measure.decimals()))
    if measure.unit is None and r.take_any("drop", "drops"):
        return drops(r, measure)
    if measure.unit is None and r.take_any("partial", "partials"):
        r.take_any("rep", "reps")
        partials = whole(r, measure, "partials")
        return Prescription(partials=partials) if partials else None
    return _work(r, measure)


def _work(r: Reader, measure: Measure, *, has_sets: bool = False) -> Prescription | None:
    if measure.unit is Unit.SECONDS:
        is_time = r.take_any("hold", "holds", "work", "on")
        if r.sees("/") and r.ahead().is_number:
            return work_and_rest(r, measure)
        if not is_time and (work := twenty_ones(r, measure)):
            return Prescription(work=work)
        return Prescription(work=Timed(measure.seconds()))
    if measure.unit is Unit.METRES:
        return Prescription(work=Distance(measure.decimals()))
    if r.sees("+") and r.ahead().is_number and not adds_part(r):
        return bare_cluster(r, measure)
    return _counts(r, measure, has_sets=has_sets)


def _counts(r: Reader, first: Measure, *, has_sets: bool) -> Prescription | None:
    """Read on from the reps, calories or the like of all sets, or of the first of several ("12/10/8")."""
    each: list[Range[int]] = []
    unit: Unit | None = None
    following: Measure | None = first
    while following:
        is_on = following.unit is None and r.here.word in ("work", "on") and r.ahead().word not in ("each", "either")
        if len(each) == 1 and (following.unit is Unit.SECONDS or is_on):
            refuse_reps_as_times(r, first, following)
            return None
        tally = TALLIES.get(following.unit) if following.unit else None
        count = whole(r, replace(following, unit=None) if tally else following, tally or "reps")
        if count is None or _is_other_count(r, unit, following) or refuse_sides(r, following):
            return None
        each.append(count)
        unit = following.unit or unit
        is_open = (has_sets or len(each) > 1) and r.here.glued and not r.ahead().is_number and r.take_any("+")
        if is_open and r.here.word in _UNIT_OF:
            unit = _UNIT_OF[r.take().word]
        if not (r.sees("/") and r.ahead().is_number):
            tally = TALLIES.get(unit) if unit else None
            work = Counted(tuple(each), tally) if tally else Reps(tuple(each))
            return Prescription(work=work, open_last=is_open)
        r.take()
        following = read_measure(r)
    return None


def _is_other_count(r: Reader, unit: Unit | None, following: Measure) -> bool:
    """Refuse "10 reps/12 cal": the sets of one line are counted alike."""
    if unit is None or following.unit in (None, unit):
        return False
    message = f"found “{r.typed(following.place)}” behind {unit}, expected the same for each set"
    r.error("notation-unit", following.place, message, "write each of the two as an exercise of its own")
    return True


def _sees_work(r: Reader) -> bool:
    """Tell whether work comes next that begins with a word or a bracket."""
    is_last = r.here.word in ("last", "final") and r.ahead().word == "set"
    is_max = r.here.word in _MAX_FIRST and any(r.sees(*words) for words in _MAX)
    return is_max or is_last or sees_complex(r) or sees_myo(r)


def _work_in_words(r: Reader) -> Prescription | None:
    if sees_complex(r):
        return complex_parts(r)
    if sees_myo(r):
        return myo_reps(r)
    return _last_set(r) if r.here.word in ("last", "final") else _maximum(r)


def _maximum(r: Reader) -> Prescription:
    """Read "max", or "max on the last set"."""
    any(r.take_all(*words) for words in _MAX)
    r.take_any("rep", "reps")
    if any(r.take_all(*words) for words in _ON_LAST):
        return Prescription(open_last=True)
    return Prescription(work=Maximum())


def _last_set(r: Reader) -> Prescription | None:
    """Read "last set max"."""
    r.take()
    r.take()
    r.take_any(":", "=", "is", "for")
    if any(r.take_all(*words) for words in _MAX):
        r.take_any("rep", "reps")
        return Prescription(open_last=True)
    r.unexpected("“max”", "write max there, or the reps of each set as in “12/10/8”")
    return None


def _loaded(load: Load | None) -> Prescription | None:
    return Prescription(load=load) if load else None


def _ends_as_rest(r: Reader) -> bool:
    """Tell whether "60 s" is followed by a "rest" of its own, not by "rest 90 s" or "rest-pause"."""
    following = r.ahead()
    is_rest = r.here.word in ("rest", "off") and not following.is_number
    return is_rest and following.word not in (":", "pause", "of", "for") and not (following.is_dash and following.glued)
