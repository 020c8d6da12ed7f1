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
from repslate.model.settings import read_series
from repslate.model.stills import adopt
from repslate.source.finding import Finding
from repslate.source.outline import read_outline
from repslate.source.text import read_text

Read = tuple[Facts | None, tuple[Finding, ...]]

FRONT = """\
---
format: 1
title: A sample
presenter: Robin
goal: hypertrophy
level: intermediate
---
"""
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
        if not files.get("workout.md", "---").startswith("---"):
            files["workout.md"] = FRONT + files["workout.md"]
        for name, content in files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(_bytes(content))
        return _read(folder)

    return read_one


def _bytes(text: str) -> bytes:
    """Return a file's bytes, with what cannot be shown in a page put in: ⟨FC⟩ is the byte 0xFC."""
    data = text.encode().replace("⟨1 MiB of text⟩".encode(), b"squat\n" * 200_000)
    return re.sub("⟨([0-9A-F]{2})⟩".encode(), lambda byte: bytes.fromhex(byte[1].decode()), data)


def _read(folder: Path) -> Read:
    series, findings = read_series(folder)
    text, more = read_text(folder / "workout.md", "workout.md")
    findings += more
    if text is None:
        return None, findings
    outline, more = read_outline(text, "workout.md")
    findings += more
    episode, more = build(outline, series, load(), folder_name=folder.name, file="workout.md")
    findings += more
    files = frozenset(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    episode = adopt(episode, files)
    name = next((name for name in ("chapters.txt", "chapters.vtt") if (folder / name).is_file()), None)
    if name is None:
        return Facts(episode, files=files), findings
    text, more = read_text(folder / name, name)
    findings += more
    markers, more = read_markers(text or "", name)
    findings += more
    chapters, more = match(markers, episode)
    return Facts(episode, chapters, has_markers=True, files=files), findings + more
