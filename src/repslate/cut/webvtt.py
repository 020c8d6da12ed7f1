"""WebVTT taken apart as every player takes it apart (W3C WebVTT §6.1)."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from repslate.model.clock import read_clock
from repslate.source.span import Span

_STAMP = r"((?:[0-9]{1,5}:)?[0-5][0-9]:[0-5][0-9]\.[0-9]{3})"
AUTHORED = re.compile(r"(?:[0-9]{2,5}:)?[0-5][0-9]:[0-5][0-9]\.[0-9]{3}")  #: a time as files should have it (§4.1)
_TIMINGS = re.compile(rf"[ \t\f]*{_STAMP}[ \t\f]*-->[ \t\f]*{_STAMP}(?![0-9])")
_AS_AUTHORED = re.compile(rf"{AUTHORED.pattern}[ \t]+-->[ \t]+{AUTHORED.pattern}(?:[ \t].*)?")
_LINE_END = re.compile(r"\r\n|\n|\r")
_SIGNATURE = re.compile(r"WEBVTT(?:[ \t].*)?")
_SIDE = re.compile(r"(NOTE|STYLE|REGION)(?:[ \t].*)?")

# A tag has a name, a time or nothing. Players take any other "<" for one too; here it stays, for it is text.
_TAG = re.compile(r"</?(?:[A-Za-z][^<>]*)?>|<[0-9:.]+>")


class Line(NamedTuple):
    """A line with its place."""

    span: Span
    text: str


class Timings(NamedTuple):
    """When a cue is shown, in seconds, as a player reads it: the end may lie before the start."""

    start: Fraction
    end: Fraction


@dataclass(frozen=True, slots=True)
class Block:
    """A run of lines that a player reads together: a cue, a remark, a style sheet, a region, or text it passes over.

    `arrow` is the index of the line with "-->" that makes it a cue, `timings` what it says, None where it cannot be
    read. `above` is the kind of what stands right above it with no empty line between ("WEBVTT" for the header).
    """

    lines: tuple[Line, ...]
    arrow: int | None
    timings: Timings | None
    above: str

    @property
    def kind(self) -> str:
        """Return "cue", "NOTE", "STYLE", "REGION" or "text"."""
        side = self.side if self.arrow != 1 else ""
        return side or ("text" if self.arrow is None else "cue")

    @property
    def side(self) -> str:
        """Return the word that its first line begins with if it is NOTE, STYLE or REGION, else ""."""
        found = _SIDE.fullmatch(self.lines[0].text)
        return found[1] if found else ""

    @property
    def id(self) -> str:
        """Return the line above the timings, "" if there is none."""
        return self.lines[0].text if self.arrow == 1 else ""

    @property
    def payload(self) -> tuple[Line, ...]:
        """Return the lines below the timings."""
        return () if self.arrow is None else self.lines[self.arrow + 1 :]


@dataclass(frozen=True, slots=True)
class Webvtt:
    """A file's parts: its first line, whether that is a signature, the lines under it, and the blocks.

    Without a signature a player reads nothing, and there are no further parts.
    """

    first: Line
    signed: bool
    header: tuple[Line, ...] = ()
    blocks: tuple[Block, ...] = ()

    @property
    def unsigned(self) -> str:
        """What to say where the first line is not the signature."""
        found = f"“{self.first.text[:40]}”" if self.first.text else "an empty line"
        return f"found {found}, expected “WEBVTT” on the first line"


def read_webvtt(text: str, file: str) -> Webvtt:
    """Return the parts of a WebVTT file; every line that is not empty is in one of them once it is signed."""
    lines = [
        Line(Span(file, number, 1, max(1, len(one))), one)
        for number, one in enumerate(_LINE_END.split(text.removeprefix("\ufeff").replace("\0", "\ufffd")), 1)
    ]
    if not _SIGNATURE.fullmatch(lines[0].text):
        return Webvtt(lines[0], signed=False)
    below = next((at for at, line in enumerate(lines) if at and _ends_header(line.text)), len(lines))
    return Webvtt(lines[0], True, tuple(lines[1:below]), tuple(_blocks(lines[below:])))


def plain(text: str) -> str:
    """Return a cue's text as it is heard: without tags, with "&amp;" and its like resolved."""
    return html.unescape(_TAG.sub("", text))


def has_bare_angle(text: str) -> bool:
    """Tell whether text holds a "<" that begins no tag: players hide what follows it."""
    return "<" in _TAG.sub("", text)


def is_authored(line: str) -> bool:
    """Tell whether a line of timings is written as files should have it, which is less than players read (§4.1)."""
    return _AS_AUTHORED.fullmatch(line) is not None


def _ends_header(text: str) -> bool:
    return not text or "-->" in text


def _blocks(lines: Sequence[Line]) -> Iterator[Block]:
    """Yield the blocks of the lines under the header: an empty line ends one, and so does a further "-->"."""
    above = "WEBVTT"
    at = 0
    while at < len(lines):
        if not lines[at].text:
            above = ""
            at += 1
            continue
        end, arrow = _extent(lines, at)
        timings = None if arrow is None else _read_timings(lines[at + arrow].text)
        block = Block(tuple(lines[at:end]), arrow, timings, above)
        yield block
        above, at = block.kind, end


def _extent(lines: Sequence[Line], start: int) -> tuple[int, int | None]:
    """Return where a block ends and which of its lines, the first or the second, has the "-->" that it may have."""
    arrow = None
    for at in range(start, len(lines)):
        if "-->" in lines[at].text:
            if arrow is not None or at > start + 1:
                return at, arrow
            arrow = at - start
        elif not lines[at].text:
            return at, arrow
    return len(lines), arrow


def _read_timings(text: str) -> Timings | None:
    found = _TIMINGS.match(text)
    times = [time for time in map(read_clock, found.groups() if found else ()) if isinstance(time, Fraction)]
    return Timings(*times) if times else None
