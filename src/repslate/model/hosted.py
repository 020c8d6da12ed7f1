"""Lines of a workout file that may hold more than the notation: what is read of them, and what is carried as typed.

The one place between the strict readers and a file. What is not understood stops nothing: the words stay as typed, with
a note. What is understood and wrong, a contradiction or a range turned round, stays an error.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from repslate.model.block_heading import BlockHeading, parse_heading
from repslate.model.forms import noted
from repslate.model.prescription import Prescription, parse
from repslate.model.quantity import NUMBER_WORD
from repslate.source.bounds import DOSE
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

if TYPE_CHECKING:
    from repslate.model.notes.blocks import TypedBlock
    from repslate.model.notes.dose import TypedExercise

#: Findings of a line that is understood and cannot be meant.
WRONG = frozenset({"notation-contradiction", "notation-range"})
_STRAIGHT = str.maketrans("“”„", '"""')
_SEPARATOR = re.compile(r"[·•|;]|,\s|\s[-–—]\s")
_SHORT = 60  # characters; what is longer explains
_OF_DOSE = re.compile(
    r"[0-9]|\b(?:heavy|single|double|triple|max|failure|amrap|reps?|sets?|rounds?|minutes?|seconds?"
    r"|as last (?:time|week))\b"
    rf"|\A{NUMBER_WORD}\b",
    re.IGNORECASE,
)
_FIGURE = re.compile(r"[0-9]+")
_TIMES_WORDS = re.compile(rf"(?i)\d\s*[x×*]\s*(?!max|amrap|amap|rep|{NUMBER_WORD}|[\d(:½¼¾])\S{{2}}")
_LEAST_SHARE = (
    30  # per cent of the one-repetition maximum; less is "10 % off" and the like (common practice, no source)
)
_NAME = "Exercise"  # stands for the one whose line is read
_MOST_LOAD = 1000  # kilograms or pounds; more is a slip
_MANY_SETS = 20  # of one exercise nobody does so many (common practice, no source)
_LONGEST = 80  # characters of a line that a message quotes
_ENOUGH = "write sets, work, load and rest in figures outside the quotes to have them counted"


def hosted(text: str, span: Span) -> tuple[Prescription, tuple[Finding, ...]]:
    """Read the prescription line that stands at `span`: in figures as far as it is understood, else as its words.

    Nothing is read of a line that is wrong, so an error says why.
    """
    if len(text) > DOSE:
        message = f"found {len(text)} characters, expected a prescription of at most {DOSE}"
        fix = "write sets, work, load and rest on this line, and what else there is to say on the lines below"
        return _carried(text), (as_typed(text, span, message, fix),)
    said, findings = parse(text, span)
    errors = [found for found in findings if found.severity is Severity.ERROR]
    if said is None and all(found.check in WRONG for found in errors):
        return Prescription(), findings
    if said is None:
        first = next(found for found in errors if found.check not in WRONG)
        return _habitual(text, span) or (_carried(text), (as_typed(text, first.span, first.message, first.help),))
    if is_load_first(said) and (habitual := _habitual(text, span)):
        return habitual
    if said.words:
        return said, (*findings, as_typed(", ".join(said.words), span))
    return said, findings


def is_load_first(said: Prescription) -> bool:
    """Tell whether "60 x 8" was read as sixty sets: so many are none, the first figure is a load without its unit."""
    few = said.reps and max(reps.high for reps in said.reps) < _MANY_SETS
    return bool(said.sets and said.load is None and _MANY_SETS <= said.sets.low <= _MOST_LOAD and few)


def habitual_doses(text: str, span: Span) -> tuple[list[Prescription], tuple[Finding, ...]]:
    """Read a line as coaches type it, one dose for each of its parts; none where it has a name, or words alone."""
    from repslate.model.notes.canonical import canonical
    from repslate.model.notes.lines import read_lines

    typed = read_lines([f"{_NAME}:", text])
    doses = [parse(canonical(part), span)[0] for part in typed.parts]
    said = [dose for dose in doses if dose is not None and (dose.work is not None or dose.cluster)]
    is_counted = any(dose.words and dose.sets is None and dose.load is None for dose in said)  # "3 cues"
    if len(said) < len(doses) or _TIMES_WORDS.search(text) or (is_counted and len(said) == 1):
        return [], ()
    words = ", ".join(one for dose in said for one in dose.words)
    return said, (as_typed(words, span),) if words else ()


def _habitual(text: str, span: Span) -> tuple[Prescription, tuple[Finding, ...]] | None:
    """Read a line as coaches type it, figures and words; None where no figure can be made of it for certain."""
    from repslate.model.notes.canonical import canonical
    from repslate.model.notes.lines import read_lines

    if _TIMES_WORDS.search(text):
        return None  # of "3 x many" the three may be anything
    typed = read_lines([text])
    if len(typed.parts) > 1 or _is_doubtful(typed, text):
        return None
    (part,) = typed.parts
    if typed.name:
        part.words.insert(0, typed.name)
    if typed.label:
        part.words.insert(0, typed.label)
    said, _ = parse(canonical(part), span)
    if said is None or not (said.work or said.sets or said.rest or said.tempo or said.effort):
        return None
    return said, (as_typed(", ".join(said.words), span),) if said.words else ()


def hosted_heading(text: str, span: Span) -> tuple[BlockHeading | None, bool, tuple[Finding, ...]]:
    """Read the heading of a block as `parse_heading` does; what is not understood behind the kind stays in the title.

    True where words stay that may say what no figure says.
    """
    heading, findings = parse_heading(text, span)
    contradicted = any(found.check == "notation-contradiction" for found in findings)
    unread = [found for found in findings if found.severity is Severity.ERROR]
    if (heading and not unread) or contradicted:
        return heading, False, findings
    if heading is None and (turned := _behind_title(text)):
        return turned, False, ()
    is_slip = heading is None and bool(findings)
    habitual = None if is_slip else _habitual_heading(text)
    if habitual and (heading is None or habitual.letter == heading.letter):
        return habitual, any(map(str.isdigit, habitual.title)), ()
    if heading is None:
        return None, False, findings
    kept, words = _with_words(heading, text)
    first = unread[0]
    notes = [found for found in findings if found.severity is not Severity.ERROR]
    return kept, True, (*notes, as_typed(", ".join(words), first.span, first.message, first.help))


def _behind_title(text: str) -> BlockHeading | None:
    """Read "Swings · every minute for 10 min": a title, and behind it all that a heading says; None for any other."""
    title, *parts = (part.strip() for part in text.split("·"))
    if not title or not parts or any(map(str.isdigit, title)):
        return None
    kind, findings = parse_heading(parts[0], Span(""))
    if kind is None or findings or kind.title or kind.letter:
        return None
    heading, findings = parse_heading(" · ".join((f"{parts[0]}: {title}", *parts[1:])), Span(""))
    return heading if heading and not findings and heading.title == title else None


def _is_doubtful(typed: TypedExercise, text: str) -> bool:
    """Tell whether figures were read that may be something else where no name can stand beside them."""
    (part,) = typed.parts
    is_counted = bool(part.reps) and part.sets is None and "rep" not in text.casefold()
    if typed.name and (part.complex or is_counted):
        return True  # "8 back, 8 forward" are ways to go, "8 down to 1" is a ladder
    if part.drop_set and len(part.reps) > 1:
        return True  # "10-10-10 drop set" is one set
    load = part.load
    return bool(load and load.kind == "percent_1rm" and load.value and load.value.low < _LEAST_SHARE)


def _habitual_heading(text: str) -> BlockHeading | None:
    """Read a heading as coaches type it; None where it names no form, or a figure of it would be lost."""
    from repslate.model.notes.headings import read_heading
    from repslate.model.notes.workout_md import heading as canonical_heading

    typed = read_heading(text)
    if typed is None or typed.inline or noted(typed.form).in_sets or not _names_form(text, typed):
        return None
    written = canonical_heading(typed)
    heading, _ = parse_heading(written, Span(""))
    lost = set(_FIGURE.findall(text)) - set(_FIGURE.findall(written))
    return None if lost or typed.words else heading


def _names_form(text: str, typed: TypedBlock) -> bool:
    """Tell whether a heading says how its block is done; rounds alone may be of anything under a name of its own."""
    from repslate.model.notes.amounts import typed_line

    line = typed_line(text)
    return typed.form != "circuit" or bool(typed.work) or any(line.sees(at, "circuit") for at in range(line.end))


def may_be_dose(line: str) -> bool:
    """Tell whether a line that is no notation speaks of how much to do, as "work up to a heavy single" does."""
    return len(line) <= _SHORT and not line.endswith((".", "!", "?", ":")) and _OF_DOSE.search(line) is not None


def straight(text: str) -> str:
    """Return typed words as a prescription holds them: on one line, with straight double quotes."""
    return " ".join(text.translate(_STRAIGHT).split())


def as_typed(words: str, place: Span, found: str = "", fix: str = "") -> Finding:
    """Return the note that words are carried as typed; `found` is why no figure was made of them, `fix` what helps."""
    shown = words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"
    message = f"“{shown}” is carried as typed and counts nowhere" + (f": {found}" if found else "")
    return Finding("dose-as-typed", Severity.NOTE, place, message, fix or _ENOUGH)


def _carried(text: str) -> Prescription:
    return Prescription(words=(straight(text),))


def _with_words(heading: BlockHeading, text: str) -> tuple[BlockHeading, tuple[str, ...]]:
    """Return a heading with each part that reads by itself and is said once, and all others, words of its title."""
    head, *parts = (part.strip() for part in _SEPARATOR.split(text) if part.strip())
    front = _front(head, heading)
    said = [(part, _fields(front, part)) for part in parts]
    often = Counter(name for _, fields in said for name in fields)
    words = [front.title] if front.title != heading.title else []
    title = front.title if not words else ""
    for part, fields in said:
        if fields and all(often[name] == 1 and getattr(front, name) is None for name in fields):
            front = replace(front, **fields)
        else:
            words.append(part)
    words = [part for part in words if part]
    return replace(front, title=" · ".join(filter(None, (title, *words)))), tuple(words) or (title,)


def _front(head: str, heading: BlockHeading) -> BlockHeading:
    """Return the kind and letter that a heading begins with; what stands behind them is its title, read or not."""
    words = head.split()
    best: BlockHeading | None = None
    for count in range(1, len(words) + 1):
        front, findings = parse_heading(" ".join(words[:count]).rstrip(":"), Span(""))
        if front is None or findings or front.title or front.letter not in ("", heading.letter):
            continue
        if best is not None and (front.rounds, front.rest, front.clock) != (best.rounds, best.rest, best.clock):
            break  # figures in the midst of words may be of another thing
        best = replace(front, title=" ".join(words[count:]).strip(" :"))
    return best or BlockHeading(heading.kind, heading.letter, head)


def _fields(front: BlockHeading, part: str) -> dict[str, Any]:
    """Return what one part behind the kind says where it reads by itself, else nothing."""
    read, findings = parse_heading(f"{front.kind.value} · {part}", Span(""))
    if read is None or findings or read.title or read.letter:
        return {}
    return {name: value for name in ("rounds", "rest", "clock") if (value := getattr(read, name)) is not None}
