"""A label with its words: the paragraph it begins and the list under it, each item with its place."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from urllib.parse import unquote

from markdown_it.token import Token

from repslate.source.finding import Finding, Severity
from repslate.source.markdown import KNOWN_LABELS, MEANT, Label, label_of, match_label, near_label, plain_text
from repslate.source.page import Image, Page, Passage, Phrase
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Labelled:
    """A labelled paragraph or list: `items` are the words after the label, one for each line of a list.

    `span` covers the label itself; `passage` is the same text as plain prose, with the pictures that stand in it.
    """

    label: Label
    topic: Phrase | None
    items: tuple[Phrase, ...]
    span: Span
    passage: Passage


# Bullets that word processors type, no Markdown; the plain letter is what is left of one of a second level.
_GLYPH = re.compile(r"[ \t]*[•‣◦–—▪■●○·§➢o][ \t]+")
_LIKE_LABEL = re.compile(r"[ \t]*[*_]{0,3}[^\W\d_a-z][\w'’-]*(?:[ \t][\w'’-]+){0,2}[*_]{0,3}[ \t]*:(?:[\s*_]|$)")
_GOES_ON = re.compile(r"(?:[,;&]|\band|\bor)[ \t]*$")
_JOINED = re.compile(r"[ \t]*(?:and|or|&)\b")
_LISTS = ("bullet_list_open", "ordered_list_open")


def is_list(block: Sequence[Token]) -> bool:
    """Tell whether a block is a list."""
    return block[0].type in _LISTS


def lines_of(token: Token) -> tuple[int, int]:
    """Return the first line of a token, from 0, and the line after it."""
    return (token.map[0], token.map[1]) if token.map else (0, 0)


def read_labelled(
    page: Page, block: Sequence[Token], following: Sequence[Sequence[Token]], *, within_list: bool
) -> tuple[Labelled, tuple[Finding, ...]] | None:
    """Read a block that begins with a label, and the lists under it; None if its first word is no label.

    `following` are the blocks after it. A label with words of its own `within_list` takes no list: that one goes on
    with what the label stands in.
    """
    start, end = lines_of(block[0])
    found, label = match_label(page.lines[start]), label_of(page.lines[start])
    if not found or not label:
        return None
    topic = (found["topic"] or "").strip()
    items, findings = _text_items(page, block[1], label, found)
    for one in following if not (items and within_list) else ():
        first, last = lines_of(one[0])
        # With a blank line between, a list belongs to a label that has nothing else.
        if not is_list(one) or (first != end and (items or any(page.lines[at].strip() for at in range(end, first)))):
            break
        inside, more = list_items(page, one, label)
        items, findings, end = items + inside, findings + more, last
    place = page.span(start, found.start("mark"), len(found[0].strip()))
    about = None
    if topic:
        about = Phrase(topic, page.span(start, page.lines[start].find(topic, found.start("topic")), len(topic)))
    return Labelled(label, about, tuple(items), place, page.verbatim(start, end)), tuple(findings)


def _text_items(page: Page, text: Token, label: Label, found: re.Match[str]) -> tuple[list[Phrase], list[Finding]]:
    """Return the text after a label; a line that begins with a typed bullet begins a new item."""
    start, column = lines_of(text)[0], found.end()
    written = _without_pictures(text)
    if found["mark"] and not (found["near"] or found["shut"] or found["after"]):
        # The label is emphasised together with its words: their end of the mark has lost its beginning.
        head, tail = written[:column], written[column:]
        written = head + tail.replace(found["mark"], " " * len(found["mark"]), 1)
    begins: list[tuple[int, int, list[str]]] = []
    findings = []
    for line, words in enumerate(written.split("\n"), start):
        glyph = _GLYPH.match(words, column if line == start else 0)
        at = glyph.end() if glyph else column if line == start else 0
        if not words[at:].strip():
            continue
        if glyph or not begins:
            begins.append((line, at, [words[at:]]))
            continue
        if _runs_on(label, begins[-1][2][-1], words):
            findings.append(_label_runs_on(page, line, label))
        begins[-1][2].append(words)
    return [page.phrase(line, at, texts) for line, at, texts in begins], findings


def list_items(page: Page, tokens: Sequence[Token], label: Label) -> tuple[list[Phrase], list[Finding]]:
    """Return the words of a list under a label, nested items one by one."""
    start, end = lines_of(tokens[0])
    items: list[Phrase] = []
    findings = []
    unread = set(range(start, end))
    for token in tokens:
        if token.type not in {"inline", "fence", "code_block"} or not token.map:
            continue
        first, after = lines_of(token)
        unread -= set(range(first, after))
        texts = _without_pictures(token).split("\n")
        first = _first_line(page, token)
        column = _column(page.lines[first], token.content.split("\n")[0])
        if token.content.strip() and "".join(texts).strip():
            items.append(page.phrase(first, column, [texts[0].strip(" \t"), *texts[1:]]))
        pairs = zip(texts, enumerate(texts[1:], first + 1), strict=False)
        findings += [_label_runs_on(page, at, label) for last, (at, text) in pairs if _runs_on(label, last, text)]
    # Lines that give no token, such as the address of a reference link.
    for line in unread:
        if re.search(r"\w", page.lines[line]):
            mark = re.match(r"\s*(?:[-+*]|\d+[.)])[ \t]+", page.lines[line])
            at = mark.end() if mark else 0
            items.append(page.phrase(line, at, [page.lines[line][at:]]))
    return sorted(items, key=lambda item: item.span), findings


def _runs_on(label: Label, last: str, line: str) -> bool:
    """Tell whether a line that goes on with a label's words looks like something of its own."""
    if label in {Label.EQUIPMENT, Label.MUSCLES} and not _GOES_ON.search(last) and not _JOINED.match(line):
        return bool(line.strip())
    return _LIKE_LABEL.match(line) is not None


def _label_runs_on(page: Page, line: int, label: Label) -> Finding:
    text = page.lines[line]
    words = text.strip()
    shown = words if len(words) <= 40 else words[:39] + "…"
    place = page.span(line, len(text) - len(text.lstrip()), len(words))
    message = f"“{shown}” is read as part of “{label}:” above it; expected a blank line before a text of its own"
    help_ = "leave a blank line above it, or, if it belongs there, join it to the line above"
    return Finding("label-runs-on", Severity.WARNING, place, message, help_)


def label_unknown(page: Page, start: int, *, under_exercise: bool) -> list[Finding]:
    """Tell of a first word that was likely meant as a label, an error where a caution would be lost by it."""
    line = page.lines[start]
    near = near_label(line)
    if not near or (near[0].casefold() in MEANT and not under_exercise):
        return []
    word, label = near
    if word.casefold() in KNOWN_LABELS:
        message = f"“{word}” has no colon after it, so it stays prose; expected “{label}:”"
    else:
        message = f"“{word}:” is no label, so it stays prose; did you mean “{label}:”"
    severity = Severity.ERROR if label is Label.CAUTION else Severity.WARNING
    place = page.span(start, line.find(word), len(word))
    return [Finding("label-unknown", severity, place, message, f"begin the line with “{label}:”")]


def _without_pictures(token: Token) -> str:
    """Return the text of a token with blanks where its pictures stand."""
    text = token.content
    for child in token.children or ():
        if child.type == "image":
            start, end = child.meta["at"]
            text = text[:start] + re.sub(r"[^\n]", " ", text[start:end]) + text[end:]
    return text


def _first_line(page: Page, token: Token) -> int:
    """Return the line where a token's text begins; it leaves out lines of only a form feed or the like before it."""
    start, end = lines_of(token)
    text = token.content.split("\n", 1)[0].strip(" \t")
    return next((line for line in range(start, end) if text in page.lines[line]), start)


def _column(line: str, content: str) -> int:
    """Return where a token's text begins on its line: it is the line's tail, but for headings and table cells."""
    line, content = line.rstrip(), content.strip()
    return len(line) - len(content) if line.endswith(content) else max(line.find(content), 0)


def images_in(page: Page, token: Token) -> Iterator[Image]:
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
        column = _column(line, tail) + len(before[-1]) - (len(tail) - len(tail.lstrip()))
        source = token.content[start:end].split("\n")[0]
        path = unquote(str(child.attrGet("src") or ""))
        description = plain_text(child.children or ())
        alone = "\n" not in token.content[start:end] and line.strip() == source
        yield Image(path, description, page.span(number, column, len(source)), alone)
