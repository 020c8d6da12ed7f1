"""Typed values out of a mapping, each wrong one a finding."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import TypeVar
from urllib.parse import urlsplit

from repslate.source.finding import Finding, Severity
from repslate.source.mapping import Item, Mapping, core_value, expect_keys
from repslate.source.near import nearest
from repslate.source.span import Span

E = TypeVar("E", bound=StrEnum)


class Fields:
    """One mapping being read.

    Each method returns None (or an empty tuple) for a key that is absent or left empty, and also, with a finding, for
    a value that is not what was asked for.
    """

    def __init__(self, mapping: Mapping, known: Iterable[str], where: str) -> None:
        """`known` are all the keys there are; `where` says whose they are, as findings show it."""
        self.mapping = mapping
        self.findings = list(expect_keys(mapping, known, where))

    def item(self, key: str) -> Item | None:
        """Return what stands under the key."""
        item = self.mapping.get(key)
        return None if item is None or item.value is None else item

    def places(self) -> dict[str, Span]:
        """Return where the value of each key stands that was written and not left empty, be it one nobody can read."""
        written = {key: item for key, item in self.mapping.items() if item.value is not None and item.value != ""}
        return dict.fromkeys(self.mapping.broken, self.mapping.span) | {k: i.value_span for k, i in written.items()}

    def refuse(self, span: Span, message: str, help_: str, because: str = "", check: str = "wrong-value") -> None:
        """Add an error."""
        self.findings.append(Finding(check, Severity.ERROR, span, message, help_, because))

    def text(self, key: str) -> str | None:
        """Return a text of one line, its runs of spaces made one; a number counts as the text that was typed."""
        item = self.item(key)
        if item is None:
            return None
        if isinstance(item.value, (tuple, Mapping)):
            message = f"“{key}” is {described(item)}, expected a text"
            self.refuse(item.value_span, message, f"type “{key}:” and then one text")
            return None
        return " ".join(item.text.split()) or None

    def texts(self, key: str, separator: str) -> tuple[tuple[str, Span], ...]:
        """Return a list of texts with their places, written as [a, b], with dashes, or as one text.

        `separator` is the pattern at which one text is split ("" for never).
        """
        item = self.item(key)
        if item is None:
            return ()
        if isinstance(item.value, Mapping):
            message = f"“{key}” is {described(item)}, expected a list of texts"
            self.refuse(item.value_span, message, f"type “{key}: [first, second]”")
            return ()
        if not isinstance(item.value, tuple):
            return tuple(_parts(item, separator))
        found = []
        for entry in item.value:
            if isinstance(entry.value, (tuple, Mapping)):
                message = f"an item of “{key}” is {described(entry)}, expected a text"
                self.refuse(
                    entry.value_span,
                    message,
                    f"type “{key}: [first, second]”, and put quotes around an item with a colon in it",
                )
            elif text := " ".join(entry.text.split()):
                found.append((text, entry.value_span))
        return tuple(found)

    def whole(self, key: str, lowest: int, highest: int) -> int | None:
        """Return a whole number from `lowest` to `highest`."""
        item = self.item(key)
        if item is None:
            return None
        value = core_value(item.text)  # in quotes, a figure is still one
        if isinstance(value, int) and not isinstance(value, bool) and lowest <= value <= highest:
            return value
        message = f"“{key}” is {described(item)}, expected a whole number from {lowest} to {highest:,}"
        self.refuse(item.value_span, message, f"type “{key}:” and then the figure alone, in digits and without a unit")
        return None

    def one_of(self, key: str, kind: type[E]) -> E | None:
        """Return the member of `kind` whose value is written, capitals aside."""
        item = self.item(key)
        if item is None:
            return None
        members = {member.value: member for member in kind}
        found = members.get(item.text.strip().lower())
        if found is None:
            self.refuse_choice(key, item, tuple(members))
        return found

    def refuse_choice(self, key: str, item: Item, choices: tuple[str, ...]) -> None:
        """Add an error for a word that is none of the choices."""
        guess = nearest(item.text, choices) if item.text else None
        message = f"“{key}” is {described(item)}, expected one of: {', '.join(choices)}"
        help_ = f"did you mean “{key}: {guess}”?" if guess else f"type “{key}: {choices[0]}”, or another of these words"
        self.refuse(item.value_span, message, help_)

    def day(self, key: str) -> date | None:
        """Return a calendar date written as year-month-day (ISO 8601, the extended form alone)."""
        item = self.item(key)
        if item is None:
            return None
        message = f"“{key}” is {described(item)}, expected a date as year-month-day"
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", item.text):
            days = _days(item.text)
            help_ = " or ".join(f"“{key}: {day}”" for day in days or (date(2026, 3, 2),))
            more = "" if len(days) == 1 else ", whichever day it was" if days else ", if it was the second of March"
            self.refuse(item.value_span, message, f"type {help_}{more}")
            return None
        try:
            return date.fromisoformat(item.text)
        except ValueError:
            self.refuse(item.value_span, message, "the calendar has no such day: check month and day")
            return None

    def address(self, key: str) -> str | None:
        """Return an absolute http or https address, unchanged."""
        item = self.item(key)
        if item is None:
            return None
        if is_web_address(item.text):
            return item.text
        message = f"“{key}” is {described(item)}, expected a plain address that begins with https:// or http://"
        host = item.text if re.fullmatch(r"[\w-]+(\.[\w-]+)+(/\S*)?", item.text) else "video.example/w/7"
        self.refuse(item.value_span, message, f"type “{key}: https://{host}”")
        return None

    def mapping_of(self, key: str) -> Mapping | None:
        """Return the settings indented under the key."""
        item = self.item(key)
        if item is None:
            return None
        if isinstance(item.value, Mapping):
            return item.value
        message = f"“{key}” is {described(item)}, expected settings of its own on the lines below"
        self.refuse(item.value_span, message, f"type “{key}:” alone, and its settings below it, two spaces in")
        return None

    def hashtags(self, key: str) -> tuple[str, ...]:
        """Return hashtags without their "#": letters, digits and underscores, not digits alone."""
        found = []
        for written, span in self.texts(key, r"[,\s]+"):
            tag = written.removeprefix("#")
            if re.fullmatch(r"\w*[^\W\d]\w*", tag):
                found.append(tag)
            else:
                message = f"“{_short(written)}” is no hashtag, expected letters, digits and underscores in one word"
                word = re.sub(r"\W", "", tag)
                self.refuse(span, message, f"type “{word}”" if re.search(r"[^\W\d]", word) else "add a letter to it")
        return tuple(found)


def _days(text: str) -> tuple[date, ...]:
    """Return the days that a date in another order can mean: year first, else day first, else month first."""
    if found := re.fullmatch(r"([12][0-9]{3})[./ -]?([0-9]{1,2})[./ -]?([0-9]{1,2})", text):
        orders = [(found[1], found[2], found[3])]
    elif found := re.fullmatch(r"([0-9]{1,2})[./ -] ?([0-9]{1,2})[./ -] ?([12][0-9]{3})", text):
        orders = [(found[3], found[2], found[1]), (found[3], found[1], found[2])]
    else:
        return ()
    days = []
    for year, month, day in orders:
        try:
            days.append(date(int(year), int(month), int(day)))
        except ValueError:
            continue
    return tuple(dict.fromkeys(days))


def described(item: Item) -> str:
    """Return what was found, as a message names it: the text “abc”, the number 7, a list."""
    if isinstance(item.value, Mapping):
        return "a group of settings"
    if isinstance(item.value, tuple):
        return "a list"
    if isinstance(item.value, (int, Decimal)) and not isinstance(item.value, bool):
        return f"the number {item.text}"
    return f"the text “{_short(item.text)}”" if item.text else "empty"


def is_web_address(text: str) -> bool:
    """Tell whether the text is one absolute http or https URL with a host and no name or password in it."""
    if re.search(r"[\s<>\"'`\\^|]", text):
        return False
    try:
        parts = urlsplit(text)
        port_is_valid = parts.port is None or parts.port > 0
    except ValueError:  # a port or a bracketed host that is none
        return False
    return parts.scheme in {"http", "https"} and bool(parts.hostname) and "@" not in parts.netloc and port_is_valid


def _short(text: str) -> str:
    flat = " ".join(text.split())
    return flat if len(flat) <= 40 else flat[:39] + "…"


def _parts(item: Item, separator: str) -> Iterable[tuple[str, Span]]:
    """Yield the texts of one that is split, with their own places where it is typed plainly on one line."""
    if not separator:
        yield " ".join(item.text.split()), item.value_span
        return
    exact = item.value_span.length == len(item.text)
    start = 0
    for end, following in [*(m.span() for m in re.finditer(separator, item.text)), (len(item.text), 0)]:
        piece = item.text[start:end]
        if word := " ".join(piece.split()):
            offset = start + len(piece) - len(piece.lstrip())
            yield word, item.value_span.part(offset, len(word)) if exact else item.value_span
        start = following
