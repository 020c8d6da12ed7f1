"""What a key of a settings file may take: the kinds that several keys share, each with its words for what is wrong."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from urllib.parse import urlsplit

from repslate.source.finding import Finding, Severity
from repslate.source.mapping import Item, Mapping, core_value
from repslate.source.models import Kind, Refused, Schema, is_empty, kind, read_model, wrong
from repslate.source.near import nearest

ANY_TEXT: Schema = {"type": ["string", "number", "boolean"]}  # a number counts as the text that was typed
QUOTED: Schema = {"type": "string", "pattern": "^(?:[0-9]+(?:[.,][0-9]+)?|[0-9]*[¼½¾])$"}  # a figure all the same


def text(says: str) -> Kind:
    """Take a text of one line, its runs of spaces made one; a number counts as the text that was typed."""
    return Kind(says, one_text, (ANY_TEXT,))


def one_text(item: Item) -> str:
    """Return a text of one line."""
    if not isinstance(item.value, (tuple, Mapping)):
        return " ".join(item.text.split())
    message = f"“{item.key}” is {described(item)}, expected a text"
    raise wrong(item, message, f"type “{item.key}:” and then one text")


def texts(
    says: str,
    separator: str = "",
    each: Callable[[Item], object] = lambda item: item.text,
    one: Schema = ANY_TEXT,
    whole: Schema = ANY_TEXT,
) -> Kind:
    """Take a list of texts, written as [a, b], with dashes, or as one text that is split at a pattern ("" for never).

    `each` makes a value of one, or refuses that one; `one` and `whole` are the schemas of one and of the unsplit text.
    """

    def read(item: Item) -> tuple[object, ...]:
        found, told = list[object](), list[Finding]()
        for part in _parts(item, separator):
            try:
                if isinstance(part.value, (tuple, Mapping)):
                    message = f"an item of “{item.key}” is {described(part)}, expected a text"
                    help_ = f"type “{item.key}: [first, second]”, and put quotes around an item with a colon in it"
                    raise wrong(part, message, help_)
                found.append(each(part))
            except Refused as refused:
                told += refused.findings
        if told:
            raise Refused(told, tuple(found))
        return tuple(found)

    return Kind(says, read, ({"type": "array", "items": one}, whole))


def hashtags(says: str) -> Kind:
    """Take hashtags, their "#" taken off: letters, digits and underscores, not digits alone."""

    def read(item: Item) -> str:
        tag = item.text.removeprefix("#")
        if re.fullmatch(r"\w*[^\W\d]\w*", tag):
            return tag
        message = f"“{_short(item.text)}” is no hashtag, expected letters, digits and underscores in one word"
        word = re.sub(r"\W", "", tag)
        raise wrong(item, message, f"type “{word}”" if re.search(r"[^\W\d]", word) else "add a letter to it")

    tag = "#?[0-9]*[^0-9\\s#,;.:!?&/-][^\\s#,;.:!?&/-]*"
    one, whole = ({"type": "string", "pattern": pattern} for pattern in (f"^{tag}$", f"^{tag}(?:[,\\s]+{tag})*$"))
    return Kind(says, texts(says, r"[,\s]+", read).read, ({"type": "array", "items": one}, whole))


def whole(says: str, lowest: int, highest: int) -> Kind:
    """Take a whole number from `lowest` to `highest`; in quotes, a figure is still one."""

    def read(item: Item) -> int:
        value = core_value(item.text)
        if isinstance(value, int) and not isinstance(value, bool) and lowest <= value <= highest:
            return value
        message = f"“{item.key}” is {described(item)}, expected a whole number from {lowest} to {highest:,}"
        raise wrong(item, message, f"type “{item.key}:” and then the figure alone, in digits and without a unit")

    bounds = {"type": "integer", "minimum": lowest, "maximum": highest}
    return Kind(says, read, (bounds, {"type": "string", "pattern": "^\\+?[0-9]{1,18}$"}))


def choice(says: str, options: Iterable[str], *, severity: Severity = Severity.ERROR) -> Kind:
    """Take one of some words, capitals aside; the value is the member of `options`. Another word is of a severity."""
    known = {str(option): option for option in options}

    def read(item: Item) -> str:
        found = known.get(item.text.strip().lower())
        if found is not None:
            return found
        guess = nearest(item.text, known) if item.text else None
        message = f"“{item.key}” is {described(item)}, expected one of: {', '.join(known)}"
        fix = f"did you mean “{item.key}: {guess}”?" if guess else f"type “{item.key}: {next(iter(known))}”"
        help_ = fix if guess else fix + ", or another of these words"
        raise Refused([Finding("wrong-value", severity, item.value_span, message, help_)])

    values = [core_value(word) for word in known]
    exact: list[object] = [
        float(one) if isinstance(one, Decimal) else one for one in values if isinstance(one, (int, Decimal))
    ]
    pattern = "|".join("".join(_either_case(letter) for letter in option) for option in known)
    return Kind(says, read, ({"enum": [*known, *exact]}, {"type": "string", "pattern": f"^(?:{pattern})$"}))


def _either_case(letter: str) -> str:
    return f"[{letter.upper()}{letter}]" if letter.isalpha() or letter == "." else letter


@kind({"type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"})
def day(item: Item) -> date:
    """Take a calendar date written as year-month-day (ISO 8601, the extended form alone)."""
    message = f"“{item.key}” is {described(item)}, expected a date as year-month-day"
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", item.text):
        days = _days(item.text)
        help_ = " or ".join(f"“{item.key}: {day}”" for day in days or (date(2026, 3, 2),))
        more = "" if len(days) == 1 else ", whichever day it was" if days else ", if it was the second of March"
        raise wrong(item, message, f"type {help_}{more}")
    try:
        return date.fromisoformat(item.text)
    except ValueError:
        raise wrong(item, message, "the calendar has no such day: check month and day") from None


@kind({"type": "string", "pattern": "^[Hh][Tt][Tt][Pp][Ss]?://[^/@\\s]+(?:[/?#]\\S*)?$"})
def address(item: Item) -> str:
    """Take an absolute http or https address, unchanged."""
    if is_web_address(item.text):
        return item.text
    message = f"“{item.key}” is {described(item)}, expected a plain address that begins with https:// or http://"
    host = item.text if re.fullmatch(r"[\w-]+(\.[\w-]+)+(/\S*)?", item.text) else "video.example/w/7"
    raise wrong(item, message, f"type “{item.key}: https://{host}”")


def group(says: str, model: type[object], where: str) -> Kind:
    """Take the settings indented under the key, a model of their own."""

    def read(item: Item) -> object:
        value, findings = read_model(model, settings_in(item), where)
        if findings:
            raise Refused(findings, value)
        return value

    return Kind(says, read, (model,))


def settings_in(item: Item) -> Mapping:
    """Return the settings indented under a key."""
    if isinstance(item.value, Mapping):
        return item.value
    message = f"“{item.key}” is {described(item)}, expected settings of its own on the lines below"
    raise wrong(item, message, f"type “{item.key}:” alone, and its settings below it, two spaces in")


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


def _parts(item: Item, separator: str) -> Iterator[Item]:
    """Yield the texts of a list, or of one text that is split, each with its place where that can be told."""
    if isinstance(item.value, Mapping):
        message = f"“{item.key}” is {described(item)}, expected a list of texts"
        raise wrong(item, message, f"type “{item.key}: [first, second]”")
    if isinstance(item.value, tuple):
        for entry in item.value:
            if not is_empty(entry):
                yield replace(entry, text=" ".join(entry.text.split()))
        return
    exact = item.value_span.length == len(item.text)
    start = 0
    ends = [match.span() for match in re.finditer(separator, item.text)] if separator else []
    for end, following in [*ends, (len(item.text), 0)]:
        piece = item.text[start:end]
        if word := " ".join(piece.split()):
            offset = start + len(piece) - len(piece.lstrip())
            span = item.value_span.part(offset, len(word)) if exact and separator else item.value_span
            yield Item(word, item.key, span, span, word)
        start = following
