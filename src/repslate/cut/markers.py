"""Chapter markers as the trainer or the editor wrote them, in whatever format."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from pathlib import PurePosixPath

from repslate.cut import formats
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

_LONGEST = 200  # characters of a title or an id: our limit, some three times what hosts show of a title


@dataclass(frozen=True, slots=True)
class Marker:
    """A named point in time of the cut, in exact seconds.

    `title` is one line without the "{id}" that may end it; `id` is what stood in the braces. `span` is the marker's
    line, in WebVTT the title's.
    """

    time: Fraction
    title: str
    id: str | None
    span: Span


def read_markers(text: str, file: str) -> tuple[tuple[Marker, ...], tuple[Finding, ...]]:
    """Return the markers of a file in its order, and what could not be read.

    The ending of `file` decides. Every finding is an error, for a marker that is lost is a chapter that is missing;
    only the header line of a stream, which changes nothing here, is a warning.
    """
    if form := formats.reader(formats.MARKERS, file):
        read = list(form.read(text, file))
    else:
        ending, known = PurePosixPath(file).suffix.lower(), formats.endings(formats.MARKERS)
        message = f"cannot tell how to read markers from a file ending in “{ending}”, expected {known}"
        read = [unreadable(Span(file), message, "name the file chapters.txt or chapters.vtt")]
    markers = tuple(one for one in read if isinstance(one, Marker))
    return markers, tuple(one for one in read if isinstance(one, Finding))


def unreadable(span: Span, message: str, help_: str, because: str = "") -> Finding:
    """Return the error for a marker that is lost."""
    return Finding("marker-unreadable", Severity.ERROR, span, message, help_, because)


def titled(time: Fraction, text: str, span: Span) -> Marker | Finding:
    """Return the marker that a title, perhaps with an "{id}" at its end, makes at `time` seconds, or what is wrong."""
    title, name = text.strip(), None
    if title.endswith("}") and "{" in title:
        title, _, name = title[:-1].rpartition("{")
        title, name = title.rstrip(), name.strip()
        if not name:
            return unreadable(
                span, "found nothing between { and }, expected an exercise's id", "write the id, or leave out {}"
            )
    if not title:
        return unreadable(
            span, "found no title after the time, expected one", "write what the chapter shows after its time"
        )
    for what, part in (("a title", title), ("an id", name or "")):
        if len(part) > _LONGEST:
            message = f"found {what} of {len(part)} characters, expected at most {_LONGEST}"
            return unreadable(
                span, message, "shorten it, or begin a new line where a line break is missing", "our limit"
            )
    for character in title + (name or ""):
        if unicodedata.category(character) in ("Cc", "Zl", "Zp") and character != "\t":
            what = f"found the control character U+{ord(character):04X}, expected a title of plain text"
            return unreadable(
                span, what, "type the title again; the character is invisible and often comes with copied text"
            )
    return Marker(time, title.replace("\t", " "), name, span)
