"""Plain text as hosts and feeds show it, read line by line: the description, the caption, and copies from a website."""

from __future__ import annotations

import re

from repslate.proof.reading import Document, Link, Piece, Place, Role, seen

_ADDRESS = re.compile(r"https?://[^\s<>\"“”]+")
_LINE_END = re.compile(r"\r\n|\r|\n")  # no others: a name may hold what some programs break lines at
_BULLET = re.compile(r"[-*•–·]\s+")


def read_text(name: str, data: bytes) -> Document:
    """Read a plain text: each line that is not empty is a piece, each web address in it a link."""
    pieces: list[Piece] = []
    links: list[Link] = []
    for number, line in enumerate(_LINE_END.split(data.decode("utf-8", "replace").removeprefix("\ufeff")), 1):
        words = seen(line)
        if bullet := _BULLET.match(words):
            words = words[bullet.end() :]
        if not words:
            continue
        for address in _ADDRESS.finditer(line):
            found = address[0].rstrip(".,;:!?)")
            links.append(Link(found, found, Place(name, number, address.start() + 1), len(pieces)))
        column = len(line) - len(line.lstrip()) + 1
        pieces.append(Piece(words, Place(name, number, column), Role.TEXT))
    return Document(name, tuple(pieces), tuple(links))
