"""One level-3 part of the outline to an Exercise: its name, its one line of notation, and what its labels say."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from repslate.model.episode import Caution, Exercise, Picture, Prose, Quiet, Words
from repslate.model.episode import Part as Dose
from repslate.model.hosted import hosted, may_be_dose
from repslate.model.library import Library, Match
from repslate.model.parts import main_part, read_parts
from repslate.model.passages import Content, sort_content, words
from repslate.model.prescription import Prescription, looks_like, parse
from repslate.model.slug import slug
from repslate.model.tokens import QUOTED
from repslate.source.bounds import DOSE
from repslate.source.finding import Finding, Severity
from repslate.source.markdown import Label
from repslate.source.near import nearest
from repslate.source.outline import Part
from repslate.source.page import Image, Passage, Phrase
from repslate.source.span import Span

_HEADING = re.compile(
    r"(?:(?P<label>(?:[A-Z]{1,2}|[a-wyz])[0-9]{1,2}(?:[.:)–—-]|\s[–—-])?|[0-9]{1,2}[.)])\s+)?(?P<name>.*?)\s*(?P<id>\{[^{}]*\})?"
)
_MARKED = re.compile(r"(\*\*|__|\*|_)(?P<inside>.+)\1")
_BULLET = re.compile(r"\s*(?:[-+*•]\s+)?")
_LIST_MARK = re.compile(r"\s*[,;]\s*(?:and\s+)?|\s+(?:and|&)\s+")


@dataclass(frozen=True, slots=True)
class ExerciseHeading:
    """A heading such as "A1 Goblet squat {goblet}"; `id` is "" where none is written, `label` likewise."""

    name: Phrase
    id: str
    id_span: Span
    label: str


def read_exercise_heading(heading: Phrase) -> tuple[ExerciseHeading, tuple[Finding, ...]]:
    """Read the heading of an exercise."""
    found = _HEADING.fullmatch(heading.text)
    if not found:  # a line feed cannot stand in a heading, so only form feeds and the like come here
        return ExerciseHeading(heading, "", heading.span, ""), ()
    written, label = found["id"], found["label"] or ""
    id_span = heading.span.part(max(0, found.start("id")), len(written or ""))
    id_ = slug(written or "")
    name = Phrase(found["name"] or id_, heading.span.part(found.start("name"), len(found["name"])))
    findings = []
    if written and written != f"{{{id_}}}":
        message = f"“{written}” is no id; expected lower-case letters, digits and hyphens in the braces"
        help_ = f"type “{{{id_ or slug(found['name']) or 'goblet-squat'}}}”"
        findings.append(Finding("exercise-id-unreadable", Severity.ERROR, id_span, message, help_))
    if not found["name"]:
        message = "the exercise has no name; expected one before the braces"
        findings.append(
            Finding("heading-empty", Severity.ERROR, heading.span, message, "type “### Goblet squat {goblet}”")
        )
    return ExerciseHeading(name, id_, id_span, label.rstrip(" .:)–—-").upper()), tuple(findings)


def assign_ids(headings: Sequence[ExerciseHeading]) -> tuple[tuple[str, ...], tuple[Finding, ...]]:
    """Return an id for each heading: the one written, else the name's slug, with "-2" and so on where that is taken."""
    written: dict[str, ExerciseHeading] = {}
    findings = []
    for heading in headings:
        first = written.setdefault(heading.id, heading) if heading.id else heading
        if first is not heading:
            findings.append(_duplicate(heading, first))
    taken = set(written)
    counted = Counter[str]()
    ids = []
    for heading in headings:
        id_ = base = heading.id or slug(heading.name.text) or "exercise"
        if written.get(heading.id) is not heading:
            while id_ in taken or not counted[base]:
                counted[base] += 1
                id_ = base if counted[base] == 1 else f"{base}-{counted[base]}"
            taken.add(id_)
        ids.append(id_)
    return tuple(ids), tuple(findings)


def _duplicate(heading: ExerciseHeading, first: ExerciseHeading) -> Finding:
    message = f"the id “{heading.id}” on line {heading.id_span.line} already stands on line {first.id_span.line}"
    help_ = f"type another word in the braces, such as “{{{heading.id}-2}}”"
    because = "chapters and links find an exercise by its id"
    return Finding("duplicate-exercise-id", Severity.ERROR, heading.id_span, message, help_, because)


def read_exercise(
    part: Part, heading: ExerciseHeading, id_: str, label: str, library: Library
) -> tuple[Exercise, tuple[Quiet, ...], tuple[Finding, ...]]:
    """Read what stands under the heading of an exercise; `id_` and `label` are those it has in the episode."""
    content = sort_content(part.content, part.first, part.last, labels=frozenset(Label))
    findings = list(content.findings)
    parts, places, more = _parts(part, content)
    if not parts:
        prescription, place, more = _prescription(part, content)
    else:
        prescription, place = main_part(parts).prescription, main_part(parts).span
    findings += more
    muscles = _separate(_labelled(content, Label.MUSCLES))
    match, unsure = _match(library, heading.name, described=bool(muscles))
    findings += unsure
    findings += [found for one in muscles for found in _muscle_unknown(library, one)]
    findings += _label_differs(heading, label)
    used = {place.line} | places if place else set()
    findings += [found for passage in content.passages for found in _elsewhere(passage, used)]
    prose = [one for passage in content.passages for one in passage.images]
    used |= {one.span.line for one in prose if one.alone}
    pictures = sorted([*prose, *(one for node in content.labelled for one in node.passage.images)], key=_place)
    exercise = Exercise(
        id=id_,
        name=heading.name.text,
        span=heading.name.span,
        label=label,
        prescription=prescription,
        prescription_span=place,
        match=match,
        prose=tuple(prose for passage in content.passages for prose in _without(passage, used)),
        cues=_labelled(content, Label.CUES),
        easier=_labelled(content, Label.EASIER),
        harder=_labelled(content, Label.HARDER),
        cautions=cautions(content),
        pictures=tuple(Picture(one.path, one.description, one.span) for one in pictures),
        muscles=muscles,
        equipment=_separate(_labelled(content, Label.EQUIPMENT)),
        parts=parts,
    )
    return exercise, content.quiets, tuple(findings)


def cautions(content: Content) -> tuple[Caution, ...]:
    """Return the cautions of a part, one for each line of a list."""
    return tuple(
        Caution(node.topic.text if node.topic else None, words(item))
        for node in content.labelled
        if node.label is Label.CAUTION
        for item in node.items
    )


def _labelled(content: Content, label: Label) -> tuple[Words, ...]:
    """Return the words after a label; a topic in brackets, which only a caution has a place for, goes before them."""
    found = []
    for node in content.labelled:
        if node.label is label:
            topic = f"{node.topic.text}: " if node.topic else ""
            found += [Words(topic + item.text, item.span) for item in node.items]
    return tuple(found)


def _separate(listed: Iterable[Words]) -> tuple[Words, ...]:
    """Split "glutes, hamstrings and quadriceps" into its words, each with its place."""
    found = []
    for one in listed:
        at = 0
        for mark in [*_LIST_MARK.finditer(one.text), None]:
            text = one.text[at : mark.start() if mark else None].strip().rstrip(".")
            if text:
                # Where the line wraps, the place is still on its first line.
                start = min(at, one.span.length - 1)
                found.append(Words(text, one.span.part(start, min(len(text), one.span.length - start))))
            at = mark.end() if mark else at
    return tuple(found)


def _place(image: Image) -> Span:
    return image.span


def _parts(part: Part, content: Content) -> tuple[tuple[Dose, ...], set[int], tuple[Finding, ...]]:
    """Return the parts that stand right under the heading, with the numbers of their lines; none for a single dose."""
    first = part.content[0] if part.content else None
    lines = list(_lines(content.passages[0])) if isinstance(first, Passage) and content.passages else []
    parts, taken, findings = read_parts(lines)
    return parts, {place.line for _, place in lines[:taken]}, findings


def _prescription(part: Part, content: Content) -> tuple[Prescription, Span | None, tuple[Finding, ...]]:
    """Read the first line under the heading if it is notation or tries to be, else the first below that reads well."""
    first = part.content[0] if part.content else None
    lines = [line for passage in content.passages for line in _lines(passage)]
    is_first = bool(lines) and isinstance(first, Passage) and looks_like(lines[0][0][:DOSE])
    if is_first and not _is_quote(lines[0][0]):
        said, findings = hosted(*lines[0])
        return said, lines[0][1], findings
    for text, place in lines:
        prescription, findings = parse(text, place) if looks_like(text) else (None, ())
        if prescription and prescription.work and not findings:
            return prescription, place, (_too_low(text, place),)
    if is_first or (lines and isinstance(first, Passage) and may_be_dose(lines[0][0])):
        said, findings = hosted(*lines[0])
        return said, lines[0][1], findings
    return Prescription(), None, ()


def _is_quote(line: str) -> bool:
    """Tell whether a line is words in quotes alone: the dose as typed, unless another line says it."""
    return QUOTED.fullmatch(line) is not None


def _lines(passage: Passage) -> Iterator[tuple[str, Span]]:
    """Yield the lines of a passage without list mark and emphasis, each with its place."""
    for number, line in enumerate(passage.markdown.split("\n")):
        text = _BULLET.sub("", line, count=1).strip()
        if marked := _MARKED.fullmatch(text):
            text = marked["inside"]
        span = passage.span if not number else Span(passage.span.file, passage.span.line + number, 1, max(1, len(line)))
        yield text, span.part(line.find(text), len(text))


def _too_low(text: str, place: Span) -> Finding:
    message = f"“{text}” is read as the prescription, but stands below other lines; expected it right under the heading"
    help_ = "move the line up, so that it is the first one under the heading"
    return Finding("prescription-elsewhere", Severity.WARNING, place, message, help_)


def _elsewhere(passage: Passage, used: set[int]) -> list[Finding]:
    """Tell of notation in the prose, where a trainer may think that it counts."""
    findings = []
    for text, place in _lines(passage):
        if place.line in used or not looks_like(text) or parse(text, place)[1]:
            continue
        message = f"“{text}” stands in the prose, where no figure is read; expected it on the line under the heading"
        help_ = "type all of the prescription on that one line, parts separated by commas"
        findings.append(Finding("prescription-elsewhere", Severity.WARNING, place, message, help_))
    return findings


def _without(passage: Passage, used: set[int]) -> list[Prose]:
    """Return the lines of a passage that have not become something else, as runs of prose."""
    runs: list[list[tuple[int, str]]] = [[]]
    for number, line in passage.rows():
        if number in used:
            runs.append([])
        elif runs[-1] or line.strip():
            runs[-1].append((number, line))
    found = []
    for run in filter(None, runs):
        number, line = run[0]
        span = passage.span if number == passage.span.line else Span(passage.span.file, number, 1, max(1, len(line)))
        found.append(Prose("\n".join(text for _, text in run).rstrip(), span))
    return found


def _match(library: Library, name: Phrase, *, described: bool) -> tuple[Match | None, list[Finding]]:
    match = library.find(name.text)
    if match and match.how == "spelling":
        if described:
            return None, []  # the trainer says what it is: no guess at what else could be meant
        message = f"read “{name.text}” as “{match.entry.name}”"
        help_ = f"type “### {match.entry.name}”, or describe your own exercise with “Muscles: …” and “Equipment: …”"
        return match, [Finding("exercise-name-guessed", Severity.NOTE, name.span, message, help_)]
    if match or described:
        return match, []
    near = library.suggest(name.text)
    nearest = "; the nearest names are " + ", ".join(f"“{one}”" for one in near) if near else ""
    message = f"“{name.text}” is not in the exercise library, so nobody has checked what may hurt in it{nearest}"
    choice = "type one of these names, or " if near else ""
    help_ = (
        f"{choice}describe it in place with the lines “Muscles: …” and “Equipment: …” under it, and say what may hurt "
        "with a line “Caution: …”"
    )
    because = "without its muscles it counts in no sum of sets, and its hazards cannot be checked"
    return None, [Finding("exercise-unknown", Severity.WARNING, name.span, message, help_, because)]


def _muscle_unknown(library: Library, written: Words) -> list[Finding]:
    if library.muscle(written.text):
        return []
    meant = nearest(written.text, library.muscles)
    guess = f"; did you mean “{meant}”" if meant else ""
    message = f"“{written.text}” is no muscle known here, so it counts in no sum of sets{guess}"
    known = ", ".join(library.muscles)
    help_ = f"type “{meant}”" if meant else f"type one of these, separated by commas: {known}"
    return [Finding("muscle-unknown", Severity.WARNING, written.span, message, help_)]


def _label_differs(heading: ExerciseHeading, label: str) -> list[Finding]:
    if heading.label in {"", label, label.lstrip(ascii_uppercase)}:
        return []
    message = f"the heading says “{heading.label}”, but in the order of the file this is {label}"
    help_ = f"leave “{heading.label}” out, since labels are made from the blocks, or give the block its letter"
    return [Finding("exercise-label-differs", Severity.WARNING, heading.name.span, message, help_)]
