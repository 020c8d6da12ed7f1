"""The three chapter files, read by rules of their own, for a line that another reader would pass over counts here."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from repslate.proof.differences import UNREADABLE, Claim, Disagreement
from repslate.proof.reading import Place
from repslate.proof.wording import decimal

_CLOCK = re.compile(r"(?P<clock>\d+(?::\d{1,2}){1,2})[\s–—-]+(?P<title>\S.*)")
_CUE = re.compile(r"(\d+(?::\d\d){1,2}\.\d{3})\s+-->\s+(\d+(?::\d\d){1,2}\.\d{3})(?:\s.*)?")
_ESCAPE = re.compile(r"\\(.)")


@dataclass(frozen=True, slots=True)
class Mark:
    """A chapter as a file has it: `start` and `end` in seconds, `end` None where the format has none."""

    start: Fraction
    end: Fraction | None
    title: str
    place: Place
    words: str


Marks = tuple[tuple[Mark, ...], tuple[Disagreement, ...]]


def clock_seconds(text: str) -> Fraction:
    """Return the seconds of "1:02", "1:02:03" or "00:01:02.500"."""
    seconds = Fraction(0)
    for part in text.split(":"):
        seconds = seconds * 60 + decimal(part)
    return seconds


def listed(text: str, place: Place) -> Mark | None:
    """Return the chapter of a line such as "1:10 Goblet squat"; None for any other line."""
    found = _CLOCK.fullmatch(text.strip())
    return Mark(clock_seconds(found["clock"]), None, found["title"], place, found[0]) if found else None


def read_list(name: str, data: bytes) -> Marks:
    """Read chapters.txt: every line that is not empty is a chapter, or cannot be read."""
    marks, unread = [], []
    for number, line in _lines(data):
        mark = listed(line, Place(name, number))
        if mark:
            marks.append(mark)
        elif line.strip():
            unread.append(_unread(name, number, line, "a line such as “1:10 Goblet squat”"))
    return tuple(marks), tuple(unread)


def read_webvtt(name: str, data: bytes) -> Marks:
    """Read chapters.vtt (W3C WebVTT): blocks apart by empty lines, each a note or a cue."""
    lines = dict(_lines(data))
    unread = []
    if not re.fullmatch(r"WEBVTT(\s.*)?", lines.get(1, "")):
        unread.append(_unread(name, 1, lines.get(1, ""), "“WEBVTT” in the first line"))
    marks = []
    for block in _blocks(lines):
        numbers = [number for number in block if "-->" in lines[number]]
        if block[0] == 1 or (not numbers and lines[block[0]].startswith(("NOTE", "STYLE", "REGION"))):
            continue
        cue = _CUE.fullmatch(lines[numbers[0]].strip()) if numbers else None
        if cue is None:
            expected = "a cue such as “00:01:10.000 --> 00:02:10.000”"
            unread.append(_unread(name, block[0], lines[block[0]], expected))
            continue
        title = " ".join(lines[number] for number in block if number > numbers[0])
        place = Place(name, numbers[0])
        marks.append(Mark(clock_seconds(cue[1]), clock_seconds(cue[2]), _unescaped(title), place, cue[0]))
    return tuple(marks), tuple(unread)


def read_ffmetadata(name: str, data: bytes) -> Marks:
    """Read chapters.ffmeta (FFmpeg, doc/metadata.texi): sections [CHAPTER] with TIMEBASE, START, END and title."""
    lines = list(_lines(data))
    unread = []
    if not lines or lines[0][1].strip() != ";FFMETADATA1":
        unread.append(_unread(name, 1, lines[0][1] if lines else "", "“;FFMETADATA1” in the first line"))
    marks = []
    for number, section in _sections(lines):
        try:
            base = Fraction(section["TIMEBASE"])
            start, end = int(section["START"]) * base, int(section["END"]) * base
        except (KeyError, ValueError, ZeroDivisionError):
            unread.append(_unread(name, number, "[CHAPTER]", "TIMEBASE, START and END in figures"))
            continue
        title = _ESCAPE.sub(r"\1", section.get("title", ""))
        words = f"START={section['START']} END={section['END']}"
        marks.append(Mark(start, end, title, Place(name, number), words))
    return tuple(marks), tuple(unread)


def _lines(data: bytes) -> Iterator[tuple[int, str]]:
    text = data.decode("utf-8", "replace").removeprefix("\ufeff")
    yield from enumerate(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"), 1)


def _blocks(lines: dict[int, str]) -> Iterator[list[int]]:
    block: list[int] = []
    for number, line in lines.items():
        if line.strip():
            block.append(number)
        elif block:
            yield block
            block = []
    if block:
        yield block


def _sections(lines: list[tuple[int, str]]) -> Iterator[tuple[int, dict[str, str]]]:
    section: dict[str, str] | None = None
    first = 0
    for number, line in lines:
        if line.strip() == "[CHAPTER]":
            if section is not None:
                yield first, section
            section, first = {}, number
        elif section is not None and "=" in line and not line.startswith((";", "#")):
            key, _, value = line.partition("=")
            section[key.strip()] = value
    if section is not None:
        yield first, section


def _unescaped(text: str) -> str:
    return text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&").strip()


def _unread(name: str, number: int, line: str, expected: str) -> Disagreement:
    return Disagreement(
        UNREADABLE, Claim("a line that cannot be read back", line.strip(), Place(name, number)), expected
    )
