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
    """Read mappings and lists by their indents, texts, and both in brackets; every value stays as it was typed."""
    lines = [line for line in path.read_text("utf-8").splitlines() if line and not line.lstrip().startswith("#")]
    lines.reverse()
    found: dict[str, Node] = {}
    within = [(-1, found)]
    while lines:
        line = lines.pop()
        key, _, value = line.partition(":")
        name, value = key.lstrip(), value.strip()
        indent = len(key) - len(name)
        while within[-1][0] >= indent:
            within.pop()
        while value[:1] in _CLOSED and value[-1] != _CLOSED[value[0]]:
            value = f"{value} {lines.pop().strip()}"
        inner: dict[str, Node] = {}
        if value == ">-":  # a text over several lines
            within[-1][1][name] = " ".join(_below(lines, " " * (indent + 1)))
        elif not value and lines and lines[-1].lstrip().startswith("- "):
            within[-1][1][name] = [item.removeprefix("- ") for item in _below(lines, " " * (indent + 1))]
        else:
            within[-1][1][name] = _value(value) if value else inner
        within.append((indent, inner))
    return found


def _below(lines: list[str], margin: str) -> Iterator[str]:
    """Take the lines that stand further in, the next one last in the list."""
    while lines and lines[-1].startswith(margin):
        yield lines.pop().strip()


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
