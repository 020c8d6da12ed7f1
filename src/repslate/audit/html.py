"""A published page, read as a browser shows it: its visible text in pieces, and apart from that what machines read."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from itertools import pairwise

from repslate.audit.reading import Datum, Document, Link, Piece, Place, Role, seen

_VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
_UNREAD = frozenset({"style", "script", "template", "noscript"})
_INLINE = frozenset(
    "a abbr b bdi bdo br button cite code data dfn em i img input kbd label mark q s samp small span strong sub sup "
    "td th time u var wbr".split()
)
_CELLS = frozenset({"td", "th"})
_DRAWN = frozenset({"text", "title", "desc"})
_HEADING = re.compile("h([1-6])")
_UNSEEN = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.IGNORECASE)
_ALONE = frozenset({"data-at", "data-from"})
_JSON_LD = "application/ld+json"


def read_html(name: str, data: bytes) -> Document:
    """Read a page; bytes that are no UTF-8 are shown as a browser would, with the replacement character."""
    page = _Page(name)
    page.feed(data.decode("utf-8", "replace").removeprefix("\ufeff"))
    page.close()
    page.flush()
    return Document(name, tuple(page.pieces), tuple(page.links), tuple(page.data), page.ids)


@dataclass(slots=True)
class _Open:
    """An open element: whether it hides what is in it, and where its text begins."""

    tag: str
    hides: bool


@dataclass(slots=True)
class _Anchor:
    address: str
    place: Place
    words: list[str] = field(default_factory=list)


class _Page(HTMLParser):
    """Collects pieces while the parser walks; one that is not closed is closed by the next block."""

    def __init__(self, name: str) -> None:
        super().__init__(convert_charrefs=True)
        self.name = name
        self.pieces: list[Piece] = []
        self.links: list[Link] = []
        self.data: list[Datum] = []
        self.ids: dict[str, int] = {}
        self.stack: list[_Open] = []
        self.text: list[str] = []
        self.cells: list[int] = []
        self.start: Place | None = None
        self.anchor: _Anchor | None = None
        self.script: str | None = None

    def place(self) -> Place:
        line, column = self.getpos()
        return Place(self.name, line, column + 1)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {key: value or "" for key, value in attrs}
        if tag not in _INLINE or (tag == "a" and self._is_separate()):
            self.flush()
        elif tag in _CELLS or tag == "br":
            if tag in _CELLS:
                self.cells.append(len(self.text))
            self.text.append(" ")
        self._implied_end(tag)
        self._attributes(tag, given)
        if tag == "script" and given.get("type") == _JSON_LD:
            self.script = ""
        if tag not in _VOID:
            hides = "hidden" in given or bool(_UNSEEN.search(given.get("style", "")))
            self.stack.append(_Open(tag, hides))

    def handle_endtag(self, tag: str) -> None:
        if tag not in _INLINE:
            self.flush()
        if tag == "a" and self.anchor:
            words = " ".join("".join(self.anchor.words).split())
            self.links.append(Link(self.anchor.address, words, self.anchor.place, len(self.pieces)))
            self.anchor = None
        if any(one.tag == tag for one in self.stack):
            while self.stack.pop().tag != tag:
                pass

    def handle_data(self, data: str) -> None:
        if self.stack and self.stack[-1].tag in _UNREAD:
            if self.script is not None:
                self.data.append(Datum(_JSON_LD, data, self.place()))
                self.script = None
            return
        if any(one.hides and one.tag in _INLINE for one in self.stack):
            return  # words taken out of a paragraph that is seen
        if data.strip() and self.start is None:
            self.start = self._skipped(data)
        self.text.append(data)
        if self.anchor:
            self.anchor.words.append(data)

    def flush(self) -> None:
        """End the piece that is being read."""
        text = seen("".join(self.text))
        if text and self.start:
            role, level = self._role()
            if role is Role.HIDDEN and self._inside("head"):
                self.data.append(Datum("title", text, self.start, len(self.pieces)))
            else:
                self.pieces.append(Piece(text, self.start, role, level, self._parted() if role is Role.ROW else ()))
        self.text, self.cells, self.start = [], [], None

    def _parted(self) -> tuple[str, ...]:
        """Return the cells of the row that is being read, empty ones left out."""
        ends = [*self.cells, len(self.text)]
        cells = (seen("".join(self.text[start:end])) for start, end in pairwise(ends))
        return tuple(filter(None, cells))

    def _skipped(self, data: str) -> Place:
        """Return where the first letter of a run of text stands."""
        line, column = self.getpos()
        blank = data[: len(data) - len(data.lstrip())]
        lines = blank.count("\n")
        return Place(self.name, line + lines, len(blank) - blank.rfind("\n") if lines else column + len(blank) + 1)

    def _is_separate(self) -> bool:
        """Tell whether the links of a paragraph follow each other without a word between, as buttons do."""
        return (
            bool(self.links)
            and self.links[-1].piece == len(self.pieces)
            and "".join(self.text).rstrip().endswith(self.links[-1].words)
        )

    def _implied_end(self, tag: str) -> None:
        """Close what this element's start closes: paragraphs before blocks, items before items, cells before cells."""
        closes = {"p"} if tag not in _INLINE else set()
        closes |= {"li": {"li"}, "dt": {"dt", "dd"}, "dd": {"dt", "dd"}, "tr": {"td", "th", "tr"}}.get(tag, set())
        closes |= {"td": {"td", "th"}, "th": {"td", "th"}}.get(tag, set())
        while self.stack and self.stack[-1].tag in closes:
            self.stack.pop()

    def _attributes(self, tag: str, given: dict[str, str]) -> None:
        here, at = self.place(), len(self.pieces)
        if "id" in given:
            self.ids.setdefault(given["id"], at)
        if tag == "meta":
            self.data.append(Datum(given.get("property") or given.get("name", ""), given.get("content", ""), here, at))
        elif tag == "link":
            self.data.append(Datum(given.get("rel", ""), given.get("href", ""), here, at))
        elif tag == "a" and "href" in given:
            self.anchor = _Anchor(given["href"], here)
        elif tag == "img" and given.get("alt"):
            self.flush()
            self.pieces.append(Piece(given["alt"], here, Role.ALT))
        for key, value in given.items():
            if key in _ALONE:
                self.data.append(Datum(key, value, here, at))
            elif key in ("aria-label", "title") and value and tag != "svg":
                self.pieces.append(Piece(value, here, Role.LABEL))

    def _inside(self, tag: str) -> bool:
        return any(one.tag == tag for one in self.stack)

    def _role(self) -> tuple[Role, int]:
        tags = [one.tag for one in self.stack]
        if "svg" in tags:
            return Role.DRAWING, 0
        if any(one.hides for one in self.stack) or "head" in tags:
            return Role.HIDDEN, 0
        for tag in reversed(tags):
            if heading := _HEADING.fullmatch(tag):
                return Role.HEADING, int(heading[1])
            if tag in ("tr", "li", "dt", "dd", "p", "caption"):
                inner = "li" if tag == "p" and "li" in tags else tag
                return {"tr": Role.ROW, "li": Role.ITEM, "caption": Role.CAPTION}.get(inner, Role.TEXT), 0
        return Role.TEXT, 0
