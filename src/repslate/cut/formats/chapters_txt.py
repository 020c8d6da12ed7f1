"""chapters.txt: one marker a line, its time and its title."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from repslate.cut.markers import Marker, titled, unreadable
from repslate.model.clock import HOUR, read_clock, write_clock
from repslate.source.finding import Finding
from repslate.source.span import Span

_LINE_END = re.compile(r"\r\n|\n|\r")
_DASH = re.compile(r"\A[-–—](?:\s+|$)")


def read(text: str, file: str) -> Iterator[Marker | Finding]:
    """Yield the marker of each line that is neither empty nor a remark, or what is wrong with it."""
    lines = _LINE_END.split(text.removeprefix("\ufeff"))
    read = (_read_line(line, Span(file, number)) for number, line in enumerate(lines, 1))
    return (one for one in read if one is not None)


def write(markers: Sequence[Marker]) -> str:
    """Write markers as the text of a chapters.txt: whole seconds, or milliseconds rounded down where there are any."""
    hours = any(marker.time >= HOUR for marker in markers)
    lines = []
    for marker in markers:
        name = f" {{{marker.id}}}" if marker.id else ""
        lines.append(f"{write_clock(marker.time, hours=hours, thousandths=None)} {marker.title}{name}\n")
    return "".join(lines)


def _read_line(line: str, place: Span) -> Marker | Finding | None:
    text = line.strip()
    if not text or text.startswith("#"):
        return None
    span = Span(place.file, place.line, len(line) - len(line.lstrip()) + 1, len(text))
    clock, *rest = text.split(maxsplit=1)
    if clock[0] + clock[-1] in ("()", "[]"):
        clock = clock[1:-1]
    time = read_clock(clock)
    if isinstance(time, str):
        shown = clock[:40]
        what = f"“{shown}” is not a time: {time}" if shown[:1].isdigit() else f"found “{shown}”, expected a time first"
        return unreadable(span, what, "write the time, a space and the title, for example “2:10 Goblet squat”")
    return titled(time, _DASH.sub("", "".join(rest)), span)
