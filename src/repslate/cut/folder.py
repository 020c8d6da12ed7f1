"""Everything an episode's folder says of its cut, read only where it lies there.

Markers count in this order: chapters.txt or chapters.vtt, then markers.edl through the edit, then the edit's own.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from repslate.cut.chapters import Chapter, match
from repslate.cut.formats import EDITS, MARKERS, SOURCE_MARKERS, SUBTITLES, reader
from repslate.cut.markers import Marker, read_markers
from repslate.cut.timecode import RATES, Rate, read_rate
from repslate.model.episode import Episode
from repslate.source.bounds import CHAPTERS_FILE
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span
from repslate.source.text import read_text

if TYPE_CHECKING:  # what reads a film, an edit or subtitles is loaded where one lies there
    from repslate.cut.cue import Cue
    from repslate.cut.edit import Edit
    from repslate.cut.video import Film

FILMS = ("cut.mp4", "cut.mov", "cut.mkv")

Findings = tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """What the folder says of the cut; `inputs` are the names of the files that were read.

    `has_markers` tells an empty file of markers from none. `film` and `edit` are None where there is no such file or
    it cannot be read. `coarse` tells that the cues are the paragraphs of a plain transcript, good to some seconds.
    """

    chapters: tuple[Chapter, ...] = ()
    has_markers: bool = False
    cues: tuple[Cue, ...] = ()
    film: Film | None = None
    edit: Edit | None = None
    inputs: tuple[str, ...] = ()
    coarse: bool = False


def read_cut(folder: Path, episode: Episode, *, with_film: bool = True) -> tuple[Cut, Findings]:
    """Read markers, subtitles, edit and, if asked, film, of which only the seconds around each chapter are decoded."""
    film_name, findings = _one_of(folder, FILMS)
    edit_name, in_edit_names = _one_of(folder, EDITS)
    cues, subtitles_name, in_cues = read_spoken(folder)
    edit, in_edit = _edit(folder, edit_name, film_name, episode)
    markers, marker_files, in_markers = _markers(folder, edit, edit_name, film_name, episode)
    chapters, in_chapters = match(markers, episode)
    film, in_film = _film(folder, film_name, chapters) if with_film else (None, ())
    inputs = tuple(name for name in (*marker_files, subtitles_name, edit_name, film_name) if name)
    every = (findings, in_edit_names, in_edit, in_markers, in_chapters, in_cues, in_film)
    coarse = getattr(reader(SUBTITLES, subtitles_name), "COARSE", False)
    cut = Cut(chapters, bool(marker_files), cues, film, edit, tuple(dict.fromkeys(inputs)), coarse)
    return cut, tuple(finding for part in every for finding in part)


def read_spoken(folder: Path) -> tuple[tuple[Cue, ...], str, Findings]:
    """Return the subtitles that lie in a folder, the name of their file, "" where there is none, and what is wrong."""
    name, notes = _one_of(folder, SUBTITLES)
    cues, findings = _cues(folder, name)
    return cues, name, (*notes, *findings)


def _present(folder: Path, names: Sequence[str]) -> list[str]:
    """Return the names that lie there, links to nowhere included: reading them says so."""
    return [name for name in names if os.path.lexists(folder / name)]


def _one_of(folder: Path, names: Sequence[str]) -> tuple[str, Findings]:
    """Return the first of the names that lies there, "" if none does, and a note on every other that does."""
    present = _present(folder, names)
    notes = (
        Finding(
            "cut-file-unread",
            Severity.NOTE,
            Span(other),
            f"{other} is not read, for {present[0]} lies beside it, expected one of them",
            f"remove {other}, or {present[0]} if {other} is the right one",
        )
        for other in present[1:]
    )
    return (present[0], tuple(notes)) if present else ("", ())


def _rate(folder: Path, film: str, episode: Episode) -> Rate | None:
    """Return the rate of the front matter, else the film's own; whether frames are dropped an edit list says itself."""
    written = read_rate(episode.frame_rate) if episode.frame_rate else None
    if isinstance(written, Rate) or not film:
        return written if isinstance(written, Rate) else None
    from repslate.cut.video import examine

    plain, _ = examine(folder / film, ())
    return next((rate for rate in RATES.values() if plain and rate.exact == plain.rate), None)


def _edit(folder: Path, name: str, film: str, episode: Episode) -> tuple[Edit | None, Findings]:
    form = reader(EDITS, name)
    if form is None:
        return None, ()
    text, unread = read_text(folder / name, name)
    if text is None:
        return None, unread
    rate = _rate(folder, film, episode) if getattr(form, "RATELESS", False) else None
    edit, findings = form.read(text, name, rate)
    return edit, (*unread, *findings)


def _markers(
    folder: Path, edit: Edit | None, edit_name: str, film_name: str, episode: Episode
) -> tuple[tuple[Marker, ...], tuple[str, ...], Findings]:
    """Return the markers in the time of the cut, the files they come from, and what is to be said.

    The first that is there counts: a file of markers, source markers through the edit, the edit's own, the film's own.
    """
    present = _present(folder, MARKERS)
    if len(present) > 1:
        text = f"there are {len(present)} files of chapter markers, {' and '.join(present)}, expected one"
        twice = Finding("markers-twice", Severity.ERROR, Span(present[0]), text, "remove one of them")
        return (), tuple(present), (twice,)
    if present:
        text_, unread = read_text(folder / present[0], present[0], most=CHAPTERS_FILE)
        markers, findings = read_markers(text_, present[0]) if text_ is not None else ((), ())
        return markers, tuple(present), (*unread, *findings)
    if laid := _present(folder, SOURCE_MARKERS):
        return _laid(folder, laid[0], edit, edit_name, episode)
    if edit is not None and edit.markers:
        from repslate.cut.source_markers import from_source

        markers, findings = from_source(edit, edit.markers)
        return markers, (edit_name,), findings
    if film_name:
        from repslate.cut.media_chapters import read_film_chapters

        markers, findings = read_film_chapters(folder / film_name)
        return (markers, (film_name,), findings) if markers else ((), (), ())
    return (), (), ()


def _laid(
    folder: Path, name: str, edit: Edit | None, edit_name: str, episode: Episode
) -> tuple[tuple[Marker, ...], tuple[str, ...], Findings]:
    """Take markers laid while filming through the edit."""
    from repslate.cut.source_markers import from_source

    form = reader(SOURCE_MARKERS, name)
    if edit is None or form is None:
        because = f"{edit_name} cannot be read" if edit_name else "no edit lies beside it"
        text = f"{name} holds times of the footage but {because}, expected {' or '.join(EDITS)}"
        help_ = "export the edit list or the OTIO timeline of the cut into the folder"
        return (), (name,), (Finding("edit-missing", Severity.ERROR, Span(name), text, help_),)
    text_, unread = read_text(folder / name, name)
    if text_ is None:
        return (), (name,), unread
    written = read_rate(episode.frame_rate) if episode.frame_rate else None
    rate = written if isinstance(written, Rate) else edit.rate
    listed, in_list = form.read(text_, name, rate)
    markers, findings = from_source(edit, listed)
    return markers, (name,), (*unread, *in_list, *findings)


def _cues(folder: Path, name: str) -> tuple[tuple[Cue, ...], Findings]:
    if not name:
        return (), ()
    from repslate.cut.subtitles import read_subtitles

    text, unread = read_text(folder / name, name)
    cues, findings = read_subtitles(text, name) if text is not None else ((), ())
    return cues, (*unread, *findings)


def _film(folder: Path, name: str, chapters: Sequence[Chapter]) -> tuple[Film | None, Findings]:
    if not name:
        return None, ()
    from repslate.cut.video import examine

    return examine(folder / name, [chapter.start for chapter in chapters])
