"""exercises.yaml to entries of a series' own, added to the shipped library. Strict, with a place for each slip."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from typing import TypeAlias

from repslate.model.library import Entry, Library
from repslate.model.names import name_key, plain
from repslate.source.bounds import EXERCISES_FILE
from repslate.source.fields import Fields, described
from repslate.source.finding import Finding, Severity
from repslate.source.mapping import Item, Mapping, core_value, read_mapping
from repslate.source.near import nearest
from repslate.source.span import Span
from repslate.source.text import read_nearest

FILE_NAME = "exercises.yaml"
FAMILY = "own"
KEYS = (
    "also", "equipment", "primary", "secondary", "traits", "one-sided", "pattern", "unit", "pace", "met", "source",
)  # fmt: skip
PACE = Fraction(3)  # s a repetition, as most shipped entries: middle of ACSM 2009's moderate speed (2–4 s)
SLOWEST = 60  # s a repetition; our choice
MET = "2024:02054"  # resistance training, several exercises: Herrmann et al. 2024, as most shipped entries
_COMMAS = r"[,;]"
_SAME = frozenset({"", "alias", "plural"})  # what the words of a name make of it, order kept
_NEEDED = {"equipment": "“equipment: [bodyweight]”", "primary": "“primary: [quads, glutes]”"}

Name: TypeAlias = tuple[str, Span]


class _Unit(StrEnum):
    REPS = "reps"
    SECONDS = "seconds"
    METRES = "metres"


class _Answer(StrEnum):
    YES = "yes"
    NO = "no"


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
    file = Fields(mapping, mapping, FILE_NAME)
    entries: list[Entry] = []
    taken: dict[str, Span] = {}
    for name, item in mapping.items():
        own = _settings(name, item, file)
        if own is None:
            continue
        fields = Fields(own, KEYS, f"the exercise “{name}”")
        names = ((name, item.key_span), *fields.texts("also", _COMMAS))
        free = _free(names, taken, fields)
        if names[0] in free:
            entry = _entry(name, item.key_span, tuple(alias for alias, _ in free[1:]), fields, shipped)
            entries.append(entry)
            fields.findings += _replaced(entry, free, shipped)
        file.findings += fields.findings
    return tuple(entries), tuple(file.findings)


def _settings(name: str, item: Item, file: Fields) -> Mapping | None:
    """Return what is indented below a name."""
    if not name_key(name):
        message = f"“{name}” is no name of an exercise, expected letters or digits"
        file.refuse(item.key_span, message, "type the name as it stands in the workout, such as “Boat row:”")
    elif item.value is None:
        message = f"“{name}” has nothing below it, expected at least its equipment and its primary muscles"
        file.refuse(item.key_span, message, "type below it, two spaces in, " + " and ".join(_NEEDED.values()))
    else:
        return file.mapping_of(name)
    return None


def _free(names: Iterable[Name], taken: dict[str, Span], fields: Fields) -> tuple[Name, ...]:
    """Return the names that no name above has, and take them."""
    found = []
    for name, span in names:
        first = taken.setdefault(name_key(name), span)
        if first is span:
            found.append((name, span))
            continue
        message = f"“{name}” is the name on line {first.line} once more, expected each name once"
        fields.refuse(span, message, "delete it, or type another name", check="exercise-name-taken")
    return tuple(found)


def _entry(name: str, place: Span, aliases: tuple[str, ...], fields: Fields, shipped: Library) -> Entry:
    """Return the entry as far as it can be read."""
    equipment, primary = (_needed(key, name, place, fields) for key in _NEEDED)
    muscles = _muscles(primary, (), fields, shipped)
    return Entry(
        name=name,
        aliases=aliases,
        family=FAMILY,
        pattern=_known("pattern", {entry.pattern for entry in shipped.entries.values()}, fields) or "",
        equipment=_equipment(equipment, shipped),
        muscles=muscles,
        secondary=_muscles(fields.texts("secondary", _COMMAS), muscles, fields, shipped),
        one_sided=fields.one_of("one-sided", _Answer) is _Answer.YES,
        unit=(fields.one_of("unit", _Unit) or _Unit.REPS).value,
        pace=_pace(fields),
        traits=_traits(fields, shipped),
        met=_known("met", {entry.met for entry in shipped.entries.values()}, fields) or MET,
        source=fields.text("source") or FILE_NAME,
    )


def _needed(key: str, name: str, place: Span, fields: Fields) -> tuple[Name, ...]:
    """Return the words under a key that every entry has."""
    told = len(fields.findings)
    found = fields.texts(key, _COMMAS)
    if not found and len(fields.findings) == told:
        message = f"“{name}” does not say its “{key}”, expected at least one word"
        fields.refuse(place, message, f"type below it, two spaces in, {_NEEDED[key]}")
    return found


def _muscles(listed: Iterable[Name], primary: tuple[str, ...], fields: Fields, shipped: Library) -> tuple[str, ...]:
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
            fields.refuse(span, message, f"type “{guess}”" if guess else f"type one of these: {known}")
        elif not left:
            fields.refuse(span, f"“{word}” is primary already, expected it in one of the two lists", "delete it here")
        found += left
    return tuple(dict.fromkeys(found))


def _equipment(said: Iterable[Name], shipped: Library) -> tuple[str, ...]:
    """Return the equipment; a word that the shipped entries have too is spelt as there, whatever its capitals."""
    listed = (choice for entry in shipped.entries.values() for item in entry.equipment for choice in item.split(" or "))
    known = {choice.casefold(): choice for choice in listed}
    return tuple(" or ".join(known.get(choice.casefold(), choice) for choice in item.split(" or ")) for item, _ in said)


def _traits(fields: Fields, shipped: Library) -> tuple[str, ...]:
    found: list[str] = []
    for slug, span in fields.texts("traits", _COMMAS):
        if slug in shipped.traits:
            found.append(slug)
            continue
        guess = nearest(slug, shipped.traits)
        message = f"“{slug}” is no hazard known here, expected one of traits.yaml"
        fields.refuse(span, message, f"type “{guess}”" if guess else f"type one of these: {', '.join(shipped.traits)}")
    return tuple(dict.fromkeys(found))


def _known(key: str, known: Collection[str], fields: Fields) -> str | None:
    """Return the value of a key where a shipped entry has the same."""
    item = fields.item(key)
    if item is None or item.text in known:
        return item.text if item else None
    fields.refuse_choice(key, item, tuple(sorted(known)))
    return None


def _pace(fields: Fields) -> Fraction:
    item = fields.item("pace")
    if item is None:
        return PACE
    value = core_value(item.text)
    if isinstance(value, (int, Decimal)) and not isinstance(value, bool) and 0 < value <= SLOWEST:
        return Fraction(value)
    message = f"“pace” is {described(item)}, expected seconds per repetition, above 0 and up to {SLOWEST}"
    fields.refuse(item.value_span, message, "type “pace: 3”, in digits and without a unit")
    return PACE


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
