"""Reads the library's YAML files.

The files are our own and the tests hold them to a strict schema, so that a reader's machine need not do it again.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TypeAlias

Node: TypeAlias = "str | list[Node] | dict[str, Node]"
FOLDER = Path(__file__).parent


def read_exercises() -> Iterator[dict[str, Node]]:
    """Yield each family's file, in the order of their names."""
    for path in sorted((FOLDER / "exercises").glob("*.yaml")):
        yield mapping(read(path))


def read(path: Path) -> Node:
    """Build texts, lists and mappings from the parser's events; every value stays the text that was typed.

    Many times as fast as the library's own loader, which asks of each text whether it is a number, a date or a truth.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.events import MappingEndEvent, MappingStartEvent, ScalarEvent, SequenceEndEvent, SequenceStartEvent

    stack: list[list[Node]] = [[]]
    _, parser = YAML(typ="safe", pure=False).get_constructor_parser(path.read_text("utf-8"))
    for event in iter(parser.get_event, None):
        kind = type(event)
        if kind is ScalarEvent:
            stack[-1].append(event.value)
        elif kind in (MappingStartEvent, SequenceStartEvent):
            stack.append([])
        elif kind is MappingEndEvent:
            flat = stack.pop()
            stack[-1].append(dict(zip(map(text, flat[::2]), flat[1::2], strict=True)))
        elif kind is SequenceEndEvent:
            stack[-2].append(stack.pop())
    return stack[0][0]


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
