"""Reads the library's YAML files.

The files are our own and the tests hold them to a strict schema, so that a reader's machine need not do it again.
They keep to a small part of YAML, which is read by the line: a YAML library takes ten times as long at every start.
A test compares each file with what such a library reads.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TypeAlias

Node: TypeAlias = "str | list[Node] | dict[str, Node]"
FOLDER = Path(__file__).parent
_CLOSED = {"[": "]", "{": "}"}
_PAIR = re.compile(r'([^,:]+): (\[[^]]*\]|"[^"]*"|[^,]*)(?:, )?')


def read_exercises() -> Iterator[dict[str, Node]]:
    """Yield each family's file, in the order of their names."""
    for path in sorted((FOLDER / "exercises").glob("*.yaml")):
        yield read(path)


def read(path: Path) -> dict[str, Node]:
    """Read mappings by their indents, texts, and lists and mappings in brackets; every value stays as it was typed."""
    lines = (line for line in path.read_text("utf-8").splitlines() if line and not line.lstrip().startswith("#"))
    within: list[tuple[int, dict[str, Node]]] = [(-1, {})]
    for line in lines:
        key, _, value = line.partition(":")
        name, value = key.lstrip(), value.strip()
        while within[-1][0] >= len(key) - len(name):
            within.pop()
        while value[:1] in _CLOSED and value[-1] != _CLOSED[value[0]]:
            value = f"{value} {next(lines).strip()}"
        inner: dict[str, Node] = {}
        within[-1][1][name] = _value(value) if value else inner
        within.append((len(key) - len(name), inner))
    return within[0][1]


def _value(written: str) -> Node:
    if written.startswith("["):
        return [*written[1:-1].split(", ")]
    if written.startswith("{"):
        return {key: _value(value) for key, value in _PAIR.findall(written[1:-1])}
    return written.strip('"')


def text(node: Node) -> str:
    """Return a node that is a text."""
    if not isinstance(node, str):
        raise TypeError(f"expected a text, found {node!r}")  # our own file: our own fault
    return node


def texts(node: Node) -> tuple[str, ...]:
    """Return a node that is a list of texts."""
    if not isinstance(node, list):
        raise TypeError(f"expected a list, found {node!r}")  # our own file: our own fault
    return tuple(map(text, node))


def mapping(node: Node) -> dict[str, Node]:
    """Return a node that is a mapping."""
    if not isinstance(node, dict):
        raise TypeError(f"expected a mapping, found {node!r}")  # our own file: our own fault
    return node
