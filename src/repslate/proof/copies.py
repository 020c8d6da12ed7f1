"""Texts copied back from a website or a host: which reader and which rules suit, told from how the text begins."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from enum import StrEnum

from repslate.proof.chapter_files import Marks, listed, read_ffmetadata, read_list, read_webvtt
from repslate.proof.chapter_times import compare_marks
from repslate.proof.differences import Disagreement
from repslate.proof.expected import Expected
from repslate.proof.html import read_html
from repslate.proof.markdown import read_markdown
from repslate.proof.posts import read_text
from repslate.proof.reading import Document, Place
from repslate.proof.workout import ARTICLE, CAPTION, DESCRIPTION, compare_workout

_MARKED = re.compile(r"^(?:#{1,6} |\*\*|- |\* |\[)", re.MULTILINE)


class Copy(StrEnum):
    """What a copied text is a copy of."""

    CAPTION = "caption"
    DESCRIPTION = "description"
    CHAPTERS = "chapters"
    ARTICLE = "article"


def compare_copy(name: str, data: bytes, kind: Copy, expected: Expected) -> Iterator[Disagreement]:
    """Yield what a copied text says other than the episode. An article may be HTML, Markdown or plain text."""
    match kind:
        case Copy.CAPTION:
            yield from compare_workout(read_text(name, data), expected, CAPTION)
        case Copy.DESCRIPTION:
            yield from compare_workout(read_text(name, data), expected, DESCRIPTION)
        case Copy.ARTICLE:
            yield from compare_workout(_article(data)(name, data), expected, ARTICLE)
        case Copy.CHAPTERS:
            (marks, unread), per_second = _chapters(name, data)
            yield from unread
            yield from compare_marks(name, marks, expected.chapters, per_second=per_second)


def is_page(data: bytes) -> bool:
    """Tell whether a text is HTML, which may hold whole pictures."""
    return data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<")


def _article(data: bytes) -> Callable[[str, bytes], Document]:
    if is_page(data):
        return read_html
    return read_markdown if _MARKED.search(data.decode("utf-8", "replace")) else read_text


def _chapters(name: str, data: bytes) -> tuple[Marks, int]:
    """Read a list of chapters in any of the three forms; in a whole description, its lines that begin with a time."""
    begin = data.lstrip(b"\xef\xbb\xbf \t\r\n")
    if begin.startswith(b"WEBVTT"):
        return read_webvtt(name, data), 1000
    if begin.startswith(b";FFMETADATA"):
        return read_ffmetadata(name, data), 1000
    marks, unread = read_list(name, data)
    lines = data.decode("utf-8", "replace").splitlines()
    is_inside = any(listed(line, Place(name)) is None for line in lines[:1] + lines[-1:] if line.strip())
    return (marks, () if is_inside and marks else unread), 1
