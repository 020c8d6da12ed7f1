"""A small offline validator for schema.org JSON-LD: types, properties, domains, superseded names.

The vocabulary is read from the declarations of npm schema-dts 2.1.0 (Apache-2.0; its sentences are schema.org's,
CC BY-SA 3.0), which its makers generate from schema.org's own file: one interface a type, with the properties of its
domain, the types it descends from, and "@deprecated" at superseded names. It is loaded by the tests only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

INTERFACE = re.compile(r"^(?:export )?interface (\w+)(?: extends ([^{]+))? \{\n(.*?)^\}", re.M | re.S)
MEMBER = re.compile(r'(?:/\*\*((?:(?!\*/).)*)\*/\s*)?^ {4}"([\w@]+)"\??: (.+?);$', re.M | re.S)
SUPERSEDED = re.compile(r"@deprecated Consider using https://schema\.org/(\w+)")


@dataclass(frozen=True)
class Vocabulary:
    """Interfaces by name: those they extend, and their own properties with what supersedes each ("" if nothing)."""

    parents: Mapping[str, tuple[str, ...]]
    own: Mapping[str, Mapping[str, str]]
    types: Mapping[str, str]

    @cached_property
    def everywhere(self) -> frozenset[str]:
        """Every property of the vocabulary."""
        return frozenset(name for members in self.own.values() for name in members)

    def properties(self, kind: str) -> dict[str, str]:
        """Return the properties of a type and of its ancestors, each with what supersedes it."""
        found: dict[str, str] = {}
        todo = [self.types[kind]]
        while todo:
            interface = todo.pop()
            found.update(self.own.get(interface, {}))
            todo.extend(self.parents.get(interface, ()))
        return found

    def is_action(self, kind: str) -> bool:
        """Tell whether a type is an Action, whose properties may be written with -input and -output."""
        return "actionStatus" in self.properties(kind)


def read_vocabulary(declarations: Path) -> Vocabulary:
    """Read schema-dts' dist/schema.d.ts."""
    parents, own, types = {}, {}, {}
    for name, bases, body in INTERFACE.findall(declarations.read_text(encoding="utf-8")):
        parents[name] = tuple(base.strip() for base in bases.split(","))
        members = {}
        for comment, key, value in MEMBER.findall(body):
            if key == "@type":
                types[value.strip('"')] = name
            else:
                superseded = SUPERSEDED.search(comment)
                members[key] = superseded[1] if superseded else ""
        own[name] = members
    return Vocabulary(parents, own, types)


def schema_findings(document: object, vocabulary: Vocabulary, place: str = "$") -> Iterator[str]:
    """Yield what is wrong in a JSON-LD document, each finding with its place."""
    if isinstance(document, list):
        for index, item in enumerate(document):
            yield from schema_findings(item, vocabulary, f"{place}[{index}]")
    elif isinstance(document, dict):
        yield from _node(document, vocabulary, place)


def _node(node: dict[str, Any], vocabulary: Vocabulary, place: str) -> Iterator[str]:
    kind = node.get("@type")
    if "@graph" in node or (kind is None and set(node) == {"@id"}):
        kind = None
    elif not isinstance(kind, str) or kind not in vocabulary.types:
        yield f"{place}: type {kind!r} is unknown"
        kind = None
    for key, value in node.items():
        if kind and not key.startswith("@"):
            yield from (f"{place}.{key}: {words}" for words in _property(kind, key, vocabulary))
        yield from schema_findings(value, vocabulary, f"{place}.{key}")


def _property(kind: str, key: str, vocabulary: Vocabulary) -> Iterator[str]:
    name = re.sub(r"-(input|output)$", "", key) if vocabulary.is_action(kind) else key
    allowed = vocabulary.properties(kind)
    if name not in vocabulary.everywhere:
        yield "property is unknown"
    elif name not in allowed:
        yield f"not a property of {kind}"
    elif allowed[name]:
        yield f"superseded by {allowed[name]}"
