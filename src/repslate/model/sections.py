"""The sections of the outline to blocks, safety and notes: which heading begins what, under which letter and labels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from repslate.model.block_heading import BlockHeading
from repslate.model.block_parts import given
from repslate.model.episode import Block, Exercise, Prose, Quiet, Words
from repslate.model.exercise import assign_ids, cautions, read_exercise, read_exercise_heading
from repslate.model.forms import FORMS, PLAIN, form_of
from repslate.model.hosted import hosted_heading
from repslate.model.library import Library
from repslate.model.passages import Content, sort_content, words
from repslate.source.bounds import EXERCISES, SECTIONS, too_much
from repslate.source.finding import Finding, Severity
from repslate.source.markdown import Label
from repslate.source.near import nearest
from repslate.source.outline import Outline, Part, Section
from repslate.source.span import Span

SAFETY = "Safety"
_UNDER_BLOCK = "directly under a block"


@dataclass(frozen=True, slots=True)
class _Draft:
    """A block without letter; `name` is what its heading calls it, `content` what stands directly under that."""

    heading: BlockHeading
    name: str
    span: Span
    content: Content
    parts: tuple[Part, ...]
    in_words: bool = False


@dataclass(frozen=True, slots=True)
class Sections:
    """What the level-2 headings of an episode hold, and what was found on the way."""

    blocks: tuple[Block, ...]
    safety: tuple[Prose, ...]
    has_safety: bool
    notes: tuple[tuple[Words, tuple[Prose, ...]], ...]
    quiets: tuple[Quiet, ...]
    findings: tuple[Finding, ...]


def read_sections(outline: Outline, library: Library) -> Sections:
    """Read every section; exercises that stand before the first are taken for straight sets."""
    drafts: list[_Draft] = []
    safety: list[Section] = []
    notes: list[Section] = []
    outline, over = _within_bounds(outline)
    findings: list[Finding] = [*over]
    if outline.stray:
        place = outline.stray[0].heading.span
        drafts.append(_Draft(BlockHeading(PLAIN), PLAIN.value, place, sort_content((), 1, 1), outline.stray))
        findings += [_outside_block(part, "no block") for part in outline.stray]
    for section in outline.sections:
        if section.heading.text.strip(" :").casefold() == SAFETY.casefold():
            safety.append(section)
            continue
        draft, more = _read_heading(section)
        findings += more
        if draft:
            drafts.append(draft)
        else:
            notes.append(section)
    blocks, block_quiets, more = _read_blocks(drafts, library)
    findings += more
    findings += [_safety_again(section, safety[0]) for section in safety[1:]]
    safe, noted = [_read_text(section) for section in safety], [_read_text(section) for section in notes]
    return Sections(
        blocks,
        tuple(prose for text in safe for prose in text.prose),
        bool(safety),
        tuple((text.heading, text.prose) for text in noted),
        block_quiets + tuple(quiet for text in safe + noted for quiet in text.quiets),
        tuple(findings) + tuple(finding for text in safe + noted for finding in text.findings),
    )


@dataclass(frozen=True, slots=True)
class _Text:
    """A section without exercises."""

    heading: Words
    prose: tuple[Prose, ...]
    quiets: tuple[Quiet, ...]
    findings: tuple[Finding, ...]


def _read_text(section: Section) -> _Text:
    content = sort_content(section.content, section.first, section.last)
    prose, quiets, findings = list(content.prose), list(content.quiets), list(content.findings)
    for part in section.parts:
        inside = sort_content(part.content, part.first, part.last)
        place = Span(part.heading.span.file, part.first, 1, part.heading.span.column - 1 + part.heading.span.length)
        prose += [Prose(f"### {part.heading.text}", place), *inside.prose]
        quiets += inside.quiets
        findings += [_outside_block(part, f"“{section.heading.text}”"), *inside.findings]
    if not prose and not findings:
        findings.append(_section_empty(section, "words under it"))
    return _Text(words(section.heading), tuple(prose), tuple(quiets), tuple(findings))


def _read_heading(section: Section) -> tuple[_Draft | None, tuple[Finding, ...]]:
    """Read a heading as that of a block; None if the section is a note."""
    text, span = section.heading.text, section.heading.span
    heading, in_words, findings = hosted_heading(text, span)
    if heading:
        empty = () if section.parts else (_section_empty(section, "exercises under it, each with a “###” heading"),)
        return _draft(section, heading, heading.name, in_words=in_words), findings + empty
    if section.parts:
        heading = BlockHeading(PLAIN, title=text)
        return _draft(section, heading, text, in_words=True), (_kind_unknown(section, findings),)
    slip = findings or nearest(text, [SAFETY])
    return None, (_kind_unknown(section, findings),) if slip else ()


def _kind_unknown(section: Section, near: tuple[Finding, ...]) -> Finding:
    """Tell how a heading of no known kind was taken; `near` is what parse_heading says of a likely slip in it."""
    text, span = section.heading.text, section.heading.span
    taken = "is read as straight sets under its own name" if section.parts else "stays a note"
    severity = Severity.NOTE if section.parts else Severity.WARNING
    if near:
        found = near[0]
        return replace(found, check="block-kind-unknown", severity=severity, message=f"{found.message}; it {taken}")
    message = f"“{text}” begins with no kind of block known here, so it {taken}"
    if not section.parts:
        help_ = f"did you mean “{SAFETY}”; type “## {SAFETY}”"
    else:
        help_ = f"begin the heading with one of: {', '.join(FORMS)}"
    return Finding("block-kind-unknown", severity, span, message, help_)


def _section_empty(section: Section, expected: str) -> Finding:
    message = f"“{section.heading.text}” holds nothing to publish; expected {expected}"
    return Finding("section-empty", Severity.WARNING, section.heading.span, message, "fill it, or take the heading out")


def _safety_again(section: Section, first: Section) -> Finding:
    message = f"a second “{SAFETY}” stands here, after line {first.first}; expected one, so the two are read together"
    help_ = "move these lines under the first one"
    return Finding("safety-section-twice", Severity.WARNING, section.heading.span, message, help_)


def _within_bounds(outline: Outline) -> tuple[Outline, tuple[Finding, ...]]:
    """Return the outline without the sections and exercises that are too many, and what is to be said of them."""
    findings = []
    if len(outline.sections) > SECTIONS:
        span = outline.sections[SECTIONS].heading.span
        help_ = "publish them as several episodes; what follows is not read"
        findings.append(too_much(span, "headings “##”", len(outline.sections), SECTIONS, help_))
        outline = replace(outline, sections=outline.sections[:SECTIONS])
    parts = [*outline.stray, *(part for section in outline.sections for part in section.parts)]
    if len(parts) > EXERCISES:
        help_ = "publish them as several episodes; what follows is not read"
        findings.append(too_much(parts[EXERCISES].heading.span, "exercises", len(parts), EXERCISES, help_))
        left = EXERCISES - len(outline.stray[:EXERCISES])
        sections = []
        for section in outline.sections:
            sections.append(replace(section, parts=section.parts[:left]))
            left -= len(sections[-1].parts)
        outline = replace(outline, stray=outline.stray[:EXERCISES], sections=tuple(sections))
    return outline, tuple(findings)


def _outside_block(part: Part, where: str) -> Finding:
    message = f"the exercise “{part.heading.text}” stands under {where}; expected a block above it"
    help_ = (
        "type a heading such as “## Straight sets” above it; if it is no exercise, type its name in bold, without “###”"
    )
    return Finding("exercise-outside-block", Severity.ERROR, part.heading.span, message, help_)


def _read_blocks(
    drafts: Sequence[_Draft], library: Library
) -> tuple[tuple[Block, ...], tuple[Quiet, ...], tuple[Finding, ...]]:
    """Give blocks their letters, exercises their labels and ids, and read what stands under each."""
    letters, found = _letters(drafts)
    findings = list(found)
    headings, found_in = [], [read_exercise_heading(part.heading) for draft in drafts for part in draft.parts]
    for heading, more in found_in:
        headings.append(heading)
        findings += more
    ids, more = assign_ids(headings)
    findings += more
    named = zip(headings, ids, _labels(drafts, letters), strict=True)
    blocks: list[Block] = []
    quiets: list[Quiet] = []
    for draft, letter in zip(drafts, letters, strict=True):
        exercises = []
        for part in draft.parts:
            exercise, inside, more = read_exercise(part, *next(named), library)
            exercises.append(exercise)
            quiets += inside
            findings += more
        blocks.append(_block(draft, letter, tuple(exercises)))
        quiets += draft.content.quiets
        findings += draft.content.findings
    return tuple(blocks), tuple(quiets), tuple(findings)


def _draft(section: Section, heading: BlockHeading, name: str, *, in_words: bool) -> _Draft:
    content = sort_content(section.content, section.first, section.last, labels={Label.CAUTION}, where=_UNDER_BLOCK)
    return _Draft(heading, name, section.heading.span, content, section.parts, in_words)


def _letters(drafts: Sequence[_Draft]) -> tuple[tuple[str, ...], tuple[Finding, ...]]:
    """Return each block's letter: WU and CD for warm-ups and cool-downs, else the one written or the next one free.

    A number ("Superset 1") is part of the name only: labels are a letter and a number.
    """
    fixed = {form.letter for form in FORMS.values()}
    alphabet = [_letter(number) for number in range(26)]
    written = [draft.heading.letter.upper() for draft in drafts]
    written = [letter if letter in alphabet else "" for letter in written]
    written = [form_of(draft.heading.kind).letter or letter for draft, letter in zip(drafts, written, strict=True)]
    letters: list[str] = []
    findings = []
    following = 0
    for draft, own in zip(drafts, written, strict=True):
        while not own and _letter(following) in written:
            following += 1
        letter = own or _letter(following)
        if own in letters and own in alphabet:
            findings.append(_letter_again(draft, letter, drafts[letters.index(letter)]))
        elif own in alphabet:
            before = max((one for one in letters if one not in fixed), key=_in_order, default="")
            if _in_order(before) > _in_order(own):
                findings.append(_letter_early(draft, letter, before, drafts[letters.index(before)]))
        if own in alphabet or not own:
            following = (alphabet.index(own) if own else following) + 1
        letters.append(letter)
    return tuple(letters), tuple(findings)


def _letter(number: int) -> str:
    """Return A to Z for 0 to 25, then AA, AB, and so on."""
    before, last = divmod(number, 26)
    return (_letter(before - 1) if before else "") + chr(ord("A") + last)


def _in_order(letter: str) -> tuple[int, str]:
    """Return what sorts A to Z before AA, AB, and so on."""
    return len(letter), letter


def _letter_early(draft: _Draft, letter: str, before: str, later: _Draft) -> Finding:
    message = (
        f"block {letter} stands after block {before} of line {later.span.line}, so its exercises are labelled "
        f"{before}1 first and {letter}1 then; expected letters in the order of the file"
    )
    help_ = "put the blocks in the order of their letters, or leave the letters out, which then come by themselves"
    return Finding("block-letter-order", Severity.WARNING, draft.span, message, help_)


def _letter_again(draft: _Draft, letter: str, first: _Draft) -> Finding:
    message = f"this is a second block {letter}, after line {first.span.line}; expected each letter once"
    help_ = "leave the letter out, or give the next one; until then its exercises are numbered on from the first"
    return Finding("block-letter-twice", Severity.WARNING, draft.span, message, help_)


def _labels(drafts: Sequence[_Draft], letters: Sequence[str]) -> Iterator[str]:
    """Yield A1, A2, B1 for the exercises in the order written; blocks of the same letter are numbered through."""
    counted = Counter[str]()
    for draft, letter in zip(drafts, letters, strict=True):
        for _ in draft.parts:
            counted[letter] += 1
            yield f"{letter}{counted[letter]}"


def _block(draft: _Draft, letter: str, exercises: tuple[Exercise, ...]) -> Block:
    heading = draft.heading
    return Block(
        kind=heading.kind,
        letter=letter,
        title=heading.title,
        name=draft.name,
        span=draft.span,
        exercises=exercises,
        **given(heading),
        prose=draft.content.prose,
        cautions=cautions(draft.content),
        in_words=draft.in_words,
    )
