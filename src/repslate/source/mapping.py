"""Strict YAML 1.2 to a mapping with positions, for front matter and series.yaml. A bad entry never stops the rest.

Works on the events of ruamel.yaml, because a tree built by a library keeps neither both of two equal keys nor places.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import abc
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, TypeAlias

from repslate.source.finding import Finding, Severity
from repslate.source.span import Span
from repslate.source.text import CONTROL
from repslate.source.yaml_trouble import Trouble, explain

if TYPE_CHECKING:
    from ruamel.yaml.events import Event, ScalarEvent

MOST_ENTRIES = 1000  # outermost entries of a broken text that is still read piece by piece: no settings are so long
DEEPEST = 8  # levels of nesting, the outermost mapping being the first

Value: TypeAlias = "str | int | Decimal | bool | tuple[Item, ...] | Mapping | None"
_Pair: TypeAlias = "tuple[str, Item]"


@dataclass(frozen=True, slots=True)
class Item:
    """A value with its place; `text` is a single value as it was typed ("012", "7.50"), "" for a list or mapping.

    An item of a list has the list's `key`, its `key_span` is its `value_span`. A span covers the first line of what it
    names.
    """

    value: Value
    key: str
    key_span: Span
    value_span: Span
    text: str = ""


@dataclass(frozen=True, slots=True)
class Mapping(abc.Mapping[str, Item]):
    """Keys in the order written, each with its item; keys are always text.

    `broken` are the outermost keys that are written but whose entry cannot be read, so that nobody calls them missing.
    """

    entries: dict[str, Item]
    span: Span
    broken: frozenset[str] = frozenset()

    def __getitem__(self, key: str) -> Item:
        return self.entries[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.entries)

    def __len__(self) -> int:
        return len(self.entries)


def read_mapping(text: str, file: str, first_line: int = 1) -> tuple[Mapping, tuple[Finding, ...]]:
    """Read one YAML mapping; `first_line` is the number of the text's first line within `file`.

    Values are text, int, Decimal, bool, None, tuples of items and mappings by the core schema of YAML 1.2.2 §10.3;
    clock times, dates, NO, on, off and 1_000 stay text. Duplicate keys (the first is kept), anchors, aliases, tags,
    directives, further documents, more than 8 levels and syntax errors are findings; every other entry is read.
    """
    source = _Source(text, file, first_line)
    end, findings = _first_document(source)
    pairs, troubles = _salvage(source, [*_entry_starts(text, end), end])
    findings += troubles
    mapping = Mapping(_without_duplicates(pairs, findings), source.span(0, 1), frozenset(source.broken))
    return mapping, tuple(sorted(findings, key=lambda finding: finding.span))


class _Source:
    """The text with the arithmetic from an index to a place."""

    def __init__(self, text: str, file: str, first_line: int) -> None:
        self.text, self.file, self.first_line = text, file, first_line
        self.broken = list[str]()
        self.starts = [0, *(match.end() for match in re.finditer("\n", text))]

    def span(self, start: int, end: int) -> Span:
        """Return the span from `start` to `end`, cut at the end of its first line."""
        row = bisect_right(self.starts, start) - 1
        length = len(self.text[start : min(end, self._end(row))].rstrip())
        return Span(self.file, row + self.first_line, start - self.starts[row] + 1, max(1, length))

    def line_at(self, start: int) -> str:
        """Return the whole line that holds the index."""
        row = bisect_right(self.starts, start) - 1
        return self.text[self.starts[row] : self._end(row)]

    def _end(self, row: int) -> int:
        """Return where a line ends, its line feed left out."""
        return self.starts[row + 1] - 1 if row + 1 < len(self.starts) else len(self.text)

    def error(self, check: str, start: int, end: int, message: str, help_: str) -> Finding:
        return Finding(check, Severity.ERROR, self.span(start, end), message, help_)


def _first_document(source: _Source) -> tuple[int, list[Finding]]:
    """Return where the first document ends; anything after it is a finding.

    By lines, which is exact: neither a quoted nor an indented value may hold such a line (YAML 1.2.2 §9.1.4).
    """
    content = re.search(r"^(?!---(?:\s|$))[^\s#%].*$", source.text, re.M)
    if content is None:
        return len(source.text), []
    mark = re.compile(r"^(?:---|\.\.\.)(?=\s|$)", re.M).search(source.text, content.start())
    if mark is None:
        return len(source.text), []
    rest = re.compile(r"^[^\s#].*$", re.M).search(source.text, mark.end())
    if rest is None and mark.group() == "...":
        return mark.start(), []
    message = f"a second document begins here with “{mark.group()}”, and what follows is not read"
    help_ = "keep everything in one document: delete this line"
    return mark.start(), [source.error("yaml-documents", mark.start(), mark.end(), message, help_)]


def _entry_starts(text: str, end: int) -> list[int]:
    """Return where each outermost entry can begin: an unindented line that continues no list and closes no bracket."""
    starts = [match.start() for match in re.finditer(r"^[^\s#\-\]}]", text[:end], re.M)]
    return [0, *(start for start in starts if start > 0)]


def _salvage(source: _Source, bounds: list[int]) -> tuple[list[_Pair], list[Finding]]:
    """Read the text between the first and the last bound; where it is broken, read its halves, down to one entry."""
    try:
        return _Parse(source, bounds[0], bounds[-1]).run()
    except Trouble as trouble:
        if len(bounds) == 2 or len(bounds) > MOST_ENTRIES:
            return _first_line(source, bounds[0], bounds[-1], trouble.finding)
        middle = len(bounds) // 2
        pairs, findings = _salvage(source, bounds[: middle + 1])
        more_pairs, more_findings = _salvage(source, bounds[middle:])
        both = findings + more_findings
        if not any(finding.check == trouble.finding.check for finding in both):
            both.append(trouble.finding)  # each half reads well, only not together
        return pairs + more_pairs, both


def _first_line(source: _Source, start: int, end: int, found: Finding) -> tuple[list[_Pair], list[Finding]]:
    """Read the first line of a broken entry by itself; where that gives no value, tell which keys are lost."""
    keys = list(re.compile(r"^([^\s#:][^:\n]*):", re.M).finditer(source.text, start, end))
    if keys:
        line_end = (source.text.find("\n", keys[0].end(), end) + 1) or end
        try:
            pairs, findings = _Parse(source, start, line_end).run()
        except Trouble:
            pairs, findings = [], []
        if any(item.value not in (None, "") for _, item in pairs):
            below = re.compile(r"^[ \t]+([^\s#:][^:\n]*):", re.M).finditer(source.text, start, end)
            source.broken += (key[1].rstrip() for key in below)
            return pairs, [*findings, found]
        source.broken += (key[1].rstrip() for key in keys)
        lost = ", ".join(f"“{key[1].rstrip()}”" for key in keys[:3])
        found = replace(found, message=f"{found.message}; nothing is read of {lost}")
    return [], [found]


def _without_duplicates(pairs: Iterable[_Pair], findings: list[Finding]) -> dict[str, Item]:
    entries: dict[str, Item] = {}
    for key, item in pairs:
        first = entries.setdefault(key, item)
        if first is not item:
            message = f"“{key}” stands here again, after line {first.key_span.line}, and only the first is read"
            help_ = "keep one of the two lines"
            findings.append(Finding("yaml-duplicate-key", Severity.ERROR, item.key_span, message, help_))
    return entries


_TABS = re.compile(r"(?:(?<=:)|(?<=^-)|(?<=^ -)|(?<=^  -)|(?<=\S)(?=\s+(?:#|$)))[ \t]*\t[ \t]*", re.M)
# “…” and its like, which word processors put in place of straight quotes; one pair around all of a value.
_CURLED = re.compile(r"[“”„«»‘’‚](?P<inside>[^“”„«»]+)[“”«»‘’]")


class _Parse:
    """One reading of a stretch of the text. Raises Trouble where the stretch as a whole cannot be read."""

    def __init__(self, source: _Source, start: int, end: int) -> None:
        self.source, self.findings = source, list[Finding]()
        self.start = self.skip_directives(start, end)
        self.end = end

    def skip_directives(self, start: int, end: int) -> int:
        leading = re.compile(r"(?:[ \t]*(?:#.*)?\n)*(%.*)(?:\n|$)")
        while match := leading.match(self.source.text, start, end):
            message = "a line that begins with “%” is a YAML directive, expected “key: value”"
            help_ = "delete the line; the rules are always those of YAML 1.2"
            self.findings.append(self.source.error("yaml-directive", match.start(1), match.end(1), message, help_))
            start = match.end()
        return start

    def run(self) -> tuple[list[_Pair], list[Finding]]:
        """Return the outermost pairs, duplicates included, and the findings."""
        from ruamel.yaml import YAML
        from ruamel.yaml.error import YAMLError
        from ruamel.yaml.events import DocumentStartEvent, MappingStartEvent, ScalarEvent, StreamEndEvent

        # Only scanner and parser are used: no value is resolved or built by the library, no warning is raised by it.
        # It knows no tab after a colon or a dash or before a remark: separations as a space is (YAML 1.2.2 §6.2).
        text = _TABS.sub(lambda tabs: " " * len(tabs[0]), self.source.text[self.start : self.end])
        events = YAML(typ="safe", pure=True).parse(text)
        try:
            pairs = list[_Pair]()
            for event in events:
                if isinstance(event, StreamEndEvent):
                    break
                if isinstance(event, DocumentStartEvent):
                    root = next(events)
                    if isinstance(root, ScalarEvent) and not root.value and root.style is None:
                        break  # "---" and nothing else
                    if not isinstance(root, MappingStartEvent):
                        raise self.trouble(root, *self.no_mapping(root))
                    self.refuse_marks(root)
                    pairs = list(self.pairs(events, 1))
        except (YAMLError, ValueError, OverflowError) as error:  # the last two: "\UFFFFFFFF" names no character
            finding = explain(error, self.source.text, self.start, self.end)
            raise Trouble(self.source.error("yaml-syntax", *finding)) from error
        return pairs, self.findings

    def no_mapping(self, root: Event) -> tuple[str, str]:
        line = self.source.line_at(self.index(root)).strip()
        return f"the line “{line[:60]}” is no “key: value”", "write the key, a colon, a space, and the value"

    def trouble(self, event: Event, message: str, help_: str, check: str = "yaml-syntax") -> Trouble:
        start = self.index(event)
        return Trouble(self.source.error(check, start, self.start + event.end_mark.index, message, help_))

    def index(self, event: Event) -> int:
        return self.start + int(event.start_mark.index)

    def pairs(self, events: Iterator[Event], depth: int) -> Iterator[_Pair]:
        """Yield the pairs of a mapping whose beginning has been taken."""
        from ruamel.yaml.events import MappingEndEvent, ScalarEvent

        while not isinstance(key := next(events), MappingEndEvent):
            if not isinstance(key, ScalarEvent) or not key.value:
                message = "there is no plain word before the colon"
                raise self.trouble(key, message, "write the key, a colon, a space, and the value")
            self.refuse_marks(key)
            span = self.source.span(self.index(key), self.start + key.end_mark.index)
            item = self.item(events, next(events), depth, str(key.value), span)
            if key.value == "<<" and key.style is None:
                self.refuse("yaml-anchor", key, "“<<” merges another entry into this one, expected a key")
            elif item is not None:
                yield str(key.value), item

    def item(
        self, events: Iterator[Event], event: Event, depth: int, key: str, key_span: Span | None = None
    ) -> Item | None:
        """Return what begins with `event`, or None for an alias, which stands for nothing that is typed here."""
        from ruamel.yaml.events import AliasEvent, MappingStartEvent, ScalarEvent

        if isinstance(event, AliasEvent):
            self.refuse("yaml-anchor", event, f"“*{event.anchor}” points to another entry, expected a value")
            return None
        self.refuse_marks(event)
        if isinstance(event, ScalarEvent):
            return self.scalar(event, key, key_span)
        if depth == DEEPEST:
            message = f"this is nested deeper than {DEEPEST} levels"
            help_ = "no setting needs that: check the brackets and the indents"
            raise self.trouble(event, message, help_, "yaml-too-deep")
        value: Value
        if isinstance(event, MappingStartEvent):
            entries = _without_duplicates(self.pairs(events, depth + 1), self.findings)
            value = Mapping(entries, self.source.span(self.index(event), self.end))
        else:
            value = tuple(self.items(events, depth + 1, key))
        span = self.source.span(self.index(event), self.end)
        return Item(value, key, key_span or span, span)

    def items(self, events: Iterator[Event], depth: int, key: str) -> Iterator[Item]:
        from ruamel.yaml.events import SequenceEndEvent

        while not isinstance(event := next(events), SequenceEndEvent):
            item = self.item(events, event, depth, key)
            if item is not None:
                yield item

    def scalar(self, event: ScalarEvent, key: str, key_span: Span | None) -> Item:
        start, end = self.index(event), self.start + event.end_mark.index
        span = self.source.span(start, end)
        text = str(event.value)
        plain = event.style is None and event.tag is None
        if plain:
            self.look_for_comment(text, end if text else self.empty_place(start))
            if curled := _CURLED.fullmatch(text):
                text = curled["inside"].strip()
                self.findings.append(self.curled(text, start, end))
                return Item(text, key, key_span or span, span, text)
        return Item(core_value(text) if plain else text, key, key_span or span, span, text)

    def curled(self, text: str, start: int, end: int) -> Finding:
        message = "these curled quotes are part of the value to YAML, and are left out; expected none, or straight ones"
        help_ = f'take them out, or type straight ones: "{text}"'
        return Finding("yaml-quotes", Severity.WARNING, self.source.span(start, end), message, help_)

    def empty_place(self, mark: int) -> int:
        """Return the end of the colon or dash after which nothing stands; the library's mark lies lines below."""
        text = self.source.text
        while mark > self.start:
            line_start = text.rfind("\n", 0, mark) + 1
            line = text[line_start:mark]
            if line.strip() and not line.lstrip().startswith("#"):
                match = re.search(r"[:-](?=\s+#)", line)
                return line_start + match.end() if match else mark
            mark = line_start - 1
        return mark

    def look_for_comment(self, text: str, end: int) -> None:
        """Tell of "#" right before a word: to YAML it begins a comment, to a trainer a colour or a hashtag."""
        rest = self.source.text[end : self.end].split("\n", 1)[0]
        if not (match := re.match(r"\s+(#[^\s#].*)", rest)):
            return
        severity = Severity.WARNING if text else Severity.ERROR
        message = f"“{match.group(1)[:60]}” is a comment and is not read as part of the value"
        typed = f"{text}{match.group()}".strip().replace('"', "'")
        span = self.source.span(end + match.start(1), end + match.end(1))
        help_ = f'if it belongs to the value, put quotes around all of it: "{typed}"; else leave a space after “#”'
        self.findings.append(Finding("yaml-comment", severity, span, message, help_))

    def refuse_marks(self, event: Event) -> None:
        """Tell of an anchor or a tag before a key or a value, which is read itself unless it holds what nobody sees."""
        if anchor := getattr(event, "anchor", None):
            self.refuse("yaml-anchor", event, f"“&{anchor}” marks this value for use elsewhere, expected a value")
        if getattr(event, "tag", None):
            self.refuse("yaml-tag", event, "a word with “!” before a value is a YAML tag, expected a value")
        if bad := CONTROL.search(str(getattr(event, "value", None) or "")):
            message = f"the escape here stands for the control character U+{ord(bad.group()):04X}"
            raise self.trouble(event, message, "delete the escape", "control-character")

    def refuse(self, check: str, event: Event, message: str) -> None:
        help_ = 'type the value itself; if it is a text that begins with this sign, put quotes around it: "…"'
        end = self.start + event.end_mark.index
        self.findings.append(self.source.error(check, self.index(event), end, message, help_))


def core_value(text: str) -> str | int | Decimal | bool | None:
    """Return what an unquoted value stands for by the core schema of YAML 1.2.2 §10.3.2.

    Figures of more than 18 digits, powers of ten beyond 99, .inf and .nan stay text: no setting is such a number.
    """
    if text in {"", "~", "null", "Null", "NULL"}:
        return None
    if text.lower() in {"true", "false"} and text in {text.lower(), text.capitalize(), text.upper()}:
        return text.lower() == "true"
    if re.fullmatch(r"[-+]?[0-9]{1,18}", text):
        return int(text)
    if match := re.fullmatch(r"0(?:o([0-7]{1,18})|x([0-9a-fA-F]{1,18}))", text):
        return int(match[1], 8) if match[1] else int(match[2], 16)
    if re.fullmatch(r"[-+]?(?:\.[0-9]{1,18}|[0-9]{1,18}(?:\.[0-9]{0,18})?)(?:[eE][-+]?[0-9]{1,2})?", text):
        return Decimal(text)
    return text
