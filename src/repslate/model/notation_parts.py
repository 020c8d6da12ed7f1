"""The parts of a prescription line that begin with a word: rest, tempo, effort, drops, cluster, per side.

One family of parts of notation.py. Each function reads on behind the word and returns the fields it fills, or None
after a finding.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from repslate.model.measure import UNIT_WORDS, Measure, Unit, read_measure, read_rest, read_whole, single
from repslate.model.prescription import Drops, Exertion, Phase, Prescription, Reserve, Tempo, Unsaid
from repslate.model.quantity import NUMBER_WORDS, Range, write_range
from repslate.model.tokens import Kind, Reader, Token

SIDES = ("side", "leg", "arm", "hand", "foot", "way", "direction")
IN_RESERVE = (("in", "reserve"), ("in", "the", "tank"))
_S = ("s", "sec", "secs", "second", "seconds")
_WAYS = (
    dict.fromkeys(("down", "lowering", "lower", "eccentric", "negative", "negatives", "descent"), "down")
    | dict.fromkeys(("up", "lifting", "concentric", "ascent"), "up")
)  # fmt: skip
_AS_NEEDED = (("as", "needed"), ("as", "required"), ("as", "necessary"), ("as", "you", "need"))
_BETWEEN_SETS = (("between", "sets"), ("between", "each", "set"), ("after", "each", "set"))


def rest(r: Reader) -> Prescription | None:
    """Read the time of a rest, or the second half of "rest-pause"."""
    if r.take_all("pause") or (r.here.is_dash and r.ahead().word == "pause" and r.take() and r.take()):
        return Prescription(rest_pause=True)
    r.take_any(":", "=")
    if r.here.word == "as" and any(r.take_all(*words) for words in _AS_NEEDED):
        between_sets(r)
        return Prescription(rest_as_needed=True)
    seconds = read_rest(r)
    between_sets(r)
    return None if seconds is None else Prescription(rest=seconds)


def between_sets(r: Reader) -> None:
    """Read the words that add nothing to a rest."""
    any(r.take_all(*words) for words in _BETWEEN_SETS)


def rest_short(r: Reader) -> Prescription | None:
    """Read "60 s" behind "r"."""
    if r.here.is_number or (r.here.text == ":" and r.ahead().is_number):
        return rest(r)
    r.unexpected("the time of a rest")
    return None


def no_rest(r: Reader) -> Prescription | None:
    """Read "rest" behind "no"."""
    if r.take_any("rest"):
        return Prescription(rest=Range(Fraction(0), Fraction(0)))
    r.unexpected("“rest”")
    return None


def tempo(r: Reader) -> Prescription | None:
    """Read "3-1-1-0", "3/1/1/0", "3 1 1 0", the compact "31X0", each also of three phases, or "3 s down"."""
    r.take_any(":", "of")
    first = r.here
    is_in_words = r.here.is_number and (r.ahead().word in _WAYS or (r.ahead().word in _S and r.ahead(2).word in _WAYS))
    if is_in_words:
        measure = read_measure(r)
        return tempo_in_words(r, measure) if measure else None
    is_separated = _is_joint(r.ahead()) or (len(first.text) == 1 and not r.ahead().glued)
    typed = _separated_phases(r) if is_separated else list(_compact(r))
    if not typed:
        r.unexpected("a tempo such as 3-1-1-0")
        return None
    if len(typed) in (3, 4) and all(map(_is_seconds, typed)) and set(typed) != {"?"}:
        lowering, bottom, lifting, top = map(_phase, [*typed, "?"][:4])
        return Prescription(tempo=Tempo((lowering, bottom, lifting, top)))
    message = f"found “{r.typed((first, r.last))[:30]}”, expected a tempo of three or four phases in whole seconds"
    fix = "write lowering, pause, lifting, pause, as in “tempo 3-1-1-0”; X is as fast as possible"
    r.error("notation-unread", (first, r.last), message, fix)
    return None


def sees_phase(r: Reader) -> bool:
    """Tell whether "down", "up" or the like comes next: the word behind the seconds of a phase."""
    return r.here.word in _WAYS


def tempo_in_words(r: Reader, measure: Measure) -> Prescription | None:
    """Read on from the seconds of "3 s down", and of "3 s down and 1 s up"; pauses stay unsaid."""
    phases: dict[str, Phase] = {}
    following: Measure | None = measure
    while following:
        seconds = single(r, replace(following, unit=None), "seconds")
        way = _WAYS[r.take().word]
        if seconds is None:
            return None
        if way in phases:
            message = f"“{way}” stands twice in this tempo, expected once"
            r.error("notation-twice", (following.first, r.last), message, "keep one of the two")
            return None
        phases[way] = seconds
        step = 1 if r.here.word in (",", "and") else 0
        goes_on = r.ahead(step).is_number and r.ahead(step + 1).word in _S and r.ahead(step + 2).word in _WAYS
        if step and goes_on:
            r.take()
        following = read_measure(r) if goes_on else None
    down, up = phases.get("down", Unsaid.UNSAID), phases.get("up", Unsaid.UNSAID)
    return Prescription(tempo=Tempo((down, Unsaid.UNSAID, up, Unsaid.UNSAID)))


def sees_tempo(r: Reader, *, compact: bool) -> bool:
    """Tell whether a tempo without its word comes next.

    Four figures joined by dashes can only be one (with slashes they may be reps); "31X0" only where no sets can stand.
    "2x24" is two of 24, as a pause cannot be as fast as possible, and "10x5 kg" has its unit.
    """
    if all(_is_phase(r.ahead(step)) for step in (0, 2, 4, 6)) and all(r.ahead(step).is_dash for step in (1, 3, 5)):
        return True
    three = (r.here.word, r.ahead(2).word, r.ahead(4).word)
    if compact and "x" in three and all(map(_is_seconds, three)) and r.ahead(1).is_dash and r.ahead(3).is_dash:
        return True
    typed, behind = "", r.here
    for behind in (r.ahead(step) for step in range(5)):
        if behind.kind not in (Kind.FIGURE, Kind.WORD) or (typed and not behind.glued):
            break
        typed += behind.word
    moves = typed[::2]  # lowering and lifting; between them are the pauses
    is_tempo = len(typed) == 4 and "x" in moves and "x" not in typed[1::2] and all(map(_is_seconds, typed))
    return compact and is_tempo and behind.word not in UNIT_WORDS and not behind.is_dash


def exertion(r: Reader) -> Prescription | None:
    """Read the rating behind "RPE"."""
    r.take_any(":", "of")
    measure = read_measure(r, "a rating such as 8 or 7.5–8")
    if measure is None:
        return None
    if measure.unit is None:
        return Prescription(effort=Exertion(measure.decimals()))
    message = f"found “{r.typed(measure.place)}”, expected a rating without a unit"
    r.error(
        "notation-unit",
        measure.place,
        message,
        r.fixed(measure.place, write_range(measure.decimals()), otherwise="write it as in “RPE 8”"),
    )
    return None


def reserve(r: Reader) -> Prescription | None:
    """Read the figure behind "leave" or "RIR", and "in reserve" behind it."""
    r.take_any(":", "of")
    reps = read_whole(r, "reps in reserve")
    any(r.take_all(*words) for words in IN_RESERVE)
    return None if reps is None else Prescription(effort=Reserve(reps))


def drops(r: Reader, measure: Measure) -> Prescription | None:
    """Read the size of the drops behind "2 drops"."""
    count = single(r, measure, "drops")
    r.take_any("set", "sets")
    has_of = r.take_any("of", "@", "at")
    if not has_of and not r.here.is_number:
        return None if count is None else Prescription(drops=Drops(count, None))
    if not r.here.is_number and r.here.word not in NUMBER_WORDS:
        example = "1 drop of 20 %" if count == 1 else "2 drops of 20 %"
        r.unexpected("the size of each drop, such as “of 20 %”", f"write by how much the load drops, as in “{example}”")
        return None
    size = read_measure(r, "the size of each drop, such as “of 20 %”")
    if count is None or size is None:
        return None
    if size.unit is Unit.PERCENT:
        return Prescription(drops=Drops(count, size.decimals()))
    fix = "write the size in per cent, as in “2 drops of 20 %”"
    if size.unit is None:
        fix = r.fixed(size.place, f"{r.typed(size.place)} %", otherwise=fix)
    message = f"found “{r.typed(size.place)}”, expected the size of a drop in %"
    r.error("notation-unit", size.place, message, fix)
    return None


def cluster(r: Reader) -> Prescription | None:
    """Read "2+2+2" behind "cluster"."""
    r.take_any("set", "sets", ":")
    r.take_any("of")
    measure = read_measure(r, "the reps of each part, such as 2+2+2")
    parts = measure and read_sum(r, measure)
    return Prescription(cluster=parts) if parts else None


def bare_cluster(r: Reader, measure: Measure) -> Prescription | None:
    """Read on from the first figure of "2+2+2" that no "cluster" stands before; it may stand behind."""
    parts = read_sum(r, measure)
    if parts is None:
        return None
    if r.take_any("cluster", "clusters"):
        return Prescription(cluster=parts)
    place = (measure.first, r.last)
    fix = r.fixed(place, f"{sum(parts)}, cluster {'+'.join(map(str, parts))}")
    if turns := r.fixed(place, f"({' + '.join(map(str, parts))})", otherwise="").removeprefix("write "):
        fix += f" for one set with short rests in it, or {turns} for each of several movements in turn"
    r.error("notation-unclear", place, f"found “{r.typed(place)}”, expected a cluster or a complex", fix)
    return None


def read_sum(r: Reader, measure: Measure) -> tuple[int, ...] | None:
    """Read on from the first figure of "2+2+2"; None after a finding."""
    parts: list[int] = []
    following: Measure | None = measure
    while following:
        reps = single(r, following, "reps")
        if reps is None:
            return None
        parts.append(reps)
        if not r.take_any("+"):
            break
        following = read_measure(r, "the reps of the next part")
    if following and len(parts) == 1:
        r.unexpected("“+” and the reps of the next part")
    return tuple(parts) if following and len(parts) > 1 else None


def per(r: Reader) -> Prescription | None:
    """Read "side", "leg" or the like behind "per"."""
    if any(r.take_any(side, f"{side}s") for side in SIDES):
        return Prescription(per_side=True)
    r.unexpected("“side”, “leg” or “arm”")
    return None


def each(r: Reader) -> Prescription:
    """Read "side", "leg" or the like behind "each", or nothing."""
    any(r.take_any(side, f"{side}s") for side in SIDES)
    return Prescription(per_side=True)


def each_short(r: Reader) -> Prescription | None:
    """Read "/s" behind "e"."""
    if r.take_all("/", "s"):
        return Prescription(per_side=True)
    r.unexpected("“/s” for each side")
    return None


def on_each(r: Reader) -> Prescription | None:
    """Read "each side" behind "on"."""
    if r.take_any("each", "either"):
        return each(r)
    r.unexpected("“each side”")
    return None


WORDS: dict[str, Callable[[Reader], Prescription | None]] = {
    "rest": rest, "r": rest_short, "no": no_rest, "restpause": lambda _: Prescription(rest_pause=True), "tempo": tempo,
    "rpe": exertion, "rir": reserve, "leave": reserve, "cluster": cluster, "clusters": cluster,
    "per": per, "/": per, "a": per, "each": each, "ea": each, "es": each, "e": each_short, "on": on_each,
}  # fmt: skip
"""What a part may begin with, and who reads on from there."""


def _separated_phases(r: Reader) -> list[str]:
    phases = []
    while _is_phase(r.here):
        phases.append(r.take().word)
        if _is_joint(r.here) and _is_phase(r.ahead()):
            r.take()
        elif len(phases) == 4:
            break
    return phases


def _compact(r: Reader) -> str:
    typed = ""
    while r.here.kind in (Kind.FIGURE, Kind.WORD) and (not typed or r.here.glued):
        typed += r.take().word
    return typed


def _phase(typed: str) -> Phase:
    return None if typed == "x" else Unsaid.UNSAID if typed == "?" else int(typed)


def _is_seconds(phase: str) -> bool:
    return phase in ("x", "?") or (phase.isascii() and phase.isdecimal() and len(phase) <= 2)


def _is_phase(token: Token) -> bool:
    return token.kind is Kind.FIGURE or token.word in ("x", "?")


def _is_joint(token: Token) -> bool:
    return token.is_dash or token.text == "/"
