"""A typed part in the canonical notation: its figures, and in quotes the words of which no figure is made.

What is written is held against the strict reader piece by piece, so that it reads back as just what it says.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from repslate.model.notes.dose import ONE, Dose, Figures, TypedLoad
from repslate.model.prescription import parse
from repslate.model.quantity import Range, write_number, write_range, write_seconds
from repslate.source.finding import Severity
from repslate.source.span import Span

_MASSES = ("kg", "lb")
_SHARES = {"percent_1rm": "1RM", "percent_tm": "TM", "percent_of_top": "of the top set"}
_SAY_NOTHING = frozenset({"rep", "reps", "set", "sets"})
_EACH_HAND = ("each hand", "per hand", "in each hand")
_TWENTY_ONES = (7, 7, 7)
_TWO_LEVELS = {"cal": "cal", "m": "m", "s": "s", "kg": "kg", "lb": "lb"}


def canonical(part: Dose) -> str:
    """Return a part as one line of the notation; "" for one that says nothing."""
    line: list[str] = []
    quoted = [*part.words]
    for piece, words in _pieces(part):
        if piece and _reads(", ".join([*line, piece])):
            line.append(piece)
        elif words or piece:
            quoted.append(words or piece)
    kept = [plain for words in quoted if (plain := _plain(words)) and plain.casefold() not in _SAY_NOTHING]
    return ", ".join([*line, *(f"“{words}”" for words in kept)])


def _plain(words: str) -> str:
    """Return words without the quotes that would end them."""
    return " ".join("".join('"' if sign in "“”„" else sign for sign in words).split())


def _reads(line: str) -> bool:
    said, findings = parse(line, Span(""))
    return said is not None and all(found.severity is not Severity.ERROR for found in findings)


def _pieces(part: Dose) -> Iterator[tuple[str, str]]:
    """Yield each thing that a part says: in notation, "" where it has none, and in words for where it does not read."""
    yield from _work(part)
    if part.load:
        yield _load(part.load), _load_words(part.load)
    if part.effort and part.effort.value:
        rating = write_range(part.effort.value)
        yield (f"RPE {rating}" if part.effort.kind == "rpe" else f"leave {rating} in reserve"), ""
    if part.tempo:
        yield "tempo " + "-".join(part.tempo), ""
    if part.hold:
        yield f"{_seconds(part.hold)} hold each", f"hold {_seconds(part.hold)}"
    yield from _drops(part)
    if part.rest_pause:
        yield "rest-pause", ""
    if part.cluster and not part.myo and not part.partials:
        yield "cluster " + "+".join(map(str, part.cluster)), ""
    yield from _in_words(part)
    if part.rest_as_needed:
        yield "rest as needed", ""
    elif part.rest:
        yield ("no rest" if part.rest.high == 0 else f"rest {_seconds(part.rest)}"), ""


def _drops(part: Dose) -> Iterator[tuple[str, str]]:
    if part.drops is not None:
        yield f"{part.drops} {'drop' if part.drops == 1 else 'drops'}", ""
    elif part.drop_set:
        yield "", "drop set"
    if part.drop_last:
        yield "", "drops on the last set"


def _in_words(part: Dose) -> Iterator[tuple[str, str]]:
    """Yield what the notation has no figure for."""
    said: tuple[tuple[object, str, str], ...] = (
        (part.max_last, "last set max", ""),
        (part.alternating, "", "alternating"),
        (part.every, "", f"every {_seconds(Range(part.every, part.every))}" if part.every else ""),
        (part.clock, "", f"for {_seconds(Range(part.clock, part.clock))}" if part.clock else ""),
        (part.intra_rest, "", f"{_seconds(part.intra_rest)} between" if part.intra_rest else ""),
        (part.rest_metres, "", f"{write_range(part.rest_metres, 'm')} recovery" if part.rest_metres else ""),
        (part.per_day, "", f"{part.per_day} times a day"),
    )
    yield from ((piece, words) for there, piece, words in said if there)


def _work(part: Dose) -> Iterator[tuple[str, str]]:
    if part.metres and len(part.reps) == 1:  # "2 x 8 x 30 m": sixteen times thirty metres
        yield from _times_each(part, part.reps[0])
        return
    sets = write_range(part.sets) if part.sets else ""
    dose = _dose(part)
    if not dose and part.two_levels:
        unit, levels = part.two_levels
        both = "/".join(map(write_number, levels))
        yield (f"{sets} sets" if sets and sets != "1" else ""), f"{both} {_TWO_LEVELS.get(unit, unit)}"
        return
    sided = " per side" if part.per_side else ""
    if part.seconds and not part.seconds.low:
        yield "", f"up to {_seconds(Range(part.seconds.high, part.seconds.high))}"
    if not dose:
        if sets:
            yield f"{sets} {'set' if sets == '1' else 'sets'}{sided}", ""
        return
    is_bare = not sets and part.reps and not part.cluster and len(part.reps) == 1 and not part.open_last
    written = f"{sets} × {dose}" if sets else f"{dose} {'rep' if dose == '1' else 'reps'}" if is_bare else dose
    if isinstance(part.partials, Range):
        yield f"{written}{sided} + {write_range(part.partials)} partials", f"+ {write_range(part.partials)} partials"
    else:
        yield written + sided, ""
    if part.is_max and part.seconds and part.seconds.low:
        yield "", f"in {_seconds(part.seconds)}"
    for unit in ("breaths", "steps") if part.reps else ():
        if figures := getattr(part, unit):
            yield "", write_range(figures, unit)


def _times_each(part: Dose, reps: Figures) -> Iterator[tuple[str, str]]:
    sets = part.sets or ONE
    yield from _work(replace(part, reps=(), sets=Range(sets.low * reps.low, sets.high * reps.high)))
    if part.sets:
        yield "", f"{write_range(part.sets)} times {write_range(reps)}"


def _dose(part: Dose) -> str:
    """Return what is done in each set, "" for nothing that has a figure."""
    if part.partials is True and part.cluster == _TWENTY_ONES:
        return "21s"
    if part.complex:
        return f"({' + '.join(map(str, part.complex))})"
    if part.myo and (mini := _minis(part)):
        return mini
    if part.is_max and not part.reps:
        return "max"
    if part.reps:
        return "/".join(write_range(reps) for reps in part.reps) + ("+" if part.open_last else "")
    measured = (
        (part.metres, "m"), (part.calories, "cal"), (part.breaths, "breaths"), (part.steps, "steps"),
    )  # fmt: skip
    written = [write_range(figures, unit) for figures, unit in measured if figures]
    if part.seconds and part.seconds.low:
        written.append(_seconds(part.seconds))
    return written[0] if written else ""


def _minis(part: Dose) -> str:
    """Return myo-reps as the notation writes them: a first set and so many small ones."""
    if part.mini_sets and part.mini_reps and part.reps:
        return f"myo-reps {write_range(part.reps[0])} + {write_range(part.mini_sets)} × {write_range(part.mini_reps)}"
    first, *minis = part.cluster or (0,)
    return f"myo-reps {first} + {len(minis)} × {minis[0]}" if minis and len(set(minis)) == 1 else ""


def _load(load: TypedLoad) -> str:
    """Return a load in notation, "" where it has none for it or more is said of it in words."""
    kind, figures = load.kind, _load_figures(load)
    if load.words and kind not in ("band", "words") and load.words not in (*_EACH_HAND, "added"):
        return ""
    if kind in _MASSES:
        return _mass(load, figures)
    if kind == "percent_off_top" and load.value and load.value.low == load.value.high:
        return f"@ {write_number(100 - load.value.low)} % of the top set"
    if kind.startswith("percent_of_") and kind.endswith("rm") and figures:
        return f"@ {figures} % of {kind.removeprefix('percent_of_').removesuffix('rm')}RM"
    if figures:
        shares = {name: f"@ {figures} % {whole}" for name, whole in _SHARES.items()}
        others = {"rep_max": f"@ {figures}RM", "fraction_bodyweight": f"@ {figures} body weight"}
        return (shares | others).get(kind, "")
    return {"bodyweight": "@ bodyweight", "band": "@ band"}.get(kind, f"@ {load.words}" if kind == "words" else "")


def _load_figures(load: TypedLoad) -> str:
    listed = "/".join(map(write_number, load.by_set or load.two_levels))
    return listed or (write_range(load.value) if load.value else "")


def _mass(load: TypedLoad, figures: str) -> str:
    if load.words in _EACH_HAND:
        return f"@ 2 × {figures} {load.kind}"
    return f"@ bodyweight + {figures} {load.kind}" if load.words == "added" else f"@ {figures} {load.kind}"


def _load_words(load: TypedLoad) -> str:
    """Return a load in words, for where the notation has none for it."""
    if load.kind == "words":
        return load.words
    unit = {"kg": " kg", "lb": " lb", "mass": "", "rate_spm": " strokes a minute", "rate_rpm": " rpm"}.get(load.kind)
    figures = _load_figures(load)
    if unit is None:
        unit = " %" if load.kind.startswith("percent") else ""
    of = {"percent_ftp": " FTP", "percent_hrmax": " HRmax", "zone": ""}.get(load.kind, "")
    front = "zone " if load.kind == "zone" and figures else ""
    return f"@ {front}{figures}{unit if figures else ''}{of} {load.words}".strip()


def _seconds(figures: Range[Decimal]) -> str:
    return write_seconds(Range(Fraction(figures.low), Fraction(figures.high)))
