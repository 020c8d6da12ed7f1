"""Reads a folder as far as the checks need it, stage by stage, and wraps a page's fragment into such a folder."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from repslate.cut.folder import read_cut
from repslate.cut.video import Film
from repslate.facts import Facts
from repslate.model.build import build
from repslate.model.clock import read_clock
from repslate.model.library import load
from repslate.model.own_exercises import read_library
from repslate.model.quantity import Range
from repslate.model.series import read_series
from repslate.model.stills import adopt, examine
from repslate.source.finding import Finding
from repslate.source.outline import read_outline
from repslate.source.text import file_empty, read_text
from repslate.speech.heard import listen

Read = tuple[Facts | None, tuple[Finding, ...]]

PICTURE = Path(__file__).parents[2] / "samples/boathouse-kettlebells/pictures/goblet-squat.png"
FRONT = """\
---
format: 1
title: A sample
presenter: Robin
goal: hypertrophy
level: intermediate
---
"""
NO_FRONT = "⟨no front matter⟩\n"
_FURTHER_FILE = re.compile(r"([\w./-]+\.(?:txt|vtt|srt|edl|otio|mp4|yaml|jpg|png|md)):")
_FILM = re.compile(
    r"⟨a film of (?P<length>\S+) at (?P<rate>[\d/]+) fps(?:, shots at (?P<shots>[\d:. ]+))?"
    r"(?:, black (?P<black>[\d:.–]+))?⟩\n"
)


@pytest.fixture
def read() -> Callable[[Path], Read]:
    """Give the function that reads an episode's folder into Facts and the readers' findings."""
    return _read


@pytest.fixture
def read_fragment(tmp_path: Path) -> Callable[[str], Read]:
    """Give the function that reads a fragment as the pages show it.

    A fragment begins with workout.md, which gets a front matter if it has none; a line "chapters.txt:" begins another.
    What is seen of a film stands in words: ⟨a film of 5:00 at 25 fps, shots at 1:10 2:30, black 2:29–2:30⟩.
    """

    def read_one(text: str) -> Read:
        folder = tmp_path / "episode"
        film: Film | None = None
        files: dict[str, str] = {}
        name = "workout.md"
        for line in text.splitlines():
            if further := _FURTHER_FILE.fullmatch(line):
                name = further[1]
                files[name] = ""
            else:
                files[name] = f"{files.get(name, '')}{line}\n"
        if files.get("workout.md", "").startswith(NO_FRONT):
            files["workout.md"] = files["workout.md"].removeprefix(NO_FRONT)
        elif not files.get("workout.md", "---").startswith("---"):
            files["workout.md"] = FRONT + files["workout.md"]
        for name, content in files.items():
            if described := _FILM.fullmatch(content):
                film = _film(described)
                continue
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(_bytes(content))
        facts, findings = _read(folder)
        return (replace(facts, film=film) if facts and film else facts), findings

    return read_one


def _film(described: re.Match[str]) -> Film:
    """Return what is seen of a film whose every second is looked at."""

    def times(text: str | None, separator: str) -> list[Fraction]:
        read = [read_clock(one) for one in text.split(separator)] if text else []
        return [time for time in read if isinstance(time, Fraction)]

    (length,) = times(described["length"], " ")
    black = times(described["black"], "–")
    shots = tuple(times(described["shots"], " "))
    dark = (Range(*black),) if black else ()
    return Film(
        length, Fraction(described["rate"]), None, 1280, 720, shots, (), dark, looked_at=(Range(Fraction(0), length),)
    )


def _bytes(text: str) -> bytes:
    """Return a file's bytes, with what cannot be shown in a page put in: ⟨FC⟩ is the byte 0xFC."""
    if text.endswith("⟨nothing⟩\n"):
        return b""
    if text.strip() == "⟨a picture⟩":
        return PICTURE.read_bytes()
    data = text.encode().replace("⟨1 MiB of text⟩".encode(), b"squat\n" * 200_000)
    data = data.replace("⟨the same thirty times⟩".encode(), "3 × 10 @ 16 kg, rest 60 s, ".encode() * 30)
    return re.sub("⟨([0-9A-F]{2})⟩".encode(), lambda byte: bytes.fromhex(byte[1].decode()), data)


def _read(folder: Path) -> Read:
    series, findings = read_series(folder)
    text, more = read_text(folder / "workout.md", "workout.md")
    findings += more
    if text is None or not text.strip():
        return None, findings if text is None else (*findings, file_empty("workout.md"))
    library, _, more = read_library(folder, load())
    findings += more
    outline, more = read_outline(text, "workout.md")
    findings += more
    episode, more = build(outline, series, library, folder_name=folder.name, file="workout.md")
    findings += more
    files = frozenset(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    episode = adopt(episode, files)
    cut, more = read_cut(folder, episode)
    return (
        Facts(
            episode,
            cut.chapters,
            has_markers=cut.has_markers,
            files=files,
            spoilt=examine(folder, episode),
            cues=cut.cues,
            film=cut.film,
            edit=cut.edit,
            heard=listen(cut.cues, library, episode, cut.chapters) if cut.cues else None,
            library=library,
        ),
        findings + more,
    )
