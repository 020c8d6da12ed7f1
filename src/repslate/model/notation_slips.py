"""Lines that mean something plain in another notation: found here, with the line to type instead.

One family of parts of notation.py. Each function adds its finding and reads on behind what it is about.
"""

from __future__ import annotations

import re

from repslate.model.measure import Measure, Unit, read_measure
from repslate.model.prescription import Prescription, Reps, Timed
from repslate.model.tokens import QUOTED, Kind, Place, Reader, Token

# Marks of a list or a quote in front of a line, and bold, italic or code in it: how a line looks, not what it says.
_MARKUP = re.compile(
    r"^\s*(?:(?:[-+*•–]\s+|>\s*)+)|\*\*|__|`|(?<!\S)(?P<mark>[*_])(?=\S)(?=[^*_]*\S(?P=mark)(?!\w))|(?<=\S)[*_](?=$|[\s,;.)])"
)
_LEFT, _RIGHT = ("l", "left"), ("r", "right")
_JOINTS = ("/", ",", "+", "and", "&")


def unmarked(line: str) -> str:
    """Return the line with blanks for the marks of Markdown, so that every column stays; quoted words stay too."""
    plain = _MARKUP.sub(lambda found: " " * len(found[0]), line)
    at, kept = 0, []
    for quoted in QUOTED.finditer(line):
        kept += [plain[at : quoted.start()], quoted[0]]
        at = quoted.end()
    return "".join((*kept, plain[at:]))


def joined_figures(r: Reader) -> tuple[Token, ...]:
    """Return the figures that begin here and are joined by dashes: three for "10-8-6"."""
    figures: list[Token] = []
    while r.ahead(2 * len(figures)).kind is Kind.FIGURE and (not figures or r.ahead(2 * len(figures) - 1).is_dash):
        figures.append(r.ahead(2 * len(figures)))
    return tuple(figures)


def refuse_joined(r: Reader, figures: tuple[Token, ...]) -> None:
    """Refuse "10-8-6": reps that change from set to set, which dashes would make a range."""
    place = (figures[0], figures[-1])
    message = f"found “{r.typed(place)}”, expected one range, or slashes between the reps of each set"
    fix = r.fixed(place, "/".join(token.text for token in figures), otherwise="write it as in “12/10/8”")
    r.error("notation-unclear", place, message, fix)


def work_and_rest(r: Reader, work: Measure) -> Prescription | None:
    """Read on from "30 s" before a slash and a second time: "/ 15 s off" is a rest; "/ 15 s" may be one or a set."""
    r.take()
    rest = read_measure(r)
    if rest is None:
        return None
    if rest.unit is Unit.SECONDS and work.unit is Unit.SECONDS and r.take_any("rest", "off"):
        return Prescription(work=Timed(work.seconds()), rest=rest.seconds())
    _refuse_two_times(r, (work.first, rest.last), r.typed(work.place), r.typed(rest.place))
    return None


def refuse_reps_as_times(r: Reader, work: Measure, rest: Measure) -> None:
    """Refuse "30/15 s" and "30/15 work/rest", where figures that read as reps are times."""
    if rest.unit is None:
        while r.here.word in ("work", "on", "off", "rest", "/"):
            r.take()
    unit, ends = (f" {rest.last.text}", "") if rest.unit else (" s", " s")
    _refuse_two_times(r, (work.first, r.last), f"{r.typed(work.place)}{unit}", f"{r.typed(rest.place)}{ends}")


def _refuse_two_times(r: Reader, place: Place, work: str, rest: str) -> None:
    message = f"found “{r.typed(place)}”, expected one time for all sets, and the rest named"
    fix = r.fixed(place, f"{work}, rest {rest}", otherwise="write it as in “8 × 20 s, rest 10 s”")
    r.error("notation-unclear", place, message, f"{fix} if it is work and rest")


def refuse_sides(r: Reader, reps: Measure) -> bool:
    """Refuse "10L/10R": the reps of one side and "per side" say it; False if nothing of the kind comes next."""
    if r.here.word not in _LEFT:
        return False
    step = 2 if r.ahead().word in _JOINTS else 1
    other = r.ahead(step)
    step += 2 if r.ahead(step + 1).word in ("rep", "reps") else 1
    if other.kind is not Kind.FIGURE or r.ahead(step).word not in _RIGHT:
        return False
    place = (reps.first, r.ahead(step))
    is_same = other.text == reps.first.text
    fix = "write a side that does more on a line of its own below, as in “the left side does 2 more”"
    if is_same:
        fix = r.fixed(place, f"{r.typed((reps.first, reps.last))} per side", keeps=False)
    r.error("notation-unclear", place, f"found “{r.typed(place)}”, expected the reps of one side", fix)
    for _ in range(step + 1):
        r.take()
    return True


def refuse_left_right(r: Reader) -> bool:
    """Refuse "L/R", which may be reps on each side or in turn; False if it does not come next."""
    if not (r.here.word in _LEFT and r.ahead().word in _JOINTS and r.ahead(2).word in _RIGHT):
        return False
    place = (r.here, r.ahead(2))
    fix = r.fixed(place, "per side") + " if each side does all of them"
    r.error("notation-unclear", place, f"found “{r.typed(place)}”, expected “per side” or nothing", fix)
    return True


def rounds_by_time(given: Prescription, rounds: str) -> str:
    """Return the advice for "20/10 x 8", "" where the line says more or is no such thing."""
    if given != Prescription(sets=given.sets, work=given.work) or not isinstance(given.work, Reps):
        return ""
    figures = [reps.low for reps in given.work.each if reps.low == reps.high]
    if len(figures) != 2 or any(figure % 5 for figure in figures) or len(given.work.each) != 2:
        return ""
    return f"write “{rounds} × {figures[0]} s, rest {figures[1]} s” if it is work and rest in seconds"
