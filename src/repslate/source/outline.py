"""workout.md to a tree of headings, labelled paragraphs and prose, each with its place in the file.

Knows Markdown and the labels, not what they mean. Works on whole lines: what no heading and no label claims is prose,
so nothing a trainer wrote can fall between two nodes.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from markdown_it.token import Token

from repslate.source.bounds import NAME, too_much
from repslate.source.finding import Finding, Severity
from repslate.source.labelled import Labelled, images_in, is_list, label_unknown, lines_of, list_items, read_labelled
from repslate.source.markdown import Label, read_blocks
from repslate.source.page import Image, Page, Passage, Phrase, read_page
from repslate.source.span import Span

__all__ = ["Labelled", "Node", "Outline", "Part", "Section", "read_outline"]

Node = Passage | Labelled


@dataclass(frozen=True, slots=True)
class Part:
    """A level-3 heading and what stands under it, on the lines `first` to `last`."""

    heading: Phrase
    content: tuple[Node, ...]
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Section:
    """A level-2 heading, what stands directly under it, and its parts, on the lines `first` to `last`."""

    heading: Phrase
    content: tuple[Node, ...]
    parts: tuple[Part, ...]
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Outline:
    """A workout.md as it stands.

    `front` is the text between the two lines "---" and `front_line` the line it begins on (None: no front matter).
    `lead` stands before the first heading, and `stray` are parts before the first section; both end at `lead_last`.
    """

    front: str | None
    front_line: int
    lead: tuple[Node, ...]
    stray: tuple[Part, ...]
    sections: tuple[Section, ...]
    lead_last: int


def read_outline(text: str, file: str) -> tuple[Outline, tuple[Finding, ...]]:
    """Read workout.md into its outline; a bad line gives a finding, stays as prose, and never stops the rest."""
    page, found_first = read_page(text, file)
    blocks = list(read_blocks("\n".join(page.lines)))
    marks, found = _read_blocks(page, blocks)
    images = [one for block in blocks for token in block for one in images_in(page, token)]
    findings = [*found_first, *found, *_cautions_unread(page, marks)]
    if page.front is None:
        findings = _front_matter_missing(page, blocks, findings)
    outline = _tree(page, _with_passages(page, marks, images))
    return outline, tuple(sorted(findings, key=lambda finding: finding.span))


_HEADING = re.compile(r"[ \t]*(?P<marks>#{1,6})(?:[ \t]+(?P<text>.*?))??(?P<close>(?:^|[ \t]+)#+)?[ \t]*$")
_NO_SPACE = re.compile(r" {0,3}(?P<marks>#{2,6})(?P<text>[^# \t].*)")
_CAUTION = re.compile(r"[^\w#|]*(?P<word>cautions?)\b[^:\uff1a]*[:\uff1a](?:[\s*_]|$)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Heading:
    level: int
    phrase: Phrase


def _read_blocks(page: Page, blocks: Sequence[list[Token]]) -> tuple[list[_Heading | Labelled], list[Finding]]:
    """Return the headings and labelled paragraphs among the top-level blocks of Markdown, and findings.

    A label within a list (a caution under a cue) is taken out of it, and the rest of the list goes on with `owner`, the
    label that the list is under, if any.
    """
    marks: list[_Heading | Labelled] = []
    findings: list[Finding] = []
    owner: Labelled | None = None
    within_list, level = False, 0
    for at, block in enumerate(blocks):
        start, end = lines_of(block[0])
        last = marks[-1] if marks else None
        if is_list(block):
            if isinstance(last, Labelled) and start < _after(last):  # taken already
                owner = last
            elif within_list and owner:
                items, more = list_items(page, block, owner.label)
                marks.append(replace(owner, items=tuple(items), passage=page.verbatim(start, end)))
                findings += more
            else:
                owner = None
            within_list = True
        elif block[0].type == "labelled":
            within_list = within_list and page.lifted(start) > 0
            read = read_labelled(page, block, blocks[at + 1 :], within_list=within_list)
            marks += [read[0]] if read else []
            findings += read[1] if read else label_unknown(page, start, under_exercise=level == 3)
        else:
            within_list = False
            found, more = _read_block(page, block)
            marks += found
            findings += more
            level = found[0].level if found else level
    return marks, findings


def _after(mark: Labelled) -> int:
    """Return the line after a labelled paragraph, from 0."""
    return mark.passage.span.line + mark.passage.markdown.count("\n")


def _read_block(page: Page, block: list[Token]) -> tuple[list[_Heading], list[Finding]]:
    token = block[0]
    if token.type == "heading_open":
        return _read_heading(page, token)
    if token.type == "fence":
        return [], _fence_findings(page, token)
    if token.type == "code_block":
        return [], []
    return [], [one for line in range(*lines_of(token)) if (one := _no_space(page, line))]


def _read_heading(page: Page, token: Token) -> tuple[list[_Heading], list[Finding]]:
    start, _ = lines_of(token)
    line = page.lines[start]
    found = _HEADING.match(line)
    if token.markup[0] != "#" or not found:
        return [], [_heading_underlined(page, token)]
    level, text = len(found["marks"]), found["text"] or ""
    place = page.span(start, found.start("marks"), len(line.strip()))
    if level not in {2, 3}:
        return [], [_heading_level(place, level, text)]
    if not text:
        message = f"“{line.strip()}” is a heading without words; expected what the block or exercise is called"
        help_ = "type the name after it, or take the line out"
        return [], [Finding("heading-empty", Severity.ERROR, place, message, help_)]
    findings = []
    if len(text) > NAME:
        findings.append(too_much(place, "characters in a heading", len(text), NAME, "give it a shorter name"))
        text = text[:NAME].rstrip()
    heading = _Heading(level, Phrase(re.sub(r"[ \t]{2,}", " ", text), page.span(start, found.start("text"), len(text))))
    if findings or not found["close"]:
        return [heading], findings
    message = f"the heading ends with “{found['close'].strip()}”, which is left out; expected the # marks in front only"
    return [heading], [Finding("heading-closed", Severity.WARNING, place, message, f"type “{found['marks']} {text}”")]


def _heading_underlined(page: Page, token: Token) -> Finding:
    start, end = lines_of(token)
    words, underline = page.lines[start].strip(), page.lines[end - 1].strip()
    return Finding(
        "heading-underlined",
        Severity.ERROR,
        page.span(start, len(page.lines[start]) - len(page.lines[start].lstrip()), len(words)),
        f"“{underline[:8]}” under a text makes it a heading in Markdown; expected headings that begin with “##”",
        f"type “## {words}” for a block, or leave a blank line above “{underline[:8]}”",
    )


def _heading_level(place: Span, level: int, text: str) -> Finding:
    if level == 1:
        message = "a heading with one # is the title, and the title stands in the front matter; expected “##” or “###”"
        help_ = (
            f"type “## {text}” for a block, “### {text}” for an exercise, or “title: {text}” between the “---” lines"
        )
    else:
        message = f"a heading with {level} # is deeper than an exercise; expected “##” or “###”"
        help_ = f"type “### {text}” for an exercise, or “**{text}**” for a line in bold"
    return Finding("heading-level", Severity.ERROR, place, message, help_)


def _no_space(page: Page, line: int) -> Finding | None:
    found = _NO_SPACE.match(page.lines[line])
    if not found:
        return None
    message = f"“{found['marks']}” with no space after it is no heading; expected a space"
    place = page.span(line, found.start("marks"), len(found[0].strip()))
    return Finding("heading-space", Severity.ERROR, place, message, f"type “{found['marks']} {found['text'].strip()}”")


def _fence_findings(page: Page, token: Token) -> list[Finding]:
    start, end = lines_of(token)
    last = page.lines[end - 1].strip() if end - 1 > start else ""
    if len(last) >= len(token.markup) and not last.strip(token.markup[0]):
        return []
    message = f"the code that begins with “{token.markup}” has no end, so every line after it is code"
    place = page.span(start, page.lines[start].find(token.markup), len(token.markup))
    help_ = f"type “{token.markup}” on a line of its own where it ends, or take this line out"
    return [Finding("fence-unterminated", Severity.ERROR, place, message, help_)]


def _cautions_unread(page: Page, marks: Sequence[_Heading | Labelled]) -> list[Finding]:
    """Tell of every other line that begins as a caution does, wherever it stands: none may get lost."""
    read = {mark.span.line for mark in marks if isinstance(mark, Labelled) and mark.label is Label.CAUTION}
    findings = []
    for number, line in enumerate(page.written):
        found = _CAUTION.match(line)
        if found and number + 1 not in read:
            message = f"“{found['word']}” begins this line, but no caution is read from it; expected “Caution: …”"
            help_ = "type “Caution: …” or “Caution (knees): …” on a line of its own, or begin with another word"
            because = "a caution that is only prose is on no card"
            start = page.lines[number].find(found["word"])
            place = page.span(number, max(0, start), len(found["word"]))
            findings.append(Finding("caution-unread", Severity.ERROR, place, message, help_, because))
    return findings


def _front_matter_missing(page: Page, blocks: Sequence[list[Token]], findings: list[Finding]) -> list[Finding]:
    """Tell of the settings that are not there; a title that stands as a heading is told of with them, not again."""
    first = next((block for block in blocks if block[0].type == "heading_open"), None)
    is_title = first is not None and first[0].tag == "h1" and first[0].markup == "#"
    typed, fix = "title: Hinge, squat, carry", ", with your own title"
    if first and is_title and first[1].content:
        start = lines_of(first[0])[0]
        findings = [one for one in findings if one.check != "heading-level" or one.span.line != start + 1]
        typed, fix = f"title: {_yaml_text(first[1].content)}", f", and take the line “{page.lines[start].strip()}” out"
    message = "there is no front matter, the settings at the top; expected them between two lines “---”"
    help_ = f"type four lines above everything else: “---”, “format: 1”, “{typed}”, “---”{fix}"
    return [Finding("front-matter-missing", Severity.ERROR, Span(page.file), message, help_), *findings]


def _yaml_text(text: str) -> str:
    """Return a text as a value that YAML reads back, in quotes where it needs them."""
    return text if re.fullmatch(r"[^\W_](?:[^:#]|:(?=\S))*", text) else '"' + re.sub(r'["\\]', "'", text) + '"'


def _with_passages(page: Page, marks: Sequence[_Heading | Labelled], images: Sequence[Image]) -> list[_Heading | Node]:
    """Fill the lines between headings and labelled paragraphs with prose."""
    flat: list[_Heading | Node] = []
    at = page.body
    for mark in marks:
        start = (mark.phrase.span if isinstance(mark, _Heading) else mark.passage.span).line - 1
        if passage := page.passage(at, start, images):
            flat.append(passage)
        if isinstance(mark, _Heading):
            flat.append(mark)
            at = start + 1
        else:
            at = _after(mark)
            flat.append(replace(mark, passage=page.verbatim(start, at, images)))
    if passage := page.passage(at, len(page.lines), images):
        flat.append(passage)
    return flat


def _tree(page: Page, flat: list[_Heading | Node]) -> Outline:
    before, sections = _split(flat, 2, page.last)
    lead_last = sections[0][0].span.line - 1 if sections else page.last
    lead, stray = _split(before, 3, lead_last)
    made = []
    for heading, inside, end in sections:
        content, parts = _split(inside, 3, end)
        made.append(Section(heading, _nodes(content), _parts(parts), heading.span.line, end))
    first = stray[0][0].span.line - 1 if stray else lead_last
    return Outline(page.front, page.front_line, _nodes(lead), _parts(stray), tuple(made), first)


_Split = list[tuple[Phrase, list["_Heading | Node"], int]]


def _split(items: list[_Heading | Node], level: int, last: int) -> tuple[list[_Heading | Node], _Split]:
    """Split at the headings of `level`: what stands before the first, then (heading, content, last line) of each."""
    at = [number for number, item in enumerate(items) if isinstance(item, _Heading) and item.level == level]
    found: _Split = []
    for order, number in enumerate(at):
        after = at[order + 1] if order + 1 < len(at) else None
        item, following = items[number], None if after is None else items[after]
        if isinstance(item, _Heading):
            end = following.phrase.span.line - 1 if isinstance(following, _Heading) else last
            found.append((item.phrase, items[number + 1 : after], end))
    return items[: at[0]] if at else items, found


def _nodes(items: list[_Heading | Node]) -> tuple[Node, ...]:
    return tuple(item for item in items if not isinstance(item, _Heading))


def _parts(split: _Split) -> tuple[Part, ...]:
    return tuple(Part(heading, _nodes(inside), heading.span.line, last) for heading, inside, last in split)
