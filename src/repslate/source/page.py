"""The lines of workout.md, front matter and comments set aside, and the pieces cut from them, each with its place."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from repslate.source.finding import Finding, Severity
from repslate.source.markdown import before_label, label_of
from repslate.source.span import Span


@dataclass(frozen=True, slots=True)
class Phrase:
    """A run of words (inline Markdown, wrapped lines joined); `span` covers its first line."""

    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class Image:
    """A picture of the prose; `span` covers its Markdown up to the end of the line it begins on.

    `alone` tells that nothing else stands on that line.
    """

    path: str
    description: str
    span: Span
    alone: bool


@dataclass(frozen=True, slots=True)
class Passage:
    """Lines of ordinary Markdown as written; they follow one another in the file from `span` on.

    Blanks stand where comments stood, on the lines `gaps`, so that columns hold; `rows` leaves them out.
    """

    markdown: str
    span: Span
    images: tuple[Image, ...] = ()
    gaps: frozenset[int] = frozenset()

    def rows(self) -> tuple[tuple[int, str], ...]:
        """Return the lines, each with its number in the file, without the blanks that comments leave."""
        rows: list[tuple[int, str]] = []
        after_gap = False
        for number, line in enumerate(self.markdown.split("\n"), self.span.line):
            text = re.sub(r"(?<=\S)[ \t]{2,}", " ", line).rstrip() if number in self.gaps else line
            after_gap = number in self.gaps or (after_gap and not text.strip())
            if text.strip() or not after_gap or (rows and rows[-1][1].strip()):
                rows.append((number, text))
        return tuple(rows)


@dataclass(frozen=True, slots=True)
class Page:
    """A file as lines, numbered from 0.

    `lines` are without front matter and comments, and without what stands before a label (an indent, the mark of a
    quote or a list), since a label counts wherever it stands. `shifts` is how many characters were taken from the start
    of each; `written` are the lines without comments only, and a comment stood on the lines `gaps`, from 1. `front` is
    the front matter's text (None: there is none), `front_line` the line it begins on, from 1, and `body` the first line
    after it.
    """

    file: str
    lines: tuple[str, ...]
    shifts: tuple[int, ...]
    written: tuple[str, ...]
    gaps: frozenset[int]
    front: str | None
    front_line: int
    body: int

    @property
    def last(self) -> int:
        """The number of the last line, from 1."""
        return len(self.lines) - (len(self.lines) > 1 and not self.lines[-1])

    def span(self, line: int, start: int, length: int) -> Span:
        """Return the place of a run of characters."""
        start = min(start, max(0, len(self.lines[line]) - 1))  # nothing at a line's end: point at what it follows
        return Span(self.file, line + 1, self.shifts[line] + start + 1, max(1, length))

    def lifted(self, line: int) -> int:
        """Return how many characters stand before the label on a line."""
        return len(self.written[line]) - len(self.lines[line])

    def phrase(self, line: int, start: int, texts: Sequence[str]) -> Phrase:
        """Return lines of text joined to a phrase; the first of them stands on a line from `start` on."""
        first = texts[0].strip()
        start += len(texts[0]) - len(texts[0].lstrip())
        # A comment in the middle of a line leaves a gap.
        text = re.sub(r"[ \t]{2,}", " ", " ".join(filter(None, (part.strip() for part in texts))))
        return Phrase(text, self.span(line, start, len(first)))

    def passage(self, first: int, end: int, images: Sequence[Image] = ()) -> Passage | None:
        """Return the lines from `first` up to `end` without blank lines around them, or None if all are blank."""
        while first < end and not self.lines[first].strip():
            first += 1
        return self.verbatim(first, end, images) if first < end else None

    def verbatim(self, first: int, end: int, images: Sequence[Image] = ()) -> Passage:
        """Return the lines from `first` up to `end` as they stand."""
        while not self.lines[end - 1].strip():  # a list's lines include the blank ones after it
            end -= 1
        own = tuple(one for one in images if first < one.span.line <= end)
        line = self.written[first]
        span = Span(self.file, first + 1, self.shifts[first] - self.lifted(first) + 1, max(1, len(line)))
        gaps = frozenset(number for number in self.gaps if first < number <= end)
        return Passage("\n".join(self.written[first:end]), span, own, gaps)


def read_page(text: str, file: str) -> tuple[Page, tuple[Finding, ...]]:
    """Return the lines of the text, front matter and comments blanked, so that lines and columns stay what they are."""
    lines = _LINE_BREAK.split(text.replace("\0", "\ufffd"))  # U+0000 as CommonMark 0.31.2, 2.3, has it
    front, front_line, body, findings = _split_front_matter(lines, file)
    clean, cuts, gaps, more = _take_out_comments(lines, body, file)
    written = [""] * body + clean
    lifted = [len(before) for before in _before_labels(written)]
    page = Page(
        file,
        tuple(line[lift:] for line, lift in zip(written, lifted, strict=True)),
        tuple(cut + lift for cut, lift in zip([0] * body + cuts, lifted, strict=True)),
        tuple(written),
        gaps,
        front,
        front_line,
        body,
    )
    return page, tuple(findings + more)


def _before_labels(lines: list[str]) -> Iterator[str]:
    """Yield what stands before the label on each line; the lines in the same quote or indent that go on have it too."""
    goes_on = None
    for line in lines:
        if own := before_label(line):
            goes_on = re.compile(_QUOTE if ">" in own else own) if ">" in own or own.isspace() else None
            yield own
            continue
        found = goes_on.match(line) if goes_on and not label_of(line) else None
        goes_on = goes_on if found and line[found.end() :].strip() else None
        yield found[0] if found and goes_on else ""


_QUOTE = r"[ \t]*(?:>[ \t]?)+"


_LINE_BREAK = re.compile(r"\r\n?|\n")  # markdown-it's own, so that its line numbers are ours


def _split_front_matter(lines: list[str], file: str) -> tuple[str | None, int, int, list[Finding]]:
    """Return the front matter's text and first line, the index of the first line of the body, and findings.

    Also sees front matter whose first or last line is missing, or was made a long dash by a word processor.
    """
    start = next((at for at, line in enumerate(lines) if line.strip()), 0)
    opened = _RULE.fullmatch(lines[start]) is not None
    begin = start + 1 if opened else start
    if lines[start].rstrip() != "---" and not (begin < len(lines) and _FIRST_KEY.match(lines[begin])):
        return None, 1, 0, []
    heading = next((at for at in range(begin, len(lines)) if re.match(r"#{2,3}[ \t]", lines[at])), len(lines))
    end = next((at for at in range(begin, heading) if _RULE.fullmatch(lines[at])), None)
    findings = [] if opened else [_front_matter_line(Span(file, start + 1, 1, len(lines[start].rstrip())), "")]
    for at in filter(None, (opened and start + 1, end and end + 1)):
        typed = lines[at - 1].rstrip()
        findings += [] if typed == "---" else [_front_matter_line(Span(file, at, 1, len(typed)), typed)]
    if end is not None:
        return "\n".join(lines[begin:end]), begin + 1, end + 1, findings
    # Up to the first blank line or heading: the likeliest place where the last line was forgotten.
    body = next((at for at in range(begin, heading) if not lines[at].strip()), heading)
    findings.append(_front_matter_open(Span(file, start + 1, 1, len(lines[start].rstrip())), body))
    return "\n".join(lines[begin:body]), begin + 1, body, findings


_RULE = re.compile(r"(?:-{2,}|-*[–—][-–—]*)\s*")
_FIRST_KEY = re.compile(r"(?:format|title)[ \t]*:", re.IGNORECASE)


def _front_matter_line(span: Span, typed: str) -> Finding:
    found = f"the line “{typed}” should be" if typed else "the settings begin without"
    message = f"{found} the line “---” of the front matter; expected three hyphens on a line of their own"
    help_ = "type “---” in its place" if typed else "type “---” on a line of its own above this one"
    return Finding("front-matter-line", Severity.ERROR, span, message, help_)


def _front_matter_open(span: Span, last: int) -> Finding:
    message = "the front matter that begins here has no end; expected a line of only “---” before the first heading"
    help_ = f"type “---” on a line of its own after the last setting, likely after line {last}"
    return Finding("front-matter-unterminated", Severity.ERROR, span, message, help_)


def _take_out_comments(
    lines: list[str], body: int, file: str
) -> tuple[list[str], list[int], frozenset[int], list[Finding]]:
    """Return the body's lines without comments, what a comment took from the start of each, where, and findings."""
    text = "\n".join(lines[body:])
    starts = [0, *(found.end() for found in re.finditer("\n", text))]
    marks = list(re.finditer("<!--|-->", text))
    kept, findings, at = [], [], 0
    for mark, following in zip_longest(marks, marks[1:]):
        if mark[0] == "-->":
            continue
        if following and following[0] == "-->":
            kept += [text[at : mark.start()], re.sub(r"[^\n]", "\0", text[mark.start() : following.end()])]
            at = following.end()
        else:
            # Reading on to a later "-->" would swallow the workout between two comments.
            line = bisect_right(starts, mark.start())
            findings.append(_comment_open(Span(file, body + line, mark.start() - starts[line - 1] + 1, 4)))
    kept.append(text[at:])
    rest = "".join(kept).split("\n") if body < len(lines) else []
    # Text behind a comment that begins its line would count as indented, hence as code: move it to the margin.
    cuts = [found.end() if (found := re.match(r"[ \t]*\0[ \t\0]*", line)) else 0 for line in rest]
    clean = [line[cut:].replace("\0", " ") for line, cut in zip(rest, cuts, strict=True)]
    return clean, cuts, frozenset(body + at for at, line in enumerate(rest, 1) if "\0" in line), findings


def _comment_open(span: Span) -> Finding:
    return Finding(
        "comment-unterminated",
        Severity.ERROR,
        span,
        "the comment that begins here has no end; expected “-->” before the next comment or the end of the file",
        "type “-->” where the comment ends, or take “<!--” out",
    )
