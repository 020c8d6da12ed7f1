"""A page cut into tags and text as a browser cuts it (HTML Living Standard, 13.2.5), in time in step with its length.

The parser of Python's own library looks for the end of what is never closed from every place where it might begin;
here, as in the standard, what is not closed by the end of the file takes all the rest with it.
"""

from __future__ import annotations

import html
import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

_NEXT = re.compile(r"<(?=[A-Za-z/!?])")
_NAME = re.compile(r"[^\t\n\f\r />]*+")
# An attribute after what parts it from the one before. A quote that is not closed takes the rest of the file.
_ATTRIBUTE = re.compile(
    r"[\t\n\f\r /]*+(?P<name>[^\t\n\f\r />][^\t\n\f\r />=]*+)"
    r"(?:[\t\n\f\r ]*+=[\t\n\f\r ]*+"
    r"(?:\"(?P<two>[^\"]*+)(?P<shut>\")?|'(?P<one>[^']*+)(?P<closed>')?|(?P<bare>[^\t\n\f\r >]*+)))?"
)
_END = re.compile(r"[\t\n\f\r /]*+>")
_COMMENT_END = re.compile(r"--!?>|$(?![\s\S])")
#: What holds no tags but its own end tag: as it stands, and with its character references read.
RAW = frozenset("script style xmp iframe noembed noframes noscript".split())
WITH_REFERENCES = frozenset({"title", "textarea"})
_LONG_NUMBER = re.compile(r"&#(?:0*[1-9][0-9]{7,}|[xX]0*[1-9A-Fa-f][0-9A-Fa-f]{6,});?")


@dataclass(frozen=True, slots=True)
class Tag:
    """A tag with the place in the text where it begins; of attributes of one name the first counts.

    `is_end` tells an end tag, `is_empty` one that ends with "/>", which closes it within a drawing.
    """

    at: int
    name: str
    attributes: dict[str, str]
    is_end: bool = False
    is_empty: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """Text between tags, its character references read; `at` is where it begins."""

    at: int
    words: str


def cut(page: str) -> Iterator[Tag | Text]:
    """Yield the tags and texts of a page in order; comments and declarations are left out."""
    at = 0
    while at < len(page):
        found = _NEXT.search(page, at)
        stop = found.start() if found else len(page)
        if stop > at:
            yield Text(at, references(page[at:stop]))
        if not found:
            return
        tag, at = _marked(page, stop)
        if tag is None:
            continue
        yield tag
        if not tag.is_end and tag.name == "plaintext":
            yield Text(at, page[at:])
            return
        if not tag.is_end and (tag.name in RAW or tag.name in WITH_REFERENCES):
            end = re.compile(rf"</{tag.name}(?=[\t\n\f\r />])", re.IGNORECASE).search(page, at)
            stop = end.start() if end else len(page)
            if stop > at:
                yield Text(at, page[at:stop] if tag.name in RAW else references(page[at:stop]))
            at = stop


def _marked(page: str, at: int) -> tuple[Tag | None, int]:
    """Read what begins with "<": a tag, or None for what shows nothing; and where it ends."""
    if page.startswith("<!--", at):
        if page.startswith((">", "->"), at + 4):
            return None, page.index(">", at + 4) + 1
        end = _COMMENT_END.search(page, at + 4)
        return None, end.end() if end else len(page)
    is_end = page.startswith("</", at)
    begin = at + 1 + is_end
    if not (page[begin : begin + 1].isascii() and page[begin : begin + 1].isalpha()):
        end_at = page.find(">", begin)
        return None, len(page) if end_at < 0 else end_at + 1
    name = _NAME.match(page, begin)
    stop = name.end() if name else begin
    attributes: dict[str, str] = {}
    while not (closed := _END.match(page, stop)):
        one = _ATTRIBUTE.match(page, stop)
        if (
            one is None
            or (one["two"] is not None and not one["shut"])
            or (one["one"] is not None and not one["closed"])
        ):
            return None, len(page)  # the file ends within the tag
        value = next((one[kind] for kind in ("two", "one", "bare") if one[kind] is not None), "")
        attributes.setdefault(one["name"].lower(), references(value))
        stop = one.end()
    called = page[begin : name.end() if name else begin].lower()
    return Tag(at, called, attributes, is_end, closed[0].endswith("/>")), closed.end()


def references(text: str) -> str:
    """Read character references; a number that no character has is U+FFFD."""
    return html.unescape(_LONG_NUMBER.sub("\ufffd", text)) if "&" in text else text


class Lines:
    """Where in a text its lines begin, for places as readers count them."""

    def __init__(self, text: str) -> None:
        self._starts = [0, *(end.end() for end in re.finditer("\n", text))]

    def place(self, at: int) -> tuple[int, int]:
        """Return line and column, both from 1."""
        line = bisect_right(self._starts, at)
        return line, at - self._starts[line - 1] + 1
