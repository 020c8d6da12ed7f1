"""exercises.yaml to entries of a series' own, added to the shipped library. Strict, with a place for each slip."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from typing import Annotated, TypeAlias

from repslate.model.library import Entry, Library
from repslate.model.names import name_key, plain
from repslate.source import fields
from repslate.source.bounds import EXERCISES_FILE
from repslate.source.finding import Finding, Severity
from repslate.source.mapping import Item, Mapping, core_value, read_mapping
from repslate.source.models import Kind, Refused, is_empty, kind, read_model, strict, wrong
from repslate.source.near import nearest
from repslate.source.span import Span
from repslate.source.text import read_nearest

FILE_NAME = "exercises.yaml"
FAMILY = "own"
PACE = Fraction(3)  # s a repetition, as most shipped entries: middle of ACSM 2009's moderate speed (2–4 s)
SLOWEST = 60  # s a repetition; our choice
MET = "2024:02054"  # resistance training, several exercises: Herrmann et al. 2024, as most shipped entries
_SAME = frozenset({"", "alias", "plural"})  # what the words of a name make of it, order kept
_NEEDED = {"equipment": "“equipment: [bodyweight]”", "primary": "“primary: [quads, glutes]”"}

Name: TypeAlias = tuple[str, Span]


class Unit(StrEnum):
    """How work is usually counted."""

    REPS = "reps"
    SECONDS = "seconds"
    METRES = "metres"


class Answer(StrEnum):
    """Whether something is so."""

    YES = "yes"
    NO = "no"


def _names(says: str) -> Kind:
    return fields.texts(says, "[,;]", lambda item: (item.text, item.value_span))


@kind({"type": "number", "exclusiveMinimum": 0, "maximum": SLOWEST}, fields.QUOTED)
def _pace(item: Item) -> Fraction:
    """Take seconds per repetition."""
    value = core_value(item.text)
    if isinstance(value, (int, Decimal)) and not isinstance(value, bool) and 0 < value <= SLOWEST:
        return Fraction(value)
    message = f"“pace” is {fields.described(item)}, expected seconds per repetition, above 0 and up to {SLOWEST}"
    raise wrong(item, message, "type “pace: 3”, in digits and without a unit")


@dataclass(frozen=True, slots=True)
class OwnExercise:
    """What stands below a name in exercises.yaml, its words not yet looked up in the shipped library."""

    __pydantic_config__ = strict(*_NEEDED, one_sided="one-sided")

    also: Annotated[tuple[Name, ...], _names("other names")] = ()
    equipment: Annotated[
        tuple[Name, ...], _names("all that is needed; `kettlebell or dumbbell` where one will do")
    ] = ()
    primary: Annotated[tuple[Name, ...], _names("the muscles it trains directly, called what you call them")] = ()
    secondary: Annotated[tuple[Name, ...], _names("the muscles that help")] = ()
    traits: Annotated[
        tuple[Name, ...], _names("what may hurt, such as `hinge-load`; the workout is then asked for a caution")
    ] = ()
    one_sided: Annotated[Answer, fields.choice("`yes` if left and right take turns", Answer)] = Answer.NO
    pattern: Annotated[str | None, fields.text("the movement, such as `horizontal pull`")] = None
    unit: Annotated[Unit, fields.choice("how its work is counted: `reps`, `seconds` or `metres`", Unit)] = Unit.REPS
    pace: Annotated[Fraction, _pace("seconds per repetition (3), per metre where the unit is metres")] = PACE
    met: Annotated[str | None, fields.text("edition and code of the Compendium of Physical Activities")] = None
    source: Annotated[str, fields.text("where this is known from")] = FILE_NAME


def read_library(folder: Path, shipped: Library) -> tuple[Library, Span | None, tuple[Finding, ...]]:
    """Read the nearest exercises.yaml and add its entries to the shipped library.

    Looked for like series.yaml. The span is the top of the file that was read, None if there is none. What is wrong in
    an entry is an error, and the rest of the entry is used; an entry that has a shipped one's name takes its place.
    """
    text, name, findings = read_nearest(folder, FILE_NAME, most=EXERCISES_FILE)
    if text is None:
        return shipped, None, findings
    mapping, trouble = read_mapping(text, name)
    entries, wrong = read_entries(mapping, shipped)
    told = sorted((*trouble, *wrong), key=lambda finding: finding.span)
    return shipped.with_own(entries), Span(name), (*findings, *told)


def read_entries(mapping: Mapping, shipped: Library) -> tuple[tuple[Entry, ...], tuple[Finding, ...]]:
    """Read the entries of an exercises.yaml that is at hand as a mapping from names to settings."""
    entries: list[Entry] = []
    findings: list[Finding] = []
    taken: dict[str, Span] = {}
    for name, item in mapping.items():
        try:
            below = _settings(item)
        except Refused as refused:
            findings += refused.findings
            continue
        own, told = read_model(OwnExercise, below, f"the exercise “{name}”")
        findings += (*told, *_missing(item, below))
        free = _free(((name, item.key_span), *own.also), taken, findings)
        if (name, item.key_span) in free:
            entry = _entry([said for said, _ in free], own, below, shipped, findings)
            entries.append(entry)
            findings += _replaced(entry, free, shipped)
    return tuple(entries), tuple(findings)


def _settings(item: Item) -> Mapping:
    """Return what is indented below a name, or raise Refused."""
    at_name = replace(item, value_span=item.key_span)
    if not name_key(item.key):
        help_ = "type the name as it stands in the workout, such as “Boat row:”"
        raise wrong(at_name, f"“{item.key}” is no name of an exercise, expected letters or digits", help_)
    if item.value is None:
        message = f"“{item.key}” has nothing below it, expected at least its equipment and its primary muscles"
        raise wrong(at_name, message, "type below it, two spaces in, " + " and ".join(_NEEDED.values()))
    return fields.settings_in(item)


def _missing(item: Item, below: Mapping) -> Iterator[Finding]:
    """Tell of the keys that every entry has and this one lacks."""
    for key, example in _NEEDED.items():
        said = below.get(key)
        if said is None or is_empty(said) or (isinstance(said.value, tuple) and all(map(is_empty, said.value))):
            message = f"“{item.key}” does not say its “{key}”, expected at least one word"
            help_ = f"type below it, two spaces in, {example}"
            yield Finding("wrong-value", Severity.ERROR, item.key_span, message, help_)


def _free(names: Iterable[Name], taken: dict[str, Span], findings: list[Finding]) -> tuple[Name, ...]:
    """Return the names that no name above has, and take them."""
    found = []
    for name, span in names:
        first = taken.setdefault(name_key(name), span)
        if first is span:
            found.append((name, span))
            continue
        message = f"“{name}” is the name on line {first.line} once more, expected each name once"
        help_ = "delete it, or type another name"
        findings.append(Finding("exercise-name-taken", Severity.ERROR, span, message, help_))
    return tuple(found)


def _entry(names: Sequence[str], own: OwnExercise, below: Mapping, shipped: Library, findings: list[Finding]) -> Entry:
    """Return the entry as far as the shipped library knows its words."""
    primary = _muscles(own.primary, (), shipped, findings)
    return Entry(
        name=names[0],
        aliases=tuple(names[1:]),
        family=FAMILY,
        pattern=_known(own.pattern, below.get("pattern"), {one.pattern for one in shipped.entries.values()}, findings)
        or "",
        equipment=_equipment(own.equipment, shipped),
        muscles=primary,
        secondary=_muscles(own.secondary, primary, shipped, findings),
        one_sided=own.one_sided is Answer.YES,
        unit=own.unit.value,
        pace=own.pace,
        traits=_traits(own.traits, shipped, findings),
        met=_known(own.met, below.get("met"), {one.met for one in shipped.entries.values()}, findings) or MET,
        source=own.source,
    )


def _muscles(
    listed: Iterable[Name], primary: tuple[str, ...], shipped: Library, findings: list[Finding]
) -> tuple[str, ...]:
    """Return the muscles of a list; those that are primary already count as that, and a word of them alone is wrong."""
    found: list[str] = []
    for word, span in listed:
        meant = shipped.muscle(word)
        left = [muscle for muscle in meant if muscle not in primary]
        if not meant:
            common = {name for one in shipped.muscles.values() for name in (one.shown, one.name, *one.also)}
            guess = nearest(word, sorted(common))
            message = f"“{word}” is no muscle known here, expected a common name or one of muscles.yaml"
            known = ", ".join(one.shown for one in shipped.muscles.values() if not one.whole)
            findings.append(_wrong(span, message, f"type “{guess}”" if guess else f"type one of these: {known}"))
        elif not left:
            message = f"“{word}” is primary already, expected it in one of the two lists"
            findings.append(_wrong(span, message, "delete it here"))
        found += left
    return tuple(dict.fromkeys(found))


def _equipment(said: Iterable[Name], shipped: Library) -> tuple[str, ...]:
    """Return the equipment; a word that the shipped entries have too is spelt as there, whatever its capitals."""
    listed = (choice for entry in shipped.entries.values() for item in entry.equipment for choice in item.split(" or "))
    known = {choice.casefold(): choice for choice in listed}
    return tuple(" or ".join(known.get(choice.casefold(), choice) for choice in item.split(" or ")) for item, _ in said)


def _traits(listed: Iterable[Name], shipped: Library, findings: list[Finding]) -> tuple[str, ...]:
    found: list[str] = []
    for slug, span in listed:
        if slug in shipped.traits:
            found.append(slug)
            continue
        guess = nearest(slug, shipped.traits)
        message = f"“{slug}” is no hazard known here, expected one of traits.yaml"
        help_ = f"type “{guess}”" if guess else f"type one of these: {', '.join(shipped.traits)}"
        findings.append(_wrong(span, message, help_))
    return tuple(dict.fromkeys(found))


def _known(said: str | None, item: Item | None, known: Collection[str], findings: list[Finding]) -> str | None:
    """Return what a key says where a shipped entry says the same."""
    if said is None or item is None or said in known:
        return said
    try:
        return str(fields.choice("", sorted(known)).read(item))
    except Refused as refused:
        findings += refused.findings
        return None


def _wrong(span: Span, message: str, help_: str) -> Finding:
    return Finding("wrong-value", Severity.ERROR, span, message, help_)


def _replaced(entry: Entry, names: Iterable[Name], shipped: Library) -> Iterator[Finding]:
    """Tell once of each shipped entry that loses a name to this one, and of the hazards that nobody asks for then."""
    told: set[str] = set()
    for name, span in names:
        match = shipped.find(name)
        if match is None or match.how not in _SAME or match.entry.name in told:
            continue
        told.add(match.entry.name)
        lost = [slug for slug in match.entry.traits if shipped.traits[slug].required and slug not in entry.traits]
        known_as = f" as “{match.entry.name}”" if plain(name) != plain(match.entry.name) else ""
        left_out = f" and leaves out what may hurt in it, {', '.join(lost)}" if lost else ""
        traits = f"“traits: [{', '.join((*entry.traits, *lost))}]”"
        yield Finding(
            "exercise-name-taken",
            Severity.WARNING if lost else Severity.NOTE,
            span,
            f"“{name}” is in the shipped library{known_as}, expected a new name; yours is used in its place{left_out}",
            f"type another name, or below this one {traits}"
            if lost
            else "type another name, or leave it if you mean to",
        )
