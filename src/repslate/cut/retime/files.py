"""The files around a move of chapters: two cuts read, chapters.txt written anew, the old one kept beside it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from repslate.cut.cue import Cue
from repslate.cut.formats import SUBTITLES, chapters_txt, reader
from repslate.cut.markers import Marker, read_markers
from repslate.cut.retime.alignment import align, words
from repslate.cut.retime.chapters import Retimed
from repslate.cut.retime.kept import Kept
from repslate.cut.retime.sound import kept_by_sound
from repslate.cut.subtitles import read_subtitles
from repslate.model.clock import write_clock
from repslate.source.bounds import CHAPTERS_FILE
from repslate.source.finding import Finding, Severity
from repslate.source.new_file import place_new, room_beside
from repslate.source.span import Span
from repslate.source.text import read_text

TARGET = "chapters.txt"
MARKERS = (TARGET, "chapters.vtt")


def compare(folder: Path, old: Path, new: Path) -> tuple[tuple[Kept, ...] | None, tuple[Finding, ...]]:
    """Return what the new cut keeps of the old one, from two files of subtitles or from the sound of two films.

    None where the two cannot be read or compared. Findings name the files as seen from `folder`.
    """
    spoken = [reader(SUBTITLES, path.name) is not None for path in (old, new)]
    if all(spoken):
        before, in_old = _cues(folder, old)
        after, in_new = _cues(folder, new)
        if before is None or after is None:
            return None, (*in_old, *in_new)
        return align(words(before), words(after)), (*in_old, *in_new)
    if any(spoken):
        message = "one of the two cuts is given by its subtitles and the other by its film, expected two of a kind"
        help_ = "give two files of subtitles (.srt or .vtt), or two films"
        return None, (Finding("cuts-unlike", Severity.ERROR, Span(_seen(folder, new)), message, help_),)
    return kept_by_sound((old, _seen(folder, old)), (new, _seen(folder, new)))


def _cues(folder: Path, path: Path) -> tuple[tuple[Cue, ...] | None, tuple[Finding, ...]]:
    name = _seen(folder, path)
    text, unread = read_text(path, name)
    if text is None:
        return None, unread
    cues, in_cues = read_subtitles(text, name)
    if not cues:
        message = f"“{name}” has no subtitles that can be read, expected some to compare"
        empty = Finding("subtitles-empty", Severity.ERROR, Span(name), message, "give the subtitles of the whole cut")
        return None, (*unread, *in_cues, empty)
    return cues, (*unread, *in_cues)


def _seen(folder: Path, path: Path) -> str:
    """Return the file as seen from the episode's folder, with forward slashes."""
    try:
        return Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:  # Windows: no way leads to another drive
        return path.absolute().as_posix()


# ---- chapters.txt


class Source(NamedTuple):
    """The file of markers that is moved: its name, its text and what it says."""

    name: str
    text: str
    markers: tuple[Marker, ...]


def read_source(folder: Path) -> tuple[Source | None, tuple[Finding, ...]]:
    """Read chapters.txt or chapters.vtt; None without a finding where there is neither."""
    name = next((name for name in MARKERS if os.path.lexists(folder / name)), None)
    if name is None:
        return None, ()
    text, unread = read_text(folder / name, name, most=CHAPTERS_FILE)
    if text is None:
        return None, unread
    markers, in_markers = read_markers(text, name)
    return Source(name, text, markers), (*unread, *in_markers)


def no_chapters() -> Finding:
    """Say that there is nothing to move."""
    message = "the episode has no chapters, expected some to move"
    return Finding("markers-missing", Severity.ERROR, Span(TARGET), message, "write chapters.txt for the old cut first")


def nothing_kept() -> Finding:
    """Say that two cuts have nothing in common."""
    message = "nothing of the old cut is found in the new one, expected two cuts of the same film"
    return Finding("cuts-unlike", Severity.ERROR, Span(TARGET), message, "check the two files you gave")


def rewrite(source: Source | None, moved: Sequence[Retimed]) -> str:
    """Return the text of chapters.txt with new times, in the order of the new cut.

    Remarks and empty lines stay before the chapter they stood before. A chapter that was cut out stays as a remark,
    before the chapter that followed it. `moved` are the chapters of `source`, where there is one, in its order.
    """
    alive = sorted((one for one in moved if one.to is not None), key=_new_time)
    lines = dict(zip(map(id, alive), chapters_txt.write([_marker(one) for one in alive]).splitlines(), strict=True))
    plain = source is not None and source.name == TARGET
    text = source.text.split("\n") if source is not None and plain else []
    ends = [marker.span.line for marker in source.markers] if source is not None and plain else [0] * len(moved)
    groups: list[tuple[Fraction, list[str]]] = []
    waiting: list[str] = []
    above = 0
    for end, one in zip(ends, moved, strict=True):
        waiting += text[above : max(0, end - 1)]
        above = end
        if one.to is None:
            waiting.append(_remark(one))
        else:
            groups.append((one.to, [*waiting, lines[id(one)]]))
            waiting = []
    groups.sort(key=lambda group: group[0])
    written = [line for _, group in groups for line in group] + waiting + text[above:]
    return "\n".join(written).rstrip("\n") + "\n"


def _new_time(one: Retimed) -> Fraction:
    return one.start if one.to is None else one.to


def _marker(one: Retimed) -> Marker:
    return Marker(_new_time(one), one.title, one.id, Span(TARGET))


def _remark(one: Retimed) -> str:
    offer = "" if one.offer is None else f", the nearest moment kept is {write_clock(one.offer, thousandths=None)}"
    name = f" {{{one.id}}}" if one.id else ""
    return f"# cut out: {one.title}{name} (was at {write_clock(one.start, thousandths=None)}{offer})"


def save(folder: Path, text: str, *, instead_of: str | None) -> tuple[str | None, tuple[Finding, ...]]:
    """Write chapters.txt in one go and keep the old file beside it; return the name under which it is kept.

    `instead_of` is the file of markers that was read, None if there was none. It is kept as chapters.before.txt, or
    chapters.before-2.txt and so on, for an earlier one is never written over.
    """
    try:
        with room_beside(folder / TARGET) as room:
            fresh = room / TARGET
            fresh.write_text(text, "utf-8", newline="\n")
            if instead_of:
                shutil.copymode(folder / instead_of, fresh)
            kept = _keep(folder / instead_of, room) if instead_of else None
            if instead_of == TARGET:
                fresh.replace(folder / TARGET)
            else:
                place_new(fresh, folder / TARGET)
        if instead_of and instead_of != TARGET:
            (folder / instead_of).unlink()
    except OSError as error:
        reason = (error.strerror or "the system refuses").lower()
        message = f"“{TARGET}” cannot be written: {reason}"
        help_ = "check that you may write in the folder and that the disk has room; the old chapters are as they were"
        return None, (Finding("chapters-unwritten", Severity.ERROR, Span(TARGET), message, help_),)
    return kept, ()


def _keep(path: Path, room: Path) -> str:
    """Copy a file to the first free name beside it; `room` is where the copy is made."""
    number = 1
    copy = room / "before"
    copy.write_bytes(path.read_bytes())
    while True:
        name = path.with_name(f"{path.stem}.before{f'-{number}' if number > 1 else ''}{path.suffix}")
        try:
            place_new(copy, name)
        except FileExistsError:
            number += 1
        else:
            return name.name
