"""workout.md to a tree of headings, labelled paragraphs and prose, each with its place in the file.

Knows Markdown and the labels, not what they mean. Works on whole lines: what no heading and no label claims is prose,
so nothing a trainer wrote can fall between two nodes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from urllib.parse import unquote

from markdown_it.token import Token

from repslate.source.finding import Finding, Severity
from repslate.source.markdown import KNOWN_LABELS, LABEL, Label, label_of, near_label, plain_text, read_blocks
from repslate.source.page import Image, Page, Passage, Phrase, read_page
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Labelled:
    """A labelled paragraph or list: `items` are the words after the label, one for each line of a list.

    `span` covers the label itself; `passage` is the same text as plain prose.
    """

    label: Label
    topic: Phrase | None
    items: tuple[Phrase, ...]
    span: Span
    passage: Passage


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
    findings = list(found_first)
    marks: list[_Heading | Labelled] = []
    images: list[Image] = []
    blocks = list(read_blocks("\n".join(page.lines)))
    for at, block in enumerate(blocks):
        found, more = _read_block(page, block, blocks[at + 1] if at + 1 < len(blocks) else None)
        findings += more
        marks += found
        images += [one for token in block for one in _images(page, token)]
    outline = _tree(page, _with_passages(page, marks, images))
    return outline, tuple(sorted(findings, key=lambda finding: finding.span))


_HEADING = re.compile(r"[ \t]*(?P<marks>#{1,6})(?:[ \t]+(?P<text>.*?))??(?P<close>(?:^|[ \t]+)#+)?[ \t]*$")
_NO_SPACE = re.compile(r" {0,3}(?P<marks>#{2,6})(?P<text>[^# \t].*)")
_GLYPH = re.compile(r"[ \t]*[•‣◦–—][ \t]+")  # bullets that word processors type, no Markdown


@dataclass(frozen=True, slots=True)
class _Heading:
    level: int
    phrase: Phrase


def _lines(token: Token) -> tuple[int, int]:
    return (token.map[0], token.map[1]) if token.map else (0, 0)


def _read_block(
    page: Page, block: list[Token], following: list[Token] | None
) -> tuple[list[_Heading | Labelled], list[Finding]]:
    """Return the heading or labelled paragraph that a top-level block of Markdown is, if any, and findings."""
    token = block[0]
    start, end = _lines(token)
    if token.type == "heading_open":
        return _read_heading(page, token)
    if token.type == "fence":
        return [], _fence_findings(page, token)
    if token.type == "code_block":
        return [], []
    findings = [one for line in range(start, end) if (one := _no_space(page, line))]
    if token.type != "labelled":
        return [], findings
    labelled, near = _read_labelled(page, token, following), near_label(page.lines[start])
    if labelled:
        return [labelled], findings
    return [], [*findings, _label_unknown(page, start, near)] if near else findings


def _read_heading(page: Page, token: Token) -> tuple[list[_Heading | Labelled], list[Finding]]:
    start, _ = _lines(token)
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
    heading = _Heading(level, Phrase(re.sub(r"[ \t]{2,}", " ", text), page.span(start, found.start("text"), len(text))))
    if not found["close"]:
        return [heading], []
    message = f"the heading ends with “{found['close'].strip()}”, which is left out; expected the # marks in front only"
    return [heading], [Finding("heading-closed", Severity.WARNING, place, message, f"type “{found['marks']} {text}”")]


def _heading_underlined(page: Page, token: Token) -> Finding:
    start, end = _lines(token)
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
    start, end = _lines(token)
    last = page.lines[end - 1].strip() if end - 1 > start else ""
    if len(last) >= len(token.markup) and not last.strip(token.markup[0]):
        return []
    message = f"the code that begins with “{token.markup}” has no end, so every line after it is code"
    place = page.span(start, page.lines[start].find(token.markup), len(token.markup))
    help_ = f"type “{token.markup}” on a line of its own where it ends, or take this line out"
    return [Finding("fence-unterminated", Severity.ERROR, place, message, help_)]


def _label_unknown(page: Page, start: int, near: tuple[str, Label]) -> Finding:
    line = page.lines[start]
    word, label = near
    if word.casefold() in KNOWN_LABELS:
        message = f"“{word}” has no colon after it, so it stays prose; expected “{label}:”"
    else:
        message = f"“{word}:” is no label, so it stays prose; did you mean “{label}:”"
    place = page.span(start, line.find(word), len(word))
    return Finding("label-unknown", Severity.WARNING, place, message, f"begin the line with “{label}:”")


def _read_labelled(page: Page, token: Token, following: list[Token] | None) -> Labelled | None:
    start, end = _lines(token)
    found, label = LABEL.match(page.lines[start]), label_of(page.lines[start])
    if not found or not label:
        return None
    topic = (found["topic"] or "").strip()
    items = _text_items(page, start, found.end(), end)
    if following and following[0].type in {"bullet_list_open", "ordered_list_open"}:
        first, last = _lines(following[0])
        # With a blank line between, a list belongs to a label that has nothing else.
        if first == end or (not items and not any(page.lines[at].strip() for at in range(end, first))):
            items += _list_items(page, following)
            end = last
    place = page.span(start, found.start("mark"), len(found[0].strip()))
    about = None
    if topic:
        about = Phrase(topic, page.span(start, page.lines[start].find(topic, found.start("topic")), len(topic)))
    return Labelled(label, about, tuple(items), place, page.verbatim(start, end))


def _text_items(page: Page, start: int, column: int, end: int) -> list[Phrase]:
    """Return the text after a label; a line that begins with a typed bullet begins a new item."""
    begins: list[tuple[int, int, list[str]]] = []
    for line in range(start, end):
        text = page.lines[line]
        glyph = _GLYPH.match(text, column if line == start else 0)
        at = glyph.end() if glyph else column if line == start else len(text) - len(text.lstrip())
        if not text[at:].strip():
            continue
        if glyph or not begins:
            begins.append((line, at, []))
        else:
            begins[-1][2].append(text)
    return [page.phrase(line, at, rest=rest) for line, at, rest in begins]


def _list_items(page: Page, tokens: list[Token]) -> list[Phrase]:
    """Return the words of a list, nested items one by one."""
    start, end = _lines(tokens[0])
    items: list[Phrase] = []
    unread = set(range(start, end))
    for token in tokens:
        if token.type not in {"inline", "fence", "code_block"} or not token.map:
            continue
        first, after = _lines(token)
        unread -= set(range(first, after))
        parts = token.content.split("\n")
        if token.content.strip():
            first = _first_line(page, token)
            column = _column(page.lines[first], parts[0])
            items.append(Phrase(" ".join(token.content.split()), page.span(first, column, len(parts[0].strip()))))
    # Lines that give no token, such as the address of a reference link.
    items += [
        page.phrase(line, _indent(page.lines[line], bullet=True))
        for line in unread
        if re.search(r"\w", page.lines[line])
    ]
    return sorted(items, key=lambda item: item.span)


def _indent(line: str, *, bullet: bool = False) -> int:
    rest = re.sub(r"^\s*([-+*]|\d+[.)])[ \t]+", "", line) if bullet else line
    return len(line) - len(rest.lstrip())


def _first_line(page: Page, token: Token) -> int:
    """Return the line where a token's text begins; it leaves out lines of only a form feed or the like before it."""
    start, end = _lines(token)
    text = token.content.split("\n", 1)[0].strip(" \t")
    return next((line for line in range(start, end) if text in page.lines[line]), start)


def _column(line: str, content: str) -> int:
    """Return where a token's text begins on its line: it is the line's tail, but for headings and table cells."""
    line, content = line.rstrip(), content.strip()
    return len(line) - len(content) if line.endswith(content) else max(line.find(content), 0)


def _images(page: Page, token: Token) -> Iterator[Image]:
    """Yield the pictures in the inline text of a token."""
    if token.type != "inline" or not token.map:
        return
    for child in token.children or ():
        if child.type != "image":
            continue
        start, end = child.meta["at"]
        before = token.content[:start].split("\n")
        number = _first_line(page, token) + len(before) - 1
        line, tail = page.lines[number], token.content.split("\n")[len(before) - 1]
        column = _column(line, tail) + len(before[-1]) - _indent(tail)
        source = token.content[start:end].split("\n")[0]
        path = unquote(str(child.attrGet("src") or ""))
        description = plain_text(child.children or ())
        alone = "\n" not in token.content[start:end] and line.strip() == source
        yield Image(path, description, page.span(number, column, len(source)), alone)


def _with_passages(page: Page, marks: Sequence[_Heading | Labelled], images: Sequence[Image]) -> list[_Heading | Node]:
    """Fill the lines between headings and labelled paragraphs with prose."""
    flat: list[_Heading | Node] = []
    at = page.body
    for mark in marks:
        start = (mark.phrase.span if isinstance(mark, _Heading) else mark.span).line - 1
        if passage := page.passage(at, start, images):
            flat.append(passage)
        flat.append(mark)
        at = start + 1 if isinstance(mark, _Heading) else start + 1 + mark.passage.markdown.count("\n")
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
