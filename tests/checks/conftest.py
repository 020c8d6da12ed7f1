"""Reads a folder as far as the checks need it, stage by stage, and wraps a page's fragment into such a folder."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from repslate.cut.chapters import match
from repslate.cut.markers import read_markers
from repslate.facts import Facts
from repslate.model.build import build
from repslate.model.library import load
from repslate.model.own_exercises import read_library
from repslate.model.settings import read_series
from repslate.model.stills import adopt, examine
from repslate.source.finding import Finding
from repslate.source.outline import read_outline
from repslate.source.text import file_empty, read_text

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
_FURTHER_FILE = re.compile(r"([\w./-]+\.(?:txt|vtt|yaml|jpg|png|md)):")


@pytest.fixture
def read() -> Callable[[Path], Read]:
    """Give the function that reads an episode's folder into Facts and the readers' findings."""
    return _read


@pytest.fixture
def read_fragment(tmp_path: Path) -> Callable[[str], Read]:
    """Give the function that reads a fragment as the pages show it.

    A fragment begins with workout.md, which gets a front matter if it has none; a line "chapters.txt:" begins another.
    """

    def read_one(text: str) -> Read:
        folder = tmp_path / "episode"
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
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(_bytes(content))
        return _read(folder)

    return read_one


def _bytes(text: str) -> bytes:
    """Return a file's bytes, with what cannot be shown in a page put in: ⟨FC⟩ is the byte 0xFC."""
    if text.endswith("⟨nothing⟩\n"):
        return b""
    if text.strip() == "⟨a picture⟩":
        return PICTURE.read_bytes()
    data = text.encode().replace("⟨1 MiB of text⟩".encode(), b"squat\n" * 200_000)
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
    name = next((name for name in ("chapters.txt", "chapters.vtt") if (folder / name).is_file()), None)
    if name is None:
        return Facts(episode, files=files, spoilt=examine(folder, episode), library=library), findings
    text, more = read_text(folder / name, name)
    findings += more
    markers, more = read_markers(text or "", name)
    findings += more
    chapters, more = match(markers, episode)
    spoilt = examine(folder, episode)
    return Facts(episode, chapters, has_markers=True, files=files, spoilt=spoilt, library=library), findings + more
